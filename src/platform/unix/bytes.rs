//! What a terminal sends, as keys: control sequences by ECMA-48, function keys and mouse as xterm writes them.
//!
//! Nothing that a terminal sends makes the keyboard deaf: a sequence that stops in the middle is dropped when nothing more comes, and
//! Ctrl-C is heard within one as well.

use crossterm::event::{Event, KeyCode, KeyEvent, KeyModifiers, MouseButton, MouseEvent, MouseEventKind as Kind};
use std::collections::VecDeque;
use std::time::Duration;
use vte::{Params, Parser, Perform};

const ESC: u8 = 0x1b;
const BELL: u8 = 0x07;
const CTRL_C: u8 = 0x03;

/// What comes later than this is no part of a sequence any more: a terminal sends one in one piece, a slow line nearly so.
const PIECE: Duration = Duration::from_millis(30);
/// A paste may be long, and comes through slow lines in many pieces.
const PASTE: Duration = Duration::from_secs(1);
/// More than anything asks for, in bytes: the rest of a paste is left out.
const LONGEST_PASTE: usize = 1 << 16;

/// What was begun and has not ended yet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Begun {
    Nothing,
    /// ESC: the key itself, or the beginning of more.
    Escape,
    /// ESC `[`: parameters and a last character come.
    Control,
    /// ESC `O`: one character comes, as some terminals write arrows and F1 to F4.
    Single,
    /// ESC `[` `[`: one character comes, as the Linux console writes F1 to F5.
    Console,
    /// ESC `]` and its like: a text for a program that asked the terminal something. Nobody here does.
    Text,
    /// ESC in such a text, which ends it.
    TextEscape,
}

/// Makes keys of bytes; the parser knows where a control sequence and a character end.
pub(super) struct Bytes {
    parser: Parser,
    heard: Heard,
}

/// What was understood so far.
struct Heard {
    begun: Begun,
    /// The next key came with Alt.
    alt: bool,
    paste: Option<String>,
    events: VecDeque<Event>,
}

impl Bytes {
    pub(super) fn new() -> Bytes {
        let heard = Heard { begun: Begun::Nothing, alt: false, paste: None, events: VecDeque::new() };
        Bytes { parser: Parser::new(), heard }
    }

    /// The next key or other event.
    pub(super) fn next(&mut self) -> Option<Event> {
        self.heard.events.pop_front()
    }

    pub(super) fn has_next(&self) -> bool {
        !self.heard.events.is_empty()
    }

    /// After how long without a byte [`Bytes::pause`] is to be called; none where nothing is begun.
    pub(super) fn patience(&self) -> Option<Duration> {
        match (&self.heard.paste, self.heard.begun) {
            (Some(_), _) => Some(PASTE),
            (None, Begun::Nothing) => None,
            (None, _) => Some(PIECE),
        }
    }

    /// Puts another event behind what was understood so far.
    pub(super) fn put(&mut self, event: Event) {
        self.heard.events.push_back(event);
    }

    pub(super) fn take(&mut self, bytes: &[u8]) {
        for byte in bytes {
            self.take_one(*byte);
        }
    }

    /// Nothing more came: what was begun stands for itself or for nothing.
    pub(super) fn pause(&mut self) {
        match self.heard.begun {
            Begun::Escape | Begun::TextEscape => self.heard.key(KeyCode::Esc, KeyModifiers::NONE),
            Begun::Single => self.heard.key(KeyCode::Char('O'), KeyModifiers::ALT | KeyModifiers::SHIFT),
            Begun::Nothing | Begun::Control | Begun::Console | Begun::Text => {}
        }
        self.forget();
        self.heard.end_paste();
    }

    fn forget(&mut self) {
        self.parser = Parser::new();
        self.heard.begun = Begun::Nothing;
        self.heard.alt = false;
    }

    fn take_one(&mut self, byte: u8) {
        if self.heard.paste.is_some() {
            return self.parser.advance(&mut self.heard, &[byte]);
        }
        if byte == CTRL_C {
            self.forget();
        }
        match self.heard.begun {
            Begun::TextEscape if byte == b'\\' => self.heard.begun = Begun::Nothing,
            Begun::Escape | Begun::TextEscape => self.after_escape(byte),
            Begun::Text => match byte {
                ESC => self.heard.begun = Begun::TextEscape,
                BELL => self.heard.begun = Begun::Nothing,
                _ => {}
            },
            _ if byte == ESC => {
                self.forget();
                self.heard.begun = Begun::Escape;
            }
            Begun::Single | Begun::Console => {
                let key = match (self.heard.begun, byte) {
                    (Begun::Single, b'M') => Some(KeyCode::Enter),
                    (Begun::Single, _) => single(byte),
                    _ => console(byte),
                };
                self.heard.begun = Begun::Nothing;
                if let Some(key) = key {
                    self.heard.key(key, KeyModifiers::NONE);
                }
            }
            Begun::Control | Begun::Nothing => {
                self.parser.advance(&mut self.heard, &[byte]);
                // A last character ends a sequence, whether it is one that says something here or not.
                if self.heard.begun == Begun::Control && (0x40..=0x7e).contains(&byte) {
                    self.heard.begun = Begun::Nothing;
                }
            }
        }
    }

    fn after_escape(&mut self, byte: u8) {
        self.heard.begun = match byte {
            ESC => {
                self.heard.key(KeyCode::Esc, KeyModifiers::NONE);
                Begun::Escape
            }
            b'[' => {
                self.parser = Parser::new();
                self.parser.advance(&mut self.heard, b"\x1b[");
                Begun::Control
            }
            b'O' => Begun::Single,
            b']' | b'P' | b'X' | b'^' | b'_' => Begun::Text,
            _ => Begun::Nothing,
        };
        if self.heard.begun == Begun::Nothing {
            self.heard.alt = true;
            self.parser.advance(&mut self.heard, &[byte]);
        }
    }
}

impl Heard {
    fn key(&mut self, code: KeyCode, with: KeyModifiers) {
        let alt = if std::mem::take(&mut self.alt) { KeyModifiers::ALT } else { KeyModifiers::NONE };
        self.events.push_back(Event::Key(KeyEvent::new(code, with | alt)));
    }

    fn end_paste(&mut self) {
        self.events.extend(self.paste.take().map(Event::Paste));
    }

    fn mouse(&mut self, what: u16, column: u16, row: u16, released: bool) {
        let button = match what & 3 {
            0 => MouseButton::Left,
            1 => MouseButton::Middle,
            _ => MouseButton::Right,
        };
        let kind = match (what & 0b1110_0000, what & 3) {
            (0, 3) => return,
            (0, _) if released => Kind::Up(button),
            (0, _) => Kind::Down(button),
            (32, 3) => Kind::Moved,
            (32, _) => Kind::Drag(button),
            (64, 0) => Kind::ScrollUp,
            (64, 1) => Kind::ScrollDown,
            (64, 2) => Kind::ScrollLeft,
            (64, _) => Kind::ScrollRight,
            _ => return,
        };
        let bits = [(4, KeyModifiers::SHIFT), (8, KeyModifiers::ALT), (16, KeyModifiers::CONTROL)];
        let modifiers = bits.into_iter().filter(|(bit, _)| what & bit != 0).map(|(_, one)| one).collect();
        // Counted from 1 on the way here.
        let (column, row) = (column.saturating_sub(1), row.saturating_sub(1));
        self.events.push_back(Event::Mouse(MouseEvent { kind, column, row, modifiers }));
    }
}

impl Perform for Heard {
    fn print(&mut self, character: char) {
        if let Some(paste) = &mut self.paste {
            if paste.len() < LONGEST_PASTE {
                paste.push(character);
            }
            return;
        }
        match character {
            '\u{7f}' => self.key(KeyCode::Backspace, KeyModifiers::NONE),
            // Bytes that are no character.
            char::REPLACEMENT_CHARACTER => self.alt = false,
            _ if character.is_uppercase() => self.key(KeyCode::Char(character), KeyModifiers::SHIFT),
            _ => self.key(KeyCode::Char(character), KeyModifiers::NONE),
        }
    }

    fn execute(&mut self, byte: u8) {
        if self.paste.is_some() {
            return self.print(byte.into());
        }
        match byte {
            b'\r' => self.key(KeyCode::Enter, KeyModifiers::NONE),
            b'\t' => self.key(KeyCode::Tab, KeyModifiers::NONE),
            0 => self.key(KeyCode::Char(' '), KeyModifiers::CONTROL),
            0x01..=0x1a => self.key(KeyCode::Char((byte - 1 + b'a').into()), KeyModifiers::CONTROL),
            0x1c..=0x1f => self.key(KeyCode::Char((byte - 0x1c + b'4').into()), KeyModifiers::CONTROL),
            // Controls of eight bits, which no keyboard sends.
            _ => self.alt = false,
        }
    }

    fn csi_dispatch(&mut self, params: &Params, intermediates: &[u8], ignored: bool, last: char) {
        let mut numbers = params.iter().map(|one| one.first().copied().unwrap_or(0));
        let mut number = || numbers.next().unwrap_or(0);
        if self.paste.is_some() {
            if (number(), last) == (201, '~') {
                self.end_paste();
            }
            return;
        }
        self.begun = Begun::Nothing;
        match (intermediates, last) {
            _ if ignored => {}
            (b"<", 'M' | 'm') => self.mouse(number(), number(), number(), last == 'm'),
            (b"", '[') => self.begun = Begun::Console,
            (b"", 'Z') => self.key(KeyCode::BackTab, KeyModifiers::SHIFT),
            (b"", '~') => match number() {
                200 => self.paste = Some(String::new()),
                which => {
                    if let Some(key) = numbered(which) {
                        self.key(key, modifiers(number()));
                    }
                }
            },
            // F3 comes with 1 before its modifier; else it is the place of a cursor that nobody asked for.
            (b"", 'R') => {
                if let (1, with @ 1..) = (number(), number()) {
                    self.key(KeyCode::F(3), modifiers(with));
                }
            }
            (b"", _) => {
                number();
                if let Some(key) = u8::try_from(last).ok().and_then(single) {
                    self.key(key, modifiers(number()));
                }
            }
            _ => {}
        }
    }
}

/// The keys that xterm writes with one last character.
const fn single(last: u8) -> Option<KeyCode> {
    Some(match last {
        b'A' => KeyCode::Up,
        b'B' => KeyCode::Down,
        b'C' => KeyCode::Right,
        b'D' => KeyCode::Left,
        b'F' => KeyCode::End,
        b'H' => KeyCode::Home,
        b'P'..=b'S' => KeyCode::F(last - b'P' + 1),
        _ => return None,
    })
}

const fn console(last: u8) -> Option<KeyCode> {
    match last {
        b'A'..=b'E' => Some(KeyCode::F(last - b'A' + 1)),
        _ => None,
    }
}

/// The keys that are written as numbers before `~`.
fn numbered(which: u16) -> Option<KeyCode> {
    let function = |from: u16, first: u8| u8::try_from(which - from).ok().map(|on| KeyCode::F(first + on));
    match which {
        1 | 7 => Some(KeyCode::Home),
        2 => Some(KeyCode::Insert),
        3 => Some(KeyCode::Delete),
        4 | 8 => Some(KeyCode::End),
        5 => Some(KeyCode::PageUp),
        6 => Some(KeyCode::PageDown),
        11..=15 => function(11, 1),
        17..=21 => function(17, 6),
        23 | 24 => function(23, 11),
        _ => None,
    }
}

/// The number is one more than the sum of 1 for Shift, 2 for Alt, 4 for Control; none is sent as no number.
fn modifiers(number: u16) -> KeyModifiers {
    let bits = [(1, KeyModifiers::SHIFT), (2, KeyModifiers::ALT), (4, KeyModifiers::CONTROL)];
    bits.into_iter().filter(|(bit, _)| number.saturating_sub(1) & bit != 0).map(|(_, one)| one).collect()
}

#[cfg(test)]
mod tests;
