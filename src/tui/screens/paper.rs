//! Paper for those who wait: sheets and maps to print, and sheets that came back to be typed in.

use crate::evening::plan_told;
use crate::paper;
use crate::report::Report;
use crate::session::{and_words, typed_in_words};
use crate::store::{Learner, LearnerId, Sheet};
use crate::tui::hands::{ReportPages, ReportToPrint, SheetsOf};
use crate::tui::keys::{Line, On, Press, Question, Table};
use crate::tui::model::Shared;
use crate::tui::msg::Cmd;
use crate::tui::page::{Next, Page};
use crate::tui::paint::{Lines, Painter};
use crate::tui::screens::patrol::Undo;
use crate::tui::screens::sheet::SheetPage;
use crate::tui::scroll::Scroll;
use crate::tui::theme::Tone;
use crossterm::event::KeyCode;
use ratatui::layout::Rect;

/// The state.
#[derive(Debug)]
pub struct PaperPage {
    report: Report,
    /// The sheets that were printed, with whose each is.
    sheets: Vec<(Learner, Sheet)>,
    /// The chosen one.
    chosen: usize,
    scroll: Scroll,
    /// Who gets no sheet.
    left_out: Vec<LearnerId>,
    /// The member at whom it is asked who gets one, while it is.
    asked: Option<usize>,
}

/// What can happen here.
#[derive(Clone, Copy, Debug)]
pub enum Msg {
    /// Another sheet.
    Choose(i32),
    /// The first or the last sheet.
    End(i32),
    /// Type the chosen one in.
    TypeIn,
    /// The chosen one will not come back.
    PutAway,
    /// Take that back.
    TakeOut,
    /// Print sheets for all who get one.
    Sheets(SheetsOf),
    /// Say who gets one.
    Whom,
    /// The member gets one, or none.
    Turn,
    /// All get one; none does where all do.
    All,
    /// That is all of them.
    Done,
    /// Print a map.
    Map,
    /// Print pages of the report.
    Report(ReportPages),
    /// The other size of paper.
    Size,
    /// Back to the leader's page.
    Back,
}

const KEYS: Table<Msg> = &[
    Line::new(&[(On::Letter('w'), Msg::Sheets(SheetsOf::Next))], "print a sheet for each member, weak spots first")
        .short("w", "sheets"),
    Line::new(
        &[(On::Letter('s'), Msg::Sheets(SheetsOf::Standard))],
        "print a sheet for each member with the standard's skills",
    ),
    Line::new(&[(On::Letter('f'), Msg::Whom)], "say for whom sheets are printed").short("f", "whom"),
    Line::new(&[(On::Letter('m'), Msg::Map)], "print a map for a real compass, with its key").short("m", "map"),
    Line::new(
        &[(On::Letter('t'), Msg::Report(ReportPages::Ticks))],
        "print a sheet to tick outdoors, a yes and a no for each member in each skill",
    ),
    Line::new(
        &[(On::Letter('h'), Msg::Report(ReportPages::HandOut))],
        "print the whole report, for the leader who takes over; its first page has the plan of the evening",
    ),
    Line::new(
        &[(On::Letter('l'), Msg::Report(ReportPages::Wall))],
        "print a list for the wall by initials: who is ready and who shows whom",
    ),
    Line::new(&[(On::Letter('p'), Msg::Size)], "the other size of paper: A4 or Letter").short("p", "size"),
    Line::new(
        &[(On::Key(KeyCode::Up), Msg::Choose(-1)), (On::Key(KeyCode::Down), Msg::Choose(1))],
        "choose a sheet that came back",
    )
    .short("↑ ↓", "choose"),
    Line::new(&[(On::Key(KeyCode::Enter), Msg::TypeIn)], "type the chosen sheet in").short("Enter", "type in"),
    Line::new(
        &[(On::Letter('x'), Msg::PutAway)],
        "put the chosen sheet away, since it will not come back: it is listed no more; asks first",
    ),
    Line::new(&[(On::Letter('u'), Msg::TakeOut)], "take back that a sheet was put away, the last one first"),
    Line::new(
        &[(On::Key(KeyCode::Home), Msg::End(-1)), (On::Key(KeyCode::End), Msg::End(1))],
        "the first sheet, the last",
    ),
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Back), (On::Letter('q'), Msg::Back)], "back to the leader's page")
        .short("Esc", "back"),
];

/// It is said who gets a sheet.
const WHOM: Table<Msg> = &[
    Line::new(&[(On::Key(KeyCode::Up), Msg::Choose(-1)), (On::Key(KeyCode::Down), Msg::Choose(1))], "choose a member")
        .short("↑ ↓", "choose"),
    Line::new(&[(On::Letter(' '), Msg::Turn)], "a sheet for this member, or none").short("Space", "yes or no"),
    Line::new(&[(On::Letter('a'), Msg::All)], "a sheet for all; for none of them where all have one")
        .short("a", "all or none"),
    Line::new(
        &[(On::Key(KeyCode::Home), Msg::End(-1)), (On::Key(KeyCode::End), Msg::End(1))],
        "the first member, the last",
    ),
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Done), (On::Key(KeyCode::Esc), Msg::Done)], "that is all of them")
        .short("Enter", "done"),
];

impl PaperPage {
    /// Paper for the members of a report, and the sheets they had.
    #[must_use]
    pub fn new(report: Report, sheets: Vec<(Learner, Sheet)>) -> PaperPage {
        PaperPage { report, sheets, chosen: 0, scroll: Scroll::default(), left_out: Vec::new(), asked: None }
    }

    /// The sheets as they are now. Who was chosen stays chosen: the same sheet of theirs, or the newest where more were printed.
    pub fn refresh(&mut self, sheets: Vec<(Learner, Sheet)>) {
        if let Some((learner, sheet)) = self.sheets.get(self.chosen) {
            let same = sheets.iter().position(|(_, other)| other.id == sheet.id);
            let theirs = sheets.iter().position(|(other, _)| other.id == learner.id);
            let place = if sheets.len() > self.sheets.len() { theirs } else { same.or(theirs) };
            // Of who has no sheet any more the place in the list stays.
            self.chosen = place.unwrap_or(self.chosen).min(sheets.len().saturating_sub(1));
        }
        self.sheets = sheets;
    }

    /// The members whose sheets these are.
    #[must_use]
    pub fn ids(&self) -> Vec<LearnerId> {
        self.report.members.iter().map(|member| member.learner.id).collect()
    }

    /// Those who get a sheet.
    fn wanted(&self) -> Vec<LearnerId> {
        self.ids().into_iter().filter(|id| !self.left_out.contains(id)).collect()
    }

    fn choose(&mut self, at: usize) {
        match &mut self.asked {
            Some(asked) => *asked = at.min(self.report.members.len().saturating_sub(1)),
            None => self.chosen = at.min(self.sheets.len().saturating_sub(1)),
        }
    }

    /// The member at whom it is asked gets a sheet, or none.
    fn turn(&mut self) {
        let Some(member) = self.asked.and_then(|at| self.report.members.get(at)) else { return };
        let id = member.learner.id;
        match self.left_out.iter().position(|other| *other == id) {
            Some(place) => {
                self.left_out.remove(place);
            }
            None => self.left_out.push(id),
        }
    }

    /// For whom sheets are printed: `all 8`, `5 of 8`, or the names of a few.
    fn whom(&self, name: &dyn Fn(&str) -> String) -> String {
        let all = self.report.members.len();
        let wanted = self.report.members.iter().filter(|member| !self.left_out.contains(&member.learner.id));
        let names: Vec<String> = wanted.map(|member| name(&member.learner.name)).collect();
        match names.as_slice() {
            [] => "nobody".to_owned(),
            few if few.len() <= 3 => and_words(&few.iter().map(String::as_str).collect::<Vec<_>>()),
            many if many.len() == all => format!("all {all}"),
            many => format!("{} of {all}", many.len()),
        }
    }

    /// Who gets a sheet, member by member.
    fn draw_whom(
        &self,
        at: usize,
        name: &dyn Fn(&str) -> String,
        mut lines: Lines,
        painter: &mut Painter<'_, '_>,
        area: Rect,
    ) {
        lines.title("Who gets a sheet?");
        let room = usize::from(area.height).saturating_sub(lines.len()).max(1);
        self.scroll.reveal(at, u16::try_from(room).unwrap_or(u16::MAX));
        let first = self.scroll.first_of(self.report.members.len(), room);
        for (number, member) in self.report.members.iter().enumerate().skip(first).take(room) {
            let mark = if self.left_out.contains(&member.learner.id) { "no " } else { "yes" };
            lines.item(number == at, &format!("{mark}  {}", name(&member.learner.name)));
        }
        painter.lines(lines, area);
    }
}

impl Page for PaperPage {
    type Msg = Msg;
    const TABLES: &'static [(&'static str, Table<Msg>)] = &[("Paper", KEYS), ("Who gets a sheet", WHOM)];
    const TALL: bool = true;

    fn keys(&self) -> Table<Msg> {
        if self.asked.is_some() { WHOM } else { KEYS }
    }

    fn update(&mut self, msg: Msg, press: Press, shared: &mut Shared) -> Next {
        let asked = press.answers == Some(Question::PutAway);
        // Who was asked may say yes by Enter, too.
        let msg = if asked && matches!(msg, Msg::TypeIn) { Msg::PutAway } else { msg };
        match msg {
            Msg::PutAway => match self.sheets.get(self.chosen) {
                None => shared.notice = Some("No sheet is listed that could be put away.".to_owned()),
                Some((_, sheet)) if asked => return Next::Do(Cmd::PutSheetAway(self.ids(), sheet.id)),
                Some((learner, sheet)) => {
                    let (name, day) = (self.report.shown_as(shared.leader.initials)(&learner.name), sheet.day);
                    let words = format!("Will {name}'s sheet of {day} not come back? x once more puts it away.");
                    shared.ask(Question::PutAway, words);
                }
            },
            Msg::TakeOut => {
                let place = shared.leader.undo.iter().rposition(|undo| matches!(undo, Undo::PutAway(_)));
                match place.map(|at| shared.leader.undo.remove(at)) {
                    Some(Undo::PutAway(sheet)) => return Next::Do(Cmd::TakeSheetOut(self.ids(), sheet)),
                    _ => shared.notice = Some("No sheet was put away since the program was opened.".to_owned()),
                }
            }
            Msg::Choose(by) => {
                let at = self.asked.unwrap_or(self.chosen);
                self.choose(at.saturating_add_signed(by as isize));
            }
            Msg::Whom => self.asked = Some(0),
            Msg::Turn => self.turn(),
            Msg::All => self.left_out = if self.left_out.is_empty() { self.ids() } else { Vec::new() },
            Msg::Done => self.asked = None,
            Msg::Sheets(_) if self.wanted().is_empty() => {
                shared.notice = Some("Nobody gets a sheet: f says for whom they are.".to_owned());
            }
            Msg::End(by) => self.choose(if by < 0 { 0 } else { usize::MAX }),
            Msg::Size => {
                shared.leader.paper = match shared.leader.paper {
                    paper::Sheet::A4 => paper::Sheet::Letter,
                    paper::Sheet::Letter => paper::Sheet::A4,
                };
            }
            Msg::Sheets(of) => return Next::Do(Cmd::PrintSheets(self.wanted(), of, shared.leader.paper)),
            Msg::Report(pages) => {
                let initials = shared.leader.initials || pages == ReportPages::Wall;
                let (report, size) = (self.report.clone(), shared.leader.paper);
                let plan = plan_told(shared.leader.evening.as_ref(), &report, &report.shown_as(initials));
                let to_print = ReportToPrint { report, plan, pages, initials, size };
                return Next::Do(Cmd::PrintReport(Box::new(to_print)));
            }
            Msg::Map => return Next::Do(Cmd::PrintMap(shared.leader.paper)),
            Msg::TypeIn => {
                let Some((learner, sheet)) = self.sheets.get(self.chosen) else {
                    shared.notice = Some("No sheet was printed yet: w prints one for each.".to_owned());
                    return Next::Stay;
                };
                let name = self.report.shown_as(shared.leader.initials);
                match SheetPage::new(learner.id, name(&learner.name), sheet.clone(), self.ids()) {
                    Ok(page) => return Next::Aside(page.into()),
                    Err(error) => shared.notice = Some(error),
                }
            }
            Msg::Back => return Next::Do(Cmd::Patrol),
        }
        Next::Stay
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        let name = self.report.shown_as(shared.leader.initials);
        let mut lines = Lines::new(shared.theme, area.width);
        lines.title("Print");
        let whom = self.whom(&name);
        lines.hanging(Tone::Text, "w  ", &format!("sheets for {whom}: what is next for each, weak spots first"));
        lines.hanging(Tone::Text, "s  ", &format!("sheets for {whom}: the skills of {}", self.report.standard.title));
        lines.hanging(Tone::Text, "f  ", "say who of them gets a sheet");
        lines.hanging(Tone::Text, "m  ", "a map for a real compass, with tasks");
        lines.hanging(Tone::Text, "t  ", "a sheet to tick outdoors: a yes and a no for each in each skill");
        lines.hanging(Tone::Text, "h  ", "the whole report, for the leader who takes over");
        lines.hanging(Tone::Text, "l  ", "a list for the wall, by initials: who is ready, who shows whom");
        let size = match shared.leader.paper {
            paper::Sheet::A4 => "A4 (or Letter)",
            paper::Sheet::Letter => "Letter (or A4)",
        };
        lines.hanging(Tone::Text, "p  ", &format!("the paper in the printer: {size}"));
        lines.gap();
        lines.quiet("Each comes as a new PDF file. Sheets and maps have their keys on pages of their own at the end: those are for you.");
        lines.gap();
        if let Some(at) = self.asked {
            return self.draw_whom(at, &name, lines, painter, area);
        }
        lines.title("Sheets that were printed: type in what came back (x: it will not come back)");
        if self.sheets.is_empty() {
            lines.text("None yet.");
        }
        let wide =
            self.sheets.iter().map(|(learner, _)| name(&learner.name).chars().count()).max().unwrap_or(0).min(24);
        let room = usize::from(area.height).saturating_sub(lines.len()).max(1);
        self.scroll.reveal(self.chosen, u16::try_from(room).unwrap_or(u16::MAX));
        let first = self.scroll.first_of(self.sheets.len(), room);
        for (at, (learner, sheet)) in self.sheets.iter().enumerate().skip(first).take(room) {
            let mut state = typed_in_words(sheet);
            // Two of one day are told apart by what stands first on them.
            let others = self.sheets.iter().filter(|(other, _)| other.id == learner.id).count();
            if let (Some(first), true) = (sheet.codes.first(), others > 1) {
                state.push_str(&format!(", from {first} on"));
            }
            lines.item(at == self.chosen, &format!("{:<wide$}   {}   {state}", name(&learner.name), sheet.day));
        }
        painter.lines(lines, area);
    }

    fn title(&self, shared: &Shared) -> (String, String) {
        ("Paper for those who wait".to_owned(), shared.day.to_string())
    }
}
