//! What is taken back afterwards, and what else stands beside the records since version 3.

use super::super::check_value::Checked;
use super::super::ids::Id;
use super::super::testing::{Answer, Camp, date_of, give_check_values, met, noon, session_of};
use super::super::{AttemptKind, NewAttempt, NewCheck, NewSession, Said, Seen, SeenOutcome, StoreError};
use crate::learner::Placement;
use proptest::prelude::*;
use rusqlite::params;

#[test]
fn an_answer_taken_back_stays_in_the_file_and_counts_for_nothing() {
    let camp = Camp::new();
    let (mut program, mut twin) = (camp.program(), Camp::new().program());
    for answer in [Answer::right(0), Answer::mixed_up(0), Answer::right(1)] {
        program.answer(&answer).unwrap();
    }
    twin.answer(&Answer::right(0)).unwrap();
    twin.answer(&Answer::right(1)).unwrap();
    let slip = program.store.attempts(program.learner, "turn-back", 1).unwrap()[0].id;
    program.mark(slip, "undone");
    assert_eq!(program.store.beliefs(program.learner).unwrap(), twin.beliefs);
    assert_eq!(program.store.attempts(program.learner, "turn-back", 9).unwrap().len(), 1);
    let kept: i64 = program.store.conn.query_row("SELECT count(*) FROM attempts", [], |row| row.get(0)).unwrap();
    assert_eq!(kept, 3);
    // And the next answer goes on from there.
    for both in [&mut program, &mut twin] {
        both.answer(&Answer::mixed_up(0)).unwrap();
    }
    assert_eq!(program.beliefs, twin.beliefs);
    assert_eq!(program.store.verify().unwrap().differences, []);
}

#[test]
fn a_slip_is_taken_back_once_and_never_in_a_check() {
    let camp = Camp::new();
    let mut program = camp.program();
    program.answer(&Answer::right(0)).unwrap();
    let before = program.beliefs.clone();
    let slip = program.answer(&Answer::mixed_up(0)).unwrap().id;
    let of_kind = |program: &super::super::testing::Program, kind| NewAttempt {
        kind,
        ..Answer::mixed_up(1).attempt(program.learner, program.session)
    };
    let take_back = |program: &mut super::super::testing::Program, slip| {
        program.store.take_back(program.learner, slip, date_of(0), noon(0))
    };
    assert_eq!(program.store.taken_back(program.learner).unwrap(), 0);
    assert_eq!(take_back(&mut program, slip).unwrap(), before);
    assert_eq!(program.store.beliefs(program.learner).unwrap(), before);
    assert!(matches!(take_back(&mut program, slip), Err(StoreError::NotTakenBack)));
    let round = of_kind(&program, AttemptKind::Round);
    let round = program.store.record(&round).unwrap().id;
    assert_eq!(take_back(&mut program, round).unwrap(), before, "what was entered for a round can be mistyped, too");
    let check = of_kind(&program, AttemptKind::Check);
    let check = program.store.record(&check).unwrap().id;
    assert!(matches!(take_back(&mut program, check), Err(StoreError::NotTakenBack)));
    assert_eq!(program.store.taken_back(program.learner).unwrap(), 1, "the round's is whose who typed it in");
    assert_eq!(program.store.attempts(program.learner, "turn-back", 9).unwrap().len(), 1);
    assert_eq!(program.store.verify().unwrap().differences, []);
}

#[test]
fn the_only_answer_of_a_skill_taken_back_leaves_it_not_met() {
    let camp = Camp::new();
    let mut program = camp.program();
    let before = program.beliefs.clone();
    let slip = program.answer(&Answer::mixed_up(1)).unwrap().id;
    program.mark(slip, "undone");
    assert_eq!(program.store.beliefs(program.learner).unwrap(), before);
    assert_eq!(program.store.verify().unwrap().attempts, 0);
}

#[test]
fn an_annulled_answer_is_none_of_its_check() {
    let camp = Camp::new();
    let mut program = camp.program();
    let learner = program.learner;
    let rules = "{}".to_owned();
    let new = NewCheck { learner, at: noon(0), day: date_of(0), standard: "day-outing".to_owned(), rules };
    let check = program.store.start_check(&new, 0).unwrap().unwrap();
    let session = NewSession { check: Some(check), ..session_of(learner) };
    let session = program.store.start_session(&session).unwrap();
    for answer in [Answer::mixed_up(0), Answer::right(0)] {
        let attempt = NewAttempt { kind: AttemptKind::Check, ..answer.attempt(learner, session) };
        program.store.record(&attempt).unwrap();
    }
    let lost = program.store.attempts_of_check(check).unwrap()[0].id;
    program.mark(lost, "annulled");
    let answers = program.store.checks(learner).unwrap().remove(0).answers;
    assert_eq!(answers.iter().map(|answer| answer.verdict.is_right()).collect::<Vec<_>>(), [true]);
    assert_eq!(program.store.attempts_of_check(check).unwrap().len(), 1);
    // A waiting time is shortened, an answer is not.
    let shorten = |kind: &str| {
        program.store.conn.execute(
            "INSERT INTO marks (id, learner, kind, target, what, skill, reason, marked_at, day) \
             VALUES (?1, 1, ?2, ?3, 'shortened', 'turn-back', 'a hike tomorrow', 0, '2026-03-02')",
            params![Id::new(noon(1)), kind, if kind == "check" { check.0 } else { lost.0 }],
        )
    };
    assert!(shorten("attempt").unwrap_err().to_string().contains("CHECK constraint failed"));
    assert_eq!(shorten("check").unwrap(), 1);
    give_check_values(&program.store);
    assert_eq!(program.store.verify().unwrap().differences, []);
}

#[test]
fn what_was_seen_can_be_taken_back() {
    let camp = Camp::new();
    let mut program = camp.program();
    let (skill, what, by) = ("turn-back".to_owned(), String::new(), "Alma".to_owned());
    let outcome = SeenOutcome::NotSaid;
    let seen = Seen { learner: program.learner, skill, what, day: date_of(1), by, outcome };
    let entries = program.store.add_seen(&[seen], noon(1)).unwrap();
    program.store.take_seen_back(&entries, date_of(1), noon(1)).unwrap();
    assert!(matches!(program.store.take_seen_back(&entries, date_of(1), noon(2)), Err(StoreError::NotTakenBack)));
    assert_eq!(program.store.seen().unwrap(), []);
    let outcome: String = program.store.conn.query_row("SELECT outcome FROM seen", [], |row| row.get(0)).unwrap();
    assert_eq!(outcome, "not-said", "nobody asked");
}

#[test]
fn marks_and_aliases_are_only_ever_added_and_marks_name_what_is_there() {
    let camp = Camp::new();
    let mut program = camp.program();
    let slip = program.answer(&Answer::right(0)).unwrap().id;
    program.mark(slip, "undone");
    let tarn = program.store.add_learner("Tarn", Placement::Fresh, noon(0)).unwrap().id;
    alias(&program.store.conn, program.learner.0, tarn.0, true);
    let refuse = |sql: &str, why: &str| {
        let error = program.store.conn.execute(sql, []).unwrap_err().to_string();
        assert!(error.contains(why), "{sql}: {error}");
    };
    refuse("UPDATE marks SET reason = ''", "marks are never changed");
    refuse("DELETE FROM marks", "marks are never removed");
    refuse("UPDATE aliases SET same = 0", "aliases are never changed");
    refuse("DELETE FROM aliases", "aliases are never removed");
    let copied = "INSERT INTO marks (id, learner, kind, target, what, reason, marked_at, day) \
                  SELECT randomblob(16), learner, kind, target, what, reason, marked_at, day FROM marks";
    refuse(
        &copied.replace(
            "kind, target, what, reason, marked_at, day FROM",
            "kind, randomblob(16), what, reason, marked_at, day FROM",
        ),
        "a mark needs what it marks",
    );
    refuse(
        &copied.replace("SELECT randomblob(16), learner, kind,", "SELECT randomblob(16), learner, 'seen',"),
        "a mark needs what it marks",
    );
    refuse(
        &copied.replace("SELECT randomblob(16), learner,", "SELECT randomblob(16), 2,"),
        "a mark needs what it marks",
    );
}

/// Says that two learners are one person, or that they are not.
fn alias(conn: &rusqlite::Connection, one: Id, other: Id, same: bool) {
    let sql = Checked::named("aliases").insert(
        "SELECT ?1 AS id, one.key AS learner, two.key AS other, ?4 AS same, 0 AS said_at \
         FROM learners AS one, learners AS two WHERE one.id = ?2 AND two.id = ?3",
    );
    assert_eq!(conn.execute(&sql, params![Id::new(noon(0)), one, other, same]).unwrap(), 1);
}

#[test]
fn a_problem_of_a_sheet_counts_once_and_can_be_entered_again_when_it_was_undone() {
    let camp = Camp::new();
    let mut program = camp.program();
    program.answer(&Answer::right(0)).unwrap();
    let conn = &program.store.conn;
    let sheet = "INSERT INTO sheets (key, id, learner, codes, made_at, day) \
                 SELECT 1, ?1, 1, json_array(code), 0, '2026-03-01' FROM attempts WHERE key = 1";
    conn.execute(sheet, [Id::new(noon(0))]).unwrap();
    let enter = |key: i64, kind: &str, entry: i64| {
        conn.execute(
            "INSERT INTO attempts SELECT ?1, learner, ?2, session, at, day, ?3, code, skill, level, generation, seed, facts, \
             right_answer, given, verdict, mixup, exposed, hinted, explained, took_ms, moves, 1, ?4, help, NULL FROM attempts WHERE key = 1",
            params![key, Id::new(noon(key)), kind, entry],
        )
    };
    assert!(
        enter(2, "practice", 0).unwrap_err().to_string().contains("CHECK constraint failed"),
        "no sheet in practice"
    );
    enter(2, "worksheet", 0).unwrap();
    assert!(enter(3, "worksheet", 0).unwrap_err().to_string().contains("UNIQUE constraint failed"));
    enter(3, "worksheet", 1).unwrap();
    give_check_values(&program.store);
    program.store.rebuild().unwrap();
    assert_eq!(program.store.verify().unwrap().attempts, 3);
}

#[test]
fn verifying_finds_a_mark_of_nothing_and_a_sheet_of_somebody_else() {
    for damage in [
        "DROP TRIGGER marks_have_a_target; INSERT INTO marks VALUES (1, randomblob(16), 1, 'seen', randomblob(16), 'undone', NULL, '', 0, '', NULL)",
        "INSERT INTO sheets VALUES (1, randomblob(16), 2, '[]', 0, '', NULL); DROP TRIGGER attempts_never_change; \
         UPDATE attempts SET kind = 'worksheet', sheet = 1, entry = 0",
    ] {
        let camp = Camp::new();
        let mut program = camp.program();
        program.answer(&Answer::right(0)).unwrap();
        let [_, tarn, bo] = ["Tarn", "Tarn II", "Bo"]
            .map(|name| program.store.add_learner(name, Placement::Fresh, noon(0)).unwrap().id);
        // That two others are one person excuses nothing.
        program.store.say(&[Said { one: tarn, other: bo, same: true }], noon(0)).unwrap();
        assert!(program.store.verify().is_ok());
        program.store.conn.execute_batch(damage).unwrap();
        give_check_values(&program.store);
        assert!(matches!(program.store.verify(), Err(StoreError::Corrupt { .. })), "{damage}");
    }
}

#[test]
fn erasing_one_id_of_a_person_erases_all_of_them_with_everything_beside() {
    let camp = Camp::new();
    let mut program = camp.program();
    let slip = program.answer(&Answer::right(0)).unwrap().id;
    program.mark(slip, "undone");
    let ids =
        ["Tarn", "Tarn II", "Bo"].map(|name| program.store.add_learner(name, Placement::Fresh, noon(0)).unwrap().id);
    let conn = &program.store.conn;
    alias(conn, program.learner.0, ids[0].0, true);
    alias(conn, ids[1].0, ids[0].0, true);
    alias(conn, ids[1].0, ids[2].0, false);
    conn.execute_batch(
        "INSERT INTO sheets VALUES (1, randomblob(16), 1, '[]', 0, '', NULL), (2, randomblob(16), 4, '[]', 0, '', NULL)",
    )
    .unwrap();
    conn.execute_batch(
        "INSERT INTO attempts SELECT 9, learner, randomblob(16), session, at, day, 'worksheet', code, skill, level, generation, \
         seed, facts, right_answer, given, verdict, mixup, exposed, hinted, explained, took_ms, moves, 1, 0, help, NULL FROM attempts",
    )
    .unwrap();
    let erased = program.store.erase_learner(ids[1], noon(1)).unwrap();
    assert_eq!(erased.attempts, 2);
    let left = |table: &str| {
        let sql = format!("SELECT count(*) FROM {table}");
        program.store.conn.query_row(&sql, [], |row| row.get::<_, i64>(0)).unwrap()
    };
    let tables = ["attempts", "summaries", "marks", "aliases", "sheets", "sessions", "learners", "tombstones"];
    assert_eq!(tables.map(left), [0, 0, 0, 0, 1, 0, 1, 3], "Bo is somebody else, whose sheet stays");
    assert_eq!(program.store.learners().unwrap()[0].name, "Bo");
}

#[test]
fn a_day_that_was_given_is_marked_as_such() {
    let camp = Camp::new();
    let program = camp.program();
    let mut store = camp.open();
    store.start_session(&NewSession { day_given: true, at: noon(1), ..session_of(program.learner) }).unwrap();
    let mut statement = store.conn.prepare("SELECT day_given FROM sessions ORDER BY key").unwrap();
    let given: Vec<bool> = statement.query_map([], |row| row.get(0)).unwrap().map(Result::unwrap).collect();
    assert_eq!(given, [false, true]);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 30, ..ProptestConfig::default() })]
    #[test]
    fn whatever_is_taken_back_the_rest_folds_as_if_it_had_never_been(
        list in prop::collection::vec((0..3_usize, 0..5_usize, 0..3_i64, prop::bool::weighted(0.3)), 1..25)
    ) {
        let camp = Camp::new();
        let (mut program, mut twin) = (camp.program(), Camp::new().program());
        for program in [&program, &twin] {
            program.store.conn.pragma_update(None, "synchronous", "OFF").unwrap();
        }
        for (skill, outcome, day, back) in list {
            let answer = Answer { day, skill, outcome, hinted: false, explained: true };
            let id = program.answer(&answer).unwrap().id;
            if back {
                program.mark(id, "undone");
            } else {
                twin.answer(&answer).unwrap();
                prop_assert_eq!(&program.beliefs, &twin.beliefs);
            }
        }
        let stored = program.store.beliefs(program.learner).unwrap();
        prop_assert_eq!(met(&stored), twin.met());
        prop_assert_eq!(&stored, &twin.beliefs);
        prop_assert_eq!(program.store.verify().unwrap().differences, vec![]);
    }
}
