//! A learner's page: skills by family with their state, weak spots in words, when to return.

use crate::learner::State;
use crate::report::MixupPattern;
use crate::session::{Overview, no_pattern_words, sentence, weak_spot_words};
use crate::store::Learner;
use crate::tui::keys::{Line, On, Press, Table};
use crate::tui::model::Shared;
use crate::tui::msg::{Cmd, Looked};
use crate::tui::page::{Next, Page};
use crate::tui::paint::{Lines, Painter, cut, day_words, days_words};
use crate::tui::screens::ground::GroundPage;
use crate::tui::scroll::Scroll;
use crate::tui::theme::Tone;
use crossterm::event::KeyCode;
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
#[derive(Clone, Copy, Debug)]
pub enum Msg {
    /// Practise.
    Practise,
    /// To the drills.
    Drills,
    /// To the lessons.
    Lessons,
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

const KEYS: Table<Msg> = &[
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Practise)], "practise").short("Enter", "practise"),
    Line::new(
        &[
            (On::Key(KeyCode::Up), Msg::Scroll(-1)),
            (On::Key(KeyCode::Down), Msg::Scroll(1)),
            (On::Key(KeyCode::PageUp), Msg::Scroll(-10)),
            (On::Key(KeyCode::PageDown), Msg::Scroll(10)),
        ],
        "scroll",
    )
    .short("↑ ↓", "scroll"),
    Line::new(&[(On::Letter('d'), Msg::Drills)], "the drills").short("d", "drills"),
    Line::new(&[(On::Letter('l'), Msg::Lessons)], "the first lessons").short("l", "lessons"),
    Line::new(&[(On::Letter('g'), Msg::Ground)], "home ground"),
    Line::new(&[(On::Letter('w'), Msg::Who)], "the list of names").short("w", "who"),
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Back)], "back to the list of names, or to the leader's page"),
    Line::new(&[(On::Letter('q'), Msg::Quit)], "leave the program").short("q", "leave"),
];

impl Page for LearnerPage {
    type Msg = Msg;
    const TABLES: &'static [(&'static str, Table<Msg>)] = &[("A learner's page", KEYS)];

    fn keys(&self) -> Table<Msg> {
        KEYS
    }

    fn update(&mut self, msg: Msg, _press: Press, shared: &mut Shared) -> Next {
        match msg {
            Msg::Practise => Next::Do(Cmd::Open(self.learner.id, None)),
            Msg::Drills => Next::Do(Cmd::Drills(self.learner.clone(), shared.ground.home.clone())),
            Msg::Lessons => Next::Do(Cmd::Lessons(self.learner.clone())),
            Msg::Ground => Next::Go(GroundPage::default().into()),
            Msg::Scroll(by) => {
                self.scroll.by(by);
                Next::Stay
            }
            Msg::Back if shared.leader.looks => Next::Do(Cmd::Patrol),
            Msg::Back | Msg::Who => Next::Do(Cmd::LoadLearners),
            Msg::Quit => Next::Do(Cmd::Quit),
        }
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        view(self, shared, painter, area);
    }

    fn title(&self, shared: &Shared) -> (String, String) {
        (self.learner.name.clone(), shared.day.to_string())
    }
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

fn view(page: &LearnerPage, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
    let overview = &page.overview;
    let mut lines = Lines::new(shared.theme, area.width);
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
        lines.text(&format!("Come back: {}.", day_words(day, shared.day)));
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
                (_, Some(day)) => days_words(day, shared.day),
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
