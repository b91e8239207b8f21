//! How few problems will do: beside all tests there are.
#![expect(
    clippy::cast_possible_truncation,
    clippy::cast_possible_wrap,
    clippy::cast_sign_loss,
    reason = "what a test counts and draws is small"
)]

use super::super::lemma::out_of_reach;
use super::super::search::Goal;
use super::super::staircase::Found;
use super::super::*;
use super::choose;
use proptest::prelude::*;
use std::collections::HashSet;
use std::sync::LazyLock;

/// Of the orders of n answers with 0, 1, … n right, how many a test accepts.
type Accepted = Vec<u32>;

/// Every test with bounds on (asked, right): all pairs of *ready* and *stop* after each problem, the slow way.
fn every_test(n: u8) -> HashSet<Accepted> {
    let mut open = HashSet::from([(vec![1_u32], vec![0_u32; usize::from(n) + 1])]);
    for asked in 1..=n {
        let mut further = HashSet::new();
        for (here, accepted) in &open {
            let right_of = |at: u8| here.get(usize::from(at)).copied().unwrap_or(0);
            let ways = |right: u8| right_of(right) + right.checked_sub(1).map_or(0, right_of);
            // Ready at so many right or more, stop below so many.
            for ready in 0..=asked + 1 {
                for go_on in if asked == n { ready..=ready } else { 0..=ready } {
                    let (mut next, mut then) = (vec![0; usize::from(asked) + 1], accepted.clone());
                    for right in go_on..=asked {
                        if right < ready {
                            next[usize::from(right)] = ways(right);
                            continue;
                        }
                        for more in 0..=n - asked {
                            then[usize::from(right + more)] += ways(right) * choose(n - asked, more).round() as u32;
                        }
                    }
                    further.insert((next, then));
                }
            }
        }
        open = further;
    }
    open.into_iter().map(|(_, accepted)| accepted).collect()
}

/// For 1 to 8 problems.
static EVERY_TEST: LazyLock<Vec<Vec<Accepted>>> = LazyLock::new(|| {
    (1..=8)
        .map(|n| {
            let mut tests: Vec<Accepted> = every_test(n).into_iter().collect();
            tests.sort_unstable();
            tests
        })
        .collect()
});

/// The chance to be found ready.
fn power(accepted: &[u32], p: f64) -> f64 {
    let n = accepted.len() - 1;
    (0..=n).map(|k| f64::from(accepted[k]) * p.powi(k as i32) * (1.0 - p).powi((n - k) as i32)).sum()
}

/// Whether the planner and all the tests there are agree about a wish.
fn agree(wish: &Wish) -> Result<(), String> {
    let Wish { p0, p1, alpha, beta, cap, .. } = *wish;
    let exists = EVERY_TEST[usize::from(cap) - 1]
        .iter()
        .any(|test| power(test, p0) <= alpha + 1e-12 && 1.0 - power(test, p1) <= beta + 1e-12);
    match ReadinessPlan::for_wish(wish) {
        Ok(plan) if exists && plan.alpha() <= alpha + 1e-11 && plan.beta() <= beta + 1e-11 => Ok(()),
        Err(PlanError::TooFew { .. } | PlanError::NotFound { enough: None, .. }) if !exists => Ok(()),
        other => Err(format!("{wish:?}: {exists}, but {other:?}")),
    }
}

#[test]
fn every_small_cap_is_planned_exactly_when_some_test_keeps_the_errors() {
    let (mut planned, mut refused) = (0, 0);
    for (p0, p1) in [(0.5, 0.95), (0.6, 0.9), (0.3, 0.8), (0.2, 0.6)] {
        for alpha in [0.02, 0.07, 0.13, 0.2, 0.31] {
            for beta in [0.03, 0.08, 0.16, 0.24, 0.4] {
                for cap in 1..=8 {
                    let wish = Wish { p0, p1, alpha, beta, cap, tries: 1 };
                    agree(&wish).unwrap();
                    *if ReadinessPlan::for_wish(&wish).is_ok() { &mut planned } else { &mut refused } += 1;
                }
            }
        }
    }
    assert!(planned > 100 && refused > 100, "{planned} {refused}");
}

proptest! {
    /// The hardest wishes: the errors of one of the tests, or a little less.
    #[test]
    fn what_one_single_test_attains_is_found(
        which in 0..1_000_000_usize, cap in 4..=8_u8, p0 in 0.3..0.65_f64, more in 0.15..0.3_f64, less in 0..2_u8
    ) {
        let p1 = p0 + more;
        let tests: Vec<_> = EVERY_TEST[usize::from(cap) - 1]
            .iter()
            .map(|test| (power(test, p0), 1.0 - power(test, p1)))
            .filter(|(alpha, beta)| *alpha > 0.0 && *beta > 0.0 && *alpha < 0.45 && *beta < 0.45)
            .collect();
        prop_assume!(!tests.is_empty());
        // From the sharpest tests, where few others do as well.
        let mut sums: Vec<_> = tests.iter().map(|(alpha, beta)| (alpha + beta, *alpha, *beta)).collect();
        sums.sort_by(|one, other| one.0.total_cmp(&other.0));
        let (_, alpha, beta) = sums[which % sums.len().min(300)];
        let share = if less == 0 { 1.0 + 1e-9 } else { 1.0 - 1e-5 };
        let told = agree(&Wish { p0, p1, alpha: alpha * share, beta: beta * share, cap, tries: 1 });
        prop_assert!(told.is_ok(), "{told:?}");
    }
}

#[test]
fn cuts_that_accept_whole_numbers_of_orders_do_not_bound_every_test() {
    let (p0, p1) = (0.6, 0.9);
    // A test that no cut with a whole number of orders at the cut is as good as.
    let undominated = EVERY_TEST[7].iter().find(|test| {
        let (alpha, beta) = (power(test, p0), 1.0 - power(test, p1));
        alpha < 0.3
            && beta < 0.3
            && (0..=8_u8).all(|cut| {
                (0..=choose(8, cut).round() as u32).all(|orders| {
                    let whole =
                        |k: u8| if k > cut { choose(8, k).round() as u32 } else { u32::from(k == cut) * orders };
                    let cut: Accepted = (0..=8).map(whole).collect();
                    power(&cut, p0) > alpha + 1e-9 || 1.0 - power(&cut, p1) > beta + 1e-9
                })
            })
    });
    let test = undominated.expect("there is one");
    let goal = Goal { p0, p1, alpha: power(test, p0), beta: 1.0 - power(test, p1) };
    assert!(!out_of_reach(&goal, 8));
}

fn some_goals() -> impl Iterator<Item = Goal> {
    [(0.5, 0.8), (0.5, 0.95), (0.6, 0.9), (0.65, 0.9), (0.7, 0.95)].into_iter().flat_map(|(p0, p1)| {
        [0.02, 0.05, 0.1, 0.2]
            .into_iter()
            .flat_map(move |alpha| [0.05, 0.1, 0.3].map(|beta| Goal { p0, p1, alpha, beta }))
    })
}

#[test]
fn most_smallest_caps_are_proven_and_none_is_below_the_bound_of_neyman_and_pearson() {
    let (mut proven, mut all) = (0, 0);
    for goal in some_goals() {
        let answers: Vec<Found> = (1..=60).map(|cap| goal.any(cap)).collect();
        let found = answers.iter().position(|found| matches!(found, Found::Bounds(_)));
        let Some(found) = found else { continue };
        let last_none = answers.iter().rposition(|found| *found == Found::None);
        assert!(last_none.is_none_or(|last| last < found), "{goal:?}: none at more than enough");
        for (cap, found) in (1..).zip(&answers) {
            assert!(!out_of_reach(&goal, cap) || *found == Found::None, "{goal:?} {cap}");
        }
        all += 1;
        proven += usize::from(last_none.map_or(0, |last| last + 1) == found);
    }
    assert!(all >= 50 && proven * 10 >= all * 7, "{proven} of {all}");
}

#[test]
fn whatever_cap_is_named_all_from_it_on_are_planned_and_none_before() {
    for (p0, p1, alpha, beta) in [(0.6, 0.9, 0.05, 0.05), (0.7, 0.9, 0.2, 0.1), (0.65, 0.9, 0.2, 0.02)] {
        let wish = Wish { p0, p1, alpha, beta, cap: 3, tries: 1 };
        let refused = ReadinessPlan::for_wish(&wish);
        let Err(PlanError::TooFew { cap: 3, enough: Some(enough) }) = refused else { panic!("{refused:?}") };
        for cap in enough.saturating_sub(3)..enough + 3 {
            let planned = ReadinessPlan::for_wish(&Wish { cap, ..wish });
            assert_eq!(planned.is_ok(), cap >= enough, "{wish:?} {cap}: {planned:?}");
            assert!(planned.is_ok_and(|plan| plan.bounds().cap() <= cap) || cap < enough);
        }
    }
}

#[test]
fn what_is_not_found_is_not_said_to_be_impossible() {
    let refused = |enough| PlanError::NotFound { cap: 12, enough }.to_string();
    assert_eq!(refused(Some(13)), "no plan with 12 problems at most was found for these error rates; 13 would do");
    assert!(refused(None).contains("nor one with 60"));
}
