//! A guided showing at the map table: the worked example, and how a learner's own work is mended.

use crate::maptable::{ShownStep, Table, showing};
use crate::problem::TableProblem;

/// A guided showing, step by step, forward and back.
#[derive(Debug)]
pub struct Showing {
    /// What lies on the table.
    pub problem: Box<TableProblem>,
    /// How it lies before the first step.
    pub from: Table,
    /// The steps.
    pub steps: Vec<ShownStep>,
    /// How many steps have been shown.
    pub at: usize,
}

impl Showing {
    /// The right work from this state on.
    #[must_use]
    pub fn new(problem: &TableProblem, from: Table) -> Showing {
        let mut steps = showing(&problem.exercise, &from);
        // "Done." shows nothing.
        steps.pop();
        Showing { problem: Box::new(problem.clone()), from, steps, at: 0 }
    }

    /// How things lie now.
    #[must_use]
    pub fn table(&self) -> &Table {
        self.at.checked_sub(1).and_then(|at| self.steps.get(at)).map_or(&self.from, |step| &step.state)
    }

    /// Whether all steps have been shown.
    #[must_use]
    pub const fn is_done(&self) -> bool {
        self.at >= self.steps.len()
    }

    /// Goes a step forward or back; false when there is none.
    pub fn go(&mut self, by: i32) -> bool {
        let to = i32::try_from(self.at).unwrap_or(0) + by;
        match usize::try_from(to) {
            Ok(to) if to <= self.steps.len() => {
                self.at = to;
                true
            }
            _ => false,
        }
    }
}
