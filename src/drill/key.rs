//! The keys of a drill file and of a standard's.

use crate::textfile::{FileKey, Shape};

/// A key of a drill file or of a standard's file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Key {
    /// The name typed after `--drill`.
    Name,
    /// The name on screens.
    Title,
    /// What the drill is for.
    About,
    /// How many problems.
    Count,
    /// How many minutes.
    Minutes,
    /// Home ground, anywhere, mixed.
    Ground,
    /// West, east, both.
    Declination,
    /// The tables of skills.
    Skill,
    /// A skill's id.
    Id,
    /// A skill's one level.
    Level,
    /// A skill's lowest and highest level.
    Levels,
    /// Whether the group's maps decide which of the orienting skills it is.
    ByLines,
    /// The chance of a right answer of somebody who is not ready.
    P0,
    /// The chance of a right answer of somebody who is.
    P1,
    /// The most chance of a wrong *ready*.
    Alpha,
    /// The most chance of a wrong *not yet*.
    Beta,
    /// The most problems of a try.
    Cap,
    /// How many tries.
    Tries,
    /// Where a try ends ready.
    Ready,
    /// Where a try stops.
    Stop,
    /// How long *not yet* stands.
    WaitDays,
    /// How long *ready* is good for.
    ValidDays,
    /// The mix-ups that end a try.
    Critical,
}

impl Key {
    /// Those that stand at the top of the file.
    pub const TOP: [Key; 8] =
        [Key::Name, Key::Title, Key::About, Key::Count, Key::Minutes, Key::Ground, Key::Declination, Key::Skill];
    /// Those that stand below a `[[skill]]` line.
    pub const SKILL: [Key; 3] = [Key::Id, Key::Level, Key::Levels];

    /// Those that stand at the top of a standard's file.
    pub const STANDARD: [Key; 15] = [
        Key::Name,
        Key::Title,
        Key::About,
        Key::P0,
        Key::P1,
        Key::Alpha,
        Key::Beta,
        Key::Cap,
        Key::Tries,
        Key::Ready,
        Key::Stop,
        Key::WaitDays,
        Key::ValidDays,
        Key::Critical,
        Key::Skill,
    ];
    /// Those that stand below a `[[skill]]` line of a standard's file.
    pub const STANDARD_SKILL: [Key; 3] = [Key::Id, Key::Level, Key::ByLines];
}

impl FileKey for Key {
    const ALL: &'static [Key] = &[
        Key::Name,
        Key::Title,
        Key::About,
        Key::Count,
        Key::Minutes,
        Key::Ground,
        Key::Declination,
        Key::Skill,
        Key::Id,
        Key::Level,
        Key::Levels,
        Key::ByLines,
        Key::P0,
        Key::P1,
        Key::Alpha,
        Key::Beta,
        Key::Cap,
        Key::Tries,
        Key::Ready,
        Key::Stop,
        Key::WaitDays,
        Key::ValidDays,
        Key::Critical,
    ];
    const USUAL: Key = Key::Title;
    const REPEATED: Option<(Key, Key)> = Some((Key::Skill, Key::Id));

    fn word(self) -> &'static str {
        match self {
            Key::Name => "name",
            Key::Title => "title",
            Key::About => "about",
            Key::Count => "count",
            Key::Minutes => "minutes",
            Key::Ground => "ground",
            Key::Declination => "declination",
            Key::Skill => "skill",
            Key::Id => "id",
            Key::Level => "level",
            Key::Levels => "levels",
            Key::ByLines => "by_lines",
            Key::P0 => "p0",
            Key::P1 => "p1",
            Key::Alpha => "alpha",
            Key::Beta => "beta",
            Key::Cap => "cap",
            Key::Tries => "tries",
            Key::Ready => "ready",
            Key::Stop => "stop",
            Key::WaitDays => "wait_days",
            Key::ValidDays => "valid_days",
            Key::Critical => "critical",
        }
    }

    fn wants(self) -> &'static str {
        match self {
            Key::Name | Key::Title | Key::About | Key::Id => "text in quotation marks",
            Key::Ground | Key::Declination => "one word in quotation marks",
            Key::Count | Key::Minutes | Key::Level | Key::Cap | Key::Tries | Key::WaitDays | Key::ValidDays => {
                "a whole number"
            }
            Key::P0 | Key::P1 | Key::Alpha | Key::Beta => "a number between 0 and 1",
            Key::Ready => "a list of pairs: so many right, of so many asked",
            Key::Stop => "a list of threes: so many wrong, from this problem, to this one",
            Key::Critical => "a list of words in quotation marks",
            Key::ByLines => "true or false",
            Key::Levels => "two whole numbers in square brackets",
            Key::Skill => "a line [[skill]] for each skill",
        }
    }

    fn example(self) -> &'static str {
        match self {
            Key::Name => "name = \"tuesday-evening\"",
            Key::Title => "title = \"Tuesday evening\"",
            Key::About => "about = \"What we did last week, once more.\"",
            Key::Count => "count = 10",
            Key::Minutes => "minutes = 10",
            Key::Ground => "ground = \"mixed\"",
            Key::Declination => "declination = \"both\"",
            Key::Skill => "[[skill]]",
            Key::Id => "id = \"back-bearing\"",
            Key::Level => "level = 2",
            Key::Levels => "levels = [1, 3]",
            Key::ByLines => "by_lines = true",
            Key::P0 => "p0 = 0.60",
            Key::P1 => "p1 = 0.90",
            Key::Alpha => "alpha = 0.05",
            Key::Beta => "beta = 0.05",
            Key::Cap => "cap = 20",
            Key::Tries => "tries = 1",
            Key::Ready => "ready = [[9, 9], [12, 13], [16, 18], [16, 19]]",
            Key::Stop => "stop = [[2, 3, 8], [3, 9, 10], [4, 11, 19]]",
            Key::WaitDays => "wait_days = 14",
            Key::ValidDays => "valid_days = 180",
            Key::Critical => "critical = [\"reversed\", \"sign\"]",
        }
    }

    fn place(self) -> &'static str {
        match self {
            Key::Id | Key::Level | Key::Levels | Key::ByLines => "below a [[skill]] line",
            _ => "at the top of the file, above the first [[skill]]",
        }
    }

    fn shape(self) -> Shape {
        match self {
            Key::Name | Key::Title | Key::About | Key::Id | Key::Ground | Key::Declination => Shape::Text,
            Key::Levels | Key::Ready | Key::Stop | Key::Critical => Shape::List,
            Key::Skill => Shape::Tables,
            _ => Shape::Number,
        }
    }

    fn moved(self) -> &'static str {
        match self {
            Key::Id | Key::Level | Key::Levels | Key::ByLines => "below the skill it is for",
            _ => "up",
        }
    }
}
