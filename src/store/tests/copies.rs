//! Backups, what is put in the store's place, and that the one file holds everything early.

use super::super::testing::{Answer, Camp, noon, skills};
use super::super::{Store, StoreError, restore, settle_at_end};
use std::fs;
use std::os::unix::fs::PermissionsExt;
use std::path::Path;

/// How many answers the file alone holds, without its log.
fn alone(camp: &Camp) -> usize {
    let copy = Camp::new();
    fs::create_dir(copy.file("records")).unwrap();
    fs::copy(camp.path(), copy.path()).unwrap();
    let store = copy.open();
    let learner = store.learners().unwrap().first().map(|learner| learner.id);
    learner.map_or(0, |learner| store.attempts(learner, "turn-back", 1_000).unwrap().len())
}

#[test]
fn at_a_pause_the_file_alone_holds_all_but_the_last_few_answers_and_between_sittings_all() {
    let camp = Camp::new();
    let mut program = camp.program();
    for n in 1..=30 {
        program.answer(&Answer::right(0)).unwrap();
        program.store.pause(true);
        assert!(alone(&camp) + 3 >= n, "{} of {n}", alone(&camp));
    }
    program.answer(&Answer::right(0)).unwrap();
    program.store.pause(false);
    assert_eq!(alone(&camp), 31);
}

#[test]
fn a_program_that_is_ended_from_outside_leaves_everything_in_the_one_file() {
    let camp = Camp::new();
    let mut program = camp.program();
    for _ in 0..5 {
        program.answer(&Answer::right(0)).unwrap();
    }
    assert_eq!(alone(&camp), 0, "so far it is in the log");
    settle_at_end(&camp.path());
    assert_eq!(alone(&camp), 5);
    program.answer(&Answer::right(0)).unwrap();
    settle_at_end(&camp.file("nothing.db"));
    assert!(!camp.file("nothing.db").exists());
}

#[test]
fn a_backup_is_one_private_file_with_everything_committed_while_another_program_writes() {
    let camp = Camp::new();
    let mut program = camp.program();
    let copies: Vec<_> = (0..10).map(|n| camp.file(&format!("copy {n}"))).collect();
    std::thread::scope(|scope| {
        let mut writer = camp.program();
        scope.spawn(move || (0..200).for_each(|_| drop(writer.answer(&Answer::right(1)).unwrap())));
        for copy in &copies {
            program.answer(&Answer::right(0)).unwrap();
            program.store.backup(copy, false).unwrap();
        }
    });
    for (n, copy) in copies.iter().enumerate() {
        assert_eq!(fs::metadata(copy).unwrap().permissions().mode() & 0o777, 0o600);
        let mut store = Store::open_to_read(copy, &skills()).unwrap();
        assert_eq!(store.attempts(program.learner, "turn-back", 100).unwrap().len(), n + 1);
        assert_eq!(store.verify().unwrap().differences, []);
        assert_eq!(Store::open(copy, &skills()).unwrap().glance().unwrap().learners, 1);
    }
    let left: Vec<_> = fs::read_dir(camp.file("")).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    assert_eq!(left.len(), 11, "no draft stays behind: {left:?}");
}

#[test]
fn a_backup_replaces_only_an_older_backup_and_only_when_told_to() {
    let camp = Camp::new();
    let mut program = camp.program();
    let copy = camp.file("copy");
    program.store.backup(&copy, false).unwrap();
    program.answer(&Answer::right(0)).unwrap();
    assert!(matches!(program.store.backup(&copy, false), Err(StoreError::OlderBackup { .. })));
    assert_eq!(program.store.backup(&copy, true).unwrap().answers, 1);
    let list = camp.file("list.txt");
    fs::write(&list, "rope, matches").unwrap();
    for replace in [false, true] {
        assert!(matches!(program.store.backup(&list, replace), Err(StoreError::InTheWay { .. })));
        assert!(matches!(program.store.backup(&camp.path(), replace), Err(StoreError::TheStoreItself { .. })));
        assert!(matches!(program.store.backup(&camp.file("records"), replace), Err(StoreError::InTheWay { .. })));
    }
    assert_eq!(fs::read_to_string(&list).unwrap(), "rope, matches");
    let error = program.store.backup(&camp.file("no/such/folder"), false).unwrap_err();
    assert!(matches!(error, StoreError::CannotCopy { .. }), "{error:?}");
    let said = error.to_string();
    assert!(said.contains("there is no such folder") && !said.contains("link") && !said.contains("--store"), "{said}");
}

#[test]
fn a_backup_is_put_in_place_and_what_was_there_is_kept() {
    let camp = Camp::new();
    let mut program = camp.program();
    program.answer(&Answer::right(0)).unwrap();
    let copy = camp.file("copy");
    program.store.backup(&copy, false).unwrap();
    program.answer(&Answer::right(0)).unwrap();
    let waiting = restore(&copy, &camp.path()).unwrap();
    assert_eq!((waiting.backup.answers, waiting.present.as_ref().unwrap().answers), (1, 2));
    assert!(matches!(waiting.put(noon(0)), Err(StoreError::InUse { .. })), "a program has it open");
    assert_eq!(program.store.glance().unwrap().answers, 2);
    let learner = program.learner;
    drop(program);
    let kept = restore(&copy, &camp.path()).unwrap().put(noon(0)).unwrap().kept.unwrap();
    assert_eq!(kept, camp.file("records/needlewise.db.replaced-2026-03-01-120000"));
    assert_eq!(camp.open().attempts(learner, "turn-back", 9).unwrap().len(), 1);
    assert_eq!(Store::open(&kept, &skills()).unwrap().attempts(learner, "turn-back", 9).unwrap().len(), 2);
    assert!(matches!(restore(&copy, &camp.path()).unwrap().put(noon(0)), Err(StoreError::InTheWay { .. })));
    let elsewhere = camp.file("third/laptop.db");
    assert_eq!(restore(&copy, &elsewhere).unwrap().put(noon(0)).unwrap().kept, None);
    assert_eq!(Store::open(&elsewhere, &skills()).unwrap().glance().unwrap().answers, 1);
    assert!(restore(&camp.file("nothing"), &camp.path()).is_err());
}

#[test]
fn what_cannot_be_read_any_more_is_replaced_and_kept_with_its_log() {
    let camp = Camp::new();
    let mut program = camp.program();
    let copy = camp.file("copy");
    program.store.backup(&copy, false).unwrap();
    program.answer(&Answer::right(0)).unwrap();
    let log = fs::read(camp.file("records/needlewise.db-wal")).unwrap();
    drop(program);
    fs::write(camp.path(), "spilt tea").unwrap();
    fs::write(camp.file("records/needlewise.db-wal"), &log).unwrap();
    let waiting = restore(&copy, &camp.path()).unwrap();
    assert_eq!(waiting.present, None);
    let kept = waiting.put(noon(1)).unwrap().kept.unwrap();
    assert_eq!(fs::read_to_string(&kept).unwrap(), "spilt tea");
    assert_eq!(fs::read(kept.with_file_name("needlewise.db.replaced-2026-03-02-120000-wal")).unwrap(), log);
    assert_eq!(camp.open().glance().unwrap().answers, 0);
}

#[test]
fn a_damaged_backup_is_not_put_in_place() {
    let camp = Camp::new();
    let mut program = camp.program();
    for _ in 0..50 {
        program.answer(&Answer::right(0)).unwrap();
    }
    let copy = camp.file("copy");
    program.store.backup(&copy, false).unwrap();
    let mut bytes = fs::read(&copy).unwrap();
    let page = bytes.len() / 2 / 4096 * 4096;
    bytes[page..page + 4096].fill(0xa5);
    fs::write(&copy, &bytes).unwrap();
    assert!(matches!(restore(&copy, &camp.path()), Err(StoreError::FileDamaged { .. })));
    assert!(left_of_drafts(&camp.file("records")).is_empty());
}

#[test]
fn a_backup_to_a_link_that_leads_nowhere_says_so_and_one_to_a_store_replaces_what_it_leads_to() {
    let camp = Camp::new();
    let mut program = camp.program();
    let (link, copy) = (camp.file("link"), camp.file("copy"));
    std::os::unix::fs::symlink(&copy, &link).unwrap();
    for replace in [false, true] {
        let said = program.store.backup(&link, replace).unwrap_err().to_string();
        assert!(said.contains("a link that leads nowhere") && !said.contains("--force"), "{said}");
    }
    assert!(!copy.exists(), "nothing was copied, and nothing said that it was");
    program.store.backup(&copy, false).unwrap();
    program.answer(&Answer::right(0)).unwrap();
    assert!(matches!(program.store.backup(&link, false), Err(StoreError::OlderBackup { .. })));
    assert_eq!(program.store.backup(&link, true).unwrap().answers, 1);
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink(), "the link stays one");
    assert_eq!(Store::open_to_read(&copy, &skills()).unwrap().glance().unwrap().answers, 1);
}

#[test]
fn a_store_behind_a_link_is_restored_where_it_lies() {
    let camp = Camp::new();
    let mut program = camp.program();
    let copy = camp.file("copy");
    program.store.backup(&copy, false).unwrap();
    program.answer(&Answer::right(0)).unwrap();
    drop(program);
    let link = camp.file("link.db");
    std::os::unix::fs::symlink(camp.path(), &link).unwrap();
    let kept = restore(&copy, &link).unwrap().put(noon(0)).unwrap().kept.unwrap();
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    assert_eq!(kept.parent(), camp.path().parent());
    assert_eq!(camp.open().glance().unwrap().answers, 0);
}

#[test]
fn a_name_that_was_taken_meanwhile_is_left_to_whom_has_it() {
    let camp = Camp::new();
    drop(camp.open());
    let draft = super::super::backup::Draft::beside(&camp.path()).unwrap();
    for links in [true, false] {
        super::super::open::NO_LINKS.set(!links);
        let put = super::super::backup::put(&draft.0, &camp.path(), false);
        assert!(matches!(put, Err(StoreError::InTheWay { .. })), "{put:?}");
    }
    super::super::open::NO_LINKS.set(false);
    assert!(camp.open().learners().unwrap().is_empty());
}

#[test]
fn half_a_copy_does_not_stay_where_the_disk_has_no_links() {
    let camp = Camp::new();
    let to = camp.file("to");
    assert!(super::super::backup::copied_whole(&camp.file("records"), &to).is_err());
    assert!(!to.exists());
    fs::write(&to, "kept").unwrap();
    assert!(super::super::backup::copied_whole(&camp.file("nothing"), &to).is_err());
    assert_eq!(fs::read_to_string(&to).unwrap(), "kept", "what was there before is nobody's half");
}

#[test]
fn a_log_left_beside_the_name_of_a_backup_is_not_taken_for_its_own() {
    let camp = Camp::new();
    let program = camp.program();
    for end in ["-wal", "-journal"] {
        let copy = camp.file("copy");
        let left = camp.file(&format!("copy{end}"));
        fs::write(&left, "an evening").unwrap();
        assert!(matches!(program.store.backup(&copy, false), Err(StoreError::LeftBeside { .. })));
        assert_eq!(fs::read_to_string(&left).unwrap(), "an evening");
        assert!(!copy.exists());
        fs::remove_file(&left).unwrap();
    }
}

fn left_of_drafts(folder: &Path) -> Vec<String> {
    let names = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned());
    names.filter(|name| name.contains("draft")).collect()
}

#[test]
fn an_older_backup_is_brought_up_to_date_and_left_as_it_is() {
    let camp = Camp::new();
    let kept = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference/stores/version_2.sqlite");
    let old = camp.file("old");
    fs::copy(kept, &old).unwrap();
    let before = fs::read(&old).unwrap();
    let waiting = restore(&old, &camp.path()).unwrap();
    assert_eq!((waiting.backup.version, waiting.backup.answers, waiting.backup.learners), (2, 42, 3));
    waiting.put(noon(0)).unwrap();
    let mut store = camp.open();
    assert_eq!(store.glance().unwrap().version, 7);
    store.verify().unwrap();
    assert_eq!(fs::read(&old).unwrap(), before);
}
