//! Getting there: what a bearing a few degrees off does, degree by degree. One degree leads off by one in sixty (common
//! practice, no source).
#![expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "what a test counts and draws is small")]

use super::Solver;
use super::facts::{Dir, Facts, Part, Worked, one};
use super::shown::{Must, Shown};
use needlewise::problem::Question;

pub const ONE_IN_SIXTY: Solver = Solver { right, wrong, read };

/// How many degrees were walked off, by the two bearings.
fn off(facts: &Facts) -> f64 {
    let bearing = |name| Dir::at(facts.number(name));
    bearing("start_magnetic_bearing_deg").turn_to(bearing("end_magnetic_bearing_deg")).abs().round()
}

/// Counts degrees until they lead as far off as this, each by a sixtieth of the way.
fn degrees(offset: f64, way: f64) -> f64 {
    let sixtieth = way / 60.0;
    let whole = (offset / sixtieth + 1e-9).floor();
    whole + (offset - whole * sixtieth) / sixtieth
}

/// Who came out on one side turns to the other.
fn back(facts: &Facts) -> &'static str {
    match facts.word("came_out") {
        "left" => "clockwise",
        "right" => "counterclockwise",
        other => panic!("{}: {other} is no side", facts.code),
    }
}

fn turn(way: &'static str, size: f64) -> Worked {
    vec![("way", Part::word(way)), ("turn", Part::Plain(size))]
}

fn right(facts: &Facts, _: &Question) -> Worked {
    match facts.word("wanted") {
        "offset" => {
            let sixtieth = facts.number("distance_m") / 60.0;
            one("offset", Part::Plain((0..off(facts) as u32).map(|_| sixtieth).sum()))
        }
        "degrees_off" => one("degrees", Part::Plain(degrees(facts.number("offset_m"), facts.number("distance_m")))),
        "closing_turn" => {
            let offset = facts.number("offset_m");
            turn(back(facts), degrees(offset, facts.number("walked_m")) + degrees(offset, facts.number("left_m")))
        }
        other => panic!("{}: {other}", facts.code),
    }
}

fn wrong(id: &str, facts: &Facts, _: &Question) -> Option<Vec<Worked>> {
    let worked = match (facts.word("wanted"), id) {
        ("offset", "rule-upside-down") => one("offset", Part::Plain(60.0 * facts.number("distance_m") / off(facts))),
        ("offset", "one-degree-only") => one("offset", Part::Plain(facts.number("distance_m") / 60.0)),
        ("offset", "per-hundred") => one("offset", Part::Plain(facts.number("distance_m") * off(facts) / 100.0)),
        ("degrees_off", "one-degree-only") => one("degrees", Part::Plain(facts.number("distance_m") / 60.0)),
        ("degrees_off", "per-hundred") => {
            one("degrees", Part::Plain(100.0 * facts.number("offset_m") / facts.number("distance_m")))
        }
        ("closing_turn", id) => {
            let (offset, walked, left) = (facts.number("offset_m"), facts.number("walked_m"), facts.number("left_m"));
            let away = if back(facts) == "clockwise" { "counterclockwise" } else { "clockwise" };
            match id {
                "only-parallel" => turn(back(facts), degrees(offset, walked)),
                "only-closing" => turn(back(facts), degrees(offset, left)),
                "over-the-whole-way" => turn(back(facts), degrees(offset, walked + left)),
                "away-from-line" => turn(away, degrees(offset, walked) + degrees(offset, left)),
                _ => return None,
            }
        }
        _ => return None,
    };
    Some(vec![worked])
}

fn read(facts: &Facts, prompt: &str) -> Vec<Must> {
    let number = |name, cue| facts.maybe(name).map(|number| Must(Shown::Number(number), cue));
    let bearing = |name, cue| facts.maybe(name).map(|number| Must(Shown::Bearing(number, 'M'), cue));
    if facts.all.contains_key("came_out") {
        assert!(prompt.contains(&format!("to the {}", facts.word("came_out"))), "{}: {prompt}", facts.code);
    }
    let musts = [
        bearing("start_magnetic_bearing_deg", "on"),
        bearing("end_magnetic_bearing_deg", "you walk on"),
        facts.maybe("off_deg").map(|degrees| Must(Shown::Size(degrees), ">to the")),
        number("distance_m", "walk"),
        number("walked_m", "after"),
        number("offset_m", ">to the"),
        number("left_m", "still"),
    ];
    musts.into_iter().flatten().collect()
}
