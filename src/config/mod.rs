//! The settings: home ground, the numbers printed on the leader's own map, the theme. One TOML file, `config.toml`.
//!
//! What lives here: [`Config`] (what the file says), [`Ground`] (the place that follows from it, invented when none is
//! set), where the file is, reading it with errors that name the place in it, and writing it so that remarks and other
//! lines stay as they are. What does not: what the place means on a day ([`crate::session`]) and the themes themselves.

mod error;
mod fault;
mod file;
mod ground;
mod key;
mod own_map;
mod read;
#[cfg(test)]
mod tests;
mod value;
mod write;

pub use error::{ConfigError, Faults};
pub use fault::FaultKind;
pub use ground::{Ground, HomePlace};
pub use key::{Key, Table};
pub use own_map::{MapDate, OwnMap};
pub use value::{
    ValueError, read_annual_change, read_day, read_height, read_lines, read_name, read_printed_angle, read_theme,
    read_year,
};

use crate::angle::North;
use crate::geomag::Spot;

/// The environment variable that names another file.
pub const ENVIRONMENT: &str = "NEEDLEWISE_CONFIG";

/// The themes that `theme` can name.
pub const THEMES: [&str; 6] = ["dark", "day", "sun", "night", "16", "none"];

/// Everything the file can say.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Config {
    /// Home ground: `[home]`.
    pub home: Home,
    /// What the leader's own map prints: `[map]`.
    pub map: OwnMap,
    /// The screen: `[screen]`.
    pub screen: Screen,
}

/// Home ground as the file says it; what is not said is `None`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Home {
    /// What the leader calls it.
    pub name: Option<String>,
    /// Where it is.
    pub place: Option<HomePlace>,
    /// Height above the ellipsoid in metres, [`Spot::LOWEST_M`] to [`Spot::HIGHEST_M`].
    pub height_m: Option<f64>,
    /// The north lines that the leader's maps have, each once, at least one; `None` stands for all three.
    pub lines: Option<Vec<North>>,
}

impl Home {
    /// The heights that can be set, in metres.
    pub const HEIGHTS_M: std::ops::RangeInclusive<f64> = Spot::LOWEST_M..=Spot::HIGHEST_M;
    /// The most letters of a name.
    pub const LONGEST_NAME: usize = 60;
}

/// The screen as the file says it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Screen {
    /// The theme's name, one of [`THEMES`].
    pub theme: Option<&'static str>,
}
