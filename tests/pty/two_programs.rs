//! Two programs on one store at the same time.

use super::answers::{asked, mixed_up, practice, right, told};
use super::camp::Camp;
use super::records::{Given, hold_against, opened_whole, recorded};
use super::term::Term;

const SKILL: &str = "true-magnetic";

/// Answers one problem, right or with the sign flipped, and goes on to the next.
fn answer(term: &mut Term, rightly: bool) -> Given {
    let problem = asked(term);
    let flipped = mixed_up(&problem, "sign-flipped").filter(|_| !rightly);
    let keys = flipped.unwrap_or_else(|| right(&problem));
    let typed = keys.strip_suffix("<enter>").expect("one field").to_owned();
    term.type_keys(&keys);
    assert!(told(term).is_some(), "{}", term.screen_text());
    term.type_keys("<enter>");
    Given { code: problem.code().to_string(), typed }
}

#[test]
fn two_programs_of_one_learner_lose_nothing_and_agree_with_the_records() {
    let camp = Camp::new();
    let mut one = Term::start(&camp, &practice("Kim", SKILL));
    one.wait_for_first_frame();
    let mut other = Term::start(&camp, &practice("Kim", SKILL));
    other.wait_for_first_frame();
    let mut given = Vec::new();
    for turn in 0..5 {
        given.push(answer(&mut one, turn % 2 == 0));
        given.push(answer(&mut other, turn % 3 == 0));
        given.push(answer(&mut other, true));
    }
    let store = opened_whole(&camp.store_path()).unwrap();
    let found = recorded(&store, "Kim", SKILL);
    assert_eq!(found.len(), 15);
    assert_eq!(found, given, "in the order in which they were given");
    assert_eq!(store.learners().unwrap().len(), 1);
}

#[test]
fn two_programs_of_two_learners_keep_their_answers_apart() {
    let camp = Camp::new();
    // Both at once on a bare machine: one of them makes the store.
    let learners = ["Kim", "Robin"];
    let mut terms = learners.map(|learner| Term::start(&camp, &practice(learner, SKILL)));
    terms.iter().for_each(Term::wait_for_first_frame);
    let mut given = [Vec::new(), Vec::new()];
    for turn in 0..6 {
        for (term, given) in terms.iter_mut().zip(&mut given) {
            given.push(answer(term, turn % 2 == 0));
        }
    }
    let mut store = opened_whole(&camp.store_path()).unwrap();
    for (learner, given) in learners.iter().zip(&given) {
        assert_eq!(hold_against(&recorded(&store, learner, SKILL), given, given), Ok(()));
    }
    let verified = store.verify().unwrap();
    assert_eq!((verified.learners, verified.attempts), (2, 12));
}

#[test]
fn two_programs_answer_at_the_same_moment() {
    let camp = Camp::new();
    let mut terms = [0, 1].map(|_| {
        let term = Term::start(&camp, &practice("Kim", SKILL));
        term.wait_for_first_frame();
        term
    });
    let mut given = Vec::new();
    for _ in 0..5 {
        let problems = terms.each_mut().map(asked);
        let frames = terms.each_ref().map(|term| term.look(|output| output.frames.len()));
        for (term, problem) in terms.iter_mut().zip(&problems) {
            let keys = right(problem);
            let typed = keys.strip_suffix("<enter>").expect("one field");
            term.send(format!("{typed}\r").as_bytes());
            given.push((Given { code: problem.code().to_string(), typed: typed.to_owned() }, typed.len() + 1));
        }
        for (at, term) in terms.iter_mut().enumerate() {
            let keys = given[given.len() - 2 + at].1;
            term.wait_for("a verdict", |output| output.frames.len() >= frames[at] + keys);
            assert_eq!(told(term), Some(true), "{}", term.screen_text());
            term.type_keys("<enter>");
        }
    }
    let given: Vec<Given> = given.into_iter().map(|(given, _)| given).collect();
    let store = opened_whole(&camp.store_path()).unwrap();
    assert_eq!(hold_against(&recorded(&store, "Kim", SKILL), &given, &given), Ok(()));
}
