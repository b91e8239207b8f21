//! A course of three legs, worked out from places: where its legs cross, and where somebody who follows a card comes out.

use super::Solver;
use super::facts::{Dir, EXACT, Facts, Part, Worked};
use super::shown::{Must, Shown};
use needlewise::problem::Question;

pub const COURSE_LEG: Solver = Solver { right: course_right, wrong: course_wrong, read: course_read };

const LEGS: [&str; 3] = ["first", "second", "third"];
const HALF: f64 = 180.0;

/// Magnetic north as a direction on the map, where the north of its lines is up.
fn needle(facts: &Facts) -> Dir {
    let declination = facts.maybe("declination_deg");
    let between = match (facts.word("line"), facts.maybe("grid_magnetic_deg"), facts.maybe("convergence_deg")) {
        ("grid", Some(between), None) => between,
        ("grid", None, Some(convergence)) => declination.expect("a declination") - convergence,
        ("true", None, _) => declination.expect("a declination"),
        other => panic!("{}: {other:?}", facts.code),
    };
    Dir::at(between)
}

fn on_map(facts: &Facts) -> [Dir; 3] {
    LEGS.map(|leg| Dir::at(facts.number(&format!("{leg}_leg_bearing_deg"))))
}

/// What is set, by an angle from the map's north to the needle.
fn set_by(facts: &Facts, needle: Dir) -> [f64; 3] {
    on_map(facts).map(|leg| leg.from(needle))
}

/// How long the second and the third leg are beside the first, so that the course comes home: the two lines cross.
fn lengths(legs: [Dir; 3]) -> [f64; 3] {
    let cross = |one: Dir, other: Dir| one.east * other.north - one.north * other.east;
    let area = cross(legs[1], legs[2]);
    let found = [1.0, -cross(legs[0], legs[2]) / area, -cross(legs[1], legs[0]) / area];
    assert!(found.iter().all(|length| *length > 0.0), "{found:?} is no triangle");
    found
}

/// Whether somebody comes home who walks the lengths of the course on these numbers.
fn closes(facts: &Facts, numbers: [f64; 3]) -> bool {
    let lengths = lengths(on_map(facts));
    let walked = numbers.map(Dir::at).into_iter().zip(lengths);
    let end = walked.fold((0.0, 0.0), |at, (leg, far)| (at.0 + leg.east * far, at.1 + leg.north * far));
    end.0.hypot(end.1) < EXACT
}

fn metres(facts: &Facts, legs: &[&str]) -> f64 {
    legs.iter().map(|leg| facts.number(&format!("{leg}_leg_mm"))).sum::<f64>() * facts.number("scale_denominator")
        / 1000.0
}

fn worked(facts: &Facts, set: [Part; 3], length: Option<f64>) -> Worked {
    let mut worked: Worked = LEGS.into_iter().zip(set).collect();
    if facts.word("wanted") == "course_bearings_and_length" {
        worked.push(("course", Part::Plain(length.unwrap_or_else(|| metres(facts, &LEGS)))));
    }
    worked
}

fn card(facts: &Facts) -> [f64; 3] {
    LEGS.map(|leg| facts.number(&format!("card_{leg}_magnetic_bearing_deg")))
}

fn about(closes: bool, wrong: &str, second: Part) -> Worked {
    let closes = if closes { "it closes" } else { "it does not close" };
    vec![("closes", Part::word(closes)), ("wrong", Part::word(wrong)), ("second", second)]
}

/// What is wrong with the card, by how far each of its legs is off.
fn fault(facts: &Facts) -> String {
    let right = set_by(facts, needle(facts));
    let off: Vec<f64> =
        card(facts).into_iter().zip(right).map(|(card, right)| Dir::at(right).turn_to(Dir::at(card))).collect();
    let wrong: Vec<usize> = (0..3).filter(|leg| off[*leg].abs() > EXACT).collect();
    match wrong[..] {
        [] => "nothing".to_owned(),
        [leg] => format!("the {} leg", LEGS[leg]),
        [_, _, _] if off.iter().all(|one| (one - off[0]).abs() < EXACT) => "all legs by the same angle".to_owned(),
        _ => panic!("{}: {off:?}", facts.code),
    }
}

fn is_card(facts: &Facts) -> bool {
    facts.word("wanted") == "what_is_wrong_with_card"
}

fn course_right(facts: &Facts, _: &Question) -> Worked {
    let set = set_by(facts, needle(facts));
    if is_card(facts) {
        return about(closes(facts, card(facts)), &fault(facts), Part::Round(set[1]));
    }
    worked(facts, set.map(Part::Round), None)
}

/// The angle that somebody uses who takes the wrong one, or the right one wrongly.
fn wrong_needle(id: &str, facts: &Facts) -> Option<Dir> {
    let given = |name| facts.maybe(name);
    Some(match id {
        "sign-flipped" => Dir::at(-needle(facts).degrees()),
        "not-applied" => Dir::NORTH,
        "declination-for-gma" => Dir::at(given("declination_deg")?),
        "sizes-added" => Dir::at(given("declination_deg")? + given("convergence_deg")?),
        "gma-for-declination" => Dir::at(given("declination_deg")? - given("convergence_deg")?),
        _ => return None,
    })
}

fn course_wrong(id: &str, facts: &Facts, _: &Question) -> Option<Vec<Worked>> {
    let set = set_by(facts, needle(facts));
    let bare = |leg: usize| {
        let name = format!("{}_leg_bearing_deg", LEGS[leg]);
        facts.number(&name) - needle(facts).degrees()
    };
    if is_card(facts) {
        let (all, closes) = ("all legs by the same angle", closes(facts, card(facts)));
        let numbers = card(facts);
        return Some(vec![match id {
            "closing-trusted" if closes => about(true, "nothing", Part::Round(numbers[1])),
            "check-left-out" if !closes => about(true, "nothing", Part::Round(numbers[1])),
            "north-by-closing" if closes => about(false, all, Part::Round(set[1])),
            "leg-for-north" if !closes => about(false, all, Part::Round(set[1])),
            "not-wrapped" => about(closes, &fault(facts), Part::Plain(bare(1))),
            _ => about(closes, all, Part::Round(set_by(facts, wrong_needle(id, facts)?)[1])),
        }]);
    }
    if let Some(needle) = wrong_needle(id, facts) {
        return Some(vec![worked(facts, set_by(facts, needle).map(Part::Round), None)]);
    }
    let right = || set.map(Part::Round);
    let turned = |leg: usize, to: f64| {
        let mut wrong = right();
        wrong[leg] = Part::Round(to);
        worked(facts, wrong, None)
    };
    Some(match id {
        "wrong-end" => (0..3).map(|leg| turned(leg, set[leg] + HALF)).collect(),
        "home-on-the-first-leg" => vec![turned(2, set[0] + HALF)],
        "not-wrapped" => vec![worked(facts, [0, 1, 2].map(|leg| Part::Plain(bare(leg))), None)],
        "home-leg-left-out" => vec![worked(facts, right(), Some(metres(facts, &LEGS[..2])))],
        "other-scale" => {
            let believed =
                if (facts.number("scale_denominator") - 25_000.0).abs() < EXACT { 50_000.0 } else { 25_000.0 };
            let length = metres(facts, &LEGS) * believed / facts.number("scale_denominator");
            vec![worked(facts, right(), Some(length))]
        }
        _ => return None,
    })
}

fn course_read(facts: &Facts, prompt: &str) -> Vec<Must> {
    let (lines, letter) =
        if facts.word("line") == "grid" { ("north-south grid lines", 'G') } else { ("true-north lines", 'T') };
    assert!(prompt.contains(&format!("The map has {lines}, ")), "{}: {prompt}", facts.code);
    let bearings = LEGS.map(|leg| Shown::Bearing(facts.number(&format!("{leg}_leg_bearing_deg")), letter));
    let [one, two, three] = bearings;
    let mut musts = vec![Must(one, "lie on"), Must(two, ""), Must(three, "and")];
    let angle = |name, cue| facts.maybe(name).map(|east| Must(Shown::East(east), cue));
    musts.extend(angle("grid_magnetic_deg", "g-m angle"));
    musts.extend(angle("declination_deg", "declination"));
    musts.extend(angle("convergence_deg", "convergence"));
    if facts.maybe("scale_denominator").is_some() {
        musts.push(Must(Shown::Scale(facts.number("scale_denominator")), "map of"));
        musts.extend(LEGS.map(|leg| Must(Shown::Number(facts.number(&format!("{leg}_leg_mm"))), "")));
    }
    if is_card(facts) {
        let [one, two, three] = card(facts).map(|number| Shown::Bearing(number, 'M'));
        musts.extend([Must(one, "set"), Must(two, "then"), Must(three, "then")]);
    }
    musts
}
