//! The shape of the ground: a valley with a bed that falls to one side, hills on its flanks, ridges between hills, spurs.
//!
//! Only arithmetic that is exact to the bit on every machine is used here (no sines, no powers), since a map must come
//! out the same everywhere.
use super::draw::Draw;
use super::spot::{Spot, unit};
use crate::numbers::{real, whole};

/// A rise (or hollow) around a stretch; round where the stretch has no length.
#[derive(Clone, Copy, Debug)]
struct Rise {
    a: Spot,
    b: Spot,
    /// The stretch as a vector, divided by its squared length.
    along: (f64, f64),
    /// Metres at `a`; what is left at `b` is this times `1 − taper`.
    height_m: f64,
    taper: f64,
    /// Where it ends, in mm from the stretch.
    radius_mm: f64,
    /// One over the square of it.
    narrow: f64,
    /// The upright box beyond which nothing of it is left: its south-west and north-east corners, a hair wide of it.
    corners: [Spot; 2],
}

impl Rise {
    fn new(a: Spot, b: Spot, height_m: f64, taper: f64, radius_mm: f64) -> Rise {
        let (dx, dy) = a.to(b);
        let square = dx * dx + dy * dy;
        let along = if square > 0.0 { (dx / square, dy / square) } else { (0.0, 0.0) };
        let out = radius_mm + 1e-6;
        let low = Spot::new(a.east_mm.min(b.east_mm) - out, a.north_mm.min(b.north_mm) - out);
        let high = Spot::new(a.east_mm.max(b.east_mm) + out, a.north_mm.max(b.north_mm) + out);
        let narrow = 1.0 / (radius_mm * radius_mm);
        Rise { a, b, along, height_m, taper, radius_mm, narrow, corners: [low, high] }
    }

    /// Whether nothing of it is left at a place; most rises are far from most places.
    fn is_beyond(&self, spot: Spot) -> bool {
        let [low, high] = self.corners;
        spot.east_mm < low.east_mm
            || spot.east_mm > high.east_mm
            || spot.north_mm < low.north_mm
            || spot.north_mm > high.north_mm
    }

    fn at(&self, spot: Spot) -> f64 {
        if self.is_beyond(spot) {
            return 0.0;
        }
        let (dx, dy) = self.a.to(spot);
        let share = (dx * self.along.0 + dy * self.along.1).clamp(0.0, 1.0);
        let part = self.a.toward(self.b, share).squared_mm(spot) * self.narrow;
        if part >= 1.0 {
            return 0.0;
        }
        let slope = 1.0 - part;
        self.height_m * (1.0 - self.taper * share) * slope * slope * slope
    }

    /// The height, and how it grows eastward and northward, in m per mm.
    fn slope(&self, spot: Spot) -> (f64, f64, f64) {
        if self.is_beyond(spot) {
            return (0.0, 0.0, 0.0);
        }
        let (dx, dy) = self.a.to(spot);
        let along = dx * self.along.0 + dy * self.along.1;
        let share = along.clamp(0.0, 1.0);
        let (ox, oy) = self.a.toward(self.b, share).to(spot);
        let left = 1.0 - (ox * ox + oy * oy) * self.narrow;
        if left <= 0.0 {
            return (0.0, 0.0, 0.0);
        }
        let crest = self.height_m * (1.0 - self.taper * share);
        let aside = -6.0 * crest * left * left * self.narrow;
        // Along a tapering stretch the crest itself falls.
        let lengthwise = if share == along { -self.height_m * self.taper * left * left * left } else { 0.0 };
        let part = |off: f64, along: f64| aside * off + lengthwise * along;
        (crest * left * left * left, part(ox, self.along.0), part(oy, self.along.1))
    }
}

/// The valley: a bed along a bent axis, flanks that rise from it.
#[derive(Clone, Copy, Debug)]
struct Valley {
    middle: Spot,
    /// Unit vector downstream.
    down: (f64, f64),
    /// How much the axis bends, and how much it swings, in mm at 40 mm from the middle.
    bend: f64,
    swing: f64,
    /// Height of the bed at the middle, its fall downstream in m per mm, and the slope of the flanks in m per mm.
    bed_m: f64,
    fall: f64,
    flank: f64,
}

impl Valley {
    /// Downstream of the middle, and aside of the axis, in mm.
    fn coordinates(&self, spot: Spot) -> (f64, f64) {
        let (dx, dy) = self.middle.to(spot);
        let along = dx * self.down.0 + dy * self.down.1;
        let aside = dx * self.down.1 - dy * self.down.0;
        (along, aside - self.axis(along))
    }

    fn axis(&self, along: f64) -> f64 {
        // Held beyond 60 mm, so that large sheets do not fold.
        let at = (along / 40.0).clamp(-1.5, 1.5);
        self.bend * at * at + self.swing * at * (1.0 - at * at)
    }

    fn spot(&self, along: f64, aside: f64) -> Spot {
        let aside = aside + self.axis(along);
        self.middle.along(self.down, along).along((self.down.1, -self.down.0), aside)
    }

    fn at(&self, spot: Spot) -> f64 {
        let (along, aside) = self.coordinates(spot);
        let out = aside.abs();
        self.bed_m - self.fall * along + self.flank * out * out / (12.0 + out)
    }

    /// The height, and how it grows eastward and northward, in m per mm.
    fn slope(&self, spot: Spot) -> (f64, f64, f64) {
        let (along, aside) = self.coordinates(spot);
        let out = aside.abs();
        let steep = (self.flank * out * (out + 24.0) / ((12.0 + out) * (12.0 + out))).copysign(aside);
        let part = |across: f64, down: f64| steep * (across - self.turn(along) * down) - self.fall * down;
        (self.at(spot), part(self.down.1, self.down.0), part(-self.down.0, self.down.1))
    }

    /// How much the axis moves aside for each mm downstream.
    fn turn(&self, along: f64) -> f64 {
        let at = along / 40.0;
        if at.abs() > 1.5 {
            return 0.0;
        }
        (2.0 * self.bend * at + self.swing * (1.0 - 3.0 * at * at)) / 40.0
    }
}

/// Eight directions of equal turn; enough for spurs and searches.
pub(super) const EIGHT: [(f64, f64); 8] = {
    const D: f64 = std::f64::consts::FRAC_1_SQRT_2;
    [(0.0, 1.0), (D, D), (1.0, 0.0), (D, -D), (0.0, -1.0), (-D, -D), (-1.0, 0.0), (-D, D)]
};

/// The ground before streams cut into it.
#[derive(Clone, Debug)]
pub(super) struct Relief {
    width_mm: f64,
    height_mm: f64,
    valley: Valley,
    rises: Vec<Rise>,
    /// Middles of the hills.
    hills: Vec<Spot>,
    /// Middle and half length of the hollow for the lake, along the valley.
    hollow: (Spot, f64),
}

impl Relief {
    pub(super) fn new(seed: u64, width_mm: f64, height_mm: f64) -> Relief {
        let mut draw = Draw::new("relief", seed);
        let middle = Spot::new(width_mm / 2.0 + draw.tenths(-8.0, 8.0), height_mm / 2.0 + draw.tenths(-8.0, 8.0));
        let way = (f64::from(draw.between(-100, 100)), f64::from(draw.between(-100, 100)));
        let valley = Valley {
            middle,
            down: unit(way).unwrap_or((0.0, -1.0)),
            bend: draw.tenths(-7.0, 7.0),
            swing: draw.tenths(3.0, 9.0) * draw.sign(),
            bed_m: f64::from(draw.between(24, 72)) * 10.0 + f64::from(draw.between(0, 9)),
            fall: f64::from(draw.between(16, 28)) / 100.0,
            flank: f64::from(draw.between(40, 64)) / 100.0,
        };
        let mut relief =
            Relief { width_mm, height_mm, valley, rises: Vec::new(), hills: Vec::new(), hollow: (middle, 0.0) };
        relief.raise_hills(&mut draw);
        relief.dig_hollow(&mut draw);
        relief
    }

    fn raise_hills(&mut self, draw: &mut Draw) {
        let wanted = whole::<usize>((self.width_mm * self.height_mm / 2300.0).round()).clamp(3, 10);
        let mut heights = Vec::new();
        for _ in 0..wanted * 12 {
            let spot = Spot::new(draw.tenths(13.0, self.width_mm - 13.0), draw.tenths(13.0, self.height_mm - 13.0));
            let out = self.valley.coordinates(spot).1.abs();
            let apart = self.hills.iter().all(|hill| hill.distance_mm(spot) >= 24.0);
            let (height_m, radius_mm) = (draw.tenths(38.0, 60.0), draw.tenths(26.0, 36.0).min(out + 5.0));
            // A hill with less room is lower: no slope so steep that its contours run together.
            let height_m = height_m * (radius_mm / 32.0).min(1.0);
            if self.hills.len() < wanted && out >= 18.0 && apart {
                self.hills.push(spot);
                heights.push(height_m);
                self.rises.push(Rise::new(spot, spot, height_m, 0.0, radius_mm));
            }
        }
        for (number, &hill) in self.hills.clone().iter().enumerate() {
            for _ in 0..2 {
                let way = EIGHT[draw.below(8) as usize];
                let (length, height_m, radius_mm) =
                    (draw.tenths(16.0, 26.0), draw.tenths(12.0, 24.0), draw.tenths(10.0, 14.0));
                // A spur across the valley would dam it: such a one points the other way, or is left out.
                let clear = |end: Spot| {
                    let out = |at: Spot| self.valley.coordinates(at).1;
                    out(end).abs() >= radius_mm + 3.0 && out(end) * out(hill) > 0.0
                };
                let end = [1.0, -1.0].map(|sign| hill.along(way, sign * length)).into_iter().find(|&end| clear(end));
                if let Some(b) = end {
                    self.rises.push(Rise::new(hill, b, height_m, 0.8, radius_mm));
                }
            }
            // A ridge to the next hill on the same side: between the two lies a saddle.
            let near = (0..number).filter(|&other| {
                let out = |at: usize| self.valley.coordinates(self.hills[at]).1;
                out(number) * out(other) > 0.0 && self.hills[other].distance_mm(hill) <= 46.0
            });
            if let Some(other) =
                near.min_by(|&a, &b| self.hills[a].squared_mm(hill).total_cmp(&self.hills[b].squared_mm(hill)))
            {
                let height_m = heights[number].min(heights[other]) * 0.45;
                self.rises.push(Rise::new(hill, self.hills[other], height_m, 0.0, 12.0));
            }
        }
    }

    fn dig_hollow(&mut self, draw: &mut Draw) {
        let half_mm = draw.tenths(2.0, 5.5);
        let along = draw.tenths(-14.0, 14.0);
        let slant = draw.tenths(-2.5, 2.5);
        let (a, b) = (self.valley.spot(along - half_mm, -slant), self.valley.spot(along + half_mm, slant));
        let (height_m, radius_mm) = (-draw.tenths(20.0, 28.0), draw.tenths(12.0, 16.0));
        self.rises.push(Rise::new(a, b, height_m, 0.0, radius_mm));
        self.hollow = (self.valley.spot(along, 0.0), half_mm + radius_mm);
    }

    /// Metres above the sea, streams left out.
    pub(super) fn at(&self, spot: Spot) -> f64 {
        self.rises.iter().map(|rise| rise.at(spot)).fold(self.valley.at(spot), |sum, part| sum + part)
    }

    /// The height, and the steepest way down at length 1; no way where it is flat.
    pub(super) fn downhill(&self, spot: Spot) -> (f64, Option<(f64, f64)>) {
        let all = self.rises.iter().map(|rise| rise.slope(spot));
        let (height, east, north) =
            all.fold(self.valley.slope(spot), |sum, part| (sum.0 + part.0, sum.1 + part.1, sum.2 + part.2));
        (height, unit((-east, -north)))
    }

    /// The heights at the crossings of a mesh, row by row from the south-west.
    pub(super) fn mesh(&self, mesh: &Mesh) -> Vec<f64> {
        let mut heights: Vec<f64> = mesh.spots().map(|spot| self.valley.at(spot)).collect();
        for rise in &self.rises {
            for at in mesh.around(rise.a, rise.b, rise.radius_mm) {
                heights[at] += rise.at(mesh.spot(at));
            }
        }
        heights
    }

    /// From `start` to the highest (`sign` 1) or lowest (−1) place around it.
    pub(super) fn climb(&self, start: Spot, sign: f64) -> Spot {
        let (mut spot, mut height, mut step) = (start, self.at(start) * sign, 2.0);
        // Every move gains height and steps only shrink, so this ends; the bound is for safety alone.
        for _ in 0..400 {
            let best = |step: f64| {
                let around = EIGHT.iter().map(|&way| spot.along(way, step)).map(|at| (at, self.at(at) * sign));
                around.max_by(|a, b| a.1.total_cmp(&b.1)).filter(|&(_, higher)| higher > height)
            };
            if let Some(next) = best(step) {
                (spot, height) = next;
            } else if step >= 0.02 {
                step /= 2.0;
            } else if let Some(next) = [0.5, 1.0, 2.0, 3.0].into_iter().find_map(best) {
                // Only a shoulder: on from what is higher.
                ((spot, height), step) = (next, 2.0);
            } else {
                break;
            }
        }
        spot
    }

    /// Middles of the hills, before the summits are looked for.
    pub(super) fn hills(&self) -> &[Spot] {
        &self.hills
    }

    /// Middle and reach in mm of the hollow that holds the lake.
    pub(super) const fn hollow(&self) -> (Spot, f64) {
        self.hollow
    }

    /// The place on the valley's axis this far downstream of the hollow, in mm.
    pub(super) fn on_axis(&self, downstream_mm: f64) -> Spot {
        let along = self.valley.coordinates(self.hollow.0).0;
        self.valley.spot(along + downstream_mm, 0.0)
    }

    /// How far aside of the valley's axis a place lies, in mm.
    pub(super) fn aside_mm(&self, spot: Spot) -> f64 {
        self.valley.coordinates(spot).1.abs()
    }
}

/// A mesh of crossings over the sheet.
#[derive(Clone, Copy, Debug)]
pub(super) struct Mesh {
    pub(super) cols: usize,
    pub(super) rows: usize,
    step_east: f64,
    step_north: f64,
}

/// How far apart the crossings of a mesh are, at most, in mm.
const MESH_MM: f64 = 2.0;
/// The same of a fine one.
const FINE_MESH_MM: f64 = 1.0;

impl Mesh {
    pub(super) fn over(width_mm: f64, height_mm: f64) -> Mesh {
        Mesh::of(width_mm, height_mm, MESH_MM)
    }

    /// A finer one, for a piece of a sheet that is looked at closely.
    pub(super) fn fine(width_mm: f64, height_mm: f64) -> Mesh {
        Mesh::of(width_mm, height_mm, FINE_MESH_MM)
    }

    fn of(width_mm: f64, height_mm: f64, most_mm: f64) -> Mesh {
        let steps = |mm: f64| (mm / most_mm).ceil().max(1.0);
        Mesh {
            cols: whole::<usize>(steps(width_mm)) + 1,
            rows: whole::<usize>(steps(height_mm)) + 1,
            step_east: width_mm / steps(width_mm),
            step_north: height_mm / steps(height_mm),
        }
    }

    pub(super) fn place(&self, col: usize, row: usize) -> Spot {
        Spot::new(real(col) * self.step_east, real(row) * self.step_north)
    }

    pub(super) fn spot(&self, at: usize) -> Spot {
        self.place(at % self.cols, at / self.cols)
    }

    pub(super) fn spots(&self) -> impl Iterator<Item = Spot> + '_ {
        (0..self.rows).flat_map(move |row| (0..self.cols).map(move |col| self.place(col, row)))
    }

    /// The crossings in the upright box around a stretch.
    pub(super) fn around(&self, a: Spot, b: Spot, mm: f64) -> impl Iterator<Item = usize> + use<> {
        let span = |low: f64, high: f64, step: f64, count: usize| {
            let first: usize = whole(((low - mm) / step).ceil());
            let last = ((high + mm) / step).floor();
            (first, if last < 0.0 { 0 } else { (whole::<usize>(last) + 1).min(count) })
        };
        let (left, right) = span(a.east_mm.min(b.east_mm), a.east_mm.max(b.east_mm), self.step_east, self.cols);
        let (low, high) = span(a.north_mm.min(b.north_mm), a.north_mm.max(b.north_mm), self.step_north, self.rows);
        let cols = self.cols;
        (low..high).flat_map(move |row| (left..right).map(move |col| row * cols + col))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_way_down_is_the_one_that_small_steps_find() {
        const STEP: f64 = 1e-4;
        for seed in 0..60 {
            let relief = Relief::new(seed, 96.0, 84.0);
            for spot in Mesh::over(96.0, 84.0).spots().step_by(37) {
                // Off the tenths, where a spur may just end and the slope has a kink.
                let spot = spot.along((1.0, 1.0), 0.037);
                let (height, way) = relief.downhill(spot);
                assert!((height - relief.at(spot)).abs() < 1e-9);
                let grow =
                    |way: (f64, f64)| (relief.at(spot.along(way, STEP)) - relief.at(spot.along(way, -STEP))) / STEP;
                let (east, north) = (grow((1.0, 0.0)), grow((0.0, 1.0)));
                let Some((found, (ex, ny))) = unit((-east, -north)).zip(way) else { continue };
                let steep = east.hypot(north);
                // Where it is nearly flat, small steps say little about the way.
                assert!(steep < 0.01 || (found.0 - ex).hypot(found.1 - ny) < 0.01, "seed {seed}: {spot:?}");
            }
        }
    }
}
