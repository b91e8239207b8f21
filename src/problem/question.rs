//! What is asked, and how near an answer must come.

use super::{Answer, Value};
use crate::angle::{Angle, North};

/// What a field takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FieldKind {
    /// A bearing from the named north, three figures, 0 to 360.
    Bearing(North),
    /// A number on a dial or card, 0 to 360, that counts from no particular north.
    Dial,
    /// The size of a turn, 0 to 360, in degrees.
    Turn,
    /// An angle with E or W behind it.
    EastWest,
    /// Whole degrees beside a field of minutes: no sign, no wrapping.
    Degrees,
    /// Minutes of arc.
    Minutes,
    /// A bearing in mils, 0 to 6400.
    Mils(North),
    /// One of these words.
    Choice(&'static [&'static str]),
}

/// One field of an answer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Field {
    /// The stable name, snake_case, for JSON and `judge`.
    pub name: &'static str,
    /// The label beside the field.
    pub label: &'static str,
    /// What it takes.
    pub kind: FieldKind,
    /// How far off is still right, in the field's unit (degrees, minutes, mils); 0 for words.
    pub tolerance: f64,
}

impl Field {
    /// The unit's name in JSON.
    #[must_use]
    pub const fn unit(&self) -> &'static str {
        match self.kind {
            FieldKind::Minutes => "arcmin",
            FieldKind::Mils(_) => "mil",
            FieldKind::Choice(_) => "word",
            FieldKind::Bearing(_) | FieldKind::Dial | FieldKind::Turn | FieldKind::EastWest | FieldKind::Degrees => {
                "deg"
            }
        }
    }

    /// The north it counts from, if it names one.
    #[must_use]
    pub const fn north(&self) -> Option<North> {
        match self.kind {
            FieldKind::Bearing(north) | FieldKind::Mils(north) => Some(north),
            _ => None,
        }
    }

    /// The full circle in this field's unit, if its values go round.
    #[must_use]
    pub const fn circle(&self) -> Option<f64> {
        match self.kind {
            FieldKind::Bearing(_) | FieldKind::Dial => Some(360.0),
            FieldKind::Mils(_) => Some(6400.0),
            _ => None,
        }
    }

    /// Signed difference `given − wanted` in the field's unit, the short way round where values go round and both lie on
    /// the circle; a value off the circle (not wrapped) is compared as it stands. Infinite for different words.
    #[must_use]
    pub fn difference(&self, given: Value, wanted: Value) -> f64 {
        match (given, wanted) {
            (Value::Word(a), Value::Word(b)) if a == b => 0.0,
            (Value::Angle(given), Value::Angle(wanted)) => {
                let round = self.circle().is_some() && on_dial(given) && on_dial(wanted);
                let off = given - wanted;
                if round { off.wrapped_half() } else { off }.degrees()
            }
            (Value::Angle(_) | Value::Number(_), Value::Angle(_) | Value::Number(_)) => {
                let (given, wanted) = (plain(given), plain(wanted));
                match self.circle() {
                    Some(circle) if on_circle(given, circle) && on_circle(wanted, circle) => {
                        Angle::from_degrees((given - wanted) / circle * 360.0).wrapped_half().degrees() * circle / 360.0
                    }
                    _ => given - wanted,
                }
            }
            _ => f64::INFINITY,
        }
    }
}

fn plain(value: Value) -> f64 {
    match value {
        Value::Angle(angle) => angle.degrees(),
        Value::Number(number) => number,
        Value::Word(_) => f64::NAN,
    }
}

fn on_dial(angle: Angle) -> bool {
    (Angle::ZERO..=Angle::from_degrees(360.0)).contains(&angle)
}

fn on_circle(number: f64, circle: f64) -> bool {
    (0.0..=circle).contains(&number)
}

/// What is asked: consumers must handle every kind.
#[derive(Clone, Debug, PartialEq)]
pub enum Question {
    /// One to three fields to type.
    Typed(&'static [Field]),
    /// One of the words of the only field.
    Choose(&'static [Field]),
    /// A dial to turn; the number can be typed instead. One field of kind [`FieldKind::Dial`].
    SetDial(&'static [Field]),
    /// Work at the map table; the fields say how things end. [`Skill::table`](super::Skill::table) has what lies there.
    Table(&'static [Field]),
}

impl Question {
    /// The fields, one to three.
    #[must_use]
    pub const fn fields(&self) -> &'static [Field] {
        match self {
            Question::Typed(fields)
            | Question::Choose(fields)
            | Question::SetDial(fields)
            | Question::Table(fields) => fields,
        }
    }

    /// The stable name of the kind.
    #[must_use]
    pub const fn kind(&self) -> &'static str {
        match self {
            Question::Typed(_) => "typed",
            Question::Choose(_) => "choose",
            Question::SetDial(_) => "set-dial",
            Question::Table(_) => "table",
        }
    }

    /// Whether two answers are the same within tolerance in every field; a field of degrees right before one of minutes
    /// makes one angle with it, so that 13°58′ is as near to 14° as 14°02′ is.
    #[must_use]
    pub fn same(&self, given: &Answer, wanted: &Answer) -> bool {
        self.differences(given, wanted).all(|(off, tolerance)| off.abs() <= tolerance + 1e-9)
    }

    /// Whether two answers are so far apart, in some field, that nothing can be within tolerance of both.
    #[must_use]
    pub fn apart(&self, one: &Answer, other: &Answer) -> bool {
        self.differences(one, other).any(|(off, tolerance)| off.abs() > 2.0 * tolerance + 1e-9)
    }

    /// How far apart the answers lie, and the tolerance for it: once for each field, but once for degrees and minutes
    /// together, in minutes and with the tolerance of the minutes.
    fn differences<'a>(&self, given: &'a Answer, wanted: &'a Answer) -> impl Iterator<Item = (f64, f64)> + 'a {
        let fields = self.fields();
        let off =
            |at: usize, field: &Field| Some(field.difference(*given.values().get(at)?, *wanted.values().get(at)?));
        fields.iter().enumerate().filter_map(move |(at, field)| {
            let before = at.checked_sub(1).map(|before| (before, &fields[before]));
            let degrees_before = before.filter(|(_, field)| field.kind == FieldKind::Degrees);
            let minutes_after = fields.get(at + 1).is_some_and(|after| after.kind == FieldKind::Minutes);
            match (field.kind, degrees_before) {
                (FieldKind::Degrees, _) if minutes_after => None,
                (FieldKind::Minutes, Some((before, degrees))) => {
                    Some((60.0 * off(before, degrees)? + off(at, field)?, field.tolerance))
                }
                _ => Some((off(at, field)?, field.tolerance)),
            }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    static FIELDS: [Field; 3] = [
        Field { name: "degrees", label: "degrees", kind: FieldKind::Degrees, tolerance: 0.0 },
        Field { name: "minutes", label: "minutes", kind: FieldKind::Minutes, tolerance: 5.0 },
        Field { name: "side", label: "E or W", kind: FieldKind::Choice(&["E", "W"]), tolerance: 0.0 },
    ];

    fn answer(degrees: f64, minutes: f64, side: &'static str) -> Answer {
        Answer::three(Value::degrees(degrees), Value::Number(minutes), Value::Word(side))
    }

    #[test]
    fn degrees_and_minutes_are_compared_as_one_angle() {
        let question = Question::Typed(&FIELDS);
        let wanted = answer(14.0, 2.0, "E");
        assert!(question.same(&answer(13.0, 58.0, "E"), &wanted));
        assert!(question.same(&answer(14.0, 7.0, "E"), &wanted));
        assert!(!question.same(&answer(13.0, 56.0, "E"), &wanted));
        assert!(!question.same(&answer(13.0, 2.0, "E"), &wanted));
        assert!(!question.same(&answer(14.0, 2.0, "W"), &wanted));
        assert!(!question.apart(&answer(13.0, 52.0, "E"), &wanted));
        assert!(question.apart(&answer(13.0, 51.0, "E"), &wanted));
        assert!(question.apart(&answer(14.0, 2.0, "W"), &wanted));
    }

    #[test]
    fn minutes_without_a_field_of_degrees_stand_alone() {
        let question = Question::Typed(&FIELDS[1..2]);
        let minutes = |minutes| Answer::one(Value::Number(minutes));
        assert!(question.same(&minutes(55.0), &minutes(60.0)));
        assert!(!question.same(&minutes(2.0), &minutes(58.0)));
    }
}
