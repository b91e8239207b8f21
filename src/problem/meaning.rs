//! What work at the table means, as a sketch: the norths, the line, and the number on the dial as the turn from the needle.
//!
//! Whichever fault it was, the sketch shows where the line came to point: a number on the dial says nothing where an end was
//! taken for the other, or another line for the line.

use super::figure::{Arc, Figure, LineRole, NorthLine, Ray, SketchLine};
use super::{TableProblem, TableVerdict};
use crate::angle::{Angle, North, three_figures};
use crate::maptable::{Chosen, StateVerdict, Task};

/// A smaller angle between the norths is drawn as wide as this.
const LEAST_DRAWN: f64 = 15.0;
/// What is no further off is not drawn as another line.
const NEAR: Angle = Angle::from_degrees(2.0);

/// What stands over the sketch where it shows nothing of the learner's own.
const WHY: &str = "why: the norths, and the line";
/// What stands at a line that comes from no number.
const YOU: &str = "you";

/// What work at the table means: the sketch, and the line over it.
#[derive(Clone, Debug, PartialEq)]
pub struct TableMeaning {
    /// The norths and the line, with the learner's own line where it came to point elsewhere; none where nothing is to be shown.
    pub figure: Figure,
    /// What it shows, for a caption of 44 columns at most: what the learner's line is where no number stands at it, or that the
    /// line came to point right though the work was not.
    pub caption: &'static str,
}

/// The line of a sketch that the learner's work led to.
struct Yours {
    /// How far clockwise of the right line.
    off: Angle,
    /// The number that it comes from: on the dial, or said; none where the number was right.
    number: Option<Angle>,
}

impl TableProblem {
    /// The sketch that shows why, with where the line came to point by this work.
    #[must_use]
    pub fn meaning(&self, verdict: &TableVerdict) -> TableMeaning {
        let figure = self.sketch(verdict);
        let yours = match &figure {
            Figure::Sketch { lines, .. } => lines.iter().find(|line| line.role == LineRole::Learner),
            _ => None,
        };
        let work = &verdict.work;
        let caption = match yours {
            _ if !matches!(self.exercise.task, Task::Orient(_)) => WHY,
            Some(yours) if yours.label == YOU => "you: so the map's line came to point",
            None if work.cancelled() => "two mistakes cancel: the line points right",
            None if !work.right && !work.only_slips => "the line came to point right all the same",
            _ => WHY,
        };
        TableMeaning { figure, caption }
    }

    fn sketch(&self, verdict: &TableVerdict) -> Figure {
        let exercise = &self.exercise;
        let another = |number: Angle, right: Angle| Some(number).filter(|it| (*it - right).wrapped_half().abs() > NEAR);
        let right = exercise.wanted_dial().unwrap_or(Angle::ZERO);
        // Where errors add up, the line comes from all of them, and the number alone did not lead to it.
        let number = another(verdict.end.dial(), right).filter(|_| verdict.work.procedure.len() <= 1);
        match (&exercise.task, &verdict.work.state) {
            // Where the map came to lie, there its line came to point; iron turns both alike and is no mistake.
            (Task::Orient(north), StateVerdict::Map { off, expected, .. }) => {
                let yours = Yours { off: *off - *expected, number };
                match north {
                    North::Magnetic => self.old_line(yours),
                    _ => self.from(*north, Angle::ZERO, (format!("{} line", north.word()), right), yours),
                }
            }
            (Task::Follow { bearing, north, landmarks }, StateVerdict::Ahead { off, right: chosen_right, .. }) => {
                let chosen = match verdict.end.chosen() {
                    Some(Chosen::Landmark(at)) if !chosen_right => landmarks.get(usize::from(at)),
                    _ => None,
                };
                // Who looked elsewhere than along the arrow went to what was chosen.
                let went = chosen.zip(exercise.ahead()).map(|(chosen, ahead)| ahead.turn_to(chosen.azimuth));
                let yours = Yours { off: went.unwrap_or(*off), number };
                self.from(
                    *north,
                    *bearing,
                    (format!("{}° {}", three_figures(*bearing, 0), north.letter()), right),
                    yours,
                )
            }
            (Task::OrientedBearing { legs, .. }, StateVerdict::Readings(readings)) => {
                let Some((leg, toward)) = legs.first().and_then(|leg| Some((leg, exercise.leg(*leg)?))) else {
                    return Figure::None;
                };
                let right = exercise.magnetic_bearing(*leg).unwrap_or(Angle::ZERO);
                let said = readings.first().and_then(|read| read.bearing.map_or(read.said, |bearing| bearing.said));
                // On a map that lies off another number is read rightly.
                let beside = readings.first().filter(|read| read.bearing.is_none()).map_or(right, |read| read.expected);
                let number = said.and_then(|said| another(said, beside));
                let off = number.map_or(Angle::ZERO, |said| said - beside);
                self.from(North::True, toward.angle(), (format!("to {}", leg.to), right), Yours { off, number })
            }
            (Task::Take(sighting), _) if sighting.north != North::Magnetic => {
                let right = exercise.sighted().unwrap_or(Angle::ZERO);
                let line = right + exercise.magnetic_from(sighting.north);
                let dial = verdict.end.dial();
                let yours = Yours { off: dial - right, number: another(dial, right) };
                self.from(sighting.north, line, (sighting.target_name().to_owned(), right), yours)
            }
            _ => Figure::None,
        }
    }

    /// A north straight up, the needle beside it, a line, and the dial's number as the arc from the needle to that.
    fn from(&self, north: North, line: Angle, (label, right): (String, Angle), yours: Yours) -> Figure {
        let between = self.exercise.magnetic_from(north);
        let at = |angle: Angle| drawn(angle, between);
        let mut norths = vec![NorthLine { north, at: Angle::ZERO }];
        if north != North::Magnetic {
            norths.push(NorthLine { north: North::Magnetic, at: at(between) });
        }
        let arcs = vec![Arc::bearing(North::Magnetic, LineRole::Right, three_figures(right, 0).to_string())];
        let mut lines = vec![SketchLine { role: LineRole::Right, at: at(line), label }];
        lines.extend(yours.line(|off| at(line + off)));
        Figure::Sketch { norths, lines, arcs }
    }

    /// True north, the needle of today, and the line as it was printed, where the two differ.
    fn old_line(&self, yours: Yours) -> Figure {
        let (today, printed) = (self.exercise.declination.angle(), self.exercise.printed.angle());
        let at = |angle: Angle| drawn(angle, today);
        let norths = vec![
            NorthLine { north: North::True, at: Angle::ZERO },
            NorthLine { north: North::Magnetic, at: at(today) },
        ];
        let drift = (today - printed).wrapped_half().abs();
        let mut arcs = Vec::new();
        if drift.degrees() >= 1.0 {
            let size = format!("{}°", drift.degrees().round());
            arcs.push(Arc::difference(North::Magnetic, Ray::Line(LineRole::Given), size));
        }
        let mut lines = vec![SketchLine { role: LineRole::Given, at: at(printed), label: "map's line".to_owned() }];
        // Right work, which lays the line along the needle, is drawn by the needle alone.
        lines.extend(yours.line(|off| at(today + off)));
        Figure::Sketch { norths, lines, arcs }
    }
}

impl Yours {
    /// The line to draw, at the place for an angle so far from the right line; none where it is the right one.
    fn line(&self, at: impl Fn(Angle) -> Angle) -> Option<SketchLine> {
        let off = self.off.wrapped_half();
        let label =
            self.number.map_or_else(|| YOU.to_owned(), |number| format!("{YOU} ({})", three_figures(number, 0)));
        (off.abs() > NEAR).then(|| SketchLine { role: LineRole::Learner, at: at(off), label })
    }
}

/// Where a direction is drawn, so far clockwise of the north straight up, when a small angle `between` the norths is
/// widened: what follows it within a quarter circle is moved together, so that the order of all directions stays.
fn drawn(angle: Angle, between: Angle) -> Angle {
    let (degrees, gap) = (angle.wrapped_half().degrees(), between.wrapped_half().degrees());
    let (size, side) = (degrees.abs(), gap.abs());
    if !(0.5..LEAST_DRAWN).contains(&side) || degrees * gap <= 0.0 || size >= 90.0 {
        return Angle::from_degrees(degrees);
    }
    let wide = if size <= side {
        size * LEAST_DRAWN / side
    } else {
        LEAST_DRAWN + (size - side) * (90.0 - LEAST_DRAWN) / (90.0 - side)
    };
    Angle::from_degrees(wide.copysign(degrees))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn widened_norths_keep_the_order_of_all_directions(gap in -40.0..40.0_f64, one in -179.0..179.0_f64, two in -179.0..179.0_f64) {
            let at = |degrees: f64| drawn(Angle::from_degrees(degrees), Angle::from_degrees(gap)).degrees();
            let (low, high) = (one.min(two), one.max(two));
            prop_assert!(at(low) <= at(high) + 1e-9, "{low} and {high} at {} and {}", at(low), at(high));
            prop_assert!(gap.abs() < 0.5 || at(gap).abs() >= 14.9);
        }
    }
}
