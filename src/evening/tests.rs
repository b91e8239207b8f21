//! What must hold for every evening.

use super::*;
use crate::skills;
use proptest::prelude::*;

fn skill(id: &str) -> &'static SkillMeta {
    skills::find(id).unwrap().meta()
}

fn guest(number: u64, check: Option<DueCheck>, met: bool) -> Guest {
    let not_met = (!met).then(|| skill("true-magnetic"));
    let learner = LearnerId::of_number(number);
    Guest {
        learner,
        name: format!("Guest {number}"),
        check: check.filter(|_| met),
        not_met,
        has_weak_spots: number.is_multiple_of(2),
    }
}

fn due(minutes: u32, begun: bool) -> Option<DueCheck> {
    Some(DueCheck { minutes, begun })
}

/// Everybody has one job at every minute, at most one is at the laptop, a pair is two, and nobody is checked who is not due.
fn holds(evening: &Evening, minutes: u32) {
    let mut from = 0;
    for slot in &evening.slots {
        assert_eq!((slot.from, slot.jobs.len()), (from, evening.guests.len()));
        assert!(slot.minutes > 0);
        from += slot.minutes;
        assert!(slot.jobs.iter().filter(|job| job.at_laptop()).count() <= 1, "{:?}", slot.jobs);
        let together = slot.jobs.iter().filter(|job| job.for_all()).count();
        assert!(together == 0 || together == slot.jobs.len(), "{:?}", slot.jobs);
        for (at, job) in slot.jobs.iter().enumerate() {
            match job {
                Job::Check => assert!(evening.guests[at].check.is_some(), "{at} is not due"),
                Job::Pair(pair) => {
                    assert!(pair.shows != pair.whom && (at == pair.shows || at == pair.whom));
                    assert_eq!(slot.jobs[pair.shows], slot.jobs[pair.whom]);
                }
                _ => {}
            }
        }
    }
    assert_eq!(from, minutes);
}

#[test]
fn whoever_has_a_weak_spot_is_shown_it_before_the_check() {
    let pair = Pair { shows: 1, whom: 0, skill: skill("back-bearing") };
    let first = |evening: &Evening, who: usize, wanted: Job| {
        evening.slots.iter().position(|slot| slot.jobs[who] == wanted).expect("in the plan")
    };
    // Of two checks that of the strong one comes first; alone, somebody practises while the pair sits together.
    for checked in [2, 1] {
        let guests: Vec<Guest> =
            [0, 1, 3].map(|number| guest(number, due(20, false).filter(|_| number == 0 || checked == 2), true)).into();
        assert!(guests[0].has_weak_spots && !guests[1].has_weak_spots);
        let evening = Evening::of(guests, &[pair], None, 90, 0).unwrap();
        holds(&evening, 90);
        assert!(first(&evening, 0, Job::Pair(pair)) < first(&evening, 0, Job::Check), "{evening:?}");
    }
    // A check that was begun goes on first: its rules decide, and not the plan.
    let guests: Vec<Guest> = [0, 1, 3].map(|number| guest(number, due(20, number == 0), true)).into();
    let evening = Evening::of(guests, &[pair], None, 90, 0).unwrap();
    assert_eq!(first(&evening, 0, Job::Check), 1, "after the round: {evening:?}");
}

#[test]
fn eight_members_ninety_minutes_and_two_open_checks_of_25() {
    let guests: Vec<Guest> =
        (0..8).map(|number| guest(number, if number < 2 { due(25, true) } else { None }, number < 6)).collect();
    let pair = |shows, whom| Pair { shows, whom, skill: skill("back-bearing") };
    let topic = Topic { skill: skill("true-magnetic"), members: 3 };
    let evening = Evening::of(guests, &[pair(5, 2), pair(5, 3), pair(4, 0)], Some(topic), 90, 0).unwrap();
    holds(&evening, 90);
    let checked = |who: usize| -> u32 {
        evening.slots.iter().filter(|slot| slot.jobs[who] == Job::Check).map(|slot| slot.minutes).sum()
    };
    assert_eq!((checked(0), checked(1)), (25, 25));
    assert!((2..8).all(|who| checked(who) == 0), "nobody else is due");
    // Those who have not met the skills have the laptop's other minutes.
    let practise = |who: usize| evening.slots.iter().any(|slot| slot.jobs[who] == Job::Practice);
    assert!(practise(6) && practise(7) && !practise(0));
    let shown = evening.slots.iter().flat_map(|slot| &slot.jobs).filter(|job| matches!(job, Job::Pair(_))).count();
    assert_eq!(shown, 6, "three pairs, each once");
    assert!(matches!(evening.slots[0].jobs[0], Job::Round(Some(_))));
    assert!(matches!(evening.slots.last().unwrap().jobs[0], Job::Game(_)));
    assert_eq!(evening.unchecked().count(), 0);
    // Of its seventy minutes two checks take fifty; twenty are two turns of practice.
    assert_eq!(evening.without_laptop().collect::<Vec<_>>(), [2, 3, 4, 5]);
}

#[test]
fn a_check_that_does_not_fit_is_said_and_not_begun() {
    let guests = vec![guest(0, due(25, false), true), guest(1, due(40, true), true), guest(2, None, true)];
    let evening = Evening::of(guests, &[], None, 60, 0).unwrap();
    holds(&evening, 60);
    assert_eq!(evening.unchecked().collect::<Vec<_>>(), [0], "the one that was begun goes first");
    assert!(
        evening_needs(&evening, &|name| name.to_owned())
            .iter()
            .any(|need| need.contains("No time is left to check Guest 0"))
    );
}

#[test]
fn alone_there_is_the_laptop_and_nothing_else() {
    let evening = Evening::of(vec![guest(0, None, false)], &[], None, 30, 0).unwrap();
    holds(&evening, 30);
    assert!(evening.slots.iter().all(|slot| slot.jobs == [Job::Practice]));
    assert_eq!(Evening::of(Vec::new(), &[], None, 30, 0), None);
}

fn guests() -> impl Strategy<Value = Vec<Guest>> {
    let one = (any::<bool>(), proptest::option::of((1_u32..80, any::<bool>())));
    proptest::collection::vec(one, 1..14).prop_map(|all| {
        (0..)
            .zip(all)
            .map(|(number, (met, check))| guest(number, check.map(|(minutes, begun)| DueCheck { minutes, begun }), met))
            .collect()
    })
}

proptest! {
    #[test]
    fn everybody_has_something_at_every_minute(
        guests in guests(), pairs in proptest::collection::vec((0_usize..14, 0_usize..14), 0..9), minutes in 15_u32..=240, first in 0_usize..400,
    ) {
        let here = guests.len();
        let pairs: Vec<Pair> = pairs.into_iter().map(|(shows, whom)| Pair { shows: shows % here, whom: whom % here, skill: skill("back-bearing") }).collect();
        let evening = Evening::of(guests, &pairs, None, minutes, first).unwrap();
        holds(&evening, minutes);
        let longest = evening.slots.iter().filter(|slot| slot.jobs.contains(&Job::Sheet)).map(|slot| slot.minutes).max();
        prop_assert!(longest.is_none_or(|longest| longest <= 20), "{longest:?}");
    }

    #[test]
    fn changed_by_hand_it_still_holds(
        guests in guests(), changes in proptest::collection::vec((0_usize..12, 0_usize..14), 0..40),
    ) {
        let here = guests.len();
        let pairs = [Pair { shows: 0, whom: here - 1, skill: skill("back-bearing") }];
        let mut evening = Evening::of(guests, &pairs, None, 90, 0).unwrap();
        let mut minutes = 90;
        for (slot, who) in changes {
            evening.change(slot, who % here);
            if who == 0 && slot < evening.slots.len() {
                evening.stretch(slot, 5);
                minutes += 5;
            }
        }
        holds(&evening, minutes);
    }
}

#[test]
fn changing_goes_round_and_nobody_is_checked_before_the_time() {
    let guests = vec![guest(0, None, false), guest(1, due(20, false), true)];
    let mut evening = Evening::of(guests, &[], None, 30, 0).unwrap();
    let slot = evening.slots.iter().position(|slot| slot.jobs[1] == Job::Check).unwrap();
    let mut seen = Vec::new();
    for _ in 0..4 {
        seen.push(evening.slots[slot].jobs[0]);
        evening.change(slot, 0);
    }
    assert!(!seen.contains(&Job::Check) && seen.contains(&Job::Practice) && seen.contains(&Job::Map), "{seen:?}");
    assert_eq!(evening.slots[slot].jobs[1], Job::Sheet, "who had the laptop gave it away");
}
