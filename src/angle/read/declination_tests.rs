//! Tests of reading declinations, as tables of what people type.

use super::super::Angle;
use super::*;
use ReadErrorKind as Kind;

#[track_caller]
pub(super) fn declination_refused(text: &str) -> Kind {
    match read_declination(text) {
        Ok(typed) => panic!("{text:?} was read as {typed:?}"),
        Err(error) => error.kind,
    }
}

#[track_caller]
pub(super) fn declination(text: &str) -> f64 {
    read_declination(text).unwrap_or_else(|error| panic!("{text:?}: {error}")).angle.degrees()
}

#[test]
fn one_declination_may_be_typed_in_many_ways() {
    for text in [
        "17W",
        "17 W",
        "W17",
        "w 17",
        "17w",
        "17° W",
        "17°W",
        "17 deg west",
        "West 17",
        "17.0W",
        "17,0 W",
        "17°00′ W",
        "17 0 W",
    ] {
        assert_eq!(
            read_declination(text).unwrap(),
            TypedAngle { angle: Angle::from_degrees(-17.0), lettered: true },
            "{text}"
        );
    }
    for text in
        ["13°41′ W", "13°41' W", "13° 41’ w", "13 41 W", "W 13 41", "W13°41′", "13 deg 41 min W", "13°41W", "13 41′ W"]
    {
        assert_eq!(read_declination(text).unwrap().angle, Angle::from_minutes(-821.0), "{text}");
    }
    assert_eq!(declination("9.5E"), 9.5);
    assert_eq!(declination("9,5 E"), 9.5);
    assert_eq!(declination("800 mils W"), -45.0);
}

#[test]
fn half_a_degree_west_keeps_its_side_when_read() {
    for text in ["0°30' W", "0 30 W", "W 0°30′", "0.5 W", "-0°30'", "-0.5"] {
        assert_eq!(declination(text), -0.5, "{text}");
    }
}

#[test]
fn a_declination_without_a_letter_is_signed_east_positive() {
    for (text, degrees) in
        [("-13.5", -13.5), ("−13.5", -13.5), ("13.5", 13.5), ("+13.5", 13.5), ("-13°30′", -13.5), ("0", 0.0)]
    {
        assert_eq!(
            read_declination(text).unwrap(),
            TypedAngle { angle: Angle::from_degrees(degrees), lettered: false },
            "{text}"
        );
    }
    for text in ["0", "-0", "0 W", "-0.0", "0°00′ W"] {
        assert!(declination(text).is_sign_positive(), "{text}");
    }
}

#[test]
fn sign_and_letter_together_are_refused() {
    for text in ["-5W", "-5 W", "+5E", "W-5", "W +5", "−5°30′ E"] {
        assert_eq!(declination_refused(text), Kind::SignAndLetter, "{text}");
    }
}

#[test]
fn one_letter_is_enough_for_a_declination() {
    for text in ["W5W", "E5W", "W 5 E"] {
        assert_eq!(declination_refused(text), Kind::TwoLetters, "{text}");
    }
}

#[test]
fn a_declination_lies_east_or_west_only() {
    for text in ["5 N", "N5", "S 5 W", "5S", "5 M", "5T", "grid 5"] {
        assert_eq!(declination_refused(text), Kind::NotEastOrWest, "{text}");
    }
}

#[test]
fn a_declination_ends_at_a_half_circle() {
    assert_eq!(declination("180 W"), -180.0);
    assert_eq!(declination("180"), 180.0);
    for text in ["180.1 W", "180°01′ E", "-181", "343", "3201 mils E"] {
        assert_eq!(declination_refused(text), Kind::TooFar, "{text}");
    }
}

#[test]
fn two_bare_numbers_are_a_declination_only_with_a_letter() {
    for text in ["13 41", "-13 41", "13 75 W", "13.5 41 W"] {
        assert_eq!(declination_refused(text), Kind::TwoNumbers, "{text}");
    }
}

#[test]
fn what_holds_no_number_is_no_declination() {
    for text in ["W", "west", "nan", "inf", "x5", "°W", "--5", "-"] {
        assert_eq!(declination_refused(text), Kind::NotADeclination, "{text}");
    }
    for text in ["5 W 5", "5 WW", "5 W;", "5 W M", "17 x", "13E 30"] {
        assert_eq!(declination_refused(text), Kind::Extra, "{text}");
    }
}
