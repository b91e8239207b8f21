//! The world with its lines of equal declination, on which home ground is picked.

use crate::ground::Place;
use crate::lesson::whole_degrees;
use crate::tui::keys::{Line, On, Press, Table};
use crate::tui::model::Shared;
use crate::tui::msg::Cmd;
use crate::tui::page::{Next, Page};
use crate::tui::paint::{Lines, Painter};
use crate::world::{self, Chart};
use crossterm::event::KeyCode;
use ratatui::layout::Rect;

/// The state.
#[derive(Debug)]
pub struct WorldPage {
    chart: Chart,
    home: Place,
    /// Where the cursor is, in whole degrees north and east.
    at: (i32, i32),
    /// Whether it was moved: home ground is more exact than a whole degree, and stays so unless another place is picked.
    moved: bool,
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
        let at = (whole_degrees(home.latitude.angle()), whole_degrees(home.longitude.angle()));
        let at = (at.0.clamp(world::SHOWN.0, world::SHOWN.1), at.1);
        WorldPage { chart: Chart::of(shared.day), home, at, moved: false }
    }

    fn place(&self) -> Place {
        if !self.moved {
            return self.home;
        }
        let (north, east) = self.at;
        Place::from_degrees(f64::from(north), f64::from(east)).unwrap_or(self.home)
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
                let (before_north, before_east) = self.at;
                let around = (before_east + east * step + 180).rem_euclid(360) - 180;
                self.moved = true;
                self.at = ((before_north + north * step).clamp(world::SHOWN.0, world::SHOWN.1), around);
                Next::Stay
            }
            Msg::Set if !self.moved => Next::Back,
            Msg::Set => {
                let (north, east) = self.at;
                Next::BackAnd(Cmd::SetGround(format!("{north}, {east}")))
            }
            Msg::Back => Next::Back,
        }
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        let mut lines = Lines::new(shared.theme, area.width);
        lines.title(&world::words(self.place(), self.chart.day()));
        lines.quiet("The thick line: needle and true north agree. West of true north broken lines, east dotted ones.");
        lines.quiet("A place is near enough to begin with; type latitude and longitude (s) to be exact.");
        let foot = u16::try_from(lines.len()).unwrap_or(3).min(area.height / 2);
        let map = Rect { height: area.height - foot, ..area };
        painter.world(&self.chart, self.place(), self.home, map);
        painter.lines(lines, Rect { y: area.bottom() - foot, height: foot, ..area });
    }

    fn title(&self, _shared: &Shared) -> (String, String) {
        ("Where the needle points".to_owned(), self.chart.day().to_string())
    }
}
