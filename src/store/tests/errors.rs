//! Each thing that can be wrong with the file, with a real file, and what is said about it.
#![expect(clippy::cast_possible_truncation, reason = "what a test counts and draws is small")]

use super::super::testing::{Answer, Camp, met, skills};
use super::super::{NotAStore, Store, StoreError};
use crate::learner::Placement;
use rusqlite::Connection;
use std::fs;
use std::io::{Seek, SeekFrom, Write};
use std::path::Path;
use std::time::Duration;

fn refused(path: &Path) -> StoreError {
    Store::open(path, &skills()).expect_err("this must not open")
}

/// Every message is one line that says what was kept and what to do.
fn says(error: &StoreError, happened: &str, kept: &str, to_do: &str) {
    let said = error.to_string();
    for part in [happened, kept, to_do] {
        assert!(said.contains(part), "{part:?} is not in {said:?}");
    }
    assert!(!said.contains('\n'), "{said:?}");
}

#[test]
fn a_path_under_a_regular_file_cannot_be_made() {
    let camp = Camp::new();
    let file = camp.file("notes");
    fs::write(&file, "dry socks").unwrap();
    for path in [file.join("needlewise.db"), file.join("deeper").join("needlewise.db")] {
        let error = refused(&path);
        assert!(matches!(error, StoreError::CannotCreate { .. }), "{error:?}");
        says(&error, "a folder on the way to it is a file", "Nothing was changed", "--store");
    }
    assert_eq!(fs::read_to_string(&file).unwrap(), "dry socks");
}

#[cfg(unix)]
#[test]
fn a_link_that_leads_nowhere_is_left_alone() {
    let camp = Camp::new();
    let path = camp.file("needlewise.db");
    std::os::unix::fs::symlink(camp.file("gone"), &path).unwrap();
    let error = refused(&path);
    assert!(matches!(error, StoreError::CannotCreate { .. }), "{error:?}");
    says(&error, "leads nowhere", "Nothing was changed", "--store");
    assert_eq!(fs::read_dir(path.parent().unwrap()).unwrap().count(), 1, "no draft stays behind");
}

#[test]
fn a_text_file_is_no_store_and_stays_as_it_is() {
    let camp = Camp::new();
    let path = camp.file("list.txt");
    let text = "rope, matches, map\n".repeat(100);
    fs::write(&path, &text).unwrap();
    let error = refused(&path);
    assert!(matches!(error, StoreError::NotAStore { what: NotAStore::NotADatabase, .. }), "{error:?}");
    says(&error, "not a needlewise store", "left as it is", "--store");
    assert_eq!(fs::read_to_string(&path).unwrap(), text);
}

#[test]
fn an_empty_file_does_not_become_a_store() {
    let camp = Camp::new();
    let path = camp.file("needlewise.db");
    fs::write(&path, "").unwrap();
    let error = refused(&path);
    assert!(matches!(error, StoreError::NotAStore { what: NotAStore::Empty, .. }), "{error:?}");
    says(&error, "the file is empty", "left as it is", "restore a backup");
    assert_eq!(fs::metadata(&path).unwrap().len(), 0);
}

#[test]
fn a_folder_is_no_store() {
    let camp = Camp::new();
    let error = refused(camp.file("").as_path());
    assert!(matches!(error, StoreError::NotAStore { what: NotAStore::NotAFile, .. }), "{error:?}");
    says(&error, "no ordinary file", "left as it is", "--store");
}

#[test]
fn a_database_of_another_program_is_no_store_and_stays_as_it_is() {
    let camp = Camp::new();
    let path = camp.file("other.db");
    Connection::open(&path).unwrap().execute_batch("CREATE TABLE recipes (soup TEXT)").unwrap();
    let before = fs::read(&path).unwrap();
    let error = refused(&path);
    assert!(matches!(error, StoreError::NotAStore { what: NotAStore::AnotherDatabase, .. }), "{error:?}");
    says(&error, "database of another program", "left as it is", "--store");
    assert_eq!(fs::read(&path).unwrap(), before);
}

#[test]
fn a_newer_schema_is_left_to_the_newer_program() {
    let camp = Camp::new();
    let mut store = camp.open();
    store.add_learner("Ilva", Placement::Fresh, super::super::testing::noon(0)).unwrap();
    drop(store);
    Connection::open(camp.path()).unwrap().pragma_update(None, "user_version", 9_000).unwrap();
    let before = fs::read(camp.path()).unwrap();
    let error = refused(&camp.path());
    assert!(matches!(error, StoreError::Newer { found: 9_000, known: 7, .. }), "{error:?}");
    says(&error, "written by a newer needlewise", "left as it is", "use the newer program");
    assert_eq!(fs::read(camp.path()).unwrap(), before);
}

/// A closed store with some answers in it, so that there are pages to damage.
fn filled(camp: &Camp) {
    let mut program = camp.program();
    for n in 0..60 {
        program.answer(&Answer::right(n % 3)).unwrap();
    }
}

#[test]
fn a_file_cut_off_is_damaged() {
    let camp = Camp::new();
    filled(&camp);
    let whole = fs::read(camp.path()).unwrap();
    for length in [20, 80, 2_000, 4_096, 10_000] {
        fs::write(camp.path(), &whole[..length]).unwrap();
        let error = match Store::open(&camp.path(), &skills()) {
            Err(error) => error,
            Ok(mut store) => store.verify().expect_err("a cut file verifies"),
        };
        assert!(matches!(error, StoreError::Corrupt { .. }), "{length}: {error:?}");
        says(&error, "is damaged", "left as it is", "restore a backup");
        assert_eq!(fs::metadata(camp.path()).unwrap().len(), length as u64);
    }
}

#[test]
fn damaged_pages_are_reported_and_never_a_panic() {
    let camp = Camp::new();
    filled(&camp);
    let whole = fs::read(camp.path()).unwrap();
    let mut found = 0;
    for page in 1..whole.len() / 4_096 {
        fs::write(camp.path(), &whole).unwrap();
        let mut file = fs::OpenOptions::new().read(true).write(true).open(camp.path()).unwrap();
        file.seek(SeekFrom::Start(page as u64 * 4_096)).unwrap();
        file.write_all(&[0xA5; 4_096]).unwrap();
        drop(file);
        let outcome = Store::open(&camp.path(), &skills()).and_then(|mut store| {
            for learner in store.learners()? {
                store.beliefs(learner.id)?;
                store.attempts(learner.id, "turn-back", 1_000)?;
                store.last_day(learner.id)?;
            }
            store.verify()
        });
        match outcome {
            Err(StoreError::Corrupt { .. }) => found += 1,
            other => panic!("page {page}: {other:?}"),
        }
    }
    assert!(found > 10, "only {found} pages were tried");
}

#[test]
fn a_damaged_header_is_no_store() {
    let camp = Camp::new();
    filled(&camp);
    let mut file = fs::OpenOptions::new().write(true).open(camp.path()).unwrap();
    file.write_all(&[0; 100]).unwrap();
    drop(file);
    let error = refused(&camp.path());
    assert!(matches!(error, StoreError::NotAStore { what: NotAStore::NotADatabase, .. }), "{error:?}");
    says(&error, "not a needlewise store", "left as it is", "restore a backup");
}

#[test]
fn a_full_disk_keeps_what_was_recorded_before() {
    let camp = Camp::new();
    let mut program = camp.program();
    let pages: i64 = program.store.conn.pragma_query_value(None, "page_count", |row| row.get(0)).unwrap();
    program.store.conn.pragma_update_and_check(None, "max_page_count", pages + 3, |_| Ok(())).unwrap();
    let mut kept = 0_u32;
    let error = loop {
        match program.answer(&Answer::right(0)) {
            Ok(_) => kept += 1,
            Err(error) => break error,
        }
        assert!(kept < 1_000, "the disk never filled up");
    };
    assert!(matches!(error, StoreError::DiskFull { .. }), "{error:?}");
    says(&error, "the disk is full", "recorded before is kept, this was not recorded", "free some space");
    let believed = program.met();
    let attempts = program.store.attempts(program.learner, "turn-back", 10_000).unwrap();
    assert_eq!(attempts.len() as u32, kept);
    // And with room again it goes on where it stood.
    program.store.conn.pragma_update_and_check(None, "max_page_count", 100_000, |_| Ok(())).unwrap();
    assert_eq!(met(&program.store.beliefs(program.learner).unwrap()), believed);
    program.answer(&Answer::right(0)).unwrap();
    assert!(program.store.verify().unwrap().differences.is_empty());
}

#[test]
fn a_locked_store_says_so_and_keeps_what_it_has() {
    let camp = Camp::new();
    let mut program = camp.program();
    program.answer(&Answer::right(0)).unwrap();
    program.store.conn.busy_timeout(Duration::from_millis(10)).unwrap();
    let other = Connection::open(camp.path()).unwrap();
    other.execute_batch("BEGIN EXCLUSIVE").unwrap();
    let error = program.answer(&Answer::right(0)).unwrap_err();
    assert!(matches!(error, StoreError::Locked { .. }), "{error:?}");
    says(&error, "is locked by another program", "recorded before is kept, this was not recorded", "close the other");
    other.execute_batch("ROLLBACK").unwrap();
    program.answer(&Answer::right(0)).unwrap();
    assert_eq!(program.store.attempts(program.learner, "turn-back", 9).unwrap().len(), 2);
}

#[test]
fn a_store_held_exclusively_cannot_be_opened() {
    let camp = Camp::new();
    drop(camp.open());
    let other = Connection::open(camp.path()).unwrap();
    other.execute_batch("PRAGMA locking_mode = EXCLUSIVE; BEGIN EXCLUSIVE; COMMIT;").unwrap();
    let error = refused(&camp.path());
    assert!(matches!(error, StoreError::Locked { .. }), "{error:?}");
}

#[test]
fn a_store_that_must_not_be_written_says_so() {
    let camp = Camp::new();
    let mut program = camp.program();
    program.answer(&Answer::right(0)).unwrap();
    program.store.conn.pragma_update(None, "query_only", true).unwrap();
    let error = program.answer(&Answer::right(0)).unwrap_err();
    assert!(matches!(error, StoreError::ReadOnly { .. }), "{error:?}");
    says(&error, "cannot be written", "recorded before is kept, nothing was added", "make it writable");
    assert_eq!(program.store.attempts(program.learner, "turn-back", 9).unwrap().len(), 1);
}

#[test]
fn a_store_opened_to_read_is_read_and_refuses_to_be_written() {
    let camp = Camp::new();
    filled(&camp);
    let mut store = Store::open_to_read(&camp.path(), &skills()).unwrap();
    let learner = store.learners().unwrap().remove(0);
    assert_eq!(met(&store.beliefs(learner.id).unwrap()).len(), 3);
    assert_eq!(store.verify().unwrap().attempts, 60);
    let error = store.add_learner("Tarn", Placement::Fresh, super::super::testing::noon(1)).unwrap_err();
    assert!(matches!(error, StoreError::ReadOnly { .. }), "{error:?}");
    let error = Store::open_to_read(&camp.file("nowhere.db"), &skills()).unwrap_err();
    assert!(matches!(error, StoreError::CannotOpen { .. }), "{error:?}");
    assert!(!camp.file("nowhere.db").exists());
}

#[test]
fn a_value_that_we_could_not_have_written_is_damage() {
    let camp = Camp::new();
    let mut program = camp.program();
    program.answer(&Answer::right(0)).unwrap();
    program.store.conn.execute("UPDATE summaries SET belief = '{}'", []).unwrap();
    let error = program.store.beliefs(program.learner).unwrap_err();
    assert!(matches!(error, StoreError::Corrupt { .. }), "{error:?}");
}
