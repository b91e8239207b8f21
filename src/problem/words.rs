//! Answers in words, the way the trade writes them.

use super::{Answer, Field, FieldKind, LengthUnit, Question, Value};
use crate::angle::{Angle, North, declination_words, three_figures};
use std::fmt::Write;

impl Field {
    /// A value of this field in words: `065° M`, `13° W`, `20°`, `30′`, `clockwise`. Numbers off the circle stay as they
    /// are: `372° M`.
    #[must_use]
    pub fn words(&self, value: Value) -> String {
        match (&self.kind, value) {
            (_, Value::Blank) => String::new(),
            (FieldKind::Choice(choices), Value::Choice(at)) => choices.get(at).unwrap_or_default().to_owned(),
            (_, Value::Choice(at)) => format!("{}", at + 1),
            (_, Value::Grid(reference)) => reference.to_string(),
            (_, Value::Point(point)) => format!("{} m east, {} m north", plain(point.east_m), plain(point.north_m)),
            (FieldKind::Distance(unit), Value::Number(metres)) => length(metres, *unit),
            (FieldKind::MapLength, Value::Number(mm)) => format!("{} mm", plain(mm)),
            (FieldKind::Time, Value::Number(minutes)) => format!("{} min", plain(minutes)),
            (FieldKind::Bearing(north), Value::Angle(angle)) => format!("{}° {}", on_dial(angle), north.letter()),
            (FieldKind::Dial, Value::Angle(angle)) => on_dial(angle),
            (FieldKind::EastWest, Value::Angle(angle)) => declination_words(angle).to_string(),
            (FieldKind::Mils(north), Value::Number(number)) => mils(number, *north),
            (FieldKind::Minutes, Value::Number(number)) => format!("{}′", plain(number)),
            (_, Value::Angle(angle)) => format!("{}°", plain(angle.degrees())),
            (_, Value::Number(number)) => plain(number),
        }
    }
}

impl Question {
    /// A whole answer in words.
    #[must_use]
    pub fn words(&self, answer: &Answer) -> String {
        if let (Question::Table(fields), true) = (self, self.fields().len() > 1) {
            // How things end has no form of its own, so each part is named.
            let parts: Vec<String> = fields
                .iter()
                .zip(answer.values())
                .map(|(field, value)| format!("{}: {}", field.label, field.words(*value)))
                .collect();
            return parts.join("; ");
        }
        let mut out = String::new();
        let mut before: Option<&FieldKind> = None;
        for (field, value) in self.fields().iter().zip(answer.values()) {
            match (before, &field.kind, value) {
                // Minutes follow their degrees as on a map's margin: 7°05′.
                (Some(FieldKind::Degrees), FieldKind::Minutes, Value::Number(minutes)) if minutes.fract() == 0.0 => {
                    let _ = write!(out, "{minutes:02}′");
                }
                (None, _, _) => out.push_str(&field.words(*value)),
                (Some(_), _, _) => {
                    out.push(' ');
                    out.push_str(&field.words(*value));
                }
            }
            before = Some(&field.kind);
        }
        out
    }
}

/// Three figures with as many decimals as it has, up to two; off the circle it stays unwrapped.
fn on_dial(angle: Angle) -> String {
    if !(0.0..=360.0).contains(&angle.degrees()) {
        return plain(angle.degrees());
    }
    let hundredths = (angle.degrees() * 100.0).round();
    let decimals = if hundredths % 100.0 == 0.0 {
        0
    } else if hundredths % 10.0 == 0.0 {
        1
    } else {
        2
    };
    three_figures(angle, decimals).to_string()
}

/// Metres in the unit of a field: `340 m`, `1.2 km`.
fn length(metres: f64, unit: LengthUnit) -> String {
    format!("{} {}", plain(metres / unit.metres()), unit.symbol())
}

fn mils(number: f64, north: North) -> String {
    format!("{} mils {}", plain(number), north.letter())
}

/// With a capital at the front.
#[must_use]
pub fn capital(text: &str) -> String {
    with_first(text, |first| first.to_uppercase().collect())
}

/// With a small letter at the front.
#[must_use]
pub fn small(text: &str) -> String {
    with_first(text, |first| first.to_lowercase().collect())
}

fn with_first(text: &str, change: impl Fn(char) -> String) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| change(first) + letters.as_str())
}

/// At most two decimals, no trailing zeros, a real minus sign.
fn plain(number: f64) -> String {
    let rounded = (number * 100.0).round() / 100.0;
    format!("{}", rounded + 0.0).replace('-', "−")
}

#[cfg(test)]
mod tests {
    use super::super::{Choices, MapPoint, Tolerance};
    use super::*;

    fn field(kind: FieldKind) -> Field {
        Field { name: "x", label: "x", kind, tolerance: Tolerance::within(0.5) }
    }

    #[test]
    fn every_kind_of_value_is_written_as_the_trade_writes_it() {
        let cases = [
            (FieldKind::Bearing(North::Magnetic), Value::degrees(65.0), "065° M"),
            (FieldKind::Bearing(North::True), Value::degrees(6.5), "006.5° T"),
            (FieldKind::Bearing(North::Grid), Value::degrees(372.0), "372° G"),
            (FieldKind::Bearing(North::Grid), Value::degrees(-11.0), "−11° G"),
            (FieldKind::Dial, Value::degrees(348.75), "348.75"),
            (FieldKind::Turn, Value::degrees(20.0), "20°"),
            (FieldKind::EastWest, Value::degrees(-13.5), "13°30′ W"),
            (FieldKind::Degrees, Value::degrees(7.0), "7°"),
            (FieldKind::Minutes, Value::Number(30.0), "30′"),
            (FieldKind::Mils(North::Magnetic), Value::Number(1600.0), "1600 mils M"),
            (FieldKind::Choice(Choices::Fixed(&["clockwise"])), Value::Choice(0), "clockwise"),
            (FieldKind::Count, Value::Number(211.0), "211"),
            (FieldKind::Distance(LengthUnit::Metres), Value::Number(340.0), "340 m"),
            (FieldKind::Distance(LengthUnit::Kilometres), Value::Number(1200.0), "1.2 km"),
            (FieldKind::MapLength, Value::Number(13.6), "13.6 mm"),
            (FieldKind::Time, Value::Number(75.0), "75 min"),
            (
                FieldKind::MapPoint,
                Value::Point(MapPoint { east_m: 36_804.0, north_m: 57_600.0 }),
                "36804 m east, 57600 m north",
            ),
            (FieldKind::Dial, Value::Blank, ""),
        ];
        for (kind, value, words) in cases {
            assert_eq!(field(kind).words(value), words);
        }
    }
}
