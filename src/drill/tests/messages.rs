//! Every message, as a leader reads it, kept in `snapshots/drill_error_*`.

use super::fakes::{GOOD, read, with};
use crate::drill::{DrillError, Origin, What};
use std::io;
use std::path::PathBuf;

/// Keeps the plain message; the colours must not change a letter of it.
pub(super) fn keep(name: &str, error: &DrillError) {
    let plain = error.render(false);
    assert_eq!(without_colours(&error.render(true)), plain, "{name}");
    assert!(plain.contains("help: "), "{name} does not say what to do:\n{plain}");
    insta::with_settings!({
        snapshot_path => concat!(env!("CARGO_MANIFEST_DIR"), "/snapshots"),
        prepend_module_to_snapshot => false,
        omit_expression => true,
    }, { insta::assert_snapshot!(format!("drill_error_{name}"), plain) });
}

fn without_colours(text: &str) -> String {
    let mut parts = text.split('\u{1b}');
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |out, part| out + part.split_once('m').map_or("", |(_, rest)| rest))
}

fn keep_text(name: &str, text: &str) {
    keep(name, &read(text).expect_err(name));
}

fn path() -> PathBuf {
    PathBuf::from("drills/tuesday.toml")
}

#[test]
fn messages_about_skills() {
    keep_text("unknown_skill", &with("\"back-bearing\"", "\"bakc-bearing\""));
    keep_text("unknown_skill_far_from_all", &with("\"back-bearing\"", "\"cooking\""));
    keep_text("skill_twice", &with("\"back-bearing\"", "\"turns\""));
    keep_text("no_skills", GOOD.split("\n[[skill]]").next().unwrap());
    keep_text("empty_skill_list", "name = 'a'\ntitle = 'A'\ncount = 1\nskill = []\n");
    keep_text("skill_without_id", &with("id = \"turns\"\n", ""));
    keep_text("single_brackets", &with("[[skill]]\nid = \"turns\"", "[skill]\nid = \"turns\""));
    keep_text("single_brackets_everywhere", &GOOD.replace("[[skill]]", "[skill]"));
    keep_text("skills_as_a_list", "name = 'a'\ntitle = 'A'\ncount = 1\nskills = [\"turns\", \"set-dial\"]\n");
    keep_text("skill_as_text", "name = 'a'\ntitle = 'A'\ncount = 1\nskill = \"turns\"\n");
}

#[test]
fn messages_about_levels() {
    keep_text("level_9", &with("level = 2", "level = 9"));
    keep_text("level_in_range", &with("levels = [1, 3]", "levels = [0, 3]"));
    keep_text("level_as_text", &with("level = 2", "level = \"2\""));
    keep_text("level_with_point", &with("level = 2", "level = 2.5"));
    keep_text("levels_wrong_way_round", &with("[1, 3]", "[3, 1]"));
    keep_text("levels_one_number", &with("[1, 3]", "[1]"));
    keep_text("levels_without_brackets", &with("[1, 3]", "1-3"));
    keep_text("levels_without_comma", &with("[1, 3]", "[1 3]"));
    keep_text("levels_not_closed", &with("[1, 3]", "[1, 3"));
    keep_text("level_and_levels", &with("level = 2", "level = 2\nlevels = [1, 2]"));
}

#[test]
fn messages_about_pace_and_place() {
    keep_text("count_0", &with("count = 10", "count = 0"));
    keep_text("minutes_0", &with("minutes = 15", "minutes = 0"));
    keep_text("minutes_300", &with("minutes = 15", "minutes = 300"));
    keep_text("count_with_words", &with("count = 10", "count = 10 problems"));
    keep_text("no_end", &with("count = 10\nminutes = 15\n", ""));
    keep_text("ground", &with("\"anywhere\"", "\"any where\""));
    keep_text("ground_far_from_all", &with("\"anywhere\"", "\"Norway\""));
    keep_text("declination", &with("\"west\"", "\"W\""));
    keep_text("declination_at_home", &with("\"anywhere\"", "\"home\""));
}

#[test]
fn messages_about_names_and_texts() {
    keep_text("name", &with("\"tuesday-evening\"", "\"Tuesday Evening\""));
    keep_text("name_without_letters", &with("\"tuesday-evening\"", "\"?!\""));
    keep_text("name_missing", &with("name = \"tuesday-evening\"\n", ""));
    keep_text("title_blank", &with("\"Tuesday evening\"", "\" \""));
    keep_text("title_too_long", &with("Tuesday evening\"", &format!("{}\"", "very ".repeat(20))));
    keep_text("title_with_line_break", &with("Tuesday evening", "Tuesday\\nevening"));
}

#[test]
fn messages_about_keys() {
    keep_text("key", &with("minutes", "minuts"));
    keep_text("key_far_from_all", &with("minutes = 15", "colour = \"red\""));
    keep_text("key_of_skill", &with("level = 2", "levle = 2"));
    keep_text("key_in_skill_far_from_all", &with("level = 2", "weather = 2"));
    keep_text("key_below_skill", &format!("{}count = 10\n", with("count = 10\n", "")));
    keep_text("key_above_skill", &with("count = 10", "count = 10\nlevel = 2"));
    keep_text("key_twice", &with("minutes = 15", "minutes = 15\ncount = 12"));
}

#[test]
fn messages_about_how_it_is_written() {
    keep_text("no_quotes", &with("\"Tuesday evening\"", "Tuesday evening"));
    keep_text("curly_quotes", &with("\"Tuesday evening\"", "“Tuesday evening”"));
    keep_text("quote_not_closed", &with("Tuesday evening\"", "Tuesday evening"));
    keep_text("backslash", &with("Tuesday evening\"", "Tuesday\\evening \\ yes\""));
    keep_text("behind_text", &with("Tuesday evening\"", "Tuesday evening\" in camp"));
    keep_text("behind_brackets", &with("[[skill]]\nid", "[[skill]] id"));
    keep_text("no_value", &with("count = 10", "count ="));
    keep_text("colon", &with("count = 10", "count: 10"));
    keep_text("no_equals", &with("count = 10", "ten problems"));
    keep_text("remark", &with("count = 10", "// ten problems\ncount = 10"));
    keep_text("sign", &with("about = \"", "about = %\""));
    keep_text("several", &GOOD.replace("turns", "turnz").replace("title", "titel").replace("= 2", "= 9"));
    keep_text("very_many", &"just words\n".repeat(20));
}

#[test]
fn messages_about_files() {
    keep("no_file", &DrillError::NoFile { path: path(), meant: None, what: What::Drill });
    let meant = Some("first-evening");
    keep("no_file_but_a_drill", &DrillError::NoFile { path: "first-evening.toml".into(), meant, what: What::Drill });
    keep("folder", &DrillError::Folder { path: PathBuf::from("drills") });
    keep("unreadable", &DrillError::Unreadable { path: path(), reason: io::ErrorKind::PermissionDenied });
    keep("ten_megabytes", &DrillError::TooBig { path: path(), bytes: Some(10 * 1024 * 1024) });
    keep("endless", &DrillError::TooBig { path: PathBuf::from("/dev/zero"), bytes: None });
    keep("not_text", &DrillError::NotText { path: path(), line: 3, byte: 12 });
    keep_text("empty", " \n\n");
}

#[test]
fn messages_about_names_of_drills() {
    let known = ["first-evening", "back-bearings"].map(str::to_owned).to_vec();
    let nearest = Some("back-bearings".to_owned());
    keep(
        "unknown_drill",
        &DrillError::Unknown { name: "backbearing".into(), nearest, known: known.clone(), what: What::Drill },
    );
    keep(
        "unknown_drill_far_from_all",
        &DrillError::Unknown { name: "cooking".into(), nearest: None, known, what: What::Drill },
    );
    let first = Origin::Embedded("first-evening.toml");
    let second = Origin::File(PathBuf::from("needlewise/drills/mine.toml"));
    keep(
        "name_of_embedded_drill",
        &DrillError::Twice { what: What::Drill, name: "first-evening".into(), first, second },
    );
    let first = Origin::File(PathBuf::from("needlewise/drills/monday.toml"));
    let second = Origin::File(PathBuf::from("needlewise/drills/tuesday.toml"));
    keep("name_twice", &DrillError::Twice { what: What::Drill, name: "camp".into(), first, second });
}

#[test]
fn one_line_says_where_and_what_for_places_without_room() {
    let several = GOOD.replace("turns", "turnz").replace("= 2", "= 9");
    assert_eq!(
        read(&several).unwrap_err().to_string(),
        "drills/tuesday.toml, line 10: there is no skill `turnz` (and one more fault)"
    );
}
