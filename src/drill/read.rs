//! The reader of a drill file.

use super::reader::{Keys, LONGEST_ABOUT, LONGEST_TITLE, Reader, read_text};
use super::{DeclinationSide, Drill, DrillError, DrillGround, Fault, FaultKind, Key, Origin, Pace, What};
use crate::problem::SkillMeta;
use crate::textfile::FileKey;
use toml::Spanned;
use toml::de::DeTable;

const MOST_PROBLEMS: u16 = 500;
const MOST_MINUTES: u16 = 240;

const GROUNDS: [(&str, DrillGround); 3] =
    [("home", DrillGround::Home), ("anywhere", DrillGround::Anywhere), ("mixed", DrillGround::Mixed)];
const GROUND_WORDS: &[&str] = &["home", "anywhere", "mixed"];
const SIDES: [(&str, DeclinationSide); 3] =
    [("west", DeclinationSide::West), ("east", DeclinationSide::East), ("both", DeclinationSide::Both)];
const SIDE_WORDS: &[&str] = &["west", "east", "both"];

const KEYS: Keys = Keys { top: &Key::TOP, skill: &Key::SKILL };

impl Drill {
    /// Reads a drill from its text; `skills` are all skills there are.
    ///
    /// # Errors
    /// [`DrillError::Empty`], or [`DrillError::Faults`] with all that is wrong.
    pub fn read(
        text: &str,
        origin: Origin,
        skills: impl Iterator<Item = &'static SkillMeta> + Clone,
    ) -> Result<Drill, DrillError> {
        read_text(text, origin, What::Drill, Reader::new(skills, KEYS), Reader::drill)
    }
}

impl<S: Iterator<Item = &'static SkillMeta> + Clone> Reader<S> {
    fn drill(&mut self, table: &DeTable<'_>, origin: &Origin) -> Option<Drill> {
        self.check_keys(table, false);
        let name = self.name(table);
        let title = self.wanted_text(table, Key::Title, LONGEST_TITLE);
        let about = match table.get(Key::About.word()) {
            Some(value) => self.text(Key::About, value, LONGEST_ABOUT),
            None => Some(String::new()),
        };
        let pace = self.pace(table);
        let ground = self.choice(table, Key::Ground, &GROUNDS, GROUND_WORDS);
        let declination = self.choice(table, Key::Declination, &SIDES, SIDE_WORDS);
        if ground == Some(DrillGround::Home) && !matches!(declination, None | Some(DeclinationSide::Both)) {
            let place = |key: Key| table.get(key.word()).map(Spanned::span);
            self.tell(Fault {
                kind: FaultKind::SideAtHome,
                span: place(Key::Declination),
                earlier: place(Key::Ground),
            });
        }
        let skills = self.skills(table);
        Some(Drill {
            name: name?,
            title: title?,
            about: about?,
            pace: pace?,
            ground: ground?,
            declination: declination?,
            skills: skills?,
            origin: origin.clone(),
        })
    }

    fn pace(&mut self, table: &DeTable<'_>) -> Option<Pace> {
        let (count, minutes) = (table.get(Key::Count.word()), table.get(Key::Minutes.word()));
        if count.is_none() && minutes.is_none() {
            self.tell(Fault::missing(FaultKind::NoEnd));
            return None;
        }
        let count = count.map(|value| self.number(Key::Count, value, MOST_PROBLEMS));
        let minutes = minutes.map(|value| self.number(Key::Minutes, value, MOST_MINUTES));
        // The outer `None` is a key left out, the inner one a fault.
        Some(Pace {
            count: count.map_or(Some(None), |number| number.map(Some))?,
            minutes: minutes.map_or(Some(None), |number| number.map(Some))?,
        })
    }
}
