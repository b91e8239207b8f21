//! The README is true: its two set-up commands, its tables of skills and keys, its drills.

use needlewise::drill::{Drill, Standard};
use needlewise::skills;
use needlewise::tui::Screen;
use needlewise::tui::keys::{On, together};
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

/// The keys under these headings of the help, as a table.
fn keys(headings: &[&str]) -> String {
    let states: Vec<_> = Screen::tables().into_iter().filter(|state| headings.contains(&state.heading)).collect();
    let mut out = String::from("| key | does |\n|---|---|\n");
    for line in together(states.iter().flat_map(|state| &state.lines)) {
        let code = |on: &On| match on {
            On::Letter(' ') => on.name(),
            On::Letter(letter) => format!("`{letter}`"),
            _ => on.name(),
        };
        let keys: Vec<String> = line.keys.iter().map(code).collect();
        writeln!(out, "| {} | {} |", keys.join(" "), line.help).unwrap();
    }
    out
}

/// Each table that is made: what stands before it, what stands behind it, and the table.
fn tables() -> [(&'static str, &'static str, String); 4] {
    [
        ("against the registry by a test -->\n", "<!-- /skills -->", table()),
        ("by a test; at the map table -->\n", "<!-- /keys -->", keys(&["At the map table"])),
        ("by a test; measuring -->\n", "<!-- /keys -->", keys(&["With a romer", "With a paper edge"])),
        ("by a test; the leader's page -->\n", "<!-- /keys -->", keys(&["The leader's page"])),
    ]
}

/// `NEEDLEWISE_README=write` puts the program's tables into the file.
#[test]
fn the_tables_of_skills_and_keys_are_the_programs() {
    let mut text = README.to_owned();
    for (before, behind, table) in tables() {
        let (head, rest) = text.split_once(before).expect("the mark before a table");
        let (_, foot) = rest.split_once(behind).expect("the mark behind a table");
        text = format!("{head}{before}{table}{behind}{foot}");
    }
    if std::env::var_os("NEEDLEWISE_README").is_some_and(|wish| wish == "write") {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/README.md");
        std::fs::write(path, text).expect("README.md can be written");
        return;
    }
    assert_eq!(README, text, "NEEDLEWISE_README=write cargo test --test readme puts the tables into README.md");
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

#[test]
fn the_readme_counts_the_lessons_that_there_are() {
    const NUMBERS: [&str; 13] =
        ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
    let count = NUMBERS[needlewise::lesson::LESSONS.len()];
    assert!(README.contains(&format!("There are {count}, from the needle")), "{count}");
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
