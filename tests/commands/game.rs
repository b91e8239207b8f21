//! `needlewise game` as leaders and scripts meet it.

use crate::cli::snapshot;
use needlewise::game::GAMES;
use serde_json::Value;

fn printed(words: &[&str]) -> String {
    crate::cli::printed(&[&["game"], words].concat())
}

fn refused(words: &[&str]) -> String {
    crate::cli::refused(&[&["game"], words].concat())
}

#[test]
fn without_a_name_the_games_are_listed() {
    let out = printed(&[]);
    assert!(GAMES.iter().all(|game| out.lines().any(|line| line == game.name)), "{out}");
    snapshot("games", &out);
}

#[test]
fn every_leaders_card_fits_80_columns_and_comes_again_by_its_seed() {
    for game in GAMES {
        let out = printed(&[game.name, "--seed", "7"]);
        assert!(out.lines().all(|line| line.chars().count() <= 80 && line.trim_end() == line), "{out}");
        for heading in ["Before you begin", "Say", "Cards", "Key, for you alone", "If it ends otherwise"] {
            assert!(out.lines().any(|line| line == heading), "{out}");
        }
        for caution in ["Walk the ground yourself first", "bounds", "signal that calls", "in sight of an adult"] {
            assert!(out.contains(caution), "{}: {caution}", game.name);
        }
        assert_eq!(out, printed(&[game.name, "--seed", "7"]));
        assert_ne!(out, printed(&[game.name, "--seed", "8"]));
        snapshot(&format!("game_{}", game.name), &out);
    }
}

#[test]
fn bad_names_bring_the_nearest_and_too_many_players_the_bounds() {
    assert_eq!(
        refused(&["wisper-line"]),
        "needlewise: there is no game wisper-line; did you mean whisper-line? `needlewise game` lists them\n"
    );
    assert_eq!(refused(&["lasagne"]), "needlewise: there is no game lasagne; `needlewise game` lists them\n");
    assert_eq!(
        refused(&["whisper-line", "--players", "9"]),
        "needlewise: whisper-line is for 3 to 7 players in a group, not for 9\n"
    );
    assert!(!refused(&["\u{1b}[2J"]).contains('\u{1b}'));
    assert!(refused(&["human-dial", "--players", "many"]).contains("many"));
    assert!(refused(&["--players", "4"]).contains("NAME"));
}

#[test]
fn as_json_the_list_is_a_line_a_game_and_a_card_is_one_line() {
    let list = printed(&["--format", "json"]);
    assert_eq!(list.lines().count(), GAMES.len());
    let card: Value = serde_json::from_str(&printed(&["whisper-line", "--seed", "3", "--format", "json"])).unwrap();
    assert_eq!((&card["game"], &card["players"], &card["seed"]), (&"whisper-line".into(), &5.into(), &3.into()));
    for list in ["say", "cards", "key", "slips", "cautions"] {
        assert!(card[list].as_array().is_some_and(|list| list.len() > 2), "{list}");
    }
    assert!(card["answer"].as_str().is_some_and(|answer| answer.ends_with(" T")), "{card}");
}
