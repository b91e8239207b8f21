//! The figure of a problem at the size it has on paper.

use super::layout::BESIDE;
use crate::paper::Piece;
use crate::problem::{Figure, Problem, TEXT_MM};

/// The margin of a map with the numbers of its grid, on both sides together, in mm.
const MAP_MARGIN_MM: f64 = 2.5 * TEXT_MM;
/// A dial that is smaller than this many times its size has no room for its numbers.
const DIAL_TIMES: f64 = 0.92;
/// How high the enlarged scale of a dial is: index mark, scale, numbers.
const STRIP_MM: f64 = 4.0 * TEXT_MM;

/// The figure; none where nothing is drawn. Maps are true to scale. What is only looked at may be drawn smaller, by so many times; what is
/// read or measured keeps its size: maps, protractors, dials. Of a dial with its scale enlarged the scale is read.
pub(super) fn piece(problem: &Problem, times: f64) -> Option<Piece> {
    let figure = problem.figure();
    let times = if is_read(&figure) { 1.0 } else { times };
    let (width_mm, height_mm) = match &figure {
        Figure::None => return None,
        // As wide as the enlarged scale needs for its caption beside the index mark.
        Figure::Dial(dial) if dial.strip => (84.0, 60.0),
        Figure::Dial(_) | Figure::Rose { .. } => (64.0, 60.0),
        Figure::Prongs(_) | Figure::Drift(_) => (52.0, 44.0),
        Figure::Sketch { .. } => (66.0, 56.0),
        Figure::Turn(_) => (60.0, 50.0),
        Figure::Ends(_) => (60.0, 58.0),
        Figure::Plan(_) => (70.0, 60.0),
        Figure::Map(map) if map.protractor.is_some() => (80.0, 80.0),
        Figure::Map(map) => (map.map.spec().width_mm + MAP_MARGIN_MM, map.map.spec().height_mm + MAP_MARGIN_MM),
    };
    let (width_mm, height_mm) = match figure {
        Figure::Dial(_) => (width_mm, height_mm * times.max(DIAL_TIMES)),
        _ => (width_mm * times, height_mm * times),
    };
    let drawn = Piece::figure(figure.scene(width_mm, height_mm)?, TEXT_MM);
    let drawn = match figure.strip(width_mm, STRIP_MM) {
        Some(strip) => drawn.above(2.0, Piece::figure(strip, TEXT_MM)),
        None => drawn,
    };
    Some(match &figure {
        Figure::Map(map) if map.protractor.is_none() => {
            let scale = format!("1:{} 000", map.map.spec().scale.denominator() / 1000);
            drawn.above(0.5, Piece::blank(0.0).with(MAP_MARGIN_MM / 2.0, 0.0, Piece::line(scale, BESIDE)))
        }
        _ => drawn,
    })
}

/// Whether something is read off the figure or measured on it.
const fn is_read(figure: &Figure) -> bool {
    match figure {
        Figure::Dial(dial) => !dial.strip,
        Figure::Map(_) => true,
        Figure::None
        | Figure::Rose { .. }
        | Figure::Prongs(_)
        | Figure::Drift(_)
        | Figure::Sketch { .. }
        | Figure::Turn(_)
        | Figure::Ends(_)
        | Figure::Plan(_) => false,
    }
}

/// Whether the problem's figure can be drawn smaller.
pub(super) fn can_be_smaller(problem: &Problem) -> bool {
    !is_read(&problem.figure())
}
