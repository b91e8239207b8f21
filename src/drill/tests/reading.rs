//! What a good file means, and that nothing at all makes the reader panic.
#![expect(clippy::cast_possible_truncation, reason = "what a test counts and draws is small")]

use super::fakes::{GOOD, SKILLS, read, with};
use crate::drill::{DeclinationSide, Drill, DrillError, DrillGround, FaultKind, Key, Origin, Pace};
use crate::problem::{Facts, Level};
use crate::textfile::{FileKey, Slip};
use proptest::prelude::*;
use std::path::PathBuf;

fn faults(text: &str) -> Vec<FaultKind> {
    match read(text) {
        Err(DrillError::Faults(faults)) => faults.faults.into_iter().map(|fault| fault.kind).collect(),
        other => panic!("no faults: {other:?}"),
    }
}

#[test]
fn a_good_file_says_all_that_a_drill_has() {
    let drill = read(GOOD).unwrap();
    assert_eq!(drill.name, "tuesday-evening");
    assert_eq!(drill.title, "Tuesday evening");
    assert_eq!(drill.about, "What we did last week, once more.");
    assert_eq!(drill.pace, Pace { count: Some(10), minutes: Some(15) });
    assert_eq!(drill.ground, DrillGround::Anywhere);
    assert_eq!(drill.declination, DeclinationSide::West);
    assert_eq!(drill.origin, Origin::File(PathBuf::from("drills/tuesday.toml")));
    let skills: Vec<_> = drill.skills.iter().map(|skill| (skill.skill.id, skill.levels)).collect();
    let level = |number| Level::new(number).unwrap();
    assert_eq!(
        skills,
        [("turns", Some((level(2), level(2)))), ("true-magnetic", Some((level(1), level(3)))), ("back-bearing", None)],
        "in the order of the file"
    );
}

#[test]
fn what_may_be_left_out_has_the_documented_meaning() {
    let drill = read("name = 'a'\ntitle = 'A'\nminutes = 240\n[[skill]]\nid = 'turns'").unwrap();
    assert_eq!(drill.about, "");
    assert_eq!(drill.pace, Pace { count: None, minutes: Some(240) });
    assert_eq!((drill.ground, drill.declination), (DrillGround::Mixed, DeclinationSide::Both));
}

#[test]
fn line_ends_and_the_mark_at_the_beginning_do_not_matter() {
    let windows = format!("\u{feff}{}", GOOD.replace('\n', "\r\n"));
    assert_eq!(read(&windows), read(GOOD));
}

#[test]
fn the_shortest_drill_that_the_help_shows_is_a_drill() {
    assert!(read(crate::drill::error::SHORTEST).is_ok());
}

#[test]
fn every_example_of_a_key_can_be_read() {
    for key in Key::TOP.into_iter().chain(Key::SKILL) {
        let mut text = String::new();
        let lines = [Key::Name, Key::Title, Key::Count].into_iter().filter(|known| *known != key);
        lines.for_each(|known| text += &format!("{}\n", known.example()));
        if Key::TOP.contains(&key) {
            text += &format!("{}\n", key.example());
        }
        text += if key == Key::Skill { "" } else { "[[skill]]\n" };
        text += &format!("{}\n", Key::Id.example());
        if Key::SKILL.contains(&key) && key != Key::Id {
            text += &format!("{}\n", key.example());
        }
        assert!(read(&text).is_ok(), "{text}{}", read(&text).unwrap_err().render(false));
    }
}

#[test]
fn all_faults_are_told_at_once_and_in_the_order_of_the_file() {
    let text = GOOD.replace("turns", "turnz").replace("count = 10", "count = 0").replace("level = 2", "level = 9");
    assert_eq!(
        faults(&text),
        [
            FaultKind::Range { key: Key::Count, found: "0".into(), most: 500 },
            FaultKind::UnknownSkill { id: "turnz".into(), nearest: Some("turns") },
            FaultKind::Level("9".into()),
        ]
    );
}

#[test]
fn a_broken_line_does_not_hide_the_faults_of_other_lines_and_is_no_second_fault_itself() {
    let text = GOOD.replace("title = \"Tuesday evening\"", "title = Tuesday evening").replace("level = 2", "level = 9");
    let unquoted = FaultKind::Slip(Slip::Unquoted { key: "title".into(), value: "Tuesday evening".into() });
    assert_eq!(faults(&text), [unquoted, FaultKind::Level("9".into())]);
}

#[test]
fn a_skill_is_suggested_for_a_slip_for_its_title_and_for_its_mark() {
    for written in ["bakc-bearing", "Back bearing", "backbearing", "A7", "a7", "bearing", "back-bearings"] {
        let text = with("\"back-bearing\"", &format!("\"{written}\""));
        let expected = FaultKind::UnknownSkill { id: written.into(), nearest: Some("back-bearing") };
        assert_eq!(faults(&text), [expected]);
    }
}

#[test]
fn numbers_out_of_range_are_refused_and_those_at_the_edge_are_not() {
    for (bad, good) in [("count = 0", "count = 1"), ("count = 501", "count = 500"), ("count = -3", "count = 0x0A")] {
        assert!(matches!(faults(&with("count = 10", bad))[..], [FaultKind::Range { key: Key::Count, .. }]), "{bad}");
        assert!(read(&with("count = 10", good)).is_ok(), "{good}");
    }
    for (bad, good) in [("minutes = 0", "minutes = 1"), ("minutes = 241", "minutes = 240")] {
        let found = faults(&with("minutes = 15", bad));
        assert!(matches!(found[..], [FaultKind::Range { key: Key::Minutes, .. }]), "{bad}");
        assert!(read(&with("minutes = 15", good)).is_ok(), "{good}");
    }
    for bad in ["0", "5", "9", "-1", "300", "99999999999999999999999"] {
        assert_eq!(faults(&with("level = 2", &format!("level = {bad}"))), [FaultKind::Level(bad.into())]);
    }
}

#[test]
fn a_thousand_faults_are_cut_to_half_a_dozen() {
    let text = "just words\n".repeat(1000);
    let found = faults(&text);
    assert_eq!(found.len(), 6);
    assert_eq!(found.last(), Some(&FaultKind::Slip(Slip::More)));
}

#[test]
fn a_full_file_of_nonsense_is_refused_without_delay() {
    let most = crate::textfile::MOST_BYTES as usize;
    let keys: String = (0..most / 10).map(|number| format!("k{number:05} = 1\n")).take(most / 11).collect();
    let nonsense =
        ["x\n", "a = [\n", "[", "[[skill]]\n", "[skill]\n", "count = 1\n", "\"", "\"\"\"", "=", "a.", "{", "x", "é"];
    let texts = nonsense.map(|piece| piece.repeat(most / piece.len())).into_iter().chain([keys]);
    for text in texts {
        let start = std::time::Instant::now();
        let error = read(&text).unwrap_err();
        assert!(error.render(false).len() < 4 * most, "{}", &text[..8]);
        // Some milliseconds; the limit leaves room for a busy machine, not for a reader that goes over the file again
        // for each of its lines.
        assert!(start.elapsed().as_secs() < 10, "{:?} for {}", start.elapsed(), &text[..8]);
    }
}

#[test]
fn a_text_that_could_write_over_the_screen_is_refused() {
    for hidden in ["\\u001b[2J", "\\n", "\\u202e", "\\u200b"] {
        let text = with("Tuesday evening\"", &format!("Tuesday{hidden}evening\""));
        assert_eq!(faults(&text), [FaultKind::Slip(Slip::Control(Key::Title))]);
    }
}

#[test]
fn no_message_carries_control_characters_of_the_file() {
    let text =
        "name = \"\\u001b[2J\"\n\u{7}x\u{1b}[31m = 1\n\"\\u001b[2Jk\" = 2\n[[skill]]\nid = \"\\u001b]0;x\\u0007\"\n";
    let error = read(text).unwrap_err();
    let shown = error.render(false) + &error.to_string();
    assert!(!shown.chars().any(|letter| letter.is_control() && letter != '\n'), "{shown:?}");
}

#[test]
fn a_drill_of_west_declination_allows_what_points_west_and_what_has_none() {
    let facts = Facts::read;
    let declination = |degrees: f64| facts(&format!(r#"{{"true_bearing_deg":48,"declination_deg":{degrees}}}"#));
    let gma = |degrees: f64| facts(&format!(r#"{{"grid_magnetic_deg":{degrees}}}"#));
    assert!(DeclinationSide::West.allows(&declination(-17.0)));
    assert!(!DeclinationSide::West.allows(&declination(17.0)));
    assert!(DeclinationSide::East.allows(&declination(17.0)));
    assert!(!DeclinationSide::East.allows(&declination(-17.0)));
    assert!(!DeclinationSide::East.allows(&gma(-3.0)));
    assert!(DeclinationSide::Both.allows(&declination(17.0)));
    assert!(DeclinationSide::West.allows(&facts(r#"{"start_bearing_deg":17}"#)));
    // Magnetic north between the two others: the G-M angle has the other letter, and the declination decides.
    let between = facts(r#"{"grid_magnetic_deg":-2,"declination_deg":3}"#);
    assert!(DeclinationSide::East.allows(&between));
    // A diagram: which prong stands clockwise of which.
    let prongs = |names: &str| facts(&format!(r#"{{"prongs_clockwise":"{names}","drawn_angle_deg":30}}"#));
    for (names, west) in [("MN, star, GN", true), ("GN, MN", false), ("GN, star, MN", false), ("MN, GN", true)] {
        assert_eq!(DeclinationSide::West.allows(&prongs(names)), west, "{names}");
        assert_eq!(DeclinationSide::East.allows(&prongs(names)), !west, "{names}");
    }
    assert!(DeclinationSide::West.allows(&prongs("star, GN")) && DeclinationSide::East.allows(&prongs("star, GN")));
}

#[test]
fn a_level_outside_the_drill_moves_to_the_nearest_inside() {
    let drill = read(GOOD).unwrap();
    let nearest = |skill: usize, level| drill.skills[skill].nearest_level(level);
    assert_eq!(nearest(0, Level::FOUR), Level::TWO);
    assert_eq!(nearest(1, Level::FOUR), Level::THREE);
    assert_eq!(nearest(1, Level::TWO), Level::TWO);
    assert_eq!(nearest(2, Level::FOUR), Level::FOUR, "no levels, no limit");
}

/// Pieces of a drill file, whole and broken.
fn piece() -> impl Strategy<Value = String> {
    let parts = [
        "name",
        "title",
        "count",
        "minutes",
        "ground",
        "declination",
        "[[skill]]",
        "[skill]",
        "skill",
        "id",
        "level",
        "levels",
        " = ",
        "=",
        "[",
        "]",
        "[[",
        "]]",
        "1",
        "3",
        ", ",
        ".",
        "\"",
        "'",
        "\"\"\"",
        "'''",
        "\\",
        "\n",
        "\r\n",
        "\r",
        "#",
        "{",
        "}",
        "“",
        "é",
        "\u{1f9ed}",
        "\u{0}",
        "\u{feff}",
        " ",
        "turns",
        "back-bearing",
        "home",
        "west",
        "tuesday",
        ":",
        "//",
        "-",
        "_",
    ];
    prop_oneof![6 => proptest::sample::select(parts.to_vec()).prop_map(str::to_owned), 1 => any::<String>()]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn any_text_is_read_or_refused_with_a_message(pieces in proptest::collection::vec(piece(), 0..60)) {
        let text = pieces.concat();
        match read(&text) {
            Ok(drill) => prop_assert!(!drill.skills.is_empty()),
            Err(error) => {
                prop_assert!(error.render(false).starts_with("error: "));
                prop_assert!(error.render(true).contains("error"));
                prop_assert!(!error.to_string().is_empty());
            }
        }
    }

    #[test]
    fn a_good_file_with_one_piece_put_in_anywhere_is_read_or_refused(at in 0..GOOD.len(), piece in piece()) {
        let at = GOOD.floor_char_boundary(at);
        if let Err(error) = read(&format!("{}{piece}{}", &GOOD[..at], &GOOD[at..])) {
            prop_assert!(error.render(false).contains("help: "), "{}", error.render(false));
        }
    }

    #[test]
    fn what_is_read_stays_within_its_limits(count in any::<i64>(), minutes in any::<i64>(), level in any::<i64>()) {
        let text = GOOD.replace("count = 10", &format!("count = {count}"))
            .replace("minutes = 15", &format!("minutes = {minutes}"))
            .replace("level = 2", &format!("level = {level}"));
        let good = (1..=500).contains(&count) && (1..=240).contains(&minutes) && (1..=4).contains(&level);
        prop_assert_eq!(read(&text).is_ok(), good);
    }
}

#[test]
fn skills_come_from_the_list_given() {
    let none = Drill::read(GOOD, Origin::Embedded("drills/x.toml"), SKILLS.iter().take(0));
    assert!(matches!(none, Err(DrillError::Faults(faults)) if faults.faults.len() == 3));
}
