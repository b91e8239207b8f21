//! The sequences are those of a terminal that writes as xterm does, and of the Linux console; from memory, as every program here that
//! reads keys takes them.

use super::*;
use proptest::prelude::*;

fn heard(bytes: &[u8]) -> Vec<Event> {
    let mut all = Bytes::new();
    all.take(bytes);
    all.pause();
    std::iter::from_fn(|| all.next()).collect()
}

fn plain(code: KeyCode) -> Event {
    Event::Key(code.into())
}

fn with(code: KeyCode, modifiers: KeyModifiers) -> Event {
    Event::Key(KeyEvent::new(code, modifiers))
}

#[test]
fn characters_are_keys_also_those_of_many_bytes_and_in_pieces() {
    assert_eq!(heard(b"7"), [plain(KeyCode::Char('7'))]);
    assert_eq!(heard(b"N"), [with(KeyCode::Char('N'), KeyModifiers::SHIFT)]);
    let mut bytes = Bytes::new();
    for byte in "é°".as_bytes() {
        bytes.take(&[*byte]);
    }
    let both: Vec<Event> = std::iter::from_fn(|| bytes.next()).collect();
    assert_eq!(both, [plain(KeyCode::Char('é')), plain(KeyCode::Char('°'))]);
    assert_eq!(heard(b"\xff\xc3q"), [plain(KeyCode::Char('q'))], "what is no character is no key");
}

#[test]
fn control_characters_are_the_keys_that_send_them() {
    assert_eq!(heard(b"\r\t\x7f"), [KeyCode::Enter, KeyCode::Tab, KeyCode::Backspace].map(plain));
    let control = |key| with(KeyCode::Char(key), KeyModifiers::CONTROL);
    assert_eq!(heard(b"\x03\x1a\x08\x00\x1f"), ['c', 'z', 'h', ' ', '7'].map(control));
}

#[test]
fn arrows_and_function_keys_are_known_as_every_terminal_writes_them() {
    for (written, key) in [
        ("\x1b[A", KeyCode::Up),
        ("\x1bOA", KeyCode::Up),
        ("\x1b[B", KeyCode::Down),
        ("\x1b[C", KeyCode::Right),
        ("\x1bOD", KeyCode::Left),
        ("\x1b[H", KeyCode::Home),
        ("\x1b[1~", KeyCode::Home),
        ("\x1b[F", KeyCode::End),
        ("\x1bOF", KeyCode::End),
        ("\x1b[4~", KeyCode::End),
        ("\x1b[2~", KeyCode::Insert),
        ("\x1b[3~", KeyCode::Delete),
        ("\x1b[5~", KeyCode::PageUp),
        ("\x1b[6~", KeyCode::PageDown),
        ("\x1bOP", KeyCode::F(1)),
        ("\x1b[[A", KeyCode::F(1)),
        ("\x1b[11~", KeyCode::F(1)),
        ("\x1bOS", KeyCode::F(4)),
        ("\x1b[15~", KeyCode::F(5)),
        ("\x1b[17~", KeyCode::F(6)),
        ("\x1b[21~", KeyCode::F(10)),
        ("\x1b[24~", KeyCode::F(12)),
        ("\x1bOM", KeyCode::Enter),
    ] {
        assert_eq!(heard(written.as_bytes()), [plain(key)], "{written:?}");
    }
}

#[test]
fn modifiers_are_one_more_than_their_sum() {
    assert_eq!(heard(b"\x1b[1;2A"), [with(KeyCode::Up, KeyModifiers::SHIFT)]);
    assert_eq!(heard(b"\x1b[1;5D"), [with(KeyCode::Left, KeyModifiers::CONTROL)]);
    assert_eq!(heard(b"\x1b[1;5R"), [with(KeyCode::F(3), KeyModifiers::CONTROL)]);
    assert_eq!(heard(b"\x1b[3;4~"), [with(KeyCode::Delete, KeyModifiers::SHIFT | KeyModifiers::ALT)]);
    assert_eq!(heard(b"\x1b[Z"), [with(KeyCode::BackTab, KeyModifiers::SHIFT)]);
    assert_eq!(heard(b"\x1bm"), [with(KeyCode::Char('m'), KeyModifiers::ALT)]);
    assert_eq!(heard("\x1bé".as_bytes()), [with(KeyCode::Char('é'), KeyModifiers::ALT)]);
    assert_eq!(heard(b"\x1b\r"), [with(KeyCode::Enter, KeyModifiers::ALT)]);
    assert_eq!(heard(b"\x1bmq")[1], plain(KeyCode::Char('q')), "Alt is for one key");
}

#[test]
fn escape_is_a_key_when_nothing_follows_and_when_another_does() {
    assert_eq!(heard(b"\x1b"), [plain(KeyCode::Esc)]);
    assert_eq!(heard(b"\x1b\x1b"), [plain(KeyCode::Esc), plain(KeyCode::Esc)]);
    assert_eq!(heard(b"\x1b\x1b[A"), [plain(KeyCode::Esc), plain(KeyCode::Up)]);
    let mut bytes = Bytes::new();
    bytes.take(b"\x1b");
    assert!(!bytes.has_next() && bytes.patience().is_some(), "it may be the beginning of an arrow");
}

#[test]
fn the_mouse_says_where_and_with_what() {
    let mouse = |kind, column, row, modifiers| Event::Mouse(MouseEvent { kind, column, row, modifiers });
    assert_eq!(heard(b"\x1b[<0;1;1M"), [mouse(Kind::Down(MouseButton::Left), 0, 0, KeyModifiers::NONE)]);
    assert_eq!(heard(b"\x1b[<0;80;24m"), [mouse(Kind::Up(MouseButton::Left), 79, 23, KeyModifiers::NONE)]);
    assert_eq!(heard(b"\x1b[<34;7;9M"), [mouse(Kind::Drag(MouseButton::Right), 6, 8, KeyModifiers::NONE)]);
    assert_eq!(heard(b"\x1b[<80;7;9M"), [mouse(Kind::ScrollUp, 6, 8, KeyModifiers::CONTROL)]);
    assert_eq!(heard(b"\x1b[<65;7;9M"), [mouse(Kind::ScrollDown, 6, 8, KeyModifiers::NONE)]);
}

#[test]
fn a_paste_is_one_thing_whatever_is_in_it() {
    assert_eq!(
        heard(b"\x1b[200~06\r4\x03\xc2\xb0\x1b[201~q"),
        [Event::Paste("06\r4\u{3}°".to_owned()), plain(KeyCode::Char('q'))]
    );
    assert_eq!(heard(b"\x1b[200~064"), [Event::Paste("064".to_owned())], "it ends where nothing more comes");
    let long = [b"\x1b[200~".as_slice(), &[b'7'; 100_000], b"\x1b[201~"].concat();
    assert_eq!(heard(&long), [Event::Paste("7".repeat(LONGEST_PASTE))]);
}

#[test]
fn what_a_terminal_says_unasked_is_no_key() {
    for answer in [
        "\x1b]11;rgb:0000/0000/0000\x07",
        "\x1b]11;rgb:0/0/0\x1b\\",
        "\x1bP1+r\x1b\\",
        "\x1b[?62;22c",
        "\x1b[3;7R",
        "\x1b[I",
    ] {
        assert_eq!(heard(answer.as_bytes()), [], "{answer:?}");
    }
}

#[test]
fn ctrl_c_is_heard_in_the_middle_of_whatever_was_begun() {
    for begun in ["\x1b[<", "\x1b[<0;1", "\x1b]11;", "\x1bP", "\x1bO", "\x1b[[", "\x1b", "\x1b[<123;45"] {
        let mut bytes = Bytes::new();
        bytes.take(begun.as_bytes());
        bytes.take(b"\x03q");
        assert_eq!(bytes.next(), Some(with(KeyCode::Char('c'), KeyModifiers::CONTROL)), "{begun:?}");
        assert_eq!(bytes.next(), Some(plain(KeyCode::Char('q'))), "{begun:?}: and what was begun is forgotten");
    }
}

proptest! {
    /// The bytes are those that begin, go on with and end sequences more often than others.
    #[test]
    fn nothing_that_was_sent_makes_the_keyboard_deaf(
        bytes in prop::collection::vec(prop_oneof![any::<u8>(), prop::sample::select(b"\x1b[O<]P;0127~MmR\x03\x1a\xc3".to_vec())], 0..60)
    ) {
        let mut all = Bytes::new();
        all.take(&bytes);
        all.pause();
        while all.next().is_some() {}
        prop_assert_eq!(all.patience(), None);
        all.take(b"q");
        prop_assert_eq!(all.next(), Some(plain(KeyCode::Char('q'))));
    }

    #[test]
    fn in_how_many_pieces_bytes_come_changes_nothing(
        bytes in prop::collection::vec(prop_oneof![any::<u8>(), prop::sample::select(b"\x1b[O<]P;0127~MmR\x03\x1a\xc3".to_vec())], 0..60),
        cut in 0_usize..60,
    ) {
        let (first, second) = bytes.split_at(cut.min(bytes.len()));
        let mut pieces = Bytes::new();
        pieces.take(first);
        pieces.take(second);
        pieces.pause();
        let pieces: Vec<Event> = std::iter::from_fn(|| pieces.next()).collect();
        prop_assert_eq!(pieces, heard(&bytes));
    }
}
