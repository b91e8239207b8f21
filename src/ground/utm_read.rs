//! Reading UTM texts. The letter after the zone is always the latitude band; a hemisphere is spelled out.

use super::read::split_digits;
use super::utm::TWO_METRES_DEG;
use super::zone::{GridZoneError, grid_zone, zone};
use super::{Band, Hemisphere, Utm, UtmError, Zone};

/// Why a text is no UTM position.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ReadUtmError {
    /// Parts are missing, too many or in another order.
    #[error(
        "write a UTM position as zone and band, easting, northing, like 32T 691000 5265000, or as zone 32 north 691000 5265000"
    )]
    Form,
    /// Neither a band letter nor a hemisphere.
    #[error(
        "after zone {0} comes its band letter, or the word north or south: 32T 691000 5265000 or zone 32 north 691000 5265000"
    )]
    NoBand(Zone),
    /// No such zone and band.
    #[error(transparent)]
    GridZone(#[from] GridZoneError),
    /// No place has these coordinates.
    #[error(transparent)]
    Position(#[from] UtmError),
    /// The coordinates lie in another band than the letter says.
    #[error("these coordinates do not lie in band {written} ({span}){mend}", span = written.span(), mend = mend(*zone, *written, *right))]
    BandDoesNotMatch {
        /// As written.
        zone: Zone,
        /// As written.
        written: Band,
        /// The band they lie in, if any.
        right: Option<Band>,
    },
}

fn mend(zone: Zone, written: Band, right: Option<Band>) -> String {
    let by_band = right.map_or(String::new(), |right| format!(" but in {zone}{right}"));
    let hemisphere = match written.letter() {
        'N' => "north",
        'S' => "south",
        _ => return format!("{by_band}; check the letter and the northing"),
    };
    format!("{by_band}; if {written} was meant as {hemisphere}, write zone {zone} {hemisphere}")
}

impl Utm {
    /// Reads a position: `32T 691000 5265000`, `32T 691000mE 5265000mN`, `zone 32 north 691000 5265000`.
    ///
    /// ```
    /// use needlewise::ground::{Hemisphere, Utm};
    /// assert_eq!(Utm::read("zone 32 north 691000 5265000").unwrap().to_string(), "32T 0691000 5265000");
    /// // S is the band from 32° N to 40° N, never "south".
    /// assert_eq!(Utm::read("32S 691000 4265000").unwrap().hemisphere(), Hemisphere::North);
    /// ```
    ///
    /// # Errors
    /// [`ReadUtmError`] with what is wrong; coordinates that do not lie in the band written are an error.
    pub fn read(text: &str) -> Result<Utm, ReadUtmError> {
        let mut words = Words(text);
        let mut first = words.next_word();
        while first.eq_ignore_ascii_case("zone") || first.eq_ignore_ascii_case("utm") {
            first = words.next_word();
        }
        if !first.starts_with(|c: char| c.is_ascii_digit()) || first.contains('.') {
            return Err(ReadUtmError::Form);
        }
        let number = first.parse().unwrap_or(u32::MAX);
        let designator = words.next_word();
        let written = if designator.eq_ignore_ascii_case("north") {
            (zone(number)?, Err(Hemisphere::North))
        } else if designator.eq_ignore_ascii_case("south") {
            (zone(number)?, Err(Hemisphere::South))
        } else {
            let mut letters = designator.chars();
            match (letters.next(), letters.next()) {
                (Some(letter), None) if letter.is_ascii_alphabetic() => {
                    let (zone, band) = grid_zone(number, letter.to_ascii_uppercase())?;
                    (zone, Ok(band))
                }
                _ => return Err(ReadUtmError::NoBand(zone(number)?)),
            }
        };
        let (easting_m, northing_m) = words.coordinates()?;
        match written {
            (zone, Err(hemisphere)) => {
                let utm = Utm::new(zone, hemisphere, easting_m, northing_m)?;
                // North of 72° some zones have been given to their neighbours: what could not be printed is not read.
                grid_zone(number, utm.band().letter())?;
                Ok(utm)
            }
            (zone, Ok(band)) => in_band(zone, band, easting_m, northing_m),
        }
    }
}

fn in_band(zone: Zone, written: Band, easting_m: f64, northing_m: f64) -> Result<Utm, ReadUtmError> {
    match Utm::new(zone, written.hemisphere(), easting_m, northing_m) {
        Ok(utm) => {
            let latitude = utm.place().latitude.degrees();
            if (written.south() - TWO_METRES_DEG..=written.north() + TWO_METRES_DEG).contains(&latitude) {
                Ok(utm)
            } else {
                Err(ReadUtmError::BandDoesNotMatch { zone, written, right: Some(utm.band()) })
            }
        }
        Err(UtmError::Polar) => Err(ReadUtmError::BandDoesNotMatch { zone, written, right: None }),
        Err(other) => Err(other.into()),
    }
}

/// The text as runs of letters and numbers with decimals; blanks and commas between them are passed over.
struct Words<'a>(&'a str);

impl<'a> Words<'a> {
    /// The next run, or any other sign by itself, or an empty text at the end.
    fn next_word(&mut self) -> &'a str {
        let text = self.0.trim_start_matches(|c: char| c.is_whitespace() || c == ',');
        let length = match text.chars().next() {
            None => 0,
            Some(c) if c.is_ascii_alphabetic() => {
                text.len() - text.trim_start_matches(|c: char| c.is_ascii_alphabetic()).len()
            }
            Some(c) if c.is_ascii_digit() => {
                let (_, rest) = split_digits(text);
                let rest = rest.strip_prefix('.').map_or(rest, |fraction| split_digits(fraction).1);
                text.len() - rest.len()
            }
            Some(c) => c.len_utf8(),
        };
        let (word, rest) = text.split_at(length);
        self.0 = rest;
        word
    }

    /// Easting and northing, in that order unless their letters say otherwise.
    fn coordinates(&mut self) -> Result<(f64, f64), ReadUtmError> {
        let mut next = self.next_word();
        let mut one = || {
            let metres: f64 = if next.starts_with(|c: char| c.is_ascii_digit()) {
                next.parse().map_err(|_| ReadUtmError::Form)?
            } else {
                return Err(ReadUtmError::Form);
            };
            next = self.next_word();
            let axis = match next {
                "m" | "M" => None,
                unit if ["me", "e"].iter().any(|name| unit.eq_ignore_ascii_case(name)) => Some('E'),
                unit if ["mn", "n"].iter().any(|name| unit.eq_ignore_ascii_case(name)) => Some('N'),
                _ => return Ok((metres, None)),
            };
            next = self.next_word();
            Ok((metres, axis))
        };
        let (first, second) = (one()?, one()?);
        if !next.is_empty() {
            return Err(ReadUtmError::Form);
        }
        match (first.1, second.1) {
            (Some('N'), Some('E')) => Ok((second.0, first.0)),
            (Some('N'), _) | (_, Some('E')) => Err(ReadUtmError::Form),
            _ => Ok((first.0, second.0)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn printed(text: &str) -> String {
        Utm::read(text).map_or_else(|error| error.to_string(), |utm| utm.to_string())
    }

    #[test]
    fn the_usual_ways_to_write_a_position_are_one_position() {
        for text in [
            "32T 691000 5265000",
            "32t 0691000 5265000",
            "32 T 691000mE 5265000mN",
            "32T 691000E, 5265000N",
            "32T 691000 m 5265000 m",
            "32T 5265000N 691000E",
            "zone 32 north 691000 5265000",
            "32 north 691000.0 5265000.0",
            "Zone 32T, 691000, 5265000",
            "UTM zone 32 North 691000 5265000",
        ] {
            assert_eq!(printed(text), "32T 0691000 5265000", "{text}");
        }
    }

    #[test]
    fn a_zone_that_its_neighbours_have_taken_over_is_refused_also_where_no_band_is_written() {
        // Svalbard: zones 32, 34 and 36 end at 72° N (common practice of UTM; the zones are those of `zone.rs`).
        assert_eq!(printed("zone 32 north 691005 9206500"), printed("32X 691005 9206500"));
        assert!(
            Utm::read("zone 32 north 691005 9206500").is_err() && Utm::read("zone 33 north 500000 9206500").is_ok()
        );
    }

    #[test]
    fn the_letter_s_is_the_band_and_never_the_south() {
        assert_eq!(Utm::read("56S 334000 4252000").map(|utm| utm.hemisphere()), Ok(Hemisphere::North));
        assert_eq!(
            printed("56S 334000 6252000"),
            "these coordinates do not lie in band S (32° N to 40° N) but in 56V; if S was meant as south, write zone 56 south"
        );
        assert_eq!(printed("zone 56 south 334000 6252000"), "56H 0334000 6252000");
    }

    #[test]
    fn every_mistake_is_named_with_its_cure() {
        let form = "write a UTM position as zone and band, easting, northing, like 32T 691000 5265000, or as zone 32 north 691000 5265000";
        for (text, message) in [
            (
                "32N 691000 5265000",
                "these coordinates do not lie in band N (the equator to 8° N) but in 32T; if N was meant as north, write zone 32 north",
            ),
            (
                "32U 691000 5265000",
                "these coordinates do not lie in band U (48° N to 56° N) but in 32T; check the letter and the northing",
            ),
            (
                "32S 691000 9900000",
                "these coordinates do not lie in band S (32° N to 40° N); if S was meant as south, write zone 32 south",
            ),
            (
                "32T 5265000 691000",
                "the easting 5265000 cannot be: eastings run from 100000 to 900000 metres; check its figures, and that it stands before the northing",
            ),
            (
                "32T 691000 52650000",
                "the northing 52650000 cannot be: northings run from 0 to 10000000 metres; check its figures, and that it stands after the easting",
            ),
            ("61T 691000 5265000", "there is no zone 61: zones run from 1 to 60"),
            ("32I 691000 5265000", "there is no band I: band letters run from C to X, without I and O"),
            ("34X 500000 8700000", "there is no 34X: in band X only the wide zones 31, 33, 35 and 37 lie there"),
            (
                "32 691000 5265000",
                "after zone 32 comes its band letter, or the word north or south: 32T 691000 5265000 or zone 32 north 691000 5265000",
            ),
            (
                "zone 32 north 500000 9900000",
                "UTM and MGRS reach from 80° S to 84° N only; give this place as latitude and longitude",
            ),
            ("32T 691000", form),
            ("32T 691000 5265000 7", form),
            ("32T 691000mN 5265000mN", form),
            ("32T -691000 5265000", form),
            ("zone", form),
            ("", form),
        ] {
            assert_eq!(printed(text), message, "{text}");
        }
    }

    proptest! {
        #[test]
        fn what_is_printed_can_be_read((latitude, longitude) in crate::ground::mgrs_read::tests::anywhere()) {
            let utm = Utm::from_place(crate::ground::Place::from_degrees(latitude, longitude).unwrap()).unwrap();
            for text in [utm.to_string(), utm.spelled()] {
                let again = Utm::read(&text);
                prop_assert!(again.is_ok(), "{text} {again:?}");
                let again = again.unwrap();
                prop_assert!((again.easting_m() - utm.easting_m()).abs() <= 1.0);
                prop_assert!((again.northing_m() - utm.northing_m()).abs() <= 1.0);
            }
        }

        #[test]
        fn no_text_makes_reading_panic(text in "(zone )?[0-9]{0,3}[ A-Za-zäß]{0,6}[ 0-9.,me′]{0,20}") {
            let _ = Utm::read(&text);
        }
    }
}
