//! NATO mils: 6400 to the circle.
use super::Angle;

/// An angle in NATO mils (6400 to the full circle).
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Mils(f64);

impl Mils {
    /// Mils from a number of mils.
    #[must_use]
    pub const fn new(mils: f64) -> Mils {
        Mils(mils)
    }

    /// From an angle.
    #[must_use]
    pub fn from_angle(angle: Angle) -> Mils {
        Mils(angle.degrees() * 6400.0 / 360.0)
    }

    /// The number of mils.
    #[must_use]
    pub const fn mils(self) -> f64 {
        self.0
    }

    /// As an angle.
    #[must_use]
    pub fn angle(self) -> Angle {
        Angle::from_degrees(self.0 * 360.0 / 6400.0)
    }
}
