//! A round as lines: one problem for all, answered on paper; then the leader types who had what.

use super::group::{Group, group_end, open};
use super::lines::{Line, read_line};
use super::practice::{Desk, PlainError};
use super::words::step_lines;
use crate::clerk;
use crate::learner::Recent;
use crate::session::{GroupTally, MemberAnswer, PAPER_CARE, Round, RoundMember, RoundProblem};
use crate::store::{Learner, Store, StoreError};
use std::io;

const HELP: &str = "Type the number of what each had, as listed with the key; - or an empty line for nothing. back goes to the \
                    member before, key says the key again, end ends the round.";

/// What was typed of a member.
enum Heard {
    Had(MemberAnswer),
    Back,
    Key,
    Help,
    Odd,
    End,
}

/// Puts problems for all until the plan's end, `end`, or the end of the input.
///
/// # Errors
/// [`PlainError`] when lines can no longer be read or written. Answers that the store refuses are asked about, not lost.
pub fn round(group: Group<'_>, desk: &mut Desk<'_>) -> Result<(), PlainError> {
    desk.say("needlewise, a round as lines of text.")?;
    let seed = group.seed;
    let (mut store, plan, _, opened) = open(group, "Rounds", desk)?;
    desk.say("One problem for all, then the key; then you type who had what. help lists what you can type.")?;
    let Some(began) = opened.first().map(|first| first.sitting.began) else { return Ok(()) };
    let mut people: Vec<Learner> = Vec::with_capacity(opened.len());
    let mut members = Vec::with_capacity(opened.len());
    for one in opened {
        people.push(one.learner);
        members.push(RoundMember { sitting: one.sitting, beliefs: one.beliefs, recent: Recent::default() });
    }
    let mut tallies = vec![(0, 0); people.len()];
    let mut round = Round::new(plan, members, began, seed);
    // Heard or read by a screen reader, every problem without a drawing fits.
    while round.next((desk.now)(), |_| true).is_some() {
        let Some(entered) = put(desk, &round, &people)? else { break };
        if !write_down(desk, &mut store, &mut round, &entered, (&people, &mut tallies))? {
            break;
        }
    }
    if round.number == 0 {
        desk.say("There is no problem for a round among the skills of this ground.")?;
    }
    group_end(desk, "The rounds", GroupTally::of(tallies.into_iter()))
}

/// Puts one problem, and asks who had what; none when the round is ended, with nothing of this problem to be written down.
fn put(desk: &mut Desk<'_>, round: &Round, people: &[Learner]) -> io::Result<Option<Vec<MemberAnswer>>> {
    let Some(asked) = &round.asked else { return Ok(None) };
    let (skill, level) = (asked.problem.skill(), asked.problem.code().level);
    desk.say("")?;
    desk.say(&format!("Round {}: {}, level {level}.", round.number, skill.title))?;
    desk.say(asked.problem.prompt())?;
    desk.say(PAPER_CARE)?;
    desk.say("Press Enter for the key.")?;
    desk.out.flush()?;
    match read_line(desk.input)? {
        Line::End => return Ok(None),
        Line::Text(text) if is_end(&text) => return Ok(None),
        Line::Text(_) | Line::TooLong | Line::NotText => {}
    }
    key(desk, asked)?;
    let mut entered: Vec<MemberAnswer> = Vec::with_capacity(people.len());
    loop {
        let Some(learner) = people.get(entered.len()) else {
            desk.say("Enter writes this down; back goes to the last member.")?;
            desk.out.flush()?;
            match heard(read_line(desk.input)?, asked) {
                Heard::Back => {
                    entered.pop();
                }
                Heard::End => return leave(desk, entered),
                // An empty line is nothing of a member; here it says yes.
                Heard::Had(MemberAnswer::Absent) => return Ok(Some(entered)),
                Heard::Key => key(desk, asked)?,
                Heard::Had(_) | Heard::Help | Heard::Odd => desk.say(HELP)?,
            }
            continue;
        };
        desk.say(&format!("{}?", learner.name))?;
        desk.out.flush()?;
        match heard(read_line(desk.input)?, asked) {
            Heard::Had(answer) => entered.push(answer),
            Heard::Back => {
                if entered.pop().is_none() {
                    desk.say("This is the first member.")?;
                }
            }
            Heard::Key => key(desk, asked)?,
            Heard::Help => desk.say(HELP)?,
            Heard::Odd => desk.say(&format!("That is none of the numbers. {HELP}"))?,
            Heard::End => return leave(desk, entered),
        }
    }
}

/// Leaves in the middle of a problem: what was typed of it is written down only when the leader says so.
fn leave(desk: &mut Desk<'_>, entered: Vec<MemberAnswer>) -> io::Result<Option<Vec<MemberAnswer>>> {
    let typed = entered.iter().filter(|answer| **answer != MemberAnswer::Absent).count();
    if typed == 0 {
        return Ok(None);
    }
    let answers = if typed == 1 { "1 answer".to_owned() } else { format!("{typed} answers") };
    desk.say(&format!(
        "{answers} to this problem would be lost. Type write to write them down, or end to leave them out."
    ))?;
    desk.out.flush()?;
    Ok(match read_line(desk.input)? {
        Line::Text(text) if text.eq_ignore_ascii_case("write") => Some(entered),
        _ => None,
    })
}

/// Writes the answers down; false when the round ends with some that could not be.
fn write_down(
    desk: &mut Desk<'_>,
    store: &mut Store,
    round: &mut Round,
    entered: &[MemberAnswer],
    (people, tallies): (&[Learner], &mut [(u32, u32)]),
) -> io::Result<bool> {
    let mut left = round.answers(entered, (desk.now)());
    loop {
        let (written, refused): (_, Option<StoreError>) = clerk::record_round(store, left.clone());
        left.retain(|pending| !written.iter().any(|(done, _)| done.attempt.learner == pending.attempt.learner));
        for (pending, stored) in written {
            round.confirm(&pending, stored);
            let place = people.iter().position(|one| one.id == pending.attempt.learner);
            if let Some(tally) = place.and_then(|at| tallies.get_mut(at)) {
                *tally = (tally.0 + u32::from(pending.attempt.verdict.is_right()), tally.1 + 1);
            }
        }
        let Some(refused) = refused else {
            desk.say("It is written down.")?;
            return Ok(true);
        };
        desk.say(&format!("{refused}. What you typed is kept here: Enter tries again, end leaves it unwritten."))?;
        desk.out.flush()?;
        match read_line(desk.input)? {
            Line::End => return Ok(false),
            Line::Text(text) if is_end(&text) => return Ok(false),
            Line::Text(_) | Line::TooLong | Line::NotText => {}
        }
    }
}

/// The answer, the way there, and what can be typed of each member.
fn key(desk: &mut Desk<'_>, asked: &RoundProblem) -> io::Result<()> {
    let (problem, question) = (&asked.problem, asked.problem.question());
    desk.say(&format!("The key: {}.", question.words(problem.answer())))?;
    desk.lines(step_lines(problem.steps()))?;
    desk.say("Who had what?")?;
    desk.say("1: right.")?;
    for (number, mixup) in (2..).zip(asked.mixups()) {
        desk.say(&format!("{number}: {}, {}.", question.words(&mixup.answer), mixup.meta.said))?;
    }
    desk.say("0: something else. -: nothing, not recorded.")
}

fn is_end(text: &str) -> bool {
    matches!(text.to_lowercase().as_str(), "end" | "quit" | "exit")
}

fn heard(line: Line, asked: &RoundProblem) -> Heard {
    let text = match line {
        Line::End => return Heard::End,
        Line::TooLong | Line::NotText => return Heard::Odd,
        Line::Text(text) => text,
    };
    match text.to_lowercase().as_str() {
        "" | "-" => Heard::Had(MemberAnswer::Absent),
        "back" => Heard::Back,
        "key" => Heard::Key,
        "help" | "?" => Heard::Help,
        text if is_end(text) => Heard::End,
        text => {
            let digit = text.parse().ok();
            let answer = digit.and_then(|digit| MemberAnswer::of_digit(digit, asked.mixups().len()));
            answer.map_or(Heard::Odd, Heard::Had)
        }
    }
}
