//! The canvas of a picture: a scene as an SVG document in true millimetres, with the print colours of topographic maps.

use super::print::{Colour, Paper, Writing, print};
use super::{Align, Point, Scene};
use std::fmt::{self, Write};

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
    let mut page = Picture(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\" font-family=\"sans-serif\">\n"
    ));
    print(scene, text_mm, &mut page);
    page.0.push_str("</svg>\n");
    page.0
}

struct Picture(String);

/// `#1f5fb4`.
impl fmt::Display for Colour {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [red, green, blue] = self.0;
        write!(f, "#{red:02x}{green:02x}{blue:02x}")
    }
}

fn path(points: &[Point]) -> String {
    let mut path = String::new();
    for (number, point) in points.iter().enumerate() {
        let step = if number == 0 { 'M' } else { 'L' };
        // Writing to a string cannot fail.
        let _ = write!(path, "{step}{:.3} {:.3}", point.x, point.y);
    }
    path
}

impl Paper for Picture {
    fn fill(&mut self, outline: &[Point], colour: Colour, opacity: f64) {
        let path = path(outline);
        let _ = writeln!(
            self.0,
            "<path d=\"{path}Z\" fill=\"{colour}\" fill-opacity=\"{opacity}\" fill-rule=\"evenodd\"/>"
        );
    }

    fn stroke(&mut self, points: &[Point], colour: Colour, width: f64, dash_mm: &[f64]) {
        let path = path(points);
        let mut dash = String::new();
        for mm in dash_mm {
            let _ = write!(dash, "{}{mm}", if dash.is_empty() { "" } else { " " });
        }
        if dash.is_empty() {
            dash.push_str("none");
        }
        let _ = writeln!(
            self.0,
            "<path d=\"{path}\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"{width}\" stroke-dasharray=\"{dash}\"/>"
        );
    }

    fn write(&mut self, writing: &Writing<'_>) {
        let anchor = match writing.align {
            Align::Left => "start",
            Align::Centre => "middle",
            Align::Right => "end",
        };
        let Writing { at: Point { x, y }, colour, size_mm: size, .. } = writing;
        let text = writing.text.replace('&', "&amp;").replace('<', "&lt;");
        let weight = if writing.strong { "bold" } else { "normal" };
        let _ = writeln!(
            self.0,
            "<text x=\"{x:.2}\" y=\"{y:.2}\" text-anchor=\"{anchor}\" dominant-baseline=\"central\" font-size=\"{size}\" font-weight=\"{weight}\" fill=\"{colour}\" stroke=\"#ffffff\" stroke-width=\"0.8\" paint-order=\"stroke\">{text}</text>"
        );
    }
}
