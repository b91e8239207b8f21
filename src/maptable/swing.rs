//! How the needle swings and comes to rest. For the eye only: no answer depends on it.

use crate::angle::{Angle, Bearing, True};
use std::time::Duration;

/// The time in which a swing dies down by a factor of e.
const DAMPING: f64 = 0.42;
/// The time of one swing to and fro.
const PERIOD: f64 = 1.1;
/// When even the widest swing has come within a quarter of a degree: 180 · 1.03 · e^(−t / damping) < 0.25.
const REST: Duration = Duration::from_millis(2800);

/// Where the needle stands, this long after it was let go at rest in one direction and began to seek another.
///
/// It goes the shorter way round, swings past and dies down; from [`settled`] on it stands exactly at `to`.
#[must_use]
pub fn swing(from: Bearing<True>, to: Bearing<True>, elapsed: Duration) -> Bearing<True> {
    if settled(elapsed) {
        return to;
    }
    let time = elapsed.as_secs_f64();
    let phase = std::f64::consts::TAU * time / PERIOD;
    // Released at rest: the sine makes the speed at the start nothing.
    let shape = phase.cos() + PERIOD / (std::f64::consts::TAU * DAMPING) * phase.sin();
    let off: Angle = to.turn_to(from) * (shape * (-time / DAMPING).exp());
    to.turned(off)
}

/// Whether the needle has come to rest, wherever it began.
#[must_use]
pub fn settled(elapsed: Duration) -> bool {
    elapsed >= REST
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn off(from: f64, to: f64, milliseconds: u64) -> f64 {
        let to = Bearing::from_degrees(to);
        to.turn_to(swing(Bearing::from_degrees(from), to, Duration::from_millis(milliseconds))).degrees()
    }

    #[test]
    fn the_needle_swings_past_and_settles() {
        assert!((off(90.0, 0.0, 0) - 90.0).abs() < 1e-9);
        assert!(off(90.0, 0.0, 500) < -10.0, "it swings past the other side");
        assert_eq!(off(90.0, 0.0, 2800), 0.0);
        assert!(settled(Duration::from_secs(3)) && !settled(Duration::from_secs(1)));
    }

    proptest! {
        #[test]
        fn it_comes_to_rest_without_a_jump(from in 0.0..360.0_f64, to in 0.0..360.0_f64) {
            prop_assert!(off(from, to, 2799).abs() < 0.25);
        }

        #[test]
        fn it_never_swings_wider_than_it_began(from in 0.0..360.0_f64, to in 0.0..360.0_f64, time in 0..4000_u64) {
            prop_assert!(off(from, to, time).abs() <= off(from, to, 0).abs() + 1e-6);
        }
    }
}
