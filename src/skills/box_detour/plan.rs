//! The line, what lies in it, and the way round.

use super::super::amounts::{ORIGIN, line, place, step_to};
use super::super::common::{Tenths, angle, bearing, figures};
use super::{Asked, BoxDetourItem, WET};
use crate::angle::{Angle, North};
use crate::problem::{Answer, Figure, LineRole, MapPoint, PlanFigure, PlanKind, PlanLine, PlanPlace, Value};

/// How many corners an obstacle is drawn with.
const CORNERS: i32 = 10;

impl BoxDetourItem {
    /// The line from the corner before the obstacle to the goal, and the obstacle.
    fn given(&self) -> (Vec<PlanLine>, Vec<PlanPlace>) {
        let (meant, metres) = (self.meant.angle(), f64::from);
        // Of the line only what lies about the obstacle, or the detour would be small.
        let from_start = step_to(ORIGIN, meant, metres(-self.along) * 0.6);
        let to_goal = step_to(ORIGIN, meant, metres(self.along) * 1.5);
        let middle = step_to(ORIGIN, meant, metres(self.along) / 2.0);
        let round = |at: i32| {
            step_to(middle, Angle::from_degrees(metres(at * 360 / CORNERS)), metres(self.out.min(self.along)) * 0.4)
        };
        let kind = if WET.contains(&self.obstacle) { PlanKind::Water } else { PlanKind::Works };
        let lines = vec![
            line(PlanKind::Thought, vec![from_start, ORIGIN], format!("{}° M", figures(self.meant))),
            line(PlanKind::Thought, vec![ORIGIN, to_goal], ""),
            line(kind, (0..=CORNERS).map(round).collect(), self.obstacle.trim_start_matches("a ")),
        ];
        (lines, vec![place(to_goal, &format!("to {}", self.goal.trim_start_matches("the ")))])
    }

    /// What is known before the answer where the legs are what is asked.
    pub(super) fn ground(&self) -> Figure {
        let (lines, places) = self.given();
        let words = format!(
            "A plan with magnetic north up: {} lies across your line to {} on {}.",
            self.obstacle,
            self.goal,
            bearing(self.meant, North::Magnetic)
        );
        Figure::Plan(PlanFigure { north: Some(North::Magnetic), needle: None, lines, places, words, says_more: false })
    }

    /// Magnetic north is up. The way round is drawn as it is given, or as it is right with its bearings, and then beside it the one
    /// that somebody answered.
    pub(super) fn plan(&self, role: LineRole, given: Option<&Answer>) -> Figure {
        let metres = f64::from;
        let (mut lines, places) = self.given();
        let right = self.bearings();
        let told = role == LineRole::Right;
        let mut from = ORIGIN;
        for (toward, far) in right.into_iter().zip([self.out, self.along, self.back]) {
            let to = step_to(from, angle(toward), metres(far));
            let label = match (told, self.asked) {
                (true, Asked::Bearings) => format!("{}", figures(toward)),
                (true, _) => format!("{}, {far} m", figures(toward)),
                (false, _) => format!("{far} m"),
            };
            lines.push(line(PlanKind::Way(role), vec![from, to], label));
            from = to;
        }
        if let Some(learner) = given.and_then(|given| self.learner(given)) {
            lines.push(line(PlanKind::Way(LineRole::Learner), learner, "you"));
        }
        let words = self.words(told);
        Figure::Plan(PlanFigure { north: Some(North::Magnetic), needle: None, lines, places, words, says_more: false })
    }

    /// The legs that somebody answered, where they are not those that are right.
    fn learner(&self, given: &Answer) -> Option<Vec<MapPoint>> {
        let legs: Vec<Angle> = given
            .values()
            .iter()
            .filter_map(|value| if let Value::Angle(angle) = value { Some(*angle) } else { None })
            .collect();
        let right: Vec<Tenths> = self.bearings().to_vec();
        let same = legs.iter().map(|leg| leg.tenths()).eq(right.iter().copied());
        (legs.len() == 3 && !same).then(|| {
            let mut way = vec![ORIGIN];
            for (leg, far) in legs.iter().zip([self.out, self.along, self.back]) {
                way.push(step_to(way[way.len() - 1], *leg, f64::from(far)));
            }
            way
        })
    }

    fn words(&self, told: bool) -> String {
        let [out, along, back] = self.bearings().map(figures);
        let (goal, side) = (self.goal, self.side.word());
        let legs =
            if told { format!(" The legs of the detour run on {out}, {along} and {back}.") } else { String::new() };
        format!(
            "A plan with magnetic north up. Your line leads to {goal}; the way round goes out to the {side} of it.{legs}"
        )
    }
}
