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

/// How a compass is tried. What is told of it gives no fault away: each way of trying shows several.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Try {
    /// Along two known lines.
    TwoLines,
    /// At two places of one line.
    Further,
    /// Three times at one place.
    Thrice,
    /// Level, and tilted so that a bubble moves.
    Tilted,
}

impl Try {
    /// The ways of trying that show a fault.
    const fn showing(fault: Fault) -> &'static [Try] {
        match fault {
            Fault::Reversed => &[Try::TwoLines, Try::Further, Try::Thrice],
            Fault::Slipped | Fault::None => &[Try::TwoLines, Try::Further, Try::Thrice, Try::Tilted],
            Fault::Iron => &[Try::Further],
            Fault::Sticking => &[Try::Thrice],
            Fault::Bubble => &[Try::Tilted],
        }
    }
}

/// What somebody sees of a fault.
pub(super) struct Shown {
    pub(super) fault: Fault,
    tried: Try,
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
        let tried = draw.pick(Try::showing(fault));
        let second = wrap(known + draw.between(5, 15) * 100 * draw.sign());
        let off = draw.between(6, 15) * 10 * draw.sign();
        let slight = draw.between(-2, 2) * 10;
        let beside = match fault {
            Fault::Reversed => [1800; 3],
            Fault::Slipped => [off; 3],
            Fault::Iron => [off, 0, 0],
            Fault::Sticking => [off, -off / 20 * 10, off / 20 * 10],
            Fault::Bubble => [0, off, 0],
            Fault::None => [slight, -slight, slight],
        };
        let other = if tried == Try::TwoLines { second } else { known };
        let shows = [known + beside[0], other + beside[1], known + beside[2]].map(wrap);
        Shown { fault, tried, known, second, shows, bubble_mm: draw.between(4, 12) }
    }

    /// What is seen, as told.
    pub(super) fn seen(&self) -> String {
        let m = |tenths: Tenths| bearing(tenths, North::Magnetic);
        let [one, two, three] = self.shows.map(m);
        match self.tried {
            Try::TwoLines => {
                format!("It shows {one} there; along another line, which runs on {}, it shows {two}.", m(self.second))
            }
            Try::Further => format!("It shows {one} there; twenty steps further along the same line it shows {two}."),
            Try::Thrice => {
                format!("You box the needle there three times, and it shows {one}, then {two}, then {three}.")
            }
            Try::Tilted => {
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
        let mut facts = vec![degrees("known_line_deg", self.known), degrees("known_line_shown_deg", one)];
        match self.tried {
            Try::TwoLines => {
                facts.extend([degrees("second_line_deg", self.second), degrees("second_line_shown_deg", two)]);
            }
            Try::Further => facts.push(degrees("shown_further_along_deg", two)),
            Try::Thrice => {
                facts.extend([degrees("shown_at_second_try_deg", two), degrees("shown_at_third_try_deg", three)]);
            }
            Try::Tilted => facts
                .extend([degrees("shown_tilted_deg", two), Fact::own_number("bubble_mm", f64::from(self.bubble_mm))]),
        }
        facts.push(Fact::wanted(Wanted::own("fault")));
        facts
    }
}
