//! Courses on real ground: read from a file, worked out into a key, drawn as a plan, and what was measured set against it.
//!
//! What lives here: [`Course`] (what the file says), its reader with errors at the line, [`Route`] (each leg's bearings from
//! all three norths, distance, time), three pegs in the open, the cards and the key as data, the plan as a scene, and the
//! [`debrief`] of what was measured. What does not: printing and the command line ([`crate::cli`]), records (nothing of a
//! course is stored), and courses of practice problems ([`crate::skills`]).
//!
//! Distances are metres on the ellipsoid. Declination and the G-M angle are east positive inside; on screens they have letters.

mod card;
pub mod debrief;
mod error;
mod fault;
mod key;
mod measured;
mod pegs;
mod plan;
mod read;
mod route;
#[cfg(test)]
mod tests;
mod time;

pub use card::{BLANK, CardLine, CardPart, SAFETY, card, key_parts};
pub use error::{CourseError, Faults, RouteError};
pub use fault::FaultKind;
pub use key::Key;
pub use measured::{CameOut, CameOutError, Measured, ReadMeasuredError, Taken, read_bearings};
pub use pegs::{Pegs, SIDES_M};
pub use plan::plan;
pub use route::{Closing, Leg, Remark, Route, Site};
pub use time::Walk;

use crate::angle::{Angle, North};
use crate::config::OwnMap;
use crate::ground::Place;
use crate::textfile::{Origin, read_file};
use jiff::civil::Date;
use std::path::Path;

/// What a new file holds: every key, explained, and a small course to change.
pub const TEMPLATE: &str = include_str!("template.toml");

/// A course as its file says it.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// What it is called.
    pub title: String,
    /// The day it is walked; `None` is today.
    pub date: Option<Date>,
    /// What the map prints about its norths; `None` asks the magnetic model.
    pub printed: Option<OwnMap>,
    /// The north lines of the group's map; `None` stands for those of home ground.
    pub lines: Option<Vec<North>>,
    /// Where it goes.
    pub way: Way,
    /// The time by which everybody is back, such as `16:30`.
    pub back_by: Option<String>,
    /// The number to call, in the leader's words.
    pub call: Option<String>,
    /// Who walks it.
    pub members: Vec<Member>,
    /// What was measured.
    pub measured: Vec<Measured>,
}

impl Course {
    /// Whether it is given as it is set on the dial, and the file says of no map that anything could be taken off.
    #[must_use]
    pub fn is_magnetic(&self) -> bool {
        let by_needle = |leg: &GivenLeg| leg.north == North::Magnetic;
        let Way::Legs { legs, .. } = &self.way else { return false };
        self.lines.is_none() && self.printed.is_none() && legs.iter().all(by_needle)
    }
}

/// Where a course goes.
#[derive(Clone, Debug, PartialEq)]
pub enum Way {
    /// From point to point; two at least, and none at the place of the one before.
    Points {
        /// The points in order.
        points: Vec<Point>,
        /// Whether a last leg leads back to the first.
        round: bool,
    },
    /// Leg after leg; one at least.
    Legs {
        /// Where the first begins; `None` is home ground.
        start: Option<Place>,
        /// The legs in order.
        legs: Vec<GivenLeg>,
    },
}

impl Way {
    /// How many legs it has.
    #[must_use]
    pub fn leg_count(&self) -> usize {
        match self {
            Way::Points { points, round } => points.len().saturating_sub(1) + usize::from(*round),
            Way::Legs { legs, .. } => legs.len(),
        }
    }
}

/// A point of a course.
#[derive(Clone, Debug, PartialEq)]
pub struct Point {
    /// Its name, or its number in words.
    pub name: String,
    /// Where it is.
    pub place: Place,
    /// What the leg is like that begins here.
    pub onward: Going,
}

/// A leg as it is given.
#[derive(Clone, Debug, PartialEq)]
pub struct GivenLeg {
    /// What it leads to.
    pub to: Option<String>,
    /// Its bearing, 0 to 360 degrees clockwise from `north`.
    pub bearing: Angle,
    /// The north it counts from.
    pub north: North,
    /// Its length on the ground in metres.
    pub metres: f64,
    /// What it is like.
    pub going: Going,
}

/// What a leg is like underfoot, as the leader found it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Going {
    /// Metres up; `None` is not known.
    pub ascent_m: Option<f64>,
    /// Metres down; `None` is not known.
    pub descent_m: Option<f64>,
    /// What to go round, in the leader's words.
    pub hazards: Vec<String>,
}

/// Who walks a course.
#[derive(Clone, Debug, PartialEq)]
pub struct Member {
    /// The name.
    pub name: String,
    /// Double paces for 100 m; `None` is not known.
    pub double_paces: Option<f64>,
}

impl Member {
    /// The double paces for so many metres, where they are known; a whole number.
    #[must_use]
    pub fn paces(&self, metres: f64) -> Option<u32> {
        self.double_paces.map(|per_hundred| crate::numbers::whole((per_hundred * metres / 100.0).round()))
    }
}

impl Course {
    /// Reads a course's file.
    ///
    /// # Errors
    /// [`CourseError`] when there is no such file, or with all that is wrong in it.
    pub fn load(path: &Path) -> Result<Course, CourseError> {
        let text = read_file(path).map_err(CourseError::File)?;
        Course::read(&text, Origin::File(path.to_owned()))
    }

    /// Reads a course from its text.
    ///
    /// # Errors
    /// [`CourseError`] with all that is wrong in it.
    pub fn read(text: &str, origin: Origin) -> Result<Course, CourseError> {
        read::read(text, origin)
    }
}
