//! What depends on the platform: folders, rights of files, signals, time zones. Each has one half for unix and one for all
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

use etcetera::BaseStrategy;
use std::io;
use std::path::{Path, PathBuf};

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

/// Ends the program with `leave` when it is told from outside to end; where that does not come as a signal, nothing is done.
///
/// # Errors
/// When the signals cannot be waited for.
pub fn end_on_signals(leave: impl FnOnce() + Send + 'static) -> io::Result<()> {
    here::end_on_signals(leave)
}

/// The status of a program that ended because its terminal went away, when this error of reading or writing the terminal says so:
/// the same as by the signal, which may come a moment later or never.
#[must_use]
pub fn hung_up(error: &io::Error) -> Option<u8> {
    here::hung_up(error)
}

/// What the machine's own file of a time zone holds (TZif), for a name such as `Europe/Oslo`; none where there is no such
/// file.
#[must_use]
pub fn zone_file(name: &str) -> Option<Vec<u8>> {
    here::zone_file(name)
}
