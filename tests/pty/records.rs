//! What is in the records, held against what a person typed and saw.

use super::camp::open;
use needlewise::store::{LearnerId, Store};
use std::path::Path;

/// An answer as it was typed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Given {
    /// The problem's code.
    pub code: String,
    /// The keys without Enter, for questions with one typed field.
    pub typed: String,
}

/// The answers of a learner in a skill, in the order they were given. None where nobody of this name is known.
pub fn recorded(store: &Store, learner: &str, skill: &str) -> Vec<Given> {
    let Some(learner) = store.learner_by_name(learner).expect("the records can be read") else { return Vec::new() };
    of(store, learner.id, skill)
}

fn of(store: &Store, learner: LearnerId, skill: &str) -> Vec<Given> {
    let mut attempts = store.attempts(learner, skill, u32::MAX).expect("the records can be read");
    attempts.reverse();
    let given = |text: &str| {
        let fields: Vec<String> = serde_json::from_str(text).expect("a list of texts");
        fields.join(" ")
    };
    attempts
        .iter()
        .map(|attempt| Given { code: attempt.what.code.clone(), typed: given(&attempt.what.given) })
        .collect()
}

/// Everything that was judged on the screen is in the records, and nothing that nobody typed.
pub fn hold_against(recorded: &[Given], shown: &[Given], answered: &[Given]) -> Result<(), String> {
    let mut left = recorded.to_vec();
    for given in shown {
        match left.iter().position(|known| known == given) {
            Some(at) => drop(left.remove(at)),
            None => return Err(format!("lost: {given:?} had a verdict and is not in the records")),
        }
    }
    if !(shown.len()..=answered.len()).contains(&recorded.len()) {
        return Err(format!("{} shown, {} recorded, {} answered", shown.len(), recorded.len(), answered.len()));
    }
    match recorded.iter().find(|known| !answered.contains(known)) {
        Some(known) => Err(format!("nobody gave {known:?}")),
        None => Ok(()),
    }
}

/// Opens the store at a path as the program would next, and verifies it: pages, references, summaries.
pub fn opened_whole(path: &Path) -> Result<Store, String> {
    let mut store = open(path);
    let verified = store.verify().map_err(|error| error.to_string())?;
    if verified.differences.is_empty() && verified.outdated == 0 { Ok(store) } else { Err(format!("{verified:?}")) }
}
