//! Backups: a copy of the whole store in one file, and putting one in the store's place.

use super::error::At;
use super::ids::Id;
use super::open::{self, Found, connect, draft_name, examine, give_name, open_to_read_as_it_is, remove_old_drafts};
use super::pages::{beside, odd_beside};
use super::{Store, StoreError, schema};
use crate::platform::{make_private_file, make_private_folder};
use jiff::Timestamp;
use jiff::civil::Date;
use rusqlite::backup::Backup;
use rusqlite::{Connection, OpenFlags, OptionalExtension};
use std::fs::{self, File};
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// What a store holds, at a glance.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Glance {
    /// How many people, those put aside included.
    pub learners: u64,
    /// How many answers.
    pub answers: u64,
    /// The day of the last answer.
    pub last_day: Option<Date>,
    /// The version of its schema.
    pub version: i64,
}

/// What happened to the store that was replaced.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Restored {
    /// Where it is kept; none where there was none.
    pub kept: Option<PathBuf>,
}

impl Store {
    /// What the store holds, at a glance.
    ///
    /// # Errors
    /// [`StoreError`], when the file cannot be read.
    pub fn glance(&self) -> Result<Glance, StoreError> {
        glance(&self.conn).at(&self.path)
    }

    /// Copies the store as it is at one moment into a file of its own, which needs no other file beside it. Other programs may
    /// go on writing meanwhile. Where something has that name already it is left, unless it is a store and `replace` says so.
    /// A link stays one, and what it leads to is replaced.
    ///
    /// # Errors
    /// [`StoreError::OlderBackup`], [`StoreError::InTheWay`], [`StoreError::LeftBeside`], [`StoreError::TheStoreItself`]; or the file
    /// cannot be written; or the store is damaged, and so would be the copy. Then there is no copy.
    pub fn backup(&self, to: &Path, replace: bool) -> Result<Glance, StoreError> {
        let named = super::absolute(to);
        let to = followed(&named).map_err(|why| StoreError::from_copying(why, &named))?;
        self.not_itself(&to)?;
        match examine(&to) {
            Ok(Found::Store) if !replace => return Err(StoreError::OlderBackup { path: named }),
            Ok(Found::Store | Found::Nothing) => {}
            // Only an older backup is ever replaced.
            Err(StoreError::NotAStore { .. } | StoreError::Corrupt { .. }) => {
                return Err(StoreError::InTheWay { path: named });
            }
            Err(StoreError::CannotCreate { why, .. }) => return Err(StoreError::CannotCopy { path: to, why }),
            Err(other) => return Err(other),
        }
        // An older program's log must not lie beside the new file: it would be taken for its own.
        if let Some(path) = PARTS.iter().map(|end| beside(&to, end)).find(|path| fs::symlink_metadata(path).is_ok()) {
            return Err(StoreError::LeftBeside { path });
        }
        let draft = Draft::beside(&to).map_err(|why| StoreError::from_copying(why, &to))?;
        copy(&self.conn, &draft.0).map_err(|error| StoreError::from_sqlite_copying(error, &to))?;
        let glance = look_at_copy(&draft.0, &self.path)?;
        put(&draft.0, &to, replace)?;
        Ok(glance)
    }
}

/// How the names end of what may hold a part of a store beside it.
const PARTS: [&str; 2] = ["-wal", "-journal"];

/// A link's end, so that whoever replaces the file leaves the link one; of what is no link, itself.
fn followed(path: &Path) -> io::Result<PathBuf> {
    match fs::symlink_metadata(path) {
        Ok(about) if about.is_symlink() => fs::canonicalize(path),
        _ => Ok(path.to_owned()),
    }
}

/// A file that is not finished: it goes where it was given no other name.
#[derive(Debug)]
pub(super) struct Draft(pub(super) PathBuf);

impl Draft {
    /// An empty file beside another one, for its owner alone.
    pub(super) fn beside(path: &Path) -> io::Result<Draft> {
        let draft = draft_name(path, &Id::new(Timestamp::UNIX_EPOCH));
        make_private_file(&draft)?;
        remove_old_drafts(&draft, path);
        Ok(Draft(draft))
    }
}

impl Drop for Draft {
    fn drop(&mut self) {
        for end in ["", "-wal", "-shm", "-journal"] {
            let _ = fs::remove_file(beside(&self.0, end));
        }
    }
}

/// A copy of a backup beside the store, brought up to date and looked through: what [`Waiting::put`] puts in the store's
/// place.
#[derive(Debug)]
pub struct Waiting {
    draft: Draft,
    store: PathBuf,
    /// What the backup holds.
    pub backup: Glance,
    /// What the store holds; none where there is no store, or it cannot be read.
    pub present: Option<Glance>,
}

/// Gets a backup ready for the place of the store at `path`; where that is a link, for the place to which it leads. Nothing is
/// replaced yet, and the backup is only read.
///
/// # Errors
/// [`StoreError`]: the backup is none of ours, damaged, or of a newer program; or there is no room beside the store.
pub fn restore(backup: &Path, path: &Path) -> Result<Waiting, StoreError> {
    let (backup, path) = (super::absolute(backup), super::absolute(path));
    let source = open_to_read_as_it_is(&backup).map_err(StoreError::of_file)?;
    if fs::canonicalize(&backup).ok().is_some_and(|same| fs::canonicalize(&path).is_ok_and(|ours| ours == same)) {
        return Err(StoreError::TheStoreItself { path: backup });
    }
    let before = glance(&source).at(&backup).map_err(StoreError::of_file)?;
    let path = followed(&path).map_err(|why| StoreError::from_creating(why, &path))?;
    if let Some(folder) = path.parent() {
        make_private_folder(folder).map_err(|why| StoreError::from_creating(why, &path))?;
    }
    let draft = Draft::beside(&path).map_err(|why| StoreError::from_creating(why, &path))?;
    copy(&source, &draft.0).map_err(|error| StoreError::from_sqlite(error, &path))?;
    look_at_copy(&draft.0, &backup).map_err(StoreError::of_file)?;
    let mut conn = connect(&draft.0, OpenFlags::SQLITE_OPEN_READ_WRITE).at(&draft.0)?;
    schema::migrate(&mut conn, schema::STEPS).at(&draft.0)?;
    close(conn).at(&draft.0)?;
    let present = match examine(&path) {
        Ok(Found::Store) => open_to_read_as_it_is(&path).and_then(|conn| glance(&conn).at(&path)).ok(),
        _ => None,
    };
    Ok(Waiting { draft, store: path, backup: before, present })
}

impl Waiting {
    /// Puts the copy in the store's place. What was there is kept beside it under a name with this moment. At each moment
    /// there is a whole store under the name.
    ///
    /// # Errors
    /// [`StoreError::InUse`] while another program has the store open; or the files cannot be renamed. Then the store is as
    /// it was.
    pub fn put(self, now: Timestamp) -> Result<Restored, StoreError> {
        let failed = |why| StoreError::from_creating(why, &self.store);
        sync(&self.draft.0).map_err(failed)?;
        let kept = match fs::symlink_metadata(&self.store) {
            Err(why) if why.kind() == ErrorKind::NotFound => None,
            _ => Some(set_aside(&self.store, now)?),
        };
        if let Err(why) = fs::rename(&self.draft.0, &self.store) {
            if let Some(kept) = &kept {
                put_back(kept, &self.store, &WITH_IT);
            }
            return Err(failed(why));
        }
        sync_folder(&self.store);
        Ok(Restored { kept })
    }
}

/// Gives the store a second name that says when it was replaced, with its log where it has one that cannot be brought in.
fn set_aside(path: &Path, now: Timestamp) -> Result<PathBuf, StoreError> {
    let kept = beside(path, &format!(".replaced-{}", now.strftime("%Y-%m-%d-%H%M%S")));
    if fs::symlink_metadata(&kept).is_ok() {
        return Err(StoreError::InTheWay { path: kept });
    }
    let failed = |why| StoreError::from_creating(why, path);
    // A file that is damaged is kept as it is.
    if let Err(StoreError::Locked { .. }) = alone(path) {
        return Err(StoreError::InUse { path: path.to_owned() });
    }
    // A disk without links, such as many memory sticks, gets a copy.
    open::link(path, &kept).or_else(|_| copied_whole(path, &kept)).map_err(failed)?;
    for (done, end) in WITH_IT.iter().enumerate() {
        // A log would be taken for that of the new file.
        match fs::rename(beside(path, end), beside(&kept, end)) {
            Err(why) if why.kind() != ErrorKind::NotFound => {
                put_back(&kept, path, &WITH_IT[..done]);
                return Err(failed(why));
            }
            _ => {}
        }
    }
    Ok(kept)
}

/// Undoes what was done of setting a store aside.
fn put_back(kept: &Path, path: &Path, ends: &[&str]) {
    for end in ends {
        let _ = fs::rename(beside(kept, end), beside(path, end));
    }
    let _ = fs::remove_file(kept);
}

/// What goes with a store that is set aside.
const WITH_IT: [&str; 3] = ["-wal", "-shm", "-journal"];

/// Copies a file to where nothing is, and waits for the disk: the other one is about to go. Half a copy does not stay, since its name
/// would be that of a whole one.
pub(super) fn copied_whole(from: &Path, to: &Path) -> io::Result<()> {
    make_private_file(to)?;
    let done = fs::copy(from, to).and_then(|_| sync(to));
    if done.is_err() {
        let _ = fs::remove_file(to);
    }
    done
}

/// Brings the log into the file and removes it, which works only while no other program has the store open.
fn alone(path: &Path) -> Result<(), StoreError> {
    if odd_beside(path).is_some() {
        // SQLite would wait for it, and nobody can have the store open.
        return Ok(());
    }
    let conn = open::connect(path, OpenFlags::SQLITE_OPEN_READ_WRITE).at(path)?;
    conn.busy_timeout(Duration::from_millis(200)).at(path)?;
    conn.pragma_update_and_check(None, "journal_mode", "delete", |_| Ok(())).at(path)
}

/// Copies everything that is committed in one step, so that it is of one moment whoever writes meanwhile.
pub(super) fn copy(from: &Connection, to: &Path) -> rusqlite::Result<()> {
    let mut conn = connect(to, OpenFlags::SQLITE_OPEN_READ_WRITE)?;
    Backup::new(from, &mut conn)?.run_to_completion(i32::MAX, Duration::from_millis(50), None)?;
    close(conn)
}

/// A copy in memory, brought up to date.
pub(super) fn copy_to_memory(from: &Connection) -> rusqlite::Result<Connection> {
    let mut conn = Connection::open_in_memory()?;
    super::check_value::make_known(&conn)?;
    Backup::new(from, &mut conn)?.run_to_completion(i32::MAX, Duration::from_millis(50), None)?;
    schema::migrate(&mut conn, schema::STEPS)?;
    Ok(conn)
}

/// Closes a copy as one file without a log, so that it can be read from a disk that cannot be written, too.
pub(super) fn close(conn: Connection) -> rusqlite::Result<()> {
    conn.pragma_update_and_check(None, "journal_mode", "delete", |_| Ok(()))?;
    conn.close().map_err(|(_, error)| error)
}

/// Reads every page of a copy once; damage is told as that of the file it was made of.
fn look_at_copy(copy: &Path, of: &Path) -> Result<Glance, StoreError> {
    let conn = connect(copy, OpenFlags::SQLITE_OPEN_READ_ONLY).at(of)?;
    let said: String = conn.query_row("PRAGMA quick_check(1)", [], |row| row.get(0)).at(of)?;
    if said != "ok" {
        return Err(StoreError::Corrupt { path: of.to_owned(), detail: said });
    }
    glance(&conn).at(of)
}

fn glance(conn: &Connection) -> rusqlite::Result<Glance> {
    let count = |sql: &str| conn.query_row(sql, [], |row| row.get::<_, i64>(0).map(i64::unsigned_abs));
    let version = schema::version(conn)?;
    let people = if version < 5 { "" } else { " WHERE same_as IS NULL" };
    Ok(Glance {
        learners: count(&format!("SELECT count(*) FROM learners{people}"))?,
        answers: count("SELECT count(*) FROM attempts")?,
        last_day: conn
            .query_row("SELECT max(day) FROM attempts", [], |row| row.get::<_, Option<String>>(0))
            .optional()?
            .flatten()
            .and_then(|day| day.parse().ok()),
        version,
    })
}

/// Gives a finished draft its name. Where it may not replace anything, what has the name meanwhile stays.
pub(super) fn put(draft: &Path, to: &Path, replace: bool) -> Result<(), StoreError> {
    let named = sync(draft).and_then(|()| if replace { fs::rename(draft, to) } else { give_name(draft, to) });
    named.map_err(|why| match why.kind() {
        ErrorKind::AlreadyExists => StoreError::InTheWay { path: to.to_owned() },
        _ => StoreError::from_copying(why, to),
    })?;
    sync_folder(to);
    Ok(())
}

fn sync(file: &Path) -> io::Result<()> {
    File::open(file)?.sync_all()
}

/// A name is safe only when its folder is.
fn sync_folder(file: &Path) {
    if let Some(folder) = file.parent().and_then(|folder| File::open(folder).ok()) {
        let _ = folder.sync_all();
    }
}
