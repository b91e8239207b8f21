//! Reading angles, generously in form and exactly in value.
//!
//! Blanks, case, unit words and the kinds of degree sign do not matter; the number does: it is never wrapped, and rounded
//! only to what an [`Angle`] holds (ten decimals of a degree are exact; 1.6 million degrees are the most). What could mean
//! two things is refused.

mod cursor;
#[cfg(test)]
mod declination_tests;
mod error;
#[cfg(test)]
mod tests;

use super::{Angle, EastWest, Half, Mils, North, Point, Quadrant};
use cursor::Cursor;
pub use error::{ReadError, ReadErrorKind};

pub(super) use cursor::BLANKS;

/// A bearing as somebody typed it: not wrapped, with the letter of its north if one was given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct TypedBearing {
    /// The angle as typed, before any wrapping: `403` stays 403.
    pub typed: Angle,
    /// The north's letter or word, if one was typed.
    pub north: Option<North>,
}

impl TypedBearing {
    /// Whether the number is one that stands on a compass: 0 to 360 degrees, both included.
    #[must_use]
    pub fn is_on_the_circle(self) -> bool {
        (Angle::ZERO..=Angle::from_tenths(3600)).contains(&self.typed)
    }
}

/// A signed angle (declination, G-M angle) as somebody typed it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct TypedAngle {
    /// East positive.
    pub angle: Angle,
    /// Whether E or W was written (a bare number counts as signed, east positive).
    pub lettered: bool,
}

/// Reads a bearing: `59`, `059°`, `59,5 deg`, `13°30'`, `065 M`, `1600 mils`, `N59E`, `NNE`.
///
/// The number is kept as typed: `403` and `-11` are read as 403° and −11°.
///
/// ```
/// use needlewise::angle::{North, read_bearing};
/// let answer = read_bearing("065 m")?;
/// assert_eq!((answer.typed.degrees(), answer.north), (65.0, Some(North::Magnetic)));
/// assert_eq!(read_bearing("s20w")?.typed.degrees(), 200.0);
/// # Ok::<(), needlewise::angle::ReadError>(())
/// ```
///
/// # Errors
/// [`ReadError`] when the text is empty, too long, or not a bearing.
pub fn read_bearing(text: &str) -> Result<TypedBearing, ReadError> {
    let mut cursor = Cursor::screened(text)?;
    if let Some(bearing) = point_with_north(cursor.rest()) {
        return Ok(bearing);
    }
    let typed = if let Some(half) = cursor.take_word(half_of) {
        quadrant_after(half, &mut cursor, ReadErrorKind::NotABearing)?.angle()
    } else {
        let Some(amount) = take_amount(&mut cursor)? else { return Err(ReadErrorKind::NotABearing.into()) };
        match amount.form {
            Form::BarePair => return Err(ReadErrorKind::TwoNumbers.into()),
            Form::MinutesAlone => return Err(ReadErrorKind::MinutesAlone.into()),
            // `13°30m` may be minutes or magnetic.
            Form::OpenMinutes if cursor.peek_word().eq_ignore_ascii_case("m") => {
                return Err(ReadErrorKind::Extra.into());
            }
            Form::OpenMinutes | Form::Plain => {}
        }
        if half_of(cursor.peek_word()).is_some() || side_of(cursor.peek_word()).is_some() {
            return Err(ReadErrorKind::NotANorth.into());
        }
        amount.signed()
    };
    let north = cursor.take_word(north_of);
    if north.is_some() {
        cursor.skip_blanks();
        let _ = cursor.take_word(|word| word.eq_ignore_ascii_case("north").then_some(()));
    }
    expect_end(cursor)?;
    Ok(TypedBearing { typed, north })
}

/// Reads a declination or G-M angle: `17W`, `W17`, `13°41′ W`, `13 41 W`, `9,5 E`, `0`, and signed without a letter.
///
/// ```
/// use needlewise::angle::read_declination;
/// assert_eq!(read_declination("0°30' W")?.angle.degrees(), -0.5);
/// assert!(read_declination("-5W").is_err());
/// # Ok::<(), needlewise::angle::ReadError>(())
/// ```
///
/// # Errors
/// [`ReadError`] when the text is empty, too long, not an angle, or more than 180° to either side.
pub fn read_declination(text: &str) -> Result<TypedAngle, ReadError> {
    let mut cursor = Cursor::screened(text)?;
    let before = cursor.take_word(side_of);
    cursor.skip_blanks();
    if before.is_none() && (half_of(cursor.peek_word()).is_some() || north_of(cursor.peek_word()).is_some()) {
        return Err(ReadErrorKind::NotEastOrWest.into());
    }
    let Some(amount) = take_amount(&mut cursor)? else { return Err(ReadErrorKind::NotADeclination.into()) };
    let after = cursor.take_word(side_of);
    if half_of(cursor.peek_word()).is_some() || north_of(cursor.peek_word()).is_some() {
        return Err(ReadErrorKind::NotEastOrWest.into());
    }
    expect_end(cursor)?;
    let side = match (before, after) {
        (Some(_), Some(_)) => return Err(ReadErrorKind::TwoLetters.into()),
        (before, after) => before.or(after),
    };
    let angle = match side {
        Some(_) if amount.sign.is_some() => return Err(ReadErrorKind::SignAndLetter.into()),
        Some(side) => side.signed(amount.size),
        None if amount.form == Form::BarePair => return Err(ReadErrorKind::TwoNumbers.into()),
        None => amount.signed(),
    };
    if angle.abs() > Angle::from_tenths(1800) {
        return Err(ReadErrorKind::TooFar.into());
    }
    Ok(TypedAngle { angle, lettered: side.is_some() })
}

/// Reads a plain number; `units` are words that may follow it (compared without case).
///
/// ```
/// use needlewise::angle::read_number;
/// assert_eq!(read_number("250 M", &["m", "metres"])?, 250.0);
/// assert!(read_number("250 ft", &["m", "metres"]).is_err());
/// # Ok::<(), needlewise::angle::ReadError>(())
/// ```
///
/// # Errors
/// [`ReadError`] when the text is empty, too long, or not a number.
pub fn read_number(text: &str, units: &[&str]) -> Result<f64, ReadError> {
    let mut cursor = Cursor::screened(text)?;
    let sign = cursor.take_sign().unwrap_or(1);
    // The thousands may have been lost: who means less than one writes its zero, or a point.
    if cursor.rest().strip_prefix(',').is_some_and(|rest| rest.starts_with(|digit: char| digit.is_ascii_digit())) {
        return Err(ReadErrorKind::LeadingComma.into());
    }
    let Some(number) = cursor.take_number()? else { return Err(ReadErrorKind::NotANumber.into()) };
    cursor.skip_blanks();
    if !cursor.is_done() && !units.iter().any(|unit| unit.eq_ignore_ascii_case(cursor.rest())) {
        let another = cursor.take_number()?.is_some();
        return Err(if another { ReadErrorKind::TwoNumbers } else { ReadErrorKind::Extra }.into());
    }
    Ok(f64::from(sign) * number.value + 0.0)
}

/// What [`Quadrant::read`] does.
#[cfg(test)]
pub(super) fn read_quadrant(text: &str) -> Result<Quadrant, ReadError> {
    let mut cursor = Cursor::screened(text)?;
    if let Some(point) = Point::read(cursor.rest())
        && point.number() % 8 == 0
    {
        return Ok(Quadrant::from_angle(point.angle()));
    }
    let Some(half) = cursor.take_word(half_of) else { return Err(ReadErrorKind::NotAQuadrant.into()) };
    let quadrant = quadrant_after(half, &mut cursor, ReadErrorKind::NotAQuadrant)?;
    expect_end(cursor)?;
    Ok(quadrant)
}

/// An amount of degrees as it was written.
struct Amount {
    size: Angle,
    sign: Option<i32>,
    form: Form,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Form {
    Plain,
    /// `13°30`: the minutes have no mark.
    OpenMinutes,
    /// `13 30`: neither has a mark.
    BarePair,
    /// `30′`
    MinutesAlone,
}

impl Amount {
    fn signed(&self) -> Angle {
        self.size * self.sign.unwrap_or(1)
    }
}

/// The next number with its unit, minutes and following blanks. `None` when no number stands there.
fn take_amount(cursor: &mut Cursor) -> Result<Option<Amount>, ReadErrorKind> {
    let sign = cursor.take_sign();
    let Some(first) = cursor.take_number()? else { return Ok(None) };
    cursor.skip_blanks();
    let (size, form) = if cursor.take_mils_mark() {
        (Mils::new(first.value).angle(), Form::Plain)
    } else if cursor.take_minute_mark() {
        (minutes_of(0.0, first.value)?, Form::MinutesAlone)
    } else {
        let marked = cursor.take_degree_mark();
        cursor.skip_blanks();
        match cursor.take_number()? {
            None => (Angle::from_degrees(first.value), Form::Plain),
            Some(second) => {
                cursor.skip_blanks();
                let form = match (marked, cursor.take_minute_mark()) {
                    (_, true) => Form::Plain,
                    (true, false) => Form::OpenMinutes,
                    (false, false) => Form::BarePair,
                };
                if !first.whole && form != Form::BarePair {
                    return Err(ReadErrorKind::MinutesAfterDecimal);
                }
                if !first.whole || second.value >= 60.0 && form == Form::BarePair {
                    return Err(ReadErrorKind::TwoNumbers);
                }
                (minutes_of(first.value, second.value)?, form)
            }
        }
    };
    cursor.skip_blanks();
    Ok(Some(Amount { size, sign, form }))
}

fn minutes_of(degrees: f64, minutes: f64) -> Result<Angle, ReadErrorKind> {
    if minutes >= 60.0 {
        return Err(ReadErrorKind::MinutesTooBig);
    }
    Ok(Angle::from_degrees(degrees) + Angle::from_minutes(minutes))
}

fn quadrant_after(half: Half, cursor: &mut Cursor, otherwise: ReadErrorKind) -> Result<Quadrant, ReadErrorKind> {
    cursor.skip_blanks();
    let amount = match take_amount(cursor)? {
        Some(amount) if amount.sign.is_none() => amount,
        _ => return Err(otherwise),
    };
    match amount.form {
        Form::BarePair => return Err(ReadErrorKind::TwoNumbers),
        Form::MinutesAlone => return Err(ReadErrorKind::MinutesAlone),
        Form::OpenMinutes | Form::Plain => {}
    }
    let Some(toward) = cursor.take_word(side_of) else { return Err(ReadErrorKind::QuadrantUnfinished) };
    cursor.skip_blanks();
    if amount.size > Angle::from_tenths(900) {
        return Err(ReadErrorKind::QuadrantTooBig);
    }
    Ok(Quadrant { from: half, size: amount.size, toward })
}

/// A compass point, with a north's letter behind it or not.
fn point_with_north(text: &str) -> Option<TypedBearing> {
    let whole = |point: Point, north| TypedBearing { typed: point.angle(), north };
    if let Some(point) = Point::read(text) {
        return Some(whole(point, None));
    }
    let (point, north) = text.rsplit_once(BLANKS)?;
    Some(whole(Point::read(point)?, Some(north_of(north)?)))
}

fn expect_end(mut cursor: Cursor) -> Result<(), ReadErrorKind> {
    cursor.skip_blanks();
    if cursor.is_done() { Ok(()) } else { Err(ReadErrorKind::Extra) }
}

fn half_of(word: &str) -> Option<Half> {
    match word {
        _ if is(word, "n", "north") => Some(Half::North),
        _ if is(word, "s", "south") => Some(Half::South),
        _ => None,
    }
}

fn side_of(word: &str) -> Option<EastWest> {
    match word {
        _ if is(word, "e", "east") => Some(EastWest::East),
        _ if is(word, "w", "west") => Some(EastWest::West),
        _ => None,
    }
}

fn north_of(word: &str) -> Option<North> {
    match word {
        _ if is(word, "t", "true") => Some(North::True),
        _ if is(word, "g", "grid") => Some(North::Grid),
        _ if is(word, "m", "magnetic") || word.eq_ignore_ascii_case("mag") => Some(North::Magnetic),
        _ => None,
    }
}

fn is(word: &str, letter: &str, long: &str) -> bool {
    word.eq_ignore_ascii_case(letter) || word.eq_ignore_ascii_case(long)
}
