//! The sum of a conversion, as one would do it on paper.

use crate::angle::{Angle, ConversionRule, North, three_figures};

/// What the last figure counts, by the number of decimals.
const STEPS: [Angle; 3] = [Angle::from_degrees(1.0), Angle::from_degrees(0.1), Angle::from_degrees(0.01)];

/// A bearing and how far the wanted north lies east of the bearing's own, both rounded as they are printed, so that the
/// sum on the screen is right to its last figure.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sum {
    bearing: Angle,
    east: Angle,
    decimals: usize,
}

impl Sum {
    /// The sum for a bearing (0 to 360 degrees) and an offset (−180 to 180 degrees, east positive).
    pub fn new(bearing: Angle, east: Angle) -> Sum {
        let decimals = decimals(bearing).max(decimals(east));
        let step = STEPS[decimals];
        // Wrapped after rounding: 359.96 is printed as 000.0, and the sum must go on from there.
        Sum { bearing: bearing.rounded_to(step).wrapped(), east: east.rounded_to(step), decimals }
    }

    /// How many decimals it is done with.
    pub const fn decimals(&self) -> usize {
        self.decimals
    }

    /// What comes out.
    pub fn result(&self) -> Angle {
        (self.bearing - self.east).wrapped()
    }

    /// `From map (true) to compass (magnetic), west is added: 048 + 17 = 065`.
    pub fn words(&self, from: North, to: North) -> String {
        let rule = ConversionRule { from, to, east: self.east };
        if self.east == Angle::ZERO {
            return format!("{rule}: the two norths lie in one line.");
        }
        let sign = if self.east > Angle::ZERO { '−' } else { '+' };
        let off = self.bearing - self.east;
        let size = format!("{:.*}", self.decimals, self.east.abs().degrees());
        let sum =
            format!("{rule}: {} {sign} {size} = {}", three_figures(self.bearing, self.decimals), self.unwrapped(off));
        let back = match off {
            off if off < Angle::ZERO => "below zero, so add 360",
            off if off != off.wrapped() => "past north, so take off 360",
            _ => return sum,
        };
        format!("{sum}; {back}: {}", three_figures(off, self.decimals))
    }

    /// Three figures, also from 360 on; a size below zero with its sign.
    fn unwrapped(&self, angle: Angle) -> String {
        let (size, decimals) = (angle.abs().degrees(), self.decimals);
        if angle < Angle::ZERO {
            return format!("−{size:.decimals$}");
        }
        let width = 3 + if decimals > 0 { decimals + 1 } else { 0 };
        format!("{size:0width$.decimals$}")
    }
}

/// The fewest decimals, at most two, that show an angle as it is; one if none do.
fn decimals(angle: Angle) -> usize {
    STEPS.iter().position(|step| angle.rounded_to(*step) == angle).unwrap_or(1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn words(bearing: f64, east: f64, from: North, to: North) -> String {
        Sum::new(Angle::from_degrees(bearing), Angle::from_degrees(east)).words(from, to)
    }

    #[test]
    fn the_sum_names_its_direction() {
        assert_eq!(
            words(48.0, -17.0, North::True, North::Magnetic),
            "From map (true) to compass (magnetic), west is added: 048 + 17 = 065"
        );
        // The way back: true north lies east of a west declination's magnetic north, and the map prints west.
        assert_eq!(
            words(65.0, 17.0, North::Magnetic, North::True),
            "From compass (magnetic) to map (true), west is taken off: 065 − 17 = 048"
        );
        assert_eq!(
            words(100.0, 12.5, North::Grid, North::Magnetic),
            "From map (grid) to compass (magnetic), east is taken off: 100.0 − 12.5 = 087.5"
        );
        assert_eq!(
            words(100.0, -1.5, North::Grid, North::True),
            "From map (grid) to map (true), east is added: 100.0 + 1.5 = 101.5"
        );
        assert_eq!(
            words(100.0, 1.5, North::True, North::Grid),
            "From map (true) to map (grid), east is taken off: 100.0 − 1.5 = 098.5"
        );
    }

    #[test]
    fn the_sum_shows_how_it_comes_back_onto_the_circle() {
        assert_eq!(
            words(5.0, 12.0, North::True, North::Magnetic),
            "From map (true) to compass (magnetic), east is taken off: 005 − 12 = −7; below zero, so add 360: 353"
        );
        assert_eq!(
            words(350.0, -15.0, North::True, North::Magnetic),
            "From map (true) to compass (magnetic), west is added: 350 + 15 = 365; past north, so take off 360: 005"
        );
        assert_eq!(
            words(350.0, -10.0, North::True, North::Magnetic),
            "From map (true) to compass (magnetic), west is added: 350 + 10 = 360; past north, so take off 360: 000"
        );
        assert_eq!(
            words(360.0, -10.0, North::True, North::Magnetic),
            "From map (true) to compass (magnetic), west is added: 000 + 10 = 010"
        );
    }

    #[test]
    fn no_angle_between_the_norths_means_nothing_changes() {
        assert_eq!(
            words(90.0, 0.0, North::True, North::Magnetic),
            "From map (true) to compass (magnetic), nothing changes: the two norths lie in one line."
        );
    }

    #[test]
    fn numbers_are_shown_as_given_and_odd_ones_to_a_tenth() {
        assert!(words(65.25, -9.6, North::True, North::Magnetic).ends_with("065.25 + 9.60 = 074.85"));
        assert!(words(65.0, -(9.0 + 41.0 / 60.0), North::True, North::Magnetic).ends_with("065.0 + 9.7 = 074.7"));
    }

    #[test]
    fn a_bearing_that_rounds_to_north_is_counted_from_zero() {
        assert!(
            words(359.961, 1.069, North::True, North::Magnetic)
                .ends_with("000.0 − 1.1 = −1.1; below zero, so add 360: 358.9")
        );
    }

    proptest! {
        #[test]
        fn the_printed_sum_is_right_to_its_last_figure(bearing in 0.0..360.0, east in -180.0..180.0) {
            let sum = Sum::new(Angle::from_degrees(bearing), Angle::from_degrees(east));
            let text = sum.words(North::True, North::Magnetic);
            prop_assume!(!text.contains("nothing"));
            let terms = text.split_once(": ").unwrap().1.split("; ").next().unwrap().replace('−', "-");
            let parts: Vec<&str> = terms.split(' ').collect();
            let number = |at: usize| parts[at].parse::<f64>().unwrap();
            let expected = if parts[1] == "-" { number(0) - number(2) } else { number(0) + number(2) };
            prop_assert!((expected - number(4)).abs() < 1e-6, "{}", text);
            let exact = (bearing - east).rem_euclid(360.0);
            let off = (sum.result().degrees() - exact).abs();
            prop_assert!(off.min(360.0 - off) <= 0.1 + 1e-6, "{}", text);
        }
    }
}
