//! How likely each explanation of what was measured is.
//!
//! An explanation is one offset on all legs, together with legs that were walked the wrong way round, two legs that were exchanged,
//! and legs that nothing explains. What is left after it is scatter: hands and eyes are out by about 3° (a slope of a normal
//! law of rms 3°; some people by 7°, so that somebody with a rough hand is not told an offset). Bayes' rule weighs all
//! explanations against each other; beforehand, each way in which the correction can go wrong is as likely as its going right.
//!
//! With the offset given, legs are independent but for an exchanged pair, so the sum over all explanations is a product over
//! the legs, and one more for each pair: no list of explanations is ever made.

use super::Cause;
use crate::angle::{Angle, Bearing, Magnetic};
use crate::numbers::real;

/// An offset that a cause would bring, and how likely that is beforehand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Offset {
    /// Why.
    pub cause: Cause,
    /// Measured minus key, clockwise positive.
    pub turn: Angle,
    /// How likely, relative to the others.
    pub weight: f64,
}

/// A leg that was measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Pair {
    /// What the dial should show.
    pub key: Bearing<Magnetic>,
    /// What it showed.
    pub measured: Bearing<Magnetic>,
}

/// The shares of explanations in what was measured.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Weighed {
    /// Each cause with its share, all together 1; the largest first.
    pub causes: Vec<(Cause, f64)>,
    /// For each leg the share in which it is the wrong way round.
    pub reversed: Vec<f64>,
    /// For each leg the share in which nothing explains it.
    pub odd: Vec<f64>,
    /// For each pair of legs, both counted from 0, the share in which they were exchanged.
    pub swapped: Vec<((usize, usize), f64)>,
}

/// How far hands and eyes are out, as rms in degrees, and how likely that is beforehand.
const SCATTER: [(f64, f64); 2] = [(3.0, 0.85), (7.0, 0.15)];
/// How likely one leg is the wrong way round, beforehand.
const REVERSED: f64 = 0.03;
/// How likely one leg is out by anything at all.
const ODD: f64 = 0.01;
/// How likely two legs of the course are exchanged.
const SWAPPED: f64 = 0.05;

/// The normal law's density at so many degrees from its middle.
fn density(degrees: f64, rms: f64) -> f64 {
    let z = degrees / rms;
    if z.abs() > 12.0 { 0.0 } else { (-z * z / 2.0).exp() / (rms * std::f64::consts::TAU.sqrt()) }
}

/// A signed turn brought into −180 to 180 degrees.
fn half(degrees: f64) -> f64 {
    if degrees > 180.0 {
        degrees - 360.0
    } else if degrees < -180.0 {
        degrees + 360.0
    } else {
        degrees
    }
}

/// Weighs the offsets; the legs in their order, one at least.
pub(super) fn weigh(legs: &[Pair], offsets: &[Offset]) -> Weighed {
    let count = legs.len();
    let turns: Vec<Vec<f64>> =
        legs.iter().map(|leg| legs.iter().map(|other| other.key.turn_to(leg.measured).degrees()).collect()).collect();
    let pairs: Vec<(usize, usize)> =
        (0..count).flat_map(|one| (one + 1..count).map(move |other| (one, other))).collect();
    let swap_before = if pairs.is_empty() { 0.0 } else { SWAPPED / real(pairs.len()) };
    let mut sums =
        Sums { reversed: vec![0.0; count], odd: vec![0.0; count], swapped: vec![0.0; pairs.len()], ..Sums::default() };
    for (rms, before) in SCATTER {
        for offset in offsets {
            let turn = offset.turn.degrees();
            let off = |leg: usize, key: usize| half(turns[leg][key] - turn);
            let fits: Vec<f64> = (0..count).map(|leg| density(off(leg, leg), rms)).collect();
            let back: Vec<f64> = (0..count).map(|leg| REVERSED * density(half(off(leg, leg) + 180.0), rms)).collect();
            let odd = ODD / 360.0;
            let whole: Vec<f64> =
                fits.iter().zip(&back).map(|(fits, back)| (1.0 - REVERSED - ODD) * fits + back + odd).collect();
            let base = before * offset.weight * whole.iter().product::<f64>();
            let kept = base * (1.0 - if pairs.is_empty() { 0.0 } else { SWAPPED });
            let mut mass = kept;
            for (number, (one, other)) in pairs.iter().enumerate() {
                let exchanged = density(off(*one, *other), rms) * density(off(*other, *one), rms);
                let swap = base * swap_before * exchanged / (whole[*one] * whole[*other]);
                sums.swapped[number] += swap;
                mass += swap;
            }
            for leg in 0..count {
                // Where the leg is one of an exchanged pair it is neither reversed nor odd; that share is too small to matter.
                sums.reversed[leg] += kept * back[leg] / whole[leg];
                sums.odd[leg] += kept * odd / whole[leg];
            }
            sums.all += mass;
            match sums.causes.iter_mut().find(|(cause, _)| *cause == offset.cause) {
                Some((_, sum)) => *sum += mass,
                None => sums.causes.push((offset.cause, mass)),
            }
        }
    }
    sums.shares(pairs)
}

/// The sums so far.
#[derive(Default)]
struct Sums {
    all: f64,
    causes: Vec<(Cause, f64)>,
    reversed: Vec<f64>,
    odd: Vec<f64>,
    swapped: Vec<f64>,
}

impl Sums {
    fn shares(self, pairs: Vec<(usize, usize)>) -> Weighed {
        let all = if self.all > 0.0 { self.all } else { 1.0 };
        let share = |sums: Vec<f64>| sums.into_iter().map(|sum| sum / all).collect::<Vec<_>>();
        let mut causes: Vec<(Cause, f64)> = self.causes.into_iter().map(|(cause, sum)| (cause, sum / all)).collect();
        crate::numbers::arrange(&mut causes, |one, other| other.1.total_cmp(&one.1));
        Weighed {
            causes,
            reversed: share(self.reversed),
            odd: share(self.odd),
            swapped: pairs.into_iter().zip(share(self.swapped)).collect(),
        }
    }
}
