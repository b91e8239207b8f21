//! What the readers of drills and standards share: all faults at once, each with its place.

use super::error::line_of;
use super::fault::shown;
use super::near::{kebab, nearest};
use super::syntax;
use super::{DrillError, DrillSkill, Fault, FaultKind, Faults, Key, Origin, What};
use crate::problem::{Level, SkillMeta};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeInteger, DeTable, DeValue};

const LONGEST_NAME: usize = 40;
pub(super) const LONGEST_TITLE: usize = 60;
pub(super) const LONGEST_ABOUT: usize = 200;
/// More than these are counted, not shown: they would push the first ones off the screen.
const MOST_FAULTS: usize = 6;
/// After so many faults the reader stops noting more, lest a large file of nonsense take long.
pub(super) const ENOUGH: usize = 100;

pub(super) type Value<'i> = Spanned<DeValue<'i>>;

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
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.trim().is_empty() {
        return Err(DrillError::Empty { origin, what });
    }
    let (table, errors) = DeTable::parse_recoverable(text);
    let read = read(&mut reader, table.get_ref(), &origin);
    let faults = in_order(text, syntax::faults(text, &errors), reader.faults);
    match read {
        Some(read) if faults.is_empty() => Ok(read),
        _ => Err(DrillError::Faults(Faults { origin, text: text.to_owned(), faults })),
    }
}

/// Both kinds of faults in the order of the file, without those that follow from another.
fn in_order(text: &str, broken: Vec<Fault>, mut own: Vec<Fault>) -> Vec<Fault> {
    let line = |fault: &Fault| fault.span.as_ref().map(|span| line_of(text, span.start));
    // A key misspelt or in the wrong place is not missing as well.
    let meant: Vec<Key> = own.iter().filter_map(|fault| meant(&fault.kind)).collect();
    own.retain(|fault| match fault.kind {
        FaultKind::Missing(key) => !meant.contains(&key),
        FaultKind::NoEnd => !meant.contains(&Key::Count) && !meant.contains(&Key::Minutes),
        FaultKind::NoSkills => !meant.contains(&Key::Skill),
        _ => true,
    });
    if !broken.is_empty() {
        // What could not be read is not missing, and a broken line is one fault, not two.
        let lines: Vec<Option<usize>> = broken.iter().map(line).collect();
        let brackets = broken.iter().any(|fault| fault.kind == FaultKind::SingleBrackets);
        let swallowed = broken.iter().find(|fault| fault.kind == FaultKind::Bracket).and_then(line);
        own.retain(|fault| match fault.kind {
            FaultKind::Missing(_) | FaultKind::NoEnd | FaultKind::NoSkills => false,
            FaultKind::Misplaced(_) | FaultKind::SingleBrackets if brackets => false,
            _ => !lines.contains(&line(fault)) && swallowed.is_none_or(|at| line(fault) < Some(at)),
        });
    }
    let mut all = broken;
    all.append(&mut own);
    all.sort_by_key(|fault| fault.span.as_ref().map_or(usize::MAX, |span| span.start));
    if all.len() > MOST_FAULTS {
        all.truncate(MOST_FAULTS - 1);
        all.push(Fault::missing(FaultKind::More));
    }
    all
}

/// The key that was meant by one that cannot stand where it stands.
fn meant(kind: &FaultKind) -> Option<Key> {
    match kind {
        FaultKind::UnknownKey { nearest, .. } => *nearest,
        FaultKind::Misplaced(key) => Some(*key),
        _ => None,
    }
}

impl Fault {
    pub(super) fn at(kind: FaultKind, span: Range<usize>) -> Fault {
        Fault { kind, span: Some(span), earlier: None }
    }

    pub(super) fn missing(kind: FaultKind) -> Fault {
        Fault { kind, span: None, earlier: None }
    }

    pub(super) fn after(kind: FaultKind, span: Range<usize>, earlier: Range<usize>) -> Fault {
        Fault { kind, span: Some(span), earlier: Some(earlier) }
    }
}

/// Reads on after a fault, so that one run shows them all. What has a fault is `None`.
pub(super) struct Reader<S> {
    skills: S,
    keys: Keys,
    faults: Vec<Fault>,
}

impl<S> Reader<S> {
    pub(super) const fn new(skills: S, keys: Keys) -> Reader<S> {
        Reader { skills, keys, faults: Vec::new() }
    }
}

impl<S: Iterator<Item = &'static SkillMeta> + Clone> Reader<S> {
    /// All skills there are.
    pub(super) fn all_skills(&self) -> S {
        self.skills.clone()
    }

    pub(super) fn tell(&mut self, fault: Fault) {
        if self.faults.len() < ENOUGH {
            self.faults.push(fault);
        }
    }

    /// Faults for all keys that are not among those that may stand here.
    pub(super) fn check_keys(&mut self, table: &DeTable<'_>, in_skill: bool) {
        let Keys { top, skill } = self.keys;
        let (may_stand, elsewhere) = if in_skill { (skill, top) } else { (top, skill) };
        for key in table.keys() {
            let word = key.get_ref().as_ref();
            if Key::find(word, may_stand).is_some() {
                continue;
            }
            let kind = match Key::find(word, elsewhere) {
                Some(misplaced) => FaultKind::Misplaced(misplaced),
                None => FaultKind::UnknownKey { key: shown(word), may_stand, nearest: Key::nearest(word, may_stand) },
            };
            self.tell(Fault::at(kind, key.span()));
        }
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
        let text = self.string(key, value)?.trim();
        let kind = if text.is_empty() {
            FaultKind::Blank(key)
        } else if text.chars().count() > most {
            FaultKind::TooLong { key, most }
        } else if text.chars().any(unshowable) {
            FaultKind::Control(key)
        } else {
            return Some(text.to_owned());
        };
        self.tell(Fault::at(kind, value.span()));
        None
    }

    pub(super) fn string<'v>(&mut self, key: Key, value: &'v Value<'_>) -> Option<&'v str> {
        value.get_ref().as_str().or_else(|| self.wrong_type(key, value))
    }

    pub(super) fn wrong_type<T>(&mut self, key: Key, value: &Value<'_>) -> Option<T> {
        let found = match value.get_ref() {
            DeValue::String(_) => "text",
            DeValue::Integer(_) => "a number",
            DeValue::Float(_) => "a number with a point",
            DeValue::Boolean(_) => "true or false",
            DeValue::Datetime(_) => "a date or a time",
            DeValue::Array(_) => "a list",
            DeValue::Table(_) => "a table",
        };
        self.tell(Fault::at(FaultKind::WrongType { key, found }, value.span()));
        None
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
                self.tell(Fault::at(FaultKind::SingleBrackets, value.span()));
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

pub(super) fn whole(written: &DeInteger<'_>) -> Option<u16> {
    u16::from_str_radix(written.as_str(), written.radix()).ok()
}

/// Control characters, and those that turn the direction of writing: neither belongs on a terminal.
fn unshowable(letter: char) -> bool {
    letter.is_control()
        || matches!(letter, '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}')
}
