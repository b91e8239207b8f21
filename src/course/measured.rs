//! What was measured on a course, as it is typed in.

use crate::angle::{Angle, Bearing, Magnetic, North, ReadError, read_bearing, read_number};

/// What somebody measured.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    /// Who.
    pub by: String,
    /// How.
    pub taken: Taken,
    /// What the dial showed for each leg; `None` was not measured.
    pub bearings: Vec<Option<Bearing<Magnetic>>>,
    /// Where each leg came out; `None` was not looked at. As many as there are legs, or none at all.
    pub came_out: Vec<Option<CameOut>>,
}

/// How bearings were measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Taken {
    /// Off the plan, corrected, and set on the dial: sums can go wrong.
    OffThePlan,
    /// Sighted from peg to peg: no sum, the compass alone.
    Sighted,
}

impl Taken {
    /// Both.
    pub const ALL: [Taken; 2] = [Taken::OffThePlan, Taken::Sighted];

    /// As it is written in the file.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Taken::OffThePlan => "off the plan and set",
            Taken::Sighted => "sighted",
        }
    }

    /// As it is said on the command line; a file may say it as well.
    #[must_use]
    pub const fn short_word(self) -> &'static str {
        match self {
            Taken::OffThePlan => "off-plan",
            Taken::Sighted => "sighted",
        }
    }
}

/// Where a leg came out, seen from the peg it was meant to reach.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CameOut {
    /// How far from the peg, in metres.
    pub metres: f64,
    /// In which direction from the peg; means nothing for 0 m.
    pub toward: Bearing<Magnetic>,
}

/// Why a list of measured bearings cannot be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ReadMeasuredError {
    /// One entry is no bearing.
    #[error("entry {number}: {error}")]
    Bearing {
        /// Which, from 1.
        number: usize,
        /// Why.
        error: ReadError,
    },
    /// One entry counts from another north.
    #[error("entry {0} counts from another north; what a compass reads counts from magnetic north: M, or no letter")]
    NotMagnetic(usize),
    /// One entry stands on no compass.
    #[error("entry {0} is no bearing: they run from 000 to 360")]
    NotOnCircle(usize),
}

/// The entries of a text: what stands between commas, or else between blanks.
pub(super) fn entries(text: &str) -> Vec<&str> {
    if text.contains([',', ';']) {
        text.split([',', ';']).map(str::trim).collect()
    } else {
        text.split_whitespace().collect()
    }
}

/// Whether an entry says that nothing was measured.
pub(super) fn is_left_out(entry: &str) -> bool {
    matches!(entry.trim(), "" | "-" | "–" | "—" | "?")
}

/// Reads measured bearings, `029,149,269` or `029 149 269`; `-` stands for a leg that was not measured.
///
/// # Errors
/// [`ReadMeasuredError`] with the number of the entry.
pub fn read_bearings(text: &str) -> Result<Vec<Option<Bearing<Magnetic>>>, ReadMeasuredError> {
    let read = |(number, entry): (usize, &str)| one(entry, number);
    (1..).zip(entries(text)).map(read).collect()
}

/// Reads one entry.
pub(super) fn one(entry: &str, number: usize) -> Result<Option<Bearing<Magnetic>>, ReadMeasuredError> {
    if is_left_out(entry) {
        return Ok(None);
    }
    let typed = read_bearing(entry).map_err(|error| ReadMeasuredError::Bearing { number, error })?;
    if typed.north.is_some_and(|north| north != North::Magnetic) {
        return Err(ReadMeasuredError::NotMagnetic(number));
    }
    if !typed.is_on_the_circle() {
        return Err(ReadMeasuredError::NotOnCircle(number));
    }
    Ok(Some(Bearing::from_angle(typed.typed)))
}

/// Why it cannot be read where a leg came out.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CameOutError {
    /// Not metres and a bearing.
    #[error("that is not how far and in which direction from the peg")]
    Form,
    /// Not a length.
    #[error("the metres cannot be read: {0}")]
    Metres(ReadError),
    /// Not a length that is looked at.
    #[error("the metres run from 0 to 100000")]
    Range,
    /// Not a bearing.
    #[error("the direction cannot be read: {0}")]
    Toward(ReadError),
    /// Another north.
    #[error("the direction from the peg is read at the compass: M, or no letter")]
    NotMagnetic,
    /// On no compass.
    #[error("the direction from the peg is no bearing: they run from 000 to 360")]
    NotOnCircle,
}

impl CameOut {
    /// Reads `12 m, 230 M`, `12 m 230`, `at the peg`; `-` was not looked at.
    pub(super) fn read(text: &str) -> Result<Option<CameOut>, CameOutError> {
        let text = text.trim();
        if is_left_out(text) {
            return Ok(None);
        }
        let at_the_peg = CameOut { metres: 0.0, toward: Bearing::from_angle(Angle::ZERO) };
        if text.eq_ignore_ascii_case("at the peg") || text == "0" || text == "0 m" {
            return Ok(Some(at_the_peg));
        }
        let digits = text.find(|c: char| !c.is_ascii_digit() && c != '.').ok_or(CameOutError::Form)?;
        let (metres, rest) = text.split_at(digits);
        let rest = rest.trim_start().strip_prefix(['m', 'M']).ok_or(CameOutError::Form)?;
        let toward = rest.trim_start_matches(|c: char| c.is_whitespace() || c == ',');
        let metres = read_number(metres, &[]).map_err(CameOutError::Metres)?;
        if !(0.0..=100_000.0).contains(&metres) {
            return Err(CameOutError::Range);
        }
        let typed = read_bearing(toward).map_err(CameOutError::Toward)?;
        if typed.north.is_some_and(|north| north != North::Magnetic) {
            return Err(CameOutError::NotMagnetic);
        }
        if !typed.is_on_the_circle() {
            return Err(CameOutError::NotOnCircle);
        }
        Ok(Some(CameOut { metres, toward: Bearing::from_angle(typed.typed) }))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bearings_stand_between_commas_or_blanks_and_a_dash_leaves_one_out() {
        let degrees =
            |text| read_bearings(text).map(|all| all.iter().map(|b| b.map(Bearing::degrees)).collect::<Vec<_>>());
        assert_eq!(degrees("029,149,269"), Ok(vec![Some(29.0), Some(149.0), Some(269.0)]));
        assert_eq!(degrees("029 - 269"), Ok(vec![Some(29.0), None, Some(269.0)]));
        assert_eq!(degrees("029 M, , 360"), Ok(vec![Some(29.0), None, Some(0.0)]));
        assert_eq!(degrees("029 T, 3"), Err(ReadMeasuredError::NotMagnetic(1)));
        assert_eq!(degrees("029, 403"), Err(ReadMeasuredError::NotOnCircle(2)));
        assert_eq!(
            degrees("029, west-ish").unwrap_err().to_string(),
            "entry 2: that is not a bearing: type a number of degrees, like 065"
        );
    }

    #[test]
    fn where_a_leg_came_out_is_metres_and_a_direction_from_the_peg() {
        let read = |text| CameOut::read(text).map(|out| out.map(|out| (out.metres, out.toward.degrees())));
        assert_eq!(read("12 m, 230 M"), Ok(Some((12.0, 230.0))));
        assert_eq!(read("7.5m 040"), Ok(Some((7.5, 40.0))));
        assert_eq!(read("at the peg"), Ok(Some((0.0, 0.0))));
        assert_eq!(read("-"), Ok(None));
        assert_eq!(read("12 paces"), Err(CameOutError::Form));
        assert_eq!(read("12"), Err(CameOutError::Form));
        assert_eq!(read("12 m, 230 T"), Err(CameOutError::NotMagnetic));
        assert_eq!(read("12 m, 403 M"), Err(CameOutError::NotOnCircle));
        assert!(matches!(read("12 m"), Err(CameOutError::Toward(_))));
    }
}
