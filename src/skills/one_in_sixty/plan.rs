//! Back to the goal from beside the line, from above.

use super::super::amounts::{ORIGIN, line, place, step_to};
use super::{OneInSixtyItem, degrees};
use crate::angle::{Angle, North, SENSES};
use crate::problem::{Answer, Figure, LineRole, PlanFigure, PlanKind, Value};

/// So many times as far aside is everything drawn: a few degrees would hardly be seen.
const ASIDE: f64 = 3.0;

impl OneInSixtyItem {
    /// The line that was meant, the way walked and how it would go on, and the turn to the goal; a learner's own turn beside it.
    pub(super) fn closing_plan(&self, (walked, offset, left): (i32, i32, i32), given: Option<&Answer>) -> Figure {
        let ahead = self.meant.angle();
        let aside = ahead + Angle::from_degrees(90.0);
        let off = f64::from(offset * self.side.sign());
        let at = |along: f64, off: f64| step_to(step_to(ORIGIN, ahead, along), aside, ASIDE * off);
        let right = degrees(offset, walked) + degrees(offset, left);
        let label = format!("{right:.0}°, drawn threefold");
        let (walked, left) = (f64::from(walked), f64::from(left));
        let (here, goal) = (at(walked, off), at(walked + left, 0.0));
        // Where somebody comes to from here who turns by so much, clockwise positive, and goes on as far as the goal is.
        let turned = |degrees: f64| {
            let heading = ((off / walked).atan().to_degrees() + degrees).to_radians();
            at(walked + left * heading.cos(), off + left * heading.sin())
        };
        let mut lines = vec![
            line(PlanKind::Thought, vec![ORIGIN, goal], ""),
            line(PlanKind::Way(LineRole::Given), vec![ORIGIN, here], ""),
            line(PlanKind::Thought, vec![here, turned(0.0)], ""),
            line(PlanKind::Way(LineRole::Right), vec![here, goal], label),
        ];
        if let Some([Value::Choice(way), Value::Angle(size)]) = given.map(Answer::values) {
            let degrees = if *way == 0 { size.degrees() } else { -size.degrees() };
            let near = *way == self.side.back() && (size.degrees() - right).abs() < 0.1 * right;
            // Beyond a right angle nothing is drawn truly where one direction is stretched.
            if !near && degrees.abs() < 90.0 {
                lines.push(line(PlanKind::Way(LineRole::Learner), vec![here, turned(degrees)], "your turn"));
            }
        }
        let places = vec![place(ORIGIN, "start"), place(here, "you"), place(goal, self.place)];
        let words = format!(
            "A plan with magnetic north up: your line to {}, you {} m to the {} of it, and the way back to the goal, {}.",
            self.place,
            offset,
            self.side.word(),
            SENSES[self.side.back()]
        );
        Figure::Plan(PlanFigure { north: Some(North::Magnetic), needle: None, lines, places, words, says_more: false })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::MapPoint;
    use crate::skills::common::bearing_of;
    use crate::skills::one_in_sixty::{Side, Task};

    fn drawn(given: Option<&Answer>) -> Vec<(PlanKind, MapPoint, MapPoint)> {
        // G5-4-76940: 50 m right of the line after 600 m, 250 m ahead the ford: 5° and 12° back.
        let task = Task::Closing { walked: 600, offset: 50, left: 250 };
        let level = crate::problem::Level::FOUR;
        let item = OneInSixtyItem { meant: bearing_of(0), side: Side::Right, task, level, place: "the ford" };
        let Figure::Plan(plan) = item.closing_plan((600, 50, 250), given) else { panic!("a plan") };
        plan.lines.iter().map(|line| (line.kind, line.through[0], line.through[1])).collect()
    }

    #[test]
    fn who_only_turns_back_by_what_was_walked_off_goes_beside_the_line() {
        let only_parallel = Answer::two(Value::Choice(1), Value::degrees(5.0));
        let lines = drawn(Some(&only_parallel));
        let (_, from, to) = lines.iter().find(|line| line.0 == PlanKind::Way(LineRole::Learner)).expect("a line");
        assert!((from.east_m - 150.0).abs() < 1e-6, "fifty metres, threefold: {from:?}");
        assert!((to.east_m - from.east_m).abs() < 10.0, "{to:?}");
        assert!((to.north_m - 850.0).abs() < 2.0, "{to:?}");
    }

    #[test]
    fn the_turn_that_is_right_leads_to_the_goal_and_away_from_the_line_leads_away() {
        let lines = drawn(None);
        let (_, _, goal) = lines.iter().find(|line| line.0 == PlanKind::Way(LineRole::Right)).expect("a line");
        assert!(goal.east_m.abs() < 1e-6 && (goal.north_m - 850.0).abs() < 1e-6, "{goal:?}");
        let away = Answer::two(Value::Choice(0), Value::degrees(17.0));
        let lines = drawn(Some(&away));
        let (_, from, to) = lines.iter().find(|line| line.0 == PlanKind::Way(LineRole::Learner)).expect("a line");
        assert!(to.east_m > from.east_m + 200.0, "{to:?}");
    }
}
