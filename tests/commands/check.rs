//! `needlewise check` as lines: what is asked counts, and what is not asked leaves no trace.

use crate::home::Home;

fn with_ana() -> Home {
    let home = Home::new();
    home.run(&["patrol", "add", "Ana"]);
    home
}

/// A check of Ana's with this typed, at a new laptop; day outing begins at the table in half of its checks, and one of those is taken.
fn with_a_trial(typed: &str) -> (Home, String, String) {
    let begun = (0..60).map(|_| {
        let home = with_ana();
        let before = home.done(&["store", "export"], "");
        let out = home.done(&["check", "--learner", "Ana", "--plain"], typed);
        (home, before, out)
    });
    begun.into_iter().find(|(.., out)| out.contains("A trial: ")).expect("one of sixty begins at the table")
}

#[test]
fn a_check_that_ends_in_its_trial_is_not_begun() {
    // Nothing can be read, the learner ends, or the trial is begun and left.
    for typed in ["", "end\n", "dial 20\nend\n"] {
        let (home, before, out) = with_a_trial(typed);
        assert!(out.contains("nothing was begun, and nothing is written") && !out.contains("goes on"), "{out}");
        assert_eq!(home.done(&["store", "export"], ""), before, "{typed:?}");
        let report = home.done(&["report"], "");
        assert!(report.contains("then a check") && !report.contains("left in the middle"), "{report}");
    }
}

#[test]
fn behind_the_trial_a_problem_is_shown_and_that_counts() {
    let (home, before, out) = with_a_trial("skip\n");
    assert!(out.contains("From here on it counts.") && out.contains("goes on where it stopped"), "{out}");
    let after = home.done(&["store", "export"], "");
    assert!(!before.contains(r#""kind":"check""#) && after.contains(r#""kind":"check""#), "{after}");
}

#[test]
fn a_check_whose_first_problem_is_no_work_at_the_table_begins_when_it_is_asked() {
    let home = with_ana();
    let file = home.0.path().join("ours.toml");
    let ours =
        "name = \"ours\"\ntitle = \"Ours\"\nalpha = 0.2\nbeta = 0.2\ncap = 12\n[[skill]]\nid = \"turns\"\nlevel = 2\n";
    std::fs::write(&file, ours).unwrap();
    let out = home.done(&["check", "--learner", "Ana", "--plain", "--standard", file.to_str().unwrap()], "");
    assert!(!out.contains("does not count") && out.contains("goes on where it stopped"), "{out}");
    assert!(home.done(&["store", "export"], "").contains(r#""kind":"check""#), "its problem was shown");
}
