//! A course as its leader prints it.

use crate::house::House;
use crate::printed::{Line, Page, pages};
use crate::{flowing, is_on_paper, print, text_of};
use serde_json::Value;
use std::fs;

const TARN: &str = r#"
title = "Round the tarn"
date = 2026-11-28
lines = ["true", "grid"]
back_by = "16:30"
call = "the hut, 5550123"
round = true

[[point]]
name = "a hut with a very long name"
place = "46.8, -28.6"
ascent_m = 40
descent_m = 10
[[point]]
name = "tarn's outflow"
place = "46.806, -28.595"
hazards = ["the cliff west of the outflow: keep to its right"]
ascent_m = 10
descent_m = 20
[[point]]
name = "two birches on a far saddle"
place = "46.803, -28.585"
ascent_m = 10
descent_m = 20

[[member]]
name = "Ana"
double_paces = 65
[[member]]
name = "Bo"

[[measured]]
by = "Ana"
taken = "off the plan and set"
bearings = "030 113 254"
"#;

/// The green of what is meant, and what is written.
const MEANT: [u8; 3] = [0x0a, 0x7a, 0x4e];
const TEXT: [u8; 3] = [0x22; 3];

fn house() -> House {
    let house = House::new();
    fs::write(house.home().join("tarn.toml"), TARN).unwrap();
    house
}

fn said(house: &House, words: &[&str]) -> String {
    let answer = house.run(&[&["course", "tarn.toml"], words].concat());
    assert_eq!((answer.code, answer.err.as_str()), (0, ""), "{words:?}");
    answer.out
}

/// Whether all lines of a text stand on the paper, each with its name before it.
fn holds(paper: &str, text: &str) {
    // Where a line of the text goes on below, so it does here.
    let mut whole: Vec<String> = Vec::new();
    for line in text.lines().filter(|line| !line.trim().is_empty() && !line.starts_with("---")) {
        match whole.last_mut() {
            Some(before) if line.starts_with("     ") => *before = format!("{before} {}", line.trim()),
            _ => whole.push(line.trim().to_owned()),
        }
    }
    // Sentences without a name are set in by two, and go on by two.
    let paper = flowing(paper);
    for line in whole {
        assert!(paper.contains(&flowing(&line)), "{line}\n{paper}");
    }
}

fn page_of<'a>(pages: &'a [Page], head: &str) -> Vec<&'a Page> {
    pages.iter().filter(|page| page.texts.first().is_some_and(|text| text.text == head)).collect()
}

#[test]
fn cards_plan_and_key_say_on_paper_what_they_say_as_text() {
    let house = house();
    for (paper, size) in [("a4", (210.0, 297.0)), ("letter", (215.9, 279.4))] {
        for answers in [&[][..], &["--answers"]] {
            let words = [&["course", "tarn.toml", "--paper", paper], answers].concat();
            let (bytes, told) = print(&house, &words);
            let pages = pages(&bytes);
            assert!(told.contains(&format!("cards, plan and key, {} pages", pages.len())), "{told}");
            is_on_paper(&pages, size);
            assert!(bytes.len() / pages.len() <= 40_000, "{} bytes", bytes.len());
            for name in ["Ana", "Bo"] {
                let card = page_of(&pages, name);
                assert_eq!(card.len(), 1, "{name}");
                holds(&card[0].text(), &said(&house, &[&["--card", name], answers].concat()));
            }
            let key = page_of(&pages, "Key").iter().map(|page| page.text()).collect::<Vec<_>>().join(" ");
            let all = said(&house, &[]);
            let (as_text, _) = all.split_once("What Ana measured").unwrap();
            holds(&key, as_text);
        }
    }
}

#[test]
fn without_answers_no_card_and_no_plan_before_the_key_tells_a_bearing_of_the_course() {
    let house = house();
    let (bytes, told) = print(&house, &["course", "tarn.toml", "--cards"]);
    assert!(told.contains("cards and the plan, 3 pages"), "{told}");
    let paper = text_of(&pages(&bytes));
    let key = legs(&house);
    for leg in &key {
        for north in ["true_deg", "grid_deg", "magnetic_deg"] {
            let bearing = format!("{:03.0}° ", leg[north].as_f64().unwrap());
            assert!(!paper.contains(&bearing), "{bearing} {paper}");
        }
        assert!(!paper.contains(&format!("{:.0} m", leg["distance_m"].as_f64().unwrap())));
    }
    assert!(!paper.contains("the key"), "nothing of the key");
    let one = text_of(&pages(&print(&house, &["course", "tarn.toml", "--card", "Bo", "--answers"]).0));
    assert!(one.contains("for Bo") && !one.contains("Ana") && one.contains("030° T, 031° G, 039° M"), "{one}");
}

fn legs(house: &House) -> Vec<Value> {
    let lines = said(house, &["--format", "json"]);
    let values = lines.lines().map(|line| serde_json::from_str::<Value>(line).unwrap());
    values.filter(|value| value["kind"] == "leg").collect()
}

/// The lines of a colour that are longer than an arrow's head.
fn long(page: &Page, colour: [u8; 3]) -> Vec<&Line> {
    page.lines.iter().filter(|line| line.is_straight() && line.colour == colour && line.length() > 25.0).collect()
}

#[test]
fn a_ruler_and_a_protractor_on_the_plan_read_what_the_key_says() {
    let house = house();
    for paper in ["a4", "letter"] {
        let pages = pages(&print(&house, &["course", "tarn.toml", "--cards", "--paper", paper]).0);
        let plan = page_of(&pages, "Plan")[0];
        let text = plan.text();
        let (_, scale) = text.split_once("1 : ").unwrap();
        let scale: f64 = scale.split(',').next().unwrap().parse().unwrap();
        let (drawn, key) = (long(plan, MEANT), legs(&house));
        assert_eq!(drawn.len(), key.len());
        assert!(drawn.iter().all(|line| line.dash.is_empty()), "what is meant is unbroken");
        for (line, leg) in drawn.iter().zip(&key) {
            let (meant, way) = (leg["distance_m"].as_f64().unwrap(), leg["true_deg"].as_f64().unwrap());
            assert!((line.length() - meant * 1_000.0 / scale).abs() < 0.1, "{leg}: {} mm", line.length());
            assert!(
                ((line.degrees() - way + 180.0).rem_euclid(360.0) - 180.0).abs() < 0.1,
                "{leg}: {}",
                line.degrees()
            );
        }
        // Two bars: one of a round length on the ground, one of 100 mm for the printer.
        let level = |line: &&&Line| (line.degrees() - 90.0).abs() < 0.01 && line.width > 0.3;
        let bars: Vec<f64> = long(plan, TEXT).iter().filter(level).map(|line| line.length()).collect();
        let [ground, printer] = bars[..] else { panic!("{bars:?}") };
        assert!((printer - 100.0).abs() < 0.1 && text.contains("100 mm: measure it"), "{bars:?}");
        assert!((ground * scale / 1_000.0 - 500.0).abs() < 0.1 * scale / 1_000.0 && text.contains("500 m"), "{bars:?}");
    }
}

#[test]
fn what_was_measured_is_printed_in_words_and_over_what_was_meant() {
    let house = house();
    let (bytes, told) = print(&house, &["course", "tarn.toml", "--debrief"]);
    assert!(told.contains("what was measured, 2 pages"), "{told}");
    let pages = pages(&bytes);
    is_on_paper(&pages, (210.0, 297.0));
    let paper = text_of(&pages);
    for line in said(&house, &["--debrief"]).split("\n\n").flat_map(|part| part.lines().take(4)).take(5) {
        assert!(paper.contains(&flowing(line)), "{line}\n{paper}");
    }
    assert!(paper.contains("forgotten") && paper.contains("Ana over what was meant"), "{paper}");
    assert_eq!(long(&pages[1], MEANT).len(), 3);
    let walked = long(&pages[1], [0x8a, 0x2a, 0x9a]);
    assert_eq!(walked.len(), 3, "the legs as measured");
    assert!(walked.iter().all(|line| !line.dash.is_empty()), "what was walked is broken");
}

#[test]
fn three_pegs_are_printed_with_how_they_are_laid() {
    let house = House::new();
    let (bytes, _) = print(&house, &["course", "--pegs", "--first", "040", "--date", "2026-11-25"]);
    let paper = text_of(&pages(&bytes));
    assert!(paper.contains("Laying them 1 Choose flat open ground"), "{paper}");
    assert!(paper.contains("Sight 040° M from it, measure 60 m"), "{paper}");
}

#[test]
fn the_same_course_gives_the_same_bytes_for_its_owner_alone_and_no_file_is_written_over() {
    let house = house();
    let words = ["course", "tarn.toml"];
    let (first, _) = print(&house, &words);
    assert!(first == print(&house, &words).0);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let mode = fs::metadata(house.home().join("out.pdf")).unwrap().permissions().mode();
        assert_eq!(mode & 0o777, 0o600);
    }
    let again = house.run(&["course", "tarn.toml", "--cards", "--output", "out.pdf"]);
    assert_eq!((again.code, again.out.as_str()), (1, ""));
    assert!(again.err.contains("is there already") && again.err.contains("--force"), "{}", again.err);
    assert!(fs::read(house.home().join("out.pdf")).unwrap() == first, "the file is as it was");
    let refused = house.refused(&["course", "tarn.toml", "--card", "An", "--output", "new.pdf"]);
    assert!(refused.contains("did you mean Ana"), "{refused}");
    assert!(!house.home().join("new.pdf").exists());
}
