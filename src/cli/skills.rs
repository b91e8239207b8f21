//! `needlewise skills`.

use super::args::FormatArgs;
use super::fault::Fault;

/// Runs the command.
pub(super) fn run(_args: FormatArgs) -> Result<(), Fault> {
    Err(Fault::Could("not yet".into()))
}
