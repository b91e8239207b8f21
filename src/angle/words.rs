//! The words of norths, of their lines on a map, of ways to turn, and of the way from one north to another: each stands here
//! once, for questions, explanations, figures, the map table and the command line alike.

use super::{Angle, EastWest, North};
use std::fmt;

impl North {
    /// The north itself: `true north`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            North::True => "true north",
            North::Grid => "grid north",
            North::Magnetic => "magnetic north",
        }
    }

    /// The letters that stand for it in a diagram: `TN`, `GN`, `MN`.
    #[must_use]
    pub const fn short(self) -> &'static str {
        match self {
            North::True => "TN",
            North::Grid => "GN",
            North::Magnetic => "MN",
        }
    }

    /// A line on a map that runs to this north: `true-north line`, `north-south grid line`.
    #[must_use]
    pub const fn line(self) -> &'static str {
        match self {
            North::True => "true-north line",
            North::Grid => "north-south grid line",
            North::Magnetic => "magnetic-north line",
        }
    }

    /// All such lines of a map: `true-north lines`.
    #[must_use]
    pub const fn lines(self) -> &'static str {
        match self {
            North::True => "true-north lines",
            North::Grid => "north-south grid lines",
            North::Magnetic => "magnetic-north lines",
        }
    }

    /// Which of the two, map or compass, has this north: `map (grid)`, `compass (magnetic)`.
    const fn bearer(self) -> &'static str {
        match self {
            North::True => "map (true)",
            North::Grid => "map (grid)",
            North::Magnetic => "compass (magnetic)",
        }
    }
}

/// The two ways to turn.
pub const SENSES: [&str; 2] = ["clockwise", "counterclockwise"];

/// Which of the [`SENSES`] a signed turn has, clockwise positive; nothing turned is clockwise.
#[must_use]
pub fn sense(turn: Angle) -> &'static str {
    SENSES[usize::from(turn < Angle::ZERO)]
}

/// The way from one north to another, as a rule: `From map (true) to compass (magnetic), west is added`. The side is the one
/// that maps print.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ConversionRule {
    /// The north that the given bearing counts from.
    pub from: North,
    /// The north that is wanted.
    pub to: North,
    /// How far the wanted north lies east of the given one.
    pub east: Angle,
}

impl ConversionRule {
    /// How far apart the norths lie, as maps print it: declination and G-M angle say where magnetic north lies, convergence where
    /// grid north lies from true; east is positive.
    fn printed(self) -> Angle {
        let as_given = self.to == North::Magnetic || (self.to, self.from) == (North::Grid, North::True);
        if as_given { self.east } else { -self.east }
    }

    /// What is done with the angle on this way: `added` or `taken off`.
    #[must_use]
    pub fn done(self) -> &'static str {
        if self.east > Angle::ZERO { "taken off" } else { "added" }
    }

    /// Why the number changes so between a map's lines and the compass, to stand before the rule: `Magnetic north lies clockwise of
    /// true north, so the compass counts less far`. None where both norths are one, and between two norths of the map.
    #[must_use]
    pub fn reason(self) -> Option<impl fmt::Display> {
        let (lines, counts) = match (self.from, self.to) {
            (lines, North::Magnetic) => (lines, "the compass counts"),
            (North::Magnetic, lines) => (lines, "the map counts"),
            _ => return None,
        };
        let side = EastWest::of(self.printed())?;
        let lies = if side == EastWest::East { "clockwise" } else { "counterclockwise" };
        let far = if self.east > Angle::ZERO { "less far" } else { "further" };
        Some(fmt::from_fn(move |out| write!(out, "Magnetic north lies {lies} of {}, so {counts} {far}", lines.name())))
    }
}

impl fmt::Display for ConversionRule {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "From {} to {}, ", self.from.bearer(), self.to.bearer())?;
        match EastWest::of(self.printed()) {
            Some(side) => write!(out, "{} is {}", side.word(), self.done()),
            None => out.write_str("nothing changes"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_reason_of_a_rule_says_where_magnetic_north_lies_and_which_number_is_the_smaller() {
        let reason = |from, to, east| {
            ConversionRule { from, to, east: Angle::from_degrees(east) }.reason().map(|reason| reason.to_string())
        };
        let (t, g, m) = (North::True, North::Grid, North::Magnetic);
        let said = |text: &str| Some(text.to_owned());
        assert_eq!(
            reason(t, m, -17.0),
            said("Magnetic north lies counterclockwise of true north, so the compass counts further")
        );
        assert_eq!(
            reason(g, m, 12.5),
            said("Magnetic north lies clockwise of grid north, so the compass counts less far")
        );
        // 17° W: from the compass, true north lies 17° to the east.
        assert_eq!(
            reason(m, t, 17.0),
            said("Magnetic north lies counterclockwise of true north, so the map counts less far")
        );
        assert_eq!(reason(m, g, -4.0), said("Magnetic north lies clockwise of grid north, so the map counts further"));
        assert_eq!(reason(t, m, 0.0), None);
        assert_eq!(reason(t, g, 1.5), None);
    }

    #[test]
    fn a_rule_names_the_side_that_the_map_prints() {
        let rule = |from, to, east| ConversionRule { from, to, east: Angle::from_degrees(east) }.to_string();
        let (t, g, m) = (North::True, North::Grid, North::Magnetic);
        assert_eq!(rule(t, m, -17.0), "From map (true) to compass (magnetic), west is added");
        assert_eq!(rule(m, t, 17.0), "From compass (magnetic) to map (true), west is taken off");
        assert_eq!(rule(g, m, 12.5), "From map (grid) to compass (magnetic), east is taken off");
        assert_eq!(rule(g, t, -1.5), "From map (grid) to map (true), east is added");
        assert_eq!(rule(t, g, 1.5), "From map (true) to map (grid), east is taken off");
        assert_eq!(rule(t, m, 0.0), "From map (true) to compass (magnetic), nothing changes");
    }

    #[test]
    fn turns_are_clockwise_or_counterclockwise() {
        assert_eq!(
            [10.0, 0.0, -0.1].map(|turn| sense(Angle::from_degrees(turn))),
            ["clockwise", "clockwise", "counterclockwise"]
        );
    }
}
