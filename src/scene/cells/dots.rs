//! The dots of a picture, cell by cell, with the role that colours each cell.
use crate::scene::Ink;

/// Which bit of a braille character each dot is: column, then row.
const BITS: [[u8; 4]; 2] = [[0x01, 0x02, 0x04, 0x40], [0x08, 0x10, 0x20, 0x80]];

/// What a cell has of dots.
#[derive(Clone, Copy, Debug)]
pub(super) struct CellDots {
    /// The low byte of its braille character.
    pub(super) mask: u8,
    /// The most important role among its dots.
    pub(super) ink: Ink,
    /// Whether dots of a filled shape are among them.
    pub(super) filled: bool,
    /// Which of them nothing shines through, as `mask`.
    pub(super) dense: u8,
    /// The role of the tint behind.
    pub(super) tint: Option<Ink>,
    /// How many things had been laid on the picture when the last one covered this cell; 0 for none.
    pub(super) covered: u16,
}

const EMPTY: CellDots = CellDots { mask: 0, ink: Ink::Faint, filled: false, dense: 0, tint: None, covered: 0 };

/// Dots and tints of a picture.
#[derive(Clone, Debug)]
pub(super) struct DotGrid {
    pub(super) cols: u16,
    pub(super) rows: u16,
    cells: Vec<CellDots>,
    /// How many things were laid on the picture so far.
    covers: u16,
}

impl DotGrid {
    pub(super) fn new(cols: u16, rows: u16) -> DotGrid {
        DotGrid { cols, rows, cells: vec![EMPTY; usize::from(cols) * usize::from(rows)], covers: 0 }
    }

    /// Dots across.
    pub(super) fn wide(&self) -> i32 {
        i32::from(self.cols) * 2
    }

    /// Dots down.
    pub(super) fn high(&self) -> i32 {
        i32::from(self.rows) * 4
    }

    /// All cells, row by row.
    pub(super) fn cells(&self) -> &[CellDots] {
        &self.cells
    }

    /// The dots of a cell; none outside the grid.
    pub(super) fn cell(&self, col: u16, row: u16) -> CellDots {
        if col >= self.cols {
            return EMPTY;
        }
        let at = usize::from(row) * usize::from(self.cols) + usize::from(col);
        self.cells.get(at).copied().unwrap_or(EMPTY)
    }

    /// Adds a dot of a line; outside the grid nothing happens.
    pub(super) fn plot(&mut self, x: i32, y: i32, ink: Ink) {
        self.add(x, y, ink, false);
    }

    /// Adds a dot of a filled shape; outside the grid nothing happens.
    pub(super) fn fill(&mut self, x: i32, y: i32, ink: Ink) {
        self.add(x, y, ink, true);
    }

    /// Says of a dot that nothing shines through; outside the grid nothing happens.
    pub(super) fn thicken(&mut self, x: i32, y: i32) {
        if let Some((cell, bit)) = self.at(x, y) {
            cell.dense |= bit;
        }
    }

    fn add(&mut self, x: i32, y: i32, ink: Ink, filled: bool) {
        let Some((cell, bit)) = self.at(x, y) else { return };
        if cell.mask == 0 || ink > cell.ink {
            cell.ink = ink;
        }
        cell.mask |= bit;
        cell.filled |= filled;
    }

    /// The cell of a dot, and the dot's bit in it.
    #[expect(clippy::cast_sign_loss, reason = "checked to be within the grid")]
    fn at(&mut self, x: i32, y: i32) -> Option<(&mut CellDots, u8)> {
        if x < 0 || y < 0 || x >= self.wide() || y >= self.high() {
            return None;
        }
        let (x, y) = (x as usize, y as usize);
        let cell = self.cells.get_mut((y / 4) * usize::from(self.cols) + x / 2)?;
        Some((cell, BITS[x % 2][y % 4]))
    }

    /// Something is laid on the picture.
    pub(super) fn lay(&mut self) {
        self.covers = self.covers.saturating_add(1);
    }

    /// How many things were laid on the picture so far.
    pub(super) const fn covers(&self) -> u16 {
        self.covers
    }

    /// Rubs out the dots of a row from one to another, and says that their cells are covered; outside the grid nothing happens.
    #[expect(clippy::cast_sign_loss, reason = "cut to the grid")]
    pub(super) fn clear(&mut self, y: i32, from: i32, to: i32) {
        let (from, to) = (from.max(0), to.min(self.wide() - 1));
        if y < 0 || y >= self.high() || from > to {
            return;
        }
        let (y, from, to) = (y as usize, from as usize, to as usize);
        let row = (y / 4) * usize::from(self.cols);
        let [left, right] = BITS.map(|column| column[y % 4]);
        for (col, cell) in (from / 2..).zip(&mut self.cells[row + from / 2..=row + to / 2]) {
            // A run may begin on the right dot of its first cell and end on the left one of its last.
            let keeps_left = if col * 2 < from { left } else { 0 };
            let keeps_right = if col * 2 + 1 > to { right } else { 0 };
            cell.mask &= !(left | right) | keeps_left | keeps_right;
            cell.filled &= cell.mask != 0;
            cell.dense &= cell.mask;
            cell.covered = self.covers;
        }
    }

    /// Tints a cell of the grid; the last tint stays.
    pub(super) fn tint(&mut self, col: u16, row: u16, ink: Ink) {
        if col < self.cols && row < self.rows {
            self.cells[usize::from(row) * usize::from(self.cols) + usize::from(col)].tint = Some(ink);
        }
    }
}
