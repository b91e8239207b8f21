//! Sheets and maps on paper, as a leader prints them: the files are read back with another library.
#![expect(clippy::cast_precision_loss, reason = "what a test counts is small")]

#[path = "worksheet/house.rs"]
mod house;
#[path = "worksheet/map.rs"]
mod map;
#[path = "worksheet/printed.rs"]
mod printed;

use house::House;
use printed::{Page, pages};
use std::collections::BTreeSet;
use std::fs;

/// A printed file of these words, and what was said about it.
fn printed(house: &House, words: &[&str]) -> (Vec<u8>, String) {
    let answer = house.run(&[words, &["--output", "out.pdf", "--force"]].concat());
    assert_eq!((answer.code, answer.err.as_str()), (0, ""), "{words:?}");
    (fs::read(house.home().join("out.pdf")).unwrap(), answer.out)
}

fn lines(house: &House, words: &[&str]) -> String {
    let answer = house.run(&[words, &["--format", "text"]].concat());
    assert_eq!((answer.code, answer.err.as_str()), (0, ""), "{words:?}");
    answer.out
}

/// The codes in a text, in their order.
fn codes(text: &str) -> Vec<String> {
    let part = |word: &str| word.trim_matches(['(', ')']).to_owned();
    let is_code = |word: &String| {
        let parts: Vec<&str> = word.split('-').collect();
        parts.len() >= 4 && parts[0].len() == 2 && parts[1].len() == 1 && parts[3].starts_with('v')
    };
    text.split_whitespace().map(part).filter(is_code).collect()
}

/// A text without regard to where its lines end.
fn flowing(text: &str) -> String {
    text.split_whitespace().collect::<Vec<&str>>().join(" ")
}

/// The pages of sheets, and those of keys.
fn parted(pages: &[Page]) -> (Vec<&Page>, Vec<&Page>) {
    pages.iter().partition(|page| !page.text().contains("Key: "))
}

fn text_of(pages: &[&Page]) -> String {
    flowing(&pages.iter().map(|page| page.text()).collect::<Vec<String>>().join(" "))
}

const DRILL: [&str; 5] = ["worksheet", "--drill", "declination-west", "--seed", "5"];

#[test]
fn without_learners_one_sheet_is_printed_for_whoever_takes_it_and_its_key_behind_it() {
    let house = House::new();
    let (bytes, said) = printed(&house, &["worksheet", "--skill", "back-bearing", "--seed", "1"]);
    let pages = pages(&bytes);
    let (sheets, keys) = parted(&pages);
    assert!(!sheets.is_empty() && !keys.is_empty());
    assert!(said.contains(&format!("{} pages", pages.len())) && said.contains("seed 1"), "{said}");
    // The key comes last, so that it can be kept back.
    assert!(pages.iter().skip_while(|page| !page.text().contains("Key: ")).all(|page| page.text().contains("Key: ")));
    let (asked, told) = (codes(&text_of(&sheets)), codes(&text_of(&keys)));
    assert_eq!(asked.len(), 8);
    assert_eq!(asked, told, "the same codes on sheet and key, in the same order");
    assert!(pages.iter().all(|page| page.text().contains("not for finding your way")));
    assert!(!house.home().join("data").exists(), "nothing was recorded");
}

#[test]
fn a_sheet_asks_what_the_problem_command_asks_and_its_key_has_that_answer() {
    let house = House::new();
    for words in [
        vec!["worksheet", "--drill", "declination-west", "--count", "4", "--seed", "9"],
        vec!["worksheet", "--standard", "day-outing", "--seed", "2"],
        vec![
            "worksheet",
            "--skill",
            "resection",
            "--skill",
            "diagram",
            "--skill",
            "course-leg",
            "--count",
            "3",
            "--seed",
            "3",
        ],
    ] {
        let text = lines(&house, &words);
        let pages = pages(&printed(&house, &words).0);
        let (sheets, keys) = parted(&pages);
        let (sheet, key) = (text_of(&sheets), text_of(&keys));
        let asked = codes(&sheet);
        assert!(asked.len() >= 3, "{words:?}");
        let of_text: BTreeSet<String> = codes(&text).into_iter().collect();
        assert_eq!(asked.iter().cloned().collect::<BTreeSet<_>>(), of_text, "text and pages are the same print");
        for code in asked {
            let problem = house.run(&["problem", &code, "--solution"]).out;
            let told: Vec<&str> = problem.lines().collect();
            assert!(sheet.contains(&flowing(told[1])), "{code}: {}\n{sheet}", told[1]);
            assert!(flowing(&text).contains(&flowing(told[1])), "{code}");
            for line in &told {
                if let Some(wanted) = line.strip_prefix("Wanted: ") {
                    let label = needlewise::problem::capital(wanted);
                    assert!(sheet.contains(&flowing(&label)), "{code}: {label}");
                    assert!(flowing(&text).contains(&flowing(line)), "{code}: {line}");
                }
                if let Some(answer) = line.strip_prefix("Answer: ") {
                    assert!(key.contains(&flowing(answer)), "{code}: {answer}");
                    assert!(!sheet.contains("Step 1"), "no working on the sheet");
                }
                if line.starts_with("Step ") {
                    assert!(key.contains(&flowing(line)), "{code}: {line}\n{key}");
                }
                if let Some(mixup) = line.strip_prefix("Mix-up ") {
                    let (_, wrong) = mixup.split_once(": ").unwrap();
                    let (answer, said) = wrong.split_once(", when you ").unwrap();
                    assert!(key.contains(&flowing(answer)), "{code}: {answer}");
                    assert!(key.to_lowercase().contains(&flowing(said).to_lowercase()), "{code}: {said}");
                }
            }
        }
    }
}

#[test]
fn each_learner_gets_other_problems_of_the_same_skills_and_levels() {
    let house = House::new();
    for name in ["Ana", "Łukasz Ő", "Ελένη", "Ольга"] {
        assert_eq!(house.run(&["patrol", "add", name]).code, 0);
    }
    let people =
        ["--learner", "Ana", "--learner", "Łukasz Ő", "--learner", "Ελένη", "--learner", "Ольга", "--learner", "Ana"];
    let (bytes, said) = printed(&house, &[&DRILL[..], &people].concat());
    assert!(said.contains("4 sheets and the keys"), "{said}");
    let pages = pages(&bytes);
    let (sheets, keys) = parted(&pages);
    let of = |name: &str, pages: &[&Page]| {
        codes(
            &pages
                .iter()
                .filter(|page| page.text().contains(name))
                .map(|page| page.text())
                .collect::<Vec<_>>()
                .join(" "),
        )
    };
    // Keys stand one behind the other.
    let told = text_of(&keys);
    let key_of = |name: &str| {
        let (_, behind) = told.split_once(&format!("Key: {name} ")).unwrap();
        let own = behind.split("Key: ").enumerate().take_while(|(at, part)| *at == 0 || part.starts_with(name));
        codes(&own.map(|(_, part)| part).collect::<Vec<_>>().join(" "))
    };
    let mut all = BTreeSet::new();
    let skills = |codes: &[String]| codes.iter().map(|code| code[..4].to_owned()).collect::<Vec<_>>();
    let first = skills(&of("Ana", &sheets));
    for name in ["Ana", "Łukasz Ő", "Ελένη", "Ольга"] {
        let asked = of(name, &sheets);
        assert!(!asked.is_empty(), "{name} can be read back");
        assert_eq!(asked, key_of(name), "{name}");
        assert_eq!(skills(&asked), first, "{name}: as hard as everybody's");
        let count = asked.len();
        all.extend(asked);
        assert_eq!(all.len() % count, 0, "{name}: no problem twice");
    }
    assert_eq!(all.len(), 4 * first.len());
}

#[test]
fn pages_have_the_size_asked_for_and_cost_few_kilobytes() {
    let house = House::new();
    for (paper, wide, high) in [("a4", 210.0, 297.0), ("letter", 215.9, 279.4)] {
        for words in [
            vec!["worksheet", "--drill", "first-evening", "--seed", "4", "--paper", paper],
            vec!["map", "--seed", "4", "--paper", paper],
        ] {
            let (bytes, _) = printed(&house, &words);
            let pages = pages(&bytes);
            for page in &pages {
                assert!((page.width_mm - wide).abs() < 0.01 && (page.height_mm - high).abs() < 0.01, "{words:?}");
                for text in &page.texts {
                    assert!((0.0..wide).contains(&text.x) && (0.0..high).contains(&text.y), "{words:?}: {text:?}");
                    assert!(text.size > 2.0, "{words:?}: {text:?} is too small to read");
                }
            }
            let each = bytes.len() as f64 / 1000.0 / pages.len() as f64;
            assert!(each <= 40.0, "{words:?}: {each:.1} KB a page");
        }
    }
}

#[test]
fn the_same_seed_prints_the_same_bytes_and_another_one_others() {
    let house = House::new();
    for words in [&DRILL[..4], &["map", "--lines", "grid,true", "--seed"]] {
        let of = |seed| printed(&house, &[words, &[seed]].concat()).0;
        assert_eq!(of("5"), of("5"));
        assert_ne!(of("5"), of("6"));
    }
}

#[test]
fn what_cannot_be_answered_on_paper_is_left_out_and_said() {
    let house = House::new();
    let (bytes, said) =
        printed(&house, &["worksheet", "--skill", "set-dial", "--skill", "turns", "--level", "1", "--seed", "1"]);
    assert!(said.contains("Left out") && said.contains("set-dial (level 1)"), "{said}");
    let pages = pages(&bytes);
    let asked = codes(&text_of(&parted(&pages).0));
    assert!(asked.len() == 8 && asked.iter().all(|code| code.starts_with("A3")), "{asked:?}");
    let none = house.run(&["worksheet", "--skill", "set-dial", "--level", "1", "--output", "none.pdf"]);
    assert_eq!((none.code, none.out.as_str()), (1, ""));
    assert!(none.err.contains("set-dial") && none.err.contains("another skill"), "{}", none.err);
    assert!(!house.home().join("none.pdf").exists());
}

#[test]
fn a_file_that_is_there_stays_unless_it_is_forced() {
    let house = House::new();
    let file = house.home().join("sheets.pdf");
    fs::write(&file, "a drawing of one's own").unwrap();
    for words in [&["worksheet", "--skill", "turns"][..], &["map"]] {
        let refused = house.run(&[words, &["--output", "sheets.pdf"]].concat());
        assert_eq!((refused.code, refused.out.as_str()), (1, ""));
        assert!(refused.err.contains("is there already") && refused.err.contains("--force"), "{}", refused.err);
        assert_eq!(fs::read_to_string(&file).unwrap(), "a drawing of one's own");
    }
    assert_eq!(house.run(&["map", "--output", "sheets.pdf", "--force"]).code, 0);
    assert!(fs::read(&file).unwrap().starts_with(b"%PDF"));
}

#[test]
fn what_cannot_be_written_is_said_with_what_to_do_and_leaves_nothing_behind() {
    let house = House::new();
    fs::write(house.home().join("plain"), "a file").unwrap();
    fs::create_dir(house.home().join("folder")).unwrap();
    let cases = [
        ("nowhere/sheets.pdf", "the folder is not there"),
        ("plain/sheets.pdf", "the folder is not there"),
        ("folder", "is a folder"),
        ("/dev/full", "the disk is full"),
    ];
    for (file, told) in cases {
        let refused = house.run(&["worksheet", "--skill", "turns", "--output", file]);
        assert_eq!((refused.code, refused.out.as_str()), (1, ""), "{file}");
        assert!(refused.err.contains(told), "{file}: {}", refused.err);
    }
    let mut left: Vec<_> = fs::read_dir(house.home()).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    left.sort();
    assert_eq!(left, ["folder", "plain"]);
}

#[test]
fn bad_words_are_refused_with_what_was_meant() {
    let house = House::new();
    assert_eq!(house.run(&["patrol", "add", "Ana"]).code, 0);
    assert!(house.refused(&["worksheet", "--learner", "Anna"]).contains("Ana"));
    assert!(house.refused(&["worksheet", "--skill", "back-baering"]).contains("did you mean back-bearing"));
    assert!(house.refused(&["worksheet", "--level", "7"]).contains("from 1 to 4"));
    assert!(house.refused(&["worksheet", "--count", "0"]).contains("from 1 to 100"));
    assert!(house.refused(&["worksheet", "--drill", "no-such-drill"]).contains("no-such-drill"));
    assert!(house.refused(&["worksheet", "--drill", "back-bearings", "--skill", "turns"]).contains("--skill"));
    assert!(house.refused(&["worksheet", "--paper", "a3"]).contains("a4"));
    assert!(house.refused(&["map", "--lines", "compass"]).contains("--lines"));
    assert!(house.refused(&["map", "--declination", "17"]).contains("17W"));
    assert!(house.refused(&["map", "--declination", "200W"]).contains("--declination"));
}

#[test]
fn a_letter_without_a_shape_is_shown_as_a_box_and_said() {
    let house = House::new();
    assert_eq!(house.run(&["patrol", "add", "Bo 中"]).code, 0);
    let (bytes, said) = printed(&house, &["worksheet", "--learner", "Bo 中", "--skill", "turns", "--seed", "1"]);
    assert!(said.contains("no shape for 中") && said.contains('□'), "{said}");
    assert!(pages(&bytes)[0].text().contains("Bo □"));
}

#[test]
fn the_paper_compass_has_its_ticks_where_its_numbers_say_and_there_is_a_card_for_every_ten_degrees() {
    let house = House::new();
    for paper in ["a4", "letter"] {
        let (bytes, said) = printed(&house, &["cutouts", "--paper", paper]);
        let pages = pages(&bytes);
        assert!(pages.len() == 2 && said.contains("2 pages"), "{said}");
        // Ticks run outward from the middle of the dial, 2.5 to 5 mm long: one every two degrees.
        let is_tick = |line: &&printed::Line| line.is_straight() && (2.4..5.1).contains(&line.length());
        let ticks: Vec<f64> = pages[0].lines.iter().filter(is_tick).map(printed::Line::degrees).collect();
        for number in (0..360).step_by(2) {
            let off = |tick: &f64| (tick - f64::from(number) + 180.0).rem_euclid(360.0) - 180.0;
            assert!(ticks.iter().any(|tick| off(tick).abs() < 0.1), "no tick at {number}");
        }
        let cards = pages[1].text();
        for number in (0..360).step_by(10) {
            assert!(cards.contains(&format!("{number:03}°")), "{number}");
        }
    }
}

/// How far down a page is filled, as a share of what it has between head and foot.
fn filled(page: &Page, high: f64) -> f64 {
    let texts = page.texts.iter().map(|text| text.y);
    let lines = page.lines.iter().flat_map(|line| line.points.iter().map(|point| point.1));
    let lowest = texts.chain(lines).filter(|down| *down < high - 17.0).fold(0.0, f64::max);
    (lowest - 22.0) / (high - 40.0)
}

#[test]
fn six_sheets_and_their_keys_waste_no_paper_and_nothing_is_too_small_to_read_by_lamplight() {
    let house = House::new();
    let names = ["Ada", "Bo", "Cai", "Dina", "Eli", "Fay"];
    for name in names {
        assert_eq!(house.run(&["patrol", "add", name]).code, 0);
    }
    let learners: Vec<&str> = names.iter().flat_map(|name| ["--learner", name]).collect();
    for (of, most) in [(&[][..], 20), (&["--standard", "day-outing"], 31), (&["--drill", "measuring-on-the-map"], 25)] {
        let words = [&["worksheet", "--seed", "7"][..], &learners, of].concat();
        let pages = pages(&printed(&house, &words).0);
        assert!(pages.len() <= most, "{of:?}: {} pages", pages.len());
        let (sheets, keys) = parted(&pages);
        // No page but the last of the keys is half empty.
        for (at, page) in sheets.iter().chain(&keys).enumerate().take(pages.len() - 1) {
            assert!(filled(page, page.height_mm) > 0.6, "{of:?}, page {}: {}", at + 1, filled(page, page.height_mm));
        }
        for name in names {
            assert!(keys.iter().any(|page| page.text().contains(&format!("Key: {name}"))), "{of:?}: {name}");
        }
        // Each problem is whole on one page of the keys: its code, and its last step before the next code.
        let asked = codes(&text_of(&sheets));
        assert_eq!(asked, codes(&text_of(&keys)));
        for page in &keys {
            let text = page.text();
            let first = text.find("Step ").unwrap_or(usize::MAX);
            assert!(codes(&text[..first.min(text.len())]).len() == 1, "a page begins with a problem: {text}");
        }
        for page in &pages {
            for text in &page.texts {
                let is_frame = text.y < 18.0 || text.y > page.height_mm - 14.0;
                assert!(is_frame || text.size > 3.17 || codes(&text.text).len() == 1, "{of:?}: {text:?}");
            }
        }
    }
}
