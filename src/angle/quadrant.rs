//! Quadrantal bearings: N40W, S20E.
use super::{Angle, EastWest};

/// The end of the meridian a quadrantal bearing starts from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Half {
    /// N
    North,
    /// S
    South,
}

/// The side it turns to.
pub type Side = EastWest;

/// A quadrantal bearing: from north or south, so many degrees (0 to 90) toward east or west.
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
    /// From a bearing's angle.
    #[must_use]
    pub fn from_angle(angle: Angle) -> Quadrant {
        let _ = angle;
        todo!()
    }

    /// Degrees clockwise from north, 0 ≤ angle < 360.
    #[must_use]
    pub fn angle(self) -> Angle {
        todo!()
    }
}
