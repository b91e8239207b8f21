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

pub(super) fn topic_words(topic: Option<Topic>) -> String {
    match topic {
        None => "a round: one problem for all in large letters".to_owned(),
        Some(topic) => format!("a round on {}: {}", topic.skill.title, topic.why()),
    }
}

/// One piece of the evening, line by line: the laptop first. `name` shows somebody.
#[must_use]
pub fn evening_lines(evening: &Evening, slot: &Slot, name: &dyn Fn(&str) -> String) -> Vec<EveningLine> {
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
                let is_begun = evening.guests.get(at).and_then(|guest| guest.check).is_some_and(|check| check.begun);
                // A long check stands in several pieces.
                let before = evening.slots.iter().take_while(|other| other.from < slot.from);
                let goes_on = is_begun || before.flat_map(|other| other.jobs.get(at)).any(|job| *job == Job::Check);
                let words = if goes_on { "goes on with the check" } else { "is checked" };
                lines.insert(0, line("Laptop", format!("{} {words}", who(at))));
            }
            Job::Practice => {
                // Others may read the plan: whose weak spots are why stands on the leader's page alone.
                let not_met = evening.guests.get(at).and_then(|guest| guest.not_met);
                let earlier = evening.slots.iter().take_while(|other| other.from < slot.from);
                let mut told = earlier
                    .flat_map(|other| other.jobs.iter().enumerate())
                    .filter_map(|(who, job)| evening.guests.get(who).filter(|_| *job == Job::Practice)?.not_met);
                // Said of the first one; of the others it is the same.
                let why = not_met.filter(|skill| !told.any(|other| other.id == skill.id));
                let why =
                    why.map(|skill| format!(" ({} is not met yet, so no check)", skill.title)).unwrap_or_default();
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
pub fn evening_needs(evening: &Evening, name: &dyn Fn(&str) -> String) -> Vec<String> {
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
    let of = |at: usize| evening.guests.get(at).map(|guest| name(&guest.name));
    let left: Vec<String> = evening.unchecked().filter_map(of).collect();
    if !left.is_empty() {
        needs.push(no_time_words(&left));
    }
    let without: Vec<String> = evening.without_laptop().filter_map(of).collect();
    if !without.is_empty() {
        let verb = if without.len() == 1 { "does" } else { "do" };
        needs.push(format!("{} {verb} not come to the laptop this time.", names(&without)));
    }
    needs
}

/// Who is not checked for want of time.
pub(super) fn no_time_words(left: &[String]) -> String {
    format!("No time is left to check {}: another evening.", names(left))
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
    let minutes_each = if each == 1 { "1 minute".to_owned() } else { format!("{each} minutes") };
    let plan = &standard.rules.plan;
    let (_, all) = plan.first_day(standard.skills.len());
    let tenths = (all * 10.0).round();
    let again = if plan.tries() > 1 { ", and the others another evening" } else { "" };
    format!(
        "{}: a check takes about {minutes_each}, {fit}. Of ten who can do it, about {tenths:.0} come out ready the first evening{again}: the check would rather ask twice than let somebody go who is not ready.",
        standard.title
    )
}
