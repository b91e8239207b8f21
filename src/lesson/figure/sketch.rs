//! What the sketches of several lessons share.

use crate::angle::{Angle, North};
use crate::scene::Direction;
use crate::scene::blocks::NorthLine;
use std::fmt::{self, Display};

/// The direction on the sheet so far clockwise of up.
pub(in crate::lesson) fn pointing(degrees: i32) -> Direction {
    Direction::from_degrees_clockwise_from_up(f64::from(degrees))
}

/// A bearing of whole degrees as it is written: `005`. North is 000.
pub(in crate::lesson) fn written(degrees: i32) -> impl Display {
    let wrapped = degrees.rem_euclid(360);
    fmt::from_fn(move |out| write!(out, "{wrapped:03}"))
}

/// A bearing with the letter of its north: `060° T`.
pub(in crate::lesson) fn spoken(degrees: i32, north: North) -> impl Display {
    let wrapped = degrees.rem_euclid(360);
    fmt::from_fn(move |out| write!(out, "{wrapped:03}° {}", north.letter()))
}

/// The line of a north, so far clockwise of up, with its name.
pub(in crate::lesson) fn north_line(north: North, at: Angle) -> NorthLine {
    let direction = Direction::from_degrees_clockwise_from_up(at.degrees());
    NorthLine { kind: north.into(), direction, name: north.short().to_owned() }
}
