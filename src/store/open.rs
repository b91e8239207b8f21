//! Opening and making the file.
//!
//! A new store is made whole under another name and then linked to its own, so that a file under the store's name is
//! a store from its first moment: one that is empty or half made is never ours and is never filled silently.

use super::error::At;
use super::ids::Id;
use super::{NotAStore, StoreError, schema};
use crate::platform::{make_private_file, make_private_folder};
use rusqlite::config::DbConfig;
use rusqlite::{Connection, OpenFlags};
use std::ffi::OsString;
use std::fs::{self, File};
use std::io::{ErrorKind, Read};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// How long a call waits for another program's commit before it says that the store is locked.
const PATIENCE: Duration = Duration::from_millis(2_000);

/// Opens the store at `path`, making it where there is nothing.
pub(super) fn open(path: &Path) -> Result<Connection, StoreError> {
    match examine(path)? {
        Found::Store => {}
        Found::Nothing => {
            create(path).map_err(|failure| match failure {
                Failure::File(why) => StoreError::from_creating(why, path),
                Failure::Sqlite(error) => StoreError::from_sqlite(error, path),
            })?;
            if let Found::Nothing = examine(path)? {
                // A link that leads nowhere: its name is taken, and there is no file.
                return Err(StoreError::from_creating(ErrorKind::NotFound.into(), path));
            }
        }
    }
    let mut conn = connect(path, OpenFlags::SQLITE_OPEN_READ_WRITE).at(path)?;
    if conn.is_readonly(rusqlite::MAIN_DB).at(path)? {
        return Err(StoreError::ReadOnly { path: path.to_owned() });
    }
    match known_version(&conn, path)? {
        version if version < schema::VERSION => schema::migrate(&mut conn, schema::STEPS).at(path)?,
        _ => {}
    }
    for_writing(&conn).at(path)?;
    Ok(conn)
}

/// Opens the store at `path` without ever writing to it: for reports and verification on a read-only disk. The file must
/// be there and have the current schema.
pub(super) fn open_to_read(path: &Path) -> Result<Connection, StoreError> {
    if let Found::Nothing = examine(path)? {
        return Err(StoreError::CannotOpen { path: path.to_owned(), why: "there is no such file".to_owned() });
    }
    let conn = connect(path, OpenFlags::SQLITE_OPEN_READ_ONLY).at(path)?;
    match known_version(&conn, path)? {
        version if version < schema::VERSION => Err(StoreError::ReadOnly { path: path.to_owned() }),
        _ => Ok(conn),
    }
}

/// The schema version, when this program knows it.
fn known_version(conn: &Connection, path: &Path) -> Result<i64, StoreError> {
    let found = schema::version(conn).at(path)?;
    if found > schema::VERSION {
        return Err(StoreError::Newer { path: path.to_owned(), found, known: schema::VERSION });
    }
    Ok(found)
}

fn connect(path: &Path, mode: OpenFlags) -> rusqlite::Result<Connection> {
    let conn = Connection::open_with_flags(path, mode | OpenFlags::SQLITE_OPEN_NO_MUTEX)?;
    conn.busy_timeout(PATIENCE)?;
    conn.set_prepared_statement_cache_capacity(32);
    // Otherwise a statement bound to the key 1 is prepared anew each time, in case 0 and 1 are rare.
    conn.set_db_config(DbConfig::SQLITE_DBCONFIG_ENABLE_QPSG, true)?;
    // recursive_triggers: also an INSERT OR REPLACE meets the trigger that keeps attempts.
    conn.execute_batch(
        "PRAGMA foreign_keys = ON; PRAGMA trusted_schema = OFF; PRAGMA recursive_triggers = ON; \
         PRAGMA cell_size_check = ON; PRAGMA synchronous = FULL;",
    )?;
    Ok(conn)
}

/// Write-ahead log (kept in the file, so this only reads once it is so); FULL waits for the disk at every commit.
fn for_writing(conn: &Connection) -> rusqlite::Result<()> {
    conn.pragma_update_and_check(None, "journal_mode", "wal", |_| Ok(()))
}

enum Found {
    Nothing,
    Store,
}

/// Looks at the first bytes without SQLite, which would roll back or checkpoint a file of another program.
fn examine(path: &Path) -> Result<Found, StoreError> {
    const MAGIC: &[u8] = b"SQLite format 3\0";
    const ID_AT: usize = 68;
    let other = |what| Err(StoreError::NotAStore { path: path.to_owned(), what });
    let unreadable = |why: std::io::Error| StoreError::CannotOpen { path: path.to_owned(), why: why.to_string() };
    match fs::metadata(path) {
        Ok(meta) if !meta.is_file() => return other(NotAStore::NotAFile),
        Ok(meta) if meta.len() == 0 => return other(NotAStore::Empty),
        Ok(_) => {}
        Err(why) if why.kind() == ErrorKind::NotFound => return Ok(Found::Nothing),
        Err(why) if why.kind() == ErrorKind::NotADirectory => {
            return Err(StoreError::from_creating(why, path));
        }
        Err(why) => return Err(unreadable(why)),
    }
    let mut header = Vec::with_capacity(100);
    File::open(path).and_then(|file| file.take(100).read_to_end(&mut header)).map_err(unreadable)?;
    match header.get(ID_AT..ID_AT + 4) {
        _ if !header.starts_with(MAGIC) => other(NotAStore::NotADatabase),
        Some(id) if id == schema::APPLICATION_ID.to_be_bytes() => Ok(Found::Store),
        Some(_) => other(NotAStore::AnotherDatabase),
        None => Err(StoreError::Corrupt { path: path.to_owned(), detail: "the file is cut off".to_owned() }),
    }
}

enum Failure {
    File(std::io::Error),
    Sqlite(rusqlite::Error),
}

impl From<std::io::Error> for Failure {
    fn from(why: std::io::Error) -> Failure {
        Failure::File(why)
    }
}

impl From<rusqlite::Error> for Failure {
    fn from(error: rusqlite::Error) -> Failure {
        Failure::Sqlite(error)
    }
}

/// Makes a whole store beside `path` and gives it the name, unless another program was faster.
fn create(path: &Path) -> Result<(), Failure> {
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    make_private_folder(folder)?;
    // No clock in here: of a store's own id only the random part says anything.
    let id = Id::new(jiff::Timestamp::UNIX_EPOCH);
    let draft = draft_name(path, &id);
    let made = fill_draft(&draft, id).and_then(|()| give_name(&draft, path));
    // The draft goes in any case; where it had become the store itself there is nothing to remove.
    let _ = fs::remove_file(&draft);
    made?;
    // The name is safe only when the folder is.
    if let Ok(folder) = File::open(folder) {
        let _ = folder.sync_all();
    }
    Ok(())
}

fn draft_name(path: &Path, id: &Id) -> PathBuf {
    let mut name = OsString::from(".");
    name.push(path.file_name().unwrap_or_default());
    name.push(format!(".{}.draft", id.0.simple()));
    path.with_file_name(name)
}

fn fill_draft(draft: &Path, id: Id) -> Result<(), Failure> {
    make_private_file(draft)?;
    let mut conn = connect(draft, OpenFlags::SQLITE_OPEN_READ_WRITE)?;
    schema::migrate(&mut conn, schema::STEPS)?;
    conn.execute("INSERT INTO this_store (one, id) VALUES (1, ?1)", [&id])?;
    for_writing(&conn)?;
    // Closing brings everything into the one file and removes the log.
    conn.close().map_err(|(_, error)| Failure::Sqlite(error))
}

fn give_name(draft: &Path, path: &Path) -> Result<(), Failure> {
    match fs::hard_link(draft, path) {
        Ok(()) => Ok(()),
        // Another program made it in this very moment: theirs is as good.
        Err(why) if why.kind() == ErrorKind::AlreadyExists => Ok(()),
        // A disk without links, such as many memory sticks.
        Err(_) if !path.exists() => Ok(fs::rename(draft, path)?),
        Err(why) => Err(why.into()),
    }
}
