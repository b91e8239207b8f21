//! What is seen to move at the map table, and that nothing waits for it.

use super::play::Play;
use super::table::{at_from, desk, hold, oriented_by, screen};
use jiff::{SignedDuration, Timestamp};
use needlewise::angle::North;
use needlewise::maptable::{Hold, Place, Pose};
use needlewise::tui::pen::Pen;
use needlewise::tui::screens::practice::PracticeScreen;
use needlewise::tui::screens::table::Desk;
use needlewise::tui::{Msg, Screen, update, view};
use ratatui::layout::Rect;
use ratatui::{Terminal, TerminalOptions, Viewport};
use std::cell::Cell;
use std::io::{self, Write};
use std::rc::Rc;

fn table(level: u8) -> Play {
    at_from(|| Play::new().moving(), "orient-true-line", level, oriented_by(North::True))
}

/// Lets so much time go by after the present moment of the plays, which no play outlasts.
fn wait(play: &mut Play, milliseconds: i64) {
    let now: Timestamp = "2026-11-25T19:00:00Z".parse().unwrap();
    update(&mut play.model, Msg::Tick(now + SignedDuration::from_millis(milliseconds)));
}

fn at_rest(desk: &Desk) -> Pose {
    Pose::at_rest(desk.now, desk.problem.exercise.needle())
}

#[test]
fn the_edge_lies_on_its_line_at_once_and_is_seen_to_go_there() {
    let mut play = table(2).keys("e");
    let now = desk(&play);
    assert!(matches!(now.now.place(), Place::Along(_)), "the table waits for nothing");
    assert!(now.moving.moves_by_itself());
    let pose = now.moving.pose();
    assert!(pose.aside.x.hypot(pose.aside.y) > 1.0, "it glides: {:?}", pose.aside);
    assert_ne!(pose.table.baseplate(), now.now.baseplate(), "and turns");
    wait(&mut play, 0);
    assert_eq!(*desk(&play).moving.pose(), at_rest(desk(&play)));
    assert!(!desk(&play).moving.moves_by_itself());
}

#[test]
fn keys_during_a_motion_do_what_they_do_without_it() {
    let keys = "e20<enter><down><down>r<left>";
    let mut moving = table(2).keys(keys);
    let still = at_from(Play::new, "orient-true-line", 2, oriented_by(North::True)).keys(keys);
    assert_eq!(desk(&moving).now, desk(&still).now);
    assert_eq!(desk(&moving).moves, desk(&still).moves);
    wait(&mut moving, 0);
    assert_eq!(moving.text(80, 24), still.text(80, 24));
}

#[test]
fn a_single_degree_is_drawn_at_once() {
    let play = table(2).keys("<right>");
    assert_eq!(*desk(&play).moving.pose(), at_rest(desk(&play)));
}

#[test]
fn a_showing_goes_from_step_to_step_as_hands_would() {
    let mut play = Play::new().moving().skill("orient-true-line", 2);
    play = (1..200)
        .map(|seed| Play::new().moving().skill("orient-true-line", 2).seed(seed).keys("Ana<enter><enter>"))
        .find(|play| matches!(&play.model.screen, Screen::Practice(screen) if screen.showing().is_some()))
        .unwrap_or(play);
    let shown = |play: &Play| {
        let showing = PracticeScreen::showing(screen(play)).expect("a showing");
        (*showing.moving.pose(), *showing.table(), showing.moving.moves_by_itself())
    };
    let mut moved = 0;
    while !screen(&play).showing().expect("a showing").is_done() {
        play.press("<enter>");
        let (pose, lies, moves) = shown(&play);
        moved += usize::from(pose.table != lies && moves);
        wait(&mut play, 0);
        let (pose, lies, moves) = shown(&play);
        assert!(pose.table == lies && !moves, "it comes to rest");
    }
    assert!(moved >= 2, "{moved} steps were seen to move");
    let lies = shown(&play).1;
    play.press("<left><left>");
    assert_ne!(shown(&play).1, lies, "backward, too");
}

/// Counts what is written.
#[derive(Clone, Default)]
struct Counting(Rc<Cell<usize>>);

impl Write for Counting {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.set(self.0.get() + bytes.len());
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// The bytes of all pictures of a key in a window of this size, until a motion is over; and how many pictures changed.
fn cost(play: &mut Play, key: &str, (cols, rows): (u16, u16)) -> (usize, usize) {
    let written = Counting::default();
    let viewport = Viewport::Fixed(Rect { x: 0, y: 0, width: cols, height: rows });
    let mut terminal = Terminal::with_options(Pen::new(written.clone()), TerminalOptions { viewport }).unwrap();
    let mut draw = |play: &Play| {
        let before = written.0.get();
        terminal.draw(|frame| view(&play.model, frame)).unwrap();
        written.0.get() - before
    };
    draw(play);
    play.press(key);
    let mut costs = vec![draw(play)];
    let pressed = play.now();
    for picture in 1..=8 {
        update(&mut play.model, Msg::Tick(pressed + SignedDuration::from_millis(40 * picture)));
        costs.push(draw(play));
    }
    (costs.iter().sum(), costs.iter().filter(|bytes| **bytes > 400).count())
}

#[test]
fn ten_degrees_cost_ten_kilobytes_at_most_with_their_motion() {
    for level in 1..=4 {
        for held in [Hold::Both, Hold::Dial, Hold::Map] {
            let mut play = hold(table(level).keys("e"), held);
            wait(&mut play, 0);
            let (bytes, pictures) = cost(&mut play, "<down>", (80, 24));
            eprintln!("level {level}: ten degrees of {} cost {bytes} bytes in {pictures} pictures", held.words());
            assert!(bytes <= 10_000, "level {level}, {held:?}: {bytes} bytes");
            assert!(pictures >= 2, "level {level}, {held:?}: {pictures} pictures");
        }
    }
}
