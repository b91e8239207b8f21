//! A reader must be able to solve a problem from its text: the quantities there are those of the facts, each near the words
//! that say what it is, and the question asks for what the facts say is wanted.

use super::facts::Facts;
use super::shown::{Must, Shown};

pub fn read_dial(facts: &Facts, _prompt: &str) -> Vec<Must> {
    vec![
        Must(Shown::Size(facts.number("number_every_deg")), "every"),
        Must(Shown::Number(facts.number("spaces_between_numbers")), ">spaces"),
    ]
}

/// Facts that may be missing.
fn some(facts: &Facts, name: &str, shown: fn(f64) -> Shown, cue: &'static str) -> Option<Must> {
    Some(Must(shown(facts.maybe(name)?), cue))
}

fn says(facts: &Facts, prompt: &str, words: &str) {
    assert!(prompt.contains(words), "{}: {words:?} is not told in: {prompt}", facts.code);
}

/// A point's name in words, letter by letter: `SEbE`, south-east by east.
fn in_words(name: &str) -> String {
    let mut words = String::new();
    for letter in name.chars() {
        let word = match letter {
            'N' => "north",
            'E' => "east",
            'S' => "south",
            'W' => "west",
            _ => " by ",
        };
        if !words.is_empty() && !words.ends_with(' ') && letter != 'b' {
            words.push('-');
        }
        words.push_str(word);
    }
    words
}

pub fn compass_points(facts: &Facts, prompt: &str) -> Vec<Must> {
    let mut must = Vec::new();
    match facts.word("wanted") {
        "degrees" => says(facts, prompt, "ow many degrees"),
        _ => must.push(Must(Shown::Number(facts.number("names_on_card")), "of the")),
    }
    if facts.all.contains_key("point") {
        let name = facts.word("point");
        says(facts, prompt, &format!("{} ({name})", in_words(name)));
    } else if facts.all.contains_key("wind_from_point") {
        says(facts, prompt, &format!("blows from {}.", facts.word("wind_from_point")));
        says(facts, prompt, "oward");
    } else if facts.all.contains_key("start_point") {
        let name = facts.word("start_point");
        let whole = |word: &str| word == name;
        assert!(prompt.split(|c: char| !c.is_alphanumeric()).any(whole), "{}: {name} in {prompt}", facts.code);
        must.push(Must(Shown::Points(facts.number("turn_points")), ""));
        must.push(Must(Shown::Number(1.0), "a point is"));
        must.push(Must(Shown::Number(facts.number("names_on_card")), "/"));
        must.push(Must(Shown::Size(facts.number("degrees_per_point")), "of the circle"));
    } else {
        must.push(Must(Shown::Size(facts.number("direction_deg")), "nearest to"));
    }
    must
}

pub fn turns(facts: &Facts, prompt: &str) -> Vec<Must> {
    let bearing = |number| Shown::Bearing(number, 'M');
    match facts.word("wanted") {
        "shorter_turn_to_end" => says(facts, prompt, "the short way"),
        _ => says(facts, prompt, "hich bearing do you"),
    }
    let chain = facts.all.contains_key("first_turn_deg");
    [
        some(facts, "start_magnetic_bearing_deg", bearing, if chain { "you walk on" } else { "you face" }),
        some(facts, "turn_deg", Shown::Turn, "and turn"),
        // Told in degrees or as part of a turn: "you turn", "you make".
        some(facts, "first_turn_deg", Shown::Turn, ". at the"),
        some(facts, "second_turn_deg", Shown::Turn, "you turn"),
        some(
            facts,
            "end_magnetic_bearing_deg",
            bearing,
            if chain { "you turn the short way to" } else { "want to face" },
        ),
    ]
    .into_iter()
    .flatten()
    .collect()
}

pub fn set_dial(facts: &Facts) -> Vec<Must> {
    if let Some(wanted) = facts.maybe("number_to_set_deg") {
        let start = facts.number("start_reading_deg");
        return vec![Must(Shown::Number(start), "the dial stands at"), Must(Shown::Number(wanted), "turn it until")];
    }
    [
        some(facts, "start_reading_deg", Shown::Number, "reads"),
        some(facts, "dial_turn_deg", Shown::Turn, "turn the dial"),
        some(facts, "first_dial_turn_deg", Shown::Turn, "turn the dial"),
        some(facts, "second_dial_turn_deg", Shown::Turn, "then"),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// The letter of a north by its word.
fn north_letter(facts: &Facts) -> char {
    match facts.word("north") {
        "true" => 'T',
        "grid" => 'G',
        "magnetic" => 'M',
        other => panic!("{}: {other} is no north", facts.code),
    }
}

pub fn back_bearing(facts: &Facts, prompt: &str) -> Vec<Must> {
    let letter = north_letter(facts);
    // One walks by the compass, and lays a line off on the map from a line of the map.
    if prompt.contains("walked") {
        assert_eq!(letter, 'M', "{}: {prompt}", facts.code);
    } else if prompt.contains("On the map you draw") {
        assert!("TG".contains(letter), "{}: {prompt}", facts.code);
    }
    let leg = |name: &str, cue| {
        let degrees = facts.maybe(&format!("{name}_deg")).map(|number| Shown::Bearing(number, letter));
        degrees
            .or(facts.maybe(&format!("{name}_mil")).map(|mils| Shown::Mils(mils, letter)))
            .map(|shown| Must(shown, cue))
    };
    if facts.maybe("bearing_deg").or(facts.maybe("bearing_mil")).is_some() {
        let reversed = ["What is the back bearing of", "leads you back?", "to you. At which bearing?"];
        assert!(reversed.iter().any(|words| prompt.contains(words)), "{}: {prompt}", facts.code);
        return leg("bearing", "").into_iter().collect();
    }
    // Which leg is asked for is told by the names of the places alone.
    let place = |after: &str| {
        let rest = prompt.split_once(after).unwrap_or_else(|| panic!("{}: no {after:?} in {prompt}", facts.code)).1;
        rest.split([',', '.', '?']).next().unwrap().to_owned()
    };
    let way = place("walked from the ");
    let (first, rest) = way.split_once(" to the ").expect("a first leg");
    let second = rest.split(" on ").next().expect("the end of the first leg");
    let third = place(" and on to the ");
    let third = third.split(" on ").next().expect("the end of the second leg");
    let asked = place("leads from the ");
    let wanted = match facts.word("wanted") {
        "back_bearing_of_first_leg" => format!("{second} to the {first}"),
        _ => format!("{third} to the {second}"),
    };
    assert_eq!(asked, wanted, "{}: {prompt}", facts.code);
    [leg("first_leg_bearing", "walked from"), leg("second_leg_bearing", "and on to")].into_iter().flatten().collect()
}

/// What a conversion asks for: told in the last sentence or, where that names nothing, in the one before it.
fn asked_north(prompt: &str) -> Option<&'static str> {
    let sentences: Vec<&str> = prompt.split_inclusive(['.', '?']).filter(|sentence| sentence.len() > 2).collect();
    sentences.iter().rev().take(2).find_map(|sentence| {
        let tells = [
            ("compass say?", "magnetic"),
            ("set on the dial?", "magnetic"),
            ("from true north?", "true"),
            ("from a true-north line.", "true"),
            ("from grid north?", "grid"),
            ("from a grid line.", "grid"),
        ];
        tells.into_iter().find(|(words, _)| sentence.contains(words)).map(|(_, north)| north)
    })
}

pub fn convert(facts: &Facts, prompt: &str) -> Vec<Must> {
    assert_eq!(asked_north(prompt), Some(facts.word("wanted_north")), "{}: {prompt}", facts.code);
    [
        some(facts, "declination_deg", Shown::East, "declination"),
        some(facts, "convergence_deg", Shown::East, "convergence"),
        some(facts, "grid_magnetic_deg", Shown::East, "g-m angle"),
        some(facts, "magnetic_bearing_deg", |number| Shown::Bearing(number, 'M'), "compass"),
        some(facts, "true_bearing_deg", |number| Shown::Bearing(number, 'T'), "true-north line"),
        some(facts, "grid_bearing_deg", |number| Shown::Bearing(number, 'G'), "grid line"),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn dated(facts: &Facts) -> Vec<Must> {
    let (year, declination) = if facts.maybe("sheet_year").is_some() {
        ("gives the declination of", "as")
    } else {
        ("made in", "gives the declination as")
    };
    [
        some(facts, "sheet_year", Shown::Number, "made in"),
        some(facts, "printed_year", Shown::Number, year),
        some(facts, "printed_declination_deg", Shown::East, declination),
        some(facts, "annual_change_arcmin", Shown::Change, "it changes by"),
        some(facts, "this_year", Shown::Number, NOW),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// How a problem's year is told: it is an example's, not the calendar's.
const NOW: &str = "suppose it is";

pub fn dated_map(facts: &Facts, prompt: &str) -> Vec<Must> {
    let mut must = dated(facts);
    if facts.word("wanted") == "choice" {
        for (name, cue) in [("option_a_deg", " a: "), ("option_b_deg", " b: "), ("option_c_deg", " c: ")] {
            must.extend(some(facts, name, Shown::East, cue));
        }
        let to_be_had = facts.word("current_value") == "to be had";
        says(facts, prompt, if to_be_had { "a current value is to be had" } else { "No current value is to be had" });
        let last = prompt.split_once(" D: ").expect("an option D").1;
        assert!(last.contains(facts.word("option_d")), "{}: {last}", facts.code);
    } else {
        says(facts, prompt, "What is the declination now, in degrees and minutes, east or west?");
    }
    must
}

pub fn magnetic_line(facts: &Facts, prompt: &str) -> Vec<Must> {
    says(facts, prompt, "magnetic-north line");
    let arrow = if facts.word("wanted") == "dial" { facts.word("travel_arrow_toward") } else { "top" };
    says(facts, prompt, &format!("travel arrow toward the {arrow} of the map"));
    match facts.word("wanted") {
        "map_off" => {
            says(facts, prompt, "How many degrees is the map turned from where it should lie, and which way?");
            [
                some(facts, "printed_year", Shown::Number, "made in"),
                some(facts, "printed_declination_deg", Shown::East, "drawn for a declination of"),
                some(facts, "prong_drawn_deg", Shown::Turn, "diagram"),
                some(facts, "this_year", Shown::Number, NOW),
                some(facts, "declination_deg", Shown::East, "declination"),
                some(facts, "dial_deg", Shown::Number, "the dial still stands at"),
                // A line of today is oriented by with a dial that was left as it was.
                facts.maybe("printed_year").map(|_| Must(Shown::Number(0.0), "by the drawn line, with")),
            ]
            .into_iter()
            .flatten()
            .collect()
        }
        wanted => {
            says(facts, prompt, "drawn for today's declination");
            let asked = if wanted == "dial" { "Which number must stand on the dial?" } else { "Along which of them" };
            says(facts, prompt, asked);
            [
                some(facts, "declination_deg", Shown::East, "declination"),
                some(facts, "dial_deg", Shown::Number, "dial stands at"),
            ]
            .into_iter()
            .flatten()
            .collect()
        }
    }
}

pub fn line(facts: &Facts, prompt: &str) -> Vec<Must> {
    let line = match facts.word("line") {
        "true" => "along a true-north line",
        "grid" => "along a north-south grid line",
        other => panic!("{}: {other}", facts.code),
    };
    says(facts, prompt, line);
    says(facts, prompt, &format!("travel arrow toward the {} of the map", facts.word("travel_arrow_toward")));
    says(facts, prompt, "Which number must stand on the dial?");
    if facts.maybe("annual_change_arcmin").is_some() {
        return dated(facts);
    }
    [
        some(facts, "printed_year", Shown::Number, "in "),
        some(facts, "printed_grid_magnetic_deg", Shown::East, "g-m angle was printed as"),
        some(facts, "this_year", Shown::Number, NOW),
        some(facts, "declination_deg", Shown::East, "declination"),
        some(facts, "convergence_deg", Shown::East, "convergence"),
        some(facts, "grid_magnetic_deg", Shown::East, "g-m angle"),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// A declination diagram is read off the figure; the text says what is asked and, at level 4, what a protractor shows.
pub fn diagram(facts: &Facts, prompt: &str) -> Vec<Must> {
    says(facts, prompt, "Read the diagram on ");
    let (asked, ends) = match facts.word("wanted") {
        "declination" => ("What is the declination, east or west?", "between the star and MN."),
        "convergence" => ("What is the grid convergence, east or west?", "between the star and GN."),
        _ => ("What is the G-M angle, east or west?", "between GN and MN."),
    };
    says(facts, prompt, asked);
    if !facts.code.starts_with("B1-4-") {
        return Vec::new();
    }
    says(facts, prompt, ends);
    vec![Must(Shown::Size(facts.number("drawn_angle_deg")), "a protractor laid on the drawing shows")]
}
