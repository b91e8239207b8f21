//! Single values: read and checked alike in the file and on the command line, and written so that they read the same.

use super::{Ground, Home, MapDate, OwnMap, THEMES};
use crate::angle::{Angle, EastWest, North, ReadError, decimal_declination, declination_words, read_declination};
use crate::geomag::AnnualChange;
use crate::ground::ReadPlaceError;
use crate::textfile::{nearest, shown, shown_sentence, unshowable};
use jiff::civil::Date;

/// Why a value cannot be used. `Display` says what is wrong and what to write instead; texts that were written may stand
/// in it, cut short and without control characters.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ValueError {
    /// Nothing but blanks.
    #[error("there is nothing in it; leave it out, or write a name")]
    Blank,
    /// A name too long to show.
    #[error("that name is too long: {most} letters at most", most = Home::LONGEST_NAME)]
    TooLong,
    /// A control character in a name.
    #[error("there is a sign in it that cannot be shown; write it in plain letters on one line")]
    Control,
    /// No place.
    #[error("{}", shown_sentence(.0))]
    Place(ReadPlaceError),
    /// No angle.
    #[error("{0}")]
    Angle(ReadError),
    /// An angle that may be to either side.
    #[error("the side is missing: write E or W behind it, like 3°30′ W")]
    NoSide,
    /// A yearly change beyond [`OwnMap::LARGEST_CHANGE`].
    #[error("no map has so large a yearly change; it is a few minutes, like 9′ E")]
    Change,
    /// A height beyond [`Home::HEIGHTS_M`].
    #[error(
        "a height of {0} metres is out of range: heights run from {low} to {high} metres",
        low = Home::HEIGHTS_M.start(),
        high = Home::HEIGHTS_M.end()
    )]
    Height(f64),
    /// No north line.
    #[error("there is no north line called '{found}'{}; the lines are magnetic, true and grid", meant(.nearest))]
    Line {
        /// What was written.
        found: String,
        /// What was perhaps meant.
        nearest: Option<&'static str>,
    },
    /// No north line at all.
    #[error("name at least one line: magnetic, true or grid; the sides of a map's sheet are often true-north lines")]
    NoLines,
    /// A year beyond [`MapDate::YEARS`].
    #[error(
        "{0} is no year of a map: years run from {low} to {high}",
        low = MapDate::YEARS.start(),
        high = MapDate::YEARS.end()
    )]
    Year(i64),
    /// No day.
    #[error("that is not a day; write it like 2019-07-01")]
    Day,
    /// No theme.
    #[error("there is no theme '{found}'{}; the themes are {}", meant(.nearest), THEMES.join(", "))]
    Theme {
        /// What was written.
        found: String,
        /// What was perhaps meant.
        nearest: Option<&'static str>,
    },
}

impl From<ReadPlaceError> for ValueError {
    fn from(error: ReadPlaceError) -> ValueError {
        ValueError::Place(error)
    }
}

impl From<ReadError> for ValueError {
    fn from(error: ReadError) -> ValueError {
        ValueError::Angle(error)
    }
}

fn meant(nearest: &Option<&'static str>) -> String {
    nearest.map(|word| format!(" (did you mean {word}?)")).unwrap_or_default()
}

/// Reads a name.
///
/// # Errors
/// [`ValueError::Blank`], [`ValueError::TooLong`], [`ValueError::Control`].
pub fn read_name(text: &str) -> Result<String, ValueError> {
    let text = text.trim();
    if text.is_empty() {
        Err(ValueError::Blank)
    } else if text.chars().nth(Home::LONGEST_NAME).is_some() {
        Err(ValueError::TooLong)
    } else if text.chars().any(unshowable) {
        Err(ValueError::Control)
    } else {
        Ok(text.to_owned())
    }
}

/// Checks a height in metres.
///
/// # Errors
/// [`ValueError::Height`] outside [`Home::HEIGHTS_M`], and for NaN.
pub fn read_height(metres: f64) -> Result<f64, ValueError> {
    if Home::HEIGHTS_M.contains(&metres) { Ok(metres) } else { Err(ValueError::Height(metres)) }
}

/// Reads names of north lines; they come out in the order of [`Ground::LINES`], each once.
///
/// # Errors
/// [`ValueError::Line`], [`ValueError::NoLines`].
pub fn read_lines<'a>(names: impl IntoIterator<Item = &'a str>) -> Result<Vec<North>, ValueError> {
    let named = names.into_iter().map(read_line).collect::<Result<Vec<_>, _>>()?;
    if named.is_empty() {
        return Err(ValueError::NoLines);
    }
    Ok(Ground::LINES.into_iter().filter(|line| named.contains(line)).collect())
}

/// Reads the name of one north line.
pub(super) fn read_line(name: &str) -> Result<North, ValueError> {
    let wanted = name.trim();
    let is = |line: &North| line.word().eq_ignore_ascii_case(wanted);
    Ground::LINES.into_iter().find(is).ok_or_else(|| ValueError::Line {
        found: shown(wanted),
        nearest: nearest(wanted, Ground::LINES.into_iter().map(North::word)),
    })
}

/// Reads a printed declination or G-M angle. It must carry its letter: what a sign means differs from map to map.
///
/// # Errors
/// [`ValueError::Angle`], [`ValueError::NoSide`].
pub fn read_printed_angle(text: &str) -> Result<Angle, ValueError> {
    let read = read_declination(text)?;
    if read.lettered || read.angle == Angle::ZERO { Ok(read.angle) } else { Err(ValueError::NoSide) }
}

/// Reads a printed yearly change: minutes, unless a degree sign says otherwise.
///
/// # Errors
/// [`ValueError::Angle`], [`ValueError::NoSide`], [`ValueError::Change`].
pub fn read_annual_change(text: &str) -> Result<AnnualChange, ValueError> {
    let marked = |c: char| matches!(c, '°' | 'º' | '˚' | '′' | '\'' | '’' | 'ʹ');
    let lower = text.to_ascii_lowercase();
    let in_words = lower.contains("min") || lower.contains("deg");
    let mut angle = read_printed_angle(text)?;
    if !in_words && !text.contains(marked) {
        angle = Angle::from_minutes(angle.degrees());
    }
    if angle.abs() > OwnMap::LARGEST_CHANGE {
        return Err(ValueError::Change);
    }
    Ok(AnnualChange::from_angle(angle))
}

/// Checks a year.
///
/// # Errors
/// [`ValueError::Year`] outside [`MapDate::YEARS`].
pub fn read_year(year: i64) -> Result<MapDate, ValueError> {
    let small = i16::try_from(year).ok().filter(|year| MapDate::YEARS.contains(year));
    small.map(MapDate::Year).ok_or(ValueError::Year(year))
}

/// Reads a day.
///
/// # Errors
/// [`ValueError::Day`], and [`ValueError::Year`] as for [`read_year`].
pub fn read_day(text: &str) -> Result<MapDate, ValueError> {
    let day: Date = text.trim().parse().map_err(|_| ValueError::Day)?;
    read_year(i64::from(day.year())).map(|_| MapDate::Day(day))
}

/// Reads the name of a theme.
///
/// # Errors
/// [`ValueError::Theme`].
pub fn read_theme(name: &str) -> Result<&'static str, ValueError> {
    let wanted = name.trim();
    let is = |theme: &&str| theme.eq_ignore_ascii_case(wanted);
    THEMES
        .into_iter()
        .find(is)
        .ok_or_else(|| ValueError::Theme { found: shown(wanted), nearest: nearest(wanted, THEMES.into_iter()) })
}

/// A printed angle as the file has it: the shortest form that is read back as just this value. `same` says whether a text
/// is.
pub(super) fn write_printed_angle(angle: Angle, same: impl Fn(&str) -> bool) -> String {
    let decimals = (0..=9).map(|decimals| decimal_declination(angle, decimals).to_string());
    std::iter::once(declination_words(angle).to_string()).chain(decimals).find(|text| same(text)).unwrap_or_else(|| {
        // Rust prints the shortest decimal that is read back as the same number.
        let side = EastWest::of(angle).map_or(' ', EastWest::letter);
        format!("{}° {side}", angle.abs().degrees()).trim_end().to_owned()
    })
}

/// A yearly change as the file has it.
pub(super) fn write_annual_change(change: AnnualChange) -> String {
    let angle = change.angle();
    let Some(side) = EastWest::of(angle) else { return "0′".to_owned() };
    let same = |text: &String| read_annual_change(text) == Ok(change);
    (0..=6)
        .map(|decimals| format!("{:.decimals$}′ {}", angle.abs().minutes(), side.letter()))
        .find(same)
        .unwrap_or_else(|| format!("{}° {}", angle.abs().degrees(), side.letter()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::angle::Declination;
    use proptest::prelude::*;

    fn change(text: &str) -> Result<f64, String> {
        read_annual_change(text).map(|change| change.angle().minutes()).map_err(|error| error.to_string())
    }

    #[test]
    fn a_yearly_change_is_in_minutes_unless_it_says_degrees() {
        for text in ["9′ E", "9'E", "9E", "9 east", "9 min E", "0°9′ E", "E 9"] {
            assert!((change(text).unwrap() - 9.0).abs() < 1e-12, "{text}");
        }
        assert!((change("4.2W").unwrap() + 4.2).abs() < 1e-12);
        assert!((change("0.15° E").unwrap() - 9.0).abs() < 1e-12);
        assert_eq!(change("0"), Ok(0.0));
    }

    #[test]
    fn values_that_cannot_be_used_say_what_to_write() {
        assert_eq!(change("9"), Err("the side is missing: write E or W behind it, like 3°30′ W".into()));
        assert_eq!(change("9°E"), Err("no map has so large a yearly change; it is a few minutes, like 9′ E".into()));
        assert!(matches!(read_printed_angle("-3.5"), Err(ValueError::NoSide)));
        assert!(matches!(read_printed_angle("3.5 N"), Err(ValueError::Angle(_))));
        assert_eq!(
            read_height(-50_000.0).unwrap_err().to_string(),
            "a height of -50000 metres is out of range: heights run from -1000 to 850000 metres"
        );
        assert!(read_height(f64::NAN).is_err());
        assert_eq!(
            read_lines(["grid", "magnetc"]).unwrap_err().to_string(),
            "there is no north line called 'magnetc' (did you mean magnetic?); the lines are magnetic, true and grid"
        );
        assert_eq!(read_lines([]), Err(ValueError::NoLines));
        assert_eq!(
            read_theme("nihgt").unwrap_err().to_string(),
            "there is no theme 'nihgt' (did you mean night?); the themes are dark, day, sun, night, 16, none"
        );
        assert_eq!(read_year(3000).unwrap_err().to_string(), "3000 is no year of a map: years run from 1800 to 2100");
        assert_eq!(read_day("2019-13-01"), Err(ValueError::Day));
        assert_eq!(read_name(" \t "), Err(ValueError::Blank));
        assert_eq!(read_name("a\u{1b}b"), Err(ValueError::Control));
        assert_eq!(read_name(&"a".repeat(61)), Err(ValueError::TooLong));
    }

    #[test]
    fn lines_come_out_in_one_order_and_once() {
        assert_eq!(read_lines(["Grid", " magnetic", "grid"]), Ok(vec![North::Magnetic, North::Grid]));
    }

    #[test]
    fn messages_never_hold_control_characters() {
        for error in [
            read_line("\u{1b}[31m").unwrap_err(),
            read_theme("\u{7}").unwrap_err(),
            crate::ground::Place::read("47\u{1b}").unwrap_err().into(),
        ] {
            assert!(!error.to_string().contains(char::is_control), "{error}");
        }
    }

    #[test]
    fn the_themes_are_those_of_the_screen() {
        let mut screen: Vec<_> = crate::tui::Theme::ALL.map(crate::tui::Theme::name).to_vec();
        let mut ours = THEMES.to_vec();
        screen.sort_unstable();
        ours.sort_unstable();
        assert_eq!(screen, ours);
    }

    #[test]
    fn angles_are_written_as_a_map_prints_them() {
        let written = |degrees: f64| {
            let declination = Declination::from_degrees(degrees);
            write_printed_angle(declination.angle(), |text| {
                read_printed_angle(text).is_ok_and(|angle| Declination::from_angle(angle) == declination)
            })
        };
        assert_eq!(written(-3.5), "3°30′ W");
        assert_eq!(written(0.0), "0°");
        assert_eq!(written(-0.1), "0°06′ W");
        assert_eq!(written(3.123), "3.123° E");
        assert_eq!(write_annual_change(AnnualChange::from_angle(Angle::from_minutes(-9.0))), "9′ W");
        assert_eq!(write_annual_change(AnnualChange::from_angle(Angle::from_minutes(4.2))), "4.2′ E");
    }

    proptest! {
        #[test]
        fn what_is_written_is_read_back_to_the_last_digit(degrees in -180.0..180.0, yearly in -2.0..2.0) {
            let declination = Declination::from_degrees(degrees);
            let read = |text: &str| read_printed_angle(text).map(Declination::from_angle);
            let text = write_printed_angle(declination.angle(), |text| read(text) == Ok(declination));
            prop_assert_eq!(read(&text), Ok(declination));
            let change = AnnualChange::from_angle(Angle::from_degrees(yearly));
            prop_assert_eq!(read_annual_change(&write_annual_change(change)), Ok(change));
        }

        #[test]
        fn no_text_makes_reading_panic(text in any::<String>()) {
            let _ = (read_name(&text), read_lines([text.as_str()]), read_theme(&text), read_day(&text));
            let _ = (read_printed_angle(&text), read_annual_change(&text));
        }
    }
}
