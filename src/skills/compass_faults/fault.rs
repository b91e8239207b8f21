//! What can be wrong, and what one sees of it along a known line.

use super::super::common::{Tenths, angle, bearing, wrap};
use super::meta::{OTHER_FAULT, OVERLOOKED, PLACE_OR_COMPASS, SUPPOSED};
use crate::angle::North;
use crate::problem::{Draw, Fact, MixupMeta, Wanted};

/// What is wrong, in the order of [`FAULTS`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Fault {
    Reversed,
    Slipped,
    Iron,
    Sticking,
    Bubble,
    None,
}

/// The words that are chosen from.
pub(super) const FAULTS: [&str; 6] = [
    "the needle is reversed",
    "the dial has slipped",
    "iron is near",
    "the needle sticks",
    "a bubble holds the needle",
    "nothing is wrong",
];

impl Fault {
    pub(super) const ALL: [Fault; 6] =
        [Fault::Reversed, Fault::Slipped, Fault::Iron, Fault::Sticking, Fault::Bubble, Fault::None];

    /// By what it is known.
    pub(super) const fn sign(self) -> &'static str {
        match self {
            Fault::Reversed => "every number is half a circle off",
            Fault::Slipped => "every number is off by the same amount, everywhere",
            Fault::Iron => "it is off at this place, and right some steps away",
            Fault::Sticking => "no two tries show the same",
            Fault::Bubble => "it is right until the bubble touches the needle",
            Fault::None => "all numbers lie within 3° of what they should be",
        }
    }

    /// The mix-up of somebody who names another one.
    pub(super) const fn taken_for(self, other: Fault) -> &'static MixupMeta {
        match (self, other) {
            (Fault::None, _) => &SUPPOSED,
            (_, Fault::None) => &OVERLOOKED,
            (Fault::Iron, _) | (_, Fault::Iron) => &PLACE_OR_COMPASS,
            _ => &OTHER_FAULT,
        }
    }
}

/// What somebody sees of a fault.
pub(super) struct Shown {
    pub(super) fault: Fault,
    /// The bearing of the known line.
    pub(super) known: Tenths,
    /// A second known line, where two are tried.
    second: Tenths,
    /// What is shown: along both lines, or along the first at several tries or places.
    shows: [Tenths; 3],
    /// How wide the bubble is.
    bubble_mm: i32,
}

impl Shown {
    pub(super) fn draw(known: Tenths, draw: &mut Draw) -> Shown {
        let fault = Fault::ALL[draw.between(0, 5).unsigned_abs() as usize];
        let second = wrap(known + draw.between(5, 15) * 100 * draw.sign());
        let off = draw.between(6, 15) * 10 * draw.sign();
        let slight = draw.between(-2, 2) * 10;
        let shows = match fault {
            Fault::Reversed => [known + 1800, second + 1800, 0],
            Fault::Slipped => [known + off, second + off, 0],
            Fault::Iron => [known + off, known, 0],
            Fault::Sticking => [known + off, known - off / 20 * 10, known + off / 20 * 10],
            Fault::Bubble => [known, known + off, 0],
            Fault::None => [known + slight, second - slight, 0],
        };
        Shown { fault, known, second, shows: shows.map(wrap), bubble_mm: draw.between(7, 12) }
    }

    /// What is seen, as told.
    pub(super) fn seen(&self) -> String {
        let m = |tenths: Tenths| bearing(tenths, North::Magnetic);
        let [one, two, three] = self.shows.map(m);
        match self.fault {
            Fault::Reversed | Fault::Slipped | Fault::None => {
                format!("It shows {one} there; along another line, which runs on {}, it shows {two}.", m(self.second))
            }
            Fault::Iron => format!("It shows {one} there; twenty steps further along the same line it shows {two}."),
            Fault::Sticking => {
                format!("You box the needle there three times, and it shows {one}, then {two}, then {three}.")
            }
            Fault::Bubble => {
                let wide = self.bubble_mm;
                format!(
                    "A bubble {wide} mm wide swims in it. Held level it shows {one}; tilted a little it shows {two}."
                )
            }
        }
    }

    pub(super) fn facts(&self) -> Vec<Fact> {
        let degrees = |name, tenths: Tenths| Fact::own_angle(name, angle(tenths));
        let [one, two, three] = self.shows;
        let mut facts = vec![degrees("known_line_deg", self.known)];
        match self.fault {
            Fault::Reversed | Fault::Slipped | Fault::None => facts.extend([
                degrees("known_line_shown_deg", one),
                degrees("second_line_deg", self.second),
                degrees("second_line_shown_deg", two),
            ]),
            Fault::Iron => {
                facts.extend([degrees("known_line_shown_deg", one), degrees("shown_further_along_deg", two)])
            }
            Fault::Sticking => facts.extend([
                degrees("known_line_shown_deg", one),
                degrees("shown_at_second_try_deg", two),
                degrees("shown_at_third_try_deg", three),
            ]),
            Fault::Bubble => facts.extend([
                degrees("known_line_shown_deg", one),
                degrees("shown_tilted_deg", two),
                Fact::own_number("bubble_mm", f64::from(self.bubble_mm)),
            ]),
        }
        facts.push(Fact::wanted(Wanted::own("fault")));
        facts
    }
}
