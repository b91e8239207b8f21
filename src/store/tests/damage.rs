//! Bits that flip and pages that are torn: everything is found, and what is whole is saved.

use super::super::fill::fill_with_answers;
use super::super::pages::{Cell, Pages};
use super::super::testing::{Answer, Camp, noon, skills};
use super::super::{Inspection, NewAttempt, Store, inspect, mend};
use crate::problem::Draw;
use rusqlite::types::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

const PAGE: usize = 4096;

/// Where an answer stands in the file: its page's first byte, and its cell there.
struct Place {
    page: usize,
    cell: Cell,
}

/// The answers of a file that has no log.
fn answers(path: &Path) -> Vec<Place> {
    let mut pages = Pages::open(path).unwrap();
    let mut places = Vec::new();
    for number in 1..=pages.count() {
        let page = (number as usize - 1) * PAGE;
        places.extend(
            pages.cells(number).into_iter().filter(|cell| cell.values.len() == 26).map(|cell| Place { page, cell }),
        );
    }
    places
}

fn looked_at(path: &Path) -> Inspection {
    inspect(path, &skills(), &mut |_, _| {}).unwrap()
}

/// A number of the environment, for longer runs.
fn number(variable: &str, usual: u32) -> u32 {
    std::env::var(variable).ok().and_then(|text| text.parse().ok()).unwrap_or(usual)
}

#[test]
fn every_bit_that_flips_inside_an_answer_is_named() {
    let camp = Camp::new();
    let mut program = camp.program();
    for n in 0..120 {
        program.answer(&if n % 3 == 0 { Answer::mixed_up(1) } else { Answer::right(n % 3) }).unwrap();
    }
    let (copy, flipped) = (camp.file("copy"), camp.file("flipped"));
    program.store.backup(&copy, false).unwrap();
    assert!(looked_at(&copy).is_whole());
    let bytes = fs::read(&copy).unwrap();
    let places = answers(&copy);
    assert_eq!(places.len(), 120);
    let mut draw = Draw::new("flips", 0, 0, u64::from(number("NEEDLEWISE_FLIP_SEED", 1)));
    let (mut named, mut harmless) = (0, 0);
    let flips = number("NEEDLEWISE_FLIPS", 400);
    for _ in 0..flips {
        let place = &places[draw.below(120) as usize];
        let bit = draw.below(u32::try_from(place.cell.length * 8).unwrap()) as usize;
        let at = place.page + place.cell.at + bit / 8;
        let mut torn = bytes.clone();
        torn[at] ^= 1 << (bit % 8);
        fs::write(&flipped, &torn).unwrap();
        let found = looked_at(&flipped);
        if found.is_whole() {
            // The one byte that SQLite never reads: what kind of value stands in place of the key.
            assert_eq!((bit / 8, bit % 8), (place.cell.header + 1, 3), "bit {bit} of {place}", place = place.cell.key);
            harmless += 1;
            continue;
        }
        let is_named = found.damaged.iter().any(|one| one.table == "attempts" && one.key == place.cell.key)
            || found.lost.iter().any(|one| one.key == place.cell.key);
        // Before the record stand its length and its number in the tree: those are the file's, and not the answer's.
        let is_files = bit / 8 < place.cell.header && !found.file.is_empty();
        assert!(is_named || is_files, "bit {bit} of {}: {found:?}", place.cell.key);
        named += 1;
    }
    eprintln!("{named} of {flips} named, {harmless} in a bit that nothing reads");
    assert_eq!(named + harmless, flips);
    assert!(harmless * 100 < flips, "{harmless}");
}

#[test]
fn a_bit_that_flips_in_any_other_record_with_a_check_value_is_found() {
    let camp = Camp::new();
    let mut program = camp.program();
    let answer = program.answer(&Answer::right(0)).unwrap().id;
    program.mark(answer, "undone");
    let copy = camp.file("copy");
    program.store.backup(&copy, false).unwrap();
    for (from, to) in [(&b"a key too many"[..], &b"a key too mani"[..]), (b"0.1.0", b"0.1.2")] {
        let mut bytes = fs::read(&copy).unwrap();
        let at = bytes.windows(from.len()).position(|window| window == from).unwrap();
        bytes[at..at + from.len()].copy_from_slice(to);
        let torn = camp.file("torn");
        fs::write(&torn, &bytes).unwrap();
        let found = looked_at(&torn);
        assert_eq!(found.damaged.len(), 1, "{found:?}");
        assert_eq!(found.damaged[0].learner.as_deref(), Some("Ilva"));
    }
}

/// The content of each answer, by its id.
fn contents(path: &Path) -> BTreeMap<Vec<u8>, Vec<Value>> {
    let conn = rusqlite::Connection::open(path).unwrap();
    let mut statement = conn
        .prepare("SELECT id, at, day, code, facts, given, verdict, mixup, exposed, seed, help FROM attempts")
        .unwrap();
    let rows = statement
        .query_map([], |row| Ok((row.get(0)?, (1..11).map(|at| row.get(at)).collect::<Result<Vec<Value>, _>>()?)))
        .unwrap();
    rows.map(Result::unwrap).collect()
}

fn id_of(values: &[Value]) -> Vec<u8> {
    let Value::Blob(id) = &values[2] else { panic!("no id") };
    id.clone()
}

#[test]
fn of_a_store_with_ten_torn_pages_at_least_99_in_100_of_the_whole_answers_are_saved() {
    let camp = Camp::new();
    let mut store = camp.open();
    fill_with_answers(&mut store, 8, 3_000).unwrap();
    let copy = camp.file("copy");
    store.backup(&copy, false).unwrap();
    let (bytes, places, before) = (fs::read(&copy).unwrap(), answers(&copy), contents(&copy));
    assert_eq!((places.len(), before.len()), (3_000, 3_000));
    let names: BTreeSet<String> = store.learners().unwrap().into_iter().map(|learner| learner.name).collect();
    for seed in 0..6 {
        let mut draw = Draw::new("torn", 0, 0, seed);
        let mut torn = bytes.clone();
        let mut pages: BTreeSet<usize> =
            (0..9).map(|_| draw.below(u32::try_from(bytes.len() / PAGE).unwrap()) as usize).collect();
        // The first page is among them each second time, and with it what says where everything is.
        pages.insert(if seed % 2 == 0 { 0 } else { 1 });
        for page in &pages {
            // A page of which one half was written and the other not, or that was overwritten by something else.
            let half = page * PAGE + if draw.chance(1, 2) { PAGE / 2 } else { 0 };
            for byte in &mut torn[half..half + PAGE / 2] {
                *byte = if draw.chance(1, 2) { 0 } else { u8::try_from(draw.below(256)).unwrap() };
            }
        }
        let path = camp.file(&format!("torn {seed}"));
        fs::write(&path, &torn).unwrap();
        let untouched = |place: &&Place| {
            let (from, to) = (place.page + place.cell.at, place.page + place.cell.at + place.cell.length);
            torn[from..to] == bytes[from..to]
        };
        let whole: BTreeSet<Vec<u8>> = places.iter().filter(untouched).map(|place| id_of(&place.cell.values)).collect();
        assert!(!looked_at(&path).is_whole());
        let new = camp.file(&format!("mended {seed}"));
        let mended = mend(&path, &new, &skills(), noon(0), &mut |_, _| {}).unwrap();
        assert_eq!(fs::read(&path).unwrap(), torn, "the damaged file is not touched");
        let saved = contents(&new);
        assert_eq!(saved.len() as u64, mended.answers);
        let kept = whole.iter().filter(|id| saved.contains_key(*id)).count();
        eprintln!("seed {seed}: {kept} of {} whole answers saved, {} damaged", whole.len(), mended.damaged);
        assert!(kept * 100 >= whole.len() * 99, "{kept} of {}", whole.len());
        assert!(saved.iter().all(|(id, row)| before.get(id) == Some(row)), "nothing that was never written");
        let found = looked_at(&new);
        assert!(found.is_whole(), "{found:?}");
        let told: u64 = mended.learners.iter().map(|learner| learner.saved).sum();
        assert_eq!(told, mended.answers);
        assert!(mended.learners.iter().all(|learner| learner.name_lost != names.contains(&learner.name)));
        assert!(Store::open(&new, &skills()).unwrap().verify().unwrap().differences.is_empty());
    }
}

#[test]
fn what_is_mended_of_a_whole_store_is_the_same_store() {
    let camp = Camp::new();
    let mut program = camp.program();
    for n in 0..40 {
        program.answer(&Answer::mixed_up(n % 3)).unwrap();
    }
    let slip = program.answer(&Answer::right(0)).unwrap().id;
    program.mark(slip, "undone");
    // The newest answers stand in the log alone.
    let new = camp.file("new");
    let mended = mend(&camp.path(), &new, &skills(), noon(0), &mut |_, _| {}).unwrap();
    assert_eq!((mended.answers, mended.damaged, mended.other_damaged), (41, 0, 0));
    assert_eq!((mended.learners[0].name.as_str(), mended.learners[0].saved, mended.learners[0].lost), ("Ilva", 41, 0));
    let mut store = Store::open(&new, &skills()).unwrap();
    assert_eq!(store.beliefs(program.learner).unwrap(), program.store.beliefs(program.learner).unwrap());
    assert_eq!(contents(&new), contents(&camp.path()));
    assert!(mend(&camp.path(), &new, &skills(), noon(0), &mut |_, _| {}).is_err(), "never over something");
}

#[test]
fn an_older_store_is_mended_without_check_values() {
    let camp = Camp::new();
    for version in 1..=4 {
        let kept =
            Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/reference/stores/version_{version}.sqlite"));
        let old = camp.file(&format!("old {version}"));
        fs::copy(kept, &old).unwrap();
        assert!(looked_at(&old).is_whole(), "{:?}", looked_at(&old));
        let new = camp.file(&format!("new {version}"));
        let mended = mend(&old, &new, &skills(), noon(0), &mut |_, _| {}).unwrap();
        assert_eq!((mended.answers, mended.damaged), (42, 0), "version {version}");
        let names: Vec<_> = mended.learners.iter().map(|learner| (learner.name.as_str(), learner.lost)).collect();
        assert_eq!(names, [("Ilva", 0), ("Mossa", 0), ("Tarn", 0)]);
        assert!(looked_at(&new).is_whole());
    }
}

#[test]
fn a_power_cut_that_left_garbage_in_the_first_page_is_mended_by_the_log() {
    let camp = Camp::new();
    let mut program = camp.program();
    program.answer(&Answer::right(0)).unwrap();
    let copy = Camp::new();
    fs::create_dir(copy.file("records")).unwrap();
    let mut bytes = fs::read(camp.path()).unwrap();
    bytes[..PAGE].fill(0x5a);
    fs::write(copy.path(), &bytes).unwrap();
    // A log that holds the first page, as it does whenever that page is being brought into the file.
    program.store.conn.execute_batch("CREATE TABLE touched (a INTEGER); DROP TABLE touched;").unwrap();
    fs::copy(camp.file("records/needlewise.db-wal"), copy.file("records/needlewise.db-wal")).unwrap();
    assert_eq!(copy.open().attempts(program.learner, "turn-back", 9).unwrap().len(), 1);
}

#[test]
fn a_file_of_something_else_is_neither_verified_nor_mended() {
    let camp = Camp::new();
    let list = camp.file("list.txt");
    fs::write(&list, "rope, matches, map\n".repeat(1_000)).unwrap();
    assert!(inspect(&list, &skills(), &mut |_, _| {}).is_err());
    assert!(mend(&list, &camp.file("new"), &skills(), noon(0), &mut |_, _| {}).is_err());
    assert!(!camp.file("new").exists());
}

#[test]
fn a_chain_of_pages_that_comes_back_to_itself_has_an_end() {
    let camp = Camp::new();
    let mut program = camp.program();
    let session = program.session;
    let long = format!(r#"{{"a":"{}"}}"#, "x".repeat(200_000));
    for facts in [long.clone(), long, "{}".to_owned()] {
        let attempt = NewAttempt { facts, ..Answer::right(0).attempt(program.learner, session) };
        program.store.record(&attempt).unwrap();
    }
    let copy = camp.file("copy");
    program.store.backup(&copy, false).unwrap();
    assert!(looked_at(&copy).is_whole());
    let mut bytes = fs::read(&copy).unwrap();
    let whole = bytes.clone();
    let mut chained = 0;
    for (at, page) in bytes.chunks_exact_mut(PAGE).enumerate() {
        // A page of the chain is nothing but text behind the number of the next one.
        if page[4..].iter().all(|byte| *byte == b'x') {
            let number = u32::try_from(at + 1).unwrap();
            page[..4].copy_from_slice(&number.to_be_bytes());
            chained += 1;
        }
    }
    assert!(chained > 50, "{chained}");
    let torn = camp.file("torn");
    fs::write(&torn, &bytes).unwrap();
    let found = looked_at(&torn);
    assert_eq!((found.answers, found.lost.len()), (1, 2), "{found:?}");
    let mended = mend(&torn, &camp.file("new"), &skills(), noon(0), &mut |_, _| {}).unwrap();
    assert_eq!(mended.answers, 1);
    // A file made up so that nearly every byte is the beginning of a long record on a long chain: read in moments all the same.
    let mut bytes = whole[..PAGE].to_vec();
    for page in 2..=300_u32 {
        // A record of 1,048,575 bytes, of which 1,023 stand here; behind them the number of a page: 2.
        let mut made_up: Vec<u8> = [0xbf, 0xff, 0x7f, 0, 0, 0, 2, 0].repeat(PAGE / 8);
        made_up[..4].copy_from_slice(&(page + 1).to_be_bytes());
        bytes.extend(made_up);
    }
    fs::write(&torn, &bytes).unwrap();
    let begun = std::time::Instant::now();
    assert!(!looked_at(&torn).is_whole());
    assert!(begun.elapsed().as_secs() < 60, "{:?}", begun.elapsed());
}
