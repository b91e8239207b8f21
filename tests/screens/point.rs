//! A point picked on a map: the cross goes where keys and mouse bring it, the status says where it is, and the verdict shows
//! both places.

use super::play::Play;
use super::{asking, assert_verdict, picture};
use crossterm::event::{KeyModifiers, MouseButton, MouseEvent, MouseEventKind};
use needlewise::problem::{Code, Figure, Level, TEXT_MM, Verdict, realise};
use needlewise::scene::cells::CellCanvas;
use needlewise::skills;
use needlewise::tui::screens::practice_point::Cross;
use needlewise::tui::{Msg, Screen, update};
use ratatui::layout::Rect;

/// The cross on the map of the question.
fn cross(play: &Play) -> &Cross {
    let Screen::Practice(screen) = &play.model.screen else { panic!("not in practice") };
    screen.filling().and_then(|filling| filling.cross()).expect("a point is asked")
}

/// Where it stands, metres east and north.
fn metres(play: &Play) -> (i32, i32) {
    let text = cross(play).text();
    let (east, north) = text.split_once(' ').expect("two numbers");
    (east.parse().expect("metres"), north.parse().expect("metres"))
}

fn moved(play: &mut Play, keys: &str) -> (i32, i32) {
    let before = metres(play);
    play.press(keys);
    let after = metres(play);
    (after.0 - before.0, after.1 - before.1)
}

#[test]
fn the_cross_begins_on_no_answer_nor_a_step_from_one() {
    for name in ["fix-on-line", "resection"] {
        let skill = skills::find(name).expect("a skill");
        for (level, seed) in Level::ALL.into_iter().flat_map(|level| (0..100).map(move |seed| (level, seed))) {
            let problem = realise(&Code { skill, level, seed, home: None }).expect("a problem");
            let Figure::Map(map) = problem.figure() else { panic!("{}: a map", problem.code()) };
            let mut cross = Cross::new(&map);
            for step in [(0, 0), (0, 1), (1, 0), (-1, 0)] {
                cross.go(step, false);
                let judged = needlewise::problem::judge(&problem, &[&cross.text()]).expect("a place");
                assert_ne!(judged.verdict, Verdict::Right, "{}: {}", problem.code(), cross.text());
            }
        }
    }
}

#[test]
fn the_cross_goes_by_small_and_large_steps() {
    let mut play = asking("fix-on-line", 1);
    assert_eq!(moved(&mut play, "<right>"), (20, 0));
    assert_eq!(moved(&mut play, "<up>"), (0, 20));
    assert_eq!(moved(&mut play, "<left><down>"), (-20, -20));
    assert_eq!(moved(&mut play, "<s-right>"), (200, 0));
    assert_eq!(moved(&mut play, "s<left>"), (-200, 0));
    assert_eq!(moved(&mut play, "<s-right>s"), (20, 0));
    // The sheet ends somewhere.
    let far = moved(&mut play, &"<s-right>".repeat(40));
    assert!((200..2_000).contains(&far.0), "{far:?}");
}

#[test]
fn a_press_of_the_mouse_puts_the_cross_under_the_pointer() {
    let mut play = asking("fix-on-line", 1).keys("<right>");
    play.text(80, 24);
    let mut at = |column, row| {
        let event =
            MouseEvent { kind: MouseEventKind::Down(MouseButton::Left), column, row, modifiers: KeyModifiers::NONE };
        update(&mut play.model, Msg::Mouse(event, "2026-11-25T18:00:00Z".parse().unwrap()));
        metres(&play)
    };
    let (one, right, up) = (at(20, 10), at(26, 10), at(20, 8));
    assert!(right.0 - one.0 > 200 && (right.1 - one.1).abs() < 80, "{one:?} {right:?}");
    assert!(up.1 - one.1 > 120 && (up.0 - one.0).abs() < 80, "{one:?} {up:?}");
    assert_eq!(at(75, 10), up, "beside the map nothing happens");
}

#[test]
fn nothing_is_recorded_for_a_cross_that_was_not_moved_and_nothing_is_typed() {
    let mut play = asking("fix-on-line", 1).keys("<enter>");
    assert!(play.text(80, 24).contains("Move the cross first"), "{}", play.text(80, 24));
    play.press("3");
    assert!(play.text(80, 24).contains("picked on the map"), "{}", play.text(80, 24));
    let Screen::Practice(screen) = &play.model.screen else { panic!("not in practice") };
    assert!(screen.flow.told().is_none());
}

#[test]
fn a_place_on_a_path_is_picked_and_told() {
    picture("ask_point", &asking("fix-on-line", 2).keys("<s-right><right>"));
    let play = asking("fix-on-line", 2).answer(None);
    assert_verdict(&play, |verdict| verdict == Verdict::Right);
    let play = asking("fix-on-line", 2).answer(Some("sign-flipped"));
    picture("told_point", &play);
    assert_verdict(&play, |verdict| verdict.mixup().is_some_and(|mixup| mixup.id.as_str() == "sign-flipped"));
}

#[test]
fn two_marks_have_an_edge_each_and_four_find_room() {
    picture("ask_two_marks", &asking("resection", 2).keys("<s-right><left>"));
    picture("ask_four_marks", &asking("resection", 4).keys("<s-right><left>"));
    let play = asking("resection", 3).answer(Some("not-applied"));
    picture("told_two_marks", &play);
    assert_verdict(&play, |verdict| verdict.mixup().is_some_and(|mixup| mixup.id.as_str() == "not-applied"));
}

#[test]
fn a_protractor_lies_on_the_map_with_its_scale_seen_close() {
    picture("ask_protractor", &asking("protractor-bearing", 1));
    picture("ask_half_protractor", &asking("protractor-bearing", 4));
    picture("told_protractor", &asking("protractor-bearing", 3).answer(Some("wrong-end")));
}

/// In nine of 37 problems the cross in the middle of the map lay over the name of a mark that was to be sighted.
#[test]
fn each_mark_that_is_sighted_has_its_name_on_the_map_wherever_the_cross_stands() {
    let (mut missing, mut looked) = (Vec::new(), 0);
    for (skill, level, seed) in ["fix-on-line", "resection"]
        .into_iter()
        .flat_map(|skill| Level::ALL.into_iter().flat_map(move |level| (0..25).map(move |seed| (skill, level, seed))))
    {
        let skill = skills::find(skill).expect("a skill");
        let problem = realise(&Code { skill, level, seed, home: None }).expect("a problem");
        let Figure::Map(map) = problem.figure() else { continue };
        let mut cross = Cross::new(&map);
        for (step, panel) in [((0, 0), (41, 17)), ((2, -2), (41, 17)), ((-4, 3), (62, 26))] {
            cross.go(step, true);
            let panel = Rect::new(0, 0, panel.0, panel.1);
            let (width, height) = (f64::from(panel.width) * TEXT_MM / 2.0, f64::from(panel.height) * TEXT_MM);
            let scene = cross.drawn_in(panel).scene(width, height).expect("a map");
            let text = CellCanvas::default().render(&scene, panel.width, panel.height).text();
            looked += 1;
            for (name, _) in map.marks().filter(|(name, _)| !text.contains(name)) {
                missing.push(format!("{} {panel:?}: {name}", problem.code()));
            }
        }
    }
    assert!(looked >= 400, "{looked}");
    assert!(missing.is_empty(), "{} of {looked}: {missing:#?}", missing.len());
}
