//! Bearings followed in the hand, and looks back.

use super::*;

/// Magnetic 65, on ground with declination 17° W: azimuth 48. The others stand where the errors lead.
fn follow(bearing: f64, north: North) -> Hands {
    let mark = |name: &str, degrees: f64| Landmark { name: name.to_owned().into(), azimuth: azimuth(degrees) };
    let landmarks = vec![
        mark("the hut", 48.0),
        mark("the tower", 228.0),
        mark("the oak", 343.0),
        mark("the cairn", 31.0),
        mark("the spur", 82.0),
    ];
    Hands::at(GROUND.exercise(Task::Follow { bearing: angle(bearing), north, landmarks }))
}

fn walked(start_mark: f64) -> Hands {
    walked_to(start_mark, Doubt::NotAsked, 0.0)
}

/// The same at a place that tells something of iron, which turns the needle so far.
fn walked_to(start_mark: f64, doubt: Doubt, iron: f64) -> Hands {
    let task = Task::BackSight { walked: Bearing::from_degrees(65.0), start_mark: azimuth(start_mark), doubt };
    Hands::at(Ground { iron, ..GROUND }.exercise(task))
}

impl Hands {
    fn choose(self, number: u8) -> Hands {
        self.make(Move::Choose(number))
    }

    fn say(self, stands: Stands) -> Hands {
        self.make(Move::Say(stands))
    }
}

#[test]
fn a_bearing_followed_leads_to_the_reading_turned_by_declination_and_iron() {
    let hands = follow(65.0, North::Magnetic).dial(65.0).box_by(Hold::Oneself);
    // The model's row: the travel arrow at R + D + iron.
    assert_eq!(hands.now.baseplate().degrees(), 48.0);
    hands.choose(0).is_right();
    follow(48.0, North::True).dial(65.0).box_by(Hold::Oneself).choose(0).is_right();
    follow(45.5, North::Grid).dial(65.0).box_by(Hold::Oneself).choose(0).is_right();
    let iron = Ground { iron: 5.0, ..GROUND };
    let mut hands = follow(65.0, North::Magnetic);
    hands.exercise.iron = angle(iron.iron);
    let judged = hands.dial(65.0).box_by(Hold::Oneself);
    assert_eq!(judged.now.baseplate().degrees(), 53.0);
    assert!(judged.choose(0).is_right().meaning.unwrap().starts_with("Iron nearby turns the needle 5° clockwise, so"));
}

#[test]
fn the_number_for_a_given_bearing_is_named_when_wrong() {
    let by = |bearing, north, dial, chosen| follow(bearing, north).dial(dial).box_by(Hold::Oneself).choose(chosen);
    by(48.0, North::True, 48.0, 3).finds(&[Fault::NotApplied]);
    by(65.0, North::True, 48.0, 3).finds(&[Fault::SignFlipped]);
    by(65.0, North::Magnetic, 48.0, 3).finds(&[Fault::CorrectedAgain]);
    by(65.0, North::Magnetic, 245.0, 1).finds(&[Fault::DialReversed]);
    by(82.0, North::Grid, 99.0, 4).finds(&[Fault::DeclinationForGma]);
}

#[test]
fn a_bearing_followed_is_mended_by_its_own_reasons() {
    // E2-3-301418 told of "360 less the angle", E2-3-753829 of magnetic-north lines: the reasons of orienting.
    let by = |dial, chosen| follow(48.0, North::True).dial(dial).box_by(Hold::Oneself).choose(chosen).judged();
    for (dial, chosen) in [(31.0, 3), (48.0, 3), (82.0, 4)] {
        let told = by(dial, chosen).lines().join(" ");
        assert!(!told.contains("360 less") && !told.contains("line"), "{told}");
        assert!(told.contains("north") || told.contains("then stop"), "{told}");
    }
}

#[test]
fn what_lies_in_view_is_told_from_the_travel_arrow() {
    let hands = follow(65.0, North::Magnetic).dial(65.0).box_by(Hold::Oneself);
    assert_eq!(
        describe_view(&hands.exercise, &hands.now).unwrap(),
        "The hut lies on the travel arrow; the spur lies 34° clockwise of the travel arrow; the tower lies 180° \
         counterclockwise of the travel arrow; the oak lies 65° counterclockwise of the travel arrow; the cairn lies 17° \
         counterclockwise of the travel arrow."
    );
    let hands = walked(235.0).dial(65.0).box_south_by(Hold::Oneself);
    let view = describe_view(&hands.exercise, &hands.now).unwrap();
    assert_eq!(view, "The start lies 7° clockwise of the travel arrow.");
    let orient = GROUND.orient(North::True);
    assert_eq!(describe_view(&orient.exercise, &orient.now), None);
}

#[test]
fn a_reversed_needle_leads_to_the_opposite_mark() {
    let turned = || follow(65.0, North::Magnetic).dial(65.0).box_south_by(Hold::Oneself);
    let judged = turned().choose(1).finds(&[Fault::NeedleReversed]);
    assert!(!judged.state.right());
    // Looking along the tail as well hides it: two faults.
    assert!(turned().choose(0).finds(&[Fault::NeedleReversed, Fault::LookedBack]).cancelled());
}

#[test]
fn the_dial_turned_to_the_needle_where_one_should_turn_oneself() {
    let judged = follow(65.0, North::Magnetic).turn(Hold::Oneself, -18.0).dial(65.0).box_by(Hold::Dial).choose(4);
    judged.finds(&[Fault::DialForSelf]);
}

#[test]
fn looking_elsewhere_than_along_the_travel_arrow_is_named() {
    let boxed = || follow(65.0, North::Magnetic).dial(65.0).box_by(Hold::Oneself);
    boxed().choose(1).finds(&[Fault::LookedBack]);
    boxed().choose(2).finds(&[Fault::LookedAlongNeedle]);
    boxed().choose(4).finds(&[Fault::NotAhead]);
    boxed().finds(&[Fault::NothingChosen]);
    follow(65.0, North::Magnetic).dial(65.0).choose(0).finds(&[Fault::NotBoxed, Fault::NotAhead]);
}

#[test]
fn a_back_sight_boxes_the_south_end_with_the_same_number() {
    let looking = |mark| walked(mark).dial(65.0).box_south_by(Hold::Oneself);
    // The model's row: looking back along the line, 48 + 180.
    assert_eq!(looking(228.0).now.baseplate().degrees(), 228.0);
    looking(228.0).say(Stands::OnLine).is_right();
    // A back sight greater than the back bearing: right of the line (walking north and standing east of the line, the
    // start bears more than 180).
    looking(235.0).say(Stands::Right).is_right();
    looking(221.0).say(Stands::Left).is_right();
    looking(235.0).say(Stands::Left).finds(&[Fault::SidesSwapped]);
    looking(235.0).say(Stands::OnLine).finds(&[Fault::OffsetUnseen]);
    looking(235.0).finds(&[Fault::NothingChosen]);
}

#[test]
fn the_back_bearing_with_the_north_end_boxed_looks_the_same_way() {
    walked(228.0).dial(245.0).box_by(Hold::Oneself).say(Stands::OnLine).is_right();
}

#[test]
fn a_back_sight_that_stops_short_is_told_of_the_end_that_belongs_there() {
    // With the number that is walked it is the south end, with the back bearing the north end.
    walked(228.0).dial(65.0).say(Stands::OnLine).finds(&[Fault::SouthNotBoxed]);
    walked(228.0).dial(245.0).say(Stands::OnLine).finds(&[Fault::NotBoxed]);
    assert!(Fault::SouthNotBoxed.mend().contains("south end") && !Fault::SouthNotBoxed.mend().contains("north"));
    assert!(Fault::NotBoxed.mend().contains("north end"));
}

#[test]
fn a_south_end_beside_the_arrow_is_named_and_not_called_left_out_as_well() {
    // What is chosen lies where one should look, and so behind the travel arrow.
    let short = Move::TurnSelf(Angle::from_degrees(9.0));
    let judged = follow(65.0, North::Magnetic)
        .dial(65.0)
        .box_south_by(Hold::Oneself)
        .make(short)
        .make(Move::Choose(0))
        .finds(&[Fault::NeedleReversed, Fault::LookedBack]);
    assert!(judged.told[0].contains("it lay 9° beside it"), "{:?}", judged.told);
}

#[test]
fn a_back_sight_by_another_number_is_not_told_as_a_look_forward_and_one_by_the_back_bearing_gets_its_own_end() {
    walked(228.0).dial(150.0).box_by(Hold::Oneself).say(Stands::OnLine).finds(&[Fault::DialOff]);
    let judged = walked(228.0).dial(245.0).box_south_by(Hold::Oneself).say(Stands::OnLine).finds(&[Fault::NotReversed]);
    assert!(judged.told[0].contains("it is the needle's north end that is boxed"), "{:?}", judged.told);
}

#[test]
fn a_back_sight_that_looks_forward_is_named() {
    walked(228.0).dial(65.0).box_by(Hold::Oneself).say(Stands::OnLine).finds(&[Fault::NotReversed]);
    walked(228.0).dial(245.0).box_south_by(Hold::Oneself).say(Stands::OnLine).finds(&[Fault::NotReversed]);
    walked(228.0).dial(65.0).box_south_by(Hold::Dial).say(Stands::OnLine).finds(&[Fault::DialForSelf]);
    walked(228.0).dial(80.0).box_south_by(Hold::Oneself).say(Stands::OnLine).finds(&[Fault::DialOff]);
}

#[test]
fn beside_iron_where_one_stands_cannot_be_told() {
    // E4-4-104: the line back is 256 − 7 = 249 by the needle that iron turns, 256 by an undisturbed one. Here 228 and iron 7.
    let looking = |mark, doubt, iron| walked_to(mark, doubt, iron).dial(65.0).box_south_by(Hold::Oneself);
    for (mark, doubt) in [(228.0, Doubt::Iron), (235.0, Doubt::Iron), (228.0, Doubt::AtMark)] {
        let judged = looking(mark, doubt, -7.0).say(Stands::CannotTell).is_right();
        assert_eq!(judged.meaning.as_deref(), doubt.why());
        for said in [Stands::Left, Stands::OnLine, Stands::Right] {
            looking(mark, doubt, -7.0).say(said).finds(&[Fault::IronUnheeded]);
        }
    }
    // Away from iron it is where one stands, and the text says that this holds there alone.
    let judged = looking(235.0, Doubt::Unfounded, 0.0).say(Stands::Right).is_right();
    assert!(judged.meaning.unwrap().contains("Beside iron the same sight could be the iron's doing"));
    looking(235.0, Doubt::Unfounded, 0.0).say(Stands::CannotTell).finds(&[Fault::IronSupposed]);
    looking(228.0, Doubt::Unfounded, 0.0).say(Stands::CannotTell).finds(&[Fault::IronSupposed]);
}
