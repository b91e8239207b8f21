//! What is known of the skill before any problem is drawn.

use super::super::scale_distance::meta::OTHER_SCALE;
use crate::problem::{Family, MixupClass, MixupId, MixupMeta, NorthLines, SkillMeta};

/// Twice or half as many.
pub(super) const SINGLE_DOUBLE: MixupMeta = MixupMeta {
    id: MixupId("single-for-double"),
    class: MixupClass::Scale,
    said: "mixed up single and double paces",
    mend: "A double pace is two steps: only the left foot counts. Ask which one a number is in before you use it.",
};

/// `100 × d / count` in place of `d / 100 × count`.
pub(super) const UPSIDE_DOWN: MixupMeta = MixupMeta {
    id: MixupId("count-upside-down"),
    class: MixupClass::Method,
    said: "turned the count upside down",
    mend: "Ask first how many hundreds of metres it is, then take your count so many times.",
};

/// A hundred metres left out of the count.
pub(super) const HUNDRED_LOST: MixupMeta = MixupMeta {
    id: MixupId("hundred-lost"),
    class: MixupClass::Forgotten,
    said: "lost a hundred metres",
    mend: "Put a pebble from one pocket into the other at every hundred metres: then none is lost.",
};

/// What the ground adds, forgotten.
pub(super) const GROUND_LEFT_OUT: MixupMeta = MixupMeta {
    id: MixupId("ground-left-out"),
    class: MixupClass::Forgotten,
    said: "counted as on flat and easy ground",
    mend: "Uphill and in scrub your steps are shorter, so the same way takes more of them.",
};

/// What the ground adds, taken off.
pub(super) const GROUND_TAKEN_OFF: MixupMeta = MixupMeta {
    id: MixupId("ground-taken-off"),
    class: MixupClass::Sign,
    said: "took off paces where the ground adds some",
    mend: "Shorter steps mean more of them for the same way: add.",
};

pub(super) static META: SkillMeta = SkillMeta {
    id: "pacing",
    mark: "E5",
    family: Family::Field,
    title: "Pacing",
    can: "Counts off a distance in single or double paces, on rough ground too.",
    levels: [
        "from a distance to your paces",
        "from paces back to the distance, single and double",
        "uphill and through scrub",
        "from the map to your paces uphill",
    ],
    prerequisites: &["scale-distance"],
    mixups: &[SINGLE_DOUBLE, UPSIDE_DOWN, HUNDRED_LOST, GROUND_LEFT_OUT, GROUND_TAKEN_OFF, OTHER_SCALE],
    lines: NorthLines::Any,
    on_home: false,
    generation: 1,
};
