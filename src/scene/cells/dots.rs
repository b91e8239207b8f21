//! The dots of a picture, cell by cell, with the role that colours each cell.
use crate::scene::Ink;

/// Which bit of a braille character each dot is: column, then row.
const BITS: [[u8; 4]; 2] = [[0x01, 0x02, 0x04, 0x40], [0x08, 0x10, 0x20, 0x80]];

/// Dots and tints of a picture.
pub(super) struct DotGrid {
    pub(super) cols: u16,
    pub(super) rows: u16,
    masks: Vec<u8>,
    inks: Vec<Ink>,
    tints: Vec<Option<Ink>>,
}

impl DotGrid {
    pub(super) fn new(cols: u16, rows: u16) -> DotGrid {
        let cells = usize::from(cols) * usize::from(rows);
        DotGrid { cols, rows, masks: vec![0; cells], inks: vec![Ink::Faint; cells], tints: vec![None; cells] }
    }

    /// Dots across.
    pub(super) fn wide(&self) -> i32 {
        i32::from(self.cols) * 2
    }

    /// Dots down.
    pub(super) fn high(&self) -> i32 {
        i32::from(self.rows) * 4
    }

    fn index(&self, col: u16, row: u16) -> usize {
        usize::from(row) * usize::from(self.cols) + usize::from(col)
    }

    /// Adds a dot; outside the grid nothing happens.
    #[expect(clippy::cast_sign_loss, reason = "checked to be within the grid")]
    pub(super) fn plot(&mut self, x: i32, y: i32, ink: Ink) {
        if x < 0 || y < 0 || x >= self.wide() || y >= self.high() {
            return;
        }
        let (x, y) = (x as usize, y as usize);
        let cell = (y / 4) * usize::from(self.cols) + x / 2;
        if self.masks[cell] == 0 || ink > self.inks[cell] {
            self.inks[cell] = ink;
        }
        self.masks[cell] |= BITS[x % 2][y % 4];
    }

    /// Tints a cell; the last tint stays.
    pub(super) fn tint(&mut self, col: u16, row: u16, ink: Ink) {
        if col < self.cols && row < self.rows {
            let cell = self.index(col, row);
            self.tints[cell] = Some(ink);
        }
    }

    /// The dots of a cell as the low byte of its braille character, and its role. 0 outside the grid.
    pub(super) fn dots(&self, col: u16, row: u16) -> (u8, Ink) {
        if col < self.cols && row < self.rows {
            let cell = self.index(col, row);
            (self.masks[cell], self.inks[cell])
        } else {
            (0, Ink::Faint)
        }
    }

    /// The tint of a cell.
    pub(super) fn tint_of(&self, col: u16, row: u16) -> Option<Ink> {
        if col < self.cols && row < self.rows { self.tints[self.index(col, row)] } else { None }
    }
}
