//! Orienting the map, from the geometry of the map table alone.
//!
//! True north is 0. The map's true north stands at μ, a line drawn on it at μ + its own angle on the map, the baseplate
//! along that line at β, the orienting arrow at β less the reading R, the needle at the declination D. Boxed means
//! that the arrow lies under the needle; oriented means that μ is 0.
#![expect(clippy::cast_precision_loss, reason = "what a test counts and draws is small")]

use super::facts::{Dir, Facts, Part, Worked, one};
use super::norths::{Dated, Norths, on_dial};
use super::{Solver, prompts, single};
use needlewise::problem::Question;

/// Where the needle points and where the line lies on the map, both against the same north of the map.
fn needle_and_line(facts: &Facts) -> (Dir, Dir) {
    if facts.maybe("annual_change_arcmin").is_some() {
        return (Dir::at(Dated::of(facts).now() as f64 / 60.0), Dir::NORTH);
    }
    let norths = Norths::of(facts);
    match facts.word("line") {
        "true" => (norths.magnetic, norths.truth),
        "grid" => (Dir::at(norths.needle_from("grid")), Dir::NORTH),
        "magnetic" => (norths.magnetic, Dir::at(line_drawn_for(facts))),
        other => panic!("{}: a line of {other}", facts.code),
    }
}

/// The declination that a magnetic-north line was drawn for: today's, when no other is told.
fn line_drawn_for(facts: &Facts) -> f64 {
    facts.maybe("printed_declination_deg").unwrap_or_else(|| facts.number("declination_deg"))
}

/// Where declination changes fast it changes by about 15′ a year (from memory); a map that asks for more is not believed.
pub fn believable_change(facts: &Facts) {
    let (Some(printed), Some(now)) = (facts.maybe("printed_year"), facts.maybe("this_year")) else { return };
    let years = now - printed;
    let convergence = facts.maybe("convergence_deg").unwrap_or(0.0);
    let today = facts.maybe("declination_deg");
    let change = match (facts.maybe("printed_declination_deg"), facts.maybe("printed_grid_magnetic_deg"), today) {
        (_, Some(printed), Some(today)) => today - convergence - printed,
        (Some(printed), None, Some(today)) => today - printed,
        _ => facts.number("annual_change_arcmin") / 60.0 * years,
    };
    assert!((change * 60.0 / years).abs() <= 16.0 + 1e-9, "{}: {change} degrees in {years} years", facts.code);
}

fn dial(reading: f64) -> Worked {
    one("dial", Part::Round(reading))
}

/// How far the travel arrow points from the line's north: it may point down the map.
fn arrow(facts: &Facts) -> f64 {
    match facts.word("travel_arrow_toward") {
        "top" => 0.0,
        "bottom" => 180.0,
        other => panic!("{}: an arrow toward the {other}", facts.code),
    }
}

fn off(signed: f64) -> Worked {
    let way = if signed < 0.0 { "counterclockwise" } else { "clockwise" };
    vec![("turn", Part::Plain(signed.abs())), ("way", Part::word(way))]
}

pub fn orient(facts: &Facts, question: &Question) -> Worked {
    match facts.word("wanted") {
        "dial" => {
            let (needle, line) = needle_and_line(facts);
            // μ = 0, so the baseplate lies as the line does, its arrow up or down the map, and R is what lies between needle and
            // arrow.
            dial(line.turned(arrow(facts)).from(needle))
        }
        "map_off" => {
            // With R on the dial the baseplate lies R clockwise of the needle; the map hangs behind it by the line's own angle.
            let (needle, line) = needle_and_line(facts);
            off(line.turn_to(needle.turned(facts.maybe("dial_deg").unwrap_or(0.0))))
        }
        "line" => one("line", Part::word(line_for_zero(facts, question))),
        other => panic!("{}: wanted {other}", facts.code),
    }
}

/// With 000 on the dial the map comes right only by a line that points where the needle points; and the prongs of a
/// diagram are not drawn to scale.
fn line_for_zero<'a>(facts: &Facts, question: &'a Question) -> &'a str {
    let needle = facts.number("declination_deg");
    assert_eq!(facts.number("dial_deg"), 0.0, "{}", facts.code);
    assert!(needle.abs() >= 5.0, "{}: a true-north line would nearly do as well", facts.code);
    let words: Vec<&str> = question.fields()[0].choices().expect("a choice of lines").iter().collect();
    let mut right = words.iter().copied().filter(|word| word.starts_with("magnetic"));
    let line = right.next().unwrap_or_else(|| panic!("{}: no line is right", facts.code));
    assert!(right.next().is_none() && words.contains(&"prong of the diagram"), "{}: {words:?}", facts.code);
    let other = match facts.word("other_line") {
        "true" => "true-north line",
        "grid" => "grid line",
        other => panic!("{}: {other}", facts.code),
    };
    assert!(words.len() == 3 && words.contains(&other), "{}: {words:?}", facts.code);
    line
}

pub fn magnetic_line_wrong(id: &str, facts: &Facts, question: &Question) -> Option<Vec<Worked>> {
    let today = facts.number("declination_deg");
    let worked = match facts.word("wanted") {
        "dial" => match id {
            "dial-set-to-declination" => vec![dial(arrow(facts) - today)],
            "declination-as-reading" => vec![dial(arrow(facts) + today)],
            "wrong-end" => vec![dial(arrow(facts) + 180.0)],
            _ => return None,
        },
        "line" => match id {
            "diagram-prong" => vec![one("line", Part::word("prong of the diagram"))],
            "wrong-line" => {
                let mut words = question.fields()[0].choices()?.iter();
                let other = words.find(|word| word.ends_with("line") && !word.starts_with("magnetic"))?;
                vec![one("line", Part::word(other))]
            }
            _ => return None,
        },
        _ => {
            let left = facts.maybe("dial_deg");
            let printed = line_drawn_for(facts);
            match id {
                "off-the-other-way" if left.is_some() => vec![off(-Dir::NORTH.turn_to(Dir::at(left?)))],
                "off-the-other-way" => vec![off(printed - today)],
                "whole-declination" => vec![off(today)],
                "sizes-added" => vec![off(today + printed)],
                "diagram-prong" => vec![off(today - facts.maybe("prong_drawn_deg")?)],
                _ => return None,
            }
        }
    };
    Some(worked)
}

/// By a true-north line or a grid line: the wrong angle on the dial.
/// Orienting by true-north lines and by grid lines.
pub const LINE: Solver =
    Solver { right: orient, wrong: |id, facts, _| single(line_wrong(id, facts)), read: prompts::line };

fn line_wrong(id: &str, facts: &Facts) -> Option<Worked> {
    let declination = facts.maybe("declination_deg");
    let convergence = facts.maybe("convergence_deg");
    let dated = facts.maybe("annual_change_arcmin").map(|_| Dated::of(facts));
    let grid = facts.word("line") == "grid";
    let angle = match (&dated, declination, grid) {
        (Some(dated), _, _) => dated.now() as f64 / 60.0,
        (None, Some(declination), true) => on_dial(declination - convergence?),
        (None, Some(declination), false) => declination,
        (None, None, _) => facts.number("grid_magnetic_deg"),
    };
    let arrow = arrow(facts);
    Some(match id {
        "sign-flipped" => dial(arrow + angle),
        "not-applied" => dial(arrow),
        "wrong-end" => dial(arrow + 180.0 - angle),
        // Toward the bottom nothing leaves the dial.
        "not-wrapped" if arrow == 0.0 => one("dial", Part::Plain(-angle)),
        "declination-for-gma" if grid => dial(arrow - on_dial(declination?)),
        "sizes-added" if grid => dial(arrow - on_dial(declination? + convergence?)),
        "not-updated" if grid => dial(arrow - facts.maybe("printed_grid_magnetic_deg")?),
        "not-updated" => dial(arrow - dated?.printed as f64 / 60.0),
        "change-reversed" => dial(arrow - dated?.reversed() as f64 / 60.0),
        _ => return None,
    })
}
