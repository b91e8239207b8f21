//! Universal Transverse Mercator: eastings and northings with their zone, band, convergence and scale.

use super::projection::{OnGrid, OnGround};
use super::{Band, Hemisphere, Place, TransverseMercator, Zone};
use crate::angle::{Bearing, Convergence, Grid};
use crate::numbers::whole;
use std::fmt;

/// A coordinate this little short of the next whole metre (or other printed step) counts as that metre, metres.
///
/// Cutting off means cutting off; but a place read from a grid text comes back from degrees up to 5 nm short (measured
/// over 400,000 places), and without this the text would not survive a round trip.
const CUT_OFF_SLACK_M: f64 = 2e-8;

/// How far a coordinate that was cut off or rounded to the metre may put a place over a border, degrees of latitude.
pub(super) const TWO_METRES_DEG: f64 = 1.8e-5;

/// How far UTM and MGRS reach, in words.
pub const UTM_REACH: &str = "80° S to 84° N";

/// Why there are no such UTM coordinates, or none for this place.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum UtmError {
    /// South of 80° S or north of 84° N.
    #[error("UTM and MGRS reach from {} only; give this place as latitude and longitude", UTM_REACH)]
    Polar,
    /// Projected into a zone a long way off.
    #[error("this place lies too far from zone {0}; take the zone it lies in")]
    FarFromZone(Zone),
    /// An easting that no zone has.
    #[error(
        "the easting {0} cannot be: eastings run from 100000 to 900000 metres; check its figures, and that it stands before the northing"
    )]
    Easting(f64),
    /// A northing beyond 10,000,000 or below 0.
    #[error(
        "the northing {0} cannot be: northings run from 0 to 10000000 metres; check its figures, and that it stands after the easting"
    )]
    Northing(f64),
}

/// A position on the UTM grid. WGS84, metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Utm {
    place: Place,
    zone: Zone,
    band: Band,
    on_grid: OnGrid,
}

/// The straight line on the grid between two positions of one zone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GridLeg {
    /// Length on the grid, metres. Ground lengths are longer or shorter by the scale (0.9996 to about 1.001 in a zone).
    pub distance_m: f64,
    /// Bearing from grid north. For twice the same position it is 000 and means nothing.
    pub bearing: Bearing<Grid>,
}

/// Two positions whose grids do not fit together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("zone {from} and zone {to} have different grids; give both positions in one zone")]
pub struct NotOneZone {
    /// The zone of the first position.
    pub from: Zone,
    /// The zone of the second.
    pub to: Zone,
}

impl Utm {
    /// The UTM position of a place, in the zone it lies in.
    ///
    /// # Errors
    /// [`UtmError::Polar`] outside 80° S to 84° N.
    pub fn from_place(place: Place) -> Result<Utm, UtmError> {
        Utm::in_zone(place, Zone::of(place))
    }

    /// The UTM position of a place in a given zone, as needed for a line that crosses into the next one.
    ///
    /// # Errors
    /// [`UtmError::Polar`] outside 80° S to 84° N, [`UtmError::FarFromZone`] beyond 40° from the zone's middle.
    pub fn in_zone(place: Place, zone: Zone) -> Result<Utm, UtmError> {
        let band = Band::of(place.latitude).ok_or(UtmError::Polar)?;
        let grid = TransverseMercator::utm(zone.central_meridian());
        let mut on_grid = grid.forward(place).map_err(|_| UtmError::FarFromZone(zone))?;
        if band.hemisphere() == Hemisphere::South {
            // A hair south of the equator the sum rounds up to the equator itself, which is not south.
            let equator = Hemisphere::South.equator_northing_m();
            on_grid.northing_m = (equator + on_grid.northing_m).min(equator.next_down());
        }
        Ok(Utm { place, zone, band, on_grid })
    }

    /// The position with these coordinates, metres. The place may lie somewhat outside the zone, as on the overlap of
    /// two map sheets; the equator is always taken as north.
    ///
    /// # Errors
    /// [`UtmError`] when no place has these coordinates or it lies more than two metres outside 80° S to 84° N.
    pub fn new(zone: Zone, hemisphere: Hemisphere, easting_m: f64, northing_m: f64) -> Result<Utm, UtmError> {
        if !(100_000.0..=900_000.0).contains(&easting_m) {
            return Err(UtmError::Easting(easting_m));
        }
        if !(0.0..=10_000_000.0).contains(&northing_m) {
            return Err(UtmError::Northing(northing_m));
        }
        let OnGround { place, convergence, scale } = on_ground(zone, hemisphere, easting_m, northing_m)?;
        // The limits themselves, printed and so cut off to the metre, must be readable.
        let degrees = place.latitude.degrees();
        let limited = degrees.clamp(-80.0, 84.0);
        if (degrees - limited).abs() > TWO_METRES_DEG {
            return Err(UtmError::Polar);
        }
        let band = Band::of(Place::clamped(limited, 0.0).latitude).ok_or(UtmError::Polar)?;
        let from_equator = northing_m - hemisphere.equator_northing_m();
        let northing_m = if band.hemisphere() == hemisphere { northing_m } else { from_equator.max(0.0) };
        Ok(Utm { place, zone, band, on_grid: OnGrid { easting_m, northing_m, convergence, scale } })
    }

    /// The place, as given or as computed from the coordinates.
    #[must_use]
    pub const fn place(&self) -> Place {
        self.place
    }

    /// The zone whose grid this is.
    #[must_use]
    pub const fn zone(&self) -> Zone {
        self.zone
    }

    /// The latitude band of the place.
    #[must_use]
    pub const fn band(&self) -> Band {
        self.band
    }

    /// The hemisphere, which says where northings count from.
    #[must_use]
    pub const fn hemisphere(&self) -> Hemisphere {
        self.band.hemisphere()
    }

    /// Metres, 500,000 on the zone's central meridian.
    #[must_use]
    pub const fn easting_m(&self) -> f64 {
        self.on_grid.easting_m
    }

    /// Metres, from 0 at the equator in the north and from 10,000,000 at the equator in the south.
    #[must_use]
    pub const fn northing_m(&self) -> f64 {
        self.on_grid.northing_m
    }

    /// How far grid north lies from true north here: positive when grid north lies east.
    #[must_use]
    pub const fn convergence(&self) -> Convergence {
        self.on_grid.convergence
    }

    /// Point scale: grid length over length on the ellipsoid, 0.9996 on the central meridian.
    #[must_use]
    pub const fn scale(&self) -> f64 {
        self.on_grid.scale
    }

    /// The straight line on the grid to another position of the same zone, also across the equator.
    ///
    /// # Errors
    /// [`NotOneZone`] when the zones differ; [`Utm::in_zone`] puts a place into the zone wanted.
    pub fn grid_leg_to(&self, other: &Utm) -> Result<GridLeg, NotOneZone> {
        if self.zone != other.zone {
            return Err(NotOneZone { from: self.zone, to: other.zone });
        }
        let from_equator = |utm: &Utm| utm.northing_m() - utm.hemisphere().equator_northing_m();
        let east = other.easting_m() - self.easting_m();
        let north = from_equator(other) - from_equator(self);
        Ok(GridLeg { distance_m: east.hypot(north), bearing: Bearing::from_degrees(east.atan2(north).to_degrees()) })
    }

    /// The spelled-out form, `zone 32 north 0691000 5265000`, which needs no knowledge of bands.
    #[cfg(test)]
    #[must_use]
    pub fn spelled(&self) -> String {
        let [easting, northing] = self.steps(0);
        format!("zone {} {} {easting:07} {northing:07}", self.zone, self.hemisphere().word())
    }

    /// Easting and northing cut off to whole steps of 10^−decimals metres, counted in steps.
    pub(super) fn steps(&self, decimals: u32) -> [u64; 2] {
        let per_metre = f64::from(10_u32.pow(decimals.min(6)));
        let cut = |metres: f64| whole::<u64>(((metres + CUT_OFF_SLACK_M) * per_metre).floor());
        let northing = cut(self.northing_m());
        let highest = match self.hemisphere() {
            Hemisphere::North => u64::MAX,
            // The hair must not lift a place from just south of the equator onto it.
            Hemisphere::South => cut(self.hemisphere().equator_northing_m()) - 1,
        };
        [cut(self.easting_m()), northing.min(highest)]
    }
}

/// The ground under grid coordinates, metres, also some way outside 80° S to 84° N.
pub(super) fn on_ground(
    zone: Zone,
    hemisphere: Hemisphere,
    easting_m: f64,
    northing_m: f64,
) -> Result<OnGround, UtmError> {
    TransverseMercator::utm(zone.central_meridian())
        .inverse(easting_m, northing_m - hemisphere.equator_northing_m())
        .map_err(|_| UtmError::Polar)
}

/// Zone and band, easting, northing: `32T 0691000 5265000`. Whole metres (or as many decimals as asked, at most 6), cut
/// off, not rounded, so that the same figures stand here and in the MGRS text.
impl fmt::Display for Utm {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let decimals = f.precision().and_then(|asked| u32::try_from(asked.min(6)).ok()).unwrap_or(0);
        let per_metre = 10_u64.pow(decimals);
        write!(f, "{}{}", self.zone, self.band)?;
        for steps in self.steps(decimals) {
            write!(f, " {:07}", steps / per_metre)?;
            if decimals > 0 {
                write!(f, ".{:0width$}", steps % per_metre, width = decimals as usize)?;
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn place(latitude: f64, longitude: f64) -> Place {
        Place::from_degrees(latitude, longitude).unwrap()
    }

    fn zone(number: u8) -> Zone {
        Zone::new(number).unwrap()
    }

    #[test]
    fn a_position_prints_with_its_band_or_with_its_hemisphere_spelled_out() {
        let utm = Utm::new(zone(32), Hemisphere::North, 691_000.9, 5_265_000.0).unwrap();
        assert_eq!(utm.to_string(), "32T 0691000 5265000");
        assert_eq!(format!("{utm:.2}"), "32T 0691000.90 5265000.00");
        assert_eq!(utm.spelled(), "zone 32 north 0691000 5265000");
    }

    #[test]
    fn a_hair_south_of_the_equator_is_south_and_prints_so() {
        let utm = Utm::from_place(place(-1e-17, 9.0)).unwrap();
        assert_eq!(utm.hemisphere(), Hemisphere::South);
        assert!(utm.northing_m() < 10_000_000.0);
        assert_eq!(utm.to_string(), "32M 0500000 9999999");
        assert_eq!(Utm::from_place(place(-0.0, 9.0)).unwrap().to_string(), "32N 0500000 0000000");
    }

    #[test]
    fn the_equator_counted_from_the_south_is_the_same_equator() {
        let south = Utm::new(zone(32), Hemisphere::South, 691_000.0, 10_000_000.0).unwrap();
        assert_eq!(south, Utm::new(zone(32), Hemisphere::North, 691_000.0, 0.0).unwrap());
    }

    #[test]
    fn utm_ends_at_80_south_and_84_north_exactly() {
        assert!(Utm::from_place(place(-80.0, 9.0)).is_ok());
        assert!(Utm::from_place(place(84.0, 9.0)).is_ok());
        assert_eq!(Utm::from_place(place(84.0_f64.next_up(), 9.0)), Err(UtmError::Polar));
        assert_eq!(Utm::from_place(place((-80.0_f64).next_down(), 9.0)), Err(UtmError::Polar));
        assert_eq!(Utm::from_place(place(90.0, 0.0)), Err(UtmError::Polar));
    }

    #[test]
    fn coordinates_no_zone_has_are_refused() {
        let north = |easting, northing| Utm::new(zone(32), Hemisphere::North, easting, northing);
        assert_eq!(north(99_999.0, 5e6), Err(UtmError::Easting(99_999.0)));
        assert_eq!(north(5e5, 1.01e7), Err(UtmError::Northing(1.01e7)));
        assert_eq!(north(5e5, 9.9e6), Err(UtmError::Polar));
        assert!(matches!(north(f64::NAN, 5e6), Err(UtmError::Easting(_))));
        assert_eq!(Utm::new(zone(32), Hemisphere::South, 5e5, 0.0), Err(UtmError::Polar));
    }

    #[test]
    fn a_line_across_the_equator_has_one_grid() {
        let south = Utm::in_zone(place(-0.001, 9.0), zone(32)).unwrap();
        let north = Utm::in_zone(place(0.001, 9.0), zone(32)).unwrap();
        let leg = south.grid_leg_to(&north).unwrap();
        // 0.002° of the meridian at the equator: a (1 − e²) π / 180 · 0.9996.
        assert!((leg.distance_m - 0.002 * 110_574.275_822 * 0.9996).abs() < 1e-4, "{leg:?}");
        assert_eq!(leg.bearing.degrees(), 0.0);
    }

    #[test]
    fn two_zones_have_no_common_grid_bearing() {
        let here = Utm::from_place(place(47.0, 11.9)).unwrap();
        let there = Utm::from_place(place(47.0, 12.1)).unwrap();
        assert_eq!(here.grid_leg_to(&there), Err(NotOneZone { from: zone(32), to: zone(33) }));
        assert!(here.grid_leg_to(&Utm::in_zone(there.place(), zone(32)).unwrap()).is_ok());
        assert_eq!(Utm::in_zone(here.place(), zone(50)), Err(UtmError::FarFromZone(zone(50))));
    }

    #[test]
    fn grid_north_lies_east_of_true_north_where_the_zone_leans_so() {
        // East of the middle in the north and west of it in the south: east of true, positive.
        for (latitude, longitude, east) in
            [(47.0, 11.0, true), (47.0, 7.0, false), (-47.0, 11.0, false), (-47.0, 7.0, true)]
        {
            let degrees = Utm::from_place(place(latitude, longitude)).unwrap().convergence().angle().degrees();
            assert_eq!(degrees > 0.0, east, "{latitude} {longitude}: {degrees}");
        }
    }

    proptest! {
        #[test]
        fn every_place_comes_back_from_its_grid(latitude in -80.0..=84.0, longitude in -180.0..=180.0) {
            let utm = Utm::from_place(place(latitude, longitude)).unwrap();
            let back = Utm::new(utm.zone(), utm.hemisphere(), utm.easting_m(), utm.northing_m()).unwrap();
            let leg = super::super::geodesic::inverse(utm.place(), back.place());
            prop_assert!(leg.distance_m < 2e-8, "{leg:?}");
            let turn = utm.convergence().angle() - back.convergence().angle();
            prop_assert!(turn.degrees().abs() < 1e-11);
            prop_assert!((utm.scale() - back.scale()).abs() < 1e-13);
        }

        #[test]
        fn convergence_is_how_the_meridian_leans_on_the_grid(latitude in -79.9..83.9, longitude in -179.9..179.9) {
            // A slow twin: step along the meridian and look at the grid.
            let (here, half) = (Utm::from_place(place(latitude, longitude)).unwrap(), 1e-4);
            let at = |latitude| Utm::in_zone(place(latitude, longitude), here.zone()).unwrap();
            let lean = at(latitude - half).grid_leg_to(&at(latitude + half)).unwrap().bearing;
            let expected = here.convergence().angle();
            let measured = Bearing::<Grid>::from_degrees(0.0).turn_to(lean);
            prop_assert!((measured + expected).degrees().abs() < 1e-7, "{measured:?} {expected:?}");
        }
    }
}
