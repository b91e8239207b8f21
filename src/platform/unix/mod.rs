//! The half for unix.

mod bytes;
mod keyboard;

pub(super) use keyboard::Keyboard;

use nix::errno::Errno;
use nix::poll::{PollFd, PollFlags, PollTimeout, poll};
use nix::unistd::{Pid, getpgid, getppid, getsid};
use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM, SIGTSTP};
use signal_hook::iterator::Signals;
use signal_hook::low_level::emulate_default_handler;
use std::fs;
use std::io::{self, BufRead as _};
use std::os::fd::AsFd;
use std::os::unix::fs::{DirBuilderExt, OpenOptionsExt, PermissionsExt};
use std::path::Path;
use std::process::exit;
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::Duration;

/// See [`crate::platform::Output`].
pub(super) struct Output(fs::File);

impl Output {
    pub(super) fn open() -> io::Result<Output> {
        io::stdout().as_fd().try_clone_to_owned().map(|output| Output(output.into()))
    }
}

impl io::Write for Output {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

pub(super) fn nothing_can_be_read() -> bool {
    let input = io::stdin();
    let mut ends = [PollFd::new(input.as_fd(), PollFlags::POLLIN)];
    // What is ready gives bytes or its end at once; a pipe whose other end was closed says so and nothing else.
    let is_ready = poll(&mut ends, PollTimeout::ZERO).is_ok_and(|ready| ready > 0);
    is_ready && input.lock().fill_buf().is_ok_and(<[u8]>::is_empty)
}

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

/// A thread that waits for what comes from outside; it costs nothing while nothing comes.
fn waiting() -> thread::Builder {
    thread::Builder::new().stack_size(64 * 1024)
}

/// Ends the program as a signal does, after it has left. Whoever comes second leaves the end to the first.
fn end(leave: &Mutex<Option<impl FnOnce()>>, signal: i32) {
    let Some(leave) = leave.lock().ok().and_then(|mut leave| leave.take()) else { return };
    // A terminal that takes no more output must not keep the program alive.
    let _ = waiting().spawn(move || {
        thread::sleep(GRACE);
        exit(128 + signal);
    });
    leave();
    exit(128 + signal);
}

/// On SIGTERM, SIGHUP and SIGINT.
pub(super) fn end_on_signals(leave: impl FnOnce() + Send + 'static) -> io::Result<()> {
    end_on(&Arc::new(Mutex::new(Some(leave))))
}

fn end_on(leave: &Arc<Mutex<Option<impl FnOnce() + Send + 'static>>>) -> io::Result<()> {
    let mut signals = Signals::new([SIGTERM, SIGHUP, SIGINT])?;
    let leave = Arc::clone(leave);
    waiting().spawn(move || {
        if let Some(signal) = signals.forever().next() {
            end(&leave, signal);
        }
    })?;
    Ok(())
}

/// The same, and when the terminal is gone: where the signal is held back from this program, it never comes.
pub(super) fn end_with_terminal(leave: impl FnOnce() + Send + 'static) -> io::Result<()> {
    let leave = Arc::new(Mutex::new(Some(leave)));
    end_on(&leave)?;
    waiting().spawn(move || {
        let terminal = io::stdin();
        loop {
            // Nothing is waited for but the end, which need not be asked for.
            let mut ends = [PollFd::new(terminal.as_fd(), PollFlags::empty())];
            match poll(&mut ends, PollTimeout::NONE) {
                Ok(_) => return end(&leave, SIGHUP),
                Err(Errno::EINTR) => {}
                Err(_) => return,
            }
        }
    })?;
    Ok(())
}

pub(super) fn stop() {
    let _ = emulate_default_handler(SIGTSTP);
}

/// Where a program stands among others; both numbers are 0 where its session or group began outside of the container.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Standing {
    session: Pid,
    group: Pid,
}

impl Standing {
    /// Of this program without a number.
    fn of(program: Option<Pid>) -> Option<Standing> {
        Some(Standing { session: getsid(program).ok()?, group: getpgid(program).ok()? })
    }

    /// A shell gives every job a group of its own and keeps it in its session.
    const fn is_job_of(self, parent: Standing) -> bool {
        self.session.as_raw() == parent.session.as_raw() && self.group.as_raw() != parent.group.as_raw()
    }
}

/// Whether a shell looks after this program.
pub(super) fn is_a_job() -> bool {
    let parent = getppid();
    // 0: it stands outside of the container, out of sight.
    parent.as_raw() > 0
        && Standing::of(None).zip(Standing::of(Some(parent))).is_some_and(|(own, parent)| own.is_job_of(parent))
}

/// `EIO`: what a terminal says that nobody holds any more.
const GONE: i32 = 5;

pub(super) fn hung_up(error: &io::Error, has_terminal: bool) -> Option<u8> {
    let status = u8::try_from(128 + SIGHUP).ok()?;
    (error.raw_os_error() == Some(GONE) || !has_terminal).then_some(status)
}

pub(super) fn zone_file(name: &str) -> Option<Vec<u8>> {
    fs::read(Path::new("/usr/share/zoneinfo").join(name)).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_job_is_of_its_shells_session_and_of_another_group() {
        let standing = |session, group| Standing { session: Pid::from_raw(session), group: Pid::from_raw(group) };
        assert!(standing(20, 31).is_job_of(standing(20, 20)), "started at a prompt");
        assert!(!standing(31, 31).is_job_of(standing(20, 20)), "alone in a window");
        assert!(!standing(20, 20).is_job_of(standing(20, 20)), "started by a script");
        assert!(!standing(31, 31).is_job_of(standing(0, 0)), "alone in a window, its parent of a session outside");
        assert!(standing(0, 31).is_job_of(standing(0, 30)), "at a prompt whose session began outside");
    }

    #[test]
    fn a_terminal_that_is_gone_ends_the_program_as_its_signal_would() {
        assert_eq!(hung_up(&io::Error::from_raw_os_error(GONE), true), Some(129));
        assert_eq!(hung_up(&io::Error::from_raw_os_error(28), true), None, "a full disk is something else");
        assert_eq!(hung_up(&io::Error::other("no number"), true), None);
        assert_eq!(hung_up(&io::Error::other("no number"), false), Some(129), "there is no terminal any more");
    }
}
