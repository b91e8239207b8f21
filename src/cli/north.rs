//! `needlewise north`.

use super::args::NorthArgs;
use super::context::Context;
use super::fault::Fault;

/// Runs the command.
pub(super) fn run(_context: &Context, _args: NorthArgs) -> Result<(), Fault> {
    Err(Fault::Could("not yet".into()))
}
