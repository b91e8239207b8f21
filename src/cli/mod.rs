//! The command line.

use std::process::ExitCode;

/// Runs the program with the process's arguments.
#[must_use]
pub fn run() -> ExitCode {
    ExitCode::SUCCESS
}
