//! What was written, as a message can show it.

use std::fmt::Display;
use std::path::Path;

/// A text from a file: short, without signs that a terminal would not show.
#[must_use]
pub fn shown(text: &str) -> String {
    shortened(text, 40)
}

/// A path: whole, unless it is endless.
#[must_use]
pub fn shown_path(path: &Path) -> String {
    shown_sentence(path.display())
}

/// A sentence that may hold what was written: whole, unless it is endless.
#[must_use]
pub fn shown_sentence(sentence: impl Display) -> String {
    shortened(&sentence.to_string(), 400)
}

fn shortened(text: &str, most: usize) -> String {
    let mut out: String =
        text.chars().take(most).map(|sign| if unshowable(sign) { '\u{fffd}' } else { sign }).collect();
    if text.chars().nth(most).is_some() {
        out.push('…');
    }
    out
}

/// Control characters, and those that turn the direction of writing or draw nothing: neither belongs on a terminal.
#[must_use]
pub fn unshowable(sign: char) -> bool {
    sign.is_control() || is_invisible(sign)
}

/// Format characters and other code points that draw nothing, or nothing that two terminals agree on. The sign that stands in place of
/// others, U+FFFD, can be seen.
#[must_use]
pub fn is_invisible(sign: char) -> bool {
    matches!(sign,
        '\u{ad}' | '\u{34f}' | '\u{61c}' | '\u{115f}' | '\u{1160}' | '\u{17b4}' | '\u{17b5}'
        | '\u{180b}'..='\u{180f}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}'
        | '\u{3164}' | '\u{e000}'..='\u{f8ff}' | '\u{fe00}'..='\u{fe0f}' | '\u{feff}' | '\u{ffa0}'
        | '\u{fff0}'..='\u{fffc}' | '\u{1d173}'..='\u{1d17a}' | '\u{e0000}'..='\u{10ffff}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_shown_is_short_and_holds_nothing_that_turns_the_writing() {
        assert_eq!(shown("a\u{1b}[31m\u{202e}b"), "a\u{fffd}[31m\u{fffd}b");
        assert_eq!(shown(&"a".repeat(41)), format!("{}…", "a".repeat(40)));
        assert_eq!(shown_path(Path::new(&"a".repeat(41))), "a".repeat(41));
        assert_eq!(shown_path(Path::new("a\u{7}")), "a\u{fffd}");
    }
}
