//! Random choices behind a map.
//!
//! The same way of drawing as for problems, with its own key: `terrain` stands above `problem` and may not use it. Raw
//! output of ChaCha8 with own ranges, so that a map never changes with a version of `rand`.
use crate::numbers;
use rand::SeedableRng;
use rand::rand_core::Rng;
use rand::rngs::ChaCha8Rng;

/// Random choices that follow from a seed alone.
#[derive(Debug)]
pub(super) struct Draw(ChaCha8Rng);

impl Draw {
    /// A generator for one part of a map. Parts differ by name, so that a change to one never shifts another.
    pub(super) fn new(part: &str, seed: u64) -> Draw {
        let mut key = [0u8; 32];
        key[..8].copy_from_slice(&seed.to_le_bytes());
        key[8..15].copy_from_slice(b"terrain");
        for (slot, byte) in key[16..].iter_mut().zip(part.bytes()) {
            *slot = byte;
        }
        Draw(ChaCha8Rng::from_seed(key))
    }

    /// A whole number 0 ≤ n < `bound`, all equally likely; 0 when the bound is 0.
    pub(super) fn below(&mut self, bound: u32) -> u32 {
        numbers::below(self.0.next_u64(), bound)
    }

    /// A whole number `low` ≤ n ≤ `high`; `low` when the range is empty.
    pub(super) fn between(&mut self, low: i32, high: i32) -> i32 {
        numbers::between(self.0.next_u64(), low, high)
    }

    /// A number from `low` to `high` in steps of a tenth: tenths keep drawn figures short and the same everywhere.
    pub(super) fn tenths(&mut self, low: f64, high: f64) -> f64 {
        f64::from(self.between(numbers::whole((low * 10.0).round()), numbers::whole((high * 10.0).round()))) / 10.0
    }

    /// True in `parts` of `whole` cases.
    pub(super) fn chance(&mut self, parts: u32, whole: u32) -> bool {
        self.below(whole) < parts
    }

    /// +1 or −1.
    pub(super) fn sign(&mut self) -> f64 {
        if self.chance(1, 2) { 1.0 } else { -1.0 }
    }

    /// One of the items; there must be some.
    pub(super) fn pick<T: Copy>(&mut self, items: &[T]) -> T {
        items[numbers::place(self.0.next_u64(), items.len())]
    }

    /// Puts the items into random order.
    pub(super) fn shuffle<T>(&mut self, items: &mut [T]) {
        for last in (1..items.len()).rev() {
            let other = numbers::place(self.0.next_u64(), last + 1);
            items.swap(last, other);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_seed_draws_the_same_numbers_for_ever() {
        let mut draw = Draw::new("relief", 4821);
        let drawn: Vec<u32> = (0..8).map(|_| draw.below(360)).collect();
        assert_eq!(drawn, PINNED);
    }

    const PINNED: [u32; 8] = [183, 10, 210, 73, 110, 4, 59, 246];

    #[test]
    fn another_part_or_seed_draws_other_numbers() {
        let first = |part, seed| Draw::new(part, seed).0.next_u64();
        assert_ne!(first("relief", 7), first("names", 7));
        assert_ne!(first("relief", 7), first("relief", 8));
    }

    #[test]
    fn tenths_hold_both_ends() {
        let mut draw = Draw::new("relief", 1);
        let drawn: Vec<f64> = (0..400).map(|_| draw.tenths(-0.2, 0.3)).collect();
        assert!(drawn.contains(&-0.2) && drawn.contains(&0.3));
        assert!(drawn.iter().all(|number| (-0.2..=0.3).contains(number)));
    }
}
