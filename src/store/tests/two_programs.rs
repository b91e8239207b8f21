//! Two programs with one store.

use super::super::testing::{Answer, Camp, date_of, met, noon};
use super::super::{Believed, StoredEvening};
use proptest::prelude::*;

#[test]
fn evidence_of_the_other_program_is_not_lost() {
    let camp = Camp::new();
    let (mut one, mut other) = (camp.program(), camp.program());
    one.answer(&Answer::mixed_up(0)).unwrap();
    // The other has read its beliefs before that answer.
    other.answer(&Answer::mixed_up(0)).unwrap();
    assert_eq!(other.met()[0].count(), 2);
    // Now the other is up to date and needs only what its own answer changes, and the one is not.
    assert!(matches!(other.answer(&Answer::right(0)).unwrap().beliefs, Believed::Skill(_)));
    assert!(matches!(one.answer(&Answer::right(0)).unwrap().beliefs, Believed::All(_)));
    assert_eq!(one.met()[0].count(), 4);
    assert_eq!(one.store.verify().unwrap().differences, []);
}

#[test]
fn an_answer_in_another_skill_counts_too_since_it_weighs_on_skills_not_met() {
    let camp = Camp::new();
    let (mut one, mut other) = (camp.program(), camp.program());
    other.answer(&Answer::right(0)).unwrap();
    for _ in 0..4 {
        one.answer(&Answer::mixed_up(1)).unwrap();
    }
    other.answer(&Answer::mixed_up(2)).unwrap();
    assert_eq!(other.met().len(), 3);
    assert_eq!(other.store.verify().unwrap().differences, []);
}

#[test]
fn an_answer_taken_back_by_the_other_program_is_taken_back_everywhere() {
    let camp = Camp::new();
    let (mut one, mut other) = (camp.program(), camp.program());
    let slip = one.answer(&Answer::mixed_up(1)).unwrap().id;
    // The other takes it back and folds anew before the one goes on: the last answer is still the same.
    other.mark(slip, "undone");
    assert_eq!(met(&other.store.beliefs(other.learner).unwrap()), []);
    one.answer(&Answer::mixed_up(2)).unwrap();
    assert_eq!(one.met().iter().map(|belief| belief.id()).collect::<Vec<_>>(), ["grid-north"]);
    assert_eq!(one.store.beliefs(one.learner).unwrap(), one.beliefs);
    assert_eq!(one.store.verify().unwrap().differences, []);
}

#[test]
fn ids_grow_across_programs_also_when_a_clock_is_behind() {
    let camp = Camp::new();
    let (mut one, mut other) = (camp.program(), camp.program());
    let first = one.answer(&Answer { day: 30, ..Answer::right(0) }).unwrap().id;
    let second = other.answer(&Answer { day: 0, ..Answer::right(1) }).unwrap().id;
    let third = one.answer(&Answer { day: 0, ..Answer::right(0) }).unwrap().id;
    assert!(first < second && second < third);
}

#[test]
fn two_programs_that_write_at_once_both_get_through() {
    let camp = Camp::new();
    let programs = [camp.program(), camp.program()];
    std::thread::scope(|scope| {
        for (n, mut program) in programs.into_iter().enumerate() {
            scope.spawn(move || {
                for k in 0..30 {
                    program.answer(&Answer::mixed_up((n + k) % 3)).unwrap();
                }
            });
        }
    });
    let verified = camp.open().verify().unwrap();
    assert_eq!((verified.attempts, verified.differences), (60, vec![]));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 30, ..ProptestConfig::default() })]
    #[test]
    fn however_two_programs_take_turns_the_summaries_are_the_fold(
        list in prop::collection::vec((any::<bool>(), 0..3_usize, 0..5_usize, 0..3_i64), 1..40)
    ) {
        let camp = Camp::new();
        let (mut one, mut other) = (camp.program(), camp.program());
        for program in [&one, &other] {
            program.store.conn.pragma_update(None, "synchronous", "OFF").unwrap();
        }
        for (who, skill, outcome, day) in list {
            let program = if who { &mut one } else { &mut other };
            program.answer(&Answer { day, skill, outcome, hinted: false, explained: true }).unwrap();
            // Whoever wrote last knows everything.
            let stored = program.store.beliefs(program.learner).unwrap();
            prop_assert_eq!(&stored, &program.beliefs);
        }
        prop_assert_eq!(one.store.verify().unwrap().differences, vec![]);
    }
}

#[test]
fn of_two_programs_that_keep_a_plan_at_once_one_does_and_the_other_meets_it() {
    for _ in 0..20 {
        let camp = Camp::new();
        drop(camp.open());
        let plan = |clock: &str| StoredEvening {
            kept_at: noon(0),
            day: Some(date_of(0)),
            clock: clock.to_owned(),
            standard: "day-outing".to_owned(),
            plan: "{}".to_owned(),
        };
        let start = std::sync::Barrier::new(2);
        let keeps = |clock: &'static str| {
            let mut store = camp.open();
            start.wait();
            store.keep_evening_unless(&plan(clock), |_| true).unwrap()
        };
        let (one, other) = std::thread::scope(|scope| {
            let one = scope.spawn(|| keeps("18:30"));
            let other = keeps("18:31");
            (one.join().unwrap(), other)
        });
        let kept = camp.open().evening().unwrap();
        match (one, other) {
            (None, met) => assert_eq!((kept, met), (Some(plan("18:30")), Some(plan("18:30")))),
            (met, None) => assert_eq!((kept, met), (Some(plan("18:31")), Some(plan("18:31")))),
            both => panic!("{both:?}"),
        }
    }
}
