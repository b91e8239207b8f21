//! What a map is asked to be.
use crate::angle::{Angle, Convergence, Declination};

/// The scale of a map.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Scale {
    /// 1:25 000, a kilometre is 40 mm.
    #[default]
    OneTo25000,
    /// 1:50 000, a kilometre is 20 mm.
    OneTo50000,
}

impl Scale {
    /// How many times smaller than the ground the map is.
    #[must_use]
    pub const fn denominator(self) -> u32 {
        match self {
            Scale::OneTo25000 => 25_000,
            Scale::OneTo50000 => 50_000,
        }
    }

    /// Millimetres on paper for a kilometre on the ground.
    #[must_use]
    pub const fn mm_per_km(self) -> f64 {
        1e6 / self.denominator() as f64
    }
}

/// Which ruled lines a map carries besides its borders, which are always true-north lines.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ruled {
    /// Grid lines, numbered in the margin.
    pub grid: bool,
    /// How many true-north lines cross the sheet, 0 to [`Ruled::MOST`]; more is taken as the most.
    pub true_lines: u8,
    /// How many magnetic-north lines cross the sheet, 0 to [`Ruled::MOST`]; more is taken as the most.
    pub magnetic_lines: u8,
    /// Whether a declination diagram is printed on the sheet; like most, it is not drawn to scale.
    pub diagram: bool,
}

impl Ruled {
    /// The most true-north or magnetic-north lines on a sheet.
    pub const MOST: u8 = 4;
}

impl Default for Ruled {
    fn default() -> Ruled {
        Ruled { grid: true, true_lines: 0, magnetic_lines: 0, diagram: false }
    }
}

/// What a map is asked to be. The ground itself follows from the seed and the size of the sheet alone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MapSpec {
    /// Width of the sheet inside its borders in mm, [`MapSpec::SIDES_MM`]; other numbers are taken as the nearest.
    pub width_mm: f64,
    /// Height of the sheet inside its borders in mm, [`MapSpec::SIDES_MM`]; other numbers are taken as the nearest.
    pub height_mm: f64,
    /// The scale.
    pub scale: Scale,
    /// How far grid north lies clockwise (east) of true north; at most [`MapSpec::MOST_CONVERGENCE`] to either side,
    /// more is taken as the most.
    pub convergence: Convergence,
    /// The declination printed on the map: how far magnetic north lay clockwise (east) of true north in
    /// [`MapSpec::year`]. Any.
    pub declination: Declination,
    /// The year for which the declination is printed.
    pub year: i16,
    /// The printed change of the declination in one year, east positive, if it is printed.
    pub annual_change: Option<Angle>,
    /// Which lines it carries.
    pub ruled: Ruled,
}

impl MapSpec {
    /// Sides a sheet may have, in mm.
    pub const SIDES_MM: std::ops::RangeInclusive<f64> = 70.0..=240.0;

    /// The largest grid convergence of a map.
    pub const MOST_CONVERGENCE: Angle = Angle::from_degrees(12.0);

    /// The same spec with every number within its range.
    #[must_use]
    pub fn within_ranges(self) -> MapSpec {
        let side = |mm: f64| {
            // A side that is no number at all becomes the shortest.
            if mm.is_finite() {
                mm.clamp(*Self::SIDES_MM.start(), *Self::SIDES_MM.end())
            } else {
                *Self::SIDES_MM.start()
            }
        };
        let most = Self::MOST_CONVERGENCE.degrees();
        MapSpec {
            width_mm: side(self.width_mm),
            height_mm: side(self.height_mm),
            convergence: Convergence::from_degrees(self.convergence.angle().degrees().clamp(-most, most)),
            ruled: Ruled {
                true_lines: self.ruled.true_lines.min(Ruled::MOST),
                magnetic_lines: self.ruled.magnetic_lines.min(Ruled::MOST),
                ..self.ruled
            },
            ..self
        }
    }
}

impl Default for MapSpec {
    /// 96 by 84 mm at 1:25 000, grid lines, no declination.
    fn default() -> MapSpec {
        MapSpec {
            width_mm: 96.0,
            height_mm: 84.0,
            scale: Scale::default(),
            convergence: Convergence::from_degrees(0.0),
            declination: Declination::from_degrees(0.0),
            year: 2026,
            annual_change: None,
            ruled: Ruled::default(),
        }
    }
}
