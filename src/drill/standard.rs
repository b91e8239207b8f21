//! Standards: which skills at which level make somebody ready for what, and how that is decided.

use super::find::{Filed, Shelf};
use super::key::Key;
use super::reader::{Keys, LONGEST_ABOUT, LONGEST_TITLE, Reader, Value, read_text, whole};
use super::{DrillError, Fault, FaultKind, Origin, What};
use crate::angle::North;
use crate::learner::readiness::{Bounds, PlanError, ReadinessPlan, Rules, Wish};
use crate::numbers;
use crate::problem::{Level, MixupClass, SkillMeta};
use crate::textfile::{FileKey, nearest, shown};
use include_dir::{Dir, include_dir};
use std::path::Path;
use std::sync::LazyLock;
use toml::Spanned;
use toml::de::DeTable;

static FILES: Dir<'static> = include_dir!("$CARGO_MANIFEST_DIR/drills/standards");

/// Read once, when first asked for. A test reads every file, so that none is left out here for a fault in it.
static EMBEDDED: LazyLock<Vec<Standard>> = LazyLock::new(|| {
    let read = |(file, text)| Standard::read(text, Origin::Embedded(file), crate::skills::metas()).ok();
    let mut standards: Vec<Standard> = Standard::embedded_files().filter_map(read).collect();
    numbers::arrange_by_key(&mut standards, |standard| (standard.name != Standard::DEFAULT, standard.skills.len()));
    standards
});

const KEYS: Keys = Keys { top: &Key::STANDARD, skill: &Key::STANDARD_SKILL };
/// The most days a standard may wait or be good for: ten years.
const MOST_DAYS: u16 = 3_653;

/// A named list of skills that somebody is checked in.
#[derive(Clone, Debug, PartialEq)]
pub struct Standard {
    /// The stable name, kebab-case: what is typed after `--standard`.
    pub name: String,
    /// The name on screens.
    pub title: String,
    /// What it is for, one plain sentence; may be empty.
    pub about: String,
    /// How it is decided.
    pub rules: Rules,
    /// The skills, each at its one level, in the file's order; never empty, none twice.
    pub skills: Vec<StandardSkill>,
    /// Where it was read.
    pub origin: Origin,
}

/// The orienting skill for each line that a map may have, those first with which there is the least to reckon: where maps
/// have several lines, a group orients by the first of these.
pub(super) const ORIENTING: [(North, &str); 3] =
    [(North::Magnetic, "orient-magnetic-line"), (North::Grid, "orient-grid"), (North::True, "orient-true-line")];

/// One skill of a standard.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StandardSkill {
    /// The skill.
    pub skill: &'static SkillMeta,
    /// The level of all its problems.
    pub level: Level,
    /// Whether it stands for the orienting skill that goes with the lines of the group's maps, which are not known yet.
    pub by_lines: bool,
}

impl Standard {
    /// The standard for a group whose maps have these north lines: the map is oriented by what it offers. Without any set,
    /// the skills stay those that the file names ([`Standard::lines_unset`]).
    #[must_use]
    pub fn on_lines(mut self, lines: Option<&[North]>) -> Standard {
        let Some(lines) = lines else { return self };
        let known = ORIENTING.iter().find(|(line, _)| lines.contains(line));
        let Some(skill) = known.and_then(|(_, id)| crate::skills::find(id)) else { return self };
        for one in self.skills.iter_mut().filter(|one| one.by_lines) {
            *one = StandardSkill { skill: skill.meta(), level: one.level, by_lines: false };
        }
        self
    }

    /// What has to be said where a skill goes by the lines of the group's maps and none are set.
    #[must_use]
    pub fn lines_unset(&self) -> Option<String> {
        let one = self.skills.iter().find(|one| one.by_lines)?;
        Some(format!(
            "No north lines are set for your maps, so orienting is asked as: {}. To set them: needlewise home set --lines magnetic",
            one.skill.title
        ))
    }

    /// The name of the standard that is taken when none is named.
    pub const DEFAULT: &'static str = "day-outing";

    /// Reads a standard from its text; `skills` are all skills there are.
    ///
    /// # Errors
    /// [`DrillError::Empty`], or [`DrillError::Faults`] with all that is wrong.
    pub fn read(
        text: &str,
        origin: Origin,
        skills: impl Iterator<Item = &'static SkillMeta> + Clone,
    ) -> Result<Standard, DrillError> {
        read_text(text, origin, What::Standard, Reader::new(skills, KEYS), Reader::standard)
    }

    /// The standards that come with the program, the default one first.
    #[must_use]
    pub fn embedded() -> &'static [Standard] {
        &EMBEDDED
    }

    /// The files of the standards that come with the program: their names and their texts, full of remarks.
    pub fn embedded_files() -> impl Iterator<Item = (&'static str, &'static str)> {
        FILES.files().filter_map(|file| Some((file.path().to_str()?, file.contents_utf8()?)))
    }

    /// All standards there are; the folder `standards` of the configuration may hold more. A broken one does not hide the
    /// others.
    #[must_use]
    pub fn all(config_dir: Option<&Path>) -> (Vec<Standard>, Vec<DrillError>) {
        Shelf::<Standard>::new(config_dir).list()
    }

    /// The standard with this name, or in this file where `what` ends in `.toml` or has a path's separator.
    ///
    /// # Errors
    /// As [`Standard::read`]; or there is no such file, no such name, or it belongs to two.
    pub fn find(what: &str, config_dir: Option<&Path>) -> Result<Standard, DrillError> {
        Shelf::<Standard>::new(config_dir).named_or_in_file(what)
    }
}

impl Filed for Standard {
    const WHAT: What = What::Standard;
    const FOLDER: &'static str = "standards";

    fn embedded() -> &'static [Standard] {
        &EMBEDDED
    }

    fn read(
        text: &str,
        origin: Origin,
        skills: impl Iterator<Item = &'static SkillMeta> + Clone,
    ) -> Result<Standard, DrillError> {
        Standard::read(text, origin, skills)
    }

    fn name(&self) -> &str {
        &self.name
    }

    fn origin(&self) -> &Origin {
        &self.origin
    }
}

impl<S: Iterator<Item = &'static SkillMeta> + Clone> Reader<S> {
    fn standard(&mut self, table: &DeTable<'_>, origin: &Origin) -> Option<Standard> {
        self.check_keys(table, false);
        let name = self.name(table);
        let title = self.wanted_text(table, Key::Title, LONGEST_TITLE);
        let about = match table.get(Key::About.word()) {
            Some(value) => self.text(Key::About, value, LONGEST_ABOUT),
            None => Some(String::new()),
        };
        let plan = self.plan(table);
        let wait_days = self.number_or(table, Key::WaitDays, MOST_DAYS, Rules::WAIT_DAYS);
        let valid_days = self.number_or(table, Key::ValidDays, MOST_DAYS, Rules::VALID_DAYS);
        let critical = self.critical(table);
        let skills = self.standard_skills(table);
        let rules = Rules { plan: plan?, wait_days: wait_days?, valid_days: valid_days?, critical: critical? };
        Some(Standard { name: name?, title: title?, about: about?, rules, skills: skills?, origin: origin.clone() })
    }

    fn standard_skills(&mut self, table: &DeTable<'_>) -> Option<Vec<StandardSkill>> {
        let found = self.skills(table)?;
        let by_lines = self.by_lines(table)?;
        let skills: Vec<StandardSkill> = found
            .iter()
            .filter_map(|found| {
                found.levels.map(|(level, _)| StandardSkill {
                    skill: found.skill,
                    level,
                    by_lines: by_lines == Some(found.skill.id),
                })
            })
            .collect();
        if skills.len() == found.len() {
            return Some(skills);
        }
        // Each skill without a level has a line of its own to say so.
        for without in found.iter().filter(|found| found.levels.is_none()) {
            let span = self.place_of(table, without.skill.id);
            self.tell(Fault { kind: FaultKind::Missing(Key::Level), span, earlier: None });
        }
        None
    }

    /// The skill that goes by the lines of the group's maps; the outer `None` is a fault.
    #[expect(clippy::option_option, reason = "a fault is told already; a standard without such a skill has none")]
    fn by_lines(&mut self, table: &DeTable<'_>) -> Option<Option<&'static str>> {
        let tables = table.get(Key::Skill.word())?.get_ref().as_array()?;
        let mut marked: Option<&'static str> = None;
        for skill in tables.iter().filter_map(|skill| skill.get_ref().as_table()) {
            let Some(value) = skill.get(Key::ByLines.word()) else { continue };
            let Some(wanted) = value.get_ref().as_bool() else { return self.wrong_type(Key::ByLines, value) };
            let id = skill.get(Key::Id.word())?.get_ref().as_str()?;
            let meta = self.all_skills().find(|meta| meta.id == id)?;
            if wanted && ORIENTING.iter().all(|(_, orienting)| *orienting != id) {
                self.tell(Fault::at(FaultKind::NotByLines(meta.id), value.span()));
                return None;
            }
            if wanted {
                marked = Some(meta.id);
            }
        }
        let Some(marked) = marked else { return Some(None) };
        for (_, other) in ORIENTING.iter().filter(|(_, other)| *other != marked) {
            if let Some(place) = self.place_of(table, other) {
                self.tell(Fault::at(FaultKind::AlsoByLines(other), place));
                return None;
            }
        }
        Some(Some(marked))
    }

    /// Where a skill's id stands.
    fn place_of(&self, table: &DeTable<'_>, id: &str) -> Option<std::ops::Range<usize>> {
        let tables = table.get(Key::Skill.word())?.get_ref().as_array()?;
        tables.iter().find_map(|skill| {
            let written = skill.get_ref().as_table()?.get(Key::Id.word())?;
            (written.get_ref().as_str() == Some(id)).then(|| written.span())
        })
    }

    fn number_or(&mut self, table: &DeTable<'_>, key: Key, most: u16, otherwise: u16) -> Option<u16> {
        table.get(key.word()).map_or(Some(otherwise), |value| self.number(key, value, most))
    }

    /// A share or a chance; a whole number is one, too.
    fn share(&mut self, table: &DeTable<'_>, key: Key, otherwise: f64) -> Option<f64> {
        let Some(value) = table.get(key.word()) else { return Some(otherwise) };
        let written = value.get_ref();
        let read = written
            .as_float()
            .and_then(|float| float.as_str().parse().ok())
            .or_else(|| written.as_integer().and_then(whole).map(f64::from));
        read.or_else(|| self.wrong_type(key, value))
    }

    fn plan(&mut self, table: &DeTable<'_>) -> Option<ReadinessPlan> {
        let usual = Wish::default();
        let tries = self.number_or(table, Key::Tries, 3, usual.tries.into());
        let p0 = self.share(table, Key::P0, usual.p0);
        let p1 = self.share(table, Key::P1, usual.p1);
        let (ready, stop) = (table.get(Key::Ready.word()), table.get(Key::Stop.word()));
        let small = |number: u16| u8::try_from(number).unwrap_or(u8::MAX);
        if ready.is_some() || stop.is_some() {
            let bounds = self.bounds(table)?;
            let (p0, p1) = (p0?, p1?);
            if !(p0 > 0.0 && p0 < p1 && p1 < 1.0) {
                return self.unplanned(table, PlanError::Chances { p0, p1 });
            }
            return Some(ReadinessPlan::of_bounds(p0, p1, small(tries?), bounds));
        }
        let alpha = self.share(table, Key::Alpha, usual.alpha);
        let beta = self.share(table, Key::Beta, usual.beta);
        let cap = self.number_or(table, Key::Cap, 60, usual.cap.into());
        let wish = Wish { p0: p0?, p1: p1?, alpha: alpha?, beta: beta?, cap: small(cap?), tries: small(tries?) };
        match ReadinessPlan::for_wish(&wish) {
            Ok(plan) => Some(plan),
            Err(error) => self.unplanned(table, error),
        }
    }

    /// A plan that cannot be, at the line that is to blame.
    fn unplanned<T>(&mut self, table: &DeTable<'_>, error: PlanError) -> Option<T> {
        let place = |key: Key| table.get(key.word()).map(Spanned::span);
        let (span, earlier) = match &error {
            PlanError::Chances { .. } => {
                (place(Key::P1).or_else(|| place(Key::P0)), place(Key::P1).and(place(Key::P0)))
            }
            PlanError::Rate { name, .. } => (place(if *name == "alpha" { Key::Alpha } else { Key::Beta }), None),
            PlanError::Tries(_) => (place(Key::Tries), None),
            PlanError::Cap(_) | PlanError::TooFew { .. } | PlanError::NotFound { .. } => (place(Key::Cap), None),
        };
        let span = span.or_else(|| place(Key::Name));
        self.tell(Fault { kind: FaultKind::Plan(error), span, earlier });
        None
    }

    /// The bounds as written: pairs for *ready*, threes for *stop*.
    fn bounds(&mut self, table: &DeTable<'_>) -> Option<Bounds> {
        for other in [Key::Alpha, Key::Beta, Key::Cap] {
            if table.get(other.word()).is_some() {
                return self.at(table, other, FaultKind::BoundsAndErrors(other));
            }
        }
        let ready = self.rows(table, Key::Ready, 2)?;
        let stop = self.rows(table, Key::Stop, 3)?;
        let cap = ready.iter().map(|row| row[1]).chain(stop.iter().map(|row| row[2])).max().unwrap_or(0);
        let (mut ready_at, mut stop_at) = (vec![None; usize::from(cap)], vec![None; usize::from(cap)]);
        let mut broken = false;
        for row in &ready {
            match usize::from(row[1]).checked_sub(1).and_then(|at| ready_at.get_mut(at)) {
                Some(place) if row[0] <= row[1] && place.is_none() => *place = Some(row[0]),
                _ => broken = true,
            }
        }
        for row in &stop {
            broken |= row[1] == 0 || row[1] > row[2];
            for asked in row[1]..=row[2] {
                let place = usize::from(asked).checked_sub(1).and_then(|at| stop_at.get_mut(at));
                match (place, asked.checked_sub(row[0])) {
                    (Some(place), Some(right)) if place.is_none() => *place = Some(right),
                    _ => broken = true,
                }
            }
        }
        let bounds = Bounds::new(ready_at, stop_at).filter(|_| !broken);
        if bounds.is_none() {
            let place = |key: Key| table.get(key.word()).map(Spanned::span);
            self.tell(Fault { kind: FaultKind::Bounds, span: place(Key::Stop), earlier: place(Key::Ready) });
        }
        bounds
    }

    /// A list of lists of small numbers.
    fn rows(&mut self, table: &DeTable<'_>, key: Key, wide: usize) -> Option<Vec<Vec<u8>>> {
        let Some(value) = table.get(key.word()) else {
            let place = table.get(if key == Key::Ready { Key::Stop } else { Key::Ready }.word()).map(Spanned::span);
            self.tell(Fault { kind: FaultKind::Missing(key), span: place, earlier: None });
            return None;
        };
        let Some(rows) = value.get_ref().as_array() else { return self.wrong_type(key, value) };
        let read = |row: &Value<'_>| -> Option<Vec<u8>> {
            let numbers: Vec<u8> = row
                .get_ref()
                .as_array()?
                .iter()
                .map(|number| number.get_ref().as_integer().and_then(whole).and_then(|n| u8::try_from(n).ok()))
                .collect::<Option<_>>()?;
            (numbers.len() == wide).then_some(numbers)
        };
        let mut all = Vec::new();
        for row in rows.iter() {
            match read(row) {
                Some(numbers) => all.push(numbers),
                None => {
                    self.tell(Fault::at(FaultKind::Row(key), row.span()));
                    return None;
                }
            }
        }
        if all.is_empty() { self.at(table, key, FaultKind::Row(key)) } else { Some(all) }
    }

    /// Mix-ups by id or class; every one must be known.
    fn critical(&mut self, table: &DeTable<'_>) -> Option<Vec<String>> {
        let Some(value) = table.get(Key::Critical.word()) else {
            return Some(Rules::CRITICAL.map(str::to_owned).to_vec());
        };
        let Some(words) = value.get_ref().as_array() else { return self.wrong_type(Key::Critical, value) };
        let known: Vec<&'static str> = self.known_mixups();
        let mut found = Vec::new();
        for word in words.iter() {
            let written = self.string(Key::Critical, word)?;
            if known.contains(&written) {
                found.push(written.to_owned());
            } else {
                let nearest = nearest(written, known.iter().copied());
                let id = shown(written);
                self.tell(Fault::at(FaultKind::UnknownMixup { id, nearest }, word.span()));
                return None;
            }
        }
        Some(found)
    }

    fn known_mixups(&self) -> Vec<&'static str> {
        let mut known: Vec<&'static str> = MixupClass::ALL.iter().map(|class| class.id()).collect();
        for skill in self.all_skills() {
            known.extend(skill.mixups.iter().map(|mixup| mixup.id.as_str()));
        }
        known
    }
}
