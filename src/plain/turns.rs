//! Turns as lines: members one after the other at the keyboard, each with problems of their own.

use super::group::{Group, group_end, open};
use super::lines::{Line, read_line};
use super::practice::{Desk, PlainError, Sitter};
use crate::session::{GroupTally, Practice, your_turn};
use std::collections::VecDeque;

/// Lets the members take turns until the plan's end, `end`, or the end of the input. Each sees nothing of the others but what was
/// said.
///
/// # Errors
/// [`PlainError`]; what was told before is kept.
pub fn turns(group: Group<'_>, desk: &mut Desk<'_>) -> Result<(), PlainError> {
    desk.say("needlewise, turns as lines of text.")?;
    let (mut store, plan, ground, opened) = open(group, "Turns", desk)?;
    desk.say(
        "Each in turn: one problem, then the next member. end ends the turns for all; everything answered is kept.",
    )?;
    let sitter = |opened: crate::clerk::Opened| {
        let practice = Practice::new(plan.clone(), opened.sitting, opened.beliefs).after(opened.last_time);
        let placement = opened.learner.placement;
        Sitter::new(opened.learner, practice.with_lessons(placement, opened.lessons))
    };
    let mut waiting: VecDeque<Sitter> = opened.into_iter().map(sitter).collect();
    while let Some(mut sitter) = waiting.pop_front() {
        let goes_on = is_there(desk, &sitter.learner.name)? && sitter.problem(desk, &mut store, &ground)?;
        waiting.push_back(sitter);
        if !goes_on {
            break;
        }
    }
    group_end(desk, "Turns", GroupTally::of_turns(waiting.iter().map(|sitter| &sitter.flow)))
}

/// Waits until the member whose turn it is says so; false when the turns are ended.
fn is_there(desk: &mut Desk<'_>, name: &str) -> Result<bool, PlainError> {
    desk.say("")?;
    desk.say(&format!("{} Press Enter when you are there.", your_turn(name)))?;
    desk.out.flush()?;
    Ok(match read_line(desk.input)? {
        Line::End => false,
        Line::Text(text) => !matches!(text.to_lowercase().as_str(), "end" | "quit" | "exit"),
        Line::TooLong | Line::NotText => true,
    })
}
