use super::*;
use crate::config::Config;
use crate::learner::{Evidence, Outcome, Placement};
use crate::problem::{Figure, Question};
use crate::session::GroundCard;
use jiff::Timestamp;
use jiff::civil::date;

const TODAY: Date = date(2026, 6, 6);
const YESTERDAY: Date = date(2026, 6, 5);
const LEVELS: [Level; 4] = [Level::ONE, Level::TWO, Level::THREE, Level::FOUR];

fn free() -> Plan {
    Plan::free(GroundCard::new(&Config::default(), "settings.toml", TODAY).home)
}

fn beliefs() -> Beliefs {
    Beliefs::new(&skills::metas().collect::<Vec<_>>(), Placement::Fresh)
}

/// Somebody who turned the declination the wrong way in three of three, yesterday.
fn flips_signs() -> Beliefs {
    let mut beliefs = beliefs();
    let skill = skills::find("true-magnetic").unwrap().meta();
    let exposed: Vec<&str> = skill.mixups.iter().map(|mixup| mixup.id.0).collect();
    for _ in 0..3 {
        beliefs.observe(&Evidence {
            skill: skill.id,
            level: Level::TWO,
            day: YESTERDAY,
            outcome: Outcome::Mixup("sign-flipped"),
            exposed: &exposed,
            hinted: false,
            explained: true,
            at: Timestamp::UNIX_EPOCH,
        });
    }
    beliefs
}

fn ids(problems: &[Problem]) -> Vec<(&'static str, Level)> {
    problems.iter().map(|problem| (problem.skill().id, problem.code().level)).collect()
}

#[test]
fn a_weak_spot_is_on_the_sheet_and_its_problem_would_show_the_mix_up() {
    let mut shown = 0;
    for seed in 0..10 {
        let problems = Sheets::new(free(), 8, seed).next(&flips_signs(), TODAY);
        assert_eq!(problems.len(), 8);
        let aimed = problems.iter().filter(|problem| problem.skill().id == "true-magnetic");
        let exposing =
            aimed.filter(|problem| problem.mixups().iter().any(|mixup| mixup.meta.id.0 == "sign-flipped")).count();
        assert!(exposing >= 1, "seed {seed}: {:?}", ids(&problems));
        shown += exposing;
    }
    assert!(shown > 10, "{shown}");
    // Somebody new is not asked that yet.
    let new = Sheets::new(free(), 8, 1).next(&beliefs(), TODAY);
    assert!(!new.is_empty() && new.iter().all(|problem| problem.skill().id != "true-magnetic"), "{:?}", ids(&new));
}

#[test]
fn what_is_named_is_the_same_for_all_at_the_same_level_and_no_problem_comes_twice() {
    let plan = free().with_skills(&["back-bearing", "turns", "diagram"], None);
    let mut sheets = Sheets::new(plan, 7, 5);
    let all: Vec<Vec<Problem>> = [beliefs(), flips_signs(), beliefs()].map(|known| sheets.next(&known, TODAY)).into();
    assert_eq!(ids(&all[0]), ids(&all[1]));
    assert_eq!(ids(&all[0]), ids(&all[2]));
    assert!(ids(&all[0]).iter().all(|(_, level)| *level == Level::TWO));
    let facts: Vec<&Facts> = all.iter().flatten().map(Problem::facts).collect();
    assert_eq!(facts.len(), 21);
    assert!((0..facts.len()).all(|at| !facts[at + 1..].contains(&facts[at])), "no problem twice");
}

#[test]
fn the_same_seed_gives_the_same_sheets() {
    let codes = |seed| {
        let mut sheets = Sheets::new(free(), 6, seed);
        let problems = [beliefs(), flips_signs()].map(|known| sheets.next(&known, TODAY));
        problems.iter().flatten().map(|problem| problem.code().to_string()).collect::<Vec<_>>()
    };
    assert_eq!(codes(3), codes(3));
    assert_ne!(codes(3), codes(4));
}

#[test]
fn every_skill_comes_in_a_form_for_paper_or_is_said_to_be_left_out() {
    let mut on_paper = 0;
    for skill in skills::metas() {
        for level in LEVELS {
            let mut sheets = Sheets::new(free().with_skills(&[skill.id], Some(level)), 2, 1);
            let problems = sheets.next(&beliefs(), TODAY);
            let left_out = sheets.left_out().iter().any(|one| one.skill.id == skill.id && one.level == level);
            assert_eq!(problems.is_empty(), left_out, "{} at {level}", skill.id);
            for problem in &problems {
                assert_eq!(problem.code().level, level);
                assert!(matches!(problem.question(), Question::Typed(_) | Question::Choose(_)));
                assert!(!matches!(problem.figure(), Figure::Map(map) if map.tool.is_some()));
                // The legs of a course can be mixed up in more ways than there are digits.
                let digits = problem.mixups().len() <= 8 || skill.id == "course-leg";
                assert!(digits, "{}: {} mix-ups", problem.code(), problem.mixups().len());
            }
            on_paper += problems.len();
        }
    }
    assert!(on_paper > 150, "{on_paper}");
}

#[test]
fn the_sheet_of_somebody_new_has_something_of_the_leaders_standard_with_what_comes_before_it_above() {
    for name in ["day-outing", "camp-evening", "whole-core"] {
        let standard = crate::drill::Standard::find(name, None).unwrap();
        let toward = || standard.skills.iter().map(|one| one.skill);
        let bare = Sheets::new(free(), 8, 3).next(&beliefs(), TODAY);
        let problems = Sheets::new(free(), 8, 3).toward(toward()).next(&beliefs(), TODAY);
        assert_eq!(problems.len(), 8);
        let found = problems.iter().position(|problem| toward().any(|skill| skill.id == problem.skill().id));
        let at = found.unwrap_or_else(|| panic!("{name}: {:?}", ids(&problems)));
        // Nothing stands on it before what has to be met first.
        for (at, problem) in problems.iter().enumerate() {
            for before in problem.skill().prerequisites {
                let is_new = ids(&bare).iter().all(|(id, _)| *id != problem.skill().id);
                let stands = problems[..at].iter().any(|other| other.skill().id == *before);
                assert!(!is_new || stands, "{name}: {before} before {}: {:?}", problem.skill().id, ids(&problems));
            }
        }
        assert!(
            problems[at].code().level == Level::ONE || ids(&bare).contains(&ids(&problems)[at]),
            "{:?}",
            ids(&problems)
        );
        let kept = ids(&problems).iter().filter(|one| ids(&bare).contains(one)).count();
        assert!(kept >= 4, "half of it is what comes next for the learner: {:?}", ids(&problems));
        let met = |all: &[Problem]| ids(all).into_iter().map(|(id, _)| id).collect::<std::collections::BTreeSet<_>>();
        assert!(met(&problems).is_superset(&met(&bare)), "{:?}", ids(&problems));
    }
    // Who is far from each of them is asked what comes next alone.
    let far = [skills::find("resection").unwrap().meta()];
    let (near, bare) = (Sheets::new(free(), 8, 3).toward(far.into_iter()), Sheets::new(free(), 8, 3));
    let of = |mut sheets: Sheets| ids(&sheets.next(&beliefs(), TODAY));
    assert_eq!(of(near), of(bare));
}
