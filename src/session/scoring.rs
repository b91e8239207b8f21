//! A sheet of paper typed in afterwards: by the digits of its key, or as it was answered.

use super::answering::{Answering, Pending, Sitting, json};
use super::round::MemberAnswer;
use crate::problem::{AnswerError, NamedError, Problem, Verdict, judge};
use crate::store::{AttemptKind, Help, RecordedVerdict, Sheet};
use jiff::Timestamp;

/// Why what was typed of a sheet cannot be read.
#[derive(Debug, thiserror::Error)]
pub enum EntryError {
    /// A digit that the key does not have.
    #[error("the key has no {digit}: its digits go from 0 to {most}; an answer of one figure has its unit behind it")]
    NoSuchDigit {
        /// What was typed.
        digit: usize,
        /// The largest that it has.
        most: usize,
    },
    /// An answer that cannot be read.
    #[error(transparent)]
    Answer(#[from] AnswerError),
    /// An answer whose fields cannot be told apart.
    #[error(transparent)]
    Named(#[from] NamedError),
}

/// What was typed in of a problem, in words: `right`, or `wrong,` and what the mix-up is.
#[must_use]
pub fn entered_words(problem: &Problem, verdict: &RecordedVerdict) -> String {
    match verdict.mixup().and_then(|id| problem.skill().mixup(id)) {
        Some(mixup) => format!("wrong, {}", mixup.said),
        None if verdict.is_right() => "right".to_owned(),
        None => "wrong, in no way that is known".to_owned(),
    }
}

/// How far a sheet is typed in: `8 problems, nothing typed in`, `5 of 8 typed in`, `typed in: 7 of 8 right`, and where some were
/// not done `6 typed in, 2 not done: 5 right`.
#[must_use]
pub fn typed_in_words(sheet: &Sheet) -> String {
    let (all, done, left) = (sheet.codes.len(), sheet.entered.len(), sheet.open().count());
    let right = sheet.entered.iter().filter(|(_, _, verdict)| verdict.is_right()).count();
    match (sheet.not_done.len(), done) {
        (0, 0) => format!("{all} problems, nothing typed in"),
        (0, _) if left == 0 => format!("typed in: {right} of {all} right"),
        (0, _) => format!("{done} of {all} typed in, {right} right"),
        (skipped, _) if left == 0 => format!("{done} typed in, {skipped} not done: {right} right"),
        (skipped, _) => format!("{done} of {all} typed in, {skipped} not done, {right} right"),
    }
}

/// What can be written beside a problem of a sheet: the number of its key, and what it stands for.
#[must_use]
pub fn key_lines(problem: &Problem) -> Vec<(usize, String)> {
    let question = problem.question();
    let wrong = (2..)
        .zip(problem.mixups())
        .map(|(digit, mixup)| (digit, format!("{}: {}", question.words(&mixup.answer), mixup.meta.said)));
    let right = (1, format!("right: {}", question.words(problem.answer())));
    std::iter::once(right).chain(wrong).chain([(0, "anything else".to_owned())]).collect()
}

/// What stands on a sheet beside a problem.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Entry {
    /// A digit of the key.
    Marked(MemberAnswer),
    /// The answer itself, field by field.
    Answered(Vec<String>),
}

impl Entry {
    /// Reads what was typed for a problem: the number of its key (1 right, 2 and more the known wrong answers, 0 anything else),
    /// `-` for not done, or the answer itself, fields apart by `;` or by their names. A bare digit always is the key's, and so is a
    /// longer number that the key has: an answer that could be taken for one has its unit behind it (`5 min`, `5 m`) or a point (`5.0`).
    ///
    /// # Errors
    /// [`EntryError`] where the answer cannot be read.
    pub fn read(typed: &str, problem: &Problem) -> Result<Entry, EntryError> {
        let typed = typed.trim();
        if matches!(typed, "-" | "–" | "") {
            return Ok(Entry::Marked(MemberAnswer::Absent));
        }
        let (mixups, is_digit) = (problem.mixups().len(), typed.len() == 1);
        // Bearings have three figures and noughts in front.
        let is_number = is_digit || (typed.len() == 2 && !typed.starts_with('0'));
        if let Some(number) = typed.parse().ok().filter(|_| is_number) {
            match MemberAnswer::of_digit(number, mixups) {
                Some(answer) => return Ok(Entry::Marked(answer)),
                None if is_digit => return Err(EntryError::NoSuchDigit { digit: number, most: mixups + 1 }),
                None => {}
            }
        }
        let words: Vec<&str> = typed.split(';').map(str::trim).collect();
        let texts: Vec<String> = if words.len() == problem.question().fields().len() {
            words.into_iter().map(str::to_owned).collect()
        } else {
            problem.question().texts_from_words(&typed.split_whitespace().collect::<Vec<_>>())?
        };
        // Judged once here, so that what cannot be read is told before anything is written.
        judge(problem, &texts.iter().map(String::as_str).collect::<Vec<_>>())?;
        Ok(Entry::Answered(texts))
    }

    /// The entry judged and not yet written down; none where nothing was done.
    ///
    /// # Errors
    /// [`AnswerError`] where the answer cannot be read.
    pub fn judged(&self, problem: &Problem, sitting: &Sitting, now: Timestamp) -> Result<Option<Pending>, AnswerError> {
        let (kind, help) = (AttemptKind::Worksheet, Help::Bare);
        let answering = Answering { problem, table: None, asked_at: now, sitting, kind, help };
        let (verdict, given) = match self {
            Entry::Answered(texts) => {
                let texts: Vec<&str> = texts.iter().map(String::as_str).collect();
                return answering.typed(&texts, now).map(Some);
            }
            Entry::Marked(MemberAnswer::Absent) => return Ok(None),
            Entry::Marked(MemberAnswer::Right) => (Verdict::Right, Some(problem.answer())),
            Entry::Marked(MemberAnswer::Mixup(at)) => match problem.mixups().get(*at) {
                Some(mixup) => (Verdict::Mixup(mixup.meta), Some(&mixup.answer)),
                None => return Ok(None),
            },
            Entry::Marked(MemberAnswer::Other) => (Verdict::Unrecognised(None), None),
        };
        let given = given.map_or_else(|| "{}".to_owned(), |answer| json(&problem.question().answer_json(answer)));
        let mut pending = answering.entered(verdict, given, now);
        // Nobody knows how long it took on paper.
        pending.attempt.took_ms = None;
        Ok(Some(pending))
    }
}
