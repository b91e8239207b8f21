//! Tests that drive the table by its moves.

mod bearings;
mod orienting;
mod properties;
mod sights;
mod told;

use super::*;
use crate::angle::{Angle, Bearing, Convergence, Declination, North, True};

pub(super) fn angle(degrees: f64) -> Angle {
    Angle::from_degrees(degrees)
}

pub(super) fn azimuth(degrees: f64) -> Bearing<True> {
    Bearing::from_degrees(degrees)
}

pub(super) fn leg(from: char, to: char) -> Leg {
    Leg::new(from, to).unwrap()
}

/// The figures of a place, in degrees.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ground {
    pub declination: f64,
    pub printed: f64,
    pub convergence: f64,
    pub iron: f64,
}

/// Declination 17° W as printed, convergence 2.5° E, no iron.
pub(super) const GROUND: Ground = Ground { declination: -17.0, printed: -17.0, convergence: 2.5, iron: 0.0 };

impl Ground {
    /// The map: its norths, a border along the grid, a prong not to scale, and the legs P–Q, Q–S and S–P.
    pub fn lines(self) -> MapLines {
        let printed = Declination::from_degrees(self.printed);
        let mut lines = MapLines::norths(printed, Convergence::from_degrees(self.convergence));
        for (name, toward) in [
            (LineName::Across, 90.0 + self.convergence),
            (LineName::Border, self.convergence),
            (LineName::Prong, self.printed - 13.0),
            (LineName::Leg(leg('P', 'Q')), 60.0),
            (LineName::Leg(leg('Q', 'S')), 170.0),
            (LineName::Leg(leg('S', 'P')), 290.0),
        ] {
            lines = lines.with(MapLine::new(name, azimuth(toward))).unwrap();
        }
        lines
    }

    /// A task that begins with the map at azimuth 40, the compass in the hand at 100, and 200 on the dial.
    pub fn exercise(self, task: Task) -> Exercise {
        let map = if let Task::OrientedBearing { lies, .. } = &task { *lies } else { azimuth(40.0) };
        Exercise {
            task,
            start: Table::new(map, azimuth(100.0), angle(200.0)),
            declination: Declination::from_degrees(self.declination),
            printed: Declination::from_degrees(self.printed),
            convergence: Convergence::from_degrees(self.convergence),
            iron: angle(self.iron),
            graduation: angle(2.0),
            lines: self.lines(),
        }
    }

    pub fn orient(self, north: North) -> Hands {
        Hands::at(self.exercise(Task::Orient(north)))
    }
}

/// Somebody at the table.
#[derive(Clone)]
pub(super) struct Hands {
    pub exercise: Exercise,
    pub moves: Vec<Move>,
    pub now: Table,
}

impl Hands {
    pub fn at(exercise: Exercise) -> Hands {
        Hands { now: exercise.start, exercise, moves: Vec::new() }
    }

    pub fn make(mut self, made: Move) -> Hands {
        self.now = self.now.after(made, &self.exercise.lines).unwrap();
        self.moves.push(made);
        self
    }

    pub fn dial(self, number: f64) -> Hands {
        self.make(Move::SetDial(angle(number)))
    }

    pub fn edge(self, name: LineName) -> Hands {
        self.make(Move::Edge(name, Way::Ahead))
    }

    pub fn edge_back(self, name: LineName) -> Hands {
        self.make(Move::Edge(name, Way::Back))
    }

    pub fn leg(self, from: char, to: char) -> Hands {
        self.edge(LineName::Leg(leg(from, to)))
    }

    pub fn seen(&self) -> Seen {
        see(&self.now, &self.exercise.site(), &self.exercise.lines)
    }

    /// Turns something clockwise until the needle's north end lies in the orienting arrow.
    pub fn box_by(self, hold: Hold) -> Hands {
        let by = self.seen().needle_from_box;
        self.make(hold.turn(by))
    }

    /// The same with the south end.
    pub fn box_south_by(self, hold: Hold) -> Hands {
        let by = (self.seen().needle_from_box + angle(180.0)).wrapped_half();
        self.make(hold.turn(by))
    }

    /// Turns the dial until its N points so far clockwise of the map's true north.
    pub fn dial_n_to(self, from_map: f64) -> Hands {
        let by = (angle(from_map) - self.seen().dial_from_map).wrapped_half();
        self.make(Move::TurnDial(by))
    }

    pub fn turn(self, hold: Hold, by: f64) -> Hands {
        self.make(hold.turn(angle(by)))
    }

    pub fn up(self) -> Hands {
        self.make(Move::TakeUp)
    }

    pub fn read(self, number: f64) -> Hands {
        self.make(Move::Read(angle(number)))
    }

    /// Takes the compass up and says what the dial shows.
    pub fn read_dial(self) -> Hands {
        let up = self.up();
        let shown = up.now.dial();
        up.make(Move::Read(shown))
    }

    pub fn judged(&self) -> TableJudgement {
        judge(&self.exercise, &self.moves)
    }

    /// Fails unless exactly these faults are found, and the whole is not right.
    #[track_caller]
    pub fn finds(&self, faults: &[Fault]) -> TableJudgement {
        let judged = self.judged();
        assert_eq!(judged.procedure, faults, "{:?}", judged.lines());
        assert!(!judged.right);
        judged
    }

    /// Fails unless all is right.
    #[track_caller]
    pub fn is_right(&self) -> TableJudgement {
        let judged = self.judged();
        assert!(judged.right && judged.procedure.is_empty(), "{:?}", judged.lines());
        judged
    }
}

/// How the map lies off, in degrees.
pub(super) fn map_off(judged: &TableJudgement) -> f64 {
    match judged.state {
        StateVerdict::Map { off, .. } => off.degrees(),
        _ => panic!("not a task about the map"),
    }
}

#[test]
fn a_dial_is_set_or_the_slip_is_named() {
    let hands = || Hands::at(GROUND.exercise(Task::SetDial { number: angle(65.0) }));
    hands().dial(65.0).is_right();
    hands().turn(Hold::Dial, 135.0).is_right();
    hands().dial(66.0).is_right();
    hands().dial(245.0).finds(&[Fault::DialReversed]);
    // From 200 to 65 is 135 clockwise; the other way round brings 335.
    hands().turn(Hold::Dial, -135.0).finds(&[Fault::TurnedOtherWay]);
    // The needle points to azimuth 343, which is 243 clockwise of the travel arrow: reading 182 brings 65 there.
    hands().dial(182.0).finds(&[Fault::SetAtNeedle]);
    let judged = hands().dial(70.0).finds(&[Fault::DialOff]);
    assert_eq!(judged.state.words(), "The dial reads 070, 5° too much: 065 is right.");
}
