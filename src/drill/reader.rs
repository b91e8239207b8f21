//! What the readers of drills and standards share: all faults at once, each with its place.

use super::{DrillError, DrillSkill, Fault, FaultKind, Key, Origin, What};
use crate::problem::{Level, SkillMeta};
use crate::textfile::{FileKey, Notes, Slip, kebab, nearest, read_table, shown, without_mark};
pub(super) use crate::textfile::{Value, whole};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

const LONGEST_NAME: usize = 40;
pub(super) const LONGEST_TITLE: usize = 60;
pub(super) const LONGEST_ABOUT: usize = 200;
/// What is read from a file: which keys may stand where.
#[derive(Clone, Copy)]
pub(super) struct Keys {
    /// At the top of the file.
    pub top: &'static [Key],
    /// Below a `[[skill]]` line.
    pub skill: &'static [Key],
}

/// Reads a text by `read`, with every fault in it.
pub(super) fn read_text<S, T>(
    text: &str,
    origin: Origin,
    what: What,
    mut reader: Reader<S>,
    read: impl FnOnce(&mut Reader<S>, &DeTable<'_>, &Origin) -> Option<T>,
) -> Result<T, DrillError> {
    if without_mark(text).trim().is_empty() {
        return Err(DrillError::Empty { origin, what });
    }
    let read = |table: &DeTable<'_>| (read(&mut reader, table, &origin), reader.notes);
    read_table(text, &origin, read).map_err(DrillError::Faults)
}

/// Reads on after a fault, so that one run shows them all. What has a fault is `None`.
pub(super) struct Reader<S> {
    skills: S,
    keys: Keys,
    notes: Notes<FaultKind>,
}

impl<S> Reader<S> {
    pub(super) fn new(skills: S, keys: Keys) -> Reader<S> {
        Reader { skills, keys, notes: Notes::default() }
    }
}

impl<S: Iterator<Item = &'static SkillMeta> + Clone> Reader<S> {
    /// All skills there are.
    pub(super) fn all_skills(&self) -> S {
        self.skills.clone()
    }

    pub(super) fn tell(&mut self, fault: Fault) {
        self.notes.tell(fault);
    }

    /// Faults for all keys that are not among those that may stand here.
    pub(super) fn check_keys(&mut self, table: &DeTable<'_>, in_skill: bool) {
        let Keys { top, skill } = self.keys;
        let (may_stand, elsewhere) = if in_skill { (skill, top) } else { (top, skill) };
        self.notes.check_keys(table, may_stand, elsewhere);
    }

    pub(super) fn name(&mut self, table: &DeTable<'_>) -> Option<String> {
        let name = self.wanted_text(table, Key::Name, LONGEST_NAME)?;
        let instead = kebab(&name);
        if instead == name {
            return Some(name);
        }
        let kind = FaultKind::Name { found: shown(&name), instead: (!instead.is_empty()).then_some(instead) };
        self.at(table, Key::Name, kind)
    }

    /// A fault at the value of a key.
    pub(super) fn at<T>(&mut self, table: &DeTable<'_>, key: Key, kind: FaultKind) -> Option<T> {
        let span = table.get(key.word()).map(Spanned::span);
        self.tell(Fault { kind, span, earlier: None });
        None
    }

    pub(super) fn wanted_text(&mut self, table: &DeTable<'_>, key: Key, most: usize) -> Option<String> {
        let Some(value) = table.get(key.word()) else {
            return self.at(table, key, FaultKind::Missing(key));
        };
        self.text(key, value, most)
    }

    pub(super) fn text(&mut self, key: Key, value: &Value<'_>, most: usize) -> Option<String> {
        self.notes.text(key, value, most)
    }

    pub(super) fn string<'v>(&mut self, key: Key, value: &'v Value<'_>) -> Option<&'v str> {
        self.notes.string(key, value)
    }

    pub(super) fn wrong_type<T>(&mut self, key: Key, value: &Value<'_>) -> Option<T> {
        self.notes.wrong_type(key, value)
    }

    pub(super) fn number(&mut self, key: Key, value: &Value<'_>, most: u16) -> Option<u16> {
        let Some(written) = value.get_ref().as_integer() else { return self.wrong_type(key, value) };
        let number = whole(written).filter(|number| (1..=most).contains(number));
        if number.is_none() {
            let found = shown(&written.to_string());
            self.tell(Fault::at(FaultKind::Range { key, found, most }, value.span()));
        }
        number
    }

    pub(super) fn choice<T: Copy + Default>(
        &mut self,
        table: &DeTable<'_>,
        key: Key,
        choices: &[(&'static str, T)],
        words: &'static [&'static str],
    ) -> Option<T> {
        let Some(value) = table.get(key.word()) else { return Some(T::default()) };
        let word = self.string(key, value)?;
        if let Some((_, choice)) = choices.iter().find(|(known, _)| *known == word) {
            return Some(*choice);
        }
        let nearest = nearest(word, words.iter().copied());
        let kind = FaultKind::Choice { key, found: shown(word), choices: words, nearest };
        self.tell(Fault::at(kind, value.span()));
        None
    }

    pub(super) fn skills(&mut self, table: &DeTable<'_>) -> Option<Vec<DrillSkill>> {
        let Some(value) = table.get(Key::Skill.word()) else {
            self.tell(Fault::missing(FaultKind::NoSkills));
            return None;
        };
        let tables = match value.get_ref() {
            DeValue::Array(tables) if !tables.is_empty() => tables,
            DeValue::Array(_) => {
                self.tell(Fault::at(FaultKind::NoSkills, value.span()));
                return None;
            }
            DeValue::Table(_) => {
                self.tell(Fault::at(Slip::SingleBrackets { table: Key::Skill, first: Key::Id }, value.span()));
                return None;
            }
            _ => return self.wrong_type(Key::Skill, value),
        };
        let mut found: Vec<(DrillSkill, Range<usize>)> = Vec::new();
        for value in tables.iter() {
            let Some(table) = value.get_ref().as_table() else {
                self.wrong_type::<()>(Key::Skill, value);
                continue;
            };
            let Some((skill, place)) = self.skill(table, value.span()) else { continue };
            match found.iter().find(|(earlier, _)| earlier.skill.id == skill.skill.id) {
                Some((_, earlier)) => {
                    let kind = FaultKind::SkillTwice(skill.skill.id);
                    self.tell(Fault::after(kind, place, earlier.clone()));
                }
                None => found.push((skill, place)),
            }
        }
        Some(found.into_iter().map(|(skill, _)| skill).collect())
    }

    /// One skill, with the place of its id.
    fn skill(&mut self, table: &DeTable<'_>, span: Range<usize>) -> Option<(DrillSkill, Range<usize>)> {
        self.check_keys(table, true);
        let levels = self.levels(table);
        let Some(id) = table.get(Key::Id.word()) else {
            self.tell(Fault::at(FaultKind::Missing(Key::Id), span));
            return None;
        };
        let written = self.string(Key::Id, id)?;
        let Some(skill) = self.skills.clone().find(|skill| skill.id == written) else {
            let nearest = self.nearest_skill(written);
            self.tell(Fault::at(FaultKind::UnknownSkill { id: shown(written), nearest }, id.span()));
            return None;
        };
        Some((DrillSkill { skill, levels: levels? }, id.span()))
    }

    /// A skill's mark or its title is as good a hint at its id as a slip of the finger.
    fn nearest_skill(&self, written: &str) -> Option<&'static str> {
        let plain = kebab(written);
        let skills = || self.skills.clone();
        skills()
            .find(|skill| kebab(skill.title) == plain || skill.mark.eq_ignore_ascii_case(written.trim()))
            .map(|skill| skill.id)
            .or_else(|| nearest(written, skills().map(|skill| skill.id)))
    }

    /// The outer `None` is a fault, the inner one a skill without levels.
    #[expect(clippy::option_option, reason = "a fault is told already; a skill without levels is none")]
    fn levels(&mut self, table: &DeTable<'_>) -> Option<Option<(Level, Level)>> {
        match (table.get_key_value(Key::Level.word()), table.get_key_value(Key::Levels.word())) {
            (None, None) => Some(None),
            (Some((_, value)), None) => self.level(Key::Level, value).map(|level| Some((level, level))),
            (None, Some((_, value))) => self.range(value).map(Some),
            (Some((one, _)), Some((two, _))) => {
                let (first, second) = if one.span().start < two.span().start { (one, two) } else { (two, one) };
                self.tell(Fault::after(FaultKind::LevelAndLevels, second.span(), first.span()));
                None
            }
        }
    }

    fn range(&mut self, value: &Value<'_>) -> Option<(Level, Level)> {
        let Some(list) = value.get_ref().as_array() else { return self.wrong_type(Key::Levels, value) };
        if list.len() != 2 {
            self.tell(Fault::at(FaultKind::LevelsCount(list.len()), value.span()));
            return None;
        }
        let levels: Vec<Option<Level>> = list.iter().map(|value| self.level(Key::Levels, value)).collect();
        let (&[Some(low), Some(high)], span) = (levels.as_slice(), value.span()) else { return None };
        if low > high {
            let kind = FaultKind::LevelsOrder { first: low.number(), second: high.number() };
            self.tell(Fault::at(kind, span));
            return None;
        }
        Some((low, high))
    }

    fn level(&mut self, key: Key, value: &Value<'_>) -> Option<Level> {
        let Some(written) = value.get_ref().as_integer() else { return self.wrong_type(key, value) };
        let level = whole(written).and_then(|number| u8::try_from(number).ok()).and_then(Level::new);
        if level.is_none() {
            self.tell(Fault::at(FaultKind::Level(shown(&written.to_string())), value.span()));
        }
        level
    }
}
