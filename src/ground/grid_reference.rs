//! Grid references as a map reader says them: four to ten figures, with or without the letters of a 100 km square.
//!
//! What lives here: `347582` and `NB 34 58`, their corner in metres, reading and printing. What does not: the zone, which a
//! map reader leaves out ([`super::Mgrs`] has it).

use crate::numbers::whole;
use std::fmt;

/// How many metres the side of a lettered square has.
const SQUARE_M: u32 = 100_000;

/// A grid reference: the south-west corner of a square whose size follows from the number of figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct GridReference {
    letters: Option<[u8; 2]>,
    /// 2 to 5 figures for each of easting and northing.
    half: u8,
    easting: u32,
    northing: u32,
}

/// Why a text is no grid reference.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum GridReferenceError {
    /// Something else than letters and figures.
    #[error("a grid reference has figures, like 347582, and on some maps two letters before them")]
    Shape,
    /// An odd number of figures.
    #[error("a grid reference has as many figures for the easting as for the northing: {0} figures cannot be halved")]
    Odd(usize),
    /// Too few or too many figures.
    #[error("a grid reference has 4, 6, 8 or 10 figures, not {0}")]
    Figures(usize),
}

impl GridReference {
    /// From the corner's metres within its 100 km square, rounded down to so many figures (4, 6, 8 or 10), as a reference
    /// names the square that a point lies in. None for metres outside 0 to 99 999 or another number of figures.
    #[must_use]
    pub fn of_metres(letters: Option<[char; 2]>, east_m: f64, north_m: f64, figures: u8) -> Option<GridReference> {
        let half = figures / 2;
        let inside = |metres: f64| (0.0..f64::from(SQUARE_M)).contains(&metres);
        if !figures.is_multiple_of(2) || !(2..=5).contains(&half) || !inside(east_m) || !inside(north_m) {
            return None;
        }
        let letters = match letters {
            Some(pair) if pair.iter().all(char::is_ascii_uppercase) => Some(pair.map(|letter| letter as u8)),
            Some(_) => return None,
            None => None,
        };
        let step = step_m(half);
        // Truncated, never rounded: the reference is the square's south-west corner (as MGRS does, NGA.STND.0037).
        let figures_of = |metres: f64| whole::<u32>(metres) / step;
        Some(GridReference { letters, half, easting: figures_of(east_m), northing: figures_of(north_m) })
    }

    /// Reads `347582`, `34 58`, `NB 347 582`; blanks may stand anywhere.
    ///
    /// # Errors
    /// [`GridReferenceError`], saying what is wrong.
    pub fn read(text: &str) -> Result<GridReference, GridReferenceError> {
        let packed: String = text.chars().filter(|letter| !letter.is_whitespace()).collect();
        let start = packed.find(|letter: char| letter.is_ascii_digit()).ok_or(GridReferenceError::Shape)?;
        let (letters, figures) = packed.split_at(start);
        let letters = match letters.as_bytes() {
            [] => None,
            [one, other] if one.is_ascii_alphabetic() && other.is_ascii_alphabetic() => {
                Some([one.to_ascii_uppercase(), other.to_ascii_uppercase()])
            }
            _ => return Err(GridReferenceError::Shape),
        };
        if !figures.bytes().all(|byte| byte.is_ascii_digit()) {
            return Err(GridReferenceError::Shape);
        }
        match figures.len() {
            odd if odd % 2 == 1 => Err(GridReferenceError::Odd(odd)),
            count @ (4 | 6 | 8 | 10) => {
                let (easting, northing) = figures.split_at(count / 2);
                let number = |text: &str| text.parse().map_err(|_| GridReferenceError::Shape);
                let half = u8::try_from(count / 2).map_err(|_| GridReferenceError::Shape)?;
                Ok(GridReference { letters, half, easting: number(easting)?, northing: number(northing)? })
            }
            other => Err(GridReferenceError::Figures(other)),
        }
    }

    /// How many figures it has: 4, 6, 8 or 10.
    #[must_use]
    pub const fn figures(self) -> u8 {
        self.half * 2
    }

    /// The letters of its square, if they were given.
    #[must_use]
    pub fn letters(self) -> Option<[char; 2]> {
        self.letters.map(|letters| letters.map(char::from))
    }

    /// The middle of the square that it names, in metres east and north within its 100 km square.
    #[must_use]
    pub fn middle_m(self) -> (f64, f64) {
        let step = f64::from(step_m(self.half));
        let middle = |figures: u32| (f64::from(figures) + 0.5) * step;
        (middle(self.easting), middle(self.northing))
    }

    /// The distance between two south-west corners, in metres on the ground; none where they have different numbers of
    /// figures or lie in differently lettered squares.
    #[must_use]
    pub fn distance_m(self, other: GridReference) -> Option<f64> {
        let one_square = self.letters.is_none() || other.letters.is_none() || self.letters == other.letters;
        (self.half == other.half && one_square).then(|| {
            let metres = |one: u32, other: u32| (f64::from(one) - f64::from(other)) * f64::from(step_m(self.half));
            metres(self.easting, other.easting).hypot(metres(self.northing, other.northing))
        })
    }
}

/// The side of the square that so many figures for each of easting and northing name, in metres.
const fn step_m(half: u8) -> u32 {
    10_u32.pow(5 - half as u32)
}

/// `347582`, with letters `NB 347582`.
impl fmt::Display for GridReference {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some([one, other]) = self.letters() {
            write!(f, "{one}{other} ")?;
        }
        let width = usize::from(self.half);
        write!(f, "{:0width$}{:0width$}", self.easting, self.northing)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_reference_names_the_square_that_the_point_lies_in() {
        // Easting 34.78, northing 58.23 is 347582 (common practice, no source: along the corridor, then up the stairs).
        let reference = |figures| GridReference::of_metres(None, 34_780.0, 58_230.0, figures).map(|it| it.to_string());
        assert_eq!(reference(4).as_deref(), Some("3458"));
        assert_eq!(reference(6).as_deref(), Some("347582"));
        assert_eq!(reference(8).as_deref(), Some("34785823"));
        assert_eq!(reference(10).as_deref(), Some("3478058230"));
        assert_eq!(reference(7), None);
        assert_eq!(GridReference::of_metres(None, 100_000.0, 0.0, 6), None);
    }

    #[test]
    fn what_is_wrong_with_a_reference_is_said() {
        assert_eq!(GridReference::read("34758"), Err(GridReferenceError::Odd(5)));
        assert_eq!(GridReference::read("34"), Err(GridReferenceError::Figures(2)));
        assert_eq!(GridReference::read("347582347582"), Err(GridReferenceError::Figures(12)));
        for text in ["", "NB", "N 3458", "34-58", "34NB58", "ñb3458"] {
            assert_eq!(GridReference::read(text), Err(GridReferenceError::Shape), "{text}");
        }
    }

    #[test]
    fn references_of_other_squares_or_sizes_have_no_distance() {
        let read = |text| GridReference::read(text).expect("a reference");
        assert_eq!(read("NB 3458").distance_m(read("nb3558")), Some(1000.0));
        assert_eq!(read("3458").distance_m(read("NB3459")), Some(1000.0));
        assert_eq!(read("NB 3458").distance_m(read("NC 3458")), None);
        assert_eq!(read("3458").distance_m(read("345582")), None);
    }

    proptest! {
        #[test]
        fn what_is_printed_reads_back_as_itself(east in 0.0..100_000.0, north in 0.0..100_000.0, half in 2_u8..=5, lettered: bool) {
            let letters = lettered.then_some(['N', 'B']);
            let reference = GridReference::of_metres(letters, east, north, half * 2).expect("inside");
            prop_assert_eq!(GridReference::read(&reference.to_string()), Ok(reference));
            prop_assert_eq!(reference.figures(), half * 2);
        }
    }
}
