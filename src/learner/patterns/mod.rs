//! Patterns: where a mix-up happens, and where it does not.
//!
//! Explanations with the same formula are one mix-up: "takes east for west", "always adds" and "knows the way from map to
//! compass only" all give the same number on one item. Over several items they differ: the first falls everywhere, the
//! second with one letter in one direction, the third only on the way back. So the items that could show a mix-up are split
//! in two by one [`Feature`] after the other, and the split that tells most is said.
//!
//! **What counts.** Only items that expose the mix-up, and none before which a hint was given. A feature is tried when at
//! least [`LEAST_PER_SIDE`] items lie on each side.
//!
//! **When it is said.** Fisher's exact test, two-sided, must come out at [`SHARED_ERROR`] ÷ (features tried) or less. Whatever is
//! said is so supported at .05, also beside the other features: the level is shared among them (Bonferroni; as only the best
//! is said, Holm's way would say the same, and Tarone's, tried outside, said nothing sooner). A page is looked at after
//! each answer, so that chance has many goes all the same. How many learners
//! whose mix-up comes at random, in 20, 50 or 80 of 100 items, are told *some* pattern of it; features as in `true-magnetic`
//! (four are tried), levels at random or rising; 20,000 simulated learners each, lowest and highest of the six
//! (`what_chance_alone_is_told`, ignored, prints them):
//!
//! | shared level | after 40 items | at any time in 40 | after 60 items | at any time in 60 | a true one said after (median) |
//! |---|---|---|---|---|---|
//! | .02 | .4 to .8 % | 1.6 to 4.7 % | .7 to 1.0 % | 3.0 to 7.1 % | 13, 17, 25 items |
//! | .05, as it is | 1.2 to 2.5 % | 5.1 to 12.6 % | 1.9 to 2.5 % | 7.7 to 16.7 % | 11, 15, 21 items |
//!
//! The true ones are a letter: .9 of its items against 0, .8 against .1, .6 against .05. With .05 for each feature, not shared,
//! three in ten and more were told one at some time in 60 items (outside, 1,500 learners), which is why it is shared. The
//! figure is for one mix-up that stays; a learner with several has as many chances.
//!
//! **Two features go one way only.** Levels rise while one learns, and north is passed at the higher ones, so whoever has got
//! over a mix-up fell "only at levels 1 and 2" and "only when the number does not pass north". That says nothing about now
//! and is not said.
//!
//! What does not live here: which mix-up somebody has. A pattern says where; it is worth saying of a mix-up that is
//! suspected or named.

mod facts;
mod fisher;
mod side;
#[cfg(test)]
mod tests;

pub use side::{Applied, Feature, Side};

use super::belief::Tally;
use crate::numbers::real;
use crate::problem::{Level, MixupMeta, SkillMeta};
use facts::Reading;
use fisher::fisher;

/// The fewest items on each side of a feature that is tried.
pub const LEAST_PER_SIDE: usize = 4;

/// The chance of error that the features tried share.
pub const SHARED_ERROR: f64 = 0.05;

/// One answered item of a skill, as the record has it.
#[derive(Clone, Copy, Debug)]
pub struct AnsweredItem<'a> {
    /// The problem's level.
    pub level: Level,
    /// The problem's facts, a JSON object. What cannot be read there splits nothing.
    pub facts: &'a str,
    /// Ids of the mix-ups that the item could show.
    pub exposed: &'a [String],
    /// The mix-up whose answer was given, if it was one's.
    pub mixup: Option<&'a str>,
    /// A hint was given before the answer: the item does not count.
    pub hinted: bool,
}

/// Where a mix-up happens.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pattern {
    /// The mix-up.
    pub mixup: &'static MixupMeta,
    /// The side on which it happens more often.
    pub side: Side,
    /// How often its answer was given on this side, of how many items there.
    pub here: Tally,
    /// The same on the other side.
    pub elsewhere: Tally,
    /// Two-sided p of Fisher's exact test, 0 to 1; not corrected for the number of features.
    pub p: f64,
}

impl Pattern {
    /// Without the counts, to follow "you …, ": `only when the declination is east`.
    #[must_use]
    pub fn phrase(&self) -> String {
        let how = match (self.here.times, self.elsewhere.times) {
            (_, 0) => "only",
            // With many items on the other side most of it may have happened there.
            (here, elsewhere) if here > elsewhere => "mostly",
            _ => "more often",
        };
        format!("{how} {}", self.side.words())
    }

    /// With the counts, to follow "you …, ": `only when the declination is east (5 of 6; 0 of 7 when it is west)`.
    #[must_use]
    pub fn words(&self) -> String {
        let Pattern { side, here, elsewhere, .. } = self;
        format!(
            "{} ({} of {}; {} of {} {})",
            self.phrase(),
            here.times,
            here.of,
            elsewhere.times,
            elsewhere.of,
            side.other_words()
        )
    }
}

/// The patterns of a skill's mix-ups, at most one each, in the order of [`SkillMeta::mixups`]. `items` are answered items of
/// this skill, in any order.
#[must_use]
pub fn patterns(skill: &'static SkillMeta, items: &[AnsweredItem<'_>]) -> Vec<Pattern> {
    let readings = facts::read(items);
    let of = |mixup: &'static MixupMeta| {
        let id = mixup.id.as_str();
        let rows: Vec<Row<'_>> = items
            .iter()
            .zip(&readings)
            .filter(|(item, _)| !item.hinted && item.exposed.iter().any(|exposed| exposed == id))
            .map(|(item, reading)| Row { reading, fell: item.mixup == Some(id) })
            .collect();
        best(mixup, &rows)
    };
    skill.mixups.iter().filter_map(of).collect()
}

/// An item that counts.
#[derive(Clone, Copy)]
struct Row<'a> {
    reading: &'a Reading,
    fell: bool,
}

/// A feature that is tried, and what came out.
struct Tried {
    feature: Feature,
    /// On its first side, on its other.
    sides: [Tally; 2],
    p: f64,
}

impl Tried {
    fn difference(&self) -> f64 {
        (share(self.sides[0]) - share(self.sides[1])).abs()
    }

    /// The side with the higher share and what happened there and on the other; none where that side is not to be said.
    fn said(&self, applied: Applied) -> Option<(Side, Tally, Tally)> {
        let [one, other] = self.sides;
        let [first, second] = self.feature.sides(applied);
        if share(one) > share(other) {
            first.map(|side| (side, one, other))
        } else {
            second.map(|side| (side, other, one))
        }
    }
}

/// The pattern that tells most: the smallest p, then the larger difference, then the order of the features.
fn best(mixup: &'static MixupMeta, rows: &[Row<'_>]) -> Option<Pattern> {
    let tried: Vec<Tried> = Feature::ALL.into_iter().filter_map(|feature| tried(feature, rows)).collect();
    let most = SHARED_ERROR / real(tried.len());
    let applied = Applied::of_all(rows.iter().filter_map(|row| row.reading.applied));
    let mut best: Option<(&Tried, Pattern)> = None;
    for tried in tried.iter().filter(|tried| tried.p <= most) {
        let Some((side, here, elsewhere)) = tried.said(applied) else { continue };
        let better = best.as_ref().is_none_or(|(best, _)| {
            // Equal tables on different features come out equal but for the last digits.
            let same = (tried.p - best.p).abs() <= 1e-9 * best.p;
            if same { tried.difference() > best.difference() + 1e-9 } else { tried.p < best.p }
        });
        if better {
            best = Some((tried, Pattern { mixup, side, here, elsewhere, p: tried.p }));
        }
    }
    best.map(|(_, pattern)| pattern)
}

/// The feature's test, if enough items lie on each side.
fn tried(feature: Feature, rows: &[Row<'_>]) -> Option<Tried> {
    let mut sides = [Tally { times: 0, of: 0 }; 2];
    for row in rows {
        if let Some(first) = row.reading.first_side(feature) {
            let side = &mut sides[usize::from(!first)];
            side.of += 1;
            side.times += usize::from(row.fell);
        }
    }
    let enough = sides.iter().all(|side| side.of >= LEAST_PER_SIDE);
    enough.then(|| Tried { feature, sides, p: fisher(sides[0], sides[1]) })
}

fn share(tally: Tally) -> f64 {
    real(tally.times) / real(tally.of)
}
