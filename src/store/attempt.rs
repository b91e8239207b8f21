//! One answer, as it is recorded and read back.

use super::error::At;
use super::ids::Id;
use super::learners::moment;
use super::{AttemptId, LearnerId, SessionId, Store, StoreError};
use crate::learner::{Evidence, Outcome};
use crate::problem::Level;
use jiff::Timestamp;
use jiff::civil::Date;
use rusqlite::types::{FromSql, FromSqlError, FromSqlResult, ToSql, ToSqlOutput, ValueRef};
use rusqlite::{Row, params};

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

/// One judged answer with everything needed to judge it again: the facts stand beside the code, should a later generation
/// of the program draw another problem from it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewAttempt {
    /// Whose.
    pub learner: LearnerId,
    /// In which session.
    pub session: SessionId,
    /// When.
    pub at: Timestamp,
    /// The learner's day.
    pub day: Date,
    /// Where.
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
    /// `right`, `mix-up` or `unrecognised`.
    pub verdict: String,
    /// The mix-up's id; given with the verdict `mix-up` and only then.
    pub mixup: Option<String>,
    /// Ids of the mix-ups whose answers the item told apart.
    pub exposed: Vec<String>,
    /// A hint was given before the answer.
    pub hinted: bool,
    /// The explanation was shown after the answer.
    pub explained: bool,
    /// How long it took, in milliseconds.
    pub took_ms: Option<u32>,
    /// What the hands did at the map table, JSON.
    pub moves: Option<String>,
}

impl NewAttempt {
    /// What the learner model sees of it. The store folds exactly this; whoever keeps beliefs beside it must observe
    /// exactly this, too. `exposed` is the buffer that the ids are lent from.
    pub fn evidence<'a>(&'a self, exposed: &'a mut Vec<&'a str>) -> Evidence<'a> {
        exposed.clear();
        exposed.extend(self.exposed.iter().map(String::as_str));
        Evidence {
            skill: &self.skill,
            level: self.level,
            day: self.day,
            outcome: outcome(&self.verdict, self.mixup.as_deref()),
            exposed,
            hinted: self.hinted,
            explained: self.explained,
            at: self.at,
        }
    }
}

/// The verdict as the learner model sees it.
pub(super) fn outcome<'a>(verdict: &str, mixup: Option<&'a str>) -> Outcome<'a> {
    match mixup {
        Some(id) => Outcome::Mixup(id),
        None if verdict == "right" => Outcome::Right,
        None => Outcome::Other,
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
    /// A learner's latest answers in one skill, the newest first, at most `limit`.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn attempts(&self, learner: LearnerId, skill: &str, limit: u32) -> Result<Vec<Attempt>, StoreError> {
        // Goes back through the learner's answers in the index alone until there are enough of the skill.
        let sql = format!(
            "SELECT {COLUMNS} FROM attempts JOIN sessions ON sessions.key = attempts.session \
             WHERE attempts.learner = (SELECT key FROM learners WHERE id = ?1) AND skill = ?2 \
             ORDER BY attempts.id DESC LIMIT ?3"
        );
        let mut statement = self.conn.prepare_cached(&sql).at(&self.path)?;
        let rows = statement.query_map(params![learner.0, skill, limit], |row| read(row, learner)).at(&self.path)?;
        rows.collect::<rusqlite::Result<_>>().at(&self.path)
    }
}

/// The columns that [`read`] reads.
pub(super) const COLUMNS: &str = "attempts.id, sessions.id, attempts.at, attempts.day, kind, code, skill, level, \
    generation, seed, facts, right_answer, given, verdict, mixup, exposed, hinted, explained, took_ms, moves";

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
        verdict: row.get(13)?,
        mixup: row.get(14)?,
        exposed: exposed(row, 15)?,
        hinted: row.get(16)?,
        explained: row.get(17)?,
        took_ms: row.get(18)?,
        moves: row.get(19)?,
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
