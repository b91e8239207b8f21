//! Which problem comes next, and why.

use super::belief::Fading;
use super::beliefs::{Beliefs, Entry};
use super::constants as c;
use super::opening::opening;
use super::reason::Reason;
use super::recent::Recent;
use super::way::{Found, OpenStep, Way};
use super::weak_spot::WeakSpot;
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

/// What decides among the skills that may be chosen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Order {
    /// What each is expected to bring: in drills and rounds.
    #[default]
    Gain,
    /// A newcomer's way: in practice without a drill.
    Way,
}

/// The skills that may be chosen.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Selection {
    /// Each once; of one that occurs twice the first counts. Their order does not matter: ties go by the registry.
    pub skills: Vec<Allowed>,
    /// What decides among them.
    pub order: Order,
}

impl Selection {
    /// These skills, each at the learner's own level, by what each is expected to bring.
    pub fn of<S: Into<Cow<'static, str>>>(skills: impl IntoIterator<Item = S>) -> Selection {
        let skills = skills.into_iter().map(|skill| Allowed { skill: skill.into(), level: None }).collect();
        Selection { skills, order: Order::Gain }
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

/// The skills that may be chosen, by their places in the registry.
#[derive(Debug)]
pub(super) struct Wanted(Vec<Place>);

/// Whether a skill may be chosen.
#[derive(Clone, Copy, Debug)]
enum Place {
    No,
    /// At this level, if it is fixed.
    At(Option<Level>),
}

impl Wanted {
    fn of(beliefs: &Beliefs, selection: &Selection) -> Wanted {
        let mut places = vec![Place::No; beliefs.entries.len()];
        for Allowed { skill, level } in &selection.skills {
            if let Some(at) = beliefs.find(skill)
                && matches!(places[at], Place::No)
            {
                places[at] = Place::At(*level);
            }
        }
        Wanted(places)
    }

    pub fn allows(&self, at: usize) -> bool {
        matches!(self.0[at], Place::At(_))
    }

    /// The places that may be chosen, in the order of the registry.
    pub fn places(&self) -> impl Iterator<Item = usize> {
        (0..self.0.len()).filter(|&at| self.allows(at))
    }

    fn level(&self, at: usize) -> Option<Level> {
        if let Place::At(level) = self.0[at] { level } else { None }
    }
}

/// A skill that was picked.
#[derive(Clone, Copy, Debug)]
pub(super) struct Picked {
    at: usize,
    reason: Reason,
    /// The level, if it is another than the learner's own.
    level: Option<Level>,
}

impl Picked {
    pub const fn new(at: usize, reason: Reason) -> Picked {
        Picked { at, reason, level: None }
    }

    pub const fn at_level(self, level: Level) -> Picked {
        Picked { level: Some(level), ..self }
    }
}

/// Chooses the next problem; `None` if no allowed skill is in the registry.
///
/// Weak spots named on an earlier day open the day. Otherwise a newcomer's way decides, or the largest gain, whose largest part is
/// the reason. After two wrong answers in a row the next problem of a skill is easier, and begins with the example.
#[must_use]
pub fn choose(beliefs: &Beliefs, selection: &Selection, day: Date, recent: &Recent) -> Option<Choice> {
    let wanted = Wanted::of(beliefs, selection);
    let way = (selection.order == Order::Way).then(|| Way::of(beliefs, &wanted));
    let Picked { at, reason, level } = match (opening(beliefs, &wanted, day), &way) {
        (Some(opening), _) => opening,
        (None, Some(way)) => way.pick(day, recent)?,
        (None, None) => by_gain(beliefs, &wanted, day, recent)?,
    };
    let Entry { meta, belief, .. } = &beliefs.entries[at];
    let expose = match reason {
        Reason::WeakSpot { mixup, .. } | Reason::WasWeakSpot { mixup } => Some(mixup),
        _ => None,
    };
    let own = level.unwrap_or_else(|| way.as_ref().map_or(belief.level(), |way| way.level(at)));
    let lost = recent.wrong_in_a_row(meta.id).filter(|(times, _)| *times >= c::EASIER_AFTER);
    let (own, reason, fading) = match (lost, reason) {
        (_, Reason::Placing) => (own, reason, Fading::Bare),
        // Not where something was promised.
        (Some((_, last)), reason) if !reason.is_promised() => (
            own.min(last.easier()),
            Reason::TwoWrong { easier: last > Level::ONE && wanted.level(at).is_none() },
            Fading::Example,
        ),
        _ => (own, reason, belief.fading()),
    };
    Some(Choice { skill: meta, level: wanted.level(at).unwrap_or(own), reason, expose, fading })
}

/// The skill that promises the largest gain.
fn by_gain(beliefs: &Beliefs, wanted: &Wanted, day: Date, recent: &Recent) -> Option<Picked> {
    let mut best: Option<(usize, Gain)> = None;
    for at in wanted.places() {
        let gain = gain_at(beliefs, at, day, recent);
        if best.is_none_or(|(_, most)| gain.total() > most.total()) {
            best = Some((at, gain));
        }
    }
    let (at, gain) = best?;
    Some(Picked::new(at, reason(&beliefs.entries[at], &gain, day, wanted.places().count() == 1)))
}

/// What was found of a learner who has done this before, when it is found: a sentence.
#[must_use]
pub fn found(beliefs: &Beliefs, selection: &Selection) -> Option<Found> {
    Way::found(beliefs, &Wanted::of(beliefs, selection))
}

/// The last step that is open on a newcomer's way.
#[must_use]
pub fn open_step(beliefs: &Beliefs, selection: &Selection) -> OpenStep {
    Way::of(beliefs, &Wanted::of(beliefs, selection)).open_step()
}

/// The next skill that a newcomer's way brings; none when no other is open.
#[must_use]
pub fn next_new(beliefs: &Beliefs, selection: &Selection) -> Option<&'static SkillMeta> {
    let wanted = Wanted::of(beliefs, selection);
    Way::of(beliefs, &wanted).next_new().map(|at| beliefs.entries[at].meta)
}

/// What a problem of this skill is expected to bring; `None` if it is not in the registry.
#[must_use]
pub fn gain(beliefs: &Beliefs, skill: &str, day: Date, recent: &Recent) -> Option<Gain> {
    beliefs.find(skill).map(|at| gain_at(beliefs, at, day, recent))
}

/// Known and rusty are taken as of the last answer: what time may have taken since is the third part.
pub(super) fn gain_at(beliefs: &Beliefs, at: usize, day: Date, recent: &Recent) -> Gain {
    let Entry { belief, prerequisites, dependents, .. } = &beliefs.entries[at];
    let entry = |&at: &usize| &beliefs.entries[at].belief;
    let open = dependents.iter().filter(|&at| entry(at).known() < c::DEPENDENT_BELOW).count();
    let wanted = 1.0 + c::DEPENDENT_WEIGHT * real(open);
    let weakest = prerequisites.iter().map(|at| entry(at).strength()).fold(f64::INFINITY, f64::min);
    let ready = ((weakest - c::READY_FROM) / c::READY_SPAN).clamp(c::READY_LEAST, 1.0);
    let mixing = if recent.last() == Some(belief.id()) {
        let just_wrong = recent.wrong_in_a_row(belief.id()).is_some();
        if just_wrong && belief.count_on(day) < c::SAME_AFTER_WRONG_MOST {
            c::SAME_AFTER_WRONG
        } else {
            c::SAME_AS_LAST
        }
    } else if recent.before_last() == Some(belief.id()) {
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

/// The largest part of the gain, in words. A weak spot is worth saying even where there was no choice, since the problem
/// is then aimed at it.
pub(super) fn reason(entry: &Entry, gain: &Gain, day: Date, alone: bool) -> Reason {
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
