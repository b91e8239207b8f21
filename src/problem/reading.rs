//! Reading what somebody typed into the fields of a question.

use super::amounts::{read_count, read_length, read_on_map, read_time};
use super::{Answer, Choices, Field, FieldKind, MapPoint, Question, Value};
use crate::angle::{Angle, North, Point, ReadError, ReadErrorKind, read_bearing, read_declination, read_number};
use crate::ground::{GridReference, GridReferenceError};

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
    /// A point off the problem's map, and not what a mix-up gives.
    #[error("that place is not on this map; read the numbers of its grid lines once more")]
    OffMap,
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
    /// More than 59 minutes behind hours.
    #[error("behind hours the minutes go from 0 to 59; write 1 h 42, or the minutes alone")]
    MinutesBehindHours,
    /// Single paces where double ones are asked, or the other way round: what is asked.
    #[error("{0} are asked for here; count those, and type the number alone")]
    OtherPaces(&'static str),
    /// Less than nothing.
    #[error("that is less than nothing; type a number from 0 up")]
    BelowZero,
    /// A unit that is none of the field.
    #[error("{typed} is no unit here; write {write}, or the number alone")]
    Unit {
        /// The unit as it was typed.
        typed: String,
        /// What can be written.
        write: &'static str,
    },
    /// Not a whole number.
    #[error("type a whole number")]
    Whole,
    /// Not a grid reference.
    #[error(transparent)]
    GridReference(#[from] GridReferenceError),
    /// A grid reference without the letters that are asked for.
    #[error("the letters of the large square belong to it: two letters, then the figures")]
    Letters,
    /// A grid reference with other figures than asked.
    #[error("a reference of {wanted} figures is asked for, and this one has {given}")]
    Figures {
        /// How many are asked for.
        wanted: u8,
        /// How many came.
        given: u8,
    },
    /// Not a point of the map.
    #[error("type metres east and metres north, like 36800 57600, or a grid reference like 3680 5760")]
    Point,
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
#[derive(Clone, Debug)]
pub(super) struct Given {
    pub answer: Answer,
    /// The north's letter that was typed in each field.
    pub norths: Vec<Option<North>>,
    /// Whether a field carried another one than asked.
    pub wrong_north: bool,
}

pub(super) fn read(question: &Question, texts: &[&str]) -> Result<Given, AnswerError> {
    let fields = question.fields();
    let named = fields.len() > 1;
    if texts.len() != fields.len() {
        let kind = AnswerErrorKind::Fields { wanted: fields.len(), given: texts.len() };
        return Err(AnswerError { field: "answer", named: false, kind });
    }
    let mut wrong_north = false;
    let mut norths = Vec::with_capacity(fields.len());
    let read = |(field, text): (&Field, &&str)| {
        let (value, north) = read_field(field, text).map_err(|kind| AnswerError { field: field.label, named, kind })?;
        wrong_north |= north.is_some() && north != field.north();
        norths.push(north);
        Ok(value)
    };
    let answer = fields.iter().zip(texts).map(read).collect::<Result<Answer, AnswerError>>()?;
    Ok(Given { answer, norths, wrong_north })
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

impl Field {
    /// Whether an answer in this field can begin with this: no number begins with a letter, and a bearing only with a point's.
    #[must_use]
    pub const fn may_begin_with(&self, letter: char) -> bool {
        match self.kind {
            FieldKind::Bearing(_) | FieldKind::EastWest => {
                !letter.is_ascii_alphabetic() || matches!(letter.to_ascii_lowercase(), 'n' | 'e' | 's' | 'w')
            }
            FieldKind::GridReference { .. } | FieldKind::Choice(_) => true,
            _ => !letter.is_ascii_alphabetic(),
        }
    }
}

fn read_field(field: &Field, text: &str) -> Result<(Value, Option<North>), AnswerErrorKind> {
    if text.len() > LONGEST {
        return Err(AnswerErrorKind::TooLong);
    }
    match &field.kind {
        FieldKind::Bearing(_) => {
            let typed = read_bearing(text)?;
            keeps_each_figure(typed.typed, text)?;
            Ok((Value::Angle(typed.typed), typed.north))
        }
        FieldKind::Dial => {
            let typed = read_bearing(text)?;
            if !text.trim_start().starts_with(|first: char| first.is_ascii_digit() || "+-−–.,".contains(first)) {
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
        FieldKind::Count => {
            let number = at_least_zero(read_count(text, field.label)?)?;
            if number.fract() == 0.0 { Ok((Value::Number(number), None)) } else { Err(AnswerErrorKind::Whole) }
        }
        FieldKind::Distance(unit) => Ok((Value::Number(read_length(text, *unit)?), None)),
        FieldKind::MapLength => Ok((Value::Number(read_on_map(text)?), None)),
        FieldKind::Time => Ok((Value::Number(read_time(text)?), None)),
        FieldKind::GridReference { figures, lettered } => {
            let reference = GridReference::read(text)?;
            if *lettered && reference.letters().is_none() {
                Err(AnswerErrorKind::Letters)
            } else if reference.figures() == *figures {
                Ok((Value::Grid(reference), None))
            } else {
                Err(AnswerErrorKind::Figures { wanted: *figures, given: reference.figures() })
            }
        }
        FieldKind::MapPoint => Ok((Value::Point(read_point(text)?), None)),
        FieldKind::Choice(words) => Ok((Value::Choice(read_word(words, text)?), None)),
    }
}

/// A number too large for an angle is repeated as it was typed; the reader has seen to it that it is short and plain.
fn keeps_each_figure(angle: Angle, text: &str) -> Result<(), AnswerErrorKind> {
    if angle.abs() <= LARGEST {
        return Ok(());
    }
    Err(AnswerErrorKind::OffCircle(text.trim().replace(['-', '–'], "−"), 360))
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

const fn at_least_zero(number: f64) -> Result<f64, AnswerErrorKind> {
    if number < 0.0 { Err(AnswerErrorKind::BelowZero) } else { Ok(number) }
}

/// A point of the map: `36804 57600` in metres, or a grid reference, `368576` or `3680 5760`, which means the middle of its
/// square. Two numbers are a reference where they have as many figures each and too few for metres on any map.
fn read_point(text: &str) -> Result<MapPoint, AnswerErrorKind> {
    let numbers = numbers_of_point(text);
    let parts: Vec<&str> =
        numbers.as_deref().unwrap_or(text).split([' ', ',', ';']).filter(|part| !part.is_empty()).collect();
    let figures = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit()).then_some(part.len());
    let of_reference = |reference: GridReference| {
        let (east_m, north_m) = reference.middle_m();
        MapPoint { east_m, north_m }
    };
    match *parts.as_slice() {
        [whole] if matches!(figures(whole), Some(6 | 8 | 10)) => Ok(of_reference(GridReference::read(whole)?)),
        [east, north] if matches!((figures(east), figures(north)), (Some(3), Some(3)) | (Some(4), Some(4))) => {
            Ok(of_reference(GridReference::read(&format!("{east}{north}"))?))
        }
        [east, north] => match (east.parse::<f64>(), north.parse::<f64>()) {
            (Ok(east_m), Ok(north_m)) if east_m.is_finite() && north_m.is_finite() => Ok(MapPoint { east_m, north_m }),
            _ => Err(AnswerErrorKind::Point),
        },
        _ => Err(AnswerErrorKind::Point),
    }
}

/// The two numbers of a place that is written as it is told, `36804 m east, 57600 m north` or `36804E 57600N`; none where it is not
/// written so, since the words say which number is which.
fn numbers_of_point(text: &str) -> Option<String> {
    let text = text.trim().to_lowercase();
    let number = |part: &'_ str, words: [&str; 2]| {
        let part = part.trim_matches([' ', ',', ';']);
        let part = words.iter().find_map(|word| part.strip_suffix(word))?.trim_end();
        let part = part.strip_suffix('m').unwrap_or(part).trim_end();
        part.parse::<f64>().is_ok_and(f64::is_finite).then(|| part.to_owned())
    };
    let (east, north) =
        text.split_at(text.find('e').map(|at| at + if text[at..].starts_with("east") { 4 } else { 1 })?);
    Some(format!("{} {}", number(east, ["east", "e"])?, number(north, ["north", "n"])?))
}

/// The place of the whole word, its place as a number counted from 1, another name of it, or a beginning that only one word
/// has.
fn read_word(words: &Choices, text: &str) -> Result<usize, AnswerErrorKind> {
    let wanted = text.trim().to_lowercase();
    let missing = || AnswerErrorKind::Word(words.listed());
    if wanted.is_empty() {
        return Err(missing());
    }
    if let Some(at) = words.iter().position(|word| word.to_lowercase() == wanted) {
        return Ok(at);
    }
    if let Some(at) = wanted.parse::<usize>().ok().and_then(|place| place.checked_sub(1)).filter(|at| *at < words.len())
    {
        return Ok(at);
    }
    // A direction by its full name (`east` for E, `south-west` for SW), and the other names of the two ways to turn.
    let called = Point::read(text).map(Point::name).or(match wanted.replace(['-', ' '], "").as_str() {
        "cw" => Some("clockwise"),
        "ccw" | "acw" | "anticlockwise" | "counterclockwise" => Some("counterclockwise"),
        _ => None,
    });
    if let Some(at) = called.and_then(|called| words.iter().position(|word| word.eq_ignore_ascii_case(called))) {
        return Ok(at);
    }
    // Without what stands before the word that counts, and with or without hyphens.
    let bare = |word: &str| {
        let before = ["the ", "to the ", "it "].iter().find_map(|before| word.strip_prefix(before));
        before.unwrap_or(word).replace(['-', ' '], "")
    };
    let short = bare(&wanted);
    let mut starting = words.iter().enumerate().filter(|(_, word)| bare(&word.to_lowercase()).starts_with(&short));
    match (starting.next(), starting.next()) {
        (Some((at, _)), None) => Ok(at),
        _ => Err(missing()),
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Field, LengthUnit, Tolerance};
    use super::*;

    fn read_as(kind: FieldKind, text: &str) -> Result<Value, AnswerErrorKind> {
        let field = Field { name: "x", label: "x", kind, tolerance: Tolerance::EXACT };
        read_field(&field, text).map(|(value, _)| value)
    }

    #[test]
    fn no_answer_of_numbers_begins_with_a_letter_that_it_cannot_begin_with() {
        let begins = |kind: FieldKind, letter| {
            Field { name: "x", label: "x", kind, tolerance: Tolerance::EXACT }.may_begin_with(letter)
        };
        assert!(!begins(FieldKind::Dial, 'e') && !begins(FieldKind::Count, 'x') && !begins(FieldKind::Time, 'm'));
        assert!(begins(FieldKind::Dial, '0') && begins(FieldKind::Dial, ' ') && begins(FieldKind::Time, '½'));
        let bearing = || FieldKind::Bearing(North::True);
        assert!(begins(bearing(), 'n') && begins(bearing(), 'S') && !begins(bearing(), 'h'));
        assert!(
            begins(FieldKind::EastWest, 'W') && begins(FieldKind::GridReference { figures: 6, lettered: false }, 'T')
        );
    }

    #[test]
    fn words_may_be_called_by_their_other_names() {
        let place = |words: &'static [&'static str], text| read_as(FieldKind::Choice(Choices::Fixed(words)), text);
        for (text, at) in [("east", 0), ("West", 1), ("E", 0), ("w", 1), ("wes", 9)] {
            let wanted = if at < 2 { Ok(Value::Choice(at)) } else { Err(AnswerErrorKind::Word("E, W".to_owned())) };
            assert_eq!(place(&["E", "W"], text), wanted, "{text}");
        }
        for text in ["cw", "CW", "clockwise", "clock"] {
            assert_eq!(place(&["clockwise", "counterclockwise"], text), Ok(Value::Choice(0)), "{text}");
        }
        for text in ["ccw", "anticlockwise", "anti-clockwise", "counter-clockwise", "counter"] {
            assert_eq!(place(&["clockwise", "counterclockwise"], text), Ok(Value::Choice(1)), "{text}");
        }
        for text in ["south-west", "southwest", "South West", "SW", "sw"] {
            assert_eq!(place(&["N", "SE", "SW", "S"], text), Ok(Value::Choice(2)), "{text}");
        }
        assert_eq!(place(&["left", "right"], "to the left"), Ok(Value::Choice(0)));
        for (text, at) in [("does not close", 1), ("closes", 0), ("it does", 1)] {
            assert_eq!(place(&["it closes", "it does not close"], text), Ok(Value::Choice(at)), "{text}");
        }
        // Left and right depend on which side one looks from.
        assert!(place(&["clockwise", "counterclockwise"], "left").is_err());
    }

    #[test]
    fn an_en_dash_before_a_number_is_a_minus() {
        assert_eq!(read_as(FieldKind::Dial, "–11"), Ok(Value::degrees(-11.0)));
        assert_eq!(read_as(FieldKind::Bearing(North::Magnetic), "–11"), Ok(Value::degrees(-11.0)));
    }

    #[test]
    fn counts_are_whole_references_have_the_figures_asked_and_points_two_numbers() {
        assert_eq!(read_as(FieldKind::Count, "211"), Ok(Value::Number(211.0)));
        assert_eq!(read_as(FieldKind::Count, "2.5"), Err(AnswerErrorKind::Whole));
        let reference = |text| read_as(FieldKind::GridReference { figures: 6, lettered: false }, text);
        assert!(matches!(reference("347 582"), Ok(Value::Grid(_))));
        assert_eq!(reference("3458"), Err(AnswerErrorKind::Figures { wanted: 6, given: 4 }));
        assert!(matches!(reference("34758"), Err(AnswerErrorKind::GridReference(_))));
        let point = |text| read_as(FieldKind::MapPoint, text);
        for told in ["36800 m east, 57600 m north", "36800E 57600N", "36800 east 57600 north", "36800 m E 57600 m N"] {
            assert_eq!(point(told), point("36800 57600"), "{told}");
        }
        for other in ["57600 north, 36800 east", "36800 m east", "1e3 east 57600 north east", "east north"] {
            assert!(point(other).is_err(), "{other}");
        }
        assert_eq!(point("36800, 57600"), Ok(Value::Point(MapPoint { east_m: 36_800.0, north_m: 57_600.0 })));
        for text in ["3680 5760", "36805760", "3680, 5760"] {
            let middle = MapPoint { east_m: 36_805.0, north_m: 57_605.0 };
            assert_eq!(point(text), Ok(Value::Point(middle)), "{text}");
        }
        assert_eq!(point("368 576"), Ok(Value::Point(MapPoint { east_m: 36_850.0, north_m: 57_650.0 })));
        for text in ["36800", "1 2 3", "inf 5", "", "3658", "368 5760x"] {
            assert_eq!(point(text), Err(AnswerErrorKind::Point), "{text}");
        }
    }

    #[test]
    fn what_a_field_would_have_typed_reads_back_as_the_value() {
        let kinds = [
            (FieldKind::EastWest, Value::degrees(-13.5)),
            (FieldKind::Distance(LengthUnit::Kilometres), Value::Number(340.0)),
            (FieldKind::Time, Value::Number(75.0)),
            (FieldKind::MapPoint, Value::Point(MapPoint { east_m: 36_804.5, north_m: 57_600.0 })),
            (
                FieldKind::Choice(Choices::Own(vec!["the hut".to_owned(), "the weir".to_owned()].into())),
                Value::Choice(1),
            ),
        ];
        for (kind, value) in kinds {
            let field = Field { name: "x", label: "x", kind, tolerance: Tolerance::EXACT };
            assert_eq!(read_field(&field, &field.typed(value)).map(|(value, _)| value), Ok(value));
        }
    }
}
