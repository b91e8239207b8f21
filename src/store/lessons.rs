//! How far somebody has come in the first lessons.

use super::error::At;
use super::learners::nanoseconds;
use super::{LearnerId, Store, StoreError};
use jiff::Timestamp;
use rusqlite::params;

/// How far a learner has come in a lesson.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LessonMark {
    /// The lesson's id.
    pub lesson: String,
    /// The screen that was on last, from 0.
    pub screen: u32,
    /// Whether the lesson was ended or skipped; it may be opened again all the same.
    pub done: bool,
}

/// Of two words about one lesson the later counts, and what was done stays done. Behind an `INSERT` of rows.
pub(super) const LATER_COUNTS: &str = "ON CONFLICT (learner, lesson) DO UPDATE SET \
    screen = CASE WHEN (excluded.noted_at, excluded.screen) > (noted_at, screen) THEN excluded.screen ELSE screen END, \
    done = max(done, excluded.done), noted_at = max(noted_at, excluded.noted_at)";

impl Store {
    /// Notes how far a learner has come in a lesson. What was done stays done.
    ///
    /// # Errors
    /// [`StoreError::NoSuchLearner`], or the file cannot be written.
    pub fn note_lesson(&mut self, learner: LearnerId, mark: &LessonMark, now: Timestamp) -> Result<(), StoreError> {
        let sql = "INSERT INTO lessons (learner, lesson, screen, done, noted_at) \
                   SELECT coalesce(same_as, key), ?2, ?3, ?4, ?5 FROM learners WHERE id = ?1 \
                   ON CONFLICT (learner, lesson) DO UPDATE SET screen = excluded.screen, \
                   done = max(lessons.done, excluded.done), noted_at = excluded.noted_at";
        let values = params![learner.0, mark.lesson, mark.screen, mark.done, nanoseconds(now)];
        let written =
            self.conn.prepare_cached(sql).and_then(|mut statement| statement.execute(values)).at(&self.path)?;
        if written == 0 { Err(StoreError::NoSuchLearner(learner)) } else { Ok(()) }
    }

    /// How far a learner has come in each lesson that was begun.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn lessons(&self, learner: LearnerId) -> Result<Vec<LessonMark>, StoreError> {
        let sql = "SELECT lesson, screen, done FROM lessons \
                   WHERE learner = (SELECT coalesce(same_as, key) FROM learners WHERE id = ?1) ORDER BY lesson";
        let mut statement = self.conn.prepare_cached(sql).at(&self.path)?;
        let rows = statement
            .query_map([learner.0], |row| {
                Ok(LessonMark { lesson: row.get(0)?, screen: row.get(1)?, done: row.get(2)? })
            })
            .at(&self.path)?;
        rows.collect::<rusqlite::Result<_>>().at(&self.path)
    }
}
