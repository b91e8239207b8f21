//! How often chance alone is told as a pattern, and how soon a true one is said: simulated.
#![expect(
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    reason = "what a test counts and draws is small"
)]

use super::super::facts::{Reading, read};
use super::*;
use crate::problem::Draw;

/// The answers of a simulated learner: what the facts say of each item, and whether the mix-up happened.
struct Answers(Vec<(Reading, bool)>);

impl Answers {
    /// `count` items at random or, `rising`, with levels that rise; past north in three of five from level 3, as the
    /// conversions are drawn.
    fn draw(count: usize, rising: bool, draw: &mut Draw, falls: impl Fn(&Told) -> f64) -> Answers {
        let told: Vec<Told> = (0..count)
            .map(|at| {
                let level = if rising { 1 + (4 * at / count) as u8 } else { 1 + draw.below(4) as u8 };
                let (declination, to_compass) = (12 * draw.sign(), draw.chance(1, 2));
                let past = level >= 3 && draw.chance(3, 5);
                let grows = (declination < 0) == to_compass;
                let from = match (past, grows) {
                    (false, _) => 100,
                    (true, true) => 355,
                    (true, false) => 5,
                };
                Told { level, from, to_compass, ..told(declination, false) }
            })
            .collect();
        let facts: Vec<String> = told.iter().map(Told::facts).collect();
        let items: Vec<AnsweredItem<'_>> = told
            .iter()
            .zip(&facts)
            .map(|(told, facts)| AnsweredItem {
                level: Level::new(told.level).unwrap(),
                facts,
                exposed: &told.exposed,
                mixup: None,
                hinted: false,
            })
            .collect();
        let fell = told.iter().map(|told| f64::from(draw.below(1 << 20)) < falls(told) * f64::from(1 << 20));
        Answers(read(&items).into_iter().zip(fell).collect())
    }

    /// What is said after the first so many.
    fn after(&self, count: usize) -> Option<Pattern> {
        let rows: Vec<Row<'_>> = self.0[..count].iter().map(|(reading, fell)| Row { reading, fell: *fell }).collect();
        best(&SKILL.mixups[0], &rows)
    }

    /// After how many answers a pattern is said first.
    fn first_said(&self) -> Option<usize> {
        (2 * LEAST_PER_SIDE..=self.0.len()).find(|count| self.after(*count).is_some())
    }
}

/// The share of learners without any pattern who are told one: at the end, and at any time when asked after each answer.
fn told_by_chance(learners: u64, count: usize, rising: bool, falls: f64) -> [f64; 2] {
    let (mut at_end, mut ever) = (0_u32, 0_u32);
    for seed in 0..learners {
        let mut draw = Draw::new("chance", 1, u16::from(rising), seed);
        let answers = Answers::draw(count, rising, &mut draw, |_| falls);
        at_end += u32::from(answers.after(count).is_some());
        ever += u32::from(answers.first_said().is_some());
    }
    [at_end, ever].map(|told| f64::from(told) / learners as f64)
}

#[test]
fn where_there_is_no_pattern_hardly_one_learner_in_forty_is_told_one() {
    for (rising, falls) in [(false, 0.2), (false, 0.5), (true, 0.5)] {
        let [at_end, ever] = told_by_chance(600, 40, rising, falls);
        // In the long run at most .025 and .126 (see the module); three standard errors of 600 learners are .019 and .041.
        assert!(at_end <= 0.044 && ever <= 0.167, "{rising} {falls}: {at_end} {ever}");
    }
}

#[test]
fn a_clear_pattern_is_said_within_a_session() {
    for (falls, side) in [
        (
            (|told: &Told| if told.declination > 0 { 0.9 } else { 0.0 }) as fn(&Told) -> f64,
            Side::East(Applied::Declination),
        ),
        (|told| if told.to_compass { 0.0 } else { 0.9 }, Side::ToMap),
        (|told| if told.from == 100 { 0.0 } else { 0.9 }, Side::PastNorth),
        (|told| if told.level >= 3 { 0.9 } else { 0.0 }, Side::HigherLevels),
    ] {
        let said = (0..200)
            .filter(|seed| {
                let answers = Answers::draw(40, false, &mut Draw::new("clear", 1, 1, *seed), falls);
                answers.after(40).is_some_and(|pattern| pattern.side == side)
            })
            .count();
        assert!(said >= 190, "{side:?}: {said} of 200");
    }
}

/// Prints the figures of the module's documentation: `cargo test --lib what_chance -- --ignored --nocapture`.
#[test]
#[ignore = "a measurement"]
fn what_chance_alone_is_told() {
    for count in [40, 60] {
        for rising in [false, true] {
            for falls in [0.2, 0.5, 0.8] {
                let [at_end, ever] = told_by_chance(20_000, count, rising, falls);
                println!("{count} items, rising {rising}, falls {falls}: {at_end:.4} at the end, {ever:.4} ever");
                assert!(at_end <= 0.05);
            }
        }
    }
    for (name, east, west) in [("clear", 0.9, 0.0), ("usual", 0.8, 0.1), ("faint", 0.6, 0.05)] {
        let mut first: Vec<usize> = (0..2000)
            .map(|seed| {
                let falls = |told: &Told| if told.declination > 0 { east } else { west };
                Answers::draw(80, false, &mut Draw::new("power", 1, 1, seed), falls).first_said().unwrap_or(99)
            })
            .collect();
        first.sort_unstable();
        println!(
            "{name} ({east} east, {west} west): said after {} (median), {} (nine of ten)",
            first[1000], first[1800]
        );
    }
}
