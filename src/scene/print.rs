//! A scene in print: one walk over its items, with the colours, widths and dashes that every kind of paper shares.

use super::{Align, Area, Dash, Emphasis, Fill, Ink, Label, Line, Mark, MarkKind, Point, Scene, SceneItem, shapes};

/// A colour of print: red, green and blue, 0 to 255 each.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Colour(pub [u8; 3]);

impl Colour {
    /// Nearly black: what is written.
    pub const TEXT: Colour = Colour([0x22; 3]);
    /// What may be passed over.
    pub const QUIET: Colour = Colour([0x77; 3]);
    /// The paper.
    pub const PAPER: Colour = Colour([0xff; 3]);

    /// The colour of a role, by the common convention of topographic maps.
    #[must_use]
    pub const fn of(ink: Ink) -> Colour {
        Colour(match ink {
            Ink::Faint => [0xbb; 3],
            Ink::Relief => [0xa0, 0x62, 0x2e],
            Ink::Woods => [0x3f, 0x7d, 0x3a],
            Ink::Water | Ink::GridNorth => [0x1f, 0x5f, 0xb4],
            Ink::MagneticNorth | Ink::NeedleNorth => [0xb8, 0x1e, 0x1e],
            Ink::LearnerLine => [0x8a, 0x2a, 0x9a],
            Ink::RightLine => [0x0a, 0x7a, 0x4e],
            Ink::Compass => [0x7a, 0x60, 0x00],
            Ink::Orienting => [0x0b, 0x5f, 0x8a],
            Ink::Edge => [0xc2, 0x41, 0x0c],
            Ink::Sheet
            | Ink::Capsule
            | Ink::Works
            | Ink::Border
            | Ink::Plate
            | Ink::Text
            | Ink::TrueNorth
            | Ink::NeedleSouth => return Colour::TEXT,
        })
    }

    /// What a thing that covers is made of.
    const fn ground(ink: Ink) -> Colour {
        match ink {
            Ink::Plate => Colour([0xdb, 0xe6, 0xee]),
            _ => Colour::PAPER,
        }
    }
}

/// A piece of writing on one line, up and down in the middle of its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Writing<'a> {
    /// What is written.
    pub text: &'a str,
    /// Its place, finite.
    pub at: Point,
    /// Which part of it stands there.
    pub align: Align,
    /// Its colour.
    pub colour: Colour,
    /// Whether it is bold.
    pub strong: bool,
    /// The size of the type in mm.
    pub size_mm: f64,
}

/// What a scene can be printed on. Millimetres run right and down, as in the scene; all points are finite.
pub trait Paper {
    /// Fills a closed shape (even-odd); `opacity` is 0 to 1.
    fn fill(&mut self, outline: &[Point], colour: Colour, opacity: f64);
    /// Draws a line; the lengths of strokes and gaps in turn are in mm, none of them for an unbroken line.
    fn stroke(&mut self, points: &[Point], colour: Colour, width_mm: f64, dash_mm: &[f64]);
    /// Writes, with a rim of paper around the letters.
    fn write(&mut self, writing: &Writing<'_>);
}

/// A tint lets through three quarters of what lies under it.
const TINT: f64 = 0.25;
/// How wide a fine line is beside an unbroken one.
const FINE: f64 = 0.6;
/// A character of print is about half as wide as a line is high at this share of it.
const TYPE: f64 = 0.8;

/// Prints a scene; `text_mm` is the height of a line of writing in mm, of which the type takes four fifths. Places that are not finite
/// are left out.
pub fn print(scene: &Scene, text_mm: f64, paper: &mut impl Paper) {
    for item in &scene.items {
        match item {
            SceneItem::Area(area) => fill(area, paper),
            SceneItem::Line(line) => stroke(line, paper),
            SceneItem::Mark(mark) => stamp(mark, paper),
            SceneItem::Label(label) => write(label, text_mm, paper),
        }
    }
}

fn finite(points: &[Point]) -> Vec<Point> {
    points.iter().copied().filter(|point| point.is_finite()).collect()
}

fn fill(area: &Area, paper: &mut impl Paper) {
    let (colour, opacity) = match area.fill {
        Fill::Solid | Fill::Dense => (Colour::of(area.ink), 1.0),
        Fill::Tint => (Colour::of(area.ink), TINT),
        Fill::Cover | Fill::Free => (Colour::ground(area.ink), 1.0),
    };
    paper.fill(&finite(&area.outline), colour, opacity);
}

fn stroke(line: &Line, paper: &mut impl Paper) {
    let dash_mm: &[f64] = match line.dash {
        Dash::Solid | Dash::Fine => &[],
        Dash::Dashed => &[1.6, 1.0],
        Dash::DashDot => &[3.0, 0.8, 0.4, 0.8],
        Dash::Sparse => &[0.9, 1.5],
        Dash::Dotted => &[0.3, 0.9],
    };
    // What stands back by every other dot in cells is thinner in print.
    let share = if line.dash == Dash::Fine { FINE } else { 1.0 };
    paper.stroke(&finite(&line.points), Colour::of(line.ink), line.weight.mm() * share, dash_mm);
}

fn stamp(mark: &Mark, paper: &mut impl Paper) {
    // A cell has room for more than the few dots of a star; on paper it stands in its true size.
    let size_mm = if mark.kind == MarkKind::Star { mark.size_mm.max(3.0) } else { mark.size_mm };
    let shape = shapes::mark_shape(&Mark { size_mm, ..*mark });
    if shape.filled {
        fill(&Area::solid(shape.points, mark.ink), paper);
    } else {
        stroke(&Line::through(shape.points, mark.ink), paper);
    }
}

fn write(label: &Label, text_mm: f64, paper: &mut impl Paper) {
    if label.anchor.is_finite() {
        // The font of paper has arrows of this kind alone, and none that slant.
        let text = label.text.replace('▲', "↑").replace('▼', "↓").replace(['↗', '↘', '↙', '↖'], "");
        paper.write(&Writing {
            text: &text,
            at: label.anchor,
            align: label.align,
            colour: Colour::of(label.ink),
            strong: label.emphasis == Emphasis::Strong,
            size_mm: text_mm * TYPE,
        });
    }
}
