//! What is known of the skill before any problem is drawn.

use crate::problem::{Family, MixupClass, MixupId, MixupMeta, NOT_WRAPPED, NorthLines, SkillMeta};

/// All corners turned the same way.
pub(super) const ONE_WAY: MixupMeta = MixupMeta {
    id: MixupId("one-way-round"),
    class: MixupClass::Mirrored,
    said: "turned the same way at every corner, and so walked back where you came from",
    mend: "Beside the obstacle you walk on your own bearing again: the second corner turns against the first.",
};

/// Out to the other side.
pub(super) const OTHER_SIDE: MixupMeta = MixupMeta {
    id: MixupId("other-side-first"),
    class: MixupClass::Mirrored,
    said: "went out to the other side",
    mend: "Out to the right adds 90, out to the left takes 90 off.",
};

/// The third leg away from the line again.
pub(super) const NEVER_BACK: MixupMeta = MixupMeta {
    id: MixupId("never-back"),
    class: MixupClass::Reversed,
    said: "walked away from the line a second time, not back to it",
    mend: "The third leg undoes the first, so it is the back bearing of the first.",
};

/// The legs aside counted as progress.
pub(super) const SIDE_LEGS_COUNTED: MixupMeta = MixupMeta {
    id: MixupId("side-legs-counted"),
    class: MixupClass::Method,
    said: "counted the legs aside as progress",
    mend: "Legs at a right angle to your line bring you no nearer: stop your count there.",
};

/// The parallel leg not counted.
pub(super) const PARALLEL_LEFT_OUT: MixupMeta = MixupMeta {
    id: MixupId("parallel-left-out"),
    class: MixupClass::Forgotten,
    said: "did not count the leg beside the obstacle",
    mend: "The leg beside the obstacle runs along your line: it brings you on by its whole length.",
};

/// What was walked before the obstacle not counted.
pub(super) const BEFORE_LEFT_OUT: MixupMeta = MixupMeta {
    id: MixupId("before-left-out"),
    class: MixupClass::Forgotten,
    said: "forgot what you had walked before the obstacle",
    mend: "Your count goes on after a detour, it does not begin again.",
};

/// The wrong side of the line.
pub(super) const SIDES_SWAPPED: MixupMeta = MixupMeta {
    id: MixupId("sides-swapped"),
    class: MixupClass::Mirrored,
    said: "swapped the sides of the line",
    mend: "Who comes back by less than he went out is still on the side where he went out.",
};

/// The two legs aside added.
pub(super) const ASIDES_ADDED: MixupMeta = MixupMeta {
    id: MixupId("asides-added"),
    class: MixupClass::Sign,
    said: "added the two legs aside",
    mend: "The leg back undoes the leg out, so take the smaller from the larger.",
};

pub(super) static META: SkillMeta = SkillMeta {
    id: "box-detour",
    mark: "G3",
    family: Family::Travel,
    title: "Round an obstacle",
    can: "Walks round an obstacle by right angles, comes back to the line and goes on counting.",
    levels: [
        "the three bearings of a detour",
        "how far is left after it",
        "many bearings across north, and how far is left",
        "legs aside of two lengths: which side of the line, and how far",
    ],
    prerequisites: &["turns", "pacing"],
    mixups: &[
        ONE_WAY,
        OTHER_SIDE,
        NEVER_BACK,
        SIDE_LEGS_COUNTED,
        PARALLEL_LEFT_OUT,
        BEFORE_LEFT_OUT,
        SIDES_SWAPPED,
        ASIDES_ADDED,
        NOT_WRAPPED,
    ],
    lines: NorthLines::Any,
    on_home: false,
    generation: 1,
};
