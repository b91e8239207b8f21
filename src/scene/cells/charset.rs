//! Which characters show dots and writing.
use super::dots::CellDots;

/// The characters a canvas may use.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Charset {
    /// Braille for lines; writing as it is.
    #[default]
    Braille,
    /// ASCII only, for terminals without braille and for plain mode: lines by the nearest stroke, `°` as `d` (the
    /// letter that degrees have in plain coordinate notation), anything unknown as `?`.
    Ascii,
}

impl Charset {
    /// The character for the dots of a cell.
    #[must_use]
    pub(super) fn stroke(self, &CellDots { mask, filled, dense, .. }: &CellDots) -> char {
        match self {
            _ if mask == 0 => ' ',
            // A filled shape must not look like a line: this is how the needle's north half is told without braille.
            Charset::Ascii if filled && mask.count_ones() >= 2 => '#',
            Charset::Braille if quarters(dense) != 0 => BLOCKS[usize::from(quarters(dense))],
            Charset::Braille => char::from_u32(0x2800 + u32::from(mask)).unwrap_or(' '),
            Charset::Ascii => char::from(ASCII[usize::from(mask)]),
        }
    }

    /// The character as this charset writes it, taking exactly one cell; `None` when it takes none.
    #[must_use]
    pub(super) fn letter(self, letter: char) -> Option<char> {
        use unicode_width::UnicodeWidthChar;
        if letter.is_ascii_graphic() || letter == ' ' {
            return Some(letter);
        }
        match self {
            Charset::Braille => match letter.width() {
                Some(1) => Some(letter),
                None | Some(0) => None,
                Some(_) => Some('?'),
            },
            Charset::Ascii => match letter {
                '°' => Some('d'),
                '′' | '’' | '‘' => Some('\''),
                '″' | '”' | '“' => Some('"'),
                '−' | '–' | '—' => Some('-'),
                '★' => Some('*'),
                '→' => Some('>'),
                '←' => Some('<'),
                '↑' | '▲' => Some('^'),
                '↓' | '▼' => Some('v'),
                '↗' | '↙' => Some('/'),
                '↘' | '↖' => Some('\\'),
                '·' => Some('.'),
                '\u{a0}' => Some(' '),
                other => other.width().filter(|&cells| cells > 0).map(|_| '?'),
            },
        }
    }
}

/// The blocks by the quarters of a cell that they fill: upper left 1, upper right 2, lower left 4, lower right 8.
const BLOCKS: [char; 16] = [' ', '▘', '▝', '▀', '▖', '▌', '▞', '▛', '▗', '▚', '▐', '▜', '▄', '▙', '▟', '█'];

/// The quarters of a cell in which a dot is set.
fn quarters(mask: u8) -> u8 {
    // The dots of a quarter, as bits of a braille character.
    const DOTS: [u8; 4] = [0x03, 0x18, 0x44, 0xa0];
    (0..4).filter(|at| mask & DOTS[*at] != 0).fold(0, |found, at| found | 1 << at)
}

/// Strokes as dots, read row by row, `#` set. The nearest one stands for a cell.
const STROKES: &[(u8, &[u8; 8])] = &[
    (b'|', b"#.#.#.#."),
    (b'|', b".#.#.#.#"),
    (b'|', b"########"),
    (b'|', b"#.#.#..."),
    (b'|', b".#.#.#.."),
    (b'|', b"..#.#.#."),
    (b'|', b"...#.#.#"),
    (b'|', b"#.#..#.#"),
    (b'|', b".#.##.#."),
    (b'/', b".#.##.#."),
    (b'/', b".#.#.##."),
    (b'/', b".##.#.#."),
    (b'/', b".#.##..."),
    (b'/', b"...#.##."),
    (b'/', b"...##..."),
    (b'/', b"...##.#."),
    (b'/', b".#.##.##"),
    (b'\\', b"#.#..#.#"),
    (b'\\', b"#.#.#..#"),
    (b'\\', b"#..#.#.#"),
    (b'\\', b"#.#..#.."),
    (b'\\', b"..#.#..#"),
    (b'\\', b"..#..#.."),
    (b'\\', b"..#..#.#"),
    (b'-', b"..##...."),
    (b'-', b"....##.."),
    (b'-', b"##......"),
    (b'-', b"#..#...."),
    (b'-', b".##....."),
    (b'-', b"..#..#.."),
    (b'-', b"...##..."),
    (b'-', b"..#....."),
    (b'-', b"...#...."),
    (b'-', b"....#..."),
    (b'-', b".....#.."),
    (b'-', b"..####.."),
    (b'-', b"####...."),
    (b'_', b"......##"),
    (b'_', b"....#..#"),
    (b'_', b".....##."),
    (b'_', b"....####"),
    (b'\'', b"#......."),
    (b'\'', b".#......"),
    (b'\'', b"#.#....."),
    (b'\'', b".#.#...."),
    (b'.', b"......#."),
    (b'.', b".......#"),
    (b'.', b"....#.#."),
    (b'.', b".....#.#"),
    (b'+', b"###....."),
    (b'+', b"##.#...."),
    (b'+', b"###.#..."),
    (b'+', b"##.#.#.."),
    (b'+', b"###.#.#."),
    (b'+', b"##.#.#.#"),
    (b'+', b"..###..."),
    (b'+', b"..##.#.."),
    (b'+', b"..###.#."),
    (b'+', b"..##.#.#"),
    (b'+', b"....###."),
    (b'+', b"....##.#"),
    (b'+', b"#.##...."),
    (b'+', b".###...."),
    (b'+', b"#.#.##.."),
    (b'+', b".#.###.."),
    (b'+', b"#.#.#.##"),
    (b'+', b".#.#.###"),
    (b'+', b"#.###.#."),
    (b'+', b"#.##.#.#"),
    (b'+', b"#.###..."),
    (b'+', b".###.#.#"),
    (b'+', b".#.###.#"),
    (b'+', b"#.#.###."),
    (b'#', b"########"),
    (b'#', b"######.."),
    (b'#', b"..######"),
    (b'#', b".#######"),
    (b'#', b"#.######"),
    (b'#', b"######.#"),
    (b'#', b"#######."),
];

/// The nearest stroke for each of the 256 dot patterns, worked out when the program is built.
const ASCII: [u8; 256] = {
    let mut table = [b' '; 256];
    let mut mask = 1;
    while mask < 256 {
        let mut best = u32::MAX;
        let mut i = 0;
        while i < STROKES.len() {
            let off = (braille_bits(STROKES[i].1) as usize ^ mask).count_ones();
            if off < best {
                best = off;
                table[mask] = STROKES[i].0;
            }
            i += 1;
        }
        mask += 1;
    }
    table
};

/// A drawn stroke as the low byte of its braille character.
const fn braille_bits(drawn: &[u8; 8]) -> u8 {
    const ORDER: [u8; 8] = [0x01, 0x08, 0x02, 0x10, 0x04, 0x20, 0x40, 0x80];
    let mut bits = 0;
    let mut i = 0;
    while i < 8 {
        if drawn[i] == b'#' {
            bits |= ORDER[i];
        }
        i += 1;
    }
    bits
}
