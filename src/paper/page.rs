//! Documents: pieces on pages, each page with a head and a foot.

use super::font;
use super::piece::{Part, Piece, Style};
use super::pressed::Pressed;
use super::{Sheet, file};
use crate::scene::{Align, Colour, Point};
use std::collections::BTreeSet;

/// What is left free beside the text, above it and below it, in mm: the head and the foot stand in the last two.
pub(super) const SIDE_MM: f64 = 17.0;
pub(super) const TOP_MM: f64 = 22.0;
pub(super) const BOTTOM_MM: f64 = 18.0;
/// How far the middle of the head stands from the upper edge, and that of the foot from the lower one, in mm.
const HEAD_MM: f64 = 13.0;
const FOOT_MM: f64 = 10.0;

/// What stands above each page of a section.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Head {
    /// On the left.
    pub left: String,
    /// On the right.
    pub right: String,
}

/// A document that is being laid out. A section begins on a page of its own and counts its own pages.
#[derive(Debug)]
pub struct Document {
    sheet: Sheet,
    title: String,
    foot: String,
    sections: Vec<(Head, Vec<Vec<Part>>)>,
    /// How far down the page is filled, in mm from the upper edge.
    filled_mm: f64,
    /// How many times larger everything is drawn than it shall come out.
    times: f64,
}

/// A printed document.
#[derive(Clone, Debug)]
pub struct Printed {
    /// The PDF file.
    pub bytes: Vec<u8>,
    /// How many pages it has.
    pub pages: usize,
    /// How many pages each of its sections has.
    pub sections: Vec<usize>,
    /// The letters that the font does not have; an empty box stands for each.
    pub missing: Vec<char>,
}

impl Document {
    /// An empty document with a title, and what stands at the foot of each page.
    #[must_use]
    pub fn new(sheet: Sheet, title: impl Into<String>, foot: impl Into<String>) -> Document {
        Document { sheet, title: title.into(), foot: foot.into(), sections: Vec::new(), filled_mm: TOP_MM, times: 1.0 }
    }

    /// For a printer that makes 100 mm this long, in mm: everything is drawn larger or smaller about the middle of the sheet, so that it
    /// comes out true. Outside of 90 to 110 mm the nearest of these is taken, since no more fits on the sheet.
    #[must_use]
    pub fn for_printer(self, bar_mm: f64) -> Document {
        Document { times: 100.0 / bar_mm.clamp(90.0, 110.0), ..self }
    }

    /// Begins a section on a new page.
    pub fn section(&mut self, head: Head) {
        self.sections.push((head, vec![Vec::new()]));
        self.filled_mm = TOP_MM;
    }

    /// Begins a new page of the section.
    pub fn page(&mut self) {
        if let Some((_, pages)) = self.sections.last_mut() {
            pages.push(Vec::new());
        }
        self.filled_mm = TOP_MM;
    }

    /// Puts a piece below what is there, or on the next page where it does not fit.
    pub fn add(&mut self, piece: Piece) {
        let is_first = self.filled_mm <= TOP_MM;
        if !is_first && self.filled_mm + piece.height_mm > self.sheet.height_mm() - BOTTOM_MM {
            self.page();
        }
        let down_mm = self.filled_mm;
        self.filled_mm += piece.height_mm;
        if self.sections.is_empty() {
            self.section(Head { left: String::new(), right: String::new() });
        }
        let page = self.sections.last_mut().and_then(|(_, pages)| pages.last_mut());
        page.into_iter().for_each(|page| {
            page.extend(piece.parts.iter().cloned().map(|part| part.moved(SIDE_MM, down_mm)));
        });
    }

    /// How high what comes next can be and still stand on this page, in mm.
    #[must_use]
    pub fn room_mm(&self) -> f64 {
        self.sheet.height_mm() - BOTTOM_MM - self.filled_mm
    }

    /// Leaves so many mm free, but not at the top of a page.
    pub fn gap(&mut self, mm: f64) {
        if self.filled_mm > TOP_MM {
            self.filled_mm += mm;
        }
    }

    /// Prints it.
    #[must_use]
    pub fn print(self) -> Printed {
        let mut missing = BTreeSet::new();
        let mut pages = Vec::new();
        for (head, section) in &self.sections {
            let count = section.len();
            for (number, parts) in (1..).zip(section) {
                let mut pressed = Pressed::new(self.sheet, self.times);
                for part in self.frame(head, number, count).iter().chain(parts) {
                    pressed.put(part);
                }
                missing.extend(pressed.missing.iter().copied());
                pages.push(pressed);
            }
        }
        let count = pages.len();
        Printed {
            bytes: file::written(self.sheet, &self.title, pages),
            pages: count,
            sections: self.sections.iter().map(|(_, section)| section.len()).collect(),
            missing: missing.into_iter().collect(),
        }
    }

    /// The head and the foot of a page of so many.
    fn frame(&self, head: &Head, number: usize, count: usize) -> Vec<Part> {
        let (left, right) = (SIDE_MM, self.sheet.width_mm() - SIDE_MM);
        let foot_mm = self.sheet.height_mm() - FOOT_MM;
        let style = Style::SMALL;
        let text = |x: f64, y: f64, align: Align, text: &str, style: Style| Part::Text {
            at: Point::new(x, y),
            align,
            text: text.to_owned(),
            style,
        };
        let under = HEAD_MM + style.leading_mm() * 0.7;
        let foot = Style { size_mm: 2.4, ..style };
        vec![
            text(left, HEAD_MM, Align::Left, &head.left, style.dark().strong()),
            text(right, HEAD_MM, Align::Right, &head.right, style),
            Part::Rule {
                from: Point::new(left, under),
                to: Point::new(right, under),
                width_mm: 0.2,
                colour: Colour::QUIET,
            },
            text(left, foot_mm, Align::Left, &self.foot, foot),
            text(right, foot_mm, Align::Right, &format!("page {number} of {count}"), foot),
        ]
    }
}

/// The letters of a text that the font does not have.
pub(super) fn without_shape(text: &str) -> impl Iterator<Item = char> {
    text.chars().filter(|letter| !font::has(*letter))
}
