//! What the hands do.

use super::amount::{SNAP_WITHIN, tenth, within};
use super::lines::{LineName, MapLines, Way};
use super::table::{Chosen, Hold, Place, Stands, Table};
use crate::angle::Angle;

/// One move. Angles count in tenths of a degree: finer ones are rounded when the move is played or written.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Move {
    /// Take hold of something: what is being turned. Changes nothing else.
    Hold(Hold),
    /// Turn the map alone, clockwise positive; a compass on it stays where it points.
    TurnMap(Angle),
    /// Turn the baseplate alone, clockwise positive, the dial with it. Its edge snaps to a line that it comes near.
    TurnCompass(Angle),
    /// Turn map and compass as one, clockwise positive.
    TurnBoth(Angle),
    /// Turn the dial on its baseplate; clockwise (positive) lowers the reading.
    TurnDial(Angle),
    /// Set the dial to a number.
    SetDial(Angle),
    /// Slide the edge to a line, the travel arrow this way along it.
    Edge(LineName, Way),
    /// Take the compass up into the hand.
    TakeUp,
    /// Turn oneself, the compass held in the hand, clockwise positive.
    TurnSelf(Angle),
    /// Choose the landmark with this number, counted from 0.
    Choose(u8),
    /// Say where one stands to the line one walks.
    Say(Stands),
    /// Say whether the needle can be trusted where one stands.
    Trust(bool),
    /// Say the number that one reads, 0 to 360. Ends a leg.
    Read(Angle),
    /// Say the bearing that belongs to the number read, 0 to 360, where it is asked beside it: from magnetic north, or for the
    /// map's lines.
    Bearing(Angle),
    /// Hand the work in.
    Done,
}

/// Why a move cannot be made now.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum MoveError {
    /// Map and compass cannot turn as one while the compass is in the hand.
    #[error("the compass is in your hand; lay its edge on the map first")]
    InHand,
    /// Turning oneself needs the compass in the hand.
    #[error("the compass lies on the map; take it up first")]
    OnMap,
    /// The map has no such line.
    #[error("this map has no such line: {}", .0.words())]
    NoSuchLine(LineName),
}

impl Hold {
    /// The move that turns what is held, clockwise positive.
    #[must_use]
    pub const fn turn(self, by: Angle) -> Move {
        match self {
            Hold::Map => Move::TurnMap(by),
            Hold::Compass => Move::TurnCompass(by),
            Hold::Both => Move::TurnBoth(by),
            Hold::Dial => Move::TurnDial(by),
            Hold::Oneself => Move::TurnSelf(by),
        }
    }
}

impl Move {
    /// The same move with its angle in tenths of a degree.
    #[must_use]
    pub fn rounded(self) -> Move {
        match self {
            Move::TurnMap(by) => Move::TurnMap(tenth(by)),
            Move::TurnCompass(by) => Move::TurnCompass(tenth(by)),
            Move::TurnBoth(by) => Move::TurnBoth(tenth(by)),
            Move::TurnDial(by) => Move::TurnDial(tenth(by)),
            Move::TurnSelf(by) => Move::TurnSelf(tenth(by)),
            Move::SetDial(number) => Move::SetDial(tenth(number).wrapped()),
            Move::Read(number) => Move::Read(tenth(number)),
            Move::Bearing(number) => Move::Bearing(tenth(number)),
            Move::Hold(_)
            | Move::Edge(..)
            | Move::TakeUp
            | Move::Choose(_)
            | Move::Say(_)
            | Move::Trust(_)
            | Move::Done => self,
        }
    }
}

impl Table {
    /// The table after a move.
    ///
    /// # Errors
    /// When the move cannot be made as things lie; nothing has then changed.
    pub fn after(&self, made: Move, lines: &MapLines) -> Result<Table, MoveError> {
        let now = *self;
        Ok(match made.rounded() {
            Move::Hold(hold) => Table { hold, ..now },
            Move::TurnMap(by) => Table { map: now.map.turned(by), ..now }.left_line(lines),
            Move::TurnCompass(by) => Table { baseplate: now.baseplate.turned(by), ..now }.snapped(&now, lines),
            Move::TurnBoth(_) if !now.is_on_map() => return Err(MoveError::InHand),
            Move::TurnBoth(by) => Table { map: now.map.turned(by), baseplate: now.baseplate.turned(by), ..now },
            Move::TurnDial(by) => Table { dial: (now.dial - by).wrapped(), ..now },
            Move::SetDial(dial) => Table { dial, ..now },
            Move::Edge(name, way) => {
                let line = lines.get(name).ok_or(MoveError::NoSuchLine(name))?.name;
                let toward = lines.toward(name).ok_or(MoveError::NoSuchLine(name))?;
                let baseplate = toward.turned(now.map.angle()).turned(way.turn());
                Table { baseplate, place: Place::Along(line), ..now }
            }
            Move::TakeUp => Table { place: Place::Hand, ..now },
            Move::TurnSelf(_) if now.is_on_map() => return Err(MoveError::OnMap),
            Move::TurnSelf(by) => Table { baseplate: now.baseplate.turned(by), ..now },
            Move::Choose(number) => Table { chosen: Some(Chosen::Landmark(number)), ..now },
            Move::Say(stands) => Table { chosen: Some(Chosen::Stands(stands)), ..now },
            Move::Trust(trusts) => Table { chosen: Some(Chosen::Trusts(trusts)), ..now },
            Move::Read(_) | Move::Bearing(_) | Move::Done => now,
        })
    }

    /// The table after all moves; what cannot be made is left out.
    #[must_use]
    pub fn after_all(&self, moves: &[Move], lines: &MapLines) -> Table {
        moves.iter().fold(*self, |now, made| now.after(*made, lines).unwrap_or(now))
    }

    /// Off its line when that has come to lie more than 3° from the edge.
    fn left_line(self, lines: &MapLines) -> Table {
        match (self.place, self.lying(lines)) {
            (Place::Along(name), Some(lying)) if !within(lying.off, SNAP_WITHIN) => {
                Table { place: Place::Free(Some(name)), ..self }
            }
            _ => self,
        }
    }

    /// The edge brought exactly onto a line that it came nearer to; never while it moves away, or it could not be
    /// turned off a line by single degrees.
    fn snapped(self, before: &Table, lines: &MapLines) -> Table {
        let turned = self.left_line(lines);
        let Some(lying) = turned.lying(lines) else { return turned };
        let was = lines.lying(lying.line, before.arrow_on_map());
        let nearer = was.is_some_and(|was| lying.off.abs() < was.off.abs() || was.way != lying.way);
        if !nearer || !within(lying.off, SNAP_WITHIN) {
            return turned;
        }
        Table { baseplate: turned.baseplate.turned(lying.off), place: Place::Along(lying.line), ..turned }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::angle::{Bearing, Convergence, Declination};

    fn degrees(degrees: f64) -> Angle {
        Angle::from_degrees(degrees)
    }

    fn lines() -> MapLines {
        MapLines::norths(Declination::from_degrees(-17.0), Convergence::from_degrees(10.0))
    }

    fn table() -> Table {
        Table::new(Bearing::from_degrees(40.0), Bearing::from_degrees(100.0), degrees(343.0)).on_map()
    }

    fn after(moves: &[Move]) -> Table {
        moves.iter().fold(table(), |now, made| now.after(*made, &lines()).unwrap())
    }

    #[test]
    fn turning_the_dial_clockwise_lowers_the_reading() {
        assert_eq!(after(&[Move::TurnDial(degrees(10.0))]).dial(), degrees(333.0));
        assert_eq!(after(&[Move::TurnDial(degrees(-20.0))]).dial(), degrees(3.0));
        assert_eq!(after(&[Move::SetDial(degrees(360.0))]).dial(), degrees(0.0));
    }

    #[test]
    fn an_edge_laid_on_a_line_points_along_it_whichever_way_is_asked() {
        let ahead = after(&[Move::Edge(LineName::Magnetic, Way::Ahead)]);
        assert_eq!(ahead.baseplate().degrees(), 23.0);
        assert_eq!(ahead.place(), Place::Along(LineName::Magnetic));
        let back = after(&[Move::Edge(LineName::Magnetic, Way::Back)]);
        assert_eq!(back.baseplate().degrees(), 203.0);
    }

    #[test]
    fn the_edge_snaps_while_it_comes_nearer_and_can_be_turned_off_again() {
        let magnetic = Place::Along(LineName::Magnetic);
        // The line stands at 23: from 100 to 25 comes near it.
        let on = after(&[Move::TurnCompass(degrees(-75.0))]);
        assert_eq!((on.baseplate().degrees(), on.place()), (23.0, magnetic));
        let off = on.after(Move::TurnCompass(degrees(1.0)), &lines()).unwrap();
        assert_eq!((off.baseplate().degrees(), off.place()), (24.0, magnetic));
        let back = off.after(Move::TurnCompass(degrees(-1.0)), &lines()).unwrap();
        assert_eq!((back.baseplate().degrees(), back.place()), (23.0, magnetic));
        let away = on.after_all(&[Move::TurnCompass(degrees(2.0)); 2], &lines());
        assert_eq!((away.baseplate().degrees(), away.place()), (27.0, Place::Free(Some(LineName::Magnetic))));
    }

    #[test]
    fn a_compass_in_the_hand_never_snaps() {
        let turned = after(&[Move::TakeUp, Move::TurnCompass(degrees(-75.0))]);
        assert_eq!((turned.baseplate().degrees(), turned.place()), (25.0, Place::Hand));
    }

    #[test]
    fn a_map_turned_under_the_compass_leaves_the_edge_behind() {
        let on = after(&[Move::Edge(LineName::True, Way::Ahead)]);
        let turned = on.after(Move::TurnMap(degrees(10.0)), &lines()).unwrap();
        assert_eq!(turned.baseplate(), on.baseplate());
        assert_eq!(turned.place(), Place::Free(Some(LineName::True)));
    }

    #[test]
    fn moves_that_cannot_be_made_say_why() {
        let up = after(&[Move::TakeUp]);
        assert_eq!(up.after(Move::TurnBoth(degrees(1.0)), &lines()), Err(MoveError::InHand));
        assert_eq!(table().after(Move::TurnSelf(degrees(1.0)), &lines()), Err(MoveError::OnMap));
        let missing = table().after(Move::Edge(LineName::Border, Way::Ahead), &lines());
        assert_eq!(missing.unwrap_err().to_string(), "this map has no such line: the border of the map");
    }
}
