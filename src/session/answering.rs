//! Judging what was answered, and what has to be written down of it: the same in practice and in a check.

use super::asked::{Asked, Support};
use super::practice::Sitting;
use crate::maptable::{Move, Moves};
use crate::problem::{AnswerError, Judgement, Problem, TableProblem, TableVerdict, Verdict, judge};
use crate::store::{AttemptKind, Help, LearnerId, NewAttempt, Recorded, SessionId};
use jiff::Timestamp;
use jiff::civil::Date;

/// An answer that was judged and is not yet written down.
#[derive(Clone, Debug)]
pub struct Pending {
    /// What goes into the store.
    pub attempt: NewAttempt,
    pub(super) judged: Judged,
}

/// What the store says of an answer that it has taken.
#[derive(Clone, Debug)]
pub struct Stored {
    /// What it changed, and what is believed now.
    pub recorded: Recorded,
    /// The latest answers of the skill, this one included, when it was a mix-up that is explained at once.
    pub lately: Vec<NewAttempt>,
}

/// What was judged: an answer, or work at the map table.
#[derive(Clone, Debug)]
pub(super) enum Judged {
    Answer(Judgement),
    Table(Box<TableVerdict>),
}

impl Judged {
    pub(super) const fn judgement(&self) -> &Judgement {
        match self {
            Judged::Answer(judgement) => judgement,
            Judged::Table(verdict) => &verdict.judgement,
        }
    }
}

/// A problem being answered.
#[derive(Clone, Copy, Debug)]
pub(super) struct Answering<'a> {
    pub asked: &'a Asked,
    pub asked_at: Timestamp,
    pub sitting: &'a Sitting,
    pub kind: AttemptKind,
    /// Whether the explanation follows at once.
    pub explained: bool,
}

impl Answering<'_> {
    /// Judges an answer.
    pub fn answer(&self, texts: &[&str], now: Timestamp) -> Result<Option<Pending>, AnswerError> {
        let judgement = judge(&self.asked.problem, texts)?;
        Ok(Some(self.pending(Judged::Answer(judgement), json(&texts), None, now)))
    }

    /// Judges work at the map table; none where there is no table.
    pub fn with_moves(&self, moves: &[Move], now: Timestamp) -> Option<Pending> {
        let table = self.asked.table.as_ref()?;
        let problem = &self.asked.problem;
        let verdict = table.judge(problem, moves);
        let given = json(&problem.question().answer_json(&verdict.judgement.given));
        let moves = Moves(moves.iter().map(|made| made.rounded()).collect()).to_string();
        Some(self.pending(Judged::Table(Box::new(verdict)), given, Some(moves), now))
    }

    fn pending(&self, judged: Judged, given: String, moves: Option<String>, now: Timestamp) -> Pending {
        let problem = &self.asked.problem;
        let judgement = judged.judgement();
        let Sitting { learner, session, day, .. } = *self.sitting;
        let mut attempt = NewAttempt {
            help: help(self.asked),
            explained: self.explained,
            moves,
            ..written(
                problem,
                &Occasion { learner, session, day, kind: self.kind, asked_at: self.asked_at, now },
                judgement.verdict,
                given,
            )
        };
        if self.asked.table.is_some() {
            // The moves tell more than the fields can.
            let exposed = TableProblem::exposes(problem);
            attempt.exposed = exposed.iter().map(|id| id.as_str().to_owned()).collect();
        }
        Pending { attempt, judged }
    }
}

/// The most help that is on the screen with a problem.
fn help(asked: &Asked) -> Help {
    match &asked.support {
        _ if asked.hint.is_some() => Help::Hint,
        Support::Blanks(_) => Help::Blanks,
        Support::Example(_) | Support::Reminder(_) => Help::Example,
        Support::Bare => Help::Bare,
    }
}

/// Whose answer it is, where and when.
#[derive(Clone, Copy, Debug)]
pub(super) struct Occasion {
    pub learner: LearnerId,
    pub session: SessionId,
    pub day: Date,
    pub kind: AttemptKind,
    pub asked_at: Timestamp,
    pub now: Timestamp,
}

/// What is written down of an answer, as it is of a question in writing that was explained at once.
pub(super) fn written(problem: &Problem, occasion: &Occasion, verdict: Verdict, given: String) -> NewAttempt {
    let Occasion { learner, session, day, kind, asked_at, now } = *occasion;
    NewAttempt {
        learner,
        session,
        at: now,
        day,
        kind,
        code: problem.code().to_string(),
        skill: problem.skill().id.to_owned(),
        level: problem.code().level,
        generation: problem.skill().generation,
        seed: problem.code().seed,
        facts: problem.facts().json(),
        right: json(&problem.question().answer_json(problem.answer())),
        given,
        verdict: verdict.into(),
        exposed: problem.mixups().iter().map(|mixup| mixup.meta.id.as_str().to_owned()).collect(),
        help: Help::Bare,
        explained: true,
        took_ms: u32::try_from(now.duration_since(asked_at).as_millis()).ok(),
        moves: None,
    }
}

pub(super) fn json(value: &impl serde::Serialize) -> String {
    // Numbers are finite and keys are text, so this cannot fail; an empty text would only lose a convenience copy.
    serde_json::to_string(value).unwrap_or_default()
}
