//! The cards of members and the leader's key, as data: headings and lines, for text and for paper alike.

use super::{Closing, Course, Leg, Member, Pegs, Route, Walk};
use crate::angle::{North, days_rule, whole_degrees};
use crate::numbers::whole;

/// What every card carries, whatever the course is.
pub const SAFETY: [&str; 4] = [
    "If lost: stop, stay together, and let yourselves be found; go back only if you are sure of the way.",
    "Never follow a bearing over a drop, into water, onto a road or a railway: go round and come back to the line.",
    "A practice aid, not for navigation: the map in the hand and local rules win.",
    "Nobody goes before the leader has walked this ground.",
];

/// A heading with what stands below it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CardPart {
    /// The heading.
    pub heading: String,
    /// The lines.
    pub lines: Vec<CardLine>,
}

/// A line: a name, and what is said of it. An empty name is a sentence of its own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CardLine {
    /// The name; may be empty.
    pub name: &'static str,
    /// What is said.
    pub text: String,
}

/// What is to be filled in, as it stands in a text.
pub const BLANK: &str = "______";

fn said(name: &'static str, text: impl Into<String>) -> CardLine {
    CardLine { name, text: text.into() }
}

/// A member's card; with `answers` it shows what is to be found. Without a member it is for anybody.
#[must_use]
pub fn card(course: &Course, route: &Route, member: Option<&Member>, answers: bool) -> Vec<CardPart> {
    let who = member.map(|member| format!(", for {}", member.name)).unwrap_or_default();
    let mut parts = vec![CardPart { heading: format!("{}{who}", course.title), lines: about(course, route) }];
    let pegs = Pegs::of(course).is_some();
    for (number, leg) in (1..).zip(&route.legs) {
        let mut lines = match answers {
            true => solved(leg),
            false if pegs => sighted(leg),
            false => open(leg),
        };
        match member.map(|member| (member, member.paces(leg.distance_m))) {
            Some((_, Some(paces))) if answers || leg.given.is_some() => {
                lines.push(said("Double paces", paces.to_string()));
            }
            Some(_) => lines.push(said("Double paces", BLANK)),
            None => {}
        }
        lines.extend(hazards(leg));
        if !answers {
            lines.push(said("Came out", format!("{BLANK} m from it, toward {BLANK} M")));
        }
        parts.push(CardPart { heading: leg_heading(number, leg), lines });
    }
    parts.push(CardPart { heading: "Before you go".to_owned(), lines: SAFETY.map(|line| said("", line)).to_vec() });
    parts
}

/// The leader's key: everything.
#[must_use]
pub fn key_parts(course: &Course, route: &Route) -> Vec<CardPart> {
    let mut parts = vec![CardPart { heading: format!("{}: the key", course.title), lines: about(course, route) }];
    for (number, leg) in (1..).zip(&route.legs) {
        let mut lines = solved(leg);
        let paces: Vec<String> = course
            .members
            .iter()
            .filter_map(|member| Some(format!("{} {}", member.name, member.paces(leg.distance_m)?)))
            .collect();
        if !paces.is_empty() {
            lines.push(said("Double paces", paces.join(", ")));
        }
        lines.extend(hazards(leg));
        parts.push(CardPart { heading: leg_heading(number, leg), lines });
    }
    parts.push(CardPart { heading: "The whole".to_owned(), lines: whole_course(route) });
    let mut lines: Vec<CardLine> = route.remarks.iter().map(|remark| said("", remark.to_string())).collect();
    lines.push(said("", ROUNDED));
    lines.extend(SAFETY.map(|line| said("", line)));
    parts.push(CardPart { heading: "To know".to_owned(), lines });
    parts
}

/// Why a sum by the rule may differ from the key.
const ROUNDED: &str =
    "Each bearing is rounded by itself: one worked out by the rule may be one degree off the key, and is right.";

/// When, where, what holds today.
fn about(course: &Course, route: &Route) -> Vec<CardLine> {
    let mut lines = vec![
        said("Day", route.day.to_string()),
        said("Back by", course.back_by.as_deref().unwrap_or(BLANK)),
        said("Call", course.call.as_deref().unwrap_or(BLANK)),
        said("Norths", route.norths_words()),
    ];
    lines.extend(rules(route));
    lines
}

/// The day's rule for each of the map's lines, shown on a bearing that is none of the course.
fn rules(route: &Route) -> impl Iterator<Item = CardLine> {
    let example = |east: i32| if east < 0 { 48 } else { 148 };
    route.lines.iter().filter_map(move |line| {
        let (name, east) = match line {
            North::True => ("True lines", route.declination.angle()),
            North::Grid => ("Grid lines", route.grid_magnetic()?.angle()),
            North::Magnetic => ("Magnetic lines", crate::angle::Angle::ZERO),
        };
        Some(said(name, days_rule(*line, east, example(whole_degrees(east)))))
    })
}

fn leg_heading(number: u32, leg: &Leg) -> String {
    format!("Leg {number}, {} to {}", leg.from, leg.to)
}

/// A leg with its key.
fn solved(leg: &Leg) -> Vec<CardLine> {
    let grid = leg.grid.map(|grid| format!("{grid}, ")).unwrap_or_default();
    let mut lines = vec![
        said("Bearing", format!("{}, {grid}{}", leg.true_bearing, leg.magnetic)),
        said("Back", leg.magnetic.back().to_string()),
        said("Distance", format!("{}{}", metres(leg.distance_m), heights(leg))),
    ];
    lines.extend(leg.time.map(|time| said("Time", time_words(time))));
    lines
}

/// A leg with what is to be found left blank.
fn open(leg: &Leg) -> Vec<CardLine> {
    let given = match leg.given {
        Some(North::True) => Some(leg.true_bearing.to_string()),
        Some(North::Grid) => leg.grid.map(|grid| grid.to_string()),
        Some(North::Magnetic) => Some(leg.magnetic.to_string()),
        None => None,
    };
    let set = format!("{BLANK} M, back {BLANK} M");
    match given {
        Some(given) if leg.given == Some(North::Magnetic) => {
            vec![said("Set", format!("{given}, back {BLANK} M")), said("Distance", metres(leg.distance_m))]
        }
        Some(given) => {
            vec![said("Given", given), said("Set", set), said("Distance", metres(leg.distance_m))]
        }
        None => vec![said("Set", set), said("Distance", format!("{BLANK} m"))],
    }
}

/// A leg from peg to peg, which stand there to be sighted: the bearing is what is to be found.
fn sighted(leg: &Leg) -> Vec<CardLine> {
    vec![said("Sighted", format!("{BLANK} M, back {BLANK} M")), said("Distance", metres(leg.distance_m))]
}

fn hazards(leg: &Leg) -> impl Iterator<Item = CardLine> {
    leg.going.hazards.iter().map(|hazard| said("Go round", hazard.clone()))
}

fn heights(leg: &Leg) -> String {
    let said = |metres: Option<f64>, way: &str| metres.map(|metres| format!(", {metres} m {way}")).unwrap_or_default();
    format!("{}{}", said(leg.going.ascent_m, "up"), said(leg.going.descent_m, "down"))
}

/// The length of all, the time, how it closes.
fn whole_course(route: &Route) -> Vec<CardLine> {
    let mut lines = vec![said("Length", metres(route.total_m))];
    lines.extend(route.time.map(|time| said("Time", time_words(time))));
    lines.push(closing_words(route));
    lines
}

/// How the course closes.
fn closing_words(route: &Route) -> CardLine {
    let Some(Closing { distance_m, true_bearing, grid, magnetic }) = route.closing else {
        return said("Closing", "it ends where it began");
    };
    let grid = grid.map(|grid| format!("{grid}, ")).unwrap_or_default();
    let way = format!("{} at {true_bearing}, {grid}{magnetic}", metres(distance_m));
    if route.closing_is_an_error {
        let share = distance_m / route.total_m * 100.0;
        said("Closing error", format!("from the end back to the start {way}; {share:.1} % of the length"))
    } else {
        said("Way back", format!("from the end to the start {way}"))
    }
}

/// Metres as they are paced: whole ones.
fn metres(metres: f64) -> String {
    format!("{} m", whole::<u64>(metres.round()))
}

fn time_words(time: Walk) -> String {
    let minutes = |minutes: f64| {
        let minutes: u32 = whole(minutes.ceil());
        if minutes < 60 { format!("{minutes} min") } else { format!("{} h {:02} min", minutes / 60, minutes % 60) }
    };
    format!(
        "{} at least for a fit adult; for young people {} or more",
        minutes(time.least_min),
        minutes(time.youth_min)
    )
}
