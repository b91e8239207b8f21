//! The map on the table: which one, which lines it carries, and where they lie on the sheet.

use super::super::common::{InTenths, bearing_of};
use crate::angle::{Angle, Bearing, Convergence, Declination, North, True};
use crate::maptable::{Leg, LineName, MapLine, MapLines};
use crate::problem::MarkedPlace;
use crate::scene::Point;
use crate::terrain::{Diagram, LineKind, Map, MapSpec, Ruled, Spot};

/// A map that follows from a seed, with the norths it prints.
#[derive(Clone, Copy, Debug)]
pub(in crate::skills) struct Sheet {
    /// The seed of the ground.
    pub seed: u32,
    /// The printed declination.
    pub printed: Declination,
    /// The convergence of its grid.
    pub convergence: Convergence,
    /// The year of the printed declination.
    pub year: i32,
    /// What is ruled on it.
    pub ruled: Ruled,
}

impl Sheet {
    /// The map itself.
    pub fn map(&self) -> Map {
        let spec = MapSpec {
            convergence: self.convergence,
            declination: self.printed,
            year: self.short_year(),
            ruled: self.ruled,
            ..MapSpec::default()
        };
        Map::generate(u64::from(self.seed), &spec)
    }

    /// The lines an edge can be laid on, by their directions alone: all that judging needs. Where true-north lines are
    /// ruled, the border, which runs along them, is no line of its own.
    pub fn directions(&self) -> Vec<(LineName, Bearing<True>)> {
        let Ruled { grid, true_lines, magnetic_lines, diagram } = self.ruled;
        let mut lines = Vec::with_capacity(5);
        if magnetic_lines > 0 {
            lines.push((LineName::Magnetic, bearing_of(self.printed.in_tenths())));
        }
        lines.push((if true_lines > 0 { LineName::True } else { LineName::Border }, bearing_of(0)));
        if grid {
            lines.push((LineName::Grid, bearing_of(self.convergence.in_tenths())));
        }
        if diagram {
            lines.push((LineName::Prong, self.prong()));
        }
        lines
    }

    /// Where the magnetic prong of the diagram is drawn.
    fn prong(&self) -> Bearing<True> {
        let diagram = Diagram {
            convergence: self.convergence,
            declination: self.printed,
            year: self.short_year(),
            annual_change: None,
        };
        let drawn = diagram.drawn().into_iter().find(|(north, _)| *north == North::Magnetic);
        Bearing::from_angle(drawn.map_or(Angle::ZERO, |(_, angle)| angle))
    }

    fn short_year(&self) -> i16 {
        i16::try_from(self.year).unwrap_or(i16::MAX)
    }
}

/// A place of the paper in the frame of the sheet: right and down from its upper left corner.
fn on_sheet(map: &Map, spot: Spot) -> Point {
    Point::new(spot.east_mm, map.spec().height_mm - spot.north_mm)
}

/// The lines of these directions where the map draws them, and the legs between marked places. Of parallel lines the one
/// nearest to the middle of the sheet stands for all.
pub(in crate::skills) fn marks_and_lines(
    map: &Map,
    directions: &[(LineName, Bearing<True>)],
    marks: &[MarkedPlace],
    legs: &[Leg],
) -> MapLines {
    let mut lines: Vec<MapLine> = directions
        .iter()
        .map(|(name, toward)| {
            let line = MapLine::new(*name, *toward);
            let nearest = map
                .lines()
                .iter()
                .filter(|drawn| is(*name, drawn.kind))
                .min_by(|a, b| off_middle(map, a).total_cmp(&off_middle(map, b)));
            nearest.map_or(line, |drawn| {
                let (from, to) = (on_sheet(map, drawn.from), on_sheet(map, drawn.to));
                line.at(Point::new((from.x + to.x) / 2.0, (from.y + to.y) / 2.0), drawn.length_mm())
            })
        })
        .collect();
    // Nobody should be right by laying the edge on whatever is offered first.
    if !lines.is_empty() {
        let first = usize::try_from(map.seed() % lines.len() as u64).unwrap_or(0);
        lines.rotate_left(first);
    }
    for leg in legs {
        let place = |letter: char| {
            let mark = marks.iter().find(|mark| mark.letter == letter)?;
            map.landmarks().get(mark.landmark).map(|landmark| on_sheet(map, landmark.spot))
        };
        if let (Some(from), Some(to)) = (place(leg.from.letter()), place(leg.to.letter())) {
            // Nobody reads tenths off a baseplate compass: a leg counts to the whole degree, which is finer than its line is drawn.
            if let Some(drawn) = MapLine::between(LineName::Leg(*leg), from, to, Angle::ZERO) {
                let whole = Bearing::from_angle(Angle::from_degrees(drawn.toward.angle().degrees().round()));
                lines.push(MapLine { toward: whole, ..drawn });
            }
        }
    }
    // Every name occurs once: by construction.
    MapLines::new(lines, Angle::ZERO).unwrap_or_default()
}

/// Whether a drawn line is the one of this name. The prong is the magnetic one.
fn is(name: LineName, kind: LineKind) -> bool {
    matches!(
        (name, kind),
        (LineName::Magnetic, LineKind::Magnetic)
            | (LineName::True, LineKind::True)
            | (LineName::Grid, LineKind::Grid)
            | (LineName::Across, LineKind::CrossGrid)
            | (LineName::Border, LineKind::Border)
            | (LineName::Prong, LineKind::Prong(North::Magnetic))
    )
}

fn off_middle(map: &Map, line: &crate::terrain::MapLine) -> f64 {
    let middle = Spot::new((line.from.east_mm + line.to.east_mm) / 2.0, (line.from.north_mm + line.to.north_mm) / 2.0);
    middle.distance_mm(map.middle())
}
