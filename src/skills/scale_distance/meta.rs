//! What is known of the skill before any problem is drawn.

use crate::problem::{Family, MixupClass, MixupId, MixupMeta, NorthLines, SkillMeta};

/// The metres of a millimetre on another map.
pub(in crate::skills) const OTHER_SCALE: MixupMeta = MixupMeta {
    id: MixupId("other-scale"),
    class: MixupClass::Scale,
    said: "worked with the scale of another map",
    mend: "Read the scale in the margin of this map: on 1:25 000 a millimetre is 25 m, on 1:50 000 it is 50 m.",
};

/// Ten times too much or too little.
pub(super) const TEN_TIMES: MixupMeta = MixupMeta {
    id: MixupId("mm-for-cm"),
    class: MixupClass::Scale,
    said: "took millimetres for centimetres, or centimetres for millimetres",
    mend: "A centimetre has ten millimetres. Say the unit aloud before you multiply.",
};

/// `S / mm` in place of `mm × S`.
pub(super) const DIVIDED: MixupMeta = MixupMeta {
    id: MixupId("divided-by-the-map"),
    class: MixupClass::Method,
    said: "divided by the length on the map",
    mend: "A longer line on the map is a longer way outside, so you multiply.",
};

/// `m × S` in place of `m / S`.
pub(super) const MULTIPLIED: MixupMeta = MixupMeta {
    id: MixupId("multiplied-for-the-map"),
    class: MixupClass::Method,
    said: "multiplied, although the map is smaller than the ground",
    mend: "From the ground to the map everything gets smaller, so you divide by the metres of 1 mm.",
};

/// The line straight across in place of the bends.
pub(super) const STRAIGHT: MixupMeta = MixupMeta {
    id: MixupId("straight-for-bends"),
    class: MixupClass::Method,
    said: "measured straight across, not along the bends",
    mend: "You walk the bends, so measure them: turn the paper edge at each, and add the pieces.",
};

/// The last piece forgotten.
pub(super) const PIECE_LEFT_OUT: MixupMeta = MixupMeta {
    id: MixupId("piece-left-out"),
    class: MixupClass::Forgotten,
    said: "left out the last piece",
    mend: "Count the pieces before you add: one more than there are bends.",
};

/// The length as the map shows it, although the ground is steep.
pub(super) const SLOPE_LEFT_OUT: MixupMeta = MixupMeta {
    id: MixupId("slope-left-out"),
    class: MixupClass::Forgotten,
    said: "left out what the slope adds",
    mend: "The map looks straight down, and from there a steep way looks short. Add what the slope hides.",
};

/// The slope taken off.
pub(super) const SLOPE_TAKEN_OFF: MixupMeta = MixupMeta {
    id: MixupId("slope-taken-off"),
    class: MixupClass::Sign,
    said: "took off what the slope adds",
    mend: "A way over a slope is longer than its picture from above, never shorter: add.",
};

/// The bar's left end for its zero.
pub(super) const BAR_END: MixupMeta = MixupMeta {
    id: MixupId("bar-from-its-end"),
    class: MixupClass::Place,
    said: "took the left end of the bar for its zero, and so counted a kilometre too much",
    mend: "Look for the zero: it stands one kilometre in from the left end, so that tenths can be read beside it.",
};

/// The tenths counted from the bar's left end.
pub(super) const PARTS_FROM_END: MixupMeta = MixupMeta {
    id: MixupId("tenths-from-the-end"),
    class: MixupClass::Mirrored,
    said: "counted the short lines from the left end of the bar",
    mend: "The tenths grow from the zero to the left: count them from the zero.",
};

pub(super) static META: SkillMeta = SkillMeta {
    id: "scale-distance",
    mark: "C2",
    family: Family::Map,
    title: "Distance by the scale",
    can: "Turns a length on the map into metres outside and back, along bends and up a slope too.",
    levels: [
        "a straight line on a map of a usual scale",
        "other scales, tenths of a millimetre, the bar in the margin, and from the ground to the map",
        "a path with bends, along a paper edge",
        "a steep way, longer than the map shows it",
    ],
    prerequisites: &[],
    mixups: &[
        OTHER_SCALE,
        TEN_TIMES,
        DIVIDED,
        MULTIPLIED,
        STRAIGHT,
        PIECE_LEFT_OUT,
        SLOPE_LEFT_OUT,
        SLOPE_TAKEN_OFF,
        BAR_END,
        PARTS_FROM_END,
    ],
    lines: NorthLines::Any,
    on_home: false,
    generation: 4,
};
