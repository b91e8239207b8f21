//! For tests: somebody without the skill who follows one simple rule, played on the skills of the dial.
//!
//! Each field of each kind of question is played by itself, with the other fields answered right: a person sees which kind it is.

use super::solver::{number, problems};
use crate::problem::{Answer, FieldKind, Level, Problem, Question, Skill, Value};
use std::collections::{BTreeMap, BTreeSet};

const PROBLEMS: u64 = 2000;

/// A rule: its name, and its number for a problem, as it would be typed.
type Rule = (String, Option<Value>);

/// The numbers of a text.
fn numbers(text: &str) -> Vec<f64> {
    text.split(|c: char| !c.is_ascii_digit() && c != '.')
        .filter_map(|part| part.trim_matches('.').parse().ok())
        .collect()
}

/// Every number that copying, adding and subtracting the numbers of the text gives, on the circle and not brought onto it.
fn text_rules(problem: &Problem, rules: &mut Vec<Rule>) {
    let found = numbers(problem.prompt());
    let mut tell = |name: String, degrees: f64| {
        rules.push((name.clone(), Some(Value::degrees(degrees))));
        rules.push((format!("{name}, wrapped"), Some(Value::degrees(degrees.rem_euclid(360.0)))));
    };
    for (at, one) in found.iter().enumerate() {
        tell(format!("copy number {at}"), *one);
        tell(format!("360 less number {at}"), 360.0 - one);
        for (by, other) in found.iter().enumerate().skip(at + 1) {
            tell(format!("{at} and {by} added"), one + other);
            tell(format!("{at} less {by}"), one - other);
            tell(format!("{by} less {at}"), other - one);
            tell(format!("difference of {at} and {by}"), (one - other).abs());
            tell(format!("360 less the difference of {at} and {by}"), 360.0 - (one - other).abs());
        }
    }
    for (at, one) in found.iter().enumerate() {
        // Without bringing it back: adding and taking off in the right place is what back bearings are.
        rules.push((format!("180 added to number {at}"), Some(Value::degrees(one + 180.0))));
        rules.push((format!("180 off number {at}"), Some(Value::degrees(one - 180.0))));
    }
}

/// What the printed numbers of a dial alone suggest.
fn scale_rules(problem: &Problem, rules: &mut Vec<Rule>) {
    let (Some(below), Some(every), Some(spaces)) = (
        number(problem, "number_below_index_deg"),
        number(problem, "number_every_deg"),
        number(problem, "spaces_between_numbers"),
    ) else {
        return;
    };
    let tick = every / spaces;
    for (name, degrees) in [
        ("the number below", below),
        ("the number above", below + every),
        ("halfway", below + every / 2.0),
        ("one tick further", below + tick),
        ("half a tick further", below + tick / 2.0),
        ("a tick and a half further", below + tick * 1.5),
        ("at the needle", number(problem, "needle_north_end_at_deg").unwrap_or(0.0)),
    ] {
        rules.push((name.to_owned(), Some(Value::degrees(degrees.rem_euclid(360.0)))));
    }
}

/// Turning the right way, but never bringing the sum back onto the dial.
fn never_wrapped(problem: &Problem, rules: &mut Vec<Rule>) {
    let fact = |name| number(problem, name);
    let body = ["turn_deg", "first_turn_deg", "second_turn_deg"].iter().filter_map(|name| fact(name)).sum::<f64>();
    let dial = ["dial_turn_deg", "first_dial_turn_deg", "second_dial_turn_deg"];
    let dial = dial.iter().filter_map(|name| fact(name)).sum::<f64>();
    let points = fact("turn_points").unwrap_or(0.0) * fact("degrees_per_point").unwrap_or(0.0);
    if let Some(start) = fact("start_magnetic_bearing_deg").or(fact("start_reading_deg")).or(fact("start_point_deg")) {
        for (name, change) in [("never wrapped", body - dial + points), ("the other way", dial - body - points)] {
            rules.push((name.to_owned(), Some(Value::degrees(start + change))));
        }
    }
}

/// Before a kind of question that the hand answers by turning the dial: rules for typing are none there.
const BY_HAND: &str = "by hand: ";

/// What kind of question this is to somebody who reads it.
fn kind(problem: &Problem) -> String {
    let fields = problem.question().fields();
    let names = fields.iter().map(|field| field.name).collect::<Vec<_>>().join("+");
    let facts = problem.facts().iter().map(|fact| fact.name.id()).collect::<Vec<_>>().join("+");
    let by = if matches!(problem.question(), Question::SetDial { .. }) { BY_HAND } else { "" };
    format!("{by}{names} from {facts}")
}

/// How often each rule is right: by kind of question, field and rule, beside how often that kind came.
fn shares(skill: &'static dyn Skill, level: Level) -> BTreeMap<(String, usize, String), (u32, u32, usize)> {
    let mut kinds: BTreeMap<String, u32> = BTreeMap::new();
    let mut right: BTreeMap<(String, usize, String), (u32, u32, usize)> = BTreeMap::new();
    for problem in problems(skill, level, PROBLEMS) {
        let kind = kind(&problem);
        *kinds.entry(kind.clone()).or_default() += 1;
        let mut rules = Vec::new();
        text_rules(&problem, &mut rules);
        scale_rules(&problem, &mut rules);
        never_wrapped(&problem, &mut rules);
        for (at, field) in problem.question().fields().iter().enumerate() {
            let choices = field.choices().map_or(0, |choices| choices.len());
            let chosen: Vec<Rule> = (0..choices).map(|k| (format!("choice {k}"), Some(Value::Choice(k)))).collect();
            for (name, value) in if choices > 0 { &chosen } else { &rules } {
                let Some(value) = *value else { continue };
                let value = match (&field.kind, value) {
                    (FieldKind::Mils(_), Value::Angle(angle)) => Value::Number(angle.degrees()),
                    _ => value,
                };
                let mut values = problem.answer().values().to_vec();
                values[at] = value;
                let typed: Answer = values.into_iter().collect();
                let entry = right.entry((kind.clone(), at, name.clone())).or_default();
                entry.0 += u32::from(problem.question().same(&typed, problem.answer()));
                entry.2 = choices;
            }
        }
    }
    for ((kind, _, _), entry) in &mut right {
        entry.1 = kinds[kind];
    }
    right
}

/// Asserts that no rule is right too often at any level: at levels 3 and 4 and at `asked`, which a standard asks, in more than
/// 60 % (of choices, chance and ten more); below, in more than 80 %.
#[track_caller]
pub(super) fn no_rule_will_do(skill: &'static dyn Skill, asked: &[Level]) {
    let mut failed = Vec::new();
    for level in Level::ALL {
        let strict = level >= Level::THREE || asked.contains(&level);
        for ((kind, field, rule), (right, of, choices)) in shares(skill, level) {
            let share = f64::from(right) / f64::from(of);
            let limit = match (strict, choices) {
                (true, 0) => 0.6,
                (true, choices) => (1.0 / choices as f64 + 0.1).min(0.6),
                (false, _) => 0.8,
            };
            // What comes up ten times in 2,000 shows nothing.
            if of >= 50 && !kind.starts_with(BY_HAND) && share > limit + 0.02 {
                failed.push(format!("level {level}: {kind}, field {field}: {rule}: {right} of {of}"));
            }
        }
    }
    assert!(failed.is_empty(), "{}:\n{}", skill.meta().id, failed.join("\n"));
}

/// Asserts that at least so many different problems come up at each level of two thousand, by their facts.
#[track_caller]
pub(super) fn enough_problems(skill: &'static dyn Skill, least: [usize; 4]) {
    for (level, least) in Level::ALL.into_iter().zip(least) {
        let facts = |problem: Problem| format!("{:?}", problem.facts());
        let different = problems(skill, level, PROBLEMS).map(facts).collect::<BTreeSet<_>>().len();
        assert!(different >= least, "{} level {level}: {different} different problems", skill.meta().id);
    }
}

#[test]
fn no_simple_rule_answers_the_skills_of_the_dial() {
    for skill in super::SKILLS.iter().take(5) {
        no_rule_will_do(*skill, &[]);
    }
}

#[test]
fn hardly_anything_comes_twice_in_an_evening() {
    for (id, least) in [
        ("compass-points", [60; 4]),
        ("turns", [500; 4]),
        ("read-dial", [60, 500, 500, 500]),
        ("set-dial", [500; 4]),
        ("back-bearing", [60, 500, 60, 500]),
    ] {
        enough_problems(super::find(id).expect("a skill"), least);
    }
}

#[test]
fn a_rule_that_always_works_would_be_found() {
    // Typing the number that the text gives: what a dial to turn must not take.
    let set = super::find("set-dial").expect("a skill");
    let copied = shares(set, Level::ONE)
        .into_iter()
        .any(|((_, _, rule), (right, of, _))| rule == "copy number 1" && right == of && of > 1000);
    assert!(copied);
}
