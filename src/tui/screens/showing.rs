//! A guided showing at the map table: the worked example, and how a learner's own work is mended.

use super::layer::Layer;
use super::moving::Moving;
use crate::maptable::{ShownStep, Table, showing};
use crate::problem::TableProblem;
use crate::words::Word;
use jiff::Timestamp;

/// A guided showing, step by step, forward and back.
#[derive(Debug)]
pub struct Showing {
    /// What lies on the table.
    pub problem: Box<TableProblem>,
    /// How it lies before the first step.
    pub from: Table,
    /// Words that are met here for the first time: each is told before the first step.
    pub words: Vec<&'static Word>,
    /// How many of them have been told and read.
    pub read: usize,
    /// The steps.
    pub steps: Vec<ShownStep>,
    /// How many steps have been shown.
    pub at: usize,
    /// Where all that is drawn, while it moves and at rest.
    pub moving: Moving,
    /// The map as it was drawn last.
    pub layer: Layer,
}

impl Showing {
    /// The right work from this state on.
    #[must_use]
    pub fn new(problem: &TableProblem, from: Table, still: bool) -> Showing {
        let mut steps = showing(&problem.exercise, &from);
        // "Done." shows nothing.
        steps.pop();
        let moving = Moving::new(from, problem.exercise.needle(), still);
        let (words, layer) = (Vec::new(), Layer::default());
        Showing { problem: Box::new(problem.clone()), from, words, read: 0, steps, at: 0, moving, layer }
    }

    /// The same, which tells these words first.
    #[must_use]
    pub fn telling(self, words: Vec<&'static Word>) -> Showing {
        Showing { words, ..self }
    }

    /// The word that is told now.
    #[must_use]
    pub fn word(&self) -> Option<&'static Word> {
        self.words.get(self.read).copied()
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

    /// Goes a step forward or back, where there is one; the picture goes after it. Before the first step it goes from word to word.
    pub fn go(&mut self, by: i32, now: Timestamp) {
        if self.at == 0 && (by < 0 || self.word().is_some()) {
            self.read = if by < 0 { self.read.saturating_sub(1) } else { self.read + 1 };
            return;
        }
        let to = i32::try_from(self.at).unwrap_or(0) + by;
        if let Some(to) = usize::try_from(to).ok().filter(|to| *to <= self.steps.len()) {
            let before = *self.table();
            self.at = to;
            let after = *self.table();
            self.moving.go(&self.problem, &before, &after, now);
        }
    }

    /// Lets what is seen to move go on.
    pub fn tick(&mut self, now: Timestamp) {
        let lies = *self.table();
        self.moving.tick(&lies, now);
    }
}
