//! The lines of a map as the edge of a compass meets them: a name, a direction, a place on the sheet.

use super::amount::{HALF_CIRCLE, SNAP_ALONE_WITHIN, SNAP_WITHIN, turn, turn_to_line, within};
use crate::angle::{Angle, Bearing, North, True};
#[cfg(test)]
use crate::angle::{Convergence, Declination};
use crate::scene::blocks::NorthKind;
use crate::scene::{Direction, Point};
use std::fmt;

impl From<North> for NorthKind {
    fn from(north: North) -> NorthKind {
        match north {
            North::True => NorthKind::True,
            North::Grid => NorthKind::Grid,
            North::Magnetic => NorthKind::Magnetic,
        }
    }
}

/// A marked place of the map, named by one letter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Spot(char);

impl Spot {
    /// A place with this letter, small or capital; nothing else names a place.
    #[must_use]
    pub const fn new(letter: char) -> Option<Spot> {
        if letter.is_ascii_alphabetic() { Some(Spot(letter.to_ascii_uppercase())) } else { None }
    }

    /// The letter, a capital.
    #[must_use]
    pub const fn letter(self) -> char {
        self.0
    }
}

impl fmt::Display for Spot {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0)
    }
}

/// From one marked place to another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Leg {
    /// Where it begins.
    pub from: Spot,
    /// Where it ends.
    pub to: Spot,
}

impl Leg {
    /// The leg between two different letters.
    #[must_use]
    pub const fn new(from: char, to: char) -> Option<Leg> {
        match (Spot::new(from), Spot::new(to)) {
            (Some(from), Some(to)) if from.0 != to.0 => Some(Leg { from, to }),
            _ => None,
        }
    }

    /// The same leg the other way.
    #[must_use]
    pub const fn reversed(self) -> Leg {
        Leg { from: self.to, to: self.from }
    }
}

/// A line of the map. There is one of each name: parallel grid lines are one line here.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum LineName {
    /// The drawn magnetic-north line, as the map prints it.
    Magnetic,
    /// The drawn true-north line.
    True,
    /// The north-south grid lines.
    Grid,
    /// The east-west grid lines; their "north" is their east end.
    Across,
    /// The side border of the map.
    Border,
    /// The magnetic prong of the declination diagram, which is not drawn to scale.
    Prong,
    /// The line between two marked places.
    Leg(Leg),
}

/// The map's lines that run to this north, as they stand behind "the map's": many grid lines, but one of the others.
pub(super) const fn on_the_map(north: North) -> &'static str {
    match north {
        North::Grid => north.lines(),
        North::True | North::Magnetic => north.line(),
    }
}

impl LineName {
    /// All lines that are no leg.
    pub const NORTHS: [LineName; 6] =
        [LineName::Magnetic, LineName::True, LineName::Grid, LineName::Across, LineName::Border, LineName::Prong];

    /// The line that shows this north.
    #[must_use]
    pub const fn of(north: North) -> LineName {
        match north {
            North::True => LineName::True,
            North::Grid => LineName::Grid,
            North::Magnetic => LineName::Magnetic,
        }
    }

    /// The line in words: `the magnetic-north line`, `the line P–Q`.
    #[must_use]
    pub fn words(self) -> String {
        match self {
            LineName::Magnetic => format!("the {}", North::Magnetic.line()),
            LineName::True => format!("the {}", North::True.line()),
            LineName::Grid => format!("a {}", North::Grid.line()),
            LineName::Across => "an east-west grid line".to_owned(),
            LineName::Border => "the border of the map".to_owned(),
            LineName::Prong => "the magnetic prong of the diagram".to_owned(),
            LineName::Leg(leg) => format!("the line {}–{}", leg.from, leg.to),
        }
    }

    /// Where a travel arrow along the line points: `toward its north end`, `toward Q`.
    #[must_use]
    pub fn end_words(self, way: Way) -> String {
        let (ahead, behind) = match self {
            LineName::Magnetic | LineName::True | LineName::Grid => ("its north end", "its south end"),
            LineName::Across => ("its east end", "its west end"),
            LineName::Border => ("the top of the map", "the foot of the map"),
            LineName::Prong => ("its tip", "its foot"),
            LineName::Leg(leg) => {
                return format!("toward {}", if way == Way::Ahead { leg.to } else { leg.from });
            }
        };
        format!("toward {}", if way == Way::Ahead { ahead } else { behind })
    }

    /// The same line as a map that has it the other way round would name it.
    const fn reversed(self) -> Option<LineName> {
        match self {
            LineName::Leg(leg) => Some(LineName::Leg(leg.reversed())),
            _ => None,
        }
    }
}

/// Which way along a line the travel arrow points.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Way {
    /// Toward the line's north, or toward the end of a leg.
    Ahead,
    /// Toward the other end.
    Back,
}

impl Way {
    /// The other one.
    #[must_use]
    pub const fn opposite(self) -> Way {
        match self {
            Way::Ahead => Way::Back,
            Way::Back => Way::Ahead,
        }
    }

    /// The turn that the way adds to a line's direction: 0 or 180 degrees.
    #[must_use]
    pub const fn turn(self) -> Angle {
        match self {
            Way::Ahead => Angle::ZERO,
            Way::Back => HALF_CIRCLE,
        }
    }
}

/// One line: its name, its direction and where it is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MapLine {
    /// Its name.
    pub name: LineName,
    /// The direction of its north end, or of a leg's end, from the map's own true north.
    pub toward: Bearing<True>,
    /// The middle of the drawn line, in mm on the sheet.
    pub middle: Point,
    /// Its length in mm.
    pub length_mm: f64,
}

impl MapLine {
    /// A line of this direction that is drawn nowhere in particular.
    #[must_use]
    pub fn new(name: LineName, toward: Bearing<True>) -> MapLine {
        MapLine { name, toward, middle: Point::default(), length_mm: 0.0 }
    }

    /// The line drawn from one point of the sheet to another. `sheet_north` says how far true north lies clockwise of
    /// the sheet's up. `None` when the points coincide or are not finite.
    #[must_use]
    pub fn between(name: LineName, from: Point, to: Point, sheet_north: Angle) -> Option<MapLine> {
        let direction = Direction::between(from, to)?;
        let from_up = Angle::from_radians(direction.dx().atan2(-direction.dy()));
        Some(MapLine {
            name,
            toward: Bearing::from_angle(from_up - sheet_north),
            middle: from.moved((to.x - from.x) / 2.0, (to.y - from.y) / 2.0),
            length_mm: (to.x - from.x).hypot(to.y - from.y),
        })
    }

    /// The same line, drawn there.
    #[must_use]
    pub const fn at(self, middle: Point, length_mm: f64) -> MapLine {
        MapLine { middle, length_mm, ..self }
    }
}

/// How an edge lies on a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lying {
    /// The line.
    pub line: LineName,
    /// Which way along it the travel arrow points.
    pub way: Way,
    /// How far the edge must still be turned to lie exactly along it, clockwise positive.
    pub off: Angle,
}

/// Why a set of lines is no map.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LinesError {
    /// Two lines have one name.
    #[error("two lines of the map have one name")]
    Twice(LineName),
}

/// All lines of a map that an edge can be laid on.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct MapLines {
    lines: Vec<MapLine>,
    sheet_north: Angle,
}

impl MapLines {
    /// The lines of a map. `sheet_north` says how far true north lies clockwise of the sheet's up; it matters for drawing
    /// only.
    ///
    /// # Errors
    /// When two lines have one name; a leg and the same leg reversed are one line.
    pub fn new(lines: Vec<MapLine>, sheet_north: Angle) -> Result<MapLines, LinesError> {
        for (index, line) in lines.iter().enumerate() {
            let same = |other: &MapLine| other.name == line.name || Some(other.name) == line.name.reversed();
            if lines[..index].iter().any(same) {
                return Err(LinesError::Twice(line.name));
            }
        }
        Ok(MapLines { lines, sheet_north })
    }

    /// The three north lines as a map with this printed declination and this convergence has them, drawn nowhere in
    /// particular.
    #[cfg(test)]
    #[must_use]
    pub fn norths(printed: Declination, convergence: Convergence) -> MapLines {
        let line = |name, toward| MapLine::new(name, Bearing::from_angle(toward));
        MapLines {
            lines: vec![
                line(LineName::Magnetic, printed.angle()),
                line(LineName::True, Angle::ZERO),
                line(LineName::Grid, convergence.angle()),
            ],
            sheet_north: Angle::ZERO,
        }
    }

    /// The same map with one more line.
    ///
    /// # Errors
    /// As [`MapLines::new`].
    pub fn with(mut self, line: MapLine) -> Result<MapLines, LinesError> {
        self.lines.push(line);
        MapLines::new(self.lines, self.sheet_north)
    }

    /// All lines.
    #[must_use]
    pub fn all(&self) -> &[MapLine] {
        &self.lines
    }

    /// How far true north lies clockwise of the sheet's up.
    #[must_use]
    pub const fn sheet_north(&self) -> Angle {
        self.sheet_north
    }

    /// The line of this name as the map has it. A leg is found by either of its directions.
    #[must_use]
    pub fn get(&self, name: LineName) -> Option<&MapLine> {
        self.lines.iter().find(|line| line.name == name || Some(line.name) == name.reversed())
    }

    /// The direction of the line from the map's true north: for a leg toward its second letter as named here.
    #[must_use]
    pub fn toward(&self, name: LineName) -> Option<Bearing<True>> {
        let line = self.get(name)?;
        Some(if line.name == name { line.toward } else { line.toward.back() })
    }

    /// How an edge whose travel arrow has this direction from the map's true north lies to a line it is known to be at.
    #[must_use]
    pub fn lying(&self, name: LineName, arrow: Bearing<True>) -> Option<Lying> {
        let line = self.get(name)?;
        let (arrow, toward) = (arrow.angle(), line.toward.angle());
        let ahead = turn(arrow, toward).abs().degrees() <= 90.0;
        let way = if ahead { Way::Ahead } else { Way::Back };
        Some(Lying { line: line.name, way, off: turn(arrow, toward + way.turn()) })
    }

    /// The line that an edge of this direction lies on: within 3°, and only if no other line lies within 6°.
    #[must_use]
    pub fn only_near(&self, arrow: Bearing<True>) -> Option<Lying> {
        let off = |line: &MapLine| turn_to_line(arrow.angle(), line.toward.angle());
        let mut close = self.lines.iter().filter(|line| within(off(line), SNAP_ALONE_WITHIN));
        let line = close.next()?;
        if close.next().is_some() || !within(off(line), SNAP_WITHIN) {
            return None;
        }
        self.lying(line.name, arrow)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bearing(degrees: f64) -> Bearing<True> {
        Bearing::from_degrees(degrees)
    }

    fn leg(from: char, to: char) -> LineName {
        LineName::Leg(Leg::new(from, to).unwrap())
    }

    fn map(declination: f64, convergence: f64) -> MapLines {
        MapLines::norths(Declination::from_degrees(declination), Convergence::from_degrees(convergence))
            .with(MapLine::new(leg('P', 'Q'), bearing(60.0)))
            .unwrap()
    }

    #[test]
    fn an_edge_lies_on_a_line_within_three_degrees_either_way_along_it() {
        let map = map(-17.0, 10.0);
        for (arrow, way, off) in [(63.0, Way::Ahead, -3.0), (57.0, Way::Ahead, 3.0), (242.0, Way::Back, -2.0)] {
            assert_eq!(
                map.only_near(bearing(arrow)),
                Some(Lying { line: leg('P', 'Q'), way, off: Angle::from_degrees(off) })
            );
        }
        assert_eq!(map.only_near(bearing(63.1)), None);
        assert_eq!(map.only_near(bearing(345.0)).map(|lying| lying.line), Some(LineName::Magnetic));
    }

    #[test]
    fn no_line_is_chosen_where_two_lie_close() {
        let map = map(-17.0, 1.5);
        assert_eq!(map.only_near(bearing(0.0)), None);
        assert_eq!(map.lying(LineName::Grid, bearing(0.5)).unwrap().off, Angle::from_degrees(1.0));
        // The other line lies within 6 degrees of the edge, though not within 3.
        let wide = MapLines::norths(Declination::from_degrees(40.0), Convergence::from_degrees(8.0));
        assert_eq!(wide.only_near(bearing(2.0)), None);
        assert!(wide.only_near(bearing(1.0)).is_some());
    }

    #[test]
    fn a_leg_answers_to_both_its_names() {
        let map = map(5.0, 1.0);
        assert_eq!(map.toward(leg('P', 'Q')), Some(bearing(60.0)));
        assert_eq!(map.toward(leg('Q', 'P')), Some(bearing(240.0)));
        assert_eq!(map.toward(leg('P', 'S')), None);
        let twice = map.with(MapLine::new(leg('Q', 'P'), bearing(240.0)));
        assert_eq!(twice, Err(LinesError::Twice(leg('Q', 'P'))));
    }

    #[test]
    fn a_line_between_two_points_has_their_direction_from_true_north() {
        let (from, to) = (Point::new(10.0, 50.0), Point::new(50.0, 10.0));
        let line = MapLine::between(leg('P', 'Q'), from, to, Angle::from_degrees(2.0)).unwrap();
        assert!((line.toward.degrees() - 43.0).abs() < 1e-9);
        assert_eq!(line.middle, Point::new(30.0, 30.0));
        assert!((line.length_mm - 3200.0_f64.sqrt()).abs() < 1e-9);
        assert_eq!(MapLine::between(leg('P', 'Q'), from, from, Angle::ZERO), None);
    }

    #[test]
    fn the_end_of_a_line_is_told_as_the_map_shows_it() {
        assert_eq!(LineName::Magnetic.end_words(Way::Ahead), "toward its north end");
        assert_eq!(leg('P', 'Q').end_words(Way::Back), "toward P");
        assert_eq!(leg('P', 'Q').words(), "the line P–Q");
    }
}
