//! `home show` and `home set` as somebody types them, and the file they keep.

use crate::sandbox::{self, Answer, Sandbox, TODAY};
use std::fs;

#[test]
fn home_ground_is_set_shown_and_used() {
    let sandbox = Sandbox::new();
    let set = sandbox.run(&[
        "home",
        "set",
        "--at",
        "-33.9,18.4",
        "--name",
        "Hut meadow",
        "--height",
        "900",
        "--lines",
        "grid,magnetic",
        "--printed-declination",
        "26°30′W",
        "--printed-gma",
        "28W",
        "--printed-year",
        "2024",
        "--printed-change",
        "13'W",
        "--date",
        TODAY,
    ]);
    assert_eq!(set.code, 0, "{}", set.err);
    assert!(set.out.starts_with(&format!("Written to {}.\n", sandbox.config().display())), "{}", set.out);
    let show = sandbox.run(&["home", "show", "--date", TODAY, "--format", "json"]).json();
    assert_eq!(show.text("name"), "Hut meadow");
    assert_eq!(show.text("place"), "-33.9,18.4");
    assert_eq!((show.number("lat_deg"), show.number("lon_deg"), show.number("height_m")), (-33.9, 18.4, 900.0));
    assert_eq!(show.value("lines"), serde_json::json!(["magnetic", "grid"]));
    assert_eq!(show.number("printed_declination_deg"), -26.5);
    assert_eq!(show.number("printed_grid_magnetic_deg"), -28.0);
    assert_eq!(show.text("printed_date"), "2024");
    assert!((show.number("printed_annual_change_deg") + 13.0 / 60.0).abs() < 1e-12);
    assert_eq!(show.value("invented"), serde_json::json!(false));
    // The map prints 28° W off grid lines, and two years of 13′ W are 26′ more; it has no true lines.
    assert!(show.number("map_to_compass_grid_deg") == 28.0 && show.is_null("map_to_compass_true_deg"));
    let north = sandbox.run(&["north", "--date", TODAY, "--format", "json"]).json();
    for key in ["declination_deg", "convergence_deg", "grid_magnetic_deg", "height_m", "lat_deg"] {
        assert_eq!(north.number(key), show.number(key), "{key}");
    }
    sandbox.run(&["home", "set", "--printed-gma", "none"]);
    let show = sandbox.run(&["home", "show", "--date", TODAY, "--format", "json"]).json();
    assert!(show.is_null("printed_grid_magnetic_deg") && show.number("printed_declination_deg") == -26.5);
}

#[test]
fn setting_keeps_remarks_and_other_keys() {
    let sandbox = Sandbox::new();
    let text = "# Our ground, ask Ana before changing.\n[home]\nname = \"Tarn\" # upper\nplace = \"47.5, 11.25\"\n\n[screen]\ntheme = \"night\"\n";
    sandbox.write_config(text);
    sandbox.run(&["home", "set", "--at", "47.6, 11.3"]);
    let changed = fs::read_to_string(sandbox.config()).unwrap();
    assert_eq!(changed, text.replace("47.5, 11.25", "47.6, 11.3"));
    let again = sandbox.run(&["home", "set", "--at", "47.7, 11.3"]);
    assert!(again.out.contains("It is still called Tarn"), "{}", again.out);
}

#[test]
fn a_faulty_file_is_told_with_its_place_and_never_written_over() {
    let sandbox = Sandbox::new();
    let text = "[home]\nplcae = \"47.5, 11.25\"\n";
    sandbox.write_config(text);
    for args in
        [&["home", "show"][..], &["home", "set", "--at", "1,2"], &["north"], &["convert", "065M", "--to", "true"]]
    {
        let refused = sandbox.refused(args);
        assert!(refused.contains(&format!("{}:2:1", sandbox.config().display())), "{refused}");
        assert!(refused.contains("did you mean `place`?"), "{refused}");
    }
    assert_eq!(fs::read_to_string(sandbox.config()).unwrap(), text);
    assert_eq!(
        sandbox.run(&["north", "--at", "47.5,11.25", "--date", TODAY]).code,
        0,
        "home ground is not needed here"
    );
}

#[test]
fn a_file_that_cannot_be_written_is_no_fault_of_the_input() {
    let sandbox = Sandbox::new();
    fs::write(sandbox.home().join("plain"), "").unwrap();
    let file = sandbox.home().join("plain/config.toml");
    let answer = sandbox.run_with("NEEDLEWISE_CONFIG", file.to_str().unwrap(), &["home", "set", "--at", "1,2"]);
    assert_eq!((answer.code, answer.out.as_str()), (1, ""), "{}", answer.err);
    assert!(answer.err.contains("plain/config.toml"), "{}", answer.err);
}

#[test]
fn another_file_can_be_named_in_the_environment() {
    let sandbox = Sandbox::new();
    let file = sandbox.home().join("other.toml");
    let answer = sandbox.run_with("NEEDLEWISE_CONFIG", file.to_str().unwrap(), &["home", "set", "--at", "1,2"]);
    assert_eq!(answer.code, 0, "{}", answer.err);
    assert!(file.exists() && !sandbox.config().exists());
}

#[test]
fn texts_for_people_look_like_this() {
    let sandbox = Sandbox::new();
    let snap = |name: &str, args: &[&str]| {
        let answer = sandbox.run(&[args, &["--date", TODAY]].concat());
        assert_eq!(answer.code, 0, "{}", answer.err);
        sandbox::snapshot(name, &answer.out.replace(&sandbox.home().display().to_string(), "~"));
    };
    snap("north_invented", &["north"]);
    snap("north_place", &["north", "--at", "47.5,11.25", "--height", "900"]);
    snap("north_beyond_the_grid", &["north", "--at", "86,20"]);
    snap("north_blackout", &["north", "--at", "-63.851,135.078"]);
    snap("convert_model", &["convert", "065M", "--to", "grid", "--at", "47.5,11.25"]);
    snap("convert_invented", &["convert", "350T", "--to", "magnetic"]);
    snap("home_show_invented", &["home", "show"]);
    snap(
        "home_set",
        &[
            "home",
            "set",
            "--at",
            "32T 691000 5265000",
            "--name",
            "Hut meadow",
            "--lines",
            "grid",
            "--printed-declination",
            "1°30′E",
            "--printed-year",
            "2009",
            "--printed-change",
            "8'E",
        ],
    );
}

#[test]
fn help_names_every_option_of_these_commands() {
    let sandbox = Sandbox::new();
    for (args, options) in [
        (&["north", "--help"][..], &["--at", "--date", "--height", "--format"][..]),
        (&["convert", "--help"], &["--to", "--declination", "--gma", "--at"]),
        (&["home", "set", "--help"], &["--name", "--lines", "--printed-declination", "--printed-change"]),
    ] {
        let Answer { out, code, .. } = sandbox.run(args);
        assert_eq!(code, 0);
        assert!(options.iter().all(|option| out.contains(option)), "{out}");
    }
}
