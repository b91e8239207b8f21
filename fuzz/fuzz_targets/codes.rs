//! Codes of problems, as somebody types them.
//!
//! Holds: nothing panics; what is read prints, reads back as the same code and prints the same; its problem is made whole, and its
//! right answer, typed as it is written down, is right.
#![no_main]

use libfuzzer_sys::fuzz_target;
use needlewise::problem::{Verdict, judge, realise};
use needlewise::skills::read_code;
use needlewise_fuzz::assert_showable;

fuzz_target!(|text: &str| {
    let code = match read_code(text) {
        Ok(code) => code,
        Err(error) => {
            assert!(!error.to_string().is_empty());
            return;
        }
    };
    let printed = code.to_string();
    assert_eq!(read_code(&printed), Ok(code), "{text:?} {printed}");
    assert_eq!(read_code(&printed.to_lowercase()), Ok(code), "{text:?} {printed}");
    let problem = match realise(&code) {
        Ok(problem) => problem,
        Err(error) => return assert_showable(&error.to_string()),
    };
    assert_eq!(problem.code(), &code);
    assert_showable(problem.prompt());
    assert_showable(&problem.hint());
    for line in problem.step_lines() {
        assert_showable(&line);
    }
    let fields = problem.question().fields().iter();
    let typed: Vec<String> = fields.zip(problem.answer().values()).map(|(field, value)| field.typed(*value)).collect();
    let judged = judge(&problem, &typed.iter().map(String::as_str).collect::<Vec<_>>());
    assert_eq!(judged.map(|it| it.verdict), Ok(Verdict::Right), "{printed}: {typed:?}");
});
