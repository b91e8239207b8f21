use super::*;
use crate::angle::{Convergence, Declination};
use crate::problem::HomeAngles;
use crate::scene::cells::CellCanvas;
use crate::skills;
use std::collections::BTreeSet;

pub(super) fn site() -> Site {
    let angles = HomeAngles::new(Declination::from_degrees(-8.73), Convergence::from_degrees(-1.2));
    let place = crate::ground::Place::from_degrees(46.8, -28.6).ok();
    Site { angles: Some(angles), place, day: jiff::civil::date(2026, 11, 28) }
}

fn screens() -> impl Iterator<Item = (&'static Lesson, usize, &'static Screen)> {
    LESSONS.iter().flat_map(|lesson| lesson.screens.iter().enumerate().map(|(at, screen)| (*lesson, at, screen)))
}

#[test]
fn a_lesson_has_three_to_six_screens_of_at_most_25_words() {
    for lesson in LESSONS {
        assert!((3..=6).contains(&lesson.screens.len()), "{}", lesson.id);
        assert!(lesson.question.right < lesson.question.choices.len(), "{}", lesson.id);
    }
    for (lesson, at, screen) in screens() {
        let words = screen.text.split(' ').count();
        assert!(words <= 25, "{} {at}: {words} words", lesson.id);
    }
}

#[test]
fn every_screen_has_something_to_move_and_a_figure_that_answers() {
    for (lesson, at, screen) in screens() {
        let mut figure = (screen.figure)(&site());
        let (said, drawn) = (figure.says(), picture(figure.as_ref()));
        assert!(!figure.knobs().is_empty());
        let knob = figure.knobs()[0];
        figure.turn(0, knob.step);
        assert_ne!(said, figure.says(), "{} {at} says the same", lesson.id);
        assert_ne!(drawn, picture(figure.as_ref()), "{} {at} looks the same", lesson.id);
    }
}

#[test]
fn no_figure_is_the_one_that_stands_in_where_no_problem_suits() {
    for (lesson, at, screen) in screens() {
        let stands_in = format!("{:?}", (screen.figure)(&site())).starts_with("InView");
        assert_eq!(stands_in, (lesson.id, at) == ("laying-the-map", 0), "{} {at}", lesson.id);
    }
}

#[test]
fn what_a_screen_asks_for_can_be_reached_with_the_arrow_keys() {
    for (lesson, at, screen) in screens() {
        let mut figure = (screen.figure)(&site());
        // Each thing in turn goes all the way round, in small steps and with whatever the others show then.
        let knobs = figure.knobs();
        let mut tried = 0;
        while !figure.reached() && tried < 40_000 {
            figure.turn(0, knobs[0].step);
            tried += 1;
            if tried % 72 == 0
                && let Some(other) = knobs.get(1)
            {
                figure.turn(1, other.step);
            }
        }
        assert!(figure.reached(), "{} {at}: {}", lesson.id, figure.says());
    }
}

#[test]
fn lessons_stand_before_skills_that_exist_and_have_ids_of_their_own() {
    let ids: BTreeSet<&str> = LESSONS.iter().map(|lesson| lesson.id).collect();
    assert_eq!(ids.len(), LESSONS.len());
    for lesson in LESSONS {
        assert!(!lesson.before.is_empty());
        for skill in lesson.before {
            assert!(skills::find(skill).is_some(), "{}: {skill}", lesson.id);
        }
    }
    assert_eq!(before_skill("back-bearing").map(|lesson| lesson.id).collect::<Vec<_>>(), ["there-and-back"]);
}

fn picture(figure: &dyn Figure) -> String {
    CellCanvas::default().render(&figure.scene(148.0, 56.0, 4.0), 74, 14).text()
}

#[test]
fn a_figure_that_is_moved_keeps_its_middle() {
    // The foot of the sketch, a spot, stands where it stood, whichever way the arm points.
    let mut figure = (LESSONS[1].screens[0].figure)(&site());
    let foot = |figure: &dyn Figure| {
        let scene = figure.scene(148.0, 56.0, 4.0);
        scene
            .items
            .iter()
            .find_map(|item| match item {
                crate::scene::SceneItem::Mark(mark) if mark.kind == crate::scene::MarkKind::Spot => Some(mark.at),
                _ => None,
            })
            .expect("a foot")
    };
    let before = foot(figure.as_ref());
    for _ in 0..72 {
        figure.turn(0, 5);
        assert_eq!(foot(figure.as_ref()), before);
    }
}
