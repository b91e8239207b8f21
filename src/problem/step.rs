//! The worked solution, line by line.

use super::LineRole;
use crate::angle::North;
use std::borrow::Cow;

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

/// One line of the worked solution: what is done, and the sum with this problem's numbers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// What is done, e.g. `From map to compass west is added`.
    pub words: Cow<'static, str>,
    /// The sum, e.g. `048 + 17 = 065`; empty when there is none. It is what a faded example leaves blank.
    pub sum: String,
    /// The part of the explaining figure that the step is about, if it has one.
    pub part: Option<FigurePart>,
}

impl Step {
    /// A step with a sum.
    #[must_use]
    pub fn new(words: impl Into<Cow<'static, str>>, sum: String) -> Step {
        Step { words: words.into(), sum, part: None }
    }

    /// A step without.
    #[must_use]
    pub fn words(words: impl Into<Cow<'static, str>>) -> Step {
        Step::new(words, String::new())
    }

    /// The same step, about this part of the figure.
    #[must_use]
    pub fn about(self, part: FigurePart) -> Step {
        Step { part: Some(part), ..self }
    }

    /// The whole line.
    #[must_use]
    pub fn line(&self) -> String {
        if self.sum.is_empty() { self.words.clone().into_owned() } else { format!("{}: {}", self.words, self.sum) }
    }
}
