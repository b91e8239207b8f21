use super::*;
use crate::maptable::{InView, Move, judge};
use crate::problem::Level;
use crate::terrain::{LandmarkKind, Map, MapSpec, Outlook};
use std::sync::Arc;

/// The exact case of the skill's description: a mast at 142 T, declination 16 E, G-M angle 14 E; N on the arrow at first.
fn mast(north: North, told: bool) -> TakeBearingItem {
    let map = Map::generate(3, &MapSpec::default());
    let middle = map.middle();
    let mast = InView {
        name: "Grey Mast".to_owned(),
        kind: LandmarkKind::Tower,
        azimuth: Bearing::from_degrees(142.0),
        distance_m: 900.0,
        rise: 0.02,
    };
    let other = InView { name: "Low Hut".to_owned(), azimuth: Bearing::from_degrees(200.0), ..mast.clone() };
    TakeBearingItem {
        stand: Stand {
            outlook: Arc::new(Outlook::new(map, middle)),
            at: "Fern Rock".to_owned(),
            marks: vec![mast, other],
        },
        target: 0,
        north,
        declination: offset_of(160),
        told,
        convergence: offset_of(20),
        beside: None,
        iron: 0,
        facing: bearing_of(600),
        dial: 0,
    }
}

fn listed(item: &TakeBearingItem, meta: &MixupMeta) -> Vec<Answer> {
    let mut list = MixupList::default();
    TakeBearing.mixups(item, &mut list);
    list.listed_for(meta.id).cloned().collect()
}

fn two(read: i32, second: i32) -> Answer {
    Answer::two(Value::degrees(f64::from(read)), Value::degrees(f64::from(second)))
}

#[test]
fn the_exact_case_and_its_mixups_come_out_as_by_hand() {
    let item = mast(North::Magnetic, true);
    assert_eq!(TakeBearing.answer(&item), Answer::degrees(126));
    assert_eq!(listed(&item, &WRONG_END), [Answer::degrees(306)]);
    assert_eq!(listed(&item, &READ_AT_NEEDLE), [Answer::degrees(234)], "with N on the arrow");
    assert_eq!(listed(&item, &DIAL_LEFT), [Answer::degrees(0)]);
    assert_eq!(listed(&item, &CORRECTED_AGAIN), [Answer::degrees(142), Answer::degrees(110)]);
    let item = mast(North::Grid, false);
    assert_eq!(TakeBearing.answer(&item), two(126, 140));
    assert_eq!(listed(&item, &SIGN_FLIPPED), [two(126, 112)]);
    assert_eq!(listed(&item, &NOT_APPLIED), [two(126, 126)]);
}

/// What is done wrongly by these turns of oneself and of the dial, and this number.
fn faults(by: f64, dial: f64, read: f64) -> Vec<Fault> {
    let turned = |degrees| crate::angle::Angle::from_degrees(degrees);
    let moves = [Move::TurnSelf(turned(by)), Move::SetDial(turned(dial)), Move::Read(turned(read))];
    let moves: Vec<Move> = moves.into_iter().filter(|made| *made != Move::SetDial(turned(0.0))).collect();
    judge(&mast(North::Magnetic, true).exercise(), &moves).procedure
}

#[test]
fn the_work_tells_which_mixup_it_was() {
    // One faces 60, the mast lies at 142, the needle points to 16.
    assert_eq!(faults(82.0, 126.0, 126.0), []);
    assert_eq!(faults(84.0, 128.0, 129.0), [], "a hand's width");
    assert_eq!(faults(82.0, 306.0, 306.0), [Fault::NeedleReversed]);
    assert_eq!(faults(-98.0, 306.0, 306.0), [Fault::LookedBack]);
    assert_eq!(faults(82.0, 126.0, 306.0), [Fault::ReadOpposite]);
    assert_eq!(faults(82.0, 0.0, 234.0), [Fault::ReadAtNeedle], "the dial was left, its N on the arrow");
    assert_eq!(faults(82.0, 0.0, 0.0), [Fault::DialLeft]);
    assert_eq!(faults(-44.0, 0.0, 0.0), [Fault::DialLeft], "oneself turned until the needle was boxed");
    assert_eq!(faults(82.0, 126.0, 142.0), [Fault::CorrectedAgain]);
    assert_eq!(faults(82.0, 126.0, 110.0), [Fault::CorrectedAgain]);
    assert_eq!(faults(140.0, 184.0, 184.0), [Fault::NotAtMark], "another mark");
    assert_eq!(faults(82.0, 140.0, 140.0), [Fault::NotBoxed]);
}

#[test]
fn two_reversals_that_cancel_are_two_faults() {
    let item = mast(North::Magnetic, true);
    let turned = crate::angle::Angle::from_degrees;
    let moves = [Move::TurnSelf(turned(-98.0)), Move::SetDial(turned(126.0)), Move::Read(turned(126.0))];
    let work = judge(&item.exercise(), &moves);
    assert_eq!(work.procedure, [Fault::LookedBack, Fault::NeedleReversed]);
    assert!(!work.right && work.cancelled());
}

#[test]
fn neither_the_thing_nor_the_trial_alone_says_whether_the_needle_can_be_trusted() {
    let mut draw = Draw::new("E1", 4, 1, 1);
    let drawn: Vec<(String, bool)> = (0..2_000)
        .map(|_| {
            let beside = Beside::draw(&mut draw);
            (beside.to_string(), beside.trust.holds)
        })
        .collect();
    let right = |rule: &dyn Fn(&str) -> bool| drawn.iter().filter(|(text, holds)| rule(text) == *holds).count();
    let no_iron = |text: &str| ["wall", "wooden", "birch", "hay"].iter().any(|thing| text.contains(thing));
    type Rule<'a> = (&'a str, &'a dyn Fn(&str) -> bool);
    let rules: [Rule<'_>; 4] = [
        ("always", &|_| true),
        ("never", &|_| false),
        ("no iron is named", &no_iron),
        ("no other way ten steps on", &|text| !text.contains("another way")),
    ];
    for (name, rule) in rules {
        assert!(right(rule) * 100 <= drawn.len() * 62, "{name}: {} of {}", right(rule), drawn.len());
    }
}

#[test]
fn marks_stand_asunder_where_the_map_has_them() {
    for seed in 0..60 {
        for level in Level::ALL {
            let item = TakeBearing.draw(level, None, &mut Draw::new("E1", level.number(), 1, seed));
            assert_eq!(item.stand.marks.len(), MARKS);
            let sighted = item.stand.outlook.panorama().sighted();
            for mark in &item.stand.marks {
                let near = |it: &&crate::terrain::Sighted| it.azimuth.turn_to(mark.azimuth).abs().degrees() <= 0.5;
                assert!(sighted.iter().any(|it| near(&it)), "{} is hidden on the map", mark.name);
            }
        }
    }
}
