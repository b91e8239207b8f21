//! Between two who are checked: nothing of the last one is on the screen, and the next one says that they are there.

use crate::problem::SkillMeta;
use crate::session::{STANDARD_CHANGED, and_words, clock_went_back, first_day_words, sentence, your_turn};
use crate::store::Learner;
use crate::tui::keys::{Line, On, Press, Table};
use crate::tui::model::{Practise, Shared};
use crate::tui::msg::Cmd;
use crate::tui::page::{Next, Page};
use crate::tui::paint::{Lines, Painter};
use crate::tui::theme::Tone;
use crossterm::event::KeyCode;
use jiff::civil::Date;
use ratatui::layout::Rect;

/// Somebody whose check comes.
#[derive(Clone, Debug, PartialEq)]
pub struct Queued {
    /// Who.
    pub learner: Learner,
    /// About how many minutes; none when nothing can be asked before the day.
    pub waiting: Waiting,
    /// The check was begun under rules that the standard's file does not have any more.
    pub own_rules: bool,
    /// A day in the record that lies after today.
    pub clock_went_back_from: Option<Date>,
    /// What is asked of the clock first, where today lies far after everything else.
    pub clock_question: Option<String>,
    /// Skills of a new check that the learner has not met yet: practice is fairer.
    pub not_met: Vec<&'static SkillMeta>,
}

/// What waits for somebody.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Waiting {
    /// A new check of about so many minutes.
    Anew(u32),
    /// A check that was begun before, about so many minutes more.
    GoOn(u32),
    /// Nothing before this day.
    Later(Date),
}

impl Waiting {
    /// About how many minutes; none when there is nothing to ask.
    #[must_use]
    pub const fn minutes(self) -> u32 {
        match self {
            Waiting::Anew(minutes) | Waiting::GoOn(minutes) => minutes,
            Waiting::Later(_) => 0,
        }
    }
}

/// The state: who comes, the first in front.
#[derive(Clone, Debug)]
pub struct Handover {
    /// Those who come; never empty.
    pub queue: Vec<Queued>,
}

/// What can happen here.
#[derive(Clone, Copy, Debug)]
pub enum Msg {
    /// The first in the queue is there.
    Begin,
    /// Practice first, of what was not met.
    Practise,
    /// They are not: the next one.
    Skip,
    /// To the patrol.
    Back,
}

const BACK: Line<Msg> = Line::new(&[(On::Key(KeyCode::Esc), Msg::Back)], "to the patrol").short("Esc", "patrol");
const PRACTISE: Line<Msg> =
    Line::new(&[(On::Letter('p'), Msg::Practise)], "practise first what was not met yet").short("p", "practise first");
/// Somebody has something to be asked.
const BEGIN: Table<Msg> = &[
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Begin)], "that is me: begin").short("Enter", "begin"),
    PRACTISE,
    Line::new(&[(On::Letter('s'), Msg::Skip)], "not here: the next one").short("s", "not here: skip"),
    BACK,
];
/// The clock is asked about first: Enter, which everybody presses, is no answer to that.
const SURE: Table<Msg> = &[
    Line::new(&[(On::Letter('y'), Msg::Begin)], "today is right, and that is me: begin")
        .short("y", "today is right: begin"),
    PRACTISE,
    Line::new(&[(On::Letter('s'), Msg::Skip)], "not here: the next one").short("s", "not here"),
    BACK,
];
/// Nothing before another day.
const LATER: Table<Msg> = &[
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Skip), (On::Letter('s'), Msg::Skip)], "go on to the next one")
        .short("Enter", "go on"),
    BACK,
];

impl Page for Handover {
    type Msg = Msg;
    const TABLES: &'static [(&'static str, Table<Msg>)] = &[
        ("Between two who are checked", BEGIN),
        ("Between two who are checked", SURE),
        ("Between two who are checked", LATER),
    ];

    fn keys(&self) -> Table<Msg> {
        match self.queue.first() {
            Some(Queued { waiting: Waiting::Later(_), .. }) => LATER,
            Some(Queued { clock_question: Some(_), .. }) => SURE,
            _ => BEGIN,
        }
    }

    fn update(&mut self, msg: Msg, _press: Press, shared: &mut Shared) -> Next {
        match (msg, self.queue.split_first()) {
            (Msg::Practise, Some((first, rest))) => {
                if !rest.is_empty() {
                    shared.notice =
                        Some("The others are checked afterwards: c on the leader's page begins again.".to_owned());
                }
                let skill = first.not_met.first();
                Next::maybe(skill.map(|skill| Cmd::Open(first.learner.id, Practise::Skill(skill, None))))
            }
            (Msg::Begin, Some((first, rest))) => Next::Do(Cmd::OpenCheck(first.learner.id, rest.to_vec())),
            // After the last one comes the patrol's page.
            (Msg::Skip, Some((_, rest))) if !rest.is_empty() => {
                self.queue.remove(0);
                Next::Stay
            }
            _ => Next::Do(Cmd::Patrol),
        }
    }

    fn offers(&self, msg: Msg) -> bool {
        !matches!(msg, Msg::Practise) || self.queue.first().is_some_and(|first| !first.not_met.is_empty())
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        view(self, shared, painter, area);
    }
}

fn view(page: &Handover, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
    let Some((first, rest)) = page.queue.split_first() else { return };
    let mut lines = Lines::new(shared.theme, area.width.min(76));
    let name = &first.learner.name;
    let standard = shared.leader.standard();
    lines.title(&your_turn(name));
    lines.gap();
    let title = standard.map_or("", |standard| standard.title.as_str());
    match first.waiting {
        Waiting::Anew(minutes) => {
            lines.text(&format!("{title}, about {minutes} minutes."));
            if let Some(standard) = standard {
                lines.quiet(&sentence(&first_day_words(&standard.rules.plan, standard.skills.len())));
            }
        }
        Waiting::GoOn(minutes) => {
            lines.text(&format!("{title} goes on where it stopped, about {minutes} minutes more."));
        }
        Waiting::Later(from) => lines.text(&format!("{title}: nothing to ask before {from}.")),
    }
    if let Some(day) = first.clock_went_back_from {
        lines.tone(Tone::Caution, &clock_went_back(day, shared.day));
    }
    if first.own_rules {
        lines.tone(Tone::Caution, STANDARD_CHANGED);
    }
    if let (Some(unset), Waiting::Anew(_)) = (standard.and_then(|one| one.lines_unset()), first.waiting) {
        lines.quiet(&unset);
    }
    if !first.not_met.is_empty() {
        let titles: Vec<&str> = first.not_met.iter().map(|skill| skill.title).collect();
        let words =
            format!("{name} has not met yet: {}. p practises first, which is fairer than a check.", and_words(&titles));
        lines.tone(Tone::Caution, &words);
    }
    lines.gap();
    if !matches!(first.waiting, Waiting::Later(_)) {
        lines
            .text("Nobody helps, and nobody else looks on. There are no hints, and you see at the end what was right.");
        lines.text("Esc leaves. What you answered is kept, and it goes on with the very same problem. Leaving is counted, and your leader sees how often.");
        lines.gap();
        match &first.clock_question {
            Some(question) => {
                lines.tone(Tone::Caution, question);
                lines.gap();
                lines.tone(Tone::Key, &format!("y: today is {}, and I am {name}.", shared.day));
            }
            None => lines.tone(Tone::Key, &format!("Enter: I am {name}.")),
        }
    }
    if !rest.is_empty() {
        let minutes: u32 = page.queue.iter().map(|queued| queued.waiting.minutes()).sum();
        let names: Vec<&str> = rest.iter().map(|queued| queued.learner.name.as_str()).collect();
        lines.gap();
        lines.quiet(&format!("After that: {}. About {minutes} minutes for all.", names.join(", ")));
    }
    painter.lines(lines, Rect { width: area.width.min(76), ..area });
}
