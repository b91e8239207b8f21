//! Half-right strategies played on the three norths and on orienting: somebody knows one rule of two (the right way but the wrong
//! size, the right size but the wrong letter). What needs no rule at all is played in `tests/blind.rs`, on every skill.
//!
//! Listed with its reason, and so not played: the right size of the G-M angle with the letter that is not the convergence's (B4 and
//! D3, 84 of 100), the right sum with the letter of the change (B5, 82 of 100). Of "same side and the first larger", "same side
//! and the second larger", "opposite sides" each such rule holds for two; all three cannot stay below two thirds, and who has
//! the right size has done the work.

use super::find;
use super::solver::number as fact;
use crate::problem::{Answer, Code, Level, Problem, Question, Value, realise};

const SEEDS: u64 = 2_000;

fn problems(id: &str, level: u8) -> Vec<Problem> {
    let (skill, level) = (find(id).expect("a skill"), Level::new(level).expect("a level"));
    let code = |seed| Code { skill, level, seed, home: None };
    let all = (0..SEEDS).map(|seed| realise(&code(seed)).expect("a problem"));
    all.filter(|problem| !matches!(problem.question(), Question::Table(_))).collect()
}

/// A simple strategy: what it answers to this, in degrees with any sign; none where it has nothing to say.
type Strategy = (&'static str, fn(&Problem) -> Option<Answer>);

fn number(degrees: f64) -> Option<Answer> {
    Some(Answer::one(Value::degrees(degrees.rem_euclid(360.0))))
}

fn given(problem: &Problem) -> Option<f64> {
    ["true_bearing_deg", "grid_bearing_deg", "magnetic_bearing_deg"].iter().find_map(|name| fact(problem, name))
}

fn declination(problem: &Problem) -> Option<f64> {
    fact(problem, "declination_deg").or_else(|| fact(problem, "printed_declination_deg"))
}

fn second(problem: &Problem) -> Option<f64> {
    fact(problem, "convergence_deg").or_else(|| fact(problem, "grid_magnetic_deg"))
}

/// The bearing with an angle put to it by the rule, as somebody does who knows which way.
fn turned(problem: &Problem, angle: f64) -> Option<Answer> {
    if let Some(bearing) = given(problem) {
        let change = if fact(problem, "magnetic_bearing_deg").is_some() { angle } else { -angle };
        return number(bearing + change);
    }
    number(-angle)
}

const SUMS: &[Strategy] = &[
    ("copy the bearing", |it| number(given(it).unwrap_or(0.0))),
    ("always add the declination", |it| number(given(it).unwrap_or(0.0) + declination(it)?.abs())),
    ("always subtract the declination", |it| number(given(it).unwrap_or(360.0) - declination(it)?.abs())),
    ("always add the second angle", |it| number(given(it).unwrap_or(0.0) + second(it)?.abs())),
    ("always subtract the second angle", |it| number(given(it).unwrap_or(0.0) - second(it)?.abs())),
    ("always the declination, right way", |it| turned(it, declination(it)?)),
    ("always the second angle, right way", |it| turned(it, second(it)?)),
    ("sizes added, letter of the declination", |it| {
        let d = declination(it)?;
        turned(it, (d.abs() + second(it)?.abs()) * d.signum())
    }),
    ("sizes subtracted, letter of the declination", |it| {
        let d = declination(it)?;
        turned(it, (d.abs() - second(it)?.abs()).abs() * d.signum())
    }),
    ("sizes subtracted, letter of the larger", |it| {
        let (d, g) = (declination(it)?, second(it)?);
        turned(it, if d.abs() > g.abs() { d - g.abs() * d.signum() } else { d.abs() * g.signum() - g })
    }),
    ("right size, letter of the declination", |it| {
        let d = declination(it)?;
        turned(it, (d - second(it)?).abs() * d.signum())
    }),
];

fn off(signed: f64) -> Option<Answer> {
    Some(Answer::two(Value::degrees(signed.abs()), Value::Choice(usize::from(signed < 0.0))))
}

const OFF: &[Strategy] = &[
    ("000", |it| Some(Answer::one(Value::degrees(0.0))).filter(|_| it.question().fields().len() == 1)),
    ("sizes subtracted, right way", |it| {
        let (now, then) = (fact(it, "declination_deg")?, fact(it, "printed_declination_deg")?);
        off((now.abs() - then.abs()).abs() * (now - then).signum())
    }),
    ("sizes added, right way", |it| {
        let (now, then) = (fact(it, "declination_deg")?, fact(it, "printed_declination_deg")?);
        off((now.abs() + then.abs()) * (now - then).signum())
    }),
    ("always clockwise", |it| off(fact(it, "declination_deg")? - fact(it, "printed_declination_deg")?).map(clockwise)),
    ("the number left, clockwise", |it| off(fact(it, "dial_deg")?.abs())),
];

fn clockwise(answer: Answer) -> Answer {
    Answer::two(answer.values()[0], Value::Choice(0))
}

/// In degrees, minutes and letter.
fn dated(minutes: f64) -> Option<Answer> {
    let size = minutes.abs().round();
    Some(Answer::three(
        Value::degrees((size / 60.0).floor()),
        Value::Number(size % 60.0),
        Value::Choice(usize::from(minutes < 0.0)),
    ))
}

/// Printed declination and change since then, in minutes.
fn parts(problem: &Problem) -> Option<(f64, f64)> {
    let years = fact(problem, "this_year")? - fact(problem, "printed_year")?;
    let printed = fact(problem, "printed_declination_deg")? * 60.0;
    Some((printed, years * fact(problem, "annual_change_arcmin")?))
}

const DATED: &[Strategy] = &[
    ("as printed", |it| dated(parts(it)?.0)),
    ("always add, printed letter", |it| {
        let (printed, change) = parts(it)?;
        dated((printed.abs() + change.abs()) * printed.signum())
    }),
    ("always subtract, printed letter", |it| {
        let (printed, change) = parts(it)?;
        dated((printed.abs() - change.abs()).abs() * printed.signum())
    }),
    ("always subtract, letter of the larger", |it| {
        let (printed, change) = parts(it)?;
        let larger = if printed.abs() > change.abs() { printed } else { change };
        dated((printed.abs() - change.abs()).abs() * larger.signum())
    }),
    ("right size, printed letter", |it| {
        let (printed, change) = parts(it)?;
        dated((printed + change).abs() * printed.signum())
    }),
];

/// Skill, level, the most that a strategy may get right in a hundred, and the strategies.
const PLAYED: &[(&str, u8, usize, &[Strategy])] = &[
    ("true-magnetic", 1, 80, SUMS),
    ("true-magnetic", 2, 80, SUMS),
    // "The declination, the right way" is the skill itself here.
    ("true-magnetic", 3, 60, SUMS),
    ("true-magnetic", 4, 60, SUMS),
    ("grid-magnetic", 1, 80, SUMS),
    ("grid-magnetic", 2, 80, SUMS),
    ("grid-magnetic", 3, 60, SUMS),
    ("grid-magnetic", 4, 60, SUMS),
    ("dated-map", 1, 80, DATED),
    ("dated-map", 2, 80, DATED),
    ("dated-map", 3, 60, DATED),
    ("orient-magnetic-line", 1, 60, OFF),
    ("orient-magnetic-line", 2, 60, OFF),
    ("orient-magnetic-line", 3, 60, OFF),
    ("orient-magnetic-line", 4, 60, OFF),
    ("orient-grid", 3, 60, SUMS),
    ("orient-grid", 4, 60, SUMS),
];

/// Rules that are the procedure of a level.
fn is_the_procedure(id: &str, level: u8, strategy: &str) -> bool {
    // With one angle given, using it the right way round is what is asked; so is the printed letter where it cannot change.
    match strategy {
        "always the declination, right way" => id == "true-magnetic" && level < 4,
        "always the second angle, right way" => id == "grid-magnetic" && level < 3,
        // At these levels a change seldom or never goes through zero: the letter is no question yet.
        "right size, printed letter" => id == "dated-map" && level < 3,
        _ => false,
    }
}

#[test]
fn no_simple_strategy_is_right_in_most_problems() {
    let mut failed = Vec::new();
    for (id, level, most, strategies) in PLAYED {
        let problems = problems(id, *level);
        for (name, play) in strategies.iter().filter(|(name, _)| !is_the_procedure(id, *level, name)) {
            let right = |problem: &&Problem| {
                let answer = play(problem).filter(|answer| answer.values().len() == problem.question().fields().len());
                answer.is_some_and(|answer| problem.question().same(&answer, problem.answer()))
            };
            let share = problems.iter().filter(right).count() * 1000 / problems.len();
            if share > most * 10 {
                failed.push(format!("{id} {level}: {name} is right in {share} of 1000"));
            }
        }
    }
    assert!(failed.is_empty(), "{}", failed.join("\n"));
}
