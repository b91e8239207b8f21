//! The map table: what lies there while it is worked at, and what the keys and the mouse do. The picture is in `table_view`.

use super::layer::Layer;
use super::moving::Moving;
use super::table_looks::Looks;
use super::table_mouse::Grip;
use crate::angle::{Angle, Bearing};
use crate::maptable::{Doubt, Hold, LineName, Move, Picture, Place, Seen, Stands, Table, Task, Way, see};
use crate::numbers::round_from;
use crate::problem::{TRUST, TableProblem};
use crate::session::sentence;
use crate::tui::input::Input;
use crate::tui::keys::Press;
use crossterm::event::KeyCode;
use jiff::Timestamp;
use std::cell::Cell;

/// What is done next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Phase {
    /// Things are turned and laid.
    Working,
    /// The number at the index line is read, the compass in the hand.
    Reading,
    /// The magnetic bearing is said that belongs to the number read.
    Naming,
    /// What is seen is chosen: which of the choices, none at first, so that a key that bounces chooses nothing.
    Looking(Option<usize>),
}

/// A table being worked at.
#[derive(Debug)]
pub struct Desk {
    /// What lies there.
    pub problem: Box<TableProblem>,
    /// How it lies now.
    pub now: Table,
    /// What the hands did.
    pub moves: Vec<Move>,
    /// What is being turned.
    pub held: Hold,
    /// A number being typed.
    pub input: Input,
    /// What is done next.
    pub phase: Phase,
    /// Whether the last key set the dial: an Enter that follows at once may be a bounce.
    just_set: bool,
    /// Whether the last key asked to leave work that would be lost.
    pub(super) leaving: bool,
    /// How many bearings have been read.
    pub read: usize,
    /// Where all that is drawn, while it moves and at rest.
    pub moving: Moving,
    /// What the mouse has taken hold of.
    pub(super) grabbed: Option<Grip>,
    /// What a drag has turned and has not yet been made a move of, in degrees.
    pub(super) rest: f64,
    /// The map as it was drawn last.
    pub layer: Layer,
    /// Where the two looks were drawn last, in cells.
    pub panels: Cell<Looks>,
    /// Why the last key did nothing.
    pub message: Option<String>,
}

/// What a key means at the table.
#[derive(Clone, Copy, Debug)]
pub enum Act {
    /// A step back: out of the number, out of the choice, away.
    Back,
    /// The hint.
    Hint,
    /// The number is typed, or this step is done.
    Enter,
    /// Back from the choices to the compass.
    ToCompass,
    /// So many choices on.
    Look(i32),
    /// The choice with the digit pressed.
    LookAt,
    /// A digit of a number, or its point.
    Digit,
    /// The last digit away.
    RubOut,
    /// Nothing any more, but it is said why.
    Refuse,
    /// The edge along the next line.
    Edge,
    /// The compass end for end.
    Reverse,
    /// Map and compass together are turned.
    Both,
    /// So many on in what is turned.
    Hold(i32),
    /// A turn by so many degrees, clockwise positive; with Shift by ten.
    Turn(i32),
}

/// What follows a key at the table.
#[derive(Debug, PartialEq)]
pub enum After {
    /// Nothing but another picture.
    Stay,
    /// The work is done and is to be judged.
    Judge,
    /// The hint is asked for.
    Hint,
    /// The session is to be ended.
    Leave,
}

impl Desk {
    /// The table as it lies at first.
    #[must_use]
    pub fn new(problem: &TableProblem, still: bool) -> Desk {
        Desk {
            now: problem.exercise.start,
            moves: Vec::new(),
            held: holds(&problem.exercise.task)[0],
            input: Input::default(),
            phase: Phase::Working,
            just_set: false,
            leaving: false,
            read: 0,
            moving: Moving::new(problem.exercise.start, problem.exercise.needle(), still),
            grabbed: None,
            rest: 0.0,
            layer: Layer::default(),
            panels: Cell::new(Looks::default()),
            message: None,
            problem: Box::new(problem.clone()),
        }
    }

    /// Lets what is seen to move go on.
    pub fn tick(&mut self, now: Timestamp) {
        self.moving.tick(&self.now, now);
    }

    /// The choices of what is seen.
    #[must_use]
    pub fn choices(&self) -> Vec<String> {
        match &self.problem.exercise.task {
            Task::Follow { landmarks, .. } => landmarks.iter().map(|mark| mark.name.to_string()).collect(),
            Task::BackSight { doubt, .. } => {
                let offered = SIDES.iter().filter(|side| **side != Stands::CannotTell || *doubt != Doubt::NotAsked);
                offered.map(|side| side.words().to_owned()).collect()
            }
            Task::Take(_) => TRUST.iter().map(|choice| (*choice).to_owned()).collect(),
            _ => Vec::new(),
        }
    }

    /// The line that is to be measured now, in words; nothing where none is.
    fn leg_words(&self) -> String {
        let legs = self.problem.exercise.legs();
        legs.get(self.read).map_or_else(String::new, |leg| LineName::Leg(*leg).words().to_string())
    }

    /// What is seen of the table now.
    #[must_use]
    pub fn seen(&self) -> Seen {
        see(&self.now, &self.problem.exercise.site(), &self.problem.exercise.lines)
    }

    /// Takes in what a key means.
    pub fn update(&mut self, act: Act, press: Press) -> After {
        self.message = None;
        let leaving = std::mem::take(&mut self.leaving);
        let at = press.at;
        match act {
            Act::Back => return self.back(leaving),
            Act::Hint => return After::Hint,
            Act::Enter => return self.enter(at),
            Act::ToCompass => self.phase = Phase::Working,
            Act::Look(by) => self.look(by),
            Act::LookAt => {
                let digit = press.digit().filter(|at| (1..=self.choices().len()).contains(at));
                if let Some(at) = digit {
                    self.phase = Phase::Looking(Some(at - 1));
                }
            }
            Act::Digit => {
                if let KeyCode::Char(digit) = press.key.code
                    && (digit != '.' || !self.input.is_empty())
                {
                    self.type_digit(digit);
                }
            }
            Act::RubOut => self.input.backspace(),
            // The compass is read: moved again, its number would be another one.
            Act::Refuse => self.message = Some("The dial is read. Type the magnetic bearing.".to_owned()),
            Act::Edge => self.next_edge(at),
            Act::Reverse => self.reverse(at),
            Act::Both if holds(&self.problem.exercise.task).contains(&Hold::Both) => {
                self.input.clear();
                self.held = Hold::Both;
            }
            Act::Both => {}
            Act::Hold(by) => self.hold_next(by),
            Act::Turn(degrees) => {
                let degrees = if press.shifted() { 10 * degrees.signum() } else { degrees };
                self.turn(f64::from(degrees), at);
            }
        }
        After::Stay
    }

    /// One step back: out of the number, out of the choice; and away only from work that loses nothing, or when asked twice.
    fn back(&mut self, asked_before: bool) -> After {
        if !self.input.is_empty() {
            self.input.clear();
        } else if (matches!(self.phase, Phase::Looking(_)) && !self.asks_trust()) || self.reads_in_hand() {
            self.phase = Phase::Working;
        } else if self.untouched() || asked_before {
            return After::Leave;
        } else {
            self.leaving = true;
            self.message = Some("Esc once more ends here. This problem is then not recorded.".to_owned());
        }
        After::Stay
    }

    /// Whether a number is read of a compass that stays in the hand: it can be turned again before it is said.
    fn reads_in_hand(&self) -> bool {
        self.phase == Phase::Reading && matches!(self.problem.exercise.task, Task::Take(_))
    }

    fn asks_trust(&self) -> bool {
        self.problem.exercise.asks_trust()
    }

    fn type_digit(&mut self, digit: char) {
        if self.input.text().len() < 6 {
            self.input.insert(digit);
        }
    }

    fn hold_next(&mut self, by: i32) {
        self.input.clear();
        let all = holds(&self.problem.exercise.task);
        let at = all.iter().position(|hold| *hold == self.held).unwrap_or(0);
        self.held = all.get(round_from(at, by, all.len())).copied().unwrap_or(self.held);
    }

    fn turn(&mut self, degrees: f64, at: Timestamp) {
        self.make(self.held.turn(Angle::from_degrees(degrees)), at);
    }

    /// Makes a move; one that cannot be made says why.
    pub(super) fn make(&mut self, made: Move, at: Timestamp) {
        let before = self.now;
        match before.after(made, &self.problem.exercise.lines) {
            Ok(after) => {
                self.now = after;
                self.just_set = false;
                self.note(made);
                self.input.clear();
                if self.phase == Phase::Reading && after.place() != Place::Hand {
                    self.phase = Phase::Working;
                }
                self.moving.go(&self.problem, &before, &after, at);
            }
            Err(error) => self.message = Some(sentence(&error.to_string())),
        }
    }

    /// Turns of the same thing, one after the other, are kept as one.
    fn note(&mut self, made: Move) {
        let joined = match (self.moves.last(), made) {
            (Some(Move::TurnMap(one)), Move::TurnMap(two)) => Some(Move::TurnMap(*one + two)),
            (Some(Move::TurnBoth(one)), Move::TurnBoth(two)) => Some(Move::TurnBoth(*one + two)),
            (Some(Move::TurnDial(one)), Move::TurnDial(two)) => Some(Move::TurnDial(*one + two)),
            (Some(Move::TurnSelf(one)), Move::TurnSelf(two)) => Some(Move::TurnSelf(*one + two)),
            // The edge snaps on the way, so turns of the compass are kept apart.
            _ => None,
        };
        match (joined, self.moves.last_mut()) {
            (Some(joined), Some(last)) => *last = joined,
            _ => self.moves.push(made),
        }
    }

    /// Lays the edge along the next line, the way the travel arrow points already.
    fn next_edge(&mut self, at: Timestamp) {
        let names = self.problem.lines_to_lay_on();
        if names.is_empty() {
            self.message = Some("There is no map to lay the compass on.".to_owned());
            return;
        }
        let legs: Vec<LineName> = names.iter().copied().filter(|name| matches!(name, LineName::Leg(_))).collect();
        let names = if legs.is_empty() { names } else { legs };
        let next = match self.now.place() {
            Place::Along(name) => names.iter().position(|other| *other == name).map_or(0, |at| (at + 1) % names.len()),
            _ => 0,
        };
        let name = names[next];
        let toward = self.problem.exercise.lines.toward(name).map_or(Angle::ZERO, Bearing::angle);
        let off = (toward + self.now.map().angle() - self.now.baseplate().angle()).wrapped_half();
        let way = if off.abs().degrees() <= 90.0 { Way::Ahead } else { Way::Back };
        self.make(Move::Edge(name, way), at);
        self.hold_both_when_set();
    }

    /// With the dial set and the edge on a line, the hands go to the map and turn both.
    fn hold_both_when_set(&mut self) {
        let set = self.now.dial() != self.problem.exercise.start.dial();
        let orients = matches!(self.problem.exercise.task, Task::Orient(_));
        if orients && set && matches!(self.now.place(), Place::Along(_)) {
            self.held = Hold::Both;
        }
    }

    /// Whether turning what is held is what brings the needle into the orienting arrow in this task, as things lie: anything
    /// else would be led into an error.
    #[must_use]
    pub fn turns_to_the_needle(&self) -> bool {
        let set = self.moves.iter().any(|made| matches!(made, Move::SetDial(_) | Move::TurnDial(_)));
        let laid = matches!(self.now.place(), Place::Along(_));
        match self.problem.exercise.task {
            Task::Orient(_) => self.held == Hold::Both && set && laid,
            Task::OrientedBearing { .. } => self.held == Hold::Dial && laid,
            Task::Follow { .. } => self.held == Hold::Oneself && set,
            Task::Take(_) => self.held == Hold::Dial,
            Task::BackSight { .. } | Task::MapBearing { .. } | Task::SetDial { .. } | Task::Around(_) => false,
        }
    }

    /// Turns the compass end for end, on its line or where it is.
    fn reverse(&mut self, at: Timestamp) {
        match (self.seen().edge, self.now.place()) {
            (Some(edge), Place::Along(_)) => self.make(Move::Edge(edge.line, edge.way.opposite()), at),
            (_, Place::Hand) if self.problem.map.is_none() => {
                self.make(Move::TurnSelf(Angle::from_degrees(180.0)), at);
            }
            _ => self.make(Move::TurnCompass(Angle::from_degrees(180.0)), at),
        }
    }

    fn number(&self) -> Option<Angle> {
        let number: f64 = self.input.text().parse().ok()?;
        (0.0..=360.0).contains(&number).then(|| Angle::from_degrees(number))
    }

    fn enter(&mut self, at: Timestamp) -> After {
        if let Phase::Looking(chosen) = self.phase {
            return self.say(chosen);
        }
        if !self.input.is_empty() {
            return self.enter_number(at);
        }
        match &self.problem.exercise.task {
            Task::OrientedBearing { .. } | Task::MapBearing { .. } => match self.phase {
                Phase::Reading => self.message = Some("Type the number at the index line.".to_owned()),
                Phase::Naming => self.message = Some("Type the magnetic bearing.".to_owned()),
                _ if self.now.place() == Place::Hand || self.untouched() => {
                    self.message = Some(format!("First lay the edge along {}: e.", self.leg_words()));
                }
                _ => {
                    self.make(Move::TakeUp, at);
                    self.phase = Phase::Reading;
                }
            },
            Task::Take(_) => match self.phase {
                Phase::Reading => self.message = Some("Type the number at the index line.".to_owned()),
                Phase::Naming => self.message = Some("Type the bearing for the map's lines.".to_owned()),
                _ if self.untouched() => {
                    let held = self.held == Hold::Oneself;
                    let keys = if held { "← and → turn you already" } else { "Tab, then ← and →" };
                    self.message =
                        Some(format!("First turn yourself until the travel arrow points at the mark: {keys}."));
                }
                _ => self.phase = Phase::Reading,
            },
            Task::Follow { .. } | Task::BackSight { .. } => self.phase = Phase::Looking(None),
            Task::Orient(_) | Task::Around(_) | Task::SetDial { .. } if self.untouched() => {
                self.message = Some("Nothing was turned yet. Nothing was recorded.".to_owned());
            }
            Task::Orient(_) if !self.meant() => {
                let laid = self.moves.iter().any(|made| matches!(made, Move::Edge(..)));
                let next = if laid {
                    "Now turn map and compass until the needle is boxed"
                } else {
                    "First lay the edge along a line, e, then turn"
                };
                self.message = Some(format!("{next}. Nothing was recorded."));
            }
            Task::Orient(_) if self.just_set => {
                self.just_set = false;
                self.message = Some("The dial is set. If the map is oriented, press Enter once more.".to_owned());
            }
            Task::Orient(_) | Task::Around(_) | Task::SetDial { .. } => return After::Judge,
        }
        After::Stay
    }

    /// A typed number goes on the dial, or is what was read.
    fn enter_number(&mut self, at: Timestamp) -> After {
        let Some(number) = self.number() else {
            self.message = Some("The dial goes from 0 to 360.".to_owned());
            return After::Stay;
        };
        match self.phase {
            Phase::Naming => {
                self.make(Move::Bearing(number), at);
                return After::Judge;
            }
            Phase::Reading => self.make(Move::Read(number), at),
            Phase::Working | Phase::Looking(_) => {
                self.make(Move::SetDial(number), at);
                self.hold_both_when_set();
                self.just_set = true;
                return After::Stay;
            }
        }
        self.read += 1;
        if self.problem.exercise.second_north().is_some() {
            self.phase = Phase::Naming;
            return After::Stay;
        }
        if self.asks_trust() {
            self.phase = Phase::Looking(None);
            return After::Stay;
        }
        self.phase = Phase::Working;
        if self.read < self.problem.exercise.readings() { After::Stay } else { After::Judge }
    }

    /// Whether somebody could mean the map to be oriented like this: the edge was brought to a line, and then something was
    /// turned. A number typed and a key that bounces are no work.
    fn meant(&self) -> bool {
        let laid = self.moves.iter().position(|made| matches!(made, Move::Edge(..) | Move::TurnCompass(_)));
        let turned = |made: &Move| {
            matches!(made, Move::TurnMap(_) | Move::TurnBoth(_) | Move::TurnDial(_) | Move::TurnCompass(_))
        };
        laid.is_some_and(|laid| self.moves[laid + 1..].iter().any(turned))
    }

    fn untouched(&self) -> bool {
        self.moves.is_empty()
    }

    /// Goes so many choices on, and round at the ends.
    fn look(&mut self, by: i32) {
        let Phase::Looking(chosen) = self.phase else { return };
        let count = self.choices().len();
        // Where nothing is chosen, one step forward comes to the first and one back to the last.
        let from = chosen.unwrap_or(if by > 0 { count.saturating_sub(1) } else { 0 });
        self.phase = Phase::Looking(Some(round_from(from, by, count)));
    }

    /// Says what is seen.
    fn say(&mut self, chosen: Option<usize>) -> After {
        let Some(chosen) = chosen else {
            self.message = Some("First choose what you see.".to_owned());
            return After::Stay;
        };
        let made = match self.problem.exercise.task {
            Task::BackSight { .. } => Move::Say(SIDES.get(chosen).copied().unwrap_or(Stands::OnLine)),
            Task::Take(_) => Move::Trust(chosen == 0),
            _ => Move::Choose(u8::try_from(chosen).unwrap_or(0)),
        };
        self.note(made);
        After::Judge
    }

    /// Looks at the picture of the table.
    pub fn picture<T>(&self, look: impl FnOnce(&Picture<'_>) -> T) -> T {
        self.problem.picture(self.moving.pose(), false, look)
    }
}

/// Where one can stand, in the order offered.
const SIDES: [Stands; 4] = [Stands::Left, Stands::OnLine, Stands::Right, Stands::CannotTell];

/// What can be turned in a task, the likeliest first.
#[must_use]
pub const fn holds(task: &Task) -> &'static [Hold] {
    match task {
        Task::Orient(_) => &[Hold::Dial, Hold::Compass, Hold::Both, Hold::Map],
        Task::OrientedBearing { .. } | Task::MapBearing { .. } => &[Hold::Dial, Hold::Compass, Hold::Map, Hold::Both],
        Task::Follow { .. } | Task::BackSight { .. } => &[Hold::Dial, Hold::Oneself],
        Task::Take(_) => &[Hold::Oneself, Hold::Dial],
        Task::Around(_) => &[Hold::Map],
        Task::SetDial { .. } => &[Hold::Dial],
    }
}
