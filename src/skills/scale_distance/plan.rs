//! What is measured as a plan, and in words for who hears it.

use super::{ScaleDistanceItem, Task, mm};
use crate::numbers::whole;
use crate::problem::{Figure, LineRole, MapPoint, PlanFigure, PlanKind, PlanLine, PlanPlace};
use crate::skills::amounts::{place, short};

/// The line straight across three pieces that turn to and fro, in whole millimetres.
pub(super) fn across(pieces: [i32; 3], turn: i32) -> i32 {
    let end = corners(pieces, turn)[3];
    whole(end.east_m.hypot(end.north_m).round())
}

/// The ends of three pieces that turn to and fro, in millimetres from their beginning.
pub(super) fn corners(pieces: [i32; 3], turn: i32) -> [MapPoint; 4] {
    let (up, along) = f64::from(turn).to_radians().sin_cos();
    let mut at = MapPoint { east_m: 0.0, north_m: 0.0 };
    let mut next = |length: i32, sign: f64| {
        let length = f64::from(length);
        at = MapPoint { east_m: at.east_m + along * length, north_m: at.north_m + sign * up * length };
        at
    };
    [next(0, 1.0), next(pieces[0], 1.0), next(pieces[1], -1.0), next(pieces[2], 1.0)]
}

impl ScaleDistanceItem {
    /// What is measured, and in an explanation what it is outside.
    pub(super) fn plan(&self, told: bool) -> Figure {
        let at = |east_m, north_m| MapPoint { east_m, north_m };
        let role = if told { LineRole::Right } else { LineRole::Given };
        let line = |from, to, label| PlanLine { kind: PlanKind::Way(role), through: vec![from, to], label };
        let outside = |of: String, metres: f64| if told { format!("{of}: {} m", short(metres)) } else { of };
        let (mut lines, end) = match self.task {
            Task::OnMap { metres } => {
                let on_map = format!("{metres} m: {} mm", short(self.scale.millimetres(metres)));
                (vec![line(at(0.0, 0.0), at(3.0, 0.6), on_map)], at(3.0, 0.6))
            }
            Task::Path(_) => return Figure::None,
            Task::Line { tenths } | Task::Slope { tenths, .. } => {
                let end = if matches!(self.task, Task::Slope { .. }) { at(3.0, 1.5) } else { at(3.0, 0.6) };
                (vec![line(at(0.0, 0.0), end, outside(format!("{} mm", mm(tenths)), self.metres()))], end)
            }
            Task::Bar { km, parts } => {
                let (left, right) = (f64::from(-parts) / 10.0, f64::from(km));
                let tick = |x: f64, label: String| PlanLine {
                    kind: PlanKind::Grid,
                    through: vec![at(x, 0.0), at(x, 0.3)],
                    label,
                };
                let mut lines = vec![PlanLine {
                    kind: PlanKind::Grid,
                    through: vec![at(-1.0, 0.0), at(right, 0.0)],
                    label: String::new(),
                }];
                lines.extend((-1..=km).map(|x| tick(f64::from(x), String::new())));
                lines.push(tick(0.0, "0".to_owned()));
                lines.push(tick(right, format!("{km} km")));
                let far = at(right, 0.8);
                lines.push(line(at(left, 0.8), far, outside(format!("{km} km and {parts} tenths"), self.metres())));
                return plan(lines, Vec::new(), self.words(told));
            }
            Task::Bends { pieces, .. } => {
                let corners = corners(pieces, self.bend());
                let piece = |at: usize| line(corners[at], corners[at + 1], format!("{} mm", pieces[at]));
                (vec![piece(0), piece(1), piece(2)], corners[3])
            }
        };
        if let Task::Bends { across, .. } = self.task {
            let label = format!("{across} mm");
            lines.push(PlanLine { kind: PlanKind::Thought, through: vec![at(0.0, 0.0), end], label });
        }
        plan(lines, vec![place(at(0.0, 0.0), self.start), place(end, self.goal)], self.words(told))
    }

    const fn bend(&self) -> i32 {
        if let Task::Bends { turn, .. } = self.task { turn } else { 0 }
    }

    fn words(&self, told: bool) -> String {
        let (start, goal) = (self.start, self.goal);
        let drawn = match self.task {
            Task::OnMap { metres } => {
                let mm = short(self.scale.millimetres(metres));
                return format!("A line from {start} toward {goal}, {metres} m outside: on the map it is {mm} mm.");
            }
            Task::Path(_) => String::new(),
            Task::Line { tenths } => format!("A line from {start} to {goal}, {} mm on the map", mm(tenths)),
            Task::Slope { tenths, .. } => format!("A line up from {start} to {goal}, {} mm on the map", mm(tenths)),
            Task::Bar { km, parts } => {
                format!("A paper edge on a scale bar, from tenth {parts} left of the zero to {km} km")
            }
            Task::Bends { pieces: [one, two, three], across, .. } => format!(
                "A way with two bends from {start} to {goal}: {one} mm, {two} mm and {three} mm; straight across {across} mm"
            ),
        };
        if told { format!("{drawn}. Outside it is {} m.", short(self.metres())) } else { format!("{drawn}.") }
    }
}

fn plan(lines: Vec<PlanLine>, places: Vec<PlanPlace>, words: String) -> Figure {
    Figure::Plan(PlanFigure { north: None, needle: None, lines, places, words, says_more: false })
}
