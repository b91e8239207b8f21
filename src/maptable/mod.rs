//! The map table as a pure model: a map that turns, a baseplate compass that lies on it, a dial and a needle.
//!
//! What lives here: how the things lie ([`Table`]), what the hands do ([`Move`]), what is then seen ([`see`]), the tasks
//! ([`Task`], [`Exercise`]), the judging of how somebody worked and of what came out ([`judge`]), the guided showing
//! ([`showing`]), and how both things ([`Motion`]) and needle ([`swing`]) are seen to move. What does not: drawing, and where maps come from.
//!
//! The world's frame has true north at 0. With the map's true north at azimuth μ, the travel arrow at β and the reading R
//! at the index line, the orienting arrow stands at β − R and the needle points to D + δ: today's declination and what
//! iron near the table adds. The needle is boxed exactly when β − R = D + δ.

mod amount;
mod around;
mod command;
mod describe;
mod fault;
mod judge;
mod lines;
mod motion;
mod moves;
mod notation;
mod picture;
mod resting;
mod seen;
mod shape;
mod showing;
mod sighting;
mod swing;
mod table;
mod task;
#[cfg(test)]
mod tests;
mod verdict;

pub use around::{Around, Feature, LaidBy};
pub use command::{CommandError, parse_command};
pub use describe::{describe, describe_dial_lines, describe_index, describe_lines, describe_needle, describe_view};
pub use fault::Fault;
pub use judge::{judge, wrong_numbers, wrong_readings};
pub use lines::{Leg, LineName, LinesError, Lying, MapLine, MapLines, Spot, Way};
pub use motion::{Motion, Pose, has_arrived};
pub use moves::{Move, MoveError};
pub use notation::{Moves, NotationError};
pub use picture::{CompassSign, INDEX_NAME, Picture, dragged};
pub use seen::{Boxed, EdgeSeen, Seen, see};
pub use shape::{COMPASS, CompassOutline, CompassShape, outline_at, outline_on_sheet, turned_sheet};
pub use showing::{ShownStep, showing};
pub use sighting::{InView, Sighting, Trust};
pub use swing::{settled, swing};
pub use table::{Chosen, Hold, Place, Site, Stands, Table};
pub use task::{Doubt, Exercise, Landmark, Task};
pub use verdict::{BearingState, ReadingState, StateVerdict, TableJudgement, TakenState, describe_iron};
