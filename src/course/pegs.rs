//! A course in the open: three pegs, from one command.

use super::{Course, GivenLeg, Going, Way};
use crate::angle::{Angle, Bearing, Magnetic, North, three_figures};
use std::ops::RangeInclusive;

/// The sides that can be laid, in metres: shorter, and three degrees are no longer than a foot; longer, and the leader cannot see
/// all three pegs.
pub const SIDES_M: RangeInclusive<u32> = 20..=200;

/// Which three pegs: legs of one length, each a third of a circle to the right of the one before, so that whoever walks them right
/// stands at the first peg again. Their bearings are magnetic, as they are set on a dial: no declination is needed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pegs {
    /// The bearing from the first peg to the second.
    pub first: Bearing<Magnetic>,
    /// How far apart they stand, in metres.
    pub side_m: u32,
}

impl Pegs {
    /// Those of a course that is nothing else, whoever is to walk them.
    #[must_use]
    pub fn of(course: &Course) -> Option<Pegs> {
        let Way::Legs { legs, .. } = &course.way else { return None };
        let leg = legs.first()?;
        let side_m = SIDES_M.into_iter().find(|side| f64::from(*side) == leg.metres)?;
        let pegs = Pegs { first: Bearing::from_angle(leg.bearing), side_m };
        let unnamed = |leg: &GivenLeg| GivenLeg { to: None, ..leg.clone() };
        legs.iter().map(unnamed).eq(pegs.legs().iter().map(unnamed)).then_some(pegs)
    }

    /// The bearings of the three legs.
    #[must_use]
    pub fn bearings(self) -> [Bearing<Magnetic>; 3] {
        [0, 1, 2].map(|turns| self.first.turned(Angle::from_degrees(120.0) * turns))
    }

    fn legs(self) -> [GivenLeg; 3] {
        let [first, second, third] = self.bearings();
        [("peg B", first), ("peg C", second), ("peg A again", third)].map(|(to, bearing)| GivenLeg {
            to: Some(to.to_owned()),
            bearing: bearing.angle(),
            north: North::Magnetic,
            metres: f64::from(self.side_m),
            going: Going::default(),
        })
    }

    fn title(self) -> String {
        format!("Three pegs, {} m apart", self.side_m)
    }

    /// As a course that nobody walks yet.
    #[must_use]
    pub fn course(self) -> Course {
        Course {
            title: self.title(),
            date: None,
            printed: None,
            lines: None,
            way: Way::Legs { start: None, legs: self.legs().to_vec() },
            back_by: None,
            call: None,
            members: Vec::new(),
            measured: Vec::new(),
        }
    }

    /// How they are laid, step by step.
    #[must_use]
    pub fn laying(self) -> [String; 6] {
        let ([first, second, third], side_m) = (self.bearings(), self.side_m);
        [
            "Choose flat open ground without wire, water or drops, and walk it. Phones, knives and this laptop stay two metres away, a car eighteen."
                .to_owned(),
            format!("Put peg A, the start, where you stand. Sight {first} from it, measure {side_m} m with a tape or your own double paces, and put peg B there."),
            format!("From B sight {second}, measure {side_m} m: peg C."),
            "From B and from C look back to the peg before: the line is the same, so the bearing back differs by 180 from the one there. Hands are out by about three degrees each way; what stays out by more than five when it is sighted again is iron near one of the two: move that peg, and begin anew from A.".to_owned(),
            format!("Check: from C peg A must lie on {third}, {side_m} m away. Within three degrees and three metres the pegs are good; else lay them once more from A."),
            format!("At each peg one turns 120 to the right, and three times 120 is a full circle: so whoever sets a wrong north still closes. Let everybody sight peg B from peg A once more: the dial must show {first}."),
        ]
    }

    /// As a course's file, to which members and what they measured can be added.
    #[must_use]
    pub fn file(self) -> String {
        let mut file = format!(
            "# Three pegs in the open, as `needlewise course --pegs` lays them out.\n\ntitle = \"{}\"\n\n# back_by = \"16:30\"\n# call = \"the hut, 5550123\"\n",
            self.title()
        );
        for leg in self.legs() {
            let (to, bearing) = (leg.to.unwrap_or_default(), three_figures(leg.bearing, 0));
            file.push_str(&format!("\n[[leg]]\nto = \"{to}\"\nbearing = \"{bearing} M\"\nmetres = {}\n", leg.metres));
        }
        let bearings = self.bearings().map(|leg| three_figures(leg.angle(), 0).to_string()).join(" ");
        file.push_str(&format!(
            "\n# [[member]]\n# name = \"Ana\"\n# double_paces = 65\n\n# [[measured]]\n# by = \"Ana\"\n# taken = \"sighted\"  # or: off the plan and set\n# bearings = \"{bearings}\"\n# came_out = [\"at the peg\", \"12 m, 230 M\", \"-\"]\n"
        ));
        file
    }
}
