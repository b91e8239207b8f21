//! The texts of the skill: question, worked steps, hint, the two paths.

use super::meta::{BETWEEN_CARDINALS, BY_WRONG_WAY, POINTS_OF_SIXTEEN, STEMS_EXCHANGED, WRONG_STEM};
use super::{ByName, Given, Item, point};
use crate::problem::{MixupId, Paths, Step};
use crate::skills::common::{NOT_WRAPPED, push_figures, push_size};
use crate::skills::turning::TURNED_OTHER_WAY;

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

fn points_sum(from: i32, change: i32) -> String {
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

/// What a point is, said in every question that counts them.
const A_POINT: &str = " (a point is 1/32 of the circle, 11.25°)";

const COUNT: [&str; 8] = ["no", "one", "two", "three", "four", "five", "six", "seven"];

const fn sense(by: i32) -> &'static str {
    if by < 0 { "counterclockwise" } else { "clockwise" }
}

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
            out.push_str(match item.card.count() {
                8 => "8",
                16 => "16",
                _ => "32",
            });
            out.push_str(" compass points is nearest to ");
            push_figures(&mut out, degrees * 10);
            out.push_str("°?");
        }
        Given::Turn { start, by, wind: true } => {
            out.push_str("The wind blew from ");
            out.push_str(start.name());
            out.push_str(" and has turned ");
            push_points(&mut out, by);
            out.push_str(A_POINT);
            out.push_str(if item.wants_degrees {
                ". From how many degrees does it blow now?"
            } else {
                ". From which of the 32 points does it blow now?"
            });
        }
        Given::Turn { start, by, wind: false } => {
            out.push_str(if item.wants_degrees {
                "How many degrees is the point that lies "
            } else {
                "Which of the 32 points lies "
            });
            push_points(&mut out, by);
            out.push_str(" of ");
            out.push_str(start.name());
            out.push_str(A_POINT);
            out.push('?');
        }
    }
    out
}

pub(super) fn steps(item: &Item) -> Vec<Step> {
    let mut steps = Vec::with_capacity(4);
    let right = item.right();
    match item.given {
        Given::Name(_) => build(right, &mut steps),
        Given::Degrees { degrees, .. } => nearest(item, degrees, &mut steps),
        Given::Turn { start, by, .. } => {
            let from = i32::from(start.number());
            build(from, &mut steps);
            let mut words = String::with_capacity(32);
            words.push_str("One point is 11.25, so ");
            words.push_str(COUNT[by.unsigned_abs() as usize % COUNT.len()]);
            words.push_str(" are");
            let mut line = String::with_capacity(20);
            line.push(char::from(b'0' + by.unsigned_abs() as u8 % 10));
            line.push_str(" × 11.25 = ");
            push_turn(&mut line, by);
            steps.push(Step::new(words, line));
            steps.push(Step::new(
                if by < 0 { "Counterclockwise takes away" } else { "Clockwise adds" },
                points_sum(from, by),
            ));
            let wrapped = right.rem_euclid(32);
            if wrapped != right {
                let words = if right < 0 { "Below zero: add 360" } else { "Past north: take off 360" };
                steps.push(Step::new(words, points_sum(right, wrapped - right)));
            }
            if !item.wants_degrees {
                steps.push(Step::new("The name there", point(right).name().to_owned()));
            }
        }
    }
    steps
}

/// How a name is put together, from the quarter down.
fn build(number: i32, steps: &mut Vec<Step>) {
    let name = point(number).name();
    let quarter = number / 8 * 8;
    match number % 8 {
        0 => {
            let mut line = String::with_capacity(16);
            line.push_str(name);
            line.push_str([" = ", " = 1 × 90 = ", " = 2 × 90 = ", " = 3 × 90 = "][number as usize / 8 % 4]);
            push_degrees(&mut line, number);
            steps.push(Step::new("N, E, S and W follow each other clockwise, 90 degrees apart", line));
        }
        4 => halve(number, quarter, quarter + 8, steps),
        2 => {
            halve(quarter + 4, quarter, quarter + 8, steps);
            halve(number, quarter, quarter + 4, steps);
        }
        6 => {
            halve(quarter + 4, quarter, quarter + 8, steps);
            halve(number, quarter + 4, quarter + 8, steps);
        }
        _ => {
            let Some(by) = ByName::of(number) else { return };
            if by.stem % 8 == 4 {
                halve(by.stem, quarter, quarter + 8, steps);
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
            steps.push(Step::new(words, points_sum(by.stem, by.toward)));
        }
    }
}

/// `NE by N` goes toward N.
fn behind_by(name: &str) -> &str {
    name.split_once('b').map_or(name, |(_, behind)| behind)
}

fn halve(number: i32, low: i32, high: i32, steps: &mut Vec<Step>) {
    let mut words = String::with_capacity(40);
    words.push_str(point(number).name());
    words.push_str(" lies halfway between ");
    words.push_str(point(low).name());
    words.push_str(" and ");
    words.push_str(point(high).name());
    let mut line = String::with_capacity(28);
    push_halves(&mut line, low, high);
    steps.push(Step::new(words, line));
}

/// From degrees to the nearest name of the card.
fn nearest(item: &Item, degrees: i32, steps: &mut Vec<Step>) {
    let right = item.right();
    steps.push(Step::words(match item.card.count() {
        8 => "On the card of 8 names one stands every 45°",
        16 => "On the card of 16 names one stands every 22.5°",
        _ => "On the card of 32 names one stands every 11.25°",
    }));
    let step = 32 / i32::from(item.card.count());
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
        steps.push(Step::new("A name stands exactly there", name_at(low)));
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
    steps.push(Step::new(words, line));
    steps.push(Step::new("The nearer of the two", point(right).name().to_owned()));
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
        Given::Turn { .. } => {
            "32 points make the circle of 360°. Do the degrees grow or shrink when you turn this way?"
        }
    }
}

pub(super) fn paths(item: &Item, mixup: MixupId) -> Paths {
    let right = item.right();
    let wrong = item.wrong(mixup).unwrap_or(right);
    let mut yours = String::with_capacity(60);
    let by = ByName::of(right);
    match (item.given, by) {
        (Given::Turn { start, by, .. }, _) if mixup == TURNED_OTHER_WAY.id => {
            push_points_sum(&mut yours, i32::from(start.number()), -by);
            push_end(&mut yours, item, start, -by);
        }
        (Given::Turn { start, by, .. }, _) if mixup == POINTS_OF_SIXTEEN.id => {
            yours.push(char::from(b'0' + by.unsigned_abs() as u8 % 10));
            yours.push_str(" × 22.5 = ");
            push_turn(&mut yours, 2 * by);
            yours.push_str(", ");
            push_points_sum(&mut yours, i32::from(start.number()), 2 * by);
            push_end(&mut yours, item, start, 2 * by);
        }
        (Given::Turn { start, by, .. }, _) if mixup == NOT_WRAPPED.id => {
            push_points_sum(&mut yours, i32::from(start.number()), by);
        }
        (Given::Name(_), Some(by)) if mixup == BY_WRONG_WAY.id => {
            push_points_sum(&mut yours, by.stem, -by.toward);
            push_name(&mut yours, wrong);
        }
        (Given::Name(_), Some(by)) if mixup == STEMS_EXCHANGED.id => {
            push_points_sum(&mut yours, by.stem + 4 * by.toward, -by.toward);
            push_name(&mut yours, wrong);
        }
        (Given::Name(_), Some(by)) if mixup == WRONG_STEM.id => {
            push_points_sum(&mut yours, by.stem, 4 * by.toward);
            push_name(&mut yours, wrong);
        }
        (Given::Name(_), _) if mixup == BETWEEN_CARDINALS.id => {
            push_halves(&mut yours, right / 8 * 8, right / 8 * 8 + 8);
            push_name(&mut yours, wrong);
        }
        _ => {
            if item.wants_degrees {
                push_degrees(&mut yours, wrong.rem_euclid(32));
                push_name(&mut yours, wrong);
            } else {
                yours.push_str(point(wrong).name());
                yours.push_str(", which is ");
                push_degrees(&mut yours, wrong.rem_euclid(32));
            }
        }
    }
    Paths { yours, right: right_path(item) }
}

/// Where a turn in points ends: back on the circle if it left it, and the name if that is asked.
fn push_end(out: &mut String, item: &Item, start: crate::angle::Point, by: i32) {
    let raw = i32::from(start.number()) + by;
    let wrapped = raw.rem_euclid(32);
    if wrapped != raw {
        out.push_str(", ");
        push_points_sum(out, raw, wrapped - raw);
    }
    if !item.wants_degrees {
        push_name(out, wrapped);
    }
}

fn push_name(out: &mut String, number: i32) {
    out.push_str(", which is ");
    out.push_str(point(number).name());
}

/// The right working on one line.
fn right_path(item: &Item) -> String {
    let mut out = String::with_capacity(120);
    match item.given {
        Given::Turn { start, by, .. } => {
            out.push_str(if by < 0 { "Counterclockwise takes away: " } else { "Clockwise adds: " });
            push_points_sum(&mut out, i32::from(start.number()), by);
            push_end(&mut out, item, start, by);
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
