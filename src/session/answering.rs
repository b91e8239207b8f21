//! Judging what was answered, and what has to be written down of it: the same in practice and in a check.

use super::asked::Asked;
use super::practice::Sitting;
use crate::learner::{Beliefs, Change, SkillBelief};
use crate::maptable::{Move, Moves};
use crate::problem::{AnswerError, Judgement, TableProblem, TableVerdict, judge};
use crate::store::{AttemptKind, NewAttempt};
use jiff::Timestamp;

/// An answer that was judged and is not yet written down.
#[derive(Clone, Debug)]
pub struct Pending {
    /// What goes into the store.
    pub attempt: NewAttempt,
    /// The belief that goes with it.
    pub belief: SkillBelief,
    pub(super) beliefs: Beliefs,
    pub(super) change: Option<Change>,
    pub(super) judged: Judged,
}

/// What the store says of an answer that it has taken.
#[derive(Clone, Debug, Default)]
pub struct Stored {
    /// The learner's beliefs as the store has them, when another program wrote answers of the same learner meanwhile.
    pub refolded: Option<Vec<SkillBelief>>,
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
    pub beliefs: &'a Beliefs,
    pub kind: AttemptKind,
    /// Whether the explanation follows at once.
    pub explained: bool,
}

impl Answering<'_> {
    /// Judges an answer.
    pub fn answer(&self, texts: &[&str], now: Timestamp) -> Result<Option<Pending>, AnswerError> {
        let judgement = judge(&self.asked.problem.outline, texts)?;
        Ok(self.pending(Judged::Answer(judgement), json(&texts), None, now))
    }

    /// Judges work at the map table; none where there is no table.
    pub fn with_moves(&self, moves: &[Move], now: Timestamp) -> Option<Pending> {
        let table = self.asked.table.as_ref()?;
        let outline = &self.asked.problem.outline;
        let verdict = table.judge(outline, self.asked.problem.code.skill, moves);
        let given = json(&outline.question.answer_json(&verdict.judgement.given));
        let moves = Moves(moves.iter().map(|made| made.rounded()).collect()).to_string();
        self.pending(Judged::Table(Box::new(verdict)), given, Some(moves), now)
    }

    fn pending(&self, judged: Judged, given: String, moves: Option<String>, now: Timestamp) -> Option<Pending> {
        let problem = &self.asked.problem;
        let judgement = judged.judgement();
        let exposed: Vec<String> = match &self.asked.table {
            Some(_) => TableProblem::exposes(&problem.outline, problem.code.skill),
            None => problem.outline.mixups.iter().map(|mixup| mixup.id).collect(),
        }
        .iter()
        .map(|id| id.as_str().to_owned())
        .collect();
        let took = now.duration_since(self.asked_at).as_millis();
        let attempt = NewAttempt {
            learner: self.sitting.learner,
            session: self.sitting.session,
            at: now,
            day: self.sitting.day,
            kind: self.kind,
            code: problem.code.to_string(),
            skill: problem.code.skill.id.to_owned(),
            level: problem.code.level,
            generation: problem.code.skill.generation,
            seed: problem.code.seed,
            facts: problem.facts_json().unwrap_or_default(),
            right: json(&problem.outline.question.answer_json(&problem.outline.answer)),
            given,
            verdict: judgement.verdict.id().to_owned(),
            mixup: judgement.verdict.mixup().map(|id| id.as_str().to_owned()),
            exposed,
            hinted: self.asked.hint.is_some(),
            explained: self.explained,
            took_ms: u32::try_from(took).ok(),
            moves,
        };
        let mut beliefs = self.beliefs.clone();
        // The store folds exactly this evidence, so both must observe the same.
        let change = beliefs.observe(&attempt.evidence(&mut Vec::new()));
        let belief = beliefs.skill(problem.code.skill.id).cloned()?;
        Some(Pending { attempt, belief, beliefs, change, judged })
    }
}

fn json(value: &impl serde::Serialize) -> String {
    // Numbers are finite and keys are text, so this cannot fail; an empty text would only lose a convenience copy.
    serde_json::to_string(value).unwrap_or_default()
}
