//! What can be wrong at one place of a drill's or a standard's file, in words.

use super::Key;
use crate::learner::readiness::PlanError;
use crate::textfile::{self, FileKey, Kind, Slip};

/// One fault of such a file and its place.
pub type Fault = textfile::Fault<FaultKind>;

/// What is wrong at one place of a drill file. `Display` is one line; [`FaultKind::help`] says what to do.
///
/// Texts taken from the file are cut to a readable length and hold no control characters.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum FaultKind {
    /// What can be wrong in any file.
    #[error(transparent)]
    Slip(#[from] Slip<Key>),
    /// A key that must be there.
    #[error("`{}` is missing", .0.word())]
    Missing(Key),
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
}

impl Kind for FaultKind {
    type Key = Key;

    fn slip(&self) -> Option<&Slip<Key>> {
        if let FaultKind::Slip(slip) = self { Some(slip) } else { None }
    }

    fn label(&self) -> String {
        match self {
            FaultKind::Slip(slip) => slip.label(),
            FaultKind::SkillTwice(_) => "the second time".into(),
            FaultKind::Missing(_) => "in this skill".into(),
            FaultKind::Name { .. } => "only small letters, figures and hyphens".into(),
            FaultKind::Choice { .. } => "not one of the choices".into(),
            FaultKind::Range { most, .. } => format!("from 1 to {most}"),
            FaultKind::SideAtHome => "this place decides its own declination".into(),
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
            FaultKind::NoEnd | FaultKind::NoSkills => String::new(),
        }
    }

    fn earlier_label(&self) -> &'static str {
        match self {
            FaultKind::SideAtHome => "problems on home ground only",
            FaultKind::Plan(_) => "beside this one",
            FaultKind::Bounds => "and these",
            _ => "the first is here",
        }
    }

    fn missing(&self) -> Vec<Key> {
        match self {
            FaultKind::Missing(key) => vec![*key],
            FaultKind::NoEnd => vec![Key::Count, Key::Minutes],
            FaultKind::NoSkills => vec![Key::Skill],
            _ => Vec::new(),
        }
    }

    fn help(&self) -> String {
        match self {
            FaultKind::Slip(slip) => slip.help(),
            FaultKind::LevelsCount(_) => {
                format!("write it like this: {}", Key::Levels.example())
            }
            FaultKind::Missing(key @ (Key::Id | Key::Level)) => format!("write below [[skill]]: {}", key.example()),
            FaultKind::Missing(key) => format!("add a line at the top, like this: {}", key.example()),
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
            FaultKind::Range { key, .. } | FaultKind::Row(key) => format!("write it like this: {}", key.example()),
            FaultKind::NoEnd => "add `count = 10` (problems) or `minutes = 10`, or both, at the top".into(),
            FaultKind::SideAtHome => {
                "leave `declination` out, or write ground = \"anywhere\" to practise with other declinations".into()
            }
            FaultKind::NoSkills => {
                "add at least one: a line [[skill]], and below it a line such as id = \"back-bearing\"".into()
            }
            FaultKind::UnknownSkill { nearest: Some(id), .. } | FaultKind::UnknownMixup { nearest: Some(id), .. } => format!("did you mean \"{id}\"?"),
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
            FaultKind::NotByLines(_) => format!(
                "it goes with {}; the one that is named is asked while no lines are set",
                listed(crate::drill::standard::ORIENTING.iter().map(|(_, id)| *id))
            ),
            FaultKind::AlsoByLines(id) => format!("leave {id} out, or write by_lines = false"),
            FaultKind::UnknownMixup { nearest: None, .. } => {
                "name a mix-up that `needlewise skills --format json` lists, or a kind: reversed, sign, forgotten, twice"
                    .into()
            }
        }
    }
}

fn listed<'a>(words: impl Iterator<Item = &'a str>) -> String {
    words.collect::<Vec<_>>().join(", ")
}
