//! A check begins when its first problem is shown: whoever opens one and leaves before that leaves no trace.

use crate::leader::{answer, checked, six};
use crate::play::{Play, TODAY};
use needlewise::clerk::{self, Now, Opening};
use needlewise::drill::Standard;
use needlewise::session::Days;
use needlewise::store::StoredCheck;
use needlewise::tui::Screen;

fn checks(play: &Play, name: &str) -> Vec<StoredCheck> {
    let store = play.store();
    store.checks(store.learner_by_name(name).unwrap().unwrap().id).unwrap()
}

/// Whether a trial is on the screen.
fn is_trial(play: &Play) -> bool {
    checked(play).is_some_and(|screen| screen.flow.is_trial())
}

/// The leader's page as it is drawn anew.
fn page(play: Play) -> String {
    play.restart_on(TODAY).keys("l").text(120, 36)
}

#[test]
fn who_leaves_a_check_in_its_first_trial_leaves_no_trace() {
    let before = page(six());
    let mut play = six().keys("<enter><enter>");
    assert!(is_trial(&play), "{}", play.text(80, 24));
    assert_eq!(checks(&play, "Bo"), [], "nothing is written while the trial is on the screen");
    play.press("<esc>");
    assert!(is_trial(&play) && play.text(80, 24).contains("Esc once more leaves"), "{}", play.text(80, 24));
    play.press("<esc>");
    assert!(matches!(play.model.screen, Screen::Patrol(_)), "{:?}", play.model.screen);
    assert!(play.text(80, 24).contains("nothing was begun"), "{}", play.text(80, 24));
    assert_eq!(checks(&play, "Bo"), []);
    assert!(play.store().last_learner().unwrap().is_none(), "nobody sat down");
    assert_eq!(page(play), before, "the leader's page is as it was");
    // The same where the program is closed in the trial, and where work in it was begun.
    let play = six().keys("<enter><enter><right>");
    assert!(is_trial(&play));
    assert_eq!(checks(&play, "Bo"), []);
    assert_eq!(page(play), before);
    let play = six().keys("<enter><enter><right><esc><esc>");
    assert_eq!(page(play), before);
}

#[test]
fn with_others_behind_who_leaves_in_the_trial_is_called_again_and_can_be_passed_over() {
    let mut play = six().keys("c<enter>");
    assert!(is_trial(&play));
    play.press("<esc><esc>");
    assert!(play.text(80, 24).contains("Bo, it is your turn."), "{}", play.text(80, 24));
    play.press("s");
    assert!(play.text(80, 24).contains("Ida, it is your turn."), "{}", play.text(80, 24));
    assert_eq!(checks(&play, "Bo"), []);
}

#[test]
fn what_was_shown_and_left_still_counts() {
    let mut play = six().keys("<enter><enter><esc><enter>");
    assert!(!is_trial(&play) && play.text(80, 24).contains("From here on it counts."), "{}", play.text(80, 24));
    assert_eq!(checks(&play, "Bo").len(), 1, "its first problem is shown");
    play.press("<esc><esc>");
    assert!(matches!(play.model.screen, Screen::CheckEnd(_)), "{:?}", play.model.screen);
    // Gone on with, it is in its trial once more: leaving there is no further sitting, and leaves it as it was.
    let sittings = |play: &Play| checks(play, "Bo")[0].sittings.len();
    let mut play = play.restart_on(TODAY).keys("l<enter><enter>");
    assert!(is_trial(&play));
    play.press("<esc><esc>");
    assert_eq!(sittings(&play), 1);
    play.press("<enter><enter>");
    answer(&mut play, true);
    assert_eq!((checks(&play, "Bo").len(), sittings(&play)), (1, 2));
    assert_eq!(checks(&play, "Bo")[0].answers.len(), 1);
}

#[test]
fn a_check_that_another_program_began_during_the_trial_goes_on_and_no_second_one_is_begun() {
    let mut play = six().keys("<enter><enter>");
    assert!(is_trial(&play));
    // The same check is begun in another window, and left.
    let mut store = play.store();
    let bo = store.learner_by_name("Bo").unwrap().unwrap().id;
    let now = Now { days: Days::Given(TODAY), at: play.now() };
    let standard = Standard::embedded().first().unwrap();
    let opened = clerk::open_check(&mut store, bo, standard, now.clone(), 5).unwrap().1;
    let Opening::Check(mut check) = opened else { panic!("a check") };
    assert!(clerk::begin_check(&mut store, &mut check, now.at).unwrap());
    play.press("<esc><enter>");
    assert!(play.text(80, 24).contains("goes on where it stopped"), "{}", play.text(80, 24));
    assert_eq!(checks(&play, "Bo").len(), 1);
}
