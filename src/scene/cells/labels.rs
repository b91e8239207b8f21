//! Where labels stand: never on each other, and where they may choose, where they hide least.
use super::charset::Charset;
use super::dots::DotGrid;
use super::picture::{DropReason, DroppedLabel};
use super::viewport::{Dot, Viewport};
use crate::scene::{Align, Emphasis, Freedom, Ink, Label, Mark, Priority};

/// One character of a placed label.
pub(super) struct Letter {
    pub(super) col: u16,
    pub(super) row: u16,
    pub(super) symbol: char,
    pub(super) ink: Ink,
    pub(super) emphasis: Emphasis,
}

/// A label that wants a place.
#[derive(Clone, Debug)]
struct Wish {
    symbols: Vec<char>,
    anchor: Dot,
    align: Align,
    ink: Ink,
    emphasis: Emphasis,
    priority: Priority,
    freedom: Freedom,
    /// Whether it goes without a word where a line that matters more runs, and where there is no room.
    yields: bool,
    /// How many things had been laid on the picture before it.
    over: u16,
}

/// The labels of a picture.
#[derive(Clone, Debug)]
pub(super) struct Layer {
    charset: Charset,
    wishes: Vec<Wish>,
}

/// Where a label is tried: how it is aligned, and how many columns and rows it is moved.
type Place = (Option<Align>, i64, i64);

/// The places around an anchor, the likeliest first. `None` keeps the label's own alignment.
const AROUND: [Place; 13] = [
    (None, 0, 0),
    (Some(Align::Left), 1, 0),
    (Some(Align::Right), -1, 0),
    (None, 0, -1),
    (None, 0, 1),
    (Some(Align::Left), 1, -1),
    (Some(Align::Left), 1, 1),
    (Some(Align::Right), -1, -1),
    (Some(Align::Right), -1, 1),
    (Some(Align::Left), 2, 0),
    (Some(Align::Right), -2, 0),
    (None, 0, -2),
    (None, 0, 2),
];

impl Layer {
    pub(super) const fn new(charset: Charset) -> Layer {
        Layer { charset, wishes: Vec::new() }
    }

    /// Asks for a place for a label.
    pub(super) fn want(&mut self, label: &Label, view: &Viewport, over: u16) {
        self.wishes.push(Wish {
            symbols: label.text.chars().filter_map(|letter| self.charset.letter(letter)).collect(),
            anchor: view.dot(label.anchor),
            align: label.align,
            ink: label.ink,
            emphasis: label.emphasis,
            priority: label.priority,
            freedom: label.freedom,
            yields: false,
            over,
        });
    }

    /// Asks for a place for a mark that is shown by one character. It goes before every label that may move.
    pub(super) fn want_symbol(&mut self, symbol: char, mark: &Mark, view: &Viewport, over: u16) {
        self.wishes.push(Wish {
            symbols: self.charset.letter(symbol).into_iter().collect(),
            anchor: view.dot(mark.at),
            align: Align::Centre,
            ink: mark.ink,
            emphasis: Emphasis::Plain,
            priority: Priority::High,
            freedom: Freedom::Fixed,
            yields: false,
            over,
        });
    }

    /// Asks for a place for the wave that says that something is water, after all else.
    pub(super) fn want_wave(&mut self, mark: &Mark, view: &Viewport, over: u16) {
        self.wishes.push(Wish {
            symbols: vec!['~'],
            anchor: view.dot(mark.at),
            align: Align::Centre,
            ink: mark.ink,
            emphasis: Emphasis::Plain,
            priority: Priority::Low,
            freedom: Freedom::Fixed,
            yields: true,
            over,
        });
    }
}

/// Places the labels of these layers, high priority first, those that cannot move before those that can, else in the order of
/// the scene.
pub(super) fn place(layers: &[&Layer], grid: &DotGrid) -> (Vec<Letter>, Vec<DroppedLabel>) {
    let mut wishes: Vec<&Wish> = layers.iter().flat_map(|layer| &layer.wishes).collect();
    wishes.sort_by_key(|wish| (wish.yields, std::cmp::Reverse(wish.priority), wish.freedom == Freedom::Near));
    let mut taken = Taken::new(grid);
    let (mut letters, mut dropped) = (Vec::new(), Vec::new());
    for wish in wishes {
        if wish.symbols.is_empty() {
            continue;
        }
        match taken.find(wish) {
            Ok((col, row)) => {
                taken.take(col, row, wish.symbols.len());
                letters.extend((col..).zip(&wish.symbols).map(|(col, &symbol)| Letter {
                    col,
                    row,
                    symbol,
                    ink: wish.ink,
                    emphasis: wish.emphasis,
                }));
            }
            Err(_) if wish.yields => {}
            Err(reason) => dropped.push(DroppedLabel { text: wish.symbols.iter().collect(), reason }),
        }
    }
    (letters, dropped)
}

/// Which cells are written on.
struct Taken<'a> {
    grid: &'a DotGrid,
    cells: Vec<bool>,
}

impl Taken<'_> {
    fn new(grid: &DotGrid) -> Taken<'_> {
        Taken { grid, cells: vec![false; usize::from(grid.cols) * usize::from(grid.rows)] }
    }

    /// The best place: the one that hides the fewest dots, counting a step down the list of places as one dot.
    fn find(&self, wish: &Wish) -> Result<(u16, u16), DropReason> {
        let places = match wish.freedom {
            Freedom::Fixed => &AROUND[..1],
            Freedom::Near => &AROUND[..],
        };
        let mut reason = DropReason::Outside;
        let mut best: Option<(u32, (u16, u16))> = None;
        for (rank, &place) in (0..).zip(places) {
            let Some((col, row)) = self.fit(wish, place) else { continue };
            if self.is_covered(col, row, wish) {
                reason = DropReason::Covered;
                continue;
            }
            if !self.is_free(col, row, wish.symbols.len()) {
                reason = DropReason::Crowded;
                continue;
            }
            let cell = self.grid.cell(col, row);
            if wish.yields && cell.mask != 0 && cell.ink > wish.ink {
                reason = DropReason::Crowded;
                continue;
            }
            let cost = rank + self.hidden(col, row, wish.symbols.len());
            if best.is_none_or(|(least, _)| cost < least) {
                best = Some((cost, (col, row)));
            }
        }
        best.map(|(_, at)| at).ok_or(reason)
    }

    /// The first cell of a label at a place, if all of it is on the picture.
    #[expect(clippy::cast_possible_truncation, reason = "checked against the grid before")]
    fn fit(&self, wish: &Wish, (align, cols, rows): Place) -> Option<(u16, u16)> {
        let (wide, high) = (f64::from(self.grid.wide()), f64::from(self.grid.high()));
        let (x, y) = (wish.anchor.x.round(), wish.anchor.y.round());
        // Also false for what is not a number.
        if !((0.0..wide).contains(&x) && (0.0..high).contains(&y)) {
            return None;
        }
        let length = i64::try_from(wish.symbols.len()).ok()?;
        let dot = x as i64;
        let first = match align.unwrap_or(wish.align) {
            Align::Left => dot.div_euclid(2),
            Align::Right => dot.div_euclid(2) - length + 1,
            // The middle of the dot, the middle of the writing, and the nearest whole cell; both in half dots.
            Align::Centre => (2 * dot + 1 - 2 * length + 2).div_euclid(4),
        };
        let (col, row) = (first + cols, (y as i64).div_euclid(4) + rows);
        let fits = col + length <= i64::from(self.grid.cols) && row < i64::from(self.grid.rows);
        if fits { Some((u16::try_from(col).ok()?, u16::try_from(row).ok()?)) } else { None }
    }

    /// Whether a label can stand here with a free cell before and after it.
    fn is_free(&self, col: u16, row: u16, length: usize) -> bool {
        let start = usize::from(row) * usize::from(self.grid.cols);
        let from = usize::from(col).saturating_sub(1);
        let to = (usize::from(col) + length + 1).min(usize::from(self.grid.cols));
        self.cells[start + from..start + to].iter().all(|taken| !taken)
    }

    /// Whether something was laid on the picture here after the label was written.
    fn is_covered(&self, col: u16, row: u16, wish: &Wish) -> bool {
        (col..).take(wish.symbols.len()).any(|col| self.grid.cell(col, row).covered > wish.over)
    }

    fn take(&mut self, col: u16, row: u16, length: usize) {
        let first = usize::from(row) * usize::from(self.grid.cols) + usize::from(col);
        self.cells[first..first + length].fill(true);
    }

    /// How many dots a label would hide.
    fn hidden(&self, col: u16, row: u16, length: usize) -> u32 {
        (col..).take(length).map(|col| self.grid.cell(col, row).mask.count_ones()).sum()
    }
}
