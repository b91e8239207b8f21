//! Military Grid Reference System: the same grid, written with letters for the 100 km squares.
//!
//! Source of the lettering: NGA.STND.0037 (2014), chapter 11 and the "AA" scheme for WGS84. Columns run A to H, J to R
//! and S to Z (no I, no O) in zones 1, 2, 3 and again; rows run A to V, from A at the equator in odd zones and from F
//! in even ones. References are cut off, never rounded: a text names a square, and that by its south-west corner.

use super::utm::{Utm, UtmError, on_ground};
use super::{Band, Hemisphere, Place, TransverseMercator, Zone};
use crate::numbers::whole;
use std::fmt;

/// How fine an MGRS text is: the side of the square it names.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Precision {
    /// No figures: a 100 km square.
    Km100,
    /// Two figures: 10 km.
    Km10,
    /// Four figures: 1 km.
    Km1,
    /// Six figures: 100 m.
    M100,
    /// Eight figures: 10 m.
    M10,
    /// Ten figures: 1 m.
    M1,
}

impl Precision {
    /// All of them, coarse to fine.
    pub const ALL: [Precision; 6] =
        [Precision::Km100, Precision::Km10, Precision::Km1, Precision::M100, Precision::M10, Precision::M1];

    /// From the number of digits each for easting and northing, 0 to 5.
    #[must_use]
    pub const fn from_digits(digits: usize) -> Option<Precision> {
        if digits < 6 { Some(Precision::ALL[digits]) } else { None }
    }

    /// Digits each for easting and northing, 0 to 5.
    #[must_use]
    pub const fn digits(self) -> usize {
        self as usize
    }

    /// The side of the square, metres.
    #[must_use]
    pub const fn side_m(self) -> u32 {
        10_u32.pow(5 - self as u32)
    }
}

/// A square of the MGRS grid.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Mgrs {
    zone: Zone,
    band: Band,
    /// Of the south-west corner, whole metres, a multiple of the side.
    easting_m: u32,
    northing_m: u32,
    precision: Precision,
}

impl Mgrs {
    /// The square of this size that a place lies in.
    ///
    /// # Errors
    /// [`UtmError::Polar`] outside 80° S to 84° N.
    pub fn from_place(place: Place, precision: Precision) -> Result<Mgrs, UtmError> {
        let utm = Utm::from_place(place)?;
        let side = u64::from(precision.side_m());
        let [easting_m, northing_m] =
            utm.steps(0).map(|metres| u32::try_from(metres - metres % side).unwrap_or(u32::MAX));
        Ok(Mgrs { zone: utm.zone(), band: utm.band(), easting_m, northing_m, precision })
    }

    /// From the parts as [`super::mgrs_read`] has checked them.
    pub(super) const fn from_parts(
        zone: Zone,
        band: Band,
        easting_m: u32,
        northing_m: u32,
        precision: Precision,
    ) -> Mgrs {
        Mgrs { zone, band, easting_m, northing_m, precision }
    }

    /// The south-west corner, which the text stands for. Near the border of a zone or band the corner can lie just
    /// outside it.
    #[must_use]
    pub fn place(&self) -> Place {
        // The coordinates were checked when the square was made, so the fallback is never taken.
        self.corner(0, 0).unwrap_or(Place::clamped(0.0, self.zone.central_meridian().degrees()))
    }

    /// The corner so many sides east and north of the south-west one.
    pub(super) fn corner(&self, east: u32, north: u32) -> Option<Place> {
        let side = self.precision.side_m();
        let easting = f64::from(self.easting_m + east * side);
        let northing = f64::from(self.northing_m + north * side);
        on_ground(self.zone, self.band.hemisphere(), easting, northing).ok().map(|found| found.place)
    }

    /// The UTM zone.
    #[must_use]
    pub const fn zone(&self) -> Zone {
        self.zone
    }

    /// The latitude band as written.
    #[must_use]
    pub const fn band(&self) -> Band {
        self.band
    }

    /// How fine it is.
    #[must_use]
    pub const fn precision(&self) -> Precision {
        self.precision
    }

    /// The two letters of the 100 km square.
    #[must_use]
    pub const fn square(&self) -> [char; 2] {
        [column_letter(self.zone, self.easting_m / SQUARE_M), row_letter(self.zone, self.northing_m / SQUARE_M)]
    }

    /// UTM easting and northing of the south-west corner, whole metres.
    #[cfg(test)]
    #[must_use]
    pub const fn corner_m(&self) -> (u32, u32) {
        (self.easting_m, self.northing_m)
    }
}

/// Without blanks and with a two-figure zone: `32TPT9100065000`, `04QFJ1267`.
impl fmt::Display for Mgrs {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [column, row] = self.square();
        write!(f, "{:02}{}{column}{row}", self.zone.number(), self.band)?;
        let digits = self.precision.digits();
        if digits > 0 {
            let side = self.precision.side_m();
            let (east, north) = (self.easting_m % SQUARE_M / side, self.northing_m % SQUARE_M / side);
            write!(f, "{east:0digits$}{north:0digits$}")?;
        }
        Ok(())
    }
}

/// The side of a lettered square.
pub(super) const SQUARE_M: u32 = 100_000;

/// A to Z without I and O: 24 column letters, of which rows use the first 20, up to V.
pub(super) const LETTERS: [char; 24] = [
    'A', 'B', 'C', 'D', 'E', 'F', 'G', 'H', 'J', 'K', 'L', 'M', 'N', 'P', 'Q', 'R', 'S', 'T', 'U', 'V', 'W', 'X', 'Y',
    'Z',
];

/// How many row letters there are: they come again every 2000 km.
pub(super) const ROWS: u32 = 20;

/// Where in [`LETTERS`] the zone's first column stands.
const fn first_column(zone: Zone) -> u32 {
    (zone.number() as u32 - 1) % 3 * 8
}

/// The letter of a column, counted in 100 km of easting: 1 to 8.
pub(super) const fn column_letter(zone: Zone, column: u32) -> char {
    LETTERS[((first_column(zone) + column + 23) % 24) as usize]
}

/// The letter of a row, counted in 100 km of northing.
pub(super) const fn row_letter(zone: Zone, row: u32) -> char {
    let start = if zone.number().is_multiple_of(2) { 5 } else { 0 };
    LETTERS[((row + start) % ROWS) as usize]
}

/// The columns, in 100 km of easting, that reach into this zone and band; `None` where there is no such zone and band.
pub(super) fn columns(zone: Zone, band: Band) -> Option<(u32, u32)> {
    let (west, east) = zone.reach(band)?;
    // Widest where nearest to the equator.
    let latitude = if band.hemisphere() == Hemisphere::North { band.south() } else { band.north() };
    Some((hundred_km(zone, band, latitude, west)?.0, hundred_km(zone, band, latitude, east)?.0))
}

/// The rows, in 100 km of northing, that reach into this zone and band; `None` where there is no such zone and band.
pub(super) fn rows(zone: Zone, band: Band) -> Option<(u32, u32)> {
    let (west, east) = zone.reach(band)?;
    // A parallel bends away from the equator: its extremes are at the central meridian and at the far edge.
    let edge = if east > -west { east } else { west };
    let row = |latitude, east| hundred_km(zone, band, latitude, east).map(|(_, row)| row);
    // Just under the border, which belongs to the next band.
    let top = band.north() - 1e-9;
    let first = row(band.south(), 0.0)?.min(row(band.south(), edge)?);
    Some((first, row(top, 0.0)?.max(row(top, edge)?)))
}

fn hundred_km(zone: Zone, band: Band, latitude: f64, east: f64) -> Option<(u32, u32)> {
    let place = Place::clamped(latitude, 0.0);
    let place = Place::new(place.latitude, zone.central_meridian().moved_east(east));
    let grid = TransverseMercator::utm(zone.central_meridian()).forward(place).ok()?;
    let northing = grid.northing_m + band.hemisphere().equator_northing_m();
    let square = f64::from(SQUARE_M);
    Some((whole((grid.easting_m / square).floor()), whole((northing / square).floor())))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn text(latitude: f64, longitude: f64, precision: Precision) -> String {
        Mgrs::from_place(Place::from_degrees(latitude, longitude).unwrap(), precision).unwrap().to_string()
    }

    #[test]
    fn figures_are_cut_off_and_never_rounded() {
        // CV118 (GeographicLib 2.1.2 GeoConvert manual page), CV119 to CV122 (library mgrs 1.6.0) of check_values.csv.
        // CV120 prints its longitude as 151.215, a figure short: 151.2153 gives its text exactly.
        assert_eq!(text(33.0 + 20.0 / 60.0, 44.4, Precision::Km1), "38SMB4488");
        assert_eq!(text(38.8895, -77.0353, Precision::M1), "18SUJ2347806483");
        assert_eq!(text(-33.8568, 151.2153, Precision::M1), "56HLH3490052288");
        assert_eq!(text(60.5, 4.0, Precision::M1), "32VKN2551017531");
        assert_eq!(text(78.0, 15.0, Precision::M1), "33XWG0000058369");
    }

    #[test]
    fn a_coarser_reference_is_the_beginning_of_the_finer_one() {
        let expected = ["18SUJ", "18SUJ20", "18SUJ2306", "18SUJ234064", "18SUJ23470648", "18SUJ2347806483"];
        for (precision, expected) in Precision::ALL.into_iter().zip(expected) {
            assert_eq!(text(38.8895, -77.0353, precision), expected);
        }
    }

    #[test]
    fn a_zone_below_ten_is_padded() {
        // One degree east of the middle of zone 4 (159° W), so in the column of 600 km, the sixth of A to H: F.
        assert_eq!(&text(21.0, -158.0, Precision::Km10)[..4], "04QF");
    }

    #[test]
    fn a_hair_south_of_the_equator_stays_in_the_last_square_of_the_south() {
        // 9 999 999 m in zone 32 (even): row 99, (99 + 5) mod 20 = 4, letter E.
        assert_eq!(text(-1e-17, 9.0, Precision::M1), "32MNE0000099999");
        assert_eq!(text(0.0, 9.0, Precision::M1), "32NNF0000000000");
    }

    #[test]
    fn precision_is_the_side_of_the_square() {
        // check_values CV123 (FM 21-26 ch. 4): 4, 6, 8, 10 figures locate to 1000, 100, 10, 1 m.
        for (digits, side) in [(2, 1000), (3, 100), (4, 10), (5, 1)] {
            assert_eq!(Precision::from_digits(digits).map(Precision::side_m), Some(side));
        }
        assert_eq!(Precision::from_digits(6), None);
    }

    #[test]
    fn zone_32_band_t_has_the_squares_of_the_published_scheme() {
        // NGA.STND.0037, lettering figure: zone 32 is of set 2, columns J to R, rows from F at the equator.
        let (zone, band) = (Zone::new(32).unwrap(), Band::new('T').unwrap());
        let (first, last) = columns(zone, band).unwrap();
        assert_eq!((column_letter(zone, first), column_letter(zone, last)), ('K', 'Q'));
        let (first, last) = rows(zone, band).unwrap();
        assert_eq!((first, last), (44, 53));
        assert_eq!((row_letter(zone, first), row_letter(zone, last)), ('K', 'U'));
        assert_eq!(columns(Zone::new(32).unwrap(), Band::new('X').unwrap()), None);
    }

    proptest! {
        #[test]
        fn every_place_lies_in_the_columns_and_rows_of_its_zone_and_band(
            latitude in -80.0..=84.0, longitude in -180.0..=180.0,
        ) {
            let place = Place::from_degrees(latitude, longitude).unwrap();
            let square = Mgrs::from_place(place, Precision::M1).unwrap();
            let (first, last) = columns(square.zone(), square.band()).unwrap();
            prop_assert!((first..=last).contains(&(square.corner_m().0 / SQUARE_M)));
            let (first, last) = rows(square.zone(), square.band()).unwrap();
            prop_assert!((first..=last).contains(&(square.corner_m().1 / SQUARE_M)));
            prop_assert!(last - first < ROWS, "a row letter must name one row");
        }
    }
}
