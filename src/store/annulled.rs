//! A leader's word about a check: an answer that was lost to the keyboard is annulled, a waiting time is shortened.
//!
//! Both are marks: the answer stays in the file, and so does every mark. There is no mark that takes one of these back: by then
//! a fresh problem may be answered, and whoever could choose between the two answers would choose the better one.

use super::attempt::{Attempt, COLUMNS, RecordedVerdict, day, read};
use super::check_value::Checked;
use super::checks::StoredCheck;
use super::error::At;
use super::fold::{head, refold};
use super::ids::Id;
use super::learners::nanoseconds;
use super::{AttemptId, CheckAnswer, CheckId, LearnerId, SessionId, Store, StoreError};
use jiff::Timestamp;
use jiff::civil::Date;
use rusqlite::{Connection, ToSql, TransactionBehavior, params};
use std::collections::HashMap;

/// Why an answer of a check counts for nothing, and since when.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Annulment {
    mark: Id,
    /// The learner's day.
    pub day: Date,
    /// The reason, in the leader's words.
    pub reason: String,
}

impl Annulment {
    /// Whether it was said before an answer was given.
    #[must_use]
    pub fn came_before(&self, answer: AttemptId) -> bool {
        self.mark <= answer.0
    }
}

/// The waiting time after a check, shortened.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShortWait {
    /// In which skill, by its id; in all skills of the check where none is named.
    pub skill: Option<String>,
    /// The first day of a new check.
    pub from: Date,
    /// The reason, in the leader's words.
    pub reason: String,
}

impl Store {
    /// Annuls an answer of a check, and what was answered to the same problem in another window: from now on they count for
    /// nothing. Whether the try is still open is for the caller to see to.
    ///
    /// # Errors
    /// [`StoreError::NoSuchLearner`]; [`StoreError::NotAnnulled`] for an answer that is none of a check or that was annulled
    /// before; or the file cannot be written. Then nothing was changed.
    pub fn annul(
        &mut self,
        learner: LearnerId,
        answer: AttemptId,
        reason: &str,
        day: Date,
        now: Timestamp,
    ) -> Result<(), StoreError> {
        let Store { path, conn, skills, fold, .. } = self;
        let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate).at(path)?;
        let at = head(&tx, learner).at(path)?.ok_or(StoreError::NoSuchLearner(learner))?;
        let same = "SELECT other.id FROM attempts AS this JOIN sessions AS one ON one.key = this.session \
                    JOIN sessions AS two ON two.check_key = one.check_key \
                    JOIN attempts AS other ON other.session = two.key AND other.kind = 'check' AND other.code = this.code \
                    WHERE this.learner = ?1 AND this.id = ?2 AND this.kind = 'check' AND NOT EXISTS \
                    (SELECT 1 FROM marks WHERE marks.target = this.id AND marks.kind = 'attempt') ORDER BY other.id";
        let answers: Vec<Id> = {
            let mut statement = tx.prepare(same).at(path)?;
            let rows = statement.query_map(params![at.key, answer.0], |row| row.get(0)).at(path)?;
            rows.collect::<rusqlite::Result<_>>().at(path)?
        };
        if answers.is_empty() {
            return Err(StoreError::NotAnnulled);
        }
        // Behind every answer that was given before, whatever the clock says: the order of both is part of the record.
        let latest = "SELECT max(id) FROM (SELECT id FROM attempts WHERE learner = ?1 \
                      UNION ALL SELECT id FROM marks WHERE learner = ?1 AND what = 'annulled')";
        let mut last: Option<Id> = tx.query_row(latest, [at.key], |row| row.get(0)).at(path)?;
        let sql = Checked::named("marks").insert(
            "SELECT ?1 AS id, learner, 'attempt' AS kind, attempts.id AS target, 'annulled' AS what, NULL AS skill, \
             ?3 AS reason, ?4 AS marked_at, ?5 AS day FROM attempts WHERE learner = ?6 AND attempts.id = ?2",
        );
        for answer in answers {
            let id = Id::right_after(last, now);
            tx.execute(&sql, params![id, answer, reason, nanoseconds(now), day.to_string(), at.key]).at(path)?;
            last = Some(id);
        }
        refold(&tx, &at, skills, *fold).at(path)?;
        tx.commit().at(path)
    }

    /// Shortens the waiting time after checks, each in a skill of it: a new check may begin from this day on. All of it or
    /// nothing.
    ///
    /// # Errors
    /// [`StoreError::NoSuchCheck`], or the file cannot be written.
    pub fn shorten_wait(
        &mut self,
        waits: &[(CheckId, &str)],
        from: Date,
        reason: &str,
        now: Timestamp,
    ) -> Result<(), StoreError> {
        let Store { path, conn, .. } = self;
        let sql = Checked::named("marks").insert(
            "SELECT ?1 AS id, learner, 'check' AS kind, checks.id AS target, 'shortened' AS what, ?3 AS skill, \
             ?4 AS reason, ?5 AS marked_at, ?6 AS day FROM checks WHERE checks.id = ?2",
        );
        let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate).at(path)?;
        for (check, skill) in waits {
            let values = params![Id::new(now), check.0, skill, reason, nanoseconds(now), from.to_string()];
            if tx.execute(&sql, values).at(path)? == 0 {
                return Err(StoreError::NoSuchCheck);
            }
        }
        tx.commit().at(path)
    }

    /// The annulled answers of a check, in full, in their order.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn annulled_of_check(&self, check: CheckId) -> Result<Vec<(Attempt, Annulment)>, StoreError> {
        let sql = format!(
            "SELECT {COLUMNS}, learners.id, said.mark, said.said_on, said.reason FROM checks \
             JOIN sessions ON sessions.check_key = checks.key \
             JOIN attempts ON attempts.session = sessions.key AND attempts.kind = 'check' \
             JOIN (SELECT id AS mark, target, day AS said_on, reason FROM marks WHERE marks.kind = 'attempt') AS said \
             ON said.target = attempts.id \
             JOIN learners ON learners.key = checks.learner WHERE checks.id = ?1 ORDER BY attempts.id, said.mark"
        );
        let mut statement = self.conn.prepare_cached(&sql).at(&self.path)?;
        let rows = statement
            .query_map([check.0], |row| {
                let annulment = Annulment { mark: row.get(22)?, day: day(row, 23)?, reason: row.get(24)? };
                Ok((read(row, LearnerId(row.get(21)?))?, annulment))
            })
            .at(&self.path)?;
        let mut all: Vec<(Attempt, Annulment)> = rows.collect::<rusqlite::Result<_>>().at(&self.path)?;
        // Where two laptops said it, the first word is enough.
        all.dedup_by_key(|(attempt, _)| attempt.id);
        Ok(all)
    }
}

/// Reads what was said of checks into them; `place` says where each stands by its key.
pub(super) fn said_of(
    conn: &Connection,
    found: &mut [StoredCheck],
    place: &HashMap<i64, usize>,
    (condition, values): (&str, &[&dyn ToSql]),
) -> rusqlite::Result<()> {
    let sql = format!(
        "SELECT checks.key, attempts.id, sessions.id, attempts.code, attempts.skill, attempts.verdict, attempts.mixup, \
         attempts.day, marks.id, marks.day, marks.reason FROM marks JOIN learners ON learners.key = marks.learner \
         JOIN attempts ON attempts.learner = marks.learner AND attempts.id = marks.target AND attempts.kind = 'check' \
         JOIN sessions ON sessions.key = attempts.session JOIN checks ON checks.key = sessions.check_key \
         {condition} AND marks.kind = 'attempt' ORDER BY attempts.id, marks.id"
    );
    let mut statement = conn.prepare_cached(&sql)?;
    let mut rows = statement.query(values)?;
    while let Some(row) = rows.next()? {
        let Some(check) = place.get(&row.get(0)?).and_then(|at| found.get_mut(*at)) else { continue };
        let answer = CheckAnswer {
            id: AttemptId(row.get(1)?),
            session: SessionId(row.get(2)?),
            code: row.get(3)?,
            skill: row.get(4)?,
            verdict: RecordedVerdict::read(row, 5, 6)?,
            day: day(row, 7)?,
        };
        // Where two laptops said it, the first word is enough.
        if check.annulled.last().is_none_or(|(last, _)| last.id != answer.id) {
            check.annulled.push((answer, Annulment { mark: row.get(8)?, day: day(row, 9)?, reason: row.get(10)? }));
        }
    }
    let sql = format!(
        "SELECT checks.key, marks.skill, marks.day, marks.reason FROM marks \
         JOIN learners ON learners.key = marks.learner \
         JOIN checks ON checks.learner = marks.learner AND checks.id = marks.target \
         {condition} AND marks.kind = 'check' ORDER BY marks.id"
    );
    let mut statement = conn.prepare_cached(&sql)?;
    let mut rows = statement.query(values)?;
    while let Some(row) = rows.next()? {
        let Some(check) = place.get(&row.get(0)?).and_then(|at| found.get_mut(*at)) else { continue };
        check.short_waits.push(ShortWait { skill: row.get(1)?, from: day(row, 2)?, reason: row.get(3)? });
    }
    Ok(())
}
