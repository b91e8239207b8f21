//! The first lessons, by keys.

use super::play::Play;
use super::snapshot;
use needlewise::lesson::LESSONS;
use needlewise::tui::Screen;

/// On the list of lessons of somebody new, with this one chosen.
fn chosen(number: usize) -> Play {
    Play::new().keys("Ana<enter><enter>s<esc>").keys("l").keys(&"<down>".repeat(number))
}

fn is_lesson(play: &Play) -> bool {
    matches!(play.model.screen, Screen::Lesson(_))
}

#[test]
fn every_lesson_can_be_gone_through_with_the_arrows_and_enter() {
    for (at, lesson) in LESSONS.iter().enumerate() {
        // Lesson 1 was skipped before the first problem, so the second is chosen at first.
        let mut play = chosen((at + LESSONS.len() - 1) % LESSONS.len()).keys("<enter>");
        for (cols, rows) in [(80, 24), (120, 36)] {
            let mut whole = String::new();
            for _ in lesson.screens {
                assert!(is_lesson(&play), "{}", lesson.id);
                whole += &play.text(cols, rows);
                play.press("<right><right>");
                whole += &play.text(cols, rows);
                play.press("<enter>");
            }
            whole += &play.text(cols, rows);
            play.press("<enter>");
            whole += &play.text(cols, rows);
            snapshot("lessons", &format!("{}_{cols}x{rows}", lesson.id), &whole);
            play.press(&"<bs>".repeat(lesson.screens.len()));
        }
        play.press(&"<enter>".repeat(lesson.screens.len() + 2));
        assert!(matches!(play.model.screen, Screen::Lessons(_)), "{}: {}", lesson.id, play.text(80, 24));
    }
}

#[test]
fn a_lesson_stands_before_the_first_problem_of_its_skills_and_is_skipped_with_one_key() {
    let mut play = Play::new().keys("Ana<enter><enter>");
    assert!(is_lesson(&play), "{}", play.text(80, 24));
    play.press("s");
    assert!(matches!(play.model.screen, Screen::Practice(_)));
    // On the next day it is not offered again.
    let play = play.restart_on(jiff::civil::date(2026, 11, 26)).keys("<enter>");
    assert!(!is_lesson(&play), "{}", play.text(80, 24));
}

#[test]
fn a_lesson_left_in_the_middle_goes_on_there() {
    let play = Play::new().keys("Ana<enter><enter><enter><enter>");
    assert!(play.text(80, 24).contains("3 of "), "{}", play.text(80, 24));
    let play = play.keys("<esc>").restart_on(jiff::civil::date(2026, 11, 26)).keys("<enter>");
    assert!(is_lesson(&play) && play.text(80, 24).contains("3 of "), "{}", play.text(80, 24));
}

#[test]
fn whoever_has_done_this_before_gets_no_lesson_forced_on() {
    assert!(!is_lesson(&Play::new().keys("Ana<enter><down><enter>")));
    assert!(!is_lesson(&Play::new().skill("read-dial", 1).keys("Ana<enter><enter>")), "nor whoever chose a skill");
}

#[test]
fn the_list_of_lessons_says_what_was_seen() {
    super::picture("lessons", &chosen(0));
}
