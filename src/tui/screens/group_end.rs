//! The end of a round or of turns, for all to see: what the group did, and nothing about anybody.

use crate::session::{GROUP_ELSEWHERE, GroupTally, group_over};
use crate::tui::keys::{Line, On, Press, Table};
use crate::tui::model::Shared;
use crate::tui::msg::Cmd;
use crate::tui::page::{Next, Page};
use crate::tui::paint::{Lines, Painter};
use crate::tui::scroll::Scroll;
use crate::tui::theme::Tone;
use crossterm::event::KeyCode;
use ratatui::layout::Rect;

/// The state.
#[derive(Debug)]
pub struct GroupEnd {
    /// What it was.
    pub title: &'static str,
    /// What the group did.
    pub tally: GroupTally,
    /// Whether something could not be written.
    pub lost: bool,
    /// How far it is scrolled.
    pub scroll: Scroll,
}

/// What can happen here.
#[derive(Clone, Copy, Debug)]
pub enum Msg {
    /// To the patrol.
    Patrol,
    /// Scroll.
    Scroll(i32),
}

impl GroupEnd {
    /// The end of something that was called so.
    #[must_use]
    pub fn new(title: &'static str, tally: GroupTally, lost: bool) -> GroupEnd {
        GroupEnd { title, tally, lost, scroll: Scroll::default() }
    }
}

const KEYS: Table<Msg> = &[
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Patrol), (On::Key(KeyCode::Esc), Msg::Patrol)], "to the patrol")
        .short("Enter", "to the patrol"),
    Line::new(&[(On::Key(KeyCode::Up), Msg::Scroll(-1)), (On::Key(KeyCode::Down), Msg::Scroll(1))], "scroll")
        .short("↑ ↓", "scroll"),
];

impl Page for GroupEnd {
    type Msg = Msg;
    const TABLES: &'static [(&'static str, Table<Msg>)] = &[("The end of a round", KEYS)];

    fn keys(&self) -> Table<Msg> {
        KEYS
    }

    fn update(&mut self, msg: Msg, _press: Press, _shared: &mut Shared) -> Next {
        match msg {
            Msg::Scroll(by) => {
                self.scroll.by(by);
                Next::Stay
            }
            Msg::Patrol => Next::Do(Cmd::Patrol),
        }
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        view(self, shared, painter, area);
    }
}

fn view(page: &GroupEnd, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
    let mut lines = Lines::new(shared.theme, area.width);
    lines.title(&group_over(page.title));
    lines.gap();
    // Others look on: what each had stands on the leader's page.
    lines.text(&page.tally.to_string());
    lines.quiet(GROUP_ELSEWHERE);
    if page.lost {
        lines.gap();
        lines
            .tone(Tone::Caution, "The last answer could not be written down and is lost. What came before it is kept.");
    }
    painter.lines_from(lines, area, &page.scroll);
}
