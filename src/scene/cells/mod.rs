//! The canvas of terminal cells: a scene becomes a grid of characters, as plain data.
//!
//! Lines are dots of braille, two across and four down in each cell, and a cell is taken to be twice as high as wide,
//! so that dots stand on a square grid. Three rules keep a crowded drawing readable:
//!
//! 1. Dots are only ever added. What is drawn later never takes away what stands there, but for an area that covers
//!    ([`Fill::Cover`]): a compass on a map hides what lies under it.
//! 2. A cell shows one colour: that of the most important [`Ink`](super::Ink) with a dot in it, whatever the order.
//! 3. A label replaces the dots under it and never touches another label. The one of lower priority is moved if it may
//!    be, or dropped, and what was dropped is told ([`CellPicture::dropped`]).
mod charset;
mod dots;
mod fill;
mod labels;
mod picture;
mod stroke;
mod viewport;

pub use charset::Charset;
pub use picture::{Cell, CellPicture, DropReason, DroppedLabel};
pub use viewport::Viewport;

use super::{Area, Dash, Fill, Mark, MarkKind, Scene, SceneItem, Weight, shapes};
use dots::DotGrid;
use viewport::Dot;

/// The most columns and rows a picture has; larger wishes are cut down to it, so that no number can exhaust memory.
pub const LIMIT: u16 = 1000;

/// Shows scenes in terminal cells.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct CellCanvas {
    /// The characters it may use.
    pub charset: Charset,
}

impl CellCanvas {
    /// A canvas that draws with these characters.
    #[must_use]
    pub const fn new(charset: Charset) -> CellCanvas {
        CellCanvas { charset }
    }

    /// The scene in `cols` by `rows` cells, as large as fits and in the middle. Any size will do, also 0; nothing in a
    /// scene can make this fail, coordinates that are not finite are left out.
    #[must_use]
    pub fn render(&self, scene: &Scene, cols: u16, rows: u16) -> CellPicture {
        self.begin(scene, cols, rows).placed()
    }

    /// The same up to the writing, so that more can be drawn over it, again and again.
    #[must_use]
    pub fn begin(&self, scene: &Scene, cols: u16, rows: u16) -> Drawn {
        let (cols, rows) = (cols.min(LIMIT), rows.min(LIMIT));
        let view = Viewport::fit(scene.width_mm, scene.height_mm, cols, rows);
        let mut drawn = Drawn {
            charset: self.charset,
            view,
            grid: DotGrid::new(cols, rows),
            labels: labels::Layer::new(self.charset),
        };
        drawn.add(&scene.items);
        drawn
    }
}

/// A scene drawn in cells, its labels not yet placed.
#[derive(Clone, Debug)]
pub struct Drawn {
    charset: Charset,
    view: Viewport,
    grid: DotGrid,
    labels: labels::Layer,
}

impl Drawn {
    /// Draws these over it and places all labels, in the order in which they came. What was drawn before stays as it is.
    #[must_use]
    pub fn finish(&self, items: &[SceneItem]) -> CellPicture {
        // The writing that stands already is kept where it is: copying it would be a part of the whole that shows.
        let labels = labels::Layer::new(self.charset);
        let mut over = Drawn { labels, grid: self.grid.clone(), ..*self };
        over.add(items);
        let (writing, dropped) = labels::place(&[&self.labels, &over.labels], &over.grid);
        picture::assemble(&over.grid, writing, dropped, self.charset)
    }

    fn placed(self) -> CellPicture {
        let (writing, dropped) = labels::place(&[&self.labels], &self.grid);
        picture::assemble(&self.grid, writing, dropped, self.charset)
    }

    fn add(&mut self, items: &[SceneItem]) {
        let Drawn { view, grid, labels, .. } = self;
        // Most lines are a tick of a dial: one list for all their dots.
        let mut dots: Vec<Dot> = Vec::new();
        for item in items {
            match item {
                SceneItem::Line(line) => {
                    dots.clear();
                    dots.extend(line.points.iter().map(|&p| view.dot(p)));
                    stroke::polyline(grid, &dots, line.ink, line.weight, line.dash);
                }
                SceneItem::Area(area) => paint_area(grid, view, area),
                SceneItem::Label(label) => labels.want(label, view, grid.covers()),
                // A star of a few dots is a blot; the character is clear at any size.
                SceneItem::Mark(mark) if mark.kind == MarkKind::Star => {
                    labels.want_symbol('★', mark, view, grid.covers())
                }
                SceneItem::Mark(mark) if mark.kind == MarkKind::Wave => labels.want_wave(mark, view, grid.covers()),
                SceneItem::Mark(mark) => paint_mark(grid, view, mark),
            }
        }
    }
}

fn paint_area(grid: &mut DotGrid, view: &Viewport, area: &Area) {
    let mut dots: Vec<Dot> = area.outline.iter().map(|&p| view.dot(p)).filter(|d| d.is_finite()).collect();
    match area.fill {
        Fill::Tint => fill::tint(grid, &dots, area.ink),
        Fill::Cover => {
            grid.lay();
            fill::cover(grid, &dots, area.ink);
        }
        Fill::Free => {
            grid.lay();
            fill::clear(grid, &dots);
        }
        Fill::Solid | Fill::Dense => {
            if area.fill == Fill::Dense && fill::dense(grid, &dots) {
                // Its blocks are whole without an outline, whose dots would stand loose around them.
                fill::solid(grid, &dots, area.ink);
                return;
            }
            fill::solid(grid, &dots, area.ink);
            // The outline too, so that a shape thinner than a dot does not vanish.
            dots.extend(dots.first().copied());
            stroke::polyline(grid, &dots, area.ink, Weight::Thin, Dash::Solid);
        }
    }
}

fn paint_mark(grid: &mut DotGrid, view: &Viewport, mark: &Mark) {
    let shape = shapes::mark_shape(mark);
    let dots: Vec<Dot> = shape.points.iter().map(|&p| view.dot(p)).collect();
    if shape.filled {
        // Without an outline: a mark is a few dots large and would grow fat and lose its shape. Its first point, the
        // tip, is set in any case.
        fill::solid(grid, &dots, mark.ink);
        if let Some(&tip) = dots.first() {
            stroke::polyline(grid, &[tip, tip], mark.ink, Weight::Thin, Dash::Solid);
        }
    } else {
        stroke::polyline(grid, &dots, mark.ink, Weight::Thin, Dash::Solid);
    }
}

#[cfg(test)]
mod tests;
