//! That the angles of the trade are exact, one by one; `properties` has what holds for all angles.

use super::*;
use std::collections::HashSet;

#[test]
fn the_unit_is_as_its_derivation_says() {
    let holds_all = |parts: &i64| [100, 3600, 160, 4].iter().all(|fraction| parts % fraction == 0);
    assert_eq!((1..).find(holds_all), Some(7200));
    assert_eq!(PARTS_PER_DEGREE, 7200 * 200_000_000 * 4);
    assert_eq!(PARTS_PER_DEGREE % 10_000_000_000, 0);
    assert_eq!(PARTS_PER_MIL % 1_000_000_000, 0);
    assert_eq!(6400 * PARTS_PER_MIL, PARTS_PER_CIRCLE);
    assert_eq!((1_i64 << 53) / PARTS_PER_CIRCLE, 4);
}

#[test]
fn every_tenth_of_two_circles_is_itself_again() {
    for tenths in -7200..=7200 {
        let degrees = f64::from(tenths) / 10.0;
        let angle = Angle::from_degrees(degrees);
        assert_eq!(angle, Angle::from_tenths(tenths), "{tenths}");
        assert_eq!((angle.tenths(), angle.degrees()), (tenths, degrees));
        assert_eq!(angle.0 % PARTS_PER_TENTH, 0);
    }
}

#[test]
fn every_hundredth_minute_and_mil_of_the_circle_is_itself_again() {
    for hundredths in -36_000..=36_000 {
        let degrees = f64::from(hundredths) / 100.0;
        let angle = Angle::from_degrees(degrees);
        assert_eq!((angle.0 * 100, angle.degrees()), (i64::from(hundredths) * PARTS_PER_DEGREE, degrees));
    }
    for minutes in -21_600..=21_600 {
        let angle = Angle::from_minutes(f64::from(minutes));
        assert_eq!((angle.0 * 60, angle.minutes()), (i64::from(minutes) * PARTS_PER_DEGREE, f64::from(minutes)));
        assert_eq!(Angle::from_degrees(f64::from(minutes) / 60.0), angle);
    }
    for mils in -6400..=6400 {
        let angle = Mils::new(f64::from(mils)).angle();
        assert_eq!(angle.0 * 160, i64::from(mils) * 9 * PARTS_PER_DEGREE);
        assert_eq!(Mils::from_angle(angle).mils(), f64::from(mils));
        assert_eq!(Angle::from_degrees(f64::from(mils) * 0.05625), angle);
    }
    for point in PointSet::ThirtyTwo.points() {
        assert_eq!(point.angle().0 * 4, i64::from(point.number()) * 45 * PARTS_PER_DEGREE);
        assert_eq!(point.angle().degrees(), f64::from(point.number()) * 11.25);
    }
}

#[test]
fn sums_of_exact_parts_are_exact() {
    let sum = |part: Angle, times: i32| (0..times).fold(Angle::ZERO, |sum, _| sum + part);
    let circle = Angle::from_degrees(360.0);
    for (part, times) in [
        (Angle::from_degrees(0.1), 3600),
        (Angle::from_degrees(0.01), 36_000),
        (Angle::from_minutes(1.0), 21_600),
        (Mils::new(1.0).angle(), 6400),
        (PointSet::ThirtyTwo.spacing(), 32),
    ] {
        assert_eq!(sum(part, times), circle, "{part:?}");
        assert_eq!(part * times, circle, "{part:?}");
        assert_eq!(sum(part, times) - circle, Angle::ZERO, "{part:?}");
    }
    // As f64, none of these holds.
    assert_eq!(Angle::from_degrees(0.1) + Angle::from_degrees(0.2), Angle::from_degrees(0.3));
    assert_eq!((Angle::from_degrees(8.0) + Angle::from_degrees(26.7)).degrees(), 34.7);
    assert_eq!(Angle::from_minutes(821.0), Angle::from_degrees(13.0) + Angle::from_minutes(41.0));
}

#[test]
fn every_tenth_comes_back_through_every_offset_of_a_circle_of_tenths() {
    for bearing in (0..3600).map(Angle::from_tenths).map(Bearing::<True>::from_angle) {
        for east in (-1800..1800).step_by(7).map(Angle::from_tenths) {
            let declination = Declination::from_angle(east);
            assert_eq!(bearing.to(declination).to(declination.inverse()), bearing, "{declination:?}");
        }
    }
}

#[test]
fn wrapping_never_gives_360_nor_minus_zero() {
    for degrees in [-1e-17, -1e-14, -0.0, 0.0, 360.0, 720.0, -360.0, 359.999_999_9] {
        let wrapped = Angle::from_degrees(degrees).wrapped().degrees();
        assert!((0.0..360.0).contains(&wrapped), "{degrees} became {wrapped}");
        assert!(wrapped.is_sign_positive(), "{degrees} became {wrapped}");
    }
    assert_eq!((-Angle(1)).wrapped(), Angle(PARTS_PER_CIRCLE - 1));
    assert_eq!(Angle::from_degrees(359.999_999_9).wrapped().degrees(), 359.999_999_9);
}

#[test]
fn a_half_turn_is_wrapped_to_minus_180() {
    assert_eq!(Angle::from_degrees(180.0).wrapped_half().degrees(), -180.0);
    assert_eq!(Angle::from_degrees(-180.0).wrapped_half().degrees(), -180.0);
    assert_eq!(Angle::from_degrees(179.5).wrapped_half().degrees(), 179.5);
    assert_eq!((Angle::from_degrees(180.0) - Angle(1)).wrapped_half(), Angle(PARTS_PER_CIRCLE / 2 - 1));
    assert_eq!(Angle::from_degrees(-1e-17).wrapped_half(), Angle::ZERO);
}

#[test]
fn angles_and_offsets_stand_in_the_order_of_their_numbers() {
    let degrees = [-1e9, -6.0, -0.1, -1e-11, 0.0, 1e-11, 0.1, 179.999_999_999, 180.0, 360.0, 1e9];
    let angles = degrees.map(Angle::from_degrees);
    assert!(angles.windows(2).all(|pair| pair[0] < pair[1]), "{angles:?}");
    assert_eq!(Angle::from_degrees(-0.0), Angle::ZERO);
    let [west, east] = [-180.0, 179.9].map(Declination::from_degrees);
    assert!(west < Declination::from_degrees(0.0) && east > Declination::from_degrees(0.0));
}

#[test]
fn one_direction_is_one_bearing_in_a_set() {
    let bearings: HashSet<_> = [0.1 + 0.2, 0.3, 360.3, -359.7].map(Bearing::<Grid>::from_degrees).into();
    assert_eq!(bearings.len(), 1);
    let offsets: HashSet<_> = [180.0, -180.0].map(Declination::from_degrees).into();
    assert_eq!(offsets.len(), 1);
}

#[test]
fn a_number_beyond_the_range_stops_at_its_end() {
    let (most, least) = (Angle(i64::MAX), Angle(i64::MIN));
    for degrees in [1.7e6, 1e9, f64::MAX] {
        assert_eq!(Angle::from_degrees(degrees), most);
        assert_eq!(Angle::from_degrees(-degrees), least);
    }
    assert!(Angle::from_degrees(1.6e6) < most);
    assert_eq!(Angle::from_tenths(i32::MAX), most);
    assert_eq!((most + most, least - most, -least, least.abs()), (most, least, most, most));
    assert_eq!((most * 2, most * -2, least * 2.0, most / 0.5), (most, least, least, most));
    assert_eq!((most.tenths(), least.tenths()), (16_012_799, -16_012_799));
    assert_eq!(most.rounded_to(Angle(-3)).0, i64::MAX / 3 * 3);
    assert!(least.rounded_to(Angle(-1)) < Angle::ZERO);
}

#[test]
fn rounding_takes_halves_away_from_zero() {
    let rounded = |degrees, step| Angle::from_degrees(degrees).rounded_to(Angle::from_degrees(step)).degrees();
    assert_eq!(rounded(0.25, 0.1), 0.3);
    assert_eq!(rounded(-0.25, 0.1), -0.3);
    assert_eq!(rounded(2.499_999_999_9, 5.0), 0.0);
    assert_eq!(rounded(2.5, 5.0), 5.0);
    assert_eq!(rounded(-2.5, -5.0), -5.0);
    assert_eq!(rounded(123.456, 0.0), 123.456);
    assert_eq!([0.05, 0.049_999, -0.05, -0.149].map(|degrees| Angle::from_degrees(degrees).tenths()), [1, 0, -1, -1]);
}
