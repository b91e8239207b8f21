//! What came out of the program: the bytes, the frames, the screen they make.

use std::num::NonZeroU16;

/// How the end of a frame begins: the cursor is hidden, or shown and put in its place.
const CURSOR: &[u8] = b"\x1b[?25";

/// What has come out of the program so far.
pub struct Output {
    parser: vt100::Parser,
    /// Everything, as it came.
    pub raw: Vec<u8>,
    /// Where in `raw` each frame ended. The first is the entering of the full screen.
    pub frames: Vec<usize>,
    /// How far `raw` was searched for ends of frames.
    searched: usize,
    /// How many readings it took.
    pub chunks: u64,
    /// Nobody holds the other end any more, and everything written to it has been read.
    pub ended: bool,
}

impl Output {
    pub fn new(cols: u16, rows: u16) -> Output {
        let mut output = Output {
            parser: vt100::Parser::default(),
            raw: Vec::new(),
            frames: Vec::new(),
            searched: 0,
            chunks: 0,
            ended: false,
        };
        output.set_size(cols, rows);
        output
    }

    /// The window has another size.
    pub fn set_size(&mut self, cols: u16, rows: u16) {
        let size = |count| NonZeroU16::new(count).expect("a window has at least one cell");
        self.parser.set_size(size(rows), size(cols));
    }

    pub fn screen(&self) -> &vt100::Screen {
        self.parser.screen()
    }

    /// The screen as text, without blanks at the ends of lines.
    pub fn text(&self) -> String {
        let text = self.screen().contents().to_string();
        text.lines().map(str::trim_end).collect::<Vec<_>>().join("\n")
    }

    /// What stands right of the sheet, as running text.
    pub fn beside_sheet(&self) -> String {
        let text = self.text();
        let rows =
            text.lines().filter_map(|row| row.rsplit_once(['│', '┤', '┐', '┘'])).map(|(_, beside)| beside.trim());
        rows.filter(|row| !row.is_empty()).collect::<Vec<_>>().join(" ")
    }

    /// Whether the last frame has come to its end, and no other one has begun: what follows a frame is no more than a word about the mouse.
    pub fn is_whole(&self) -> bool {
        const MOUSE: usize = 24;
        self.frames.last().is_some_and(|end| self.raw.len() - end <= MOUSE)
    }

    /// How many bytes a frame took, from the end of the one before.
    pub fn frame_size(&self, frame: usize) -> usize {
        self.frames[frame] - self.frames[frame - 1]
    }

    /// Takes in what was read.
    pub fn take(&mut self, bytes: &[u8]) {
        self.chunks += 1;
        self.raw.extend_from_slice(bytes);
        while let Some(end) = self.next_frame() {
            self.frames.push(end);
        }
        self.parser.process(bytes);
    }

    /// Where the next frame ends, if its end has come.
    fn next_frame(&mut self) -> Option<usize> {
        loop {
            let rest = &self.raw[self.searched..];
            let at = rest.windows(CURSOR.len()).position(|window| window == CURSOR)?;
            let (shown, after) = rest[at + CURSOR.len()..].split_first()?;
            let from = self.searched + at + CURSOR.len() + 1;
            if *shown == b'l' {
                self.searched = from;
                return Some(from);
            }
            // ESC [ row ; column H
            let figures = |byte: &u8| byte.is_ascii_digit() || b"\x1b[;".contains(byte);
            let end = after.iter().position(|byte| !figures(byte))?;
            self.searched = from;
            if end > 2 && after.starts_with(b"\x1b[") && after[end] == b'H' {
                return Some(from + end + 1);
            }
        }
    }
}
