//! Errors that are one error in many skills, and what the answers of all of them say together.
//!
//! Worked out when it is read, from the answers that each skill's summary keeps: a commit writes one skill's summary and has
//! no room for more.

use super::beliefs::{Beliefs, Entry};
use super::constants as c;
use super::filter::{Seen, bit};
use super::weak_spot::{Standing, WeakSpot};
use crate::numbers;
use crate::numbers::real;
use crate::problem::{MixupClass, MixupMeta};

/// One error that shows in many skills.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CommonError {
    /// The declination, or the angle between two other norths, applied the wrong way round.
    WrongWay,
    /// The same left out.
    LeftOut,
    /// The wrong end of needle, arrow or line: 180° away.
    WrongEnd,
}

impl CommonError {
    /// All of them.
    pub const ALL: [CommonError; 3] = [CommonError::WrongWay, CommonError::LeftOut, CommonError::WrongEnd];

    /// The one that a mix-up is.
    #[must_use]
    pub fn of(mixup: &MixupMeta) -> Option<CommonError> {
        match (mixup.id.as_str(), mixup.class) {
            ("sign-flipped", _) => Some(CommonError::WrongWay),
            ("not-applied", _) => Some(CommonError::LeftOut),
            (_, MixupClass::Reversed) => Some(CommonError::WrongEnd),
            _ => None,
        }
    }

    /// Its id in reports.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            CommonError::WrongWay => "declination-wrong-way",
            CommonError::LeftOut => "declination-left-out",
            CommonError::WrongEnd => "wrong-end",
        }
    }

    /// Its name on screens, sentence case.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            CommonError::WrongWay => "Declination the wrong way",
            CommonError::LeftOut => "Declination left out",
            CommonError::WrongEnd => "The wrong end",
        }
    }

    /// What somebody does, behind "you". No full stop.
    #[must_use]
    pub const fn said(self) -> &'static str {
        match self {
            CommonError::WrongWay => "applied the correction the wrong way round",
            CommonError::LeftOut => "left the correction out",
            CommonError::WrongEnd => "took the opposite end, 180° away",
        }
    }
}

/// What one skill says of a common error.
#[derive(Clone, Copy, Debug)]
struct Said {
    /// How often the error's answer came and was not worked off.
    times: usize,
    /// The mix-up's place, of the latest such answer.
    mixup: Option<usize>,
    /// Log of how much likelier the answers are by this error than by errors of all sorts.
    weight: f64,
}

impl Beliefs {
    /// A common error as one weak spot: what its skills say together, or, where they do not say enough together, the skills in
    /// which it is a weak spot by itself.
    pub(super) fn common_spot(&self, common: CommonError) -> Option<WeakSpot> {
        let said: Vec<(&Entry, Said)> =
            self.entries.iter().filter_map(|entry| Some((entry, said(entry, common)?))).collect();
        let skills = said.iter().filter(|(_, said)| said.times > 0).count();
        let times: usize = said.iter().map(|(_, said)| said.times).sum();
        let odds = c::COMMON_PRIOR_ODDS.ln() + said.iter().map(|(_, said)| said.weight).sum::<f64>();
        let together = 1.0 / (1.0 + (-odds).exp());
        let standing = match together {
            _ if skills < c::COMMON_SKILLS => None,
            likely if likely >= c::NAMED_FROM && times >= c::COMMON_NAMED_TIMES => Some(Standing::Named),
            likely if likely >= c::SUSPECTED_FROM => Some(Standing::Suspected),
            _ => None,
        };
        // By themselves, whatever they say together.
        let alone: Vec<(usize, WeakSpot)> = self
            .entries
            .iter()
            .enumerate()
            .filter_map(|(at, entry)| Some((at, entry.weak_spot()?)))
            .filter(|(_, spot)| spot.common() == Some(common))
            .collect();
        if standing.is_none() && alone.len() < c::COMMON_SKILLS {
            return None;
        }
        let mut places: Vec<_> = alone.iter().flat_map(|(_, spot)| spot.places.clone()).collect();
        if standing.is_some() {
            for (entry, said) in &said {
                let known = places.iter().any(|place| place.skill.id == entry.meta.id);
                places.extend(said.mixup.filter(|_| !known).map(|mixup| entry.place(mixup)));
            }
        }
        // The most answers first; a stable sort keeps the order of the registry.
        numbers::arrange_by_key(&mut places, |place| std::cmp::Reverse(place.evidence.times));
        let probability = alone.iter().map(|(_, spot)| spot.probability).fold(0.0, f64::max);
        Some(WeakSpot {
            standing: alone.iter().map(|(_, spot)| spot.standing).chain(standing).max()?,
            probability: if standing.is_some() { probability.max(together) } else { probability },
            named_on: alone.iter().filter_map(|(_, spot)| spot.named_on).min(),
            places,
        })
    }
}

/// What a skill says by those of its last answers that were not worked off: since it was last paid for. None when there is no
/// such answer, and of a skill that is sure: there it was a slip.
fn said(entry: &Entry, common: CommonError) -> Option<Said> {
    let mixups: Vec<usize> =
        (0..entry.meta.mixups.len()).filter(|&k| CommonError::of(&entry.meta.mixups[k]) == Some(common)).collect();
    if mixups.is_empty() || entry.belief.count() == 0 || entry.belief.is_sure() {
        return None;
    }
    let nothing = Said { times: 0, mixup: None, weight: 0.0 };
    let (mut owed, mut found) = (0_u8, nothing);
    for logged in &entry.belief.log {
        let own = mixups.iter().filter(|&&k| bit(logged.exposed, k)).count();
        if own == 0 {
            continue;
        }
        let (own, all) = (real(own), f64::from(logged.exposed.count_ones()));
        let (rates, shared) = (&c::RATES, |of: f64| of / all);
        let likelier = match logged.seen {
            // A right answer speaks for one who has learnt it since, after an explanation.
            Seen::Right => rates.mixed_up.right / rates.known.right,
            Seen::Mixup(k) if mixups.contains(&k) => {
                (rates.own + own * shared(rates.mixed_up.shared)) / (own * shared(rates.not_yet.shared))
            }
            Seen::Mixup(_) => rates.mixed_up.shared / rates.not_yet.shared,
            Seen::Other => rates.mixed_up.other / rates.not_yet.other,
        };
        if logged.seen == Seen::Right {
            owed = owed.saturating_sub(1);
        } else {
            owed = (owed + c::OWED_BY_MIXUP).min(c::OWED_MOST);
        }
        if owed == 0 {
            found = nothing;
            continue;
        }
        found.weight += likelier.ln();
        if let Seen::Mixup(k) = logged.seen
            && mixups.contains(&k)
        {
            (found.times, found.mixup) = (found.times + 1, Some(k));
        }
    }
    // What goes wrong otherwise in one skill must not outweigh what shows in the others.
    found.weight = found.weight.max(c::COMMON_AGAINST_MOST);
    (owed > 0).then_some(found)
}
