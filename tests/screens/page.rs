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
