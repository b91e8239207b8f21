//! Practice as lines.

use super::asking::{Answered, answer};
use super::words::{ground_lines, new_here, plan_line, summary_lines};
use crate::clerk::{self, Now};
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
    let (learner, is_new) = clerk::find_or_add(&mut store, name, now.at).map_err(store_error(0))?;
    let drill = plan.drill.clone();
    let opened = clerk::open_practice(&mut store, learner.id, now, drill, seed).map_err(store_error(0))?;
    let progress = clerk::progress(&store, learner.id).map_err(store_error(0))?;
    greet(desk, &learner, (!is_new).then(|| progress_words(&progress)), &plan, &ground)?;
    desk.lines(opened.ended.iter().map(ended_words).collect::<Vec<_>>())?;
    let practice = Practice::new(plan, opened.sitting, opened.beliefs)
        .after(opened.last_time)
        .with_lessons(learner.placement, opened.lessons);
    let mut sitter = Sitter::new(learner, practice);
    while sitter.problem(desk, &mut store, &ground)? {}
    desk.say("")?;
    if let Flow::Practice(practice) = &sitter.flow {
        let (title, name) = (sitter.flow.title(), &sitter.learner.name);
        desk.lines(summary_lines(&practice.summary(), title, name, ground.day))?;
    }
    Ok(desk.out.flush()?)
}

/// Somebody with a practice.
pub(super) struct Sitter {
    pub learner: Learner,
    pub flow: Flow,
    /// The end of "Problem 3".
    of: String,
    undo_told: bool,
}

impl Sitter {
    pub fn new(learner: Learner, practice: Practice) -> Sitter {
        let of = practice.plan().count.map(|count| format!(" of {count}")).unwrap_or_default();
        Sitter { learner, flow: Flow::Practice(Box::new(practice)), of, undo_told: false }
    }

    /// Puts the next problem until it is answered and told; false when the practice is over, or the learner ends it.
    pub fn problem(&mut self, desk: &mut Desk<'_>, store: &mut Store, ground: &GroundCard) -> Result<bool, PlainError> {
        let Some(asked) = self.flow.next((desk.now)()) else { return Ok(false) };
        desk.say("")?;
        desk.problem(asked, &self.of, ground, AttemptKind::Practice)?;
        loop {
            if let Some(offer) = self.flow.lesson() {
                let (number, title) = (offer.lesson.number(), offer.lesson.title);
                desk.say(&format!(
                    "Before this there is a first lesson, number {number}, {title}: type lesson to take it."
                ))?;
            }
            let answered = answer(desk, store, &mut self.flow)?;
            if let Some(mark) = self.flow.take_lesson_mark() {
                let noted = store.note_lesson(self.learner.id, &mark, (desk.now)());
                noted.map_err(store_error(self.flow.answered()))?;
            }
            match answered {
                Answered::Told => {
                    // Said once: help lists it.
                    if self.flow.slip().is_some() && !self.undo_told && !self.is_over((desk.now)()) {
                        desk.say("If only a key slipped: undo takes this answer back.")?;
                        self.undo_told = true;
                    }
                    return Ok(true);
                }
                Answered::TakeBack(slip) => {
                    let now = (desk.now)();
                    let beliefs = clerk::take_back(store, slip, now).map_err(store_error(self.flow.answered()))?;
                    if let Some(asked) = self.flow.taken_back(beliefs, now) {
                        desk.say("")?;
                        desk.problem_again(asked)?;
                    }
                }
                // A trial comes in checks alone.
                Answered::End | Answered::Tried => return Ok(false),
            }
        }
    }

    fn is_over(&self, now: Timestamp) -> bool {
        matches!(&self.flow, Flow::Practice(practice) if practice.is_over(now))
    }
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
        None => desk.say(&new_here(&learner.name))?,
        Some(so_far) => {
            desk.say(&format!("Welcome back, {}.", learner.name))?;
            desk.say(&so_far)?;
        }
    }
    desk.say(&plan_line(plan))?;
    desk.lines(ground_lines(ground))?;
    desk.say("Type each answer and press Enter. help lists what else you can type, end ends.")
}
