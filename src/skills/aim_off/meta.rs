//! What is known of the skill before any problem is drawn.

use crate::problem::{Family, MixupClass, MixupId, MixupMeta, NOT_WRAPPED, NorthLines, SkillMeta};

/// Straight at the goal.
pub(super) const NO_OFFSET: MixupMeta = MixupMeta {
    id: MixupId("no-offset"),
    class: MixupClass::Forgotten,
    said: "walked straight at the goal, so that at the line you cannot know on which side it lies",
    mend: "Aim off on purpose, by more than your error: then only one side is left to search.",
};

/// Aimed off by less than the error.
pub(super) const TOO_SMALL: MixupMeta = MixupMeta {
    id: MixupId("offset-too-small"),
    class: MixupClass::Scale,
    said: "aimed off by no more than your error",
    mend: "An error as large as the offset can bring you out at the goal or past it after all: add to the error.",
};

/// Aimed off to the other side.
pub(super) const OTHER_SIDE: MixupMeta = MixupMeta {
    id: MixupId("other-side-aimed"),
    class: MixupClass::Sign,
    said: "aimed off to the other side",
    mend: "Numbers rise clockwise: to the right of a line is clockwise, so add; to the left is counterclockwise, so take off, and below zero go on from 360.",
};

/// The right bearing, then the wrong way at the line.
pub(super) const WRONG_TURN: MixupMeta = MixupMeta {
    id: MixupId("wrong-turn-at-the-line"),
    class: MixupClass::Mirrored,
    said: "looked for the goal on the side that you had aimed to",
    mend: "Whoever aims to one side of the goal finds it on the other.",
};

/// The own error left out of the farthest place.
pub(super) const ERROR_LEFT_OUT: MixupMeta = MixupMeta {
    id: MixupId("own-error-left-out"),
    class: MixupClass::Forgotten,
    said: "left your own error out of the farthest place where you may come out",
    mend: "Your error can lead you further to the side that you aim to: add it to the offset.",
};

pub(super) static META: SkillMeta = SkillMeta {
    id: "aim-off",
    mark: "G1",
    family: Family::Travel,
    title: "Aiming off",
    can: "Aims beside a goal on a stream or path on purpose, and knows then which way it lies.",
    levels: [
        "the offset is told: the bearing, and on which side the goal then lies",
        "the offset from the error and what is added to be safe",
        "many of them across north",
        "the side by the ground, and how far the goal is at most",
    ],
    prerequisites: &["turns", "one-in-sixty"],
    mixups: &[NO_OFFSET, TOO_SMALL, OTHER_SIDE, WRONG_TURN, ERROR_LEFT_OUT, NOT_WRAPPED],
    lines: NorthLines::Any,
    on_home: false,
    generation: 2,
};
