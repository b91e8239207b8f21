//! Judging the orienting of a map by one of its lines.

use super::dial::{self, Number};
use super::telling::Work;
use super::track::Track;
use super::{Group, work_at};
use crate::angle::{Angle, North};
use crate::maptable::amount::{HALF_CIRCLE, LAID_WITHIN, SLIP_WITHIN, near, shows, turn, within};
use crate::maptable::{Boxed, Exercise, Fault, LineName, Move, StateVerdict};

/// Judges it.
pub(super) fn judged(exercise: &Exercise, track: &Track, north: North) -> (Vec<Group>, StateVerdict) {
    let at = track.last_on_map(0, track.end());
    let edge = track.edge_faults(exercise, at, LineName::of(north));
    let from = counted_from(exercise, track, at, north, &edge);
    let mut faults = match map_for_dial(exercise, track, at, north) {
        Some(faults) => faults,
        None => worked(exercise, track, at, north, from, edge),
    };
    let map_moved = track.map_turn(at, track.end());
    if !within(map_moved, LAID_WITHIN) {
        faults.push(Fault::MapMoved);
    }
    // Who allows for the drift of an old line brings the map to lie right.
    let expected = if allows_for_drift(exercise, track, at, north, from) {
        exercise.iron.wrapped_half()
    } else {
        exercise.lies_after_orienting(north)
    };
    let tolerance = LAID_WITHIN + exercise.dial_tolerance();
    let work = Work { from, map_moved, ..work_at(exercise, track, at, at) };
    let state = StateVerdict::Map { off: track.last().map().angle().wrapped_half(), expected, tolerance };
    (vec![Group { work, faults }], state)
}

/// Which end of the line the dial counts from. With the travel arrow toward the line's south end it may count from there: 180
/// more on the dial, and its N points the same way as with the arrow to its north end. Half a circle then, else nothing.
fn counted_from(exercise: &Exercise, track: &Track, at: usize, north: North, edge: &[Fault]) -> Angle {
    let tolerance = exercise.dial_tolerance();
    let shown = track.states[at].dial() - HALF_CIRCLE;
    let wanted = (-exercise.magnetic_from(north)).wrapped();
    let belongs_to_line = || match edge.first() {
        Some(Fault::WrongLine(line)) => own_number(exercise, *line).is_some_and(|own| near(shown, own, tolerance)),
        _ => false,
    };
    let named = || match dial::name(shown, wanted, &dial::formulas(exercise, Angle::ZERO, north), tolerance) {
        Number::Right => true,
        Number::Named(faults) => !faults.contains(&Fault::DialReversed) && !track.boxed_by_dial(exercise, at),
        Number::Unknown => near(shown, wanted, SLIP_WITHIN),
    };
    let left_at_zero = || track.seen(exercise, at).boxed == Boxed::No && near(shown, Angle::ZERO, tolerance);
    let counts = edge.contains(&Fault::ArrowBack)
        && (named() || belongs_to_line() || allows_on_dial(exercise, shown, north) || left_at_zero());
    if counts { HALF_CIRCLE } else { Angle::ZERO }
}

/// The faults of edge, dial and needle.
fn worked(exercise: &Exercise, track: &Track, at: usize, north: North, from: Angle, edge: Vec<Fault>) -> Vec<Fault> {
    let mut faults = edge;
    faults.retain(|fault| *fault != Fault::ArrowBack || from == Angle::ZERO);
    let boxed = track.seen(exercise, at).boxed;
    if boxed == Boxed::No
        && let Some(other) = by_needle_number(exercise, track, at, north, from)
    {
        faults.extend(other);
        return faults;
    }
    faults.extend(dial_faults(exercise, track, at, north, from, faults.first().copied()));
    match boxed {
        Boxed::NorthEnd => {}
        Boxed::SouthEnd => faults.push(Fault::NeedleReversed),
        Boxed::No => faults.push(super::unboxed(&track.seen(exercise, at))),
    }
    faults
}

/// The faults of the dial. The number that belongs to the line really used is no second fault.
fn dial_faults(
    exercise: &Exercise,
    track: &Track,
    at: usize,
    north: North,
    from: Angle,
    edge: Option<Fault>,
) -> Vec<Fault> {
    let tolerance = exercise.dial_tolerance();
    let shown = (track.states[at].dial() - from).wrapped();
    if let Some(Fault::WrongLine(line)) = edge
        && own_number(exercise, line).is_some_and(|own| near(shown, own, tolerance))
    {
        return Vec::new();
    }
    if allows_on_dial(exercise, shown, north) {
        return Vec::new();
    }
    let wanted = (-exercise.magnetic_from(north)).wrapped();
    let by_dial = track.boxed_by_dial(exercise, at);
    match dial::name(shown, wanted, &dial::formulas(exercise, Angle::ZERO, north), tolerance) {
        Number::Right => Vec::new(),
        // A slip of the hand, however it came about.
        _ if near(shown, wanted, SLIP_WITHIN) => vec![Fault::DialOff],
        _ if by_dial => vec![Fault::DialForMap],
        Number::Named(faults) => faults,
        Number::Unknown => vec![Fault::DialOff],
    }
}

/// The number that would orient the map by this line; the prong and the border are taken for what they look like.
pub(super) fn own_number(exercise: &Exercise, line: LineName) -> Option<Angle> {
    match line {
        LineName::Magnetic | LineName::Prong => Some(Angle::ZERO),
        LineName::True | LineName::Grid | LineName::Border => {
            Some(exercise.lines.toward(line)?.angle() - exercise.declination.angle())
        }
        LineName::Across | LineName::Leg(_) => None,
    }
}

/// How far the needle has moved since the magnetic-north line was drawn, clockwise positive; nothing for another line.
fn drift(exercise: &Exercise, north: North) -> Angle {
    if north == North::Magnetic { turn(exercise.printed.angle(), exercise.declination.angle()) } else { Angle::ZERO }
}

/// Whether the number on the dial allows for that.
pub(super) fn allows_on_dial(exercise: &Exercise, shown: Angle, north: North) -> bool {
    let drift = drift(exercise, north);
    shows(drift) && near(shown, -drift, exercise.dial_tolerance())
}

/// Whether it was allowed for, on the dial or with the needle held beside the arrow.
fn allows_for_drift(exercise: &Exercise, track: &Track, at: usize, north: North, from: Angle) -> bool {
    let beside =
        || north == North::Magnetic && by_needle_number(exercise, track, at, north, from).is_some_and(|f| f.is_empty());
    let boxed = track.seen(exercise, at).boxed;
    match boxed {
        Boxed::No => beside(),
        Boxed::NorthEnd | Boxed::SouthEnd => allows_on_dial(exercise, track.states[at].dial() - from, north),
    }
}

/// The other known way, dial at 000 and the map turned until the needle points to the number of the angle. None when it
/// was not used; else its faults.
fn by_needle_number(exercise: &Exercise, track: &Track, at: usize, north: North, from: Angle) -> Option<Vec<Fault>> {
    let angle = exercise.magnetic_from(north) + drift(exercise, north);
    if within(angle, LAID_WITHIN) || !near(track.states[at].dial(), from, exercise.dial_tolerance()) {
        return None;
    }
    let number = track.seen(exercise, at).needle_on_dial;
    [
        (angle, vec![]),
        (-angle, vec![Fault::SignFlipped]),
        (angle + HALF_CIRCLE, vec![Fault::NeedleReversed]),
        (HALF_CIRCLE - angle, vec![Fault::NeedleReversed, Fault::SignFlipped]),
    ]
    .into_iter()
    .find(|(wanted, _)| near(number, *wanted, LAID_WITHIN))
    .map(|(_, faults)| faults)
}

/// The dial left at 000, the needle boxed, and then the map turned alone under the compass by the angle that belongs on
/// the dial.
fn map_for_dial(exercise: &Exercise, track: &Track, at: usize, north: North) -> Option<Vec<Fault>> {
    let angle = exercise.magnetic_from(north);
    let table = &track.states[at];
    let line = LineName::of(north);
    let laid = track.last_laid(exercise, at) == Some(line);
    let alone = track.moves[..at].iter().any(|made| matches!(made, Move::TurnMap(_)));
    let boxed = track.seen(exercise, at).boxed == Boxed::NorthEnd;
    let untouched = near(table.dial(), Angle::ZERO, exercise.dial_tolerance());
    if within(angle, LAID_WITHIN) || !laid || !alone || !boxed || !untouched {
        return None;
    }
    // Where the line now lies, from the travel arrow.
    let lies = exercise.lines.toward(line)?.angle() - table.arrow_on_map().angle();
    if near(lies, -angle, LAID_WITHIN) {
        Some(vec![Fault::MapForDial])
    } else if near(lies, angle, LAID_WITHIN) {
        Some(vec![Fault::MapForDial, Fault::SignFlipped])
    } else {
        None
    }
}
