//! Krüger's series between the Gauss-Schreiber sphere and the transverse Mercator plane.
//!
//! L. Krüger, "Konforme Abbildung des Erdellipsoids in der Ebene" (1912), in the form and with the order of C. F. F.
//! Karney, "Transverse Mercator with an accuracy of a few nanometers", J. Geodesy 85 (2011), eqs 11, 12, 35 and 36.
//! The paper prints orders up to 6; orders 7 and 8 were worked out again for this file in exact fractions (Lagrange
//! reversion in the third flattening n), which also gave every printed fraction back. Order 8 is what keeps a
//! micrometre out to 40° from the central meridian; Karney's rows in `ground::reference` check it.
//!
//! A point is the complex number ζ = ξ + iη (north, east) in units of the rectifying radius.

use super::Ellipsoid;
use crate::numbers::real;

/// How many terms.
const ORDER: usize = 8;

/// The series of one ellipsoid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Series {
    /// Rectifying radius A over equatorial radius a.
    pub(super) rectifying: f64,
    alpha: [f64; ORDER],
    beta: [f64; ORDER],
}

/// ξ + iη.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Complex {
    pub(super) re: f64,
    pub(super) im: f64,
}

impl Complex {
    const fn times(self, other: Complex) -> Complex {
        Complex { re: self.re * other.re - self.im * other.im, im: self.re * other.im + self.im * other.re }
    }

    const fn plus(self, factor: f64, other: Complex) -> Complex {
        Complex { re: self.re + factor * other.re, im: self.im + factor * other.im }
    }

    const fn scaled(self, factor: f64) -> Complex {
        Complex { re: factor * self.re, im: factor * self.im }
    }
}

impl Series {
    /// The series of an ellipsoid.
    pub(super) const fn new(ellipsoid: Ellipsoid) -> Series {
        let n = ellipsoid.third_flattening();
        let n2 = n * n;
        // Karney 2011 eq 14, one term further.
        let rectifying =
            (1.0 + n2 * (1.0 / 4.0 + n2 * (1.0 / 64.0 + n2 * (1.0 / 256.0 + n2 * 25.0 / 16_384.0)))) / (1.0 + n);
        Series { rectifying, alpha: polynomials(&ALPHA, n), beta: polynomials(&BETA, n) }
    }

    /// From the sphere ζ′ to the plane ζ, with dζ/dζ′ (Karney 2011 eqs 11 and 24).
    pub(super) fn plane_of(&self, sphere: Complex) -> (Complex, Complex) {
        sine_series(&self.alpha, 1.0, sphere)
    }

    /// From the plane ζ to the sphere ζ′, with dζ′/dζ (Karney 2011 eqs 12 and 29).
    pub(super) fn sphere_of(&self, plane: Complex) -> (Complex, Complex) {
        sine_series(&self.beta, -1.0, plane)
    }
}

/// z + sign · Σ cⱼ sin 2jz and its derivative 1 + sign · Σ 2j cⱼ cos 2jz.
fn sine_series(coefficients: &[f64; ORDER], sign: f64, z: Complex) -> (Complex, Complex) {
    let (sin, cos) = (2.0 * z.re).sin_cos();
    let (sinh, cosh) = ((2.0 * z.im).sinh(), (2.0 * z.im).cosh());
    let sin_2z = Complex { re: sin * cosh, im: cos * sinh };
    let cos_2z = Complex { re: cos * cosh, im: -sin * sinh };
    // Clenshaw's sum, as the paper advises: bₖ = cₖ + 2 cos 2z · bₖ₊₁ − bₖ₊₂ for the sines and the cosines at once.
    let twice = cos_2z.scaled(2.0);
    let zero = Complex { re: 0.0, im: 0.0 };
    let (mut b1, mut b2, mut d1, mut d2) = (zero, zero, zero, zero);
    let mut multiple = 2.0 * real(ORDER);
    for coefficient in coefficients.iter().rev() {
        let b = twice.times(b1).plus(-1.0, b2);
        let d = twice.times(d1).plus(-1.0, d2);
        (b2, d2) = (b1, d1);
        b1 = Complex { re: b.re + coefficient, ..b };
        d1 = Complex { re: d.re + multiple * coefficient, ..d };
        multiple -= 2.0;
    }
    let sum = sin_2z.times(b1);
    let slope = cos_2z.times(d1).plus(-1.0, d2);
    (z.plus(sign, sum), Complex { re: 1.0 + sign * slope.re, im: sign * slope.im })
}

/// Row j holds the factors of n¹ … n⁸ in the j-th coefficient.
const fn polynomials(rows: &[[f64; ORDER]; ORDER], n: f64) -> [f64; ORDER] {
    let mut values = [0.0; ORDER];
    let mut row = 0;
    while row < ORDER {
        let mut power = ORDER;
        while power > 0 {
            power -= 1;
            values[row] = n * (values[row] + rows[row][power]);
        }
        row += 1;
    }
    values
}

/// Karney 2011 eq 35 (α), and orders 7 and 8.
#[rustfmt::skip]
const ALPHA: [[f64; ORDER]; ORDER] = [
    [1.0 / 2.0, -2.0 / 3.0, 5.0 / 16.0, 41.0 / 180.0, -127.0 / 288.0,
        7_891.0 / 37_800.0, 72_161.0 / 387_072.0, -18_975_107.0 / 50_803_200.0],
    [0.0, 13.0 / 48.0, -3.0 / 5.0, 557.0 / 1_440.0, 281.0 / 630.0,
        -1_983_433.0 / 1_935_360.0, 13_769.0 / 28_800.0, 148_003_883.0 / 174_182_400.0],
    [0.0, 0.0, 61.0 / 240.0, -103.0 / 140.0, 15_061.0 / 26_880.0,
        167_603.0 / 181_440.0, -67_102_379.0 / 29_030_400.0, 79_682_431.0 / 79_833_600.0],
    [0.0, 0.0, 0.0, 49_561.0 / 161_280.0, -179.0 / 168.0, 6_601_661.0 / 7_257_600.0,
        97_445.0 / 49_896.0, -40_176_129_013.0 / 7_664_025_600.0],
    [0.0, 0.0, 0.0, 0.0, 34_729.0 / 80_640.0, -3_418_889.0 / 1_995_840.0,
        14_644_087.0 / 9_123_840.0, 2_605_413_599.0 / 622_702_080.0],
    [0.0, 0.0, 0.0, 0.0, 0.0, 212_378_941.0 / 319_334_400.0,
        -30_705_481.0 / 10_378_368.0, 175_214_326_799.0 / 58_118_860_800.0],
    [0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 1_522_256_789.0 / 1_383_782_400.0, -16_759_934_899.0 / 3_113_510_400.0],
    [0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 1_424_729_850_961.0 / 743_921_418_240.0],
];

/// Karney 2011 eq 36 (β), and orders 7 and 8.
#[rustfmt::skip]
const BETA: [[f64; ORDER]; ORDER] = [
    [1.0 / 2.0, -2.0 / 3.0, 37.0 / 96.0, -1.0 / 360.0, -81.0 / 512.0,
        96_199.0 / 604_800.0, -5_406_467.0 / 38_707_200.0, 7_944_359.0 / 67_737_600.0],
    [0.0, 1.0 / 48.0, 1.0 / 15.0, -437.0 / 1_440.0, 46.0 / 105.0,
        -1_118_711.0 / 3_870_720.0, 51_841.0 / 1_209_600.0, 24_749_483.0 / 348_364_800.0],
    [0.0, 0.0, 17.0 / 480.0, -37.0 / 840.0, -209.0 / 4_480.0,
        5_569.0 / 90_720.0, 9_261_899.0 / 58_060_800.0, -6_457_463.0 / 17_740_800.0],
    [0.0, 0.0, 0.0, 4_397.0 / 161_280.0, -11.0 / 504.0, -830_251.0 / 7_257_600.0,
        466_511.0 / 2_494_800.0, 324_154_477.0 / 7_664_025_600.0],
    [0.0, 0.0, 0.0, 0.0, 4_583.0 / 161_280.0, -108_847.0 / 3_991_680.0,
        -8_005_831.0 / 63_866_880.0, 22_894_433.0 / 124_540_416.0],
    [0.0, 0.0, 0.0, 0.0, 0.0, 20_648_693.0 / 638_668_800.0,
        -16_363_163.0 / 518_918_400.0, -2_204_645_983.0 / 12_915_302_400.0],
    [0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 219_941_297.0 / 5_535_129_600.0, -497_323_811.0 / 12_454_041_600.0],
    [0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 191_773_887_257.0 / 3_719_607_091_200.0],
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_two_series_undo_each_other() {
        let series = Series::new(Ellipsoid::WGS84);
        for north in [-1.5, -0.7, 0.0, 0.3, 1.2] {
            for east in [-0.7, -0.1, 0.0, 0.4, 0.7] {
                let there = Complex { re: north, im: east };
                let (plane, slope) = series.plane_of(there);
                let (back, slope_back) = series.sphere_of(plane);
                assert!((back.re - north).abs() < 2e-13 && (back.im - east).abs() < 2e-13, "{there:?} {back:?}");
                let one = slope.times(slope_back);
                assert!((one.re - 1.0).abs() < 1e-11 && one.im.abs() < 1e-11, "{one:?}");
            }
        }
    }

    #[test]
    fn on_a_sphere_nothing_is_added() {
        let series = Series::new(Ellipsoid::new(6.4e6, 0.0).unwrap());
        let there = Complex { re: 0.5, im: 0.1 };
        assert_eq!(series.plane_of(there).0, there);
        assert_eq!(series.rectifying, 1.0);
    }
}
