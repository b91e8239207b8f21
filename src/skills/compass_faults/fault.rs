//! What can be wrong, and what one sees of it along known lines.
//!
//! A compass is tried twice at one place and once along another line far away, since one place alone tells a slipped dial from
//! iron by nothing, and iron in a pocket goes with its owner but not by the same amount along every line. That a small bubble does
//! no harm and a large one does is common practice, no source.

use super::super::common::{Tenths, angle, bearing, size, wrap};
use super::meta::{OTHER_FAULT, OVERLOOKED, PLACE_OR_COMPASS, SUPPOSED};
use crate::angle::North;
use crate::problem::{Draw, Fact, MixupMeta, Step, Wanted};

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
            Fault::Slipped => "every number is off by the same amount, along the other line, too",
            Fault::Iron => "tries at one place agree, but along the other line it is off by another amount, or right",
            Fault::Sticking => "held level, two tries at one place lie more than 3° apart",
            Fault::Bubble => "it is right while it is level, and a large bubble pushes the needle when it tilts",
            Fault::None => "all numbers lie within 3° of what they should be",
        }
    }

    /// What one has to know to tell it from the others.
    const fn reason(self) -> &'static str {
        match self {
            Fault::Reversed => "A magnet or a phone laid beside a compass can turn its needle round for good",
            Fault::Slipped | Fault::Iron => {
                "Iron at a place stays behind when you leave it; iron in your pocket goes with you, and a fence, a rail or a power line runs on beside you. So steps along the same wall prove little: only another line, far off and running otherwise, tells iron from a dial"
            }
            Fault::Sticking => "A free needle comes back to the same place each time, to 2 or 3 degrees",
            Fault::Bubble => {
                "A small bubble does no harm while the needle swings freely; a large one gets in the needle's way"
            }
            Fault::None => {
                "No hand is quite still, so a good compass shows a degree or two more or less from try to try"
            }
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

/// What is done between the two readings at the first place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Try {
    /// The needle is boxed once more.
    Again,
    /// The compass is tilted, so that its bubble moves.
    Tilted,
}

impl Try {
    /// The ways of trying that show a fault and nothing else. Of what changes when it is tilted, the bubble is to blame.
    const fn showing(fault: Fault) -> &'static [Try] {
        match fault {
            Fault::Reversed | Fault::Slipped | Fault::Iron | Fault::None => &[Try::Again, Try::Tilted],
            Fault::Sticking => &[Try::Again],
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
    /// Another known line, far away.
    second: Tenths,
    /// How far away.
    away_m: i32,
    /// What is shown: twice along the first line, then along the second.
    shows: [Tenths; 3],
    /// How wide the bubble is.
    bubble_mm: i32,
}

impl Shown {
    pub(super) fn draw(known: Tenths, draw: &mut Draw) -> Shown {
        let fault = Fault::ALL[draw.between(0, 5).unsigned_abs() as usize];
        let tried = draw.pick(Try::showing(fault));
        let second = wrap(known + draw.between(5, 15) * 100 * draw.sign());
        let side = draw.sign();
        let off = draw.between(7, 15) * side;
        let far = draw.between(6, 12) * side;
        let elsewhere = match draw.between(0, 2) {
            // On whoever holds it: another way to face, another amount.
            0 => [off, off, off - draw.between(9, 20) * side],
            1 => [off, off, 0],
            _ => [0, 0, off],
        };
        let beside = match fault {
            Fault::Reversed => [180; 3],
            Fault::Slipped => [off; 3],
            Fault::Iron => elsewhere,
            Fault::Sticking => [off, off - far, draw.between(-12, 12)],
            Fault::Bubble => [0, off, 0],
            Fault::None => [draw.between(-2, 2); 3],
        };
        // A hand is never quite still.
        let [two, three] = [draw.between(-1, 1), draw.between(-1, 1)];
        let still = [beside[0], beside[1] + two, beside[2] + three];
        let lines = [known, known, second];
        let shows = [0, 1, 2].map(|at| wrap(lines[at] + still[at] * 10));
        // A large one may be there and do nothing: what counts is whether the number changes with it.
        let large = match fault {
            Fault::Bubble => true,
            Fault::None => false,
            _ => draw.chance(1, 2),
        };
        let bubble_mm = if large { draw.between(6, 10) } else { draw.between(1, 3) };
        Shown { fault, tried, known, second, away_m: draw.between(2, 9) * 100, shows, bubble_mm }
    }

    /// What is seen, as told.
    pub(super) fn seen(&self) -> String {
        let m = |tenths: Tenths| bearing(tenths, North::Magnetic);
        let [one, two, three] = self.shows.map(m);
        let here = match self.tried {
            Try::Again => {
                format!("It shows {one} there; you turn away and box the needle once more, and it shows {two}.")
            }
            Try::Tilted => {
                let wide = self.bubble_mm;
                format!(
                    "A bubble {wide} mm wide swims in it. Held level it shows {one} there; tilted so that the bubble moves to the needle, it shows {two}."
                )
            }
        };
        let (away, second) = (self.away_m, m(self.second));
        format!(
            "{here} You walk {away} m to another line, which runs on {second} the way you look along it: there, held level, it shows {three}."
        )
    }

    /// How far each number is off, in the order in which they were read.
    fn offs(&self) -> String {
        let off = |shown: Tenths, line: Tenths| format!("{}°", size(angle(shown - line).wrapped_half().abs().tenths()));
        let way = |shown: Tenths, line: Tenths| match angle(shown - line).wrapped_half().tenths() {
            0 => "right".to_owned(),
            // Half a circle has no side.
            too if too.abs() > 1700 => off(shown, line),
            too if too > 0 => format!("{} too much", off(shown, line)),
            _ => format!("{} too little", off(shown, line)),
        };
        let [one, two, three] = self.shows;
        format!("{}, {}; along the other line {}", way(one, self.known), way(two, self.known), way(three, self.second))
    }

    /// From the numbers to the name.
    pub(super) fn steps(&self) -> Vec<Step> {
        vec![
            Step::new("Compare each number with what it should be", self.offs()),
            Step::words(
                "Nobody holds a compass better than to 2 or 3 degrees, so up to 3° counts as right, and as the same",
            ),
            Step::words(self.fault.reason()).decides("What can iron, a bubble or a free needle do"),
            Step::new(crate::problem::capital(self.fault.sign()), FAULTS[self.fault as usize].to_owned()).answers(),
        ]
    }

    pub(super) fn facts(&self) -> Vec<Fact> {
        let degrees = |name, tenths: Tenths| Fact::own_angle(name, angle(tenths));
        let [one, two, three] = self.shows;
        let mut facts = vec![degrees("known_line_deg", self.known), degrees("known_line_shown_deg", one)];
        match self.tried {
            Try::Again => facts.push(degrees("shown_at_second_try_deg", two)),
            Try::Tilted => facts
                .extend([degrees("shown_tilted_deg", two), Fact::own_number("bubble_mm", f64::from(self.bubble_mm))]),
        }
        facts.extend([
            degrees("second_line_deg", self.second),
            degrees("second_line_shown_deg", three),
            Fact::own_number("second_line_away_m", f64::from(self.away_m)),
            Fact::wanted(Wanted::own("fault")),
        ]);
        facts
    }
}
