//! The half for Windows, and for whatever else is no unix.

use crossterm::event::{self, Event};
use std::fs;
use std::io;
use std::path::Path;
use std::time::Duration;

/// See [`crate::platform::Keyboard`]. Keys come from the console one by one here, not as bytes of a line.
pub(super) struct Keyboard;

impl Keyboard {
    pub(super) fn open() -> io::Result<Keyboard> {
        Ok(Keyboard)
    }

    pub(super) fn poll(&mut self, within: Duration) -> io::Result<bool> {
        event::poll(within)
    }

    pub(super) fn read(&mut self) -> io::Result<Event> {
        event::read()
    }
}

/// See [`crate::platform::Output`].
pub(super) struct Output(io::Stdout);

impl Output {
    pub(super) fn open() -> io::Result<Output> {
        Ok(Output(io::stdout()))
    }
}

impl io::Write for Output {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.0.flush()
    }
}

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

/// Whether something waits cannot be asked here without waiting.
pub(super) fn nothing_can_be_read() -> bool {
    false
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
