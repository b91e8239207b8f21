//! The file itself: where it is, reading it, and writing it so that it is either as it was or as it shall be.

use super::error::{ConfigError, unwritable};
use super::read::read;
use super::write::{TEMPLATE, rewritten};
use super::{Config, ENVIRONMENT};
use crate::platform;
use crate::textfile::{FileError, Origin, read_file};
use std::fs::{self, File};
use std::io::{self, Write};
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
    // A link (as people have who keep their settings elsewhere) stays a link: what it leads to is replaced.
    let target = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    let folder = target.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    fs::create_dir_all(folder)?;
    let name = target.file_name().ok_or(io::ErrorKind::InvalidInput)?;
    let mut hidden = std::ffi::OsString::from(".");
    hidden.push(name);
    hidden.push(format!(".{}.new", std::process::id()));
    let beside = folder.join(hidden);
    let done = write_beside(&beside, text).and_then(|()| fs::rename(&beside, &target));
    if done.is_err() {
        // Nothing more can be done about a leftover that cannot be removed.
        let _ = fs::remove_file(&beside);
    }
    done?;
    // The new name itself must reach the disk, too. Not every system can do that, and the file is whole either way.
    if let Ok(folder) = File::open(folder) {
        let _ = folder.sync_all();
    }
    Ok(())
}

fn write_beside(beside: &Path, text: &str) -> io::Result<()> {
    // For its owner alone, whatever the old one was: home ground is where children camp.
    let _ = fs::remove_file(beside);
    platform::make_private_file(beside)?;
    let mut file = File::options().write(true).open(beside)?;
    file.write_all(text.as_bytes())?;
    file.sync_all()
}
