//! What is known of the skill before any problem is drawn.

use crate::problem::{Family, MixupClass, MixupId, MixupMeta, NorthLines, SkillMeta};

/// Along and across taken for each other.
pub(super) const ALONG_ACROSS: MixupMeta = MixupMeta {
    id: MixupId("along-for-across"),
    class: MixupClass::Naming,
    said: "took what runs along your way for what runs across it, or the other way round",
    mend: "A handrail runs beside you and leads you; what crosses your way tells how far you have come.",
};

/// Before and behind the goal taken for each other.
pub(super) const BEFORE_BEHIND: MixupMeta = MixupMeta {
    id: MixupId("before-for-behind"),
    class: MixupClass::Naming,
    said: "mixed up what lies before the goal and what lies behind it",
    mend: "A catching feature lies behind the goal and stops you when you have gone too far.",
};

/// A spot taken for a line.
pub(super) const SPOT_FOR_LINE: MixupMeta = MixupMeta {
    id: MixupId("spot-for-line"),
    class: MixupClass::Naming,
    said: "mixed up a spot and a line",
    mend: "An attack point is one spot near the goal; the other three are long, so that you still meet them when you are a little off.",
};

/// A spot far from the goal.
pub(super) const FAR_SPOT: MixupMeta = MixupMeta {
    id: MixupId("spot-far-off"),
    class: MixupClass::Place,
    said: "chose a spot far from the goal",
    mend: "An attack point lies so near the goal that the last piece is short and easy to keep.",
};

/// The shortest way.
pub(super) const SHORTEST: MixupMeta = MixupMeta {
    id: MixupId("shortest-taken"),
    class: MixupClass::Method,
    said: "took the shortest way, with nothing to go by",
    mend: "A few hundred metres more cost minutes. Being lost costs hours: take the way that leads you.",
};

/// The dangerous way.
pub(super) const HAZARD_TAKEN: MixupMeta = MixupMeta {
    id: MixupId("hazard-taken"),
    class: MixupClass::Method,
    said: "took a handrail that nobody should come near",
    mend: "Rule out first what is dangerous when somebody slips or strays a few metres.",
};

/// The way whose end has nothing to go by.
pub(super) const BLIND_END: MixupMeta = MixupMeta {
    id: MixupId("blind-end"),
    class: MixupClass::Place,
    said: "took a way whose last piece is long and has nothing to go by",
    mend: "The last piece decides: it should be short, from a spot that you find for sure.",
};

pub(super) static META: SkillMeta = SkillMeta {
    id: "route-features",
    mark: "G2",
    family: Family::Travel,
    title: "What leads and what stops you",
    can: "Finds on the map what leads along the way, what tells how far one is, and what stops one behind the goal.",
    levels: [
        "what one feature is good for",
        "which of five features it is, from a description",
        "which of five features it is, on a plan",
        "the safest of three ways",
    ],
    prerequisites: &[],
    mixups: &[ALONG_ACROSS, BEFORE_BEHIND, SPOT_FOR_LINE, FAR_SPOT, SHORTEST, HAZARD_TAKEN, BLIND_END],
    lines: NorthLines::Any,
    on_home: false,
    generation: 3,
};
