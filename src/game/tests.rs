//! The rounds of the issue, number by number (arithmetic), and that every round that is dealt can be led.

use super::fog::Hops;
use super::iron::Readings;
use super::letters::Theft;
use super::pentagon::Pentagon;
use super::whisper::{Task, Whisper};
use super::*;
use crate::angle::{Convergence, Declination, North};

fn bearing<N: NorthKind>(whole: i32) -> Bearing<N> {
    Bearing::from_angle(degrees(whole))
}

fn whisper() -> Whisper {
    let tasks = vec![Task::Turn(40), Task::Back, Task::ToMagnetic, Task::Turn(-70), Task::ToTrue];
    Whisper { first: bearing(75), declination: Declination::from_angle(degrees(-12)), tasks }
}

#[test]
fn the_whisper_line_ends_at_225() {
    let round = whisper().round();
    assert_eq!(
        round.key,
        [
            "you whisper 075° T",
            "player 1 says 115° T",
            "player 2 says 295° T",
            "player 3 says 307° M",
            "player 4 says 237° M",
            "player 5 says 225° T",
        ]
    );
    assert_eq!(round.answer, "225° T");
}

#[test]
fn the_wrong_last_number_tells_who_slipped() {
    let whisper = whisper();
    assert!(whisper.tells());
    let ends: Vec<(String, String)> = whisper.round().slips.into_iter().map(|slip| (slip.end, slip.tells)).collect();
    let told = |end: &str| ends.iter().find(|it| it.0 == end).map(|it| it.1.as_str());
    // 75 − 40 = 35, back 215, + 12 = 227, − 70 = 157, − 12 = 145.
    assert_eq!(told("145° T"), Some("player 1 turned the other way"));
    assert_eq!(told("045° T"), Some("player 2 handed it on without turning it round"));
    // 295 − 12 = 283, − 70 = 213, − 12 = 201.
    assert_eq!(told("201° T"), Some("player 3 applied the declination the wrong way"));
    // 307 + 70 = 377, 017, − 12 = 005.
    assert_eq!(told("005° T"), Some("player 4 turned the other way"));
    assert_eq!(told("249° T"), Some("player 5 applied the declination the wrong way"));
    assert_eq!(told("225° T"), None);
}

#[test]
fn the_third_steps_aside_and_the_mean_is_132() {
    let readings = Readings([128, 130, 141, 129].map(bearing).to_vec());
    assert_eq!(readings.odd_one(), Some(2));
    assert_eq!(readings.mean(), Some(bearing(132)));
    let round = readings.round();
    assert_eq!(round.answer, "player 3 steps aside; the bearing is about 129° M");
    assert_eq!(round.slips[0].end, "132° M");
    // Across north nobody is far from the others but the one with the iron.
    assert_eq!(Readings([359, 1, 12, 0].map(bearing).to_vec()).odd_one(), Some(2));
}

#[test]
fn of_twelve_the_fourth_clockwise_from_210_faces_330() {
    let ring = dial::Ring { people: 12, first: bearing(210), places: 4 };
    assert_eq!((ring.apart(), ring.faces(4)), (30, bearing(330)));
    assert_eq!(ring.round().answer, "the 4th after player 1, clockwise: player 5");
}

#[test]
fn a_pentagon_turns_by_72_and_by_70_misses_by_one_and_a_half_of_ten_steps() {
    assert!(pentagon::miss(10, Pentagon::turn()) < 1e-9);
    assert_eq!(format!("{:.1}", pentagon::miss(10, degrees(70))), "1.5");
    let round = Pentagon { first: bearing(20), steps: 10, lazy: 70 }.round(5);
    assert_eq!(round.key[1], "the sides: 020° M, 092° M, 164° M, 236° M, 308° M");
    assert_eq!(round.slips[0].end, "1.5 steps from the stone");
}

#[test]
fn the_letter_thief_has_the_grid_card() {
    let theft = Theft {
        line: bearing(48),
        declination: Declination::from_angle(degrees(-13)),
        convergence: Convergence::from_angle(degrees(-2)),
        thief: North::Grid,
        from: North::Magnetic,
    };
    assert_eq!(theft.shown(North::True), "048° T");
    assert_eq!(theft.shown(North::Magnetic), "061° M");
    assert_eq!(theft.shown(North::Grid), "061° G");
    assert_eq!(theft.others(), (bearing(50), bearing(61)));
    assert!(letters::round(&[theft]).answer.ends_with("has 061° G, and it is 050° G"));
}

#[test]
fn the_lantern_moves_right_left_stays_and_moves_right() {
    let hops = Hops { line: bearing(74), metres: 15, seen: [72, 76, 74, 71].map(bearing).to_vec() };
    let round = hops.round();
    assert_eq!(round.answer, "right 0.5 m; left 0.5 m; stay; right 0.8 m");
    assert_eq!(format!("{:.1}", hops.left_alone()), "-0.8");
    assert_eq!(round.slips[1].end, "0.8 m left of the line at the end");
}

#[test]
fn every_round_is_dealt_again_by_its_seed_and_no_slip_ends_as_the_right_way_does() {
    for game in GAMES {
        assert!(game.players.contains(&game.usual) && Game::find(game.name) == Some(game));
        assert!(game.cautions().count() > 4, "{}", game.name);
        for players in game.players.clone() {
            let mut dealt = Vec::new();
            for seed in 0..60 {
                let card = game.lead(players, seed).expect("enough players");
                assert_eq!(Some(&card), game.lead(players, seed).as_ref());
                let Round { say, cards, key, answer, slips } = &card.round;
                assert!(say.len() > 2 && !cards.is_empty() && !key.is_empty() && slips.len() > 1, "{card:?}");
                assert!(slips.iter().all(|slip| slip.end != *answer), "{card:?}");
                dealt.push(card.round);
            }
            dealt.dedup();
            assert!(dealt.len() > 20, "{} deals {} rounds", game.name, dealt.len());
        }
        assert_eq!(game.lead(*game.players.end() + 1, 1), None);
    }
}

#[test]
fn every_whisper_line_tells_who_slipped_and_every_iron_is_the_odd_one_out() {
    for seed in 0..300 {
        let whisper = whisper::GAME.lead(7, seed).expect("seven").round;
        let mut ends: Vec<&String> = whisper.slips.iter().map(|slip| &slip.end).collect();
        let count = ends.len();
        ends.sort();
        ends.dedup();
        assert_eq!(ends.len(), count, "seed {seed}");
        let iron = iron::GAME.lead(8, seed).expect("eight").round;
        assert!(iron.slips[0].end != iron.key[2], "{iron:?}");
    }
}

#[test]
fn numbers_in_a_row_have_their_endings() {
    assert_eq!([1, 2, 3, 4, 11, 12, 13, 21].map(ordinal), ["1st", "2nd", "3rd", "4th", "11th", "12th", "13th", "21st"]);
}
