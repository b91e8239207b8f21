//! The list of drills.

use crate::store::Learner;
use crate::tui::model::{Model, Screen};
use crate::tui::msg::Cmd;
use crate::tui::paint::{Lines, Painter};
use crossterm::event::{KeyCode, KeyEvent};
use ratatui::layout::Rect;

/// The state.
#[derive(Debug)]
pub struct DrillList {
    /// Who is going to practise.
    pub learner: Learner,
    /// The chosen drill.
    pub chosen: usize,
}

/// What can happen here.
#[derive(Debug)]
pub enum Msg {
    /// One up.
    Up,
    /// One down.
    Down,
    /// Begin the chosen one.
    Begin,
    /// Back to the learner's page.
    Back,
}

impl DrillList {
    /// The list for a learner.
    #[must_use]
    pub const fn new(learner: Learner) -> DrillList {
        DrillList { learner, chosen: 0 }
    }
}

/// The keys of this screen.
#[must_use]
pub const fn on_key(key: KeyEvent) -> Option<Msg> {
    match key.code {
        KeyCode::Up => Some(Msg::Up),
        KeyCode::Down => Some(Msg::Down),
        KeyCode::Enter => Some(Msg::Begin),
        KeyCode::Esc | KeyCode::Char('q') => Some(Msg::Back),
        _ => None,
    }
}

/// Takes in a message.
pub fn update(model: &mut Model, msg: Msg) -> Vec<Cmd> {
    let count = model.offers.len();
    let Screen::Drills(list) = &mut model.screen else { return Vec::new() };
    match msg {
        Msg::Up => list.chosen = list.chosen.saturating_sub(1),
        Msg::Down => list.chosen = (list.chosen + 1).min(count.saturating_sub(1)),
        Msg::Begin if count > 0 => return vec![Cmd::Open(list.learner.id, Some(list.chosen))],
        Msg::Begin => {}
        Msg::Back => return vec![Cmd::Look(list.learner.id)],
    }
    Vec::new()
}

/// Draws the screen.
pub fn view(list: &DrillList, model: &Model, painter: &mut Painter<'_, '_>, area: Rect) {
    let mut lines = Lines::new(model.theme, area.width);
    lines.title(&format!("Drills for {}", list.learner.name));
    lines.gap();
    // Each drill takes two lines at most; the window follows the choice.
    let room = usize::from(area.height).saturating_sub(6).max(3);
    let first = list.chosen.saturating_sub(room.saturating_sub(3));
    for (at, offer) in model.offers.iter().enumerate().skip(first) {
        lines.item(at == list.chosen, &offer.plan.title);
        if at == list.chosen {
            lines.hanging(crate::tui::theme::Tone::Quiet, "    ", &offer.about);
            lines.hanging(crate::tui::theme::Tone::Quiet, "    ", &pace(offer.plan.count, offer.plan.minutes));
        }
    }
    painter.lines(lines, area);
}

fn pace(count: Option<u32>, minutes: Option<u32>) -> String {
    match (count, minutes) {
        (Some(count), Some(minutes)) => format!("{count} problems, or {minutes} minutes at most."),
        (Some(count), None) => format!("{count} problems."),
        (None, Some(minutes)) => format!("{minutes} minutes."),
        (None, None) => "As long as you like.".to_owned(),
    }
}

/// The keys on the bottom line.
pub const KEYS: &[(&str, &str)] = &[("Enter", "begin"), ("↑ ↓", "choose"), ("Esc", "back")];
