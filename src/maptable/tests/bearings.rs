//! Bearings off the map, by the needle and by the map's lines.

use super::*;

fn oriented(ground: Ground, lies: f64, legs: &[(char, char)]) -> Hands {
    let legs = legs.iter().map(|(from, to)| leg(*from, *to)).collect();
    Hands::at(ground.exercise(Task::OrientedBearing { legs, lies: azimuth(lies), bearing_asked: false }))
}

fn by_needle() -> Hands {
    oriented(GROUND, 0.0, &[('P', 'Q')])
}

fn by_lines(north: North) -> Hands {
    Hands::at(GROUND.exercise(Task::MapBearing { leg: leg('P', 'Q'), north }))
}

fn readings(judged: &TableJudgement) -> Vec<(f64, f64)> {
    match &judged.state {
        StateVerdict::Readings(readings) => {
            readings.iter().map(|reading| (reading.said.unwrap().degrees(), reading.ideal.degrees())).collect()
        }
        _ => panic!("not a task with readings"),
    }
}

#[test]
fn the_needle_on_an_oriented_map_gives_the_magnetic_bearing() {
    // The model's row: R = T + map − D − iron; with the map off by the iron exactly T − D. P to Q is 60 true, D 17 W: 77.
    let judged = by_needle().leg('P', 'Q').box_by(Hold::Dial).read_dial().is_right();
    assert_eq!(readings(&judged), [(77.0, 77.0)]);
    let iron = Ground { iron: 4.0, ..GROUND };
    let judged = oriented(iron, 4.0, &[('P', 'Q')]).leg('P', 'Q').box_by(Hold::Dial).read_dial().is_right();
    assert_eq!(readings(&judged), [(77.0, 77.0)]);
    assert_eq!(
        judged.meaning.unwrap(),
        "Iron nearby turns the needle 4° clockwise. The map lies 4° off, turned clockwise. Here the map was oriented \
         beside it, so needle and map are off by the same and the bearing comes out right. Do not build on that: a knife or a \
         buckle turns the needle otherwise a hand's breadth on. Step away from it and look again."
    );
}

#[test]
fn a_dated_map_brings_its_error_into_every_bearing_and_says_so() {
    let ground = Ground { declination: -9.0, printed: -12.0, ..GROUND };
    let judged = oriented(ground, 3.0, &[('P', 'Q')]).leg('P', 'Q').box_by(Hold::Dial).read_dial().is_right();
    assert_eq!(readings(&judged), [(72.0, 69.0)]);
    assert_eq!(
        judged.meaning.unwrap(),
        "The map lies 3° off, turned clockwise. So the dial shows 072 for P to Q, where the bearing is 069° M: each \
         number comes out 3° too large."
    );
}

#[test]
fn three_legs_are_taken_one_after_the_other() {
    let mut hands = oriented(GROUND, 0.0, &[('P', 'Q'), ('Q', 'S'), ('S', 'P')]);
    for (from, to) in [('P', 'Q'), ('Q', 'S'), ('S', 'P')] {
        hands = hands.leg(from, to).box_by(Hold::Dial).read_dial();
    }
    let judged = hands.is_right();
    assert_eq!(readings(&judged), [(77.0, 77.0), (187.0, 187.0), (307.0, 307.0)]);
    assert_eq!(
        judged.state.words(),
        "P to Q: 077, which is right. Q to S: 187, which is right. S to P: 307, which is right."
    );
}

#[test]
fn the_last_number_may_be_left_to_the_dial_and_others_may_not() {
    by_needle().leg('P', 'Q').box_by(Hold::Dial).up().is_right();
    let two = oriented(GROUND, 0.0, &[('P', 'Q'), ('Q', 'S')]).leg('P', 'Q').box_by(Hold::Dial).up();
    two.finds(&[Fault::NotRead]);
}

#[test]
fn the_arrow_back_and_the_needle_reversed_each_turn_the_number_and_both_hide_it() {
    let back = |hands: Hands| hands.edge_back(LineName::Leg(leg('P', 'Q')));
    let judged = back(by_needle()).box_by(Hold::Dial).read_dial().finds(&[Fault::ArrowBack]);
    assert_eq!(judged.state.words(), "P to Q: 257, 180° off, the opposite way: 077 is right.");
    by_needle().leg('P', 'Q').box_south_by(Hold::Dial).read_dial().finds(&[Fault::NeedleReversed]);
    by_needle().leg('Q', 'P').box_by(Hold::Dial).read_dial().finds(&[Fault::ArrowBack]);
    let judged = back(by_needle()).box_south_by(Hold::Dial).read_dial();
    let judged = judged.finds(&[Fault::ArrowBack, Fault::NeedleReversed]);
    assert!(judged.cancelled() && judged.state.right());
}

#[test]
fn a_number_corrected_again_or_read_elsewhere_is_named() {
    let boxed = || by_needle().leg('P', 'Q').box_by(Hold::Dial).up();
    boxed().read(94.0).finds(&[Fault::CorrectedAgain]);
    boxed().read(60.0).finds(&[Fault::CorrectedAgain]);
    boxed().read(0.0).finds(&[Fault::ReadAtNeedle]);
    boxed().read(257.0).finds(&[Fault::ReadOpposite]);
    boxed().read(82.0).finds(&[Fault::Misread]);
    boxed().dial(100.0).read(100.0).finds(&[Fault::DialMoved]);
    boxed().read(78.0).is_right();
}

#[test]
fn the_maps_lines_where_the_needle_should_be_used() {
    by_needle().leg('P', 'Q').dial_n_to(0.0).read_dial().finds(&[Fault::LinesForNeedle]);
    by_needle().leg('P', 'Q').dial_n_to(2.5).read_dial().finds(&[Fault::LinesForNeedle]);
    by_needle().leg('P', 'Q').dial_n_to(180.0).read_dial().finds(&[Fault::LinesForNeedle, Fault::DialReversed]);
}

#[test]
fn the_map_turned_where_the_dial_should_be_or_moved_at_all() {
    by_needle().leg('P', 'Q').box_by(Hold::Both).read_dial().finds(&[Fault::MapForDial]);
    by_needle().turn(Hold::Map, 5.0).leg('P', 'Q').box_by(Hold::Dial).read_dial().finds(&[Fault::MapMoved]);
}

#[test]
fn another_leg_another_line_no_line_or_a_slipped_compass() {
    let other = LineName::Leg(leg('Q', 'S'));
    by_needle().leg('Q', 'S').box_by(Hold::Dial).read_dial().finds(&[Fault::WrongLine(other)]);
    by_needle().edge(LineName::Grid).box_by(Hold::Dial).read_dial().finds(&[Fault::WrongLine(LineName::Grid)]);
    by_needle().box_by(Hold::Dial).read_dial().finds(&[Fault::EdgeOffLine]);
    by_needle().leg('P', 'Q').box_by(Hold::Compass).read_dial().finds(&[Fault::CompassOffLine]);
    by_needle().leg('P', 'Q').read_dial().finds(&[Fault::NotBoxed]);
}

#[test]
fn by_the_maps_lines_the_bearing_counts_from_the_lines_used_whichever_way_the_map_lies() {
    // The model's row: R is the true, grid or magnetic bearing after the lines used; needle and map's lie play no part.
    for (north, number) in [(North::True, 60.0), (North::Grid, 57.5), (North::Magnetic, 77.0)] {
        for lie in [0.0, 40.0, 200.0] {
            let mut hands = by_lines(north);
            hands.exercise.start = Table::new(azimuth(lie), azimuth(100.0), angle(200.0));
            let hands = Hands::at(hands.exercise);
            let along = hands.exercise.drawn(north).degrees();
            let judged = hands.leg('P', 'Q').dial_n_to(along).read_dial().is_right();
            assert_eq!(readings(&judged), [(number, number)]);
        }
    }
}

#[test]
fn reversals_by_the_maps_lines_are_found_each_and_both() {
    let back = || by_lines(North::Grid).edge_back(LineName::Leg(leg('P', 'Q')));
    back().dial_n_to(2.5).read_dial().finds(&[Fault::ArrowBack]);
    by_lines(North::Grid).leg('P', 'Q').dial_n_to(182.5).read_dial().finds(&[Fault::DialReversed]);
    let judged = back().dial_n_to(182.5).read_dial().finds(&[Fault::ArrowBack, Fault::DialReversed]);
    assert!(judged.cancelled());
    assert_eq!(readings(&judged), [(57.5, 57.5)]);
}

#[test]
fn the_needle_where_the_maps_lines_should_be_used() {
    let boxed = by_lines(North::Grid).leg('P', 'Q').box_by(Hold::Dial).read_dial();
    boxed.finds(&[Fault::NeedleForLines]);
    let south = by_lines(North::Grid).leg('P', 'Q').box_south_by(Hold::Dial).read_dial();
    south.finds(&[Fault::NeedleForLines, Fault::NeedleReversed]);
}

#[test]
fn other_lines_of_the_map_are_named() {
    by_lines(North::Grid).leg('P', 'Q').dial_n_to(92.5).read_dial().finds(&[Fault::QuarterTurn]);
    let hands = by_lines(North::Grid).leg('P', 'Q');
    // The true-north line lies 2.5° beside the grid's: too near to be told from a slip.
    hands.clone().dial_n_to(0.0).read_dial().finds(&[Fault::LinesOff]);
    hands.clone().dial_n_to(-17.0).read_dial().finds(&[Fault::WrongLine(LineName::Magnetic)]);
    hands.clone().dial_n_to(-30.0).read_dial().finds(&[Fault::WrongLine(LineName::Prong)]);
    hands.dial_n_to(60.0).read_dial().finds(&[Fault::LinesOff]);
}

#[test]
fn the_map_turned_to_the_dial_is_found() {
    // The map is turned under the compass until its lines run along those of the dial.
    let hands = by_lines(North::Grid).leg('P', 'Q');
    let by = (hands.seen().dial_from_map - angle(2.5)).degrees();
    hands.turn(Hold::Map, by).read_dial().finds(&[Fault::MapForDial]);
    // To turn map and compass first is no fault.
    by_lines(North::Grid).leg('P', 'Q').turn(Hold::Both, 30.0).dial_n_to(2.5).read_dial().is_right();
}

#[test]
fn the_number_by_the_maps_lines_is_not_corrected_and_not_read_at_the_needle() {
    let hands = || by_lines(North::Grid).leg('P', 'Q').dial_n_to(2.5).up();
    hands().read(57.5 + 19.5).finds(&[Fault::CorrectedAgain]);
    let at_needle = hands().seen().needle_on_dial.degrees();
    hands().read(at_needle).finds(&[Fault::ReadAtNeedle]);
}

#[test]
fn the_dials_lines_are_told_from_the_lines_of_the_map() {
    let told = |hands: Hands| describe_lines(&hands.seen(), North::Grid, hands.exercise.drawn(North::Grid));
    let hands = by_lines(North::Grid).leg('P', 'Q');
    let off = told(hands.clone().dial_n_to(37.5));
    assert_eq!(off, "The dial's N points 35° clockwise of the north of the map's north-south grid lines.");
    let on = told(hands.dial_n_to(2.5));
    assert_eq!(on, "The dial's N points along the map's north-south grid lines to their north.");
}

/// C7-4-102: an old line drawn for 15° W, today 8° W, so the map lies 7° clockwise; P to Q runs 26° from its true north.
fn on_an_old_line() -> Hands {
    let lines = MapLines::norths(Declination::from_degrees(-15.0), Convergence::from_degrees(-4.0));
    let lines = lines.with(MapLine::new(LineName::Leg(leg('P', 'Q')), azimuth(26.0))).unwrap();
    let task = Task::OrientedBearing { legs: vec![leg('P', 'Q')], lies: azimuth(7.0), bearing_asked: true };
    let ground = Ground { declination: -8.0, printed: -15.0, convergence: -4.0, iron: 0.0 };
    Hands::at(Exercise { lines, ..ground.exercise(task) })
}

impl Hands {
    fn bearing(self, number: f64) -> Hands {
        self.make(Move::Bearing(angle(number)))
    }
}

#[test]
fn on_a_map_that_lies_off_the_dial_shows_one_number_and_the_bearing_is_another() {
    let boxed = || on_an_old_line().leg('P', 'Q').box_by(Hold::Dial).read_dial();
    let judged = boxed().bearing(34.0).is_right();
    assert_eq!(judged.state.words(), "P to Q: 041, which is right. Magnetic bearing: 034, which is right.");
    boxed().bearing(41.0).finds(&[Fault::LieUnseen]);
    boxed().bearing(48.0).finds(&[Fault::LieOtherWay]);
    boxed().bearing(26.0).finds(&[Fault::LinesForNeedle]);
    boxed().bearing(120.0).finds(&[Fault::BearingOff]);
    boxed().finds(&[Fault::NotRead]);
    let back = on_an_old_line().edge_back(LineName::Leg(leg('P', 'Q'))).box_by(Hold::Dial).read_dial();
    back.bearing(214.0).finds(&[Fault::ArrowBack]);
}

#[test]
fn who_knows_the_magnetic_bearing_is_never_wrong() {
    // The map turned right before the bearing is taken; the needle held beside the arrow; the sum done in the head.
    let turned = on_an_old_line().turn(Hold::Map, -7.0).leg('P', 'Q').box_by(Hold::Dial).read_dial();
    turned.bearing(34.0).is_right();
    on_an_old_line().leg('P', 'Q').dial(34.0).read_dial().bearing(34.0).is_right();
    on_an_old_line().leg('P', 'Q').box_by(Hold::Dial).up().read(34.0).bearing(34.0).is_right();
    // But another number is no bearing.
    on_an_old_line().leg('P', 'Q').dial(34.0).read_dial().bearing(60.0).finds(&[Fault::BearingOff]);
}

#[test]
fn by_the_lines_that_are_drawn_the_bearing_counts_from_the_grid() {
    // C7-3-3: P to Q 93° from true north, grid lines 4° W, declination 11° W.
    let task = Task::OrientedBearing { legs: vec![leg('P', 'Q')], lies: azimuth(0.0), bearing_asked: false };
    let ground = Ground { declination: -11.0, printed: -11.0, convergence: -4.0, iron: 0.0 };
    let lines = MapLines::norths(Declination::from_degrees(-11.0), Convergence::from_degrees(-4.0));
    let lines = lines.with(MapLine::new(LineName::Leg(leg('P', 'Q')), azimuth(93.0))).unwrap();
    let exercise = Exercise { lines, ..ground.exercise(task) };
    let wrong = wrong_readings(&exercise, leg('P', 'Q'));
    assert!(wrong.contains(&(Fault::LinesForNeedle, angle(97.0))), "{wrong:?}");
}

#[test]
fn lines_that_are_missed_by_a_little_are_no_other_lines() {
    // C4-2-651220: grid lines 3° E; the border lies 3° beside them, and a dial that stops there was meant for the grid.
    let ground = Ground { declination: 8.0, printed: 8.0, convergence: 3.0, iron: 0.0 };
    let task = Task::MapBearing { leg: leg('P', 'Q'), north: North::Grid };
    let stopped = |at| Hands::at(ground.exercise(task.clone())).leg('P', 'Q').dial_n_to(at).read_dial();
    stopped(0.0).finds(&[Fault::LinesOff]);
    stopped(6.0).finds(&[Fault::LinesOff]);
    stopped(8.0).finds(&[Fault::WrongLine(LineName::Magnetic)]);
    stopped(2.0).is_right();
}
