//! Weak spots: what the learner's record makes likely, each error told once with the skills it shows in.

use super::belief::Tally;
use super::beliefs::{Beliefs, Entry};
use super::constants as c;
use super::pooled::CommonError;
use crate::numbers;
use crate::problem::{MixupId, MixupMeta, SkillMeta};
use jiff::civil::Date;

/// How far a weak spot is established.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Standing {
    /// Likely enough to look into.
    Suspected,
    /// Likely enough to say, and not worked off since.
    Named,
}

/// A skill in which a weak spot shows, by which mix-up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WeakPlace {
    /// The skill.
    pub skill: &'static SkillMeta,
    /// The mix-up.
    pub mixup: &'static MixupMeta,
    /// How often its answer was given, among the last items that exposed it.
    pub evidence: Tally,
}

impl WeakPlace {
    /// Skill and mix-up by their ids.
    const fn key(&self) -> (&'static str, MixupId) {
        (self.skill.id, self.mixup.id)
    }
}

/// An error that the learner's record makes likely: one mix-up of one skill, or one error that shows in several.
#[derive(Clone, Debug, PartialEq)]
pub struct WeakSpot {
    /// Where it shows: the likeliest first, at least one, each skill once.
    pub places: Vec<WeakPlace>,
    /// Suspected or named.
    pub standing: Standing,
    /// How likely it was after the last answer, before the explanation, 0 to 1.
    pub probability: f64,
    /// The day it was first named in one of the skills, if it was named in one.
    pub named_on: Option<Date>,
}

impl WeakSpot {
    /// The error that it is in many skills, if it is one of those.
    #[must_use]
    pub fn common(&self) -> Option<CommonError> {
        self.places.first().and_then(|place| CommonError::of(place.mixup))
    }

    /// Whether it shows in this skill.
    #[must_use]
    pub fn is_in(&self, skill: &str) -> bool {
        self.places.iter().any(|place| place.skill.id == skill)
    }

    /// How often it happened, of the last answers that could show it in any of its skills.
    #[must_use]
    pub fn evidence(&self) -> Tally {
        self.places.iter().fold(Tally { times: 0, of: 0 }, |sum, place| Tally {
            times: sum.times + place.evidence.times,
            of: sum.of + place.evidence.of,
        })
    }

    /// What the learner does, behind "you". No full stop.
    #[must_use]
    pub fn said(&self) -> &'static str {
        match (self.places.as_slice(), self.common()) {
            ([_, _, ..], Some(common)) => common.said(),
            ([place, ..], _) => place.mixup.said,
            ([], _) => "",
        }
    }

    /// What to do instead, a sentence.
    #[must_use]
    pub fn mend(&self) -> &'static str {
        self.places.first().map_or("", |place| place.mixup.mend)
    }
}

/// A skill in which nothing comes right, without a mix-up that would explain it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NoPattern {
    /// The skill.
    pub skill: &'static SkillMeta,
    /// So many answers in a row, none of them right: at least four.
    pub wrong: usize,
}

impl Beliefs {
    /// The named and the suspected weak spots, each error once: named ones first, the likelier first, then in the order of
    /// the registry.
    #[must_use]
    pub fn weak_spots(&self) -> Vec<WeakSpot> {
        let mut spots: Vec<WeakSpot> = Vec::new();
        for common in CommonError::ALL {
            spots.extend(self.common_spot(common));
        }
        let alone = |spot: &WeakSpot| !spots.iter().any(|common| common.common() == spot.common());
        let others: Vec<WeakSpot> = self
            .entries
            .iter()
            .filter_map(Entry::weak_spot)
            .filter(|spot| spot.common().is_none() || alone(spot))
            .collect();
        spots.extend(others);
        // A stable sort, and no probability is NaN. Where two are alike, the registry decides.
        let first = |spot: &WeakSpot| spot.places.first().and_then(|place| self.find(place.skill.id));
        numbers::arrange(&mut spots, |a, b| {
            let likelier = b.standing.cmp(&a.standing).then(b.probability.total_cmp(&a.probability));
            likelier.then_with(|| first(a).cmp(&first(b)))
        });
        spots
    }

    /// The weak spots that were named in what was believed before, and are named no longer.
    #[must_use]
    pub fn ended_since(&self, before: &Beliefs) -> Vec<WeakSpot> {
        let named = |beliefs: &Beliefs| {
            beliefs.weak_spots().into_iter().filter(|spot| spot.standing == Standing::Named).collect::<Vec<_>>()
        };
        let now = named(self);
        let same = |one: &WeakSpot, other: &WeakSpot| match one.common() {
            Some(common) => other.common() == Some(common),
            None => one.places.first().map(WeakPlace::key) == other.places.first().map(WeakPlace::key),
        };
        named(before).into_iter().filter(|spot| !now.iter().any(|other| same(spot, other))).collect()
    }

    /// Skills in which the last four answers or more were wrong, and no weak spot says why.
    #[must_use]
    pub fn without_pattern(&self) -> Vec<NoPattern> {
        let spots = self.weak_spots();
        let lost = self.entries.iter().map(|entry| (entry.meta, entry.belief.wrong_lately()));
        lost.filter(|(skill, wrong)| *wrong >= c::NO_PATTERN_FROM && !spots.iter().any(|spot| spot.is_in(skill.id)))
            .map(|(skill, wrong)| NoPattern { skill, wrong })
            .collect()
    }
}

impl Entry {
    /// How far a mix-up, by its place, is a weak spot here.
    fn standing(&self, mixup: usize) -> Option<Standing> {
        let record = &self.belief.mixups[mixup];
        if record.named.is_some() && self.belief.stands(mixup) {
            return Some(Standing::Named);
        }
        // What is sure has no weak spot; what was named there stands no longer, either.
        (record.reading >= c::SUSPECTED_FROM && !self.belief.is_sure()).then_some(Standing::Suspected)
    }

    /// The skill's weak spot by itself: at most one mix-up can be more likely than not.
    pub(super) fn weak_spot(&self) -> Option<WeakSpot> {
        let records = self.belief.mixups.iter().enumerate();
        let (mixup, record, standing) = records
            .filter_map(|(mixup, record)| Some((mixup, record, self.standing(mixup)?)))
            .max_by(|a, b| a.2.cmp(&b.2).then(a.1.reading.total_cmp(&b.1.reading)))?;
        Some(WeakSpot {
            places: vec![self.place(mixup)],
            standing,
            probability: record.reading,
            named_on: record.named,
        })
    }

    /// The mix-up that was named, and whose end was not said yet: the likeliest.
    pub(super) fn announced(&self) -> Option<usize> {
        let named = (0..self.belief.mixups.len()).filter(|&mixup| self.belief.mixups[mixup].named.is_some());
        named.max_by(|&a, &b| self.belief.mixups[a].reading.total_cmp(&self.belief.mixups[b].reading))
    }

    pub(super) fn place(&self, mixup: usize) -> WeakPlace {
        let meta = &self.meta.mixups[mixup];
        WeakPlace { skill: self.meta, mixup: meta, evidence: self.belief.mixup_lately(meta.id.as_str()) }
    }
}
