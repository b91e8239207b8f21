//! The sum of spherical harmonics: the field at the epoch and its yearly change in one pass, without allocation.
//!
//! Arrays of two and the functions that are not inlined are there for speed: written like this, the compiler keeps every
//! pair in one vector register. One order at a time took half as long again.

use super::coefficients::{DEGREE, Step, Tables, Two, Zonal};

/// A vector in nT (or nT per year): north, east and down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Vector {
    pub(super) north: f64,
    pub(super) east: f64,
    pub(super) down: f64,
}

/// Where the sum is taken, in the terms it needs.
#[derive(Clone, Copy)]
pub(super) struct At {
    /// The model's reference radius over the distance from the earth's centre.
    pub(super) radius: f64,
    /// Cosine of the geocentric angle from the north pole.
    pub(super) cosine: f64,
    /// Sine of the same, ≥ 0.
    pub(super) sine: f64,
    /// Cosine of the longitude.
    pub(super) east_cosine: f64,
    /// Sine of the longitude.
    pub(super) east_sine: f64,
}

/// The field at the epoch and its yearly change, both along geocentric north, east and down.
///
/// Nothing is divided by the sine of the polar angle, so the poles are like any other place: from order 1 up the
/// polynomials are taken as P/sin θ throughout, and the slope of order 0 is a multiple of order 1.
pub(super) fn field_and_change(tables: &Tables, at: At) -> (Vector, Vector) {
    // The powers of the radius ride along: the polynomial of degree n and order m carries radius^(n − m), the spin the rest.
    let step = at.radius * at.cosine;
    let square = at.radius * at.radius;
    let zonal = zonal_sums(&tables.zonal, step, square);
    let mut total = Total { plain: [[0.0; 2]; 2], partial: [[0.0; 2]; 2], slope: [[0.0; 2]; 2], east: [[0.0; 2]; 2] };
    let mut spin = Spin::start(at);
    let mut rest: &[Step] = &tables.steps;
    let mut length = DEGREE;
    while let Some((steps, later)) = rest.split_at_checked(length)
        && let [first, middle @ .., last] = steps
    {
        total.add(Steps { first, middle, last }, step, square, &spin);
        spin.advance();
        (rest, length) = (later, length - 2);
    }
    let vector = |i: usize| {
        let plain = both(total.plain[i]);
        // A sum of partial sums over 13 − m steps weighs the term at step k with 13 − m − k, so that
        // Σ (n + 1) u = 14 Σ u − Σ Σ u for the first of the two orders, and 15 Σ u − Σ Σ u for the second.
        let weighted = 14.0 * total.plain[i][0] + 15.0 * total.plain[i][1] - both(total.partial[i]);
        let inclined = at.cosine * (weighted - plain) - at.radius * both(total.slope[i]);
        Vector {
            north: square * (inclined - at.radius * at.sine * zonal.north[i]),
            east: square * both(total.east[i]),
            down: -square * (at.sine * weighted + zonal.down[i]),
        }
    };
    (vector(0), vector(1))
}

fn both(two: Two) -> f64 {
    two[0] + two[1]
}

/// Radius^m sin^(m−1)θ times cosine and sine of m times the longitude, for two orders m.
struct Spin {
    cosine: Two,
    sine: Two,
    order: Two,
    turn_cosine: f64,
    turn_sine: f64,
}

impl Spin {
    fn start(at: At) -> Spin {
        let (cosine, sine) = (at.radius * at.east_cosine, at.radius * at.east_sine);
        let (once_cosine, once_sine) = (cosine * at.sine, sine * at.sine);
        Spin {
            cosine: [cosine, cosine * once_cosine - sine * once_sine],
            sine: [sine, cosine * once_sine + sine * once_cosine],
            order: [1.0, 2.0],
            turn_cosine: once_cosine * once_cosine - once_sine * once_sine,
            turn_sine: 2.0 * once_cosine * once_sine,
        }
    }

    /// On to the next two orders.
    #[inline]
    fn advance(&mut self) {
        for lane in 0..2 {
            let (cosine, sine) = (self.cosine[lane], self.sine[lane]);
            self.cosine[lane] = cosine * self.turn_cosine - sine * self.turn_sine;
            self.sine[lane] = cosine * self.turn_sine + sine * self.turn_cosine;
            self.order[lane] += 2.0;
        }
    }
}

/// The sums over all orders from 1, for the field and its rate; the lanes (odd and even orders) are added at the end.
struct Total {
    plain: [Two; 2],
    partial: [Two; 2],
    slope: [Two; 2],
    east: [Two; 2],
}

impl Total {
    /// Two orders more. One function that is not inlined, called six times: inlined, it is not made of vectors any more.
    #[inline(never)]
    fn add(&mut self, steps: Steps<'_>, step: f64, square: f64, spin: &Spin) {
        let sums = Sums::over(steps, step, square);
        for i in 0..2 {
            let (g, h) = (2 * i, 2 * i + 1);
            for lane in 0..2 {
                let (cosine, sine) = (spin.cosine[lane], spin.sine[lane]);
                self.plain[i][lane] += sums.plain[g][lane] * cosine + sums.plain[h][lane] * sine;
                self.partial[i][lane] += sums.partial[g][lane] * cosine + sums.partial[h][lane] * sine;
                self.slope[i][lane] += sums.slope[g][lane] * cosine + sums.slope[h][lane] * sine;
                self.east[i][lane] += spin.order[lane] * (sums.plain[g][lane] * sine - sums.plain[h][lane] * cosine);
            }
        }
    }
}

/// The steps of two orders; the first and the last need less work than the others.
struct Steps<'a> {
    first: &'a Step,
    middle: &'a [Step],
    last: &'a Step,
}

/// The sums over the degrees of two orders, for g, h and their rates: of the terms, of their partial sums, of the slopes.
struct Sums {
    plain: [Two; 4],
    partial: [Two; 4],
    slope: [Two; 4],
}

impl Sums {
    #[inline(always)]
    fn over(Steps { first, middle, last }: Steps<'_>, step: f64, square: f64) -> Sums {
        // At the first step the polynomials are 1; at the last there is no next degree for the slopes.
        let (mut plain, mut partial, mut slope) = (first.here, first.here, first.slope);
        // The polynomials go before the sums: each waits for the one before it and for nothing else.
        let mut polynomials = [[0.0; 2]; DEGREE - 2];
        let (mut before, mut now) = ([1.0; 2], [step; 2]);
        for (term, polynomial) in middle.iter().zip(&mut polynomials) {
            *polynomial = now;
            for lane in 0..2 {
                (before[lane], now[lane]) = (now[lane], step * now[lane] - term.back[lane] * square * before[lane]);
            }
        }
        for (term, polynomial) in middle.iter().zip(&polynomials) {
            for i in 0..4 {
                for lane in 0..2 {
                    plain[i][lane] += term.here[i][lane] * polynomial[lane];
                    partial[i][lane] += plain[i][lane];
                    slope[i][lane] += term.slope[i][lane] * polynomial[lane];
                }
            }
        }
        for i in 0..4 {
            for lane in 0..2 {
                plain[i][lane] += last.here[i][lane] * now[lane];
                partial[i][lane] += plain[i][lane];
            }
        }
        Sums { plain, partial, slope }
    }
}

/// Order 0, for the field and its rate.
struct ZonalSums {
    down: Two,
    north: Two,
}

#[inline(never)]
fn zonal_sums(terms: &[Zonal; DEGREE], step: f64, square: f64) -> ZonalSums {
    let (mut down, mut north) = ([0.0; 2], [0.0; 2]);
    let (mut before, mut now) = ([1.0, 0.0], [step, 1.0]);
    for term in terms {
        for i in 0..2 {
            down[i] += term.down[i] * now[0];
            north[i] += term.north[i] * now[1];
        }
        for order in 0..2 {
            (before[order], now[order]) = (now[order], step * now[order] - term.back[order] * square * before[order]);
        }
    }
    ZonalSums { down, north }
}
