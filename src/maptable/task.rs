//! The tasks of the table, and all that one of them depends on.

use super::amount::{HALF_CIRCLE, near};
use super::around::Around;
use super::lines::{Leg, LineName, MapLines};
use super::sighting::Sighting;
use super::table::{Site, Table};
use crate::angle::{Angle, Bearing, Convergence, Declination, GridMagnetic, Magnetic, North, True};
use std::borrow::Cow;

/// Something to look at, with the direction it lies in.
#[derive(Clone, Debug, PartialEq)]
pub struct Landmark {
    /// Its name with its article: `the hut`.
    pub name: Cow<'static, str>,
    /// Its azimuth.
    pub azimuth: Bearing<True>,
}

/// What the place tells of iron, where one looks back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Doubt {
    /// Nobody asks: it is said that there is none.
    NotAsked,
    /// None: the needle points the same way some steps off, or back sight and fore sight agree.
    Unfounded,
    /// Iron lies beside one. Then a sight may differ by the iron or by where one stands.
    Iron,
    /// No iron is to be seen, but some steps off the needle pointed another way: something turns it here.
    Unseen,
    /// One stands at the very mark that the fore sight was taken to, and so on its line, and yet the back sight differs from
    /// it by another angle than 180°: there is iron at one of the two ends.
    AtMark,
}

impl Doubt {
    /// Whether where one stands cannot be told.
    #[must_use]
    pub const fn holds(self) -> bool {
        matches!(self, Doubt::Iron | Doubt::Unseen | Doubt::AtMark)
    }

    /// Why it cannot be told, a sentence; none where it can.
    #[must_use]
    pub const fn why(self) -> Option<&'static str> {
        match self {
            Doubt::NotAsked | Doubt::Unfounded => None,
            Doubt::Iron => Some(
                "Beside you is iron: it may turn the needle, and nobody sees by how much, so the sight may differ by the iron or by where you stand.",
            ),
            Doubt::Unseen => Some(
                "Ten steps back the needle pointed another way: something that you do not see turns it here, so the sight may differ by that or by where you stand.",
            ),
            Doubt::AtMark => Some(
                "You stand at the very mark of the fore sight, so the back sight should differ from it by just 180°. It does not: iron turns the needle here, or turned it where you began.",
            ),
        }
    }
}

/// What is to be done.
#[derive(Clone, Debug, PartialEq)]
pub enum Task {
    /// Turn the map so that it lies as the ground does, with the help of a line that shows this north.
    Orient(North),
    /// On an oriented map, take the magnetic bearings of these legs with the needle, one after the other, and read each.
    OrientedBearing {
        /// The legs in order, one at least.
        legs: Vec<Leg>,
        /// How the oriented map lies; it must be left like that.
        lies: Bearing<True>,
        /// Whether the map may lie off, so that beside what the dial shows the magnetic bearing itself is asked, leg by leg.
        bearing_asked: bool,
    },
    /// Take the bearing of a leg from the map alone, by the lines that show this north, whichever way the map lies.
    MapBearing {
        /// The leg.
        leg: Leg,
        /// The lines to use; the bearing then counts from that north as the map draws it.
        north: North,
    },
    /// Set the bearing, turn until the needle is boxed, and choose what lies ahead.
    Follow {
        /// The bearing as it is given.
        bearing: Angle,
        /// The north it counts from.
        north: North,
        /// What is in view.
        landmarks: Vec<Landmark>,
    },
    /// Look back along the line that is walked, and say where one stands.
    BackSight {
        /// The bearing that is walked.
        walked: Bearing<Magnetic>,
        /// The azimuth in which the mark at the start now lies.
        start_mark: Bearing<True>,
        /// What the place tells of iron.
        doubt: Doubt,
    },
    /// Turn yourself until the travel arrow points at a mark in view, turn the dial until the needle is boxed, and read.
    Take(Sighting),
    /// Without a compass, turn the map until what is on it lies toward what is in view.
    Around(Around),
    /// Bring a number to the index line.
    SetDial {
        /// The number, 0 to 360.
        number: Angle,
    },
}

/// A task with everything that it depends on.
#[derive(Clone, Debug, PartialEq)]
pub struct Exercise {
    /// What is to be done.
    pub task: Task,
    /// How everything lies at first.
    pub start: Table,
    /// Declination today.
    pub declination: Declination,
    /// Declination as the map prints it: the direction of its magnetic-north line.
    pub printed: Declination,
    /// Convergence of the map's grid.
    pub convergence: Convergence,
    /// How far iron near the table turns the needle, clockwise positive.
    pub iron: Angle,
    /// The smallest graduation of the dial.
    pub graduation: Angle,
    /// The map's lines.
    pub lines: MapLines,
}

impl Exercise {
    /// What the needle obeys.
    #[must_use]
    pub const fn site(&self) -> Site {
        Site { declination: self.declination, iron: self.iron }
    }

    /// Where the needle points.
    #[must_use]
    pub fn needle(&self) -> Bearing<True> {
        self.site().needle()
    }

    /// Today's grid-magnetic angle.
    #[must_use]
    pub fn grid_magnetic(&self) -> GridMagnetic {
        self.declination.then(self.convergence.inverse())
    }

    /// How far magnetic north lies clockwise of this north today.
    #[must_use]
    pub fn magnetic_from(&self, north: North) -> Angle {
        match north {
            North::True => self.declination.angle(),
            North::Grid => self.grid_magnetic().angle(),
            North::Magnetic => Angle::ZERO,
        }
    }

    /// How far the map's lines of this north lie clockwise of its true north, as drawn.
    #[must_use]
    pub fn drawn(&self, north: North) -> Angle {
        match north {
            North::True => Angle::ZERO,
            North::Grid => self.convergence.angle(),
            North::Magnetic => self.printed.angle(),
        }
    }

    /// How far off the wanted number the dial may be: half a graduation.
    #[must_use]
    pub fn dial_tolerance(&self) -> Angle {
        self.graduation.abs() / 2.0
    }

    /// The number that belongs on the dial before anything is turned; none where the dial is turned to take a bearing.
    #[must_use]
    pub fn wanted_dial(&self) -> Option<Angle> {
        match &self.task {
            Task::Orient(north) => Some((-self.magnetic_from(*north)).wrapped()),
            Task::Follow { bearing, north, .. } => Some((*bearing - self.magnetic_from(*north)).wrapped()),
            Task::BackSight { walked, .. } => Some(walked.angle()),
            Task::SetDial { number } => Some(number.wrapped()),
            Task::OrientedBearing { .. } | Task::MapBearing { .. } | Task::Take(_) | Task::Around(_) => None,
        }
    }

    /// How an oriented map comes to lie when the work is right: 0, or what iron and a dated line leave.
    #[must_use]
    pub fn lies_after_orienting(&self, by: North) -> Angle {
        match by {
            North::Magnetic => (self.needle().angle() - self.printed.angle()).wrapped_half(),
            North::True | North::Grid => self.iron.wrapped_half(),
        }
    }

    /// The bearing of a leg from the map's true north, if the map has it.
    #[must_use]
    pub fn leg(&self, leg: Leg) -> Option<Bearing<True>> {
        self.lines.toward(LineName::Leg(leg))
    }

    /// The number that right work reads for a leg: by the needle on a map that lies so, or by the map's lines.
    #[must_use]
    pub fn reading(&self, leg: Leg) -> Option<Angle> {
        let toward = self.leg(leg)?.angle();
        match &self.task {
            Task::OrientedBearing { lies, .. } => Some((toward + lies.angle() - self.needle().angle()).wrapped()),
            Task::MapBearing { north, .. } => Some((toward - self.drawn(*north)).wrapped()),
            _ => None,
        }
    }

    /// The magnetic bearing of a leg, from an undisturbed needle on a map that lies right.
    #[must_use]
    pub fn magnetic_bearing(&self, leg: Leg) -> Option<Angle> {
        Some((self.leg(leg)?.angle() - self.declination.angle()).wrapped())
    }

    /// Whether the magnetic bearing is asked beside what the dial shows.
    #[must_use]
    pub const fn asks_bearing(&self) -> bool {
        matches!(self.task, Task::OrientedBearing { bearing_asked: true, .. })
    }

    /// The legs whose bearings are asked.
    #[must_use]
    pub fn legs(&self) -> Vec<Leg> {
        match &self.task {
            Task::OrientedBearing { legs, .. } => legs.clone(),
            Task::MapBearing { leg, .. } => vec![*leg],
            _ => Vec::new(),
        }
    }

    /// The same exercise, begun as things now lie, with the compass where it is and nothing chosen yet.
    #[must_use]
    pub fn from_state(&self, state: &Table) -> Exercise {
        Exercise { start: Table { chosen: None, ..*state }, ..self.clone() }
    }

    /// The azimuth that the travel arrow must point to, where it is sighted along.
    #[must_use]
    pub fn ahead(&self) -> Option<Bearing<True>> {
        let dial = self.wanted_dial()?;
        match &self.task {
            Task::Follow { .. } => Some(self.needle().turned(dial)),
            Task::BackSight { .. } => Some(self.needle().turned(dial + HALF_CIRCLE)),
            _ => None,
        }
    }

    /// The landmark nearest to an azimuth, within 10°; its number counts from 0.
    #[must_use]
    pub fn landmark_near(&self, azimuth: Bearing<True>) -> Option<u8> {
        let Task::Follow { landmarks, .. } = &self.task else { return None };
        let off = |landmark: &Landmark| azimuth.turn_to(landmark.azimuth).abs();
        landmarks
            .iter()
            .enumerate()
            .filter(|(_, landmark)| near(landmark.azimuth.angle(), azimuth.angle(), IN_LINE))
            .min_by_key(|(_, mark)| off(mark))
            .and_then(|(index, _)| u8::try_from(index).ok())
    }
}

/// Landmarks farther from the travel arrow than this do not lie ahead.
const IN_LINE: Angle = Angle::from_degrees(10.0);
