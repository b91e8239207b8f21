//! Small skills and a builder for what the tests tell.

use crate::learner::{Beliefs, Change, Evidence, Outcome, Placement, Recent, Selection};
use crate::problem::{Family, Level, MixupClass, MixupId, MixupMeta, NorthLines, SkillMeta};
use jiff::{Timestamp, ToSpan, civil::Date};

const fn mixup(id: &'static str, class: MixupClass, said: &'static str) -> MixupMeta {
    MixupMeta { id: MixupId(id), class, said, mend: "Look at the sketch." }
}

pub const fn skill(
    id: &'static str,
    mark: &'static str,
    title: &'static str,
    prerequisites: &'static [&'static str],
    mixups: &'static [MixupMeta],
) -> SkillMeta {
    SkillMeta {
        id,
        mark,
        family: Family::Norths,
        title,
        can: "Can do it.",
        levels: ["one", "two", "three", "four"],
        prerequisites,
        mixups,
        lines: NorthLines::Any,
        on_home: false,
        generation: 1,
    }
}

/// What `map-to-compass` items expose.
pub const FOUR: &[&str] = &["sign-flipped", "forgotten", "twice", "not-wrapped"];

pub static DIAL: SkillMeta = skill(
    "dial",
    "A5",
    "Read the dial",
    &[],
    &[
        mixup("wrong-end", MixupClass::Reversed, "read the wrong end"),
        mixup("counted-back", MixupClass::Mirrored, "counted the wrong way round"),
    ],
);

/// Four mix-ups, as in the check traces.
pub static MAP: SkillMeta = skill(
    "map-to-compass",
    "B2",
    "From map to compass",
    &["dial", "not-in-this-registry"],
    &[
        mixup("sign-flipped", MixupClass::Sign, "added where subtracting is right"),
        mixup("forgotten", MixupClass::Forgotten, "left the declination out"),
        mixup("twice", MixupClass::Twice, "took the declination twice"),
        mixup("not-wrapped", MixupClass::Wrap, "stopped past north"),
    ],
);

pub static GRID: SkillMeta = skill(
    "grid-to-compass",
    "B4",
    "From grid to compass",
    &["map-to-compass"],
    &[
        mixup("sign-flipped", MixupClass::Sign, "added where subtracting is right"),
        mixup("wrong-end", MixupClass::Reversed, "read the wrong end"),
        mixup("wrong-angle", MixupClass::North, "took another angle of the diagram"),
    ],
);

/// No mix-ups and no prerequisites.
pub static PACES: SkillMeta = skill("paces", "E5", "Count paces", &[], &[]);

pub static REGISTRY: [&SkillMeta; 4] = [&DIAL, &MAP, &GRID, &PACES];

/// The first day of every story.
pub const DAY: Date = Date::constant(2026, 5, 9);

pub fn day(after: i64) -> Date {
    DAY.saturating_add(after.days())
}

pub fn all() -> Selection {
    Selection::of(REGISTRY.iter().map(|meta| meta.id))
}

/// A learner whose answers are told one by one.
pub struct Story {
    pub registry: &'static [&'static SkillMeta],
    pub beliefs: Beliefs,
    pub recent: Recent,
    pub day: Date,
    pub level: Option<Level>,
    pub explained: bool,
    pub hinted: bool,
}

impl Story {
    pub fn new() -> Story {
        Story::placed(Placement::Fresh)
    }

    pub fn placed(placement: Placement) -> Story {
        Story::of(&REGISTRY, placement)
    }

    pub fn of(registry: &'static [&'static SkillMeta], placement: Placement) -> Story {
        Story {
            registry,
            beliefs: Beliefs::new(registry, placement),
            recent: Recent::default(),
            day: DAY,
            level: None,
            explained: true,
            hinted: false,
        }
    }

    /// An answer to an item that exposes all mix-ups of the skill.
    pub fn tell(&mut self, skill: &'static str, outcome: Outcome) -> Change {
        let meta = self.registry.iter().find(|meta| meta.id == skill).unwrap();
        let exposed: Vec<&str> = meta.mixups.iter().map(|mixup| mixup.id.as_str()).collect();
        self.tell_exposing(skill, outcome, &exposed)
    }

    pub fn tell_exposing(&mut self, skill: &'static str, outcome: Outcome, exposed: &[&str]) -> Change {
        let level = self.level.unwrap_or(self.beliefs.skill(skill).unwrap().level());
        let (day, hinted, explained, at) = (self.day, self.hinted, self.explained, Timestamp::UNIX_EPOCH);
        self.recent.answered(skill, level, outcome == Outcome::Right);
        let evidence = Evidence { skill, level, day, outcome, exposed, hinted, explained, at };
        self.beliefs.observe(&evidence).unwrap()
    }

    pub fn right(&mut self, skill: &'static str, times: usize) -> &mut Story {
        for _ in 0..times {
            self.tell(skill, Outcome::Right);
        }
        self
    }

    pub fn mixed_up(&mut self, skill: &'static str, id: &str, times: usize) -> &mut Story {
        for _ in 0..times {
            self.tell(skill, Outcome::Mixup(id));
        }
        self
    }

    /// Some days later, in a new session.
    pub fn later(&mut self, days: i64) -> &mut Story {
        self.day = self.day.saturating_add(days.days());
        self.recent = Recent::default();
        self
    }
}
