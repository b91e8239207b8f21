//! Filled shapes on the dot grid, by even-odd rule.
use super::dots::DotGrid;
use super::viewport::Dot;
use crate::scene::Ink;
use std::ops::Range;

/// Fills every dot whose middle is inside.
pub(super) fn solid(grid: &mut DotGrid, outline: &[Dot], ink: Ink) {
    each_inside(grid, outline, |grid, y, from, to| (from..=to).for_each(|x| grid.fill(x, y, ink)));
}

/// Says of every dot whose middle is inside that nothing shines through; whether there is one.
pub(super) fn dense(grid: &mut DotGrid, outline: &[Dot]) -> bool {
    let mut any = false;
    each_inside(grid, outline, |grid, y, from, to| {
        any = true;
        (from..=to).for_each(|x| grid.thicken(x, y));
    });
    any
}

/// Rubs out every dot whose middle is inside, and grounds every cell whose middle is.
pub(super) fn cover(grid: &mut DotGrid, outline: &[Dot], ink: Ink) {
    clear(grid, outline);
    tint(grid, outline, ink);
}

/// Rubs out every dot whose middle is inside, and leaves the ground.
pub(super) fn clear(grid: &mut DotGrid, outline: &[Dot]) {
    each_inside(grid, outline, DotGrid::clear);
}

/// Does something with every run of dots whose middles are inside: the row, and the first and the last of them.
#[expect(clippy::cast_possible_truncation, reason = "clamped to the grid")]
fn each_inside(grid: &mut DotGrid, outline: &[Dot], mut act: impl FnMut(&mut DotGrid, i32, i32, i32)) {
    let wide = f64::from(grid.wide());
    let (top, bottom) = span(outline, grid.high());
    for [into, out] in pairs(&crossings(outline, top..bottom, f64::from)) {
        let from = into.x.ceil().clamp(0.0, wide) as i32;
        let to = out.x.floor().clamp(-1.0, wide - 1.0) as i32;
        if from <= to {
            act(grid, into.row, from, to);
        }
    }
}

/// Tints every cell whose middle is inside.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the grid")]
pub(super) fn tint(grid: &mut DotGrid, outline: &[Dot], ink: Ink) {
    // Rows of cells that the rows of dots lie in, and one more to either side: the middles lie between dots.
    let (top, bottom) = span(outline, grid.high());
    let rows = (top / 4 - 1).max(0)..(bottom / 4 + 2).clamp(0, i32::from(grid.rows));
    // The middle of a column lies half a dot right of its first dot; the one on the way out counts as inside.
    let column = |at: f64| ((at - 0.5) / 2.0).floor();
    let columns = f64::from(grid.cols);
    for [into, out] in pairs(&crossings(outline, rows, |row| f64::from(row) * 4.0 + 1.5)) {
        let (from, beyond) = (column(into.x) + 1.0, column(out.x) + 1.0);
        for col in from.clamp(0.0, columns) as u16..beyond.clamp(0.0, columns) as u16 {
            grid.tint(col, into.row as u16, ink);
        }
    }
}

/// The rows of dots a shape can touch, cut to the grid.
#[expect(clippy::cast_possible_truncation, reason = "clamped to the grid")]
fn span(outline: &[Dot], high: i32) -> (i32, i32) {
    let finite = || outline.iter().filter(|d| d.is_finite()).map(|d| d.y);
    let limit = f64::from(high);
    let top = finite().fold(f64::INFINITY, f64::min).ceil().clamp(0.0, limit);
    let bottom = finite().fold(f64::NEG_INFINITY, f64::max).floor().clamp(-1.0, limit - 1.0);
    (top as i32, bottom as i32 + 1)
}

/// Where an outline crosses the middle of a row.
#[derive(Clone, Copy)]
struct Crossing {
    row: i32,
    x: f64,
}

/// The ways in and out of a shape, row by row: every row has an even number of crossings.
fn pairs(crossings: &[Crossing]) -> &[[Crossing; 2]] {
    crossings.as_chunks::<2>().0
}

/// Where the outline crosses these rows, whose middles lie at heights that grow with them, sorted by row and from left to right.
///
/// Side by side of the outline and not row by row: a circle has many sides, and each crosses few rows.
#[expect(clippy::cast_possible_truncation, reason = "clamped to the rows")]
fn crossings(outline: &[Dot], rows: Range<i32>, height: impl Fn(i32) -> f64) -> Vec<Crossing> {
    let mut found = Vec::new();
    let mut finite = outline.iter().filter(|d| d.is_finite());
    let Some(first) = finite.clone().next() else { return found };
    let mut before = finite.next_back().unwrap_or(first);
    let (start, step) = (height(0), height(1) - height(0));
    // A row to either side, so that rounding leaves none out; which are crossed is asked below.
    let row = |y: f64, beside: f64| ((y - start) / step + beside).clamp(rows.start.into(), rows.end.into()) as i32;
    for here in outline.iter().filter(|d| d.is_finite()) {
        let (low, high) = (before.y.min(here.y), before.y.max(here.y));
        for row in row(low, -1.0)..row(high, 2.0) {
            let y = height(row);
            // Half open, so that a corner on the line counts once.
            if (before.y <= y) != (here.y <= y) {
                let at = before.x + (y - before.y) / (here.y - before.y) * (here.x - before.x);
                found.push(Crossing { row, x: if at.is_nan() { before.x } else { at } });
            }
        }
        before = here;
    }
    found.sort_unstable_by(|one, other| one.row.cmp(&other.row).then(one.x.total_cmp(&other.x)));
    found
}
