//! The real program in a house of its own, with nothing of the machine around it.

use assert_cmd::Command;
use std::path::Path;
use tempfile::TempDir;

/// A home folder that is empty at first.
pub struct House(TempDir);

/// What the program said.
pub struct Answer {
    pub out: String,
    pub err: String,
    pub code: i32,
}

impl House {
    pub fn new() -> House {
        House(tempfile::tempdir().unwrap())
    }

    pub fn home(&self) -> &Path {
        self.0.path()
    }

    pub fn run(&self, words: &[&str]) -> Answer {
        let mut command = Command::new(env!("CARGO_BIN_EXE_needlewise"));
        command.env_clear().env("HOME", self.home()).current_dir(self.home());
        command.env("XDG_CONFIG_HOME", self.home().join("settings")).env("XDG_DATA_HOME", self.home().join("data"));
        let output = command.args(words).output().unwrap();
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
        Answer { out: text(output.stdout), err: text(output.stderr), code: output.status.code().unwrap() }
    }

    /// The message of bad input: exit 2, nothing on standard output, plain words.
    pub fn refused(&self, words: &[&str]) -> String {
        let answer = self.run(words);
        assert_eq!((answer.code, answer.out.as_str()), (2, ""), "{words:?}: {}", answer.err);
        assert!(!answer.err.contains(|c: char| c.is_control() && c != '\n'), "{words:?}: {:?}", answer.err);
        answer.err
    }
}
