//! The half for unix.

use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM};
use signal_hook::iterator::Signals;
use std::fs;
use std::io;
use std::os::unix::fs::{DirBuilderExt, OpenOptionsExt, PermissionsExt};
use std::path::Path;
use std::process::exit;
use std::thread;
use std::time::Duration;

/// How long leaving may take when a signal ends the program.
const GRACE: Duration = Duration::from_millis(500);

pub(super) fn make_private_file(path: &Path) -> io::Result<()> {
    fs::OpenOptions::new().write(true).create_new(true).mode(0o600).open(path).map(drop)
}

pub(super) fn make_private(path: &Path) {
    if let Ok(about) = fs::metadata(path)
        && about.is_file()
        && about.permissions().mode() & 0o077 != 0
    {
        let _ = fs::set_permissions(path, fs::Permissions::from_mode(0o600));
    }
}

/// `dumb`, as in the windows of some editors, and no word at all: nothing is known of such a terminal.
pub(super) fn has_full_screen() -> bool {
    std::env::var_os("TERM").is_some_and(|term| !term.is_empty() && term != "dumb")
}

pub(super) fn make_private_folder(path: &Path) -> io::Result<()> {
    fs::DirBuilder::new().recursive(true).mode(0o700).create(path)
}

/// A thread of its own waits for SIGTERM, SIGHUP and SIGINT; it costs nothing while none comes.
pub(super) fn end_on_signals(leave: impl FnOnce() + Send + 'static) -> io::Result<()> {
    let thread = || thread::Builder::new().stack_size(64 * 1024);
    let mut signals = Signals::new([SIGTERM, SIGHUP, SIGINT])?;
    thread().spawn(move || {
        let Some(signal) = signals.forever().next() else { return };
        // A terminal that takes no more output must not keep the program alive.
        let _ = thread().spawn(move || {
            thread::sleep(GRACE);
            exit(128 + signal);
        });
        leave();
        exit(128 + signal);
    })?;
    Ok(())
}

/// `EIO`: what a terminal says that nobody holds any more.
const GONE: i32 = 5;

pub(super) fn hung_up(error: &io::Error) -> Option<u8> {
    let status = u8::try_from(128 + SIGHUP).ok()?;
    (error.raw_os_error() == Some(GONE)).then_some(status)
}

pub(super) fn zone_file(name: &str) -> Option<Vec<u8>> {
    fs::read(Path::new("/usr/share/zoneinfo").join(name)).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_terminal_that_is_gone_ends_the_program_as_its_signal_would() {
        assert_eq!(hung_up(&io::Error::from_raw_os_error(GONE)), Some(129));
        assert_eq!(hung_up(&io::Error::from_raw_os_error(28)), None, "a full disk is something else");
        assert_eq!(hung_up(&io::Error::other("no number")), None);
    }
}
