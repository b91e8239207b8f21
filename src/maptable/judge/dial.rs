//! Naming a wrong number on the dial.

use super::track::Track;
use super::{Group, work_at};
use crate::angle::{Angle, North};
use crate::maptable::amount::{HALF_CIRCLE, SLIP_WITHIN, near, turn};
use crate::maptable::{Exercise, Fault, StateVerdict};

/// What a number on the dial comes from.
pub(super) enum Number {
    /// It is the wanted one.
    Right,
    /// It comes from these faults.
    Named(Vec<Fault>),
    /// Nobody knows, or more than one formula gives it.
    Unknown,
}

/// The wrong formulas for a number that should be `base` less the angle of magnetic north from this north.
pub(super) fn formulas(exercise: &Exercise, base: Angle, north: North) -> Vec<(Fault, Angle)> {
    let (today, grid) = (exercise.declination.angle(), exercise.convergence.angle());
    let printed = exercise.printed.angle();
    let right = exercise.magnetic_from(north);
    let corrected = |fault, angle: Angle| (fault, base - angle);
    match (north, base == Angle::ZERO) {
        (North::Magnetic, true) => {
            vec![corrected(Fault::DialSetToDeclination, today), corrected(Fault::DeclinationAsReading, -today)]
        }
        (North::Magnetic, false) => {
            vec![corrected(Fault::CorrectedAgain, today), corrected(Fault::CorrectedAgain, -today)]
        }
        (North::True | North::Grid, _) => {
            let mut list = vec![
                corrected(Fault::SignFlipped, -right),
                corrected(Fault::NotApplied, Angle::ZERO),
                corrected(Fault::AppliedTwice, right * 2.0),
            ];
            if north == North::Grid {
                list.push(corrected(Fault::DeclinationForGma, today));
                list.push(corrected(Fault::SizesAdded, today + grid));
                list.push(corrected(Fault::NotUpdated, printed - grid));
            } else {
                list.push(corrected(Fault::GmaForDeclination, today - grid));
                list.push(corrected(Fault::NotUpdated, printed));
            }
            list
        }
    }
}

/// The numbers of a bearing that is corrected again by hand.
pub(super) fn corrections(exercise: &Exercise, shown: Angle) -> impl Iterator<Item = (Fault, Angle)> {
    [exercise.declination.angle(), exercise.printed.angle(), exercise.grid_magnetic().angle()]
        .into_iter()
        .flat_map(move |angle| [(Fault::CorrectedAgain, shown + angle), (Fault::CorrectedAgain, shown - angle)])
}

/// The one fault whose number this is, if exactly one fits and its number is not the right one.
pub(super) fn only_one(shown: Angle, right: Angle, formulas: &[(Fault, Angle)], tolerance: Angle) -> Option<Fault> {
    let mut fits = formulas
        .iter()
        .filter(|(_, number)| near(*number, shown, tolerance) && !near(*number, right, tolerance))
        .map(|(fault, _)| *fault);
    let first = fits.next()?;
    fits.all(|other| other == first).then_some(first)
}

/// Names a number of the dial, the opposite of the wanted one and of the formulas' numbers included.
pub(super) fn name(shown: Angle, wanted: Angle, formulas: &[(Fault, Angle)], tolerance: Angle) -> Number {
    if near(shown, wanted, tolerance) {
        return Number::Right;
    }
    // Who is so near meant the right number.
    if near(shown, wanted, SLIP_WITHIN) {
        return Number::Unknown;
    }
    if let Some(fault) = only_one(shown, wanted, formulas, tolerance) {
        return Number::Named(vec![fault]);
    }
    if near(shown, wanted + HALF_CIRCLE, tolerance) {
        return Number::Named(vec![Fault::DialReversed]);
    }
    match only_one(shown + HALF_CIRCLE, wanted, formulas, tolerance) {
        Some(fault) => Number::Named(vec![Fault::DialReversed, fault]),
        None => Number::Unknown,
    }
}

/// Judges the setting of a number.
pub(super) fn set(exercise: &Exercise, track: &Track, number: Angle) -> (Vec<Group>, StateVerdict) {
    let tolerance = exercise.dial_tolerance();
    let shown = track.last().dial();
    let seen = track.seen(exercise, track.end());
    // The number at the needle is the wanted one when the reading is this.
    let at_needle = number - (seen.needle_on_dial - shown);
    let start = exercise.start.dial();
    let formulas = [(Fault::SetAtNeedle, at_needle), (Fault::TurnedOtherWay, start * 2.0 - number)];
    let faults = match name(shown, number, &formulas, tolerance) {
        Number::Right => Vec::new(),
        Number::Named(faults) if faults.len() == 1 => faults,
        Number::Named(_) | Number::Unknown => vec![Fault::DialOff],
    };
    let work = work_at(exercise, track, track.end(), track.end());
    (vec![Group { work, faults }], StateVerdict::Dial { shown, off: turn(number, shown), tolerance })
}
