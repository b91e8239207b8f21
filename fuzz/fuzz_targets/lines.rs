//! Practice, a round, turns and a check as lines of text.
//!
//! The first bytes choose which, the skill, the level and the seed; the rest is what is typed.
//!
//! Holds: nothing panics; nothing is written but text and line ends; every line is read or the learner is told the end; the records
//! are whole afterwards, and hold what was told.
#![no_main]

use libfuzzer_sys::fuzz_target;
use needlewise::drill::Standard;
use needlewise::plain::{self, CheckStart, Desk, Group, Start};
use needlewise::problem::Level;
use needlewise::session::{Days, Plan};
use needlewise::skills::SKILLS;
use needlewise_fuzz::records::{self, LEARNER, assert_whole, laid, open, place};
use needlewise_fuzz::{Bytes, TODAY, assert_showable, clock, ground, wind_clock};
use std::io::{BufReader, Cursor};

fuzz_target!(|input: &[u8]| {
    wind_clock();
    let mut bytes = Bytes(input);
    let (what, skill, level) = (bytes.below(8), bytes.below(2 * SKILLS.len()), bytes.below(5));
    let seed = u64::from(bytes.byte());
    let here = laid(records::ours());
    let path = place(&here);
    let (store, ground) = (open(&path), ground());
    let ilva = store.learner_by_name(LEARNER).expect("read").expect("she is there");
    let before = store.glance().expect("a glance").answers;
    let mut plan = Plan::free(ground.home.clone());
    if let Some(skill) = SKILLS.get(skill) {
        plan = plan.with_skills(&[skill.meta().id], Level::new(u8::try_from(level).unwrap_or(0)));
    }
    let names = [LEARNER.to_owned(), "Bo".to_owned(), "Somebody new".to_owned()];
    let days = Days::Given(TODAY);
    let mut out = Vec::new();
    // A small buffer, so that lines are pieced together.
    let mut typed = BufReader::with_capacity(17, Cursor::new(bytes.0));
    let desk = &mut Desk { input: &mut typed, out: &mut out, now: &mut clock };
    let done = match what {
        0..=3 => plain::practise(Start { store, learner: &names[what / 2 * 2], plan, ground, days, seed }, desk),
        4 => plain::round(Group { store, names: &names, plan, ground, days, seed }, desk),
        5 => plain::turns(Group { store, names: &names, plan, ground, days, seed }, desk),
        _ => {
            let standards = Standard::embedded();
            let standard = standards[usize::from(input[0]) % standards.len()].clone();
            plain::check(CheckStart { store, learner: &ilva, standard, ground, days, seed }, desk)
        }
    };
    done.expect("lines can be read and the store be written");
    let said = String::from_utf8(out).expect("text");
    assert_showable(&said);
    assert_whole(&path);
    let after = open(&path).glance().expect("a glance").answers;
    assert!(after >= before, "no answer goes");
});
