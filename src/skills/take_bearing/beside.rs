//! What stands near the place where a bearing is taken, and whether the needle can be trusted beside it.

use super::super::common::Tenths;
use crate::maptable::Trust;
use crate::problem::{Draw, Fact};
use std::fmt::{self, Display};

/// Iron that is near whatever its distance in the text: the thing, how far away in m, and why.
const NEAR: [Thing; 6] = [
    Thing("A wire fence runs", 2, "A wire fence is iron, and so near it turns the needle: nobody sees by how much."),
    Thing("An iron gate stands", 3, "So near, a gate of iron turns the needle: nobody sees by how much."),
    Thing("A parked car stands", 6, CAR_NEAR),
    Thing("A parked car stands", 12, CAR_NEAR),
    Thing("A power line runs", 25, LINE_NEAR),
    Thing("A power line runs", 40, LINE_NEAR),
];
/// Iron that is far enough away.
const FAR: [Thing; 5] = [
    Thing("A parked car stands", 30, CAR_FAR),
    Thing("A parked car stands", 50, CAR_FAR),
    Thing("A parked car stands", 80, CAR_FAR),
    Thing("A power line runs", 90, LINE_FAR),
    Thing("A power line runs", 150, LINE_FAR),
];
/// Things that are no iron.
const NO_IRON: [Thing; 4] = [
    Thing("A stone wall runs", 2, "There is no iron in a stone wall, so nothing turns the needle."),
    Thing("A wooden fence runs", 3, "There is no iron in a wooden fence, so nothing turns the needle."),
    Thing("A birch stands", 2, "There is no iron in a birch, so nothing turns the needle."),
    Thing("A heap of hay stands", 3, "There is no iron in hay, so nothing turns the needle."),
];
// FM 3-25.26: keep 18 m from a vehicle, 55 m from high-tension lines.
const CAR_NEAR: &str = "A car turns the needle as far as 18 m away, and nobody sees by how much.";
const CAR_FAR: &str = "A car turns the needle as far as 18 m away, and this one stands farther off.";
const LINE_NEAR: &str = "A power line can turn the needle as far as 55 m away, and nobody sees by how much.";
const LINE_FAR: &str = "A power line can turn the needle as far as 55 m away, and this one runs farther off.";

const ANOTHER_WAY: &str =
    "Ten steps on the needle pointed another way, so something that you do not see turns it here or there.";

/// A thing that stands or runs so many m away, and what it does.
#[derive(Clone, Copy)]
struct Thing(&'static str, i32, &'static str);

/// What stands near.
#[derive(Clone, Copy)]
pub(super) struct Beside {
    thing: Thing,
    /// Whether the needle was looked at ten steps on and pointed another way.
    another: bool,
    /// Whether the needle can be trusted.
    pub trust: Trust,
}

impl Beside {
    /// Neither the thing, nor its distance, nor the trial ten steps on alone says whether the needle can be trusted.
    pub fn draw(draw: &mut Draw) -> Beside {
        match draw.below(20) {
            0..=7 => Beside::of(draw.pick(&NEAR), false),
            8..=9 => {
                let thing = draw.pick(&NO_IRON);
                Beside { thing, another: true, trust: Trust { holds: false, why: ANOTHER_WAY } }
            }
            10..=16 => Beside::of(draw.pick(&FAR), true),
            _ => Beside::of(draw.pick(&NO_IRON), true),
        }
    }

    /// A thing that says by itself whether the needle can be trusted.
    const fn of(thing: Thing, holds: bool) -> Beside {
        Beside { thing, another: false, trust: Trust { holds, why: thing.2 } }
    }

    /// How far it turns the needle, either way.
    pub fn turns(&self, draw: &mut Draw) -> Tenths {
        let turned = draw.between(6, 20) * 10 * draw.sign();
        if self.trust.holds { 0 } else { turned }
    }

    /// What a solver needs.
    pub fn facts(&self) -> [Fact; 3] {
        let Thing(name, far_m, _) = self.thing;
        let thing = name.trim_start_matches("An ").trim_start_matches("A ");
        let thing = thing.rsplit_once(' ').map_or(thing, |(noun, _)| noun).replace(' ', "_");
        let tried = if self.another { "another_way" } else { "not_tried" };
        [
            Fact::own_word("beside", thing),
            Fact::own_number("beside_m", f64::from(far_m)),
            Fact::own_word("needle_ten_steps_on", tried),
        ]
    }
}

/// The thing, how far away, and the trial.
impl Display for Beside {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Thing(name, far_m, _) = self.thing;
        write!(out, "{name} {far_m} m away.")?;
        if self.another {
            out.write_str(" Ten steps on the needle pointed another way.")?;
        }
        Ok(())
    }
}
