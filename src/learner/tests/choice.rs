//! The next problem, and its reason.

use super::fakes::{DAY, MAP, REGISTRY, Story, all, day};
use crate::learner::{
    Allowed, Beliefs, Choice, Fading, Outcome, Placement, Reason, Recent, Selection, Standing, choose, gain,
};
use crate::problem::Level;

fn next(story: &Story) -> Choice {
    choose(&story.beliefs, &all(), story.day, &story.recent).unwrap()
}

fn gain_of(story: &Story, skill: &str) -> f64 {
    gain(&story.beliefs, skill, story.day, &story.recent).unwrap().total()
}

/// Source: the formula of `gain`, by hand. Fresh: M .2, U .3, mix-ups .5; without mix-ups U .8.
#[test]
fn the_gain_of_a_fresh_learner_is_as_worked_by_hand() {
    let story = Story::new();
    // One dependent not yet solid; no prerequisites: 1.15 · 1 · .20 · .8.
    assert!((gain_of(&story, "dial") - 1.15 * 0.16).abs() < 1e-12);
    // One dependent; its prerequisite has strength .2, which carries nothing: 1.15 · .15 · .16.
    assert!((gain_of(&story, "map-to-compass") - 1.15 * 0.15 * 0.16).abs() < 1e-12);
    assert!((gain_of(&story, "grid-to-compass") - 0.15 * 0.16).abs() < 1e-12);
    assert!((gain_of(&story, "paces") - 0.16).abs() < 1e-12);
    assert_eq!(gain(&story.beliefs, "not-a-skill", DAY, &Recent::default()), None);
}

#[test]
fn the_gain_of_a_skill_met_on_an_earlier_day_has_three_parts() {
    let mut story = Story::new();
    story.right("paces", 3).later(6);
    let belief = story.beliefs.skill("paces").unwrap();
    let parts = gain(&story.beliefs, "paces", story.day, &story.recent).unwrap();
    assert!((parts.learn - 0.20 * belief.not_yet()).abs() < 1e-12);
    assert!((parts.refresh - 0.60 * belief.rusty()).abs() < 1e-12);
    assert!((parts.repeat - 0.4 * belief.known() * 0.5).abs() < 1e-12, "r is one half after one half-life");
    story.right("paces", 1);
    assert_eq!(gain(&story.beliefs, "paces", story.day, &story.recent).unwrap().repeat, 0.0, "not on the day itself");
}

#[test]
fn a_new_learner_begins_with_what_the_others_build_on() {
    let choice = next(&Story::new());
    assert_eq!((choice.skill.id, choice.level, choice.reason), ("dial", Level::ONE, Reason::NotMetYet));
    assert_eq!(choice.expose, None);
}

#[test]
fn prerequisites_outside_the_registry_do_not_hold_a_skill_back() {
    let mut story = Story::new();
    story.right("dial", 4);
    let parts = gain(&story.beliefs, "map-to-compass", DAY, &Recent::default()).unwrap();
    assert!((parts.learn - 1.15 * 0.16).abs() < 1e-12, "dial is known, the unknown one is passed over");
}

#[test]
fn a_skill_just_right_gives_way_and_a_skill_just_wrong_comes_again_twice() {
    let mut story = Story::new();
    let mixing = |story: &Story| gain(&story.beliefs, "dial", story.day, &story.recent).unwrap().mixing;
    story.tell("dial", Outcome::Right);
    assert_eq!(mixing(&story), 0.35);
    story.tell("paces", Outcome::Right);
    assert_eq!(mixing(&story), 0.7);
    story.tell("dial", Outcome::Other);
    assert_eq!(mixing(&story), 1.3);
    story.tell("dial", Outcome::Other);
    assert_eq!(mixing(&story), 0.35, "met three times today");
}

#[test]
fn equal_gains_go_by_the_registry_whatever_the_order_of_the_selection() {
    let registry = [REGISTRY[3], REGISTRY[0]];
    // Both without dependents here; the priors differ in form but not in what is unlearnt.
    let beliefs = Beliefs::new(&registry, Placement::Fresh);
    for order in [["paces", "dial"], ["dial", "paces"]] {
        let choice = choose(&beliefs, &Selection::of(order), DAY, &Recent::default()).unwrap();
        assert_eq!(choice.skill.id, "paces");
    }
}

#[test]
fn the_next_day_opens_with_the_weak_spot_named_the_day_before() {
    let mut story = Story::new();
    story.right("dial", 5).mixed_up("map-to-compass", "sign-flipped", 3).later(1);
    story.tell("dial", Outcome::Right);
    let choice = next(&story);
    assert_eq!(choice.skill.id, "map-to-compass");
    assert_eq!(choice.reason.words(), "your weak spot: you added where subtracting is right");
    assert_eq!(choice.expose.map(|mixup| mixup.id.0), Some("sign-flipped"));
    story.tell("map-to-compass", Outcome::Right);
    assert_ne!(next(&story).skill.id, "map-to-compass", "it opens the day, it does not fill it");
}

#[test]
fn one_easy_problem_of_another_skill_comes_before_the_weak_spot_that_was_promised() {
    let mut story = Story::new();
    story.right("paces", 1).right("dial", 6).mixed_up("map-to-compass", "sign-flipped", 3).later(1);
    assert_eq!(story.beliefs.skill("dial").unwrap().level(), Level::THREE);
    let choice = next(&story);
    assert_eq!((choice.skill.id, choice.level), ("dial", Level::TWO), "the best known, one level easier");
    assert_eq!(choice.reason.words(), "an easy one first, then your weak spot in \"From map to compass\"");
    assert!(story.beliefs.has_easy_beside(&MAP));
    story.tell("dial", Outcome::Other);
    assert_eq!(next(&story).skill.id, "map-to-compass", "right or wrong, it was one");
}

#[test]
fn what_never_came_right_or_has_a_weak_spot_of_its_own_is_no_easy_problem() {
    let mut story = Story::new();
    story.tell("paces", Outcome::Other);
    story.right("dial", 1).mixed_up("dial", "wrong-end", 5).mixed_up("map-to-compass", "sign-flipped", 3).later(1);
    assert!(!story.beliefs.has_easy_beside(&MAP));
    assert!(!matches!(next(&story).reason, Reason::EasyFirst { .. }), "{:?}", next(&story).reason);
}

#[test]
fn after_two_wrong_answers_in_a_row_the_next_problem_is_easier_with_the_example() {
    let mut story = Story::new();
    story.right("paces", 6).tell("paces", Outcome::Other);
    let paces = Selection::of(["paces"]);
    let choice = |story: &Story| choose(&story.beliefs, &paces, story.day, &story.recent).unwrap();
    assert_eq!(choice(&story).level, Level::THREE, "one is none");
    // A hint makes an answer no evidence; wrong it is all the same.
    story.hinted = true;
    story.tell("paces", Outcome::Other);
    let easier = choice(&story);
    assert_eq!((easier.level, easier.fading), (Level::TWO, Fading::Example));
    assert_eq!(easier.reason.words(), "two did not come right, so an easier one");
    story.level = Some(Level::ONE);
    story.tell("paces", Outcome::Other);
    assert_eq!(choice(&story).level, Level::ONE);
    assert_eq!(choice(&story).reason.words(), "two did not come right, so the example once more");
    story.tell("paces", Outcome::Right);
    assert_ne!(choice(&story).fading, Fading::Example, "one right answer ends it");
}

#[test]
fn a_day_that_began_with_a_check_still_opens_with_what_was_announced_or_says_its_end() {
    for (right_in_the_check, over) in [(1, false), (9, true)] {
        let mut story = Story::new();
        story.mixed_up("map-to-compass", "sign-flipped", 3).later(1);
        story.explained = false;
        story.right("map-to-compass", right_in_the_check);
        let choice = next(&story);
        assert_eq!(choice.skill.id, "map-to-compass");
        assert_eq!(
            matches!(choice.reason, Reason::WeakSpot { standing: Standing::Named, .. }),
            !over,
            "{:?}",
            choice.reason
        );
        assert_eq!(matches!(choice.reason, Reason::WasWeakSpot { .. }), over);
        story.explained = true;
        let change = story.tell("map-to-compass", Outcome::Right);
        assert_eq!(change.cleared.map(|mixup| mixup.id.0), Some("sign-flipped"), "and its end is said");
        assert!(!matches!(next(&story).reason, Reason::WeakSpot { .. } | Reason::WasWeakSpot { .. }));
    }
}

#[test]
fn a_weak_prerequisite_comes_before_the_weak_spot_once() {
    let mut story = Story::new();
    story.tell("dial", Outcome::Other);
    story.mixed_up("map-to-compass", "sign-flipped", 3).later(1);
    let choice = next(&story);
    assert_eq!(choice.skill.id, "dial");
    assert_eq!(choice.reason.words(), "a step towards your weak spot in \"From map to compass\"");
    story.tell("dial", Outcome::Other);
    let choice = next(&story);
    assert_eq!(choice.skill.id, "map-to-compass");
    assert!(matches!(choice.reason, Reason::WeakSpot { .. }));
}

#[test]
fn a_prerequisite_never_met_does_not_come_before_what_was_promised() {
    let mut story = Story::new();
    story.mixed_up("map-to-compass", "sign-flipped", 3).later(1);
    assert_eq!(next(&story).skill.id, "map-to-compass");
}

#[test]
fn a_prerequisite_that_the_drill_leaves_out_is_not_asked() {
    let mut story = Story::new();
    story.mixed_up("map-to-compass", "sign-flipped", 3).later(1);
    let drill = Selection::of(["map-to-compass", "paces"]);
    let choice = choose(&story.beliefs, &drill, story.day, &story.recent).unwrap();
    assert_eq!(choice.skill.id, "map-to-compass");
}

#[test]
fn a_cleared_weak_spot_does_not_open_the_next_day() {
    let mut story = Story::new();
    story.right("dial", 5).mixed_up("map-to-compass", "sign-flipped", 3);
    story.right("map-to-compass", 5).later(1);
    assert!(!matches!(next(&story).reason, Reason::WeakSpot { .. } | Reason::PrerequisiteOf { .. }));
}

#[test]
fn the_reason_says_what_weighs_most() {
    let mut story = Story::new();
    for skill in ["dial", "map-to-compass", "grid-to-compass", "paces"] {
        story.right(skill, 6);
    }
    story.later(12);
    assert_eq!(next(&story).reason, Reason::WorthRepeating { days: 12 });
    assert_eq!(next(&story).reason.words(), "worth repeating after 12 days");
    let mut story = Story::new();
    story.right("dial", 1);
    let choice = choose(&story.beliefs, &Selection::of(["dial", "grid-to-compass"]), DAY, &Recent::default()).unwrap();
    assert_eq!((choice.skill.id, choice.reason), ("dial", Reason::Practising));
    let mut story = Story::new();
    story.mixed_up("dial", "wrong-end", 1);
    assert_eq!(next(&story).reason.words(), "perhaps a weak spot, you read the wrong end");
}

#[test]
fn a_drill_of_one_skill_is_asked_by_the_drill_at_its_own_level() {
    let story = Story::new();
    let one = Selection {
        skills: vec![Allowed { skill: "grid-to-compass".into(), level: Some(Level::THREE) }],
        ..Selection::default()
    };
    let choice = choose(&story.beliefs, &one, day(3), &story.recent).unwrap();
    assert_eq!((choice.skill.id, choice.level, choice.reason), ("grid-to-compass", Level::THREE, Reason::AskedByDrill));
    assert_eq!(choice.reason.words(), "asked by the drill");
}

#[test]
fn of_a_skill_allowed_twice_the_first_level_counts() {
    let story = Story::new();
    let allowed = |level| Allowed { skill: "paces".into(), level };
    let twice = Selection { skills: vec![allowed(Some(Level::TWO)), allowed(None)], ..Selection::default() };
    assert_eq!(choose(&story.beliefs, &twice, DAY, &story.recent).unwrap().level, Level::TWO);
}

#[test]
fn nothing_allowed_or_nothing_known_chooses_nothing() {
    let story = Story::new();
    assert_eq!(choose(&story.beliefs, &Selection::default(), DAY, &story.recent), None);
    assert_eq!(choose(&story.beliefs, &Selection::of(["not-a-skill"]), DAY, &story.recent), None);
    let nobody = Beliefs::new(&[], Placement::Fresh);
    assert_eq!(choose(&nobody, &all(), DAY, &Recent::default()), None);
}
