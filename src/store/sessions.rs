//! Sittings: who sat down, when, with which drill.

use super::error::At;
use super::ids::Id;
use super::learners::nanoseconds;
use super::{CheckId, LearnerId, SessionId, Store, StoreError};
use rusqlite::params;

/// A session as it begins.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewSession {
    /// Who sits in it.
    pub learner: LearnerId,
    /// When it began.
    pub at: jiff::Timestamp,
    /// The learner's day.
    pub day: jiff::civil::Date,
    /// Whether that day was given, and not the clock's.
    pub day_given: bool,
    /// The drill's name, if it follows one.
    pub drill: Option<String>,
    /// The check it belongs to, if it is part of one.
    pub check: Option<CheckId>,
    /// The program's version.
    pub program: String,
}

impl Store {
    /// Begins a session; its attempts refer to it.
    ///
    /// # Errors
    /// [`StoreError::NoSuchLearner`], or the file cannot be written.
    pub fn start_session(&mut self, session: &NewSession) -> Result<SessionId, StoreError> {
        let id = SessionId(Id::new(session.at));
        let written = self
            .conn
            .prepare_cached(
                "INSERT INTO sessions (id, learner, made_in, started_at, day, drill, program, check_key, day_given) \
                 SELECT ?1, learners.key, this_store.id, ?3, ?4, ?5, ?6, \
                 (SELECT key FROM checks WHERE id = ?7), ?8 FROM learners, this_store WHERE learners.id = ?2",
            )
            .and_then(|mut statement| {
                statement.execute(params![
                    id.0,
                    session.learner.0,
                    nanoseconds(session.at),
                    session.day.to_string(),
                    session.drill,
                    session.program,
                    session.check.map(|check| check.0),
                    session.day_given,
                ])
            })
            .at(&self.path)?;
        if written == 0 { Err(StoreError::NoSuchLearner(session.learner)) } else { Ok(id) }
    }
}
