//! One field of an answer: what it takes, and how near a value must come.

use super::Value;
use crate::angle::{Angle, North};
use std::ops::Deref;
use std::sync::Arc;

/// The words that a field of choices offers: of the skill, or of this problem alone.
#[derive(Clone, Debug)]
pub enum Choices {
    /// The same in every problem.
    Fixed(&'static [&'static str]),
    /// The problem's own.
    Own(Arc<[String]>),
}

impl Choices {
    /// How many.
    #[must_use]
    pub fn len(&self) -> usize {
        match self {
            Choices::Fixed(words) => words.len(),
            Choices::Own(words) => words.len(),
        }
    }

    /// Whether there are none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// The word at a place, counted from 0.
    #[must_use]
    pub fn get(&self, at: usize) -> Option<&str> {
        match self {
            Choices::Fixed(words) => words.get(at).copied(),
            Choices::Own(words) => words.get(at).map(String::as_str),
        }
    }

    /// All of them, in their order.
    pub fn iter(&self) -> impl ExactSizeIterator<Item = &str> + Clone {
        (0..self.len()).map(|at| self.get(at).unwrap_or_default())
    }

    /// All of them in one line: `left, on the line, right`.
    #[must_use]
    pub fn listed(&self) -> String {
        self.iter().collect::<Vec<&str>>().join(", ")
    }
}

impl PartialEq for Choices {
    fn eq(&self, other: &Choices) -> bool {
        self.iter().eq(other.iter())
    }
}

/// A unit of length in which a distance is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LengthUnit {
    /// Metres.
    Metres,
    /// Kilometres.
    Kilometres,
}

impl LengthUnit {
    /// How many metres it has.
    #[must_use]
    pub const fn metres(self) -> f64 {
        match self {
            LengthUnit::Metres => 1.0,
            LengthUnit::Kilometres => 1000.0,
        }
    }

    /// In full.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            LengthUnit::Metres => "metres",
            LengthUnit::Kilometres => "kilometres",
        }
    }

    /// Behind a number.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            LengthUnit::Metres => "m",
            LengthUnit::Kilometres => "km",
        }
    }
}

/// What a field takes.
#[derive(Clone, Debug, PartialEq)]
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
    /// How many of something, from 0 up; the label says of what.
    Count,
    /// A length on the ground, in metres; a bare number is taken in the unit.
    Distance(LengthUnit),
    /// A length on the map, in millimetres, as a bare number is.
    MapLength,
    /// A duration, in minutes.
    Time,
    /// A grid reference of so many figures (4, 6, 8 or 10), with the letters of its square where the map has them.
    GridReference {
        /// 4, 6, 8 or 10.
        figures: u8,
        /// Whether the letters of the large square belong to it.
        lettered: bool,
    },
    /// A point picked on the problem's map.
    MapPoint,
    /// One of these words.
    Choice(Choices),
}

/// How far off is still right: the larger of a fixed allowance and a share of the right value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tolerance {
    /// In the field's unit: degrees, minutes, mils, metres; for a grid reference or a point metres on the ground.
    pub absolute: f64,
    /// A share of the right value, 0 to 1.
    pub share: f64,
    /// So much less at most, where less than the least is no answer.
    pub below: f64,
    /// How near a wrong way's answer one must come to be told that way.
    pub told: f64,
}

impl Tolerance {
    /// Nothing but the value itself.
    pub const EXACT: Tolerance = Tolerance::within(0.0);

    /// So much to either side, in the field's unit.
    #[must_use]
    pub const fn within(absolute: f64) -> Tolerance {
        Tolerance { absolute, share: 0.0, below: f64::INFINITY, told: f64::INFINITY }
    }

    /// A share of the right value, but at least so much in the field's unit.
    #[must_use]
    pub const fn share(share: f64, at_least: f64) -> Tolerance {
        Tolerance { absolute: at_least, share, below: f64::INFINITY, told: f64::INFINITY }
    }

    /// The same upward, but no more than so much less.
    #[must_use]
    pub const fn less_by(self, below: f64) -> Tolerance {
        Tolerance { below, ..self }
    }

    /// The same, but a wrong way is told only to who comes so near to its own number: what is widely right would else give many
    /// numbers a name that nobody worked by.
    #[must_use]
    pub const fn told_within(self, told: f64) -> Tolerance {
        Tolerance { told, ..self }
    }

    /// How far off is still right beside this value, in the field's unit.
    #[inline]
    #[must_use]
    pub fn beside(self, wanted: Value) -> f64 {
        match wanted {
            // Nearly all fields, and asked of each pair of mix-ups.
            _ if self.share == 0.0 => self.absolute,
            Value::Number(number) => self.absolute.max(self.share * number.abs()),
            Value::Angle(angle) => self.absolute.max(self.share * angle.abs().degrees()),
            Value::Choice(_) | Value::Grid(_) | Value::Point(_) | Value::Blank => self.absolute,
        }
    }
}

/// One field of an answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Field {
    /// The stable name, snake_case, for JSON and `judge`.
    pub name: &'static str,
    /// The label beside the field.
    pub label: &'static str,
    /// What it takes.
    pub kind: FieldKind,
    /// How far off is still right.
    pub tolerance: Tolerance,
}

impl Field {
    /// The unit's name in JSON.
    #[must_use]
    pub const fn unit(&self) -> &'static str {
        match self.kind {
            FieldKind::Minutes => "arcmin",
            FieldKind::Mils(_) => "mil",
            FieldKind::Choice(_) => "word",
            FieldKind::Count => "count",
            FieldKind::Distance(_) | FieldKind::MapPoint => "m",
            FieldKind::MapLength => "mm",
            FieldKind::Time => "min",
            FieldKind::GridReference { .. } => "grid",
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

    /// The words it offers, if it is a field of choices.
    #[must_use]
    pub const fn choices(&self) -> Option<&Choices> {
        if let FieldKind::Choice(choices) = &self.kind { Some(choices) } else { None }
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
    /// the circle; a value off the circle (not wrapped) is compared as it stands. Of places the distance on the ground, in
    /// metres. Infinite for different words.
    #[must_use]
    pub fn difference(&self, given: Value, wanted: Value) -> f64 {
        match (given, wanted) {
            (Value::Choice(given), Value::Choice(wanted)) if given == wanted => 0.0,
            (Value::Grid(given), Value::Grid(wanted)) => given.distance_m(wanted).unwrap_or(f64::INFINITY),
            (Value::Point(given), Value::Point(wanted)) => given.distance_m(wanted),
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

    /// Whether a value is right beside this one.
    pub(super) fn near(&self, off: f64, wanted: Value) -> bool {
        let room = self.tolerance.beside(wanted);
        off <= room + ROUNDING && -off <= room.min(self.tolerance.below) + ROUNDING
    }

    /// Whether a value is so near to what a wrong way gives that it is told as that.
    pub(super) fn is_told(&self, off: f64, wrong: Value) -> bool {
        off.abs() <= self.tolerance.beside(wrong).min(self.tolerance.told) + ROUNDING
    }

    /// Whether a wrong value and a right one with this difference are so far apart that nothing can be both.
    #[inline]
    pub(super) fn far(&self, off: f64, wrong: Value, right: Value) -> bool {
        let room = self.tolerance.beside(right);
        let room = if off < 0.0 { room.min(self.tolerance.below) } else { room };
        off.abs() > room + self.tolerance.beside(wrong).min(self.tolerance.told) + ROUNDING
    }

    /// A place on the ground is judged by its distance, which has no sign.
    pub(super) const fn is_signed(&self) -> bool {
        !matches!(self.kind, FieldKind::Choice(_) | FieldKind::GridReference { .. } | FieldKind::MapPoint)
    }
}

/// Far below anything that is asked; sums of broken numbers leave it behind the point.
const ROUNDING: f64 = 1e-9;

fn plain(value: Value) -> f64 {
    match value {
        Value::Angle(angle) => angle.degrees(),
        Value::Number(number) => number,
        Value::Choice(_) | Value::Grid(_) | Value::Point(_) | Value::Blank => f64::NAN,
    }
}

fn on_dial(angle: Angle) -> bool {
    const CIRCLE: Angle = Angle::from_degrees(360.0);
    (Angle::ZERO..=CIRCLE).contains(&angle)
}

fn on_circle(number: f64, circle: f64) -> bool {
    (0.0..=circle).contains(&number)
}

/// The fields of a question: the same in every problem of a skill, or the problem's own.
#[derive(Clone, Debug)]
pub enum Fields {
    /// The same in every problem.
    Fixed(&'static [Field]),
    /// The problem's own.
    Own(Arc<[Field]>),
}

impl Deref for Fields {
    type Target = [Field];

    fn deref(&self) -> &[Field] {
        match self {
            Fields::Fixed(fields) => fields,
            Fields::Own(fields) => fields,
        }
    }
}

impl PartialEq for Fields {
    fn eq(&self, other: &Fields) -> bool {
        **self == **other
    }
}

impl From<&'static [Field]> for Fields {
    fn from(fields: &'static [Field]) -> Fields {
        Fields::Fixed(fields)
    }
}

impl<const N: usize> From<&'static [Field; N]> for Fields {
    fn from(fields: &'static [Field; N]) -> Fields {
        Fields::Fixed(fields)
    }
}

impl From<Vec<Field>> for Fields {
    fn from(fields: Vec<Field>) -> Fields {
        Fields::Own(fields.into())
    }
}

#[cfg(test)]
mod tests {
    use super::super::MapPoint;
    use super::*;
    use crate::ground::GridReference;

    fn field(kind: FieldKind, tolerance: Tolerance) -> Field {
        Field { name: "x", label: "x", kind, tolerance }
    }

    fn near(field: &Field, given: Value, wanted: Value) -> bool {
        field.near(field.difference(given, wanted), wanted)
    }

    fn far(field: &Field, one: Value, other: Value) -> bool {
        field.far(field.difference(one, other), one, other)
    }

    #[test]
    fn a_share_of_a_distance_grows_with_it_but_never_below_its_floor() {
        let distance = field(FieldKind::Distance(LengthUnit::Metres), Tolerance::share(0.05, 10.0));
        let metres = Value::Number;
        assert!(near(&distance, metres(1050.0), metres(1000.0)));
        assert!(!near(&distance, metres(1051.0), metres(1000.0)));
        assert!(near(&distance, metres(60.0), metres(50.0)));
        assert!(!far(&distance, metres(1000.0), metres(1100.0)), "1050 is right beside both");
        assert!(far(&distance, metres(1000.0), metres(1110.0)));
    }

    #[test]
    fn places_are_compared_by_their_distance_on_the_ground() {
        let point = field(FieldKind::MapPoint, Tolerance::within(100.0));
        let at = |east_m, north_m| Value::Point(MapPoint { east_m, north_m });
        assert!(near(&point, at(60.0, 80.0), at(0.0, 0.0)));
        assert!(!near(&point, at(61.0, 80.0), at(0.0, 0.0)));
        assert!(far(&point, at(201.0, 0.0), at(0.0, 0.0)));
        let grid = field(FieldKind::GridReference { figures: 6, lettered: false }, Tolerance::within(100.0));
        let reference = |text: &str| Value::Grid(GridReference::read(text).expect("a reference"));
        assert!(near(&grid, reference("347583"), reference("347582")));
        assert!(!near(&grid, reference("348583"), reference("347582")));
        assert!(far(&grid, reference("582347"), reference("347582")));
    }

    #[test]
    fn nothing_is_like_a_blank_and_no_other_word_is_near() {
        let choice =
            field(FieldKind::Choice(Choices::Own(vec!["one".to_owned(), "two".to_owned()].into())), Tolerance::EXACT);
        assert!(near(&choice, Value::Choice(1), Value::Choice(1)));
        assert!(far(&choice, Value::Choice(0), Value::Choice(1)));
        assert!(far(&choice, Value::Blank, Value::Choice(1)));
        assert!(!near(&choice, Value::Blank, Value::Blank));
    }
}
