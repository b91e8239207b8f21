//! One page as the operators of a PDF content stream.
//!
//! A page begins with one turn of the coordinates, so that everything behind it stands in millimetres, right and down from the
//! upper left corner, as in a scene. Only writing is turned back, letter by letter of its matrix.

use super::Sheet;
use super::font::{CUTS, Glyph, glyph, half_capital_mm, width_mm};
use super::page::without_shape;
use super::piece::{Part, Style};
use crate::numbers::whole;
use crate::scene::{Align, Colour, Paper, Point, Writing, print};
use pdf_writer::types::{LineCapStyle, LineJoinStyle, TextRenderingMode};
use pdf_writer::{Content, Name, Str};
use std::collections::BTreeSet;

/// Points of print in a millimetre.
pub(super) const POINTS_PER_MM: f64 = 72.0 / 25.4;
/// How wide the rim of paper around the letters of a figure is, in mm.
const RIM_MM: f64 = 0.8;
/// The names of the state for a quarter of opacity, and of the fonts, in the resources of a page.
pub(super) const TINT: &[u8] = b"Tint";
pub(super) const FONTS: [&[u8]; CUTS.len()] = [b"Regular", b"Bold", b"More"];

/// A page.
pub(super) struct Pressed {
    /// Its operators.
    pub content: Content,
    /// The cuts that its letters are of, by their places.
    pub cuts: BTreeSet<usize>,
    /// The letters that the font does not have.
    pub missing: BTreeSet<char>,
    /// Whether something is tinted.
    pub tinted: bool,
}

/// A number of a content stream. A thousandth of a millimetre for ends of straight lines, which are measured; a hundredth for
/// the many points of a curve.
fn rounded(mm: f64, steps: f64) -> f32 {
    #[expect(
        clippy::cast_possible_truncation,
        reason = "a page is less than a metre, and seven figures tell a thousandth"
    )]
    let short = ((mm * steps).round() / steps) as f32;
    short
}

fn fine(mm: f64) -> f32 {
    rounded(mm, 1000.0)
}

fn share(colour: u8) -> f32 {
    rounded(f64::from(colour) / 255.0, 1000.0)
}

impl Pressed {
    /// An empty page on which everything is drawn so many times larger about its middle.
    pub fn new(sheet: Sheet, times: f64) -> Pressed {
        let mut content = Content::with_settings(super::file::SETTINGS);
        let scale = POINTS_PER_MM * times;
        // From its middle to its edges.
        let (aside, up) = (sheet.width_mm() * (1.0 - times) / 2.0, sheet.height_mm() * (1.0 + times) / 2.0);
        let (left, top) = (aside * POINTS_PER_MM, up * POINTS_PER_MM);
        #[expect(clippy::cast_possible_truncation, reason = "a factor near 3 and a height below a thousand")]
        let (across, down, left, top) = (scale as f32, -scale as f32, left as f32, top as f32);
        content.transform([across, 0.0, 0.0, down, left, top]);
        content.set_line_cap(LineCapStyle::ButtCap).set_line_join(LineJoinStyle::RoundJoin);
        Pressed { content, cuts: BTreeSet::new(), missing: BTreeSet::new(), tinted: false }
    }

    /// Puts a part on the page.
    pub fn put(&mut self, part: &Part) {
        match part {
            Part::Text { at, align, text, style } => self.text(text, *at, *align, *style, false),
            Part::Rule { from, to, width_mm, colour } => self.stroke(&[*from, *to], *colour, *width_mm, &[]),
            Part::Scene { corner, scene, text_mm, window } => {
                self.content.save_state();
                self.content.transform([1.0, 0.0, 0.0, 1.0, fine(corner.x), fine(corner.y)]);
                let (wide, high) = (fine(window.width_mm), fine(window.height_mm));
                self.content.rect(0.0, 0.0, wide, high).clip_nonzero().end_path();
                let times = window.enlarged;
                if times > 1.0 {
                    let (left, up) = (-window.from.x * times, -window.from.y * times);
                    self.content.transform([fine(times), 0.0, 0.0, fine(times), fine(left), fine(up)]);
                }
                print(scene, *text_mm, self);
                self.content.restore_state();
            }
        }
    }

    fn path(&mut self, points: &[Point]) {
        let steps = if points.len() > 5 { 100.0 } else { 1000.0 };
        for (number, point) in points.iter().enumerate() {
            let (x, y) = (rounded(point.x, steps), rounded(point.y, steps));
            if number == 0 {
                self.content.move_to(x, y);
            } else {
                self.content.line_to(x, y);
            }
        }
    }

    fn fill_colour(&mut self, colour: Colour) {
        let [red, green, blue] = colour.0.map(share);
        self.content.set_fill_rgb(red, green, blue);
    }

    fn stroke_colour(&mut self, colour: Colour) {
        let [red, green, blue] = colour.0.map(share);
        self.content.set_stroke_rgb(red, green, blue);
    }

    fn text(&mut self, text: &str, at: Point, align: Align, style: Style, rim: bool) {
        if text.is_empty() {
            return;
        }
        self.missing.extend(without_shape(text));
        let width = width_mm(text, style.strong, style.size_mm);
        let left = match align {
            Align::Left => at.x,
            Align::Centre => at.x - width / 2.0,
            Align::Right => at.x - width,
        };
        let foot = at.y + half_capital_mm(style.size_mm);
        self.content.begin_text();
        self.content.set_text_matrix([1.0, 0.0, 0.0, -1.0, fine(left), fine(foot)]);
        self.fill_colour(style.colour);
        if rim {
            // Filled last, so that the rim lies under the letters; what is read back is read once.
            self.stroke_colour(Colour::PAPER);
            self.content.set_line_width(fine(RIM_MM)).set_dash_pattern([], 0.0);
            self.content.set_text_rendering_mode(TextRenderingMode::Stroke);
            self.show(text, style);
            self.content.set_text_matrix([1.0, 0.0, 0.0, -1.0, fine(left), fine(foot)]);
            self.content.set_text_rendering_mode(TextRenderingMode::Fill);
        }
        self.show(text, style);
        self.content.end_text();
    }

    /// Shows a text, one run of letters after the other for each cut of the font.
    fn show(&mut self, text: &str, style: Style) {
        let glyphs: Vec<Glyph> = text.chars().map(|letter| glyph(letter, style.strong)).collect();
        for run in glyphs.chunk_by(|one, next| one.cut == next.cut) {
            let cut = run[0].cut;
            self.cuts.insert(cut);
            self.content.set_font(Name(FONTS[cut]), fine(style.size_mm));
            let bytes: Vec<u8> = run.iter().flat_map(|glyph| glyph.id.to_be_bytes()).collect();
            self.content.show(Str(&bytes));
        }
    }
}

impl Paper for Pressed {
    fn fill(&mut self, outline: &[Point], colour: Colour, opacity: f64) {
        if outline.len() < 3 {
            return;
        }
        let tint = opacity < 1.0;
        if tint {
            self.tinted = true;
            self.content.save_state().set_parameters(Name(TINT));
        }
        self.fill_colour(colour);
        self.path(outline);
        self.content.fill_even_odd();
        if tint {
            self.content.restore_state();
        }
    }

    fn stroke(&mut self, points: &[Point], colour: Colour, width_mm: f64, dash_mm: &[f64]) {
        if points.len() < 2 {
            return;
        }
        self.stroke_colour(colour);
        self.content.set_line_width(fine(width_mm)).set_dash_pattern(dash_mm.iter().copied().map(fine), 0.0);
        self.path(points);
        self.content.stroke();
    }

    fn write(&mut self, writing: &Writing<'_>) {
        let style = Style { size_mm: writing.size_mm, strong: writing.strong, colour: writing.colour };
        self.text(writing.text, writing.at, writing.align, style, true);
    }
}

/// A length in thousandths, as whole numbers of a font are written.
pub(super) fn thousandths(units: i16) -> f32 {
    f32::from(units)
}

/// A side of the paper in points.
pub(super) fn points(mm: f64) -> f32 {
    let thousandths: i32 = whole((mm * POINTS_PER_MM * 1000.0).round());
    #[expect(clippy::cast_precision_loss, reason = "less than a million")]
    let exact = thousandths as f32;
    exact / 1000.0
}
