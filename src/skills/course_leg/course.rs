//! The course on the map: three legs that come home, and the angle from the map's lines to the needle.

use super::super::common::{Tenths, bearing_of, tenths, wrap};
use super::super::scale_distance::Scale;
use crate::angle::{Angle, ConversionRule, Declination, GridMagnetic, North};
use crate::ground::GridLeg;
use crate::ground::plane::GridPosition;
use crate::numbers::whole;
use crate::problem::{Draw, Level};

/// A triangle out and home.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Course {
    /// The first leg, from the north of the map's lines.
    pub first: Tenths,
    /// How far one turns at the second mark, at the third, and at home to be on the first leg again; clockwise positive. Their
    /// sum is a full circle.
    pub turns: [Tenths; 3],
    /// The legs on the map, in whole millimetres.
    pub mm: [i32; 3],
    pub scale: Scale,
}

/// A course whose legs are drawn and not yet measured: most of those that are drawn are drawn for their bearings alone.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bearings {
    first: Tenths,
    turns: [Tenths; 3],
    longest_mm: i32,
    scale: Scale,
}

impl Bearings {
    /// A triangle without a sharp corner; round numbers at level 1.
    pub fn draw(level: Level, draw: &mut Draw) -> Bearings {
        let step = if level == Level::ONE { 10 } else { 1 };
        let part = |draw: &mut Draw| draw.between(95 / step + 1, 140 / step) * step;
        let (mut one, mut two) = (120, 120);
        for _ in 0..16 {
            let drawn = (part(draw), part(draw));
            if (95..=145).contains(&(360 - drawn.0 - drawn.1)) {
                (one, two) = drawn;
                break;
            }
        }
        let round = draw.sign();
        let turns = each([one, two, 360 - one - two], |turn| turn * round * 10);
        let first = draw.between(0, 359 / step) * step * 10;
        let longest_mm = draw.between(16, 36);
        Bearings { first, turns, longest_mm, scale: Scale(draw.pick(&[10, 20, 25, 50])) }
    }

    /// The bearings of the legs on the map.
    pub const fn legs(&self) -> [Tenths; 3] {
        legs(self.first, self.turns)
    }

    /// The same with the lengths of its legs.
    pub fn measured(self) -> Course {
        let Bearings { turns, longest_mm, scale, .. } = self;
        // Each side is as the sine of the corner that it does not touch.
        let side = |turn: Tenths| Angle::from_tenths(turn.abs()).radians().sin();
        let sides = each([turns[1], turns[2], turns[0]], side);
        let most = sides.iter().copied().fold(f64::MIN_POSITIVE, f64::max);
        let mm = each(sides, |side| whole((f64::from(longest_mm) * side / most).round()));
        Course { first: self.first, turns, mm, scale }
    }
}

const fn legs(first: Tenths, turns: [Tenths; 3]) -> [Tenths; 3] {
    let second = wrap(first + turns[0]);
    [first, second, wrap(second + turns[1])]
}

/// Does the same with each leg: what `map` of an array does takes a tenth of what a problem takes.
#[inline]
pub(super) fn each<T, U>(legs: [T; 3], mut done: impl FnMut(T) -> U) -> [U; 3] {
    let [first, second, third] = legs;
    [done(first), done(second), done(third)]
}

impl Course {
    /// The bearings of the legs on the map.
    pub const fn legs(&self) -> [Tenths; 3] {
        legs(self.first, self.turns)
    }

    /// The whole way, in metres.
    pub fn metres(&self) -> f64 {
        self.scale.metres(self.mm.iter().sum::<i32>() * 10)
    }

    /// Where somebody comes who walks the lengths of this course on these bearings: from home, over two marks, to the end. The north
    /// of the plan is that of the map's lines; on so small a sheet any of them makes a grid.
    pub fn walked(&self, legs: [Tenths; 3]) -> [GridPosition; 4] {
        let home = GridPosition { easting_m: 0.0, northing_m: 0.0 };
        let mut places = [home; 4];
        for (at, (leg, mm)) in legs.into_iter().zip(self.mm).enumerate() {
            let leg = GridLeg { distance_m: self.scale.metres(mm * 10), bearing: bearing_of(leg) };
            places[at + 1] = places[at].after(leg);
        }
        places
    }

    /// The turns at the corners of a course on these bearings, positive where one turns as on this one; the first is positive where
    /// any is.
    pub fn corners(&self, legs: [Tenths; 3]) -> [Tenths; 3] {
        self.legs_and_corners(legs).1
    }

    /// The same behind the legs in the order in which their corners are counted: the first corner is that between the first two.
    pub fn legs_and_corners(&self, mut legs: [Tenths; 3]) -> ([Tenths; 3], [Tenths; 3]) {
        let turn = |from: Tenths, to: Tenths| tenths(Angle::from_tenths(to - from).wrapped_half());
        let round = self.turns[0].signum();
        let mut corners = each([0, 1, 2], |at| round * turn(legs[at], legs[(at + 1) % 3]));
        let first = corners.iter().position(|turn| *turn > 0).unwrap_or(0);
        corners.rotate_left(first);
        legs.rotate_left(first);
        (legs, corners)
    }
}

/// The lines that the map has, with the angle from their north to magnetic north.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Lines {
    Grid(GridMagnetic),
    True(Declination),
}

impl Lines {
    pub const fn north(self) -> North {
        match self {
            Lines::Grid(_) => North::Grid,
            Lines::True(_) => North::True,
        }
    }

    /// East positive.
    pub const fn angle(self) -> Angle {
        match self {
            Lines::Grid(angle) => angle.angle(),
            Lines::True(angle) => angle.angle(),
        }
    }

    /// What is set on the compass for a bearing of the map.
    pub fn set(self, on_map: Tenths) -> Tenths {
        tenths(match self {
            Lines::Grid(angle) => bearing_of(on_map).to(angle).angle(),
            Lines::True(angle) => bearing_of(on_map).to(angle).angle(),
        })
    }

    /// What a sum on paper adds to a bearing of the map.
    pub fn change(self) -> Tenths {
        -tenths(self.angle())
    }

    /// `From map (grid) to compass (magnetic), west is added`.
    pub const fn rule(self) -> ConversionRule {
        ConversionRule { from: self.north(), to: North::Magnetic, east: self.angle() }
    }
}
