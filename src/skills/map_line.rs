//! A conversion along a true-north line or along a grid line, and the stories of B2 and B4 at level 4, which leave it to the
//! reader which of two angles counts.

use super::common::{bearing, sum};
use super::conversion::Conversion;
use crate::angle::{Angle, Declination, Grid, GridMagnetic, North, Offset, True, sense};
use crate::problem::{Answer, Draw, Fact, Figure, Level, MixupList, MixupMeta, Question, Step};
use std::fmt::{self, Display};

/// One conversion, from or to the map's line of either kind.
#[derive(Clone, Copy, Debug)]
pub(super) enum MapLine {
    /// The map's bearing counts from a true-north line.
    True(Conversion<True>),
    /// It counts from a grid line.
    Grid(Conversion<Grid>),
}

/// The same for both kinds of line.
macro_rules! either {
    ($line:expr, $conversion:ident => $does:expr) => {
        match $line {
            MapLine::True($conversion) => $does,
            MapLine::Grid($conversion) => $does,
        }
    };
}

impl MapLine {
    /// Draws a bearing from a true-north line.
    pub fn from_true(level: Level, declination: Declination, draw: &mut Draw) -> MapLine {
        MapLine::True(Conversion::draw(level, declination, draw))
    }

    /// Draws a bearing from a grid line.
    pub fn from_grid(level: Level, grid_magnetic: GridMagnetic, draw: &mut Draw) -> MapLine {
        MapLine::Grid(Conversion::draw(level, grid_magnetic, draw))
    }

    /// Whether the line is a grid line.
    pub const fn is_grid(&self) -> bool {
        matches!(self, MapLine::Grid(_))
    }

    /// Magnetic north from the line's north, east positive.
    pub const fn angle(&self) -> Angle {
        either!(self, conversion => conversion.offset.angle())
    }

    /// Whether the compass's bearing is asked.
    pub const fn to_compass(self) -> bool {
        either!(self, conversion => conversion.to_compass())
    }

    /// The north the answer counts from.
    pub const fn wanted(&self) -> North {
        either!(self, conversion => conversion.wanted())
    }

    /// The question's fields.
    pub fn question(&self) -> Question {
        either!(self, conversion => conversion.question())
    }

    /// The right answer.
    pub fn right(&self) -> Answer {
        either!(self, conversion => conversion.right())
    }

    /// The fact that is the given bearing.
    pub fn given_fact(&self) -> Fact {
        either!(self, conversion => conversion.given_fact())
    }

    /// The mix-ups that need nothing but the one angle.
    pub fn mixups(&self, list: &mut MixupList) {
        either!(self, conversion => conversion.mixups(list));
    }

    /// Adds the mix-up of taking another angle, told by these words: `Declination 12° W`.
    pub fn push_used(
        &self,
        list: &mut MixupList,
        meta: &'static MixupMeta,
        used: Angle,
        words: impl FnOnce() -> String,
    ) {
        let by = match *self {
            MapLine::True(conversion) => MapLine::True(conversion.by(Offset::from_angle(used))),
            MapLine::Grid(conversion) => MapLine::Grid(conversion.by(Offset::from_angle(used))),
        };
        list.push(meta, by.right(), || {
            format!("{}: {}", words(), either!(by, conversion => sum(conversion.from(), conversion.change())))
        });
    }

    /// The rule with this problem's numbers.
    pub fn right_way(&self) -> String {
        either!(self, conversion => conversion.right_way())
    }

    /// Adds the worked solution.
    pub fn push_steps(&self, steps: &mut Vec<Step>) {
        either!(self, conversion => conversion.push_steps(steps));
    }

    /// The sketch of the question; the angle between the norths has its size only where the text gives that angle alone.
    pub fn asked(&self, angle_given: bool) -> Figure {
        either!(self, conversion => conversion.asked(angle_given))
    }

    /// The sketch that explains.
    pub fn told(&self, given: Option<&Answer>) -> Figure {
        either!(self, conversion => conversion.told(given))
    }

    /// The north of the map's line.
    const fn north(&self) -> North {
        if self.is_grid() { North::Grid } else { North::True }
    }

    /// The map's lines; of grid lines it is not said here which way they run.
    const fn lines(&self) -> &'static str {
        if self.is_grid() { "grid lines" } else { North::True.lines() }
    }

    /// The question without a story.
    pub fn plain_words(&self) -> impl Display {
        fmt::from_fn(move |out| {
            let (from, north) = either!(self, conversion => (conversion.from(), conversion.given_north()));
            let given = bearing(from, north);
            if self.to_compass() {
                let lines = self.lines();
                write!(out, "The map, measured from its {lines}, says {given}. What does the compass say?")
            } else {
                let north = self.north().name();
                write!(out, "The compass says {given}. What is that on the map, from {north}?")
            }
        })
    }

    /// The question as a story about the way to this place.
    pub fn story_words(&self, place: &str) -> impl Display {
        fmt::from_fn(move |out| {
            let (from, north) = either!(self, conversion => (conversion.from(), conversion.given_north()));
            let (given, line) = (bearing(from, north), self.lines().trim_end_matches('s'));
            if self.to_compass() {
                write!(
                    out,
                    "From a {line} you measured the way to {place} on the map: {given}. You want to walk it by compass. What do you \
                     set on the dial?"
                )
            } else {
                write!(
                    out,
                    "You sighted {place} with the compass: {given}. You want to draw the line on the map from a {line}. At which \
                     bearing?"
                )
            }
        })
    }

    /// The first step of a story: which angle counts, and why.
    pub fn which_counts(&self) -> Step {
        Step::words(match (self.to_compass(), self.is_grid()) {
            (true, false) => {
                "From map to compass. The map's line is a true-north line, so only the declination counts: it lies between true and magnetic north"
            }
            (false, false) => {
                "From compass to map. The map's line is a true-north line, so only the declination counts: it lies between true and magnetic north"
            }
            (true, true) => {
                "From map to compass. The map's line is a grid line, so the G-M angle counts: it lies between grid and magnetic north"
            }
            (false, true) => {
                "From compass to map. The map's line is a grid line, so the G-M angle counts: it lies between grid and magnetic north"
            }
        })
    }

    /// A nudge for the plain question.
    pub fn hint(&self) -> String {
        let north = self.north().word();
        let side = sense(self.angle());
        let asks = if either!(self, conversion => conversion.wraps()) {
            "The line lies between the two, so one number is small and the other close to 360: go on past north, round the circle."
        } else {
            "From which of the two do you count further to the line?"
        };
        format!("In the sketch, magnetic north lies {side} of {north} north. {asks}")
    }
}

/// A nudge for a story.
pub(super) const STORY_HINT: &str = "From which north does the map's line count? The angle between that north and magnetic north is the one you need. From which of the two do you count further to the line?";
