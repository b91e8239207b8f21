//! What must hold at every place and date.

use super::{Field, Model, Spot, Zone, twin};
use crate::angle::Angle;
use proptest::prelude::*;

fn field(latitude: f64, longitude: f64, height_m: f64, year: f64) -> Field {
    let spot = Spot::new(Angle::from_degrees(latitude), Angle::from_degrees(longitude), height_m).unwrap();
    Model::wmm2025().field_in_year(spot, year).unwrap()
}

fn vector(field: &Field) -> [f64; 3] {
    [field.north_nt(), field.east_nt(), field.down_nt()]
}

fn change(field: &Field) -> [f64; 3] {
    [field.north_change_nt(), field.east_change_nt(), field.down_change_nt()]
}

fn assert_close(ours: [f64; 3], theirs: [f64; 3], tolerance: f64) {
    for (our, their) in ours.into_iter().zip(theirs) {
        assert!((our - their).abs() <= tolerance, "{ours:?} is not {theirs:?}");
    }
}

/// Latitudes anywhere, and often at or beside a pole or the equator.
fn latitude() -> impl Strategy<Value = f64> {
    prop_oneof![
        8 => -90.0..=90.0,
        1 => prop::sample::select(vec![90.0, -90.0, 0.0, -0.0]),
        1 => (-12..0).prop_map(|power| 90.0 - 10.0_f64.powi(power)),
        1 => (-12..0).prop_map(|power| 10.0_f64.powi(power) - 90.0),
    ]
}

fn longitude() -> impl Strategy<Value = f64> {
    prop_oneof![8 => -180.0..=180.0, 1 => prop::sample::select(vec![180.0, -180.0, 90.0, -90.0, 0.0, -0.0])]
}

fn height() -> impl Strategy<Value = f64> {
    prop_oneof![4 => -1_000.0..=9_000.0, 1 => -1_000.0..=850_000.0]
}

proptest! {
    #[test]
    fn the_fast_sum_is_the_textbooks(latitude in latitude(), longitude in longitude(), height in height(), year in 2025.0..=2030.0) {
        let ours = field(latitude, longitude, height, year);
        let twin = twin::evaluate(latitude, longitude, height, year);
        // Both sums round at about 1e-11 of a field of 60,000 nT; the twin's alternating powers are the coarser.
        assert_close(vector(&ours), twin.now, 1e-6);
        assert_close(change(&ours), twin.change, 1e-8);
    }

    #[test]
    fn everything_is_finite_everywhere(latitude in latitude(), longitude in longitude(), height in height(), year in 2025.0..=2030.0) {
        let field = field(latitude, longitude, height, year);
        let numbers = [
            field.north_nt(), field.east_nt(), field.down_nt(), field.horizontal_nt(), field.total_nt(),
            field.inclination().degrees(), field.declination().angle().degrees(), field.uncertainty().degrees(),
            field.annual_change().angle().degrees(), field.inclination_change().degrees(), field.north_change_nt(),
            field.east_change_nt(), field.down_change_nt(), field.horizontal_change_nt(), field.total_change_nt(),
        ];
        prop_assert!(numbers.iter().all(|number| number.is_finite()), "{numbers:?}");
        prop_assert!((10_000.0..70_000.0).contains(&field.total_nt()));
        prop_assert!((-90.0..=90.0).contains(&field.inclination().degrees()));
    }

    #[test]
    fn strengths_and_angles_put_together_give_the_components(latitude in latitude(), longitude in longitude(), height in height(), year in 2025.0..=2030.0) {
        let field = field(latitude, longitude, height, year);
        let (sine, cosine) = field.declination().angle().radians().sin_cos();
        let (dip_sine, dip_cosine) = field.inclination().radians().sin_cos();
        let level = field.total_nt() * dip_cosine;
        assert_close([level * cosine, level * sine, field.total_nt() * dip_sine], vector(&field), 1e-6);
    }

    #[test]
    fn every_rate_is_the_slope_of_its_value(latitude in latitude(), longitude in longitude(), height in height(), year in 2025.1..2029.9) {
        let at = |year| field(latitude, longitude, height, year);
        let now = at(year);
        // The curvature of D and I is what limits a difference: near a dip pole it has no bound.
        prop_assume!(now.zone() != Zone::Blackout);
        let step = 0.01;
        let (earlier, later) = (at(year - step), at(year + step));
        let slope = |value: fn(&Field) -> f64| (value(&later) - value(&earlier)) / (2.0 * step);
        let turn = (later.declination().angle() - earlier.declination().angle()).wrapped_half().degrees() / (2.0 * step);
        let pairs = [
            (now.annual_change().angle().degrees(), turn, 1e-6),
            (now.inclination_change().degrees(), slope(|field| field.inclination().degrees()), 1e-6),
            (now.horizontal_change_nt(), slope(Field::horizontal_nt), 1e-3),
            (now.total_change_nt(), slope(Field::total_nt), 1e-3),
            (now.north_change_nt(), slope(Field::north_nt), 1e-6),
            (now.east_change_nt(), slope(Field::east_nt), 1e-6),
            (now.down_change_nt(), slope(Field::down_nt), 1e-6),
        ];
        for (analytic, difference, tolerance) in pairs {
            prop_assert!((analytic - difference).abs() <= tolerance, "{analytic} is not {difference}");
        }
    }

    #[test]
    fn the_two_ends_of_the_longitudes_are_one_meridian(latitude in latitude(), height in height(), year in 2025.0..=2030.0) {
        prop_assert_eq!(field(latitude, 180.0, height, year), field(latitude, -180.0, height, year));
    }

    #[test]
    fn a_pole_is_the_limit_of_its_neighbourhood(longitude in longitude(), height in height(), year in 2025.0..=2030.0, south in any::<bool>()) {
        let side = if south { -1.0 } else { 1.0 };
        let pole = field(side * 90.0, longitude, height, year);
        // The field changes by less than 0.1 nT over 10 m (1e-4 degrees), and by a tenth of that at a tenth of the way.
        for away in [1e-4, 1e-5, 1e-6] {
            let near = field(side * (90.0 - away), longitude, height, year);
            assert_close(vector(&near), vector(&pole), 1e3 * away);
            assert_close(change(&near), change(&pole), 10.0 * away);
        }
    }

    #[test]
    fn at_a_pole_the_needle_points_one_way_whichever_meridian_is_called_north(longitude in -180.0..180.0_f64, year in 2025.0..=2030.0) {
        let declination = |latitude: f64, longitude: f64| field(latitude, longitude, 0.0, year).declination().angle();
        // Going east, the meridian turns counterclockwise under the needle at the north pole, clockwise at the south pole.
        for (latitude, turn) in [(90.0, longitude), (-90.0, -longitude)] {
            let expected = declination(latitude, 0.0) + Angle::from_degrees(turn);
            let difference = (declination(latitude, longitude) - expected).wrapped_half();
            prop_assert!(difference.abs().degrees() < 1e-9, "{difference:?}");
        }
    }
}
