//! The short text that regenerates a problem exactly: `B2-3-4821-v1`, or on home ground `B2-3-4821-v1-13.7W-1.2E`.
//!
//! Parts: the skill's mark, the level, the seed; the generation of the skill that made it; then, for a problem on home ground,
//! its declination and its convergence, in hundredths of a degree. Those tell the minutes that a map prints from one another, so a
//! problem shows the minutes that `north` shows. Older codes have tenths, which are minutes too and still read. Codes of version 0.1.0 were printed without a generation: they
//! mean that of 0.1.0 ([`SkillMeta::unmarked_generation`]) and are refused where the skill has gone on since.

use super::{Level, Skill, SkillMeta};
use crate::angle::{Angle, Convergence, Declination, EastWest, GridMagnetic, read_declination};
use std::fmt;

const LONGEST: usize = 64;
const MINUTE: Angle = Angle::from_minutes(1.0);

/// The declination and convergence of home ground as a code carries them, in whole minutes of arc.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HomeAngles {
    declination: Declination,
    convergence: Convergence,
}

impl HomeAngles {
    /// Rounds both to a minute, as they are printed.
    #[must_use]
    pub fn new(declination: Declination, convergence: Convergence) -> HomeAngles {
        HomeAngles {
            declination: Declination::from_angle(declination.angle().rounded_to(MINUTE)),
            convergence: Convergence::from_angle(convergence.angle().rounded_to(MINUTE)),
        }
    }

    /// Declination, in whole minutes.
    #[must_use]
    pub const fn declination(self) -> Declination {
        self.declination
    }

    /// Convergence, in whole minutes.
    #[must_use]
    pub const fn convergence(self) -> Convergence {
        self.convergence
    }

    /// The grid-magnetic angle: what is left of the minutes that are printed.
    #[must_use]
    pub fn grid_magnetic(self) -> GridMagnetic {
        self.declination.then(self.convergence.inverse())
    }
}

/// Everything a problem depends on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Code {
    /// The skill.
    pub skill: &'static dyn Skill,
    /// The level.
    pub level: Level,
    /// The seed.
    pub seed: u64,
    /// The angles of home ground, when the problem is set there.
    pub home: Option<HomeAngles>,
}

/// Why a text is not a code.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CodeError {
    /// Nothing, or far too much.
    #[error("a problem code looks like B2-3-4821-v1: the skill's mark, the level, a number, the generation")]
    Shape,
    /// No skill has this mark.
    #[error("no skill has the mark {mark}; `needlewise skills` lists the marks{}", hint.as_ref().map(|m| format!(" (did you mean {m}?)")).unwrap_or_default())]
    Skill {
        /// What was typed.
        mark: String,
        /// A mark that looks like it.
        hint: Option<&'static str>,
    },
    /// The level is not 1 to 4.
    #[error("level {0} does not exist; levels go from 1 to 4")]
    Level(String),
    /// The seed is no whole number.
    #[error("{0} is not the number of a problem; it is a whole number such as 4821")]
    Seed(String),
    /// Made by another generation.
    #[error(
        "this code was made by generation {made} of its skill, and this program makes generation {now}; use the program that printed it{}",
        if *.unmarked { " (codes without a v are those of version 0.1.0)" } else { "" }
    )]
    Generation {
        /// The code's.
        made: u16,
        /// This program's.
        now: u16,
        /// Whether the code names none, as those of version 0.1.0.
        unmarked: bool,
    },
    /// The home part cannot be read.
    #[error("{0} is not an angle of home ground; it looks like 13.7W")]
    Home(String),
    /// The skill is never set on home ground.
    #[error("{0} problems are not set on home ground; leave out what follows the number")]
    NotOnHome(&'static str),
}

impl Code {
    /// What is known of its skill.
    #[must_use]
    pub fn meta(&self) -> &'static SkillMeta {
        self.skill.meta()
    }

    /// Reads a code; `skills` are all skills there are. Case does not matter, blanks may stand for the hyphens.
    ///
    /// # Errors
    /// [`CodeError`], saying which part is wrong.
    pub fn read(text: &str, skills: &[&'static dyn Skill]) -> Result<Code, CodeError> {
        let text = text.trim();
        if text.is_empty() || text.len() > LONGEST || text.chars().any(char::is_control) {
            return Err(CodeError::Shape);
        }
        let mut parts = text.split(['-', ' ', '\u{2010}', '\u{2011}', '\u{2013}']).filter(|part| !part.is_empty());
        let (Some(mark), Some(level), Some(seed)) = (parts.next(), parts.next(), parts.next()) else {
            return Err(CodeError::Shape);
        };
        let marks = || skills.iter().map(|skill| skill.meta().mark);
        let at = marks().position(|known| known.eq_ignore_ascii_case(mark)).ok_or_else(|| {
            let family = mark.chars().next().map(|letter| letter.to_ascii_uppercase());
            let hint = marks().find(|known| known.chars().next() == family);
            CodeError::Skill { mark: mark.to_owned(), hint }
        })?;
        let (skill, meta) = (skills[at], skills[at].meta());
        let level = level.parse().ok().and_then(Level::new).ok_or_else(|| CodeError::Level(level.to_owned()))?;
        let digits = seed.bytes().all(|byte| byte.is_ascii_digit());
        let seed = seed.parse().ok().filter(|_| digits).ok_or_else(|| CodeError::Seed(seed.to_owned()))?;

        let mut rest: Vec<&str> = parts.collect();
        let marked = rest.first().and_then(|part| part.strip_prefix(['v', 'V']));
        let made = match marked {
            Some(generation) => generation.parse().map_err(|_| CodeError::Shape)?,
            None => meta.unmarked_generation(),
        };
        if made != meta.generation {
            return Err(CodeError::Generation { made, now: meta.generation, unmarked: marked.is_none() });
        }
        if marked.is_some() {
            rest.remove(0);
        }
        let home = match rest.as_slice() {
            [] => None,
            [_, _] if !meta.on_home => return Err(CodeError::NotOnHome(meta.id)),
            [declination, convergence] => Some(HomeAngles::new(
                Declination::from_angle(home_angle(declination)?),
                Convergence::from_angle(home_angle(convergence)?),
            )),
            _ => return Err(CodeError::Shape),
        };
        Ok(Code { skill, level, seed, home })
    }
}

fn home_angle(text: &str) -> Result<Angle, CodeError> {
    // A code always writes the letter: without it a lost minus sign would turn west into east.
    let typed = read_declination(text).ok().filter(|typed| typed.lettered);
    typed.map(|typed| typed.angle).ok_or_else(|| CodeError::Home(text.to_owned()))
}

impl fmt::Display for Code {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let meta = self.meta();
        write!(f, "{}-{}-{}-v{}", meta.mark, self.level, self.seed, meta.generation)?;
        if let Some(home) = self.home {
            for angle in [home.declination.angle(), home.convergence.angle()] {
                let letter = EastWest::of(angle).unwrap_or(EastWest::East).letter();
                let hundredths = format!("{:.2}", angle.abs().degrees());
                // A whole tenth is written as one, as it always was.
                write!(f, "-{}{letter}", hundredths.strip_suffix('0').unwrap_or(&hundredths))?;
            }
        }
        Ok(())
    }
}
