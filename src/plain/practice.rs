//! Practice as lines.

use super::asking::{Answered, answer};
use super::words::{ground_lines, plan_line, summary_lines};
use crate::clerk::{self, Now};
use crate::learner::Placement;
use crate::session::{Days, Flow, GroundCard, Plan, Practice, SAFETY, ended_words, progress_words};
use crate::store::{AttemptKind, Learner, Store, StoreError};
use jiff::Timestamp;
use std::io::{self, BufRead, Write};

/// Where lines come from and go to, and what time it is.
pub struct Desk<'a> {
    /// What is typed.
    pub input: &'a mut dyn BufRead,
    /// What is said.
    pub out: &'a mut dyn Write,
    /// The clock.
    pub now: &'a mut dyn FnMut() -> Timestamp,
}

/// What begins a practice.
pub struct Start<'a> {
    /// The open store.
    pub store: Store,
    /// Who practises; added when nobody has this name.
    pub learner: &'a str,
    /// What is practised.
    pub plan: Plan,
    /// Home ground.
    pub ground: GroundCard,
    /// Where the learner's day comes from.
    pub days: Days,
    /// Seeds the choice of problems.
    pub seed: u64,
}

/// Why a practice broke off.
#[derive(Debug, thiserror::Error)]
pub enum PlainError {
    /// The lines could not be read or written.
    #[error(transparent)]
    Lines(#[from] io::Error),
    /// The records could not be read or written.
    #[error("{source}")]
    Store {
        /// What the store said.
        source: StoreError,
        /// How many answers of this session are on the disk all the same.
        kept: u32,
    },
}

/// Answers recorded so far, beside an error of the store.
pub(super) fn store_error(kept: u32) -> impl Fn(StoreError) -> PlainError {
    move |source| PlainError::Store { source, kept }
}

/// Practises until the plan's end, `end`, or the end of the input.
///
/// # Errors
/// [`PlainError`]; what was told before is kept.
pub fn practise(start: Start<'_>, desk: &mut Desk<'_>) -> Result<(), PlainError> {
    let Start { mut store, learner: name, plan, ground, days, seed } = start;
    let now = Now { days, at: (desk.now)() };
    let (learner, is_new) = find_or_add(&mut store, name, now.at).map_err(store_error(0))?;
    let drill = plan.drill.clone();
    let opened = clerk::open_practice(&mut store, learner.id, now, drill, seed).map_err(store_error(0))?;
    let progress = clerk::progress(&store, learner.id).map_err(store_error(0))?;
    greet(desk, &learner, (!is_new).then(|| progress_words(&progress)), &plan, &ground)?;
    desk.lines(opened.ended.iter().map(ended_words).collect::<Vec<_>>())?;
    let practice = Practice::new(plan, opened.sitting, opened.beliefs)
        .after(opened.last_time)
        .with_lessons(learner.placement, opened.lessons);
    let of = practice.plan().count.map(|count| format!(" of {count}")).unwrap_or_default();
    let mut flow = Flow::Practice(Box::new(practice));
    let (mut again, mut undo_told) = (false, false);
    loop {
        if !again {
            let Some(asked) = flow.next((desk.now)()) else { break };
            desk.say("")?;
            desk.problem(asked, &of, &ground, AttemptKind::Practice)?;
        }
        if let Some(offer) = flow.lesson() {
            let (number, title) = (offer.lesson.number(), offer.lesson.title);
            desk.say(&format!(
                "Before this there is a first lesson, number {number}, {title}: type lesson to take it."
            ))?;
        }
        let answered = answer(desk, &mut store, &mut flow)?;
        if let Some(mark) = flow.take_lesson_mark() {
            store.note_lesson(learner.id, &mark, (desk.now)()).map_err(store_error(flow.answered()))?;
        }
        again = false;
        match answered {
            // Said once: help lists it.
            Answered::Told if flow.slip().is_some() && !undo_told && !is_over(&flow, (desk.now)()) => {
                desk.say("If only a key slipped: undo takes this answer back.")?;
                undo_told = true;
            }
            Answered::Told => {}
            Answered::TakeBack(slip) => {
                let now = (desk.now)();
                let beliefs = clerk::take_back(&mut store, slip, now).map_err(store_error(flow.answered()))?;
                if let Some(asked) = flow.taken_back(beliefs, now) {
                    desk.say("")?;
                    desk.problem_again(asked)?;
                }
                again = true;
            }
            Answered::End => break,
        }
    }
    desk.say("")?;
    if let Flow::Practice(practice) = &flow {
        desk.lines(summary_lines(&practice.summary(), flow.title(), &learner.name, ground.day))?;
    }
    Ok(desk.out.flush()?)
}

fn is_over(flow: &Flow, now: Timestamp) -> bool {
    matches!(flow, Flow::Practice(practice) if practice.is_over(now))
}

fn find_or_add(store: &mut Store, name: &str, now: Timestamp) -> Result<(Learner, bool), StoreError> {
    Ok(match store.learner_by_name(name)? {
        Some(known) => (known, false),
        None => (store.add_learner(name, Placement::Fresh, now)?, true),
    })
}

fn greet(
    desk: &mut Desk<'_>,
    learner: &Learner,
    so_far: Option<String>,
    plan: &Plan,
    ground: &GroundCard,
) -> io::Result<()> {
    desk.say("needlewise, practice as lines of text.")?;
    desk.say(SAFETY)?;
    match so_far {
        None => desk.say(&format!("{} is new here: a record was begun, on this computer only.", learner.name))?,
        Some(so_far) => {
            desk.say(&format!("Welcome back, {}.", learner.name))?;
            desk.say(&so_far)?;
        }
    }
    desk.say(&plan_line(plan))?;
    desk.lines(ground_lines(ground))?;
    desk.say("Type each answer and press Enter. help lists what else you can type, end ends.")
}
