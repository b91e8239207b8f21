//! The declination diagram of home ground.

use crate::angle::{Angle, Convergence, Declination, North};
use crate::numbers;
use crate::problem::Prong;

/// Two norths nearer than this are drawn as one line: half of the least that is printed.
const DRAWN_AS_ONE: Angle = Angle::from_minutes(0.5);
/// The least and the most between two neighbours in the drawing.
const NARROW_DEG: f64 = 12.0;
const WIDE_DEG: f64 = 26.0;
/// Angles between are drawn so many times too large.
const ENLARGEMENT: f64 = 2.0;

/// The prongs, true north straight up, declination and convergence printed (a third number would crowd a small diagram).
/// Narrow angles are drawn wider and wide ones narrower than they are, as on a map's margin; which north lies clockwise of
/// which is always true to nature.
#[must_use]
pub fn prongs(declination: Option<Declination>, convergence: Option<Convergence>) -> Vec<Prong> {
    let mut norths = vec![(North::True, Angle::ZERO)];
    norths.extend(convergence.map(|convergence| (North::Grid, convergence.angle())));
    norths.extend(declination.map(|declination| (North::Magnetic, declination.angle())));
    numbers::arrange_by_key(&mut norths, |(_, angle)| *angle);

    let mut drawn: Vec<(North, Angle)> = Vec::with_capacity(norths.len());
    let mut before: Option<(Angle, Angle)> = None;
    for (north, real) in norths {
        let at = before.map_or(Angle::ZERO, |(real_before, at)| at + shown(real - real_before));
        drawn.push((north, at));
        before = Some((real, at));
    }
    let up = drawn.iter().find(|(north, _)| *north == North::True).map_or(Angle::ZERO, |(_, at)| *at);

    let declination = declination.map(|known| (North::True, known.to_string()));
    let from_true = convergence.map(|known| (North::True, known.to_string()));
    drawn
        .into_iter()
        .map(|(north, at)| {
            let printed = match north {
                North::True => None,
                North::Grid => from_true.clone(),
                North::Magnetic => declination.clone(),
            };
            Prong { north, drawn: at - up, printed }
        })
        .collect()
}

/// How an angle between two neighbours is drawn.
fn shown(gap: Angle) -> Angle {
    if gap < DRAWN_AS_ONE {
        return Angle::ZERO;
    }
    Angle::from_degrees((gap.degrees() * ENLARGEMENT).clamp(NARROW_DEG, WIDE_DEG))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn drawn(declination: f64, convergence: f64) -> Vec<(North, f64)> {
        prongs(Some(Declination::from_degrees(declination)), Some(Convergence::from_degrees(convergence)))
            .into_iter()
            .map(|prong| (prong.north, prong.drawn.degrees()))
            .collect()
    }

    #[test]
    fn both_norths_west_stand_left_of_true_north_in_their_order() {
        let prongs = drawn(-8.0, -1.0);
        assert_eq!(prongs, [(North::Magnetic, -26.0), (North::Grid, -12.0), (North::True, 0.0)]);
    }

    #[test]
    fn a_huge_declination_is_drawn_narrower_than_it_is() {
        assert_eq!(drawn(-80.0, 1.0), [(North::Magnetic, -26.0), (North::True, 0.0), (North::Grid, 12.0)]);
    }

    #[test]
    fn norths_that_print_alike_are_drawn_as_one_line() {
        assert_eq!(drawn(0.001, 0.0).iter().map(|prong| prong.1).collect::<Vec<_>>(), [0.0, 0.0, 0.0]);
    }

    #[test]
    fn the_printed_angles_are_the_real_ones() {
        let prongs = prongs(Some(Declination::from_degrees(-9.6)), Some(Convergence::from_degrees(1.5)));
        let printed: Vec<_> = prongs.into_iter().map(|prong| prong.printed).collect();
        assert_eq!(
            printed,
            [Some((North::True, "9°36′ W".to_owned())), None, Some((North::True, "1°30′ E".to_owned()))]
        );
    }

    #[test]
    fn what_is_not_known_is_not_drawn() {
        assert_eq!(prongs(None, None), [Prong { north: North::True, drawn: Angle::ZERO, printed: None }]);
        assert_eq!(prongs(None, Some(Convergence::from_degrees(1.0))).len(), 2);
    }

    proptest! {
        #[test]
        fn the_order_of_the_norths_is_always_the_real_one(declination in -180.0..180.0, convergence in -5.0..5.0) {
            let prongs = drawn(declination, convergence);
            let at = |wanted: North| prongs.iter().find(|(north, _)| *north == wanted).unwrap().1;
            prop_assert_eq!(at(North::True), 0.0);
            let real = [(North::True, 0.0), (North::Grid, convergence), (North::Magnetic, declination)];
            for (a, real_a) in real {
                for (b, real_b) in real {
                    if real_a - real_b >= 1.0 / 60.0 {
                        prop_assert!(at(a) - at(b) >= NARROW_DEG - 1e-9, "{:?}", prongs);
                    }
                }
            }
            prop_assert!(prongs.iter().all(|(_, at)| at.abs() <= 2.0 * WIDE_DEG));
        }
    }
}
