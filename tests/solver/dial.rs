//! Directions and the dial: compass points, turns, reading and setting a dial, back bearings.
#![expect(
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    clippy::cast_sign_loss,
    reason = "what a test counts and draws is small"
)]

use super::facts::{Dir, EXACT, Facts, Part, Worked, one};
use needlewise::problem::{Choices, Question};

const POINT: f64 = 360.0 / 32.0;

/// The direction of a compass point, built the way the names are built: the parents, then the middle between them, then
/// "by" one point from the first name toward the second.
pub fn point(name: &str) -> Dir {
    if let Some((stem, toward)) = name.split_once('b') {
        let (stem, toward) = (point(stem), point(toward));
        return stem.turned(POINT * stem.turn_to(toward).signum());
    }
    let middle = |one: Dir, other: Dir| {
        let (east, north) = (one.east + other.east, one.north + other.north);
        let length = east.hypot(north);
        Dir { east: east / length, north: north / length }
    };
    match name {
        "N" => Dir { east: 0.0, north: 1.0 },
        "E" => Dir { east: 1.0, north: 0.0 },
        "S" => Dir { east: 0.0, north: -1.0 },
        "W" => Dir { east: -1.0, north: 0.0 },
        _ if name.len() == 2 || name.len() == 3 => middle(point(&name[..1]), point(&name[1..])),
        _ => panic!("{name} is no compass point"),
    }
}

fn card(question: &Question) -> &Choices {
    let field = &question.fields()[0];
    field.choices().unwrap_or_else(|| panic!("a choice of points expected, not {:?}", field.kind))
}

fn nearest(question: &Question, dir: Dir) -> &str {
    let by_nearness = |a: &&str, b: &&str| point(a).nearness(dir).total_cmp(&point(b).nearness(dir));
    card(question).iter().max_by(by_nearness).expect("a card has points")
}

fn point_answer(facts: &Facts, question: &Question, dir: Dir) -> Worked {
    match facts.word("wanted") {
        "degrees" => one("degrees", Part::Round(dir.degrees())),
        "point" | "nearest_point" => {
            let exactly = facts.word("wanted") == "point";
            assert!(!exactly || point(nearest(question, dir)).nearness(dir) > 1.0 - EXACT, "{}", facts.code);
            assert_eq!(card(question).len() as f64, facts.number("names_on_card"), "{}", facts.code);
            one("point", Part::word(nearest(question, dir)))
        }
        other => panic!("{}: wanted {other}", facts.code),
    }
}

pub fn compass_points(facts: &Facts, question: &Question) -> Worked {
    let told = facts.maybe("degrees_per_point");
    assert!(told.is_none_or(|degrees| degrees == 360.0 / facts.number("names_on_card")), "{}", facts.code);
    point_answer(facts, question, pointed(facts))
}

/// The direction asked about.
fn pointed(facts: &Facts) -> Dir {
    if let Some(direction) = facts.maybe("direction_deg") {
        Dir::at(direction)
    } else if let Some(turn) = facts.maybe("turn_points") {
        point(facts.word("start_point")).turned(turn * facts.number("degrees_per_point"))
    } else if facts.all.contains_key("wind_from_point") {
        // Toward where it goes, not from where it comes.
        point(facts.word("wind_from_point")).back()
    } else {
        point(facts.word("point"))
    }
}

/// The name of the card of sixteen that lies exactly there.
fn right_name(dir: Dir) -> &'static str {
    const SIXTEEN: [&str; 16] =
        ["N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE", "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW"];
    SIXTEEN.into_iter().find(|name| point(name).nearness(dir) > 1.0 - EXACT).expect("one of sixteen")
}

pub fn compass_points_wrong(id: &str, facts: &Facts, question: &Question) -> Option<Worked> {
    let right = pointed(facts);
    let turn = facts.maybe("turn_points");
    // What the name is built from; for a number, the name that is nearest.
    let named = || match facts.word("wanted") {
        "degrees" if facts.all.contains_key("point") => facts.word("point"),
        "degrees" => right_name(right),
        _ => nearest(question, right),
    };
    let on = point(if turn.is_some() { "N" } else { named() });
    let by = || {
        let (stem, toward) = named().split_once('b').unwrap_or_else(|| panic!("{}: {} has no by", facts.code, named()));
        let stem = point(stem);
        (stem, stem.turn_to(point(toward)).signum())
    };
    let dir = match id {
        "mirrored-east-west" => Dir { east: -right.east, ..right },
        "mirrored-north-south" => Dir { north: -right.north, ..right },
        "point-too-far" | "point-too-short" => {
            let step = 360.0 / facts.number("names_on_card") * if id == "point-too-far" { 1.0 } else { -1.0 };
            right.turned(step * turn?.signum())
        }
        "next-point-clockwise" => on.turned(360.0 / facts.number("names_on_card")),
        "next-point-counterclockwise" => on.turned(-360.0 / facts.number("names_on_card")),
        "between-cardinals" => Dir::at(45.0 + 90.0 * (on.from(Dir::NORTH).rem_euclid(360.0) / 90.0).floor()),
        "wrong-stem" => by().0.turned(45.0 * by().1),
        "by-wrong-way" => by().0.turned(-POINT * by().1),
        "stems-exchanged" => by().0.turned((45.0 - POINT) * by().1),
        "wrong-end" => right.back(),
        "turned-other-way" => point(facts.word("start_point")).turned(-turn? * facts.number("degrees_per_point")),
        // A point as wide as on the card with half as many names.
        "points-of-sixteen" | "points-of-eight" => {
            point(facts.word("start_point")).turned(2.0 * turn? * facts.number("degrees_per_point"))
        }
        "not-wrapped" => {
            let start = point(facts.word("start_point")).degrees().rem_euclid(360.0);
            return Some(one("degrees", Part::Plain(start + turn? * facts.number("degrees_per_point"))));
        }
        _ => return None,
    };
    Some(point_answer(facts, question, dir))
}

/// The turns of the facts, in their order.
fn turns(facts: &Facts) -> Vec<f64> {
    ["turn_deg", "first_turn_deg", "second_turn_deg", "dial_turn_deg", "first_dial_turn_deg", "second_dial_turn_deg"]
        .iter()
        .filter_map(|name| facts.maybe(name))
        .collect()
}

fn turn_answer(signed: f64) -> Worked {
    let way = if signed < 0.0 { "counterclockwise" } else { "clockwise" };
    vec![("direction", Part::word(way)), ("turn", Part::Plain(signed.abs()))]
}

fn on_foot(facts: &Facts) -> Dir {
    Dir::at(facts.number("start_magnetic_bearing_deg"))
}

pub fn turning(facts: &Facts) -> Worked {
    let facing = turns(facts).into_iter().fold(on_foot(facts), Dir::turned);
    match facts.word("wanted") {
        "magnetic_bearing_after_turning" => one("bearing", Part::Round(facing.degrees())),
        "shorter_turn_to_end" => {
            let turn = facing.turn_to(Dir::at(facts.number("end_magnetic_bearing_deg")));
            assert!(turn.abs() > 1.0 && turn.abs() < 179.0, "{}: neither way is the short one", facts.code);
            turn_answer(turn)
        }
        other => panic!("{}: wanted {other}", facts.code),
    }
}

/// The wrong sums of turns that set-dial and turns have in common. `growth` is +1 where a clockwise turn makes the number
/// larger and −1 where it makes it smaller.
fn wrong_sum(id: &str, start: f64, turns: &[f64], growth: f64) -> Option<Vec<Part>> {
    let all: f64 = turns.iter().sum();
    let number = match (id, turns) {
        ("turned-other-way", _) => {
            // Left as it is, or brought back onto the dial.
            let number = start - growth * all;
            return Some(vec![Part::Round(number), Part::Plain(number)]);
        }
        ("start-left-out", _) => growth * all,
        ("first-turn-left-out", [_, second]) => start + growth * second,
        ("second-turn-left-out", [first, _]) => start + growth * first,
        ("all-one-way", [first, second]) => start + growth * (first + second.abs() * first.signum()),
        ("not-wrapped", _) => {
            let mut ends = vec![Part::Plain(start + growth * all)];
            if let [first, second] = turns {
                // Brought back after the first turn only.
                ends.push(Part::Plain((start + growth * first).rem_euclid(360.0) + growth * second));
            }
            return Some(ends);
        }
        _ => return None,
    };
    Some(vec![Part::Round(number)])
}

pub fn turning_wrong(id: &str, facts: &Facts) -> Option<Vec<Worked>> {
    let start = facts.number("start_magnetic_bearing_deg");
    let turns = turns(facts);
    let Some(end) = facts.maybe("end_magnetic_bearing_deg") else {
        return Some(wrong_sum(id, start, &turns, 1.0)?.into_iter().map(|part| one("bearing", part)).collect());
    };
    let facing = turns.iter().fold(on_foot(facts), |dir, turn| dir.turned(*turn));
    let short = facing.turn_to(Dir::at(end));
    let worked = match id {
        "turned-other-way" => turn_answer(-short),
        "long-way-round" => turn_answer(short - 360.0 * short.signum()),
        // The right way, and the difference of the two numbers for its size.
        "plain-difference" => {
            let size = (end - facing.degrees().rem_euclid(360.0)).abs();
            turn_answer(size * short.signum())
        }
        // From 000 up to the number at the end.
        "start-left-out" => turn_answer(end),
        "first-turn-left-out" => {
            let turn = on_foot(facts).turn_to(Dir::at(end));
            assert!(turn.abs() > 0.5 && turn.abs() < 179.5, "{}: neither way is the short one", facts.code);
            turn_answer(turn)
        }
        _ => return None,
    };
    Some(vec![worked])
}

/// The smallest printed number below the index, the ticks above it, and what a tick is worth.
fn scale(facts: &Facts) -> (f64, f64, f64) {
    let tick = facts.number("number_every_deg") / facts.number("spaces_between_numbers");
    (facts.number("number_below_index_deg"), facts.number("ticks_above_number"), tick)
}

fn dial_answer(facts: &Facts, reading: Part, needle: Option<&'static str>) -> Worked {
    let mut worked = one("reading", reading);
    if facts.word("wanted") == "number_at_index_and_whether_boxed" {
        let boxed = facts.number("needle_north_end_at_deg").rem_euclid(360.0) == 0.0;
        worked.push(("needle", Part::word(needle.unwrap_or(if boxed { "boxed" } else { "not boxed" }))));
    }
    worked
}

fn reading(facts: &Facts) -> Dir {
    let (below, ticks, tick) = scale(facts);
    (0..ticks as u32).fold(Dir::at(below), |dir, _| dir.turned(tick))
}

pub fn read_dial(facts: &Facts) -> Worked {
    dial_answer(facts, Part::Round(reading(facts).degrees()), None)
}

/// Ticks that a dial can have; somebody may take one for another.
const TICKS: [f64; 4] = [1.0, 2.0, 5.0, 10.0];

/// The printed number from which one counts: the nearest below.
fn number_below(reading: f64, every: f64) -> f64 {
    (reading / every).floor() * every
}

/// The printed numbers on both sides of a place.
fn beside(below: f64, every: f64) -> Vec<f64> {
    vec![below, below + every]
}

pub fn read_dial_wrong(id: &str, facts: &Facts) -> Option<Vec<Worked>> {
    let (below, ticks, tick) = scale(facts);
    let right = below + ticks * tick;
    assert!((below - number_below(right, facts.number("number_every_deg"))).abs() < EXACT, "{}", facts.code);
    let believed = TICKS.into_iter().filter(|other| *other != tick);
    let numbers: Vec<f64> = match id {
        "wrong-end" => vec![reading(facts).back().degrees()],
        "read-at-needle" => vec![facts.number("needle_north_end_at_deg")],
        "counted-wrong-way" => vec![2.0 * below - right],
        "wrong-tick-value" => believed.filter(|other| *other != 1.0).map(|other| below + ticks * other).collect(),
        "one-degree-a-tick" => vec![(0..ticks as u32).fold(below, |number, _| number + 1.0)],
        "stopped-at-number" => beside(below, facts.number("number_every_deg")),
        "inner-scale" => vec![facts.maybe("inner_scale_at_index_deg")?],
        "box-not-checked" | "south-end-boxed" => {
            let north_end = facts.number("needle_north_end_at_deg").rem_euclid(360.0);
            assert_eq!(north_end == 180.0, id == "south-end-boxed", "{}", facts.code);
            return Some(vec![dial_answer(facts, Part::Round(right), Some("boxed"))]);
        }
        _ => return None,
    };
    Some(numbers.into_iter().map(|number| dial_answer(facts, Part::Round(number), None)).collect())
}

pub fn set_dial(facts: &Facts) -> Worked {
    let start = Dir::at(facts.number("start_reading_deg"));
    let reads = match facts.word("wanted") {
        "dial_set_at_index" => Dir::at(facts.number("number_to_set_deg")),
        // The dial's numbers grow clockwise, so turning it clockwise brings smaller ones to the index.
        "reading_after_turning" => turns(facts).into_iter().fold(start, |reads, turn| reads.turned(-turn)),
        other => panic!("{}: wanted {other}", facts.code),
    };
    one("reading", Part::Round(reads.degrees()))
}

pub fn set_dial_wrong(id: &str, facts: &Facts) -> Option<Vec<Worked>> {
    let numbers = |numbers: Vec<f64>| Some(numbers.into_iter().map(|n| one("reading", Part::Round(n))).collect());
    let Some(wanted) = facts.maybe("number_to_set_deg") else {
        let wrong = wrong_sum(id, facts.number("start_reading_deg"), &turns(facts), -1.0)?;
        return Some(wrong.into_iter().map(|part| one("reading", part)).collect());
    };
    match id {
        "wrong-end" => numbers(vec![Dir::at(wanted).back().degrees()]),
        // With the number at the needle, the index shows what lies that far counterclockwise of it.
        "set-at-needle" => numbers(vec![wanted - facts.number("needle_clockwise_of_index_deg")]),
        "counted-wrong-way" => {
            let below = number_below(wanted, facts.number("number_every_deg"));
            numbers(vec![2.0 * below - wanted])
        }
        "stopped-at-number" => {
            let every = facts.number("number_every_deg");
            numbers(beside(number_below(wanted, every), every))
        }
        // Who takes a tick of 2° for 5° and wants 106 goes 6/5 of a tick past 100, and so stands at 102.4.
        "wrong-tick-value" => {
            let every = facts.number("number_every_deg");
            let (below, tick) = (number_below(wanted, every), every / facts.number("spaces_between_numbers"));
            let believed = TICKS.into_iter().filter(|other| *other != tick);
            numbers(believed.map(|other| below + (wanted - below) / other * tick).collect())
        }
        _ => None,
    }
}

/// A leg's bearing and the size of the circle in its unit.
fn leg(facts: &Facts, name: &str) -> Option<(f64, f64)> {
    let degrees = facts.maybe(&format!("{name}_deg")).map(|number| (number, 360.0));
    degrees.or(facts.maybe(&format!("{name}_mil")).map(|number| (number, 6400.0)))
}

/// The leg that is to be walked back, and the other one if there are two.
fn legs(facts: &Facts) -> ((f64, f64), Option<(f64, f64)>) {
    let leg = |name| leg(facts, name);
    match facts.word("wanted") {
        "back_bearing" => (leg("bearing").expect("a bearing"), None),
        "back_bearing_of_first_leg" => (leg("first_leg_bearing").expect("a first leg"), leg("second_leg_bearing")),
        "back_bearing_of_second_leg" => (leg("second_leg_bearing").expect("a second leg"), leg("first_leg_bearing")),
        other => panic!("{}: wanted {other}", facts.code),
    }
}

fn reversed((bearing, circle): (f64, f64)) -> Worked {
    let back = Dir::at(bearing * 360.0 / circle).back();
    one("back_bearing", Part::Round(back.degrees() * circle / 360.0))
}

pub fn back_bearing(facts: &Facts, question: &Question) -> Worked {
    let north = question.fields()[0].north().map(|north| north.word());
    assert_eq!(north, Some(facts.word("north")), "{}: the answer counts from the north of the question", facts.code);
    reversed(legs(facts).0)
}

pub fn back_bearing_wrong(id: &str, facts: &Facts) -> Option<Vec<Worked>> {
    let ((bearing, circle), other) = legs(facts);
    let parts = match id {
        "not-reversed" => vec![Part::Round(bearing)],
        "counted-other-way" => vec![Part::Round(circle - bearing)],
        "quarter-turn" => vec![Part::Round(bearing + circle / 4.0), Part::Round(bearing - circle / 4.0)],
        "stopped-at-200" if bearing < 180.0 => vec![Part::Round(bearing + 200.0)],
        "stopped-at-200" => vec![Part::Round(bearing - 200.0)],
        "degrees-on-mils" => vec![Part::Round(bearing + 180.0), Part::Round(bearing - 180.0)],
        "not-wrapped" if bearing < circle / 2.0 => vec![Part::Plain(bearing - circle / 2.0)],
        "not-wrapped" => vec![Part::Plain(bearing + circle / 2.0)],
        "wrong-leg" => return Some(vec![reversed(other?)]),
        _ => return None,
    };
    Some(parts.into_iter().map(|part| one("back_bearing", part)).collect())
}
