//! What can be wrong at one place of a course's file, in words.

use super::Key;
use super::measured::CameOutError;
use crate::angle::ReadError;
use crate::config::ValueError;
use crate::geomag::Model;
use crate::textfile::{self, FileKey, Kind, Slip};
use jiff::civil::Date;

/// One fault of such a file and its place.
pub(super) type Fault = textfile::Fault<FaultKind>;

/// What is wrong at one place of the file. `Display` is one line; [`Kind::help`] says what to do.
///
/// Texts taken from the file are cut to a readable length and hold no control characters.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum FaultKind {
    /// What can be wrong in any file.
    #[error(transparent)]
    Slip(#[from] Slip<Key>),
    /// A key that must be there.
    #[error("`{}` is missing", .0.word())]
    Missing(Key),
    /// A value of the right kind that cannot be used.
    #[error("`{}`: {error}", key.word())]
    Value {
        /// The key.
        key: Key,
        /// Why not.
        error: ValueError,
    },
    /// No bearing.
    #[error("`{}`: {error}", key.word())]
    Bearing {
        /// The key.
        key: Key,
        /// Why not.
        error: ReadError,
    },
    /// A leg's bearing without its north.
    #[error("this bearing does not say which north it counts from")]
    NoNorth,
    /// A measured bearing that counts from another north than a compass does.
    #[error("what a compass reads counts from magnetic north")]
    NotMagnetic,
    /// A number that stands on no compass.
    #[error("bearings run from 000 to 360")]
    NotOnCircle,
    /// A number too small or too large.
    #[error("`{}` is out of range", key.word())]
    Range {
        /// The key.
        key: Key,
        /// The least it may be.
        least: u32,
        /// The most it may be.
        most: u32,
    },
    /// A word that is none of the choices.
    #[error("`{}` cannot be `{found}`", key.word())]
    Choice {
        /// The key.
        key: Key,
        /// What was written.
        found: String,
        /// What may stand there.
        choices: Vec<String>,
        /// The nearest of them.
        nearest: Option<String>,
    },
    /// No time of the day.
    #[error("that is not a time of the day")]
    Time,
    /// A day that the magnetic model does not reach.
    #[error("{date} is outside the dates the magnetic model is made for, {} to {}", Model::FIRST, Model::LAST)]
    Date {
        /// The day.
        date: Date,
    },
    /// Two printed angles.
    #[error("`declination` and `gm_angle` say the same thing twice")]
    TwoAngles,
    /// A year or a change of nothing printed.
    #[error("`{}` belongs to a printed number, and none is here", .0.word())]
    NothingPrinted(Key),
    /// Neither points nor legs.
    #[error("there is no course in this file")]
    NoCourse,
    /// Points and legs.
    #[error("a course is given by points or by legs, not by both")]
    PointsAndLegs,
    /// One point.
    #[error("a course with one point has no leg")]
    OnePoint,
    /// A start beside points.
    #[error("the first point is the start already")]
    StartAndPoints,
    /// A way back to the first point where there are no points.
    #[error("`round` goes with points: legs end where they lead")]
    RoundOfLegs,
    /// Two points that follow each other at one place.
    #[error("{first} and {second} are at one place, so no leg leads from one to the other")]
    OnePlace {
        /// The name of the one.
        first: String,
        /// The name of the other.
        second: String,
    },
    /// Two members of one name, or two lists of one member.
    #[error("{0} stands here twice")]
    Twice(String),
    /// As many entries as there are legs are wanted.
    #[error("`{}` wants one entry for each of the {wanted} legs, and here are {found}", key.word())]
    Count {
        /// The key.
        key: Key,
        /// How many there are.
        found: usize,
        /// How many legs there are.
        wanted: usize,
    },
    /// Nothing measured.
    #[error("nothing is measured here")]
    NothingMeasured,
    /// Where a leg came out, not to be read.
    #[error("`came_out`: {0}")]
    CameOut(CameOutError),
    /// More tables than a course has room for.
    #[error("that is more than {most} times `{}`", key.word())]
    TooMany {
        /// The key.
        key: Key,
        /// The most.
        most: usize,
    },
}

impl Kind for FaultKind {
    type Key = Key;

    fn slip(&self) -> Option<&Slip<Key>> {
        if let FaultKind::Slip(slip) = self { Some(slip) } else { None }
    }

    fn label(&self) -> String {
        match self {
            FaultKind::Slip(slip) => slip.label(),
            FaultKind::Missing(_) => "in this one".into(),
            FaultKind::NoNorth => "no letter".into(),
            FaultKind::Range { least, most, .. } => format!("from {least} to {most}"),
            FaultKind::Choice { .. } => "not one of the choices".into(),
            FaultKind::TwoAngles | FaultKind::Twice(_) | FaultKind::OnePlace { .. } => "the second of the two".into(),
            FaultKind::OnePoint => "the only one".into(),
            FaultKind::NothingPrinted(_) => "of which number?".into(),
            _ => String::new(),
        }
    }

    fn missing(&self) -> Vec<Key> {
        match self {
            FaultKind::Missing(key) => vec![*key],
            FaultKind::NoCourse => vec![Key::Point, Key::Leg],
            FaultKind::NothingMeasured => vec![Key::Bearings, Key::CameOut],
            _ => Vec::new(),
        }
    }

    fn help(&self) -> String {
        match self {
            FaultKind::Slip(slip) => slip.help(),
            FaultKind::Missing(key @ Key::Title) => format!("add a line at the top, like this: {}", key.example()),
            FaultKind::Value { key: key @ Key::Declination, .. } => {
                format!("write what the map prints, {}, or declination = \"model\"", key.example())
            }
            FaultKind::Missing(key)
            | FaultKind::Value { key, .. }
            | FaultKind::Range { key, .. }
            | FaultKind::Bearing { key, .. } => format!("write it like this: {}", key.example()),
            FaultKind::NoNorth => "write T, G or M behind it: \"070 G\" off grid lines, \"070 M\" by the needle".into(),
            FaultKind::NotMagnetic => "write what the dial showed, with M or without a letter".into(),
            FaultKind::NotOnCircle => "check its figures".into(),
            FaultKind::Choice { nearest, choices, .. } => {
                let meant = nearest.as_ref().map(|word| format!("did you mean \"{word}\"? ")).unwrap_or_default();
                format!("{meant}The choices are {}", choices.join(", "))
            }
            FaultKind::Time => format!("write it like this: {}", Key::BackBy.example()),
            FaultKind::Date { .. } => format!(
                "choose a date in that time, or write what your map prints: {}, with {} and {}",
                Key::Declination.example(),
                Key::Year.example(),
                Key::AnnualChange.example()
            ),
            FaultKind::TwoAngles => "keep the one that your map prints".into(),
            FaultKind::NothingPrinted(_) => {
                format!("add what the map prints, {}, or leave this line out", Key::Declination.example())
            }
            FaultKind::NoCourse => {
                "add two points or more, each with a line [[point]] and a place below it; or legs, each with a line [[leg]], a bearing and metres".into()
            }
            FaultKind::PointsAndLegs => "keep either the [[point]] tables or the [[leg]] tables".into(),
            FaultKind::OnePoint => "add another [[point]] with its place".into(),
            FaultKind::StartAndPoints => "leave `start` out, or make it the first [[point]]".into(),
            FaultKind::RoundOfLegs => "leave it out; how far the legs end from the start is told anyway".into(),
            FaultKind::OnePlace { .. } => {
                "leave one of the two out, or give it its own place; to come back to the first point, write round = true".into()
            }
            FaultKind::Twice(_) => "give one another name, or keep one".into(),
            FaultKind::Count { .. } => "write - for a leg that was not measured".into(),
            FaultKind::NothingMeasured => format!("write what was measured: {}", Key::Bearings.example()),
            FaultKind::CameOut(_) => format!("write it like this: {}", Key::CameOut.example()),
            FaultKind::TooMany { .. } => "make two courses of it".into(),
        }
    }
}
