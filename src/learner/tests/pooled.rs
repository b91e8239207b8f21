//! One error in several skills is one weak spot.

use super::fakes::Story;
use crate::learner::{CommonError, Outcome, Reason, Standing, WeakSpot, choose};

const SIGN: Outcome = Outcome::Mixup("sign-flipped");

fn skills(spot: &WeakSpot) -> Vec<&'static str> {
    spot.places.iter().map(|place| place.skill.id).collect()
}

/// One error in both skills, three times in all: too seldom in either to be named there.
fn in_two_skills() -> Story {
    let mut story = Story::new();
    story.tell("map-to-compass", SIGN);
    story.tell("map-to-compass", Outcome::Right);
    story.tell("grid-to-compass", SIGN);
    story.tell("map-to-compass", SIGN);
    story
}

#[test]
fn an_error_that_no_skill_names_by_itself_is_named_once_over_both() {
    let story = in_two_skills();
    let spots = story.beliefs.weak_spots();
    assert_eq!(spots.len(), 1, "{spots:?}");
    assert_eq!(spots[0].common(), Some(CommonError::WrongWay));
    assert_eq!(skills(&spots[0]), ["map-to-compass", "grid-to-compass"]);
    assert_eq!((spots[0].standing, spots[0].evidence().to_string().as_str()), (Standing::Suspected, "3 of the last 4"));
    let mut story = story;
    story.tell("grid-to-compass", SIGN);
    let spots = story.beliefs.weak_spots();
    assert_eq!((spots.len(), spots[0].standing), (1, Standing::Named));
}

#[test]
fn the_next_day_opens_with_one_of_the_skills_of_a_common_error() {
    let mut story = in_two_skills();
    story.tell("grid-to-compass", SIGN);
    story.later(1);
    let choice = choose(&story.beliefs, &super::fakes::all(), story.day, &story.recent).unwrap();
    let Reason::WeakSpot { mixup, standing: Standing::Named } = choice.reason else { panic!("{:?}", choice.reason) };
    assert_eq!(mixup.id.0, "sign-flipped");
    assert!(["map-to-compass", "grid-to-compass"].contains(&choice.skill.id));
    assert_eq!(choice.expose.map(|mixup| mixup.id.0), Some("sign-flipped"));
}

#[test]
fn who_errs_in_all_sorts_of_ways_has_no_common_error() {
    let mut story = Story::new();
    for (skill, outcome) in [
        ("map-to-compass", SIGN),
        ("grid-to-compass", Outcome::Mixup("wrong-angle")),
        ("map-to-compass", Outcome::Other),
        ("grid-to-compass", SIGN),
        ("map-to-compass", Outcome::Mixup("twice")),
        ("grid-to-compass", Outcome::Other),
        ("map-to-compass", Outcome::Mixup("forgotten")),
    ] {
        story.tell(skill, outcome);
    }
    assert!(story.beliefs.weak_spots().iter().all(|spot| spot.places.len() == 1), "{:?}", story.beliefs.weak_spots());
}

#[test]
fn right_answers_in_its_skills_end_a_common_error() {
    let mut story = in_two_skills();
    story.right("map-to-compass", 2).right("grid-to-compass", 2);
    assert_eq!(story.beliefs.weak_spots(), []);
}

#[test]
fn a_wrong_end_is_one_error_whatever_end_it_is_and_not_the_wrong_way() {
    let mut story = Story::new();
    story.mixed_up("dial", "wrong-end", 3).mixed_up("grid-to-compass", "wrong-end", 3);
    story.mixed_up("map-to-compass", "sign-flipped", 3);
    let spots = story.beliefs.weak_spots();
    let mut found: Vec<_> = spots.iter().map(|spot| (spot.common(), skills(spot))).collect();
    found.sort();
    assert_eq!(
        found,
        [
            (Some(CommonError::WrongWay), vec!["map-to-compass"]),
            (Some(CommonError::WrongEnd), vec!["dial", "grid-to-compass"])
        ]
    );
}

#[test]
fn four_wrong_answers_that_nothing_explains_are_told_as_such_until_one_is_right() {
    let mut story = Story::new();
    for answers in 1..=4 {
        story.tell("map-to-compass", if answers == 2 { SIGN } else { Outcome::Other });
        let told: Vec<_> = story.beliefs.without_pattern().iter().map(|lost| (lost.skill.id, lost.wrong)).collect();
        assert_eq!(told, if answers < 4 { vec![] } else { vec![("map-to-compass", 4)] });
    }
    story.right("map-to-compass", 1);
    assert_eq!(story.beliefs.without_pattern(), []);
    let mut explained = Story::new();
    explained.mixed_up("map-to-compass", "twice", 5);
    assert_eq!(explained.beliefs.without_pattern(), [], "a weak spot says why");
}
