//! What the words mean, and that no place in the list is the right one.

use super::feature::plan;
use super::*;
use crate::numbers::real;

#[test]
fn along_leads_across_behind_stops_and_a_spot_near_is_where_one_starts_the_last_piece() {
    // Common practice, no source.
    let role = |lies| Feature { name: "stream", lies }.role(800);
    assert_eq!(role(Lies::Beside { aside: -40 }), Some(Role::Handrail));
    assert_eq!(role(Lies::Across { at: 300 }), Some(Role::Collecting));
    assert_eq!(role(Lies::Across { at: 950 }), Some(Role::Catching));
    assert_eq!(role(Lies::Spot { at: 720, aside: 0 }), Some(Role::AttackPoint));
    assert_eq!(role(Lies::Spot { at: 300, aside: 300 }), None);
}

#[test]
fn each_role_and_each_way_is_right_as_often_as_another() {
    for level in Level::ALL {
        let choices = [4, 5, 5, 3][usize::from(level.number()) - 1];
        let rights: Vec<usize> = (0..3_000)
            .map(|seed| RouteFeatures.draw(level, None, &mut Draw::new("G2", level.number(), 1, seed)).right())
            .collect();
        for choice in 0..choices {
            let share = real(rights.iter().filter(|right| **right == choice).count()) / real(rights.len());
            assert!((share - 1.0 / real(choices)).abs() < 0.04, "level {level}: {choice} in {share}");
        }
    }
}

#[test]
fn one_of_five_is_good_for_what_is_asked_and_one_of_three_ways_is_safe() {
    for seed in 0..2_000 {
        for level in [Level::TWO, Level::THREE, Level::FOUR] {
            let item = RouteFeatures.draw(level, None, &mut Draw::new("G2", level.number(), 1, seed));
            let fits = match &item.task {
                Task::Which { asked, features, .. } => {
                    features.iter().filter(|feature| feature.role(item.leg) == Some(*asked)).count()
                }
                Task::Safest(ways) => ways.iter().filter(|way| way.fault().is_none()).count(),
                Task::What(_) => 1,
            };
            assert_eq!(fits, 1);
        }
    }
}

#[test]
fn a_plan_that_must_be_read_tells_every_feature_to_who_hears_it() {
    let item = RouteFeatures.draw(Level::THREE, None, &mut Draw::new("G2", 3, 1, 7));
    let Task::Which { features, .. } = &item.task else { panic!("a plan") };
    let Figure::Plan(drawn) = plan(&item, features, (None, None), true) else { panic!("a plan") };
    for feature in features {
        assert!(drawn.words.contains(&feature.sentence(item.leg, item.goal)), "{}", drawn.words);
        let named = drawn.lines.iter().any(|line| line.label == feature.name);
        assert!(named || drawn.places.iter().any(|place| place.name == feature.name), "{}", feature.name);
    }
}
