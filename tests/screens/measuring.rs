//! What is laid on the map of a question: a romer that is moved until its corner lies on the place, a paper edge that is ticked along a
//! path and held against the scale bar. The program never reads the number.

use super::play::Play;
use super::{assert_verdict, picture};
use needlewise::ground::plane::GridPosition;
use needlewise::numbers::whole;
use needlewise::problem::{Figure, MapFigure, MapTool, PaperEdge, Verdict};
use needlewise::tui::Screen;
use needlewise::tui::screens::practice::PracticeScreen;

fn screen(play: &Play) -> &PracticeScreen {
    let Screen::Practice(screen) = &play.model.screen else { panic!("not in practice") };
    screen
}

/// The map of the question with what lies on it.
fn lies(play: &Play) -> Option<&MapTool> {
    screen(play).filling()?.tool.as_ref()?.lies()
}

fn map(play: &Play) -> &MapFigure {
    let Figure::Map(map) = &screen(play).flow.asked().expect("a problem").figure else { panic!("no map") };
    map
}

fn edge(play: &Play) -> &PaperEdge {
    let Some(MapTool::PaperEdge(edge)) = lies(play) else { panic!("no paper edge") };
    edge
}

/// A play whose first problem is measured on the map, past its worked example.
pub fn measuring(skill: &'static str, level: u8) -> Play {
    example(skill, level).keys("<enter>")
}

/// The same at its worked example, which is measured on a map, too.
pub fn example(skill: &'static str, level: u8) -> Play {
    let measured = |play: &Play| {
        let asked = screen(play).flow.asked().expect("a problem");
        let at_example = play.text(80, 24).contains("First, one worked through");
        at_example && matches!(&asked.figure, Figure::Map(map) if map.tool.is_some())
    };
    (1..60)
        .map(|seed| Play::new().seed(seed).skill(skill, level).keys("Ana<enter><enter>"))
        .find(measured)
        .unwrap_or_else(|| panic!("nothing is measured on the map in {skill} at level {level}"))
}

/// Keys for so many metres: tenths of a square with Shift, the rest by small steps.
fn keys(metres: f64, more: &str, less: &str) -> String {
    let small: i32 = whole((metres / 20.0).round());
    let key = if small < 0 { less } else { more };
    let times = |count: i32| usize::try_from(count.abs()).expect("few");
    format!("<s-{key}>").repeat(times(small / 5)) + &format!("<{key}>").repeat(times(small % 5))
}

/// Lays the romer's corner on A by keys.
fn laid_on_a(mut play: Play) -> Play {
    play.press("r");
    let Some(MapTool::Romer(romer)) = lies(&play) else { panic!("no romer") };
    let (corner, a) = (romer.corner.expect("laid"), map(&play).places[0].at);
    let along = keys(a.easting_m - corner.easting_m, "right", "left");
    play.keys(&(along + &keys(a.northing_m - corner.northing_m, "up", "down")))
}

fn off(one: GridPosition, other: GridPosition) -> f64 {
    (one.easting_m - other.easting_m).abs().max((one.northing_m - other.northing_m).abs())
}

#[test]
fn a_romer_is_laid_moved_and_read_and_only_the_learner_says_the_number() {
    let play = measuring("grid-reference", 2);
    picture("ask_romer", &play);
    let play = laid_on_a(play);
    let Some(MapTool::Romer(romer)) = lies(&play) else { panic!("no romer") };
    assert!(off(romer.corner.expect("laid"), map(&play).places[0].at) <= 10.0, "{romer:?}");
    picture("ask_romer_laid", &play);
    let right = screen(&play).flow.asked().expect("a problem").problem.answer().clone();
    let words = screen(&play).fields()[0].words(right.values()[0]);
    assert!(!play.text(80, 24).contains(&words) && !play.text(120, 36).contains(&words), "{words} stands there");
    // The romer stays where it lies while the number is typed.
    let play = play.keys("29");
    assert!(matches!(lies(&play), Some(MapTool::Romer(romer)) if romer.corner.is_some()));
    let play = play.keys("<bs><bs>").answer(None);
    assert_verdict(&play, |verdict| verdict == Verdict::Right);
}

#[test]
fn a_romer_goes_by_small_and_large_steps_stays_on_its_square_and_is_taken_away() {
    let mut play = measuring("grid-reference", 2).keys("r");
    let corner = |play: &Play| match lies(play) {
        Some(MapTool::Romer(romer)) => romer.corner,
        _ => None,
    };
    let mut moved = |keys: &str| {
        let before = corner(&play).expect("laid");
        play.press(keys);
        let after = corner(&play).expect("laid");
        (after.easting_m - before.easting_m, after.northing_m - before.northing_m)
    };
    assert_eq!(moved("<right>"), (20.0, 0.0));
    assert_eq!(moved("<s-up>"), (0.0, 100.0));
    assert_eq!(moved("s<left>"), (-100.0, 0.0));
    assert_eq!(moved("<s-down>s"), (0.0, -20.0));
    moved(&"<s-right>".repeat(40));
    let (Some(MapTool::Romer(romer)), Some(at)) = (lies(&play), corner(&play)) else { panic!("no romer") };
    assert_eq!(at.easting_m - romer.square.easting_m, 1000.0);
    play.press("r");
    assert_eq!(corner(&play), None);
}

#[test]
fn the_worked_steps_show_the_romer_one_by_one() {
    let mut play = measuring("grid-reference", 2).answer(Some("from-the-far-lines"));
    picture("told_romer", &play);
    let whole = play.text(80, 24);
    play.press("<right><right><right>");
    picture("told_romer_step", &play);
    assert!(play.text(80, 24).contains("Along the corridor"));
    // Once round is all at once again.
    play.press("<right><right><right>");
    assert_eq!(play.text(80, 24), whole);
    let mut play = example("grid-reference", 2);
    let before = play.text(80, 24);
    play.press("<right><right>");
    assert_ne!(play.text(80, 24), before);
}

#[test]
fn a_paper_edge_is_ticked_along_the_bends_and_held_against_the_bar() {
    let play = measuring("scale-distance", 3);
    picture("ask_paper_edge", &play);
    let play = play.keys("e<up><up> <up><up> <up>");
    assert_eq!(edge(&play).count(), 3);
    picture("ask_paper_edge_ticked", &play);
    let play = play.keys(&"<up> ".repeat(30)).keys("b");
    assert!(edge(&play).held && edge(&play).measured_m() > 0.92 * edge(&play).path_m());
    picture("ask_paper_edge_held", &play);
    let measured = edge(&play).measured_m();
    let text = format!("{measured:.0}");
    assert!(!play.text(80, 24).contains(&text) && !play.text(120, 36).contains(&text), "{text} stands there");
    // A learner reads the bar to half of a tenth.
    let play = play.keys(&format!("{:.0}<enter>", (measured / 50.0).round() * 50.0));
    assert_verdict(&play, |verdict| verdict == Verdict::Right);
    let mut play = play;
    picture("told_paper_edge", &play);
    play.press("<right><right>");
    picture("told_paper_edge_step", &play);
}

#[test]
fn one_tick_at_the_end_is_the_straight_line_and_told_as_that() {
    let play = measuring("scale-distance", 3).keys("e").keys(&"<up>".repeat(40)).keys(" b");
    let across = format!("{:.0}<enter>", edge(&play).measured_m());
    let play = play.keys(&across);
    assert_verdict(&play, |verdict| verdict.mixup().is_some_and(|mixup| mixup.id.as_str() == "straight-for-bends"));
}

#[test]
fn a_tick_in_vain_and_an_edge_without_ticks_are_told_and_back_over_a_tick_takes_it_away() {
    let play = measuring("scale-distance", 3).keys("e ");
    assert!(play.text(80, 24).contains("there is a tick here already"), "{}", play.text(80, 24));
    let play = play.keys("b");
    assert!(play.text(80, 24).contains("Tick the edge first") && !edge(&play).held);
    let play = play.keys("<up> <right> ");
    assert_eq!(edge(&play).count(), 3);
    let play = play.keys("<left>");
    assert_eq!(edge(&play).count(), 2);
    let play = play.keys("e");
    assert_eq!((edge(&play).count(), edge(&play).at), (0, None));
}
