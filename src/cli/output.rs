//! Files that a command writes because it was asked to: whole or not at all, and never over another one unasked.

use super::fault::{Fault, clean};
use super::page::Page;
use super::paper_args::{CutoutsArgs, PaperName};
use crate::paper::{Printed, Sheet};
use crate::platform;
use crate::worksheet::printed_cutouts;
use std::fs;
use std::io::{self, ErrorKind, IsTerminal, Write};
use std::path::Path;

/// Refuses a file that is there already, before anything is worked out for it.
pub(super) fn may_write(file: &Path, force: bool) -> Result<(), Fault> {
    let Ok(there) = fs::metadata(file) else { return Ok(()) };
    let name = shown(file);
    if there.is_dir() {
        return Err(Fault::Could(format!("{name} is a folder; name a file in it, such as {name}/sheets.pdf")));
    }
    if there.is_file() && !force {
        return Err(Fault::Could(format!(
            "{name} is there already; name another file with --output, or write over it with --force"
        )));
    }
    Ok(())
}

/// Refuses to fill a terminal with bytes. `otherwise` is what else can be asked for, with a comma before it.
pub(super) fn no_pdf_on_a_terminal(file: Option<&Path>, otherwise: &str) -> Result<(), Fault> {
    if file.is_some() || !io::stdout().is_terminal() {
        return Ok(());
    }
    Err(Fault::Input(format!("a PDF cannot be shown in a terminal; name a file with --output pages.pdf{otherwise}")))
}

/// The paper of a name.
pub(super) const fn sheet(name: PaperName) -> Sheet {
    match name {
        PaperName::A4 => Sheet::A4,
        PaperName::Letter => Sheet::Letter,
    }
}

/// Writes to the file, or without one to standard output.
pub(super) fn put(file: Option<&Path>, bytes: &[u8]) -> Result<(), Fault> {
    if let Some(file) = file {
        return write_file(file, bytes);
    }
    let mut out = io::stdout().lock();
    out.write_all(bytes)?;
    Ok(out.flush()?)
}

/// What is said of a PDF file when it was written.
pub(super) fn written_words(file: &Path, what: &str, printed: &Printed) -> String {
    let mut page = Page::default();
    let pages = if printed.pages == 1 { "1 page".to_owned() } else { format!("{} pages", printed.pages) };
    page.line(&format!("{}: {what}, {pages}.", shown(file)));
    if let Some(missing) = missing_words(printed) {
        page.paragraph(&missing);
    }
    page.0
}

/// Which letters could not be printed, if there are any.
pub(super) fn missing_words(printed: &Printed) -> Option<String> {
    if printed.missing.is_empty() {
        return None;
    }
    let letters: Vec<String> = printed.missing.iter().map(char::to_string).collect();
    Some(clean(&format!("The print has no shape for {}: □ stands there instead.", letters.join(" "))))
}

/// `needlewise cutouts`: the pages that are always the same.
pub(super) fn cutouts(args: &CutoutsArgs) -> Result<(), Fault> {
    no_pdf_on_a_terminal(args.output.as_deref(), "")?;
    if let Some(file) = &args.output {
        may_write(file, args.force)?;
    }
    let printed = printed_cutouts(sheet(args.paper));
    put(args.output.as_deref(), &printed.bytes)?;
    let Some(file) = &args.output else { return Ok(()) };
    let words = written_words(file, "a compass of paper and bearing cards", &printed);
    Ok(io::stdout().lock().write_all(words.as_bytes())?)
}

/// Writes the whole file, or leaves everything as it was.
fn write_file(file: &Path, bytes: &[u8]) -> Result<(), Fault> {
    // What is no file, such as a printer's device, has nothing to keep and takes no other name.
    let is_device = fs::metadata(file).is_ok_and(|there| !there.is_file());
    let written = if is_device {
        fs::OpenOptions::new().write(true).open(file).and_then(|mut out| out.write_all(bytes))
    } else {
        platform::put_file(file, bytes)
    };
    written.map_err(|error| cannot(file, &error, "--output"))
}

/// Writes a whole file that is not there yet: what is there may be a drawing or a course of one's own. `option` names such a file.
pub(super) fn put_new(file: &Path, bytes: &[u8], option: &str) -> Result<(), Fault> {
    platform::put_new_file(file, bytes).map_err(|error| match error.kind() {
        ErrorKind::AlreadyExists => {
            Fault::Could(format!("{} is there already; name another file with {option}", shown(file)))
        }
        _ => cannot(file, &error, option),
    })
}

fn cannot(file: &Path, error: &io::Error, option: &str) -> Fault {
    let mend = match error.kind() {
        ErrorKind::NotFound | ErrorKind::NotADirectory => "the folder is not there: make it, or name another file",
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => "the disk is full: make room, or name a file elsewhere",
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => "name a file where you may write",
        _ => {
            return Fault::Could(format!(
                "{} cannot be written ({error}); name another file with {option}. Nothing was written.",
                shown(file)
            ));
        }
    };
    Fault::Could(format!("{} cannot be written ({error}); {mend}. Nothing was written.", shown(file)))
}

fn shown(file: &Path) -> String {
    clean(&file.display().to_string())
}
