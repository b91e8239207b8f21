//! The first page of a report, complete in itself: who is ready for what, what comes next for each, and what whoever takes over
//! does first. Text, pages and the page for a browser say the same of it.

use super::text::titles;
use super::{Cell, Member, NextStep, Report, TeachMember};
use crate::learner::Standing;
use crate::session::{NO_PERMISSION, and_words, no_pattern_words};
use crate::store::{LearnerId, SeenOutcome};

/// So many things to teach at most: whoever takes over begins with these.
const TEACH: usize = 3;
/// So many names beside one of them; of the others it is said how many there are.
const NAMES: usize = 4;

/// What stands on it. The table of its members is that of the report, with what comes next behind each.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FirstPage {
    /// What it is.
    pub title: String,
    /// Who is ready for what, in sentences.
    pub ready: Vec<String>,
    /// The plan of an evening, where one was kept for these and today.
    pub planned: Option<Planned>,
    /// What to do first, in this order; beside a plan what is not in it.
    pub first: Vec<String>,
    /// Why a plan that was kept is not here, if one was.
    pub stale: Option<String>,
    /// What to teach first, the commonest first.
    pub teach: Vec<TeachFirst>,
    /// What goes before setting out, whatever the report says.
    pub before: Vec<String>,
}

/// What is told of the plan of an evening beside a report; made by `evening::plan_told`.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PlanTold {
    /// The plan.
    pub planned: Option<Planned>,
    /// Why the one that was kept is not gone by, as a sentence.
    pub stale: Option<String>,
}

/// The plan of an evening in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Planned {
    /// What it is: `The plan of 18:30: 90 minutes with 8 members and one laptop`.
    pub heading: String,
    /// From which to which minute each piece goes.
    pub times: Vec<String>,
    /// Who, and what they do in each piece, in a word.
    pub rows: Vec<(String, Vec<String>)>,
    /// What a word of the table does not say, in sentences.
    pub notes: Vec<String>,
    /// Piece by piece: the time, where, and who does what there.
    pub steps: Vec<(String, &'static str, String)>,
    /// What has to be ready before, and what does not fit, in sentences.
    pub needs: Vec<String>,
}

/// One thing to teach.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TeachFirst {
    /// What goes wrong, and with whom: `Back bearing: Ana and Cem kept the number`.
    pub what: String,
    /// How; empty where only what was seen is known.
    pub how: String,
    /// What it rests on, in one line; empty where there is nothing.
    pub evidence: String,
}

/// Above what is to be done first, and above the other parts.
pub const FIRST_HEADING: &str = "What to do first";
/// Above what is to be done beside a plan.
pub const BESIDE_HEADING: &str = "What to do beside the plan";
/// Above the plan where it stands piece by piece.
pub const PLAN_HEADING: &str = "The plan, piece by piece";
/// Above what to teach.
pub const TEACH_HEADING: &str = "What to teach first";
/// Above what goes before setting out.
pub const BEFORE_HEADING: &str = "Before setting out";

/// What holds whatever the report says.
pub const BEFORE_SETTING_OUT: [&str; 3] = [
    "Whoever has the map in hand goes by it: what is printed there wins over this page, and so do local rules.",
    "Check each compass along a known line (a phone beside it can turn its needle round); take a second one.",
    "If lost: stop, stay together, and let yourselves be found; go back only if you are sure of the way.",
];

/// The first page, with what is told of the plan of an evening. `name` shows somebody: their name, or initials where others see it.
#[must_use]
pub fn first_page(report: &Report, plan: &PlanTold, name: &dyn Fn(&str) -> String) -> FirstPage {
    let given = if report.day_given { " (a day given by hand, not the clock's)" } else { "" };
    let mut before = vec![NO_PERMISSION.to_owned()];
    before.extend(BEFORE_SETTING_OUT.map(str::to_owned));
    before.extend(report.day_rules.iter().cloned());
    let call = called(report, name);
    FirstPage {
        title: format!("{}: who is ready, and what to do first, on {}{given}", report.standard.title, report.day),
        ready: ready(report, &call),
        first: first(report, plan.planned.is_some(), &call),
        planned: plan.planned.clone(),
        stale: plan.stale.clone(),
        teach: teach(report, &call),
        before,
    }
}

/// How somebody is called in its sentences: by the first word of the name, where no other member's begins with it. The table has
/// whole names; eight of them in each sentence would fill the page.
pub fn called<'a>(report: &Report, name: &'a dyn Fn(&str) -> String) -> impl Fn(&str) -> String + use<'a> {
    let first = |shown: &str| shown.split_whitespace().next().unwrap_or_default().to_owned();
    let firsts: Vec<String> = report.members.iter().map(|member| first(&name(&member.learner.name))).collect();
    move |who| {
        let shown = name(who);
        let first = first(&shown);
        if firsts.iter().filter(|other| **other == first).count() == 1 { first } else { shown }
    }
}

/// Who is ready for what, at the laptop and on the ground.
fn ready(report: &Report, name: &dyn Fn(&str) -> String) -> Vec<String> {
    let title = &report.standard.title;
    let names = |wanted: &dyn Fn(&Member) -> bool| names(report.members.iter().filter(|one| wanted(one)), name);
    let mut out = vec![match names(&|one| one.next == NextStep::Nothing) {
        Some(who) => ended(format!("Ready for {title}, at the laptop and on the ground: {who}")),
        None => format!("Nobody is ready for {title} yet: that takes the laptop and the ground."),
    }];
    if let Some(who) = names(&|one| one.next == NextStep::SeeOutside) {
        out.push(ended(format!("Ready at the laptop, still to be seen on the ground: {who}")));
    }
    let missed = report.members.iter().filter_map(|member| {
        let missed = member.cells.iter().filter(|cell| cell.seen_outcome() == Some(SeenOutcome::No));
        let missed: Vec<&str> = missed.map(|cell| cell.skill.title).collect();
        (!missed.is_empty()).then(|| format!("{} at {}", name(&member.learner.name), and_words(&missed)))
    });
    let missed: Vec<String> = missed.collect();
    if !missed.is_empty() {
        out.push(ended(format!("Seen on the ground, and not yet right there: {}", missed.join("; "))));
    }
    out
}

/// What whoever takes over does first, from what comes next for each: checks, practice, pairs, the ground; then who has to wait.
/// A plan says the most of it itself.
fn first(report: &Report, is_planned: bool, name: &dyn Fn(&str) -> String) -> Vec<String> {
    let mut out = if is_planned { Vec::new() } else { at_the_laptop(report, name) };
    let outside: Vec<String> = report.members.iter().filter_map(|member| to_be_seen(member, name)).collect();
    if !outside.is_empty() {
        let words = "Look on outdoors, and tick what goes without help (needlewise report --ticks)";
        out.push(ended(format!("{words}: {}", outside.join("; "))));
    }
    let waits = report.members.iter().filter_map(|member| match member.next {
        NextStep::SecondTryFrom(_) | NextStep::Wait(_) => {
            Some(format!("{} ({})", name(&member.learner.name), member.next.words()))
        }
        _ => None,
    });
    let waits: Vec<String> = waits.collect();
    if !waits.is_empty() {
        out.push(ended(format!("No check today: {}", waits.join("; "))));
    }
    if out.is_empty() && !is_planned {
        out.push("All are ready, at the laptop and on the ground: the leader decides.".to_owned());
    }
    out
}

/// Checks, practice and pairs.
fn at_the_laptop(report: &Report, name: &dyn Fn(&str) -> String) -> Vec<String> {
    let mut out = Vec::new();
    let behind = |step: NextStep| match step {
        NextStep::GoOn => " (goes on)",
        NextStep::SecondTry => " (second try)",
        NextStep::CheckAgain => " (it has run out)",
        _ => "",
    };
    let checks = report.members.iter().filter(|member| member.next.is_check());
    let checks: Vec<String> =
        checks.map(|member| format!("{}{}", name(&member.learner.name), behind(member.next))).collect();
    if !checks.is_empty() {
        out.push(ended(format!("Check at the laptop, one after the other: {}", checks.join(", "))));
    }
    let mut practise: Vec<(&'static str, Vec<&Member>)> = Vec::new();
    for member in &report.members {
        let NextStep::Practise(skill) = member.next else { continue };
        match practise.iter_mut().find(|(title, _)| *title == skill.title) {
            Some((_, members)) => members.push(member),
            None => practise.push((skill.title, vec![member])),
        }
    }
    let practise: Vec<String> = practise
        .into_iter()
        .map(|(title, members)| format!("{title} with {}", names(members.into_iter(), name).unwrap_or_default()))
        .collect();
    if !practise.is_empty() {
        let words = "Practise at the laptop what is not met yet, then check";
        out.push(ended(format!("{words}: {}", practise.join("; "))));
    }
    let pairs = pair_words(report, name);
    if !pairs.is_empty() {
        out.push(ended(format!("Without the laptop somebody shows somebody: {}", pairs.join("; "))));
    }
    out
}

/// What somebody who is ready at the laptop is still to be seen to do: `Bo (all 6)`.
fn to_be_seen(member: &Member, name: &dyn Fn(&str) -> String) -> Option<String> {
    if member.next != NextStep::SeeOutside {
        return None;
    }
    let open: Vec<&Cell> = member.cells.iter().filter(|cell| !cell.is_seen()).collect();
    let what = match open.len() {
        many if many == member.cells.len() && many > 1 => format!("all {many}"),
        _ => open.iter().map(|cell| cell.skill.mark).collect::<Vec<_>>().join(", "),
    };
    Some(format!("{} ({what})", name(&member.learner.name)))
}

/// What to teach first: weak spots, then what was noticed without being one yet, then where nothing comes right.
fn teach(report: &Report, name: &dyn Fn(&str) -> String) -> Vec<TeachFirst> {
    let of_weak = report.teach.iter().map(|teach| {
        let sure = |standing: Standing| if standing == Standing::Named { "" } else { " (perhaps)" };
        let who: Vec<String> =
            teach.members.iter().map(|member| format!("{}{}", name(&member.name), sure(member.standing))).collect();
        let at = match (teach.common, teach.places.len()) {
            (Some(common), many @ 3..) => format!("{}, in {many} skills", common.title()),
            _ => titles(teach.places.iter().map(|(skill, _)| *skill)),
        };
        // One line of evidence, of whoever errs most surely.
        let said = |member: &TeachMember| Some((name(&member.name), member.examples.first()?.said.clone()));
        let evidence = teach.members.iter().find_map(said).map(|(who, said)| format!("{who} said {said}"));
        TeachFirst {
            what: format!("{at}: {} {}", few(&who), teach.words().0),
            how: ended(teach.words().1.to_owned()),
            evidence: evidence.map(ended).unwrap_or_default(),
        }
    });
    let of_noticed = report.noticed.iter().map(|noticed| TeachFirst {
        what: noticed.words(name),
        how: String::new(),
        evidence: String::new(),
    });
    let of_lost = report.members.iter().flat_map(|member| {
        member.without_pattern.iter().map(|lost| TeachFirst {
            what: format!("{}: {}", name(&member.learner.name), no_pattern_words(lost)),
            how: String::new(),
            evidence: String::new(),
        })
    });
    of_weak.chain(of_noticed).chain(of_lost).take(TEACH).collect()
}

/// Names, and of more than a few how many others: `Ana, Bo, Cem, Ida and 2 more`.
fn few(names: &[String]) -> String {
    match names.split_at_checked(NAMES) {
        Some((first, more)) if !more.is_empty() => format!("{} and {} more", first.join(", "), more.len()),
        _ => and_words(&names.iter().map(String::as_str).collect::<Vec<_>>()),
    }
}

fn names<'a>(members: impl Iterator<Item = &'a Member>, name: &dyn Fn(&str) -> String) -> Option<String> {
    let names: Vec<String> = members.map(|member| name(&member.learner.name)).collect();
    (!names.is_empty()).then(|| names.join(", "))
}

/// With a full stop. Initials end with one themselves.
fn ended(text: String) -> String {
    if text.ends_with('.') { text } else { format!("{text}.") }
}

/// `Bo shows Ana, Cem shows Ida: True and magnetic`: each pair once, those about the same together.
#[must_use]
pub fn pair_words(report: &Report, name: &dyn Fn(&str) -> String) -> Vec<String> {
    let mut pairs: Vec<((LearnerId, LearnerId), String, Vec<&str>)> = Vec::new();
    for teach in &report.teach {
        for ((id, shows), whom) in teach.pairs(0, |_| true) {
            let at = pairs.iter().position(|(known, ..)| *known == (*id, whom.learner)).unwrap_or_else(|| {
                pairs.push(((*id, whom.learner), format!("{} shows {}", name(shows), name(&whom.name)), Vec::new()));
                pairs.len() - 1
            });
            for (skill, _) in &teach.places {
                if !pairs[at].2.contains(&skill.title) {
                    pairs[at].2.push(skill.title);
                }
            }
        }
    }
    let mut told: Vec<(String, Vec<&str>)> = Vec::new();
    for (_, who, about) in pairs {
        match told.iter_mut().find(|(_, known)| *known == about) {
            Some((together, _)) => together.push_str(&format!(", {who}")),
            None => told.push((who, about)),
        }
    }
    told.into_iter().map(|(who, about)| format!("{who}: {}", and_words(&about))).collect()
}
