//! Reading the relief from heights alone: shapes by going round, slopes and falls as vectors, sight by slopes of lines (common practice,
//! no source).

use super::Solver;
use super::facts::{Dir, Facts, Part, Worked, one};
use super::shown::{Must, Shown};
use needlewise::problem::{PlanFigure, PlanKind, Question};

pub const RELIEF: Solver = Solver { right, wrong, read };

const LETTERS: [&str; 4] = ["A", "B", "C", "D"];
const ROUND: [&str; 8] =
    ["north_m", "north_east_m", "east_m", "south_east_m", "south_m", "south_west_m", "west_m", "north_west_m"];
/// One's eyes above the ground, in m.
const EYES_M: f64 = 2.0;

/// The letters that the facts tell of.
fn letters(facts: &Facts) -> impl Iterator<Item = &'static str> + '_ {
    LETTERS.into_iter().filter(|letter| facts.all.contains_key(&format!("{}_m", letter.to_lowercase())))
}

fn at(facts: &Facts, letter: &str, what: &str) -> f64 {
    let letter = letter.to_lowercase();
    facts.number(&if what.is_empty() { format!("{letter}_m") } else { format!("{letter}_{what}_m") })
}

/// What the ground is like: the sides that lie higher, as runs round the place.
fn shape(facts: &Facts) -> &'static str {
    let own = facts.number("p_m");
    let higher = ROUND.map(|name| facts.number(name) > own);
    let ridges = (0..8).filter(|side| higher[*side] && !higher[(side + 7) % 8]).count();
    match (ridges, higher.iter().filter(|it| **it).count()) {
        (0, 0) => "top",
        (2, _) => "saddle",
        (1, 1..=3) => "spur",
        (1, 5..=7) => "re-entrant",
        other => panic!("{}: {other:?}", facts.code),
    }
}

/// Downhill at a place: metres that the ground falls eastward and northward on 200 m.
fn down(facts: &Facts, letter: &str) -> (f64, f64) {
    let side = |what| at(facts, letter, what);
    (side("west") - side("east"), side("south") - side("north"))
}

fn steep(facts: &Facts, letter: &str) -> f64 {
    let (east, north) = down(facts, letter);
    (east * east + north * north).sqrt()
}

fn falls(facts: &Facts, letter: &str) -> Dir {
    let ((east, north), steep) = (down(facts, letter), steep(facts, letter));
    Dir { east: east / steep, north: north / steep }
}

/// The felt fall by the map, when declination is taken in so many times.
fn felt(facts: &Facts, times: f64) -> Dir {
    Dir::at(facts.number("magnetic_bearing_deg")).turned(times * facts.number("declination_deg"))
}

/// How far the steepest ground on the way stands above the place itself, as seen from the eye: rises for a quarter of the way.
fn hides(facts: &Facts, letter: &str) -> f64 {
    let eye = facts.number("stand_m") + EYES_M;
    let rise = |what, quarters: f64| (at(facts, letter, what) - eye) / quarters;
    let ground = rise("quarter", 1.0).max(rise("half", 2.0)).max(rise("three_quarters", 3.0));
    ground - rise("", 4.0)
}

fn most(facts: &Facts, value: impl Fn(&str) -> f64) -> &'static str {
    letters(facts).max_by(|one, other| value(one).total_cmp(&value(other))).expect("places")
}

/// The letter that is right.
fn letter(facts: &Facts) -> &'static str {
    match facts.word("wanted") {
        "steepest_place" => most(facts, |letter| steep(facts, letter)),
        "place_by_fall" => most(facts, |letter| falls(facts, letter).nearness(felt(facts, 1.0))),
        "hidden_place" => {
            let hidden: Vec<&str> = letters(facts).filter(|letter| hides(facts, letter) > 0.0).collect();
            assert_eq!(hidden.len(), 1, "{}: {hidden:?}", facts.code);
            hidden[0]
        }
        other => panic!("{}: {other}", facts.code),
    }
}

fn field(facts: &Facts) -> &'static str {
    match facts.word("wanted") {
        "steepest_place" => "steepest",
        "place_by_fall" => "place",
        _ => "hidden",
    }
}

fn right(facts: &Facts, _: &Question) -> Worked {
    if facts.word("wanted") == "shape_of_ground" {
        return one("shape", Part::word(shape(facts)));
    }
    one(field(facts), Part::word(letter(facts)))
}

fn wrong(id: &str, facts: &Facts, _: &Question) -> Option<Vec<Worked>> {
    if facts.word("wanted") == "shape_of_ground" {
        let shapes: &[&str] = match (id, shape(facts)) {
            ("spur-for-re-entrant", "spur") => &["re-entrant"],
            ("spur-for-re-entrant", "re-entrant") => &["spur"],
            ("top-for-saddle", "top") => &["saddle"],
            ("top-for-saddle", "saddle") => &["top"],
            ("sides-left-out", "top" | "saddle") => &["spur", "re-entrant"],
            ("sides-left-out", _) => &["top", "saddle"],
            _ => return None,
        };
        return Some(shapes.iter().map(|shape| one("shape", Part::word(*shape))).collect());
    }
    let right = letter(facts);
    let flattest = most(facts, |letter| -steep_or_nothing(facts, letter));
    let near = |letter: &str, toward: Dir, within: f64| toward.turn_to(falls(facts, letter)).abs() <= within;
    let wall = |letter: &str, times: f64, within: f64| near(letter, felt(facts, times), within);
    let is = |letter: &str| match id {
        "closer-for-flatter" => letter == flattest,
        "gaps-not-compared" => letter != flattest,
        "uphill-for-downhill" => near(letter, felt(facts, 1.0).back(), 26.0),
        "along-the-contour" => [90.0, -90.0].iter().any(|turn| near(letter, felt(facts, 1.0).turned(*turn), 21.0)),
        "not-applied" => wall(letter, 0.0, 5.0),
        "sign-flipped" => wall(letter, -1.0, 10.0),
        "low-for-hidden" => at(facts, letter, "") < at(facts, right, ""),
        "seen-for-hidden" => at(facts, letter, "") >= at(facts, right, ""),
        _ => false,
    };
    let wrong = letters(facts).filter(|letter| *letter != right && is(letter));
    Some(wrong.map(|letter| one(field(facts), Part::word(letter))).collect())
}

fn steep_or_nothing(facts: &Facts, letter: &str) -> f64 {
    if facts.word("wanted") == "hidden_place" { 0.0 } else { steep(facts, letter) }
}

fn read(facts: &Facts, prompt: &str) -> Vec<Must> {
    let interval = prompt.split("contour line every ").nth(1).and_then(|rest| rest.split(' ').next());
    let interval: f64 = interval.and_then(|it| it.parse().ok()).unwrap_or_else(|| panic!("{}: {prompt}", facts.code));
    assert!([5.0, 10.0, 20.0, 50.0].contains(&interval), "{}: {interval}", facts.code);
    let mut musts = vec![Must(Shown::Number(interval), "every")];
    if let Some(felt) = facts.maybe("magnetic_bearing_deg") {
        musts.push(Must(Shown::Bearing(felt, 'M'), "falls straight to"));
        musts.push(Must(Shown::East(facts.number("declination_deg")), "declination is"));
    }
    musts
}

/// The patch has a spot for each place, its heights in words for those who hear it, and at least two heights written at its lines.
pub fn look(facts: &Facts, plan: &PlanFigure) {
    let names: Vec<&str> = plan.places.iter().map(|place| place.name.as_str()).collect();
    let others = [("p_m", "P"), ("stand_m", "S")].into_iter().filter(|(name, _)| facts.all.contains_key(*name));
    let told: Vec<&str> = letters(facts).chain(others.map(|(_, name)| name)).collect();
    assert_eq!(names, told, "{}", facts.code);
    for (name, height) in facts.all.iter().filter(|(name, _)| name.ends_with("_m")) {
        let told = format!("{} m", height.as_f64().expect("metres"));
        assert!(plan.words.contains(&told), "{}: {name} {told} {}", facts.code, plan.words);
    }
    let numbered = plan.lines.iter().filter(|line| line.kind == PlanKind::Contour && !line.label.is_empty()).count();
    assert!(numbered >= 2, "{}: {numbered} heights", facts.code);
}
