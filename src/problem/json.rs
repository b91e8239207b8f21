//! Problems and verdicts as JSON: one object per line, stable snake_case keys with the unit in the name, angles as numbers
//! in degrees, east and clockwise positive, no NaN.

use super::{Answer, Facts, Field, FieldKind, Judgement, LengthUnit, Problem, Question, Value};
use serde::Serialize;
use serde::ser::{SerializeMap, Serializer};

/// A problem as `needlewise problem --format json` prints it.
#[derive(Serialize)]
pub struct ProblemJson<'a> {
    code: String,
    generation: u16,
    skill: &'static str,
    level: u8,
    prompt: &'a str,
    facts: &'a Facts,
    question: QuestionJson,
    answer: AnswerJson<'a>,
    mixups: Vec<MixupJson<'a>>,
    steps: Vec<String>,
}

#[derive(Serialize)]
struct QuestionJson {
    kind: &'static str,
    fields: Vec<FieldJson>,
}

#[derive(Serialize)]
struct FieldJson {
    name: &'static str,
    unit: &'static str,
    north: Option<&'static str>,
    tolerance: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    choices: Option<Vec<String>>,
}

#[derive(Serialize)]
struct MixupJson<'a> {
    id: &'static str,
    class: &'static str,
    answer: AnswerJson<'a>,
}

/// A verdict as `needlewise judge --format json` prints it.
#[derive(Serialize)]
pub struct VerdictJson {
    code: String,
    verdict: &'static str,
    mixup: Option<&'static str>,
    off_by: Option<OffBy>,
    steps: Vec<String>,
}

struct OffBy(Vec<(&'static str, Option<f64>)>);

impl Serialize for OffBy {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.0.len()))?;
        for (name, off) in &self.0 {
            // Taking the difference the short way round leaves dust far behind the point.
            map.serialize_entry(name, &off.map(|off| (off * 1e9).round() / 1e9))?;
        }
        map.end()
    }
}

/// An answer as an object: field name → number or string; `judge` accepts each verbatim.
pub struct AnswerJson<'a> {
    fields: &'a [Field],
    answer: &'a Answer,
}

impl Serialize for AnswerJson<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.fields.len()))?;
        for (field, value) in self.fields.iter().zip(self.answer.values()) {
            match value {
                // A signed declination never leaves the program without its letter where a person will type it.
                Value::Angle(angle) if field.kind != FieldKind::EastWest => {
                    map.serialize_entry(field.name, &angle.degrees())?;
                }
                // A bare number is read in the field's unit, and lengths are kept in metres.
                Value::Number(number) if !matches!(field.kind, FieldKind::Distance(LengthUnit::Kilometres)) => {
                    map.serialize_entry(field.name, number)?;
                }
                value => map.serialize_entry(field.name, &field.typed(*value))?,
            }
        }
        map.end()
    }
}

impl Field {
    /// A value as somebody types it into this field, exactly: `65`, `13.5W`, `clockwise`, `NB 347582`.
    #[must_use]
    pub fn typed(&self, value: Value) -> String {
        match value {
            Value::Angle(angle) if self.kind == FieldKind::EastWest => {
                let letter = if angle.degrees() < 0.0 { 'W' } else { 'E' };
                format!("{}{letter}", angle.abs().degrees())
            }
            Value::Angle(angle) => format!("{}", angle.degrees()),
            Value::Number(number) => match self.kind {
                // A bare number is taken in the field's unit.
                FieldKind::Distance(_) => format!("{number} m"),
                _ => format!("{number}"),
            },
            Value::Choice(at) => self.choices().and_then(|words| words.get(at)).unwrap_or_default().to_owned(),
            Value::Grid(reference) => reference.to_string(),
            Value::Point(point) => format!("{} {}", point.east_m, point.north_m),
            Value::Blank => String::new(),
        }
    }
}

impl Question {
    /// An answer to this question as JSON.
    #[must_use]
    pub fn answer_json<'a>(&'a self, answer: &'a Answer) -> AnswerJson<'a> {
        AnswerJson { fields: self.fields(), answer }
    }

    /// With the tolerances beside the right answer.
    fn json(&self, right: &Answer) -> QuestionJson {
        let field = |(field, right): (&Field, &Value)| FieldJson {
            name: field.name,
            unit: field.unit(),
            north: field.north().map(|north| north.word()),
            tolerance: field.tolerance.beside(*right),
            choices: field.choices().map(|words| words.iter().map(str::to_owned).collect()),
        };
        QuestionJson { kind: self.kind(), fields: self.fields().iter().zip(right.values()).map(field).collect() }
    }
}

impl Problem {
    /// The problem as JSON.
    #[must_use]
    pub fn json(&self) -> ProblemJson<'_> {
        ProblemJson {
            code: self.code().to_string(),
            generation: self.skill().generation,
            skill: self.skill().id,
            level: self.code().level.number(),
            prompt: self.prompt(),
            facts: self.facts(),
            question: self.question().json(self.answer()),
            answer: self.question().answer_json(self.answer()),
            mixups: self
                .mixups()
                .iter()
                .map(|mixup| MixupJson {
                    id: mixup.meta.id.as_str(),
                    class: mixup.meta.class.id(),
                    answer: self.question().answer_json(&mixup.answer),
                })
                .collect(),
            steps: self.step_lines(),
        }
    }

    /// A verdict on this problem as JSON.
    #[must_use]
    pub fn verdict_json(&self, judgement: &Judgement) -> VerdictJson {
        let names = self.question().fields().iter().map(|field| field.name);
        let offs: Vec<_> = names.zip(judgement.off_by.iter().copied()).collect();
        VerdictJson {
            code: self.code().to_string(),
            verdict: judgement.verdict.id(),
            mixup: judgement.verdict.mixup().map(|mixup| mixup.id.as_str()),
            off_by: offs.iter().any(|(_, off)| off.is_some()).then_some(OffBy(offs)),
            steps: self.step_lines(),
        }
    }
}
