//! What a plan does to somebody with a given chance of a right answer, exactly.

use super::bounds::{Bounds, Decision};

/// What becomes of somebody who answers each problem right with the same chance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outcome {
    /// The chance to be found ready, 0 to 1.
    pub ready: f64,
    /// How many problems are asked on average.
    pub items: f64,
}

impl Bounds {
    /// What one try does to somebody with this chance of a right answer, 0 to 1.
    #[must_use]
    pub fn outcome(&self, chance: f64) -> Outcome {
        // The chance to be on the way with so many right, problem after problem.
        let mut on_the_way = vec![1.0];
        let (mut ready, mut items) = (0.0, 0.0);
        for asked in 1..=self.cap() {
            items += on_the_way.iter().sum::<f64>();
            let mut next = vec![0.0; usize::from(asked) + 1];
            for (right, here) in on_the_way.iter().enumerate() {
                next[right] += here * (1.0 - chance);
                next[right + 1] += here * chance;
            }
            for (right, here) in (0..=asked).zip(&mut next) {
                match self.decide(asked, right) {
                    Decision::GoOn => {}
                    Decision::Ready => {
                        ready += *here;
                        *here = 0.0;
                    }
                    Decision::Stop => *here = 0.0,
                }
            }
            on_the_way = next;
        }
        Outcome { ready, items }
    }

    /// The chance that one try finds somebody with this chance of a right answer ready when so many of its answers are annulled,
    /// each of them wrong: the first ones, which is no worse choice than any other.
    #[must_use]
    pub fn ready_with_annulled(&self, chance: f64, annulled: u8) -> f64 {
        let most = usize::from(annulled);
        // The chance to be on the way, by how many were annulled and how many are right.
        let mut on_the_way = vec![vec![0.0]; most + 1];
        on_the_way[0][0] = 1.0;
        let mut ready = 0.0;
        for asked in 1..=self.cap() {
            let mut next = vec![vec![0.0; usize::from(asked) + 1]; most + 1];
            for used in 0..=most {
                for right in 0..usize::from(asked) {
                    let here = on_the_way[used][right];
                    next[used][right + 1] += here * chance;
                    let wrong = here * (1.0 - chance);
                    // Its place is taken by a fresh problem.
                    match on_the_way.get_mut(used + 1) {
                        Some(further) => further[right] += wrong,
                        None => next[used][right] += wrong,
                    }
                }
            }
            for row in &mut next {
                for (right, here) in (0..=asked).zip(row) {
                    match self.decide(asked, right) {
                        Decision::GoOn => continue,
                        Decision::Ready => ready += *here,
                        Decision::Stop => {}
                    }
                    *here = 0.0;
                }
            }
            on_the_way = next;
        }
        ready
    }

    /// What up to so many tries do, each begun only when the one before did not end ready.
    #[must_use]
    pub fn outcome_of_tries(&self, chance: f64, tries: u8) -> Outcome {
        let one = self.outcome(chance);
        let (mut not_yet, mut items) = (1.0, 0.0);
        for _ in 0..tries {
            items += not_yet * one.items;
            not_yet *= 1.0 - one.ready;
        }
        Outcome { ready: 1.0 - not_yet, items }
    }
}
