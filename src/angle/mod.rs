//! Angles and bearings, with the north they count from in the type.
//!
//! What lives here: [`Angle`] (a plain signed angle), [`Bearing`] (clockwise from a named north),
//! [`Offset`] (how far one north lies from another), the other notations of the trade (mils, quadrants,
//! compass points), and reading and printing of all of them. What does not: where declination or
//! convergence come from ([`crate::geomag`], [`crate::ground`]).
//!
//! Signs, everywhere: declination is positive when magnetic north lies east of true north, convergence is
//! positive when grid north lies east of true north, and the grid-magnetic angle is declination less convergence.

mod bearing;
mod mils;
mod points;
mod print;
#[cfg(test)]
mod properties;
mod quadrant;
mod read;
#[cfg(test)]
mod reference;

pub use bearing::{Bearing, Convergence, Declination, Grid, GridMagnetic, Magnetic, North, NorthKind, Offset, True};
pub use mils::Mils;
pub use points::{Point, PointSet};
pub use print::{
    EastWest, decimal_declination, declination_words, degrees_minutes, minutes_words, push_bearing,
    push_decimal_declination, push_declination_words, push_degrees_minutes, push_minutes_words, push_three_figures,
    three_figures,
};
pub use quadrant::{Half, Quadrant, Side};
pub use read::{ReadError, ReadErrorKind, TypedAngle, TypedBearing, read_bearing, read_declination, read_number};

use std::ops::{Add, Div, Mul, Neg, Sub};

/// A plain angle in degrees, signed, of any size; clockwise (or east) positive wherever a sense matters.
///
/// It is not a bearing: it counts from nothing. Use [`Bearing`] for directions.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Angle(f64);

impl Angle {
    /// No angle at all.
    pub const ZERO: Angle = Angle(0.0);

    /// An angle from degrees. The number should be finite; a NaN or infinity becomes 0 (and trips a debug assertion).
    #[must_use]
    pub const fn from_degrees(degrees: f64) -> Angle {
        debug_assert!(degrees.is_finite(), "an angle must be finite");
        if degrees.is_finite() { Angle(degrees) } else { Angle(0.0) }
    }

    /// An angle from radians.
    #[must_use]
    pub const fn from_radians(radians: f64) -> Angle {
        Angle::from_degrees(radians.to_degrees())
    }

    /// An angle from whole or broken minutes of arc.
    #[must_use]
    pub const fn from_minutes(minutes: f64) -> Angle {
        Angle::from_degrees(minutes / 60.0)
    }

    /// Degrees, signed.
    #[must_use]
    pub const fn degrees(self) -> f64 {
        self.0
    }

    /// Minutes of arc, signed.
    #[must_use]
    pub const fn minutes(self) -> f64 {
        self.0 * 60.0
    }

    /// Radians, signed.
    #[must_use]
    pub const fn radians(self) -> f64 {
        self.0.to_radians()
    }

    /// The size, without the sign.
    #[must_use]
    pub const fn abs(self) -> Angle {
        Angle(self.0.abs())
    }

    /// The same direction within a full circle: 0 ≤ angle < 360 degrees, never 360 and never −0.
    #[must_use]
    pub fn wrapped(self) -> Angle {
        Angle(wrap_360(self.0))
    }

    /// The same direction as a signed turn: −180 ≤ angle < 180 degrees.
    #[must_use]
    pub fn wrapped_half(self) -> Angle {
        Angle(wrap_180(self.0))
    }

    /// Rounded to a multiple of `step`, halves away from zero.
    #[must_use]
    pub fn rounded_to(self, step: Angle) -> Angle {
        Angle((self.0 / step.0).round() * step.0)
    }
}

impl Add for Angle {
    type Output = Angle;
    fn add(self, other: Angle) -> Angle {
        Angle(self.0 + other.0)
    }
}

impl Sub for Angle {
    type Output = Angle;
    fn sub(self, other: Angle) -> Angle {
        Angle(self.0 - other.0)
    }
}

impl Neg for Angle {
    type Output = Angle;
    fn neg(self) -> Angle {
        Angle(-self.0)
    }
}

impl Mul<f64> for Angle {
    type Output = Angle;
    fn mul(self, factor: f64) -> Angle {
        Angle::from_degrees(self.0 * factor)
    }
}

impl Div<f64> for Angle {
    type Output = Angle;
    fn div(self, divisor: f64) -> Angle {
        Angle::from_degrees(self.0 / divisor)
    }
}

/// `rem_euclid(360.0)` alone returns 360.0 for tiny negative numbers; this never does.
fn wrap_360(degrees: f64) -> f64 {
    let wrapped = degrees.rem_euclid(360.0);
    if wrapped >= 360.0 { 0.0 } else { wrapped + 0.0 }
}

fn wrap_180(degrees: f64) -> f64 {
    let wrapped = wrap_360(degrees);
    if wrapped >= 180.0 { wrapped - 360.0 } else { wrapped }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wrapping_never_gives_360_nor_minus_zero() {
        for degrees in [-1e-17, -1e-14, -0.0, 0.0, 360.0, 720.0, -360.0, 359.999_999_9] {
            let wrapped = Angle::from_degrees(degrees).wrapped().degrees();
            assert!((0.0..360.0).contains(&wrapped), "{degrees} became {wrapped}");
            assert!(wrapped.is_sign_positive(), "{degrees} became {wrapped}");
        }
    }

    #[test]
    fn a_half_turn_is_wrapped_to_minus_180() {
        assert_eq!(Angle::from_degrees(180.0).wrapped_half().degrees(), -180.0);
        assert_eq!(Angle::from_degrees(-180.0).wrapped_half().degrees(), -180.0);
        assert_eq!(Angle::from_degrees(179.5).wrapped_half().degrees(), 179.5);
        assert_eq!(Angle::from_degrees(-1e-17).wrapped_half().degrees(), 0.0);
    }
}
