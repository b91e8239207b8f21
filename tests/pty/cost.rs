//! What the program costs: bytes for a key, and nothing while nobody does anything.

use super::answers::{asked, practice};
use super::camp::Camp;
use super::output::Output;
use super::term::{Setup, Term};

/// The bytes of the last frame.
fn last_frame(output: &Output) -> usize {
    output.frame_size(output.frames.len() - 1)
}

#[test]
fn typing_a_digit_costs_two_hundred_bytes_at_most() {
    for (cols, rows) in [(80, 24), (120, 36)] {
        let camp = Camp::new();
        let mut term =
            Term::start_in(&camp, Setup { cols, rows, ..Setup::default() }, &practice("Kim", "true-magnetic"));
        term.wait_for_first_frame();
        asked(&mut term);
        let mut most = 0;
        for key in ["0", "6", "5", "<backspace>", "<backspace>"] {
            term.type_keys(key);
            most = most.max(term.look(last_frame));
        }
        eprintln!("a digit costs {most} bytes at most ({cols}x{rows})");
        assert!((1..=200).contains(&most), "{most} bytes for a digit");
    }
}

/// Thirty steps of the dial in a skill, at both sizes, after these keys.
fn a_step_of_the_dial(skill: &'static str, kind: &str, first: &str) {
    for (cols, rows) in [(80, 24), (120, 36)] {
        let camp = Camp::new();
        let mut args = practice("Kim", skill);
        // A swinging needle would draw frames of its own between the steps.
        args.extend(["--level", "2", "--still"]);
        let mut term = Term::start_in(&camp, Setup { cols, rows, ..Setup::default() }, &args);
        term.wait_for_first_frame();
        let problem = asked(&mut term);
        assert_eq!(problem.question().kind(), kind);
        if !first.is_empty() {
            term.type_keys(first);
        }
        let (mut most, mut all) = (0, 0);
        for _ in 0..30 {
            let before = term.screen_text();
            term.type_keys("<right>");
            assert_ne!(term.screen_text(), before, "the dial turned");
            let bytes = term.look(last_frame);
            (most, all) = (most.max(bytes), all + bytes);
        }
        eprintln!("a step of the dial costs {most} bytes at most, {} on average ({skill}, {cols}x{rows})", all / 30);
        assert!((1..=3500).contains(&most), "{most} bytes for a step of the dial at {cols}x{rows}");
    }
}

#[test]
fn turning_the_dial_by_a_step_costs_3500_bytes_at_most() {
    a_step_of_the_dial("set-dial", "set-dial", "");
}

#[test]
fn turning_the_dial_on_the_map_by_a_step_costs_3500_bytes_at_most() {
    a_step_of_the_dial("baseplate-bearing", "table", "e");
}

/// How often all threads of the program gave up the processor of their own accord so far, that is, fell asleep.
#[cfg(target_os = "linux")]
fn sleeps(pid: libc::pid_t) -> u64 {
    let tasks = std::fs::read_dir(format!("/proc/{pid}/task")).expect("the program's threads");
    tasks
        .map(|task| {
            let status = std::fs::read_to_string(task.expect("a thread").path().join("status")).expect("its status");
            let line = status.lines().find_map(|line| line.strip_prefix("voluntary_ctxt_switches:"));
            line.expect("a count").trim().parse::<u64>().expect("a number")
        })
        .sum()
}

#[cfg(target_os = "linux")]
#[test]
fn an_idle_program_writes_nothing_and_does_not_wake_up() {
    for args in [&["--date", super::camp::DAY][..], &practice("Kim", "set-dial")[..]] {
        let camp = Camp::new();
        let mut term = Term::start(&camp, args);
        term.wait_for_first_frame();
        term.type_keys("a<backspace>");
        // The pause is what is measured, not a wait for something. The first may still see the program fall asleep after
        // its last frame; a program that wakes up of itself does so in each of them.
        let quiet = (0..3).any(|_| {
            let before = (sleeps(term.pid()), term.look(|output| output.raw.len()));
            std::thread::sleep(std::time::Duration::from_millis(300));
            let after = (sleeps(term.pid()), term.look(|output| output.raw.len()));
            eprintln!("in 300 ms: {} wakeups, {} bytes", after.0 - before.0, after.1 - before.1);
            before == after
        });
        assert!(quiet, "the program is awake while nobody does anything");
    }
}
