//! Where does a new learner begin? One question, and Enter takes the common answer.

use crate::learner::Placement;
use crate::tui::keys::{Line, On, Press, Table};
use crate::tui::model::Shared;
use crate::tui::msg::Cmd;
use crate::tui::page::{Next, Page};
use crate::tui::paint::{Lines, Painter};
use crate::tui::screens::who::Who;
use crate::tui::theme::Tone;
use crossterm::event::KeyCode;
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
#[derive(Clone, Copy, Debug)]
pub enum Msg {
    /// The learner begins here.
    Begin(Placement),
    /// Back to the name.
    Back,
}

const KEYS: Table<Msg> = &[
    Line::new(
        &[
            (On::Key(KeyCode::Enter), Msg::Begin(Placement::Fresh)),
            (On::Letter('n'), Msg::Begin(Placement::Fresh)),
            (On::Letter('N'), Msg::Begin(Placement::Fresh)),
        ],
        "begin with easy problems and a worked example",
    )
    .short("Enter", "no, from the start"),
    Line::new(
        &[(On::Letter('y'), Msg::Begin(Placement::DoneBefore)), (On::Letter('Y'), Msg::Begin(Placement::DoneBefore))],
        "done before: a few problems find out where to begin",
    )
    .short("y", "yes"),
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Back)], "back to the name").short("Esc", "back"),
];

impl Page for Placing {
    type Msg = Msg;
    const TABLES: &'static [(&'static str, Table<Msg>)] = &[("A new learner", KEYS)];

    fn keys(&self) -> Table<Msg> {
        KEYS
    }

    fn update(&mut self, msg: Msg, _press: Press, _shared: &mut Shared) -> Next {
        match msg {
            Msg::Begin(placement) => Next::Do(Cmd::AddLearner(self.name.clone(), placement)),
            Msg::Back => Next::Go(std::mem::take(&mut self.from).into()),
        }
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        view(self, shared, painter, area);
    }
}

fn view(placing: &Placing, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
    let mut lines = Lines::new(shared.theme, area.width);
    lines.title(&format!("Hello, {}.", placing.name));
    lines.gap();
    lines.tone(Tone::Title, "Have you done this before?");
    lines.gap();
    lines.text("Enter   No, or not sure: begin with easy problems and a worked example.");
    lines.text("y       Yes: up to eight problems find out where to begin.");
    painter.lines(lines, area);
}
