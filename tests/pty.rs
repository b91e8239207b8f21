//! The real program in a real terminal: a pty with a vt100 screen behind it. Nothing here waits by the clock for the
//! program to be ready; tests wait for output, with a deadline.
#![cfg(unix)]

#[path = "pty/answers.rs"]
mod answers;
#[path = "pty/at_table.rs"]
mod at_table;
#[path = "pty/camp.rs"]
mod camp;
#[path = "pty/check.rs"]
mod check;
#[path = "pty/cost.rs"]
mod cost;
#[path = "pty/keys.rs"]
mod keys;
#[path = "pty/kill.rs"]
mod kill;
#[path = "pty/leaving.rs"]
mod leaving;
#[path = "pty/output.rs"]
mod output;
#[path = "pty/records.rs"]
mod records;
#[path = "pty/sizes.rs"]
mod sizes;
#[path = "pty/stopped.rs"]
mod stopped;
#[path = "pty/stories.rs"]
mod stories;
#[path = "pty/term.rs"]
mod term;
#[path = "pty/two_programs.rs"]
mod two_programs;
