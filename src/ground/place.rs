//! Latitude, longitude, and the two together.

use crate::angle::Angle;
use std::fmt;

/// Why a number is no latitude or longitude.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum PlaceError {
    /// Beyond a pole, or not a number.
    #[error("{degrees} is not a latitude: latitudes run from 90 south (-90) to 90 north")]
    Latitude {
        /// What was given, degrees.
        degrees: f64,
    },
    /// Beyond the antimeridian, or not a number.
    #[error("{degrees} is not a longitude: longitudes run from 180 west (-180) to 180 east")]
    Longitude {
        /// What was given, degrees.
        degrees: f64,
    },
}

/// A latitude: −90 ≤ φ ≤ 90 degrees, north positive.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Latitude(f64);

impl Latitude {
    /// The equator.
    pub const EQUATOR: Latitude = Latitude(0.0);

    /// From degrees, north positive.
    ///
    /// # Errors
    /// [`PlaceError::Latitude`] beyond ±90 or for a NaN.
    pub fn from_degrees(degrees: f64) -> Result<Latitude, PlaceError> {
        if degrees.abs() <= 90.0 { Ok(Latitude(degrees)) } else { Err(PlaceError::Latitude { degrees }) }
    }

    /// Degrees, north positive, −90 to 90.
    #[must_use]
    pub const fn degrees(self) -> f64 {
        self.0
    }

    /// As a plain angle, north positive.
    #[must_use]
    pub const fn angle(self) -> Angle {
        Angle::from_degrees(self.0)
    }
}

/// Decimal degrees with the letter, never signed: `47.50000° N`. Five decimals (about a metre) unless told otherwise.
impl fmt::Display for Latitude {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let letter = if self.0 < 0.0 { 'S' } else { 'N' };
        write!(f, "{:.*}° {letter}", f.precision().unwrap_or(5), self.0.abs())
    }
}

/// A longitude: −180 ≤ λ ≤ 180 degrees, east positive. −180 and 180 name the same meridian but are kept as given.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Longitude(f64);

impl Longitude {
    /// The meridian that longitudes count from.
    pub const PRIME: Longitude = Longitude(0.0);

    /// From degrees, east positive.
    ///
    /// # Errors
    /// [`PlaceError::Longitude`] beyond ±180 or for a NaN.
    pub fn from_degrees(degrees: f64) -> Result<Longitude, PlaceError> {
        if degrees.abs() <= 180.0 { Ok(Longitude(degrees)) } else { Err(PlaceError::Longitude { degrees }) }
    }

    /// Degrees, east positive, −180 to 180.
    #[must_use]
    pub const fn degrees(self) -> f64 {
        self.0
    }

    /// As a plain angle, east positive.
    #[must_use]
    pub const fn angle(self) -> Angle {
        Angle::from_degrees(self.0)
    }

    /// How far east of another meridian, the short way round: −180 to 180 degrees. Exact for near meridians, which a
    /// `rem_euclid` would not be: its rounding alone costs some nanometres on the ground.
    pub(super) fn degrees_east_of(self, other: Longitude) -> f64 {
        let difference = self.0 - other.0;
        if difference > 180.0 {
            difference - 360.0
        } else if difference < -180.0 {
            difference + 360.0
        } else {
            difference
        }
    }

    /// The meridian so many degrees (at most a full circle) further east, brought back into −180 to 180.
    pub(super) fn moved_east(self, degrees: f64) -> Longitude {
        let sum = self.0 + degrees;
        let wrapped = if sum > 180.0 {
            sum - 360.0
        } else if sum < -180.0 {
            sum + 360.0
        } else {
            sum
        };
        Longitude(cut_to(180.0, wrapped))
    }
}

/// Decimal degrees with the letter, never signed: `11.25000° E`. Five decimals (about a metre) unless told otherwise.
impl fmt::Display for Longitude {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let letter = if self.0 < 0.0 { 'W' } else { 'E' };
        write!(f, "{:.*}° {letter}", f.precision().unwrap_or(5), self.0.abs())
    }
}

/// A place on the WGS84 ellipsoid. Heights are handled elsewhere.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// North positive.
    pub latitude: Latitude,
    /// East positive.
    pub longitude: Longitude,
}

impl Place {
    /// A place from its two parts.
    #[must_use]
    pub const fn new(latitude: Latitude, longitude: Longitude) -> Place {
        Place { latitude, longitude }
    }

    /// A place from signed degrees, north and east positive.
    ///
    /// # Errors
    /// [`PlaceError`] when the latitude lies beyond ±90 or the longitude beyond ±180.
    pub fn from_degrees(latitude: f64, longitude: f64) -> Result<Place, PlaceError> {
        Ok(Place { latitude: Latitude::from_degrees(latitude)?, longitude: Longitude::from_degrees(longitude)? })
    }

    /// For results of our own arithmetic: rounding noise beyond the range is cut off.
    pub(super) fn clamped(latitude: f64, longitude: f64) -> Place {
        Place { latitude: Latitude(cut_to(90.0, latitude)), longitude: Longitude(cut_to(180.0, longitude)) }
    }
}

/// Like `clamp(-limit, limit)`, but a NaN does not pass.
fn cut_to(limit: f64, degrees: f64) -> f64 {
    if degrees.abs() <= limit { degrees } else { limit.copysign(degrees) }
}

/// Decimal degrees with letters: `47.50000° N 11.25000° E`; [`Place::read`] reads it back.
impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.latitude.fmt(f)?;
        f.write_str(" ")?;
        self.longitude.fmt(f)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_poles_and_the_antimeridian_are_places_and_just_beyond_is_not() {
        assert!(Place::from_degrees(90.0, 180.0).is_ok());
        assert!(Place::from_degrees(-90.0, -180.0).is_ok());
        assert_eq!(Place::from_degrees(91.0, 0.0), Err(PlaceError::Latitude { degrees: 91.0 }));
        assert_eq!(Place::from_degrees(0.0, 181.0), Err(PlaceError::Longitude { degrees: 181.0 }));
        assert!(Latitude::from_degrees(f64::NAN).is_err());
        assert!(Longitude::from_degrees(f64::NEG_INFINITY).is_err());
    }

    #[test]
    fn a_wrong_number_is_named_with_the_range_that_would_be_right() {
        let text = Place::from_degrees(91.0, 0.0).map_err(|error| error.to_string());
        assert_eq!(text, Err("91 is not a latitude: latitudes run from 90 south (-90) to 90 north".into()));
        let text = Place::from_degrees(0.0, 181.0).map_err(|error| error.to_string());
        assert_eq!(text, Err("181 is not a longitude: longitudes run from 180 west (-180) to 180 east".into()));
    }

    #[test]
    fn a_place_prints_with_letters_and_no_sign() {
        let place = Place::from_degrees(-33.9, 18.4).unwrap();
        assert_eq!(place.to_string(), "33.90000° S 18.40000° E");
        assert_eq!(format!("{place:.1}"), "33.9° S 18.4° E");
    }

    #[test]
    fn the_way_between_meridians_goes_across_the_antimeridian_when_that_is_shorter() {
        let east = Longitude(179.0);
        let west = Longitude(-179.0);
        assert_eq!(west.degrees_east_of(east), 2.0);
        assert_eq!(east.degrees_east_of(west), -2.0);
        assert_eq!(east.moved_east(2.0), west);
        assert_eq!(west.moved_east(-2.0), east);
    }
}
