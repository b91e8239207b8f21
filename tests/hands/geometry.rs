//! The geometry of table, map and needle, from the facts of a problem alone; degrees, true north is 0, clockwise.

use super::border::Facts;

/// Where the needle points, from true north.
pub fn needle(facts: &Facts) -> f64 {
    facts.number("declination_deg") + facts.number("iron_turns_needle_deg")
}

/// What a number becomes when an angle that the map or the day gives is added to it or taken off: today's declination, the
/// printed one, or the angle from grid to magnetic north.
pub fn corrected(facts: &Facts, number: f64) -> Vec<f64> {
    let today = facts.number("declination_deg");
    let angles = [today, facts.number("printed_declination_deg"), today - facts.number("convergence_deg")];
    angles.iter().flat_map(|angle| [number + angle, number - angle]).collect()
}

/// Where a line stands on the map, from its true north, as printed.
pub fn drawn(facts: &Facts, line: &str) -> f64 {
    match line {
        "true" => 0.0,
        "grid" => facts.number("convergence_deg"),
        "magnetic" => facts.number("printed_declination_deg"),
        other => panic!("a line of {other}"),
    }
}

/// Where the line should stand on the ground today, from true north.
pub fn on_ground(facts: &Facts, line: &str) -> f64 {
    if line == "magnetic" { facts.number("declination_deg") } else { drawn(facts, line) }
}

pub fn round(degrees: f64) -> f64 {
    let turned = degrees - 360.0 * (degrees / 360.0).floor();
    if turned >= 360.0 - 1e-9 { 0.0 } else { turned }
}

pub fn near(one: f64, other: f64, within: f64) -> bool {
    let off = round(one - other);
    off <= within || 360.0 - off <= within
}

/// The map lies where the needle, the dial and the line put it.
pub fn lies(facts: &Facts, dial: f64, line: f64) -> f64 {
    round(needle(facts) + dial - line)
}

/// Whether a needle can be trusted beside a thing so many m away: a car turns it to 18 m, a power line to 55 m (FM 3-25.26), a fence
/// and a gate of iron a few steps; stone, wood and hay never.
pub fn can_be_trusted(facts: &Facts) -> bool {
    let reach = match facts.word("beside") {
        "wire_fence" | "iron_gate" => 5.0,
        "parked_car" => 18.0,
        "power_line" => 55.0,
        "stone_wall" | "wooden_fence" | "birch" | "heap_of_hay" => 0.0,
        other => panic!("is {other} of iron?"),
    };
    facts.word("needle_ten_steps_on") != "another_way" && facts.number("beside_m") > reach
}
