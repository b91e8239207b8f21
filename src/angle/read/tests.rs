//! Tests of reading bearings and plain numbers, as tables of what people type.

use super::super::{Angle, North};
use super::declination_tests::{declination, declination_refused};
use super::*;
use ReadErrorKind as Kind;

#[track_caller]
fn bearing(text: &str) -> f64 {
    read_bearing(text).unwrap_or_else(|error| panic!("{text:?}: {error}")).typed.degrees()
}

#[track_caller]
fn refused(text: &str) -> Kind {
    match read_bearing(text) {
        Ok(typed) => panic!("{text:?} was read as {typed:?}"),
        Err(error) => error.kind,
    }
}

#[test]
fn one_bearing_may_be_typed_in_many_ways() {
    for text in [
        "59",
        "059",
        "00059",
        "59°",
        "059°",
        "59º",
        "59˚",
        "59 °",
        "59 deg",
        "59deg",
        "59 degs",
        "59 Degree",
        "59 DEGREES",
        "59.0",
        "59.",
        "59,0",
        "  59 ",
        "\u{a0}59\u{a0}°",
        "+59",
        "N59E",
        "n59e",
        "n 59 e",
        "N 59° E",
        "North 59 East",
        "n059e",
        "N59.0E",
        "59°0′",
        "59°00'",
        "59°00’",
        "59 deg 0 min",
        "59 deg 0 minutes",
        "59° 0",
        "59 0′",
        "59\u{2009}deg",
    ] {
        assert_eq!(bearing(text), 59.0, "{text}");
        assert_eq!(read_bearing(text).unwrap().north, None, "{text}");
    }
    assert_eq!(bearing("59,5"), 59.5);
    assert_eq!(bearing("59.5"), 59.5);
    assert_eq!(bearing(".5"), 0.5);
    assert_eq!(bearing("13°30′"), 13.5);
    assert_eq!(bearing("13°30'"), 13.5);
    assert_eq!(bearing("13°30.6'"), 13.51);
}

#[test]
fn a_number_is_kept_as_it_was_typed() {
    for (text, degrees, on_the_circle) in [
        ("403", 403.0, false),
        ("361", 361.0, false),
        ("360", 360.0, true),
        ("360.1", 360.1, false),
        ("0", 0.0, true),
        ("000", 0.0, true),
        ("-11", -11.0, false),
        ("−11", -11.0, false),
        ("-0.5", -0.5, false),
        ("-13°30′", -13.5, false),
        ("0.1", 0.1, true),
    ] {
        assert_eq!(bearing(text), degrees, "{text}");
        assert_eq!(read_bearing(text).unwrap().is_on_the_circle(), on_the_circle, "{text}");
    }
}

#[test]
fn quarter_bearings_are_read_in_all_four_quarters() {
    for (text, degrees) in [
        ("N40E", 40.0),
        ("S40E", 140.0),
        ("S20W", 200.0),
        ("N40W", 320.0),
        ("N0W", 0.0),
        ("S0E", 180.0),
        ("N90E", 90.0),
        ("S90W", 270.0),
        ("s 20°30′ w", 200.5),
        ("South 20.5 West", 200.5),
        ("S 20,5° W", 200.5),
    ] {
        assert_eq!(bearing(text), degrees, "{text}");
    }
}

#[test]
fn compass_points_are_read_by_name() {
    for (text, degrees) in [
        ("N", 0.0),
        ("E", 90.0),
        ("s", 180.0),
        ("W", 270.0),
        ("NNE", 22.5),
        ("nebn", 33.75),
        ("south-west", 225.0),
        ("NE by N", 33.75),
    ] {
        assert_eq!(
            read_bearing(text).unwrap(),
            TypedBearing { typed: Angle::from_degrees(degrees), north: None },
            "{text}"
        );
    }
}

#[test]
fn the_north_may_stand_behind_any_bearing() {
    for (text, degrees, north) in [
        ("065M", 65.0, North::Magnetic),
        ("065 m", 65.0, North::Magnetic),
        ("065° M", 65.0, North::Magnetic),
        ("065°M", 65.0, North::Magnetic),
        ("065 magnetic", 65.0, North::Magnetic),
        ("065 mag", 65.0, North::Magnetic),
        ("65 deg MAGNETIC", 65.0, North::Magnetic),
        ("65 magnetic north", 65.0, North::Magnetic),
        ("048T", 48.0, North::True),
        ("048 true", 48.0, North::True),
        ("047 grid", 47.0, North::Grid),
        ("047.5G", 47.5, North::Grid),
        ("1600 mils grid", 90.0, North::Grid),
        ("13°30′ T", 13.5, North::True),
        ("N59E M", 59.0, North::Magnetic),
        ("NNE T", 22.5, North::True),
        ("E M", 90.0, North::Magnetic),
        ("north-east by east grid", 56.25, North::Grid),
    ] {
        assert_eq!(
            read_bearing(text).unwrap(),
            TypedBearing { typed: Angle::from_degrees(degrees), north: Some(north) },
            "{text}"
        );
    }
}

#[test]
fn mils_are_turned_into_degrees_when_their_unit_is_typed() {
    for text in ["1600 mil", "1600mils", "1600 MILS", "1600.0 mil"] {
        assert_eq!(bearing(text), 90.0, "{text}");
    }
    assert_eq!(bearing("1600"), 1600.0);
    assert_eq!(bearing("6500 mils"), 365.625);
}

#[test]
fn nothing_but_blanks_is_empty() {
    for text in ["", " ", "   ", "\u{a0}", "\u{2009}\u{202f}"] {
        assert_eq!(refused(text), Kind::Empty);
        assert_eq!(declination_refused(text), Kind::Empty);
        assert_eq!(read_number(text, &[]).unwrap_err().kind, Kind::Empty);
        assert_eq!(Quadrant::read(text).unwrap_err().kind, Kind::Empty);
    }
}

#[test]
fn sixty_four_characters_are_read_and_more_are_not() {
    let padded = |length: usize| format!("{:>length$}", "59");
    assert_eq!(bearing(&padded(64)), 59.0);
    assert_eq!(refused(&padded(65)), Kind::TooLong);
    assert_eq!(bearing(&"0".repeat(64)), 0.0);
    // Characters count, not bytes.
    assert_eq!(bearing(&format!("59{}°", "\u{2009}".repeat(61))), 59.0);
    assert_eq!(refused(&format!("59{}°", "\u{2009}".repeat(62))), Kind::TooLong);
    assert!(bearing(&"9".repeat(64)).is_finite());
}

#[test]
fn a_megabyte_is_refused_in_a_short_sentence() {
    for filler in ["9", " ", "\u{1b}[31m", "５", "n"] {
        let text = filler.repeat(1_000_000);
        assert_eq!(refused(&text), Kind::TooLong);
        assert_eq!(declination_refused(&text), Kind::TooLong);
        assert!(read_bearing(&text).unwrap_err().to_string().len() < 100);
    }
}

#[test]
fn control_characters_are_refused_and_not_echoed() {
    for text in ["59\t", "\u{1b}[31m59", "5\u{0}9", "59\n", "59\u{7f}", "59\u{9b}"] {
        assert_eq!(refused(text), Kind::ControlCharacter);
        assert_eq!(declination_refused(text), Kind::ControlCharacter);
        assert_eq!(read_number(text, &["m"]).unwrap_err().kind, Kind::ControlCharacter);
    }
}

#[test]
fn digits_of_other_scripts_are_refused() {
    for text in ["５９", "٥٩", "5²", "५९", "½", "Ⅻ"] {
        assert_eq!(refused(text), Kind::OddDigit, "{text}");
    }
}

#[test]
fn signs_of_other_trades_are_refused() {
    for text in ["59é", "59\u{200b}", "\u{202e}59", "59€", "NÉ", "59″", "Ｎ59Ｅ", "59\u{2028}", "🧭"] {
        assert_eq!(refused(text), Kind::OddCharacter, "{text}");
    }
}

#[test]
fn numbers_with_an_exponent_are_refused() {
    for text in ["1e5", "1E5", "1e400", "1e-3", "1.5E+2", "N5e1E"] {
        assert_eq!(refused(text), Kind::PowerOfTen, "{text}");
    }
    assert_eq!(declination_refused("9e5"), Kind::PowerOfTen);
    assert_eq!(declination("9E"), 9.0);
}

#[test]
fn a_comma_that_may_mean_thousands_is_refused() {
    for text in ["1,600 mil", "59,125", "1,250"] {
        assert_eq!(refused(text), Kind::ThousandsComma, "{text}");
    }
    assert_eq!(bearing("0,125"), 0.125);
    assert_eq!(bearing("59,12"), 59.12);
    assert_eq!(bearing("59.125"), 59.125);
    assert_eq!(read_number("1234,500", &[]), Ok(1234.5));
}

#[test]
fn a_number_has_one_decimal_point() {
    for text in ["1.2.3", "1,2,3", "1,250.5", "59..", "1.5,"] {
        assert_eq!(refused(text), Kind::TwoPoints, "{text}");
    }
}

#[test]
fn what_holds_no_number_is_no_bearing() {
    for text in [
        "nan", "NaN", "inf", "infinity", "-inf", "abc", "?", "°", ".", ",", "-", "--5", "+-5", "- 5", "M", "M 065",
        "e5", "N-59E", "#59",
    ] {
        assert_eq!(refused(text), Kind::NotABearing, "{text}");
    }
    assert_eq!(refused("north of here"), Kind::NotABearing);
}

#[test]
fn two_numbers_are_no_bearing() {
    for text in ["13 30", "59 60", "13.5 30", "N 13 30 E"] {
        assert_eq!(refused(text), Kind::TwoNumbers, "{text}");
    }
}

#[test]
fn trailing_rubbish_is_refused() {
    for text in [
        "59;",
        "59x",
        "0x1F",
        "59°°",
        "59 mils deg",
        "59 deg M x",
        "59 degM",
        "59-",
        "59,",
        "065 MM",
        "065 M T",
        "13°30′′",
        "13°30′20",
        "59 T north east",
        "N59E 5",
        "59 d",
        "1600 grads",
        "59_0",
        "13°30m",
    ] {
        assert_eq!(refused(text), Kind::Extra, "{text}");
    }
}

#[test]
fn east_and_west_are_no_norths() {
    for text in ["90E", "90 e", "90W", "90 west", "59N", "59 south", "90°E"] {
        assert_eq!(refused(text), Kind::NotANorth, "{text}");
    }
}

#[test]
fn a_quarter_bearing_needs_its_last_letter() {
    for text in ["N59", "S 20", "N59N", "N59 M", "n59°"] {
        assert_eq!(refused(text), Kind::QuadrantUnfinished, "{text}");
    }
}

#[test]
fn a_quarter_bearing_ends_at_ninety() {
    for text in ["N91E", "S90.1W", "N120W", "S 2000 mils W"] {
        assert_eq!(refused(text), Kind::QuadrantTooBig, "{text}");
    }
}

#[test]
fn minutes_go_up_to_fifty_nine() {
    assert_eq!(refused("13°60′"), Kind::MinutesTooBig);
    assert_eq!(refused("13 75'"), Kind::MinutesTooBig);
    assert_eq!(declination_refused("13°60' W"), Kind::MinutesTooBig);
    assert_eq!(declination("13°59.9' W"), -(13.0 * 60.0 + 59.9) / 60.0);
}

#[test]
fn minutes_do_not_follow_a_decimal() {
    assert_eq!(refused("13.5°30′"), Kind::MinutesAfterDecimal);
    assert_eq!(declination_refused("13.5° 30 W"), Kind::MinutesAfterDecimal);
}

#[test]
fn minutes_alone_are_no_bearing_but_may_be_a_declination() {
    assert_eq!(refused("30′"), Kind::MinutesAlone);
    assert_eq!(refused("N 30 min E"), Kind::MinutesAlone);
    assert_eq!(declination("30′ W"), -0.5);
    assert_eq!(declination("E 30 min"), 0.5);
}

#[test]
fn a_plain_number_may_carry_one_of_its_units() {
    let units = ["m", "metres", "m/s", "°C"];
    for (text, number) in [
        ("250", 250.0),
        ("250m", 250.0),
        ("250 M", 250.0),
        ("2,5 metres", 2.5),
        ("-3", -3.0),
        ("3 m/s", 3.0),
        ("3°c", 3.0),
        ("007", 7.0),
    ] {
        assert_eq!(read_number(text, &units), Ok(number), "{text}");
    }
    assert!(read_number("-0", &[]).unwrap().is_sign_positive());
    for (text, kind) in [
        ("250 ft", Kind::Extra),
        ("250 m m", Kind::Extra),
        ("250 metre", Kind::Extra),
        ("250-", Kind::Extra),
        ("m", Kind::NotANumber),
        ("nan", Kind::NotANumber),
        ("inf", Kind::NotANumber),
        ("1e400", Kind::PowerOfTen),
        ("0x10", Kind::Extra),
        ("13 30", Kind::TwoNumbers),
        ("1,250 m", Kind::ThousandsComma),
        (",356 m", Kind::LeadingComma),
        ("-,5", Kind::LeadingComma),
        (",", Kind::NotANumber),
        ("1.2.3", Kind::TwoPoints),
        ("٣", Kind::OddDigit),
    ] {
        assert_eq!(read_number(text, &units).unwrap_err().kind, kind, "{text}");
    }
}

#[test]
fn every_example_in_a_message_can_be_typed() {
    for text in ["065", "59.5", "13.5", "059", "N59E", "13°30'", "0°30'", "150"] {
        assert!(read_bearing(text).is_ok(), "{text}");
    }
    for text in ["14 W", "5 W"] {
        assert!(read_declination(text).is_ok(), "{text}");
    }
    for text in ["250", "1250", "1.25", "4600", "4.6", "0.5"] {
        assert!(read_number(text, &[]).is_ok(), "{text}");
    }
    assert!(Quadrant::read("N40W").is_ok());
}

#[test]
fn messages_are_short_sentences_for_a_twelve_year_old() {
    let all = [
        Kind::Empty,
        Kind::TooLong,
        Kind::ControlCharacter,
        Kind::OddDigit,
        Kind::OddCharacter,
        Kind::PowerOfTen,
        Kind::ThousandsComma,
        Kind::ThousandsPoint,
        Kind::LeadingComma,
        Kind::TwoPoints,
        Kind::NotABearing,
        Kind::NotAQuadrant,
        Kind::NotADeclination,
        Kind::NotANumber,
        Kind::TwoNumbers,
        Kind::Extra,
        Kind::NotANorth,
        Kind::QuadrantUnfinished,
        Kind::QuadrantTooBig,
        Kind::MinutesTooBig,
        Kind::MinutesAfterDecimal,
        Kind::MinutesAlone,
        Kind::SignAndLetter,
        Kind::TwoLetters,
        Kind::NotEastOrWest,
        Kind::TooFar,
    ];
    let mut messages: Vec<_> = all.iter().map(|kind| ReadError::from(*kind).to_string()).collect();
    for message in &messages {
        assert!((10..=85).contains(&message.chars().count()), "{message}");
        assert!(!message.contains(" -") && !message.ends_with('.'), "{message}");
    }
    messages.sort();
    messages.dedup();
    assert_eq!(messages.len(), all.len(), "two kinds say the same");
}
