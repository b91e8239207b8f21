//! The plan on the first page of the hand-out: a table of who does what when, and beside it what a word of the table does not say.

use super::kept::{plan_of_words, stale_words};
use super::words::topic_words;
use super::{Evening, Job, KeptEvening, evening_lines, evening_needs};
use crate::report::{PlanTold, Planned, Report, called};
use crate::store::StoredEvening;

/// What is told of the plan that was kept last, beside a report: the plan, or why it is not gone by. `name` shows somebody.
#[must_use]
pub fn plan_told(stored: Option<&StoredEvening>, report: &Report, name: &dyn Fn(&str) -> String) -> PlanTold {
    let Some(stored) = stored else { return PlanTold::default() };
    match KeptEvening::read(stored, report) {
        Ok((kept, None)) => PlanTold { planned: Some(planned(&kept, report, name)), stale: None },
        Ok((_, Some(why))) | Err(why) => {
            let words = stale_words(stored, &why, report.day);
            PlanTold { planned: None, stale: Some(words) }
        }
    }
}

/// The plan in words.
fn planned(kept: &KeptEvening, report: &Report, name: &dyn Fn(&str) -> String) -> Planned {
    let evening = &kept.evening;
    let call = called(report, name);
    let which = match &kept.kept {
        Some(when) => crate::problem::capital(&plan_of_words(Some(when.day), &when.clock, report.day)),
        None => "The plan".to_owned(),
    };
    let members = match evening.guests.len() {
        1 => "1 member".to_owned(),
        many => format!("{many} members"),
    };
    let row = |(at, guest): (usize, &super::Guest)| {
        let words = evening.slots.iter().map(|slot| slot.jobs.get(at).map_or("", |job| word(*job, at)).to_owned());
        (call(&guest.name), words.collect())
    };
    let steps = evening.slots.iter().flat_map(|slot| {
        let mut time = slot.time();
        evening_lines(evening, slot, name)
            .into_iter()
            .map(move |line| (std::mem::take(&mut time), line.place, line.text))
            .collect::<Vec<_>>()
    });
    Planned {
        heading: format!("{which}: {} minutes with {members} and one laptop", evening.minutes()),
        times: evening.slots.iter().map(super::Slot::time).collect(),
        rows: evening.guests.iter().enumerate().map(row).collect(),
        notes: notes(evening, &call),
        steps: steps.collect(),
        needs: evening_needs(evening, name),
    }
}

/// A job in one word, for the guest at this place.
const fn word(job: Job, at: usize) -> &'static str {
    match job {
        Job::Round(_) => "round",
        Job::Check => "check",
        Job::Practice => "practice",
        Job::Pair(pair) if pair.shows == at => "shows",
        Job::Pair(_) => "is shown",
        Job::Sheet => "sheet",
        Job::Map => "map",
        Job::Game(_) => "game",
    }
}

/// What the words of the table stand for in this plan, the pairs, and who is not checked for want of time.
fn notes(evening: &Evening, call: &dyn Fn(&str) -> String) -> Vec<String> {
    let who = |at: usize| evening.guests.get(at).map(|guest| call(&guest.name)).unwrap_or_default();
    let has = |wanted: fn(&Job) -> bool| evening.slots.iter().flat_map(|slot| &slot.jobs).any(wanted);
    let mut words = Vec::new();
    for slot in &evening.slots {
        match slot.jobs.first() {
            Some(Job::Round(topic)) => words.push(format!("{} {}", slot.time(), topic_words(*topic))),
            Some(Job::Game(game)) => words.push(format!("{} a game: {}", slot.time(), game.title)),
            _ => {}
        }
    }
    if has(|job| job.at_laptop()) {
        words.push("check, practice: at the laptop, one at a time".to_owned());
    }
    if has(|job| *job == Job::Sheet) {
        words.push("sheet: a printed worksheet".to_owned());
    }
    if has(|job| *job == Job::Map) {
        words.push("map: a printed map and a real compass, two metres from the laptop".to_owned());
    }
    let mut notes = vec![format!("{}.", words.join("; "))];
    let pairs = evening.slots.iter().flat_map(|slot| {
        slot.jobs.iter().enumerate().filter_map(move |(at, job)| match job {
            Job::Pair(pair) if pair.shows == at => Some((slot, *pair)),
            _ => None,
        })
    });
    let pairs: Vec<String> = pairs
        .map(|(slot, pair)| {
            format!("{} {} shows {} ({})", slot.time(), who(pair.shows), who(pair.whom), pair.skill.title)
        })
        .collect();
    if !pairs.is_empty() {
        notes.push(format!("Who shows whom: {}.", pairs.join("; ")));
    }
    let left: Vec<String> = evening.unchecked().map(who).collect();
    if !left.is_empty() {
        notes.push(super::words::no_time_words(&left));
    }
    notes
}
