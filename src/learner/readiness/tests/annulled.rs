//! Answers that a leader annuls: what they do to a try, and to the plan's error.

use super::super::{Answered, Next, Progress, ReadinessPlan, Rules, TryEnd};
use super::{Bounds, Decision, close};
use jiff::ToSpan;
use jiff::civil::{Date, date};

const TODAY: Date = date(2026, 6, 6);

fn rules() -> Rules {
    Rules { plan: ReadinessPlan::two_tries(), wait_days: 14, valid_days: 180, critical: vec!["reversed".to_owned()] }
}

/// Answers in a row, `+` right, `-` wrong, `x` a critical mix-up.
fn give(progress: &mut Progress, rules: &Rules, answers: &str) {
    for sign in answers.chars() {
        let critical = (sign == 'x').then_some("reversed");
        progress.answer(rules, Answered { day: TODAY, day_given: false, right: sign == '+', critical });
    }
}

fn given(rules: &Rules, answers: &str) -> Progress {
    let mut progress = Progress::default();
    give(&mut progress, rules, answers);
    progress
}

/// Asked and right in the last try, and how it ended.
fn stands(progress: &Progress) -> (u8, u8, Option<TryEnd>) {
    let last = progress.tries().last().expect("a try");
    (last.asked, last.right, last.end.clone())
}

#[test]
fn one_annulled_wrong_answer_a_try_raises_the_error_from_050_to_147() {
    let plan = ReadinessPlan::two_tries();
    // Worked out outside, over the same bounds: .025281 and .076460 a try.
    close(plan.bounds().ready_with_annulled(0.6, 0), 0.025_281, 1e-6);
    close(plan.bounds().ready_with_annulled(0.6, 1), 0.076_460, 1e-6);
    close(plan.alpha_with_annulled(&[]), 0.050, 5e-4);
    close(plan.alpha_with_annulled(&[]), plan.alpha(), 1e-12);
    close(plan.alpha_with_annulled(&[1, 1]), 0.147, 5e-4);
    close(plan.alpha_with_annulled(&[1]), 0.099_808, 1e-6);
    close(plan.alpha_with_annulled(&[0, 1]), plan.alpha_with_annulled(&[1]), 1e-12);
    assert!(plan.alpha_with_annulled(&[2]) > plan.alpha_with_annulled(&[1]), "each one more makes it worse");
}

/// Whoever annuls may choose which of the wrong answers: the slow twin.
fn at_worst(bounds: &Bounds, chance: f64, asked: u8, right: u8, left: u8) -> f64 {
    match bounds.decide(asked, right) {
        Decision::Ready => 1.0,
        Decision::Stop => 0.0,
        Decision::GoOn => {
            let counted = at_worst(bounds, chance, asked + 1, right, left);
            let wrong = match left.checked_sub(1) {
                Some(left) => counted.max(at_worst(bounds, chance, asked, right, left)),
                None => counted,
            };
            chance * at_worst(bounds, chance, asked + 1, right + 1, left) + (1.0 - chance) * wrong
        }
    }
}

#[test]
fn no_choice_of_the_annulled_answer_is_worse_than_the_first_wrong_one() {
    let plan = ReadinessPlan::two_tries();
    for annulled in 0..=2 {
        for chance in [0.3, 0.6, 0.9] {
            let exact = plan.bounds().ready_with_annulled(chance, annulled);
            close(exact, at_worst(plan.bounds(), chance, 0, 0, annulled), 1e-9);
        }
    }
}

#[test]
fn a_fresh_answer_takes_the_place_of_the_annulled_one() {
    let rules = rules();
    let mut progress = given(&rules, "++-+");
    progress.annul(&rules, 2);
    assert_eq!(stands(&progress), (3, 3, None));
    assert_eq!(progress.next(&rules, TODAY), Next::Ask(1));
    assert_eq!(progress.tries()[0].answers().collect::<Vec<_>>(), [0, 1, 3]);
    give(&mut progress, &rules, "+");
    assert_eq!(stands(&progress), (4, 4, None));
    assert_eq!(progress.tries()[0].answers().collect::<Vec<_>>(), [0, 1, 4, 3]);
    assert_eq!(progress.tries()[0].annulled, 1);
    give(&mut progress, &rules, "+++++");
    assert_eq!(stands(&progress), (9, 9, Some(TryEnd::Ready)), "as if the fresh one had been asked at once");
}

#[test]
fn annulling_alone_never_ends_a_try_since_that_would_tell_what_the_answer_was() {
    let rules = rules();
    // Without the wrong one it would be nine of nine.
    let mut progress = given(&rules, "-+++++++++");
    assert_eq!(stands(&progress), (10, 9, None));
    progress.annul(&rules, 0);
    assert_eq!(stands(&progress), (9, 9, None));
    // What comes instead decides, right or wrong.
    let mut again = progress.clone();
    give(&mut progress, &rules, "+");
    assert_eq!(stands(&progress), (9, 9, Some(TryEnd::Ready)));
    give(&mut again, &rules, "-");
    assert_eq!(stands(&again), (10, 9, None));
    // Without the right one the second wrong answer would come too early.
    let mut progress = given(&rules, "+++-++++-");
    assert_eq!(stands(&progress), (9, 7, None));
    progress.annul(&rules, 0);
    assert_eq!(stands(&progress), (8, 6, None));
    give(&mut progress, &rules, "+");
    assert_eq!(stands(&progress), (9, 7, None), "its place counts, and not those behind it anew");
}

#[test]
fn an_answer_of_a_try_that_has_ended_cannot_be_annulled_any_more() {
    let rules = rules();
    let ended = given(&rules, "+--");
    assert_eq!(stands(&ended), (3, 1, Some(TryEnd::Stopped)));
    let mut later = ended.clone();
    for number in 0..3 {
        later.annul(&rules, number);
    }
    assert_eq!(later, ended);
    // Nor is one of the first try touched in the second.
    let tomorrow = Answered { day: TODAY + 1.day(), day_given: false, right: true, critical: None };
    later.answer(&rules, tomorrow);
    later.annul(&rules, 1);
    assert_eq!((later.tries()[0].annulled, later.tries()[1].annulled, stands(&later)), (0, 0, (1, 1, None)));
    later.annul(&rules, 3);
    assert_eq!((later.tries()[1].annulled, stands(&later)), (1, (0, 0, None)));
}

#[test]
fn an_annulled_critical_mix_up_ends_no_try() {
    let rules = rules();
    assert_eq!(stands(&given(&rules, "+x+x")).2, Some(TryEnd::Critical("reversed".to_owned())));
    let mut progress = given(&rules, "+x+");
    progress.annul(&rules, 1);
    give(&mut progress, &rules, "+x");
    assert_eq!(stands(&progress), (4, 3, None));
}

#[test]
fn a_shortened_wait_ends_on_its_day_but_never_on_the_day_of_the_last_try() {
    let rules = rules();
    let mut progress = Progress::default();
    assert_eq!(progress.again_from(&rules, TODAY), TODAY + 14.days());
    progress.shorten_wait(TODAY + 30.days());
    assert_eq!(progress.again_from(&rules, TODAY), TODAY + 14.days(), "it is never made longer");
    progress.shorten_wait(TODAY + 3.days());
    assert_eq!(progress.again_from(&rules, TODAY), TODAY + 3.days());
    progress.shorten_wait(TODAY);
    assert_eq!(progress.again_from(&rules, TODAY), TODAY + 1.day());
}
