//! The heights of an invented map at the crossings of a lattice, in whole metres, and what follows from them.

use crate::angle::{Bearing, True};
use crate::numbers::{real, whole};
use crate::problem::{Draw, MapPoint};
use crate::terrain::{Map, MapSpec, Spot};
use std::sync::OnceLock;

/// From crossing to crossing, in mm on the paper and in m on the ground: a map at 1:25 000.
const STEP_MM: f64 = 4.0;
pub(super) const STEP_M: f64 = 100.0;
/// Clear of the borders, in crossings.
const RIM: usize = 2;
/// Differences of height from which a shape can be told in the drawing, in m.
const CLEAR_M: i32 = 3;

/// A crossing: its column from the west and its row from the south.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Node {
    pub(super) col: usize,
    pub(super) row: usize,
}

/// The eight ways from a crossing, clockwise from north: steps east and north, and the word.
pub(super) const WAYS: [(i32, i32, &str); 8] = [
    (0, 1, "north"),
    (1, 1, "north-east"),
    (1, 0, "east"),
    (1, -1, "south-east"),
    (0, -1, "south"),
    (-1, -1, "south-west"),
    (-1, 0, "west"),
    (-1, 1, "north-west"),
];

/// What the ground is like round a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Shape {
    Top,
    Saddle,
    Spur,
    Reentrant,
}

impl Shape {
    pub(super) const ALL: [Shape; 4] = [Shape::Top, Shape::Saddle, Shape::Spur, Shape::Reentrant];
    /// Their words, in the order of [`Shape::ALL`].
    pub(super) const WORDS: [&str; 4] = ["top", "saddle", "spur", "re-entrant"];

    /// The shape that differences of height to the eight sides make, clockwise; none where they leave it open.
    pub(super) fn of(rises: [i32; 8]) -> Option<Shape> {
        if rises.iter().any(|rise| rise.abs() < CLEAR_M) {
            return None;
        }
        let up = rises.map(|rise| rise > 0);
        let changes = (0..8).filter(|at| up[*at] != up[(at + 1) % 8]).count();
        match (changes, up.iter().filter(|up| **up).count()) {
            (0, 0) => Some(Shape::Top),
            (4, _) => Some(Shape::Saddle),
            (2, 1..=2) => Some(Shape::Spur),
            (2, 6..=7) => Some(Shape::Reentrant),
            _ => None,
        }
    }
}

/// How the ground falls at a place.
#[derive(Clone, Copy, Debug)]
pub(super) struct Fall {
    pub(super) toward: Bearing<True>,
    /// Metres of height over twice the step.
    pub(super) metres: f64,
}

/// How many maps the problems lie on. Their heights are worked out once: to do it for each problem took longer than all the rest.
const MAPS: usize = 1024;
static ALL: [OnceLock<Box<Lattice>>; MAPS] = [const { OnceLock::new() }; MAPS];

/// A map and its heights.
pub(super) struct Lattice {
    map: Map,
    /// Where the first crossing lies.
    first: Spot,
    cols: usize,
    rows: usize,
    heights: Vec<i32>,
    falls: Vec<Option<Fall>>,
    dry: Vec<bool>,
}

impl Lattice {
    /// Some map.
    pub(super) fn draw(draw: &mut Draw) -> &'static Lattice {
        let number = crate::numbers::place(draw.raw(), MAPS);
        ALL[number].get_or_init(|| Box::new(Lattice::new(number)))
    }

    fn new(number: usize) -> Lattice {
        let mut draw = Draw::new("C8", 0, 1, whole::<u64>(real(number)));
        let map = Map::generate(u64::from(draw.below(u32::MAX)), &MapSpec::default());
        let mut tenths = || f64::from(draw.between(0, 39)) / 10.0;
        let first = Spot::new(tenths(), tenths());
        let count = |side: f64, from: f64| whole::<usize>(((side - from) / STEP_MM).floor()) + 1;
        let (cols, rows) = (count(map.spec().width_mm, first.east_mm), count(map.spec().height_mm, first.north_mm));
        let (heights, falls, dry) = (Vec::new(), Vec::new(), Vec::new());
        let mut lattice = Lattice { map, first, cols, rows, heights, falls, dry };
        let all = || (0..rows).flat_map(|row| (0..cols).map(move |col| Node { col, row }));
        lattice.heights = all().map(|node| whole(lattice.map.height_m(lattice.spot(node)).round())).collect();
        lattice.falls = all().map(|node| lattice.measured(node)).collect();
        lattice.dry = all().map(|node| !lattice.map.is_in_lake(lattice.spot(node))).collect();
        lattice
    }

    /// Where a crossing lies on the paper.
    fn spot(&self, node: Node) -> Spot {
        Spot::new(self.first.east_mm + real(node.col) * STEP_MM, self.first.north_mm + real(node.row) * STEP_MM)
    }

    /// A crossing in metres from the first one.
    pub(super) fn place(node: Node) -> MapPoint {
        MapPoint { east_m: real(node.col) * STEP_M, north_m: real(node.row) * STEP_M }
    }

    /// The height of a crossing in m.
    pub(super) fn height(&self, node: Node) -> i32 {
        self.heights.get(self.at(node)).copied().unwrap_or(0)
    }

    /// A crossing so many steps east and north of another; none beyond the rim.
    pub(super) fn from(&self, node: Node, east: i32, north: i32) -> Option<Node> {
        let to = |at: usize, by: i32, count: usize| {
            let to = usize::try_from(i32::try_from(at).ok()? + by).ok()?;
            (to < count).then_some(to)
        };
        Some(Node { col: to(node.col, east, self.cols)?, row: to(node.row, north, self.rows)? })
    }

    /// Any crossing off the rim.
    pub(super) fn any(&self, draw: &mut Draw) -> Node {
        let within = |draw: &mut Draw, count: usize| RIM + crate::numbers::place(draw.raw(), count - 2 * RIM);
        Node { col: within(draw, self.cols), row: within(draw, self.rows) }
    }

    /// The crossings within so many steps of another that lie off the rim and on dry land, in random order.
    pub(super) fn near(&self, middle: Node, steps: usize, draw: &mut Draw) -> Vec<Node> {
        let span = |at: usize, count: usize| at.saturating_sub(steps).max(RIM)..=(at + steps).min(count - 1 - RIM);
        let mut near: Vec<Node> = span(middle.row, self.rows)
            .flat_map(|row| span(middle.col, self.cols).map(move |col| Node { col, row }))
            .filter(|node| self.is_dry(*node))
            .collect();
        draw.shuffle(&mut near);
        near
    }

    const fn at(&self, node: Node) -> usize {
        node.row * self.cols + node.col
    }

    pub(super) fn is_dry(&self, node: Node) -> bool {
        self.dry.get(self.at(node)).copied().unwrap_or(false)
    }

    /// How much higher the ground is to each of the eight sides, in m; none at the edge of the lattice.
    pub(super) fn rises(&self, node: Node) -> Option<[i32; 8]> {
        let mut rises = [0; 8];
        for (rise, (east, north, _)) in rises.iter_mut().zip(WAYS) {
            *rise = self.height(self.from(node, east, north)?) - self.height(node);
        }
        Some(rises)
    }

    /// The heights a step north, east, south and west of a crossing, in m.
    pub(super) fn around(&self, node: Node) -> Option<[i32; 4]> {
        let mut around = [0; 4];
        for (height, (east, north)) in around.iter_mut().zip([(0, 1), (1, 0), (0, -1), (-1, 0)]) {
            *height = self.height(self.from(node, east, north)?);
        }
        Some(around)
    }

    /// How the ground falls there; none where it is flat.
    pub(super) fn fall(&self, node: Node) -> Option<Fall> {
        self.falls.get(self.at(node)).copied().flatten()
    }

    fn measured(&self, node: Node) -> Option<Fall> {
        let [north, east, south, west] = self.around(node)?.map(f64::from);
        let (down_east, down_north) = (west - east, south - north);
        let metres = down_east.hypot(down_north);
        (metres > 0.0)
            .then(|| Fall { toward: Bearing::from_degrees(down_east.atan2(down_north).to_degrees().round()), metres })
    }

    /// The heights a quarter, half and three quarters of the way from one crossing to another, and there, in m.
    pub(super) fn along(&self, from: Node, (east, north): (i32, i32)) -> Option<[i32; 4]> {
        let mut heights = [0; 4];
        for (height, step) in heights.iter_mut().zip(1..) {
            *height = self.height(self.from(from, east * step, north * step)?);
        }
        Some(heights)
    }

    /// The height of the ground at a share of the way between two crossings, in m.
    pub(super) fn between(&self, from: Node, to: Node, share: f64) -> f64 {
        self.map.height_m(self.spot(from).toward(self.spot(to), share))
    }

    /// Whether a crossing lies at the top of its hill, seen in contour lines of every so many metres: no higher one runs within a step of
    /// it, or one more ring would lie beside the place.
    pub(super) fn is_topmost(&self, node: Node, interval_m: i32) -> bool {
        let at = Lattice::place(node);
        let corner = |by: f64| MapPoint { east_m: at.east_m + by, north_m: at.north_m + by };
        let near = |point: &MapPoint| (point.east_m - at.east_m).hypot(point.north_m - at.north_m) <= STEP_M;
        let lines = self.contours(corner(-STEP_M), corner(STEP_M), interval_m);
        !lines.iter().any(|(height, through)| *height > self.height(node) && through.iter().any(near))
    }

    /// The contour lines of every so many metres in a box between two corners, which are counted in metres from the first crossing.
    pub(super) fn contours(&self, low: MapPoint, high: MapPoint, step_m: i32) -> Vec<(i32, Vec<MapPoint>)> {
        let mm = |metres: f64| metres / STEP_M * STEP_MM;
        let corner = Spot::new(self.first.east_mm + mm(low.east_m), self.first.north_mm + mm(low.north_m));
        let (width, height) = (mm(high.east_m - low.east_m), mm(high.north_m - low.north_m));
        let metres = |mm: f64| mm / STEP_MM * STEP_M;
        let point = |spot: &Spot| MapPoint {
            east_m: metres(spot.east_mm - self.first.east_mm),
            north_m: metres(spot.north_mm - self.first.north_mm),
        };
        let lines = self.map.contours_within(corner, width, height, step_m);
        lines.into_iter().map(|line| (line.height_m, line.line.iter().map(point).collect())).collect()
    }

    /// The lowest and the highest crossing of a box, in m.
    pub(super) fn span(&self, low: MapPoint, high: MapPoint) -> (i32, i32) {
        let steps = |metres: f64| whole::<usize>((metres / STEP_M).round().max(0.0));
        let (cols, rows) = (steps(low.east_m)..=steps(high.east_m), steps(low.north_m)..=steps(high.north_m));
        let all = rows.flat_map(|row| cols.clone().map(move |col| Node { col, row }));
        let inside = all.filter(|node| node.col < self.cols && node.row < self.rows);
        inside.map(|node| self.height(node)).fold((i32::MAX, i32::MIN), |(low, high), at| (low.min(at), high.max(at)))
    }
}
