//! Figures of problems, as data: what is drawn, not how.

use super::{MapFigure, MapPoint};
use crate::angle::{Angle, North};

/// A figure that belongs to a question or a verdict.
#[derive(Clone, Debug, PartialEq, Default)]
pub enum Figure {
    /// Nothing is drawn.
    #[default]
    None,
    /// A compass dial.
    Dial(DialFigure),
    /// A declination diagram: prongs from one foot.
    Prongs(Vec<Prong>),
    /// North lines and direction lines from one point, with the angles told.
    Sketch {
        /// The norths.
        norths: Vec<NorthLine>,
        /// The directions, each with a role of its own.
        lines: Vec<SketchLine>,
        /// The angles between them. What an arc runs between that is not drawn, leaves the arc out.
        arcs: Vec<Arc>,
    },
    /// A turn from one bearing to another.
    Turn(TurnFigure),
    /// A line seen from both its ends.
    Ends(EndsFigure),
    /// The needle as a map printed it, and as it is now.
    Drift(DriftFigure),
    /// Ground or map from above.
    Plan(PlanFigure),
    /// A compass card with some points marked.
    Rose {
        /// How many names the card has: 8, 16 or 32.
        names: u8,
        /// What is marked: direction and label.
        marked: Vec<SketchLine>,
    },
    /// A map with what is drawn on it.
    Map(Box<MapFigure>),
}

/// A compass dial as seen from above: its numbers grow clockwise, so the number at picture direction φ is
/// `reading + (φ − index)`, and the orienting arrow (the dial's N) stands at picture direction `index − reading`.
#[derive(Clone, Debug, PartialEq)]
pub struct DialFigure {
    /// The number under the index line, 0 to 360.
    pub reading: Angle,
    /// The smallest graduation drawn on the strip.
    pub graduation: Angle,
    /// A number stands every so many degrees on the strip.
    pub numbered: Angle,
    /// Where the index line stands in the picture, clockwise from up; 180° for a compass seen upside down.
    pub index: Angle,
    /// Where the needle's north end points in the picture, clockwise from up; none for a bare dial.
    pub needle: Option<Angle>,
    /// Whether the inner (clinometer) scale is drawn too. It turns with the dial: 0 at the dial's 90 and 270, counting
    /// up both ways to 90 at the dial's 0 and 180.
    pub inner_scale: bool,
    /// Whether the magnified strip at the index line is shown.
    pub strip: bool,
    /// The dial number that the learner answered, 0 to 360, marked on the rim; none in a question.
    pub learner: Option<Angle>,
}

/// One prong of a declination diagram.
#[derive(Clone, Debug, PartialEq)]
pub struct Prong {
    /// Its north.
    pub north: North,
    /// Where it is drawn, clockwise from up; not to scale.
    pub drawn: Angle,
    /// The printed angle between this prong and the one named, with its text: `13° W`.
    pub printed: Option<(North, String)>,
}

/// A north line of a sketch.
#[derive(Clone, Debug, PartialEq)]
pub struct NorthLine {
    /// Its north.
    pub north: North,
    /// Where it is drawn, clockwise from up; enlarged where a true drawing would be too fine to see.
    pub at: Angle,
}

/// What a line of a sketch stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineRole {
    /// Given in the question.
    Given,
    /// The right answer.
    Right,
    /// What the learner answered.
    Learner,
}

/// What an arc of a sketch runs from or to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ray {
    /// A north line.
    North(North),
    /// A direction line.
    Line(LineRole),
}

/// An arc of a sketch.
#[derive(Clone, Debug, PartialEq)]
pub struct Arc {
    /// The north it begins at.
    pub from: North,
    /// Where it ends.
    pub to: Ray,
    /// What is written at it.
    pub text: String,
    /// Whether it goes the shorter way round, as a difference does; a bearing goes clockwise.
    pub shorter: bool,
}

impl Arc {
    /// A bearing: clockwise to a line, however far.
    #[must_use]
    pub const fn bearing(from: North, to: LineRole, text: String) -> Arc {
        Arc { from, to: Ray::Line(to), text, shorter: false }
    }

    /// A difference: the shorter way round.
    #[must_use]
    pub const fn difference(from: North, to: Ray, text: String) -> Arc {
        Arc { from, to, text, shorter: true }
    }
}

/// A direction in a sketch.
#[derive(Clone, Debug, PartialEq)]
pub struct SketchLine {
    /// What it stands for.
    pub role: LineRole,
    /// Where it is drawn, clockwise from up.
    pub at: Angle,
    /// What is written at its end.
    pub label: String,
}

/// A turn from one bearing to another.
#[derive(Clone, Debug, PartialEq)]
pub struct TurnFigure {
    /// The north that both bearings count from; it is drawn straight up.
    pub north: North,
    /// The first bearing.
    pub from: Angle,
    /// The second bearing.
    pub to: Angle,
    /// The signed turn drawn as an arc, clockwise positive; none when the question asks for it.
    pub turn: Option<Angle>,
    /// The signed turn that the learner answered, clockwise positive, from the same first bearing; none in a question.
    pub learner: Option<Angle>,
}

/// A line with its bearing from either end; the norths at both run side by side, straight up.
#[derive(Clone, Debug, PartialEq)]
pub struct EndsFigure {
    /// The north that both bearings count from.
    pub north: North,
    /// The bearing from the first end to the other.
    pub toward: Angle,
    /// What is written at the first end.
    pub there: String,
    /// What is written at the other end; `?` and the letter of the north in a question.
    pub back: String,
    /// The bearing that the learner answered, seen from the other end; none in a question.
    pub learner: Option<Angle>,
}

/// The needle in a year.
#[derive(Clone, Debug, PartialEq)]
pub struct Needle {
    /// The year.
    pub year: i32,
    /// Where it is drawn, clockwise from true north straight up; not to scale.
    pub at: Angle,
    /// The declination in that year: `5°30′ W`.
    pub declination: String,
}

/// How the needle has moved since a map was printed.
#[derive(Clone, Debug, PartialEq)]
pub struct DriftFigure {
    /// The needle as it is printed.
    pub printed: Needle,
    /// By how much it has moved, and where it is now; none in a question.
    pub now: Option<(String, Needle)>,
}

/// What a line of a plan is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PlanKind {
    /// A way that one walks, or a length that is measured: with an arrow head at its end.
    Way(LineRole),
    /// A way that one would walk if nothing lay in it.
    Thought,
    /// A stream, a shore.
    Water,
    /// A path, a wall, a fence.
    Works,
    /// A line of the map's grid, or of a ruler laid on it.
    Grid,
    /// A contour line; where it has a label, that is its height.
    Contour,
}

/// A line of a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanLine {
    /// What it is.
    pub kind: PlanKind,
    /// Its corners, two at least, in metres of the ground or of any one unit.
    pub through: Vec<MapPoint>,
    /// What is written at it; may be empty.
    pub label: String,
}

/// A place of a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanPlace {
    /// Where it lies, in the unit of the lines.
    pub at: MapPoint,
    /// What it stands for.
    pub role: LineRole,
    /// What is written beside it; may be empty.
    pub name: String,
}

/// Ground or map from above.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanFigure {
    /// The north that is straight up; none where the plan shows no directions.
    pub north: Option<North>,
    /// Where the needle points, clockwise from straight up, where the plan tells bearings of the needle beside another north.
    pub needle: Option<Angle>,
    /// Its lines, in drawing order.
    pub lines: Vec<PlanLine>,
    /// Its places.
    pub places: Vec<PlanPlace>,
    /// What somebody who hears the program is told of it, in whole sentences.
    pub words: String,
    /// Whether it says something that the question's text does not.
    pub says_more: bool,
}

impl Figure {
    /// The same without what the learner answered: after a right answer it would only look like a mistake.
    #[must_use]
    pub fn without_learner(mut self) -> Figure {
        match &mut self {
            Figure::None | Figure::Prongs(_) | Figure::Drift(_) => {}
            Figure::Dial(dial) => dial.learner = None,
            Figure::Sketch { lines, arcs, .. } => {
                lines.retain(|line| line.role != LineRole::Learner);
                arcs.retain(|arc| arc.to != Ray::Line(LineRole::Learner));
            }
            Figure::Turn(turn) => turn.learner = None,
            Figure::Map(map) => **map = map.clone().without_learner(),
            Figure::Ends(ends) => ends.learner = None,
            Figure::Plan(plan) => {
                plan.lines.retain(|line| line.kind != PlanKind::Way(LineRole::Learner));
                plan.places.retain(|place| place.role != LineRole::Learner);
            }
            Figure::Rose { marked, .. } => marked.retain(|mark| mark.role != LineRole::Learner),
        }
        self
    }
}
