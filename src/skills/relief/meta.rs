//! What is known of the skill before any problem is drawn.

use super::super::common::{NOT_APPLIED, SIGN_FLIPPED};
use crate::problem::{Family, MixupClass, MixupId, MixupMeta, NorthLines, SkillMeta};

/// A finger of high ground taken for one of low ground, or the other way round.
pub(super) const SPUR_REENTRANT: MixupMeta = MixupMeta {
    id: MixupId("spur-for-re-entrant"),
    class: MixupClass::Mirrored,
    said: "took a spur for a re-entrant, or the other way round",
    mend: "Both bend the lines alike: only the heights tell whether the bend points down (a spur) or up (a re-entrant).",
};

/// A top taken for a saddle, or the other way round.
pub(super) const TOP_SADDLE: MixupMeta = MixupMeta {
    id: MixupId("top-for-saddle"),
    class: MixupClass::Naming,
    said: "mixed up a top and a saddle",
    mend: "From a top the ground falls to all sides; from a saddle it falls to two sides and rises to the two between.",
};

/// Not looked at to all sides.
pub(super) const SIDES_LEFT_OUT: MixupMeta = MixupMeta {
    id: MixupId("sides-left-out"),
    class: MixupClass::Forgotten,
    said: "did not look to all sides of the place",
    mend: "Go round the place once: to how many sides does the ground rise, and to how many does it fall?",
};

/// Wide gaps taken for steep ground.
pub(super) const CLOSER_FLATTER: MixupMeta = MixupMeta {
    id: MixupId("closer-for-flatter"),
    class: MixupClass::Reversed,
    said: "took the place where the lines stand furthest apart",
    mend: "From line to line it is always the same height: where that comes within few steps, the ground is steep.",
};

/// Not compared with the others.
pub(super) const GAPS_UNCOMPARED: MixupMeta = MixupMeta {
    id: MixupId("gaps-not-compared"),
    class: MixupClass::Method,
    said: "took a place where the lines stand neither closest nor furthest apart",
    mend: "Compare the gaps between the lines at each of the places before you choose.",
};

/// Up and down mixed up.
pub(super) const UPHILL: MixupMeta = MixupMeta {
    id: MixupId("uphill-for-downhill"),
    class: MixupClass::Reversed,
    said: "took the way up for the way down",
    mend: "The lines alone do not tell up from down: read two heights, and go from the larger to the smaller.",
};

/// Along the lines and not across them.
pub(super) const ALONG_CONTOUR: MixupMeta = MixupMeta {
    id: MixupId("along-the-contour"),
    class: MixupClass::Naming,
    said: "took the way along the contour lines for the way down",
    mend: "Along a contour line you go neither up nor down: the ground falls at a right angle to it.",
};

/// Lower ground taken for hidden.
pub(super) const LOW_FOR_HIDDEN: MixupMeta = MixupMeta {
    id: MixupId("low-for-hidden"),
    class: MixupClass::Method,
    said: "took low ground for hidden, though nothing stands between",
    mend: "What lies low is hidden only where ground between stands above the straight line from your eye to it.",
};

/// Nothing stands between.
pub(super) const SEEN_FOR_HIDDEN: MixupMeta = MixupMeta {
    id: MixupId("seen-for-hidden"),
    class: MixupClass::Method,
    said: "took a place for hidden, though the ground between stays below the straight line to it",
    mend: "Think a straight line from your eye to the place, and compare the heights between with it.",
};

pub(super) static META: SkillMeta = SkillMeta {
    id: "relief",
    mark: "C8",
    family: Family::Map,
    title: "Read the relief",
    can: "Sees in contour lines which way the ground falls, where it is steep, what shape it has, and what it hides.",
    levels: [
        "top, saddle, spur or re-entrant",
        "the steepest of three places",
        "the place that fits how the ground falls, felt underfoot by the compass",
        "which of three places the ground hides",
    ],
    prerequisites: &["back-bearing", "true-magnetic"],
    mixups: &[
        SPUR_REENTRANT,
        TOP_SADDLE,
        SIDES_LEFT_OUT,
        CLOSER_FLATTER,
        GAPS_UNCOMPARED,
        UPHILL,
        ALONG_CONTOUR,
        SIGN_FLIPPED,
        NOT_APPLIED,
        LOW_FOR_HIDDEN,
        SEEN_FOR_HIDDEN,
    ],
    lines: NorthLines::Any,
    on_home: false,
    generation: 4,
};
