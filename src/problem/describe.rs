//! Figures in words, for those who hear the program instead of seeing it.
//!
//! The words give what an eye would take from the drawing, no more: on a dial the neighbouring numbers and the ticks
//! between, not the number that is asked for; what one tick is worth is for the reader to find, as it is for an eye.

use super::words::capital;
use super::{
    Arc, DialFigure, DriftFigure, EndsFigure, Figure, LineRole, Needle, NorthLine, Prong, Ray, SketchLine, TurnFigure,
};
use crate::angle::{Angle, North, Point, PointSet, sense, three_figures};
use crate::numbers;
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
            Figure::Sketch { norths, lines, arcs } => sketch_words(norths, lines, arcs),
            Figure::Turn(turn) => Some(turn_words(turn)),
            Figure::Ends(ends) => Some(ends_words(ends)),
            Figure::Drift(drift) => Some(drift_words(drift)),
            Figure::Plan(plan) => Some(plan.words.clone()).filter(|words| !words.is_empty()),
            Figure::Rose { names, marked } => Some(rose_words(*names, marked)),
            Figure::Map(map) => Some(map.in_words()),
        }
    }
}

impl DialFigure {
    /// Where the index line stands, by the printed neighbours and the ticks: `between 120 and 140, 3 ticks past 120`.
    #[must_use]
    pub fn index_in_words(&self) -> String {
        self.place_in_words(self.reading)
    }

    fn place_in_words(&self, number: Angle) -> String {
        let (graduation, numbered) = (self.graduation.degrees().max(0.1), self.numbered.degrees().max(1.0));
        on_scale(number.wrapped().degrees(), graduation, numbered)
    }
}

fn dial_words(dial: &DialFigure) -> String {
    let mut out = "A compass from above. ".to_owned();
    let _ = if near(dial.index, Angle::from_degrees(180.0)) {
        write!(
            out,
            "The index line is at the bottom of the picture. The top of the picture lies {}; the bottom lies {}.",
            dial.place_in_words(dial.reading - dial.index),
            dial.index_in_words()
        )
    } else {
        write!(out, "The index line stands {}.", dial.index_in_words())
    };
    if dial.inner_scale {
        // The slope scale: 0 at the dial's 90 and 270, 90 at its 0 and 180 (common practice, no source).
        let inner = (dial.reading.wrapped().degrees() % 180.0 - 90.0).abs();
        let _ = write!(out, " On the inner scale, the one for slopes, it stands at {}.", number(inner));
    }
    if let Some(needle) = dial.needle {
        let at = (dial.reading + (needle - dial.index)).wrapped().degrees().round() % 360.0;
        out.push_str(" The head of the orienting arrow lies at the dial's N. The needle's north end points to ");
        match numbers::whole::<u32>(at) {
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
    match numbers::whole::<u32>(whole) {
        0 => format!("at a printed number, the one between {before} and {after}"),
        1 => format!("between {below} and {after}, 1 tick past {below}"),
        ticks => format!("between {below} and {after}, {ticks} ticks past {below}"),
    }
}

fn prongs_words(prongs: &[Prong]) -> Option<String> {
    let mut ordered: Vec<&Prong> = prongs.iter().collect();
    numbers::arrange_by_key(&mut ordered, |prong| prong.drawn);
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
            let _ = write!(out, " Between {} and {} stands {text}.", prong_name(*other), prong_name(prong.north));
        }
    }
    Some(out)
}

const fn prong_name(north: North) -> &'static str {
    match north {
        North::True => "true north (the star)",
        North::Grid => "grid north (GN)",
        North::Magnetic => "magnetic north (MN)",
    }
}

fn sketch_words(norths: &[NorthLine], lines: &[SketchLine], arcs: &[Arc]) -> Option<String> {
    let (first, rest) = norths.split_first()?;
    let mut out = format!("A sketch. {} is drawn {}.", capital(first.north.name()), place(first.at));
    for line in rest {
        let _ =
            write!(out, " {} lies {} {}.", capital(line.north.name()), relation(line.at, first.at), first.north.name());
    }
    for arc in arcs {
        if let Ray::North(to) = arc.to {
            let (from, to) = (arc.from.name(), to.name());
            let _ = match arc.text.as_str() {
                "?" => write!(out, " The angle between {from} and {to} has no number."),
                text => write!(out, " From {from} to {to} it is {text}."),
            };
        }
    }
    for line in lines {
        out.push(' ');
        out.push_str(&line_words(line, norths, lines, arcs));
    }
    Some(out)
}

fn line_words(line: &SketchLine, norths: &[NorthLine], lines: &[SketchLine], arcs: &[Arc]) -> String {
    let target = |role| lines.iter().find(|other| other.role == role);
    let mut out = match line.role {
        LineRole::Learner => {
            let other = target(LineRole::Right).or_else(|| target(LineRole::Given));
            return other.map_or_else(
                || format!("Your answer is drawn {}.", place(line.at)),
                |other| format!("Your answer lies {} {}.", relation(line.at, other.at), article(&other.label)),
            );
        }
        LineRole::Right => format!("The right line is {}", article(&line.label)),
        LineRole::Given => format!("{} is given", capital(&article(&line.label))),
    };
    if !is_number(&line.label) {
        // A line without a number says something only by its place among the norths.
        for (at, north) in norths.iter().enumerate() {
            out.push_str(if at == 0 { "; it lies " } else { " and " });
            let _ = write!(out, "{} {}", relation(line.at, north.at), north.north.name());
        }
    }
    for Arc { from: north, text, .. } in arcs.iter().filter(|arc| arc.to == Ray::Line(line.role)) {
        let from = north.name();
        let _ = match text.strip_prefix('?') {
            None => write!(out, "; from {from} to it: {text}"),
            Some(_) => write!(out, "; from {from} to it: that is asked"),
        };
    }
    out.push('.');
    out
}

fn turn_words(turn: &TurnFigure) -> String {
    let (from, to) = (three_figures(turn.from, 0), three_figures(turn.to, 0));
    let way = |angle: Angle| format!("{} degrees {}", number(angle.abs().degrees()), sense(angle));
    let mut out = match turn.turn {
        Some(angle) => {
            let end = (turn.from + angle).degrees();
            let through = if !(0.0..=360.0).contains(&end) { " through north" } else { "" };
            format!("A turn from {from}°, {}{through}, to {to}°.", way(angle))
        }
        None => {
            let north = turn.north.name();
            format!("Two lines from one point, at {from}° and at {to}°; {north} is straight up.")
        }
    };
    if let Some(learner) = turn.learner {
        let _ = write!(out, " Yours goes {}.", way(learner));
    }
    out
}

fn ends_words(ends: &EndsFigure) -> String {
    let north = ends.north.name();
    let back = if ends.back.starts_with('?') { "asked" } else { &ends.back };
    let mut out = format!(
        "One line seen from both ends; {north} is straight up at either. From the first end to the other it is {}, from there back: {back}.",
        ends.there
    );
    if let Some(learner) = ends.learner {
        let back = ends.toward + Angle::from_degrees(180.0);
        let _ = write!(out, " Your answer lies {} the line back.", relation(learner, back));
    }
    out
}

fn drift_words(drift: &DriftFigure) -> String {
    let mut out = "A declination diagram.".to_owned();
    let mut tell = |needle: &Needle| {
        let side = relation(needle.at, Angle::ZERO);
        let _ = write!(out, " The needle of {} lies {side} true north: {}.", needle.year, needle.declination);
    };
    tell(&drift.printed);
    if let Some((change, needle)) = &drift.now {
        tell(needle);
        let _ = write!(out, " In between it moved by {change}.");
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
                let _ = write!(out, " {} is given.", line.label);
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

/// `line of 2017` is `the line of 2017`; a number stands as it is.
fn article(label: &str) -> String {
    if is_number(label) || label.starts_with("the ") { label.to_owned() } else { format!("the {label}") }
}

fn is_number(label: &str) -> bool {
    label.contains('°') || label.contains(" mil")
}

/// At most one decimal, no trailing zero.
fn number(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn dial(reading: f64) -> DialFigure {
        DialFigure {
            reading: Angle::from_degrees(reading),
            graduation: Angle::from_degrees(5.0),
            numbered: Angle::from_degrees(20.0),
            index: Angle::ZERO,
            needle: None,
            inner_scale: false,
            strip: true,
            learner: None,
        }
    }

    #[test]
    fn the_index_line_is_told_by_its_neighbours_and_ticks() {
        for (reading, words) in [
            (135.0, "between 120 and 140, 3 ticks past 120"),
            (125.0, "between 120 and 140, 1 tick past 120"),
            (120.0, "at a printed number, the one between 100 and 140"),
            (0.0, "at a printed number, the one between 340 and 20"),
            (360.0, "at a printed number, the one between 340 and 20"),
            (355.0, "between 340 and 0, 3 ticks past 340"),
            (128.0, "between 120 and 140, between tick 1 and tick 2 past 120"),
            (122.0, "between 120 and 140, before the first tick past 120"),
        ] {
            assert_eq!(dial(reading).index_in_words(), words, "{reading}");
        }
    }

    #[test]
    fn no_reading_of_any_scale_is_told_as_a_bare_number() {
        for (graduation, numbered) in [(10.0, 20.0), (5.0, 20.0), (5.0, 30.0), (2.0, 20.0), (2.0, 30.0)] {
            for tenths in 0..3600 {
                let reading = f64::from(tenths) / 10.0;
                let (graduation, numbered) = (Angle::from_degrees(graduation), Angle::from_degrees(numbered));
                let words = DialFigure { graduation, numbered, ..dial(reading) }.index_in_words();
                let spoken: Vec<&str> = words.split([' ', ',']).collect();
                // The ticks are counted in small numbers; beyond them no number may be the reading.
                let number = format!("{reading}");
                assert!(reading < 20.0 || !spoken.contains(&number.as_str()), "{reading}: {words}");
            }
        }
    }

    #[test]
    fn upside_down_both_ends_of_the_picture_are_told_as_an_eye_sees_both() {
        let words = dial_words(&DialFigure { index: Angle::from_degrees(180.0), ..dial(65.0) });
        assert!(words.contains("The top of the picture lies between 240 and 260, 1 tick past 240"), "{words}");
        assert!(words.contains("the bottom lies between 60 and 80, 1 tick past 60"), "{words}");
    }

    #[test]
    fn the_needle_is_told_by_the_dial_number_it_points_to() {
        let at = |needle| dial_words(&DialFigure { needle: Some(Angle::from_degrees(needle)), ..dial(100.0) });
        assert!(at(260.0).ends_with("points to the dial's N."), "boxed: the needle lies where the dial's N lies");
        assert!(at(80.0).ends_with("points to 180 on the dial."), "the south end in the arrow");
        assert!(at(0.0).ends_with("points to 100 on the dial."), "at the index line");
    }

    #[test]
    fn prongs_are_told_clockwise_with_what_is_printed_between_them() {
        let prong = |north, drawn: f64, printed| Prong { north, drawn: Angle::from_degrees(drawn), printed };
        let figure = Figure::Prongs(vec![
            prong(North::True, 0.0, Some((North::Magnetic, "13°".to_owned()))),
            prong(North::Magnetic, -20.0, None),
        ]);
        assert_eq!(
            figure.in_words().as_deref(),
            Some(
                "A declination diagram. Clockwise its prongs are: magnetic north (MN), then true north (the star). Between magnetic north (MN) and true north (the star) stands 13°."
            )
        );
    }

    #[test]
    fn a_sketch_tells_which_north_lies_clockwise_and_where_the_answer_lies() {
        let line =
            |role, at: f64, label: &str| SketchLine { role, at: Angle::from_degrees(at), label: label.to_owned() };
        let figure = Figure::Sketch {
            norths: vec![
                NorthLine { north: North::True, at: Angle::ZERO },
                NorthLine { north: North::Magnetic, at: Angle::from_degrees(-15.0) },
            ],
            lines: vec![line(LineRole::Given, 48.0, "048° T"), line(LineRole::Learner, 228.0, "you")],
            arcs: vec![
                Arc::difference(North::True, Ray::North(North::Magnetic), "9° W".to_owned()),
                Arc::bearing(North::Magnetic, LineRole::Given, "? M".to_owned()),
            ],
        };
        assert_eq!(
            figure.in_words().as_deref(),
            Some(
                "A sketch. True north is drawn straight up. Magnetic north lies counterclockwise of true north. From true north to magnetic north it is 9° W. 048° T is given; from magnetic north to it: that is asked. Your answer lies opposite to 048° T."
            )
        );
    }

    #[test]
    fn a_turn_is_told_through_north_where_it_goes_there() {
        let turn = |from: f64, turn: f64| {
            let (from, turn) = (Angle::from_degrees(from), Angle::from_degrees(turn));
            turn_words(&TurnFigure {
                north: North::Magnetic,
                from,
                to: (from + turn).wrapped(),
                turn: Some(turn),
                learner: None,
            })
        };
        assert_eq!(turn(350.0, 20.0), "A turn from 350°, 20 degrees clockwise through north, to 010°.");
        assert_eq!(turn(10.0, -20.0), "A turn from 010°, 20 degrees counterclockwise through north, to 350°.");
        assert_eq!(turn(350.0, 10.0), "A turn from 350°, 10 degrees clockwise, to 000°.");
    }

    #[test]
    fn a_line_and_a_needle_are_told_without_what_is_asked() {
        let ends = EndsFigure {
            north: North::Magnetic,
            toward: Angle::from_degrees(65.0),
            there: "065° M".to_owned(),
            back: "? M".to_owned(),
            learner: None,
        };
        assert!(ends_words(&ends).ends_with("From the first end to the other it is 065° M, from there back: asked."));
        let needle = |year, at, declination: &str| Needle {
            year,
            at: Angle::from_degrees(at),
            declination: declination.to_owned(),
        };
        let drift = DriftFigure { printed: needle(2014, -36.0, "5°30′ W"), now: None };
        let asked = "A declination diagram. The needle of 2014 lies counterclockwise of true north: 5°30′ W.";
        assert_eq!(drift_words(&drift), asked);
        let drift = DriftFigure { now: Some(("2° E".to_owned(), needle(2026, -18.0, "3°30′ W"))), ..drift };
        let told = " The needle of 2026 lies counterclockwise of true north: 3°30′ W. In between it moved by 2° E.";
        assert_eq!(drift_words(&drift), format!("{asked}{told}"));
    }

    #[test]
    fn a_figure_of_nothing_has_no_words() {
        assert_eq!(Figure::None.in_words(), None);
    }
}
