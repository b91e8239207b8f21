//! Whole stories, as a person lives them.

use super::answers::{asked, is_asking, mixed_up, practice, right, told};
use super::camp::Camp;
use super::output::Output;
use super::term::Term;
use needlewise::problem::{Level, MixupId};
use needlewise::skills;
use std::os::unix::fs::PermissionsExt;

#[test]
fn a_person_on_a_bare_machine_gives_a_name_and_is_answering_a_problem_three_keys_later() {
    let camp = Camp::new();
    assert!(!camp.store_path().exists());
    let mut term = Term::start(&camp, &[]);
    term.wait_for_text("What is your name?");
    term.type_keys("Kim<enter>");
    term.wait_for("the name to be taken", |output| !output.text().contains("What is your name?") && output.is_whole());
    let mut presses = 0;
    while !term.look(is_asking) {
        presses += 1;
        assert!(presses <= 3, "still no question:\n{}", term.screen_text());
        // Who has no time for the first lesson skips it with one key.
        let before = term.screen_text();
        term.type_keys(if before.contains("Lesson 1") { "s" } else { "<enter>" });
        // A frame may be drawn that shows what stood there already, or be seen half drawn: the next key is for another screen.
        term.wait_for("another screen", |output| output.text() != before && output.is_whole());
    }
    let problem = asked(&mut term);
    term.type_keys(&right(&problem));
    assert_eq!(told(&term), Some(true), "{}", term.screen_text());

    let mode = std::fs::metadata(camp.store_path()).unwrap().permissions().mode();
    assert_eq!(mode & 0o777, 0o600, "the records are for their owner alone");
    let kim = camp.store().learner_by_name("Kim").unwrap().expect("Kim is in the records");
    let attempts = camp.store().attempts(kim.id, problem.skill().id, 10).unwrap();
    assert_eq!(attempts.len(), 1);
    assert_eq!(attempts[0].what.code, problem.code().to_string());
    eprintln!("{presses} keys from the name to the first question");
}

/// Text with single blanks, however it was wrapped.
fn words(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_sign_flipped_three_times_is_named_and_opens_the_next_day() {
    let camp = Camp::new();
    let mut term = Term::start(&camp, &practice("Kim", "true-magnetic"));
    term.wait_for_first_frame();
    let mut answers = 0;
    while !term.look(|output| output.beside_sheet().contains("This is a weak spot now")) {
        answers += 1;
        assert!(answers <= 3, "not named after three times:\n{}", term.screen_text());
        if answers > 1 {
            term.type_keys("<enter>");
        }
        let problem = asked(&mut term);
        let wrong = mixed_up(&problem, "sign-flipped").expect("every problem of the skill exposes the flipped sign");
        term.type_keys(&wrong);
        assert_eq!(told(&term), Some(false), "{}", term.screen_text());
        // Both ways stand there, number by number, in this order.
        let flipped =
            problem.mixups().iter().find(|mixup| mixup.meta.id == MixupId("sign-flipped")).expect("it is listed");
        let paths = problem.paths(flipped.meta.id, &flipped.answer).expect("both ways");
        let said = words(&term.look(Output::beside_sheet));
        let (before, after) = said.split_once(&words(&paths.yours)).unwrap_or_else(|| panic!("{paths:?}\n{said}"));
        assert!(before.ends_with(" you "), "{said}");
        let (between, _) = after.split_once(&words(&paths.right)).unwrap_or_else(|| panic!("{paths:?}\n{said}"));
        assert_eq!(between, " right ", "{said}");
    }
    term.type_keys("<esc>");
    assert!(term.screen_text().contains("Weak spots"), "{}", term.screen_text());
    term.send(b"q");
    assert_eq!(term.wait_for_end().exit_code(), 0);

    let next_day = ["practice", "--learner", "Kim", "--date", "2026-11-26", "--skill", "true-magnetic"];
    let mut term = Term::start(&camp, &next_day);
    term.wait_for_first_frame();
    let problem = asked(&mut term);
    let said = term.look(Output::beside_sheet);
    let flipped = problem.skill().mixup("sign-flipped").expect("a skill with this mix-up").said;
    assert!(said.starts_with("Last time: 0 of ") && said.contains("yesterday"), "{said}");
    assert!(said.contains(&format!("Why this one? Your weak spot: you {flipped}.")), "{said}");
    assert!(mixed_up(&problem, "sign-flipped").is_some(), "the problem is one that shows the weak spot");
    drop(term);

    // Among all skills the promise is kept, too.
    let mut term = Term::start(&camp, &next_day[..5]);
    term.wait_for_first_frame();
    asked(&mut term);
    let said = term.look(Output::beside_sheet);
    assert!(said.contains(&format!("Why this one? Your weak spot: you {flipped}.")), "{said}");
}

#[test]
fn every_skill_at_every_level_can_be_opened_and_answered_right() {
    let camp = Camp::new();
    let mut opened = 0;
    for skill in skills::metas() {
        for level in Level::ALL {
            let level = level.to_string();
            let mut args = practice("Kim", skill.id);
            args.extend(["--level", &level, "--count", "1"]);
            let mut term = Term::start(&camp, &args);
            term.wait_for_first_frame();
            let problem = asked(&mut term);
            assert_eq!((problem.skill().id, problem.code().level.to_string()), (skill.id, level));
            term.type_keys(&right(&problem));
            assert_eq!(told(&term), Some(true), "{}", term.screen_text());
            term.type_keys("<enter>");
            assert!(term.screen_text().contains("1 problem, 1 right"), "{}", term.screen_text());
            opened += 1;
        }
    }
    assert_eq!(opened, 4 * skills::SKILLS.len());
    assert_eq!(camp.store().verify().unwrap().attempts, opened as u64);
}
