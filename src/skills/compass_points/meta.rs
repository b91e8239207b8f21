//! What is known of the skill, and its mix-ups.

use crate::problem::{Family, MixupClass, MixupId, MixupMeta, NorthLines, SkillMeta};
use crate::skills::common::{NOT_WRAPPED, WRONG_END};
use crate::skills::turning::TURNED_OTHER_WAY;

/// `360 − R`: east and west exchanged.
pub(in crate::skills) const MIRRORED_EAST_WEST: MixupMeta = MixupMeta {
    id: MixupId("mirrored-east-west"),
    class: MixupClass::Mirrored,
    said: "exchanged east and west",
    mend: "From north the numbers grow clockwise, toward east: E is 090, W is 270.",
};

/// `180 − R`: north and south exchanged.
pub(in crate::skills) const MIRRORED_NORTH_SOUTH: MixupMeta = MixupMeta {
    id: MixupId("mirrored-north-south"),
    class: MixupClass::Mirrored,
    said: "exchanged north and south",
    mend: "N is 000 at the top of the card and S is 180 at the bottom.",
};

/// After a turn: one point of the card further than asked.
pub(in crate::skills) const POINT_TOO_FAR: MixupMeta = MixupMeta {
    id: MixupId("point-too-far"),
    class: MixupClass::Naming,
    said: "went one point too far round the card",
    mend: "Count the spaces between the points, not the points: the one you start on is none yet.",
};

/// After a turn: one point of the card less than asked.
pub(in crate::skills) const POINT_TOO_SHORT: MixupMeta = MixupMeta {
    id: MixupId("point-too-short"),
    class: MixupClass::Naming,
    said: "stopped one point too early on the card",
    mend: "Count the spaces between the points: leaving the first point is not yet one.",
};

/// The next point of the card clockwise of the right one, where nothing was turned.
pub(in crate::skills) const NEXT_CLOCKWISE: MixupMeta = MixupMeta {
    id: MixupId("next-point-clockwise"),
    class: MixupClass::Naming,
    said: "came to the next point clockwise",
    mend: "The numbers grow clockwise from N, and a name lies in the middle between the two that it joins: find N, E, S or W first, then halve.",
};

/// The next point of the card counterclockwise of the right one, where nothing was turned.
pub(in crate::skills) const NEXT_COUNTERCLOCKWISE: MixupMeta = MixupMeta {
    id: MixupId("next-point-counterclockwise"),
    class: MixupClass::Naming,
    said: "came to the next point counterclockwise",
    mend: NEXT_CLOCKWISE.mend,
};

/// The middle of the quarter for a name of three letters.
pub(in crate::skills) const BETWEEN_CARDINALS: MixupMeta = MixupMeta {
    id: MixupId("between-cardinals"),
    class: MixupClass::Naming,
    said: "took the middle of the quarter for a name of three letters",
    mend: "NNE lies between N and NE, not between N and E: halve once more.",
};

/// The main point at the other end of the eighth, 33.75° from a name with "by".
pub(in crate::skills) const WRONG_STEM: MixupMeta = MixupMeta {
    id: MixupId("wrong-stem"),
    class: MixupClass::Naming,
    said: "went a whole eighth from the first name and landed on the next main point",
    mend: "\"By\" is one point only: 11.25° from the first name.",
};

/// One point from the stem, but away from the name behind the "by".
pub(in crate::skills) const BY_WRONG_WAY: MixupMeta = MixupMeta {
    id: MixupId("by-wrong-way"),
    class: MixupClass::Naming,
    said: "went to the wrong side of the first name",
    mend: "Go from the first name toward the name behind \"by\".",
};

/// The other name with "by" of the same eighth: built from the other stem toward this one.
pub(in crate::skills) const STEMS_EXCHANGED: MixupMeta = MixupMeta {
    id: MixupId("stems-exchanged"),
    class: MixupClass::Naming,
    said: "took the other name with \"by\" of this eighth",
    mend: "The point lies close to the name that comes first.",
};

/// A point taken for 22.5°, the spacing of the card of sixteen.
pub(in crate::skills) const POINTS_OF_SIXTEEN: MixupMeta = MixupMeta {
    id: MixupId("points-of-sixteen"),
    class: MixupClass::Scale,
    said: "took a point for 22.5°, the step of the card of 16 names",
    mend: "A point is one of 32: 360 / 32 = 11.25 degrees.",
};

/// A point of the card of sixteen taken for 45°, the spacing of the card of eight.
pub(super) const POINTS_OF_EIGHT: MixupMeta = MixupMeta {
    id: MixupId("points-of-eight"),
    class: MixupClass::Scale,
    said: "took a point for 45°, the step of the card of 8 names",
    mend: "Here a point is one of 16: 360 / 16 = 22.5 degrees.",
};

/// Where a wind comes from given for where it blows to: the opposite end.
pub(super) const WIND_FROM: MixupMeta = MixupMeta {
    said: "gave where the wind comes from, and not where it blows to",
    mend: "A wind is named for where it comes from. Where it blows to lies half a circle on.",
    ..WRONG_END
};

pub(super) static META: SkillMeta = SkillMeta {
    id: "compass-points",
    mark: "A1",
    family: Family::Dial,
    title: "Compass points",
    can: "Turns the name of a compass point into degrees, and degrees into the nearest name.",
    levels: [
        "the 8 main names",
        "16 names, such as NNE",
        "the direction opposite, and degrees near the border of two names",
        "turns counted in points of 22.5°",
    ],
    prerequisites: &[],
    mixups: &[
        MIRRORED_EAST_WEST,
        MIRRORED_NORTH_SOUTH,
        POINT_TOO_FAR,
        POINT_TOO_SHORT,
        NEXT_CLOCKWISE,
        NEXT_COUNTERCLOCKWISE,
        BETWEEN_CARDINALS,
        WIND_FROM,
        TURNED_OTHER_WAY,
        POINTS_OF_EIGHT,
        NOT_WRAPPED,
    ],
    lines: NorthLines::Any,
    on_home: false,
    generation: 3,
};
