//! A3, angles across north: the turn from one bearing to another, and the bearing after a turn.

mod between;

use super::common::{CIRCLE, NOT_WRAPPED, Tenths, angle, bearing, size, wrap};
use super::turning::{
    ALL_ONE_WAY, FIRST_TURN_LEFT_OUT, SECOND_TURN_LEFT_OUT, START_LEFT_OUT, TURNED_OTHER_WAY, Turned, Turning, sense,
    sense_choice, turn_words,
};
use crate::angle::{Angle, North, SENSES};
use crate::problem::{
    Answer, Choices, Draw, Fact, Facts, Family, Field, FieldKind, Figure, FigurePart, Generator, HomeAngles, Level,
    LineRole, MixupList, NorthLine, NorthLines, Question, SketchLine, SkillMeta, Step, Tolerance, TurnFigure, Value,
    Wanted,
};
use between::{Between, LONG_WAY_ROUND, PLAIN_DIFFERENCE};
use std::fmt::Write;

/// The skill `turns`.
pub(super) struct Turns;

/// The numbers of one problem.
pub(super) enum TurnsItem {
    /// The turn between two bearings is asked for.
    Size { between: Between, level: Level },
    /// The bearing after one or two turns is asked for.
    Bearing { turning: Turning, told: Told, level: Level },
}

/// How the first turn is told.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Told {
    /// In degrees.
    Degrees,
    /// As part of a full turn.
    Part(&'static str),
}

static META: SkillMeta = SkillMeta {
    id: "turns",
    mark: "A3",
    family: Family::Dial,
    title: "Turns across north",
    can: "Says which way and how far to turn from one bearing to another, and what bearing a turn leads to.",
    levels: [
        "round numbers, a few across north, drawn",
        "any whole degree, some across north",
        "half across north, such as 350 to 010",
        "two turns one after the other",
    ],
    prerequisites: &[],
    mixups: &[
        TURNED_OTHER_WAY,
        LONG_WAY_ROUND,
        PLAIN_DIFFERENCE,
        START_LEFT_OUT,
        FIRST_TURN_LEFT_OUT,
        SECOND_TURN_LEFT_OUT,
        ALL_ONE_WAY,
        NOT_WRAPPED,
    ],
    lines: NorthLines::Any,
    on_home: false,
    generation: 2,
};

/// Where one turns on a walk.
const PLACES: [(&str, &str); 6] = [
    ("the ford", "the hut"),
    ("the gate", "the weir"),
    ("the chapel", "the lone pine"),
    ("the footbridge", "the cairn"),
    ("the spring", "the barn"),
    ("the signpost", "the old tower"),
];

const PARTS: [(Tenths, &str); 4] =
    [(450, "an eighth of a turn"), (900, "a quarter turn"), (1800, "half a turn"), (2700, "three quarters of a turn")];

impl Generator for Turns {
    type Item = TurnsItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> TurnsItem {
        let step = if level == Level::ONE { 100 } else { 10 };
        let size = draw.chance(1, 2);
        if level == Level::FOUR {
            return if size { TurnsItem::Size { between: Between::draw_chain(draw), level } } else { two_turns(draw) };
        }
        // One in four, three, two: neither counting through north always nor never is a rule.
        let across = draw.chance(1, 5 - u32::from(level.number()));
        // Drawn again until north is crossed or not, as the level asks.
        let (mut from, mut turn) = (0, 0);
        for _ in 0..64 {
            from = draw.between(0, 3590 / step) * step;
            turn = draw.between(200 / step, 1600 / step) * step * draw.sign();
            if (wrap(from + turn) != from + turn) == across {
                break;
            }
        }
        if size {
            let between = Between { from, to: wrap(from + turn), first: None };
            return TurnsItem::Size { between, level };
        }
        let turning = Turning { turned: Turned::Body, start: from, first: turn, second: 0 };
        TurnsItem::Bearing { turning, told: Told::Degrees, level }
    }

    fn question(&self, item: &TurnsItem) -> Question {
        static TURN: [Field; 2] = [
            Field {
                name: "direction",
                label: "which way",
                kind: FieldKind::Choice(Choices::Fixed(&SENSES)),
                tolerance: Tolerance::EXACT,
            },
            Field {
                name: "turn",
                label: "how far, in degrees",
                kind: FieldKind::Turn,
                tolerance: Tolerance::within(0.5),
            },
        ];
        static BEARING: [Field; 1] = [Field {
            name: "bearing",
            label: "magnetic bearing",
            kind: FieldKind::Bearing(North::Magnetic),
            tolerance: Tolerance::within(0.5),
        }];
        match item {
            TurnsItem::Size { .. } => Question::typed(&TURN),
            TurnsItem::Bearing { .. } => Question::typed(&BEARING),
        }
    }

    fn answer(&self, item: &TurnsItem) -> Answer {
        match item {
            TurnsItem::Size { between, .. } => between.right(),
            TurnsItem::Bearing { turning, .. } => turning.right(),
        }
    }

    fn mixups(&self, item: &TurnsItem, list: &mut MixupList) {
        match item {
            TurnsItem::Size { between, .. } => between.mixups(list),
            TurnsItem::Bearing { turning, .. } => turning.mixups(list),
        }
    }

    fn facts(&self, item: &TurnsItem) -> Facts {
        let start = |tenths| Fact::own_angle("start_magnetic_bearing_deg", angle(tenths));
        let mut facts = Vec::with_capacity(4);
        match item {
            TurnsItem::Size { between, .. } => {
                facts.push(start(between.from));
                if let Some(first) = between.first {
                    facts.push(Fact::own_angle("first_turn_deg", angle(first)));
                }
                facts.push(Fact::own_angle("end_magnetic_bearing_deg", angle(between.to)));
                facts.push(Fact::wanted(Wanted::own("shorter_turn_to_end")));
            }
            TurnsItem::Bearing { turning, .. } => {
                facts.push(start(turning.start));
                if turning.second == 0 {
                    facts.push(Fact::own_angle("turn_deg", angle(turning.first)));
                } else {
                    facts.push(Fact::own_angle("first_turn_deg", angle(turning.first)));
                    facts.push(Fact::own_angle("second_turn_deg", angle(turning.second)));
                }
                facts.push(Fact::wanted(Wanted::own("magnetic_bearing_after_turning")));
            }
        }
        Facts::from(facts)
    }

    fn prompt(&self, item: &TurnsItem) -> String {
        let mut out = String::with_capacity(180);
        match item {
            TurnsItem::Size { between, .. } => between.prompt(&mut out),
            TurnsItem::Bearing { turning, told, .. } if turning.second != 0 => {
                let (first, second) = place(turning.start);
                let _ = write!(out, "You walk on {}. At {first}", bearing(turning.start, North::Magnetic));
                match told {
                    Told::Degrees => {
                        let _ = write!(out, " you turn {}", turn_words(turning.first));
                    }
                    Told::Part(part) => {
                        let _ = write!(out, " you make {part} {}", sense(turning.first));
                    }
                }
                let _ = write!(
                    out,
                    ". At {second} you turn {}. On which bearing do you walk then?",
                    turn_words(turning.second)
                );
            }
            TurnsItem::Bearing { turning, .. } => {
                let _ = write!(
                    out,
                    "You face {} and turn {}. Which bearing do you face then?",
                    bearing(turning.start, North::Magnetic),
                    turn_words(turning.first)
                );
            }
        }
        out
    }

    fn steps(&self, item: &TurnsItem) -> Vec<Step> {
        let mut steps = Vec::with_capacity(4);
        match item {
            TurnsItem::Size { between, .. } => between.steps(&mut steps),
            TurnsItem::Bearing { turning, told, .. } => {
                if let Told::Part(part) = told {
                    let line = format_args!("{part} = {}", size(turning.first));
                    steps.push(Step::new("A full turn is 360 degrees", line));
                }
                turning.steps(&mut steps);
                let after = bearing(turning.raw(), North::Magnetic);
                let letter = Step::new("Write the letter of the north behind it", after);
                steps.push(letter.about(FigurePart::North(North::Magnetic)).answers());
            }
        }
        steps
    }

    fn hint(&self, item: &TurnsItem) -> String {
        match item {
            TurnsItem::Size { between, .. } if between.first.is_some() => {
                "Work out the bearing after the first turn. Then draw it and the wanted bearing from one point."
            }
            TurnsItem::Size { .. } => "Draw both bearings from one point. Which way is the smaller angle between them?",
            TurnsItem::Bearing { turning, .. } if turning.second != 0 => {
                "Take the turns one by one. Clockwise the numbers grow, counterclockwise they shrink."
            }
            TurnsItem::Bearing { turning, .. } if turning.wraps() => {
                "Do the numbers grow or shrink the way you turn? What comes after 359, or before 000?"
            }
            TurnsItem::Bearing { .. } => "Do the numbers grow or shrink the way you turn?",
        }
        .to_owned()
    }

    fn right_way(&self, item: &TurnsItem) -> String {
        match item {
            TurnsItem::Size { between, .. } => between.right_way(),
            TurnsItem::Bearing { turning, .. } => turning.right_way(),
        }
    }

    fn figure(&self, item: &TurnsItem) -> Figure {
        match item {
            TurnsItem::Size { between, level: Level::ONE } => Figure::Turn(TurnFigure {
                north: North::Magnetic,
                from: angle(between.from),
                to: angle(between.to),
                turn: None,
                learner: None,
            }),
            // Where the turn leads is asked for, so only the start is drawn.
            TurnsItem::Bearing { turning, level: Level::ONE, .. } => Figure::Sketch {
                norths: vec![NorthLine { north: North::Magnetic, at: Angle::ZERO }],
                lines: vec![SketchLine {
                    role: LineRole::Given,
                    at: angle(turning.start),
                    label: bearing(turning.start, North::Magnetic).to_string(),
                }],
                arcs: Vec::new(),
            },
            _ => Figure::None,
        }
    }

    fn explanation(&self, item: &TurnsItem, given: Option<&Answer>) -> Figure {
        let values = given.map(Answer::values);
        Figure::Turn(match item {
            TurnsItem::Size { between, .. } => {
                let learner = match values {
                    Some([Value::Choice(way), Value::Angle(size)]) => {
                        Some(if *way == sense_choice(-1) { -*size } else { *size })
                    }
                    _ => None,
                };
                let (from, turn) = (between.start(), angle(between.turn()));
                TurnFigure {
                    north: North::Magnetic,
                    from: angle(from),
                    to: angle(between.to),
                    turn: Some(turn),
                    learner,
                }
            }
            TurnsItem::Bearing { turning, .. } => {
                // Both turns in one; what goes more than once round is drawn without the full circle.
                let turn = (turning.first + turning.second) % CIRCLE;
                let from = angle(turning.start);
                let learner = match values {
                    Some([Value::Angle(bearing)]) => Some((*bearing - from).wrapped_half()),
                    _ => None,
                };
                TurnFigure {
                    north: North::Magnetic,
                    from,
                    to: angle(wrap(turning.raw())),
                    turn: Some(angle(turn)),
                    learner,
                }
            }
        })
    }
}

fn two_turns(draw: &mut Draw) -> TurnsItem {
    let (first, told) = if draw.chance(1, 3) {
        let (size, part) = draw.pick(&PARTS);
        (size, Told::Part(part))
    } else {
        (draw.between(20, 150) * 10, Told::Degrees)
    };
    let first = first * draw.sign();
    // Mostly the other way round: that is where turns get confused.
    let other_way = draw.chance(3, 4);
    let second = draw.between(20, 150) * 10 * if other_way { -first.signum() } else { first.signum() };
    let mut turning = Turning { turned: Turned::Body, start: 0, first, second };
    turning.draw_start(10, draw);
    TurnsItem::Bearing { turning, told, level: Level::FOUR }
}

/// The two places of a walk; any choice will do, so it follows from the bearing.
fn place(start: Tenths) -> (&'static str, &'static str) {
    PLACES[(start / 10).unsigned_abs() as usize % PLACES.len()]
}

#[cfg(test)]
mod tests;
