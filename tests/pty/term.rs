//! A terminal with a program in it.
//!
//! A reader thread feeds a vt100 screen; tests wait on its condition variable. The program draws one frame for each key
//! or change of size, and ends each frame by hiding the cursor, or by showing it and putting it in its place, so that
//! counted frames tell when a key has been dealt with. The terminal answers no questions: a program that asks where its cursor stands waits in vain.

use super::camp::Camp;
use super::keys;
use super::output::Output;
use portable_pty::{Child, CommandBuilder, ExitStatus, MasterPty, PtySize, native_pty_system};
use std::fs::{File, OpenOptions};
use std::io::{ErrorKind, Read, Write};
use std::os::fd::{AsRawFd, BorrowedFd};
use std::os::unix::fs::OpenOptionsExt;
use std::os::unix::net::UnixStream;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Condvar, Mutex, MutexGuard};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

/// How long anything may take before a test gives up. Far more than is ever needed, for machines that do much else.
const DEADLINE: Duration = Duration::from_secs(30);

struct Shared {
    output: Mutex<Output>,
    changed: Condvar,
}

/// What came of waiting.
pub enum Waited<R> {
    Seen(R),
    Ended,
}

/// How a terminal is set up.
#[derive(Clone, Copy)]
pub struct Setup {
    pub cols: u16,
    pub rows: u16,
    /// At most so many bytes are read at a time; each reading is one chunk.
    pub chunk: usize,
    /// Sends a signal as soon as so many chunks have been read.
    pub signal: Option<(u64, libc::c_int)>,
    pub term: &'static str,
}

impl Default for Setup {
    fn default() -> Setup {
        Setup { cols: 80, rows: 24, chunk: 4096, signal: None, term: "xterm-256color" }
    }
}

/// A terminal with a program in it; dropping it kills the program.
pub struct Term {
    child: Box<dyn Child + Send + Sync>,
    pid: libc::pid_t,
    master: Option<Box<dyn MasterPty + Send>>,
    keyboard: Option<File>,
    shared: Arc<Shared>,
    reader: Option<JoinHandle<()>>,
    /// Dropped, it ends the reader.
    stop: Option<UnixStream>,
    /// The terminal's modes before the program began.
    pub before: Modes,
}

impl Term {
    /// Starts the program with these arguments on a screen of 80 by 24.
    pub fn start(camp: &Camp, args: &[&str]) -> Term {
        Term::start_in(camp, Setup::default(), args)
    }

    pub fn start_in(camp: &Camp, setup: Setup, args: &[&str]) -> Term {
        Term::start_other(camp, setup, Path::new(env!("CARGO_BIN_EXE_needlewise")), args, &[])
    }

    /// Starts another program, with more in its environment.
    pub fn start_other(camp: &Camp, setup: Setup, program: &Path, args: &[&str], more: &[(&str, &str)]) -> Term {
        let pair = native_pty_system().openpty(size(setup.cols, setup.rows)).expect("a pty");
        let before = Modes::of(pair.master.as_ref());
        let mut command = CommandBuilder::new(program);
        command.args(args);
        command.env_clear();
        for (name, value) in camp.environment() {
            command.env(name, value);
        }
        command.env("TERM", setup.term);
        for (name, value) in more {
            command.env(name, value);
        }
        command.cwd(camp.home());
        let child = pair.slave.spawn_command(command).expect("the program starts");
        let pid = libc::pid_t::try_from(child.process_id().expect("a process id")).expect("a small process id");
        let output = Output::new(setup.cols, setup.rows);
        let shared = Arc::new(Shared { output: Mutex::new(output), changed: Condvar::new() });
        let master = pair.master;
        let (stop, stopped) = UnixStream::pair().expect("two sockets");
        let reader = {
            let (shared, file) = (Arc::clone(&shared), duplicate(master.as_ref()));
            std::thread::spawn(move || read(&shared, file, &stopped, setup, pid))
        };
        if let Some((0, signal)) = setup.signal {
            send_signal(pid, signal);
        }
        Term {
            child,
            pid,
            keyboard: Some(duplicate(master.as_ref())),
            master: Some(master),
            shared,
            reader: Some(reader),
            stop: Some(stop),
            before,
        }
    }

    pub fn pid(&self) -> libc::pid_t {
        self.pid
    }

    fn lock(&self) -> MutexGuard<'_, Output> {
        self.shared.output.lock().expect("the reader did not panic")
    }

    /// Looks at the output as it is now.
    pub fn look<R>(&self, look: impl FnOnce(&Output) -> R) -> R {
        look(&self.lock())
    }

    /// Waits until `seen` finds what it looks for, or the program has ended without it.
    pub fn wait_or_end<R>(&self, what: &str, mut seen: impl FnMut(&Output) -> Option<R>) -> Waited<R> {
        let give_up = Instant::now() + DEADLINE;
        let mut output = self.lock();
        loop {
            if let Some(found) = seen(&output) {
                return Waited::Seen(found);
            }
            if output.ended {
                return Waited::Ended;
            }
            let left = give_up.saturating_duration_since(Instant::now());
            if left.is_zero() {
                let text = output.text();
                drop(output);
                panic!("waited in vain for {what}; the screen:\n{text}");
            }
            output = self.shared.changed.wait_timeout(output, left).expect("the reader did not panic").0;
        }
    }

    /// Waits until the screen is as wanted.
    pub fn wait_for(&self, what: &str, mut seen: impl FnMut(&Output) -> bool) {
        if let Waited::Ended = self.wait_or_end(what, |output| seen(output).then_some(())) {
            panic!("the program ended before {what}; the screen:\n{}", self.screen_text());
        }
    }

    /// Waits until the screen holds a text.
    pub fn wait_for_text(&self, text: &str) {
        self.wait_for(text, |output| output.text().contains(text));
    }

    /// Waits for the first frame.
    pub fn wait_for_first_frame(&self) {
        self.wait_for("the first frame", |output| output.frames.len() >= 2);
    }

    /// Writes to the program without waiting for anything.
    pub fn send(&mut self, bytes: &[u8]) {
        // A program that was just killed reads no more; what it did not read is no failure of the test.
        let _ = self.keyboard.as_mut().expect("the terminal is open").write_all(bytes);
    }

    /// Types keys and waits until each has been dealt with; false when the program ended before.
    pub fn try_keys(&mut self, typed: &str) -> bool {
        let keys = keys::bytes(typed);
        let mut left = &keys[..];
        while !left.is_empty() {
            // What follows an escape too closely would be read as one key with it.
            let count = left.iter().position(|key| key == b"\x1b").map_or(left.len(), |at| at + 1);
            let (now, later) = left.split_at(count);
            let wanted = self.lock().frames.len() + now.len();
            self.send(&now.concat());
            let drawn = self.wait_or_end(typed, |output| (output.frames.len() >= wanted).then_some(()));
            if let Waited::Ended = drawn {
                return false;
            }
            left = later;
        }
        true
    }

    /// Types keys, for example `065<enter>`, and waits until each has been dealt with.
    pub fn type_keys(&mut self, typed: &str) {
        assert!(self.try_keys(typed), "the program ended while typing {typed}; the screen:\n{}", self.screen_text());
    }

    /// The screen as text.
    pub fn screen_text(&self) -> String {
        self.look(Output::text)
    }

    /// Changes the size of the window and waits for the frame that follows.
    pub fn resize(&mut self, cols: u16, rows: u16) {
        let wanted = {
            let mut output = self.lock();
            output.set_size(cols, rows);
            output.frames.len() + 1
        };
        self.resize_only(cols, rows);
        self.wait_for("a frame of the new size", |output| output.frames.len() >= wanted);
    }

    /// Changes the size of the window, nothing more.
    pub fn resize_only(&self, cols: u16, rows: u16) {
        self.master().resize(size(cols, rows)).expect("the window changes");
    }

    fn master(&self) -> &dyn MasterPty {
        self.master.as_deref().expect("the terminal is open")
    }

    /// The name of the program's end.
    pub fn tty_name(&self) -> PathBuf {
        self.master().tty_name().expect("the terminal's name")
    }

    pub fn signal(&self, signal: libc::c_int) {
        send_signal(self.pid, signal);
    }

    /// Kills the program, which cannot do anything about it.
    pub fn kill(&self) {
        self.signal(libc::SIGKILL);
    }

    /// Holds back what the program writes from now on, as a terminal does that is stopped.
    pub fn stop_output(&self) {
        let name = self.tty_name();
        let slave = OpenOptions::new()
            .read(true)
            .write(true)
            .custom_flags(libc::O_NOCTTY | libc::O_NONBLOCK)
            .open(name)
            .expect("the terminal's other end");
        // SAFETY: the descriptor is open for as long as the call takes.
        assert_eq!(unsafe { libc::tcflow(slave.as_raw_fd(), libc::TCOOFF) }, 0, "output stops");
    }

    /// The terminal's modes now; they stay with the terminal when the program is gone.
    pub fn modes(&self) -> Modes {
        Modes::of(self.master())
    }

    /// Waits for the end of the program and of its output.
    pub fn wait_for_end(&mut self) -> ExitStatus {
        if let Waited::Seen(never) = self.wait_or_end("the end", |_| None::<std::convert::Infallible>) {
            match never {}
        }
        self.child.wait().expect("the program's status")
    }

    /// Closes the window, as a person does with the mouse. Gives back how the program ended.
    pub fn close_window(mut self) -> ExitStatus {
        self.let_go();
        self.child.wait().expect("the program's status")
    }

    /// Closes every descriptor of the terminal; the last one hangs up on the program.
    fn let_go(&mut self) {
        drop(self.stop.take());
        if let Some(reader) = self.reader.take() {
            let _ = reader.join();
        }
        drop((self.keyboard.take(), self.master.take()));
    }
}

impl Drop for Term {
    fn drop(&mut self) {
        // An error means that it has ended, which is what is wanted.
        let _ = self.child.kill();
        let _ = self.child.wait();
        self.let_go();
    }
}

/// Reads until nobody is left at the other end (then Linux reports an error, others the end of the file), or until the
/// test lets go.
fn read(shared: &Shared, mut file: File, stopped: &UnixStream, setup: Setup, pid: libc::pid_t) {
    let mut buffer = vec![0; setup.chunk];
    let mut signal = setup.signal.filter(|(at, _)| *at > 0);
    loop {
        let waiting = |fd| libc::pollfd { fd, events: libc::POLLIN, revents: 0 };
        let mut ready = [waiting(file.as_raw_fd()), waiting(stopped.as_raw_fd())];
        // SAFETY: two descriptors, both open.
        let polled = unsafe { libc::poll(ready.as_mut_ptr(), 2, -1) };
        if polled < 0 {
            continue;
        }
        let read = if ready[1].revents == 0 { file.read(&mut buffer) } else { Ok(0) };
        let Ok(mut output) = shared.output.lock() else { return };
        match read {
            Ok(count @ 1..) => {
                output.take(&buffer[..count]);
                if let Some((_, signal)) = signal.take_if(|(at, _)| output.chunks >= *at) {
                    send_signal(pid, signal);
                }
            }
            Err(error) if error.kind() == ErrorKind::Interrupted => {}
            Ok(0) | Err(_) => output.ended = true,
        }
        shared.changed.notify_all();
        if output.ended {
            return;
        }
    }
}

/// The terminal's modes that a program changes for a full screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Modes {
    input: libc::tcflag_t,
    output: libc::tcflag_t,
    local: libc::tcflag_t,
}

impl Modes {
    fn of(master: &dyn MasterPty) -> Modes {
        let fd = master.as_raw_fd().expect("a descriptor");
        let mut termios = std::mem::MaybeUninit::<libc::termios>::uninit();
        // SAFETY: the descriptor is open, and tcgetattr fills the whole structure when it gives back 0. On the master it
        // tells the modes of the other end (tty_ioctl(4): both ends share them).
        let termios = unsafe {
            assert_eq!(libc::tcgetattr(fd, termios.as_mut_ptr()), 0, "the terminal's modes");
            termios.assume_init()
        };
        Modes { input: termios.c_iflag, output: termios.c_oflag, local: termios.c_lflag }
    }

    /// Whether lines are edited and echoed by the terminal: not raw.
    pub fn are_cooked(self) -> bool {
        self.local & (libc::ICANON | libc::ECHO) == libc::ICANON | libc::ECHO
    }
}

fn send_signal(pid: libc::pid_t, signal: libc::c_int) {
    // SAFETY: plain system call; the process is our child and not yet waited for, so its id is its own.
    unsafe { libc::kill(pid, signal) };
}

fn duplicate(master: &dyn MasterPty) -> File {
    let fd = master.as_raw_fd().expect("a descriptor");
    // SAFETY: the descriptor is open for as long as `master` is borrowed.
    let fd = unsafe { BorrowedFd::borrow_raw(fd) };
    File::from(fd.try_clone_to_owned().expect("a second descriptor"))
}

fn size(cols: u16, rows: u16) -> PtySize {
    PtySize { rows, cols, pixel_width: 0, pixel_height: 0 }
}
