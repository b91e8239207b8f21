//! Answers given as words of a command line: `065`, or `degrees=13 minutes=30 side=W`.

use super::Question;

/// The most letters of a typed name that a message repeats.
const LONGEST_REPEATED: usize = 40;

/// Why words do not say which field gets what.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NamedError {
    /// No field has this name.
    #[error("this question has no field {name}; write {pattern}")]
    Unknown {
        /// What was typed, shortened.
        name: String,
        /// How an answer is written: `degrees=… minutes=…`.
        pattern: String,
    },
    /// A field has no answer.
    #[error("the answer for {name} is missing; write {pattern}")]
    Missing {
        /// The field.
        name: &'static str,
        /// How an answer is written.
        pattern: String,
    },
    /// A field has two answers.
    #[error("{name} is answered twice; write {pattern}")]
    Twice {
        /// The field.
        name: &'static str,
        /// How an answer is written.
        pattern: String,
    },
    /// Words without a name, where there is more than one field.
    #[error("this question has several fields; write each with its name: {pattern}")]
    Unnamed {
        /// How an answer is written.
        pattern: String,
    },
}

impl Question {
    /// One text for each field, in the order of the fields, from words such as `065` or `degrees=13 minutes=30 side=W`. The
    /// name may be left out where there is only one field. A word without a name belongs to the one before (`not boxed`).
    ///
    /// # Errors
    /// [`NamedError`], saying how to write it.
    pub fn texts_from_words<S: AsRef<str>>(&self, words: &[S]) -> Result<Vec<String>, NamedError> {
        let fields = self.fields();
        let mut texts: Vec<Option<String>> = vec![None; fields.len()];
        let mut current = (fields.len() == 1).then_some(0);
        for word in words.iter().map(AsRef::as_ref) {
            let Some((name, value)) = word.split_once('=') else {
                let at = current.ok_or_else(|| NamedError::Unnamed { pattern: self.pattern() })?;
                match &mut texts[at] {
                    Some(text) => {
                        text.push(' ');
                        text.push_str(word);
                    }
                    slot => *slot = Some(word.to_owned()),
                }
                continue;
            };
            let named = |wanted: &str| fields.iter().position(|field| field.name.eq_ignore_ascii_case(wanted));
            let at = named(name.trim())
                .ok_or_else(|| NamedError::Unknown { name: shortened(name.trim()), pattern: self.pattern() })?;
            if texts[at].is_some() {
                return Err(NamedError::Twice { name: fields[at].name, pattern: self.pattern() });
            }
            texts[at] = Some(value.to_owned());
            current = Some(at);
        }
        fields
            .iter()
            .zip(texts)
            .map(|(field, text)| text.ok_or_else(|| NamedError::Missing { name: field.name, pattern: self.pattern() }))
            .collect()
    }

    /// How an answer to this question is written in one line: `reading=… needle=…`.
    #[must_use]
    pub fn pattern(&self) -> String {
        let parts: Vec<String> = self.fields().iter().map(|field| format!("{}=…", field.name)).collect();
        parts.join(" ")
    }
}

fn shortened(text: &str) -> String {
    let mut out: String = text.chars().take(LONGEST_REPEATED).collect();
    if text.chars().nth(LONGEST_REPEATED).is_some() {
        out.push('…');
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::{Choices, Field, FieldKind, Tolerance};

    static FIELDS: [Field; 2] = [
        Field { name: "reading", label: "number", kind: FieldKind::Dial, tolerance: Tolerance::within(1.0) },
        Field {
            name: "needle",
            label: "needle",
            kind: FieldKind::Choice(Choices::Fixed(&["boxed", "not boxed"])),
            tolerance: Tolerance::EXACT,
        },
    ];

    fn one(words: &[&str]) -> Result<Vec<String>, NamedError> {
        Question::typed(&FIELDS[..1]).texts_from_words(words)
    }

    fn both(words: &[&str]) -> Result<Vec<String>, NamedError> {
        Question::typed(&FIELDS).texts_from_words(words)
    }

    #[test]
    fn a_single_field_takes_its_answer_with_or_without_the_name() {
        assert_eq!(one(&["065"]), Ok(vec!["065".to_owned()]));
        assert_eq!(one(&["065", "M"]), Ok(vec!["065 M".to_owned()]));
        assert_eq!(one(&["Reading=065"]), Ok(vec!["065".to_owned()]));
        assert_eq!(one(&[""]), Ok(vec![String::new()]), "an empty answer is for the reader to refuse");
    }

    #[test]
    fn several_fields_come_in_any_order_and_their_words_may_stand_alone() {
        let wanted = Ok(vec!["065".to_owned(), "not boxed".to_owned()]);
        assert_eq!(both(&["reading=065", "needle=not boxed"]), wanted);
        assert_eq!(both(&["needle=not", "boxed", "reading=065"]), wanted);
    }

    #[test]
    fn what_is_wrong_with_the_names_is_said_with_the_names() {
        let pattern = "reading=… needle=…".to_owned();
        assert_eq!(both(&["reading=065"]), Err(NamedError::Missing { name: "needle", pattern: pattern.clone() }));
        assert_eq!(both(&["065", "boxed"]), Err(NamedError::Unnamed { pattern: pattern.clone() }));
        assert_eq!(
            both(&["reading=1", "reading=2"]),
            Err(NamedError::Twice { name: "reading", pattern: pattern.clone() })
        );
        let unknown = NamedError::Unknown { name: "height".to_owned(), pattern };
        assert_eq!(both(&["height=3"]), Err(unknown));
        assert!(matches!(one(&["065", "reading=066"]), Err(NamedError::Twice { .. })));
    }

    #[test]
    fn a_huge_name_is_not_repeated() {
        let error = one(&[&format!("{}=1", "x".repeat(1_000_000))]).unwrap_err();
        assert!(error.to_string().len() < 200);
    }
}
