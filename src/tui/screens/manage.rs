//! What can be done about a member: a word about a check, another name, put aside, erase after a question.

use super::patrol::Msg;
use crate::store::{LONGEST_NAME, Learner};
use crate::tui::input::Input;
use crate::tui::keys::{Line, On, Press, Table};
use crate::tui::model::Shared;
use crate::tui::msg::Cmd;
use crate::tui::paint::{self, Lines, Painter};
use crate::tui::theme::Tone;
use crossterm::event::KeyCode;
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
    /// Whether to put aside is asked.
    Aside,
    /// A new name is typed.
    Rename(Input),
    /// The name is typed again, to erase it.
    Erase(Input),
}

/// What can happen here.
#[derive(Clone, Copy, Debug)]
pub enum Act {
    /// Another name.
    Rename,
    /// An answer of a check was lost to the keyboard.
    Lost,
    /// A wait is too long.
    Wait,
    /// Ask whether to put aside.
    Aside,
    /// Put aside.
    PutAside,
    /// Erase for good.
    Erase,
    /// What is typed is taken.
    Take,
    /// A key for the field.
    Type,
    /// Away without anything done.
    Leave,
}

/// Nothing is chosen yet.
pub(super) const MENU: Table<Msg> = &[
    Line::new(
        &[(On::Letter('k'), Msg::Member(Act::Lost))],
        "annul an answer of a check that was lost to the keyboard, with a reason; a fresh problem takes its place",
    )
    .short("k", "lost answer"),
    Line::new(&[(On::Letter('w'), Msg::Member(Act::Wait))], "shorten the wait after not yet, with a reason")
        .short("w", "wait"),
    Line::new(&[(On::Letter('r'), Msg::Member(Act::Rename))], "another name").short("r", "name"),
    Line::new(&[(On::Letter('a'), Msg::Member(Act::Aside))], "put aside, after a question; the records are kept")
        .short("a", "put aside"),
    Line::new(&[(On::Letter('e'), Msg::Member(Act::Erase))], "erase for good, after a question").short("e", "erase"),
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Member(Act::Leave))], "back").short("Esc", "back"),
];
const TYPE: Line<Msg> = Line::new(&[(On::Text, Msg::Member(Act::Type))], "type the name");
/// Whether to put aside is asked.
pub(super) const ASIDE: Table<Msg> = &[
    Line::new(&[(On::Letter('y'), Msg::Member(Act::PutAside))], "yes, put aside").short("y", "yes, put aside"),
    Line::new(
        &[(On::Key(KeyCode::Esc), Msg::Member(Act::Leave)), (On::Letter('n'), Msg::Member(Act::Leave))],
        "no, leave it as it is",
    )
    .short("n", "no"),
];
/// Another name is typed.
pub(super) const RENAME: Table<Msg> = &[
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Member(Act::Take))], "take this name").short("Enter", "take this name"),
    TYPE,
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Member(Act::Leave))], "back").short("Esc", "back"),
];
/// The name is typed once more, to erase it.
pub(super) const ERASE: Table<Msg> = &[
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Member(Act::Take))], "erase, if it is the name")
        .short("Enter", "erase if it is the name"),
    TYPE,
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Member(Act::Leave))], "keep it all").short("Esc", "keep it all"),
];

impl Manage {
    /// The menu.
    #[must_use]
    pub const fn new(learner: Learner) -> Manage {
        Manage { learner, stage: Stage::Menu }
    }

    /// The keys, among those of the leader's page.
    #[must_use]
    pub const fn keys(&self) -> Table<Msg> {
        match self.stage {
            Stage::Menu => MENU,
            Stage::Aside => ASIDE,
            Stage::Rename(_) => RENAME,
            Stage::Erase(_) => ERASE,
        }
    }

    /// Takes in what a key means; what has to be done, what is said, and whether the page is left.
    pub fn update(&mut self, act: Act, press: Press) -> (Option<Cmd>, Option<String>, bool) {
        let id = self.learner.id;
        match (act, &mut self.stage) {
            (Act::Rename, _) => {
                let mut input = Input::default();
                input.set(&self.learner.name);
                self.stage = Stage::Rename(input);
                (None, None, false)
            }
            (Act::Aside, _) => {
                self.stage = Stage::Aside;
                (None, None, false)
            }
            (Act::Lost, _) => (Some(Cmd::LostAnswers(id)), None, true),
            (Act::Wait, _) => (Some(Cmd::Waits(id)), None, true),
            (Act::PutAside, _) => (Some(Cmd::ArchiveMember(id)), None, true),
            (Act::Erase, _) => {
                self.stage = Stage::Erase(Input::default());
                (None, None, false)
            }
            (Act::Take, Stage::Rename(input)) => {
                let name = input.text().trim().to_owned();
                if name.is_empty() || name.chars().count() > LONGEST_NAME {
                    return (None, Some(format!("A name has 1 to {LONGEST_NAME} letters.")), false);
                }
                (Some(Cmd::RenameMember(id, name)), None, true)
            }
            (Act::Take, Stage::Erase(input)) => {
                if input.text().trim().to_lowercase() == self.learner.name.to_lowercase() {
                    (Some(Cmd::EraseMember(id)), None, true)
                } else {
                    (None, Some(format!("Nothing was erased: {} is still here.", self.learner.name)), true)
                }
            }
            (Act::Type, Stage::Rename(input) | Stage::Erase(input)) => {
                paint::edit(input, press.key);
                (None, None, false)
            }
            (Act::Take | Act::Type, Stage::Menu | Stage::Aside) => (None, None, false),
            (Act::Leave, _) => (None, None, true),
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
pub fn view(manage: &Manage, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
    let mut lines = Lines::new(shared.theme, area.width);
    let name = &manage.learner.name;
    lines.title(name);
    lines.gap();
    match &manage.stage {
        Stage::Menu => {
            lines.hanging(
                Tone::Text,
                "k  ",
                "an answer of a check was lost to the keyboard: annul it, and a fresh problem comes",
            );
            lines.hanging(Tone::Text, "w  ", "the wait after not yet is too long: shorten it");
            lines.hanging(Tone::Text, "r  ", "another name");
            lines.hanging(Tone::Text, "a  ", "put aside: the records are kept (needlewise patrol archive NAME --back)");
            lines.hanging(Tone::Text, "e  ", "erase for good, with every answer");
            painter.lines(lines, area);
        }
        Stage::Aside => {
            lines.text(&format!(
                "Put {name} aside? {name} is no longer on this page or in reports; every answer is kept."
            ));
            lines.gap();
            lines.quiet("needlewise patrol archive NAME --back takes somebody back.");
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
