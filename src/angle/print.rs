//! Printing angles the way the trade writes them. Signs never reach a screen: letters do.
//!
//! Everything here rounds halves away from zero, exactly: what is printed is a whole number of an [`Angle`]'s parts.

use super::{Angle, PARTS_PER_DEGREE, PARTS_PER_MINUTE, rounded};
use std::fmt::{self, Display, Write};

/// More decimals than this are never printed: it divides the parts of a degree and of a mil.
const MOST_DECIMALS: usize = 9;
const POWERS_OF_TEN: [u64; MOST_DECIMALS + 1] =
    [1, 10, 100, 1_000, 10_000, 100_000, 1_000_000, 10_000_000, 100_000_000, 1_000_000_000];

/// East or west.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum EastWest {
    /// East: clockwise of the reference north, positive.
    East,
    /// West: counterclockwise of the reference north, negative.
    West,
}

impl EastWest {
    /// `E` or `W`.
    #[must_use]
    pub const fn letter(self) -> char {
        match self {
            EastWest::East => 'E',
            EastWest::West => 'W',
        }
    }

    /// `east` or `west`.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            EastWest::East => "east",
            EastWest::West => "west",
        }
    }

    /// The other one.
    #[must_use]
    pub const fn opposite(self) -> EastWest {
        match self {
            EastWest::East => EastWest::West,
            EastWest::West => EastWest::East,
        }
    }

    /// The side a signed angle lies on, east positive; `None` for zero.
    #[must_use]
    pub const fn of(angle: Angle) -> Option<EastWest> {
        match angle.0 {
            1.. => Some(EastWest::East),
            0 => None,
            ..0 => Some(EastWest::West),
        }
    }

    /// The signed angle of this size on this side, east positive; a sign of `size` is ignored.
    #[must_use]
    pub fn signed(self, size: Angle) -> Angle {
        match self {
            EastWest::East => size.abs(),
            EastWest::West => -size.abs(),
        }
    }
}

/// Three figures, wrapped after rounding so that 359.6 prints as `000`: `065`, or with decimals `065.5`.
///
/// At most nine decimals are printed.
///
/// ```
/// use needlewise::angle::{Angle, three_figures};
/// assert_eq!(three_figures(Angle::from_degrees(359.6), 0).to_string(), "000");
/// assert_eq!(three_figures(Angle::from_degrees(65.5), 1).to_string(), "065.5");
/// ```
#[must_use]
pub fn three_figures(angle: Angle, decimals: usize) -> impl Display {
    fmt::from_fn(move |out| write_three_figures(out, angle, decimals))
}

/// The size in degrees and minutes, rounded to the minute, 60′ carried: `13°41′`, `13°05′`, and `14°` for no minutes.
#[must_use]
pub fn degrees_minutes(angle: Angle) -> impl Display {
    fmt::from_fn(move |out| write_minutes(out, scaled(angle, PARTS_PER_MINUTE)))
}

/// The size in minutes of arc, rounded to the minute: `41′`; a degree and a half is `90′`.
#[must_use]
pub fn minutes_words(angle: Angle) -> impl Display {
    fmt::from_fn(move |out| write!(out, "{}′", scaled(angle, PARTS_PER_MINUTE)))
}

/// A signed angle, east positive, as the map prints it: `13°41′ W`, `14° E`; what rounds to nothing has no letter: `0°`.
///
/// ```
/// use needlewise::angle::{Angle, declination_words};
/// assert_eq!(declination_words(Angle::from_degrees(-0.5)).to_string(), "0°30′ W");
/// ```
#[must_use]
pub fn declination_words(angle: Angle) -> impl Display {
    fmt::from_fn(move |out| write_declination_words(out, angle))
}

/// A signed angle, east positive, in decimal degrees with its letter: `13.7° W`; what rounds to nothing has no letter.
///
/// At most nine decimals are printed.
#[must_use]
pub fn decimal_declination(angle: Angle, decimals: usize) -> impl Display {
    fmt::from_fn(move |out| {
        let decimals = decimals.min(MOST_DECIMALS);
        let units = scaled_decimal(angle, PARTS_PER_DEGREE, decimals);
        write_decimal(out, units, 1, decimals)?;
        out.write_str("°")?;
        write_side(out, angle, units)
    })
}

pub(super) fn write_three_figures(out: &mut impl Write, angle: Angle, decimals: usize) -> fmt::Result {
    let decimals = decimals.min(MOST_DECIMALS);
    let power = POWERS_OF_TEN[decimals];
    let units = scaled_decimal(angle.wrapped(), PARTS_PER_DEGREE, decimals);
    let units = if units >= 360 * power { 0 } else { units };
    write_decimal(out, units, 3, decimals)
}

pub(super) fn write_declination_words(out: &mut impl Write, angle: Angle) -> fmt::Result {
    let minutes = scaled(angle, PARTS_PER_MINUTE);
    write_minutes(out, minutes)?;
    write_side(out, angle, minutes)
}

/// The size in units of so many parts, rounded, without padding: the number part of mils and quarter bearings.
pub(super) fn write_plain(out: &mut impl Write, angle: Angle, parts: i64, decimals: usize) -> fmt::Result {
    let decimals = decimals.min(MOST_DECIMALS);
    write_decimal(out, scaled_decimal(angle, parts, decimals), 1, decimals)
}

/// The size in the last printed decimals of a unit of so many parts, as [`scaled`] rounds it.
pub(super) fn scaled_decimal(angle: Angle, parts: i64, decimals: usize) -> u64 {
    scaled(angle, parts / POWERS_OF_TEN[decimals.min(MOST_DECIMALS)].cast_signed())
}

/// The size in units of so many parts, rounded, halves away from zero.
fn scaled(angle: Angle, parts: i64) -> u64 {
    rounded(angle.0, parts).unsigned_abs()
}

/// So many minutes of arc as degrees and minutes: `13°41′`, and `14°` for no minutes.
///
/// # Errors
/// Those of the writer.
pub fn write_minutes(out: &mut impl Write, minutes: u64) -> fmt::Result {
    write_digits(out, minutes / 60, 1)?;
    out.write_char('°')?;
    if minutes.is_multiple_of(60) {
        return Ok(());
    }
    write_digits(out, minutes % 60, 2)?;
    out.write_char('′')
}

fn write_side(out: &mut impl Write, angle: Angle, printed: u64) -> fmt::Result {
    match EastWest::of(angle) {
        Some(EastWest::East) if printed > 0 => out.write_str(" E"),
        Some(EastWest::West) if printed > 0 => out.write_str(" W"),
        _ => Ok(()),
    }
}

fn write_decimal(out: &mut impl Write, units: u64, width: usize, decimals: usize) -> fmt::Result {
    let power = POWERS_OF_TEN[decimals];
    write_digits(out, units / power, width)?;
    if decimals == 0 {
        return Ok(());
    }
    out.write_char('.')?;
    write_digits(out, units % power, decimals)
}

/// The numbers of three figures in a row, from `000` to `999`: nearly all that is printed is a piece of it.
const THOUSAND: &str = {
    const DIGITS: [u8; 3000] = {
        let (mut digits, mut at) = ([0; 3000], 0);
        while at < digits.len() {
            let place = [100, 10, 1][at % 3];
            digits[at] = b"0123456789"[at / 3 / place % 10];
            at += 1;
        }
        digits
    };
    match std::str::from_utf8(&DIGITS) {
        Ok(digits) => digits,
        Err(_) => unreachable!(),
    }
};

/// Decimal digits, padded with zeros to `width` (at most 20); by hand because `format!` is several times slower.
///
/// # Errors
/// Those of the writer.
#[inline]
pub fn write_digits(out: &mut impl Write, number: u64, width: usize) -> fmt::Result {
    match (usize::try_from(number), width) {
        (Ok(small @ 0..1000), 0..=3) => {
            let needed = 1 + usize::from(small > 9) + usize::from(small > 99);
            let end = 3 * small + 3;
            out.write_str(&THOUSAND[end - needed.max(width)..end])
        }
        _ => write_many_digits(out, number, width),
    }
}

#[inline(never)]
fn write_many_digits(out: &mut impl Write, mut number: u64, width: usize) -> fmt::Result {
    let mut digits = [b'0'; 20];
    let mut start = digits.len();
    while number > 0 {
        start -= 1;
        digits[start] = b'0' + (number % 10) as u8;
        number /= 10;
    }
    start = start.min(digits.len() - width.min(digits.len()));
    out.write_str(std::str::from_utf8(&digits[start..]).unwrap_or_default())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn figures(degrees: f64, decimals: usize) -> String {
        three_figures(Angle::from_degrees(degrees), decimals).to_string()
    }

    fn declination(degrees: f64) -> String {
        declination_words(Angle::from_degrees(degrees)).to_string()
    }

    #[test]
    fn digits_are_those_of_the_formatter_in_the_row_of_a_thousand_and_beyond() {
        for number in (0..1200).chain([99_999, u64::MAX]) {
            for width in 1..=5 {
                let mut out = String::new();
                write_digits(&mut out, number, width).expect("a String takes everything");
                assert_eq!(out, format!("{number:0width$}"));
            }
        }
    }

    #[test]
    fn three_figures_round_first_and_wrap_then() {
        assert_eq!(figures(359.4, 0), "359");
        assert_eq!(figures(359.5, 0), "000");
        assert_eq!(figures(359.6, 0), "000");
        assert_eq!(figures(359.94, 1), "359.9");
        assert_eq!(figures(359.97, 1), "000.0");
        assert_eq!(figures(359.999_999_999_9, 9), "000.000000000");
    }

    #[test]
    fn three_figures_are_three_even_for_small_numbers() {
        assert_eq!(figures(0.0, 0), "000");
        assert_eq!(figures(5.0, 0), "005");
        assert_eq!(figures(65.0, 0), "065");
        assert_eq!(figures(5.25, 2), "005.25");
        assert_eq!(figures(7.05, 2), "007.05");
    }

    #[test]
    fn numbers_outside_the_circle_are_wrapped() {
        assert_eq!(figures(403.0, 0), "043");
        assert_eq!(figures(-11.0, 0), "349");
        assert_eq!(figures(-1e-17, 0), "000");
        assert_eq!(figures(-0.4, 0), "000");
        assert_eq!(figures(1e300, 0).len(), 3);
    }

    #[test]
    fn halves_go_away_from_zero() {
        assert_eq!(figures(0.5, 0), "001");
        assert_eq!(figures(65.5, 0), "066");
        assert_eq!(figures(66.5, 0), "067");
        assert_eq!(figures(65.25, 1), "065.3");
        // These two lie a little below the half as `f64` and are the half as angles.
        assert_eq!(figures(1.005, 2), "001.01");
        assert_eq!(figures(65.499_999_999_999_99, 0), "066");
        assert_eq!(figures(65.499_999, 0), "065");
    }

    #[test]
    fn more_decimals_than_nine_are_not_printed() {
        assert_eq!(figures(1.5, 9), figures(1.5, 1_000_000_000));
        assert_eq!(decimal_declination(Angle::from_degrees(1.5), usize::MAX).to_string(), "1.500000000° E");
    }

    #[test]
    fn sixty_minutes_are_carried_into_a_degree() {
        let words = |degrees| degrees_minutes(Angle::from_degrees(degrees)).to_string();
        assert_eq!(words(13.0 + 59.4 / 60.0), "13°59′");
        assert_eq!(words(13.0 + 59.5 / 60.0), "14°");
        assert_eq!(words(13.0 + 59.6 / 60.0), "14°");
        assert_eq!(words(0.0), "0°");
        assert_eq!(words(13.0 + 5.0 / 60.0), "13°05′");
    }

    #[test]
    fn degrees_and_minutes_show_the_size_only() {
        assert_eq!(degrees_minutes(Angle::from_degrees(-0.5)).to_string(), "0°30′");
        assert_eq!(degrees_minutes(Angle::from_degrees(0.5)).to_string(), "0°30′");
        assert_eq!(minutes_words(Angle::from_minutes(-41.4)).to_string(), "41′");
        assert_eq!(minutes_words(Angle::from_degrees(1.5)).to_string(), "90′");
        assert_eq!(minutes_words(Angle::ZERO).to_string(), "0′");
    }

    #[test]
    fn half_a_degree_west_keeps_its_side() {
        assert_eq!(declination(-0.5), "0°30′ W");
        assert_eq!(declination(0.5), "0°30′ E");
        assert_eq!(declination(-1.0 / 60.0), "0°01′ W");
    }

    #[test]
    fn a_declination_of_nothing_has_no_letter() {
        for degrees in [0.0, -0.0, 0.008, -0.008, 1e-300] {
            assert_eq!(declination(degrees), "0°");
        }
        assert_eq!(declination(0.009), "0°01′ E");
        assert_eq!(decimal_declination(Angle::from_degrees(-0.04), 1).to_string(), "0.0°");
        assert_eq!(decimal_declination(Angle::from_degrees(-0.05), 1).to_string(), "0.1° W");
    }

    #[test]
    fn declinations_carry_a_letter_and_never_a_sign() {
        assert_eq!(declination(-(13.0 + 41.0 / 60.0)), "13°41′ W");
        assert_eq!(declination(14.0), "14° E");
        assert_eq!(declination(-13.995), "14° W");
        assert_eq!(decimal_declination(Angle::from_degrees(-13.68), 1).to_string(), "13.7° W");
        assert_eq!(decimal_declination(Angle::from_degrees(17.5), 0).to_string(), "18° E");
    }

    #[test]
    fn the_largest_angles_print_without_a_panic() {
        for degrees in [f64::MAX, f64::MIN] {
            let angle = Angle::from_degrees(degrees);
            assert!(degrees_minutes(angle).to_string().contains('°'));
            assert!(declination_words(angle).to_string().contains('°'));
            assert!(decimal_declination(angle, 9).to_string().contains('°'));
            assert!(minutes_words(angle).to_string().ends_with('′'));
        }
    }

    #[test]
    fn a_side_gives_the_sign_and_the_sign_gives_the_side() {
        let size = Angle::from_degrees(3.0);
        for side in [EastWest::East, EastWest::West] {
            assert_eq!(EastWest::of(side.signed(size)), Some(side));
            assert_eq!(EastWest::of(side.signed(-size)), Some(side));
            assert_eq!(side.opposite().signed(size), -side.signed(size));
            assert!(side.word().to_uppercase().starts_with(side.letter()));
        }
        assert_eq!(EastWest::of(Angle::from_degrees(-0.0)), None);
    }
}
