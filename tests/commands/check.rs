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
    // The learner ends, or the trial is begun and left.
    for typed in ["end\n", "dial 20\nend\n"] {
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

/// A standard without work at the table: no trial comes first, and the first problem is shown at once.
fn ours(home: &Home) -> String {
    let file = home.file("ours.toml");
    let ours =
        "name = \"ours\"\ntitle = \"Ours\"\nalpha = 0.2\nbeta = 0.2\ncap = 12\n[[skill]]\nid = \"turns\"\nlevel = 2\n";
    std::fs::write(&file, ours).unwrap();
    file.to_str().unwrap().to_owned()
}

#[test]
fn a_check_whose_first_problem_is_no_work_at_the_table_begins_when_it_is_asked() {
    let home = with_ana();
    let out = home.done(&["check", "--learner", "Ana", "--plain", "--standard", &ours(&home)], "end\n");
    assert!(!out.contains("does not count") && out.contains("goes on where it stopped"), "{out}");
    assert!(home.done(&["store", "export"], "").contains(r#""kind":"check""#), "its problem was shown");
}

#[test]
fn where_nothing_can_be_read_no_check_is_begun_and_none_goes_on() {
    let home = with_ana();
    let (before, file) = (home.done(&["store", "export"], ""), ours(&home));
    let words = ["check", "--learner", "Ana", "--plain", "--standard", &file];
    let refused = home.typed(&words, "");
    assert_eq!((refused.code, refused.out.as_str()), (1, ""), "{}", refused.err);
    assert!(
        refused.err.contains("nothing can be read") && refused.err.contains("nothing was begun"),
        "{}",
        refused.err
    );
    assert_eq!(home.done(&["store", "export"], ""), before);
    // One that was begun is not gone on with either, so nobody is told to have left it.
    home.done(&words, "end\n");
    let begun = home.done(&["store", "export"], "");
    assert!(begun.contains(r#""kind":"check""#));
    assert_eq!(home.typed(&words, "").code, 1);
    assert_eq!(home.done(&["store", "export"], ""), begun);
}

#[test]
fn a_plan_that_cannot_be_says_which_numbers_would_do_and_they_do() {
    let home = Home::new();
    let plan = |more: &str| {
        let words = [
            "check", "--plan", "--cap", "10", "--alpha", "0.05", "--beta", "0.05", "--p0", "0.6", "--p1", "0.9",
            "--tries", "3",
        ];
        let changed: Vec<&str> = more.split_whitespace().collect();
        // What is changed stands in the place of what it changes.
        let mut all: Vec<&str> = Vec::new();
        for pair in words[2..].chunks(2).filter(|pair| !changed.contains(&pair[0])) {
            all.extend(pair);
        }
        home.typed(&[&words[..2], &all, &changed].concat(), "")
    };
    let refused = plan("");
    assert_eq!((refused.code, refused.out.as_str()), (2, ""));
    let said = refused.err.split_whitespace().collect::<Vec<_>>().join(" ");
    let near =
        said.split("With 10 problems at most, one of these would do: ").nth(1).unwrap_or_else(|| panic!("{said}"));
    let near: Vec<&str> = near.split("; ").collect();
    assert!(near.len() >= 2 && near.iter().any(|one| one.contains("--alpha")), "{said}");
    for one in near {
        let planned = plan(one.trim_end_matches('.'));
        assert_eq!(planned.code, 0, "{one}: {}", planned.err);
        assert!(planned.out.contains("10 problems at most"), "{one}: {}", planned.out);
    }
}
