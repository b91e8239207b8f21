//! The learner's page, and what is taken back.

use crate::play::Play;
use crate::{asking, picture};
use needlewise::tui::Screen;

/// Whether a verdict is shown.
fn is_told(play: &Play) -> bool {
    matches!(&play.model.screen, Screen::Practice(screen) if screen.flow.told().is_some())
}

fn bottom(play: &Play) -> String {
    play.text(80, 24).lines().last().unwrap_or_default().to_owned()
}

#[test]
fn a_slip_of_the_keyboard_is_taken_back_once_in_a_skill() {
    let play = asking("true-magnetic", 2).answer(Some("sign-flipped"));
    assert!(bottom(&play).contains("u take back"), "{}", bottom(&play));
    let play = play.keys("u");
    assert!(!is_told(&play));
    picture("taken_back", &play);
    // The right answer of the same problem; then the next one has nothing to take back any more.
    let play = play.answer(None);
    assert!(is_told(&play) && !bottom(&play).contains("take back"), "{}", play.text(80, 24));
    let play = play.keys("<enter><enter>").answer(Some("sign-flipped"));
    assert!(is_told(&play) && !bottom(&play).contains("take back"), "{}", play.text(80, 24));
    let mut play = play.keys("u");
    assert!(is_told(&play), "once in each skill");
    play.press("<esc>");
    assert!(play.text(80, 24).contains("Taken back: once."), "{}", play.text(80, 24));
}

#[test]
fn a_right_answer_is_not_taken_back_and_a_check_takes_nothing_back() {
    let play = asking("true-magnetic", 2).answer(None);
    assert!(is_told(&play) && !bottom(&play).contains("take back"));
    assert!(is_told(&play.keys("u")));
    let mut play = crate::leader::six().keys("<enter><enter>");
    play.press("u");
    let Screen::Practice(screen) = &play.model.screen else { panic!("no check is asked") };
    assert_eq!(screen.flow.slip(), None);
}

#[test]
fn the_page_tells_how_far_one_has_come_and_starts_any_skill_by_itself() {
    let mut play = asking("true-magnetic", 2);
    for evening in 0..3 {
        for answer in 0..4 {
            let hinted = evening == 1 && answer == 0;
            play = if hinted { play.keys("h") } else { play };
            play = play.answer((answer > evening).then_some("sign-flipped")).keys("<enter>");
            if play.text(120, 36).contains("First, one worked through") {
                play.press("<enter>");
            }
        }
        play.press("<esc>");
        let next = play.model.shared.day.tomorrow().unwrap();
        play = if evening < 2 { play.restart_on(next).skill("true-magnetic", 2).keys("<enter><enter>") } else { play };
        if play.text(120, 36).contains("First, one worked through") {
            play.press("<enter>");
        }
    }
    play.press("p");
    let shown = play.text(80, 24);
    assert!(shown.contains("So far: 3 evenings, 12 problems, "), "{shown}");
    assert!(shown.contains("Right by yourself in the last 3 sittings: "), "{shown}");
    // Without skills that were asked for, the way is told, too.
    let play = play.restart_on(jiff::civil::date(2026, 11, 28)).keys("<enter><esc>p");
    picture("page_sittings", &play);
    assert!(play.text(80, 24).contains("▸ Practise: "), "Enter practises as ever");
    let below = "<down>".repeat(8);
    let play = play.keys(&below);
    picture("page_chosen", &play);
    let play = play.keys("<enter>");
    let Screen::Practice(screen) = &play.model.screen else { panic!("{}", play.text(80, 24)) };
    assert_eq!(screen.flow.asked().unwrap().problem.skill().id, "true-magnetic");
    let play = play.keys("<enter>").answer(None).keys("<enter>");
    let Screen::Practice(screen) = &play.model.screen else { panic!("{}", play.text(80, 24)) };
    assert_eq!(screen.flow.asked().unwrap().problem.skill().id, "true-magnetic", "and nothing else");
}

#[test]
fn past_answers_are_looked_through_and_one_of_the_kind_comes_with_new_numbers() {
    let play = asking("true-magnetic", 2).answer(Some("sign-flipped")).keys("<enter><enter>").answer(None);
    let code = |play: &Play| {
        let Screen::Practice(screen) = &play.model.screen else { panic!("nothing is asked") };
        screen.flow.asked().unwrap().problem.code().to_string()
    };
    let last = code(&play);
    let play = play.keys("<esc>pa");
    picture("answers", &play);
    let shown = play.text(80, 24);
    assert!(shown.contains("▸ 2026-11-25  True and magnetic    right"), "{shown}");
    let play = play.keys("<down><enter>");
    picture("answer_opened", &play);
    let shown = play.text(80, 24);
    assert!(shown.contains("Not right: you applied the correction") && shown.contains("yours"), "{shown}");
    let play = play.keys("n");
    let new = code(&play);
    assert!(new.starts_with("B2-2-") && new != last, "{new}");
    let empty = Play::new().keys("Ana<enter><enter>s<esc>pa").text(80, 24);
    assert!(empty.contains("Nothing answered yet."), "{empty}");
    assert!(empty.contains("Esc back") && !empty.contains("open") && !empty.contains("new numbers"), "{empty}");
}
