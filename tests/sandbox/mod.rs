//! Running the real program in a house of its own: nothing of the machine's environment reaches it.

use assert_cmd::Command;
use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// A day inside the model.
pub const TODAY: &str = "2026-11-25";

/// A home folder that is empty at first.
pub struct Sandbox {
    home: TempDir,
}

/// What the program said.
pub struct Answer {
    pub out: String,
    pub err: String,
    pub code: i32,
}

/// One object of the program's JSON.
pub struct Json(Value);

impl Sandbox {
    pub fn new() -> Sandbox {
        Sandbox { home: tempfile::tempdir().unwrap() }
    }

    pub fn home(&self) -> &Path {
        self.home.path()
    }

    /// The settings' file, where the program looks for it.
    pub fn config(&self) -> PathBuf {
        self.home().join("settings/needlewise/config.toml")
    }

    pub fn write_config(&self, text: &str) {
        fs::create_dir_all(self.config().parent().unwrap()).unwrap();
        fs::write(self.config(), text).unwrap();
    }

    fn command(&self) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_needlewise"));
        command
            .env_clear()
            .env("HOME", self.home())
            .env("XDG_CONFIG_HOME", self.home().join("settings"))
            .env("XDG_DATA_HOME", self.home().join("data"))
            .current_dir(self.home());
        command
    }

    pub fn run(&self, args: &[&str]) -> Answer {
        Answer::of(self.command().args(args))
    }

    pub fn run_with(&self, variable: &str, value: &str, args: &[&str]) -> Answer {
        Answer::of(self.command().env(variable, value).args(args))
    }

    /// Runs what must be refused as bad input: exit 2, nothing on stdout, plain words on stderr.
    pub fn refused(&self, args: &[&str]) -> String {
        let answer = self.run(args);
        assert_eq!(answer.code, 2, "{args:?}: {}{}", answer.out, answer.err);
        assert_eq!(answer.out, "", "{args:?}");
        assert!(!answer.err.trim().is_empty(), "{args:?}");
        let control = |c: char| c.is_control() && c != '\n';
        assert!(!answer.err.contains(control), "{args:?}: {:?}", answer.err);
        answer.err
    }
}

impl Answer {
    fn of(command: &mut Command) -> Answer {
        let output = command.output().unwrap();
        Answer {
            out: String::from_utf8(output.stdout).unwrap(),
            err: String::from_utf8(output.stderr).unwrap(),
            code: output.status.code().unwrap(),
        }
    }

    /// The one line of JSON it is.
    pub fn json(&self) -> Json {
        assert_eq!(self.code, 0, "{}", self.err);
        assert_eq!(self.out.matches('\n').count(), 1, "one object on one line: {}", self.out);
        Json(serde_json::from_str(&self.out).unwrap())
    }

    /// The keys of that JSON in their order. No text in it may hold a comma.
    pub fn keys(&self) -> Vec<&str> {
        let entries = self.out.trim().trim_matches(['{', '}']).split(',');
        entries.filter_map(|entry| entry.split_once("\":")).map(|(key, _)| key.trim_matches('"')).collect()
    }
}

impl Json {
    pub fn value(&self, key: &str) -> Value {
        self.0.get(key).unwrap_or_else(|| panic!("no {key} in {}", self.0)).clone()
    }

    pub fn number(&self, key: &str) -> f64 {
        self.value(key).as_f64().unwrap_or_else(|| panic!("{key} is no number in {}", self.0))
    }

    pub fn text(&self, key: &str) -> String {
        self.value(key).as_str().unwrap_or_else(|| panic!("{key} is no text in {}", self.0)).to_owned()
    }

    pub fn is_null(&self, key: &str) -> bool {
        self.value(key).is_null()
    }
}

/// One row of a reference file, its cells found by the names in the file's head.
pub struct Row {
    names: csv::StringRecord,
    cells: csv::StringRecord,
}

impl Row {
    pub fn text(&self, name: &str) -> &str {
        let column = self.names.iter().position(|other| other == name).unwrap_or_else(|| panic!("no column {name}"));
        &self.cells[column]
    }

    pub fn number(&self, name: &str) -> f64 {
        self.text(name).parse().unwrap_or_else(|_| panic!("{name} is no number in {:?}", self.cells))
    }

    pub fn check(&self, name: &str, ours: f64, tolerance: f64) {
        let printed = self.number(name);
        assert!((ours - printed).abs() <= tolerance, "{name}: {ours} is not {printed} in {:?}", self.cells);
    }
}

pub fn rows(file: &str) -> Vec<Row> {
    let path = format!("{}/tests/reference/{file}", env!("CARGO_MANIFEST_DIR"));
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(path).unwrap();
    let names = reader.headers().unwrap().clone();
    reader.records().map(|cells| Row { names: names.clone(), cells: cells.unwrap() }).collect()
}

/// What is given and what is expected in a row of check_values.csv.
pub fn stated(id: &str) -> (String, String) {
    let rows = rows("check_values.csv");
    let row = rows.iter().find(|row| row.cells[0] == *id).unwrap_or_else(|| panic!("no {id}"));
    (row.cells[2].to_owned(), row.cells[3].to_owned())
}

/// Holds a text against its snapshot.
pub fn snapshot(name: &str, text: &str) {
    insta::with_settings!({
        snapshot_path => Path::new(env!("CARGO_MANIFEST_DIR")).join("snapshots/cli"),
        prepend_module_to_snapshot => false,
        omit_expression => true,
    }, { insta::assert_snapshot!(name, text) });
}
