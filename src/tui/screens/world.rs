//! The world with its lines of equal declination, on which home ground is picked.

use crate::ground::Place;
use crate::tui::keys::{Line, On, Press, Table};
use crate::tui::model::Shared;
use crate::tui::msg::Cmd;
use crate::tui::page::{Next, Page};
use crate::tui::paint::{Lines, Painter};
use crate::world::{self, Chart, Cursor};
use crossterm::event::KeyCode;
use ratatui::layout::Rect;

/// The state.
#[derive(Debug)]
pub struct WorldPage {
    chart: Chart,
    home: Place,
    /// Home ground is more exact than a whole degree, and stays so unless another place is picked.
    cursor: Cursor,
}

/// What can happen here.
#[derive(Clone, Copy, Debug)]
pub enum Msg {
    /// Move the cursor so many steps north and east.
    Move(i32, i32),
    /// Take the place as home ground.
    Set,
    /// Back.
    Back,
}

const KEYS: Table<Msg> = &[
    Line::new(
        &[
            (On::Key(KeyCode::Left), Msg::Move(0, -1)),
            (On::Key(KeyCode::Right), Msg::Move(0, 1)),
            (On::Key(KeyCode::Up), Msg::Move(1, 0)),
            (On::Key(KeyCode::Down), Msg::Move(-1, 0)),
        ],
        "move over the world by a degree; with Shift by ten",
    )
    .short("← → ↑ ↓", "move"),
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Set)], "set home ground here").short("Enter", "home ground is here"),
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Back)], "back to home ground").short("Esc", "back"),
];

impl WorldPage {
    /// The world of a day, the cursor on home ground.
    #[must_use]
    pub fn new(shared: &Shared) -> WorldPage {
        let home = shared.ground.home.place;
        WorldPage { chart: Chart::of(shared.day), home, cursor: Cursor::on(home) }
    }
}

impl Page for WorldPage {
    type Msg = Msg;
    const TABLES: &'static [(&'static str, Table<Msg>)] = &[("The world", KEYS)];
    const TALL: bool = true;

    fn keys(&self) -> Table<Msg> {
        KEYS
    }

    fn update(&mut self, msg: Msg, press: Press, _shared: &mut Shared) -> Next {
        match msg {
            Msg::Move(north, east) => {
                let step = if press.shifted() { 10 } else { 1 };
                self.cursor.go(north * step, east * step);
                Next::Stay
            }
            Msg::Set => match self.cursor.picked() {
                Some((north, east)) => Next::BackAnd(Cmd::SetGround(format!("{north}, {east}"))),
                None => Next::Back,
            },
            Msg::Back => Next::Back,
        }
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        let mut lines = Lines::new(shared.theme, area.width);
        lines.title(&world::words(self.cursor.place(), self.chart.day()));
        lines.quiet("Thick line: needle and true north agree. Broken lines: west. Dotted: east.");
        lines.quiet("Near is good enough to begin with. To be exact, press Esc, then s, and type.");
        let foot = u16::try_from(lines.len()).unwrap_or(3).min(area.height / 2);
        let map = Rect { height: area.height - foot, ..area };
        painter.world(&self.chart, self.cursor.place(), self.home, map);
        painter.lines(lines, Rect { y: area.bottom() - foot, height: foot, ..area });
    }

    fn title(&self, _shared: &Shared) -> (String, String) {
        ("Where the needle points".to_owned(), self.chart.day().to_string())
    }
}
