//! Skills and levels as typed, with a suggestion where one is not known.

use super::fault::Fault;
use crate::problem::{Level, Skill};
use crate::skills;
use crate::textfile::{nearest, shown};

/// The skill with this id, or with this mark, as it stands on sheets and in tables: `take-bearing` or `E1`.
pub(super) fn skill(typed: &str) -> Result<&'static dyn Skill, Fault> {
    let by_mark =
        || skills::metas().find(|meta| meta.mark.eq_ignore_ascii_case(typed)).and_then(|meta| skills::find(meta.id));
    if let Some(skill) = skills::find(typed).or_else(by_mark) {
        return Ok(skill);
    }
    let meant = match nearest(typed, skills::metas().map(|meta| meta.id)) {
        Some(id) => format!("did you mean {id}? "),
        None => String::new(),
    };
    Err(Fault::Input(format!("there is no skill {}; {meant}`needlewise skills` lists them", shown(typed))))
}

/// The level with this number.
pub(super) fn level(number: u8) -> Result<Level, Fault> {
    Level::new(number).ok_or_else(|| Fault::Input(format!("level {number} does not exist; levels go from 1 to 4")))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn message(typed: &str) -> String {
        match skill(typed) {
            Err(Fault::Input(text)) => text,
            other => panic!("{:?}", other.map(|skill| skill.meta().id)),
        }
    }

    #[test]
    fn a_skill_that_is_not_known_brings_the_nearest_one_to_mind() {
        assert!(message("true-magnetc").contains("did you mean true-magnetic?"));
        assert!(!message("cooking").contains("did you mean"));
        assert!(message(&"x".repeat(100_000)).len() < 200);
    }

    #[test]
    fn a_skill_goes_by_its_mark_as_well() {
        assert!(skill("b2").is_ok_and(|skill| skill.meta().id == "true-magnetic"));
        assert!(message("b99").contains("there is no skill"));
    }

    #[test]
    fn there_are_four_levels() {
        assert!(level(4).is_ok());
        assert!(level(0).is_err() && level(9).is_err());
    }
}
