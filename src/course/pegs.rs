//! A course in the open: three pegs, from one command.

use super::{Course, GivenLeg, Going, Way};
use crate::angle::{Angle, Bearing, Magnetic, North, three_figures};
use std::ops::RangeInclusive;

/// The sides that can be laid, in metres: shorter, and three degrees are no longer than a foot; longer, and the leader cannot see
/// all three pegs.
pub const SIDES_M: RangeInclusive<u32> = 20..=200;

/// Three legs of one length, each a third of a circle to the right of the one before: whoever walks them right stands at the
/// first peg again. The bearings are magnetic, as they are set on a dial, so no declination is needed.
#[must_use]
pub fn pegs(first: Bearing<Magnetic>, side_m: u32) -> Course {
    let [first, second, third] = bearings(first);
    let legs = [("peg B", first), ("peg C", second), ("peg A again", third)].map(|(to, bearing)| GivenLeg {
        to: Some(to.to_owned()),
        bearing: bearing.angle(),
        north: North::Magnetic,
        metres: f64::from(side_m),
        going: Going::default(),
    });
    Course {
        title: format!("Three pegs, {side_m} m apart"),
        date: None,
        printed: None,
        lines: None,
        way: Way::Legs { start: None, legs: legs.to_vec() },
        back_by: None,
        call: None,
        members: Vec::new(),
        measured: Vec::new(),
    }
}

/// The bearings of the three legs.
#[must_use]
pub fn bearings(first: Bearing<Magnetic>) -> [Bearing<Magnetic>; 3] {
    [0, 1, 2].map(|turns| first.turned(Angle::from_degrees(120.0) * turns))
}

/// Which three pegs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pegs {
    /// The bearing from the first to the second.
    pub first: Bearing<Magnetic>,
    /// How far apart they stand, in metres.
    pub side_m: u32,
}

/// Whether a course is three pegs, whoever is to walk them, and which.
#[must_use]
pub fn as_pegs(course: &Course) -> Option<Pegs> {
    let Way::Legs { legs, .. } = &course.way else { return None };
    let leg = legs.first()?;
    let (first, side_m) =
        (Bearing::from_angle(leg.bearing), SIDES_M.into_iter().find(|side| f64::from(*side) == leg.metres)?);
    let Way::Legs { legs: laid, .. } = pegs(first, side_m).way else { return None };
    let is_laid = |(leg, laid): (&GivenLeg, &GivenLeg)| {
        (leg.north, leg.bearing, leg.metres, &leg.going) == (laid.north, laid.bearing, laid.metres, &laid.going)
    };
    (legs.len() == laid.len() && legs.iter().zip(&laid).all(is_laid)).then_some(Pegs { first, side_m })
}

/// How three pegs are laid, step by step.
#[must_use]
pub fn laying(first: Bearing<Magnetic>, side_m: u32) -> [String; 6] {
    let [first, second, third] = bearings(first);
    [
        "Choose flat open ground without wire, water or drops, and walk it. Phones, knives and this laptop stay two metres away, a car eighteen."
            .to_owned(),
        format!("Put peg A, the start, where you stand. Sight {first} from it, measure {side_m} m with a tape or your own double paces, and put peg B there."),
        format!("From B sight {second}, measure {side_m} m: peg C."),
        format!("Check: from C peg A must lie on {third}, {side_m} m away. Within three degrees and three metres the pegs are good; else move C."),
        "Look back from each peg: the bearing back differs by 180 from the one there. Where it is out by more than three degrees, iron is near one of the two.".to_owned(),
        format!("At each peg one turns 120 to the right, and three times 120 is a full circle: so whoever sets a wrong north still closes. Let everybody sight peg B from peg A once more: the dial must show {first}."),
    ]
}

/// Three pegs as a course's file, to which members and what they measured can be added.
#[must_use]
pub fn pegs_file(first: Bearing<Magnetic>, side_m: u32) -> String {
    let course = pegs(first, side_m);
    let mut file = format!(
        "# Three pegs in the open, as `needlewise course --pegs` lays them out.\n\ntitle = \"{}\"\n\n# back_by = \"16:30\"\n# call = \"the hut, 5550123\"\n",
        course.title
    );
    if let Way::Legs { legs, .. } = &course.way {
        for leg in legs {
            let to = leg.to.as_deref().unwrap_or_default();
            let bearing = three_figures(leg.bearing, 0);
            file.push_str(&format!("\n[[leg]]\nto = \"{to}\"\nbearing = \"{bearing} M\"\nmetres = {}\n", leg.metres));
        }
    }
    file.push_str(
        "\n# [[member]]\n# name = \"Ana\"\n# double_paces = 65\n\n# [[measured]]\n# by = \"Ana\"\n# taken = \"sighted\"\n# bearings = \"040 160 280\"\n",
    );
    file
}
