//! Opening and making the file.
//!
//! A new store is made whole under another name and then linked to its own, so that a file under the store's name is
//! a store from its first moment: one that is empty or half made is never ours and is never filled silently.

use super::error::At;
use super::ids::Id;
use super::pages::Pages;
use super::{NotAStore, StoreError, check_value, schema};
use crate::platform::{make_private, make_private_file, make_private_folder};
use rusqlite::config::DbConfig;
use rusqlite::{Connection, ErrorCode, OpenFlags};
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
            create(path).map_err(|failure| failure.at(path))?;
            if let Found::Nothing = examine(path)? {
                // A link that leads nowhere: its name is taken, and there is no file.
                return Err(StoreError::from_creating(ErrorKind::NotFound.into(), path));
            }
        }
    }
    // An older program, or a copy by hand, may have left them for all to read.
    for end in ["", "-wal", "-shm"] {
        make_private(&super::pages::belonging(path, end));
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
/// be there; one of an older version is brought up to date in memory.
pub(super) fn open_to_read(path: &Path) -> Result<Connection, StoreError> {
    if let Found::Nothing = examine(path)? {
        return Err(StoreError::CannotOpen { path: path.to_owned(), why: "there is no such file".to_owned() });
    }
    let conn = reading(path)?;
    match known_version(&conn, path)? {
        version if version < schema::VERSION => {
            let conn = super::backup::copy_to_memory(&conn).at(path)?;
            // What would be written there would be lost without a word.
            conn.pragma_update(None, "query_only", true).at(path)?;
            Ok(conn)
        }
        _ => Ok(conn),
    }
}

/// Opens a store of any version that this program knows without ever writing to it, also on a disk that cannot be written.
pub(super) fn open_to_read_as_it_is(path: &Path) -> Result<Connection, StoreError> {
    if let Found::Nothing = examine(path)? {
        return Err(StoreError::CannotOpen { path: path.to_owned(), why: "there is no such file".to_owned() });
    }
    let conn = reading(path)?;
    known_version(&conn, path)?;
    Ok(conn)
}

/// A connection that only reads. Where the log's index cannot be made beside the file, as on a disk that cannot be written, the
/// file is read as it lies there; nobody can be writing to it.
fn reading(path: &Path) -> Result<Connection, StoreError> {
    let try_it = |conn: Connection| schema::version(&conn).map(|_| conn);
    match connect(path, OpenFlags::SQLITE_OPEN_READ_ONLY).and_then(try_it) {
        Err(rusqlite::Error::SqliteFailure(failure, _))
            if matches!(failure.code, ErrorCode::CannotOpen | ErrorCode::ReadOnly | ErrorCode::SystemIoFailure)
                && !log_holds_anything(path) =>
        {
            let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_URI;
            connect(Path::new(&as_it_lies(path)), flags).at(path)
        }
        other => other.at(path),
    }
}

/// What lies in the log would be left out without a word.
fn log_holds_anything(path: &Path) -> bool {
    fs::metadata(super::pages::log_of(path)).is_ok_and(|log| log.len() > 0)
}

/// The file's name as SQLite takes it, with the word that nobody writes to it.
fn as_it_lies(path: &Path) -> String {
    use std::fmt::Write;
    let mut name = "file:".to_owned();
    for byte in path.as_os_str().as_encoded_bytes() {
        if byte.is_ascii_alphanumeric() || b"/._-".contains(byte) {
            name.push(char::from(*byte));
        } else {
            let _ = write!(name, "%{byte:02X}");
        }
    }
    name + "?immutable=1"
}

/// The schema version, when this program knows it.
fn known_version(conn: &Connection, path: &Path) -> Result<i64, StoreError> {
    let found = schema::version(conn).at(path)?;
    if found > schema::VERSION {
        return Err(StoreError::Newer { path: path.to_owned(), found, known: schema::VERSION });
    }
    Ok(found)
}

pub(super) fn connect(path: &Path, mode: OpenFlags) -> rusqlite::Result<Connection> {
    let conn = Connection::open_with_flags(path, mode | OpenFlags::SQLITE_OPEN_NO_MUTEX)?;
    conn.busy_timeout(PATIENCE)?;
    conn.set_prepared_statement_cache_capacity(32);
    check_value::make_known(&conn)?;
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

/// What lies under the name of a store.
pub(super) enum Found {
    Nothing,
    Store,
}

/// Looks at the first bytes without SQLite, which would roll back or checkpoint a file of another program.
pub(super) fn examine(path: &Path) -> Result<Found, StoreError> {
    const MAGIC: &[u8] = b"SQLite format 3\0";
    const ID_AT: usize = 68;
    let other = |what| Err(StoreError::NotAStore { path: path.to_owned(), what });
    let unreadable = |why: std::io::Error| StoreError::CannotOpen { path: path.to_owned(), why: why.to_string() };
    if let Some(path) = super::pages::odd_beside(path) {
        return Err(StoreError::OddBeside { path });
    }
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
    let ours = |header: &[u8]| {
        header.starts_with(MAGIC) && header.get(ID_AT..ID_AT + 4) == Some(&schema::APPLICATION_ID.to_be_bytes()[..])
    };
    let mut header = Vec::with_capacity(100);
    File::open(path).and_then(|file| file.take(100).read_to_end(&mut header)).map_err(unreadable)?;
    if ours(&header) {
        return Ok(Found::Store);
    }
    // A power cut while the log was brought into the file may leave garbage in its first page: the log has that page whole.
    if Pages::open(path).and_then(|mut pages| pages.read(1)).is_ok_and(|page| ours(&page)) {
        return Ok(Found::Store);
    }
    match header.get(ID_AT..ID_AT + 4) {
        _ if !header.starts_with(MAGIC) => other(NotAStore::NotADatabase),
        Some(_) => other(NotAStore::AnotherDatabase),
        None => Err(StoreError::Corrupt { path: path.to_owned(), detail: "the file is cut off".to_owned() }),
    }
}

pub(super) enum Failure {
    File(std::io::Error),
    Sqlite(rusqlite::Error),
}

impl Failure {
    /// Says which file it happened to.
    pub(super) fn at(self, path: &Path) -> StoreError {
        match self {
            Failure::File(why) => StoreError::from_creating(why, path),
            Failure::Sqlite(error) => StoreError::from_sqlite(error, path),
        }
    }
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
    let made = make_private_file(&draft)
        .inspect(|()| remove_old_drafts(&draft, path))
        .map_err(Failure::File)
        .and_then(|()| fill_draft(&draft, id))
        .and_then(|()| match give_name(&draft, path) {
            // Another program made it in this very moment: theirs is as good.
            Err(why) if why.kind() == ErrorKind::AlreadyExists => Ok(()),
            other => Ok(other?),
        });
    // The draft goes in any case; where it had become the store itself there is nothing to remove.
    let _ = fs::remove_file(&draft);
    made?;
    // The name is safe only when the folder is.
    if let Ok(folder) = File::open(folder) {
        let _ = folder.sync_all();
    }
    Ok(())
}

pub(super) fn draft_name(path: &Path, id: &Id) -> PathBuf {
    let mut name = OsString::from(".");
    name.push(path.file_name().unwrap_or_default());
    name.push(format!(".{}.draft", id.0.simple()));
    path.with_file_name(name)
}

/// Removes what was left by a program that was killed while it made a file beside this one: other drafts, if they are an hour older.
pub(super) fn remove_old_drafts(draft: &Path, path: &Path) {
    let changed = |path: &Path| fs::symlink_metadata(path).and_then(|about| about.modified()).ok();
    let (Some(now), Some(folder)) = (changed(draft), draft.parent()) else { return };
    let start = format!(".{}.", path.file_name().unwrap_or_default().to_string_lossy());
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let name = entry.file_name().to_string_lossy().into_owned();
        let middle = name.strip_prefix(&start).and_then(|rest| rest.split_once(".draft"));
        let is_draft = middle.is_some_and(|(id, end)| {
            id.len() == 32
                && id.chars().all(|c| c.is_ascii_hexdigit())
                && matches!(end, "" | "-wal" | "-shm" | "-journal")
        });
        let is_old = changed(&entry.path()).and_then(|then| now.duration_since(then).ok()).is_some_and(|age| age > OLD);
        if is_draft && is_old {
            let _ = fs::remove_file(entry.path());
        }
    }
}

/// No program takes this long over a draft.
const OLD: Duration = Duration::from_secs(3_600);

pub(super) fn fill_draft(draft: &Path, id: Id) -> Result<(), Failure> {
    let mut conn = connect(draft, OpenFlags::SQLITE_OPEN_READ_WRITE)?;
    schema::migrate(&mut conn, schema::STEPS)?;
    conn.execute("INSERT INTO this_store (one, id) VALUES (1, ?1)", [&id])?;
    for_writing(&conn)?;
    // Closing brings everything into the one file and removes the log.
    conn.close().map_err(|(_, error)| Failure::Sqlite(error))
}

/// Gives a file a second name, where the disk has such.
pub(super) fn link(file: &Path, name: &Path) -> std::io::Result<()> {
    #[cfg(test)]
    if NO_LINKS.get() {
        return Err(ErrorKind::Unsupported.into());
    }
    fs::hard_link(file, name)
}

#[cfg(test)]
thread_local! {
    /// Whether the disk is like one without links, as far as this thread is concerned.
    pub(super) static NO_LINKS: std::cell::Cell<bool> = const { std::cell::Cell::new(false) };
}

/// Gives a draft a name that nothing has yet; an error of the kind `AlreadyExists` where something has it, a link that leads nowhere
/// included.
pub(super) fn give_name(draft: &Path, path: &Path) -> std::io::Result<()> {
    match link(draft, path) {
        Ok(()) => Ok(()),
        // A disk without links, such as many memory sticks.
        Err(_) if fs::symlink_metadata(path).is_err() => fs::rename(draft, path),
        Err(_) => Err(ErrorKind::AlreadyExists.into()),
    }
}
