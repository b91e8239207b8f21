//! Amounts that count from no north (metres, paces, minutes): as answers, and in the sums of texts.

use super::common::{Tenths, size as in_tenths, write_size};
use crate::angle::Angle;
use crate::numbers::whole;
use crate::problem::{Answer, LineRole, MapPoint, PlanKind, PlanLine, PlanPlace, Value};
use std::fmt::{self, Display};

/// A plain number as the answer to a single field.
pub(super) fn amount(number: f64) -> Answer {
    Answer::one(Value::Number(number))
}

/// To hundredths, halves up: what a wrong way gives without an end is no more exact than somebody would write it.
pub(super) fn hundredths(number: f64) -> f64 {
    ((number * 1e6).round() / 1e4).round() / 100.0
}

/// A number with at most one figure behind the point.
pub(super) fn short(number: f64) -> impl Display {
    in_tenths(whole::<Tenths>((number * 10.0).round()))
}

/// `= 3`, or `≈ 6.7` where that is rounded.
pub(super) fn comes_to(number: f64) -> impl Display {
    let rounded = (number * 10.0).round();
    let sign = if (number - rounded / 10.0).abs() < 1e-9 { "= " } else { "≈ " };
    fmt::from_fn(move |out| {
        out.write_str(sign)?;
        write_size(out, whole(rounded))
    })
}

/// Where a way begins, in the middle of a sentence.
pub(super) const STARTS: [&str; 6] = ["the hut", "the barn", "the crossroads", "the camp", "the stile", "the old mill"];

/// Where it leads.
pub(super) const GOALS: [&str; 8] = [
    "the ford",
    "the chapel",
    "the footbridge",
    "the lone pine",
    "the weir",
    "the spring",
    "the boundary stone",
    "the shelter",
];

/// What is said wherever a bearing is walked round something or across country.
pub(super) const HAZARD: &str = "Never follow a bearing over a hazard: go round, and come back to your line";

/// The point so far from another one in a direction, clockwise from what is up on the plan.
pub(super) fn step_to(from: MapPoint, toward: Angle, metres: f64) -> MapPoint {
    let (east, north) = toward.degrees().to_radians().sin_cos();
    MapPoint { east_m: from.east_m + east * metres, north_m: from.north_m + north * metres }
}

/// Where the plans of the skills begin.
pub(super) const ORIGIN: MapPoint = MapPoint { east_m: 0.0, north_m: 0.0 };

/// A line of a plan.
pub(super) fn line(kind: PlanKind, through: Vec<MapPoint>, label: impl Into<String>) -> PlanLine {
    PlanLine { kind, through, label: label.into() }
}

/// A place of a plan that the question gives.
pub(super) fn place(at: MapPoint, name: &str) -> PlanPlace {
    // A name stands alone on a plan, as on a map.
    PlanPlace { at, role: LineRole::Given, name: name.trim_start_matches("the ").to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::{Code, Level, Step, realise};
    use crate::skills;

    #[test]
    fn the_caution_stands_below_the_steps_wherever_a_bearing_is_followed() {
        let followed =
            ["follow-bearing", "walk-bearing", "back-sight", "fix-on-line", "aim-off", "box-detour", "course-leg"];
        for (id, level) in followed.into_iter().flat_map(|id| Level::ALL.map(|level| (id, level))) {
            let skill = skills::find(id).expect("a skill");
            for seed in 0..20 {
                let problem = realise(&Code { skill, level, seed, home: None }).expect("a problem");
                let last = problem.steps().last().map(Step::line);
                assert_eq!(last, Some(format!("Take care: {HAZARD}")), "{}", problem.code());
            }
        }
    }
}
