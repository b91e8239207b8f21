//! What problems were: facts, answers, mix-ups and text of fifty codes per skill and level, and of every code that an open issue
//! cited, as version 0.1.0 made them, all of which have gone on since; and of four codes per skill and level as they are now
//! (`now.jsonl`, written by `NEEDLEWISE_SAVED=write cargo test --test saved` when a generation was raised or a text mended for a
//! reason; its difference is read like a snapshot's). A code of a generation that still stands must give the same, word for word.

use needlewise::problem::{Code, CodeError, Level, Problem, realise};
use needlewise::skills::{SKILLS, read_code};
use serde_json::{Value, json};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Once;

/// How many codes have gone on since and are refused: counted, so that no generation is taken back unseen.
const REFUSED: usize = 3_222;

/// How many codes of today are saved per skill and level, and so stand: of a generation raised by mistake there would be fewer.
const OF_TODAY: u64 = 4;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/saved")
}

/// Writes down what the present generations make, where that is asked for. Of a generation that still stands that may be other words, and
/// never another problem.
fn write_today() {
    if std::env::var("NEEDLEWISE_SAVED").is_ok_and(|how| how == "write") {
        for line in fs::read_to_string(folder().join("now.jsonl")).expect("a text").lines() {
            let saved: Value = serde_json::from_str(line).expect("JSON");
            if let Ok(code) = read_code(saved["code"].as_str().expect("a code")) {
                let now = whole(&realise(&code).expect("a problem"));
                assert_eq!(only_substance(&now), only_substance(&saved), "{code}: raise its generation");
            }
        }
        let codes = SKILLS.iter().flat_map(|skill| {
            let seeds = move |level| {
                (0..OF_TODAY).map(move |seed| Code { skill: *skill, level, seed: 7 * seed + 1, home: None })
            };
            Level::ALL.into_iter().flat_map(seeds)
        });
        let lines: Vec<String> = codes.map(|code| whole(&realise(&code).expect("a problem")).to_string()).collect();
        fs::write(folder().join("now.jsonl"), lines.join("\n") + "\n").expect("written");
    }
}

/// All that is saved of a problem.
fn whole(problem: &Problem) -> Value {
    let mut whole = substance(problem);
    let ways: Vec<Value> = problem
        .mixups()
        .iter()
        .map(|mixup| {
            let paths = problem.paths(mixup.meta.id, &mixup.answer).expect("a listed mix-up has a way");
            json!({"yours": paths.yours, "right": paths.right})
        })
        .collect();
    for (mixup, way) in whole["mixups"].as_array_mut().expect("mix-ups").iter_mut().zip(ways) {
        mixup["yours"] = way["yours"].clone();
        mixup["right"] = way["right"].clone();
    }
    whole["code"] = problem.code().to_string().into();
    whole["prompt"] = problem.prompt().into();
    whole["hint"] = problem.hint().into();
    whole["steps"] = problem.step_lines().into();
    whole
}

/// Every saved problem that a present generation still makes, with what was saved of it.
fn saved() -> Vec<(Code, Value)> {
    static WRITTEN: Once = Once::new();
    WRITTEN.call_once(write_today);
    let mut files: Vec<_> =
        fs::read_dir(folder()).expect("saved problems").map(|entry| entry.expect("a file").path()).collect();
    files.sort();
    let (mut all, mut refused) = (Vec::new(), 0);
    for file in files {
        for line in fs::read_to_string(&file).expect("a text").lines() {
            let value: Value = serde_json::from_str(line).expect("JSON");
            let text = value["code"].as_str().expect("a code");
            match read_code(text) {
                Ok(code) => all.push((code, value)),
                // Another generation, openly: refused with a message, never another problem.
                Err(CodeError::Generation { .. }) => refused += 1,
                Err(error) => panic!("{text}: {error}"),
            }
        }
    }
    assert_eq!(refused, REFUSED, "a generation was taken back, or one was raised without its codes being saved anew");
    for skill in SKILLS {
        for level in Level::ALL {
            let of_it = |code: &Code| code.skill.meta().id == skill.meta().id && code.level == level;
            let standing = all.iter().filter(|(code, _)| of_it(code)).count() as u64;
            assert_eq!(standing, OF_TODAY, "{} {level}: write the codes of today anew", skill.meta().id);
        }
    }
    all
}

/// Of what is saved all but the texts.
fn only_substance(saved: &Value) -> Value {
    let mixups: Vec<Value> = saved["mixups"]
        .as_array()
        .expect("mix-ups")
        .iter()
        .map(|mixup| json!({"id": mixup["id"], "answer": mixup["answer"]}))
        .collect();
    json!({"facts": saved["facts"], "kind": saved["kind"], "answer": saved["answer"], "mixups": mixups})
}

/// What is solved and judged.
fn substance(problem: &Problem) -> Value {
    let answer = |answer| serde_json::to_value(problem.question().answer_json(answer)).expect("JSON");
    let facts: Value = serde_json::from_str(&problem.facts().json()).expect("JSON");
    let mixups: Vec<Value> =
        problem.mixups().iter().map(|it| json!({"id": it.meta.id.as_str(), "answer": answer(&it.answer)})).collect();
    json!({"facts": facts, "kind": problem.question().kind(), "answer": answer(problem.answer()), "mixups": mixups})
}

#[test]
fn saved_codes_give_the_same_problems() {
    for (code, saved) in saved() {
        let now = whole(&realise(&code).unwrap_or_else(|error| panic!("{code}: {error}")));
        for part in ["code", "facts", "kind", "answer", "mixups", "prompt", "hint", "steps"] {
            assert_eq!(now[part], saved[part], "{code}: {part}");
        }
    }
}
