//! The signs of a map, each as it is drawn, for the key that stands beside a map.
use super::layers::look;
use crate::angle::North;
use crate::scene::blocks::one_row;
use crate::scene::{Dash, Ink, Line, Mark, MarkKind, Scene};
use crate::terrain::{Detail, LineKind, Map};

/// A sign of a map that a key explains.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MapSign {
    /// A line ruled along this north.
    NorthLine(North),
    /// A lake with its shore.
    Lake,
    /// A stream.
    Stream,
    /// A path.
    Path,
}

impl MapSign {
    /// What it is called in a key.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            MapSign::NorthLine(north) => north.name(),
            MapSign::Lake => "lake",
            MapSign::Stream => "water",
            MapSign::Path => "path",
        }
    }

    /// The same where room is short.
    #[must_use]
    pub const fn short_name(self) -> &'static str {
        match self {
            MapSign::NorthLine(north) => north.short(),
            MapSign::Lake | MapSign::Stream | MapSign::Path => self.name(),
        }
    }

    /// How many characters wide a piece of it must be to be known again.
    #[must_use]
    pub const fn columns(self) -> u16 {
        match self {
            MapSign::NorthLine(North::Magnetic | North::Grid) => 4,
            MapSign::NorthLine(North::True) | MapSign::Lake | MapSign::Stream | MapSign::Path => 3,
        }
    }

    /// A piece of it on its paper, for one row of so many cells: here a millimetre is a dot of the cells.
    #[must_use]
    pub fn scene(self) -> Scene {
        let dots = f64::from(self.columns()) * 2.0;
        let ground = if self == MapSign::Lake { Ink::Water } else { Ink::Sheet };
        let (mut scene, at) = one_row(dots, ground);
        let across = |ink| Line::straight(at(0.0, 1.0), at(dots - 1.0, 1.0), ink);
        match self {
            MapSign::NorthLine(north) => {
                let (ink, dash) = look(match north {
                    North::True => LineKind::True,
                    North::Grid => LineKind::Grid,
                    North::Magnetic => LineKind::Magnetic,
                });
                scene.add(across(ink).bold().dash(dash));
                if north == North::True {
                    scene.add(Mark::new(MarkKind::Star, at(dots - 1.5, 1.5), 2.0, ink));
                }
            }
            MapSign::Lake | MapSign::Stream => {
                let course = if self == MapSign::Lake {
                    vec![(1.0, 0.0), (0.0, 1.0), (0.0, 2.0), (1.0, 3.0), (4.0, 3.0), (5.0, 2.0), (5.0, 1.0), (4.0, 0.0)]
                } else {
                    vec![(0.0, 2.0), (1.0, 1.0), (4.0, 1.0), (5.0, 2.0)]
                };
                scene.add(Line::through(course.into_iter().map(|(x, y)| at(x, y)).collect(), Ink::Water));
                scene.add(Mark::new(MarkKind::Wave, at(2.5, 1.5), 2.0, Ink::Water));
            }
            MapSign::Path => {
                scene.add(across(Ink::Works).dash(Dash::Dashed));
            }
        }
        scene
    }
}

impl Map {
    /// The signs for a key to this map, as much of it as is drawn with this detail: its north lines first.
    #[must_use]
    pub fn signs(&self, detail: Detail) -> Vec<MapSign> {
        let ruled =
            |north: North| self.lines().iter().any(|line| line.kind.is_ruled() && line.kind.north() == Some(north));
        let norths = [North::True, North::Grid, North::Magnetic];
        let mut signs: Vec<MapSign> =
            norths.into_iter().filter(|north| ruled(*north)).map(MapSign::NorthLine).collect();
        if detail == Detail::Little {
            signs.push(MapSign::Lake);
        } else {
            signs.push(MapSign::Stream);
            signs.extend((!self.paths.is_empty()).then_some(MapSign::Path));
        }
        signs
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::terrain::{MapSpec, Ruled};

    #[test]
    fn a_key_has_the_lines_that_are_ruled_and_the_land_that_is_drawn() {
        let ruled = Ruled { grid: true, true_lines: 0, magnetic_lines: 3, diagram: false };
        let map = Map::generate(7, &MapSpec { ruled, ..MapSpec::default() });
        let [grid, magnetic] = [North::Grid, North::Magnetic].map(MapSign::NorthLine);
        assert_eq!(map.signs(Detail::Little), [grid, magnetic, MapSign::Lake]);
        assert_eq!(map.signs(Detail::Full), [grid, magnetic, MapSign::Stream, MapSign::Path]);
    }
}
