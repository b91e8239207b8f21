//! Why there is no drill or standard, and the message that says so with the lines of the file.

use super::{FaultKind, Origin, What};
use crate::textfile::{self, FileError, shown_path};
use annotate_snippets::{Level, Renderer, normalize_untrusted_str};
use std::path::PathBuf;

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
    #[error("there is no file {}", shown_path(path))]
    NoFile {
        /// The path.
        path: PathBuf,
        /// What was looked for.
        what: What,
        /// The one that comes with the program and has the file's name.
        meant: Option<&'static str>,
    },
    /// The file cannot be read as text.
    #[error("{0}")]
    File(FileError),
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

/// The faults of one drill's or standard's file.
pub type Faults = textfile::Faults<FaultKind>;

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
            DrillError::File(error) => error.help(),
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
