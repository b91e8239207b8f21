//! What is known of the skill before any problem is drawn.

use crate::problem::{Family, MixupClass, MixupId, MixupMeta, NorthLines, SkillMeta};

/// `km × km/h` in place of `km / (km/h)`, in minutes.
pub(super) const SPEED_MULTIPLIED: MixupMeta = MixupMeta {
    id: MixupId("speed-multiplied"),
    class: MixupClass::Method,
    said: "multiplied the distance by the speed",
    mend: "Who walks faster needs less time, so the speed divides: an hour holds so many kilometres.",
};

/// An hour of a hundred minutes.
pub(super) const HUNDRED_MINUTES: MixupMeta = MixupMeta {
    id: MixupId("hundred-minutes"),
    class: MixupClass::Minutes,
    said: "counted an hour as a hundred minutes",
    mend: "Half an hour is 30 minutes: multiply hours by 60.",
};

/// The climb forgotten.
pub(super) const CLIMB_LEFT_OUT: MixupMeta = MixupMeta {
    id: MixupId("climb-left-out"),
    class: MixupClass::Forgotten,
    said: "left out the climb",
    mend: "Every 10 m up cost a minute more, on top of the time for the distance.",
};

/// A minute for each metre up.
pub(super) const MINUTE_A_METRE: MixupMeta = MixupMeta {
    id: MixupId("minute-a-metre"),
    class: MixupClass::Scale,
    said: "took a minute for each metre up",
    mend: "A minute is for 10 m up: divide the climb by ten.",
};

/// The contour lines counted for tens of metres.
pub(super) const LINES_FOR_TENS: MixupMeta = MixupMeta {
    id: MixupId("lines-for-tens"),
    class: MixupClass::Scale,
    said: "took each contour line for 10 m",
    mend: "Read in the margin how far the contour lines of this map lie apart, and multiply.",
};

/// Another speed than that of the rule.
pub(super) const OTHER_SPEED: MixupMeta = MixupMeta {
    id: MixupId("other-speed"),
    class: MixupClass::Scale,
    said: "took another speed than the rule's 5 km an hour",
    mend: "The rule counts 5 km an hour, and 60 / 5 = 12 minutes for a kilometre. 10 minutes would be 6 km an hour, 15 minutes 4.",
};

/// The end's height less the start's.
pub(super) const NET_HEIGHT: MixupMeta = MixupMeta {
    id: MixupId("net-height"),
    class: MixupClass::Method,
    said: "took only the difference of height between start and end",
    mend: "What you climb after a descent has to be climbed, too: add up every climb.",
};

/// Descents counted as climbs.
pub(super) const DESCENT_ADDED: MixupMeta = MixupMeta {
    id: MixupId("descent-added"),
    class: MixupClass::Sign,
    said: "counted the way down as a climb",
    mend: "Only the way up costs a minute for 10 m; an easy way down goes as fast as flat ground, and its kilometres are counted already.",
};

/// The steep descent forgotten.
pub(super) const STEEP_LEFT_OUT: MixupMeta = MixupMeta {
    id: MixupId("steep-left-out"),
    class: MixupClass::Forgotten,
    said: "left out the steep descent",
    mend: "Steep ground holds you back on the way down, too: 10 minutes for every 300 m.",
};

/// The steep descent taken off.
pub(super) const STEEP_TAKEN_OFF: MixupMeta = MixupMeta {
    id: MixupId("steep-taken-off"),
    class: MixupClass::Sign,
    said: "took the steep descent off the time",
    mend: "Only a gentle way down is quick. A steep one holds you back: add.",
};

/// The time of a fit adult for a patrol.
pub(super) const PATROL_LEFT_OUT: MixupMeta = MixupMeta {
    id: MixupId("patrol-left-out"),
    class: MixupClass::Forgotten,
    said: "planned as for a fit adult without rests",
    mend: "The rule gives the least that a fit adult needs. For a patrol of young people add at least half as much again.",
};

/// Half of the time in place of half as much again.
pub(super) const ONLY_HALF: MixupMeta = MixupMeta {
    id: MixupId("only-half"),
    class: MixupClass::Method,
    said: "took half of the time, not half as much again",
    mend: "Half as much again is the whole and its half: divide by 2, then add that to what you had.",
};

pub(super) static META: SkillMeta = SkillMeta {
    id: "timing",
    mark: "E6",
    family: Family::Field,
    title: "Time for a leg",
    can: "Says how long a leg takes by its distance, its climb and who walks it.",
    levels: [
        "from distance and speed",
        "with a climb, in metres or in contour lines",
        "up and down and up again",
        "a steep descent and a young patrol",
    ],
    prerequisites: &["scale-distance"],
    mixups: &[
        SPEED_MULTIPLIED,
        HUNDRED_MINUTES,
        CLIMB_LEFT_OUT,
        MINUTE_A_METRE,
        LINES_FOR_TENS,
        OTHER_SPEED,
        NET_HEIGHT,
        DESCENT_ADDED,
        STEEP_LEFT_OUT,
        STEEP_TAKEN_OFF,
        PATROL_LEFT_OUT,
        ONLY_HALF,
    ],
    lines: NorthLines::Any,
    on_home: false,
    generation: 4,
};
