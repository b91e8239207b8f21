//! The arithmetic that a text shows: every `a + b = c` in it is worked again.

/// A part of a sum: a number, an angle (`7°30′`, `96′`, in degrees), or a sign.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Part {
    Number(f64),
    Sign(char),
}

/// The chains of a text that have an equals sign, each with its sides worked out. A side without numbers ("half a turn =
/// 180") stands for words and is left out.
pub fn chains(text: &str) -> Vec<Vec<f64>> {
    let part_of_sum = |c: char| c.is_ascii_digit() || " .+−×/()=°′".contains(c);
    let mut runs: Vec<String> = vec![String::new()];
    // A letter of east or west stands behind an angle and changes no size; any other letter ends a sum.
    let chars: Vec<char> = text.chars().collect();
    for (at, c) in chars.iter().enumerate() {
        let alone = |at: usize| chars.get(at).is_none_or(|c| !c.is_alphanumeric());
        let letter = "EWTGM".contains(*c) && at > 0 && alone(at - 1) && alone(at + 1);
        let full_stop = *c == '.' && !chars.get(at + 1).is_some_and(char::is_ascii_digit);
        match runs.last_mut() {
            Some(run) if part_of_sum(*c) && !full_stop => run.push(*c),
            _ if letter => {}
            _ => runs.push(String::new()),
        }
    }
    let chain = |run: &String| -> Vec<f64> {
        let sides = run.split('=').filter(|side| side.contains(|c: char| c.is_ascii_digit()));
        sides.map(|side| work(side).unwrap_or_else(|| panic!("{side:?} is no sum, in: {text}"))).collect()
    };
    runs.iter().filter(|run| run.contains('=')).map(chain).collect()
}

fn parts(text: &str) -> Option<Vec<Part>> {
    let mut parts = Vec::new();
    let mut rest = text.trim();
    while let Some(first) = rest.chars().next() {
        if !first.is_ascii_digit() {
            parts.push(Part::Sign(first));
            rest = rest[first.len_utf8()..].trim_start();
            continue;
        }
        let (mut value, mut any) = (0.0, false);
        while rest.starts_with(|c: char| c.is_ascii_digit()) {
            let length = rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(rest.len());
            let number: f64 = rest[..length].parse().ok()?;
            rest = &rest[length..];
            if let Some(after) = rest.strip_prefix('°') {
                value += number;
                rest = after;
            } else if let Some(after) = rest.strip_prefix('′') {
                value += number / 60.0;
                rest = after;
            } else if any {
                return None;
            } else {
                value = number;
            }
            any = true;
        }
        parts.push(Part::Number(value));
        rest = rest.trim_start();
    }
    Some(parts)
}

/// Works out one side; nothing if it is not arithmetic.
fn work(side: &str) -> Option<f64> {
    let parts = parts(side)?;
    let mut at = 0;
    let value = sum(&parts, &mut at)?;
    (at == parts.len()).then_some(value)
}

fn sum(parts: &[Part], at: &mut usize) -> Option<f64> {
    let mut value = product(parts, at)?;
    loop {
        match parts.get(*at) {
            Some(Part::Sign('+')) => {
                *at += 1;
                value += product(parts, at)?;
            }
            Some(Part::Sign('−')) => {
                *at += 1;
                value -= product(parts, at)?;
            }
            _ => return Some(value),
        }
    }
}

fn product(parts: &[Part], at: &mut usize) -> Option<f64> {
    let mut value = factor(parts, at)?;
    loop {
        match parts.get(*at) {
            Some(Part::Sign('×')) => {
                *at += 1;
                value *= factor(parts, at)?;
            }
            Some(Part::Sign('/')) => {
                *at += 1;
                value /= factor(parts, at)?;
            }
            _ => return Some(value),
        }
    }
}

fn factor(parts: &[Part], at: &mut usize) -> Option<f64> {
    *at += 1;
    match parts.get(*at - 1)? {
        Part::Number(number) => Some(*number),
        Part::Sign('−') => factor(parts, at).map(|value| -value),
        Part::Sign('(') => {
            let value = sum(parts, at)?;
            *at += 1;
            (parts.get(*at - 1) == Some(&Part::Sign(')'))).then_some(value)
        }
        Part::Sign(_) => None,
    }
}

#[test]
fn sums_are_worked_as_they_are_written() {
    let only = |text: &str| chains(text).concat();
    assert_eq!(only("From 260: 260 + 1 × 10 = 270"), [270.0, 270.0]);
    assert_eq!(only("halfway: (270 + 360) / 2 = 315"), [315.0, 315.0]);
    assert_eq!(only("001 − 13.5 = −12.5, unchanged"), [-12.5, -12.5]);
    assert_eq!(only("14 × 15′ = 210′ = 3°30′ W"), [3.5, 3.5, 3.5]);
    assert_eq!(only("a quarter turn = 90"), [90.0]);
    assert_eq!(only("13 − 9 = 5"), [4.0, 5.0]);
    assert!(chains("Sketch it. 3° W").is_empty());
}
