//! Turns and rounds as lines of text, in full and from the real store.

use crate::plain_partner::snapshot;
use jiff::civil::date;
use needlewise::config::Config;
use needlewise::plain::{Desk, Group, round, turns};
use needlewise::problem::Level;
use needlewise::session::{Days, GroundCard, Plan};
use needlewise::skills;
use needlewise::store::{AttemptKind, Store};
use std::io::Cursor;
use tempfile::TempDir;

const NAMES: [&str; 2] = ["Ilva", "Bo"];

fn store(folder: &TempDir) -> Store {
    let metas: Vec<_> = skills::metas().collect();
    Store::open(&folder.path().join("records.sqlite"), &metas).unwrap()
}

/// What was said while this was typed, and the folder with the records.
fn said(names: &[&str], skill: &'static str, count: u32, as_round: bool, typed: &str) -> (String, TempDir) {
    let folder = tempfile::tempdir().unwrap();
    let card = GroundCard::new(&Config::default(), "", date(2026, 11, 25));
    let plan = Plan::free(card.home.clone()).with_skills(&[skill], Level::new(2)).with_end(Some(count), None);
    let names: Vec<String> = names.iter().map(|name| (*name).to_owned()).collect();
    let mut now: jiff::Timestamp = "2026-11-25T18:00:00Z".parse().unwrap();
    let mut out = Vec::new();
    let mut desk = Desk {
        input: &mut Cursor::new(typed.as_bytes()),
        out: &mut out,
        now: &mut || {
            now += jiff::SignedDuration::from_secs(10);
            now
        },
    };
    let days = Days::Clock(jiff::tz::TimeZone::UTC);
    let group = Group { store: store(&folder), names: &names, plan, ground: card, days, seed: 5 };
    if as_round { round(group, &mut desk) } else { turns(group, &mut desk) }.unwrap();
    (String::from_utf8(out).unwrap(), folder)
}

/// How many answers each has in the store, and of which kind.
fn kept(folder: &TempDir, skill: &str) -> Vec<Vec<AttemptKind>> {
    let store = store(folder);
    let of = |name: &str| {
        let learner = store.learner_by_name(name).unwrap().expect("a record").id;
        store.attempts(learner, skill, 99).unwrap().iter().map(|attempt| attempt.what.kind).collect()
    };
    NAMES.into_iter().map(of).collect()
}

#[test]
fn turns_pass_the_keyboard_on_after_each_problem() {
    let (said, folder) = said(&NAMES, "back-bearing", 2, false, "\n010\n\n020\n\nundo\n030\n\n040\n\nend\n");
    snapshot("turns", &said);
    let turns: Vec<&str> = said
        .lines()
        .filter_map(|line| line.strip_suffix(", it is your turn. Press Enter when you are there."))
        .collect();
    assert_eq!(turns, ["Ilva", "Bo", "Ilva", "Bo", "Ilva"]);
    assert_eq!(
        kept(&folder, "back-bearing"),
        [vec![AttemptKind::Practice], vec![AttemptKind::Practice; 2]],
        "what was taken back is told nowhere"
    );
}

#[test]
fn a_round_is_written_down_when_the_leader_says_so() {
    let typed = "\n1\nback\n2\n9\nkey\n0\nback\n-\n\nend\n";
    let (said, folder) = said(&NAMES, "back-bearing", 3, true, typed);
    snapshot("round", &said);
    assert_eq!(kept(&folder, "back-bearing"), [vec![AttemptKind::Round], vec![]]);
    assert!(said.ends_with("What each had, and what to teach next, stands on the leader's page.\n"), "{said}");
}

#[test]
fn leaving_a_round_in_the_middle_asks_what_becomes_of_the_answers() {
    let (said, folder) = said(&NAMES, "back-bearing", 3, true, "\n1\nend\nwrite\nend\n");
    assert!(said.contains("1 answer to this problem would be lost. Type write to write them down"), "{said}");
    assert_eq!(kept(&folder, "back-bearing"), [vec![AttemptKind::Round], vec![]]);
    let (_, folder) = self::said(&NAMES, "back-bearing", 3, true, "\n1\nend\nend\n");
    assert_eq!(kept(&folder, "back-bearing"), [vec![], vec![]]);
    // The input ends: nothing was said to be written.
    let (_, folder) = self::said(&NAMES, "back-bearing", 3, true, "\n1\n1\n");
    assert_eq!(kept(&folder, "back-bearing"), [vec![], vec![]]);
}

#[test]
fn a_name_given_twice_is_one_member_and_a_round_ends_after_its_count() {
    let (said, folder) = said(&["Ilva", "ilva", "Bo"], "back-bearing", 2, true, "\n1\n1\n\n\n2\n0\n\n");
    assert_eq!(said.matches("\nRound ").count(), 2, "{said}");
    assert!(said.contains("2 members, 4 answers, 2 right. Everything is kept."), "{said}");
    assert_eq!(kept(&folder, "back-bearing"), [vec![AttemptKind::Round; 2], vec![AttemptKind::Round; 2]]);
}

#[test]
fn a_skill_whose_problems_all_need_a_drawing_is_told_and_nothing_is_asked() {
    let (said, _) = said(&NAMES, "read-dial", 2, true, "\n");
    assert!(said.contains("There is no problem for a round among the skills of this ground."), "{said}");
}
