//! Declination and convergence side by side, and the G-M angle that follows from them: what grid ↔ magnetic (B4) and
//! orienting by grid lines (D3) share, and the putting together of two angles that the diagram (B1) asks for.

use super::common::{InTenths, Tenths, in_decimals, offset_of, push_east_west, push_size, rounded, tenths};
use crate::angle::{Angle, Convergence, Declination, GridMagnetic};
use crate::problem::{Draw, Fact, FactName, HomeAngles, MixupClass, MixupId, MixupMeta, Step};

/// The two angles from true north.
#[derive(Clone, Copy, Debug)]
pub(super) struct Norths {
    /// Magnetic north from true north.
    pub declination: Declination,
    /// Grid north from true north.
    pub convergence: Convergence,
}

impl Norths {
    /// The angles of home ground, rounded to a multiple of `step` tenths; elsewhere the given declination with a
    /// convergence of either sign that is large enough (1.5° to 4°) to tell a G-M angle from a declination.
    pub fn draw(declination: Declination, step: Tenths, home: Option<HomeAngles>, draw: &mut Draw) -> Norths {
        match home {
            Some(home) => Norths::at_home(home, step),
            None => {
                let (low, high) = if step == 10 { (2, 4) } else { (3, 8) };
                Norths { declination, convergence: offset_of(draw.between(low, high) * step * draw.sign()) }
            }
        }
    }

    /// The angles of home ground, each rounded to a multiple of `step` tenths.
    pub fn at_home(home: HomeAngles, step: Tenths) -> Norths {
        Norths {
            declination: offset_of(rounded(tenths(home.declination().angle()), step)),
            convergence: offset_of(rounded(tenths(home.convergence().angle()), step)),
        }
    }

    /// The G-M angle: magnetic north from grid north.
    pub fn grid_magnetic(&self) -> GridMagnetic {
        self.declination.then(self.convergence.inverse())
    }

    /// What comes out when the two are put together the wrong way: their sizes added where they lie on the same side.
    pub fn added(&self) -> GridMagnetic {
        GridMagnetic::from_angle(self.declination.angle() + self.convergence.angle())
    }

    /// The declination taken for the G-M angle.
    pub fn declination_for_gma(&self) -> GridMagnetic {
        GridMagnetic::from_angle(self.declination.angle())
    }

    /// Whether the convergence is large enough that leaving it out, or putting it in the wrong way, can be seen in a
    /// whole number of degrees.
    pub fn tells(&self) -> bool {
        self.convergence.angle().abs() > Angle::from_degrees(1.0)
    }

    /// Appends both as they are given: `Declination is 12° W and grid convergence is 2° E. `
    pub fn push_given(&self, out: &mut String, on_home: bool) {
        out.push_str(if on_home { "Declination on home ground is " } else { "Declination is " });
        push_east_west(out, self.declination);
        out.push_str(" and grid convergence is ");
        push_east_west(out, self.convergence);
        out.push_str(". ");
    }

    /// The two facts, the declination first.
    pub fn push_facts(&self, facts: &mut Vec<Fact>) {
        facts.push(Fact::angle(FactName::Declination, self.declination.angle()));
        facts.push(Fact::angle(FactName::Convergence, self.convergence.angle()));
    }

    /// Adds the step from the two to the G-M angle, and before it how minutes become decimals, where they do.
    pub fn push_steps(&self, steps: &mut Vec<Step>) {
        let (declination, convergence) = (self.declination.in_tenths(), self.convergence.in_tenths());
        steps.extend(in_decimals(&[declination, convergence]));
        steps.push(Step::new(
            if same_side(declination, convergence) {
                "G-M angle first. Grid and magnetic north lie on the same side of true north, so subtract"
            } else {
                "G-M angle first. Grid and magnetic north lie on opposite sides of true north, so add"
            },
            self.sum(),
        ));
    }

    /// `12 − 2 = 10, so 10° W`: the G-M angle.
    pub fn sum(&self) -> String {
        together(self.declination.in_tenths(), self.convergence.inverse().in_tenths())
    }

    /// `12 + 2 = 14, so 14° W`: what the wrong way of putting them together gives.
    pub fn wrong_sum(&self) -> String {
        together(self.declination.in_tenths(), self.convergence.in_tenths())
    }
}

/// Whether two angles lie on the same side.
pub(super) const fn same_side(one: Tenths, other: Tenths) -> bool {
    (one < 0) == (other < 0)
}

/// Appends two signed angles put together as sizes: `12 − 2 = 10` where their signs differ, `12 + 2 = 14` where not.
pub(super) fn push_together(out: &mut String, one: Tenths, other: Tenths) {
    let (large, small) = if one.abs() < other.abs() { (other, one) } else { (one, other) };
    push_size(out, large);
    out.push_str(if same_side(large, small) { " + " } else { " − " });
    push_size(out, small);
    out.push_str(" = ");
    push_size(out, one + other);
}

/// The same, with the letter that comes out: `12 − 2 = 10, so 10° W`.
pub(super) fn together(one: Tenths, other: Tenths) -> String {
    let mut out = String::with_capacity(36);
    push_together(&mut out, one, other);
    out.push_str(", so ");
    push_east_west(&mut out, one + other);
    out
}

/// The declination where the G-M angle is due: out by the convergence.
pub(super) const DECLINATION_FOR_GMA: MixupMeta = MixupMeta {
    id: MixupId("declination-for-gma"),
    class: MixupClass::North,
    said: "used the declination where the G-M angle is needed",
    mend: "Grid lines need the angle between grid north and magnetic north.",
};

/// Declination and convergence put together the wrong way: out by twice the convergence. The same formula whether the
/// sizes were added on one side of true north or subtracted across it.
pub(super) const SIZES_ADDED: MixupMeta = MixupMeta {
    id: MixupId("sizes-added"),
    class: MixupClass::Sign,
    said: "put the two angles together the wrong way, adding where subtracting is due or the other way about",
    mend: "Draw the three norths: on the same side of true north subtract, on opposite sides add.",
};

#[cfg(test)]
mod tests {
    use super::*;

    fn norths(declination: f64, convergence: f64) -> Norths {
        Norths {
            declination: Declination::from_degrees(declination),
            convergence: Convergence::from_degrees(convergence),
        }
    }

    #[test]
    fn the_gm_angle_is_the_declination_less_the_convergence() {
        // Outside check CV063 (identity, GMA = D − g): D 14 E, convergence 1.5 E give a G-M angle of 12.5 E.
        let norths = self::norths(14.0, 1.5);
        assert_eq!(norths.grid_magnetic(), GridMagnetic::from_degrees(12.5));
        assert_eq!(norths.sum(), "14 − 1.5 = 12.5, so 12°30′ E");
        // Outside check CV064 (identity): D 2 W, convergence 2.5 W give a G-M angle of 0.5 E.
        let norths = self::norths(-2.0, -2.5);
        assert_eq!(norths.grid_magnetic(), GridMagnetic::from_degrees(0.5));
        assert_eq!(norths.sum(), "2.5 − 2 = 0.5, so 0°30′ E");
    }

    #[test]
    fn sizes_on_opposite_sides_are_added() {
        let norths = norths(-12.0, 2.0);
        assert_eq!(norths.sum(), "12 + 2 = 14, so 14° W");
        assert_eq!(norths.wrong_sum(), "12 − 2 = 10, so 10° W");
    }
}
