//! The file as a whole: reading, faults, writing.

use super::write::{TEMPLATE, rewritten, template_shows};
use super::*;
use crate::angle::{Angle, Declination, GridMagnetic};
use crate::geomag::AnnualChange;
use crate::textfile::{FileError, FileKey, Origin, Slip};
use jiff::civil::date;
use proptest::prelude::*;
use std::fs;
use std::path::Path;

const FULL: &str = "\
# Our hut.
[home]
name = 'Hut meadow' # the lower one
place = \"32T 691000 5265000\"
height_m = 900
lines = [
    \"grid\", # all of them
    \"magnetic\",
]

[map] # sheet 12
gm_angle = \"2°45′ W\"
declination = \"3°30′ W\"
year = 2019
annual_change = \"9′ E\"
[screen]
theme = \"night\"
";

fn read(text: &str) -> Result<Config, Faults> {
    super::read::read(text, &Origin::File("config.toml".into()))
}

fn full() -> Config {
    read(FULL).unwrap()
}

fn rendered(text: &str) -> String {
    ConfigError::Faults(read(text).unwrap_err()).render(false)
}

fn one_line(text: &str) -> String {
    read(text).unwrap_err().to_string()
}

#[test]
fn everything_in_a_full_file_is_read() {
    let config = full();
    assert_eq!(config.home.name.as_deref(), Some("Hut meadow"));
    assert_eq!(config.home.place.as_ref().unwrap().text(), "32T 691000 5265000");
    assert_eq!(config.home.height_m, Some(900.0));
    assert_eq!(config.home.lines, Some(vec![North::Magnetic, North::Grid]));
    assert_eq!(config.map.declination, Some(Declination::from_degrees(-3.5)));
    assert_eq!(config.map.grid_magnetic, Some(GridMagnetic::from_degrees(-2.75)));
    assert_eq!(config.map.date, Some(MapDate::Year(2019)));
    assert_eq!(config.map.annual_change, Some(AnnualChange::from_angle(Angle::from_minutes(9.0))));
    assert_eq!(config.screen.theme, Some("night"));
}

#[test]
fn a_file_that_says_nothing_says_nothing() {
    for text in ["", "\n# nothing\n", "[home]\n", "[map]\n[screen]\n", TEMPLATE, "\u{feff}[home]\r\n"] {
        assert_eq!(read(text), Ok(Config::default()), "{text}");
    }
}

#[test]
fn tables_in_every_notation_are_read() {
    for text in ["home.name = \"Hut\"", "home = { name = \"Hut\" }", "[home]\r\n\"name\" = '''Hut'''\r\n"] {
        assert_eq!(read(text).unwrap().home.name.as_deref(), Some("Hut"), "{text}");
    }
    for (text, day) in [("2019-07-01", "2019-07-01"), ("\"2019-07-01\"", "2019-07-01")] {
        let config = read(&format!("[map]\ndate = {text}\n")).unwrap();
        assert_eq!(config.map.date.unwrap().to_string(), day);
    }
    assert_eq!(read("[screen]\ntheme = 16").unwrap().screen.theme, Some("16"));
}

#[test]
fn the_template_shows_every_key_with_an_example_that_works() {
    for key in Key::ALL.iter().copied() {
        assert!(template_shows(key), "{key:?}");
        let example = format!("# {}\n", key.example());
        assert!(TEMPLATE.contains(&example), "{example}");
        let config = read(&TEMPLATE.replace(&example, &example[2..])).unwrap();
        assert_ne!(config, Config::default(), "{key:?}");
    }
}

#[test]
fn a_wrong_key_is_named_with_its_place_and_what_was_meant() {
    insta_snapshot("errors", "settings_unknown_key", &rendered("[home]\nname = \"Hut\"\nplcae = \"47.5, 11.25\"\n"));
    assert_eq!(one_line("[home]\n  plcae = \"47.5, 11.25\"\n"), "config.toml, line 2: there is no key `plcae`");
}

#[test]
fn every_kind_of_fault_shows_its_line_and_what_to_write() {
    let faults = [
        "[hoem]\nname = \"Hut\"",
        "[kitchen]\n",
        "place = \"47.5, 11.25\"\n",
        "[home]\ntheme = \"dark\"",
        "[home]\nspeed_of_the_river = 3",
        "[home]\nplace = \"91, 8\"",
        "[home]\nplace = 47.5, 11.25",
        "[home]\nplace = Hut",
        "[home]\nplace = “Hut”",
        "[home]\nname = \"Hut",
        "[home]\nname = 3\nheight_m = \"900\"",
        "[home]\nheight_m = -50000",
        "[home]\nlines = [\"magnetic\", \"gird\"]",
        "[home]\nlines = []",
        "[home]\nlines = \"grid\"",
        "[map]\ndeclination = -3.5",
        "[map]\ndeclination = \"3.5\"",
        "[map]\nyear = 2019\ndate = 2019-07-01",
        "[map]\nyear = 1492",
        "[map]\nannual_change = \"9° E\"",
        "[screen]\ntheme = \"drak\"",
        "home = 3",
        "[home]\nname = \"a\"\nname = \"b\"",
        "[home]\n[map]\n[home]",
        "[home.name]\n",
        "[home] name = \"a\"",
        "[home]\nlines = [\"grid\" \"true\"]",
        "[home]\nlines = [3]",
        "[home]\nheight_m = 900 m",
        "[map]\ndate = July",
        "[home]\nname = \"a\" # fine\nplace: 1\nheight_m =\njust words\n// remark",
    ];
    let all: Vec<String> = faults.into_iter().map(|text| format!("## {text:?}\n\n{}", rendered(text))).collect();
    insta_snapshot("errors", "settings", &all.join("\n\n"));
}

#[test]
fn all_faults_are_shown_at_once_and_very_many_are_cut_short() {
    let many: String = (0..20).map(|number| format!("wrong_{number} = {number}\n")).collect();
    let faults = read(&format!("[home]\n{many}")).unwrap_err().faults;
    assert_eq!(faults.len(), 6);
    assert_eq!(faults[5].kind, FaultKind::Slip(Slip::More));
    let two = "[screen]\nthem = 1\n[home]\nnam = 2\n";
    assert!(one_line(two).ends_with("line 2: there is no key `them` (and one more fault)"));
    assert_eq!(rendered(two).matches("error: ").count(), 2);
}

#[test]
fn control_characters_in_a_file_never_reach_the_message() {
    for text in ["[home]\nplace = \"47\\u001b[31m\"\n", "[home]\nname = \"\u{1b}[31m\"\n", "[home]\n\"\\u0007\" = 1\n"]
    {
        let message = rendered(text);
        assert!(!message.contains(|c: char| c.is_control() && c != '\n'), "{message:?}");
    }
}

#[test]
fn changing_one_value_leaves_everything_else_as_it_was() {
    let mut wanted = full();
    wanted.home.height_m = Some(950.5);
    let changed = rewritten(FULL, &full(), &wanted).unwrap();
    assert_eq!(changed, FULL.replace("height_m = 900", "height_m = 950.5"));

    wanted.home.height_m = Some(900.0);
    wanted.home.name = Some("Tarn \"upper\"".into());
    wanted.home.lines = Some(vec![North::True]);
    let changed = rewritten(FULL, &full(), &wanted).unwrap();
    assert!(changed.contains("# the lower one") && changed.contains("[map] # sheet 12\n"), "{changed}");
    assert!(changed.contains("lines = [\"true\"]\n"), "{changed}");
    assert_eq!(read(&changed), Ok(wanted));
}

#[test]
fn a_value_that_goes_stays_as_a_remark() {
    let mut wanted = full();
    wanted.map.date = Some(MapDate::Day(date(2020, 3, 1)));
    wanted.home.lines = None;
    let changed = rewritten(FULL, &full(), &wanted).unwrap();
    assert!(changed.contains("\n# year = 2019\n"), "{changed}");
    assert!(changed.contains("\n# lines = [\n#     \"grid\", # all of them\n#     \"magnetic\",\n# ]\n"), "{changed}");
    assert_eq!(read(&changed), Ok(wanted));
}

#[test]
fn in_a_new_file_each_value_stands_below_its_explanation() {
    let changed = rewritten(TEMPLATE, &Config::default(), &full()).unwrap();
    assert!(changed.contains("# place = \"47.5, 11.25\"\nplace = \"32T 691000 5265000\"\n"), "{changed}");
    for line in TEMPLATE.lines() {
        assert!(changed.lines().any(|kept| kept == line), "{line}");
    }
    insta_snapshot("cli", "new_settings", &changed);
}

#[test]
fn unusual_files_can_be_changed_too() {
    for text in [
        "home = { name = \"Hut\" }\n",
        "home.name = \"Hut\"\n",
        "[map]\nyear = 2019",
        "\u{feff}[home]\r\nname = \"Hut\"\r\n# place = \"47.5, 11.25\"\r\n[map]\r\n",
        "[home]\nlines = [\n  \"grid\",\n  # place = \"1, 2\"\n]\n",
        "[home]\n# place = \"1, 2\"",
    ] {
        let old = read(text).unwrap();
        let mut wanted = old.clone();
        wanted.home.place = HomePlace::read("47.5, 11.25").ok();
        wanted.screen.theme = Some("sun");
        wanted.map.date = None;
        let changed = rewritten(text, &old, &wanted).unwrap();
        assert_eq!(read(&changed), Ok(wanted), "{changed}");
    }
}

#[test]
fn windows_line_ends_stay_windows_line_ends() {
    let text = TEMPLATE.replace('\n', "\r\n");
    let changed = rewritten(&text, &Config::default(), &full()).unwrap();
    assert_eq!(changed.matches('\n').count(), changed.matches("\r\n").count());
}

#[test]
fn a_file_that_is_not_there_means_nothing_is_set_and_saving_makes_it() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("deep/er/config.toml");
    assert_eq!(Config::load(&path), Ok(Config::default()));
    full().save(&path).unwrap();
    assert_eq!(Config::load(&path), Ok(full()));
    let names: Vec<_> = fs::read_dir(path.parent().unwrap()).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    assert_eq!(names, ["config.toml"], "nothing is left beside it");
}

#[test]
fn saving_over_a_faulty_file_changes_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("config.toml");
    fs::write(&path, "[home]\nplcae = 1\n").unwrap();
    assert!(matches!(full().save(&path), Err(ConfigError::Faults(_))));
    assert_eq!(fs::read_to_string(&path).unwrap(), "[home]\nplcae = 1\n");
}

#[test]
fn where_nothing_can_be_written_it_is_said_and_nothing_is_changed() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("file");
    fs::write(&file, "").unwrap();
    // Under a regular file nothing can be created, not even by the superuser.
    let error = full().save(&file.join("config.toml")).unwrap_err();
    assert!(matches!(error, ConfigError::Unwritable { .. } | ConfigError::File(_)), "{error}");
    let error = full().save(folder.path()).unwrap_err();
    assert!(error.to_string().contains(&folder.path().display().to_string()));
}

#[test]
fn files_that_cannot_be_settings_are_refused() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("config.toml");
    fs::write(&path, b"[home]\n# \xff\n").unwrap();
    assert_eq!(
        Config::load(&path),
        Err(ConfigError::File(FileError::NotText { path: path.clone(), line: 2, byte: 3 }))
    );
    fs::write(&path, "#".repeat(300 * 1024)).unwrap();
    assert_eq!(
        Config::load(&path),
        Err(ConfigError::File(FileError::TooBig { path: path.clone(), bytes: Some(300 * 1024) }))
    );
    assert!(matches!(Config::load(folder.path()), Err(ConfigError::File(FileError::Folder { .. }))));
}

#[cfg(unix)]
#[test]
fn a_link_stays_a_link_and_the_rights_of_the_file_stay() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let folder = tempfile::tempdir().unwrap();
    let (real, link) = (folder.path().join("real.toml"), folder.path().join("config.toml"));
    fs::write(&real, FULL).unwrap();
    fs::set_permissions(&real, fs::Permissions::from_mode(0o600)).unwrap();
    symlink(&real, &link).unwrap();
    let mut wanted = full();
    wanted.screen.theme = None;
    wanted.save(&link).unwrap();
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    assert_eq!(fs::metadata(&real).unwrap().permissions().mode() & 0o777, 0o600);
    assert_eq!(Config::load(&real), Ok(wanted));
}

/// Any settings that can be set.
fn any_config() -> impl Strategy<Value = Config> {
    let height = prop_oneof![(-1000..850_000).prop_map(f64::from), -1000.0..850_000.0];
    let home = (
        proptest::option::of("[a-zäß\"'\\\\#=\\[\\] ]{1,60}"),
        proptest::option::of((-90.0..=90.0, -180.0..=180.0)),
        proptest::option::of(height),
        proptest::option::of(proptest::sample::subsequence(Ground::LINES.to_vec(), 1..=3)),
    );
    let date = prop_oneof![
        (1800..=2100i16).prop_map(MapDate::Year),
        (1800..=2100i16, 1..=12i8, 1..=28i8).prop_map(|(year, month, day)| MapDate::Day(date(year, month, day))),
    ];
    let angle =
        || proptest::option::of(prop_oneof![-180.0..180.0, (-10_800..10_800).prop_map(|m| f64::from(m) / 60.0)]);
    let map = (angle(), angle(), proptest::option::of(date), proptest::option::of(-2.0..2.0));
    (home, map, proptest::option::of(proptest::sample::select(THEMES.to_vec()))).prop_map(|(home, map, theme)| {
        let (name, place, height_m, lines) = home;
        let (declination, grid_magnetic, date, change) = map;
        Config {
            home: Home {
                name: name.and_then(|name: String| read_name(&name).ok()),
                place: place.and_then(|(lat, lon): (f64, f64)| HomePlace::read(&format!("{lat:.6}, {lon:.6}")).ok()),
                height_m,
                lines,
            },
            map: OwnMap {
                declination: declination.map(Declination::from_degrees),
                grid_magnetic: grid_magnetic.map(GridMagnetic::from_degrees),
                date,
                annual_change: change.map(|degrees| AnnualChange::from_angle(Angle::from_degrees(degrees))),
            },
            screen: Screen { theme },
        }
    })
}

proptest! {
    #[test]
    fn what_is_set_is_what_is_read_and_no_remark_is_lost(first in any_config(), second in any_config()) {
        let text = rewritten(TEMPLATE, &Config::default(), &first).unwrap();
        prop_assert_eq!(read(&text), Ok(first.clone()));
        let text = rewritten(&text, &first, &second).unwrap();
        prop_assert_eq!(read(&text), Ok(second.clone()));
        for line in TEMPLATE.lines() {
            prop_assert!(text.lines().any(|kept| kept == line), "{} is gone from\n{}", line, text);
        }
        let text = rewritten(FULL, &full(), &second).unwrap();
        prop_assert_eq!(read(&text), Ok(second));
        prop_assert!(text.contains("# Our hut.\n") && text.contains("[map] # sheet 12\n"));
    }

    #[test]
    fn no_text_makes_reading_or_its_message_panic(text in any::<String>()) {
        if read(&text).is_err() {
            let _ = (rendered(&text), one_line(&text));
        }
    }

    #[test]
    fn no_text_that_looks_like_settings_makes_reading_panic(
        text in "(\\[(home|map|x)\\]\r?\n|name = |place = |lines = |year = |[0-9]{1,3}|\"|'|\\[|\\]|,|#|é|“|\n){0,20}"
    ) {
        if read(&text).is_err() {
            let _ = (rendered(&text), one_line(&text));
        }
    }
}

fn insta_snapshot(kind: &str, name: &str, text: &str) {
    insta::with_settings!({
        snapshot_path => Path::new(env!("CARGO_MANIFEST_DIR")).join("snapshots").join(kind),
        prepend_module_to_snapshot => false,
        omit_expression => true,
    }, { insta::assert_snapshot!(name, text) });
}
