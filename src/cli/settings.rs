//! The settings' file on one day: what the commands and the screens read from it and write to it.

use super::fault::Fault;
use crate::config::{Config, ConfigError, Home, HomePlace, OwnMap, read_theme};
use crate::session::GroundCard;
use crate::textfile::FileError;
use jiff::civil::Date;
use std::path::{Path, PathBuf};

/// The file and the day.
#[derive(Clone, Debug)]
pub(super) struct Settings {
    path: PathBuf,
    day: Date,
}

impl Settings {
    /// The settings where they usually are.
    pub fn new(day: Date) -> Result<Settings, Fault> {
        Ok(Settings { path: Config::path()?, day })
    }

    /// The file.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// What it says.
    pub fn load(&self) -> Result<Config, ConfigError> {
        Config::load(&self.path)
    }

    /// The file in words, and whether it is there.
    pub fn words(&self) -> String {
        let note = if self.path.exists() { "" } else { " (not written yet)" };
        format!("{}{note}", super::fault::clean(&self.path.display().to_string()))
    }

    /// Home ground on the day.
    pub fn card(&self, config: &Config) -> GroundCard {
        GroundCard::new(config, &self.words(), self.day)
    }

    /// The ground of a place that was asked for instead of home ground, on the day. The maps' lines stay those of the
    /// settings; the own map is of home ground and stays out.
    pub fn card_at(&self, config: Config, place: HomePlace) -> GroundCard {
        let name = Some(place.text().to_owned());
        let home = Home { name, place: Some(place), height_m: None, lines: config.home.lines };
        self.card(&Config { home, map: OwnMap::default(), screen: config.screen })
    }

    /// Sets the place of home ground, writes it, and gives the ground as it is now; else what to say.
    pub fn set_place(&self, place: &str) -> Result<GroundCard, String> {
        let place = HomePlace::read(place).map_err(|error| super::fault::clean(&error.to_string()))?;
        let mut config = self.load().map_err(|error| error.to_string())?;
        config.home.place = Some(place);
        config.save(&self.path).map_err(|error| error.to_string())?;
        Ok(self.card(&config))
    }

    /// Sets the theme and writes it; else what to say.
    pub fn set_theme(&self, theme: &str) -> Result<(), String> {
        let mut config = self.load().map_err(|error| error.to_string())?;
        config.screen.theme = Some(read_theme(theme).map_err(|error| error.to_string())?);
        config.save(&self.path).map_err(|error| error.to_string())
    }
}

/// Faults of the file are bad input; everything else could not be done.
impl From<ConfigError> for Fault {
    fn from(error: ConfigError) -> Fault {
        let text = error.render(false);
        // The program's name stands before the message already.
        let text = text.strip_prefix("error: ").unwrap_or(&text).to_owned();
        match error {
            ConfigError::Faults(_) | ConfigError::File(FileError::NotText { .. } | FileError::TooBig { .. }) => {
                Fault::Input(text)
            }
            ConfigError::NoHome
            | ConfigError::File(_)
            | ConfigError::Unwritable { .. }
            | ConfigError::Layout { .. } => Fault::Could(text),
        }
    }
}
