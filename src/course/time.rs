//! How long a leg takes.
//!
//! Naismith's rule in its metric form: 12 min for a kilometre and 1 min for 10 m up (check_values.csv CV143); 10 min more for
//! every 300 m down on ground steeper than 12° (Langmuir 1984, CV149). It is the least that a fit adult needs. Young people
//! need half as much again or more: common practice, no source.

/// The time for one leg or several.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Walk {
    /// Minutes, the least for a fit adult.
    pub least_min: f64,
    /// Minutes for young people, at least.
    pub youth_min: f64,
}

impl Walk {
    const MIN_PER_M: f64 = 12.0 / 1_000.0;
    const MIN_PER_M_UP: f64 = 1.0 / 10.0;
    const MIN_PER_M_STEEP_DOWN: f64 = 10.0 / 300.0;
    /// Metres down for each metre ahead on ground that is called steep.
    const STEEP_DEG: f64 = 12.0;
    const YOUTH: f64 = 1.5;

    /// The time for so many metres ahead, up and down. Ground counts as steep where the whole leg, without its climb, falls
    /// more than 12°; steeper pieces within a gentle leg are not seen.
    pub(super) fn of(metres: f64, ascent_m: f64, descent_m: f64) -> Walk {
        let steep = descent_m > metres * Walk::STEEP_DEG.to_radians().tan();
        let down = if steep { descent_m * Walk::MIN_PER_M_STEEP_DOWN } else { 0.0 };
        let least_min = metres * Walk::MIN_PER_M + ascent_m * Walk::MIN_PER_M_UP + down;
        Walk { least_min, youth_min: least_min * Walk::YOUTH }
    }

    /// Both one after the other.
    pub(super) fn and(self, other: Walk) -> Walk {
        Walk { least_min: self.least_min + other.least_min, youth_min: self.youth_min + other.youth_min }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn twelve_minutes_a_kilometre_and_one_for_ten_metres_up() {
        // CV143: Naismith's rule; by hand 4 × 12 + 30 = 78.
        assert!((Walk::of(4_000.0, 300.0, 0.0).least_min - 78.0).abs() < 1e-9);
        assert!((Walk::of(4_000.0, 300.0, 0.0).youth_min - 117.0).abs() < 1e-9);
    }

    #[test]
    fn only_a_steep_way_down_costs_time() {
        // CV149: 10 min for every 300 m down where it is steeper than 12°; 300 m in 1,000 m is 16.7°, in 2,000 m 8.5°.
        assert!((Walk::of(1_000.0, 0.0, 300.0).least_min - 22.0).abs() < 1e-9);
        assert!((Walk::of(2_000.0, 0.0, 300.0).least_min - 24.0).abs() < 1e-9);
    }
}
