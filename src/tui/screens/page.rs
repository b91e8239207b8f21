//! A learner's page: skills by family with their state, weak spots in words, when to return.

use crate::learner::State;
use crate::report::MixupPattern;
use crate::session::{Overview, no_pattern_words, sentence, weak_spot_words};
use crate::store::Learner;
use crate::tui::model::{Model, Screen};
use crate::tui::msg::{Cmd, Looked};
use crate::tui::paint::{Lines, Painter, cut, day_words, days_words};
use crate::tui::scroll::Scroll;
use crate::tui::theme::Tone;
use crossterm::event::{KeyCode, KeyEvent};
use jiff::civil::Date;
use ratatui::layout::Rect;

/// The state.
#[derive(Debug)]
pub struct LearnerPage {
    /// Whose page it is.
    pub learner: Learner,
    /// What is known.
    pub overview: Overview,
    /// Where mix-ups show, if only there.
    pub patterns: Vec<MixupPattern>,
    /// How far it is scrolled.
    pub scroll: Scroll,
}

/// What can happen here.
#[derive(Debug)]
pub enum Msg {
    /// Practise.
    Practise,
    /// To the drills.
    Drills,
    /// To home ground.
    Ground,
    /// Scroll.
    Scroll(i32),
    /// Back to where one came from: the list of learners, or the leader's page.
    Back,
    /// To the list of learners.
    Who,
    /// Leave.
    Quit,
}

impl LearnerPage {
    /// The page for a day.
    #[must_use]
    pub fn new(looked: Looked, day: Date) -> LearnerPage {
        let Looked { learner, beliefs, patterns } = looked;
        LearnerPage { learner, overview: Overview::new(&beliefs, day), patterns, scroll: Scroll::default() }
    }
}

/// The keys of this screen.
#[must_use]
pub const fn on_key(key: KeyEvent) -> Option<Msg> {
    match key.code {
        KeyCode::Enter => Some(Msg::Practise),
        KeyCode::Char('d') => Some(Msg::Drills),
        KeyCode::Char('g') => Some(Msg::Ground),
        KeyCode::Char('w') => Some(Msg::Who),
        KeyCode::Esc => Some(Msg::Back),
        KeyCode::Down => Some(Msg::Scroll(1)),
        KeyCode::Up => Some(Msg::Scroll(-1)),
        KeyCode::PageDown => Some(Msg::Scroll(10)),
        KeyCode::PageUp => Some(Msg::Scroll(-10)),
        KeyCode::Char('q') => Some(Msg::Quit),
        _ => None,
    }
}

/// Takes in a message.
pub fn update(model: &mut Model, msg: Msg) -> Vec<Cmd> {
    let Screen::Page(page) = &mut model.screen else { return Vec::new() };
    match msg {
        Msg::Practise => return vec![Cmd::Open(page.learner.id, None)],
        Msg::Drills => return vec![Cmd::Drills(page.learner.clone(), model.ground.home.clone())],
        Msg::Ground => model.screen = Screen::Ground(super::ground::GroundPage::default()),
        Msg::Scroll(by) => page.scroll.by(by),
        Msg::Back if model.leader.looks => return vec![Cmd::Patrol],
        Msg::Back | Msg::Who => return vec![Cmd::LoadLearners],
        Msg::Quit => return vec![Cmd::Quit],
    }
    Vec::new()
}

/// A state's shape, so that it is told without colour: hollow to full.
#[must_use]
pub const fn shape(state: State) -> &'static str {
    match state {
        State::NotMet => "·",
        State::Learning => "◔",
        State::WorthRepeating { .. } => "◑",
        State::Sure => "●",
    }
}

/// Draws the screen.
pub fn view(page: &LearnerPage, model: &Model, painter: &mut Painter<'_, '_>, area: Rect) {
    let overview = &page.overview;
    let mut lines = Lines::new(model.theme, area.width);
    lines.title(&page.learner.name);
    lines.gap();
    if overview.weak.is_empty() && overview.without_pattern.is_empty() {
        lines.quiet("No weak spot stands out.");
    }
    if !overview.weak.is_empty() {
        lines.title("Weak spots");
        for weak in &overview.weak {
            lines.hanging(Tone::Wrong, "○ ", &weak_spot_words(weak));
            lines.hanging(Tone::Quiet, "  ", weak.mend());
        }
    }
    for lost in &overview.without_pattern {
        lines.hanging(Tone::Wrong, "○ ", &sentence(&no_pattern_words(lost)));
    }
    if !page.patterns.is_empty() {
        lines.title("Where it goes wrong");
    }
    for one in &page.patterns {
        let MixupPattern { skill, mixup, words } = one;
        lines.hanging(Tone::Text, "· ", &format!("{}: you {}, {words}.", skill.title, mixup.said));
    }
    if let Some(day) = overview.return_on {
        lines.text(&format!("Come back: {}.", day_words(day, model.day)));
    }
    lines.gap();
    lines.quiet(&format!("{:<34}{:<16}{:<15}{}", "", "", "lately", "come back"));
    for (at, family) in overview.families.iter().enumerate() {
        if at > 0 {
            lines.gap();
        }
        lines.quiet(family.family.title());
        for line in &family.skills {
            let tone = match line.state {
                State::Sure => Tone::Right,
                State::NotMet => Tone::Quiet,
                State::Learning | State::WorthRepeating { .. } => Tone::Text,
            };
            let lately = match line.lately.of {
                0 => String::new(),
                of => format!("{} of {of} right", line.lately.times),
            };
            let due = match (line.state, line.due) {
                (State::NotMet, _) | (_, None) => String::new(),
                (_, Some(day)) => days_words(day, model.day),
            };
            lines.spans(vec![
                (tone, format!("{} ", shape(line.state))),
                (tone, format!("{:<32}", cut(line.skill.title, 31))),
                (tone, format!("{:<16}", line.state.words())),
                (Tone::Quiet, format!("{lately:<15}")),
                (Tone::Quiet, due),
            ]);
        }
    }
    painter.lines_from(lines, area, &page.scroll);
}

/// The keys on the bottom line.
pub const KEYS: &[(&str, &str)] =
    &[("Enter", "practise"), ("↑ ↓", "scroll"), ("d", "drills"), ("g", "ground"), ("w", "who"), ("q", "leave")];
