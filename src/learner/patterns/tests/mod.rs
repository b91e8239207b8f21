//! Which patterns are said, and which are not.

mod chance;
mod exact;
mod readings;

use super::*;
use crate::problem::{Family, MixupClass, MixupId, NorthLines};
use proptest::prelude::*;

const fn mixup(id: &'static str, said: &'static str) -> MixupMeta {
    MixupMeta { id: MixupId(id), class: MixupClass::Sign, said, mend: "Look at the sketch." }
}

static SKILL: SkillMeta = SkillMeta {
    id: "map-to-compass",
    mark: "B2",
    family: Family::Norths,
    title: "From map to compass",
    can: "Can do it.",
    levels: ["one", "two", "three", "four"],
    prerequisites: &[],
    mixups: &[mixup("sign-flipped", "applied it the wrong way round"), mixup("forgotten", "left it out")],
    lines: NorthLines::Any,
    on_home: false,
    generation: 1,
};

/// An item as the tests tell it; east, to the compass, not past north and at level 1 unless said otherwise.
#[derive(Clone)]
struct Told {
    level: u8,
    declination: i32,
    from: i32,
    to_compass: bool,
    mixup: Option<&'static str>,
    exposed: Vec<String>,
    hinted: bool,
}

fn told(declination: i32, fell: bool) -> Told {
    let exposed = SKILL.mixups.iter().map(|mixup| mixup.id.to_string()).collect();
    let mixup = fell.then_some("sign-flipped");
    Told { level: 1, declination, from: 100, to_compass: true, mixup, exposed, hinted: false }
}

impl Told {
    fn facts(&self) -> String {
        let (given, wanted) =
            if self.to_compass { ("true_bearing_deg", "magnetic") } else { ("magnetic_bearing_deg", "true") };
        let Told { from, declination, .. } = self;
        format!(r#"{{"{given}":{from},"declination_deg":{declination},"wanted_north":"{wanted}"}}"#)
    }
}

fn found(all: &[Told]) -> Vec<Pattern> {
    let facts: Vec<String> = all.iter().map(Told::facts).collect();
    let items: Vec<AnsweredItem<'_>> = all
        .iter()
        .zip(&facts)
        .map(|(told, facts)| AnsweredItem {
            level: Level::new(told.level).unwrap(),
            facts,
            exposed: &told.exposed,
            mixup: told.mixup,
            hinted: told.hinted,
        })
        .collect();
    patterns(&SKILL, &items)
}

fn said(all: &[Told]) -> Vec<String> {
    found(all).iter().map(|pattern| format!("you {}, {}", pattern.mixup.said, pattern.words())).collect()
}

/// So many items of either letter, of which so many fell.
fn by_letter((east_fell, east): (usize, usize), (west_fell, west): (usize, usize)) -> Vec<Told> {
    let side = |declination, fell, of| (0..of).map(move |at| told(declination, at < fell));
    side(12, east_fell, east).chain(side(-12, west_fell, west)).collect()
}

#[test]
fn a_sign_that_is_wrong_only_for_east_is_said_so() {
    assert_eq!(
        said(&by_letter((5, 6), (0, 7))),
        ["you applied it the wrong way round, only when the declination is east (5 of 6; 0 of 7 when it is west)"]
    );
    assert_eq!(
        said(&by_letter((0, 7), (5, 6))),
        ["you applied it the wrong way round, only when the declination is west (5 of 6; 0 of 7 when it is east)"]
    );
}

#[test]
fn only_mostly_and_more_often_are_told_apart() {
    let phrase = |items: &[Told]| found(items).iter().map(Pattern::phrase).collect::<Vec<_>>();
    assert_eq!(phrase(&by_letter((9, 10), (0, 10))), ["only when the declination is east"]);
    assert_eq!(phrase(&by_letter((9, 10), (1, 10))), ["mostly when the declination is east"]);
    // Six times in 50 west items as well: most of it did not happen with east.
    assert_eq!(phrase(&by_letter((5, 6), (6, 50))), ["more often when the declination is east"]);
}

#[test]
fn three_items_on_a_side_are_too_few() {
    assert_eq!(found(&by_letter((3, 3), (0, 60))), []);
    assert_eq!(found(&by_letter((4, 4), (0, 60))).len(), 1);
}

#[test]
fn a_learner_who_falls_everywhere_has_no_pattern() {
    assert_eq!(found(&by_letter((20, 20), (20, 20))), []);
    assert_eq!(found(&by_letter((10, 20), (11, 20))), []);
}

#[test]
fn a_learner_who_never_falls_and_one_who_never_answered_have_no_pattern() {
    assert_eq!(found(&by_letter((0, 20), (0, 20))), []);
    assert_eq!(found(&[]), []);
}

#[test]
fn hinted_items_do_not_count() {
    let mut items = by_letter((5, 6), (0, 7));
    items.iter_mut().filter(|item| item.declination > 0).take(3).for_each(|item| item.hinted = true);
    assert_eq!(found(&items), []);
}

#[test]
fn items_that_cannot_show_the_mixup_do_not_count() {
    let mut items = by_letter((5, 6), (0, 7));
    let without = vec!["forgotten".to_owned()];
    items.iter_mut().filter(|item| item.declination < 0).take(4).for_each(|item| item.exposed = without.clone());
    assert_eq!(found(&items), []);
}

#[test]
fn another_mixup_on_the_other_side_has_a_pattern_of_its_own() {
    let mut items = by_letter((6, 6), (0, 8));
    items.iter_mut().filter(|item| item.declination < 0).for_each(|item| item.mixup = Some("forgotten"));
    assert_eq!(
        said(&items),
        [
            "you applied it the wrong way round, only when the declination is east (6 of 6; 0 of 8 when it is west)",
            "you left it out, only when the declination is west (8 of 8; 0 of 6 when it is east)",
        ]
    );
}

#[test]
fn one_direction_only_is_said_in_words_of_map_and_compass() {
    let mut items = by_letter((0, 12), (0, 12));
    for (at, item) in items.iter_mut().enumerate() {
        item.to_compass = at % 2 == 0;
        item.mixup = (!item.to_compass).then_some("sign-flipped");
    }
    assert_eq!(
        said(&items),
        ["you applied it the wrong way round, only from compass to map (12 of 12; 0 of 12 from map to compass)"]
    );
}

#[test]
fn of_two_features_the_one_that_tells_more_is_said() {
    // East all the time, and nine in ten of the falls are on the way to the compass as well.
    let mut items = by_letter((10, 10), (0, 10));
    items.iter_mut().enumerate().for_each(|(at, item)| item.to_compass = !(9..=15).contains(&at));
    assert_eq!(found(&items)[0].side, Side::East(Applied::Declination));
}

#[test]
fn of_two_features_that_tell_the_same_the_first_is_said() {
    let mut items = by_letter((10, 10), (0, 10));
    items.iter_mut().for_each(|item| item.to_compass = item.declination < 0);
    assert_eq!(found(&items)[0].side, Side::East(Applied::Declination));
}

/// Past north and the level, for the same falls: 8 of 8 that pass north at level 3, none of the others.
#[test]
fn passing_north_is_told_from_the_level_it_comes_at() {
    let mut items: Vec<Told> = (0..24).map(|at| told(if at % 2 == 0 { 12 } else { -12 }, false)).collect();
    for item in &mut items[8..] {
        item.level = 3;
    }
    let mut higher = items.clone();
    for item in &mut items[16..] {
        item.from = if item.declination > 0 { 5 } else { 355 };
        item.mixup = Some("sign-flipped");
    }
    assert_eq!(
        said(&items),
        ["you applied it the wrong way round, only when the number passes north (8 of 8; 0 of 16 when it does not)"]
    );
    for item in &mut higher[8..] {
        item.mixup = Some("sign-flipped");
    }
    assert_eq!(
        said(&higher),
        ["you applied it the wrong way round, only at levels 3 and 4 (16 of 16; 0 of 8 at levels 1 and 2)"]
    );
}

#[test]
fn who_has_got_over_a_mixup_is_not_told_that_it_comes_at_low_levels() {
    let mut items: Vec<Told> = (0..30).map(|at| told(if at % 2 == 0 { 12 } else { -12 }, at < 15)).collect();
    for (at, item) in items[15..].iter_mut().enumerate() {
        item.level = 3;
        item.from = if at % 3 == 0 { 100 } else { 180 - 175 * item.declination.signum() };
    }
    assert_eq!(found(&items), []);
}

#[test]
fn each_feature_that_is_tried_makes_all_of_them_stricter() {
    // Alone the letter is said at p = .0286 (4 of 4 against 0 of 4); with the way tried beside it no more.
    let mut items = by_letter((4, 4), (0, 4));
    let p = found(&items)[0].p;
    assert!(p > SHARED_ERROR / 2.0 && p <= SHARED_ERROR, "{p}");
    for at in [0, 1, 4, 5] {
        items[at].to_compass = false;
    }
    assert_eq!(found(&items), []);
}

#[test]
fn facts_that_cannot_be_read_leave_only_the_level() {
    let exposed = vec!["sign-flipped".to_owned()];
    for facts in ["", "[]", "null", "{\"declination_deg\":\"twelve\"}", "{\"declination_deg\":0}", "{"] {
        let items: Vec<AnsweredItem<'_>> = (0..24)
            .map(|at| AnsweredItem {
                level: if at < 12 { Level::ONE } else { Level::FOUR },
                facts,
                exposed: &exposed,
                mixup: (at >= 12).then_some("sign-flipped"),
                hinted: false,
            })
            .collect();
        let sides: Vec<Side> = patterns(&SKILL, &items).iter().map(|pattern| pattern.side).collect();
        assert_eq!(sides, [Side::HigherLevels], "{facts}");
    }
}

proptest! {
    #[test]
    fn whatever_is_said_stands_on_enough_items_and_a_clear_difference(
        all in proptest::collection::vec((1_u8..=4, -30..=30, 0..360, any::<bool>(), any::<bool>(), any::<bool>()), 0..80),
        letter_matters: bool,
    ) {
        let items: Vec<Told> = all
            .into_iter()
            .map(|(level, declination, from, to_compass, fell, hinted)| {
                let fell = fell && !(letter_matters && declination < 0);
                Told { level, from, to_compass, hinted, ..told(declination, fell) }
            })
            .collect();
        for pattern in found(&items) {
            let Pattern { here, elsewhere, p, .. } = pattern;
            prop_assert!(here.of >= LEAST_PER_SIDE && elsewhere.of >= LEAST_PER_SIDE);
            prop_assert!(here.of + elsewhere.of <= items.iter().filter(|item| !item.hinted).count());
            prop_assert!(here.times * elsewhere.of > elsewhere.times * here.of);
            prop_assert!((0.0..=0.05).contains(&p));
        }
        let mut backwards = items.clone();
        backwards.reverse();
        prop_assert_eq!(found(&items), found(&backwards), "the order of the items does not matter");
    }
}
