//! A laptop whose clock is years off: it is asked about before a check is bound to such a day.

use jiff::civil::{Date, date};
use jiff::tz::TimeZone;
use jiff::{Timestamp, ToSpan};
use needlewise::clerk::{self, Now};
use needlewise::config::Config;
use needlewise::drill::Standard;
use needlewise::learner::Placement;
use needlewise::plain::{CheckStart, Desk, check};
use needlewise::session::{Days, GroundCard};
use needlewise::skills;
use needlewise::store::{LearnerId, Store};
use std::path::Path;

fn open(folder: &Path) -> Store {
    let metas: Vec<_> = skills::metas().collect();
    Store::open(&folder.join("records.sqlite"), &metas).unwrap()
}

fn noon(day: Date) -> Timestamp {
    TimeZone::UTC.to_timestamp(day.at(12, 0, 0, 0)).unwrap()
}

fn by_the_clock(day: Date) -> Now {
    Now { days: Days::Clock(TimeZone::UTC), at: noon(day) }
}

/// Sits down on a day.
fn practise(folder: &Path, learner: LearnerId, day: Date) {
    clerk::open_practice(&mut open(folder), learner, by_the_clock(day), None, 1).unwrap();
}

/// A check as lines on a day by the clock, with what is typed; what is said.
fn checked(folder: &Path, day: Date, typed: &str) -> String {
    let store = open(folder);
    let learner = store.learner_by_name("Ida").unwrap().unwrap();
    let ground = GroundCard::new(&Config::default(), "config.toml", day);
    let (mut input, mut out) = (typed.as_bytes(), Vec::new());
    let mut desk = Desk { input: &mut input, out: &mut out, now: &mut || noon(day) };
    let standard = Standard::find("day-outing", None).unwrap();
    let days = Days::Clock(TimeZone::UTC);
    check(CheckStart { store, learner: &learner, standard, ground, days, seed: 7 }, &mut desk).unwrap();
    String::from_utf8(out).unwrap()
}

#[test]
fn a_day_far_after_all_others_is_asked_about_before_a_check_is_begun() {
    let folder = tempfile::tempdir().unwrap();
    let (first, later) = (date(2026, 11, 25), date(2031, 3, 4));
    let ida = open(folder.path()).add_learner("Ida", Placement::Fresh, noon(first)).unwrap().id;
    practise(folder.path(), ida, first);
    let checks = || open(folder.path()).checks(ida).unwrap().len();
    for typed in ["\n", "no\n", "", "end\n"] {
        let said = checked(folder.path(), later, typed);
        assert!(said.contains("Is today really 2031-03-04?") && said.contains("of 2026-11-25 or before"), "{said}");
        assert!(said.contains("Nothing was begun.") && checks() == 0, "{typed:?}: {said}");
    }
    // Practice on that very day does not make the clock right.
    practise(folder.path(), ida, later);
    assert!(checked(folder.path(), later, "no\n").contains("Nothing was begun."));
    let said = checked(folder.path(), later, "y\nend\n");
    assert!(said.contains("to ask today") && checks() == 1, "{said}");
}

#[test]
fn after_a_summer_or_with_a_day_given_by_hand_nothing_is_asked() {
    let folder = tempfile::tempdir().unwrap();
    let first = date(2026, 4, 1);
    let ida = open(folder.path()).add_learner("Ida", Placement::Fresh, noon(first)).unwrap().id;
    let question = |now: &Now| clerk::clock_question(&open(folder.path()), now).unwrap();
    assert_eq!(question(&by_the_clock(date(2031, 3, 4))), None, "nothing is here to go by");
    practise(folder.path(), ida, first);
    assert_eq!(question(&by_the_clock(first + 200.days())), None);
    assert!(question(&by_the_clock(first + 201.days())).is_some());
    assert_eq!(question(&by_the_clock(date(2020, 1, 1))), None, "a clock that went back is told elsewhere");
    let given = Now { days: Days::Given(date(2031, 3, 4)), at: noon(first) };
    assert_eq!(question(&given), None);
}
