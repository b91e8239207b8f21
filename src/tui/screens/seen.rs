//! Writing down what a leader saw on the ground: the boxes of the tick sheet, member by member and skill by skill. State and keys;
//! the picture is in `seen_view`.

use crate::numbers::round_from;
use crate::report::Report;
use crate::store::{LONGEST_NAME, LONGEST_SEEN, LearnerId, Seen, SeenOutcome};
use crate::tui::input::Input;
use crate::tui::keys::{Line, On, Press, Question, Table};
use crate::tui::model::Shared;
use crate::tui::msg::Cmd;
use crate::tui::page::{Next, Page};
use crate::tui::paint::{self, Painter};
use crate::tui::screens::seen_view;
use crossterm::event::KeyCode;
use jiff::civil::Date;
use ratatui::layout::Rect;
use std::cell;

/// The heading of its keys in the help.
const HEADING: &str = "What was seen on the ground";

/// After so many days a year may be mistyped.
const LONG_AGO: i32 = 60;

/// What is being filled in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Field {
    /// The boxes.
    Boxes,
    /// On which day it was seen.
    Day,
    /// What was seen, in the leader's words.
    What,
    /// By whom.
    By,
}

impl Field {
    /// All of them, in their order.
    const ALL: [Field; 4] = [Field::Boxes, Field::Day, Field::What, Field::By];

    /// So many fields on, round from the last to the first.
    fn on(self, by: i32) -> Field {
        let at = Field::ALL.iter().position(|field| *field == self).unwrap_or_default();
        Field::ALL[round_from(at, by, Field::ALL.len())]
    }
}

/// The state: a box for each member in each skill of the standard, and what holds for all that is ticked.
#[derive(Debug)]
pub struct SeenForm {
    /// Those who are here, in the order of the printed sheet, and the skills.
    pub report: Report,
    /// What was ticked, member by member and skill by skill.
    pub ticks: Vec<Vec<Option<SeenOutcome>>>,
    /// The member and the skill of the box that is chosen.
    pub member: usize,
    /// See `member`.
    pub skill: usize,
    /// On which day it was seen.
    pub on: Input,
    /// What was seen.
    pub what: Input,
    /// By whom.
    pub by: Input,
    /// What is being filled in.
    pub field: Field,
    /// How many members the last picture had room for.
    pub window: cell::Cell<usize>,
}

/// What can happen here.
#[derive(Clone, Copy, Debug)]
pub enum Msg {
    /// The box is ticked, and the next one is chosen.
    Tick(SeenOutcome),
    /// The next box, and this one stays as it is.
    On,
    /// The tick is taken away; where there is none, the box before is chosen.
    Empty,
    /// So many members down, so many skills on.
    Move(i32, i32),
    /// The first or the last member.
    End(i32),
    /// So many windows of members on.
    Window(i32),
    /// The next field, or all is written.
    Enter,
    /// The next or the previous field.
    Field(i32),
    /// A key for a field.
    Type,
    /// Back without writing.
    Back,
}

impl SeenForm {
    /// Empty boxes for those of a report, of whom one is chosen.
    #[must_use]
    pub fn new(report: Report, chosen: Option<LearnerId>, day: Date) -> SeenForm {
        let report = report.by_name();
        let member = report.members.iter().position(|member| Some(member.learner.id) == chosen).unwrap_or_default();
        let ticks = vec![vec![None; report.standard.skills.len()]; report.members.len()];
        let mut on = Input::default();
        on.set(&day.to_string());
        SeenForm {
            report,
            ticks,
            member,
            skill: 0,
            on,
            what: Input::of_at_most(LONGEST_SEEN),
            by: Input::default(),
            field: Field::Boxes,
            window: cell::Cell::default(),
        }
    }

    /// How many boxes are ticked.
    #[must_use]
    pub fn ticked(&self) -> usize {
        self.ticks.iter().flatten().flatten().count()
    }

    /// What is ticked in the chosen box.
    fn tick(&mut self) -> Option<&mut Option<SeenOutcome>> {
        self.ticks.get_mut(self.member)?.get_mut(self.skill)
    }

    /// The next box or the one before, on to another member at the end of a row; whether there is one.
    fn step(&mut self, forward: bool) -> bool {
        let (rows, columns) = (self.ticks.len(), self.report.standard.skills.len());
        let at = self.member * columns + self.skill;
        let to = if forward { at + 1 } else { at.wrapping_sub(1) };
        let there = to < rows * columns;
        if there {
            (self.member, self.skill) = (to / columns, to % columns);
        }
        there
    }

    /// The field that is typed into.
    const fn typed(&mut self) -> Option<&mut Input> {
        match self.field {
            Field::Boxes => None,
            Field::Day => Some(&mut self.on),
            Field::What => Some(&mut self.what),
            Field::By => Some(&mut self.by),
        }
    }

    fn choose(&mut self, member: usize) {
        self.member = member.min(self.ticks.len().saturating_sub(1));
    }

    /// The day that was typed, or what is wrong with it.
    fn day(&self, today: Date) -> Result<Date, String> {
        let typed = self.on.text().trim();
        let day: Date = typed.parse().map_err(|_| format!("{typed:?} is not a day; write it like {today}."))?;
        if day > today { Err(format!("{day} lies after today, {today}: nobody has seen that yet.")) } else { Ok(day) }
    }

    /// What is still wanted before it can be written, and where.
    fn wanted(&self, today: Date) -> Option<(Field, String)> {
        let by = self.by.text().trim();
        if self.ticked() == 0 {
            Some((Field::Boxes, "No box is ticked yet: y for yes, n for no.".to_owned()))
        } else if let Err(wrong) = self.day(today) {
            Some((Field::Day, wrong))
        } else if by.is_empty() {
            Some((Field::By, "Who saw it? Type a name, then press Enter.".to_owned()))
        } else if by.chars().count() > LONGEST_NAME {
            Some((Field::By, format!("That name is too long: {LONGEST_NAME} letters at most.")))
        } else {
            None
        }
    }

    /// What is written: one entry a tick.
    fn entries(&self, day: Date) -> Vec<Seen> {
        let (what, by) = (self.what.text().trim(), self.by.text().trim());
        let mut entries = Vec::with_capacity(self.ticked());
        for (member, ticks) in self.report.members.iter().zip(&self.ticks) {
            for (one, tick) in self.report.standard.skills.iter().zip(ticks) {
                entries.extend(tick.map(|outcome| Seen {
                    learner: member.learner.id,
                    skill: one.skill.id.to_owned(),
                    what: what.to_owned(),
                    day,
                    by: by.to_owned(),
                    outcome,
                }));
            }
        }
        entries
    }

    /// The next field, or at the last one all is written. What is wanted further on is asked for there; a day so long ago that its
    /// year may be mistyped is asked about.
    fn enter(&mut self, asked: bool, shared: &mut Shared) -> Next {
        match (self.wanted(shared.day), self.day(shared.day)) {
            (Some((field, words)), _) if field <= self.field => {
                self.field = field;
                shared.notice = Some(words);
            }
            (None, Ok(day)) if self.field == Field::By => {
                let days = (shared.day - day).get_days();
                if asked || days <= LONG_AGO {
                    return Next::Do(Cmd::AddSeen(self.entries(day)));
                }
                shared.ask(Question::LongAgo, format!("{day} is {days} days ago. Enter once more if that is the day."));
            }
            _ => self.field = self.field.on(1),
        }
        Next::Stay
    }

    /// Back, once it was asked where something is ticked.
    fn back(&self, asked: bool, shared: &mut Shared) -> Next {
        let ticks = match self.ticked() {
            0 => return Next::Do(Cmd::Patrol),
            _ if asked => return Next::Do(Cmd::Patrol),
            1 => "1 tick is".to_owned(),
            more => format!("{more} ticks are"),
        };
        let words = format!("{ticks} not written down: Esc once more throws them away, any other key goes on.");
        shared.ask(Question::Leave, words);
        Next::Stay
    }
}

/// What Enter does in the help, wherever it is pressed.
const ENTER_DOES: &str = "go on to the day, the words and who saw it; at the end, write it down";
const FIELDS: Line<Msg> = Line::new(
    &[(On::Key(KeyCode::Tab), Msg::Field(1)), (On::Key(KeyCode::BackTab), Msg::Field(-1))],
    "the next field, the field before",
);
const BACK: Line<Msg> =
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Back)], "back without writing it down; asks first").short("Esc", "back");
/// A box is chosen.
const BOXES: Table<Msg> = &[
    Line::new(
        &[
            (On::Letter('y'), Msg::Tick(SeenOutcome::Yes)),
            (On::Letter('n'), Msg::Tick(SeenOutcome::No)),
            (On::Letter('Y'), Msg::Tick(SeenOutcome::Yes)),
            (On::Letter('N'), Msg::Tick(SeenOutcome::No)),
        ],
        "yes, without help; no, not yet; and on to the next box",
    )
    .short("y n", "yes, no"),
    Line::new(&[(On::Letter(' '), Msg::On)], "leave this box as it is, on to the next").short("Space", "next box"),
    Line::new(
        &[(On::Key(KeyCode::Backspace), Msg::Empty), (On::Key(KeyCode::Delete), Msg::Empty)],
        "take the tick away; from an empty box, back to the one before",
    ),
    Line::new(
        &[
            (On::Key(KeyCode::Up), Msg::Move(-1, 0)),
            (On::Key(KeyCode::Down), Msg::Move(1, 0)),
            (On::Key(KeyCode::Left), Msg::Move(0, -1)),
            (On::Key(KeyCode::Right), Msg::Move(0, 1)),
        ],
        "choose a box",
    )
    .short("↑ ↓ ← →", "box"),
    Line::new(
        &[
            (On::Key(KeyCode::Home), Msg::End(-1)),
            (On::Key(KeyCode::End), Msg::End(1)),
            (On::Key(KeyCode::PageUp), Msg::Window(-1)),
            (On::Key(KeyCode::PageDown), Msg::Window(1)),
        ],
        "the first member, the last, a window up, a window down",
    ),
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Enter)], ENTER_DOES).short("Enter", "go on"),
    FIELDS,
    BACK,
];
/// Words are typed.
const WORDS: Table<Msg> = &[
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Enter)], ENTER_DOES).short("Enter", "go on, then write"),
    FIELDS,
    BACK,
    Line::new(&[(On::Text, Msg::Type)], "type"),
];

impl Page for SeenForm {
    type Msg = Msg;
    const TABLES: &'static [(&'static str, Table<Msg>)] = &[(HEADING, BOXES), (HEADING, WORDS)];
    const TALL: bool = true;

    fn keys(&self) -> Table<Msg> {
        if self.field == Field::Boxes { BOXES } else { WORDS }
    }

    fn update(&mut self, msg: Msg, press: Press, shared: &mut Shared) -> Next {
        match msg {
            Msg::Back => return self.back(press.answers == Some(Question::Leave), shared),
            Msg::Enter => return self.enter(press.answers == Some(Question::LongAgo), shared),
            Msg::Field(by) => self.field = self.field.on(by),
            Msg::Type => {
                if let Some(input) = self.typed() {
                    let full = input.is_full();
                    paint::edit(input, press.key);
                    if full && input.is_full() {
                        shared.notice = Some("There is no more room in this line.".to_owned());
                    }
                }
            }
            Msg::Tick(outcome) => {
                if let Some(tick) = self.tick() {
                    *tick = Some(outcome);
                }
                if !self.step(true) {
                    shared.notice = Some("That was the last box. Enter goes on to the day and who saw it.".to_owned());
                }
            }
            Msg::On => _ = self.step(true),
            Msg::Empty => {
                if self.tick().and_then(Option::take).is_none() {
                    self.step(false);
                }
            }
            Msg::Move(down, right) => {
                self.choose(self.member.saturating_add_signed(down as isize));
                let last = self.report.standard.skills.len().saturating_sub(1);
                self.skill = self.skill.saturating_add_signed(right as isize).min(last);
            }
            Msg::End(by) => self.choose(if by < 0 { 0 } else { usize::MAX }),
            Msg::Window(by) => {
                let window = self.window.get().max(1).cast_signed();
                self.choose(self.member.saturating_add_signed(by as isize * window));
            }
        }
        Next::Stay
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        seen_view::view(self, shared, painter, area);
    }

    fn title(&self, shared: &Shared) -> (String, String) {
        (self.report.standard.title.clone(), shared.day.to_string())
    }

    // All of what is typed here is free text: a question mark is a letter from the first on, but not in the boxes.
    fn types_text(&self) -> bool {
        self.field != Field::Boxes
    }

    fn paste(&mut self, text: &str) {
        if let Some(input) = self.typed() {
            input.paste(text);
        }
    }
}
