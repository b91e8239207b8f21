//! Every way out gives the terminal back.

use super::answers::{keys, practice, problem_on, shows_example, told};
use super::camp::{Camp, DAY, open};
use super::output::Output;
use super::records::{opened_whole, recorded};
use super::term::{Setup, Term};
use needlewise::config::Config;
use needlewise::drill::Standard;
use needlewise::paper::Sheet;
use needlewise::session::{GroundCard, HomeGround, Plan};
use needlewise::tui::{self, Backstage, Launch, Model, Offer, ReportToPrint, SheetsToPrint, Theme};
use std::path::{Path, PathBuf};

/// The terminal is as it was before the program.
fn assert_given_back(term: &Term, how: &str) {
    term.look(|output| {
        let screen = output.screen();
        let text = output.text();
        assert!(!screen.alternate_screen(), "{how}: the full screen is left\n{text}");
        assert!(!screen.hide_cursor(), "{how}: the cursor is shown\n{text}");
        assert!(!screen.bracketed_paste(), "{how}: pastes come plain again\n{text}");
    });
    assert_eq!(term.modes(), term.before, "{how}: the terminal's modes are as before");
    assert!(term.modes().are_cooked());
}

/// The program in practice, its full screen entered.
fn practising(camp: &Camp, setup: Setup) -> Term {
    let term = Term::start_in(camp, setup, &practice("Kim", "true-magnetic"));
    term.wait_for_first_frame();
    term.look(|output| {
        assert!(output.screen().alternate_screen());
        assert!(output.screen().bracketed_paste());
    });
    assert!(!term.modes().are_cooked(), "the full screen takes keys raw");
    assert_ne!(term.modes(), term.before);
    term
}

#[test]
fn control_c_leaves_at_once_and_gives_the_terminal_back() {
    let camp = Camp::new();
    let mut term = practising(&camp, Setup::default());
    term.send(b"\x03");
    assert_eq!(term.wait_for_end().exit_code(), 0);
    assert_given_back(&term, "Ctrl-C");
    assert_eq!(term.screen_text().trim(), "", "nothing is left on the screen");
}

#[test]
fn q_at_the_end_of_the_session_gives_the_terminal_back() {
    let camp = Camp::new();
    let mut term = practising(&camp, Setup::default());
    term.type_keys("<esc>");
    term.send(b"q");
    assert_eq!(term.wait_for_end().exit_code(), 0);
    assert_given_back(&term, "q");
}

#[test]
fn signals_that_ask_the_program_to_end_give_the_terminal_back() {
    for (name, signal) in [("SIGTERM", libc::SIGTERM), ("SIGHUP", libc::SIGHUP), ("SIGINT", libc::SIGINT)] {
        let camp = Camp::new();
        let mut term = practising(&camp, Setup::default());
        term.signal(signal);
        let status = term.wait_for_end();
        assert_eq!(status.exit_code(), 128 + u32::try_from(signal).unwrap(), "{name}: {status:?}");
        assert_given_back(&term, name);
    }
}

#[test]
fn whoever_is_ended_by_a_signal_leaves_every_answer_in_the_one_file() {
    for signal in [libc::SIGTERM, libc::SIGHUP] {
        let camp = Camp::new();
        let mut term = practising(&camp, Setup::default());
        for _ in 0..2 {
            if term.look(shows_example) {
                term.type_keys("<enter>");
            }
            let problem = term.look(problem_on).expect("a problem's code");
            term.type_keys(&keys(&problem, problem.answer()));
            assert!(told(&term).is_some(), "{}", term.screen_text());
            term.type_keys("<enter>");
        }
        term.signal(signal);
        term.wait_for_end();
        let alone = camp.home().join("alone.sqlite");
        std::fs::copy(camp.store_path(), &alone).unwrap();
        let found = recorded(&opened_whole(&alone).unwrap(), "Kim", "true-magnetic");
        assert_eq!(found.len(), 2, "signal {signal}");
    }
}

#[test]
fn a_terminal_without_a_full_screen_gets_lines() {
    for name in ["dumb", ""] {
        let camp = Camp::new();
        let mut term =
            Term::start_in(&camp, Setup { term: name, ..Setup::default() }, &practice("Kim", "true-magnetic"));
        term.wait_for_text("bearing, in degrees from ");
        term.send(b"end\n");
        assert_eq!(term.wait_for_end().exit_code(), 0);
        let mut term = Term::start_in(&camp, Setup { term: name, ..Setup::default() }, &["--date", DAY]);
        assert_eq!(term.wait_for_end().exit_code(), 2);
        assert!(term.screen_text().contains("no full screen"), "{}", term.screen_text());
    }
}

#[test]
fn a_signal_in_the_middle_of_a_frame_gives_the_terminal_back() {
    // A frame of this window is far larger than what a terminal takes at once, so the program is still writing.
    for chunk in [12, 20, 30, 45, 60, 80, 100, 140] {
        let camp = Camp::new();
        let setup = Setup { cols: 400, rows: 150, signal: Some((chunk, libc::SIGTERM)), ..Setup::default() };
        let mut term = Term::start_in(&camp, setup, &["--theme", "day", "--date", DAY]);
        let mut next = 0;
        while !term.look(|output| output.ended) {
            // Each theme draws every cell anew, so that each frame is a large one.
            next += 1;
            assert!(next < 1000, "the signal never came");
            if !term.try_keys("<f2>") {
                break;
            }
        }
        let status = term.wait_for_end();
        assert_eq!(status.exit_code(), 128 + 15, "{status:?}");
        assert_given_back(&term, &format!("SIGTERM at chunk {chunk}"));
        let raw = term.look(|output| String::from_utf8_lossy(&output.raw).into_owned());
        let (_, after) = raw.rsplit_once("\x1b[?1049l").expect("the full screen was left");
        // A key that came too late is echoed by the terminal itself.
        let after = after.trim_end_matches("^[OQ");
        assert_eq!(after, "\x1b[?25h", "nothing of the frame comes after the full screen was left");
    }
}

#[test]
fn a_signal_ends_the_program_even_when_the_terminal_takes_no_more_output() {
    let camp = Camp::new();
    let mut term = practising(&camp, Setup::default());
    term.stop_output();
    term.send(b"?");
    term.signal(libc::SIGTERM);
    let status = term.wait_for_end();
    assert_eq!(status.exit_code(), 128 + 15, "{status:?}");
    assert_eq!(term.modes(), term.before, "the modes need no output");
}

#[test]
fn closing_the_window_ends_the_program() {
    let camp = Camp::new();
    let term = practising(&camp, Setup::default());
    let status = term.close_window();
    assert_eq!(status.exit_code(), 128 + 1, "ended by the hang-up and by nothing else: {status:?}");
}

/// Backstage that fails in the worst way when the theme is to be written down.
struct Broken;

impl Backstage for Broken {
    fn standards(&mut self) -> (Vec<Standard>, Option<String>) {
        (Standard::embedded().to_vec(), None)
    }

    fn drills(&mut self, _home: &HomeGround) -> (Vec<Offer>, Option<String>) {
        (Vec::new(), None)
    }

    fn set_ground(&mut self, _: &str) -> Result<GroundCard, String> {
        Err("not here".to_owned())
    }

    fn save_theme(&mut self, _: &str) -> Result<(), String> {
        panic!("the theme cannot be written down");
    }

    fn print_sheets(&mut self, _: &SheetsToPrint) -> Result<String, String> {
        Err("not here".to_owned())
    }

    fn print_map(&mut self, _: u64, _: Sheet) -> Result<String, String> {
        Err("not here".to_owned())
    }

    fn print_report(&mut self, _: &ReportToPrint) -> Result<String, String> {
        Err("not here".to_owned())
    }

    fn backup_file(&mut self) -> PathBuf {
        PathBuf::new()
    }
}

const CHILD: &str = "NEEDLEWISE_TEST_PANICS";

/// The library's own loop in a process of its own, in a terminal, with an error that nobody foresaw: this test starts
/// itself again. The release build aborts on panics, so what counts is the hook; nothing is unwound here either.
#[test]
fn a_panic_gives_the_terminal_back() {
    if let Some(store) = std::env::var_os(CHILD) {
        std::panic::set_hook(Box::new(|info| {
            eprintln!("said after the terminal was given back: {info}");
            std::process::abort();
        }));
        let card = GroundCard::new(&Config::default(), "", DAY.parse().unwrap());
        let plan = Plan::free(card.home.clone());
        let model = Model::new(Vec::new(), card, plan, Theme::named("dark").unwrap());
        let store = open(Path::new(&store));
        tui::run(Launch { store, model, first: Vec::new(), backstage: &mut Broken, seed: 1 }).unwrap();
        unreachable!("the program panics before it is left");
    }
    let camp = Camp::new();
    let this = std::env::current_exe().unwrap();
    let args = ["--exact", "leaving::a_panic_gives_the_terminal_back", "--nocapture", "--test-threads=1"];
    let store = camp.home().join("records.sqlite");
    let more = [(CHILD, store.to_str().unwrap())];
    let mut term = Term::start_other(&camp, Setup::default(), &this, &args, &more);
    term.wait_for_text("What is your name?");
    assert!(!term.modes().are_cooked());
    term.send(b"\x1bOQ");
    let status = term.wait_for_end();
    assert!(status.signal().is_some(), "aborted: {status:?}");
    assert_given_back(&term, "panic");
    let text = term.look(Output::text);
    assert!(text.contains("the theme cannot be written down"), "the message stays readable:\n{text}");
    let raw = term.look(|output| String::from_utf8_lossy(&output.raw).into_owned());
    let (left, said) = (raw.find("\x1b[?1049l").unwrap(), raw.find("the theme cannot").unwrap());
    assert!(left < said, "said after the full screen was left");
}
