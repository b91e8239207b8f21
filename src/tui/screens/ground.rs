//! Home ground: what it is, what it means today, and setting it.

use crate::problem::Figure;
use crate::tui::input::Input;
use crate::tui::model::{Model, Screen};
use crate::tui::msg::Cmd;
use crate::tui::paint::{self, Lines, Painter};
use crate::tui::scroll::Scroll;
use crate::tui::theme::Tone;
use crossterm::event::{KeyCode, KeyEvent};
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
#[derive(Debug)]
pub enum Msg {
    /// Begin to type a place.
    Set,
    /// A key for the place.
    Type(KeyEvent),
    /// The place is typed.
    Typed,
    /// Scroll the text.
    Scroll(i32),
    /// Stop typing, or go back.
    Back,
    /// Leave.
    Quit,
}

impl GroundPage {
    /// The keys of this screen.
    #[must_use]
    pub const fn on_key(&self, key: KeyEvent) -> Option<Msg> {
        match (&self.place, key.code) {
            (_, KeyCode::Esc) | (None, KeyCode::Enter) => Some(Msg::Back),
            (Some(_), KeyCode::Enter) => Some(Msg::Typed),
            (None, KeyCode::Char('s')) => Some(Msg::Set),
            (_, KeyCode::Down) => Some(Msg::Scroll(1)),
            (_, KeyCode::Up) => Some(Msg::Scroll(-1)),
            (None, KeyCode::Char('q')) => Some(Msg::Quit),
            (Some(_), _) => Some(Msg::Type(key)),
            (None, _) => None,
        }
    }

    /// Pasted text goes into the place.
    pub fn paste(&mut self, text: &str) {
        if let Some(place) = &mut self.place {
            place.paste(text);
        }
    }
}

/// Takes in a message.
pub fn update(model: &mut Model, msg: Msg) -> Vec<Cmd> {
    let Screen::Ground(page) = &mut model.screen else { return Vec::new() };
    match msg {
        Msg::Scroll(by) => page.scroll.by(by),
        Msg::Set => page.place = Some(Input::default()),
        Msg::Type(key) => {
            if let Some(place) = &mut page.place {
                paint::edit(place, key);
            }
        }
        Msg::Typed => {
            if let Some(place) = page.place.as_ref().filter(|place| !place.text().trim().is_empty()) {
                return vec![Cmd::SetGround(place.text().to_owned())];
            }
            model.notice = Some("Type a place first, like 46.8, 8.2 or 32T 691000 5265000.".to_owned());
        }
        Msg::Back if page.place.is_some() => page.place = None,
        Msg::Back => return vec![Cmd::LoadLearners],
        Msg::Quit => return vec![Cmd::Quit],
    }
    Vec::new()
}

/// Cells of the field for a place.
const PLACE: u16 = 44;
/// What home ground is called while it has no name.
const UNNAMED: &str = "Home ground";

/// Draws the screen.
pub fn view(page: &GroundPage, model: &Model, painter: &mut Painter<'_, '_>, area: Rect) {
    let ground = &model.ground;
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

    let mut lines = Lines::new(model.theme, text.width);
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
                lines.text("This ground is invented. Press s to set your own, so that problems use the declination where your group goes out.");
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

/// The keys on the bottom line.
#[must_use]
pub const fn keys(page: &GroundPage) -> &'static [(&'static str, &'static str)] {
    match page.place {
        Some(_) => &[("Enter", "set it"), ("Esc", "stop")],
        None => &[("s", "set the place"), ("↑ ↓", "scroll"), ("Esc", "back"), ("q", "leave")],
    }
}
