//! An independent second solver: it gets the answer of a problem from its facts alone and must agree with the program.
//!
//! It was written from the trade's rules (declination east +, M = T − D, G = T − g; the geometry of map, baseplate, dial and
//! needle) and from printed problems, without a look at the skills' code, and it computes differently: directions are
//! vectors and turns are complex products, orienting is solved from where line and needle stand, compass points are built
//! from their names, a declination is carried on year by year. Where nothing else is said a rule is common practice,
//! no source.
//!
//! Beside the answer it recomputes every listed mix-up, reads the facts back out of the text and the figure, and types
//! its own answer into `judge`.
#![expect(clippy::cast_precision_loss, reason = "what a test counts and draws is small")]

mod border;
#[path = "solver/course.rs"]
mod course;
#[path = "solver/dial.rs"]
mod dial;
#[path = "solver/drawn.rs"]
mod drawn;
#[path = "solver/facts.rs"]
mod facts;
#[path = "solver/ground.rs"]
mod ground;
#[path = "solver/heights.rs"]
mod heights;
#[path = "solver/home.rs"]
mod home_ground;
#[path = "solver/measure.rs"]
mod measure;
#[path = "solver/norths.rs"]
mod norths;
#[path = "solver/orienting.rs"]
mod orienting;
#[path = "solver/position.rs"]
mod position;
#[path = "solver/prompts.rs"]
mod prompts;
#[path = "solver/shown.rs"]
mod shown;
#[path = "solver/sums.rs"]
mod sums;
#[path = "home_ground/mod.rs"]
mod there;
#[path = "solver/travel.rs"]
mod travel;
#[path = "solver/walk.rs"]
mod walk;

use facts::{Facts, Part, Worked, agree};
use needlewise::angle::{Angle, Convergence, Declination};
use needlewise::problem::{
    Answer, Code, FactValue, FieldKind, HomeAngles, Level, MixupId, Problem, Question, Skill, Value, Verdict, judge,
    realise,
};
use needlewise::skills::SKILLS;
use serde_json::Value as Json;
use shown::Must;
use std::collections::{BTreeMap, HashMap};
use std::hash::{DefaultHasher, Hash, Hasher};

/// Problems per skill and level elsewhere, and as many again on home ground.
const PROBLEMS: u64 = 10_000;
/// Problems per skill and level that go through JSON and `judge`, which are slower.
const TYPED: u64 = 500;

/// Numbers that are counts, or so many of one unit to another, and carry no unit behind the name.
const COUNTS: [&str; 11] = [
    "east_line",
    "north_line",
    "first_east_line",
    "first_north_line",
    "figures",
    "names_on_card",
    "spaces_between_numbers",
    "ticks_above_number",
    "degrees_per_point",
    "scale_denominator",
    "contour_lines",
];
const UNITS: [&str; 11] =
    ["_deg", "_arcmin", "_mil", "_year", "_points", "_m", "_min", "_mm", "_percent", "_paces", "_km_per_h"];

/// Skills that are worked at the map table only.
const BY_HAND_ALONE: [&str; 6] =
    ["baseplate-bearing", "orient-landmarks", "oriented-bearing", "take-bearing", "follow-bearing", "back-sight"];

/// Mix-ups that only work at the map table can show; they are recomputed in tests/hands.rs.
fn by_hand_alone(skill: &str, mixup: &str) -> bool {
    let hands = ["south-end-boxed", "arrow-back", "dial-upside-down", "dial-for-map", "compass-off-line"];
    let by_true_or_grid_lines = ["applied-twice", "wrong-line", "diagram-prong"];
    skill.starts_with("orient-") && hands.contains(&mixup)
        || ["orient-true-line", "orient-grid"].contains(&skill) && by_true_or_grid_lines.contains(&mixup)
}

/// The second solver of one skill.
struct Solver {
    /// The answer from the facts.
    right: fn(&Facts, &Question) -> Worked,
    /// The answers that a mix-up may give; several where it leaves a choice (which tick was believed); none for a mix-up
    /// without a formula here.
    wrong: fn(&str, &Facts, &Question) -> Option<Vec<Worked>>,
    /// What a reader must find in the text.
    read: fn(&Facts, &str) -> Vec<Must>,
}

fn right(skill: &str, facts: &Facts, question: &Question) -> Worked {
    (solver(skill).right)(facts, question)
}

fn wrong(skill: &str, mixup: MixupId, facts: &Facts, question: &Question) -> Vec<Worked> {
    let id = mixup.as_str();
    (solver(skill).wrong)(id, facts, question).unwrap_or_else(|| panic!("{}: no formula for {id}", facts.code))
}

fn single(worked: Option<Worked>) -> Option<Vec<Worked>> {
    worked.map(|worked| vec![worked])
}

/// Home grounds from 1° to 31°, east and west, with the convergences that maps have; the two vary independently. Nearer to
/// zero a declination is shown as 0° and nothing is left to tell the norths apart.
fn home(seed: u64) -> HomeAngles {
    let declination = 1.0 + (seed * 7 % 301) as f64 / 10.0;
    let convergence = (seed * 5 % 69) as f64 / 10.0 - 3.4;
    let sign = if seed.is_multiple_of(2) { 1.0 } else { -1.0 };
    HomeAngles::new(Declination::from_degrees(sign * declination), Convergence::from_degrees(convergence))
}

fn skill(id: &str) -> &'static dyn Skill {
    *SKILLS.iter().find(|skill| skill.meta().id == id).unwrap_or_else(|| panic!("no skill {id}"))
}

/// Every problem of a skill: elsewhere, then on home ground where the skill can be set there.
fn walk(id: &str, per_level: u64, mut each: impl FnMut(&Problem, &Facts)) {
    let skill = skill(id);
    for level in Level::ALL {
        for at_home in [false, true].into_iter().take(if there::is_set_there(skill, level) { 2 } else { 1 }) {
            let mut made = 0;
            for seed in border::seeds(per_level) {
                let code = Code { skill, level, seed, home: at_home.then(|| home(seed)) };
                let problem = match realise(&code) {
                    Ok(problem) => problem,
                    Err(error) => {
                        let home = code.home.unwrap_or_else(|| panic!("{code}: {error}"));
                        let small = |angle: Angle, least: f64| angle.abs().degrees() < least;
                        let (declination, angle) = (home.declination().angle(), home.grid_magnetic().angle());
                        // Grid north behind the star: a diagram with three prongs cannot be drawn.
                        let hidden = id == "diagram" && small(home.convergence().angle(), 0.3);
                        assert!(small(declination, 2.0) || small(angle, 2.0) || hidden, "{code}: {error}");
                        continue;
                    }
                };
                made += 1;
                // Work at the map table is solved a second time in tests/hands.rs.
                if matches!(problem.question(), Question::Table(_)) {
                    continue;
                }
                each(&problem, &Facts::of(&problem));
            }
            assert!(made * 10 >= per_level * 8, "{id} level {level}: only {made} problems");
        }
    }
}

/// What the problems of a skill are found to be; drawing them takes longest, so each is drawn once and seen by all sentences.
#[derive(Default)]
struct Seen {
    /// How often the answer of each mix-up was compared.
    compared: BTreeMap<&'static str, u32>,
    /// The answer of each list of facts, both as hashes, and a code that has them.
    answers: HashMap<u64, (u64, String)>,
    /// Problems solved, and steps of sums that were worked again.
    solved: u64,
    sums: usize,
}

fn every_sentence_holds(id: &str) {
    let mut seen = Seen::default();
    let typed = border::seeds(TYPED);
    walk(id, PROBLEMS, |problem, facts| {
        every_answer_agrees(id, problem, facts);
        every_mixup_is_what_its_formula_gives(id, problem, facts, &mut seen);
        a_reader_sees_every_fact(id, problem, facts);
        facts_are_named_with_units_and_never_differ_in_their_answer(problem, facts, &mut seen);
        if typed.contains(&problem.code().seed) {
            the_second_answer_typed_in_is_judged_right(id, problem, facts);
            json_tells_the_same_facts_fields_and_answers(problem, facts);
            every_sum_that_is_shown_is_right(problem, facts, &mut seen);
        }
        seen.solved += 1;
    });
    println!("{id}: {} answers agree", seen.solved);
    for mixup in skill(id).meta().mixups.iter().filter(|mixup| !by_hand_alone(id, mixup.id.as_str())) {
        let times = seen.compared.get(mixup.id.as_str()).copied().unwrap_or(0);
        assert!(times >= 100, "{id}: {} was compared {times} times", mixup.id);
    }
    assert!(seen.sums >= 100, "{id}: only {} sums", seen.sums);
}

fn every_answer_agrees(id: &str, problem: &Problem, facts: &Facts) {
    let (question, answer) = (problem.question(), problem.answer());
    let worked = right(id, facts, question);
    let told = || format!("{}: {:?} gives {worked:?}, not {}", facts.code, facts.all, question.words(answer));
    assert!(agree(question, &worked, answer), "{}", told());
    for (field, value) in question.fields().iter().zip(answer.values()) {
        if let (Some(circle), Some(number)) = (field.circle(), facts::number(*value)) {
            assert!((0.0..circle).contains(&number), "{}: {number} is not on the dial", facts.code);
        }
    }
}

fn every_mixup_is_what_its_formula_gives(id: &str, problem: &Problem, facts: &Facts, seen: &mut Seen) {
    let question = problem.question();
    for mixup in problem.mixups() {
        let name = mixup.meta.id;
        let worked = wrong(id, name, facts, question);
        let found = worked.iter().any(|worked| agree(question, worked, &mixup.answer));
        let listed = || question.words(&mixup.answer);
        assert!(found, "{}: {:?} {name} gives {worked:?}, not {}", facts.code, facts.all, listed());
        *seen.compared.entry(name.as_str()).or_default() += 1;
    }
}

fn a_reader_sees_every_fact(id: &str, problem: &Problem, facts: &Facts) {
    shown::check(&facts.code, problem.prompt(), &(solver(id).read)(facts, problem.prompt()));
    assert_eq!(problem.prompt().contains("ome ground"), problem.code().home.is_some(), "{}", facts.code);
    drawn::look(facts, problem.prompt(), &problem.figure());
    orienting::believable_change(facts);
}

fn facts_are_named_with_units_and_never_differ_in_their_answer(problem: &Problem, facts: &Facts, seen: &mut Seen) {
    let (question, answer) = (problem.question(), problem.answer());
    for (name, value) in &facts.all {
        let unit = UNITS.iter().find(|unit| name.ends_with(**unit));
        // JSON has no number that is not finite: it would be null here.
        match value {
            Json::Number(_) => {
                let named = unit.is_some() || COUNTS.contains(&name.as_str());
                assert!(named, "{}: {name} has no unit", facts.code);
            }
            Json::String(_) => assert!(unit.is_none(), "{}: the word {name} has a unit", facts.code),
            other => panic!("{}: {name} is {other}", facts.code),
        }
        let bare = name.strip_suffix(unit.unwrap_or(&"")).unwrap_or(name);
        let like = question.fields().iter().any(|field| {
            field.name == name || (field.name == bare && unit.is_some_and(|unit| unit[1..] == *field.unit()))
        });
        assert!(!like, "{}: the fact {bare} is asked", facts.code);
    }
    // Facts and answer as numbers: words by their hash, field by field.
    let mut key = DefaultHasher::new();
    for (name, value) in &facts.all {
        name.hash(&mut key);
        match value.as_f64() {
            Some(number) => number.to_bits().hash(&mut key),
            None => value.as_str().hash(&mut key),
        }
    }
    let mut given = DefaultHasher::new();
    for (field, value) in question.fields().iter().zip(answer.values()) {
        field.name.hash(&mut given);
        match value {
            Value::Choice(_) | Value::Point(_) => field.typed(*value).hash(&mut given),
            number => facts::number(*number).map(f64::to_bits).hash(&mut given),
        }
    }
    let given = given.finish();
    let (before, code) = seen.answers.entry(key.finish()).or_insert_with(|| (given, facts.code.clone()));
    assert_eq!(*before, given, "{} and {code} have the same facts and different answers", facts.code);
}

/// A worked answer as a person would type it.
fn as_typed(question: &Question, worked: &Worked) -> Vec<String> {
    let short = |number: f64| {
        let text = format!("{number:.4}");
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    };
    let fields = question.fields().iter();
    fields
        .zip(worked)
        .map(|(field, (_, part))| match part {
            Part::Word(word) => word.clone(),
            Part::Place(east, north) => format!("{east:.0} {north:.0}"),
            Part::Round(number) => short(number.rem_euclid(field.circle().unwrap_or(360.0)).abs()),
            Part::Plain(number) if field.kind == FieldKind::EastWest => {
                format!("{}{}", short(number.abs()), if *number < 0.0 { "W" } else { "E" })
            }
            Part::Plain(number) => short(*number),
        })
        .collect()
}

fn the_second_answer_typed_in_is_judged_right(id: &str, problem: &Problem, facts: &Facts) {
    let question = problem.question();
    let typed = as_typed(question, &right(id, facts, question));
    let texts: Vec<&str> = typed.iter().map(String::as_str).collect();
    let judged = judge(problem, &texts).unwrap_or_else(|error| panic!("{}: {texts:?}: {error}", facts.code));
    assert_eq!(judged.verdict, Verdict::Right, "{}: {texts:?}", facts.code);
}

fn json_tells_the_same_facts_fields_and_answers(problem: &Problem, facts: &Facts) {
    let json = serde_json::to_value(problem.json()).unwrap();
    assert_eq!(json["code"], facts.code.as_str());
    assert_eq!(json["prompt"], problem.prompt());
    assert_eq!(json["facts"].as_object(), Some(&facts.all), "{}", facts.code);
    for fact in problem.facts().iter() {
        let name = fact.name.id();
        let (number, word) = (json["facts"][name].as_f64(), json["facts"][name].as_str());
        let same = match &fact.value {
            FactValue::Angle(angle) => number == Some(angle.degrees()),
            FactValue::Number(told) => number == Some(*told),
            FactValue::North(north) => word == Some(north.word()),
            FactValue::Norths(norths) => word.is_some_and(|word| word.split(", ").count() == norths.len()),
            FactValue::Wanted(wanted) => word == Some(wanted.id()),
            FactValue::Word(told) => word == Some(told),
        };
        assert!(same, "{}: {name}", facts.code);
    }
    // What JSON gives as the answer is right when it is typed as it stands.
    let fields = problem.question().fields();
    let texts: Vec<String> = fields
        .iter()
        .map(|field| match &json["answer"][field.name] {
            Json::String(word) => word.clone(),
            number => number.to_string(),
        })
        .collect();
    let texts: Vec<&str> = texts.iter().map(String::as_str).collect();
    assert_eq!(judge(problem, &texts).unwrap().verdict, Verdict::Right, "{}: {texts:?}", facts.code);
    for (told, field) in json["question"]["fields"].as_array().unwrap().iter().zip(fields) {
        assert_eq!(told["name"], field.name);
        assert_eq!(told["north"].as_str(), field.north().map(|north| north.word()));
    }
}

fn every_sum_that_is_shown_is_right(problem: &Problem, facts: &Facts, seen: &mut Seen) {
    let mut texts = problem.step_lines();
    for mixup in problem.mixups() {
        let paths = problem.paths(mixup.meta.id, &mixup.answer).unwrap();
        texts.extend([paths.yours, paths.right]);
    }
    for text in texts {
        for chain in sums::chains(&text) {
            let equal = chain.windows(2).all(|pair| (pair[0] - pair[1]).abs() < facts::EXACT);
            assert!(equal, "{}: {chain:?} in: {text}", facts.code);
            seen.sums += chain.len().saturating_sub(1);
        }
    }
}

/// The same sentences for every skill, a test for each skill so that they run beside each other.
macro_rules! for_skills {
    ($($module:ident: $id:literal, $solver:expr;)*) => {
        const SOLVED: &[&str] = &[$($id),*];

        fn solver(skill: &str) -> Solver {
            match skill {
                $($id => $solver,)*
                other => panic!("no second solver for {other}"),
            }
        }

        $(mod $module {
            #[test]
            fn the_second_solver_agrees_with_every_sentence_about_a_problem() {
                super::every_sentence_holds($id);
            }
        })*
    };
}

for_skills! {
    compass_points: "compass-points", Solver {
        right: dial::compass_points,
        wrong: |id, facts, question| single(dial::compass_points_wrong(id, facts, question)),
        read: prompts::compass_points,
    };
    turns: "turns", Solver {
        right: |facts, _| dial::turning(facts),
        wrong: |id, facts, _| dial::turning_wrong(id, facts),
        read: prompts::turns,
    };
    read_dial: "read-dial", Solver {
        right: |facts, _| dial::read_dial(facts),
        wrong: |id, facts, _| dial::read_dial_wrong(id, facts),
        read: prompts::read_dial,
    };
    set_dial: "set-dial", Solver {
        right: |facts, _| dial::set_dial(facts),
        wrong: |id, facts, _| dial::set_dial_wrong(id, facts),
        read: |facts, _| prompts::set_dial(facts),
    };
    back_bearing: "back-bearing", Solver {
        right: dial::back_bearing,
        wrong: |id, facts, _| dial::back_bearing_wrong(id, facts),
        read: prompts::back_bearing,
    };
    grid_reference: "grid-reference", measure::GRID_REFERENCE;
    scale_distance: "scale-distance", measure::SCALE;
    protractor_bearing: "protractor-bearing", position::PROTRACTOR;
    diagram: "diagram", Solver {
        right: |facts, _| norths::diagram(facts),
        wrong: |id, facts, _| norths::diagram_wrong(id, facts),
        read: prompts::diagram,
    };
    true_magnetic: "true-magnetic", norths::CONVERT;
    grid_magnetic: "grid-magnetic", norths::CONVERT;
    dated_map: "dated-map", Solver {
        right: |facts, _| norths::dated_map(facts),
        wrong: |id, facts, _| single(norths::dated_map_wrong(id, facts)),
        read: prompts::dated_map,
    };
    relief: "relief", heights::RELIEF;
    orient_magnetic_line: "orient-magnetic-line", Solver {
        right: orienting::orient,
        wrong: orienting::magnetic_line_wrong,
        read: prompts::magnetic_line,
    };
    orient_true_line: "orient-true-line", orienting::LINE;
    orient_grid: "orient-grid", orienting::LINE;
    walk_bearing: "walk-bearing", walk::WALK;
    pacing: "pacing", measure::PACING;
    timing: "timing", measure::TIMING;
    compass_faults: "compass-faults", ground::COMPASS_FAULTS;
    fix_on_line: "fix-on-line", position::ON_LINE;
    resection: "resection", position::TWO_MARKS;
    one_in_sixty: "one-in-sixty", travel::ONE_IN_SIXTY;
    aim_off: "aim-off", travel::AIM_OFF;
    route_features: "route-features", ground::ROUTE_FEATURES;
    box_detour: "box-detour", travel::BOX_DETOUR;
    course_leg: "course-leg", course::COURSE_LEG;
    thirty_two_points: "thirty-two-points", Solver {
        right: dial::compass_points,
        wrong: |id, facts, question| single(dial::compass_points_wrong(id, facts, question)),
        read: prompts::compass_points,
    };
}

/// A wrong number on the dial turns the map by as much as the number is too large: μ = R − right R.
#[test]
fn a_wrong_number_on_the_dial_turns_the_map_by_what_is_told() {
    let mut told = 0;
    for id in ["orient-true-line", "orient-grid"] {
        walk(id, TYPED, |problem, facts| {
            let dial = |answer: &Answer| facts::number(answer.values()[0]).expect("a dial number");
            let right = dial(problem.answer());
            for mixup in problem.mixups() {
                let yours = problem.paths(mixup.meta.id, &mixup.answer).unwrap().yours;
                let Some((_, lies)) = yours.split_once("The map lies ") else { continue };
                let turned = facts::Dir::at(right).turn_to(facts::Dir::at(dial(&mixup.answer)));
                if lies == "upside down" {
                    assert!((turned.abs() - 180.0).abs() < facts::EXACT, "{}: {yours}", facts.code);
                } else {
                    let way = if turned < 0.0 { "counterclockwise" } else { "clockwise" };
                    let (size, rest) = lies.split_once("° off, turned ").expect("how far and which way");
                    let size: f64 = size.parse().unwrap();
                    let same = (size - turned.abs()).abs() < facts::EXACT && rest == way;
                    assert!(same, "{}: {} {turned} {yours}", facts.code, mixup.meta.id);
                }
                told += 1;
            }
        });
    }
    assert!(told > 1_000, "only {told}");
}

#[test]
fn every_skill_of_the_registry_is_solved_a_second_time() {
    // Those that are only worked by hand are solved in tests/hands.rs.
    let ids: Vec<&str> = SKILLS.iter().map(|skill| skill.meta().id).filter(|id| !BY_HAND_ALONE.contains(id)).collect();
    assert_eq!(ids, SOLVED);
}
