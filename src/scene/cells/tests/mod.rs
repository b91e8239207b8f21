//! The canvas, with the expected grids drawn here.
mod any;
mod fills;
mod labels;
mod lines;

use super::*;
use crate::scene::{Ink, Line, Mark, MarkKind, Point};

/// A sheet on which a millimetre is a dot: the point (x, y) is the dot (x + 1, y + 1) of the picture.
fn sheet(cols: u16, rows: u16) -> Scene {
    Scene::new(f64::from(cols) * 2.0 - 2.0, f64::from(rows) * 4.0 - 2.0)
}

/// The line between two dots of a [`sheet`].
fn line(from: (f64, f64), to: (f64, f64), ink: Ink) -> Line {
    Line::straight(Point::new(from.0 - 1.0, from.1 - 1.0), Point::new(to.0 - 1.0, to.1 - 1.0), ink)
}

fn braille(scene: &Scene, cols: u16, rows: u16) -> CellPicture {
    CellCanvas::default().render(scene, cols, rows)
}

/// The dots of a braille picture, as they lie on the grid.
fn dots(picture: &CellPicture) -> Vec<(i32, i32)> {
    let mut all = Vec::new();
    for (row, cells) in (0..).zip(picture.lines()) {
        for (col, cell) in (0..).zip(cells) {
            let Some(mask) = u32::from(cell.symbol).checked_sub(0x2800).filter(|&mask| mask < 256) else { continue };
            for (bit, (x, y)) in
                [(0, 0), (0, 1), (0, 2), (1, 0), (1, 1), (1, 2), (0, 3), (1, 3)].into_iter().enumerate()
            {
                if mask >> bit & 1 == 1 {
                    all.push((col * 2 + x, row * 4 + y));
                }
            }
        }
    }
    all
}

/// A picture drawn with `#` for each dot, one text line for each row of dots.
fn drawn(picture: &CellPicture) -> String {
    let set = dots(picture);
    let row =
        |y: i32| (0..i32::from(picture.cols()) * 2).map(|x| if set.contains(&(x, y)) { '#' } else { '.' }).collect();
    let rows: Vec<String> = (0..i32::from(picture.rows()) * 4).map(row).collect();
    rows.join("\n")
}
