//! The texts of the skill: question, worked steps, hint, ways of working.

use super::{ByName, CompassPointsItem, Given, point};
use crate::problem::{FigurePart, LineRole, Step};
use crate::skills::common::{figures, wrap_words, write_figures, write_size};
use crate::skills::turning::sense;
use std::fmt::{self, Display, Write};

/// So many points as degrees with three figures: 3 gives `033.75`, −1 gives `−11.25`, 33 gives `371.25`.
pub(super) fn degrees_of(points: i32) -> impl Display {
    fmt::from_fn(move |out| write_degrees(out, points))
}

fn write_degrees(out: &mut impl Write, points: i32) -> fmt::Result {
    write_figures(out, points * 1125 / 100 * 10)?;
    out.write_str(fraction(points))
}

/// So many points as the size of a turn: 3 gives `33.75`.
fn turn_words(points: i32) -> impl Display {
    fmt::from_fn(move |out| write_turn(out, points))
}

fn write_turn(out: &mut impl Write, points: i32) -> fmt::Result {
    write_size(out, points.abs() * 1125 / 100 * 10)?;
    out.write_str(fraction(points))
}

/// What stands behind the whole degrees of so many points.
const fn fraction(points: i32) -> &'static str {
    ["", ".25", ".5", ".75"][points.unsigned_abs() as usize % 4]
}

/// `045 − 11.25 = 033.75`.
pub(super) fn points_sum(from: i32, change: i32) -> impl Display {
    fmt::from_fn(move |out| {
        write_degrees(out, from)?;
        out.write_str(if change < 0 { " − " } else { " + " })?;
        write_turn(out, change)?;
        out.write_str(" = ")?;
        write_degrees(out, from + change)
    })
}

/// `(000 + 045) / 2 = 022.5`.
fn halves(low: i32, high: i32) -> impl Display {
    fmt::from_fn(move |out| {
        write!(out, "({} + {}) / 2 = {}", degrees_of(low), degrees_of(high), degrees_of(i32::midpoint(low, high)))
    })
}

/// The point that the question gives, in the figure.
const GIVEN: FigurePart = FigurePart::Point(LineRole::Given);
/// The right point.
const RIGHT: FigurePart = FigurePart::Point(LineRole::Right);

/// What a point is, said in every question that counts them.
fn a_point(item: &CompassPointsItem) -> &'static str {
    if item.step() == 1 {
        " (a point is 1/32 of the circle, 11.25°)"
    } else {
        " (a point is 1/16 of the circle, 22.5°)"
    }
}

/// How many names the card has.
fn names(item: &CompassPointsItem) -> &'static str {
    match item.card.count() {
        8 => "8",
        16 => "16",
        _ => "32",
    }
}

const COUNT: [&str; 8] = ["no", "one", "two", "three", "four", "five", "six", "seven"];

/// `three points clockwise`.
fn points_words(by: i32) -> impl Display {
    fmt::from_fn(move |out| write!(out, "{} points {}", COUNT[by.unsigned_abs() as usize % COUNT.len()], sense(by)))
}

pub(super) fn prompt(item: &CompassPointsItem) -> String {
    let (names, a_point) = (names(item), a_point(item));
    match item.given {
        Given::Name(point) => format!("How many degrees is {} ({})?", point.words(), point.name()),
        Given::Degrees { degrees, .. } => {
            format!("Which of the {names} compass points is nearest to {}°?", figures(degrees * 10))
        }
        Given::Wind(from) => {
            let from = from.name();
            if item.wants_degrees {
                format!("The wind blows from {from}. Toward how many degrees does it blow?")
            } else {
                format!("The wind blows from {from}. Toward which of the {names} points does it blow?")
            }
        }
        Given::Turn { start, by, wind } => {
            let (start, turn) = (start.name(), points_words(by / item.step()));
            match (wind, item.wants_degrees) {
                (true, true) => {
                    format!(
                        "The wind blew from {start} and has turned {turn}{a_point}. From how many degrees does it blow now?"
                    )
                }
                (true, false) => format!(
                    "The wind blew from {start} and has turned {turn}{a_point}. From which of the {names} points does it blow now?"
                ),
                (false, true) => format!("How many degrees is the point that lies {turn} of {start}{a_point}?"),
                (false, false) => format!("Which of the {names} points lies {turn} of {start}{a_point}?"),
            }
        }
    }
}

pub(super) fn steps(item: &CompassPointsItem) -> Vec<Step> {
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
            let words =
                format!("One point is {}, so {} are", turn_words(item.step()), COUNT[count as usize % COUNT.len()]);
            let line = format_args!("{count} × {} = {}", turn_words(item.step()), turn_words(by));
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
    let degrees = degrees_of(right.rem_euclid(32)).to_string();
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
            let line = format_args!(
                "{name}{}{}",
                [" = ", " = 1 × 90 = ", " = 2 × 90 = ", " = 3 × 90 = "][usize::from(point(number).number() / 8)],
                degrees_of(number)
            );
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
                let line = format_args!("{} = {}", point(by.stem).name(), degrees_of(by.stem));
                steps.push(Step::new("Begin at the first name", line));
            }
            let way = if by.toward < 0 { "so the number is smaller" } else { "so the number is larger" };
            let words = format!(
                "One of 32 parts of the circle is a point, 360 / 32 = 11.25, and \"by\" means one of them. {name} is one point of 11.25 from {} toward {}, {way}",
                point(by.stem).name(),
                behind_by(name)
            );
            steps.push(Step::new(words, points_sum(by.stem, by.toward)).about(part));
        }
    }
}

/// `NE by N` goes toward N.
fn behind_by(name: &str) -> &str {
    name.split_once('b').map_or(name, |(_, behind)| behind)
}

fn halve(number: i32, low: i32, high: i32) -> Step {
    let words =
        format!("{} lies halfway between {} and {}", point(number).name(), point(low).name(), point(high).name());
    let line = halves(low, high);
    Step::new(words, line)
}

/// From degrees to the nearest name of the card.
fn nearest(item: &CompassPointsItem, degrees: i32, steps: &mut Vec<Step>) {
    let right = item.right();
    steps.push(Step::words(match item.card.count() {
        8 => "360 / 8 = 45: on the card of 8 names one stands every 45°",
        16 => "360 / 16 = 22.5: on the card of 16 names one stands every 22.5°",
        _ => "360 / 32 = 11.25: on the card of 32 names one stands every 11.25°",
    }));
    let step = item.step();
    // In quarters of a degree, so that everything stays whole.
    let (given, spacing) = (degrees * 4, step * 45);
    let low = given / spacing * step;
    let name_at = |number: i32| format!("{} = {}", point(number).name(), degrees_of(number));
    if given % spacing == 0 {
        steps.push(Step::new("A name stands exactly there", name_at(low)).about(RIGHT).answers());
        return;
    }
    let words =
        format!("{} lies between {} and {}", figures(degrees * 10), point(low).name(), point(low + step).name());
    let line = format_args!("{} and {}", degrees_of(low), degrees_of(low + step));
    steps.push(Step::new(words, line).about(GIVEN).decides("Between which two names does it lie?"));
    // In quarters of a degree on either side.
    let off = |quarters: i32| f64::from(quarters) / 4.0;
    let (behind, ahead) = (off(given - low * 45), off((low + step) * 45 - given));
    let words = format!(
        "The nearer of the two: from {} it is {behind}°, to {} {ahead}°",
        point(low).name(),
        point(low + step).name()
    );
    steps.push(Step::new(words, point(right).name().to_owned()).about(RIGHT).answers());
}

pub(super) fn hint(item: &CompassPointsItem) -> &'static str {
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
pub(super) fn point_way(item: &CompassPointsItem, number: i32) -> String {
    way(item, number, degrees_of(number.rem_euclid(32)))
}

/// How one comes to the middle of the quarter.
pub(super) fn between_way(item: &CompassPointsItem, middle: i32) -> String {
    way(item, middle, halves(middle - 4, middle + 4))
}

/// How one comes to a wrong point by a sum.
pub(super) fn sum_way(item: &CompassPointsItem, from: i32, change: i32) -> String {
    way(item, from + change, points_sum(from, change))
}

/// A way to degrees shows its working; a name that was chosen is put beside its degrees.
fn way(item: &CompassPointsItem, number: i32, working: impl Display) -> String {
    if item.wants_degrees {
        format!("{working}, which is {}", point(number).name())
    } else {
        format!("{}, which is {}", point(number).name(), degrees_of(number.rem_euclid(32)))
    }
}

/// Turning by so many points, back on the circle if that left it, and the name if that is asked.
pub(super) fn turned(item: &CompassPointsItem, from: i32, by: i32) -> String {
    let mut out = points_sum(from, by).to_string();
    let raw = from + by;
    let wrapped = raw.rem_euclid(32);
    if wrapped != raw {
        let _ = write!(out, ", {}", points_sum(raw, wrapped - raw));
    }
    if !item.wants_degrees {
        let _ = write!(out, ", which is {}", point(wrapped).name());
    }
    out
}

/// Turning by points that are taken for twice their size.
pub(super) fn points_doubled(item: &CompassPointsItem, from: i32, by: i32) -> String {
    format!(
        "{} × {} = {}, {}",
        (by / item.step()).unsigned_abs(),
        turn_words(2 * item.step()),
        turn_words(2 * by),
        turned(item, from, 2 * by)
    )
}

/// The right way in one line.
pub(super) fn right_way(item: &CompassPointsItem) -> String {
    match item.given {
        Given::Turn { start, by, .. } => {
            let rule = if by < 0 { "Counterclockwise takes away" } else { "Clockwise adds" };
            format!("{rule}: {}", turned(item, i32::from(start.number()), by))
        }
        Given::Wind(from) => {
            let from = i32::from(from.number());
            format!("The other side, half a circle away: {}", turned(item, from, item.right() - from))
        }
        // The last step alone tells it: what comes before only finds its numbers.
        Given::Name(_) => steps(item).last().map_or_else(String::new, Step::line),
        Given::Degrees { degrees, nearest } => {
            let (given, name, number) = (figures(degrees * 10), nearest.name(), i32::from(nearest.number()));
            if degrees * 4 == number * 45 {
                format!("{given} is exactly {name}")
            } else {
                format!("{given} is nearest to {name}, which is {}", degrees_of(number))
            }
        }
    }
}
