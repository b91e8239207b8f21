//! What is seen to move at the map table: things go to where they lie already, and the needle swings. Nothing waits for it.

use crate::angle::{Angle, Bearing, True};
use crate::maptable::{Motion, Pose, Table, has_arrived, settled, swing};
use crate::problem::TableProblem;
use jiff::{SignedDuration, Timestamp};
use std::time::Duration;

/// How much of a turn of the compass the needle is dragged along with, and how far at most.
const DRAG: f64 = 0.3;
const DRAG_MOST: f64 = 40.0;
/// A motion begins as if a picture had been drawn already, so that the first one after the key shows it.
const AHEAD: SignedDuration = SignedDuration::from_millis(40);

/// Where things are drawn while they move, and at rest.
#[derive(Clone, Debug)]
pub struct Moving {
    /// Where things are drawn now.
    pose: Pose,
    /// How far that is from how they lie.
    off: Motion,
    /// The motion under way, as it began, and when.
    going: Option<(Motion, Timestamp)>,
    /// The needle let go in this direction, and when.
    swinging: Option<(Bearing<True>, Timestamp)>,
    /// Where the needle comes to rest.
    rest: Bearing<True>,
    /// Whether nothing is seen to move.
    still: bool,
}

impl Moving {
    /// Everything as it lies, at rest.
    #[must_use]
    pub fn new(lies: Table, needle: Bearing<True>, still: bool) -> Moving {
        let pose = Pose::at_rest(lies, needle);
        Moving { pose, off: Motion::default(), going: None, swinging: None, rest: needle, still }
    }

    /// Where things are drawn now.
    #[must_use]
    pub const fn pose(&self) -> &Pose {
        &self.pose
    }

    /// Whether another picture will be due.
    #[must_use]
    pub const fn moves_by_itself(&self) -> bool {
        self.going.is_some() || self.swinging.is_some()
    }

    /// Things went from one state to another; the picture goes after them, from where it is drawn now.
    pub fn go(&mut self, problem: &TableProblem, before: &Table, after: &Table, at: Timestamp) {
        self.tick(before, at);
        if self.still {
            return self.draw(after, at);
        }
        let turned = before.baseplate().turn_to(after.baseplate());
        if turned != Angle::ZERO {
            // The needle is dragged along a little, and swings back.
            let along = (turned.degrees() * DRAG).clamp(-DRAG_MOST, DRAG_MOST);
            let from = self.pose.needle.turned(Angle::from_degrees(along));
            self.pose.needle = from;
            self.swinging = Some((from, at));
        }
        let motion = Motion::between(before, after, &problem.exercise.lines, problem.rests_at());
        if !motion.is_small() {
            self.going = Some((self.off.and(motion), at.saturating_sub(AHEAD).unwrap_or(at)));
        }
        self.draw(after, at);
    }

    /// Lets things go on, and the needle swing on.
    pub fn tick(&mut self, lies: &Table, now: Timestamp) {
        if let Some((from, since)) = self.swinging {
            let elapsed = elapsed(since, now);
            self.pose.needle = swing(from, self.rest, elapsed);
            self.swinging = self.swinging.filter(|_| !settled(elapsed));
        }
        self.draw(lies, now);
    }

    /// What moves is where it lies at once; the needle swings on.
    pub fn arrive(&mut self, lies: &Table) {
        (self.going, self.off) = (None, Motion::default());
        self.pose = self.off.pose(lies, self.pose.needle);
    }

    fn draw(&mut self, lies: &Table, now: Timestamp) {
        self.off = self.going.map_or_else(Motion::default, |(motion, since)| motion.left(elapsed(since, now)));
        self.going = self.going.filter(|(_, since)| !has_arrived(elapsed(*since, now)));
        self.pose = self.off.pose(lies, self.pose.needle);
    }
}

/// The time gone by. A clock that was set back ends what moves: it would move for as long as that.
fn elapsed(since: Timestamp, now: Timestamp) -> Duration {
    Duration::try_from(now.duration_since(since)).unwrap_or(Duration::MAX)
}
