//! A store to begin from, with a record of each kind in it, and what holds of each store that the program has written.

use crate::{TODAY, ground, metas, moment};
use needlewise::drill::Standard;
use needlewise::learner::Placement;
use needlewise::plain::{self, CheckStart, Desk, Start};
use needlewise::problem::Level;
use needlewise::session::{Days, Plan};
use needlewise::store::{LearnerId, LessonMark, Said, Seen, SeenOutcome, Store, inspect};
use std::fs;
use std::io::Cursor;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;
use tempfile::TempDir;

/// Who is in each store.
pub const LEARNER: &str = "Ilva";

/// A folder for the files of one input, gone afterwards.
pub fn folder() -> TempDir {
    tempfile::tempdir().expect("a folder")
}

/// The store in this folder.
pub fn place(folder: &TempDir) -> PathBuf {
    folder.path().join("records.sqlite")
}

/// Opens a store that must be one.
#[track_caller]
pub fn open(path: &Path) -> Store {
    Store::open(path, &metas()).expect("a store")
}

/// The records of a small store with something of each kind in it, as lines. They are kept, since ids are random: an input must
/// do the same wherever it is played.
pub const OURS: &str = include_str!("../records/ours.jsonl");

/// The records of another laptop, on which some people have the same names.
pub const THEIRS: &str = include_str!("../records/theirs.jsonl");

/// A store of our records, as the bytes of its file.
pub fn ours() -> &'static [u8] {
    static FILE: OnceLock<Vec<u8>> = OnceLock::new();
    FILE.get_or_init(|| store_of(OURS))
}

/// A store of the other laptop's records, as the bytes of its file.
pub fn theirs() -> &'static [u8] {
    static FILE: OnceLock<Vec<u8>> = OnceLock::new();
    FILE.get_or_init(|| store_of(THEIRS))
}

fn store_of(lines: &str) -> Vec<u8> {
    let folder = folder();
    let mut store = open(&place(&folder));
    let incoming = store.incoming_lines(&mut lines.as_bytes(), Path::new("lines")).expect("records");
    store.bring_in(&incoming, &[], moment(10_000), true).expect("brought in");
    // What is folded now is not folded anew for each input.
    for learner in store.learners().expect("learners") {
        store.beliefs(learner.id).expect("beliefs");
    }
    let copy = folder.path().join("copy.sqlite");
    store.backup(&copy, false).expect("a copy");
    assert_whole(&copy);
    fs::read(copy).expect("the copy")
}

/// With `NEEDLEWISE_RECORDS=write` the records are made anew and written down, and nothing is attacked: wanted where a kind of
/// record is new.
pub fn write_where_wished() {
    if std::env::var_os("NEEDLEWISE_RECORDS").is_some_and(|wish| wish == "write") {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("records");
        let write = |name, lines| fs::write(folder.join(name), lines).expect("written");
        write("ours.jsonl", made(&["Ilva", "Bo", "Kim", "Kim the younger"], 0));
        write("theirs.jsonl", made(&["Ilva", "kim", "Una"], 5_000));
        std::process::exit(0);
    }
}

/// A folder in which these bytes lie in the place of the store.
pub fn laid(bytes: &[u8]) -> TempDir {
    let folder = folder();
    fs::write(place(&folder), bytes).expect("a file");
    folder
}

/// New records with these names, as lines: practice and a check, a patrol, a sheet, what was seen, a lesson, a mark, somebody
/// erased, and what was said of two.
fn made(names: &[&str], from: i64) -> String {
    let folder = folder();
    let path = place(&folder);
    let mut looks = from;
    let mut now = || {
        looks += 1;
        moment(looks)
    };
    let mut store = open(&path);
    let mut learners: Vec<LearnerId> = Vec::new();
    for name in names {
        learners.push(store.add_learner(name, Placement::Fresh, now()).expect("a learner").id);
    }
    let patrol = store.patrol_named("Herons", now()).expect("a patrol");
    store.join_patrol(learners[0], Some(patrol), now()).expect("joined");
    let codes = ["B2-2-7-v1".to_owned(), "A3-1-4-v1".to_owned()];
    store.add_sheet(learners[0], &codes, TODAY, now()).expect("a sheet");
    let mark = LessonMark { lesson: "needle".to_owned(), screen: 2, done: false };
    store.note_lesson(learners[1], &mark, now()).expect("a lesson");
    let skill = metas()[4].id.to_owned();
    let what = "a back bearing on the green".to_owned();
    let seen = Seen { learner: learners[1], skill, what, day: TODAY, by: "Una".to_owned(), outcome: SeenOutcome::Yes };
    store.add_seen(&[seen], now()).expect("seen");
    let gone = store.add_learner("Nobody", Placement::Fresh, now()).expect("a learner").id;
    store.erase_learner(gone, now()).expect("erased");
    if let [_, _, one, other] = learners[..] {
        store.say(&[Said { one, other, same: true }], now()).expect("said");
    }
    drop(store);
    // Some of it is right by chance, some told as a mix-up, one taken back.
    let typed = ["245\n65\nundo\n120\nhint\n300\n12\n90\nend\n", "30\nhint\n40\n210\nend\n", "9\n8\n"];
    for (name, typed) in names.iter().zip(typed) {
        let plan = Plan::free(ground().home).with_skills(&["back-bearing"], Level::new(2));
        let start =
            Start { store: open(&path), learner: name, plan, ground: ground(), days: Days::Given(TODAY), seed: 3 };
        let desk = &mut Desk { input: &mut Cursor::new(typed), out: &mut Vec::new(), now: &mut now };
        plain::practise(start, desk).expect("practice");
    }
    let store = open(&path);
    let learner = store.learner(learners[0]).expect("read").expect("a learner");
    let standard = Standard::embedded()[0].clone();
    let days = Days::Given(TODAY);
    let start = CheckStart { store, learner: &learner, standard, ground: ground(), days, seed: 3 };
    let typed = "y\n065\nclockwise\nN\n120\n45\nE\n12\n300\nend\n";
    let desk = &mut Desk { input: &mut Cursor::new(typed), out: &mut Vec::new(), now: &mut now };
    plain::check(start, desk).expect("a check");
    assert_whole(&path);
    lines_of(&mut open(&path))
}

/// All records of a store, as lines.
#[track_caller]
pub fn lines_of(store: &mut Store) -> String {
    let mut out = Vec::new();
    store.export(None, &mut out).expect("the records can be written out");
    String::from_utf8(out).expect("text")
}

/// A store that the program has written is whole, and its summaries are what its answers say.
#[track_caller]
pub fn assert_whole(path: &Path) {
    let mut store = open(path);
    for learner in store.learners().expect("learners") {
        store.beliefs(learner.id).expect("beliefs");
    }
    let verified = store.verify().expect("a whole store");
    assert_eq!(verified.differences, [], "summaries are what the answers say");
    drop(store);
    let found = inspect(path, &metas(), &mut |_, _| {}).expect("a store");
    assert!(found.is_whole(), "{found:?}");
}
