//! The lake in the hollow of the valley.
use super::relief::Relief;
use super::spot::{Spot, crossing, inside, squared_to_line};
use super::trig::sin_cos;
use crate::angle::Angle;

/// The lake.
#[derive(Clone, Debug)]
pub(super) struct Lake {
    /// Its shore, closed (the last corner joins the first).
    pub(super) shore: Vec<Spot>,
    /// The middle of it.
    pub(super) middle: Spot,
    /// How far the shore lies from it at most, in mm.
    pub(super) reach_mm: f64,
    /// Height of its water in m.
    pub(super) level_m: f64,
}

/// How many rays find the shore of a lake.
const RAYS: u32 = 24;

impl Lake {
    /// Fills the hollow of the valley to just below the lowest place of its rim.
    pub(super) fn fill(relief: &Relief) -> Lake {
        let (hollow, reach_mm) = relief.hollow();
        let middle = relief.climb(hollow, -1.0);
        let bottom = relief.at(middle);
        // The rim is lowest where the valley runs out of the hollow.
        let lip = (0..=24)
            .map(|step| relief.at(relief.on_axis(reach_mm * (0.3 + f64::from(step) / 24.0))))
            .fold(bottom, f64::max);
        // Clear of the contour lines, which stand at tens: a shore that runs along one would be mistaken for it.
        let level_m = [1.0, 2.0, 3.0, 4.0]
            .map(|below| lip - below)
            .into_iter()
            .find(|level| (2.0..=8.0).contains(&level.rem_euclid(10.0)))
            .unwrap_or(lip - 1.0)
            .max(bottom + 1.0);
        let shore: Vec<Spot> = (0..RAYS)
            .map(|ray| {
                let way = sin_cos(Angle::from_degrees(f64::from(ray) * 360.0 / f64::from(RAYS)));
                let (mut wet, mut dry) = (0.0, 2.0);
                while dry < reach_mm && relief.at(middle.along(way, dry)) < level_m {
                    (wet, dry) = (dry, dry + 2.0);
                }
                for _ in 0..7 {
                    let half = f64::midpoint(wet, dry);
                    if relief.at(middle.along(way, half)) < level_m { wet = half } else { dry = half }
                }
                middle.along(way, wet)
            })
            .collect();
        let reach_mm = shore.iter().map(|&at| at.distance_mm(middle)).fold(0.0, f64::max);
        Lake { shore, middle, reach_mm, level_m }
    }

    pub(super) fn holds(&self, spot: Spot) -> bool {
        spot.squared_mm(self.middle) <= self.reach_mm * self.reach_mm && inside(&self.shore, spot)
    }

    /// Whether the shore comes nearer to a place than this, in mm.
    pub(super) fn is_shore_within(&self, mm: f64, spot: Spot) -> bool {
        // From farther off than this nobody need look along the shore; the hair is for rounding.
        let reach = self.reach_mm + mm + 1e-6;
        spot.squared_mm(self.middle) <= reach * reach && squared_to_line(&self.shore, spot) < mm * mm
    }

    /// Where a step first comes to the shore, a little way in; also where it only cuts a corner of the lake.
    pub(super) fn landfall(&self, from: Spot, to: Spot) -> Option<Spot> {
        let near = self.reach_mm + from.distance_mm(to);
        if from.squared_mm(self.middle) > near * near {
            return None;
        }
        let shore = self.shore.iter().zip(self.shore.iter().cycle().skip(1));
        let first = shore.filter_map(|(&a, &b)| crossing(from, to, a, b)).min_by(|a, b| a.1.total_cmp(&b.1))?;
        Some(first.0.toward(self.middle, 0.02))
    }
}
