//! Keys as a test writes them: `065<enter>`.

/// The bytes a terminal sends for each key. A name in angle brackets is one key; everything else is itself.
pub fn bytes(keys: &str) -> Vec<Vec<u8>> {
    let mut out = Vec::new();
    let mut rest = keys;
    while let Some(first) = rest.chars().next() {
        if let Some((name, after)) = rest.strip_prefix('<').and_then(|inner| inner.split_once('>')) {
            out.push(named(name).to_vec());
            rest = after;
        } else {
            out.push(first.to_string().into_bytes());
            rest = &rest[first.len_utf8()..];
        }
    }
    out
}

fn named(name: &str) -> &'static [u8] {
    match name {
        "enter" => b"\r",
        "esc" => b"\x1b",
        "tab" => b"\t",
        "backspace" => b"\x7f",
        "up" => b"\x1b[A",
        "down" => b"\x1b[B",
        "s-up" => b"\x1b[1;2A",
        "s-down" => b"\x1b[1;2B",
        "s-right" => b"\x1b[1;2C",
        "s-left" => b"\x1b[1;2D",
        "right" => b"\x1b[C",
        "left" => b"\x1b[D",
        "f2" => b"\x1bOQ",
        "c-c" => b"\x03",
        other => panic!("no key is called <{other}>"),
    }
}

#[test]
fn keys_are_written_one_by_one() {
    assert_eq!(bytes("06<enter>°"), [b"0".to_vec(), b"6".to_vec(), b"\r".to_vec(), "°".as_bytes().to_vec()]);
}
