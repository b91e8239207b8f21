//! The list of drills.

use crate::store::Learner;
use crate::tui::keys::{Line, On, Press, Table};
use crate::tui::model::{Practise, Shared};
use crate::tui::msg::Cmd;
use crate::tui::page::{Next, Page};
use crate::tui::paint::{Lines, Painter};
use crossterm::event::KeyCode;
use ratatui::layout::Rect;

/// The state.
#[derive(Debug)]
pub struct DrillList {
    /// Who is going to practise.
    pub learner: Learner,
    /// The chosen drill.
    pub chosen: usize,
    /// How many drills there are.
    pub count: usize,
}

/// What can happen here.
#[derive(Clone, Copy, Debug)]
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
    /// The list for a learner, of so many drills.
    #[must_use]
    pub const fn new(learner: Learner, count: usize) -> DrillList {
        DrillList { learner, chosen: 0, count }
    }
}

const KEYS: Table<Msg> = &[
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Begin)], "begin the chosen drill").short("Enter", "begin"),
    Line::new(&[(On::Key(KeyCode::Up), Msg::Up), (On::Key(KeyCode::Down), Msg::Down)], "choose").short("↑ ↓", "choose"),
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Back), (On::Letter('q'), Msg::Back)], "back to the learner's page")
        .short("Esc", "back"),
];

impl Page for DrillList {
    type Msg = Msg;
    const TABLES: &'static [(&'static str, Table<Msg>)] = &[("The drills", KEYS)];

    fn keys(&self) -> Table<Msg> {
        KEYS
    }

    fn update(&mut self, msg: Msg, _press: Press, _shared: &mut Shared) -> Next {
        match msg {
            Msg::Up => self.chosen = self.chosen.saturating_sub(1),
            Msg::Down => self.chosen = (self.chosen + 1).min(self.count.saturating_sub(1)),
            Msg::Begin if self.count > 0 => return Next::Do(Cmd::Open(self.learner.id, Practise::Drill(self.chosen))),
            Msg::Begin => {}
            Msg::Back => return Next::Do(Cmd::Look(self.learner.id)),
        }
        Next::Stay
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        view(self, shared, painter, area);
    }
}

fn view(list: &DrillList, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
    let mut lines = Lines::new(shared.theme, area.width);
    lines.title(&format!("Drills for {}", list.learner.name));
    lines.gap();
    // Each drill takes two lines at most; the window follows the choice.
    let room = usize::from(area.height).saturating_sub(6).max(3);
    let first = list.chosen.saturating_sub(room.saturating_sub(3));
    for (at, offer) in shared.offers.iter().enumerate().skip(first) {
        lines.item(at == list.chosen, &offer.plan.title);
        if at == list.chosen {
            lines.hanging(crate::tui::theme::Tone::Quiet, "    ", &offer.about);
            lines.hanging(crate::tui::theme::Tone::Quiet, "    ", &pace(offer.plan.count, offer.plan.minutes));
        }
    }
    let over = lines.len() > usize::from(area.height);
    painter.lines(lines, Rect { height: area.height.saturating_sub(u16::from(over)), ..area });
    if over {
        painter.more_below(area, "↓");
    }
}

fn pace(count: Option<u32>, minutes: Option<u32>) -> String {
    match (count, minutes) {
        (Some(count), Some(minutes)) => format!("{count} problems, or {minutes} minutes at most."),
        (Some(count), None) => format!("{count} problems."),
        (None, Some(minutes)) => format!("{minutes} minutes."),
        (None, None) => "As long as you like.".to_owned(),
    }
}
