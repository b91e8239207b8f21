//! The water of a map: a lake in the valley, a river through it, brooks from the flanks. All of it runs downhill, into the
//! lake or off the sheet.
use super::draw::Draw;
use super::lake::Lake;
use super::relief::{Mesh, Relief};
use super::spot::{Spot, nearest_on, unit};
use super::stream::{Bed, CUT_M, STEP_MM, Stream, weight};
use crate::numbers::{real, whole};

const RIVER: Bed = Bed { reach_mm: 7.0, first_m: 0.0, full_m: 6.0, springs_here: false };
const BROOK: Bed = Bed { reach_mm: 5.0, first_m: 0.0, full_m: 7.0, springs_here: true };

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
        let (mut head, mut out) = (relief.on_axis(-6.0), None);
        // The last place on the axis that still lies on the sheet, and the first that does not.
        for step in 0..160 {
            let next = relief.on_axis(-6.0 - 2.0 * f64::from(step));
            if !sheet.holds(next) {
                out = Some(next);
                break;
            }
            head = next;
        }
        let Some(out) = out.filter(|_| sheet.holds(head) && !self.lake.holds(head)) else { return };
        let line = self.descend(relief, sheet, head);
        if line.last().is_some_and(|&end| self.lake.holds(end)) {
            let line = std::iter::once(sheet.rim(head, out)).chain(line).collect();
            let bed = Bed { first_m: 4.0, ..RIVER };
            self.streams.push(Stream::along(self.bare(relief), line, bed, f64::INFINITY, self.lake.level_m));
        }
    }

    /// The river leaves the lake over the lowest place of its rim.
    fn outflow(&mut self, relief: &Relief, sheet: Sheet) {
        let reach = (0..80).map(|step| f64::from(step) * 0.75);
        let dry = reach.map(|mm| relief.on_axis(mm)).find(|&spot| {
            !self.lake.holds(spot)
                    && relief.at(spot) < self.lake.level_m
                    // So far off that its first steps do not touch the shore again.
                    && !self.lake.is_shore_within(3.0, spot)
        });
        let Some(dry) = dry.filter(|&spot| sheet.holds(spot)) else { return };
        // Out of the lake in ordinary steps, by no means uphill.
        let steps = (self.lake.middle.distance_mm(dry) / STEP_MM).ceil().max(1.0);
        let out = (0..whole::<u32>(steps)).map(|step| self.lake.middle.toward(dry, f64::from(step) / steps));
        let line: Vec<Spot> = out.chain(self.descend(relief, sheet, dry)).collect();
        if line.last().is_some_and(|&end| !sheet.holds(end)) {
            let bed = Bed { first_m: 1.0 - CUT_M * steps, ..RIVER };
            let mut river = Stream::along(self.bare(relief), line, bed, self.lake.level_m, f64::NEG_INFINITY);
            // It begins where it leaves the lake.
            for ((&spot, height), cut) in river.line.iter().zip(&mut river.heights_m).zip(&mut river.cut_m) {
                if self.lake.holds(spot) {
                    (*height, *cut) = (self.lake.level_m, 0.0);
                }
            }
            self.streams.push(river);
        }
    }

    /// A brook from a source on a flank, if one can run from there.
    fn brook(&mut self, relief: &Relief, sheet: Sheet, source: Spot) {
        let high = relief.hills().iter().all(|hill| hill.distance_mm(source) >= 9.0);
        let near = self.streams.iter().any(|stream| stream.near(source, 14.0 * 14.0).is_some());
        if !high || near || relief.aside_mm(source) < 16.0 || self.lake.holds(source) {
            return;
        }
        let line = self.descend(relief, sheet, source);
        let Some(&end) = line.last() else { return };
        let long_enough = real(line.len()) * STEP_MM >= 15.0;
        let mouth = self.mouth(end);
        if !long_enough {
            return;
        }
        let mut line = line;
        let to_m = match mouth {
            Some((spot, height)) => {
                line.push(spot);
                height
            }
            None if self.lake.holds(end) => self.lake.level_m,
            None if sheet.holds(end) => return,
            None => f64::NEG_INFINITY,
        };
        self.streams.push(Stream::along(self.bare(relief), line, BROOK, f64::INFINITY, to_m));
    }

    /// The ground before streams cut into it; the lake is filled.
    fn bare<'a>(&'a self, relief: &'a Relief) -> impl Fn(Spot) -> f64 + 'a {
        |spot| if self.lake.holds(spot) { self.lake.level_m } else { relief.at(spot) }
    }

    /// Where a brook that has come close to a stream joins it, and the height there.
    fn mouth(&self, end: Spot) -> Option<(Spot, f64)> {
        // Not at the shore, where the way to the mouth might lead through the lake.
        let met = self.streams.iter().find_map(|stream| stream.near(end, STEP_MM * STEP_MM));
        met.map(|(_, spot, water_m)| (spot, water_m))
            .filter(|&(spot, _)| !self.lake.holds(spot) && !self.lake.is_shore_within(3.0, spot))
    }

    /// The course of water from a place, downhill until the lake, another stream, the edge, or a place without a way down.
    fn descend(&self, relief: &Relief, sheet: Sheet, from: Spot) -> Vec<Spot> {
        let mut line = vec![from];
        let (mut spot, mut way) = (from, None::<(f64, f64)>);
        let (mut height, mut steepest) = relief.downhill(from);
        for _ in 0..400 {
            let Some(steep) = steepest else { break };
            // Half of the way before: water swings through a valley instead of trembling down it.
            let (east, north) = way.unwrap_or(steep);
            let Some(next_way) = unit((east + steep.0, north + steep.1)) else { break };
            let next = spot.along(next_way, STEP_MM);
            let before = height;
            (height, steepest) = relief.downhill(next);
            if height > before + 0.3 {
                break;
            }
            if let Some(shore) = self.lake.landfall(spot, next) {
                line.push(shore);
                break;
            }
            (spot, way) = (next, Some(next_way));
            if !sheet.holds(next) {
                line.push(sheet.rim(line[line.len() - 1], next));
                break;
            }
            line.push(next);
            if line.len() > 4 && self.mouth(next).is_some() {
                break;
            }
        }
        line
    }

    /// The height of the ground: cut down by the nearest stream, to its water on its course, and flat on the lake.
    pub(super) fn height_m(&self, relief: &Relief, spot: Spot) -> f64 {
        if self.lake.holds(spot) {
            return self.lake.level_m;
        }
        let raw = relief.at(spot);
        let near = self.streams.iter().filter_map(|stream| stream.nearest(spot)).min_by(|a, b| a.0.total_cmp(&b.0));
        match near {
            Some((part, foot, water_m)) => raw - weight(part) * (relief.at(foot) - water_m),
            None => raw,
        }
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
        for at in mesh.around(self.lake.middle, self.lake.middle, self.lake.reach_mm) {
            if self.lake.holds(mesh.spot(at)) {
                heights[at] = self.lake.level_m;
            }
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
