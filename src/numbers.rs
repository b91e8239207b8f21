//! From one type of number to another where `From` cannot go, lists as rings, and lists in order: said once, with what happens at
//! the ends. Every module may use it.

use std::cmp::Ordering;

/// A type of whole numbers that other numbers can be cut to.
pub trait Whole {
    /// See [`whole`].
    fn cut(number: f64) -> Self;
}

/// A number without its fraction, cut toward zero: who wants it rounded rounds it first. What lies beyond the type stops
/// at the type's end, and what is no number becomes 0.
#[inline]
pub fn whole<W: Whole>(number: f64) -> W {
    W::cut(number)
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "stopping at the type's ends is what the function promises"
)]
mod cut {
    macro_rules! cut {
        ($($whole:ty)*) => {$(
            impl super::Whole for $whole {
                #[inline]
                fn cut(number: f64) -> $whole {
                    number as $whole
                }
            }
        )*};
    }
    cut!(u8 u32 u64 usize i32 i64);
}

/// A count as a real number; past 2⁵³, which nothing here counts up to, the nearest one.
#[inline]
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "nothing here counts up to 2^53")]
pub const fn real(count: usize) -> f64 {
    count as f64
}

/// A whole number 0 ≤ n < `bound` out of 64 random bits, all equally likely; 0 when the bound is 0.
#[inline]
#[must_use]
pub fn below(bits: u64, bound: u32) -> u32 {
    // Multiply-shift over the full 64 bits: the bias is below bound / 2^64, far under anything a test could see. What is
    // left after the shift is smaller than the bound.
    u32::try_from((u128::from(bits) * u128::from(bound)) >> 64).unwrap_or(u32::MAX)
}

/// A whole number `low` ≤ n ≤ `high` out of 64 random bits, all equally likely; `low` when the range is empty.
#[inline]
#[must_use]
pub fn between(bits: u64, low: i32, high: i32) -> i32 {
    let span = i64::from(high) - i64::from(low) + 1;
    low.wrapping_add_unsigned(below(bits, u32::try_from(span.max(1)).unwrap_or(u32::MAX)))
}

/// A place in a list of so many out of 64 random bits; 0 when there is none.
#[inline]
#[must_use]
pub fn place(bits: u64, count: usize) -> usize {
    below(bits, u32::try_from(count).unwrap_or(u32::MAX)) as usize
}

/// The place so many further in a list of so many, and round at its ends; 0 when there is none.
#[must_use]
pub fn round_from(place: usize, by: i32, count: usize) -> usize {
    let count = i64::try_from(count).unwrap_or(i64::MAX).max(1);
    let place = i64::try_from(place).unwrap_or(0);
    usize::try_from((place + i64::from(by)).rem_euclid(count)).unwrap_or(0)
}

/// Puts a list in order; what is alike stays as it stood. For lists that no frame waits for: the library's own sort is quicker, but
/// comes with eight kilobytes of code for each type of list, and there are forty.
pub fn arrange<T>(items: &mut [T], mut compare: impl FnMut(&T, &T) -> Ordering) {
    let order = order(items.len(), &mut |one, other| compare(&items[one], &items[other]));
    follow(&order, &mut |one, other| items.swap(one, other));
}

/// The same by what each is ordered by.
pub fn arrange_by_key<T, K: Ord>(items: &mut [T], mut key: impl FnMut(&T) -> K) {
    arrange(items, |one, other| key(one).cmp(&key(other)));
}

/// The places of a list in their order.
fn order(count: usize, compare: &mut dyn FnMut(usize, usize) -> Ordering) -> Vec<usize> {
    let mut order: Vec<usize> = (0..count).collect();
    order.sort_by(|one, other| compare(*one, *other));
    order
}

/// Brings to each place what is to stand there, by exchanges.
fn follow(order: &[usize], swap: &mut dyn FnMut(usize, usize)) {
    for at in 0..order.len() {
        // What stood at a place before this one has gone on to where that place's own came from.
        let mut from = order[at];
        while from < at {
            from = order[from];
        }
        swap(at, from);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn a_list_is_put_in_the_order_of_the_librarys_own_stable_sort(keys in prop::collection::vec(0_u8..20, 0..60)) {
            let listed: Vec<(u8, usize)> = keys.into_iter().zip(0..).collect();
            let (mut own, mut library) = (listed.clone(), listed);
            arrange_by_key(&mut own, |(key, _)| *key);
            library.sort_by_key(|(key, _)| *key);
            prop_assert_eq!(&own, &library);
            arrange(&mut own, |one, other| other.cmp(one));
            library.sort_by(|one, other| other.cmp(one));
            prop_assert_eq!(own, library);
        }
    }

    #[test]
    fn a_number_is_cut_toward_zero_and_stops_at_the_ends_of_its_type() {
        assert_eq!((whole::<u8>(2.9), whole::<u8>(256.0), whole::<u8>(-1.0)), (2, 255, 0));
        assert_eq!((whole::<i32>(-2.9), whole::<i32>(-3e9), whole::<i32>(f64::NAN)), (-2, i32::MIN, 0));
        assert_eq!((whole::<usize>(-0.5), whole::<i64>(1e300)), (0, i64::MAX));
    }

    #[test]
    fn random_bits_reach_both_ends_of_a_range_and_go_no_further() {
        assert_eq!((below(0, 7), below(u64::MAX, 7), below(u64::MAX, 0)), (0, 6, 0));
        assert_eq!((between(0, -2, 2), between(u64::MAX, -2, 2), between(u64::MAX, 5, 4)), (-2, 2, 5));
        assert_eq!(between(u64::MAX, i32::MIN, i32::MAX - 1), i32::MAX - 1);
        assert_eq!((place(u64::MAX, 3), place(u64::MAX, 0)), (2, 0));
    }

    #[test]
    fn a_list_goes_round_at_both_ends() {
        assert_eq!((round_from(3, 1, 4), round_from(0, -1, 4), round_from(1, 9, 4)), (0, 3, 2));
        assert_eq!(round_from(0, 1, 0), 0);
    }
}
