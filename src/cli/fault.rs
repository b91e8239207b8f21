//! What went wrong, and how it is said: one line or a few on stderr, and the exit code.

use crate::drill::DrillError;
use crate::plain::PlainError;
use crate::store::StoreError;
use crate::textfile::unshowable;
use std::io::Write;
use std::process::ExitCode;

/// A command's failure.
#[derive(Debug)]
pub(super) enum Fault {
    /// It could not be done (exit 1).
    Could(String),
    /// Bad usage or bad input (exit 2): says the place and the mend.
    Input(String),
    /// Bad input in a file, told in full by whoever read it (exit 2).
    Shown(String),
    /// The store (exit 3).
    Store(String),
    /// The reader of our output went away: nothing to say (exit 0).
    Closed,
}

impl Fault {
    /// Bad input, from anything that says what is wrong.
    pub fn input(error: impl std::fmt::Display) -> Fault {
        Fault::Input(error.to_string())
    }

    /// What went wrong, for a screen; empty where there is nothing to say.
    pub fn words(&self) -> String {
        match self {
            Fault::Could(text) | Fault::Input(text) | Fault::Shown(text) | Fault::Store(text) => clean(text),
            Fault::Closed => String::new(),
        }
    }

    /// Says it on stderr; control characters never reach the terminal.
    pub fn report(self) -> ExitCode {
        let (text, code) = match self {
            Fault::Could(text) => (format!("needlewise: {text}"), 1),
            Fault::Input(text) => (format!("needlewise: {text}"), 2),
            Fault::Shown(text) => (text, 2),
            Fault::Store(text) => (format!("needlewise: {text}"), 3),
            Fault::Closed => return ExitCode::SUCCESS,
        };
        // When nobody reads the errors either, the exit code is all that is left to say.
        let _ = writeln!(std::io::stderr(), "{}", clean(&text));
        ExitCode::from(code)
    }
}

/// JSON with everything by its number that could speak to a terminal: such signs stand in texts alone, where that is the same.
pub(super) fn clean_json(json: &str) -> String {
    use std::fmt::Write;
    if !json.chars().any(unshowable) {
        return json.to_owned();
    }
    let mut out = String::with_capacity(json.len());
    for c in json.chars() {
        if unshowable(c) && c != '\n' {
            let mut units = [0; 2];
            for unit in c.encode_utf16(&mut units) {
                let _ = write!(out, "\\u{unit:04x}");
            }
        } else {
            out.push(c);
        }
    }
    out
}

/// Text without anything that could speak to a terminal.
pub(super) fn clean(text: &str) -> String {
    text.chars().map(|c| if unshowable(c) && c != '\n' { '\u{fffd}' } else { c }).collect()
}

/// What the system said, in plain words where it has none of its own.
pub(super) fn plainly(why: &std::io::Error) -> String {
    use std::io::ErrorKind;
    match why.kind() {
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => "the disk is full".to_owned(),
        ErrorKind::AlreadyExists => "there is a file of this name already; give another name".to_owned(),
        ErrorKind::NotFound => "there is no such file or folder".to_owned(),
        ErrorKind::PermissionDenied => "you may not do that there".to_owned(),
        ErrorKind::ReadOnlyFilesystem => "the disk is read-only".to_owned(),
        ErrorKind::IsADirectory => "it is a folder".to_owned(),
        _ => why.to_string(),
    }
}

impl From<std::io::Error> for Fault {
    fn from(error: std::io::Error) -> Fault {
        if error.kind() == std::io::ErrorKind::BrokenPipe { Fault::Closed } else { Fault::Could(plainly(&error)) }
    }
}

impl From<StoreError> for Fault {
    fn from(error: StoreError) -> Fault {
        match error {
            // The name was typed, so it is the input that is wrong.
            StoreError::Name(_)
            | StoreError::NameInUse { .. }
            | StoreError::InTheWay { .. }
            | StoreError::OlderBackup { .. }
            | StoreError::LeftBeside { .. }
            | StoreError::TheStoreItself { .. }
            | StoreError::BadLine { .. } => Fault::Input(error.to_string()),
            StoreError::CannotCopy { .. } => Fault::Could(error.to_string()),
            error => Fault::Store(error.to_string()),
        }
    }
}

impl From<DrillError> for Fault {
    fn from(error: DrillError) -> Fault {
        Fault::Shown(error.render(false))
    }
}

impl From<PlainError> for Fault {
    fn from(error: PlainError) -> Fault {
        match error {
            PlainError::Lines(error) => error.into(),
            // Erased by another program meanwhile: nothing is kept of them.
            PlainError::Store { source, kept } if kept == 0 || matches!(source, StoreError::NoSuchLearner(_)) => {
                source.into()
            }
            PlainError::Store { source, kept } => {
                Fault::Store(format!("{source}\nAnswers of this session that are kept: {kept}"))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::learner::Placement;
    use crate::store::Store;

    #[test]
    fn of_somebody_erased_meanwhile_no_answer_is_said_to_be_kept() {
        let folder = tempfile::tempdir().unwrap();
        let mut store = Store::open(&folder.path().join("records.sqlite"), &[]).unwrap();
        let now = "2026-11-25T18:00:00Z".parse().unwrap();
        let erased = store.add_learner("Ida", Placement::Fresh, now).unwrap().id;
        let said = |source| Fault::from(PlainError::Store { source, kept: 64 }).words();
        let told = said(StoreError::NoSuchLearner(erased));
        assert!(!told.contains("64") && !told.contains("kept"), "{told}");
        let told = said(StoreError::Locked { path: folder.path().to_owned() });
        assert!(told.contains("Answers of this session that are kept: 64"), "{told}");
    }
}
