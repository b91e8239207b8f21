//! What is seen of a table: the one function from how things lie to what they look like.

use super::amount::{HALF_CIRCLE, LAID_WITHIN, SNAP_WITHIN, turn, within};
use super::lines::{LineName, MapLines, Way};
use super::table::{Place, Site, Table};
use crate::angle::Angle;

/// Whether the needle lies in the orienting arrow, within 2°.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Boxed {
    /// Boxed: its north end lies in the arrow's head.
    NorthEnd,
    /// Its south end lies in the arrow's head.
    SouthEnd,
    /// Neither end lies there.
    No,
}

/// The line that the edge lies on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgeSeen {
    /// The line.
    pub line: LineName,
    /// Which way along it the travel arrow points.
    pub way: Way,
    /// How far the edge must still be turned to lie exactly along it, clockwise positive, 3° at most.
    pub off: Angle,
}

/// What is seen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seen {
    /// Where the needle's north end points, clockwise from the travel arrow, 0 to 360.
    pub needle: Angle,
    /// Where the orienting arrow points, clockwise from the travel arrow, 0 to 360.
    pub orienting: Angle,
    /// The number at the index line, 0 to 360.
    pub index: Angle,
    /// The number of the dial at the needle's north end, 0 to 360.
    pub needle_on_dial: Angle,
    /// How far the needle's north end stands from the orienting arrow, clockwise positive, −180 to below 180.
    pub needle_from_box: Angle,
    /// Whether it lies in it.
    pub boxed: Boxed,
    /// How far the dial's N stands from the map's true north, clockwise positive, −180 to below 180.
    pub dial_from_map: Angle,
    /// The line that the edge lies on, if the compass lies on the map and the edge on one line.
    pub edge: Option<EdgeSeen>,
    /// Whether the compass lies on the map.
    pub on_map: bool,
}

/// What is seen of a table at this site, with a map of these lines.
#[must_use]
pub fn see(table: &Table, site: &Site, lines: &MapLines) -> Seen {
    let needle = turn(table.baseplate().angle(), site.needle().angle()).wrapped();
    let orienting = (-table.dial()).wrapped();
    let from_box = turn(orienting, needle);
    let boxed = if within(from_box, LAID_WITHIN) {
        Boxed::NorthEnd
    } else if within((from_box + HALF_CIRCLE).wrapped_half(), LAID_WITHIN) {
        Boxed::SouthEnd
    } else {
        Boxed::No
    };
    let edge = table.lying(lines).filter(|lying| within(lying.off, SNAP_WITHIN));
    Seen {
        needle,
        orienting,
        index: table.dial(),
        needle_on_dial: (needle + table.dial()).wrapped(),
        needle_from_box: from_box,
        boxed,
        dial_from_map: turn(table.map().angle(), table.orienting().angle()),
        edge: edge.map(|lying| EdgeSeen { line: lying.line, way: lying.way, off: lying.off }),
        on_map: table.place() != Place::Hand,
    }
}
