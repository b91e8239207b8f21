//! Work at the map table solved a second time, from the facts of a problem and the geometry of table, map and needle alone.
//!
//! True north is 0. The needle points to declination plus what iron adds; the map's true north stands at some azimuth; a line
//! of the map at that azimuth plus its own angle; the orienting arrow at the baseplate's azimuth less the reading. Boxed means
//! that the orienting arrow lies under the needle's north end. Beside the answers every listed mix-up is recomputed, the
//! right procedure is played through the judge, and the answers are typed into `judge`.
#![expect(clippy::cast_precision_loss, reason = "what a test counts and draws is small")]

mod border;
#[path = "hands/geometry.rs"]
mod geometry;
mod home_ground;
#[path = "hands/met.rs"]
mod met;

use border::Facts;
use geometry::{can_be_trusted, corrected, drawn, lies, near, needle, on_ground, round};
use met::{each, each_wanting};
use needlewise::angle::{Angle, Declination};
use needlewise::maptable::{LineName, Move, Way, judge as judge_work, showing};
use needlewise::problem::{Answer, Code, Field, Level, Problem, Value, Verdict, judge, realise};
use needlewise::skills;

fn numbers(answer: &Answer) -> Vec<f64> {
    answer.values().iter().filter_map(|v| if let Value::Angle(a) = v { Some(a.degrees()) } else { None }).collect()
}

/// The words among an answer's values.
fn words<'a>(problem: &'a Problem, answer: &Answer) -> Vec<&'a str> {
    let fields = problem.question().fields().iter().zip(answer.values());
    let word = |(field, value): (&'a Field, &Value)| match value {
        Value::Choice(at) => field.choices()?.get(*at),
        _ => None,
    };
    fields.filter_map(word).collect()
}

#[test]
fn a_map_is_oriented_where_line_needle_and_dial_put_it_and_so_is_each_mixup() {
    let mut told = 0;
    each_wanting(
        |wanted| wanted == "map_oriented",
        |problem, _| {
            let facts = Facts::of(problem);
            let line = facts.word("line");
            let declination = facts.number("declination_deg");
            // Without iron, on a map as it should lie, the edge stands at the line and the needle at the declination.
            let dial = round(on_ground(&facts, line) - declination);
            let right = lies(&facts, dial, drawn(&facts, line));
            let answer = numbers(problem.answer());
            assert!(near(answer[0], dial, 1e-6) && near(answer[1], right, 1e-6), "{}: {dial} {right}", problem.code());
            assert_eq!(words(problem, problem.answer()), ["north end"]);
            let offset = declination - on_ground(&facts, line);
            for mixup in problem.mixups() {
                let (number, end) = (numbers(&mixup.answer), words(problem, &mixup.answer)[0]);
                let own = drawn(&facts, line);
                let expected = match mixup.meta.id.as_str() {
                    "south-end-boxed" => (dial, right + 180.0, "south end"),
                    "arrow-back" => (dial, right + 180.0, "north end"),
                    "dial-upside-down" => (dial + 180.0, right + 180.0, "north end"),
                    "sign-flipped" => (offset, lies(&facts, offset, own), "north end"),
                    "not-applied" => (0.0, lies(&facts, 0.0, own), "north end"),
                    "applied-twice" => (-2.0 * offset, lies(&facts, -2.0 * offset, own), "north end"),
                    "dial-set-to-declination" | "declination-for-gma" => {
                        (-declination, lies(&facts, -declination, own), "north end")
                    }
                    "declination-as-reading" => (declination, lies(&facts, declination, own), "north end"),
                    "sizes-added" => {
                        let sum = -declination - facts.number("convergence_deg");
                        (sum, lies(&facts, sum, own), "north end")
                    }
                    "not-updated" => {
                        let old = -facts.number("printed_declination_deg");
                        (old, lies(&facts, old, own), "north end")
                    }
                    "dial-for-map" => {
                        let start = facts.number("start_map_deg");
                        (start + own - needle(&facts), start, "north end")
                    }
                    // The right number by another line: one of those that are on the map.
                    "wrong-line" => {
                        let found = ["true", "grid", "magnetic"]
                            .iter()
                            .find(|other| near(number[1], lies(&facts, dial, drawn(&facts, other)), 1e-6));
                        assert!(found.is_some() && found != Some(&line), "{}: {number:?}", problem.code());
                        (dial, number[1], "north end")
                    }
                    "diagram-prong" => {
                        // Drawn on the true side, but not to scale.
                        let prong = -(number[1] - lies(&facts, dial, 0.0));
                        assert!(!near(prong, facts.number("printed_declination_deg"), 3.0), "{}", problem.code());
                        (dial, number[1], "north end")
                    }
                    other => panic!("{}: no formula for {other}", problem.code()),
                };
                let same = near(number[0], expected.0, 1e-6) && near(number[1], expected.1, 1e-6) && end == expected.2;
                assert!(same, "{}: {} gives {expected:?}, not {number:?} {end}", problem.code(), mixup.meta.id);
                told += 1;
            }
        },
    );
    assert!(told > 30_000, "only {told}");
}

#[test]
fn an_arrow_toward_the_lines_south_end_with_180_more_on_the_dial_orients_as_well() {
    let mut met = 0;
    each_wanting(
        |wanted| wanted == "map_oriented",
        |problem, table| {
            let facts = Facts::of(problem);
            if problem.code().seed % 3 != 0 {
                return;
            }
            let line = facts.word("line");
            let own = drawn(&facts, line);
            let name = match line {
                "true" => LineName::True,
                "grid" => LineName::Grid,
                _ => LineName::Magnetic,
            };
            // For the needle of today, and by an old line for the one that it was drawn for: what that is off is made good.
            let taught = round(on_ground(&facts, line) - facts.number("declination_deg"));
            let allowed = round(own - facts.number("declination_deg"));
            for (dial, south) in [(taught + 180.0, true), (allowed, false), (allowed + 180.0, true)] {
                let arrow = own + if south { 180.0 } else { 0.0 };
                // The edge stands at map + arrow, and the orienting arrow, under the needle, at that less the dial.
                let map = round(needle(&facts) + dial - arrow);
                let texts = [round(dial).to_string(), map.to_string(), "north end".to_owned()];
                let texts: Vec<&str> = texts.iter().map(String::as_str).collect();
                let typed = judge(problem, &texts).unwrap();
                assert_eq!(typed.verdict, Verdict::Right, "{}: {texts:?}", problem.code());
                let by = map - facts.number("start_map_deg");
                let moves = [
                    Move::SetDial(Angle::from_degrees(round(dial))),
                    Move::Edge(name, if south { Way::Back } else { Way::Ahead }),
                    Move::TurnBoth(Angle::from_degrees(by)),
                ];
                let worked = table.judge(problem, &moves);
                assert_eq!(worked.judgement.verdict, Verdict::Right, "{}: {moves:?} {:?}", problem.code(), worked.work);
                assert!(!south || problem.other_way(&worked.judgement.given).is_some(), "{}: not told", problem.code());
                met += 1;
            }
        },
    );
    assert!(met > 5_000, "only {met}");
}

#[test]
fn bearings_off_the_map_are_what_the_geometry_gives() {
    let mut told = 0;
    each(|problem, _| {
        let facts = Facts::of(problem);
        // No needle plays a part there.
        if facts.word("wanted") == "map_laid" {
            return;
        }
        let answer = numbers(problem.answer());
        let declination = facts.number("declination_deg");
        match facts.word("wanted") {
            "bearing_by_the_lines" => {
                let toward = facts.number("leg_from_true_north_deg");
                let along = drawn(&facts, facts.word("line"));
                assert!(near(answer[0], toward - along, 1e-6), "{}", problem.code());
                let map = facts.number("start_map_deg");
                for mixup in problem.mixups() {
                    let number = numbers(&mixup.answer)[0];
                    let expected: Vec<f64> = match mixup.meta.id.as_str() {
                        "wrong-end" => vec![answer[0] + 180.0],
                        // The dial turned until the needle is boxed reads the edge from the needle.
                        "needle-for-lines" => vec![map + toward - declination],
                        // With the dial's lines along the map's, the needle lies over this number.
                        "read-at-needle" => vec![declination - map - along],
                        "quarter-turn" => vec![answer[0] + 90.0, answer[0] - 90.0],
                        "corrected-again" => corrected(&facts, answer[0]),
                        other => panic!("{}: no formula for {other}", problem.code()),
                    };
                    let found = expected.iter().any(|expected| near(number, *expected, 1e-6));
                    assert!(found, "{}: {} {number} {expected:?}", problem.code(), mixup.meta.id);
                }
            }
            "bearings_by_the_needle" => {
                let legs = ["p_to_q_from_true_north_deg", "q_to_v_from_true_north_deg", "v_to_p_from_true_north_deg"];
                let map = facts.number("start_map_deg");
                for (at, number) in answer.iter().enumerate() {
                    let toward = facts.number(legs[at]);
                    // The edge stands at map + leg; the dial counts it from the needle.
                    assert!(near(*number, map + toward - needle(&facts), 1e-6), "{}", problem.code());
                    for mixup in problem.mixups() {
                        let wrong = numbers(&mixup.answer)[at];
                        let expected: Vec<f64> = match mixup.meta.id.as_str() {
                            "wrong-end" => vec![number + 180.0],
                            // By the grid lines where those are drawn, else as from true north.
                            "lines-for-needle" if facts.word("line") == "grid" => {
                                vec![toward - facts.number("convergence_deg")]
                            }
                            "lines-for-needle" => vec![toward],
                            "read-at-needle" => vec![0.0],
                            "corrected-again" => corrected(&facts, *number),
                            other => panic!("{}: no formula for {other}", problem.code()),
                        };
                        let found = expected.iter().any(|expected| near(wrong, *expected, 1e-6));
                        assert!(found, "{}: {} {wrong} {expected:?}", problem.code(), mixup.meta.id);
                    }
                }
                // On a map that lies right, beside no iron, it is the magnetic bearing T − D.
                assert!(near(answer[0], facts.number(legs[0]) - declination, 1e-6), "{}", problem.code());
            }
            "reading_and_magnetic_bearing" => {
                let toward = facts.number("p_to_q_from_true_north_deg");
                // The edge stands at map + leg; the dial counts it from the needle. The bearing is T − D, however it lies.
                let shown = facts.number("start_map_deg") + toward - needle(&facts);
                let bearing = toward - declination;
                assert!(near(answer[0], shown, 1e-6) && near(answer[1], bearing, 1e-6), "{}", problem.code());
                for mixup in problem.mixups() {
                    let wrong = numbers(&mixup.answer);
                    let expected: Vec<[f64; 2]> = match mixup.meta.id.as_str() {
                        "wrong-end" => vec![[shown + 180.0, bearing + 180.0]],
                        "lines-for-needle" => vec![[toward, toward], [shown, toward]],
                        "read-at-needle" => vec![[0.0, 0.0], [0.0, bearing - shown]],
                        "lie-unseen" => vec![[shown, shown]],
                        "lie-other-way" => vec![[shown, shown + (shown - bearing)]],
                        "corrected-again" => [shown, bearing]
                            .iter()
                            .flat_map(|number| corrected(&facts, *number))
                            .map(|number| [shown, number])
                            .collect(),
                        other => panic!("{}: no formula for {other}", problem.code()),
                    };
                    let found = expected.iter().any(|it| near(wrong[0], it[0], 1e-6) && near(wrong[1], it[1], 1e-6));
                    assert!(found, "{}: {} {wrong:?} {expected:?}", problem.code(), mixup.meta.id);
                    assert!(!near(wrong[1], bearing, 3.0), "{}: {} has the bearing", problem.code(), mixup.meta.id);
                }
            }
            _ => return,
        }
        told += 1;
    });
    assert!(told > 10_000, "only {told}");
}

#[test]
fn what_lies_ahead_and_where_one_stands_are_what_the_geometry_gives() {
    let names = [
        ("the hut", "hut_azimuth_deg"),
        ("the tower", "tower_azimuth_deg"),
        ("the chapel", "chapel_azimuth_deg"),
        ("the cairn", "cairn_azimuth_deg"),
        ("the lone pine", "lone_pine_azimuth_deg"),
        ("the boulder", "boulder_azimuth_deg"),
    ];
    let mut told = 0;
    each_wanting(
        |wanted| ["ahead", "you_stand"].contains(&wanted),
        |problem, _| {
            let facts = Facts::of(problem);
            let word = words(problem, problem.answer()).first().copied().unwrap_or_default();
            match facts.word("wanted") {
                "ahead" => {
                    // A bearing counts from its north; its north stands so far from true north.
                    let from = match facts.word("north") {
                        "true" => 0.0,
                        "grid" => facts.number("convergence_deg"),
                        _ => facts.number("declination_deg"),
                    };
                    let azimuth = facts.number("bearing_deg") + from;
                    let there: Vec<&str> = names
                        .iter()
                        .filter(|(_, fact)| near(facts.number(fact), azimuth, 10.0))
                        .map(|(name, _)| *name)
                        .collect();
                    assert_eq!(there, [word], "{}", problem.code());
                }
                "you_stand" => {
                    let declination = facts.number("declination_deg") + facts.number("iron_turns_needle_deg");
                    let back = facts.number("walked_magnetic_bearing_deg") + declination + 180.0;
                    let off = round(facts.number("start_mark_azimuth_deg") - back);
                    // Walking north and standing east of the line, the start bears more than 180: clockwise of the line back.
                    let iron = facts.number("iron_turns_needle_deg");
                    let expected = match (facts.word("place"), off) {
                        // What iron does to the needle nobody sees; and at the mark of the fore sight one stands on its line.
                        ("iron" | "needle_differs_ten_steps_back", _) => {
                            "cannot be told here: step away and look again"
                        }
                        ("fore_mark", off) if !near(off, 0.0, 2.0) => "cannot be told here: step away and look again",
                        (_, off) if near(off, 0.0, 2.0) => "on the line",
                        (_, off) if off < 180.0 => "right of the line",
                        _ => "left of the line",
                    };
                    assert_eq!(word, expected, "{}", problem.code());
                    assert!(
                        word.starts_with("cannot") || iron == 0.0,
                        "{}: iron that nobody is told of",
                        problem.code()
                    );
                }
                _ => return,
            }
            told += 1;
        },
    );
    assert!(told > 10_000, "only {told}");
}

#[test]
fn a_map_laid_by_what_stands_around_is_turned_by_what_the_geometry_gives() {
    let mut told = 0;
    each_wanting(
        |wanted| wanted == "map_laid",
        |problem, table| {
            let facts = Facts::of(problem);
            let start = facts.number("start_map_deg");
            assert!(near(numbers(problem.answer())[0], -start, 1e-6), "{}", problem.code());
            for mixup in problem.mixups() {
                let off = match mixup.meta.id.as_str() {
                    "map-upside-down" => 180.0,
                    "map-top-ahead" => facts.number("facing_deg"),
                    "marks-swapped" => facts.number("v_azimuth_deg") - facts.number("q_azimuth_deg"),
                    other => panic!("{}: no formula for {other}", problem.code()),
                };
                let turned = numbers(&mixup.answer)[0];
                assert!(near(turned, off - start, 1e-6), "{}: {} {turned}", problem.code(), mixup.meta.id);
                // And the hands that do it are told so.
                let worked = table.judge(problem, &[Move::TurnMap(Angle::from_degrees(turned)), Move::Done]);
                assert_eq!(worked.judgement.verdict, Verdict::Mixup(mixup.meta), "{}", problem.code());
            }
            told += 1;
        },
    );
    assert!(told > 3_000, "only {told}");
}

#[test]
fn a_bearing_taken_is_what_the_geometry_gives() {
    let mut told = 0;
    each_wanting(
        |wanted| wanted == "bearing_taken",
        |problem, _| {
            let facts = Facts::of(problem);
            // The dial counts the mark from the needle; the map's lines count it from their north.
            let read = facts.number("mark_azimuth_deg") - needle(&facts);
            let between = facts.number("declination_deg")
                - match facts.word("north") {
                    "true" => 0.0,
                    "grid" => facts.number("convergence_deg"),
                    _ => facts.number("declination_deg"),
                };
            let asks_trust = problem.code().level == Level::FOUR;
            let trusted = if asks_trust && !can_be_trusted(&facts) { TRUST_NOT } else { "it can be trusted here" };
            let check = |answer: &Answer, read: f64, second: f64, trust: &str, what: &str| {
                let (numbers, words) = (numbers(answer), words(problem, answer));
                assert!(near(numbers[0], read, 1e-6), "{}: {what} {numbers:?}, {read}", problem.code());
                assert!(
                    numbers.get(1).is_none_or(|it| near(*it, second, 1e-6)),
                    "{}: {what} {numbers:?}",
                    problem.code()
                );
                assert!(words.first().is_none_or(|it| *it == trust), "{}: {what} {words:?}", problem.code());
            };
            check(problem.answer(), read, read + between, trusted, "right");
            let start = facts.number("start_dial_deg");
            for mixup in problem.mixups() {
                let (id, number) = (mixup.meta.id.as_str(), numbers(&mixup.answer)[0]);
                let other = if trusted.contains("cannot") { "it can be trusted here" } else { TRUST_NOT };
                let (wrong, second, trust) = match id {
                    "wrong-end" => (read + 180.0, read + 180.0 + between, trusted),
                    "dial-left" => (start, start + between, trusted),
                    // With the dial left, or with its N on the travel arrow.
                    "read-at-needle" if near(number, start - read, 1e-6) => {
                        (start - read, start - read + between, trusted)
                    }
                    "read-at-needle" => (-read, -read + between, trusted),
                    "corrected-again" => {
                        let declination = facts.number("declination_deg");
                        let found =
                            [read + declination, read - declination].into_iter().find(|it| near(number, *it, 1e-6));
                        (found.expect("the declination added or taken off"), 0.0, trusted)
                    }
                    "sign-flipped" => (read, read - between, trusted),
                    "not-applied" => (read, read, trusted),
                    "iron-unheeded" | "iron-supposed" => (read, 0.0, other),
                    other => panic!("{}: no formula for {other}", problem.code()),
                };
                check(&mixup.answer, wrong, second, trust, id);
            }
            told += 1;
        },
    );
    assert!(told > 3_000, "only {told}");
}

/// What somebody says who steps away.
const TRUST_NOT: &str = "it cannot be trusted here: step away";

#[test]
fn the_showing_is_judged_right_and_its_end_is_the_answer() {
    let met = each(|problem, table| {
        let steps = showing(&table.exercise, &table.exercise.start);
        let moves: Vec<Move> = steps.into_iter().flat_map(|step| step.moves).collect();
        let verdict = table.judge(problem, &moves);
        assert_eq!(verdict.judgement.verdict, Verdict::Right, "{}: {:?}", problem.code(), verdict.work);
        assert!(problem.question().same(&verdict.judgement.given, problem.answer()), "{}", problem.code());
    });
    assert!(met > 20_000, "only {met}");
}

#[test]
fn doing_nothing_is_never_right() {
    each(|problem, table| {
        assert!(!judge_work(&table.exercise, &[Move::Done]).right, "{} begins at its end", problem.code());
    });
}

#[test]
fn the_answers_of_the_table_can_be_typed_into_judge() {
    let mut typed = 0;
    each(|problem, _| {
        if problem.code().seed % 5 != 0 {
            return;
        }
        let fields = problem.question().fields().iter().zip(problem.answer().values());
        let texts: Vec<String> = fields.map(|(field, value)| field.typed(*value)).collect();
        let texts: Vec<&str> = texts.iter().map(String::as_str).collect();
        assert_eq!(judge(problem, &texts).unwrap().verdict, Verdict::Right, "{}", problem.code());
        typed += 1;
    });
    assert!(typed > 4_000, "only {typed}");
}

/// The rows of the map table's model, by hand: declination 17° W, convergence 10° E (values by common practice, no source).
#[test]
fn a_worked_example_by_hand_agrees() {
    let skill = skills::find("orient-true-line").unwrap();
    let (problem, table) = (0..4_000)
        .find_map(|seed| {
            let problem = realise(&Code { skill, level: Level::TWO, seed, home: None }).unwrap();
            let table = problem.table()?;
            let west = Declination::from_degrees(-17.0);
            (table.exercise.declination == west).then_some((problem, table))
        })
        .expect("a problem with 17° W");
    assert_eq!(table.exercise.wanted_dial(), Some(Angle::from_degrees(17.0)), "west: the angle itself");
    assert_eq!(numbers(problem.answer()), [17.0, 0.0]);
}
