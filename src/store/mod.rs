//! The records: one SQLite file with every answer ever judged.
//!
//! What lives here: opening the file, its schema, patrols, learners, sessions, attempts, checks, what was seen on the ground, marks on all of these, and the summaries that make opening a
//! profile quick. What does not: judging, choosing, and any clock; moments and days are passed in.
//!
//! Attempts are only ever added; what is taken back is marked and stays. A learner's beliefs are a fold over their attempts
//! in the order of the ids, without the marked ones. The store alone folds: whoever records an answer is handed the beliefs
//! after it. The summaries keep the present end of that fold, written in the same transaction as the attempt, and can
//! be folded anew ([`Store::rebuild`]) and compared ([`Store::verify`]) at any time.

mod annulled;
mod attempt;
mod backup;
mod check_value;
mod checks;
mod described;
mod error;
mod evenings;
mod export;
#[doc(hidden)]
pub mod fill;
mod fold;
mod help;
mod ids;
mod import;
mod inspect;
mod learners;
mod lessons;
mod marks;
mod mend;
mod merge;
mod name;
mod namesakes;
mod open;
mod pages;
mod patrols;
mod people;
mod progress;
mod record;
mod salvage;
mod schema;
mod seen;
mod sessions;
mod sheets;
mod verify;

#[cfg(test)]
mod testing;
#[cfg(test)]
mod tests;

pub use annulled::{Annulment, ShortWait};
pub use attempt::{Attempt, AttemptKind, NewAttempt, RecordedVerdict};
pub use backup::{Glance, Restored, Waiting, restore};
pub use checks::{CheckAnswer, CheckSitting, NewCheck, StoredCheck};
pub use error::{NotAStore, StoreError};
pub use evenings::StoredEvening;
pub use export::ExportError;
pub use help::Help;
pub use ids::{AttemptId, CheckId, LearnerId, PatrolId, SeenId, SessionId, SheetId};
pub use inspect::{DamagedRecord, Inspection, LostAnswer, inspect};
pub use learners::{Erased, Learner};
pub use lessons::LessonMark;
pub use mend::{Mended, MendedLearner, mend};
pub use merge::{Brought, Incoming, Said};
pub use name::{LONGEST_NAME, NameError, names_in};
pub use namesakes::Namesakes;
pub use patrols::Patrol;
pub use progress::{AnswerCount, Progress};
pub use record::{Believed, Recorded};
pub use seen::{LONGEST_SEEN, Seen, SeenOutcome};
pub use sessions::{LastPractice, NewSession};
pub use sheets::{Sheet, SheetWord};
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
    /// How many changes were made when the log was last brought into the file.
    settled: u64,
}

/// So many changes at most are in the log alone when somebody pauses in a sitting. An answer is two: itself and its summary.
const CHANGES_IN_LOG: u64 = 6;

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
        Store { path, conn, read_only, skills: skills.to_vec(), fold, kept: None, settled: 0 }
    }

    /// Brings the log into the file itself, as far as no other program is just reading: the records are as safe without, but not
    /// all in one file. Called when somebody has a verdict to read or is between two things; in the middle of a sitting only
    /// after every few answers. Where it cannot be done now it is done later.
    pub fn pause(&mut self, in_sitting: bool) {
        let changes = self.conn.total_changes();
        let since = changes - self.settled;
        if since > if in_sitting { CHANGES_IN_LOG } else { 0 } {
            self.settled = changes;
            let _ = self.conn.query_row("PRAGMA wal_checkpoint(PASSIVE)", [], |_| Ok(()));
        }
    }

    /// Where the store is.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }
}

/// Brings the log of the store at `path` into its file, from beside the program that has it open: when that one is ended from
/// outside.
pub fn settle_at_end(path: &Path) {
    let Ok(conn) = open::connect(path, rusqlite::OpenFlags::SQLITE_OPEN_READ_WRITE) else { return };
    // Ending must not wait for other programs.
    let _ = conn.busy_timeout(std::time::Duration::from_millis(100));
    let _ = conn.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(()));
}

/// SQLite gives some relative names a meaning of their own (`:memory:`, `file:…`); an absolute path is only a path.
fn absolute(path: &Path) -> PathBuf {
    std::path::absolute(path).unwrap_or_else(|_| path.to_owned())
}
