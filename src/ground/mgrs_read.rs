//! Reading MGRS texts, with errors that say what to change.

use super::mgrs::{Mgrs, Precision, SQUARE_M, column_letter, columns, row_letter, rows};
use super::read::split_digits;
use super::utm::TWO_METRES_DEG;
use super::zone::{GridZoneError, grid_zone};
use super::{Band, Zone};

/// Why a text is no MGRS reference.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum MgrsError {
    /// Fewer parts than a reference has.
    #[error("a grid reference has a zone, a band letter, two letters for the square, and figures: 32T PT 910 650")]
    Incomplete,
    /// Something else than letters and figures, or in another order.
    #[error("'{0}' does not belong there: a grid reference is written like 32T PT 910 650 or 32TPT910650")]
    Stray(char),
    /// No such zone and band.
    #[error(transparent)]
    GridZone(#[from] GridZoneError),
    /// I or O in the square.
    #[error("the letters I and O are never used in grid references; is it the figure 1 or 0, or another letter?")]
    LetterIOrO,
    /// A column letter that this zone and band does not have.
    #[error("there is no square {column}{row} in {zone}{band}: there the first letter runs from {first} to {last}")]
    Column {
        /// As written.
        zone: Zone,
        /// As written.
        band: Band,
        /// The first letter, which is wrong.
        column: char,
        /// The second letter.
        row: char,
        /// The westernmost letter that would do.
        first: char,
        /// The easternmost.
        last: char,
    },
    /// A row letter that this zone and band does not have.
    #[error(
        "there is no square {column}{row} in {zone}{band} ({span}): there the second letter runs from {first} in the \
         south to {last} in the north, with A after V",
        span = band.span()
    )]
    Row {
        /// As written.
        zone: Zone,
        /// As written.
        band: Band,
        /// The first letter.
        column: char,
        /// The second letter, which is wrong.
        row: char,
        /// The southernmost letter that would do.
        first: char,
        /// The northernmost.
        last: char,
    },
    /// An odd number of figures.
    #[error("{0} figures cannot be shared out: easting and northing need as many each; add one or take one off")]
    OddFigures(usize),
    /// A blank that splits the figures unevenly.
    #[error("the easting has {easting} figures and the northing {northing}: they need as many each")]
    UnevenFigures {
        /// Figures before the blank.
        easting: usize,
        /// Figures after it.
        northing: usize,
    },
    /// More than one blank within the figures.
    #[error("the figures stand in {0} groups: write easting and northing only, like 910 650")]
    Groups(usize),
    /// Finer than a metre.
    #[error("{0} figures are too many: ten give the metre, five each for easting and northing")]
    TooManyFigures(usize),
    /// The figures put the square wholly outside the band.
    #[error("these figures lie outside band {written} ({span}); {mend}", span = written.span(), mend = mend(*zone, *right))]
    BandDoesNotMatch {
        /// As written.
        zone: Zone,
        /// As written.
        written: Band,
        /// The band the figures lie in, if any.
        right: Option<Band>,
    },
}

fn mend(zone: Zone, right: Option<Band>) -> String {
    match right {
        Some(right) => format!("there it is {zone}{right}, or a figure is wrong"),
        None => "MGRS ends there; check the figures".to_owned(),
    }
}

impl Mgrs {
    /// Reads a reference: capitals or not, blanks between the parts or not, zone with one or two figures, an even number
    /// of figures from 0 to 10.
    ///
    /// ```
    /// use needlewise::ground::Mgrs;
    /// assert_eq!(Mgrs::read("4q fj 12345 67890").unwrap().to_string(), "04QFJ1234567890");
    /// assert!(Mgrs::read("4QFJ123").is_err());
    /// ```
    ///
    /// # Errors
    /// [`MgrsError`] with what is wrong; a square that does not exist, or lies outside the band written, is an error.
    pub fn read(text: &str) -> Result<Mgrs, MgrsError> {
        let (number, mut rest) = split_digits(text.trim());
        let mut letter = || {
            rest = rest.trim_start();
            let letter = rest.chars().next().ok_or(MgrsError::Incomplete)?;
            if letter.is_ascii_digit() {
                return Err(MgrsError::Incomplete);
            }
            if !letter.is_ascii_alphabetic() {
                return Err(MgrsError::Stray(letter));
            }
            rest = &rest[1..];
            Ok(letter.to_ascii_uppercase())
        };
        let (band, column, row) = (letter()?, letter()?, letter()?);
        // Polar references begin with their letter; any other letter first lacks its zone.
        if number.is_empty() && !matches!(band, 'A' | 'B' | 'Y' | 'Z') {
            return Err(MgrsError::Incomplete);
        }
        let (zone, band) = grid_zone(number.parse().unwrap_or(u32::MAX), band)?;
        if let Some(stray) = rest.chars().find(|c| !c.is_ascii_digit() && !c.is_whitespace()) {
            return Err(MgrsError::Stray(stray));
        }
        let (easting, northing, precision) = figures(rest)?;
        finer(zone, band, square(zone, band, column, row)?, (easting, northing), precision)
    }
}

/// The south-west corner of a lettered square, metres.
fn square(zone: Zone, band: Band, column: char, row: char) -> Result<(u32, u32), MgrsError> {
    if [column, row].iter().any(|letter| matches!(letter, 'I' | 'O')) {
        return Err(MgrsError::LetterIOrO);
    }
    let (Some((west, east)), Some((south, north))) = (columns(zone, band), rows(zone, band)) else {
        return Err(GridZoneError::Svalbard(zone).into());
    };
    let found = (west..=east).find(|&index| column_letter(zone, index) == column).ok_or_else(|| {
        let (first, last) = (column_letter(zone, west), column_letter(zone, east));
        MgrsError::Column { zone, band, column, row, first, last }
    })?;
    // A band has fewer rows than there are letters, so a letter names one row at most.
    let found_row = (south..=north).find(|&index| row_letter(zone, index) == row).ok_or_else(|| {
        let (first, last) = (row_letter(zone, south), row_letter(zone, north));
        MgrsError::Row { zone, band, column, row, first, last }
    })?;
    Ok((found * SQUARE_M, found_row * SQUARE_M))
}

/// Metres east and north within the square, and how fine the text is.
fn figures(text: &str) -> Result<(u32, u32, Precision), MgrsError> {
    let mut groups = text.split_whitespace();
    let first = groups.next().unwrap_or("");
    let second = groups.next();
    let count = first.len() + second.map_or(0, str::len);
    let more = groups.count();
    if more > 0 {
        return Err(MgrsError::Groups(more + 2));
    }
    if count % 2 == 1 {
        return Err(MgrsError::OddFigures(count));
    }
    let precision = Precision::from_digits(count / 2).ok_or(MgrsError::TooManyFigures(count))?;
    let (east, north) = match second {
        Some(second) if second.len() != first.len() => {
            return Err(MgrsError::UnevenFigures { easting: first.len(), northing: second.len() });
        }
        Some(second) => (first, second),
        None => first.split_at(count / 2),
    };
    // No digits at all: the corner of the square.
    let metres = |digits: &str| digits.parse().unwrap_or(0) * precision.side_m();
    Ok((metres(east), metres(north), precision))
}

/// The square of these figures within a lettered square, unless it lies wholly outside the band.
fn finer(
    zone: Zone,
    written: Band,
    corner: (u32, u32),
    within: (u32, u32),
    precision: Precision,
) -> Result<Mgrs, MgrsError> {
    let mgrs = Mgrs::from_parts(zone, written, corner.0 + within.0, corner.1 + within.1, precision);
    // Parallels bend one way on either side of the central meridian, where squares meet: the corners are the extremes.
    let (mut south, mut north) = (f64::MAX, f64::MIN);
    for place in [(0, 0), (1, 0), (0, 1), (1, 1)].into_iter().filter_map(|(east, north)| mgrs.corner(east, north)) {
        south = south.min(place.latitude.degrees());
        north = north.max(place.latitude.degrees());
    }
    if south > written.north() + TWO_METRES_DEG {
        Err(MgrsError::BandDoesNotMatch { zone, written, right: written.northern() })
    } else if north < written.south() - TWO_METRES_DEG {
        Err(MgrsError::BandDoesNotMatch { zone, written, right: written.southern() })
    } else {
        Ok(mgrs)
    }
}

#[cfg(test)]
pub(in crate::ground) mod tests {
    use super::*;
    use proptest::prelude::*;

    fn printed(text: &str) -> String {
        Mgrs::read(text).map_or_else(|error| error.to_string(), |mgrs| mgrs.to_string())
    }

    #[test]
    fn blanks_capitals_and_a_padded_zone_make_no_difference() {
        for text in
            ["4QFJ1234567890", "04QFJ1234567890", " 4q fj 12345 67890 ", "4 Q FJ 1234567890", "4 Q F J12345 67890"]
        {
            assert_eq!(printed(text), "04QFJ1234567890", "{text}");
        }
    }

    #[test]
    fn any_even_number_of_figures_up_to_ten_is_a_reference() {
        for (text, corner) in [
            ("32TPT", (600_000, 5_200_000)),
            ("32TPT96", (690_000, 5_260_000)),
            ("32TPT9165", (691_000, 5_265_000)),
            ("32T PT 910 650", (691_000, 5_265_000)),
            ("32TPT 9109 6509", (691_090, 5_265_090)),
            ("32TPT 91099 65099", (691_099, 5_265_099)),
        ] {
            assert_eq!(Mgrs::read(text).map(|mgrs| mgrs.corner_m()), Ok(corner), "{text}");
        }
    }

    #[test]
    fn every_mistake_is_named_with_its_cure() {
        for (text, message) in [
            (
                "32TPT 91 651",
                "5 figures cannot be shared out: easting and northing need as many each; add one or take one off",
            ),
            (
                "4QFJ123456789",
                "9 figures cannot be shared out: easting and northing need as many each; add one or take one off",
            ),
            ("32TPT 91 6512", "the easting has 2 figures and the northing 4: they need as many each"),
            ("32TPT 910 65 0", "the figures stand in 3 groups: write easting and northing only, like 910 650"),
            ("32TPT 910000 650000", "12 figures are too many: ten give the metre, five each for easting and northing"),
            (
                "32TPT 91.0 65.0",
                "'.' does not belong there: a grid reference is written like 32T PT 910 650 or 32TPT910650",
            ),
            (
                "32TIT 91 65",
                "the letters I and O are never used in grid references; is it the figure 1 or 0, or another letter?",
            ),
            (
                "32TPO 91 65",
                "the letters I and O are never used in grid references; is it the figure 1 or 0, or another letter?",
            ),
            ("32OPT 91 65", "there is no band O: band letters run from C to X, without I and O"),
            ("61TPT 91 65", "there is no zone 61: zones run from 1 to 60"),
            ("0TPT 91 65", "there is no zone 0: zones run from 1 to 60"),
            ("32TAT 91 65", "there is no square AT in 32T: there the first letter runs from K to Q"),
            ("32TJT 91 65", "there is no square JT in 32T: there the first letter runs from K to Q"),
            (
                "32TPA 91 65",
                "there is no square PA in 32T (40° N to 48° N): there the second letter runs from K in the south to U in the north, with A after V",
            ),
            (
                "32TPW 91 65",
                "there is no square PW in 32T (40° N to 48° N): there the second letter runs from K in the south to U in the north, with A after V",
            ),
            ("32TPU 91 65", "these figures lie outside band T (40° N to 48° N); there it is 32U, or a figure is wrong"),
            ("32UPU 91 05", "these figures lie outside band U (48° N to 56° N); there it is 32T, or a figure is wrong"),
            ("32XNG 00 00", "there is no 32X: in band X only the wide zones 31, 33, 35 and 37 lie there"),
            (
                "ZAB 00 00",
                "Z names a polar area; UTM and MGRS are used here from 80° S to 84° N, so give the place as latitude and longitude",
            ),
            (
                "32T",
                "a grid reference has a zone, a band letter, two letters for the square, and figures: 32T PT 910 650",
            ),
            (
                "TPT 91 65",
                "a grid reference has a zone, a band letter, two letters for the square, and figures: 32T PT 910 650",
            ),
            ("", "a grid reference has a zone, a band letter, two letters for the square, and figures: 32T PT 910 650"),
        ] {
            assert_eq!(printed(text), message, "{text}");
        }
    }

    fn place(latitude: f64, longitude: f64) -> crate::ground::Place {
        crate::ground::Place::from_degrees(latitude, longitude).unwrap()
    }

    /// Anywhere, or within some metres or a hair of a border of bands or zones.
    pub(in crate::ground) fn anywhere() -> impl Strategy<Value = (f64, f64)> {
        let off = || prop_oneof![Just(0.0), -1e-4..1e-4, -1e-9..1e-9];
        let border = (-10..=10, -60..=60, off(), off()).prop_map(|(band, zone, north, east)| {
            let latitude = if band == 10 { 84.0 } else { f64::from(band) * 8.0 } + north;
            (latitude.clamp(-80.0, 84.0), (f64::from(zone) * 3.0 + east).clamp(-180.0, 180.0))
        });
        prop_oneof![(-80.0..=84.0, -180.0..=180.0), border]
    }

    proptest! {
        #[test]
        fn what_is_printed_can_be_read((latitude, longitude) in anywhere(), digits in 0_usize..6) {
            let mgrs = Mgrs::from_place(place(latitude, longitude), Precision::from_digits(digits).unwrap()).unwrap();
            prop_assert_eq!(Mgrs::read(&mgrs.to_string()), Ok(mgrs));
        }

        #[test]
        fn the_corner_of_a_square_is_printed_as_that_square(
            (latitude, longitude) in anywhere(), digits in 0_usize..6,
        ) {
            let mgrs = Mgrs::from_place(place(latitude, longitude), Precision::from_digits(digits).unwrap()).unwrap();
            let corner = mgrs.place();
            // Near a border the corner lies in the next zone or band, where the same spot has another text.
            if Zone::of(corner) == mgrs.zone() && Band::of(corner.latitude) == Some(mgrs.band()) {
                prop_assert_eq!(Mgrs::from_place(corner, mgrs.precision()), Ok(mgrs));
            } else {
                let there = crate::ground::Utm::in_zone(place(latitude, longitude), mgrs.zone()).unwrap();
                let leg = crate::ground::geodesic::inverse(corner, there.place());
                prop_assert!(leg.distance_m <= 1.5 * f64::from(mgrs.precision().side_m()));
            }
        }

        #[test]
        fn no_text_makes_reading_panic(text in "[0-9]{0,3}[ A-Za-zäß]{0,6}[ 0-9.′]{0,12}") {
            let _ = Mgrs::read(&text);
        }
    }
}
