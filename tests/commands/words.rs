//! `needlewise words` as scripts and people meet it.

use crate::cli::snapshot;
use needlewise::words::all;
use serde_json::Value;

fn printed(words: &[&str]) -> String {
    crate::cli::printed(&[&["words"], words].concat())
}

#[test]
fn without_a_word_all_are_listed_in_80_columns() {
    let out = printed(&[]);
    assert!(out.lines().all(|line| line.chars().count() <= 80 && line.trim_end() == line), "{out}");
    for word in all() {
        assert!(out.lines().any(|line| line.trim_start().starts_with(word.word)), "{}", word.word);
    }
    snapshot("words", &out);
}

#[test]
fn a_word_is_told_with_other_names_source_and_sketch_by_whichever_name_it_is_asked_for() {
    let boxed = printed(&["boxed"]);
    snapshot("words_boxed", &boxed);
    snapshot("words_declination", &printed(&["variation"]));
    assert_eq!(printed(&["RED", "in-the", "shed"]), boxed, "several words of the shell are one name");
    assert!(printed(&["azimuth"]).starts_with("Bearing: "));
}

#[test]
fn an_unknown_word_brings_the_nearest_ones_and_is_bad_input() {
    let refused = |word: &str| crate::cli::refused(&["words", word]);
    assert_eq!(
        refused("declinaton"),
        "needlewise: declinaton is not in the word list; did you mean declination? `needlewise words` lists them all\n"
    );
    assert_eq!(refused("lasagne"), "needlewise: lasagne is not in the word list. `needlewise words` lists them all\n");
    assert!(!refused("\u{1b}[2J").contains('\u{1b}'));
}

#[test]
fn as_json_each_word_is_an_object_on_a_line_of_its_own() {
    let out = printed(&["--format", "json"]);
    let objects: Vec<Value> = out.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    assert_eq!(objects.len(), all().count());
    for (object, word) in objects.iter().zip(all()) {
        assert_eq!(object["word"], word.word);
        assert!(object["line"].is_string() && object["other_names"].is_array() && object["sketch"].is_array());
        assert_eq!(object["source"].as_str(), word.source);
    }
    let one: Value = serde_json::from_str(&printed(&["G-M angle", "--format", "json"])).unwrap();
    assert_eq!((&one["word"], &one["skills"][0]), (&"G-M angle".into(), &"diagram".into()));
}
