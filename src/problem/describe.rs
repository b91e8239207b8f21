//! Figures in words, for those who hear the program instead of seeing it.
//!
//! The words give what an eye would take from the drawing, no more: on a dial the neighbouring numbers and the ticks
//! between, not the number that is asked for.

use super::{DialFigure, Figure, LineRole, NorthLine, Prong, SketchLine, TurnFigure};
use crate::angle::{Angle, North, Point, PointSet, three_figures};
use std::fmt::Write;

/// Directions closer than this are drawn as one.
const SAME_DEG: f64 = 0.5;
/// Directions further apart than this are told as opposite.
const OPPOSITE_DEG: f64 = 175.0;

impl Figure {
    /// The figure in one or a few sentences; `None` when nothing is drawn.
    #[must_use]
    pub fn in_words(&self) -> Option<String> {
        match self {
            Figure::None => None,
            Figure::Dial(dial) => Some(dial_words(dial)),
            Figure::Prongs(prongs) => prongs_words(prongs),
            Figure::Sketch { norths, lines } => sketch_words(norths, lines),
            Figure::Turn(turn) => Some(turn_words(turn)),
            Figure::Rose { names, marked } => Some(rose_words(*names, marked)),
        }
    }
}

fn dial_words(dial: &DialFigure) -> String {
    let (graduation, numbered) = (dial.graduation.degrees().max(0.1), dial.numbered.degrees().max(1.0));
    let spaces = (numbered / graduation).round();
    let on_scale = |angle: Angle| on_scale(angle.wrapped().degrees(), graduation, numbered);
    let mut out = format!(
        "A compass from above; its dial has a number every {numbered} degrees, and {spaces} spaces from one number to the next. "
    );
    if upside_down(dial) {
        let top = dial.reading - dial.index;
        let _ = write!(
            out,
            "The index line is at the bottom of the picture. The top of the dial stands {}; its bottom stands {}.",
            on_scale(top),
            on_scale(dial.reading)
        );
    } else {
        let _ = write!(out, "The index line stands {}.", on_scale(dial.reading));
    }
    if dial.inner_scale {
        // The slope scale: 0 at the dial's 90 and 270, 90 at its 0 and 180 (common practice, no source).
        let inner = (dial.reading.wrapped().degrees() % 180.0 - 90.0).abs();
        let _ = write!(out, " On the inner scale, the one for slopes, it stands at {}.", number(inner));
    }
    if let Some(needle) = dial.needle {
        let at = (dial.reading + (needle - dial.index)).wrapped().degrees().round() % 360.0;
        out.push_str(" The head of the orienting arrow lies at the dial's N. The needle's north end points to ");
        match at as u32 {
            0 => out.push_str("the dial's N."),
            at => {
                let _ = write!(out, "{at} on the dial.");
            }
        }
    }
    if let Some(learner) = dial.learner {
        let _ = write!(out, " Your number, {}, is marked on the rim.", three_figures(learner, 0));
    }
    out
}

fn upside_down(dial: &DialFigure) -> bool {
    near(dial.index, Angle::from_degrees(180.0))
}

/// Where a number stands on the scale, by its printed neighbours and the ticks, without saying the number itself.
fn on_scale(reading: f64, graduation: f64, numbered: f64) -> String {
    let below = (reading / numbered + 1e-6).floor() * numbered;
    let ticks = (reading - below) / graduation;
    let print = |number: f64| number.rem_euclid(360.0).round();
    let (before, after) = (print(below - numbered), print(below + numbered));
    let (whole, below) = (ticks.round(), print(below));
    if (ticks - whole).abs() > 1e-6 {
        let (low, high) = (ticks.floor(), ticks.ceil());
        return if low == 0.0 {
            format!("between {below} and {after}, before the first tick past {below}")
        } else {
            format!("between {below} and {after}, between tick {low} and tick {high} past {below}")
        };
    }
    match whole as u32 {
        0 => format!("at a printed number, the one between {before} and {after}"),
        1 => format!("between {below} and {after}, 1 tick past {below}"),
        ticks => format!("between {below} and {after}, {ticks} ticks past {below}"),
    }
}

fn prongs_words(prongs: &[Prong]) -> Option<String> {
    let mut ordered: Vec<&Prong> = prongs.iter().collect();
    ordered.sort_by(|one, other| one.drawn.degrees().total_cmp(&other.drawn.degrees()));
    let (first, rest) = ordered.split_first()?;
    let mut out = format!("A declination diagram. Clockwise its prongs are: {}", prong_name(first.north));
    let mut before = first;
    for prong in rest {
        out.push_str(if near(before.drawn, prong.drawn) { ", in one line with it " } else { ", then " });
        out.push_str(prong_name(prong.north));
        before = prong;
    }
    out.push('.');
    for prong in ordered {
        if let Some((other, text)) = &prong.printed {
            let _ = write!(out, " Between {} and {} is printed {text}.", prong_name(*other), prong_name(prong.north));
        }
    }
    Some(out)
}

const fn prong_name(north: North) -> &'static str {
    match north {
        North::True => "true north, the star",
        North::Grid => "grid north, GN",
        North::Magnetic => "magnetic north, MN",
    }
}

fn sketch_words(norths: &[NorthLine], lines: &[SketchLine]) -> Option<String> {
    let (first, rest) = norths.split_first()?;
    let mut out = format!("A sketch. {} is drawn {}.", capital(north_name(first.north)), place(first.at));
    for line in rest {
        let _ = write!(
            out,
            " {} lies {} {}.",
            capital(north_name(line.north)),
            relation(line.at, first.at),
            north_name(first.north)
        );
    }
    for line in lines {
        out.push(' ');
        out.push_str(&line_words(line, norths, lines));
    }
    Some(out)
}

fn line_words(line: &SketchLine, norths: &[NorthLine], lines: &[SketchLine]) -> String {
    let target = |role| lines.iter().find(|other| other.role == role);
    let mut out = match line.role {
        LineRole::Learner => {
            let other = target(LineRole::Right).or_else(|| target(LineRole::Given));
            return other.map_or_else(
                || format!("Your answer is drawn {}.", place(line.at)),
                |other| format!("Your answer lies {} {}.", relation(line.at, other.at), other.label),
            );
        }
        LineRole::Right => format!("The right line is {}", line.label),
        LineRole::Given => format!("Given is {}", line.label),
    };
    if !is_number(&line.label) {
        // A line without a number says something only by its place among the norths.
        for (at, north) in norths.iter().enumerate() {
            out.push_str(if at == 0 { "; it lies " } else { " and " });
            let _ = write!(out, "{} {}", relation(line.at, north.at), north_name(north.north));
        }
    }
    if let Some((north, text)) = &line.arc {
        let from = north_name(*north);
        let _ = if *text == line.label {
            write!(out, ", counted from {from}")
        } else {
            write!(out, "; from {from} to it: {text}")
        };
    }
    out.push('.');
    out
}

fn turn_words(turn: &TurnFigure) -> String {
    let (from, to) = (three_figures(turn.from, 0), three_figures(turn.to, 0));
    let way = |angle: Angle| {
        let way = if angle.degrees() < 0.0 { "counterclockwise" } else { "clockwise" };
        format!("{} degrees {way}", number(angle.abs().degrees()))
    };
    let mut out = match turn.turn {
        Some(turn) => format!("A turn from {from}°, {}, to {to}°.", way(turn)),
        None => format!("Two lines from one point, at {from}° and at {to}°; north is straight up."),
    };
    if let Some(learner) = turn.learner {
        let _ = write!(out, " Yours goes {}.", way(learner));
    }
    out
}

fn rose_words(names: u8, marked: &[SketchLine]) -> String {
    let mut out = format!("A compass card with {names} names.");
    if marked.is_empty() {
        let set = match names {
            8 => PointSet::Eight,
            16 => PointSet::Sixteen,
            _ => PointSet::ThirtyTwo,
        };
        let written: Vec<&str> = set.points().filter(written_out).map(Point::name).collect();
        let _ = write!(out, " Clockwise from the top stand {}.", written.join(", "));
    }
    for line in marked {
        match line.role {
            LineRole::Given => {
                let _ = write!(out, " Given is {}.", line.label);
            }
            LineRole::Right => {
                let _ = write!(out, " Right is {}.", line.label);
            }
            LineRole::Learner => {
                if let Some(right) = marked.iter().find(|other| other.role == LineRole::Right) {
                    let _ = write!(out, " Your answer lies {} it.", relation(line.at, right.at));
                }
            }
        }
    }
    out
}

/// Only the names that everybody builds on are written on the drawn card.
fn written_out(point: &Point) -> bool {
    point.number().is_multiple_of(4)
}

/// `straight up`, or clockwise of it.
fn place(at: Angle) -> String {
    if near(at, Angle::ZERO) { "straight up".to_owned() } else { format!("{} straight up", relation(at, Angle::ZERO)) }
}

/// How one direction lies to another: `clockwise of`.
fn relation(at: Angle, of: Angle) -> &'static str {
    match (at - of).wrapped_half().degrees() {
        off if off.abs() <= SAME_DEG => "along",
        off if off.abs() >= OPPOSITE_DEG => "opposite to",
        off if off < 0.0 => "counterclockwise of",
        _ => "clockwise of",
    }
}

fn near(one: Angle, other: Angle) -> bool {
    (one - other).wrapped_half().abs().degrees() <= SAME_DEG
}

fn is_number(label: &str) -> bool {
    label.contains('°') || label.contains(" mil")
}

const fn north_name(north: North) -> &'static str {
    match north {
        North::True => "true north",
        North::Grid => "grid north",
        North::Magnetic => "magnetic north",
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| format!("{}{}", first.to_uppercase(), letters.as_str()))
}

/// At most one decimal, no trailing zero.
fn number(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}
