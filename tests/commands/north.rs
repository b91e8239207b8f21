//! `north`, `convert` and `home` as somebody types them: against outside values, with bad input, and the file they keep.
//!
//! The source of each outside value is in the head of its file in `tests/reference/`, or in the row itself.
#![expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "what a test counts and draws is small")]

#[path = "north_home.rs"]
mod home;

use crate::sandbox::{Sandbox, TODAY, rows, stated};

/// What `north` prints for a row of declination.csv agrees with it. The printed digits are half a unit out at most, and
/// the model agrees with its makers' values to 2e-5 degrees.
#[test]
fn north_agrees_with_the_libraries_of_others() {
    let mut checked = 0;
    let sandbox = Sandbox::new();
    // Every row would start two thousand programs; each 23rd meets all dates and every part of the world.
    for row in rows("declination.csv").iter().step_by(23) {
        let height = row.number("height_km") * 1000.0;
        let at = format!("--at={},{}", row.text("lat"), row.text("lon"));
        let answer =
            sandbox.run(&["north", &at, "--date", row.text("date"), &format!("--height={height}"), "--format", "json"]);
        let json = answer.json();
        row.check("lat", json.number("lat_deg"), 1e-12);
        row.check("lon", json.number("lon_deg"), 1e-12);
        assert_eq!(json.number("height_m"), height);
        assert_eq!(json.text("date"), row.text("date"));
        assert_eq!(json.text("model"), "WMM2025");
        let blackout = row.text("zone_flag") == "blackout";
        row.check("D_deg", json.number("declination_deg"), if blackout { 1e-3 } else { 3e-5 });
        row.check("dD_deg_per_year", json.number("annual_change_deg"), if blackout { 1e-3 } else { 1e-5 });
        row.check("I_deg", json.number("inclination_deg"), 2e-5);
        row.check("H_nT", json.number("horizontal_nt"), 0.02);
        row.check("D_uncertainty_deg", json.number("uncertainty_deg"), if blackout { 0.05 } else { 6e-4 });
        assert_eq!(json.text("zone"), row.text("zone_flag").replace("ok", "normal"));
        match row.text("convergence_deg") {
            "" => assert!(json.is_null("convergence_deg") && json.is_null("utm"), "{}", answer.out),
            _ => {
                row.check("convergence_deg", json.number("convergence_deg"), 1e-6);
                row.check("grid_magnetic_deg", json.number("grid_magnetic_deg"), if blackout { 1e-3 } else { 3e-5 });
            }
        }
        checked += 1;
    }
    assert!(checked >= 80, "{checked}");
}

#[test]
fn north_prints_utm_and_mgrs_as_others_do() {
    let sandbox = Sandbox::new();
    let rows = rows("utm_mgrs.csv");
    // All rows of the exceptions of Norway and Svalbard and along the antimeridian, and each tenth of the others.
    let chosen = rows.iter().enumerate().filter(|(at, row)| {
        at % 10 == 0 || ["norway_zone", "svalbard_zone", "antimeridian"].contains(&row.text("kind"))
    });
    let mut checked = 0;
    for (_, row) in chosen {
        let at = format!("--at={},{}", row.text("lat"), row.text("lon"));
        let json = sandbox.run(&["north", &at, "--date", TODAY, "--format", "json"]).json();
        let cut = |name: &str| row.number(name).floor() as u64;
        let utm = format!(
            "{}{} {:07} {:07}",
            row.text("utm_zone"),
            row.text("mgrs_band"),
            cut("easting_m"),
            cut("northing_m")
        );
        assert_eq!(json.text("utm"), utm);
        assert_eq!(json.text("mgrs").trim_start_matches('0'), row.text("mgrs_5dig").trim_start_matches('0'));
        row.check("convergence_deg", json.number("convergence_deg"), 1e-7);
        checked += 1;
    }
    assert!(checked >= 70, "{checked}");
}

#[test]
fn north_agrees_with_published_examples() {
    let sandbox = Sandbox::new();
    let (given, expected) = stated("CV095");
    assert_eq!(
        (given.as_str(), expected.as_str()),
        ("42.283N 71.35W 1000 m 2028-07-04", "D -13.6891 I 65.9899 F 50940")
    );
    let json = sandbox
        .run(&["north", "--at", "42.283N 71.35W", "--height", "1000", "--date", "2028-07-04", "--format", "json"])
        .json();
    assert!((json.number("declination_deg") + 13.6891).abs() < 1e-4);
    assert!((json.number("inclination_deg") - 65.9899).abs() < 1e-4);
    // Eight cities, given as `London 51.5074 -0.1278 at 2025.0, 0 km`, expected `D +0.91, dD +10.2 arcmin/yr, …`.
    for number in 100..108 {
        let (given, expected) = stated(&format!("CV{number}"));
        let numbers: Vec<&str> = given.split(' ').filter(|word| word.contains('.') && *word != "2025.0,").collect();
        let printed: Vec<f64> = expected
            .split([' ', ','])
            .filter_map(|word| {
                word.strip_prefix(['+', '-']).map(|size| {
                    let size: f64 = size.parse().unwrap();
                    if word.starts_with('-') { -size } else { size }
                })
            })
            .collect();
        let at = format!("{},{}", numbers[0], numbers[1]);
        let json = sandbox.run(&["north", "--at", &at, "--date", "2025-01-01", "--format", "json"]).json();
        assert!((json.number("declination_deg") - printed[0]).abs() <= 0.01, "{given}: {expected}");
        assert!((json.number("annual_change_deg") * 60.0 - printed[1]).abs() <= 0.1, "{given}: {expected}");
    }
}

#[test]
fn a_place_can_be_written_in_every_usual_way() {
    let sandbox = Sandbox::new();
    let declination = |at: &str| {
        sandbox.run(&["north", "--at", at, "--date", TODAY, "--format", "json"]).json().number("declination_deg")
    };
    for (one, other) in [
        ("-33.9,18.4", "33°54′S 18°24′E"),
        ("4QFJ1234567890", "04QFJ 12345 67890"),
        ("32T 691000 5265000", "zone 32 north 691000 5265000"),
        ("32TPT9165", "32T PT 91000 65000"),
    ] {
        assert_eq!(declination(one), declination(other), "{one}");
    }
}

#[test]
fn negative_numbers_work_before_and_after_the_command() {
    let sandbox = Sandbox::new();
    let expected = sandbox.run(&["north", "--at=-33.9,18.4", "--date", TODAY]).out;
    assert!(expected.contains("33.90000° S 18.40000° E"), "{expected}");
    for args in [
        ["north", "--at", "-33.9,18.4", "--date", TODAY],
        ["--at", "-33.9,18.4", "north", "--date", TODAY],
        ["--at", "-33.9,18.4", "--date", TODAY, "north"],
    ] {
        assert_eq!(sandbox.run(&args).out, expected);
    }
    assert!(
        sandbox.run(&["north", "--height", "-500", "--at", "0,-0.5", "--date", TODAY]).out.contains("height -500 m")
    );
}

#[test]
fn the_keys_of_the_json_are_the_promised_ones() {
    let sandbox = Sandbox::new();
    let keys = |args: &[&str]| sandbox.run(args).keys().into_iter().map(str::to_owned).collect::<Vec<_>>();
    let north = [
        "lat_deg",
        "lon_deg",
        "height_m",
        "date",
        "model",
        "declination_deg",
        "annual_change_deg",
        "uncertainty_deg",
        "inclination_deg",
        "horizontal_nt",
        "zone",
        "convergence_deg",
        "grid_magnetic_deg",
        "utm",
        "mgrs",
    ];
    assert_eq!(keys(&["north", "--date", TODAY, "--format", "json"]), north);
    let convert =
        ["bearing_deg", "from", "to", "result_deg", "declination_deg", "convergence_deg", "grid_magnetic_deg"];
    assert_eq!(keys(&["convert", "065M", "--to", "true", "--date", TODAY, "--format", "json"]), convert);
}

#[test]
fn outside_the_grid_and_only_there_the_last_four_are_null() {
    let sandbox = Sandbox::new();
    for (at, is_outside) in [
        ("84,10", false),
        ("84.001,10", true),
        ("-80,10", false),
        ("-80.001,10", true),
        ("90,0", true),
        ("-90,0", true),
    ] {
        let json = sandbox.run(&["north", "--at", at, "--date", TODAY, "--format", "json"]).json();
        for key in ["convergence_deg", "grid_magnetic_deg", "utm", "mgrs"] {
            assert_eq!(json.is_null(key), is_outside, "{key} at {at}");
        }
        assert!(json.number("declination_deg").is_finite());
    }
}

#[test]
fn both_ends_of_the_model_are_inside_it() {
    let sandbox = Sandbox::new();
    for date in ["2025-01-01", "2030-01-01"] {
        assert_eq!(sandbox.run(&["north", "--date", date]).code, 0);
    }
    for date in ["2024-12-31", "2030-01-02", "1999-06-01", "2031-06-01"] {
        let refused = sandbox.refused(&["north", "--date", date]);
        assert!(refused.contains(&format!("{date} is outside the dates")), "{refused}");
        assert!(refused.contains("declination printed on the map"), "{refused}");
    }
}

#[test]
fn bad_input_is_refused_with_its_mend() {
    let sandbox = Sandbox::new();
    for (args, mend) in [
        (&["north", "--at", "91,0"][..], "latitudes run from 90 south (-90) to 90 north"),
        (&["north", "--at", "0,181"], "longitudes run from 180 west (-180) to 180 east"),
        (&["north", "--at", "32TPT123"], "as many each"),
        (&["north", "--at", "nowhere"], "32T PT 910 650"),
        (&["north", "--at", "47.5.1,11"], "write a place like"),
        (&["north", "--at", ""], "no place was given; write it like"),
        (&["north", "--date", "someday"], "write it like 2026-11-25"),
        (&["north", "--date", "2026-02-30"], "write it like 2026-11-25"),
        (&["north", "--height", "-50000"], "heights from -1000 to 850000 metres"),
        (&["north", "--height", "nan"], "heights from -1000 to 850000 metres"),
        (&["north", "--height", "high"], "--height"),
        (&["convert", "361M", "--to", "true"], "bearings go from 000 to 360"),
        (&["convert", "-11M", "--to", "true"], "bearings go from 000 to 360"),
        (&["convert", "6401 mils M", "--to", "true"], "6400 mils"),
        (&["convert", "065", "--to", "true"], "write T, G or M behind it"),
        (&["convert", "M", "--to", "true"], "type a number of degrees"),
        (&["convert", "065M", "--to", "up"], "possible values: magnetic, true, grid"),
        (&["convert", "065M"], "--to"),
        (&["convert", "065M", "--to", "true", "--declination", "17"], "write E or W behind it"),
        (&["convert", "065M", "--to", "true", "--declination", "200W"], "more than 180 degrees"),
        (&["convert", "065M", "--to", "true", "--gma", "9E"], "add --declination"),
        (&["convert", "065G", "--to", "magnetic", "--declination", "9E"], "add --gma"),
        (&["convert", "065T", "--to", "grid", "--declination", "9E"], "add --gma"),
        (&["convert", "065T", "--to", "grid", "--gma", "9E"], "add --declination"),
        (&["convert", "065T", "--to", "grid", "--at", "86,20", "--date", TODAY], "there is no UTM grid at this place"),
        (&["convert", "065T", "--to", "magnetic", "--date", "2031-01-01"], "outside the dates"),
        (&["home", "show", "--at", "1,2"], "home set --at"),
        (&["home", "set"], "--at PLACE"),
        (&["home", "set", "--lines", "magnetc"], "did you mean magnetic?"),
        (&["home", "set", "--printed-declination", "3.5"], "write E or W"),
        (&["home", "set", "--printed-change", "9° E"], "a few minutes"),
        (&["home", "set", "--printed-year", "1492"], "years run from 1800 to 2100"),
        (&["home", "set", "--height", "-50000"], "heights run from -1000 to 850000 metres"),
        (&["home", "set", "--name", " "], "write a name"),
        (&["home", "set", "--at", "91,0"], "latitudes run from"),
    ] {
        let refused = sandbox.refused(args);
        assert!(refused.contains(mend), "{args:?}: {refused}");
    }
    assert!(!sandbox.config().exists(), "nothing is written by a refused command");
}

#[test]
fn control_characters_never_come_back() {
    let sandbox = Sandbox::new();
    let bad = "\u{1b}[31m\u{7}";
    for args in [
        &["north", "--at", bad][..],
        &["north", "--date", bad],
        &["north", "--height", bad],
        &["north", "--format", bad],
        &[bad],
        &["convert", bad, "--to", "true"],
        &["convert", "065M", "--to", bad],
        &["convert", "065M", "--to", "true", "--gma", bad],
        &["home", "set", "--name", bad],
        &["home", "set", "--lines", bad],
        &["home", "set", "--printed-declination", bad],
        &["home", "set", "--printed-year", bad],
    ] {
        sandbox.refused(args);
    }
}

#[test]
fn bearings_are_converted_as_the_trade_does() {
    let sandbox = Sandbox::new();
    let mut checked = 0;
    // `true 100, D 12 E` gives `magnetic 88`.
    for number in 49..=60 {
        let (given, expected) = stated(&format!("CV{number:03}"));
        let words: Vec<&str> = given.split([' ', ',']).filter(|word| !word.is_empty()).collect();
        let (to, result) = expected.split_once(' ').unwrap();
        let bearing = format!("{}{}", words[1], words[0].chars().next().unwrap());
        let declination = format!("{}{}", words[3], words[4]);
        let args = ["convert", &bearing, "--to", to, "--declination", &declination, "--format", "json"];
        let json = sandbox.run(&args).json();
        assert!((json.number("result_deg") - result.parse::<f64>().unwrap()).abs() < 1e-9, "{given}: {expected}");
        assert_eq!((json.text("from"), json.text("to")), (words[0].to_owned(), to.to_owned()));
        checked += 1;
    }
    assert_eq!(checked, 12);
}

#[test]
fn the_sum_says_its_direction_in_words() {
    let sandbox = Sandbox::new();
    let out = |args: &[&str]| sandbox.run(&[&["convert"], args].concat()).out;
    let text = out(&["048T", "--to", "magnetic", "--declination", "17W"]);
    assert_eq!(
        text,
        "048° T is 065° M.\nFrom map (true) to compass (magnetic), west is added: 048 + 17 = 065\n\nDeclination 17° W, from what was given.\n"
    );
    // CV046 (TC 3-25.26, para 6-14): easterly G-M angle, magnetic to grid: add.
    let (given, expected) = stated("CV046");
    assert!(given.contains("easterly G-M, magnetic -> grid") && expected.starts_with("add;"), "{given} {expected}");
    let text = out(&["100M", "--to", "grid", "--gma", "9E"]);
    assert!(text.contains("From compass (magnetic) to map (grid), east is added: 100 + 9 = 109"), "{text}");
    let text = out(&["005T", "--to", "magnetic", "--declination", "12E"]);
    assert!(text.contains("005 − 12 = −7; below zero, so add 360: 353"), "{text}");
    assert_eq!(out(&["065M", "--to", "magnetic"]), "065° M counts from magnetic north already.\n");
    assert!(!text.contains("-"), "no signed numbers but the sum itself: {text}");
}

#[test]
fn what_was_given_goes_before_the_model_and_needs_neither_place_nor_day() {
    let sandbox = Sandbox::new();
    sandbox.write_config("nonsense");
    let json = sandbox
        .run(&[
            "convert",
            "100G",
            "--to",
            "true",
            "--declination",
            "14E",
            "--gma",
            "12.5E",
            "--date",
            "1950-01-01",
            "--format",
            "json",
        ])
        .json();
    // CV063: D 14 E and convergence 1.5 E give a G-M angle of 12.5 E.
    assert!(stated("CV063").0.contains("D 14 E, grid convergence 1.5 E") && stated("CV063").1.contains("12.5 E"));
    assert_eq!(json.number("convergence_deg"), 1.5);
    assert_eq!(json.number("result_deg"), 101.5);
    let json = sandbox.run(&["convert", "100T", "--to", "magnetic", "--declination=-17.1", "--format", "json"]).json();
    assert_eq!((json.number("result_deg"), json.number("declination_deg")), (117.1, -17.1));
    assert!(json.is_null("convergence_deg") && json.is_null("grid_magnetic_deg"));
}

#[test]
fn a_place_completes_what_was_given_with_its_convergence() {
    let sandbox = Sandbox::new();
    let at = ["--at", "47.5,11.25"];
    let north = sandbox.run(&[&["north", "--date", TODAY, "--format", "json"], &at[..]].concat()).json();
    let args = ["convert", "100T", "--to", "magnetic", "--gma", "9E", "--date", "1950-01-01", "--format", "json"];
    let json = sandbox.run(&[&args[..], &at].concat()).json();
    let convergence = north.number("convergence_deg");
    assert!((json.number("result_deg") - (91.0 - convergence)).abs() < 1e-8);
}

#[test]
fn mils_quarters_and_points_are_bearings_too() {
    let sandbox = Sandbox::new();
    // 1600 mils are 90 degrees (CV007), S40E is 140 (CV039), NE is 45 (CV016).
    assert_eq!(
        (stated("CV007").1, stated("CV039").1, stated("CV016").1),
        ("1600".into(), "S40E".into(), "45 deg".into())
    );
    for (bearing, degrees) in
        [("1600 mils M", 90.0), ("S40E M", 140.0), ("NE M", 45.0), ("360M", 0.0), ("065 magnetic", 65.0)]
    {
        let json = sandbox.run(&["convert", bearing, "--to", "true", "--declination", "0", "--format", "json"]).json();
        assert_eq!((json.number("bearing_deg"), json.number("result_deg")), (degrees, degrees), "{bearing}");
    }
}
