//! `needlewise problem`.

use super::args::ProblemArgs;
use super::context::Context;
use super::fault::Fault;

/// Runs the command.
pub(super) fn run(_context: &Context, _args: ProblemArgs) -> Result<(), Fault> {
    Err(Fault::Could("not yet".into()))
}
