//! Forgetting, half-lives, states, levels and fading.
#![expect(clippy::cast_possible_truncation, reason = "what a test counts and draws is small")]

use super::fakes::{DAY, Story, day};
use crate::learner::{Fading, Outcome, Placement, State};
use crate::problem::Level;

const SKILL: &str = "map-to-compass";

#[test]
fn half_of_what_was_known_is_recalled_after_one_half_life() {
    let mut story = Story::new();
    story.right(SKILL, 4);
    let belief = story.beliefs.skill(SKILL).unwrap();
    assert_eq!(belief.half_life_days(), 6.0);
    assert_eq!(belief.recall(day(6)), 0.5);
    assert_eq!(belief.recall(day(0)), 1.0);
    assert_eq!(belief.recall(day(-30)), 1.0, "a clock set back forgets nothing");
}

#[test]
fn on_a_new_day_what_is_not_recalled_has_become_rusty() {
    let mut story = Story { explained: false, ..Story::new() };
    story.right(SKILL, 6);
    let before = story.beliefs.skill(SKILL).unwrap().known();
    // A hint makes the answer no evidence, so only the forgetting shows.
    story.hinted = true;
    story.later(6).right(SKILL, 1);
    let after = story.beliefs.skill(SKILL).unwrap();
    assert!((after.known() - before / 2.0).abs() < 1e-12);
    assert!((after.rusty() - before / 2.0).abs() < 1e-9);
    assert_eq!(after.half_life_days(), 6.0, "and no evidence moves no half-life");
}

#[test]
fn a_right_first_answer_of_a_day_lengthens_the_half_life_and_a_wrong_one_shortens_it() {
    let mut right = Story::new();
    right.right(SKILL, 5).later(6).right(SKILL, 1);
    let mut wrong = Story::new();
    wrong.right(SKILL, 5).later(6).tell(SKILL, Outcome::Other);
    let half_life = |story: &Story| story.beliefs.skill(SKILL).unwrap().half_life_days();
    // r = .5; of five steps three are left after six days away, and the answer makes them four, which is sure, or none.
    assert_eq!(half_life(&right), 6.0 * (1.0 + 2.5 * 0.5));
    assert_eq!(half_life(&wrong), 6.0 * (1.0 - 0.4));
    let before = half_life(&right);
    right.right(SKILL, 3);
    assert_eq!(half_life(&right), before, "only the first answer of a day counts");
}

#[test]
fn half_lives_stay_between_three_and_a_hundred_and_twenty_days() {
    let mut story = Story::new();
    for _ in 0..20 {
        // Back when it is due each time.
        story.right(SKILL, 3);
        let days = story.beliefs.skill(SKILL).unwrap().half_life_days().ceil() as i64;
        story.later(days);
    }
    assert_eq!(story.beliefs.skill(SKILL).unwrap().half_life_days(), 120.0);
    for _ in 0..20 {
        story.later(1).tell(SKILL, Outcome::Other);
    }
    assert_eq!(story.beliefs.skill(SKILL).unwrap().half_life_days(), 3.0);
}

#[test]
fn a_skill_goes_from_not_met_to_learning_to_sure_to_worth_repeating() {
    let mut story = Story::new();
    let state = |story: &Story, after| story.beliefs.skill(SKILL).unwrap().state(day(after));
    assert_eq!(state(&story, 0), State::NotMet);
    assert_eq!(story.beliefs.skill(SKILL).unwrap().due(), None);
    story.right(SKILL, 1);
    assert_eq!(state(&story, 0), State::Learning);
    assert_eq!(story.beliefs.skill(SKILL).unwrap().due(), Some(day(1)));
    story.right(SKILL, 3);
    assert_eq!(state(&story, 5), State::Sure);
    assert_eq!(story.beliefs.skill(SKILL).unwrap().due(), Some(day(6)));
    assert_eq!(story.beliefs.return_on(), Some(day(6)));
    assert_eq!(state(&story, 9), State::WorthRepeating { after_days: 9 });
    assert_eq!(state(&story, 9).words(), "worth repeating");
}

#[test]
fn a_day_before_the_last_one_counts_as_no_time_and_the_next_day_goes_on_from_it() {
    let mut story = Story::new();
    story.right(SKILL, 3).later(400).right(SKILL, 1);
    let ahead = story.beliefs.skill(SKILL).unwrap().clone();
    story.later(-399).right(SKILL, 1);
    let back = story.beliefs.skill(SKILL).unwrap();
    assert_eq!(back.half_life_days(), ahead.half_life_days());
    assert!(back.known() > ahead.known());
    assert_eq!(back.days_since(day(8)), 7);
    assert_eq!(back.first_day(), Some(DAY));
}

#[test]
fn three_right_answers_and_a_sure_belief_make_the_problems_harder() {
    let mut story = Story::new();
    let levels: Vec<u8> = (0..9).map(|_| story.tell(SKILL, Outcome::Right).level.number()).collect();
    assert_eq!(levels, [1, 1, 2, 2, 2, 3, 3, 3, 4]);
    assert_eq!(story.right(SKILL, 9).beliefs.skill(SKILL).unwrap().level(), Level::FOUR);
}

#[test]
fn two_wrong_answers_make_the_problems_easier() {
    let mut story = Story::new();
    story.right(SKILL, 6);
    let mut levels = || story.tell(SKILL, Outcome::Other).level.number();
    assert_eq!([levels(), levels(), levels(), levels(), levels(), levels()], [3, 2, 2, 1, 1, 1]);
}

#[test]
fn easy_right_answers_and_hard_wrong_ones_do_not_move_the_level() {
    let mut story = Story::new();
    story.right(SKILL, 3);
    story.level = Some(Level::ONE);
    story.right(SKILL, 5);
    assert_eq!(story.beliefs.skill(SKILL).unwrap().level(), Level::TWO);
    story.level = Some(Level::FOUR);
    story.tell(SKILL, Outcome::Other);
    story.tell(SKILL, Outcome::Other);
    assert_eq!(story.beliefs.skill(SKILL).unwrap().level(), Level::TWO);
}

#[test]
fn who_has_done_this_before_starts_at_level_three_and_steps_down() {
    let mut story = Story::placed(Placement::DoneBefore);
    let belief = story.beliefs.skill(SKILL).unwrap();
    assert_eq!((belief.level(), belief.known()), (Level::THREE, 0.5));
    assert!((belief.not_yet() / belief.mixup("twice") - 0.30 / 0.125).abs() < 1e-12, "the rest keeps its proportions");
    let levels: Vec<u8> = (0..4).map(|_| story.tell(SKILL, Outcome::Other).level.number()).collect();
    assert_eq!(levels, [3, 2, 2, 1]);
}

#[test]
fn the_worked_example_fades_as_the_skill_becomes_known() {
    let mut story = Story::new();
    let fading = |story: &Story| story.beliefs.skill(SKILL).unwrap().fading();
    assert_eq!(fading(&story), Fading::Example);
    assert_eq!(fading(&Story::placed(Placement::DoneBefore)), Fading::Blanks);
    story.right(SKILL, 1);
    assert_eq!(fading(&story), Fading::HintAfterError);
    story.right(SKILL, 2);
    assert_eq!(fading(&story), Fading::Bare);
    story.later(100);
    assert_eq!(fading(&story), Fading::Bare, "the first problem of a day is a real try");
    story.tell(SKILL, Outcome::Other);
    assert_ne!(fading(&story), Fading::Bare, "and help comes back when it is missed");
}
