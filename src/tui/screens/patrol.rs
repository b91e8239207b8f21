//! The patrol's page: who is ready, and what to teach next. State and keys; the picture is in `patrol_view`.

use crate::drill::Standard;
use crate::evening::USUAL_MINUTES;
use crate::paper::Sheet;
use crate::report::{Initials, Member, Report};
use crate::session::Slip;
use crate::store::{LONGEST_NAME, Learner, LearnerId, Patrol, PatrolId, SeenId, SheetId, StoredEvening, names_in};
use crate::tui::input::Input;
use crate::tui::keys::{Line, On, Press, Question, Table};
use crate::tui::model::Shared;
use crate::tui::msg::Cmd;
use crate::tui::page::{Next, Page};
use crate::tui::paint::{self, Lines, Painter};
use crate::tui::screens::evening::EveningPage;
use crate::tui::screens::games::GamesPage;
use crate::tui::screens::manage::{ASIDE, Act, ERASE, MENU, Manage, RENAME};
use crate::tui::screens::patrol_view;
use crate::tui::screens::round_choice::RoundChoice;
use crate::tui::screens::seen::SeenForm;
use crate::tui::scroll::Scroll;
use crossterm::event::KeyCode;
use ratatui::layout::Rect;
use std::cell::{Cell, RefCell};

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
    /// The initials of all, as found when the page was opened last.
    pub short: Initials,
    /// Whether a learner's page was opened from the leader's.
    pub looks: bool,
    /// The member chosen last: the choice stays, whatever screen comes in between.
    pub member: Option<LearnerId>,
    /// What was written down since the program was opened and can be taken back, the last thing at the end.
    pub undo: Vec<Undo>,
    /// The plan of an evening as it was kept last.
    pub evening: Option<StoredEvening>,
    /// The piece of it that was being done, while checks and rounds come in between.
    pub slot: Option<usize>,
    /// The paper in the printer.
    pub paper: Sheet,
}

impl Leader {
    /// The chosen standard.
    #[must_use]
    pub fn standard(&self) -> Option<&Standard> {
        self.standards.get(self.chosen)
    }

    /// Somebody by name, or by initials where others look on.
    #[must_use]
    pub fn shown(&self, learner: &Learner) -> String {
        if self.initials { self.short.show(learner) } else { learner.name.clone() }
    }
}

/// What was written down last and can be taken back as mistyped.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Undo {
    /// What was seen on the ground, of one member or several.
    Seen(Vec<SeenId>),
    /// What the members had in the last problem of a round.
    Round(Vec<Slip>),
    /// That a sheet will not come back.
    PutAway(SheetId),
}

impl Undo {
    /// What it is, in words.
    #[must_use]
    pub fn words(&self) -> String {
        let last = |one: &str, more: &str, count: usize, of: &str| match count {
            1 => format!("the last {one} of {of}"),
            _ => format!("the last {count} {more} of {of}"),
        };
        match self {
            Undo::Seen(entries) => last("entry", "entries", entries.len(), "what was seen"),
            Undo::Round(slips) => last("answer", "answers", slips.len(), "the round"),
            Undo::PutAway(_) => "that a sheet was put away".to_owned(),
        }
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
    /// What was just written down and can be taken back.
    pub undo: Option<Undo>,
    /// The member to be chosen, if not the first.
    pub choose: Option<LearnerId>,
    /// The plan of an evening that was kept last.
    pub evening: Option<StoredEvening>,
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
    /// The beginning of a name that is looked for.
    pub find: Option<Input>,
    /// What is being done about the chosen member.
    pub manage: Option<Manage>,
    /// How far the text under the table is scrolled.
    pub scroll: Scroll,
    /// How many members the last picture had room for.
    pub window: Cell<usize>,
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
#[derive(Clone, Copy, Debug)]
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
    /// The games for the group.
    Games,
    /// A plan for the evening.
    Evening,
    /// Sheets and maps on paper.
    Paper,
    /// A copy of the records.
    Backup,
    /// The first or the last member.
    End(i32),
    /// So many windows of members on.
    Window(i32),
    /// A name is looked for.
    Find,
    /// Take back what was written down last.
    Undo,
    /// Something was seen on the ground.
    Seen,
    /// The chosen member's page.
    Page,
    /// Something about the chosen member.
    Manage,
    /// What is done about the member.
    Member(Act),
    /// Somebody new.
    New,
    /// A key for the name.
    Type,
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
            find: None,
            manage: None,
            scroll: Scroll::default(),
            window: Cell::default(),
            kept: RefCell::default(),
        }
    }

    /// The chosen member.
    #[must_use]
    pub fn learner(&self) -> Option<&Learner> {
        self.report.members.get(self.chosen).map(|member| &member.learner)
    }

    /// Chooses the member at a place, or the last one; the choice is kept from screen to screen.
    fn choose(&mut self, at: usize, shared: &mut Shared) {
        self.chosen = at.min(self.report.members.len().saturating_sub(1));
        self.scroll = Scroll::default();
        shared.leader.member = self.learner().map(|learner| learner.id);
    }

    fn ids(&self) -> Vec<LearnerId> {
        self.report.members.iter().map(|member| member.learner.id).collect()
    }

    /// The next patrol, and everybody after the last.
    fn next_patrol(&self, shared: &mut Shared) -> Next {
        let ids: Vec<PatrolId> = self.patrols.iter().map(|patrol| patrol.id).collect();
        if ids.is_empty() {
            shared.notice = Some("There are no patrols yet. needlewise patrol join NAME --patrol PATROL".to_owned());
            return Next::Stay;
        }
        shared.leader.patrol = match shared.leader.patrol.and_then(|now| ids.iter().position(|id| *id == now)) {
            Some(at) => ids.get(at + 1).copied(),
            None => ids.first().copied(),
        };
        Next::Do(Cmd::Patrol)
    }
}

/// The page itself.
const PAGE: Table<Msg> = &[
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Check)], "check the chosen member").short("Enter", "check"),
    Line::new(&[(On::Letter('c'), Msg::CheckAll)], "check all, one after the other at this keyboard").short("c", "all"),
    Line::new(&[(On::Letter('s'), Msg::Standard)], "another standard, for this page, its plans and its reports, until the program is left").short("s", "standard"),
    Line::new(&[(On::Letter('x'), Msg::Columns)], "other columns: the standard's skills, families, all skills"),
    Line::new(&[(On::Letter('g'), Msg::Patrol)], "another patrol, or everybody"),
    Line::new(&[(On::Letter('r'), Msg::Round)], "a round: one problem for all in large letters, answered on paper or on a real compass; then enter who had what; on the commonest weak spot, on a skill that you choose, or on what suits each in turn; ten minutes where nothing else was asked for").short("r", "round"),
    Line::new(&[(On::Letter('t'), Msg::Turns)], "turns: the members in turn at the keyboard, each with problems of their own; ten minutes where nothing else was asked for"),
    Line::new(&[(On::Letter('e'), Msg::Evening)], "a plan for the evening: who does what in which minutes, with one laptop").short("e", "evening"),
    Line::new(&[(On::Letter('w'), Msg::Paper)], "paper: print sheets with problems for each and maps for a real compass, and type in what came back; a course on real ground comes from the command line: needlewise course").short("w", "paper"),
    Line::new(&[(On::Letter('a'), Msg::Games)], "a game for the group, outdoors: the leader's card with its key; n there deals new numbers"),
    Line::new(&[(On::Letter('o'), Msg::Seen)], "write down what was seen on the ground: a yes or a no for each member in each skill, as on the sheet to tick"),
    Line::new(&[(On::Letter('u'), Msg::Undo)], "take back what was written down last: what was seen, the answers of a round, or that a sheet was put away; asks first"),
    Line::new(&[(On::Letter('p'), Msg::Page)], "the chosen member's page"),
    Line::new(&[(On::Letter('n'), Msg::New)], "somebody new, or several at once"),
    Line::new(&[(On::Letter('m'), Msg::Manage)], "the chosen member: an answer lost to the keyboard, a shorter wait, another name, put aside, erase"),
    Line::new(&[(On::Letter('b'), Msg::Backup)], "copy all records into a new file, to be kept somewhere else"),
    Line::new(&[(On::Letter('i'), Msg::Initials)], "initials instead of names, for a screen that others see"),
    Line::new(&[(On::Key(KeyCode::Up), Msg::Choose(-1)), (On::Key(KeyCode::Down), Msg::Choose(1))], "choose a member"),
    Line::new(&[(On::Key(KeyCode::Home), Msg::End(-1)), (On::Key(KeyCode::End), Msg::End(1)), (On::Key(KeyCode::PageUp), Msg::Window(-1)), (On::Key(KeyCode::PageDown), Msg::Window(1))], "the first member, the last, a window up, a window down"),
    Line::new(&[(On::Letter('/'), Msg::Find)], "look for a name by its first letters"),
    Line::new(&[(On::Letter(' '), Msg::Scroll(5)), (On::Key(KeyCode::Backspace), Msg::Scroll(-5))], "read on in the text below, and back"),
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Back), (On::Letter('q'), Msg::Back)], "back to the list of names").short("Esc", "back"),
];
/// The first letters of a name are typed.
const FIND: Table<Msg> = &[
    Line::new(&[(On::Text, Msg::Type)], "type the first letters of a name").short("letters", "look for a name"),
    Line::new(
        &[(On::Key(KeyCode::Enter), Msg::Back), (On::Key(KeyCode::Esc), Msg::Back)],
        "take the member who is chosen",
    )
    .short("Enter", "this one"),
];
/// The name of somebody new is typed.
const NEW: Table<Msg> = &[
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Named)], "add this name, or these").short("Enter", "add"),
    Line::new(&[(On::Text, Msg::Type)], "type the name"),
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Back)], "back").short("Esc", "back"),
];

impl Page for PatrolPage {
    type Msg = Msg;
    const TABLES: &'static [(&'static str, Table<Msg>)] = &[
        ("The leader's page", PAGE),
        ("The leader's page: a name is looked for", FIND),
        ("The leader's page: somebody new", NEW),
        ("The leader's page: the chosen member", MENU),
        ("The leader's page: the chosen member", ASIDE),
        ("The leader's page: the chosen member", RENAME),
        ("The leader's page: the chosen member", ERASE),
    ];
    const TALL: bool = true;

    fn keys(&self) -> Table<Msg> {
        match (&self.manage, &self.name) {
            (Some(manage), _) => manage.keys(),
            (None, Some(_)) => NEW,
            (None, None) if self.find.is_some() => FIND,
            (None, None) => PAGE,
        }
    }

    fn update(&mut self, msg: Msg, press: Press, shared: &mut Shared) -> Next {
        let nobody = self.report.members.is_empty();
        // Who was asked may say yes by Enter, too.
        let asked = press.answers == Some(Question::TakeBack);
        let msg = if asked && matches!(msg, Msg::Check) { Msg::Undo } else { msg };
        match msg {
            Msg::Check | Msg::CheckAll | Msg::Round | Msg::Turns | Msg::Seen | Msg::Evening | Msg::Paper if nobody => {
                shared.notice = Some("Nobody is here yet: n adds somebody.".to_owned());
            }
            Msg::Choose(by) => self.choose(self.chosen.saturating_add_signed(by as isize), shared),
            Msg::End(by) => self.choose(if by < 0 { 0 } else { usize::MAX }, shared),
            Msg::Window(by) => {
                let window = self.window.get().max(1).cast_signed();
                self.choose(self.chosen.saturating_add_signed(by as isize * window), shared);
            }
            Msg::Undo => match shared.leader.undo.last() {
                None => {
                    let words =
                        "Nothing is left here to take back: only what was written down since the program was opened.";
                    shared.notice = Some(words.to_owned());
                }
                Some(undo) if !asked => {
                    let words = format!("u once more takes back {}; any other key leaves it.", undo.words());
                    shared.ask(Question::TakeBack, words);
                }
                Some(_) => return Next::maybe(shared.leader.undo.pop().map(Cmd::Undo)),
            },
            Msg::Find => self.find = Some(Input::default()),
            Msg::Evening => {
                let stored = shared.leader.evening.as_ref();
                let (page, said) = EveningPage::new(self.report.clone(), USUAL_MINUTES, stored);
                shared.notice = said;
                return Next::Aside(page.at(shared.leader.slot).into());
            }
            Msg::Paper => return Next::Do(Cmd::Sheets(self.ids())),
            Msg::Backup => return Next::Do(Cmd::Backup),
            Msg::Check => return Next::maybe(self.learner().map(|one| Cmd::Queue(vec![one.id]))),
            Msg::CheckAll => return Next::Do(Cmd::Queue(self.ids())),
            Msg::Round => return Next::Aside(RoundChoice::new(&self.report, shared).into()),
            Msg::Turns => return Next::Do(Cmd::OpenTurns(self.ids())),
            Msg::Games => return Next::Aside(GamesPage::new(self.report.members.len()).into()),
            Msg::Seen => {
                let chosen = self.learner().map(|learner| learner.id);
                return Next::Go(SeenForm::new(self.report.clone(), chosen, shared.day).into());
            }
            Msg::Page => {
                shared.leader.looks = true;
                return Next::maybe(self.learner().map(|one| Cmd::Look(one.id)));
            }
            Msg::Standard => {
                shared.leader.chosen = (shared.leader.chosen + 1) % shared.leader.standards.len().max(1);
                return Next::Do(Cmd::Patrol);
            }
            Msg::Patrol => return self.next_patrol(shared),
            Msg::Columns => {
                self.columns = match self.columns {
                    Columns::Standard => Columns::Families,
                    Columns::Families => Columns::Skills,
                    Columns::Skills => Columns::Standard,
                };
            }
            Msg::Initials => shared.leader.initials = !shared.leader.initials,
            Msg::Manage => self.manage = self.learner().cloned().map(Manage::new),
            Msg::Member(act) => {
                let Some(manage) = &mut self.manage else { return Next::Stay };
                let (command, notice, done) = manage.update(act, press);
                if done {
                    self.manage = None;
                }
                shared.notice = notice;
                return Next::maybe(command);
            }
            Msg::New => self.name = Some(Input::of_at_most(LONGEST_NAME * 12)),
            Msg::Type => {
                if let Some(name) = &mut self.name {
                    paint::edit(name, press.key);
                } else if let Some(find) = &mut self.find {
                    paint::edit(find, press.key);
                    let wanted = find.text().trim().to_lowercase();
                    let named = |member: &Member| member.learner.name.to_lowercase().starts_with(&wanted);
                    if let Some(at) = self.report.members.iter().position(named) {
                        self.choose(at, shared);
                    }
                }
            }
            Msg::Named => {
                let typed = self.name.as_ref().map(Input::text).unwrap_or_default();
                let names: Vec<String> = names_in(typed).map(str::to_owned).collect();
                if names.is_empty() {
                    shared.notice = Some("No name is typed yet; Esc goes back.".to_owned());
                } else if let Some(long) = names.iter().find(|name| name.chars().count() > LONGEST_NAME) {
                    let most = format!("at most {LONGEST_NAME} letters, and a comma between two names");
                    shared.notice = Some(format!("A name is too long ({}…): {most}.", paint::cut(long, 12)));
                } else {
                    return Next::Do(Cmd::AddMembers(names, shared.leader.patrol));
                }
            }
            Msg::Scroll(by) => self.scroll.by(by),
            Msg::Back if self.name.is_some() => self.name = None,
            Msg::Back if self.find.is_some() => self.find = None,
            Msg::Back => return Next::Do(Cmd::LoadLearners),
        }
        Next::Stay
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        patrol_view::view(self, shared, painter, area);
    }

    fn title(&self, shared: &Shared) -> (String, String) {
        let shown = shared.leader.patrol.and_then(|id| self.patrols.iter().find(|patrol| patrol.id == id));
        let who = shown.map_or("everybody", |patrol| patrol.name.as_str());
        let other = if self.manage.is_none() && !self.types_text() { " (s: another standard)" } else { "" };
        (format!("{}{other} · {who}", self.report.standard.title), shared.day.to_string())
    }

    fn types_text(&self) -> bool {
        self.name.as_ref().is_some_and(|name| !name.is_empty())
            || self.find.is_some()
            || self.manage.as_ref().is_some_and(Manage::types)
    }

    fn paste(&mut self, text: &str) {
        if let Some(manage) = &mut self.manage {
            manage.paste(text);
        } else if let Some(name) = &mut self.name {
            name.paste(text);
        }
    }
}
