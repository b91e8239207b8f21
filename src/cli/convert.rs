//! `needlewise convert`.

use super::args::ConvertArgs;
use super::context::Context;
use super::fault::Fault;

/// Runs the command.
pub(super) fn run(_context: &Context, _args: ConvertArgs) -> Result<(), Fault> {
    Err(Fault::Could("not yet".into()))
}
