//! Where a learner's mix-ups show, if only there.

use crate::learner::Beliefs;
use crate::problem::{MixupMeta, SkillMeta};
use crate::session::{PATTERN_ATTEMPTS, pattern_words, untold};
use crate::store::{LearnerId, Store, StoreError};

/// Where a mix-up shows that shows only there.
#[derive(Clone, Debug, PartialEq)]
pub struct MixupPattern {
    /// The skill.
    pub skill: &'static SkillMeta,
    /// The mix-up.
    pub mixup: &'static MixupMeta,
    /// `only when the declination is east (5 of 6; 0 of 7 when it is west)`.
    pub words: String,
}

/// The patterns of a learner's mix-ups, by the latest answers of each skill that was met.
///
/// # Errors
/// [`StoreError`] when the store cannot be read.
pub fn mixup_patterns(store: &Store, learner: LearnerId, beliefs: &Beliefs) -> Result<Vec<MixupPattern>, StoreError> {
    let untold = untold(&store.checks(learner)?);
    let mut all = Vec::new();
    for (skill, _) in beliefs.iter().filter(|(_, belief)| belief.count() > 0) {
        let lately = store.attempts(learner, skill.id, PATTERN_ATTEMPTS)?;
        for mixup in skill.mixups {
            let told = lately.iter().filter(|attempt| !untold.contains(&attempt.id));
            let words = pattern_words(skill, mixup, told.map(|attempt| &attempt.what));
            all.extend(words.map(|words| MixupPattern { skill, mixup, words }));
        }
    }
    Ok(all)
}
