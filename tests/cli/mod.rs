//! The program run as a command: what it printed, what it refused, and its snapshots.

use assert_cmd::Command;

/// The program, with nothing of the machine around it.
pub fn needlewise() -> Command {
    let mut command = Command::cargo_bin("needlewise").unwrap();
    command.env_clear().env("HOME", env!("CARGO_TARGET_TMPDIR"));
    command
}

/// Exit code, standard output, standard error.
pub fn run(words: &[&str]) -> (i32, String, String) {
    let output = needlewise().args(words).output().unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    (output.status.code().unwrap(), text(output.stdout), text(output.stderr))
}

/// What it printed, with no message.
pub fn printed(words: &[&str]) -> String {
    let (code, out, err) = run(words);
    assert_eq!((code, err.as_str()), (0, ""), "{words:?}");
    out
}

/// The message of bad input.
pub fn refused(words: &[&str]) -> String {
    let (code, out, err) = run(words);
    assert_eq!((code, out.as_str()), (2, ""), "{words:?}: {err}");
    err
}

/// A snapshot among those of the command line.
pub fn snapshot(name: &str, text: &str) {
    let mut settings = insta::Settings::clone_current();
    settings.set_snapshot_path(concat!(env!("CARGO_MANIFEST_DIR"), "/snapshots/cli"));
    settings.set_prepend_module_to_snapshot(false);
    settings.set_omit_expression(true);
    settings.bind(|| insta::assert_snapshot!(name, text));
}
