//! `needlewise` alone, and `needlewise practice`.

use super::args::PracticeArgs;
use super::context::Context;
use super::fault::Fault;

/// Opens the program.
pub(super) fn open(_context: &Context) -> Result<(), Fault> {
    Err(Fault::Could("not yet".into()))
}

/// Practises.
pub(super) fn run(_context: &Context, _args: PracticeArgs) -> Result<(), Fault> {
    Err(Fault::Could("not yet".into()))
}
