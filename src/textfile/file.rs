//! Where a text was read, and why it could not be.

use super::shown::shown_path;
use std::fmt;
use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

/// The most bytes such a file may have.
pub const MOST_BYTES: u64 = 64 * 1024;

/// Where a text was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Origin {
    /// It came with the program; the name of its file.
    Embedded(&'static str),
    /// This file.
    File(PathBuf),
}

impl Origin {
    /// The file's name alone, as a message can show it.
    #[must_use]
    pub fn file(&self) -> String {
        match self {
            Origin::Embedded(file) => (*file).to_owned(),
            Origin::File(path) => shown_path(path),
        }
    }
}

impl fmt::Display for Origin {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let note = if matches!(self, Origin::Embedded(_)) { " (comes with needlewise)" } else { "" };
        write!(f, "{}{note}", self.file())
    }
}

/// Why a file cannot be read as text. `Display` is one line; [`FileError::help`] says what to do.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum FileError {
    /// Nothing has this path.
    #[error("there is no file {}", shown_path(path))]
    NoFile {
        /// The path.
        path: PathBuf,
    },
    /// A folder stands where a file should.
    #[error("{} is a folder, not a file", shown_path(path))]
    Folder {
        /// The path.
        path: PathBuf,
    },
    /// A device, or a pipe that nobody may ever write to.
    #[error("{} is no ordinary file", shown_path(path))]
    NotAFile {
        /// The path.
        path: PathBuf,
    },
    /// The system does not let us read it.
    #[error("{} cannot be read: {}", shown_path(path), reason_words(*reason))]
    Unreadable {
        /// The path.
        path: PathBuf,
        /// What the system said.
        reason: io::ErrorKind,
    },
    /// More than [`MOST_BYTES`].
    #[error("{} is too big", shown_path(path))]
    TooBig {
        /// The path.
        path: PathBuf,
        /// Its length in bytes, where it is known.
        bytes: Option<u64>,
    },
    /// Not written in UTF-8.
    #[error("{} is not plain text: line {line}, byte {byte} is not UTF-8", shown_path(path))]
    NotText {
        /// The path.
        path: PathBuf,
        /// The line, counted from 1.
        line: usize,
        /// The byte in that line, counted from 1.
        byte: usize,
    },
}

impl FileError {
    /// What to do about it.
    #[must_use]
    pub fn help(&self) -> String {
        match self {
            FileError::NoFile { .. } => "check the path, letter by letter".into(),
            FileError::Folder { .. } => "name one file in it, ending in .toml".into(),
            FileError::NotAFile { .. } => "name a file that was saved on a disk".into(),
            FileError::Unreadable { .. } => "check that you may read the file".into(),
            FileError::TooBig { bytes, .. } => {
                let most = MOST_BYTES / 1024;
                let is = bytes.map(|bytes| format!(", and this file has {} KiB", bytes.div_ceil(1024)));
                format!("such a file has at most {most} KiB{}; is it another one?", is.unwrap_or_default())
            }
            FileError::NotText { .. } => "save the file again as UTF-8, or retype the letter at that place".into(),
        }
    }
}

/// Why something could not be done with a file, as people say it.
#[must_use]
pub fn reason_words(reason: io::ErrorKind) -> String {
    match reason {
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => "the disk is full".into(),
        io::ErrorKind::ReadOnlyFilesystem => "the disk is read-only".into(),
        io::ErrorKind::NotADirectory => "a folder on the way to it is a file".into(),
        reason => {
            let words = reason.to_string();
            // What the library has no word for.
            if words.contains("uncategorized") { "the system gave no reason that has a name".into() } else { words }
        }
    }
}

/// The text of a file, never more of it than [`MOST_BYTES`].
///
/// # Errors
/// [`FileError`] when there is no such file or it is no short text.
pub fn read_file(path: &Path) -> Result<String, FileError> {
    let own = || path.to_owned();
    let failed = |error: io::Error| match error.kind() {
        io::ErrorKind::NotFound => FileError::NoFile { path: own() },
        reason => FileError::Unreadable { path: own(), reason },
    };
    let about = fs::metadata(path).map_err(failed)?;
    if about.is_dir() {
        return Err(FileError::Folder { path: own() });
    }
    // Opening a pipe waits until somebody writes to it.
    if !about.is_file() {
        return Err(FileError::NotAFile { path: own() });
    }
    if about.len() > MOST_BYTES {
        return Err(FileError::TooBig { path: own(), bytes: Some(about.len()) });
    }
    let mut bytes = Vec::new();
    File::open(path).and_then(|file| file.take(MOST_BYTES + 1).read_to_end(&mut bytes)).map_err(failed)?;
    if bytes.len() as u64 > MOST_BYTES {
        return Err(FileError::TooBig { path: own(), bytes: None });
    }
    String::from_utf8(bytes).map_err(|error| {
        let good = &error.as_bytes()[..error.utf8_error().valid_up_to()];
        let line_start = good.iter().rposition(|byte| *byte == b'\n').map_or(0, |at| at + 1);
        let line = good.iter().filter(|byte| **byte == b'\n').count() + 1;
        FileError::NotText { path: own(), line, byte: good.len() - line_start + 1 }
    })
}

/// A text without the mark that some editors put before it.
#[must_use]
pub fn without_mark(text: &str) -> &str {
    text.strip_prefix('\u{feff}').unwrap_or(text)
}
