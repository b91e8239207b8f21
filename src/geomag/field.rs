//! The magnetic field at a place and a date, and what follows from it.

use super::Zone;
use super::sum::Vector;
use crate::angle::{Angle, Declination};

/// Change of declination in one year, east positive.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct AnnualChange(Angle);

impl AnnualChange {
    /// From the signed angle per year, east positive.
    #[must_use]
    pub const fn from_angle(east_per_year: Angle) -> AnnualChange {
        AnnualChange(east_per_year)
    }

    /// The signed angle per year, east positive.
    #[must_use]
    pub const fn angle(self) -> Angle {
        self.0
    }
}

/// The field at one place and date, north, east and down in nT, with its yearly change.
///
/// Everything else is worked out when asked for. All numbers are finite, also at the poles; north and east at a pole are
/// those of the meridian that was asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Field {
    now: Vector,
    change: Vector,
}

impl Field {
    pub(super) const fn new(now: Vector, change: Vector) -> Field {
        Field { now, change }
    }

    /// North component X in nT, toward true north.
    #[cfg(test)]
    #[must_use]
    pub const fn north_nt(&self) -> f64 {
        self.now.north
    }

    /// East component Y in nT.
    #[cfg(test)]
    #[must_use]
    pub const fn east_nt(&self) -> f64 {
        self.now.east
    }

    /// Downward component Z in nT.
    #[cfg(test)]
    #[must_use]
    pub const fn down_nt(&self) -> f64 {
        self.now.down
    }

    /// Strength H of the horizontal field in nT, ≥ 0: what turns the needle.
    #[must_use]
    pub fn horizontal_nt(&self) -> f64 {
        self.horizontal_square().sqrt()
    }

    /// Strength F of the whole field in nT, ≥ 0.
    #[must_use]
    pub fn total_nt(&self) -> f64 {
        self.total_square().sqrt()
    }

    /// Declination D: magnetic north from true north, east positive. 0 exactly over a dip pole, where there is none.
    #[must_use]
    pub fn declination(&self) -> Declination {
        Declination::from_angle(Angle::from_radians(self.now.east.atan2(self.now.north)))
    }

    /// Inclination I (dip): the field below the horizontal, −90 to 90 degrees, north end down positive.
    #[must_use]
    pub fn inclination(&self) -> Angle {
        Angle::from_radians(self.now.down.atan2(self.horizontal_nt()))
    }

    /// Yearly change of the declination. Near a dip pole it grows without limit.
    #[must_use]
    pub fn annual_change(&self) -> AnnualChange {
        let turning = self.now.north * self.change.east - self.now.east * self.change.north;
        AnnualChange(per_year(turning, self.horizontal_square()))
    }

    /// Yearly change of the inclination, in degrees per year, downward positive.
    #[must_use]
    pub fn inclination_change(&self) -> Angle {
        let horizontal = self.horizontal_nt();
        let dipping = horizontal * self.change.down - self.now.down * self.horizontal_change_nt();
        per_year(dipping, self.total_square())
    }

    /// Yearly change of the north component, in nT per year.
    #[cfg(test)]
    #[must_use]
    pub const fn north_change_nt(&self) -> f64 {
        self.change.north
    }

    /// Yearly change of the east component, in nT per year.
    #[cfg(test)]
    #[must_use]
    pub const fn east_change_nt(&self) -> f64 {
        self.change.east
    }

    /// Yearly change of the downward component, in nT per year.
    #[cfg(test)]
    #[must_use]
    pub const fn down_change_nt(&self) -> f64 {
        self.change.down
    }

    /// Yearly change of the horizontal strength, in nT per year. 0 exactly over a dip pole.
    #[must_use]
    pub fn horizontal_change_nt(&self) -> f64 {
        ratio(self.now.north * self.change.north + self.now.east * self.change.east, self.horizontal_nt())
    }

    /// Yearly change of the total strength, in nT per year.
    #[must_use]
    pub fn total_change_nt(&self) -> f64 {
        let Vector { north, east, down } = self.now;
        ratio(north * self.change.north + east * self.change.east + down * self.change.down, self.total_nt())
    }

    /// How far the declination may be out: one standard deviation of the model's own error, √(0.26² + (5417/H)²) degrees
    /// (WMM2025 error model), at most 180 degrees. Iron and magnetic storms come on top.
    #[must_use]
    pub fn uncertainty(&self) -> Angle {
        declination_uncertainty(self.horizontal_nt())
    }

    /// How far a compass can be trusted here.
    #[must_use]
    pub fn zone(&self) -> Zone {
        Zone::of_horizontal_nt(self.horizontal_nt())
    }

    fn horizontal_square(&self) -> f64 {
        self.now.north * self.now.north + self.now.east * self.now.east
    }

    fn total_square(&self) -> f64 {
        self.horizontal_square() + self.now.down * self.now.down
    }
}

fn declination_uncertainty(horizontal_nt: f64) -> Angle {
    Angle::from_degrees((0.26_f64.powi(2) + (5417.0 / horizontal_nt).powi(2)).sqrt().min(180.0))
}

fn per_year(numerator: f64, denominator: f64) -> Angle {
    Angle::from_degrees(ratio(numerator, denominator).to_degrees())
}

/// A quotient that is 0 where it would not be a finite angle: exactly over a dip pole there is no direction to change.
fn ratio(numerator: f64, denominator: f64) -> f64 {
    let quotient = numerator / denominator;
    if quotient.abs() < 1e300 { quotient } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn field(north: f64, east: f64, down: f64) -> Field {
        Field::new(Vector { north, east, down }, Vector { north: 10.0, east: 20.0, down: 30.0 })
    }

    #[test]
    fn over_a_dip_pole_everything_is_still_a_number() {
        for north in [0.0, -0.0, 1e-160, 1e-300] {
            let field = field(north, 0.0, 57_000.0);
            assert_eq!(field.uncertainty().degrees(), 180.0);
            assert_eq!(field.zone(), Zone::Blackout);
            assert_eq!(field.inclination().degrees(), 90.0);
            assert!(field.annual_change().angle().degrees().is_finite());
            assert!(field.inclination_change().degrees().is_finite());
            assert!(field.horizontal_change_nt().is_finite());
        }
    }

    #[test]
    fn the_uncertainty_follows_the_published_error_model() {
        // CV097: sqrt(0.26^2 + (5417/H)^2) deg, H in nT (H=20000 -> 0.375).
        assert!((declination_uncertainty(20_000.0).degrees() - 0.375).abs() < 0.0005);
    }

    #[test]
    fn a_field_toward_the_north_east_has_an_east_declination_of_45_degrees() {
        let field = field(20_000.0, 20_000.0, 0.0);
        assert_eq!(field.declination().angle().degrees(), 45.0);
        // East gains 20 − 10 = 10 nT a year across the needle's direction (times √½), over H: counted by hand.
        let change = (10.0 * 0.5_f64.sqrt() / (20_000.0 * 2.0_f64.sqrt())).to_degrees();
        assert_eq!(field.annual_change(), AnnualChange::from_angle(Angle::from_degrees(change)));
    }
}
