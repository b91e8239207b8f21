//! `needlewise course` as leaders and scripts meet it.

use crate::cli::snapshot;
use serde_json::Value;
use std::fs;
use std::path::PathBuf;
use tempfile::TempDir;

/// A day inside the model.
const TODAY: &str = "2026-11-25";

const PEGS: &str = "\
title = \"Three pegs\"
start = \"46.8, -28.6\"
declination = \"11 W\"
lines = [\"true\"]

[[leg]]
bearing = \"040 M\"
metres = 60
hazards = [\"the ditch: keep left\"]
[[leg]]
bearing = \"160 M\"
metres = 60
[[leg]]
bearing = \"280 M\"
metres = 60

[[member]]
name = \"Ana\"
double_paces = 65
[[member]]
name = \"Bo\"
";

/// A folder for the files of one test.
struct Ground {
    folder: TempDir,
}

impl Ground {
    fn new() -> Ground {
        Ground { folder: tempfile::tempdir().unwrap() }
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn write(&self, name: &str, text: &str) -> String {
        fs::write(self.path(name), text).unwrap();
        self.path(name).display().to_string()
    }

    /// What it says, its own folder left out.
    fn said(&self, text: &str) -> String {
        text.replace(&self.folder.path().display().to_string(), "~")
    }

    fn printed(&self, args: &[&str]) -> String {
        self.said(&crate::cli::printed(&[&["course", "--date", TODAY], args].concat()))
    }

    fn refused(&self, args: &[&str]) -> String {
        self.said(&crate::cli::refused(&[&["course", "--date", TODAY], args].concat()))
    }

    /// The message of what could not be done.
    fn not_done(&self, args: &[&str]) -> String {
        let (code, out, err) = crate::cli::run(&[&["course", "--date", TODAY], args].concat());
        assert_eq!((code, out.as_str()), (1, ""), "{args:?}: {err}");
        self.said(&err)
    }

    fn json(&self, args: &[&str]) -> Vec<Value> {
        let out = self.printed(&[args, &["--format", "json"]].concat());
        out.lines().map(|line| serde_json::from_str(line).unwrap()).collect()
    }
}

#[test]
fn a_new_file_is_written_read_back_and_never_written_over() {
    let ground = Ground::new();
    let file = ground.path("tarn.toml").display().to_string();
    let written = ground.printed(&["--new", &file]);
    assert!(written.starts_with("Written to ~/tarn.toml."), "{written}");
    assert!(ground.not_done(&["--new", &file]).contains("~/tarn.toml is there already; name another file"));
    let key = ground.printed(&[&file]);
    assert!(key.lines().all(|line| line.chars().count() <= 80 && line.trim_end() == line), "{key}");
    snapshot("course_key", &key);
    snapshot("course_card", &ground.printed(&[&file, "--card", "Ana"]));
    snapshot("course_card_answers", &ground.printed(&[&file, "--card", "Ana", "--answers"]));
}

#[test]
fn what_was_measured_is_never_set_against_pegs_that_are_dealt_now() {
    let ground = Ground::new();
    let said = ground.refused(&["--pegs", "--measured", "Ana", "350,110,230"]);
    assert!(said.contains("say which pegs were laid"), "{said}");
    assert!(ground.printed(&["--pegs", "--first", "350", "--measured", "Ana", "350,110,230"]).contains("Ana"));
    let file = ground.path("pegs.toml").display().to_string();
    let written = ground.printed(&["--pegs", "--first", "040", "--new", &file]);
    assert!(written.contains("set 040° M, 160° M, 280° M."), "{written}");
    // The file, whoever walks them, says how they are laid as well; another course does not.
    let laying = |text: &str| {
        text.split_once("Laying them\n").map(|(_, steps)| steps.lines().take(9).collect::<Vec<_>>().join("\n"))
    };
    let dealt = laying(&ground.printed(&["--pegs", "--first", "040"])).unwrap();
    assert_eq!(laying(&ground.printed(&[&file])), Some(dealt));
    assert!(!ground.printed(&[&ground.write("other.toml", PEGS)]).contains("Laying"));
}

#[test]
fn every_card_carries_what_nobody_goes_without() {
    let ground = Ground::new();
    let file = ground.write("pegs.toml", &PEGS.replace("lines", "back_by = \"16:30\"\ncall = \"5550123\"\nlines"));
    for args in [&["--cards"][..], &["--cards", "--answers"], &["--card", "Bo"], &["--card", "Ana", "--answers"]] {
        let cards = ground.printed(&[&[file.as_str()], args].concat());
        let names = if args.contains(&"--cards") { 2 } else { 1 };
        for wanted in [
            "16:30",
            "5550123",
            "stop, stay together",
            "the map in the hand and local rules",
            "the leader has walked this ground",
            "the ditch: keep left",
            "you count further: map to compass, add 11",
        ] {
            // Wherever a line ends.
            let words = cards.split_whitespace().collect::<Vec<_>>().join(" ");
            assert_eq!(words.matches(wanted).count(), names, "{args:?}: {wanted}\n{cards}");
        }
    }
    // Who has not counted paces has a blank; without the answers the way back is one, too.
    let bo = ground.printed(&[&file, "--card", "Bo"]);
    assert!(bo.contains("Set             040° M, back ______ M") && bo.contains("Double paces    ______"), "{bo}");
    assert!(!bo.contains("220° M"), "{bo}");
    assert!(ground.printed(&[&file, "--card", "Ana", "--answers"]).contains("Double paces    39"));
    // A blank stands for what the file does not say.
    let file = ground.write("bare.toml", PEGS);
    assert!(ground.printed(&[&file, "--card", "Bo"]).contains("Call            ______"));
}

#[test]
fn the_key_as_json_is_a_line_for_the_course_and_one_for_each_leg() {
    let ground = Ground::new();
    let file = ground.write("pegs.toml", PEGS);
    let lines = ground.json(&[&file]);
    assert_eq!(lines.len(), 4);
    let course = &lines[0];
    assert_eq!((&course["kind"], &course["legs"], &course["total_m"]), (&"course".into(), &3.into(), &180.0.into()));
    assert_eq!((&course["declination_deg"], &course["declination_from"]), (&(-11.0).into(), &"map".into()));
    assert!(course["closing_true_deg"].is_null() && course["time_least_min"].is_null());
    let leg = &lines[2];
    // By hand: 160 M at 11° W is 149 T.
    let bearings = ["magnetic_deg", "true_deg", "back_magnetic_deg"].map(|key| leg[key].as_f64().unwrap());
    assert_eq!(bearings, [160.0, 149.0, 340.0]);
    assert_eq!(leg["double_paces"][0]["double_paces"], 39);
    assert!(leg["double_paces"][1]["double_paces"].is_null());
}

#[test]
fn three_pegs_come_from_one_command_and_again_by_their_seed() {
    let ground = Ground::new();
    let out = ground.printed(&["--pegs", "--first", "040"]);
    assert!(out.lines().all(|line| line.chars().count() <= 80 && line.trim_end() == line), "{out}");
    snapshot("course_pegs", &out);
    assert_eq!(ground.printed(&["--pegs", "--seed", "7"]), ground.printed(&["--pegs", "--seed", "7"]));
    assert_ne!(ground.printed(&["--pegs", "--seed", "7"]), ground.printed(&["--pegs", "--seed", "8"]));
    let lines = ground.json(&["--pegs", "--first", "350 M", "--side", "80"]);
    let legs: Vec<(f64, f64)> = lines[1..]
        .iter()
        .map(|leg| (leg["magnetic_deg"].as_f64().unwrap(), leg["distance_m"].as_f64().unwrap()))
        .collect();
    assert_eq!(legs, [(350.0, 80.0), (110.0, 80.0), (230.0, 80.0)]);
    let file = ground.path("pegs.toml").display().to_string();
    ground.printed(&["--pegs", "--first", "040", "--new", &file]);
    assert_eq!(ground.json(&[&file])[2]["magnetic_deg"], 160.0);
}

#[test]
fn what_was_measured_is_told_from_the_file_or_the_command_line() {
    let ground = Ground::new();
    let measured = "[[measured]]\nby = \"Bo\"\ntaken = \"sighted\"\nbearings = \"040 345 -\"\ncame_out = [\"at the peg\", \"12 m, 230 M\", \"-\"]\n";
    let file = ground.write("pegs.toml", &format!("{PEGS}{measured}"));
    snapshot("course_debrief_forgotten", &ground.printed(&[&file, "--measured", "Ana", "029,149,269"]));
    snapshot("course_debrief_reversed", &ground.printed(&[&file, "--measured", "Ana", "040,340,280"]));
    snapshot("course_debrief_scatter", &ground.printed(&[&file, "--measured", "Ana", "040,165,283"]));
    snapshot("course_debrief_cannot_be_told", &ground.printed(&[&file, "--measured", "Ana", "034,154,275"]));
    snapshot("course_debrief_file", &ground.printed(&[&file, "--debrief"]));
    assert_eq!(ground.printed(&[&file, "--debrief", "Bo"]), ground.printed(&[&file, "--debrief"]));
    let key = ground.printed(&[&file]);
    assert!(key.contains("What Bo measured, sighted") && key.starts_with("Three pegs: the key"), "{key}");
    let lines = ground.json(&[&file, "--measured", "Ana", "029,149,269"]);
    assert_eq!(lines.len(), 1);
    assert_eq!((&lines[0]["cause"], &lines[0]["how_sure"]), (&"forgotten".into(), &"sure".into()));
    assert_eq!((&lines[0]["offset_deg"], &lines[0]["legs"][1]["off_deg"]), (&(-11.0).into(), &(-11.0).into()));
    let sighted = ground.json(&[&file, "--measured", "Ana", "029,149,269", "--taken", "sighted"]);
    assert_eq!(sighted[0]["cause"], "constant");
    let reversed = ground.json(&[&file, "--measured", "Ana", "040,340,280"]);
    assert_eq!((&reversed[0]["cause"], &reversed[0]["legs"][1]["slip"]), (&"scatter".into(), &"reversed".into()));
}

#[test]
fn no_sign_and_no_greek_letter_stands_in_a_debrief() {
    let ground = Ground::new();
    let file = ground.write("pegs.toml", PEGS);
    for measured in ["029,149,269", "018,138,258", "051,171,291", "070 190 310", "040 160 100", "160 040 280"] {
        for taken in ["off-plan", "sighted"] {
            let told = ground.printed(&[&file, "--measured", "Ana", measured, "--taken", taken]);
            let signed = |word: &str| word.starts_with(['-', '−', '+']) && word.len() > 1;
            assert!(!told.split_whitespace().any(signed), "{told}");
            assert!(!told.chars().any(|c| ('α'..='ω').contains(&c)), "{told}");
        }
    }
}

#[test]
fn pictures_are_written_and_never_over_another() {
    let ground = Ground::new();
    let file = ground.write("pegs.toml", PEGS);
    let picture = ground.path("plan.svg").display().to_string();
    ground.printed(&[&file, "--picture", &picture]);
    let plan = fs::read_to_string(&picture).unwrap();
    assert!(plan.contains("1 : 500, up is true north"), "{plan}");
    assert!(!plan.contains("160° M"), "the plan is without the answers");
    assert!(ground.not_done(&[&file, "--picture", &picture]).contains("is there already"));
    let answers = ground.path("answers.svg").display().to_string();
    ground.printed(&[&file, "--answers", "--picture", &answers]);
    assert!(fs::read_to_string(&answers).unwrap().contains("2: 160° M"));
    let walked = ground.path("walked.svg").display().to_string();
    ground.printed(&[&file, "--measured", "Ana", "029,149,269", "--picture", &walked]);
    assert!(fs::read_to_string(&walked).unwrap().contains("Ana over what was meant"));
}

#[test]
fn bad_input_is_refused_with_its_place_and_its_mend() {
    let ground = Ground::new();
    let file = ground.write("pegs.toml", PEGS);
    assert!(ground.refused(&[]).contains("--new FILE"));
    let bad = ground.write("bad.toml", &PEGS.replace("metres = 60\nhaz", "metre = 60\nhaz"));
    let said = ground.refused(&[&bad]);
    assert!(said.contains("~/bad.toml:8:1") && said.contains("did you mean `metres`?"), "{said}");
    assert!(ground.refused(&["nowhere.toml"]).contains("there is no file nowhere.toml"));
    let said = ground.refused(&[&file, "--card", "Anna"]);
    assert!(said.contains("did you mean Ana? the members are Ana, Bo"), "{said}");
    let said = ground.refused(&[&file, "--measured", "Ana", "029,149"]);
    assert!(said.contains("3 legs and 2 bearings"), "{said}");
    assert!(ground.refused(&[&file, "--measured", "Ana", "-,-,-"]).contains("every leg is left out"));
    assert!(ground.refused(&[&file, "--measured", "Ana", "029,149,x"]).contains("entry 3"));
    assert!(ground.refused(&[&file, "--debrief"]).contains("add [[measured]]"));
    assert!(ground.refused(&["--pegs", "--side", "5"]).contains("20 to 200 metres"));
    assert!(ground.refused(&["--pegs", "--first", "040 T"]).contains("--first"));
    let said = crate::cli::refused(&["course", "--pegs", "--first", "040", "--date", "2031-01-01"]);
    assert!(said.contains("2031-01-01 is outside the dates"), "{said}");
    let far = ground.write("far.toml", &PEGS.replace("declination = \"11 W\"", "date = 2031-01-01"));
    assert!(ground.refused(&[&far]).contains("or write what your map prints"), "{}", ground.refused(&[&far]));
    let national = ground.write("national.toml", &PEGS.replace("46.8, -28.6", "NN 166 712"));
    let said = ground.refused(&[&national]);
    assert!(said.contains("national grid") && said.contains("32T PT 910 650"), "{said}");
}

#[test]
fn a_name_may_be_as_long_in_a_course_as_in_the_records() {
    let ground = Ground::new();
    let name = |letters: usize| PEGS.replace("\"Bo\"", &format!("\"{}\"", "b".repeat(letters)));
    let file = ground.write("forty.toml", &name(needlewise::store::LONGEST_NAME));
    assert!(ground.printed(&[&file, "--cards"]).contains(&"b".repeat(40)));
    let file = ground.write("longer.toml", &name(needlewise::store::LONGEST_NAME + 1));
    assert!(ground.refused(&[&file]).contains("40"), "{}", ground.refused(&[&file]));
}

#[test]
fn members_of_the_records_walk_along_and_who_is_in_the_file_keeps_their_paces() {
    let home = crate::home::Home::new();
    home.run(&["patrol", "add", "Ana, Bo, Cai"]);
    let file = home.file("tarn.toml");
    std::fs::write(
        &file,
        "title = \"Tarn\"\n[[leg]]\nbearing = \"040 M\"\nmetres = 200\n[[member]]\nname = \"ana\"\ndouble_paces = 65\n",
    )
    .unwrap();
    let file = file.to_str().unwrap();
    let cards = |members: &str| home.run(&["course", file, "--members", members, "--cards"]);
    let all = cards("all");
    assert_eq!(all.matches(&"-".repeat(80)).count(), 2, "three cards: {all}");
    assert!(all.contains("ana") && all.contains("130") && all.contains("Bo") && all.contains("Cai"), "{all}");
    let one = cards("Bo");
    assert!(one.contains("Bo") && one.contains("ana") && !one.contains("Cai"), "{one}");
    assert!(home.run(&["course", file, "--members", "Bo", "--card", "Bo"]).contains("Bo"));
    let refused = home.refused(&["course", file, "--members", "Boo"]);
    assert!(refused.contains("Bo"), "{refused}");
    for nobody in ["", ",", " , "] {
        let refused = home.refused(&["course", file, "--members", nobody]);
        assert!(refused.contains("--members names nobody"), "{refused}");
    }
    // The file itself stays as it is, and three pegs take members, too.
    assert!(!std::fs::read_to_string(file).unwrap().contains("Bo"));
    let pegs = home.run(&["course", "--pegs", "--first", "040", "--members", "all", "--cards"]);
    assert!(pegs.contains("Cai") && pegs.contains("peg A to peg B") && !pegs.contains("the start to peg B"), "{pegs}");
}
