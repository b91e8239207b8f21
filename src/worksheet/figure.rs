//! The figure of a problem at the size it has on paper.

use crate::paper::{Piece, Style};
use crate::problem::{Figure, Problem, TEXT_MM};

/// The margin of a map with the numbers of its grid, on both sides together, in mm.
const MAP_MARGIN_MM: f64 = 2.5 * TEXT_MM;
/// How high the enlarged scale of a dial is: index mark, scale, numbers.
const STRIP_MM: f64 = 4.0 * TEXT_MM;

/// The figure; none where nothing is drawn. Maps are true to scale.
pub(super) fn piece(problem: &Problem) -> Option<Piece> {
    let figure = problem.figure();
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
    let drawn = Piece::figure(figure.scene(width_mm, height_mm)?, TEXT_MM);
    let drawn = match figure.strip(width_mm, STRIP_MM) {
        Some(strip) => drawn.above(2.0, Piece::figure(strip, TEXT_MM)),
        None => drawn,
    };
    Some(match &figure {
        Figure::Map(map) if map.protractor.is_none() => {
            let scale = format!("1:{} 000", map.map.spec().scale.denominator() / 1000);
            drawn.above(0.5, Piece::blank(0.0).with(MAP_MARGIN_MM / 2.0, 0.0, Piece::line(scale, Style::SMALL)))
        }
        _ => drawn,
    })
}
