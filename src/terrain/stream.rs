//! One stream: its course, its water, and how it is cut into the ground.
use super::spot::{Spot, nearest_on};
use crate::numbers::{real, whole};

/// A stream from its source, or from where it enters the sheet, down to its end.
#[derive(Clone, Debug)]
pub(super) struct Stream {
    /// Its course, downstream.
    pub(super) line: Vec<Spot>,
    /// The height of the water at each place of the course, in m, never rising.
    pub(super) heights_m: Vec<f64>,
    /// How deep it is cut into the ground at each place of the course, in m.
    pub(super) cut_m: Vec<f64>,
    /// How far aside the ground still leans toward it, in mm.
    pub(super) reach_mm: f64,
    /// Whether it has its source on the sheet.
    pub(super) springs_here: bool,
}

/// What a stream's bed is like.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bed {
    /// How far aside the ground leans toward it, in mm.
    pub(super) reach_mm: f64,
    /// How deep it lies below the ground at its beginning, and at most, in m.
    pub(super) first_m: f64,
    pub(super) full_m: f64,
    /// Whether it has its source on the sheet.
    pub(super) springs_here: bool,
}

/// How far one step of a stream goes, in mm.
pub(super) const STEP_MM: f64 = 1.5;

/// How much of a stream's cut is left at a squared share of its reach.
pub(super) fn weight(part: f64) -> f64 {
    let left = (1.0 - part).max(0.0);
    left * left
}

/// How much deeper a stream is cut with each step, in m.
pub(super) const CUT_M: f64 = 0.6;

impl Stream {
    /// A stream along a course. Its water never rises: it starts no higher than `from_m`, ends no lower than `to_m`, and in
    /// between lies `bed` metres below the ground, little at its source and more further down.
    pub(super) fn along(ground: impl Fn(Spot) -> f64, line: Vec<Spot>, bed: Bed, from_m: f64, to_m: f64) -> Stream {
        let mut before = from_m;
        let mut heights_m: Vec<f64> = line
            .iter()
            .enumerate()
            .map(|(step, &spot)| {
                let depth = (bed.first_m + real(step) * CUT_M).min(bed.full_m);
                before = (ground(spot) - depth).min(before).max(to_m);
                before
            })
            .collect();
        if let (Some(last), true) = (heights_m.last_mut(), to_m.is_finite()) {
            *last = to_m;
        }
        let cut_m = line.iter().zip(&heights_m).map(|(&spot, height)| ground(spot) - height).collect();
        Stream { line, heights_m, cut_m, reach_mm: bed.reach_mm, springs_here: bed.springs_here }
    }

    /// The nearest place of the course: squared share of the reach, the place, and the height of the water there.
    pub(super) fn nearest(&self, spot: Spot) -> (f64, Spot, f64) {
        let mut best = (f64::INFINITY, spot, 0.0);
        for (pair, height) in self.line.windows(2).zip(self.heights_m.windows(2)) {
            let (share, squared) = nearest_on(pair[0], pair[1], spot);
            if squared < best.0 {
                best = (squared, pair[0].toward(pair[1], share), height[0] + share * (height[1] - height[0]));
            }
        }
        (best.0 / (self.reach_mm * self.reach_mm), best.1, best.2)
    }

    /// The nearest place of the course within a squared distance, and the water's height there.
    pub(super) fn near(&self, spot: Spot, within: f64) -> Option<(Spot, f64)> {
        let mut best = (within, None);
        // No step is longer than two ordinary ones, so from a far place many steps can be left out.
        let (longest, mut at) = (2.0 * STEP_MM, 0);
        while at + 1 < self.line.len() {
            let (a, b) = (self.line[at], self.line[at + 1]);
            let off = (a.east_mm - spot.east_mm).abs().max((a.north_mm - spot.north_mm).abs());
            let spare = (off - within.sqrt()) / longest;
            if spare >= 2.0 {
                at += whole::<usize>(spare) - 1;
                continue;
            }
            let (share, squared) = nearest_on(a, b, spot);
            if squared < best.0 {
                let height = self.heights_m[at] + share * (self.heights_m[at + 1] - self.heights_m[at]);
                best = (squared, Some((a.toward(b, share), height)));
            }
            at += 1;
        }
        best.1
    }
}
