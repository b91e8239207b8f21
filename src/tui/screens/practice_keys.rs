//! The keys of practice where questions are answered in fields, and of the screen as a whole.

use super::moving::Moving;
use super::practice::{Entry, Fields, Msg, PracticeScreen, Stage, Work};
use super::table::Act;
use super::{practice_tool, practice_view, table_keys};
use crate::problem::Figure;
use crate::session::Flow;
use crate::tui::keys::{Line, On, Press, Table};
use crate::tui::model::Shared;
use crate::tui::page::{Next, Page};
use crate::tui::paint::Painter;
use crossterm::event::{KeyCode, MouseEvent};
use jiff::Timestamp;
use ratatui::layout::Rect;

pub(super) const fn key(code: KeyCode, msg: Msg) -> (On, Msg) {
    (On::Key(code), msg)
}

pub(super) const SPACE: On = On::Letter(' ');
const TO_PROBLEM: &str = "the problem";
pub(super) const END: Line<Msg> =
    Line::new(&[key(KeyCode::Esc, Msg::Leave)], "end the session; what has a verdict is kept").short("Esc", "end");
pub(super) const PAGES: Line<Msg> =
    Line::new(&[key(KeyCode::PageUp, Msg::Scroll(-8)), key(KeyCode::PageDown, Msg::Scroll(8))], "scroll the text");
pub(super) const LINES: Line<Msg> =
    Line::new(&[key(KeyCode::Up, Msg::Scroll(-1)), key(KeyCode::Down, Msg::Scroll(1))], "scroll the text");
const SCROLL: Line<Msg> = Line::new(
    &[
        key(KeyCode::Up, Msg::Scroll(-1)),
        key(KeyCode::Down, Msg::Scroll(1)),
        key(KeyCode::PageUp, Msg::Scroll(-8)),
        key(KeyCode::PageDown, Msg::Scroll(8)),
    ],
    "scroll the text",
);
const NEXT: Line<Msg> = Line::new(&[key(KeyCode::Enter, Msg::Enter), (SPACE, Msg::Enter)], "the next problem");

/// The keyboard is passed on.
const HANDOVER: Table<Msg> = &[
    Line::new(&[key(KeyCode::Enter, Msg::Enter)], "I am here").short("Enter", "I am here"),
    Line::new(&[key(KeyCode::Esc, Msg::Leave)], "end the turns for all").short("Esc", "end for all"),
];
/// A worked example as text.
const EXAMPLE: Table<Msg> = &[
    Line::new(&[key(KeyCode::Enter, Msg::Enter), (SPACE, Msg::Enter)], TO_PROBLEM).short("Enter", "to the problem"),
    SCROLL.short("↑ ↓", "scroll"),
    STEPS,
    END,
];
const STEPS: Line<Msg> = Line::new(
    &[key(KeyCode::Left, Msg::Step(-1)), key(KeyCode::Right, Msg::Step(1))],
    "the worked steps one by one, shown on the map",
)
.short("← →", "steps");
const TAKE_BACK: Line<Msg> = Line::new(
    &[(On::Letter('u'), Msg::TakeBack)],
    "take a wrong answer back, if a key slipped: once in each skill; the problem comes again",
)
.short("u", "take back");
/// The verdict.
const TOLD: Table<Msg> = &[NEXT.short("Enter", "next problem"), TAKE_BACK, SCROLL.short("↑ ↓", "scroll"), STEPS, END];
/// The verdict on work at the table.
const TOLD_TABLE: Table<Msg> = &[
    Line::new(&[(On::Letter('w'), Msg::Watch)], "watch how it is done, step by step, from where you ended")
        .short("w", "watch it"),
    Line::new(&[(On::Letter('n'), Msg::Norths)], "the norths in place of the map: why it is so; and the map again")
        .short("n", "norths"),
    NEXT.short("Enter", "next"),
    TAKE_BACK,
    SCROLL.short("↑ ↓", "scroll"),
    END,
];
/// An answer that is not on the disk.
const UNSAVED: Table<Msg> = &[
    Line::new(&[key(KeyCode::Enter, Msg::Enter), (SPACE, Msg::Enter)], "try again to write the answer down")
        .short("Enter", "try again"),
    SCROLL,
    END,
];

pub(super) const ANSWER: Line<Msg> =
    Line::new(&[key(KeyCode::Enter, Msg::Enter)], "the next empty field, then the answer").short("Enter", "answer");
pub(super) const HINT: Line<Msg> =
    Line::new(&[(On::Letter('h'), Msg::Hint)], "hint, while the field is empty").short("h", "hint");
pub(super) const TYPE: Line<Msg> =
    Line::new(&[(On::Text, Msg::Type)], "the answer: type it, or the word's first letter or number");
const FIELDS: Line<Msg> = Line::new(
    &[
        key(KeyCode::Tab, Msg::Field(1)),
        key(KeyCode::BackTab, Msg::Field(-1)),
        key(KeyCode::Down, Msg::Field(1)),
        key(KeyCode::Up, Msg::Field(-1)),
    ],
    "the next field, the field before",
)
.short("Tab", "next field");

/// A dial is turned.
const DIAL: Table<Msg> = &[
    Line::new(
        &[key(KeyCode::Left, Msg::TurnDial(-1)), key(KeyCode::Right, Msg::TurnDial(1))],
        "turn the dial by 1°, with Shift by 10°; → is clockwise",
    )
    .short("← →", "turn"),
    Line::new(
        &[key(KeyCode::Up, Msg::TurnDial(-10)), key(KeyCode::Down, Msg::TurnDial(10))],
        "turn the dial by 10°; ↓ is clockwise",
    )
    .short("↑ ↓", "by ten"),
    ANSWER,
    HINT,
    END,
    PAGES,
    // It is turned, not typed, and that is said.
    Line::new(&[(On::Text, Msg::Type)], ""),
];
/// A point is picked on the map.
const POINT: Table<Msg> = &[
    Line::new(
        &[
            key(KeyCode::Left, Msg::MoveCross(-1, 0)),
            key(KeyCode::Right, Msg::MoveCross(1, 0)),
            key(KeyCode::Up, Msg::MoveCross(0, 1)),
            key(KeyCode::Down, Msg::MoveCross(0, -1)),
        ],
        "move the cross on the map by a small step, with Shift by ten of them; or click where it belongs",
    )
    .short("←→↑↓", "move"),
    Line::new(&[(On::Letter('s'), Msg::Stride)], "large steps of the cross, or small ones again").short("s", "step"),
    Line::new(
        &[(On::Digit, Msg::Type), key(KeyCode::Backspace, Msg::Type)],
        "three figures draw the line through a mark on that grid bearing; ⌫ takes them away",
    )
    .short("0–9", "line"),
    Line::new(&[key(KeyCode::Tab, Msg::Field(1)), key(KeyCode::BackTab, Msg::Field(-1))], "the line of the next mark")
        .short("Tab", "next"),
    ANSWER,
    HINT,
    END,
    PAGES,
    // The place itself is picked, not typed, and that is said.
    Line::new(&[(On::Text, Msg::Type)], ""),
];
const WORDS: Line<Msg> = Line::new(
    &[
        key(KeyCode::Up, Msg::PickRow(-1)),
        key(KeyCode::Down, Msg::PickRow(1)),
        key(KeyCode::Left, Msg::Pick(-1)),
        key(KeyCode::Right, Msg::Pick(1)),
        (SPACE, Msg::Pick(1)),
    ],
    "choose a word",
)
.short("←→↑↓", "choose");
/// Where words are chosen ↑ and ↓ are theirs, since words stand one below the other.
const FIELDS_BY_TAB: Line<Msg> = Line::new(
    &[key(KeyCode::Tab, Msg::Field(1)), key(KeyCode::BackTab, Msg::Field(-1))],
    "the next field, the field before",
)
.short("Tab", "next field");
/// A word is chosen.
const WORD: Table<Msg> = &[WORDS, ANSWER, HINT, END, PAGES, TYPE];
/// Letters of it are typed.
const WORD_BEGUN: Table<Msg> = &[WORDS, ANSWER, END, PAGES, TYPE];
/// A word is chosen in one of several fields.
const WORD_FIELD: Table<Msg> = &[WORDS, FIELDS_BY_TAB, ANSWER, HINT, END, PAGES, TYPE];
/// Letters of it are typed.
const WORD_FIELD_BEGUN: Table<Msg> = &[WORDS, FIELDS_BY_TAB, ANSWER, END, PAGES, TYPE];
/// A line is empty. No answer begins with an h, so that it can ask for the hint.
const LINE: Table<Msg> = &[ANSWER, HINT, END, LINES, PAGES, TYPE];
/// A line is typed.
const LINE_BEGUN: Table<Msg> = &[ANSWER, END, PAGES, TYPE];
/// One of several lines is empty.
const LINE_FIELD: Table<Msg> = &[FIELDS, ANSWER, HINT, END, PAGES, TYPE];
/// One of several lines is typed.
const LINE_FIELD_BEGUN: Table<Msg> = &[FIELDS, ANSWER, END, PAGES, TYPE];

const PRACTICE: &str = "In practice";

impl Page for PracticeScreen {
    type Msg = Msg;
    const TABLES: &'static [(&'static str, Table<Msg>)] = &[
        (PRACTICE, LINE),
        (PRACTICE, LINE_BEGUN),
        (PRACTICE, LINE_FIELD),
        (PRACTICE, LINE_FIELD_BEGUN),
        (PRACTICE, WORD),
        (PRACTICE, WORD_BEGUN),
        (PRACTICE, WORD_FIELD),
        (PRACTICE, WORD_FIELD_BEGUN),
        (PRACTICE, DIAL),
        (PRACTICE, POINT),
        (practice_tool::ROMER, practice_tool::NO_ROMER),
        (practice_tool::ROMER, practice_tool::ROMER_LAID),
        (practice_tool::EDGE, practice_tool::NO_EDGE),
        (practice_tool::EDGE, practice_tool::EDGE_LAID),
        (practice_tool::EDGE, practice_tool::EDGE_HELD),
        (PRACTICE, EXAMPLE),
        (PRACTICE, TOLD),
        (PRACTICE, UNSAVED),
        (PRACTICE, HANDOVER),
        (table_keys::AT_TABLE, table_keys::WORK),
        (table_keys::AT_TABLE, table_keys::LAID),
        (table_keys::AT_TABLE, table_keys::FOLLOW),
        (table_keys::AT_TABLE, table_keys::NUMBER),
        (table_keys::AT_TABLE, table_keys::READING),
        (table_keys::AT_TABLE, table_keys::NAMING),
        (table_keys::AT_TABLE, table_keys::LOOKING),
        (table_keys::SHOWN, TOLD_TABLE),
        (table_keys::SHOWN, table_keys::EXAMPLE_STEP),
        (table_keys::SHOWN, table_keys::EXAMPLE_DONE),
        (table_keys::SHOWN, table_keys::MEND_STEP),
        (table_keys::SHOWN, table_keys::MEND_DONE),
    ];
    const TALL: bool = true;

    fn keys(&self) -> Table<Msg> {
        let fields = match &self.stage {
            Stage::Handover => return HANDOVER,
            Stage::Example(None) => return EXAMPLE,
            Stage::Example(Some(showing)) if showing.is_done() => return table_keys::EXAMPLE_DONE,
            Stage::Example(Some(_)) => return table_keys::EXAMPLE_STEP,
            Stage::Watching(showing) if showing.is_done() => return table_keys::MEND_DONE,
            Stage::Watching(_) => return table_keys::MEND_STEP,
            Stage::Told if self.flow.told().is_some_and(|told| told.table.is_some()) => return TOLD_TABLE,
            Stage::Told => return TOLD,
            Stage::Unsaved(..) => return UNSAVED,
            Stage::Asking(Work::Table(desk)) => return table_keys::keys(desk),
            Stage::Asking(Work::Fields(fields)) => fields,
        };
        match (fields.entry(), fields.entries.len() > 1) {
            (Some(Entry::Typed(input)), false) if input.is_empty() && fields.tool.is_some() => {
                fields.tool.as_ref().map_or(LINE, |tool| tool.keys())
            }
            (Some(Entry::Dial { .. }), _) => DIAL,
            (Some(Entry::Point(_)), _) => POINT,
            (Some(Entry::Picked(_, letters)), false) if letters.is_empty() => WORD,
            (Some(Entry::Picked(..)), false) => WORD_BEGUN,
            (Some(Entry::Picked(_, letters)), true) if letters.is_empty() => WORD_FIELD,
            (Some(Entry::Picked(..)), true) => WORD_FIELD_BEGUN,
            (Some(Entry::Typed(input)), false) if !input.is_empty() => LINE_BEGUN,
            (Some(Entry::Typed(input)), true) if !input.is_empty() => LINE_FIELD_BEGUN,
            (_, false) => LINE,
            (_, true) => LINE_FIELD,
        }
    }

    // A check gives no hints.
    fn offers(&self, msg: Msg) -> bool {
        match (msg, &self.flow) {
            (Msg::Hint | Msg::At(Act::Hint), Flow::Check(_)) => false,
            (Msg::TakeBack, flow) => flow.slip().is_some(),
            (Msg::Step(_), _) => self.has_steps(),
            (Msg::Norths, _) => self
                .flow
                .told()
                .and_then(|told| told.table.as_ref())
                .is_some_and(|work| work.meaning.figure != Figure::None),
            _ => true,
        }
    }

    fn update(&mut self, msg: Msg, press: Press, _shared: &mut Shared) -> Next {
        self.act(msg, press)
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        practice_view::view(self, shared, painter, area);
    }

    fn title(&self, _shared: &Shared) -> (String, String) {
        let skill = self.flow.asked().map_or("", |asked| asked.problem.skill().title);
        let skill = if skill.is_empty() { String::new() } else { format!(" · {skill}") };
        (format!("{} · {}{skill}", self.learner.name, self.flow.title()), self.flow.how_far())
    }

    fn paste(&mut self, text: &str) {
        if let Some(Entry::Typed(input)) = self.filling_mut().and_then(|filling| filling.entry_mut()) {
            input.paste(text);
        }
    }

    fn wants_mouse(&self) -> bool {
        let laid = |fields: &Fields| fields.tool.as_ref().is_some_and(|tool| tool.wants_mouse());
        let on_map = |fields: &Fields| fields.cross().is_some() || laid(fields);
        self.desk().is_some() || self.filling().is_some_and(on_map)
    }

    fn mouse(&mut self, event: MouseEvent, at: Timestamp) {
        if let Some(desk) = self.desk_mut() {
            desk.mouse(event, at);
        }
        if let Some(Entry::Point(cross)) = self.filling_mut().and_then(|filling| filling.entry_mut()) {
            cross.mouse(event);
        }
        if let Some(tool) = self.filling_mut().and_then(|filling| filling.tool.as_mut()) {
            tool.mouse(event);
        }
    }

    fn moves_by_itself(&self) -> bool {
        let moving = self.desk().map(|desk| &desk.moving);
        moving.or(self.showing().map(|showing| &showing.moving)).is_some_and(Moving::moves_by_itself)
    }

    fn tick(&mut self, now: Timestamp) {
        match &mut self.stage {
            Stage::Asking(Work::Table(desk)) | Stage::Unsaved(Work::Table(desk), _) => desk.tick(now),
            Stage::Example(Some(showing)) | Stage::Watching(showing) => showing.tick(now),
            _ => {}
        }
    }
}
