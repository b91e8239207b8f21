//! Checks: under which rules each began, and what was answered in it.

use super::annulled::{Annulment, ShortWait, said_of};
use super::attempt::{Attempt, COUNTS, day, read};
use super::check_value::Checked;
use super::error::At;
use super::ids::Id;
use super::learners::{moment, nanoseconds};
use super::{AttemptId, CheckId, LearnerId, RecordedVerdict, SessionId, Store, StoreError};
use jiff::Timestamp;
use jiff::civil::Date;
use rusqlite::{Row, params};
use std::collections::HashMap;

/// A check as it begins.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewCheck {
    /// Who is checked.
    pub learner: LearnerId,
    /// When it began.
    pub at: Timestamp,
    /// The learner's day.
    pub day: Date,
    /// The standard's name.
    pub standard: String,
    /// The rules it goes on under, JSON.
    pub rules: String,
}

/// A check that was begun.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StoredCheck {
    /// Its id.
    pub id: CheckId,
    /// What was written as it began.
    pub what: NewCheck,
    /// The sittings in which it was opened, the oldest first.
    pub sittings: Vec<CheckSitting>,
    /// What was answered and counts, in order.
    pub answers: Vec<CheckAnswer>,
    /// What was answered and annulled, in order.
    pub annulled: Vec<(CheckAnswer, Annulment)>,
    /// Waiting times after it that were shortened.
    pub short_waits: Vec<ShortWait>,
}

/// One sitting of a check: it was opened, and perhaps left again before its end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CheckSitting {
    /// Its session.
    pub session: SessionId,
    /// The learner's day.
    pub day: Date,
    /// Whether that day was given, and not the clock's.
    pub day_given: bool,
}

/// One answer of a check, as far as it decides.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CheckAnswer {
    /// The attempt.
    pub id: AttemptId,
    /// The sitting in which it was given.
    pub session: SessionId,
    /// The problem's code.
    pub code: String,
    /// The skill's id.
    pub skill: String,
    /// The learner's day.
    pub day: Date,
    /// What it was found to be.
    pub verdict: RecordedVerdict,
}

const COLUMNS: &str = "checks.key, checks.id, learners.id, checks.standard, checks.rules, checks.began_at, checks.day";

impl Store {
    /// Begins a check, if so many of this learner by this standard were begun before; its sessions refer to it. None when
    /// another program has begun one meanwhile: two checks at once would be twice the tries.
    ///
    /// # Errors
    /// [`StoreError::NoSuchLearner`], or the file cannot be written.
    pub fn start_check(&mut self, check: &NewCheck, begun_before: usize) -> Result<Option<CheckId>, StoreError> {
        let id = CheckId(Id::new(check.at));
        let sql = Checked::named("checks").insert(
            "SELECT ?1 AS id, person.key AS learner, ?3 AS standard, ?4 AS rules, ?5 AS began_at, ?6 AS day \
             FROM (SELECT coalesce(same_as, key) AS key FROM learners WHERE learners.id = ?2) AS person WHERE ?7 = \
             (SELECT count(*) FROM checks WHERE checks.learner = person.key AND standard = ?3)",
        );
        let written = self
            .conn
            .prepare_cached(&sql)
            .and_then(|mut statement| {
                statement.execute(params![
                    id.0,
                    check.learner.0,
                    check.standard,
                    check.rules,
                    nanoseconds(check.at),
                    check.day.to_string(),
                    i64::try_from(begun_before).unwrap_or(i64::MAX),
                ])
            })
            .at(&self.path)?;
        if written > 0 {
            return Ok(Some(id));
        }
        self.learner(check.learner)?.map_or(Err(StoreError::NoSuchLearner(check.learner)), |_| Ok(None))
    }

    /// The checks of a learner, the oldest first, with what was answered in them.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn checks(&self, learner: LearnerId) -> Result<Vec<StoredCheck>, StoreError> {
        self.checks_where(
            "WHERE learners.key = (SELECT coalesce(same_as, key) FROM learners WHERE id = ?1)",
            &[&learner.0],
        )
    }

    /// The checks of all learners who are not archived, each learner's oldest first.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn all_checks(&self) -> Result<Vec<StoredCheck>, StoreError> {
        self.checks_where("WHERE learners.archived = 0", &[])
    }

    fn checks_where(&self, condition: &str, values: &[&dyn rusqlite::ToSql]) -> Result<Vec<StoredCheck>, StoreError> {
        let people = "JOIN learners ON learners.key = checks.learner";
        let sql = format!("SELECT {COLUMNS} FROM checks {people} {condition} ORDER BY checks.id");
        let mut statement = self.conn.prepare_cached(&sql).at(&self.path)?;
        let rows = statement.query_map(values, |row| Ok((row.get::<_, i64>(0)?, check(row)?))).at(&self.path)?;
        let mut found: Vec<StoredCheck> = Vec::new();
        let mut place: HashMap<i64, usize> = HashMap::new();
        for row in rows {
            let (key, check) = row.at(&self.path)?;
            place.insert(key, found.len());
            found.push(check);
        }
        let sql = format!(
            "SELECT checks.key, sessions.id, sessions.day, sessions.day_given \
             FROM checks {people} JOIN sessions ON sessions.check_key = checks.key {condition} ORDER BY sessions.id"
        );
        let mut statement = self.conn.prepare_cached(&sql).at(&self.path)?;
        let rows = statement
            .query_map(values, |row| {
                let (session, day) = (SessionId(row.get(1)?), day(row, 2)?);
                Ok((row.get::<_, i64>(0)?, CheckSitting { session, day, day_given: row.get(3)? }))
            })
            .at(&self.path)?;
        for row in rows {
            let (key, sitting) = row.at(&self.path)?;
            if let Some(check) = place.get(&key).and_then(|at| found.get_mut(*at)) {
                check.sittings.push(sitting);
            }
        }
        let sql = format!(
            "SELECT checks.key, attempts.skill, attempts.verdict, attempts.mixup, attempts.day, attempts.id, sessions.id, \
             attempts.code \
             FROM checks {people} JOIN sessions ON sessions.check_key = checks.key \
             JOIN attempts ON attempts.session = sessions.key AND attempts.kind = 'check' AND {COUNTS} \
             {condition} ORDER BY attempts.id"
        );
        let mut statement = self.conn.prepare_cached(&sql).at(&self.path)?;
        let rows = statement
            .query_map(values, |row| {
                let answer = CheckAnswer {
                    id: AttemptId(row.get(5)?),
                    session: SessionId(row.get(6)?),
                    code: row.get(7)?,
                    skill: row.get(1)?,
                    verdict: RecordedVerdict::read(row, 2, 3)?,
                    day: day(row, 4)?,
                };
                Ok((row.get::<_, i64>(0)?, answer))
            })
            .at(&self.path)?;
        for row in rows {
            let (key, answer) = row.at(&self.path)?;
            if let Some(check) = place.get(&key).and_then(|at| found.get_mut(*at)) {
                check.answers.push(answer);
            }
        }
        said_of(&self.conn, &mut found, &place, (condition, values)).at(&self.path)?;
        Ok(found)
    }

    /// Whether a problem of the check that a session belongs to was answered more than once: it is open in two windows.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn answered_twice(&self, session: SessionId, code: &str) -> Result<bool, StoreError> {
        let sql = "SELECT count(*) > 1 FROM sessions AS this JOIN sessions ON sessions.check_key = this.check_key \
                   JOIN attempts ON attempts.session = sessions.key AND attempts.kind = 'check' AND attempts.code = ?2 \
                   WHERE this.id = ?1";
        let mut statement = self.conn.prepare_cached(sql).at(&self.path)?;
        statement.query_row(params![session.0, code], |row| row.get(0)).at(&self.path)
    }

    /// All answers of a check that count, in full, in order.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn attempts_of_check(&self, check: CheckId) -> Result<Vec<Attempt>, StoreError> {
        let sql = format!(
            "SELECT {}, learners.id FROM checks JOIN sessions ON sessions.check_key = checks.key \
             JOIN attempts ON attempts.session = sessions.key AND attempts.kind = 'check' AND {COUNTS} \
             JOIN learners ON learners.key = checks.learner WHERE checks.id = ?1 ORDER BY attempts.id",
            super::attempt::COLUMNS
        );
        let mut statement = self.conn.prepare_cached(&sql).at(&self.path)?;
        let rows = statement
            .query_map([check.0], |row| {
                let learner = LearnerId(row.get(21)?);
                read(row, learner)
            })
            .at(&self.path)?;
        rows.collect::<rusqlite::Result<_>>().at(&self.path)
    }
}

fn check(row: &Row<'_>) -> rusqlite::Result<StoredCheck> {
    Ok(StoredCheck {
        id: CheckId(row.get(1)?),
        what: NewCheck {
            learner: LearnerId(row.get(2)?),
            standard: row.get(3)?,
            rules: row.get(4)?,
            at: moment(row.get(5)?),
            day: day(row, 6)?,
        },
        sittings: Vec::new(),
        answers: Vec::new(),
        annulled: Vec::new(),
        short_waits: Vec::new(),
    })
}
