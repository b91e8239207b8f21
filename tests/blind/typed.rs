//! Strategies for what is typed, chosen, or set by turning a dial.
#![expect(clippy::cast_precision_loss, reason = "what a test counts and draws is small")]

use super::Played;
use needlewise::angle::Angle;
use needlewise::problem::{Answer, FactValue, Field, FieldKind, Figure, Problem, Question, Value};
use std::collections::BTreeMap;

/// How many numbers of a text a strategy looks at.
const NUMBERS: usize = 8;

/// A way of filling one field, or degrees and minutes together: its name, and what it gives in one problem.
type Filled = (String, Option<Vec<Value>>);

/// The numbers of a text in degrees, in reading order: `17° W` is 17, `6°30′` is 6.5, `12′` is 0.2; years and distances as they are.
pub fn numbers(text: &str) -> Vec<f64> {
    let letters: Vec<char> = text.chars().collect();
    let digit = |at: usize| letters.get(at).is_some_and(char::is_ascii_digit);
    let (mut found, mut at) = (Vec::new(), 0);
    let read = |from: usize| {
        let mut end = from;
        while digit(end) || letters.get(end) == Some(&'.') && digit(end + 1) {
            end += 1;
        }
        (letters[from..end].iter().collect::<String>().parse::<f64>().unwrap_or(0.0), end)
    };
    while at < letters.len() {
        if !digit(at) {
            at += 1;
            continue;
        }
        let (mut number, mut end) = read(at);
        if letters.get(end) == Some(&'′') {
            number /= 60.0;
        } else if letters.get(end) == Some(&'°') && digit(end + 1) {
            let (minutes, after) = read(end + 1);
            if letters.get(after) == Some(&'′') {
                number += minutes / 60.0;
                end = after;
            }
        }
        found.push(number);
        at = end;
    }
    found
}

/// The letters E and W behind angles, in reading order; west is true.
fn letters(text: &str) -> Vec<bool> {
    let parts: Vec<&str> = text.split_whitespace().collect();
    let behind_angle = parts.windows(2).filter(|pair| pair[0].ends_with(['°', '′']));
    behind_angle
        .filter_map(|pair| match pair[1].trim_end_matches([',', '.', '?', ':']) {
            "W" => Some(true),
            "E" => Some(false),
            _ => None,
        })
        .collect()
}

/// What somebody has before their eyes: the numbers of the text, those of the figure, and the change since a map was printed.
fn seen(problem: &Problem) -> Vec<(String, f64)> {
    let mut seen: Vec<(String, f64)> = numbers(problem.prompt())
        .into_iter()
        .take(NUMBERS)
        .enumerate()
        .map(|(at, it)| (format!("#{at}"), it))
        .collect();
    let fact = |name: &str| problem.facts().iter().find(|fact| fact.name.id() == name).map(|fact| fact.value.clone());
    let number = |name: &str| match fact(name) {
        Some(FactValue::Number(number)) => Some(number),
        _ => None,
    };
    if let (Some(change), Some(from), Some(to)) =
        (number("annual_change_arcmin"), number("printed_year"), number("this_year"))
    {
        seen.push(("change".to_owned(), (change * (to - from)).abs() / 60.0));
    }
    // A bare sum of what the text says, made already, would be the work itself: only a figure that says more has more to copy.
    let says_more = match problem.figure() {
        Figure::None | Figure::Ends(_) | Figure::Drift(_) => false,
        Figure::Plan(plan) => plan.says_more,
        _ => true,
    };
    if says_more {
        let angle = |name: &str| match fact(name) {
            Some(FactValue::Angle(angle)) => Some(angle.abs().degrees()),
            _ => None,
        };
        for fact in problem.facts().iter() {
            let shown = angle(fact.name.id()).filter(|angle| seen.iter().all(|(_, told)| told != angle));
            seen.extend(shown.map(|angle| (fact.name.id().to_owned(), angle)));
        }
        // What the numbers and ticks of a dial suggest.
        if let (Some(every), Some(spaces)) = (angle("number_every_deg"), number("spaces_between_numbers")) {
            seen.push(("half a space".to_owned(), every / 2.0));
            seen.push(("a tick".to_owned(), every / spaces));
            seen.push(("half a tick".to_owned(), every / spaces / 2.0));
            seen.push(("a tick and a half".to_owned(), every / spaces * 1.5));
        }
    }
    seen
}

/// Every number that one or two seen numbers give, or the first three numbers of the text.
fn sums(seen: &[(String, f64)], circle: f64) -> Vec<(String, f64)> {
    let mut all: Vec<(String, f64)> = Vec::new();
    let mut tell = |name: String, number: f64| {
        all.push((format!("{name}, wrapped"), number.rem_euclid(circle)));
        all.push((name, number));
    };
    for (at, (name, one)) in seen.iter().enumerate() {
        tell(name.clone(), *one);
        tell(format!("circle − {name}"), circle - one);
        tell(format!("{name} + half"), one + circle / 2.0);
        tell(format!("{name} − half"), one - circle / 2.0);
        for (other_name, other) in &seen[at + 1..] {
            tell(format!("{name} + {other_name}"), one + other);
            tell(format!("{name} − {other_name}"), one - other);
            tell(format!("{other_name} − {name}"), other - one);
            tell(format!("difference of {name} and {other_name}"), (one - other).abs());
            tell(format!("circle − difference of {name} and {other_name}"), circle - (one - other).abs());
        }
    }
    if let [(_, first), (_, second), (third_name, third), ..] = seen
        && third_name == "#2"
    {
        for (one, other) in [(1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0)] {
            tell(format!("#0 {one:+} #1 {other:+} #2"), first + one * second + other * third);
        }
    }
    all
}

fn stands_in(text: &str, word: &str) -> bool {
    text.split(|c: char| !c.is_alphanumeric()).any(|part| part == word) || word.contains(' ') && text.contains(word)
}

/// Strategies for one of several words.
fn chosen(field: &Field, problem: &Problem) -> Vec<Filled> {
    let Some(choices) = field.choices() else { return Vec::new() };
    let words: Vec<&str> = choices.iter().collect();
    let text = problem.prompt();
    let pick = |at: Option<usize>| at.map(|at| vec![Value::Choice(at)]);
    let mut all: Vec<Filled> = (0..words.len()).map(|at| (format!("choice {}", at + 1), pick(Some(at)))).collect();
    let by_length = |longest: bool| {
        let place = (0..words.len()).max_by_key(|at| if longest { words[*at].len() } else { 99 - words[*at].len() });
        pick(place)
    };
    all.push(("the longest".to_owned(), by_length(true)));
    all.push(("the shortest".to_owned(), by_length(false)));
    all.push(("the word in the text".to_owned(), pick(words.iter().position(|word| stands_in(text, word)))));
    all.push(("the word not in the text".to_owned(), pick(words.iter().position(|word| !stands_in(text, word)))));
    // One side for east and the other for west.
    if words.len() == 2 {
        for (at, west) in letters(text).into_iter().take(3).enumerate() {
            all.push((format!("by letter {at}"), pick(Some(usize::from(west)))));
            all.push((format!("against letter {at}"), pick(Some(usize::from(!west)))));
        }
    }
    // Of offered numbers the middle one, the largest, the smallest, and the one that is furthest from the others.
    let mut offered: Vec<(f64, usize)> = ["option_a_deg", "option_b_deg", "option_c_deg"]
        .iter()
        .enumerate()
        .filter_map(|(at, name)| {
            let fact = problem.facts().iter().find(|fact| fact.name.id() == *name)?;
            if let FactValue::Angle(angle) = fact.value { Some((angle.degrees(), at)) } else { None }
        })
        .collect();
    if offered.len() == 3 {
        offered.sort_by(|one, other| one.0.total_cmp(&other.0));
        for (name, at) in ["the smallest number", "the middle number", "the largest number"].into_iter().zip(offered) {
            all.push((name.to_owned(), pick(Some(at.1))));
        }
    }
    all
}

/// Strategies for an angle with its letter.
fn lettered(problem: &Problem, numbers: &[(String, f64)]) -> Vec<Filled> {
    let mut signs: Vec<(String, bool)> = vec![("E".to_owned(), false), ("W".to_owned(), true)];
    for (at, west) in letters(problem.prompt()).into_iter().take(2).enumerate() {
        signs.push((format!("letter {at}"), west));
        signs.push((format!("other letter than {at}"), !west));
    }
    let both = |(name, size): &(String, f64)| {
        let (name, size) = (name.clone(), *size);
        signs.clone().into_iter().map(move |(letter, west)| {
            let angle = if west { -size } else { size };
            (format!("{name}, {letter}"), Some(vec![Value::degrees(angle)]))
        })
    };
    numbers.iter().filter(|(name, size)| *size >= 0.0 && !name.ends_with("wrapped")).flat_map(both).collect()
}

/// Degrees and minutes as two values.
fn in_minutes(degrees: f64) -> Vec<Value> {
    let minutes = (degrees.abs() * 60.0).round();
    vec![Value::degrees((minutes / 60.0).floor()), Value::Number(minutes % 60.0)]
}

fn single(field: &Field, problem: &Problem, seen: &[(String, f64)]) -> Vec<Filled> {
    if field.choices().is_some() {
        return chosen(field, problem);
    }
    let numbers = sums(seen, field.circle().unwrap_or(360.0));
    match field.kind {
        FieldKind::EastWest => lettered(problem, &numbers),
        FieldKind::Bearing(_) | FieldKind::Dial | FieldKind::Turn | FieldKind::Degrees => {
            numbers.into_iter().map(|(name, number)| (name, Some(vec![Value::degrees(number)]))).collect()
        }
        _ => numbers.into_iter().map(|(name, number)| (name, Some(vec![Value::Number(number)]))).collect(),
    }
}

/// A dial is turned, and what then stands there counts: by a number that is seen, one way or the other, or half round.
fn turned(start: Angle, seen: &[(String, f64)]) -> Vec<Filled> {
    let to = |name: String, number: f64| (name, Some(vec![Value::degrees(number.rem_euclid(360.0))]));
    let start = start.degrees();
    let mut all = vec![to("left as it stands".to_owned(), start), to("half round".to_owned(), start + 180.0)];
    for (name, number) in seen {
        all.push(to(format!("turned clockwise by {name}"), start - number));
        all.push(to(format!("turned counterclockwise by {name}"), start + number));
    }
    all
}

/// The units of a question: each field, but degrees with their minutes as one. Place of the first field and how many.
fn units(question: &Question) -> Vec<(usize, usize)> {
    let fields = question.fields();
    let minutes = |at: usize| fields.get(at).is_some_and(|field| field.kind == FieldKind::Minutes);
    let whole = |at: usize| fields[at].kind == FieldKind::Degrees && minutes(at + 1);
    let start = |at: &usize| !(minutes(*at) && *at > 0 && whole(*at - 1));
    (0..fields.len()).filter(start).map(|at| (at, if whole(at) { 2 } else { 1 })).collect()
}

/// Every strategy through the inputs that a screen allows.
pub fn play(problems: &[&Problem]) -> Vec<Played> {
    played(problems, |problem, (at, count)| {
        let seen = seen(problem);
        match problem.question() {
            Question::SetDial { start, .. } => turned(*start, &seen),
            question => filled(question, problem, (at, count), &seen),
        }
    })
}

/// The same, but with numbers typed where a dial is to be turned: only to show that the strategies are sharp.
pub fn typing(problems: &[&Problem]) -> Vec<Played> {
    played(problems, |problem, unit| filled(problem.question(), problem, unit, &seen(problem)))
}

fn filled(question: &Question, problem: &Problem, (at, count): (usize, usize), seen: &[(String, f64)]) -> Vec<Filled> {
    if count == 2 {
        let numbers = sums(seen, 360.0);
        return numbers.into_iter().map(|(name, number)| (name, Some(in_minutes(number)))).collect();
    }
    single(&question.fields()[at], problem, seen)
}

fn played(problems: &[&Problem], fill: impl Fn(&Problem, (usize, usize)) -> Vec<Filled>) -> Vec<Played> {
    let units = units(problems[0].question());
    // For each unit: by strategy, in which of the problems it is right.
    let mut right: Vec<BTreeMap<String, Vec<bool>>> = vec![BTreeMap::new(); units.len()];
    let mut answers: BTreeMap<String, usize> = BTreeMap::new();
    for (place, problem) in problems.iter().enumerate() {
        let (question, wanted) = (problem.question(), problem.answer());
        *answers.entry(question.words(wanted)).or_default() += 1;
        for (unit, right) in units.iter().zip(&mut right) {
            for (name, values) in fill(problem, *unit) {
                let Some(values) = values else { continue };
                let mut all = wanted.values().to_vec();
                all[unit.0..unit.0 + unit.1].copy_from_slice(&values);
                let given: Answer = all.into_iter().collect();
                let is_right = right.entry(name).or_insert_with(|| vec![false; problems.len()]);
                is_right[place] = question.same(&given, wanted);
            }
        }
    }
    let chance: f64 = problems[0]
        .question()
        .fields()
        .iter()
        .map(|field| field.choices().map_or(0.0, |it| 1.0 / it.len() as f64))
        .product();
    let of = problems.len();
    let mut all: Vec<Played> = answers
        .into_iter()
        .map(|(answer, right)| Played { strategy: format!("always {answer}"), right, of, chance })
        .collect();
    let mut together: Vec<(String, Vec<bool>)> = vec![(String::new(), vec![true; of])];
    for right in right {
        // What is seldom right in one field is seldom right in all.
        let often = right.into_iter().filter(|(_, right)| right.iter().filter(|it| **it).count() * 5 >= of);
        let often: Vec<(String, Vec<bool>)> = often.collect();
        together = together
            .iter()
            .flat_map(|(before, both)| {
                often.iter().map(move |(name, right)| {
                    let name = if before.is_empty() { name.clone() } else { format!("{before}; {name}") };
                    (name, both.iter().zip(right).map(|(one, other)| *one && *other).collect())
                })
            })
            .collect();
    }
    all.extend(together.into_iter().map(|(strategy, right)| {
        let right = right.into_iter().filter(|it| *it).count();
        Played { strategy, right, of, chance }
    }));
    all
}
