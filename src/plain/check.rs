//! A check as lines: no hints, nothing told until the end.

use super::asking::{Answered, answer};
use super::lines::{Line, read_line};
use super::practice::{Desk, PlainError, store_error};
use super::words::told_lines;
use crate::clerk::{self, Now, Opening};
use crate::drill::Standard;
use crate::session::{
    CheckEnd, Days, Flow, GroundCard, NOTHING_ASKED, SAFETY, STANDARD_CHANGED, TRIAL_OVER, clock_went_back,
    first_day_words, plan_words, sentence,
};
use crate::store::{AttemptKind, Learner, Store};

/// What begins a check, or goes on with one.
pub struct CheckStart<'a> {
    /// The open store.
    pub store: Store,
    /// Who is checked: somebody of the store.
    pub learner: &'a Learner,
    /// By which standard.
    pub standard: Standard,
    /// The day, and what stands beside problems.
    pub ground: GroundCard,
    /// Where the learner's day comes from.
    pub days: Days,
    /// Seeds the problems of a new check.
    pub seed: u64,
}

/// Checks until nothing is left to ask today, `end`, or the end of the input.
///
/// # Errors
/// [`PlainError`]; every answer given before is kept.
pub fn check(start: CheckStart<'_>, desk: &mut Desk<'_>) -> Result<(), PlainError> {
    let CheckStart { mut store, learner, standard, ground, days, seed } = start;
    let now = Now { days, at: (desk.now)() };
    let today = now.day();
    desk.say("needlewise, a check as lines of text.")?;
    desk.say(SAFETY)?;
    if let Some(question) = clerk::clock_question(&store, &now).map_err(store_error(0))? {
        desk.say(&question)?;
        desk.say("y goes on; anything else leaves, and nothing is written.")?;
        desk.out.flush()?;
        if !matches!(read_line(desk.input)?, Line::Text(said) if ["y", "yes"].contains(&said.to_lowercase().as_str())) {
            desk.say("Nothing was begun.")?;
            return Ok(desk.out.flush()?);
        }
    }
    let (_, opening) = clerk::open_check(&mut store, learner.id, &standard, now, seed).map_err(store_error(0))?;
    let check = match opening {
        Opening::Check(check) => check,
        Opening::Later(from) => {
            desk.say(&format!("{}: nothing to ask today; the next check is from {from}.", learner.name))?;
            return Ok(desk.out.flush()?);
        }
    };
    let terms = check.terms().clone();
    desk.say(&format!("{}: {}. {}", learner.name, terms.title, sentence(&plan_words(&terms.rules))))?;
    desk.say(&sentence(&first_day_words(&terms.rules.plan, terms.skills.len())))?;
    if !terms.agree_with(&standard) {
        desk.say(STANDARD_CHANGED)?;
    }
    if let Some(unset) = standard.lines_unset() {
        desk.say(&unset)?;
    }
    if let Some(day) = check.later_day() {
        desk.say(&clock_went_back(day, today))?;
    }
    let (left, _) = check.skills_left();
    let skills = if left == 1 { "1 skill".to_owned() } else { format!("{left} skills") };
    desk.say(&format!("{skills} to ask today, about {} minutes.", check.minutes_left()))?;
    desk.say("There are no hints. What was right, and the codes of the problems, are told when a try has ended.")?;
    desk.say("end leaves; you can go on later with the very same problem. Leaving is counted and told.")?;
    let mut flow = Flow::Check(check);
    while flow.next((desk.now)()).is_some() {
        desk.say("")?;
        if flow.is_trial() {
            let Some(trial) = flow.asked().cloned() else { break };
            desk.trial(&trial)?;
            if !matches!(answer(desk, &mut store, &mut flow)?, Answered::Tried) {
                break;
            }
            if let Flow::Check(check) = &mut flow
                && !clerk::begin_check(&mut store, check, (desk.now)()).map_err(store_error(0))?
            {
                desk.say("Another program has begun this check meanwhile; begin again to go on with it.")?;
                return Ok(desk.out.flush()?);
            }
            desk.say(TRIAL_OVER)?;
            desk.say("")?;
        }
        let Some(asked) = flow.asked() else { break };
        desk.problem(asked, "", &ground, AttemptKind::Check)?;
        if !matches!(answer(desk, &mut store, &mut flow)?, Answered::Told) {
            break;
        }
    }
    desk.say("")?;
    if flow.unbegun().is_some() {
        desk.say(NOTHING_ASKED)?;
    } else if let Flow::Check(check) = &flow {
        desk.lines(end_lines(&check.end()))?;
    }
    Ok(desk.out.flush()?)
}

/// How each skill stands, and every wrong answer explained.
fn end_lines(end: &CheckEnd) -> Vec<String> {
    let mut out = vec![format!("{}: how it stands.", end.title)];
    for line in &end.lines {
        let count = line.count();
        let count = if count.is_empty() { String::new() } else { format!(" ({count})") };
        out.push(format!("{}, level {}: {}{count}.", line.skill.title, line.level, line.words()));
        out.extend(line.critical());
    }
    if end.left > 0 {
        out.push("This check goes on where it stopped: everything answered is kept.".to_owned());
    }
    out.extend(end.remarks());
    for missed in end.lines.iter().flat_map(|line| &line.missed) {
        out.push(String::new());
        out.push(format!("Asked was ({}): {}", missed.code, missed.prompt));
        out.extend(told_lines(&missed.told));
    }
    let codes: Vec<&str> = end.lines.iter().flat_map(|line| &line.codes).map(String::as_str).collect();
    if !codes.is_empty() {
        out.push(format!("All problems of these tries: {}", codes.join(", ")));
    }
    out
}
