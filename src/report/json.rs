//! The report as JSON: one object a line, told apart by `kind`.

use super::{Cell, Report};
use crate::learner::readiness::TryEnd;
use crate::learner::{CommonError, Standing};
use crate::session::{GROUND_TOO, NO_PERMISSION, Readiness};
use serde::Serialize;

/// The first line: the standard and its plan.
#[derive(Serialize)]
struct StandardJson<'a> {
    kind: &'static str,
    standard: &'a str,
    title: &'a str,
    day: String,
    day_given: bool,
    p0: f64,
    p1: f64,
    alpha: f64,
    beta: f64,
    tries: u8,
    cap: u8,
    begun: u32,
    wrong_ready_at_most: f64,
    ready_first_day_p1: f64,
    ready_first_day_all_p1: f64,
    what_ready_means: String,
}

#[derive(Serialize)]
struct MemberJson<'a> {
    kind: &'static str,
    learner: String,
    patrol: Option<&'a str>,
    next: String,
    clock_went_back_from: Option<String>,
    came_back: Vec<CameBackJson>,
    checks_begun_beside: Vec<String>,
    taken_back: u32,
    skills: Vec<SkillJson<'a>>,
    practice: Vec<PracticeJson>,
    without_pattern: Vec<NoPatternJson>,
}

#[derive(Serialize)]
struct NoPatternJson {
    skill: &'static str,
    right: u8,
    of: usize,
}

#[derive(Serialize)]
struct CameBackJson {
    check_begun: String,
    times: u32,
}

#[derive(Serialize)]
struct SkillJson<'a> {
    skill: &'static str,
    level: u8,
    readiness: &'static str,
    since: Option<String>,
    until: Option<String>,
    next_try_from: Option<String>,
    tries: Vec<TryJson>,
    alpha: Option<f64>,
    beta: Option<f64>,
    alpha_as_it_went: Option<f64>,
    annulled: Vec<AnnulledJson<'a>>,
    wait_shortened: Vec<WaitJson<'a>>,
    same_rules_as_standard: Option<bool>,
    seen_on_the_ground: Vec<SeenJson<'a>>,
}

#[derive(Serialize)]
struct AnnulledJson<'a> {
    day: String,
    reason: &'a str,
}

#[derive(Serialize)]
struct WaitJson<'a> {
    since: String,
    from: String,
    regular: String,
    reason: &'a str,
}

#[derive(Serialize)]
struct TryJson {
    right: u8,
    asked: u8,
    day: String,
    day_given: bool,
    ended_by_mixup: Option<String>,
}

#[derive(Serialize)]
struct SeenJson<'a> {
    day: String,
    by: &'a str,
    what: &'a str,
    outcome: &'static str,
}

#[derive(Serialize)]
struct PracticeJson {
    skill: &'static str,
    state: &'static str,
}

#[derive(Serialize)]
struct TeachJson<'a> {
    kind: &'static str,
    skill: Option<&'static str>,
    mixup: Option<&'static str>,
    error: Option<&'static str>,
    places: Vec<PlaceJson>,
    members: Vec<TeachMemberJson<'a>>,
    drill: Option<&'a str>,
    could_show: Vec<String>,
}

#[derive(Serialize)]
struct PlaceJson {
    skill: &'static str,
    mixup: &'static str,
}

#[derive(Serialize)]
struct TeachMemberJson<'a> {
    learner: String,
    skills: Vec<&'static str>,
    named: bool,
    probability: f64,
    times: usize,
    of: usize,
    pattern: Option<&'a str>,
    evidence: Vec<String>,
}

#[derive(Serialize)]
struct NoticedJson<'a> {
    kind: &'static str,
    said: &'static str,
    learners: Vec<String>,
    times: usize,
    latest: &'a str,
}

/// The report, line by line: the standard, each member, each weak spot. `name` shows somebody.
///
/// # Errors
/// None in practice: numbers are finite and keys are text.
pub fn json(report: &Report, name: &dyn Fn(&str) -> String) -> serde_json::Result<Vec<String>> {
    let plan = &report.standard.rules.plan;
    let (one, all) = plan.first_day(report.standard.skills.len());
    let mut lines = vec![serde_json::to_string(&StandardJson {
        kind: "standard",
        standard: &report.standard.name,
        title: &report.standard.title,
        day: report.day.to_string(),
        day_given: report.day_given,
        p0: plan.p0(),
        p1: plan.p1(),
        alpha: plan.alpha(),
        beta: plan.beta(),
        tries: plan.tries(),
        cap: plan.bounds().cap(),
        begun: report.begun,
        wrong_ready_at_most: report.wrong_ready_at_most,
        ready_first_day_p1: one,
        ready_first_day_all_p1: all,
        what_ready_means: format!("{GROUND_TOO} {NO_PERMISSION}"),
    })?];
    for member in &report.members {
        let practice = member.practised.iter();
        lines.push(serde_json::to_string(&MemberJson {
            kind: "member",
            learner: name(&member.learner.name),
            patrol: member.patrol.as_deref(),
            next: member.next.words(),
            clock_went_back_from: member.clock_went_back_from.map(|day| day.to_string()),
            came_back: member
                .came_back
                .iter()
                .map(|(began, times)| CameBackJson { check_begun: began.to_string(), times: *times })
                .collect(),
            checks_begun_beside: member.begun_beside.iter().map(ToString::to_string).collect(),
            taken_back: member.taken_back,
            skills: member.cells.iter().map(skill).collect(),
            without_pattern: member
                .without_pattern
                .iter()
                .map(|lost| NoPatternJson { skill: lost.skill.id, right: 0, of: lost.wrong })
                .collect(),
            practice: practice.map(|one| PracticeJson { skill: one.skill.id, state: one.state.words() }).collect(),
        })?);
    }
    for teach in &report.teach {
        let members = teach.members.iter().map(|member| TeachMemberJson {
            learner: name(&member.name),
            skills: member.skills.iter().map(|skill| skill.id).collect(),
            named: member.standing == Standing::Named,
            probability: member.probability,
            times: member.evidence.times,
            of: member.evidence.of,
            pattern: member.pattern.as_deref(),
            evidence: member.examples.iter().map(|one| format!("{} ({}: {})", one.code, one.day, one.given)).collect(),
        });
        lines.push(serde_json::to_string(&TeachJson {
            kind: "teach_next",
            skill: teach.places.first().map(|(skill, _)| skill.id),
            mixup: teach.places.first().map(|(_, mixup)| mixup.id.as_str()),
            error: teach.common.map(CommonError::id),
            places: teach
                .places
                .iter()
                .map(|(skill, mixup)| PlaceJson { skill: skill.id, mixup: mixup.id.as_str() })
                .collect(),
            members: members.collect(),
            drill: teach.drill.as_ref().map(|(drill, _)| drill.as_str()),
            could_show: teach.could_show.iter().map(|(_, one)| name(one)).collect(),
        })?);
    }
    for noticed in &report.noticed {
        lines.push(serde_json::to_string(&NoticedJson {
            kind: "seen_lately",
            said: noticed.said,
            learners: noticed.members.iter().map(|(_, one)| name(one)).collect(),
            times: noticed.times,
            latest: &noticed.latest.said,
        })?);
    }
    Ok(lines)
}

fn skill(cell: &Cell) -> SkillJson<'_> {
    let (since, until, from) = days(cell.readiness);
    SkillJson {
        skill: cell.skill.id,
        level: cell.level.number(),
        readiness: cell.readiness.words(),
        since,
        until,
        next_try_from: from,
        tries: cell
            .tries
            .iter()
            .map(|one| TryJson {
                right: one.right,
                asked: one.asked,
                day: one.day.to_string(),
                day_given: one.day_given,
                ended_by_mixup: match &one.end {
                    Some(TryEnd::Critical(id)) => Some(id.clone()),
                    _ => None,
                },
            })
            .collect(),
        alpha: cell.rules.as_ref().map(|(rules, _)| rules.plan.alpha()),
        beta: cell.rules.as_ref().map(|(rules, _)| rules.plan.beta()),
        alpha_as_it_went: cell.changes.alpha,
        annulled: cell
            .changes
            .annulled
            .iter()
            .map(|(day, reason)| AnnulledJson { day: day.to_string(), reason })
            .collect(),
        wait_shortened: cell
            .changes
            .waits
            .iter()
            .map(|wait| WaitJson {
                since: wait.since.to_string(),
                from: wait.from.to_string(),
                regular: wait.regular.to_string(),
                reason: &wait.reason,
            })
            .collect(),
        same_rules_as_standard: cell.rules.as_ref().map(|(_, same)| *same),
        seen_on_the_ground: cell
            .seen
            .iter()
            .map(|seen| SeenJson {
                day: seen.day.to_string(),
                by: &seen.by,
                what: &seen.what,
                outcome: seen.outcome.word(),
            })
            .collect(),
    }
}

/// Since when, until when, and from when again.
pub(super) fn days(readiness: Readiness) -> (Option<String>, Option<String>, Option<String>) {
    let day = |day: jiff::civil::Date| Some(day.to_string());
    match readiness {
        Readiness::NotChecked => (None, None, None),
        Readiness::UnderWay { since } | Readiness::CheckAgain { since } => (day(since), None, None),
        Readiness::SecondTry { after } => (day(after), None, after.tomorrow().ok().and_then(day)),
        Readiness::Ready { since, until } => (day(since), day(until), None),
        Readiness::NotYet { since, from } => (day(since), None, day(from)),
    }
}
