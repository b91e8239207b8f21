//! The map table by keys: right work, every error that has a name, the showing, the mouse, and its pictures.
#![expect(clippy::cast_possible_truncation, reason = "what a test counts and draws is small")]

use super::play::Play;
use super::{assert_verdict, picture, readable_in_each_theme};
use crossterm::event::{KeyModifiers, MouseButton, MouseEvent, MouseEventKind};
use jiff::Timestamp;
use needlewise::angle::{Angle, North};
use needlewise::maptable::{Fault, Hold, LineName, Moves, Place, Task, Way, see};
use needlewise::problem::Verdict;
use needlewise::tui::screens::practice::PracticeScreen;
use needlewise::tui::screens::table::Desk;
use needlewise::tui::{Msg, Screen, update};

/// At the table with a problem of this skill, past the worked example, that this is true of.
pub fn at(skill: &'static str, level: u8, wanted: impl Fn(&Desk) -> bool) -> Play {
    at_from(Play::new, skill, level, wanted)
}

/// The same from a machine like that.
pub fn at_from(start: impl Fn() -> Play, skill: &'static str, level: u8, wanted: impl Fn(&Desk) -> bool) -> Play {
    (0..400)
        .map(|seed| {
            let mut play = start().skill(skill, level).seed(seed * 7 + 1).keys("Ana<enter><enter>");
            while matches!(&play.model.screen, Screen::Practice(screen) if screen.showing().is_some()) {
                play.press("<enter>");
            }
            if matches!(&play.model.screen, Screen::Practice(s) if matches!(s.stage, needlewise::tui::screens::practice::Stage::Example(_))) {
                play.press("<enter>");
            }
            play
        })
        .find(|play| matches!(&play.model.screen, Screen::Practice(screen) if screen.desk().is_some_and(&wanted)))
        .unwrap_or_else(|| panic!("no problem of {skill} at level {level} is at the table"))
}

pub fn screen(play: &Play) -> &PracticeScreen {
    match &play.model.screen {
        Screen::Practice(screen) => screen,
        other => panic!("not in practice: {other:?}"),
    }
}

pub fn desk(play: &Play) -> &Desk {
    screen(play).desk().expect("a table")
}

/// The number that belongs on the dial.
pub fn wanted(play: &Play) -> f64 {
    desk(play).problem.exercise.wanted_dial().expect("a number").degrees()
}

pub fn dial(play: Play, number: f64) -> Play {
    play.keys(&format!("{}<enter>", (number.rem_euclid(360.0) * 10.0).round() / 10.0))
}

/// Lays the edge along a line, the travel arrow this way, with e and r alone.
pub fn edge(mut play: Play, line: LineName, way: Way) -> Play {
    for _ in 0..12 {
        if desk(&play).now.place() == Place::Along(line) {
            break;
        }
        play.press("e");
    }
    assert_eq!(desk(&play).now.place(), Place::Along(line));
    let exercise = &desk(&play).problem.exercise;
    let seen = see(&desk(&play).now, &exercise.site(), &exercise.lines);
    if seen.edge.expect("on a line").way != way {
        play.press("r");
    }
    play
}

pub fn hold(mut play: Play, hold: Hold) -> Play {
    for _ in 0..6 {
        if desk(&play).held == hold {
            return play;
        }
        play.press("<tab>");
    }
    panic!("{hold:?} cannot be held here")
}

/// Turns what is held so far clockwise, by tens and ones.
pub fn turn(mut play: Play, degrees: f64) -> Play {
    let whole = degrees.round() as i32;
    let (ten, one) = if whole < 0 { ("<up>", "<left>") } else { ("<down>", "<right>") };
    for _ in 0..whole.abs() / 10 {
        play.press(ten);
    }
    for _ in 0..whole.abs() % 10 {
        play.press(one);
    }
    play
}

/// Turns what is held until an end of the needle lies in the arrow's head.
pub fn boxed(play: Play, held: Hold, south: bool) -> Play {
    let play = hold(play, held);
    let exercise = &desk(&play).problem.exercise;
    let seen = see(&desk(&play).now, &exercise.site(), &exercise.lines);
    let to =
        if south { (seen.needle_from_box + Angle::from_degrees(180.0)).wrapped_half() } else { seen.needle_from_box };
    turn(play, to.degrees())
}

/// What is said of the work, judged.
fn told(play: &Play) -> String {
    let told = screen(play).flow.told().expect("a verdict");
    let table = told.table.as_ref().expect("work at the table");
    format!("{} {}", told.headline, table.lines.join(" "))
}

pub fn assert_fault(play: &Play, fault: Fault) {
    let text = told(play);
    assert!(text.contains(&fault.said()), "{fault:?} is not named: {text}");
    // A number is mended by its reason, all else by what to do.
    let mended = text.contains(fault.mend()) || text.contains(" belongs ") || text.contains(" stays there");
    assert!(mended, "{fault:?} is not mended: {text}");
    assert_verdict(play, |verdict| verdict != Verdict::Right);
}

pub fn is_mixup(play: &Play, id: &str) {
    assert_verdict(play, |verdict| verdict.mixup().is_some_and(|mixup| mixup.id.as_str() == id));
}

pub fn oriented_by(north: needlewise::angle::North) -> impl Fn(&Desk) -> bool {
    move |desk| matches!(desk.problem.exercise.task, Task::Orient(own) if own == north)
}

fn true_line() -> Play {
    at("orient-true-line", 2, oriented_by(North::True))
}

#[test]
fn the_map_is_oriented_with_the_keys_of_the_bottom_line() {
    let play = true_line();
    picture("table_first", &play);
    let number = wanted(&play);
    let play = edge(dial(play, number), LineName::True, Way::Ahead);
    picture("table_edge", &play);
    let play = boxed(play, Hold::Both, false);
    let play = play.keys("<enter>");
    assert_verdict(&play, |verdict| verdict == Verdict::Right);
    assert!(told(&play).contains("The map lies as it should: its north points to true north."), "{}", told(&play));
    picture("table_right", &play);
}

#[test]
fn reversals_are_named_each_for_itself() {
    let play = true_line();
    let number = wanted(&play);
    let south = boxed(edge(dial(true_line(), number), LineName::True, Way::Ahead), Hold::Both, true).keys("<enter>");
    assert_fault(&south, Fault::NeedleReversed);
    is_mixup(&south, "south-end-boxed");
    picture("table_south_end", &south);
    // The border lies as it should: the norths alone show that the map is upside down.
    for (cols, rows) in [(80, 24), (120, 36)] {
        let text = south.text(cols, rows);
        for said in ["map's N", "N should be here", "180°"] {
            assert!(text.contains(said), "{said}: {text}");
        }
    }
    let back = boxed(edge(dial(true_line(), number), LineName::True, Way::Back), Hold::Both, false).keys("<enter>");
    assert_fault(&back, Fault::ArrowBack);
    is_mixup(&back, "arrow-back");
    let upside =
        boxed(edge(dial(true_line(), number + 180.0), LineName::True, Way::Ahead), Hold::Both, false).keys("<enter>");
    assert_fault(&upside, Fault::DialReversed);
    is_mixup(&upside, "dial-upside-down");
}

#[test]
fn from_the_lines_south_end_with_180_more_on_the_dial_is_right_and_told_why() {
    let play = true_line();
    let number = wanted(&play);
    let play = boxed(edge(dial(play, number + 180.0), LineName::True, Way::Back), Hold::Both, false).keys("<enter>");
    assert_verdict(&play, |verdict| verdict == Verdict::Right);
    assert!(told(&play).starts_with("Right, in another way: your travel arrow lay toward the line's south end"));
    assert!(
        told(&play).contains("the dial's N points the same way as with the arrow to its north end"),
        "{}",
        told(&play)
    );
    picture("table_other_end", &play);
}

#[test]
fn who_allows_for_the_drift_of_an_old_line_is_praised() {
    let play = at("orient-magnetic-line", 3, oriented_by(North::Magnetic));
    let exercise = &desk(&play).problem.exercise;
    let moved = (exercise.declination.angle() - exercise.printed.angle()).degrees();
    let play = boxed(edge(dial(play, -moved), LineName::Magnetic, Way::Ahead), Hold::Both, false).keys("<enter>");
    assert_verdict(&play, |verdict| verdict == Verdict::Right);
    assert!(told(&play).starts_with("Right, and better still: you allowed for how far the needle has moved"));
    assert!(told(&play).contains("The map lies as it should"), "{}", told(&play));
}

#[test]
fn the_wrong_number_is_told_beside_the_learners_own_with_all_else_that_was_done() {
    let play = true_line();
    let number = wanted(&play);
    let play = boxed(edge(dial(play, -number), LineName::True, Way::Ahead), Hold::Both, false).keys("<enter>");
    let paths = screen(&play).flow.told().unwrap().paths.clone().expect("both ways");
    let stood = (360.0 - number) % 360.0;
    assert!(paths.yours.starts_with(&format!("{stood:03} on the dial, arrow along the true-north line toward its")));
    assert!(paths.right.starts_with(&format!("{number:03} on the dial")), "{}", paths.right);
    picture("table_sign_flipped", &play);
    assert!(!play.text(80, 24).contains("more below"), "it fits:\n{}", play.text(80, 24));
}

#[test]
fn two_reversals_that_cancel_are_two_faults_and_no_plain_right() {
    let play = true_line();
    let number = wanted(&play);
    let play = boxed(edge(dial(play, number), LineName::True, Way::Back), Hold::Both, true).keys("<enter>");
    assert_fault(&play, Fault::NeedleReversed);
    assert_fault(&play, Fault::ArrowBack);
    assert!(told(&play).contains("two mistakes cancel"), "{}", told(&play));
}

#[test]
fn the_number_of_the_other_sign_is_named() {
    let play = true_line();
    let number = wanted(&play);
    let play = boxed(edge(dial(play, -number), LineName::True, Way::Ahead), Hold::Both, false).keys("<enter>");
    assert_fault(&play, Fault::SignFlipped);
    is_mixup(&play, "sign-flipped");
}

#[test]
fn the_declination_where_the_gm_angle_belongs_is_named() {
    let play = at("orient-grid", 3, |desk| {
        oriented_by(North::Grid)(desk) && desk.problem.exercise.convergence.angle().abs().degrees() >= 3.0
    });
    let declination = desk(&play).problem.exercise.declination.angle().degrees();
    let play = boxed(edge(dial(play, -declination), LineName::Grid, Way::Ahead), Hold::Both, false).keys("<enter>");
    assert_fault(&play, Fault::DeclinationForGma);
    is_mixup(&play, "declination-for-gma");
}

#[test]
fn an_edge_on_another_line_is_named_with_the_line() {
    for (skill, north, line) in [
        ("orient-magnetic-line", North::Magnetic, LineName::Border),
        ("orient-magnetic-line", North::Magnetic, LineName::Grid),
        ("orient-true-line", North::True, LineName::Magnetic),
        ("orient-grid", North::Grid, LineName::Magnetic),
    ] {
        let play = at(skill, 2, |desk| {
            let lines = &desk.problem.exercise.lines;
            let toward = |name| lines.toward(name).map(|toward| toward.angle());
            let (own, other) = (toward(LineName::of(north)), toward(line));
            oriented_by(north)(desk)
                && own.zip(other).is_some_and(|(own, other)| (own - other).wrapped_half().abs().degrees() > 6.0)
        });
        let number = wanted(&play);
        let play = boxed(edge(dial(play, number), line, Way::Ahead), Hold::Both, false).keys("<enter>");
        assert_fault(&play, Fault::WrongLine(line));
        is_mixup(&play, "wrong-line");
    }
}

#[test]
fn the_prong_of_the_diagram_is_no_line() {
    let play = at("orient-magnetic-line", 4, |desk| {
        oriented_by(North::Magnetic)(desk) && desk.problem.lines_to_lay_on().contains(&LineName::Prong)
    });
    let play = boxed(edge(dial(play, 0.0), LineName::Prong, Way::Ahead), Hold::Both, false).keys("<enter>");
    assert_fault(&play, Fault::WrongLine(LineName::Prong));
    is_mixup(&play, "diagram-prong");
}

#[test]
fn the_dial_turned_where_map_and_compass_should_be_is_named() {
    let play = boxed(edge(true_line(), LineName::True, Way::Ahead), Hold::Dial, false).keys("<enter>");
    assert_fault(&play, Fault::DialForMap);
    is_mixup(&play, "dial-for-map");
}

#[test]
fn a_compass_that_came_off_its_line_is_named() {
    let play = true_line();
    let number = wanted(&play);
    let play = boxed(edge(dial(play, number), LineName::True, Way::Ahead), Hold::Compass, false).keys("<enter>");
    assert_fault(&play, Fault::CompassOffLine);
}

#[test]
fn a_map_that_was_moved_after_it_was_oriented_is_named() {
    let play = true_line();
    let number = wanted(&play);
    let play = boxed(edge(dial(play, number), LineName::True, Way::Ahead), Hold::Both, false);
    let play = turn(hold(play, Hold::Map), 20.0).keys("<enter>");
    assert_verdict(&play, |verdict| verdict != Verdict::Right);
    assert!(told(&play).contains("The map lies 20° off, turned clockwise."), "{}", told(&play));
}

#[test]
fn right_work_with_an_old_line_or_iron_leaves_the_map_off_and_says_what_that_means() {
    let play = at("orient-magnetic-line", 3, |desk| oriented_by(North::Magnetic)(desk));
    let play = boxed(edge(dial(play, 0.0), LineName::Magnetic, Way::Ahead), Hold::Both, false).keys("<enter>");
    assert_verdict(&play, |verdict| verdict == Verdict::Right);
    assert!(told(&play).contains("Your work is right, and still the map lies"), "{}", told(&play));
    let play =
        at("orient-true-line", 4, |desk| oriented_by(North::True)(desk) && desk.problem.exercise.iron != Angle::ZERO);
    let number = wanted(&play);
    let play = boxed(edge(dial(play, number), LineName::True, Way::Ahead), Hold::Both, false).keys("<enter>");
    assert_verdict(&play, |verdict| verdict == Verdict::Right);
    assert!(told(&play).contains("iron nearby turns the needle"), "{}", told(&play));
    picture("table_iron", &play);
}

#[test]
fn after_wrong_work_the_showing_starts_where_it_ended_and_goes_forward_and_back() {
    let play = true_line();
    let number = wanted(&play);
    let play = boxed(edge(dial(play, -number), LineName::True, Way::Ahead), Hold::Both, false).keys("<enter>");
    let end = screen(&play).flow.told().unwrap().table.as_ref().unwrap().end;
    let play = play.keys("w");
    assert_eq!(*screen(&play).showing().unwrap().table(), needlewise::maptable::Table::clone(&end));
    let play = play.keys("<enter><enter>");
    picture("table_showing", &play);
    let play = play.keys("<left><left>");
    assert_eq!(screen(&play).showing().unwrap().at, 0);
    let mut play = play;
    while screen(&play).showing().is_some_and(|showing| showing.at < showing.steps.len()) {
        play.press("<enter>");
    }
    let shown = screen(&play).showing().unwrap();
    assert!(shown.table().map().angle().wrapped_half().abs().degrees() < 0.2, "the map lies right at its end");
    let play = play.keys("<enter>");
    assert_eq!(screen(&play).flow.asked().unwrap().number, 2, "Enter goes on to the next problem");
}

#[test]
fn why_it_is_so_stands_beside_the_verdict_or_is_a_key_away() {
    let play = true_line();
    let number = wanted(&play);
    let play = boxed(edge(dial(play, -number), LineName::True, Way::Ahead), Hold::Both, false).keys("<enter>");
    let caption = "why: the norths, and the line";
    assert!(play.text(120, 36).contains(caption), "{}", play.text(120, 36));
    let low = play.text(80, 24);
    assert!(!low.contains(caption) && low.lines().last().unwrap().contains("n norths"), "{low}");
    let play = play.keys("n");
    let norths = play.text(80, 24);
    let right = format!("{number:03.0}");
    assert!(norths.contains(caption) && norths.contains("MN") && norths.contains(&right), "{norths}");
    assert!(norths.contains("you "), "the learner's own number stands there, too: {norths}");
    picture("table_norths", &play);
    assert!(!play.keys("n").text(80, 24).contains(caption), "and the map again");
}

#[test]
fn the_moves_are_stored_with_the_attempt() {
    let play = true_line();
    let number = wanted(&play);
    let play = boxed(edge(dial(play, number), LineName::True, Way::Ahead), Hold::Both, false).keys("<enter>");
    let store = play.store();
    let learner = store.learner_by_name("Ana").unwrap().unwrap();
    let attempts = store.attempts(learner.id, "orient-true-line", 5).unwrap();
    let moves: Moves = attempts[0].what.moves.as_deref().expect("moves").parse().expect("they can be read back");
    let asked = screen(&play).flow.asked().unwrap();
    let again = asked.table.as_ref().unwrap().judge(&asked.problem, &moves.0);
    assert_eq!(again.judgement.verdict, Verdict::Right);
    assert!(attempts[0].what.moves.as_ref().unwrap().len() < 200, "moves are small: {:?}", attempts[0].what.moves);
}

#[test]
fn the_needle_swings_only_after_something_turned_and_comes_to_rest() {
    let mut play = at_from(|| Play::new().moving(), "orient-true-line", 2, oriented_by(North::True));
    assert!(!play.model.screen.moves_by_itself(), "nothing moves at first");
    play.press("<right>");
    assert!(!play.model.screen.moves_by_itself(), "turning the dial leaves the needle alone");
    play = hold(play, Hold::Both).keys("<down>");
    assert!(play.model.screen.moves_by_itself());
    assert_ne!(desk(&play).moving.pose().needle, desk(&play).problem.exercise.needle());
    let later: Timestamp = "2027-01-01T00:00:00Z".parse().unwrap();
    update(&mut play.model, Msg::Tick(later));
    assert!(!play.model.screen.moves_by_itself());
    assert_eq!(desk(&play).moving.pose().needle, desk(&play).problem.exercise.needle());
}

#[test]
fn with_still_the_needle_never_swings() {
    let mut play = Play::new().skill("baseplate-bearing", 2);
    play.model.shared.still = true;
    let mut play = play.keys("Ana<enter><enter>");
    while screen(&play).showing().is_some() {
        play.press("<enter>");
    }
    let play = hold(play, Hold::Compass).keys("<down><down>");
    assert!(!play.model.screen.moves_by_itself());
}

#[test]
fn the_mouse_turns_what_it_grabs() {
    let mut play = true_line();
    play.text(80, 24);
    let needlewise::tui::screens::table_looks::Looks { map: sheet, compass } = desk(&play).panels.get();
    let (middle_x, middle_y) = (compass.x + compass.width / 2, compass.y + compass.height / 2);
    let mouse = |play: &mut Play, kind, column, row| {
        let event = MouseEvent { kind, column, row, modifiers: KeyModifiers::NONE };
        update(&mut play.model, Msg::Mouse(event, "2026-11-25T18:00:00Z".parse().unwrap()));
    };
    let (map, dial) = (desk(&play).now.map(), desk(&play).now.dial());
    mouse(&mut play, MouseEventKind::Down(MouseButton::Left), middle_x, middle_y - 4);
    mouse(&mut play, MouseEventKind::Drag(MouseButton::Left), middle_x + 8, middle_y);
    mouse(&mut play, MouseEventKind::Up(MouseButton::Left), middle_x + 8, middle_y);
    assert_ne!(desk(&play).now.dial(), dial, "the dial was dragged");
    assert_eq!(desk(&play).now.map(), map);
    assert_eq!(desk(&play).held, Hold::Dial);
    mouse(&mut play, MouseEventKind::Down(MouseButton::Left), sheet.x + 1, sheet.y + 1);
    mouse(&mut play, MouseEventKind::Drag(MouseButton::Left), sheet.x + 1, sheet.bottom() - 2);
    assert_ne!(desk(&play).now.map(), map, "the map was dragged");
    assert_eq!(desk(&play).held, Hold::Map);
}

#[test]
fn nothing_is_recorded_for_a_table_that_was_not_touched() {
    let play = true_line().keys("<enter>");
    assert!(play.text(80, 24).contains("Nothing was recorded."));
    assert!(screen(&play).flow.told().is_none());
    let play = true_line().keys("361<enter>");
    assert!(play.text(80, 24).contains("The dial goes from 0 to 360."));
}

#[test]
fn the_table_is_readable_in_each_theme() {
    let play = true_line();
    let number = wanted(&play);
    readable_in_each_theme(edge(dial(play, number), LineName::True, Way::Ahead));
}
