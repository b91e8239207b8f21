//! The texts of the skill: question, worked steps, hint, the two paths.

use super::{COUNTED_OTHER_WAY, Item, NOT_REVERSED, NOT_WRAPPED, QUARTER_TURN, Story, Unit, WRONG_LEG};
use crate::problem::{MixupId, Paths, Step};
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

/// Appends the sum and, where it leaves the circle, the way back onto it.
fn push_wrapped_sum(out: &mut String, unit: Unit, from: i32, change: i32) {
    push_sum(out, unit, from, change);
    let off = from + change;
    if unit.wrap(off) != off {
        out.push_str(", ");
        push_sum(out, unit, off, unit.wrap(off) - off);
    }
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
        steps.push(Step::words(words));
    }
    let mut line = String::with_capacity(24);
    push_sum(&mut line, unit, bearing, item.change());
    steps.push(Step::new(rule(item), line));
    let (low, high) = if bearing < back { (bearing, back) } else { (back, bearing) };
    let mut line = String::with_capacity(24);
    push_value(&mut line, unit, high);
    line.push_str(" − ");
    push_value(&mut line, unit, low);
    line.push_str(" = ");
    push_value(&mut line, unit, unit.half());
    steps.push(Step::new("Check: the two differ by exactly half a circle", line));
    let mut line = String::with_capacity(16);
    push_bearing(&mut line, item, back);
    steps.push(Step::new("Write the letter of the north behind it", line));
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

pub(super) fn paths(item: &Item, mixup: MixupId) -> Paths {
    let (unit, bearing) = (item.unit, item.bearing);
    let mut yours = String::with_capacity(60);
    match mixup {
        id if id == NOT_REVERSED.id => {
            push_value(&mut yours, unit, bearing);
            yours.push_str(", unchanged");
        }
        id if id == COUNTED_OTHER_WAY.id => {
            yours.push_str(if unit == Unit::Mils { "6400 − " } else { "360 − " });
            push_value(&mut yours, unit, bearing);
            yours.push_str(" = ");
            push_value(&mut yours, unit, unit.circle() - bearing);
        }
        id if id == QUARTER_TURN.id => push_wrapped_sum(&mut yours, unit, bearing, unit.circle() / 4),
        id if id == NOT_WRAPPED.id => push_sum(&mut yours, unit, bearing, -item.change()),
        id if id == WRONG_LEG.id => {
            if let Story::Legs { other, .. } = item.story {
                yours.push_str("the other leg: ");
                let change = if other < unit.half() { unit.half() } else { -unit.half() };
                push_sum(&mut yours, unit, other, change);
            }
        }
        _ => push_value(&mut yours, unit, bearing),
    }
    let mut right = String::with_capacity(120);
    right.push_str(rule(item));
    right.push_str(": ");
    push_sum(&mut right, unit, bearing, item.change());
    Paths { yours, right }
}
