//! Reading what is typed, line by line, however long or odd a line is.

use std::io::{self, BufRead, ErrorKind};

/// Bytes of a line that are kept. Answers are far shorter; a megabyte is read to its end and forgotten.
const LONGEST_LINE: usize = 512;

/// One typed line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Line {
    /// Text, without blanks around it.
    Text(String),
    /// Longer than any answer.
    TooLong,
    /// Bytes that are not UTF-8.
    NotText,
    /// Nothing more will come.
    End,
}

/// Reads the next line. Ends with LF or CR LF, or with the input.
pub(super) fn read_line(input: &mut dyn BufRead) -> io::Result<Line> {
    let mut kept: Vec<u8> = Vec::new();
    let mut too_long = false;
    loop {
        let waiting = match input.fill_buf() {
            Ok(waiting) => waiting,
            Err(error) if error.kind() == ErrorKind::Interrupted => continue,
            Err(error) => return Err(error),
        };
        if waiting.is_empty() {
            if kept.is_empty() && !too_long {
                return Ok(Line::End);
            }
            break;
        }
        let end = waiting.iter().position(|byte| *byte == b'\n');
        let part = &waiting[..end.unwrap_or(waiting.len())];
        let room = LONGEST_LINE - kept.len();
        too_long |= part.len() > room;
        kept.extend_from_slice(&part[..part.len().min(room)]);
        let used = part.len() + usize::from(end.is_some());
        input.consume(used);
        if end.is_some() {
            break;
        }
    }
    if too_long {
        return Ok(Line::TooLong);
    }
    Ok(match String::from_utf8(kept) {
        // Some systems put a mark of the byte order before the first line of a file.
        Ok(text) => Line::Text(text.trim_start_matches('\u{feff}').trim().to_owned()),
        Err(_) => Line::NotText,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::{BufReader, Cursor};

    fn lines(bytes: &[u8]) -> Vec<Line> {
        // A tiny buffer, so that lines are pieced together.
        let mut input = BufReader::with_capacity(7, Cursor::new(bytes.to_vec()));
        let mut out = Vec::new();
        loop {
            match read_line(&mut input).unwrap() {
                Line::End => return out,
                line => out.push(line),
            }
        }
    }

    fn text(text: &str) -> Line {
        Line::Text(text.to_owned())
    }

    #[test]
    fn lines_end_in_either_way_and_the_last_needs_no_end() {
        assert_eq!(lines(b"065\r\n  S 40 E \n\nend"), [text("065"), text("S 40 E"), text(""), text("end")]);
        assert_eq!(lines(b""), []);
        assert_eq!(lines("\u{feff}065\r\n".as_bytes()), [text("065")]);
    }

    #[test]
    fn a_megabyte_is_forgotten_and_the_next_line_is_whole() {
        let mut bytes = vec![b'6'; 1_000_000];
        bytes.extend_from_slice(b"\n065\n");
        assert_eq!(lines(&bytes), [Line::TooLong, text("065")]);
        assert_eq!(lines(&vec![b'6'; 1_000_000]), [Line::TooLong]);
    }

    #[test]
    fn bytes_that_are_no_text_are_told_apart_from_text() {
        assert_eq!(lines(b"065\xb0\n065\n"), [Line::NotText, text("065")]);
    }
}
