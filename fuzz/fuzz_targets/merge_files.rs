//! Records of another laptop that come in: lines, or the file of a store.
//!
//! The first byte chooses: these bytes as lines; the lines of another laptop in which records were changed; its file with bytes
//! changed; these bytes as a file.
//!
//! Holds: nothing panics; what is refused changes nothing; what would come in is what comes in, and all of it once; afterwards
//! the store is whole; and brought together the other way round it comes to the same.
#![no_main]

use libfuzzer_sys::fuzz_target;
use needlewise::store::{Brought, Incoming, Said, Store, StoreError};
use needlewise_fuzz::records::{self, THEIRS, assert_whole, folder, laid, lines_of, open, place};
use needlewise_fuzz::{Bytes, assert_said, moment};
use serde_json::{Map, Value};
use std::fs;
use std::path::Path;

/// Lines of which some were left out, doubled, exchanged, or given what stands in others. Records of here are among them.
fn changed_lines(mut bytes: Bytes<'_>) -> String {
    let ours = records::OURS.lines().skip(1);
    let mut lines: Vec<String> = THEIRS.lines().map(str::to_owned).collect();
    let others: Vec<&str> = ours.collect();
    for _ in 0..24 {
        if bytes.is_empty() || lines.len() < 2 {
            break;
        }
        let (what, one, other) = (bytes.below(8), 1 + bytes.below(lines.len() - 1), 1 + bytes.below(lines.len() - 1));
        match what {
            0 => drop(lines.remove(one)),
            1 => lines.insert(one, lines[other].clone()),
            2 => lines.swap(one, other),
            3 => lines.insert(one, others[bytes.below(others.len())].to_owned()),
            _ => {
                let from = if what == 4 { others[bytes.below(others.len())] } else { lines[other].as_str() };
                let (Ok(mut into), Ok(from)) = (parsed(&lines[one]), parsed(from)) else { continue };
                put(&mut into, &from, what, &mut bytes);
                lines[one] = Value::Object(into).to_string();
            }
        }
    }
    lines.join("\n")
}

fn parsed(line: &str) -> serde_json::Result<Map<String, Value>> {
    serde_json::from_str(line)
}

/// Puts another value under one of the names.
fn put(into: &mut Map<String, Value>, from: &Map<String, Value>, what: usize, bytes: &mut Bytes<'_>) {
    let Some(name) = into.keys().nth(bytes.below(into.len())).cloned() else { return };
    let value = match what {
        5 => match bytes.below(8) {
            0 => Value::Null,
            1 => Value::from(""),
            2 => Value::from(i64::MAX),
            3 => Value::from(bytes.byte()),
            4 => Value::from("2026-11-25T18:00:00Z"),
            5 => Value::from("2026-11-2"),
            6 => Value::from(bytes.byte() > 127),
            _ => Value::from(bytes.line(40)),
        },
        6 => from.values().nth(bytes.below(from.len())).cloned().unwrap_or_default(),
        _ => from.get(&name).cloned().unwrap_or_default(),
    };
    into.insert(name, value);
}

fn changed_file(mut bytes: Bytes<'_>) -> Vec<u8> {
    let mut file = records::theirs().to_vec();
    while !bytes.is_empty() {
        let (at, what) = (bytes.number() % file.len(), bytes.byte());
        file[at] = what;
    }
    file
}

/// What is not known of two is said to be one person, where the input wills it.
fn said(store: &Store, incoming: &Incoming, same: bool) -> Vec<Said> {
    let pairs = store.namesakes(std::slice::from_ref(incoming), &[]).expect("namesakes");
    pairs.iter().take(1).map(|pair| Said { one: pair.one.id, other: pair.other.id, same }).collect()
}

/// Records but for what was said of two, whose ids are new each time it is said.
fn recorded(lines: &str) -> Vec<&str> {
    lines.lines().filter(|line| !line.contains(r#""kind":"alias""#)).collect()
}

fn came_in(store: &Store, input: &[u8], beside: &Path) -> Result<Incoming, StoreError> {
    let mut bytes = Bytes(input);
    let file = beside.join("theirs.sqlite");
    match bytes.below(4) {
        0 => store.incoming_lines(&mut bytes.0, Path::new("lines")),
        1 => store.incoming_lines(&mut changed_lines(bytes).as_bytes(), Path::new("lines")),
        2 => {
            fs::write(&file, changed_file(bytes)).expect("written");
            store.incoming(&file)
        }
        _ => {
            fs::write(&file, bytes.0).expect("written");
            store.incoming(&file)
        }
    }
}

fuzz_target!(init: records::write_where_wished(), |input: &[u8]| {
    let here = laid(records::ours());
    let path = place(&here);
    let mut store = open(&path);
    let before = lines_of(&mut store);
    let other = folder();
    let incoming = match came_in(&store, input, other.path()) {
        Ok(incoming) => incoming,
        Err(error) => {
            assert_said(&error);
            assert_eq!(lines_of(&mut store), before, "what is refused changes nothing");
            return;
        }
    };
    let said = said(&store, &incoming, input.len() % 2 == 0);
    let now = moment(20_000);
    let looked = store.bring_in(&incoming, &said, now, false).expect("looked at");
    assert_eq!(lines_of(&mut store), before, "looking changes nothing");
    let brought = store.bring_in(&incoming, &said, now, true).expect("what was looked at comes in");
    assert_eq!(brought, looked, "what would come in is what comes in");
    let after = lines_of(&mut store);
    let again = store.bring_in(&incoming, &said, now, true).expect("again");
    assert_eq!(Brought { numbered: Vec::new(), ..again }, Brought::default(), "all came in the first time");
    assert_eq!(lines_of(&mut store), after, "nothing comes in twice");
    drop(store);
    assert_whole(&path);

    // The other way round: into a new store first what came, then what was here.
    let third = folder();
    let mut third_store = open(&place(&third));
    third_store.bring_in(&incoming, &[], now, true).expect("into a new store");
    let ours = third_store.incoming_lines(&mut before.as_bytes(), Path::new("ours")).expect("ours");
    third_store.bring_in(&ours, &said, now, true).expect("ours beside it");
    assert_eq!(recorded(&lines_of(&mut third_store)), recorded(&after), "the order of merges does not matter");
    drop(third_store);
    assert_whole(&place(&third));
});
