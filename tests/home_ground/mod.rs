//! Where a skill is set on home ground.

use needlewise::angle::{Convergence, Declination};
use needlewise::problem::{Code, HomeAngles, Level, ProblemError, Skill, realise};

/// Whether problems of a skill and level are set on home ground: some skills never are, and none that reckons with old maps.
pub fn is_set_there(skill: &'static dyn Skill, level: Level) -> bool {
    let home = HomeAngles::new(Declination::from_degrees(-13.0), Convergence::from_degrees(1.5));
    let code = Code { skill, level, seed: 0, home: Some(home) };
    skill.meta().on_home && !matches!(realise(&code), Err(ProblemError::NoHistory(_)))
}
