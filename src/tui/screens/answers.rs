//! Past answers: the latest of a learner, and each with what was asked, what was answered and the right way.

use crate::problem::Verdict;
use crate::session::Missed;
use crate::skills;
use crate::store::{Attempt, Learner, RecordedVerdict};
use crate::tui::keys::{Line, On, Press, Table};
use crate::tui::model::{Practise, Shared};
use crate::tui::msg::Cmd;
use crate::tui::page::{Next, Page};
use crate::tui::paint::{Lines, Painter, cut};
use crate::tui::screens::check_end::explained;
use crate::tui::scroll::Scroll;
use crate::tui::theme::Tone;
use crossterm::event::KeyCode;
use ratatui::layout::Rect;

/// The state.
#[derive(Debug)]
pub struct AnswersPage {
    learner: Learner,
    /// The latest first.
    answers: Vec<Attempt>,
    chosen: usize,
    stage: Stage,
    scroll: Scroll,
}

/// What is looked at.
#[derive(Debug)]
enum Stage {
    /// All of them.
    List,
    /// The chosen one.
    Open(Box<Missed>),
    /// The chosen one, whose problem this program cannot make any more.
    Gone,
}

/// What can happen here.
#[derive(Clone, Copy, Debug)]
pub enum Msg {
    /// So many answers on, but not past the ends.
    Choose(i32),
    /// Look at the chosen one.
    Open,
    /// Scroll.
    Scroll(i32),
    /// A new problem of the kind.
    New,
    /// Back to the list.
    Close,
    /// Back to the learner's page.
    Back,
}

const NEW: Line<Msg> =
    Line::new(&[(On::Letter('n'), Msg::New)], "a new problem of this kind, with new numbers").short("n", "new numbers");
const LIST: Table<Msg> = &[
    Line::new(
        &[
            (On::Key(KeyCode::Up), Msg::Choose(-1)),
            (On::Key(KeyCode::Down), Msg::Choose(1)),
            (On::Key(KeyCode::PageUp), Msg::Choose(-8)),
            (On::Key(KeyCode::PageDown), Msg::Choose(8)),
        ],
        "choose an answer",
    )
    .short("↑ ↓", "choose"),
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Open)], "look at the answer").short("Enter", "open"),
    NEW,
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Back)], "back to the learner's page").short("Esc", "back"),
];
const OPEN: Table<Msg> = &[
    NEW,
    Line::new(
        &[
            (On::Key(KeyCode::Up), Msg::Scroll(-1)),
            (On::Key(KeyCode::Down), Msg::Scroll(1)),
            (On::Key(KeyCode::PageUp), Msg::Scroll(-8)),
            (On::Key(KeyCode::PageDown), Msg::Scroll(8)),
        ],
        "scroll",
    )
    .short("↑ ↓", "scroll"),
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Close), (On::Key(KeyCode::Enter), Msg::Close)], "back to the answers")
        .short("Esc", "back"),
];

impl AnswersPage {
    /// The answers of a learner, the latest first.
    #[must_use]
    pub fn new(learner: Learner, answers: Vec<Attempt>) -> AnswersPage {
        AnswersPage { learner, answers, chosen: 0, stage: Stage::List, scroll: Scroll::default() }
    }

    fn list(&self, lines: &mut Lines) -> usize {
        let mut row = 0;
        if self.answers.is_empty() {
            lines.text("Nothing answered yet. Answers of a check come here when its try has ended.");
        }
        for (at, answer) in self.answers.iter().enumerate() {
            let what = &answer.what;
            let (chosen, skill) = (at == self.chosen, skills::find(&what.skill).map(|skill| skill.meta()));
            let said = match (&what.verdict, skill) {
                (RecordedVerdict::Right, _) => "right".to_owned(),
                (RecordedVerdict::Mixup(id), Some(skill)) => {
                    skill.mixup(id).map_or_else(|| id.clone(), |mixup| mixup.said.to_owned())
                }
                (RecordedVerdict::Mixup(id), None) => id.clone(),
                (RecordedVerdict::Unrecognised, _) => "not right".to_owned(),
            };
            let tone = match (chosen, &what.verdict) {
                (true, _) => Tone::Chosen,
                (_, RecordedVerdict::Right) => Tone::Right,
                _ => Tone::Text,
            };
            if chosen {
                row = lines.len();
            }
            let (mark, title) =
                (if chosen { "▸" } else { " " }, skill.map_or(what.skill.as_str(), |skill| skill.title));
            let helped = if what.help.is_evidence() { "" } else { " (after help)" };
            let room = lines.width().saturating_sub(35 + helped.len());
            lines.spans(vec![
                (tone, format!("{mark} {}  {:<21}", what.day, cut(title, 20))),
                (tone, format!("{}{helped}", cut(&said, room))),
            ]);
        }
        row
    }
}

impl Page for AnswersPage {
    type Msg = Msg;
    const TABLES: &'static [(&'static str, Table<Msg>)] = &[("Past answers", LIST), ("A past answer", OPEN)];

    fn keys(&self) -> Table<Msg> {
        if matches!(self.stage, Stage::List) { LIST } else { OPEN }
    }

    fn offers(&self, msg: Msg) -> bool {
        // Where nothing was answered, nothing can be chosen.
        !self.answers.is_empty() || matches!(msg, Msg::Back)
    }

    fn update(&mut self, msg: Msg, _press: Press, _shared: &mut Shared) -> Next {
        let chosen = self.answers.get(self.chosen).map(|answer| &answer.what);
        match msg {
            Msg::Choose(by) => {
                let last = self.answers.len().saturating_sub(1);
                self.chosen = self.chosen.saturating_add_signed(by as isize).min(last);
            }
            Msg::Open => {
                if let Some(what) = chosen {
                    self.stage = Missed::of(what).map_or(Stage::Gone, |one| Stage::Open(Box::new(one)));
                    self.scroll = Scroll::default();
                }
            }
            Msg::Scroll(by) => self.scroll.by(by),
            Msg::New => {
                let kind = chosen.and_then(|what| Some((skills::find(&what.skill)?.meta(), what.level)));
                let practise = |(skill, level)| Cmd::Open(self.learner.id, Practise::Skill(skill, Some(level)));
                return Next::maybe(kind.map(practise));
            }
            Msg::Close => (self.stage, self.scroll) = (Stage::List, Scroll::default()),
            Msg::Back => return Next::Do(Cmd::Look(self.learner.id)),
        }
        Next::Stay
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        let mut lines = Lines::new(shared.theme, area.width);
        match &self.stage {
            Stage::List => {
                let row = self.list(&mut lines);
                self.scroll.reveal(row, area.height);
            }
            Stage::Open(one) => {
                let tone = if one.told.verdict == Verdict::Right { Tone::Right } else { Tone::Wrong };
                explained(one, tone, &mut lines);
            }
            Stage::Gone => lines.text("Its problem is of an older kind, which this program does not make any more."),
        }
        painter.lines_from(lines, area, &self.scroll);
    }

    fn title(&self, shared: &Shared) -> (String, String) {
        (format!("{} · past answers", self.learner.name), shared.day.to_string())
    }
}
