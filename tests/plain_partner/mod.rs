//! A home folder of its own for the program, and a partner that talks with it line by line.

use assert_cmd::Command;
use needlewise::plain::asks;
use needlewise::problem::{Answer, Problem, realise};
use needlewise::skills;
use needlewise::store::{RecordedVerdict, Store};
use std::io::{BufRead, BufReader, Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, ChildStdout, Stdio};
use tempfile::TempDir;

/// What was said, against its picture.
pub fn snapshot(name: &str, text: &str) {
    insta::with_settings!({
        snapshot_path => concat!(env!("CARGO_MANIFEST_DIR"), "/snapshots/plain"),
        prepend_module_to_snapshot => false,
        omit_expression => true,
    }, { insta::assert_snapshot!(name, text) });
}

/// A home folder with nothing in it.
pub struct Home(TempDir);

/// What came of running the program.
pub struct Said {
    pub code: i32,
    pub out: String,
    pub err: String,
}

impl Home {
    pub fn new() -> Home {
        Home(tempfile::tempdir().unwrap())
    }

    fn path(&self) -> &Path {
        self.0.path()
    }

    /// Nothing of the machine around it but this folder.
    fn variables(&self) -> [(&'static str, PathBuf); 3] {
        [
            ("HOME", self.path().to_owned()),
            ("XDG_DATA_HOME", self.path().join("data")),
            ("XDG_CONFIG_HOME", self.path().join("config")),
        ]
    }

    pub fn store_path(&self) -> PathBuf {
        self.path().join("data").join("needlewise").join("records.sqlite")
    }

    pub fn store(&self) -> Store {
        let metas: Vec<_> = skills::metas().collect();
        Store::open_to_read(&self.store_path(), &metas).unwrap()
    }

    /// The codes and verdicts of Ilva's answers in a skill, the newest first.
    pub fn attempts(&self, skill: &str) -> Vec<(String, RecordedVerdict)> {
        let store = self.store();
        let learner = store.learner_by_name("Ilva").unwrap().unwrap();
        let attempts = store.attempts(learner.id, skill, 100).unwrap();
        attempts.into_iter().map(|attempt| (attempt.what.code, attempt.what.verdict)).collect()
    }

    /// Writes a file and gives its path.
    pub fn file(&self, name: &str, text: &str) -> String {
        let path = self.path().join(name);
        std::fs::write(&path, text).unwrap();
        path.to_str().unwrap().to_owned()
    }

    /// Runs the program with these words and this input.
    pub fn run(&self, words: &[&str], typed: &[u8]) -> Said {
        let mut command = Command::cargo_bin("needlewise").unwrap();
        let output = command.env_clear().envs(self.variables()).args(words).write_stdin(typed).output().unwrap();
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
        Said { code: output.status.code().unwrap(), out: text(output.stdout), err: text(output.stderr) }
    }

    /// Runs plain practice.
    pub fn practise(&self, words: &[&str], typed: &[u8]) -> Said {
        self.run(&[&["practice", "--plain"], words].concat(), typed)
    }
}

/// Plain practice in another process, answered line by line.
pub struct Partner {
    child: Child,
    input: Option<ChildStdin>,
    output: Option<BufReader<ChildStdout>>,
    heard: String,
}

impl Partner {
    pub fn begin(home: &Home, words: &[&str]) -> Partner {
        let mut child = std::process::Command::new(env!("CARGO_BIN_EXE_needlewise"))
            .args(["practice", "--plain"])
            .args(words)
            .env_clear()
            .envs(home.variables())
            .env("TERM", "dumb")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let (input, output) = (child.stdin.take(), child.stdout.take().map(BufReader::new));
        Partner { child, input, output, heard: String::new() }
    }

    /// Everything heard since the last answer.
    pub fn heard(&self) -> &str {
        &self.heard
    }

    /// Listens up to the question and gives back the problem that is asked.
    pub fn asked(&mut self) -> Problem {
        loop {
            if let Some(problem) = self.question() {
                return problem;
            }
            let mut line = String::new();
            let output = self.output.as_mut().expect("the output is open");
            assert!(output.read_line(&mut line).unwrap() > 0, "the program ended: {}", self.heard);
            self.heard.push_str(&line);
        }
    }

    /// The problem whose question was heard last, when the last line asks for its first field.
    fn question(&self) -> Option<Problem> {
        let last = self.heard.lines().next_back()?;
        let code = self.heard.lines().rev().find_map(|line| line.strip_prefix("Code: "))?;
        let problem = realise(&skills::read_code(code).unwrap()).unwrap();
        let asked = format!("{}?", asks(&problem.question().fields()[0]));
        last.to_lowercase().starts_with(&asked.to_lowercase()).then_some(problem)
    }

    /// Answers all fields and listens up to the next question; gives back what was told about the answer.
    pub fn answer(&mut self, problem: &Problem, answer: &Answer) -> String {
        for (field, value) in problem.question().fields().iter().zip(answer.values()) {
            self.say(&field.words(*value));
        }
        self.heard.clear();
        self.asked();
        let told = self.heard.split("\nProblem ").next().unwrap().trim_start().to_owned();
        told + "\n"
    }

    fn say(&mut self, line: &str) {
        writeln!(self.input.as_mut().expect("the input is open"), "{line}").unwrap();
    }

    /// Ends the practice and gives back its last words.
    pub fn end(mut self) -> String {
        self.say("end");
        let mut last = String::new();
        self.output.take().expect("the output is open").read_to_string(&mut last).unwrap();
        assert_eq!(self.finish(), (0, String::new()));
        last
    }

    /// Listens no longer.
    pub fn close_output(&mut self) {
        self.output = None;
        self.say("hint");
    }

    /// Waits for the end: exit code and errors.
    pub fn finish(mut self) -> (i32, String) {
        self.input = None;
        let mut errors = String::new();
        self.child.stderr.take().unwrap().read_to_string(&mut errors).unwrap();
        (self.child.wait().unwrap().code().unwrap(), errors)
    }

    /// Ends the process at once.
    pub fn kill(mut self) {
        self.child.kill().unwrap();
        self.child.wait().unwrap();
    }
}
