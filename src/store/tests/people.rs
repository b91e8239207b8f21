//! Learners: adding, naming, putting aside, erasing.

use super::super::testing::{Answer, Camp, noon, session_of};
use super::super::{LearnerId, NameError, NewSession, StoreError};
use crate::learner::Placement;
use std::fs;

#[test]
fn a_learner_is_read_back_as_added() {
    let camp = Camp::new();
    let mut store = camp.open();
    let added = store.add_learner("  Ilva  of the Ford ", Placement::DoneBefore, noon(3)).unwrap();
    assert_eq!(added.name, "Ilva of the Ford");
    assert_eq!(added.created_at, noon(3));
    drop(store);
    let store = camp.open();
    assert_eq!(store.learners().unwrap(), std::slice::from_ref(&added));
    assert_eq!(store.learner(added.id).unwrap(), Some(added.clone()));
    assert_eq!(store.learner_by_name("ILVA OF THE FORD").unwrap(), Some(added));
    assert_eq!(store.learner_by_name("Tarn").unwrap(), None);
}

#[test]
fn a_refused_name_says_why() {
    let camp = Camp::new();
    let mut store = camp.open();
    let error = store.add_learner("Il\u{1b}[2Jva", Placement::Fresh, noon(0)).unwrap_err();
    assert!(matches!(error, StoreError::Name(NameError::Control('\u{1b}'))));
    assert_eq!(error.to_string(), "that name holds a control character (U+001B); type it with letters only");
    assert!(store.learners().unwrap().is_empty());
}

#[test]
fn a_name_in_use_is_refused_whatever_its_case() {
    let camp = Camp::new();
    let mut store = camp.open();
    store.add_learner("Öde", Placement::Fresh, noon(0)).unwrap();
    let error = store.add_learner("öDE ", Placement::Fresh, noon(0)).unwrap_err();
    assert!(matches!(&error, StoreError::NameInUse { name } if name == "Öde"), "{error:?}");
    assert_eq!(error.to_string(), "there is a learner named Öde already; choose a name that tells the two apart");
    assert_eq!(store.learners().unwrap().len(), 1);
}

#[test]
fn an_archived_learner_frees_the_name_and_keeps_the_records() {
    let camp = Camp::new();
    let mut program = camp.program();
    program.answer(&Answer::right(0)).unwrap();
    let (store, old) = (&mut program.store, program.learner);
    store.archive_learner(old, true, noon(1)).unwrap();
    assert!(store.learners().unwrap().is_empty());
    assert_eq!(store.archived_learners().unwrap().len(), 1);
    let new = store.add_learner("ilva", Placement::Fresh, noon(1)).unwrap();
    assert!(matches!(store.archive_learner(old, false, noon(2)), Err(StoreError::NameInUse { .. })));
    store.rename_learner(new.id, "Ilva the Younger", noon(2)).unwrap();
    store.archive_learner(old, false, noon(2)).unwrap();
    assert_eq!(store.learners().unwrap().len(), 2);
    assert_eq!(store.attempts(old, "turn-back", 9).unwrap().len(), 1);
}

#[test]
fn a_learner_may_change_the_case_of_their_own_name() {
    let camp = Camp::new();
    let mut store = camp.open();
    let ilva = store.add_learner("ilva", Placement::Fresh, noon(0)).unwrap();
    store.add_learner("Tarn", Placement::Fresh, noon(0)).unwrap();
    store.rename_learner(ilva.id, "Ilva", noon(1)).unwrap();
    assert!(matches!(store.rename_learner(ilva.id, "TARN", noon(1)), Err(StoreError::NameInUse { .. })));
    assert_eq!(store.learner(ilva.id).unwrap().unwrap().name, "Ilva");
}

#[test]
fn the_last_learner_is_the_one_who_sat_down_last() {
    let camp = Camp::new();
    let mut store = camp.open();
    assert_eq!(store.last_learner().unwrap(), None);
    let ilva = store.add_learner("Ilva", Placement::Fresh, noon(0)).unwrap();
    let tarn = store.add_learner("Tarn", Placement::Fresh, noon(0)).unwrap();
    assert_eq!(store.last_learner().unwrap(), None, "nobody has sat down yet");
    for (learner, day) in [(ilva.id, 1), (tarn.id, 2), (ilva.id, 3)] {
        store.start_session(&NewSession { at: noon(day), ..session_of(learner) }).unwrap();
    }
    assert_eq!(store.last_learner().unwrap(), Some(ilva.clone()));
    store.archive_learner(ilva.id, true, noon(4)).unwrap();
    assert_eq!(store.last_learner().unwrap(), Some(tarn));
}

#[test]
fn erasing_leaves_a_tombstone_and_not_a_byte_of_the_name() {
    let camp = Camp::new();
    let mut program = camp.program();
    let store = &mut program.store;
    let gone = store.add_learner("Quillon Brackwater", Placement::Fresh, noon(0)).unwrap().id;
    let session = store.start_session(&session_of(gone)).unwrap();
    for n in 0..30 {
        let mut attempt = Answer::right(n % 3).attempt(gone, session);
        attempt.given = format!(r#"{{"bearing":"unmistakable-{n}"}}"#);
        store.record(&attempt).unwrap();
    }
    assert!(found(&camp, b"Quillon") && found(&camp, b"unmistakable"), "or the search below proves nothing");
    let erased = store.erase_learner(gone, noon(5)).unwrap();
    assert_eq!((erased.attempts, erased.wiped), (30, true));
    assert!(!found(&camp, b"Quillon") && !found(&camp, b"quillon") && !found(&camp, b"unmistakable"));

    let count = |sql: &str| store.conn.query_row(sql, [], |row| row.get::<_, i64>(0)).unwrap();
    assert_eq!(count("SELECT count(*) FROM tombstones"), 1);
    assert_eq!(count("SELECT count(*) FROM attempts"), 0);
    assert_eq!(count("SELECT count(*) FROM learners"), 1, "the other one");
    assert!(matches!(store.beliefs(gone), Err(StoreError::NoSuchLearner(id)) if id == gone));
    assert!(matches!(store.erase_learner(gone, noon(6)), Err(StoreError::NoSuchLearner(_))));
    assert_eq!(store.verify().unwrap().learners, 1);
}

/// Whether these bytes stand anywhere in the store's files.
fn found(camp: &Camp, what: &[u8]) -> bool {
    let mut files = fs::read_dir(camp.path().parent().unwrap()).unwrap();
    files.any(|entry| fs::read(entry.unwrap().path()).unwrap().windows(what.len()).any(|bytes| bytes == what))
}

#[test]
fn an_erased_learner_cannot_be_put_back() {
    let camp = Camp::new();
    let mut program = camp.program();
    let id: LearnerId = program.learner;
    program.store.erase_learner(id, noon(1)).unwrap();
    let back = program.store.conn.execute(
        "INSERT INTO learners (id, name, name_key, placement, created_at, changed_at, fold) \
         VALUES (?1, 'Ilva', 'ilva', 'fresh', 0, 0, 0)",
        [id.0],
    );
    assert!(back.unwrap_err().to_string().contains("this learner was erased"));
    let forget = program.store.conn.execute("DELETE FROM tombstones", []);
    assert!(forget.unwrap_err().to_string().contains("tombstones stay"));
}

#[test]
fn an_answer_of_a_learner_erased_meanwhile_is_refused_kindly() {
    let camp = Camp::new();
    let mut program = camp.program();
    camp.open().erase_learner(program.learner, noon(1)).unwrap();
    let error = program.answer(&Answer::right(0)).unwrap_err();
    assert!(matches!(error, StoreError::NoSuchLearner(_)), "{error:?}");
    assert!(matches!(program.store.start_session(&session_of(program.learner)), Err(StoreError::NoSuchLearner(_))));
}
