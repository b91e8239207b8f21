//! What is asked, and how near an answer must come.

use super::field::{Field, FieldKind, Fields};
use super::{Answer, Value};
use crate::angle::Angle;

/// What is asked: consumers must handle every kind. The fields belong to the problem; any number of them.
#[derive(Clone, Debug, PartialEq)]
pub enum Question {
    /// Fields to type.
    Typed(Fields),
    /// One of the words of the only field.
    Choose(Fields),
    /// A dial to turn: a screen takes no number for it, since the text says which. One field of kind [`FieldKind::Dial`].
    SetDial {
        /// The field.
        fields: Fields,
        /// The number that stands at the index line before it is turned, 0 to 360.
        start: Angle,
    },
    /// Work at the map table; the fields say how things end. [`Problem::table`](super::Problem::table) has what lies there.
    Table(Fields),
}

impl Question {
    /// Fields to type.
    pub fn typed(fields: impl Into<Fields>) -> Question {
        Question::Typed(fields.into())
    }

    /// One of the words of the only field.
    pub fn choose(fields: impl Into<Fields>) -> Question {
        Question::Choose(fields.into())
    }

    /// Work at the map table.
    pub fn table(fields: impl Into<Fields>) -> Question {
        Question::Table(fields.into())
    }

    /// The fields, in the order of the answer's values.
    #[must_use]
    pub fn fields(&self) -> &[Field] {
        match self {
            Question::Typed(fields)
            | Question::Choose(fields)
            | Question::SetDial { fields, .. }
            | Question::Table(fields) => fields,
        }
    }

    /// The stable name of the kind.
    #[must_use]
    pub const fn kind(&self) -> &'static str {
        match self {
            Question::Typed(_) => "typed",
            Question::Choose(_) => "choose",
            Question::SetDial { .. } => "set-dial",
            Question::Table(_) => "table",
        }
    }

    /// Whether two answers are the same within tolerance in every field; a field of degrees right before one of minutes
    /// makes one angle with it, so that 13°58′ is as near to 14° as 14°02′ is.
    #[must_use]
    pub fn same(&self, given: &Answer, wanted: &Answer) -> bool {
        let whole = given.values().len() == wanted.values().len();
        whole && self.compared(given, wanted).all(|(field, off, _, wanted)| field.near(off, wanted))
    }

    /// The parts of an answer with whether each is as wanted: once for each field, but once for degrees and minutes together, named by
    /// the minutes. Empty where the answers have not the same number of values.
    #[must_use]
    pub fn parts<'a>(&'a self, given: &'a Answer, wanted: &'a Answer) -> Vec<(&'a Field, bool)> {
        if given.values().len() != wanted.values().len() {
            return Vec::new();
        }
        self.compared(given, wanted).map(|(field, off, _, wanted)| (field, field.near(off, wanted))).collect()
    }

    /// Whether an answer is so near to what a wrong way gives that it is told as that way.
    #[must_use]
    pub fn is_told(&self, given: &Answer, wrong: &Answer) -> bool {
        let whole = given.values().len() == wrong.values().len();
        whole && self.compared(given, wrong).all(|(field, off, _, wrong)| field.is_told(off, wrong))
    }

    /// Whether a wrong answer is so far, in some field, from the right one or from what stands for it that nothing can be told as
    /// both.
    #[must_use]
    pub fn apart(&self, one: &Answer, other: &Answer) -> bool {
        self.compared(one, other).any(|(field, off, one, other)| field.far(off, one, other))
    }

    /// How far apart the answers lie: once for each field, but once for degrees and minutes together, in minutes and with the
    /// tolerance of the minutes.
    fn compared<'a>(
        &'a self,
        given: &'a Answer,
        wanted: &'a Answer,
    ) -> impl Iterator<Item = (&'a Field, f64, Value, Value)> {
        let fields = self.fields();
        let values = move |at: usize| Some((*given.values().get(at)?, *wanted.values().get(at)?));
        fields.iter().enumerate().filter_map(move |(at, field)| {
            let (given, wanted) = values(at)?;
            let off = field.difference(given, wanted);
            let before = at.checked_sub(1).map(|before| (before, &fields[before]));
            let minutes_after = fields.get(at + 1).is_some_and(|after| after.kind == FieldKind::Minutes);
            match (&field.kind, before) {
                (FieldKind::Degrees, _) if minutes_after => None,
                (FieldKind::Minutes, Some((before, degrees))) if degrees.kind == FieldKind::Degrees => {
                    let (whole, wanted_whole) = values(before)?;
                    Some((field, 60.0 * degrees.difference(whole, wanted_whole) + off, given, wanted))
                }
                _ => Some((field, off, given, wanted)),
            }
        })
    }

    /// Signed `given − right` for each field in its unit, the short way round; none where values have no difference in
    /// numbers.
    pub(super) fn off_by(&self, given: &Answer, right: &Answer) -> Vec<Option<f64>> {
        let pairs = given.values().iter().zip(right.values());
        self.fields()
            .iter()
            .zip(pairs)
            .map(|(field, (given, right))| {
                Some(field.difference(*given, *right)).filter(|off| off.is_finite() && field.is_signed())
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::super::field::{Choices, Tolerance};
    use super::*;

    static FIELDS: [Field; 3] = [
        Field { name: "degrees", label: "degrees", kind: FieldKind::Degrees, tolerance: Tolerance::EXACT },
        Field { name: "minutes", label: "minutes", kind: FieldKind::Minutes, tolerance: Tolerance::within(5.0) },
        Field {
            name: "side",
            label: "E or W",
            kind: FieldKind::Choice(Choices::Fixed(&["E", "W"])),
            tolerance: Tolerance::EXACT,
        },
    ];

    fn answer(degrees: f64, minutes: f64, side: usize) -> Answer {
        Answer::three(Value::degrees(degrees), Value::Number(minutes), Value::Choice(side))
    }

    #[test]
    fn degrees_and_minutes_are_compared_as_one_angle() {
        let question = Question::typed(&FIELDS);
        let wanted = answer(14.0, 2.0, 0);
        assert!(question.same(&answer(13.0, 58.0, 0), &wanted));
        assert!(question.same(&answer(14.0, 7.0, 0), &wanted));
        assert!(!question.same(&answer(13.0, 56.0, 0), &wanted));
        assert!(!question.same(&answer(13.0, 2.0, 0), &wanted));
        assert!(!question.same(&answer(14.0, 2.0, 1), &wanted));
        assert!(!question.apart(&answer(13.0, 52.0, 0), &wanted));
        assert!(question.apart(&answer(13.0, 51.0, 0), &wanted));
        assert!(question.apart(&answer(14.0, 2.0, 1), &wanted));
    }

    #[test]
    fn minutes_without_a_field_of_degrees_stand_alone() {
        let question = Question::typed(&FIELDS[1..2]);
        let minutes = |minutes| Answer::one(Value::Number(minutes));
        assert!(question.same(&minutes(55.0), &minutes(60.0)));
        assert!(!question.same(&minutes(2.0), &minutes(58.0)));
    }

    #[test]
    fn more_fields_than_three_are_compared_each_by_itself() {
        let bearing = |name| Field { name, label: name, kind: FieldKind::Dial, tolerance: Tolerance::within(2.0) };
        let question = Question::typed(["one", "two", "three", "four", "five"].map(bearing).to_vec());
        let answer = |last: f64| -> Answer { [10.0, 20.0, 30.0, 40.0, last].map(Value::degrees).into_iter().collect() };
        assert!(question.same(&answer(52.0), &answer(50.0)));
        assert!(!question.same(&answer(53.0), &answer(50.0)));
        assert!(question.apart(&answer(55.0), &answer(50.0)));
    }
}
