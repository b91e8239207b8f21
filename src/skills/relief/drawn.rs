//! The patch of map: contour lines with some of their heights, and the places.

use super::super::amounts::{line, step_to};
use super::super::common::bearing;
use super::find::Task;
use super::lattice::{Lattice, Node, STEP_M, WAYS};
use super::{LETTERS, ReliefItem};
use crate::angle::North;
use crate::numbers;
use crate::problem::{Figure, LineRole, MapPoint, PlanFigure, PlanKind, PlanPlace};
use std::fmt::Write;

/// How far a patch reaches from its middle at least, and beyond its places, in m.
const HALF_M: f64 = 350.0;
/// The same round one place, whose own sides count.
const HALF_ROUND_M: f64 = 250.0;
const BEYOND_M: f64 = 75.0;
/// How many contour lines a patch has room for.
const LINES: i32 = 10;

impl ReliefItem {
    /// The corners of the patch, south-west and north-east.
    fn corners(&self) -> (MapPoint, MapPoint) {
        let stand = if let Task::Hidden { stand, .. } = self.task { Some(stand) } else { None };
        let all: Vec<MapPoint> = self.places().into_iter().chain(stand).map(Lattice::place).collect();
        let least = if matches!(self.task, Task::Shape { .. }) { HALF_ROUND_M } else { HALF_M };
        let span = |of: fn(&MapPoint) -> f64| {
            let (low, high) = all
                .iter()
                .map(of)
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)));
            let (middle, half) = (f64::midpoint(low, high), ((high - low) / 2.0 + BEYOND_M).max(least));
            (middle - half, middle + half)
        };
        let (west, east) = span(|at| at.east_m);
        let (south, north) = span(|at| at.north_m);
        (MapPoint { east_m: west, north_m: south }, MapPoint { east_m: east, north_m: north })
    }

    /// From contour line to contour line, in m: as fine as there is room for.
    pub(super) fn interval(&self) -> i32 {
        let (low, high) = self.corners();
        let (lowest, highest) = self.lattice.span(low, high);
        [5, 10, 20].into_iter().find(|step| (highest - lowest) / step <= LINES).unwrap_or(50)
    }

    /// The patch; what is right and what somebody chose are told apart where they are told.
    pub(super) fn patch(&self, right: Option<usize>, chosen: Option<usize>) -> Figure {
        let (low, high) = self.corners();
        let mut contours = self.lattice.contours(low, high, self.interval());
        // The longest lines come first where heights are written.
        numbers::arrange_by_key(&mut contours, |(_, through)| std::cmp::Reverse(through.len()));
        let mut lines = Vec::with_capacity(contours.len() + 1);
        for (height, through) in contours {
            let label = height.to_string();
            lines.push(line(PlanKind::Contour, through, label));
        }
        let lettered = !matches!(self.task, Task::Shape { .. });
        let mut places: Vec<PlanPlace> = Vec::new();
        for (at, node) in self.places().into_iter().enumerate() {
            let role = match (right, chosen) {
                (Some(right), _) if lettered && right == at => LineRole::Right,
                (Some(_), Some(chosen)) if lettered && chosen == at => LineRole::Learner,
                _ => LineRole::Given,
            };
            let name = if lettered { LETTERS[at] } else { "P" };
            places.push(PlanPlace { at: Lattice::place(node), role, name: name.to_owned() });
            if let (Task::Falls { .. }, LineRole::Right) = (&self.task, role) {
                let falls = self.toward(node);
                let from = Lattice::place(node);
                let down = step_to(from, falls.angle(), 2.0 * STEP_M);
                lines.push(line(
                    PlanKind::Way(LineRole::Right),
                    vec![from, down],
                    bearing(falls, North::True).to_string(),
                ));
            }
        }
        if let Task::Hidden { stand, .. } = self.task {
            let from = Lattice::place(stand);
            if right.is_some() {
                lines.extend(places.iter().map(|place| line(PlanKind::Thought, vec![from, place.at], "")));
            }
            places.push(PlanPlace { at: from, role: LineRole::Given, name: "S".to_owned() });
        }
        Figure::Plan(PlanFigure {
            north: Some(North::True),
            needle: None,
            lines,
            places,
            words: self.in_words(),
            says_more: true,
        })
    }

    /// The heights for those who hear the patch.
    fn in_words(&self) -> String {
        let mut out = "A patch of map with true north up.".to_owned();
        let height = |node: Node| self.lattice.height(node);
        match self.task {
            Task::Shape { place, .. } => {
                let _ = write!(out, " P lies at {} m. A little over 100 m from it lie,", height(place));
                for ((east, north, word), comma) in WAYS.into_iter().zip([" to the", ",", ",", ",", ",", ",", ",", ","])
                {
                    let there = self.lattice.from(place, east, north).map_or(0, height);
                    let _ = write!(out, "{comma} {word} {there} m");
                }
                out.push('.');
            }
            Task::Hidden { stand, ways } => {
                let _ = write!(out, " S lies at {} m.", height(stand));
                for (letter, way) in LETTERS.into_iter().zip(ways) {
                    let [quarter, half, three, there] = self.lattice.along(stand, way).unwrap_or_default();
                    let _ = write!(
                        out,
                        " {letter} lies at {there} m; on the straight way to it the ground is at {quarter} m after a quarter, {half} m half-way and {three} m after three quarters."
                    );
                }
            }
            Task::Steepest { .. } | Task::Falls { .. } => {
                for (letter, place) in LETTERS.into_iter().zip(self.places()) {
                    let [north, east, south, west] = self.lattice.around(place).unwrap_or_default();
                    let _ = write!(
                        out,
                        " {letter} lies at {} m; 100 m north of it the ground is at {north} m, east {east} m, south {south} m, west {west} m.",
                        height(place)
                    );
                }
            }
        }
        out
    }
}
