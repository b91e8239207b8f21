//! Shortest lines on the WGS84 ellipsoid: bearing and distance between places, and the way back.
//!
//! The work is done by `geographiclib-rs` (C. F. F. Karney, "Algorithms for geodesics", J. Geodesy 87, 2013), good to
//! nanometres and for every pair of places.

use super::Place;
use crate::angle::{Bearing, True};
use geographiclib_rs::{DirectGeodesic, Geodesic, InverseGeodesic};

/// The shortest line from one place to another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leg {
    /// Length on the ellipsoid, metres, never negative.
    pub distance_m: f64,
    /// True bearing at the first place, toward the second.
    pub bearing: Bearing<True>,
    /// True bearing at the second place, toward the first. Meridians converge: it is not just 180° more.
    pub back_bearing: Bearing<True>,
}

/// Where a line ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arrival {
    /// The end.
    pub place: Place,
    /// True bearing at the end, going on along the same line.
    pub onward: Bearing<True>,
}

/// The shortest line between two places.
///
/// For twice the same place the distance is 0, the bearing 000 and the back bearing 180, which mean nothing. From a
/// pole the bearing counts from the meridian of the longitude given for the pole.
#[must_use]
pub fn inverse(from: Place, to: Place) -> Leg {
    let (distance_m, start, end, _arc): (f64, f64, f64, f64) = Geodesic::wgs84().inverse(
        from.latitude.degrees(),
        from.longitude.degrees(),
        to.latitude.degrees(),
        to.longitude.degrees(),
    );
    let (start, end) = if distance_m == 0.0 { (0.0, 0.0) } else { (start, end) };
    Leg { distance_m, bearing: Bearing::from_degrees(start), back_bearing: Bearing::from_degrees(end).back() }
}

/// The place reached from another by a true bearing and a distance.
///
/// `metres` may be negative (backward) and as long as you like; a NaN or infinity counts as 0.
#[must_use]
pub fn direct(from: Place, bearing: Bearing<True>, metres: f64) -> Arrival {
    let metres = if metres.is_finite() { metres } else { 0.0 };
    let (latitude, longitude, onward): (f64, f64, f64) =
        Geodesic::wgs84().direct(from.latitude.degrees(), from.longitude.degrees(), bearing.degrees(), metres);
    Arrival { place: Place::clamped(latitude, longitude), onward: Bearing::from_degrees(onward) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn place(latitude: f64, longitude: f64) -> Place {
        Place::from_degrees(latitude, longitude).unwrap()
    }

    #[test]
    fn twice_the_same_place_gives_no_distance_and_no_nonsense() {
        for here in [place(0.0, 0.0), place(47.5, 11.25), place(90.0, 0.0), place(-90.0, 13.0), place(10.0, 180.0)] {
            let leg = inverse(here, here);
            assert_eq!((leg.distance_m, leg.bearing.degrees(), leg.back_bearing.degrees()), (0.0, 0.0, 180.0));
        }
    }

    #[test]
    fn the_antimeridian_is_no_wall() {
        let leg = inverse(place(0.0, 179.5), place(0.0, -179.5));
        // One degree of the WGS84 equator: a π / 180.
        assert!((leg.distance_m - 6_378_137.0_f64.to_radians()).abs() < 1e-6);
        assert!((leg.bearing.degrees() - 90.0).abs() < 1e-9);
        assert!((leg.back_bearing.degrees() - 270.0).abs() < 1e-9);
    }

    #[test]
    fn from_pole_to_pole_is_half_a_meridian() {
        // Quarter meridian of WGS84 10001965.7293 m, from memory.
        let leg = inverse(place(90.0, 0.0), place(-90.0, 0.0));
        assert!((leg.distance_m - 2.0 * 10_001_965.729_3).abs() < 1e-3, "{leg:?}");
        assert_eq!(leg.bearing.degrees(), 180.0);
    }

    #[test]
    fn a_distance_that_is_no_number_goes_nowhere() {
        let here = place(47.5, 11.25);
        for metres in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            let end = direct(here, Bearing::from_degrees(65.0), metres).place;
            assert!(inverse(here, end).distance_m < 1e-6);
        }
    }

    proptest! {
        #[test]
        fn going_there_and_looking_back_finds_the_start(
            latitude in -89.0..89.0, longitude in -180.0..180.0, bearing in 0.0..360.0, metres in 1.0..30_000.0,
        ) {
            let from = place(latitude, longitude);
            let to = direct(from, Bearing::from_degrees(bearing), metres).place;
            let leg = inverse(from, to);
            prop_assert!((leg.distance_m - metres).abs() < 1e-7);
            let back = direct(to, leg.back_bearing, metres).place;
            prop_assert!(inverse(from, back).distance_m < 1e-7);
        }

        #[test]
        fn any_numbers_at_all_end_on_the_ellipsoid(
            latitude in -90.0..=90.0, longitude in -180.0..=180.0, bearing in -720.0..720.0, metres in proptest::num::f64::ANY,
        ) {
            let arrival = direct(place(latitude, longitude), Bearing::from_degrees(bearing), metres);
            prop_assert!(arrival.place.latitude.degrees().abs() <= 90.0);
            prop_assert!(arrival.place.longitude.degrees().abs() <= 180.0);
        }
    }
}
