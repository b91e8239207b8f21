//! Filled shapes on the dot grid, by even-odd rule.
use super::dots::DotGrid;
use super::viewport::Dot;
use crate::scene::Ink;

/// Fills every dot whose middle is inside.
pub(super) fn solid(grid: &mut DotGrid, outline: &[Dot], ink: Ink) {
    each_inside(grid, outline, |grid, y, from, to| (from..=to).for_each(|x| grid.fill(x, y, ink)));
}

/// Rubs out every dot whose middle is inside, and grounds every cell whose middle is; with a texture, sparse dots stay.
pub(super) fn cover(grid: &mut DotGrid, outline: &[Dot], ink: Ink, textured: bool) {
    each_inside(grid, outline, |grid, y, from, to| {
        grid.clear(y, from, to);
        if textured && y % 4 == 0 {
            (from..=to).filter(|x| x % 4 == y % 8 / 2).for_each(|x| grid.plot(x, y, Ink::Faint));
        }
    });
    tint(grid, outline, ink);
}

/// Does something with every run of dots whose middles are inside: the row, and the first and the last of them.
#[expect(clippy::cast_possible_truncation, reason = "clamped to the grid")]
fn each_inside(grid: &mut DotGrid, outline: &[Dot], mut act: impl FnMut(&mut DotGrid, i32, i32, i32)) {
    let wide = f64::from(grid.wide());
    let (top, bottom) = span(outline, grid.high());
    let mut crossings = Vec::new();
    for y in top..bottom {
        cross(outline, f64::from(y), &mut crossings);
        for pair in crossings.as_chunks::<2>().0 {
            let from = pair[0].ceil().clamp(0.0, wide) as i32;
            let to = pair[1].floor().clamp(-1.0, wide - 1.0) as i32;
            if from <= to {
                act(grid, y, from, to);
            }
        }
    }
}

/// Tints every cell whose middle is inside.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the grid")]
pub(super) fn tint(grid: &mut DotGrid, outline: &[Dot], ink: Ink) {
    let mut crossings = Vec::new();
    // Rows of cells that the rows of dots lie in, and one more to either side: the middles lie between dots.
    let (top, bottom) = span(outline, grid.high());
    for row in (top / 4 - 1).max(0) as u16..((bottom / 4 + 2).max(0) as u16).min(grid.rows) {
        cross(outline, f64::from(row) * 4.0 + 1.5, &mut crossings);
        // The middle of a column lies half a dot right of its first dot; the one on the way out counts as inside.
        let column = |at: f64| ((at - 0.5) / 2.0).floor();
        let columns = f64::from(grid.cols);
        for pair in crossings.as_chunks::<2>().0 {
            let (from, beyond) = (column(pair[0]) + 1.0, column(pair[1]) + 1.0);
            for col in from.clamp(0.0, columns) as u16..beyond.clamp(0.0, columns) as u16 {
                grid.tint(col, row, ink);
            }
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

/// Where the outline crosses a line across the grid, sorted. Always an even number.
fn cross(outline: &[Dot], y: f64, crossings: &mut Vec<f64>) {
    crossings.clear();
    let mut finite = outline.iter().filter(|d| d.is_finite());
    let Some(first) = finite.clone().next() else { return };
    let mut before = finite.next_back().unwrap_or(first);
    for here in outline.iter().filter(|d| d.is_finite()) {
        // Half open, so that a corner on the line counts once.
        if (before.y <= y) != (here.y <= y) {
            let at = before.x + (y - before.y) / (here.y - before.y) * (here.x - before.x);
            crossings.push(if at.is_nan() { before.x } else { at });
        }
        before = here;
    }
    crossings.sort_unstable_by(f64::total_cmp);
}
