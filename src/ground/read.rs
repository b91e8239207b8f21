//! Reading a place from whatever notation somebody has it in.

use super::{LatLonError, Mgrs, MgrsError, Place, ReadUtmError, Utm, latlon};

/// The longest text that is looked at, characters.
pub const TEXT_LIMIT: usize = 100;

/// Why a text is no place.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ReadPlaceError {
    /// Nothing but blanks.
    #[error("no place was given; write it like 47.5,11.25 or 32T 691000 5265000 or 32T PT 910 650")]
    Empty,
    /// Longer than any place.
    #[error("this text is too long for a place: {TEXT_LIMIT} characters at most")]
    TooLong,
    /// It looks like a reference in a national grid.
    #[error(
        "this looks like a reference in a national grid, and those are not read: write the place as latitude and longitude, 47.5,11.25, as UTM with its zone, 32T 691000 5265000, or as MGRS, 32T PT 910 650"
    )]
    NationalGrid,
    /// It looks like latitude and longitude.
    #[error(transparent)]
    LatLon(#[from] LatLonError),
    /// It looks like UTM.
    #[error(transparent)]
    Utm(#[from] ReadUtmError),
    /// It looks like MGRS.
    #[error(transparent)]
    Mgrs(#[from] MgrsError),
}

impl Place {
    /// Reads latitude and longitude (decimal or with minutes and seconds, signed or with letters), UTM (zone and band, or
    /// zone and hemisphere spelled out) or MGRS (with or without blanks; its south-west corner).
    ///
    /// ```
    /// use needlewise::ground::Place;
    /// for text in ["47.5,11.25", "47°30′N 11°15′E", "47 30 0 N, 11 15 0 E", "N 47.5 E 11.25"] {
    ///     assert_eq!(Place::read(text), Place::read("47.5N 11.25E"));
    /// }
    /// assert_eq!(Place::read("32T 691000 5265000"), Place::read("zone 32 north 691000 5265000"));
    /// assert_eq!(Place::read("32TPT9165"), Place::read("32T PT 91000 65000"));
    /// ```
    ///
    /// # Errors
    /// [`ReadPlaceError`], whose text says what is wrong and how to mend it.
    pub fn read(text: &str) -> Result<Place, ReadPlaceError> {
        if text.chars().nth(TEXT_LIMIT).is_some() {
            return Err(ReadPlaceError::TooLong);
        }
        let text = text.trim();
        if text.is_empty() {
            return Err(ReadPlaceError::Empty);
        }
        if is_national(text) {
            return Err(ReadPlaceError::NationalGrid);
        }
        Ok(match notation(text) {
            Notation::LatLon => latlon::read(text)?,
            Notation::Utm => Utm::read(text)?.place(),
            Notation::Mgrs => Mgrs::read(text)?.place(),
        })
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Notation {
    LatLon,
    Utm,
    Mgrs,
}

/// Which notation a text is meant to be: told from its first letters and from the size of its numbers, so that the error
/// of a wrong text comes from the reader it was meant for.
fn notation(text: &str) -> Notation {
    let is_word = |word: &str, names: &[&str]| names.iter().any(|name| word.eq_ignore_ascii_case(name));
    let (digits, rest) = split_digits(text);
    let rest = if digits.is_empty() { rest } else { rest.trim_start() };
    let (word, after) = split_letters(rest);
    let after = after.trim_start_matches(|c: char| c.is_whitespace() || c == ',');
    let directions = ["north", "south", "east", "west"];
    // No degree has more than three figures before the point.
    let metres = text.split(|c: char| !c.is_ascii_digit() && c != '.').any(|number| split_digits(number).0.len() > 3);
    if is_word(word, &["zone", "utm"]) {
        return Notation::Utm;
    }
    if is_word(word, &directions) {
        return if metres { Notation::Utm } else { Notation::LatLon };
    }
    let next_word = split_letters(after).0;
    match word.len() {
        1 if next_word.len() > 1 && !digits.is_empty() && !is_word(next_word, &directions) => Notation::Mgrs,
        0 if metres && !digits.is_empty() && !rest.starts_with(['.', ',', '°', 'º', '-']) => Notation::Utm,
        0 => Notation::LatLon,
        1 if is_word(word, &["n", "s", "e", "w"]) && !metres => Notation::LatLon,
        1 if digits.is_empty() => Notation::LatLon,
        1 if after.starts_with(|c: char| c.is_ascii_alphabetic()) || after.is_empty() => Notation::Mgrs,
        1 => Notation::Utm,
        _ => Notation::Mgrs,
    }
}

/// Whether a text is built like a reference in a national grid, and like nothing that is read: one or two letters before four
/// figures or more, or two numbers of five figures or more without a zone.
fn is_national(text: &str) -> bool {
    let (letters, rest) = split_letters(text);
    let only_figures = |text: &str| text.chars().all(|c| c.is_ascii_digit() || c.is_whitespace());
    if (1..=2).contains(&letters.len()) {
        return only_figures(rest) && rest.chars().filter(char::is_ascii_digit).count() >= 4;
    }
    // Some write the thousands apart: 2'600'000 / 1'200'000.
    let plain = text.replace(['\'', '’'], "");
    let numbers: Vec<&str> =
        plain.split(|c: char| c.is_whitespace() || ",;/".contains(c)).filter(|part| !part.is_empty()).collect();
    let is_long = |number: &&str| number.len() >= 5 && number.chars().all(|c| c.is_ascii_digit());
    numbers.len() == 2 && numbers.iter().all(is_long)
}

/// The letters a text begins with, and what follows.
fn split_letters(text: &str) -> (&str, &str) {
    text.split_at(text.len() - text.trim_start_matches(|c: char| c.is_ascii_alphabetic()).len())
}

/// The figures a text begins with, and what follows.
pub(super) fn split_digits(text: &str) -> (&str, &str) {
    text.split_at(text.len() - text.trim_start_matches(|c: char| c.is_ascii_digit()).len())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_text_is_taken_for_what_it_was_meant_to_be() {
        for (text, expected) in [
            ("-33.9,18.4", Notation::LatLon),
            ("47.5 11.25", Notation::LatLon),
            ("47N 11E", Notation::LatLon),
            ("47 N, 11 E", Notation::LatLon),
            ("47N 11 15 E", Notation::LatLon),
            ("N47 30 E11 15", Notation::LatLon),
            ("47 north 11 east", Notation::LatLon),
            ("47 30 15 N, 11 15 0 E", Notation::LatLon),
            ("181.1234567,0", Notation::LatLon),
            ("32T 691000 5265000", Notation::Utm),
            ("32N 691000 5265000", Notation::Utm),
            ("32S 691000E 4265000N", Notation::Utm),
            ("zone 32 north 691000 5265000", Notation::Utm),
            ("32 north 691000 5265000", Notation::Utm),
            ("32 691000 5265000", Notation::Utm),
            ("4QFJ 12345 67890", Notation::Mgrs),
            ("04QFJ1234567890", Notation::Mgrs),
            ("32T PT 910 650", Notation::Mgrs),
            ("32TPT", Notation::Mgrs),
            ("4 N FJ 12 67", Notation::Mgrs),
            ("32T", Notation::Mgrs),
            ("ZAB 12 67", Notation::Mgrs),
        ] {
            assert_eq!(notation(text), expected, "{text}");
        }
    }

    #[test]
    fn nothing_and_far_too_much_are_refused_at_once() {
        assert_eq!(Place::read(" \t"), Err(ReadPlaceError::Empty));
        assert_eq!(Place::read(&"4".repeat(101)), Err(ReadPlaceError::TooLong));
        assert_eq!(Place::read(&"°".repeat(1_000_000)), Err(ReadPlaceError::TooLong));
        assert_eq!(ReadPlaceError::TooLong.to_string(), "this text is too long for a place: 100 characters at most");
    }

    #[test]
    fn a_reference_in_a_national_grid_is_told_what_to_write_instead() {
        for text in
            ["NN 166 712", "nn166712", "O 12345 67890", "600000 200000", "2'600'000 / 1'200'000", "4468500, 5330200"]
        {
            assert_eq!(Place::read(text), Err(ReadPlaceError::NationalGrid), "{text}");
        }
        let says = ReadPlaceError::NationalGrid.to_string();
        assert!(["47.5,11.25", "32T 691000 5265000", "32T PT 910 650"].iter().all(|example| says.contains(example)));
        // What is meant to be something else keeps its own message.
        for text in ["N 47", "47.5 11.25", "32 691000 5265000", "ZAB 12 67", "N47 30 E11 15", "181.1234567,0"] {
            assert_ne!(Place::read(text), Err(ReadPlaceError::NationalGrid), "{text}");
        }
    }

    #[test]
    fn a_printed_place_is_read_back() {
        let place = Place::from_degrees(-33.9, 18.4).unwrap();
        assert_eq!(Place::read(&place.to_string()), Ok(place));
    }

    proptest! {
        #[test]
        fn no_text_makes_reading_panic(text in any::<String>()) {
            let _ = Place::read(&text);
        }

        #[test]
        fn no_text_of_the_right_signs_makes_reading_panic(text in "[-0-9NSEWTPZ °′″'\",.−mé]{0,40}") {
            if let Ok(place) = Place::read(&text) {
                prop_assert!(place.latitude.degrees().abs() <= 90.0 && place.longitude.degrees().abs() <= 180.0);
            }
        }
    }
}
