//! Angles as hands give them: in tenths of a degree; and when two count as the same.

use crate::angle::{Angle, sense, three_figures, write_digits};
use std::fmt::{self, Display};

/// How far the edge may lie off a line, and the needle off the orienting arrow, and still count as on it.
pub(super) const LAID_WITHIN: Angle = Angle::from_degrees(2.0);
/// A number that is off by no more than this is a slip of the hand, not another method.
pub(super) const SLIP_WITHIN: Angle = Angle::from_degrees(2.0);
/// What should lie on something and is off by no more than this, though by more than counts as laid, was meant to lie there: a
/// slip of the hand as well.
pub(super) const NEARLY_WITHIN: Angle = Angle::from_degrees(4.0);
/// How near the edge snaps to a line.
pub(super) const SNAP_WITHIN: Angle = Angle::from_degrees(3.0);
/// No other line may lie as near as this when the edge snaps.
pub(super) const SNAP_ALONE_WITHIN: Angle = Angle::from_degrees(6.0);
/// Half a circle.
pub(super) const HALF_CIRCLE: Angle = Angle::from_degrees(180.0);
/// A quarter of a circle.
pub(super) const QUARTER_CIRCLE: Angle = Angle::from_degrees(90.0);

/// Rounded to a tenth of a degree.
pub(super) fn tenth(angle: Angle) -> Angle {
    Angle::from_tenths(angle.tenths())
}

/// The signed turn from `from` to `to`, −180 to below 180, clockwise positive.
pub(super) fn turn(from: Angle, to: Angle) -> Angle {
    (to - from).wrapped_half()
}

/// Whether two directions lie within a tolerance of each other, the bound included.
pub(super) fn near(one: Angle, other: Angle, tolerance: Angle) -> bool {
    within(turn(one, other), tolerance)
}

/// Whether the size of a signed angle is within a tolerance, the bound included.
pub(super) fn within(off: Angle, tolerance: Angle) -> bool {
    off.abs() <= tolerance
}

/// The signed turn from `from` to `to` or to its opposite, whichever is nearer: −90 to below 90.
pub(super) fn turn_to_line(from: Angle, to: Angle) -> Angle {
    let off = turn(from, to);
    if off >= QUARTER_CIRCLE {
        off - HALF_CIRCLE
    } else if off < -QUARTER_CIRCLE {
        off + HALF_CIRCLE
    } else {
        off
    }
}

/// `35° off, turned clockwise`; half a circle has no side.
pub(super) fn off_words(off: Angle) -> String {
    if is_half(off) { "upside down, 180° off".to_owned() } else { format!("{} off, turned {}", size(off), sense(off)) }
}

/// Whether a turn is half a circle, to the tenth that is shown.
pub(super) fn is_half(off: Angle) -> bool {
    tenth(off.abs()) >= HALF_CIRCLE
}

/// The size in degrees, to a tenth where it is not whole: `35°`, `2.5°`.
pub(super) fn size(angle: Angle) -> impl Display {
    fmt::from_fn(move |out| {
        bare_size(angle).fmt(out)?;
        out.write_str("°")
    })
}

/// The same without the sign, as it stands in a sum.
pub(super) fn bare_size(angle: Angle) -> impl Display {
    let tenths = u64::from(angle.tenths().unsigned_abs());
    fmt::from_fn(move |out| {
        write_digits(out, tenths / 10, 1)?;
        if !tenths.is_multiple_of(10) {
            out.write_str(".")?;
            write_digits(out, tenths % 10, 1)?;
        }
        Ok(())
    })
}

/// Whether an angle shows at all when printed to a tenth.
pub(super) fn shows(angle: Angle) -> bool {
    angle.tenths() != 0
}

/// `35° clockwise`.
pub(super) fn turn_words(angle: Angle) -> impl Display {
    fmt::from_fn(move |out| {
        size(angle).fmt(out)?;
        out.write_str(" ")?;
        out.write_str(sense(angle))
    })
}

/// A number of the dial, three figures, to a tenth where it is not whole: `343`, `342.5`.
pub(super) fn figures(number: Angle) -> impl Display {
    let number = tenth(number);
    three_figures(number, usize::from(number.tenths() % 10 != 0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_has_two_ends_and_the_nearer_counts() {
        let off = |from, to| turn_to_line(Angle::from_degrees(from), Angle::from_degrees(to)).degrees();
        assert_eq!(off(10.0, 12.0), 2.0);
        assert_eq!(off(10.0, 192.0), 2.0);
        assert_eq!(off(190.0, 8.0), -2.0);
        assert_eq!(off(359.0, 181.0), 2.0);
        assert_eq!(off(0.0, 90.0), -90.0);
    }

    #[test]
    fn sizes_and_numbers_print_as_people_write_them() {
        assert_eq!(turn_words(Angle::from_degrees(-35.0)).to_string(), "35° counterclockwise");
        assert_eq!(turn_words(Angle::from_degrees(2.5)).to_string(), "2.5° clockwise");
        assert_eq!(figures(Angle::from_degrees(-17.0)).to_string(), "343");
        assert_eq!(figures(Angle::from_degrees(359.97)).to_string(), "000");
        assert_eq!(figures(Angle::from_degrees(5.5)).to_string(), "005.5");
    }
}
