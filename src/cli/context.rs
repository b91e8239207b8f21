//! What every command starts from: the day, the place asked for, the files.

use super::args::Globals;
use super::fault::Fault;
use jiff::civil::Date;
use std::path::PathBuf;

/// The global options, read once. The clock is read here and in the front ends' loops, nowhere else.
#[derive(Debug)]
pub(super) struct Context {
    /// The learner's day.
    pub day: Date,
    /// The place as typed, if one was.
    pub at: Option<String>,
    /// The theme as typed, if one was.
    pub theme: Option<String>,
    store: Option<PathBuf>,
}

impl Context {
    /// Reads the global options.
    pub fn new(globals: Globals) -> Result<Context, Fault> {
        let day = match &globals.date {
            Some(text) => text
                .parse()
                .map_err(|_| Fault::Input(format!("--date {text:?} is not a day; write it like 2026-11-25")))?,
            None => jiff::ZonedDateTime::now().date(),
        };
        Ok(Context { day, at: globals.at, theme: globals.theme, store: globals.store })
    }

    /// The store's file: `--store`, `NEEDLEWISE_STORE`, or the platform's data directory.
    pub fn store_path(&self) -> Result<PathBuf, Fault> {
        if let Some(path) = &self.store {
            return Ok(path.clone());
        }
        if let Some(path) = std::env::var_os("NEEDLEWISE_STORE").filter(|path| !path.is_empty()) {
            return Ok(PathBuf::from(path));
        }
        use etcetera::BaseStrategy;
        let dirs = etcetera::choose_base_strategy().map_err(|_| {
            Fault::Store("there is no home folder to keep the records in; name a file with --store PATH".into())
        })?;
        Ok(dirs.data_dir().join("needlewise").join("records.sqlite"))
    }

    /// Home ground on the learner's day.
    pub fn ground_card(&self) -> Result<crate::session::GroundCard, Fault> {
        Ok(crate::session::GroundCard::new(&crate::config::Config::default(), "config.toml", self.day))
    }

    /// A seed that nobody can foresee, for choices that need not be repeated.
    pub fn seed(&self) -> u64 {
        use rand::TryRng;
        rand::rngs::SysRng.try_next_u64().unwrap_or_else(|_| jiff::Timestamp::now().as_nanosecond() as u64)
    }
}
