//! UTM zones, latitude bands, hemispheres, and which of them go together.
//!
//! Source of the layout: NGA.STND.0037 (2014), "The Universal Grids and the Transverse Mercator …", chapters 7 and 11:
//! zones of 6° from 180° W, bands of 8° from 80° S (the last, X, of 12°), zone 32 widened in band V (southern Norway),
//! four wide zones in band X (Svalbard).

use super::{Latitude, Longitude, Place};
use crate::numbers::whole;
use std::fmt;

/// North or south of the equator. On it counts as north.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Hemisphere {
    /// Northings count up from 0 at the equator.
    North,
    /// Northings count down from 10,000,000 m at the equator.
    South,
}

impl Hemisphere {
    /// The full word: north or south.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Hemisphere::North => "north",
            Hemisphere::South => "south",
        }
    }

    /// The northing that the equator has, metres.
    #[must_use]
    pub const fn equator_northing_m(self) -> f64 {
        match self {
            Hemisphere::North => 0.0,
            Hemisphere::South => 10_000_000.0,
        }
    }
}

/// A UTM zone, 1 to 60, counted eastward from 180° W.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Zone(u8);

impl Zone {
    /// The zone with this number, if there is one.
    #[must_use]
    pub const fn new(number: u8) -> Option<Zone> {
        if number >= 1 && number <= 60 { Some(Zone(number)) } else { None }
    }

    /// 1 to 60.
    #[must_use]
    pub const fn number(self) -> u8 {
        self.0
    }

    /// The zone a place lies in, Norway and Svalbard included. A border belongs to the zone east of it; 180° is zone 1.
    #[must_use]
    pub fn of(place: Place) -> Zone {
        let longitude = place.longitude.degrees();
        let latitude = place.latitude.degrees();
        // Dividing can round up onto the border (−6.000000000000001 / 6 is −1), comparing cannot.
        let mut sixth = (longitude / 6.0).floor();
        if longitude < sixth * 6.0 {
            sixth -= 1.0;
        }
        let usual = whole::<u8>((sixth + 30.0).rem_euclid(60.0)) + 1;
        let zone = if (56.0..64.0).contains(&latitude) && (3.0..12.0).contains(&longitude) {
            32
        } else if (72.0..=84.0).contains(&latitude) && (0.0..42.0).contains(&longitude) {
            match longitude {
                ..9.0 => 31,
                ..21.0 => 33,
                ..33.0 => 35,
                _ => 37,
            }
        } else {
            usual
        };
        Zone(zone)
    }

    /// The meridian down its middle: 6 × number − 183 degrees.
    #[must_use]
    pub fn central_meridian(self) -> Longitude {
        Longitude::PRIME.moved_east(f64::from(self.0) * 6.0 - 183.0)
    }

    /// How far the zone reaches west and east of its central meridian in a band, degrees (west is negative); `None`
    /// where Norway's and Svalbard's wide zones have swallowed it.
    pub(super) fn reach(self, band: Band) -> Option<(f64, f64)> {
        match (self.0, band.letter()) {
            (31, 'V') => Some((-3.0, 0.0)),
            (32, 'V') | (37, 'X') => Some((-6.0, 3.0)),
            (32 | 34 | 36, 'X') => None,
            (31, 'X') => Some((-3.0, 6.0)),
            (33 | 35, 'X') => Some((-6.0, 6.0)),
            _ => Some((-3.0, 3.0)),
        }
    }
}

/// The bare number, not padded.
impl fmt::Display for Zone {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

/// Why a zone number and a band letter are not a zone and band.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum GridZoneError {
    /// A zone outside 1 to 60.
    #[error("there is no zone {0}: zones run from 1 to 60")]
    Zone(u32),
    /// A band letter that does not exist.
    #[error("there is no band {0}: band letters run from C to X, without I and O")]
    BandLetter(char),
    /// A, B, Y or Z.
    #[error(
        "{0} names a polar area; UTM and MGRS are used here from {reach}, so give the place as latitude and longitude",
        reach = super::UTM_REACH
    )]
    Polar(char),
    /// One of the zones that Svalbard's wide zones have swallowed.
    #[error("there is no {0}X: in band X only the wide zones 31, 33, 35 and 37 lie there")]
    Svalbard(Zone),
}

/// Checks a zone number and a capital band letter.
pub(super) fn grid_zone(number: u32, letter: char) -> Result<(Zone, Band), GridZoneError> {
    if matches!(letter, 'A' | 'B' | 'Y' | 'Z') {
        return Err(GridZoneError::Polar(letter));
    }
    let zone = zone(number)?;
    let band = Band::new(letter).ok_or(GridZoneError::BandLetter(letter))?;
    if zone.reach(band).is_none() { Err(GridZoneError::Svalbard(zone)) } else { Ok((zone, band)) }
}

/// Checks a zone number.
pub(super) fn zone(number: u32) -> Result<Zone, GridZoneError> {
    u8::try_from(number).ok().and_then(Zone::new).ok_or(GridZoneError::Zone(number))
}

const LETTERS: [char; 20] =
    ['C', 'D', 'E', 'F', 'G', 'H', 'J', 'K', 'L', 'M', 'N', 'P', 'Q', 'R', 'S', 'T', 'U', 'V', 'W', 'X'];

/// A latitude band: 20 of them, C (from 80° S) to X (to 84° N), without I and O.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Band(u8);

impl Band {
    /// The band with this capital letter, if there is one.
    #[must_use]
    pub fn new(letter: char) -> Option<Band> {
        (0..).zip(LETTERS).find(|&(_, candidate)| candidate == letter).map(|(index, _)| Band(index))
    }

    /// The band of a latitude; `None` south of 80° S and north of 84° N. A border belongs to the band north of it, 84° N
    /// itself to X.
    #[must_use]
    pub fn of(latitude: Latitude) -> Option<Band> {
        let degrees = latitude.degrees();
        if !(-80.0..=84.0).contains(&degrees) {
            return None;
        }
        // By comparing, not by dividing: a latitude just under a border must not be rounded up onto it.
        (0..20).rev().map(Band).find(|band| band.south() <= degrees)
    }

    /// Its letter, C to X.
    #[must_use]
    pub const fn letter(self) -> char {
        LETTERS[self.0 as usize]
    }

    /// The hemisphere it lies in: C to M south, N to X north.
    #[must_use]
    pub const fn hemisphere(self) -> Hemisphere {
        if self.0 < 10 { Hemisphere::South } else { Hemisphere::North }
    }

    /// Its southern border, degrees.
    pub(super) fn south(self) -> f64 {
        f64::from(self.0) * 8.0 - 80.0
    }

    /// Its northern border, degrees.
    pub(super) fn north(self) -> f64 {
        if self.0 == 19 { 84.0 } else { self.south() + 8.0 }
    }

    /// The next band to the north.
    pub(super) const fn northern(self) -> Option<Band> {
        if self.0 < 19 { Some(Band(self.0 + 1)) } else { None }
    }

    /// The next band to the south.
    pub(super) const fn southern(self) -> Option<Band> {
        if self.0 > 0 { Some(Band(self.0 - 1)) } else { None }
    }

    /// The same in words: `40° N to 48° N`.
    pub(super) fn span(self) -> String {
        let border = |degrees: f64| match degrees {
            d if d < 0.0 => format!("{}° S", -d),
            d if d > 0.0 => format!("{d}° N"),
            _ => "the equator".to_owned(),
        };
        format!("{} to {}", border(self.south()), border(self.north()))
    }
}

/// The letter.
impl fmt::Display for Band {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.letter().fmt(f)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn zone_and_band(latitude: f64, longitude: f64) -> String {
        let place = Place::from_degrees(latitude, longitude).unwrap();
        let band = Band::of(place.latitude).map_or('-', Band::letter);
        format!("{}{band}", Zone::of(place))
    }

    #[test]
    fn a_zone_border_belongs_to_the_zone_east_of_it() {
        assert_eq!(zone_and_band(47.0, 12.0), "33T");
        assert_eq!(zone_and_band(47.0, 12.0_f64.next_down()), "32T");
        assert_eq!(zone_and_band(47.0, -6.0), "30T");
        assert_eq!(zone_and_band(47.0, (-6.0_f64).next_down()), "29T");
        assert_eq!(zone_and_band(47.0, (-0.0_f64).next_down()), "30T");
        assert_eq!(zone_and_band(47.0, 0.0), "31T");
    }

    #[test]
    fn both_names_of_the_antimeridian_are_zone_1() {
        assert_eq!(zone_and_band(10.0, 180.0), "1P");
        assert_eq!(zone_and_band(10.0, -180.0), "1P");
        assert_eq!(zone_and_band(10.0, 180.0_f64.next_down()), "60P");
    }

    #[test]
    fn a_band_border_belongs_to_the_band_north_of_it() {
        assert_eq!(zone_and_band(48.0, 11.0), "32U");
        assert_eq!(zone_and_band(48.0_f64.next_down(), 11.0), "32T");
        assert_eq!(zone_and_band(-8.0, 11.0), "32M");
        assert_eq!(zone_and_band((-8.0_f64).next_down(), 11.0), "32L");
        assert_eq!(zone_and_band(0.0, 11.0), "32N");
        assert_eq!(zone_and_band(-f64::MIN_POSITIVE, 11.0), "32M");
    }

    #[test]
    fn the_bands_end_at_80_south_and_84_north_exactly() {
        assert_eq!(zone_and_band(-80.0, 11.0), "32C");
        assert_eq!(zone_and_band((-80.0_f64).next_down(), 11.0), "32-");
        assert_eq!(zone_and_band(84.0, 11.0), "33X");
        assert_eq!(zone_and_band(84.0_f64.next_up(), 13.0), "33-");
    }

    #[test]
    fn norway_and_svalbard_have_zones_of_their_own_width() {
        // NGA.STND.0037, figure of the zones; the borders 0, 3, 9, 12, 21, 33, 42.
        for (latitude, longitude, expected) in [
            (60.0, 2.999, "31V"),
            (60.0, 3.0, "32V"),
            (63.999, 11.999, "32V"),
            (64.0, 3.0, "31W"),
            (55.999, 3.0, "31U"),
            (72.0, 8.999, "31X"),
            (72.0, 9.0, "33X"),
            (80.0, 20.999, "33X"),
            (80.0, 21.0, "35X"),
            (80.0, 33.0, "37X"),
            (80.0, 41.999, "37X"),
            (80.0, 42.0, "38X"),
            (80.0, -0.001, "30X"),
            (71.999, 8.0, "32W"),
        ] {
            assert_eq!(zone_and_band(latitude, longitude), expected, "{latitude} {longitude}");
        }
    }

    #[test]
    fn every_place_lies_within_the_reach_of_its_zone() {
        for latitude in -80..=84 {
            for longitude in -180..180 {
                let place = Place::from_degrees(f64::from(latitude), f64::from(longitude)).unwrap();
                let (zone, band) = (Zone::of(place), Band::of(place.latitude).unwrap());
                let (west, east) = zone.reach(band).unwrap();
                let from_middle = place.longitude.degrees_east_of(zone.central_meridian());
                assert!((west..east).contains(&from_middle), "{place} in {zone}{band}");
            }
        }
    }

    #[test]
    fn bands_say_where_they_lie() {
        assert_eq!(Band::new('T').unwrap().span(), "40° N to 48° N");
        assert_eq!(Band::new('M').unwrap().span(), "8° S to the equator");
        assert_eq!(Band::new('X').unwrap().span(), "72° N to 84° N");
        assert_eq!(Band::new('I'), None);
        assert_eq!(Zone::new(0), None);
        assert_eq!(Zone::new(61), None);
    }
}
