//! What a file says.

use super::{GOOD, LEGS, read};
use crate::angle::Bearing;
use crate::angle::North;
use crate::course::{FaultKind, Measured, Pegs, TEMPLATE, Taken, Way};
use jiff::civil::date;

#[test]
fn a_file_says_all_that_there_is_to_say() {
    let course = read(GOOD).unwrap();
    assert_eq!((course.title.as_str(), course.date), ("Round the tarn", Some(date(2026, 11, 28))));
    assert_eq!(course.lines, Some(vec![North::Grid]));
    assert_eq!((course.back_by.as_deref(), course.call.as_deref()), (Some("16:30"), Some("the hut, 5550123")));
    let Way::Points { points, round } = &course.way else { panic!("{:?}", course.way) };
    assert!(*round);
    assert_eq!(points.iter().map(|point| point.name.as_str()).collect::<Vec<_>>(), ["Hut", "Ford", "point 3"]);
    assert_eq!(points[0].onward.ascent_m, Some(40.0));
    assert_eq!(points[0].onward.hazards, ["the pond: keep left of it"]);
    assert_eq!(course.way.leg_count(), 3);
    assert_eq!((course.members[0].paces(250.0), course.members[1].paces(250.0)), (Some(163), None));
    let Measured { by, taken, bearings, came_out } = &course.measured[0];
    assert_eq!((by.as_str(), *taken), ("Ana", Taken::Sighted));
    assert_eq!(bearings.iter().map(|b| b.map(Bearing::degrees)).collect::<Vec<_>>(), [Some(60.0), Some(160.0), None]);
    assert_eq!(came_out[1].map(|out| (out.metres, out.toward.degrees())), Some((12.0, 230.0)));
}

#[test]
fn how_it_was_taken_may_be_said_as_on_the_command_line() {
    for (written, taken) in [("off-plan", Taken::OffThePlan), ("off the plan and set", Taken::OffThePlan)] {
        let course = read(&GOOD.replace("\"sighted\"", &format!("{written:?}"))).unwrap();
        assert_eq!(course.measured[0].taken, taken, "{written}");
    }
}

#[test]
fn the_template_and_the_pegs_file_are_read_back() {
    let course = read(TEMPLATE).unwrap();
    assert_eq!(course.way.leg_count(), 3);
    let pegs = Pegs { first: Bearing::from_degrees(40.0), side_m: 60 };
    assert_eq!(read(&pegs.file()).unwrap(), pegs.course());
    assert_eq!((Pegs::of(&pegs.course()), Pegs::of(&read(GOOD).unwrap())), (Some(pegs), None));
    // Every line that the template shows as a remark is right, too, one at a time.
    for line in TEMPLATE.lines().filter_map(|line| line.strip_prefix("# ")).filter(|line| line.contains(" = ")) {
        let stands_alone = ["date", "lines"].iter().any(|key| line.starts_with(key));
        if stands_alone {
            let text = TEMPLATE.replace(&format!("# {line}"), line);
            assert!(read(&text).is_ok(), "{line}");
        }
    }
}

#[test]
fn one_hazard_needs_no_list_and_a_time_no_quotation_marks() {
    let course =
        read(&GOOD.replace("[\"the pond: keep left of it\"]", "\"the pond\"").replace("\"16:30\"", "16:30:00"));
    let course = course.unwrap();
    assert_eq!(course.back_by.as_deref(), Some("16:30"));
    let Way::Points { points, .. } = course.way else { panic!() };
    assert_eq!(points[0].onward.hazards, ["the pond"]);
}

#[test]
fn several_faults_are_told_at_once() {
    let text =
        GOOD.replace("title", "titel").replace("paces = 65", "paces = 650").replace("\"sighted\"", "\"sigthed\"");
    let error = read(&text).unwrap_err();
    let crate::course::CourseError::Faults(faults) = &error else { panic!("{error}") };
    assert_eq!(faults.faults.len(), 3, "{}", error.render(false));
    assert!(matches!(faults.faults[1].kind, FaultKind::Range { .. }), "{}", error.render(false));
}

#[test]
fn no_text_makes_reading_panic() {
    for cut in 0..GOOD.len() {
        if GOOD.is_char_boundary(cut) {
            let _ = read(&GOOD[..cut]);
            let _ = read(&GOOD[cut..]);
        }
    }
    for cut in 0..LEGS.len() {
        let _ = read(&LEGS[cut..]);
    }
}
