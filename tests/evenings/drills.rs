//! The drills that come with the program.

use needlewise::drill::{DeclinationSide, Drill, DrillGround, Origin, Standard};
use needlewise::problem::{Code, Level, realise};
use needlewise::skills;
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

/// Every file of the folder `drills` with its drill.
fn read_all() -> Vec<(String, Drill)> {
    Drill::embedded_files()
        .map(|(file, text)| match Drill::read(text, Origin::Embedded(file), skills::metas()) {
            Ok(drill) => (file.to_owned(), drill),
            Err(error) => panic!("{}", error.render(false)),
        })
        .collect()
}

/// The drills as the program offers them.
fn embedded() -> &'static [Drill] {
    let drills = Drill::embedded();
    assert!(!drills.is_empty(), "no drill reads");
    drills
}

/// The files of a folder with their texts, folders in it left aside.
fn texts_in(folder: &str) -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let mut there: Vec<(String, String)> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap())
        .filter(|entry| entry.file_type().unwrap().is_file())
        .map(|entry| (entry.file_name().into_string().unwrap(), fs::read_to_string(entry.path()).unwrap()))
        .collect();
    there.sort();
    there
}

fn in_order<'a>(files: impl Iterator<Item = (&'a str, &'a str)>) -> Vec<(String, String)> {
    let mut files: Vec<(String, String)> = files.map(|(file, text)| (file.to_owned(), text.to_owned())).collect();
    files.sort();
    files
}

#[test]
fn every_file_of_the_folder_is_in_the_program_as_it_stands_there() {
    let there = texts_in("drills");
    assert_eq!(in_order(Drill::embedded_files()), there);
    assert!(there.len() >= 6);
    let standards = texts_in("drills/standards");
    assert_eq!(in_order(Standard::embedded_files()), standards);
    assert!(standards.len() >= 3);
}

#[test]
fn every_drill_reads_and_has_the_name_of_its_file_and_a_sentence_about_it() {
    let all = read_all();
    assert_eq!(all.len(), Drill::embedded().len());
    for (file, drill) in all {
        assert_eq!(file, format!("{}.toml", drill.name));
        assert!(drill.about.ends_with('.') && drill.about.matches(". ").count() == 0, "{}: {}", file, drill.about);
    }
}

#[test]
fn every_skill_is_in_at_least_one_drill() {
    let taught: BTreeSet<&str> =
        read_all().iter().flat_map(|(_, drill)| drill.skills.iter().map(|skill| skill.skill.id)).collect();
    let there: BTreeSet<&str> = skills::metas().map(|skill| skill.id).collect();
    assert_eq!(taught, there);
}

#[test]
fn the_drills_stand_in_the_order_of_what_they_teach() {
    let names: Vec<&str> = embedded().iter().map(|drill| drill.name.as_str()).collect();
    assert_eq!(
        names,
        [
            "first-evening",
            "back-bearings",
            "declination-east",
            "declination-west",
            "grid-lines",
            "old-maps",
            "orienting-the-map",
            "ten-minutes-in-camp",
            "hands-on-the-map",
            "bearings-outdoors",
            "measuring-on-the-map",
            "where-am-i",
            "following-a-bearing",
            "round-the-lake",
            "patrol-course",
            "thirty-two-points"
        ]
    );
}

#[test]
fn what_a_drill_builds_on_was_in_an_earlier_drill_or_is_in_the_same() {
    let mut met: BTreeSet<&str> = BTreeSet::new();
    for drill in embedded() {
        met.extend(drill.skills.iter().map(|skill| skill.skill.id));
        for skill in &drill.skills {
            for wanted in skill.skill.prerequisites {
                assert!(met.contains(wanted), "{} of {} builds on {wanted}", skill.skill.id, drill.name);
            }
        }
    }
}

#[test]
fn the_first_drill_needs_nothing_and_starts_at_level_one() {
    let first = &embedded()[0];
    assert_eq!(first.ground, DrillGround::Anywhere);
    assert!(first.skills.iter().all(|skill| skill.levels.is_some_and(|(low, _)| low == Level::ONE)));
}

#[test]
fn every_drill_finds_problems_of_its_side_within_a_few_seeds() {
    for drill in embedded() {
        for wanted in &drill.skills {
            let (low, high) = wanted.levels.unwrap_or((Level::ONE, Level::FOUR));
            for level in Level::ALL.into_iter().filter(|level| (low..=high).contains(level)) {
                let fits = (0..40).filter(|seed| {
                    let skill = skills::find(wanted.skill.id).unwrap();
                    let problem = realise(&Code { skill, level, seed: *seed, home: None }).unwrap();
                    drill.declination.allows(problem.facts())
                });
                let fits = fits.count();
                assert!(fits >= 8, "{}: {} at level {level} fits {fits} times in 40", drill.name, wanted.skill.id);
                if drill.declination == DeclinationSide::Both {
                    assert_eq!(fits, 40);
                }
            }
        }
    }
}

#[test]
fn a_drill_is_found_by_its_name_alone() {
    for drill in embedded() {
        assert_eq!(Drill::find(&drill.name, None).as_ref(), Ok(drill));
        let loudly = drill.name.to_uppercase().replace('-', " ");
        assert_eq!(Drill::find(&loudly, None).as_ref(), Ok(drill));
    }
}

#[test]
fn every_embedded_file_is_full_of_remarks_for_whoever_copies_it() {
    for (file, text) in Drill::embedded_files() {
        for word in
            ["count", "minutes", "ground", "declination", "level", "levels", "needlewise skills", "copy this file"]
        {
            let told = text.lines().filter(|line| line.starts_with('#')).any(|line| line.contains(word));
            assert!(told, "{file} says nothing of {word}");
        }
        assert!(text.lines().all(|line| line.chars().count() <= 120), "{file} has a line past 120 letters");
    }
}
