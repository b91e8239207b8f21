//! Why there is no course, and the message that says so with the lines of the file.

use super::FaultKind;
use crate::geomag::GeomagError;
use crate::textfile::{self, FileError, Origin};
use annotate_snippets::{Level, Renderer, normalize_untrusted_str};

/// Why a course cannot be read. `Display` is one line; [`CourseError::render`] shows the place in the file.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum CourseError {
    /// The file cannot be read as text.
    #[error("{0}")]
    File(FileError),
    /// Nothing in it.
    #[error("{0} is empty")]
    Empty(Origin),
    /// The text has faults.
    #[error("{0}")]
    Faults(Faults),
}

/// The faults of one course's file.
pub type Faults = textfile::Faults<FaultKind>;

impl CourseError {
    /// The message for people: what is wrong, the lines of the file with the place marked, and what to do. Several
    /// lines, none at the end; `colour` adds terminal colours.
    #[must_use]
    pub fn render(&self, colour: bool) -> String {
        let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
        let help = match self {
            CourseError::Faults(faults) => return faults.render(&renderer),
            CourseError::File(error) => error.help(),
            CourseError::Empty(_) => {
                "`needlewise course --new FILE` writes a file that explains every line; begin with that one".to_owned()
            }
        };
        let group =
            Level::ERROR.primary_title(self.to_string()).element(Level::HELP.message(normalize_untrusted_str(&help)));
        renderer.render(&[group])
    }
}

/// Why the bearings of a course cannot be worked out.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum RouteError {
    /// The magnetic model has no answer.
    #[error("{0} In the file: declination = \"8 W\", with its year and annual_change.")]
    Model(GeomagError),
    /// A leg counts from grid north where there is no grid, or a printed G-M angle has no grid.
    #[error("there is no UTM grid at the start of this course, so nothing can count from grid north; use T or M")]
    NoGrid,
}
