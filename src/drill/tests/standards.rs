//! Standards: those of the program, and what a broken one says.

use super::messages::{Case, keep};
use crate::angle::North;
use crate::drill::{DrillError, FaultKind, Origin, Standard};
use crate::learner::readiness::{ReadinessPlan, Rules, Wish};
use crate::problem::Level;
use crate::skills;
use std::path::PathBuf;

/// A good standard, for tests that make it bad.
const GOOD: &str = r#"name = "our-outing"
title = "Our outing"
p0 = 0.60
p1 = 0.90
alpha = 0.10
beta = 0.10
cap = 15
tries = 1
critical = ["reversed", "not-applied"]

[[skill]]
id = "back-bearing"
level = 2

[[skill]]
id = "true-magnetic"
level = 3
"#;

fn read(text: &str) -> Result<Standard, DrillError> {
    Standard::read(text, Origin::File(PathBuf::from("standards/ours.toml")), skills::metas())
}

fn with(good: &str, bad: &str) -> String {
    assert!(GOOD.contains(good), "{good} is not in the good standard");
    GOOD.replacen(good, bad, 1)
}

fn faults(text: &str) -> Vec<FaultKind> {
    match read(text) {
        Err(DrillError::Faults(faults)) => faults.faults.into_iter().map(|fault| fault.kind).collect(),
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_standard_says_how_it_decides() {
    let standard = read(GOOD).unwrap();
    let wish = Wish { alpha: 0.1, beta: 0.1, cap: 15, tries: 1, ..Wish::default() };
    assert_eq!(standard.rules.plan, ReadinessPlan::for_wish(&wish).unwrap());
    assert_eq!((standard.rules.wait_days, standard.rules.valid_days), (Rules::WAIT_DAYS, Rules::VALID_DAYS));
    assert_eq!(standard.rules.critical, ["reversed", "not-applied"]);
    let skills: Vec<(&str, Level)> = standard.skills.iter().map(|one| (one.skill.id, one.level)).collect();
    assert_eq!(skills, [("back-bearing", Level::TWO), ("true-magnetic", Level::THREE)]);
}

#[test]
fn the_standards_of_the_program_can_be_read_and_no_file_is_left_out() {
    let names: Vec<&str> = Standard::embedded().iter().map(|standard| standard.name.as_str()).collect();
    assert_eq!(names, ["day-outing", "camp-evening", "whole-core"]);
    assert_eq!(Standard::embedded_files().count(), names.len());
    let of = |name: &str| Standard::find(name, None).unwrap();
    assert_eq!(of("day-outing").rules.plan, ReadinessPlan::two_tries(), "its bounds are data");
    assert!((4..=6).contains(&of("day-outing").skills.len()));
    assert!((4..=6).contains(&of("camp-evening").skills.len()));
    let whole: Vec<&str> = of("whole-core").skills.iter().map(|one| one.skill.id).collect();
    // All but what only some groups use (32 points): nobody who leads others needs that.
    let common = skills::metas().filter(|meta| skills::is_common(meta)).map(|meta| meta.id);
    assert_eq!(whole, common.collect::<Vec<_>>());
    assert_eq!(of("camp-evening").rules.plan.tries(), 1);
    let length = of("camp-evening").rules.plan.expected_items(0.6);
    assert!((5.0..9.0).contains(&length), "about seven problems, not {length}");
}

#[test]
fn bounds_may_be_written_out() {
    let bounds = "ready = [[9, 9], [12, 13], [16, 18], [16, 19]]\nstop = [[2, 3, 8], [3, 9, 10], [4, 11, 19]]";
    let text = with("alpha = 0.10\nbeta = 0.10\ncap = 15\ntries = 1", &format!("tries = 2\n{bounds}"));
    assert_eq!(read(&text).unwrap().rules.plan, ReadinessPlan::two_tries());
    assert!(matches!(faults(&with("tries = 1", bounds))[..], [FaultKind::BoundsAndErrors(_)]));
    for bad in [
        "ready = [[9, 9]]\nstop = [[2, 3, 8], [4, 11, 19]]",
        "ready = [[10, 9], [16, 19]]\nstop = [[4, 11, 19]]",
        "ready = [[2, 9], [16, 19]]\nstop = [[2, 3, 9], [4, 11, 19]]",
        "ready = [[16, 19]]\nstop = [[4, 0, 19]]",
        "ready = [[16, 19]]\nstop = [[4, 2, 19]]",
    ] {
        let text = with("alpha = 0.10\nbeta = 0.10\ncap = 15\ntries = 1", bad);
        assert_eq!(faults(&text), [FaultKind::Bounds], "{bad}");
    }
    let text = with("alpha = 0.10\nbeta = 0.10\ncap = 15\ntries = 1", "ready = [[9]]\nstop = [[4, 11, 19]]");
    assert!(matches!(faults(&text)[..], [FaultKind::Row(_)]));
}

const BY_LINES: &str = "[[skill]]\nid = \"orient-true-line\"\nlevel = 2\nby_lines = true";

#[test]
fn a_map_is_oriented_by_the_line_that_the_groups_maps_have() {
    use North::{Grid, Magnetic, True};
    let standard = read(&with("[[skill]]\nid = \"back-bearing\"\nlevel = 2", BY_LINES)).unwrap();
    let on = |lines: Option<&[North]>| standard.clone().on_lines(lines);
    for (lines, skill) in [
        (&[Magnetic, True, Grid][..], "orient-magnetic-line"),
        (&[True, Grid], "orient-grid"),
        (&[Grid], "orient-grid"),
        (&[True], "orient-true-line"),
    ] {
        let standard = on(Some(lines));
        assert_eq!((standard.skills[0].skill.id, standard.skills[0].level), (skill, Level::TWO), "{lines:?}");
        assert_eq!((standard.skills[1].skill.id, standard.lines_unset()), ("true-magnetic", None));
    }
    // Nothing set: what the file names is asked, and it is said.
    let unset = on(None);
    assert_eq!(unset.skills[0].skill.id, "orient-true-line");
    let said = unset.lines_unset().expect("something to say");
    assert!(said.contains("Orient by a true-north line") && said.contains("needlewise home set --lines"), "{said}");
    let day_outing = Standard::find("day-outing", None).unwrap();
    let orients = |standard: &Standard| standard.skills.iter().any(|one| one.skill.id.starts_with("orient-"));
    assert!(day_outing.lines_unset().is_some() && orients(&day_outing));
    assert_eq!(day_outing.clone().on_lines(Some(&[Magnetic])).skills[0].skill.id, "orient-magnetic-line");
    let named =
        read(&with("[[skill]]\nid = \"back-bearing\"\nlevel = 2", &BY_LINES.replace("= true", "= false"))).unwrap();
    assert_eq!(named.lines_unset(), None, "by_lines = false names the skill for all maps");
}

#[test]
fn camp_evening_reckons_with_no_old_maps() {
    use crate::problem::{Code, realise};
    for one in &Standard::find("camp-evening", None).unwrap().skills {
        let skill = skills::find(one.skill.id).unwrap();
        for seed in 0..200 {
            let problem = realise(&Code { skill, level: one.level, seed, home: None }).unwrap();
            let year = problem.prompt().split(|c: char| !c.is_ascii_digit()).find(|part| part.len() == 4);
            assert_eq!(year, None, "{}", problem.prompt());
        }
    }
}

#[test]
fn every_message_about_a_standard_says_what_is_wrong_and_what_to_do() {
    let changed = |(good, bad): (&str, &str)| {
        Case::new(format!("{good:?} is written {bad:?}"), read(&with(good, bad)).expect_err(bad))
    };
    let mut cases: Vec<Case> = [
        ("p0 = 0.60", "p0 = 0.95"),
        ("alpha = 0.10", "alpha = 0"),
        ("beta = 0.10", "beta = 0.6"),
        ("cap = 15", "cap = 5"),
        ("\"true-magnetic\"", "\"true-magnetc\""),
        ("level = 3", "level = 9"),
        ("level = 3\n", ""),
        ("\"not-applied\"", "\"not-aplied\""),
        ("alpha = 0.10\nbeta = 0.10\ncap = 15", "ready = [[9, 9]]\nstop = [[2, 3, 8]]"),
        ("cap = 15", "count = 15"),
        ("p0 = 0.60", "p0 = \"a lot\""),
        ("p0 = 0.60", "p0 = .6"),
        ("level = 2", "level = 2\nby_lines = true"),
        ("level = 2", "level = 2\nby_lines = \"yes\""),
        ("cap = 15", "cap = 15\nby_lines = true"),
        ("level = 2", "level = 2\ncap = 15"),
        ("[\"reversed\", \"not-applied\"]", "[\"reversed\" \"not-applied\"]"),
    ]
    .map(changed)
    .into();
    let twice = with("\"back-bearing\"\nlevel = 2", &format!("\"orient-grid\"\nlevel = 2\n\n{BY_LINES}"));
    cases.push(Case::new("the same line by itself and by the maps", read(&twice).unwrap_err()));
    cases.push(Case::new("an empty file", read(" \n").unwrap_err()));
    cases.push(Case::new("a standard misspelt", Standard::find("camp-evning", None).unwrap_err()));
    keep("standards", &cases);
}
