//! A leader's evening: who is here, for how long, and then who does what, step by step.

use crate::evening::{
    EVENING_MINUTES, Evening, EveningLine, Job, Slot, check_minutes, evening_chances, evening_lines, evening_needs,
};
use crate::report::Report;
use crate::store::LearnerId;
use crate::tui::keys::{Line, On, Press, Table};
use crate::tui::model::{Practise, Shared};
use crate::tui::msg::Cmd;
use crate::tui::page::{Next, Page};
use crate::tui::paint::{Lines, Painter};
use crate::tui::screens::games::GamesPage;
use crate::tui::scroll::Scroll;
use crate::tui::theme::Tone;
use crossterm::event::KeyCode;
use ratatui::layout::Rect;

/// A quarter of an hour, in minutes: what one key adds or takes.
const QUARTER: i32 = 15;

/// The evening as it is kept while checks and rounds come in between.
#[derive(Clone, Debug)]
pub struct Kept {
    /// The standard it goes by.
    standard: String,
    /// The plan.
    pub evening: Evening,
    /// The piece that is being done.
    pub slot: usize,
}

/// The state.
#[derive(Debug)]
pub struct EveningPage {
    report: Report,
    /// Who is here, in the order of the report.
    here: Vec<bool>,
    minutes: u32,
    /// About how many minutes a check takes.
    each: u32,
    /// The chosen member: on the list of who is here, or in the plan.
    chosen: usize,
    /// The plan and the piece that is chosen, once it is made.
    plan: Option<Kept>,
    /// The plan that stands until another one is made.
    before: Option<Kept>,
    scroll: Scroll,
}

/// What can happen here.
#[derive(Clone, Copy, Debug)]
pub enum Msg {
    /// Another member, or another piece of the evening.
    Choose(i32),
    /// Whether the chosen member is here.
    Here,
    /// A quarter of an hour more or less.
    Minutes(i32),
    /// Make the plan.
    Plan,
    /// Do what the chosen piece says for the laptop, or for all.
    Begin,
    /// The next member of the piece.
    Member,
    /// Another job for the chosen member.
    Job,
    /// Five minutes more or less for the piece.
    Stretch(i32),
    /// From the plan to who is here.
    Again,
    /// Back to the leader's page.
    Back,
}

const HERE: Table<Msg> = &[
    Line::new(&[(On::Key(KeyCode::Up), Msg::Choose(-1)), (On::Key(KeyCode::Down), Msg::Choose(1))], "choose a member")
        .short("↑ ↓", "choose"),
    Line::new(&[(On::Letter(' '), Msg::Here)], "the chosen member is here, or not").short("Space", "here or not"),
    Line::new(
        &[(On::Key(KeyCode::Left), Msg::Minutes(-1)), (On::Key(KeyCode::Right), Msg::Minutes(1))],
        "a quarter of an hour less or more",
    )
    .short("← →", "minutes"),
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Plan)], "make the plan").short("Enter", "plan"),
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Back), (On::Letter('q'), Msg::Back)], "back to the leader's page")
        .short("Esc", "back"),
];
const PLAN: Table<Msg> = &[
    Line::new(
        &[(On::Key(KeyCode::Up), Msg::Choose(-1)), (On::Key(KeyCode::Down), Msg::Choose(1))],
        "the piece before, the next piece",
    )
    .short("↑ ↓", "step"),
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Begin)], "begin what the piece says for the laptop or for all")
        .short("Enter", "begin"),
    Line::new(&[(On::Key(KeyCode::Tab), Msg::Member)], "the next member of the piece").short("Tab", "member"),
    Line::new(&[(On::Letter('x'), Msg::Job)], "something else for this member: a sheet, a printed map, the laptop")
        .short("x", "another job"),
    Line::new(
        &[(On::Letter('-'), Msg::Stretch(-5)), (On::Letter('+'), Msg::Stretch(5))],
        "five minutes less or more for the piece",
    ),
    Line::new(&[(On::Letter('w'), Msg::Again)], "who is here, and how long; the plan is made anew"),
    Line::new(
        &[(On::Key(KeyCode::Esc), Msg::Back), (On::Letter('q'), Msg::Back)],
        "back to the leader's page; the plan is kept while the program runs",
    )
    .short("Esc", "back"),
];

impl EveningPage {
    /// Who is here; or the plan that was made before, where it goes by the same standard and its people are all still there.
    #[must_use]
    pub fn new(report: Report, minutes: u32, kept: Option<Kept>) -> EveningPage {
        let known = |id: LearnerId| report.members.iter().any(|member| member.learner.id == id);
        let is_ours = |kept: &Kept| {
            kept.standard == report.standard.name && kept.evening.guests.iter().all(|guest| known(guest.learner))
        };
        let plan = kept.filter(is_ours);
        let here = report.members.iter().map(|member| match &plan {
            Some(kept) => kept.evening.guests.iter().any(|guest| guest.learner == member.learner.id),
            None => true,
        });
        let minutes = plan.as_ref().map_or(minutes, |kept| kept.evening.minutes());
        EveningPage {
            here: here.collect(),
            each: check_minutes(&report.standard),
            report,
            minutes,
            chosen: 0,
            plan,
            before: None,
            scroll: Scroll::default(),
        }
    }

    fn make(&mut self) {
        let here = |id: LearnerId| {
            let place = self.report.members.iter().position(|member| member.learner.id == id);
            place.and_then(|at| self.here.get(at)).copied().unwrap_or(false)
        };
        let standard = &self.report.standard.name;
        self.plan = Evening::plan(&self.report, self.minutes, here).map(|evening| Kept {
            standard: standard.clone(),
            evening,
            slot: 0,
        });
        (self.chosen, self.scroll) = (0, Scroll::default());
    }

    /// What Enter does in the chosen piece: what the laptop is for, or what all do.
    fn begin(&self) -> Next {
        let Some((evening, slot)) = self.piece() else { return Next::Stay };
        let who = |at: usize| evening.guests.get(at).map(|guest| guest.learner);
        let all = || evening.guests.iter().map(|guest| guest.learner).collect();
        let mut jobs = slot.jobs.iter().enumerate();
        match jobs.find(|(_, job)| job.at_laptop() || job.for_all()) {
            Some((at, Job::Check)) => Next::maybe(who(at).map(|id| Cmd::Queue(vec![id]))),
            Some((at, Job::Practice)) => Next::maybe(who(at).map(|id| Cmd::Open(id, Practise::Best))),
            Some((_, Job::Round(topic))) => Next::Do(Cmd::OpenRound(all(), topic.map(|topic| topic.skill))),
            Some((_, Job::Game(_))) => Next::Go(GamesPage::new(evening.guests.len()).into()),
            _ => Next::Stay,
        }
    }

    fn piece(&self) -> Option<(&Evening, &Slot)> {
        let kept = self.plan.as_ref()?;
        Some((&kept.evening, kept.evening.slots.get(kept.slot)?))
    }
}

impl Page for EveningPage {
    type Msg = Msg;
    const TABLES: &'static [(&'static str, Table<Msg>)] =
        &[("An evening: who is here", HERE), ("An evening: the plan", PLAN)];
    const TALL: bool = true;

    fn keys(&self) -> Table<Msg> {
        if self.plan.is_some() { PLAN } else { HERE }
    }

    fn update(&mut self, msg: Msg, _press: Press, shared: &mut Shared) -> Next {
        match msg {
            Msg::Choose(by) => match &mut self.plan {
                Some(kept) => {
                    let last = kept.evening.slots.len().saturating_sub(1);
                    kept.slot = kept.slot.saturating_add_signed(by as isize).min(last);
                }
                None => {
                    let last = self.here.len().saturating_sub(1);
                    self.chosen = self.chosen.saturating_add_signed(by as isize).min(last);
                }
            },
            Msg::Here => {
                if let Some(here) = self.here.get_mut(self.chosen) {
                    *here = !*here;
                }
            }
            Msg::Minutes(by) => {
                let minutes = self.minutes.saturating_add_signed(by * QUARTER);
                self.minutes = minutes.clamp(*EVENING_MINUTES.start(), *EVENING_MINUTES.end());
            }
            Msg::Plan => {
                self.make();
                if self.plan.is_none() {
                    shared.notice = Some("Nobody is here: Space says that the chosen member is.".to_owned());
                }
            }
            Msg::Begin => {
                shared.leader.evening.clone_from(&self.plan);
                return self.begin();
            }
            Msg::Member => {
                if let Some((evening, _)) = self.piece() {
                    self.chosen = (self.chosen + 1) % evening.guests.len().max(1);
                }
            }
            Msg::Job => {
                if let Some(kept) = &mut self.plan {
                    let at_laptop = |evening: &Evening| {
                        let jobs = &evening.slots.get(kept.slot)?.jobs;
                        jobs.iter().position(|job| job.at_laptop())
                    };
                    let had = at_laptop(&kept.evening);
                    kept.evening.change(kept.slot, self.chosen);
                    let has = at_laptop(&kept.evening);
                    let name = self.report.shown_as(shared.leader.initials);
                    let who =
                        |at: usize| kept.evening.guests.get(at).map(|guest| name(&guest.name)).unwrap_or_default();
                    let is_for_all = |slot: &Slot| slot.jobs.iter().any(|job| job.for_all());
                    shared.notice = match (had, has) {
                        _ if kept.evening.slots.get(kept.slot).is_some_and(is_for_all) => {
                            Some("This is for all together.".to_owned())
                        }
                        (Some(had), Some(has)) if had != has => {
                            Some(format!("{} has the laptop now, and {} a sheet.", who(has), who(had)))
                        }
                        (Some(_), None) => Some("Nobody is at the laptop in this step now.".to_owned()),
                        _ => None,
                    };
                }
            }
            Msg::Stretch(by) => {
                if let Some(kept) = &mut self.plan {
                    kept.evening.stretch(kept.slot, by);
                }
            }
            Msg::Again => (self.before, self.chosen) = (self.plan.take(), 0),
            // The plan stands as long as no other one is made.
            Msg::Back if self.plan.is_none() && self.before.is_some() => self.plan = self.before.take(),
            Msg::Back => {
                shared.leader.evening.clone_from(&self.plan);
                return Next::Back;
            }
        }
        Next::Stay
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        let name = self.report.shown_as(shared.leader.initials);
        let mut lines = Lines::new(shared.theme, area.width);
        match &self.plan {
            Some(kept) => {
                let (first, last) = plan_lines(kept, self.chosen, &name, &mut lines);
                let room = Rect { height: area.height.saturating_sub(1), ..area };
                self.scroll.reveal(last, room.height);
                self.scroll.reveal(first, room.height);
                let (_, more) = painter.lines_from(lines, room, &self.scroll);
                if more > 0 {
                    let mark = Rect { x: area.right().saturating_sub(20), y: area.bottom() - 1, width: 20, height: 1 };
                    painter.put(mark, "        ↓ more below", Tone::Quiet);
                }
            }
            None => {
                lines.title("Who is here, and how long do you have?");
                lines.gap();
                lines.text(&format!("{} minutes", self.minutes));
                lines.quiet(&evening_chances(&self.report.standard, self.each, self.minutes));
                lines.gap();
                let first = lines.len();
                for (at, (member, here)) in self.report.members.iter().zip(&self.here).enumerate() {
                    let mark = if *here { "●" } else { "·" };
                    let here = if *here { "here" } else { "not here" };
                    lines.item(at == self.chosen, &format!("{mark} {:<20} {here}", name(&member.learner.name)));
                }
                self.scroll.reveal(if self.chosen == 0 { 0 } else { first + self.chosen }, area.height);
                painter.lines_from(lines, area, &self.scroll);
            }
        }
    }

    fn title(&self, shared: &Shared) -> (String, String) {
        let minutes = self.plan.as_ref().map_or(self.minutes, |kept| kept.evening.minutes());
        (format!("An evening of {minutes} minutes · {}", self.report.standard.title), shared.day.to_string())
    }
}

/// The plan, piece by piece; the first and the last line of the chosen piece.
fn plan_lines(kept: &Kept, chosen: usize, name: &impl Fn(&str) -> String, lines: &mut Lines) -> (usize, usize) {
    let mut at = (0, 0);
    for (number, slot) in kept.evening.slots.iter().enumerate() {
        let now = number == kept.slot;
        let tone = if now { Tone::Text } else { Tone::Quiet };
        let first = lines.len();
        let mut time = format!("{} {:<8}", if now { "▸" } else { " " }, slot.time());
        for EveningLine { place, text } in evening_lines(&kept.evening, slot, name) {
            lines.hanging(
                if now && !time.trim().is_empty() { Tone::Title } else { tone },
                &format!("{time}{place:<8}"),
                &text,
            );
            time = " ".repeat(time.chars().count());
        }
        if now {
            if let Some(guest) = kept.evening.guests.get(chosen).filter(|_| !slot.jobs.iter().any(|job| job.for_all()))
            {
                lines.hanging(
                    Tone::Chosen,
                    &format!("{time}x       "),
                    &format!("something else for {}", name(&guest.name)),
                );
            }
            at = (first, lines.len().saturating_sub(1));
        }
    }
    lines.gap();
    for need in evening_needs(&kept.evening, name) {
        lines.text(&need);
    }
    // Below the last piece stands what is needed: it is reached by the same key.
    let is_last = kept.slot + 1 == kept.evening.slots.len();
    if is_last { (at.0, lines.len().saturating_sub(1)) } else { at }
}
