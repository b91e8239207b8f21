//! A check with the real program: killed again and again, it goes on with the very problem that was on the screen.

use super::answers::{is_asking, problem_on, right};
use super::camp::Camp;
use super::records::opened_whole;
use super::term::Term;
use needlewise::store::AttemptKind;
use std::process::Command;

const STANDARD: &str = "camp-evening";

fn begin(camp: &Camp) -> Term {
    let mut term = Term::start(camp, &["check", "--learner", "Ida", "--standard", STANDARD]);
    term.wait_for_text("Ida, it is your turn.");
    term.type_keys("<enter>");
    term.wait_for("a question", is_asking);
    term
}

fn code_on(term: &Term) -> String {
    term.look(problem_on).map(|problem| problem.code().to_string()).unwrap_or_else(|| panic!("{}", term.screen_text()))
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
        let code = code_on(&term);
        if let Some(before) = asked.last() {
            assert_eq!(&code, before, "the problem that was on the screen at the kill");
            asked.pop();
        }
        let problem = term.look(problem_on).unwrap();
        asked.push(code.clone());
        term.type_keys(&right(&problem));
        term.wait_for("the next problem, or the end", |output| {
            output.text().contains("end of the check")
                || (is_asking(output) && problem_on(output).is_some_and(|next| next.code().to_string() != code))
        });
        let text = term.screen_text();
        assert!(!text.contains("Right.") && !text.contains("Not right"), "nothing is told between:\n{text}");
        if text.contains("end of the check") {
            assert!(text.contains("ready; good until"), "{text}");
            break;
        }
        asked.push(code_on(&term));
        term.kill();
        let kept = recorded(&camp);
        assert_eq!(kept, asked[..asked.len() - 1], "all that was answered and nothing else");
    }
    let kept = recorded(&camp);
    assert_eq!(kept, asked);
    assert!(kept.len() >= 4 * 5, "{} answers for four skills", kept.len());
}
