//! Why there is no drill or standard, and the message that says so with the lines of the file.

use super::fault::{Fault, shown};
use super::{MOST_BYTES, Origin, What};
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet, normalize_untrusted_str};
use std::fmt;
use std::io;
use std::ops::Range;
use std::path::{Path, PathBuf};

/// A drill with all that must be there and nothing else.
pub(super) const SHORTEST: &str = "\
name = \"tuesday-evening\"
title = \"Tuesday evening\"
count = 10
[[skill]]
id = \"back-bearing\"";

/// A standard with all that must be there and nothing else.
const SHORTEST_STANDARD: &str = "\
name = \"our-outing\"
title = \"Our outing\"
[[skill]]
id = \"back-bearing\"
level = 2";

/// Why there is no drill, or no standard. `Display` is one line without the place in the file; [`DrillError::render`] shows the place.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum DrillError {
    /// Nothing has this path.
    #[error("there is no file {}", place(path))]
    NoFile {
        /// The path.
        path: PathBuf,
        /// What was looked for.
        what: What,
        /// The one that comes with the program and has the file's name.
        meant: Option<&'static str>,
    },
    /// A folder stands where a file should.
    #[error("{} is a folder, not a file", place(path))]
    Folder {
        /// The path.
        path: PathBuf,
    },
    /// The system does not let us read it.
    #[error("{} cannot be read: {reason}", place(path))]
    Unreadable {
        /// The path.
        path: PathBuf,
        /// What the system said.
        reason: io::ErrorKind,
    },
    /// Far longer than any drill.
    #[error("{} is too big", place(path))]
    TooBig {
        /// The path.
        path: PathBuf,
        /// Its length in bytes, where it is known.
        bytes: Option<u64>,
    },
    /// Not written in UTF-8.
    #[error("{} is not plain text: line {line}, byte {byte} is not UTF-8", place(path))]
    NotText {
        /// The path.
        path: PathBuf,
        /// The line, counted from 1.
        line: usize,
        /// The byte in that line, counted from 1.
        byte: usize,
    },
    /// Nothing in it.
    #[error("{origin} is empty")]
    Empty {
        /// Where it was read.
        origin: Origin,
        /// What was looked for.
        what: What,
    },
    /// The text has faults.
    #[error("{0}")]
    Faults(Faults),
    /// None has this name.
    #[error("there is no {what} `{name}`")]
    Unknown {
        /// What was looked for.
        what: What,
        /// What was asked for.
        name: String,
        /// The nearest name there is.
        nearest: Option<String>,
        /// All names there are.
        known: Vec<String>,
    },
    /// Two with one name.
    #[error("two {what}s have the name `{name}`")]
    Twice {
        /// What was looked for.
        what: What,
        /// The name.
        name: String,
        /// Where the one stands that keeps it.
        first: Origin,
        /// Where the other stands.
        second: Origin,
    },
}

/// The faults of one drill file, at least one, in the order of the file.
#[derive(Clone, Debug, PartialEq)]
pub struct Faults {
    /// Where the text was read.
    pub origin: Origin,
    /// The text.
    pub text: String,
    /// What is wrong with it.
    pub faults: Vec<Fault>,
}

impl fmt::Display for Faults {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.origin)?;
        if let Some(fault) = self.faults.first() {
            if let Some(span) = &fault.span {
                write!(f, ", line {}", line_of(&self.text, span.start))?;
            }
            write!(f, ": {}", fault.kind)?;
        }
        match self.faults.len() {
            0 | 1 => Ok(()),
            2 => write!(f, " (and one more fault)"),
            more => write!(f, " (and {} more faults)", more - 1),
        }
    }
}

impl fmt::Display for Origin {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Origin::Embedded(file) => write!(f, "{file} (comes with needlewise)"),
            Origin::File(path) => f.write_str(&place(path)),
        }
    }
}

impl DrillError {
    /// The message for people: what is wrong, the lines of the file with the place marked, and what to do. Several
    /// lines, none at the end; `colour` adds terminal colours.
    #[must_use]
    pub fn render(&self, colour: bool) -> String {
        let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
        let Some(help) = self.help() else {
            let DrillError::Faults(faults) = self else { return self.to_string() };
            return faults.render(&renderer);
        };
        let title = self.to_string();
        let group = Level::ERROR.primary_title(title).element(Level::HELP.message(normalize_untrusted_str(&help)));
        renderer.render(&[group])
    }

    /// What to do; `None` where each fault has its own.
    fn help(&self) -> Option<String> {
        Some(match self {
            DrillError::NoFile { meant: Some(name), what, .. } => {
                format!("the {what} {name} comes with needlewise; name it without a path and without .toml: {name}")
            }
            DrillError::NoFile { meant: None, what, .. } => {
                format!("check the path, letter by letter; a {what} that comes with needlewise is named without .toml")
            }
            DrillError::Folder { .. } => "name one file in it, ending in .toml".into(),
            DrillError::Unreadable { .. } => "check that you may read the file".into(),
            DrillError::TooBig { bytes, .. } => {
                let most = MOST_BYTES / 1024;
                let is = bytes.map(|bytes| format!(", and this file has {} KiB", bytes.div_ceil(1024)));
                format!("such a file has at most {most} KiB{}; is it another one?", is.unwrap_or_default())
            }
            DrillError::NotText { .. } => "save the file again as UTF-8, or retype the letter at that place".into(),
            DrillError::Empty { what, .. } => {
                let shortest = if *what == What::Drill { SHORTEST } else { SHORTEST_STANDARD };
                format!("begin with these lines, and change them:\n{shortest}")
            }
            DrillError::Unknown { nearest, known, what, .. } => {
                let meant = nearest.as_ref().map(|name| format!("did you mean {name}?\n")).unwrap_or_default();
                format!("{meant}the {what}s are {}", known.join(", "))
            }
            DrillError::Twice { name, first, second, .. } => {
                format!("one is {first}\nthe other is {second}\nchange the line name = \"{name}\" in the other one")
            }
            DrillError::Faults(_) => return None,
        })
    }
}

impl Faults {
    fn render(&self, renderer: &Renderer) -> String {
        let rendered: Vec<String> = self.faults.iter().map(|fault| renderer.render(&[self.group(fault)])).collect();
        rendered.join("\n\n")
    }

    fn group<'a>(&'a self, fault: &'a Fault) -> Group<'a> {
        let path = match &self.origin {
            Origin::Embedded(file) => (*file).to_owned(),
            Origin::File(path) => place(path),
        };
        let help = Level::HELP.message(normalize_untrusted_str(&fault.kind.help()));
        let title = Level::ERROR.primary_title(fault.kind.to_string());
        let Some(span) = &fault.span else {
            return title.element(annotate_snippets::Origin::path(path)).element(help);
        };
        let label = fault.kind.label();
        let mut mark = AnnotationKind::Primary.span(self.inside(span));
        if !label.is_empty() {
            mark = mark.label(label);
        }
        let mut snippet = Snippet::source(self.text.as_str()).path(path).annotation(mark);
        if let Some(earlier) = &fault.earlier {
            snippet = snippet
                .annotation(AnnotationKind::Context.span(self.inside(earlier)).label(fault.kind.earlier_label()));
        }
        title.element(snippet).element(help)
    }

    /// The span within the text and on its letters' borders, whatever the reader of TOML said; one line only, so that
    /// a mark never runs down the margin.
    fn inside(&self, span: &Range<usize>) -> Range<usize> {
        let start = self.text.floor_char_boundary(span.start);
        let end = self.text.floor_char_boundary(span.end.max(start));
        let marked = &self.text[start..end];
        let line = marked.find(['\n', '\r']).map_or(end, |at| start + at);
        start..line
    }
}

/// The line a byte stands in, counted from 1.
pub(super) fn line_of(text: &str, byte: usize) -> usize {
    text.as_bytes().iter().take(byte).filter(|byte| **byte == b'\n').count() + 1
}

/// A path as a message can show it.
fn place(path: &Path) -> String {
    let text = path.display().to_string();
    if text.chars().any(char::is_control) { shown(&text) } else { text }
}
