//! The tables of keys: no key has two meanings, what is not listed does nothing, and every bottom line has room.

use crate::asking;
use crate::check_word::{left_in_the_middle, not_yet, trial};
use crate::leader::{asked_about_the_clock, six};
use crate::measuring::{example as measured, measuring};
use crate::play::Play;
use crate::table::at;
use crossterm::event::{KeyCode, KeyEvent};
use jiff::Timestamp;
use needlewise::maptable::{LineName, Move, Place, Task};
use needlewise::tui::keys::{Listed, On, names};
use needlewise::tui::{EVERYWHERE, Msg, Screen, keys, update};
use std::collections::BTreeSet;
use unicode_width::UnicodeWidthStr;

/// Columns of the smallest layout, without the one that is free at each side.
const ROOM: usize = 78;

/// Every key that is tried.
fn alphabet() -> Vec<KeyCode> {
    let letters = (' '..='~').map(KeyCode::Char);
    let named = [
        KeyCode::Enter,
        KeyCode::Esc,
        KeyCode::Tab,
        KeyCode::BackTab,
        KeyCode::Up,
        KeyCode::Down,
        KeyCode::Left,
        KeyCode::Right,
        KeyCode::PageUp,
        KeyCode::PageDown,
        KeyCode::Home,
        KeyCode::End,
        KeyCode::Backspace,
        KeyCode::Delete,
        KeyCode::Insert,
    ];
    letters.chain(named).chain((1..=12).map(KeyCode::F)).collect()
}

fn everywhere() -> Vec<Listed> {
    keys::listed(EVERYWHERE, |_| true)
}

fn listed(lines: &[Listed], code: KeyCode) -> Vec<On> {
    let all = lines.iter().flat_map(|line| &line.keys).copied();
    all.filter(|on| on.means(KeyEvent::from(code))).collect()
}

#[test]
fn no_key_has_two_meanings_in_any_state_of_any_screen() {
    for state in Screen::tables() {
        for code in alphabet() {
            let mut meant = listed(&state.lines, code);
            let texts = meant.iter().filter(|on| **on == On::Text).count();
            meant.retain(|on| *on != On::Text);
            assert!(texts <= 1 && meant.len() <= 1, "{}: {code} means {meant:?}", state.heading);
            let global = listed(&everywhere(), code);
            assert!(global.is_empty() || meant.is_empty(), "{}: {code} means something on every screen", state.heading);
        }
    }
}

#[test]
fn every_bottom_line_has_room_for_all_its_keys_and_the_help_in_80_columns() {
    for state in Screen::tables() {
        let help = everywhere();
        let labels: Vec<_> = state.lines.iter().chain(&help).filter_map(|line| line.bottom).collect();
        let width: usize = labels.iter().map(|(key, label)| key.width() + 1 + label.width() + 2).sum();
        assert!(width - 2 <= ROOM, "{}: {} columns: {labels:?}", state.heading, width - 2);
        assert!(labels.last().is_some_and(|last| *last == ("?", "help")) && labels.len() > 1);
    }
}

#[test]
fn the_keys_named_on_a_bottom_line_are_those_of_its_line() {
    for state in Screen::tables() {
        for line in &state.lines {
            let Some((shown, _)) = line.bottom else { continue };
            // Several keys in short, or each by its name.
            let known = names(&line.keys);
            let short = ["←→↑↓", "1–9"];
            for name in shown.split(' ').filter(|name| !short.contains(name)) {
                let zero = name == "0" && line.keys.contains(&On::Digit);
                assert!(
                    zero || known.split(' ').any(|one| one == name),
                    "{}: {name} is none of {known}",
                    state.heading
                );
            }
        }
    }
}

/// A question in fields whose bottom line says that these keys choose.
fn labelled(skill: &'static str, level: u8, keys: &'static str) -> Play {
    let chooses = |play: &Play| play.model.screen.keys().iter().any(|line| line.bottom == Some((keys, "choose")));
    (1..50)
        .map(|seed| Play::new().seed(seed).skill(skill, level).keys("Ana<enter><enter><enter>"))
        .find(chooses)
        .unwrap_or_else(|| panic!("{skill} at level {level} lets nothing be chosen with {keys}"))
}

/// Plays that come to every state there is.
fn plays() -> Vec<Play> {
    let with = |play: Play, keys: &str| play.keys(keys);
    let ana = || Play::new().keys("Ana<enter><enter>s<esc>");
    let orient = || at("orient-magnetic-line", 1, |_| true);
    let bearing = || at("baseplate-bearing", 2, |desk| matches!(desk.problem.exercise.task, Task::MapBearing { .. }));
    let corrected = || at("oriented-bearing", 4, |desk| desk.problem.exercise.asks_bearing());
    let take = |level| at("take-bearing", level, |_| true);
    let follow = || at("follow-bearing", 1, |_| true);
    let laid = with(bearing(), "e");
    assert!(matches!(crate::table::desk(&laid).now.place(), Place::Along(LineName::Leg(_))));
    let told = || {
        let mut play = orient();
        play.at_table(&[Move::Done]);
        play
    };
    let steps = |play: Play| with(play, &"<right>".repeat(30));
    let example = || {
        (1..50)
            .map(|seed| Play::new().seed(seed).skill("orient-magnetic-line", 1).keys("Ana<enter><enter>"))
            .find(|play| matches!(&play.model.screen, Screen::Practice(screen) if screen.showing().is_some()))
            .expect("an example that is shown")
    };
    vec![
        Play::new(),
        Play::new().keys("A"),
        Play::new().keys("Ana<enter>"),
        with(ana(), "w"),
        with(ana(), "wn"),
        ana(),
        with(ana(), "p"),
        with(ana(), "pa"),
        asking("true-magnetic", 2).answer(None).keys("<esc>pa"),
        asking("true-magnetic", 2).answer(None).keys("<esc>pa<enter>"),
        with(ana(), "d"),
        with(ana(), "pg"),
        with(ana(), "pgs"),
        with(ana(), "pgw"),
        with(ana(), "pl"),
        with(ana(), "pl<enter>"),
        with(ana(), "pl<enter><enter>"),
        with(ana(), "pl<up><enter><enter><enter><enter>"),
        with(ana(), "pl<down><down><enter><enter><enter><enter>"),
        with(ana(), "pl<down><down><enter><enter><enter><enter><enter>"),
        Play::new().skill("true-magnetic", 2).keys("Ana<enter><enter>"),
        asking("true-magnetic", 2),
        asking("true-magnetic", 2).keys("0"),
        asking("dated-map", 2),
        asking("dated-map", 2).keys("1"),
        asking("diagram", 2),
        asking("set-dial", 2),
        asking("fix-on-line", 2),
        measured("grid-reference", 2),
        measuring("grid-reference", 2),
        measuring("grid-reference", 2).keys("r"),
        measuring("grid-reference", 2).answer(Some("northing-first")),
        measuring("scale-distance", 3),
        measuring("scale-distance", 3).keys("e"),
        measuring("scale-distance", 3).keys("e<up> b"),
        asking("true-magnetic", 2).answer(None),
        asking("true-magnetic", 2).answer(Some("sign-flipped")),
        labelled("turns", 2, "←→↑↓"),
        labelled("turns", 2, "←→↑↓").keys("r"),
        labelled("compass-points", 2, "←→↑↓"),
        labelled("compass-points", 2, "←→↑↓").keys("n"),
        orient(),
        with(orient(), "1"),
        bearing(),
        laid,
        with(bearing(), "e<enter>"),
        with(corrected(), "e<enter>90<enter>"),
        at("orient-landmarks", 1, |_| true),
        take(1),
        with(take(1), "<down><enter>"),
        with(take(4), "<down><enter>90<enter>"),
        with(take(3), "<down><enter>90<enter>"),
        follow(),
        with(follow(), "<enter>"),
        told(),
        with(told(), "w"),
        steps(with(told(), "w")),
        example(),
        steps(example()),
        six(),
        six().keys("n"),
        six().keys("m"),
        six().keys("mk"),
        left_in_the_middle().keys("mk"),
        left_in_the_middle().keys("mk<enter><up><up><up><down><down><down><enter>"),
        left_in_the_middle().keys("mk<enter><enter>"),
        not_yet().keys("mw"),
        trial(),
        six().keys("mr"),
        six().keys("me"),
        six().keys("ma"),
        six().keys("/"),
        six().keys("e"),
        six().keys("e<enter>"),
        six().keys("o"),
        six().keys("o<tab>"),
        six().keys("a"),
        six().keys("w"),
        six().keys("ww<enter>"),
        six().keys("wf"),
        six().keys("a<enter>"),
        six().keys("c"),
        asked_about_the_clock(),
        six().keys("c<enter>"),
        six().keys("c<enter><esc><enter><esc><esc>"),
        six().keys("<enter><enter><esc><enter><esc><esc>"),
        six().keys("r"),
        six().keys("r<enter>"),
        six().keys("r<enter><enter>"),
        six().keys("r<enter><esc>"),
        six().keys("t"),
    ]
}

#[test]
fn a_key_that_is_not_listed_changes_nothing_and_no_bottom_line_is_cut() {
    let mut reached: BTreeSet<String> = BTreeSet::new();
    for mut play in plays() {
        // A notice goes with any key.
        play.press("<f9>");
        let lines = play.model.screen.keys();
        reached.insert(format!("{lines:?}"));
        let state = |play: &Play| format!("{:?}\n{}", play.model.screen, play.text(80, 24));
        let before = state(&play);
        let bottom = play.text(80, 24).lines().last().unwrap_or_default().to_owned();
        assert!(bottom.ends_with("? help"), "the help is cut off: {bottom}");
        for code in alphabet() {
            let global = !listed(&everywhere(), code).is_empty();
            if global || !listed(&lines, code).is_empty() {
                continue;
            }
            let commands = update(&mut play.model, Msg::Key(KeyEvent::from(code), Timestamp::UNIX_EPOCH));
            assert!(commands.is_empty(), "{code} is not listed and does {commands:?}: {bottom}");
            assert_eq!(state(&play), before, "{code} is not listed and changes something: {bottom}");
        }
    }
    // What only a full disk or another day brings about is left out.
    let rare = ["try again to write the answer down", "go on to the next one"];
    for state in Screen::tables() {
        let known = format!("{:?}", state.lines);
        let missed = !reached.contains(&known) && !state.lines.iter().any(|line| rare.contains(&line.help));
        assert!(!missed, "no play comes to a state of \"{}\" with these keys: {:#?}", state.heading, state.lines);
    }
}
