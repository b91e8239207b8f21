//! `needlewise home`.

use super::args::HomeArgs;
use super::context::Context;
use super::fault::Fault;

/// Runs the command.
pub(super) fn run(_context: &Context, _args: HomeArgs) -> Result<(), Fault> {
    Err(Fault::Could("not yet".into()))
}
