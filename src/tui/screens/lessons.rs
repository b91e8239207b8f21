//! The list of the first lessons, with how far somebody has come.

use super::lesson::LessonPage;
use crate::lesson::LESSONS;
use crate::numbers::round_from;
use crate::session::LessonOffer;
use crate::store::{Learner, LessonMark};
use crate::tui::keys::{Line, On, Press, Table};
use crate::tui::model::Shared;
use crate::tui::msg::Cmd;
use crate::tui::page::{Next, Page};
use crate::tui::paint::{Lines, Painter};
use crate::tui::theme::Tone;
use crossterm::event::KeyCode;
use ratatui::layout::Rect;

/// The state.
#[derive(Debug)]
pub struct LessonList {
    learner: Learner,
    marks: Vec<LessonMark>,
    chosen: usize,
}

/// What can happen here.
#[derive(Clone, Copy, Debug)]
pub enum Msg {
    /// So many lessons on.
    Choose(i32),
    /// Open the chosen one.
    Open,
    /// Back to the learner's page.
    Back,
}

const KEYS: Table<Msg> = &[
    Line::new(&[(On::Key(KeyCode::Up), Msg::Choose(-1)), (On::Key(KeyCode::Down), Msg::Choose(1))], "choose a lesson")
        .short("↑ ↓", "choose"),
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Open)], "open the lesson").short("Enter", "open"),
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Back)], "back to the learner's page").short("Esc", "back"),
];

impl LessonList {
    /// The list, for a learner who has come so far; the first lesson that was not ended is chosen.
    #[must_use]
    pub fn new(learner: Learner, marks: Vec<LessonMark>) -> LessonList {
        let done = |id: &str| marks.iter().any(|mark| mark.lesson == id && mark.done);
        let chosen = LESSONS.iter().position(|lesson| !done(lesson.id)).unwrap_or(0);
        LessonList { learner, marks, chosen }
    }

    /// Takes in how far the learner has just come; what was done stays done.
    pub(in crate::tui) fn note(&mut self, mark: LessonMark) {
        let done = mark.done || self.mark(&mark.lesson).is_some_and(|before| before.done);
        self.marks.retain(|before| before.lesson != mark.lesson);
        self.marks.push(LessonMark { done, ..mark });
    }

    fn mark(&self, id: &str) -> Option<&LessonMark> {
        self.marks.iter().find(|mark| mark.lesson == id)
    }
}

impl Page for LessonList {
    type Msg = Msg;
    const TABLES: &'static [(&'static str, Table<Msg>)] = &[("The lessons", KEYS)];

    fn keys(&self) -> Table<Msg> {
        KEYS
    }

    fn update(&mut self, msg: Msg, _press: Press, shared: &mut Shared) -> Next {
        match msg {
            Msg::Choose(by) => {
                self.chosen = round_from(self.chosen, by, LESSONS.len());
            }
            Msg::Open => {
                let lesson = LESSONS[self.chosen % LESSONS.len()];
                let begun = self.mark(lesson.id).filter(|mark| !mark.done);
                let screen = begun.and_then(|mark| usize::try_from(mark.screen).ok()).unwrap_or(0);
                let offer = LessonOffer { lesson, screen };
                return Next::Aside(LessonPage::new(offer, self.learner.id, shared).into());
            }
            Msg::Back => return Next::Do(Cmd::Look(self.learner.id)),
        }
        Next::Stay
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        let mut lines = Lines::new(shared.theme, area.width);
        lines.title("First lessons: one idea each, with something to move");
        lines.gap();
        for (at, lesson) in LESSONS.iter().enumerate() {
            let state = match self.mark(lesson.id) {
                Some(mark) if mark.done => "  (seen)".to_owned(),
                Some(mark) => format!("  (goes on at {} of {})", mark.screen + 1, lesson.screen_count()),
                None => String::new(),
            };
            lines.item(at == self.chosen, &format!("{:>2}  {}{state}", lesson.number(), lesson.title));
            if at == self.chosen {
                lines.hanging(Tone::Quiet, "      ", lesson.idea);
            }
        }
        painter.lines(lines, area);
    }

    fn title(&self, shared: &Shared) -> (String, String) {
        (format!("{} · lessons", self.learner.name), shared.day.to_string())
    }
}
