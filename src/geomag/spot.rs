//! The place a field is asked for.

use super::GeomagError;
use crate::angle::Angle;

/// A place in geodetic (WGS84) coordinates: latitude, longitude and height above the ellipsoid, all checked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    latitude: Angle,
    longitude: Angle,
    height_m: f64,
}

impl Spot {
    /// Lowest height the World Magnetic Model is made for, in metres above the ellipsoid (WMM technical report: 1 km
    /// below the surface; the number is from memory, and a general reference library has the same limit).
    pub const LOWEST_M: f64 = -1_000.0;
    /// Highest height the World Magnetic Model is made for, in metres above the ellipsoid (as above).
    pub const HIGHEST_M: f64 = 850_000.0;

    /// A place from latitude (north positive, −90 to 90 degrees), longitude (east positive, −180 to 180 degrees; both ends
    /// are the same meridian) and height in metres above the WGS84 ellipsoid. Height above sea level will do as well: a
    /// hundred metres are nothing to the field.
    ///
    /// # Errors
    ///
    /// [`GeomagError::Latitude`], [`GeomagError::Longitude`] or [`GeomagError::Height`] when a number is out of its range
    /// or not a number.
    pub fn new(latitude: Angle, longitude: Angle, height_m: f64) -> Result<Spot, GeomagError> {
        if !(-90.0..=90.0).contains(&latitude.degrees()) {
            return Err(GeomagError::Latitude { latitude });
        }
        if !(-180.0..=180.0).contains(&longitude.degrees()) {
            return Err(GeomagError::Longitude { longitude });
        }
        if !(Spot::LOWEST_M..=Spot::HIGHEST_M).contains(&height_m) {
            return Err(GeomagError::Height { height_m });
        }
        // One meridian, one number: so that 180 and −180 give the same field to the last digit.
        let longitude = if longitude.degrees() == 180.0 { -longitude } else { longitude };
        Ok(Spot { latitude, longitude, height_m })
    }

    /// Geodetic latitude, north positive, −90 to 90 degrees.
    #[must_use]
    pub const fn latitude(self) -> Angle {
        self.latitude
    }

    /// Longitude, east positive, −180 ≤ longitude < 180 degrees.
    #[must_use]
    pub const fn longitude(self) -> Angle {
        self.longitude
    }

    /// Height above the WGS84 ellipsoid in metres.
    #[must_use]
    pub const fn height_m(self) -> f64 {
        self.height_m
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spot(latitude: f64, longitude: f64, height_m: f64) -> Result<Spot, GeomagError> {
        Spot::new(Angle::from_degrees(latitude), Angle::from_degrees(longitude), height_m)
    }

    #[test]
    fn the_ends_of_every_range_belong_to_it() {
        for (latitude, longitude, height_m) in [(90.0, 180.0, 850_000.0), (-90.0, -180.0, -1_000.0), (-0.0, 0.0, 0.0)] {
            assert!(spot(latitude, longitude, height_m).is_ok());
        }
    }

    #[test]
    fn fifty_kilometres_under_the_ground_is_refused_in_words() {
        let error = spot(10.0, 10.0, -50_000.0).unwrap_err();
        assert_eq!(
            error.to_string(),
            "The magnetic model does not reach a height of -50000 metres. It is made for heights from -1000 to 850000 \
             metres above the ellipsoid."
        );
    }

    #[test]
    fn numbers_beyond_the_ranges_are_refused() {
        assert!(matches!(spot(90.000_001, 0.0, 0.0), Err(GeomagError::Latitude { .. })));
        assert!(matches!(spot(0.0, -180.000_001, 0.0), Err(GeomagError::Longitude { .. })));
        assert!(matches!(spot(0.0, 0.0, 850_000.1), Err(GeomagError::Height { .. })));
        assert!(matches!(spot(0.0, 0.0, f64::NAN), Err(GeomagError::Height { .. })));
        let endless = Angle::from_degrees(f64::MAX) + Angle::from_degrees(f64::MAX);
        assert!(matches!(Spot::new(endless, Angle::ZERO, 0.0), Err(GeomagError::Latitude { .. })));
    }
}
