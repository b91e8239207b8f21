//! Practice: question, answer, verdict. State and keys; the picture is in `practice_view`.

use crate::angle::Angle;
use crate::problem::{Choices, Field, Figure, Question};
use crate::session::{Flow, Pending, Stored, Support, not_judged};
use crate::store::Learner;
use crate::tui::input::Input;
use crate::tui::model::{Model, Screen};
use crate::tui::msg::Cmd;
use crate::tui::screens::check_end::CheckEndPage;
use crate::tui::screens::end::EndPage;
use crate::tui::screens::group_end::GroupEnd;
use crate::tui::screens::handover::Queued;
use crate::tui::screens::practice_entry::{pick, typed};
use crate::tui::screens::showing::Showing;
use crate::tui::screens::table::{After, Desk};
use crate::tui::scroll::Scroll;
use crossterm::event::{KeyEvent, MouseEvent};
use jiff::Timestamp;
use std::collections::VecDeque;

/// What the learner sees of the problem.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    /// Nothing: the keyboard is passed on, and the next one has not said yet that they are there.
    Handover,
    /// A worked example of another problem.
    Example,
    /// The question.
    Asking,
    /// The verdict.
    Told,
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
    /// The fields.
    pub entries: Vec<Entry>,
    /// The field being filled in.
    pub field: usize,
    /// The map table, when the question is work at it.
    pub desk: Option<Desk>,
    /// The showing that is being watched: an example, or how the work is mended.
    pub showing: Option<Showing>,
    /// Whether needles never swing.
    pub still: bool,
    /// How far the text is scrolled.
    pub scroll: Scroll,
    /// Why the last answer was not judged.
    pub message: Option<String>,
    /// An answer that could not be put on the disk, to be tried again.
    pub unsaved: Option<Box<Pending>>,
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
#[derive(Debug)]
pub enum Msg {
    /// Enter: go on from an example or a verdict, to the next field, or answer.
    Enter(Timestamp),
    /// The next field.
    NextField,
    /// The field before.
    FieldBefore,
    /// The next or the previous word of a choice.
    Pick(i32),
    /// Turn the dial clockwise by so many steps (negative: counterclockwise).
    TurnDial(i32),
    /// A key for a typed field.
    Type(KeyEvent),
    /// A key at the map table.
    Table(KeyEvent, Timestamp),
    /// The mouse at the map table.
    Mouse(MouseEvent, Timestamp),
    /// Time went by while a needle swings.
    Tick(Timestamp),
    /// Watch the showing.
    Watch,
    /// Back from the showing to the verdict.
    Watched,
    /// A step of the showing forward or back.
    Show(i32),
    /// Give the hint.
    Hint,
    /// Scroll the text.
    Scroll(i32),
    /// End the session.
    Leave,
}

impl PracticeScreen {
    /// Begins with the first problem.
    ///
    /// # Errors
    /// Gives the screen back when there is nothing to ask; it goes to the end page.
    pub fn begin(
        learner: Learner,
        flow: Flow,
        others: Others,
        still: bool,
    ) -> Result<PracticeScreen, Box<PracticeScreen>> {
        let now = flow.sitting().began;
        let mut screen = PracticeScreen {
            learner,
            flow,
            stage: Stage::Asking,
            entries: Vec::new(),
            field: 0,
            desk: None,
            showing: None,
            still,
            scroll: Scroll::default(),
            message: None,
            unsaved: None,
            others,
        };
        // Whoever takes turns says first that they are there.
        if matches!(screen.others, Others::Turns(_)) {
            screen.stage = Stage::Handover;
            return Ok(screen);
        }
        if screen.next(now) { Ok(screen) } else { Err(Box::new(screen)) }
    }

    /// Passes the keyboard on to the one who waits longest; whether there is such a one.
    fn pass_on(&mut self) -> bool {
        let Others::Turns(waiting) = &mut self.others else { return false };
        let Some((learner, flow)) = waiting.pop_front() else { return false };
        let before = (std::mem::replace(&mut self.learner, learner), std::mem::replace(&mut self.flow, flow));
        waiting.push_back(before);
        (self.desk, self.showing, self.message) = (None, None, None);
        self.stage = Stage::Handover;
        true
    }

    /// Goes to the next problem; false when the practice is over.
    fn next(&mut self, now: Timestamp) -> bool {
        let Some(asked) = self.flow.next(now) else { return false };
        self.stage = if matches!(asked.support, Support::Example(_)) { Stage::Example } else { Stage::Asking };
        let question = asked.problem.question();
        self.entries = question
            .fields()
            .iter()
            .map(|field| match (question, field.choices()) {
                (Question::SetDial { start, .. }, _) => Entry::Dial { reading: *start, turned: false },
                (_, Some(_)) => Entry::Picked(None, String::new()),
                (_, None) => Entry::Typed(Input::default()),
            })
            .collect();
        self.desk = asked.table.as_ref().map(|table| Desk::new(table, self.still));
        self.showing = match &asked.support {
            Support::Example(example) => example.table().map(|table| {
                let from = table.exercise.start;
                Showing::new(&table, from)
            }),
            _ => None,
        };
        (self.field, self.scroll, self.message) = (0, Scroll::default(), None);
        true
    }

    /// The fields of the question being asked.
    #[must_use]
    pub fn fields(&self) -> &[Field] {
        self.flow.asked().map_or(&[], |asked| asked.problem.question().fields())
    }

    /// The words of the field being filled in, if it is a choice.
    #[must_use]
    pub fn choices(&self) -> Option<&Choices> {
        self.fields().get(self.field).and_then(Field::choices)
    }

    /// The dial that is being turned: the number now at the index line.
    #[must_use]
    pub fn dial(&self) -> Option<Angle> {
        self.entries
            .iter()
            .find_map(|entry| if let Entry::Dial { reading, .. } = entry { Some(*reading) } else { None })
    }

    /// Pasted text goes into the field.
    pub fn paste(&mut self, text: &str) {
        if let (Stage::Asking, None, Some(Entry::Typed(input))) =
            (self.stage, &self.unsaved, self.entries.get_mut(self.field))
        {
            input.paste(text);
        }
    }

    fn texts(&self) -> Vec<String> {
        self.fields()
            .iter()
            .zip(&self.entries)
            .map(|(field, entry)| match entry {
                Entry::Dial { reading, .. } => reading.degrees().to_string(),
                Entry::Typed(input) => input.text().to_owned(),
                Entry::Picked(..) => picked_word(field, entry).unwrap_or_default().to_owned(),
            })
            .collect()
    }

    fn submit(&mut self, now: Timestamp) -> Vec<Cmd> {
        if self.entries.iter().any(|entry| matches!(entry, Entry::Dial { turned: false, .. })) {
            self.message = Some("Turn the dial first, with ← and →. Nothing was recorded.".to_owned());
            return Vec::new();
        }
        let texts = self.texts();
        let texts: Vec<&str> = texts.iter().map(String::as_str).collect();
        match self.flow.answer(&texts, now) {
            Ok(Some(pending)) => vec![Cmd::Record(Box::new(pending))],
            Ok(None) => Vec::new(),
            Err(error) => {
                if let Some(at) = self.fields().iter().position(|field| field.label == error.field) {
                    self.field = at;
                }
                self.message = Some(not_judged(&error.kind));
                Vec::new()
            }
        }
    }

    fn enter(&mut self, now: Timestamp) -> Step {
        if let Some(pending) = self.unsaved.take() {
            return Step::Do(vec![Cmd::Record(pending)]);
        }
        self.showing = None;
        match self.stage {
            Stage::Example => {
                (self.stage, self.scroll) = (Stage::Asking, Scroll::default());
                Step::Stay
            }
            Stage::Told | Stage::Handover => {
                if (self.stage == Stage::Told && self.pass_on()) || self.next(now) {
                    Step::Stay
                } else {
                    Step::End
                }
            }
            Stage::Asking => {
                let unfilled = |entry: &Entry| match entry {
                    Entry::Typed(input) => input.is_empty(),
                    Entry::Picked(choice, _) => choice.is_none(),
                    Entry::Dial { turned, .. } => !turned,
                };
                let filled = self.entries.get(self.field).is_some_and(|entry| !unfilled(entry));
                // Enter goes on to the next empty field, and answers when all are filled in.
                match self.entries.iter().position(unfilled).filter(|at| filled && *at != self.field) {
                    Some(at) => {
                        self.field = at;
                        Step::Stay
                    }
                    None => Step::Do(self.submit(now)),
                }
            }
        }
    }
}

/// What follows a key.
enum Step {
    Stay,
    Do(Vec<Cmd>),
    End,
}

/// Takes in a message.
pub fn update(model: &mut Model, msg: Msg) -> Vec<Cmd> {
    let Screen::Practice(screen) = &mut model.screen else { return Vec::new() };
    if !matches!(msg, Msg::Scroll(_) | Msg::Tick(_)) {
        screen.message = None;
    }
    match msg {
        Msg::Enter(now) => match screen.enter(now) {
            Step::Stay => {}
            Step::Do(commands) => return commands,
            Step::End => end(model, true),
        },
        Msg::NextField => screen.field = (screen.field + 1) % screen.entries.len().max(1),
        Msg::FieldBefore => {
            let count = screen.entries.len().max(1);
            screen.field = (screen.field + count - 1) % count;
        }
        Msg::Pick(by) => pick(screen, by),
        Msg::TurnDial(steps) => {
            if let Some(Entry::Dial { reading, turned }) = screen.entries.get_mut(screen.field) {
                // Turning the dial clockwise lowers the reading.
                *reading = (*reading - Angle::from_degrees(f64::from(steps))).wrapped();
                *turned = true;
            }
        }
        Msg::Type(key) => typed(screen, key),
        Msg::Table(key, at) => return at_table(model, key, at),
        Msg::Mouse(event, at) => {
            if let (Stage::Asking, None, Some(desk)) = (screen.stage, &screen.showing, &mut screen.desk) {
                desk.mouse(event, at);
            }
        }
        Msg::Tick(now) => {
            if let Some(desk) = &mut screen.desk {
                desk.tick(now);
            }
        }
        Msg::Watch => {
            let end = screen.flow.told().and_then(|told| told.table.as_ref()).map(|work| work.end);
            let table = screen.flow.asked().and_then(|asked| asked.table.as_ref());
            if let (Some(end), Some(table)) = (end, table) {
                // What was right is shown from the beginning; what was not, from where it ended.
                let wrong = screen.flow.told().and_then(|told| told.table.as_ref()).is_some_and(|w| w.needs_showing);
                screen.showing = Some(Showing::new(table, if wrong { end } else { table.exercise.start }));
                screen.scroll = Scroll::default();
            }
        }
        Msg::Watched => (screen.showing, screen.scroll) = (None, Scroll::default()),
        Msg::Show(by) => {
            if let Some(showing) = &mut screen.showing {
                showing.go(by);
                screen.scroll = Scroll::default();
            }
        }
        Msg::Hint => {
            screen.flow.hint();
        }
        Msg::Scroll(by) => {
            screen.scroll.by(by);
        }
        Msg::Leave => end(model, false),
    }
    Vec::new()
}

/// A key at the map table.
fn at_table(model: &mut Model, key: KeyEvent, at: Timestamp) -> Vec<Cmd> {
    let Screen::Practice(screen) = &mut model.screen else { return Vec::new() };
    let Some(desk) = &mut screen.desk else { return Vec::new() };
    match desk.key(key, at) {
        // What is said stands on top.
        After::Stay if desk.message.is_some() => screen.scroll = Scroll::default(),
        After::Stay => {}
        After::Hint => {
            screen.flow.hint();
        }
        After::Leave => end(model, false),
        After::Judge => {
            let pending = screen.flow.answer_with_moves(&desk.moves, at);
            return pending.map(|pending| vec![Cmd::Record(Box::new(pending))]).unwrap_or_default();
        }
    }
    Vec::new()
}

/// The answer is on the disk: now, and only now, the verdict is shown. Or it is not, and can be tried again.
pub fn recorded(model: &mut Model, pending: Pending, result: Result<Stored, String>) -> Vec<Cmd> {
    let Screen::Practice(screen) = &mut model.screen else { return Vec::new() };
    match result {
        Ok(stored) => {
            let at = pending.attempt.at;
            if screen.flow.confirm(pending, stored).is_some() {
                (screen.stage, screen.scroll) = (Stage::Told, Scroll::default());
            } else if !screen.next(at) {
                // A check tells nothing between its problems, and ends when nothing is left to ask.
                end(model, true);
            }
        }
        Err(message) => {
            screen.message = Some(format!("{message} Your answer is kept here. Enter tries again."));
            screen.unsaved = Some(Box::new(pending));
        }
    }
    Vec::new()
}

fn end(model: &mut Model, by_itself: bool) {
    let placeholder = Screen::Ground(super::ground::GroundPage::default());
    match std::mem::replace(&mut model.screen, placeholder) {
        Screen::Practice(screen) => model.screen = ended(*screen, by_itself),
        other => model.screen = other,
    }
}

/// What comes after the last problem.
#[must_use]
pub fn ended(screen: PracticeScreen, by_itself: bool) -> Screen {
    let lost = screen.unsaved.is_some();
    match (screen.flow, screen.others) {
        (flow, Others::Turns(waiting)) => {
            let flows = waiting.iter().map(|(_, flow)| flow).chain([&flow]);
            Screen::GroupEnd(Box::new(GroupEnd::of_turns(flows, lost)))
        }
        (Flow::Practice(practice), _) => {
            Screen::End(Box::new(EndPage::new(screen.learner, &practice, by_itself, lost)))
        }
        (Flow::Check(check), others) => {
            let rest = if let Others::Queue(rest) = others { rest } else { Vec::new() };
            Screen::CheckEnd(Box::new(CheckEndPage::new(screen.learner, check.end(), rest, lost)))
        }
    }
}

/// Words of a choice side by side.
pub const COLUMNS: usize = 4;

/// Whether a choice stands in columns: many short words, such as compass points.
#[must_use]
pub fn in_columns(words: &Choices) -> bool {
    words.len() > COLUMNS && words.iter().all(|word| word.chars().count() <= 6)
}

/// A dial figure as the learner has turned it so far. The needle keeps pointing where it points.
#[must_use]
pub fn turned(figure: &Figure, dial: Option<Angle>) -> Figure {
    match (figure, dial) {
        (Figure::Dial(drawn), Some(reading)) => Figure::Dial(crate::problem::DialFigure { reading, ..drawn.clone() }),
        _ => figure.clone(),
    }
}

/// The value of a picked entry, for the view.
#[must_use]
pub fn picked_word<'a>(field: &'a Field, entry: &Entry) -> Option<&'a str> {
    if let Entry::Picked(Some(at), _) = entry { field.choices()?.get(*at) } else { None }
}
