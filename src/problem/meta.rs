//! What is known of a skill before any problem is drawn.

use std::fmt;

/// A skill's difficulty, 1 (round numbers, one step) to 4 (chained, or with a choice of method).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Level(u8);

impl Level {
    /// The easiest.
    pub const ONE: Level = Level(1);
    /// Any whole degree.
    pub const TWO: Level = Level(2);
    /// Through north, east and west mixed, no diagram.
    pub const THREE: Level = Level(3);
    /// Chained, distractors, choice of method.
    pub const FOUR: Level = Level(4);
    /// All four, easiest first.
    pub const ALL: [Level; 4] = [Level::ONE, Level::TWO, Level::THREE, Level::FOUR];

    /// The level with this number, if it is 1 to 4.
    #[must_use]
    pub const fn new(number: u8) -> Option<Level> {
        if number >= 1 && number <= 4 { Some(Level(number)) } else { None }
    }

    /// 1 to 4.
    #[must_use]
    pub const fn number(self) -> u8 {
        self.0
    }

    /// One harder, at most 4.
    #[must_use]
    pub const fn harder(self) -> Level {
        if self.0 < 4 { Level(self.0 + 1) } else { self }
    }

    /// One easier, at least 1.
    #[must_use]
    pub const fn easier(self) -> Level {
        if self.0 > 1 { Level(self.0 - 1) } else { self }
    }
}

impl fmt::Display for Level {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0)
    }
}

/// The families of the skill map.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Family {
    /// Directions and the dial.
    Dial,
    /// The three norths.
    Norths,
    /// Measuring on the map.
    Map,
    /// Orienting the map.
    Orienting,
    /// The compass in the field.
    Field,
    /// Finding where one is.
    Position,
    /// Getting there.
    Travel,
    /// Checks without the needle.
    Sky,
}

impl Family {
    /// In the order of teaching.
    pub const ALL: [Family; 8] = [
        Family::Dial,
        Family::Norths,
        Family::Map,
        Family::Orienting,
        Family::Field,
        Family::Position,
        Family::Travel,
        Family::Sky,
    ];

    /// The stable id.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Family::Dial => "dial",
            Family::Norths => "norths",
            Family::Map => "map",
            Family::Orienting => "orienting",
            Family::Field => "field",
            Family::Position => "position",
            Family::Travel => "travel",
            Family::Sky => "sky",
        }
    }

    /// The name on screens.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Family::Dial => "Directions and the dial",
            Family::Norths => "The three norths",
            Family::Map => "Measuring on the map",
            Family::Orienting => "Orienting the map",
            Family::Field => "The compass in the field",
            Family::Position => "Where am I?",
            Family::Travel => "Getting there",
            Family::Sky => "Checks without the needle",
        }
    }
}

/// The stable name of a mix-up, the same in every skill where the formula is the same.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct MixupId(pub &'static str);

impl MixupId {
    /// The id as text.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        self.0
    }
}

impl fmt::Display for MixupId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.0)
    }
}

/// Kinds of wrong working that turn up in many skills; what is seen in one skill makes it likelier in another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum MixupClass {
    /// The wrong end: off by 180°.
    Reversed,
    /// Counted the wrong way round, or mirrored.
    Mirrored,
    /// A correction applied the wrong way.
    Sign,
    /// A step forgotten.
    Forgotten,
    /// A correction applied twice.
    Twice,
    /// Not brought back into 0 to 360.
    Wrap,
    /// The wrong north's letter, or the wrong angle of the diagram.
    North,
    /// A scale misread: the wrong tick, side or unit.
    Scale,
    /// Read at the wrong place of the compass.
    Place,
    /// Degrees and minutes confused.
    Minutes,
    /// A name built or understood wrongly.
    Naming,
    /// The wrong method for this map.
    Method,
}

impl MixupClass {
    /// All of them.
    pub const ALL: [MixupClass; 12] = [
        MixupClass::Reversed,
        MixupClass::Mirrored,
        MixupClass::Sign,
        MixupClass::Forgotten,
        MixupClass::Twice,
        MixupClass::Wrap,
        MixupClass::North,
        MixupClass::Scale,
        MixupClass::Place,
        MixupClass::Minutes,
        MixupClass::Naming,
        MixupClass::Method,
    ];

    /// The stable id.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            MixupClass::Reversed => "reversed",
            MixupClass::Mirrored => "mirrored",
            MixupClass::Sign => "sign",
            MixupClass::Forgotten => "forgotten",
            MixupClass::Twice => "twice",
            MixupClass::Wrap => "wrap",
            MixupClass::North => "north",
            MixupClass::Scale => "scale",
            MixupClass::Place => "place",
            MixupClass::Minutes => "minutes",
            MixupClass::Naming => "naming",
            MixupClass::Method => "method",
        }
    }
}

/// A mix-up of a skill.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MixupMeta {
    /// Its stable name.
    pub id: MixupId,
    /// What it has in common with mix-ups of other skills.
    pub class: MixupClass,
    /// What happened, as a short phrase after "you": `added where west is subtracted`. No full stop.
    pub said: &'static str,
    /// What to do instead, one short sentence.
    pub mend: &'static str,
}

/// A bearing given with the letter of another north than asked. It belongs to every question that names a north,
/// is judged by the letter alone and so needs no formula.
pub const WRONG_NORTH: MixupMeta = MixupMeta {
    id: MixupId("wrong-north"),
    class: MixupClass::North,
    said: "wrote the letter of another north than the one asked for",
    mend: "Read which north is wanted, and write its letter behind the number.",
};

/// The right sum, not brought back onto the circle: exposed exactly where a sum leaves it, which patterns and the balance of a
/// check go by.
pub const NOT_WRAPPED: MixupMeta = MixupMeta {
    id: MixupId("not-wrapped"),
    class: MixupClass::Wrap,
    said: "stopped before bringing the number back onto the dial",
    mend: "Past 360 take off 360; below zero add 360.",
};

/// The north lines a skill works with, so that skills for lines a leader's maps do not have can be switched off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NorthLines {
    /// Needs no particular line.
    Any,
    /// Needs a printed magnetic-north line.
    Magnetic,
    /// Needs true-north lines (or the map's side borders).
    True,
    /// Needs grid lines.
    Grid,
}

/// What is known of a skill before any problem is drawn.
#[derive(Debug, PartialEq, Eq)]
pub struct SkillMeta {
    /// The stable id, kebab-case.
    pub id: &'static str,
    /// Its mark in the skill map and in codes, e.g. `B2`; unique.
    pub mark: &'static str,
    /// Its family.
    pub family: Family,
    /// The name on screens, sentence case.
    pub title: &'static str,
    /// What the learner can do who has it, one sentence.
    pub can: &'static str,
    /// What each level asks, level 1 first.
    pub levels: [&'static str; 4],
    /// Ids of the skills it builds on.
    pub prerequisites: &'static [&'static str],
    /// All mix-ups that some problem of it can expose.
    pub mixups: &'static [MixupMeta],
    /// The north lines it needs.
    pub lines: NorthLines,
    /// Whether its problems can be set on home ground (its code then carries the declination and convergence).
    pub on_home: bool,
    /// The generation of its generator: raised when it would draw another problem from the same seed. Each skill counts its
    /// own, so that a change to one never shifts another's problems.
    pub generation: u16,
}

/// The skills that had gone beyond their first generation in version 0.1.0, whose codes name none.
const SECOND_IN_0_1_0: [&str; 5] = ["C4", "C7", "D1", "D2", "D3"];

impl SkillMeta {
    /// The generation that a code means which names none: that of version 0.1.0.
    #[must_use]
    pub fn unmarked_generation(&self) -> u16 {
        if SECOND_IN_0_1_0.contains(&self.mark) { 2 } else { 1 }
    }

    /// The mix-up with this id, one of the skill's own or [`WRONG_NORTH`].
    #[must_use]
    pub fn mixup(&self, id: &str) -> Option<&'static MixupMeta> {
        let own: &'static [MixupMeta] = self.mixups;
        own.iter().find(|mixup| mixup.id.0 == id).or((id == WRONG_NORTH.id.0).then_some(&WRONG_NORTH))
    }
}
