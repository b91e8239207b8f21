//! Suspecting, naming, clearing, and what one skill says about another.

use super::fakes::{DAY, FOUR, MAP, Story};
use crate::learner::{Outcome, Standing};
use crate::problem::MixupClass;

const SKILL: &str = "map-to-compass";
const SIGN: Outcome = Outcome::Mixup("sign-flipped");

#[test]
fn adding_where_subtracting_is_right_three_times_names_the_weak_spot_and_no_later() {
    let mut story = Story::new();
    let first = story.tell(SKILL, SIGN);
    assert_eq!(first.suspected.map(|mixup| mixup.id.0), Some("sign-flipped"));
    assert_eq!(first.named, None);
    let named = [story.tell(SKILL, SIGN), story.tell(SKILL, SIGN)].map(|change| change.named);
    assert_eq!(named.iter().flatten().count(), 1, "named once, within three answers");
    let spots = story.beliefs.weak_spots();
    assert_eq!(spots.len(), 1);
    assert_eq!(
        (spots[0].places[0].skill, spots[0].places[0].mixup, spots[0].standing),
        (&MAP, &MAP.mixups[0], Standing::Named)
    );
    assert_eq!(spots[0].named_on, Some(DAY));
    assert!(spots[0].probability >= 0.98);
}

#[test]
fn one_wrong_answer_names_nothing() {
    let mut story = Story::new();
    assert_eq!(story.tell(SKILL, SIGN).named, None);
    assert_eq!(story.beliefs.weak_spots()[0].standing, Standing::Suspected);
}

#[test]
fn a_named_weak_spot_stays_until_it_reads_below_one_half() {
    let mut story = Story { explained: false, ..Story::new() };
    story.mixed_up(SKILL, "sign-flipped", 2);
    let change = story.tell(SKILL, Outcome::Other);
    assert_eq!(change.cleared, None);
    assert_eq!(story.beliefs.weak_spots()[0].standing, Standing::Named, "reads .79, and was named");
    // A check, which explains nothing, ends nothing that was announced; the next answer in practice does.
    assert_eq!(story.tell(SKILL, Outcome::Right).cleared, None);
    story.explained = true;
    let mut cleared = 0;
    for _ in 0..4 {
        cleared += usize::from(story.tell(SKILL, Outcome::Right).cleared.is_some());
    }
    assert_eq!(cleared, 1);
    assert_eq!(story.beliefs.weak_spots(), []);
}

#[test]
fn the_evidence_counts_only_items_that_could_show_the_mixup() {
    let mut story = Story::new();
    story.mixed_up(SKILL, "sign-flipped", 2).right(SKILL, 1);
    story.tell_exposing(SKILL, Outcome::Right, &["forgotten"]);
    story.tell_exposing(SKILL, SIGN, FOUR);
    let belief = story.beliefs.skill(SKILL).unwrap();
    assert_eq!(belief.mixup_lately("sign-flipped").to_string(), "3 of the last 4");
    assert_eq!(belief.mixup_lately("forgotten").to_string(), "0 of the last 5");
    assert_eq!(belief.mixup_lately("nobody-knows").to_string(), "0 of the last 0");
    assert_eq!(belief.right_lately().to_string(), "2 of the last 5");
}

#[test]
fn the_evidence_goes_back_twelve_answers_at_most() {
    let mut story = Story::new();
    story.mixed_up(SKILL, "sign-flipped", 3).right(SKILL, 11);
    assert_eq!(story.beliefs.skill(SKILL).unwrap().mixup_lately("sign-flipped").to_string(), "1 of the last 12");
}

#[test]
fn an_item_that_cannot_show_a_mixup_hardly_speaks_against_it() {
    let mut shown = Story { explained: false, ..Story::new() };
    shown.mixed_up(SKILL, "sign-flipped", 2);
    let mut hidden = Story { explained: false, ..Story::new() };
    hidden.mixed_up(SKILL, "sign-flipped", 2);
    shown.tell_exposing(SKILL, Outcome::Right, &["sign-flipped"]);
    hidden.tell_exposing(SKILL, Outcome::Right, &["forgotten"]);
    let doubt = |story: &Story| 1.0 - story.beliefs.skill(SKILL).unwrap().reading("sign-flipped");
    // Before the answer the doubt is .048. Right where the mix-up would have shown itself doubles it and more.
    assert!(doubt(&shown) > 0.1, "{}", doubt(&shown));
    assert!(doubt(&hidden) < 0.05, "{}", doubt(&hidden));
}

#[test]
fn an_answer_after_a_hint_is_counted_but_is_no_evidence() {
    let mut story = Story { explained: false, ..Story::new() };
    let before = story.beliefs.skill(SKILL).unwrap().clone();
    story.hinted = true;
    story.mixed_up(SKILL, "sign-flipped", 4);
    let after = story.beliefs.skill(SKILL).unwrap();
    assert_eq!(after.count(), 4);
    assert_eq!((after.known(), after.reading("sign-flipped")), (before.known(), 0.0));
    assert_eq!(after.right_lately().of, 0);
    assert_eq!(story.beliefs.weak_spots(), []);
    story.explained = true;
    story.mixed_up(SKILL, "sign-flipped", 1);
    assert!(story.beliefs.skill(SKILL).unwrap().known() > before.known(), "the explanation still teaches");
}

#[test]
fn a_mixup_seen_in_one_skill_is_likelier_in_a_skill_not_yet_met() {
    let mut story = Story::new();
    let chance = |story: &Story, id| story.beliefs.skill("grid-to-compass").unwrap().mixup(id);
    assert_eq!(chance(&story, "sign-flipped"), chance(&story, "wrong-angle"));
    story.mixed_up(SKILL, "sign-flipped", 3);
    let peak = story.beliefs.skill(SKILL).unwrap().peak("sign-flipped");
    // Carried over: weight 1 + 3 · peak, against 1 for a class that no skill met has.
    let ratio = chance(&story, "sign-flipped") / chance(&story, "wrong-angle");
    assert!((ratio - (1.0 + 3.0 * peak)).abs() < 1e-12, "{ratio}");
    let grid = story.beliefs.skill("grid-to-compass").unwrap();
    assert!((grid.known() - 0.2).abs() < 1e-12 && (grid.not_yet() - 0.3).abs() < 1e-12, "only the shares change");
}

#[test]
fn what_is_seen_elsewhere_leaves_a_skill_already_met_alone() {
    let mut story = Story::new();
    story.tell("grid-to-compass", Outcome::Right);
    let before = story.beliefs.skill("grid-to-compass").unwrap().clone();
    story.mixed_up(SKILL, "sign-flipped", 3);
    assert_eq!(story.beliefs.skill("grid-to-compass").unwrap(), &before);
}

#[test]
fn after_forty_right_answers_a_new_mixup_is_named_within_four() {
    let mut story = Story::new();
    story.right(SKILL, 40);
    let named = (1..=4).find(|_| story.tell(SKILL, SIGN).named.is_some());
    assert!(named.is_some_and(|answer| answer >= 2), "two slips of a sure learner name nothing: {named:?}");
}

#[test]
fn every_class_of_mixup_has_room_for_its_peak() {
    // The last class of the list; a class added behind it shows up here.
    assert!((MixupClass::Method as usize) < crate::learner::beliefs::CLASSES_MOST);
}
