//! The guided showing: the right procedure, step by step, from however things lie to the end.

mod around;
mod take;

use super::amount::{bare_size, figures, off_words, shows, tenth, turn, turn_words};
use super::judge::stands;
use super::lines::{Leg, LineName, Way, on_the_map};
use super::moves::Move;
use super::table::{Place, Table};
use super::task::{Doubt, Exercise, Task};
use crate::angle::{Angle, Bearing, ConversionRule, EastWest, North, True, declination_words};
use std::borrow::Cow;
use std::fmt::Write;

/// One step: what to do and why, the moves that do it, and how things then lie.
#[derive(Clone, Debug, PartialEq)]
pub struct ShownStep {
    /// What is done, in a sentence or two.
    pub words: String,
    /// The moves; none where things lie as they should already.
    pub moves: Vec<Move>,
    /// How everything lies after the step.
    pub state: Table,
}

/// The right procedure from this state: the start of the exercise, or what a learner ended with. Go forward and back by
/// the states of the steps. Played from there, it is judged right without a fault.
#[must_use]
pub fn showing(exercise: &Exercise, from: &Table) -> Vec<ShownStep> {
    let begun = exercise.from_state(from);
    let mut shown = Shown { exercise: &begun, now: begun.start, steps: Vec::with_capacity(8) };
    match &begun.task {
        Task::Orient(north) => shown.orient(*north),
        Task::OrientedBearing { legs, lies, .. } => shown.oriented_bearing(legs, *lies),
        Task::MapBearing { leg, north } => shown.map_bearing(*leg, *north),
        Task::Follow { bearing, north, .. } => shown.follow(*bearing, *north),
        Task::BackSight { walked, start_mark, doubt } => shown.back_sight(walked.angle(), *start_mark, *doubt),
        Task::Take(sighting) => shown.take(sighting),
        Task::Around(around) => shown.around(around),
        Task::SetDial { number } => shown.set_number(*number, String::new()),
    }
    shown.step("Done.".to_owned(), vec![Move::Done]);
    shown.steps
}

struct Shown<'a> {
    exercise: &'a Exercise,
    now: Table,
    steps: Vec<ShownStep>,
}

impl Shown<'_> {
    fn step(&mut self, words: String, moves: Vec<Move>) {
        self.now = self.now.after_all(&moves, &self.exercise.lines);
        self.steps.push(ShownStep { words, moves, state: self.now });
    }

    /// Brings a number to the index line; `why` comes first.
    fn set_number(&mut self, number: Angle, mut why: String) {
        let number = tenth(number).wrapped();
        if !why.is_empty() {
            why.push(' ');
        }
        if shows(turn(self.now.dial(), number)) {
            let _ = write!(why, "Turn the dial until {} stands at the index line.", figures(number));
            self.step(why, vec![Move::SetDial(number)]);
        } else {
            let _ = write!(why, "{} stands at the index line already: leave the dial as it is.", figures(number));
            self.step(why, Vec::new());
        }
    }

    /// Lays the edge on a line, arrow ahead.
    fn lay(&mut self, name: LineName) {
        let line = self.exercise.lines.get(name).map(|line| line.name);
        let exact = self.exercise.lines.toward(name).map(|toward| toward.turn_to(self.now.arrow_on_map()));
        let words = format!("Lay the edge along {}, the travel arrow {}.", name.words(), name.end_words(Way::Ahead));
        let lies = line.is_some_and(|line| self.now.place() == Place::Along(line));
        let moves = if lies && exact.is_some_and(|off| off == Angle::ZERO) {
            Vec::new()
        } else {
            vec![Move::Edge(name, Way::Ahead)]
        };
        self.step(words, moves);
    }

    /// How far the orienting arrow must turn, clockwise positive, to lie under the needle.
    fn to_box(&self) -> Angle {
        self.now.orienting().turn_to(self.exercise.needle())
    }

    fn orient(&mut self, north: North) {
        let wanted = (-self.exercise.magnetic_from(north)).wrapped();
        self.set_number(wanted, dial_reason(self.exercise, north));
        self.lay(LineName::of(north));
        let by = tenth(self.to_box());
        let boxed = "until the needle's north end lies in the head of the orienting arrow";
        if shows(by) {
            let words = format!(
                "Hold the edge on its line and turn map and compass together, {}, {boxed}. The dial stays as it is.",
                turn_words(by)
            );
            self.step(words, vec![Move::TurnBoth(by)]);
        } else {
            self.step("The needle's north end lies in the head of the orienting arrow already.".to_owned(), Vec::new());
        }
        // After right work on an old map, or beside iron, the map does not lie right; then it must not be called oriented.
        let off = self.now.map().angle().wrapped_half();
        let words = if shows(off) {
            let why = off_reason(self.exercise, north);
            format!("The work is done. {why}the map lies {}. Take the compass up.", off_words(off))
        } else {
            "The map is oriented. Leave it lying as it is, and take the compass up.".to_owned()
        };
        self.step(words, vec![Move::TakeUp]);
    }

    fn oriented_bearing(&mut self, legs: &[Leg], lies: Bearing<True>) {
        let back = tenth(self.now.map().turn_to(lies));
        if shows(back) {
            let mut moves = Vec::new();
            if self.now.is_on_map() {
                moves.push(Move::TakeUp);
            }
            moves.push(Move::TurnMap(back));
            self.step(
                format!(
                    "The map has been moved. Turn it back, {}, to how it lay when it was oriented.",
                    turn_words(back)
                ),
                moves,
            );
        }
        for (at, leg) in legs.iter().enumerate() {
            self.lay(LineName::Leg(*leg));
            // The dial turned clockwise carries the orienting arrow with it.
            let by = tenth(self.to_box());
            let boxed = "until the needle's north end lies in the head of the orienting arrow";
            if shows(by) {
                // Once is enough: the legs after the first are done alike.
                let words = match at {
                    0 => format!(
                        "The needle lies on magnetic north. So leave the map alone and turn the dial, {}, {boxed}: then the \
                         dial counts from magnetic north.",
                        turn_words(by)
                    ),
                    _ => format!("Leave the map alone. Turn the dial, {}, {boxed}.", turn_words(by)),
                };
                self.step(words, vec![Move::TurnDial(by)]);
            } else {
                self.step("The needle is boxed already: leave the dial as it is.".to_owned(), Vec::new());
            }
            if self.exercise.asks_bearing() {
                let number = self.read_off("That is what the dial shows.");
                self.allow_for_lie(*leg, number);
            } else {
                self.read(&format!("the magnetic bearing from {} to {}", leg.from, leg.to));
            }
        }
    }

    /// From the number read on a map that lies off to the magnetic bearing.
    fn allow_for_lie(&mut self, leg: Leg, read: Angle) {
        let bearing = tenth(self.exercise.magnetic_bearing(leg).unwrap_or(read)).wrapped();
        let lie = turn(bearing, read);
        let words = if shows(lie) {
            let (what, sign) = if lie > Angle::ZERO { ("large: take it off", '−') } else { ("small: add it", '+') };
            format!(
                "The line was drawn for {}, and today the needle points {}. So the map lies {}, and the number is that much \
                 too {what}. {} {sign} {} gives {}, the magnetic bearing from {} to {}.",
                declination_words(self.exercise.printed.angle()),
                declination_words(self.exercise.declination.angle()),
                off_words(lie),
                figures(read),
                bare_size(lie),
                figures(bearing),
                leg.from,
                leg.to
            )
        } else {
            let why = if shows(self.exercise.iron) {
                "Iron turns the needle, but here it turned the map alike when that was oriented"
            } else {
                "The line is one of today"
            };
            format!(
                "{why}, so the number is the magnetic bearing from {} to {}: {}.",
                leg.from,
                leg.to,
                figures(bearing)
            )
        };
        self.step(words, vec![Move::Bearing(bearing)]);
    }

    fn map_bearing(&mut self, leg: Leg, north: North) {
        self.lay(LineName::Leg(leg));
        let along = self.now.map().turned(self.exercise.drawn(north));
        let by = tenth(self.now.orienting().turn_to(along));
        let lines = on_the_map(north);
        if shows(by) {
            let words = format!(
                "The bearing is counted from the map's {lines}, so forget the needle. Turn the dial, {}, until its orienting \
                 lines run along, its N toward the north of the map: then the dial counts from that north.",
                turn_words(by)
            );
            self.step(words, vec![Move::TurnDial(by)]);
        } else {
            self.step(format!("The dial's lines run along the map's {lines} already, its N to the north."), Vec::new());
        }
        self.read(&format!("the {} bearing from {} to {}", north.word(), leg.from, leg.to));
    }

    fn read(&mut self, what: &str) {
        self.read_off(&format!("That is {what}; nothing is added and nothing taken off."));
    }

    /// Takes the compass up and reads; the number.
    fn read_off(&mut self, meaning: &str) -> Angle {
        let number = tenth(self.now.dial()).wrapped();
        let words = format!("Take the compass up and read at the index line: {}. {meaning}", figures(number));
        self.step(words, vec![Move::TakeUp, Move::Read(number)]);
        number
    }

    fn take_up(&mut self) {
        if self.now.is_on_map() {
            self.step("Take the compass up and hold it level before you.".to_owned(), vec![Move::TakeUp]);
        }
    }

    fn follow(&mut self, bearing: Angle, north: North) {
        self.take_up();
        self.set_number(bearing - self.exercise.magnetic_from(north), given_reason(self.exercise, bearing, north));
        let by = tenth(self.to_box());
        if shows(by) {
            let words = format!(
                "The travel arrow stands {}° clockwise of the dial's N, and the needle stays on magnetic north. So bring the orienting \
                 arrow, which is the dial's N, under it: turn yourself, compass in hand, {}, until the needle's north end lies \
                 in the arrow's head.",
                figures(self.now.dial()),
                turn_words(by)
            );
            self.step(words, vec![Move::TurnSelf(by)]);
        } else {
            self.step("The needle is boxed already: stay as you stand.".to_owned(), Vec::new());
        }
        let chosen = self.exercise.landmark_near(self.now.baseplate());
        if let (Some(number), Task::Follow { landmarks, .. }) = (chosen, &self.exercise.task) {
            let name = landmarks.get(usize::from(number)).map_or("the mark", |landmark| &landmark.name);
            self.step(format!("Look along the travel arrow: ahead lies {name}."), vec![Move::Choose(number)]);
        }
    }

    fn back_sight(&mut self, walked: Angle, start_mark: Bearing<True>, doubt: Doubt) {
        self.take_up();
        self.set_number(
            walked,
            "Looking back you look along the same line, so the bearing that you walk stays on the dial.".to_owned(),
        );
        let by = tenth(self.to_box() + super::amount::HALF_CIRCLE).wrapped_half();
        if shows(by) {
            let words = format!(
                "You face half a circle away from your bearing, and the needle stays where it is: so now its other end belongs \
                 in the arrow. Turn round, {}, until the needle's south end lies in the head of the orienting arrow.",
                turn_words(by)
            );
            self.step(words, vec![Move::TurnSelf(by)]);
        } else {
            self.step("The needle's south end lies in the arrow's head already.".to_owned(), Vec::new());
        }
        let off = self.exercise.ahead().unwrap_or(self.now.baseplate()).turn_to(start_mark);
        let seems = stands(off);
        let seen = match seems {
            super::Stands::OnLine => "The start lies on the travel arrow".to_owned(),
            super::Stands::Left | super::Stands::Right | super::Stands::CannotTell => {
                format!("The start lies {} of the travel arrow", turn_words(off))
            }
        };
        let (words, said) = match doubt.why() {
            Some(why) => {
                let said = super::Stands::CannotTell;
                (format!("{seen}. {why} So {}.", said.sentence()), said)
            }
            // To whom looks back, left and right of the line are the other way round than to whom walks on.
            None if seems == super::Stands::OnLine => (format!("{seen}: as you walk, {}.", seems.sentence()), seems),
            None => {
                let (there, here) = if off.degrees() < 0.0 { ("left", "right") } else { ("right", "left") };
                let words = format!(
                    "{seen}: the line lies to your {there} as you look back, so to your {here} as you walk on. As you walk, {}.",
                    seems.sentence()
                );
                (words, seems)
            }
        };
        self.step(words, vec![Move::Say(said)]);
    }
}

/// Why the map does not lie right after right work.
fn off_reason(exercise: &Exercise, north: North) -> Cow<'static, str> {
    let old = north == North::Magnetic && shows(turn(exercise.printed.angle(), exercise.declination.angle()));
    match (shows(exercise.iron), old) {
        (true, true) => "But iron nearby turns the needle, and the line is an old one: ".into(),
        (true, false) => "But iron nearby turns the needle, and the map with it: ".into(),
        // The sum of what is told next: how far the two lie apart.
        (false, true) => format!(
            "But the line was drawn for {}, and today the needle points {}, and the map goes with it: ",
            declination_words(exercise.printed.angle()),
            declination_words(exercise.declination.angle())
        )
        .into(),
        (false, false) => "Still ".into(),
    }
}

/// Why this number orients the map by a line of this north.
fn dial_reason(exercise: &Exercise, north: North) -> String {
    let angle = exercise.magnetic_from(north);
    let (name, line) = match north {
        North::Magnetic => {
            return "A magnetic-north line points where the needle points, so 000 belongs on the dial.".to_owned();
        }
        North::True => ("declination", "true north"),
        North::Grid => ("G-M angle", "grid north"),
    };
    let given = declination_words(angle);
    match EastWest::of(angle) {
        _ if !shows(angle) => format!("The {name} is nothing here, so 000 belongs on the dial."),
        Some(EastWest::East) => format!(
            "The {name} is {given}: seen from the needle, {line} lies counterclockwise. So 360 less the angle, {}, belongs on the dial.",
            figures(-angle)
        ),
        _ => format!(
            "The {name} is {given}: seen from the needle, {line} lies clockwise. So the angle itself, {}, belongs on the dial.",
            figures(-angle)
        ),
    }
}

/// How a given bearing becomes the number on the dial.
fn given_reason(exercise: &Exercise, bearing: Angle, north: North) -> String {
    let angle = exercise.magnetic_from(north);
    if north == North::Magnetic || !shows(angle) {
        return format!("The bearing is {}° {}.", figures(bearing), north.letter());
    }
    let rule = ConversionRule { from: north, to: North::Magnetic, east: angle };
    let (reason, what) = (rule.reason().map_or_else(String::new, |reason| reason.to_string()), rule.done());
    let sign = if EastWest::of(angle) == Some(EastWest::East) { '−' } else { '+' };
    // Past north the sum is brought back onto the dial before the eyes.
    let sum = tenth(bearing - angle).degrees();
    let past = match sum {
        sum if sum >= 360.0 => format!("gives {sum}, less 360 is"),
        sum if sum < 0.0 => format!("gives −{}, and 360 makes it", -sum),
        _ => "gives".to_owned(),
    };
    format!(
        "The bearing is {}° {}. {reason}: from map to compass {} is {what}, {} {sign} {} {past} {}° M.",
        figures(bearing),
        north.letter(),
        declination_words(angle),
        figures(bearing),
        bare_size(angle),
        figures(bearing - angle)
    )
}
