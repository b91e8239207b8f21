//! The texts of the skill: question, worked steps, hint, ways of working.

use super::{ByName, Given, Item, point};
use crate::problem::{FigurePart, LineRole, Step};
use crate::skills::common::{push_figures, push_number, push_size, wrap_words};
use crate::skills::turning::sense;

/// Appends so many points as degrees with three figures: 3 gives `033.75`, −1 gives `−11.25`, 33 gives `371.25`.
pub(super) fn push_degrees(out: &mut String, points: i32) {
    push_figures(out, points * 1125 / 100 * 10);
    push_fraction(out, points);
}

/// Appends so many points as the size of a turn: 3 gives `33.75`.
fn push_turn(out: &mut String, points: i32) {
    push_size(out, points.abs() * 1125 / 100 * 10);
    push_fraction(out, points);
}

fn push_fraction(out: &mut String, points: i32) {
    out.push_str(["", ".25", ".5", ".75"][points.unsigned_abs() as usize % 4]);
}

/// Appends `045 − 11.25 = 033.75`.
fn push_points_sum(out: &mut String, from: i32, change: i32) {
    push_degrees(out, from);
    out.push_str(if change < 0 { " − " } else { " + " });
    push_turn(out, change);
    out.push_str(" = ");
    push_degrees(out, from + change);
}

/// `045 − 11.25 = 033.75`.
pub(super) fn points_sum(from: i32, change: i32) -> String {
    let mut out = String::with_capacity(32);
    push_points_sum(&mut out, from, change);
    out
}

/// `(000 + 045) / 2 = 022.5`.
fn push_halves(out: &mut String, low: i32, high: i32) {
    out.push('(');
    push_degrees(out, low);
    out.push_str(" + ");
    push_degrees(out, high);
    out.push_str(") / 2 = ");
    push_degrees(out, i32::midpoint(low, high));
}

/// The point that the question gives, in the figure.
const GIVEN: FigurePart = FigurePart::Point(LineRole::Given);
/// The right point.
const RIGHT: FigurePart = FigurePart::Point(LineRole::Right);

/// What a point is, said in every question that counts them.
fn a_point(item: &Item) -> &'static str {
    if item.step() == 1 {
        " (a point is 1/32 of the circle, 11.25°)"
    } else {
        " (a point is 1/16 of the circle, 22.5°)"
    }
}

/// How many names the card has.
fn names(item: &Item) -> &'static str {
    match item.card.count() {
        8 => "8",
        16 => "16",
        _ => "32",
    }
}

const COUNT: [&str; 8] = ["no", "one", "two", "three", "four", "five", "six", "seven"];

/// `three points clockwise`.
fn push_points(out: &mut String, by: i32) {
    out.push_str(COUNT[by.unsigned_abs() as usize % COUNT.len()]);
    out.push_str(" points ");
    out.push_str(sense(by));
}

pub(super) fn prompt(item: &Item) -> String {
    let mut out = String::with_capacity(120);
    match item.given {
        Given::Name(point) => {
            out.push_str("How many degrees is ");
            out.push_str(point.words());
            out.push_str(" (");
            out.push_str(point.name());
            out.push_str(")?");
        }
        Given::Degrees { degrees, .. } => {
            out.push_str("Which of the ");
            out.push_str(names(item));
            out.push_str(" compass points is nearest to ");
            push_figures(&mut out, degrees * 10);
            out.push_str("°?");
        }
        Given::Wind(from) => {
            out.push_str("The wind blows from ");
            out.push_str(from.name());
            if item.wants_degrees {
                out.push_str(". Toward how many degrees does it blow?");
            } else {
                out.push_str(". Toward which of the ");
                out.push_str(names(item));
                out.push_str(" points does it blow?");
            }
        }
        Given::Turn { start, by, wind: true } => {
            out.push_str("The wind blew from ");
            out.push_str(start.name());
            out.push_str(" and has turned ");
            push_points(&mut out, by / item.step());
            out.push_str(a_point(item));
            if item.wants_degrees {
                out.push_str(". From how many degrees does it blow now?");
            } else {
                out.push_str(". From which of the ");
                out.push_str(names(item));
                out.push_str(" points does it blow now?");
            }
        }
        Given::Turn { start, by, wind: false } => {
            if item.wants_degrees {
                out.push_str("How many degrees is the point that lies ");
            } else {
                out.push_str("Which of the ");
                out.push_str(names(item));
                out.push_str(" points lies ");
            }
            push_points(&mut out, by / item.step());
            out.push_str(" of ");
            out.push_str(start.name());
            out.push_str(a_point(item));
            out.push('?');
        }
    }
    out
}

pub(super) fn steps(item: &Item) -> Vec<Step> {
    let mut steps = Vec::with_capacity(4);
    let right = item.right();
    match item.given {
        Given::Name(_) => {
            build(right, RIGHT, &mut steps);
            hide(right, &mut steps);
        }
        Given::Degrees { degrees, .. } => nearest(item, degrees, &mut steps),
        Given::Wind(from) => {
            let from = i32::from(from.number());
            build(from, GIVEN, &mut steps);
            hide(right, &mut steps);
            let opposite = Step::new(
                "What blows from there blows to the other side, half a circle away",
                points_sum(from, right - from),
            );
            steps.push(opposite.about(RIGHT).decides("To which side does it blow, seen from where it comes?"));
            if !item.wants_degrees {
                steps.push(name_there(right));
            }
        }
        Given::Turn { start, by, .. } => {
            let from = i32::from(start.number());
            build(from, GIVEN, &mut steps);
            hide(right, &mut steps);
            let count = (by / item.step()).unsigned_abs();
            let mut words = String::with_capacity(32);
            words.push_str("One point is ");
            push_turn(&mut words, item.step());
            words.push_str(", so ");
            words.push_str(COUNT[count as usize % COUNT.len()]);
            words.push_str(" are");
            let mut line = String::with_capacity(20);
            push_number(&mut line, count);
            line.push_str(" × ");
            push_turn(&mut line, item.step());
            line.push_str(" = ");
            push_turn(&mut line, by);
            steps.push(Step::new(words, line));
            let words = if by < 0 { "Counterclockwise takes away" } else { "Clockwise adds" };
            let turned = Step::new(words, points_sum(from, by)).about(RIGHT);
            steps.push(turned.decides("Turning that way, do the degrees grow or shrink?"));
            let wrapped = right.rem_euclid(32);
            if wrapped != right {
                let back = Step::new(wrap_words(right), points_sum(right, wrapped - right)).about(RIGHT);
                steps.push(back.decides("Is the number on the circle, from 000 to 359? If not, bring it back"));
            }
            if !item.wants_degrees {
                steps.push(name_there(right));
            }
        }
    }
    steps
}

/// The name of the right point.
fn name_there(right: i32) -> Step {
    Step::new("The name there", point(right).name().to_owned()).about(RIGHT).answers()
}

/// Marks the steps that end in the right point.
fn hide(right: i32, steps: &mut [Step]) {
    let mut degrees = String::with_capacity(8);
    push_degrees(&mut degrees, right.rem_euclid(32));
    for step in steps {
        if step.sum.ends_with(&degrees) {
            *step = step.clone().answers();
        }
    }
}

/// How a name is put together, from the quarter down; its point is this part of the figure.
fn build(number: i32, part: FigurePart, steps: &mut Vec<Step>) {
    let name = point(number).name();
    let quarter = number / 8 * 8;
    match number % 8 {
        0 => {
            let mut line = String::with_capacity(16);
            line.push_str(name);
            line.push_str([" = ", " = 1 × 90 = ", " = 2 × 90 = ", " = 3 × 90 = "][number as usize / 8 % 4]);
            push_degrees(&mut line, number);
            steps.push(Step::new("N, E, S and W follow each other clockwise, 90 degrees apart", line).about(part));
        }
        4 => steps.push(halve(number, quarter, quarter + 8).about(part)),
        2 => {
            steps.push(halve(quarter + 4, quarter, quarter + 8));
            steps.push(halve(number, quarter, quarter + 4).about(part));
        }
        6 => {
            steps.push(halve(quarter + 4, quarter, quarter + 8));
            steps.push(halve(number, quarter + 4, quarter + 8).about(part));
        }
        _ => {
            let Some(by) = ByName::of(number) else { return };
            if by.stem % 8 == 4 {
                steps.push(halve(by.stem, quarter, quarter + 8));
            } else {
                let mut line = String::with_capacity(10);
                line.push_str(point(by.stem).name());
                line.push_str(" = ");
                push_degrees(&mut line, by.stem);
                steps.push(Step::new("Begin at the first name", line));
            }
            let mut words = String::with_capacity(48);
            words.push_str(name);
            words.push_str(" is one point of 11.25 from ");
            words.push_str(point(by.stem).name());
            words.push_str(" toward ");
            words.push_str(behind_by(name));
            steps.push(Step::new(words, points_sum(by.stem, by.toward)).about(part));
        }
    }
}

/// `NE by N` goes toward N.
fn behind_by(name: &str) -> &str {
    name.split_once('b').map_or(name, |(_, behind)| behind)
}

fn halve(number: i32, low: i32, high: i32) -> Step {
    let mut words = String::with_capacity(40);
    words.push_str(point(number).name());
    words.push_str(" lies halfway between ");
    words.push_str(point(low).name());
    words.push_str(" and ");
    words.push_str(point(high).name());
    let mut line = String::with_capacity(28);
    push_halves(&mut line, low, high);
    Step::new(words, line)
}

/// From degrees to the nearest name of the card.
fn nearest(item: &Item, degrees: i32, steps: &mut Vec<Step>) {
    let right = item.right();
    steps.push(Step::words(match item.card.count() {
        8 => "On the card of 8 names one stands every 45°",
        16 => "On the card of 16 names one stands every 22.5°",
        _ => "On the card of 32 names one stands every 11.25°",
    }));
    let step = item.step();
    // In quarters of a degree, so that everything stays whole.
    let (given, spacing) = (degrees * 4, step * 45);
    let low = given / spacing * step;
    let name_at = |number: i32| {
        let mut line = String::with_capacity(12);
        line.push_str(point(number).name());
        line.push_str(" = ");
        push_degrees(&mut line, number);
        line
    };
    if given % spacing == 0 {
        steps.push(Step::new("A name stands exactly there", name_at(low)).about(RIGHT).answers());
        return;
    }
    let mut words = String::with_capacity(40);
    push_figures(&mut words, degrees * 10);
    words.push_str(" lies between ");
    words.push_str(point(low).name());
    words.push_str(" and ");
    words.push_str(point(low + step).name());
    let mut line = String::with_capacity(24);
    push_degrees(&mut line, low);
    line.push_str(" and ");
    push_degrees(&mut line, low + step);
    steps.push(Step::new(words, line).about(GIVEN).decides("Between which two names does it lie?"));
    steps.push(Step::new("The nearer of the two", point(right).name().to_owned()).about(RIGHT).answers());
}

pub(super) fn hint(item: &Item) -> &'static str {
    match item.given {
        Given::Name(point) => match point.number() % 8 {
            0 => "N, E, S and W follow each other clockwise, a quarter circle apart. Where does the count begin?",
            4 => "Which two main points does the name join? It lies halfway between them.",
            2 | 6 => {
                "Take the name apart: its first letter, and the two letters behind. The point lies halfway between those two."
            }
            _ => "Find the degrees of the first name. \"By\" is one point of 11.25°, toward the name behind it.",
        },
        Given::Degrees { .. } => {
            "Which quarter is it in: N to E, E to S, S to W or W to N? Halve that quarter and go on."
        }
        Given::Wind(_) => "A wind is named after where it comes from. Draw that on a card: where does it blow to?",
        Given::Turn { .. } if item.step() == 1 => {
            "32 points make the circle of 360°. Do the degrees grow or shrink when you turn this way?"
        }
        Given::Turn { .. } => {
            "16 points make the circle of 360°. Do the degrees grow or shrink when you turn this way?"
        }
    }
}

/// How one comes to a wrong point whose way is not to be seen: both of its names.
pub(super) fn point_way(item: &Item, number: i32) -> String {
    way(item, number, |out| push_degrees(out, number.rem_euclid(32)))
}

/// How one comes to the middle of the quarter.
pub(super) fn between_way(item: &Item, middle: i32) -> String {
    way(item, middle, |out| push_halves(out, middle - 4, middle + 4))
}

/// How one comes to a wrong point by a sum.
pub(super) fn sum_way(item: &Item, from: i32, change: i32) -> String {
    way(item, from + change, |out| push_points_sum(out, from, change))
}

/// A way to degrees shows its working; a name that was chosen is put beside its degrees.
fn way(item: &Item, number: i32, working: impl FnOnce(&mut String)) -> String {
    let mut out = String::with_capacity(60);
    if item.wants_degrees {
        working(&mut out);
        push_name(&mut out, number);
    } else {
        out.push_str(point(number).name());
        out.push_str(", which is ");
        push_degrees(&mut out, number.rem_euclid(32));
    }
    out
}

/// Turning by so many points, back on the circle if that left it, and the name if that is asked.
pub(super) fn turned(item: &Item, from: i32, by: i32) -> String {
    let mut out = String::with_capacity(80);
    push_points_sum(&mut out, from, by);
    let raw = from + by;
    let wrapped = raw.rem_euclid(32);
    if wrapped != raw {
        out.push_str(", ");
        push_points_sum(&mut out, raw, wrapped - raw);
    }
    if !item.wants_degrees {
        push_name(&mut out, wrapped);
    }
    out
}

/// Turning by points that are taken for twice their size.
pub(super) fn points_doubled(item: &Item, from: i32, by: i32) -> String {
    let mut out = String::with_capacity(100);
    push_number(&mut out, (by / item.step()).unsigned_abs());
    out.push_str(" × ");
    push_turn(&mut out, 2 * item.step());
    out.push_str(" = ");
    push_turn(&mut out, 2 * by);
    out.push_str(", ");
    out.push_str(&turned(item, from, 2 * by));
    out
}

fn push_name(out: &mut String, number: i32) {
    out.push_str(", which is ");
    out.push_str(point(number).name());
}

/// The right way in one line.
pub(super) fn right_way(item: &Item) -> String {
    let mut out = String::with_capacity(120);
    match item.given {
        Given::Turn { start, by, .. } => {
            out.push_str(if by < 0 { "Counterclockwise takes away: " } else { "Clockwise adds: " });
            out.push_str(&turned(item, i32::from(start.number()), by));
        }
        Given::Wind(from) => {
            out.push_str("The other side, half a circle away: ");
            out.push_str(&turned(item, i32::from(from.number()), item.right() - i32::from(from.number())));
        }
        Given::Name(_) => {
            // The last step alone tells it: what comes before only finds its numbers.
            if let Some(step) = steps(item).last() {
                out.push_str(&step.line());
            }
        }
        Given::Degrees { degrees, nearest } => {
            let number = i32::from(nearest.number());
            push_figures(&mut out, degrees * 10);
            if degrees * 4 == number * 45 {
                out.push_str(" is exactly ");
                out.push_str(nearest.name());
            } else {
                out.push_str(" is nearest to ");
                out.push_str(nearest.name());
                out.push_str(", which is ");
                push_degrees(&mut out, number);
            }
        }
    }
    out
}
