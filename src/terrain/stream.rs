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
    /// Its south-west and north-east corners.
    corners: [Spot; 2],
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
        let corner = |of: fn(f64, f64) -> f64, from: f64| {
            let fold = |at: fn(&Spot) -> f64| line.iter().map(at).fold(from, of);
            Spot::new(fold(|spot| spot.east_mm), fold(|spot| spot.north_mm))
        };
        let corners = [corner(f64::min, f64::INFINITY), corner(f64::max, f64::NEG_INFINITY)];
        Stream { line, heights_m, cut_m, corners, reach_mm: bed.reach_mm, springs_here: bed.springs_here }
    }

    /// The nearest place of the course, where its bed reaches so far: squared share of the reach, the place, and the height of the
    /// water there.
    pub(super) fn nearest(&self, spot: Spot) -> Option<(f64, Spot, f64)> {
        let reach = self.reach_mm * self.reach_mm;
        self.near(spot, reach).map(|(squared, foot, water_m)| (squared / reach, foot, water_m))
    }

    /// The nearest place of the course within a squared distance: that distance, the place, and the water's height there.
    pub(super) fn near(&self, spot: Spot, within: f64) -> Option<(f64, Spot, f64)> {
        let (mut best, mut aside) = ((within, None), within.sqrt());
        let [low, high] = self.corners;
        let beyond = |at: f64, low: f64, high: f64| at < low - aside || at > high + aside;
        if beyond(spot.east_mm, low.east_mm, high.east_mm) || beyond(spot.north_mm, low.north_mm, high.north_mm) {
            return None;
        }
        // No step is longer than two ordinary ones, so from a far place many steps can be left out.
        let (longest, mut at) = (2.0 * STEP_MM, 0);
        while at + 1 < self.line.len() {
            let (a, b) = (self.line[at], self.line[at + 1]);
            let off = (a.east_mm - spot.east_mm).abs().max((a.north_mm - spot.north_mm).abs());
            let spare = (off - aside) / longest;
            if spare >= 2.0 {
                at += whole::<usize>(spare) - 1;
                continue;
            }
            // Nor does this one come nearer than the nearest so far; the hair is for rounding.
            if spare > 1.0 + 1e-9 {
                at += 1;
                continue;
            }
            let (share, squared) = nearest_on(a, b, spot);
            if squared < best.0 {
                let height = self.heights_m[at] + share * (self.heights_m[at + 1] - self.heights_m[at]);
                best = (squared, Some((squared, a.toward(b, share), height)));
                aside = squared.sqrt();
            }
            at += 1;
        }
        best.1
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::terrain::{Map, MapSpec};

    /// The nearest place of a course by looking at each of its steps.
    fn looked_at_all(stream: &Stream, spot: Spot) -> f64 {
        stream.line.windows(2).map(|pair| nearest_on(pair[0], pair[1], spot).1).fold(f64::INFINITY, f64::min)
    }

    #[test]
    fn steps_that_are_left_out_are_never_the_nearest() {
        let (mut near, mut far) = (0, 0);
        for seed in 0..60 {
            let map = Map::generate(seed, &MapSpec::default());
            for stream in map.beds() {
                let reach = stream.reach_mm * stream.reach_mm;
                for at in 0..900_u32 {
                    let spot = Spot::new(f64::from(at % 30) * 3.7, f64::from(at / 30) * 3.7);
                    let all = looked_at_all(stream, spot);
                    let found = stream.nearest(spot).map(|(part, ..)| part);
                    assert_eq!(found, (all < reach).then_some(all / reach), "map {seed}, {spot:?}");
                    if found.is_some() { near += 1 } else { far += 1 }
                }
            }
        }
        assert!(near > 1_000 && far > 1_000, "{near} near, {far} far");
    }
}
