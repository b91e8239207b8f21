//! Rules that are the procedure itself, and levels with one number free: each with its reason.

use needlewise::problem::Level;

/// A rule that is right because it is what the skill consists of.
pub struct Procedure {
    /// The skill.
    pub skill: &'static str,
    /// At which levels.
    pub levels: &'static [u8],
    /// The strategies it covers: those whose names begin like this.
    pub strategy: &'static str,
    /// Why.
    pub why: &'static str,
}

impl Procedure {
    /// Whether it covers this strategy.
    pub fn is(&self, skill: &str, level: Level, strategy: &str) -> bool {
        self.skill == skill && self.levels.contains(&level.number()) && strategy.starts_with(self.strategy)
    }
}

/// A rule that covers the strategies whose names begin like this.
const fn rule(skill: &'static str, levels: &'static [u8], strategy: &'static str, why: &'static str) -> Procedure {
    Procedure { skill, levels, strategy, why }
}

const ALL: &[u8] = &[1, 2, 3, 4];

/// Why half a circle on the circle is what a back bearing is.
const OPPOSITE: &str = "adding or taking off half a circle, and coming back onto it, is the back bearing itself";
/// Why the number goes on the dial as it is.
const AS_IT_IS: &str = "a magnetic bearing goes on the dial as it is: that, and turning oneself, is the skill";
/// Why a magnetic-north line takes 000.
const NOTHING_TO_SET: &str = "000 along the magnetic-north line is the method; which line that is, is read off the map";
/// Why the wanted kind of line is right where there is no other.
const THE_ONLY_LINES: &str = "the lines that the question names are all that the map has beside its border";
/// Why the needle is right on an oriented map.
const BY_THE_NEEDLE: &str = "on a map that lies right the needle alone gives the magnetic bearing: that is the method";
/// Why a back sight is right where no iron is.
const BACK_SIGHT: &str = "the number unchanged and the south end boxed is the method; at level 4 only iron is new, and if it lay \
                          near in more than a third, saying always that it cannot be told would be right too often";

/// Why what a known line shows too much comes off.
const UNDONE: &str =
    "taking off what the known line shows too much is the correction itself: the skill is to see that it is one";

/// The rules that are played and not counted.
pub const PROCEDURES: &[Procedure] = &[
    rule("back-bearing", ALL, "#0 + half, wrapped", OPPOSITE),
    rule("back-bearing", ALL, "#0 − half, wrapped", OPPOSITE),
    rule("back-bearing", &[4], "#1 + half, wrapped", OPPOSITE),
    rule("back-bearing", &[4], "#1 − half, wrapped", OPPOSITE),
    rule("baseplate-bearing", &[1], "edge on the leg, dial along", THE_ONLY_LINES),
    rule("baseplate-bearing", &[2], "edge on the leg, dial along a north-south grid line", THE_ONLY_LINES),
    rule("orient-magnetic-line", &[1], "always magnetic-north line", NOTHING_TO_SET),
    rule("orient-magnetic-line", ALL, "dial 000, edge on the magnetic-north line", NOTHING_TO_SET),
    rule("oriented-bearing", &[1, 2, 3], "edge on each leg, dial until boxed, read", BY_THE_NEEDLE),
    rule(
        "oriented-bearing",
        &[1],
        "edge on each leg, dial along the magnetic-north line",
        "oriented by these lines, the map has them lie as the needle does",
    ),
    rule("follow-bearing", &[1, 2], "dial #0, oneself turned until boxed north", AS_IT_IS),
    rule("compass-faults", &[4], "#0 -1 #1 +1 #2", UNDONE),
    rule("back-sight", ALL, "dial #0, oneself turned until boxed south", BACK_SIGHT),
    rule("back-sight", &[1, 2], "dial as it stands, oneself turned until boxed south", BACK_SIGHT),
];

/// Why points are few.
const POINTS: &str = "a point of the card, and degrees so near to it that its name is not in doubt";
/// Why back bearings are few.
const ONE_BEARING: &str = "one bearing is all that is given";
/// Why one declination is all.
const ONE_ANGLE: &str = "one angle of whole degrees as they occur, and the way of the travel arrow";
/// Why there are few diagrams of two prongs.
const ONE_PRINTED: &str = "two prongs have one printed angle between them, and its side";

/// Why round measures are few.
const ONE_LENGTH: &str = "one length of whole millimetres, on one of four maps";
/// Why walking on flat ground has few numbers.
const ON_FLAT: &str = "half kilometres as one plans by, and the four speeds that groups walk at";

/// Levels with fewer than two numbers free: skill, level, the least of different problems among 2,000, and why.
pub const ONE_NUMBER: &[(&str, u8, usize, &str)] = &[
    ("compass-points", 1, 60, POINTS),
    ("compass-points", 2, 200, POINTS),
    ("compass-points", 3, 120, POINTS),
    ("compass-points", 4, 120, POINTS),
    ("thirty-two-points", 1, 60, POINTS),
    ("thirty-two-points", 2, 150, POINTS),
    ("thirty-two-points", 3, 120, POINTS),
    ("thirty-two-points", 4, 200, POINTS),
    ("back-bearing", 1, 60, ONE_BEARING),
    ("scale-distance", 1, 350, ONE_LENGTH),
    ("timing", 1, 75, ON_FLAT),
    ("box-detour", 1, 350, "one bearing of whole tens, a side, and what lies in the way"),
    ("back-bearing", 3, 200, ONE_BEARING),
    ("diagram", 1, 400, ONE_PRINTED),
    ("orient-magnetic-line", 1, 60, ONE_ANGLE),
    ("orient-true-line", 1, 60, ONE_ANGLE),
    ("orient-true-line", 2, 60, ONE_ANGLE),
    ("orient-true-line", 3, 60, ONE_ANGLE),
    ("orient-grid", 1, 60, ONE_ANGLE),
    ("orient-grid", 2, 60, ONE_ANGLE),
];
