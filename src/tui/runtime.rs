//! The runtime: the only place that touches a terminal, and the loop that reads the clock.
//!
//! There is no tick: the loop sleeps in `read` until a key comes or the window changes, so an idle program costs nothing.
//! The terminal is given back on every way out: leaving, a panic, SIGTERM, SIGHUP, SIGINT.

use super::hands::{Backstage, Hands};
use super::model::{Model, Screen};
use super::msg::{Cmd, Msg};
use super::pen::Pen;
use super::update::{leaves, update};
use super::view::{is_too_small, view};
use crate::platform::{self, Keyboard, Output};
use crate::store::{Store, settle_at_end};
use crossterm::event::{
    DisableBracketedPaste, EnableBracketedPaste, Event, KeyCode, KeyEvent, KeyEventKind, KeyModifiers,
};
use crossterm::terminal::{EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode};
use crossterm::{cursor, execute};
use jiff::Timestamp;
use ratatui::Terminal;
use std::io::{self, BufWriter, IsTerminal, Write};
use std::mem::ManuallyDrop;
use std::path::PathBuf;

/// What starts the program.
pub struct Launch<'a> {
    /// The open store.
    pub store: Store,
    /// The screens as they begin.
    pub model: Model,
    /// What is done before the first picture, for example opening a learner named on the command line.
    pub first: Vec<Cmd>,
    /// What lies outside the store.
    pub backstage: &'a mut dyn Backstage,
    /// Seeds the choice of problems; each session takes the next.
    pub seed: u64,
}

type Window = Terminal<Pen<BufWriter<Output>>>;

/// Runs the program until somebody leaves. A terminal that goes away ends the program here.
///
/// # Errors
/// When the terminal cannot be set up, read or written.
pub fn run(launch: Launch<'_>) -> io::Result<()> {
    let ended = run_in_terminal(launch);
    // Whatever has a verdict is on the disk already, and nobody is there to read a message.
    // What was a terminal when the screens began and is none any more has gone away, whatever the error says.
    let status = |error| platform::hung_up(error, io::stdin().is_terminal());
    if let Some(status) = ended.as_ref().err().and_then(status) {
        std::process::exit(status.into());
    }
    ended
}

fn run_in_terminal(launch: Launch<'_>) -> io::Result<()> {
    let Launch { store, mut model, first, backstage, seed } = launch;
    let mut hands = Hands { store, backstage, seed, day: model.shared.day, clock: Timestamp::now };
    // Done before the terminal is touched, so that the first picture is the right one.
    let mut leave = !hands.settle(&mut model, first);

    restore_on_panic();
    restore_on_signals(hands.store.path().to_owned())?;
    let _guard = Guard::enter()?;
    let mut keyboard = Keyboard::open()?;
    // Never dropped: where the cursor cannot be shown, its end says so on standard error, and panics when that is gone as well,
    // as it is behind a closed window. The guard shows the cursor.
    let screen = Terminal::new(Pen::new(BufWriter::with_capacity(1 << 16, Output::open()?)))?;
    let mut screen = ManuallyDrop::new(screen);
    let mut mouse = false;
    while !leave {
        screen.draw(|frame| view(&model, frame))?;
        // What was answered is shown: while it is read there is time.
        hands.store.pause(matches!(model.screen, Screen::Practice(_) | Screen::Round(_)));
        if model.screen.wants_mouse() != mouse {
            mouse = model.screen.wants_mouse();
            hold_mouse(mouse)?;
        }
        // At the map table things are seen to move and the needle swings. While nothing does, the loop sleeps in `read`.
        if model.screen.moves_by_itself() {
            let pressed = keyboard.poll(FRAME)?;
            // Before a key, too: one that is held down comes faster than pictures do.
            update(&mut model, Msg::Tick(Timestamp::now()));
            if !pressed {
                continue;
            }
        }
        let commands = match keyboard.read()? {
            Event::Key(key) if stops(key) => {
                // Alone in its window nobody could let it go on.
                if platform::is_a_job() {
                    restore();
                    platform::stop();
                    enter()?;
                    refit(&mut screen)?;
                    mouse = false;
                }
                continue;
            }
            // Nobody sees what they would do; but Ctrl-C leaves whatever is seen.
            Event::Key(key) if is_too_small(screen.size()?) && !leaves(key) => continue,
            Event::Paste(_) | Event::Mouse(_) if is_too_small(screen.size()?) => continue,
            Event::Key(key) => update(&mut model, Msg::Key(key, Timestamp::now())),
            Event::Paste(text) => update(&mut model, Msg::Paste(text)),
            Event::Resize(..) => {
                refit(&mut screen)?;
                continue;
            }
            Event::Mouse(event) => update(&mut model, Msg::Mouse(event, Timestamp::now())),
            Event::FocusGained | Event::FocusLost => continue,
        };
        leave = !hands.settle(&mut model, commands);
    }
    Ok(())
}

/// A window that changed is drawn anew from nothing: what a terminal leaves behind on resizing cannot be known. Not by
/// `clear`, which asks the terminal where its cursor stands: one that does not answer would end the program.
fn refit(screen: &mut Window) -> io::Result<()> {
    screen.backend().forget_size();
    let size = screen.size()?;
    screen.resize(size.into())
}

/// Ctrl-Z, which comes as a key while the terminal is raw.
fn stops(key: KeyEvent) -> bool {
    key.kind == KeyEventKind::Press && key.modifiers == KeyModifiers::CONTROL && key.code == KeyCode::Char('z')
}

/// How long one picture of what moves stands.
const FRAME: std::time::Duration = std::time::Duration::from_millis(40);

/// Asks the terminal for presses, releases and drags of the mouse, or no longer. Not for every motion, which would wake an
/// idle program.
fn hold_mouse(wanted: bool) -> io::Result<()> {
    let mut out = io::stdout();
    out.write_all(if wanted { b"\x1b[?1002h\x1b[?1006h" } else { b"\x1b[?1006l\x1b[?1002l" })?;
    out.flush()
}

/// Enters the full screen; leaves it when dropped.
struct Guard;

impl Guard {
    fn enter() -> io::Result<Guard> {
        // Whatever fails on the way is undone.
        let guard = Guard;
        enter()?;
        Ok(guard)
    }
}

fn enter() -> io::Result<()> {
    enable_raw_mode()?;
    execute!(io::stdout(), EnterAlternateScreen, EnableBracketedPaste, cursor::Hide)
}

impl Drop for Guard {
    fn drop(&mut self) {
        restore();
    }
}

/// Gives the terminal back. Errors have nowhere to go: the terminal itself is what fails.
fn restore() {
    let _ = disable_raw_mode();
    let mut out = io::stdout();
    let _ = hold_mouse(false);
    let _ = execute!(out, DisableBracketedPaste, LeaveAlternateScreen, cursor::Show);
    let _ = out.flush();
}

fn restore_on_panic() {
    let before = std::panic::take_hook();
    std::panic::set_hook(Box::new(move |info| {
        restore();
        before(info);
    }));
}

/// Whatever has a verdict is on the disk already, so the program can be left at any moment.
fn restore_on_signals(store: PathBuf) -> io::Result<()> {
    platform::end_with_terminal(move || {
        let _ = disable_raw_mode();
        // Before anything that a terminal without a reader could hold up.
        settle_at_end(&store);
        // Held to the end, so that no rest of a frame comes after the full screen is left.
        std::mem::forget(io::stdout().lock());
        restore();
    })
}
