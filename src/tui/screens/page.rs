//! A learner's page: where somebody stands, weak spots in words, skills by family with their level and state, each to be
//! practised by itself. The picture is in `page_view`.

use super::page_view;
use crate::numbers::round_from;
use crate::problem::SkillMeta;
use crate::report::MixupPattern;
use crate::session::{Headway, Overview};
use crate::store::{Learner, Seen};
use crate::tui::keys::{Line, On, Press, Table};
use crate::tui::model::{Practise, Shared};
use crate::tui::msg::{Cmd, Looked};
use crate::tui::page::{Next, Page};
use crate::tui::paint::Painter;
use crate::tui::screens::ground::GroundPage;
use crate::tui::scroll::Scroll;
use crossterm::event::KeyCode;
use ratatui::layout::Rect;

/// The state.
#[derive(Debug)]
pub struct LearnerPage {
    /// Whose page it is.
    pub learner: Learner,
    /// What is known.
    pub overview: Overview,
    /// How far the learner has come.
    pub headway: Headway,
    /// Where mix-ups show, if only there.
    pub patterns: Vec<MixupPattern>,
    /// What was seen on the ground, the latest of each skill.
    pub seen: Vec<Seen>,
    /// What is chosen: 0 for practice, then the skills from 1 in their order.
    pub chosen: usize,
    /// How far it is scrolled; it follows the choice.
    pub scroll: Scroll,
}

/// What can happen here.
#[derive(Clone, Copy, Debug)]
pub enum Msg {
    /// Practise what is chosen.
    Practise,
    /// So many rows on.
    Choose(i32),
    /// So many rows on, but not past the ends.
    Leap(i32),
    /// To the drills.
    Drills,
    /// To the lessons.
    Lessons,
    /// To the past answers.
    Answers,
    /// To home ground.
    Ground,
    /// Back to where one came from: the list of learners, or the leader's page.
    Back,
    /// To the list of learners.
    Who,
    /// Leave.
    Quit,
}

impl LearnerPage {
    /// The page for the day.
    #[must_use]
    pub fn new(looked: Looked, shared: &Shared) -> LearnerPage {
        let Looked { learner, beliefs, patterns, progress, seen } = looked;
        LearnerPage {
            learner,
            overview: Overview::new(&beliefs, shared.day),
            headway: Headway::new(&beliefs, shared.day, &shared.plan, progress),
            patterns,
            seen,
            chosen: 0,
            scroll: Scroll::default(),
        }
    }

    /// The skills that can be chosen, in their order.
    fn skills(&self) -> impl Iterator<Item = &'static SkillMeta> {
        self.overview.families.iter().flat_map(|family| &family.skills).map(|line| line.skill)
    }
}

const KEYS: Table<Msg> = &[
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Practise)], "practise, or only the chosen skill at its level")
        .short("Enter", "practise"),
    Line::new(
        &[
            (On::Key(KeyCode::Up), Msg::Choose(-1)),
            (On::Key(KeyCode::Down), Msg::Choose(1)),
            (On::Key(KeyCode::PageUp), Msg::Leap(-8)),
            (On::Key(KeyCode::PageDown), Msg::Leap(8)),
        ],
        "choose practice, or a skill by itself",
    )
    .short("↑ ↓", "choose"),
    Line::new(&[(On::Letter('d'), Msg::Drills)], "the drills").short("d", "drills"),
    Line::new(&[(On::Letter('l'), Msg::Lessons)], "the first lessons").short("l", "lessons"),
    Line::new(&[(On::Letter('a'), Msg::Answers)], "your past answers").short("a", "answers"),
    Line::new(&[(On::Letter('g'), Msg::Ground)], "home ground"),
    Line::new(&[(On::Letter('w'), Msg::Who)], "the list of names").short("w", "who"),
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Back)], "back to the list of names, or to the leader's page"),
    Line::new(&[(On::Letter('q'), Msg::Quit)], "leave the program"),
];

impl Page for LearnerPage {
    type Msg = Msg;
    const TABLES: &'static [(&'static str, Table<Msg>)] = &[("A learner's page", KEYS)];

    fn keys(&self) -> Table<Msg> {
        KEYS
    }

    fn update(&mut self, msg: Msg, _press: Press, shared: &mut Shared) -> Next {
        let rows = self.skills().count() + 1;
        match msg {
            Msg::Practise => {
                let skill = self.chosen.checked_sub(1).and_then(|at| self.skills().nth(at));
                let what = skill.map_or(Practise::Best, |skill| Practise::Skill(skill, None));
                Next::Do(Cmd::Open(self.learner.id, what))
            }
            Msg::Choose(by) => {
                self.chosen = round_from(self.chosen, by, rows);
                Next::Stay
            }
            Msg::Leap(by) => {
                self.chosen = self.chosen.saturating_add_signed(by as isize).min(rows - 1);
                Next::Stay
            }
            Msg::Drills => Next::Do(Cmd::Drills(self.learner.clone(), shared.ground.home.clone())),
            Msg::Lessons => Next::Do(Cmd::Lessons(self.learner.clone())),
            Msg::Answers => Next::Do(Cmd::Answers(self.learner.clone())),
            Msg::Ground => Next::Go(GroundPage::default().into()),
            Msg::Back if shared.leader.looks => Next::Do(Cmd::Patrol),
            Msg::Back | Msg::Who => Next::Do(Cmd::LoadLearners),
            Msg::Quit => Next::Do(Cmd::Quit),
        }
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        page_view::view(self, shared, painter, area);
    }

    fn title(&self, shared: &Shared) -> (String, String) {
        (self.learner.name.clone(), shared.day.to_string())
    }
}
