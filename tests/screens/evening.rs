//! The leader's evening by keys: its plan, the row that stays, what is taken back.

use crate::leader::six;
use crate::picture;
use crate::play::{Play, TODAY};
use jiff::ToSpan;
use needlewise::store::RecordedVerdict;
use needlewise::tui::Screen;

#[test]
fn an_evening_is_planned_for_those_who_are_here_and_followed_step_by_step() {
    let mut play = six().keys("e");
    picture("evening_who", &play);
    play.press("<down> <left><enter>");
    picture("evening_plan", &play);
    let Screen::Evening(_) = &play.model.screen else { panic!("no plan") };
    let text = play.text(120, 36);
    assert!(text.contains("An evening of 75 minutes") && !text.contains("Ida"), "Ida is not here: {text}");
    assert!(text.contains("Laptop") && text.contains("Print before"), "{text}");
    // The second piece is the first one with the laptop for one member.
    play.press("<down><enter>");
    assert!(matches!(play.model.screen, Screen::Practice(_) | Screen::Lesson(_)), "{}", play.text(80, 24));
}

#[test]
fn the_plan_of_an_evening_stays_while_something_else_is_done_and_is_changed_by_hand() {
    let mut play = six().keys("e<enter><down>");
    let before = play.text(120, 36);
    play.press("<tab>x");
    let changed = play.text(120, 36);
    let of_ida = |text: &str| text.lines().filter(|line| line.contains("Ida")).map(str::to_owned).collect::<Vec<_>>();
    assert_ne!(of_ida(&before)[0], of_ida(&changed)[0], "Ida does something else: {changed}");
    play.press("++");
    assert!(play.text(120, 36).contains("An evening of 100 minutes"), "{}", play.text(120, 36));
    play.press("<esc>");
    assert!(matches!(play.model.screen, Screen::Patrol(_)));
    play.press("<down>e");
    assert!(play.text(120, 36).contains("An evening of 100 minutes"), "it is where it was");
    play.press("w");
    assert!(play.text(80, 24).contains("Who is here"), "and can be made anew");
}

#[test]
fn who_goes_on_from_the_laptop_gives_it_back_to_whom_it_was_taken_from() {
    let mut play = six().keys("e<enter><down><tab>");
    let at_laptop = |play: &Play| {
        let text = play.text(120, 36);
        text.lines().find(|line| line.contains("Laptop")).map(str::to_owned)
    };
    let before = at_laptop(&play);
    let until = |play: &mut Play, said: &str| {
        let found = (0..5).any(|_| {
            play.press("x");
            play.text(120, 36).contains(said)
        });
        assert!(found, "{said}: {}", play.text(120, 36));
    };
    until(&mut play, "has the laptop now");
    assert_ne!(at_laptop(&play), before);
    until(&mut play, "has the laptop again");
    assert_eq!(at_laptop(&play), before, "{}", play.text(120, 36));
}

#[test]
fn a_row_is_found_by_its_first_letters_and_stays_chosen_whatever_comes_between() {
    let chosen = |play: &Play| {
        let Screen::Patrol(page) = &play.model.screen else { panic!("{}", play.text(80, 24)) };
        page.learner().unwrap().name.clone()
    };
    let mut play = six();
    play.press("<end>");
    let last = chosen(&play);
    play.press("<home>");
    assert_ne!(chosen(&play), last);
    play.press(&format!("/{}<enter>", last.to_lowercase()));
    assert_eq!(chosen(&play), last);
    for between in ["p<esc>", "s", "o<esc>", "x", "mr<esc>"] {
        play.press(between);
        assert_eq!(chosen(&play), last, "after {between}");
    }
    // Putting aside names whom, and asks.
    play.press("ma");
    assert!(play.text(80, 24).contains(&format!("Put {last} aside?")), "{}", play.text(80, 24));
    play.press("n");
    assert_eq!(chosen(&play), last);
    play.press("may");
    assert_ne!(chosen(&play), last);
}

#[test]
fn what_was_entered_for_a_round_is_taken_back_from_the_leaders_page() {
    let mut play = six().keys("r<down><enter><enter>11<enter><esc><enter>");
    let bo = play.store().learner_by_name("Bo").unwrap().unwrap().id;
    let right = |play: &Play| play.store().latest(bo, &Default::default(), 9).unwrap();
    assert_eq!(right(&play).iter().filter(|one| one.what.verdict == RecordedVerdict::Right).count(), 1);
    play.press("uu");
    assert!(right(&play).is_empty(), "it counts for nothing");
    assert_eq!(play.store().taken_back(bo).unwrap(), 0, "the leader's slip is not told as Bo's");
}

#[test]
fn a_plan_changed_by_hand_is_there_when_the_leader_comes_back_on_the_same_day() {
    let play = six().keys("e<enter><down><tab>x++");
    let changed = play.text(120, 36);
    // The line that offers something else for the chosen member is none of the plan.
    let of_ida = |line: &&str| line.contains("Ida") && !line.contains("something else");
    let plan = |text: &str| text.lines().filter(of_ida).map(str::to_owned).collect::<Vec<_>>();
    // The program ends; its page was not even left.
    let mut play = play.restart_on(TODAY).keys("le");
    let text = play.text(120, 36);
    assert!(
        text.contains("An evening of 100 minutes") && text.contains("The plan of today; w makes another one."),
        "{text}"
    );
    assert_eq!(plan(&text), plan(&changed));
    picture("evening_kept", &play);
    // Another one takes its place, and only when it is made.
    play.press("w");
    assert!(play.text(80, 24).contains("Who is here"));
    let mut play = play.restart_on(TODAY).keys("le");
    assert!(play.text(120, 36).contains("An evening of 100 minutes"));
    play.press("w<left><enter>");
    let play = play.restart_on(TODAY).keys("le");
    assert!(play.text(120, 36).contains("An evening of 85 minutes"), "{}", play.text(120, 36));
}

#[test]
fn a_plan_of_another_day_or_with_somebody_who_is_not_here_any_more_is_said_and_not_gone_by() {
    let play = six().keys("e<enter><down>++");
    let mut play = play.restart_on(TODAY + 1.day()).keys("le");
    picture("evening_of_another_day", &play);
    let text = play.text(120, 36);
    assert!(
        text.contains("Who is here") && text.contains("The plan of 2026-11-25 is of another day. Esc shows it"),
        "{text}"
    );
    play.press("<esc>");
    assert!(play.text(120, 36).contains("An evening of 100 minutes"), "{}", play.text(120, 36));
    // Bo is put aside.
    let mut play = play.restart_on(TODAY).keys("lmay");
    play.press("e");
    let text = play.text(120, 36);
    assert!(
        text.contains("1 of those in it is not among the members here any more. Enter makes another one"),
        "{text}"
    );
    play.press("<enter>");
    assert!(!play.text(120, 36).contains("Bo "), "{}", play.text(120, 36));
    // By another standard the same.
    play.press("<esc>se");
    let text = play.text(120, 36);
    assert!(
        text.contains("The plan of today goes by another standard (day-outing). Enter makes one by this one."),
        "{text}"
    );
}
