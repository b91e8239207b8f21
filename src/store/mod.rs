//! The records: one SQLite file with every answer ever judged.
//!
//! What lives here: opening the file, its schema, patrols, learners, sessions, attempts, checks, what was seen on the ground, marks on all of these, and the summaries that make opening a
//! profile quick. What does not: judging, choosing, and any clock; moments and days are passed in.
//!
//! Attempts are only ever added; what is taken back is marked and stays. A learner's beliefs are a fold over their attempts
//! in the order of the ids, without the marked ones. The store alone folds: whoever records an answer is handed the beliefs
//! after it. The summaries keep the present end of that fold, written in the same transaction as the attempt, and can
//! be folded anew ([`Store::rebuild`]) and compared ([`Store::verify`]) at any time.

mod attempt;
mod checks;
mod error;
#[doc(hidden)]
pub mod fill;
mod fold;
mod help;
mod ids;
mod learners;
mod lessons;
mod marks;
mod name;
mod open;
mod patrols;
mod progress;
mod record;
mod schema;
mod seen;
mod sessions;
mod verify;

#[cfg(test)]
mod testing;
#[cfg(test)]
mod tests;

pub use attempt::{Attempt, AttemptKind, NewAttempt, RecordedVerdict};
pub use checks::{CheckAnswer, CheckSitting, NewCheck, StoredCheck};
pub use error::{NotAStore, StoreError};
pub use help::Help;
pub use ids::{AttemptId, CheckId, LearnerId, PatrolId, SessionId};
pub use learners::{Erased, Learner};
pub use lessons::LessonMark;
pub use name::{LONGEST_NAME, NameError};
pub use patrols::Patrol;
pub use progress::{AnswerCount, Progress};
pub use record::{Believed, Recorded};
pub use seen::{Seen, SeenOutcome};
pub use sessions::{LastPractice, NewSession};
pub use verify::{Difference, Verified};

use crate::problem::SkillMeta;
use record::Kept;
use rusqlite::Connection;
use std::path::{Path, PathBuf};

/// An open store.
#[derive(Debug)]
pub struct Store {
    path: PathBuf,
    conn: Connection,
    read_only: bool,
    skills: Vec<&'static SkillMeta>,
    /// By which model and registry summaries are folded here.
    fold: i64,
    /// What is believed of the learner whose answer was recorded last.
    kept: Option<Kept>,
}

impl Store {
    /// Opens the store at `path`; where there is nothing, makes one (mode 0600) with the folders on the way to it.
    /// An older schema is brought up to date. `skills` are all skills there are, in the order of the registry: the store
    /// needs them to fold attempts into beliefs.
    ///
    /// # Errors
    /// [`StoreError`]: never a new store where something else lies already, an empty file included.
    pub fn open(path: &Path, skills: &[&'static SkillMeta]) -> Result<Store, StoreError> {
        let path = absolute(path);
        let conn = open::open(&path)?;
        Ok(Store::over(path, conn, false, skills))
    }

    /// Opens the store at `path` without ever writing to it.
    ///
    /// # Errors
    /// [`StoreError`]; here it is also an error that there is no file.
    pub fn open_to_read(path: &Path, skills: &[&'static SkillMeta]) -> Result<Store, StoreError> {
        let path = absolute(path);
        let conn = open::open_to_read(&path)?;
        Ok(Store::over(path, conn, true, skills))
    }

    fn over(path: PathBuf, conn: Connection, read_only: bool, skills: &[&'static SkillMeta]) -> Store {
        let fold = fold::fingerprint(skills);
        Store { path, conn, read_only, skills: skills.to_vec(), fold, kept: None }
    }

    /// Where the store is.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }
}

/// SQLite gives some relative names a meaning of their own (`:memory:`, `file:…`); an absolute path is only a path.
fn absolute(path: &Path) -> PathBuf {
    std::path::absolute(path).unwrap_or_else(|_| path.to_owned())
}
