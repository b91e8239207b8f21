//! `needlewise completions` and `needlewise man`: both derive from the arguments.

use super::args::Cli;
use super::fault::Fault;
use clap::CommandFactory;
use std::io::Write;

/// Prints completions for a shell.
pub(super) fn completions(shell: clap_complete::Shell) -> Result<(), Fault> {
    let mut out = Vec::new();
    clap_complete::generate(shell, &mut Cli::command(), "needlewise", &mut out);
    Ok(std::io::stdout().write_all(&out)?)
}

/// Where the files are, and how the records are laid out for who reads them with other tools.
const RECORDS: &str = include_str!("man_records.roff");

/// Prints the manual page.
pub(super) fn man() -> Result<(), Fault> {
    let mut out = Vec::new();
    clap_mangen::Man::new(Cli::command()).render(&mut out)?;
    out.extend_from_slice(RECORDS.as_bytes());
    Ok(std::io::stdout().write_all(&out)?)
}
