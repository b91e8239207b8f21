//! Fisher's test beside published values and beside a slow twin.
#![expect(clippy::cast_precision_loss, reason = "what a test counts and draws is small")]

use super::super::fisher::fisher;
use super::*;

fn p((times, of): (usize, usize), (other_times, other_of): (usize, usize)) -> f64 {
    fisher(Tally { times, of }, Tally { times: other_times, of: other_of })
}

fn close(one: f64, other: f64) {
    assert!((one - other).abs() <= 1e-9 * other, "{one} is not {other}");
}

/// Tables and printed values from memory; recomputed here as exact fractions with Python's `math.comb` and `fractions`
/// (scipy was not at hand).
#[test]
fn published_tables_come_out_as_published() {
    // Fisher's lady who tastes tea, as in the examples of R's fisher.test: two-sided p = 0.4857143; all right: 0.02857143.
    close(p((3, 4), (1, 4)), 17.0 / 35.0);
    close(p((4, 4), (0, 4)), 1.0 / 35.0);
    // Fisher's twins (convictions), the same page: two-sided p = 0.0005367.
    close(p((2, 17), (10, 13)), 3571.0 / 6_653_325.0);
    close(p((5, 6), (0, 7)), 2.0 / 429.0);
    close(p((6, 6), (0, 6)), 1.0 / 462.0);
}

#[test]
fn an_empty_margin_tells_nothing() {
    for table in [((0, 0), (0, 0)), ((0, 5), (0, 9)), ((5, 5), (9, 9)), ((0, 0), (3, 9))] {
        assert_eq!(p(table.0, table.1), 1.0, "{table:?}");
    }
}

#[test]
fn a_table_of_thousands_stays_a_probability() {
    let p = |times| p((times, 50_000), (25_000, 50_000));
    assert!((0.999..=1.0).contains(&p(25_000)));
    // Beside the normal curve with Yates' correction, which at this size is as good: z = 2.5235.
    assert!((p(25_400) - 0.01162).abs() < 1e-5, "{}", p(25_400));
    assert!((0.0..1e-100).contains(&p(50_000)));
}

/// The slow twin: whole numbers of ways, added up exactly.
fn ways(of: u128, times: u128) -> u128 {
    (0..times).fold(1, |ways, at| ways * (of - at) / (at + 1))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]
    #[test]
    fn it_agrees_with_counting_all_tables(one in (0_u128..=25, 0_u128..=25), other in (0_u128..=25, 0_u128..=25)) {
        let ((a, b), (c, d)) = (one, other);
        let weight = |here: u128| ways(a + b, here) * ways(c + d, a + c - here);
        let seen = weight(a);
        let possible = (a + c).saturating_sub(c + d)..=(a + c).min(a + b);
        let as_unlikely: u128 = possible.map(weight).filter(|weight| *weight <= seen).sum();
        let exact = as_unlikely as f64 / ways(a + b + c + d, a + c) as f64;
        let size = |number: u128| number as usize;
        let ours = p((size(a), size(a + b)), (size(c), size(c + d)));
        prop_assert!((ours - exact).abs() <= 1e-9 * exact, "{ours} is not {exact}");
        let turned = p((size(c), size(c + d)), (size(a), size(a + b)));
        prop_assert!((ours - turned).abs() <= 1e-9 * ours, "the sides may be exchanged");
    }
}
