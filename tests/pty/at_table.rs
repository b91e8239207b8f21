//! The keys of right work at the map table, found by working at one beside the program.
#![expect(clippy::cast_possible_truncation, reason = "what a test counts and draws is small")]

use crossterm::event::{KeyCode, KeyEvent};
use needlewise::angle::Angle;
use needlewise::maptable::{Hold, LineName, Place, Task, Way, see};
use needlewise::problem::TableProblem;
use needlewise::tui::keys::{Press, meaning};
use needlewise::tui::screens::practice::Msg;
use needlewise::tui::screens::table::{Desk, Phase};
use needlewise::tui::screens::table_keys::keys;

struct Hands {
    desk: Desk,
    keys: String,
}

/// The keys, Enter included.
pub fn right(table: &TableProblem) -> String {
    let mut hands = Hands { desk: Desk::new(table, true), keys: String::new() };
    match &table.exercise.task {
        Task::Orient(north) => {
            hands.dial(table.exercise.wanted_dial().unwrap());
            hands.edge(LineName::of(*north));
            hands.boxed(Hold::Both, false);
        }
        Task::OrientedBearing { .. } | Task::MapBearing { .. } => {
            for leg in table.exercise.legs() {
                hands.edge(LineName::Leg(leg));
                match table.exercise.task {
                    Task::MapBearing { north, .. } => {
                        let by = table.exercise.drawn(north) - hands.seen().dial_from_map;
                        hands.turn(Hold::Dial, by.wrapped_half());
                    }
                    _ => hands.boxed(Hold::Dial, false),
                }
                hands.press("<enter>");
                let number = hands.desk.now.dial().degrees().round().rem_euclid(360.0);
                hands.press(&number.to_string());
                hands.press("<enter>");
                if table.exercise.asks_bearing() {
                    let bearing = table.exercise.magnetic_bearing(leg).unwrap().degrees().round();
                    hands.press(&bearing.to_string());
                    hands.press("<enter>");
                }
            }
            return hands.keys;
        }
        Task::Follow { .. } => {
            hands.dial(table.exercise.wanted_dial().unwrap());
            hands.boxed(Hold::Oneself, false);
            hands.press("<enter>");
            let ahead = table.exercise.landmark_near(hands.desk.now.baseplate()).unwrap();
            hands.press(&(ahead + 1).to_string());
        }
        Task::BackSight { start_mark, doubt, .. } => {
            hands.dial(table.exercise.wanted_dial().unwrap());
            hands.boxed(Hold::Oneself, true);
            let off = hands.desk.now.baseplate().turn_to(*start_mark).degrees();
            hands.press("<enter>");
            hands.press(if doubt.holds() {
                "4"
            } else if off > 2.0 {
                "3"
            } else if off < -2.0 {
                "1"
            } else {
                "2"
            });
        }
        Task::Take(sighting) => {
            let by = hands.desk.now.baseplate().turn_to(sighting.target().unwrap().azimuth);
            hands.turn(Hold::Oneself, by);
            hands.boxed(Hold::Dial, false);
            hands.press("<enter>");
            let read = hands.desk.now.dial();
            hands.press(&read.degrees().round().rem_euclid(360.0).to_string());
            if let Some(north) = table.exercise.second_north() {
                hands.press("<enter>");
                let second = (read + table.exercise.magnetic_from(north)).wrapped();
                hands.press(&second.degrees().round().to_string());
            }
            if let Some(trust) = sighting.trust {
                hands.press("<enter>");
                hands.press(if trust.holds { "1" } else { "2" });
            }
        }
        Task::Around(_) => {
            let by = (-hands.desk.now.map().angle()).wrapped_half();
            hands.turn(Hold::Map, by);
        }
        Task::SetDial { .. } => panic!("the dial is set on its own screen"),
    }
    hands.press("<enter>");
    hands.keys
}

impl Hands {
    fn press(&mut self, typed: &str) {
        self.keys.push_str(typed);
        let codes: Vec<KeyCode> = match typed {
            "<enter>" => vec![KeyCode::Enter],
            "<tab>" => vec![KeyCode::Tab],
            "<up>" => vec![KeyCode::Up],
            "<down>" => vec![KeyCode::Down],
            "<left>" => vec![KeyCode::Left],
            "<right>" => vec![KeyCode::Right],
            typed => typed.chars().map(KeyCode::Char).collect(),
        };
        for code in codes {
            let press = Press { key: KeyEvent::from(code), at: jiff::Timestamp::UNIX_EPOCH, answers: None };
            let Some(Msg::At(act)) = meaning(keys(&self.desk), press.key) else { panic!("{code} means nothing here") };
            self.desk.update(act, press);
        }
    }

    fn seen(&self) -> needlewise::maptable::Seen {
        let exercise = &self.desk.problem.exercise;
        see(&self.desk.now, &exercise.site(), &exercise.lines)
    }

    fn dial(&mut self, number: Angle) {
        assert_eq!(self.desk.phase, Phase::Working);
        self.press(&((number.degrees() * 10.0).round() / 10.0).to_string());
        self.press("<enter>");
    }

    fn edge(&mut self, line: LineName) {
        for _ in 0..12 {
            if self.desk.now.place() == Place::Along(line) {
                break;
            }
            self.press("e");
        }
        if self.seen().edge.expect("the edge lies on the line").way == Way::Back {
            self.press("r");
        }
    }

    fn boxed(&mut self, hold: Hold, south: bool) {
        let off = self.seen().needle_from_box;
        let by = if south { (off + Angle::from_degrees(180.0)).wrapped_half() } else { off };
        self.turn(hold, by);
    }

    fn turn(&mut self, hold: Hold, by: Angle) {
        while self.desk.held != hold {
            self.press("<tab>");
        }
        let whole = by.degrees().round() as i32;
        let (ten, one) = if whole < 0 { ("<up>", "<left>") } else { ("<down>", "<right>") };
        for _ in 0..whole.abs() / 10 {
            self.press(ten);
        }
        for _ in 0..whole.abs() % 10 {
            self.press(one);
        }
    }
}
