//! The README is true: its two set-up commands, its table of skills, its drills.

use needlewise::drill::{Drill, Standard};
use needlewise::skills;
use std::fmt::Write;

const README: &str = include_str!("../README.md");

/// The table that stands between the marks, from the registry.
fn table() -> String {
    let mut out = String::from("| mark | skill | what the learner can do |\n|---|---|---|\n");
    for skill in skills::metas() {
        writeln!(out, "| {} | `{}` | {} |", skill.mark, skill.id, skill.can).unwrap();
    }
    out
}

/// `NEEDLEWISE_README=write` puts the registry's table into the file.
#[test]
fn the_table_of_skills_is_the_registry() {
    let (head, rest) = README.split_once("by a test -->\n").expect("the mark before the table");
    let (shown, foot) = rest.split_once("<!-- /skills -->").expect("the mark behind the table");
    if std::env::var_os("NEEDLEWISE_README").is_some_and(|wish| wish == "write") {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/README.md");
        let text = format!("{head}by a test -->\n{}<!-- /skills -->{foot}", table());
        std::fs::write(path, text).expect("README.md can be written");
        return;
    }
    assert_eq!(
        shown,
        table(),
        "NEEDLEWISE_README=write cargo test --test readme puts this into README.md:\n{}",
        table()
    );
}

#[test]
fn there_are_exactly_two_set_up_commands() {
    let commands: Vec<&str> = README.lines().filter(|line| line.trim_start().starts_with("cargo ")).collect();
    assert_eq!(commands, ["    cargo run --release", "    cargo test"]);
}

#[test]
fn every_drill_that_comes_with_the_program_is_named() {
    assert!(!Drill::embedded().is_empty());
    for drill in Drill::embedded() {
        assert!(README.contains(&format!("`{}`", drill.name)), "{} is not in the README", drill.name);
    }
}

#[test]
fn every_standard_that_comes_with_the_program_is_named() {
    assert!(!Standard::embedded().is_empty());
    for standard in Standard::embedded() {
        assert!(README.contains(&format!("`{}`", standard.name)), "{} is not in the README", standard.name);
    }
}

/// The picture is the program's own: every line of it stands in the snapshot of that screen.
#[test]
fn the_picture_is_what_the_screen_shows() {
    let screen = include_str!("../snapshots/screens/verdict_weak_spot_80x24.snap");
    let (_, picture) = README.split_once("    ┌").expect("a picture");
    let (picture, _) = picture.split_once("\n\n").expect("an end of the picture");
    let shown: Vec<&str> = picture.lines().skip(1).map(|line| line.trim()).collect();
    assert!(shown.len() > 20, "{}", shown.len());
    for line in shown {
        assert!(screen.lines().any(|on_screen| on_screen.trim() == line), "the screen does not show: {line}");
    }
}
