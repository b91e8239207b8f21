//! Problems and verdicts as JSON: one object per line, stable snake_case keys with the unit in the name, angles as numbers
//! in degrees, east and clockwise positive, no NaN.

use super::{Answer, Fact, FactValue, Field, FieldKind, Judgement, Problem, Question, Value};
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
    facts: Facts<'a>,
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
    choices: Option<&'static [&'static str]>,
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

struct Facts<'a>(&'a [Fact]);

impl Serialize for Facts<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.0.len()))?;
        for fact in self.0 {
            match &fact.value {
                FactValue::Number(number) => map.serialize_entry(fact.name, number)?,
                FactValue::Word(word) => map.serialize_entry(fact.name, word)?,
            }
        }
        map.end()
    }
}

/// An answer as an object: field name → number or string; `judge` accepts each verbatim.
pub struct AnswerJson<'a> {
    fields: &'static [Field],
    answer: &'a Answer,
}

impl Serialize for AnswerJson<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.fields.len()))?;
        for (field, value) in self.fields.iter().zip(self.answer.values()) {
            match value {
                // A signed declination never leaves the program without its letter where a person will type it.
                Value::Angle(angle) if field.kind == FieldKind::EastWest => {
                    let letter = if angle.degrees() < 0.0 { 'W' } else { 'E' };
                    map.serialize_entry(field.name, &format!("{}{letter}", angle.abs().degrees()))?;
                }
                Value::Angle(angle) => map.serialize_entry(field.name, &angle.degrees())?,
                Value::Number(number) => map.serialize_entry(field.name, number)?,
                Value::Word(word) => map.serialize_entry(field.name, word)?,
            }
        }
        map.end()
    }
}

impl Question {
    /// An answer to this question as JSON.
    #[must_use]
    pub const fn answer_json<'a>(&self, answer: &'a Answer) -> AnswerJson<'a> {
        AnswerJson { fields: self.fields(), answer }
    }

    fn json(&self) -> QuestionJson {
        let field = |field: &Field| FieldJson {
            name: field.name,
            unit: field.unit(),
            north: field.north().map(|north| north.word()),
            tolerance: field.tolerance,
            choices: if let FieldKind::Choice(words) = field.kind { Some(words) } else { None },
        };
        QuestionJson { kind: self.kind(), fields: self.fields().iter().map(field).collect() }
    }
}

impl Problem {
    /// The problem as JSON.
    #[must_use]
    pub fn json(&self) -> ProblemJson<'_> {
        let outline = &self.outline;
        ProblemJson {
            code: self.code.to_string(),
            generation: self.code.skill.generation,
            skill: self.code.skill.id,
            level: self.code.level.number(),
            prompt: &self.prompt,
            facts: Facts(&self.facts),
            question: outline.question.json(),
            answer: outline.question.answer_json(&outline.answer),
            mixups: outline
                .mixups
                .iter()
                .map(|mixup| MixupJson {
                    id: mixup.id.as_str(),
                    class: self.code.skill.mixup(mixup.id.as_str()).map_or("", |meta| meta.class.id()),
                    answer: outline.question.answer_json(&mixup.answer),
                })
                .collect(),
            steps: self.step_lines(),
        }
    }

    /// The worked steps as lines.
    #[must_use]
    pub fn step_lines(&self) -> Vec<String> {
        self.steps.iter().map(super::Step::line).collect()
    }

    /// The facts alone, as a JSON object.
    ///
    /// # Errors
    /// Never in practice: facts are finite numbers and words.
    pub fn facts_json(&self) -> serde_json::Result<String> {
        serde_json::to_string(&Facts(&self.facts))
    }

    /// A verdict on this problem as JSON.
    #[must_use]
    pub fn verdict_json(&self, judgement: &Judgement) -> VerdictJson {
        let offs: Vec<_> =
            self.outline.question.fields().iter().map(|field| field.name).zip(judgement.off_by).collect();
        VerdictJson {
            code: self.code.to_string(),
            verdict: judgement.verdict.id(),
            mixup: judgement.verdict.mixup().map(super::MixupId::as_str),
            off_by: offs.iter().any(|(_, off)| off.is_some()).then_some(OffBy(offs)),
            steps: self.step_lines(),
        }
    }
}
