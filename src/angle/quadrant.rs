//! Quadrantal bearings: N40W, S20E.
use super::{Angle, EastWest, ReadError};
use std::fmt::{self, Write};

/// The end of the meridian a quadrantal bearing starts from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Half {
    /// N
    North,
    /// S
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
/// use needlewise::angle::{Angle, Quadrant};
/// let quadrant = Quadrant::from_angle(Angle::from_degrees(320.0));
/// assert_eq!(quadrant.to_string(), "N40W");
/// assert_eq!(quadrant.angle().degrees(), 320.0);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
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
    #[must_use]
    pub fn from_angle(angle: Angle) -> Quadrant {
        let degrees = angle.wrapped().degrees();
        let (from, size, toward) = if degrees <= 90.0 {
            (Half::North, degrees, Side::East)
        } else if degrees <= 180.0 {
            (Half::South, 180.0 - degrees, Side::East)
        } else if degrees < 270.0 {
            (Half::South, degrees - 180.0, Side::West)
        } else {
            (Half::North, 360.0 - degrees, Side::West)
        };
        Quadrant { from, size: Angle::from_degrees(size), toward }
    }

    /// Degrees clockwise from north, 0 ≤ angle < 360.
    #[must_use]
    pub fn angle(self) -> Angle {
        let size = self.size.degrees();
        let degrees = match (self.from, self.toward) {
            (Half::North, Side::East) => size,
            (Half::North, Side::West) => -size,
            (Half::South, Side::East) => 180.0 - size,
            (Half::South, Side::West) => 180.0 + size,
        };
        Angle::from_degrees(degrees).wrapped()
    }

    /// Reads `N40W`, `s 20 e`, or one of `N`, `E`, `S`, `W` alone; nothing else, not even a plain number of degrees.
    ///
    /// # Errors
    /// [`ReadError`] when the text is empty, too long, or not a quadrantal bearing.
    pub fn read(text: &str) -> Result<Quadrant, ReadError> {
        super::read::read_quadrant(text)
    }
}

/// `N40W`; the four quarter points print as `N`, `E`, `S`, `W`. A precision gives decimals: `{:.1}` prints `N40.5W`.
impl fmt::Display for Quadrant {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let decimals = f.precision().unwrap_or(0);
        let whole = super::print::scaled(self.size.degrees(), 1);
        let printed_as_whole = {
            let power = 10u64.pow(decimals.min(9) as u32);
            super::print::scaled(self.size.degrees(), power) == whole * power
        };
        match whole {
            0 if printed_as_whole => return f.write_char(self.from.letter()),
            90 if printed_as_whole => return f.write_char(self.toward.letter()),
            _ => {}
        }
        f.write_char(self.from.letter())?;
        super::print::write_plain(f, self.size.degrees(), decimals)?;
        f.write_char(self.toward.letter())
    }
}
