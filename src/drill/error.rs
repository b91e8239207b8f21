//! What can be wrong with a drill.

use super::Origin;
use std::io;
use std::ops::Range;
use std::path::PathBuf;

/// Why there is no drill. `Display` is one line without the place in the file; [`DrillError::render`] shows the place.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum DrillError {
    /// Nothing has this path.
    #[error("there is no file {}", path.display())]
    NoFile {
        /// The path.
        path: PathBuf,
    },
    /// The system does not let us read it.
    #[error("{} cannot be read: {reason}", path.display())]
    Unreadable {
        /// The path.
        path: PathBuf,
        /// What the system said.
        reason: io::ErrorKind,
    },
    /// The text has faults.
    #[error("{0}")]
    Faults(Faults),
}

/// The faults of one drill file, at least one, in the order of the file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Faults {
    /// Where the text was read.
    pub origin: Origin,
    /// The text.
    pub text: String,
    /// What is wrong with it.
    pub faults: Vec<Fault>,
}

impl std::fmt::Display for Faults {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.faults.first().map_or(Ok(()), |fault| write!(f, "{}", fault.kind))
    }
}

/// One fault and its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// What is wrong.
    pub kind: FaultKind,
    /// Where in the text, in bytes.
    pub span: Range<usize>,
}

/// What is wrong at one place of a drill file.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum FaultKind {
    /// No skill has this id.
    #[error("there is no skill {id}")]
    Skill {
        /// What was written.
        id: String,
        /// The nearest id there is.
        nearest: Option<&'static str>,
    },
}

impl DrillError {
    /// The message for people, with the lines of the file, several lines long; `colour` adds terminal colours.
    #[must_use]
    pub fn render(&self, _colour: bool) -> String {
        format!("error: {self}")
    }
}
