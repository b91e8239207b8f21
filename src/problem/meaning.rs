//! What work at the table means, as a sketch: the norths, the line, and the number on the dial as the turn from the needle.

use super::TableProblem;
use super::figure::{Arc, Figure, LineRole, NorthLine, Ray, SketchLine};
use crate::angle::{Angle, North, three_figures};
use crate::maptable::{Table, Task};

/// A smaller angle between the norths is drawn as wide as this.
const LEAST_DRAWN: f64 = 15.0;
/// A number that is no further off is not drawn as another one.
const NEAR: Angle = Angle::from_degrees(2.0);

impl TableProblem {
    /// The sketch that shows why, with what the learner had on the dial at the end where that was another number. None
    /// where nothing is to be shown.
    #[must_use]
    pub fn meaning(&self, end: &Table) -> Figure {
        let exercise = &self.exercise;
        match &exercise.task {
            Task::Orient(North::Magnetic) => self.old_line(),
            Task::Orient(north) => {
                let right = exercise.wanted_dial().unwrap_or(Angle::ZERO);
                self.from(*north, Angle::ZERO, (format!("{} line", north.word()), right), end.dial())
            }
            Task::Follow { bearing, north, .. } => {
                let right = exercise.wanted_dial().unwrap_or(Angle::ZERO);
                self.from(
                    *north,
                    *bearing,
                    (format!("{}°{}", three_figures(*bearing, 0), north.letter()), right),
                    end.dial(),
                )
            }
            Task::OrientedBearing { legs, .. } => {
                let Some((leg, toward)) = legs.first().and_then(|leg| Some((leg, exercise.leg(*leg)?))) else {
                    return Figure::None;
                };
                let right = exercise.magnetic_bearing(*leg).unwrap_or(Angle::ZERO);
                self.from(North::True, toward.angle(), (format!("to {}", leg.to), right), right)
            }
            Task::Take(sighting) if sighting.north != North::Magnetic => {
                let right = exercise.sighted().unwrap_or(Angle::ZERO);
                let line = right + exercise.magnetic_from(sighting.north);
                self.from(sighting.north, line, (sighting.target_name().to_owned(), right), end.dial())
            }
            Task::Take(_)
            | Task::Around(_)
            | Task::MapBearing { .. }
            | Task::BackSight { .. }
            | Task::SetDial { .. } => Figure::None,
        }
    }

    /// A north straight up, the needle beside it, a line, and the dial's number as the arc from the needle to that.
    fn from(&self, north: North, line: Angle, (label, right): (String, Angle), dial: Angle) -> Figure {
        let between = self.exercise.magnetic_from(north);
        let at = |angle: Angle| drawn(angle, between);
        let mut norths = vec![NorthLine { north, at: Angle::ZERO }];
        if north != North::Magnetic {
            norths.push(NorthLine { north: North::Magnetic, at: at(between) });
        }
        let arcs = vec![Arc::bearing(North::Magnetic, LineRole::Right, three_figures(right, 0).to_string())];
        let mut lines = vec![SketchLine { role: LineRole::Right, at: at(line), label }];
        if (dial - right).wrapped_half().abs() > NEAR {
            let label = format!("you {}", three_figures(dial, 0));
            lines.push(SketchLine { role: LineRole::Learner, at: at(between + dial), label });
        }
        Figure::Sketch { norths, lines, arcs }
    }

    /// True north, the needle of today, and the line as it was printed, where the two differ.
    fn old_line(&self) -> Figure {
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
        let line = SketchLine { role: LineRole::Given, at: at(printed), label: "map's line".to_owned() };
        Figure::Sketch { norths, lines: vec![line], arcs }
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
