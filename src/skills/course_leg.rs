//! K1, a patrol course: three legs out and home, set by the lines that the map has. A closing check finds a wrong leg and never a wrong
//! north (common practice, no source). It puts G7's triangle, B2, B4, A7 and C2 together.

mod card;
mod course;
mod meta;
mod plan;

use super::amounts::{HAZARD, short};
use super::common::{
    CIRCLE, NOT_APPLIED, NOT_WRAPPED, SIGN_FLIPPED, Tenths, WRONG_END, angle, bare_sum, bearing, change_words, figures,
    offset_of, size, sum, tenths, wrap,
};
use super::conversion::draw_offset;
use super::norths::{DECLINATION_FOR_GMA, GMA_ON_TRUE_LINE, Norths, SIZES_ADDED, given_alone_words, tells};
use super::scale_distance::meta::OTHER_SCALE;
use crate::angle::{Angle, North, NorthKind, Offset};
use crate::problem::{
    Answer, Choices, Draw, Fact, FactName, Facts, Field, FieldKind, Figure, FigurePart, Generator, HomeAngles,
    LengthUnit, Level, LineRole, MixupList, MixupMeta, Question, SkillMeta, Step, Tolerance, Value, Wanted,
};
use card::{CLOSES, Slip, WRONG};
use course::{Bearings, Course, Lines, each};
use meta::{BACK_OF_FIRST, HOME_LEG_LEFT_OUT, META};
use std::fmt::{self, Display, Write};

/// The skill `course-leg`.
pub(super) struct CourseLeg;

/// The numbers of one problem.
pub(super) struct CourseLegItem {
    course: Course,
    lines: Lines,
    /// Both angles, where the reader has to find out which counts.
    norths: Option<Norths>,
    task: Task,
    /// Home, the second and the third mark.
    marks: [&'static str; 3],
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Task {
    /// What to set for each leg.
    Set,
    /// That, and how long the course is.
    SetAndLength,
    /// What is wrong with somebody's card.
    Card(Slip),
}

const HOMES: [&str; 4] = ["the camp", "the hut", "the barn", "the gate"];
const MARKS: [&str; 6] = ["the ford", "the chapel", "the weir", "the spring", "the tower", "the old oak"];
/// The names of the legs, in their order.
const ORDER: [&str; 3] = ["first", "second", "third"];
/// So many facts at most.
const MOST_FACTS: usize = 11;
/// So many steps at most, with the caution.
const MOST_STEPS: usize = 10;
/// Why the turns at the corners are added.
const FULL: &str = "At each corner you turn the short way to the next leg. Come home, face the first leg again, and you have turned once all the way round, always to the same side: so the turns at the three corners make 360";

const LEG_FACTS: [FactName; 3] = [
    FactName::FirstLegBearing,
    FactName::SecondLegBearing,
    FactName::Own(std::borrow::Cow::Borrowed("third_leg_bearing_deg")),
];
const MM_FACTS: [&str; 3] = ["first_leg_mm", "second_leg_mm", "third_leg_mm"];
const CARD_FACTS: [&str; 3] =
    ["card_first_magnetic_bearing_deg", "card_second_magnetic_bearing_deg", "card_third_magnetic_bearing_deg"];

static SET: [Field; 3] = [FIRST, SECOND, THIRD];
static SET_AND_LENGTH: [Field; 4] = [
    FIRST,
    SECOND,
    THIRD,
    Field {
        name: "course",
        label: "the whole course, in metres",
        kind: FieldKind::Distance(LengthUnit::Metres),
        tolerance: Tolerance::share(0.02, 0.5),
    },
];
static CARD: [Field; 3] = [
    Field {
        name: "closes",
        label: "the course on the card",
        kind: FieldKind::Choice(Choices::Fixed(&CLOSES)),
        tolerance: Tolerance::EXACT,
    },
    Field {
        name: "wrong",
        label: "what is wrong with the card",
        kind: FieldKind::Choice(Choices::Fixed(&WRONG)),
        tolerance: Tolerance::EXACT,
    },
    SECOND,
];

const FIRST: Field = leg("first", "first leg, what you set");
const SECOND: Field = leg("second", "second leg, what you set");
const THIRD: Field = leg("third", "third leg, what you set");

const fn leg(name: &'static str, label: &'static str) -> Field {
    Field { name, label, kind: FieldKind::Bearing(North::Magnetic), tolerance: Tolerance::within(0.5) }
}

impl Generator for CourseLeg {
    type Item = CourseLegItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> CourseLegItem {
        let norths = (level == Level::THREE).then(|| {
            let mut norths = Norths::draw(None, draw);
            let by_true_line = draw.chance(2, 5);
            // The declination in its place is the mix-up of these lines: it must not come to the same.
            for _ in 0..64 {
                if by_true_line || norths.declination_for_gma().is_some() {
                    break;
                }
                norths = Norths::draw(None, draw);
            }
            if by_true_line {
                // Large enough for a bearing from a true-north line.
                norths.declination = offset_of(draw.between(4, 28) * draw.sign() * 10);
            }
            (norths, by_true_line)
        });
        let lines = match norths {
            Some((norths, true)) => Lines::True(norths.declination),
            Some((norths, false)) => Lines::Grid(norths.on_dial()),
            None if draw.chance(1, 2) => Lines::Grid(draw_offset(level, None, draw)),
            None => Lines::True(draw_offset(level, None, draw)),
        };
        let task = match level.number() {
            1 => Task::Set,
            2 | 3 => Task::SetAndLength,
            _ => Task::Card(Slip::draw(draw)),
        };
        let mut marks = MARKS;
        draw.shuffle(&mut marks);
        let marks = [draw.pick(&HOMES), marks[0], marks[1]];
        // Round numbers stay on the circle, and at level 3 a leg leaves it.
        let wanted = |bearings: &Bearings| match level.number() {
            1 => !leaves_circle(bearings.legs(), lines.change()),
            3 => leaves_circle(bearings.legs(), lines.change()),
            _ => true,
        };
        let mut bearings = Bearings::draw(level, draw);
        for _ in 0..64 {
            if wanted(&bearings) {
                break;
            }
            bearings = Bearings::draw(level, draw);
        }
        CourseLegItem { course: bearings.measured(), lines, norths: norths.map(|it| it.0), task, marks }
    }

    fn question(&self, item: &CourseLegItem) -> Question {
        match item.task {
            Task::Set => Question::typed(&SET),
            Task::SetAndLength => Question::typed(&SET_AND_LENGTH),
            Task::Card(_) => Question::typed(&CARD),
        }
    }

    fn answer(&self, item: &CourseLegItem) -> Answer {
        match item.task {
            Task::Card(slip) => item.about_card(slip),
            _ => item.legs(item.set(), item.course.metres()),
        }
    }

    fn mixups(&self, item: &CourseLegItem, list: &mut MixupList) {
        if let Task::Card(slip) = item.task {
            return item.card_mixups(slip, list);
        }
        let (set, legs, change, metres) = (item.set(), item.course.legs(), item.lines.change(), item.course.metres());
        let turned = |by: Tenths| item.legs(each(legs, |leg| wrap(leg + by)), metres);
        // The same number, whether a rule was turned over or the side of the angle: both are told.
        list.push(&SIGN_FLIPPED, turned(-change), || {
            let side = if change < 0 { "west of them in place of east" } else { "east of them in place of west" };
            format!("As if magnetic north lay {side}. {}", sums(legs, -change))
        });
        list.push(&NOT_APPLIED, turned(0), || {
            let [one, two, three] = legs.map(figures);
            format!("{one}, {two}, {three}, unchanged")
        });
        if item.wraps() {
            let bare = each(legs, |leg| leg + change);
            list.push(&NOT_WRAPPED, item.legs(bare, metres), || {
                let [one, two, three] = legs.map(|leg| bare_sum(leg, change).to_string());
                format!("{one}; {two}; {three}")
            });
        }
        for (at, name) in ORDER.into_iter().enumerate() {
            let mut wrong = set;
            wrong[at] = wrap(wrong[at] + CIRCLE / 2);
            list.push(&WRONG_END, item.legs(wrong, metres), || format!("The {name} leg: {}", figures(wrong[at])));
        }
        let back = wrap(set[0] + CIRCLE / 2);
        list.push(&BACK_OF_FIRST, item.legs([set[0], set[1], back], metres), || {
            format!("Home on {}, against the first leg", figures(back))
        });
        if let Some(norths) = &item.norths {
            let mut used = |meta: &'static MixupMeta, angle: Angle, words: fmt::Arguments<'_>| {
                list.push(meta, turned(-tenths(angle)), || format!("{words}. {}", sums(legs, -tenths(angle))));
            };
            if let Lines::Grid(_) = item.lines {
                if let Some(angle) = norths.declination_for_gma() {
                    let words = format_args!("The declination in place of the G-M angle");
                    used(&DECLINATION_FOR_GMA, angle.angle(), words);
                }
                if let Some(angle) = norths.added() {
                    used(&SIZES_ADDED, angle.angle(), format_args!("G-M angle {}", norths.wrong_sum()));
                }
            } else if tells(norths.on_dial().angle(), item.lines.angle()) {
                used(&GMA_ON_TRUE_LINE, norths.on_dial().angle(), format_args!("G-M angle {}", norths.sum()));
            }
        }
        if item.task == Task::SetAndLength {
            let Course { mm: [one, two, _], scale, .. } = item.course;
            let short_of_home = scale.metres((one + two) * 10);
            list.push(&HOME_LEG_LEFT_OUT, item.legs(set, short_of_home), || {
                format!("({one} + {two}) × {} = {}", scale.0, short(short_of_home))
            });
            let believed = Course { scale: scale.believed(), ..item.course };
            list.push(&OTHER_SCALE, item.legs(set, believed.metres()), || item.length(&believed));
        }
    }

    fn right_way(&self, item: &CourseLegItem) -> String {
        let (legs, change) = (item.course.legs(), item.lines.change());
        let rule = item.lines.rule();
        if let Task::Card(slip) = item.task {
            let corners = corners_words(item.course.corners(item.card(slip)));
            return format!("The corners of the card make {corners}. {rule}: {}", sum(legs[1], change));
        }
        let angle = match (&item.norths, item.lines) {
            (Some(norths), Lines::Grid(_)) => format!("G-M angle {}. ", norths.sum()),
            _ => String::new(),
        };
        let length = match item.task {
            Task::SetAndLength => format!(". All three legs count: {}", item.length(&item.course)),
            _ => String::new(),
        };
        format!("{angle}{rule}: {}{length}", sums(legs, change))
    }

    fn facts(&self, item: &CourseLegItem) -> Facts {
        let mut facts = Vec::with_capacity(MOST_FACTS);
        facts.push(Fact::north(FactName::Line, item.lines.north()));
        match (&item.norths, item.lines) {
            (Some(norths), _) => norths.push_facts(&mut facts),
            (None, Lines::Grid(between)) => facts.push(Fact::angle(FactName::GridMagnetic, between.angle())),
            (None, Lines::True(between)) => facts.push(Fact::angle(FactName::Declination, between.angle())),
        }
        facts.extend(LEG_FACTS.into_iter().zip(item.course.legs()).map(|(name, leg)| Fact::angle(name, angle(leg))));
        let wanted = match item.task {
            Task::Set => "course_bearings",
            Task::SetAndLength => {
                facts.extend(
                    MM_FACTS.into_iter().zip(item.course.mm).map(|(name, mm)| Fact::own_number(name, f64::from(mm))),
                );
                facts.push(Fact::own_number("scale_denominator", f64::from(item.course.scale.0) * 1000.0));
                "course_bearings_and_length"
            }
            Task::Card(slip) => {
                let card = CARD_FACTS.into_iter().zip(item.card(slip));
                facts.extend(card.map(|(name, leg)| Fact::own_angle(name, angle(leg))));
                "what_is_wrong_with_card"
            }
        };
        facts.push(Fact::wanted(Wanted::own(wanted)));
        facts.into()
    }

    fn prompt(&self, item: &CourseLegItem) -> String {
        let [home, second, third] = item.marks;
        let north = item.lines.north();
        let [one, two, three] = each(item.course.legs(), |leg| bearing(leg, north));
        let walks = match item.task {
            Task::Card(_) => "Another patrol is to walk a course",
            _ => "Your patrol walks a course",
        };
        let mut out = String::with_capacity(512);
        let _ = write!(
            out,
            "{walks}: from {home} to {second}, on to {third}, and home again. The map has {}, and by them the legs lie on {one}, {two} and {three}. {}",
            north.lines(),
            item.given_words()
        );
        match item.task {
            Task::Set => out.push_str("What do you set on the compass for each of the three legs?"),
            Task::SetAndLength => {
                let Course { mm: [one, two, three], scale, .. } = item.course;
                let _ = write!(
                    out,
                    "On this map of {scale} they are {one} mm, {two} mm and {three} mm long. What do you set on the compass for each leg, and how long is the course?"
                );
            }
            Task::Card(slip) => {
                let [one, two, three] = each(item.card(slip), |leg| bearing(leg, North::Magnetic));
                let _ = write!(
                    out,
                    "Their card says: set {one}, then {two}, then {three}. Does the course on the card close, what is wrong with the card, and what is to be set for the second leg?"
                );
            }
        }
        out
    }

    fn steps(&self, item: &CourseLegItem) -> Vec<Step> {
        let way = FigurePart::Line(LineRole::Right);
        let (legs, change, set) = (item.course.legs(), item.lines.change(), item.set());
        let mut steps = Vec::with_capacity(MOST_STEPS);
        let which = match item.lines {
            Lines::Grid(_) => {
                "The legs were measured from grid lines, and the needle knows nothing of these: what leads from the one to the other is the G-M angle"
            }
            Lines::True(_) => {
                "The legs were measured from true-north lines, and the needle knows nothing of these: what leads from the one to the other is the declination"
            }
        };
        steps.push(
            Step::words(which).decides("From which north were the legs measured, and which angle leads to the needle"),
        );
        if let (Some(norths), Lines::Grid(_)) = (&item.norths, item.lines) {
            norths.push_steps(&mut steps);
        }
        let mut rule = change_words(item.lines.north(), -change, true);
        rule.push_str(". The first leg");
        let first = "Which north lies further clockwise, so is the angle added or taken off? The first leg";
        steps.push(Step::new(rule, sum(legs[0], change)).about(way).decides(first));
        for (words, leg) in ["The second in the same way", "And the leg home"].into_iter().zip([legs[1], legs[2]]) {
            steps.push(Step::new(words, sum(leg, change)).about(way).decides(words));
        }
        if let Task::Card(slip) = item.task {
            item.push_card_steps(slip, &mut steps);
            return steps;
        }
        if item.task == Task::SetAndLength {
            let words = format!(
                "You walk home, too, so measure all three legs. A millimetre of this map is {} m",
                item.course.scale.0
            );
            steps.push(Step::new(words, item.length(&item.course)));
        }
        steps.push(item.corner_step(set, ["", ""]).about(way));
        steps.push(Step::words(
            "This finds a leg that you read at its wrong end. It never finds a wrong north, which turns all legs alike, nor a leg that is a little off, since what one corner gains the next one loses, nor a wrong length: so look once more at the letters and at each sum",
        ));
        let [one, two, three] = each(set, figures);
        let answer = fmt::from_fn(|out| {
            write!(out, "{one}, {two}, {three}")?;
            match item.task {
                Task::SetAndLength => write!(out, "; {} m", short(item.course.metres())),
                _ => Ok(()),
            }
        });
        steps.push(Step::new("The three legs to set", answer).answers());
        steps
    }

    fn caution(&self) -> Option<&'static str> {
        Some(HAZARD)
    }

    fn hint(&self, item: &CourseLegItem) -> String {
        match item.task {
            Task::Card(_) => {
                "Work out your own three numbers first. Then go round the card corner by corner: how far do you turn at each? And what would the corners be if only the north were wrong?"
            }
            _ if item.norths.is_some() => {
                "Which lines does the map have? Sketch their north and magnetic north: what the angle between them does to one leg, it does to all three."
            }
            _ => {
                "Sketch the two norths: which lies further clockwise? What the angle between them does to one leg, it does to all three."
            }
        }
        .to_owned()
    }

    fn figure(&self, item: &CourseLegItem) -> Figure {
        item.plan(false, None)
    }

    fn explanation(&self, item: &CourseLegItem, given: Option<&Answer>) -> Figure {
        item.plan(true, given)
    }
}

impl CourseLegItem {
    /// What is set for each leg.
    fn set(&self) -> [Tenths; 3] {
        each(self.course.legs(), |leg| self.lines.set(leg))
    }

    /// Whether a sum leaves the circle.
    fn wraps(&self) -> bool {
        leaves_circle(self.course.legs(), self.lines.change())
    }

    /// An answer in the fields that are asked.
    fn legs(&self, set: [Tenths; 3], metres: f64) -> Answer {
        let [one, two, three] = each(set, |leg| Value::Angle(angle(leg)));
        match self.task {
            Task::SetAndLength => Answer::four(one, two, three, Value::Number(metres)),
            Task::Set | Task::Card(_) => Answer::three(one, two, three),
        }
    }

    /// The angle or the angles that are given, as a sentence.
    fn given_words(&self) -> String {
        match (&self.norths, self.lines) {
            (Some(norths), _) => norths.given_words(false).to_string(),
            (None, Lines::Grid(between)) => alone("The G-M angle", between),
            (None, Lines::True(between)) => alone("Declination", between),
        }
    }

    /// The turns at the corners of these legs, and why they are put together; `after` stands behind either sentence.
    fn corner_step(&self, legs: [Tenths; 3], after: [&str; 2]) -> Step {
        let (legs, corners) = self.course.legs_and_corners(legs);
        let ([first, second, third], [why, turns]) = (each(legs, figures), after);
        let mut words = String::with_capacity(FULL.len() + 128);
        words.push_str(FULL);
        let _ = write!(words, "{why}. From {first} to {second}, to {third} and to {first} again{turns}");
        Step::new(words, corners_words(corners))
    }

    /// `(24 + 24 + 24) × 25 = 1800`.
    fn length(&self, course: &Course) -> String {
        let [one, two, three] = course.mm;
        format!("({one} + {two} + {three}) × {} = {}", course.scale.0, short(course.metres()))
    }
}

/// Whether the sum of a leg leaves the circle.
fn leaves_circle(legs: [Tenths; 3], change: Tenths) -> bool {
    legs.iter().any(|leg| wrap(leg + change) != leg + change)
}

fn alone<A: NorthKind, B: NorthKind>(name: &str, between: Offset<A, B>) -> String {
    format!("{}. ", given_alone_words(name, between, false))
}

/// The same sum for each leg.
fn sums(legs: [Tenths; 3], change: Tenths) -> impl Display {
    fmt::from_fn(move |out| {
        let [one, two, three] = legs;
        write!(out, "{}; {}; {}", sum(one, change), sum(two, change), sum(three, change))
    })
}

/// `120 + 120 + 120 = 360`, `120 − 60 − 60 = 0`.
fn corners_words(corners: [Tenths; 3]) -> impl Display {
    let [first, rest @ ..] = corners;
    fmt::from_fn(move |out| {
        write!(out, "{}", size(first))?;
        for corner in rest {
            write!(out, " {} {}", if corner < 0 { '−' } else { '+' }, size(corner))?;
        }
        write!(out, " = {}", size(corners.iter().sum::<Tenths>()))
    })
}

#[cfg(test)]
mod tests;
