//! A bare machine: an empty home, and nothing of the developer's environment.

use needlewise::skills;
use needlewise::store::Store;
use std::path::{Path, PathBuf};

/// The day on which tests practise, unless they say another.
pub const DAY: &str = "2026-11-25";

/// A home folder of its own, gone with the test.
pub struct Camp {
    home: tempfile::TempDir,
}

impl Camp {
    pub fn new() -> Camp {
        Camp { home: tempfile::tempdir().expect("a folder for the test") }
    }

    pub fn home(&self) -> &Path {
        self.home.path()
    }

    /// All the program gets to see of an environment.
    pub fn environment(&self) -> Vec<(&'static str, PathBuf)> {
        vec![
            ("HOME", self.home().to_owned()),
            ("XDG_DATA_HOME", self.home().join("data")),
            ("XDG_CONFIG_HOME", self.home().join("config")),
            ("TERM", PathBuf::from("xterm-256color")),
        ]
    }

    /// Where the program keeps the records here.
    pub fn store_path(&self) -> PathBuf {
        self.home().join("data").join("needlewise").join("records.sqlite")
    }

    /// The records, opened by the library.
    pub fn store(&self) -> Store {
        open(&self.store_path())
    }
}

/// The store at a path, opened by the library.
pub fn open(path: &Path) -> Store {
    let metas: Vec<_> = skills::metas().collect();
    Store::open(path, &metas).unwrap_or_else(|error| panic!("the store does not open: {error}"))
}
