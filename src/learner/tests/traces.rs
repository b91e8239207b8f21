//! The filter against values from elsewhere, and against a slow twin.
#![expect(clippy::cast_precision_loss, reason = "what a test counts and draws is small")]

use super::fakes::Story;
use crate::learner::Outcome;
use crate::learner::constants::{FLOOR, RATES, Rates, Row};
use crate::learner::filter::{Chances, Seen};
use proptest::prelude::*;

const ANSWERS: [Outcome; 5] = [
    Outcome::Mixup("sign-flipped"),
    Outcome::Mixup("sign-flipped"),
    Outcome::Other,
    Outcome::Mixup("sign-flipped"),
    Outcome::Right,
];

fn readings(explained: bool) -> Vec<String> {
    let mut story = Story { explained, ..Story::new() };
    let reading = |&answer| {
        story.tell("map-to-compass", answer);
        format!("{:.5}", story.beliefs.skill("map-to-compass").unwrap().reading("sign-flipped"))
    };
    ANSWERS.iter().map(reading).collect()
}

/// Source: worked out outside the program, and reproduced with hmmlearn 0.3.3 `CategoricalHMM`.
#[test]
fn without_the_learning_step_the_filter_is_the_forward_filter_of_a_hidden_markov_model() {
    assert_eq!(readings(false), [".70471", ".95183", ".78688", ".96275", ".92343"].map(|text| format!("0{text}")));
}

/// Source: the same.
#[test]
fn with_the_learning_step_one_right_answer_clears_a_likely_mixup() {
    assert_eq!(readings(true), [".70471", ".94749", ".69237", ".95476", ".21498"].map(|text| format!("0{text}")));
}

/// Source: Corbett & Anderson 1995's equations with L₀ .4, T .1, S .3, G .2, worked by hand:
/// .12/.60; .28·.7/(.28·.7 + .72·.2); .61882·.7/(.61882·.7 + .38118·.2).
#[test]
fn with_two_states_and_no_mixups_it_is_classic_knowledge_tracing() {
    let none = Row { right: 0.0, shared: 0.0, other: 0.0 };
    let classic = Rates {
        known: Row { right: 0.7, shared: 0.0, other: 0.3 },
        rusty: none,
        not_yet: Row { right: 0.2, shared: 0.0, other: 0.8 },
        mixed_up: none,
        own: 0.0,
        hidden: none,
        learn: 0.1,
        refresh: 0.0,
        spread: 0.0,
        least: 0.0,
    };
    let mut chances = Chances::prior(0.4, &[]);
    let posterior = [Seen::Other, Seen::Right, Seen::Right].map(|seen| {
        chances.weigh(&classic, 0, seen);
        let known = chances.known;
        chances.learn(&classic);
        format!("{known:.5}")
    });
    assert_eq!(posterior, ["0.20000", "0.57647", "0.85035"]);
}

#[test]
fn in_every_state_the_answers_have_probability_one_however_many_mixups_are_exposed() {
    for exposed in [0b0000, 0b0001, 0b0110, 0b1111] {
        for state in 0..7 {
            let sum: f64 = symbols(4).map(|seen| emission(&RATES, 4, exposed, state, seen)).sum();
            assert!((sum - 1.0).abs() < 1e-12, "state {state}, exposed {exposed:b}: {sum}");
        }
    }
}

/// All answers there can be.
fn symbols(mixups: usize) -> impl Iterator<Item = Seen> {
    [Seen::Right, Seen::Other].into_iter().chain((0..mixups).map(Seen::Mixup))
}

/// The table of rates, cell by cell: states are known, rusty, not yet, then the mix-ups.
fn emission(rates: &Rates, mixups: usize, exposed: u64, state: usize, seen: Seen) -> f64 {
    let is_exposed = |k: usize| k < mixups && exposed & (1 << k) != 0;
    let ne = (0..mixups).filter(|&k| is_exposed(k)).count() as f64;
    let row = match state {
        0 => rates.known,
        1 => rates.rusty,
        2 => rates.not_yet,
        state if is_exposed(state - 3) => rates.mixed_up,
        _ => rates.hidden,
    };
    match seen {
        Seen::Right => row.right,
        Seen::Other if ne == 0.0 => row.other + row.shared,
        Seen::Other => row.other,
        Seen::Mixup(k) if !is_exposed(k) => 0.0,
        Seen::Mixup(k) if state == k + 3 => rates.own + row.shared / ne,
        Seen::Mixup(_) => row.shared / ne,
    }
}

/// The learning step as a matrix: from state to state.
fn transition(rates: &Rates, mixups: usize, from: usize, to: usize) -> f64 {
    let spread = |stays: f64| rates.spread / (mixups + 1) as f64 + if from == to { stays } else { 0.0 };
    match (from, to) {
        (0, 0) => 1.0,
        (1, 0) => rates.refresh,
        (1, 1) => 1.0 - rates.refresh,
        (2.., 0) => rates.learn,
        (2.., 2..) => (1.0 - rates.learn) * spread(1.0 - rates.spread),
        _ => 0.0,
    }
}

proptest! {
    #[test]
    fn the_filter_agrees_with_the_forward_algorithm_written_out(
        answers in prop::collection::vec((0_usize..6, 0_u64..16, any::<bool>()), 1..25)
    ) {
        let rates = Rates { least: 0.0, ..RATES };
        let mut chances = Chances::prior(0.2, &[1.0; 4]);
        let mut slow = vec![0.2, 0.0, 0.3, 0.125, 0.125, 0.125, 0.125];
        for (symbol, exposed, explained) in answers {
            let seen = symbols(4).nth(symbol).unwrap();
            let exposed = match seen { Seen::Mixup(k) => exposed | 1 << k, _ => exposed };
            chances.weigh(&rates, exposed, seen);
            for (state, chance) in slow.iter_mut().enumerate() {
                *chance *= emission(&rates, 4, exposed, state, seen);
            }
            let total: f64 = slow.iter().sum();
            // The floor belongs to the model: a long run of answers can make much of what it lifts.
            slow.iter_mut().for_each(|chance| *chance = chance.max(total * FLOOR));
            let total: f64 = slow.iter().sum();
            slow.iter_mut().for_each(|chance| *chance /= total);
            if explained {
                chances.learn(&rates);
                slow = (0..7).map(|to| (0..7).map(|from| slow[from] * transition(&rates, 4, from, to)).sum()).collect();
            }
            let fast = [chances.known, chances.rusty, chances.not_yet];
            for (fast, slow) in fast.iter().chain(&chances.mixups).zip(&slow) {
                prop_assert!((fast - slow).abs() < 1e-9, "{fast} against {slow}");
            }
        }
    }
}
