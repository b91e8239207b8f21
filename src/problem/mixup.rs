//! The mix-ups of one problem: each declared once, with its formula and its way of working.

use super::{Answer, MixupMeta, Question};
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

    /// The places of those that nothing else could be taken for: all of them in most items. Where two collide, neither
    /// names a cause.
    pub(super) fn apart(&self, question: &Question, right: &Answer) -> SmallVec<[usize; 8]> {
        let mut alone: SmallVec<[bool; 8]> =
            self.listed.iter().map(|mixup| question.apart(&mixup.answer, right)).collect();
        for (at, one) in self.listed.iter().enumerate() {
            for (other_at, other) in self.listed.iter().enumerate().skip(at + 1) {
                if (alone[at] || alone[other_at]) && !question.apart(&other.answer, &one.answer) {
                    (alone[at], alone[other_at]) = (false, false);
                }
            }
        }
        (0..alone.len()).filter(|at| alone[*at]).collect()
    }

    /// The answer of the entry at this place.
    pub(super) fn answer(&self, place: usize) -> &Answer {
        &self.listed[place].answer
    }

    /// How many were added.
    pub(super) fn len(&self) -> usize {
        self.listed.len()
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
