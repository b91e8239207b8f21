//! The place that practice is set on: the leader's own, or the invented island that stands in for it.

use super::Config;
use crate::angle::North;
use crate::ground::{Latitude, Longitude, Place, ReadPlaceError};

/// A place as the leader wrote it.
#[derive(Clone, Debug, PartialEq)]
pub struct HomePlace {
    text: String,
    place: Place,
}

impl HomePlace {
    /// Reads a place; see [`Place::read`].
    ///
    /// # Errors
    /// [`ReadPlaceError`], which says how to mend it.
    pub fn read(text: &str) -> Result<HomePlace, ReadPlaceError> {
        let place = Place::read(text)?;
        Ok(HomePlace { text: text.trim().to_owned(), place })
    }

    /// As it was written, without blanks around it.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The place.
    #[must_use]
    pub const fn place(&self) -> Place {
        self.place
    }
}

/// The ground that practice is set on.
#[derive(Clone, Debug, PartialEq)]
pub struct Ground {
    /// Its name.
    pub name: String,
    /// Where it is.
    pub place: Place,
    /// Height above the ellipsoid in metres.
    pub height_m: f64,
    /// The north lines that the maps of it have, in the order of [`Ground::LINES`].
    pub lines: Vec<North>,
    /// Whether it is invented, because no place is set.
    pub invented: bool,
}

impl Ground {
    /// Every north line a map can have, in the order in which they are written.
    pub const LINES: [North; 3] = [North::Magnetic, North::True, North::Grid];
    /// The name of a place that is set without one.
    pub const UNNAMED: &'static str = "Home ground";
    /// The name of the invented island. It lies in the open ocean where declination (about 10° W) and convergence (over
    /// 1° W) are both large enough that every mix-up shows.
    pub const INVENTED_NAME: &'static str = "Kelvory, an invented island";

    /// The invented island.
    #[must_use]
    pub fn invented() -> Ground {
        Ground {
            name: Ground::INVENTED_NAME.to_owned(),
            place: Place::from_degrees(46.8, -28.6).unwrap_or(Place::new(Latitude::EQUATOR, Longitude::PRIME)),
            height_m: 0.0,
            lines: Ground::LINES.to_vec(),
            invented: true,
        }
    }
}

impl Config {
    /// The ground that practice is set on: the one that is set, or the invented island. The lines of the leader's maps
    /// count on both.
    #[must_use]
    pub fn ground(&self) -> Ground {
        let home = &self.home;
        let mut ground = Ground::invented();
        if let Some(place) = &home.place {
            ground.name = home.name.clone().unwrap_or_else(|| Ground::UNNAMED.to_owned());
            ground.place = place.place();
            ground.height_m = home.height_m.unwrap_or(0.0);
            ground.invented = false;
        }
        if let Some(lines) = &home.lines {
            ground.lines.retain(|line| lines.contains(line));
        }
        ground
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::angle::Angle;
    use crate::geomag::{Model, Spot};
    use crate::ground::Utm;
    use jiff::civil::date;

    #[test]
    fn the_invented_island_shows_every_mix_up_as_long_as_the_model_reaches() {
        let ground = Ground::invented();
        let (latitude, longitude) = (ground.place.latitude.angle(), ground.place.longitude.angle());
        assert_eq!((latitude, longitude), (Angle::from_degrees(46.8), Angle::from_degrees(-28.6)));
        let spot = Spot::new(latitude, longitude, ground.height_m).unwrap();
        for day in [Model::FIRST, date(2026, 11, 25), Model::LAST] {
            let west = -Model::wmm2025().field(spot, day).unwrap().declination().angle().degrees();
            assert!((8.0..=12.0).contains(&west), "{west}° W on {day}");
        }
        let west = -Utm::from_place(ground.place).unwrap().convergence().angle().degrees();
        assert!((1.0..2.0).contains(&west), "{west}° W");
    }

    #[test]
    fn without_a_place_the_ground_is_invented_and_keeps_the_lines_of_the_leaders_maps() {
        let mut config = Config::default();
        config.home.name = Some("Hut".into());
        config.home.height_m = Some(900.0);
        config.home.lines = Some(vec![North::Grid, North::Magnetic]);
        let ground = config.ground();
        assert_eq!((ground.name.as_str(), ground.height_m, ground.invented), (Ground::INVENTED_NAME, 0.0, true));
        assert_eq!(ground.lines, [North::Magnetic, North::Grid]);
        config.home.place = HomePlace::read(" 47.5, 11.25 ").ok();
        let ground = config.ground();
        assert_eq!((ground.name.as_str(), ground.height_m, ground.invented), ("Hut", 900.0, false));
    }

    #[test]
    fn a_place_without_a_name_is_called_home_ground() {
        let place = HomePlace::read(" 47.5, 11.25 ").unwrap();
        assert_eq!(place.text(), "47.5, 11.25");
        let mut config = Config::default();
        config.home.place = Some(place);
        assert_eq!(config.ground().name, "Home ground");
        assert_eq!(config.ground().lines, Ground::LINES);
    }
}
