//! The shown state: steps, and mix-ups that stand.

use super::fakes::{FOUR, Story};
use crate::learner::{Outcome, State};

const SKILL: &str = "map-to-compass";
const SIGN: Outcome = Outcome::Mixup("sign-flipped");

fn state(story: &Story) -> State {
    story.beliefs.skill(SKILL).unwrap().state(story.day)
}

fn steps(story: &Story) -> u8 {
    story.beliefs.skill(SKILL).unwrap().steps()
}

#[test]
fn four_of_four_right_is_sure_and_first_wrong_then_three_right_is_not_yet() {
    let mut all_right = Story::new();
    // Items that expose nothing else than one mix-up: by P(known) these four read "learning".
    for _ in 0..4 {
        all_right.tell_exposing(SKILL, Outcome::Right, &["forgotten"]);
    }
    let mut first_wrong = Story::new();
    first_wrong.tell(SKILL, Outcome::Other);
    first_wrong.right(SKILL, 3);
    assert_eq!(state(&all_right), State::Sure);
    assert_eq!(state(&first_wrong), State::Learning);
    assert!(first_wrong.beliefs.skill(SKILL).unwrap().known() > all_right.beliefs.skill(SKILL).unwrap().known());
    assert_eq!(state(first_wrong.right(SKILL, 1)), State::Sure);
}

#[test]
fn nine_of_nine_in_a_check_is_sure_in_practice_whatever_was_before_and_the_weak_spot_is_over() {
    let mut story = Story::new();
    story.mixed_up(SKILL, "sign-flipped", 3);
    assert_eq!(state(&story), State::Learning);
    story.explained = false;
    story.later(1).right(SKILL, 9);
    assert_eq!(state(&story), State::Sure);
    assert_eq!(story.beliefs.weak_spots(), []);
}

#[test]
fn one_slip_of_somebody_sure_for_long_leaves_them_sure_and_two_do_not() {
    for wrong in [SIGN, Outcome::Other] {
        let mut story = Story::new();
        story.right(SKILL, 9);
        assert_eq!(steps(&story), 7);
        story.tell(SKILL, wrong);
        assert_eq!((steps(&story), state(&story)), (4, State::Sure));
        story.tell(SKILL, wrong);
        assert_eq!((steps(&story), state(&story)), (1, State::Learning));
    }
}

#[test]
fn after_six_days_away_a_wrong_answer_takes_all_that_was_left() {
    let mut away = Story::new();
    away.right(SKILL, 7).later(6).tell(SKILL, Outcome::Other);
    let mut near = Story::new();
    near.right(SKILL, 7).later(5).tell(SKILL, Outcome::Other);
    assert_eq!((steps(&away), steps(&near)), (0, 4));
    let mut lasted = Story::new();
    assert_eq!(
        state(lasted.right(SKILL, 7).later(6).right(SKILL, 1)),
        State::Sure,
        "one right answer shows that it lasted"
    );
}

#[test]
fn a_mixup_that_came_twice_keeps_a_skill_from_being_sure_until_items_that_expose_it_are_right() {
    let mut story = Story::new();
    story.mixed_up(SKILL, "sign-flipped", 2);
    for _ in 0..6 {
        story.tell_exposing(SKILL, Outcome::Right, &["forgotten"]);
    }
    assert_eq!((steps(&story), state(&story)), (6, State::Learning), "none of the six could show it");
    story.tell_exposing(SKILL, Outcome::Right, FOUR);
    assert_eq!(state(&story), State::Learning);
    story.tell_exposing(SKILL, Outcome::Right, FOUR);
    assert_eq!(state(&story), State::Sure);
}
