//! Reading what somebody typed into the fields of a question.

use super::{Answer, Field, FieldKind, Question, Value};
use crate::angle::{Angle, North, ReadError, ReadErrorKind, read_bearing, read_declination, read_number};

/// Longer answers are refused unread.
const LONGEST: usize = 64;

/// Up to here an angle keeps each figure that was typed. No bearing, wrapped or not, comes near it.
const LARGEST: Angle = Angle::from_degrees(1000.0);
/// Up to here it keeps whole degrees and their minutes.
const LARGEST_DEG: f64 = 6000.0;

/// An answer that could not be read: a message for the learner; nothing is recorded and the question stays.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("{}{kind}", if *.named { format!("{}: ", .field) } else { String::new() })]
pub struct AnswerError {
    /// The label of the field.
    pub field: &'static str,
    /// Whether the question has several fields, so that the message must name this one.
    pub named: bool,
    /// What is wrong.
    pub kind: AnswerErrorKind,
}

/// What is wrong with an answer.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum AnswerErrorKind {
    /// Not readable as a bearing, angle or number.
    #[error(transparent)]
    Read(#[from] ReadError),
    /// Longer than any answer.
    #[error("that is far longer than an answer; type a number, like 065")]
    TooLong,
    /// A compass name or quadrant where a plain number is wanted.
    #[error("type the number of degrees, like 065")]
    NumberWanted,
    /// A north's letter on a dial number.
    #[error("this is a number on the dial; leave out the letter")]
    NoNorthHere,
    /// Off the circle, and not what forgetting to wrap gives.
    #[error("{0} is not on the dial; numbers go from 0 to {1}")]
    OffCircle(String, u32),
    /// A turn of less than nothing or more than a circle.
    #[error("a turn goes from 0 to 360 degrees")]
    Turn,
    /// E or W is missing.
    #[error("write E or W behind it, like 13W")]
    EastOrWest,
    /// Degrees below zero.
    #[error("write the size without a sign; E or W has its own field")]
    Negative,
    /// Not a number of minutes.
    #[error("minutes go from 0 to 59; 60 minutes are one degree")]
    Minutes,
    /// None of the words.
    #[error("choose one of: {0}")]
    Word(String),
    /// Too few or too many fields.
    #[error("this question has {wanted} field(s); {given} came")]
    Fields {
        /// How many the question has.
        wanted: usize,
        /// How many came.
        given: usize,
    },
}

/// What was typed, not yet judged.
#[derive(Clone, Copy, Debug)]
pub(super) struct Given {
    pub answer: Answer,
    /// Whether a field carried another north's letter than asked.
    pub wrong_north: bool,
}

pub(super) fn read(question: &Question, texts: &[&str]) -> Result<Given, AnswerError> {
    let fields = question.fields();
    let named = fields.len() > 1;
    if texts.len() != fields.len() {
        let kind = AnswerErrorKind::Fields { wanted: fields.len(), given: texts.len() };
        return Err(AnswerError { field: "answer", named: false, kind });
    }
    let mut values = [Value::Number(0.0); 3];
    let mut wrong_north = false;
    for ((field, text), slot) in fields.iter().zip(texts).zip(&mut values) {
        let (value, north) = read_field(field, text).map_err(|kind| AnswerError { field: field.label, named, kind })?;
        wrong_north |= north.is_some() && north != field.north();
        *slot = value;
    }
    let answer = match fields.len() {
        1 => Answer::one(values[0]),
        2 => Answer::two(values[0], values[1]),
        _ => Answer::three(values[0], values[1], values[2]),
    };
    Ok(Given { answer, wrong_north })
}

impl Field {
    /// Whether a text can be read into this field at all, so that a front end that asks field by field can say so at once.
    ///
    /// # Errors
    /// [`AnswerErrorKind`], in words for the learner.
    pub fn check(&self, text: &str) -> Result<(), AnswerErrorKind> {
        read_field(self, text).map(drop)
    }
}

fn read_field(field: &Field, text: &str) -> Result<(Value, Option<North>), AnswerErrorKind> {
    if text.len() > LONGEST {
        return Err(AnswerErrorKind::TooLong);
    }
    match field.kind {
        FieldKind::Bearing(_) => {
            let typed = read_bearing(text)?;
            keeps_each_figure(typed.typed, text)?;
            Ok((Value::Angle(typed.typed), typed.north))
        }
        FieldKind::Dial => {
            let typed = read_bearing(text)?;
            if !text.trim_start().starts_with(|first: char| first.is_ascii_digit() || "+-−.,".contains(first)) {
                return Err(AnswerErrorKind::NumberWanted);
            }
            if typed.north.is_some() {
                return Err(AnswerErrorKind::NoNorthHere);
            }
            keeps_each_figure(typed.typed, text)?;
            Ok((Value::Angle(typed.typed), None))
        }
        FieldKind::Mils(_) => {
            let (number, north) = split_north(text);
            Ok((Value::Number(read_number(number, &["mil", "mils"])?), north))
        }
        FieldKind::Turn => {
            let size = read_number(text, &["°", "deg", "degree", "degrees"])?;
            if !(0.0..=360.0).contains(&size) {
                return Err(AnswerErrorKind::Turn);
            }
            Ok((Value::degrees(size), None))
        }
        FieldKind::EastWest => {
            let typed = read_declination(text)?;
            if !typed.lettered && typed.angle.degrees() != 0.0 {
                return Err(AnswerErrorKind::EastOrWest);
            }
            Ok((Value::Angle(typed.angle), None))
        }
        FieldKind::Degrees => {
            let number = read_number(text, &["°", "deg", "degree", "degrees"])?;
            if number < 0.0 {
                return Err(AnswerErrorKind::Negative);
            }
            if number > LARGEST_DEG {
                return Err(ReadError::from(ReadErrorKind::TooFar).into());
            }
            Ok((Value::degrees(number), None))
        }
        FieldKind::Minutes => {
            let number = read_number(text, &["'", "′", "’", "min", "minute", "minutes"])?;
            if !(0.0..60.0).contains(&number) {
                return Err(AnswerErrorKind::Minutes);
            }
            Ok((Value::Number(number), None))
        }
        FieldKind::Choice(words) => Ok((Value::Word(read_word(words, text)?), None)),
    }
}

/// A number too large for an angle is repeated as it was typed; the reader has seen to it that it is short and plain.
fn keeps_each_figure(angle: Angle, text: &str) -> Result<(), AnswerErrorKind> {
    if angle.abs() <= LARGEST {
        return Ok(());
    }
    Err(AnswerErrorKind::OffCircle(text.trim().replace('-', "−"), 360))
}

fn split_north(text: &str) -> (&str, Option<North>) {
    let text = text.trim_end();
    for north in North::ALL {
        if let Some(number) =
            text.strip_suffix(north.letter()).or_else(|| text.strip_suffix(north.letter().to_ascii_lowercase()))
        {
            return (number, Some(north));
        }
    }
    (text, None)
}

/// The whole word, its place in the list counted from 1, or a beginning that only one word has.
fn read_word(words: &'static [&'static str], text: &str) -> Result<&'static str, AnswerErrorKind> {
    let wanted = text.trim().to_lowercase();
    let missing = || AnswerErrorKind::Word(words.join(", "));
    if wanted.is_empty() {
        return Err(missing());
    }
    if let Some(word) = words.iter().find(|word| word.to_lowercase() == wanted) {
        return Ok(word);
    }
    if let Some(word) = wanted.parse::<usize>().ok().and_then(|place| words.get(place.checked_sub(1)?)) {
        return Ok(word);
    }
    let mut starting = words.iter().filter(|word| word.to_lowercase().starts_with(&wanted));
    match (starting.next(), starting.next()) {
        (Some(word), None) => Ok(word),
        _ => Err(missing()),
    }
}
