//! What is taken back: a mark beside a record, which itself stays. Records of two laptops are merged in any order, and one
//! that was removed would come back.

use super::attempt::COUNTS;
use super::check_value::Checked;
use super::error::At;
use super::fold::{head, refold};
use super::ids::Id;
use super::learners::nanoseconds;
use super::{AttemptId, LearnerId, SeenId, Store, StoreError};
use crate::learner::Beliefs;
use jiff::Timestamp;
use jiff::civil::Date;
use rusqlite::{TransactionBehavior, params};

impl Store {
    /// Takes an answer in practice, in a round or on a sheet back as a slip of the keyboard: from now on it counts for nothing. Gives back what is believed
    /// without it.
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
        let folded = refold(&tx, &at, skills, *fold).at(path)?;
        tx.commit().at(path)?;
        Ok(folded.beliefs)
    }

    /// How many answers of a learner were taken back.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn taken_back(&self, learner: LearnerId) -> Result<u32, StoreError> {
        let sql = "SELECT count(*) FROM marks WHERE learner = (SELECT coalesce(same_as, key) FROM learners WHERE id = ?1) \
                   AND kind = 'attempt' AND what = 'undone'";
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
