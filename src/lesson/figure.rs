//! What a figure of a lesson is: something with knobs that answers when they are turned.

mod at_table;
pub(super) mod hill;
mod parts;
mod prongs;
mod sketch;

pub(super) use at_table::{AtTable, Holding, first, number, whole};
pub(super) use parts::Part;
pub(super) use prongs::{Fold, Folded};
pub(super) use sketch::{north_line, pointing, spoken, written};

use crate::scene::Scene;
use std::fmt::Debug;

/// Something that the learner turns.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Knob {
    /// What it does: `turn yourself`, `move the arm`.
    pub name: &'static str,
    /// How far an arrow key moves it, in its own steps.
    pub step: i32,
    /// How far it moves with Shift.
    pub leap: i32,
}

impl Knob {
    /// A knob that moves by so much.
    pub(super) const fn new(name: &'static str, step: i32, leap: i32) -> Knob {
        Knob { name, step, leap }
    }
}

/// A figure that is moved and answers.
pub trait Figure: Debug {
    /// What can be turned, one thing at least.
    fn knobs(&self) -> &'static [Knob];

    /// Turns one of them by so many of its steps, clockwise or to the right positive.
    fn turn(&mut self, knob: usize, by: i32);

    /// What it says now, a sentence or two.
    fn says(&self) -> String;

    /// Whether what the screen asks for has come about. Where nothing is asked, it has.
    fn reached(&self) -> bool {
        true
    }

    /// What is told to somebody who goes on though what the screen asks for has not come about: what it would have been, and why.
    fn missed(&self) -> Option<String> {
        None
    }

    /// Draws it, on a panel of this size; `text_mm` is the height of a line of writing.
    fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene;
}
