//! The people, checks and reports from the command line.

use crate::home::{Home, Said};
use serde_json::Value;

impl Home {
    fn names(&self) -> Vec<String> {
        self.run(&["patrol", "list"]).lines().map(str::to_owned).collect()
    }
}

#[test]
fn people_are_added_renamed_put_aside_taken_back_and_erased() {
    let home = Home::new();
    assert!(home.run(&["patrol", "list"]).contains("patrol add NAME"));
    // As people write names: apart, with commas between them, or both.
    home.run(&["patrol", "add", "Mia Berg, Bo,", "--patrol", "Kestrels"]);
    home.run(&["patrol", "add", "Tom"]);
    assert_eq!(home.names(), ["Bo (Kestrels)", "Mia Berg (Kestrels)", "Tom"]);
    assert_eq!(home.run(&["patrol", "rename", "bo", "Bodo"]), "Bo is Bodo now.\n");
    home.run(&["patrol", "join", "Tom", "Bodo", "--patrol", "Otters"]);
    home.run(&["patrol", "join", "Mia Berg", "--patrol", "-"]);
    assert_eq!(home.names(), ["Bodo (Otters)", "Mia Berg", "Tom (Otters)"]);
    assert!(home.run(&["patrol", "archive", "Tom"]).contains("records are kept"));
    assert_eq!(home.names(), ["Bodo (Otters)", "Mia Berg"]);
    assert_eq!(home.run(&["patrol", "list", "--archived"]), "Tom\n");
    let again = home.refused(&["patrol", "add", "TOM"]);
    assert!(again.contains("Tom was put aside") && again.contains("--back"), "{again}");
    let practised = home.typed(&["practice", "--learner", "Tom", "--plain"], "end\n");
    assert_eq!((practised.code, practised.out.as_str()), (2, ""), "{}", practised.err);
    home.run(&["patrol", "archive", "tom", "--back"]);
    let json = home.run(&["patrol", "list", "--format", "json"]);
    let tom: Value = serde_json::from_str(json.lines().last().unwrap()).unwrap();
    assert_eq!((&tom["name"], &tom["patrol"], &tom["archived"]), (&"Tom".into(), &"Otters".into(), &false.into()));
    assert!(home.run(&["patrol", "erase", "Tom", "--yes"]).starts_with("Tom is erased, with 0 answers."));
    assert_eq!(home.names(), ["Bodo (Otters)", "Mia Berg"]);
}

#[test]
fn bad_names_and_unanswered_questions_change_nothing() {
    let home = Home::new();
    home.run(&["patrol", "add", "Mia Berg"]);
    for (words, says) in [
        (&["patrol", "rename", "Mia", "Bo"][..], "Did you mean Mia Berg?"),
        (&["patrol", "add", "mia berg"], "there is a learner named Mia Berg already"),
        (&["patrol", "add", "  "], "at least one character"),
        (&["patrol", "erase", "Mia Berg"], "--yes"),
        (&["patrol", "erase", "Nobody"], "nobody is named Nobody"),
        (&["patrol", "archive", "Mia Berg", "--back"], "put aside"),
        (&["patrol", "seen", "Mia Berg", "--skill", "cooking", "--by", "Alma"], "there is no skill cooking"),
        (&["patrol", "seen", "Mia Berg", "--skill", "turns", "--by", "A", "--outcome", "perhaps"], "yes, no"),
        (&["patrol", "seen", "Mia Berg", "--skill", "turns", "--by", " "], "--by is empty"),
        (&["patrol", "seen", "Mia Berg", "--skill", "turns", "--by", "A", "--on", "soon"], "2026-11-25"),
        (&["report", "--patrol", "Kestrels"], "there is no patrol Kestrels"),
        (&["report", "--learner", "Mio Berg"], "Did you mean Mia Berg?"),
        (&["report", "--standard", "day-outng"], "did you mean day-outing?"),
        (&["check", "--learner", "Bo", "--plain"], "nobody is named Bo"),
        (&["check", "--plan", "--standard", "day-outing", "--cap", "12"], "--cap"),
        (&["check"], "--learner"),
    ] {
        let message = home.refused(words);
        assert!(message.contains(says), "{words:?}: {message}");
    }
    assert_eq!(home.names(), ["Mia Berg"]);
}

#[test]
fn what_was_seen_on_the_ground_lies_not_in_the_future_and_is_told_whatever_the_standard_asks() {
    let home = Home::new();
    home.run(&["patrol", "add", "Ida"]);
    let seen =
        ["patrol", "seen", "Ida", "--skill", "aim-off", "--by", "Alma", "--outcome", "no", "--date", "2026-11-25"];
    let ahead = home.refused(&[&seen[..], &["--on", "2027-11-25"]].concat());
    assert!(ahead.contains("2027-11-25 lies after today, 2026-11-25"), "{ahead}");
    assert!(!home.unwrapped(&["report"]).contains("Aiming off"));
    home.run(&[&seen[..], &["--on", "2026-11-24"]].concat());
    let report = home.unwrapped(&["report", "--standard", "day-outing", "--date", "2026-11-25"]);
    assert!(report.contains("Besides: Aiming off, seen on the ground on 2026-11-24 by Alma: no"), "{report}");
}

#[test]
fn a_check_as_lines_gives_no_hint_and_goes_on_where_it_was_left() {
    let home = Home::new();
    home.run(&["patrol", "add", "Ida"]);
    let first = home
        .typed(&["check", "--learner", "ida", "--standard", "camp-evening", "--plain"], "hint\nlesson\nhelp\nend\n");
    assert_eq!(first.code, 0, "{}", first.err);
    assert!(first.out.contains("end: leave. Everything answered is kept"), "{}", first.out);
    assert!(first.out.contains("There are no lessons in a check."), "{}", first.out);
    for practised in ["hint:", "lesson:", "words:", "undo:"] {
        assert!(!first.out.contains(&format!("\n{practised}")), "{practised} does nothing in a check: {}", first.out);
    }
    assert!(first.out.contains("There are no hints in a check.") && first.out.contains("about "), "{}", first.out);
    let problem = |said: &Said| {
        let lines: Vec<&str> = said.out.lines().skip_while(|line| !line.starts_with("Problem 1: ")).take(3).collect();
        assert!(lines.len() == 3 && !said.out.contains("Code: "), "{}", said.out);
        lines.join("\n")
    };
    let again = home.typed(
        &["check", "--learner", "Ida", "--standard", "camp-evening", "--plain"],
        "999\n20 clockwise\nset\nend\n",
    );
    assert_eq!(problem(&again), problem(&first), "the very same problem");
    assert!(again.out.contains("Left in the middle and gone on with: once."), "{}", again.out);
    assert!(again.out.contains("Your answer is recorded.") && !again.out.contains("Right."), "{}", again.out);
    assert!(again.out.contains("goes on where it stopped"), "{}", again.out);
    let report = home.unwrapped(&["report", "--standard", "camp-evening"]);
    assert!(
        report.contains("Ida: ready at the laptop in 0 of 4, seen on the ground in 0 of 4; next: go on with"),
        "{report}"
    );
    assert!(report.contains("level 2: under way since ") && !report.contains("right of"), "{report}");
    assert!(report.contains("No permission to go out of sight"), "{report}");
}

#[test]
fn what_was_seen_of_several_together_is_one_line_each_and_a_wrong_name_writes_nothing() {
    let home = Home::new();
    home.run(&["patrol", "add", "Ida", "Bo"]);
    fn seen<'a>(names: &[&'a str]) -> Vec<&'a str> {
        let said = ["--skill", "follow-bearing", "--by", "Alma", "--outcome", "yes"];
        [&["patrol", "seen"][..], names, &said].concat()
    }
    assert_eq!(home.typed(&seen(&["Ida", "Nobody"]), "").code, 2);
    let count = |report: &str| report.matches("by Alma: yes").count();
    let report = ["report"];
    assert_eq!(count(&home.unwrapped(&report)), 0);
    // The same name twice is one member.
    home.run(&seen(&["Ida", "Bo", "ida"]));
    assert_eq!(count(&home.unwrapped(&report)), 2, "{}", home.unwrapped(&report));
    // A slip that is found on another day is taken back, of all of them or of none.
    let undo = |names: &[&str]| {
        home.typed(&[&["patrol", "seen"][..], names, &["--skill", "follow-bearing", "--undo"]].concat(), "")
    };
    home.run(&["patrol", "add", "Cem"]);
    assert!(undo(&["Ida", "Cem"]).err.contains("nothing was seen of Cem"));
    assert_eq!(count(&home.unwrapped(&report)), 2);
    assert!(undo(&["Ida", "Bo"]).out.contains("Taken back"));
    assert_eq!(count(&home.unwrapped(&report)), 0);
    assert_eq!(undo(&["Ida"]).code, 2);
}

#[test]
fn what_is_taken_back_is_what_was_written_down_last_whatever_day_it_was_seen_on() {
    let home = Home::new();
    home.run(&["patrol", "add", "Ida"]);
    let at = ["patrol", "seen", "Ida", "--skill", "F1"];
    let seen = |more: &[&str]| home.run(&[&at[..], more].concat());
    let told = seen(&["--by", "Alma", "--outcome", "no"]);
    assert!(told.contains("It is written down of Ida: no."), "{told}");
    seen(&["--by", "Alma", "--outcome", "yes", "--on", "2020-01-02", "--what", "late"]);
    let told = seen(&["--undo"]);
    assert!(told.contains("Taken back: Ida, ") && told.contains("on 2020-01-02 by Alma: yes, late."), "{told}");
    let report = home.unwrapped(&["report"]);
    assert!(report.contains("by Alma: no") && !report.contains("by Alma: yes"), "{report}");
}

#[test]
fn a_number_out_of_its_bounds_is_told_both_of_them() {
    let home = Home::new();
    for (words, bounds) in [
        (&["worksheet", "--count", "0"][..], "a whole number from 1 to 100"),
        (&["worksheet", "--count", "lots"], "a whole number from 1 to 100"),
        (&["evening", "--minutes", "9"], "a whole number from 15 to 240"),
        (&["practice", "--count", "0"], "a whole number from 1 to 10000"),
        (&["map", "--declination", "9X"], "--declination 9X: write an angle with its side, like 17W or 3.5E"),
        (&["home", "set", "--at", "xx"], "--at xx: give lat,lon like \"46.8, -28.6\", UTM or MGRS"),
    ] {
        let said = home.typed(words, "");
        assert!(said.code == 2 && said.err.contains(bounds), "{words:?}: {}", said.err);
    }
}

#[test]
fn as_lines_a_trial_comes_before_the_first_problem_at_the_table_and_does_not_count() {
    let home = Home::new();
    // Day outing begins at the table in half of its checks; a name is taken whose check does.
    let begins_there = |name: &String| {
        home.run(&["patrol", "add", name]);
        home.typed(&["check", "--learner", name, "--plain"], "skip\nend\n").out.contains("A trial: ")
    };
    let ida =
        (1..60).map(|number| format!("Ida{number}")).find(begins_there).expect("one of sixty begins at the table");
    let check = ["check", "--learner", &ida, "--plain"];
    let trial = "This one is for trying the keys; it does not count. skip leaves it.";
    let left = home.typed(&check, "skip\nend\n");
    assert_eq!(left.code, 0, "{}", left.err);
    assert!(left.out.contains("A trial: ") && left.out.contains(trial), "{}", left.out);
    let (before, behind) = left.out.split_once("That was the trial. From here on it counts.").expect("its end");
    assert!(!before.contains("Problem 1: ") && behind.contains("Problem 1: "), "{}", left.out);
    assert!(!left.out.contains("Your answer is recorded."), "{}", left.out);
    // Worked to its end it is not recorded either; nor is it when the check is left in the middle of it.
    let worked = home.typed(&check, "dial 20\nedge true\ndone\nend\n");
    assert!(worked.out.contains("From here on it counts.") && !worked.out.contains("Your answer is recorded."));
    let ended = home.typed(&check, "dial 20\nend\n");
    assert!(ended.out.contains("A trial: ") && !ended.out.contains("From here on it counts."), "{}", ended.out);
    assert_eq!(home.run(&["store", "export", "--format", "csv"]).lines().count(), 1, "no answer but the header");
    // Where nothing is a trial skip is no command.
    let practice = home.typed(&check, "skip\nskip\nend\n");
    assert!(practice.out.matches("A trial: ").count() == 1 && practice.code == 0, "{}", practice.out);
}

#[test]
fn a_report_has_the_same_in_text_json_and_csv() {
    let home = Home::new();
    home.run(&["patrol", "add", "Ida", "=Bo+", "--patrol", "Kestrels"]);
    home.run(&[
        "patrol",
        "seen",
        "Ida",
        "--skill",
        "follow-bearing",
        "--by",
        "Alma",
        "--outcome",
        "yes",
        "--what",
        "over the moor",
    ]);
    let text = home.unwrapped(&["report", "--date", "2026-11-25"]);
    assert!(
        text.contains("Ida (Kestrels): ready at the laptop in 0 of 6, seen on the ground in 1 of 6; next: practise Orient by a true-north line, then a check"),
        "{text}"
    );
    assert!(
        text.contains("by Alma: yes, over the moor") && text.contains("not checked; in practice: not met"),
        "{text}"
    );
    let lines: Vec<Value> = home
        .run(&["report", "--date", "2026-11-25", "--format", "json"])
        .lines()
        .map(|line| serde_json::from_str(line).unwrap())
        .collect();
    let kinds: Vec<&str> = lines.iter().map(|line| line["kind"].as_str().unwrap()).collect();
    assert_eq!(kinds, ["standard", "member", "member"]);
    assert!((lines[0]["alpha"].as_f64().unwrap() - 0.04992).abs() < 1e-5, "the plan of the default standard");
    let ida = lines.iter().find(|line| line["learner"] == "Ida").unwrap();
    let skills = ida["skills"].as_array().unwrap();
    assert!(skills.iter().all(|skill| skill["readiness"] == "not checked"));
    let back = skills.iter().find(|skill| skill["skill"] == "follow-bearing").unwrap();
    assert_eq!(back["seen_on_the_ground"][0]["by"], "Alma");
    assert_eq!(back["seen_on_the_ground"][0]["outcome"], "yes");
    assert!(lines[0]["what_ready_means"].as_str().unwrap().contains("No permission to go out of sight"));
    assert_eq!(lines[0]["day_given"], true);
    let csv = home.run(&["report", "--format", "csv", "--patrol", "kestrels"]);
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), 12);
    assert!(rows.iter().any(|row| &row[0] == "'=Bo+"), "a name is no formula: {csv}");
    let seen = rows.iter().find(|row| &row[0] == "Ida" && &row[3] == "follow-bearing").unwrap();
    assert_eq!((&seen[6], &seen[16], &seen[17]), ("not checked", "Alma", "over the moor"));
    assert_eq!((&seen[18], &seen[19], &seen[20]), ("yes", "false", "0"));
    assert!(seen[22].contains("No permission to go out of sight"), "{}", &seen[22]);
    let hidden = home.run(&["report", "--initials"]);
    assert!(hidden.contains("I. (Kestrels)") && !hidden.contains("Ida"), "{hidden}");
}

#[test]
fn a_standard_of_ones_own_is_taken_by_file_and_a_broken_one_says_the_line() {
    let home = Home::new();
    let file = home.0.path().join("ours.toml");
    let good =
        "name = \"ours\"\ntitle = \"Ours\"\nalpha = 0.2\nbeta = 0.2\ncap = 12\n[[skill]]\nid = \"turns\"\nlevel = 2\n";
    std::fs::write(&file, good).unwrap();
    let path = file.to_str().unwrap();
    let plan: Value =
        serde_json::from_str(&home.run(&["check", "--plan", "--standard", path, "--format", "json"])).unwrap();
    assert!(plan["alpha"].as_f64().unwrap() <= 0.2 && plan["cap"].as_u64().unwrap() <= 12);
    for (from, to, says) in [
        ("alpha = 0.2", "alpha = 0.6", ":3:9"),
        ("cap = 12", "cap = 2", "would do"),
        ("level = 2", "level = 7", "level 7 does not exist"),
        ("\"turns\"", "\"trns\"", "did you mean \"turns\"?"),
        ("alpha = 0.2", "p0 = 0.9", "p1 must be the larger"),
    ] {
        std::fs::write(&file, good.replace(from, to)).unwrap();
        let message = home.refused(&["report", "--standard", path]);
        assert!(message.contains(says), "{to}: {message}");
    }
}

#[test]
fn day_outing_orients_by_the_line_of_the_leaders_maps_and_says_where_none_is_set() {
    let home = Home::new();
    home.run(&["patrol", "add", "Ida"]);
    let unset = home.unwrapped(&["report"]);
    assert!(unset.contains("D2 Orient by a true-north line") && unset.contains("home set --lines"), "{unset}");
    home.run(&["home", "set", "--lines", "grid", "--lines", "true"]);
    let report = home.unwrapped(&["report"]);
    assert!(report.contains("D3 Orient by grid lines") && !report.contains("home set --lines"), "{report}");
    let check = home.typed(&["check", "--learner", "Ida", "--plain"], "skip\nend\n");
    assert!(check.out.contains("Problem 1: Orient by grid lines, level 2."), "{}", check.out);
    // What was begun goes on, also with other maps.
    home.run(&["home", "set", "--lines", "magnetic"]);
    let again = home.typed(&["check", "--learner", "Ida", "--plain"], "skip\nend\n");
    assert!(again.out.contains("Problem 1: Orient by grid lines, level 2."), "{}", again.out);
    assert!(again.out.contains("the lines of your maps, were changed since"), "{}", again.out);
}

#[test]
fn the_chance_of_one_evening_is_told_before_a_check_begins() {
    let home = Home::new();
    home.run(&["patrol", "add", "Ida"]);
    let told = "On the first day, 78 in 100 of those who can do it (90 in 100 right) pass a skill, and 22 in 100 all 6";
    let check = home.typed(&["check", "--learner", "Ida", "--plain"], "skip\nend\n");
    for text in [home.run(&["check", "--plan"]), home.unwrapped(&["report"]), check.out] {
        assert!(text.contains(told), "{text}");
    }
    let plan: Value = serde_json::from_str(&home.run(&["check", "--plan", "--format", "json"])).unwrap();
    assert_eq!(plan["skills"], 6);
    assert_eq!(format!("{:.2}", plan["ready_first_day_p1"].as_f64().unwrap()), "0.78");
    assert_eq!(format!("{:.2}", plan["ready_first_day_all_p1"].as_f64().unwrap()), "0.22");
}

#[test]
fn an_evening_is_planned_for_those_who_are_there() {
    let home = Home::new();
    assert!(home.refused(&["evening"]).contains("patrol add NAME"));
    home.run(&["patrol", "add", "Ana", "Bo", "Cem", "Dina", "--patrol", "Kestrels"]);
    home.run(&["patrol", "add", "Tom"]);
    let plan = home.run(&["evening", "--patrol", "kestrels", "--minutes", "60", "--date", "2026-11-25"]);
    assert!(plan.lines().all(|line| line.chars().count() <= 80), "{plan}");
    assert!(!plan.contains("Tom") && plan.contains("60 minutes with 4 members"), "{plan}");
    assert!(!plan.contains("is checked"), "nobody is checked before having met the skills: {plan}");
    let mut settings = insta::Settings::clone_current();
    settings.set_snapshot_path(concat!(env!("CARGO_MANIFEST_DIR"), "/snapshots/cli"));
    settings.set_prepend_module_to_snapshot(false);
    settings.set_omit_expression(true);
    settings.bind(|| insta::assert_snapshot!("evening", plan));
    let json = home.run(&["evening", "--learner", "Ana", "--learner", "Tom", "--format", "json"]);
    let lines: Vec<Value> = json.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    for name in ["Ana", "Tom"] {
        let minutes = |line: &&Value| line["learner"] == name;
        let all: u64 = lines.iter().filter(minutes).map(|line| line["minutes"].as_u64().unwrap()).sum();
        assert_eq!(all, 90, "{name} has something at every minute");
    }
    let hidden = home.run(&["evening", "--initials"]);
    assert!(!hidden.contains("Dina") && hidden.contains("D."), "{hidden}");
    assert!(home.refused(&["evening", "--patrol", "Owls"]).contains("Kestrels"));
    assert!(home.refused(&["evening", "--minutes", "5"]).contains("from 15 to 240"));
}

#[test]
fn a_kept_plan_that_cannot_be_read_is_no_damage_and_another_one_takes_its_place() {
    const REMARK: &str = "The plan of an evening that is kept cannot be read by this program";
    let home = Home::new();
    home.run(&["patrol", "add", "Ana, Bo"]);
    let store = home.file("data/needlewise/records.sqlite");
    for spoilt in ["day = 'x'", "day = ''", "plan = 'x'", "clock = CAST(x'ff' AS TEXT), day = CAST(x'ff' AS TEXT)"] {
        home.run(&["evening", "--keep", "--date", "2026-11-25"]);
        let verified = home.run(&["store", "verify"]);
        assert!(!verified.contains("plan"), "{verified}");
        let refused = home.typed(&["evening", "--keep", "--date", "2026-11-25"], "");
        assert!(refused.code == 1 && refused.out.is_empty() && refused.err.contains("--force"), "{}", refused.err);
        rusqlite::Connection::open(&store).unwrap().execute(&format!("UPDATE evenings SET {spoilt}"), []).unwrap();
        let said = home.typed(&["evening", "--kept", "--date", "2026-11-25"], "");
        assert_eq!(said.code, 1, "{spoilt}: {}", said.err);
        assert!(said.err.contains("cannot be read by this program. Make another one"), "{spoilt}: {}", said.err);
        let verified = home.unwrapped(&["store", "verify"]);
        assert!(verified.contains("All is whole") && verified.contains(REMARK), "{spoilt}: {verified}");
        let json = home.run(&["store", "verify", "--format", "json"]);
        assert!(json.contains("\"whole\":true") && json.contains("\"unreadable_plan\":true"), "{json}");
        assert!(home.run(&["report", "--date", "2026-11-25"]).contains("Ana"));
        // It is replaced unasked, and the new one read.
        home.run(&["evening", "--keep", "--date", "2026-11-25"]);
        assert!(home.run(&["evening", "--kept", "--date", "2026-11-25"]).contains("as it was kept"));
        rusqlite::Connection::open(&store).unwrap().execute("DELETE FROM evenings", []).unwrap();
    }
}

#[test]
fn a_refused_adding_leaves_nobody_and_no_patrol_behind() {
    let home = Home::new();
    home.run(&["patrol", "add", "Ana, Mia"]);
    home.run(&["patrol", "archive", "Mia"]);
    let before = home.run(&["store", "export"]);
    for names in [&["Ana"][..], &["Cai", "Ana"], &["Cai", "cai"], &["Cai, Mia"], &["Cai", ","]] {
        home.refused(&[&["patrol", "add"], names, &["--patrol", "Ghost"]].concat());
        assert_eq!(home.run(&["store", "export"]), before, "{names:?}");
    }
    home.refused(&["patrol", "add", "Cai", "--patrol", " "]);
    assert_eq!(home.run(&["store", "export"]), before);
    home.run(&["patrol", "add", "Cai", "--patrol", "Ghost"]);
    assert_eq!(home.names(), ["Ana", "Cai (Ghost)"]);
}
