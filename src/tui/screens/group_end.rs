//! The end of a round or of turns, for all to see: what the group did, and nothing about anybody.

use crate::session::Flow;
use crate::store::Learner;
use crate::tui::model::{Model, Screen};
use crate::tui::msg::Cmd;
use crate::tui::paint::{Lines, Painter};
use crate::tui::scroll::Scroll;
use crate::tui::theme::Tone;
use crossterm::event::{KeyCode, KeyEvent};
use ratatui::layout::Rect;

/// The state.
#[derive(Debug)]
pub struct GroupEnd {
    /// What it was.
    pub title: &'static str,
    /// Name by name: answered and right.
    pub lines: Vec<GroupLine>,
    /// Whether something could not be written.
    pub lost: bool,
    /// How far it is scrolled.
    pub scroll: Scroll,
}

/// One member at the end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GroupLine {
    /// The name.
    pub name: String,
    /// How many were answered.
    pub answered: u32,
    /// How many of them right.
    pub right: u32,
}

/// What can happen here.
#[derive(Debug)]
pub enum Msg {
    /// To the patrol.
    Patrol,
    /// Scroll.
    Scroll(i32),
}

impl GroupEnd {
    /// The end of turns.
    #[must_use]
    pub fn of_turns(parts: impl IntoIterator<Item = (Learner, Flow)>, lost: bool) -> GroupEnd {
        let line = |(learner, flow): (Learner, Flow)| {
            let Flow::Practice(practice) = flow else { return None };
            let summary = practice.summary();
            Some(GroupLine { name: learner.name, answered: summary.answered, right: summary.right })
        };
        let mut lines: Vec<GroupLine> = parts.into_iter().filter_map(line).collect();
        lines.sort_by(|one, other| one.name.cmp(&other.name));
        GroupEnd { title: "Turns", lines, lost, scroll: Scroll::default() }
    }
}

/// The keys of this screen.
#[must_use]
pub const fn on_key(key: KeyEvent) -> Option<Msg> {
    match key.code {
        KeyCode::Enter | KeyCode::Esc => Some(Msg::Patrol),
        KeyCode::Down => Some(Msg::Scroll(1)),
        KeyCode::Up => Some(Msg::Scroll(-1)),
        _ => None,
    }
}

/// Takes in a message.
pub fn update(model: &mut Model, msg: Msg) -> Vec<Cmd> {
    let Screen::GroupEnd(page) = &mut model.screen else { return Vec::new() };
    match msg {
        Msg::Scroll(by) => {
            page.scroll.by(by);
            Vec::new()
        }
        Msg::Patrol => vec![Cmd::Patrol],
    }
}

/// Draws the screen.
pub fn view(page: &GroupEnd, model: &Model, painter: &mut Painter<'_, '_>, area: Rect) {
    let mut lines = Lines::new(model.theme, area.width);
    lines.title(&format!("{} are over. Thank you.", page.title));
    lines.gap();
    // Others look on: what each had stands on the leader's page.
    let (answered, right) = page.lines.iter().fold((0, 0), |sum, line| (sum.0 + line.answered, sum.1 + line.right));
    let members = page.lines.iter().filter(|line| line.answered > 0).count();
    let members = if members == 1 { "1 member".to_owned() } else { format!("{members} members") };
    let answers = if answered == 1 { "1 answer".to_owned() } else { format!("{answered} answers") };
    lines.text(&format!("{members}, {answers}, {right} right. Everything is kept."));
    lines.quiet("What each had, and what to teach next, stands on the leader's page.");
    if page.lost {
        lines.gap();
        lines
            .tone(Tone::Caution, "The last answer could not be written down and is lost. What came before it is kept.");
    }
    painter.lines_from(lines, area, &page.scroll);
}

/// The keys on the bottom line.
pub const KEYS: &[(&str, &str)] = &[("Enter", "to the patrol"), ("↑ ↓", "scroll")];
