//! What the ground is good for and what is wrong with a compass, worked out from places and readings alone (common practice, no source;
//! the distances of iron are those of FM 3-25.26).

use super::Solver;
use super::facts::{Dir, Facts, Part, Worked, one};
use super::shown::{Must, Shown};
use needlewise::problem::Question;

pub const ROUTE_FEATURES: Solver = Solver { right: route_right, wrong: route_wrong, read: route_read };

const ORDER: [&str; 5] = ["first", "second", "third", "fourth", "fifth"];
const NEAR_M: f64 = 150.0;

/// What a feature is good for, by how it lies to the way.
fn good_for(facts: &Facts, place: &str) -> &'static str {
    let (leg, at) = (facts.number("leg_m"), facts.number(&format!("{place}_from_start_m")));
    let aside = facts.number(&format!("{place}_aside_m"));
    match facts.word(&format!("{place}_runs")) {
        "beside" => "handrail",
        "across" if at > leg => "catching feature",
        "across" => "collecting feature",
        "spot" if (leg - at).hypot(aside) <= NEAR_M => "attack point",
        "spot" => "nothing",
        other => panic!("{}: {other}", facts.code),
    }
}

fn places(facts: &Facts) -> impl Iterator<Item = &'static str> + '_ {
    ORDER.into_iter().filter(|place| facts.all.contains_key(&format!("{place}_feature")))
}

/// The name of each feature with what it is good for.
fn features(facts: &Facts) -> Vec<(String, &'static str)> {
    places(facts)
        .map(|place| (format!("the {}", facts.word(&format!("{place}_feature"))), good_for(facts, place)))
        .collect()
}

/// Each way with what is wrong with it: danger first, then a long piece that nothing leads along.
fn ways(facts: &Facts) -> Vec<(String, &'static str)> {
    ORDER[..3]
        .iter()
        .map(|place| {
            let follows = facts.word(&format!("{place}_way_follows"));
            let last = facts.number(&format!("{place}_way_last_piece_m"));
            let fault = match follows {
                "the edge of the cliff" | "the railway" | "the brim of the quarry" => "hazard-taken",
                "nothing" => "shortest-taken",
                _ if last > 300.0 => "blind-end",
                _ => "",
            };
            (format!("the {place} way"), fault)
        })
        .collect()
}

fn word(name: &'static str, words: impl Iterator<Item = String>) -> Vec<Worked> {
    words.map(|word| one(name, Part::word(word))).collect()
}

fn route_right(facts: &Facts, _: &Question) -> Worked {
    let only = |mut found: Vec<Worked>| {
        assert_eq!(found.len(), 1, "{}: {:?}", facts.code, facts.all);
        found.remove(0)
    };
    match facts.word("wanted") {
        "role" => one("role", Part::word(good_for(facts, "first"))),
        "safest_way" => only(word("way", ways(facts).into_iter().filter(|way| way.1.is_empty()).map(|way| way.0))),
        _ => {
            let asked = facts.word("role");
            only(word("feature", features(facts).into_iter().filter(|it| it.1 == asked).map(|it| it.0)))
        }
    }
}

/// The name of taking one kind for another.
fn confusion(asked: &str, taken: &str) -> &'static str {
    let line = |kind: &str| ["handrail", "collecting feature", "catching feature"].contains(&kind);
    match (line(asked), line(taken)) {
        (true, true) if asked == "handrail" || taken == "handrail" => "along-for-across",
        (true, true) => "before-for-behind",
        (false, false) => "spot-far-off",
        _ => "spot-for-line",
    }
}

fn route_wrong(id: &str, facts: &Facts, _: &Question) -> Option<Vec<Worked>> {
    let kinds = ["handrail", "collecting feature", "catching feature", "attack point"];
    Some(match facts.word("wanted") {
        "role" => {
            let right = good_for(facts, "first");
            let taken = kinds.into_iter().filter(|kind| *kind != right && confusion(right, kind) == id);
            word("role", taken.map(str::to_owned))
        }
        "safest_way" => word("way", ways(facts).into_iter().filter(|way| way.1 == id).map(|way| way.0)),
        _ => {
            let asked = facts.word("role");
            let taken = features(facts).into_iter().filter(|it| it.1 != asked && confusion(asked, it.1) == id);
            word("feature", taken.map(|it| it.0))
        }
    })
}

fn route_read(facts: &Facts, prompt: &str) -> Vec<Must> {
    let number = |number: f64, cue| Must(Shown::Number(number), cue);
    let leg = facts.number("leg_m");
    let mut musts = vec![number(leg, if facts.word("wanted") == "feature_on_plan" { "way of" } else { "" })];
    match facts.word("wanted") {
        "safest_way" => {
            for place in &ORDER[..3] {
                let (far, last) =
                    (facts.number(&format!("{place}_way_m")), facts.number(&format!("{place}_way_last_piece_m")));
                let follows = facts.word(&format!("{place}_way_follows"));
                musts.push(number(far, "way:"));
                if follows == "nothing" {
                    assert!((far - leg).abs() < 1e-9 && (last - leg).abs() < 1e-9, "{}: straight", facts.code);
                } else {
                    assert!(prompt.contains(&format!("{far} m along {follows}")), "{}: {prompt}", facts.code);
                    musts.push(number(last, "then"));
                }
            }
            return musts;
        }
        "role" => assert!(prompt.contains(" Is it a handrail, "), "{}: {prompt}", facts.code),
        _ => {
            let asked = format!("Which of these is your {}?", facts.word("role"));
            assert!(prompt.ends_with(&asked), "{}: {prompt}", facts.code);
        }
    }
    if facts.word("wanted") == "feature_on_plan" {
        return musts;
    }
    for place in places(facts) {
        let name = facts.word(&format!("{place}_feature"));
        let [at, aside] = ["from_start_m", "aside_m"].map(|fact| facts.number(&format!("{place}_{fact}")));
        let said = prompt.split(". ").find(|said| said.starts_with(&format!("A {name} ")));
        let said = said.unwrap_or_else(|| panic!("{}: nothing of {name} in {prompt}", facts.code));
        match facts.word(&format!("{place}_runs")) {
            "beside" => {
                assert!(said.contains("beside it"), "{}: {said}", facts.code);
                musts.push(number(aside, "beside it"));
            }
            "across" if at > leg => musts.push(number(at - leg, "crosses it")),
            "across" => musts.push(number(at, "crosses it after")),
            _ if aside == 0.0 => musts.push(number(leg - at, "lies on it")),
            _ => musts.extend([number(aside, "lies"), number(at, "after")]),
        }
    }
    musts
}

pub const COMPASS_FAULTS: Solver = Solver { right: fault_right, wrong: fault_wrong, read: fault_read };

const REVERSED: &str = "the needle is reversed";
const SLIPPED: &str = "the dial has slipped";
const IRON: &str = "iron is near";
const STICKS: &str = "the needle sticks";
const BUBBLE: &str = "a bubble holds the needle";
const NOTHING: &str = "nothing is wrong";
const FAULTS: [&str; 6] = [REVERSED, SLIPPED, IRON, STICKS, BUBBLE, NOTHING];
const LIMIT_DEG: f64 = 3.0;

/// How far a number shown lies clockwise of what it should be.
fn off(facts: &Facts, shown: &str, should: &str) -> f64 {
    let degrees = |name| Dir::at(facts.number(name));
    let turn = degrees(should).turn_to(degrees(shown)).round();
    if turn == -180.0 { 180.0 } else { turn }
}

/// What the readings of a known line tell: two tries at one place, and one along another line far away.
fn fault(facts: &Facts) -> &'static str {
    let first = off(facts, "known_line_shown_deg", "known_line_deg");
    let tilted = facts.maybe("shown_tilted_deg").is_some();
    let again = off(facts, if tilted { "shown_tilted_deg" } else { "shown_at_second_try_deg" }, "known_line_deg");
    let elsewhere = off(facts, "second_line_shown_deg", "second_line_deg");
    let same = |one: f64, other: f64| {
        let apart = (one - other).rem_euclid(360.0);
        apart.min(360.0 - apart) <= LIMIT_DEG
    };
    let all = |should: f64| [first, again, elsewhere].iter().all(|off| same(*off, should));
    // A small bubble does no harm, a large one is the fault.
    let large = facts.maybe("bubble_mm").is_some_and(|wide| wide > 5.0);
    let fault = match (same(first, again), same(first, elsewhere)) {
        _ if all(0.0) => NOTHING,
        _ if all(180.0) => REVERSED,
        (true, true) => SLIPPED,
        (true, false) => IRON,
        (false, _) if tilted => BUBBLE,
        (false, _) => STICKS,
    };
    // A large one is there where it is the fault, none where nothing is, and elsewhere it may be.
    let possible = if large { fault != NOTHING } else { fault != BUBBLE };
    assert!(possible, "{}: a bubble of its size", facts.code);
    // What is one thing lies clearly together, and what is another clearly apart.
    assert!(fault != BUBBLE || same(first, 0.0) && same(elsewhere, 0.0), "{}: right while level", facts.code);
    fault
}

/// How far off a compass is that should show this along the line, and what is done with it.
fn verdict(facts: &Facts, should: Dir) -> Worked {
    let off = should.turn_to(Dir::at(facts.number("shown_magnetic_bearing_deg"))).abs();
    let word = if off > LIMIT_DEG + 1e-6 { "put it aside" } else { "take it along" };
    vec![("off", Part::Plain(off)), ("verdict", Part::word(word))]
}

/// The line of a check, from magnetic north, if the needle points so far east of true north.
fn magnetic(facts: &Facts, declination: f64) -> Dir {
    Dir::at(facts.number("true_bearing_deg")).turned(-declination)
}

const PLACES: [&str; 4] = ["first", "second", "third", "fourth"];

fn read(facts: &Facts) -> Vec<(String, Dir)> {
    let one = |place| {
        (facts.word(&format!("{place}_name")).to_owned(), Dir::at(facts.number(&format!("{place}_reading_deg"))))
    };
    PLACES.into_iter().map(one).collect()
}

/// Who lies furthest from all the others.
fn odd(all: &[(String, Dir)]) -> usize {
    let apart = |at: usize| all.iter().map(|other| all[at].1.turn_to(other.1).abs()).sum::<f64>();
    (0..all.len()).max_by(|one, other| apart(*one).total_cmp(&apart(*other))).expect("somebody")
}

/// The one of three between the two others.
fn between(all: &[(String, Dir)], without: usize) -> Dir {
    let left: Vec<Dir> = (0..all.len()).filter(|at| *at != without).map(|at| all[at].1).collect();
    let middle = |at: &usize| {
        let turns: Vec<f64> =
            (0..left.len()).filter(|other| other != at).map(|it| left[*at].turn_to(left[it])).collect();
        turns[0] * turns[1] <= 1e-9
    };
    left[(0..left.len()).find(middle).expect("one lies between")]
}

fn aside(name: &str, bearing: f64) -> Worked {
    vec![("aside", Part::word(name)), ("mark", Part::Round(bearing))]
}

fn metres(metres: f64) -> Worked {
    one("away", Part::Plain(metres))
}

/// How far one keeps from iron.
fn distance(iron: &str) -> f64 {
    match iron {
        "a parked car" => 18.0,
        "a high-voltage line" => 55.0,
        other => panic!("{other}"),
    }
}

fn fault_right(facts: &Facts, _: &Question) -> Worked {
    match facts.word("wanted") {
        "fault" => one("fault", Part::word(fault(facts))),
        "off_known_line" => verdict(facts, magnetic(facts, facts.number("declination_deg"))),
        "who_steps_aside" => {
            let all = read(facts);
            let odd = odd(&all);
            aside(&all[odd].0, between(&all, odd).degrees())
        }
        "bearing_of_mark" => one("mark", Part::Round(sighted(facts, -1.0))),
        "way_from_iron" => metres(distance(facts.word("iron")) - facts.number("iron_at_m")),
        other => panic!("{}: {other}", facts.code),
    }
}

/// The tower, with what the compass does to the known line so many times put on.
fn sighted(facts: &Facts, times: f64) -> f64 {
    Dir::at(facts.number("mark_shown_deg"))
        .turned(times * off(facts, "known_line_shown_deg", "known_line_deg"))
        .degrees()
}

/// The name of taking one fault for another.
fn taken(fault: &str, other: &str) -> &'static str {
    match (fault, other) {
        (NOTHING, _) => "fault-supposed",
        (_, NOTHING) => "fault-overlooked",
        (IRON, _) | (_, IRON) => "place-or-compass",
        _ => "another-fault",
    }
}

fn fault_wrong(id: &str, facts: &Facts, question: &Question) -> Option<Vec<Worked>> {
    let worked = match (facts.word("wanted"), id) {
        ("fault", id) => {
            let fault = fault(facts);
            return Some(word(
                "fault",
                FAULTS.into_iter().filter(|it| *it != fault && taken(fault, it) == id).map(str::to_owned),
            ));
        }
        ("off_known_line", "not-applied") => verdict(facts, magnetic(facts, 0.0)),
        ("off_known_line", "sign-flipped") => verdict(facts, magnetic(facts, -facts.number("declination_deg"))),
        ("off_known_line", "limit-missed") => {
            let mut worked = fault_right(facts, question);
            let other = if worked[1].1 == Part::word("put it aside") { "take it along" } else { "put it aside" };
            worked[1].1 = Part::word(other);
            worked
        }
        ("who_steps_aside", "mean-of-all") => {
            let all = read(facts);
            let mean = all.iter().map(|it| all[0].1.turn_to(it.1)).sum::<f64>() / 4.0;
            // Halves up, as a hand rounds.
            let mean = (mean + 0.5 + 1e-9).floor();
            aside(&all[odd(&all)].0, all[0].1.turned(mean).degrees())
        }
        ("who_steps_aside", "other-end-left-out") => {
            let all = read(facts);
            let odd = odd(&all);
            let from = |at: &usize| all[*at].1.turn_to(all[odd].1).abs();
            let other = (0..4).max_by(|one, other| from(one).total_cmp(&from(other))).expect("somebody");
            aside(&all[other].0, between(&all, other).degrees())
        }
        ("bearing_of_mark", "error-left-in") => one("mark", Part::Round(sighted(facts, 0.0))),
        ("bearing_of_mark", "error-added") => one("mark", Part::Round(sighted(facts, 1.0))),
        ("bearing_of_mark", "wrong-end") => one("mark", Part::Round(sighted(facts, 0.0) + 180.0)),
        ("way_from_iron", "whole-distance") => metres(distance(facts.word("iron"))),
        ("way_from_iron", "few-steps") => metres(2.0),
        ("way_from_iron", "other-iron") => {
            let other = if facts.word("iron") == "a parked car" { "a high-voltage line" } else { "a parked car" };
            metres(distance(other) - facts.number("iron_at_m"))
        }
        _ => return None,
    };
    Some(vec![worked])
}

fn fault_read(facts: &Facts, prompt: &str) -> Vec<Must> {
    let bearing = |name, cue| facts.maybe(name).map(|number| Must(Shown::Bearing(number, 'M'), cue));
    let said = |words: &str| assert!(prompt.contains(words), "{}: no {words:?} in {prompt}", facts.code);
    let mut musts: Vec<Must> = Vec::new();
    match facts.word("wanted") {
        "who_steps_aside" => {
            for place in PLACES {
                said(facts.word(&format!("{place}_name")));
                let reading = facts.number(&format!("{place}_reading_deg"));
                musts.push(Must(Shown::Bearing(reading, 'M'), ""));
            }
            // Each number stands behind its name, in the order of the facts.
            let told: Vec<f64> = super::shown::tokens(prompt)
                .iter()
                .filter_map(|token| if let Shown::Bearing(number, _) = token.shown { Some(number) } else { None })
                .collect();
            let facts_order: Vec<f64> =
                PLACES.iter().map(|place| facts.number(&format!("{place}_reading_deg"))).collect();
            assert_eq!(told, facts_order, "{}: {prompt}", facts.code);
        }
        "way_from_iron" => {
            said(&format!("from {}", facts.word("iron")));
            musts.push(Must(Shown::Number(facts.number("iron_at_m")), "you stand"));
        }
        "off_known_line" => {
            musts.push(Must(Shown::Bearing(facts.number("true_bearing_deg"), 'T'), "runs on"));
            musts.push(Must(Shown::East(facts.number("declination_deg")), "declination is"));
            musts.extend(bearing("shown_magnetic_bearing_deg", "compass shows"));
            // What the hand may be out by is the same in each problem, and so is no fact of one.
            musts.push(Must(Shown::Size(3.0), ">may be the hand"));
        }
        "bearing_of_mark" => musts.extend(
            [
                bearing("known_line_deg", "runs on"),
                bearing("known_line_shown_deg", "compass shows"),
                bearing("mark_shown_deg", "tower reads"),
            ]
            .into_iter()
            .flatten(),
        ),
        _ => {
            let shown = if facts.maybe("bubble_mm").is_some() { "level it shows" } else { "shows" };
            musts.extend(
                [
                    bearing("known_line_deg", "runs on"),
                    facts.maybe("bubble_mm").map(|wide| Must(Shown::Number(wide), "bubble")),
                    bearing("known_line_shown_deg", shown),
                    bearing("second_line_deg", "runs on"),
                    bearing("second_line_shown_deg", "there, held level, it shows"),
                    facts.maybe("second_line_away_m").map(|away| Must(Shown::Number(away), "walk")),
                    bearing("shown_at_second_try_deg", "once more, and it shows"),
                    bearing("shown_tilted_deg", "to the needle, it shows"),
                ]
                .into_iter()
                .flatten(),
            );
        }
    }
    musts
}
