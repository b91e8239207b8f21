//! A map that is laid by what stands around one: marks that one knows, or a line feature that runs past.

use super::amount::{HALF_CIRCLE, size, turn, turn_to_line, turn_words};
use super::task::{Exercise, Task};
use super::verdict::capital;
use crate::angle::{Angle, Bearing, True};
use crate::terrain::Outlook;
use std::sync::Arc;

/// Something that stands around one, and where it lies.
#[derive(Clone, Debug, PartialEq)]
pub struct Feature {
    /// Its name on the ground: `Fern Tower`, `the tower`.
    pub name: String,
    /// Where it lies; on the map that is oriented, its mark lies there, too.
    pub azimuth: Bearing<True>,
}

/// What a map is laid by.
#[derive(Clone, Debug, PartialEq)]
pub enum LaidBy {
    /// Two marks that stand in view and on the map.
    Marks([Feature; 2]),
    /// A straight feature that runs past one, this way and half a circle on, and something that stands beside it.
    Line {
        /// The feature, and one of the two ways along it.
        line: Feature,
        /// What stands beside it.
        beside: Feature,
    },
}

/// A map to be laid as the ground lies, without a compass.
#[derive(Clone, Debug, PartialEq)]
pub struct Around {
    /// The map and the place on it where one stands.
    pub outlook: Arc<Outlook>,
    /// That place on the map, as it is called: `P`, `your place on the line`.
    pub stand: &'static str,
    /// Where one looks: up in the picture.
    pub facing: Bearing<True>,
    /// What it is laid by.
    pub by: LaidBy,
}

impl Around {
    /// All that stands around one; a line feature at both of its ends.
    #[must_use]
    pub fn features(&self) -> Vec<Feature> {
        match &self.by {
            LaidBy::Marks(marks) => marks.to_vec(),
            LaidBy::Line { line, beside } => {
                let back = Feature { azimuth: line.azimuth.back(), ..line.clone() };
                vec![line.clone(), back, beside.clone()]
            }
        }
    }

    /// Where the map lies, off its right place, after each wrong way of working.
    pub(super) fn wrong_lies(&self) -> Vec<(super::Fault, Angle)> {
        use super::Fault;
        let mut list = vec![(Fault::MapUpsideDown, HALF_CIRCLE), (Fault::MapTopAhead, self.facing.angle())];
        if let LaidBy::Marks([one, other]) = &self.by {
            list.push((Fault::MarksSwapped, turn(one.azimuth.angle(), other.azimuth.angle())));
        }
        list
    }

    /// What stands where and where it lies on the map, for those who cannot see the picture. Of a line both ways are one: which of them
    /// belongs to which, the thing beside it has to tell.
    pub(super) fn describe(&self, map: Bearing<True>) -> String {
        let from_ahead = |off: Angle| match off {
            off if off == Angle::ZERO => "straight ahead".to_owned(),
            off => format!("{} of straight ahead", turn_words(off)),
        };
        let lies = |feature: &Feature| {
            let on_map = feature.azimuth.turned(map.angle());
            format!(
                "{} lies {}; on the map, seen from {}, {}.",
                capital(&feature.name),
                from_ahead(self.facing.turn_to(feature.azimuth)),
                self.stand,
                from_ahead(self.facing.turn_to(on_map))
            )
        };
        match &self.by {
            LaidBy::Marks([one, other]) => format!("{} {}", lies(one), lies(other)),
            LaidBy::Line { line, beside } => {
                let runs = |azimuth: Bearing<True>| from_ahead(turn_to_line(self.facing.angle(), azimuth.angle()));
                format!(
                    "{} runs {} and back the other way; on the map it runs {} and back the other way. {}",
                    capital(&line.name),
                    runs(line.azimuth),
                    runs(line.azimuth.turned(map.angle())),
                    lies(beside)
                )
            }
        }
    }

    /// Which side of its line the thing beside it stands, as one looks along the line, ahead of oneself: `left` or `right`.
    #[must_use]
    pub fn side(&self) -> Option<&'static str> {
        match &self.by {
            LaidBy::Marks(_) => None,
            LaidBy::Line { line, beside } => {
                let ahead = self.facing.turned(turn_to_line(self.facing.angle(), line.azimuth.angle()));
                Some(if ahead.turn_to(beside.azimuth) < Angle::ZERO { "left" } else { "right" })
            }
        }
    }

    /// How far off the map lies, and that each mark then lies as far beside what it stands for.
    pub(super) fn off_reason(&self, off: Angle) -> String {
        format!("Seen from {}, each mark on it lies {} beside what it stands for.", self.stand, size(off))
    }
}

impl Exercise {
    /// What a map is laid by, where that is done without a compass.
    #[must_use]
    pub const fn around(&self) -> Option<&Around> {
        match &self.task {
            Task::Around(around) => Some(around),
            _ => None,
        }
    }
}
