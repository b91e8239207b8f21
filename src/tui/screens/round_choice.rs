//! What a round is about: the commonest weak spot, a chosen skill, or what suits each member in turn.

use crate::evening::round_topics;
use crate::problem::SkillMeta;
use crate::report::Report;
use crate::session::is_written_skill;
use crate::store::LearnerId;
use crate::tui::keys::{Line, On, Press, Table};
use crate::tui::model::Shared;
use crate::tui::msg::Cmd;
use crate::tui::page::{Next, Page};
use crate::tui::paint::{Lines, Painter};
use crate::tui::scroll::Scroll;
use crossterm::event::KeyCode;
use ratatui::layout::Rect;

/// One thing that a round can be about.
#[derive(Clone, Debug)]
struct About {
    /// The skill; none for what suits each in turn.
    skill: Option<&'static SkillMeta>,
    /// Why this one; empty where there is no reason but the leader's.
    why: String,
}

/// The state.
#[derive(Debug)]
pub struct RoundChoice {
    members: Vec<LearnerId>,
    choices: Vec<About>,
    chosen: usize,
    scroll: Scroll,
}

/// What can happen here.
#[derive(Clone, Copy, Debug)]
pub enum Msg {
    /// So many choices on.
    Choose(i32),
    /// Begin.
    Begin,
    /// Back to the leader's page.
    Back,
}

const KEYS: Table<Msg> = &[
    Line::new(
        &[
            (On::Key(KeyCode::Up), Msg::Choose(-1)),
            (On::Key(KeyCode::Down), Msg::Choose(1)),
            (On::Key(KeyCode::PageUp), Msg::Choose(-10)),
            (On::Key(KeyCode::PageDown), Msg::Choose(10)),
        ],
        "choose what the round is about",
    )
    .short("↑ ↓", "choose"),
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Begin)], "begin the round").short("Enter", "begin"),
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Back), (On::Letter('q'), Msg::Back)], "back to the leader's page")
        .short("Esc", "back"),
];

impl RoundChoice {
    /// For all who stand in the report: the commonest weak spot comes first, if there is one.
    #[must_use]
    pub fn new(report: &Report, shared: &Shared) -> RoundChoice {
        let topics = round_topics(report, |_| true);
        let mut choices: Vec<About> =
            topics.iter().map(|topic| About { skill: Some(topic.skill), why: topic.why() }).collect();
        choices.push(About { skill: None, why: "each problem is chosen for another member".to_owned() });
        let others = shared.plan.skills.iter().map(|one| one.skill);
        let others =
            others.filter(|skill| is_written_skill(skill) && !topics.iter().any(|topic| topic.skill.id == skill.id));
        choices.extend(others.map(|skill| About { skill: Some(skill), why: String::new() }));
        let members = report.members.iter().map(|member| member.learner.id).collect();
        RoundChoice { members, choices, chosen: 0, scroll: Scroll::default() }
    }
}

impl Page for RoundChoice {
    type Msg = Msg;
    const TABLES: &'static [(&'static str, Table<Msg>)] = &[("What a round is about", KEYS)];

    fn keys(&self) -> Table<Msg> {
        KEYS
    }

    fn update(&mut self, msg: Msg, _press: Press, _shared: &mut Shared) -> Next {
        match msg {
            Msg::Choose(by) => {
                let last = self.choices.len().saturating_sub(1);
                self.chosen = self.chosen.saturating_add_signed(by as isize).min(last);
                Next::Stay
            }
            Msg::Begin => {
                let skill = self.choices.get(self.chosen).and_then(|about| about.skill);
                Next::Do(Cmd::OpenRound(self.members.clone(), skill))
            }
            Msg::Back => Next::Back,
        }
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        let mut lines = Lines::new(shared.theme, area.width);
        lines.title("What is the round about?");
        lines.gap();
        let mut at = 0;
        for (number, about) in self.choices.iter().enumerate() {
            let title = about.skill.map_or("What suits each in turn", |skill| skill.title);
            let why = if about.why.is_empty() { String::new() } else { format!(": {}", about.why) };
            if number == self.chosen {
                at = lines.len();
            }
            lines.item(number == self.chosen, &format!("{title}{why}"));
        }
        let room = Rect { height: area.height.saturating_sub(1), ..area };
        self.scroll.reveal(if self.chosen == 0 { 0 } else { at }, room.height);
        let (_, more) = painter.lines_from(lines, room, &self.scroll);
        if more > 0 {
            painter.more_below(area, "↓");
        }
    }

    fn title(&self, shared: &Shared) -> (String, String) {
        ("A round".to_owned(), shared.day.to_string())
    }
}
