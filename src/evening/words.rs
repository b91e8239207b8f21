//! The plan in words.

use super::{Evening, Job, Slot, Topic};
use crate::drill::Standard;
use crate::learner::readiness::Next;
use crate::session::{Terms, and_words};

/// `Ana, Bo and Cem`.
fn names(names: &[String]) -> String {
    and_words(&names.iter().map(String::as_str).collect::<Vec<_>>())
}

/// Who does what in one piece of the evening.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EveningLine {
    /// Where: `Laptop`, `Pair`, `Sheets`, `Map`, `All`.
    pub place: &'static str,
    /// Who does what there, a sentence without a full stop.
    pub text: String,
}

impl Topic {
    /// Why this one: `3 of you have a weak spot there`.
    #[must_use]
    pub fn why(&self) -> String {
        match self.members {
            1 => "1 of you has a weak spot there".to_owned(),
            members => format!("{members} of you have a weak spot there"),
        }
    }
}

fn topic_words(topic: Option<Topic>) -> String {
    match topic {
        None => "a round: one problem for all in large letters".to_owned(),
        Some(topic) => format!("a round on {}: {}", topic.skill.title, topic.why()),
    }
}

/// One piece of the evening, line by line: the laptop first. `name` shows somebody.
#[must_use]
pub fn evening_lines(evening: &Evening, slot: &Slot, name: impl Fn(&str) -> String) -> Vec<EveningLine> {
    let who = |at: usize| evening.guests.get(at).map(|guest| name(&guest.name)).unwrap_or_default();
    let line = |place, text| EveningLine { place, text };
    let with = |wanted: Job| {
        let doing = slot.jobs.iter().enumerate().filter(|(_, job)| **job == wanted).map(|(at, _)| who(at));
        names(&doing.collect::<Vec<_>>())
    };
    let mut lines = Vec::new();
    for (at, job) in slot.jobs.iter().enumerate() {
        match job {
            Job::Round(topic) if at == 0 => lines.push(line("All", topic_words(*topic))),
            Job::Game(game) if at == 0 => {
                lines.push(line("All", format!("a game: {}", game.title)));
            }
            Job::Check => {
                let check = evening.guests.get(at).and_then(|guest| guest.check);
                let words = match check {
                    Some(check) if check.begun => "goes on with the check",
                    _ => "is checked",
                };
                let minutes = check.map_or(slot.minutes, |check| check.minutes);
                lines.insert(0, line("Laptop", format!("{} {words}, about {minutes} minutes", who(at))));
            }
            Job::Practice => {
                let why = match evening.guests.get(at) {
                    Some(guest) if guest.not_met.is_some() => {
                        let skill = guest.not_met.map_or("", |skill| skill.title);
                        format!(" ({skill} is not met yet, so no check)")
                    }
                    Some(guest) if guest.has_weak_spots => " (has weak spots)".to_owned(),
                    _ => String::new(),
                };
                lines.insert(0, line("Laptop", format!("{} practises{why}", who(at))));
            }
            Job::Pair(pair) if pair.shows == at => {
                lines.push(line("Pair", format!("{} shows {}: {}", who(pair.shows), who(pair.whom), pair.skill.title)));
            }
            _ => {}
        }
    }
    for (place, job) in [("Sheets", Job::Sheet), ("Map", Job::Map)] {
        let doing = with(job);
        if !doing.is_empty() {
            lines.push(line(place, doing));
        }
    }
    lines
}

/// What has to be printed before, and what does not fit: sentences.
#[must_use]
pub fn evening_needs(evening: &Evening, name: impl Fn(&str) -> String) -> Vec<String> {
    let doing = |wanted: Job| {
        let does = |at: usize| evening.slots.iter().any(|slot| slot.jobs.get(at) == Some(&wanted));
        let doing = evening.guests.iter().enumerate().filter(|(at, _)| does(*at)).map(|(_, guest)| name(&guest.name));
        doing.collect::<Vec<_>>()
    };
    let mut needs = Vec::new();
    let sheets = doing(Job::Sheet);
    if !sheets.is_empty() {
        needs.push(format!(
            "Print before: a worksheet for {} (needlewise worksheet --learner NAME … --output sheets.pdf). What comes back is typed in with needlewise score.",
            names(&sheets)
        ));
    }
    let most = evening.slots.iter().map(|slot| slot.jobs.iter().filter(|job| **job == Job::Map).count()).max();
    if let Some(most @ 1..) = most {
        let maps = if most == 1 {
            "1 printed map and 1 real compass".to_owned()
        } else {
            format!("{most} printed maps and {most} real compasses")
        };
        needs.push(format!("Have ready: {maps} (needlewise map --output map.pdf), two metres from this laptop."));
    }
    let left: Vec<String> =
        evening.left_over.iter().filter_map(|at| evening.guests.get(*at)).map(|guest| name(&guest.name)).collect();
    if !left.is_empty() {
        needs.push(format!("No time is left to check {}: another evening.", names(&left)));
    }
    needs
}

/// About how many minutes a whole check by a standard takes, at least 1. Some problems of each skill are drawn for it.
#[must_use]
pub fn check_minutes(standard: &Standard) -> u32 {
    let terms = Terms::of(standard, |_| true);
    terms.minutes(terms.skills.iter().map(|one| (one.id.as_str(), Next::Ask(1)))).max(1)
}

/// How many checks of so many minutes each fit into an evening, and how many of those who can do it come out ready in it: two sentences.
#[must_use]
pub fn evening_chances(standard: &Standard, each: u32, minutes: u32) -> String {
    let fit = match minutes / each {
        0 => format!("so none fits into {minutes} minutes whole, but a check goes on where it was left"),
        1 => format!("so 1 fits into {minutes} minutes at one laptop"),
        fit => format!("so {fit} fit into {minutes} minutes at one laptop"),
    };
    let plan = &standard.rules.plan;
    let (_, all) = plan.first_day(standard.skills.len());
    let tenths = (all * 10.0).round();
    let again = if plan.tries() > 1 { ", and the others another evening" } else { "" };
    format!(
        "{}: a check takes about {each} minutes, {fit}. Of ten who can do it, about {tenths:.0} come out ready the first evening{again}: the check would rather ask twice than let somebody go who is not ready.",
        standard.title
    )
}
