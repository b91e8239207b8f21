//! Stores of several laptops: in any order, any number of times, the same records.

use super::super::testing::{Answer, Camp, date_of, noon, session_of, skills};
use super::super::{
    AttemptKind, LearnerId, LessonMark, NewAttempt, NewCheck, NewSession, Said, Seen, SeenOutcome, Store, StoreError,
    StoredEvening,
};
use crate::learner::Placement;
use jiff::{SignedDuration, Timestamp};
use proptest::prelude::*;
use std::path::{Path, PathBuf};

/// Everything in a store that travels, as text.
fn all(store: &mut Store) -> String {
    let mut out = Vec::new();
    store.export(None, &mut out).unwrap();
    String::from_utf8(out).unwrap()
}

fn merge(store: &mut Store, file: &Path, said: &[Said]) {
    let incoming = store.incoming(file).unwrap();
    store.bring_in(&incoming, said, noon(400), true).unwrap();
}

/// A store in a folder of its own, without waiting for the disk.
fn laptop() -> (Camp, Store) {
    let camp = Camp::new();
    let store = camp.open();
    store.conn.pragma_update(None, "synchronous", "OFF").unwrap();
    (camp, store)
}

fn copied(store: &Store, camp: &Camp, name: &str) -> PathBuf {
    let file = camp.file(name);
    store.backup(&file, true).unwrap();
    file
}

/// One thing that happens on a laptop.
#[derive(Clone, Debug)]
enum Event {
    Add(usize),
    Answer { who: usize, skill: usize, outcome: usize },
    Check { who: usize },
    Sheet { who: usize },
    Seen { who: usize },
    TakeBack { who: usize },
    Lesson { who: usize, screen: u32, done: bool },
    Evening { who: usize },
    Rename { who: usize, name: usize },
    Archive { who: usize, back: bool },
    Patrol { who: usize, patrol: usize },
    Erase { who: usize },
    Alias { one: usize, other: usize, same: bool },
}

fn event() -> impl Strategy<Value = Event> {
    let who = || 0..6_usize;
    prop_oneof![
        3 => (0..4_usize).prop_map(Event::Add),
        8 => (who(), 0..3_usize, 0..4_usize).prop_map(|(who, skill, outcome)| Event::Answer { who, skill, outcome }),
        1 => who().prop_map(|who| Event::Check { who }),
        2 => who().prop_map(|who| Event::Sheet { who }),
        1 => who().prop_map(|who| Event::Seen { who }),
        1 => who().prop_map(|who| Event::TakeBack { who }),
        1 => (who(), 0..5_u32, any::<bool>()).prop_map(|(who, screen, done)| Event::Lesson { who, screen, done }),
        1 => who().prop_map(|who| Event::Evening { who }),
        1 => (who(), 0..4_usize).prop_map(|(who, name)| Event::Rename { who, name }),
        1 => (who(), any::<bool>()).prop_map(|(who, back)| Event::Archive { who, back }),
        1 => (who(), 0..2_usize).prop_map(|(who, patrol)| Event::Patrol { who, patrol }),
        1 => who().prop_map(|who| Event::Erase { who }),
        1 => (who(), who(), any::<bool>()).prop_map(|(one, other, same)| Event::Alias { one, other, same }),
    ]
}

const NAMES: [&str; 4] = ["Kim", "Tarn", "Mossa", "Bo"];

/// Plays events on a store; each comes a moment after the one before.
fn play(store: &mut Store, events: &[Event], at: &mut Timestamp) {
    for event in events {
        *at += SignedDuration::from_secs(61);
        let now = *at;
        let mut people: Vec<LearnerId> = Vec::new();
        people.extend(store.learners().unwrap().iter().map(|learner| learner.id));
        people.extend(store.archived_learners().unwrap().iter().map(|learner| learner.id));
        people.sort_unstable();
        let pick = |who: usize| people.get(who % people.len().max(1)).copied();
        let session = |store: &mut Store, who| store.start_session(&NewSession { at: now, ..session_of(who) }).unwrap();
        match *event {
            // A name that is taken is refused, and so is one that was put aside meanwhile: nothing happens then.
            Event::Add(name) => drop(store.add_learner(NAMES[name], Placement::Fresh, now)),
            Event::Answer { who, skill, outcome } => {
                let Some(who) = pick(who) else { continue };
                let session = session(store, who);
                let answer = Answer { day: 0, skill, outcome, hinted: false, explained: true };
                store.record(&NewAttempt { at: now, ..answer.attempt(who, session) }).unwrap();
            }
            Event::Check { who } => {
                let Some(who) = pick(who) else { continue };
                let (standard, rules) = ("day-outing".to_owned(), "{\"a\":1}".to_owned());
                let before = store.checks(who).unwrap().len();
                let new = NewCheck { learner: who, at: now, day: date_of(0), standard, rules };
                let check = store.start_check(&new, before).unwrap();
                let session = store.start_session(&NewSession { at: now, check, ..session_of(who) }).unwrap();
                let attempt = Answer::right(0).attempt(who, session);
                store.record(&NewAttempt { at: now, kind: AttemptKind::Check, ..attempt }).unwrap();
            }
            Event::Sheet { who } => {
                let Some(who) = pick(who) else { continue };
                enter_sheet(store, who, now);
            }
            Event::Seen { who } => {
                let Some(learner) = pick(who) else { continue };
                let (skill, what, by) = ("turn-back".to_owned(), "over the moor".to_owned(), "Alma".to_owned());
                let seen = Seen { learner, skill, what, day: date_of(0), by, outcome: SeenOutcome::Yes };
                store.add_seen(&[seen], now).unwrap();
            }
            Event::TakeBack { who } => {
                let Some(who) = pick(who) else { continue };
                if let Some(last) = store.attempts(who, "turn-back", 1).unwrap().first() {
                    let _ = store.take_back(who, last.id, date_of(0), now);
                }
            }
            Event::Lesson { who, screen, done } => {
                let Some(who) = pick(who) else { continue };
                let mark = LessonMark { lesson: "the-needle".to_owned(), screen, done };
                store.note_lesson(who, &mark, now).unwrap();
            }
            Event::Evening { who } => {
                let Some(who) = pick(who) else { continue };
                store.keep_evening(&evening_with(who, now)).unwrap();
            }
            Event::Rename { who, name } => {
                let Some(who) = pick(who) else { continue };
                let _ = store.rename_learner(who, NAMES[name], now);
            }
            Event::Archive { who, back } => {
                let Some(who) = pick(who) else { continue };
                let _ = store.archive_learner(who, !back, now);
            }
            Event::Patrol { who, patrol } => {
                let Some(who) = pick(who) else { continue };
                let patrol = store.patrol_named(["Kestrels", "Otters"][patrol], now).unwrap();
                store.join_patrol(who, Some(patrol), now).unwrap();
            }
            Event::Erase { who } => {
                let Some(who) = pick(who) else { continue };
                store.erase_learner(who, now).unwrap();
            }
            Event::Alias { one, other, same } => {
                let (Some(one), Some(other)) = (pick(one), pick(other)) else { continue };
                if one != other {
                    say(store, one, other, same, now);
                }
            }
        }
    }
}

/// A plan with one person in it.
fn evening_with(who: LearnerId, now: Timestamp) -> StoredEvening {
    let plan = format!("{{\"guests\":[\"{}\"]}}", who.to_string().replace('-', ""));
    StoredEvening {
        kept_at: now,
        day: Some(date_of(0)),
        clock: "18:30".to_owned(),
        standard: "day-outing".to_owned(),
        plan,
    }
}

/// Says of two people in a store that they are one, or not.
fn say(store: &mut Store, one: LearnerId, other: LearnerId, same: bool, now: Timestamp) {
    store.say(&[Said { one, other, same }], now).unwrap();
}

/// Types an answer of a sheet of one problem in, which is printed first where it is not there. What was typed in before was mistyped
/// and is taken back.
fn enter_sheet(store: &mut Store, who: LearnerId, now: Timestamp) {
    store.add_sheet(who, &["X1-2-7".to_owned()], date_of(0), now).unwrap();
    let sheet = store.sheets(who).unwrap().remove(0);
    for (_, entry, _) in sheet.entered {
        store.take_back(who, entry, date_of(0), now).unwrap();
    }
    let session = store.start_session(&NewSession { at: now, ..session_of(who) }).unwrap();
    let attempt = NewAttempt { at: now, kind: AttemptKind::Worksheet, ..Answer::right(1).attempt(who, session) };
    store.record_on_sheet(&NewAttempt { code: "X1-2-7".to_owned(), ..attempt }, sheet.id).unwrap();
}

/// Beliefs are the fold over all that is there, and nothing is damaged.
fn assert_sound(store: &mut Store) {
    for learner in store.learners().unwrap() {
        store.beliefs(learner.id).unwrap();
    }
    let verified = store.verify().unwrap();
    assert_eq!(verified.differences, []);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]
    #[test]
    fn in_whatever_order_and_however_often_stores_are_merged_the_records_are_the_same(
        before in prop::collection::vec(event(), 0..10),
        events in prop::collection::vec(prop::collection::vec(event(), 0..14), 3),
    ) {
        // All three begin from copies of one store, and go on without each other.
        let (home, mut root) = laptop();
        let mut at = noon(0);
        play(&mut root, &before, &mut at);
        let first = copied(&root, &home, "first");
        let mut files = Vec::new();
        for (n, events) in events.iter().enumerate() {
            let file = home.file(&format!("laptop {n}"));
            std::fs::copy(&first, &file).unwrap();
            let mut store = Store::open(&file, &skills()).unwrap();
            store.conn.pragma_update(None, "synchronous", "OFF").unwrap();
            // Their clocks differ, so that what they did is mixed in time.
            let mut at = at + SignedDuration::from_secs(17 * i64::try_from(n).unwrap());
            play(&mut store, events, &mut at);
            files.push(copied(&store, &home, &format!("copy {n}")));
        }
        let mut results = Vec::new();
        for order in [[0, 1, 2], [2, 1, 0], [1, 2, 0], [1, 0, 2]] {
            let (_camp, mut store) = laptop();
            for n in order {
                merge(&mut store, &files[n], &[]);
            }
            assert_sound(&mut store);
            let merged = all(&mut store);
            for n in [order[1], order[0]] {
                merge(&mut store, &files[n], &[]);
            }
            prop_assert_eq!(&all(&mut store), &merged, "again the same");
            results.push(merged);
        }
        // Two of them first, and the third with what came out.
        let (camp, mut store) = laptop();
        merge(&mut store, &files[1], &[]);
        merge(&mut store, &files[2], &[]);
        let both = copied(&store, &camp, "both");
        let (_camp, mut store) = laptop();
        merge(&mut store, &files[0], &[]);
        merge(&mut store, &both, &[]);
        results.push(all(&mut store));
        for other in &results[1..] {
            prop_assert_eq!(&results[0], other);
        }
        // Exported and read again, they are the same records, and the same is believed.
        let (_camp, mut again) = laptop();
        let incoming = again.incoming_lines(&mut results[0].as_bytes(), &PathBuf::from("lines")).unwrap();
        again.bring_in(&incoming, &[], noon(400), true).unwrap();
        prop_assert_eq!(&all(&mut again), &results[0]);
        for learner in store.learners().unwrap() {
            prop_assert_eq!(store.beliefs(learner.id).unwrap(), again.beliefs(learner.id).unwrap());
        }
        prop_assert_eq!(store.learners().unwrap(), again.learners().unwrap());
    }
}

/// A laptop on which somebody of this name gave some right answers, from a second on.
fn evening(name: &str, answers: i64, second: i64) -> (Camp, Store, LearnerId) {
    let (camp, mut store) = laptop();
    let now = noon(0) + SignedDuration::from_secs(second);
    let id = store.add_learner(name, Placement::Fresh, now).unwrap().id;
    let session = store.start_session(&NewSession { at: now, ..session_of(id) }).unwrap();
    for n in 0..answers {
        let at = now + SignedDuration::from_secs(10 * n);
        store.record(&NewAttempt { at, ..Answer::mixed_up(1).attempt(id, session) }).unwrap();
    }
    (camp, store, id)
}

#[test]
fn namesakes_are_asked_about_once_and_told_apart_by_a_number_meanwhile() {
    let (_one, mut here, kim) = evening("Kim", 3, 0);
    let (two, there, kim_b) = evening("kim", 2, 3);
    let file = copied(&there, &two, "there");
    let incoming = here.incoming(&file).unwrap();
    let pairs = here.namesakes(std::slice::from_ref(&incoming), &[]).unwrap();
    assert_eq!(pairs.iter().map(|pair| (pair.one.id, pair.other.id)).collect::<Vec<_>>(), [(kim, kim_b)]);
    let brought = here.bring_in(&incoming, &[], noon(1), true).unwrap();
    assert_eq!((brought.people, brought.answers, brought.sittings), (1, 2, 1));
    assert_eq!(brought.numbered, ["kim 2"]);
    let names = |store: &Store| store.learners().unwrap().into_iter().map(|one| one.name).collect::<Vec<_>>();
    assert_eq!(names(&here), ["Kim", "kim 2"]);
    // Nobody was asked yet: the question comes again, now among those who are here.
    say(&mut here, kim, kim_b, false, noon(1));
    let again = [here.incoming(&file).unwrap()];
    assert_eq!(here.namesakes(&again, &[]).unwrap(), [], "it is remembered");
    assert_eq!(names(&here), ["Kim", "kim 2"]);
    // One person goes before two, wherever it is said.
    say(&mut here, kim, kim_b, true, noon(2));
    assert_eq!(names(&here), ["Kim"]);
    assert_eq!(here.attempts(kim, "true-north", 9).unwrap().len(), 5);
    assert_eq!(here.attempts(kim_b, "true-north", 9).unwrap().len(), 5, "the other id leads to the same records");
    assert_eq!(here.beliefs(kim).unwrap().skill("true-north").unwrap().count(), 5);
    assert_eq!(here.verify().unwrap().differences, []);
    // Who sits there with the old id goes on.
    let session = here.start_session(&session_of(kim_b)).unwrap();
    here.record(&Answer::right(0).attempt(kim_b, session)).unwrap();
    assert_eq!(here.attempts(kim, "turn-back", 9).unwrap().len(), 1);
}

#[test]
fn erasing_somebody_under_one_id_erases_all_of_them_on_every_laptop() {
    let (_one, mut here, kim) = evening("Kim", 3, 0);
    let (two, there, kim_b) = evening("Kim B", 2, 3);
    let file = copied(&there, &two, "there");
    merge(&mut here, &file, &[Said { one: kim, other: kim_b, same: true }]);
    let three = Camp::new();
    let joined = copied(&here, &three, "joined");
    here.erase_learner(kim_b, noon(2)).unwrap();
    assert_eq!(here.glance().unwrap().answers, 0);
    let erased = copied(&here, &three, "erased");
    for order in [[&file, &joined, &erased], [&erased, &joined, &file], [&joined, &erased, &file]] {
        let (_camp, mut store) = laptop();
        for file in order {
            merge(&mut store, file, &[]);
        }
        assert_eq!((store.learners().unwrap(), store.glance().unwrap().answers), (vec![], 0));
    }
    // Said only where one of the two is erased already.
    let (_camp, mut store) = laptop();
    merge(&mut store, &file, &[]);
    let incoming = store.incoming(&erased).unwrap();
    let brought = store.bring_in(&incoming, &[], noon(3), false).unwrap();
    assert_eq!(brought.erased, 1, "a look says so");
    assert_eq!(store.learners().unwrap().len(), 1, "and does nothing");
}

/// Three laptops: one erased the one, another erased the other, the third says that the two are one person. Found by the property
/// above: the moments hung on the order.
#[test]
fn when_somebody_was_erased_hangs_on_no_order() {
    let (_one, mut first, kim) = evening("Kim", 1, 0);
    let (two, mut second, kim_b) = evening("Kim B", 1, 3);
    let (camp, mut third) = laptop();
    for (store, camp) in [(&first, &two), (&second, &two)] {
        let file = copied(store, camp, "whole");
        merge(&mut third, &file, &[]);
    }
    say(&mut third, kim, kim_b, true, noon(0));
    first.erase_learner(kim, noon(3)).unwrap();
    second.erase_learner(kim_b, noon(2)).unwrap();
    let files = [copied(&first, &camp, "first"), copied(&second, &camp, "second"), copied(&third, &camp, "third")];
    let merged = |order: &[usize]| {
        let (_camp, mut store) = laptop();
        for &n in order {
            merge(&mut store, &files[n], &[]);
        }
        all(&mut store)
    };
    let orders = [[0, 1, 2], [0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0]];
    for order in orders {
        assert_eq!(merged(&order), merged(&[0, 1, 2]), "{order:?}");
    }
    assert!(merged(&[0, 2]).contains(r#""erased_at":null"#), "the other went with the one: {}", merged(&[0, 2]));
    // Read again from lines, nothing is lost or added.
    let (_camp, mut again) = laptop();
    let incoming = again.incoming_lines(&mut merged(&[0, 2]).as_bytes(), &PathBuf::from("lines")).unwrap();
    again.bring_in(&incoming, &[], noon(400), true).unwrap();
    assert_eq!(all(&mut again), merged(&[0, 2]));
}

#[test]
fn of_two_entries_of_one_sheet_the_earlier_counts_on_every_laptop() {
    let (camp, mut root) = laptop();
    let kim = root.add_learner("Kim", Placement::Fresh, noon(0)).unwrap().id;
    let first = copied(&root, &camp, "first");
    let mut files = Vec::new();
    for n in 0..2 {
        let file = camp.file(&format!("laptop {n}"));
        std::fs::copy(&first, &file).unwrap();
        let mut store = Store::open(&file, &skills()).unwrap();
        enter_sheet(&mut store, kim, noon(n + 1));
        files.push(copied(&store, &camp, &format!("copy {n}")));
    }
    for order in [[0, 1], [1, 0]] {
        let (_camp, mut store) = laptop();
        merge(&mut store, &files[order[0]], &[]);
        merge(&mut store, &files[order[1]], &[]);
        let counting = store.attempts(kim, "true-north", 9).unwrap();
        assert_eq!(counting.iter().map(|attempt| attempt.what.at).collect::<Vec<_>>(), [noon(1)]);
        assert_eq!(store.glance().unwrap().answers, 2, "the other one is kept, and marked");
        assert_sound(&mut store);
    }
}

#[test]
fn what_is_damaged_or_is_the_store_itself_does_not_come_in() {
    let (one, mut here, _) = evening("Kim", 30, 0);
    assert!(matches!(here.incoming(&one.path()), Err(StoreError::TheStoreItself { .. })));
    let file = copied(&here, &one, "copy");
    let mut bytes = std::fs::read(&file).unwrap();
    let at = bytes.windows(9).rposition(|window| window == b"true_bear").unwrap();
    bytes[at] ^= 1;
    std::fs::write(&file, bytes).unwrap();
    let before = all(&mut here);
    let error = here.incoming(&file).unwrap_err();
    assert!(matches!(error, StoreError::FileDamaged { .. }), "{error:?}");
    let said = error.to_string();
    assert!(
        said.contains("store mend NEW --store FILE") && !said.contains("restore"),
        "what helps is not a backup of ours: {said}"
    );
    assert_eq!(all(&mut here), before);
}

#[test]
fn exported_lines_that_cannot_be_read_say_the_line_and_nothing_comes_in() {
    let (_camp, mut store, _) = evening("Kim", 2, 0);
    let good = all(&mut store);
    for (from, to, says) in [
        ("needlewise-records", "something-else", "line 1: records begin with"),
        ("\"level\":2", "\"level\":9", "no program writes such a record"),
        ("\"level\":2,", "", "\"level\" is missing"),
        ("\"kind\":\"answer\"", "\"kind\":\"guess\"", "there is no kind \"guess\""),
        ("\"verdict\":", "\"verdikt\":", "has no \"verdikt\""),
        ("\"seed\":18446744073709551615", "\"seed\":-4", "\"seed\" is no whole number"),
        ("\"name\":\"Kim\"", "\"name\":\"\"", "at least one character"),
        ("2026-03-01T", "yesterday ", "is no moment"),
    ] {
        let bad = good.replace(from, to);
        assert_ne!(bad, good, "{from}");
        let (_camp, mut empty) = laptop();
        let error = empty.incoming_lines(&mut bad.as_bytes(), &PathBuf::from("lines")).unwrap_err().to_string();
        assert!(error.contains(says) && error.contains("line "), "{from}: {error}");
        assert!(!error.contains("SQL") && !error.contains("INSERT"), "{error}");
        assert_eq!(empty.learners().unwrap(), []);
        assert!(all(&mut empty).lines().count() == 1);
    }
    for bad in ["", "{\"kind\":"] {
        let (_camp, empty) = laptop();
        assert!(empty.incoming_lines(&mut bad.as_bytes(), &PathBuf::from("lines")).is_err(), "{bad}");
    }
}

#[test]
fn all_of_one_learner_is_exported_and_nothing_of_the_others() {
    let (_camp, mut store, kim) = evening("Kim", 2, 0);
    let bo = store.add_learner("Bo", Placement::Fresh, noon(1)).unwrap().id;
    let session = store.start_session(&session_of(bo)).unwrap();
    store.record(&Answer::right(0).attempt(bo, session)).unwrap();
    let mut out = Vec::new();
    store.export(Some(kim), &mut out).unwrap();
    let text = String::from_utf8(out).unwrap();
    assert!(text.contains("Kim") && !text.contains("Bo"), "{text}");
    assert_eq!(text.lines().filter(|line| line.contains("\"kind\":\"answer\"")).count(), 2);
    assert!(text.contains("\"facts\":{\"true_bearing_deg\":48}"), "JSON stays JSON: {text}");
    let mut out = Vec::new();
    store.export_csv(None, &mut out).unwrap();
    assert_eq!(String::from_utf8(out).unwrap().lines().count(), 4);
}

#[test]
fn of_two_plans_of_an_evening_the_later_counts_whichever_laptop_is_merged_into_which() {
    let ((one, mut first), (other, mut second)) = (laptop(), laptop());
    let kim = first.add_learner("Kim", Placement::Fresh, noon(0)).unwrap().id;
    let bo = second.add_learner("Bo", Placement::Fresh, noon(0)).unwrap().id;
    first.keep_evening(&evening_with(kim, noon(2))).unwrap();
    second.keep_evening(&evening_with(bo, noon(1))).unwrap();
    let (ours, theirs) = (copied(&first, &one, "ours.sqlite"), copied(&second, &other, "theirs.sqlite"));
    merge(&mut first, &theirs, &[]);
    merge(&mut second, &ours, &[]);
    for store in [&first, &second] {
        assert_eq!(store.evening().unwrap(), Some(evening_with(kim, noon(2))));
    }
    // What is made later on one laptop goes before it, whatever the clock says; exported lines bring it, too.
    second.keep_evening(&evening_with(bo, noon(0))).unwrap();
    assert_eq!(second.evening().unwrap(), Some(evening_with(bo, noon(0))));
    let lines = all(&mut first);
    let incoming = second.incoming_lines(&mut lines.as_bytes(), Path::new("lines")).unwrap();
    second.bring_in(&incoming, &[], noon(400), true).unwrap();
    assert_eq!(second.evening().unwrap(), Some(evening_with(kim, noon(2))));
    let mut of_kim = Vec::new();
    second.export(Some(kim), &mut of_kim).unwrap();
    assert!(!String::from_utf8(of_kim).unwrap().contains("guests"), "a plan is about all, and not one learner's");
}

#[test]
fn who_is_erased_is_in_no_plan_and_another_id_of_a_person_is_that_person() {
    let (_camp, mut store) = laptop();
    let kim = store.add_learner("Kim", Placement::Fresh, noon(0)).unwrap().id;
    let tarn = store.add_learner("Tarn", Placement::Fresh, noon(1)).unwrap().id;
    store.keep_evening(&evening_with(tarn, noon(2))).unwrap();
    say(&mut store, kim, tarn, true, noon(3));
    let learner = store.learners().unwrap().remove(0).id;
    assert_eq!(store.evening().unwrap(), Some(evening_with(learner, noon(2))));
    store.erase_learner(learner, noon(4)).unwrap();
    let plan = store.evening().unwrap().unwrap().plan;
    assert_eq!(plan, format!("{{\"guests\":[\"{}\"]}}", "0".repeat(32)));
}
