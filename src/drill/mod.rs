//! Drills and standards, in TOML: named selections of skills to practise, or to be checked in.
//!
//! What lives here: the [`Drill`], where drills are found (inside the program, in the folder `drills` of the
//! configuration, in any file), the reader of a drill file and its errors, which point at the line. What does not: the
//! choice of the next problem within a drill ([`crate::learner`]) and the practice itself ([`crate::session`]).

mod error;
mod fault;
mod find;
mod key;
mod read;
mod reader;
mod standard;

#[cfg(test)]
mod tests;

pub use crate::textfile::Origin;
pub use error::{DrillError, Faults};
pub use fault::{Fault, FaultKind};
pub use find::DrillList;
pub use key::Key;
pub use standard::{Standard, StandardSkill};

use crate::angle::EastWest;
use crate::problem::{Facts, Level, SkillMeta};

/// A named selection of skills, with levels, place and pace.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drill {
    /// The stable name, kebab-case: what is typed after `--drill`.
    pub name: String,
    /// The name on screens.
    pub title: String,
    /// What it is for, one plain sentence; may be empty.
    pub about: String,
    /// When it ends.
    pub pace: Pace,
    /// Where its problems are set.
    pub ground: DrillGround,
    /// Which declinations its problems may have.
    pub declination: DeclinationSide,
    /// The skills, in the file's order; never empty, none twice.
    pub skills: Vec<DrillSkill>,
    /// Where it was read.
    pub origin: Origin,
}

/// One skill of a drill.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DrillSkill {
    /// The skill.
    pub skill: &'static SkillMeta,
    /// The lowest and the highest level, both included; `None` leaves the level to the learner's record.
    pub levels: Option<(Level, Level)>,
}

/// When a drill ends: at least one of the two is given, and the first that is reached ends it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pace {
    /// After so many problems, 1 to 500.
    pub count: Option<u16>,
    /// After so many minutes, 1 to 240.
    pub minutes: Option<u16>,
}

/// Where the problems of a drill are set.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum DrillGround {
    /// On home ground only, for every skill that can be set there; the others have no ground.
    Home,
    /// Never on home ground.
    Anywhere,
    /// Some here, some there.
    #[default]
    Mixed,
}

/// Which declinations the problems of a drill may have; problems without declination always may.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum DeclinationSide {
    /// West only.
    West,
    /// East only.
    East,
    /// East and west.
    #[default]
    Both,
}

/// What is read from such a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    /// A drill.
    Drill,
    /// A standard.
    Standard,
}

impl std::fmt::Display for What {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            What::Drill => "drill",
            What::Standard => "standard",
        })
    }
}

impl DrillSkill {
    /// The level nearest to this one that the drill allows.
    #[must_use]
    pub fn nearest_level(&self, level: Level) -> Level {
        self.levels.map_or(level, |(low, high)| level.clamp(low, high))
    }
}

impl DeclinationSide {
    /// Whether a problem with these facts fits; one without declination always does.
    #[must_use]
    pub fn allows(self, facts: &Facts) -> bool {
        match self {
            DeclinationSide::West => facts.needle_side() != Some(EastWest::East),
            DeclinationSide::East => facts.needle_side() != Some(EastWest::West),
            DeclinationSide::Both => true,
        }
    }
}
