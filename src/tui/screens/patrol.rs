//! The patrol's page: who is ready, and what to teach next. State and keys; the picture is in `patrol_view`.

use crate::drill::Standard;
use crate::report::Report;
use crate::store::{LONGEST_NAME, Learner, LearnerId, Patrol, PatrolId};
use crate::tui::input::Input;
use crate::tui::model::{Model, Screen};
use crate::tui::msg::Cmd;
use crate::tui::paint::{self, Lines};
use crate::tui::screens::manage::Manage;
use crate::tui::screens::seen::SeenForm;
use crate::tui::scroll::Scroll;
use crossterm::event::{KeyCode, KeyEvent};
use std::cell::RefCell;

/// What the leader has chosen, kept from screen to screen.
#[derive(Debug, Default)]
pub struct Leader {
    /// The standards there are, as found when the page was opened last.
    pub standards: Vec<Standard>,
    /// The chosen one.
    pub chosen: usize,
    /// The patrol shown; everybody when none.
    pub patrol: Option<PatrolId>,
    /// Initials instead of names, for a screen that others see.
    pub initials: bool,
    /// Whether a learner's page was opened from the leader's.
    pub looks: bool,
}

impl Leader {
    /// The chosen standard.
    #[must_use]
    pub fn standard(&self) -> Option<&Standard> {
        self.standards.get(self.chosen)
    }
}

/// What the columns of the table are.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Columns {
    /// The skills of the standard, with readiness.
    #[default]
    Standard,
    /// The families, with how many skills are sure in practice.
    Families,
    /// All skills, with the state of practice.
    Skills,
}

/// What is loaded for the page.
#[derive(Debug)]
pub struct Loaded {
    /// The standards there are.
    pub standards: Vec<Standard>,
    /// The patrols there are.
    pub patrols: Vec<Patrol>,
    /// The report by the chosen standard.
    pub report: Report,
    /// Which of the standards that is.
    pub chosen: usize,
    /// The member to be chosen, if not the first.
    pub choose: Option<LearnerId>,
    /// What is wrong with standards that are left out.
    pub notice: Option<String>,
}

/// The state.
#[derive(Debug)]
pub struct PatrolPage {
    /// The report.
    pub report: Report,
    /// The patrols there are.
    pub patrols: Vec<Patrol>,
    /// The chosen member.
    pub chosen: usize,
    /// The columns.
    pub columns: Columns,
    /// The name of somebody new being typed.
    pub name: Option<Input>,
    /// What is being done about the chosen member.
    pub manage: Option<Manage>,
    /// How far the text under the table is scrolled.
    pub scroll: Scroll,
    /// What stands under the chosen member, as it was wrapped last: it is long, and only another report changes it.
    pub kept: RefCell<Option<(KeptFor, Lines)>>,
}

/// What the wrapped text was made for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct KeptFor {
    /// Cells.
    pub width: u16,
    /// The theme's name.
    pub theme: &'static str,
    /// Initials instead of names.
    pub initials: bool,
}

/// What can happen here.
#[derive(Debug)]
pub enum Msg {
    /// Another member.
    Choose(i32),
    /// The chosen member is checked.
    Check,
    /// All are checked, one after the other.
    CheckAll,
    /// The next standard.
    Standard,
    /// The next patrol, or everybody.
    Patrol,
    /// Other columns.
    Columns,
    /// Initials or names.
    Initials,
    /// A round for the group.
    Round,
    /// Turns at the keyboard.
    Turns,
    /// Something was seen on the ground.
    Seen,
    /// The chosen member's page.
    Page,
    /// Something about the chosen member.
    Manage,
    /// A key while something is done about a member.
    ManageKey(KeyEvent),
    /// Somebody new.
    New,
    /// A key for the name.
    Type(KeyEvent),
    /// The name is typed.
    Named,
    /// Scroll the text.
    Scroll(i32),
    /// Back: from the name to the table, or to the list of names.
    Back,
}

impl PatrolPage {
    /// The page.
    #[must_use]
    pub fn new(report: Report, patrols: Vec<Patrol>) -> PatrolPage {
        PatrolPage {
            report,
            patrols,
            chosen: 0,
            columns: Columns::default(),
            name: None,
            manage: None,
            scroll: Scroll::default(),
            kept: RefCell::default(),
        }
    }

    /// The chosen member.
    #[must_use]
    pub fn learner(&self) -> Option<&Learner> {
        self.report.members.get(self.chosen).map(|member| &member.learner)
    }

    fn ids(&self) -> Vec<LearnerId> {
        self.report.members.iter().map(|member| member.learner.id).collect()
    }

    /// The keys of this screen.
    #[must_use]
    pub fn on_key(&self, key: KeyEvent) -> Option<Msg> {
        if self.manage.is_some() {
            return Some(Msg::ManageKey(key));
        }
        if self.name.is_some() {
            return Some(match key.code {
                KeyCode::Enter => Msg::Named,
                KeyCode::Esc => Msg::Back,
                _ => Msg::Type(key),
            });
        }
        Some(match key.code {
            KeyCode::Down => Msg::Choose(1),
            KeyCode::Up => Msg::Choose(-1),
            KeyCode::Enter => Msg::Check,
            KeyCode::Char('c') => Msg::CheckAll,
            KeyCode::Char('s') => Msg::Standard,
            KeyCode::Char('g') => Msg::Patrol,
            KeyCode::Char('x') => Msg::Columns,
            KeyCode::Char('i') => Msg::Initials,
            KeyCode::Char('r') => Msg::Round,
            KeyCode::Char('t') => Msg::Turns,
            KeyCode::Char('o') => Msg::Seen,
            KeyCode::Char('p') => Msg::Page,
            KeyCode::Char('n') => Msg::New,
            KeyCode::Char('m') => Msg::Manage,
            KeyCode::PageDown => Msg::Scroll(5),
            KeyCode::PageUp => Msg::Scroll(-5),
            KeyCode::Esc | KeyCode::Char('q') => Msg::Back,
            _ => return None,
        })
    }

    /// Pasted text goes into the name.
    pub fn paste(&mut self, text: &str) {
        if let Some(manage) = &mut self.manage {
            manage.paste(text);
        } else if let Some(name) = &mut self.name {
            name.paste(text);
        }
    }
}

/// Takes in a message.
pub fn update(model: &mut Model, msg: Msg) -> Vec<Cmd> {
    let Screen::Patrol(page) = &mut model.screen else { return Vec::new() };
    let nobody = page.report.members.is_empty();
    match msg {
        Msg::Choose(by) => {
            let last = page.report.members.len().saturating_sub(1);
            page.chosen = page.chosen.saturating_add_signed(by as isize).min(last);
            page.scroll = Scroll::default();
        }
        Msg::Check | Msg::CheckAll | Msg::Round | Msg::Turns | Msg::Seen if nobody => {
            model.notice = Some("Nobody is here yet: n adds somebody.".to_owned());
        }
        Msg::Check => return page.learner().map(|one| Cmd::Queue(vec![one.id])).into_iter().collect(),
        Msg::CheckAll => return vec![Cmd::Queue(page.ids())],
        Msg::Round => return vec![Cmd::OpenRound(page.ids())],
        Msg::Turns => return vec![Cmd::OpenTurns(page.ids())],
        Msg::Seen => {
            if let Some(learner) = page.learner().cloned() {
                let skills = page.report.standard.skills.iter().map(|one| one.skill).collect();
                model.screen = Screen::Seen(Box::new(SeenForm::new(learner, skills)));
            }
        }
        Msg::Page => {
            model.leader.looks = true;
            return page.learner().map(|one| Cmd::Look(one.id)).into_iter().collect();
        }
        Msg::Standard => {
            model.leader.chosen = (model.leader.chosen + 1) % model.leader.standards.len().max(1);
            return vec![Cmd::Patrol];
        }
        Msg::Patrol => {
            let ids: Vec<PatrolId> = page.patrols.iter().map(|patrol| patrol.id).collect();
            let next = match model.leader.patrol.and_then(|now| ids.iter().position(|id| *id == now)) {
                Some(at) => ids.get(at + 1).copied(),
                None => ids.first().copied(),
            };
            if ids.is_empty() {
                model.notice = Some("There are no patrols yet. needlewise patrol join NAME --patrol PATROL".to_owned());
                return Vec::new();
            }
            model.leader.patrol = next;
            return vec![Cmd::Patrol];
        }
        Msg::Columns => {
            page.columns = match page.columns {
                Columns::Standard => Columns::Families,
                Columns::Families => Columns::Skills,
                Columns::Skills => Columns::Standard,
            };
        }
        Msg::Initials => model.leader.initials = !model.leader.initials,
        Msg::Manage => page.manage = page.learner().cloned().map(Manage::new),
        Msg::ManageKey(key) => {
            let Some(manage) = &mut page.manage else { return Vec::new() };
            let (command, notice, done) = manage.key(key);
            if done {
                page.manage = None;
            }
            model.notice = notice;
            return command.into_iter().collect();
        }
        Msg::New => page.name = Some(Input::default()),
        Msg::Type(key) => {
            if let Some(name) = &mut page.name {
                paint::edit(name, key);
            }
        }
        Msg::Named => {
            let name = page.name.as_ref().map(|name| name.text().trim().to_owned()).unwrap_or_default();
            if name.is_empty() {
                page.name = None;
            } else if name.chars().count() > LONGEST_NAME {
                model.notice = Some(format!("That name is too long: {LONGEST_NAME} letters at most."));
            } else {
                return vec![Cmd::AddMember(name, model.leader.patrol)];
            }
        }
        Msg::Scroll(by) => page.scroll.by(by),
        Msg::Back if page.name.is_some() => page.name = None,
        Msg::Back => return vec![Cmd::LoadLearners],
    }
    Vec::new()
}
