//! Answers: up to three values, one for each field of the question.

use crate::angle::Angle;

/// One value of an answer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Value {
    /// An angle: a bearing or dial number (possibly unwrapped, for the mix-up that forgets to wrap), a turn, or a signed
    /// declination (east positive), as the field says.
    Angle(Angle),
    /// A plain number: minutes of arc, mils, a count.
    Number(f64),
    /// One of the field's words.
    Word(&'static str),
}

impl Value {
    /// An angle from degrees.
    #[must_use]
    pub const fn degrees(degrees: f64) -> Value {
        Value::Angle(Angle::from_degrees(degrees))
    }
}

/// An answer: one value for each field, in the question's order.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Answer {
    values: [Value; 3],
    count: u8,
}

impl Answer {
    /// Answers one field.
    #[must_use]
    pub const fn one(value: Value) -> Answer {
        Answer { values: [value; 3], count: 1 }
    }

    /// Answers two fields.
    #[must_use]
    pub const fn two(first: Value, second: Value) -> Answer {
        Answer { values: [first, second, second], count: 2 }
    }

    /// Answers three fields.
    #[must_use]
    pub const fn three(first: Value, second: Value, third: Value) -> Answer {
        Answer { values: [first, second, third], count: 3 }
    }

    /// An answer in whole degrees to a single field.
    #[must_use]
    pub fn degrees(degrees: i32) -> Answer {
        Answer::one(Value::degrees(f64::from(degrees)))
    }

    /// The values in field order.
    #[must_use]
    pub fn values(&self) -> &[Value] {
        &self.values[..usize::from(self.count)]
    }
}
