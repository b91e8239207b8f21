//! `needlewise store`: copies of the records, those of other laptops, damage.
#![cfg(unix)]

use crate::home::{Home as Laptop, Said};
use assert_cmd::Command;
use serde_json::Value;
use std::fs;
use std::os::unix::fs::PermissionsExt;
use std::path::{Path, PathBuf};
use std::process::Stdio;

impl Laptop {
    fn store(&self) -> PathBuf {
        self.file("data/needlewise/records.sqlite")
    }

    /// Where no file may grow beyond so many blocks of 512 bytes: as on a full disk.
    fn with_room(&self, blocks: u32, words: &[&str], typed: &str) -> Said {
        let mut shell = Command::new("sh");
        let limited = format!("trap '' XFSZ; ulimit -f {blocks}; exec \"$0\" \"$@\"");
        shell.args(["-c", &limited]).arg(assert_cmd::cargo::cargo_bin("needlewise"));
        self.said(shell.args(words), typed)
    }

    fn fails(&self, code: i32, words: &[&str]) -> String {
        let said = self.typed(words, "");
        assert_eq!(said.code, code, "{words:?}: {}{}", said.out, said.err);
        said.err
    }

    /// Somebody gives some answers.
    fn practises(&self, name: &str, answers: usize) {
        let typed = "7 clockwise\nset\n".to_owned() + &"123\n".repeat(answers * 3);
        let count = answers.to_string();
        let words = ["practice", "--learner", name, "--plain", "--skill", "back-bearing", "--count", &count];
        let said = self.typed(&words, &typed);
        assert_eq!((said.code, said.err.as_str()), (0, ""), "{}", said.out);
    }

    fn answers(&self) -> usize {
        answers_in(&self.store())
    }
}

fn answers_in(path: &Path) -> usize {
    let conn = rusqlite::Connection::open(path).unwrap();
    let count: i64 = conn.query_row("SELECT count(*) FROM attempts", [], |row| row.get(0)).unwrap();
    usize::try_from(count).unwrap()
}

fn text(path: &Path) -> &str {
    path.to_str().unwrap()
}

#[test]
fn the_records_are_backed_up_and_restored_on_another_laptop_and_the_reports_agree_to_the_letter() {
    let (one, other) = (Laptop::new(), Laptop::new());
    one.practises("Ana", 3);
    assert_eq!(one.run(&["store", "path"]).trim(), text(&one.store()));
    assert!(one.run(&["home", "show"]).contains(text(&one.store())));
    assert!(one.run(&["man"]).contains("store backup"));
    let copy = one.file("stick.sqlite");
    let said = one.run(&["store", "backup", text(&copy)]);
    assert!(said.contains("1 learner, 3 answers, the last on "), "{said}");
    assert_eq!(fs::metadata(&copy).unwrap().permissions().mode() & 0o777, 0o600);
    assert!(one.fails(2, &["store", "backup", text(&copy)]).contains("--force"));
    one.run(&["store", "backup", text(&copy), "--force"]);

    other.practises("Bo", 1);
    let asked = other.fails(2, &["store", "restore", text(&copy)]);
    assert!(asked.contains("--yes"), "{asked}");
    assert_eq!(other.answers(), 1);
    let said = other.run(&["store", "restore", text(&copy), "--yes"]);
    assert!(said.contains("1 learner, 3 answers") && said.contains("1 learner, 1 answer,"), "{said}");
    let kept = said.lines().find(|line| line.contains(".replaced-")).unwrap();
    let kept = kept.rsplit(' ').next().unwrap().trim_end_matches('.');
    assert_eq!((answers_in(Path::new(kept)), other.answers()), (1, 3));
    let report = ["report", "--date", "2026-11-25", "--format", "json"];
    assert_eq!(other.run(&report), one.run(&report));
}

#[test]
fn what_is_no_backup_is_refused_and_nothing_is_replaced() {
    let laptop = Laptop::new();
    laptop.practises("Ana", 1);
    let list = laptop.file("list.txt");
    fs::write(&list, "rope, matches").unwrap();
    for (file, says) in [(text(&list), "not a needlewise store"), ("nothing", "no such file")] {
        for words in [&["store", "restore", file, "--yes"][..], &["store", "merge", file, "--yes"]] {
            let said = laptop.fails(3, words);
            assert!(said.contains(says) && said.contains("name a store or a backup"), "{said}");
            assert!(
                !said.contains("--store") && !said.contains("restore"),
                "a mend for the file, not for the records: {said}"
            );
        }
    }
    let said = laptop.fails(2, &["store", "backup", text(&list)]);
    assert!(said.contains("give another name") && !said.contains("--force"), "only a backup is ever replaced: {said}");
    let said = laptop.fails(1, &["store", "backup", "no/such/folder"]);
    assert!(said.contains("there is no such folder"), "{said}");
    assert!(laptop.fails(2, &["store", "restore", text(&laptop.store()), "--yes"]).contains("the store itself"));
    assert_eq!(laptop.answers(), 1);
    let empty = Laptop::new();
    assert!(empty.fails(3, &["store", "backup", "copy"]).contains("no records yet"));
    assert!(!empty.store().exists(), "looking makes nothing");
}

#[test]
fn damage_is_named_with_exit_3_and_what_is_whole_is_saved_into_a_new_file() {
    let laptop = Laptop::new();
    laptop.practises("Ana", 3);
    assert_eq!(laptop.run(&["store", "verify"]), "All is whole: 1 learner, 3 answers.\n");
    let whole: Value = serde_json::from_str(&laptop.run(&["store", "verify", "--format", "json"])).unwrap();
    assert_eq!((&whole["whole"], &whole["whole_answers"]), (&true.into(), &3.into()));
    let mut bytes = fs::read(laptop.store()).unwrap();
    let word = br#"["123"]"#;
    let at = bytes.windows(word.len()).rposition(|window| window == word).unwrap();
    bytes[at + 3] ^= 1;
    fs::write(laptop.store(), &bytes).unwrap();
    let said = laptop.typed(&["store", "verify"], "");
    assert_eq!(said.code, 3);
    assert!(
        said.out.contains("an answer of Ana, ") && said.err.contains("store mend FILE"),
        "{}{}",
        said.out,
        said.err
    );
    let json = laptop.typed(&["store", "verify", "--format", "json"], "");
    let found: Value = serde_json::from_str(&json.out).unwrap();
    assert_eq!((&found["whole"], &found["whole_answers"]), (&false.into(), &2.into()), "{}", json.out);
    assert_eq!(found["damaged"][0]["learner"], "Ana");
    let new = laptop.file("mended.sqlite");
    let said = laptop.run(&["store", "mend", text(&new)]);
    assert!(said.contains("2 answers") && said.contains("damaged: 1 answer"), "{said}");
    assert_eq!(fs::read(laptop.store()).unwrap(), bytes, "the damaged one is not touched");
    assert!(laptop.run(&["store", "verify", "--store", text(&new)]).starts_with("All is whole: 1 learner, 2 answers"));
    assert!(laptop.fails(2, &["store", "mend", text(&new)]).contains("is there already"));
}

#[test]
fn one_evening_on_two_laptops_comes_together_in_either_order() {
    let (one, other) = (Laptop::new(), Laptop::new());
    let begun = Laptop::new();
    for name in ["Ana", "Bo", "Kim"] {
        begun.practises(name, 1);
    }
    let start = begun.file("start");
    begun.run(&["store", "backup", text(&start)]);
    for laptop in [&one, &other] {
        laptop.run(&["store", "restore", text(&start), "--yes"]);
    }
    one.practises("Ana", 2);
    one.practises("Tarn", 1);
    other.practises("Ana", 1);
    other.practises("Tarn", 2);
    other.run(&["patrol", "erase", "Bo", "--yes"]);
    let (here, there) = (one.file("here"), other.file("there"));
    one.run(&["store", "backup", text(&here)]);
    other.run(&["store", "backup", text(&there)]);

    let looked = one.run(&["store", "merge", text(&there), "--look"]);
    assert!(
        looked.contains("Would come in: 1 person, 3 answers") && looked.contains("erased here: 1 person"),
        "{looked}"
    );
    assert!(looked.contains("--same \"Tarn=Tarn\""), "{looked}");
    assert_eq!(one.answers(), 6, "a look changes nothing");
    let asked = one.fails(2, &["store", "merge", text(&there)]);
    assert!(asked.contains("--look") && asked.contains("--yes"), "{asked}");
    one.run(&["store", "merge", text(&there), "--yes", "--same", "Tarn=Tarn"]);
    assert_eq!(one.run(&["patrol", "list"]), "Ana\nKim\nTarn\n");
    let again = one.run(&["store", "merge", text(&there), "--yes"]);
    assert!(again.contains("Nothing new came in.") && !again.contains("--same"), "remembered: {again}");

    let joined = one.file("joined");
    one.run(&["store", "backup", text(&joined)]);
    other.run(&["store", "merge", text(&here), text(&joined), "--yes"]);
    assert_eq!(other.run(&["store", "export"]), one.run(&["store", "export"]), "the same records");
    let report = ["report", "--date", "2026-11-25"];
    assert_eq!(other.run(&report), one.run(&report));
    assert!(one.fails(2, &["store", "merge"]).contains("--same"), "a file, or what is to be said");
    for (pair, says) in [("Tarn", "with = between"), ("Nobody=Tarn", "nobody is named Nobody")] {
        let said = one.fails(2, &["store", "merge", text(&there), "--yes", "--same", pair]);
        assert!(said.contains(says), "{said}");
    }
}

#[test]
fn namesakes_of_several_files_are_told_and_said_of_one_by_one() {
    let (here, one, other) = (Laptop::new(), Laptop::new(), Laptop::new());
    here.practises("Kim", 1);
    one.practises("Kim", 2);
    other.practises("Kim", 1);
    let (first, second) = (one.file("first"), other.file("second"));
    one.run(&["store", "backup", text(&first)]);
    other.run(&["store", "backup", text(&second)]);
    let both = here.fails(2, &["store", "merge", text(&first), text(&second), "--yes", "--same", "Kim=Kim"]);
    assert!(
        both.contains("several people in the files are named Kim") && both.contains("one after the other"),
        "{both}"
    );
    assert_eq!(here.answers(), 1);
    let said = here.run(&["store", "merge", text(&first), text(&second), "--yes"]);
    assert_eq!(said.matches("nobody has said whether").count(), 3, "{said}");
    assert_eq!(here.run(&["patrol", "list"]), "Kim\nKim 2\nKim 3\n");
    let said = here.run(&["store", "merge", "--not-same", "Kim=Kim 2"]);
    assert!(said.contains("remembered") && said.matches("nobody has said whether").count() == 2, "{said}");
    let asked = here.fails(2, &["store", "merge", "--same", "Kim=Kim 3"]);
    assert!(asked.contains("--yes says it"), "one person stays one: {asked}");
    assert_eq!(here.run(&["patrol", "list"]), "Kim\nKim 2\nKim 3\n");
    let said = here.run(&["store", "merge", "--same", "Kim=Kim 3", "--yes"]);
    assert_eq!(said, "That is remembered now.\n");
    assert_eq!(here.run(&["patrol", "list"]), "Kim\nKim 2\n");
    assert!(here.run(&["store", "verify"]).starts_with("All is whole: 2 learners, 4 answers"));
    // What was exported names them, too.
    let third = Laptop::new();
    third.practises("Kim", 1);
    let lines = third.typed(&["store", "import", "-"], &one.run(&["store", "export"]));
    assert!(lines.out.contains("needlewise store merge --same \"Kim=Kim 2\""), "{}{}", lines.out, lines.err);
    assert!(third.run(&["store", "merge", "--same", "Kim=Kim 2", "--yes"]).starts_with("That is remembered now."));
    assert_eq!(third.run(&["patrol", "list"]), "Kim\n");
    assert!(third.run(&["store", "merge", "--same", "Kim=Kim"]).starts_with("That is known already."));
}

#[test]
fn the_records_of_an_older_program_are_reported_where_nothing_can_be_written() {
    let laptop = Laptop::new();
    let kept = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference/stores/version_2.sqlite");
    fs::create_dir_all(laptop.store().parent().unwrap()).unwrap();
    fs::copy(kept, laptop.store()).unwrap();
    // No file may grow: as on a full disk.
    let said = laptop.with_room(0, &["report", "--date", "2026-11-25"], "");
    assert_eq!((said.code, said.err.lines().count()), (0, 1), "{}", said.err);
    assert!(said.err.contains("can only be read here") && said.out.contains("Ilva"), "{}{}", said.out, said.err);
    let report = laptop.run(&["report", "--date", "2026-11-25"]);
    assert_eq!(said.out, report, "the same as where it is brought up to date");
}

#[test]
fn what_was_exported_comes_in_again_as_the_same_records() {
    let (one, other) = (Laptop::new(), Laptop::new());
    one.practises("Ana", 2);
    one.practises("Bo", 1);
    let lines = one.run(&["store", "export"]);
    assert_eq!(lines.lines().next(), Some(r#"{"kind":"needlewise-records","format":1}"#));
    for line in lines.lines() {
        serde_json::from_str::<Value>(line).unwrap();
    }
    let file = one.file("all.jsonl");
    one.run(&["store", "export", "--output", text(&file)]);
    assert_eq!(fs::read_to_string(&file).unwrap(), lines);
    assert_eq!(fs::metadata(&file).unwrap().permissions().mode() & 0o777, 0o600);
    assert!(one.fails(1, &["store", "export", "--output", text(&file)]).contains("already"));
    let said = other.run(&["store", "import", text(&file)]);
    assert!(said.contains("Came in: 2 people, 3 answers"), "{said}");
    assert_eq!(other.run(&["store", "export"]), lines);
    assert!(other.run(&["store", "import", text(&file)]).contains("Nothing new"));
    let of_ana = one.run(&["store", "export", "--learner", "ana"]);
    assert!(of_ana.contains("Ana") && !of_ana.contains("Bo"), "{of_ana}");
    let third = Laptop::new();
    let said = third.typed(&["store", "import", "-"], &of_ana);
    assert!(said.out.contains("1 person, 2 answers"), "{}{}", said.out, said.err);
    let said = third.typed(&["store", "import", "-"], "nonsense");
    assert_eq!(said.code, 2);
    assert!(said.err.contains("standard input: line 1"), "{}", said.err);
    let csv = one.run(&["store", "export", "--format", "csv"]);
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    assert_eq!(reader.records().map(Result::unwrap).filter(|row| &row[0] == "Ana").count(), 2);
}

const DAY: &str = "2026-06-06";
const EIGHT: [&str; 8] = ["Ana", "Bo", "Ida", "Ilva", "Kim", "Mossa", "Tarn", "Veit"];

impl Laptop {
    /// What one laptop is used for on an evening on which there are two.
    fn evening(&self, practising: &[&str], round: [&str; 2], seen: &str) {
        for name in practising {
            let typed = "7 clockwise\nset\n".to_owned() + &"123\n".repeat(12);
            let words =
                ["practice", "--learner", name, "--plain", "--skill", "back-bearing", "--count", "3", "--date", DAY];
            let said = self.typed(&words, &typed);
            assert_eq!((said.code, said.err.as_str()), (0, ""), "{}", said.out);
        }
        let words = ["practice", "--round", "--learner", round[0], "--learner", round[1], "--plain", "--skill"];
        let said = self
            .typed(&[&words[..], &["back-bearing", "--count", "2", "--date", DAY]].concat(), "\n1\n0\n\n1\n1\n\nend\n");
        assert_eq!((said.code, said.err.as_str()), (0, ""), "{}", said.out);
        // The same paper is printed on both, for one who is then asked at both.
        let words = ["worksheet", "--learner", "Kim", "--skill", "back-bearing", "--level", "2", "--count", "4"];
        self.run(&[&words[..], &["--seed", "5", "--format", "text", "--date", DAY]].concat());
        self.run(&["score", "--learner", "Kim", "--date", DAY, "1=1", "2=2"]);
        self.run(&["score", "--learner", "Kim", "--date", DAY, "--undo", "2", "2=1"]);
        for name in ["Bo", seen] {
            let words = ["check", "--learner", name, "--standard", "camp-evening", "--plain", "--date", DAY];
            let said = self.typed(&words, "999\n20 clockwise\nset\nend\n");
            assert_eq!((said.code, said.err.as_str()), (0, ""), "{}", said.out);
            assert!(said.out.contains("Your answer is recorded."), "{}", said.out);
        }
        self.run(&["patrol", "seen", seen, "--skill", "turns", "--by", "Alma", "--outcome", "yes", "--on", DAY]);
    }

    fn reports(&self) -> Vec<String> {
        let mut all = Vec::new();
        for words in [&["report"][..], &["report", "--standard", "camp-evening"], &["report", "--learner", "Kim"]] {
            all.push(self.run(&[words, &["--date", DAY]].concat()));
            all.push(self.run(&[words, &["--date", DAY, "--format", "json"]].concat()));
        }
        all.push(self.run(&["patrol", "list"]));
        all.push(self.run(&["score", "--learner", "Kim", "--date", DAY]));
        all.push(self.run(&["store", "export", "--format", "csv"]));
        all
    }
}

#[test]
fn an_evening_with_eight_people_at_two_laptops_of_which_one_is_killed_and_one_runs_full_comes_together_on_a_third() {
    let begun = Laptop::new();
    begun.run(&[&["patrol", "add"][..], &EIGHT, &["--patrol", "Kestrels"]].concat());
    let start = begun.file("start");
    begun.run(&["store", "backup", text(&start)]);
    let (one, other) = (Laptop::new(), Laptop::new());
    for laptop in [&one, &other] {
        laptop.run(&["store", "restore", text(&start), "--yes"]);
    }
    one.evening(&["Ana", "Bo", "Ida"], ["Ilva", "Mossa"], "Tarn");
    other.evening(&["Ana", "Veit", "Tarn"], ["Ilva", "Kim"], "Ida");
    // One is killed in the middle of practice: what was answered before is there.
    let before = one.answers();
    killed_in_the_middle(&one, "Mossa", 10);
    // Its disk full, the other keeps what it told to be kept, and says that it is full.
    let there = other.answers();
    let typed = "7 clockwise\nset\n".to_owned() + &"123\n".repeat(300);
    let words =
        ["practice", "--learner", "Veit", "--plain", "--skill", "back-bearing", "--count", "200", "--date", DAY];
    let full = other.with_room(96, &words, &typed);
    assert_eq!(full.code, 3, "{}", full.err);
    let told = full.err.lines().find_map(|line| line.strip_prefix("Answers of this session that are kept: "));
    let told: usize = told.expect(&full.err).parse().unwrap();
    assert!(told > 0, "{}", full.err);

    let (here, from_other) = (one.file("here"), other.file("there"));
    one.run(&["store", "backup", text(&here)]);
    other.run(&["store", "backup", text(&from_other)]);
    assert_eq!(answers_in(&here), before + 10, "all that was answered before the kill");
    assert_eq!(answers_in(&from_other), there + told, "all that was told to be kept");
    let (forth, back) = (Laptop::new(), Laptop::new());
    forth.run(&["store", "merge", text(&here), text(&from_other), "--yes"]);
    back.run(&["store", "merge", text(&from_other), "--yes"]);
    back.run(&["store", "merge", text(&here), "--yes"]);
    one.run(&["store", "merge", text(&from_other), "--yes"]);
    other.run(&["store", "merge", text(&here), "--yes"]);
    let third = Laptop::new();
    let all = forth.file("all");
    forth.run(&["store", "backup", text(&all)]);
    third.run(&["store", "restore", text(&all), "--yes"]);
    let (records, reports) = (forth.run(&["store", "export"]), forth.reports());
    for laptop in [&back, &one, &other, &third] {
        assert_eq!(laptop.run(&["store", "export"]), records);
        assert_eq!(laptop.reports(), reports);
        assert!(laptop.run(&["store", "verify"]).starts_with("All is whole: 8 learners"));
    }
    for name in EIGHT {
        assert!(reports[0].contains(name), "{}", reports[0]);
    }
    let of_paper = records.lines().filter(|line| line.contains("\"given_in\":\"worksheet\"")).count();
    assert_eq!(of_paper, 6, "three entries on each");
    assert!(
        forth.run(&["score", "--learner", "Kim", "--date", DAY]).contains("of 2 right so far, 2 open"),
        "one paper: {records}"
    );
}

/// Practises as lines, and is sent a signal while the next problem stands there; with which code it ended.
fn ended_in_the_middle(laptop: &Laptop, name: &str, answers: usize, signal: i32) -> Option<i32> {
    use std::io::{BufRead, BufReader, Write};
    let mut child = std::process::Command::new(assert_cmd::cargo::cargo_bin("needlewise"))
        .env_clear()
        .envs(laptop.variables())
        .args(["practice", "--learner", name, "--plain", "--skill", "back-bearing"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut keys = child.stdin.take().unwrap();
    let mut told = BufReader::new(child.stdout.take().unwrap()).lines();
    for _ in 0..answers {
        writeln!(keys, "123").unwrap();
        told.by_ref()
            .map(Result::unwrap)
            .find(|line| line.starts_with("Right.") || line.starts_with("Not right"))
            .unwrap();
    }
    // The next question stands there: a pause.
    let next = format!("Problem {}", answers + 1);
    told.by_ref().map(Result::unwrap).find(|line| line.starts_with(&next)).unwrap();
    assert_eq!(unsafe_free_kill(child.id(), signal), Some(0));
    child.wait().unwrap().code()
}

fn killed_in_the_middle(laptop: &Laptop, name: &str, answers: usize) {
    assert_eq!(ended_in_the_middle(laptop, name, answers, libc::SIGKILL), None);
}

/// Plain practice that is told to end in the middle; with how many answers in the one file.
fn ended_by(signal: i32, alone: impl Fn(&Path) -> usize) -> (usize, Option<i32>) {
    let laptop = Laptop::new();
    let code = ended_in_the_middle(&laptop, "Ana", 10, signal);
    (alone(&laptop.store()), code)
}

/// Sends a signal by the system's own command.
fn unsafe_free_kill(id: u32, signal: i32) -> Option<i32> {
    std::process::Command::new("kill").args([format!("-{signal}"), id.to_string()]).status().unwrap().code()
}

#[test]
fn whoever_is_ended_from_outside_leaves_everything_in_the_one_file_and_a_kill_takes_none_but_the_last_few() {
    let alone = |store: &Path| {
        let copy = store.with_file_name("alone.sqlite");
        fs::copy(store, &copy).unwrap();
        answers_in(&copy)
    };
    for signal in [libc::SIGHUP, libc::SIGTERM, libc::SIGINT] {
        assert_eq!(ended_by(signal, alone), (10, Some(128 + signal)));
    }
    let (answers, code) = ended_by(libc::SIGKILL, alone);
    assert_eq!(code, None);
    assert!((7..=10).contains(&answers), "{answers}");
}
