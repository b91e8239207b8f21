//! Sittings: who sat down, when, with which drill.

use super::attempt::{AttemptKind, COUNTS, RecordedVerdict, day};
use super::check_value::Checked;
use super::error::At;
use super::ids::Id;
use super::learners::nanoseconds;
use super::{CheckId, LearnerId, SessionId, Store, StoreError};
use jiff::civil::Date;
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

/// The last day on which somebody practised.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LastPractice {
    /// The day.
    pub day: Date,
    /// Problems answered in practice on it, with and without help.
    pub answered: u32,
    /// Right ones.
    pub right: u32,
}

impl Store {
    /// How a learner's last day of practice went; none before the first answer. Goes back no farther than to that day.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn last_practice(&self, learner: LearnerId) -> Result<Option<LastPractice>, StoreError> {
        let sql = format!(
            "SELECT kind, attempts.day, verdict, mixup FROM attempts \
             WHERE learner = (SELECT coalesce(same_as, key) FROM learners WHERE id = ?1) AND {COUNTS} ORDER BY id DESC"
        );
        let mut statement = self.conn.prepare_cached(&sql).at(&self.path)?;
        let mut rows = statement.query([learner.0]).at(&self.path)?;
        let mut last: Option<LastPractice> = None;
        while let Some(row) = rows.next().at(&self.path)? {
            if row.get::<_, AttemptKind>(0).at(&self.path)? != AttemptKind::Practice {
                continue;
            }
            let (day, verdict) = (day(row, 1).at(&self.path)?, RecordedVerdict::read(row, 2, 3).at(&self.path)?);
            let before = match last {
                Some(last) if last.day != day => break,
                Some(last) => last,
                None => LastPractice { day, answered: 0, right: 0 },
            };
            let right = before.right + u32::from(verdict == RecordedVerdict::Right);
            last = Some(LastPractice { answered: before.answered + 1, right, ..before });
        }
        Ok(last)
    }

    /// Begins a session; its attempts refer to it.
    ///
    /// # Errors
    /// [`StoreError::NoSuchLearner`], or the file cannot be written.
    pub fn start_session(&mut self, session: &NewSession) -> Result<SessionId, StoreError> {
        let id = SessionId(Id::new(session.at));
        let sql = Checked::named("sessions").insert(
            "SELECT ?1 AS id, coalesce(same_as, key) AS learner, this_store.id AS made_in, ?3 AS started_at, ?4 AS day, \
             ?5 AS drill, ?6 AS program, (SELECT key FROM checks WHERE id = ?7) AS check_key, ?8 AS day_given \
             FROM learners, this_store WHERE learners.id = ?2",
        );
        let written = self
            .conn
            .prepare_cached(&sql)
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
