//! What a problem tells at the border: its facts by their names in JSON, with nothing of the program's own types. A second
//! solver reads these alone.

use needlewise::problem::Level;
use needlewise::problem::Problem;
use needlewise::skills::SKILLS;
use serde_json::{Map, Value};
use std::ops::Range;

/// The seeds to be solved at each level: so many in a usual run. With `NEEDLEWISE_SOLVE` set, a run over other problems, at least so
/// many of all skills and levels together.
pub fn seeds(usual: u64) -> Range<u64> {
    const OTHERS: u64 = 1_000_000;
    match std::env::var("NEEDLEWISE_SOLVE").ok().map(|total| total.parse::<u64>().expect("a number of problems")) {
        None => 0..usual,
        Some(total) => {
            let levels = (SKILLS.len() * Level::ALL.len()) as u64;
            OTHERS..OTHERS + usual.max(total.div_ceil(levels))
        }
    }
}

/// The facts of one problem, looked up by name.
pub struct Facts {
    pub all: Map<String, Value>,
    pub code: String,
}

impl Facts {
    pub fn of(problem: &Problem) -> Facts {
        let code = problem.code().to_string();
        let Ok(Value::Object(all)) = serde_json::to_value(problem.facts()) else { panic!("{code}: no object") };
        assert_eq!(all.len(), problem.facts().iter().count(), "{code}: a name stands there twice");
        Facts { all, code }
    }

    pub fn maybe(&self, name: &str) -> Option<f64> {
        let value = self.all.get(name)?;
        Some(value.as_f64().unwrap_or_else(|| panic!("{}: {name} is {value}", self.code)))
    }

    pub fn number(&self, name: &str) -> f64 {
        self.maybe(name).unwrap_or_else(|| panic!("{}: no fact {name} among {:?}", self.code, self.all))
    }

    pub fn word(&self, name: &str) -> &str {
        let word = self.all.get(name).and_then(Value::as_str);
        word.unwrap_or_else(|| panic!("{}: no word {name} among {:?}", self.code, self.all))
    }
}
