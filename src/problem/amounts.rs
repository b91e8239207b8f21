//! Reading distances and times as people write them in the field: `900 m`, `1.2 km`, `½ mi`, `45 min`, `1 h 15`, `¾ h`, and paces.
//!
//! A bare number takes the unit that the question names. What carries a unit that is none of these is refused by that unit, so
//! that a slip of the unit is not taken for a slip of the number.

use super::LengthUnit;
use super::reading::AnswerErrorKind;
use crate::angle::{ReadError, ReadErrorKind, read_number};

/// What is taken for a distance.
const LENGTHS: &str = "m, km or mi";
/// What is taken for a length on the map.
const ON_MAP: &str = "mm or cm";
/// What is taken for a time.
const TIMES: &str = "min or h";
/// A mile of 1760 yards, exactly.
const MILE_M: f64 = 1609.344;
/// A longer word is no unit that is worth repeating.
const LONGEST_UNIT: usize = 12;
/// The largest denominator of a fraction that somebody would type.
const LARGEST_DENOMINATOR: f64 = 100.0;
/// Fractions that have a sign of their own.
const FRACTIONS: [(char, f64); 3] = [('¼', 0.25), ('½', 0.5), ('¾', 0.75)];

/// A length in metres; a bare number is taken in the unit.
pub(super) fn read_length(text: &str, unit: LengthUnit) -> Result<f64, AnswerErrorKind> {
    not_nothing(text, length(text, unit))
}

fn length(text: &str, unit: LengthUnit) -> Result<f64, AnswerErrorKind> {
    let (number, word, rest) = part(text);
    let metres = match word.to_lowercase().as_str() {
        "" => unit.metres(),
        "m" | "metre" | "metres" | "meter" | "meters" => LengthUnit::Metres.metres(),
        "km" | "kilometre" | "kilometres" | "kilometer" | "kilometers" => LengthUnit::Kilometres.metres(),
        "mi" | "mile" | "miles" => MILE_M,
        _ => return Err(foreign(number, word, LENGTHS)),
    };
    // Nobody paces or plots millimetres of ground, and in many countries a point stands between the thousands.
    if metres.to_bits() == LengthUnit::Metres.metres().to_bits() && is_grouped(number) {
        return Err(ReadError::from(ReadErrorKind::ThousandsPoint).into());
    }
    let length = amount(number)? * metres;
    if rest.is_empty() { Ok(length) } else { Err(extra()) }
}

/// A length on the map in millimetres; a bare number is millimetres.
pub(super) fn read_on_map(text: &str) -> Result<f64, AnswerErrorKind> {
    not_nothing(text, on_map(text))
}

fn on_map(text: &str) -> Result<f64, AnswerErrorKind> {
    let (number, word, rest) = part(text);
    let mm = match word.to_lowercase().as_str() {
        "" | "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => 1.0,
        "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => 10.0,
        _ => return Err(foreign(number, word, ON_MAP)),
    };
    // Ten times 1.36 has dust at its end.
    let length = (amount(number)? * mm * 1e9).round() / 1e9;
    if rest.is_empty() { Ok(length) } else { Err(extra()) }
}

/// A duration in minutes; a bare number is minutes.
pub(super) fn read_time(text: &str) -> Result<f64, AnswerErrorKind> {
    not_nothing(text, time(text))
}

fn time(text: &str) -> Result<f64, AnswerErrorKind> {
    if let Some((hours, minutes)) = text.split_once(':') {
        return Ok(60.0 * amount(hours)? + behind_hours(minutes)?);
    }
    let (number, word, rest) = part(text);
    let Some(size) = minutes_of(word) else { return Err(foreign(number, word, TIMES)) };
    let first = amount(number)? * size;
    if rest.is_empty() {
        return Ok(first);
    }
    // Behind hours stand minutes, with or without their word, which nobody takes for metres there.
    let (number, word, rest) = part(after_joint(rest));
    match minutes_of(if word.eq_ignore_ascii_case("m") { "min" } else { word }) {
        Some(1.0) if size > 1.0 && rest.is_empty() => Ok(first + behind_hours(number)?),
        None => Err(foreign(number, word, TIMES)),
        _ => Err(extra()),
    }
}

/// Minutes that stand behind hours: sixty of them would be another hour, so they are a slip.
fn behind_hours(text: &str) -> Result<f64, AnswerErrorKind> {
    let minutes = amount(text)?;
    if minutes < 60.0 { Ok(minutes) } else { Err(AnswerErrorKind::MinutesBehindHours) }
}

/// What comes behind whatever joins the minutes to the hours: `1 h, 42`, `1 hour and 42 minutes`. A comma there is no decimal one.
fn after_joint(rest: &str) -> &str {
    let rest = rest.strip_prefix([',', ';']).unwrap_or(rest).trim_start();
    match rest.split_at_checked(3) {
        Some((and, minutes)) if and.eq_ignore_ascii_case("and") && minutes.starts_with(char::is_whitespace) => {
            minutes.trim_start()
        }
        _ => rest,
    }
}

/// A count of paces: of those that the field's label asks for, by their name, or bare.
pub(super) fn read_count(text: &str, label: &str) -> Result<f64, AnswerErrorKind> {
    let (number, words) = text.split_at(text.find(char::is_alphabetic).unwrap_or(text.len()));
    let words: Vec<String> = words.split_whitespace().map(str::to_lowercase).collect();
    let typed = match words.iter().map(String::as_str).collect::<Vec<_>>()[..] {
        ["double", "pace" | "paces"] => Some("double paces"),
        ["single", "pace" | "paces"] => Some("single paces"),
        _ => None,
    };
    let count = match (typed, ["double paces", "single paces"].into_iter().find(|kind| label.contains(kind))) {
        (Some(typed), Some(asked)) if typed == asked => read_number(number, &[]),
        (Some(_), Some(asked)) => {
            read_number(number, &[])?;
            return Err(AnswerErrorKind::OtherPaces(asked));
        }
        _ => read_number(text, &["paces", "pace"]),
    };
    not_nothing(text, count.map_err(AnswerErrorKind::from))
}

/// How many minutes a unit of time has; a missing one is minutes.
fn minutes_of(word: &str) -> Option<f64> {
    match word.to_lowercase().as_str() {
        "" | "min" | "mins" | "minute" | "minutes" => Some(1.0),
        "h" | "hr" | "hrs" | "hour" | "hours" => Some(60.0),
        _ => None,
    }
}

/// A number with the word behind it, and what comes after that.
fn part(text: &str) -> (&str, &str, &str) {
    let text = text.trim();
    let word = text.find(char::is_alphabetic).unwrap_or(text.len());
    let (number, rest) = text.split_at(word);
    let end = rest.find(|letter: char| !letter.is_alphabetic()).unwrap_or(rest.len());
    (number.trim_end(), &rest[..end], rest[end..].trim_start())
}

/// A number from 0 up: `1.5`, `½`, `1½`, `3/4`, `1 3/4`.
fn amount(text: &str) -> Result<f64, AnswerErrorKind> {
    let text = text.trim();
    let (negative, size) = match text.strip_prefix(['-', '−', '–']) {
        Some(size) => (true, size.trim_start()),
        None => (false, text),
    };
    let ending = FRACTIONS.iter().find_map(|(sign, part)| Some((size.strip_suffix(*sign)?.trim_end(), *part)));
    let number = match (ending, size.split_once('/')) {
        (Some(("", part)), _) => part,
        (Some((whole, part)), _) => read_number(whole, &[])? + part,
        (None, Some((above, below))) => {
            let (whole, above) = above.trim().rsplit_once(' ').unwrap_or(("0", above));
            let (whole, above, below) = (read_number(whole, &[])?, read_number(above, &[])?, read_number(below, &[])?);
            if !(1.0..=LARGEST_DENOMINATOR).contains(&below) {
                return Err(ReadError::from(ReadErrorKind::NotANumber).into());
            }
            whole + above / below
        }
        (None, None) => read_number(size, &[])?,
    };
    if number < 0.0 || negative && number > 0.0 { Err(AnswerErrorKind::BelowZero) } else { Ok(number) }
}

/// Whether a point stands where it may part the thousands: `4.600`.
fn is_grouped(number: &str) -> bool {
    let digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
    number.trim().split_once('.').is_some_and(|(whole, behind)| {
        digits(whole) && digits(behind) && behind.len() == 3 && matches!(whole.len(), 1..=3) && !whole.starts_with('0')
    })
}

/// A number that is missing in what was typed is not nothing at all.
fn not_nothing(text: &str, read: Result<f64, AnswerErrorKind>) -> Result<f64, AnswerErrorKind> {
    match read {
        Err(AnswerErrorKind::Read(error)) if error.kind == ReadErrorKind::Empty && !text.trim().is_empty() => {
            Err(ReadError::from(ReadErrorKind::NotANumber).into())
        }
        other => other,
    }
}

fn extra() -> AnswerErrorKind {
    ReadError::from(ReadErrorKind::Extra).into()
}

/// What is said of a unit that is not taken. Where there is no number at all, that is what is wrong.
fn foreign(number: &str, word: &str, write: &'static str) -> AnswerErrorKind {
    match amount(number) {
        Err(error) => error,
        Ok(_) if word.chars().count() > LONGEST_UNIT => extra(),
        Ok(_) => AnswerErrorKind::Unit { typed: word.to_owned(), write },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn metres(text: &str) -> Result<f64, AnswerErrorKind> {
        read_length(text, LengthUnit::Metres)
    }

    #[test]
    fn a_bare_length_takes_the_unit_that_is_asked_and_a_named_one_its_own() {
        for text in ["900", "900 m", "900m", " 900 M ", "0.9 km", "0,9km", "900 metres", "9/10 km"] {
            assert_eq!(metres(text), Ok(900.0), "{text}");
        }
        assert_eq!(read_length("1.2", LengthUnit::Kilometres), Ok(1200.0));
        assert_eq!(read_length("900 m", LengthUnit::Kilometres), Ok(900.0));
        // A mile is 1760 yards of 0.9144 m (international yard and pound agreement, 1959).
        for text in ["0.5 mi", "½ mi", "1/2 mile", "½mi"] {
            assert_eq!(metres(text), Ok(804.672), "{text}");
        }
        assert_eq!(metres("1 ½ km"), metres("1500"));
        assert_eq!(metres("0"), Ok(0.0));
    }

    #[test]
    fn a_length_on_the_map_is_read_in_millimetres_or_centimetres() {
        for text in ["13.6", "13.6 mm", "1.36 cm", "13,6mm"] {
            assert_eq!(read_on_map(text), Ok(13.6), "{text}");
        }
        let said = read_on_map("13.6 m").expect_err("a foreign unit").to_string();
        assert_eq!(said, "m is no unit here; write mm or cm, or the number alone");
    }

    #[test]
    fn times_are_read_as_people_write_them() {
        for text in
            ["75", "75 min", "1 h 15", "1h15", "1:15", "1 hour 15 minutes", "1 h 15 min", "1h 15m", "1¼ h", "1 1/4 h"]
        {
            assert_eq!(read_time(text), Ok(75.0), "{text}");
        }
        for text in ["45 min", "¾ h", "0.75 h", "3/4 h", "0:45", "45"] {
            assert_eq!(read_time(text), Ok(45.0), "{text}");
        }
        assert_eq!(read_time("2 hours"), Ok(120.0));
    }

    #[test]
    fn a_comma_or_an_and_behind_the_hours_joins_the_minutes_to_them() {
        for text in [
            "1h,42m",
            "1h,42",
            "1 h,42",
            "1 h, 42",
            "1 h; 42 min",
            "1 hour and 42 minutes",
            "1 hour, and 42 minutes",
            "1 h AND 42",
            "1:42",
            "1.7 h",
            "1,7 h",
        ] {
            assert_eq!(read_time(text), Ok(102.0), "{text}");
        }
        for text in ["1 h,", "1 h and", "1 h ,, 42", "1 h and and 42", "1 h and42", "42 min, 1 h"] {
            assert!(read_time(text).is_err(), "{text}");
        }
    }

    #[test]
    fn an_hour_or_more_of_minutes_behind_hours_is_asked_again() {
        for text in ["1:99", "1 h 99", "0:102", "1:60", "1 h, 60 min", "1 h and 75 minutes"] {
            assert_eq!(read_time(text), Err(AnswerErrorKind::MinutesBehindHours), "{text}");
        }
        assert_eq!(read_time("1:59"), Ok(119.0));
        assert_eq!(read_time("102"), Ok(102.0));
    }

    #[test]
    fn a_point_or_comma_that_may_part_thousands_of_metres_is_asked_again() {
        let refused = |kind: ReadErrorKind| Err(AnswerErrorKind::Read(kind.into()));
        for text in ["4.600 m", "4.600", "46.000 metres", "120.500m"] {
            assert_eq!(metres(text), refused(ReadErrorKind::ThousandsPoint), "{text}");
        }
        assert_eq!(metres("4,600 m"), refused(ReadErrorKind::ThousandsComma));
        for text in ["4.600 km", "4600.0 m", "4600 m"] {
            assert_eq!(metres(text), Ok(4600.0), "{text}");
        }
        assert_eq!(read_length("4.600", LengthUnit::Kilometres), Ok(4600.0));
        assert_eq!(metres("0.500 m"), Ok(0.5));
        assert_eq!(metres("4.6 m"), Ok(4.6));
        assert_eq!(metres(",356"), refused(ReadErrorKind::LeadingComma));
        assert_eq!(metres("–,356 km"), refused(ReadErrorKind::LeadingComma));
    }

    #[test]
    fn nothing_is_told_only_of_those_who_typed_nothing() {
        let nothing = "nothing was typed";
        for text in ["", " "] {
            assert_eq!(metres(text).unwrap_err().to_string(), nothing);
            assert_eq!(read_time(text).unwrap_err().to_string(), nothing);
            assert_eq!(read_on_map(text).unwrap_err().to_string(), nothing);
            assert_eq!(read_count(text, "how many double paces").unwrap_err().to_string(), nothing);
        }
        let no_number = ReadError::from(ReadErrorKind::NotANumber).to_string();
        for text in ["NaN", "h h", "h", "m", "km", ":", "inf"] {
            assert_eq!(metres(text).unwrap_err().to_string(), no_number, "{text}");
            assert_eq!(read_time(text).unwrap_err().to_string(), no_number, "{text}");
            assert_eq!(read_on_map(text).unwrap_err().to_string(), no_number, "{text}");
            assert_eq!(read_count(text, "how many double paces").unwrap_err().to_string(), no_number, "{text}");
        }
        assert_eq!(read_time(":15").unwrap_err().to_string(), no_number);
    }

    #[test]
    fn paces_are_counted_as_asked_and_the_other_kind_is_refused_by_the_one_asked() {
        let (double, single) = ("how many double paces", "how many single paces");
        for text in ["442", "442 paces", "442 pace", "442 double paces", "442  Double  Paces", "442double paces"] {
            assert_eq!(read_count(text, double), Ok(442.0), "{text}");
        }
        assert_eq!(read_count("442 single paces", single), Ok(442.0));
        assert_eq!(read_count("1 single pace", single), Ok(1.0));
        for (text, label, asked) in
            [("442 single paces", double, "double paces"), ("442 double paces", single, "single paces")]
        {
            let said = read_count(text, label).unwrap_err().to_string();
            assert!(said.contains(asked), "{said}");
        }
        for text in ["442 triple paces", "442 double", "double paces", "1e5", "442 paces paces", "4 2 double paces"] {
            assert!(matches!(read_count(text, double), Err(AnswerErrorKind::Read(_))), "{text}");
        }
        assert!(read_count("442 double paces", "how many").is_err(), "where no paces are asked");
    }

    #[test]
    fn less_than_nothing_is_told_as_that() {
        for text in ["-5", "-5 m", "−½ km", "– 3 mi"] {
            assert_eq!(metres(text), Err(AnswerErrorKind::BelowZero), "{text}");
        }
        assert_eq!(read_time("-5 min"), Err(AnswerErrorKind::BelowZero));
        assert_eq!(read_time("1 h -5"), Err(AnswerErrorKind::BelowZero));
        assert_eq!(metres("-0"), Ok(0.0));
    }

    #[test]
    fn another_unit_is_told_by_its_name_with_those_that_are_taken() {
        let said = |error: Result<f64, AnswerErrorKind>| error.expect_err("a foreign unit").to_string();
        assert_eq!(said(metres("900 ft")), "ft is no unit here; write m, km or mi, or the number alone");
        assert_eq!(said(metres("12 min")), "min is no unit here; write m, km or mi, or the number alone");
        assert_eq!(said(read_time("45 m")), "m is no unit here; write min or h, or the number alone");
        assert_eq!(said(read_time("1 h 30 s")), "s is no unit here; write min or h, or the number alone");
    }

    #[test]
    fn what_is_no_number_is_not_taken_for_one() {
        for text in ["", "far", "m", "h", "½½", "1/0 km", "1/", "5 m 3", "5 m m", "1 km 200 m", "1.2.3 km"] {
            assert!(matches!(metres(text), Err(AnswerErrorKind::Read(_) | AnswerErrorKind::Unit { .. })), "{text}");
        }
        for text in ["", "h", "15 min 1 h", "1 h 2 h", "1:", ":15", "5 min 5"] {
            assert!(matches!(read_time(text), Err(AnswerErrorKind::Read(_))), "{text}");
        }
        let long = format!("5 {}", "x".repeat(30));
        assert!(matches!(metres(&long), Err(AnswerErrorKind::Read(_))), "it is not repeated");
    }
}
