//! `needlewise judge`.

use super::args::JudgeArgs;
use super::fault::Fault;

/// Runs the command.
pub(super) fn run(_args: JudgeArgs) -> Result<(), Fault> {
    Err(Fault::Could("not yet".into()))
}
