//! What a debrief tells, and how often it is right.

mod simulated;

use super::{Cause, Debrief, Slip, debrief, picture, words};
use crate::angle::{Bearing, Convergence, Declination, Magnetic, North, True};
use crate::course::{CameOut, Going, Leg, Measured, Route, Taken, read_bearings};
use crate::geomag::Model;
use crate::ground::{Place, geodesic};
use crate::scene::{Ink, SceneItem, Weight};

/// A course with these magnetic keys, at this declination; the map has these lines.
fn course(keys: &[f64], declination: f64, lines: &[North]) -> Route {
    let declination = Declination::from_degrees(declination);
    let convergence = Convergence::from_degrees(-1.2);
    let mut at = Place::from_degrees(46.8, -28.6).unwrap();
    let start = at;
    let legs = keys
        .iter()
        .map(|key| {
            let magnetic = Bearing::<Magnetic>::from_degrees(*key);
            let true_bearing: Bearing<True> = magnetic.to(declination.inverse());
            let end = geodesic::direct(at, true_bearing, 300.0).place;
            let leg = Leg {
                from: String::new(),
                to: String::new(),
                start: at,
                end,
                true_bearing,
                grid: None,
                magnetic,
                distance_m: 300.0,
                given: None,
                going: Going::default(),
                time: None,
            };
            at = end;
            leg
        })
        .collect();
    Route {
        day: Model::FIRST,
        start,
        declination,
        by_model: true,
        convergence: Some(convergence),
        lines: lines.to_vec(),
        legs,
        closing: None,
        closing_is_an_error: false,
        total_m: 0.0,
        time: None,
        remarks: Vec::new(),
    }
}

fn told(route: &Route, taken: Taken, bearings: &str) -> Debrief {
    let bearings = read_bearings(bearings).unwrap();
    debrief(route, &Measured { by: "Ana".to_owned(), taken, bearings, came_out: Vec::new() }).unwrap()
}

fn slips(debrief: &Debrief) -> Vec<Option<Slip>> {
    debrief.legs.iter().map(|leg| leg.slip).collect()
}

const PEGS: [f64; 3] = [40.0, 160.0, 280.0];

#[test]
fn eleven_degrees_too_little_at_eleven_west_is_the_declination_forgotten() {
    let route = course(&PEGS, -11.0, &[North::True]);
    let debrief = told(&route, Taken::OffThePlan, "029,149,269");
    assert_eq!((debrief.cause, slips(&debrief)), (Some(Cause::Forgotten), vec![None; 3]));
    assert!(words(&debrief)[0].contains("the declination of 11° W was forgotten"), "{:?}", words(&debrief));
}

#[test]
fn a_leg_that_points_back_is_reversed_and_the_others_are_right() {
    let route = course(&PEGS, -11.0, &[North::True]);
    let debrief = told(&route, Taken::OffThePlan, "040,340,280");
    assert_eq!((debrief.cause, slips(&debrief)), (Some(Cause::Scatter), vec![None, Some(Slip::Reversed), None]));
    let said = words(&debrief).join(" ");
    assert!(said.contains("The other legs are right, within 2°.") && !said.contains("catter"), "{said}");
    // Others that are out by a hand's width do scatter.
    let said = words(&told(&route, Taken::OffThePlan, "043,340,276")).join(" ");
    assert!(said.contains("the other legs show scatter only") && said.contains("Scatter: "), "{said}");
}

#[test]
fn legs_off_by_a_hands_width_are_scatter() {
    let route = course(&PEGS, -11.0, &[North::True]);
    let debrief = told(&route, Taken::OffThePlan, "040,165,283");
    assert_eq!((debrief.cause, slips(&debrief)), (Some(Cause::Scatter), vec![None; 3]));
}

#[test]
fn the_sum_can_go_wrong_in_three_ways_and_off_grid_lines_it_is_the_g_m_angle() {
    for (measured, cause) in
        [("018 138 258", Cause::WrongWay), ("051 171 291", Cause::Twice), ("029 149 269", Cause::Forgotten)]
    {
        let route = course(&PEGS, -11.0, &[North::True]);
        assert_eq!(told(&route, Taken::OffThePlan, measured).cause, Some(cause), "{measured}");
        // The same numbers off grid lines, where the G-M angle is 11° W.
        let route = course(&PEGS, -12.2, &[North::Grid]);
        let debrief = told(&route, Taken::OffThePlan, measured);
        assert_eq!(debrief.cause, Some(cause), "{measured}");
        assert!(words(&debrief)[0].contains("the G-M angle of 11° W"), "{:?}", words(&debrief));
    }
}

#[test]
fn who_sights_makes_no_sum_so_an_offset_is_the_compass_or_iron() {
    let route = course(&PEGS, -11.0, &[North::True]);
    let debrief = told(&route, Taken::Sighted, "029,149,269");
    assert_eq!(debrief.cause, Some(Cause::Constant));
    assert!(words(&debrief)[0].contains("the compass, or iron near it"), "{:?}", words(&debrief));
    let debrief = told(&route, Taken::Sighted, "220 340 100");
    assert_eq!(debrief.cause, Some(Cause::TurnedRound));
}

#[test]
fn off_magnetic_lines_a_correction_is_one_too_many() {
    let route = course(&PEGS, -11.0, &[North::Magnetic]);
    for measured in ["029,149,269", "051 171 291"] {
        assert_eq!(told(&route, Taken::OffThePlan, measured).cause, Some(Cause::NotNeeded));
    }
}

#[test]
fn an_offset_and_a_slip_of_one_leg_are_told_apart() {
    let route = course(&[40.0, 100.0, 160.0, 280.0], -11.0, &[North::True]);
    let debrief = told(&route, Taken::OffThePlan, "029 269 149 269");
    assert_eq!(
        (debrief.cause, slips(&debrief)),
        (Some(Cause::Forgotten), vec![None, Some(Slip::Reversed), None, None])
    );
    let debrief = told(&route, Taken::OffThePlan, "029 149 089 269");
    let swapped = [None, Some(Slip::SwappedWith(2)), Some(Slip::SwappedWith(1)), None];
    assert_eq!((debrief.cause, slips(&debrief)), (Some(Cause::Forgotten), swapped.to_vec()));
}

#[test]
fn a_small_declination_cannot_be_told_from_scatter_and_that_is_said() {
    let route = course(&PEGS, -3.0, &[North::True]);
    let debrief = told(&route, Taken::OffThePlan, "037 158 276");
    assert_eq!(debrief.cause, None);
    assert!(words(&debrief)[0].starts_with("It cannot be told"), "{:?}", words(&debrief));
}

#[test]
fn a_leg_that_was_left_out_leaves_the_others_to_tell() {
    let route = course(&PEGS, -11.0, &[North::True]);
    let debrief = told(&route, Taken::OffThePlan, "029,-,269");
    assert_eq!(slips(&debrief), [None; 3]);
    assert_eq!(debrief.legs[1].off, None);
}

#[test]
fn where_a_leg_came_out_stands_for_a_bearing_that_nobody_wrote_down() {
    let route = course(&PEGS, -11.0, &[North::True]);
    let toward = Bearing::from_degrees(40.0);
    // By hand: 300 m and 12 m more along the same line; and 12 m to the right of the peg, which is atan(12/300) = 2.29°.
    let on = CameOut { metres: 12.0, toward };
    let aside = CameOut { metres: 12.0, toward: Bearing::from_degrees(250.0) };
    let measured = Measured {
        by: "Ana".to_owned(),
        taken: Taken::OffThePlan,
        bearings: vec![None; 3],
        came_out: vec![Some(on), Some(aside), None],
    };
    let debrief = debrief(&route, &measured).unwrap();
    let walked = |leg: usize| debrief.legs[leg].walked.unwrap();
    assert!((walked(0).1 - 312.0).abs() < 1e-3 && (walked(0).0.degrees() - 40.0).abs() < 1e-3, "{:?}", walked(0));
    assert!((debrief.legs[1].off.unwrap().degrees() - 2.29).abs() < 0.01, "{:?}", debrief.legs[1]);
    assert_eq!(debrief.legs[2].measured, None);
}

#[test]
fn the_legs_walked_are_drawn_true_to_scale_one_after_the_other_or_from_each_peg() {
    let route = course(&PEGS, -11.0, &[North::True]);
    for taken in Taken::ALL {
        let bearings = read_bearings("029,340,269").unwrap();
        let measured = Measured { by: "Ana".to_owned(), taken, bearings, came_out: Vec::new() };
        let scene = picture(&route, &measured, &debrief(&route, &measured).unwrap(), "Pegs", 4.0);
        let lines: Vec<_> = scene
            .items
            .iter()
            .filter_map(|item| if let SceneItem::Line(line) = item { Some(line) } else { None })
            .collect();
        let scale = scene
            .items
            .iter()
            .find_map(|item| if let SceneItem::Label(label) = item { label.text.strip_prefix("1 : ") } else { None })
            .and_then(|text| text.split(',').next()?.parse::<f64>().ok())
            .unwrap();
        let walked: Vec<_> =
            lines.iter().filter(|line| line.ink == Ink::LearnerLine && line.weight == Weight::Bold).collect();
        let meant: Vec<_> = lines.iter().filter(|line| line.ink == Ink::RightLine).collect();
        assert_eq!((walked.len(), meant.len()), (3, 3));
        for (number, (line, magnetic)) in walked.iter().zip([29.0, 340.0, 269.0]).enumerate() {
            let (from, to) = (line.points[0], line.points[1]);
            let (right, up) = (to.x - from.x, from.y - to.y);
            assert!((right.hypot(up) - 300.0 * 1_000.0 / scale).abs() < 0.1);
            // At 11° W what is set as 029 leads to 018 T.
            let direction = Bearing::<True>::from_degrees(right.atan2(up).to_degrees());
            assert!(direction.turn_to(Bearing::from_degrees(magnetic - 11.0)).degrees().abs() < 0.1);
            let from_peg = meant[number].points[0];
            let from_before = if number == 0 { from_peg } else { walked[number - 1].points[1] };
            let wanted = if taken == Taken::Sighted { from_peg } else { from_before };
            assert!((from.x - wanted.x).hypot(from.y - wanted.y) < 0.1, "{taken:?} {number}");
        }
    }
}
