//! That resection chooses its marks by the angle at which their lines cut, and nothing else.

use super::*;
use crate::problem::{Code, realise};
use proptest::prelude::*;

proptest! {
    /// With the same error in both bearings the fix slides on the circle through both marks and the place, by
    /// AB·sin e / sin(angle between the marks) (inscribed angles; plane geometry).
    #[test]
    fn a_constant_error_slides_the_fix_on_the_circle_through_both_marks(
        e in -25.0..25.0_f64, (ax, ay) in (-3e3..3e3_f64, -3e3..3e3_f64), (bx, by) in (-3e3..3e3_f64, -3e3..3e3_f64),
    ) {
        let at = |easting_m, northing_m| GridPosition { easting_m, northing_m };
        let (stand, one, other) = (at(50_000.0, 50_000.0), at(50_000.0 + ax, 50_000.0 + ay), at(50_000.0 + bx, 50_000.0 + by));
        let (first, second) = (stand.leg_to(one), stand.leg_to(other));
        let angle = first.bearing.turn_to(second.bearing).degrees().abs();
        prop_assume!((20.0..160.0).contains(&angle) && first.distance_m > 200.0 && second.distance_m > 200.0);
        let by = Angle::from_degrees(e);
        let slid = intersection((one, first.bearing.turned(by)), (other, second.bearing.turned(by))).unwrap().at;
        let sine = |degrees: f64| degrees.to_radians().sin();
        let base = one.leg_to(other).distance_m;
        let moved = stand.leg_to(slid).distance_m;
        prop_assert!((moved - base * sine(e.abs()) / sine(angle)).abs() < 1e-3 * moved.max(1.0), "{moved}");
        // Through both marks the circle has this diameter; the slid fix sees them at the same angle or its rest to 180.
        prop_assume!(slid.leg_to(one).distance_m > 5.0 && slid.leg_to(other).distance_m > 5.0);
        let seen = slid.leg_to(one).bearing.turn_to(slid.leg_to(other).bearing).degrees().abs();
        prop_assert!((seen - angle).abs() < 1e-3 || (180.0 - seen - angle).abs() < 1e-3, "{seen} beside {angle}");
    }
}

#[test]
fn a_bearing_that_is_not_reversed_draws_the_same_line() {
    for seed in 0..40 {
        let item = Resection.draw(Level::TWO, None, &mut Draw::new("F2", 2, META.generation, seed));
        let onward = item.cross(item.chosen(), [Angle::from_degrees(180.0), Angle::ZERO]);
        assert!(onward.is_some_and(|at| at.leg_to(item.fix.at).distance_m < 2.0), "seed {seed}");
    }
}

/// How often a pair by its place in the text alone, sums and lines well done, comes out right.
fn right_by_place(level: Level, [one, other]: [usize; 2]) -> usize {
    let comes_right = |seed: &u64| {
        let item = Resection.draw(level, None, &mut Draw::new("F2", level.number(), META.generation, *seed));
        let right = |at: GridPosition| at.leg_to(item.fix.at).distance_m <= tolerance_m(item.ground.scale());
        item.cross([item.sights[one], item.sights[other]], [Angle::ZERO; 2]).is_some_and(right)
    };
    (0..200).filter(comes_right).count()
}

#[test]
fn no_place_in_the_text_chooses_the_marks() {
    for (level, marks) in [(Level::THREE, 3), (Level::FOUR, 4)] {
        for one in 0..marks {
            for other in one + 1..marks {
                let right = right_by_place(level, [one, other]);
                assert!(right <= 120, "level {level}, {one} and {other}: right {right} times of 200");
            }
        }
    }
}

#[test]
fn each_level_is_as_hard_as_it_says() {
    for level in Level::ALL {
        for seed in 0..60 {
            let item = Resection.draw(level, None, &mut Draw::new("F2", level.number(), META.generation, seed));
            assert_eq!(item.sights.len(), usize::from(level.number()).max(2), "level {level} seed {seed}");
            assert!(item.fix.cut.degrees() >= CUTS_WELL && item.fits(level), "level {level} seed {seed}");
            let problem = realise(&Code { skill: &Resection, level, seed, home: None }).expect("a problem");
            for meta in [&NOT_APPLIED, &SIGN_FLIPPED] {
                assert!(problem.exposes(meta.id), "{}: {}", problem.code(), meta.id);
            }
            assert_eq!(problem.exposes(POOR_CUT.id), level >= Level::THREE, "{}", problem.code());
        }
    }
}

#[test]
fn the_lines_of_somebody_who_used_the_poor_marks_are_drawn_from_these() {
    let mut poor = 0;
    for seed in 0..60 {
        let item = Resection.draw(Level::THREE, None, &mut Draw::new("F2", 3, META.generation, seed));
        let drawn = |at: GridPosition| {
            let Figure::Map(map) = Resection.explanation(&item, Some(&answer(at))) else { panic!("a map") };
            let theirs = map.rays.into_iter().filter(|ray| ray.role == LineRole::Learner);
            theirs.map(|ray| ray.from).collect::<Vec<_>>()
        };
        let far = item.wrong_places().into_iter().find(|(meta, _)| meta.id == NOT_APPLIED.id).unwrap();
        assert_eq!(drawn(far.1.unwrap()), item.chosen().map(|sight| sight.at), "seed {seed}");
        let places = item.wrong_places();
        let Some(at) = places.iter().find(|(meta, _)| meta.id == POOR_CUT.id).and_then(|(_, at)| *at) else { continue };
        assert_eq!(drawn(at), item.poor_pair().unwrap().map(|sight| sight.at), "seed {seed}");
        poor += 1;
    }
    assert!(poor > 40, "{poor}");
}
