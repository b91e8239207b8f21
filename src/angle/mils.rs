//! NATO mils: 6400 to the circle.
use super::Angle;
use std::fmt;

/// An angle in NATO mils (6400 to the full circle), signed, of any size.
///
/// ```
/// use needlewise::angle::{Angle, Mils};
/// assert_eq!(Mils::from_angle(Angle::from_degrees(90.0)), Mils::new(1600.0));
/// assert_eq!(Mils::new(800.0).to_string(), "800 mils");
/// ```
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Mils(f64);

impl Mils {
    /// Mils in a full circle.
    pub const FULL_CIRCLE: f64 = 6400.0;

    /// Mils from a number of mils. The number should be finite; a NaN or infinity becomes 0 (and trips a debug
    /// assertion).
    #[must_use]
    pub const fn new(mils: f64) -> Mils {
        debug_assert!(mils.is_finite(), "mils must be finite");
        if mils.is_finite() { Mils(mils) } else { Mils(0.0) }
    }

    /// From an angle.
    #[must_use]
    pub fn from_angle(angle: Angle) -> Mils {
        Mils(angle.degrees() * (Mils::FULL_CIRCLE / 360.0))
    }

    /// The number of mils.
    #[must_use]
    pub const fn mils(self) -> f64 {
        self.0
    }

    /// As an angle.
    #[must_use]
    pub fn angle(self) -> Angle {
        Angle::from_degrees(self.0 * (360.0 / Mils::FULL_CIRCLE))
    }

    /// Rounded to whole mils, halves away from zero.
    #[must_use]
    pub fn rounded(self) -> Mils {
        Mils(self.0.round())
    }

    /// The same direction within a full circle: 0 ≤ mils < 6400.
    #[must_use]
    pub fn wrapped(self) -> Mils {
        let wrapped = self.0.rem_euclid(Mils::FULL_CIRCLE);
        if wrapped >= Mils::FULL_CIRCLE { Mils(0.0) } else { Mils(wrapped + 0.0) }
    }
}

/// The size, never signed: `1600 mils`. A precision gives decimals.
impl fmt::Display for Mils {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        super::print::write_plain(f, self.0.abs(), f.precision().unwrap_or(0))?;
        f.write_str(" mils")
    }
}
