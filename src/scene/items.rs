//! A scene and what may stand in it.
use super::clip::clipped;
use super::{Dash, Direction, Emphasis, Ink, Point, Weight};

/// A drawing: a sheet of a certain size and the things on it, in drawing order.
///
/// Nothing is rubbed out by what comes later, but by an area that covers ([`Fill::Cover`]); and labels stand clear of lines.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Scene {
    /// Width of the sheet in mm.
    pub width_mm: f64,
    /// Height of the sheet in mm.
    pub height_mm: f64,
    /// What is drawn; places outside the sheet are allowed and are cut off where the canvas ends.
    pub items: Vec<SceneItem>,
}

impl Scene {
    /// An empty sheet.
    #[must_use]
    pub const fn new(width_mm: f64, height_mm: f64) -> Scene {
        Scene { width_mm, height_mm, items: Vec::new() }
    }

    /// The middle of the sheet.
    #[must_use]
    pub fn centre(&self) -> Point {
        Point::new(self.width_mm / 2.0, self.height_mm / 2.0)
    }

    /// This sheet with another one to its right, so far apart, both at their upper edge and each cut off at its own edges:
    /// a compass close up must not cover the map beside it.
    #[must_use]
    pub fn beside(self, other: Scene, gap_mm: f64) -> Scene {
        let (left, other) = (clipped(self), clipped(other));
        let right = left.width_mm + gap_mm;
        let mut items = left.items;
        items.extend(other.items.into_iter().map(|item| item.moved(right)));
        Scene { width_mm: right + other.width_mm, height_mm: left.height_mm.max(other.height_mm), items }
    }

    /// Puts one more thing on the sheet.
    pub fn add(&mut self, item: impl Into<SceneItem>) -> &mut Scene {
        self.items.push(item.into());
        self
    }
}

/// One thing on the sheet.
#[derive(Clone, Debug, PartialEq)]
pub enum SceneItem {
    /// A line through points.
    Line(Line),
    /// A filled shape.
    Area(Area),
    /// A piece of writing.
    Label(Label),
    /// A small symbol.
    Mark(Mark),
}

impl SceneItem {
    /// The same thing so far to the right, in mm.
    fn moved(mut self, right: f64) -> SceneItem {
        match &mut self {
            SceneItem::Line(line) => line.points.iter_mut().for_each(|point| *point = point.moved(right, 0.0)),
            SceneItem::Area(area) => area.outline.iter_mut().for_each(|point| *point = point.moved(right, 0.0)),
            SceneItem::Label(label) => label.anchor = label.anchor.moved(right, 0.0),
            SceneItem::Mark(mark) => mark.at = mark.at.moved(right, 0.0),
        }
        self
    }
}

/// A line through points; with fewer than two finite points nothing is drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// The points, in order. Give the first one again at the end to close the line.
    pub points: Vec<Point>,
    /// Its role.
    pub ink: Ink,
    /// Its thickness.
    pub weight: Weight,
    /// How it is broken up.
    pub dash: Dash,
}

impl Line {
    /// A thin unbroken line from one point to another.
    #[must_use]
    pub fn straight(from: Point, to: Point, ink: Ink) -> Line {
        Line::through(vec![from, to], ink)
    }

    /// A thin unbroken line through points.
    #[must_use]
    pub fn through(points: Vec<Point>, ink: Ink) -> Line {
        Line { points, ink, weight: Weight::Thin, dash: Dash::Solid }
    }

    /// The same line, thick.
    #[must_use]
    pub fn bold(self) -> Line {
        Line { weight: Weight::Bold, ..self }
    }

    /// The same line with another dash.
    #[must_use]
    pub fn dash(self, dash: Dash) -> Line {
        Line { dash, ..self }
    }
}

/// How an area is filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fill {
    /// Filled with ink, like the solid half of a needle.
    Solid,
    /// Filled with ink so that nothing shines through, like the north half of a needle: in cells by blocks where whole ones
    /// fit, which tells it from every shape of dots.
    Dense,
    /// A flat tint under everything else, like woods on a map.
    Tint,
    /// A thing that lies on what was drawn before: it hides lines and writing, and has its own ground.
    Cover,
    /// The same, on the ground that is there: what stands free in it is not touched by what lies under it.
    Free,
}

/// A filled shape.
#[derive(Clone, Debug, PartialEq)]
pub struct Area {
    /// The corners in order; the last one joins the first. What is enclosed twice is outside (even-odd).
    pub outline: Vec<Point>,
    /// Its role.
    pub ink: Ink,
    /// How it is filled.
    pub fill: Fill,
}

impl Area {
    /// A shape filled with ink.
    #[must_use]
    pub const fn solid(outline: Vec<Point>, ink: Ink) -> Area {
        Area { outline, ink, fill: Fill::Solid }
    }

    /// A shape filled with ink so that nothing shines through.
    #[must_use]
    pub const fn dense(outline: Vec<Point>, ink: Ink) -> Area {
        Area { outline, ink, fill: Fill::Dense }
    }

    /// A shape that covers what was drawn before.
    #[must_use]
    pub const fn cover(outline: Vec<Point>, ink: Ink) -> Area {
        Area { outline, ink, fill: Fill::Cover }
    }

    /// A shape that hides what was drawn before and leaves the ground as it is.
    #[must_use]
    pub const fn free(outline: Vec<Point>, ink: Ink) -> Area {
        Area { outline, ink, fill: Fill::Free }
    }

    /// A shape with a flat tint under everything else.
    #[must_use]
    pub const fn tint(outline: Vec<Point>, ink: Ink) -> Area {
        Area { outline, ink, fill: Fill::Tint }
    }
}

/// Which part of the writing stands on the anchor. Up and down it is always the middle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Align {
    /// It begins at the anchor.
    Left,
    /// Its middle is on the anchor.
    #[default]
    Centre,
    /// It ends at the anchor.
    Right,
}

/// Who wins when two labels want the same place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Priority {
    /// The first to go.
    Low,
    /// In between.
    #[default]
    Normal,
    /// Placed before the others.
    High,
}

/// Whether a canvas may move a label.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Freedom {
    /// It stands at its anchor or is dropped.
    #[default]
    Fixed,
    /// It may stand at its anchor or close around it, wherever it hides least.
    Near,
}

/// A piece of writing on one line. It always stands upright.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// What is written.
    pub text: String,
    /// The point of the sheet that it is written at.
    pub anchor: Point,
    /// Which part of it stands on the anchor.
    pub align: Align,
    /// Its role.
    pub ink: Ink,
    /// How loud it is.
    pub emphasis: Emphasis,
    /// Who wins when two labels want the same place; with equal priority the one added first.
    pub priority: Priority,
    /// Whether a canvas may move it.
    pub freedom: Freedom,
}

impl Label {
    /// A plain label in the middle of its anchor that does not move.
    #[must_use]
    pub fn new(text: impl Into<String>, anchor: Point, ink: Ink) -> Label {
        Label {
            text: text.into(),
            anchor,
            align: Align::Centre,
            ink,
            emphasis: Emphasis::Plain,
            priority: Priority::Normal,
            freedom: Freedom::Fixed,
        }
    }

    /// The same label, aligned otherwise.
    #[must_use]
    pub fn align(self, align: Align) -> Label {
        Label { align, ..self }
    }

    /// The same label, louder.
    #[must_use]
    pub fn strong(self) -> Label {
        Label { emphasis: Emphasis::Strong, ..self }
    }

    /// The same label with another priority.
    #[must_use]
    pub fn priority(self, priority: Priority) -> Label {
        Label { priority, ..self }
    }

    /// The same label, which a canvas may now move a little.
    #[must_use]
    pub fn near(self) -> Label {
        Label { freedom: Freedom::Near, ..self }
    }
}

/// A side of a direction.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// A quarter turn clockwise from it.
    Clockwise,
    /// A quarter turn counterclockwise from it.
    Counterclockwise,
}

/// The small symbols.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MarkKind {
    /// A filled triangle, its tip at the place, pointing in the direction.
    Triangle,
    /// A star in the middle of the place: true north.
    Star,
    /// One barb of an arrow head, its tip at the place, the barb on this side: magnetic north.
    HalfArrow(Side),
    /// Both barbs of an arrow head, its tip at the place.
    ArrowHead,
    /// A small circle around the place.
    Ring,
    /// A filled spot on the place.
    Spot,
    /// A small wave through the place: water. It gives way to every line that matters more, and to all writing.
    Wave,
}

/// A small symbol.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mark {
    /// Which one.
    pub kind: MarkKind,
    /// The middle of it on the sheet.
    pub at: Point,
    /// Where it points, if it points.
    pub toward: Direction,
    /// Its size across or along, in mm.
    pub size_mm: f64,
    /// Its role.
    pub ink: Ink,
}

impl Mark {
    /// A symbol that points up.
    #[must_use]
    pub const fn new(kind: MarkKind, at: Point, size_mm: f64, ink: Ink) -> Mark {
        Mark { kind, at, toward: Direction::UP, size_mm, ink }
    }

    /// The same symbol, pointing elsewhere.
    #[must_use]
    pub const fn toward(self, toward: Direction) -> Mark {
        Mark { toward, ..self }
    }
}

impl From<Line> for SceneItem {
    fn from(line: Line) -> SceneItem {
        SceneItem::Line(line)
    }
}
impl From<Area> for SceneItem {
    fn from(area: Area) -> SceneItem {
        SceneItem::Area(area)
    }
}
impl From<Label> for SceneItem {
    fn from(label: Label) -> SceneItem {
        SceneItem::Label(label)
    }
}
impl From<Mark> for SceneItem {
    fn from(mark: Mark) -> SceneItem {
        SceneItem::Mark(mark)
    }
}
