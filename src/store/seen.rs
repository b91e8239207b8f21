//! What a leader saw somebody do on real ground.

use super::attempt::day;
use super::check_value::Checked;
use super::error::At;
use super::ids::Id;
use super::learners::nanoseconds;
use super::{LearnerId, SeenId, Store, StoreError};
use jiff::Timestamp;
use jiff::civil::Date;
use rusqlite::types::{FromSql, FromSqlError, FromSqlResult, ToSql, ToSqlOutput, ValueRef};
use rusqlite::{OptionalExtension, TransactionBehavior, params};

/// The longest text about what was seen, in characters.
pub const LONGEST_SEEN: usize = 200;

/// Something that was seen on the ground.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Seen {
    /// Who did it.
    pub learner: LearnerId,
    /// The skill's id.
    pub skill: String,
    /// What was seen, in the leader's words; may be empty.
    pub what: String,
    /// On which day.
    pub day: Date,
    /// By whom.
    pub by: String,
    /// How it went.
    pub outcome: SeenOutcome,
}

/// How something seen on the ground went, by the leader who saw it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum SeenOutcome {
    /// They did it.
    Yes,
    /// They did not.
    No,
    /// Nobody said: in records of older programs nobody was asked.
    NotSaid,
}

impl SeenOutcome {
    /// As it is written and shown.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            SeenOutcome::Yes => "yes",
            SeenOutcome::No => "no",
            SeenOutcome::NotSaid => "not said",
        }
    }
}

impl ToSql for SeenOutcome {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        match self {
            SeenOutcome::NotSaid => "not-said",
            said => said.word(),
        }
        .to_sql()
    }
}

impl FromSql for SeenOutcome {
    fn column_result(value: ValueRef<'_>) -> FromSqlResult<SeenOutcome> {
        match value.as_str()? {
            "yes" => Ok(SeenOutcome::Yes),
            "no" => Ok(SeenOutcome::No),
            "not-said" => Ok(SeenOutcome::NotSaid),
            _ => Err(FromSqlError::InvalidType),
        }
    }
}

impl Store {
    /// Writes down what was seen, all of it or nothing; gives back the entries, so that they can be taken back.
    ///
    /// # Errors
    /// [`StoreError::NoSuchLearner`], or the file cannot be written.
    pub fn add_seen(&mut self, all: &[Seen], now: Timestamp) -> Result<Vec<SeenId>, StoreError> {
        let Store { path, conn, .. } = self;
        let sql = Checked::named("seen").insert(
            "SELECT ?1 AS id, coalesce(same_as, key) AS learner, ?3 AS skill, ?4 AS what, ?5 AS day, ?6 AS seen_by, \
             ?7 AS written_at, ?8 AS outcome FROM learners WHERE learners.id = ?2",
        );
        let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate).at(path)?;
        let mut entries = Vec::with_capacity(all.len());
        for seen in all {
            let id = Id::new(now);
            let Seen { learner, skill, what, day, by, outcome } = seen;
            let values = params![id, learner.0, skill, what, day.to_string(), by, nanoseconds(now), outcome];
            if tx.execute(&sql, values).at(path)? == 0 {
                return Err(StoreError::NoSuchLearner(*learner));
            }
            entries.push(SeenId(id));
        }
        tx.commit().at(path)?;
        Ok(entries)
    }

    /// What was written down last of what was seen of somebody in a skill, of the entries that were not taken back, whatever day it was
    /// seen on.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn last_written_seen(&self, learner: LearnerId, skill: &str) -> Result<Option<(SeenId, Seen)>, StoreError> {
        let sql = "SELECT seen.id, what, day, seen_by, outcome FROM seen WHERE skill = ?2 \
                   AND learner = (SELECT coalesce(same_as, key) FROM learners WHERE id = ?1) \
                   AND NOT EXISTS (SELECT 1 FROM marks WHERE marks.target = seen.id AND marks.kind = 'seen') \
                   ORDER BY seen.written_at DESC, seen.id DESC LIMIT 1";
        let mut statement = self.conn.prepare_cached(sql).at(&self.path)?;
        let entry = |row: &rusqlite::Row<'_>| {
            let seen = Seen {
                learner,
                skill: skill.to_owned(),
                what: row.get(1)?,
                day: day(row, 2)?,
                by: row.get(3)?,
                outcome: row.get(4)?,
            };
            Ok((SeenId(row.get(0)?), seen))
        };
        statement.query_row(params![learner.0, skill], entry).optional().at(&self.path)
    }

    /// Everything that was seen of learners who are not archived and was not taken back, the oldest first.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn seen(&self) -> Result<Vec<Seen>, StoreError> {
        let sql = "SELECT learners.id, skill, what, day, seen_by, outcome FROM seen \
                   JOIN learners ON learners.key = seen.learner WHERE archived = 0 \
                   AND NOT EXISTS (SELECT 1 FROM marks WHERE marks.target = seen.id AND marks.kind = 'seen') \
                   ORDER BY seen.day, seen.id";
        let mut statement = self.conn.prepare_cached(sql).at(&self.path)?;
        let rows = statement
            .query_map([], |row| {
                Ok(Seen {
                    learner: LearnerId(row.get(0)?),
                    skill: row.get(1)?,
                    what: row.get(2)?,
                    day: day(row, 3)?,
                    by: row.get(4)?,
                    outcome: row.get(5)?,
                })
            })
            .at(&self.path)?;
        rows.collect::<rusqlite::Result<_>>().at(&self.path)
    }
}
