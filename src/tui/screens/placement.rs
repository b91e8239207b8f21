//! Where does a new learner begin? One question, and Enter takes the common answer.

use crate::learner::Placement;
use crate::tui::model::{Model, Screen};
use crate::tui::msg::Cmd;
use crate::tui::paint::{Lines, Painter};
use crate::tui::screens::who::Who;
use crate::tui::theme::Tone;
use crossterm::event::{KeyCode, KeyEvent};
use ratatui::layout::Rect;

/// The state: the new name.
#[derive(Clone, Debug)]
pub struct Placing {
    /// The new name.
    pub name: String,
    /// The screen it came from, to go back to.
    pub from: Who,
}

/// What can happen here.
#[derive(Debug)]
pub enum Msg {
    /// The learner begins here.
    Begin(Placement),
    /// Back to the name.
    Back,
}

/// The keys of this screen.
#[must_use]
pub const fn on_key(key: KeyEvent) -> Option<Msg> {
    match key.code {
        KeyCode::Enter | KeyCode::Char('n' | 'N') => Some(Msg::Begin(Placement::Fresh)),
        KeyCode::Char('y' | 'Y') => Some(Msg::Begin(Placement::DoneBefore)),
        KeyCode::Esc => Some(Msg::Back),
        _ => None,
    }
}

/// Takes in a message.
pub fn update(model: &mut Model, msg: Msg) -> Vec<Cmd> {
    let Screen::Placement(placing) = &mut model.screen else { return Vec::new() };
    match msg {
        Msg::Begin(placement) => vec![Cmd::AddLearner(placing.name.clone(), placement)],
        Msg::Back => {
            model.screen = Screen::Who(std::mem::take(&mut placing.from));
            vec![]
        }
    }
}

/// Draws the screen.
pub fn view(placing: &Placing, model: &Model, painter: &mut Painter<'_, '_>, area: Rect) {
    let mut lines = Lines::new(model.theme, area.width);
    lines.title(&format!("Hello, {}.", placing.name));
    lines.gap();
    lines.tone(Tone::Title, "Have you done this before?");
    lines.gap();
    lines.text("Enter   No, or not sure: begin with easy problems and a worked example.");
    lines.text("y       Yes: begin harder, and step down where it does not go well.");
    painter.lines(lines, area);
}

/// The keys on the bottom line.
pub const KEYS: &[(&str, &str)] = &[("Enter", "no, from the start"), ("y", "yes"), ("Esc", "back")];
