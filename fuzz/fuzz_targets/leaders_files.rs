//! What leaders write as TOML: the text goes to the readers of drills, standards, settings and courses alike.
//!
//! Holds: nothing panics; faults are rendered, without control characters; a file of settings that is refused stays as it was, and
//! one that is changed says what it shall and can be changed back; a course that is read has its key, cards, plan and debriefs.
#![no_main]

use libfuzzer_sys::{Corpus, fuzz_target};
use needlewise::config::{Config, ConfigError, Ground};
use needlewise::course::debrief::{debrief, legs_words, picture, sureness, words};
use needlewise::course::{CardPart, Course, Pegs, Route, Site, card, key_parts, plan};
use needlewise::drill::{Drill, DrillError, Origin, Standard};
use needlewise::problem::TEXT_MM;
use needlewise::session::{GroundCard, Plan};
use needlewise::skills;
use needlewise_fuzz::records::folder;
use needlewise_fuzz::{TODAY, ground};
use std::cell::OnceCell;
use std::fs;
use tempfile::TempDir;

thread_local! {
    /// Where settings are written.
    static FOLDER: OnceCell<TempDir> = const { OnceCell::new() };
}

/// Faults are rendered for one reader an input, as its length says, and in colour for every other: showing them takes a hundred
/// times longer than finding them.
fn assert_rendered(reader: usize, input: &[u8], line: &str, render: impl Fn(bool) -> String) {
    assert!(!line.is_empty());
    if input.len() % 4 != reader {
        return;
    }
    let coloured = input.len() % 8 > 3;
    let (shown, as_drawn) = (render(coloured), |sign: char| sign == '\n' || coloured && sign == '\u{1b}');
    assert!(!shown.is_empty());
    for text in [line, &shown] {
        assert!(!text.contains(|sign: char| sign.is_control() && !as_drawn(sign)), "{text:?}");
    }
}

fuzz_target!(|input: &[u8]| -> Corpus {
    FOLDER.with(|there| settings(input, there.get_or_init(folder)));
    let Ok(text) = std::str::from_utf8(input) else { return Corpus::Keep };
    let origin = || Origin::File("theirs.toml".into());
    match Drill::read(text, origin(), skills::metas()) {
        Ok(drill) => {
            assert!(!drill.skills.is_empty() && !drill.name.is_empty());
            assert!(drill.pace.count.is_some() || drill.pace.minutes.is_some());
            assert!(drill.skills.iter().all(|one| one.levels.is_none_or(|(low, high)| low <= high)));
            let _ = Plan::of_drill(&drill, ground().home);
        }
        Err(error) => drill_error(0, input, &error),
    }
    match (input.len() % 16 == 1).then(|| Standard::read(text, origin(), skills::metas())) {
        // Each reading works out how many problems make somebody sure, which takes a hundred times longer than all else
        // here.
        None => {}
        Some(Ok(standard)) => {
            assert!(!standard.skills.is_empty() && !standard.name.is_empty());
            let _ = Plan::of_standard(&standard, ground().home);
            let _ = standard.on_lines(Some(&[needlewise::angle::North::Grid])).lines_unset();
        }
        Some(Err(error)) => drill_error(1, input, &error),
    }
    match Course::read(text, origin()) {
        Ok(course) => walk(&course),
        Err(error) => assert_rendered(2, input, &error.to_string(), |colour| error.render(colour)),
    }
    Corpus::Keep
});

fn drill_error(reader: usize, input: &[u8], error: &DrillError) {
    assert_rendered(reader, input, &error.to_string(), |colour| error.render(colour));
}

fn settings(input: &[u8], folder: &TempDir) {
    let path = folder.path().join("settings.toml");
    fs::write(&path, input).expect("written");
    let wanted = Config { screen: needlewise::config::Screen { theme: Some("night") }, ..Config::default() };
    let before = match Config::load(&path) {
        Ok(config) => config,
        Err(error) => {
            assert_rendered(3, input, &error.to_string(), |colour| error.render(colour));
            assert!(wanted.save(&path).is_err(), "what cannot be read is not written over");
            assert_eq!(fs::read(&path).expect("read"), input, "a file that is refused stays");
            return;
        }
    };
    let _ = GroundCard::new(&before, "settings.toml", TODAY);
    for wanted in [wanted, before] {
        let text = fs::read(&path).expect("read");
        match wanted.save(&path) {
            Ok(()) => assert_eq!(Config::load(&path), Ok(wanted)),
            Err(ConfigError::Layout { .. }) => assert_eq!(fs::read(&path).expect("read"), text),
            Err(error) => panic!("{error}"),
        }
    }
}

fn walk(course: &Course) {
    let place = Ground::invented().place;
    let site =
        Site { start: (place, "home ground".to_owned()), day: TODAY, lines: needlewise::angle::North::ALL.to_vec() };
    let Ok(route) = Route::of(course, &site) else { return };
    assert_eq!(route.legs.len(), course.way.leg_count());
    let said = |parts: Vec<CardPart>| assert!(parts.iter().all(|part| !part.heading.is_empty()));
    said(key_parts(course, &route));
    for answers in [false, true] {
        for member in course.members.iter().map(Some).chain([None]) {
            said(card(course, &route, member, answers));
        }
        let _ = plan(&route, &course.title, answers, TEXT_MM);
    }
    if let Some(pegs) = Pegs::of(course) {
        let again = Course::read(&pegs.file(), Origin::File("pegs.toml".into()));
        assert_eq!(again.ok().and_then(|again| Pegs::of(&again)).map(|again| again.side_m), Some(pegs.side_m));
    }
    for measured in &course.measured {
        let Some(debrief) = debrief(&route, measured) else { continue };
        assert_eq!(debrief.legs.len(), route.legs.len());
        let shares: f64 = debrief.causes.iter().map(|(_, share)| share).sum();
        assert!(shares.is_finite() && shares <= 1.000_001, "{:?}", debrief.causes);
        assert!(words(&debrief).iter().chain(&legs_words(&debrief)).all(|line| !line.contains("NaN")));
        let _ = sureness(&debrief);
        let _ = picture(&route, measured, &debrief, &course.title, TEXT_MM);
    }
}
