//! Who is there? On a bare machine only a name is asked for.

use crate::session::{GroundCard, ground_sentence};
use crate::store::{LONGEST_NAME, Learner};
use crate::tui::input::Input;
use crate::tui::model::{Model, Screen};
use crate::tui::msg::Cmd;
use crate::tui::paint::{self, Painter};
use crate::tui::screens::placement::Placing;
use crate::tui::theme::Tone;
use crossterm::event::{KeyCode, KeyEvent};
use ratatui::layout::Rect;

/// The state: a list of learners, and a line for a new name.
#[derive(Clone, Debug, Default)]
pub struct Who {
    /// The learners, the last one first.
    pub learners: Vec<Learner>,
    /// The chosen one.
    pub chosen: usize,
    /// The new name being typed; none while the list is used.
    pub name: Option<Input>,
}

/// What can happen here.
#[derive(Debug)]
pub enum Msg {
    /// One up.
    Up,
    /// One down.
    Down,
    /// The chosen learner practises.
    Practise,
    /// Choose a drill for the chosen learner.
    Drills,
    /// Look at the chosen learner's page.
    Page,
    /// Look at home ground.
    Ground,
    /// The patrol: who is ready.
    Patrol,
    /// Somebody new.
    New,
    /// A key for the name.
    Type(KeyEvent),
    /// The name is typed.
    Named,
    /// Back to the list.
    Back,
    /// Leave.
    Quit,
}

impl Who {
    /// With these learners, in the given order.
    #[must_use]
    pub fn new(learners: Vec<Learner>) -> Who {
        let name = learners.is_empty().then(Input::default);
        Who { learners, chosen: 0, name }
    }

    /// The keys of this screen.
    #[must_use]
    pub fn on_key(&self, key: KeyEvent) -> Option<Msg> {
        if self.name.is_some() {
            return Some(match key.code {
                KeyCode::Enter => Msg::Named,
                KeyCode::Esc if self.learners.is_empty() => Msg::Quit,
                // A leader who begins with the patrol has no name to type.
                KeyCode::Tab if self.learners.is_empty() => Msg::Patrol,
                KeyCode::Esc => Msg::Back,
                _ => Msg::Type(key),
            });
        }
        match key.code {
            KeyCode::Up => Some(Msg::Up),
            KeyCode::Down => Some(Msg::Down),
            KeyCode::Enter => Some(Msg::Practise),
            KeyCode::Char('n') => Some(Msg::New),
            KeyCode::Char('d') => Some(Msg::Drills),
            KeyCode::Char('p') => Some(Msg::Page),
            KeyCode::Char('g') => Some(Msg::Ground),
            KeyCode::Char('l') => Some(Msg::Patrol),
            KeyCode::Esc | KeyCode::Char('q') => Some(Msg::Quit),
            _ => None,
        }
    }

    /// Pasted text goes into the name.
    pub fn paste(&mut self, text: &str) {
        if let Some(name) = &mut self.name {
            name.paste(text);
        }
    }
}

/// Takes in a message.
pub fn update(model: &mut Model, msg: Msg) -> Vec<Cmd> {
    let Screen::Who(who) = &mut model.screen else { return Vec::new() };
    let chosen = who.learners.get(who.chosen).map(|learner| learner.id);
    match msg {
        Msg::Up => who.chosen = who.chosen.saturating_sub(1),
        Msg::Down => who.chosen = (who.chosen + 1).min(who.learners.len().saturating_sub(1)),
        Msg::Practise => return chosen.map(|id| Cmd::Open(id, None)).into_iter().collect(),
        Msg::Page => return chosen.map(Cmd::Look).into_iter().collect(),
        Msg::Drills => {
            let learner = who.learners.get(who.chosen).cloned();
            return learner.map(|learner| Cmd::Drills(learner, model.ground.home.clone())).into_iter().collect();
        }
        Msg::Ground => model.screen = Screen::Ground(super::ground::GroundPage::default()),
        Msg::Patrol => return vec![Cmd::Patrol],
        Msg::New => who.name = Some(Input::default()),
        Msg::Type(key) => {
            if let Some(name) = &mut who.name {
                paint::edit(name, key);
            }
        }
        Msg::Named => {
            let name = who.name.as_ref().map(|name| name.text().trim().to_owned()).unwrap_or_default();
            if name.chars().count() > LONGEST_NAME {
                model.notice = Some(format!("That name is too long: {LONGEST_NAME} letters at most."));
            } else if name.is_empty() {
                model.notice = Some("Type a name first, then press Enter.".to_owned());
            } else if let Some(known) =
                who.learners.iter().find(|learner| learner.name.to_lowercase() == name.to_lowercase())
            {
                model.notice = Some(format!(
                    "{} is here already. If that is you, press Esc and choose the name; if not, add a letter of your last name.",
                    known.name
                ));
            } else {
                let from = std::mem::take(who);
                model.screen = Screen::Placement(Placing { name, from });
            }
        }
        Msg::Back => who.name = None,
        Msg::Quit => return vec![Cmd::Quit],
    }
    Vec::new()
}

/// Cells of the field for a name.
const NAME: u16 = 36;
/// The sheet beside the text: a compass as it lies on home ground.
const SHEET: (u16, u16) = (34, 20);

/// Draws the screen.
pub fn view(who: &Who, model: &Model, painter: &mut Painter<'_, '_>, area: Rect) {
    let sheet = Rect {
        x: area.right().saturating_sub(SHEET.0),
        width: SHEET.0.min(area.width),
        height: SHEET.1.min(area.height),
        ..area
    };
    painter.neat_line(sheet);
    let inner = Rect {
        x: sheet.x + 1,
        y: sheet.y + 1,
        width: sheet.width.saturating_sub(2),
        height: sheet.height.saturating_sub(4),
    };
    painter.figure(&paint::compass(&model.ground), inner);
    painter.collar_line(Rect { y: inner.bottom(), height: 1, ..sheet });
    let collar = Rect { x: inner.x + 1, y: inner.bottom() + 1, width: inner.width.saturating_sub(2), height: 1 };
    painter.put(
        collar,
        &paint::cut(&format!("declination {}", model.ground.declination), usize::from(collar.width)),
        Tone::Quiet,
    );

    let area = Rect { width: area.width.saturating_sub(SHEET.0 + 2), ..area };
    let mut lines = paint::Lines::new(model.theme, area.width);
    lines.title("needlewise");
    lines.text("Bearings and declination with a paper map and a baseplate compass.");
    lines.gap();
    match &who.name {
        Some(name) => {
            lines.tone(
                Tone::Title,
                if who.learners.is_empty() { "What is your name?" } else { "What is the new name?" },
            );
            let row = lines.field(name, usize::from(NAME));
            lines.gap();
            lines.quiet("Your answers are kept under this name, on this computer only. A first name is enough.");
            lines.gap();
            ground(&mut lines, &model.ground);
            if model.ground.home.invented {
                lines.quiet("It is invented. Your leader can set the real one later: g on the list of names.");
            }
            lines.gap();
            lines.tone(Tone::Caution, paint::SAFETY);
            painter.lines(lines, area);
            painter.cursor(area, row, name, NAME);
        }
        None => {
            lines.tone(Tone::Title, "Who is there?");
            let top = lines.len();
            let room = usize::from(area.height).saturating_sub(top + 7).max(3);
            let first = who.chosen.saturating_sub(room - 1);
            for (at, learner) in who.learners.iter().enumerate().skip(first).take(room) {
                lines.item(at == who.chosen, &learner.name);
            }
            if who.learners.len() > room {
                lines.quiet(&format!("{} of {}", who.chosen + 1, who.learners.len()));
            }
            lines.gap();
            ground(&mut lines, &model.ground);
            lines.quiet("g shows and sets home ground.");
            lines.tone(Tone::Caution, paint::SAFETY);
            painter.lines(lines, area);
        }
    }
}

/// Where problems are set, with what must be said about it.
fn ground(lines: &mut paint::Lines, ground: &GroundCard) {
    lines.quiet(&ground_sentence(ground));
    for caution in &ground.cautions {
        lines.tone(Tone::Caution, caution);
    }
}

/// The keys on the bottom line.
#[must_use]
pub const fn keys(who: &Who) -> &'static [(&'static str, &'static str)] {
    match (&who.name, who.learners.is_empty()) {
        (Some(_), true) => &[("Enter", "go on"), ("Tab", "leader: the patrol"), ("Esc", "leave")],
        (Some(_), false) => &[("Enter", "go on"), ("Esc", "back to the list")],
        (None, _) => &[
            ("Enter", "practise"),
            ("↑ ↓", "choose"),
            ("n", "new"),
            ("d", "drills"),
            ("p", "page"),
            ("l", "leader"),
            ("q", "leave"),
        ],
    }
}
