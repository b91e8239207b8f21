//! The day's rule for the lines that the group's maps have, and which number it goes by: the map's or the model's.

use super::own_map::{OLD_YEARS, POINTED_OUT, age_years};
use super::{Norths, own_map};
use crate::angle::{Angle, North, days_rule, declination_words, whole_degrees};
use crate::config::Config;
use jiff::civil::Date;

/// From map to compass on home ground on one day.
#[derive(Clone, Debug, PartialEq)]
pub struct DayRules {
    /// Which of two numbers is used, and why, in a sentence; none where the map prints none.
    pub which: Option<String>,
    /// For each line of the maps what to do, in the order of the settings; lines whose angle is not known are left out.
    pub rules: Vec<DayRule>,
}

/// The rule for one sort of lines.
#[derive(Clone, Debug, PartialEq)]
pub struct DayRule {
    /// The north of the lines.
    pub lines: North,
    /// What is added from map to compass, in whole degrees; negative is taken off.
    pub add_deg: i32,
    /// The rule in words, with its reason and an example.
    pub words: String,
}

impl DayRules {
    /// The rules for a day.
    #[must_use]
    pub fn new(config: &Config, day: Date) -> DayRules {
        let ground = config.ground();
        let norths = Norths::of(config, &ground, day);
        let Used { declination, by_map, which } = used(config, norths, day);
        let printed = config.map.grid_magnetic_on(day).filter(|_| by_map).map(|printed| printed.angle());
        let east = |north: North| match north {
            North::True => declination,
            // A printed G-M angle is that of the map's own grid, which need not be UTM's.
            North::Grid => printed.or_else(|| Some((declination? - norths.convergence?.angle()).wrapped_half())),
            North::Magnetic => Some(Angle::ZERO),
        };
        let rule = |lines: &North| {
            let east = east(*lines)?;
            // An example that crosses no north, whichever way the rule goes.
            let example = if east < Angle::ZERO { 48 } else { 148 };
            Some(DayRule { lines: *lines, add_deg: -whole_degrees(east), words: days_rule(*lines, east, example) })
        };
        DayRules { which, rules: ground.lines.iter().filter_map(rule).collect() }
    }
}

/// The declination to use.
struct Used {
    /// None where neither map nor model gives one.
    declination: Option<Angle>,
    /// Whether it is the map's.
    by_map: bool,
    /// Why this one.
    which: Option<String>,
}

fn used(config: &Config, norths: Norths, day: Date) -> Used {
    let known = norths.declination.map(|declination| declination.angle());
    let (map, here) = (&config.map, config.home.place.is_some());
    let printed = own_map::declination(map, norths.convergence, day).map(|printed| printed.angle());
    let Some(printed) = printed.filter(|_| here) else {
        return Used { declination: known, by_map: false, which: None };
    };
    let said = format!("Use the map's number, which gives a declination of {} today", declination_words(printed));
    let by_map = |which: String| Used { declination: Some(printed), by_map: true, which: Some(which) };
    let Some(model) = norths.field.map(|field| field.declination().angle()) else {
        return by_map(format!("{said}: the model does not reach this day."));
    };
    if (printed - model).wrapped_half().abs() <= POINTED_OUT {
        return by_map(format!("{said}: the model agrees with it."));
    }
    let reason = if map.change_until(day).is_none() {
        "the map's number cannot be brought to this day without its year and its yearly change"
    } else if age_years(map, day).is_some_and(|years| years > OLD_YEARS) {
        "the map's number is too old to be carried on"
    } else {
        return by_map(format!("{said}, once it is checked against the sheet: the map in the hand wins."));
    };
    let which = format!("Use the model's declination of {}: {reason}.", declination_words(model));
    Used { declination: Some(model), by_map: false, which: Some(which) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::angle::Declination;
    use crate::config::{HomePlace, MapDate};
    use crate::geomag::AnnualChange;
    use jiff::civil::date;

    const TODAY: Date = date(2026, 11, 25);

    /// Home ground where the model says 4°16′ E and the convergence is 1°40′ E (north_place.snap).
    fn ground(printed: Option<(f64, i16, f64)>) -> Config {
        let mut config = Config::default();
        config.home.place = HomePlace::read("47.5,11.25").ok();
        if let Some((declination, year, minutes)) = printed {
            config.map.declination = Some(Declination::from_degrees(declination));
            config.map.date = Some(MapDate::Year(year));
            config.map.annual_change = Some(AnnualChange::from_angle(Angle::from_minutes(minutes)));
        }
        config
    }

    fn adds(config: &Config) -> Vec<(North, i32)> {
        DayRules::new(config, TODAY).rules.iter().map(|rule| (rule.lines, rule.add_deg)).collect()
    }

    #[test]
    fn each_line_of_the_maps_has_its_rule() {
        let rules = DayRules::new(&ground(None), TODAY);
        assert_eq!(rules.which, None);
        assert_eq!(adds(&ground(None)), [(North::Magnetic, 0), (North::True, -4), (North::Grid, -3)]);
        let mut config = ground(None);
        config.home.lines = Some(vec![North::Grid]);
        assert_eq!(adds(&config), [(North::Grid, -3)]);
        assert!(DayRules::new(&config, TODAY).rules[0].words.contains("So 148° G is 145° M."));
    }

    #[test]
    fn the_maps_number_is_used_where_it_agrees_or_is_young_and_the_models_where_it_is_old() {
        let which = |printed| DayRules::new(&ground(Some(printed)), TODAY).which.unwrap();
        // 3.5° E of 2020 and six years of 7′ are 4°12′ E.
        let agrees = which((3.5, 2020, 7.0));
        assert_eq!(
            agrees,
            "Use the map's number, which gives a declination of 4°12′ E today: the model agrees with it."
        );
        assert!(which((8.0, 2022, 7.0)).contains("the map in the hand wins"));
        assert_eq!(adds(&ground(Some((8.0, 2022, 7.0))))[1], (North::True, -8));
        assert_eq!(
            which((8.0, 2002, 7.0)),
            "Use the model's declination of 4°16′ E: the map's number is too old to be carried on."
        );
        assert_eq!(adds(&ground(Some((8.0, 2002, 7.0))))[1], (North::True, -4));
        let mut undated = ground(Some((8.0, 2022, 7.0)));
        undated.map.date = None;
        assert!(DayRules::new(&undated, TODAY).which.unwrap().contains("cannot be brought to this day"));
    }

    #[test]
    fn off_grid_lines_the_printed_g_m_angle_is_used_where_the_map_is() {
        let mut config = ground(Some((3.5, 2020, 7.0)));
        // A grid of its own: 4°12′ E of true north today, and 5°42′ E of grid north.
        config.map.grid_magnetic = Some(crate::angle::GridMagnetic::from_degrees(5.0));
        assert_eq!(adds(&config)[1..], [(North::True, -4), (North::Grid, -6)]);
        config.map.declination = Some(Declination::from_degrees(9.0));
        config.map.date = Some(MapDate::Year(2002));
        assert_eq!(adds(&config)[1..], [(North::True, -4), (North::Grid, -3)], "the model's, of the UTM grid");
    }

    #[test]
    fn outside_the_model_the_maps_number_is_used_and_without_one_there_is_no_rule_but_for_magnetic_lines() {
        let later = date(2032, 6, 1);
        let rules = DayRules::new(&ground(Some((3.0, 2026, 10.0))), later);
        assert!(rules.which.unwrap().contains("4° E today: the model does not reach this day"));
        assert_eq!(rules.rules[1].add_deg, -4);
        let rules = DayRules::new(&ground(None), later).rules;
        assert_eq!(rules.iter().map(|rule| rule.lines).collect::<Vec<_>>(), [North::Magnetic]);
    }
}
