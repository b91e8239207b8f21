//! What can be wrong at one place of a drill's or a standard's file, in words.

use super::Key;
use crate::learner::readiness::PlanError;
use std::ops::Range;

/// One fault and its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// What is wrong.
    pub kind: FaultKind,
    /// Where in the text, in bytes; `None` for what is missing altogether.
    pub span: Option<Range<usize>>,
    /// An earlier place that the fault has to do with.
    pub earlier: Option<Range<usize>>,
}

/// What is wrong at one place of a drill file. `Display` is one line; [`FaultKind::help`] says what to do.
///
/// Texts taken from the file are cut to a readable length and hold no control characters.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum FaultKind {
    /// A text without quotation marks.
    #[error("this text needs quotation marks around it")]
    Unquoted {
        /// The key.
        key: String,
        /// The text.
        value: String,
    },
    /// A text in the quotation marks of a word processor.
    #[error("these quotation marks are not the straight ones")]
    CurlyQuotes,
    /// A text whose last quotation mark is missing.
    #[error("the closing quotation mark is missing")]
    Unclosed,
    /// A backslash in a text.
    #[error("a backslash cannot stand in a text like this")]
    Backslash,
    /// Something behind the end of a value or of `[[skill]]`.
    #[error("something stands behind {0}")]
    Behind(&'static str),
    /// A list without its end.
    #[error("the closing bracket ] is missing")]
    Bracket,
    /// A list without its comma.
    #[error("the two levels cannot be read")]
    Comma,
    /// A key without a value.
    #[error("there is nothing behind the =")]
    NoValue(Option<Key>),
    /// A key with a colon.
    #[error("a colon stands where = is wanted")]
    Colon,
    /// A line that is no `key = value`.
    #[error("this line has no =")]
    NoEquals,
    /// A remark in the manner of other languages.
    #[error("a remark begins with #")]
    Remark,
    /// A key twice in one table.
    #[error("`{0}` is written twice")]
    KeyTwice(String),
    /// Not TOML in some other way; what the reader of TOML says.
    #[error("this line cannot be read: {0}")]
    Syntax(String),
    /// A key that there is not.
    #[error("there is no key `{key}`")]
    UnknownKey {
        /// What was written.
        key: String,
        /// The keys that may stand there.
        may_stand: &'static [Key],
        /// The nearest key that may stand there.
        nearest: Option<Key>,
    },
    /// A key in the wrong place.
    #[error("`{}` stands in the wrong place", .0.word())]
    Misplaced(Key),
    /// A key that must be there.
    #[error("`{}` is missing", .0.word())]
    Missing(Key),
    /// A value of another kind.
    #[error("`{}` wants {}", key.word(), key.wants())]
    WrongType {
        /// The key.
        key: Key,
        /// What was found.
        found: &'static str,
    },
    /// Nothing between the quotation marks.
    #[error("`{}` is empty", .0.word())]
    Blank(Key),
    /// Too long to show.
    #[error("`{}` is too long: at most {most} letters", key.word())]
    TooLong {
        /// The key.
        key: Key,
        /// The most letters it may have.
        most: usize,
    },
    /// A line break or another sign that cannot be shown.
    #[error("`{}` holds a line break or another sign that cannot be shown", .0.word())]
    Control(Key),
    /// Not a name in kebab-case.
    #[error("`{found}` cannot be a name")]
    Name {
        /// What was written.
        found: String,
        /// The same as a name, where anything is left of it.
        instead: Option<String>,
    },
    /// A word that is none of the choices.
    #[error("`{}` cannot be `{found}`", key.word())]
    Choice {
        /// The key.
        key: Key,
        /// What was written.
        found: String,
        /// What may stand there.
        choices: &'static [&'static str],
        /// The nearest of them.
        nearest: Option<&'static str>,
    },
    /// A number too small or too large.
    #[error("`{} = {found}` is out of range", key.word())]
    Range {
        /// The key.
        key: Key,
        /// What was written.
        found: String,
        /// The most it may be; the least is 1.
        most: u16,
    },
    /// Neither a number of problems nor minutes.
    #[error("this drill has no end")]
    NoEnd,
    /// A side of declination for home ground, which has its own.
    #[error("a drill on home ground cannot choose its declination")]
    SideAtHome,
    /// No skill at all.
    #[error("there are no skills in this file")]
    NoSkills,
    /// `[skill]` instead of `[[skill]]`.
    #[error("a skill needs double brackets")]
    SingleBrackets,
    /// No skill has this id.
    #[error("there is no skill `{id}`")]
    UnknownSkill {
        /// What was written.
        id: String,
        /// The nearest id there is.
        nearest: Option<&'static str>,
    },
    /// A skill that an earlier part of the file has already.
    #[error("the skill `{0}` stands in this file twice")]
    SkillTwice(&'static str),
    /// A level that there is not.
    #[error("level {0} does not exist")]
    Level(String),
    /// Not a low and a high level.
    #[error("`levels` wants two numbers, not {0}")]
    LevelsCount(usize),
    /// The high level first.
    #[error("the levels stand the wrong way round")]
    LevelsOrder {
        /// The level written first.
        first: u8,
        /// The level written second.
        second: u8,
    },
    /// `level` and `levels` for one skill.
    #[error("this skill has both `level` and `levels`")]
    LevelAndLevels,
    /// A plan that cannot be.
    #[error("{0}")]
    Plan(PlanError),
    /// Bounds together with what bounds are planned from.
    #[error("`{}` cannot stand beside `ready` and `stop`", .0.word())]
    BoundsAndErrors(Key),
    /// Bounds that cross, have gaps or leave the last problem undecided.
    #[error("`ready` and `stop` do not belong together")]
    Bounds,
    /// A row of bounds that is not as many small whole numbers as it must be.
    #[error("`{}` wants {}", .0.word(), .0.wants())]
    Row(Key),
    /// No mix-up and no class of mix-ups has this id.
    #[error("there is no mix-up `{id}`")]
    UnknownMixup {
        /// What was written.
        id: String,
        /// The nearest there is.
        nearest: Option<&'static str>,
    },
    /// A skill that does not go by a map's lines.
    #[error("`by_lines` does not go with `{0}`")]
    NotByLines(&'static str),
    /// An orienting skill beside one that goes by the map's lines, and that may become the same.
    #[error("`{0}` may come twice: by itself, and by the lines of the maps")]
    AlsoByLines(&'static str),
    /// More faults than are listed.
    #[error("there are more faults than these")]
    More,
}

impl FaultKind {
    /// What stands under the marked place; empty when the first line says it all.
    #[must_use]
    pub fn label(&self) -> String {
        match self {
            FaultKind::Unquoted { .. } => "no quotation marks".into(),
            FaultKind::CurlyQuotes => "a word processor made these".into(),
            FaultKind::Backslash => "this one".into(),
            FaultKind::Behind(_) => "this".into(),
            FaultKind::Colon | FaultKind::NoEquals => "in this line".into(),
            FaultKind::Remark => "meant as a remark?".into(),
            FaultKind::Unclosed => "the text begins here and does not end".into(),
            FaultKind::Bracket => "the list begins here and does not end".into(),
            FaultKind::Comma => "two numbers with a comma between them are wanted".into(),
            FaultKind::NoValue(_) => "a value is wanted here".into(),
            FaultKind::KeyTwice(_) | FaultKind::SkillTwice(_) => "the second time".into(),
            FaultKind::UnknownKey { .. } => "not a key that can stand here".into(),
            FaultKind::Misplaced(key) => format!("belongs {}", key.place()),
            FaultKind::Missing(_) => "in this skill".into(),
            FaultKind::WrongType { found, .. } => format!("this is {found}"),
            FaultKind::Blank(_) => "nothing in it".into(),
            FaultKind::TooLong { .. } => "too long".into(),
            FaultKind::Name { .. } => "only small letters, figures and hyphens".into(),
            FaultKind::Choice { .. } => "not one of the choices".into(),
            FaultKind::Range { most, .. } => format!("from 1 to {most}"),
            FaultKind::SideAtHome => "this place decides its own declination".into(),
            FaultKind::SingleBrackets => "[[skill]] is wanted".into(),
            FaultKind::UnknownSkill { .. } => "no such skill".into(),
            FaultKind::Level(_) => "levels go from 1 to 4".into(),
            FaultKind::LevelsCount(_) => "the lowest and the highest level".into(),
            FaultKind::LevelsOrder { .. } => "the lower level first".into(),
            FaultKind::LevelAndLevels => "one of the two is enough".into(),
            FaultKind::Plan(PlanError::Chances { .. }) => "p1 must be the larger".into(),
            FaultKind::Plan(PlanError::Rate { .. }) => "between 0 and 0.5, neither included".into(),
            FaultKind::Plan(PlanError::TooFew { .. } | PlanError::NotFound { .. } | PlanError::Cap(_)) => {
                "too few problems".into()
            }
            FaultKind::Plan(PlanError::Tries(_)) => "from 1 to 3".into(),
            FaultKind::BoundsAndErrors(_) => "follows from the bounds".into(),
            FaultKind::Bounds => "these stops".into(),
            FaultKind::Row(_) => "this row".into(),
            FaultKind::UnknownMixup { .. } => "no such mix-up".into(),
            FaultKind::NotByLines(_) => "only orienting goes by the lines of a map".into(),
            FaultKind::AlsoByLines(_) => "maps with that line would ask it twice".into(),
            FaultKind::Control(_) | FaultKind::Syntax(_) | FaultKind::NoEnd | FaultKind::NoSkills | FaultKind::More => {
                String::new()
            }
        }
    }

    /// What stands under the earlier place.
    pub(super) const fn earlier_label(&self) -> &'static str {
        match self {
            FaultKind::SideAtHome => "problems on home ground only",
            FaultKind::Plan(_) => "beside this one",
            FaultKind::Bounds => "and these",
            _ => "the first is here",
        }
    }

    /// What to do about it, one or two short sentences.
    #[must_use]
    pub fn help(&self) -> String {
        match self {
            FaultKind::Unquoted { key, value } => format!("write {key} = \"{value}\""),
            FaultKind::CurlyQuotes => {
                format!("write straight ones, and save as plain text: {}", Key::Title.example())
            }
            FaultKind::Backslash => "leave the \\ out".into(),
            FaultKind::Behind(_) => "give it a line of its own, or put # before it if it is a remark".into(),
            FaultKind::Colon => "write = instead of the colon, like this: count = 10".into(),
            FaultKind::NoEquals => {
                "write key = value, like this: count = 10\nif it is a remark, put # before it".into()
            }
            FaultKind::Remark => "put # before it".into(),
            FaultKind::Unclosed => "end the text with \" on the same line".into(),
            FaultKind::Bracket => "end the list with ]".into(),
            FaultKind::Comma | FaultKind::LevelsCount(_) => {
                format!("write it like this: {}", Key::Levels.example())
            }
            FaultKind::NoValue(Some(key)) => format!("write it like this: {}", key.example()),
            FaultKind::NoValue(None) => format!("write it like this: {}", Key::Count.example()),
            FaultKind::KeyTwice(_) => "keep one of the two lines".into(),
            FaultKind::Syntax(_) => "most lines of such a file look like this: key = value; `#` begins a remark".into(),
            FaultKind::UnknownKey { nearest: Some(Key::Skill), .. } => {
                "did you mean [[skill]]? It stands on a line of its own, with `id = ...` on the next".into()
            }
            FaultKind::UnknownKey { nearest: Some(key), .. } => format!("did you mean `{}`?", key.word()),
            FaultKind::UnknownKey { may_stand, nearest: None, .. } => {
                format!("the keys are {}", listed(may_stand.iter().map(|key| key.word())))
            }
            FaultKind::Misplaced(Key::Id | Key::Level | Key::Levels) => {
                "move this line below the skill it is for".into()
            }
            FaultKind::Misplaced(_) => "move this line up".into(),
            FaultKind::Missing(key @ (Key::Id | Key::Level)) => format!("write below [[skill]]: {}", key.example()),
            FaultKind::Missing(key) => format!("add a line at the top, like this: {}", key.example()),
            FaultKind::WrongType { key: Key::Skill, .. } | FaultKind::SingleBrackets => {
                "write [[skill]] on a line of its own, and below it: id = \"back-bearing\"".into()
            }
            FaultKind::WrongType { key, .. } => format!("write it like this: {}", key.example()),
            FaultKind::Blank(key) => format!("write something between the quotation marks: {}", key.example()),
            FaultKind::TooLong { .. } => "make it shorter".into(),
            FaultKind::Control(_) => "keep it on one line, in plain letters".into(),
            FaultKind::Name { instead: Some(name), .. } => format!("did you mean \"{name}\"?"),
            FaultKind::Name { instead: None, .. } => format!("write it like this: {}", Key::Name.example()),
            FaultKind::Choice { nearest: Some(word), choices, .. } => {
                format!("did you mean \"{word}\"? The choices are {}", listed(choices.iter().copied()))
            }
            FaultKind::Choice { nearest: None, choices, .. } => {
                format!("the choices are {}", listed(choices.iter().copied()))
            }
            FaultKind::Range { key: Key::Minutes, .. } => "ten minutes are a good start".into(),
            FaultKind::Range { key: Key::Count, .. } => "ten problems are a good start".into(),
            FaultKind::Range { key, .. } => format!("write it like this: {}", key.example()),
            FaultKind::NoEnd => "add `count = 10` (problems) or `minutes = 10`, or both, at the top".into(),
            FaultKind::SideAtHome => {
                "leave `declination` out, or write ground = \"anywhere\" to practise with other declinations".into()
            }
            FaultKind::NoSkills => {
                "add at least one: a line [[skill]], and below it a line such as id = \"back-bearing\"".into()
            }
            FaultKind::UnknownSkill { nearest: Some(id), .. } => format!("did you mean \"{id}\"?"),
            FaultKind::UnknownSkill { nearest: None, .. } => "`needlewise skills` lists the skills there are".into(),
            FaultKind::SkillTwice(_) => "keep one, and give it a range: levels = [1, 3]".into(),
            FaultKind::Level(_) => "1 is the easiest, 4 the hardest".into(),
            FaultKind::LevelsOrder { first, second } => format!("write levels = [{second}, {first}]"),
            FaultKind::LevelAndLevels => "keep `level` for one level, `levels` for a range".into(),
            FaultKind::Plan(PlanError::Chances { .. }) => {
                "p0 is the share of right answers of somebody who is not ready, p1 of somebody who is: 0.60 and 0.90".into()
            }
            FaultKind::Plan(PlanError::Rate { .. }) => {
                "it is the chance of a wrong decision; 0.05 is strict, 0.10 is quick".into()
            }
            FaultKind::Plan(
                PlanError::TooFew { enough: Some(enough), .. } | PlanError::NotFound { enough: Some(enough), .. },
            ) => {
                format!("write cap = {enough}, or allow more error")
            }
            FaultKind::Plan(_) => "`needlewise check --plan` shows what a plan would do".into(),
            FaultKind::BoundsAndErrors(_) => "leave it out, or leave `ready` and `stop` out".into(),
            FaultKind::Bounds => format!(
                "after the last problem each number right must decide, like this:\n{}\n{}",
                Key::Ready.example(),
                Key::Stop.example()
            ),
            FaultKind::Row(key) => format!("write it like this: {}", key.example()),
            FaultKind::NotByLines(_) => format!(
                "it goes with {}; the one that is named is asked while no lines are set",
                listed(crate::drill::standard::ORIENTING.iter().map(|(_, id)| *id))
            ),
            FaultKind::AlsoByLines(id) => format!("leave {id} out, or write by_lines = false"),
            FaultKind::UnknownMixup { nearest: Some(id), .. } => format!("did you mean \"{id}\"?"),
            FaultKind::UnknownMixup { nearest: None, .. } => {
                "name a mix-up that `needlewise skills --format json` lists, or a kind: reversed, sign, forgotten, twice"
                    .into()
            }
            FaultKind::More => "mend these first, then try again".into(),
        }
    }
}

fn listed<'a>(words: impl Iterator<Item = &'a str>) -> String {
    words.collect::<Vec<_>>().join(", ")
}

/// A text from a file as a message can show it: short, without control characters.
pub(super) fn shown(text: &str) -> String {
    const MOST: usize = 40;
    let mut out: String = text.chars().take(MOST).map(|c| if c.is_control() { '\u{fffd}' } else { c }).collect();
    if text.chars().nth(MOST).is_some() {
        out.push('…');
    }
    out
}
