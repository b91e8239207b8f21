//! What somebody has done so far.

use super::super::testing::{Answer, Camp, Program, noon, session_of};
use super::super::{AnswerCount, AttemptKind, NewAttempt, Progress};
use std::collections::HashSet;

fn sit(program: &mut Program, day: i64, answers: &[Answer]) {
    program.session = program.store.start_session(&session_of(program.learner)).unwrap();
    for answer in answers {
        program.answer(&Answer { day, ..answer.clone() }).unwrap();
    }
}

#[test]
fn evenings_problems_and_sittings_are_counted_those_after_help_apart() {
    let camp = Camp::new();
    let mut program = camp.program();
    let progress = |program: &Program| program.store.progress(program.learner, &HashSet::new()).unwrap();
    assert_eq!(progress(&program), Progress::default());
    let helped = Answer { hinted: true, ..Answer::right(1) };
    sit(&mut program, 0, &[Answer::right(0), Answer::mixed_up(1), helped]);
    sit(&mut program, 0, &[]);
    sit(&mut program, 3, &[Answer::right(0), Answer::mixed_up(0)]);
    let slip = program.store.attempts(program.learner, "turn-back", 1).unwrap()[0].id;
    let learner = program.learner;
    program.store.take_back(learner, slip, super::super::testing::date_of(3), noon(3)).unwrap();
    let first = AnswerCount { alone: 2, right: 1, helped: 1, helped_right: 1 };
    let second = AnswerCount { alone: 1, right: 1, helped: 0, helped_right: 0 };
    let answers = AnswerCount { alone: 3, right: 2, helped: 1, helped_right: 1 };
    let wanted = Progress { days: 2, answers, sittings: vec![first, second], taken_back: 1 };
    assert_eq!(progress(&program), wanted);
}

#[test]
fn only_the_last_twelve_sittings_are_told_by_themselves_and_a_try_under_way_not_at_all() {
    let camp = Camp::new();
    let mut program = camp.program();
    for day in 0..14 {
        let answer = if day < 2 { Answer::mixed_up(0) } else { Answer::right(0) };
        sit(&mut program, day, &[answer]);
    }
    let checked = NewAttempt { kind: AttemptKind::Check, ..Answer::right(0).attempt(program.learner, program.session) };
    let untold = HashSet::from([program.store.record(&checked).unwrap().id]);
    let progress = program.store.progress(program.learner, &untold).unwrap();
    assert_eq!((progress.days, progress.answers.all(), progress.sittings.len()), (14, 14, 12));
    assert!(progress.sittings.iter().all(|sitting| (sitting.right, sitting.all()) == (1, 1)), "{progress:?}");
}
