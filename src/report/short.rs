//! The report in short: who is ready for what, what goes on with whom, whom to watch, and what holds on this ground today.

use super::{Member, NextStep, Report};
use crate::learner::Standing;
use crate::session::and_words;
use crate::store::{LearnerId, SeenOutcome};

/// Weak spots that are to be taught first.
const FIRST: usize = 3;

/// What somebody who takes over needs before anything else, in sentences; empty where nobody is here. `name` shows somebody.
#[must_use]
pub fn in_short(report: &Report, name: &impl Fn(&str) -> String) -> Vec<String> {
    let mut out = Vec::new();
    if report.members.is_empty() {
        return out;
    }
    let title = report.standard.title.as_str();
    let names = |wanted: &dyn Fn(&Member) -> bool| {
        let found = report.members.iter().filter(|member| wanted(member)).map(|member| name(&member.learner.name));
        let found: Vec<String> = found.collect();
        (!found.is_empty()).then(|| found.join(", "))
    };
    let mut tell = |what: &str, who: Option<String>| {
        // Initials end with a full stop themselves.
        out.extend(who.map(|who| format!("{what}: {}.", who.strip_suffix('.').unwrap_or(&who))));
    };
    tell(&format!("Ready for {title}, at the laptop and on the ground"), names(&|one| one.next == NextStep::Nothing));
    tell("Ready at the laptop, still to be seen on the ground", names(&|one| one.next == NextStep::SeeOutside));
    tell("The check goes on with", names(&|one| one.next == NextStep::GoOn));
    tell("A second try is due", names(&|one| one.next == NextStep::SecondTry));
    tell("To be checked", names(&|one| one.next == NextStep::Check));
    tell("To be checked again, since it has run out", names(&|one| one.next == NextStep::CheckAgain));
    let waits = report.members.iter().filter_map(|member| match member.next {
        NextStep::Wait(day) => Some(format!("{} until {day}", name(&member.learner.name))),
        _ => None,
    });
    let waits: Vec<String> = waits.collect();
    tell("Wait with the check", (!waits.is_empty()).then(|| waits.join(", ")));
    let watched = report.members.iter().filter_map(|member| {
        let (skill, said) = watch(report, member.learner.id)?;
        Some(format!("{} at {skill} ({said})", name(&member.learner.name)))
    });
    let watched: Vec<String> = watched.collect();
    tell("Watch", (!watched.is_empty()).then(|| watched.join("; ")));
    let outside = report.members.iter().filter_map(|member| {
        let missed = member.cells.iter().filter(|cell| cell.seen_outcome() == Some(SeenOutcome::No));
        let missed: Vec<&str> = missed.map(|cell| cell.skill.title).collect();
        (!missed.is_empty()).then(|| format!("{} at {}", name(&member.learner.name), and_words(&missed)))
    });
    let outside: Vec<String> = outside.collect();
    tell("Seen on the ground, and not yet right there", (!outside.is_empty()).then(|| outside.join("; ")));
    let first = report.teach.iter().take(FIRST).map(|teach| {
        let who: Vec<String> = teach.members.iter().map(|member| name(&member.name)).collect();
        let at = teach.places.first().map_or("", |(skill, _)| skill.title);
        format!("{at}, {}: {}", who.join(" and "), teach.words().1.trim_end_matches('.'))
    });
    let first: Vec<String> = first.collect();
    tell("Teach first", (!first.is_empty()).then(|| first.join("; ")));
    out.extend(report.day_rules.iter().cloned());
    out
}

/// Where somebody errs most surely, and how.
fn watch(report: &Report, learner: LearnerId) -> Option<(&'static str, &'static str)> {
    report.teach.iter().find_map(|teach| {
        let member = teach.members.iter().find(|one| one.learner == learner && one.standing == Standing::Named)?;
        Some((member.skills.first()?.title, teach.words().0))
    })
}
