//! What can be done about a member: another name, put aside, erase after a question.

use crate::store::{LONGEST_NAME, Learner};
use crate::tui::input::Input;
use crate::tui::model::Model;
use crate::tui::msg::Cmd;
use crate::tui::paint::{self, Lines, Painter};
use crate::tui::theme::Tone;
use crossterm::event::{KeyCode, KeyEvent};
use ratatui::layout::Rect;

/// Cells of the field.
const FIELD: u16 = 40;

/// The state.
#[derive(Debug)]
pub struct Manage {
    /// The member.
    pub learner: Learner,
    /// What is being done.
    pub stage: Stage,
}

/// What is being done.
#[derive(Debug)]
pub enum Stage {
    /// Nothing yet.
    Menu,
    /// A new name is typed.
    Rename(Input),
    /// The name is typed again, to erase it.
    Erase(Input),
}

impl Manage {
    /// The menu.
    #[must_use]
    pub const fn new(learner: Learner) -> Manage {
        Manage { learner, stage: Stage::Menu }
    }

    /// Takes in a key; what has to be done, and whether the page is left.
    pub fn key(&mut self, key: KeyEvent) -> (Option<Cmd>, Option<String>, bool) {
        let id = self.learner.id;
        match (&mut self.stage, key.code) {
            (_, KeyCode::Esc) => (None, None, true),
            (Stage::Menu, KeyCode::Char('r')) => {
                let mut input = Input::default();
                input.set(&self.learner.name);
                self.stage = Stage::Rename(input);
                (None, None, false)
            }
            (Stage::Menu, KeyCode::Char('a')) => (Some(Cmd::ArchiveMember(id)), None, true),
            (Stage::Menu, KeyCode::Char('e')) => {
                self.stage = Stage::Erase(Input::default());
                (None, None, false)
            }
            (Stage::Menu, _) => (None, None, false),
            (Stage::Rename(input), KeyCode::Enter) => {
                let name = input.text().trim().to_owned();
                if name.is_empty() || name.chars().count() > LONGEST_NAME {
                    return (None, Some(format!("A name has 1 to {LONGEST_NAME} letters.")), false);
                }
                (Some(Cmd::RenameMember(id, name)), None, true)
            }
            (Stage::Erase(input), KeyCode::Enter) => {
                if input.text().trim().to_lowercase() == self.learner.name.to_lowercase() {
                    (Some(Cmd::EraseMember(id)), None, true)
                } else {
                    (None, Some(format!("Nothing was erased: {} is still here.", self.learner.name)), true)
                }
            }
            (Stage::Rename(input) | Stage::Erase(input), _) => {
                paint::edit(input, key);
                (None, None, false)
            }
        }
    }

    /// Whether a line is being typed.
    #[must_use]
    pub const fn types(&self) -> bool {
        matches!(self.stage, Stage::Rename(_) | Stage::Erase(_))
    }

    /// Pasted text goes into the field.
    pub fn paste(&mut self, text: &str) {
        if let Stage::Rename(input) | Stage::Erase(input) = &mut self.stage {
            input.paste(text);
        }
    }
}

/// Draws it over the patrol's page.
pub fn view(manage: &Manage, model: &Model, painter: &mut Painter<'_, '_>, area: Rect) {
    let mut lines = Lines::new(model.theme, area.width);
    let name = &manage.learner.name;
    lines.title(name);
    lines.gap();
    match &manage.stage {
        Stage::Menu => {
            lines.hanging(Tone::Text, "r  ", "another name");
            lines.hanging(Tone::Text, "a  ", "put aside: the records are kept (needlewise patrol archive NAME --back)");
            lines.hanging(Tone::Text, "e  ", "erase for good, with every answer");
            painter.lines(lines, area);
        }
        Stage::Rename(input) => {
            lines.text("What is the name?");
            let row = lines.field(input, usize::from(FIELD));
            painter.lines(lines, area);
            painter.cursor(area, row, input, FIELD);
        }
        Stage::Erase(input) => {
            lines.tone(
                Tone::Caution,
                &format!("Everything that {name} ever answered will be gone for good, also from the file."),
            );
            lines.text("To erase, type the name again; anything else keeps it all.");
            let row = lines.field(input, usize::from(FIELD));
            painter.lines(lines, area);
            painter.cursor(area, row, input, FIELD);
        }
    }
}

/// The keys on the bottom line.
#[must_use]
pub const fn keys(manage: &Manage) -> &'static [(&'static str, &'static str)] {
    match manage.stage {
        Stage::Menu => &[("r", "another name"), ("a", "put aside"), ("e", "erase"), ("Esc", "back")],
        Stage::Rename(_) => &[("Enter", "take this name"), ("Esc", "back")],
        Stage::Erase(_) => &[("Enter", "erase if it is the name"), ("Esc", "keep it all")],
    }
}
