//! What can go wrong with the records, each with one message: what happened, what was kept, what to do.

use super::{LearnerId, NameError};
use crate::textfile::shown_path;
use rusqlite::ErrorCode;
use std::fmt;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

/// Why the store could not do what was asked.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// The file or its folder cannot be made.
    #[error(
        "cannot make the store {}: {why}. Nothing was changed; give another place with --store or NEEDLEWISE_STORE",
        shown_path(path)
    )]
    CannotCreate {
        /// The store.
        path: PathBuf,
        /// What the system said.
        why: std::io::Error,
    },
    /// The file is there and cannot be opened.
    #[error(
        "cannot open the store {}: {why}. Nothing was changed; see who may read and write it and whether the disk is full, or give another place with --store",
        shown_path(path)
    )]
    CannotOpen {
        /// The store.
        path: PathBuf,
        /// What the system said.
        why: String,
    },
    /// The file is something else.
    #[error(
        "{} is not a needlewise store: {what}. It was left as it is; give another place with --store, or restore a backup",
        shown_path(path)
    )]
    NotAStore {
        /// The file.
        path: PathBuf,
        /// What it is instead.
        what: NotAStore,
    },
    /// Written by a later program.
    #[error(
        "the store {} was written by a newer needlewise (schema {found}; this one knows {known}). It was left as it is; use the newer program",
        shown_path(path)
    )]
    Newer {
        /// The store.
        path: PathBuf,
        /// Its schema version.
        found: i64,
        /// The highest version this program knows.
        known: i64,
    },
    /// Pages of the file are damaged.
    #[error(
        "the store {} is damaged ({detail}). It was left as it is; put a copy aside, then restore a backup in its place",
        shown_path(path)
    )]
    Corrupt {
        /// The store.
        path: PathBuf,
        /// What SQLite or the reader said.
        detail: String,
    },
    /// No room on the disk.
    #[error(
        "the disk is full: {} could not take this. What was recorded before is kept, this was not recorded; free some space and try again",
        shown_path(path)
    )]
    DiskFull {
        /// The store.
        path: PathBuf,
    },
    /// The disk did not confirm that it has what was written to it.
    #[error(
        "the disk did not confirm that {} has this. Whether it was recorded is not certain: look at what is there before you enter it again, and back the records up to another disk",
        shown_path(path)
    )]
    NotConfirmed {
        /// The store.
        path: PathBuf,
    },
    /// The file or the disk must not be written.
    #[error(
        "the store {} cannot be written: the file or the disk is read-only. What was recorded before is kept, nothing was added; make it writable, or give another place with --store",
        shown_path(path)
    )]
    ReadOnly {
        /// The store.
        path: PathBuf,
    },
    /// Another program holds it.
    #[error(
        "the store {} is locked by another program. What was recorded before is kept, this was not recorded; close the other program and try again",
        shown_path(path)
    )]
    Locked {
        /// The store.
        path: PathBuf,
    },
    /// Something has the name already.
    #[error("{} is there already and was left as it is; give another name", shown_path(path))]
    InTheWay {
        /// The file.
        path: PathBuf,
    },
    /// An older backup has the name already.
    #[error(
        "{} is there already and was left as it is; give another name, or say --force to replace it",
        shown_path(path)
    )]
    OlderBackup {
        /// The file.
        path: PathBuf,
    },
    /// A log or a journal lies beside a name as part of the file that had it: it may hold records, and would be taken for part of the
    /// new one.
    #[error(
        "{} lies there and may hold records of a file that a program had open; nothing was written. Give another name, or move it away first",
        shown_path(path)
    )]
    LeftBeside {
        /// The log or the journal.
        path: PathBuf,
    },
    /// What lies under the name of a store's log is a pipe, a folder, a device.
    #[error(
        "{} is no ordinary file, and is taken for a part of the store beside it. Nothing was changed; move it away and try again",
        shown_path(path)
    )]
    OddBeside {
        /// What lies there.
        path: PathBuf,
    },
    /// A file that is not the store cannot be written.
    #[error(
        "cannot write {}: {why}. Nothing was written there, and the records are as they were; give another name",
        shown_path(path)
    )]
    CannotCopy {
        /// The file.
        path: PathBuf,
        /// What the system said.
        why: std::io::Error,
    },
    /// A file that was named as a store or a backup cannot be read.
    #[error(
        "cannot open {}: {why}. Nothing was changed; name a store or a backup that is there and that you may read",
        shown_path(path)
    )]
    FileUnreadable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        why: String,
    },
    /// A file that was named as a store or a backup is something else.
    #[error("{} is not a needlewise store: {what}. Nothing was changed; name a store or a backup", shown_path(path))]
    FileNotAStore {
        /// The file.
        path: PathBuf,
        /// What it is instead.
        what: NotAStore,
    },
    /// A file that was named as a store or a backup is damaged.
    #[error(
        "{} is damaged ({detail}). It was left as it is, and nothing of it came in; copy it once more from where it comes from, or save what is whole of it with: needlewise store mend NEW --store FILE",
        shown_path(path)
    )]
    FileDamaged {
        /// The file.
        path: PathBuf,
        /// What SQLite or the reader said.
        detail: String,
    },
    /// The store was named where another file belongs.
    #[error("{} is the store itself; nothing was done, name another file", shown_path(path))]
    TheStoreItself {
        /// The file.
        path: PathBuf,
    },
    /// A line of exported records cannot be read.
    #[error("{}: line {line}: {what}. Nothing was taken in; mend the line, or export again", shown_path(path))]
    BadLine {
        /// The file.
        path: PathBuf,
        /// The line, from 1.
        line: u64,
        /// What is wrong with it.
        what: String,
    },
    /// Another program has the store open.
    #[error(
        "the store {} is open in another program. Nothing was replaced; close the other program and try again",
        shown_path(path)
    )]
    InUse {
        /// The store.
        path: PathBuf,
    },
    /// A name that cannot be stored.
    #[error("{0}")]
    Name(#[from] NameError),
    /// Another learner has this name.
    #[error("there is a learner named {name} already; choose a name that tells the two apart")]
    NameInUse {
        /// The name as the other learner has it.
        name: String,
    },
    /// No learner has this id; perhaps another program erased them.
    #[error("there is no such learner in this store (any more); choose a learner again")]
    NoSuchLearner(LearnerId),
    /// The session is not one of this learner in this store.
    #[error("this answer belongs to no session of its learner; it was not recorded, begin the session again")]
    NoSuchSession,
    /// Only what belongs to no check and still counts can be taken back.
    #[error("this cannot be taken back: it belongs to a check, or it was taken back before; nothing was changed")]
    NotTakenBack,
    /// Only an answer of a try that is under way can be annulled, and only once.
    #[error(
        "this answer cannot be annulled: its try has ended, so its result is known, or it was annulled before; nothing was changed"
    )]
    NotAnnulled,
    /// The check is not in this store.
    #[error("there is no such check in this store any more; nothing was changed, open the page again")]
    NoSuchCheck,
    /// The sheet is not in this store, or has no such problem.
    #[error(
        "there is no such sheet in this store any more, or no such problem on it; nothing was changed, open the page again"
    )]
    NoSuchSheet,
    /// A problem of a sheet that was typed in before.
    #[error("this problem of the sheet was typed in before; take that back first, if it was mistyped")]
    EnteredAlready,
    /// Anything else that SQLite refused.
    #[error(
        "the store {} refused: {}. What was recorded before is kept, this was not recorded",
        shown_path(path),
        plainly(source)
    )]
    Sqlite {
        /// The store.
        path: PathBuf,
        /// What SQLite said.
        source: rusqlite::Error,
    },
}

/// What a file is that is not a store.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NotAStore {
    /// A folder, a device, a pipe.
    NotAFile,
    /// A file with nothing in it. A store is never empty, so something happened to it.
    Empty,
    /// Not a database at all.
    NotADatabase,
    /// A database of another program.
    AnotherDatabase,
}

impl fmt::Display for NotAStore {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            NotAStore::NotAFile => "it is no ordinary file",
            NotAStore::Empty => "the file is empty",
            NotAStore::NotADatabase => "the file holds something else",
            NotAStore::AnotherDatabase => "it is a database of another program",
        })
    }
}

/// Failures of SQLite inside the module, not yet told apart; a path makes a [`StoreError`] of them.
pub(super) trait At<T> {
    /// Says which file it happened to.
    fn at(self, path: &Path) -> Result<T, StoreError>;
}

impl<T> At<T> for rusqlite::Result<T> {
    fn at(self, path: &Path) -> Result<T, StoreError> {
        self.map_err(|error| StoreError::from_sqlite(error, path))
    }
}

impl StoreError {
    /// Sorts an SQLite failure into the cases a person can do something about.
    pub(super) fn from_sqlite(error: rusqlite::Error, path: &Path) -> StoreError {
        let path = path.to_owned();
        let rusqlite::Error::SqliteFailure(failure, ref detail) = error else {
            return match error {
                // A statement that does not fit the tables: they are not those of the version that the file says it has.
                rusqlite::Error::SqlInputError { .. } => {
                    StoreError::Corrupt { path, detail: NOT_ITS_TABLES.to_owned() }
                }
                // A value of the wrong type or shape where our own schema promises another: the file is damaged.
                rusqlite::Error::FromSqlConversionFailure(..)
                | rusqlite::Error::InvalidColumnType(..)
                | rusqlite::Error::IntegralValueOutOfRange(..)
                | rusqlite::Error::Utf8Error(..) => StoreError::Corrupt { path, detail: NOT_OURS.to_owned() },
                _ => StoreError::Sqlite { path, source: error },
            };
        };
        let said = || detail.clone().unwrap_or_else(|| failure.to_string());
        match failure.code {
            ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase => StoreError::Corrupt { path, detail: said() },
            ErrorCode::DiskFull => StoreError::DiskFull { path },
            // The wal-index is grown before anything is written; the only reason it fails is room.
            ErrorCode::SystemIoFailure if failure.extended_code == rusqlite::ffi::SQLITE_IOERR_SHMSIZE => {
                StoreError::DiskFull { path }
            }
            ErrorCode::SystemIoFailure if failure.extended_code == rusqlite::ffi::SQLITE_IOERR_SHORT_READ => {
                StoreError::Corrupt { path, detail: said() }
            }
            // What was written may be there, and may be gone after a power cut.
            ErrorCode::SystemIoFailure
                if matches!(
                    failure.extended_code,
                    rusqlite::ffi::SQLITE_IOERR_FSYNC | rusqlite::ffi::SQLITE_IOERR_DIR_FSYNC
                ) =>
            {
                StoreError::NotConfirmed { path }
            }
            ErrorCode::Unknown if NOT_FITTING.iter().any(|words| said().contains(words)) => {
                StoreError::Corrupt { path, detail: NOT_ITS_TABLES.to_owned() }
            }
            ErrorCode::ReadOnly => StoreError::ReadOnly { path },
            ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked => StoreError::Locked { path },
            ErrorCode::CannotOpen | ErrorCode::PermissionDenied => StoreError::CannotOpen { path, why: said() },
            _ => StoreError::Sqlite { path, source: error },
        }
    }

    /// Sorts a failure of the file system while the store is made.
    pub(super) fn from_creating(why: std::io::Error, path: &Path) -> StoreError {
        let path = path.to_owned();
        match why.kind() {
            ErrorKind::StorageFull | ErrorKind::QuotaExceeded => StoreError::DiskFull { path },
            ErrorKind::ReadOnlyFilesystem => StoreError::ReadOnly { path },
            _ => StoreError::CannotCreate { why: told(why, &path), path },
        }
    }

    /// The same of a file that is not the store, but was named as one that is to be read: what helps there is another.
    pub(super) fn of_file(self) -> StoreError {
        match self {
            StoreError::CannotOpen { path, why } => StoreError::FileUnreadable { path, why },
            StoreError::NotAStore { path, what } => StoreError::FileNotAStore { path, what },
            StoreError::Corrupt { path, detail } => StoreError::FileDamaged { path, detail },
            other => other,
        }
    }

    /// Sorts a failure of SQLite while a copy is written that is not the store.
    pub(super) fn from_sqlite_copying(error: rusqlite::Error, path: &Path) -> StoreError {
        let kind = match StoreError::from_sqlite(error, path) {
            StoreError::DiskFull { .. } => ErrorKind::StorageFull,
            StoreError::ReadOnly { .. } => ErrorKind::ReadOnlyFilesystem,
            other => return other,
        };
        StoreError::from_copying(kind.into(), path)
    }

    /// Sorts a failure of the file system while a file is made that is not the store.
    pub(super) fn from_copying(why: std::io::Error, path: &Path) -> StoreError {
        StoreError::CannotCopy { why: told(why, path), path: path.to_owned() }
    }
}

/// What the system said of a file that cannot be made, in plain words where it has none.
fn told(why: std::io::Error, path: &Path) -> std::io::Error {
    let words = match why.kind() {
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => "the disk is full",
        ErrorKind::ReadOnlyFilesystem => "the disk is read-only",
        ErrorKind::NotADirectory => "a folder on the way to it is a file",
        ErrorKind::AlreadyExists => "where its folder should be there is a file",
        ErrorKind::PermissionDenied => "you may not write there",
        ErrorKind::NotFound if std::fs::symlink_metadata(path).is_ok() => "it is a link that leads nowhere",
        ErrorKind::NotFound => "there is no such folder",
        _ => return why,
    };
    std::io::Error::new(why.kind(), words)
}

/// What SQLite refused, without the words of SQL. Where a rule of ours was broken its own words say so.
fn plainly(error: &rusqlite::Error) -> String {
    let rusqlite::Error::SqliteFailure(failure, said) = error else { return error.to_string() };
    match (failure.extended_code, said) {
        (rusqlite::ffi::SQLITE_CONSTRAINT_TRIGGER, Some(said)) => said.clone(),
        (rusqlite::ffi::SQLITE_CONSTRAINT_UNIQUE | rusqlite::ffi::SQLITE_CONSTRAINT_PRIMARYKEY, _) => {
            "there is such a record already".to_owned()
        }
        _ if failure.code == ErrorCode::ConstraintViolation => "a record does not fit those that are there".to_owned(),
        _ => failure.to_string(),
    }
}

/// Words of SQLite about a statement that does not fit the tables.
const NOT_FITTING: [&str; 4] = ["no such table", "no such column", "has no column", "values were supplied"];

/// What SQLite says of these two are words of SQL.
const NOT_OURS: &str = "something stands in it that no program of ours writes there";
const NOT_ITS_TABLES: &str = "its tables are not those of the version that it says it has";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_cannot_speak_to_the_terminal() {
        let error = StoreError::ReadOnly { path: PathBuf::from("/camp/\u{1b}[2Jrecords") };
        let said = error.to_string();
        assert!(said.contains("/camp/\u{fffd}[2Jrecords"), "{said}");
        assert!(!said.contains('\u{1b}'));
    }

    #[test]
    fn where_the_disk_did_not_confirm_a_commit_it_is_said_that_nobody_knows() {
        let failure =
            rusqlite::ffi::Error { code: ErrorCode::SystemIoFailure, extended_code: rusqlite::ffi::SQLITE_IOERR_FSYNC };
        let error = StoreError::from_sqlite(rusqlite::Error::SqliteFailure(failure, None), Path::new("/camp/records"));
        let said = error.to_string();
        assert!(said.contains("is not certain") && said.contains("look at what is there"), "{said}");
        assert!(!said.contains("was not recorded"), "{said}");
    }

    #[test]
    fn tables_that_do_not_fit_are_told_without_the_words_of_sql() {
        let conn = rusqlite::Connection::open_in_memory().unwrap();
        conn.execute_batch("CREATE TABLE learners (a)").unwrap();
        for sql in ["SELECT name FROM learners", "SELECT key FROM attempts", "INSERT INTO learners VALUES (1, 2)"] {
            let error = conn.prepare(sql).map(drop).unwrap_err();
            let said = StoreError::from_sqlite(error, Path::new("/camp/records")).to_string();
            assert!(said.contains("is damaged (its tables are not those of the version"), "{said}");
            assert!(!said.contains("SELECT") && !said.contains("column"), "{said}");
        }
    }

    #[test]
    fn a_full_disk_is_told_apart_while_the_store_is_made() {
        let full = std::io::Error::from(ErrorKind::StorageFull);
        assert!(matches!(StoreError::from_creating(full, Path::new("/camp")), StoreError::DiskFull { .. }));
        let read_only = std::io::Error::from(ErrorKind::ReadOnlyFilesystem);
        assert!(matches!(StoreError::from_creating(read_only, Path::new("/camp")), StoreError::ReadOnly { .. }));
    }
}
