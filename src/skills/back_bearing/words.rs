//! The texts of the skill: question, worked steps, hint, ways of working.

use super::{Item, Story, Unit};
use crate::problem::{FigurePart, LineRole, Step};
use crate::skills::common::{push_figures, push_size};

/// Appends a number of the unit as it stands in a sum: `065`, `−115`; mils without padding.
fn push_value(out: &mut String, unit: Unit, number: i32) {
    match unit {
        Unit::Degrees => push_figures(out, number),
        Unit::Mils => {
            out.push_str(if number < 0 { "−" } else { "" });
            push_size(out, number * 10);
        }
    }
}

/// Appends `065° M` or `1250 mils M`.
pub(super) fn push_bearing(out: &mut String, item: &Item, number: i32) {
    push_value(out, item.unit, number);
    out.push_str(if item.unit == Unit::Mils { " mils " } else { "° " });
    out.push(item.north.letter());
}

/// Appends `065 + 180 = 245`, not wrapped.
fn push_sum(out: &mut String, unit: Unit, from: i32, change: i32) {
    push_value(out, unit, from);
    out.push_str(if change < 0 { " − " } else { " + " });
    push_size(out, if unit == Unit::Mils { change * 10 } else { change });
    out.push_str(" = ");
    push_value(out, unit, from + change);
}

/// `065 + 180 = 245`, not wrapped.
pub(super) fn bare_sum(unit: Unit, from: i32, change: i32) -> String {
    let mut out = String::with_capacity(24);
    push_sum(&mut out, unit, from, change);
    out
}

/// The sum and, where it leaves the circle, the way back onto it.
pub(super) fn sum(unit: Unit, from: i32, change: i32) -> String {
    let mut out = String::with_capacity(48);
    push_sum(&mut out, unit, from, change);
    let off = from + change;
    if unit.wrap(off) != off {
        out.push_str(", ");
        push_sum(&mut out, unit, off, unit.wrap(off) - off);
    }
    out
}

pub(super) fn prompt(item: &Item) -> String {
    let mut out = String::with_capacity(220);
    let bearing = |out: &mut String, number| push_bearing(out, item, number);
    match item.story {
        Story::None => {
            out.push_str("What is the back bearing of ");
            bearing(&mut out, item.bearing);
            out.push('?');
        }
        Story::Return([from, to, _]) => {
            out.push_str("You walked straight from ");
            out.push_str(from);
            out.push_str(" to ");
            out.push_str(to);
            out.push_str(" on ");
            bearing(&mut out, item.bearing);
            out.push_str(". Fog comes in. Which bearing leads you back?");
        }
        Story::Landmark(landmark) => {
            out.push_str("From where you stand, the bearing to ");
            out.push_str(landmark);
            out.push_str(" is ");
            bearing(&mut out, item.bearing);
            out.push_str(". On the map you draw the line from ");
            out.push_str(landmark);
            out.push_str(" to you. At which bearing?");
        }
        Story::Legs { way: [start, middle, end], other, last } => {
            let (first, second) = if last { (other, item.bearing) } else { (item.bearing, other) };
            out.push_str("You walked from ");
            out.push_str(start);
            out.push_str(" to ");
            out.push_str(middle);
            out.push_str(" on ");
            bearing(&mut out, first);
            out.push_str(" and on to ");
            out.push_str(end);
            out.push_str(" on ");
            bearing(&mut out, second);
            out.push_str(". You go back the same way. Which bearing leads from ");
            out.push_str(if last { end } else { middle });
            out.push_str(" to ");
            out.push_str(if last { middle } else { start });
            out.push('?');
        }
    }
    out
}

/// Which bearing of a story is reversed, and why.
const fn choice(item: &Item) -> Option<&'static str> {
    match item.story {
        Story::None => None,
        Story::Return(_) => Some("Back along the same line: reverse the bearing"),
        Story::Landmark(_) => Some("The line is the same, seen from the landmark: reverse the bearing"),
        Story::Legs { last: true, .. } => Some("That is the last leg walked back: reverse the second bearing"),
        Story::Legs { last: false, .. } => Some("That is the first leg walked back: reverse the first bearing"),
    }
}

/// Add or take off, and why.
const fn rule(item: &Item) -> &'static str {
    match (item.unit, item.change() < 0) {
        (Unit::Degrees, false) => "Less than 180: add 180",
        (Unit::Degrees, true) => "180 or more: take off 180",
        (Unit::Mils, false) => "Less than 3200: add 3200",
        (Unit::Mils, true) => "3200 or more: take off 3200",
    }
}

pub(super) fn steps(item: &Item) -> Vec<Step> {
    let (unit, bearing, back) = (item.unit, item.bearing, item.back());
    let mut steps = Vec::with_capacity(4);
    if let Some(words) = choice(item) {
        let choice = Step::words(words).about(FigurePart::Line(LineRole::Given));
        steps.push(match item.story {
            Story::Legs { .. } => choice.decides("Which leg is walked back? Reverse its bearing"),
            Story::None | Story::Return(_) | Story::Landmark(_) => choice,
        });
    }
    let reversed = bare_sum(unit, bearing, item.change());
    let reversed = Step::new(rule(item), reversed).about(FigurePart::Line(LineRole::Right));
    steps.push(reversed.decides("Half a circle further: add it or take it off?"));
    let (low, high) = if bearing < back { (bearing, back) } else { (back, bearing) };
    let mut line = String::with_capacity(24);
    push_value(&mut line, unit, high);
    line.push_str(" − ");
    push_value(&mut line, unit, low);
    line.push_str(" = ");
    push_value(&mut line, unit, unit.half());
    steps.push(Step::new("Check: the two differ by exactly half a circle", line).answers());
    let mut line = String::with_capacity(16);
    push_bearing(&mut line, item, back);
    let letter = Step::new("Write the letter of the north behind it", line).about(FigurePart::North(item.north));
    steps.push(letter.answers());
    steps
}

pub(super) const fn hint(item: &Item) -> &'static str {
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
pub(super) fn unchanged(item: &Item) -> String {
    let mut out = String::with_capacity(24);
    push_value(&mut out, item.unit, item.bearing);
    out.push_str(", unchanged");
    out
}

/// The bearing taken from the full circle.
pub(super) fn from_full_circle(item: &Item) -> String {
    let (unit, bearing) = (item.unit, item.bearing);
    let mut out = String::with_capacity(24);
    push_value(&mut out, unit, unit.circle());
    out.push_str(" − ");
    push_value(&mut out, unit, bearing);
    out.push_str(" = ");
    push_value(&mut out, unit, unit.circle() - bearing);
    out
}

/// The other leg reversed.
pub(super) fn other_leg(unit: Unit, other: i32) -> String {
    let change = if other < unit.half() { unit.half() } else { -unit.half() };
    let mut out = String::with_capacity(40);
    out.push_str("the other leg: ");
    push_sum(&mut out, unit, other, change);
    out
}

/// The right way in one line.
pub(super) fn right_way(item: &Item) -> String {
    let mut out = String::with_capacity(60);
    out.push_str(rule(item));
    out.push_str(": ");
    push_sum(&mut out, item.unit, item.bearing, item.change());
    out
}
