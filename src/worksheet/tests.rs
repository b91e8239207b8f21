//! Sheets, keys and maps as data.
use super::ground::{LETTERS, MapWish, PracticeMap, Spread};
use super::*;
use crate::angle::{Angle, Convergence, Declination, North};
use crate::paper::Sheet;
use crate::problem::{Code, Level, MapPoint, Question, realise};
use crate::skills;
use jiff::civil::date;

const LEVELS: [Level; 4] = [Level::ONE, Level::TWO, Level::THREE, Level::FOUR];

fn map(seed: u64, declination: f64, spread: Spread) -> PracticeMap {
    PracticeMap::draw(MapWish {
        seed,
        sheet: if seed.is_multiple_of(2) { Sheet::A4 } else { Sheet::Letter },
        declination: Declination::from_degrees(declination),
        convergence: Convergence::from_degrees(1.25),
        lines: vec![North::Magnetic, North::Grid],
        source: String::new(),
        day: date(2026, 11, 25),
        spread,
        bar_mm: 100.0,
    })
    .unwrap_or_else(|| panic!("no map for seed {seed}"))
}

#[test]
fn every_problem_that_is_written_fits_on_a_page_with_its_figure() {
    let mut laid = 0;
    for skill in skills::SKILLS.iter().copied() {
        for level in LEVELS {
            for seed in 0..6 {
                let Ok(problem) = realise(&Code { skill, level, seed, home: None }) else { continue };
                if matches!(problem.question(), Question::Table(_) | Question::SetDial { .. }) {
                    continue;
                }
                for sheet in [Sheet::A4, Sheet::Letter] {
                    let (asked, told) = layout::pieces(&problem, sheet);
                    let told = crate::paper::Piece::stack(told, 0.5);
                    // In two columns it is half as high.
                    assert!(told.height_mm <= 2.0 * sheet.text_height_mm() * 0.9, "{}", problem.code());
                    assert!(told.width_mm <= sheet.text_width_mm() / 2.0, "{}: {} mm", problem.code(), told.width_mm);
                    let (high, wide) = (asked.height_mm, asked.width_mm);
                    assert!(high <= sheet.text_height_mm(), "{}: {high} mm", problem.code());
                    assert!(wide <= sheet.text_width_mm() + 1e-6, "{}: {wide} mm", problem.code());
                }
                laid += 1;
            }
        }
    }
    assert!(laid > 500, "{laid}");
}

#[test]
fn each_known_wrong_answer_of_the_key_has_the_digit_of_a_round() {
    let skill = skills::find("true-magnetic").unwrap();
    let problem = realise(&Code { skill, level: Level::TWO, seed: 4, home: None }).unwrap();
    let told = Told::of(&problem);
    assert!(!told.wrong.is_empty());
    for wrong in &told.wrong {
        let entered = crate::session::MemberAnswer::of_digit(wrong.digit, problem.mixups().len());
        assert_eq!(entered, Some(crate::session::MemberAnswer::Mixup(wrong.digit - 2)));
        assert_eq!(wrong.answer, problem.question().words(&problem.mixups()[wrong.digit - 2].answer));
    }
    assert_eq!(told.tolerance.as_deref(), Some("within 0.5°"));
}

#[test]
fn how_near_an_answer_must_come_is_told_in_its_unit() {
    let field = |kind, tolerance| Field { name: "x", label: "x", kind, tolerance };
    let told = |kind, tolerance, value| tolerances(&[field(kind, tolerance)], &[value]);
    let point = Value::Point(MapPoint { east_m: 1.0, north_m: 2.0 });
    assert_eq!(told(FieldKind::MapPoint, Tolerance::within(50.0), point).as_deref(), Some("within 50 m"));
    assert_eq!(told(FieldKind::Dial, Tolerance::within(2.0), Value::degrees(9.0)).as_deref(), Some("within 2°"));
    let share = Tolerance::share(0.1, 1.0).less_by(2.0);
    assert_eq!(told(FieldKind::Time, share, Value::Number(80.0)).as_deref(), Some("within 8 min (2 min below)"));
    assert_eq!(told(FieldKind::Count, Tolerance::EXACT, Value::Number(4.0)), None);
}

/// The readings of the place to be found are whole degrees; worked out again from the paper they come out at a hundredth.
#[test]
fn the_place_to_be_found_is_where_its_readings_cross_and_legs_suit_an_edge() {
    for seed in 0..40 {
        let declination = f64::from(u8::try_from(seed).unwrap()) - 20.0;
        let map = map(seed, declination, Spread::One);
        for (mark, read) in map.lost.marks.iter().zip(map.lost.read) {
            let from = map.map.magnetic_bearing(map.lost.at, map.map.landmarks()[*mark].spot).unwrap();
            assert!(
                from.turn_to(read).wrapped_half().abs() < Angle::from_degrees(0.01),
                "seed {seed}: {from:?} {read:?}"
            );
            assert!(!map.marks.contains(mark));
        }
        let position = map.map.grid_position(map.lost.at);
        assert!((position.easting_m - map.lost.position.easting_m).abs() < 0.01);
        for leg in map.legs {
            assert!((25.0..=170.0).contains(&leg.paper_mm), "seed {seed}: {leg:?}");
            assert!((leg.paper_mm * 25.0 - leg.ground_m).abs() < 1e-6);
            assert_eq!(leg.by_true.to(map.wish.declination), leg.magnetic);
            assert_eq!(leg.by_grid.to(map.grid_magnetic()), leg.magnetic);
        }
        // The course closes: P to Q to V to P.
        assert_eq!(map.legs.map(|leg| leg.letters), [['P', 'Q'], ['Q', 'V'], ['V', 'P']]);
        assert_eq!(LETTERS.len(), map.marks.len());
        assert!(map.detour.left_m(map.legs[0].ground_m) > 50.0, "seed {seed}: {:?}", map.detour);
        let [out, along, back] = map.detour.sides(map.legs[0].magnetic);
        assert_eq!((along, out.back()), (map.legs[0].magnetic, back));
    }
}

#[test]
fn a_poster_is_the_same_map_larger_and_its_ground_stays() {
    let (one, four) = (map(4, -9.0, Spread::One), map(4, -9.0, Spread::Four));
    for (one, four) in one.legs.iter().zip(&four.legs) {
        assert!((four.paper_mm - 2.0 * one.paper_mm).abs() < 1e-9 && one.ground_m == four.ground_m);
        assert_eq!(one.magnetic, four.magnetic);
    }
    assert_eq!(printed_map(&one).pages, 3);
    assert_eq!(printed_map(&four).pages, 7);
    assert_eq!(printed_map(&map(4, -9.0, Spread::Nine)).pages, 12);
}

/// As in the table of the dial in the module `maptable`: by a magnetic line 0, by a true line −D, by a grid line −(D − g).
#[test]
fn the_dial_for_orienting_follows_from_the_lines() {
    let map = map(2, -10.0, Spread::One);
    assert_eq!(map.orienting(North::Magnetic), Angle::ZERO);
    assert_eq!(map.orienting(North::True), Angle::from_degrees(10.0));
    assert_eq!(map.orienting(North::Grid), Angle::from_degrees(11.25));
    assert_eq!(map.correction(North::Grid), Angle::from_degrees(-11.25));
}
