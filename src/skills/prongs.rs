//! The prongs of a declination diagram (B1): which angles there are, how the prongs are drawn, what stands beside them.

use super::common::{Tenths, offset_of};
use super::norths::Norths;
use crate::angle::{Angle, North, degrees_minutes};
use crate::numbers;
use crate::problem::{Draw, Figure, HomeAngles, Level, Prong, Wanted};
use std::fmt::{self, Display};

/// An angle of the diagram: where its second north lies from its first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Between {
    /// Magnetic from true.
    Declination,
    /// Magnetic from grid.
    GridMagnetic,
    /// Grid from true.
    Convergence,
}

impl Between {
    /// In the order in which a diagram is read out.
    pub const ALL: [Between; 3] = [Between::Declination, Between::Convergence, Between::GridMagnetic];

    /// Its size and side, east positive.
    pub fn of(self, norths: &Norths) -> Angle {
        match self {
            Between::Declination => norths.declination.angle(),
            Between::GridMagnetic => norths.grid_magnetic().angle(),
            Between::Convergence => norths.convergence.angle(),
        }
    }

    /// From which north to which.
    pub const fn ends(self) -> (North, North) {
        match self {
            Between::Declination => (North::True, North::Magnetic),
            Between::GridMagnetic => (North::Grid, North::Magnetic),
            Between::Convergence => (North::True, North::Grid),
        }
    }

    /// Its name.
    pub const fn word(self) -> &'static str {
        match self {
            Between::Declination => "declination",
            Between::GridMagnetic => "G-M angle",
            Between::Convergence => "grid convergence",
        }
    }

    /// What is asked where it is asked for.
    pub const fn wanted(self) -> Wanted {
        match self {
            Between::Declination => Wanted::Declination,
            Between::GridMagnetic => Wanted::GridMagnetic,
            Between::Convergence => Wanted::Convergence,
        }
    }

    /// The north that it does not lie at.
    pub const fn third(self) -> North {
        match self {
            Between::Declination => North::Grid,
            Between::GridMagnetic => North::True,
            Between::Convergence => North::Magnetic,
        }
    }

    /// The name of the fact that is its printed size, without its side.
    pub const fn fact(self) -> &'static str {
        match self {
            Between::Declination => "star_to_mn_printed_deg",
            Between::GridMagnetic => "gn_to_mn_printed_deg",
            Between::Convergence => "star_to_gn_printed_deg",
        }
    }

    /// Appends `the star and MN`.
    pub fn ends_words(self) -> impl Display {
        fmt::from_fn(move |out| {
            write!(
                out,
                "{}",
                match self {
                    Between::Declination => "the star and MN",
                    Between::GridMagnetic => "GN and MN",
                    Between::Convergence => "the star and GN",
                }
            )
        })
    }
}

/// What stands at the head of a prong: a star for true north, letters for the others.
pub(super) const fn prong_name(north: North) -> &'static str {
    match north {
        North::True => "the star",
        North::Grid | North::Magnetic => north.short(),
    }
}

/// Where the prongs stand in truth. On home ground as they stand there, to the minute, whatever the level; elsewhere magnetic north on
/// the outside at level 2, between the others at level 3, anywhere else at 1 and 4.
pub(super) fn draw_norths(level: Level, home: Option<HomeAngles>, draw: &mut Draw) -> Norths {
    if let Some(home) = home {
        return Norths::at_home(home);
    }
    let step = if level >= Level::THREE { 5 } else { 10 };
    let side = draw.sign();
    if level == Level::THREE {
        // To 7°: less in a UTM zone, more in some national grids.
        let convergence = draw.between(4, 14);
        let declination = draw.between(1, convergence - 1);
        return placed(side * declination * step, side * convergence * step);
    }
    let (nearest, farthest) = if level == Level::FOUR { (3, 10) } else { (2, 4) };
    let convergence = draw.between(nearest, farthest) * draw.sign();
    // At level 2 farther from true north than grid north ever lies, so on the outside.
    let declination = draw.between(farthest.min(5) + 1, if step == 10 { 25 } else { 50 }) * side;
    // Two prongs in one place would be one.
    let convergence = if convergence == declination { -convergence } else { convergence };
    placed(declination * step, convergence * step)
}

/// Two places counted from true north, as angles between norths.
fn placed(magnetic: Tenths, grid: Tenths) -> Norths {
    Norths { declination: offset_of(magnetic), convergence: offset_of(grid) }
}

/// Where the prongs are drawn, true north straight up: in their right order, every angle a multiple of 5° and wide enough
/// to see. The larger of the two inner angles is drawn the wider one, or on purpose the narrower one.
pub(super) fn draw_prongs(norths: &Norths, misleading: bool, draw: &mut Draw) -> Norths {
    let ordered = in_order(norths);
    let [(_, first), (_, second), (_, third)] = ordered;
    let (wide, narrow) = if misleading {
        (draw.pick(&[300, 350, 400]), draw.pick(&[100, 150]))
    } else {
        (draw.pick(&[200, 250, 300]), draw.pick(&[100, 150]))
    };
    let first_is_wide = (second - first >= third - second) != misleading;
    let gap = |wide_here: bool, truth: Angle| match (truth == Angle::ZERO, wide_here) {
        (true, _) => 0,
        (_, true) => wide,
        (_, false) => narrow,
    };
    let places = [0, gap(first_is_wide, second - first), gap(!first_is_wide, third - second)];
    let mut at = 0;
    let mut drawn = [(North::True, 0); 3];
    for ((slot, (north, _)), gap) in drawn.iter_mut().zip(ordered).zip(places) {
        at += gap;
        *slot = (north, at);
    }
    let place = |wanted| drawn.iter().find(|(north, _)| *north == wanted).map_or(0, |(_, at)| *at);
    let up = place(North::True);
    placed(place(North::Magnetic) - up, place(North::Grid) - up)
}

/// The three norths with their places from true north, clockwise.
pub(super) fn in_order(norths: &Norths) -> [(North, Angle); 3] {
    let (magnetic, grid) = (norths.declination.angle(), norths.convergence.angle());
    let mut ordered = [(North::True, Angle::ZERO), (North::Grid, grid), (North::Magnetic, magnetic)];
    numbers::arrange_by_key(&mut ordered, |(_, at)| *at);
    ordered
}

/// The drawn prongs clockwise; those of `only`, or all three.
pub(super) fn clockwise(drawn: &Norths, only: Option<Between>) -> Vec<North> {
    let shown = |north: &North| only.is_none_or(|only| only.third() != *north);
    in_order(drawn).into_iter().map(|(north, _)| north).filter(shown).collect()
}

/// The figure: the prongs of `only`, or all three, with the sizes of the printed angles and no letters, since east and
/// west are to be read from the drawing.
pub(super) fn figure(
    norths: &Norths,
    drawn: &Norths,
    only: Option<Between>,
    printed: impl Fn(Between) -> bool,
) -> Figure {
    let text = |between: Between, from: North| {
        printed(between).then(|| {
            let text = degrees_minutes(between.of(norths)).to_string();
            (from, text)
        })
    };
    let prong = |(north, at): (North, Angle)| {
        let printed = match (only, north) {
            (Some(only), north) if north == only.third() => None,
            (Some(only), north) if north == only.ends().1 => Some(text(only, only.ends().0)),
            (Some(_), _) => Some(None),
            // Each angle is written at one of its own prongs, so that every prong carries at most one.
            (None, North::True) => Some(text(Between::Declination, North::Magnetic)),
            (None, North::Grid) => Some(text(Between::Convergence, North::True)),
            (None, North::Magnetic) => Some(text(Between::GridMagnetic, North::Grid)),
        }?;
        Some(Prong { north, drawn: at, printed })
    };
    Figure::Prongs(in_order(drawn).into_iter().filter_map(prong).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawings(level: Level, misleading: bool) -> impl Iterator<Item = (Norths, Norths)> {
        (0..1_000).map(move |seed| {
            let mut draw = Draw::new("B1", level.number(), 1, seed);
            let norths = draw_norths(level, None, &mut draw);
            (norths, draw_prongs(&norths, misleading, &mut draw))
        })
    }

    #[test]
    fn prongs_are_drawn_in_their_right_order() {
        for level in Level::ALL {
            for (norths, drawn) in drawings(level, level == Level::FOUR) {
                assert_eq!(in_order(&norths).map(|(north, _)| north), in_order(&drawn).map(|(north, _)| north));
            }
        }
    }

    #[test]
    fn a_misleading_drawing_turns_large_and_small_round() {
        let gaps = |norths: &Norths| {
            let [(_, first), (_, second), (_, third)] = in_order(norths);
            (second - first).cmp(&(third - second)) as i32
        };
        for (norths, drawn) in drawings(Level::FOUR, true).filter(|(norths, _)| gaps(norths) != 0) {
            assert!(gaps(&norths).signum() != gaps(&drawn).signum(), "{norths:?} drawn as {drawn:?}");
        }
        for (norths, drawn) in drawings(Level::TWO, false).filter(|(norths, _)| gaps(norths) != 0) {
            assert!(gaps(&norths).signum() == gaps(&drawn).signum(), "{norths:?} drawn as {drawn:?}");
        }
    }

    #[test]
    fn magnetic_north_stands_outside_at_level_2_and_between_the_others_at_level_3() {
        let middle = |norths: &Norths| in_order(norths)[1].0;
        assert!(drawings(Level::TWO, false).all(|(norths, _)| middle(&norths) != North::Magnetic));
        assert!(drawings(Level::THREE, false).all(|(norths, _)| middle(&norths) == North::Magnetic));
    }
}
