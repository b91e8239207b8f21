//! For tests: problems as a solver sees them, who knows nothing but the facts.

use crate::problem::{Answer, Code, FactValue, Level, Problem, Skill, Value, realise};

/// The first problems of a skill at a level.
pub(super) fn problems(skill: &'static dyn Skill, level: Level, count: u64) -> impl Iterator<Item = Problem> {
    (0..count).map(move |seed| {
        let code = Code { skill, level, seed, home: None };
        realise(&code).unwrap_or_else(|error| panic!("{code}: {error}"))
    })
}

fn fact<'a>(problem: &'a Problem, name: &str) -> Option<&'a FactValue> {
    problem.facts().iter().find(|fact| fact.name.id() == name).map(|fact| &fact.value)
}

/// A fact that is a number or an angle, in the unit of its name, if the problem has it.
pub(super) fn number(problem: &Problem, name: &str) -> Option<f64> {
    fact(problem, name).map(|value| match value {
        FactValue::Angle(angle) => angle.degrees(),
        FactValue::Number(number) => *number,
        other => panic!("{name} is {other:?}, no number"),
    })
}

/// A fact that is a word at the border, if the problem has it.
pub(super) fn word<'a>(problem: &'a Problem, name: &str) -> Option<&'a str> {
    fact(problem, name).map(|value| match value {
        FactValue::Word(word) => word.as_ref(),
        FactValue::North(north) => north.word(),
        FactValue::Wanted(wanted) => wanted.id(),
        other => panic!("{name} is {other:?}, no word"),
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
pub(super) fn listed<'a>(problem: &'a Problem, id: &str) -> Option<&'a Answer> {
    problem.mixups().iter().find(|mixup| mixup.meta.id.as_str() == id).map(|mixup| &mixup.answer)
}

/// Checks that a mix-up, where it is exposed, answers the wanted number, wrapped into the circle.
#[track_caller]
pub(super) fn check(problem: &Problem, id: &str, circle: f64, wanted: f64) {
    if let Some(answer) = listed(problem, id) {
        let (given, wanted) = (first(answer), wanted.rem_euclid(circle));
        assert!((given - wanted).abs() < 1e-9, "{}: {id} is {given}, by its formula {wanted}", problem.code());
    }
}
