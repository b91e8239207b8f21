//! Judging a map that is laid by what stands around one.

use super::dial;
use super::telling::Work;
use super::track::Track;
use super::{Group, work_at};
use crate::angle::Angle;
use crate::maptable::amount::{near, off_words, within};
use crate::maptable::around::{Around, LaidBy};
use crate::maptable::{Exercise, Fault, StateVerdict};

/// How far off a map may lie that is laid by eye (skills.md: 10 for the trade, 30 in STP 21-1-SMCT).
const BY_EYE: Angle = Angle::from_degrees(10.0);

/// Judges it.
pub(super) fn laid(exercise: &Exercise, track: &Track, around: &Around) -> (Vec<Group>, StateVerdict) {
    let off = track.last().map().angle().wrapped_half();
    let faults = if within(off, BY_EYE) {
        Vec::new()
    } else {
        vec![dial::only_one(off, Angle::ZERO, &around.wrong_lies(), BY_EYE).unwrap_or(Fault::MapOff)]
    };
    let work = Work { map_moved: off, ..work_at(exercise, track, track.end(), track.end()) };
    (vec![Group { work, faults }], StateVerdict::Map { off, expected: Angle::ZERO, tolerance: BY_EYE })
}

/// One fault in sentences: what was done, and the reason.
pub(super) fn told(around: &Around, work: &Work, fault: Fault) -> (String, String) {
    let done = match (fault, &around.by) {
        (Fault::MarksSwapped, LaidBy::Marks([one, other])) => {
            format!("You laid the mark of {} toward {}.", one.name, other.name)
        }
        _ => format!("You {}.", fault.said()),
    };
    let why = match (fault, &around.by) {
        (Fault::MapUpsideDown, LaidBy::Line { line, beside }) => format!(
            "{} runs both ways alike. {} stands beside it: on the map it must lie on the same side as on the ground.",
            crate::maptable::verdict::capital(&line.name),
            crate::maptable::verdict::capital(&beside.name)
        ),
        (Fault::MapOff, _) => format!("{} {}", around.off_reason(work.map_moved), fault.mend()),
        _ => fault.mend().to_owned(),
    };
    (done, why)
}

/// What was done: `the map as the ground lies`, `the map 34° off, turned clockwise`.
pub(super) fn did(work: &Work) -> String {
    if near(work.map_moved, Angle::ZERO, BY_EYE) {
        "the map as the ground lies".to_owned()
    } else {
        format!("the map {}", off_words(work.map_moved))
    }
}
