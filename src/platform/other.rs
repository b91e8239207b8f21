//! The half for Windows, and for whatever else is no unix.

use std::fs;
use std::io;
use std::path::Path;

/// A user's own folder is closed to others already; the file inherits that.
pub(super) fn make_private_file(path: &Path) -> io::Result<()> {
    fs::OpenOptions::new().write(true).create_new(true).open(path).map(drop)
}

/// A user's own folder is closed to others already.
pub(super) fn make_private(_path: &Path) {}

/// Terminals have no names here.
pub(super) fn has_full_screen() -> bool {
    true
}

pub(super) fn make_private_folder(path: &Path) -> io::Result<()> {
    fs::create_dir_all(path)
}

/// Ctrl-C comes as a key while the terminal is raw, and a window that is closed takes its terminal with it. Whatever has a
/// verdict is on the disk by then.
pub(super) fn end_on_signals(_leave: impl FnOnce() + Send + 'static) -> io::Result<()> {
    Ok(())
}

/// As [`end_on_signals`].
pub(super) fn end_with_terminal(_leave: impl FnOnce() + Send + 'static) -> io::Result<()> {
    Ok(())
}

/// Programs are not stopped here.
pub(super) fn is_a_job() -> bool {
    false
}

/// Programs are not stopped here.
pub(super) fn stop() {}

/// A window that is closed takes its terminal with it: there is no error to see.
pub(super) fn hung_up(_error: &io::Error, _has_terminal: bool) -> Option<u8> {
    None
}

/// There are no such files: the names of zones come with the program (jiff's `tzdb-bundle-platform`).
pub(super) fn zone_file(_name: &str) -> Option<Vec<u8>> {
    None
}
