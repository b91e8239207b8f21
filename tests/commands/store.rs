//! `needlewise store`: copies of the records, those of other laptops, damage.
#![cfg(unix)]

use assert_cmd::Command;
use serde_json::Value;
use std::fs;
use std::os::unix::fs::PermissionsExt;
use std::path::{Path, PathBuf};
use std::process::Stdio;
use tempfile::TempDir;

/// A laptop: a home folder of its own.
struct Laptop(TempDir);

struct Said {
    code: i32,
    out: String,
    err: String,
}

impl Laptop {
    fn new() -> Laptop {
        Laptop(tempfile::tempdir().unwrap())
    }

    fn file(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    fn store(&self) -> PathBuf {
        self.file("data/needlewise/records.sqlite")
    }

    fn variables(&self) -> [(&'static str, PathBuf); 3] {
        let path = self.0.path();
        [("HOME", path.to_owned()), ("XDG_DATA_HOME", path.join("data")), ("XDG_CONFIG_HOME", path.join("config"))]
    }

    fn typed(&self, words: &[&str], typed: &str) -> Said {
        let mut command = Command::cargo_bin("needlewise").unwrap();
        let output = command.env_clear().envs(self.variables()).args(words).write_stdin(typed).output().unwrap();
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
        Said { code: output.status.code().unwrap(), out: text(output.stdout), err: text(output.stderr) }
    }

    fn run(&self, words: &[&str]) -> String {
        let said = self.typed(words, "");
        assert_eq!((said.code, said.err.as_str()), (0, ""), "{words:?}: {}", said.out);
        said.out
    }

    fn refused(&self, code: i32, words: &[&str]) -> String {
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
    assert!(one.refused(2, &["store", "backup", text(&copy)]).contains("--force"));
    one.run(&["store", "backup", text(&copy), "--force"]);

    other.practises("Bo", 1);
    let asked = other.refused(2, &["store", "restore", text(&copy)]);
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
        let said = laptop.refused(3, &["store", "restore", file, "--yes"]);
        assert!(said.contains(says), "{said}");
    }
    assert!(laptop.refused(2, &["store", "restore", text(&laptop.store()), "--yes"]).contains("the store itself"));
    assert_eq!(laptop.answers(), 1);
    let empty = Laptop::new();
    assert!(empty.refused(3, &["store", "backup", "copy"]).contains("no records yet"));
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
    assert!(laptop.refused(2, &["store", "mend", text(&new)]).contains("is there already"));
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
    let asked = one.refused(2, &["store", "merge", text(&there)]);
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
    for (pair, says) in [("Tarn", "with = between"), ("Nobody=Tarn", "nobody is named Nobody")] {
        let said = one.refused(2, &["store", "merge", text(&there), "--yes", "--same", pair]);
        assert!(said.contains(says), "{said}");
    }
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
    assert!(one.refused(1, &["store", "export", "--output", text(&file)]).contains("already"));
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

/// Plain practice that is told to end in the middle; with how many answers in the one file.
fn ended_by(signal: i32, alone: impl Fn(&Path) -> usize) -> (usize, Option<i32>) {
    use std::io::{BufRead, BufReader, Write};
    let laptop = Laptop::new();
    let mut child = std::process::Command::new(assert_cmd::cargo::cargo_bin("needlewise"))
        .env_clear()
        .envs(laptop.variables())
        .args(["practice", "--learner", "Ana", "--plain", "--skill", "back-bearing"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut keys = child.stdin.take().unwrap();
    let mut told = BufReader::new(child.stdout.take().unwrap()).lines();
    for _ in 0..10 {
        writeln!(keys, "123").unwrap();
        told.by_ref()
            .map(Result::unwrap)
            .find(|line| line.starts_with("Right.") || line.starts_with("Not right"))
            .unwrap();
    }
    // The next question stands there: a pause.
    told.by_ref().map(Result::unwrap).find(|line| line.starts_with("Problem 11")).unwrap();
    assert_eq!(unsafe_free_kill(child.id(), signal), Some(0));
    let status = child.wait().unwrap();
    (alone(&laptop.store()), status.code())
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
