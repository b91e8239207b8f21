//! The list itself, and that it holds what the program says.

use super::*;
use crate::problem::{Code, Level, SkillMeta, realise};
use crate::skills::{self, SKILLS};
use std::collections::{BTreeMap, BTreeSet};

/// The most letters of a line.
const LONGEST: usize = 110;

#[test]
fn each_word_has_one_plain_line_and_a_source() {
    assert!(all().count() > 50);
    for word in all() {
        let (name, line) = (word.word, word.line);
        assert!(line.chars().count() <= LONGEST, "{name}: {} letters", line.chars().count());
        assert!(line.chars().count() > 20 && !line.contains('\n'), "{name}");
        assert!(!line.ends_with(['.', ' ']) && line.trim() == line, "{name}: the stop is put behind it");
        let capital = line.starts_with(char::is_uppercase) && !line.starts_with("T, M or G behind");
        assert!(!capital, "{name}: it stands behind a colon");
        let plain = line.to_lowercase();
        for talk in ["simply", "just", "obviously", "easily", "of course", "merely"] {
            assert!(plain.split(' ').all(|part| part != talk), "{name} says {talk}");
        }
        assert!(word.source.is_none_or(|source| !source.trim().is_empty()), "{name}");
    }
    let sentence = |name| look_up(name).map(Word::source_sentence);
    assert_eq!(sentence("G-M angle").as_deref(), Ok("Source: TC 3-25.26, para 6-14."));
    assert_eq!(sentence("edge").as_deref(), Ok("Source: common practice, no source."));
}

#[test]
fn no_word_and_no_other_name_stands_twice() {
    let mut seen: BTreeMap<String, &str> = BTreeMap::new();
    for word in all() {
        for name in word.names() {
            let before = seen.insert(key(name), word.word);
            assert!(before.is_none(), "{name} stands at {} and at {}", before.unwrap_or_default(), word.word);
        }
    }
}

#[test]
fn a_sketch_is_small_and_drawn_in_letters_that_every_terminal_has() {
    assert!(all().filter(|word| !word.sketch.is_empty()).count() > 6);
    for word in all() {
        assert!(word.sketch.len() <= 5, "{}", word.word);
        for row in word.sketch {
            assert!(row.is_ascii() && row.len() <= 44 && row.trim_end() == *row, "{}: {row}", word.word);
        }
    }
}

#[test]
fn a_word_is_found_by_all_its_names_however_they_are_written() {
    for word in all() {
        for name in word.names() {
            for typed in [name.to_uppercase(), name.to_lowercase(), name.replace('-', " "), name.replace(' ', "-")] {
                assert_eq!(look_up(&typed), Ok(word), "{typed}");
            }
        }
    }
    let found = |typed| look_up(typed).map(|word| word.word);
    assert_eq!(found("  Back  Azimuths "), Ok("back bearing"));
    assert_eq!(found("g.m. angle"), Ok("G-M angle"));
    assert_eq!(found("gridlines"), Ok("grid line"));
}

#[test]
fn a_typing_error_brings_the_nearest_words_and_nonsense_none() {
    let said = |typed: &str| look_up(typed).expect_err(typed).to_string();
    assert_eq!(said("azimut"), "azimut is not in the word list; did you mean azimuth?");
    assert_eq!(said("declinaton"), "declinaton is not in the word list; did you mean declination?");
    assert!(said("arrow").contains("did you mean") && said("arrow").contains("travel arrow"), "{}", said("arrow"));
    assert_eq!(said("swimming pool"), "swimming pool is not in the word list.");
    assert!(said("\u{1b}[31m").starts_with("\u{fffd}[31m is not"), "{}", said("\u{1b}[31m"));
    assert!(said(&"x".repeat(100_000)).len() < 200);
    assert!(look_up("").is_err() && look_up(" - ").is_err());
}

#[test]
fn a_word_stands_in_a_text_as_a_word_of_its_own_or_its_plural() {
    let stands = |name: &str, text: &str| look_up(name).expect(name).stands_in(text);
    assert!(stands("tick", "3 ticks past 120") && !stands("tick", "a ticket"));
    assert!(stands("grid line", "north-south Grid Lines") && !stands("grid line", "grid-lines"));
    assert!(stands("M", "065° M") && stands("M", "on 065°M, then") && !stands("M", "MN, 300 M, M"));
    assert!(stands("MN", "MN (magnetic north)") && !stands("MN", "mn"));
    assert!(!stands("T", "the map"));
    assert!(stands("letter of the north", "065° G.") && !stands("letter of the north", "065° Good"));
    assert!(!stands("orienting arrow", "a gate"), "other names are for looking up");
}

#[test]
fn every_skill_says_which_words_it_brings_and_all_of_them_are_in_the_list() {
    let listed: Vec<&str> = first::FIRST.iter().map(|(skill, _)| *skill).collect();
    assert_eq!(listed.iter().copied().collect::<BTreeSet<_>>(), skills::metas().map(|skill| skill.id).collect());
    assert_eq!(listed.len(), SKILLS.len());
    for (skill, brings) in first::FIRST {
        let found: Vec<&str> = first_in(skill).map(|word| word.word).collect();
        assert_eq!(&found, brings, "{skill}");
        assert!(!found.is_empty() && found.len() <= 6, "{skill}");
    }
    assert_eq!(look_up("tick").unwrap().skills().collect::<Vec<_>>(), ["read-dial", "set-dial"]);
    assert_eq!(first_in("cooking").count(), 0);
}

/// Words of the trade, whether they stand in the list or not: what a text of the program says of these has to be explained.
const TERMS: &str = "true north|magnetic north|grid north|declination|variation|convergence|G-M angle|grid-magnetic angle|\
    annual change|yearly change|isogonic line|agonic line|inclination|dip|diagram|prong|TN|MN|GN|the star|current value|index line|\
    index|travel arrow|orienting arrow|orienting lines|dial|bezel|housing|graduation|tick|baseplate|edge|needle|north end|\
    boxed|inner scale|clinometer|mirror|iron|deviation|local attraction|bearing|azimuth|back bearing|back azimuth|reciprocal|\
    clockwise|counterclockwise|anticlockwise|compass point|quadrant|mil|minute|leg|fore sight|back sight|one in sixty|1 in 60|\
    oriented|orient the map|set the map|magnetic-north line|true-north line|grid line|meridian|map border|neat line|sheet|\
    old map|dated map|protractor|romer|landmark|home ground|contour|contour interval|spot height|grid reference|easting|northing|\
    UTM|MGRS|datum|resection|intersection|triangle of error|cut angle|fix|line of position|dead reckoning|polar plot|pace|\
    double pace|pace count|steering mark|leapfrogging|aiming off|deliberate offset|handrail|catching feature|\
    collecting feature|attack point|backstop|dog-leg|traverse|closure|route card|shadow stick|blackout zone|caution zone|\
    current value|letter of the north|grid convergence|representative fraction|gradient|spur|re-entrant|saddle";

/// What a skill says of itself and of its mix-ups.
fn said_of(skill: &SkillMeta) -> String {
    let mixups = skill.mixups.iter().flat_map(|mixup| [mixup.said, mixup.mend]);
    let own = [skill.title, skill.can].into_iter().chain(skill.levels);
    own.chain(mixups).collect::<Vec<_>>().join(". ")
}

#[test]
fn every_term_that_the_program_says_of_hundreds_of_problems_is_in_the_list() {
    let mut texts = String::new();
    for skill in SKILLS {
        texts.push_str(&said_of(skill.meta()));
        for level in Level::ALL {
            for seed in 0..12 {
                let problem = realise(&Code { skill: *skill, level, seed, home: None }).expect("a problem");
                let lines = problem.step_lines().join(" ");
                let figure = problem.figure().in_words().unwrap_or_default();
                let fields = problem.question().fields().iter().map(|field| field.label).collect::<Vec<_>>().join(". ");
                for text in [problem.prompt(), &lines, &problem.hint(), &figure, &fields] {
                    texts.push(' ');
                    texts.push_str(text);
                }
            }
        }
    }
    let lower = texts.to_lowercase();
    let terms: Vec<&str> = TERMS.split('|').map(str::trim).collect();
    let said: Vec<&str> =
        terms.into_iter().filter(|term| has(if term.len() == 2 { &texts } else { &lower }, &small(term))).collect();
    let missing: Vec<&str> = said.iter().copied().filter(|term| look_up(term).is_err()).collect();
    assert!(missing.is_empty(), "not in the word list: {missing:?}");
    assert!(said.len() > 45, "{said:?}");
}

/// In small letters, but for the marks of the norths.
fn small(term: &str) -> String {
    if term.len() == 2 { term.to_owned() } else { term.to_lowercase() }
}
