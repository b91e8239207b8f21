//! What a leader saw somebody do on real ground.

use super::attempt::day;
use super::error::At;
use super::ids::Id;
use super::learners::nanoseconds;
use super::{LearnerId, Store, StoreError};
use jiff::Timestamp;
use jiff::civil::Date;
use rusqlite::params;

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
}

impl Store {
    /// Writes down what was seen.
    ///
    /// # Errors
    /// [`StoreError::NoSuchLearner`], or the file cannot be written.
    pub fn add_seen(&mut self, seen: &Seen, now: Timestamp) -> Result<(), StoreError> {
        let sql = "INSERT INTO seen (id, learner, skill, what, day, seen_by, written_at) \
                   SELECT ?1, learners.key, ?3, ?4, ?5, ?6, ?7 FROM learners WHERE learners.id = ?2";
        let values = params![
            Id::new(now),
            seen.learner.0,
            seen.skill,
            seen.what,
            seen.day.to_string(),
            seen.by,
            nanoseconds(now)
        ];
        let written =
            self.conn.prepare_cached(sql).and_then(|mut statement| statement.execute(values)).at(&self.path)?;
        if written == 0 { Err(StoreError::NoSuchLearner(seen.learner)) } else { Ok(()) }
    }

    /// Everything that was seen of learners who are not archived and was not taken back, the oldest first.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn seen(&self) -> Result<Vec<Seen>, StoreError> {
        let sql = "SELECT learners.id, skill, what, day, seen_by FROM seen \
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
                })
            })
            .at(&self.path)?;
        rows.collect::<rusqlite::Result<_>>().at(&self.path)
    }
}
