//! A sheet that came back is typed in: the digits of its key, or the answers as they stand there.

use crate::problem::{Problem, realise};
use crate::session::{Entry, Sitting, entered_words, key_lines, typed_in_words};
use crate::skills;
use crate::store::{AttemptId, LearnerId, Sheet};
use crate::tui::hands::{Score, Scored};
use crate::tui::input::Input;
use crate::tui::keys::{Line, On, Press, Question, Table};
use crate::tui::model::Shared;
use crate::tui::msg::Cmd;
use crate::tui::page::{Next, Page};
use crate::tui::paint::{self, Lines, Painter};
use crate::tui::scroll::Scroll;
use crate::tui::theme::Tone;
use crossterm::event::KeyCode;
use ratatui::layout::Rect;

/// Cells of the field.
const FIELD: u16 = 40;
/// Problems of the list that are seen at once at least.
const ROWS: usize = 3;

/// The state.
#[derive(Debug)]
pub struct SheetPage {
    learner: LearnerId,
    /// Whose sheet, as it is shown.
    name: String,
    sheet: Sheet,
    problems: Vec<Problem>,
    /// The chosen problem.
    chosen: usize,
    input: Input,
    sitting: Option<Sitting>,
    /// The members whose sheets are listed on the page behind.
    members: Vec<LearnerId>,
    scroll: Scroll,
}

/// What can happen here.
#[derive(Clone, Copy, Debug)]
pub enum Msg {
    /// Another problem.
    Choose(i32),
    /// What is typed is taken.
    Take,
    /// A key for the field.
    Type,
    /// Back to the list of sheets.
    Back,
}

const KEYS: Table<Msg> = &[
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Take)], "write it down and go on to the next open problem")
        .short("Enter", "write it down"),
    Line::new(
        &[(On::Text, Msg::Type)],
        "type the digit of the key, or the answer, or - for not done; Backspace in the empty field takes back what was typed in before",
    ),
    Line::new(&[(On::Key(KeyCode::Up), Msg::Choose(-1)), (On::Key(KeyCode::Down), Msg::Choose(1))], "choose a problem")
        .short("↑ ↓", "another problem"),
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Back)], "back to the sheets; what is typed in stays").short("Esc", "back"),
];

impl SheetPage {
    /// The sheet at its first open problem.
    ///
    /// # Errors
    /// The message for the screen, where this program does not know a problem of the sheet.
    pub fn new(learner: LearnerId, name: String, sheet: Sheet, members: Vec<LearnerId>) -> Result<SheetPage, String> {
        let problem = |code: &String| {
            let known = skills::read_code(code).map_err(|error| error.to_string())?;
            realise(&known).map_err(|error| error.to_string())
        };
        let problems = sheet.codes.iter().map(problem).collect::<Result<Vec<_>, String>>()?;
        let chosen = sheet.open().next().unwrap_or(0);
        let (input, scroll) = (Input::default(), Scroll::default());
        Ok(SheetPage { learner, name, sheet, problems, chosen, input, sitting: None, members, scroll })
    }

    /// Whether it is said that nobody worked the chosen problem.
    fn is_not_done(&self) -> bool {
        self.sheet.not_done.contains(&self.chosen)
    }

    /// What was typed in of the chosen problem.
    fn entered(&self) -> Option<AttemptId> {
        self.sheet.entered.iter().find(|(at, ..)| *at == self.chosen).map(|(_, attempt, _)| *attempt)
    }

    /// On to the next problem that is open, round the end.
    fn go_on(&mut self) {
        let after = self.sheet.open().find(|at| *at > self.chosen);
        if let Some(next) = after.or_else(|| self.sheet.open().next()) {
            self.chosen = next;
        }
    }

    fn score(&self, entry: Option<Entry>) -> Option<Cmd> {
        let problem = self.problems.get(self.chosen)?.clone();
        let (learner, sheet, sitting) = (self.learner, self.sheet.id, self.sitting.clone());
        Some(Cmd::Score(Box::new(Score { learner, sheet, problem, entry, mistyped: self.entered(), sitting })))
    }

    fn take(&mut self, asked: bool, shared: &mut Shared) -> Next {
        let Some(problem) = self.problems.get(self.chosen) else { return Next::Stay };
        if self.input.text().trim().is_empty() {
            shared.notice = Some("Type the digit beside what stands on the sheet; - is not done.".to_owned());
            return Next::Stay;
        }
        let before = self.sheet.entered.iter().find(|(at, ..)| *at == self.chosen);
        let before = before.map(|(_, _, verdict)| entered_words(problem, verdict));
        match (Entry::read(self.input.text(), problem), before) {
            // A key too many is no correction.
            (Ok(_), Some(before)) if !asked => {
                let number = self.chosen + 1;
                let words = format!("{number} is typed in ({before}). Enter once more puts this in its place.");
                shared.ask(Question::Replace, words);
                Next::Stay
            }
            (Ok(entry), _) => Next::maybe(self.score(Some(entry))),
            (Err(error), _) => {
                shared.notice = Some(error.to_string());
                Next::Stay
            }
        }
    }

    /// Takes in what was written down.
    pub fn scored(&mut self, scored: Scored, shared: &mut Shared) {
        (self.sheet, self.sitting) = (scored.sheet, scored.sitting);
        match scored.said {
            Ok(said) => {
                shared.notice = Some(format!("{}: {said}", self.chosen + 1));
                self.input.clear();
                if self.entered().is_some() || self.is_not_done() {
                    self.go_on();
                }
            }
            Err(error) => shared.notice = Some(error),
        }
    }

    /// The chosen problem with what can stand beside it.
    fn key(&self, shared: &Shared, width: u16) -> Lines {
        let mut lines = Lines::new(shared.theme, width);
        let Some(problem) = self.problems.get(self.chosen) else { return lines };
        lines.title(&format!("{}. {} ({})", self.chosen + 1, problem.skill().title, problem.code()));
        for (digit, words) in key_lines(problem) {
            lines.hanging(Tone::Text, &format!("{digit:>3}  "), &words);
        }
        lines.hanging(Tone::Text, "  -  ", "not done");
        lines
    }
}

impl Page for SheetPage {
    type Msg = Msg;
    const TABLES: &'static [(&'static str, Table<Msg>)] = &[("A sheet that came back", KEYS)];
    const TALL: bool = true;

    fn keys(&self) -> Table<Msg> {
        KEYS
    }

    fn update(&mut self, msg: Msg, press: Press, shared: &mut Shared) -> Next {
        match msg {
            Msg::Choose(by) => {
                let last = self.problems.len().saturating_sub(1);
                self.chosen = self.chosen.saturating_add_signed(by as isize).min(last);
                self.input.clear();
            }
            Msg::Take => return self.take(press.answers == Some(Question::Replace), shared),
            Msg::Type
                if press.key.code == KeyCode::Backspace
                    && self.input.is_empty()
                    && (self.entered().is_some() || self.is_not_done()) =>
            {
                return Next::maybe(self.score(None));
            }
            Msg::Type => paint::edit(&mut self.input, press.key),
            Msg::Back => return Next::BackAnd(Cmd::Sheets(self.members.clone())),
        }
        Next::Stay
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        let mut lines = Lines::new(shared.theme, area.width);
        let all = self.problems.len();
        lines.title(&format!("{}, sheet of {}: {}", self.name, self.sheet.day, typed_in_words(&self.sheet)));
        lines.gap();
        let key = self.key(shared, area.width);
        let room = usize::from(area.height).saturating_sub(lines.len() + key.len() + 2).max(ROWS);
        self.scroll.reveal(self.chosen, u16::try_from(room).unwrap_or(u16::MAX));
        let first = self.scroll.first_of(all, room);
        let wide = self.problems.iter().map(|problem| problem.skill().title.chars().count()).max().unwrap_or(0);
        for (at, problem) in self.problems.iter().enumerate().skip(first).take(room) {
            let entered = self.sheet.entered.iter().find(|(place, ..)| *place == at);
            let unworked = if self.sheet.not_done.contains(&at) { "not done" } else { "open" };
            let state = entered.map_or_else(|| unworked.to_owned(), |(_, _, verdict)| entered_words(problem, verdict));
            lines.item(at == self.chosen, &format!("{:>2}  {:<wide$}   {state}", at + 1, problem.skill().title));
        }
        lines.gap();
        lines.append(&key);
        let row = lines.field(&self.input, usize::from(FIELD));
        painter.lines(lines, area);
        painter.cursor(area, row, &self.input, FIELD);
    }

    fn title(&self, shared: &Shared) -> (String, String) {
        ("A sheet that came back".to_owned(), shared.day.to_string())
    }

    fn types_text(&self) -> bool {
        !self.input.is_empty()
    }

    fn paste(&mut self, text: &str) {
        self.input.paste(text);
    }
}
