//! The shape of the compass in millimetres, and where it lies on the sheet. For drawing; nothing is judged by it.

use super::lines::MapLines;
use super::table::{Place, Table};
use crate::angle::Angle;
use crate::scene::{Direction, Point};

/// The measures of a baseplate compass, in mm. Its working edge is the left one, seen with the travel arrow up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CompassShape {
    /// Along the edge.
    pub length_mm: f64,
    /// Across it.
    pub width_mm: f64,
    /// The dial's radius.
    pub dial_radius_mm: f64,
    /// From the plate's rear end to the dial's centre.
    pub dial_from_rear_mm: f64,
}

/// A small compass of no particular make: on the sheets of a table it leaves some of the land in sight.
pub const COMPASS: CompassShape =
    CompassShape { length_mm: 66.0, width_mm: 38.0, dial_radius_mm: 15.5, dial_from_rear_mm: 22.0 };

/// Where the parts of a compass lie on the sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CompassOutline {
    /// The corners of the baseplate: rear end of the edge, front end of the edge, front of the other side, rear of it.
    pub corners: [Point; 4],
    /// The edge, from rear to front.
    pub edge: (Point, Point),
    /// The dial's centre.
    pub dial: Point,
    /// The dial's radius in mm.
    pub dial_radius_mm: f64,
    /// The index line at the dial's rim.
    pub index: Point,
    /// The travel arrow's tip, at the front of the plate.
    pub tip: Point,
    /// Where the travel arrow points.
    pub travel: Direction,
}

impl CompassOutline {
    /// The same outline with each of its points brought to another place; the radius stays.
    pub(super) fn placed(&self, place: impl Fn(Point) -> Point) -> CompassOutline {
        let edge = (place(self.edge.0), place(self.edge.1));
        CompassOutline {
            corners: self.corners.map(&place),
            edge,
            dial: place(self.dial),
            dial_radius_mm: self.dial_radius_mm,
            index: place(self.index),
            tip: place(self.tip),
            travel: Direction::between(edge.0, edge.1).unwrap_or(self.travel),
        }
    }
}

/// A direction on a sheet that lies so far clockwise of its up.
pub(super) fn direction(from_up: Angle) -> Direction {
    Direction::from_degrees_clockwise_from_up(from_up.wrapped().degrees())
}

/// The outline of a compass whose edge has its middle here and whose travel arrow points that way, clockwise from the
/// sheet's up.
#[must_use]
pub fn outline_at(shape: &CompassShape, middle_of_edge: Point, travel_from_up: Angle) -> CompassOutline {
    let travel = direction(travel_from_up);
    let across = travel.quarter_clockwise();
    let rear = middle_of_edge.along(travel, -shape.length_mm / 2.0);
    let front = middle_of_edge.along(travel, shape.length_mm / 2.0);
    let dial = rear.along(travel, shape.dial_from_rear_mm).along(across, shape.width_mm / 2.0);
    CompassOutline {
        corners: [rear, front, front.along(across, shape.width_mm), rear.along(across, shape.width_mm)],
        edge: (rear, front),
        dial,
        dial_radius_mm: shape.dial_radius_mm,
        index: dial.along(travel, shape.dial_radius_mm),
        tip: front.along(across, shape.width_mm / 2.0),
        travel,
    }
}

/// The outline of the compass as it lies on the sheet, in the sheet's own frame; none when it is in the hand. Off every
/// line it lies about the middle of the last one, or about `elsewhere`.
#[must_use]
pub fn outline_on_sheet(
    shape: &CompassShape,
    table: &Table,
    lines: &MapLines,
    elsewhere: impl FnOnce() -> Point,
) -> Option<CompassOutline> {
    let middle = middle_of_edge(table, lines, elsewhere)?;
    Some(outline_at(shape, middle, table.arrow_on_map().angle() + lines.sheet_north()))
}

/// Where on the sheet the middle of the edge lies; none when the compass is in the hand.
pub(super) fn middle_of_edge(table: &Table, lines: &MapLines, elsewhere: impl FnOnce() -> Point) -> Option<Point> {
    let name = match table.place() {
        Place::Hand => return None,
        Place::Along(name) => Some(name),
        Place::Free(name) => name,
    };
    Some(name.and_then(|name| lines.get(name)).map_or_else(elsewhere, |line| line.middle))
}

/// A point of the sheet as the turned map has it in a picture in which azimuth `up` points up. The map turns about
/// `pivot`, which stays where it is.
///
/// Draw the picture with an `up` drawn at random: with true north always up, the screen itself would show when the map
/// lies right.
#[must_use]
pub fn turned_sheet(point: Point, pivot: Point, table: &Table, lines: &MapLines, up: Angle) -> Point {
    let turn = table.map().angle() - lines.sheet_north() - up;
    let Some(from_pivot) = Direction::between(pivot, point) else { return point };
    let distance = (point.x - pivot.x).hypot(point.y - pivot.y);
    pivot.along(from_pivot.turned_by(direction(turn)), distance)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::angle::Bearing;
    use crate::maptable::{Leg, LineName, MapLine, Move, Way};

    fn lines() -> MapLines {
        let leg = LineName::Leg(Leg::new('P', 'Q').unwrap());
        let line = MapLine::between(leg, Point::new(20.0, 80.0), Point::new(80.0, 20.0), Angle::from_degrees(-3.0));
        MapLines::new(vec![line.unwrap()], Angle::from_degrees(-3.0)).unwrap()
    }

    fn laid(way: Way, map: f64) -> Table {
        let table = Table::new(Bearing::from_degrees(map), Bearing::from_degrees(0.0), Angle::ZERO);
        table.after(Move::Edge(LineName::Leg(Leg::new('P', 'Q').unwrap()), way), &lines()).unwrap()
    }

    /// How far a point lies from the line through two others, in mm.
    fn off_line(point: Point, from: Point, to: Point) -> f64 {
        ((to.x - from.x) * (point.y - from.y) - (to.y - from.y) * (point.x - from.x)).abs()
            / (to.x - from.x).hypot(to.y - from.y)
    }

    #[test]
    fn the_edge_lies_exactly_on_its_line_whichever_way_and_however_the_map_lies() {
        let (p, q) = (Point::new(20.0, 80.0), Point::new(80.0, 20.0));
        for map in [0.0, 77.0, 200.0] {
            for way in [Way::Ahead, Way::Back] {
                let table = laid(way, map);
                let outline = outline_on_sheet(&COMPASS, &table, &lines(), Point::default).unwrap();
                for end in [outline.edge.0, outline.edge.1] {
                    assert!(off_line(end, p, q) < 1e-9);
                    let turned = |point| {
                        turned_sheet(point, Point::new(50.0, 40.0), &table, &lines(), Angle::from_degrees(30.0))
                    };
                    assert!(off_line(turned(end), turned(p), turned(q)) < 1e-9);
                }
                let toward = Direction::between(p, q).unwrap();
                let along = outline.travel.dx() * toward.dx() + outline.travel.dy() * toward.dy();
                assert!((along - if way == Way::Ahead { 1.0 } else { -1.0 }).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn the_travel_arrow_has_its_azimuth_in_the_picture() {
        let table = laid(Way::Ahead, 77.0);
        let outline = outline_on_sheet(&COMPASS, &table, &lines(), Point::default).unwrap();
        let up = Angle::from_degrees(30.0);
        let turned = |point| turned_sheet(point, Point::new(50.0, 40.0), &table, &lines(), up);
        let seen = Direction::between(turned(outline.edge.0), turned(outline.edge.1)).unwrap();
        let wanted = direction(table.baseplate().angle() - up);
        assert!((seen.dx() - wanted.dx()).hypot(seen.dy() - wanted.dy()) < 1e-9);
    }

    #[test]
    fn the_dial_stands_on_the_plate_and_a_compass_in_the_hand_lies_nowhere() {
        let outline = outline_at(&COMPASS, Point::new(0.0, 0.0), Angle::ZERO);
        assert_eq!(outline.corners[1], Point::new(0.0, -33.0));
        assert_eq!(outline.dial, Point::new(19.0, 11.0));
        // The dial does not reach over the edge, so the line beside it stays in sight.
        let reach = outline.dial.x - outline.dial_radius_mm;
        assert!(reach > 0.0, "the dial reaches {reach} mm over the edge");
        let table = laid(Way::Ahead, 0.0).after(Move::TakeUp, &lines()).unwrap();
        assert_eq!(outline_on_sheet(&COMPASS, &table, &lines(), Point::default), None);
    }
}
