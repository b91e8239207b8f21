//! The report as text for people: plain lines, readable aloud and on paper.

use super::first_page::{BEFORE_HEADING, BESIDE_HEADING, FIRST_HEADING, PlanTold, TEACH_HEADING, first_page};
use super::matrix::matrix_lines;
use super::teach::MEMBERS_LOOKED_UP;
use super::{Cell, Member, Report, Teach};
use crate::learner::{Standing, State};
use crate::problem::SkillMeta;
use crate::session::{
    GROUND_TOO, NO_PERMISSION, Readiness, and_words, first_day_words, no_pattern_words, plan_words, sentence,
};
use crate::skills;
use crate::store::{Seen, SeenOutcome};
use std::fmt::Write;
use unicode_width::UnicodeWidthStr;

/// The whole report, line by line: the first page, then what it rests on. `name` shows somebody: their name, or initials where others
/// see it.
#[must_use]
pub fn text(report: &Report, plan: &PlanTold, name: &dyn Fn(&str) -> String) -> Vec<String> {
    let mut out = first_lines(report, plan, &name);
    if report.members.is_empty() {
        return wrapped(&out);
    }
    out.push(String::new());
    out.extend(teach_lines(report, &name));
    for member in &report.members {
        out.push(String::new());
        out.extend(member_lines(member, report, &name));
    }
    out.push(String::new());
    out.extend(closing_lines(report));
    wrapped(&out)
}

/// The first page alone, line by line.
#[must_use]
pub fn text_first_page(report: &Report, plan: &PlanTold, name: &dyn Fn(&str) -> String) -> Vec<String> {
    wrapped(&first_lines(report, plan, &name))
}

fn first_lines(report: &Report, plan: &PlanTold, name: &dyn Fn(&str) -> String) -> Vec<String> {
    let page = first_page(report, plan, name);
    let mut out = vec![page.title, String::new()];
    if report.members.is_empty() {
        out.extend(rules_lines(report));
        out.push("Nobody is here yet. Add somebody with: needlewise patrol add NAME".to_owned());
        return out;
    }
    out.extend(page.ready);
    out.push(String::new());
    out.extend(matrix_lines(report, name));
    out.push(String::new());
    out.push("What comes next".to_owned());
    out.extend(
        report.members.iter().map(|member| format!("  {}: {}", name(&member.learner.name), member.next_words())),
    );
    out.push(String::new());
    if let Some(planned) = &page.planned {
        out.push(planned.heading.clone());
        let steps = planned.steps.iter();
        out.extend(steps.flat_map(|(time, place, text)| hanging(&format!("  {time:<8}{place:<8}"), text)));
        out.extend(planned.needs.iter().map(|need| format!("  {need}")));
        if !page.first.is_empty() {
            out.extend([String::new(), BESIDE_HEADING.to_owned()]);
        }
    } else {
        out.push(FIRST_HEADING.to_owned());
    }
    out.extend((1..).zip(&page.first).map(|(number, first)| format!("  {number}. {first}")));
    out.extend(page.stale.as_ref().map(|stale| format!("  {stale}")));
    if !page.teach.is_empty() {
        out.push(String::new());
        out.push(TEACH_HEADING.to_owned());
        for teach in &page.teach {
            out.push(format!("  {}", teach.what));
            let more = [&teach.how, &teach.evidence].into_iter().filter(|text| !text.is_empty());
            out.extend(more.map(|text| format!("     {text}")));
        }
    }
    out.push(String::new());
    out.push(BEFORE_HEADING.to_owned());
    out.extend(page.before.iter().map(|line| format!("  {line}")));
    out
}

/// What stands below all: how it is decided, how often that errs, and what it leaves open.
#[must_use]
pub fn closing_lines(report: &Report) -> Vec<String> {
    let mut out = rules_lines(report);
    if report.begun > 0 {
        out.push(wrong_ready_words(report));
    }
    out.push(format!("{GROUND_TOO} {NO_PERMISSION}"));
    out
}

/// How it is decided, in sentences.
fn rules_lines(report: &Report) -> Vec<String> {
    let rules = [
        sentence(&plan_words(&report.standard.rules)),
        sentence(&first_day_words(&report.standard.rules.plan, report.standard.skills.len())),
    ];
    rules.into_iter().chain(report.standard.lines_unset()).collect()
}

/// A text behind what stands before its first line, which is set in as far in the lines below.
fn hanging(before: &str, text: &str) -> Vec<String> {
    let blanks = " ".repeat(before.width());
    let mut lines = vec![before.to_owned()];
    for word in text.split_whitespace() {
        let is_first = lines.last().is_some_and(|line| line.width() <= blanks.len());
        match lines.last_mut() {
            Some(line) if is_first => line.push_str(word),
            Some(line) if line.width() + 1 + word.width() <= PAGE => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(format!("{blanks}{word}")),
        }
    }
    lines
}

/// Lines of at most so many columns; what is continued is set in by two more.
const PAGE: usize = 80;

fn wrapped(lines: &[String]) -> Vec<String> {
    let mut out = Vec::with_capacity(lines.len());
    for line in lines {
        if line.width() <= PAGE {
            out.push(line.clone());
            continue;
        }
        let indent = line.len() - line.trim_start().len();
        let mut row = " ".repeat(indent);
        for word in line.split_whitespace() {
            let blank = usize::from(!row.trim().is_empty());
            if blank > 0 && row.width() + 1 + word.width() > PAGE {
                out.push(std::mem::replace(&mut row, " ".repeat(indent + 2)));
            } else if blank > 0 {
                row.push(' ');
            }
            row.push_str(word);
        }
        out.push(row);
    }
    out
}

/// What is to be expected of all decisions together.
#[must_use]
pub fn wrong_ready_words(report: &Report) -> String {
    let plan = &report.standard.rules.plan;
    let count = report.standard.skills.len();
    let all = (1.0 - plan.beta()).powi(i32::try_from(count).unwrap_or(i32::MAX)) * 100.0;
    format!(
        "Checks of a skill that were begun: {}. If nobody could do it, {:.1} of them at most would come out ready by luck; with some who can, fewer are wrong. The rates are for one skill: of those who answer {:.0} in 100 right, {all:.0} in 100 come out ready in all {count} (fewer where critical mix-ups end a try).",
        report.begun,
        report.wrong_ready_at_most,
        plan.p1() * 100.0
    )
}

fn member_lines(member: &Member, report: &Report, name: &dyn Fn(&str) -> String) -> Vec<String> {
    let mut out =
        vec![member_words(member, name), format!("  {}", sentence(&member.ready_for(&report.standard.title)))];
    out.extend(member.cautions(report.day).iter().map(|caution| format!("  {caution}")));
    for cell in &member.cells {
        out.push(format!(
            "  {} {}, level {}: {}",
            cell.skill.mark,
            cell.skill.title,
            cell.level,
            standing_words(member, cell)
        ));
        for seen in &cell.seen {
            out.push(format!("      {}", seen_words(seen)));
        }
    }
    out.extend(besides_words(member).into_iter().map(|besides| format!("  {besides}")));
    out
}

/// Who it is, in how many skills they are ready, and what is next.
#[must_use]
pub fn member_words(member: &Member, name: &dyn Fn(&str) -> String) -> String {
    let patrol = member.patrol.as_ref().map(|patrol| format!(" ({patrol})")).unwrap_or_default();
    format!(
        "{0}{patrol}: ready at the laptop in {1} of {3}, seen on the ground in {2} of {3}; next: {4}",
        name(&member.learner.name),
        member.ready(),
        member.seen(),
        member.cells.len(),
        member.next_words()
    )
}

/// How somebody stands in a skill by the standard, and in practice.
#[must_use]
pub fn standing_words(member: &Member, cell: &Cell) -> String {
    let practice = member.practised.iter().find(|practised| practised.skill.id == cell.skill.id);
    let practice = practice.map_or("", |practised| practised.state.words());
    format!("{}; in practice: {practice}", cell_words(cell))
}

/// How somebody stands in the skills that the standard does not ask, where they are known, and what was seen of those on the ground.
#[must_use]
pub fn besides_words(member: &Member) -> Vec<String> {
    let others = member.practised.iter().filter(|practised| {
        practised.state != State::NotMet && member.cells.iter().all(|cell| cell.skill.id != practised.skill.id)
    });
    let others: Vec<String> =
        others.map(|practised| format!("{} {}", practised.skill.title, practised.state.words())).collect();
    let practised = (!others.is_empty()).then(|| format!("Besides, in practice: {}", others.join("; ")));
    let seen = member.seen_besides.iter().map(|seen| {
        let title =
            skills::metas().find(|skill| skill.id == seen.skill).map_or(seen.skill.as_str(), |skill| skill.title);
        format!("Besides: {title}, {}", seen_words(seen))
    });
    practised.into_iter().chain(seen).collect()
}

/// What was seen of somebody on the ground: `seen on the ground on 2026-11-25 by Alma: yes, found the hut in fog`.
#[must_use]
pub fn seen_words(seen: &Seen) -> String {
    let what = if seen.what.is_empty() { String::new() } else { format!(", {}", seen.what) };
    format!("seen on the ground on {} by {}: {}{what}", seen.day, seen.by, seen.outcome.word())
}

/// What was seen of somebody last in a skill, in as few words as there are: `yes on 2026-11-25`.
#[must_use]
pub fn seen_short(cell: &Cell) -> Option<String> {
    let seen = cell.seen.last()?;
    let how = match seen.outcome {
        SeenOutcome::Yes => "yes",
        SeenOutcome::No => "not yet",
        SeenOutcome::NotSaid => "seen",
    };
    Some(format!("{how} on {}", seen.day))
}

/// How somebody stands in one skill, with what it rests on.
#[must_use]
pub fn cell_words(cell: &Cell) -> String {
    if let Readiness::UnderWay { since } = cell.readiness {
        return with_changes(format!("under way since {since}"), cell);
    }
    let mut words = cell.readiness.words().to_owned();
    if let Some((right, asked)) = cell.count() {
        let tries = match cell.tries.len() {
            0 | 1 => "",
            _ => " in the second try",
        };
        let _ = write!(words, ", {right} right of {asked}{tries}");
    }
    if let Some(said) = cell.ended_by() {
        let _ = write!(words, " (ended since they twice {said})");
    }
    match cell.readiness {
        Readiness::Ready { since, until } => {
            let _ = write!(words, " on {since}, good until {until}");
        }
        Readiness::NotYet { since, from } => {
            let _ = write!(words, " on {since}, next try from {from}");
        }
        Readiness::SecondTry { after } => {
            let _ = write!(words, " on {after}");
        }
        Readiness::CheckAgain { since } => {
            let _ = write!(words, ", ready on {since}, which has run out");
        }
        Readiness::NotChecked | Readiness::UnderWay { .. } => {}
    }
    if cell.day_given() {
        words.push_str(" (day given by hand)");
    }
    if let Some((rules, false)) = &cell.rules {
        let _ = write!(words, " (by the rules it began under: {})", plan_words(rules));
    }
    with_changes(words, cell)
}

/// Behind it what a leader said of the checks, each with its reason.
fn with_changes(words: String, cell: &Cell) -> String {
    std::iter::once(words).chain(cell.changes.words()).collect::<Vec<_>>().join("; ")
}

/// What a line of what to teach next is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TeachDepth {
    /// The heading of all.
    Heading,
    /// One thing to teach, with its number.
    Item,
    /// Something that has no number.
    Remark,
    /// What belongs to an item.
    Detail,
    /// What a detail rests on.
    Evidence,
}

impl TeachDepth {
    /// How far a line of text is set in.
    #[must_use]
    pub const fn indent(self) -> &'static str {
        match self {
            TeachDepth::Heading => "",
            TeachDepth::Item | TeachDepth::Remark => "  ",
            TeachDepth::Detail => "     ",
            TeachDepth::Evidence => "       ",
        }
    }
}

/// What to teach next, as lines of text: deeper ones are set in.
#[must_use]
pub fn teach_lines(report: &Report, name: &dyn Fn(&str) -> String) -> Vec<String> {
    teach_parts(report, name).into_iter().map(|(depth, text)| format!("{}{text}", depth.indent())).collect()
}

/// What to teach next, line by line.
#[must_use]
pub fn teach_parts(report: &Report, name: &dyn Fn(&str) -> String) -> Vec<(TeachDepth, String)> {
    let mut out = vec![(TeachDepth::Heading, "What to teach next".to_owned())];
    let known = report.members.iter().any(|member| member.practised.iter().any(|one| one.state != State::NotMet));
    let lost = report.members.iter().any(|member| !member.without_pattern.is_empty());
    match (report.teach.is_empty() && !lost, known) {
        (true, true) if !report.noticed.is_empty() => {
            out.push((TeachDepth::Remark, "No weak spot is sure yet.".to_owned()));
        }
        (true, true) => out.push((TeachDepth::Remark, "No weak spot stands out.".to_owned())),
        (true, false) => out.push((TeachDepth::Remark, "The laptop knows nothing yet: practise, or check.".to_owned())),
        (false, _) => {}
    }
    for (at, teach) in report.teach.iter().enumerate() {
        out.push((TeachDepth::Item, format!("{}. {}", at + 1, teach_words(teach))));
        for member in teach.members.iter().take(MEMBERS_LOOKED_UP) {
            let sure = if member.standing == Standing::Named { "" } else { "perhaps " };
            let pattern = member.pattern.as_ref().map(|pattern| format!(", {pattern}")).unwrap_or_default();
            let skills = match member.skills.len() {
                0 | 1 if teach.places.len() < 2 => String::new(),
                _ => format!(" in {}", titles(member.skills.iter().copied())),
            };
            let (who, likely, evidence) = (name(&member.name), likely(member.probability), member.evidence);
            let words = format!("{who}: {sure}a weak spot{skills}, {likely} in 100 likely: {evidence}{pattern}");
            out.push((TeachDepth::Detail, words));
            let examples = member.examples.iter();
            out.extend(
                examples.map(|one| (TeachDepth::Evidence, format!("said {} ({}, {})", one.said, one.code, one.day))),
            );
        }
        if teach.members.len() > MEMBERS_LOOKED_UP {
            let rest: Vec<String> =
                teach.members.iter().skip(MEMBERS_LOOKED_UP).map(|member| name(&member.name)).collect();
            out.push((TeachDepth::Detail, format!("and {}", rest.join(", "))));
        }
        out.push((TeachDepth::Detail, teach.words().1.to_owned()));
        if let Some((drill, title)) = &teach.drill {
            out.push((TeachDepth::Detail, format!("Drill: {title} (--drill {drill})")));
        }
        let pairs = teach.pairs(0, |_| true).into_iter();
        let pairs: Vec<String> =
            pairs.map(|((_, shows), whom)| format!("{} shows {}", name(shows), name(&whom.name))).collect();
        if !pairs.is_empty() {
            out.push((TeachDepth::Detail, format!("Pairs: {}", pairs.join("; "))));
        }
    }
    out.extend(report.noticed.iter().map(|noticed| (TeachDepth::Remark, noticed.words(name))));
    // Wrong answers without a mix-up behind them leave no weak spot, and still there is something to teach.
    for member in &report.members {
        let lost = member.without_pattern.iter();
        let words = |lost| format!("{}: {}", name(&member.learner.name), no_pattern_words(lost));
        out.extend(lost.map(|lost| (TeachDepth::Remark, words(lost))));
    }
    for one in &report.standard.skills {
        let not_yet: Vec<String> = report
            .members
            .iter()
            .filter(|member| member.cells.iter().any(|cell| cell.skill.id == one.skill.id && cell.is_missing()))
            .map(|member| name(&member.learner.name))
            .collect();
        if !not_yet.is_empty() {
            let are = if not_yet.len() == 1 { "is" } else { "are" };
            let names = not_yet.join(", ");
            let words = format!("{}, level {}: not ready yet {are} {names}", one.skill.title, one.level);
            out.push((TeachDepth::Remark, words));
        }
        let missed = |cell: &Cell| cell.skill.id == one.skill.id && cell.seen_outcome() == Some(SeenOutcome::No);
        let missed = report.members.iter().filter(|member| member.cells.iter().any(missed));
        let missed: Vec<String> = missed.map(|member| name(&member.learner.name)).collect();
        if !missed.is_empty() {
            let words = format!("{}: not yet right on the ground with {}", one.skill.title, missed.join(", "));
            out.push((TeachDepth::Remark, words));
        }
    }
    out
}

/// A probability in hundredths, never as certain as 100.
fn likely(probability: f64) -> String {
    if probability > 0.99 { "more than 99".to_owned() } else { format!("{:.0}", probability * 100.0) }
}

/// `True and magnetic: 3 members applied the correction the wrong way round`.
fn teach_words(teach: &Teach) -> String {
    let members =
        if teach.members.len() == 1 { "1 member".to_owned() } else { format!("{} members", teach.members.len()) };
    let said = teach.words().0;
    let titles = titles(teach.places.iter().map(|(skill, _)| *skill));
    match teach.common {
        Some(common) if teach.places.len() > 1 => format!("{}, in {titles}: {members} {said}", common.title()),
        _ => format!("{titles}: {members} {said}"),
    }
}

/// The titles of skills: `A, B and C`.
pub(super) fn titles<'a>(skills: impl Iterator<Item = &'a SkillMeta>) -> String {
    and_words(&skills.map(|skill| skill.title).collect::<Vec<_>>())
}
