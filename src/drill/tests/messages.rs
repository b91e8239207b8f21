//! Every message, as a leader reads it, kept in one table: `snapshots/errors/drills.snap`.

use super::fakes::{GOOD, read, with};
use crate::drill::{DrillError, Origin, What};
use crate::textfile::FileError;
use std::io;
use std::path::PathBuf;

/// What was done to a good file, or what happened instead, and the error.
pub(super) struct Case {
    what: String,
    error: DrillError,
}

impl Case {
    pub(super) fn new(what: impl Into<String>, error: DrillError) -> Case {
        Case { what: what.into(), error }
    }

    /// A part of the good drill that was changed.
    fn changed(good: &str, bad: &str) -> Case {
        let what = format!("{good:?} is written {bad:?}");
        Case::new(what, read(&with(good, bad)).expect_err(bad))
    }

    /// Another text altogether.
    fn text(what: &str, text: &str) -> Case {
        Case::new(what, read(text).expect_err(what))
    }
}

/// Keeps the plain messages; the colours must not change a letter of them.
pub(super) fn keep(table: &str, cases: &[Case]) {
    let mut kept = String::new();
    for Case { what, error } in cases {
        let plain = error.render(false);
        assert_eq!(without_colours(&error.render(true)), plain, "{what}");
        assert!(plain.contains("help: "), "{what} does not say what to do:\n{plain}");
        assert!(!kept.contains(&format!("## {what}\n")), "{what} stands there twice");
        kept += &format!("## {what}\n\n{plain}\n\n");
    }
    insta::with_settings!({
        snapshot_path => concat!(env!("CARGO_MANIFEST_DIR"), "/snapshots/errors"),
        prepend_module_to_snapshot => false,
        omit_expression => true,
    }, { insta::assert_snapshot!(table, kept) });
}

fn without_colours(text: &str) -> String {
    let mut parts = text.split('\u{1b}');
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |out, part| out + part.split_once('m').map_or("", |(_, rest)| rest))
}

fn path() -> PathBuf {
    PathBuf::from("drills/tuesday.toml")
}

fn about_skills() -> Vec<Case> {
    vec![
        Case::changed("\"back-bearing\"", "\"bakc-bearing\""),
        Case::changed("\"back-bearing\"", "\"cooking\""),
        Case::changed("\"back-bearing\"", "\"turns\""),
        Case::text("no skills", GOOD.split("\n[[skill]]").next().unwrap()),
        Case::text("empty skill list", "name = 'a'\ntitle = 'A'\ncount = 1\nskill = []\n"),
        Case::changed("id = \"turns\"\n", ""),
        Case::changed("[[skill]]\nid = \"turns\"", "[skill]\nid = \"turns\""),
        Case::text("single brackets everywhere", &GOOD.replace("[[skill]]", "[skill]")),
        Case::text("skills as a list", "name = 'a'\ntitle = 'A'\ncount = 1\nskills = [\"turns\", \"set-dial\"]\n"),
        Case::text("skill as text", "name = 'a'\ntitle = 'A'\ncount = 1\nskill = \"turns\"\n"),
    ]
}

fn about_levels() -> Vec<Case> {
    vec![
        Case::changed("level = 2", "level = 9"),
        Case::changed("levels = [1, 3]", "levels = [0, 3]"),
        Case::changed("level = 2", "level = \"2\""),
        Case::changed("level = 2", "level = 2.5"),
        Case::changed("[1, 3]", "[3, 1]"),
        Case::changed("[1, 3]", "[1]"),
        Case::changed("[1, 3]", "1-3"),
        Case::changed("[1, 3]", "[1 3]"),
        Case::changed("[1, 3]", "[1, 3"),
        Case::changed("level = 2", "level = 2\nlevels = [1, 2]"),
    ]
}

fn about_pace_and_place() -> Vec<Case> {
    vec![
        Case::changed("count = 10", "count = 0"),
        Case::changed("minutes = 15", "minutes = 0"),
        Case::changed("minutes = 15", "minutes = 300"),
        Case::changed("count = 10", "count = 10 problems"),
        Case::changed("count = 10\nminutes = 15\n", ""),
        Case::changed("\"anywhere\"", "\"any where\""),
        Case::changed("\"anywhere\"", "\"Norway\""),
        Case::changed("\"west\"", "\"W\""),
        Case::changed("\"anywhere\"", "\"home\""),
    ]
}

fn about_names_and_texts() -> Vec<Case> {
    vec![
        Case::changed("\"tuesday-evening\"", "\"Tuesday Evening\""),
        Case::changed("\"tuesday-evening\"", "\"?!\""),
        Case::changed("name = \"tuesday-evening\"\n", ""),
        Case::changed("\"Tuesday evening\"", "\" \""),
        Case::text("a title of a hundred letters", &with("Tuesday evening\"", &format!("{}\"", "very ".repeat(20)))),
        Case::changed("Tuesday evening", "Tuesday\\nevening"),
    ]
}

fn about_keys() -> Vec<Case> {
    vec![
        Case::changed("minutes", "minuts"),
        Case::changed("minutes = 15", "colour = \"red\""),
        Case::changed("level = 2", "levle = 2"),
        Case::changed("level = 2", "weather = 2"),
        Case::text("key below skill", &format!("{}count = 10\n", with("count = 10\n", ""))),
        Case::changed("count = 10", "count = 10\nlevel = 2"),
        Case::changed("minutes = 15", "minutes = 15\ncount = 12"),
    ]
}

fn about_how_it_is_written() -> Vec<Case> {
    vec![
        Case::changed("\"Tuesday evening\"", "Tuesday evening"),
        Case::changed("\"Tuesday evening\"", "“Tuesday evening”"),
        Case::changed("Tuesday evening\"", "Tuesday evening"),
        Case::changed("Tuesday evening\"", "Tuesday\\evening \\ yes\""),
        Case::changed("Tuesday evening\"", "Tuesday evening\" in camp"),
        Case::changed("[[skill]]\nid", "[[skill]] id"),
        Case::changed("count = 10", "count ="),
        Case::changed("count = 10", "count: 10"),
        Case::changed("count = 10", "ten problems"),
        Case::changed("count = 10", "// ten problems\ncount = 10"),
        Case::changed("about = \"", "about = %\""),
        Case::text("several", &GOOD.replace("turns", "turnz").replace("title", "titel").replace("= 2", "= 9")),
        Case::text("very many", &"just words\n".repeat(20)),
    ]
}

fn about_files() -> Vec<Case> {
    let file = |what: &str, error: FileError| Case::new(what, DrillError::File(error));
    let meant = Some("first-evening");
    vec![
        Case::new("no such file", DrillError::NoFile { path: path(), meant: None, what: What::Drill }),
        Case::new(
            "no such file, but a drill of this name",
            DrillError::NoFile { path: "first-evening.toml".into(), meant, what: What::Drill },
        ),
        file("a folder", FileError::Folder { path: PathBuf::from("drills") }),
        file("not to be read", FileError::Unreadable { path: path(), reason: io::ErrorKind::PermissionDenied }),
        file("ten megabytes", FileError::TooBig { path: path(), bytes: Some(10 * 1024 * 1024) }),
        file("endless", FileError::TooBig { path: PathBuf::from("/dev/zero"), bytes: None }),
        file("no text", FileError::NotText { path: path(), line: 3, byte: 12 }),
        Case::text("an empty file", " \n\n"),
    ]
}

fn about_names_of_drills() -> Vec<Case> {
    let known = ["first-evening", "back-bearings"].map(str::to_owned).to_vec();
    let unknown = |name: &str, nearest: Option<&str>| {
        let (name, nearest) = (name.to_owned(), nearest.map(str::to_owned));
        DrillError::Unknown { name, nearest, known: known.clone(), what: What::Drill }
    };
    let twice = |name: &str, first: Origin, second: &str| {
        let second = Origin::File(PathBuf::from(second));
        DrillError::Twice { what: What::Drill, name: name.into(), first, second }
    };
    let monday = Origin::File(PathBuf::from("needlewise/drills/monday.toml"));
    vec![
        Case::new("a drill misspelt", unknown("backbearing", Some("back-bearings"))),
        Case::new("no drill like it", unknown("cooking", None)),
        Case::new(
            "the name of a drill of the program",
            twice("first-evening", Origin::Embedded("first-evening.toml"), "needlewise/drills/mine.toml"),
        ),
        Case::new("two drills of one name", twice("camp", monday, "needlewise/drills/tuesday.toml")),
    ]
}

#[test]
fn every_message_says_what_is_wrong_and_what_to_do() {
    let all = [
        about_skills(),
        about_levels(),
        about_pace_and_place(),
        about_names_and_texts(),
        about_keys(),
        about_how_it_is_written(),
        about_files(),
        about_names_of_drills(),
    ];
    keep("drills", &all.into_iter().flatten().collect::<Vec<_>>());
}

#[test]
fn one_line_says_where_and_what_for_places_without_room() {
    let several = GOOD.replace("turns", "turnz").replace("= 2", "= 9");
    assert_eq!(
        read(&several).unwrap_err().to_string(),
        "drills/tuesday.toml, line 10: there is no skill `turnz` (and one more fault)"
    );
}
