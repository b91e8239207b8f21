//! Compass points: the card of 8, 16 or 32 names.
use super::Angle;

/// How fine a card is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PointSet {
    /// N, NE, E, …
    Eight,
    /// with NNE, ENE, …
    Sixteen,
    /// with NbE, NEbN, …
    ThirtyTwo,
}

/// One of the 32 compass points, counted clockwise from N = 0, 11.25° apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Point(u8);

impl Point {
    /// The point with this number, 0 to 31; larger numbers wrap.
    #[must_use]
    pub const fn new(number: u8) -> Point {
        Point(number % 32)
    }

    /// 0 to 31, clockwise from north.
    #[must_use]
    pub const fn number(self) -> u8 {
        self.0
    }

    /// Degrees clockwise from north.
    #[must_use]
    pub fn angle(self) -> Angle {
        Angle::from_degrees(f64::from(self.0) * 11.25)
    }

    /// The short name: `NNE`, `NEbN`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        todo!()
    }

    /// The name in words: `north-north-east`, `north-east by north`.
    #[must_use]
    pub const fn words(self) -> &'static str {
        todo!()
    }

    /// Reads a short name or the words, without case.
    #[must_use]
    pub fn read(text: &str) -> Option<Point> {
        let _ = text;
        todo!()
    }

    /// The point of a set that lies nearest; a tie goes clockwise.
    #[must_use]
    pub fn nearest(angle: Angle, set: PointSet) -> Point {
        let _ = (angle, set);
        todo!()
    }
}
