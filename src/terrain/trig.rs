//! Sine and cosine that are the same to the bit on every machine.
//!
//! The standard library hands these to the system, whose last bit differs from system to system. A map must not.
use crate::angle::Angle;
use crate::numbers::whole;

/// Sine and cosine of an angle, to about 1e-16.
pub(super) fn sin_cos(angle: Angle) -> (f64, f64) {
    let degrees = angle.wrapped().degrees();
    let quarter = (degrees / 90.0).round();
    let x = (degrees - quarter * 90.0).to_radians();
    let square = x * x;
    let (mut sin, mut cos) = (0.0, 0.0);
    // Taylor's series from its small end; past x^17 nothing is left at an eighth of a turn.
    for n in (0..9).rev() {
        let n = f64::from(n);
        sin = 1.0 - square / ((2.0 * n + 2.0) * (2.0 * n + 3.0)) * sin;
        cos = 1.0 - square / ((2.0 * n + 1.0) * (2.0 * n + 2.0)) * cos;
    }
    let sin = x * sin;
    match whole::<i32>(quarter) & 3 {
        0 => (sin, cos),
        1 => (cos, -sin),
        2 => (-sin, -cos),
        _ => (-cos, sin),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_agrees_with_the_standard_library() {
        for tenths in -7300..7300 {
            let angle = Angle::from_degrees(f64::from(tenths) / 10.0);
            let (sin, cos) = sin_cos(angle);
            let (expected_sin, expected_cos) = angle.radians().sin_cos();
            assert!((sin - expected_sin).abs() < 1e-14 && (cos - expected_cos).abs() < 1e-14, "{angle:?}");
        }
    }

    #[test]
    fn quarter_turns_are_exact() {
        assert_eq!(sin_cos(Angle::from_degrees(0.0)), (0.0, 1.0));
        assert_eq!(sin_cos(Angle::from_degrees(-90.0)), (-1.0, 0.0));
        assert_eq!(sin_cos(Angle::from_degrees(180.0)), (0.0, -1.0));
    }
}
