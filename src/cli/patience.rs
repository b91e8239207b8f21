//! A word about work that takes longer than anybody waits without one.

use std::io::{self, IsTerminal, Write};
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::thread;
use std::time::Duration;

/// How long one waits without a word.
const PATIENCE: Duration = Duration::from_secs(1);

/// Does the work; where it takes long and somebody looks on, says beside it what is being done.
pub(super) fn with_word<T>(word: &'static str, work: impl FnOnce() -> T) -> T {
    if !io::stderr().is_terminal() {
        return work();
    }
    told_after(PATIENCE, move || drop(writeln!(io::stderr(), "{word}")), work)
}

fn told_after<T>(patience: Duration, tell: impl FnOnce() + Send, work: impl FnOnce() -> T) -> T {
    let (working, done) = channel::<()>();
    thread::scope(|scope| {
        // Where no thread can be had, the work is done without a word.
        let _ = thread::Builder::new().stack_size(64 * 1024).spawn_scoped(scope, move || {
            if done.recv_timeout(patience) == Err(RecvTimeoutError::Timeout) {
                tell();
            }
        });
        let came_out = work();
        drop(working);
        came_out
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_work_is_told_of_once_and_its_outcome_comes_back() {
        let (said, heard) = channel();
        let came_out = told_after(Duration::ZERO, move || said.send("still at it").unwrap(), || heard.recv().unwrap());
        assert_eq!(came_out, "still at it", "the work waited for the word");
    }

    #[test]
    fn short_work_needs_no_word() {
        let (said, heard) = channel::<()>();
        let came_out = told_after(Duration::from_secs(600), move || said.send(()).unwrap(), || 7);
        assert_eq!((came_out, heard.recv().is_err()), (7, true), "nothing was said");
    }
}
