//! A leader's evening: who is here, for how long, and then who does what, step by step.

use crate::evening::{
    EVENING_MINUTES, Evening, EveningLine, Job, KeptEvening, Slot, Stale, check_minutes, evening_chances,
    evening_lines, evening_needs, plan_of_words, stale_words,
};
use crate::problem::capital;
use crate::report::Report;
use crate::store::{LearnerId, StoredEvening};
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
    plan: Option<KeptEvening>,
    /// The plan that stands until another one is made.
    before: Option<KeptEvening>,
    /// From whom the laptop was taken by the keys that were pressed last: the piece, the member who has it now, and who had it for what.
    taken: Option<(usize, usize, usize, Job)>,
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
        "back to the leader's page; the plan is kept",
    )
    .short("Esc", "back"),
];

impl EveningPage {
    /// Who is here; or the plan that was kept, where it is of today, by the same standard and for people who are all still here. Behind it
    /// what has to be said of that plan.
    #[must_use]
    pub fn new(report: Report, minutes: u32, stored: Option<&StoredEvening>) -> (EveningPage, Option<String>) {
        let (mut plan, mut before, mut said) = (None, None, None);
        match stored.map(|stored| (stored, KeptEvening::read(stored, &report))) {
            Some((stored, Ok((kept, None)))) => {
                let which = capital(&plan_of_words(stored.day, &stored.clock, report.day));
                said = Some(format!("{which}; w makes another one."));
                plan = Some(kept);
            }
            Some((stored, Ok((kept, Some(why))))) => {
                let words = stale_words(stored, &why, report.day);
                said = Some(format!("{words} Esc shows it; Enter makes one for today."));
                before = Some(kept);
            }
            Some((stored, Err(why))) => {
                let mend = match why {
                    Stale::Missing(_) => " Enter makes another one (g on the leader's page shows everybody).",
                    Stale::OtherStandard => " Enter makes one by this one.",
                    Stale::OtherDay | Stale::Unreadable => " Enter makes another one.",
                };
                said = Some(format!("{}{mend}", stale_words(stored, &why, report.day)));
            }
            None => {}
        }
        let here = report.members.iter().map(|member| match &plan {
            Some(kept) => kept.evening.guests.iter().any(|guest| guest.learner == member.learner.id),
            None => true,
        });
        let minutes = plan.as_ref().map_or(minutes, |kept| kept.evening.minutes());
        let page = EveningPage {
            here: here.collect(),
            each: check_minutes(&report.standard),
            report,
            minutes,
            chosen: 0,
            plan,
            before,
            taken: None,
            scroll: Scroll::default(),
        };
        (page, said)
    }

    /// At a piece of the plan, where there is one.
    #[must_use]
    pub fn at(mut self, slot: Option<usize>) -> EveningPage {
        if let (Some(kept), Some(slot)) = (&mut self.plan, slot) {
            kept.slot = slot.min(kept.evening.slots.len().saturating_sub(1));
        }
        self
    }

    fn make(&mut self) {
        let here = |id: LearnerId| {
            let place = self.report.members.iter().position(|member| member.learner.id == id);
            place.and_then(|at| self.here.get(at)).copied().unwrap_or(false)
        };
        let standard = &self.report.standard.name;
        self.plan = Evening::plan(&self.report, self.minutes, here).map(|evening| KeptEvening {
            standard: standard.clone(),
            evening,
            slot: 0,
            kept: None,
        });
        (self.chosen, self.scroll) = (0, Scroll::default());
    }

    /// The plan as it is now goes into the records, so that it is there after whatever comes, and on the hand-out.
    fn keep(&self) -> Next {
        Next::maybe(self.plan.clone().map(|plan| Cmd::KeepEvening(Box::new(plan))))
    }

    /// How it was kept, or why it could not be.
    pub fn kept(&mut self, done: Result<StoredEvening, String>, shared: &mut Shared) {
        match done {
            Ok(stored) => {
                if let (Some(plan), Ok((kept, _))) = (&mut self.plan, KeptEvening::read(&stored, &self.report)) {
                    plan.kept = kept.kept;
                }
                shared.leader.evening = Some(stored);
            }
            Err(error) => shared.notice = Some(format!("The plan could not be kept: {error}")),
        }
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
                shared.leader.slot = None;
                self.make();
                if self.plan.is_none() {
                    shared.notice = Some("Nobody is here: Space says that the chosen member is.".to_owned());
                }
                return self.keep();
            }
            Msg::Begin => {
                shared.leader.slot = self.plan.as_ref().map(|kept| kept.slot);
                return self.begin();
            }
            Msg::Member => {
                if let Some((evening, _)) = self.piece() {
                    self.chosen = (self.chosen + 1) % evening.guests.len().max(1);
                }
            }
            Msg::Job => {
                if let Some(kept) = &mut self.plan {
                    let (slot, chosen) = (kept.slot, self.chosen);
                    let at_laptop = |evening: &Evening| {
                        let jobs = &evening.slots.get(slot)?.jobs;
                        jobs.iter().copied().enumerate().find(|(_, job)| job.at_laptop())
                    };
                    let had = at_laptop(&kept.evening);
                    kept.evening.change(slot, chosen);
                    let has = at_laptop(&kept.evening);
                    let name = self.report.shown_as(shared.leader.initials);
                    let is_for_all = |slot: &Slot| slot.jobs.iter().any(|job| job.for_all());
                    let back = self.taken.filter(|(at, taker, ..)| (*at, *taker) == (slot, chosen) && has.is_none());
                    let given_back = back.filter(|(_, _, giver, job)| kept.evening.give_back(slot, *giver, *job));
                    let who =
                        |at: usize| kept.evening.guests.get(at).map(|guest| name(&guest.name)).unwrap_or_default();
                    shared.notice = match (had, has) {
                        _ if kept.evening.slots.get(slot).is_some_and(is_for_all) => {
                            Some("This is for all together.".to_owned())
                        }
                        (Some((had, job)), Some((has, _))) if had != has => {
                            self.taken = Some((slot, has, had, job));
                            Some(format!("{} has the laptop now, and {} a sheet.", who(has), who(had)))
                        }
                        (Some(_), None) => Some(match given_back {
                            Some((_, _, giver, _)) => format!("{} has the laptop again.", who(giver)),
                            None => "Nobody is at the laptop in this step now.".to_owned(),
                        }),
                        _ => None,
                    };
                    return self.keep();
                }
            }
            Msg::Stretch(by) => {
                if let Some(kept) = &mut self.plan {
                    kept.evening.stretch(kept.slot, by);
                    return self.keep();
                }
            }
            Msg::Again => (self.before, self.chosen) = (self.plan.take(), 0),
            // The plan stands as long as no other one is made.
            Msg::Back if self.plan.is_none() && self.before.is_some() => self.plan = self.before.take(),
            Msg::Back => {
                shared.leader.slot = self.plan.as_ref().map(|kept| kept.slot);
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
                    painter.more_below(area, "↓");
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
        // An old plan that is looked at is not of today.
        let kept = self.plan.as_ref().and_then(|kept| kept.kept.as_ref());
        let day = kept.map_or(shared.day, |when| when.day);
        (format!("An evening of {minutes} minutes · {}", self.report.standard.title), day.to_string())
    }
}

/// The plan, piece by piece; the first and the last line of the chosen piece.
fn plan_lines(kept: &KeptEvening, chosen: usize, name: &dyn Fn(&str) -> String, lines: &mut Lines) -> (usize, usize) {
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
