//! What is sighted from a place of a map: the marks in view, the one that is asked about, and whether the needle can be trusted.

use super::amount::near;
use super::task::{Exercise, Task};
use crate::angle::{Angle, Bearing, North, True};
use crate::terrain::{LandmarkKind, Outlook};
use std::sync::Arc;

/// How near the travel arrow must point to a mark to be said to point at it: what eyes and hands do without a sight.
pub(super) const AT_MARK: Angle = Angle::from_degrees(3.0);

/// A landmark of the map as it stands in view.
#[derive(Clone, Debug, PartialEq)]
pub struct InView {
    /// Its name.
    pub name: String,
    /// What it is.
    pub kind: LandmarkKind,
    /// Where it lies, to the whole degree: eyes see no half of one.
    pub azimuth: Bearing<True>,
    /// How far away, in m, above 0.
    pub distance_m: f64,
    /// How much its top lies above the eyes for each metre of distance; below them negative.
    pub rise: f64,
}

/// Whether the needle can be trusted where one stands, and why.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Trust {
    /// Whether it can.
    pub holds: bool,
    /// Why, a sentence.
    pub why: &'static str,
}

/// A bearing to be taken.
#[derive(Clone, Debug, PartialEq)]
pub struct Sighting {
    /// The map and the place on it where one stands.
    pub outlook: Arc<Outlook>,
    /// What is in view.
    pub marks: Vec<InView>,
    /// Which of the marks is asked about, counted from 0.
    pub target: usize,
    /// The north of the map's lines that the bearing is asked for beside the magnetic one; magnetic north where it is not.
    pub north: North,
    /// Whether the needle can be trusted, where that is asked.
    pub trust: Option<Trust>,
}

impl Sighting {
    /// The mark that is asked about.
    #[must_use]
    pub fn target(&self) -> Option<&InView> {
        self.marks.get(self.target)
    }

    /// Its name.
    #[must_use]
    pub fn target_name(&self) -> &str {
        self.target().map_or("the mark", |mark| &mark.name)
    }

    /// The mark that an arrow of this azimuth points at, within 3°.
    #[must_use]
    pub fn ahead(&self, arrow: Bearing<True>) -> Option<&InView> {
        self.marks.iter().find(|mark| near(mark.azimuth.angle(), arrow.angle(), AT_MARK))
    }
}

impl Exercise {
    /// What is sighted, where a bearing is taken to a mark.
    #[must_use]
    pub const fn sighting(&self) -> Option<&Sighting> {
        match &self.task {
            Task::Take(sighting) => Some(sighting),
            _ => None,
        }
    }

    /// The number that right work reads to the mark that is sighted, 0 to 360: counted from where the needle points, iron and all.
    #[must_use]
    pub fn sighted(&self) -> Option<Angle> {
        let mark = self.sighting()?.target()?;
        Some((mark.azimuth.angle() - self.needle().angle()).wrapped())
    }

    /// Whether the needle's trust is asked.
    #[must_use]
    pub fn asks_trust(&self) -> bool {
        self.sighting().is_some_and(|sighting| sighting.trust.is_some())
    }

    /// The north that a second number counts from: beside what is read, the magnetic bearing on a map that may lie off, or the
    /// bearing for the map's lines. None where the reading is all.
    #[must_use]
    pub fn second_north(&self) -> Option<North> {
        match &self.task {
            Task::OrientedBearing { bearing_asked: true, .. } => Some(North::Magnetic),
            Task::Take(sighting) if sighting.north != North::Magnetic => Some(sighting.north),
            _ => None,
        }
    }

    /// How many numbers are read at the index line.
    #[must_use]
    pub fn readings(&self) -> usize {
        match &self.task {
            Task::Take(_) => 1,
            _ => self.legs().len(),
        }
    }
}
