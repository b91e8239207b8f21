//! What depends on the platform: folders, rights of files, signals, the keyboard, time zones. Each has one half for unix and one for all
//! others, and nothing else in the product asks which platform it is.
//!
//! The other half was written for Windows. Nobody has compiled or tried it there yet.

#[cfg(not(unix))]
mod other;
#[cfg(unix)]
mod unix;

#[cfg(not(unix))]
use other as here;
#[cfg(unix)]
use unix as here;

use crossterm::event::Event;
use etcetera::BaseStrategy;
use std::ffi::OsString;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// The keyboard and the mouse of a terminal that is raw, and word of a window that changed its size. Whatever the terminal sends, the
/// next key is heard.
pub struct Keyboard(here::Keyboard);

impl Keyboard {
    /// Of the terminal that the program was started in.
    ///
    /// # Errors
    /// When there is none, or nothing can be heard of it.
    pub fn open() -> io::Result<Keyboard> {
        here::Keyboard::open().map(Keyboard)
    }

    /// Whether something comes within this time.
    ///
    /// # Errors
    /// When the terminal is gone.
    pub fn poll(&mut self, within: Duration) -> io::Result<bool> {
        self.0.poll(within)
    }

    /// What comes next, however long that takes.
    ///
    /// # Errors
    /// When the terminal is gone.
    pub fn read(&mut self) -> io::Result<Event> {
        self.0.read()
    }
}

/// Where the pictures of a screen are written. Standard output itself writes all up to the last new line at once and the rest after it,
/// and a picture would come in two pieces; who holds the lock of standard output holds this one up, too.
pub struct Output(here::Output);

impl Output {
    /// Of the terminal that the program was started in.
    ///
    /// # Errors
    /// When there is none.
    pub fn open() -> io::Result<Output> {
        here::Output::open().map(Output)
    }
}

impl Write for Output {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let _held = io::stdout().lock();
        self.0.write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.0.flush()
    }
}

/// The folder for what a program keeps; none without a home folder.
#[must_use]
pub fn data_folder() -> Option<PathBuf> {
    etcetera::choose_base_strategy().ok().map(|folders| folders.data_dir())
}

/// The folder for settings; none without a home folder.
#[must_use]
pub fn settings_folder() -> Option<PathBuf> {
    etcetera::choose_base_strategy().ok().map(|folders| folders.config_dir())
}

/// Makes an empty file that only its owner may read, where the platform has such rights of its own; elsewhere the folder's
/// rights are the file's.
///
/// # Errors
/// When the file is there already, or cannot be made.
pub fn make_private_file(path: &Path) -> io::Result<()> {
    here::make_private_file(path)
}

/// Takes a file's rights from everybody but its owner; where the platform has no such rights, or the file is somebody else's, it stays
/// as it is.
pub fn make_private(path: &Path) {
    here::make_private(path);
}

/// Whether the terminal can show a full screen, as far as the environment says.
#[must_use]
pub fn has_full_screen() -> bool {
    here::has_full_screen()
}

/// Makes a folder, and those on the way to it, with rights as in [`make_private_file`]. One that is there stays as it is.
///
/// # Errors
/// When it cannot be made.
pub fn make_private_folder(path: &Path) -> io::Result<()> {
    here::make_private_folder(path)
}

/// Puts a whole file in the place of the old one, or of none, in one step: it is written beside it and then takes its name, so that
/// nobody ever reads half of it. It is for its owner alone.
///
/// # Errors
/// When it cannot be written; then what was there is as it was, and nothing is left beside it.
pub fn put_file(path: &Path, bytes: &[u8]) -> io::Result<()> {
    put(path, bytes, |_| Ok(()))
}

/// Puts a whole file, for its owner alone, where there is none yet.
///
/// # Errors
/// [`ErrorKind::AlreadyExists`](io::ErrorKind::AlreadyExists), or the file cannot be written: then there is none afterwards either.
pub fn put_new_file(path: &Path, bytes: &[u8]) -> io::Result<()> {
    // Refused before anything is written, and once more when the name is taken: two programs may want it at once.
    if fs::symlink_metadata(path).is_ok() {
        return Err(io::ErrorKind::AlreadyExists.into());
    }
    put(path, bytes, make_private_file)
}

/// Writes the bytes beside the file; `claim` may then still refuse the name.
fn put(path: &Path, bytes: &[u8], claim: impl FnOnce(&Path) -> io::Result<()>) -> io::Result<()> {
    // A link (as people have who keep their files elsewhere) stays a link: what it leads to is replaced.
    let target = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    let folder = target.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let name = target.file_name().ok_or(io::ErrorKind::InvalidInput)?;
    let mut hidden = OsString::from(".");
    hidden.push(name);
    hidden.push(format!(".{}.new", std::process::id()));
    let beside = folder.join(hidden);
    let done = write_beside(&beside, bytes).and_then(|()| claim(&target)).and_then(|()| fs::rename(&beside, &target));
    if done.is_err() {
        // Nothing more can be done about a leftover that cannot be removed.
        let _ = fs::remove_file(&beside);
    }
    done?;
    // The new name itself must reach the disk, too. Not every system can do that, and the file is whole either way.
    if let Ok(folder) = File::open(folder) {
        let _ = folder.sync_all();
    }
    Ok(())
}

fn write_beside(beside: &Path, bytes: &[u8]) -> io::Result<()> {
    // For its owner alone, whatever the old one was: settings say where children camp, and sheets have their names.
    let _ = fs::remove_file(beside);
    make_private_file(beside)?;
    let mut file = File::options().write(true).open(beside)?;
    file.write_all(bytes)?;
    file.sync_all()
}

/// Whether standard input has come to its end already, as when it is `/dev/null`. Never waits: who is still to type is no end. Where that
/// cannot be told it says no.
#[must_use]
pub fn nothing_can_be_read() -> bool {
    here::nothing_can_be_read()
}

/// Ends the program with `leave` when it is told from outside to end; where that does not come as a signal, nothing is done.
///
/// # Errors
/// When the signals cannot be waited for.
pub fn end_on_signals(leave: impl FnOnce() + Send + 'static) -> io::Result<()> {
    here::end_on_signals(leave)
}

/// The same for a program that holds the terminal: it ends, too, when the terminal is gone and no signal says so.
///
/// # Errors
/// When that cannot be waited for.
pub fn end_with_terminal(leave: impl FnOnce() + Send + 'static) -> io::Result<()> {
    here::end_with_terminal(leave)
}

/// Whether a shell looks after this program, which could let it go on after [`stop`].
#[must_use]
pub fn is_a_job() -> bool {
    here::is_a_job()
}

/// Stops the program until the shell lets it go on.
pub fn stop() {
    here::stop();
}

/// The status of a program that ended because its terminal went away, when this error of reading or writing the terminal says so:
/// the same as by the signal, which may come a moment later or never. `has_terminal`: whether there still is one.
#[must_use]
pub fn hung_up(error: &io::Error, has_terminal: bool) -> Option<u8> {
    here::hung_up(error, has_terminal)
}

/// What the machine's own file of a time zone holds (TZif), for a name such as `Europe/Oslo`; none where there is no such
/// file.
#[must_use]
pub fn zone_file(name: &str) -> Option<Vec<u8>> {
    here::zone_file(name)
}
