//! The way that one means to walk, as it is told: by the compass, or by the map's lines with the angle between the two.

use super::super::common::{InTenths, Tenths, angle, bearing, bearing_of, change_words, east_west, figures, sum, wrap};
use crate::angle::{Bearing, Magnetic, North};
use crate::problem::{Draw, Fact, FactName, Step};

/// A way to walk.
#[derive(Clone, Copy)]
pub(super) struct Course {
    /// What the compass shows along it.
    pub(super) magnetic: Bearing<Magnetic>,
    /// The north that the text counts it from.
    pub(super) told_from: North,
    /// How far magnetic north lies clockwise of that north; nothing where the two are one.
    pub(super) between: Tenths,
}

impl Course {
    /// A way told by the compass.
    pub(super) fn by_compass(magnetic: Tenths) -> Course {
        Course { magnetic: bearing_of(magnetic), told_from: North::Magnetic, between: 0 }
    }

    /// A way told by the map's lines, with an angle from `least` to `most` whole degrees to magnetic north.
    pub(super) fn by_map(least: i32, most: i32, draw: &mut Draw) -> Course {
        let told_from = draw.pick(&[North::True, North::Grid]);
        let between = draw.between(least, most) * 10 * draw.sign();
        Course { magnetic: bearing_of(draw.between(0, 359) * 10), told_from, between }
    }

    /// The number that is told.
    pub(super) fn told(self) -> Tenths {
        wrap(self.magnetic.in_tenths() + self.between)
    }

    /// What somebody walks on who brings the number to the compass the wrong way round.
    pub(super) fn flipped(self) -> Tenths {
        wrap(self.told() + self.between)
    }

    /// `065° T; declination is 12° E`.
    pub(super) fn words(self) -> String {
        let told = bearing(self.told(), self.told_from);
        match self.told_from {
            North::Magnetic => told.to_string(),
            North::True => format!("{told}; declination is {}", east_west(self.between)),
            North::Grid => format!("{told}; the G-M angle is {}", east_west(self.between)),
        }
    }

    /// From the map's number to the compass's, and why; none where the compass's is told.
    pub(super) fn step(self) -> Option<Step> {
        (self.told_from != North::Magnetic).then(|| {
            let change = change_words(self.told_from, self.between, true);
            let words = format!(
                "The needle counts from magnetic north, the map's lines do not, so change before you look up. {change}"
            );
            Step::new(words, sum(self.told(), -self.between)).decides(
                "The needle counts from magnetic north, the map's lines do not: is the angle added or taken off?",
            )
        })
    }

    /// `From map to compass: 065 − 12 = 053`, or the number itself.
    pub(super) fn short(self) -> String {
        match self.told_from {
            North::Magnetic => format!("On {}", figures(self.magnetic)),
            _ => format!("From map to compass {}", sum(self.told(), -self.between)),
        }
    }

    /// What a solver needs to know of it.
    pub(super) fn facts(self) -> Vec<Fact> {
        let told = angle(self.told());
        let between = angle(self.between);
        match self.told_from {
            North::Magnetic => vec![Fact::angle(FactName::MagneticBearing, told)],
            North::True => {
                vec![Fact::angle(FactName::TrueBearing, told), Fact::angle(FactName::Declination, between)]
            }
            North::Grid => {
                vec![Fact::angle(FactName::GridBearing, told), Fact::angle(FactName::GridMagnetic, between)]
            }
        }
    }
}
