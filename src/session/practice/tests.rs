//! A slip of the keyboard is taken back.

use super::*;
use crate::config::Config;
use crate::problem::{Answer, Problem};
use crate::session::{Days, GroundCard};
use crate::store::{AnswerCount, Help, NewSession, Store};
use jiff::civil::{Date, date};

const DAY: Date = date(2026, 11, 25);

/// A practice on a store of its own.
struct Evening {
    store: Store,
    practice: Practice,
    now: Timestamp,
    _folder: tempfile::TempDir,
}

impl Evening {
    fn of(skills: &[&'static str]) -> Evening {
        let folder = tempfile::tempdir().unwrap();
        let metas: Vec<_> = crate::skills::metas().collect();
        let mut store = Store::open(&folder.path().join("records.sqlite"), &metas).unwrap();
        let now: Timestamp = "2026-11-25T18:00:00Z".parse().unwrap();
        let learner = store.add_learner("Ilva", Placement::Fresh, now).unwrap().id;
        let program = "0".to_owned();
        let session = NewSession { learner, at: now, day: DAY, day_given: false, drill: None, check: None, program };
        let session = store.start_session(&session).unwrap();
        let sitting = Sitting { learner, session, days: Days::Clock(jiff::tz::TimeZone::UTC), began: now, seed: 7 };
        let plan = Plan::free(GroundCard::new(&Config::default(), "", DAY).home).with_skills(skills, Level::new(2));
        let practice = Practice::new(plan, sitting, store.beliefs(learner).unwrap());
        let mut evening = Evening { store, practice, now, _folder: folder };
        evening.practice.next(evening.now).expect("a problem");
        evening
    }

    fn code(&self) -> String {
        self.practice.asked().expect("a problem").problem.code().to_string()
    }

    fn give(&mut self, which: impl Fn(&Problem) -> Answer) {
        let problem = &self.practice.asked().expect("a problem").problem;
        let answer = which(problem);
        let fields = problem.question().fields().iter().zip(answer.values());
        let texts: Vec<String> = fields.map(|(field, value)| field.typed(*value)).collect();
        let texts: Vec<&str> = texts.iter().map(String::as_str).collect();
        self.now += jiff::SignedDuration::from_secs(9);
        let pending = self.practice.answer(&texts, self.now).unwrap().expect("an answer");
        let recorded = self.store.record(&pending.attempt).unwrap();
        self.practice.confirm(pending, Stored { recorded, lately: Vec::new(), twice: false }).expect("a verdict");
    }

    fn wrong(&mut self) {
        self.give(|problem| problem.mixups()[0].answer.clone());
    }

    fn right(&mut self) {
        self.give(|problem| problem.answer().clone());
    }

    fn next(&mut self) -> String {
        self.practice.next(self.now).expect("a problem");
        self.code()
    }

    fn take_back(&mut self) {
        let slip = self.practice.slip().expect("something to take back");
        let beliefs = self.store.take_back(slip.learner, slip.attempt, slip.day, self.now).unwrap();
        self.practice.taken_back(beliefs, self.now).expect("the problem again");
    }
}

#[test]
fn a_slip_counts_for_nothing_and_its_problem_comes_again() {
    let mut evening = Evening::of(&["back-bearing"]);
    let (before, code) = (evening.practice.beliefs().clone(), evening.code());
    evening.wrong();
    assert_ne!(evening.practice.beliefs(), &before);
    evening.take_back();
    assert_eq!(evening.practice.beliefs(), &before);
    assert_eq!((evening.code(), evening.practice.answered(), evening.practice.told()), (code, 0, None));
    let summary = evening.practice.summary();
    assert_eq!((summary.answers, summary.taken_back, summary.skills.len()), (AnswerCount::default(), 1, 0));
    let opening = evening.practice.asked().unwrap().opening.clone().unwrap();
    assert!(opening.starts_with("Taken back: once. You have seen the answer"), "{opening}");
}

#[test]
fn the_answer_after_it_proves_nothing_since_the_right_one_was_told() {
    let mut evening = Evening::of(&["back-bearing"]);
    evening.wrong();
    evening.take_back();
    evening.right();
    let learner = evening.practice.sitting().learner;
    let attempts = evening.store.attempts(learner, "back-bearing", 9).unwrap();
    assert_eq!(attempts.iter().map(|attempt| attempt.what.help).collect::<Vec<_>>(), [Help::Answer]);
    let belief = evening.practice.beliefs().skill("back-bearing").unwrap();
    assert_eq!((belief.count(), belief.right_lately().of), (1, 0));
    let summary = evening.practice.summary();
    let answers = AnswerCount { alone: 0, right: 0, helped: 1, helped_right: 1 };
    assert_eq!((summary.answers, summary.taken_back), (answers, 1));
}

#[test]
fn one_answer_in_each_skill_can_be_taken_back_and_only_a_wrong_one() {
    let mut evening = Evening::of(&["back-bearing", "true-magnetic"]);
    let mut taken_back = Vec::new();
    for _ in 0..12 {
        let skill = evening.practice.asked().unwrap().problem.skill().id;
        evening.wrong();
        assert_eq!(evening.practice.slip().is_some(), !taken_back.contains(&skill), "{skill} {taken_back:?}");
        if evening.practice.slip().is_some() {
            evening.take_back();
            taken_back.push(skill);
            evening.right();
            assert_eq!(evening.practice.slip(), None, "right answers stay");
        }
        evening.next();
    }
    assert_eq!(taken_back.len(), 2);
    assert_eq!(evening.practice.summary().taken_back, 2);
    assert_eq!(evening.store.taken_back(evening.practice.sitting().learner).unwrap(), 2);
}

#[test]
fn a_problem_that_was_shown_since_waits_and_comes_next() {
    let mut evening = Evening::of(&["back-bearing"]);
    let first = evening.code();
    evening.wrong();
    let second = evening.next();
    evening.take_back();
    assert_eq!(evening.code(), first);
    evening.right();
    assert_eq!(evening.next(), second);
    assert_eq!(evening.practice.asked().unwrap().number, 2);
    evening.right();
    assert_ne!(evening.next(), second);
}

#[test]
fn each_answer_of_a_sitting_over_midnight_counts_for_its_own_day() {
    let mut evening = Evening::of(&["back-bearing"]);
    evening.now = "2026-11-25T23:59:45Z".parse().unwrap();
    evening.next();
    for _ in 0..3 {
        evening.right();
        evening.next();
    }
    let learner = evening.practice.sitting().learner;
    let attempts = evening.store.attempts(learner, "back-bearing", 9).unwrap();
    let mut days: Vec<String> = attempts.iter().map(|attempt| attempt.what.day.to_string()).collect();
    days.sort();
    assert_eq!(days, ["2026-11-25", "2026-11-26", "2026-11-26"]);
    let belief = evening.practice.beliefs().skill("back-bearing").unwrap();
    assert_eq!((belief.count_on(DAY), belief.last_day()), (0, DAY.tomorrow().ok()));
}
