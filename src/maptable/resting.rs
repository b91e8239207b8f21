//! Where the compass rests on the sheet before it is laid along a line: beside the marked places, not on them. For drawing; nothing is
//! judged by it.

use super::lines::LineName;
use super::shape::{COMPASS, direction};
use super::task::Exercise;
use crate::scene::{Direction, Point};

/// How near to the plate a marked place counts as hidden by it: its mark and its letter want room, too. In mm.
const CLEAR_MM: f64 = 5.0;
/// How far the plate may reach over the sheet's border, in mm.
const OVER_MM: f64 = 8.0;
/// So many places are tried to each side of the middle, up to the sheet's border.
const TRIED: i32 = 6;

impl Exercise {
    /// The point of a sheet of this size, in mm, on which the middle of the edge lies before it is laid along a line: as near to the
    /// middle as the plate, as it lies at first, leaves all marked places in sight; else where it hides the fewest.
    #[must_use]
    pub fn rests_at(&self, width_mm: f64, height_mm: f64) -> Point {
        let middle = Point::new(width_mm / 2.0, height_mm / 2.0);
        let marks = self.marked_places();
        if marks.is_empty() {
            return middle;
        }
        let along = direction(self.start.arrow_on_map().angle() + self.lines.sheet_north());
        let place = |(x, y): (i32, i32)| {
            let part = |step: i32| f64::from(step) / f64::from(TRIED);
            middle.moved(part(x) * middle.x, part(y) * middle.y)
        };
        let hidden = |at: Point| marks.iter().filter(|mark| hides(at, along, **mark)).count();
        let off = |at: Point| (at.x - middle.x).hypot(at.y - middle.y);
        let nearest = |one: &Point, other: &Point| off(*one).total_cmp(&off(*other));
        // Outward from the middle, ring by ring: mostly it is not far.
        let ring = |ring: i32| {
            let row = move |y: i32| (-ring..=ring).map(move |x| (x, y));
            (-ring..=ring).flat_map(row).filter(move |(x, y)| x.abs().max(y.abs()) == ring).map(place)
        };
        let good = |at: &Point| hidden(*at) == 0 && lies_on(*at, along, width_mm, height_mm);
        (0..=TRIED)
            .find_map(|at| ring(at).filter(good).min_by(nearest))
            .or_else(|| (0..=TRIED).flat_map(ring).min_by_key(|at| hidden(*at)))
            .unwrap_or(middle)
    }

    /// Where the ends of the legs lie on the sheet.
    fn marked_places(&self) -> Vec<Point> {
        let legs = self.lines.all().iter().filter(|line| matches!(line.name, LineName::Leg(_)));
        let ends = legs.map(|line| {
            let toward = direction(line.toward.angle() + self.lines.sheet_north());
            [-0.5, 0.5].map(|part| line.middle.along(toward, part * line.length_mm))
        });
        ends.flatten().collect()
    }
}

/// Whether a plate whose edge has its middle here hides a place, or comes too near to it.
fn hides(middle_of_edge: Point, along: Direction, place: Point) -> bool {
    let across = along.quarter_clockwise();
    let (dx, dy) = (place.x - middle_of_edge.x, place.y - middle_of_edge.y);
    let ahead = dx * along.dx() + dy * along.dy();
    let aside = dx * across.dx() + dy * across.dy();
    ahead.abs() < COMPASS.length_mm / 2.0 + CLEAR_MM && (-CLEAR_MM..COMPASS.width_mm + CLEAR_MM).contains(&aside)
}

/// Whether the plate lies on the sheet, but for a little.
fn lies_on(middle_of_edge: Point, along: Direction, width_mm: f64, height_mm: f64) -> bool {
    let across = along.quarter_clockwise();
    let half = COMPASS.length_mm / 2.0;
    [(-half, 0.0), (half, 0.0), (half, COMPASS.width_mm), (-half, COMPASS.width_mm)].into_iter().all(
        |(ahead, aside)| {
            let corner = middle_of_edge.along(along, ahead).along(across, aside);
            (-OVER_MM..=width_mm + OVER_MM).contains(&corner.x) && (-OVER_MM..=height_mm + OVER_MM).contains(&corner.y)
        },
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::{Code, Level, realise};
    use crate::skills;

    /// How many marked places the plate hides at first: where it rests, and about the middle of the sheet.
    fn hidden(mark: &str, level: Level, seed: u64) -> (usize, usize, usize) {
        let skill = skills::SKILLS.iter().find(|skill| skill.meta().mark == mark).unwrap();
        let problem = realise(&Code { skill: *skill, level, seed, home: None }).unwrap();
        let Some(table) = problem.table() else { return (0, 0, 0) };
        let (exercise, spec) = (&table.exercise, table.map.as_ref().unwrap().spec());
        let along = direction(exercise.start.arrow_on_map().angle() + exercise.lines.sheet_north());
        let marks = exercise.marked_places();
        let count = |at: Point| marks.iter().filter(|place| hides(at, along, **place)).count();
        let rests = exercise.rests_at(spec.width_mm, spec.height_mm);
        (marks.len(), count(rests), count(Point::new(spec.width_mm / 2.0, spec.height_mm / 2.0)))
    }

    #[test]
    fn a_compass_on_no_line_leaves_the_marked_places_in_sight() {
        for mark in ["C4", "C7"] {
            let (mut all, mut here, mut middle) = (0, 0, 0);
            for level in Level::ALL {
                for seed in 0..100 {
                    let (marks, rests, before) = hidden(mark, level, seed);
                    (all, here, middle) = (all + marks, here + rests, middle + before);
                }
            }
            assert!(all > 400 && here == 0, "{mark}: {here} of {all} hidden");
            assert!(middle * 3 > all, "{mark}: about the middle half of them would be, not {middle} of {all}");
        }
    }
}
