//! `skills`, `problem` and `judge` as scripts and people meet them.

use crate::cli::{needlewise, printed, refused, run, snapshot};
use needlewise::problem::{Code, Level, Verdict, judge, realise};
use needlewise::skills::{self, SKILLS};
use serde_json::Value;
use std::collections::BTreeSet;
use std::io::{BufRead, BufReader, Read};
use std::process::Stdio;

fn objects(text: &str) -> Vec<Value> {
    text.lines().map(|line| serde_json::from_str(line).unwrap()).collect()
}

fn keys(value: &Value) -> BTreeSet<&str> {
    value.as_object().unwrap().keys().map(String::as_str).collect()
}

/// A JSON answer as words of the command line: what stands in it, letter by letter.
fn words(answer: &Value) -> Vec<String> {
    let fields = answer.as_object().unwrap();
    let word = |value: &Value| value.as_str().map_or_else(|| value.to_string(), str::to_owned);
    match fields.len() {
        1 => fields.values().map(word).collect(),
        _ => fields.iter().map(|(name, value)| format!("{name}={}", word(value))).collect(),
    }
}

#[test]
fn every_json_answer_is_judged_right_word_for_word_and_every_json_mixup_is_named() {
    let mut problems = 0;
    for skill in SKILLS {
        for level in Level::ALL {
            for seed in 0..60 {
                let code = Code { skill: *skill, level, seed, home: None };
                let problem = realise(&code).unwrap();
                let json = serde_json::to_value(problem.json()).unwrap();
                let verdict = |answer: &Value| {
                    let texts = problem.question().texts_from_words(&words(answer)).unwrap();
                    let texts: Vec<&str> = texts.iter().map(String::as_str).collect();
                    judge(&problem, &texts).unwrap_or_else(|error| panic!("{code} {answer}: {error}")).verdict
                };
                assert_eq!(verdict(&json["answer"]), Verdict::Right, "{code}");
                let mixups = json["mixups"].as_array().unwrap();
                assert!(!mixups.is_empty(), "{code} tells nothing apart");
                for mixup in mixups {
                    let named = verdict(&mixup["answer"]).mixup().map(|mixup| mixup.id.as_str());
                    assert_eq!(named, mixup["id"].as_str(), "{code} {mixup}");
                }
                problems += 1;
            }
        }
    }
    assert_eq!(problems, SKILLS.len() * 4 * 60);
}

#[test]
fn the_program_itself_takes_its_json_answers_word_for_word() {
    for (skill, level) in [("read-dial", "4"), ("dated-map", "2"), ("compass-points", "3"), ("diagram", "3")] {
        let asked = printed(&["problem", "--skill", skill, "--level", level, "--seed", "11", "--format", "json"]);
        let problem = &objects(&asked)[0];
        let code = problem["code"].as_str().unwrap();
        let judged = |answer: &Value| {
            let answer = words(answer);
            let mut line = vec!["judge", code];
            line.extend(answer.iter().map(String::as_str));
            line.extend(["--format", "json"]);
            objects(&printed(&line)).remove(0)
        };
        assert_eq!(judged(&problem["answer"])["verdict"], "right");
        for mixup in problem["mixups"].as_array().unwrap() {
            let verdict = judged(&mixup["answer"]);
            assert_eq!((&verdict["verdict"], &verdict["mixup"]), (&Value::from("mix-up"), &mixup["id"]));
        }
    }
}

#[test]
fn the_same_seed_prints_the_same_problems_and_each_code_prints_its_own() {
    let five =
        ["problem", "--skill", "true-magnetic", "--level", "3", "--seed", "40", "--count", "5", "--format", "json"];
    let out = printed(&five);
    assert_eq!(out, printed(&five));
    let codes: Vec<String> = objects(&out).iter().map(|problem| problem["code"].as_str().unwrap().to_owned()).collect();
    assert_eq!(codes, ["B2-3-40-v2", "B2-3-41-v2", "B2-3-42-v2", "B2-3-43-v2", "B2-3-44-v2"]);
    for (code, line) in codes.iter().zip(out.lines()) {
        assert_eq!(printed(&["problem", code, "--format", "json"]).trim_end(), line);
    }
    let text = ["problem", "--skill", "read-dial", "--level", "4", "--seed", "3", "--count", "4", "--solution"];
    assert_eq!(printed(&text), printed(&text));
}

#[test]
fn without_a_seed_the_problems_are_new_each_time() {
    let codes = || printed(&["problem", "--skill", "turns", "--level", "2", "--count", "3"]);
    assert_ne!(codes(), codes());
}

#[test]
fn a_code_of_home_ground_is_kept_as_it_is() {
    let problem = &objects(&printed(&["problem", "b2 2 7 v2 13.7w 1.2e", "--format", "json"]))[0];
    assert_eq!(problem["code"], "B2-2-7-v2-13.7W-1.2E");
    assert!(problem["prompt"].as_str().unwrap().contains("home ground"));
}

#[test]
fn json_has_the_keys_of_the_design_and_no_others() {
    let skills = objects(&printed(&["skills", "--format", "json"]));
    assert_eq!(skills.len(), SKILLS.len());
    for (skill, known) in skills.iter().zip(skills::metas()) {
        assert_eq!(keys(skill), BTreeSet::from(["id", "family", "title", "levels", "prerequisites", "mixups"]));
        assert_eq!(skill["id"], known.id);
        assert_eq!(skill["levels"], Value::from(vec![1, 2, 3, 4]));
        assert_eq!(skill["mixups"].as_array().unwrap().len(), known.mixups.len());
    }
    for skill in skills::metas() {
        let line = printed(&["problem", "--skill", skill.id, "--level", "2", "--seed", "1", "--format", "json"]);
        let problem = &objects(&line)[0];
        assert_eq!(
            keys(problem),
            BTreeSet::from([
                "code",
                "generation",
                "skill",
                "level",
                "prompt",
                "facts",
                "question",
                "answer",
                "mixups",
                "steps"
            ])
        );
        assert_eq!(keys(&problem["question"]), BTreeSet::from(["kind", "fields"]));
        for field in problem["question"]["fields"].as_array().unwrap() {
            let mut wanted = BTreeSet::from(["name", "unit", "north", "tolerance"]);
            if field["unit"] == "word" {
                wanted.insert("choices");
            }
            assert_eq!(keys(field), wanted);
            assert!(problem["answer"].get(field["name"].as_str().unwrap()).is_some());
        }
        for mixup in problem["mixups"].as_array().unwrap() {
            assert_eq!(keys(mixup), BTreeSet::from(["id", "class", "answer"]));
        }
        assert!(problem["steps"].as_array().unwrap().iter().all(Value::is_string));
    }
    let verdict = &objects(&printed(&["judge", "B2-3-1-v2", "116", "--format", "json"]))[0];
    assert_eq!(keys(verdict), BTreeSet::from(["code", "verdict", "mixup", "off_by", "steps"]));
    assert_eq!(verdict["off_by"]["bearing"], -36.0);
    let words_only = &objects(&printed(&["judge", "A1-2-3-v3", "N", "--format", "json"]))[0];
    assert_eq!(words_only["off_by"], Value::Null);
}

#[test]
fn options_stand_before_and_after_the_answer() {
    let after = printed(&["judge", "B2-3-1-v2", "116", "--format", "json", "--date", "2026-01-01"]);
    assert_eq!(after, printed(&["--date", "2026-01-01", "judge", "--format", "json", "B2-3-1-v2", "116"]));
}

#[test]
fn answers_are_taken_in_any_order_with_or_without_the_name_of_a_single_field() {
    let verdict = |line: &[&str]| objects(&printed(line))[0]["verdict"].clone();
    let json = ["--format", "json"];
    let one = |answer: &[&str]| verdict(&[&["judge", "B2-3-1-v2"], answer, &json].concat());
    for answer in [&["152"][..], &["bearing=152"], &["152", "M"], &["152°", "magnetic"]] {
        assert_eq!(one(answer), "right", "{answer:?}");
    }
    let two = |answer: &[&str]| verdict(&[&["judge", "D1-3-7-v4"], answer, &json].concat());
    assert_eq!(two(&["turn=9", "way=clockwise"]), "right");
    assert_eq!(two(&["way=clockwise", "turn=9"]), "right");
    assert_eq!(two(&["way=counterclockwise", "turn=9"]), "mix-up");
}

#[test]
fn an_unwrapped_number_is_named_where_it_is_the_mixup_and_refused_where_it_is_not() {
    let negative = objects(&printed(&[
        "problem",
        "--skill",
        "true-magnetic",
        "--level",
        "3",
        "--seed",
        "0",
        "--count",
        "60",
        "--format",
        "json",
    ]))
    .into_iter()
    .find_map(|problem| {
        let mixup = problem["mixups"].as_array()?.iter().find(|mixup| mixup["id"] == "not-wrapped")?.clone();
        let answer = mixup["answer"]["bearing"].as_f64().filter(|bearing| *bearing < 0.0)?;
        Some((problem["code"].as_str()?.to_owned(), answer.to_string()))
    });
    let (code, answer) = negative.expect("some problem goes below north");
    let verdict = &objects(&printed(&["judge", &code, &answer, "--format", "json"]))[0];
    assert_eq!(verdict["mixup"], "not-wrapped");
    assert!(refused(&["judge", "B2-3-1-v2", "-11"]).contains("−11 is not on the dial"));
    assert!(refused(&["judge", "B2-3-1-v2", "361"]).contains("361 is not on the dial"));
}

#[test]
fn the_letter_of_another_north_is_named() {
    let verdict = &objects(&printed(&["judge", "B2-3-1-v2", "152T", "--format", "json"]))[0];
    assert_eq!((&verdict["verdict"], &verdict["mixup"]), (&Value::from("mix-up"), &Value::from("wrong-north")));
    assert!(printed(&["judge", "B2-3-1-v2", "048T"]).starts_with("Not right: you wrote the letter of another north"));
}

#[test]
fn bad_input_is_exit_code_2_and_says_what_to_write() {
    let long = "6".repeat(100_000);
    let escape = "B2-\u{1b}[31m";
    for (line, says) in [
        (&["judge", "B2-3-1-v2", ""][..], "nothing was typed"),
        (&["judge", "B2-3-1-v2", &long], "far longer than an answer"),
        (&["judge", "B2-3-1-v2", "forty"], "not a bearing"),
        (&["judge", "B2-3-1-v2", "65", "and", "more"], "after it"),
        (&["judge", "B2-3-1-v2", "height=3"], "no field height; write bearing=…"),
        (&["judge", "D1-3-7-v4", "turn=9"], "way is missing; write turn=… way=…"),
        (&["judge", "D1-3-7-v4", "turn=9", "turn=5"], "turn is answered twice"),
        (&["judge", "D1-3-7-v4", "9", "clockwise"], "several fields"),
        (&["judge", "D1-3-7-v4", "turn=9", "way=left"], "way: choose one of: clockwise, counterclockwise"),
        (&["judge", "Q9-1-1", "65"], "no skill has the mark Q9"),
        (&["judge", "B2-9-1", "65"], "level 9 does not exist"),
        (&["judge", escape, "65"], "looks like B2-3-4821-v1"),
        (&["problem", "B2-1-x"], "x is not the number"),
        (&["problem", "B2-2-7-v2-0.1W-0.1E"], "home ground"),
        (&["problem", "--skill", "true-magnetc", "--level", "1"], "did you mean true-magnetic?"),
        (&["problem", "--skill", "true-magnetic", "--level", "9"], "level 9 does not exist"),
        (&["problem", "--skill", "true-magnetic"], "--level"),
        (
            &["problem", "--skill", "turns", "--level", "1", "--seed", "18446744073709551615", "--count", "2"],
            "seeds end",
        ),
        (&["problem", "--skill", "turns", "--level", "1", "--count", "0"], "--count"),
        (&["problem"], "<CODE>"),
        (&["judge"], "<CODE>"),
        (&["skills", "--format", "xml"], "xml"),
        (&["skills", "--date", "yesterday"], "write it like 2026-11-25"),
        (&["answer", "65"], "unrecognized subcommand"),
    ] {
        let message = refused(line);
        assert!(message.contains(says), "{line:.60?}: {message}");
        assert!(message.len() < 600, "{line:.60?} is answered at length");
        assert!(!message.contains('\u{1b}'), "{line:.60?}");
    }
}

#[test]
fn a_reader_that_goes_away_ends_an_endless_list_without_a_word() {
    let mut child = std::process::Command::new(env!("CARGO_BIN_EXE_needlewise"))
        .args(["problem", "--skill", "turns", "--level", "1", "--seed", "0", "--count", "4294967295"])
        .env_clear()
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // The first line comes although the last is far away: problems are printed as they are made.
    let mut line = String::new();
    BufReader::new(child.stdout.take().unwrap()).read_line(&mut line).unwrap();
    assert!(line.starts_with("A3-1-0-v2 "), "{line}");
    assert!(child.wait().unwrap().success());
    let mut errors = String::new();
    child.stderr.take().unwrap().read_to_string(&mut errors).unwrap();
    assert_eq!(errors, "");
}

#[test]
fn problems_are_set_at_the_place_asked_for_with_the_declination_that_north_prints() {
    let at = ["--at=-33.9,18.4", "--date", "2026-11-25"];
    let north = &objects(&printed(&[&["north", "--format", "json"], &at[..]].concat()))[0];
    let asked = ["problem", "--skill", "true-magnetic", "--level", "2", "--seed", "7", "--format", "json"];
    let there = &objects(&printed(&[&asked[..], &at[..]].concat()))[0];
    let declination = there["facts"]["declination_deg"].as_f64().unwrap();
    assert!((declination - north["declination_deg"].as_f64().unwrap()).abs() <= 0.5, "{there} against {north}");
    let again = &objects(&printed(&["problem", there["code"].as_str().unwrap(), "--format", "json"]))[0];
    assert_eq!(again, there, "the code says all");
    let elsewhere = &objects(&printed(&asked))[0];
    assert_eq!(elsewhere["code"], "B2-2-7-v2", "the invented home ground is nobody's");
    assert!(refused(&["problem", "--skill", "read-dial", "--level", "1", at[0]]).contains("leave out --at"));
    assert!(
        refused(&["problem", "--skill", "true-magnetic", "--level", "1", "--at", "86,-170"]).contains("no problem")
    );
}

#[test]
fn the_figure_of_a_problem_is_written_as_a_page_and_no_file_is_overwritten() {
    let folder = tempfile::tempdir().unwrap();
    let to = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    for (code, part) in [("B1-2-7-v4", ">TN<"), ("D2-1-8-v4", ">N<"), ("E2-1-7-v2", ">N<")] {
        let file = to(code);
        assert!(printed(&["problem", code, "--picture", &file]).contains(code));
        let page = std::fs::read_to_string(&file).unwrap();
        assert!(page.starts_with("<svg") && page.contains(part), "{code}: {page}");
        let (status, _, error) = run(&["problem", code, "--picture", &file]);
        assert_eq!((status, std::fs::read_to_string(&file).unwrap()), (1, page), "{error}");
        assert!(error.contains("is there already"), "{error}");
    }
    let (status, _, error) = run(&["problem", "A7-4-1-v2", "--picture", &to("none")]);
    assert!(status == 1 && error.contains("no figure") && !std::path::Path::new(&to("none")).exists(), "{error}");
}

#[test]
fn problems_of_old_maps_are_set_elsewhere_since_a_code_tells_nothing_of_a_places_past() {
    let home = skills::read_code("B2-2-7-v2-26.8W-1.45E").unwrap().home;
    for skill in SKILLS.iter().filter(|skill| skill.meta().on_home) {
        for level in Level::ALL {
            for seed in 0..40 {
                let code = Code { skill: *skill, level, seed, home };
                let year = |text: &str| text.split(|c: char| !c.is_ascii_digit()).any(|part| part.len() == 4);
                match realise(&code) {
                    Ok(problem) => assert!(!year(problem.prompt()), "{code}: {}", problem.prompt()),
                    Err(error) => assert!(error.to_string().contains("old maps"), "{code}: {error}"),
                }
            }
        }
    }
    assert!(refused(&["problem", "D1-4-7-v4-26.8W-1.45E"]).contains("use a code without the angles"));
}

#[test]
fn problems_are_set_on_the_home_ground_that_was_set() {
    let folder = tempfile::tempdir().unwrap();
    let here = |words: &[&str]| {
        let output = needlewise().env("HOME", folder.path()).args(words).output().unwrap();
        assert!(output.status.success(), "{words:?}: {}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8(output.stdout).unwrap()
    };
    let day = ["--date", "2026-11-25"];
    here(&[&["home", "set", "--at=-33.9,18.4"], &day[..]].concat());
    let asked = |skill| here(&[&["problem", "--skill", skill, "--level", "2", "--seed", "7"], &day[..]].concat());
    assert!(asked("true-magnetic").starts_with("B2-2-7-v2-26.8W-1.45E "), "{}", asked("true-magnetic"));
    assert!(asked("read-dial").starts_with("A5-2-7-v3 "), "the dial is the same everywhere");
}

#[test]
fn texts_for_people() {
    snapshot("skills", &printed(&["skills"]));
    let solved = |code: &str| printed(&["problem", code, "--solution"]);
    let problems = [
        "B2-3-1-v2",
        "A5-4-1-v3",
        "A5-4-3-v3",
        "A6-2-7-v3",
        "B5-2-7-v3",
        "D1-1-2-v4",
        "A1-2-3-v3",
        "B2-2-7-v2-13.7W-1.2E",
        "E2-2-3-v2",
        "C7-1-4-v4",
    ]
    .map(solved);
    snapshot("problem_solution", &problems.join("\n"));
    snapshot("judge_right", &printed(&["judge", "B2-3-1-v2", "152M"]));
    snapshot("judge_mixup", &printed(&["judge", "B2-3-1-v2", "116"]));
    snapshot("judge_several_fields", &printed(&["judge", "D1-3-7-v4", "turn=9", "way=counterclockwise"]));
    snapshot("judge_slip", &printed(&["judge", "A7-2-7-v2", "205"]));
    snapshot("judge_not_recognised", &printed(&["judge", "A7-2-7-v2", "111"]));
    snapshot("skill_unknown", &refused(&["problem", "--skill", "back-bearings", "--level", "1"]));
}
