//! The canvas of a page: a scene as an SVG document in true millimetres, with the print colours of topographic maps.

use super::{Align, Area, Dash, Emphasis, Fill, Ink, Label, Line, Mark, MarkKind, Point, Scene, SceneItem, shapes};
use std::fmt::Write;

/// Print colours, by the common convention of topographic maps.
const fn colour(ink: Ink) -> &'static str {
    match ink {
        Ink::Faint => "#bbbbbb",
        Ink::Relief => "#a0622e",
        Ink::Woods => "#3f7d3a",
        Ink::Water | Ink::GridNorth => "#1f5fb4",
        Ink::MagneticNorth | Ink::NeedleNorth => "#b81e1e",
        Ink::LearnerLine => "#8a2a9a",
        Ink::RightLine => "#0a7a4e",
        Ink::Compass => "#7a6000",
        Ink::Orienting => "#0b5f8a",
        Ink::Edge => "#c2410c",
        Ink::Sheet
        | Ink::Capsule
        | Ink::Works
        | Ink::Border
        | Ink::Plate
        | Ink::Text
        | Ink::TrueNorth
        | Ink::NeedleSouth => "#222222",
    }
}

/// What a thing that covers is made of.
const fn ground(ink: Ink) -> &'static str {
    match ink {
        Ink::Plate => "#dbe6ee",
        _ => "#ffffff",
    }
}

/// The scene as an SVG document of its own size; `text_mm` is the height of a line of writing in mm, of which the type takes four
/// fifths. Places that are not finite are left out.
///
/// ```
/// use needlewise::scene::{Ink, Line, Point, Scene, svg};
///
/// let mut scene = Scene::new(20.0, 10.0);
/// scene.add(Line::straight(Point::new(0.0, 5.0), Point::new(20.0, 5.0), Ink::Edge).bold());
/// assert!(svg(&scene, 4.0).contains("M0.000 5.000L20.000 5.000"));
/// ```
#[must_use]
pub fn svg(scene: &Scene, text_mm: f64) -> String {
    let (width, height) = (scene.width_mm, scene.height_mm);
    let mut page = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\" font-family=\"sans-serif\">\n"
    );
    for item in &scene.items {
        match item {
            SceneItem::Area(area) => paint_area(&mut page, area),
            SceneItem::Line(line) => paint_line(&mut page, line),
            SceneItem::Mark(mark) => paint_mark(&mut page, mark),
            SceneItem::Label(label) => paint_label(&mut page, label, text_mm),
        }
    }
    page.push_str("</svg>\n");
    page
}

fn path(points: &[Point]) -> String {
    let mut path = String::new();
    for (number, point) in points.iter().filter(|point| point.is_finite()).enumerate() {
        let step = if number == 0 { 'M' } else { 'L' };
        // Writing to a string cannot fail.
        let _ = write!(path, "{step}{:.3} {:.3}", point.x, point.y);
    }
    path
}

fn paint_area(page: &mut String, area: &Area) {
    let (colour, opacity) = match area.fill {
        Fill::Solid | Fill::Dense => (colour(area.ink), 1.0),
        Fill::Tint => (colour(area.ink), 0.25),
        Fill::Cover => (ground(area.ink), 1.0),
    };
    let path = path(&area.outline);
    let _ = writeln!(page, "<path d=\"{path}Z\" fill=\"{colour}\" fill-opacity=\"{opacity}\" fill-rule=\"evenodd\"/>");
}

fn paint_line(page: &mut String, line: &Line) {
    let dash = match line.dash {
        Dash::Solid => "none",
        Dash::Dashed => "1.6 1",
        Dash::DashDot => "3 0.8 0.4 0.8",
        Dash::Sparse => "0.9 1.5",
        Dash::Fine => "0.3 0.3",
        Dash::Dotted => "0.3 0.9",
    };
    let (path, colour, width) = (path(&line.points), colour(line.ink), line.weight.mm());
    let _ = writeln!(
        page,
        "<path d=\"{path}\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"{width}\" stroke-dasharray=\"{dash}\"/>"
    );
}

fn paint_mark(page: &mut String, mark: &Mark) {
    let shape = shapes::mark_shape(mark);
    // A cell has room for more than the few dots of a star; on paper it stands in its true size.
    let size = if mark.kind == MarkKind::Star { mark.size_mm.max(3.0) } else { mark.size_mm };
    let shape = if size == mark.size_mm { shape } else { shapes::mark_shape(&Mark { size_mm: size, ..*mark }) };
    if shape.filled {
        paint_area(page, &Area::solid(shape.points, mark.ink));
    } else {
        paint_line(page, &Line::through(shape.points, mark.ink));
    }
}

fn paint_label(page: &mut String, label: &Label, text_mm: f64) {
    let anchor = match label.align {
        Align::Left => "start",
        Align::Centre => "middle",
        Align::Right => "end",
    };
    if !label.anchor.is_finite() {
        return;
    }
    let (x, y, colour) = (label.anchor.x, label.anchor.y, colour(label.ink));
    let text = label.text.replace('&', "&amp;").replace('<', "&lt;");
    let weight = if label.emphasis == Emphasis::Strong { "bold" } else { "normal" };
    // A character of this type is about half as wide as a line is high.
    let size = text_mm * 0.8;
    let _ = writeln!(
        page,
        "<text x=\"{x:.2}\" y=\"{y:.2}\" text-anchor=\"{anchor}\" dominant-baseline=\"central\" font-size=\"{size}\" font-weight=\"{weight}\" fill=\"{colour}\" stroke=\"#ffffff\" stroke-width=\"0.8\" paint-order=\"stroke\">{text}</text>"
    );
}
