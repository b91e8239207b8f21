//! Printed pages: text that flows and figures true to scale, as a PDF file.
//!
//! What lives here: the [`Sheet`] sizes, the [`Piece`] that is laid out and stays whole, and the [`Document`] that puts pieces on
//! pages with a head and a foot. Millimetres run right and down, as in a scene. The same pieces give the same bytes: no time of
//! day and nothing of the machine is in a file. What does not live here: what is printed.
//!
//! The font is Noto Sans (`LICENSE-NOTO-SANS` has its notices). A letter that it does not have is printed as an empty box, and
//! [`Printed::missing`] says which.

mod file;
mod font;
mod page;
mod piece;
mod pressed;
#[cfg(test)]
mod tests;

pub use page::{Document, Head, Printed};
pub use piece::{Piece, Style};

/// The size of the paper.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Sheet {
    /// 210 by 297 mm.
    #[default]
    A4,
    /// 8½ by 11 inches: 215.9 by 279.4 mm.
    Letter,
}

impl Sheet {
    /// Width in mm.
    #[must_use]
    pub const fn width_mm(self) -> f64 {
        match self {
            Sheet::A4 => 210.0,
            Sheet::Letter => 215.9,
        }
    }

    /// Height in mm.
    #[must_use]
    pub const fn height_mm(self) -> f64 {
        match self {
            Sheet::A4 => 297.0,
            Sheet::Letter => 279.4,
        }
    }

    /// How wide a text can be, in mm.
    #[must_use]
    pub const fn text_width_mm(self) -> f64 {
        self.width_mm() - 2.0 * page::SIDE_MM
    }

    /// How high what stands on one page can be, in mm.
    #[must_use]
    pub const fn text_height_mm(self) -> f64 {
        self.height_mm() - page::TOP_MM - page::BOTTOM_MM
    }
}
