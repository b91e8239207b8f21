//! Simulated learners: does the program's own choice of the next problem teach better than other orders, and are the weak
//! spots that it names true? And is what it shows as sure known?
//!
//! The learners follow another model than the program's on purpose. Run: `cargo bench --bench learners`; the number of
//! learners can be given in `NEEDLEWISE_LEARNERS` (1,000 when it is not). Everything follows from one seed.
#![expect(
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    clippy::cast_sign_loss,
    reason = "what a bench counts and draws is small"
)]

use jiff::civil::{Date, date};
use jiff::{Timestamp, ToSpan};
use needlewise::learner::{
    self, Beliefs, CommonError, Evidence, Outcome, Placement, Recent, Selection, Standing, State, choose,
};
use needlewise::problem::{Level, MixupClass, SkillMeta};
use needlewise::skills;
use rand::SeedableRng;
use rand::rand_core::Rng;
use rand::rngs::ChaCha8Rng;
use std::collections::BTreeMap;

const DAYS: [i64; 12] = [0, 2, 4, 7, 9, 11, 14, 16, 18, 21, 23, 25];
const PER_SESSION: usize = 25;
const TEST_DAY: i64 = 39;

struct Dice(ChaCha8Rng);

impl Dice {
    fn share(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn chance(&mut self, p: f64) -> bool {
        self.share() < p
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    fn pick(&mut self, count: usize) -> usize {
        ((self.share() * count as f64) as usize).min(count.saturating_sub(1))
    }

    /// Normal, by Box and Muller.
    fn normal(&mut self) -> f64 {
        (-2.0 * self.share().max(1e-300).ln()).sqrt() * (std::f64::consts::TAU * self.share()).cos()
    }
}

/// What a simulated learner has of one skill.
#[derive(Clone)]
struct Held {
    known: bool,
    /// The place of a mix-up in the skill's list.
    mixup: Option<usize>,
    /// The mix-up before it was learnt.
    old: Option<usize>,
    strength: f64,
    last: Option<i64>,
    learnt_before: bool,
}

struct Learner {
    slip: f64,
    consistency: f64,
    rate: f64,
    signature: MixupClass,
    skills: Vec<Held>,
}

fn signatures(metas: &[&'static SkillMeta]) -> Vec<MixupClass> {
    let mut counts: BTreeMap<MixupClass, usize> = BTreeMap::new();
    for meta in metas {
        let mut classes: Vec<MixupClass> = meta.mixups.iter().map(|mixup| mixup.class).collect();
        classes.sort_unstable();
        classes.dedup();
        classes.into_iter().for_each(|class| *counts.entry(class).or_default() += 1);
    }
    counts.into_iter().filter(|(_, count)| *count >= 3).map(|(class, _)| class).collect()
}

impl Learner {
    fn new(metas: &[&'static SkillMeta], dice: &mut Dice) -> Learner {
        let classes = signatures(metas);
        let signature = classes[dice.pick(classes.len())];
        let skills = metas
            .iter()
            .map(|meta| {
                let known = dice.chance(if meta.prerequisites.is_empty() { 0.40 } else { 0.20 });
                let own: Vec<usize> = (0..meta.mixups.len()).filter(|at| meta.mixups[*at].class == signature).collect();
                let mixup = if known {
                    None
                } else if !own.is_empty() && dice.chance(0.8) {
                    Some(own[dice.pick(own.len())])
                } else {
                    dice.chance(0.5).then(|| dice.pick(meta.mixups.len()))
                };
                let strength = 10.0 * (0.4 * dice.normal()).exp();
                Held { known, mixup, old: None, strength, last: None, learnt_before: known }
            })
            .collect();
        Learner {
            slip: dice.between(0.03, 0.12),
            consistency: dice.between(0.65, 0.95),
            rate: dice.between(0.12, 0.35),
            signature,
            skills,
        }
    }

    fn recall(&self, skill: usize, day: i64) -> f64 {
        let held = &self.skills[skill];
        held.last.map_or(1.0, |last| (-(((day - last) as f64) / held.strength).powf(0.7)).exp())
    }

    /// What may have been forgotten since the last day.
    fn meet(&mut self, skill: usize, day: i64, dice: &mut Dice) {
        let recall = self.recall(skill, day);
        let held = &mut self.skills[skill];
        if held.known && held.last.is_some_and(|last| last < day) {
            if dice.chance(recall) {
                held.strength *= 1.0 + 3.0 * (1.0 - recall);
            } else {
                held.known = false;
                held.mixup = held.old.filter(|_| dice.chance(0.5));
            }
        }
        held.last = Some(day);
    }

    /// The place of the mix-up whose answer is given; `Ok(())` when right, `Err(None)` when wrong otherwise.
    fn answer(&self, skill: usize, exposed: &[usize], dice: &mut Dice) -> Result<(), Option<usize>> {
        let held = &self.skills[skill];
        let any = |dice: &mut Dice| {
            if exposed.is_empty() { None } else { Some(exposed[dice.pick(exposed.len())]) }
        };
        let shares = |right: f64, mixed: f64, dice: &mut Dice| {
            let drawn = dice.share();
            if drawn < right {
                Ok(())
            } else if drawn < right + mixed {
                Err(any(dice))
            } else {
                Err(None)
            }
        };
        match held.mixup {
            _ if held.known => shares(1.0 - self.slip, self.slip / 2.0, dice),
            Some(own) if exposed.contains(&own) => {
                if dice.chance(self.consistency) {
                    Err(Some(own))
                } else {
                    shares(0.3, 0.3, dice)
                }
            }
            // The wrong way gives the right answer here.
            Some(_) => shares(1.0 - self.slip, self.slip / 2.0, dice),
            None => shares(0.15, 0.45, dice),
        }
    }

    fn learn(&mut self, skill: usize, meta: &SkillMeta, all: &[&SkillMeta], by_own: bool, dice: &mut Dice) {
        let unknown = meta
            .prerequisites
            .iter()
            .any(|id| all.iter().position(|other| other.id == *id).is_some_and(|at| !self.skills[at].known));
        let held = &mut self.skills[skill];
        if held.known {
            return;
        }
        let mut chance = self.rate;
        chance *= if unknown { 0.35 } else { 1.0 };
        chance *= if by_own { 1.4 } else { 1.0 };
        chance *= if held.learnt_before { 2.0 } else { 1.0 };
        if dice.chance(chance) {
            (held.known, held.learnt_before, held.old) = (true, true, held.mixup);
            held.mixup = None;
        } else if dice.chance(0.05) {
            held.mixup = None;
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Order {
    Way,
    Gain,
    Random,
    Blocked,
    WeakestFirst,
}

#[derive(Default)]
struct Tallied {
    named_after: Vec<usize>,
    named: usize,
    named_true: usize,
    all_known_after: Vec<usize>,
    /// Skills shown as sure after an answer to one of them, and how many of them were known.
    sure: usize,
    sure_true: usize,
    /// The same of those likelier known than .85, as they were shown before.
    likely: usize,
    likely_true: usize,
    /// Common errors named anew over several skills, and how many of them were held in one of those at least at its last
    /// answer.
    common: usize,
    common_true: usize,
    kept: f64,
    learners: usize,
}

fn run(order: Order, learners: usize, metas: &[&'static SkillMeta]) -> Tallied {
    let start: Date = date(2026, 3, 1);
    let mut result = Tallied::default();
    let by = if order == Order::Way { learner::Order::Way } else { learner::Order::Gain };
    let selection = Selection { order: by, ..Selection::of(metas.iter().map(|meta| meta.id)) };
    for number in 0..learners {
        let mut dice = Dice(ChaCha8Rng::seed_from_u64(number as u64));
        let mut learner = Learner::new(metas, &mut dice);
        let mut beliefs = Beliefs::new(metas, Placement::Fresh);
        let mut recent = Recent::default();
        let (mut asked, mut named_after, mut known_after) = (0, None, None);
        let mut common_before: Vec<CommonError> = Vec::new();
        // What was held in each skill at its last answer, by which alone it can be judged.
        let mut held_last = vec![None; metas.len()];
        for offset in DAYS {
            let day = start.checked_add(offset.days()).unwrap();
            for _ in 0..PER_SESSION {
                let at = match order {
                    Order::Way | Order::Gain => {
                        let choice = choose(&beliefs, &selection, day, &recent).unwrap();
                        metas.iter().position(|meta| meta.id == choice.skill.id).unwrap()
                    }
                    Order::Random => dice.pick(metas.len()),
                    Order::Blocked => asked * metas.len() / (DAYS.len() * PER_SESSION),
                    Order::WeakestFirst => (0..metas.len())
                        .min_by(|a, b| {
                            let known = |at: usize| beliefs.skill(metas[at].id).map_or(0.0, |belief| belief.known());
                            known(*a).total_cmp(&known(*b))
                        })
                        .unwrap(),
                };
                let meta = metas[at];
                learner.meet(at, offset, &mut dice);
                let exposed: Vec<usize> = (0..meta.mixups.len())
                    .filter(|mixup| dice.chance(if meta.mixups[*mixup].class == MixupClass::Wrap { 0.6 } else { 0.9 }))
                    .collect();
                let held = learner.skills[at].mixup.filter(|_| !learner.skills[at].known);
                let answer = learner.answer(at, &exposed, &mut dice);
                let ids: Vec<&str> = exposed.iter().map(|mixup| meta.mixups[*mixup].id.as_str()).collect();
                let outcome = match answer {
                    Ok(()) => Outcome::Right,
                    Err(Some(mixup)) => Outcome::Mixup(meta.mixups[mixup].id.as_str()),
                    Err(None) => Outcome::Other,
                };
                let change = beliefs.observe(&Evidence {
                    skill: meta.id,
                    level: Level::TWO,
                    day,
                    outcome,
                    exposed: &ids,
                    hinted: false,
                    explained: true,
                    at: Timestamp::UNIX_EPOCH,
                });
                asked += 1;
                held_last[at] = held;
                let common: Vec<_> = beliefs
                    .weak_spots()
                    .into_iter()
                    .filter(|spot| spot.standing == Standing::Named && spot.places.len() > 1)
                    .collect();
                for spot in common.iter().filter(|spot| spot.common().is_some_and(|one| !common_before.contains(&one)))
                {
                    result.common += 1;
                    let holds = |at: usize| {
                        let mixup = held_last[at].map(|mixup: usize| &metas[at].mixups[mixup]);
                        mixup.is_some_and(|mixup| CommonError::of(mixup) == spot.common())
                    };
                    let mut places =
                        spot.places.iter().filter_map(|place| metas.iter().position(|meta| meta.id == place.skill.id));
                    result.common_true += usize::from(places.any(holds));
                }
                common_before = common.iter().filter_map(|spot| spot.common()).collect();
                let (belief, known) = (beliefs.skill(meta.id).unwrap(), learner.skills[at].known);
                if belief.state(day) == State::Sure {
                    result.sure += 1;
                    result.sure_true += usize::from(known);
                }
                if belief.known() >= 0.85 {
                    result.likely += 1;
                    result.likely_true += usize::from(known);
                }
                if let Some(named) = change.and_then(|change| change.named) {
                    let truth = held.is_some_and(|held| meta.mixups[held].id == named.id);
                    result.named += 1;
                    result.named_true += usize::from(truth);
                    if truth && named.class == learner.signature {
                        named_after.get_or_insert(asked);
                    }
                }
                recent.answered(meta.id, Level::TWO, answer.is_ok());
                let by_own = matches!((answer, held), (Err(Some(given)), Some(own)) if given == own);
                learner.learn(at, meta, metas, by_own, &mut dice);
                if known_after.is_none() && learner.skills.iter().all(|held| held.known) {
                    known_after = Some(asked);
                }
            }
        }
        let all = DAYS.len() * PER_SESSION + 1;
        result.named_after.push(named_after.unwrap_or(all));
        result.all_known_after.push(known_after.unwrap_or(all));
        let kept: f64 = (0..metas.len())
            .map(|at| {
                let held = &learner.skills[at];
                let recall = learner.recall(at, TEST_DAY);
                let else_right = 0.15;
                if held.known { recall * (1.0 - learner.slip) + (1.0 - recall) * else_right } else { else_right }
            })
            .sum();
        result.kept += kept / metas.len() as f64;
        result.learners += 1;
    }
    result
}

fn share(part: usize, all: usize) -> f64 {
    100.0 * part as f64 / all.max(1) as f64
}

fn median(values: &mut [usize]) -> String {
    values.sort_unstable();
    let middle = values[values.len() / 2];
    if middle > DAYS.len() * PER_SESSION { "never".to_owned() } else { middle.to_string() }
}

fn main() {
    let learners = std::env::var("NEEDLEWISE_LEARNERS").ok().and_then(|text| text.parse().ok()).unwrap_or(1_000);
    let metas: Vec<&'static SkillMeta> = skills::metas().collect();
    println!(
        "{learners} simulated learners, {} skills, 12 sessions of 25 problems, test on day {TEST_DAY}",
        metas.len()
    );
    println!(
        "| order | true top mix-up named after (median) | named ones true | all skills known after (median) | right after 14 days | shown as sure and known | by P(known) ≥ .85 | common errors named and true |"
    );
    println!("|---|---|---|---|---|---|---|---|");
    for order in [Order::Way, Order::Gain, Order::Random, Order::Blocked, Order::WeakestFirst] {
        let mut result = run(order, learners, &metas);
        let name = match order {
            Order::Way => "the program's own, along a newcomer's way",
            Order::Gain => "the program's own in drills: by gain alone",
            Order::Random => "random",
            Order::Blocked => "blocked",
            Order::WeakestFirst => "weakest first",
        };
        println!(
            "| {name} | {} | {:.1} % of {} | {} | {:.1} % | {:.1} % of {} | {:.1} % of {} | {:.1} % of {} |",
            median(&mut result.named_after),
            share(result.named_true, result.named),
            result.named,
            median(&mut result.all_known_after),
            100.0 * result.kept / result.learners as f64,
            share(result.sure_true, result.sure),
            result.sure,
            share(result.likely_true, result.likely),
            result.likely,
            share(result.common_true, result.common),
            result.common
        );
    }
}
