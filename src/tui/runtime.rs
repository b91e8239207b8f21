//! The runtime: the only place that touches a terminal, a clock or the store.
//!
//! There is no tick: the loop sleeps in `read` until a key comes or the window changes, so an idle program costs nothing.
//! The terminal is given back on every way out: leaving, a panic, SIGTERM, SIGHUP, SIGINT.

use super::model::Model;
use super::msg::{Cmd, Done, Msg, Opened};
use super::update::update;
use super::view::view;
use crate::learner::{Beliefs, Placement};
use crate::session::GroundCard;
use crate::skills;
use crate::store::{Learner, LearnerId, NewSession, Store, StoreError};
use crossterm::event::{DisableBracketedPaste, EnableBracketedPaste, Event, read};
use crossterm::terminal::{EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode};
use crossterm::{cursor, execute};
use jiff::Timestamp;
use ratatui::Terminal;
use ratatui::backend::CrosstermBackend;
use std::io::{self, BufWriter, Stdout, Write};

/// What the program does outside the store, given by the command line.
pub trait Backstage {
    /// Sets home ground to a place as typed, writes it down, and gives back the new card.
    ///
    /// # Errors
    /// The message for the screen.
    fn set_ground(&mut self, place: &str) -> Result<GroundCard, String>;

    /// Writes the theme down.
    ///
    /// # Errors
    /// The message for the screen.
    fn save_theme(&mut self, theme: &str) -> Result<(), String>;
}

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

type Screen = Terminal<CrosstermBackend<BufWriter<Stdout>>>;

/// Runs the program until somebody leaves.
///
/// # Errors
/// When the terminal cannot be set up, read or written.
pub fn run(launch: Launch<'_>) -> io::Result<()> {
    let Launch { store, mut model, first, backstage, seed } = launch;
    let mut stage = Stage { store, backstage, seed, day: model.day };
    // Done before the terminal is touched, so that the first picture is the right one.
    let mut leave = !settle(&mut model, &mut stage, first);

    restore_on_panic();
    restore_on_signals()?;
    let _guard = Guard::enter()?;
    let mut screen = Terminal::new(CrosstermBackend::new(BufWriter::with_capacity(1 << 16, io::stdout())))?;
    while !leave {
        screen.draw(|frame| view(&model, frame))?;
        let commands = match read()? {
            Event::Key(key) => update(&mut model, Msg::Key(key, Timestamp::now())),
            Event::Paste(text) => update(&mut model, Msg::Paste(text)),
            Event::Resize(..) => {
                refit(&mut screen)?;
                continue;
            }
            Event::FocusGained | Event::FocusLost | Event::Mouse(_) => continue,
        };
        leave = !settle(&mut model, &mut stage, commands);
    }
    Ok(())
}

/// A window that changed is drawn anew from nothing: what a terminal leaves behind on resizing cannot be known. Not by
/// `clear`, which asks the terminal where its cursor stands: one that does not answer would end the program.
fn refit(screen: &mut Screen) -> io::Result<()> {
    let size = screen.size()?;
    screen.resize(size.into())
}

/// Does commands, and what follows from them, until nothing is left to do. False when the program is left.
fn settle(model: &mut Model, stage: &mut Stage<'_>, commands: Vec<Cmd>) -> bool {
    let mut waiting = std::collections::VecDeque::from(commands);
    while let Some(command) = waiting.pop_front() {
        let Some(done) = stage.perform(command) else { return false };
        waiting.extend(update(model, Msg::Done(done)));
    }
    true
}

/// What commands work on.
struct Stage<'a> {
    store: Store,
    backstage: &'a mut dyn Backstage,
    seed: u64,
    day: jiff::civil::Date,
}

impl Stage<'_> {
    /// Does one command; none for leaving.
    fn perform(&mut self, command: Cmd) -> Option<Done> {
        Some(match command {
            Cmd::Quit => return None,
            Cmd::LoadLearners => Done::Learners(learners(&mut self.store).map_err(message)),
            Cmd::AddLearner(name, placement) => Done::Opened(self.add(&name, placement).map(Box::new).map_err(message)),
            Cmd::Open(learner, drill) => Done::Opened(self.open(learner, drill).map(Box::new).map_err(message)),
            Cmd::Look(learner) => Done::Looked(self.look(learner).map(Box::new).map_err(message)),
            Cmd::Record(pending) => {
                let recorded = self.store.record(&pending.attempt, &pending.belief);
                Done::Recorded(pending, recorded.map(|recorded| recorded.refolded).map_err(message))
            }
            Cmd::SetGround(place) => Done::GroundSet(self.backstage.set_ground(&place).map(Box::new)),
            Cmd::SaveTheme(theme) => Done::ThemeSaved(self.backstage.save_theme(theme)),
        })
    }

    fn add(&mut self, name: &str, placement: Placement) -> Result<Opened, StoreError> {
        let learner = self.store.add_learner(name, placement, Timestamp::now())?;
        self.open(learner.id, None)
    }

    fn open(&mut self, id: LearnerId, drill: Option<usize>) -> Result<Opened, StoreError> {
        let (learner, beliefs) = self.look(id)?;
        let began = Timestamp::now();
        let session = self.store.start_session(&NewSession {
            learner: id,
            at: began,
            day: self.day,
            drill: drill.map(|at| at.to_string()),
            program: env!("CARGO_PKG_VERSION").to_owned(),
        })?;
        self.seed = self.seed.wrapping_add(1);
        Ok(Opened { learner, beliefs, session, began, seed: self.seed, drill })
    }

    fn look(&mut self, id: LearnerId) -> Result<(Learner, Beliefs), StoreError> {
        let learner = self.store.learner(id)?.ok_or(StoreError::NoSuchLearner(id))?;
        let metas: Vec<_> = skills::metas().collect();
        let mut beliefs = Beliefs::new(&metas, learner.placement);
        for belief in self.store.beliefs(id)? {
            beliefs.restore(belief);
        }
        Ok((learner, beliefs))
    }
}

/// The learners, the one who practised last in front.
///
/// # Errors
/// [`StoreError`] when the store cannot be read.
pub fn learners(store: &mut Store) -> Result<Vec<Learner>, StoreError> {
    let mut learners = store.learners()?;
    if let Some(last) = store.last_learner()? {
        if let Some(at) = learners.iter().position(|learner| learner.id == last.id) {
            learners[..=at].rotate_right(1);
        }
    }
    Ok(learners)
}

fn message(error: StoreError) -> String {
    error.to_string()
}

/// Enters the full screen; leaves it when dropped.
struct Guard;

impl Guard {
    fn enter() -> io::Result<Guard> {
        enable_raw_mode()?;
        let guard = Guard;
        execute!(io::stdout(), EnterAlternateScreen, EnableBracketedPaste, cursor::Hide)?;
        Ok(guard)
    }
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

/// How long giving the terminal back may take when a signal ends the program.
#[cfg(unix)]
const GRACE: std::time::Duration = std::time::Duration::from_millis(500);

/// A thread of its own waits for SIGTERM, SIGHUP and SIGINT; it costs nothing while none comes. Whatever has a verdict is
/// on the disk already, so the program can be left at any moment.
#[cfg(unix)]
fn restore_on_signals() -> io::Result<()> {
    use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM};
    let mut signals = signal_hook::iterator::Signals::new([SIGTERM, SIGHUP, SIGINT])?;
    std::thread::Builder::new().stack_size(64 * 1024).spawn(move || {
        let Some(signal) = signals.forever().next() else { return };
        // A terminal that takes no more output must not keep the program alive.
        let _ = std::thread::Builder::new().stack_size(64 * 1024).spawn(move || {
            std::thread::sleep(GRACE);
            std::process::exit(128 + signal);
        });
        let _ = disable_raw_mode();
        // Held to the end, so that no rest of a frame comes after the full screen is left.
        let _out = io::stdout().lock();
        restore();
        std::process::exit(128 + signal);
    })?;
    Ok(())
}

#[cfg(not(unix))]
fn restore_on_signals() -> io::Result<()> {
    Ok(())
}
