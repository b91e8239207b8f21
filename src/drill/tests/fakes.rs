//! Skills for the tests of this module, so that they do not change when the registry does.

use crate::drill::{Drill, DrillError, Origin};
use crate::problem::{Family, NorthLines, SkillMeta};
use std::path::PathBuf;

const fn fake(id: &'static str, mark: &'static str, title: &'static str) -> SkillMeta {
    SkillMeta {
        id,
        mark,
        family: Family::Dial,
        title,
        can: "",
        levels: [""; 4],
        prerequisites: &[],
        mixups: &[],
        lines: NorthLines::Any,
        on_home: false,
        generation: 1,
    }
}

pub(in crate::drill) static SKILLS: [SkillMeta; 4] = [
    fake("turns", "A3", "Angle across north"),
    fake("set-dial", "A6", "Set a dial"),
    fake("back-bearing", "A7", "Back bearing"),
    fake("true-magnetic", "B2", "True and magnetic"),
];

/// A good drill, for tests that make it bad.
pub(in crate::drill) const GOOD: &str = r#"name = "tuesday-evening"
title = "Tuesday evening"
about = "What we did last week, once more."
count = 10
minutes = 15
ground = "anywhere"
declination = "west"

[[skill]]
id = "turns"
level = 2

[[skill]]
id = "true-magnetic"
levels = [1, 3]

[[skill]]
id = "back-bearing"
"#;

pub(in crate::drill) fn read(text: &str) -> Result<Drill, DrillError> {
    Drill::read(text, Origin::File(PathBuf::from("drills/tuesday.toml")), SKILLS.iter())
}

/// The good drill with one thing changed.
pub(in crate::drill) fn with(good: &str, bad: &str) -> String {
    assert!(GOOD.contains(good), "{good} is not in the good drill");
    GOOD.replacen(good, bad, 1)
}
