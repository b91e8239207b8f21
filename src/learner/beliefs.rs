//! All that is believed of one learner.

use super::belief::{MixupRecord, Read, SkillBelief};
use super::constants as c;
use super::evidence::{Change, Evidence, Outcome};
use super::filter::{Chances, MIXUPS_MOST, Seen, bit};
use crate::numbers::real;
use crate::problem::{Level, MixupMeta, SkillMeta};
use jiff::civil::Date;
use std::borrow::Cow;

/// What a learner says before the first problem.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Placement {
    /// New to all this: level 1.
    #[default]
    Fresh,
    /// Has done this before: starts at level 3 and steps down in drills; in practice a few problems find out where to begin.
    DoneBefore,
}

impl Placement {
    const fn level(self) -> Level {
        match self {
            Placement::Fresh => Level::ONE,
            Placement::DoneBefore => Level::THREE,
        }
    }

    const fn known(self) -> f64 {
        match self {
            Placement::Fresh => c::PRIOR_KNOWN,
            Placement::DoneBefore => c::PRIOR_KNOWN_DONE_BEFORE,
        }
    }
}

/// One skill of the registry with its belief.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Entry {
    pub meta: &'static SkillMeta,
    pub belief: SkillBelief,
    /// Places of its prerequisites; ids that are not in the registry are left out.
    pub prerequisites: Vec<usize>,
    /// Places of the skills that name it as a prerequisite.
    pub dependents: Vec<usize>,
}

/// What is believed of one learner, for all skills of the registry.
#[derive(Clone, Debug, PartialEq)]
pub struct Beliefs {
    placement: Placement,
    pub(super) entries: Vec<Entry>,
    /// Sorted by id.
    by_id: Vec<(&'static str, usize)>,
    /// The highest reading per class of mix-up, by the class's number; it is carried over to skills not yet met.
    peaks: [f64; CLASSES_MOST],
}

/// Room for the classes of mix-ups; a test holds the registry to it.
pub(super) const CLASSES_MOST: usize = 16;

impl Beliefs {
    /// Before the first answer. A skill that occurs twice is taken once.
    ///
    /// # Panics
    /// When a skill has more mix-ups than the filter has room for: silently leaving some out would be worse, and the
    /// registry is a constant that the tests go through.
    #[must_use]
    pub fn new(skills: &[&'static SkillMeta], placement: Placement) -> Beliefs {
        let mut beliefs =
            Beliefs { placement, entries: Vec::with_capacity(skills.len()), by_id: Vec::new(), peaks: [0.0; _] };
        for &meta in skills {
            if let Err(at) = beliefs.by_id.binary_search_by_key(&meta.id, |&(id, _)| id) {
                beliefs.by_id.insert(at, (meta.id, beliefs.entries.len()));
                assert!(meta.mixups.len() <= MIXUPS_MOST, "{} has more than {MIXUPS_MOST} mix-ups", meta.id);
                let weights = vec![1.0; meta.mixups.len()];
                let belief = SkillBelief::unmet(meta, placement.known(), &weights, placement.level());
                beliefs.entries.push(Entry { meta, belief, prerequisites: Vec::new(), dependents: Vec::new() });
            }
        }
        for at in 0..beliefs.entries.len() {
            for id in beliefs.entries[at].meta.prerequisites {
                if let Some(before) = beliefs.find(id)
                    && before != at
                {
                    beliefs.entries[at].prerequisites.push(before);
                    beliefs.entries[before].dependents.push(at);
                }
            }
        }
        beliefs
    }

    /// Puts back a belief that was written down. It is fitted to the registry by ids: what a mix-up that no longer exists
    /// held goes to not yet, a new mix-up gets what the spread of the learning step would have given it. A belief about a skill
    /// that is not in the registry is passed over.
    pub fn restore(&mut self, belief: SkillBelief) {
        let Some(at) = self.find(&belief.skill) else { return };
        let entry = &mut self.entries[at];
        entry.belief = fitted(entry.meta, belief);
        let unmet = entry.belief.count == 0;
        let before = std::mem::replace(&mut self.peaks, [0.0; _]);
        for at in 0..self.entries.len() {
            self.raise_peaks(at);
        }
        if unmet || self.peaks != before {
            self.weigh_unmet();
        }
    }

    /// Folds one answer in; `None` for a skill that is not in the registry.
    pub fn observe(&mut self, evidence: &Evidence) -> Option<Change> {
        let at = self.find(evidence.skill)?;
        let entry = &mut self.entries[at];
        let belief = &mut entry.belief;
        let seen = match evidence.outcome {
            Outcome::Right => Seen::Right,
            Outcome::Mixup(id) => belief.place(id).map_or(Seen::Other, Seen::Mixup),
            Outcome::Other => Seen::Other,
        };
        let mut exposed = 0;
        for place in evidence.exposed.iter().filter_map(|id| belief.place(id)) {
            exposed |= 1 << place;
        }
        if let Seen::Mixup(place) = seen {
            // An answer that was recognised was exposed, whatever the list says.
            exposed |= 1 << place;
        }
        let (level_before, known_before) = (belief.level(), belief.known());
        let Evidence { day, level, hinted, explained, .. } = *evidence;
        let Read { suspected, named, cleared } = belief.take(day, level, seen, exposed, hinted, explained);
        let mixup = |place: Option<usize>| place.and_then(|k| entry.meta.mixups.get(k));
        let change = Change {
            suspected: mixup(suspected),
            named: mixup(named),
            cleared: mixup(cleared),
            level_before,
            level: belief.level(),
            known_before,
            known: belief.known(),
        };
        if self.raise_peaks(at) {
            self.weigh_unmet();
        }
        Some(change)
    }

    /// The belief about one skill; `None` if it is not in the registry. A skill not met yet has its prior.
    #[must_use]
    pub fn skill(&self, id: &str) -> Option<&SkillBelief> {
        self.find(id).map(|at| &self.entries[at].belief)
    }

    /// All skills with their beliefs, in the order of the registry.
    pub fn iter(&self) -> impl Iterator<Item = (&'static SkillMeta, &SkillBelief)> {
        self.entries.iter().map(|entry| (entry.meta, &entry.belief))
    }

    /// The first day on which something met is due again; `None` when nothing was met.
    #[must_use]
    pub fn return_on(&self) -> Option<Date> {
        self.entries.iter().filter_map(|entry| entry.belief.due()).min()
    }

    /// What the learner said before the first problem.
    pub(super) const fn placement(&self) -> Placement {
        self.placement
    }

    /// The place of a skill in the registry.
    pub(super) fn find(&self, id: &str) -> Option<usize> {
        self.by_id.binary_search_by_key(&id, |&(id, _)| id).ok().map(|at| self.by_id[at].1)
    }

    /// Takes the peaks of one skill into the peaks of the classes; says whether one rose.
    fn raise_peaks(&mut self, at: usize) -> bool {
        let Entry { meta, belief, .. } = &self.entries[at];
        let mut rose = false;
        for (mixup, record) in meta.mixups.iter().zip(&belief.mixups) {
            if let Some(peak) = self.peaks.get_mut(mixup.class as usize)
                && record.peak > *peak
            {
                *peak = record.peak;
                rose = true;
            }
        }
        rose
    }

    /// Carry over: what was seen of a class elsewhere makes it likelier in a skill not yet met.
    fn weigh_unmet(&mut self) {
        let peaks = self.peaks;
        let weight =
            |mixup: &MixupMeta| 1.0 + c::CLASS_WEIGHT * peaks.get(mixup.class as usize).copied().unwrap_or(0.0);
        for Entry { meta, belief, .. } in self.entries.iter_mut().filter(|entry| entry.belief.count == 0) {
            // From the prior each time: the same peaks give the same bits, whichever way they were reached.
            let weights: Vec<f64> = meta.mixups.iter().map(weight).collect();
            belief.chances = Chances::prior(self.placement.known(), &weights);
        }
    }
}

/// A belief in the order of the registry's mix-ups, with those and only those.
fn fitted(meta: &'static SkillMeta, old: SkillBelief) -> SkillBelief {
    let same = meta.mixups.len() == old.mixups.len()
        && meta.mixups.iter().zip(&old.mixups).all(|(mixup, record)| mixup.id.as_str() == record.id);
    let mut belief = old;
    belief.skill = Cow::Borrowed(meta.id);
    if same {
        for (record, mixup) in belief.mixups.iter_mut().zip(meta.mixups) {
            record.id = Cow::Borrowed(mixup.id.as_str());
        }
        return belief;
    }
    let mut fresh = SkillBelief::unmet(meta, c::PRIOR_KNOWN, &vec![1.0; meta.mixups.len()], Level::ONE);
    let spread = c::RATES.spread * belief.chances.unlearnt() / real(fresh.mixups.len() + 1);
    let mut places = vec![None; belief.mixups.len()];
    let mut chances = Chances { mixups: Vec::new(), ..belief.chances.clone() };
    for (to, record) in fresh.mixups.iter_mut().enumerate() {
        let from = belief.place(&record.id);
        chances.mixups.push(from.map_or(spread, |from| belief.chances.mixups[from]));
        if let Some(from) = from {
            places[from] = Some(to);
            let MixupRecord { reading, peak, named, .. } = belief.mixups[from];
            *record = MixupRecord { id: record.id.clone(), reading, peak, named };
        }
    }
    let lost = belief.chances.mixups.iter().zip(&places).filter(|(_, to)| to.is_none());
    chances.not_yet += lost.map(|(chance, _)| chance).sum::<f64>();
    chances.normalise();
    for logged in &mut belief.log {
        if let Seen::Mixup(from) = logged.seen {
            logged.seen = places[from].map_or(Seen::Other, Seen::Mixup);
        }
        let moved = places.iter().enumerate().filter(|&(from, _)| bit(logged.exposed, from)).filter_map(|(_, to)| *to);
        logged.exposed = moved.fold(0, |bits, to| bits | 1 << to);
    }
    SkillBelief { chances, mixups: fresh.mixups, ..belief }
}
