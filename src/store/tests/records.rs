//! Attempts and the summaries folded from them.

use super::super::testing::{Answer, Camp, SKILLS, date_of, met, noon, session_of, skills};
use super::super::{AttemptKind, Believed, Help, NewAttempt, Store, StoreError};
use crate::learner::{Beliefs, Placement};
use crate::problem::Level;
use proptest::prelude::*;
use rusqlite::Connection;

#[test]
fn an_attempt_is_read_back_as_recorded() {
    let camp = Camp::new();
    let mut program = camp.program();
    let plain = Answer::mixed_up(1).attempt(program.learner, program.session);
    let full = NewAttempt {
        kind: AttemptKind::Round,
        seed: u64::MAX - 1,
        level: Level::FOUR,
        generation: u16::MAX,
        took_ms: None,
        moves: Some(r#"["dial 48"]"#.to_owned()),
        given: "{\"bearing\":\"\u{1b}[2J 'quotes' \\u0000\"}".to_owned(),
        help: Help::Decision,
        explained: false,
        exposed: vec![],
        day: date_of(-40),
        ..plain.clone()
    };
    for attempt in [&plain, &full] {
        program.store.record(attempt).unwrap();
    }
    let read = program.store.attempts(program.learner, "true-north", 9).unwrap();
    assert_eq!(read.iter().map(|attempt| &attempt.what).collect::<Vec<_>>(), [&full, &plain]);
    assert!(read[0].id > read[1].id);
    assert_eq!(program.store.attempts(program.learner, "true-north", 1).unwrap().len(), 1);
    assert!(program.store.attempts(program.learner, "turn-back", 9).unwrap().is_empty());
    assert_eq!(program.store.last_day(program.learner).unwrap(), Some(date_of(-40)), "the day of the last answer");
}

#[test]
fn attempts_are_never_changed_and_never_removed() {
    let camp = Camp::new();
    let mut program = camp.program();
    program.answer(&Answer::right(0)).unwrap();
    let refuse = |sql: &str, why: &str| {
        let error = program.store.conn.execute_batch(sql).unwrap_err().to_string();
        assert!(error.contains(why), "{sql}: {error}");
    };
    refuse("UPDATE attempts SET verdict = 'right'", "attempts are never changed");
    refuse("UPDATE attempts SET took_ms = NULL WHERE level = 2", "attempts are never changed");
    refuse("DELETE FROM attempts", "attempts are never removed");
    refuse(
        "INSERT OR REPLACE INTO attempts SELECT key, learner, id, session, at, day, kind, code, skill, level, generation, \
         seed, facts, right_answer, 'rewritten', verdict, mixup, exposed, hinted, explained, took_ms, moves, sheet, entry, help, check_value FROM attempts",
        "attempts are never removed",
    );
    assert_eq!(program.store.attempts(program.learner, "turn-back", 9).unwrap()[0].what.given, r#"{"bearing":"31"}"#);
}

#[test]
fn a_row_that_contradicts_itself_is_refused_by_the_file_and_damage_to_the_reader() {
    let camp = Camp::new();
    let mut program = camp.program();
    program.answer(&Answer::right(0)).unwrap();
    let copy = |verdict: &str, mixup: &str, hinted: u8, help: &str| {
        format!(
            "INSERT INTO attempts SELECT key + 1, learner, randomblob(16), session, at, day, kind, code, skill, level, generation, \
             seed, facts, right_answer, given, {verdict}, {mixup}, exposed, {hinted}, explained, took_ms, moves, sheet, entry, \
             {help}, NULL FROM attempts"
        )
    };
    let bad = [
        copy("'perhaps'", "NULL", 0, "0"),
        copy("'right'", "'wrong-end'", 0, "0"),
        copy("'mix-up'", "NULL", 0, "0"),
        copy("'right'", "NULL", 0, "6"),
        copy("'right'", "NULL", 1, "0"),
        copy("'right'", "NULL", 0, "3"),
    ];
    for bad in &bad {
        let error = program.store.conn.execute_batch(bad).unwrap_err().to_string();
        assert!(error.contains("CHECK constraint failed"), "{bad}: {error}");
    }
    program.store.conn.pragma_update(None, "ignore_check_constraints", true).unwrap();
    program.store.conn.execute_batch(&bad[1]).unwrap();
    let read = program.store.attempts(program.learner, "turn-back", 9);
    assert!(matches!(read, Err(StoreError::Corrupt { .. })), "{read:?}");
}

#[test]
fn an_answer_needs_a_session_of_its_own_learner() {
    let camp = Camp::new();
    let mut program = camp.program();
    let tarn = program.store.add_learner("Tarn", Placement::Fresh, noon(0)).unwrap().id;
    let theirs = program.store.start_session(&session_of(tarn)).unwrap();
    program.session = theirs;
    assert!(matches!(program.answer(&Answer::right(0)), Err(StoreError::NoSuchSession)));
}

#[test]
fn a_skill_the_program_does_not_know_keeps_its_attempts_until_it_does() {
    let camp = Camp::new();
    let mut program = camp.program();
    program.answer(&Answer::mixed_up(1)).unwrap();
    program.answer(&Answer::mixed_up(2)).unwrap();
    program.answer(&Answer::right(1)).unwrap();
    let all = program.beliefs.clone();
    let learner = program.learner;
    drop(program);
    // An older program that knows one skill less …
    let mut older = Store::open(&camp.path(), &[&SKILLS[0], &SKILLS[1]]).unwrap();
    assert_eq!(met(&older.beliefs(learner).unwrap()).len(), 1);
    assert_eq!(older.verify().unwrap().differences, []);
    drop(older);
    // … and the newer one again.
    assert_eq!(camp.open().beliefs(learner).unwrap(), all);
}

#[test]
fn summaries_of_another_model_are_folded_anew_while_an_answer_is_recorded() {
    let camp = Camp::new();
    let mut program = camp.program();
    program.answer(&Answer::mixed_up(1)).unwrap();
    let older = Connection::open(camp.path()).unwrap();
    older.execute_batch("UPDATE learners SET fold = 0; UPDATE summaries SET belief = 'of long ago'").unwrap();
    let recorded = program.answer(&Answer::mixed_up(1)).unwrap();
    assert_eq!(recorded.beliefs, Believed::All(Box::new(program.beliefs.clone())));
    assert_eq!(program.met()[0].count(), 2);
    assert_eq!(program.store.verify().unwrap().differences, []);
}

#[test]
fn a_store_read_only_folds_anew_without_writing() {
    let camp = Camp::new();
    let mut program = camp.program();
    program.answer(&Answer::mixed_up(1)).unwrap();
    program.store.conn.execute("UPDATE learners SET fold = 0", []).unwrap();
    let mut reader = Store::open_to_read(&camp.path(), &skills()).unwrap();
    assert_eq!(reader.beliefs(program.learner).unwrap(), program.beliefs);
    assert_eq!(reader.verify().unwrap().outdated, 1);
}

#[test]
fn verifying_finds_a_summary_that_is_off_and_rebuilding_mends_it() {
    let camp = Camp::new();
    let mut program = camp.program();
    for n in 0..9 {
        program.answer(&Answer::mixed_up(n % 3)).unwrap();
    }
    let store = &mut program.store;
    assert_eq!(store.verify().unwrap().differences, []);
    for damage in [
        "UPDATE summaries SET attempts = attempts + 1 WHERE skill = 'turn-back'",
        "UPDATE summaries SET belief = replace(belief, '\"level\":1', '\"level\":2') WHERE skill = 'turn-back'",
        "UPDATE summaries SET last = zeroblob(16) WHERE skill = 'turn-back'",
        "DELETE FROM summaries WHERE skill = 'turn-back'",
    ] {
        assert_eq!(store.conn.execute(damage, []).unwrap(), 1);
        let found = store.verify().unwrap().differences;
        assert_eq!(
            found.iter().map(|difference| difference.skill.as_str()).collect::<Vec<_>>(),
            ["turn-back"],
            "{damage}"
        );
        store.rebuild().unwrap();
        assert_eq!(store.verify().unwrap().differences, [], "{damage}");
    }
}

#[test]
fn a_summary_that_does_not_agree_with_itself_is_folded_anew_by_the_next_answer() {
    let camp = Camp::new();
    let mut program = camp.program();
    program.answer(&Answer::mixed_up(0)).unwrap();
    program.store.conn.execute("UPDATE summaries SET attempts = 7", []).unwrap();
    let recorded = program.answer(&Answer::mixed_up(0)).unwrap();
    assert!(recorded.change.is_some() && matches!(recorded.beliefs, Believed::All(_)));
    assert_eq!(program.met()[0].count(), 2);
    assert_eq!(program.store.verify().unwrap().differences, []);
}

#[test]
fn verifying_finds_an_attempt_without_a_session() {
    let camp = Camp::new();
    let mut program = camp.program();
    program.answer(&Answer::right(0)).unwrap();
    program.store.conn.execute("DELETE FROM sessions", []).unwrap();
    assert!(matches!(program.store.verify(), Err(StoreError::Corrupt { .. })));
}

fn answers(most: usize) -> impl Strategy<Value = Vec<(Answer, bool)>> {
    let answer = (0..4_i64, 0..SKILLS.len(), 0..5_usize, any::<[bool; 2]>(), prop::bool::weighted(0.15));
    prop::collection::vec(answer, 1..most).prop_map(|list| {
        let mut day = 0;
        list.into_iter()
            .map(|(step, skill, outcome, [hinted, explained], again)| {
                // Mostly forward, now and then a clock set back.
                day += if step == 3 { -2 } else { step };
                (Answer { day, skill, outcome, hinted, explained }, again)
            })
            .collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, ..ProptestConfig::default() })]
    #[test]
    fn summaries_are_the_fold_of_the_attempts(list in answers(40)) {
        let camp = Camp::new();
        let mut program = camp.program();
        program.store.conn.pragma_update(None, "synchronous", "OFF").unwrap();
        // The slow obvious twin: one fold that is never written down.
        let mut twin = Beliefs::new(&skills(), Placement::Fresh);
        for (answer, again) in &list {
            if *again {
                program.read_again();
            }
            let change = twin.observe(&answer.attempt(program.learner, program.session).evidence(&mut Vec::new()));
            prop_assert_eq!(program.answer(answer).unwrap().change, change);
            prop_assert_eq!(&program.beliefs, &twin, "what is handed back");
        }
        prop_assert_eq!(&program.store.beliefs(program.learner).unwrap(), &twin);
        let verified = program.store.verify().unwrap();
        prop_assert_eq!(verified.attempts, list.len() as u64);
        prop_assert_eq!(verified.differences, vec![]);
        program.store.rebuild().unwrap();
        prop_assert_eq!(&program.store.beliefs(program.learner).unwrap(), &twin);
    }
}
