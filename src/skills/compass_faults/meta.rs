//! What is known of the skill before any problem is drawn.

use super::super::common::{NOT_APPLIED, SIGN_FLIPPED, WRONG_END};
use crate::problem::{Family, MixupClass, MixupId, MixupMeta, NorthLines, SkillMeta};

/// A fault not seen.
pub(super) const OVERLOOKED: MixupMeta = MixupMeta {
    id: MixupId("fault-overlooked"),
    class: MixupClass::Forgotten,
    said: "took a compass for good that is not",
    mend: "More than 3° beside a known line is too much: compare the two numbers before you trust it.",
};

/// A fault where there is none.
pub(super) const SUPPOSED: MixupMeta = MixupMeta {
    id: MixupId("fault-supposed"),
    class: MixupClass::Method,
    said: "found a fault in a compass that is good enough",
    mend: "Nobody holds a compass better than to 2 or 3 degrees: so small a difference is yours, not the needle's.",
};

/// The place and the compass taken for each other.
pub(super) const PLACE_OR_COMPASS: MixupMeta = MixupMeta {
    id: MixupId("place-or-compass"),
    class: MixupClass::Place,
    said: "mixed up what is wrong with the compass and what is wrong with the place",
    mend: "Iron at a place stays behind when you go far from it. Iron in your own pocket goes with you, and a fence, a rail or a power line runs on: twenty steps along the same wall prove little. Try another line, far off and running otherwise.",
};

/// One fault of the compass for another.
pub(super) const OTHER_FAULT: MixupMeta = MixupMeta {
    id: MixupId("another-fault"),
    class: MixupClass::Naming,
    said: "took one fault of the compass for another",
    mend: "Half a circle off: reversed. Always the same amount: the dial. More than 3° apart at one place: the needle sticks.",
};

/// Too much by the limit, or not.
pub(super) const LIMIT: MixupMeta = MixupMeta {
    id: MixupId("limit-missed"),
    class: MixupClass::Method,
    said: "drew the wrong line between good enough and not",
    mend: "Up to 3° beside a known line it may go with you, with more it stays at home.",
};

/// The mean of all readings.
pub(super) const MEAN_OF_ALL: MixupMeta = MixupMeta {
    id: MixupId("mean-of-all"),
    class: MixupClass::Method,
    said: "took the mean of all, the wrong one with them",
    mend: "One wrong number pulls a mean to its side. Leave it out first, then take the middle of the others.",
};

/// The reading at the other end left out.
pub(super) const OTHER_END: MixupMeta = MixupMeta {
    id: MixupId("other-end-left-out"),
    class: MixupClass::Mirrored,
    said: "sent away somebody who agrees with the others",
    mend: "Look for the number that lies far from all the others, not for the smallest or the largest.",
};

/// The compass's error added.
pub(super) const ERROR_ADDED: MixupMeta = MixupMeta {
    id: MixupId("error-added"),
    class: MixupClass::Sign,
    said: "turned the correction the wrong way",
    mend: "What the compass shows too much is taken off, what it shows too little is added.",
};

/// The compass's error left in.
pub(super) const ERROR_LEFT_IN: MixupMeta = MixupMeta {
    id: MixupId("error-left-in"),
    class: MixupClass::Forgotten,
    said: "believed the number as it stands",
    mend: "The known line has shown what this compass does to every number: undo that.",
};

/// The whole distance in place of what is missing.
pub(super) const WHOLE_DISTANCE: MixupMeta = MixupMeta {
    id: MixupId("whole-distance"),
    class: MixupClass::Method,
    said: "gave the whole distance, not what is missing of it",
    mend: "You stand some metres away already: take them off.",
};

/// The distance of another kind of iron.
pub(super) const OTHER_IRON: MixupMeta = MixupMeta {
    id: MixupId("other-iron"),
    class: MixupClass::Scale,
    said: "took the distance for another kind of iron",
    mend: "A car wants 18 m, a high-voltage line 55 m.",
};

/// A few steps.
pub(super) const FEW_STEPS: MixupMeta = MixupMeta {
    id: MixupId("few-steps"),
    class: MixupClass::Scale,
    said: "thought that two metres are enough",
    mend: "Two metres are for a phone or a knife. What is large turns a needle from far away.",
};

pub(super) static META: SkillMeta = SkillMeta {
    id: "compass-faults",
    mark: "E7",
    family: Family::Field,
    title: "Is the compass right?",
    can: "Checks a compass before a trip, finds what is wrong with it or with the place, and still gets a bearing.",
    levels: [
        "what is wrong, from what a known line shows",
        "how far it is off a known line, and whether it may go along",
        "four sight one mark: who steps aside",
        "a bearing in spite of the fault, and how far away from iron",
    ],
    prerequisites: &["true-magnetic", "back-bearing"],
    mixups: &[
        OVERLOOKED,
        SUPPOSED,
        PLACE_OR_COMPASS,
        OTHER_FAULT,
        LIMIT,
        MEAN_OF_ALL,
        OTHER_END,
        ERROR_ADDED,
        ERROR_LEFT_IN,
        WHOLE_DISTANCE,
        OTHER_IRON,
        FEW_STEPS,
        NOT_APPLIED,
        SIGN_FLIPPED,
        WRONG_END,
    ],
    lines: NorthLines::Any,
    on_home: false,
    generation: 3,
};
