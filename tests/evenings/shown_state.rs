//! What is shown of a skill never falls by a right answer in place of a wrong one.
//!
//! For every history of up to six answers over exposures that the program draws, days kept: all of them, and every way to
//! put one right answer in place of a wrong one. By steps of one, more right answers follow.

use jiff::civil::{Date, date};
use jiff::{Timestamp, ToSpan};
use needlewise::learner::{Beliefs, Evidence, Outcome, Placement, State};
use needlewise::problem::{Code, Level, SkillMeta, realise};
use needlewise::skills;

const ANSWERS: usize = 6;
/// Days of the six answers, counted from the first: one evening; three; a fortnight away and back.
const DAYS: [[i64; ANSWERS]; 3] = [[0; ANSWERS], [0, 0, 1, 1, 3, 3], [0, 0, 0, 14, 14, 15]];
/// Days after the last answer on which somebody looks.
const LOOKED_AT: [i64; 6] = [0, 2, 4, 7, 14, 40];

/// Worse first.
fn rank(state: State) -> u8 {
    match state {
        State::NotMet => 0,
        State::Learning => 1,
        State::WorthRepeating { .. } => 2,
        State::Sure => 3,
    }
}

fn day(after: i64) -> Date {
    date(2026, 5, 9).saturating_add(after.days())
}

/// The mix-ups that six problems of the skill expose, as they are drawn.
fn drawn(skill: &'static SkillMeta, level: Level, from: u64) -> Vec<Vec<&'static str>> {
    let skill = skills::find(skill.id).expect("a skill of the registry");
    let problem = |seed| realise(&Code { skill, level, seed, home: None }).expect("a problem");
    (from..from + ANSWERS as u64)
        .map(|seed| {
            let mut ids: Vec<&str> = problem(seed).mixups().iter().map(|mixup| mixup.meta.id.as_str()).collect();
            ids.sort_unstable();
            ids.dedup();
            ids
        })
        .collect()
}

/// One history as its answers: 0 is right, 1 wrong otherwise, then the mix-ups that the item exposes.
struct Tree<'a> {
    skill: &'static SkillMeta,
    exposed: &'a [Vec<&'static str>],
    days: [i64; ANSWERS],
    /// What is seen after each history of the length, in the order of the answers.
    seen: Vec<Vec<[u8; LOOKED_AT.len()]>>,
}

impl Tree<'_> {
    fn grow(&mut self, beliefs: &Beliefs, length: usize) {
        let belief = beliefs.skill(self.skill.id).unwrap();
        let last = length.checked_sub(1).map_or(0, |at| self.days[at]);
        self.seen[length].push(LOOKED_AT.map(|after| rank(belief.state(day(last + after)))));
        if length == ANSWERS {
            return;
        }
        let exposed = &self.exposed[length];
        let mixups = exposed.iter().map(|id| Outcome::Mixup(id));
        for outcome in [Outcome::Right, Outcome::Other].into_iter().chain(mixups) {
            let mut next = beliefs.clone();
            let (skill, day) = (self.skill.id, day(self.days[length]));
            let (level, at) = (Level::TWO, Timestamp::UNIX_EPOCH);
            next.observe(&Evidence { skill, level, day, outcome, exposed, hinted: false, explained: true, at });
            self.grow(&next, length + 1);
        }
    }

    /// How many single replacements there were.
    fn check(&self) -> usize {
        let mut pairs = 0;
        for length in 1..=ANSWERS {
            let widths: Vec<usize> = (0..length).map(|at| self.exposed[at].len() + 2).collect();
            let all = &self.seen[length];
            assert_eq!(all.len(), widths.iter().product::<usize>());
            for (index, seen) in all.iter().enumerate() {
                let mut step = 1;
                for width in widths.iter().rev() {
                    let answer = index / step % width;
                    if answer > 0 {
                        let better = &all[index - answer * step];
                        pairs += 1;
                        assert!(
                            better.iter().zip(seen).all(|(better, seen)| better >= seen),
                            "{}: history {index} of {length} with one right answer more, days {:?}: {seen:?} fell to {better:?}",
                            self.skill.id,
                            self.days
                        );
                    }
                    step *= width;
                }
            }
        }
        pairs
    }
}

#[test]
fn a_right_answer_in_place_of_a_wrong_one_never_lowers_what_is_shown() {
    let mut pairs = 0;
    for (id, level, from) in [
        ("true-magnetic", Level::TWO, 1),
        ("dated-map", Level::ONE, 30),
        ("back-bearing", Level::TWO, 7),
        ("diagram", Level::TWO, 11),
    ] {
        let skill = skills::metas().find(|skill| skill.id == id).unwrap();
        let mut exposed = drawn(skill, level, from);
        // As many as there is time for: five mix-ups, right and otherwise wrong make 7^6 histories.
        exposed.iter_mut().for_each(|ids| ids.truncate(5));
        assert!(exposed.iter().any(|ids| ids.len() > 1), "{id}: something to mix up");
        for days in DAYS {
            let mut tree = Tree { skill, exposed: &exposed, days, seen: vec![Vec::new(); ANSWERS + 1] };
            tree.grow(&Beliefs::new(&[skill], Placement::Fresh), 0);
            pairs += tree.check();
        }
    }
    assert!(pairs > 100_000, "only {pairs} pairs");
}
