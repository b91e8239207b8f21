//! The map's grid: kilometres east and north, leaning by the convergence.
use super::draw::Draw;
use super::spec::MapSpec;
use super::spot::Spot;
use super::trig::sin_cos;
use crate::angle::Angle;
use crate::ground::plane::GridPosition;

/// How the grid lies on the sheet.
#[derive(Clone, Copy, Debug)]
pub(super) struct GridFrame {
    /// A crossing of two grid lines on the sheet, and its kilometres.
    crossing: Spot,
    east_km: i32,
    north_km: i32,
    /// Unit vectors of grid north and grid east on the paper.
    north: (f64, f64),
    east: (f64, f64),
    mm_per_km: f64,
}

impl GridFrame {
    pub(super) fn new(seed: u64, spec: &MapSpec) -> GridFrame {
        let mut draw = Draw::new("grid", seed);
        let (sin, cos) = sin_cos(spec.convergence.angle());
        let mm_per_km = spec.scale.mm_per_km();
        // One crossing of lines lies near the middle, so that each sheet has lines both ways however small it is.
        let off = mm_per_km * 0.3;
        let middle = Spot::new(spec.width_mm / 2.0, spec.height_mm / 2.0);
        let (across, up) = (draw.tenths(-off, off), draw.tenths(-off, off));
        GridFrame {
            crossing: Spot::new(middle.east_mm + across, middle.north_mm + up),
            east_km: draw.between(14, 83),
            north_km: draw.between(14, 83),
            north: (sin, cos),
            east: (cos, -sin),
            mm_per_km,
        }
    }

    pub(super) fn position(&self, spot: Spot) -> GridPosition {
        let (dx, dy) = self.crossing.to(spot);
        let metres = |(x, y): (f64, f64), km: i32| (f64::from(km) + (dx * x + dy * y) / self.mm_per_km) * 1000.0;
        GridPosition { easting_m: metres(self.east, self.east_km), northing_m: metres(self.north, self.north_km) }
    }

    pub(super) fn spot(&self, position: GridPosition) -> Spot {
        let mm = |metres: f64, km: i32| (metres / 1000.0 - f64::from(km)) * self.mm_per_km;
        let at = self.crossing.along(self.east, mm(position.easting_m, self.east_km));
        at.along(self.north, mm(position.northing_m, self.north_km))
    }

    /// Distance to the nearest grid line in mm.
    pub(super) fn off_lines_mm(&self, spot: Spot) -> f64 {
        let (dx, dy) = self.crossing.to(spot);
        let off = |(x, y): (f64, f64)| {
            let part = (dx * x + dy * y) / self.mm_per_km;
            (part - part.round()).abs() * self.mm_per_km
        };
        off(self.east).min(off(self.north))
    }

    /// The lines that run along grid north (`northward`) or grid east: a place on each, its way, its kilometres.
    pub(super) fn lines(&self, northward: bool) -> impl Iterator<Item = (Spot, (f64, f64), i32)> + '_ {
        let (across, way, km) =
            if northward { (self.east, self.north, self.east_km) } else { (self.north, self.east, self.north_km) };
        // More than any sheet holds; those that miss the sheet are left out when they are cut to it.
        (-14..=14)
            .map(move |number: i32| (self.crossing.along(across, f64::from(number) * self.mm_per_km), way, km + number))
    }
}

/// A ruled line's way as a vector on paper.
pub(super) fn way(direction: Angle) -> (f64, f64) {
    sin_cos(direction)
}
