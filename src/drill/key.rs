//! The keys of a drill file.

/// A key of a drill file.
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
}

impl Key {
    /// Those that stand at the top of the file.
    pub const TOP: [Key; 8] =
        [Key::Name, Key::Title, Key::About, Key::Count, Key::Minutes, Key::Ground, Key::Declination, Key::Skill];
    /// Those that stand below a `[[skill]]` line.
    pub const SKILL: [Key; 3] = [Key::Id, Key::Level, Key::Levels];

    /// As it is written.
    #[must_use]
    pub const fn word(self) -> &'static str {
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
        }
    }

    /// What may stand behind it.
    #[must_use]
    pub const fn wants(self) -> &'static str {
        match self {
            Key::Name | Key::Title | Key::About | Key::Id => "text in quotation marks",
            Key::Ground | Key::Declination => "one word in quotation marks",
            Key::Count | Key::Minutes | Key::Level => "a whole number",
            Key::Levels => "two whole numbers in square brackets",
            Key::Skill => "a line [[skill]] for each skill",
        }
    }

    /// A line as it may stand in a file.
    #[must_use]
    pub const fn example(self) -> &'static str {
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
        }
    }

    /// Where it stands in a file.
    #[must_use]
    pub const fn place(self) -> &'static str {
        match self {
            Key::Id | Key::Level | Key::Levels => "below a [[skill]] line",
            _ => "at the top of the file, above the first [[skill]]",
        }
    }

    pub(super) fn find(word: &str, among: &[Key]) -> Option<Key> {
        among.iter().copied().find(|key| key.word() == word)
    }

    pub(super) fn nearest(word: &str, among: &[Key]) -> Option<Key> {
        let near = super::near::nearest(word, among.iter().map(|key| key.word()))?;
        Key::find(near, among)
    }
}
