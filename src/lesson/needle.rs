//! Lesson 1: the needle stays, you turn.

use super::figure::{AtTable, Holding, Knob, Part, number, whole};
use super::{Lesson, Question, Screen};
use crate::angle::{Angle, Bearing, Convergence, Declination, North};
use crate::maptable::{Exercise, Hold, Landmark, MapLines, Table, Task};
use crate::problem::TableProblem;

pub(super) static LESSON: Lesson = Lesson {
    id: "needle",
    title: "Needle and dial",
    idea: "The needle stays, you turn; the dial is read at the index line.",
    before: &["read-dial", "set-dial"],
    screens: &[
        Screen {
            text: "Hold the compass level, away from iron and phones. Turn yourself: the land runs past, and the needle keeps pointing to magnetic north.",
            figure: |_| Box::new(in_hand(20, 0, ONESELF)),
        },
        Screen {
            text: "The index line stands at the foot of the travel arrow. There you read the dial. Turn the dial until 090 stands at it.",
            figure: |_| Box::new(in_hand(20, 30, DIAL)),
        },
        Screen {
            text: "090 is set. Turn yourself until the needle's north end lies in the orienting arrow: boxed. Now the travel arrow points along 090.",
            figure: |_| Box::new(in_hand(20, 90, TO_BOX)),
        },
        Screen {
            text: "Now as you like: set another number, turn yourself until the needle is boxed, and see what lies that way.",
            figure: |_| Box::new(in_hand(90, 90, BOTH)),
        },
    ],
    question: Question {
        text: "040 is set on the dial. What do you do to look along 040?",
        choices: &[
            "turn the dial to the needle",
            "turn yourself until the needle is boxed",
            "walk where the needle points",
        ],
        right: 1,
        why: "The needle stays where it is. When you have turned until it is boxed, the travel arrow points along the number at the index line.",
    },
};

const YOURSELF: Knob = Knob::new("turn yourself", 5, 45);
const THE_DIAL: Knob = Knob::new("turn the dial", 5, 45);

const ONESELF: Holding = Holding {
    knobs: &[YOURSELF],
    holds: &[Hold::Oneself],
    says: |at| {
        let needle = at.seen().needle.wrapped_half();
        let side = match whole(needle) {
            0 => "straight ahead".to_owned(),
            off if off.abs() == 180 => "straight behind you".to_owned(),
            off if off < 0 => format!("{}° to your left", -off),
            off => format!("{off}° to your right"),
        };
        format!("You look along {}, counted from magnetic north. The needle points there: {side}.", facing(at))
    },
    reached: |_| true,
    missed: |_| None,
    parts: &[Part::Needle],
};

const DIAL: Holding = Holding {
    knobs: &[THE_DIAL],
    holds: &[Hold::Dial],
    says: |at| {
        let east = if at.at_index() == "090" { " That is east." } else { "" };
        format!("{} stands at the index line.{east} Clockwise (→) brings smaller numbers to it.", at.at_index())
    },
    reached: |at| at.at_index() == "090",
    missed: |_| None,
    parts: &[Part::TravelArrow, Part::IndexLine, Part::Dial],
};

const TO_BOX: Holding = Holding {
    knobs: &[YOURSELF],
    holds: &[Hold::Oneself],
    says: boxed_or_not,
    reached: AtTable::boxed,
    missed: |_| None,
    parts: &[Part::OrientingArrow, Part::Needle],
};

const BOTH: Holding = Holding {
    knobs: &[THE_DIAL, YOURSELF],
    holds: &[Hold::Dial, Hold::Oneself],
    says: boxed_or_not,
    reached: |_| true,
    missed: |_| None,
    parts: &[],
};

fn boxed_or_not(at: &AtTable) -> String {
    if !at.boxed() {
        return format!("{} at the index line. {}.", at.at_index(), at.needle_words());
    }
    let ahead = at.problem.exercise.landmark_near(at.table.baseplate());
    let Task::Follow { landmarks, .. } = &at.problem.exercise.task else { return at.needle_words() };
    match ahead.and_then(|index| landmarks.get(usize::from(index))) {
        Some(landmark) => format!("Boxed: the travel arrow points along {}, to {}.", at.at_index(), landmark.name),
        None => format!("Boxed: the travel arrow points along {}.", at.at_index()),
    }
}

/// The magnetic bearing along the travel arrow.
fn facing(at: &AtTable) -> String {
    number(at.table.baseplate().angle() - at.problem.exercise.declination.angle())
}

/// What stands around, and on which magnetic bearing.
const AROUND: [(&str, f64); 6] = [
    ("the mill", 5.0),
    ("the hut", 60.0),
    ("the tower", 90.0),
    ("the lone pine", 155.0),
    ("the chapel", 215.0),
    ("the weir", 300.0),
];

/// The compass in the hand, facing this magnetic bearing, with this number at the index line.
fn in_hand(facing: i32, dial: i32, holding: Holding) -> AtTable {
    let declination = Declination::from_degrees(-8.0);
    let azimuth = |magnetic: f64| Bearing::from_angle(Angle::from_degrees(magnetic) + declination.angle());
    let landmarks = AROUND.iter().map(|(name, at)| Landmark { name: (*name).into(), azimuth: azimuth(*at) }).collect();
    let exercise = Exercise {
        task: Task::Follow { bearing: Angle::from_degrees(90.0), north: North::Magnetic, landmarks },
        start: Table::new(Bearing::from_degrees(0.0), azimuth(f64::from(facing)), Angle::from_degrees(f64::from(dial))),
        declination,
        printed: declination,
        convergence: Convergence::from_degrees(0.0),
        iron: Angle::ZERO,
        graduation: Angle::from_degrees(2.0),
        lines: MapLines::default(),
    };
    AtTable::after(TableProblem::in_hand(exercise), &[], holding)
}
