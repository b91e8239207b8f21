//! Pieces: what is laid out and stays whole on a page.

use super::font::{half_capital_mm, width_mm};
use crate::scene::{Align, Colour, Point, Rect, Scene};

/// How a text looks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Style {
    /// The size of the type in mm.
    pub size_mm: f64,
    /// Whether it is bold.
    pub strong: bool,
    /// Its colour.
    pub colour: Colour,
}

impl Style {
    /// The text of a page: 3.5 mm, some 10 points.
    pub const TEXT: Style = Style { size_mm: 3.5, strong: false, colour: Colour::TEXT };
    /// What stands beside it: 2.8 mm, some 8 points.
    pub const SMALL: Style = Style { size_mm: 2.8, strong: false, colour: Colour::QUIET };
    /// The heading of a page.
    pub const TITLE: Style = Style { size_mm: 6.0, strong: true, colour: Colour::TEXT };

    /// The same, bold.
    #[must_use]
    pub const fn strong(self) -> Style {
        Style { strong: true, ..self }
    }

    /// The same in the colour of text.
    #[must_use]
    pub const fn dark(self) -> Style {
        Style { colour: Colour::TEXT, ..self }
    }

    /// From one line to the next, in mm.
    #[must_use]
    pub const fn leading_mm(self) -> f64 {
        self.size_mm * 1.38
    }

    /// How wide a text is in it, in mm.
    #[must_use]
    pub fn width_mm(self, text: &str) -> f64 {
        width_mm(text, self.strong, self.size_mm)
    }
}

/// One thing of a piece.
#[derive(Clone, Debug)]
pub(super) enum Part {
    /// A line of text whose middle stands at a height.
    Text { at: Point, align: Align, text: String, style: Style },
    /// A straight line.
    Rule { from: Point, to: Point, width_mm: f64, colour: Colour },
    /// What a window shows of a scene, with its upper left corner there.
    Scene { corner: Point, scene: Scene, text_mm: f64, window: Window },
}

/// What is seen of a scene.
#[derive(Clone, Copy, Debug)]
pub(super) struct Window {
    /// How wide and how high it is on the page, in mm.
    pub width_mm: f64,
    pub height_mm: f64,
    /// The place of the scene in its upper left corner, in mm of the scene.
    pub from: Point,
    /// How many times larger than it is the scene is shown.
    pub enlarged: f64,
}

/// Something laid out: so wide, so high, with its parts in mm from its upper left corner.
#[derive(Clone, Debug, Default)]
pub struct Piece {
    /// How wide it is, in mm.
    pub width_mm: f64,
    /// How high it is, in mm.
    pub height_mm: f64,
    pub(super) parts: Vec<Part>,
}

impl Piece {
    /// Nothing, so high.
    #[must_use]
    pub const fn blank(height_mm: f64) -> Piece {
        Piece { width_mm: 0.0, height_mm, parts: Vec::new() }
    }

    /// One line of text, however long.
    #[must_use]
    pub fn line(text: impl Into<String>, style: Style) -> Piece {
        let text = text.into();
        let (width_mm, height_mm) = (style.width_mm(&text), style.leading_mm());
        let at = Point::new(0.0, height_mm / 2.0);
        Piece { width_mm, height_mm, parts: vec![Part::Text { at, align: Align::Left, text, style }] }
    }

    /// One line of text that ends at its left edge: for what stands at the right of a column.
    #[must_use]
    pub fn ending(text: impl Into<String>, style: Style) -> Piece {
        let mut piece = Piece::line(text, style);
        for part in &mut piece.parts {
            if let Part::Text { align, .. } = part {
                *align = Align::Right;
            }
        }
        Piece { width_mm: 0.0, ..piece }
    }

    /// The lines of a text in a column of this width, each a piece of its own. A word that is wider than the column is cut.
    #[must_use]
    pub fn lines(text: &str, style: Style, width_mm: f64) -> Vec<Piece> {
        wrapped(text, style, width_mm).into_iter().map(|line| Piece::line(line, style)).collect()
    }

    /// A text in a column of this width, which stays together.
    #[must_use]
    pub fn paragraph(text: &str, style: Style, width_mm: f64) -> Piece {
        Piece::stack(Piece::lines(text, style, width_mm), 0.0)
    }

    /// A text with something before its first line, set in by so much.
    #[must_use]
    pub fn hanging(mark: &str, indent_mm: f64, text: &str, style: Style, width_mm: f64) -> Piece {
        let text = Piece::paragraph(text, style, width_mm - indent_mm);
        Piece::line(mark, style).with(indent_mm, 0.0, text)
    }

    /// A place to write an answer: what is asked for, and a line of so many mm behind it, a shorter one where there is no room, and
    /// one below where there is hardly any.
    #[must_use]
    pub fn answer(label: &str, style: Style, width_mm: f64, rule_mm: f64) -> Piece {
        const GAP_MM: f64 = 2.0;
        /// Handwriting is larger than print: from one line of it to the next.
        const ROOM_MM: f64 = 8.0;
        /// The shortest line that takes three figures and a letter.
        const SHORT_MM: f64 = 20.0;
        let last_mm = wrapped(label, style, width_mm).last().map_or(0.0, |line| style.width_mm(line));
        let beside_mm = width_mm - last_mm - GAP_MM;
        let mut piece = Piece::blank((ROOM_MM - style.leading_mm()).max(0.0));
        piece = piece.above(0.0, Piece::paragraph(label, style, width_mm));
        let mut foot = piece.height_mm - style.leading_mm() / 2.0 + half_capital_mm(style.size_mm) + 0.4;
        let (from_mm, long_mm) =
            if beside_mm >= SHORT_MM { (last_mm + GAP_MM, rule_mm.min(beside_mm)) } else { (0.0, rule_mm) };
        if from_mm == 0.0 {
            foot += ROOM_MM * 0.85;
        }
        piece.rule(Point::new(from_mm, foot), Point::new(from_mm + long_mm, foot), 0.2, Colour::QUIET)
    }

    /// A scene as it is, in true millimetres, cut off at its edges; `text_mm` is the height of its lines of writing.
    #[must_use]
    pub fn figure(scene: Scene, text_mm: f64) -> Piece {
        let (wide, high) = (scene.width_mm, scene.height_mm);
        Piece::enlarged(scene, text_mm, 1.0, Rect { corner: Point::default(), width: wide, height: high })
    }

    /// A part of a scene, enlarged so many times.
    #[must_use]
    pub fn enlarged(scene: Scene, text_mm: f64, enlarged: f64, part: Rect) -> Piece {
        let (width_mm, height_mm) = (part.width * enlarged, part.height * enlarged);
        let window = Window { width_mm, height_mm, from: part.corner, enlarged };
        Piece { width_mm, height_mm, parts: vec![Part::Scene { corner: Point::default(), scene, text_mm, window }] }
    }

    /// Several pieces, one below the other, so far apart.
    #[must_use]
    pub fn stack(pieces: impl IntoIterator<Item = Piece>, gap_mm: f64) -> Piece {
        let stacked = pieces.into_iter().reduce(|above, below| above.above(gap_mm, below));
        stacked.unwrap_or_default()
    }

    /// This one with another below it.
    #[must_use]
    pub fn above(self, gap_mm: f64, below: Piece) -> Piece {
        let down_mm = self.height_mm + gap_mm;
        self.with(0.0, down_mm, below)
    }

    /// This one with another laid on it, so far right and down.
    #[must_use]
    pub fn with(mut self, right_mm: f64, down_mm: f64, other: Piece) -> Piece {
        self.width_mm = self.width_mm.max(right_mm + other.width_mm);
        self.height_mm = self.height_mm.max(down_mm + other.height_mm);
        self.parts.extend(other.parts.into_iter().map(|part| part.moved(right_mm, down_mm)));
        self
    }

    /// This one with a line on it.
    #[must_use]
    pub fn rule(mut self, from: Point, to: Point, width_mm: f64, colour: Colour) -> Piece {
        self.width_mm = self.width_mm.max(from.x).max(to.x);
        self.height_mm = self.height_mm.max(from.y).max(to.y);
        self.parts.push(Part::Rule { from, to, width_mm, colour });
        self
    }
}

impl Part {
    pub(super) fn moved(mut self, right_mm: f64, down_mm: f64) -> Part {
        match &mut self {
            Part::Text { at, .. } => *at = at.moved(right_mm, down_mm),
            Part::Rule { from, to, .. } => {
                (*from, *to) = (from.moved(right_mm, down_mm), to.moved(right_mm, down_mm));
            }
            Part::Scene { corner, .. } => *corner = corner.moved(right_mm, down_mm),
        }
        self
    }
}

/// The lines of a text, none wider than the column. Line ends in the text stay.
fn wrapped(text: &str, style: Style, width_mm: f64) -> Vec<String> {
    let mut lines = Vec::new();
    for paragraph in held(text).lines() {
        let mut line = String::new();
        for word in paragraph.split([' ', '\t']).filter(|word| !word.is_empty()) {
            let longer = if line.is_empty() { word.to_owned() } else { format!("{line} {word}") };
            if style.width_mm(&longer) <= width_mm {
                line = longer;
                continue;
            }
            if !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
            for letter in word.chars() {
                line.push(letter);
                if style.width_mm(&line) > width_mm && line.chars().count() > 1 {
                    line.pop();
                    // A name of two parts is cut between them.
                    let cut = line.rfind('-').map_or(line.len(), |at| at + 1);
                    let rest = line.split_off(cut);
                    lines.push(std::mem::replace(&mut line, rest));
                    line.push(letter);
                }
            }
        }
        lines.push(line);
    }
    lines
}

/// What stands behind a number and stays on its line.
const UNITS: [&str; 10] = ["T", "G", "M", "E", "W", "m", "mm", "km", "min", "mils"];

/// The same text, each number held to its unit by a blank at which no line ends.
fn held(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    let mut before = ' ';
    for (at, letter) in text.char_indices() {
        let unit = || {
            let rest = &text[at + 1..];
            let end = rest.find(|letter: char| !letter.is_alphanumeric()).unwrap_or(rest.len());
            UNITS.contains(&&rest[..end])
        };
        let holds = letter == ' ' && (before.is_ascii_digit() || matches!(before, '°' | '′')) && unit();
        out.push(if holds { '\u{a0}' } else { letter });
        before = letter;
    }
    out
}
