//! By which standard the leader's page goes: the command line's, until the leader takes another one.

use crate::leader::{answer, six, whole};
use crate::play::{Play, TODAY};
use needlewise::drill::Standard;
use needlewise::tui::Screen;

/// The standard of the leader's page.
fn shown(play: &Play) -> String {
    let Screen::Patrol(page) = &play.model.screen else { panic!("not the leader's page: {:?}", play.model.screen) };
    page.report.standard.name.clone()
}

#[test]
fn the_page_begins_with_the_standard_of_the_command_line_whatever_was_checked_last() {
    let mut play = six();
    assert_eq!(shown(&play), Standard::DEFAULT);
    assert!(play.text(80, 24).contains("Day outing (s: another standard)"), "{}", play.text(80, 24));
    play.press("s");
    let other = shown(&play);
    assert_ne!(other, Standard::DEFAULT);
    // A check by the other one is begun and left; the page keeps to it while the program runs.
    play.press("<enter><enter>");
    whole(&mut play, |_| true);
    play.press("<esc>");
    assert_eq!(shown(&play), other);
    play.press("<esc>l");
    assert_eq!(shown(&play), other, "what was chosen lasts while the program runs");
    let play = play.restart_on(TODAY).keys("l");
    assert_eq!(shown(&play), Standard::DEFAULT, "a check that somebody began chooses nothing for the next evening");
    assert!(!play.text(80, 24).contains("is under way"), "nothing is: {}", play.text(80, 24));
}

#[test]
fn a_check_that_is_under_way_by_another_standard_is_said_when_the_page_opens() {
    let mut play = six().keys("s<enter><enter>");
    answer(&mut play, true);
    let mut play = play.restart_on(TODAY).keys("l");
    assert_eq!(shown(&play), Standard::DEFAULT);
    let text = play.text(120, 36);
    assert!(text.contains("A check by Camp evening is under way; s changes the standard."), "{text}");
    play.press("s");
    assert!(!play.text(120, 36).contains("is under way;"), "said once: {}", play.text(120, 36));
}
