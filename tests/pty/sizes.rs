//! Windows of any size, changed at any moment, and ends that are no terminals.

use super::answers::{asked, practice, told};
use super::camp::{Camp, DAY};
use super::output::Output;
use super::term::{Setup, Term};
use std::fs::OpenOptions;
use std::os::unix::fs::OpenOptionsExt;
use std::process::{Command, Stdio};

fn too_small(output: &Output) -> bool {
    output.text().lines().any(|line| line.trim() == "Ctrl-C leaves.")
}

/// Ends the program with Ctrl-C and finds that nothing went wrong before.
fn leave(mut term: Term) {
    term.send(b"\x03");
    let status = term.wait_for_end();
    assert_eq!(status.exit_code(), 0, "{status:?}\n{}", term.screen_text());
    let panicked = term.look(|output| String::from_utf8_lossy(&output.raw).contains("panicked"));
    assert!(!panicked, "{}", term.screen_text());
}

#[test]
fn the_window_may_change_at_any_moment_and_typed_text_stays() {
    let camp = Camp::new();
    let mut term = Term::start(&camp, &practice("Kim", "true-magnetic"));
    term.wait_for_first_frame();
    let problem = asked(&mut term);
    term.type_keys("12");
    for (cols, rows) in [(120, 36), (80, 24), (20, 5), (500, 200), (1, 1), (2, 200), (500, 2), (79, 24), (80, 24)] {
        term.resize(cols, rows);
        let text = term.screen_text();
        if cols < 80 || rows < 24 {
            if cols >= 20 && rows >= 5 {
                assert!(term.look(too_small), "{text}");
                assert!(text.contains(&format!("{cols}x{rows}")), "{text}");
            }
            // Nobody sees what a key would do: none does anything.
            term.type_keys("9");
        } else {
            assert!(text.contains("› 12"), "at {cols}x{rows} the typed text is there:\n{text}");
            assert!(text.contains(&problem.code().to_string()), "the same problem:\n{text}");
        }
    }
    term.type_keys("3");
    assert!(term.screen_text().contains("› 123"), "{}", term.screen_text());
    term.type_keys("<backspace><backspace><backspace>");
    term.type_keys(&super::answers::right(&problem));
    assert_eq!(told(&term), Some(true));
    for (cols, rows) in [(1, 1), (200, 60), (80, 24)] {
        term.resize(cols, rows);
    }
    assert_eq!(told(&term), Some(true), "the verdict is still there:\n{}", term.screen_text());
    leave(term);
}

#[test]
fn every_screen_survives_every_size() {
    let camp = Camp::new();
    let mut term = Term::start(&camp, &["--date", DAY]);
    term.wait_for_first_frame();
    // The name, where to begin, the example, a question, its end, the page, the list of drills, the list of learners, home
    // ground, the help.
    for keys in ["Kim", "<enter>", "<enter>", "<enter>", "<esc>", "p", "<esc>", "d", "<esc>", "<esc>", "g", "?"] {
        term.type_keys(keys);
        for (cols, rows) in [(1, 1), (20, 5), (81, 25), (500, 200), (300, 24), (80, 120), (80, 24)] {
            term.resize(cols, rows);
        }
        assert!(!term.look(too_small), "{}", term.screen_text());
    }
    leave(term);
}

#[test]
fn many_changes_of_the_window_at_once_end_in_a_whole_picture() {
    let camp = Camp::new();
    let mut term = Term::start(&camp, &practice("Kim", "set-dial"));
    term.wait_for_first_frame();
    asked(&mut term);
    let before = term.screen_text();
    for at in 0..200 {
        term.resize_only(1 + at * 7 % 200, 1 + at * 5 % 60);
    }
    term.resize(80, 24);
    // The last change may have been drawn with an earlier one; a key brings a frame of its own, but the frames of changes
    // and of keys cannot be told apart, so the whole picture is waited for.
    term.type_keys("1<backspace>");
    term.wait_for("the whole picture", |output| output.text() == before);
    leave(term);
}

#[test]
fn a_tiny_window_from_the_start_gets_a_clear_message() {
    let camp = Camp::new();
    let setup = Setup { cols: 20, rows: 5, ..Setup::default() };
    let term = Term::start_in(&camp, setup, &practice("Kim", "true-magnetic"));
    term.wait_for_first_frame();
    let text = term.screen_text();
    for said in ["20x5", "80x24", "--plain", "Ctrl-C leaves."] {
        assert!(text.contains(said), "{said:?} is missing:\n{text}");
    }
    leave(term);
}

#[test]
fn a_terminal_of_a_name_that_nobody_knows_still_gets_a_screen() {
    let camp = Camp::new();
    let setup = Setup { term: "no-such-terminal", ..Setup::default() };
    let term = Term::start_in(&camp, setup, &["--date", DAY]);
    term.wait_for_text("What is your name?");
    leave(term);
}

fn plainly(camp: &Camp, args: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_needlewise"));
    command.args(args).env_clear().envs(camp.environment()).current_dir(camp.home());
    command
}

#[test]
fn without_a_terminal_on_both_ends_the_full_screen_is_refused() {
    let camp = Camp::new();
    // A terminal on one end only: that of a program which waits meanwhile.
    let term = Term::start(&camp, &["--date", DAY]);
    term.wait_for_first_frame();
    let terminal = || {
        let name = term.tty_name();
        OpenOptions::new().read(true).write(true).custom_flags(libc::O_NOCTTY).open(name).expect("the terminal")
    };
    for args in [&[][..], &["practice", "--learner", "Kim"][..]] {
        for (input, output) in [(false, false), (true, false), (false, true)] {
            let end = |is_terminal: bool| if is_terminal { terminal().into() } else { Stdio::piped() };
            let child = plainly(&camp, args)
                .stdin(if input { terminal().into() } else { Stdio::null() })
                .stdout(end(output))
                .stderr(Stdio::piped())
                .spawn()
                .unwrap();
            let done = child.wait_with_output().unwrap();
            let said = String::from_utf8(done.stderr).unwrap();
            assert_eq!(done.status.code(), Some(2), "{said}");
            assert!(said.contains("the full screen needs a terminal on both ends"), "{said}");
            assert!(said.contains("--plain"), "{said}");
            assert!(done.stdout.is_empty());
        }
    }
    leave(term);
}

#[test]
fn a_name_with_an_escape_sequence_is_refused_cleanly() {
    for name in ["\u{1b}[31mX", "X\u{9b}2J", "X\u{1b}]0;title\u{7}"] {
        let camp = Camp::new();
        let mut term = Term::start(&camp, &practice(name, "true-magnetic"));
        let status = term.wait_for_end();
        assert_eq!(status.exit_code(), 2, "{status:?}\n{}", term.screen_text());
        let raw = term.look(|output| String::from_utf8_lossy(&output.raw).into_owned());
        assert!(raw.contains("that name holds a control character"), "{raw:?}");
        let control = |c: char| c.is_control() && c != '\r' && c != '\n';
        assert!(!raw.contains(control), "nothing speaks to the terminal: {raw:?}");
        assert_eq!(camp.store().learners().unwrap(), [], "nobody was added");
        assert_eq!(term.modes(), term.before);
    }
}
