//! One check is one check: in two windows, and on two laptops.

use super::{Camp, Does, answer, moment, today};
use jiff::ToSpan;
use needlewise::clerk::{self, Now, Opening};
use needlewise::drill::Standard;
use needlewise::session::{Check, Days, Readiness, Record};
use needlewise::skills;
use needlewise::store::Store;
use std::path::Path;

fn standard() -> Standard {
    Standard::find("camp-evening", None).unwrap()
}

#[test]
fn a_problem_that_is_answered_in_two_windows_counts_once() {
    let (camp, standard) = (Camp::new(), standard());
    let (mut one, mut check) = camp.sit(&standard, today()).unwrap();
    let (mut other, mut again) = camp.sit(&standard, today()).unwrap();
    let mut codes = Vec::new();
    for _ in 0..5 {
        let asked = check.next(moment(today())).unwrap().problem.code().to_string();
        assert_eq!(again.next(moment(today())).unwrap().problem.code().to_string(), asked, "the very same check");
        answer(&mut one, &mut check, Does::Right, today());
        assert!(!one.answered_twice(check.sitting().session, &asked).unwrap());
        answer(&mut other, &mut again, Does::Wrong, today());
        assert!(other.answered_twice(again.sitting().session, &asked).unwrap(), "the second window is told");
        codes.push(asked);
    }
    let record = camp.record(&standard);
    let tries = record.checks[0].progress.iter().flat_map(|progress| progress.tries());
    let (asked, right) = tries.fold((0, 0), |sum, one| (sum.0 + one.asked, sum.1 + one.right));
    assert_eq!((asked, right), (5, 5), "the first answer to each");
    // Whoever goes on with it is asked the sixth problem, and none of the five again.
    let (_, mut goes_on) = camp.sit(&standard, today()).unwrap();
    let sixth = goes_on.next(moment(today())).unwrap().problem.code().to_string();
    assert!(!codes.contains(&sixth));
}

/// Begins a check so many minutes later in the evening.
fn sit(store: &mut Store, camp: &Camp, minutes: i64) -> Check {
    let now = Now { days: Days::Given(today()), at: moment(today()) + minutes.minutes() };
    match clerk::open_check(store, camp.learner.id, &standard(), now.clone(), 17).unwrap() {
        (_, Opening::Check(mut check)) => {
            assert!(clerk::begin_check(store, &mut check, now.at).unwrap());
            *check
        }
        (_, Opening::Later(day)) => panic!("not before {day}"),
    }
}

fn play(store: &mut Store, mut check: Check, does: Does) {
    while check.next(moment(today())).is_some() {
        answer(store, &mut check, does, today());
    }
}

fn opened(path: &Path) -> Store {
    Store::open(path, &skills::metas().collect::<Vec<_>>()).unwrap()
}

#[test]
fn of_two_checks_begun_on_two_laptops_the_earlier_decides_and_the_later_is_kept() {
    for earlier_is_right in [true, false] {
        let camp = Camp::new();
        let file = |name: &str| camp.folder.path().join(name);
        camp.store().backup(&file("other"), false).unwrap();
        let (mut here, mut there) = (camp.store(), opened(&file("other")));
        let (first, second) = (sit(&mut here, &camp, 0), sit(&mut there, &camp, 1));
        let does = |right| if right { Does::Right } else { Does::Wrong };
        // The later one is ended first.
        play(&mut there, second, does(!earlier_is_right));
        play(&mut here, first, does(earlier_is_right));
        here.backup(&file("from here"), false).unwrap();
        there.backup(&file("from there"), false).unwrap();
        for (store, from) in [(&mut here, "from there"), (&mut there, "from here")] {
            let incoming = store.incoming(&file(from)).unwrap();
            assert_eq!(store.bring_in(&incoming, &[], moment(today()), true).unwrap().checks, 1);
            let record = Record::of(&store.checks(camp.learner.id).unwrap(), "camp-evening");
            assert_eq!((record.checks.len(), record.begun_beside()), (2, vec![today()]));
            for one in &standard().skills {
                let readiness = record.skill(one.skill.id, one.level, today()).readiness;
                let ready = matches!(readiness, Readiness::Ready { .. });
                assert_eq!(ready, earlier_is_right, "{}: {readiness:?}", one.skill.id);
            }
        }
    }
}

#[test]
fn a_check_in_which_nothing_was_answered_is_not_under_way_beside_one_that_was_begun_on_the_other_laptop() {
    for empty_first in [true, false] {
        for is_ended in [true, false] {
            let camp = Camp::new();
            let file = |name: &str| camp.folder.path().join(name);
            camp.store().backup(&file("other"), false).unwrap();
            let (mut here, mut there) = (camp.store(), opened(&file("other")));
            let (mut check, empty) = if empty_first {
                let empty = sit(&mut there, &camp, 0);
                (sit(&mut here, &camp, 1), empty)
            } else {
                (sit(&mut here, &camp, 0), sit(&mut there, &camp, 1))
            };
            let only = |store: &Store| store.checks(camp.learner.id).unwrap().remove(0).id;
            let id = only(&here);
            if is_ended {
                play(&mut here, check, Does::Right);
            } else {
                for _ in 0..3 {
                    assert!(check.next(moment(today())).is_some());
                    answer(&mut here, &mut check, Does::Right, today());
                }
            }
            drop(empty);
            assert_ne!(only(&there), id);
            there.backup(&file("from there"), false).unwrap();
            let incoming = here.incoming(&file("from there")).unwrap();
            here.bring_in(&incoming, &[], moment(today()), true).unwrap();
            let record = camp.record(&standard());
            assert_eq!(record.checks.len(), 2);
            let under_way = record.under_way().map(|check| check.id);
            assert_eq!(under_way, if is_ended { None } else { Some(id) }, "{empty_first}");
        }
    }
}
