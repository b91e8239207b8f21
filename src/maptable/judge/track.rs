//! An exercise played move by move, and what its history tells.

use crate::angle::Angle;
use crate::maptable::amount::{LAID_WITHIN, turn, within};
use crate::maptable::{Boxed, Exercise, Fault, LineName, Move, Place, Seen, Table, Way, see};

/// The states of an exercise: one at the start and one after each move.
pub(super) struct Track {
    pub states: Vec<Table>,
    pub moves: Vec<Move>,
}

impl Track {
    /// Plays the moves that can be made, up to the first [`Move::Done`].
    pub fn play(exercise: &Exercise, moves: &[Move]) -> Track {
        let mut track = Track { states: vec![exercise.start], moves: Vec::with_capacity(moves.len()) };
        let mut now = exercise.start;
        for made in moves.iter().take_while(|made| **made != Move::Done) {
            if let Ok(next) = now.after(*made, &exercise.lines) {
                now = next;
                track.states.push(next);
                track.moves.push(made.rounded());
            }
        }
        track
    }

    /// The index of the last state.
    pub fn end(&self) -> usize {
        self.states.len() - 1
    }

    /// The last state.
    pub fn last(&self) -> &Table {
        &self.states[self.end()]
    }

    /// What is seen in a state.
    pub fn seen(&self, exercise: &Exercise, at: usize) -> Seen {
        see(&self.states[at], &exercise.site(), &exercise.lines)
    }

    /// The last state from `from` to `to` in which the compass lies on the map; `to` when there is none.
    pub fn last_on_map(&self, from: usize, to: usize) -> usize {
        (from..=to).rev().find(|index| self.states[*index].is_on_map()).unwrap_or(to)
    }

    /// How far the dial's number changed between two states.
    pub fn dial_change(&self, from: usize, to: usize) -> Angle {
        turn(self.states[from].dial(), self.states[to].dial())
    }

    /// How far the map turned between two states.
    pub fn map_turn(&self, from: usize, to: usize) -> Angle {
        self.states[from].map().turn_to(self.states[to].map())
    }

    /// How far the map and how far the compass were turned, each alone, since the edge was laid last before a state; clockwise
    /// positive, and net where somebody turned back.
    pub fn turned_alone(&self, at: usize) -> (Angle, Angle) {
        let since =
            self.moves[..at].iter().rposition(|made| matches!(made, Move::Edge(..))).map_or(0, |index| index + 1);
        self.moves[since..at].iter().fold((Angle::ZERO, Angle::ZERO), |(map, compass), made| match made {
            Move::TurnMap(by) => (map + *by, compass),
            Move::TurnCompass(by) => (map, compass + *by),
            _ => (map, compass),
        })
    }

    /// Whether the needle came to lie in the orienting arrow, either end, because the dial was turned: before the last
    /// moves of the dial it did not, and nothing else has been turned since.
    pub fn boxed_by_dial(&self, exercise: &Exercise, at: usize) -> bool {
        let turned = |made: &Move| {
            matches!(
                made,
                Move::TurnMap(_) | Move::TurnCompass(_) | Move::TurnBoth(_) | Move::TurnSelf(_) | Move::Edge(..)
            )
        };
        let since = self.moves[..at].iter().rposition(turned).map_or(0, |index| index + 1);
        self.seen(exercise, at).boxed != Boxed::No
            && self.seen(exercise, since).boxed == Boxed::No
            && !within(self.dial_change(since, at), LAID_WITHIN)
    }

    /// The line that the edge was last laid on by sliding it there, or lay on at the start.
    pub fn last_laid(&self, exercise: &Exercise, at: usize) -> Option<LineName> {
        let slid = self.moves[..at].iter().rev().find_map(|made| match made {
            Move::Edge(name, _) => exercise.lines.get(*name).map(|line| line.name),
            _ => None,
        });
        slid.or_else(|| match exercise.start.place() {
            Place::Along(name) => Some(name),
            Place::Hand | Place::Free(_) => None,
        })
    }

    /// What is wrong with the edge, which should lie on this line with the travel arrow toward its north or, for a leg,
    /// toward the second letter as named here.
    pub fn edge_faults(&self, exercise: &Exercise, at: usize, wanted: LineName) -> Vec<Fault> {
        let Some(line) = exercise.lines.get(wanted) else { return vec![Fault::EdgeOffLine] };
        let ahead = if line.name == wanted { Way::Ahead } else { Way::Back };
        match self.seen(exercise, at).edge {
            Some(edge) if edge.line == line.name && within(edge.off, LAID_WITHIN) => {
                if edge.way == ahead {
                    Vec::new()
                } else {
                    vec![Fault::ArrowBack]
                }
            }
            Some(edge) if edge.line == line.name && edge.way == ahead => vec![Fault::EdgeBeside],
            Some(edge) if edge.line == line.name => vec![Fault::EdgeBeside, Fault::ArrowBack],
            _ if self.last_laid(exercise, at) == Some(line.name) => vec![Fault::CompassOffLine],
            Some(edge) => {
                let mut faults = vec![Fault::WrongLine(edge.line)];
                let legs = [edge.line, line.name].iter().any(|name| matches!(name, LineName::Leg(_)));
                if !legs && edge.way == Way::Back {
                    faults.push(Fault::ArrowBack);
                }
                faults
            }
            None => vec![Fault::EdgeOffLine],
        }
    }
}
