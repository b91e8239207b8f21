//! `needlewise score`: a printed sheet comes back and is typed in.

use crate::home::Home;
use needlewise::problem::realise;
use needlewise::skills;

impl Home {
    /// With two learners.
    fn of_two() -> Home {
        let home = Home::new();
        home.run(&["patrol", "add", "Ana", "Bo"]);
        home
    }

    /// Prints a sheet and gives its codes.
    fn print(&self, name: &str, seed: &str) -> Vec<String> {
        let words = ["worksheet", "--learner", name, "--skill", "back-bearing", "--level", "2", "--count", "4"];
        let text = self.done(&[&words[..], &["--seed", seed, "--format", "text"]].concat(), "");
        let sheet = text.split("Key:").next().unwrap();
        let codes = sheet.lines().filter_map(|line| line.split('(').nth(1)?.split(')').next());
        codes.filter(|code| code.starts_with("A7-")).map(str::to_owned).collect()
    }

    fn report(&self) -> String {
        self.done(&["report", "--learner", "Ana"], "")
    }
}

/// A problem's right answer as typed.
fn right(code: &str) -> String {
    let problem = realise(&skills::read_code(code).unwrap()).unwrap();
    problem.question().words(problem.answer())
}

#[test]
fn a_sheet_is_typed_in_by_number_and_digit_and_counts_as_practice() {
    let home = Home::of_two();
    let codes = home.print("Ana", "5");
    assert_eq!(codes.len(), 4);
    let out = home.done(&["score", "--learner", "Ana", "1=1", "2=2", "3=0", "4=-"], "");
    assert!(out.contains("1: right\n") && out.contains("2: wrong, ") && out.contains("3: wrong, in no way"), "{out}");
    assert!(out.contains("4: not done\n") && out.contains("1 of 3 right so far, 1 not done, 0 open"), "{out}");
    assert!(home.report().contains("Back bearings learning"), "{}", home.report());
    assert!(home.report().contains("ready at the laptop in 0 of 6"), "readiness never comes from paper");
    let out = home.done(&["score", "--learner", "Ana"], "");
    assert!(out.contains("Every problem of this sheet is typed in, or not done."), "{out}");
    // It was a slip: the rest is asked, and nothing twice.
    assert!(home.done(&["score", "--learner", "Ana", "--undo", "4"], "").contains("1 of 3 right so far, 1 open"));
    let out = home.done(&["score", "--learner", "Ana"], "1\n");
    assert!(out.contains("4.  Back bearings") && !out.contains("1.  Back bearings"), "{out}");
    assert!(out.contains("2 of 4 right so far, 0 open"), "{out}");
    assert!(home.done(&["score", "--learner", "Ana"], "").contains("Every problem of this sheet is typed in"));
}

#[test]
fn an_answer_is_typed_as_it_stands_on_the_paper_and_a_mistyped_one_is_taken_back() {
    let home = Home::of_two();
    let codes = home.print("Ana", "6");
    let answer = right(&codes[0]);
    let out = home.done(&["score", &format!("{}={answer}", codes[0])], "");
    assert!(out.contains("1: right\n") && out.contains(": 1 of 1 right"), "{out}");
    assert!(out.contains("Ana, sheet of "), "the code says whose sheet it is: {out}");
    let again = home.refused(&["score", &format!("{}=2", codes[0])]);
    assert!(again.contains("typed in before") && again.contains("--undo 1"), "{again}");
    let out = home.done(&["score", "--learner", "Ana", "--undo", "1", "1=2"], "");
    assert!(out.contains("1: taken back") && out.contains("1: wrong, ") && out.contains("0 of 1 right"), "{out}");
    let both = home.refused(&["score", "--learner", "Ana", "--undo", "1", "2=nonsense"]);
    assert!(both.contains("problem 2"), "{both}");
    let still = home.refused(&["score", "--learner", "Ana", "1=1"]);
    assert!(still.contains("typed in before"), "what was to be taken back stands, since the rest could not be read");
    // While it is asked, back takes the last one back.
    let out = home.done(&["score", "--learner", "Ana"], "1\nback\n0\nend\n");
    assert!(out.contains("2: right") && out.contains("2: taken back") && out.contains("2: wrong, in no way"), "{out}");
    assert!(home.done(&["store", "verify"], "").to_lowercase().contains("whole"), "every record has its check value");
}

#[test]
fn what_was_not_done_is_typed_over_later_and_a_dash_where_it_is_asked_goes_on() {
    let home = Home::of_two();
    home.print("Ana", "5");
    let out = home.done(&["score", "--learner", "Ana"], "1\n-\nback\n-\n-\n-\n");
    assert!(out.contains("2: not done") && out.contains("2: taken back"), "{out}");
    assert!(out.contains("1 of 1 right so far, 3 not done, 0 open"), "{out}");
    let out = home.done(&["score", "--learner", "Ana", "3=2"], "");
    assert!(out.contains("3: wrong, ") && out.contains("1 of 2 right so far, 2 not done, 0 open"), "{out}");
    // Taken back, it is open, and not what was said before it.
    let out = home.done(&["score", "--learner", "Ana", "--undo", "3"], "");
    assert!(out.contains("1 of 1 right so far, 2 not done, 1 open"), "{out}");
    assert!(home.done(&["store", "verify"], "").to_lowercase().contains("whole"));
}

#[test]
fn a_sheet_that_will_not_come_back_is_put_away_and_asked_for_no_more() {
    let home = Home::of_two();
    assert!(home.refused(&["score", "--put-away"]).contains("--learner"));
    home.print("Ana", "5");
    home.print("Ana", "6");
    let which = home.refused(&["score", "--learner", "Ana", "--put-away"]);
    assert!(which.contains("Ana has 2 sheets with open problems; say which with --sheet N"), "{which}");
    let out = home.done(&["score", "--learner", "Ana", "--sheet", "1", "--put-away"], "");
    assert!(out.contains("is put away: it is listed no more"), "{out}");
    assert!(home.done(&["score", "--learner", "Ana", "1=1"], "").contains("1 of 1 right so far, 3 open"));
    home.done(&["score", "--learner", "Ana", "--put-away"], "");
    let all = home.refused(&["score", "--learner", "Ana", "2=1"]);
    assert!(
        all.contains("every sheet of Ana's was put away; `needlewise score --learner Ana --sheet 1 --back`"),
        "{all}"
    );
    // Taken back, or it came back after all.
    let several = home.refused(&["score", "--learner", "Ana", "--back"]);
    assert!(several.contains("2 sheets that were put away; say which with --sheet N"), "{several}");
    let out = home.done(&["score", "--learner", "Ana", "--sheet", "2", "--back"], "");
    assert!(out.contains("is listed again: 3 open."), "{out}");
    // What is to be typed can be typed, whatever the name.
    home.done(&["patrol", "add", "Mia Berg"], "");
    let none = home.refused(&["score", "--learner", "Mia Berg"]);
    assert!(none.contains("worksheet --learner \"Mia Berg\" --output"), "{none}");
    assert!(home.refused(&["score", "--learner", "Bo", "--back"]).contains("no sheet was printed for Bo"));
    home.done(&["score", "--learner", "Ana", "--sheet", "1", "1=1"], "");
    assert!(home.refused(&["score", "--learner", "Ana", "--back"]).contains("no sheet of Ana's was put away"));
    assert!(home.done(&["store", "verify"], "").to_lowercase().contains("whole"));
}

#[test]
fn what_cannot_be_meant_is_refused_with_what_may_be_and_nothing_is_written() {
    let home = Home::of_two();
    assert!(home.refused(&["score", "--learner", "Ana"]).contains("needlewise worksheet --learner Ana"));
    let ana = home.print("Ana", "7");
    let bo = home.print("Bo", "8");
    // Sheets with the same seed have the same problems: whose is meant has to be said.
    assert_eq!(home.print("Bo", "7"), ana);
    let whose = home.refused(&["score", &format!("{}=1", ana[0])]);
    assert!(whose.contains("is on the sheets of Ana and Bo; say whose with --learner NAME"), "{whose}");
    let mistyped = format!("{}=1", ana[0].replace("A7-2-", "A7-2-9"));
    assert!(home.refused(&["score", &mistyped]).contains("Did you mean A7-2-"), "the nearest code is named");
    let other = home.refused(&["score", "--learner", "Ana", &format!("{}=1", bo[0])]);
    assert!(other.contains("is problem 1 of Bo's sheet; needlewise score --learner Bo 1=…"), "{other}");
    let no = home.refused(&["score", "--learner", "Ana", &mistyped]);
    assert!(no.contains("is no problem of Ana's sheet; did you mean A7-2-"), "{no}");
    for (entries, says) in [
        (&["9=1"][..], "the sheet has 4"),
        (&["1"][..], "has no ="),
        (&["1=1", "2=north-ish"][..], "problem 2"),
        (&["1=1", "--sheet", "7"][..], "1 is the latest"),
        (&["--undo", "1"][..], "nothing was typed in of problem 1"),
        (&["1=1", "2=1", "1=2"][..], "problem 1 stands here twice"),
        (&["1=1", "2=9"][..], "the key has no 9: its digits go from 0 to "),
    ] {
        let err = home.refused(&[&["score", "--learner", "Ana"][..], entries].concat());
        assert!(err.contains(says), "{entries:?}: {err}");
    }
    assert!(home.refused(&["score"]).contains("--learner NAME"));
    assert!(
        home.done(&["score", "--learner", "Ana"], "").contains("0 of 0 right so far, 4 open"),
        "nothing was written"
    );
    // The same sheet printed once more is the same sheet.
    home.print("Ana", "7");
    let second = home.refused(&["score", "--learner", "Ana", "--sheet", "2", "1=1"]);
    assert!(second.contains("has 1 sheet"), "{second}");
    // Which of two open sheets lies on the table is not guessed.
    home.print("Ana", "9");
    let which = home.refused(&["score", "--learner", "Ana", "1=1"]);
    assert!(which.contains("Ana has 2 sheets with open problems; say which with --sheet N: 1 of "), "{which}");
    assert!(home.done(&["score", "--learner", "Ana", "--sheet", "2", "1=1"], "").contains("1: right"));
}

#[test]
fn a_short_answer_is_no_digit_of_the_key_where_its_unit_stands_behind_it() {
    let home = Home::of_two();
    let words =
        ["worksheet", "--learner", "Ana", "--skill", "one-in-sixty", "--level", "3", "--count", "2", "--seed", "4"];
    home.done(&[&words[..], &["--format", "text"]].concat(), "");
    let sheet = home.done(&["score", "--learner", "Ana"], "end\n");
    let code = sheet.lines().find_map(|line| line.split('(').nth(1)?.split(')').next()).unwrap();
    let problem = realise(&skills::read_code(code).unwrap()).unwrap();
    let degrees = problem.question().words(problem.answer());
    let out = home.done(&["score", "--learner", "Ana", &format!("1={degrees}"), "2=3"], "");
    assert!(out.contains("1: right\n") && out.contains("2: wrong, "), "{degrees}: {out}");
}
