//! Answers compared at a glance: each mix-up is held against each other one, and most pairs differ widely in a field.

use super::field::{Field, FieldKind};
use super::{Answer, Question, Value};

/// So many fields are looked at; what more there are, the whole comparison reads.
const SEEN: usize = 3;

/// An answer with what stands in its first fields, as numbers.
#[derive(Clone, Copy, Debug)]
pub(super) struct Glance<'a> {
    answer: &'a Answer,
    values: [Seen; SEEN],
}

/// One value as a number.
#[derive(Clone, Copy, Debug)]
struct Seen {
    /// Not a number where a glance does not say enough.
    number: f64,
    /// The circle that it lies on, so that it may be near another across zero; infinite where there is none.
    circle: f64,
    /// How far off is right, or told as that, at most.
    room: f64,
}

impl Question {
    /// Looks at an answer.
    #[inline]
    pub(super) fn glance<'a>(&self, answer: &'a Answer) -> Glance<'a> {
        let (fields, given) = (self.fields(), answer.values());
        let seen = |at: usize| {
            fields.get(at).zip(given.get(at)).map_or(Seen::NOTHING, |(field, value)| Seen::of(field, *value))
        };
        Glance { answer, values: [seen(0), seen(1), seen(2)] }
    }

    /// [`Question::apart`] of two answers that were looked at.
    #[inline]
    pub(super) fn apart_at_a_glance(&self, one: &Glance<'_>, other: &Glance<'_>) -> bool {
        (0..SEEN).any(|at| one.values[at].is_far_from(&other.values[at])) || self.apart(one.answer, other.answer)
    }
}

impl Seen {
    /// Of a field that is not there.
    const NOTHING: Seen = Seen { number: f64::NAN, circle: f64::INFINITY, room: 0.0 };

    #[inline]
    fn of(field: &Field, value: Value) -> Seen {
        let number = number(field, value);
        let circle = field.circle().filter(|circle| (0.0..=*circle).contains(&number)).unwrap_or(f64::INFINITY);
        Seen { number, circle, room: field.tolerance.beside(value) }
    }

    /// So far beyond the room that no rounding matters; not so where one is not a number.
    #[inline]
    fn is_far_from(&self, other: &Seen) -> bool {
        let off = (self.number - other.number).abs();
        // Infinite where one of them lies on no circle.
        let across = self.circle.max(other.circle) - off;
        off.min(across) > self.room + other.room + NEAR
    }
}

/// Far above all rounding.
const NEAR: f64 = 1e-3;
/// Words differ by more than any tolerance.
const WORD_APART: f64 = 1e9;

/// Not a number for what a single number does not say: places, blanks, and degrees that go with minutes.
fn number(field: &Field, value: Value) -> f64 {
    match (&field.kind, value) {
        (FieldKind::Degrees | FieldKind::Minutes, _)
        | (FieldKind::Mils(_), Value::Angle(_))
        | (_, Value::Grid(_) | Value::Point(_) | Value::Blank) => f64::NAN,
        (_, Value::Angle(angle)) => angle.degrees(),
        (_, Value::Number(number)) => number,
        #[expect(clippy::cast_precision_loss, reason = "a field has a handful of words")]
        (_, Value::Choice(at)) => WORD_APART * (1.0 + at as f64),
    }
}

#[cfg(test)]
mod tests {
    use super::super::field::Tolerance;
    use super::*;
    use crate::angle::North;
    use proptest::prelude::*;

    fn kinds() -> impl Strategy<Value = FieldKind> {
        prop_oneof![
            Just(FieldKind::Bearing(North::Grid)),
            Just(FieldKind::Mils(North::Magnetic)),
            Just(FieldKind::EastWest),
            Just(FieldKind::Degrees),
            Just(FieldKind::Minutes),
            Just(FieldKind::Count),
        ]
    }

    fn values() -> impl Strategy<Value = Value> {
        prop_oneof![
            (-20..400).prop_map(|degrees| Value::degrees(f64::from(degrees))),
            prop_oneof![0.0..20.0, 350.0..362.0, 6390.0..6402.0].prop_map(Value::Number),
            (0..3_usize).prop_map(Value::Choice),
            Just(Value::Blank),
        ]
    }

    proptest! {
        #[test]
        fn a_glance_says_what_the_whole_comparison_says(
            kind in kinds(),
            (absolute, share, below, told) in (0.0..12.0, 0.0..0.2, 0.0..12.0, 0.0..12.0),
            (one, other) in ([values(), values()], [values(), values()]),
        ) {
            let tolerance = Tolerance { absolute, share, below, told };
            let minutes = Field { name: "last", label: "", kind: FieldKind::Minutes, tolerance: Tolerance::within(3.0) };
            let first = Field { name: "first", label: "", kind, tolerance };
            let question = Question::typed(vec![first, minutes]);
            let [one, other] = [one, other].map(|values| values.into_iter().collect::<Answer>());
            prop_assert_eq!(
                question.apart_at_a_glance(&question.glance(&one), &question.glance(&other)),
                question.apart(&one, &other)
            );
        }
    }
}
