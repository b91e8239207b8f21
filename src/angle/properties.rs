//! What must hold for every angle, checked with random ones.

use super::*;
use proptest::prelude::*;

/// Any angle that a calculation or a typing finger may come up with.
fn degrees() -> impl Strategy<Value = f64> {
    prop_oneof![-1000.0..1000.0, (-8000..8000i32).prop_map(|eighths| f64::from(eighths) / 8.0), -1e9..1e9]
}

/// How far apart two directions lie, in degrees.
fn apart(a: Angle, b: Angle) -> f64 {
    (a - b).wrapped_half().abs().degrees()
}

proptest! {
    #[test]
    fn wrapping_is_closed(x in any::<f64>().prop_filter("finite", |x| x.is_finite())) {
        let angle = Angle::from_degrees(x);
        let wrapped = angle.wrapped();
        prop_assert!((0.0..360.0).contains(&wrapped.degrees()) && wrapped.degrees().is_sign_positive());
        prop_assert_eq!(wrapped.wrapped(), wrapped);
        let half = angle.wrapped_half();
        prop_assert!((-180.0..180.0).contains(&half.degrees()));
        prop_assert_eq!(Bearing::<True>::from_degrees(x).degrees(), wrapped.degrees());
        prop_assert!((0.0..6400.0).contains(&Mils::from_angle(wrapped).wrapped().mils()));
    }

    #[test]
    fn a_back_bearing_taken_twice_is_the_bearing(x in degrees()) {
        let bearing = Bearing::<Magnetic>::from_degrees(x);
        prop_assert!(apart(bearing.back().back().angle(), bearing.angle()) < 1e-12 * 360.0);
        prop_assert!((apart(bearing.back().angle(), bearing.angle()) - 180.0).abs() < 1e-9);
    }

    #[test]
    fn the_turn_to_another_bearing_ends_there(x in degrees(), y in degrees()) {
        let (from, to) = (Bearing::<Grid>::from_degrees(x), Bearing::<Grid>::from_degrees(y));
        let turn = from.turn_to(to);
        prop_assert!((-180.0..180.0).contains(&turn.degrees()));
        prop_assert!(apart(from.turned(turn).angle(), to.angle()) < 1e-9);
    }

    #[test]
    fn an_offset_and_its_inverse_cancel(x in degrees(), d in -180.0..180.0) {
        let bearing = Bearing::<True>::from_degrees(x);
        let declination = Declination::from_degrees(d);
        prop_assert!(apart(bearing.to(declination).to(declination.inverse()).angle(), bearing.angle()) < 1e-9);
        prop_assert!(apart(declination.then(declination.inverse()).angle(), Angle::ZERO) < 1e-9);
    }

    #[test]
    fn two_steps_between_norths_are_one_composed_step(x in degrees(), d in -180.0..180.0, g in -180.0..180.0) {
        let bearing = Bearing::<Grid>::from_degrees(x);
        let (declination, convergence) = (Declination::from_degrees(d), Convergence::from_degrees(g));
        let grid_magnetic: GridMagnetic = declination.then(convergence.inverse());
        let by_true = bearing.to(convergence.inverse()).to(declination);
        prop_assert!(apart(bearing.to(grid_magnetic).angle(), by_true.angle()) < 1e-9);
        // Declination less convergence, as the map's diagram has it.
        prop_assert!(apart(grid_magnetic.angle(), Angle::from_degrees(d - g)) < 1e-9);
    }

    #[test]
    fn a_quarter_bearing_leads_back_to_its_bearing(x in degrees()) {
        let angle = Angle::from_degrees(x).wrapped();
        let quadrant = Quadrant::from_angle(angle);
        prop_assert!((0.0..=90.0).contains(&quadrant.size.degrees()));
        prop_assert!(apart(quadrant.angle(), angle) < 1e-9);
    }

    #[test]
    fn a_printed_quarter_bearing_is_read_back(tenth in 0..3600u32) {
        let angle = Angle::from_degrees(f64::from(tenth) / 10.0);
        let text = format!("{:.1}", Quadrant::from_angle(angle));
        prop_assert!(apart(Quadrant::read(&text).unwrap().angle(), angle) < 1e-9, "{}", text);
        prop_assert!(apart(read_bearing(&text).unwrap().typed, angle) < 1e-9, "{}", text);
    }

    #[test]
    fn mils_lead_back_to_degrees(x in degrees()) {
        let back = Mils::from_angle(Angle::from_degrees(x)).angle().degrees();
        prop_assert!((back - x).abs() <= 1e-14 * x.abs(), "{} became {}", x, back);
    }

    #[test]
    fn printed_mils_are_read_back(tenth in 0..64_000u32) {
        let mils = Mils::new(f64::from(tenth) / 10.0);
        let typed = read_bearing(&format!("{mils:.1}")).unwrap().typed;
        prop_assert!((typed - mils.angle()).abs().degrees() < 1e-9);
    }

    #[test]
    fn a_printed_bearing_is_read_back_exactly(decimals in 0usize..=4, part in 0.0..1.0f64, north in prop::sample::select(&North::ALL[..])) {
        let power = 10f64.powi(decimals as i32);
        // A number with so many decimals; one division gives the nearest f64 to it, as reading does.
        let bearing = Angle::from_degrees((part * 360.0 * power).floor() / power);
        let mut text = String::new();
        push_bearing(&mut text, bearing, north, decimals);
        prop_assert_eq!(read_bearing(&text).unwrap(), TypedBearing { typed: bearing, north: Some(north) }, "{}", text);
    }

    #[test]
    fn a_printed_bearing_is_off_by_half_its_last_figure_at_most(x in degrees(), decimals in 0usize..=4) {
        let angle = Angle::from_degrees(x);
        let typed = read_bearing(&three_figures(angle, decimals)).unwrap().typed;
        prop_assert!((0.0..360.0).contains(&typed.degrees()));
        prop_assert!(apart(typed, angle) <= 0.5 / 10f64.powi(decimals as i32) + 1e-6);
    }

    #[test]
    fn three_figures_agree_with_the_standard_library_away_from_halves(
        units in 0..359_999u32, off in -0.4999..0.4999f64, decimals in 0usize..=3,
    ) {
        let power = 10f64.powi(decimals as i32);
        let x = (f64::from(units % (360 * power as u32)) + off) / power;
        prop_assume!(x >= 0.0 && x + 0.5 / power < 360.0);
        let width = if decimals == 0 { 3 } else { 4 + decimals };
        prop_assert_eq!(three_figures(Angle::from_degrees(x), decimals), format!("{x:0width$.decimals$}"));
    }

    #[test]
    fn a_printed_declination_is_read_back_exactly(minutes in -10_800..=10_800i32) {
        let angle = Angle::from_minutes(f64::from(minutes));
        let text = declination_words(angle);
        let typed = read_declination(&text).unwrap();
        prop_assert_eq!(typed, TypedAngle { angle, lettered: minutes != 0 }, "{}", text);
    }

    #[test]
    fn a_printed_decimal_declination_is_read_back_exactly(hundredths in -18_000..=18_000i32) {
        let angle = Angle::from_degrees(f64::from(hundredths) / 100.0);
        let text = decimal_declination(angle, 2);
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
