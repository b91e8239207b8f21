//! What is said of a piece of work: the faults, the final state, and what it means.

use super::amount::{
    HALF_CIRCLE, LAID_WITHIN, NEARLY_WITHIN, figures, is_half, off_words, shows, size, turn, turn_words, within,
};
use super::fault::Fault;
use super::judge::stands;
use super::lines::Leg;
use super::table::Stands;
use super::task::{Exercise, Task};
use crate::angle::{Angle, North, declination_words};
use std::fmt::Write;

/// The judgement of one exercise.
#[derive(Clone, Debug, PartialEq)]
pub struct TableJudgement {
    /// What was done wrongly, and not mended before the end.
    pub procedure: Vec<Fault>,
    /// The same in sentences: of each fault what was done with its number, the reason, and what belongs there.
    pub told: Vec<String>,
    /// Whether no fault is more than a slip of the hand.
    pub only_slips: bool,
    /// What was done, with the learner's own numbers.
    pub did: String,
    /// What came out.
    pub state: StateVerdict,
    /// Whether work and outcome are right: no fault, and what right work leaves.
    pub right: bool,
    /// What the outcome means where right work does not bring the ideal: a dated map, iron near the table.
    pub meaning: Option<String>,
}

/// What came out at the end.
#[derive(Clone, Debug, PartialEq)]
pub enum StateVerdict {
    /// How the map lies.
    Map {
        /// Off true north, clockwise positive.
        off: Angle,
        /// How it lies after right work.
        expected: Angle,
        /// How far from that it may lie.
        tolerance: Angle,
    },
    /// The numbers read.
    Readings(Vec<ReadingState>),
    /// What was sighted along the travel arrow.
    Ahead {
        /// How far the arrow points from where it should, clockwise positive.
        off: Angle,
        /// Whether what was chosen is right.
        right: bool,
        /// What was chosen beside what is so, in sentences.
        choice: String,
    },
    /// The bearing taken to a mark in view.
    Taken(TakenState),
    /// The number on the dial.
    Dial {
        /// The number.
        shown: Angle,
        /// How far it is from the wanted one; positive when it is larger.
        off: Angle,
        /// How far it may be.
        tolerance: Angle,
    },
}

/// The number read for a leg.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReadingState {
    /// The leg.
    pub leg: Leg,
    /// The number said; none when the leg was left out.
    pub said: Option<Angle>,
    /// How far it is from what right work reads; positive when it is larger.
    pub off: Option<Angle>,
    /// What right work reads.
    pub expected: Angle,
    /// What would be read without iron, on a map that lies right.
    pub ideal: Angle,
    /// How far off it may be.
    pub tolerance: Angle,
    /// The magnetic bearing, where that is asked beside the number.
    pub bearing: Option<BearingState>,
}

/// What was said of a mark in view.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TakenState {
    /// The number read; none when none was said.
    pub said: Option<Angle>,
    /// What right work reads.
    pub expected: Angle,
    /// How far off it may be.
    pub tolerance: Angle,
    /// Where the bearing is asked for the map's lines too: their north, the number said, and the right one.
    pub other: Option<(North, Option<Angle>, Angle)>,
    /// Where trust is asked: whether the needle was trusted, and whether it can be.
    pub trust: Option<(Option<bool>, bool)>,
}

impl TakenState {
    /// Whether all that was said is right.
    #[must_use]
    pub fn right(&self) -> bool {
        let near =
            |said: Option<Angle>, right: Angle| said.is_some_and(|said| within(turn(right, said), self.tolerance));
        near(self.said, self.expected)
            && self.other.is_none_or(|(_, said, right)| near(said, right))
            && self.trust.is_none_or(|(said, holds)| said == Some(holds))
    }

    /// Whether the numbers are those that right work reads, to the degree.
    fn is_exact(&self) -> bool {
        let same = |said: Option<Angle>, right: Angle| said.is_some_and(|said| !shows(turn(right, said)));
        same(self.said, self.expected) && self.other.is_none_or(|(_, said, right)| same(said, right))
    }

    fn words(&self) -> String {
        let beside = |said: Option<Angle>, right: Angle| {
            said.map_or_else(
                || format!("not said: {} is right", figures(right)),
                |said| format!("{}{}", figures(said), beside_right(turn(right, said), right)),
            )
        };
        let other = self.other.map(|(north, said, right)| format!(" From {}: {}.", north.name(), beside(said, right)));
        let trust = match self.trust {
            Some((_, true)) => " The needle can be trusted here.",
            Some((_, false)) => " The needle cannot be trusted here: step away and look again.",
            None => "",
        };
        format!("You read {}.{}{trust}", beside(self.said, self.expected), other.unwrap_or_default())
    }
}

/// The magnetic bearing said for a leg.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BearingState {
    /// The number said; none when it was left out.
    pub said: Option<Angle>,
    /// How far it is from the magnetic bearing; positive when it is larger.
    pub off: Option<Angle>,
}

impl ReadingState {
    /// Whether the number is right, and the bearing where it is asked.
    #[must_use]
    pub fn right(&self) -> bool {
        let near = |off: Option<Angle>| off.is_some_and(|off| within(off, self.tolerance));
        near(self.off) && self.bearing.is_none_or(|bearing| near(bearing.off))
    }
}

impl StateVerdict {
    /// Whether the outcome is what right work gives.
    #[must_use]
    pub fn right(&self) -> bool {
        match self {
            StateVerdict::Map { off, expected, tolerance } => within(turn(*expected, *off), *tolerance),
            StateVerdict::Readings(readings) => readings.iter().all(ReadingState::right),
            StateVerdict::Taken(taken) => taken.right(),
            StateVerdict::Ahead { right, .. } => *right,
            StateVerdict::Dial { off, tolerance, .. } => within(*off, *tolerance),
        }
    }

    /// Whether the map lies, or the numbers are, just as right work leaves them; always so where there is neither.
    fn is_exact(&self) -> bool {
        match self {
            StateVerdict::Map { off, expected, .. } => !shows(turn(*expected, *off)),
            StateVerdict::Readings(readings) => readings.iter().all(|read| !read.off.is_some_and(shows)),
            StateVerdict::Taken(taken) => taken.is_exact(),
            StateVerdict::Ahead { .. } | StateVerdict::Dial { .. } => true,
        }
    }

    /// The outcome in sentences.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            StateVerdict::Map { off, .. } if !shows(*off) => {
                "The map lies as it should: its north points to true north.".to_owned()
            }
            StateVerdict::Map { off, .. } => format!("The map lies {}.", off_words(*off)),
            StateVerdict::Readings(readings) => readings.iter().map(reading_words).collect::<Vec<String>>().join(" "),
            StateVerdict::Taken(taken) => taken.words(),
            StateVerdict::Ahead { off, choice, .. } => {
                let points = match *off {
                    off if !shows(off) => "where it should".to_owned(),
                    off if within(off, LAID_WITHIN) => format!("{} of where it should, near enough", turn_words(off)),
                    off if is_half(off) => "the opposite way, 180° off".to_owned(),
                    off => format!("{} of where it should", turn_words(off)),
                };
                format!("The travel arrow points {points}. {choice}")
            }
            StateVerdict::Dial { shown, off, .. } => {
                format!("The dial reads {}{}.", figures(*shown), beside_right(*off, *shown - *off))
            }
        }
    }
}

fn reading_words(reading: &ReadingState) -> String {
    let leg = format!("{} to {}", reading.leg.from, reading.leg.to);
    let (Some(said), Some(off)) = (reading.said, reading.off) else { return format!("{leg}: not read.") };
    let bearing = match reading.bearing {
        Some(BearingState { said: Some(said), off: Some(off) }) => {
            format!(" Magnetic bearing: {}{}.", figures(said), beside_right(off, reading.ideal))
        }
        Some(_) => " Magnetic bearing: not said.".to_owned(),
        None => String::new(),
    };
    format!("{leg}: {}{}.{bearing}", figures(said), beside_right(off, reading.expected))
}

/// `, which is right` or `, 34° too much: 065 is right`; half the circle is neither too much nor too little.
fn beside_right(off: Angle, right: Angle) -> String {
    if !shows(off) {
        return ", which is right".to_owned();
    }
    // Near half the circle the number is the opposite one, read or brought about a little beside.
    let from_opposite = HALF_CIRCLE - off.abs();
    if shows(from_opposite) && within(from_opposite, NEARLY_WITHIN) {
        return format!(", the opposite way, and {} beside that: {} is right", size(from_opposite), figures(right));
    }
    let what = match off.abs().degrees() {
        180.0 => "off, the opposite way",
        _ if off.degrees() < 0.0 => "too little",
        _ => "too much",
    };
    format!(", {} {what}: {} is right", size(off), figures(right))
}

impl TableJudgement {
    /// Whether reversals hid each other, so that the outcome is right although the work was not.
    #[must_use]
    pub fn cancelled(&self) -> bool {
        let reversals = self.procedure.iter().filter(|fault| fault.is_reversal()).count();
        reversals >= 2 && self.state.right()
    }

    /// The verdict in a sentence.
    #[must_use]
    pub fn headline(&self, task: &Task) -> &'static str {
        match (self.right, self.procedure.len(), self.state.right()) {
            (true, ..) => "Right.",
            (_, 0, _) => "Nearly right: small slips of the hand add up.",
            _ if self.only_slips => "Nearly right.",
            _ if self.cancelled() => "It came out right only because two mistakes cancel.",
            // A map that only lies near did not come out right by what was done.
            (_, _, true) if self.state.is_exact() => match task {
                Task::Follow { .. } => "You named the right mark, but your compass does not point to it.",
                Task::BackSight { .. } => "You stand where you say, but your compass did not show it.",
                _ => "It came out right, but not every step was.",
            },
            _ => "Not right.",
        }
    }

    /// Whether what it means tells the outcome already: a map that right work leaves off.
    fn tells_itself(&self) -> bool {
        let left_off = matches!(self.state, StateVerdict::Map { expected, .. } if shows(expected));
        self.right && left_off && self.state.is_exact() && self.meaning.is_some()
    }

    /// What is said under it, line by line: each fault with its reason, the outcome, what it means.
    #[must_use]
    pub fn lines(&self) -> Vec<String> {
        let mut lines = self.told.clone();
        if self.tells_itself() {
            lines.extend(self.meaning.clone());
            return lines;
        }
        lines.push(match &self.state {
            // What only the hand's width left is no riddle.
            StateVerdict::Map { off, expected, .. }
                if self.state.right()
                    && (self.right || self.only_slips)
                    && shows(turn(*expected, *off))
                    && shows(*off) =>
            {
                format!("The map lies {}: near enough.", off_words(*off))
            }
            state => state.words(),
        });
        lines.extend(self.meaning.clone());
        lines
    }
}

/// What right work leaves where map or place are not ideal.
pub(super) fn meaning(exercise: &Exercise, state: &StateVerdict, right: bool) -> Option<String> {
    let iron = iron_words(exercise.iron);
    match (&exercise.task, state) {
        (Task::Orient(north), StateVerdict::Map { expected, .. }) if shows(*expected) || iron.is_some() => {
            let old = turn(exercise.printed.angle(), exercise.declination.angle());
            // Who allowed for the drift is left with what iron does alone.
            let drifted = *north == North::Magnetic && shows(old) && !shows(turn(*expected - exercise.iron, old));
            let moved = || {
                let [then, now] = [exercise.printed, exercise.declination].map(|it| declination_words(it.angle()));
                format!("the line was drawn for {then}, and today it is {now}")
            };
            let iron_near = iron.as_deref().map(lowered);
            let cause = match iron_near {
                Some(iron) if drifted => format!("{}, and {iron}", moved()),
                Some(iron) => format!("{iron}, and the map goes with it"),
                None => moved(),
            };
            if !right {
                // Beside a mistake the cause is enough: how right work leaves the map is told with the right way.
                return Some(capital(&cause) + ".");
            }
            let mut text = if shows(*expected) {
                format!("Your work is right, and still the map lies {}", off_words(*expected))
            } else {
                "Your work is right, and the map lies as it should only because two things cancel".to_owned()
            };
            let _ = write!(text, ": {cause}.");
            if drifted && iron.is_none() {
                let _ = write!(text, " {} on the dial would allow for it.", figures(-old));
            }
            if shows(exercise.iron) {
                text.push_str(
                    " Look at something in view that is on the map, too: if it does not fit, step away from the iron and orient again.",
                );
            }
            Some(text)
        }
        (Task::OrientedBearing { lies, .. }, StateVerdict::Readings(readings)) => {
            let lies = lies.angle().wrapped_half();
            let first = readings.first()?;
            let left = turn(first.ideal, first.expected);
            let mut text = iron.map_or_else(String::new, |iron| iron + ". ");
            if !shows(left) && text.is_empty() {
                return None;
            }
            if shows(lies) {
                let _ = write!(text, "The map lies {}. ", off_words(lies));
            }
            if shows(left) {
                let _ = write!(text,
                    "So the dial shows {} for {} to {}, where the bearing is {}° M: each number comes out {} {}.",
                    figures(first.expected),
                    first.leg.from,
                    first.leg.to,
                    figures(first.ideal),
                    size(left),
                    if left.degrees() < 0.0 { "too small" } else { "too large" }
                );
            } else {
                text.push_str("Here the map was oriented beside it, so needle and map are off by the same and the bearing comes out right. Do not build on that: a knife or a buckle turns the needle otherwise a hand's breadth on. Step away from it and look again.");
            }
            Some(text)
        }
        (Task::BackSight { doubt, start_mark, .. }, _) => match doubt.why() {
            Some(why) => Some(why.to_owned()),
            // Only away from iron does the sight tell this; nobody should carry it to where iron is.
            None => exercise.ahead().filter(|ahead| stands(ahead.turn_to(*start_mark)) != Stands::OnLine).map(|_| {
                "No iron is near, so it is you who stand beside the line. Beside iron the same sight could be the iron's doing."
                    .to_owned()
            }),
        },
        // Who was wrong about it is told so with the fault; iron's size nobody sees.
        (Task::Take(sighting), _) => sighting.trust.filter(|_| right).map(|trust| trust.why.to_owned()),
        (Task::Follow { .. }, _) => iron
            .map(|iron| iron + ", so even right work points that much off the line. Step away from it and look again."),
        _ => None,
    }
}

/// A text at the front of a sentence.
pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| format!("{}{}", first.to_uppercase(), letters.as_str()))
}

/// A text within a sentence.
fn lowered(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| format!("{}{}", first.to_lowercase(), letters.as_str()))
}

fn iron_words(iron: Angle) -> Option<String> {
    shows(iron).then(|| format!("Iron nearby turns the needle {}", turn_words(iron)))
}

/// What iron does to the needle, as a sentence; none where there is none. At the table nobody is told: one has to find out.
/// On paper that is not possible. Of a back sight it is never told: there the place speaks of iron, and its size would be the
/// answer.
#[must_use]
pub fn describe_iron(exercise: &Exercise) -> Option<String> {
    if matches!(exercise.task, Task::BackSight { .. } | Task::Take(_) | Task::Around(_)) {
        return None;
    }
    // The map was oriented beside it, or iron would do harm that nobody could see.
    let oriented = matches!(exercise.task, Task::OrientedBearing { .. });
    iron_words(exercise.iron)
        .map(|words| if oriented { words + ", and did when the map was oriented." } else { words + "." })
}
