//! A lake in the valley, a river through it, brooks from the flanks: always downhill, into the lake or off the sheet.
use super::draw::Draw;
use super::relief::{Mesh, Relief};
use super::spot::{Spot, inside, nearest_on, squared_to_line};

/// The lake.
#[derive(Clone, Debug)]
pub(super) struct Lake {
    /// Its shore, closed (the last corner joins the first).
    pub(super) shore: Vec<Spot>,
    /// The middle of it.
    pub(super) middle: Spot,
    /// Height of its water in m.
    pub(super) level_m: f64,
}

/// A stream from its source, or from where it enters the sheet, down to its end.
#[derive(Clone, Debug)]
pub(super) struct Stream {
    /// Its course, downstream.
    pub(super) line: Vec<Spot>,
    /// The height of the water at each place of the course, in m, never rising.
    pub(super) heights_m: Vec<f64>,
    /// How deep it is cut into the ground at each place of the course, in m.
    cut_m: Vec<f64>,
    /// How far aside the ground still leans toward it, in mm.
    reach_mm: f64,
    /// Whether it has its source on the sheet.
    pub(super) springs_here: bool,
}

/// How far one step of a stream goes, in mm.
const STEP_MM: f64 = 1.5;

/// Sixteen rays around a lake, as whole numbers; only their ways matter.
const RAYS: [(f64, f64); 24] = [
    (0.0, 1.0),
    (0.258_819, 0.965_926),
    (0.5, 0.866_025),
    (0.707_107, 0.707_107),
    (0.866_025, 0.5),
    (0.965_926, 0.258_819),
    (1.0, 0.0),
    (0.965_926, -0.258_819),
    (0.866_025, -0.5),
    (0.707_107, -0.707_107),
    (0.5, -0.866_025),
    (0.258_819, -0.965_926),
    (0.0, -1.0),
    (-0.258_819, -0.965_926),
    (-0.5, -0.866_025),
    (-0.707_107, -0.707_107),
    (-0.866_025, -0.5),
    (-0.965_926, -0.258_819),
    (-1.0, 0.0),
    (-0.965_926, 0.258_819),
    (-0.866_025, 0.5),
    (-0.707_107, 0.707_107),
    (-0.5, 0.866_025),
    (-0.258_819, 0.965_926),
];

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
        let shore = RAYS
            .iter()
            .map(|&way| {
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
        Lake { shore, middle, level_m }
    }

    pub(super) fn holds(&self, spot: Spot) -> bool {
        inside(&self.shore, spot)
    }
}

/// All water of a map.
#[derive(Clone, Debug)]
pub(super) struct Water {
    pub(super) lake: Lake,
    pub(super) streams: Vec<Stream>,
}

impl Water {
    pub(super) fn new(seed: u64, relief: &Relief, width_mm: f64, height_mm: f64) -> Water {
        let mut draw = Draw::new("water", seed);
        let sheet = Sheet { width_mm, height_mm };
        let mut water = Water { lake: Lake::fill(relief), streams: Vec::new() };
        water.inflow(relief, sheet);
        water.outflow(relief, sheet);
        for _ in 0..14 {
            let source = Spot::new(draw.tenths(9.0, width_mm - 9.0), draw.tenths(9.0, height_mm - 9.0));
            if water.streams.iter().filter(|stream| stream.springs_here).count() < 2 {
                water.brook(relief, sheet, source);
            }
        }
        water
    }

    /// The river comes in at the head of the valley.
    fn inflow(&mut self, relief: &Relief, sheet: Sheet) {
        let mut head = relief.on_axis(-6.0);
        // The last place on the axis that still lies on the sheet.
        for step in 0..160 {
            let next = relief.on_axis(-6.0 - 2.0 * f64::from(step));
            if !sheet.holds(next) {
                break;
            }
            head = next;
        }
        if self.lake.holds(head) {
            return;
        }
        let line = self.descend(relief, sheet, head);
        if line.last().is_some_and(|&end| self.lake.holds(end)) {
            let out = relief.on_axis(-400.0);
            let line = std::iter::once(sheet.rim(head, head.toward(out, 1.0))).chain(line).collect();
            self.cut(relief, line, 7.0, (5.0, 8.0), None, false);
        }
    }

    /// The river leaves the lake over the lowest place of its rim.
    fn outflow(&mut self, relief: &Relief, sheet: Sheet) {
        let reach = (0..80).map(|step| f64::from(step) * 0.75);
        let dry = reach
            .map(|mm| relief.on_axis(mm))
            .find(|&spot| !self.lake.holds(spot) && relief.at(spot) < self.lake.level_m);
        let Some(dry) = dry.filter(|&spot| sheet.holds(spot)) else { return };
        let mut line = vec![self.lake.middle.toward(dry, 0.2)];
        line.push(self.lake.middle.toward(dry, 0.6));
        line.extend(self.descend(relief, sheet, dry));
        if line.last().is_some_and(|&end| !sheet.holds(end)) {
            self.cut(relief, line, 7.0, (0.0, 8.0), Some(self.lake.level_m), false);
        }
    }

    /// A brook from a source on a flank, if one can run from there.
    fn brook(&mut self, relief: &Relief, sheet: Sheet, source: Spot) {
        let high = relief.hills().iter().all(|hill| hill.distance_mm(source) >= 9.0);
        let near = self.streams.iter().any(|stream| squared_to_line(&stream.line, source) < 14.0 * 14.0);
        if !high || near || relief.aside_mm(source) < 16.0 || self.lake.holds(source) {
            return;
        }
        let line = self.descend(relief, sheet, source);
        let Some(&end) = line.last() else { return };
        let long_enough = line.len() as f64 * STEP_MM >= 15.0;
        let mouth = self.mouth(end);
        if long_enough && (mouth.is_some() || self.lake.holds(end) || !sheet.holds(end)) {
            let end = mouth.map(|(spot, height)| (spot, height));
            let mut line = line;
            if let Some((spot, _)) = end {
                line.push(spot);
            }
            self.cut(relief, line, 5.0, (0.0, 7.0), None, true);
            if let (Some((_, height)), Some(stream)) = (end, self.streams.last_mut()) {
                stream.end_at(height);
            }
        }
    }

    /// Where a brook that has come close to a stream joins it, and the height there.
    fn mouth(&self, end: Spot) -> Option<(Spot, f64)> {
        self.streams.iter().find_map(|stream| stream.near(end, STEP_MM * STEP_MM))
    }

    /// The course of water from a place, downhill until the lake, another stream, the edge, or a place without a way down.
    fn descend(&self, relief: &Relief, sheet: Sheet, from: Spot) -> Vec<Spot> {
        let mut line = vec![from];
        let (mut spot, mut way) = (from, None::<(f64, f64)>);
        for _ in 0..400 {
            let Some(steepest) = relief.downhill(spot) else { break };
            // Half of the way before: water swings through a valley instead of trembling down it.
            let (east, north) = way.unwrap_or(steepest);
            let Some(next_way) = super::spot::unit((east + steepest.0, north + steepest.1)) else { break };
            let next = spot.along(next_way, STEP_MM);
            if relief.at(next) > relief.at(spot) + 0.3 {
                break;
            }
            (spot, way) = (next, Some(next_way));
            if !sheet.holds(next) {
                line.push(sheet.rim(line[line.len() - 1], next));
                break;
            }
            line.push(next);
            if self.lake.holds(next) || (line.len() > 4 && self.mouth(next).is_some()) {
                break;
            }
        }
        line
    }

    /// Adds a stream: its water never rises, and the ground is cut down to it.
    fn cut(
        &mut self,
        relief: &Relief,
        line: Vec<Spot>,
        reach_mm: f64,
        (first_m, full_m): (f64, f64),
        from_m: Option<f64>,
        springs_here: bool,
    ) {
        let mut heights_m = Vec::with_capacity(line.len());
        let mut cut_m = Vec::with_capacity(line.len());
        let mut before = from_m.unwrap_or(f64::INFINITY);
        for (step, &spot) in line.iter().enumerate() {
            let raw = relief.at(spot);
            // A tenth of a metre for each step, so that it falls between the steps, too.
            let depth = (first_m + step as f64 * 0.6).min(full_m);
            let height = (raw - depth).min(before - 0.1);
            let height = if self.lake.holds(spot) { height.max(self.lake.level_m).min(before) } else { height };
            heights_m.push(height);
            cut_m.push(raw - height);
            before = height;
        }
        self.streams.push(Stream { line, heights_m, cut_m, reach_mm, springs_here });
    }

    /// The ground at a place: `raw` cut down by the nearest stream, and flat on the lake.
    pub(super) fn cut_down(&self, spot: Spot, raw: f64) -> f64 {
        if self.lake.holds(spot) {
            return self.lake.level_m;
        }
        let mut nearest = (1.0, 0.0);
        for stream in &self.streams {
            let (part, cut) = stream.cut_at(spot);
            if part < nearest.0 {
                nearest = (part, cut);
            }
        }
        raw - weight(nearest.0) * nearest.1
    }

    /// The same for a whole mesh, from the streams outward: far fewer places are touched.
    pub(super) fn cut_mesh(&self, mesh: &Mesh, heights: &mut [f64]) {
        let mut nearest = vec![(1.0, 0.0); heights.len()];
        for stream in &self.streams {
            for (pair, cut) in stream.line.windows(2).zip(stream.cut_m.windows(2)) {
                for at in mesh.around(pair[0], pair[1], stream.reach_mm) {
                    let (share, squared) = nearest_on(pair[0], pair[1], mesh.spot(at));
                    let part = squared / (stream.reach_mm * stream.reach_mm);
                    if part < nearest[at].0 {
                        nearest[at] = (part, cut[0] + share * (cut[1] - cut[0]));
                    }
                }
            }
        }
        for (height, (part, cut)) in heights.iter_mut().zip(nearest) {
            *height -= weight(part) * cut;
        }
        let reach = self.lake.shore.iter().map(|&at| at.distance_mm(self.lake.middle)).fold(0.0, f64::max);
        for at in mesh.around(self.lake.middle, self.lake.middle, reach) {
            if self.lake.holds(mesh.spot(at)) {
                heights[at] = self.lake.level_m;
            }
        }
    }
}

/// How much of a stream's cut is left at a squared share of its reach.
fn weight(part: f64) -> f64 {
    let left = (1.0 - part).max(0.0);
    left * left
}

impl Stream {
    /// Squared share of the reach, and the cut, at the nearest place of the course.
    fn cut_at(&self, spot: Spot) -> (f64, f64) {
        let mut best = (f64::INFINITY, 0.0);
        for (pair, cut) in self.line.windows(2).zip(self.cut_m.windows(2)) {
            let (share, squared) = nearest_on(pair[0], pair[1], spot);
            if squared < best.0 {
                best = (squared, cut[0] + share * (cut[1] - cut[0]));
            }
        }
        (best.0 / (self.reach_mm * self.reach_mm), best.1)
    }

    /// The nearest place of the course within a squared distance, and the water's height there.
    fn near(&self, spot: Spot, within: f64) -> Option<(Spot, f64)> {
        let mut best = (within, None);
        for (pair, height) in self.line.windows(2).zip(self.heights_m.windows(2)) {
            let (share, squared) = nearest_on(pair[0], pair[1], spot);
            if squared < best.0 {
                best = (squared, Some((pair[0].toward(pair[1], share), height[0] + share * (height[1] - height[0]))));
            }
        }
        best.1
    }

    /// Lifts the lower course to at least the height at which it joins another stream.
    fn end_at(&mut self, height_m: f64) {
        let mut least = height_m;
        for (height, cut) in self.heights_m.iter_mut().zip(&mut self.cut_m).rev() {
            if *height >= least && *height != height_m {
                break;
            }
            *cut -= least - *height;
            *height = least;
            least += 0.1;
        }
        // A mouth deeper than the stream that was met: the last step takes the fall.
        if let (Some(height), Some(cut)) = (self.heights_m.last_mut(), self.cut_m.last_mut()) {
            *cut += *height - height_m;
            *height = height_m;
        }
    }
}

/// The sheet, for what runs off it.
#[derive(Clone, Copy)]
struct Sheet {
    width_mm: f64,
    height_mm: f64,
}

impl Sheet {
    fn holds(self, spot: Spot) -> bool {
        spot.east_mm > 0.0 && spot.east_mm < self.width_mm && spot.north_mm > 0.0 && spot.north_mm < self.height_mm
    }

    /// Where the way from a place on the sheet to one off it meets the border.
    fn rim(self, from: Spot, to: Spot) -> Spot {
        let share = |at: f64, end: f64, side: f64| {
            let limit = if end < 0.0 { 0.0 } else { side };
            if (0.0..=side).contains(&end) { 1.0 } else { (limit - at) / (end - at) }
        };
        let east = share(from.east_mm, to.east_mm, self.width_mm);
        let north = share(from.north_mm, to.north_mm, self.height_mm);
        let at = from.toward(to, east.min(north).clamp(0.0, 1.0));
        // To the bit on the border, so that it counts as off the sheet.
        let snap = |value: f64, side: f64| {
            if value < 1e-6 {
                0.0
            } else if value > side - 1e-6 {
                side
            } else {
                value
            }
        };
        Spot::new(snap(at.east_mm, self.width_mm), snap(at.north_mm, self.height_mm))
    }
}
