//! A check with the real program: killed again and again, it goes on with the very problem that was on the screen.

use super::answers::{is_asking, problem_on, right};
use super::camp::Camp;
use super::records::opened_whole;
use super::term::Term;
use needlewise::problem::Problem;
use needlewise::session::{Check, Days, Sitting, Sittings, Terms};
use needlewise::skills;
use needlewise::store::{AttemptKind, Store};
use std::process::Command;

const STANDARD: &str = "camp-evening";

fn begin(camp: &Camp) -> Term {
    let mut term = Term::start(camp, &["check", "--learner", "Ida", "--standard", STANDARD]);
    term.wait_for_text("Ida, it is your turn.");
    term.type_keys("<enter>");
    term.wait_for("a question", is_asking);
    past_trial(&mut term);
    term
}

/// Leaves the trial that comes before the first problem at the map table.
fn past_trial(term: &mut Term) {
    if term.screen_text().contains("it does not count") {
        term.type_keys("<esc>");
        term.wait_for_text("Enter leaves the trial");
        term.type_keys("<enter>");
        term.wait_for_text("From here on it counts.");
    }
}

/// The problem that a check asks now. It stands on no screen by its code; it follows from the check's seed and its answers,
/// read from the store without writing to it.
fn asked_now(camp: &Camp) -> Option<Problem> {
    let store = Store::open_to_read(&camp.store_path(), &skills::metas().collect::<Vec<_>>()).unwrap();
    let ida = store.learner_by_name("Ida").unwrap().expect("Ida");
    let stored = store.checks(ida.id).unwrap().pop().expect("a check");
    let sat = stored.sittings.last().expect("a sitting");
    let answers: Vec<_> = store.attempts_of_check(stored.id).unwrap().into_iter().map(|attempt| attempt.what).collect();
    let sitting =
        Sitting { learner: ida.id, session: sat.session, days: Days::Given(sat.day), began: stored.what.at, seed: 0 };
    let terms = Terms::read(&stored.what.rules).expect("terms of this program");
    let mut check = Check::new(terms, &answers, sitting, Sittings::default());
    check.next(stored.what.at).map(|asked| asked.problem.clone())
}

fn code_now(camp: &Camp) -> String {
    asked_now(camp).expect("a problem is asked").code().to_string()
}

/// The codes of the answers that are on the disk, in order.
fn recorded(camp: &Camp) -> Vec<String> {
    let store = opened_whole(&camp.store_path()).expect("the records are whole");
    let ida = store.learner_by_name("Ida").unwrap().expect("Ida");
    let checks = store.checks(ida.id).unwrap();
    assert!(checks.len() <= 1, "one check, however often it was left");
    let attempts = checks.first().map(|check| store.attempts_of_check(check.id).unwrap()).unwrap_or_default();
    assert!(attempts.iter().all(|attempt| attempt.what.kind == AttemptKind::Check));
    attempts.into_iter().map(|attempt| attempt.what.code).collect()
}

#[test]
fn a_check_that_is_killed_after_each_answer_loses_nothing_and_asks_nothing_twice() {
    let camp = Camp::new();
    let added = Command::new(env!("CARGO_BIN_EXE_needlewise"))
        .env_clear()
        .envs(camp.environment())
        .args(["patrol", "add", "Ida"])
        .status()
        .unwrap();
    assert!(added.success());
    let mut asked: Vec<String> = Vec::new();
    loop {
        let mut term = begin(&camp);
        let problem = asked_now(&camp).expect("a problem is asked");
        let code = problem.code().to_string();
        assert!(term.look(problem_on).is_none(), "no code before the end:\n{}", term.screen_text());
        // What is on the screen is what the store says.
        let start: String = problem.prompt().split_whitespace().take(3).collect::<Vec<_>>().join(" ");
        assert!(term.screen_text().contains(&start), "{start}:\n{}", term.screen_text());
        if let Some(before) = asked.last() {
            assert_eq!(&code, before, "the problem that was on the screen at the kill");
            asked.pop();
        }
        asked.push(code.clone());
        term.type_keys(&right(&problem));
        term.wait_for("the next problem, or the end", |output| {
            output.text().contains("end of the check")
                || (is_asking(output) && ["problem 2 of ", "a trial: "].iter().any(|next| output.text().contains(next)))
        });
        let text = term.screen_text();
        assert!(!text.contains("Right.") && !text.contains("Not right"), "nothing is told between:\n{text}");
        if text.contains("end of the check") {
            assert!(
                text.contains("ready at the laptop until") && text.contains("No permission to go out of sight"),
                "{text}"
            );
            break;
        }
        asked.push(code_now(&camp));
        term.kill();
        let kept = recorded(&camp);
        assert_eq!(kept, asked[..asked.len() - 1], "all that was answered and nothing else");
    }
    let kept = recorded(&camp);
    assert_eq!(kept, asked);
    assert!(kept.len() >= 4 * 5, "{} answers for four skills", kept.len());
}
