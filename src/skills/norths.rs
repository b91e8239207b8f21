//! Declination and convergence side by side, and the G-M angle that follows from them: what grid ↔ magnetic (B4) and
//! orienting by grid lines (D3) share, and the putting together of two angles that the diagram (B1) asks for.
//!
//! Home ground has its angles to the minute. Where both are printed, what is printed is what is subtracted, and the G-M angle is
//! rounded once, for the dial; where only one angle is printed, that one is rounded, and the text says so. Rounding each
//! part first made the G-M angle up to a degree wrong.

use super::common::offset_of;
use crate::angle::{
    Angle, Convergence, Declination, GridMagnetic, NorthKind, Offset, declination_words, degrees_minutes,
};
use crate::problem::{Draw, Fact, FactName, HomeAngles, MixupClass, MixupId, MixupMeta, Step};
use std::fmt::{self, Display};

/// A degree: what a dial can be set to.
const DEGREE: Angle = Angle::from_degrees(1.0);

/// The two angles from true north.
#[derive(Clone, Copy, Debug)]
pub(super) struct Norths {
    /// Magnetic north from true north.
    pub declination: Declination,
    /// Grid north from true north.
    pub convergence: Convergence,
}

impl Norths {
    /// The angles of home ground; elsewhere two of whole degrees from which the G-M angle must be worked out.
    ///
    /// In two of five grid and magnetic north lie on opposite sides of true north, in two of five on the same side with grid north
    /// farther out, so that neither "always subtract" nor "the declination's letter" is right in most problems.
    pub fn draw(home: Option<HomeAngles>, draw: &mut Draw) -> Norths {
        if let Some(home) = home {
            return Norths::at_home(home);
        }
        let side = draw.sign();
        let (declination, convergence) = match draw.below(100) {
            0..43 => (draw.between(3, 28), -draw.between(2, 5)),
            43..87 => draw.pick(&[(1, 3), (1, 4), (2, 4), (1, 5), (2, 5), (3, 5)]),
            _ => {
                let convergence = draw.between(2, 5);
                (draw.between(convergence + 2, 28), convergence)
            }
        };
        Norths { declination: offset_of(side * declination * 10), convergence: offset_of(side * convergence * 10) }
    }

    /// The angles of home ground, to the minute.
    pub const fn at_home(home: HomeAngles) -> Norths {
        Norths { declination: home.declination(), convergence: home.convergence() }
    }

    /// The G-M angle: magnetic north from grid north.
    pub fn grid_magnetic(&self) -> GridMagnetic {
        self.declination.then(self.convergence.inverse())
    }

    /// The G-M angle as a dial can hold it.
    pub fn on_dial(&self) -> GridMagnetic {
        whole(self.grid_magnetic())
    }

    /// What comes out when the two are put together the wrong way, their sizes added where they lie on the same side, on the
    /// dial; none where nothing else could be told from it.
    pub fn added(&self) -> Option<GridMagnetic> {
        let added = whole(GridMagnetic::from_angle(self.declination.angle() + self.convergence.angle()));
        let from_declination = (added.angle() - whole(self.declination).angle()).abs();
        Some(added).filter(|added| tells(added.angle(), self.on_dial().angle()) && from_declination > DEGREE)
    }

    /// The declination taken for the G-M angle, on the dial; none where nothing else could be told from it.
    pub fn declination_for_gma(&self) -> Option<GridMagnetic> {
        let taken = GridMagnetic::from_angle(whole(self.declination).angle());
        Some(taken).filter(|taken| tells(taken.angle(), self.on_dial().angle()))
    }

    /// The step that rounds a declination with minutes.
    pub fn rounded_declination(&self) -> Option<Step> {
        rounding_step(self.declination)
    }

    /// Both as they are given: `Declination is 12° W and grid convergence is 2° E. `
    pub fn given_words(&self, on_home: bool) -> impl Display {
        fmt::from_fn(move |out| {
            write!(
                out,
                "{}{} and grid convergence is {}. ",
                if on_home { "Declination on home ground is " } else { "Declination is " },
                declination_words(self.declination.angle()),
                declination_words(self.convergence.angle())
            )
        })
    }

    /// The two facts, the declination first.
    pub fn push_facts(&self, facts: &mut Vec<Fact>) {
        facts.push(Fact::angle(FactName::Declination, self.declination.angle()));
        facts.push(Fact::angle(FactName::Convergence, self.convergence.angle()));
    }

    /// Adds the step from the two to the G-M angle, and where that has minutes the one that rounds it.
    pub fn push_steps(&self, steps: &mut Vec<Step>) {
        let sum = Step::new(self.rule(), self.exact_sum());
        steps.push(sum.decides(
            "G-M angle first. Do grid and magnetic north lie on the same side of true north: subtract or add?",
        ));
        steps.extend(rounding_step(self.grid_magnetic()));
    }

    fn rule(&self) -> &'static str {
        let (declination, convergence) = (self.declination.angle(), self.convergence.angle());
        if convergence == Angle::ZERO {
            "G-M angle first. Grid north is true north here, so it is the declination itself"
        } else if declination == Angle::ZERO {
            "G-M angle first. Magnetic north is true north here, so it is the convergence, seen from grid north"
        } else if same_side(declination, convergence) && convergence.abs() > declination.abs() {
            "G-M angle first. Grid and magnetic north lie on the same side of true north, so subtract; grid north lies further out, so from there the needle lies the other way"
        } else if same_side(declination, convergence) {
            "G-M angle first. Grid and magnetic north lie on the same side of true north, so subtract; the needle lies further out, so its side stays"
        } else {
            "G-M angle first. Grid and magnetic north lie on opposite sides of true north, so add; the needle's side stays"
        }
    }

    fn exact_sum(&self) -> impl Display {
        together(self.declination.angle(), self.convergence.inverse().angle())
    }

    /// `12° − 2° = 10°, so 10° W`: the G-M angle, and where it has minutes `, rounded 10° W` for the dial.
    pub fn sum(&self) -> String {
        rounded_too(self.exact_sum(), self.grid_magnetic())
    }

    /// `12° + 2° = 14°, so 14° W`: what the wrong way of putting them together gives.
    pub fn wrong_sum(&self) -> String {
        let (declination, convergence) = (self.declination.angle(), self.convergence.angle());
        let made = GridMagnetic::from_angle(declination + convergence);
        rounded_too(together(declination, convergence), made)
    }
}

/// Whether an angle used in place of the right one leads to a number of its own: not to that of the right angle, of the right
/// one turned round, left out or used twice.
pub(super) fn tells(used: Angle, right: Angle) -> bool {
    let others = [right, -right, Angle::ZERO, right + right];
    others.into_iter().all(|other| (used - other).abs() > DEGREE)
}

/// The step that brings an angle to what a dial can hold, where it is not that already.
fn rounding_step<A: NorthKind, B: NorthKind>(offset: Offset<A, B>) -> Option<Step> {
    let rounded = || declination_words(whole(offset).angle());
    let words = "Nobody can set minutes on a dial, so round to the nearest degree";
    (whole(offset) != offset).then(|| Step::new(words, rounded()))
}

/// The convergence of a map on the table, which is drawn and not printed: that of home ground, to a tenth of a degree; elsewhere
/// from 2° to 4° on either side.
pub(super) fn convergence_beside(home: Option<HomeAngles>, draw: &mut Draw) -> Convergence {
    match home {
        Some(home) => offset_of(home.convergence().angle().tenths()),
        None => offset_of(draw.between(2, 4) * 10 * draw.sign()),
    }
}

fn rounded_too(sum: impl Display, made: GridMagnetic) -> String {
    match whole(made) {
        rounded if rounded == made => sum.to_string(),
        rounded => format!("{sum}, rounded {}", declination_words(rounded.angle())),
    }
}

/// Rounded to a degree, as a dial can hold it.
pub(super) fn whole<A: NorthKind, B: NorthKind>(offset: Offset<A, B>) -> Offset<A, B> {
    Offset::from_angle(offset.angle().rounded_to(DEGREE))
}

/// An angle that is given alone, `Declination is 12° W`; on home ground it is rounded, and the text says so:
/// `Declination on home ground, rounded, is 12° W`.
pub(super) fn given_alone_words<A: NorthKind, B: NorthKind>(
    name: &str,
    offset: Offset<A, B>,
    on_home: bool,
) -> impl Display {
    fmt::from_fn(move |out| {
        write!(
            out,
            "{name}{}{}",
            if on_home { " on home ground, rounded, is " } else { " is " },
            declination_words(offset.angle())
        )
    })
}

/// Whether two angles lie on the same side.
pub(super) fn same_side(one: Angle, other: Angle) -> bool {
    (one < Angle::ZERO) == (other < Angle::ZERO)
}

/// Two signed angles put together as sizes: `12° − 2° = 10°` where their signs differ, `12° + 2° = 14°` where not; where
/// one of them is nothing, only the other.
pub(super) fn sizes_together(one: Angle, other: Angle) -> impl Display {
    fmt::from_fn(move |out| {
        let (large, small) = if one.abs() < other.abs() { (other, one) } else { (one, other) };
        if small != Angle::ZERO {
            degrees_minutes(large).fmt(out)?;
            out.write_str(if same_side(large, small) { " + " } else { " − " })?;
            degrees_minutes(small).fmt(out)?;
            out.write_str(" = ")?;
        }
        degrees_minutes(one + other).fmt(out)
    })
}

/// The same, with the letter that comes out: `12° − 2° = 10°, so 10° W`.
pub(super) fn together(one: Angle, other: Angle) -> impl Display {
    fmt::from_fn(move |out| {
        sizes_together(one, other).fmt(out)?;
        out.write_str(", so ")?;
        declination_words(one + other).fmt(out)
    })
}

/// The declination where the G-M angle is due: out by the convergence.
pub(super) const DECLINATION_FOR_GMA: MixupMeta = MixupMeta {
    id: MixupId("declination-for-gma"),
    class: MixupClass::North,
    said: "used the declination where the G-M angle is needed",
    mend: "Grid lines need the angle between grid north and magnetic north.",
};

/// The G-M angle where the declination is due: out by the convergence.
pub(super) const GMA_FOR_DECLINATION: MixupMeta = MixupMeta {
    id: MixupId("gma-for-declination"),
    class: MixupClass::North,
    said: "took the G-M angle for the declination",
    mend: "Declination counts from the star, the prong of true north.",
};

/// The same, where it turns a bearing: the mending is that of lines.
pub(super) const GMA_ON_TRUE_LINE: MixupMeta = MixupMeta {
    mend: "True-north lines need the angle between true north and magnetic north: the declination.",
    ..GMA_FOR_DECLINATION
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
        assert_eq!(norths.sum(), "14° − 1°30′ = 12°30′, so 12°30′ E, rounded 13° E");
        // Outside check CV064 (identity): D 2 W, convergence 2.5 W give a G-M angle of 0.5 E.
        let norths = self::norths(-2.0, -2.5);
        assert_eq!(norths.grid_magnetic(), GridMagnetic::from_degrees(0.5));
        assert_eq!(norths.sum(), "2°30′ − 2° = 0°30′, so 0°30′ E, rounded 1° E");
    }

    #[test]
    fn sizes_on_opposite_sides_are_added() {
        let norths = norths(-12.0, 2.0);
        assert_eq!(norths.sum(), "12° + 2° = 14°, so 14° W");
        assert_eq!(norths.wrong_sum(), "12° − 2° = 10°, so 10° W");
    }
}
