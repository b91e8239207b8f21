//! Checks, patrols, and what was seen on the ground.

use crate::learner::Placement;
use crate::store::testing::{Answer, Camp, date_of, noon, session_of};
use crate::store::{
    AttemptKind, CheckId, LearnerId, NewAttempt, NewCheck, NewSession, RecordedVerdict, Seen, SeenOutcome, Store,
    StoreError,
};

fn check_of(learner: LearnerId, day: i64) -> NewCheck {
    let rules = r#"{"tries":2}"#.to_owned();
    NewCheck { learner, at: noon(day), day: date_of(day), standard: "day-outing".to_owned(), rules }
}

fn begin(store: &mut Store, learner: LearnerId, day: i64) -> CheckId {
    let before = store.checks(learner).unwrap().len();
    store.start_check(&check_of(learner, day), before).unwrap().expect("nobody else begins one")
}

fn answer(store: &mut Store, learner: LearnerId, check: CheckId, day: i64, skill: usize, outcome: usize) -> NewAttempt {
    let session =
        store.start_session(&NewSession { check: Some(check), at: noon(day), ..session_of(learner) }).unwrap();
    let answer = Answer { day, outcome, ..Answer::right(skill) };
    let attempt = NewAttempt { kind: AttemptKind::Check, ..answer.attempt(learner, session) };
    store.record(&attempt).unwrap();
    attempt
}

#[test]
fn a_check_keeps_its_rules_and_its_answers_in_order_over_several_sittings() {
    let camp = Camp::new();
    let mut store = camp.open();
    let learner = store.add_learner("Ida", Placement::Fresh, noon(0)).unwrap().id;
    let first = begin(&mut store, learner, 0);
    let second = begin(&mut store, learner, 5);
    let mut written = vec![answer(&mut store, learner, first, 0, 0, 0), answer(&mut store, learner, first, 1, 1, 2)];
    answer(&mut store, learner, second, 6, 0, 1);
    written.push(answer(&mut store, learner, first, 7, 0, 1));
    drop(store);
    let store = camp.open();
    let checks = store.checks(learner).unwrap();
    assert_eq!(checks.len(), 2);
    assert_eq!((checks[0].id, &checks[0].what), (first, &check_of(learner, 0)));
    let told: Vec<(&str, &RecordedVerdict)> =
        checks[0].answers.iter().map(|answer| (answer.skill.as_str(), &answer.verdict)).collect();
    assert_eq!(
        told,
        [
            ("turn-back", &RecordedVerdict::Right),
            ("true-north", &RecordedVerdict::Mixup("sign-flipped".to_owned())),
            ("turn-back", &RecordedVerdict::Unrecognised)
        ]
    );
    assert_eq!(checks[0].answers[2].day, date_of(7));
    let sat: Vec<_> = checks[0].sittings.iter().map(|sitting| sitting.session).collect();
    let answered: Vec<_> = checks[0].answers.iter().map(|answer| answer.session).collect();
    assert!(sat.len() == 3 && sat == answered, "each answer belongs to its sitting: {sat:?}");
    assert_eq!(checks[1].answers.len(), 1);
    let full: Vec<NewAttempt> =
        store.attempts_of_check(first).unwrap().into_iter().map(|attempt| attempt.what).collect();
    assert_eq!(full, written);
    assert_eq!(store.all_checks().unwrap(), checks);
}

#[test]
fn of_two_programs_that_begin_a_check_at_once_one_does() {
    let camp = Camp::new();
    let mut one = camp.open();
    let mut other = camp.open();
    let learner = one.add_learner("Ida", Placement::Fresh, noon(0)).unwrap().id;
    // Both have looked, and neither saw a check.
    assert!(one.start_check(&check_of(learner, 0), 0).unwrap().is_some());
    assert!(other.start_check(&check_of(learner, 0), 0).unwrap().is_none());
    assert_eq!(other.checks(learner).unwrap().len(), 1);
    let another = NewCheck { standard: "whole-core".to_owned(), ..check_of(learner, 0) };
    assert!(other.start_check(&another, 0).unwrap().is_some(), "by another standard it is another check");
}

#[test]
fn practice_is_no_part_of_a_check() {
    let camp = Camp::new();
    let mut store = camp.open();
    let learner = store.add_learner("Ida", Placement::Fresh, noon(0)).unwrap().id;
    begin(&mut store, learner, 0);
    let session = store.start_session(&session_of(learner)).unwrap();
    let attempt = Answer::right(0).attempt(learner, session);
    store.record(&attempt).unwrap();
    assert!(store.checks(learner).unwrap()[0].answers.is_empty());
}

#[test]
fn a_patrol_has_the_members_that_joined_it() {
    let mut store = Camp::new().open();
    let kestrels = store.patrol_named("Kestrels", noon(0)).unwrap();
    assert_eq!(store.patrol_named(" KESTRELS ", noon(1)).unwrap(), kestrels, "the name is known");
    let otters = store.patrol_named("Otters", noon(1)).unwrap();
    let ids: Vec<LearnerId> =
        ["Ida", "Bo", "Mia"].map(|name| store.add_learner(name, Placement::Fresh, noon(0)).unwrap().id).to_vec();
    store.join_patrol(ids[0], Some(kestrels), noon(2)).unwrap();
    store.join_patrol(ids[1], Some(kestrels), noon(2)).unwrap();
    store.join_patrol(ids[2], Some(kestrels), noon(2)).unwrap();
    store.join_patrol(ids[2], Some(otters), noon(3)).unwrap();
    let members = |store: &Store| -> Vec<(String, Vec<LearnerId>)> {
        store.patrols().unwrap().into_iter().map(|patrol| (patrol.name, patrol.members)).collect()
    };
    assert_eq!(members(&store), [("Kestrels".to_owned(), vec![ids[1], ids[0]]), ("Otters".to_owned(), vec![ids[2]])]);
    store.join_patrol(ids[0], None, noon(4)).unwrap();
    store.archive_learner(ids[1], true, noon(4)).unwrap();
    assert_eq!(members(&store)[0].1, []);
}

#[test]
fn what_was_seen_on_the_ground_is_kept() {
    let mut store = Camp::new().open();
    let learner = store.add_learner("Ida", Placement::Fresh, noon(0)).unwrap().id;
    let seen = |day: i64, what: &str, outcome: SeenOutcome| Seen {
        learner,
        skill: "turn-back".to_owned(),
        what: what.to_owned(),
        day: date_of(day),
        by: "Alma".to_owned(),
        outcome,
    };
    let over_the_moor = seen(3, "came back over the moor", SeenOutcome::Yes);
    store.add_seen(std::slice::from_ref(&over_the_moor), noon(4)).unwrap();
    store.add_seen(&[seen(1, "", SeenOutcome::No)], noon(5)).unwrap();
    store.add_seen(&[seen(2, "", SeenOutcome::NotSaid)], noon(6)).unwrap();
    let kept = [seen(1, "", SeenOutcome::No), seen(2, "", SeenOutcome::NotSaid), over_the_moor];
    assert_eq!(store.seen().unwrap(), kept);
}

#[test]
fn erasing_leaves_no_byte_of_a_learner_in_the_file() {
    let camp = Camp::new();
    let mut store = camp.open();
    let learner = store.add_learner("Zwentibold", Placement::Fresh, noon(0)).unwrap().id;
    let check = begin(&mut store, learner, 0);
    answer(&mut store, learner, check, 0, 0, 0);
    let what = "Waldmeisterbowle".to_owned();
    let (skill, by, outcome) = ("turn-back".to_owned(), "Alma".to_owned(), SeenOutcome::Yes);
    let seen = Seen { learner, skill, what, day: date_of(1), by, outcome };
    store.add_seen(&[seen], noon(1)).unwrap();
    let holds = |word: &str| {
        std::fs::read_dir(camp.path().parent().unwrap()).unwrap().any(|entry| {
            let bytes = std::fs::read(entry.unwrap().path()).unwrap();
            bytes.windows(word.len()).any(|part| part == word.as_bytes())
        })
    };
    assert!(holds("Zwentibold") && holds("Waldmeisterbowle"), "the test looks in the right place");
    let erased = store.erase_learner(learner, noon(2)).unwrap();
    assert_eq!((erased.attempts, erased.wiped), (1, true));
    assert!(!holds("Zwentibold") && !holds("Waldmeisterbowle"));
    assert_eq!((store.all_checks().unwrap().len(), store.seen().unwrap().len()), (0, 0));
    assert!(matches!(store.start_check(&check_of(learner, 3), 0), Err(StoreError::NoSuchLearner(_))));
}
