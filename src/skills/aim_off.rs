//! G1, aiming off: beside the goal on purpose, by more than one's error, so that at the line it lies on a known side (common
//! practice; FM 3-25.26 ch. 9 calls it a deliberate offset, check_values.csv CV166, CV167).

mod meta;

use super::amounts::{HAZARD, ORIGIN, line, place, step_to};
use super::common::{InTenths, NOT_WRAPPED, Tenths, angle, bare_sum, bearing, bearing_of, figures, sum, wrap};
use crate::angle::{Bearing, Magnetic, North};
use crate::problem::{
    Answer, Choices, Draw, Fact, Facts, Field, FieldKind, Figure, FigurePart, Generator, HomeAngles, LengthUnit, Level,
    LineRole, MapPoint, MixupList, MixupMeta, PlanFigure, PlanKind, PlanLine, Question, SkillMeta, Step, Tolerance,
    Value, Wanted,
};
use meta::{ERROR_LEFT_OUT, META, NO_OFFSET, OTHER_SIDE, TOO_SMALL, WRONG_TURN};

/// The skill `aim-off`.
pub(super) struct AimOff;

/// The numbers of one problem. Distances are whole metres, error and offset whole degrees.
pub(super) struct AimOffItem {
    /// The bearing straight to the goal.
    straight: Bearing<Magnetic>,
    distance: i32,
    /// How far one may be off to either side.
    error: i32,
    /// What is added to the error to be safe.
    margin: i32,
    /// The side one aims to: the place in [`SIDES`].
    aimed: usize,
    level: Level,
    spot: Spot,
}

/// A goal on a line across the way.
#[derive(Clone, Copy, Debug)]
struct Spot {
    goal: &'static str,
    line: &'static str,
    /// Where nobody wants to walk along that line.
    bad: &'static str,
    /// Where one walks well.
    good: &'static str,
}

const SPOTS: [Spot; 4] = [
    Spot { goal: "the bridge", line: "a stream", bad: "the bank is a bog", good: "a path follows the bank" },
    Spot {
        goal: "the gate",
        line: "a long wall",
        bad: "nettles stand to the shoulder",
        good: "sheep keep the grass short",
    },
    Spot {
        goal: "the hut",
        line: "a forest road",
        bad: "the road is a quarry's, with lorries",
        good: "the road is quiet",
    },
    Spot {
        goal: "the landing stage",
        line: "a lake shore",
        bad: "cliffs fall to the water",
        good: "the shore is flat",
    },
];

/// The sides of the way, looking ahead.
const SIDES: [&str; 2] = ["left", "right"];

static FIELDS: [Field; 3] = [
    Field {
        name: "aim",
        label: "the bearing that you walk",
        kind: FieldKind::Bearing(North::Magnetic),
        // Each degree counts here, so a wrong way is told only to who has its own number.
        tolerance: Tolerance::within(1.0).told_within(0.5),
    },
    Field {
        name: "then",
        label: "on which side the goal then lies",
        kind: FieldKind::Choice(Choices::Fixed(&SIDES)),
        tolerance: Tolerance::EXACT,
    },
    Field {
        name: "farthest",
        label: "how far along the line at most, in metres",
        kind: FieldKind::Distance(LengthUnit::Metres),
        // The tangent is right as well as the rule of one in sixty.
        tolerance: Tolerance::share(0.1, 1.0),
    },
];

impl Generator for AimOff {
    type Item = AimOffItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> AimOffItem {
        let straight = match level.number() {
            1 => draw.between(2, 34) * 10,
            // Half of them so near to north that the offset may cross it.
            3 if draw.chance(1, 2) => (draw.between(-8, 8) + 360) % 360,
            _ => draw.between(15, 345),
        };
        let (error, margin) = (draw.between(3, 6), draw.between(2, 4));
        // Whole sixties, so that the rule of one in sixty gives whole metres.
        let distance = if level == Level::FOUR { draw.between(5, 20) * 60 } else { draw.between(5, 24) * 50 };
        let aimed = usize::from(draw.chance(1, 2));
        AimOffItem {
            straight: bearing_of(straight * 10),
            distance,
            error,
            margin,
            aimed,
            level,
            spot: draw.pick(&SPOTS),
        }
    }

    fn question(&self, item: &AimOffItem) -> Question {
        Question::typed(if item.level == Level::FOUR { &FIELDS } else { &FIELDS[..2] })
    }

    fn answer(&self, item: &AimOffItem) -> Answer {
        item.given(item.aim(item.offset()), item.found(), item.farthest(item.offset()))
    }

    fn mixups(&self, item: &AimOffItem, list: &mut MixupList) {
        let (straight, offset, found) = (item.straight.in_tenths(), item.offset(), item.found());
        let farthest = item.farthest(offset);
        let mut push = |meta: &'static MixupMeta, aim: Tenths, then: usize, far: i32, way: &dyn Fn() -> String| {
            list.push(meta, item.given(aim, then, far), way);
        };
        for (then, side) in SIDES.into_iter().enumerate() {
            push(&NO_OFFSET, straight, then, item.farthest(0), &|| {
                format!("Straight at it on {}, and then to the {side} by luck", figures(straight))
            });
        }
        if item.level > Level::ONE {
            let (error, margin) = (item.error, item.margin);
            push(&TOO_SMALL, item.aim(error), found, item.farthest(error), &|| {
                format!(
                    "By the error of {error}° alone, which can still bring you out at the goal: {}",
                    item.sum(error)
                )
            });
            // Nearer to the other one, a number could be either.
            if error - margin > 2 {
                push(&TOO_SMALL, item.aim(margin), found, item.farthest(margin), &|| {
                    format!("By the {margin}° alone that come on top of the error of {error}°: {}", item.sum(margin))
                });
            }
        }
        let other = wrap(straight - item.signed(offset));
        push(&OTHER_SIDE, other, 1 - found, farthest, &|| format!("{}", sum(straight, -item.signed(offset))));
        // The likeliest slip: the sum goes the wrong way, and the side is that of the text.
        push(&OTHER_SIDE, other, found, farthest, &|| {
            format!("{}, and then to the {} all the same", sum(straight, -item.signed(offset)), SIDES[found])
        });
        push(&WRONG_TURN, item.aim(offset), 1 - found, farthest, &|| {
            format!("Aimed to the {}, and looked to the {}", SIDES[item.aimed], SIDES[1 - found])
        });
        if item.level == Level::FOUR {
            let near = item.distance * offset / 60;
            push(&ERROR_LEFT_OUT, item.aim(offset), found, near, &|| {
                format!("{} × {offset} / 60 = {near}", item.distance)
            });
        }
        let unwrapped = straight + item.signed(offset);
        if unwrapped != wrap(unwrapped) {
            push(&NOT_WRAPPED, unwrapped, found, farthest, &|| format!("{}", bare_sum(straight, item.signed(offset))));
        }
    }

    fn right_way(&self, item: &AimOffItem) -> String {
        let offset = item.offset();
        let why = if item.level == Level::ONE {
            String::new()
        } else {
            format!(": {} + {} = {offset}°", item.error, item.margin)
        };
        format!(
            "Aim to the {} by {offset}°{why}. {}; then it lies to the {}",
            SIDES[item.aimed],
            item.sum(offset),
            SIDES[item.found()]
        )
    }

    fn facts(&self, item: &AimOffItem) -> Facts {
        let degrees = |name, degrees: i32| Fact::own_angle(name, angle(degrees * 10));
        let mut facts = vec![
            Fact::own_angle("straight_magnetic_bearing_deg", item.straight.angle()),
            Fact::own_number("distance_m", f64::from(item.distance)),
        ];
        if item.level == Level::ONE {
            facts.push(degrees("offset_deg", item.offset()));
        } else {
            facts.extend([degrees("error_deg", item.error), degrees("more_than_error_deg", item.margin)]);
        }
        // At level 4 the ground says which side.
        facts.push(Fact::own_word(if item.level == Level::FOUR { "walks_well" } else { "aims_to" }, SIDES[item.aimed]));
        let wanted = if item.level == Level::FOUR { "aim_and_farthest" } else { "aim" };
        facts.push(Fact::wanted(Wanted::own(wanted)));
        facts.into()
    }

    fn prompt(&self, item: &AimOffItem) -> String {
        let AimOffItem { distance, error, margin, spot: Spot { goal, line, bad, good }, .. } = *item;
        let side = SIDES[item.aimed];
        let straight = bearing(item.straight, North::Magnetic);
        // Either may stand first, so that no place in the text is the answer.
        let (good, bad) = ((side, good), (SIDES[item.found()], bad));
        let (first, second) = if distance / 60 % 2 == 0 { (good, bad) } else { (bad, good) };
        let story = format!(
            "{} lies {distance} m away on {straight}, on {line} that runs square across your way.",
            crate::problem::capital(goal)
        );
        match item.level.number() {
            1 => format!(
                "{story} You aim off to the {side} by {}° on purpose. On which bearing do you walk, and on which side of you does {goal} lie when you come to the line?",
                item.offset()
            ),
            2 | 3 => format!(
                "{story} Your bearing may be off by {error}° to either side. So you aim off to the {side}, by {margin}° more than that. On which bearing do you walk, and on which side of you does {goal} lie when you come to the line?"
            ),
            _ => format!(
                "{story} Your bearing may be off by {error}° to either side, so you aim off by {margin}° more than that. {} of {goal} {}, {} of it {}. On which bearing do you walk, on which side of you does {goal} then lie, and how far along at most?",
                crate::problem::capital(first.0),
                first.1,
                second.0,
                second.1
            ),
        }
    }

    fn steps(&self, item: &AimOffItem) -> Vec<Step> {
        let (goal, offset) = (item.spot.goal, item.offset());
        let (side, then) = (SIDES[item.aimed], SIDES[item.found()]);
        let way = FigurePart::Line(LineRole::Right);
        let mut steps = vec![Step::words(format!(
            "Aimed straight, you come out a little left or right of {goal} and cannot know which: aim beside it, and you know"
        ))];
        if item.level == Level::FOUR {
            steps.push(
                Step::new(
                    "From where you come out you walk along the line, so come out where it is good to walk",
                    side.to_owned(),
                )
                .decides("To which side do you aim"),
            );
        }
        if item.level > Level::ONE {
            steps.push(
                Step::new(
                    "Your error must not bring you past it, so the offset is larger than the error",
                    format_args!("{} + {} = {offset}", item.error, item.margin),
                )
                .decides("How large must the offset be"),
            );
        }
        let turn = if item.aimed == 0 {
            "Numbers rise clockwise, and to the left is counterclockwise: take off"
        } else {
            "Numbers rise clockwise, and to the right is clockwise: add"
        };
        steps.push(
            Step::new(turn, item.sum(offset))
                .about(way)
                .decides("Numbers rise clockwise: is that side clockwise, and so is the offset added or taken off"),
        );
        let aim = figures(item.aim(offset));
        let lies = format!("You come out {side} of {goal}, so it lies to your {then}");
        if item.level < Level::FOUR {
            steps.push(Step::new(lies, format_args!("{aim}, {then}")).answers());
            return steps;
        }
        steps.push(Step::words(lies));
        let (most, far) = (offset + item.error, item.farthest(offset));
        steps.push(
            Step::new(
                "At most you are off by the offset and your error together",
                format_args!("{offset} + {} = {most}", item.error),
            )
            .decides("How many degrees can you be beside the goal at most"),
        );
        steps.push(Step::new(
            "Once round you is about six times the way and has 360 degrees, so each degree leads a sixtieth of it aside, on a line square to your way a little more",
            format_args!("{} × {most} / 60 = {far}", item.distance),
        ));
        steps.push(Step::new("All three", format_args!("{aim}, {then}, {far} m at most")).answers());
        steps
    }

    fn caution(&self) -> Option<&'static str> {
        Some(HAZARD)
    }

    fn hint(&self, item: &AimOffItem) -> String {
        match item.level.number() {
            1 => "Sketch the way straight at the goal and one beside it. Which of the two bearings is larger?",
            2 | 3 => {
                "First the offset: larger than your error, or smaller? Then sketch both ways: which bearing is larger?"
            }
            _ => "On which side do you want to come out, so that you can walk along the line? Then sketch it.",
        }
        .to_owned()
    }

    /// Where one stands and what lies across the way; from level 3 on that is sketched by whoever answers.
    fn figure(&self, item: &AimOffItem) -> Figure {
        if item.level <= Level::TWO { item.ground() } else { Figure::None }
    }

    fn explanation(&self, item: &AimOffItem, given: Option<&Answer>) -> Figure {
        item.plan(given)
    }
}

impl AimOffItem {
    /// By how much one aims off.
    const fn offset(&self) -> i32 {
        self.error + self.margin
    }

    /// An offset as a change of the bearing, clockwise positive.
    const fn signed(&self, offset: i32) -> Tenths {
        if self.aimed == 0 { -offset * 10 } else { offset * 10 }
    }

    /// The bearing for an offset.
    fn aim(&self, offset: i32) -> Tenths {
        wrap(self.straight.in_tenths() + self.signed(offset))
    }

    /// The side on which the goal lies at the line: the other one than that aimed to.
    const fn found(&self) -> usize {
        1 - self.aimed
    }

    /// How far the goal is at most, by one in sixty.
    const fn farthest(&self, offset: i32) -> i32 {
        self.distance * (offset + self.error) / 60
    }

    fn sum(&self, offset: i32) -> String {
        format!("{}", sum(self.straight.in_tenths(), self.signed(offset)))
    }

    fn given(&self, aim: Tenths, then: usize, farthest: i32) -> Answer {
        let (aim, then) = (Value::Angle(angle(aim)), Value::Choice(then));
        if self.level == Level::FOUR {
            Answer::three(aim, then, Value::Number(f64::from(farthest)))
        } else {
            Answer::two(aim, then)
        }
    }

    fn goal(&self) -> MapPoint {
        step_to(ORIGIN, self.straight.angle(), f64::from(self.distance))
    }

    /// Where a way this many degrees beside the straight one meets the line; they are drawn twice as large.
    fn meets(&self, degrees: f64) -> MapPoint {
        let far = f64::from(self.distance);
        step_to(self.goal(), self.straight.angle() + angle(900), far * (2.0 * degrees).to_radians().tan())
    }

    /// The line across the way, and the way straight at the goal.
    fn given_lines(&self) -> Vec<PlanLine> {
        let wet = ["a stream", "a lake shore"].contains(&self.spot.line);
        let kind = if wet { PlanKind::Water } else { PlanKind::Works };
        vec![
            line(kind, vec![self.meets(-18.0), self.meets(18.0)], self.spot.line.trim_start_matches("a ")),
            line(PlanKind::Thought, vec![ORIGIN, self.goal()], format!("{}° M", figures(self.straight))),
        ]
    }

    fn plan_of(&self, lines: Vec<PlanLine>, words: String) -> Figure {
        let places = vec![place(ORIGIN, "start"), place(self.goal(), self.spot.goal)];
        Figure::Plan(PlanFigure { north: Some(North::Magnetic), needle: None, lines, places, words, says_more: false })
    }

    /// What is known before the answer.
    fn ground(&self) -> Figure {
        let Spot { goal, line, .. } = self.spot;
        let words = format!(
            "A plan with magnetic north up: {goal} straight ahead on {}, on {line} that lies across the way.",
            bearing(self.straight, North::Magnetic)
        );
        self.plan_of(self.given_lines(), words)
    }

    /// The same with the way beside it.
    fn plan(&self, given: Option<&Answer>) -> Figure {
        let straight = self.straight.angle();
        let meets = |degrees| self.meets(degrees);
        let signed = f64::from(self.signed(self.offset())) / 10.0;
        let aim = self.aim(self.offset());
        // A few degrees would hardly be seen.
        let label = format!("{}° M, angle drawn double", figures(aim));
        let mut lines = self.given_lines();
        lines.push(line(PlanKind::Way(LineRole::Right), vec![ORIGIN, meets(signed)], label));
        if let Some([Value::Angle(yours), ..]) = given.map(Answer::values) {
            let off = (*yours - straight).wrapped_half().degrees();
            let same = (*yours - angle(aim)).wrapped_half().abs() <= angle(10);
            if off.abs() <= 18.0 && !same {
                lines.push(line(PlanKind::Way(LineRole::Learner), vec![ORIGIN, meets(off)], "you"));
            }
        }
        let words = format!(
            "A plan with magnetic north up, the angle beside the straight way drawn double: straight at {} on {}, and beside it on {}, to the {}.",
            self.spot.goal,
            figures(self.straight),
            figures(aim),
            SIDES[self.aimed]
        );
        self.plan_of(lines, words)
    }
}

#[cfg(test)]
mod tests;
