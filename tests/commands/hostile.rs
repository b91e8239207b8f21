//! Odd files, odd letters, odd places: each has its message, and nothing hangs, is shown as it is, or is replaced.
#![cfg(unix)]

use assert_cmd::Command;
use std::fs;
use std::os::unix::fs::{FileTypeExt, PermissionsExt};
use std::path::{Path, PathBuf};
use std::time::Duration;
use tempfile::TempDir;

struct Camp(TempDir);

struct Said {
    code: i32,
    out: String,
    err: String,
}

impl Camp {
    fn new() -> Camp {
        Camp(tempfile::tempdir().unwrap())
    }

    fn file(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    fn store(&self) -> PathBuf {
        self.file("data/needlewise/records.sqlite")
    }

    fn settings(&self) -> PathBuf {
        self.file("config/needlewise/config.toml")
    }

    fn said(&self, mut command: Command, words: &[&str]) -> Said {
        let path = self.0.path();
        let command = command
            .env_clear()
            .env("PATH", std::env::var_os("PATH").unwrap())
            .envs([
                ("HOME", path.to_owned()),
                ("XDG_DATA_HOME", path.join("data")),
                ("XDG_CONFIG_HOME", path.join("config")),
            ])
            .args(words)
            .timeout(Duration::from_secs(60));
        let output = command.output().unwrap();
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
        let code = output.status.code().unwrap_or_else(|| panic!("{words:?} hangs"));
        Said { code, out: text(output.stdout), err: text(output.stderr) }
    }

    fn run(&self, words: &[&str]) -> Said {
        self.said(Command::cargo_bin("needlewise").unwrap(), words)
    }

    fn done(&self, words: &[&str]) -> String {
        let said = self.run(words);
        assert_eq!((said.code, said.err.as_str()), (0, ""), "{words:?}");
        said.out
    }
}

fn mode(path: &Path) -> u32 {
    fs::metadata(path).unwrap().permissions().mode() & 0o777
}

/// Signs that a terminal would obey, that turn the writing, or that nobody sees.
fn odd(text: &str) -> Vec<char> {
    text.chars()
        .filter(|c| {
            (c.is_control() && *c != '\n')
                || matches!(c, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}')
        })
        .collect()
}

const ODD: &str = "over\u{1b}[31m\u{202e}\u{200b}\u{9b} the moor";

#[test]
fn a_pipe_in_place_of_a_file_is_refused_at_once_and_stays_a_pipe() {
    let camp = Camp::new();
    fs::create_dir_all(camp.file("config/needlewise/drills")).unwrap();
    let pipe = |path: &Path| {
        assert!(std::process::Command::new("mkfifo").arg(path).status().unwrap().success());
    };
    pipe(&camp.settings());
    for words in [&["home", "show"][..], &["home", "set", "--at", "46.8, -28.6"], &["report"]] {
        let said = camp.run(words);
        assert!(said.code != 0 && said.err.contains("is no ordinary file"), "{words:?}: {}", said.err);
    }
    assert!(fs::symlink_metadata(camp.settings()).unwrap().file_type().is_fifo(), "it was not replaced");
    fs::remove_file(camp.settings()).unwrap();
    let odd = camp.file("odd.toml");
    pipe(&odd);
    for words in [
        &["check", "--plan", "--standard", odd.to_str().unwrap()][..],
        &["practice", "--plain", "--learner", "Ana", "--drill", odd.to_str().unwrap()],
        &["store", "restore", odd.to_str().unwrap(), "--yes"],
        &["report", "--store", odd.to_str().unwrap()],
    ] {
        let said = camp.run(words);
        assert!(said.code >= 2 && said.err.contains("no ordinary file"), "{words:?}: {}", said.err);
    }
}

#[test]
fn settings_and_records_are_for_their_owner_alone_also_where_they_were_not() {
    let camp = Camp::new();
    camp.done(&["home", "set", "--at", "46.8, -28.6"]);
    assert_eq!(mode(&camp.settings()), 0o600);
    fs::set_permissions(camp.settings(), fs::Permissions::from_mode(0o644)).unwrap();
    camp.done(&["home", "set", "--at", "46.8, -28.7"]);
    assert_eq!(mode(&camp.settings()), 0o600);
    camp.done(&["patrol", "add", "Ana"]);
    fs::set_permissions(camp.store(), fs::Permissions::from_mode(0o644)).unwrap();
    camp.done(&["patrol", "add", "Bo"]);
    assert_eq!(mode(&camp.store()), 0o600);
}

const COURSE: &str =
    "title = \"Tarn\"\ndeclination = \"2 E\"\nstart = \"46.8, -28.6\"\n[[leg]]\nbearing = \"040 M\"\nmetres = 200\n";

#[test]
fn pictures_and_new_courses_are_for_their_owner_alone_and_a_full_disk_leaves_none_behind() {
    let camp = Camp::new();
    let file = |name: &str| camp.file(name).to_str().unwrap().to_owned();
    fs::write(camp.file("tarn.toml"), COURSE).unwrap();
    let [tarn, plan, walked, figure, north, new, pegs] =
        ["tarn.toml", "plan.svg", "walked.svg", "figure.svg", "north.svg", "new.toml", "pegs.toml"].map(file);
    let ways: [(&str, &[&str]); 6] = [
        (&plan, &["course", &tarn, "--date", "2026-11-25", "--picture", &plan]),
        (&walked, &["course", &tarn, "--date", "2026-11-25", "--measured", "Ana", "041", "--picture", &walked]),
        (&figure, &["problem", "B1-2-7-v4", "--picture", &figure]),
        (&north, &["north", "--at", "46.8, -28.6", "--date", "2026-11-25", "--picture", &north]),
        (&new, &["course", "--new", &new]),
        (&pegs, &["course", "--pegs", "--first", "040", "--new", &pegs]),
    ];
    for (made, words) in ways {
        let mut shell = Command::new("sh");
        shell
            .args(["-c", "trap '' XFSZ; ulimit -f 0; exec \"$0\" \"$@\""])
            .arg(assert_cmd::cargo::cargo_bin("needlewise"));
        let said = camp.said(shell, words);
        assert!(said.code == 1 && said.err.contains("Nothing was written"), "{words:?}: {}", said.err);
        assert_eq!(fs::read_dir(camp.0.path()).unwrap().flatten().filter(|it| it.path() == Path::new(made)).count(), 0);
        camp.done(words);
        assert_eq!(mode(Path::new(made)), 0o600, "{words:?}");
        let whole = fs::read(made).unwrap();
        let said = camp.run(words);
        assert!(said.code == 1 && said.err.contains("is there already; name another file"), "{words:?}: {}", said.err);
        assert_eq!(fs::read(made).unwrap(), whole);
    }
    let hidden =
        fs::read_dir(camp.0.path()).unwrap().flatten().filter(|it| it.file_name().as_encoded_bytes()[0] == b'.');
    assert_eq!(hidden.count(), 0, "nothing is left beside them");
    // A link that leads nowhere is there, too.
    std::os::unix::fs::symlink(camp.file("nowhere"), camp.file("link.svg")).unwrap();
    assert_eq!(camp.run(&["course", "--new", &file("link.svg")]).code, 1);
    assert!(!camp.file("nowhere").exists());
}

#[test]
fn nothing_that_cannot_be_seen_reaches_terminal_table_or_json() {
    let camp = Camp::new();
    camp.done(&["patrol", "add", "Ana"]);
    let seen = ["patrol", "seen", "Ana", "--skill", "follow-bearing", "--by", "Alma", "--what"];
    let refused = camp.run(&[&seen[..], &["over\u{202e} the moor"]].concat());
    assert_eq!(refused.code, 2, "{}", refused.out);
    camp.done(&[&seen[..], &["over the moor"]].concat());
    // A store that somebody changed with another tool.
    let conn = rusqlite::Connection::open(camp.store()).unwrap();
    conn.execute("UPDATE seen SET what = ?1, seen_by = ?1", [ODD]).unwrap();
    conn.execute("UPDATE learners SET name = ?1", [ODD]).unwrap();
    drop(conn);
    for words in [
        &["report"][..],
        &["report", "--format", "csv"],
        &["report", "--format", "json"],
        &["patrol", "list"],
        &["patrol", "list", "--format", "json"],
        &["store", "export"],
        &["store", "export", "--format", "csv"],
        &["store", "verify"],
    ] {
        let said = camp.run(words);
        assert_eq!((odd(&said.out), odd(&said.err)), (vec![], vec![]), "{words:?}: {:?}", said.out);
    }
    let json: serde_json::Value =
        serde_json::from_str(camp.run(&["patrol", "list", "--format", "json"]).out.lines().next().unwrap()).unwrap();
    assert_eq!(json["name"], ODD, "JSON writes them by their numbers");
    for words in [
        &["report", "--learner", ODD][..],
        &["judge", ODD, "1"],
        &["report", "--standard", ODD],
        &["store", "restore", ODD],
        &["--store", ODD, "store", "path"],
        &["problem", ODD],
        &[ODD],
    ] {
        let said = camp.run(words);
        assert_eq!((odd(&said.out), odd(&said.err)), (vec![], vec![]), "{words:?}: {:?}", said.err);
    }
}

#[test]
fn reports_and_lists_are_read_where_nothing_can_be_written_and_say_so() {
    let camp = Camp::new();
    camp.done(&["patrol", "add", "Ana"]);
    let report = camp.done(&["report", "--date", "2026-11-25"]);
    for words in [&["report", "--date", "2026-11-25"][..], &["patrol", "list"]] {
        // No file may grow: as on a full disk.
        let mut shell = Command::new("sh");
        shell
            .args(["-c", "trap '' XFSZ; ulimit -f 0; exec \"$0\" \"$@\""])
            .arg(assert_cmd::cargo::cargo_bin("needlewise"));
        let said = camp.said(shell, words);
        assert_eq!((said.code, said.err.lines().count()), (0, 1), "{words:?}: {}", said.err);
        assert!(said.err.contains("can only be read here"), "{}", said.err);
        assert!(said.out == report || said.out == "Ana\n", "{}", said.out);
    }
}

#[test]
fn what_a_killed_program_left_beside_the_records_goes_after_an_hour() {
    let camp = Camp::new();
    camp.done(&["patrol", "add", "Ana"]);
    let draft = |letter: &str| camp.store().with_file_name(format!(".records.sqlite.{}.draft", letter.repeat(32)));
    let (old, young, other) = (draft("a"), draft("b"), camp.store().with_file_name(".records.sqlite.notes.draft"));
    for file in [&old, &young, &other] {
        fs::write(file, "half").unwrap();
    }
    for file in [&old, &other] {
        let touched = std::process::Command::new("touch").args(["-d", "2020-01-01"]).arg(file).status().unwrap();
        assert!(touched.success());
    }
    let copy = camp.file("copy");
    camp.done(&["store", "backup", copy.to_str().unwrap()]);
    camp.done(&["store", "merge", copy.to_str().unwrap(), "--yes"]);
    assert_eq!([&old, &young, &other].map(|file| file.exists()), [false, true, true]);
}
