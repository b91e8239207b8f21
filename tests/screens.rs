//! Every screen, by keys: what it shows at 80x24 and at 120x36, and its styles in each theme.

#[path = "screens/check_unbegun.rs"]
mod check_unbegun;
#[path = "screens/check_word.rs"]
mod check_word;
mod contrast;
#[path = "screens/evening.rs"]
mod evening;
#[path = "screens/keys.rs"]
mod keys;
#[path = "screens/leader.rs"]
mod leader;
#[path = "screens/leader_standard.rs"]
mod leader_standard;
#[path = "screens/lessons.rs"]
mod lessons;
#[path = "screens/measuring.rs"]
mod measuring;
#[path = "screens/page.rs"]
mod page;
#[path = "screens/paper.rs"]
mod paper;
#[path = "screens/play.rs"]
mod play;
#[path = "screens/point.rs"]
mod point;
#[path = "screens/seen.rs"]
mod seen;
#[path = "screens/table.rs"]
mod table;
#[path = "screens/table_bearings.rs"]
mod table_bearings;
#[path = "screens/table_counted.rs"]
mod table_counted;
#[path = "screens/table_motion.rs"]
mod table_motion;
#[path = "screens/table_sight.rs"]
mod table_sight;

use jiff::civil::date;
use needlewise::problem::Verdict;
use needlewise::tui::screens::practice::PracticeScreen;
use needlewise::tui::{Screen, Theme};
use play::{Play, assert_readable, styles};
use std::path::Path;

fn snapshot(kind: &str, name: &str, text: &str) {
    insta::with_settings!({
        snapshot_path => Path::new(env!("CARGO_MANIFEST_DIR")).join("snapshots").join(kind),
        prepend_module_to_snapshot => false,
        omit_expression => true,
    }, { insta::assert_snapshot!(name, text) });
}

/// Takes the picture of a screen at both sizes.
fn picture(name: &str, play: &Play) {
    snapshot("screens", &format!("{name}_80x24"), &play.text(80, 24));
    snapshot("screens", &format!("{name}_120x36"), &play.text(120, 36));
}

/// Whether the problem has no map table.
fn is_typed(screen: &PracticeScreen) -> bool {
    screen.showing().is_none() && screen.flow.asked().is_some_and(|asked| asked.table.is_none())
}

/// In practice of one skill at one level, past the worked example.
fn asking(skill: &'static str, level: u8) -> Play {
    Play::new().skill(skill, level).keys("Ana<enter><enter><enter>")
}

#[test]
fn a_bare_machine_asks_for_a_name_and_nothing_else() {
    picture("who_first", &Play::new());
}

#[test]
fn a_new_name_is_asked_one_question() {
    picture("placement", &Play::new().keys("Ana<enter>"));
}

#[test]
fn the_first_problem_comes_three_keys_after_the_name() {
    let play = Play::new().keys("Ana<enter>");
    // The first lesson stands before it; one key skips that.
    let play = play.keys("<enter>s");
    picture("example", &play);
    let play = play.keys("<enter>");
    picture("first_problem", &play);
    let Screen::Practice(screen) = &play.model.screen else { panic!("no problem is asked") };
    assert_eq!(screen.flow.answered(), 0);
}

#[test]
fn a_returning_learner_finds_the_own_name_on_top() {
    let play = Play::new().keys("Ana<enter><enter>s<esc>w").keys("nBo<enter><enter>s<esc>w");
    picture("who_list", &play);
}

#[test]
fn each_kind_of_question_has_its_fields() {
    picture("ask_typed", &asking("true-magnetic", 2).keys("06"));
    picture("ask_choice", &asking("compass-points", 2).seed(3).keys(""));
    picture("ask_dial", &asking("set-dial", 2).keys("<left><left><pgup>"));
    picture("ask_fields", &asking("dated-map", 2).keys("12<enter>"));
    picture("ask_diagram", &asking("diagram", 2));
    picture("ask_reading", &asking("read-dial", 3));
}

#[test]
fn a_dial_that_is_to_be_set_takes_no_number_and_no_bare_enter() {
    for level in 1..=3 {
        let mut play = asking("set-dial", level);
        let Screen::Practice(screen) = &play.model.screen else { panic!("not in practice") };
        let wanted = screen.flow.asked().unwrap().problem.prompt().split_once("until ").unwrap().1[..3].to_owned();
        for typed in [wanted.as_str(), "0", ""] {
            play.press(typed);
            if !typed.is_empty() {
                assert!(play.text(80, 24).contains("turned, not typed"), "{}", play.text(80, 24));
            }
            play.press("<enter>");
            let Screen::Practice(screen) = &play.model.screen else { panic!("not in practice") };
            assert!(screen.flow.told().is_none(), "{typed:?} was taken at level {level}");
        }
        let Screen::Practice(screen) = &play.model.screen else { panic!("not in practice") };
        assert!(play.store().attempts(screen.learner.id, "set-dial", 9).unwrap().is_empty());
        assert_verdict(&play.answer(None), |verdict| verdict == Verdict::Right);
    }
}

#[test]
fn the_hint_and_the_message_stand_under_the_field() {
    picture("hint", &asking("true-magnetic", 3).keys("h"));
    picture("not_judged", &asking("true-magnetic", 3).keys("361<enter>"));
}

#[test]
fn under_the_longest_question_an_error_is_still_on_the_small_screen() {
    // D1-4-811108-8.7W-1.2W: the message stood below the screen.
    let kinds = [("orient-magnetic-line", 4), ("orient-grid", 4), ("orient-true-line", 4)];
    for (skill, level) in kinds {
        let typed =
            (1..50).map(|seed| Play::new().seed(seed).skill(skill, level).keys("Ana<enter><enter>")).find(|play| {
                let Screen::Practice(screen) = &play.model.screen else { return false };
                is_typed(screen)
            });
        let mut play = typed.expect("a problem that is typed").keys("<enter>");
        let before = play.text(80, 24);
        // A letter is refused at once, and what cannot be read when it is handed in.
        play.press("e");
        assert!(play.text(80, 24).contains("A number is asked for here."), "{}", play.text(80, 24));
        let after = play.keys("0x<enter>").text(80, 24);
        let told = after.lines().filter(|line| !before.contains(line.trim())).count();
        assert!(told > 1, "{skill} level {level}: nothing is said:\n{after}");
    }
}

#[test]
fn where_a_number_is_asked_beside_words_a_digit_is_the_numbers_and_picks_no_word() {
    // Walk a bearing, level 4: first the side, then the metres; the words have no numbers on the screen.
    let mut play = asking("walk-bearing", 4);
    play.press("2");
    let filled = |play: &Play| {
        let Screen::Practice(screen) = &play.model.screen else { panic!("no problem is asked") };
        let filling = screen.filling().expect("fields");
        format!("{:?}", filling.entries)
    };
    let typed = filled(&play);
    assert!(typed.contains("Picked(None") && typed.contains('2'), "the number has it: {typed}");
    play.press("<tab>1");
    assert_eq!(filled(&play), typed, "and no word is picked");
    assert!(play.text(80, 24).contains("Here the arrow keys choose"), "{}", play.text(80, 24));
}

#[test]
fn verdicts_say_what_was_right_and_what_was_mixed_up() {
    let right = asking("true-magnetic", 2).answer(None);
    assert_verdict(&right, |verdict| verdict == Verdict::Right);
    picture("verdict_right", &right);

    let mixed_up = asking("true-magnetic", 2).answer(Some("sign-flipped"));
    assert_verdict(&mixed_up, |verdict| verdict.mixup().is_some_and(|mixup| mixup.id.as_str() == "sign-flipped"));
    picture("verdict_mixup", &mixed_up);

    picture("verdict_turned_dial", &asking("read-dial", 2).answer(Some("first")));
    let number = (1..50)
        .map(|seed| Play::new().seed(seed).skill("orient-grid", 3).keys("Ana<enter><enter>"))
        .find(|play| matches!(&play.model.screen, Screen::Practice(screen) if is_typed(screen)));
    let number = number.expect("a problem that asks for a number");
    picture("verdict_grid", &number.keys("<enter>").answer(Some("first")));
}

fn assert_verdict(play: &Play, wanted: impl Fn(Verdict) -> bool) {
    let Screen::Practice(screen) = &play.model.screen else { panic!("not in practice") };
    let verdict = screen.flow.told().expect("a verdict").verdict;
    assert!(wanted(verdict), "{verdict:?}");
}

#[test]
fn three_flipped_signs_at_most_name_the_weak_spot_and_the_next_day_opens_with_it() {
    let mut play = asking("true-magnetic", 2);
    let mut shown = String::new();
    for answers in 1..=3 {
        play = play.answer(Some("sign-flipped"));
        shown = play.text(120, 36);
        if shown.contains("This is a weak spot now") {
            assert!(shown.contains("you     ") && shown.contains("right   "), "both paths are shown:\n{shown}");
            assert!(answers >= 2, "one answer is no pattern");
            break;
        }
        play.press("<enter>");
        // After two errors the idea is shown again.
        if play.text(120, 36).contains("First, one worked through") {
            play.press("<enter>");
        }
    }
    assert!(shown.contains("This is a weak spot now"), "{shown}");
    picture("verdict_weak_spot", &play);
    play.press("<esc>");
    picture("end", &play);
    play.press("p");
    picture("page", &play);

    let next_day = play.restart_on(date(2026, 11, 26)).keys("<enter>");
    let shown = next_day.text(80, 24);
    let Screen::Practice(screen) = &next_day.model.screen else { panic!("{shown}") };
    let asked = screen.flow.asked().unwrap();
    assert!(asked.reason.starts_with("your weak spot: you applied the correction"), "{}", asked.reason);
}

#[test]
fn the_other_pages() {
    let play = Play::new().keys("Ana<enter><enter>s<esc>");
    picture("end_empty", &play);
    let play = play.keys("d<down><down>");
    picture("drills", &play);
    let play = play.keys("<esc>g");
    picture("ground", &play);
    let play = play.keys("s47");
    picture("ground_setting", &play);
    let play = play.keys(".0, -28.0<enter>");
    assert!(play.text(80, 24).contains("Set in a test"));
    let play = play.keys("?");
    picture("help", &play);
}

#[test]
fn behind_the_keys_of_the_help_stand_the_words_those_of_the_present_problem_first() {
    let play = Play::new().skill("read-dial", 1).keys("Ana<enter><enter>?w");
    picture("help_words", &play);
    let shown = play.text(80, 24);
    assert!(shown.contains("The words of this problem") && shown.contains("index line"), "{shown}");
    let keys = play.keys("w").text(80, 24);
    assert!(keys.contains("w what the words mean") && keys.contains("this help"), "{keys}");
    // Elsewhere all of them are shown by topics; any other key leads back to the screen.
    let play = Play::new().keys("Ana<enter><enter>s<esc>?w");
    let shown = play.text(80, 24);
    assert!(shown.contains("The norths") && !shown.contains("The words of this problem"), "{shown}");
    assert!(play.keys("x").model.help.is_none());
}

#[test]
fn in_a_check_the_word_list_is_closed() {
    let play = leader::six().keys("<enter><enter>?");
    let shown = play.text(80, 24);
    assert_eq!(shown.trim_end().lines().last(), Some(" ↑ ↓ scroll  any other key back"));
    assert!(play.keys("w").model.help.is_none(), "w is any other key");
}

#[test]
fn the_words_of_a_skill_come_one_by_one_before_its_example_is_worked() {
    let shown = |play: &Play| matches!(&play.model.screen, Screen::Practice(screen) if screen.showing().is_some());
    let begun = |seed| Play::new().seed(seed).skill("orient-magnetic-line", 1).keys("Ana<enter><enter>");
    let mut play = (1..50).map(begun).find(shown).expect("an example at the table");
    picture("table_example_words", &play);
    let looks = |play: &Play| play.text(80, 24).lines().take(18).map(str::to_owned).collect::<Vec<_>>();
    let before = looks(&play);
    let words = ["Orient the map: turn it", "Magnetic-north line: a line", "Boxed: the needle's north end"];
    for (at, word) in words.iter().enumerate() {
        let text = play.text(80, 24);
        assert!(text.contains(&format!("Word {} of 3", at + 1)) && text.contains(word), "{text}");
        play = play.keys("<enter>");
    }
    assert!(play.text(80, 24).contains("So it lies now."), "then the work begins");
    assert_eq!(looks(&play), before, "the looks stay where they are");
    // Back to the last word, and on again.
    play = play.keys("<left>");
    assert!(play.text(80, 24).contains("Word 3 of 3"));
    play = play.keys("<enter><enter>");
    assert!(play.text(80, 24).contains("Step 1 of"), "{}", play.text(80, 24));
}

#[test]
fn a_window_that_is_too_small_says_so() {
    let play = Play::new();
    let shown = play.text(60, 20);
    assert!(shown.contains("This window is 60x20.") && shown.contains("80x24"), "{shown}");
    for (cols, rows) in [(20, 5), (1, 1), (79, 24), (80, 23)] {
        play.buffer(cols, rows);
    }
}

#[test]
fn no_size_of_window_breaks_a_screen() {
    let plays = [
        Play::new(),
        Play::new().keys("Ana<enter><enter>"),
        asking("read-dial", 3),
        asking("true-magnetic", 1).answer(Some("sign-flipped")),
        asking("diagram", 3).keys("<esc>p"),
        Play::new().keys("?"),
    ];
    for play in &plays {
        for (cols, rows) in [(80, 24), (81, 25), (100, 24), (80, 60), (200, 24), (250, 80), (500, 200)] {
            play.buffer(cols, rows);
        }
    }
}

/// The verdict has most kinds of text on it; the others are held to their contrast below.
#[test]
fn each_theme_has_its_styles() {
    for theme in Theme::ALL {
        let verdict = asking("true-magnetic", 2).answer(Some("sign-flipped")).theme(theme);
        snapshot("styles", theme.name(), &styles(&verdict));
    }
}

/// What is written can be read in each theme that names its colours on the terminal's or its own ground.
fn readable_in_each_theme(mut play: Play) {
    for (theme, least) in [(Theme::Day, 4.5), (Theme::Sun, 7.0), (Theme::Dark, 3.0), (Theme::Night, 3.0)] {
        play = play.theme(theme);
        assert_readable(&play, least);
    }
}

#[test]
fn questions_verdicts_and_lists_are_readable_in_each_theme() {
    readable_in_each_theme(Play::new());
    readable_in_each_theme(asking("read-dial", 2));
    readable_in_each_theme(asking("true-magnetic", 2).answer(Some("sign-flipped")));
}

#[test]
fn keys_do_the_same_on_every_screen() {
    assert!(Play::new().keys("<c-c>").left);
    assert!(asking("turns", 1).keys("<c-c>").left);
    let play = asking("turns", 1).keys("<f2>");
    assert_eq!(play.model.shared.theme, Theme::Day);
    assert!(play.model.shared.notice.is_some());
    let play = asking("turns", 1).keys("?");
    assert!(play.text(80, 24).contains("Writing an answer"));
    let play = play.keys("x");
    assert!(!play.text(80, 24).contains("Writing an answer"));
}

#[test]
fn a_question_mark_in_an_empty_field_for_a_name_opens_the_help() {
    let empty = Play::new();
    assert!(empty.model.help.is_none());
    assert!(empty.keys("?").model.help.is_some());
    assert!(Play::new().keys("Ana?").model.help.is_none(), "in a text it is a letter");
}

#[test]
fn a_name_in_use_and_a_missing_name_are_said_and_nothing_is_lost() {
    let play = Play::new().keys("<enter>");
    assert!(play.text(80, 24).contains("Type a name first"));
    let play = Play::new().keys("Ana<enter><enter>s<esc>w").keys("nANA<enter>");
    let shown = play.text(80, 24);
    assert!(shown.contains("Ana is here already") && shown.contains("ANA"), "{shown}");
}

#[test]
fn an_answer_after_a_hint_is_told_to_count_for_nothing() {
    let play = asking("true-magnetic", 2).keys("h").answer(Some("sign-flipped")).keys("<enter>");
    let play = play.keys("h").answer(Some("sign-flipped")).keys("<enter>").keys("h").answer(Some("sign-flipped"));
    let shown = play.keys("<esc>p").text(120, 36);
    assert!(shown.contains("No weak spot stands out."), "{shown}");
}

#[test]
fn a_drill_ends_after_its_count_and_says_what_happened() {
    let mut play = Play::new().keys("Ana<enter><enter>s<esc>");
    play.model.shared.plan.count = Some(2);
    let play = play.keys("<enter>");
    let play = if play.text(80, 24).contains("worked through") { play.keys("<enter>") } else { play };
    let play = play.answer(None).keys("<enter>");
    let play = if play.text(80, 24).contains("worked through") { play.keys("<enter>") } else { play };
    let play = play.answer(None).keys("<enter>");
    let shown = play.text(80, 24);
    assert!(shown.contains("All 2 problems are done.") && shown.contains("2 problems, 2 right"), "{shown}");
}

/// Whether the declination of the problem being asked is east.
fn is_east(play: &Play) -> bool {
    let Screen::Practice(screen) = &play.model.screen else { panic!("nothing is being asked") };
    let declination = screen.flow.asked().unwrap().problem.facts().declination().expect("a declination");
    declination.angle().degrees() > 0.0
}

#[test]
fn a_mix_up_that_comes_only_with_one_letter_is_told_so_in_the_verdict_and_on_the_page() {
    let mut play = asking("true-magnetic", 2);
    let mut told = String::new();
    for _ in 0..40 {
        let east = is_east(&play);
        play.give(if east { Some("sign-flipped") } else { None });
        let text = play.text(120, 36).split_whitespace().collect::<Vec<_>>().join(" ");
        if text.contains("With you it comes only when the declination is east") {
            told = text;
            break;
        }
        play.press("<enter>");
        if play.text(80, 24).contains("worked through") {
            play.press("<enter>");
        }
    }
    assert!(!told.is_empty(), "never told in 40 problems");
    picture("verdict_pattern", &play);
    play.press("<esc>p");
    let page = play.text(120, 36).split_whitespace().collect::<Vec<_>>().join(" ");
    let said = "True and magnetic: you applied the correction the wrong way round, only when the declination is east (";
    assert!(page.contains(said), "{page}");
    picture("page_pattern", &play);
}
