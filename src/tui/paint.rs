//! Painting: lines of wrapped text, fields, lists, figures.

use super::input::Input;
use super::screens::layer::{Layer, Room, Sign};
use super::scroll::Scroll;
use super::theme::{Theme, Tone};
pub use super::wrap::{cut, cut_left, right_word, wrap};
use crate::angle::Angle;
use crate::ground::Place;
use crate::maptable::Picture;
use crate::problem::{DialFigure, Figure, TEXT_MM};
use crate::scene::cells::{Cell, CellCanvas, CellPicture, Charset};
use crate::scene::{Ink, Scene};
use crate::session::GroundCard;
pub use crate::session::{SAFETY, day_words, days_words};
use crate::world::{self, Chart};
use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use ratatui::Frame;
use ratatui::layout::{Position, Rect};
use ratatui::style::{Color, Modifier, Style};
use unicode_width::UnicodeWidthStr;

/// Edits a line by one key.
pub fn edit(input: &mut Input, key: KeyEvent) {
    let control = key.modifiers.contains(KeyModifiers::CONTROL);
    match key.code {
        KeyCode::Char('u') if control => input.clear(),
        KeyCode::Char(character) if !control && !key.modifiers.contains(KeyModifiers::ALT) => input.insert(character),
        KeyCode::Backspace => input.backspace(),
        KeyCode::Delete => input.delete(),
        KeyCode::Left => input.left(),
        KeyCode::Right => input.right(),
        KeyCode::Home => input.home(),
        KeyCode::End => input.end(),
        _ => {}
    }
}

/// A compass on home ground: the dial at north, the needle where it points there.
#[must_use]
pub fn compass(ground: &GroundCard) -> Figure {
    Figure::Dial(DialFigure {
        reading: Angle::ZERO,
        graduation: Angle::from_degrees(5.0),
        numbered: Angle::from_degrees(30.0),
        index: Angle::ZERO,
        needle: Some(ground.home.angles.map_or(Angle::ZERO, |angles| angles.declination().angle())),
        inner_scale: false,
        strip: false,
        learner: None,
    })
}

/// A piece of text with its style.
pub type Span = (String, Style);

/// Lines of text, wrapped at words to a width.
#[derive(Debug)]
pub struct Lines {
    theme: Theme,
    width: usize,
    lines: Vec<Vec<Span>>,
}

impl Lines {
    /// No lines yet, for this width in cells.
    #[must_use]
    pub fn new(theme: Theme, width: u16) -> Lines {
        Lines { theme, width: usize::from(width).max(1), lines: Vec::new() }
    }

    /// The width they are wrapped to, in cells.
    #[must_use]
    pub const fn width(&self) -> usize {
        self.width
    }

    /// How many lines there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.lines.len()
    }

    /// Whether there are none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.lines.is_empty()
    }

    /// A title.
    pub fn title(&mut self, text: &str) {
        self.tone(Tone::Title, text);
    }

    /// Running text.
    pub fn text(&mut self, text: &str) {
        self.tone(Tone::Text, text);
    }

    /// What may be overlooked.
    pub fn quiet(&mut self, text: &str) {
        self.tone(Tone::Quiet, text);
    }

    /// Text of a tone.
    pub fn tone(&mut self, tone: Tone, text: &str) {
        self.hanging(tone, "", text);
    }

    /// Text behind a short mark; the lines after the first are set in under it.
    pub fn hanging(&mut self, tone: Tone, mark: &str, text: &str) {
        let indent = mark.width();
        let style = self.theme.tone(tone);
        for (at, line) in wrap(text, self.width.saturating_sub(indent)).into_iter().enumerate() {
            let lead = if at == 0 { mark.to_owned() } else { " ".repeat(indent) };
            self.lines.push(vec![(lead, style), (line, style)]);
        }
    }

    /// Text behind a small picture; the lines after the first are set in under it.
    pub fn behind(&mut self, sign: Vec<Span>, tone: Tone, text: &str) {
        let indent = sign.iter().map(|(cell, _)| cell.width()).sum::<usize>() + 1;
        let style = self.theme.tone(tone);
        let mut lead = Some(sign);
        for line in wrap(text, self.width.saturating_sub(indent)) {
            let mut spans = lead.take().unwrap_or_else(|| vec![(" ".repeat(indent - 1), style)]);
            spans.push((format!(" {line}"), style));
            self.lines.push(spans);
        }
    }

    /// One line of small pictures, each before its name.
    pub fn signs<const N: usize>(&mut self, signs: [(Vec<Span>, &str); N]) {
        let style = self.theme.tone(Tone::Text);
        let named = |(sign, name): (Vec<Span>, &str)| sign.into_iter().chain([(format!(" {name}  "), style)]);
        self.lines.push(signs.into_iter().flat_map(named).collect());
    }

    /// Groups of spans that each stay whole, as many on a line as fit.
    pub fn packed(&mut self, groups: Vec<Vec<(Tone, String)>>) {
        let mut line: Vec<(Tone, String)> = Vec::new();
        let width = |spans: &[(Tone, String)]| spans.iter().map(|(_, text)| text.width()).sum::<usize>();
        for group in groups {
            if !line.is_empty() {
                if width(&line) + 3 + width(&group) <= self.width {
                    line.push((Tone::Quiet, "   ".to_owned()));
                } else {
                    self.spans(std::mem::take(&mut line));
                }
            }
            line.extend(group);
        }
        if !line.is_empty() {
            self.spans(line);
        }
    }

    /// Both answers: on one line where they fit.
    pub fn answers(&mut self, given: &str, right: &str) {
        let word = right_word(&[given, right]);
        if given.width() + right.width() + 20 <= self.width {
            self.spans(vec![(Tone::Text, format!("yours   {given}   ")), (Tone::Title, format!("{word}{right}"))]);
        } else {
            self.hanging(Tone::Text, "yours   ", given);
            self.hanging(Tone::Title, word, right);
        }
    }

    /// A line of a list; the chosen one carries a mark, not only a colour.
    pub fn item(&mut self, chosen: bool, text: &str) {
        let (mark, tone) = if chosen { ("▸ ", Tone::Chosen) } else { ("  ", Tone::Text) };
        let text = cut(text, self.width.saturating_sub(4));
        self.lines.push(vec![(format!("{mark}{text} "), self.theme.tone(tone))]);
    }

    /// A line to type into; gives back its place.
    pub fn field(&mut self, input: &Input, width: usize) -> usize {
        let width = width.min(self.width.saturating_sub(2));
        let shown = cut_left(input.text(), width);
        let blank = width.saturating_sub(shown.width());
        self.lines.push(vec![
            ("› ".to_owned(), self.theme.tone(Tone::Key)),
            (format!("{shown}{}", " ".repeat(blank)), self.theme.tone(Tone::Field)),
        ]);
        self.lines.len() - 1
    }

    /// One line of several spans, cut at the width.
    pub fn spans(&mut self, spans: Vec<(Tone, String)>) {
        self.lines.push(spans.into_iter().map(|(tone, text)| (text, self.theme.tone(tone))).collect());
    }

    /// Lines that were made for the same width before.
    pub fn append(&mut self, lines: &Lines) {
        self.lines.extend(lines.lines.iter().cloned());
    }

    /// An empty line.
    pub fn gap(&mut self) {
        self.lines.push(Vec::new());
    }
}

/// Paints into a frame, in a theme.
#[derive(Debug)]
pub struct Painter<'a, 'b> {
    frame: &'a mut Frame<'b>,
    theme: Theme,
    charset: Charset,
}

impl<'a, 'b> Painter<'a, 'b> {
    /// A painter for one frame.
    #[must_use]
    pub fn new(frame: &'a mut Frame<'b>, theme: Theme, charset: Charset) -> Painter<'a, 'b> {
        Painter { frame, theme, charset }
    }

    /// The characters that can be drawn with.
    #[must_use]
    pub const fn charset(&self) -> Charset {
        self.charset
    }

    /// The whole screen.
    #[must_use]
    pub fn area(&self) -> Rect {
        self.frame.area()
    }

    /// Fills an area with the theme's ground.
    pub fn ground(&mut self, area: Rect) {
        let style = self.theme.base();
        if style.bg.is_some_and(|color| color != Color::Reset) {
            self.frame.buffer_mut().set_style(area, style);
        }
    }

    /// Empties an area down to the theme's ground.
    pub fn clear(&mut self, area: Rect) {
        let style = self.theme.base();
        let buffer = self.frame.buffer_mut();
        for position in area.intersection(buffer.area).positions() {
            buffer[position].reset();
            buffer[position].set_style(style);
        }
    }

    /// One line of text at a place, cut at the area's right edge.
    pub fn put(&mut self, area: Rect, text: &str, tone: Tone) {
        self.put_styled(area, text, self.theme.tone(tone));
    }

    fn put_styled(&mut self, area: Rect, text: &str, style: Style) -> u16 {
        let area = area.intersection(self.frame.area());
        if area.is_empty() {
            return 0;
        }
        let (end, _) = self.frame.buffer_mut().set_stringn(area.x, area.y, text, usize::from(area.width), style);
        end - area.x
    }

    /// The mark, at the lower right of an area, that more stands below; and the key that goes there.
    pub fn more_below(&mut self, area: Rect, key: &str) {
        let words = format!(" {key} more below ");
        let width = u16::try_from(words.width()).unwrap_or(u16::MAX).min(area.width);
        let (x, y) = (area.right().saturating_sub(width), area.bottom().saturating_sub(1));
        self.put(Rect { x, y, width, height: 1 }, &words, Tone::Chosen);
    }

    /// The mark, at the lower right of an area, of what stands above and below of a text that is too long for it, with the keys that go
    /// there. What lies above counts too: of a question that was scrolled away nothing else is to be seen.
    pub fn more(&mut self, area: Rect, [up, down]: [&str; 2], (above, below): (usize, usize)) {
        let words = match (above > 0, below > 0) {
            (true, true) => format!(" {up} more {down} "),
            (true, false) => format!(" {up} more above "),
            (false, true) => return self.more_below(area, down),
            (false, false) => return,
        };
        let width = u16::try_from(words.width()).unwrap_or(u16::MAX).min(area.width);
        let (x, y) = (area.right().saturating_sub(width), area.bottom().saturating_sub(1));
        self.put(Rect { x, y, width, height: 1 }, &words, Tone::Chosen);
    }

    /// Lines from the top of an area; what does not fit is left out.
    pub fn lines(&mut self, lines: Lines, area: Rect) {
        self.lines_from(lines, area, &Scroll::default());
    }

    /// Lines as far down as they are scrolled; gives back the first one shown and how many there are beyond the area's end.
    pub fn lines_from(&mut self, lines: Lines, area: Rect, scroll: &Scroll) -> (usize, usize) {
        let height = usize::from(area.height);
        let first = scroll.first_of(lines.lines.len(), height);
        for (row, line) in (0..area.height).zip(lines.lines.iter().skip(first)) {
            self.spans(line, Rect { y: area.y + row, height: 1, ..area });
        }
        (first, lines.lines.len().saturating_sub(first + height))
    }

    /// Shows the terminal's cursor in a field that stands on a line of the area and is so wide.
    pub fn cursor(&mut self, area: Rect, row: usize, input: &Input, width: u16) {
        // A long text shows its end; its hidden start moves the cursor along.
        let width = width.min(area.width.saturating_sub(2));
        let all = u16::try_from(input.text().width()).unwrap_or(u16::MAX);
        let column = input.column().saturating_sub(all.saturating_sub(width));
        let x = area.x.saturating_add(2).saturating_add(column).min(area.right().saturating_sub(1));
        let y = area.y.saturating_add(u16::try_from(row).unwrap_or(u16::MAX));
        if y < area.bottom() {
            self.frame.set_cursor_position(Position { x, y });
        }
    }

    /// The neat line around a figure.
    pub fn neat_line(&mut self, area: Rect) {
        let area = area.intersection(self.frame.area());
        if area.width < 2 || area.height < 2 {
            return;
        }
        let style = self.theme.tone(Tone::Frame);
        let (left, right, top, bottom) = (area.x, area.right() - 1, area.y, area.bottom() - 1);
        let buffer = self.frame.buffer_mut();
        for x in left + 1..right {
            buffer[(x, top)].set_symbol("─").set_style(style);
            buffer[(x, bottom)].set_symbol("─").set_style(style);
        }
        for y in top + 1..bottom {
            buffer[(left, y)].set_symbol("│").set_style(style);
            buffer[(right, y)].set_symbol("│").set_style(style);
        }
        for (x, y, corner) in [(left, top, "┌"), (right, top, "┐"), (left, bottom, "└"), (right, bottom, "┘")] {
            buffer[(x, y)].set_symbol(corner).set_style(style);
        }
    }

    /// The line between a figure and its collar.
    pub fn collar_line(&mut self, area: Rect) {
        let area = area.intersection(self.frame.area());
        if area.width < 2 {
            return;
        }
        let style = self.theme.tone(Tone::Frame);
        let buffer = self.frame.buffer_mut();
        for x in area.x..area.right() {
            let symbol = if x == area.x {
                "├"
            } else if x + 1 == area.right() {
                "┤"
            } else {
                "─"
            };
            buffer[(x, area.y)].set_symbol(symbol).set_style(style);
        }
    }

    /// A figure, as large as fits.
    pub fn figure(&mut self, figure: &Figure, area: Rect) {
        let (width, height) = millimetres(area);
        if let Some(scene) = figure.scene(width, height) {
            self.scene(&scene, area);
        }
    }

    /// The figure of a lesson, as large as the area.
    pub fn lesson(&mut self, figure: &dyn crate::lesson::Figure, area: Rect) {
        let (width, height) = millimetres(area);
        self.scene(&figure.scene(width, height, TEXT_MM), area);
    }

    /// The world with its lines of equal declination, as large as the area.
    pub fn world(&mut self, chart: &Chart, cursor: Place, home: Place, area: Rect) {
        self.scene(&world::picture(chart, cursor, Some(home), millimetres(area), TEXT_MM), area);
    }

    /// The look at the compass close up, as large as the area.
    pub fn close_up(&mut self, picture: &Picture<'_>, layer: &Layer, area: Rect) {
        let area = area.intersection(self.frame.area());
        self.cells(&layer.compass(picture, self.room(area)), area);
    }

    /// The look at the map with the compass on it, as large as the area.
    pub fn picture(&mut self, picture: &Picture<'_>, layer: &Layer, area: Rect) {
        let area = area.intersection(self.frame.area());
        self.cells(&layer.map(picture, self.room(area)), area);
    }

    fn room(&self, area: Rect) -> Room {
        Room { cells: (area.width, area.height), panel_mm: millimetres(area), canvas: self.canvas() }
    }

    /// The magnified strip of a dial, if the figure has one.
    pub fn strip(&mut self, figure: &Figure, area: Rect) {
        let (width, height) = millimetres(area);
        if let Some(scene) = figure.strip(width, height) {
            self.scene(&scene, area);
        }
    }

    /// A small picture as a part of a line of text, so many columns wide.
    #[must_use]
    pub fn sign(&self, sign: Sign, layer: &Layer) -> Vec<Span> {
        layer.sign(self.theme, sign, |scene, columns| {
            let picture = self.canvas().render(scene, columns, 1);
            let cells = picture.lines().next().unwrap_or_default();
            cells.iter().map(|cell| (self.shown(cell).to_string(), self.cell_style(cell))).collect()
        })
    }

    /// A line of spans at a place, cut at the area's right edge.
    pub fn spans(&mut self, spans: &[Span], area: Rect) {
        let mut left = area;
        for (text, style) in spans {
            let used = self.put_styled(left, text, *style);
            left.x += used;
            left.width -= used;
        }
    }

    /// The character of a cell: an empty one has that of its ground.
    fn shown(&self, cell: &Cell) -> char {
        match cell.area {
            Some(ground) if cell.symbol == ' ' && self.charset == Charset::Braille => self.theme.texture(ground),
            _ => cell.symbol,
        }
    }

    fn cell_style(&self, cell: &Cell) -> Style {
        let style = self.theme.ink(cell.ink).add_modifier(self.theme.emphasis(cell.emphasis));
        let style = cell.area.and_then(|ink| self.theme.tint(ink)).map_or(style, |color| style.bg(color));
        // The letter on the north half of the needle is a part of it, and no hole in it.
        let on_needle = cell.ink == Ink::NeedleNorth && cell.symbol.is_alphabetic();
        if !on_needle && cell.area.is_some_and(|ink| self.theme.reverses(ink)) {
            style.add_modifier(Modifier::REVERSED)
        } else {
            style
        }
    }

    fn canvas(&self) -> CellCanvas {
        CellCanvas::new(self.charset)
    }

    fn scene(&mut self, scene: &Scene, area: Rect) {
        let area = area.intersection(self.frame.area());
        let picture = self.canvas().render(scene, area.width, area.height);
        self.cells(&picture, area);
    }

    fn cells(&mut self, picture: &CellPicture, area: Rect) {
        let mut symbol = [0u8; 4];
        for (y, line) in (area.y..).zip(picture.lines()) {
            for (x, cell) in (area.x..).zip(line) {
                if cell.symbol == ' ' && cell.area.is_none() {
                    continue;
                }
                let (shown, style) = (self.shown(cell), self.cell_style(cell));
                let target = &mut self.frame.buffer_mut()[(x, y)];
                target.set_symbol(shown.encode_utf8(&mut symbol));
                target.set_style(style);
                target.modifier.set(Modifier::REVERSED, style.add_modifier.contains(Modifier::REVERSED));
            }
        }
    }
}

/// A cell is half as wide as high, and a line of writing is one cell high.
#[must_use]
pub fn millimetres(area: Rect) -> (f64, f64) {
    (f64::from(area.width) * TEXT_MM / 2.0, f64::from(area.height) * TEXT_MM)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_letter_is_not_parted_from_its_number() {
        assert_eq!(wrap("The path is 048° T and more", 16), ["The path is", "048° T and more"]);
        assert_eq!(wrap("about 8°44′ W.", 11), ["about", "8°44′ W."]);
        assert_eq!(wrap("it is 48° East of it", 9), ["it is 48°", "East of", "it"]);
    }
    use proptest::prelude::*;

    #[test]
    fn text_is_wrapped_at_words() {
        assert_eq!(wrap("From map to compass west is added", 12), ["From map to", "compass west", "is added"]);
        assert_eq!(wrap("counterclockwise", 6), ["counte", "rclock", "wise"]);
        assert_eq!(wrap("", 5), [""]);
    }

    proptest! {
        #[test]
        fn no_wrapped_line_is_wider_than_asked_and_no_word_is_lost(text in "[a-z0-9°′ ]{0,120}", width in 1usize..40) {
            let lines = wrap(&text, width);
            prop_assert!(lines.iter().all(|line| line.width() <= width));
            let squeeze = |text: &str| text.replace(' ', "");
            prop_assert_eq!(squeeze(&lines.concat()), squeeze(&text));
        }
    }
}
