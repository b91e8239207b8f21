//! Writing a belief down and putting it back.

use super::fakes::{FOUR, MAP, REGISTRY, Story};
use crate::learner::{Beliefs, Outcome, Placement, SkillBelief, Standing};
use crate::problem::SkillMeta;

const SKILL: &str = "map-to-compass";

fn confused() -> Story {
    let mut story = Story::new();
    story.right(SKILL, 1).mixed_up(SKILL, "twice", 3).later(2).mixed_up(SKILL, "twice", 1);
    story.tell_exposing(SKILL, Outcome::Other, &[]);
    story
}

fn written(story: &Story) -> String {
    serde_json::to_string(story.beliefs.skill(SKILL).unwrap()).unwrap()
}

/// A registry in which the skill has other mix-ups than when the belief was written.
fn registry_with(mixups: &'static [crate::problem::MixupMeta]) -> [&'static SkillMeta; 1] {
    let meta = SkillMeta {
        id: MAP.id,
        mark: MAP.mark,
        family: MAP.family,
        title: MAP.title,
        can: MAP.can,
        levels: MAP.levels,
        prerequisites: MAP.prerequisites,
        mixups,
        lines: MAP.lines,
        on_home: MAP.on_home,
        generation: MAP.generation,
    };
    [Box::leak(Box::new(meta))]
}

fn restored(registry: &[&'static SkillMeta], json: &str) -> Beliefs {
    let mut beliefs = Beliefs::new(registry, Placement::Fresh);
    beliefs.restore(serde_json::from_str(json).unwrap());
    beliefs
}

fn total(belief: &SkillBelief, ids: &[&str]) -> f64 {
    belief.known() + belief.rusty() + belief.not_yet() + ids.iter().map(|id| belief.mixup(id)).sum::<f64>()
}

#[test]
fn a_belief_written_down_comes_back_the_same() {
    let story = confused();
    let beliefs = restored(&REGISTRY, &written(&story));
    assert_eq!(beliefs.skill(SKILL), story.beliefs.skill(SKILL));
    assert_eq!(beliefs, story.beliefs, "and so do the priors of the skills not met, by what is carried over");
}

#[test]
fn a_belief_survives_mixups_in_another_order() {
    let story = confused();
    let mut turned = MAP.mixups.to_vec();
    turned.reverse();
    let beliefs = restored(&registry_with(turned.leak()), &written(&story));
    let (old, new) = (story.beliefs.skill(SKILL).unwrap(), beliefs.skill(SKILL).unwrap());
    for id in FOUR {
        assert!((old.mixup(id) - new.mixup(id)).abs() < 1e-12, "{id}");
        assert_eq!((old.reading(id), old.peak(id)), (new.reading(id), new.peak(id)), "{id}");
        assert_eq!(old.mixup_lately(id), new.mixup_lately(id), "{id}");
    }
    let spot = &beliefs.weak_spots()[0];
    assert_eq!((spot.places[0].mixup.id.0, spot.standing), ("twice", Standing::Named));
}

#[test]
fn a_new_mixup_starts_small_and_a_dropped_one_goes_to_not_yet() {
    let story = confused();
    let mut more = MAP.mixups.to_vec();
    more.insert(0, crate::problem::WRONG_NORTH);
    let ids = ["wrong-north", "sign-flipped", "forgotten", "twice", "not-wrapped"];
    let beliefs = restored(&registry_with(more.leak()), &written(&story));
    let belief = beliefs.skill(SKILL).unwrap();
    assert!((total(belief, &ids) - 1.0).abs() < 1e-12);
    assert!(belief.mixup("wrong-north") > 0.0 && belief.mixup("wrong-north") < 0.01);
    assert_eq!(belief.mixup_lately("twice").to_string(), "4 of the last 5");

    let fewer: Vec<_> = MAP.mixups.iter().copied().filter(|mixup| mixup.id.0 != "twice").collect();
    let beliefs = restored(&registry_with(fewer.leak()), &written(&story));
    let (old, new) = (story.beliefs.skill(SKILL).unwrap(), beliefs.skill(SKILL).unwrap());
    assert!((new.not_yet() - old.not_yet() - old.mixup("twice")).abs() < 1e-12);
    assert_eq!(new.mixup("twice"), 0.0);
    assert_eq!(beliefs.weak_spots(), []);
    assert_eq!(new.right_lately(), old.right_lately());
}

#[test]
fn a_belief_about_a_skill_no_longer_there_is_passed_over() {
    let json = written(&confused());
    let beliefs = restored(&[REGISTRY[0]], &json);
    assert_eq!(beliefs, Beliefs::new(&[REGISTRY[0]], Placement::Fresh));
}

#[test]
fn a_damaged_belief_is_refused_with_what_is_wrong() {
    let good: serde_json::Value = serde_json::from_str(&written(&confused())).unwrap();
    let damaged = |path: &str, value: serde_json::Value| {
        let mut json = good.clone();
        *json.pointer_mut(path).unwrap() = value;
        serde_json::from_value::<SkillBelief>(json).unwrap_err().to_string()
    };
    assert_eq!(damaged("/states/0", "0.99".into()), "the probabilities do not sum to 1");
    assert_eq!(damaged("/states/0", "NaN".into()), "the probabilities do not sum to 1");
    assert_eq!(damaged("/states/0", "-0.1".into()), "the probabilities do not sum to 1");
    assert_eq!(damaged("/mixups/1/2", "inf".into()), "a mix-up's reading is not between 0 and 1");
    assert_eq!(damaged("/mixups/1/0", "sign-flipped".into()), "the mix-ups are not a list of different ids");
    assert_eq!(damaged("/half_life", "0".into()), "the half-life is not between 3 and 120 days");
    assert_eq!(damaged("/level", 5.into()), "the level is not 1 to 4");
    assert_eq!(damaged("/log/1/1", 4.into()), "the last answers do not fit the mix-ups");
    assert_eq!(damaged("/count", 0.into()), "the days do not fit the count of answers");
    assert!(damaged("/last_day", "yesterday".into()).contains("yesterday"));
    assert!(damaged("/half_life", 6.into()).contains("as text"));
}
