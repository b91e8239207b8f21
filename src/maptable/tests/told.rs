//! What is told of work: the learner's own numbers, slips as slips, the reason with the right number. The cases are those that an
//! issue cited, from the facts that were saved of them.

use super::*;

const fn ground(declination: f64, convergence: f64) -> Ground {
    Ground { declination, printed: declination, convergence, iron: 0.0 }
}

/// Five lines of 76 columns and a half.
const LONGEST: usize = 420;

/// All that is said, the headline first.
fn said(hands: &Hands) -> String {
    let judged = hands.judged();
    format!("{} {}", judged.headline(&hands.exercise.task), judged.lines().join(" "))
}

/// C7-1-593416: P to Q runs 33° from true north, declination 19° E.
fn c7() -> Hands {
    let lines = MapLines::norths(Declination::from_degrees(19.0), Convergence::from_degrees(-3.0));
    let lines = lines.with(MapLine::new(LineName::Leg(leg('P', 'Q')), azimuth(33.0))).unwrap();
    let task = Task::OrientedBearing { legs: vec![leg('P', 'Q')], lies: azimuth(0.0), bearing_asked: false };
    Hands::at(Exercise { lines, ..ground(19.0, -3.0).exercise(task) })
}

#[test]
fn a_number_that_was_read_is_told_as_it_was_read() {
    // 033 was typed where the dial showed 014; told was 352.
    let hands = c7().leg('P', 'Q').box_by(Hold::Dial).up().read(33.0);
    hands.finds(&[Fault::CorrectedAgain]);
    assert_eq!(
        said(&hands),
        "Not right. You corrected by hand a number that is right as it is: 033 in place of 014. What the dial shows at the \
         index line is the bearing: the dial counts from the north that you turned it by. Write it down as it is. P to Q: 033, 19° too much: 014 is right."
    );
    assert_eq!(hands.judged().did, "arrow along the line P–Q toward Q, needle boxed, 014 on the dial and 033 said");
    let by_lines = c7().leg('P', 'Q').dial_n_to(0.0).read_dial();
    assert_eq!(
        by_lines.judged().did,
        "arrow along the line P–Q toward Q, needle 19° clockwise of the orienting arrow, 033 read"
    );
}

#[test]
fn a_map_left_three_degrees_off_is_told_as_three_degrees() {
    // D2-2-766342: declination 25° E; the map was left 3° off, told was 25°.
    let hands = ground(25.0, 3.0).orient(North::True).dial(335.0).edge(LineName::True).box_by(Hold::Both);
    let hands = hands.turn(Hold::Both, 3.0);
    hands.finds(&[Fault::NotBoxed]);
    assert_eq!(
        said(&hands),
        "Nearly right. The needle lay 3° beside the arrow: a slip of the hand. Turn 3° counterclockwise: then it lies right over \
         it. The map lies 3° off, turned clockwise: near enough."
    );
    assert_eq!(
        hands.judged().did,
        "335 on the dial, arrow along the true-north line toward its north end, needle 3° counterclockwise of the orienting \
         arrow"
    );
}

#[test]
fn a_slip_of_a_degree_or_two_is_told_as_a_slip() {
    // D2-2-76422: 338 belongs on the dial.
    let hands = ground(22.0, 3.0).orient(North::True).dial(340.0).edge(LineName::True).box_by(Hold::Both);
    assert_eq!(
        hands.finds(&[Fault::DialOff]).told,
        ["340 stood on the dial, 2° too much: a slip of the hand. 338 belongs there."]
    );
    assert!(hands.judged().only_slips);
    // C4-2-651220: the dial's lines 3° beside the grid lines.
    let task = Task::MapBearing { leg: leg('P', 'Q'), north: North::Grid };
    let hands = Hands::at(ground(8.0, 3.0).exercise(task)).leg('P', 'Q').dial_n_to(0.0).read_dial();
    assert_eq!(
        hands.finds(&[Fault::LinesOff]).told,
        ["The dial's lines lay 3° beside the map's north-south grid lines: a slip of the hand. Turn the dial 3° \
             clockwise: then they run along them."]
    );
    // Three degrees beside the needle are a slip, too, where the dial was turned for it; sixty are none.
    c7().leg('P', 'Q').box_by(Hold::Dial).turn(Hold::Dial, 3.0).read_dial().finds(&[Fault::NotBoxed]);
    let far = c7().leg('P', 'Q').box_by(Hold::Dial).turn(Hold::Dial, 60.0).read_dial().finds(&[Fault::NotBoxed]);
    assert!(!far.only_slips && far.told[0].contains("it lay 60° counterclockwise of the arrow"), "{:?}", far.told);
    // An edge that lies 3° beside its line has not come off it.
    let lay = |by| GROUND.orient(North::Magnetic).dial(0.0).edge(LineName::Magnetic).turn(Hold::Compass, by);
    assert!(lay(3.0).box_by(Hold::Both).finds(&[Fault::EdgeBeside]).only_slips);
    assert!(!lay(5.0).box_by(Hold::Both).finds(&[Fault::CompassOffLine]).only_slips);
}

#[test]
fn slips_that_only_add_up_are_told_with_the_learners_own_numbers() {
    let hands = GROUND.orient(North::True).dial(16.0).edge(LineName::True).turn(Hold::Compass, 2.0);
    let hands = hands.box_by(Hold::Both).turn(Hold::Both, -2.0);
    let judged = hands.finds(&[]);
    assert_eq!(judged.headline(&hands.exercise.task), "Nearly right: small slips of the hand add up.");
    assert!(judged.did.contains("016 on the dial") && judged.did.contains("2° beside"), "{}", judged.did);
}

#[test]
fn the_right_number_is_told_with_its_reason_before_the_rule() {
    let told = |hands: Hands| hands.box_by(Hold::Both).judged().told.join(" ");
    let by = |north, dial| GROUND.orient(north).dial(dial).edge(LineName::of(north));
    assert_eq!(
        told(by(North::True, 343.0)),
        "You applied the correction the wrong way round: 343 on the dial. Seen from the needle, true north lies 17° \
         clockwise, so 017 belongs there."
    );
    assert_eq!(
        told(ground(16.0, 3.0).orient(North::Grid).dial(0.0).edge(LineName::Grid)),
        "You left out the correction: 000 on the dial. The G-M angle is 13° E: seen from the needle, grid north \
         lies 13° counterclockwise, so 347 belongs there: 360 − 13."
    );
    assert_eq!(
        told(by(North::Magnetic, 17.0)),
        "You set the dial as for a true-north line: 017. The line points where the needle points, so 000 belongs \
         there."
    );
    // Two faults of one number have one reason.
    let both = told(by(North::True, 163.0));
    assert_eq!(both.matches("belongs there").count(), 1, "{both}");
}

/// What turns all by half a circle is told with why it does, before what belongs there.
#[test]
fn a_reversal_is_told_with_its_reason_before_the_rule() {
    let told = |hands: Hands| hands.judged().told.join(" ");
    let laid = || GROUND.orient(North::True).dial(17.0);
    assert_eq!(
        told(laid().edge_back(LineName::True).box_by(Hold::Both)),
        "You laid the compass with its travel arrow pointing back along the line. Half a circle lies between the line's ends: \
         017 on the dial belongs to its north end, 197 to its south end."
    );
    let south = "You let the needle's south end lie in the head of the orienting arrow. Its south end points away from \
                 north, so all comes out half a circle round: the solid north end belongs in the arrow's head.";
    assert_eq!(told(laid().edge(LineName::True).box_south_by(Hold::Both)), south);
    assert_eq!(told(c7().leg('P', 'Q').box_south_by(Hold::Dial).read_dial()), south);
    assert_eq!(
        told(c7().leg('Q', 'P').box_by(Hold::Dial).read_dial()),
        "You laid the compass with its travel arrow pointing back along the line. Toward P the dial gives the way from Q to \
         P, half a circle round: the arrow belongs toward Q."
    );
    let task = Task::MapBearing { leg: leg('P', 'Q'), north: North::Grid };
    let upside = Hands::at(ground(8.0, 3.0).exercise(task)).leg('P', 'Q').dial_n_to(183.0).read_dial();
    assert!(told(upside).contains("toward the map's south that is half a circle round. The N of the dial belongs"));
}

#[test]
fn a_map_or_a_compass_turned_alone_is_told_by_how_far() {
    let boxed = || GROUND.orient(North::True).dial(0.0).edge(LineName::True).box_by(Hold::Both);
    let by_map = boxed().turn(Hold::Map, 16.0);
    assert_eq!(
        by_map.judged().told,
        [
            "You turned the map where the dial should be turned: 16° clockwise. 017 belongs on the dial, set first; then map \
             and compass turn as one."
        ]
    );
    assert_eq!(by_map.judged().did, "000 on the dial, needle boxed, the map turned alone, 16° clockwise");
    let flipped = boxed().turn(Hold::Map, -10.0).turn(Hold::Map, -7.0).judged().told.join(" ");
    assert!(flipped.contains("should be turned: 17° counterclockwise."), "{flipped}");
    assert!(flipped.contains("the wrong way round: the map turned 17° counterclockwise. Seen from"), "{flipped}");
    // On an oriented map, and by the map's lines.
    let needle = c7().leg('P', 'Q');
    let by = needle.seen().needle_from_box;
    let told = needle.turn(Hold::Both, by.degrees()).read_dial().judged().told.join(" ");
    assert!(told.contains(&format!("should be turned: {}", crate::maptable::amount::turn_words(by))), "{told}");
    // Off its line by the one hand or by the other.
    let laid = || GROUND.orient(North::True).dial(17.0).edge(LineName::True);
    let compass = laid().turn(Hold::Compass, 40.0).judged().told.join(" ");
    assert!(compass.contains("come off its line: the compass turned alone, 40° clockwise."), "{compass}");
    let map = laid().turn(Hold::Map, -25.0).judged().told.join(" ");
    assert!(map.contains("come off its line: the map turned alone, 25° counterclockwise."), "{map}");
}

#[test]
fn a_number_three_or_four_degrees_beside_the_right_one_is_a_slip_of_the_hand() {
    // D2-2-766342: 335 belongs there, and no other rule gives a number so near.
    for (dial, told) in [(338.0, "338 stood on the dial, 3° too much"), (331.0, "331 stood on the dial, 4° too little")]
    {
        let hands = ground(25.0, 0.0).orient(North::True).dial(dial).edge(LineName::True).box_by(Hold::Both);
        let judged = hands.finds(&[Fault::DialOff]);
        assert_eq!(judged.told, [format!("{told}: a slip of the hand. 335 belongs there.")]);
        assert!(judged.only_slips);
        assert!(judged.headline(&hands.exercise.task).starts_with("Nearly right"), "{dial}");
    }
    let five = ground(25.0, 0.0).orient(North::True).dial(340.0).edge(LineName::True).box_by(Hold::Both);
    assert!(!five.finds(&[Fault::DialOff]).only_slips);
}

#[test]
fn a_slip_past_the_arrow_is_led_back_and_one_before_it_on() {
    let told = |by| {
        let hands = ground(25.0, 3.0).orient(North::True).dial(335.0).edge(LineName::True).box_by(Hold::Both);
        hands.turn(Hold::Both, by).judged().told.join(" ")
    };
    assert!(told(3.0).ends_with("Turn 3° counterclockwise: then it lies right over it."), "{}", told(3.0));
    assert!(told(-3.0).ends_with("Turn 3° clockwise: then it lies right over it."), "{}", told(-3.0));
    let lines = |by: f64| by_lines().dial_n_to(3.0 + by).read_dial().judged().told.join(" ");
    assert!(lines(3.0).ends_with("Turn the dial 3° counterclockwise: then they run along them."), "{}", lines(3.0));
    assert!(lines(-3.0).ends_with("Turn the dial 3° clockwise: then they run along them."), "{}", lines(-3.0));
}

/// A bearing by the map's grid lines, which it draws 3° clockwise of true north; the edge lies along the leg.
fn by_lines() -> Hands {
    let task = Task::MapBearing { leg: leg('P', 'Q'), north: North::Grid };
    Hands::at(ground(8.0, 3.0).exercise(task)).leg('P', 'Q')
}

#[test]
fn a_number_read_three_degrees_beside_is_nearly_right() {
    let laid = by_lines().dial_n_to(3.0);
    let shown = laid.seen().index.degrees();
    let hands = laid.up().read(shown + 3.0);
    let judged = hands.finds(&[Fault::Misread]);
    assert_eq!(judged.headline(&hands.exercise.task), "Nearly right.");
    // A method that is wrong and gives nearly the number did not come out right.
    for by in [3.0, -3.0] {
        let judged = by_lines().dial_n_to(3.0 + by).read_dial();
        assert_ne!(judged.judged().headline(&judged.exercise.task), "It came out right, but not every step was.");
    }
}

#[test]
fn a_dial_that_was_never_set_is_told_as_that() {
    let hands = ground(25.0, 3.0).orient(North::True).edge(LineName::True).box_by(Hold::Both);
    let stood = crate::maptable::amount::figures(hands.exercise.start.dial()).to_string();
    let told = hands.judged().told.join(" ");
    if hands.judged().procedure == [Fault::DialOff] {
        assert!(told.starts_with(&format!("The dial was never set: it still stood at {stood}.")), "{told}");
        assert!(told.contains("335 belongs there"), "{told}");
    } else {
        panic!("{:?} {stood}", hands.judged().procedure);
    }
    let set = ground(25.0, 3.0).orient(North::True).dial(120.0).edge(LineName::True).box_by(Hold::Both);
    assert!(set.judged().told.join(" ").starts_with("You had a number on the dial"));
}

#[test]
fn lines_upside_down_and_a_little_beside_are_told_as_both() {
    for (by, slip) in [(3.0, true), (10.0, false)] {
        let judged = by_lines().dial_n_to(183.0 + by).read_dial().finds(&[Fault::DialReversed, Fault::LinesOff]);
        assert_eq!(judged.told[1].contains("a slip of the hand"), slip, "{:?}", judged.told);
    }
}

#[test]
fn what_only_follows_from_a_compass_turned_off_its_line_is_no_second_error() {
    let turned = |by| by_lines().dial_n_to(3.0).turn(Hold::Compass, by).read_dial();
    turned(9.0).finds(&[Fault::CompassOffLine]);
    turned(3.0).finds(&[Fault::EdgeBeside]);
    // But lines that were off before are off.
    let before = by_lines().dial_n_to(23.0).turn(Hold::Compass, 9.0).read_dial();
    before.finds(&[Fault::CompassOffLine, Fault::LinesOff]);
}

#[test]
fn who_looks_forward_is_told_no_side_that_nobody_saw() {
    let task =
        Task::BackSight { walked: Bearing::from_degrees(65.0), start_mark: azimuth(240.0), doubt: Doubt::NotAsked };
    let looking = || Hands::at(GROUND.exercise(task.clone())).dial(65.0);
    for said in [Stands::Left, Stands::Right, Stands::OnLine] {
        looking().box_by(Hold::Oneself).make(Move::Say(said)).finds(&[Fault::NotReversed]);
    }
    let back = looking().box_south_by(Hold::Oneself).make(Move::Say(Stands::Left)).judged();
    assert_eq!(back.procedure.len(), 1, "{:?}", back.procedure);
}

#[test]
fn a_back_sight_is_told_as_a_back_sight() {
    let task =
        Task::BackSight { walked: Bearing::from_degrees(65.0), start_mark: azimuth(228.0), doubt: Doubt::NotAsked };
    let looking = || Hands::at(GROUND.exercise(task.clone())).dial(65.0);
    let forward = said(&looking().box_by(Hold::Oneself).make(Move::Say(Stands::OnLine)));
    assert!(
        forward.starts_with("You stand where you say, but your compass did not show it. You looked forward"),
        "{forward}"
    );
    let side = said(&looking().box_south_by(Hold::Oneself).make(Move::Say(Stands::Left)));
    assert!(side.ends_with("You said that you stand to the left of the line. You stand on the line."), "{side}");
}

#[test]
fn no_verdict_on_one_fault_is_long() {
    let by = |north, dial| GROUND.orient(north).dial(dial).edge(LineName::of(north));
    let mut all = vec![by(North::True, 17.0).edge(LineName::Grid), by(North::True, 17.0).edge_back(LineName::True)];
    all.extend([343.0, 0.0, 34.0, 19.5, 197.0, 120.0].map(|dial| by(North::True, dial)));
    all.extend([340.5, 0.0, 39.0, 17.0, 14.5].map(|dial| by(North::Grid, dial)));
    all.extend([17.0, 343.0].map(|dial| by(North::Magnetic, dial)));
    let dated = Ground { printed: -24.0, ..GROUND };
    all.push(dated.orient(North::Magnetic).dial(17.0).edge(LineName::Magnetic));
    for hands in all {
        let hands = hands.box_by(Hold::Both);
        // With the two ways beside each other: the right one as long as hands need it.
        let told =
            said(&hands) + &hands.judged().did + "337 on the dial, arrow along the line to its north end, needle boxed";
        assert_eq!(hands.judged().procedure.len(), 1, "{told}");
        assert!(told.chars().count() <= LONGEST, "{}: {told}", told.chars().count());
    }
}
