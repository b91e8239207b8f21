//! Courses and reports on paper: the files are read back with another library, the plan is put under a ruler and a protractor.
#![expect(clippy::cast_precision_loss, reason = "what a test counts is small")]

#[path = "pages/course.rs"]
mod course;
#[path = "pages/first_page.rs"]
mod first_page;
#[path = "worksheet/house.rs"]
mod house;
#[path = "worksheet/printed.rs"]
mod printed;
#[path = "pages/report.rs"]
mod report;

use house::House;
use printed::Page;
use std::fs;

/// A printed file of these words, and what was said about it.
fn print(house: &House, words: &[&str]) -> (Vec<u8>, String) {
    let answer = house.run(&[words, &["--output", "out.pdf", "--force"]].concat());
    assert_eq!((answer.code, answer.err.as_str()), (0, ""), "{words:?}");
    (fs::read(house.home().join("out.pdf")).unwrap(), answer.out)
}

/// A text without regard to where its lines end, and without places to write, which are wider on paper.
fn flowing(text: &str) -> String {
    let words = text.split_whitespace().map(|word| if word.starts_with("____") { "____" } else { word });
    words.collect::<Vec<&str>>().join(" ")
}

fn text_of(pages: &[Page]) -> String {
    flowing(&pages.iter().map(Page::text).collect::<Vec<String>>().join(" "))
}

/// All stands on the paper and can be read.
fn is_on_paper(pages: &[Page], (wide, high): (f64, f64)) {
    for page in pages {
        assert!((page.width_mm - wide).abs() < 0.01 && (page.height_mm - high).abs() < 0.01);
        for text in &page.texts {
            // Letters of this font are on average little more than half as wide as they are high.
            let end = text.x + text.text.chars().count() as f64 * text.size * 0.45;
            assert!((5.0..wide).contains(&text.x) && (0.0..high).contains(&text.y) && end < wide, "{text:?}");
            assert!(text.size > 2.0, "{text:?} is too small to read");
        }
    }
}
