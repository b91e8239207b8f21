//! What the leader's own map prints about its norths, and what becomes of it with the years.

use crate::angle::{Angle, Declination, GridMagnetic};
use crate::geomag::{AnnualChange, decimal_year};
use jiff::civil::Date;
use std::fmt;

/// When the printed numbers hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MapDate {
    /// A year, as most maps print it.
    Year(i16),
    /// A day.
    Day(Date),
}

impl MapDate {
    /// The years that can be set; 1800 is older than any map in use.
    pub const YEARS: std::ops::RangeInclusive<i16> = 1800..=2100;

    /// Years from then to a day; negative when the day is earlier. A printed year counts in whole years, as one does by
    /// hand.
    #[must_use]
    pub fn years_to(self, day: Date) -> f64 {
        match self {
            MapDate::Year(year) => f64::from(day.year() - year),
            MapDate::Day(printed) => decimal_year(day) - decimal_year(printed),
        }
    }
}

impl fmt::Display for MapDate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            MapDate::Year(year) => year.fmt(f),
            MapDate::Day(day) => day.fmt(f),
        }
    }
}

/// The norths of the leader's map as printed; what it does not print is `None`.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct OwnMap {
    /// The declination.
    pub declination: Option<Declination>,
    /// The G-M angle.
    pub grid_magnetic: Option<GridMagnetic>,
    /// When both hold.
    pub date: Option<MapDate>,
    /// How much both change in a year.
    pub annual_change: Option<AnnualChange>,
}

impl OwnMap {
    /// The largest yearly change that can be set, to either side. Only close to a magnetic pole is it larger.
    pub const LARGEST_CHANGE: Angle = Angle::from_degrees(2.0);

    /// Whether it prints neither a declination nor a G-M angle.
    #[must_use]
    pub const fn is_blank(&self) -> bool {
        self.declination.is_none() && self.grid_magnetic.is_none()
    }

    /// The declination brought to a day; as printed when the year or the yearly change is not known.
    #[must_use]
    pub fn declination_on(&self, day: Date) -> Option<Declination> {
        let change = self.change_until(day).unwrap_or_default();
        self.declination.map(|printed| Declination::from_angle(printed.angle() + change))
    }

    /// The G-M angle brought to a day; as printed when the year or the yearly change is not known.
    #[must_use]
    pub fn grid_magnetic_on(&self, day: Date) -> Option<GridMagnetic> {
        let change = self.change_until(day).unwrap_or_default();
        self.grid_magnetic.map(|printed| GridMagnetic::from_angle(printed.angle() + change))
    }

    /// What the years have added since it was printed, east positive; `None` when the year or the change is not known.
    #[must_use]
    pub fn change_until(&self, day: Date) -> Option<Angle> {
        Some(self.annual_change?.angle() * self.date?.years_to(day))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn map(declination: f64, minutes: f64, date: MapDate) -> OwnMap {
        OwnMap {
            declination: Some(Declination::from_degrees(declination)),
            grid_magnetic: Some(GridMagnetic::from_degrees(declination - 1.0)),
            date: Some(date),
            annual_change: Some(AnnualChange::from_angle(Angle::from_minutes(minutes))),
        }
    }

    #[test]
    fn an_eastward_change_makes_a_west_declination_smaller() {
        // By hand: 7 years of 9 minutes are 1°03′, and 3°30′ W less 1°03′ is 2°27′ W.
        let map = map(-3.5, 9.0, MapDate::Year(2019));
        assert_eq!(map.declination_on(date(2026, 11, 25)).unwrap().to_string(), "2°27′ W");
        assert_eq!(map.grid_magnetic_on(date(2026, 1, 1)).unwrap().to_string(), "3°27′ W");
    }

    #[test]
    fn the_change_goes_through_zero_and_backward_in_time_too() {
        let map = map(-0.25, 10.0, MapDate::Year(2020));
        assert_eq!(map.declination_on(date(2025, 6, 1)).unwrap().to_string(), "0°35′ E");
        assert_eq!(map.declination_on(date(2017, 6, 1)).unwrap().to_string(), "0°45′ W");
    }

    #[test]
    fn a_printed_day_counts_to_the_day() {
        let map = map(-3.0, 60.0, MapDate::Day(date(2024, 7, 1)));
        assert_eq!(map.declination_on(date(2025, 1, 1)).unwrap().to_string(), "2°30′ W");
    }

    #[test]
    fn without_a_year_or_a_change_the_number_stands_as_printed() {
        let mut undated = map(-3.5, 9.0, MapDate::Year(2019));
        undated.date = None;
        let mut steady = map(-3.5, 9.0, MapDate::Year(2019));
        steady.annual_change = None;
        for map in [undated, steady] {
            assert_eq!(map.change_until(date(2026, 11, 25)), None);
            assert_eq!(map.declination_on(date(2026, 11, 25)), map.declination);
        }
        assert!(OwnMap::default().is_blank() && !undated.is_blank());
    }
}
