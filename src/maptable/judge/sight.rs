//! Judging what is sighted along the travel arrow: a bearing followed, a look back.

use super::dial::{self, Number};
use super::track::Track;
use super::{Group, unboxed, work_at};
use crate::angle::{Angle, Bearing, True};
use crate::maptable::amount::{HALF_CIRCLE, LAID_WITHIN, SLIP_WITHIN, figures, near, within};
use crate::maptable::verdict::capital;
use crate::maptable::{Boxed, Chosen, Exercise, Fault, Stands, StateVerdict, Task};

/// Judges the following of a bearing.
pub(super) fn followed(exercise: &Exercise, track: &Track) -> (Vec<Group>, StateVerdict) {
    let Task::Follow { bearing, north, landmarks } = &exercise.task else { return nothing() };
    let end = track.end();
    let shown = track.last().dial();
    let wanted = (*bearing - exercise.magnetic_from(*north)).wrapped();
    let formulas = dial::formulas(exercise, *bearing, *north);
    let mut faults = match dial::name(shown, wanted, &formulas, exercise.dial_tolerance()) {
        Number::Right => Vec::new(),
        // A slip of the hand, however it came about.
        _ if near(shown, wanted, SLIP_WITHIN) => vec![Fault::DialOff],
        _ if track.boxed_by_dial(exercise, end) => vec![Fault::DialForSelf],
        Number::Named(faults) => faults,
        Number::Unknown => vec![Fault::DialOff],
    };
    match track.seen(exercise, end).boxed {
        Boxed::NorthEnd => {}
        Boxed::SouthEnd => faults.push(Fault::NeedleReversed),
        Boxed::No => faults.push(unboxed(&track.seen(exercise, end))),
    }
    let arrow = track.last().baseplate();
    let chosen = match track.last().chosen() {
        Some(Chosen::Landmark(number)) => Some(number),
        Some(Chosen::Stands(_) | Chosen::Trusts(_)) | None => None,
    };
    faults.extend(choice_fault(exercise, arrow, chosen));
    let ahead = exercise.ahead().unwrap_or(arrow);
    let right = chosen.is_some() && chosen == exercise.landmark_near(ahead);
    let name = |at: Option<u8>| at.and_then(|at| landmarks.get(usize::from(at))).map(|mark| &*mark.name);
    let choice = match (name(chosen), name(exercise.landmark_near(ahead))) {
        (Some(named), _) if right => format!("Along {} on the dial lies {named}, as you said.", figures(wanted)),
        (Some(named), Some(there)) => {
            format!("You named {named}; along {} on the dial lies {there}.", figures(wanted))
        }
        (None, Some(there)) => format!("Along {} on the dial lies {there}.", figures(wanted)),
        (_, None) => String::new(),
    };
    let end = [Group { work: work_at(exercise, track, end, end), faults }];
    (end.into(), StateVerdict::Ahead { off: ahead.turn_to(arrow), right, choice })
}

fn choice_fault(exercise: &Exercise, arrow: Bearing<True>, chosen: Option<u8>) -> Option<Fault> {
    let chosen = match chosen {
        None => return Some(Fault::NothingChosen),
        some => some,
    };
    if chosen == exercise.landmark_near(arrow) {
        None
    } else if chosen == exercise.landmark_near(arrow.back()) {
        Some(Fault::LookedBack)
    } else if chosen == exercise.landmark_near(exercise.needle()) {
        Some(Fault::LookedAlongNeedle)
    } else {
        Some(Fault::NotAhead)
    }
}

/// Directions that differ by no more than this are one way: what lies ahead on the one is in view on the other.
const SAME_WAY_WITHIN: Angle = Angle::from_degrees(45.0);

/// Judges a look back along the line that is walked.
///
/// The number stays and the needle's south end is boxed; the back bearing with the north end boxed looks the same way
/// and is right as well.
pub(super) fn looked_back(exercise: &Exercise, track: &Track) -> (Vec<Group>, StateVerdict) {
    let Task::BackSight { walked, start_mark, doubt } = &exercise.task else { return nothing() };
    let end = track.end();
    let shown = track.last().dial();
    let tolerance = exercise.dial_tolerance();
    let mut faults = Vec::new();
    let reversed = near(shown, walked.angle() + HALF_CIRCLE, tolerance);
    if !reversed && !near(shown, walked.angle(), tolerance) {
        let by_dial = track.boxed_by_dial(exercise, end);
        faults.push(if by_dial { Fault::DialForSelf } else { Fault::DialOff });
    }
    match (track.seen(exercise, end).boxed, reversed) {
        // With the back bearing on the dial it is the north end, as everywhere else.
        (Boxed::No, true) => faults.push(unboxed(&track.seen(exercise, end))),
        (Boxed::No, false) => faults.push(Fault::SouthNotBoxed),
        (Boxed::NorthEnd, true) | (Boxed::SouthEnd, false) => {}
        // By a number of its own the arrow points anywhere, and what was meant by the end that is boxed cannot be known.
        (Boxed::NorthEnd, false) if !near(shown, walked.angle(), SAME_WAY_WITHIN) => {}
        (Boxed::NorthEnd, false) | (Boxed::SouthEnd, true) => faults.push(Fault::NotReversed),
    }
    let arrow = track.last().baseplate();
    let ahead = exercise.ahead().unwrap_or(arrow);
    let stands = if doubt.holds() { Stands::CannotTell } else { stands(ahead.turn_to(*start_mark)) };
    // Who looked another way did not see the mark: what was meant by the side cannot be known.
    let looked_away = !within(ahead.turn_to(arrow), SAME_WAY_WITHIN);
    let (right, choice) = match track.last().chosen() {
        Some(Chosen::Stands(said)) => {
            match (said, stands) {
                (Stands::Left | Stands::Right | Stands::OnLine, Stands::Left | Stands::Right | Stands::OnLine)
                    if looked_away => {}
                (Stands::Left, Stands::Right) | (Stands::Right, Stands::Left) => faults.push(Fault::SidesSwapped),
                (Stands::CannotTell, Stands::CannotTell) => {}
                (_, Stands::CannotTell) => faults.push(Fault::IronUnheeded),
                (Stands::CannotTell, _) => faults.push(Fault::IronSupposed),
                (said, stands) if said != stands => faults.push(Fault::OffsetUnseen),
                _ => {}
            }
            (said == stands, where_one_stands(said, stands))
        }
        Some(Chosen::Landmark(_) | Chosen::Trusts(_)) | None => {
            faults.push(Fault::NothingChosen);
            (false, sentence(&stands.sentence()))
        }
    };
    let end = [Group { work: work_at(exercise, track, end, end), faults }];
    (end.into(), StateVerdict::Ahead { off: ahead.turn_to(arrow), right, choice })
}

/// What was said of where one stands, beside what is so.
fn where_one_stands(said: Stands, is: Stands) -> String {
    if said == is {
        return sentence(&format!("{}, as you said", is.sentence()));
    }
    match said {
        Stands::CannotTell => format!("You said that it cannot be told. {}", sentence(&is.sentence())),
        _ => format!("You said that you stand {}. {}", said.place(), sentence(&is.sentence())),
    }
}

/// A text as a sentence: with a capital at the front and a full stop behind.
fn sentence(text: &str) -> String {
    capital(text) + "."
}

/// Where one stands when the start lies this far clockwise of the line back. Walking north and standing east of the
/// line, the start bears more than 180.
pub(crate) fn stands(off: Angle) -> Stands {
    if off > LAID_WITHIN {
        Stands::Right
    } else if off < -LAID_WITHIN {
        Stands::Left
    } else {
        Stands::OnLine
    }
}

/// For a task of another kind: cannot happen, and must not panic.
fn nothing() -> (Vec<Group>, StateVerdict) {
    (Vec::new(), StateVerdict::Ahead { off: Angle::ZERO, right: false, choice: String::new() })
}
