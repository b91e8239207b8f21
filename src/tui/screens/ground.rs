//! Home ground: what it is, what it means today, and setting it.

use super::world::WorldPage;
use crate::problem::Figure;
use crate::session::invented_words;
use crate::tui::input::Input;
use crate::tui::keys::{Line, On, Press, Table};
use crate::tui::model::Shared;
use crate::tui::msg::Cmd;
use crate::tui::page::{Next, Page};
use crate::tui::paint::{self, Lines, Painter};
use crate::tui::scroll::Scroll;
use crate::tui::theme::Tone;
use crossterm::event::KeyCode;
use ratatui::layout::Rect;

/// The state: the place being typed, if one is.
#[derive(Clone, Debug, Default)]
pub struct GroundPage {
    /// The place being typed.
    pub place: Option<Input>,
    /// How far the text is scrolled.
    pub scroll: Scroll,
}

/// What can happen here.
#[derive(Clone, Copy, Debug)]
pub enum Msg {
    /// Begin to type a place.
    Set,
    /// A key for the place.
    Type,
    /// The place is typed.
    Typed,
    /// Pick it on the picture of the world.
    World,
    /// Scroll the text.
    Scroll(i32),
    /// Stop typing, or go back.
    Back,
    /// Leave.
    Quit,
}

/// Cells of the field for a place.
const PLACE: u16 = 44;
/// What home ground is called while it has no name.
const UNNAMED: &str = "Home ground";

/// It is looked at.
const LOOKED_AT: Table<Msg> = &[
    Line::new(&[(On::Letter('s'), Msg::Set)], "set the place").short("s", "set the place"),
    Line::new(&[(On::Letter('w'), Msg::World)], "pick it on the world").short("w", "pick on the world"),
    Line::new(&[(On::Key(KeyCode::Up), Msg::Scroll(-1)), (On::Key(KeyCode::Down), Msg::Scroll(1))], "scroll")
        .short("↑ ↓", "scroll"),
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Back), (On::Key(KeyCode::Enter), Msg::Back)], "back to the list of names")
        .short("Esc", "back"),
    Line::new(&[(On::Letter('q'), Msg::Quit)], "leave the program").short("q", "leave"),
];
/// A place is typed.
const TYPED: Table<Msg> = &[
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Typed)], "set the place that is typed").short("Enter", "set it"),
    Line::new(&[(On::Text, Msg::Type)], "type the place"),
    Line::new(&[(On::Key(KeyCode::Up), Msg::Scroll(-1)), (On::Key(KeyCode::Down), Msg::Scroll(1))], "scroll"),
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Back)], "leave the place as it is").short("Esc", "stop"),
];

impl Page for GroundPage {
    type Msg = Msg;
    const TABLES: &'static [(&'static str, Table<Msg>)] = &[(UNNAMED, LOOKED_AT), (UNNAMED, TYPED)];

    fn keys(&self) -> Table<Msg> {
        if self.place.is_some() { TYPED } else { LOOKED_AT }
    }

    fn update(&mut self, msg: Msg, press: Press, shared: &mut Shared) -> Next {
        match msg {
            Msg::Scroll(by) => self.scroll.by(by),
            Msg::World => return Next::Aside(WorldPage::new(shared).into()),
            Msg::Set => self.place = Some(Input::default()),
            Msg::Type => {
                if let Some(place) = &mut self.place {
                    paint::edit(place, press.key);
                }
            }
            Msg::Typed => {
                if let Some(place) = self.place.as_ref().filter(|place| !place.text().trim().is_empty()) {
                    return Next::Do(Cmd::SetGround(place.text().to_owned()));
                }
                shared.notice = Some("Type a place first, like 46.8, 8.2 or 32T 691000 5265000.".to_owned());
            }
            Msg::Back if self.place.is_some() => self.place = None,
            Msg::Back => return Next::Do(Cmd::LoadLearners),
            Msg::Quit => return Next::Do(Cmd::Quit),
        }
        Next::Stay
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        view(self, shared, painter, area);
    }

    fn paste(&mut self, text: &str) {
        if let Some(place) = &mut self.place {
            place.paste(text);
        }
    }
}

fn view(page: &GroundPage, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
    let ground = &shared.ground;
    // The diagram stands at the right in a neat line of its own, as on a map's margin.
    let diagram =
        Rect { x: area.right().saturating_sub(30), width: 30.min(area.width), height: 14.min(area.height), ..area };
    let text = Rect { width: area.width.saturating_sub(33), ..area };
    painter.neat_line(diagram);
    let inner = Rect {
        x: diagram.x + 1,
        y: diagram.y + 1,
        width: diagram.width.saturating_sub(2),
        height: diagram.height.saturating_sub(2),
    };
    painter.figure(&Figure::Prongs(ground.prongs.clone()), inner);

    let mut lines = Lines::new(shared.theme, text.width);
    if ground.home.name != UNNAMED {
        lines.quiet(UNNAMED);
    }
    lines.title(&ground.home.name);
    lines.text(&ground.place);
    lines.gap();
    lines.text(&format!("Declination on {}: {}", ground.day, ground.declination));
    for (what, value) in [
        ("It changes by", &ground.change),
        ("Grid convergence:", &ground.convergence),
        ("G-M angle:", &ground.grid_magnetic),
    ] {
        if let Some(value) = value {
            lines.text(&format!("{what} {value}"));
        }
    }
    for line in &ground.own_map {
        lines.text(line);
    }
    for caution in &ground.cautions {
        lines.tone(Tone::Caution, caution);
    }
    lines.gap();
    let mut cursor = None;
    match &page.place {
        Some(place) => {
            lines.title("Where is it?");
            let row = lines.field(place, usize::from(PLACE));
            lines.quiet("Latitude, longitude (46.8, 8.2) or UTM (32T 691000 5265000) or MGRS (32TMT1234567890).");
            cursor = Some((row, place));
        }
        None => {
            if ground.home.invented {
                lines.text(&invented_words(
                    "Press s to set your own, so that problems use the declination where your group goes out.",
                ));
            } else {
                lines.text("Press s to set another place.");
            }
            lines.quiet(&format!(
                "The file {} holds it, with the north lines and the printed declination of your own map.",
                ground.file
            ));
        }
    }
    lines.gap();
    lines.tone(
        Tone::Caution,
        "The map in your hand comes first: use the numbers printed on it where they differ from these.",
    );
    let (first, _) = painter.lines_from(lines, text, &page.scroll);
    if let Some((row, place)) = cursor.filter(|(row, _)| *row >= first) {
        painter.cursor(text, row - first, place, PLACE);
    }
}
