//! The numbers that the errors give, for a generator that wants them told apart.

use super::{dial, orient};
use crate::angle::{Angle, Bearing};
use crate::maptable::amount::{HALF_CIRCLE, QUARTER_CIRCLE, tenth};
use crate::maptable::{Exercise, Fault, Leg, LineName, Task};

/// The wrong numbers of an exercise, each with the fault that gives it when everything else is done rightly: numbers on
/// the dial where one is to be set, numbers said where a bearing is taken (of the first leg). Empty for a back sight.
///
/// A fault is named only while its number is farther than the tolerance from the right one and from the others, so a
/// generator draws again where two that it wants to name lie close. Some of the numbers are no more than wrong by half
/// a circle; the table tells those apart by what lies where.
#[must_use]
pub fn wrong_numbers(exercise: &Exercise) -> Vec<(Fault, Angle)> {
    let mut list = match &exercise.task {
        Task::Orient(north) => {
            let mut list = dial::formulas(exercise, Angle::ZERO, *north);
            // What allows for an old line's drift is right, whichever way somebody came to it; as it stands once it is set.
            list.retain(|(_, number)| !orient::allows_on_dial(exercise, tenth(*number).wrapped(), *north));
            list
        }
        Task::Follow { bearing, north, .. } => dial::formulas(exercise, *bearing, *north),
        Task::BackSight { .. } | Task::Around(_) => return Vec::new(),
        Task::Take(_) => return wrapped(taken(exercise)),
        Task::SetDial { number } => {
            let at_needle = *number - (exercise.needle().angle() - exercise.start.baseplate().angle());
            vec![(Fault::SetAtNeedle, at_needle), (Fault::TurnedOtherWay, exercise.start.dial() * 2.0 - *number)]
        }
        Task::OrientedBearing { .. } | Task::MapBearing { .. } => {
            return exercise.legs().first().map_or_else(Vec::new, |leg| wrong_readings(exercise, *leg));
        }
    };
    if let Some(wanted) = exercise.wanted_dial() {
        list.push((Fault::DialReversed, wanted + HALF_CIRCLE));
    }
    wrapped(list)
}

/// The wrong numbers said for one leg; the same faults in the same order for each leg of an exercise.
#[must_use]
pub fn wrong_readings(exercise: &Exercise, leg: Leg) -> Vec<(Fault, Angle)> {
    let (Some(right), Some(toward)) = (exercise.reading(leg), exercise.leg(leg)) else { return Vec::new() };
    let needle = exercise.needle().angle();
    let mut list = vec![(Fault::ArrowBack, right + HALF_CIRCLE), (Fault::ReadOpposite, right + HALF_CIRCLE)];
    if let Task::MapBearing { north, .. } = &exercise.task {
        let map = exercise.start.map().angle();
        list.push((Fault::DialReversed, right + HALF_CIRCLE));
        list.push((Fault::QuarterTurn, right + QUARTER_CIRCLE));
        list.push((Fault::QuarterTurn, right - QUARTER_CIRCLE));
        list.push((Fault::NeedleForLines, toward.angle() + map - needle));
        list.push((Fault::ReadAtNeedle, needle - map - exercise.drawn(*north)));
    } else {
        list.push((Fault::NeedleReversed, right + HALF_CIRCLE));
        // By the lines that are drawn: where there are grid lines, those.
        let along = exercise.lines.toward(LineName::Grid).map_or(Angle::ZERO, Bearing::angle);
        list.push((Fault::LinesForNeedle, toward.angle() - along));
        list.push((Fault::ReadAtNeedle, Angle::ZERO));
    }
    // Last: on a map that lies right, the number by its lines is one of these, and where hands worked the lines say more.
    list.extend(dial::corrections(exercise, right));
    wrapped(list)
}

/// The wrong numbers read to a mark in view. Who reads at the needle has left the dial alone, or brought its N to the travel arrow.
fn taken(exercise: &Exercise) -> Vec<(Fault, Angle)> {
    let Some(right) = exercise.sighted() else { return Vec::new() };
    let start = exercise.start.dial();
    let mut list = vec![(Fault::ReadOpposite, right + HALF_CIRCLE), (Fault::DialLeft, start)];
    list.push((Fault::ReadAtNeedle, start - right));
    if start != Angle::ZERO {
        list.push((Fault::ReadAtNeedle, -right));
    }
    list
}

fn wrapped(list: Vec<(Fault, Angle)>) -> Vec<(Fault, Angle)> {
    list.into_iter().map(|(fault, number)| (fault, number.wrapped())).collect()
}
