//! Strategies of the hands at the map table, played through its commands and judged by their moves.
#![expect(clippy::cast_precision_loss, reason = "what a test counts and draws is small")]

use super::Played;
use super::typed::numbers;
use needlewise::angle::Angle;
use needlewise::maptable::{Exercise, LineName, Move, Table, Task, parse_command, see};
use needlewise::problem::{FieldKind, Problem, Question, TableProblem, Verdict};
use std::collections::BTreeMap;

/// How many numbers of a text a strategy looks at.
const NUMBERS: usize = 4;

/// The hands at the table of one problem.
struct Hands<'a> {
    exercise: &'a Exercise,
    names: Vec<&'a str>,
    now: Table,
    moves: Vec<Move>,
}

impl Hands<'_> {
    /// Makes a command. What cannot be made as things lie leaves them as they are, as on a screen.
    fn make(&mut self, command: &str) {
        let made = parse_command(command, &self.names).unwrap_or_else(|error| panic!("{command}: {error}")).rounded();
        if let Ok(after) = self.now.after(made, &self.exercise.lines) {
            self.now = after;
            self.moves.push(made);
        }
    }

    /// Turns something by so much, clockwise positive.
    fn turn(&mut self, what: &str, by: Angle) {
        let by = by.wrapped_half();
        let way = if by < Angle::ZERO { "counterclockwise" } else { "clockwise" };
        self.make(&format!("{what} {way} {:.1}", by.abs().degrees()));
    }

    /// How far the orienting arrow must turn to lie under the needle.
    fn to_box(&self) -> Angle {
        see(&self.now, &self.exercise.site(), &self.exercise.lines).needle_from_box
    }

    /// Turns the dial until its lines run along these lines of the map; the number falls as the dial turns clockwise.
    fn dial_along(&mut self, line: LineName) {
        if let Some(toward) = self.exercise.lines.toward(line) {
            let number = (self.now.arrow_on_map().angle() - toward.angle()).wrapped();
            self.make(&format!("dial {:.1}", number.degrees()));
        }
    }

    fn read(&mut self, number: Angle) {
        self.make(&format!("read {:.1}", number.wrapped().degrees()));
    }
}

/// A number that somebody may set: its name, and itself in one problem.
fn settings(problem: &Problem, table: &TableProblem) -> Vec<(String, Option<Angle>)> {
    let mut all = vec![
        ("as it stands".to_owned(), None),
        ("000".to_owned(), Some(Angle::ZERO)),
        ("180".to_owned(), Some(Angle::from_degrees(180.0))),
    ];
    let drawn = table.map.as_ref().map(|_| table.exercise.printed.angle());
    let told = numbers(problem.prompt()).into_iter().filter(|number| *number <= 360.0).take(NUMBERS).enumerate();
    let mut seen: Vec<(String, Angle)> = told.map(|(at, it)| (format!("#{at}"), Angle::from_degrees(it))).collect();
    // What the diagram on the sheet prints.
    let drawn = drawn.map(Angle::abs).filter(|drawn| seen.iter().all(|(_, told)| told != drawn));
    seen.extend(drawn.map(|angle| ("printed on the map".to_owned(), angle)));
    for (name, number) in &seen {
        all.push((name.clone(), Some(*number)));
        all.push((format!("360 − {name}"), Some((-*number).wrapped())));
    }
    for (at, (name, one)) in seen.iter().enumerate() {
        for (other_name, other) in &seen[at + 1..] {
            all.push((format!("{name} + {other_name}"), Some((*one + *other).wrapped())));
            all.push((format!("{name} − {other_name}"), Some((*one - *other).wrapped())));
            all.push((format!("{other_name} − {name}"), Some((*other - *one).wrapped())));
        }
    }
    all
}

/// The lines of a map that an edge can be laid on or a dial brought along: each by its name, and the first and the last offered.
fn lines(table: &TableProblem) -> Vec<(String, LineName)> {
    let offered: Vec<LineName> =
        table.lines_to_lay_on().into_iter().filter(|line| !matches!(line, LineName::Leg(_))).collect();
    let mut all: Vec<(String, LineName)> = offered.iter().map(|line| (line.words(), *line)).collect();
    all.extend(offered.first().map(|line| ("the first line".to_owned(), *line)));
    all.extend(offered.last().map(|line| ("the last line".to_owned(), *line)));
    all
}

/// The command that lays an edge on a line.
fn edge(line: LineName) -> String {
    match line {
        LineName::Magnetic => "edge magnetic".to_owned(),
        LineName::True => "edge true".to_owned(),
        LineName::Grid => "edge grid".to_owned(),
        LineName::Across => "edge across".to_owned(),
        LineName::Border => "edge border".to_owned(),
        LineName::Prong => "edge prong".to_owned(),
        LineName::Leg(leg) => format!("edge {} {}", leg.from.letter(), leg.to.letter()),
    }
}

/// Plays every strategy that suits the task of one problem; tells its name, and whether it was right.
fn strategies(problem: &Problem, table: &TableProblem, tell: &mut dyn FnMut(String, bool)) {
    let exercise = &table.exercise;
    let names: Vec<&str> = match &exercise.task {
        Task::Follow { landmarks, .. } => landmarks.iter().map(|mark| &*mark.name).collect(),
        _ => Vec::new(),
    };
    let mut play = |name: String, work: &dyn Fn(&mut Hands<'_>)| {
        let mut hands = Hands { exercise, names: names.clone(), now: exercise.start, moves: Vec::new() };
        work(&mut hands);
        tell(name, table.judge(problem, &hands.moves).judgement.verdict == Verdict::Right);
    };
    let settings = settings(problem, table);
    match &exercise.task {
        Task::Orient(_) => {
            for (line, laid) in lines(table) {
                for (number, set) in &settings {
                    for (end, to_box) in [("north", Angle::ZERO), ("south", Angle::from_degrees(180.0))] {
                        play(format!("dial {number}, edge on {line}, turned until boxed {end}"), &|hands| {
                            set.iter().for_each(|set| hands.make(&format!("dial {:.1}", set.degrees())));
                            hands.make(&edge(laid));
                            let by = hands.to_box() + to_box;
                            hands.turn("both", by);
                            hands.make("up");
                            hands.make("done");
                        });
                    }
                }
                play(format!("edge on {line}, dial turned until boxed"), &|hands| {
                    hands.make(&edge(laid));
                    let by = hands.to_box();
                    hands.turn("dial", by);
                    hands.make("done");
                });
            }
            // The map turned until its lines run as the needle does.
            play("map alone turned until the needle runs along its border".to_owned(), &|hands| {
                let needle = hands.exercise.site().needle();
                let by = hands.now.map().turn_to(needle);
                hands.turn("map", by);
                hands.make("done");
            });
        }
        Task::MapBearing { leg, .. } => {
            let leg = LineName::Leg(*leg);
            for (line, along) in lines(table) {
                play(format!("edge on the leg, dial along {line}, read"), &|hands| {
                    hands.make(&edge(leg));
                    hands.dial_along(along);
                    let shown = hands.now.dial();
                    hands.read(shown);
                });
            }
            play("edge on the leg, dial until boxed, read".to_owned(), &|hands| {
                hands.make(&edge(leg));
                let by = hands.to_box();
                hands.turn("dial", by);
                let shown = hands.now.dial();
                hands.read(shown);
            });
            for (number, set) in &settings {
                play(format!("edge on the leg, read {number}"), &|hands| {
                    hands.make(&edge(leg));
                    let shown = set.unwrap_or(hands.now.dial());
                    hands.read(shown);
                });
            }
        }
        Task::OrientedBearing { legs, bearing_asked, .. } => {
            let mut says: Vec<(String, Option<(Angle, bool)>)> = vec![("as read".to_owned(), None)];
            if *bearing_asked {
                let told = settings.iter().filter_map(|(name, set)| Some((name, (*set)?)));
                says.extend(told.flat_map(|(name, set)| {
                    [(format!("{name} added"), Some((set, true))), (format!("only {name}"), Some((set, false)))]
                }));
            }
            let mut ways: Vec<(String, Option<LineName>)> = vec![("until boxed".to_owned(), None)];
            ways.extend(lines(table).into_iter().map(|(name, line)| (format!("along {name}"), Some(line))));
            for (way, along) in &ways {
                for (said, say) in &says {
                    play(format!("edge on each leg, dial {way}, read, bearing {said}"), &|hands| {
                        for leg in legs {
                            hands.make(&edge(LineName::Leg(*leg)));
                            if let Some(line) = along {
                                hands.dial_along(*line);
                            } else {
                                let by = hands.to_box();
                                hands.turn("dial", by);
                            }
                            let shown = hands.now.dial();
                            hands.read(shown);
                        }
                        if *bearing_asked {
                            let shown = hands.now.dial();
                            let bearing = match say {
                                None => shown,
                                Some((set, true)) => (shown + *set).wrapped(),
                                Some((set, false)) => *set,
                            };
                            hands.make(&format!("bearing {:.1}", bearing.degrees()));
                        }
                    });
                }
            }
        }
        Task::Follow { landmarks, .. } => {
            for at in 0..landmarks.len() {
                play(format!("always choice {}", at + 1), &|hands| hands.make(&format!("choose {}", at + 1)));
            }
            let ahead = |arrow: Angle| {
                let off = |at: &usize| (landmarks[*at].azimuth.angle() - arrow).wrapped_half().abs();
                (0..landmarks.len()).min_by(|one, other| off(one).partial_cmp(&off(other)).expect("numbers"))
            };
            let (start, needle) = (exercise.start.baseplate().angle(), exercise.site().needle().angle());
            for (name, toward) in [("as one stands", start), ("along the needle", needle)] {
                let seen = ahead(toward).map_or(1, |at| at + 1);
                play(format!("what lies ahead {name}"), &|hands| hands.make(&format!("choose {seen}")));
            }
            for (number, set) in &settings {
                for (end, to_box) in [("north", Angle::ZERO), ("south", Angle::from_degrees(180.0))] {
                    play(format!("dial {number}, oneself turned until boxed {end}"), &|hands| {
                        set.iter().for_each(|set| hands.make(&format!("dial {:.1}", set.degrees())));
                        let by = hands.to_box() + to_box;
                        hands.turn("myself", by);
                        let seen = ahead(hands.now.baseplate().angle()).map_or(1, |at| at + 1);
                        hands.make(&format!("choose {seen}"));
                    });
                }
            }
        }
        Task::BackSight { start_mark, .. } => {
            let Question::Table(fields) = problem.question() else { return };
            let FieldKind::Choice(words) = &fields[0].kind else { return };
            for at in 0..words.len() {
                let say = ["left", "on", "right", "cannot"][at];
                play(format!("always {say}"), &|hands| hands.make(say));
            }
            for (number, set) in &settings {
                for (end, to_box) in [("north", Angle::ZERO), ("south", Angle::from_degrees(180.0))] {
                    play(format!("dial {number}, oneself turned until boxed {end}, said as it looks"), &|hands| {
                        set.iter().for_each(|set| hands.make(&format!("dial {:.1}", set.degrees())));
                        let by = hands.to_box() + to_box;
                        hands.turn("myself", by);
                        let off = hands.now.baseplate().turn_to(*start_mark).wrapped_half().degrees();
                        hands.make(if off.abs() < 3.0 {
                            "on"
                        } else if off > 0.0 {
                            "right"
                        } else {
                            "left"
                        });
                    });
                }
            }
        }
        Task::Take(sighting) => {
            let mut aims: Vec<(String, usize)> =
                (0..sighting.marks.len()).map(|at| (format!("aim at mark {}", at + 1), at)).collect();
            aims.push(("aim at the mark".to_owned(), sighting.target));
            let says: Vec<(String, Option<Angle>)> = match exercise.second_north() {
                Some(_) => settings.iter().filter(|(name, _)| name != "as it stands").cloned().collect(),
                None => vec![("as read".to_owned(), None)],
            };
            for (aim, at) in &aims {
                for (dial, boxes) in [("dial until boxed", true), ("dial left", false)] {
                    for (said, change) in &says {
                        for trust in ["trust", "doubt"] {
                            if !exercise.asks_trust() && trust == "doubt" {
                                continue;
                            }
                            let adds = if exercise.second_north().is_some() { said.as_str() } else { trust };
                            play(format!("{aim}, {dial}, read, {adds}"), &|hands| {
                                let by = hands.now.baseplate().turn_to(sighting.marks[*at].azimuth);
                                hands.turn("myself", by);
                                if boxes {
                                    let by = hands.to_box();
                                    hands.turn("dial", by);
                                }
                                let shown = hands.now.dial();
                                hands.read(shown);
                                if exercise.second_north().is_some() {
                                    let second = (shown + change.unwrap_or(Angle::ZERO)).wrapped();
                                    hands.make(&format!("bearing {:.1}", second.degrees()));
                                }
                                if exercise.asks_trust() {
                                    hands.make(trust);
                                }
                            });
                        }
                    }
                }
            }
            play("oneself turned until boxed, read".to_owned(), &|hands| {
                let by = hands.to_box();
                hands.turn("myself", by);
                let shown = hands.now.dial();
                hands.read(shown);
            });
        }
        Task::Around(around) => {
            let lies = exercise.start.map().angle();
            let nearest = (-lies).wrapped_half();
            let quarter = Angle::from_degrees(90.0);
            let by_line =
                if nearest.abs() > quarter { (nearest + Angle::from_degrees(180.0)).wrapped_half() } else { nearest };
            let mut turns = vec![
                ("its top straight ahead", around.facing.angle() - lies),
                ("its top to oneself", around.facing.angle() - lies + Angle::from_degrees(180.0)),
                ("half a circle", Angle::from_degrees(180.0)),
                ("a quarter clockwise", quarter),
                ("a quarter counterclockwise", -quarter),
            ];
            if around.side().is_some() {
                turns.push(("along the line, the nearer way", by_line));
                turns.push(("along the line, the farther way", by_line + Angle::from_degrees(180.0)));
            }
            for (name, by) in turns {
                play(format!("map turned: {name}"), &|hands| {
                    hands.turn("map", by);
                    hands.make("done");
                });
            }
        }
        Task::SetDial { .. } => {}
    }
}

/// Every strategy of the hands.
pub fn play(problems: &[&Problem]) -> Vec<Played> {
    let mut right: BTreeMap<String, usize> = BTreeMap::new();
    for problem in problems {
        let table = problem.table().expect("a table");
        strategies(problem, &table, &mut |name, is_right| *right.entry(name).or_default() += usize::from(is_right));
    }
    let fields = problems[0].question().fields();
    let guess = fields.iter().map(|field| field.choices().map_or(0.0, |it| 1.0 / it.len() as f64)).product();
    let played = |(strategy, right): (String, usize)| {
        // Who sets a number has worked, however blindly; only who says something at once is guessing.
        let chance = if strategy.starts_with("dial") { 0.0 } else { guess };
        Played { strategy, right, of: problems.len(), chance }
    };
    right.into_iter().map(played).collect()
}
