//! A first lesson: a sentence, a figure that is moved, what it says; and one question at the end.

use super::practice::{Others, PracticeScreen};
use crate::lesson::{Figure, Knob, Lesson, Site};
use crate::numbers::round_from;
use crate::session::{Flow, LessonOffer, LessonVerdict, lesson_mark};
use crate::store::LearnerId;
use crate::tui::keys::{Line, On, Press, Table};
use crate::tui::model::Shared;
use crate::tui::msg::Cmd;
use crate::tui::page::{Next, Page};
use crate::tui::paint::{Lines, Painter};
use crate::tui::theme::Tone;
use crate::words::{self, Word};
use crossterm::event::KeyCode;
use ratatui::layout::Rect;

/// The state.
#[derive(Debug)]
pub struct LessonPage {
    lesson: &'static Lesson,
    site: Site,
    learner: LearnerId,
    /// The screen, from 0; the question comes after the last one.
    screen: usize,
    figure: Option<Box<dyn Figure>>,
    /// Which of the figure's knobs is in the hand.
    knob: usize,
    /// Whether something was moved on this screen.
    moved: bool,
    /// The choice that is marked at the question.
    chosen: usize,
    /// Whether the question was answered.
    told: bool,
}

/// What can happen here.
#[derive(Clone, Copy, Debug)]
pub enum Msg {
    /// Turn what is in the hand, or choose: one step this way.
    Turn(i32),
    /// Take the next thing in the hand.
    Knob,
    /// Choose, up or down.
    Choose(i32),
    /// To the next screen, or answer the question.
    Go,
    /// To the screen before.
    Back,
    /// Leave; the lesson goes on here next time.
    Leave,
    /// Leave; the lesson is not offered again.
    Skip,
}

const SKIP: Line<Msg> =
    Line::new(&[(On::Letter('s'), Msg::Skip)], "skip this lesson; it stays on your page").short("s", "skip");
const BACK: Line<Msg> = Line::new(&[(On::Key(KeyCode::Backspace), Msg::Back)], "the screen before").short("⌫", "back");
const LEAVE: Line<Msg> =
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Leave)], "leave; it goes on here next time").short("Esc", "leave");

const MOVING: Table<Msg> = &[
    Line::new(
        &[(On::Key(KeyCode::Left), Msg::Turn(-1)), (On::Key(KeyCode::Right), Msg::Turn(1))],
        "move what the figure lets you move; with Shift by more",
    )
    .short("← →", "move"),
    Line::new(&[(On::Key(KeyCode::Tab), Msg::Knob)], "move another thing").short("Tab", "another thing"),
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Go)], "go on").short("Enter", "go on"),
    BACK,
    SKIP,
    LEAVE,
];
const ASKING: Table<Msg> = &[
    Line::new(
        &[
            (On::Key(KeyCode::Up), Msg::Choose(-1)),
            (On::Key(KeyCode::Down), Msg::Choose(1)),
            (On::Key(KeyCode::Left), Msg::Choose(-1)),
            (On::Key(KeyCode::Right), Msg::Choose(1)),
        ],
        "choose",
    )
    .short("↑ ↓", "choose"),
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Go)], "answer; nothing is recorded").short("Enter", "answer"),
    BACK,
    SKIP,
    LEAVE,
];
const TOLD: Table<Msg> =
    &[Line::new(&[(On::Key(KeyCode::Enter), Msg::Go)], "to the problems").short("Enter", "now you"), BACK, LEAVE];

impl LessonPage {
    /// The lesson that is offered, for a learner.
    #[must_use]
    pub fn new(offer: LessonOffer, learner: LearnerId, shared: &Shared) -> LessonPage {
        let site = shared.ground.home.site(shared.day);
        let LessonOffer { lesson, screen } = offer;
        let (figure, knob) = (None, 0);
        let mut page = LessonPage { lesson, site, learner, screen, figure, knob, moved: false, chosen: 0, told: false };
        page.go_to(screen);
        page
    }

    fn go_to(&mut self, screen: usize) {
        self.screen = screen.min(self.lesson.screens.len());
        self.figure = self.lesson.screens.get(self.screen).map(|screen| (screen.figure)(&self.site));
        (self.knob, self.moved, self.chosen, self.told) = (0, false, 0, false);
    }

    /// The words of the trade that stand in it.
    pub(in crate::tui) fn words(&self) -> Vec<&'static Word> {
        words::standing_in(&self.lesson.sentences())
    }

    fn knobs(&self) -> &'static [Knob] {
        self.figure.as_ref().map_or(&[], |figure| figure.knobs())
    }

    fn turn(&mut self, sign: i32, shifted: bool) {
        let Some(knob) = self.knobs().get(self.knob) else { return };
        let by = if shifted { knob.leap } else { knob.step };
        if let Some(figure) = &mut self.figure {
            figure.turn(self.knob, sign * by);
            self.moved = true;
        }
    }

    /// Back to what waits behind, with a word for the record.
    fn leave(&self, done: bool) -> Next {
        Next::BackAnd(Cmd::NoteLesson(self.learner, lesson_mark(self.lesson, self.screen, done)))
    }
}

impl Page for LessonPage {
    type Msg = Msg;
    const TABLES: &'static [(&'static str, Table<Msg>)] =
        &[("A lesson", MOVING), ("A lesson", ASKING), ("A lesson", TOLD)];
    const TALL: bool = true;

    fn keys(&self) -> Table<Msg> {
        match (&self.figure, self.told) {
            (Some(_), _) => MOVING,
            (None, false) => ASKING,
            (None, true) => TOLD,
        }
    }

    fn offers(&self, msg: Msg) -> bool {
        match msg {
            Msg::Knob => self.knobs().len() > 1,
            Msg::Back => self.screen > 0,
            _ => true,
        }
    }

    fn update(&mut self, msg: Msg, press: Press, shared: &mut Shared) -> Next {
        let choices = self.lesson.question.choices.len();
        match msg {
            Msg::Turn(sign) => self.turn(sign, press.shifted()),
            Msg::Knob => self.knob = (self.knob + 1) % self.knobs().len().max(1),
            Msg::Choose(by) => {
                self.chosen = round_from(self.chosen, by, choices);
            }
            Msg::Go if self.figure.is_some() => {
                // Whoever goes on without it is told what it was, and why.
                shared.notice = self.figure.as_ref().and_then(|figure| figure.missed());
                self.go_to(self.screen + 1);
            }
            Msg::Go if !self.told => self.told = true,
            Msg::Back if self.screen > 0 => self.go_to(self.screen - 1),
            Msg::Back => {}
            Msg::Leave => return self.leave(self.told),
            Msg::Go | Msg::Skip => return self.leave(true),
        }
        Next::Stay
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        match &self.figure {
            Some(figure) => self.moving(figure.as_ref(), shared, painter, area),
            None => self.asking(shared, painter, area),
        }
    }

    fn title(&self, _shared: &Shared) -> (String, String) {
        let left = format!("Lesson {} · {}", self.lesson.number(), self.lesson.title);
        (left, format!("{} of {}", self.screen + 1, self.lesson.screen_count()))
    }
}

impl PracticeScreen {
    /// The lesson that comes before the problem, offered once.
    pub(in crate::tui) fn take_lesson(&mut self) -> Option<LessonOffer> {
        match (&mut self.flow, &self.others) {
            (Flow::Practice(practice), Others::None) => practice.take_lesson(),
            _ => None,
        }
    }
}

impl LessonPage {
    /// The sentence on top, the figure, and what it says below.
    fn moving(&self, figure: &dyn Figure, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        let Some(screen) = self.lesson.screens.get(self.screen) else { return };
        let mut top = Lines::new(shared.theme, area.width);
        top.gap();
        top.title(screen.text);
        let mut below = Lines::new(shared.theme, area.width);
        let tone = if self.moved && figure.reached() { Tone::Right } else { Tone::Text };
        below.tone(tone, &figure.says());
        let knobs = figure.knobs();
        if let Some(knob) = knobs.get(self.knob) {
            let other = knobs.get((self.knob + 1) % knobs.len()).filter(|_| knobs.len() > 1);
            let other = other.map_or_else(String::new, |other| format!("   Tab: {}", other.name));
            let more = if knob.step == knob.leap { "" } else { ", with Shift by more" };
            below.quiet(&format!("← → {}{more}{other}", knob.name));
        }
        let rows = |lines: &Lines| u16::try_from(lines.len()).unwrap_or(u16::MAX);
        // The figure keeps its place while the words below it change.
        let foot = rows(&below).max(3).min(area.height / 3);
        let head = rows(&top).min(area.height / 3);
        let middle = Rect { y: area.y + head, height: area.height - head - foot, ..area };
        painter.lines(top, Rect { height: head, ..area });
        painter.neat_line(middle);
        let inside = Rect {
            x: middle.x + 1,
            y: middle.y + 1,
            width: middle.width.saturating_sub(2),
            height: middle.height.saturating_sub(2),
        };
        painter.lesson(figure, inside);
        painter.lines(below, Rect { y: middle.y + middle.height, height: foot, ..area });
    }

    fn asking(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        let question = &self.lesson.question;
        let mut lines = Lines::new(shared.theme, area.width);
        lines.gap();
        lines.title(question.text);
        lines.gap();
        for (at, choice) in question.choices.iter().enumerate() {
            lines.item(at == self.chosen, choice);
        }
        lines.gap();
        if self.told {
            let verdict = LessonVerdict::of(question, self.chosen);
            lines.tone(if verdict.right { Tone::Right } else { Tone::Wrong }, verdict.word);
            if let Some(instead) = &verdict.instead {
                lines.text(instead);
            }
            lines.text(verdict.why);
        } else {
            lines.quiet("Only for you: nothing is recorded.");
        }
        painter.lines(lines, area);
    }
}
