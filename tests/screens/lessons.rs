//! The first lessons, by keys.

use super::play::Play;
use super::snapshot;
use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use jiff::SignedDuration;
use needlewise::lesson::LESSONS;
use needlewise::tui::{self, Cmd, Msg, Screen};

/// On the list of lessons of somebody new, who left the first one, with this one chosen.
fn chosen(number: usize) -> Play {
    Play::new().keys("Ana<enter><enter><esc><esc>pl").keys(&"<down>".repeat(number))
}

fn is_lesson(play: &Play) -> bool {
    matches!(play.model.screen, Screen::Lesson(_))
}

#[test]
fn every_lesson_can_be_gone_through_with_the_arrows_and_enter() {
    for (at, lesson) in LESSONS.iter().enumerate() {
        let mut play = chosen(at).keys("<enter>");
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
fn the_time_of_a_lesson_is_not_the_time_of_the_answer_behind_it() {
    let mut play = Play::new().keys("Ana<enter><enter>");
    assert!(is_lesson(&play), "{}", play.text(80, 24));
    let hour = play.now() + SignedDuration::from_hours(1);
    let key = |code, seconds| Msg::Key(KeyEvent::from(code), hour + SignedDuration::from_secs(seconds));
    tui::update(&mut play.model, key(KeyCode::Char('s'), 0));
    // The worked example, and then an answer.
    tui::update(&mut play.model, key(KeyCode::Enter, 2));
    for digit in "170".chars() {
        tui::update(&mut play.model, key(KeyCode::Char(digit), 4));
    }
    let commands = tui::update(&mut play.model, key(KeyCode::Enter, 5));
    let took_ms = commands.iter().find_map(|command| match command {
        Cmd::Record(pending) => pending.attempt.took_ms,
        _ => None,
    });
    assert_eq!(took_ms, Some(5_000), "{}", play.text(80, 24));
}

#[test]
fn ctrl_and_a_letter_do_not_skip_a_lesson() {
    let mut play = Play::new().keys("Ana<enter><enter>");
    for held in [KeyModifiers::CONTROL, KeyModifiers::ALT] {
        let now = play.now();
        let commands = tui::update(&mut play.model, Msg::Key(KeyEvent::new(KeyCode::Char('s'), held), now));
        assert!(is_lesson(&play) && commands.is_empty(), "{held:?}");
    }
    assert!(!is_lesson(&play.keys("s")));
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
    assert!(!is_lesson(&Play::new().keys("Ana<enter>y")));
    assert!(!is_lesson(&Play::new().skill("read-dial", 1).keys("Ana<enter><enter>")), "nor whoever chose a skill");
}

#[test]
fn the_word_list_behind_the_help_has_the_words_of_the_lesson_first() {
    let words = |number| {
        let text = chosen(number).keys("<enter>?w").text(80, 60);
        let (_, of_lesson) = text.split_once("The words of this lesson").expect("a heading of its own");
        of_lesson.split("The norths").next().unwrap_or_default().to_owned()
    };
    let has = |list: &str, word: &str| list.lines().any(|line| line.trim_start().starts_with(&format!("{word}  ")));
    let (needle, norths) = (words(0), words(3));
    assert!(has(&needle, "index line") && has(&needle, "boxed") && !has(&needle, "declination"), "{needle}");
    assert!(has(&norths, "declination") && has(&norths, "true north") && !has(&norths, "index line"), "{norths}");
}

#[test]
fn the_list_of_lessons_says_what_was_seen() {
    super::picture("lessons", &chosen(0));
}

#[test]
fn home_ground_is_picked_on_the_world() {
    let play = Play::new().keys("Ana<enter><enter><esc><esc>wgw");
    super::picture("world", &play);
    let play = play.keys("<s-right><up><enter>");
    assert!(play.text(80, 24).contains("is no place"), "the place goes where a typed one goes");
}

#[test]
fn home_ground_stays_as_exact_as_it_was_where_the_cursor_was_not_moved() {
    let mut play = Play::new().keys("Ana<enter><enter><esc><esc>wgw");
    play.press("<enter>");
    assert!(matches!(play.model.screen, Screen::Ground(_)));
    assert!(!play.text(80, 24).contains("is no place"), "nothing was set");
}

#[test]
fn the_list_of_lessons_knows_at_once_what_was_just_seen() {
    let shown = chosen(2).keys("<enter>s").text(80, 24);
    assert!(shown.contains("There and back  (seen)"), "{shown}");
}
