//! Angles and bearings, exact, with the north they count from in the type.
//!
//! What lives here: [`Angle`] (a plain signed angle), [`Bearing`] (clockwise from a named north),
//! [`Offset`] (how far one north lies from another), the other notations of the trade (mils, quadrants,
//! compass points), and reading and printing of all of them. What does not: where declination or
//! convergence come from ([`crate::geomag`], [`crate::ground`]).
//!
//! Signs, everywhere: declination is positive when magnetic north lies east of true north, convergence is
//! positive when grid north lies east of true north, and the grid-magnetic angle is declination less convergence.
//!
//! # Why fixed-point
//!
//! The numbers of the trade are fractions of a degree that no binary fraction holds: a tenth, a minute, a mil. As `f64`,
//! sums of them carry dust behind the point, a bearing of a tenth below north wraps to something that is not 359.9, and
//! equality, order and "exactly at the bound" need a tolerance wherever they are asked. So an angle is a whole number of
//! parts, 5 760 000 000 000 to the degree, and sums, differences, wrapping and comparison of angles are exact.
//!
//! The unit is derived. Hundredths (1/100), seconds of arc (1/3600, and with them minutes and tenths), mils (9/160) and
//! the 32 compass points (45/4) are whole numbers of parts when 100, 3600, 160 and 4 divide the parts of a degree; the
//! least such number is 7200. That is taken 200 000 000 times, which makes ten decimals of a degree and nine of a mil
//! whole, too, so that whatever is printed is printed exactly; and once more 4 times, so that a bearing on the globe is
//! off by ten nanometres at most. More would cost exactness at the border to `f64`: a circle (2.0736 × 10¹⁵ parts) stays
//! below 2⁵³, up to which an `f64` holds each whole number, so that [`Angle::degrees`] is the `f64` nearest to the angle
//! and `Angle::from_degrees(0.1).degrees()` is 0.1. The four circles below 2⁵³ leave room for sums.
//!
//! What is measured or modelled (a field's declination, the direction between two places) is rounded to the nearest
//! part, 0.6 billionths of a second of arc, when it becomes an angle.

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
mod rule;
mod words;

pub use bearing::{Bearing, Convergence, Declination, Grid, GridMagnetic, Magnetic, North, NorthKind, Offset, True};
pub use mils::Mils;
pub use points::{Point, PointSet};
pub use print::{
    EastWest, decimal_declination, declination_words, degrees_minutes, minutes_words, three_figures, write_digits,
    write_minutes,
};
pub use quadrant::{Half, Quadrant, Side};
pub use read::{ReadError, ReadErrorKind, TypedAngle, TypedBearing, read_bearing, read_declination, read_number};
pub use rule::{CountReason, days_rule, whole_degrees};
pub use words::{ConversionRule, SENSES, sense};

use std::fmt;
use std::ops::{Add, Div, Mul, Neg, Sub};

/// What an angle is counted in; derived above.
const PARTS_PER_DEGREE: i64 = 5_760_000_000_000;
const PARTS_PER_TENTH: i64 = PARTS_PER_DEGREE / 10;
const PARTS_PER_MINUTE: i64 = PARTS_PER_DEGREE / 60;
const PARTS_PER_MIL: i64 = PARTS_PER_DEGREE / 160 * 9;
const PARTS_PER_CIRCLE: i64 = 360 * PARTS_PER_DEGREE;

/// A plain angle, signed; clockwise (or east) positive wherever a sense matters. It counts whole parts of
/// 1/5 760 000 000 000 degree, so that tenths, hundredths, minutes, mils and points and all their sums are exact.
///
/// It holds ±1.6 million degrees; whatever would leave this range stops at its end. Up to four circles
/// [`Angle::degrees`] gives the nearest `f64`, and up to two [`Angle::from_degrees`] takes it back to the same angle.
///
/// It is not a bearing: it counts from nothing. Use [`Bearing`] for directions.
///
/// ```
/// use needlewise::angle::Angle;
/// let tenth = Angle::from_degrees(0.1);
/// assert_eq!(tenth + tenth + tenth, Angle::from_tenths(3));
/// assert_eq!((-tenth).wrapped().degrees(), 359.9);
/// ```
#[derive(Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Angle(i64);

impl Angle {
    /// No angle at all.
    pub const ZERO: Angle = Angle(0);

    /// An angle from degrees, rounded to the nearest part; beyond the range it is the range's end. The number should be
    /// finite; a NaN or infinity becomes 0 (and trips a debug assertion).
    #[must_use]
    pub const fn from_degrees(degrees: f64) -> Angle {
        Angle::from_units(degrees, PARTS_PER_DEGREE)
    }

    /// An angle from tenths of a degree, exact.
    #[inline]
    #[must_use]
    pub const fn from_tenths(tenths: i32) -> Angle {
        Angle((tenths as i64).saturating_mul(PARTS_PER_TENTH))
    }

    /// An angle from whole minutes of arc, exact.
    #[inline]
    #[must_use]
    pub const fn from_whole_minutes(minutes: i32) -> Angle {
        Angle((minutes as i64).saturating_mul(PARTS_PER_MINUTE))
    }

    /// An angle from radians, rounded as by [`Angle::from_degrees`].
    #[must_use]
    pub const fn from_radians(radians: f64) -> Angle {
        Angle::from_degrees(radians.to_degrees())
    }

    /// An angle from whole or broken minutes of arc, rounded as by [`Angle::from_degrees`].
    #[must_use]
    pub const fn from_minutes(minutes: f64) -> Angle {
        Angle::from_units(minutes, PARTS_PER_MINUTE)
    }

    /// So many units of so many parts each.
    #[expect(clippy::cast_possible_truncation, reason = "the casts stop at the ends, as the range does")]
    const fn from_units(number: f64, parts: i64) -> Angle {
        assert!(!cfg!(checked) || number.is_finite(), "an angle must be finite");
        if !number.is_finite() {
            return Angle::ZERO;
        }
        // Whole units and the rest apart: the product of both would round a second time.
        let whole = number as i64;
        let rest = match number - real(whole) {
            0.0 => 0,
            rest => (rest * real(parts)).round() as i64,
        };
        Angle(whole.saturating_mul(parts).saturating_add(rest))
    }

    /// How many units of so many parts each.
    #[inline]
    const fn in_units(self, parts: i64) -> f64 {
        real(self.0) / real(parts)
    }

    /// Degrees, signed.
    #[inline]
    #[must_use]
    pub const fn degrees(self) -> f64 {
        self.in_units(PARTS_PER_DEGREE)
    }

    /// Whole tenths of a degree, signed, rounded, halves away from zero.
    #[inline]
    #[must_use]
    #[expect(clippy::cast_possible_truncation, reason = "the range ends at ±16 million tenths")]
    pub const fn tenths(self) -> i32 {
        rounded(self.0, PARTS_PER_TENTH) as i32
    }

    /// Minutes of arc, signed.
    #[inline]
    #[must_use]
    pub const fn minutes(self) -> f64 {
        self.in_units(PARTS_PER_MINUTE)
    }

    /// Radians, signed.
    #[must_use]
    pub const fn radians(self) -> f64 {
        self.degrees().to_radians()
    }

    /// The size, without the sign.
    #[inline]
    #[must_use]
    pub const fn abs(self) -> Angle {
        Angle(self.0.saturating_abs())
    }

    /// The same direction within a full circle: 0 ≤ angle < 360 degrees.
    #[inline]
    #[must_use]
    pub const fn wrapped(self) -> Angle {
        Angle(self.0.rem_euclid(PARTS_PER_CIRCLE))
    }

    /// The same direction as a signed turn: −180 ≤ angle < 180 degrees.
    #[inline]
    #[must_use]
    pub const fn wrapped_half(self) -> Angle {
        let wrapped = self.0.rem_euclid(PARTS_PER_CIRCLE);
        Angle(if wrapped >= PARTS_PER_CIRCLE / 2 { wrapped - PARTS_PER_CIRCLE } else { wrapped })
    }

    /// Rounded to a multiple of `step`, halves away from zero; a step of nothing rounds nothing.
    #[inline]
    #[must_use]
    pub const fn rounded_to(self, step: Angle) -> Angle {
        if step.0 == 0 { self } else { Angle(rounded(self.0, step.0).saturating_mul(step.0)) }
    }
}

/// Parts as a real number, the nearest one.
#[expect(clippy::cast_precision_loss, reason = "exact up to four circles, and nearest beyond, as the type says")]
#[inline]
const fn real(parts: i64) -> f64 {
    parts as f64
}

/// `parts / of` as the nearest whole number, halves away from zero; `of` is not 0.
#[inline]
const fn rounded(parts: i64, of: i64) -> i64 {
    let (whole, rest) = (parts.saturating_div(of), parts.wrapping_rem(of).unsigned_abs());
    if rest >= of.unsigned_abs() - rest { whole + parts.signum() * of.signum() } else { whole }
}

/// Degrees, as the shortest decimal that is read back.
impl fmt::Debug for Angle {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_tuple("Angle").field(&self.degrees()).finish()
    }
}

impl Add for Angle {
    type Output = Angle;
    #[inline]
    fn add(self, other: Angle) -> Angle {
        Angle(self.0.saturating_add(other.0))
    }
}

impl Sub for Angle {
    type Output = Angle;
    #[inline]
    fn sub(self, other: Angle) -> Angle {
        Angle(self.0.saturating_sub(other.0))
    }
}

impl Neg for Angle {
    type Output = Angle;
    #[inline]
    fn neg(self) -> Angle {
        Angle(self.0.saturating_neg())
    }
}

/// Exact: a whole number of parts times a whole number.
impl Mul<i32> for Angle {
    type Output = Angle;
    #[inline]
    fn mul(self, factor: i32) -> Angle {
        Angle(self.0.saturating_mul(i64::from(factor)))
    }
}

/// Rounded to the nearest part.
impl Mul<f64> for Angle {
    type Output = Angle;
    fn mul(self, factor: f64) -> Angle {
        Angle::from_units(real(self.0) * factor, 1)
    }
}

/// Rounded to the nearest part.
impl Div<f64> for Angle {
    type Output = Angle;
    fn div(self, divisor: f64) -> Angle {
        Angle::from_units(real(self.0) / divisor, 1)
    }
}

#[cfg(test)]
mod tests;
