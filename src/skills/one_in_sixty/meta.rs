//! What is known of the skill before any problem is drawn.

use crate::problem::{Family, MixupClass, MixupId, MixupMeta, NorthLines, SkillMeta};

/// `60 × d / degrees` in place of `d × degrees / 60`; and `d / offset` in place of `60 × offset / d`.
pub(super) const TURNED_ROUND: MixupMeta = MixupMeta {
    id: MixupId("rule-upside-down"),
    class: MixupClass::Method,
    said: "turned the rule upside down",
    mend: "More degrees lead further off, and so does a longer way: so the offset is their product, divided by 60, and the degrees are 60 times the offset, divided by the way.",
};

/// `d / 60`, whatever the degrees.
pub(in crate::skills) const ONE_DEGREE_ONLY: MixupMeta = MixupMeta {
    id: MixupId("one-degree-only"),
    class: MixupClass::Forgotten,
    said: "stopped at one sixtieth of the way",
    mend: "A sixtieth of the way is what one degree does. Compare it with how far off it really is.",
};

/// `d × degrees`, or `offset / d`.
pub(super) const SIXTY_LEFT_OUT: MixupMeta = MixupMeta {
    id: MixupId("sixty-left-out"),
    class: MixupClass::Forgotten,
    said: "left out the sixty",
    mend: "One degree leads off by a sixtieth of the way and not by the whole of it: divide by 60, or for degrees multiply by it.",
};

/// A hundred in place of sixty.
pub(in crate::skills) const PER_HUNDRED: MixupMeta = MixupMeta {
    id: MixupId("per-hundred"),
    class: MixupClass::Scale,
    said: "took one degree for one part in a hundred",
    mend: "One degree is one part in sixty: a circle drawn with the way for its radius is about 360 sixtieths round.",
};

/// Only the angle that makes the way parallel again.
pub(super) const ONLY_PARALLEL: MixupMeta = MixupMeta {
    id: MixupId("only-parallel"),
    class: MixupClass::Forgotten,
    said: "turned only so far that you walk beside the line",
    mend: "The first angle makes the ways parallel; to close in on the goal, the second comes on top.",
};

/// Only the angle that closes in.
pub(super) const ONLY_CLOSING: MixupMeta = MixupMeta {
    id: MixupId("only-closing"),
    class: MixupClass::Forgotten,
    said: "turned only by the angle for the way that is left",
    mend: "Your way already leads off the line: take that angle back first, then close in.",
};

/// The offset over the whole way.
pub(super) const WHOLE_WAY: MixupMeta = MixupMeta {
    id: MixupId("over-the-whole-way"),
    class: MixupClass::Method,
    said: "divided by the whole way at once",
    mend: "There are two angles: one made on the way walked, one for the way that is left.",
};

/// Turned further away from the line.
pub(super) const AWAY_FROM_LINE: MixupMeta = MixupMeta {
    id: MixupId("away-from-line"),
    class: MixupClass::Mirrored,
    said: "turned away from the line",
    mend: "Who stands right of the line turns counterclockwise to come back to it.",
};

pub(super) static META: SkillMeta = SkillMeta {
    id: "one-in-sixty",
    mark: "G5",
    family: Family::Travel,
    title: "One in sixty",
    can: "Says how far a bearing held a few degrees off leads astray, and by how much to turn to come out right.",
    levels: [
        "how far off, the degrees are told, drawn",
        "how far off, from the two bearings",
        "from the distance off back to the degrees",
        "which way and how far to turn to close in on the goal",
    ],
    prerequisites: &["turns"],
    mixups: &[
        TURNED_ROUND,
        ONE_DEGREE_ONLY,
        SIXTY_LEFT_OUT,
        PER_HUNDRED,
        ONLY_PARALLEL,
        ONLY_CLOSING,
        WHOLE_WAY,
        AWAY_FROM_LINE,
    ],
    lines: NorthLines::Any,
    on_home: false,
    generation: 3,
};
