//! Walking a bearing: marks and people as places on the ground, looked at from the line (common practice, no source; a degree leads
//! a sixtieth of the way aside).

use super::Solver;
use super::facts::{Dir, Facts, Part, Worked, one};
use super::shown::{Must, Shown};
use needlewise::problem::Question;

pub const WALK: Solver = Solver { right, wrong, read };

const ORDER: [&str; 4] = ["first", "second", "third", "fourth"];
/// What does not stay where it is.
const MOVING: [&str; 6] = ["cow", "walker", "tractor", "sheep", "grey horse", "rider"];
/// What one does not see out of.
const HIDING: [&str; 4] = ["hollow", "wood", "valley", "maize"];

/// The number that is told, the letter of its north, and how far magnetic north lies clockwise of that.
fn told(facts: &Facts) -> (f64, char, f64) {
    let courses = [
        ("magnetic_bearing_deg", 'M', ""),
        ("true_bearing_deg", 'T', "declination_deg"),
        ("grid_bearing_deg", 'G', "grid_magnetic_deg"),
    ];
    let mut told = courses.into_iter().filter_map(|(bearing, letter, between)| {
        Some((facts.maybe(bearing)?, letter, facts.maybe(between).unwrap_or(0.0)))
    });
    told.next().unwrap_or_else(|| panic!("{}: no course", facts.code))
}

/// A course: the way on the ground when everything is counted from magnetic north.
fn course(facts: &Facts, turned: f64) -> Dir {
    let (number, _, between) = told(facts);
    Dir::at(number).turned(-between * turned)
}

/// How far along the line and how far right of it a mark stands, in whole metres and a half.
fn stands(facts: &Facts, place: &str, line: Dir) -> (f64, f64) {
    let away = facts.number(&format!("{place}_away_m"));
    let toward = match facts.maybe(&format!("{place}_from_arrow_deg")) {
        Some(degrees) => course(facts, 1.0).turned(degrees),
        None => Dir::at(facts.number(&format!("{place}_magnetic_bearing_deg"))),
    };
    let along = toward.nearness(line) * away;
    let right = toward.east * line.north - toward.north * line.east;
    (along, right * away)
}

/// What is wrong with a mark; nothing with the one to walk to.
fn fault(facts: &Facts, place: &str) -> &'static str {
    let on = |turned: f64| {
        let (along, aside) = stands(facts, place, course(facts, turned));
        along > 0.0 && aside.abs() < 0.5
    };
    let (along, aside) = stands(facts, place, course(facts, 1.0));
    let name = facts.word(&format!("{place}_mark"));
    let across = facts.all.get(&format!("{place}_across")).and_then(|it| it.as_str()).unwrap_or("");
    if along.hypot(aside) > facts.number("goal_m") {
        "beyond-the-goal"
    } else if along < 0.0 && aside.abs() < 0.5 {
        "wrong-end"
    } else if MOVING.iter().any(|it| name.ends_with(it)) {
        "moving-mark"
    } else if HIDING.iter().any(|it| across.contains(it)) {
        "mark-out-of-sight"
    } else if on(1.0) {
        ""
    } else if told(facts).1 == 'M' {
        "beside-the-arrow"
    } else if on(0.0) {
        "not-applied"
    } else if on(-1.0) {
        "sign-flipped"
    } else {
        panic!("{}: {place} stands nowhere", facts.code)
    }
}

fn marks(facts: &Facts, wanted: &str) -> Vec<Worked> {
    let fits = ORDER.into_iter().filter(|place| fault(facts, place) == wanted);
    fits.map(|place| one("mark", Part::word(facts.word(&format!("{place}_mark"))))).collect()
}

/// What is answered about something seen so many degrees clockwise of the line: a mark is walked to, a lamp is waved back.
fn beside(facts: &Facts, degrees: f64, metres: f64) -> Worked {
    let right = degrees > 0.0;
    let word = |right: bool| Part::word(if right { "right" } else { "left" });
    match facts.word("wanted") {
        "side_of_line" => vec![("side", word(right)), ("beside", Part::Plain(metres))],
        "onto_line" => vec![("wave", word(!right)), ("aside", Part::Plain(metres))],
        other => panic!("{}: {other}", facts.code),
    }
}

fn right(facts: &Facts, _: &Question) -> Worked {
    if facts.word("wanted") == "mark_to_walk_to" {
        let mut found = marks(facts, "");
        assert_eq!(found.len(), 1, "{}: {:?}", facts.code, facts.all);
        return found.remove(0);
    }
    let off = off(facts, 1.0);
    beside(facts, off, sixtieths(facts, off))
}

/// How many degrees clockwise of a course something is seen.
fn off(facts: &Facts, turned: f64) -> f64 {
    course(facts, turned).turn_to(Dir::at(facts.number("seen_magnetic_bearing_deg"))).round()
}

fn sixtieths(facts: &Facts, degrees: f64) -> f64 {
    facts.number("away_m") / 60.0 * degrees.abs()
}

fn wrong(id: &str, facts: &Facts, _: &Question) -> Option<Vec<Worked>> {
    if facts.word("wanted") == "mark_to_walk_to" {
        return Some(marks(facts, id));
    }
    let (right, away) = (off(facts, 1.0), facts.number("away_m"));
    let by = |turned: f64| {
        let off = off(facts, turned);
        beside(facts, off, sixtieths(facts, off))
    };
    Some(vec![match id {
        "sides-swapped" => beside(facts, -right, sixtieths(facts, right)),
        "not-applied" => by(0.0),
        "sign-flipped" => by(-1.0),
        "one-degree-only" => beside(facts, right, away / 60.0),
        "per-hundred" => beside(facts, right, away * right.abs() / 100.0),
        _ => return None,
    }])
}

fn read(facts: &Facts, prompt: &str) -> Vec<Must> {
    let (number, letter, between) = told(facts);
    let mut musts = vec![Must(Shown::Bearing(number, letter), if letter == 'M' { "on" } else { "is" })];
    if letter != 'M' {
        musts.push(Must(Shown::East(between), if letter == 'T' { "declination is" } else { "g-m angle is" }));
    }
    if facts.word("wanted") != "mark_to_walk_to" {
        musts.push(Must(Shown::Bearing(facts.number("seen_magnetic_bearing_deg"), 'M'), "on"));
        musts.push(Must(Shown::Number(facts.number("away_m")), ""));
        return musts;
    }
    musts.push(Must(Shown::Number(facts.number("goal_m")), "to"));
    for place in ORDER {
        let name = facts.word(&format!("{place}_mark"));
        let away = facts.number(&format!("{place}_away_m"));
        let told = match facts.maybe(&format!("{place}_from_arrow_deg")) {
            None => {
                let on = facts.number(&format!("{place}_magnetic_bearing_deg"));
                musts.push(Must(Shown::Bearing(on, 'M'), "on"));
                format!("{name} on {on:03}° M, {away} m off")
            }
            Some(0.0) => format!("{name} over the arrow, {away} m off"),
            Some(180.0) => format!("{name} behind you, where the arrow's tail points, {away} m off"),
            Some(degrees) => {
                musts.push(Must(Shown::Size(degrees.abs()), ">of the arrow"));
                let side = if degrees < 0.0 { "left" } else { "right" };
                format!("{name} {}° {side} of the arrow, {away} m off", degrees.abs())
            }
        };
        musts.push(Must(Shown::Number(away), ""));
        let told = match facts.all.get(&format!("{place}_across")).and_then(|it| it.as_str()) {
            // What stands high is seen over whatever lies between.
            Some(high) if high.starts_with("on ") || high.starts_with("high ") => format!("{told} {high}"),
            Some(across) => format!("{told} across {across}"),
            None => told,
        };
        assert!(prompt.contains(&told), "{}: no {told:?} in {prompt}", facts.code);
    }
    musts
}
