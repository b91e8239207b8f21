//! Bearings at the map table by keys: by the map's lines, by the needle, followed, and looked back along.

use super::play::Play;
use super::table::{assert_fault, at, boxed, desk, dial, edge, hold, is_mixup, turn, wanted};
use super::{assert_verdict, picture};
use needlewise::angle::Angle;
use needlewise::maptable::{Fault, Hold, LineName, Task, Way, see};
use needlewise::problem::Verdict;

fn leg(play: &Play) -> LineName {
    LineName::Leg(desk(play).problem.exercise.legs()[desk(play).read])
}

/// Turns the dial until its lines run along the map's lines.
fn along_the_lines(play: Play, off: f64) -> Play {
    let exercise = &desk(&play).problem.exercise;
    let Task::MapBearing { north, .. } = exercise.task else { panic!("another task") };
    let seen = see(&desk(&play).now, &exercise.site(), &exercise.lines);
    let by = (exercise.drawn(north) - seen.dial_from_map).wrapped_half().degrees() + off;
    turn(hold(play, Hold::Dial), by)
}

fn read(play: Play, change: f64) -> Play {
    let number = (desk(&play).now.dial().degrees() + change).rem_euclid(360.0).round().rem_euclid(360.0);
    play.keys(&format!("<enter>{number}<enter>"))
}

fn by_the_lines() -> Play {
    at("baseplate-bearing", 2, |_| true)
}

#[test]
fn a_bearing_by_the_lines_is_read_with_the_compass_in_the_hand() {
    let play = by_the_lines();
    let line = leg(&play);
    let play = along_the_lines(edge(play, line, Way::Ahead), 0.0);
    picture("table_lines", &play);
    let play = play.keys("<enter>");
    picture("table_reading", &play);
    let number = desk(&play).now.dial().degrees().round();
    let play = play.keys(&format!("{number}<enter>"));
    assert_verdict(&play, |verdict| verdict == Verdict::Right);
}

#[test]
fn errors_of_a_bearing_by_the_lines_are_named() {
    let line = leg(&by_the_lines());
    let back = read(along_the_lines(edge(by_the_lines(), line, Way::Back), 0.0), 0.0);
    assert_fault(&back, Fault::ArrowBack);
    is_mixup(&back, "arrow-back");
    let south = read(along_the_lines(edge(by_the_lines(), line, Way::Ahead), 180.0), 0.0);
    assert_fault(&south, Fault::DialReversed);
    is_mixup(&south, "dial-upside-down");
    let quarter = read(along_the_lines(edge(by_the_lines(), line, Way::Ahead), 90.0), 0.0);
    assert_fault(&quarter, Fault::QuarterTurn);
    let needle = read(boxed(edge(by_the_lines(), line, Way::Ahead), Hold::Dial, false), 0.0);
    assert_fault(&needle, Fault::NeedleForLines);
    is_mixup(&needle, "needle-for-lines");
    let cancelled = read(along_the_lines(edge(by_the_lines(), line, Way::Back), 180.0), 0.0);
    assert_fault(&cancelled, Fault::ArrowBack);
    assert_fault(&cancelled, Fault::DialReversed);
    let declination = desk(&by_the_lines()).problem.exercise.declination.angle().degrees();
    let corrected = read(along_the_lines(edge(by_the_lines(), line, Way::Ahead), 0.0), declination);
    assert_fault(&corrected, Fault::CorrectedAgain);
    is_mixup(&corrected, "corrected-again");
}

#[test]
fn a_map_turned_where_the_dial_should_be_is_named() {
    let play = by_the_lines();
    let line = leg(&play);
    let play = edge(play, line, Way::Ahead);
    let exercise = &desk(&play).problem.exercise;
    let Task::MapBearing { north, .. } = exercise.task else { panic!("another task") };
    let seen = see(&desk(&play).now, &exercise.site(), &exercise.lines);
    let by = (seen.dial_from_map - exercise.drawn(north)).wrapped_half().degrees();
    let play = read(turn(hold(play, Hold::Map), by), 0.0);
    assert_fault(&play, Fault::MapForDial);
    is_mixup(&play, "map-for-dial");
}

fn by_the_needle() -> Play {
    // A reading near the declination or its opposite would make "read at the needle" one of two explanations.
    at("oriented-bearing", 1, |desk| {
        let exercise = &desk.problem.exercise;
        let reading = exercise.reading(exercise.legs()[0]).expect("a number");
        reading.wrapped_half().abs() > Angle::from_degrees(40.0)
    })
}

#[test]
fn bearings_by_the_needle_are_right_as_read_leg_by_leg() {
    let mut play = at("oriented-bearing", 3, |_| true);
    for _ in 0..3 {
        let line = leg(&play);
        play = read(boxed(edge(play, line, Way::Ahead), Hold::Dial, false), 0.0);
    }
    assert_verdict(&play, |verdict| verdict == Verdict::Right);
}

#[test]
fn errors_of_a_bearing_by_the_needle_are_named() {
    let line = leg(&by_the_needle());
    let south = read(boxed(edge(by_the_needle(), line, Way::Ahead), Hold::Dial, true), 0.0);
    assert_fault(&south, Fault::NeedleReversed);
    is_mixup(&south, "south-end-boxed");
    let play = edge(by_the_needle(), line, Way::Ahead);
    let exercise = &desk(&play).problem.exercise;
    let seen = see(&desk(&play).now, &exercise.site(), &exercise.lines);
    let by = (-seen.dial_from_map).wrapped_half().degrees();
    let lines = read(turn(hold(play, Hold::Dial), by), 0.0);
    assert_fault(&lines, Fault::LinesForNeedle);
    is_mixup(&lines, "lines-for-needle");
    let at_needle = {
        let play = boxed(edge(by_the_needle(), line, Way::Ahead), Hold::Dial, false);
        let exercise = &desk(&play).problem.exercise;
        let shown = see(&desk(&play).now, &exercise.site(), &exercise.lines).needle_on_dial;
        play.keys(&format!("<enter>{}<enter>", shown.degrees().round().rem_euclid(360.0)))
    };
    assert_fault(&at_needle, Fault::ReadAtNeedle);
    is_mixup(&at_needle, "read-at-needle");
    let play = edge(by_the_needle(), line, Way::Ahead);
    let moved = read(boxed(play, Hold::Both, false), 0.0);
    assert_fault(&moved, Fault::MapForDial);
}

#[test]
fn a_bearing_is_followed_and_what_lies_ahead_is_chosen() {
    let play = at("follow-bearing", 2, |_| true);
    let number = wanted(&play);
    let play = boxed(dial(play, number), Hold::Oneself, false);
    picture("table_follow", &play);
    let exercise = &desk(&play).problem.exercise;
    let ahead = exercise.landmark_near(desk(&play).now.baseplate()).expect("something lies ahead");
    let play = play.keys(&format!("<enter>{}", ahead + 1));
    picture("table_ahead", &play);
    let play = play.keys("<enter>");
    assert_verdict(&play, |verdict| verdict == Verdict::Right);

    let play = at("follow-bearing", 2, |_| true);
    let number = wanted(&play);
    let play = boxed(dial(play, number), Hold::Oneself, true);
    let behind = desk(&play).problem.exercise.landmark_near(desk(&play).now.baseplate());
    let play = play.keys(&format!("<enter>{}<enter>", behind.map_or(1, |mark| mark + 1)));
    assert_fault(&play, Fault::NeedleReversed);

    let play = boxed(at("follow-bearing", 2, |_| true), Hold::Dial, false).keys("<enter>1<enter>");
    assert_fault(&play, Fault::DialForSelf);
}

#[test]
fn a_map_is_laid_by_what_stands_around() {
    for level in [1, 4] {
        let play = at("orient-landmarks", level, |_| true);
        picture(&format!("table_around_{level}"), &play);
        let by = -desk(&play).now.map().angle().wrapped_half().degrees();
        let laid = turn(play, by + 6.0);
        picture(&format!("table_around_{level}_laid"), &laid);
        assert_verdict(&laid.keys("<enter>"), |verdict| verdict == Verdict::Right);
        let upside = turn(at("orient-landmarks", level, |_| true), by + 180.0).keys("<enter>");
        is_mixup(&upside, "map-upside-down");
        if level == 4 {
            picture("table_around_upside_down", &upside);
        }
    }
}

#[test]
fn a_bearing_is_taken_of_what_is_in_view() {
    let aimed = |level: u8| {
        let play = at("take-bearing", level, |_| true);
        let sighting = desk(&play).problem.exercise.sighting().expect("a sighting").clone();
        let by = desk(&play).now.baseplate().turn_to(sighting.target().expect("a mark").azimuth);
        let turned = boxed(turn(hold(play, Hold::Oneself), by.degrees()), Hold::Dial, false);
        let read = desk(&turned).now.dial().degrees().round().rem_euclid(360.0);
        (turned, read, sighting)
    };
    let (play, read, _) = aimed(2);
    picture("table_take", &play);
    let play = play.keys(&format!("<enter>{read}"));
    picture("table_take_read", &play);
    let play = play.keys("<enter>");
    picture("table_take_told", &play);
    assert_verdict(&play, |verdict| verdict == Verdict::Right);

    let (play, read, _) = aimed(4);
    let opposite = (read + 180.0).rem_euclid(360.0);
    let play = play.keys(&format!("<enter>{opposite}<enter>"));
    picture("table_take_trust", &play);
    assert_fault(&play.keys("1<enter>"), Fault::ReadOpposite);

    let (play, read, sighting) = aimed(3);
    let between = desk(&play).problem.exercise.magnetic_from(sighting.north).degrees();
    let flipped = (read - between).rem_euclid(360.0);
    let play = play.keys(&format!("<enter>{read}<enter>{flipped}<enter>"));
    is_mixup(&play, "sign-flipped");

    // Esc goes back from the number to the compass, and nothing is lost.
    let (play, read, _) = aimed(1);
    let play = play.keys("<enter><esc>").keys(&format!("<enter>{read}<enter>"));
    assert_verdict(&play, |verdict| verdict == Verdict::Right);
}

#[test]
fn a_look_back_says_where_one_stands() {
    let play = at("back-sight", 1, |_| true);
    let play = boxed(play, Hold::Oneself, true);
    picture("table_back_sight", &play);
    let exercise = &desk(&play).problem.exercise;
    let Task::BackSight { start_mark, .. } = exercise.task else { panic!("another task") };
    let off = desk(&play).now.baseplate().turn_to(start_mark).degrees();
    let stands = if off > 2.0 {
        3
    } else if off < -2.0 {
        1
    } else {
        2
    };
    let right = play.keys(&format!("<enter>{stands}<enter>"));
    assert_verdict(&right, |verdict| verdict == Verdict::Right);
    let forward = boxed(at("back-sight", 1, |_| true), Hold::Oneself, false).keys("<enter>1<enter>");
    assert_fault(&forward, Fault::NotReversed);
}
