//! What is known of the skill before any problem is drawn.

use super::super::common::{NOT_APPLIED, SIGN_FLIPPED, WRONG_END};
use super::super::one_in_sixty::{ONE_DEGREE_ONLY, PER_HUNDRED};
use crate::problem::{Family, MixupClass, MixupId, MixupMeta, NorthLines, SkillMeta};

/// A mark on the line, but behind the goal.
pub(super) const BEYOND_GOAL: MixupMeta = MixupMeta {
    id: MixupId("beyond-the-goal"),
    class: MixupClass::Place,
    said: "took a mark that stands beyond the goal",
    mend: "Whoever walks to a mark beyond the goal walks past the goal: take one that is nearer.",
};

/// A mark that is easy to see and does not stand on the line.
pub(super) const BESIDE_ARROW: MixupMeta = MixupMeta {
    id: MixupId("beside-the-arrow"),
    class: MixupClass::Place,
    said: "took a mark beside the travel arrow",
    mend: "Each degree beside the arrow leads a sixtieth of the way off your line: take what stands over it.",
};

/// A mark that the ground hides on the way to it.
pub(super) const OUT_OF_SIGHT: MixupMeta = MixupMeta {
    id: MixupId("mark-out-of-sight"),
    class: MixupClass::Place,
    said: "took a mark that goes out of sight on the way",
    mend: "Down in a hollow or among trees you would walk without a mark: take one that you see all the way.",
};

/// A mark that does not stay.
pub(super) const MOVING_MARK: MixupMeta = MixupMeta {
    id: MixupId("moving-mark"),
    class: MixupClass::Method,
    said: "took a mark that does not stay where it is",
    mend: "What walks or drives takes you along, off your line: take what stands.",
};

/// The wrong side of the line.
pub(super) const SIDES_SWAPPED: MixupMeta = MixupMeta {
    id: MixupId("sides-swapped"),
    class: MixupClass::Mirrored,
    said: "swapped left and right of the line",
    mend: "Counted clockwise from your bearing lies what is right of the line, and whoever stands right comes back to the left.",
};

pub(super) static META: SkillMeta = SkillMeta {
    id: "walk-bearing",
    mark: "E3",
    family: Family::Field,
    title: "Walk a bearing",
    can: "Picks the thing to walk to with eyes ahead, and knows what one beside the line costs; at night and in a whiteout people are the mark.",
    levels: [
        "which of four marks to walk to, by the arrow and the distance",
        "which mark, with the bearing from the map",
        "four things in view, and what one beside the line costs",
        "night or whiteout: bring those who go ahead onto the line, by the map's bearing",
    ],
    prerequisites: &["set-dial", "take-bearing"],
    mixups: &[
        BEYOND_GOAL,
        BESIDE_ARROW,
        WRONG_END,
        OUT_OF_SIGHT,
        MOVING_MARK,
        SIGN_FLIPPED,
        NOT_APPLIED,
        SIDES_SWAPPED,
        ONE_DEGREE_ONLY,
        PER_HUNDRED,
    ],
    lines: NorthLines::Any,
    on_home: false,
    generation: 5,
};
