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
        ("offset", "sixty-left-out") => one("offset", Part::Plain(facts.number("distance_m") * off(facts))),
        ("degrees_off", "sixty-left-out") => {
            one("degrees", Part::Plain((facts.number("offset_m") / facts.number("distance_m") * 100.0).round() / 100.0))
        }
        ("offset", "per-hundred") => one("offset", Part::Plain(facts.number("distance_m") * off(facts) / 100.0)),
        ("degrees_off", "rule-upside-down") => {
            one("degrees", Part::Plain(facts.number("distance_m") / facts.number("offset_m")))
        }
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

pub const BOX_DETOUR: Solver = Solver { right: detour_right, wrong: detour_wrong, read: detour_read };
pub const AIM_OFF: Solver = Solver { right: aim_right, wrong: aim_wrong, read: aim_read };

/// A place by metres east and north of the start.
#[derive(Clone, Copy)]
struct Spot(f64, f64);

impl Spot {
    fn step(self, toward: Dir, metres: f64) -> Spot {
        Spot(self.0 + toward.east * metres, self.1 + toward.north * metres)
    }

    /// How far along a line from the start, and how far to its right.
    fn beside(self, line: Dir) -> (f64, f64) {
        (self.0 * line.east + self.1 * line.north, self.0 * line.north - self.1 * line.east)
    }
}

/// Clockwise positive: a quarter circle to the side that a word names.
fn quarter(side: &str) -> f64 {
    match side {
        "left" => -90.0,
        "right" => 90.0,
        other => panic!("{other} is no side"),
    }
}

/// The bearings of the legs as somebody turns at the three corners.
fn legs(facts: &Facts, turns: [f64; 3]) -> [Dir; 3] {
    let first = Dir::at(facts.number("meant_magnetic_bearing_deg")).turned(turns[0]);
    let second = first.turned(turns[1]);
    [first, second, second.turned(turns[2])]
}

/// Where somebody stands after the detour: along the line, and right of it.
fn after(facts: &Facts, legs: [Dir; 3]) -> (f64, f64) {
    let line = Dir::at(facts.number("meant_magnetic_bearing_deg"));
    let start = Spot(0.0, 0.0).step(line, facts.number("before_m"));
    let far = ["aside_m", "parallel_m", "returned_m"].map(|name| facts.number(name));
    legs.into_iter().zip(far).fold(start, |at, (leg, far)| at.step(leg, far)).beside(line)
}

/// The answer in the fields that are asked: bearings, what is left, or the place beside the line.
fn detour(facts: &Facts, legs: [f64; 3], left: f64, beside: (f64, f64)) -> Worked {
    let [out, along, back] = legs.map(Part::Round);
    let bearings = vec![("out", out), ("along", along), ("back", back)];
    let left = ("left", Part::Plain(left));
    match facts.word("wanted") {
        "detour_bearings" => bearings,
        "distance_left" => vec![left],
        "detour_bearings_and_distance_left" => [bearings, vec![left]].concat(),
        "place_beside_line" => {
            let side = if beside.0 < 0.0 { "left of the line" } else { "right of the line" };
            vec![("side", Part::word(side)), ("beside", Part::Plain(beside.1)), left]
        }
        other => panic!("{}: {other}", facts.code),
    }
}

fn detour_right(facts: &Facts, _: &Question) -> Worked {
    let turn = quarter(facts.word("goes_out"));
    let walked = legs(facts, [turn, -turn, -turn]);
    let (along, aside) = if facts.maybe("leg_m").is_some() { after(facts, walked) } else { (0.0, 0.0) };
    let left = facts.maybe("leg_m").unwrap_or(0.0) - along;
    detour(facts, walked.map(Dir::degrees), left, (aside, aside.abs()))
}

fn detour_wrong(id: &str, facts: &Facts, question: &Question) -> Option<Vec<Worked>> {
    let turn = quarter(facts.word("goes_out"));
    let right = legs(facts, [turn, -turn, -turn]);
    let metres = facts.maybe("leg_m").map(|leg| {
        let (along, aside) = after(facts, right);
        (leg - along, (aside, aside.abs()))
    });
    let (left, beside) = metres.unwrap_or((0.0, (0.0, 0.0)));
    let m = |name: &str| facts.number(name);
    let turned = |turns| detour(facts, legs(facts, turns).map(Dir::degrees), left, beside);
    let counted = |left: f64| detour(facts, right.map(Dir::degrees), left, beside);
    Some(vec![match id {
        "one-way-round" => turned([turn, turn, turn]),
        "other-side-first" => turned([-turn, turn, turn]),
        "never-back" => turned([turn, -turn, turn]),
        "not-wrapped" => {
            let meant = m("meant_magnetic_bearing_deg");
            let bare = [meant + turn, meant, meant - turn];
            assert!(bare.iter().any(|leg| !(0.0..360.0).contains(leg)), "{}: {bare:?}", facts.code);
            let worked = detour_right(facts, question);
            let parts = worked.into_iter().zip(bare.map(Some).into_iter().chain([None]));
            parts.map(|((name, part), bare)| (name, bare.map_or(part, Part::Plain))).collect()
        }
        "side-legs-counted" => counted(left - m("aside_m") - m("returned_m")),
        "parallel-left-out" => counted(left + m("parallel_m")),
        "before-left-out" => counted(left + m("before_m")),
        "sides-swapped" => detour(facts, right.map(Dir::degrees), left, (-beside.0, beside.1)),
        "asides-added" => detour(facts, right.map(Dir::degrees), left, (beside.0, m("aside_m") + m("returned_m"))),
        _ => return None,
    }])
}

fn detour_read(facts: &Facts, prompt: &str) -> Vec<Must> {
    assert!(prompt.contains(&format!("out to the {}", facts.word("goes_out"))), "{}: {prompt}", facts.code);
    if facts.all.contains_key("obstacle") {
        assert!(prompt.contains(facts.word("obstacle")), "{}: {prompt}", facts.code);
    }
    let number = |name, cue| facts.maybe(name).map(|number| Must(Shown::Number(number), cue));
    let musts = [
        Some(Must(Shown::Bearing(facts.number("meant_magnetic_bearing_deg"), 'M'), "on")),
        number("leg_m", ","),
        number("before_m", "after"),
        number("aside_m", "right angles"),
        number("parallel_m", "line"),
        number("returned_m", "along on your bearing"),
    ];
    musts.into_iter().flatten().collect()
}

/// The side that one aims to.
fn aimed(facts: &Facts) -> &str {
    facts.all.get("aims_to").or(facts.all.get("walks_well")).and_then(serde_json::Value::as_str).expect("a side")
}

/// A way so many degrees to the side that is aimed to, where one then finds the goal, and how far at most.
fn aim(facts: &Facts, degrees: f64, then: &str, farthest: f64) -> Worked {
    let way = Dir::at(facts.number("straight_magnetic_bearing_deg")).turned(degrees * quarter(aimed(facts)).signum());
    let mut worked = vec![("aim", Part::Round(way.degrees())), ("then", Part::word(then))];
    if facts.word("wanted") == "aim_and_farthest" {
        worked.push(("farthest", Part::Plain(farthest)));
    }
    worked
}

/// How far aside so many degrees lead, a sixtieth of the way each; whole metres.
fn aside(facts: &Facts, degrees: f64) -> f64 {
    (degrees * facts.number("distance_m") / 60.0).floor()
}

fn offset(facts: &Facts) -> f64 {
    facts.maybe("offset_deg").unwrap_or_else(|| facts.number("error_deg") + facts.number("more_than_error_deg"))
}

fn other(side: &str) -> &'static str {
    if quarter(side) < 0.0 { "right" } else { "left" }
}

fn aim_right(facts: &Facts, _: &Question) -> Worked {
    let error = facts.maybe("error_deg").unwrap_or(0.0);
    aim(facts, offset(facts), other(aimed(facts)), aside(facts, offset(facts) + error))
}

fn aim_wrong(id: &str, facts: &Facts, _: &Question) -> Option<Vec<Worked>> {
    let (offset, error) = (offset(facts), facts.maybe("error_deg").unwrap_or(0.0));
    let (side, then) = (aimed(facts), other(aimed(facts)));
    let most = aside(facts, offset + error);
    Some(match id {
        "no-offset" => ["left", "right"].map(|then| aim(facts, 0.0, then, aside(facts, error))).to_vec(),
        "offset-too-small" => {
            let margin = offset - error;
            let alone = if error - margin > 2.0 { vec![error, margin] } else { vec![error] };
            alone.into_iter().map(|small| aim(facts, small, then, aside(facts, small + error))).collect()
        }
        "other-side-aimed" => vec![aim(facts, -offset, side, most), aim(facts, -offset, then, most)],
        "wrong-turn-at-the-line" => vec![aim(facts, offset, side, most)],
        "own-error-left-out" => vec![aim(facts, offset, then, aside(facts, offset))],
        "not-wrapped" => {
            let bare = facts.number("straight_magnetic_bearing_deg") + offset * quarter(side).signum();
            assert!(!(0.0..360.0).contains(&bare), "{}: {bare}", facts.code);
            let mut worked = aim(facts, offset, then, most);
            worked[0].1 = Part::Plain(bare);
            vec![worked]
        }
        _ => return None,
    })
}

fn aim_read(facts: &Facts, prompt: &str) -> Vec<Must> {
    let said = |words: &str| assert!(prompt.contains(words), "{}: no {words:?} in {prompt}", facts.code);
    match facts.all.get("aims_to") {
        Some(_) => said(&format!("aim off to the {}", aimed(facts))),
        None => {
            // Where one walks well is told first or last.
            let good = ["a path follows", "sheep keep the grass short", "the road is quiet", "the shore is flat"];
            let told = good.iter().any(|good| {
                let first = format!(". {} of ", if aimed(facts) == "left" { "Left" } else { "Right" });
                let behind = prompt
                    .split_once(&first)
                    .is_some_and(|(_, rest)| rest.split_once(", ").is_some_and(|(said, _)| said.contains(good)));
                behind || prompt.contains(&format!(", {} of it {good}", aimed(facts)))
            });
            assert!(told, "{}: {prompt}", facts.code);
        }
    }
    let size = |name, cue| facts.maybe(name).map(|size| Must(Shown::Size(size), cue));
    let musts = [
        Some(Must(Shown::Number(facts.number("distance_m")), "lies")),
        Some(Must(Shown::Bearing(facts.number("straight_magnetic_bearing_deg"), 'M'), "away on")),
        size("offset_deg", "aim off to the"),
        size("error_deg", "off by"),
        size("more_than_error_deg", "aim off"),
    ];
    musts.into_iter().flatten().collect()
}
