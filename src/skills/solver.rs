//! For tests: problems as a solver sees them, who knows nothing but the facts.

use crate::problem::{Answer, Code, FactValue, Level, Problem, Skill, Value};

/// The first problems of a skill at a level.
pub(super) fn problems(skill: &dyn Skill, level: Level, count: u64) -> impl Iterator<Item = Problem> + '_ {
    (0..count).map(move |seed| {
        let code = Code { skill: skill.meta(), level, seed, home: None };
        skill.problem(&code).unwrap_or_else(|error| panic!("{code}: {error}"))
    })
}

/// A fact that is a number, if the problem has it.
pub(super) fn number(problem: &Problem, name: &str) -> Option<f64> {
    problem.facts.iter().find(|fact| fact.name == name).map(|fact| match fact.value {
        FactValue::Number(number) => number,
        FactValue::Word(_) => panic!("{name} is a word"),
    })
}

/// A fact that is a word, if the problem has it.
pub(super) fn word<'a>(problem: &'a Problem, name: &str) -> Option<&'a str> {
    problem.facts.iter().find(|fact| fact.name == name).map(|fact| match &fact.value {
        FactValue::Word(word) => word.as_ref(),
        FactValue::Number(_) => panic!("{name} is a number"),
    })
}

/// The number of an answer that has one as its first value.
pub(super) fn first(answer: &Answer) -> f64 {
    match answer.values().first() {
        Some(Value::Angle(angle)) => angle.degrees(),
        Some(Value::Number(number)) => *number,
        other => panic!("{other:?} is no number"),
    }
}

/// What the problem lists for a mix-up, if it exposes it.
pub(super) fn listed(problem: &Problem, id: &str) -> Option<Answer> {
    problem.outline.mixups.iter().find(|mixup| mixup.id.as_str() == id).map(|mixup| mixup.answer)
}

/// Checks that a mix-up, where it is exposed, answers the wanted number, wrapped into the circle.
#[track_caller]
pub(super) fn check(problem: &Problem, id: &str, circle: f64, wanted: f64) {
    if let Some(answer) = listed(problem, id) {
        let (given, wanted) = (first(&answer), wanted.rem_euclid(circle));
        assert!((given - wanted).abs() < 1e-9, "{}: {id} is {given}, by its formula {wanted}", problem.code);
    }
}
