//! Practice: question, answer, verdict. State and what happens; the keys are in `practice_keys`, the picture in
//! `practice_view`.

use crate::angle::Angle;
use crate::numbers::round_from;
use crate::problem::{Choices, Field, FieldKind, Figure, Question, TableProblem};
use crate::session::{Asked, Flow, GroupTally, Pending, Support, not_judged};
use crate::store::Learner;
use crate::tui::input::Input;
use crate::tui::keys::Press;
use crate::tui::model::Screen;
use crate::tui::msg::Cmd;
use crate::tui::page::Next;
use crate::tui::screens::check_end::CheckEndPage;
use crate::tui::screens::end::EndPage;
use crate::tui::screens::group_end::GroupEnd;
use crate::tui::screens::handover::Queued;
use crate::tui::screens::practice_entry::{
    COLUMNS, LEAVES_CHECK, LEAVES_TRIAL, Sought, in_columns, pick, picked_word, typed,
};
use crate::tui::screens::practice_point::Cross;
use crate::tui::screens::practice_tool::{Tool, ToolAct};
use crate::tui::screens::showing::Showing;
use crate::tui::screens::table::{Act, Desk};
use crate::tui::scroll::Scroll;
use jiff::Timestamp;
use std::cell::Cell;
use std::collections::VecDeque;

/// What the learner sees of the problem, and what belongs to that alone.
#[derive(Debug)]
pub enum Stage {
    /// Nothing: the keyboard is passed on, and the next one has not said yet that they are there.
    Handover,
    /// A worked example of another problem: as text, or as a showing at the map table.
    Example(Option<Showing>),
    /// The question.
    Asking(Work),
    /// The question with an answer that could not be put on the disk, to be tried again.
    Unsaved(Work, Box<Pending>),
    /// The verdict.
    Told,
    /// How the work is done or mended, shown from the verdict.
    Watching(Showing),
}

/// Where a question is answered.
#[derive(Debug)]
pub enum Work {
    /// In fields.
    Fields(Fields),
    /// At the map table.
    Table(Box<Desk>),
}

/// The fields of a question.
#[derive(Clone, Debug)]
pub struct Fields {
    /// What they hold; never empty.
    pub entries: Vec<Entry>,
    /// The one being filled in.
    pub current: usize,
    /// What can be laid on the map of the question.
    pub tool: Option<Box<Tool>>,
}

impl Work {
    /// Nothing is answered yet.
    #[must_use]
    pub(super) fn of(asked: &Asked, still: bool) -> Work {
        if let Some(table) = &asked.table {
            return Work::Table(Box::new(Desk::new(table, still)));
        }
        let question = asked.problem.question();
        let empty = |field: &Field| match (question, &field.kind, &asked.figure) {
            (Question::SetDial { start, .. }, ..) => Entry::Dial { reading: *start, turned: false },
            (_, FieldKind::Choice(_), _) => Entry::Picked(None, String::new()),
            (_, FieldKind::MapPoint, Figure::Map(map)) => Entry::Point(Box::new(Cross::new(map))),
            _ => Entry::Typed(Input::default()),
        };
        let tool = if let Figure::Map(map) = &asked.figure { Tool::of(map).map(Box::new) } else { None };
        Work::Fields(Fields { entries: question.fields().iter().map(empty).collect(), current: 0, tool })
    }
}

impl Fields {
    /// What the field being filled in holds.
    #[must_use]
    pub fn entry(&self) -> Option<&Entry> {
        self.entries.get(self.current)
    }

    /// The same, to be changed.
    pub fn entry_mut(&mut self) -> Option<&mut Entry> {
        self.entries.get_mut(self.current)
    }

    /// Goes so many fields on, and round at the ends.
    fn go(&mut self, by: i32) {
        self.current = round_from(self.current, by, self.entries.len());
    }

    /// The dial that is being turned: the number now at the index line.
    #[must_use]
    pub fn dial(&self) -> Option<Angle> {
        self.entries.iter().find_map(|entry| match entry {
            Entry::Dial { reading, .. } => Some(*reading),
            _ => None,
        })
    }

    /// The cross that is moved on a map.
    #[must_use]
    pub fn cross(&self) -> Option<&Cross> {
        self.entries.iter().find_map(|entry| if let Entry::Point(cross) = entry { Some(&**cross) } else { None })
    }
}

/// What one field holds while it is being filled in.
#[derive(Clone, Debug)]
pub enum Entry {
    /// Typed text.
    Typed(Input),
    /// One of the words, or none yet, and the letters typed towards it.
    Picked(Option<usize>, String),
    /// A dial, which is turned and never typed: copying the number from the text would be no skill.
    Dial {
        /// The number now at the index line.
        reading: Angle,
        /// Whether it was turned: the number it happens to stand at is no answer.
        turned: bool,
    },
    /// A point on the map, where a cross is moved to.
    Point(Box<Cross>),
}

/// The state.
#[derive(Debug)]
pub struct PracticeScreen {
    /// Who practises.
    pub learner: Learner,
    /// Where problems come from.
    pub flow: Flow,
    /// What the learner sees.
    pub stage: Stage,
    /// Whether nothing is seen to move.
    pub still: bool,
    /// How far the text is scrolled.
    pub scroll: Scroll,
    /// What the last key was about, which the next picture brings into sight.
    pub sought: Cell<Option<Sought>>,
    /// Whether the norths stand in place of the map, beside a verdict on work at it.
    pub norths: bool,
    /// The worked step that is shown on the map; none while all is shown at once.
    pub step: Option<usize>,
    /// Why the last answer was not judged.
    pub message: Option<String>,
    /// Who else waits for the keyboard.
    pub others: Others,
}

/// Who else waits for the keyboard.
#[derive(Debug)]
pub enum Others {
    /// Nobody.
    None,
    /// Those whose check comes after this one.
    Queue(Vec<Queued>),
    /// Those who take turns with this one, problem by problem, each with a flow of their own.
    Turns(VecDeque<(Learner, Flow)>),
}

/// What can happen here.
#[derive(Clone, Copy, Debug)]
pub enum Msg {
    /// Go on from an example or a verdict, to the next field, or answer.
    Enter,
    /// So many fields on.
    Field(i32),
    /// So many words of a choice on.
    Pick(i32),
    /// So many rows of words on.
    PickRow(i32),
    /// Turn the dial clockwise by so many degrees (negative: counterclockwise).
    TurnDial(i32),
    /// Move the cross by so many steps to the east and to the north.
    MoveCross(i32, i32),
    /// Large steps of the cross, or small ones again.
    Stride,
    /// With what is laid on the map.
    Tool(ToolAct),
    /// So many worked steps on, shown on the map.
    Step(i32),
    /// A key for a field.
    Type,
    /// At the map table.
    At(Act),
    /// Watch the showing.
    Watch,
    /// The norths in place of the map, or the map again.
    Norths,
    /// Back from the showing to the verdict.
    Watched,
    /// A step of the showing forward or back.
    Show(i32),
    /// Give the hint.
    Hint,
    /// Take the last answer back.
    TakeBack,
    /// Scroll the text.
    Scroll(i32),
    /// End the session.
    Leave,
}

impl PracticeScreen {
    /// Begins with the first problem; or goes to the end when there is nothing to ask.
    #[must_use]
    pub fn begin(learner: Learner, flow: Flow, others: Others, still: bool) -> Screen {
        let now = flow.sitting().began;
        let (scroll, message) = (Scroll::default(), None);
        let (stage, norths, step) = (Stage::Handover, false, None);
        let sought = Cell::new(None);
        let mut screen = PracticeScreen { learner, flow, stage, still, scroll, sought, norths, step, message, others };
        // Whoever takes turns says first that they are there.
        if matches!(screen.others, Others::Turns(_)) || screen.next(now) { screen.into() } else { screen.ended(true) }
    }

    /// Goes to the next problem; false when the practice is over.
    pub(super) fn next(&mut self, now: Timestamp) -> bool {
        let Some(asked) = self.flow.next(now) else { return false };
        self.stage = match &asked.support {
            Support::Example(example) => {
                let (still, words) = (self.still, asked.words.clone());
                let shown = |table: TableProblem| Showing::new(&table, table.exercise.start, still).telling(words);
                Stage::Example(example.table().map(shown))
            }
            _ => Stage::Asking(Work::of(asked, self.still)),
        };
        (self.scroll, self.message, self.step) = (Scroll::default(), None, None);
        self.sought.set(None);
        true
    }

    /// Where the question is answered, while it is.
    #[must_use]
    pub const fn work(&self) -> Option<&Work> {
        match &self.stage {
            Stage::Asking(work) | Stage::Unsaved(work, _) => Some(work),
            _ => None,
        }
    }

    /// The fields, while the question is answered in them.
    #[must_use]
    pub const fn filling(&self) -> Option<&Fields> {
        match self.work() {
            Some(Work::Fields(fields)) => Some(fields),
            _ => None,
        }
    }

    /// The same, to be changed: not after the answer was given.
    pub(super) const fn filling_mut(&mut self) -> Option<&mut Fields> {
        match &mut self.stage {
            Stage::Asking(Work::Fields(fields)) => Some(fields),
            _ => None,
        }
    }

    /// The map table, while the question is work at it.
    #[must_use]
    pub const fn desk(&self) -> Option<&Desk> {
        match &self.stage {
            Stage::Asking(Work::Table(desk)) | Stage::Unsaved(Work::Table(desk), _) => Some(desk),
            _ => None,
        }
    }

    /// The same, to be worked at.
    pub(super) const fn desk_mut(&mut self) -> Option<&mut Desk> {
        match &mut self.stage {
            Stage::Asking(Work::Table(desk)) => Some(desk),
            _ => None,
        }
    }

    /// The showing that is being watched.
    #[must_use]
    pub const fn showing(&self) -> Option<&Showing> {
        match &self.stage {
            Stage::Example(Some(showing)) | Stage::Watching(showing) => Some(showing),
            _ => None,
        }
    }

    /// The fields of the question being asked.
    #[must_use]
    pub fn fields(&self) -> &[Field] {
        self.flow.asked().map_or(&[], |asked| asked.problem.question().fields())
    }

    /// The words of the field being filled in, if it is a choice.
    #[must_use]
    pub fn choices(&self) -> Option<&Choices> {
        self.fields().get(self.filling()?.current).and_then(Field::choices)
    }

    /// How many words stand side by side in the choice being made.
    fn words_in_a_row(&self) -> i32 {
        if self.choices().is_some_and(in_columns) { i32::try_from(COLUMNS).unwrap_or(1) } else { 1 }
    }

    /// What the fields hold, as text.
    fn texts(&self) -> Vec<String> {
        let entries = self.filling().map_or(&[][..], |filling| &filling.entries);
        let text = |(field, entry): (&Field, &Entry)| match entry {
            Entry::Dial { reading, .. } => reading.degrees().to_string(),
            Entry::Typed(input) => input.text().to_owned(),
            Entry::Point(cross) => cross.text(),
            Entry::Picked(..) => picked_word(field, entry).unwrap_or_default().to_owned(),
        };
        self.fields().iter().zip(entries).map(text).collect()
    }

    fn submit(&mut self, now: Timestamp) -> Next {
        let entries = self.filling().map_or(&[][..], |filling| &filling.entries);
        if entries.iter().any(|entry| matches!(entry, Entry::Dial { turned: false, .. })) {
            self.message = Some("Turn the dial first, with ← and →. Nothing was recorded.".to_owned());
            return Next::Stay;
        }
        if entries.iter().any(|entry| matches!(entry, Entry::Point(cross) if !cross.moved)) {
            self.message = Some("Move the cross first, with the arrow keys. Nothing was recorded.".to_owned());
            return Next::Stay;
        }
        let texts = self.texts();
        let texts: Vec<&str> = texts.iter().map(String::as_str).collect();
        match self.flow.answer(&texts, now) {
            Ok(pending) => Next::maybe(pending.map(|pending| Cmd::Record(Box::new(pending)))),
            Err(error) => {
                let at = self.fields().iter().position(|field| field.label == error.field);
                if let (Some(at), Some(filling)) = (at, self.filling_mut()) {
                    filling.current = at;
                }
                self.message = Some(not_judged(&error.kind));
                Next::Stay
            }
        }
    }

    fn enter(&mut self, now: Timestamp) -> Next {
        match std::mem::replace(&mut self.stage, Stage::Told) {
            Stage::Unsaved(work, pending) => {
                self.stage = Stage::Asking(work);
                return Next::Do(Cmd::Record(pending));
            }
            Stage::Asking(work) => {
                self.stage = Stage::Asking(work);
                return self.enter_field(now);
            }
            Stage::Example(_) => {
                if let Some(asked) = self.flow.asked() {
                    (self.stage, self.scroll) = (Stage::Asking(Work::of(asked, self.still)), Scroll::default());
                }
            }
            Stage::Told | Stage::Watching(_) if self.pass_on() => {}
            Stage::Told | Stage::Watching(_) | Stage::Handover if self.next(now) => {}
            Stage::Told | Stage::Watching(_) | Stage::Handover => return Next::Go(self.ended(true)),
        }
        Next::Stay
    }

    /// Goes on to the next empty field, and answers when all are filled in.
    fn enter_field(&mut self, now: Timestamp) -> Next {
        let unfilled = |entry: &Entry| match entry {
            Entry::Typed(input) => input.is_empty(),
            Entry::Picked(choice, _) => choice.is_none(),
            Entry::Dial { turned, .. } => !turned,
            Entry::Point(cross) => !cross.moved,
        };
        if let Some(filling) = self.filling_mut() {
            let filled = filling.entry().is_some_and(|entry| !unfilled(entry));
            let empty = filling.entries.iter().position(unfilled).filter(|at| filled && *at != filling.current);
            if let Some(at) = empty {
                filling.current = at;
                return Next::Stay;
            }
        }
        self.submit(now)
    }

    /// Takes in what a key means.
    pub(super) fn act(&mut self, msg: Msg, press: Press) -> Next {
        let asked_to_leave = matches!(self.message.as_deref(), Some(LEAVES_CHECK | LEAVES_TRIAL));
        if !matches!(msg, Msg::Scroll(_)) {
            self.message = None;
            self.seek(&msg);
        }
        match msg {
            Msg::Enter => return self.enter(press.at),
            Msg::Field(by) => {
                if let Some(filling) = self.filling_mut() {
                    match filling.entry_mut() {
                        // It is the only field; its lines take turns.
                        Some(Entry::Point(cross)) => cross.choose_line(by),
                        _ => filling.go(by),
                    }
                }
            }
            Msg::Pick(by) => pick(self, by),
            Msg::PickRow(by) => pick(self, by * self.words_in_a_row()),
            Msg::TurnDial(degrees) => {
                let entry = self.filling_mut().and_then(Fields::entry_mut);
                if let Some(Entry::Dial { reading, turned }) = entry {
                    let degrees = if press.shifted() { 10 * degrees.signum() } else { degrees };
                    // Turning the dial clockwise lowers the reading.
                    *reading = (*reading - Angle::from_degrees(f64::from(degrees))).wrapped();
                    *turned = true;
                }
            }
            Msg::MoveCross(east, north) => {
                if let Some(Entry::Point(cross)) = self.filling_mut().and_then(Fields::entry_mut) {
                    cross.go((east, north), press.shifted());
                }
            }
            Msg::Stride => {
                if let Some(Entry::Point(cross)) = self.filling_mut().and_then(Fields::entry_mut) {
                    cross.large = !cross.large;
                }
            }
            Msg::Tool(act) => {
                if let Some(tool) = self.filling_mut().and_then(|filling| filling.tool.as_mut()) {
                    self.message = tool.act(act, press.shifted()).map(str::to_owned);
                }
            }
            Msg::Step(by) => self.go_step(by),
            Msg::Type => typed(self, press.key),
            Msg::At(act) => return self.at_table(act, press, asked_to_leave),
            Msg::Watch => self.watch(),
            Msg::Norths => self.norths = !self.norths,
            Msg::Watched => (self.stage, self.scroll) = (Stage::Told, Scroll::default()),
            Msg::Show(by) => {
                if let Stage::Example(Some(showing)) | Stage::Watching(showing) = &mut self.stage {
                    showing.go(by, press.at);
                    self.scroll = Scroll::default();
                }
            }
            Msg::Hint => {
                self.flow.hint();
            }
            Msg::TakeBack => return Next::maybe(self.flow.slip().map(Cmd::TakeBack)),
            Msg::Scroll(by) => self.scroll.by(by),
            Msg::Leave => return self.leave(asked_to_leave),
        }
        Next::Stay
    }

    /// What comes after the last problem.
    pub(super) fn ended(&mut self, by_itself: bool) -> Screen {
        let lost = matches!(self.stage, Stage::Unsaved(..));
        let learner = self.learner.clone();
        match (&self.flow, &mut self.others) {
            (flow, Others::Turns(waiting)) => {
                let tally = GroupTally::of_turns(waiting.iter().map(|(_, flow)| flow).chain([flow]));
                GroupEnd::new("Turns", tally, lost).into()
            }
            (Flow::Practice(practice), _) => EndPage::new(learner, practice, by_itself, lost).into(),
            (Flow::Check(check), Others::Queue(rest)) => {
                CheckEndPage::new(learner, check.end(), std::mem::take(rest), lost).into()
            }
            (Flow::Check(check), Others::None) => CheckEndPage::new(learner, check.end(), Vec::new(), lost).into(),
        }
    }
}
