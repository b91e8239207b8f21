//! Files that lie in the place of the store: these bytes, or a store in which bytes were changed.
//!
//! The first byte chooses the store that is changed (see `BASES`), or none: then the rest is the file. Of a store each five
//! bytes change one: three say where, one how, one what; `CUT` cuts the file off there. A bit of the first byte says whether the
//! store is mended or opened.
//!
//! Holds: nothing panics; looking never changes the file; what is found whole opens, holds together and can be written out; what is
//! mended is whole, and mending leaves the damaged file as it was.
#![no_main]

use libfuzzer_sys::fuzz_target;
use needlewise::store::{Store, inspect, mend};
use needlewise_fuzz::records::{self, assert_whole, laid, lines_of, place};
use needlewise_fuzz::{Bytes, assert_said, metas, moment};
use std::fs;

/// Stores of the versions before, which each program reads, too.
const BASES: [&[u8]; 4] = [
    include_bytes!("../../tests/reference/stores/version_1.sqlite"),
    include_bytes!("../../tests/reference/stores/version_2.sqlite"),
    include_bytes!("../../tests/reference/stores/version_3.sqlite"),
    include_bytes!("../../tests/reference/stores/version_4.sqlite"),
];
const CUT: u8 = 255;

fn changed(base: &[u8], mut bytes: Bytes<'_>) -> Vec<u8> {
    let mut file = base.to_vec();
    while !bytes.is_empty() && !file.is_empty() {
        let (at, how, what) = (bytes.number() % file.len(), bytes.byte(), bytes.byte());
        // The head of the file or of a page decides more than what stands in it.
        let (at, with) = match how {
            CUT => {
                file.truncate(at);
                continue;
            }
            200.. => (at % 100, what),
            150.. => (at / 4096 * 4096 + usize::from(what) % 16, what ^ how),
            100.. => (at, what),
            _ => (at, file[at] ^ 1 << (what % 8)),
        };
        // What was cut off is gone.
        if let Some(byte) = file.get_mut(at) {
            *byte = with;
        }
    }
    file
}

fuzz_target!(|input: &[u8]| {
    let mut bytes = Bytes(input);
    let first = bytes.byte();
    let file = match usize::from(first % 8) {
        0 => bytes.0.to_vec(),
        number @ 1..=4 => changed(BASES[number - 1], bytes),
        _ => changed(records::ours(), bytes),
    };
    let folder = laid(&file);
    let path = place(&folder);
    let same = |what: &str| assert!(fs::read(&path).expect("read") == file, "{what} changed the file");

    let found = inspect(&path, &metas(), &mut |_, _| {});
    same("looking");
    let mut looked = Store::open_to_read(&path, &metas());
    same("opening to read");
    match &mut looked {
        Ok(store) => {
            let _ = (store.learners(), store.glance());
            let verified = store.verify();
            if found.as_ref().is_ok_and(|found| found.is_whole()) {
                let verified = verified.expect("what is whole holds together");
                assert_eq!(verified.differences, []);
                // Rows of older stores have no check value: what stands in one may be of the right form and yet no text.
                if first % 8 > 4 {
                    lines_of(store);
                }
            }
            for learner in store.learners().unwrap_or_default() {
                let _ = (store.sheets(learner.id), store.checks(learner.id), store.lessons(learner.id));
            }
            same("reading");
        }
        Err(error) => {
            assert!(!found.is_ok_and(|found| found.is_whole()), "what is whole opens: {error}");
            assert_said(error);
        }
    }
    drop(looked);

    if first & 8 != 0 {
        let mended = folder.path().join("mended.sqlite");
        match mend(&path, &mended, &metas(), moment(20_000), &mut |_, _| {}) {
            Ok(_) => assert_whole(&mended),
            Err(error) => {
                assert_said(&error);
                assert!(!mended.exists(), "nothing is left of what failed");
            }
        }
        return same("mending");
    }

    // Last, since opening brings an older store up to date.
    match Store::open(&path, &metas()) {
        Ok(mut store) => {
            for learner in store.learners().unwrap_or_default() {
                let _ = store.beliefs(learner.id);
            }
            let _ = store.rebuild();
            let _ = store.verify();
        }
        Err(_) => same("a refusal"),
    }
});
