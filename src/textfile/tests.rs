//! Settings, drills and standards say the same of the same slip.

use super::{Fault, Kind};
use crate::config::{Config, ConfigError};
use crate::drill::{Drill, DrillError, Origin, Standard};
use proptest::prelude::*;
use std::path::PathBuf;

/// What is said of one fault but for its example: the sentence, what stands under the place, and the place.
type Said = (String, String, Option<std::ops::Range<usize>>);

fn said<F: Kind>(faults: &[Fault<F>]) -> Vec<Said> {
    faults.iter().map(|fault| (fault.kind.to_string(), fault.kind.label(), fault.span.clone())).collect()
}

fn drill(text: &str) -> Vec<Said> {
    match Drill::read(text, Origin::File(PathBuf::from("file.toml")), crate::skills::metas()) {
        Err(DrillError::Faults(faults)) => said(&faults.faults),
        other => panic!("{text}: {other:?}"),
    }
}

fn standard(text: &str) -> Vec<Said> {
    match Standard::read(text, Origin::File(PathBuf::from("file.toml")), crate::skills::metas()) {
        Err(DrillError::Faults(faults)) => said(&faults.faults),
        other => panic!("{text}: {other:?}"),
    }
}

fn settings(text: &str) -> Vec<Said> {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("config.toml");
    std::fs::write(&path, text).unwrap();
    match Config::load(&path) {
        Err(ConfigError::Faults(faults)) => said(&faults.faults),
        other => panic!("{text}: {other:?}"),
    }
}

#[test]
fn the_same_slip_is_told_by_the_same_sentence_in_settings_drills_and_standards() {
    for line in [
        "name = Hut",
        "name = \u{201c}Hut\u{201d}",
        "name = \"Hut",
        "name = \"Hut\\ \"",
        "name = \"Hut\" below",
        "name =",
        "name: Hut",
        "name",
        "// name",
        "name = 'hut'\nname = 'hut'",
        "name = \"\"",
        "name = 3",
        "name = true",
        "name = 2019-07-01",
        "name = [\"hut\"]",
        "nmae = \"hut\"",
        "other = [1 2",
        "other = [1 2]",
        "other = [\n  1,\n  2 3\n]",
        "other = [1, 2] 3",
        "other = 1 2",
        "a b = 1",
    ] {
        // A new line before it takes the place of the table's head, so that all three have the line at one place.
        let (in_drill, in_standard, in_settings) = (
            drill(&format!("      \n{line}\n")),
            standard(&format!("      \n{line}\n")),
            settings(&format!("[home]\n{line}\n")),
        );
        let first = |said: &[Said]| said.iter().find(|said| said.2.is_some()).cloned();
        assert!(first(&in_drill).is_some(), "{line}");
        assert_eq!(first(&in_drill), first(&in_standard), "{line}");
        assert_eq!(first(&in_drill), first(&in_settings), "{line}");
    }
}

#[test]
fn no_message_is_the_reader_of_tomls_own() {
    // What it says of such lines holds words that none of our sentences has.
    for line in ["a = @", "a = 1_", "= 1", "a.b..c = 1", "a = {x = }", "a = 0x", "[a", "a = \"\\q\"", "a = '''"] {
        for (sentence, label, _) in drill(&format!("{line}\n")) {
            let all = sentence + &label;
            assert!(
                !["expected", "invalid", "unclosed", "literal", "duplicate"].iter().any(|word| all.contains(word)),
                "{all}"
            );
        }
    }
}

proptest! {
    #[test]
    fn no_broken_text_makes_reading_panic(
        text in "(\\[\\[?(skill|home|x)\\]?\\]?|name|=|:| |\\[|\\]|,|\"|'|\\\\|\n|\r\n|#|1|é|\u{201c}|\\{|\\}|\\.){0,30}"
    ) {
        let read = Drill::read(&text, Origin::File(PathBuf::from("file.toml")), crate::skills::metas());
        let _ = read.map_err(|error| (error.render(false), error.to_string()));
    }
}

#[test]
fn a_full_disk_is_no_matter_of_rights_and_every_reason_has_words() {
    use std::io::{Error, ErrorKind};
    assert_eq!(super::reason_words(ErrorKind::StorageFull), "the disk is full");
    // EIO, for which the library has no word.
    let odd = Error::from_raw_os_error(5).kind();
    assert!(!super::reason_words(odd).contains("uncategorized"), "{}", super::reason_words(odd));
}
