//! Problems that are worked with the hands at the map table.
//!
//! Their answer is how things end: numbers and words of the final state, so that they are judged by code like any other
//! problem. At the table itself the moves are judged, and they tell more than numbers can: which of two reversals it was,
//! whether the edge came off its line, and two faults that cancel.

use super::TEXT_MM;
use super::{Answer, Judgement, MixupId, Problem, SkillMeta, Value, Verdict};
use crate::angle::Angle;
use crate::maptable::{
    Boxed, Chosen, Exercise, Fault, LineName, Move, Picture, Pose, StateVerdict, Table, TableJudgement, Task, judge,
    see,
};
use crate::scene::{Point, Scene};
use crate::terrain::{Detail, Map};

/// A marked place of the map: its letter, and the landmark it stands at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MarkedPlace {
    /// The letter: P, Q or V.
    pub letter: char,
    /// Its place in [`Map::landmarks`].
    pub landmark: usize,
}

/// What lies on the table.
#[derive(Clone, Debug, PartialEq)]
pub struct TableProblem {
    /// The task, and all that it depends on.
    pub exercise: Exercise,
    /// The map; none where the compass is held in the hand and sighted along.
    pub map: Option<Map>,
    /// The marked places, in the order of their letters.
    pub marks: Vec<MarkedPlace>,
    /// The azimuth that points up in the picture: any, so that the screen does not show when the map lies right.
    pub up: Angle,
    /// How much of the land is drawn.
    pub detail: Detail,
}

/// The judging of work at the table.
#[derive(Clone, Debug, PartialEq)]
pub struct TableVerdict {
    /// The verdict, for the record.
    pub judgement: Judgement,
    /// What is said of the work and of what came out.
    pub work: TableJudgement,
    /// How things lay at the end.
    pub end: Table,
    /// How they lay when the compass was last on the map; the end where it never was.
    pub lay: Table,
}

/// The words of a field that says which end of the needle lies in the orienting arrow's head.
pub const NEEDLE_ENDS: &[&str] = &["north end", "south end", "neither"];
/// The words of a field that says where one stands to the line one walks.
pub const STANDS: &[&str] = &["left of the line", "on the line", "right of the line"];
/// The words of a field that says whether the needle can be trusted where one stands.
pub const TRUST: &[&str] = &["it can be trusted here", "it cannot be trusted here: step away"];
/// The same where iron may be near.
pub const STANDS_OR_NOT: &[&str] =
    &["left of the line", "on the line", "right of the line", "cannot be told here: step away and look again"];

impl TableProblem {
    /// The compass in the hand, without a map.
    #[must_use]
    pub const fn in_hand(exercise: Exercise) -> TableProblem {
        TableProblem { exercise, map: None, marks: Vec::new(), up: Angle::ZERO, detail: Detail::Full }
    }

    /// A map with its marked places, the azimuth `up` up in the picture.
    #[must_use]
    pub const fn on_map(exercise: Exercise, map: Map, marks: Vec<MarkedPlace>, up: Angle) -> TableProblem {
        TableProblem { exercise, map: Some(map), marks, up, detail: Detail::Full }
    }

    /// Looks at the picture of the table when things are drawn so; `done` when the work is told.
    pub fn picture<T>(&self, pose: &Pose, done: bool, look: impl FnOnce(&Picture<'_>) -> T) -> T {
        let marks: Vec<(char, usize)> = self.marks.iter().map(|mark| (mark.letter, mark.landmark)).collect();
        look(&Picture {
            exercise: &self.exercise,
            table: &pose.table,
            aside: pose.aside,
            map: self.map.as_ref(),
            marks: &marks,
            needle: pose.needle,
            up: self.up,
            detail: self.detail,
            done,
        })
    }

    /// Where on the sheet, in mm, a compass on no line has the middle of its edge; anywhere without a map.
    #[must_use]
    pub fn rests_at(&self) -> Point {
        let rests_at = |map: &Map| self.exercise.rests_at(map.spec().width_mm, map.spec().height_mm);
        self.map.as_ref().map_or_else(Point::default, rests_at)
    }

    /// Both looks side by side as the table lies at first, as a scene in mm that a page has room for.
    #[must_use]
    pub fn scene(&self) -> Scene {
        const HEIGHT_MM: f64 = 110.0;
        self.picture(&Pose::at_rest(self.exercise.start, self.exercise.needle()), false, |picture| {
            let map = picture.map_look(HEIGHT_MM, HEIGHT_MM, TEXT_MM);
            map.beside(picture.compass_look(HEIGHT_MM * 0.7, HEIGHT_MM, TEXT_MM), TEXT_MM)
        })
    }

    /// The lines that the edge can be laid on, in the order in which they are offered.
    #[must_use]
    pub fn lines_to_lay_on(&self) -> Vec<LineName> {
        self.exercise.lines.all().iter().map(|line| line.name).collect()
    }

    /// Judges the moves; `problem` is the one that this table belongs to.
    #[must_use]
    pub fn judge(&self, problem: &Problem, moves: &[Move]) -> TableVerdict {
        let work = judge(&self.exercise, moves);
        let lines = &self.exercise.lines;
        let mut end = self.exercise.start;
        let mut lay = Some(end).filter(Table::is_on_map);
        for made in moves.iter().take_while(|made| **made != Move::Done) {
            end = end.after(*made, lines).unwrap_or(end);
            lay = Some(end).filter(Table::is_on_map).or(lay);
        }
        let given = self.given(&work, &end);
        let verdict = if work.right { Verdict::Right } else { named(problem.skill(), &work.procedure) };
        let beside = problem.other_way(&given).map_or(problem.answer(), |other| &other.answer);
        let off_by = problem.question().off_by(&given, beside);
        let judgement = Judgement { verdict, given, norths: Vec::new(), off_by };
        TableVerdict { judgement, work, end, lay: lay.unwrap_or(end) }
    }

    /// The mix-ups of the skill that the work at this problem's table can show: those told apart by what comes out, and those
    /// that show in the work itself.
    #[must_use]
    pub fn exposes(problem: &Problem) -> Vec<MixupId> {
        let by_work = |id: MixupId| Fault::ALL.iter().any(|fault| fault.id() == id.0 && fault.shows_in_the_work());
        let ids = problem.skill().mixups.iter().map(|mixup| mixup.id);
        ids.filter(|id| by_work(*id) || problem.exposes(*id)).collect()
    }

    /// The answer that the end of the work amounts to.
    fn given(&self, work: &TableJudgement, end: &Table) -> Answer {
        match (&self.exercise.task, &work.state) {
            (Task::Orient(_), _) => {
                let ends = match see(end, &self.exercise.site(), &self.exercise.lines).boxed {
                    Boxed::NorthEnd => 0,
                    Boxed::SouthEnd => 1,
                    Boxed::No => 2,
                };
                Answer::three(Value::Angle(end.dial()), Value::Angle(end.map().angle()), Value::Choice(ends))
            }
            (_, StateVerdict::Readings(readings)) => {
                let read = readings.iter().map(|reading| Value::Angle(reading.said.unwrap_or(end.dial())));
                let meant = readings.iter().filter_map(|reading| reading.bearing);
                read.chain(meant.map(|bearing| bearing.said.map_or(Value::Blank, Value::Angle))).collect()
            }
            (Task::Around(_), _) => {
                let turned = self.exercise.start.map().turn_to(end.map());
                Answer::one(Value::Angle(turned.wrapped()))
            }
            (_, StateVerdict::Taken(taken)) => {
                let second = taken.other.map(|(_, said, _)| said.map_or(Value::Blank, Value::Angle));
                let trust = taken.trust.map(|_| chosen(end));
                let read = Value::Angle(taken.said.unwrap_or(end.dial()));
                std::iter::once(read).chain(second).chain(trust).collect()
            }
            (Task::SetDial { .. }, _) => Answer::one(Value::Angle(end.dial())),
            _ => Answer::one(chosen(end)),
        }
    }
}

/// What was chosen by looking, as a choice of the question's only field; blank when nothing was.
fn chosen(end: &Table) -> Value {
    match end.chosen() {
        Some(Chosen::Landmark(number)) => Value::Choice(usize::from(number)),
        Some(Chosen::Stands(stands)) => {
            STANDS_OR_NOT.iter().position(|word| *word == stands.words()).map_or(Value::Blank, Value::Choice)
        }
        Some(Chosen::Trusts(trusts)) => Value::Choice(usize::from(!trusts)),
        None => Value::Blank,
    }
}

/// The first fault that the skill has a mix-up for, by its own name or by that of its number.
fn named(skill: &'static SkillMeta, faults: &[Fault]) -> Verdict {
    let mixups: &'static [super::MixupMeta] = skill.mixups;
    let known = |id: &str| mixups.iter().find(|mixup| mixup.id.0 == id);
    let found =
        faults.iter().find_map(|fault| known(fault.id())).or_else(|| faults.iter().find_map(|f| known(f.formula())));
    found.map_or(Verdict::Unrecognised(None), Verdict::Mixup)
}
