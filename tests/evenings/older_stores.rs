//! Stores of older versions, kept as files: `tests/reference/stores/` holds one of each, made by running the steps of the
//! schema up to that version (SQLite 3.40) and inserting three learners (one put aside), six sessions, 42 answers of three
//! skills (one of them unknown to any program), summaries of another model and, from version 2 on, a check and two
//! things seen; those of versions 3 to 6 are the one of version 2 brought up by the next steps, with a lesson begun, those
//! of versions 5 and 6 by the programs of their days, which also printed a sheet each. Never made again: an older program would not write them otherwise today.
#![expect(clippy::cast_possible_wrap, reason = "what a test counts and draws is small")]

use needlewise::learner::Beliefs;
use needlewise::skills;
use needlewise::store::{Attempt, Help, Learner, NewAttempt, NewSession, RecordedVerdict, SheetWord, Store};
use rusqlite::Connection;
use std::path::{Path, PathBuf};

/// A copy of the store of a version, in a folder of its own.
fn copy_of(version: u8, folder: &Path) -> PathBuf {
    let kept = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/reference/stores/version_{version}.sqlite"));
    let path = folder.join("records.sqlite");
    std::fs::copy(kept, &path).unwrap();
    path
}

fn open(path: &Path) -> Store {
    Store::open(path, &skills::metas().collect::<Vec<_>>()).unwrap()
}

fn number(path: &Path, sql: &str) -> i64 {
    Connection::open(path).unwrap().query_row(sql, [], |row| row.get(0)).unwrap()
}

fn everybody(store: &Store) -> Vec<Learner> {
    store.learners().unwrap().into_iter().chain(store.archived_learners().unwrap()).collect()
}

/// All answers of a learner in the order they were given.
fn answers(store: &Store, learner: &Learner) -> Vec<Attempt> {
    let skills = ["back-bearing", "true-magnetic", "of-a-later-program"];
    let mut all: Vec<Attempt> =
        skills.iter().flat_map(|skill| store.attempts(learner.id, skill, 1_000).unwrap()).collect();
    all.sort_by_key(|attempt| attempt.id);
    all
}

/// What a new store believes of somebody who gives the same answers.
fn folded_anew(folder: &Path, learner: &Learner, answers: &[Attempt]) -> Beliefs {
    let mut store = open(&folder.join(format!("{}.sqlite", learner.name)));
    let id = store.add_learner(&learner.name, learner.placement, learner.created_at).unwrap().id;
    let first = &answers[0].what;
    let program = "0.1.0".to_owned();
    let (at, day) = (first.at, first.day);
    let session = NewSession { learner: id, at, day, day_given: false, drill: None, check: None, program };
    let session = store.start_session(&session).unwrap();
    for answer in answers {
        store.record(&NewAttempt { learner: id, session, ..answer.what.clone() }).unwrap();
    }
    store.beliefs(id).unwrap()
}

#[test]
fn an_older_store_opens_with_all_its_answers_and_folds_to_the_same_beliefs() {
    for version in 1..=6 {
        let folder = tempfile::tempdir().unwrap();
        let path = copy_of(version, folder.path());
        assert_eq!(number(&path, "PRAGMA user_version"), i64::from(version));
        let mut store = open(&path);
        assert_eq!(number(&path, "PRAGMA user_version"), 7);
        let people = everybody(&store);
        assert_eq!(people.iter().map(|learner| learner.name.as_str()).collect::<Vec<_>>(), ["Ilva", "Tarn", "Mossa"]);
        let mut all = 0;
        for learner in &people {
            let answers = answers(&store, learner);
            all += answers.len();
            let beliefs = store.beliefs(learner.id).unwrap();
            assert!(
                beliefs.skill("back-bearing").unwrap().count() > 0
                    && beliefs.skill("true-magnetic").unwrap().count() > 0
            );
            assert_eq!(beliefs, folded_anew(folder.path(), learner, &answers), "version {version}, {}", learner.name);
        }
        assert_eq!(all, 42);
        let verified = store.verify().unwrap();
        assert_eq!((verified.learners, verified.outdated, verified.differences), (3, 0, vec![]));
    }
}

#[test]
fn what_an_older_store_did_not_say_is_told_as_not_said() {
    let folder = tempfile::tempdir().unwrap();
    let path = copy_of(2, folder.path());
    let store = open(&path);
    let ilva = store.learner_by_name("Ilva").unwrap().unwrap();
    let hinted = "SELECT count(*) FROM attempts WHERE hinted = 1 AND learner = 1 AND help IS NULL";
    let answers = answers(&store, &ilva);
    let after_hint = answers.iter().filter(|answer| answer.what.help == Help::Hint).count();
    assert_eq!(after_hint as i64, number(&path, hinted));
    assert!(after_hint > 0 && answers.iter().all(|answer| matches!(answer.what.help, Help::Hint | Help::Bare)));
    assert_eq!(store.seen().unwrap().len(), 2);
    assert_eq!(number(&path, "SELECT count(*) FROM seen WHERE outcome = 'not-said'"), 2);
    assert_eq!(number(&path, "SELECT count(*) FROM sessions WHERE day_given"), 0);
    let check = &store.checks(ilva.id).unwrap()[0];
    assert_eq!(check.answers.iter().filter(|answer| answer.verdict == RecordedVerdict::Right).count(), 3);
    assert_eq!(check.answers.len(), 7);
}

#[test]
fn a_sheet_of_an_older_store_can_be_put_away_and_its_problems_said_to_be_not_done() {
    let folder = tempfile::tempdir().unwrap();
    let path = copy_of(5, folder.path());
    let mut store = open(&path);
    let ilva = store.learner_by_name("Ilva").unwrap().unwrap().id;
    let sheet = store.sheets(ilva).unwrap().remove(0);
    assert_eq!((sheet.codes.len(), sheet.open().count(), sheet.put_away), (8, 8, false), "nothing was said of it then");
    let (day, now) = (sheet.day, "2026-11-21T18:00:00Z".parse().unwrap());
    store.say_of_sheet(sheet.id, &SheetWord::NotDone(sheet.codes[2].clone()), day, now).unwrap();
    store.say_of_sheet(sheet.id, &SheetWord::PutAway, day, now).unwrap();
    let said = store.sheets(ilva).unwrap().remove(0);
    assert_eq!((said.not_done, said.put_away, said.entered.len()), (vec![2], true, 0));
    assert_eq!(store.verify().unwrap().differences, []);
}

#[test]
fn an_older_store_is_read_by_whoever_must_not_change_it_as_it_will_be_when_it_is_brought_up_to_date() {
    for version in 1..=6 {
        let folder = tempfile::tempdir().unwrap();
        let path = copy_of(version, folder.path());
        let before = std::fs::read(&path).unwrap();
        let mut read = Store::open_to_read(&path, &skills::metas().collect::<Vec<_>>()).unwrap();
        let told: Vec<_> = everybody(&read)
            .iter()
            .map(|one| (one.clone(), answers(&read, one), read.beliefs(one.id).unwrap()))
            .collect();
        drop(read);
        assert_eq!(number(&path, "PRAGMA user_version"), i64::from(version));
        assert_eq!(std::fs::read(&path).unwrap(), before, "not a byte of it was changed");
        let mut store = open(&path);
        for (one, answered, believed) in told {
            assert_eq!(answers(&store, &one), answered);
            assert_eq!(store.beliefs(one.id).unwrap(), believed);
        }
    }
}
