//! What two laptops did comes together, and goes on together: taken back, typed in twice, put aside, said of whom. All of it by the
//! calls that the program makes.

use super::super::open::NO_LINKS;
use super::super::testing::{Answer, Camp, date_of, noon, session_of, skills};
use super::super::{
    AttemptId, AttemptKind, LearnerId, NewAttempt, NewSession, Said, Seen, SeenOutcome, SheetWord, Store, StoreError,
    inspect, mend,
};
use crate::learner::Placement;
use jiff::{SignedDuration, Timestamp};
use std::path::PathBuf;

/// The code of the one problem on every sheet of these tests.
const CODE: &str = "X1-2-7";

fn at(minute: i64) -> Timestamp {
    noon(0) + SignedDuration::from_mins(minute)
}

/// A laptop with a store of its own, or one that begins from a copy.
struct Laptop {
    camp: Camp,
    store: Store,
}

impl Laptop {
    fn new() -> Laptop {
        let camp = Camp::new();
        let store = camp.open();
        Laptop { camp, store }
    }

    fn from(other: &Laptop) -> Laptop {
        let camp = Camp::new();
        let copy = other.copy("start");
        std::fs::create_dir(camp.file("records")).unwrap();
        std::fs::copy(copy, camp.path()).unwrap();
        let store = camp.open();
        Laptop { camp, store }
    }

    fn copy(&self, name: &str) -> PathBuf {
        let file = self.camp.file(name);
        self.store.backup(&file, true).unwrap();
        file
    }

    fn add(&mut self, name: &str, minute: i64) -> LearnerId {
        self.store.add_learner(name, Placement::Fresh, at(minute)).unwrap().id
    }

    fn answer(&mut self, who: LearnerId, kind: AttemptKind, minute: i64) -> AttemptId {
        let session = self.store.start_session(&NewSession { at: at(minute), ..session_of(who) }).unwrap();
        let attempt = NewAttempt { at: at(minute), kind, ..Answer::mixed_up(1).attempt(who, session) };
        self.store.record(&attempt).unwrap().id
    }

    fn practises(&mut self, who: LearnerId, minutes: std::ops::Range<i64>) -> Vec<AttemptId> {
        minutes.map(|minute| self.answer(who, AttemptKind::Practice, minute)).collect()
    }

    /// Prints the sheet, unless it is there.
    fn prints(&mut self, who: LearnerId, minute: i64) {
        self.store.add_sheet(who, &[CODE.to_owned()], date_of(0), at(minute)).unwrap();
    }

    /// Types an answer of the sheet in.
    fn types(&mut self, who: LearnerId, minute: i64) -> Result<AttemptId, StoreError> {
        let sheet = self.store.sheets(who).unwrap()[0].id;
        let session = self.store.start_session(&NewSession { at: at(minute), ..session_of(who) }).unwrap();
        let attempt = Answer::mixed_up(1).attempt(who, session);
        let attempt = NewAttempt { at: at(minute), kind: AttemptKind::Worksheet, code: CODE.to_owned(), ..attempt };
        self.store.record_on_sheet(&attempt, sheet).map(|recorded| recorded.id)
    }

    /// Says something of the sheet.
    fn says(&mut self, who: LearnerId, word: &SheetWord, minute: i64) {
        let sheet = self.store.sheets(who).unwrap()[0].id;
        self.store.say_of_sheet(sheet, word, date_of(0), at(minute)).unwrap();
    }

    fn takes_back(&mut self, who: LearnerId, what: AttemptId, minute: i64) {
        self.store.take_back(who, what, date_of(0), at(minute)).unwrap();
    }

    /// The entry of the sheet that counts.
    fn entered(&self, who: LearnerId) -> Vec<AttemptId> {
        let sheets = self.store.sheets(who).unwrap();
        assert_eq!(sheets.len(), 1, "one paper");
        sheets[0].entered.iter().map(|(_, id, _)| *id).collect()
    }

    fn merges(&mut self, other: &Laptop, said: &[Said]) {
        let file = other.copy("there");
        let incoming = self.store.incoming(&file).unwrap();
        self.store.bring_in(&incoming, said, at(1_000), true).unwrap();
        self.is_whole();
    }

    fn is_whole(&mut self) {
        for learner in self.store.learners().unwrap() {
            self.store.beliefs(learner.id).unwrap();
        }
        assert_eq!(self.store.verify().unwrap().differences, []);
        let found = inspect(&self.copy("looked at"), &skills(), &mut |_, _| {}).unwrap();
        assert!(found.is_whole(), "{found:?}");
    }

    fn all(&mut self) -> String {
        let mut out = Vec::new();
        self.store.export(None, &mut out).unwrap();
        String::from_utf8(out).unwrap()
    }

    fn names(&self) -> Vec<String> {
        self.store.learners().unwrap().into_iter().map(|learner| learner.name).collect()
    }
}

fn same(one: LearnerId, other: LearnerId) -> Said {
    Said { one, other, same: true }
}

#[test]
fn one_person_under_two_ids_of_whom_much_was_taken_back_stays_whole() {
    let (mut here, mut there) = (Laptop::new(), Laptop::new());
    let (kim, kim_b) = (here.add("Kim", 0), there.add("Kim", 1));
    for (laptop, who) in [(&mut here, kim), (&mut there, kim_b)] {
        for slip in laptop.practises(who, 2..7) {
            laptop.takes_back(who, slip, 20);
        }
        laptop.practises(who, 30..33);
    }
    here.merges(&there, &[same(kim, kim_b)]);
    assert_eq!(here.store.beliefs(kim).unwrap().skill("true-north").unwrap().count(), 6);
    assert_eq!(here.store.taken_back(kim).unwrap(), 10);
    // Said where both are here already, it comes to the same.
    let mut third = Laptop::new();
    third.merges(&there, &[]);
    third.merges(&here, &[]);
    assert_eq!(third.all(), here.all());
    // Whoever goes on there under the other id, and takes back there, comes in again.
    let slip = there.answer(kim_b, AttemptKind::Practice, 40);
    there.takes_back(kim_b, slip, 41);
    here.merges(&there, &[]);
    assert_eq!(here.store.taken_back(kim_b).unwrap(), 11);
}

#[test]
fn a_sheet_that_was_typed_in_on_three_laptops_comes_together_in_any_order() {
    let mut root = Laptop::new();
    let (kim, bo) = (root.add("Kim", 0), root.add("Bo", 0));
    for who in [kim, bo] {
        root.prints(who, 1);
    }
    let mut laptops = [Laptop::from(&root), Laptop::from(&root), Laptop::from(&root)];
    for (minute, laptop) in (10..).step_by(5).zip(&mut laptops) {
        for who in [bo, kim] {
            // Mistyped, taken back and typed again, twice.
            for again in 0..2 {
                let slip = laptop.types(who, minute + again).unwrap();
                laptop.takes_back(who, slip, minute + again);
            }
            laptop.types(who, minute + 2).unwrap();
        }
    }
    let mut results = Vec::new();
    for order in [[0, 1, 2], [2, 1, 0], [1, 2, 0], [2, 0, 1]] {
        let mut all = Laptop::new();
        for n in order {
            all.merges(&laptops[n], &[]);
        }
        assert_eq!((all.entered(kim).len(), all.store.glance().unwrap().answers), (1, 18));
        results.push(all.all());
    }
    assert!(results.iter().all(|one| *one == results[0]));
}

#[test]
fn a_corrected_entry_of_a_sheet_stays_whatever_comes_in_later() {
    let mut root = Laptop::new();
    let kim = root.add("Kim", 0);
    root.prints(kim, 1);
    let (mut here, mut there) = (Laptop::from(&root), Laptop::from(&root));
    let first = here.types(kim, 10).unwrap();
    there.types(kim, 11).unwrap();
    here.merges(&there, &[]);
    assert_eq!(here.entered(kim), [first], "of two the earlier");
    assert!(matches!(here.types(kim, 12), Err(StoreError::EnteredAlready)));
    // Both were mistyped: what was typed in twice must not come up in place of the correction.
    here.takes_back(kim, first, 20);
    assert_eq!(here.entered(kim), []);
    let right = here.types(kim, 21).unwrap();
    for _ in 0..2 {
        here.merges(&there, &[]);
        assert_eq!(here.entered(kim), [right]);
        there.merges(&here, &[]);
        assert_eq!(there.entered(kim), [right]);
    }
    assert_eq!(here.all(), there.all());
    assert!(matches!(here.store.take_back(kim, first, date_of(0), at(30)), Err(StoreError::NotTakenBack)));
}

#[test]
fn one_paper_that_was_printed_on_two_laptops_counts_once() {
    let mut root = Laptop::new();
    let kim = root.add("Kim", 0);
    let (mut here, mut there) = (Laptop::from(&root), Laptop::from(&root));
    here.prints(kim, 1);
    there.prints(kim, 2);
    let first = here.types(kim, 10).unwrap();
    there.types(kim, 11).unwrap();
    here.merges(&there, &[]);
    there.merges(&here, &[]);
    assert_eq!(here.all(), there.all());
    for laptop in [&mut here, &mut there] {
        assert_eq!(laptop.entered(kim), [first]);
        assert_eq!(laptop.store.attempts(kim, "true-north", 9).unwrap().len(), 1);
        assert!(matches!(laptop.types(kim, 12), Err(StoreError::EnteredAlready)));
        assert_eq!(laptop.store.beliefs(kim).unwrap().skill("true-north").unwrap().count(), 1);
    }
    // Taken back on the paper of one laptop, it is taken back on that of the other, too.
    there.takes_back(kim, first, 20);
    let right = there.types(kim, 21).unwrap();
    here.merges(&there, &[]);
    there.merges(&here, &[]);
    assert_eq!((here.entered(kim), there.entered(kim)), (vec![right], vec![right]));
    assert_eq!(here.all(), there.all());
}

#[test]
fn what_was_said_of_one_paper_on_two_laptops_holds_on_both_and_the_later_word_counts() {
    let mut root = Laptop::new();
    let kim = root.add("Kim", 0);
    let (mut here, mut there) = (Laptop::from(&root), Laptop::from(&root));
    here.prints(kim, 1);
    there.prints(kim, 2);
    let not_done = || SheetWord::NotDone(CODE.to_owned());
    here.says(kim, &SheetWord::PutAway, 10);
    there.says(kim, &not_done(), 11);
    let both = |here: &mut Laptop, there: &mut Laptop| {
        here.merges(there, &[]);
        there.merges(here, &[]);
        assert_eq!(here.all(), there.all());
        let [one, other] = [here, there].map(|laptop| laptop.store.sheets(kim).unwrap());
        assert_eq!((one.len(), &one[0].codes), (1, &other[0].codes), "one paper");
        assert_eq!((one[0].put_away, &one[0].not_done), (other[0].put_away, &other[0].not_done));
        (one[0].put_away, one[0].not_done.clone())
    };
    assert_eq!(both(&mut here, &mut there), (true, vec![0]));
    // It came back after all, and the problem was a slip: said with a clock that is behind.
    there.says(kim, &SheetWord::TakenOut, 3);
    here.says(kim, &SheetWord::Open(CODE.to_owned()), 3);
    assert_eq!(both(&mut here, &mut there), (false, vec![]));
    // What was typed in goes before the word that nothing was done, whichever came first.
    here.says(kim, &not_done(), 20);
    there.types(kim, 15).unwrap();
    assert_eq!(both(&mut here, &mut there), (false, vec![]));
    let sheet = here.store.sheets(kim).unwrap().remove(0);
    assert_eq!((sheet.entered.len(), sheet.is_awaited()), (1, false));
    let nothing_such = SheetWord::NotDone("X9-1-1".to_owned());
    let refused = here.store.say_of_sheet(sheet.id, &nothing_such, date_of(0), at(30));
    assert!(matches!(refused, Err(StoreError::NoSuchSheet)));
    // With the person all of it goes.
    here.store.erase_learner(kim, at(40)).unwrap();
    here.is_whole();
    there.merges(&here, &[]);
    assert_eq!(there.store.learners().unwrap(), []);
}

#[test]
fn who_was_put_aside_on_another_laptop_is_taken_back_here() {
    let (mut here, mut there) = (Laptop::new(), Laptop::new());
    let kim = there.add("Kim", 0);
    there.practises(kim, 1..3);
    there.store.archive_learner(kim, true, at(5)).unwrap();
    here.merges(&there, &[]);
    assert_eq!(here.names(), [""; 0]);
    here.store.archive_learner(kim, false, at(10)).unwrap();
    assert_eq!(here.names(), ["Kim"]);
    assert_eq!(here.store.learner_by_name("kim").unwrap().unwrap().id, kim);
    assert!(matches!(here.store.add_learner("KIM", Placement::Fresh, at(11)), Err(StoreError::NameInUse { .. })));
    here.is_whole();
}

#[test]
fn only_what_was_given_in_practice_is_told_as_taken_back_by_its_learner() {
    let mut here = Laptop::new();
    let kim = here.add("Kim", 0);
    here.prints(kim, 1);
    let typed = here.types(kim, 2).unwrap();
    let (round, own) = (here.answer(kim, AttemptKind::Round, 3), here.answer(kim, AttemptKind::Practice, 4));
    for (slip, counted) in [(typed, 0), (round, 0), (own, 1)] {
        here.takes_back(kim, slip, 10);
        assert_eq!(here.store.taken_back(kim).unwrap(), counted);
    }
}

#[test]
fn namesakes_in_two_files_are_asked_about_and_so_are_those_who_are_here() {
    let (mut here, mut one, mut other) = (Laptop::new(), Laptop::new(), Laptop::new());
    let (tarn, tarn_b) = (one.add("Tarn", 0), other.add("tarn", 1));
    one.practises(tarn, 2..4);
    other.practises(tarn_b, 5..8);
    let files = [one.copy("one"), other.copy("other")];
    let incoming: Vec<_> = files.iter().map(|file| here.store.incoming(file).unwrap()).collect();
    let pairs = |store: &Store, incoming: &[super::super::Incoming], said: &[Said]| -> Vec<_> {
        let found = store.namesakes(incoming, said).unwrap();
        found.into_iter().map(|pair| (pair.one.id, pair.other.id, pair.file)).collect()
    };
    assert_eq!(pairs(&here.store, &incoming, &[]), [(tarn, tarn_b, Some(1))]);
    for is_same in [true, false] {
        let said = Said { one: tarn_b, other: tarn, same: is_same };
        assert_eq!(pairs(&here.store, &incoming, &[said]), [], "said just now");
    }
    for incoming in &incoming {
        here.store.bring_in(incoming, &[], at(20), true).unwrap();
    }
    assert_eq!(here.names(), ["Tarn", "tarn 2"]);
    assert_eq!(pairs(&here.store, &[], &[]), [(tarn, tarn_b, None)]);
    // From lines, too.
    let mut third = Laptop::new();
    let lines = here.all();
    let incoming = third.store.incoming_lines(&mut lines.as_bytes(), &PathBuf::from("lines")).unwrap();
    third.store.bring_in(&incoming, &[], at(20), true).unwrap();
    assert_eq!(pairs(&third.store, &[], &[]), [(tarn, tarn_b, None)]);
    third.store.say(&[same(tarn, tarn_b)], at(21)).unwrap();
    assert_eq!((third.names(), pairs(&third.store, &[], &[])), (vec!["Tarn".to_owned()], vec![]));
    assert_eq!(third.store.attempts(tarn_b, "true-north", 9).unwrap().len(), 5);
    third.is_whole();
    here.store.say(&[Said { one: tarn, other: tarn_b, same: false }], at(21)).unwrap();
    assert_eq!(pairs(&here.store, &[], &[]), []);
    // Who is erased in one of the files is nobody's namesake.
    one.store.erase_learner(tarn, at(30)).unwrap();
    let incoming = [here.store.incoming(&one.copy("one")).unwrap()];
    assert_eq!(pairs(&here.store, &incoming, &[]), []);
}

#[test]
fn who_only_looks_at_a_merge_keeps_nobody_from_recording() {
    let (mut here, mut there) = (Laptop::new(), Laptop::new());
    let kim = there.add("Kim", 0);
    there.practises(kim, 1..4);
    let file = there.copy("there");
    let incoming = here.store.incoming(&file).unwrap();
    // Another program is in the middle of writing.
    let other = rusqlite::Connection::open(here.camp.path()).unwrap();
    other.execute_batch("BEGIN IMMEDIATE").unwrap();
    let looked = here.store.bring_in(&incoming, &[], at(10), false).unwrap();
    assert_eq!((looked.people, looked.answers), (1, 3));
    other.execute_batch("ROLLBACK").unwrap();
    assert_eq!(here.names(), [""; 0]);
    assert_eq!(here.store.bring_in(&incoming, &[], at(10), true).unwrap(), looked, "and then just that came in");
    let left = std::fs::read_dir(here.camp.file("records")).unwrap().map(|entry| entry.unwrap().file_name());
    assert_eq!(left.filter(|name| name.to_string_lossy().contains("draft")).count(), 1, "that of what came in alone");
}

/// Two laptops with namesakes, of whom two are one person, and one with a number behind the name.
fn joined() -> (Laptop, LearnerId, LearnerId) {
    let (mut here, mut there) = (Laptop::new(), Laptop::new());
    let (kim, kim_b) = (here.add("Kim", 0), there.add("Kim", 1));
    let (tarn, tarn_b) = (here.add("Tarn", 0), there.add("Tarn", 1));
    for (laptop, who, also) in [(&mut here, kim, tarn), (&mut there, kim_b, tarn_b)] {
        laptop.prints(who, 2);
        laptop.types(who, 3).unwrap();
        let slip = laptop.practises(who, 4..30)[3];
        laptop.takes_back(who, slip, 40);
        laptop.practises(also, 50..60);
        let (skill, what, by) = ("turn-back".to_owned(), "over the moor".to_owned(), "Alma".to_owned());
        let seen = Seen { learner: who, skill, what, day: date_of(0), by, outcome: SeenOutcome::Yes };
        let entries = laptop.store.add_seen(&[seen.clone(), seen], at(61)).unwrap();
        laptop.store.take_seen_back(&entries[..1], date_of(0), at(62)).unwrap();
    }
    here.merges(&there, &[same(kim, kim_b)]);
    (here, kim, kim_b)
}

fn mended(laptop: &Laptop, from: &std::path::Path) -> (Laptop, super::super::Mended) {
    let camp = Camp::new();
    std::fs::create_dir(camp.file("records")).unwrap();
    let told = mend(from, &camp.path(), &skills(), at(2_000), &mut |_, _| {}).unwrap();
    let store = camp.open();
    assert_ne!(laptop.camp.path(), camp.path());
    (Laptop { camp, store }, told)
}

#[test]
fn what_is_mended_of_a_merged_store_knows_who_is_who() {
    let (mut whole, kim, kim_b) = joined();
    let copy = whole.copy("copy");
    let (mut new, told) = mended(&whole, &copy);
    new.is_whole();
    assert_eq!((told.damaged, told.other_damaged), (0, 0));
    let of_each: Vec<_> =
        told.learners.iter().map(|one| (one.name.as_str(), one.name_lost, one.saved, one.lost)).collect();
    assert_eq!(of_each, [("Kim", false, 54, 0), ("Tarn", false, 10, 0), ("Tarn 2", false, 10, 0)]);
    assert_eq!(new.all(), whole.all());
    assert_eq!(new.store.beliefs(kim).unwrap(), whole.store.beliefs(kim_b).unwrap());
    // And it goes on: with the other laptops, and when one of them is said to be somebody after all.
    new.merges(&whole, &[]);
    assert_eq!(new.all(), whole.all());
    let tarns: Vec<_> = new.store.learners().unwrap().into_iter().filter(|one| one.name.starts_with("Tarn")).collect();
    new.store.say(&[same(tarns[0].id, tarns[1].id)], at(3_000)).unwrap();
    new.is_whole();
    assert_eq!(new.names(), ["Kim", "Tarn"]);
}

#[test]
fn where_only_what_followed_is_left_of_who_is_who_it_is_said_anew() {
    let (whole, kim, kim_b) = joined();
    let copy = whole.copy("copy");
    let mut bytes = std::fs::read(&copy).unwrap();
    // The record that they are one is not what it was.
    let alias: Vec<u8> = whole.store.conn.query_row("SELECT id FROM aliases", [], |row| row.get(0)).unwrap();
    let mut torn = 0;
    for at in 0..bytes.len() - 16 {
        if bytes[at..at + 16] == alias[..] {
            bytes[at + 7] ^= 1;
            torn += 1;
        }
    }
    assert!(torn > 0);
    std::fs::write(&copy, &bytes).unwrap();
    let found = inspect(&copy, &skills(), &mut |_, _| {}).unwrap();
    assert!(!found.is_whole());
    let (mut new, told) = mended(&whole, &copy);
    new.is_whole();
    assert_eq!((told.damaged, told.other_damaged), (0, 1));
    assert_eq!(new.names(), ["Kim", "Tarn", "Tarn 2"]);
    // What each practised, without the slips, and the one paper once.
    assert_eq!(new.store.attempts(kim, "true-north", 99).unwrap().len(), 51);
    assert_eq!(new.store.attempts(kim_b, "true-north", 99).unwrap().len(), 51);
}

#[test]
fn of_a_merged_store_with_any_one_torn_page_the_rest_is_saved_and_goes_on() {
    const PAGE: usize = 4096;
    let (whole, ..) = joined();
    let copy = whole.copy("copy");
    let bytes = std::fs::read(&copy).unwrap();
    let all = whole.store.glance().unwrap().answers;
    for page in (0..bytes.len() / PAGE).step_by(3) {
        let mut torn = bytes.clone();
        torn[page * PAGE..(page + 1) * PAGE].fill(0xa5);
        let file = whole.camp.file("torn");
        std::fs::write(&file, &torn).unwrap();
        let (mut new, told) = mended(&whole, &file);
        new.is_whole();
        // A page holds some answers at most.
        assert!(told.answers <= all && told.answers + 20 >= all, "page {page}: {told:?}");
        assert!(new.names().len() >= 3, "page {page}: {:?}", new.names());
        new.merges(&whole, &[]);
        assert_eq!(new.store.glance().unwrap().answers, all, "page {page}");
    }
}

#[test]
fn on_a_disk_without_links_stores_are_made_copied_and_restored() {
    NO_LINKS.set(true);
    let mut here = Laptop::new();
    let kim = here.add("Kim", 0);
    here.practises(kim, 1..4);
    let copy = here.camp.file("copy");
    here.store.backup(&copy, false).unwrap();
    assert!(matches!(here.store.backup(&copy, false), Err(StoreError::OlderBackup { .. })));
    here.practises(kim, 5..7);
    let Laptop { camp, store } = here;
    drop(store);
    let kept = super::super::restore(&copy, &camp.path()).unwrap().put(at(10)).unwrap().kept.unwrap();
    NO_LINKS.set(false);
    assert_eq!(camp.open().glance().unwrap().answers, 3);
    assert_eq!(Store::open(&kept, &skills()).unwrap().glance().unwrap().answers, 5);
    assert_eq!(std::fs::read_dir(camp.file("records")).unwrap().count(), 2, "no half of a file is left");
}
