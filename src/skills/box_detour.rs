//! G3, round an obstacle by right angles: out, along, back. Only the leg along the line brings one on (common practice; the counting in
//! FM 21-26 ch. 9 and 11, check_values.csv CV168).

mod meta;
mod plan;

use super::amounts::{GOALS, HAZARD, amount};
use super::common::{NOT_WRAPPED, Tenths, bearing, bearing_of, figures, sum, wrap};
use crate::angle::{Bearing, Magnetic, North};
use crate::problem::{
    Answer, Choices, Draw, Fact, Facts, Field, FieldKind, Figure, FigurePart, Generator, HomeAngles, LengthUnit, Level,
    LineRole, MixupList, MixupMeta, Question, SkillMeta, Step, Tolerance, Value, Wanted,
};
use meta::{
    ASIDES_ADDED, BEFORE_LEFT_OUT, META, NEVER_BACK, ONE_WAY, OTHER_SIDE, PARALLEL_LEFT_OUT, SIDE_LEGS_COUNTED,
    SIDES_SWAPPED,
};

/// The skill `box-detour`.
pub(super) struct BoxDetour;

/// The numbers of one problem. Distances are whole metres.
pub(super) struct BoxDetourItem {
    /// What one walks on.
    meant: Bearing<Magnetic>,
    /// The side of the line that one goes out to.
    side: Side,
    /// From the start to the goal.
    leg: i32,
    /// From the start to the obstacle.
    before: i32,
    /// The first leg of the detour.
    out: i32,
    /// The second.
    along: i32,
    /// The third.
    back: i32,
    asked: Asked,
    obstacle: &'static str,
    goal: &'static str,
}

/// The side of a line, looking ahead.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Side {
    Left,
    Right,
}

/// The words for the two sides, in the order of [`Side`].
const SIDES: [&str; 2] = ["left of the line", "right of the line"];

impl Side {
    const fn word(self) -> &'static str {
        match self {
            Side::Left => "left",
            Side::Right => "right",
        }
    }

    const fn other(self) -> Side {
        match self {
            Side::Left => Side::Right,
            Side::Right => Side::Left,
        }
    }

    /// A quarter circle to this side.
    const fn quarter(self) -> Tenths {
        match self {
            Side::Left => -900,
            Side::Right => 900,
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Asked {
    Bearings,
    Left,
    Both,
    Beside,
}

const OBSTACLES: [&str; 6] = ["a pond", "a bog", "a quarry", "a fenced field", "a crag", "a thicket"];
/// Those of them that are drawn as water.
const WET: [&str; 2] = ["a pond", "a bog"];

static BEARINGS: [Field; 3] = [OUT, ALONG, BACK];
static LEFT: [Field; 1] = [LEFT_FIELD];
static BOTH: [Field; 4] = [OUT, ALONG, BACK, LEFT_FIELD];
static BESIDE: [Field; 3] = [
    Field {
        name: "side",
        label: "where you then walk",
        kind: FieldKind::Choice(Choices::Fixed(&SIDES)),
        tolerance: Tolerance::EXACT,
    },
    Field {
        name: "beside",
        label: "how far from the line, in metres",
        kind: METRES,
        tolerance: Tolerance::within(2.0),
    },
    Field { name: "left", label: "how far until you are beside the goal, in metres", kind: METRES, tolerance: NEAR },
];

const METRES: FieldKind = FieldKind::Distance(LengthUnit::Metres);
const NEAR: Tolerance = Tolerance::within(2.0);
const LEFT_FIELD: Field =
    Field { name: "left", label: "how far it then still is, in metres", kind: METRES, tolerance: NEAR };
const OUT: Field = leg("out", "first leg, outward");
const ALONG: Field = leg("along", "second leg, beside the obstacle");
const BACK: Field = leg("back", "third leg, back again");

const fn leg(name: &'static str, label: &'static str) -> Field {
    Field { name, label, kind: FieldKind::Bearing(North::Magnetic), tolerance: Tolerance::EXACT }
}

impl Generator for BoxDetour {
    type Item = BoxDetourItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> BoxDetourItem {
        let meant = match level.number() {
            1 => draw.between(0, 35) * 100,
            // In one of two cases the detour crosses north.
            3 if draw.chance(1, 2) => wrap(draw.between(-89, 89) * 10),
            _ => draw.between(0, 359) * 10,
        };
        let side = if draw.chance(1, 2) { Side::Left } else { Side::Right };
        let (before, out, along) = (draw.between(5, 30) * 10, draw.between(4, 12) * 10, draw.between(6, 20) * 10);
        let leg = before + along + draw.between(6, 35) * 10;
        let other = out + draw.sign() * draw.between(1, 3) * 10;
        let (asked, back) = match level.number() {
            1 => (Asked::Bearings, out),
            2 => (Asked::Left, out),
            3 => (Asked::Both, out),
            _ => (Asked::Beside, other),
        };
        let (obstacle, goal) = (draw.pick(&OBSTACLES), draw.pick(&GOALS));
        BoxDetourItem { meant: bearing_of(meant), side, leg, before, out, along, back, asked, obstacle, goal }
    }

    fn question(&self, item: &BoxDetourItem) -> Question {
        match item.asked {
            Asked::Bearings => Question::typed(&BEARINGS),
            Asked::Left => Question::typed(&LEFT),
            Asked::Both => Question::typed(&BOTH),
            Asked::Beside => Question::typed(&BESIDE),
        }
    }

    fn answer(&self, item: &BoxDetourItem) -> Answer {
        let [out, along, back] = item.bearings();
        match item.asked {
            Asked::Beside => item.beside(item.ends_on(), item.off(), item.left()),
            _ => item.legs([out, along, back], item.left()),
        }
    }

    fn mixups(&self, item: &BoxDetourItem, list: &mut MixupList) {
        let ([out, along, back], left) = (item.bearings(), item.left());
        if matches!(item.asked, Asked::Bearings | Asked::Both) {
            let turned = item.side.quarter();
            let mut legs = |meta: &'static MixupMeta, wrong: [Tenths; 3]| {
                list.push(meta, item.legs(wrong, left), || {
                    let [one, two, three] = wrong.map(figures);
                    format!("{one}, then {two}, then {three}")
                });
            };
            legs(&ONE_WAY, [out, wrap(out + turned), back]);
            legs(&OTHER_SIDE, [back, along, out]);
            legs(&NEVER_BACK, [out, along, out]);
            let unwrapped = [along + turned, along, along - turned];
            if unwrapped != [out, along, back] {
                legs(&NOT_WRAPPED, unwrapped);
            }
        }
        if item.asked == Asked::Bearings {
            return;
        }
        // A number below zero is no distance that somebody could give.
        let mut too_far = |meta: &'static MixupMeta, wrong: i32, way: &dyn Fn() -> String| {
            if wrong >= 0 {
                let answer = match item.asked {
                    Asked::Beside => item.beside(item.ends_on(), item.off(), wrong),
                    _ => item.legs([out, along, back], wrong),
                };
                list.push(meta, answer, way);
            }
        };
        let BoxDetourItem { leg, before, out: aside, along: parallel, back: returned, .. } = *item;
        too_far(&SIDE_LEGS_COUNTED, left - aside - returned, &|| {
            format!("{leg} − {before} − {aside} − {parallel} − {returned} = {}", left - aside - returned)
        });
        too_far(&PARALLEL_LEFT_OUT, left + parallel, &|| format!("{leg} − {before} = {}", left + parallel));
        too_far(&BEFORE_LEFT_OUT, left + before, &|| format!("{leg} − {parallel} = {}", left + before));
        if item.asked == Asked::Beside {
            let (ends, off) = (item.ends_on(), item.off());
            list.push(&SIDES_SWAPPED, item.beside(ends.other(), off, left), || {
                format!("{off} m {}", SIDES[ends.other() as usize])
            });
            list.push(&ASIDES_ADDED, item.beside(ends, aside + returned, left), || {
                format!("{aside} + {returned} = {}", aside + returned)
            });
        }
    }

    fn right_way(&self, item: &BoxDetourItem) -> String {
        let [out, along, back] = item.bearings().map(figures);
        let legs = || format!("Out, along and back: {out}, then {along}, then {back}");
        let left = format!("Only the leg along the line counts: {}", item.left_sum());
        match item.asked {
            Asked::Bearings => legs(),
            Asked::Left => left,
            Asked::Both => format!("{}. {left}", legs()),
            Asked::Beside => format!("Back undoes out: {} m {}. {left}", item.off(), SIDES[item.ends_on() as usize]),
        }
    }

    fn facts(&self, item: &BoxDetourItem) -> Facts {
        let number = |name, metres: i32| Fact::own_number(name, f64::from(metres));
        let mut facts = vec![
            Fact::own_angle("meant_magnetic_bearing_deg", item.meant.angle()),
            Fact::own_word("goes_out", item.side.word()),
            Fact::wanted(Wanted::own(match item.asked {
                Asked::Bearings => "detour_bearings",
                Asked::Left => "distance_left",
                Asked::Both => "detour_bearings_and_distance_left",
                Asked::Beside => "place_beside_line",
            })),
        ];
        if item.asked != Asked::Bearings {
            facts.extend([
                number("leg_m", item.leg),
                number("before_m", item.before),
                number("aside_m", item.out),
                number("parallel_m", item.along),
                number("returned_m", item.back),
            ]);
        } else {
            facts.push(Fact::own_word("obstacle", item.obstacle));
        }
        facts.into()
    }

    fn prompt(&self, item: &BoxDetourItem) -> String {
        let BoxDetourItem { leg, before, out, along, back, obstacle, goal, .. } = *item;
        let (meant, side) = (bearing(item.meant, North::Magnetic), item.side.word());
        let walked = || {
            format!(
                "You walk to {goal} on {meant}, {leg} m away. After {before} m you come to {obstacle}. You go round it at right angles: {out} m out to the {side} of your line, {along} m along on your bearing"
            )
        };
        match item.asked {
            Asked::Bearings => format!(
                "You walk to {goal} on {meant}, and {obstacle} lies across your line. You go round it at right angles, out to the {side} of the line first. On which three bearings do you walk the detour: away from the line, beside {}, and back to the line?",
                item.obstacle.replacen("a ", "the ", 1)
            ),
            Asked::Left => format!("{}, and {back} m back to the line. How far is it then still to {goal}?", walked()),
            Asked::Both => format!(
                "{}, and {back} m back to the line. On which three bearings do you walk the detour, and how far is it then still to {goal}?",
                walked()
            ),
            Asked::Beside => format!(
                "{}, but {back} m back. There you walk on your bearing again. On which side of your line do you walk now, how far from it, and how far is it until you are beside {goal}?",
                walked()
            ),
        }
    }

    fn steps(&self, item: &BoxDetourItem) -> Vec<Step> {
        let way = FigurePart::Line(LineRole::Right);
        let mut steps = Vec::new();
        let [out, along, back] = item.bearings();
        if matches!(item.asked, Asked::Bearings | Asked::Both) {
            let turned = item.side.quarter();
            let (to, from) = match item.side {
                Side::Right => (
                    "Numbers rise clockwise, and out to the right is a quarter turn that way: add",
                    "Back is the quarter turn to the left",
                ),
                Side::Left => (
                    "Numbers rise clockwise, and out to the left is a quarter turn the other way: take off",
                    "Back is the quarter turn to the right",
                ),
            };
            steps.push(
                Step::new(to, sum(along, turned)).about(way).decides("Which quarter turn leads out to that side"),
            );
            steps.push(
                Step::new("Beside the obstacle you walk as if it were not there, on your bearing", figures(along))
                    .about(way)
                    .decides("Beside the obstacle you walk as if it were not there: on which bearing"),
            );
            steps.push(
                Step::new(
                    format!("As long as the first and against it, the third leg undoes it and brings you onto your line again: it is the back bearing of the first. {from}"),
                    sum(along, -turned),
                )
                .about(way)
                .decides("Which quarter turn leads back to the line"),
            );
        }
        if item.asked == Asked::Bearings {
            let [out, along, back] = [out, along, back].map(figures);
            steps.push(Step::new("The three legs", format_args!("{out}, {along}, {back}")).answers());
            return steps;
        }
        steps.push(
            Step::new(
                "A leg at a right angle to the line brings you no nearer, so only what runs along the line is counted",
                format_args!("{} + {} = {}", item.before, item.along, item.before + item.along),
            )
            .about(way)
            .decides("Which of the legs bring you nearer"),
        );
        let left = item.left();
        let rest = format!("{} − {} = {left}", item.leg, item.before + item.along);
        match item.asked {
            Asked::Both => {
                let [out, along, back] = [out, along, back].map(figures);
                steps.push(Step::new("What is left", rest));
                steps.push(Step::new("Legs and rest", format_args!("{out}, {along}, {back}; {left} m")).answers());
            }
            Asked::Beside => {
                steps.push(Step::new("What is left", rest));
                let (more, less) = (item.out.max(item.back), item.out.min(item.back));
                let still = if item.back < item.out {
                    "The leg back undoes the leg out, and here not all of it: you are still on that side"
                } else {
                    "The leg back undoes the leg out, and here more than that: you have crossed the line"
                };
                let (off, side) = (item.off(), SIDES[item.ends_on() as usize]);
                steps.push(
                    Step::new(still, format_args!("{more} − {less} = {off}"))
                        .decides("Do you come back by less than you went out, or by more"),
                );
                steps.push(
                    Step::new("So you walk", format_args!("{side}, {off} m from it; {left} m are left")).answers(),
                );
            }
            _ => steps.push(Step::new("What is left", format_args!("{rest} m")).answers()),
        }
        steps
    }

    fn caution(&self) -> Option<&'static str> {
        Some(HAZARD)
    }

    fn hint(&self, item: &BoxDetourItem) -> String {
        match item.asked {
            Asked::Bearings => "Sketch your line and the box round the obstacle. Each corner is a quarter turn; which legs run as your line does?",
            Asked::Left => "Sketch it. Which legs bring you nearer to the goal, and which lead only aside?",
            Asked::Both => "Sketch your line and the box round the obstacle. Each corner is a quarter turn, and only a leg beside the line brings you on.",
            Asked::Beside => "Sketch it. Compare the leg out with the leg back: have you come back to the line, not quite, or past it?",
        }
        .to_owned()
    }

    fn figure(&self, item: &BoxDetourItem) -> Figure {
        match item.asked {
            Asked::Bearings => item.ground(),
            Asked::Left => item.plan(LineRole::Given, None),
            // Sketching it is what the hint says there.
            Asked::Both | Asked::Beside => Figure::None,
        }
    }

    fn explanation(&self, item: &BoxDetourItem, given: Option<&Answer>) -> Figure {
        item.plan(LineRole::Right, given)
    }
}

impl BoxDetourItem {
    /// The bearings of the three legs.
    fn bearings(&self) -> [Tenths; 3] {
        use super::common::InTenths;
        let along = self.meant.in_tenths();
        [wrap(along + self.side.quarter()), along, wrap(along - self.side.quarter())]
    }

    /// What is left of the way after the detour.
    const fn left(&self) -> i32 {
        self.leg - self.before - self.along
    }

    fn left_sum(&self) -> String {
        format!("{} − {} − {} = {}", self.leg, self.before, self.along, self.left())
    }

    /// How far from the line one comes out.
    const fn off(&self) -> i32 {
        (self.out - self.back).abs()
    }

    /// On which side.
    const fn ends_on(&self) -> Side {
        if self.back < self.out { self.side } else { self.side.other() }
    }

    /// An answer in bearings, metres, or both, as is asked.
    fn legs(&self, bearings: [Tenths; 3], left: i32) -> Answer {
        let legs = bearings.into_iter().map(|leg| Value::Angle(super::common::angle(leg)));
        match self.asked {
            Asked::Bearings => legs.collect(),
            Asked::Left => amount(f64::from(left)),
            Asked::Both | Asked::Beside => legs.chain([Value::Number(f64::from(left))]).collect(),
        }
    }

    fn beside(&self, side: Side, off: i32, left: i32) -> Answer {
        Answer::three(Value::Choice(side as usize), Value::Number(f64::from(off)), Value::Number(f64::from(left)))
    }
}

#[cfg(test)]
mod tests;
