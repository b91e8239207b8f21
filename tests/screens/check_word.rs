//! The leader's word about a check, by keys: an answer annulled, a wait shortened; and the trial before the map table.

use crate::leader::{answer, checked, six, standings, whole};
use crate::play::Play;
use crate::{picture, readable_in_each_theme};
use jiff::civil::date;
use needlewise::session::Readiness;
use needlewise::tui::Screen;
use needlewise::tui::screens::practice::Work;

/// Bo's check, left after three answers, and the leader's page.
pub fn left_in_the_middle() -> Play {
    let mut play = six().keys("sc<enter>");
    for right in [true, false, true] {
        answer(&mut play, right);
    }
    // Out of the trial, out of the check after a question, out of its end.
    while !matches!(play.model.screen, Screen::Patrol(_)) {
        play.press("<esc>");
    }
    play
}

/// Bo is not yet ready in anything, and the leader's page.
pub fn not_yet() -> Play {
    let mut play = six().keys("s<enter><enter>");
    whole(&mut play, |_| false);
    play.keys("<enter><end>").keys("/bo<enter>")
}

fn one_line(play: &Play) -> String {
    play.text(80, 24).split_whitespace().collect::<Vec<_>>().join(" ")
}

fn annulled(play: &Play) -> usize {
    let store = play.store();
    let bo = store.learner_by_name("Bo").unwrap().unwrap();
    store.checks(bo.id).unwrap().iter().map(|check| check.annulled.len()).sum()
}

#[test]
fn an_answer_lost_to_the_keyboard_is_annulled_with_a_reason_and_the_page_and_the_report_say_so() {
    let play = left_in_the_middle().keys("m");
    picture("member_menu", &play);
    let play = play.keys("k");
    picture("lost_answer", &play);
    // Neither what was answered nor whether it was right stands there.
    let text = one_line(&play);
    assert!(text.contains("It is not shown whether it was right"), "{text}");
    let listed = play.text(80, 24).lines().filter(|line| line.contains("less than a minute ago")).count();
    assert_eq!(listed, 3, "one line for each answer: {text}");
    let play = play.keys("<down><enter><down>");
    picture("lost_answer_reason", &play);
    let mut play = play.keys("<enter>");
    picture("lost_answer_sure", &play);
    assert!(one_line(&play).contains("A key stuck or bounced, so this answer is annulled: y"), "{}", one_line(&play));
    // Asked, and no: nothing was done.
    play.press("n");
    assert_eq!(annulled(&play), 0);
    play.press("<enter>y");
    assert_eq!(annulled(&play), 1);
    let Screen::Patrol(page) = &play.model.screen else { panic!("back on the leader's page") };
    let cells = &page.report.members[page.chosen].cells;
    let said: Vec<_> = cells.iter().flat_map(|cell| &cell.changes.annulled).collect();
    assert_eq!(said.len(), 1);
    assert_eq!(said[0].1, "a key stuck or bounced");
    picture("patrol_annulled", &play);
    // The check goes on; what takes its place is asked, and the end tells it to the learner, too.
    let mut play = play.keys("<enter><enter>");
    whole(&mut play, |_| true);
    let text = one_line(&play);
    assert!(text.contains("A key stuck or bounced, so an answer was annulled on 2026-11-25"), "{text}");
    assert!(text.contains("no longer holds for this check"), "{text}");
    picture("check_end_annulled", &play);
    assert_eq!(standings(&play.keys("<enter>"), "Bo"), ["ready at the laptop"; 4]);
}

#[test]
fn a_reason_in_the_leaders_own_words_is_taken_and_none_is_not() {
    let mut play = left_in_the_middle().keys("mk<enter><down><down><down><enter>");
    play.press("<enter>");
    assert!(one_line(&play).contains("Say why: the report gives the reason."), "{}", one_line(&play));
    play.press("the cat walked over the keys?");
    picture("lost_answer_words", &play);
    play.press("<enter>y");
    assert_eq!(annulled(&play), 1);
    let Screen::Patrol(page) = &play.model.screen else { panic!("back on the leader's page") };
    let cells = &page.report.members[page.chosen].cells;
    let reasons: Vec<&str> =
        cells.iter().flat_map(|cell| &cell.changes.annulled).map(|(_, why)| why.as_str()).collect();
    assert_eq!(reasons, ["the cat walked over the keys?"]);
}

#[test]
fn where_nothing_is_open_nothing_can_be_annulled_and_nobody_has_to_wait() {
    let play = six().keys("mk");
    picture("lost_answer_none", &play);
    assert!(matches!(play.keys("<enter>").model.screen, Screen::Patrol(_)));
    let play = six().keys("mw");
    assert!(one_line(&play).contains("Nobody has to wait here"), "{}", one_line(&play));
    assert!(matches!(play.keys("<esc>").model.screen, Screen::Patrol(_)));
}

#[test]
fn a_wait_is_shortened_from_the_leaders_page_and_the_check_begins_on_that_day() {
    let play = not_yet();
    assert_eq!(standings(&play, "Bo"), ["not yet"; 4]);
    let play = play.keys("mw");
    picture("wait", &play);
    let play = play.keys("<enter><down><enter>");
    picture("wait_reason", &play);
    let play = play.keys("<enter>");
    picture("wait_sure", &play);
    let play = play.keys("y");
    let from = date(2026, 11, 28);
    let Screen::Patrol(page) = &play.model.screen else { panic!("back on the leader's page") };
    let cells = &page.report.members[page.chosen].cells;
    for cell in cells {
        assert_eq!(cell.readiness, Readiness::NotYet { since: date(2026, 11, 25), from });
    }
    let play = play.keys("    ");
    picture("patrol_shortened", &play);
    let mut play = play.restart_on(from).keys("ls<enter><enter>");
    assert!(checked(&play).is_some(), "{}", play.text(80, 24));
    whole(&mut play, |_| true);
    assert_eq!(standings(&play.keys("<enter>"), "Bo"), ["ready at the laptop"; 4]);
}

#[test]
fn the_leaders_word_is_readable_in_each_theme() {
    readable_in_each_theme(left_in_the_middle().keys("mk"));
    readable_in_each_theme(not_yet().keys("mw<enter><enter><enter>"));
}

/// A check that has come to its trial.
pub fn trial() -> Play {
    let mut play = six().keys("sc<enter>");
    while checked(&play).is_some_and(|screen| !screen.flow.is_trial()) {
        answer(&mut play, true);
    }
    play
}

#[test]
fn a_trial_says_that_it_does_not_count_and_its_end_that_the_next_one_does() {
    let mut play = trial();
    picture("trial", &play);
    let answered = checked(&play).unwrap().flow.answered();
    // Done by hand: the dial set, looked up, a choice said, and it is over; or left with Esc. Nothing is recorded either way.
    play.press("90<enter><right><enter>1<enter>");
    let screen = checked(&play).expect("the check's own problem");
    assert!(!screen.flow.is_trial() && screen.flow.answered() == answered);
    assert!(matches!(screen.work(), Some(Work::Table(desk)) if desk.moves.is_empty()), "it lies as it did at first");
    picture("trial_over", &play);
    let asked = trial().keys("<esc>");
    assert!(asked.text(80, 24).contains("Enter leaves the trial"), "{}", asked.text(80, 24));
    let mut left = asked.keys("<enter>");
    assert!(left.text(80, 24).contains("From here on it counts."), "{}", left.text(80, 24));
    // Work that was begun is left when it is asked twice.
    let begun = trial().keys("<right><esc>");
    assert!(checked(&begun).is_some_and(|screen| screen.flow.is_trial()));
    assert!(checked(&begun.keys("<enter>")).is_some_and(|screen| !screen.flow.is_trial()));
    // And then Esc means the check again.
    left.press("<esc>");
    assert!(left.text(80, 24).contains("Esc once more leaves the check"), "{}", left.text(80, 24));
    for play in [&play, &left] {
        let bo = play.store().learner_by_name("Bo").unwrap().unwrap();
        let kept: usize = play.store().checks(bo.id).unwrap().iter().map(|check| check.answers.len()).sum();
        assert_eq!(kept, answered as usize);
    }
    for _ in 0..6 {
        answer(&mut play, true);
        assert!(checked(&play).is_some_and(|screen| !screen.flow.is_trial()), "once a check");
    }
}
