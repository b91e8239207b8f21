//! How a day opens: with the weak spot that was promised, behind one easy problem of another skill.

use super::belief::SkillBelief;
use super::beliefs::{Beliefs, Entry};
use super::choose::{Picked, Wanted};
use super::constants as c;
use super::reason::Reason;
use super::weak_spot::{Standing, WeakSpot};
use crate::problem::{MixupMeta, SkillMeta};
use jiff::civil::Date;

/// A weak spot named and not since ended, in a skill not practised today, opens the day: the likeliest first, each after its
/// weakest prerequisite if that is weak and was not met today, and the first of them after one easy problem of another skill. A
/// common error opens it with one of its skills.
pub(super) fn opening(beliefs: &Beliefs, wanted: &Wanted, day: Date) -> Option<Picked> {
    let belief = |at: usize| &beliefs.entries[at].belief;
    // A check alone does not count: there nothing was opened.
    let waits =
        |at: usize| wanted.allows(at) && belief(at).count() > 0 && belief(at).practised.is_none_or(|last| last < day);
    let mut first: Option<(usize, &'static MixupMeta, f64, bool)> = None;
    let mut likelier = |at: usize, mixup, probability: f64, stands: bool| {
        if first.is_none_or(|(_, _, before, _)| probability > before) {
            first = Some((at, mixup, probability, stands));
        }
    };
    for at in wanted.places().filter(|&at| waits(at)) {
        let Entry { meta, belief, .. } = &beliefs.entries[at];
        if let Some(mixup) = beliefs.entries[at].announced() {
            likelier(at, &meta.mixups[mixup], belief.mixups[mixup].reading, belief.stands(mixup));
        }
    }
    let common = beliefs.common_named();
    for spot in &common {
        let places = || spot.places.iter().filter_map(|place| Some((beliefs.find(place.skill.id)?, place.mixup)));
        if places().all(|(at, _)| !belief(at).practised_on(day))
            && let Some((at, mixup)) = places().find(|&(at, _)| waits(at))
        {
            likelier(at, mixup, spot.probability, true);
        }
    }
    let (at, mixup, _, stands) = first?;
    let promised = beliefs.entries[at].meta;
    if beliefs.entries.iter().all(|entry| !entry.belief.practised_on(day))
        && let Some(easy) = beliefs.easy_at(promised, |at| wanted.allows(at))
    {
        let level = belief(easy).level().easier();
        return Some(Picked::new(easy, Reason::EasyFirst { skill: promised, mixup }).at_level(level));
    }
    let before = beliefs.entries[at]
        .prerequisites
        .iter()
        .copied()
        // One never met is not known to be weak; it must not stand before what was promised.
        .filter(|&before| belief(before).count() > 0)
        .min_by(|&a, &b| belief(a).strength().total_cmp(&belief(b).strength()))
        .filter(|&before| belief(before).strength() < c::OPENING_PREREQUISITE_BELOW)
        .filter(|&before| wanted.allows(before) && belief(before).count_on(day) == 0);
    // The prerequisite may itself be one of the skills in which the same error shows: then it is that which is worked on.
    let shared = |before: usize| {
        let there = beliefs.entries[before].meta.id;
        let spot = common.iter().find(|spot| spot.is_in(promised.id) && spot.is_in(there))?;
        spot.places.iter().find(|place| place.skill.id == there).map(|place| place.mixup)
    };
    Some(match before {
        _ if !stands => Picked::new(at, Reason::WasWeakSpot { mixup }),
        Some(before) => match shared(before) {
            Some(mixup) => Picked::new(before, Reason::WeakSpot { mixup, standing: Standing::Named }),
            None => Picked::new(before, Reason::PrerequisiteOf { skill: promised, mixup }),
        },
        None => Picked::new(at, Reason::WeakSpot { mixup, standing: Standing::Named }),
    })
}

impl Beliefs {
    /// Whether a weak spot of this skill will have one easy problem of another before it on a later day.
    #[must_use]
    pub fn has_easy_beside(&self, skill: &'static SkillMeta) -> bool {
        self.easy_at(skill, |_| true).is_some()
    }

    /// The place of the skill known best beside this one, of those that `may` be asked: one that came right, with no weak
    /// spot of its own that was announced, and none that it shares with this one.
    fn easy_at(&self, beside: &SkillMeta, may: impl Fn(usize) -> bool) -> Option<usize> {
        let common = self.common_named();
        let shares = |id: &str| common.iter().any(|spot| spot.is_in(beside.id) && spot.is_in(id));
        let known = |at: &usize| self.entries[*at].belief.known();
        let others = (0..self.entries.len()).filter(|&at| {
            let entry = &self.entries[at];
            let id = entry.meta.id;
            id != beside.id && may(at) && came_right(&entry.belief) && entry.announced().is_none() && !shares(id)
        });
        // The first of equals.
        others.reduce(|best, at| if known(&at) > known(&best) { at } else { best })
    }

    /// The errors named over several skills.
    fn common_named(&self) -> Vec<WeakSpot> {
        let mut common = self.weak_spots();
        common.retain(|spot| spot.standing == Standing::Named && spot.places.len() > 1);
        common
    }
}

fn came_right(belief: &SkillBelief) -> bool {
    belief.right_lately().times > 0
}
