//! A home folder of its own, and the real program in it.

use assert_cmd::Command;
use std::path::PathBuf;
use tempfile::TempDir;

/// A home folder, gone with the test.
pub struct Home(pub TempDir);

/// What the program said.
pub struct Said {
    pub code: i32,
    pub out: String,
    pub err: String,
}

impl Home {
    pub fn new() -> Home {
        Home(tempfile::tempdir().unwrap())
    }

    pub fn file(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    pub fn variables(&self) -> [(&'static str, PathBuf); 3] {
        [
            ("HOME", self.0.path().to_owned()),
            ("XDG_DATA_HOME", self.file("data")),
            ("XDG_CONFIG_HOME", self.file("config")),
        ]
    }

    pub fn typed(&self, words: &[&str], typed: &str) -> Said {
        self.said(Command::cargo_bin("needlewise").unwrap().args(words), typed)
    }

    /// Runs another program, which may run this one.
    pub fn said(&self, command: &mut Command, typed: &str) -> Said {
        let output = command.env_clear().env("PATH", std::env::var_os("PATH").unwrap()).envs(self.variables());
        let output = output.write_stdin(typed).output().unwrap();
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
        Said { code: output.status.code().unwrap(), out: text(output.stdout), err: text(output.stderr) }
    }

    /// What is said where this is typed and all goes well.
    pub fn done(&self, words: &[&str], typed: &str) -> String {
        let said = self.typed(words, typed);
        assert_eq!((said.code, said.err.as_str()), (0, ""), "{words:?}: {}", said.out);
        said.out
    }

    pub fn run(&self, words: &[&str]) -> String {
        self.done(words, "")
    }

    /// The same with its lines as one, since a report is wrapped.
    pub fn unwrapped(&self, words: &[&str]) -> String {
        self.run(words).split_whitespace().collect::<Vec<_>>().join(" ")
    }

    pub fn refused(&self, words: &[&str]) -> String {
        let said = self.typed(words, "");
        assert_eq!((said.code, said.out.as_str()), (2, ""), "{words:?}: {}", said.err);
        said.err
    }
}
