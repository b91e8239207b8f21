//! Orienting the map: the rows of the model, and every error of the hands.

use super::*;
use proptest::prelude::*;

/// The right work by a line of this north.
fn worked(ground: Ground, north: North) -> Hands {
    let hands = ground.orient(north);
    let dial = hands.exercise.wanted_dial().unwrap().degrees();
    hands.dial(dial).edge(LineName::of(north)).box_by(Hold::Both)
}

#[test]
fn by_a_magnetic_line_a_map_of_today_comes_to_lie_right() {
    let judged = worked(GROUND, North::Magnetic).up().is_right();
    assert_eq!((map_off(&judged), judged.meaning), (0.0, None));
    assert_eq!(judged.state.words(), "The map lies as it should: its north points to true north.");
}

#[test]
fn by_a_magnetic_line_a_dated_map_lies_off_although_the_work_is_right() {
    // The model's row: the map ends at today's declination and iron less the printed declination.
    let judged = worked(Ground { declination: -9.0, printed: -12.0, ..GROUND }, North::Magnetic).is_right();
    assert_eq!(map_off(&judged), 3.0);
    assert_eq!(
        judged.meaning.unwrap(),
        "Your work is right, and still the map lies 3° off, turned clockwise: the line was drawn for 12° W, and today it \
         is 9° W. 357 on the dial would allow for it."
    );
    let judged = worked(Ground { declination: -9.0, printed: -12.0, iron: -5.0, ..GROUND }, North::Magnetic).is_right();
    assert_eq!(map_off(&judged), -2.0);
}

#[test]
fn the_numbers_for_true_and_grid_lines_are_those_of_the_trade() {
    // Outside checks CV061 to CV065 (identities): D 14 E 346; D 9 W 9; D 14 E with g 1.5 E 347.5; D 2 W with g 2.5 W
    // 359.5; a magnetic-north line 0.
    for (north, declination, convergence, dial) in [
        (North::True, 14.0, 0.0, 346.0),
        (North::True, -9.0, 0.0, 9.0),
        (North::Grid, 14.0, 1.5, 347.5),
        (North::Grid, -2.0, -2.5, 359.5),
        (North::Magnetic, 14.0, 1.5, 0.0),
    ] {
        let hands = worked(Ground { declination, printed: declination, convergence, iron: 0.0 }, north);
        assert_eq!(hands.exercise.wanted_dial(), Some(angle(dial)));
        assert!(map_off(&hands.is_right()).abs() < 1e-9);
    }
}

#[test]
fn iron_leaves_the_map_off_by_itself_and_the_work_is_right() {
    for north in [North::True, North::Grid] {
        let judged = worked(Ground { iron: 4.0, ..GROUND }, north).is_right();
        assert!((map_off(&judged) - 4.0).abs() < 1e-9);
        assert_eq!(
            judged.meaning.unwrap(),
            "Your work is right, and still the map lies 4° off, turned clockwise: iron nearby turns the needle 4° \
             clockwise, and the map goes with it. Look at something in view that is on the map, too: if it does not fit, \
             step away from the iron and orient again."
        );
    }
}

#[test]
fn a_needle_reversed_in_the_arrow_turns_the_map_upside_down() {
    let judged = GROUND.orient(North::True).dial(17.0).edge(LineName::True).box_south_by(Hold::Both);
    assert_eq!(map_off(&judged.finds(&[Fault::NeedleReversed])).abs(), 180.0);
}

#[test]
fn a_travel_arrow_back_along_the_line_is_found() {
    let judged = GROUND.orient(North::True).dial(17.0).edge_back(LineName::True).box_by(Hold::Both);
    assert_eq!(map_off(&judged.finds(&[Fault::ArrowBack])).abs(), 180.0);
}

#[test]
fn the_opposite_number_puts_the_dials_north_to_the_south_of_the_map() {
    GROUND.orient(North::True).dial(197.0).edge(LineName::True).box_by(Hold::Both).finds(&[Fault::DialReversed]);
}

#[test]
fn two_reversals_that_cancel_are_two_faults_although_the_map_lies_right() {
    let hands = GROUND.orient(North::True).dial(17.0).edge_back(LineName::True).box_south_by(Hold::Both);
    let judged = hands.finds(&[Fault::ArrowBack, Fault::NeedleReversed]);
    assert_eq!(map_off(&judged), 0.0);
    assert!(judged.state.right() && judged.cancelled());
    assert_eq!(judged.headline(&hands.exercise.task), "It came out right only because two mistakes cancel.");
    let hands = GROUND.orient(North::True).dial(197.0).edge(LineName::True).box_south_by(Hold::Both);
    assert!(hands.finds(&[Fault::DialReversed, Fault::NeedleReversed]).cancelled());
}

#[test]
fn from_the_lines_south_end_180_more_on_the_dial_is_right() {
    // The dial counts for the travel arrow (D2-2-1-5 in words), so its N still lies to the north of the map.
    let back = |north: North, dial: f64| GROUND.orient(north).dial(dial).edge_back(LineName::of(north));
    for (north, dial) in [(North::True, 197.0), (North::Grid, 199.5), (North::Magnetic, 180.0)] {
        let judged = back(north, dial).box_by(Hold::Both).is_right();
        assert!(map_off(&judged).abs() < 1e-9, "{north:?}");
        // With the south end the map lies upside down: one mistake, not three.
        back(north, dial).box_south_by(Hold::Both).finds(&[Fault::NeedleReversed]);
    }
    // A mistake from there is the one mistake that it is from the north end.
    back(North::True, 163.0).box_by(Hold::Both).finds(&[Fault::SignFlipped]);
    back(North::True, 180.0).box_by(Hold::Both).finds(&[Fault::NotApplied]);
    let told = back(North::True, 163.0).box_by(Hold::Both).judged().told.join(" ");
    assert!(told.ends_with("so 197 belongs there: 180 + 17."), "{told}");
    // A number that only happens to stand there is none, and a grid line keeps its own.
    back(North::True, 120.0).box_by(Hold::Both).finds(&[Fault::ArrowBack, Fault::DialOff]);
    let grid = GROUND.orient(North::True).dial(199.5).edge_back(LineName::Grid).box_by(Hold::Both);
    assert!(grid.finds(&[Fault::WrongLine(LineName::Grid)]).state.right());
    // And by the second method: the needle held beside the arrow.
    let laid = back(North::True, 180.0);
    let by = (laid.seen().needle_on_dial - angle(343.0)).wrapped_half();
    assert_eq!(map_off(&laid.make(Move::TurnBoth(by)).is_right()), 0.0);
}

#[test]
fn the_numbers_of_the_wrong_formulas_are_named() {
    let by = |north, dial| GROUND.orient(north).dial(dial).edge(LineName::of(north)).box_by(Hold::Both);
    let judged = by(North::True, 343.0).finds(&[Fault::SignFlipped]);
    assert_eq!(judged.state.words(), "The map lies 34° off, turned counterclockwise.");
    assert_eq!(map_off(&by(North::True, 0.0).finds(&[Fault::NotApplied])), -17.0);
    by(North::True, 34.0).finds(&[Fault::AppliedTwice]);
    by(North::True, 19.5).finds(&[Fault::GmaForDeclination]);
    by(North::Grid, 340.5).finds(&[Fault::SignFlipped]);
    by(North::Grid, 0.0).finds(&[Fault::NotApplied]);
    by(North::Grid, 39.0).finds(&[Fault::AppliedTwice]);
    by(North::Grid, 17.0).finds(&[Fault::DeclinationForGma]);
    by(North::Grid, 14.5).finds(&[Fault::SizesAdded]);
    by(North::Magnetic, 17.0).finds(&[Fault::DialSetToDeclination]);
    by(North::Magnetic, 343.0).finds(&[Fault::DeclinationAsReading]);
    by(North::True, 163.0).finds(&[Fault::DialReversed, Fault::SignFlipped]);
    by(North::True, 120.0).finds(&[Fault::DialOff]);
}

#[test]
fn the_old_declination_on_the_dial_is_named() {
    let ground = Ground { declination: -9.0, printed: -12.0, convergence: -2.5, iron: 0.0 };
    ground.orient(North::True).dial(12.0).edge(LineName::True).box_by(Hold::Both).finds(&[Fault::NotUpdated]);
}

#[test]
fn an_edge_on_another_line_is_named_with_the_line() {
    for line in [LineName::Border, LineName::Grid, LineName::Magnetic] {
        GROUND.orient(North::True).dial(17.0).edge(line).box_by(Hold::Both).finds(&[Fault::WrongLine(line)]);
    }
    let prong = GROUND.orient(North::Magnetic).dial(0.0).edge(LineName::Prong).box_by(Hold::Both);
    let judged = prong.finds(&[Fault::WrongLine(LineName::Prong)]);
    assert_eq!(judged.procedure[0].id(), "diagram-prong");
    GROUND
        .orient(North::Magnetic)
        .dial(0.0)
        .edge(LineName::True)
        .box_by(Hold::Both)
        .finds(&[Fault::WrongLine(LineName::True)]);
    let back = GROUND.orient(North::True).dial(17.0).edge_back(LineName::Grid).box_by(Hold::Both);
    back.finds(&[Fault::WrongLine(LineName::Grid), Fault::ArrowBack]);
}

#[test]
fn another_line_with_its_own_number_is_one_fault_and_the_map_lies_right() {
    let judged = GROUND.orient(North::True).dial(19.5).edge(LineName::Grid).box_by(Hold::Both);
    let judged = judged.finds(&[Fault::WrongLine(LineName::Grid)]);
    assert!(judged.state.right());
    assert_eq!(
        judged.told,
        ["You used a north-south grid line. You set its own number, 019.5, but the true-north line was asked for."]
    );
}

#[test]
fn the_dial_turned_where_the_map_should_be() {
    let judged = GROUND.orient(North::True).dial(17.0).edge(LineName::True).box_by(Hold::Dial);
    assert_eq!(map_off(&judged.finds(&[Fault::DialForMap])), 40.0);
}

#[test]
fn the_map_turned_where_the_dial_should_be() {
    let boxed = || GROUND.orient(North::True).dial(0.0).edge(LineName::True).box_by(Hold::Both);
    let judged = boxed().turn(Hold::Map, 17.0).finds(&[Fault::MapForDial]);
    assert_eq!(map_off(&judged), 0.0);
    boxed().turn(Hold::Map, -17.0).finds(&[Fault::MapForDial, Fault::SignFlipped]);
}

#[test]
fn the_compass_turned_off_its_line_while_orienting() {
    GROUND.orient(North::True).dial(17.0).edge(LineName::True).box_by(Hold::Compass).finds(&[Fault::CompassOffLine]);
    // With 000 on the dial the edge comes to lie along the magnetic line: still it left the true one.
    let hands = Ground { printed: -17.0, ..GROUND }.orient(North::True).dial(17.0).edge(LineName::True);
    let hands = hands.box_by(Hold::Both).turn(Hold::Compass, 4.0);
    hands.finds(&[Fault::CompassOffLine, Fault::NotBoxed]);
}

#[test]
fn what_is_mended_before_the_end_is_no_fault() {
    let hands = GROUND.orient(North::True).dial(343.0).edge_back(LineName::Border).box_south_by(Hold::Compass);
    hands.dial(17.0).edge(LineName::True).box_by(Hold::Both).is_right();
}

#[test]
fn stopping_early_and_an_edge_on_no_line_are_found() {
    GROUND.orient(North::True).dial(17.0).edge(LineName::True).finds(&[Fault::NotBoxed]);
    GROUND.orient(North::True).dial(17.0).box_by(Hold::Oneself).finds(&[Fault::EdgeOffLine]);
    worked(GROUND, North::True).up().turn(Hold::Map, 10.0).finds(&[Fault::MapMoved]);
}

#[test]
fn the_other_known_way_with_000_on_the_dial_is_right_too() {
    // Common practice, no source: dial 000 along the line, then turn until the needle points to the angle itself.
    let by = |number: f64| {
        let hands = GROUND.orient(North::True).dial(0.0).edge(LineName::True);
        let turn = (hands.seen().needle_on_dial - angle(number)).wrapped_half();
        hands.make(Move::TurnBoth(turn))
    };
    assert_eq!(map_off(&by(343.0).is_right()), 0.0);
    assert_eq!(map_off(&by(17.0).finds(&[Fault::SignFlipped])), -34.0);
    by(163.0).finds(&[Fault::NeedleReversed]);
}

proptest! {
    #[test]
    fn right_work_leaves_the_map_where_the_model_says(
        declination in -40.0..40.0_f64,
        dated in -5.0..5.0_f64,
        convergence in -3.0..3.0_f64,
        iron in -6.0..6.0_f64,
        which in 0..3_usize,
    ) {
        let north = North::ALL[which];
        let ground = Ground { declination, printed: declination - dated, convergence, iron };
        let judged = worked(ground, north).judged();
        prop_assert!(judged.right, "{:?}", judged.lines());
        let expected = if north == North::Magnetic { dated + iron } else { iron };
        // Hands turn by tenths of a degree: half a tenth for the dial, half a tenth for the turn.
        prop_assert!((map_off(&judged) - expected).abs() <= 0.1 + 1e-9);
    }
}

/// D1-4-157660-8.7W-1.2W: drawn for 15.5° W, today 8.5° W. D1-4-888908: drawn for 10.5° E, today 16.5° E.
#[test]
fn who_allows_for_the_drift_of_an_old_line_is_right_and_the_map_lies_right() {
    for (declination, printed, dial) in [(-8.5, -15.5, 353.0), (16.5, 10.5, 354.0)] {
        let ground = Ground { declination, printed, convergence: -1.0, iron: 0.0 };
        let judged = ground.orient(North::Magnetic).dial(dial).edge(LineName::Magnetic).box_by(Hold::Both).is_right();
        assert_eq!(map_off(&judged), 0.0);
        // The same with 000 on the dial and the needle beside the arrow.
        let laid = ground.orient(North::Magnetic).dial(0.0).edge(LineName::Magnetic);
        let by = (laid.seen().needle_from_box - angle(declination - printed)).wrapped_half();
        let judged = laid.make(Move::TurnBoth(by)).is_right();
        assert_eq!(map_off(&judged), 0.0);
        // And from the line's south end.
        let south = ground.orient(North::Magnetic).dial(180.0 + dial).edge_back(LineName::Magnetic);
        assert_eq!(map_off(&south.box_by(Hold::Both).is_right()), 0.0);
        // As it is taught, the map lies off by the drift; and a drift allowed for twice is wrong.
        let taught = ground.orient(North::Magnetic).dial(0.0).edge(LineName::Magnetic).box_by(Hold::Both).is_right();
        assert_eq!(map_off(&taught), declination - printed);
        let twice = ground.orient(North::Magnetic).dial(2.0 * (printed - declination)).edge(LineName::Magnetic);
        assert!(!twice.box_by(Hold::Both).judged().right);
    }
}

#[test]
fn a_slip_of_two_degrees_is_no_other_method() {
    // D2-2-76422: 338 belongs on the dial; with the G-M angle it would be 341.
    let ground = Ground { declination: 22.0, printed: 22.0, convergence: 3.0, iron: 0.0 };
    let with = |dial| ground.orient(North::True).dial(dial).edge(LineName::True).box_by(Hold::Both);
    with(340.0).finds(&[Fault::DialOff]);
    with(341.0).finds(&[Fault::GmaForDeclination]);
}
