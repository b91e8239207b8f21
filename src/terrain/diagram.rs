//! The declination diagram as data.
use super::spec::MapSpec;
use crate::angle::{Angle, Convergence, Declination, North};

/// The declination diagram printed on a map.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Diagram {
    /// The printed grid convergence.
    pub convergence: Convergence,
    /// The printed declination.
    pub declination: Declination,
    /// The year for which it is printed.
    pub year: i16,
    /// The printed change in one year, east positive, if it is printed.
    pub annual_change: Option<Angle>,
}

impl Diagram {
    pub(super) const fn of(spec: &MapSpec) -> Diagram {
        Diagram {
            convergence: spec.convergence,
            declination: spec.declination,
            year: spec.year,
            annual_change: spec.annual_change,
        }
    }

    /// The prongs as they are drawn: each on its true side, in the right order, but *not to scale* (common practice on
    /// topographic maps). Clockwise from true north.
    #[must_use]
    pub fn drawn(&self) -> [(North, Angle); 3] {
        const INNER: f64 = 24.0;
        const OUTER: f64 = 48.0;
        let (grid, magnetic) = (self.convergence.angle().degrees(), self.declination.angle().degrees());
        let same_side = grid * magnetic > 0.0;
        let lean = |own: f64, other: f64| {
            let size = if same_side && own.abs() > other.abs() { OUTER } else { INNER };
            if own == 0.0 { Angle::ZERO } else { Angle::from_degrees(size.copysign(own)) }
        };
        [(North::True, Angle::ZERO), (North::Grid, lean(grid, magnetic)), (North::Magnetic, lean(magnetic, grid))]
    }
}
