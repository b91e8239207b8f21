//! What is known of the skill before any problem is drawn.

use super::super::back_bearing;
use super::super::common::{APPLIED_TWICE, NOT_APPLIED, SIGN_FLIPPED};
use crate::problem::{Family, MixupClass, MixupId, MixupMeta, NorthLines, SkillMeta};

/// The line drawn from the mark the way the compass pointed, and not back toward the eye.
pub(super) const NOT_REVERSED: MixupMeta = MixupMeta {
    said: "drew the line from the mark onward, away from yourself",
    mend: "You looked toward the mark, so from the mark the line comes back to you: half a circle round.",
    ..back_bearing::NOT_REVERSED
};

/// The other place where the line is met.
pub(super) const OTHER_CROSSING: MixupMeta = MixupMeta {
    id: MixupId("other-crossing"),
    class: MixupClass::Place,
    said: "took the other place where the two lines meet",
    mend: "Follow the line to its end and look at every place where it meets the path; then ask what else you know.",
};

pub(super) static META: SkillMeta = SkillMeta {
    id: "fix-on-line",
    mark: "F1",
    family: Family::Position,
    title: "Find your place on a path",
    can: "Stands on a known path or stream, sights one mark, and finds the place on the map.",
    levels: [
        "a round bearing that cuts the path steeply",
        "any whole degree, on paths and by streams",
        "two paths, and the line meets both: find out which place it is",
        "a poor cut, where a small slip goes far",
    ],
    prerequisites: &["grid-magnetic", "back-bearing"],
    mixups: &[NOT_APPLIED, SIGN_FLIPPED, APPLIED_TWICE, NOT_REVERSED, OTHER_CROSSING],
    lines: NorthLines::Grid,
    on_home: false,
    generation: 3,
};
