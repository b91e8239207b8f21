//! Why the settings cannot be read or written, and the message that says so with the lines of the file.

use super::FaultKind;
use crate::textfile::{self, FileError, reason_words, shown_path};
use annotate_snippets::{Level, Renderer, normalize_untrusted_str};
use std::io;
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
    /// The file is there and cannot be read as text.
    #[error("{0}")]
    File(FileError),
    /// The text has faults.
    #[error("{0}")]
    Faults(Faults),
    /// The file cannot be written; it is as it was.
    #[error("the settings could not be written to {}: {}. Nothing was changed.", shown_path(path), reason_words(*reason))]
    Unwritable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        reason: io::ErrorKind,
    },
    /// The file is laid out so that the change cannot be made without harm to it.
    #[error(
        "{} is laid out so that it cannot be changed safely; set it by hand. Nothing was changed.",
        shown_path(path)
    )]
    Layout {
        /// The file.
        path: PathBuf,
    },
}

/// The faults of the file.
pub type Faults = textfile::Faults<FaultKind>;

impl ConfigError {
    /// The message for people: what is wrong, the lines of the file with the place marked, and what to do. Several
    /// lines, none at the end; `colour` adds terminal colours.
    #[must_use]
    pub fn render(&self, colour: bool) -> String {
        let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
        match self {
            ConfigError::Faults(faults) => faults.render(&renderer),
            ConfigError::File(error) => {
                let help = Level::HELP.message(normalize_untrusted_str(&error.help()));
                renderer.render(&[Level::ERROR.primary_title(error.to_string()).element(help)])
            }
            _ => self.to_string(),
        }
    }
}

pub(super) fn unwritable(path: &Path, error: &io::Error) -> ConfigError {
    ConfigError::Unwritable { path: path.to_owned(), reason: error.kind() }
}
