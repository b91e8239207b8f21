//! Reading angles, generously in form and exactly in value.
use super::{Angle, North};

/// A bearing as somebody typed it: not wrapped, with the letter of its north if one was given.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TypedBearing {
    /// The angle as typed, before any wrapping: `403` stays 403.
    pub typed: Angle,
    /// The north's letter or word, if one was typed.
    pub north: Option<North>,
}

/// A signed angle (declination, G-M angle) as somebody typed it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TypedAngle {
    /// East positive.
    pub angle: Angle,
    /// Whether E or W was written (a bare number counts as signed, east positive).
    pub lettered: bool,
}

/// Why a text could not be read.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("{kind}")]
pub struct ReadError {
    /// What is wrong.
    pub kind: ReadErrorKind,
}

/// The kinds of [`ReadError`].
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ReadErrorKind {
    /// Nothing but blanks.
    #[error("nothing was typed")]
    Empty,
}

/// Reads a bearing.
///
/// # Errors
/// [`ReadError`] when the text is empty, too long, or not a bearing.
pub fn read_bearing(text: &str) -> Result<TypedBearing, ReadError> {
    let _ = text;
    todo!()
}

/// Reads a declination or G-M angle.
///
/// # Errors
/// [`ReadError`] when the text is empty, too long, or not an angle.
pub fn read_declination(text: &str) -> Result<TypedAngle, ReadError> {
    let _ = text;
    todo!()
}

/// Reads a plain number; `units` are words that may follow it (compared without case).
///
/// # Errors
/// [`ReadError`] when the text is empty, too long, or not a number.
pub fn read_number(text: &str, units: &[&str]) -> Result<f64, ReadError> {
    let _ = (text, units);
    todo!()
}
