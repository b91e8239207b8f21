//! The map table of the exercises, with what a lesson lets the learner turn.

use super::parts::{self, Part};
use super::{Figure, Knob};
use crate::angle::{Angle, sense};
use crate::maptable::{Boxed, Hold, Move, Pose, Seen, Table, see};
use crate::problem::{Code, Level, TableProblem, realise};
use crate::scene::Scene;
use crate::skills;

/// What the learner may turn, and how it is said.
#[derive(Clone, Copy, Debug)]
pub(in crate::lesson) struct Holding {
    /// The knobs, in the order of `holds`.
    pub knobs: &'static [Knob],
    /// What each of them turns.
    pub holds: &'static [Hold],
    /// What the figure says.
    pub says: fn(&AtTable) -> String,
    /// Whether what is asked for has come about.
    pub reached: fn(&AtTable) -> bool,
    /// What is told to whoever goes on without it.
    pub missed: fn(&AtTable) -> Option<String>,
    /// The parts of the compass that are named, from the top down.
    pub parts: &'static [Part],
}

/// The compass close up is drawn as if its writing were so much smaller than it is, so that there is room for all numbers of
/// the dial in the small picture of a lesson.
const TIGHT: f64 = 0.95;

/// Things as they lie on the table, or the compass in the hand.
#[derive(Debug)]
pub(in crate::lesson) struct AtTable {
    /// What lies there.
    pub problem: TableProblem,
    /// How it lies now.
    pub table: Table,
    /// What may be turned.
    pub holding: Holding,
}

impl AtTable {
    /// A problem, its first moves made.
    pub fn after(problem: TableProblem, moves: &[Move], holding: Holding) -> AtTable {
        let table = problem.exercise.start.after_all(moves, &problem.exercise.lines);
        AtTable { problem, table, holding }
    }

    /// What is seen.
    pub fn seen(&self) -> Seen {
        see(&self.table, &self.problem.exercise.site(), &self.problem.exercise.lines)
    }

    /// Whether the needle's north end is boxed.
    pub fn boxed(&self) -> bool {
        self.seen().boxed == Boxed::NorthEnd
    }

    /// Where the needle lies, as a sentence.
    pub fn needle_words(&self) -> String {
        match (self.seen().boxed, self.seen().needle_from_box) {
            (Boxed::NorthEnd, _) => "The needle is boxed".to_owned(),
            (Boxed::SouthEnd, _) => "The needle's south end lies in the arrow's head: half a turn to go".to_owned(),
            (Boxed::No, off) => {
                format!("The needle lies {}° {} of the orienting arrow", whole(off.abs()), sense(off))
            }
        }
    }

    /// The number at the index line, three figures.
    pub fn at_index(&self) -> String {
        number(self.table.dial())
    }

    /// How far the map lies off, clockwise positive, in whole degrees.
    pub fn map_off(&self) -> i32 {
        whole(self.table.map().angle().wrapped_half())
    }
}

impl Figure for AtTable {
    fn knobs(&self) -> &'static [Knob] {
        self.holding.knobs
    }

    fn turn(&mut self, knob: usize, by: i32) {
        let Some(hold) = self.holding.holds.get(knob) else { return };
        let turned = hold.turn(Angle::from_degrees(f64::from(by)));
        // What cannot be turned now stays as it is.
        self.table = self.table.after(turned, &self.problem.exercise.lines).unwrap_or(self.table);
    }

    fn says(&self) -> String {
        (self.holding.says)(self)
    }

    fn reached(&self) -> bool {
        (self.holding.reached)(self)
    }

    fn missed(&self) -> Option<String> {
        (self.holding.missed)(self).filter(|_| !self.reached())
    }

    fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let close = height_mm.min(width_mm * 0.42);
        let pose = Pose::at_rest(self.table, self.problem.exercise.needle());
        self.problem.picture(&pose, false, |picture| {
            let map = picture.map_look(width_mm - close - text_mm, height_mm, text_mm);
            let compass = picture.compass_look(close, height_mm, text_mm * TIGHT);
            parts::named(map, compass, self.holding.parts, text_mm)
        })
    }
}

/// The first problem of a skill that is worked at the table, at level 1, and suits; none where none does.
pub(in crate::lesson) fn first(skill: &str, suits: impl Fn(&TableProblem) -> bool) -> Option<TableProblem> {
    let skill = skills::find(skill)?;
    (0..400).find_map(|seed| {
        let problem = realise(&Code { skill, level: Level::ONE, seed, home: None }).ok()?;
        problem.table().filter(|table| suits(table))
    })
}

/// The nearest whole degree of an angle between −360 and 360.
pub(in crate::lesson) fn whole(angle: Angle) -> i32 {
    crate::angle::whole_degrees(angle)
}

/// A number of the dial, three figures.
pub(in crate::lesson) fn number(angle: Angle) -> String {
    super::written(whole(angle.wrapped())).to_string()
}
