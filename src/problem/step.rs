//! The worked solution, line by line.

use super::LineRole;
use crate::angle::North;
use std::borrow::Cow;
use std::fmt::{Display, Write};

/// What a step's figure can light: the part that the step is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FigurePart {
    /// A north line, or a prong of a diagram.
    North(North),
    /// The angle between two norths.
    Between(North, North),
    /// A line of a sketch.
    Line(LineRole),
    /// The index line of a dial, with the number at it.
    Index,
    /// The needle.
    Needle,
    /// The arc of a turn.
    Turn,
    /// A point of the compass card.
    Point(LineRole),
}

/// What a step gives away of what is asked. Faded steps leave out the decision and the answer, and show the rest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tells {
    /// Neither: a help on the way.
    Way,
    /// The decision that makes the skill (add or take off, which line), by its words or by its sum.
    Decision {
        /// What is asked in its place when it is left out; no number, no full stop.
        asks: &'static str,
    },
    /// The answer, or what it follows from without any decision, by its sum alone.
    Answer,
    /// Nothing, and it is no step of the work: what to take care of where this is done outdoors.
    Caution,
}

/// Bytes that most sums find room in.
const SUM_ROOM: usize = 48;

/// One line of the worked solution: what is done, and the sum with this problem's numbers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// What is done, e.g. `From map (true) to compass (magnetic), west is added`.
    pub words: Cow<'static, str>,
    /// The sum, e.g. `048 + 17 = 065`; empty when there is none.
    pub sum: String,
    /// What it gives away.
    pub tells: Tells,
    /// The part of the explaining figure that the step is about, if it has one.
    pub part: Option<FigurePart>,
}

impl Step {
    /// A step with a sum.
    #[must_use]
    pub fn new(words: impl Into<Cow<'static, str>>, sum: impl Display) -> Step {
        // Room for most sums, so that they need not be moved while they are put together.
        let mut text = String::with_capacity(SUM_ROOM);
        let _ = write!(text, "{sum}");
        Step { sum: text, ..Step::words(words) }
    }

    /// A step without.
    #[must_use]
    pub fn words(words: impl Into<Cow<'static, str>>) -> Step {
        Step { words: words.into(), sum: String::new(), tells: Tells::Way, part: None }
    }

    /// What to take care of, in the row behind the steps and without a number.
    #[must_use]
    pub fn caution(words: &'static str) -> Step {
        Step { tells: Tells::Caution, ..Step::words(words) }
    }

    /// What stands before it, at this place of the row counted from 0: its number, or a sign to take care.
    #[must_use]
    pub fn mark(&self, at: usize) -> String {
        if self.tells == Tells::Caution { "!".to_owned() } else { (at + 1).to_string() }
    }

    /// The same step, about this part of the figure.
    #[must_use]
    pub fn about(self, part: FigurePart) -> Step {
        Step { part: Some(part), ..self }
    }

    /// The same step, which tells a decision; this is asked where the step is left out.
    #[must_use]
    pub fn decides(self, asks: &'static str) -> Step {
        Step { tells: Tells::Decision { asks }, ..self }
    }

    /// The same step, whose sum tells the answer.
    #[must_use]
    pub fn answers(self) -> Step {
        Step { tells: Tells::Answer, ..self }
    }

    /// The step with what it gives away left out, to be filled in.
    #[must_use]
    pub fn blank(&self) -> Step {
        let blank = "…".to_owned();
        match self.tells {
            Tells::Decision { asks } => Step { words: asks.into(), sum: blank, ..self.clone() },
            Tells::Answer | Tells::Way | Tells::Caution => Step { sum: blank, ..self.clone() },
        }
    }

    /// The whole line.
    #[must_use]
    pub fn line(&self) -> String {
        if self.tells == Tells::Caution {
            return format!("Take care: {}", self.words);
        }
        let after = if self.words.ends_with('?') { " " } else { ": " };
        if self.sum.is_empty() { self.words.clone().into_owned() } else { format!("{}{after}{}", self.words, self.sum) }
    }
}
