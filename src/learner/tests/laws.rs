//! What always holds, whatever is answered.

use super::fakes::{REGISTRY, all, day};
use crate::learner::{Beliefs, Evidence, Outcome, Placement, Recent, SkillBelief, State, choose, gain};
use crate::problem::Level;
use jiff::Timestamp;
use proptest::prelude::*;

/// One answer, with ids that may be unknown, nothing exposed, and days that may go backwards.
#[derive(Clone, Debug)]
struct Told {
    skill: &'static str,
    level: Level,
    day: i64,
    #[expect(clippy::option_option, reason = "right, wrong by no mix-up, wrong by one")]
    outcome: Option<Option<&'static str>>,
    exposed: Vec<&'static str>,
    hinted: bool,
    explained: bool,
}

const IDS: [&str; 8] =
    ["sign-flipped", "forgotten", "twice", "not-wrapped", "wrong-end", "counted-back", "wrong-angle", "unheard-of"];

fn told() -> impl Strategy<Value = Told> {
    let skill = prop::sample::select(vec!["dial", "map-to-compass", "grid-to-compass", "paces", "not-a-skill"]);
    let outcome = prop::option::of(prop::option::of(prop::sample::select(IDS.to_vec())));
    let exposed = prop::sample::subsequence(IDS.to_vec(), 0..=IDS.len());
    let day = prop_oneof![6 => 0_i64..20, 1 => -4_000_000_i64..4_000_000];
    (skill, 1_u8..=4, day, outcome, exposed, prop::bool::weighted(0.2), prop::bool::weighted(0.7)).prop_map(
        |(skill, level, day, outcome, exposed, hinted, explained)| {
            let level = Level::new(level).unwrap();
            Told { skill, level, day, outcome, exposed, hinted, explained }
        },
    )
}

fn stories() -> impl Strategy<Value = Vec<Told>> {
    prop::collection::vec(told(), 0..60)
}

fn tell(beliefs: &mut Beliefs, told: &Told) {
    let evidence = Evidence {
        skill: told.skill,
        level: told.level,
        day: day(told.day),
        outcome: match told.outcome {
            None => Outcome::Right,
            Some(None) => Outcome::Other,
            Some(Some(id)) => Outcome::Mixup(id),
        },
        exposed: &told.exposed,
        hinted: told.hinted,
        explained: told.explained,
        at: Timestamp::UNIX_EPOCH,
    };
    assert_eq!(beliefs.observe(&evidence).is_none(), told.skill == "not-a-skill");
}

fn sum(belief: &SkillBelief) -> f64 {
    let mixups: f64 = IDS.iter().map(|id| belief.mixup(id)).sum();
    belief.known() + belief.rusty() + belief.not_yet() + mixups
}

/// What is shown, worse first.
fn rank(state: State) -> u8 {
    match state {
        State::NotMet => 0,
        State::Learning => 1,
        State::WorthRepeating { .. } => 2,
        State::Sure => 3,
    }
}

proptest! {
    #[test]
    fn right_answers_in_place_of_wrong_ones_never_lower_a_shown_state_nor_bring_its_return_nearer(
        told in stories(), better in prop::collection::vec(any::<bool>(), 60), on in 0_i64..60
    ) {
        let (mut worse, mut more) = (Beliefs::new(&REGISTRY, Placement::Fresh), Beliefs::new(&REGISTRY, Placement::Fresh));
        for (told, better) in told.iter().zip(better) {
            tell(&mut worse, told);
            tell(&mut more, &Told { outcome: told.outcome.filter(|_| !better), ..told.clone() });
            for ((meta, worse), (_, more)) in worse.iter().zip(more.iter()) {
                let (below, above) = (worse.state(day(on)), more.state(day(on)));
                prop_assert!(rank(above) >= rank(below), "{}: {below:?} fell to {above:?}", meta.id);
                prop_assert!(more.due() >= worse.due() && more.steps() >= worse.steps());
            }
        }
    }

    #[test]
    fn a_skill_with_a_weak_spot_in_it_is_never_shown_as_sure_and_each_error_is_told_once(told in stories()) {
        let mut beliefs = Beliefs::new(&REGISTRY, Placement::Fresh);
        for told in &told {
            tell(&mut beliefs, told);
            let spots = beliefs.weak_spots();
            for place in spots.iter().flat_map(|spot| &spot.places) {
                let belief = beliefs.skill(place.skill.id).unwrap();
                prop_assert_eq!(belief.state(belief.last_day().unwrap()), State::Learning);
            }
            for (at, spot) in spots.iter().enumerate() {
                prop_assert!(!spot.places.is_empty());
                let common = spot.common();
                prop_assert!(common.is_none() || spots[..at].iter().all(|before| before.common() != common));
            }
        }
    }

    #[test]
    fn the_probabilities_stay_a_distribution(told in stories()) {
        let mut beliefs = Beliefs::new(&REGISTRY, Placement::Fresh);
        for told in &told {
            tell(&mut beliefs, told);
            for (meta, belief) in beliefs.iter() {
                prop_assert!((sum(belief) - 1.0).abs() < 1e-9, "{}: {}", meta.id, sum(belief));
                let each = [belief.known(), belief.rusty(), belief.not_yet()];
                prop_assert!(each.into_iter().chain(IDS.map(|id| belief.mixup(id))).all(|p| (0.0..=1.0).contains(&p)));
                prop_assert!((3.0..=120.0).contains(&belief.half_life_days()));
            }
            prop_assert!(beliefs.weak_spots().len() <= REGISTRY.len());
        }
    }

    #[test]
    fn the_same_answers_in_the_same_order_give_the_same_bits_also_when_written_down_in_between(
        told in stories(), cut in 0_usize..60
    ) {
        let mut straight = Beliefs::new(&REGISTRY, Placement::DoneBefore);
        let mut broken = Beliefs::new(&REGISTRY, Placement::DoneBefore);
        for (at, told) in told.iter().enumerate() {
            if at == cut {
                let written: Vec<String> =
                    broken.iter().map(|(_, belief)| serde_json::to_string(belief).unwrap()).collect();
                broken = Beliefs::new(&REGISTRY, Placement::DoneBefore);
                // Only what was met is in the store, and in any order.
                for json in written.iter().rev() {
                    let belief: SkillBelief = serde_json::from_str(json).unwrap();
                    if belief.count() > 0 {
                        broken.restore(belief);
                    }
                }
            }
            tell(&mut straight, told);
            tell(&mut broken, told);
        }
        prop_assert_eq!(straight, broken);
    }

    #[test]
    fn there_is_always_a_next_problem_and_its_gain_is_a_number(told in stories(), on in -4_000_000_i64..4_000_000) {
        let mut beliefs = Beliefs::new(&REGISTRY, Placement::Fresh);
        let mut recent = Recent::default();
        for told in &told {
            tell(&mut beliefs, told);
            recent.answered(told.skill, told.level, told.outcome.is_none());
            for on in [day(told.day), day(on)] {
                for meta in REGISTRY {
                    let gain = gain(&beliefs, meta.id, on, &recent).unwrap();
                    prop_assert!(gain.total().is_finite() && gain.total() >= 0.0, "{gain:?}");
                }
                let choice = choose(&beliefs, &all(), on, &recent);
                prop_assert!(choice.is_some());
                prop_assert!(!choice.unwrap().reason.words().is_empty());
                for (_, belief) in beliefs.iter() {
                    let _: (_, _, _) = (belief.state(on), belief.due(), belief.fading());
                }
            }
        }
    }

    #[test]
    fn answers_about_skills_already_met_can_be_folded_in_either_order(
        a in prop::collection::vec(told(), 1..10), b in prop::collection::vec(told(), 1..10)
    ) {
        let mut start = Beliefs::new(&REGISTRY, Placement::Fresh);
        let about = |told: &[Told], skill| told.iter().map(|told| Told { skill, ..told.clone() }).collect::<Vec<_>>();
        let (a, b) = (about(&a, "dial"), about(&b, "map-to-compass"));
        tell(&mut start, &a[0]);
        tell(&mut start, &b[0]);
        let (mut ab, mut ba) = (start.clone(), start);
        a.iter().chain(&b).for_each(|told| tell(&mut ab, told));
        b.iter().chain(&a).for_each(|told| tell(&mut ba, told));
        prop_assert_eq!(ab, ba);
    }
}
