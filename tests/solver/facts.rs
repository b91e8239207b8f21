//! What the solver works with: the facts of a problem, directions as vectors, and answers to compare.

use needlewise::problem::{Answer, Field, Question, Value};

pub use super::border::Facts;

/// Nothing here is measured, so agreement is exact but for the last bits of the arithmetic.
pub const EXACT: f64 = 1e-6;

/// A direction as a vector, so that no sum here wraps anything.
#[derive(Clone, Copy, Debug)]
pub struct Dir {
    pub east: f64,
    pub north: f64,
}

impl Dir {
    pub const NORTH: Dir = Dir { east: 0.0, north: 1.0 };

    pub fn at(degrees: f64) -> Dir {
        let (east, north) = degrees.to_radians().sin_cos();
        Dir { east, north }
    }

    /// Clockwise by so much: a product of unit complex numbers.
    pub fn turned(self, degrees: f64) -> Dir {
        let by = Dir::at(degrees);
        Dir { east: self.east * by.north + self.north * by.east, north: self.north * by.north - self.east * by.east }
    }

    pub fn back(self) -> Dir {
        Dir { east: -self.east, north: -self.north }
    }

    /// The signed turn from here to there, clockwise positive, by cross and dot product.
    pub fn turn_to(self, there: Dir) -> f64 {
        let cross = there.east * self.north - there.north * self.east;
        let dot = there.east * self.east + there.north * self.north;
        cross.atan2(dot).to_degrees()
    }

    /// The bearing counted clockwise from this north, not brought onto the dial.
    pub fn from(self, north: Dir) -> f64 {
        north.turn_to(self)
    }

    pub fn degrees(self) -> f64 {
        self.from(Dir::NORTH)
    }

    pub fn nearness(self, other: Dir) -> f64 {
        self.east * other.east + self.north * other.north
    }
}

/// One field of a worked answer.
#[derive(Clone, Debug, PartialEq)]
pub enum Part {
    /// A place on the circle (degrees, or mils in a field of mils): 10, 370 and −350 are the same.
    Round(f64),
    /// A number as typed.
    Plain(f64),
    /// A word.
    Word(String),
}

impl Part {
    pub fn word(word: impl Into<String>) -> Part {
        Part::Word(word.into())
    }

    fn is(&self, field: &Field, value: Value) -> bool {
        let number = match (number(value), value) {
            (Some(number), _) => number,
            (None, Value::Choice(at)) => {
                let word = field.choices().and_then(|words| words.get(at));
                return matches!((self, word), (Part::Word(mine), Some(word)) if mine == word);
            }
            (None, Value::Grid(_)) => return matches!(self, Part::Word(mine) if *mine == field.typed(value)),
            (None, other) => panic!("{other:?} is neither number nor word"),
        };
        match self {
            Part::Word(_) => false,
            Part::Plain(mine) => (mine - number).abs() < EXACT,
            Part::Round(mine) => {
                let circle = field.circle().unwrap_or_else(|| panic!("{} does not go round", field.name));
                let off = (mine - number) / circle;
                (off - off.round()).abs() * circle < EXACT
            }
        }
    }
}

/// A value in the field's unit, if it is a number.
pub fn number(value: Value) -> Option<f64> {
    match value {
        Value::Angle(angle) => Some(angle.degrees()),
        Value::Number(number) => Some(number),
        Value::Choice(_) | Value::Grid(_) | Value::Point(_) | Value::Blank => None,
    }
}

/// A worked answer: field name and value, in the question's order.
pub type Worked = Vec<(&'static str, Part)>;

/// Whether a worked answer is the program's, field by field and by name.
pub fn agree(question: &Question, worked: &Worked, answer: &Answer) -> bool {
    let fields = question.fields();
    fields.len() == worked.len()
        && fields
            .iter()
            .zip(answer.values())
            .zip(worked)
            .all(|((field, value), (name, part))| field.name == *name && part.is(field, *value))
}

pub fn one(name: &'static str, part: Part) -> Worked {
    vec![(name, part)]
}
