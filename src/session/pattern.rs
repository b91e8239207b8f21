//! Where a mix-up shows, in words.

use crate::learner::patterns::{AnsweredItem, patterns};
use crate::problem::{MixupMeta, SkillMeta};
use crate::store::NewAttempt;

/// How many of the latest answers of a skill a pattern is looked for in.
pub const PATTERN_ATTEMPTS: u32 = 60;

/// Where a mix-up shows by the latest answers of its skill, if only there: `only when the declination is east (5 of 6; 0 of
/// 7 when it is west)`.
#[must_use]
pub fn pattern_words<'a>(
    skill: &'static SkillMeta,
    mixup: &MixupMeta,
    lately: impl Iterator<Item = &'a NewAttempt>,
) -> Option<String> {
    let items: Vec<AnsweredItem<'_>> = lately
        .map(|attempt| AnsweredItem {
            level: attempt.level,
            facts: &attempt.facts,
            exposed: &attempt.exposed,
            mixup: attempt.verdict.mixup(),
            hinted: !attempt.help.is_evidence(),
        })
        .collect();
    patterns(skill, &items).into_iter().find(|pattern| pattern.mixup.id == mixup.id).map(|pattern| pattern.words())
}
