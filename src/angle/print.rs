//! Printing angles the way the trade writes them. Signs never reach a screen: letters do.
use super::Angle;

/// East or west.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum EastWest {
    /// East: clockwise of the reference north, positive.
    East,
    /// West: counterclockwise of the reference north, negative.
    West,
}

impl EastWest {
    /// `E` or `W`.
    #[must_use]
    pub const fn letter(self) -> char {
        match self {
            EastWest::East => 'E',
            EastWest::West => 'W',
        }
    }
}

/// Three figures, wrapped after rounding so that 359.6 prints as `000`: `065`, or with decimals `065.5`.
#[must_use]
pub fn three_figures(angle: Angle, decimals: usize) -> String {
    let _ = (angle, decimals);
    todo!()
}

/// The size in degrees and minutes, rounded to the minute, 60′ carried: `13°41′`.
#[must_use]
pub fn degrees_minutes(angle: Angle) -> String {
    let _ = angle;
    todo!()
}

/// The size in minutes of arc: `41′`.
#[must_use]
pub fn minutes_words(angle: Angle) -> String {
    let _ = angle;
    todo!()
}

/// A signed angle, east positive, as the map prints it: `13°41′ W`, `14° E`; zero has no letter: `0°`.
#[must_use]
pub fn declination_words(angle: Angle) -> String {
    let _ = angle;
    todo!()
}

/// A signed angle, east positive, in decimal degrees with its letter: `13.7° W`; zero has no letter: `0.0°`.
#[must_use]
pub fn decimal_declination(angle: Angle, decimals: usize) -> String {
    let _ = (angle, decimals);
    todo!()
}
