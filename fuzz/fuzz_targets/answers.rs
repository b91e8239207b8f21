//! What is typed as the answer to a problem: four bytes choose it, and each line is what stands in a field.
//!
//! Holds: nothing panics; what was understood, typed as it is written down, is understood the same and judged the same; *right*
//! is what the question calls the same as its answer; what cannot be read is said in words that can be shown.
#![no_main]

use libfuzzer_sys::fuzz_target;
use needlewise::problem::{Code, HomeAngles, Level, Problem, Verdict, WRONG_NORTH, judge, realise};
use needlewise::skills::SKILLS;
use needlewise_fuzz::{Bytes, assert_showable, ground};
use std::cell::RefCell;
use std::collections::HashMap;

/// Drawing a map costs more than judging a thousand answers, so each problem is made once.
const SEEDS: usize = 12;

type Chosen = (usize, usize, usize, bool);

thread_local! {
    static PROBLEMS: RefCell<HashMap<Chosen, Option<&'static Problem>>> = RefCell::default();
}

fn problem((skill, level, seed, at_home): Chosen) -> Option<&'static Problem> {
    let skill = SKILLS[skill];
    let home: Option<HomeAngles> = ground().home.angles.filter(|_| at_home && skill.meta().on_home);
    let code = Code { skill, level: Level::ALL[level], seed: seed as u64, home };
    let problem = realise(&code).ok()?;
    let typed = texts(&problem, problem.answer().values());
    let judged = judge(&problem, &typed.iter().map(String::as_str).collect::<Vec<_>>());
    assert_eq!(judged.map(|it| it.verdict), Ok(Verdict::Right), "{code}: the right answer {typed:?}");
    Some(Box::leak(Box::new(problem)))
}

/// Values as somebody types them.
fn texts(problem: &Problem, values: &[needlewise::problem::Value]) -> Vec<String> {
    problem.question().fields().iter().zip(values).map(|(field, value)| field.typed(*value)).collect()
}

fuzz_target!(|input: &[u8]| {
    let mut bytes = Bytes(input);
    let chosen = (bytes.below(SKILLS.len()), bytes.below(4), bytes.below(SEEDS), bytes.below(2) == 1);
    let found = PROBLEMS.with_borrow_mut(|all| *all.entry(chosen).or_insert_with(|| problem(chosen)));
    let Some(problem) = found else { return };
    let (question, fields) = (problem.question(), problem.question().fields());
    // A text too many is refused.
    let mut typed: Vec<String> = fields.iter().map(|_| bytes.line(200)).collect();
    typed.extend((!bytes.is_empty()).then(|| bytes.line(200)));
    let typed: Vec<&str> = typed.iter().map(String::as_str).collect();
    for (field, text) in fields.iter().zip(&typed) {
        let _ = field.check(text);
        let _ = text.chars().next().map(|letter| field.may_begin_with(letter));
    }
    let judgement = match judge(problem, &typed) {
        Ok(judgement) => judgement,
        Err(error) => return assert_showable(&error.to_string()),
    };
    let given = &judgement.given;
    assert_eq!(given.values().len(), fields.len());
    assert_eq!((judgement.norths.len(), judgement.off_by.len()), (fields.len(), fields.len()));
    assert!(judgement.off_by.iter().flatten().all(|off| off.is_finite()), "{:?}", judgement.off_by);
    assert_showable(&judgement.words(question));
    let is_right = question.same(given, problem.answer()) || problem.other_way(given).is_some();
    match judgement.verdict {
        Verdict::Right => assert!(is_right, "{typed:?}"),
        Verdict::Mixup(mixup) if mixup.id == WRONG_NORTH.id => return,
        Verdict::Mixup(mixup) => {
            // One mix-up may give several answers.
            let mut listed = problem.mixups().iter().filter(|one| one.meta.id == mixup.id);
            assert!(listed.any(|one| question.is_told(given, &one.answer)), "{typed:?}");
            let _ = problem.paths(mixup.id, given);
        }
        Verdict::Unrecognised(_) => assert!(!is_right, "{typed:?}"),
    }
    let again = texts(problem, given.values());
    let judged = judge(problem, &again.iter().map(String::as_str).collect::<Vec<_>>());
    let judged = judged.unwrap_or_else(|error| panic!("{typed:?} was read, {again:?} was not: {error}"));
    assert_eq!((&judged.given, judged.verdict), (given, judgement.verdict), "{typed:?} {again:?}");
});
