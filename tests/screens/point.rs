//! A point picked on a map: the cross goes where keys and mouse bring it, the status says where it is, and the verdict shows
//! both places.

use super::play::Play;
use super::{asking, assert_verdict, picture};
use crossterm::event::{KeyModifiers, MouseButton, MouseEvent, MouseEventKind};
use needlewise::ground::plane::GridPosition;
use needlewise::problem::{Code, Figure, Level, MapRay, TEXT_MM, Verdict, realise};
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
    play.press("x");
    assert!(play.text(80, 24).contains("Figures draw a line"), "{}", play.text(80, 24));
    let Screen::Practice(screen) = &play.model.screen else { panic!("not in practice") };
    assert!(screen.flow.told().is_none());
}

#[test]
fn three_figures_draw_a_line_through_its_mark_and_a_bearing_and_its_back_bearing_are_one() {
    let mut play = asking("resection", 2);
    let drawn = |play: &Play| {
        let Figure::Map(map) = cross(play).drawn_in(Rect::new(0, 0, 40, 16)) else { panic!("a map") };
        let ends = |ray: &MapRay| {
            let near = |at: GridPosition| format!("{:.0} {:.0}", at.easting_m / 50.0, at.northing_m / 50.0);
            let mut ends = [near(ray.from), near(ray.to)];
            ends.sort_unstable();
            ends
        };
        let through = |ray: &MapRay, mark: GridPosition| {
            let (one, other) = (mark.leg_to(ray.from), mark.leg_to(ray.to));
            (one.bearing.turn_to(other.bearing).degrees().abs() - 180.0).abs() < 1e-6
        };
        let on_mark = |ray: &MapRay| map.marks().any(|(_, mark)| through(ray, mark));
        assert!(map.rays.iter().all(on_mark), "a line runs through its mark");
        map.rays.iter().map(ends).collect::<Vec<_>>()
    };
    play.press("04");
    assert_eq!(drawn(&play), Vec::<[String; 2]>::new(), "two figures are no bearing");
    assert!(play.text(80, 24).contains("04_° G"), "{}", play.text(80, 24));
    play.press("0095");
    let both = drawn(&play);
    assert_eq!(both.len(), 2, "behind a whole line the other mark's begins");
    // Where all are drawn a line is typed anew; Tab goes to the other one.
    play.press("275<tab>220");
    assert_eq!(drawn(&play), both, "back bearings");
    assert_eq!(drawn(&asking("resection", 2).keys("040<tab>095")), both, "with Tab between them, too");
    play.press("400");
    assert!(play.text(80, 24).contains("A bearing has three figures"), "{}", play.text(80, 24));
    assert_eq!(drawn(&play).len(), 1);
    play.press("<tab><bs>");
    assert_eq!(drawn(&play).len(), 0);
    assert!(play.text(80, 24).contains("27_° G"), "{}", play.text(80, 24));
    // The cross on a line is told, as far as a small step.
    assert!(!play.text(80, 24).contains("on it"), "{}", play.text(80, 24));
    let through_cross = {
        let at = cross(&play);
        let Figure::Map(map) = at.drawn_in(Rect::new(0, 0, 40, 16)) else { panic!("a map") };
        let (east, north) = metres(&play);
        let here = GridPosition { easting_m: f64::from(east), northing_m: f64::from(north) };
        map.marks().nth(1).map(|(_, mark)| mark.leg_to(here).bearing.degrees()).expect("a mark")
    };
    play.press(&format!("<bs><bs>{through_cross:03.0}"));
    assert!(play.text(80, 24).contains("° G, on it"), "{}", play.text(80, 24));
    // Drawing is no answer.
    play.press("<enter>");
    assert!(play.text(80, 24).contains("Move the cross first"), "{}", play.text(80, 24));
}

#[test]
fn where_the_cross_stands_tells_no_bearing() {
    for skill in ["fix-on-line", "resection"] {
        let before = asking(skill, 2).keys("<right>").text(120, 36);
        let after = asking(skill, 2).keys("<right><s-up><s-left>").text(120, 36);
        let lines = |text: &str| text.lines().filter(|line| line.contains("° G")).count();
        assert_eq!(lines(&before), lines(&after));
        for text in [before, after] {
            assert!(text.contains("___° G"), "{text}");
        }
    }
}

#[test]
fn a_place_on_a_path_is_picked_and_told() {
    picture("ask_point", &asking("fix-on-line", 2).keys("123<s-right><right>"));
    let play = asking("fix-on-line", 2).answer(None);
    assert_verdict(&play, |verdict| verdict == Verdict::Right);
    let play = asking("fix-on-line", 2).answer(Some("sign-flipped"));
    picture("told_point", &play);
    assert_verdict(&play, |verdict| verdict.mixup().is_some_and(|mixup| mixup.id.as_str() == "sign-flipped"));
}

#[test]
fn two_marks_have_an_edge_each_and_four_find_room() {
    picture("ask_two_marks", &asking("resection", 2).keys("040095<s-right><left>"));
    picture("ask_four_marks", &asking("resection", 4).keys("040<s-right><left>"));
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
