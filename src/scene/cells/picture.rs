//! The finished grid of cells.
use super::charset::Charset;
use super::dots::{CellDots, DotGrid};
use super::labels::Letter;
use crate::scene::{Emphasis, Ink};

/// One cell of a picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cell {
    /// The character, one cell wide; a space where nothing is drawn.
    pub symbol: char,
    /// The role of what is drawn; [`Ink::Faint`] where nothing is.
    pub ink: Ink,
    /// The role of the tint behind it, if there is one.
    pub area: Option<Ink>,
    /// How loud a letter is; [`Emphasis::Plain`] for lines.
    pub emphasis: Emphasis,
}

/// Why a label is missing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DropReason {
    /// Other labels had taken its places.
    Crowded,
    /// It does not fit on the picture where it should stand.
    Outside,
    /// Something was laid on it.
    Covered,
}

/// A label that found no place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DroppedLabel {
    /// What it would have said.
    pub text: String,
    /// Why it is missing.
    pub reason: DropReason,
}

/// A picture: rows of cells, and the labels that found no place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CellPicture {
    cols: u16,
    rows: u16,
    cells: Vec<Cell>,
    /// The labels that found no place, in the order of their priority.
    pub dropped: Vec<DroppedLabel>,
}

impl CellPicture {
    /// Cells across.
    #[must_use]
    pub const fn cols(&self) -> u16 {
        self.cols
    }

    /// Cells down.
    #[must_use]
    pub const fn rows(&self) -> u16 {
        self.rows
    }

    /// One cell; `None` outside the picture.
    #[must_use]
    pub fn cell(&self, col: u16, row: u16) -> Option<&Cell> {
        if col >= self.cols {
            return None;
        }
        self.cells.get(usize::from(row) * usize::from(self.cols) + usize::from(col))
    }

    /// The rows from top to bottom, each with all its cells.
    pub fn lines(&self) -> impl Iterator<Item = &[Cell]> {
        // A chunk of nothing is not allowed; without columns there are no cells either.
        self.cells.chunks_exact(usize::from(self.cols).max(1))
    }

    /// The characters alone: one line for each row, without spaces at the end of lines.
    #[must_use]
    pub fn text(&self) -> String {
        let mut text = String::with_capacity(self.cells.len() * 3 + usize::from(self.rows));
        for (row, line) in self.lines().enumerate() {
            if row > 0 {
                text.push('\n');
            }
            let used = line.iter().rposition(|cell| cell.symbol != ' ').map_or(0, |last| last + 1);
            text.extend(line[..used].iter().map(|cell| cell.symbol));
        }
        text
    }
}

/// Lays the writing over the dots.
pub(super) fn assemble(
    grid: &DotGrid,
    writing: Vec<Letter>,
    dropped: Vec<DroppedLabel>,
    charset: Charset,
) -> CellPicture {
    let paint = |dots: &CellDots| Cell {
        symbol: charset.stroke(dots),
        // What was rubbed out leaves no role behind: a blank that changes its colour is seen by nobody and written all the same.
        ink: if dots.mask == 0 { Ink::Faint } else { dots.ink },
        area: dots.tint,
        emphasis: Emphasis::Plain,
    };
    let mut cells: Vec<Cell> = grid.cells().iter().map(paint).collect();
    for letter in writing {
        let at = usize::from(letter.row) * usize::from(grid.cols) + usize::from(letter.col);
        if let Some(cell) = cells.get_mut(at) {
            cell.symbol = letter.symbol;
            cell.ink = letter.ink;
            cell.emphasis = letter.emphasis;
        }
    }
    CellPicture { cols: grid.cols, rows: grid.rows, cells, dropped }
}
