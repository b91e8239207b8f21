//! The file itself: its mode, its settings, and that what was recorded is on the disk.
#![expect(clippy::cast_possible_truncation, reason = "what a test counts and draws is small")]

use super::super::testing::{Answer, Camp, skills};
use super::super::{Store, StoreError, schema};
use std::fs;
use std::os::unix::fs::PermissionsExt;

fn mode(path: &std::path::Path) -> u32 {
    fs::metadata(path).unwrap().permissions().mode() & 0o777
}

#[test]
fn a_new_store_is_for_its_owner_alone() {
    let camp = Camp::new();
    let mut program = camp.program();
    program.answer(&Answer::right(0)).unwrap();
    assert_eq!(mode(&camp.path()), 0o600);
    assert_eq!(mode(camp.path().parent().unwrap()), 0o700);
    for beside in ["records/needlewise.db-wal", "records/needlewise.db-shm"] {
        assert_eq!(mode(&camp.file(beside)), 0o600, "{beside}");
    }
}

#[test]
fn making_a_store_leaves_nothing_else_behind() {
    let camp = Camp::new();
    drop(camp.open());
    let names: Vec<_> =
        fs::read_dir(camp.path().parent().unwrap()).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    assert_eq!(names, ["needlewise.db"]);
}

#[test]
fn every_commit_waits_for_the_disk() {
    // SIGKILL cannot show what a power cut does; the settings can: WAL with FULL (2) syncs the log at each commit
    // (sqlite.org/pragma.html#pragma_synchronous).
    let camp = Camp::new();
    for store in [camp.open(), camp.open()] {
        let text = |name: &str| store.conn.pragma_query_value(None, name, |row| row.get::<_, String>(0)).unwrap();
        let number = |name: &str| store.conn.pragma_query_value(None, name, |row| row.get::<_, i64>(0)).unwrap();
        assert_eq!(text("journal_mode"), "wal");
        assert_eq!(number("synchronous"), 2);
        assert_eq!(number("foreign_keys"), 1);
        assert_eq!(number("trusted_schema"), 0);
        assert_eq!(number("recursive_triggers"), 1);
        assert_eq!(number("application_id"), i64::from(schema::APPLICATION_ID));
        assert_eq!(number("user_version"), schema::VERSION);
    }
}

#[test]
fn what_is_recorded_is_in_the_files_when_the_call_returns() {
    let camp = Camp::new();
    let mut program = camp.program();
    for n in 1..=20 {
        let recorded = program.answer(&Answer::mixed_up(1)).unwrap();
        // The files as a power cut would leave them at this moment: nothing closed, nothing checkpointed.
        let copy = Camp::new();
        fs::create_dir(copy.file("records")).unwrap();
        fs::copy(camp.path(), copy.path()).unwrap();
        fs::copy(camp.file("records/needlewise.db-wal"), copy.file("records/needlewise.db-wal")).unwrap();
        let mut store = copy.open();
        let attempts = store.attempts(program.learner, "true-north", 100).unwrap();
        assert_eq!(attempts.len(), n);
        assert_eq!(attempts[0].id, recorded.id);
        assert_eq!(store.beliefs(program.learner).unwrap(), program.beliefs, "and the summary with it");
    }
}

#[test]
fn a_torn_last_commit_leaves_the_ones_before_it() {
    let camp = Camp::new();
    let mut program = camp.program();
    program.answer(&Answer::right(0)).unwrap();
    let before = program.beliefs.clone();
    let log = camp.file("records/needlewise.db-wal");
    let whole = fs::metadata(&log).unwrap().len();
    program.answer(&Answer::right(0)).unwrap();
    let longer = fs::read(&log).unwrap();
    for cut in [whole + 1, whole + 24 + 2_000, longer.len() as u64 - 1] {
        let copy = Camp::new();
        fs::create_dir(copy.file("records")).unwrap();
        fs::copy(camp.path(), copy.path()).unwrap();
        fs::write(copy.file("records/needlewise.db-wal"), &longer[..cut as usize]).unwrap();
        let mut store = copy.open();
        assert_eq!(store.attempts(program.learner, "turn-back", 9).unwrap().len(), 1, "cut at {cut}");
        assert_eq!(store.beliefs(program.learner).unwrap(), before, "never the attempt without its summary");
        assert!(store.verify().unwrap().differences.is_empty());
    }
}

#[test]
fn a_name_that_sqlite_reads_in_its_own_way_is_only_a_name() {
    let camp = Camp::new();
    for name in [":memory:", "file:records?mode=memory", "a b%20c#d?e"] {
        let path = camp.file(name);
        drop(Store::open(&path, &skills()).unwrap());
        assert!(path.is_file(), "{name}");
    }
}

#[test]
fn two_programs_that_make_the_same_store_get_one() {
    let camp = Camp::new();
    let path = camp.path();
    std::thread::scope(|scope| {
        for n in 0..8 {
            let path = &path;
            scope.spawn(move || {
                let mut store = Store::open(path, &skills()).unwrap();
                let name = format!("Learner {n}");
                store.add_learner(&name, crate::learner::Placement::Fresh, super::super::testing::noon(n)).unwrap();
            });
        }
    });
    assert_eq!(camp.open().learners().unwrap().len(), 8);
}

#[test]
fn a_pipe_beside_the_store_is_named_and_nobody_waits_for_it() {
    for end in ["-wal", "-shm", "-journal"] {
        let camp = Camp::new();
        drop(camp.open());
        let pipe = camp.file(&format!("records/needlewise.db{end}"));
        assert!(std::process::Command::new("mkfifo").arg(&pipe).status().unwrap().success());
        let refused = [
            Store::open(&camp.path(), &skills()).map(drop),
            Store::open_to_read(&camp.path(), &skills()).map(drop),
            super::super::inspect(&camp.path(), &skills(), &mut |_, _| {}).map(drop),
        ];
        for refused in refused {
            let error = refused.unwrap_err();
            assert!(matches!(error, StoreError::OddBeside { .. }), "{error:?}");
            assert!(error.to_string().contains(&format!("needlewise.db{end} is no ordinary file")), "{error}");
        }
        fs::remove_file(&pipe).unwrap();
        camp.open();
    }
}

#[test]
fn a_store_of_an_older_version_is_read_where_nothing_can_be_written() {
    for version in 1..schema::VERSION {
        let camp = Camp::new();
        let kept = std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
            .join(format!("tests/reference/stores/version_{version}.sqlite"));
        let old = camp.file("old");
        fs::copy(kept, &old).unwrap();
        let before = fs::read(&old).unwrap();
        let mut store = Store::open_to_read(&old, &skills()).unwrap();
        let mut learners = store.learners().unwrap();
        learners.extend(store.archived_learners().unwrap());
        assert_eq!(learners.len(), 3);
        for learner in &learners {
            store.beliefs(learner.id).unwrap();
        }
        let added = store.add_learner("Kim", crate::learner::Placement::Fresh, super::super::testing::noon(0));
        assert!(matches!(added, Err(StoreError::ReadOnly { .. })), "{added:?}");
        assert_eq!(fs::read(&old).unwrap(), before);
    }
}

/// Found by a fuzzer: two bits of one answer, in a store from before answers had check values.
#[test]
fn an_answer_of_an_older_store_that_no_program_writes_is_not_called_whole() {
    let kept = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference/stores/version_2.sqlite");
    let camp = Camp::new();
    let copy = camp.file("copy");
    let look = || super::super::inspect(&copy, &skills(), &mut |_, _| {}).unwrap();
    let mut bytes = fs::read(kept).unwrap();
    fs::write(&copy, &bytes).unwrap();
    assert!(look().is_whole());
    for (at, before, after) in [(115_202, 0x22, 0xa2), (115_218, 0x7d, 0x6d)] {
        assert_eq!(std::mem::replace(&mut bytes[at], after), before, "the facts and the right answer of one answer");
    }
    fs::write(&copy, &bytes).unwrap();
    let found = look();
    assert!(!found.is_whole(), "{found:?}");
    assert!(found.file[0].contains("no program of ours writes"), "{:?}", found.file);
}
