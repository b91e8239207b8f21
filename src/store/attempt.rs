//! One answer, as it is recorded and read back.

use super::error::At;
use super::ids::Id;
use super::learners::moment;
use super::{AttemptId, Help, LearnerId, SessionId, Store, StoreError};
use crate::learner::{Evidence, Outcome};
use crate::problem::{Level, Verdict};
use jiff::Timestamp;
use jiff::civil::Date;
use rusqlite::types::{FromSql, FromSqlError, FromSqlResult, ToSql, ToSqlOutput, ValueRef};
use rusqlite::{Row, params};
use std::collections::HashSet;

/// Where an answer was given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum AttemptKind {
    /// Practice, with feedback.
    Practice,
    /// A check, without feedback until the end.
    Check,
    /// On paper, typed in afterwards.
    Worksheet,
    /// In a round of several learners at one laptop.
    Round,
}

impl AttemptKind {
    /// All of them.
    pub const ALL: [AttemptKind; 4] =
        [AttemptKind::Practice, AttemptKind::Check, AttemptKind::Worksheet, AttemptKind::Round];

    /// The stable id.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            AttemptKind::Practice => "practice",
            AttemptKind::Check => "check",
            AttemptKind::Worksheet => "worksheet",
            AttemptKind::Round => "round",
        }
    }
}

impl ToSql for AttemptKind {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        self.id().to_sql()
    }
}

impl FromSql for AttemptKind {
    fn column_result(value: ValueRef<'_>) -> FromSqlResult<AttemptKind> {
        let id = value.as_str()?;
        AttemptKind::ALL.into_iter().find(|kind| kind.id() == id).ok_or(FromSqlError::InvalidType)
    }
}

/// What an answer was found to be. Stored once and never judged anew, whatever a later program would say.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum RecordedVerdict {
    /// Within tolerance.
    Right,
    /// The answer of the mix-up with this id.
    Mixup(String),
    /// Wrong, and no listed mix-up gives it.
    Unrecognised,
}

impl RecordedVerdict {
    /// Whether it was right.
    #[must_use]
    pub fn is_right(&self) -> bool {
        *self == RecordedVerdict::Right
    }

    /// The mix-up's id, if it was one.
    #[must_use]
    pub fn mixup(&self) -> Option<&str> {
        match self {
            RecordedVerdict::Mixup(id) => Some(id),
            RecordedVerdict::Right | RecordedVerdict::Unrecognised => None,
        }
    }

    /// As the learner model sees it.
    fn outcome(&self) -> Outcome<'_> {
        match self {
            RecordedVerdict::Right => Outcome::Right,
            RecordedVerdict::Mixup(id) => Outcome::Mixup(id),
            RecordedVerdict::Unrecognised => Outcome::Other,
        }
    }

    /// The word in the file; a mix-up's id stands beside it.
    pub(super) const fn word(&self) -> &'static str {
        match self {
            RecordedVerdict::Right => RIGHT,
            RecordedVerdict::Mixup(_) => MIXUP,
            RecordedVerdict::Unrecognised => UNRECOGNISED,
        }
    }

    /// What is in the columns `verdict` and `mixup`.
    pub(super) fn read(row: &Row<'_>, verdict: usize, mixup: usize) -> rusqlite::Result<RecordedVerdict> {
        outcome(row, verdict, mixup).map(|outcome| match outcome {
            Outcome::Right => RecordedVerdict::Right,
            Outcome::Mixup(id) => RecordedVerdict::Mixup(id.to_owned()),
            Outcome::Other => RecordedVerdict::Unrecognised,
        })
    }
}

impl From<Verdict> for RecordedVerdict {
    fn from(verdict: Verdict) -> RecordedVerdict {
        match verdict {
            Verdict::Right => RecordedVerdict::Right,
            Verdict::Mixup(mixup) => RecordedVerdict::Mixup(mixup.id.as_str().to_owned()),
            Verdict::Unrecognised(_) => RecordedVerdict::Unrecognised,
        }
    }
}

const RIGHT: &str = "right";
const MIXUP: &str = "mix-up";
const UNRECOGNISED: &str = "unrecognised";

/// One judged answer with everything needed to judge it again: the facts stand beside the code, should a later generation
/// of the program draw another problem from it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewAttempt {
    /// Who answered.
    pub learner: LearnerId,
    /// In which session.
    pub session: SessionId,
    /// When it was answered.
    pub at: Timestamp,
    /// The learner's day.
    pub day: Date,
    /// Where it was answered: in practice, a check, a round, on a sheet.
    pub kind: AttemptKind,
    /// The problem's code.
    pub code: String,
    /// The skill's id.
    pub skill: String,
    /// The problem's level.
    pub level: Level,
    /// The generation of the generators that made the problem.
    pub generation: u16,
    /// The problem's seed.
    pub seed: u64,
    /// The problem's facts, JSON.
    pub facts: String,
    /// The right answer, JSON.
    pub right: String,
    /// What was typed, per field, JSON.
    pub given: String,
    /// What it was found to be.
    pub verdict: RecordedVerdict,
    /// Ids of the mix-ups whose answers the item told apart.
    pub exposed: Vec<String>,
    /// How much help was on the screen.
    pub help: Help,
    /// The explanation was shown after the answer.
    pub explained: bool,
    /// How long it took, in milliseconds.
    pub took_ms: Option<u32>,
    /// What the hands did at the map table, JSON.
    pub moves: Option<String>,
}

impl NewAttempt {
    /// What the learner model sees of it. `exposed` is the buffer that the ids are lent from.
    pub(super) fn evidence<'a>(&'a self, exposed: &'a mut Vec<&'a str>) -> Evidence<'a> {
        exposed.clear();
        exposed.extend(self.exposed.iter().map(String::as_str));
        Evidence {
            skill: &self.skill,
            level: self.level,
            day: self.day,
            outcome: self.verdict.outcome(),
            exposed,
            hinted: !self.help.is_evidence(),
            explained: self.explained,
            at: self.at,
        }
    }
}

/// The verdict in two columns as the learner model sees it.
pub(super) fn outcome<'a>(row: &'a Row<'_>, verdict: usize, mixup: usize) -> rusqlite::Result<Outcome<'a>> {
    let id = row.get_ref(mixup)?.as_str_or_null().map_err(|error| broken(mixup, error))?;
    match (text(row, verdict)?, id) {
        (RIGHT, None) => Ok(Outcome::Right),
        (MIXUP, Some(id)) => Ok(Outcome::Mixup(id)),
        (UNRECOGNISED, None) => Ok(Outcome::Other),
        _ => Err(broken(verdict, "no verdict")),
    }
}

/// An answer that was recorded.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Attempt {
    /// Its id.
    pub id: AttemptId,
    /// What was recorded.
    pub what: NewAttempt,
}

impl Store {
    /// A learner's latest answers in one skill, the newest first, at most `limit`, without those that were taken back.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn attempts(&self, learner: LearnerId, skill: &str, limit: u32) -> Result<Vec<Attempt>, StoreError> {
        // Goes back through the learner's answers in the index alone until there are enough of the skill.
        let sql = format!(
            "SELECT {COLUMNS} FROM attempts JOIN sessions ON sessions.key = attempts.session \
             WHERE attempts.learner = (SELECT coalesce(same_as, key) FROM learners WHERE id = ?1) AND skill = ?2 AND {COUNTS} \
             ORDER BY attempts.id DESC LIMIT ?3"
        );
        let mut statement = self.conn.prepare_cached(&sql).at(&self.path)?;
        let rows = statement.query_map(params![learner.0, skill, limit], |row| read(row, learner)).at(&self.path)?;
        rows.collect::<rusqlite::Result<_>>().at(&self.path)
    }
}

impl Store {
    /// A learner's latest answers in all skills, the newest first, at most `limit`, without those that were taken back and those that
    /// are left out.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn latest(
        &self,
        learner: LearnerId,
        left_out: &HashSet<AttemptId>,
        limit: usize,
    ) -> Result<Vec<Attempt>, StoreError> {
        let sql = format!(
            "SELECT {COLUMNS} FROM attempts JOIN sessions ON sessions.key = attempts.session \
             WHERE attempts.learner = (SELECT coalesce(same_as, key) FROM learners WHERE id = ?1) AND {COUNTS} ORDER BY attempts.id DESC"
        );
        let mut statement = self.conn.prepare_cached(&sql).at(&self.path)?;
        let rows = statement.query_map([learner.0], |row| read(row, learner)).at(&self.path)?;
        let told = rows.filter(|row| row.as_ref().map_or(true, |attempt| !left_out.contains(&attempt.id)));
        told.take(limit).collect::<rusqlite::Result<_>>().at(&self.path)
    }

    /// The answers of checks and rounds that a learner has given since the last one in practice; none where there was no
    /// practice yet. Goes back no farther than to that one.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn answered_since_practice(&self, learner: LearnerId) -> Result<HashSet<AttemptId>, StoreError> {
        let sql = "SELECT id, kind FROM attempts WHERE learner = (SELECT coalesce(same_as, key) FROM learners WHERE id = ?1) \
                   ORDER BY id DESC";
        let mut statement = self.conn.prepare_cached(sql).at(&self.path)?;
        let mut rows = statement.query([learner.0]).at(&self.path)?;
        let mut since = HashSet::new();
        while let Some(row) = rows.next().at(&self.path)? {
            if row.get::<_, AttemptKind>(1).at(&self.path)? == AttemptKind::Practice {
                return Ok(since);
            }
            since.insert(AttemptId(row.get(0).at(&self.path)?));
        }
        Ok(HashSet::new())
    }
}

/// An attempt that was neither undone nor annulled; others count for nothing. The columns of the index are enough for it.
pub(super) const COUNTS: &str =
    "NOT EXISTS (SELECT 1 FROM marks WHERE marks.target = attempts.id AND marks.kind = 'attempt')";

/// The columns that [`read`] reads.
pub(super) const COLUMNS: &str = "attempts.id, sessions.id, attempts.at, attempts.day, kind, code, skill, level, \
    generation, seed, facts, right_answer, given, verdict, mixup, exposed, help, hinted, explained, took_ms, moves";

/// One attempt of a learner.
pub(super) fn read(row: &Row<'_>, learner: LearnerId) -> rusqlite::Result<Attempt> {
    let seed: i64 = row.get(9)?;
    let what = NewAttempt {
        learner,
        session: SessionId(row.get::<_, Id>(1)?),
        at: moment(row.get(2)?),
        day: day(row, 3)?,
        kind: row.get(4)?,
        code: row.get(5)?,
        skill: row.get(6)?,
        level: level(row, 7)?,
        generation: row.get(8)?,
        seed: seed.cast_unsigned(),
        facts: row.get(10)?,
        right: row.get(11)?,
        given: row.get(12)?,
        verdict: RecordedVerdict::read(row, 13, 14)?,
        exposed: exposed(row, 15)?,
        help: Help::read(row, 16, 17)?,
        explained: row.get(18)?,
        took_ms: row.get(19)?,
        moves: row.get(20)?,
    };
    Ok(Attempt { id: AttemptId(row.get(0)?), what })
}

/// A day in a column.
pub(super) fn day(row: &Row<'_>, column: usize) -> rusqlite::Result<Date> {
    text(row, column)?.parse().map_err(|error| broken(column, error))
}

/// A level in a column.
pub(super) fn level(row: &Row<'_>, column: usize) -> rusqlite::Result<Level> {
    let number: u8 = row.get(column)?;
    Level::new(number).ok_or(rusqlite::Error::IntegralValueOutOfRange(column, number.into()))
}

/// A list of ids in a column.
pub(super) fn exposed(row: &Row<'_>, column: usize) -> rusqlite::Result<Vec<String>> {
    serde_json::from_str(text(row, column)?).map_err(|error| broken(column, error))
}

/// A text in a column, without copying it.
pub(super) fn text<'a>(row: &'a Row<'_>, column: usize) -> rusqlite::Result<&'a str> {
    row.get_ref(column)?.as_str().map_err(|error| broken(column, error))
}

/// A column that does not hold what only we could have written there.
pub(super) fn broken(
    column: usize,
    error: impl Into<Box<dyn std::error::Error + Send + Sync + 'static>>,
) -> rusqlite::Error {
    rusqlite::Error::FromSqlConversionFailure(column, rusqlite::types::Type::Text, error.into())
}
