//! A cursor on the picture of the world.

use super::SHOWN;
use crate::ground::Place;
use crate::numbers::whole;

/// Where somebody points in the picture: exactly the place that it began on, until it is moved; from then on whole degrees.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cursor {
    start: Place,
    /// In whole degrees: north, within [`SHOWN`], and east, from −180 to 179.
    at: (i32, i32),
    moved: bool,
}

impl Cursor {
    /// A cursor on a place, exactly.
    #[must_use]
    pub fn on(start: Place) -> Cursor {
        let (north, east) = (start.latitude.degrees().round(), start.longitude.degrees().round());
        Cursor { start, at: (held(whole(north)), round(whole(east))), moved: false }
    }

    /// Moves so many whole degrees north and east, any number: not past what is shown, and round the world.
    pub fn go(&mut self, north: i32, east: i32) {
        let (before_north, before_east) = self.at;
        self.at = (held(before_north.saturating_add(north)), round(before_east.saturating_add(east)));
        self.moved = true;
    }

    /// The place it points at.
    #[must_use]
    pub fn place(&self) -> Place {
        let (north, east) = self.at;
        if self.moved {
            // Within the ranges by construction.
            Place::from_degrees(f64::from(north), f64::from(east)).unwrap_or(self.start)
        } else {
            self.start
        }
    }

    /// Where it was moved to, in whole degrees north and east; none while it stands where it began.
    #[must_use]
    pub const fn picked(&self) -> Option<(i32, i32)> {
        if self.moved { Some(self.at) } else { None }
    }
}

/// A latitude that is shown, in degrees.
fn held(north: i32) -> i32 {
    north.clamp(SHOWN.0, SHOWN.1)
}

/// A longitude from −180 to 179, in degrees.
const fn round(east: i32) -> i32 {
    (east.rem_euclid(360) + 180).rem_euclid(360) - 180
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(north: f64, east: f64) -> Cursor {
        Cursor::on(Place::from_degrees(north, east).unwrap())
    }

    #[test]
    fn it_is_exact_until_it_is_moved() {
        let mut cursor = at(46.8123, -28.6456);
        assert_eq!((cursor.place(), cursor.picked()), (Place::from_degrees(46.8123, -28.6456).unwrap(), None));
        cursor.go(0, 1);
        assert_eq!((cursor.place(), cursor.picked()), (Place::from_degrees(47.0, -28.0).unwrap(), Some((47, -28))));
        cursor.go(0, -1);
        assert_eq!(cursor.picked(), Some((47, -29)), "back is no way to the exact place");
    }

    #[test]
    fn it_stays_in_the_picture_and_goes_round_the_world() {
        let mut cursor = at(80.0, 175.0);
        cursor.go(20, 10);
        assert_eq!(cursor.picked(), Some((SHOWN.1, -175)));
        cursor.go(-400, -360);
        assert_eq!(cursor.picked(), Some((SHOWN.0, -175)));
        cursor.go(i32::MIN, i32::MAX);
        assert!(cursor.picked().is_some_and(|(_, east)| (-180..180).contains(&east)));
        // A start that is not shown is kept until it is moved, and the first step leads into the picture.
        let mut pole = at(-90.0, 180.0);
        assert_eq!(pole.place(), Place::from_degrees(-90.0, 180.0).unwrap());
        pole.go(1, 0);
        assert_eq!(pole.picked(), Some((SHOWN.0 + 1, -180)));
    }
}
