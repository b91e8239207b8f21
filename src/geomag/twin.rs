//! The slow obvious twin: the same model from the textbook formulas, term by term, sharing no code with the fast sum.
//!
//! Its Legendre functions come from the explicit polynomial, its geometry from points and axes in space.
#![expect(
    clippy::cast_possible_truncation,
    clippy::cast_possible_wrap,
    clippy::cast_precision_loss,
    clippy::cast_sign_loss,
    reason = "degrees and orders go to twelve"
)]

use super::coefficients::COF;

/// North, east, down in nT and in nT per year.
pub(super) struct Twin {
    pub(super) now: [f64; 3],
    pub(super) change: [f64; 3],
}

type Space = [f64; 3];

pub(super) fn evaluate(latitude: f64, longitude: f64, height_m: f64, year: f64) -> Twin {
    let (lat, lon) = (latitude.to_radians(), longitude.to_radians());
    let (north, east, down) = axes(lat, lon);

    let flattening = 1.0 / 298.257_223_563;
    let (a, b) = (6_378_137.0, 6_378_137.0 * (1.0 - flattening));
    let curvature = a * a / (a * a * lat.cos().powi(2) + b * b * lat.sin().powi(2)).sqrt();
    let point = [
        (curvature + height_m) * lat.cos() * lon.cos(),
        (curvature + height_m) * lat.cos() * lon.sin(),
        (curvature * b * b / (a * a) + height_m) * lat.sin(),
    ];
    let distance = dot(point, point).sqrt();
    let geocentric = point[2].atan2(point[0].hypot(point[1]));
    let (sphere_north, sphere_east, sphere_down) = axes(geocentric, lon);

    let mut now = [0.0; 3];
    let mut change = [0.0; 3];
    for row in COF.lines().skip(1).take_while(|row| !row.starts_with("9999")) {
        let numbers: Vec<f64> = row.split_whitespace().map(|word| word.parse().unwrap()).collect();
        let (n, m) = (numbers[0] as usize, numbers[1] as usize);
        let [value, slope, over_sine] = legendre(n, m, std::f64::consts::FRAC_PI_2 - geocentric);
        let radial = (6_371_200.0 / distance).powi(n as i32 + 2);
        let (sin, cos) = (m as f64 * lon).sin_cos();
        for (field, g, h) in [(&mut now, numbers[2], numbers[3]), (&mut change, numbers[4], numbers[5])] {
            let to_north = radial * slope * (g * cos + h * sin);
            let to_east = radial * m as f64 * over_sine * (g * sin - h * cos);
            let to_down = -radial * (n + 1) as f64 * value * (g * cos + h * sin);
            for i in 0..3 {
                field[i] += to_north * sphere_north[i] + to_east * sphere_east[i] + to_down * sphere_down[i];
            }
        }
    }
    for i in 0..3 {
        now[i] += (year - 2025.0) * change[i];
    }
    let upright = |field: Space| [dot(field, north), dot(field, east), dot(field, down)];
    Twin { now: upright(now), change: upright(change) }
}

/// Unit vectors toward north, east and down at a latitude and longitude, in earth-fixed axes.
fn axes(lat: f64, lon: f64) -> (Space, Space, Space) {
    (
        [-lat.sin() * lon.cos(), -lat.sin() * lon.sin(), lat.cos()],
        [-lon.sin(), lon.cos(), 0.0],
        [-lat.cos() * lon.cos(), -lat.cos() * lon.sin(), -lat.sin()],
    )
}

fn dot(a: Space, b: Space) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// Schmidt semi-normalised P(n,m)(cos θ), its derivative by θ, and P/sin θ (0 for order 0, which has no use for it).
///
/// P(n,m) = sinᵐθ times the m-th derivative of the Legendre polynomial, whose coefficients stand in every handbook:
/// P(n)(x) = 2⁻ⁿ Σ (−1)ᵏ C(n,k) C(2n − 2k, n) xⁿ⁻²ᵏ.
fn legendre(n: usize, m: usize, theta: f64) -> [f64; 3] {
    let mut polynomial = vec![0.0; n + 1];
    for k in 0..=n / 2 {
        let sign = if k % 2 == 0 { 1.0 } else { -1.0 };
        polynomial[n - 2 * k] = sign * choose(n, k) * choose(2 * n - 2 * k, n) / 2.0_f64.powi(n as i32);
    }
    for _ in 0..m {
        polynomial = derivative(&polynomial);
    }
    let norm = if m == 0 { 1.0 } else { (2.0 * factorial(n - m) / factorial(n + m)).sqrt() };
    let (sine, cosine) = theta.sin_cos();
    let (value, slope) = (at(&polynomial, cosine), at(&derivative(&polynomial), cosine));
    let power = |exponent: usize| sine.powi(exponent as i32);
    if m == 0 {
        return [norm * value, -norm * sine * slope, 0.0];
    }
    [
        norm * power(m) * value,
        norm * (m as f64 * power(m - 1) * cosine * value - power(m + 1) * slope),
        norm * power(m - 1) * value,
    ]
}

fn derivative(polynomial: &[f64]) -> Vec<f64> {
    polynomial.iter().enumerate().skip(1).map(|(power, factor)| power as f64 * factor).collect()
}

fn at(polynomial: &[f64], x: f64) -> f64 {
    polynomial.iter().enumerate().map(|(power, factor)| factor * x.powi(power as i32)).sum()
}

fn factorial(n: usize) -> f64 {
    (1..=n).map(|k| k as f64).product()
}

fn choose(n: usize, k: usize) -> f64 {
    factorial(n) / factorial(k) / factorial(n - k)
}
