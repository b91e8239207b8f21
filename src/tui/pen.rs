//! How cells are written to the terminal: ratatui's own backend, but with fewer bytes.
//!
//! A turned map changes most of the screen, and its bytes are colours for the most part: the backend writes both of a cell
//! whenever one differs from the cell before. Here what changes is written colour by colour.

use crate::textfile::unshowable;
use crossterm::cursor::{Hide, MoveDown, MoveRight, MoveTo, MoveToColumn, MoveUp, Show};
use crossterm::queue;
use crossterm::style::{
    Attribute, Colors, Print, SetAttribute, SetBackgroundColor, SetColors, SetForegroundColor, SetUnderlineColor,
};
use ratatui::backend::{Backend, ClearType, CrosstermBackend, IntoCrossterm, WindowSize};
use ratatui::buffer::Cell;
use ratatui::layout::{Position, Size};
use ratatui::style::{Color, Modifier};
use std::io::{self, Write};
use unicode_width::UnicodeWidthStr;

/// The attributes of the screens; crossterm has a name for each.
const ATTRIBUTES: [(Modifier, Attribute); 9] = [
    (Modifier::BOLD, Attribute::Bold),
    (Modifier::DIM, Attribute::Dim),
    (Modifier::ITALIC, Attribute::Italic),
    (Modifier::UNDERLINED, Attribute::Underlined),
    (Modifier::SLOW_BLINK, Attribute::SlowBlink),
    (Modifier::RAPID_BLINK, Attribute::RapidBlink),
    (Modifier::REVERSED, Attribute::Reverse),
    (Modifier::HIDDEN, Attribute::Hidden),
    (Modifier::CROSSED_OUT, Attribute::CrossedOut),
];
/// What is seen of a blank, too.
const SEEN_ON_BLANKS: Modifier = Modifier::UNDERLINED.union(Modifier::REVERSED).union(Modifier::CROSSED_OUT);

/// Steps to the left, one byte each.
const BACK: &str = "\x08\x08\x08";

/// Whether rows up or down and steps back are fewer bytes than a place: at most nine rows, and two or three columns to the left.
fn near((x, y): (u16, u16), to: (u16, u16)) -> bool {
    let most = if y + 1 == to.1 { 2 } else { BACK.len() };
    y.abs_diff(to.1) < 10 && x.checked_sub(to.0).is_some_and(|back| usize::from(back) <= most)
}

/// A backend that writes what differs and nothing else, in one piece a frame; the size of the window is asked for when it changes.
#[derive(Debug)]
pub struct Pen<W: Write> {
    out: CrosstermBackend<W>,
    /// The size of the window, where it is known.
    size: std::cell::Cell<Option<Size>>,
    /// The rightmost column that was written to, of a window of that size.
    right: std::cell::Cell<u16>,
    /// The style of each blank that stands on the screen, row by row: one is written in a byte, a way round it takes three.
    blanks: Vec<Vec<Option<Style>>>,
}

/// A cell that changes, and where.
type Change<'a> = (u16, u16, &'a Cell);
/// Cells of one style.
type Group<'a> = (Style, Vec<Change<'a>>);

/// How the terminal writes just now.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Style {
    foreground: Color,
    background: Color,
    underline: Color,
    modifier: Modifier,
}

const PLAIN: Style =
    Style { foreground: Color::Reset, background: Color::Reset, underline: Color::Reset, modifier: Modifier::empty() };

impl<W: Write> Pen<W> {
    /// A pen that writes there.
    pub const fn new(out: W) -> Pen<W> {
        Pen {
            out: CrosstermBackend::new(out),
            size: std::cell::Cell::new(None),
            right: std::cell::Cell::new(0),
            blanks: Vec::new(),
        }
    }

    /// The window may have another size now.
    pub fn forget_size(&self) {
        self.size.set(None);
        self.right.set(0);
    }

    /// Keeps in mind where blanks stand once this is written.
    fn remember(&mut self, (x, y, cell): Change<'_>) {
        let (x, y) = (usize::from(x), usize::from(y));
        if self.blanks.len() <= y {
            self.blanks.resize(y + 1, Vec::new());
        }
        let row = &mut self.blanks[y];
        if row.len() <= x {
            row.resize(x + 1, None);
        }
        row[x] = (cell.symbol() == " ").then(|| Style::of(cell));
    }

    /// Whether all cells of a row from one to another are blanks that look like those of this style.
    fn are_blank(&self, y: u16, cells: std::ops::Range<u16>, style: Style) -> bool {
        let row = self.blanks.get(usize::from(y));
        let between = row.and_then(|row| row.get(usize::from(cells.start)..usize::from(cells.end)));
        between.is_some_and(|between| between.iter().all(|blank| blank.is_some_and(|blank| blank.blanks_alike(style))))
    }

    /// Goes from one style to another, by the fewest commands.
    fn change(&mut self, from: Style, to: Style) -> io::Result<()> {
        let mut now = from;
        // There is no command for the end of each attribute alone: bold and dim end together.
        if !to.modifier.contains(now.modifier) {
            queue!(self.out, SetAttribute(Attribute::Reset))?;
            now = PLAIN;
        }
        for (modifier, attribute) in ATTRIBUTES {
            if to.modifier.difference(now.modifier).contains(modifier) {
                queue!(self.out, SetAttribute(attribute))?;
            }
        }
        let (foreground, background) = (to.foreground.into_crossterm(), to.background.into_crossterm());
        match (now.foreground != to.foreground, now.background != to.background) {
            (true, true) => queue!(self.out, SetColors(Colors::new(foreground, background)))?,
            (true, false) => queue!(self.out, SetForegroundColor(foreground))?,
            (false, true) => queue!(self.out, SetBackgroundColor(background))?,
            (false, false) => {}
        }
        if now.underline != to.underline {
            queue!(self.out, SetUnderlineColor(to.underline.into_crossterm()))?;
        }
        Ok(())
    }
}

impl Style {
    const fn of(cell: &Cell) -> Style {
        Style { foreground: cell.fg, background: cell.bg, underline: cell.underline_color, modifier: cell.modifier }
    }

    /// Whether a blank in this style looks like a blank in that one: of both nothing but the ground is seen.
    fn blanks_alike(self, other: Style) -> bool {
        self.background == other.background && !self.modifier.union(other.modifier).intersects(SEEN_ON_BLANKS)
    }
}

/// The cells that change, style by style: a place takes fewer bytes than two colours do. Blanks go with their neighbours.
fn by_style<'a>(content: impl Iterator<Item = Change<'a>>) -> Vec<Group<'a>> {
    let mut groups: Vec<Group<'a>> = Vec::new();
    let mut last = 0;
    for (x, y, cell) in content {
        let style = Style::of(cell);
        let blank = cell.symbol() == " ";
        let fits = |(other, _): &Group<'a>| *other == style || blank && other.blanks_alike(style);
        last = match groups.get(last).filter(|group| fits(group)) {
            Some(_) => last,
            None => groups.iter().position(fits).unwrap_or_else(|| {
                groups.push((style, Vec::new()));
                groups.len() - 1
            }),
        };
        groups[last].1.push((x, y, cell));
    }
    // From one to the next of the same ground only one colour is written, and attributes are put on once.
    let grounds: Vec<Color> = groups.iter().map(|(style, _)| style.background).collect();
    groups.sort_by_key(|(style, _)| {
        (style.modifier.bits(), grounds.iter().position(|ground| *ground == style.background))
    });
    groups
}

impl<W: Write> Backend for Pen<W> {
    type Error = io::Error;

    fn draw<'a, I>(&mut self, content: I) -> io::Result<()>
    where
        I: Iterator<Item = (u16, u16, &'a Cell)>,
    {
        let changes: Vec<Change<'a>> = content.collect();
        let right = changes.iter().map(|(x, ..)| *x).max().unwrap_or_default().max(self.right.get());
        self.right.set(right);
        for change in &changes {
            self.remember(*change);
        }
        let (mut style, mut narrow) = (PLAIN, true);
        let mut before: Option<(u16, u16)> = None;
        for (to, cells) in by_style(changes.into_iter()) {
            self.change(style, to)?;
            style = to;
            for (x, y, cell) in cells {
                match before {
                    Some((last, row)) if row == y && x == last + 1 => {}
                    Some((last, row))
                        if row == y
                            && narrow
                            && (last + 2..=last + 4).contains(&x)
                            && self.are_blank(y, last + 1..x, to) =>
                    {
                        queue!(self.out, Print(&"   "[..usize::from(x - last - 1)]))?;
                    }
                    // One to the right needs no number; there are many of them.
                    Some((last, row)) if row == y && x == last + 2 && narrow => queue!(self.out, Print("\x1b[C"))?,
                    // Straight up or down, or a little back from there: a line goes from row to row like that. Behind the last column
                    // terminals differ in where they stand.
                    Some((last, row)) if row != y && narrow && last < right && near((last + 1, row), (x, y)) => {
                        match (y.checked_sub(row), row.abs_diff(y)) {
                            (Some(_), 1) => queue!(self.out, Print("\x1b[B"))?,
                            (Some(_), down) => queue!(self.out, MoveDown(down))?,
                            (None, up) => queue!(self.out, MoveUp(up))?,
                        }
                        queue!(self.out, Print(&BACK[..usize::from(last + 1 - x)]))?;
                    }
                    // To the next row by its own character and a column, which needs no row; terminals differ in the column after it.
                    Some((_, row)) if y == row + 1 => queue!(self.out, Print('\n'), MoveToColumn(x))?,
                    // Behind a glyph of two cells only a place is sure.
                    Some((last, row)) if row == y && x > last && narrow => queue!(self.out, MoveRight(x - last - 1))?,
                    _ => queue!(self.out, MoveTo(x, y))?,
                }
                (before, narrow) = (Some((x, y)), cell.symbol().width() == 1);
                // A name or a title may hold what has no width or turns the writing: it never reaches the terminal.
                if cell.symbol().chars().any(unshowable) {
                    let shown: String = cell.symbol().chars().filter(|sign| !unshowable(*sign)).collect();
                    queue!(self.out, Print(if shown.is_empty() { " " } else { &shown }))?;
                } else {
                    queue!(self.out, Print(cell.symbol()))?;
                }
            }
        }
        if style != PLAIN {
            queue!(self.out, SetAttribute(Attribute::Reset))?;
        }
        Ok(())
    }

    fn hide_cursor(&mut self) -> io::Result<()> {
        queue!(self.out, Hide)
    }

    fn show_cursor(&mut self) -> io::Result<()> {
        queue!(self.out, Show)
    }

    fn get_cursor_position(&mut self) -> io::Result<Position> {
        self.out.get_cursor_position()
    }

    fn set_cursor_position<P: Into<Position>>(&mut self, position: P) -> io::Result<()> {
        let Position { x, y } = position.into();
        queue!(self.out, MoveTo(x, y))
    }

    fn clear(&mut self) -> io::Result<()> {
        self.blanks.clear();
        self.out.clear()
    }

    fn clear_region(&mut self, clear_type: ClearType) -> io::Result<()> {
        self.blanks.clear();
        self.out.clear_region(clear_type)
    }

    fn size(&self) -> io::Result<Size> {
        if let Some(size) = self.size.get() {
            return Ok(size);
        }
        let size = self.out.size()?;
        self.size.set(Some(size));
        Ok(size)
    }

    fn window_size(&mut self) -> io::Result<WindowSize> {
        self.out.window_size()
    }

    fn flush(&mut self) -> io::Result<()> {
        Backend::flush(&mut self.out)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use ratatui::buffer::Buffer;
    use ratatui::layout::Rect;

    const COLS: u16 = 12;
    const ROWS: u16 = 4;

    fn any_cell() -> impl Strategy<Value = Cell> {
        let color = prop_oneof![
            Just(Color::Reset),
            Just(Color::Red),
            Just(Color::Indexed(200)),
            Just(Color::Rgb(1, 2, 3)),
            Just(Color::Rgb(9, 9, 9))
        ];
        // Not dim with bold: the terminal of the test knows one of them at a time.
        let modifiers = [Modifier::BOLD, Modifier::UNDERLINED, Modifier::REVERSED, Modifier::ITALIC];
        let modifier = proptest::sample::subsequence(modifiers.to_vec(), 0..3);
        (prop_oneof![Just(" "), Just("a"), Just("⠣")], color.clone(), color, modifier).prop_map(
            |(symbol, foreground, background, modifiers)| {
                let mut cell = Cell::default();
                cell.set_symbol(symbol).set_fg(foreground).set_bg(background);
                cell.modifier = modifiers.into_iter().collect();
                cell
            },
        )
    }

    fn any_frame() -> impl Strategy<Value = Buffer> {
        proptest::collection::vec(any_cell(), usize::from(COLS * ROWS))
            .prop_map(|content| Buffer { area: Rect { x: 0, y: 0, width: COLS, height: ROWS }, content })
    }

    /// A cell as it is seen: its glyph, its colours, its strokes.
    type Seen = (String, [String; 2], [bool; 4]);

    /// What a terminal shows after these bytes.
    fn shown(bytes: &[u8]) -> Vec<Seen> {
        let size = |count| std::num::NonZeroU16::new(count).unwrap();
        let mut parser = vt100::Parser::default();
        parser.set_size(size(ROWS), size(COLS));
        parser.process(bytes);
        let places = (0..ROWS).flat_map(|row| (0..COLS).map(move |col| (row, col)));
        let seen = |(row, col)| {
            let cell = parser.screen().cell(row, col).unwrap();
            let blank = cell.contents().trim().is_empty();
            let (reversed, underlined) = (cell.inverse(), cell.underline());
            // The colour of the strokes of what has none.
            let ink = !blank || reversed || underlined;
            let ink = if ink { format!("{:?}", cell.fgcolor()) } else { String::new() };
            let strokes = [!blank && cell.bold(), !blank && cell.italic(), underlined, reversed];
            (cell.contents().trim().to_owned(), [ink, format!("{:?}", cell.bgcolor())], strokes)
        };
        places.map(seen).collect()
    }

    fn written<B: Backend>(mut backend: B, frames: &[Buffer]) {
        let mut before = Buffer::empty(frames[0].area);
        for frame in frames {
            let drawn = backend.draw(before.diff(frame).into_iter());
            assert!(drawn.is_ok());
            before = frame.clone();
        }
    }

    proptest! {
        #[test]
        fn the_pen_shows_what_ratatui_shows(frames in proptest::collection::vec(any_frame(), 1..4)) {
            let (mut own, mut theirs) = (Vec::new(), Vec::new());
            written(Pen::new(&mut own), &frames);
            written(CrosstermBackend::new(&mut theirs), &frames);
            prop_assert_eq!(shown(&own), shown(&theirs));
        }
    }

    #[test]
    fn a_blank_between_two_that_change_is_written_and_a_row_below_is_reached_by_steps() {
        let mut frames = vec![Buffer::empty(Rect { x: 0, y: 0, width: 6, height: 3 }); 2];
        for cell in frames.iter_mut().flat_map(|frame| &mut frame.content) {
            cell.set_bg(Color::Red);
        }
        for (at, symbol) in [(1, "a"), (4, "b"), (9, "c"), (15, "d")] {
            frames[1].content[at].set_symbol(symbol);
        }
        let mut own = Vec::new();
        written(Pen::new(&mut own), &frames);
        let text = String::from_utf8(own).unwrap();
        assert!(text.ends_with("\u{1b}[1;2Ha  b\u{1b}[B\u{8}\u{8}c\u{1b}[B\u{8}d\u{1b}[0m"), "{text:?}");
    }

    #[test]
    fn a_colour_that_stays_is_not_written_again() {
        let mut frame = Buffer::empty(Rect { x: 0, y: 0, width: 3, height: 1 });
        let cells = [("a", Color::Red), (" ", Color::Blue), ("b", Color::Red)];
        for (x, (symbol, foreground)) in cells.into_iter().enumerate() {
            frame.content[x].set_symbol(symbol).set_fg(foreground).set_bg(Color::Rgb(1, 2, 3));
        }
        let mut own = Vec::new();
        written(Pen::new(&mut own), &[frame]);
        let text = String::from_utf8(own).unwrap();
        assert_eq!(text, "\u{1b}[38;5;1;48;2;1;2;3m\u{1b}[1;1Ha b\u{1b}[0m");
    }
}
