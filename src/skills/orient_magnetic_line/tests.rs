//! What the numbers must give.

use super::*;
use crate::problem::{Code, realise};

fn dated(printed: Tenths, declination: Tenths) -> OrientMagneticLineItem {
    let asked = Asked::Off { printed: offset_of(printed), year: 1993, this_year: 2013, prong: None };
    OrientMagneticLineItem { declination: offset_of(declination), asked, level: Level::TWO, on_home: false }
}

#[test]
fn a_dated_map_ends_off_by_todays_declination_less_the_printed_one() {
    // Outside checks CV070, CV071 (TC 3-25.26, 15 Nov 2013, p. 6-1, seen): 1993 to 2013, 23 E to 18 E, and 2 W to 4 W.
    assert_eq!(OrientMagneticLine.answer(&dated(230, 180)), turned(-50));
    assert_eq!(OrientMagneticLine.answer(&dated(-20, -40)), turned(-20));
}

#[test]
fn the_dial_stands_at_zero_for_a_magnetic_line_whatever_the_declination() {
    // Outside check CV065 (definition).
    for declination in [-280, -5, 140] {
        let declination = offset_of(declination);
        for (arrow, dial) in [(ArrowToward::Top, 0), (ArrowToward::Bottom, 1_800)] {
            // The model of the map table: with the arrow down the map the edge, and so its reading, lies 180° further.
            let item =
                OrientMagneticLineItem { declination, asked: Asked::Dial(arrow), level: Level::ONE, on_home: false };
            assert_eq!(OrientMagneticLine.answer(&item), answer(dial));
        }
    }
}

#[test]
fn a_number_left_on_the_dial_turns_the_map_by_itself() {
    // The model of the map table: map + declination = declination + dial, so map = dial.
    for (dial, off) in [(400, 400), (3_100, -500)] {
        let asked = Asked::Left(bearing_of(dial));
        let item = OrientMagneticLineItem { declination: offset_of(-120), asked, level: Level::ONE, on_home: false };
        assert_eq!(OrientMagneticLine.answer(&item), turned(off));
    }
}

#[test]
fn a_needle_further_clockwise_turns_the_map_clockwise() {
    // The model of the map table: β = map + printed and β = today, so map = today − printed.
    let steps = OrientMagneticLine.steps(&dated(-120, -90));
    assert_eq!(steps.last().map(|step| step.sum.as_str()), Some("3° off, turned clockwise"));
    let right = OrientMagneticLine.right_way(&dated(-120, -90));
    assert!(right.ends_with("12° − 9° = 3°. The map lies 3° off, turned clockwise"), "{right}");
}

#[test]
fn west_added_to_west_turns_the_map_counterclockwise_by_both() {
    let found = (0..200).find_map(|seed| {
        let code = Code { skill: &OrientMagneticLine, level: Level::TWO, seed, home: None };
        let problem = realise(&code).ok().filter(|problem| problem.exposes(SIZES_ADDED.id))?;
        let size = |name| problem.facts().angle(&name).map(|angle| -angle.degrees()).filter(|size| *size > 0.0);
        let (today, then) = (size(FactName::Declination)?, size(FactName::PrintedDeclination)?);
        let added = problem.mixups().iter().find(|mixup| mixup.meta.id == SIZES_ADDED.id)?;
        Some((today.max(then), today.min(then), problem.paths(SIZES_ADDED.id, &added.answer)?.yours))
    });
    let (large, small, way) = found.expect("some problem has both declinations west");
    let both = large + small;
    assert_eq!(way, format!("{large}° + {small}° = {both}°: {both}° off, turned counterclockwise"));
}

#[test]
fn the_sketch_beside_a_choice_of_lines_does_not_show_which_of_them_points_where_the_needle_points() {
    let skill: &'static dyn crate::problem::Skill = crate::skills::find("orient-magnetic-line").unwrap();
    let mut chosen = 0;
    for seed in 0..300 {
        let problem = realise(&Code { skill, level: Level::ONE, seed, home: None }).unwrap();
        if problem.question().fields()[0].name != "line" {
            continue;
        }
        chosen += 1;
        let Figure::Sketch { lines, .. } = problem.figure() else { panic!("a sketch") };
        assert_eq!(lines, [], "{}", problem.code());
        let Figure::Sketch { lines, .. } = problem.explanation(None) else { panic!("a sketch") };
        assert_eq!(lines.len(), 1, "{}: the explanation shows it", problem.code());
    }
    assert!(chosen > 20, "{chosen}");
}

#[test]
fn a_map_turned_by_the_longer_way_lies_just_as_it_does_by_the_shorter_one() {
    use crate::problem::{Verdict, judge};
    let mut asked = 0;
    for level in Level::ALL {
        for seed in 0..60 {
            let problem = realise(&Code { skill: &OrientMagneticLine, level, seed, home: None }).expect("a problem");
            let (Question::Typed(_), [Value::Angle(off), Value::Choice(way)]) =
                (problem.question(), problem.answer().values())
            else {
                continue;
            };
            let size = |degrees: f64| format!("{degrees:.1}");
            let off = off.degrees();
            let typed =
                |degrees: f64, way: usize| judge(&problem, &[&size(degrees), SENSES[way]]).expect("read").verdict;
            assert_eq!(typed(360.0 - off, 1 - way), Verdict::Right, "{}", problem.code());
            assert_ne!(typed(360.0 - off, *way), Verdict::Right, "{}", problem.code());
            asked += 1;
        }
    }
    assert!(asked > 60, "{asked}");
}
