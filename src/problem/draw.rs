//! The seeded generator behind every problem.
//!
//! `rand` may change how it makes ranges and shuffles between minor versions, and a code must regenerate its problem
//! for ever; so both are written here over the raw output of ChaCha8, which is fixed.

use crate::numbers;
use rand::SeedableRng;
use rand::rand_core::Rng;
use rand::rngs::ChaCha8Rng;

/// Random choices that follow from a seed alone.
#[derive(Debug)]
pub struct Draw(ChaCha8Rng);

impl Draw {
    /// A generator for one problem. Skills differ by mark, so that adding one never shifts another's problems.
    #[must_use]
    pub fn new(mark: &str, level: u8, generation: u16, seed: u64) -> Draw {
        let mut key = [0u8; 32];
        key[..8].copy_from_slice(&seed.to_le_bytes());
        key[8] = level;
        key[10..12].copy_from_slice(&generation.to_le_bytes());
        for (slot, byte) in key[16..].iter_mut().zip(mark.bytes()) {
            *slot = byte;
        }
        Draw(ChaCha8Rng::from_seed(key))
    }

    /// The raw output.
    pub fn raw(&mut self) -> u64 {
        self.0.next_u64()
    }

    /// A whole number 0 ≤ n < `bound`, all equally likely; 0 when the bound is 0.
    pub fn below(&mut self, bound: u32) -> u32 {
        numbers::below(self.raw(), bound)
    }

    /// A whole number `low` ≤ n ≤ `high`; `low` when the range is empty.
    pub fn between(&mut self, low: i32, high: i32) -> i32 {
        numbers::between(self.raw(), low, high)
    }

    /// True in `parts` of `whole` cases.
    pub fn chance(&mut self, parts: u32, whole: u32) -> bool {
        self.below(whole) < parts
    }

    /// +1 or −1.
    pub fn sign(&mut self) -> i32 {
        if self.chance(1, 2) { 1 } else { -1 }
    }

    /// One of the items.
    ///
    /// # Panics
    /// When there are none: every list a skill picks from is a constant with items.
    pub fn pick<T: Copy>(&mut self, items: &[T]) -> T {
        items[numbers::place(self.raw(), items.len())]
    }

    /// Puts the items into random order.
    pub fn shuffle<T>(&mut self, items: &mut [T]) {
        for last in (1..items.len()).rev() {
            let other = numbers::place(self.raw(), last + 1);
            items.swap(last, other);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_seed_draws_the_same_numbers_for_ever() {
        // Pinned: these must never change while the generation is 1.
        let mut draw = Draw::new("B2", 3, 1, 4821);
        let drawn: Vec<u32> = (0..8).map(|_| draw.below(360)).collect();
        assert_eq!(drawn, PINNED);
    }

    const PINNED: [u32; 8] = [44, 329, 100, 143, 319, 34, 63, 302];

    #[test]
    fn another_mark_level_or_seed_draws_other_numbers() {
        let first = |mark, level, seed| Draw::new(mark, level, 1, seed).raw();
        let base = first("B2", 3, 7);
        assert_ne!(base, first("B4", 3, 7));
        assert_ne!(base, first("B2", 2, 7));
        assert_ne!(base, first("B2", 3, 8));
    }

    #[test]
    fn ranges_hold_both_ends_and_nothing_else() {
        let mut draw = Draw::new("A1", 1, 1, 1);
        let mut seen = [false; 5];
        for _ in 0..1000 {
            let number = draw.between(-2, 2);
            assert!((-2..=2).contains(&number));
            seen[usize::try_from(number + 2).unwrap()] = true;
        }
        assert_eq!(seen, [true; 5]);
        assert_eq!(draw.between(5, 4), 5);
        assert_eq!(draw.below(0), 0);
    }

    #[test]
    fn a_shuffle_keeps_every_item() {
        let mut items: Vec<u32> = (0..50).collect();
        Draw::new("A1", 1, 1, 9).shuffle(&mut items);
        assert_ne!(items, (0..50).collect::<Vec<_>>());
        items.sort_unstable();
        assert_eq!(items, (0..50).collect::<Vec<_>>());
    }
}
