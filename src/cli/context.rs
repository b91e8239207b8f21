//! What every command starts from: the day, the place asked for, the files.

use super::args::Globals;
use super::fault::Fault;
use super::patience::with_word;
use super::settings::Settings;
use crate::config::{Config, HomePlace};
use crate::drill::Standard;
use crate::ground::Place;
use crate::platform;
use crate::session::{Days, GroundCard};
use crate::textfile::shown;
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
    /// Whether nothing may move by itself.
    pub still: bool,
    /// The time zone of this machine, when the day follows the clock; none when it was given.
    pub zone: Option<jiff::tz::TimeZone>,
    store: Option<PathBuf>,
}

/// Seeds that nobody gave are smaller than this where they are printed.
const SEEDS: u64 = 1_000_000;

/// Said where a check's bounds are searched for longer than a moment.
pub(super) const PLANNING: &str = "Working out the bounds of the check: with such error rates there are many to try.";

/// The end of the year 9899, in seconds since 1970.
const LAST_SECOND: i64 = 250_246_627_200;

/// A place and a height.
#[derive(Clone, Debug)]
pub(super) struct Whereabouts {
    /// The place.
    pub place: Place,
    /// Metres above the ellipsoid.
    pub height_m: f64,
    /// When it is home ground: its name, and whether it is invented.
    pub home: Option<(String, bool)>,
}

impl Context {
    /// Reads the global options.
    pub fn new(globals: Globals) -> Result<Context, Fault> {
        // Beyond it days can no longer be reckoned with.
        if !can_reckon_with(std::time::SystemTime::now()) {
            return Err(Fault::Could(
                "the clock of this machine stands beyond the year 9900; set it right first".to_owned(),
            ));
        }
        let mut zone = None;
        let day = match &globals.date {
            Some(text) => text
                .parse()
                .map_err(|_| Fault::Input(format!("--date {text:?} is not a day; write it like 2026-11-25")))?,
            None => jiff::Timestamp::now().to_zoned_datetime(zone.insert(local_zone()).clone()).date(),
        };
        Ok(Context { day, at: globals.at, theme: globals.theme, still: globals.still, store: globals.store, zone })
    }

    /// The store's file: `--store`, `NEEDLEWISE_STORE`, or the platform's data directory.
    pub fn store_path(&self) -> Result<PathBuf, Fault> {
        if let Some(path) = &self.store {
            return Ok(path.clone());
        }
        if let Some(path) = std::env::var_os("NEEDLEWISE_STORE").filter(|path| !path.is_empty()) {
            return Ok(PathBuf::from(path));
        }
        let folder = platform::data_folder().ok_or_else(|| {
            Fault::Store("there is no home folder to keep the records in; name a file with --store PATH".into())
        })?;
        Ok(folder.join("needlewise").join("records.sqlite"))
    }

    /// The folder of the settings, whose folder `drills` holds a leader's own drills; none without a home folder.
    pub fn config_dir(&self) -> Option<PathBuf> {
        Config::path().ok().and_then(|path| path.parent().map(PathBuf::from))
    }

    /// The settings on the learner's day.
    pub fn settings(&self) -> Result<Settings, Fault> {
        Settings::new(self.day)
    }

    /// The place asked for with `--at`, if one was.
    pub fn place_asked(&self) -> Result<Option<HomePlace>, Fault> {
        let read = |text: &String| {
            HomePlace::read(text).map_err(|error| {
                Fault::Input(format!("--at {}: give lat,lon like \"46.8, -28.6\", UTM or MGRS ({error})", shown(text)))
            })
        };
        self.at.as_ref().map(read).transpose()
    }

    /// Where the magnetic field is asked for: the place of `--at`, else home ground. `height_m` goes before home ground's.
    pub fn whereabouts(&self, height_m: Option<f64>) -> Result<Whereabouts, Fault> {
        let (home, place, height) = match self.place_asked()? {
            Some(asked) => (None, asked.place(), 0.0),
            None => {
                let ground = self.settings()?.load()?.ground();
                (Some((ground.name, ground.invented)), ground.place, ground.height_m)
            }
        };
        Ok(Whereabouts { place, height_m: height_m.unwrap_or(height), home })
    }

    /// The ground for practice on the learner's day: the place of `--at`, else home ground.
    pub fn ground_card(&self) -> Result<GroundCard, Fault> {
        let settings = self.settings()?;
        let config = settings.load()?;
        Ok(match self.place_asked()? {
            Some(place) => settings.card_at(config, place),
            None => settings.card(&config),
        })
    }

    /// Where the learner's day comes from.
    pub fn days(&self) -> Days {
        self.zone.clone().map_or(Days::Given(self.day), Days::Clock)
    }

    /// Whether the day was given by hand, and not the clock's.
    pub const fn day_given(&self) -> bool {
        self.zone.is_none()
    }

    /// A standard by its name or file, for the north lines that the leader's maps have.
    pub fn standard(&self, named: Option<&str>) -> Result<Standard, Fault> {
        let named = named.unwrap_or(Standard::DEFAULT);
        let standard = with_word(PLANNING, || Standard::find(named, self.config_dir().as_deref()))?;
        // Without a home folder there are no settings.
        let config = self.settings().ok().map(|settings| settings.load()).transpose()?;
        let lines = config.and_then(|config| config.home.lines);
        Ok(standard.on_lines(lines.as_deref()))
    }

    /// A seed that nobody can foresee, of at most six figures, so that whoever wants the same again can type it.
    pub fn short_seed(&self) -> u64 {
        self.seed() % SEEDS
    }

    /// A seed that nobody can foresee, for choices that need not be repeated.
    pub fn seed(&self) -> u64 {
        use rand::TryRng;
        rand::rngs::SysRng
            .try_next_u64()
            .unwrap_or_else(|_| u64::try_from(jiff::Timestamp::now().as_nanosecond()).unwrap_or(0))
    }
}

/// Whether days around a moment can be reckoned with.
fn can_reckon_with(now: std::time::SystemTime) -> bool {
    jiff::Timestamp::try_from(now).is_ok_and(|now| now.as_second() <= LAST_SECOND)
}

/// The time zone of this machine. The index of all zones is not built for it: reading that takes longer than all the rest
/// of the start. A zone named in `TZ` is read from its file.
fn local_zone() -> jiff::tz::TimeZone {
    let named = std::env::var("TZ").ok().filter(|name| !name.is_empty() && !name.starts_with([':', '/', '.']));
    let from_file = |name: &str| jiff::tz::TimeZone::tzif(name, &platform::zone_file(name)?).ok();
    named.as_deref().and_then(from_file).unwrap_or_else(jiff::tz::TimeZone::system)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::time::{Duration, SystemTime};

    #[test]
    fn a_clock_beyond_9999_is_told_and_not_reckoned_with() {
        assert!(can_reckon_with(SystemTime::now()));
        for seconds in [250_246_627_201, 253_402_300_800, 1 << 40, 1 << 60] {
            assert!(!can_reckon_with(SystemTime::UNIX_EPOCH + Duration::from_secs(seconds)), "{seconds}");
        }
    }
}
