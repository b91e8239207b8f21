//! Quadrantal bearings: N40W, S20E.
use super::print::{scaled_decimal, write_plain};
use super::{Angle, EastWest, PARTS_PER_DEGREE};
use std::fmt::{self, Write};

/// A quarter and half of the circle.
const EAST: Angle = Angle::from_tenths(900);
const SOUTH: Angle = Angle::from_tenths(1800);

/// The end of the meridian a quadrantal bearing starts from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Half {
    /// From north, `N`.
    North,
    /// From south, `S`.
    South,
}

impl Half {
    /// `N` or `S`.
    #[must_use]
    pub const fn letter(self) -> char {
        match self {
            Half::North => 'N',
            Half::South => 'S',
        }
    }
}

/// The side it turns to.
pub type Side = EastWest;

/// A quadrantal bearing: from north or south, so many degrees (0 to 90) toward east or west.
///
/// ```
/// use needlewise::angle::{Angle, Half, Quadrant, Side};
/// let quadrant = Quadrant { from: Half::North, size: Angle::from_degrees(40.0), toward: Side::West };
/// assert_eq!(quadrant.to_string(), "N40W");
/// assert_eq!(quadrant.angle().degrees(), 320.0);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Quadrant {
    /// Where it starts.
    pub from: Half,
    /// 0 to 90 degrees.
    pub size: Angle,
    /// Where it turns to.
    pub toward: Side,
}

impl Quadrant {
    /// From a bearing's angle. Due north is N0E, east N90E, south S0E and west N90W.
    #[cfg(test)]
    #[must_use]
    pub fn from_angle(angle: Angle) -> Quadrant {
        let turn = angle.wrapped_half();
        let (from, toward) = if turn == -SOUTH || turn > EAST {
            (Half::South, Side::East)
        } else if turn < -EAST {
            (Half::South, Side::West)
        } else if turn < Angle::ZERO {
            (Half::North, Side::West)
        } else {
            (Half::North, Side::East)
        };
        let size = if from == Half::North { turn.abs() } else { SOUTH - turn.abs() };
        Quadrant { from, size, toward }
    }

    /// Degrees clockwise from north, 0 ≤ angle < 360.
    #[must_use]
    pub fn angle(self) -> Angle {
        match (self.from, self.toward) {
            (Half::North, Side::East) => self.size,
            (Half::North, Side::West) => -self.size,
            (Half::South, Side::East) => SOUTH - self.size,
            (Half::South, Side::West) => SOUTH + self.size,
        }
        .wrapped()
    }

    /// Reads `N40W`, `s 20 e`, or one of `N`, `E`, `S`, `W` alone; nothing else, not even a plain number of degrees.
    ///
    /// # Errors
    /// [`super::ReadError`] when the text is empty, too long, or not a quadrantal bearing.
    #[cfg(test)]
    pub fn read(text: &str) -> Result<Quadrant, super::ReadError> {
        super::read::read_quadrant(text)
    }
}

/// `N40W`; the four quarter points print as `N`, `E`, `S`, `W`. A precision gives decimals: `{:.1}` prints `N40.5W`.
impl fmt::Display for Quadrant {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let decimals = f.precision().unwrap_or(0);
        let [printed, quarter] = [self.size, EAST].map(|size| scaled_decimal(size, PARTS_PER_DEGREE, decimals));
        if printed == 0 {
            return f.write_char(self.from.letter());
        }
        if printed == quarter {
            return f.write_char(self.toward.letter());
        }
        f.write_char(self.from.letter())?;
        write_plain(f, self.size, PARTS_PER_DEGREE, decimals)?;
        f.write_char(self.toward.letter())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::angle::reference::assert_states;
    use crate::angle::{ReadErrorKind, read_bearing};

    fn quadrant(degrees: f64) -> Quadrant {
        Quadrant::from_angle(Angle::from_degrees(degrees))
    }

    #[test]
    fn quarter_bearings_agree_with_the_definition() {
        // Source: definition of the quadrantal bearing; 140 = S40E also in a surveying note.
        for (id, given, expected, degrees) in [
            ("CV038", "40 deg", "N40E", 40.0),
            ("CV039", "140 deg", "S40E", 140.0),
            ("CV040", "220 deg", "S40W", 220.0),
            ("CV041", "320 deg", "N40W", 320.0),
            ("CV043", "181 deg", "S1W", 181.0),
            ("CV044", "359 deg", "N1W", 359.0),
        ] {
            assert_states(id, given, expected);
            assert_eq!(quadrant(degrees).to_string(), expected, "{id}");
            assert_eq!(Quadrant::read(expected).unwrap().angle().degrees(), degrees, "{id}");
        }
    }

    #[test]
    fn due_east_is_the_same_from_north_and_from_south() {
        // Source: as above.
        assert_states("CV042", "90 deg", "E (N90E or S90E)");
        assert_eq!(quadrant(90.0).to_string(), "E");
        for text in ["E", "N90E", "S90E"] {
            assert_eq!(Quadrant::read(text).unwrap().angle().degrees(), 90.0, "{text}");
        }
    }

    #[test]
    fn the_four_quarter_points_print_as_one_letter() {
        for (degrees, letter) in [(0.0, "N"), (90.0, "E"), (180.0, "S"), (270.0, "W"), (360.0, "N"), (-90.0, "W")] {
            assert_eq!(quadrant(degrees).to_string(), letter);
            assert_eq!(Quadrant::read(letter).unwrap().angle(), Angle::from_degrees(degrees).wrapped());
        }
    }

    #[test]
    fn the_quarter_points_have_one_form_each() {
        let form = |degrees| (quadrant(degrees).from, quadrant(degrees).size.degrees(), quadrant(degrees).toward);
        assert_eq!(form(0.0), (Half::North, 0.0, Side::East));
        assert_eq!(form(90.0), (Half::North, 90.0, Side::East));
        assert_eq!(form(180.0), (Half::South, 0.0, Side::East));
        assert_eq!(form(270.0), (Half::North, 90.0, Side::West));
    }

    #[test]
    fn rounding_reaches_the_quarter_points_too() {
        assert_eq!(quadrant(359.6).to_string(), "N");
        assert_eq!(format!("{:.1}", quadrant(359.6)), "N0.4W");
        assert_eq!(quadrant(89.7).to_string(), "E");
        assert_eq!(quadrant(90.3).to_string(), "E");
        assert_eq!(format!("{:.1}", quadrant(269.9)), "S89.9W");
    }

    #[test]
    fn a_plain_number_is_no_quarter_bearing() {
        for text in ["320", "NE", "NNW", "W40N", "M"] {
            assert_eq!(Quadrant::read(text).unwrap_err().kind, ReadErrorKind::NotAQuadrant, "{text}");
        }
        assert_eq!(Quadrant::read("N40W M").unwrap_err().kind, ReadErrorKind::Extra);
        assert_eq!(read_bearing("N40W M").unwrap().typed.degrees(), 320.0);
    }

    #[test]
    fn a_size_past_its_range_still_gives_a_direction_within_the_circle() {
        let odd = Quadrant { from: Half::South, size: Angle::from_degrees(400.0), toward: Side::West };
        assert_eq!(odd.angle().degrees(), 220.0);
    }
}
