//! What must hold for every angle, checked with random ones.
#![expect(
    clippy::cast_possible_truncation,
    clippy::cast_possible_wrap,
    clippy::cast_sign_loss,
    reason = "what a test counts and draws is small"
)]

use super::*;
use proptest::prelude::*;

/// Any angle that a calculation or a typing finger may come up with.
fn angle() -> impl Strategy<Value = Angle> {
    let parts = |circles: i64| (-circles * PARTS_PER_CIRCLE..circles * PARTS_PER_CIRCLE).prop_map(Angle);
    prop_oneof![parts(3), (-72_000..72_000i32).prop_map(Angle::from_tenths), (-1e9..1e9).prop_map(Angle::from_degrees)]
}

/// One within the circle or a little outside, as sums of few angles are.
fn small() -> impl Strategy<Value = Angle> {
    prop_oneof![
        (-2 * PARTS_PER_CIRCLE..2 * PARTS_PER_CIRCLE).prop_map(Angle),
        (-7200..7200i32).prop_map(Angle::from_tenths)
    ]
}

/// Whole tenths: the numbers of the drills.
fn tenths() -> impl Strategy<Value = Angle> {
    (-3600..=3600i32).prop_map(Angle::from_tenths)
}

proptest! {
    #[test]
    fn wrapping_is_closed_and_idempotent(x in any::<f64>().prop_filter("finite", |x| x.is_finite())) {
        let angle = Angle::from_degrees(x);
        let wrapped = angle.wrapped();
        prop_assert!((0.0..360.0).contains(&wrapped.degrees()) && wrapped.degrees().is_sign_positive());
        prop_assert_eq!(wrapped.wrapped(), wrapped);
        let half = angle.wrapped_half();
        prop_assert!((-180.0..180.0).contains(&half.degrees()));
        prop_assert_eq!((half.wrapped_half(), half.wrapped()), (half, wrapped));
        prop_assert_eq!(Bearing::<True>::from_degrees(x).degrees(), wrapped.degrees());
        prop_assert!((0.0..6400.0).contains(&Mils::from_angle(angle).wrapped().mils()));
    }

    #[test]
    fn an_angle_within_two_circles_is_its_degrees(parts in -2 * PARTS_PER_CIRCLE..=2 * PARTS_PER_CIRCLE) {
        prop_assert_eq!(Angle::from_degrees(Angle(parts).degrees()), Angle(parts));
    }

    #[test]
    fn sums_undo_themselves(x in small(), y in small()) {
        prop_assert_eq!(x + y - y, x);
        prop_assert_eq!(x + y, y + x);
        prop_assert_eq!(x - y, -(y - x));
        prop_assert_eq!((x + y).wrapped(), (x.wrapped() + y.wrapped()).wrapped());
        prop_assert_eq!(x * 3, x + x + x);
        prop_assert_eq!(x * 2.0, x + x);
        prop_assert_eq!((x + x) / 2.0, x);
    }

    #[test]
    fn the_order_is_that_of_the_degrees(x in angle(), y in small()) {
        prop_assert_eq!(x < y, (x - y).degrees() < 0.0);
        prop_assert_eq!(x == y, (x - y).degrees() == 0.0);
    }

    #[test]
    fn rounding_goes_to_the_nearest_multiple(x in small(), step in (1..=PARTS_PER_CIRCLE).prop_map(Angle)) {
        let rounded = x.rounded_to(step);
        prop_assert_eq!(rounded.0 % step.0, 0);
        prop_assert!(2 * (rounded - x).abs().0 <= step.0);
        prop_assert_eq!(rounded.rounded_to(step), rounded);
        prop_assert_eq!((-x).rounded_to(step), -rounded);
    }

    #[test]
    fn a_back_bearing_taken_twice_is_the_bearing(x in angle()) {
        let bearing = Bearing::<Magnetic>::from_angle(x);
        prop_assert_eq!(bearing.back().back(), bearing);
        prop_assert_eq!((bearing.back().angle() - bearing.angle()).abs().degrees(), 180.0);
    }

    #[test]
    fn the_turn_to_another_bearing_ends_there(x in angle(), y in angle()) {
        let (from, to) = (Bearing::<Grid>::from_angle(x), Bearing::<Grid>::from_angle(y));
        let turn = from.turn_to(to);
        prop_assert!((-180.0..180.0).contains(&turn.degrees()));
        prop_assert_eq!(from.turned(turn), to);
    }

    #[test]
    fn an_offset_and_its_inverse_cancel(x in angle(), d in angle()) {
        let bearing = Bearing::<True>::from_angle(x);
        let declination = Declination::from_angle(d);
        prop_assert_eq!(bearing.to(declination).to(declination.inverse()), bearing);
        prop_assert_eq!(declination.then(declination.inverse()).angle(), Angle::ZERO);
    }

    #[test]
    fn tenths_in_are_tenths_out(bearing in tenths(), east in tenths()) {
        let compass = Bearing::<True>::from_angle(bearing).to(Declination::from_angle(east));
        let wanted = (bearing.tenths() - east.tenths()).rem_euclid(3600);
        prop_assert_eq!((compass.angle().tenths(), compass.angle()), (wanted, Angle::from_tenths(wanted)));
        prop_assert_eq!(compass.degrees(), f64::from(wanted) / 10.0);
    }

    #[test]
    fn two_steps_between_norths_are_one_composed_step(x in angle(), d in angle(), g in angle()) {
        let bearing = Bearing::<Grid>::from_angle(x);
        let (declination, convergence) = (Declination::from_angle(d), Convergence::from_angle(g));
        let grid_magnetic: GridMagnetic = declination.then(convergence.inverse());
        let by_true = bearing.to(convergence.inverse()).to(declination);
        prop_assert_eq!(bearing.to(grid_magnetic), by_true);
        // Declination less convergence, as the map's diagram has it.
        prop_assert_eq!(grid_magnetic.angle(), (d.wrapped() - g.wrapped()).wrapped_half());
    }

    #[test]
    fn a_quarter_bearing_leads_back_to_its_bearing(x in angle()) {
        let quadrant = Quadrant::from_angle(x);
        prop_assert!((0.0..=90.0).contains(&quadrant.size.degrees()));
        prop_assert_eq!(quadrant.angle(), x.wrapped());
    }

    #[test]
    fn a_printed_quarter_bearing_is_read_back(tenth in 0..3600i32) {
        let angle = Angle::from_tenths(tenth);
        let text = format!("{:.1}", Quadrant::from_angle(angle));
        prop_assert_eq!(Quadrant::read(&text).unwrap().angle(), angle, "{}", text);
        prop_assert_eq!(read_bearing(&text).unwrap().typed, angle, "{}", text);
    }

    #[test]
    fn mils_lead_back_to_degrees(x in small()) {
        prop_assert_eq!(Mils::new(Mils::from_angle(x).mils()).angle(), x);
    }

    #[test]
    fn printed_mils_are_read_back(tenth in 0..64_000u32) {
        let mils = Mils::new(f64::from(tenth) / 10.0);
        let typed = read_bearing(&format!("{mils:.1}")).unwrap().typed;
        prop_assert_eq!(typed, mils.angle());
    }

    #[test]
    fn a_printed_bearing_is_read_back_exactly(decimals in 0usize..=4, part in 0.0..1.0f64, north in prop::sample::select(&North::ALL[..])) {
        let power = 10f64.powi(decimals as i32);
        let bearing = Angle::from_degrees((part * 360.0 * power).floor() / power);
        let text = format!("{}° {}", three_figures(bearing, decimals), north.letter());
        prop_assert_eq!(read_bearing(&text).unwrap(), TypedBearing { typed: bearing, north: Some(north) }, "{}", text);
    }

    #[test]
    fn a_printed_bearing_is_off_by_half_its_last_figure_at_most(angle in small(), decimals in 0usize..=9) {
        let typed = read_bearing(&three_figures(angle, decimals).to_string()).unwrap().typed;
        prop_assert!((0.0..360.0).contains(&typed.degrees()));
        let half = Angle::from_degrees(0.5 / 10f64.powi(decimals as i32));
        prop_assert!((typed - angle).wrapped_half().abs() <= half);
    }

    #[test]
    fn three_figures_agree_with_the_standard_library_away_from_halves(
        units in 0..359_999u32, off in -0.4999..0.4999f64, decimals in 0usize..=3,
    ) {
        let power = 10f64.powi(decimals as i32);
        let x = (f64::from(units % (360 * power as u32)) + off) / power;
        prop_assume!(x >= 0.0 && x + 0.5 / power < 360.0);
        let width = if decimals == 0 { 3 } else { 4 + decimals };
        prop_assert_eq!(three_figures(Angle::from_degrees(x), decimals).to_string(), format!("{x:0width$.decimals$}"));
    }

    #[test]
    fn a_printed_declination_is_read_back_exactly(minutes in -10_800..=10_800i32) {
        let angle = Angle::from_minutes(f64::from(minutes));
        let text = declination_words(angle).to_string();
        let typed = read_declination(&text).unwrap();
        prop_assert_eq!(typed, TypedAngle { angle, lettered: minutes != 0 }, "{}", text);
    }

    #[test]
    fn a_printed_decimal_declination_is_read_back_exactly(hundredths in -18_000..=18_000i32) {
        let angle = Angle::from_degrees(f64::from(hundredths) / 100.0);
        let text = decimal_declination(angle, 2).to_string();
        prop_assert_eq!(read_declination(&text).unwrap(), TypedAngle { angle, lettered: hundredths != 0 }, "{}", text);
    }

    #[test]
    fn a_number_is_read_as_the_standard_library_reads_it(x in -1e6..1e6, decimals in 0usize..6) {
        let text = format!("{x:.decimals$}");
        prop_assert_eq!(read_number(&text, &[]).unwrap(), text.parse::<f64>().unwrap() + 0.0);
    }

    #[test]
    fn no_text_at_all_makes_reading_panic_or_an_error_quote_it(text in any::<String>()) {
        check_unreadable_is_harmless(&text)?;
    }

    #[test]
    fn no_text_of_the_trade_makes_reading_panic(text in "[0-9NSEWnsewTGMmilsdegb°′' .,+−-]{0,20}") {
        check_unreadable_is_harmless(&text)?;
    }
}

fn check_unreadable_is_harmless(text: &str) -> Result<(), TestCaseError> {
    let bearing = read_bearing(text).map(|typed| typed.typed.degrees());
    let declination = read_declination(text).map(|typed| typed.angle.degrees());
    let quadrant = Quadrant::read(text).map(|quadrant| quadrant.angle().degrees());
    for result in [bearing, declination, quadrant, read_number(text, &["m"])] {
        match result {
            Ok(number) => prop_assert!(number.is_finite()),
            Err(error) => {
                let message = error.to_string();
                prop_assert!(message.len() < 100 && !message.contains(char::is_control));
            }
        }
    }
    if let Ok(typed) = read_declination(text) {
        prop_assert!(typed.angle.abs().degrees() <= 180.0);
    }
    Ok(())
}
