//! Which problem comes next, and why.

use super::belief::Fading;
use super::beliefs::{Beliefs, Entry};
use super::constants as c;
use super::reason::Reason;
use super::weak_spot::{Standing, WeakSpot};
use crate::numbers::real;
use crate::problem::{Level, MixupMeta, SkillMeta};
use jiff::civil::Date;
use std::borrow::Cow;

/// A skill that may be chosen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Allowed {
    /// Its id; one that is not in the registry is passed over.
    pub skill: Cow<'static, str>,
    /// The level, if it is fixed; else the learner's own.
    pub level: Option<Level>,
}

/// The skills that may be chosen.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Selection {
    /// Each once; of one that occurs twice the first counts. The order does not matter: ties go by the registry.
    pub skills: Vec<Allowed>,
}

impl Selection {
    /// These skills, each at the learner's own level.
    pub fn of<S: Into<Cow<'static, str>>>(skills: impl IntoIterator<Item = S>) -> Selection {
        Selection { skills: skills.into_iter().map(|skill| Allowed { skill: skill.into(), level: None }).collect() }
    }
}

/// The skills of the last two problems.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Recent {
    last: Option<Cow<'static, str>>,
    before_last: Option<Cow<'static, str>>,
    just_wrong: bool,
}

impl Recent {
    /// Notes an answered problem.
    pub fn answered(&mut self, skill: impl Into<Cow<'static, str>>, right: bool) {
        self.before_last = self.last.replace(skill.into());
        self.just_wrong = !right;
    }
}

/// What a problem of a skill is expected to bring, in parts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gain {
    /// From what is not known yet: w · ρ · .20 · (not yet + mix-ups).
    pub learn: f64,
    /// From what is rusty: .60 · rusty.
    pub refresh: f64,
    /// From what may be forgotten since the last day: .4 · known · (1 − r).
    pub repeat: f64,
    /// For mixing skills: the factor for one met just now.
    pub mixing: f64,
}

impl Gain {
    /// All together.
    #[must_use]
    pub fn total(&self) -> f64 {
        self.mixing * (self.learn + self.refresh + self.repeat)
    }
}

/// The next problem.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Choice {
    /// Its skill.
    pub skill: &'static SkillMeta,
    /// Its level.
    pub level: Level,
    /// Why this one.
    pub reason: Reason,
    /// The mix-up that the problem should expose, if it is aimed at one: draw seeds until an item does.
    pub expose: Option<&'static MixupMeta>,
    /// How much of a worked example goes with it.
    pub fading: Fading,
}

/// Chooses the next problem; `None` if no allowed skill is in the registry.
///
/// Weak spots named on an earlier day open the day. Otherwise the largest gain wins, and its largest part is the reason.
#[must_use]
pub fn choose(beliefs: &Beliefs, selection: &Selection, day: Date, recent: &Recent) -> Option<Choice> {
    let mut allowed: Vec<Option<Option<Level>>> = vec![None; beliefs.entries.len()];
    for Allowed { skill, level } in &selection.skills {
        if let Some(at) = beliefs.find(skill) {
            allowed[at].get_or_insert(*level);
        }
    }
    let (at, reason) = match opening(beliefs, &allowed, day) {
        Some(opening) => opening,
        None => {
            let mut best: Option<(usize, Gain)> = None;
            for at in (0..allowed.len()).filter(|&at| allowed[at].is_some()) {
                let gain = gain_at(beliefs, at, day, recent);
                if best.is_none_or(|(_, most)| gain.total() > most.total()) {
                    best = Some((at, gain));
                }
            }
            let (at, gain) = best?;
            let alone = allowed.iter().flatten().count() == 1;
            (at, reason(&beliefs.entries[at], &gain, day, alone))
        }
    };
    let Entry { meta, belief, .. } = &beliefs.entries[at];
    let expose = match reason {
        Reason::WeakSpot { mixup, .. } | Reason::WasWeakSpot { mixup } => Some(mixup),
        _ => None,
    };
    let level = allowed[at].flatten().unwrap_or(belief.level());
    Some(Choice { skill: meta, level, reason, expose, fading: belief.fading() })
}

/// What a problem of this skill is expected to bring; `None` if it is not in the registry.
#[must_use]
pub fn gain(beliefs: &Beliefs, skill: &str, day: Date, recent: &Recent) -> Option<Gain> {
    beliefs.find(skill).map(|at| gain_at(beliefs, at, day, recent))
}

/// Known and rusty are taken as of the last answer: what time may have taken since is the third part.
fn gain_at(beliefs: &Beliefs, at: usize, day: Date, recent: &Recent) -> Gain {
    let Entry { belief, prerequisites, dependents, .. } = &beliefs.entries[at];
    let entry = |&at: &usize| &beliefs.entries[at].belief;
    let open = dependents.iter().filter(|&at| entry(at).known() < c::DEPENDENT_BELOW).count();
    let wanted = 1.0 + c::DEPENDENT_WEIGHT * real(open);
    let weakest = prerequisites.iter().map(|at| entry(at).strength()).fold(f64::INFINITY, f64::min);
    let ready = ((weakest - c::READY_FROM) / c::READY_SPAN).clamp(c::READY_LEAST, 1.0);
    let is = |skill: &Option<Cow<'static, str>>| skill.as_deref() == Some(belief.id());
    let mixing = if is(&recent.last) {
        if recent.just_wrong && belief.count_on(day) < c::SAME_AFTER_WRONG_MOST {
            c::SAME_AFTER_WRONG
        } else {
            c::SAME_AS_LAST
        }
    } else if is(&recent.before_last) {
        c::BEFORE_LAST
    } else {
        1.0
    };
    Gain {
        learn: wanted * ready * c::RATES.learn * belief.chances.unlearnt(),
        refresh: c::RATES.refresh * belief.rusty(),
        // Zero of itself on the day it was met, and when it was never met.
        repeat: c::REPEAT_WEIGHT * belief.known() * (1.0 - belief.recall(day)),
        mixing,
    }
}

/// A weak spot named and not since ended, in a skill not practised today, opens the day: the likeliest first, each after its
/// weakest prerequisite if that is weak and was not met today. A common error opens it with one of its skills.
#[expect(clippy::option_option, reason = "a skill that is not allowed, one at any level, one at a level")]
fn opening(beliefs: &Beliefs, allowed: &[Option<Option<Level>>], day: Date) -> Option<(usize, Reason)> {
    // A check alone does not count: there nothing was opened.
    let waits = |at: usize| {
        let belief = &beliefs.entries[at].belief;
        allowed[at].is_some() && belief.count() > 0 && belief.practised.is_none_or(|last| last < day)
    };
    let mut first: Option<(usize, &'static MixupMeta, f64, bool)> = None;
    let mut likelier = |at: usize, mixup, probability: f64, stands: bool| {
        if first.is_none_or(|(_, _, before, _)| probability > before) {
            first = Some((at, mixup, probability, stands));
        }
    };
    for at in (0..allowed.len()).filter(|&at| waits(at)) {
        let Entry { meta, belief, .. } = &beliefs.entries[at];
        if let Some(mixup) = beliefs.entries[at].announced() {
            likelier(at, &meta.mixups[mixup], belief.mixups[mixup].reading, belief.stands(mixup));
        }
    }
    let mut common = beliefs.weak_spots();
    common.retain(|spot| spot.standing == Standing::Named && spot.places.len() > 1);
    for spot in &common {
        let places = || spot.places.iter().filter_map(|place| Some((beliefs.find(place.skill.id)?, place.mixup)));
        if places().all(|(at, _)| !beliefs.entries[at].belief.practised_on(day))
            && let Some((at, mixup)) = places().find(|&(at, _)| waits(at))
        {
            likelier(at, mixup, spot.probability, true);
        }
    }
    let (at, mixup, _, stands) = first?;
    let belief = |at: usize| &beliefs.entries[at].belief;
    let before = beliefs.entries[at]
        .prerequisites
        .iter()
        .copied()
        // One never met is not known to be weak; it must not stand before what was promised.
        .filter(|&before| belief(before).count() > 0)
        .min_by(|&a, &b| belief(a).strength().total_cmp(&belief(b).strength()))
        .filter(|&before| belief(before).strength() < c::OPENING_PREREQUISITE_BELOW)
        .filter(|&before| allowed[before].is_some() && belief(before).count_on(day) == 0);
    // The prerequisite may itself be one of the skills in which the same error shows: then it is that which is worked on.
    let shared = |before: usize| {
        let (here, there) = (beliefs.entries[at].meta.id, beliefs.entries[before].meta.id);
        let spot = common.iter().find(|spot| spot.is_in(here) && spot.is_in(there))?;
        spot.places.iter().find(|place| place.skill.id == there).map(|place| place.mixup)
    };
    Some(match before {
        _ if !stands => (at, Reason::WasWeakSpot { mixup }),
        Some(before) => match shared(before) {
            Some(mixup) => (before, Reason::WeakSpot { mixup, standing: Standing::Named }),
            None => (before, Reason::PrerequisiteOf { skill: beliefs.entries[at].meta, mixup }),
        },
        None => (at, Reason::WeakSpot { mixup, standing: Standing::Named }),
    })
}

/// The largest part of the gain, in words. A weak spot is worth saying even where there was no choice, since the problem
/// is then aimed at it.
fn reason(entry: &Entry, gain: &Gain, day: Date, alone: bool) -> Reason {
    let learning = gain.learn >= gain.refresh && gain.learn >= gain.repeat;
    match entry.weak_spot() {
        Some(WeakSpot { places, standing, .. }) if learning && let [place] = places[..] => {
            Reason::WeakSpot { mixup: place.mixup, standing }
        }
        _ if alone => Reason::AskedByDrill,
        _ if entry.belief.count() == 0 => Reason::NotMetYet,
        _ if !learning && entry.belief.days_since(day) > 0 => {
            Reason::WorthRepeating { days: entry.belief.days_since(day) }
        }
        _ => Reason::Practising,
    }
}
