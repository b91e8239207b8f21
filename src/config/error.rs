//! Why the settings cannot be read or written, and the message that says so with the lines of the file.

use super::fault::Fault;
use super::value::shown;
use annotate_snippets::{AnnotationKind, Group, Level, Origin, Renderer, Snippet};
use std::fmt;
use std::io;
use std::ops::Range;
use std::path::{Path, PathBuf};

/// Why the settings cannot be read or written. `Display` is one line; [`ConfigError::render`] shows the place in the file.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ConfigError {
    /// There is no folder for settings.
    #[error(
        "there is no home folder to keep the settings in; name a file in the environment variable {}",
        super::ENVIRONMENT
    )]
    NoHome,
    /// The file is there and cannot be read.
    #[error("the settings in {} cannot be read: {reason}", shown(path.display()))]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        reason: io::ErrorKind,
    },
    /// Far longer than any settings.
    #[error("{} is too big for settings; is it another file?", shown(path.display()))]
    TooBig {
        /// The file.
        path: PathBuf,
    },
    /// Not written in UTF-8.
    #[error("{} is not plain text: line {line} is not UTF-8; save the file again as UTF-8", shown(path.display()))]
    NotText {
        /// The file.
        path: PathBuf,
        /// The line, counted from 1.
        line: usize,
    },
    /// The text has faults.
    #[error("{0}")]
    Faults(Faults),
    /// The file cannot be written; it is as it was.
    #[error("the settings could not be written to {}: {reason}. Nothing was changed.", shown(path.display()))]
    Unwritable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        reason: io::ErrorKind,
    },
    /// The file is laid out so that the change cannot be made without harm to it.
    #[error("{} is laid out so that it cannot be changed safely; set it by hand. Nothing was changed.", shown(path.display()))]
    Layout {
        /// The file.
        path: PathBuf,
    },
}

/// The faults of the file, at least one, in its order.
#[derive(Clone, Debug, PartialEq)]
pub struct Faults {
    /// The file.
    pub path: PathBuf,
    /// Its text.
    pub text: String,
    /// What is wrong.
    pub faults: Vec<Fault>,
}

impl fmt::Display for Faults {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", shown(self.path.display()))?;
        if let Some(fault) = self.faults.first() {
            let (line, column) = place_of(&self.text, fault.span.start);
            write!(f, ", line {line}, column {column}: {}", fault.kind)?;
        }
        match self.faults.len() {
            0 | 1 => Ok(()),
            2 => write!(f, " (and one more fault)"),
            more => write!(f, " (and {} more faults)", more - 1),
        }
    }
}

impl ConfigError {
    /// The message for people: what is wrong, the lines of the file with the place marked, and what to do. Several
    /// lines, none at the end; `colour` adds terminal colours.
    #[must_use]
    pub fn render(&self, colour: bool) -> String {
        match self {
            ConfigError::Faults(faults) => faults.render(colour),
            _ => self.to_string(),
        }
    }
}

impl Faults {
    fn render(&self, colour: bool) -> String {
        let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
        let path = shown(self.path.display());
        let rendered: Vec<String> =
            self.faults.iter().map(|fault| renderer.render(&[self.group(fault, &path)])).collect();
        rendered.join("\n\n")
    }

    fn group<'a>(&'a self, fault: &Fault, path: &'a str) -> Group<'a> {
        let title = Level::ERROR.primary_title(fault.kind.to_string());
        let help = Level::HELP.message(fault.kind.help());
        if matches!(fault.kind, super::FaultKind::More(_)) {
            return title.element(Origin::path(path)).element(help);
        }
        let label = fault.kind.label();
        let mut mark = AnnotationKind::Primary.span(self.inside(&fault.span));
        if !label.is_empty() {
            mark = mark.label(label);
        }
        title.element(Snippet::source(self.text.as_str()).path(path).annotation(mark)).element(help)
    }

    /// The span within the text and on its letters' borders, whatever the reader of TOML said; one line only.
    fn inside(&self, span: &Range<usize>) -> Range<usize> {
        let start = self.text.floor_char_boundary(span.start);
        let end = self.text.floor_char_boundary(span.end.max(start));
        let length = self.text[start..end].find(['\n', '\r']).unwrap_or(end - start);
        start..start + length
    }
}

/// Line and column of a byte, both counted from 1, columns in letters.
pub(super) fn place_of(text: &str, byte: usize) -> (usize, usize) {
    let before = &text[..text.floor_char_boundary(byte)];
    let line_start = before.rfind('\n').map_or(0, |at| at + 1);
    (before.matches('\n').count() + 1, before[line_start..].chars().count() + 1)
}

pub(super) fn unwritable(path: &Path, error: &io::Error) -> ConfigError {
    ConfigError::Unwritable { path: path.to_owned(), reason: error.kind() }
}
