//! Answers: one value for each field of the question.

use crate::angle::Angle;
use crate::ground::GridReference;
use smallvec::SmallVec;

/// A point picked on a problem's map: metres east and north of the south-west corner of its grid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MapPoint {
    /// Metres east, as the map's grid counts.
    pub east_m: f64,
    /// Metres north.
    pub north_m: f64,
}

impl MapPoint {
    /// How far two points lie from each other, in metres on the ground.
    #[must_use]
    pub fn distance_m(self, other: MapPoint) -> f64 {
        (self.east_m - other.east_m).hypot(self.north_m - other.north_m)
    }
}

/// One value of an answer. What it means stands in its field.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Value {
    /// An angle: a bearing or dial number (possibly unwrapped, for the mix-up that forgets to wrap), a turn, or a signed
    /// declination (east positive), as the field says.
    Angle(Angle),
    /// A plain number in the field's unit: minutes of arc, mils, a count, metres, minutes of time.
    Number(f64),
    /// One of the field's choices, counted from 0.
    Choice(usize),
    /// A grid reference.
    Grid(GridReference),
    /// A point on the map.
    Point(MapPoint),
    /// Nothing was answered; it is like no other value.
    Blank,
}

impl Value {
    /// An angle from degrees.
    #[must_use]
    pub const fn degrees(degrees: f64) -> Value {
        Value::Angle(Angle::from_degrees(degrees))
    }
}

/// An answer: one value for each field, in the question's order.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer(SmallVec<[Value; 4]>);

impl Answer {
    /// Answers one field.
    #[inline]
    #[must_use]
    pub fn one(value: Value) -> Answer {
        Answer(SmallVec::from_slice(&[value]))
    }

    /// Answers two fields.
    #[must_use]
    pub fn two(first: Value, second: Value) -> Answer {
        Answer(SmallVec::from_slice(&[first, second]))
    }

    /// Answers three fields.
    #[must_use]
    pub fn three(first: Value, second: Value, third: Value) -> Answer {
        Answer(SmallVec::from_slice(&[first, second, third]))
    }

    /// Answers four fields.
    #[must_use]
    pub fn four(first: Value, second: Value, third: Value, fourth: Value) -> Answer {
        Answer(SmallVec::from_slice(&[first, second, third, fourth]))
    }

    /// An answer in whole degrees to a single field.
    #[cfg(test)]
    #[must_use]
    pub fn degrees(degrees: i32) -> Answer {
        Answer::one(Value::degrees(f64::from(degrees)))
    }

    /// An answer to a single field of choices, counted from 0.
    #[must_use]
    pub fn choice(at: usize) -> Answer {
        Answer::one(Value::Choice(at))
    }

    /// The values in field order.
    #[inline]
    #[must_use]
    pub fn values(&self) -> &[Value] {
        &self.0
    }
}

impl FromIterator<Value> for Answer {
    fn from_iter<I: IntoIterator<Item = Value>>(values: I) -> Answer {
        Answer(values.into_iter().collect())
    }
}
