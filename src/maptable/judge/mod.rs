//! Judging how somebody worked and what came out, each for itself.
//!
//! What was mended before the end is no fault: the state at the end decides, and the moves only tell how it came about.

mod bearing;
mod dial;
mod orient;
mod sight;
mod track;
mod wrong;

use super::amount::{HALF_CIRCLE, near};
use super::fault::Fault;
use super::moves::Move;
use super::seen::Seen;
use super::task::{Exercise, Task};
use super::verdict::{TableJudgement, meaning};
use crate::angle::Angle;
pub(super) use sight::stands;
use track::Track;
pub use wrong::{wrong_numbers, wrong_readings};

/// Judges the moves of an exercise, played from its start up to the first [`Move::Done`]. Moves that cannot be made are
/// left out.
#[must_use]
pub fn judge(exercise: &Exercise, moves: &[Move]) -> TableJudgement {
    let track = Track::play(exercise, moves);
    let (found, state) = match &exercise.task {
        Task::Orient(north) => orient::judged(exercise, &track, *north),
        Task::OrientedBearing { legs, .. } => bearing::judged(exercise, &track, legs),
        Task::MapBearing { leg, .. } => bearing::judged(exercise, &track, &[*leg]),
        Task::Follow { .. } => sight::followed(exercise, &track),
        Task::BackSight { .. } => sight::looked_back(exercise, &track),
        Task::SetDial { number } => dial::set(exercise, &track, *number),
    };
    let mut procedure: Vec<Fault> = Vec::with_capacity(found.len());
    for fault in found {
        if !procedure.contains(&fault) {
            procedure.push(fault);
        }
    }
    let right = procedure.is_empty() && state.right();
    let meaning = meaning(exercise, &state, right);
    TableJudgement { procedure, state, right, meaning }
}

/// The needle's south end so near to the arrow's head was meant to lie in it.
const SOUTH_END_MEANT_WITHIN: Angle = Angle::from_degrees(12.0);

/// The faults of a needle that lies in the arrow with neither end.
fn unboxed(seen: &Seen) -> Vec<Fault> {
    if near(seen.needle_from_box, HALF_CIRCLE, SOUTH_END_MEANT_WITHIN) {
        vec![Fault::NeedleReversed, Fault::NotBoxed]
    } else {
        vec![Fault::NotBoxed]
    }
}
