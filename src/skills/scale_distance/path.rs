//! A winding path measured on the map with a paper edge, which is ticked at its bends and held against the scale bar (common
//! practice, no source).

use super::meta::{BAR_END, PARTS_FROM_END, STRAIGHT};
use crate::ground::plane::GridPosition;
use crate::numbers::whole;
use crate::problem::{
    BoldLine, Draw, Fact, Facts, Figure, LineRole, MapFigure, MapPlace, MapTool, MixupList, PaperEdge, Step, Wanted,
};
use crate::skills::amounts::{amount, short};
use crate::terrain::{Detail, Map, MapSpec, Spot};
use std::sync::Arc;

/// The hint.
pub(super) const HINT: &str = "Where does the path leave the straight edge? There the edge needs a tick and a turn. On the bar, look for the zero first: what lies left of it counts, too.";

/// A path on a map.
pub(super) struct PathTask {
    map: Arc<Map>,
    /// Its corners from A to B, in whole metres.
    corners: Vec<GridPosition>,
}

/// The sheet: at this size the bar has room beside the map's own scale.
const SPEC_MM: (f64, f64) = (120.0, 96.0);
/// How far a path keeps from the border, in mm: a name has room there.
const BORDER_MM: f64 = 9.0;
/// How long a path is, in metres: the bar has two kilometres and one in tenths.
const METRES: std::ops::RangeInclusive<f64> = 900.0..=2900.0;
/// How much of a path the line straight across is at most: plainly shorter.
const STRAIGHT_SHARE: f64 = 0.76;
/// Paths that are tried on one map.
const TRIES: u32 = 40;
/// Corners of a path in each half wave.
const CORNERS: i32 = 4;

impl PathTask {
    pub(super) fn draw(draw: &mut Draw) -> PathTask {
        loop {
            let spec = MapSpec { width_mm: SPEC_MM.0, height_mm: SPEC_MM.1, ..MapSpec::default() };
            let map = Arc::new(Map::generate(u64::from(draw.below(u32::MAX)), &spec));
            for _ in 0..TRIES {
                let line = winding(draw);
                let dry = |spot: &Spot| {
                    (BORDER_MM..=SPEC_MM.0 - BORDER_MM).contains(&spot.east_mm)
                        && (BORDER_MM..=SPEC_MM.1 - BORDER_MM).contains(&spot.north_mm)
                        && !map.is_in_lake(*spot)
                };
                if !line.iter().all(dry) {
                    continue;
                }
                let corner = |spot: &Spot| crate::skills::fixes::whole_metres(map.grid_position(*spot));
                let path = PathTask { map: Arc::clone(&map), corners: line.iter().map(corner).collect() };
                if METRES.contains(&path.metres()) && path.straight() < STRAIGHT_SHARE * path.metres() {
                    return path;
                }
            }
        }
    }

    /// How long it is, to the metre.
    pub(super) fn metres(&self) -> f64 {
        PaperEdge::new(self.corners.clone()).path_m().round()
    }

    /// The line from A straight to B, to the metre.
    fn straight(&self) -> f64 {
        let ends: Vec<GridPosition> = self.corners.first().into_iter().chain(self.corners.last()).copied().collect();
        PaperEdge::new(ends).path_m().round()
    }

    /// Right and left of the bar's zero, in metres.
    fn on_bar(&self) -> [i32; 2] {
        let all: i32 = whole(self.metres());
        [all / 1000 * 1000, all % 1000]
    }

    pub(super) fn mixups(&self, list: &mut MixupList) {
        let (right, straight) = (self.metres(), self.straight());
        list.push(&STRAIGHT, amount(straight), || format!("Straight across from A to B: {} m", short(straight)));
        let from_end = right + 1000.0;
        let [km, left] = self.on_bar();
        list.push(&BAR_END, amount(from_end), || format!("{} + {left} = {}", km + 1000, short(from_end)));
        let other = f64::from(km + 1000 - left);
        // Near the middle of the tenths both ways of counting give nearly the same.
        let apart = |one: f64, other: f64| (one - other).abs() > 0.22 * one.max(other);
        if [right, straight, from_end].into_iter().all(|number| apart(other, number)) {
            list.push(&PARTS_FROM_END, amount(other), || format!("{km} + {} = {}", 1000 - left, short(other)));
        }
    }

    pub(super) fn right_way(&self) -> String {
        let [km, left] = self.on_bar();
        format!("Along the bends, and both sides of the zero: {km} + {left} = {}", short(self.metres()))
    }

    pub(super) fn facts(&self) -> Facts {
        let corners = self.corners.iter().map(|at| format!("{} {}", at.easting_m, at.northing_m));
        Facts::from(vec![
            Fact::wanted(Wanted::own("path_length")),
            Fact::own_word("line_corners", corners.collect::<Vec<String>>().join(", ")),
        ])
    }

    pub(super) fn prompt(&self, start: &str, goal: &str) -> String {
        format!(
            "The winding path drawn bold on the map leads from A, {start}, to B, {goal}. Measure it with a paper edge: tick and turn the edge wherever the path bends, then hold it against the scale bar. How far do you walk?"
        )
    }

    pub(super) fn steps(&self) -> Vec<Step> {
        let [km, left] = self.on_bar();
        let all = short(self.metres()).to_string();
        vec![
            Step::words(
                "You walk the bends, and a straight line would cut them off. So the measure has to bend, too: a paper edge can",
            ),
            Step::words("Edge along the path from A. Where the path leaves it, tick, hold it there, and turn the edge along the path"),
            Step::words("So from bend to bend as far as B: on the paper all the pieces stand in one straight line"),
            Step::new(
                "Against the bar: B on a whole kilometre so that A comes to lie in the tenths. Both sides of the zero count",
                format_args!("{km} + {left} = {all}"),
            )
            .decides("Against the bar: what stands right of its zero, and what left of it"),
            Step::new("In metres", format_args!("{all} m")).answers(),
        ]
    }

    /// The map with the path and this edge.
    fn with(&self, edge: PaperEdge) -> Figure {
        let mut figure = MapFigure::new(Arc::clone(&self.map), Vec::new());
        figure.detail = Detail::Little;
        figure.lines.push(BoldLine { corners: self.corners.clone(), name: "the path".to_owned() });
        for (at, label) in self.corners.first().into_iter().chain(self.corners.last()).zip(["A", "B"]) {
            figure.places.push(MapPlace { at: *at, role: LineRole::Given, label: label.to_owned() });
        }
        figure.tool = Some(MapTool::PaperEdge(edge));
        Figure::Map(Box::new(figure))
    }

    pub(super) fn figure(&self) -> Figure {
        self.with(PaperEdge::new(self.corners.clone()))
    }

    /// Ticked at every bend and held against the bar.
    pub(super) fn explained(&self) -> Figure {
        self.with(PaperEdge::new(self.corners.clone()).ticked().on_the_bar())
    }

    /// The map as it lies in a step.
    pub(super) fn step(&self, step: usize) -> Figure {
        let edge = PaperEdge::new(self.corners.clone());
        match step {
            0 => self.with(edge),
            1 => {
                let mut ticked = edge.ticked();
                let half = ticked.ticks.len() / 2;
                ticked.at = ticked.ticks.get(half).copied();
                ticked.ticks.truncate(half);
                self.with(ticked)
            }
            2 => self.with(edge.ticked()),
            _ => self.explained(),
        }
    }
}

/// A line that winds to and fro about a straight one, in mm on the sheet: half waves of a sine, steep enough that going straight
/// would be plainly shorter.
fn winding(draw: &mut Draw) -> Vec<Spot> {
    let halves = draw.between(3, 5);
    let (up, along) = f64::from(draw.between(0, 71) * 5).to_radians().sin_cos();
    let start = Spot::new(f64::from(draw.between(10, 110)), f64::from(draw.between(10, 86)));
    let mut side = f64::from(draw.sign());
    // Some wind a little and some much: else every path would be the straight line and half as much again.
    let steep = f64::from(draw.between(11, 32)) / 10.0;
    let (mut line, mut from) = (vec![start], 0.0);
    for _ in 0..halves {
        let long = f64::from(draw.between(9, 18));
        let high = long * steep / std::f64::consts::PI;
        for corner in 1..=CORNERS {
            let share = f64::from(corner) / f64::from(CORNERS);
            let (ahead, aside) = (from + share * long, side * high * (share * std::f64::consts::PI).sin());
            line.push(Spot::new(
                start.east_mm + ahead * along - aside * up,
                start.north_mm + ahead * up + aside * along,
            ));
        }
        from += long;
        side = -side;
    }
    line
}
