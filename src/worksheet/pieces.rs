//! What several kinds of pages are made of.

use crate::paper::{Document, Piece, Sheet, Style};
use crate::scene::{Colour, Point};

/// A table: the widths of its columns in mm, its head, its rows.
pub(super) fn table(columns: &[f64], head: &[String], rows: &[Vec<String>]) -> Piece {
    let rows = rows.iter().map(|cells| row(columns, cells, Style::SMALL.dark()));
    heads(columns, head).above(0.8, Piece::stack(rows, 0.8))
}

/// The head of a table, with a line below it.
pub(super) fn heads(columns: &[f64], head: &[String]) -> Piece {
    heads_in(columns, head, Style::SMALL.dark().strong())
}

/// The same in a type of its own.
pub(super) fn heads_in(columns: &[f64], head: &[String], style: Style) -> Piece {
    let wide: f64 = columns.iter().sum();
    let head = row(columns, head, style);
    let foot = head.height_mm + 0.6;
    head.rule(Point::new(0.0, foot), Point::new(wide, foot), 0.2, Colour::QUIET)
}

/// A row of a table.
pub(super) fn row(columns: &[f64], cells: &[String], style: Style) -> Piece {
    let mut left_mm = 0.0;
    let mut row = Piece::default();
    for (width_mm, cell) in columns.iter().zip(cells) {
        row = row.with(left_mm, 0.0, Piece::paragraph(cell, style, width_mm - 2.0));
        left_mm += width_mm;
    }
    row
}

/// Puts pieces that belong together on one page, where a page has room for them; else the first two, and the rest as they fit.
pub(super) fn add_together(document: &mut Document, sheet: Sheet, gap_mm: f64, pieces: Vec<Piece>) {
    let high: f64 = pieces.iter().map(|piece| piece.height_mm + gap_mm).sum();
    if high <= sheet.text_height_mm() {
        return document.add(Piece::stack(pieces, gap_mm));
    }
    let mut pieces = pieces.into_iter();
    let first = Piece::stack(pieces.by_ref().take(2), gap_mm);
    for piece in std::iter::once(first).chain(pieces) {
        document.add(piece);
        document.gap(gap_mm);
    }
}
