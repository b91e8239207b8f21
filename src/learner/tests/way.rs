//! A newcomer's way, and where somebody begins on it who has done this before.

use super::fakes::{Story, skill};
use crate::learner::{Choice, Fading, Order, Outcome, Placement, Reason, Selection, choose, found, next_new};
use crate::problem::{Level, SkillMeta};

const fn of(id: &'static str) -> SkillMeta {
    skill(id, "A1", id, &[], &[])
}

/// Not in the order of the way, and not all of it. `paces` stands in no step.
static SKILLS: [SkillMeta; 12] = [
    of("paces"),
    of("compass-points"),
    of("turns"),
    of("read-dial"),
    of("set-dial"),
    of("back-bearing"),
    of("diagram"),
    of("true-magnetic"),
    of("grid-magnetic"),
    of("orient-true-line"),
    of("oriented-bearing"),
    of("follow-bearing"),
];
static REGISTRY: [&SkillMeta; 12] = {
    let mut all = [&SKILLS[0]; 12];
    let mut at = 0;
    while at < 12 {
        all[at] = &SKILLS[at];
        at += 1;
    }
    all
};

fn newcomer() -> Story {
    Story::of(&REGISTRY, Placement::Fresh)
}

fn but(left_out: &[&str]) -> Selection {
    let skills = SKILLS.iter().map(|skill| skill.id).filter(|id| !left_out.contains(id));
    Selection { order: Order::Way, ..Selection::of(skills) }
}

fn next(story: &Story) -> Choice {
    choose(&story.beliefs, &but(&[]), story.day, &story.recent).unwrap()
}

fn new(story: &Story) -> Option<&'static str> {
    next_new(&story.beliefs, &but(&[])).map(|skill| skill.id)
}

/// Plays so many problems as they come; gives the skills asked.
fn plays(story: &mut Story, problems: usize, is_right: impl Fn(&Choice) -> bool) -> Vec<&'static str> {
    let mut asked = Vec::new();
    for _ in 0..problems {
        let choice = next(story);
        story.level = Some(choice.level);
        story.tell(choice.skill.id, if is_right(&choice) { Outcome::Right } else { Outcome::Other });
        asked.push(choice.skill.id);
    }
    asked
}

#[test]
fn the_way_begins_with_a_dial_in_the_hand_and_says_so() {
    let choice = next(&newcomer());
    assert_eq!((choice.skill.id, choice.level, choice.fading), ("read-dial", Level::ONE, Fading::Example));
    assert_eq!(choice.reason.words(), "new: step 1 of 6, the dial and the needle");
}

#[test]
fn skills_that_may_not_be_asked_are_passed_over() {
    let story = newcomer();
    let drill = but(&["read-dial", "set-dial", "follow-bearing", "turns"]);
    let choice = choose(&story.beliefs, &drill, story.day, &story.recent).unwrap();
    assert_eq!((choice.skill.id, choice.reason), ("compass-points", Reason::OnTheWay { step: 1 }));
}

#[test]
fn a_step_opens_when_each_skill_before_it_has_two_of_its_last_four_right() {
    let mut story = newcomer();
    story.right("read-dial", 2).right("set-dial", 2).right("follow-bearing", 1);
    assert_eq!(new(&story), None);
    story.tell("follow-bearing", Outcome::Right);
    assert_eq!(new(&story), Some("compass-points"));
    for _ in 0..3 {
        story.tell("set-dial", Outcome::Other);
    }
    assert_eq!(new(&story), None, "one of the last four");
    story.right("set-dial", 1);
    assert_eq!(new(&story), None, "one of the last four still");
    story.right("set-dial", 1);
    assert_eq!(new(&story), Some("compass-points"));
}

#[test]
fn an_answer_after_a_hint_opens_nothing() {
    let mut story = newcomer();
    story.right("read-dial", 2).right("set-dial", 2).right("follow-bearing", 1);
    story.hinted = true;
    story.right("follow-bearing", 3);
    assert_eq!(new(&story), None);
}

#[test]
fn what_was_tried_eight_times_holds_up_nothing_any_longer() {
    let mut story = newcomer();
    story.right("read-dial", 2).right("set-dial", 2);
    for _ in 0..7 {
        story.tell("follow-bearing", Outcome::Other);
    }
    assert_eq!(new(&story), None);
    story.tell("follow-bearing", Outcome::Other);
    assert_eq!(new(&story), Some("compass-points"));
}

#[test]
fn what_was_met_in_another_order_counts_as_met_and_keeps_its_level() {
    let mut story = newcomer();
    story.right("true-magnetic", 9).right("diagram", 1).later(1);
    assert_eq!(new(&story), Some("read-dial"), "the first of what is new");
    story.right("read-dial", 2).right("set-dial", 1).right("follow-bearing", 1).right("compass-points", 1);
    assert_eq!(new(&story), Some("turns"), "the steps before it are open");
    let level = |story: &Story| {
        let choice = choose(
            &story.beliefs,
            &Selection { order: Order::Way, ..Selection::of(["true-magnetic", "diagram"]) },
            story.day,
            &story.recent,
        );
        choice.map(|choice| (choice.skill.id, choice.level))
    };
    story.later(40).right("diagram", 2);
    assert_eq!(level(&story), Some(("true-magnetic", Level::FOUR)));
}

#[test]
fn at_first_a_level_is_no_higher_than_its_step_has_taught() {
    let mut story = newcomer();
    let dial = Selection { order: Order::Way, ..Selection::of(["set-dial", "follow-bearing", "compass-points"]) };
    let level = |story: &Story| choose(&story.beliefs, &dial, story.day, &story.recent).unwrap().level;
    story.level = Some(Level::ONE);
    story.right("set-dial", 6);
    assert_eq!(story.beliefs.skill("set-dial").unwrap().level(), Level::TWO, "its own");
    story.later(1).tell("follow-bearing", Outcome::Other);
    let choice = choose(&story.beliefs, &dial, story.day, &story.recent).unwrap();
    assert_eq!((choice.skill.id, choice.level), ("set-dial", Level::ONE));
    story.right("follow-bearing", 3).later(9);
    story.tell("follow-bearing", Outcome::Other);
    assert_eq!(level(&story), Level::TWO, "the next step is open");
}

#[test]
fn two_or_three_skills_at_a_time_are_new_and_take_turns() {
    let mut story = newcomer();
    let asked = plays(&mut story, 16, |_| true);
    assert_eq!(&asked[..5], ["read-dial", "read-dial", "read-dial", "read-dial", "set-dial"]);
    assert!(asked[4..].windows(2).all(|two| two[0] != two[1]), "{asked:?}");
    // Who gets nothing right meets three and no more.
    let mut story = newcomer();
    let mut asked = plays(&mut story, 18, |_| false);
    asked.sort_unstable();
    asked.dedup();
    assert_eq!(asked, ["follow-bearing", "read-dial", "set-dial"]);
}

#[test]
fn a_second_error_in_a_row_is_put_right_before_anything_else_comes() {
    let mut story = newcomer();
    story.right("read-dial", 4).tell("set-dial", Outcome::Other);
    assert_ne!(next(&story).skill.id, "set-dial");
    story.right("read-dial", 1).tell("set-dial", Outcome::Other);
    let choice = next(&story);
    assert_eq!((choice.skill.id, choice.level, choice.fading), ("set-dial", Level::ONE, Fading::Example));
    assert_eq!(choice.reason, Reason::TwoWrong { easier: false });
    story.tell("set-dial", Outcome::Other);
    assert_ne!(next(&story).skill.id, "set-dial", "a third time others come between");
}

#[test]
fn a_sitting_on_a_later_day_does_not_begin_with_something_new() {
    let mut story = newcomer();
    story.right("read-dial", 2).right("set-dial", 2).later(1);
    let asked = plays(&mut story, 4, |_| true);
    assert_eq!(asked.iter().position(|skill| *skill == "follow-bearing"), Some(3), "{asked:?}");
}

/// Somebody who has done this before, and knows the skills of these probes.
fn placed(knows: &[&str]) -> (Story, Vec<&'static str>) {
    let mut story = Story::of(&REGISTRY, Placement::DoneBefore);
    let mut asked = Vec::new();
    while next(&story).reason == Reason::Placing {
        asked.extend(plays(&mut story, 1, |choice| {
            assert_eq!((choice.level, choice.fading), (Level::TWO, Fading::Bare));
            knows.contains(&choice.skill.id)
        }));
    }
    (story, asked)
}

fn sentence(story: &Story) -> String {
    found(&story.beliefs, &but(&[])).expect("it is over").to_string()
}

#[test]
fn who_has_done_this_before_is_asked_from_the_middle_and_told_what_was_found() {
    let (story, asked) = placed(&["set-dial", "back-bearing"]);
    assert_eq!(asked, ["true-magnetic", "true-magnetic", "set-dial", "set-dial", "back-bearing", "back-bearing"]);
    assert_eq!(sentence(&story), "You know turns and back bearings; we begin with declination.");
    assert_eq!(new(&story), Some("diagram"));
    let (story, asked) = placed(&[]);
    assert_eq!(asked, ["true-magnetic", "true-magnetic", "set-dial", "set-dial"]);
    assert_eq!(sentence(&story), "We begin at the beginning, with the dial and the needle.");
    let all = ["set-dial", "true-magnetic", "oriented-bearing", "grid-magnetic"];
    let (story, asked) = placed(&all);
    assert_eq!(asked.len(), 6);
    assert_eq!(sentence(&story), "You know the way as far as grid lines; we go on with what is left.");
    assert_eq!(new(&story), Some("paces"), "what is left of the last step, then what was skipped");
}

#[test]
fn before_it_is_over_nothing_is_told_and_newcomers_are_asked_nothing() {
    let mut story = Story::of(&REGISTRY, Placement::DoneBefore);
    assert_eq!(found(&story.beliefs, &but(&[])), None);
    plays(&mut story, 1, |_| true);
    assert_eq!(found(&story.beliefs, &but(&[])), None);
    assert_eq!(found(&newcomer().right("true-magnetic", 4).beliefs, &but(&[])), None);
}

#[test]
fn it_takes_at_most_eight_problems_whatever_is_answered() {
    let mut longest = 0;
    for answers in 0..256_u32 {
        let mut story = Story::of(&REGISTRY, Placement::DoneBefore);
        let mut asked = 0;
        while next(&story).reason == Reason::Placing {
            plays(&mut story, 1, |_| answers >> asked & 1 == 1);
            asked += 1;
            assert!(asked <= 8, "{answers:b}");
        }
        longest = longest.max(asked);
        assert!(found(&story.beliefs, &but(&[])).is_some());
    }
    assert_eq!(longest, 8);
}

#[test]
fn many_answers_in_drills_leave_the_search_its_problems() {
    let mut story = Story::of(&REGISTRY, Placement::DoneBefore);
    story.right("true-magnetic", 9).right("grid-magnetic", 12);
    let choice = next(&story);
    assert_eq!((choice.skill.id, choice.reason), ("oriented-bearing", Reason::Placing));
    plays(&mut story, 2, |_| true);
    assert_eq!(sentence(&story), "You know the way as far as grid lines; we go on with what is left.");
}
