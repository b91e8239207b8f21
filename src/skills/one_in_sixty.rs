//! G5, one in sixty: what a bearing held a few degrees off does to the place where one arrives, and back from the place to
//! the degrees.
//!
//! One degree is one part in sixty of the way (common practice, no source). Beside the tangent the rule is short by 4.5 % at
//! 1°, 4.8 % at 5° and 5.5 % at 10° (arithmetic). The rule's number and the tangent's are both right.

mod meta;
mod plan;

use super::amounts::{amount as metres, comes_to, short};
use super::common::{InTenths, bearing, bearing_of, figures, sum};
use crate::angle::{Angle, Bearing, Magnetic, North, SENSES};
use crate::problem::{
    Answer, Choices, Draw, Fact, Facts, Field, FieldKind, Figure, FigurePart, Generator, HomeAngles, LengthUnit, Level,
    LineRole, MixupList, Question, SkillMeta, Step, Tolerance, TurnFigure, Value, Wanted,
};
use meta::{AWAY_FROM_LINE, META, ONLY_CLOSING, ONLY_PARALLEL, SIXTY_LEFT_OUT, TURNED_ROUND, WHOLE_WAY};
pub(super) use meta::{ONE_DEGREE_ONLY, PER_HUNDRED};
use std::fmt::{self, Display};

/// The skill `one-in-sixty`.
pub(super) struct OneInSixty;

/// The numbers of one problem.
pub(super) struct OneInSixtyItem {
    /// What one meant to walk.
    meant: Bearing<Magnetic>,
    /// Which side one came out on.
    side: Side,
    task: Task,
    level: Level,
    place: &'static str,
}

/// The side of the line that one meant to walk, looking ahead.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Side {
    Left,
    Right,
}

/// What is asked. Distances are whole metres, angles whole degrees.
#[derive(Clone, Copy, Debug)]
enum Task {
    /// How far beside the goal.
    Offset { distance: i32, off: i32 },
    /// How many degrees off.
    Error { distance: i32, offset: i32 },
    /// Which way and how far to turn now to come out at the goal after all.
    Closing { walked: i32, offset: i32, left: i32 },
}

const PLACES: [&str; 8] = [
    "the hut",
    "the ford",
    "the chapel",
    "the footbridge",
    "the lone pine",
    "the weir",
    "the spring",
    "the boundary stone",
];

/// Degrees that divide 60, so that distances of ten metres give whole ones.
const CLOSING: [i32; 7] = [2, 3, 4, 5, 6, 10, 12];

/// A tenth of the right number, so that the rule and the tangent are both right.
const NEAR: f64 = 0.1;

static METRES: [Field; 1] = [Field {
    name: "offset",
    label: "how far beside the goal, in metres",
    kind: FieldKind::Distance(LengthUnit::Metres),
    tolerance: Tolerance::share(NEAR, 0.5),
}];
static DEGREES: [Field; 1] = [Field {
    name: "degrees",
    label: "how many degrees off",
    kind: FieldKind::Turn,
    tolerance: Tolerance::share(NEAR, 0.5),
}];
static TURN: [Field; 2] = [
    Field {
        name: "way",
        label: "which way you turn",
        kind: FieldKind::Choice(Choices::Fixed(&SENSES)),
        tolerance: Tolerance::EXACT,
    },
    Field { name: "turn", label: "how far, in degrees", kind: FieldKind::Turn, tolerance: Tolerance::share(NEAR, 0.5) },
];

impl Side {
    const fn word(self) -> &'static str {
        match self {
            Side::Left => "left",
            Side::Right => "right",
        }
    }

    /// The way one turns to come back to the line: its place in [`SENSES`].
    const fn back(self) -> usize {
        match self {
            Side::Left => 0,
            Side::Right => 1,
        }
    }

    /// The sign of a bearing that leads to this side, clockwise positive.
    const fn sign(self) -> i32 {
        match self {
            Side::Left => -1,
            Side::Right => 1,
        }
    }
}

/// Degrees by the rule: sixty times the offset, divided by the way.
fn degrees(offset: i32, distance: i32) -> f64 {
    f64::from(60 * offset) / f64::from(distance)
}

impl Task {
    /// How far one walked off.
    fn off(self) -> Angle {
        Angle::from_degrees(match self {
            Task::Offset { off, .. } => f64::from(off),
            Task::Error { distance, offset } => degrees(offset, distance),
            Task::Closing { walked, offset, .. } => degrees(offset, walked),
        })
    }
}

fn size(degrees: f64) -> Answer {
    Answer::one(Value::degrees(degrees))
}

fn closing(way: usize, degrees: f64) -> Answer {
    Answer::two(Value::Choice(way), Value::degrees(degrees))
}

/// `900 / 60 = 15`: how far one degree leads off.
fn sixtieth(distance: i32) -> impl Display {
    fmt::from_fn(move |out| write!(out, "{distance} / 60 {}", comes_to(f64::from(distance) / 60.0)))
}

/// `18 × 4, or 1080 × 4 / 60 = 72`: how far so many degrees lead off, from what one of them does where that is a whole number.
fn times(distance: i32, degrees: i32) -> impl Display {
    fmt::from_fn(move |out| {
        if distance % 60 == 0 {
            write!(out, "{} × {degrees}, or ", distance / 60)?;
        }
        write!(out, "{distance} × {degrees} / 60 = {}", distance * degrees / 60)
    })
}

/// `132 / 22, or 60 × 132 / 1320 = 6`: how often what one degree does goes into it.
fn as_often(offset: i32, distance: i32) -> impl Display {
    fmt::from_fn(move |out| {
        if distance % 60 == 0 {
            write!(out, "{offset} / {}, or ", distance / 60)?;
        }
        write!(out, "{}", sixty(offset, distance))
    })
}

/// `60 × 45 / 900 = 3`: how many degrees lead so far off.
fn sixty(offset: i32, distance: i32) -> impl Display {
    fmt::from_fn(move |out| write!(out, "60 × {offset} / {distance} {}", comes_to(degrees(offset, distance))))
}

impl Generator for OneInSixty {
    type Item = OneInSixtyItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> OneInSixtyItem {
        let meant = bearing_of(draw.between(0, 359) * 10);
        let side = if draw.chance(1, 2) { Side::Left } else { Side::Right };
        let place = draw.pick(&PLACES);
        let off = draw.between(2, 10);
        // An odd number of degrees wants a way of whole sixties, so that whole metres come out.
        let step = if level == Level::ONE || off % 2 == 1 { 60 } else { 30 };
        let distance = match level.number() {
            1 => draw.between(3, 20) * step,
            _ => draw.between(240 / step, 2400 / step) * step,
        };
        let task = match level.number() {
            1 | 2 => Task::Offset { distance, off },
            3 => Task::Error { distance, offset: distance * off / 60 },
            _ => {
                let offset = draw.between(2, 9) * 10;
                let (behind, ahead) = (draw.pick(&CLOSING), draw.pick(&CLOSING));
                Task::Closing { walked: 60 * offset / behind, offset, left: 60 * offset / ahead }
            }
        };
        OneInSixtyItem { meant, side, task, level, place }
    }

    fn question(&self, item: &OneInSixtyItem) -> Question {
        match item.task {
            Task::Offset { .. } => Question::typed(&METRES),
            Task::Error { .. } => Question::typed(&DEGREES),
            Task::Closing { .. } => Question::typed(&TURN),
        }
    }

    fn answer(&self, item: &OneInSixtyItem) -> Answer {
        match item.task {
            Task::Offset { distance, off } => metres(f64::from(distance * off) / 60.0),
            Task::Error { distance, offset } => size(degrees(offset, distance)),
            Task::Closing { walked, offset, left } => {
                closing(item.side.back(), degrees(offset, walked) + degrees(offset, left))
            }
        }
    }

    fn mixups(&self, item: &OneInSixtyItem, list: &mut MixupList) {
        match item.task {
            Task::Offset { distance, off } => {
                let (way, degrees) = (f64::from(distance), f64::from(off));
                list.push(&TURNED_ROUND, metres(60.0 * way / degrees), || {
                    format!("60 × {distance} / {off} {}", comes_to(60.0 * way / degrees))
                });
                list.push(&ONE_DEGREE_ONLY, metres(way / 60.0), || sixtieth(distance));
                list.push(&SIXTY_LEFT_OUT, metres(way * degrees), || {
                    format!("{distance} × {off} = {}", distance * off)
                });
                list.push(&PER_HUNDRED, metres(way * degrees / 100.0), || {
                    format!("{distance} × {off} / 100 {}", comes_to(way * degrees / 100.0))
                });
            }
            Task::Error { distance, offset } => {
                let hundred = degrees(offset, distance) / 0.6;
                list.push(&ONE_DEGREE_ONLY, size(f64::from(distance) / 60.0), || sixtieth(distance));
                let bare = (f64::from(offset) / f64::from(distance) * 100.0).round() / 100.0;
                list.push(&SIXTY_LEFT_OUT, size(bare), || {
                    format!("{offset} / {distance} {}", comes_to(f64::from(offset) / f64::from(distance)))
                });
                list.push(&PER_HUNDRED, size(hundred), || format!("100 × {offset} / {distance} {}", comes_to(hundred)));
                let (right, over) = (degrees(offset, distance), f64::from(distance) / f64::from(offset));
                // Near 8° it comes out like the right number, and at 6° like a hundredth: there it shows nothing.
                if [right, hundred].into_iter().all(|other| (over - other).abs() > 2.0 * NEAR * other + 0.1) {
                    list.push(&TURNED_ROUND, size(over), || format!("{distance} / {offset} {}", comes_to(over)));
                }
            }
            Task::Closing { walked, offset, left } => {
                let (behind, ahead) = (degrees(offset, walked), degrees(offset, left));
                let back = item.side.back();
                list.push(&ONLY_PARALLEL, closing(back, behind), || sixty(offset, walked));
                list.push(&ONLY_CLOSING, closing(back, ahead), || sixty(offset, left));
                list.push(&WHOLE_WAY, closing(back, degrees(offset, walked + left)), || sixty(offset, walked + left));
                list.push(&AWAY_FROM_LINE, closing(1 - back, behind + ahead), || {
                    format!("{} {}°, further away from the line", SENSES[1 - back], short(behind + ahead))
                });
            }
        }
    }

    fn right_way(&self, item: &OneInSixtyItem) -> String {
        match item.task {
            Task::Offset { distance, off } => {
                format!("One degree is one in sixty: {distance} × {off} / 60 = {}", distance * off / 60)
            }
            Task::Error { distance, offset } => format!("One degree is one in sixty: {}", sixty(offset, distance)),
            Task::Closing { walked, offset, left } => {
                format!(
                    "Back to the line is {}: {} to walk beside it, and {} to close in",
                    SENSES[item.side.back()],
                    sixty(offset, walked),
                    sixty(offset, left)
                )
            }
        }
    }

    fn facts(&self, item: &OneInSixtyItem) -> Facts {
        let mut facts = vec![Fact::own_angle("start_magnetic_bearing_deg", item.meant.angle())];
        let number = |name, metres: i32| Fact::own_number(name, f64::from(metres));
        facts.extend(match item.task {
            Task::Offset { distance, .. } => {
                let mut facts = vec![
                    Fact::own_angle("end_magnetic_bearing_deg", item.walked().angle()),
                    number("distance_m", distance),
                    Fact::wanted(Wanted::own("offset")),
                ];
                if item.level == Level::ONE {
                    facts.push(Fact::own_angle("off_deg", item.task.off()));
                }
                facts
            }
            Task::Error { distance, offset } => vec![
                number("distance_m", distance),
                number("offset_m", offset),
                Fact::wanted(Wanted::own("degrees_off")),
            ],
            Task::Closing { walked, offset, left } => vec![
                number("walked_m", walked),
                number("offset_m", offset),
                number("left_m", left),
                Fact::wanted(Wanted::own("closing_turn")),
            ],
        });
        if !matches!(item.task, Task::Offset { .. }) || item.level == Level::ONE {
            facts.push(Fact::own_word("came_out", item.side.word()));
        }
        facts.into()
    }

    fn prompt(&self, item: &OneInSixtyItem) -> String {
        let (place, side) = (item.place, item.side.word());
        let meant = bearing(item.meant, North::Magnetic);
        match item.task {
            Task::Offset { distance, off } => {
                let walked = bearing(item.walked(), North::Magnetic);
                let told = if item.level == Level::ONE { format!(", {off}° to the {side}") } else { String::new() };
                format!(
                    "Fog comes in. You mean to walk {distance} m to {place} on {meant}, but all the way you walk on {walked}{told}. How far beside {place} do you come out?"
                )
            }
            Task::Error { distance, offset } => format!(
                "You meant to walk {distance} m to {place} on {meant}, and come out {offset} m to the {side} of it. By how many degrees were you off?"
            ),
            Task::Closing { walked, offset, left } => format!(
                "You mean to walk to {place} on {meant}. After {walked} m you see that you are {offset} m to the {side} of your line, and {place} is still {left} m ahead. Which way do you turn from the way you have been walking, to walk straight to it, and how far?"
            ),
        }
    }

    fn steps(&self, item: &OneInSixtyItem) -> Vec<Step> {
        let (walked_off, back) = (FigurePart::Line(LineRole::Given), FigurePart::Line(LineRole::Right));
        let off = if matches!(item.task, Task::Closing { .. }) { walked_off } else { FigurePart::Turn };
        let mut steps = vec![
            Step::words("Think of a circle round you with the way for its radius: it is about six ways round, so one of its 360 degrees is about a sixtieth of the way")
                .about(off),
        ];
        match item.task {
            Task::Offset { distance, off: degrees } => {
                if item.level > Level::ONE {
                    let (meant, walked) = (figures(item.meant), figures(item.walked()));
                    steps.push(Step::new(format!("From {meant} to {walked} is"), format!("{degrees}°")).about(off));
                }
                steps.push(Step::new("One degree leads off by a sixtieth", sixtieth(distance)));
                steps.push(
                    Step::new("So many degrees lead off so many times as far", times(distance, degrees)).about(off),
                );
                steps.push(Step::new("In metres", format_args!("{} m", distance * degrees / 60)));
            }
            Task::Error { distance, offset } => {
                steps.push(Step::new("One degree would have led off by a sixtieth", sixtieth(distance)));
                steps.push(
                    Step::new(
                        "As often as that goes into what you are off, so many degrees it was",
                        as_often(offset, distance),
                    )
                    .about(off),
                );
                steps.push(Step::new("In degrees", format_args!("{}°", short(degrees(offset, distance)))));
            }
            Task::Closing { walked, offset, left } => {
                let (behind, ahead) = (degrees(offset, walked), degrees(offset, left));
                steps.push(Step::new("On the way walked you went off by", sixty(offset, walked)).about(off));
                steps.push(
                    Step::new(
                        "That much back, and you walk beside your line; to meet it at the goal, close in by",
                        sixty(offset, left),
                    )
                    .about(back),
                );
                steps.push(
                    Step::new(
                        "Both together",
                        format_args!("{} + {} = {}", short(behind), short(ahead), short(behind + ahead)),
                    )
                    .about(back),
                );
                // Whole degrees, as all that one closes in by.
                let closing = -item.side.sign() * 10 * (60 * offset / left);
                steps.push(Step::new(
                    "You turn by both. But the dial has what you meant to walk, and not what you walked: from its number the second piece alone is left, so set",
                    sum(item.meant.in_tenths(), closing),
                ));
                let reason = match item.side {
                    Side::Left => "You stand left of the line, so it lies clockwise",
                    Side::Right => "You stand right of the line, so it lies counterclockwise",
                };
                steps.push(
                    Step::new(reason, format_args!("{} {}°", SENSES[item.side.back()], short(behind + ahead)))
                        .answers(),
                );
            }
        }
        steps
    }

    fn hint(&self, item: &OneInSixtyItem) -> String {
        match item.task {
            Task::Offset { .. } => "How far off would a single degree lead? It is a sixtieth of the way.",
            Task::Error { .. } => "A single degree leads off by a sixtieth of the way. How often does that go into what you are off?",
            Task::Closing { .. } => "Draw your line, where you stand and the goal. There are two angles: one back to walk beside the line, one more to meet it.",
        }
        .to_owned()
    }

    fn figure(&self, item: &OneInSixtyItem) -> Figure {
        // From level 3 on the angle is what is asked, and sketching it what the hint says.
        if matches!(item.task, Task::Offset { .. }) { item.sketch(None, None) } else { Figure::None }
    }

    fn explanation(&self, item: &OneInSixtyItem, given: Option<&Answer>) -> Figure {
        if let Task::Closing { walked, offset, left } = item.task {
            return item.closing_plan((walked, offset, left), given);
        }
        let learner = match (item.task, given.map(Answer::values)) {
            (Task::Error { .. }, Some([Value::Angle(size)])) => Some(*size * item.side.sign()),
            _ => None,
        };
        item.sketch(Some(item.off()), learner)
    }
}

impl OneInSixtyItem {
    /// How far one walked off, clockwise positive.
    fn off(&self) -> Angle {
        self.task.off() * self.side.sign()
    }

    /// What one walked on.
    fn walked(&self) -> Bearing<Magnetic> {
        self.meant.turned(self.off())
    }

    /// The way meant and the way walked, from one point.
    fn sketch(&self, turn: Option<Angle>, learner: Option<Angle>) -> Figure {
        let (from, to) = (self.meant.angle(), self.walked().angle());
        Figure::Turn(TurnFigure { north: North::Magnetic, from, to, turn, learner })
    }
}

#[cfg(test)]
mod tests;
