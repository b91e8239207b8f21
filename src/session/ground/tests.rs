use super::*;
use crate::config::{HomePlace, MapDate};
use crate::problem::Level;
use crate::skills;
use jiff::civil::date;

const TODAY: Date = date(2026, 11, 25);

fn at(place: &str) -> Config {
    let mut config = Config::default();
    config.home.place = Some(HomePlace::read(place).unwrap());
    config
}

fn with_map(mut config: Config, declination: f64, minutes: f64, year: i16) -> Config {
    config.map.declination = Some(Declination::from_degrees(declination));
    config.map.annual_change = Some(AnnualChange::from_angle(Angle::from_minutes(minutes)));
    config.map.date = Some(MapDate::Year(year));
    config
}

fn card(config: &Config, day: Date) -> GroundCard {
    GroundCard::new(config, "settings.toml", day)
}

fn tenths(card: &GroundCard) -> Option<(f64, f64)> {
    card.home.angles.map(|angles| (angles.declination().angle().degrees(), angles.convergence().angle().degrees()))
}

#[test]
fn without_settings_the_invented_island_is_ready_for_practice() {
    let card = card(&Config::default(), TODAY);
    assert!(card.home.invented);
    assert!(card.home.angles.is_some());
    assert_eq!(card.cautions, Vec::<String>::new());
    assert_eq!(card.own_map, Vec::<String>::new());
    assert_eq!(card.home.lines, [NorthLines::Magnetic, NorthLines::True, NorthLines::Grid]);
    assert_eq!(card.prongs.len(), 3);
    assert!(card.declination.ends_with(" W") && card.convergence.unwrap().ends_with(" W"));
}

#[test]
fn the_card_agrees_with_outside_values() {
    // declination.csv row 0 of 2026-07-01 (geomaglib 1.2.4, pygeomag 1.1.0; convergence PROJ 9.5.1), to be rounded.
    let mut config = at("27.909709,-134.840571");
    config.home.height_m = Some(1313.0);
    let card = card(&config, date(2026, 7, 1));
    // 11.60948 E, 0.074626 E, 11.53485 E, −4.216′ a year.
    assert_eq!(card.declination, "11°37′ E");
    assert_eq!(card.convergence.as_deref(), Some("0°04′ E"));
    assert_eq!(card.grid_magnetic.as_deref(), Some("11°32′ E"));
    assert_eq!(card.change.as_deref(), Some("4′ west a year"));
    let (declination, convergence) = tenths(&card).unwrap();
    // As the card prints them.
    assert!((declination * 60.0 - 697.0).abs() < 1e-9 && (convergence * 60.0 - 4.0).abs() < 1e-9);
    // utm_mgrs.csv row 0: 515688.5195 3087210.6566, cut off to the metre.
    assert_eq!(card.place, "8R 0515688 3087210 (27.9097° N 134.8406° W)");
}

#[test]
fn outside_the_model_the_printed_declination_goes_on() {
    let config = with_map(at("47.5,11.25"), 3.0, 10.0, 2026);
    let inside = card(&config, date(2030, 1, 1));
    let outside = card(&config, date(2032, 6, 1));
    assert_ne!(inside.declination, "4° E", "inside it is the model's");
    assert_eq!(outside.declination, "4° E", "6 years of 10′ on 3° E");
    assert_eq!(outside.change.as_deref(), Some("10′ east a year"));
    assert!((tenths(&outside).unwrap().0 - 4.0).abs() < 1e-9);
    assert_eq!(
        outside.cautions,
        [
            "The magnetic model is made for the dates 2025-01-01 to 2030-01-01, and 2032-06-01 is outside. Practice goes on with the declination printed on your map, brought to this day: 4° E."
        ]
    );
}

#[test]
fn outside_the_model_a_printed_g_m_angle_serves_with_the_convergence() {
    let mut config = at("47.5,11.25");
    config.map.grid_magnetic = Some(crate::angle::GridMagnetic::from_degrees(2.0));
    let card = card(&config, date(1999, 6, 1));
    let (declination, convergence) = tenths(&card).unwrap();
    assert!((declination - convergence - 2.0).abs() < 0.11, "{declination} {convergence}");
    assert!(card.cautions[0].contains("printed on your map: "));
}

#[test]
fn outside_the_model_without_a_printed_declination_problems_are_invented() {
    let own = card(&at("47.5,11.25"), date(2030, 1, 2));
    assert_eq!((own.home.angles, own.declination.as_str(), own.change), (None, "not known", None));
    assert!(own.cautions[0].contains("invented declinations. To practise with your own, set the one printed"));
    let island = card(&with_map(Config::default(), 3.0, 0.0, 2020), date(2024, 12, 31));
    assert_eq!(island.home.angles, None, "the own map is not of the invented island");
    assert!(island.cautions[0].ends_with("invented declinations."));
}

#[test]
fn near_the_magnetic_poles_the_zone_is_announced() {
    // declination.csv flags rows with H below 6000 and 2000 nT; these places lie beside the dip poles of CV096.
    let blackout = card(&at("-63.851,135.078"), TODAY);
    assert!(blackout.cautions[0].starts_with("Blackout zone"), "{:?}", blackout.cautions);
    assert_eq!(blackout.home.angles, None);
    assert!(blackout.convergence.is_some());
    assert_eq!(blackout.cautions[1], "Problems take their declinations from elsewhere.");
    let caution = card(&at("-67,125"), TODAY);
    assert!(caution.cautions[0].starts_with("Caution zone"), "{:?}", caution.cautions);
    assert!(caution.home.angles.is_some());
}

#[test]
fn beyond_the_grid_there_is_no_convergence_and_it_is_said() {
    let card = card(&at("86,20"), TODAY);
    assert_eq!((card.convergence, card.grid_magnetic, card.home.angles), (None, None, None));
    assert_eq!(card.place, "86.0000° N 20.0000° E");
    assert_eq!(card.prongs.len(), 2);
    assert!(card.cautions.iter().any(|caution| caution.contains("80° S to 84° N")));
}

#[test]
fn a_map_that_agrees_is_told_so() {
    let model = card(&at("47.5,11.25"), TODAY).declination;
    let config = with_map(at("47.5,11.25"), 3.4, 11.0, 2021);
    let lines = card(&config, TODAY).own_map;
    assert_eq!(
        lines,
        [
            "Your map prints a declination of 3°24′ E for 2021, changing 11′ east a year: 4°19′ E on 2026-11-25."
                .to_owned(),
            format!("The model's declination on 2026-11-25 is {model}. They agree within half a degree (0°03′)."),
        ]
    );
}

#[test]
fn a_map_more_than_half_a_degree_off_is_pointed_out_with_both_dates() {
    let config = with_map(at("47.5,11.25"), -4.0, 11.0, 2021);
    let lines = card(&config, TODAY).own_map;
    assert!(lines[1].contains("apart, more than half a degree (the map is of 2021)"), "{lines:?}");
    assert!(lines[1].contains("on 2026-11-25 is "), "{lines:?}");
    let mut undated = config;
    undated.map.date = None;
    assert!(card(&undated, TODAY).own_map[1].contains("(the map has no date)"));
}

#[test]
fn half_a_degree_is_still_agreement() {
    let mut config = at("47.5,11.25");
    let model = field(&config.ground(), TODAY).unwrap().declination().angle();
    config.map.declination = Some(Declination::from_angle(model + Angle::from_minutes(30.0)));
    assert!(card(&config, TODAY).own_map[1].contains("agree"));
    config.map.declination = Some(Declination::from_angle(model - Angle::from_minutes(30.1)));
    assert!(card(&config, TODAY).own_map[1].contains("apart, more than half a degree"));
}

#[test]
fn an_old_map_is_called_old() {
    let ages = |year: i16| card(&with_map(at("47.5,11.25"), 0.0, 8.0, year), TODAY).own_map.last().cloned().unwrap();
    assert!(ages(2011).contains("agree") || ages(2011).contains("apart"), "15 years are not over 15");
    assert_eq!(ages(2010), "The map's numbers are 16 years old: get a current value.");
    assert!(
        ages(2005).starts_with("The map's numbers are 21 years old. A diagram over 20 years old may be unreliable")
    );
}

#[test]
fn a_map_without_a_place_asks_for_the_place() {
    let lines = card(&with_map(Config::default(), -4.0, 11.0, 2021), TODAY).own_map;
    assert_eq!(lines.len(), 2);
    assert!(lines[1].starts_with("Set the place"));
}

#[test]
fn every_skill_on_home_ground_has_problems_on_the_invented_island() {
    let angles = card(&Config::default(), TODAY).home.angles;
    for skill in skills::SKILLS.iter().filter(|skill| skill.meta().on_home) {
        for seed in 0..20 {
            let code = crate::problem::Code { skill: *skill, level: Level::ONE, seed, home: angles };
            assert!(crate::problem::realise(&code).is_ok(), "{code}");
        }
    }
}

#[test]
fn a_change_of_nothing_has_no_side() {
    let words = |minutes: f64| change_words(AnnualChange::from_angle(Angle::from_minutes(minutes)));
    assert_eq!(words(0.3), "0′ a year");
    assert_eq!(words(-0.3), "0′ a year");
    assert_eq!(words(-8.6), "9′ west a year");
    assert_eq!(words(75.0), "75′ east a year");
}
