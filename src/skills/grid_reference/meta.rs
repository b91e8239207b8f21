//! What is known of the skill before any problem is drawn.

use crate::problem::{Family, MixupClass, MixupId, MixupMeta, NorthLines, SkillMeta};

/// Northing before easting.
pub(super) const NORTHING_FIRST: MixupMeta = MixupMeta {
    id: MixupId("northing-first"),
    class: MixupClass::Mirrored,
    said: "gave the northing first",
    mend: "Along the corridor first, then up the stairs: east, then north.",
};

/// Rounded in place of cut off.
pub(super) const ROUNDED: MixupMeta = MixupMeta {
    id: MixupId("rounded-up"),
    class: MixupClass::Scale,
    said: "rounded, and so named the next square",
    mend: "A reference names the square that the place lies in: count the lines that you have passed, and leave out the rest.",
};

/// From the square's north-east corner.
pub(super) const FAR_CORNER: MixupMeta = MixupMeta {
    id: MixupId("far-corner"),
    class: MixupClass::Place,
    said: "named the square by its upper right corner",
    mend: "A square has the name of its lower left corner: the lines that you come to first from the south-west.",
};

/// Tenths counted from the far lines.
pub(super) const FAR_LINES: MixupMeta = MixupMeta {
    id: MixupId("from-the-far-lines"),
    class: MixupClass::Reversed,
    said: "counted from the right and the upper line",
    mend: "Count away from the line whose number you have written: to the east, and to the north.",
};

/// The square before the line that a place lies on.
pub(super) const SQUARE_BEFORE: MixupMeta = MixupMeta {
    id: MixupId("square-before-the-line"),
    class: MixupClass::Place,
    said: "took the square before the line",
    mend: "Whoever stands on a line has reached it: it is the first line of the next square.",
};

/// A reference that can be.
pub(super) const POSSIBLE: MixupMeta = MixupMeta {
    id: MixupId("possible-reference"),
    class: MixupClass::Method,
    said: "suspected a reference that lies on the map",
    mend: "Take the first two figures of each half: the first half must lie among the lines east, the second among those north.",
};

pub(super) static META: SkillMeta = SkillMeta {
    id: "grid-reference",
    mark: "C1",
    family: Family::Map,
    title: "Grid references",
    can: "Says by a grid reference where a place lies, and notices one that cannot be right.",
    levels: [
        "the square: four figures",
        "a hundred metres: six figures, told, or read off the map with a romer",
        "ten metres: eight figures, and the letters of the large square",
        "a place on a grid line, and a reference that cannot be right",
    ],
    prerequisites: &[],
    mixups: &[NORTHING_FIRST, ROUNDED, FAR_CORNER, FAR_LINES, SQUARE_BEFORE, POSSIBLE],
    lines: NorthLines::Any,
    on_home: false,
    generation: 4,
};
