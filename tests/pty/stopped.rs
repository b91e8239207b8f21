//! The terminal goes away without a signal, a shell stops the program and lets it go on, and keys come faster than they are read.

use super::answers::practice;
use super::camp::Camp;
use super::output::Output;
use super::term::{Setup, Term};
use std::path::Path;

const PROGRAM: &str = env!("CARGO_BIN_EXE_needlewise");

#[test]
fn a_program_that_is_stopped_gives_the_terminal_to_the_shell_and_goes_on_where_it_was() {
    let camp = Camp::new();
    let mut term =
        Term::start_other(&camp, Setup::default(), Path::new("/bin/sh"), &["-i"], &[("PS1", "here> "), ("ENV", "")]);
    term.wait_for_text("here>");
    term.send(format!("'{PROGRAM}' {}\n", practice("Kim", "true-magnetic").join(" ")).as_bytes());
    let is_whole = |output: &Output| output.screen().alternate_screen() && output.text().contains("? help");
    term.wait_for("the program", is_whole);
    term.wait_for_first_frame();
    let before = term.screen_text();
    for _ in 0..3 {
        term.send(b"\x1a");
        term.wait_for("the shell", |output| {
            !output.screen().alternate_screen() && !output.screen().hide_cursor() && output.text().contains("topped")
        });
        assert!(term.modes().are_cooked(), "the shell reads lines");
        term.send(b"fg\n");
        term.wait_for("the same screen", |output| output.screen().alternate_screen() && output.text() == before);
        assert!(!term.modes().are_cooked(), "keys come raw again");
    }
    term.send(b"\x03");
    term.wait_for("the shell", |output| !output.screen().alternate_screen());
    term.send(b"exit\n");
    term.wait_for_end();
}

/// Alone in its window nobody could let it go on: the key does nothing.
#[test]
fn without_a_shell_the_key_that_stops_does_nothing() {
    let camp = Camp::new();
    let mut term = Term::start(&camp, &practice("Kim", "true-magnetic"));
    term.wait_for_first_frame();
    term.send(b"\x1a");
    term.type_keys("<esc>");
    term.send(b"\x03");
    assert_eq!(term.wait_for_end().exit_code(), 0);
}

#[cfg(target_os = "linux")]
#[test]
fn a_window_that_is_closed_ends_the_program_even_where_the_signal_is_held_back() {
    let camp = Camp::new();
    let words = practice("Kim", "true-magnetic");
    let args = [&["--block-signal=HUP", PROGRAM][..], &words].concat();
    let term = Term::start_other(&camp, Setup::default(), Path::new("/usr/bin/env"), &args, &[]);
    term.wait_for_first_frame();
    assert_eq!(term.close_window().exit_code(), 128 + 1, "ended as by the hang-up");
}

#[test]
fn a_burst_of_keys_is_read_to_its_end_without_another_key() {
    for size in [1_000, 1_024, 3_000, 20_000] {
        let camp = Camp::new();
        let mut term = Term::start(&camp, &practice("Kim", "true-magnetic"));
        term.wait_for_first_frame();
        let mut burst = vec![b'0'; size];
        burst.push(3);
        term.send(&burst);
        assert_eq!(term.wait_for_end().exit_code(), 0, "{size} keys and Ctrl-C");
    }
}

#[test]
fn a_sequence_that_stops_in_the_middle_leaves_the_keyboard_alive() {
    for begun in ["\x1b[<", "\x1b[<0;1", "\x1b]11;", "\x1bP", "\x1bO", "\x1b[200"] {
        let camp = Camp::new();
        let mut term = Term::start(&camp, &practice("Kim", "true-magnetic"));
        term.wait_for_first_frame();
        term.send([begun.as_bytes(), b"\x03"].concat().as_slice());
        assert_eq!(term.wait_for_end().exit_code(), 0, "{begun:?} and Ctrl-C");
    }
}

#[test]
fn a_window_that_changes_while_much_is_pasted_leaves_the_keyboard_alive() {
    for round in 0..12_u16 {
        let camp = Camp::new();
        let mut term = Term::start(&camp, &practice("Kim", "true-magnetic"));
        term.wait_for_first_frame();
        let paste = [b"\x1b[200~".as_slice(), &[b'7'; 6_000], b"\x1b[201~"].concat();
        for (at, part) in paste.chunks(997).enumerate() {
            term.send(part);
            if at % 2 == 0 {
                term.resize_only(80 + round, 24 + round % 3);
            }
        }
        term.send(b"\x03");
        assert_eq!(term.wait_for_end().exit_code(), 0, "round {round}");
    }
}
