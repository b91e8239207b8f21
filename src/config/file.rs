//! The file itself: where it is, reading it, and writing it so that it is either as it was or as it shall be.

use super::error::{ConfigError, unwritable};
use super::read::read;
use super::write::{TEMPLATE, rewritten};
use super::{Config, ENVIRONMENT};
use crate::platform;
use crate::textfile::{FileError, Origin, read_file};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

impl Config {
    /// Where the settings are: the file named in `NEEDLEWISE_CONFIG`, or `needlewise/config.toml` in the platform's folder
    /// for settings.
    ///
    /// # Errors
    /// [`ConfigError::NoHome`] when there is no such folder.
    pub fn path() -> Result<PathBuf, ConfigError> {
        if let Some(path) = std::env::var_os(ENVIRONMENT).filter(|path| !path.is_empty()) {
            return Ok(PathBuf::from(path));
        }
        let folder = platform::settings_folder().ok_or(ConfigError::NoHome)?;
        Ok(folder.join("needlewise").join("config.toml"))
    }

    /// Reads the settings; a file that is not there says nothing.
    ///
    /// # Errors
    /// [`ConfigError`] when there is a file and it cannot be read or has faults.
    pub fn load(path: &Path) -> Result<Config, ConfigError> {
        match text_of(path)? {
            Some(text) => read_text(path, &text),
            None => Ok(Config::default()),
        }
    }

    /// Writes the settings. Of a file that is there only what differs is changed: remarks, order and other lines stay. A
    /// new file explains every key. The file is replaced as a whole, so that nobody ever reads half of it.
    ///
    /// # Errors
    /// [`ConfigError`] when the file that is there cannot be read or has faults, or when it cannot be written; then it is as
    /// it was.
    pub fn save(&self, path: &Path) -> Result<(), ConfigError> {
        let (old, text, is_new) = match text_of(path)? {
            Some(text) => (read_text(path, &text)?, text, false),
            None => (Config::default(), TEMPLATE.to_owned(), true),
        };
        let new = rewritten(&text, &old, self).ok_or_else(|| ConfigError::Layout { path: path.to_owned() })?;
        if is_new || new != text {
            replace(path, &new).map_err(|error| unwritable(path, &error))?;
        }
        Ok(())
    }
}

fn read_text(path: &Path, text: &str) -> Result<Config, ConfigError> {
    read(text, &Origin::File(path.to_owned())).map_err(ConfigError::Faults)
}

/// The file's text; `None` when there is no file.
fn text_of(path: &Path) -> Result<Option<String>, ConfigError> {
    match read_file(path) {
        Ok(text) => Ok(Some(text)),
        Err(FileError::NoFile { .. }) => Ok(None),
        Err(error) => Err(ConfigError::File(error)),
    }
}

/// Puts a new file in the place of the old one, or of none, in one step.
fn replace(path: &Path, text: &str) -> io::Result<()> {
    if let Some(folder) = path.parent().filter(|folder| !folder.as_os_str().is_empty()) {
        fs::create_dir_all(folder)?;
    }
    platform::put_file(path, text.as_bytes())
}
