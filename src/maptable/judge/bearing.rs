//! Judging bearings taken off the map: by the needle on an oriented map, or by the map's lines.

use super::dial;
use super::telling::Work;
use super::track::Track;
use super::{Group, work_at};
use crate::angle::{Angle, Bearing, North, True};
use crate::maptable::amount::{HALF_CIRCLE, LAID_WITHIN, NEARLY_WITHIN, QUARTER_CIRCLE, near, turn, within};
use crate::maptable::{BearingState, Boxed, Exercise, Fault, Leg, LineName, Move, ReadingState, StateVerdict, Task};

/// The moves of one leg.
struct Segment {
    leg: Leg,
    /// The state it begins with.
    from: usize,
    /// The last state before the number was said.
    to: usize,
    /// The last state in which the compass lay on the map.
    at: usize,
    /// The number said.
    said: Option<Angle>,
}

/// The legs in order, each ended by a number; the last one may also end with the number that the dial then shows.
fn segments(track: &Track, legs: &[Leg]) -> Vec<Segment> {
    let mut from = 0;
    let mut reads = track.moves.iter().enumerate().filter_map(|(index, made)| match made {
        Move::Read(number) => Some((index, *number)),
        _ => None,
    });
    let mut open = true;
    let mut all: Vec<Segment> = Vec::with_capacity(legs.len());
    for leg in legs {
        let read = reads.next();
        let to = read.map_or(track.end(), |(index, _)| index);
        let said = match read {
            Some((_, number)) => Some(number),
            None if open => Some(track.last().dial()),
            None => None,
        };
        // Work after the last number said belongs to the leg that was not read, and to no later one.
        open = read.is_some();
        all.push(Segment { leg: *leg, from, to, at: track.last_on_map(from, to), said });
        from = to;
    }
    all
}

/// Judges it.
pub(super) fn judged(exercise: &Exercise, track: &Track, legs: &[Leg]) -> (Vec<Group>, StateVerdict) {
    let mut groups = Vec::with_capacity(legs.len());
    let mut readings = Vec::with_capacity(legs.len());
    for segment in segments(track, legs) {
        let mut faults = Vec::new();
        let reads = exercise.reading(segment.leg).unwrap_or_default();
        let ideal = match exercise.task {
            Task::MapBearing { .. } => reads,
            _ => exercise.magnetic_bearing(segment.leg).unwrap_or_default(),
        };
        let tolerance = LAID_WITHIN + exercise.dial_tolerance();
        // Who allows for the lie with the hands, by turning the map right or by holding the needle beside the arrow, reads
        // the magnetic bearing itself; who allows for it in the head says it at once. That number is never wrong.
        let lies_off = exercise.asks_bearing() && !near(reads, ideal, tolerance);
        let by_hand = lies_off && near(track.states[segment.at].dial(), ideal, tolerance);
        let at_once = lies_off && segment.said.is_some_and(|said| near(said, ideal, tolerance));
        let expected = if by_hand || at_once { ideal } else { reads };
        if let Some(said) = segment.said {
            match &exercise.task {
                Task::MapBearing { north, .. } => faults.extend(by_lines(exercise, track, &segment, *north)),
                Task::OrientedBearing { .. } if by_hand => {
                    faults.extend(track.edge_faults(exercise, segment.at, LineName::Leg(segment.leg)));
                }
                Task::OrientedBearing { lies, .. } => faults.extend(by_needle(exercise, track, &segment, *lies)),
                Task::Orient(_)
                | Task::Follow { .. }
                | Task::BackSight { .. }
                | Task::Take(_)
                | Task::Around(_)
                | Task::SetDial { .. } => {}
            }
            if !at_once {
                faults.extend(read_faults(exercise, track, &segment, said));
            }
        } else {
            faults.push(Fault::NotRead);
        }
        let off = segment.said.map(|said| turn(expected, said));
        let mut named = None;
        let bearing = exercise.asks_bearing().then(|| {
            let said = track.moves.iter().rev().find_map(|made| match made {
                Move::Bearing(number) => Some(*number),
                _ => None,
            });
            named = said;
            faults.extend(bearing_fault(exercise, &segment, reads, ideal, said, tolerance));
            BearingState { said, off: said.map(|said| turn(ideal, said)) }
        });
        let work = Work {
            map_moved: lie_lost(exercise, track, &segment),
            leg: Some((segment.leg, segment.said)),
            bearing: named,
            ..work_at(exercise, track, segment.at, segment.to)
        };
        groups.push(Group { work, faults });
        readings.push(ReadingState { leg: segment.leg, said: segment.said, off, expected, ideal, tolerance, bearing });
    }
    (groups, StateVerdict::Readings(readings))
}

/// How far the map was turned: from where an oriented one lay, else since the leg began.
fn lie_lost(exercise: &Exercise, track: &Track, segment: &Segment) -> Angle {
    match &exercise.task {
        Task::OrientedBearing { lies, .. } => lies.turn_to(track.states[segment.at].map()),
        _ => track.map_turn(segment.from, segment.at),
    }
}

/// What is wrong with the magnetic bearing said, where one leg's is asked beside what the dial shows.
fn bearing_fault(
    exercise: &Exercise,
    segment: &Segment,
    reads: Angle,
    ideal: Angle,
    said: Option<Angle>,
    tolerance: Angle,
) -> Option<Fault> {
    let Some(said) = said else { return Some(Fault::NotRead) };
    if near(said, ideal, tolerance) {
        return None;
    }
    let read = segment.said.unwrap_or(reads);
    let lie = turn(ideal, reads);
    let fine = exercise.dial_tolerance();
    // A number that is wrong by the dial's error alone has that fault already.
    if !near(read, ideal, tolerance) && near(said + lie, read, fine) {
        return None;
    }
    let formulas = [
        (Fault::LieUnseen, read),
        (Fault::LieOtherWay, read + lie),
        (Fault::LinesForNeedle, exercise.leg(segment.leg)?.angle()),
    ];
    let corrected = dial::corrections(exercise, read);
    let found = formulas.into_iter().find(|(fault, number)| {
        // Where the number read is the bearing already, there is no lie to be unseen.
        near(said, *number, fine) && (*fault == Fault::LinesForNeedle || !near(read, ideal, tolerance))
    });
    let again = || corrected.into_iter().find(|(_, number)| near(said, *number, fine));
    Some(found.or_else(again).map_or(Fault::BearingOff, |(fault, _)| fault))
}

/// Whether the dial stayed as it was since the leg began.
fn dial_untouched(exercise: &Exercise, track: &Track, segment: &Segment) -> bool {
    within(track.dial_change(segment.from, segment.at), exercise.dial_tolerance())
}

fn by_needle(exercise: &Exercise, track: &Track, segment: &Segment, lies: Bearing<True>) -> Vec<Fault> {
    let at = segment.at;
    let mut faults = track.edge_faults(exercise, at, LineName::Leg(segment.leg));
    let seen = track.seen(exercise, at);
    if !within(lies.turn_to(track.states[at].map()), LAID_WITHIN) {
        let moved = !within(track.map_turn(segment.from, at), LAID_WITHIN);
        let for_dial = moved && dial_untouched(exercise, track, segment);
        faults.retain(|fault| !for_dial || !matches!(fault, Fault::CompassOffLine | Fault::EdgeBeside));
        faults.push(if for_dial { Fault::MapForDial } else { Fault::MapMoved });
    }
    match seen.boxed {
        Boxed::NorthEnd => {}
        Boxed::SouthEnd => faults.push(Fault::NeedleReversed),
        Boxed::No => {
            let along = |half: Angle| {
                [North::True, North::Grid]
                    .iter()
                    .any(|north| near(seen.dial_from_map, exercise.drawn(*north) + half, LAID_WITHIN))
            };
            if along(Angle::ZERO) {
                faults.push(Fault::LinesForNeedle);
            } else if along(HALF_CIRCLE) {
                faults.extend([Fault::LinesForNeedle, Fault::DialReversed]);
            } else {
                faults.push(super::unboxed(&seen));
            }
        }
    }
    faults
}

fn by_lines(exercise: &Exercise, track: &Track, segment: &Segment, north: North) -> Vec<Fault> {
    let at = segment.at;
    let mut faults = track.edge_faults(exercise, at, LineName::Leg(segment.leg));
    let found = dial_lines(exercise, track, at, north);
    let moved = !within(track.map_turn(segment.from, at), LAID_WITHIN);
    let off_line = faults.contains(&Fault::CompassOffLine) || faults.contains(&Fault::EdgeOffLine);
    // The dial's lines went off with the edge, and come right with it.
    if turned_off_alone(exercise, track, at, north, &faults) {
        return faults;
    }
    if moved && dial_untouched(exercise, track, segment) && (off_line || found == [Fault::LinesOff]) {
        faults.retain(|fault| !matches!(fault, Fault::CompassOffLine | Fault::EdgeOffLine));
        faults.push(Fault::MapForDial);
    } else {
        faults.extend(found);
    }
    faults
}

/// Whether the dial's lines lay along the map's until map or compass was turned alone, which took the edge off its line.
fn turned_off_alone(exercise: &Exercise, track: &Track, at: usize, north: North, faults: &[Fault]) -> bool {
    let (map, compass) = track.turned_alone(at);
    let before = track.seen(exercise, at).dial_from_map + map - compass;
    let off = faults.iter().any(|fault| matches!(fault, Fault::CompassOffLine | Fault::EdgeBeside));
    off && near(before, exercise.drawn(north), LAID_WITHIN)
}

/// What the dial's lines were laid along instead of the map's lines of this north.
fn dial_lines(exercise: &Exercise, track: &Track, at: usize, north: North) -> Vec<Fault> {
    let seen = track.seen(exercise, at);
    let along = |direction: Angle| near(seen.dial_from_map, direction, LAID_WITHIN);
    let right = exercise.drawn(north);
    if along(right) {
        return Vec::new();
    }
    if along(right + HALF_CIRCLE) {
        return vec![Fault::DialReversed];
    }
    // Who is a degree or two past what counts as along meant the right lines, whatever else may lie there.
    if near(seen.dial_from_map, right, LAID_WITHIN + exercise.dial_tolerance()) {
        return vec![Fault::LinesOff];
    }
    let upside_down = |by: Angle| near(seen.dial_from_map, right + HALF_CIRCLE, by);
    if upside_down(NEARLY_WITHIN) {
        return vec![Fault::DialReversed, Fault::LinesOff];
    }
    match seen.boxed {
        Boxed::NorthEnd => return vec![Fault::NeedleForLines],
        Boxed::SouthEnd => return vec![Fault::NeedleForLines, Fault::NeedleReversed],
        Boxed::No => {}
    }
    if along(right + QUARTER_CIRCLE) || along(right - QUARTER_CIRCLE) {
        return vec![Fault::QuarterTurn];
    }
    let others = [LineName::True, LineName::Grid, LineName::Magnetic, LineName::Border, LineName::Prong];
    for line in others {
        let Some(toward) = exercise.lines.toward(line) else { continue };
        if along(toward.angle()) {
            return vec![Fault::WrongLine(line)];
        }
        if along(toward.angle() + HALF_CIRCLE) {
            return vec![Fault::WrongLine(line), Fault::DialReversed];
        }
    }
    if upside_down(UPSIDE_DOWN_WITHIN) {
        return vec![Fault::DialReversed, Fault::LinesOff];
    }
    vec![Fault::LinesOff]
}

/// Lines so near to the map's, their N to the south, were laid along them upside down.
const UPSIDE_DOWN_WITHIN: Angle = Angle::from_degrees(12.0);

/// What is wrong with the number said, compared with the one at the index line.
fn read_faults(exercise: &Exercise, track: &Track, segment: &Segment, said: Angle) -> Vec<Fault> {
    // A number may be said to the nearest whole degree however fine the dial is.
    let finest = Angle::from_degrees(0.5);
    let tolerance = if exercise.dial_tolerance() > finest { exercise.dial_tolerance() } else { finest };
    let shown = track.states[segment.to].dial();
    let mut faults = Vec::new();
    if !within(track.dial_change(segment.at, segment.to), exercise.dial_tolerance()) {
        faults.push(Fault::DialMoved);
    }
    if near(said, shown, tolerance) {
        return faults;
    }
    let mut formulas = vec![
        (Fault::ReadAtNeedle, track.seen(exercise, segment.at).needle_on_dial),
        (Fault::ReadAtNeedle, track.seen(exercise, segment.to).needle_on_dial),
        (Fault::ReadOpposite, shown + HALF_CIRCLE),
    ];
    formulas.extend(dial::corrections(exercise, shown));
    faults.push(dial::only_one(said, shown, &formulas, tolerance).unwrap_or(Fault::Misread));
    faults
}
