//! Judging how somebody worked and what came out, each for itself.
//!
//! What was mended before the end is no fault: the state at the end decides, and the moves only tell how it came about.

mod around;
mod bearing;
mod dial;
mod orient;
mod sight;
mod take;
mod telling;
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
pub(super) use take::lines_reason;
use telling::Work;
use track::Track;
pub use wrong::{wrong_numbers, wrong_readings};

/// Judges the moves of an exercise, played from its start up to the first [`Move::Done`]. Moves that cannot be made are
/// left out.
#[must_use]
pub fn judge(exercise: &Exercise, moves: &[Move]) -> TableJudgement {
    let track = Track::play(exercise, moves);
    let (groups, state) = match &exercise.task {
        Task::Orient(north) => orient::judged(exercise, &track, *north),
        Task::OrientedBearing { legs, .. } => bearing::judged(exercise, &track, legs),
        Task::MapBearing { leg, .. } => bearing::judged(exercise, &track, &[*leg]),
        Task::Follow { .. } => sight::followed(exercise, &track),
        Task::BackSight { .. } => sight::looked_back(exercise, &track),
        Task::Around(around) => around::laid(exercise, &track, around),
        Task::Take(sighting) => take::taken(exercise, &track, sighting),
        Task::SetDial { number } => dial::set(exercise, &track, *number),
    };
    let mut procedure: Vec<Fault> = Vec::new();
    let mut told = Vec::new();
    let mut only_slips = true;
    for Group { work, faults } in &groups {
        for fault in faults {
            if !procedure.contains(fault) {
                procedure.push(*fault);
                let (done, why) = telling::told(exercise, work, *fault);
                // Two faults of one number have one reason.
                let known = told.iter().any(|earlier: &String| earlier.ends_with(&why));
                told.push(if known { done } else { format!("{done} {why}") });
                only_slips &= telling::is_slip(exercise, work, *fault);
            }
        }
    }
    let works: Vec<Work> = groups.into_iter().map(|group| group.work).collect();
    let right = procedure.is_empty() && state.right();
    let meaning = meaning(exercise, &state, right);
    TableJudgement { told, only_slips, did: telling::did(exercise, &works), procedure, state, right, meaning }
}

/// What is wrong with one stretch of the work: all of it, or one leg.
struct Group {
    work: Work,
    faults: Vec<Fault>,
}

/// How things lay in the state `at`, with the number that the state `to` shows.
fn work_at(exercise: &Exercise, track: &Track, at: usize, to: usize) -> Work {
    let (map_alone, compass_alone) = track.turned_alone(at);
    Work {
        seen: track.seen(exercise, at),
        shown: track.states[to].dial(),
        arrow: track.states[at].baseplate(),
        said: None,
        from: Angle::ZERO,
        map_moved: Angle::ZERO,
        map_alone,
        compass_alone,
        dial_untouched: !track.moves[..to].iter().any(|made| matches!(made, Move::SetDial(_) | Move::TurnDial(_))),
        leg: None,
        bearing: None,
        chosen: track.states[to].chosen(),
    }
}

/// The needle's south end so near to the arrow's head was meant to lie in it.
const SOUTH_END_MEANT_WITHIN: Angle = Angle::from_degrees(12.0);

/// The fault of a needle that lies in the arrow with neither end: its south end was meant to, or none. Never both: what is boxed is
/// not left out.
fn unboxed(seen: &Seen) -> Fault {
    let south = near(seen.needle_from_box, HALF_CIRCLE, SOUTH_END_MEANT_WITHIN);
    if south { Fault::NeedleReversed } else { Fault::NotBoxed }
}
