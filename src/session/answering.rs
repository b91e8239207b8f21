//! From an answer to what is written down of it: one way for practice, turns, checks and rounds.
//!
//! An answer is judged ([`Pending`]), put on the disk, and with what the store says of it ([`Stored`]) the flow takes it in.

use super::asked::Asked;
use super::days::Days;
use crate::maptable::{Move, Moves};
use crate::problem::{AnswerError, Judgement, Problem, TableProblem, TableVerdict, Verdict, judge, realise};
use crate::skills;
use crate::store::{AttemptId, AttemptKind, Help, LearnerId, NewAttempt, Recorded, SessionId};
use jiff::Timestamp;
use jiff::civil::Date;

/// Who answers, in which stored session.
#[derive(Clone, Debug)]
pub struct Sitting {
    /// The learner.
    pub learner: LearnerId,
    /// The stored session.
    pub session: SessionId,
    /// Where the learner's day comes from.
    pub days: Days,
    /// When it began.
    pub began: Timestamp,
    /// Seeds the choice of problems.
    pub seed: u64,
}

impl Sitting {
    /// The day on which it began.
    #[must_use]
    pub fn first_day(&self) -> Date {
        self.days.of(self.began)
    }
}

/// An answer that was judged and is not yet written down.
#[derive(Clone, Debug)]
pub struct Pending {
    /// What goes into the store.
    pub attempt: NewAttempt,
    pub(super) judged: Judged,
}

/// An answer that can be taken back as a slip of the keyboard.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Slip {
    /// Who gave it.
    pub learner: LearnerId,
    /// The answer.
    pub attempt: AttemptId,
    /// The learner's day.
    pub day: Date,
}

/// What the store says of an answer that it has taken.
#[derive(Clone, Debug)]
pub struct Stored {
    /// What it changed, and what is believed now.
    pub recorded: Recorded,
    /// The latest answers of the skill, this one included, when it was a mix-up in practice.
    pub lately: Vec<NewAttempt>,
    /// Whether the problem was answered before in the same check: it is open in another window.
    pub twice: bool,
}

/// What was judged.
#[derive(Clone, Debug)]
pub(super) enum Judged {
    /// An answer as it was typed.
    Answer(Judgement),
    /// Work at the map table.
    Table(Box<TableVerdict>),
    /// An answer on paper, by the leader's word.
    Entered(Verdict),
}

impl Judged {
    pub const fn verdict(&self) -> Verdict {
        match self {
            Judged::Answer(judgement) => judgement.verdict,
            Judged::Table(table) => table.judgement.verdict,
            Judged::Entered(verdict) => *verdict,
        }
    }
}

/// A problem that waits for somebody's answer.
#[derive(Clone, Copy, Debug)]
pub(super) struct Answering<'a> {
    pub problem: &'a Problem,
    /// What lies on the map table, when the question is work at it.
    pub table: Option<&'a TableProblem>,
    pub asked_at: Timestamp,
    pub sitting: &'a Sitting,
    pub kind: AttemptKind,
    pub help: Help,
}

impl<'a> Answering<'a> {
    /// A problem on the learner's own screen.
    pub fn of(asked: &'a Asked, asked_at: Timestamp, sitting: &'a Sitting, kind: AttemptKind) -> Answering<'a> {
        let (problem, table, help) = (&asked.problem, asked.table.as_deref(), asked.help());
        Answering { problem, table, asked_at, sitting, kind, help }
    }

    /// Judges an answer as it was typed.
    pub fn typed(&self, texts: &[&str], now: Timestamp) -> Result<Pending, AnswerError> {
        let judgement = judge(self.problem, texts)?;
        Ok(self.pending(Judged::Answer(judgement), json(&texts), None, now))
    }

    /// Judges work at the map table; none where there is no table.
    pub fn worked(&self, moves: &[Move], now: Timestamp) -> Option<Pending> {
        let verdict = self.table?.judge(self.problem, moves);
        let given = json(&self.problem.question().answer_json(&verdict.judgement.given));
        let moves = Moves(moves.iter().map(|made| made.rounded()).collect()).to_string();
        Some(self.pending(Judged::Table(Box::new(verdict)), given, Some(moves), now))
    }

    /// Takes the leader's word for an answer on paper; `given` is what was answered, as JSON.
    pub fn entered(&self, verdict: Verdict, given: String, now: Timestamp) -> Pending {
        self.pending(Judged::Entered(verdict), given, None, now)
    }

    /// All that is written down of an answer.
    fn pending(&self, judged: Judged, given: String, moves: Option<String>, now: Timestamp) -> Pending {
        let Answering { problem, table, asked_at, sitting, kind, help } = *self;
        let exposed: Vec<_> = match table {
            // The moves tell more than the fields can.
            Some(_) => TableProblem::exposes(problem).iter().map(|id| id.as_str().to_owned()).collect(),
            None => problem.mixups().iter().map(|mixup| mixup.meta.id.as_str().to_owned()).collect(),
        };
        let attempt = NewAttempt {
            learner: sitting.learner,
            session: sitting.session,
            at: now,
            day: sitting.days.of(now),
            kind,
            code: problem.code().to_string(),
            skill: problem.skill().id.to_owned(),
            level: problem.code().level,
            generation: problem.skill().generation,
            seed: problem.code().seed,
            facts: problem.facts().json(),
            right: json(&problem.question().answer_json(problem.answer())),
            given,
            verdict: judged.verdict().into(),
            exposed,
            help,
            // A check tells nothing before its end.
            explained: kind != AttemptKind::Check,
            took_ms: u32::try_from(now.duration_since(asked_at).as_millis()).ok(),
            moves,
        };
        Pending { attempt, judged }
    }
}

pub(super) fn json(value: &impl serde::Serialize) -> String {
    // Numbers are finite and keys are text, so this cannot fail; an empty text would only lose a convenience copy.
    serde_json::to_string(value).unwrap_or_default()
}

/// What was answered and what is right, as the trade writes both, from what the store has of it; none where this program cannot
/// make the problem any more.
#[must_use]
pub fn answered_words(attempt: &NewAttempt) -> Option<(String, String)> {
    let problem = realise(&skills::read_code(&attempt.code).ok()?).ok()?;
    let question = problem.question();
    let texts: Vec<String> = match serde_json::from_str(&attempt.given).ok()? {
        serde_json::Value::Array(texts) => {
            texts.iter().map(|text| text.as_str().map(str::to_owned)).collect::<Option<_>>()?
        }
        // By a leader's word, or how things lay on the table: field by field.
        serde_json::Value::Object(fields) if !fields.is_empty() => {
            let word = |value: &serde_json::Value| value.as_str().map_or_else(|| value.to_string(), str::to_owned);
            let words: Vec<String> = fields.iter().map(|(field, value)| format!("{field}={}", word(value))).collect();
            question.texts_from_words(&words).ok()?
        }
        _ => return Some(("something else".to_owned(), question.words(problem.answer()))),
    };
    let texts: Vec<&str> = texts.iter().map(String::as_str).collect();
    Some((judge(&problem, &texts).ok()?.words(question), question.words(problem.answer())))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::{Code, Level};
    use crate::store::RecordedVerdict;

    #[test]
    fn whatever_way_an_answer_was_recorded_it_is_told_as_the_trade_writes_it() {
        let problem = |id: &str| {
            let code = Code { skill: skills::find(id).unwrap(), level: Level::TWO, seed: 4, home: None };
            realise(&code).unwrap()
        };
        let sitting = Sitting {
            learner: LearnerId::of_number(1),
            session: SessionId::of_number(1),
            days: Days::Given(jiff::civil::date(2026, 5, 9)),
            began: Timestamp::UNIX_EPOCH,
            seed: 0,
        };
        for id in ["true-magnetic", "one-in-sixty", "turns", "diagram", "grid-reference"] {
            let problem = problem(id);
            let (question, right) = (problem.question(), problem.question().words(problem.answer()));
            let (kind, help, asked_at) = (AttemptKind::Round, Help::Bare, Timestamp::UNIX_EPOCH);
            let answering = Answering { problem: &problem, table: None, asked_at, sitting: &sitting, kind, help };
            let entered = |answer| {
                let given = json(&question.answer_json(answer));
                answering.entered(Verdict::Right, given, Timestamp::UNIX_EPOCH).attempt
            };
            assert_eq!(answered_words(&entered(problem.answer())), Some((right.clone(), right.clone())), "{id}");
            let wrong = &problem.mixups()[0].answer;
            assert_eq!(answered_words(&entered(wrong)), Some((question.words(wrong), right.clone())), "{id}");
            let other = NewAttempt { given: "{}".to_owned(), verdict: RecordedVerdict::Unrecognised, ..entered(wrong) };
            assert_eq!(answered_words(&other), Some(("something else".to_owned(), right)), "{id}");
        }
    }
}
