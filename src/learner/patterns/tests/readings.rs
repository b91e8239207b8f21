//! What facts say of the sides. Each text is what a skill of the program writes.

use super::super::facts::{Reading, read};
use super::*;

fn reading_of(facts: &str, exposed: &[&str]) -> Reading {
    let exposed: Vec<String> = exposed.iter().map(|id| (*id).to_owned()).collect();
    let item = AnsweredItem { level: Level::ONE, facts, exposed: &exposed, mixup: None, hinted: false };
    read(&[item]).remove(0)
}

fn sides(facts: &str) -> [Option<bool>; 4] {
    let reading = reading_of(facts, &["sign-flipped"]);
    [Feature::Letter, Feature::Way, Feature::Wrap, Feature::Half].map(|feature| reading.first_side(feature))
}

fn applied(facts: &str) -> Option<Applied> {
    reading_of(facts, &[]).applied
}

const EAST: Option<bool> = Some(true);
const WEST: Option<bool> = Some(false);
const TO_COMPASS: Option<bool> = Some(true);
const TO_MAP: Option<bool> = Some(false);
const PAST_NORTH: Option<bool> = Some(true);
const SHORT_OF_NORTH: Option<bool> = Some(false);

#[test]
fn a_conversion_by_the_declination_has_letter_way_and_wrap() {
    let conversion = |given: &str, from: f64, declination: f64, wanted: &str| {
        sides(&format!(r#"{{"{given}":{from},"declination_deg":{declination},"wanted_north":"{wanted}"}}"#))
    };
    let to_compass = |from, declination| conversion("true_bearing_deg", from, declination, "magnetic");
    let to_map = |from, declination| conversion("magnetic_bearing_deg", from, declination, "true");
    assert_eq!(to_compass(5.0, 12.0), [EAST, TO_COMPASS, PAST_NORTH, None]);
    assert_eq!(to_compass(12.0, 12.0), [EAST, TO_COMPASS, SHORT_OF_NORTH, None]);
    assert_eq!(to_compass(350.0, -10.0), [WEST, TO_COMPASS, PAST_NORTH, None], "360 is written 000");
    assert_eq!(to_compass(349.9, -10.0), [WEST, TO_COMPASS, SHORT_OF_NORTH, None]);
    assert_eq!(to_map(355.0, 12.0), [EAST, TO_MAP, PAST_NORTH, None]);
    assert_eq!(to_map(355.0, -12.0), [WEST, TO_MAP, SHORT_OF_NORTH, None]);
}

#[test]
fn a_convergence_that_is_not_needed_changes_no_side() {
    let facts = r#"{"true_bearing_deg":100,"declination_deg":1.5,"wanted_north":"magnetic","convergence_deg":3}"#;
    assert_eq!(sides(facts), [EAST, TO_COMPASS, SHORT_OF_NORTH, None]);
    assert_eq!(applied(facts), Some(Applied::Declination));
}

#[test]
fn from_grid_lines_it_is_the_letter_of_the_grid_magnetic_angle() {
    let worked_out = r#"{"grid_bearing_deg":358,"declination_deg":1.5,"convergence_deg":3,"wanted_north":"magnetic"}"#;
    assert_eq!(sides(worked_out), [WEST, TO_COMPASS, SHORT_OF_NORTH, None]);
    let given = r#"{"magnetic_bearing_deg":358,"grid_magnetic_deg":6,"wanted_north":"grid"}"#;
    assert_eq!(sides(given), [EAST, TO_MAP, PAST_NORTH, None]);
    assert_eq!([applied(worked_out), applied(given)], [Some(Applied::GridMagnetic); 2]);
    let nothing = r#"{"grid_bearing_deg":358,"declination_deg":0.3,"convergence_deg":0.3,"wanted_north":"magnetic"}"#;
    assert_eq!(sides(nothing), [None, TO_COMPASS, None, None], "no angle, no letter");
}

#[test]
fn a_dial_to_be_set_has_a_letter_and_nothing_that_goes_with_it() {
    for (facts, letter, of) in [
        (r#"{"declination_deg":12,"line":"true","wanted":"dial"}"#, EAST, Applied::Declination),
        (r#"{"declination_deg":2,"convergence_deg":3,"line":"grid","wanted":"dial"}"#, WEST, Applied::GridMagnetic),
        (
            r#"{"printed_declination_deg":-1,"annual_change_arcmin":15,"printed_year":2012,"this_year":2026,"line":"true","wanted":"dial"}"#,
            EAST,
            Applied::Declination,
        ),
    ] {
        let reading = reading_of(facts, &["sign-flipped", "not-wrapped"]);
        assert_eq!(reading.first_side(Feature::Letter), letter, "{facts}");
        assert_eq!(reading.first_side(Feature::Wrap), None, "{facts}");
        assert_eq!(reading.first_side(Feature::Work), Some(false), "{facts}");
        assert_eq!(reading.applied, Some(of), "{facts}");
    }
}

#[test]
fn the_map_table_is_known_by_its_dial() {
    let facts =
        r#"{"declination_deg":-9,"convergence_deg":1,"start_dial_deg":40,"line":"grid","wanted":"map_oriented"}"#;
    let reading = reading_of(facts, &["sign-flipped"]);
    assert_eq!(reading.first_side(Feature::Work), Some(true));
    assert_eq!(reading.first_side(Feature::Letter), WEST);
}

#[test]
fn an_old_map_has_the_letter_that_is_printed_on_it() {
    let facts = r#"{"printed_declination_deg":-1,"annual_change_arcmin":15,"printed_year":2012,"this_year":2026,"wanted":"declination"}"#;
    assert_eq!(sides(facts), [WEST, None, None, None]);
    assert_eq!(applied(facts), Some(Applied::OldDeclination));
}

#[test]
fn a_diagram_has_the_letter_that_is_asked() {
    let asked = |wanted: &str| sides(&format!(r#"{{"prongs_clockwise":"MN, star, GN","wanted":"{wanted}"}}"#))[0];
    assert_eq!([asked("declination"), asked("grid_magnetic"), asked("convergence")], [WEST, WEST, EAST]);
    assert_eq!(asked("colour"), None);
}

#[test]
fn a_back_bearing_lies_in_one_half_of_the_dial() {
    let half = |facts: &str| sides(facts)[3];
    assert_eq!(half(r#"{"bearing_deg":180,"north":"grid","wanted":"back_bearing"}"#), Some(true));
    assert_eq!(half(r#"{"bearing_deg":179,"north":"grid","wanted":"back_bearing"}"#), Some(false));
    assert_eq!(half(r#"{"bearing_mil":3200,"north":"true","wanted":"back_bearing"}"#), Some(true));
    let legs = |wanted: &str| {
        half(&format!(
            r#"{{"first_leg_bearing_deg":200,"second_leg_bearing_deg":100,"wanted":"back_bearing_of_{wanted}"}}"#
        ))
    };
    assert_eq!([legs("first_leg"), legs("second_leg")], [Some(true), Some(false)]);
    let reading = reading_of(r#"{"bearing_deg":200,"wanted":"back_bearing"}"#, &["not-wrapped"]);
    assert_eq!(reading.first_side(Feature::Wrap), None, "the half says it");
}

#[test]
fn a_back_sight_has_no_letter_since_nobody_is_told_the_declination() {
    assert_eq!(sides(r#"{"walked_magnetic_bearing_deg":40,"declination_deg":9,"wanted":"you_stand"}"#), [None; 4]);
}

#[test]
fn a_form_that_can_be_left_unwrapped_passes_north_where_it_shows_that() {
    let [wraps, plain] = [vec!["not-wrapped".to_owned()], vec!["turned-other-way".to_owned()]];
    let item = |facts, exposed| AnsweredItem { level: Level::ONE, facts, exposed, mixup: None, hinted: false };
    let (turning, between) = (r#"{"wanted":"reading_after_turning"}"#, r#"{"wanted":"shorter_turn_to_end"}"#);
    let all = read(&[item(turning, &wraps), item(turning, &plain), item(between, &plain)]);
    let found: Vec<Option<bool>> = all.iter().map(|reading| reading.first_side(Feature::Wrap)).collect();
    assert_eq!(found, [Some(true), Some(false), None]);
}
