//! The mix-ups of one problem: each declared once, with its formula and its way of working.

use super::glance::Glance;
use super::{Answer, MixupMeta, OtherWay, Question};
use smallvec::SmallVec;

/// A wrong answer with one name.
#[derive(Clone, Debug, PartialEq)]
pub struct Mixup {
    /// The mix-up.
    pub meta: &'static MixupMeta,
    /// What it answers here.
    pub answer: Answer,
}

/// What a generator says its mix-ups to: `list.push(&SIGN_FLIPPED, answer, || way)`.
///
/// The formula and the way of working stand in one line of the skill. The way is put into words only when somebody
/// has given that very answer, so that drawing a problem costs no text. Static tables of functions could not join the
/// mix-ups of number and hands in one skill.
#[derive(Debug, Default)]
pub struct MixupList {
    listed: SmallVec<[Mixup; 8]>,
    wanted: Option<usize>,
    way: Option<String>,
}

/// Which of the entries of a list can be told.
#[derive(Debug)]
pub(super) struct Told {
    /// Their places in the list.
    pub places: SmallVec<[usize; 8]>,
    /// Whether no two entries collide with one another or with the right answer.
    pub whole: bool,
}

impl MixupList {
    /// Adds a wrong answer, and how one comes to it: `048 − 17 = 031`. A generator adds all its formulas; collisions are dealt
    /// with by [`realise`](super::realise). A mix-up with several answers is added once for each.
    pub fn push<W: ToString>(&mut self, meta: &'static MixupMeta, answer: Answer, way: impl FnOnce() -> W) {
        if self.add(meta, answer) {
            self.way = Some(way().to_string());
        }
    }

    /// Adds it; whether its way is wanted. Apart from the many ways, so that it is there once.
    #[inline(never)]
    fn add(&mut self, meta: &'static MixupMeta, answer: Answer) -> bool {
        let place = self.listed.len();
        self.listed.push(Mixup { meta, answer });
        self.wanted == Some(place)
    }

    /// The answers that were added for a mix-up.
    #[cfg(test)]
    pub fn listed_for(&self, id: super::MixupId) -> impl Iterator<Item = &Answer> {
        self.listed.iter().filter(move |mixup| mixup.meta.id == id).map(|mixup| &mixup.answer)
    }

    /// A list that puts one way into words: that of the entry at this place.
    pub(super) fn wanting(place: usize) -> MixupList {
        MixupList { wanted: Some(place), ..MixupList::default() }
    }

    /// The way that was wanted.
    pub(super) fn into_way(self) -> Option<String> {
        self.way
    }

    /// What can be told: the places of the entries that nothing else could be taken for, which in most items are all of them. Where
    /// two collide, neither names a cause; what is right in another way is no mix-up.
    pub(super) fn told(&self, question: &Question, right: &Answer, other_ways: &[OtherWay]) -> Told {
        let right = question.glance(right);
        let mut seen: SmallVec<[Glance<'_>; 16]> = SmallVec::with_capacity(self.listed.len());
        seen.extend(self.listed.iter().map(|mixup| question.glance(&mixup.answer)));
        let mut alone: SmallVec<[bool; 32]> = seen.iter().map(|one| question.apart_at_a_glance(one, &right)).collect();
        for at in 0..seen.len() {
            for other_at in at + 1..seen.len() {
                if (alone[at] || alone[other_at]) && !question.apart_at_a_glance(&seen[other_at], &seen[at]) {
                    (alone[at], alone[other_at]) = (false, false);
                }
            }
        }
        let whole = !alone.contains(&false);
        for other in other_ways {
            let other = question.glance(&other.answer);
            for (alone, one) in alone.iter_mut().zip(&seen) {
                *alone = *alone && question.apart_at_a_glance(one, &other);
            }
        }
        Told { places: (0..alone.len()).filter(|at| alone[*at]).collect(), whole }
    }

    /// The entries at these places.
    pub(super) fn keep(self, places: &[usize]) -> Vec<Mixup> {
        if places.len() == self.listed.len() {
            return self.listed.into_vec();
        }
        let mut kept = Vec::with_capacity(places.len());
        kept.extend(self.listed.into_iter().enumerate().filter(|(at, _)| places.contains(at)).map(|(_, mixup)| mixup));
        kept
    }
}
