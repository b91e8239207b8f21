//! The texts of the skill: question, worked steps, hint, ways of working.

use super::{BackBearingItem, Story, Unit};
use crate::problem::{FigurePart, LineRole, Step};
use crate::skills::common::{write_figures, write_size};
use std::fmt::{self, Display, Write};

/// A number of the unit as it stands in a sum: `065`, `−115`; mils without padding.
fn value(unit: Unit, number: i32) -> impl Display {
    fmt::from_fn(move |out| write_value(out, unit, number))
}

fn write_value(out: &mut impl Write, unit: Unit, number: i32) -> fmt::Result {
    match unit {
        Unit::Degrees => write_figures(out, number),
        Unit::Mils => {
            out.write_str(if number < 0 { "−" } else { "" })?;
            write_size(out, number * 10)
        }
    }
}

/// `065° M` or `1250 mils M`.
pub(super) fn bearing(item: &BackBearingItem, number: i32) -> impl Display {
    let unit = if item.unit == Unit::Mils { " mils " } else { "° " };
    fmt::from_fn(move |out| {
        write_value(out, item.unit, number)?;
        out.write_str(unit)?;
        out.write_char(item.north.letter())
    })
}

/// `065 + 180 = 245`, not wrapped.
pub(super) fn bare_sum(unit: Unit, from: i32, change: i32) -> impl Display {
    fmt::from_fn(move |out| {
        write_value(out, unit, from)?;
        out.write_str(if change < 0 { " − " } else { " + " })?;
        write_size(out, if unit == Unit::Mils { change * 10 } else { change })?;
        out.write_str(" = ")?;
        write_value(out, unit, from + change)
    })
}

/// The sum and, where it leaves the circle, the way back onto it.
pub(super) fn sum(unit: Unit, from: i32, change: i32) -> impl Display {
    let off = from + change;
    fmt::from_fn(move |out| match unit.wrap(off) {
        wrapped if wrapped == off => write!(out, "{}", bare_sum(unit, from, change)),
        wrapped => write!(out, "{}, {}", bare_sum(unit, from, change), bare_sum(unit, off, wrapped - off)),
    })
}

pub(super) fn prompt(item: &BackBearingItem) -> String {
    let given = bearing(item, item.bearing);
    match item.story {
        Story::None => format!("What is the back bearing of {given}?"),
        Story::Return([from, to, _]) => {
            format!("You walked straight from {from} to {to} on {given}. Fog comes in. Which bearing leads you back?")
        }
        Story::Landmark(landmark) => format!(
            "From where you stand, the bearing to {landmark} is {given}. On the map you draw the line from {landmark} to you. \
             At which bearing?"
        ),
        Story::Legs { way: [start, middle, end], other, last } => {
            let (first, second) = if last { (other, item.bearing) } else { (item.bearing, other) };
            let (from, to) = if last { (end, middle) } else { (middle, start) };
            format!(
                "You walked from {start} to {middle} on {} and on to {end} on {}. You go back the same way. Which bearing leads \
                 from {from} to {to}?",
                bearing(item, first),
                bearing(item, second)
            )
        }
    }
}

/// Which bearing of a story is reversed, and why.
const fn choice(item: &BackBearingItem) -> Option<&'static str> {
    match item.story {
        Story::None => None,
        Story::Return(_) => Some("Back along the same line: reverse the bearing"),
        Story::Landmark(_) => Some("The line is the same, seen from the landmark: reverse the bearing"),
        Story::Legs { last: true, .. } => Some("That is the last leg walked back: reverse the second bearing"),
        Story::Legs { last: false, .. } => Some("That is the first leg walked back: reverse the first bearing"),
    }
}

/// Add or take off, and why.
const fn rule(item: &BackBearingItem) -> &'static str {
    match (item.unit, item.change() < 0) {
        (Unit::Degrees, false) => "Less than 180: add 180",
        (Unit::Degrees, true) => "180 or more: take off 180",
        (Unit::Mils, false) => "Less than 3200: add 3200",
        (Unit::Mils, true) => "3200 or more: take off 3200",
    }
}

/// Why it is the one and not the other.
const fn reason(item: &BackBearingItem) -> &'static str {
    match item.change() < 0 {
        false => "Looking back you look half a circle further on, and below half a circle there is room for that",
        true => {
            "Looking back you look half a circle on, and from here that would leave the circle, so go there the other way"
        }
    }
}

/// Toward which side a bearing points, to the quarter: `south-east`.
fn quarter(unit: Unit, bearing: i32) -> &'static str {
    let (sides, between) =
        (["north", "east", "south", "west"], ["north-east", "south-east", "south-west", "north-west"]);
    let part = unit.circle() / 4;
    let at = usize::try_from(bearing.rem_euclid(unit.circle()) / part).unwrap_or(0) % 4;
    if bearing % part == 0 { sides[at] } else { between[at] }
}

pub(super) fn steps(item: &BackBearingItem) -> Vec<Step> {
    let (unit, given, back) = (item.unit, item.bearing, item.back());
    let mut steps = Vec::with_capacity(4);
    if let Some(words) = choice(item) {
        let choice = Step::words(words).about(FigurePart::Line(LineRole::Given));
        steps.push(match item.story {
            Story::Legs { .. } => choice.decides("Which leg is walked back? Reverse its bearing"),
            Story::None | Story::Return(_) | Story::Landmark(_) => choice,
        });
    }
    let reversed = bare_sum(unit, given, item.change());
    let reversed =
        Step::new(format!("{}. {}", reason(item), rule(item)), reversed).about(FigurePart::Line(LineRole::Right));
    steps.push(reversed.decides("Half a circle further: add it or take it off?"));
    let (low, high) = if given < back { (given, back) } else { (back, given) };
    let (high, low, half) = (value(unit, high), value(unit, low), value(unit, unit.half()));
    steps.push(
        Step::new(
            format!(
                "Check: the bearing points {}, so the way back must point {}; and the two differ by exactly half a circle",
                quarter(unit, given),
                quarter(unit, back)
            ),
            format_args!("{high} − {low} = {half}"),
        )
        .answers(),
    );
    let line = bearing(item, back);
    let letter = Step::new("Write the letter of the north behind it", line).about(FigurePart::North(item.north));
    steps.push(letter.answers());
    steps
}

pub(super) const fn hint(item: &BackBearingItem) -> &'static str {
    match (item.story, item.unit) {
        (Story::Legs { .. }, _) => {
            "Sketch the three places and both legs. Which leg do you walk, and which way along it?"
        }
        (Story::Landmark(_), _) => {
            "Sketch yourself and the landmark. Standing at the landmark, which way do you look at yourself?"
        }
        (_, Unit::Mils) => "Half a circle is 3200 mils. Which sum stays between 0 and 6400?",
        (_, Unit::Degrees) => "Turn round: that is half a circle. Which sum stays between 0 and 360?",
    }
}

/// The bearing as it was.
pub(super) fn unchanged(item: &BackBearingItem) -> String {
    format!("{}, unchanged", value(item.unit, item.bearing))
}

/// The bearing taken from the full circle.
pub(super) fn from_full_circle(item: &BackBearingItem) -> String {
    let (unit, bearing) = (item.unit, item.bearing);
    format!("{} − {} = {}", value(unit, unit.circle()), value(unit, bearing), value(unit, unit.circle() - bearing))
}

/// The other leg reversed.
pub(super) fn other_leg(unit: Unit, other: i32) -> String {
    let change = if other < unit.half() { unit.half() } else { -unit.half() };
    format!("the other leg: {}", bare_sum(unit, other, change))
}

/// The right way in one line.
pub(super) fn right_way(item: &BackBearingItem) -> String {
    format!("{}: {}", rule(item), bare_sum(item.unit, item.bearing, item.change()))
}
