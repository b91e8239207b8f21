//! What is taken back: a mark beside a record, which itself stays. Records of two laptops are merged in any order, and one
//! that was removed would come back.

use super::attempt::COUNTS;
use super::check_value::Checked;
use super::error::At;
use super::fold::{head, refold};
use super::ids::Id;
use super::learners::nanoseconds;
use super::people::TYPED_IN_TWICE;
use super::{AttemptId, LearnerId, SeenId, Store, StoreError};
use crate::learner::Beliefs;
use jiff::Timestamp;
use jiff::civil::Date;
use rusqlite::{Connection, TransactionBehavior, params};

impl Store {
    /// Takes an answer in practice, in a round or on a sheet back as a slip of the keyboard: from now on it counts for nothing. Of a
    /// problem on a sheet every entry is taken back, also what was typed in twice: else that would count in its place. Gives back
    /// what is believed without it.
    ///
    /// # Errors
    /// [`StoreError::NoSuchLearner`]; [`StoreError::NotTakenBack`] for an answer that was taken back already, or that is one
    /// of a check; or the file cannot be written. Then nothing was changed.
    pub fn take_back(
        &mut self,
        learner: LearnerId,
        attempt: AttemptId,
        day: Date,
        now: Timestamp,
    ) -> Result<Beliefs, StoreError> {
        let Store { path, conn, skills, fold, .. } = self;
        let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate).at(path)?;
        let at = head(&tx, learner).at(path)?.ok_or(StoreError::NoSuchLearner(learner))?;
        let sql = Checked::named("marks").insert(&format!(
            "SELECT ?1 AS id, learner, 'attempt' AS kind, attempts.id AS target, 'undone' AS what, NULL AS skill, \
             'a slip of the keyboard' AS reason, ?4 AS marked_at, ?5 AS day FROM attempts \
             WHERE learner = ?2 AND attempts.id = ?3 AND attempts.kind <> 'check' AND {COUNTS}"
        ));
        let values = params![Id::new(now), at.key, attempt.0, nanoseconds(now), day.to_string()];
        if tx.execute(&sql, values).at(path)? == 0 {
            return Err(StoreError::NotTakenBack);
        }
        take_back_the_same(&tx, at.key, attempt, day, now).at(path)?;
        let folded = refold(&tx, &at, skills, *fold).at(path)?;
        tx.commit().at(path)?;
        Ok(folded.beliefs)
    }

    /// How many answers in practice a learner has taken back. Slips on sheets and in rounds are those of whoever typed them in.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn taken_back(&self, learner: LearnerId) -> Result<u32, StoreError> {
        let sql = "SELECT count(*) FROM marks JOIN attempts ON attempts.learner = marks.learner AND attempts.id = marks.target \
                   WHERE marks.learner = (SELECT coalesce(same_as, key) FROM learners WHERE id = ?1) \
                   AND marks.kind = 'attempt' AND marks.what = 'undone' AND attempts.kind = 'practice'";
        let mut statement = self.conn.prepare_cached(sql).at(&self.path)?;
        statement.query_row([learner.0], |row| row.get(0)).at(&self.path)
    }

    /// Takes entries of what was seen on the ground back, all of them or none: they count for nothing from now on.
    ///
    /// # Errors
    /// [`StoreError::NotTakenBack`] where one was taken back already or is not there, or the file cannot be written.
    pub fn take_seen_back(&mut self, entries: &[SeenId], day: Date, now: Timestamp) -> Result<(), StoreError> {
        let Store { path, conn, .. } = self;
        let sql = Checked::named("marks").insert(
            "SELECT ?1 AS id, learner, 'seen' AS kind, seen.id AS target, 'undone' AS what, NULL AS skill, \
             'a slip of the keyboard' AS reason, ?3 AS marked_at, ?4 AS day FROM seen WHERE seen.id = ?2 \
             AND NOT EXISTS (SELECT 1 FROM marks WHERE marks.target = seen.id AND marks.kind = 'seen')",
        );
        let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate).at(path)?;
        for entry in entries {
            let values = params![Id::new(now), entry.0, nanoseconds(now), day.to_string()];
            if tx.execute(&sql, values).at(path)? == 0 {
                return Err(StoreError::NotTakenBack);
            }
        }
        tx.commit().at(path)
    }
}

/// Takes every other entry of the same problem of the same sheet back, unless somebody did. What was marked as typed in twice is only
/// waiting for the one that counted to go: at a merge it would count again.
fn take_back_the_same(
    conn: &Connection,
    learner: i64,
    attempt: AttemptId,
    day: Date,
    now: Timestamp,
) -> rusqlite::Result<()> {
    let others = "SELECT others.id FROM attempts AS one JOIN sheets AS its ON its.key = one.sheet \
                  JOIN sheets ON sheets.learner = its.learner AND sheets.codes = its.codes \
                  JOIN attempts AS others ON others.sheet = sheets.key AND others.code = one.code \
                  WHERE one.learner = ?1 AND one.id = ?2 AND others.id <> one.id AND NOT EXISTS \
                  (SELECT 1 FROM marks WHERE marks.target = others.id AND marks.kind = 'attempt' AND marks.reason <> ?3)";
    let mut statement = conn.prepare_cached(others)?;
    let rows = statement.query_map(params![learner, attempt.0, TYPED_IN_TWICE], |row| row.get(0))?;
    let others: Vec<Id> = rows.collect::<rusqlite::Result<_>>()?;
    let insert = Checked::named("marks").insert(
        "SELECT ?1 AS id, ?2 AS learner, 'attempt' AS kind, ?3 AS target, 'undone' AS what, NULL AS skill, \
         'a slip of the keyboard' AS reason, ?4 AS marked_at, ?5 AS day",
    );
    for other in others {
        let waiting = "DELETE FROM marks WHERE target = ?1 AND kind = 'attempt' AND reason = ?2";
        conn.prepare_cached(waiting)?.execute(params![other, TYPED_IN_TWICE])?;
        let values = params![Id::new(now), learner, other, nanoseconds(now), day.to_string()];
        conn.prepare_cached(&insert)?.execute(values)?;
    }
    Ok(())
}
