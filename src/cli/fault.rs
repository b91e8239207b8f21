//! What went wrong, and how it is said: one line or a few on stderr, and the exit code.

use std::process::ExitCode;

/// A command's failure.
#[derive(Debug)]
pub(super) enum Fault {
    /// It could not be done (exit 1).
    Could(String),
    /// Bad usage or bad input (exit 2): says the place and the mend.
    Input(String),
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

    /// Says it on stderr; control characters never reach the terminal.
    pub fn report(self) -> ExitCode {
        let (text, code) = match self {
            Fault::Could(text) => (text, 1),
            Fault::Input(text) => (text, 2),
            Fault::Store(text) => (text, 3),
            Fault::Closed => return ExitCode::SUCCESS,
        };
        eprintln!("needlewise: {}", clean(&text));
        ExitCode::from(code)
    }
}

/// Text without anything that could speak to a terminal.
pub(super) fn clean(text: &str) -> String {
    text.chars().map(|c| if c.is_control() && c != '\n' { '\u{fffd}' } else { c }).collect()
}

impl From<std::io::Error> for Fault {
    fn from(error: std::io::Error) -> Fault {
        if error.kind() == std::io::ErrorKind::BrokenPipe { Fault::Closed } else { Fault::Could(error.to_string()) }
    }
}

impl From<crate::store::StoreError> for Fault {
    fn from(error: crate::store::StoreError) -> Fault {
        Fault::Store(error.to_string())
    }
}
