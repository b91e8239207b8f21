//! The keyboard, the mouse and the size of the window, read from the terminal itself.

use super::bytes::Bytes;
use crossterm::event::Event;
use nix::errno::Errno;
use nix::poll::{PollFd, PollFlags, PollTimeout, poll};
use signal_hook::consts::SIGWINCH;
use signal_hook::low_level::pipe;
use std::fs::File;
use std::io::{self, ErrorKind, IsTerminal, Read};
use std::os::fd::AsFd;
use std::os::unix::net::UnixStream;
use std::time::{Duration, Instant};

/// How much is taken at once, in bytes; what lies beyond is taken next.
const AT_ONCE: usize = 1024;

/// See [`crate::platform::Keyboard`].
pub(in crate::platform) struct Keyboard {
    terminal: File,
    /// Has a byte where the window changed its size.
    changed: UnixStream,
    bytes: Bytes,
    /// When the last byte came.
    last: Instant,
}

/// What came first.
enum Came {
    Bytes,
    Size,
    /// The time is over.
    Nothing,
    /// A signal, which says nothing about any of them.
    Signal,
}

impl Keyboard {
    pub(in crate::platform) fn open() -> io::Result<Keyboard> {
        let (changed, tell) = UnixStream::pair()?;
        changed.set_nonblocking(true)?;
        pipe::register(SIGWINCH, tell)?;
        Ok(Keyboard::of(terminal()?, changed))
    }

    fn of(terminal: File, changed: UnixStream) -> Keyboard {
        Keyboard { terminal, changed, bytes: Bytes::new(), last: Instant::now() }
    }

    pub(in crate::platform) fn poll(&mut self, within: Duration) -> io::Result<bool> {
        let begun = Instant::now();
        self.until(|| Some(within.saturating_sub(begun.elapsed())))
    }

    pub(in crate::platform) fn read(&mut self) -> io::Result<Event> {
        loop {
            if let Some(event) = self.bytes.next() {
                return Ok(event);
            }
            self.until(|| None)?;
        }
    }

    /// Waits until something is there, or nothing is left of the time.
    fn until(&mut self, left: impl Fn() -> Option<Duration>) -> io::Result<bool> {
        while !self.bytes.has_next() {
            let patience = self.bytes.patience().map(|all| all.saturating_sub(self.last.elapsed()));
            let left = left();
            let wait = patience.into_iter().chain(left).min();
            match self.wait(wait)? {
                Came::Bytes => self.take()?,
                Came::Size => self.resized(),
                Came::Nothing if patience.is_some() && patience == wait => self.bytes.pause(),
                Came::Nothing if left.is_some() => return Ok(false),
                Came::Nothing | Came::Signal => {}
            }
        }
        Ok(true)
    }

    fn wait(&self, within: Option<Duration>) -> io::Result<Came> {
        // Rounded up, else the last part of a millisecond is waited for in a circle.
        let within = within.map_or(PollTimeout::NONE, |within| {
            PollTimeout::try_from(within + Duration::from_micros(999)).unwrap_or(PollTimeout::MAX)
        });
        let watch = |of| PollFd::new(of, PollFlags::POLLIN);
        let mut both = [watch(self.terminal.as_fd()), watch(self.changed.as_fd())];
        match poll(&mut both, within) {
            Ok(0) => Ok(Came::Nothing),
            // The size first: a long paste must not hold it up.
            Ok(_) if both[1].any().unwrap_or_default() => Ok(Came::Size),
            Ok(_) => Ok(Came::Bytes),
            Err(Errno::EINTR) => Ok(Came::Signal),
            Err(error) => Err(error.into()),
        }
    }

    fn take(&mut self) -> io::Result<()> {
        let mut bytes = [0; AT_ONCE];
        match self.terminal.read(&mut bytes) {
            Ok(0) => Err(ErrorKind::UnexpectedEof.into()),
            Ok(count) => {
                self.bytes.take(&bytes[..count]);
                self.last = Instant::now();
                Ok(())
            }
            Err(error) if error.kind() == ErrorKind::Interrupted || error.kind() == ErrorKind::WouldBlock => Ok(()),
            Err(error) => Err(error),
        }
    }

    fn resized(&mut self) {
        // However often it changed, it is drawn once.
        let mut told = [0; 64];
        while self.changed.read(&mut told).is_ok_and(|count| count == told.len()) {}
        let (columns, rows) = crossterm::terminal::size().unwrap_or_default();
        self.bytes.put(Event::Resize(columns, rows));
    }
}

/// What is typed into, also where something else is piped into the program.
fn terminal() -> io::Result<File> {
    let input = io::stdin();
    if input.is_terminal() {
        return Ok(input.as_fd().try_clone_to_owned()?.into());
    }
    File::open("/dev/tty")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crossterm::event::{KeyCode, KeyEvent};
    use std::io::{PipeWriter, Write};
    use std::os::fd::OwnedFd;

    fn keyboard() -> (Keyboard, PipeWriter, UnixStream) {
        let (terminal, typed) = io::pipe().expect("a pipe");
        let (changed, tell) = UnixStream::pair().expect("two ends");
        changed.set_nonblocking(true).expect("it does not wait");
        (Keyboard::of(OwnedFd::from(terminal).into(), changed), typed, tell)
    }

    fn key(character: char) -> Event {
        Event::Key(KeyEvent::from(KeyCode::Char(character)))
    }

    #[test]
    fn more_than_is_taken_at_once_is_read_to_its_end() {
        let (mut keyboard, mut typed, _tell) = keyboard();
        typed.write_all(&[b'7'; 5_000]).expect("a pipe holds that");
        typed.write_all(b"q").expect("a pipe holds that");
        for _ in 0..5_000 {
            assert_eq!(keyboard.read().expect("read"), key('7'));
        }
        assert_eq!(keyboard.read().expect("read"), key('q'));
        assert!(!keyboard.poll(Duration::ZERO).expect("looked"), "that was all");
    }

    #[test]
    fn a_sequence_without_an_end_is_forgotten_and_escape_alone_is_a_key() {
        let (mut keyboard, mut typed, _tell) = keyboard();
        typed.write_all(b"\x1b[<").expect("a pipe holds that");
        assert!(!keyboard.poll(Duration::from_millis(200)).expect("looked"));
        typed.write_all(b"12\x1b").expect("a pipe holds that");
        let read = [(); 3].map(|()| keyboard.read().expect("read"));
        assert_eq!(read, [key('1'), key('2'), Event::Key(KeyCode::Esc.into())]);
    }

    #[test]
    fn a_window_that_changed_is_told_once_and_before_what_was_typed_next() {
        let (mut keyboard, mut typed, mut tell) = keyboard();
        typed.write_all(b"q").expect("a pipe holds that");
        tell.write_all(&[0; 200]).expect("a stream holds that");
        assert!(matches!(keyboard.read().expect("read"), Event::Resize(..)));
        assert_eq!(keyboard.read().expect("read"), key('q'));
        assert!(!keyboard.poll(Duration::ZERO).expect("looked"), "told once");
    }

    #[test]
    fn a_terminal_that_is_closed_is_an_error_and_not_waited_for() {
        let (mut keyboard, typed, _tell) = keyboard();
        drop(typed);
        assert_eq!(keyboard.read().expect_err("closed").kind(), ErrorKind::UnexpectedEof);
    }
}
