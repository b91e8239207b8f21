//! Judging a bearing that is taken to a mark in view, and telling what was done.

use super::dial;
use super::telling::Work;
use super::track::Track;
use super::{Group, unboxed, work_at};
use crate::angle::{Angle, North};
use crate::maptable::amount::{
    HALF_CIRCLE, SLIP_WITHIN, bare_size, figures, near, shows, size, turn, turn_words, within,
};
use crate::maptable::sighting::{AT_MARK, Sighting};
use crate::maptable::{Boxed, Chosen, Exercise, Fault, Move, StateVerdict, Table, TakenState};

/// How far off a bearing sighted by hand may be (STP 21-1-SMCT gives 3 to 10).
const SIGHTED_WITHIN: Angle = Angle::from_degrees(5.0);
/// An arrow that points no farther beside its mark was meant to point at it.
const NEARLY_AT_MARK: Angle = Angle::from_degrees(6.0);
/// An arrow so near to the opposite of the mark was held with its tail ahead.
const TAIL_WITHIN: Angle = Angle::from_degrees(10.0);

/// Judges it.
pub(super) fn taken(exercise: &Exercise, track: &Track, sighting: &Sighting) -> (Vec<Group>, StateVerdict) {
    let read = track.moves.iter().enumerate().rev().find_map(|(at, made)| match made {
        Move::Read(number) => Some((at, *number)),
        _ => None,
    });
    let (at, said) = read.map_or((track.end(), None), |(at, number)| (at, Some(number)));
    let expected = exercise.sighted().unwrap_or_default();
    let mut faults = held(exercise, track, sighting, at);
    match said {
        Some(said) => faults.extend(read_fault(exercise, track, faults.contains(&Fault::DialLeft), at, said)),
        None => faults.push(Fault::NotRead),
    }
    // What left the dial alone and read at the needle did one thing wrong, not two.
    if faults.contains(&Fault::ReadAtNeedle) {
        faults.retain(|fault| *fault != Fault::DialLeft);
    }
    let second = track.moves.iter().rev().find_map(|made| match made {
        Move::Bearing(number) => Some(*number),
        _ => None,
    });
    let other = (sighting.north != North::Magnetic).then(|| {
        let ideal = (expected + exercise.magnetic_from(sighting.north)).wrapped();
        faults.extend(lines_fault(exercise, sighting.north, said.unwrap_or(expected), second, ideal));
        (sighting.north, second, ideal)
    });
    let trust = sighting.trust.map(|trust| {
        let trusted = trusts(track.last());
        faults.extend(match (trusted, trust.holds) {
            (Some(true), false) => Some(Fault::IronUnheeded),
            (Some(false), true) => Some(Fault::IronSupposed),
            (None, _) => Some(Fault::NothingChosen),
            _ => None,
        });
        (trusted, trust.holds)
    });
    let work = Work { said, bearing: second, ..work_at(exercise, track, at, at) };
    let work = Work { chosen: track.last().chosen(), ..work };
    let state = TakenState { said, expected, tolerance: SIGHTED_WITHIN, other, trust };
    (vec![Group { work, faults }], StateVerdict::Taken(state))
}

/// Whether the needle was trusted.
const fn trusts(table: &Table) -> Option<bool> {
    match table.chosen() {
        Some(Chosen::Trusts(trusts)) => Some(trusts),
        _ => None,
    }
}

/// What is wrong with how the compass was held when it was read: the arrow, and the needle.
fn held(exercise: &Exercise, track: &Track, sighting: &Sighting, at: usize) -> Vec<Fault> {
    let Some(mark) = sighting.target() else { return Vec::new() };
    let (table, seen) = (&track.states[at], track.seen(exercise, at));
    let off = mark.azimuth.turn_to(table.baseplate());
    let left = within(track.dial_change(0, at), exercise.dial_tolerance());
    let mut faults = Vec::new();
    if !within(off, AT_MARK) {
        // Who turned round until the needle was boxed left the dial alone: that is one thing, and the arrow follows from it.
        if left && seen.boxed != Boxed::No {
            return vec![Fault::DialLeft];
        }
        let tail = near(off, HALF_CIRCLE, TAIL_WITHIN);
        faults.push(if tail { Fault::LookedBack } else { Fault::NotAtMark });
    }
    match seen.boxed {
        Boxed::NorthEnd => {}
        Boxed::SouthEnd => faults.push(Fault::NeedleReversed),
        Boxed::No if left => faults.push(Fault::DialLeft),
        Boxed::No => faults.push(unboxed(&seen)),
    }
    faults
}

/// What is wrong with the number said, compared with the one at the index line.
fn read_fault(exercise: &Exercise, track: &Track, dial_left: bool, at: usize, said: Angle) -> Option<Fault> {
    let shown = track.states[at].dial();
    if near(said, shown, SLIP_WITHIN) {
        return None;
    }
    let at_needle = track.seen(exercise, at).needle_on_dial;
    let mut formulas = vec![(Fault::ReadAtNeedle, at_needle), (Fault::ReadOpposite, shown + HALF_CIRCLE)];
    if !dial_left {
        formulas.extend(dial::corrections(exercise, shown));
    }
    Some(dial::only_one(said, shown, &formulas, exercise.dial_tolerance()).unwrap_or(Fault::Misread))
}

/// What is wrong with the bearing for the map's lines, reckoned from the number that was read.
fn lines_fault(exercise: &Exercise, north: North, read: Angle, said: Option<Angle>, ideal: Angle) -> Option<Fault> {
    let Some(said) = said else { return Some(Fault::NotRead) };
    let between = exercise.magnetic_from(north);
    // A sum that is right for what was read is no fault of its own, and neither is a bearing that is near enough.
    if near(said, read + between, SLIP_WITHIN) || near(said, ideal, SIGHTED_WITHIN) {
        return None;
    }
    let formulas =
        [(Fault::SignFlipped, read - between), (Fault::NotApplied, read), (Fault::AppliedTwice, read + between * 2.0)];
    Some(dial::only_one(said, ideal, &formulas, SLIP_WITHIN).unwrap_or(Fault::BearingOff))
}

/// One fault in sentences: what was done, with its number; and the reason with what belongs there.
pub(super) fn told(exercise: &Exercise, sighting: &Sighting, work: &Work, fault: Fault) -> (String, String) {
    let (said, mend) = (fault.said(), fault.mend().to_owned());
    let shown = figures(work.shown);
    let name = sighting.target_name();
    let done = match fault {
        Fault::NotAtMark => match (sighting.ahead(work.arrow), off_mark(sighting, work)) {
            (Some(other), _) => format!("Your travel arrow pointed at {}, not at {name}.", other.name),
            (None, off) if within(off, NEARLY_AT_MARK) => {
                format!("Your travel arrow pointed {} of {name}: a slip of the hand.", turn_words(off))
            }
            (None, off) => format!("Your travel arrow pointed {} of {name}.", turn_words(off)),
        },
        Fault::LookedBack => {
            format!("You held the compass with the arrow's tail toward {name}: {shown} at the index line.")
        }
        Fault::NeedleReversed => format!("You {said}: {shown} at the index line."),
        Fault::DialLeft => format!("You {said}: {shown}."),
        Fault::NotBoxed => format!("You {said}: it lay {} of the arrow.", turn_words(work.seen.needle_from_box)),
        Fault::ReadAtNeedle | Fault::ReadOpposite | Fault::CorrectedAgain | Fault::Misread => match work.said {
            Some(number) => format!("You {said}: {} in place of {shown}.", figures(number)),
            None => format!("You {said}."),
        },
        Fault::SignFlipped | Fault::NotApplied | Fault::AppliedTwice | Fault::BearingOff => {
            let number = work.bearing.unwrap_or_default();
            return (format!("You {said}: {}.", figures(number)), lines_reason(exercise, sighting.north, work.said));
        }
        Fault::IronUnheeded => return ("You trusted the number.".to_owned(), trust_reason(sighting)),
        Fault::IronSupposed => return ("You did not trust the number.".to_owned(), trust_reason(sighting)),
        _ => format!("You {said}."),
    };
    (done, mend)
}

/// Whether a fault is no more than a slip of the hand.
pub(super) fn is_slip(sighting: &Sighting, work: &Work, fault: Fault) -> bool {
    fault == Fault::NotAtMark
        && sighting.ahead(work.arrow).is_none()
        && within(off_mark(sighting, work), NEARLY_AT_MARK)
}

/// How far the travel arrow pointed beside its mark, clockwise positive.
fn off_mark(sighting: &Sighting, work: &Work) -> Angle {
    sighting.target().map_or(Angle::ZERO, |mark| mark.azimuth.turn_to(work.arrow))
}

fn trust_reason(sighting: &Sighting) -> String {
    sighting.trust.map_or_else(String::new, |trust| trust.why.to_owned())
}

/// Why which number counts from this north, where the needle gave another: `The needle points 14° clockwise of grid north, so
/// counted from grid north the same way is 14° more: 126 + 14 = 140.`
pub(crate) fn lines_reason(exercise: &Exercise, north: North, read: Option<Angle>) -> String {
    let (between, north) = (exercise.magnetic_from(north), north.name());
    let read = read.or_else(|| exercise.sighted()).unwrap_or_default();
    let (more, sign) = if between < Angle::ZERO { ("less", '−') } else { ("more", '+') };
    let off = (read + between).degrees();
    let past = match off {
        off if off >= 360.0 => format!("gives {off}, less 360 is"),
        off if off < 0.0 => format!("gives −{}, and 360 makes it", -off),
        _ => "gives".to_owned(),
    };
    format!(
        "The needle points {} of {north}, so counted from {north} the same way is {} {more}: {} {sign} {} {past} {}.",
        turn_words(between),
        size(between),
        figures(read),
        bare_size(between),
        figures(read + between)
    )
}

/// What was done, with the learner's own numbers: `arrow at Fern Tower, needle boxed, 126 read, 140 for grid north`.
pub(super) fn did(sighting: &Sighting, work: &Work) -> String {
    let arrow = match sighting.ahead(work.arrow) {
        Some(mark) => format!("arrow at {}", mark.name),
        None => format!("arrow {} of {}", turn_words(off_mark(sighting, work)), sighting.target_name()),
    };
    let read = match work.said {
        Some(said) if shows(turn(work.shown, said)) => {
            format!("{} on the dial and {} said", figures(work.shown), figures(said))
        }
        Some(said) => format!("{} read", figures(said)),
        None => "nothing read".to_owned(),
    };
    let second = work.bearing.map(|number| format!(", {} for {}", figures(number), sighting.north.name()));
    let trust = match work.chosen {
        Some(Chosen::Trusts(true)) => ", and trusted",
        Some(Chosen::Trusts(false)) => ", and not trusted",
        _ => "",
    };
    format!("{arrow}, {}, {read}{}{trust}", super::telling::needle(&work.seen), second.unwrap_or_default())
}
