//! Tables of keys: what each key of a screen means, and in the same line how that is said to people.
//!
//! A key means what its table says and nothing else: the bottom line, the help and the README's tables are made from the
//! same lines that a key is looked up in.

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use jiff::Timestamp;

/// A key that was pressed, and when.
#[derive(Clone, Copy, Debug)]
pub struct Press {
    /// The key.
    pub key: KeyEvent,
    /// When: the model has no clock.
    pub at: Timestamp,
    /// What was asked just before, on the line above the keys.
    pub answers: Option<Question>,
}

/// What is asked before something is lost or written twice. The next key answers it, whichever it is: the words are gone with it, so
/// another time it is asked anew.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Question {
    /// Whether what was written down last is taken back.
    TakeBack,
    /// Whether what is not written down is left.
    Leave,
    /// Whether it goes on with nothing entered.
    Nothing,
    /// Whether what stands there is replaced.
    Replace,
    /// Whether a sheet will not come back.
    PutAway,
    /// Whether a day so long ago is meant.
    LongAgo,
}

impl Press {
    /// Whether Shift was held, which makes a turn ten times as large.
    #[must_use]
    pub const fn shifted(&self) -> bool {
        self.key.modifiers.contains(KeyModifiers::SHIFT)
    }

    /// The digit that was pressed.
    #[must_use]
    pub fn digit(&self) -> Option<usize> {
        match self.key.code {
            KeyCode::Char(digit) => digit.to_digit(10).map(|digit| digit as usize),
            _ => None,
        }
    }
}

/// What is pressed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum On {
    /// This key.
    Key(KeyCode),
    /// This letter, without Ctrl and Alt.
    Letter(char),
    /// This letter with Ctrl.
    Control(char),
    /// Any digit, without Ctrl and Alt.
    Digit,
    /// Whatever edits a line of text and is not in another line of the table.
    Text,
}

impl On {
    /// Whether this key is meant, other lines of the table aside.
    #[must_use]
    pub fn means(self, key: KeyEvent) -> bool {
        // With Ctrl or Alt a letter is another key: Ctrl-S is no `s`.
        let plain = !key.modifiers.intersects(KeyModifiers::CONTROL.union(KeyModifiers::ALT));
        match (self, key.code) {
            (On::Key(wanted), code) => wanted == code,
            (On::Letter(letter), KeyCode::Char(typed)) => plain && letter == typed,
            (On::Control(letter), KeyCode::Char(typed)) => {
                key.modifiers.contains(KeyModifiers::CONTROL) && letter.eq_ignore_ascii_case(&typed)
            }
            (On::Digit, KeyCode::Char(typed)) => plain && typed.is_ascii_digit(),
            // Ctrl-U empties a line.
            (On::Text, KeyCode::Char(_)) => plain || On::Control('u').means(key),
            (
                On::Text,
                KeyCode::Backspace | KeyCode::Delete | KeyCode::Left | KeyCode::Right | KeyCode::Home | KeyCode::End,
            ) => true,
            _ => false,
        }
    }

    /// Its name on screens and in the README.
    #[must_use]
    pub fn name(self) -> String {
        match self {
            On::Letter(' ') => "Space".to_owned(),
            On::Letter(letter) => letter.to_string(),
            On::Control(letter) => format!("Ctrl-{}", letter.to_ascii_uppercase()),
            On::Digit => "0–9".to_owned(),
            On::Text => "letters".to_owned(),
            On::Key(code) => match code {
                KeyCode::Up => "↑".to_owned(),
                KeyCode::Down => "↓".to_owned(),
                KeyCode::Left => "←".to_owned(),
                KeyCode::Right => "→".to_owned(),
                KeyCode::BackTab => "Shift-Tab".to_owned(),
                KeyCode::Backspace => "⌫".to_owned(),
                KeyCode::PageUp => "PgUp".to_owned(),
                KeyCode::PageDown => "PgDn".to_owned(),
                KeyCode::F(number) => format!("F{number}"),
                // Not by `Display`, which differs between systems.
                code => format!("{code:?}"),
            },
        }
    }
}

/// A line of a table: keys that belong together, each with its message, and what they do in words.
#[derive(Debug)]
pub struct Line<M: 'static> {
    /// The keys, in the order in which they are named.
    pub keys: &'static [(On, M)],
    /// What they do, for the help and the README; a line without words only says why the key does nothing just now.
    pub help: &'static str,
    /// The keys and their label on the bottom line, if they stand there.
    pub bottom: Option<(&'static str, &'static str)>,
}

impl<M> Line<M> {
    /// Keys that the help lists.
    #[must_use]
    pub const fn new(keys: &'static [(On, M)], help: &'static str) -> Line<M> {
        Line { keys, help, bottom: None }
    }

    /// The same, on the bottom line too: the keys in short, and their label.
    #[must_use]
    pub const fn short(self, keys: &'static str, label: &'static str) -> Line<M> {
        Line { bottom: Some((keys, label)), ..self }
    }
}

/// All keys of a screen in one of its states, in the order of the bottom line.
pub type Table<M> = &'static [Line<M>];

/// What a key means by a table.
#[must_use]
pub fn meaning<M: Copy>(table: Table<M>, key: KeyEvent) -> Option<M> {
    let pairs = || table.iter().flat_map(|line| line.keys);
    let named = pairs().find(|(on, _)| *on != On::Text && on.means(key));
    named.or_else(|| pairs().find(|(on, _)| on.means(key))).map(|(_, message)| *message)
}

/// A line of a table as people read it, without its messages.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Listed {
    /// The keys.
    pub keys: Vec<On>,
    /// What they do; empty where they only say why not.
    pub help: &'static str,
    /// The keys and their label on the bottom line, if they stand there.
    pub bottom: Option<(&'static str, &'static str)>,
}

/// A table as people read it, without lines that are not offered just now.
#[must_use]
pub fn listed<M: Copy>(table: Table<M>, offers: impl Fn(M) -> bool) -> Vec<Listed> {
    let offered = table.iter().filter(|line| line.keys.iter().all(|(_, msg)| offers(*msg)));
    let read = |line: &Line<M>| Listed {
        keys: line.keys.iter().map(|(on, _)| *on).collect(),
        help: line.help,
        bottom: line.bottom,
    };
    offered.map(read).collect()
}

/// The keys of a screen in one of its states.
#[derive(Clone, Debug)]
pub struct State {
    /// The heading in the help; several states may share one.
    pub heading: &'static str,
    /// The keys.
    pub lines: Vec<Listed>,
}

impl State {
    /// A table under its heading.
    #[must_use]
    pub fn new<M: Copy>(heading: &'static str, table: Table<M>) -> State {
        State { heading, lines: listed(table, |_| true) }
    }
}

/// Lines of several states as one list: what does the same stands once, with all its keys.
#[must_use]
pub fn together<'a>(lines: impl IntoIterator<Item = &'a Listed>) -> Vec<Listed> {
    let mut all: Vec<Listed> = Vec::new();
    for line in lines.into_iter().filter(|line| !line.help.is_empty()) {
        match all.iter_mut().find(|known| known.help == line.help) {
            Some(known) => {
                let new = line.keys.iter().filter(|on| !known.keys.contains(on)).copied().collect::<Vec<_>>();
                known.keys.extend(new);
            }
            None => all.push(line.clone()),
        }
    }
    all
}

/// The names of keys side by side.
#[must_use]
pub fn names(keys: &[On]) -> String {
    keys.iter().map(|on| on.name()).collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    const TABLE: Table<u8> = &[
        Line::new(&[(On::Letter('h'), 1)], "hint").short("h", "hint"),
        Line::new(&[(On::Text, 2)], "the name"),
        Line::new(&[(On::Key(KeyCode::Enter), 3), (On::Key(KeyCode::Tab), 4)], "go on"),
    ];

    #[test]
    fn a_key_means_its_own_line_and_text_whatever_is_left() {
        let pressed = |code| meaning(TABLE, KeyEvent::from(code));
        assert_eq!(pressed(KeyCode::Char('h')), Some(1));
        assert_eq!(pressed(KeyCode::Char('i')), Some(2));
        assert_eq!(pressed(KeyCode::Home), Some(2));
        assert_eq!(pressed(KeyCode::Tab), Some(4));
        assert_eq!(pressed(KeyCode::PageUp), None);
    }

    #[test]
    fn a_letter_with_ctrl_or_alt_is_no_letter() {
        const LETTERS: Table<u8> =
            &[Line::new(&[(On::Letter('s'), 1), (On::Control('c'), 2), (On::Digit, 3)], "what letters do")];
        let pressed = |letter, held| meaning(LETTERS, KeyEvent::new(KeyCode::Char(letter), held));
        assert_eq!(pressed('s', KeyModifiers::NONE), Some(1));
        for held in [KeyModifiers::CONTROL, KeyModifiers::ALT, KeyModifiers::CONTROL.union(KeyModifiers::ALT)] {
            assert_eq!(pressed('s', held), None, "{held:?}");
            assert_eq!(pressed('4', held), None, "{held:?}");
        }
        assert_eq!(pressed('4', KeyModifiers::NONE), Some(3));
        assert_eq!(pressed('c', KeyModifiers::CONTROL), Some(2));
        assert_eq!(pressed('c', KeyModifiers::NONE), None);
        // Shift is what makes some letters: a question mark, a capital.
        assert_eq!(pressed('s', KeyModifiers::SHIFT), Some(1));
        // Nor is it text, but for the one that empties the line.
        let typed = |letter| On::Text.means(KeyEvent::new(KeyCode::Char(letter), KeyModifiers::CONTROL));
        assert_eq!((typed('u'), typed('s')), (true, false));
    }

    #[test]
    fn what_does_the_same_in_two_states_stands_once_with_all_its_keys() {
        const OTHER: Table<u8> = &[Line::new(&[(On::Letter('g'), 1)], "go on"), Line::new(&[(On::Letter('z'), 1)], "")];
        let (one, two) = (listed(TABLE, |_| true), listed(OTHER, |_| true));
        let all = together(one.iter().chain(&two));
        assert_eq!(all.len(), 3);
        assert_eq!(names(&all[2].keys), "Enter Tab g");
    }
}
