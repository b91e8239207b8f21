//! Words that every front end uses alike.

use super::GroundCard;
use crate::learner::WeakSpot;
use crate::store::Learner;
use jiff::ToSpan;
use jiff::civil::Date;

/// The caution at the start.
pub const SAFETY: &str = "For practice only, not for finding your way. Outdoors the map in your hand, local rules and your leader come first.";

/// What no result of this program is.
pub const NO_PERMISSION: &str = "No permission to go out of sight: a qualified leader and local rules decide.";

/// What *ready* leaves open.
pub const GROUND_TOO: &str =
    "Ready means ready at the laptop. Ready for a day is only who was seen to do it on the ground.";

/// Beside a result that rests on a day which was typed.
pub const DAY_GIVEN_RESULT: &str = "A day was given by hand (--date), not by the clock; reports mark it.";

/// What stands below a hint.
pub const AFTER_HINT: &str = "An answer after a hint is recorded, but not counted for or against you.";

/// What stands above a problem that is asked again after its answer was taken back.
pub const AFTER_TAKING_BACK: &str =
    "You have seen the answer: the one you give now is recorded, but not counted for or against you.";

/// What `undo` does, where commands are listed.
pub const UNDO_COMMAND: &str =
    "undo: takes your last wrong answer back if it was a slip of the keyboard, once in each skill.";

/// How many answers were taken back, as a sentence: `Taken back: once.`
#[must_use]
pub fn taken_back_words(count: u32) -> String {
    match count {
        1 => "Taken back: once.".to_owned(),
        2 => "Taken back: twice.".to_owned(),
        times => format!("Taken back: {times} times."),
    }
}

/// What `hint` does, where commands are listed.
pub const HINT_COMMAND: &str = "hint: a nudge; the answer after it is not counted.";

/// Said where a check goes on and its standard, or what it goes by, says something else by now.
pub const STANDARD_CHANGED: &str =
    "The standard, or the lines of your maps, were changed since. This check goes on under the rules it began with.";

/// Said where a day in the record lies after today.
#[must_use]
pub fn clock_went_back(later: Date, today: Date) -> String {
    format!("The clock went back: answers of {later} are in the record, and today is {today}. The recorded day counts.")
}

/// For how long nobody may have sat down here before a clock is asked about, in days: a whole summer and more.
const FAR_DAYS: i64 = 200;

/// Asked before a check is begun on a day that lies far after all the others of the records: a clock that is wrong would bind the
/// check to a day that is years off. None where the day is near enough.
#[must_use]
pub fn clock_far_ahead(latest: Option<Date>, today: Date) -> Option<String> {
    let latest = latest?;
    let far = latest.checked_add(FAR_DAYS.days()).is_ok_and(|near| today > near);
    far.then(|| {
        format!(
            "Is today really {today}? Everything else here is of {latest} or before. If this laptop's clock is wrong, set it first: a check counts from its day."
        )
    })
}

/// Home ground in a few words.
#[must_use]
pub fn ground_words(ground: &GroundCard) -> String {
    format!("{}, declination {}", ground.home.name, ground.declination)
}

/// Where problems are set, as a sentence.
#[must_use]
pub fn ground_sentence(ground: &GroundCard) -> String {
    if ground.home.angles.is_some() {
        format!("Problems are set on {}.", ground_words(ground))
    } else {
        format!("{} gives no declination for today, so problems take theirs from anywhere.", ground.home.name)
    }
}

/// Said wherever the invented island stands in for home ground, with what can be done about it there.
#[must_use]
pub fn invented_words(remedy: &str) -> String {
    format!("This ground is invented. {remedy}")
}

/// The same for a learner: how the leader sets the real one.
#[must_use]
pub fn invented_for_learner(how: &str) -> String {
    invented_words(&format!("Your leader can set the real one later: {how}."))
}

/// A day in words, seen from today: `today`, `tomorrow`, `in 5 days (2026-12-01)`.
#[must_use]
pub fn day_words(day: Date, today: Date) -> String {
    let words = days_words(day, today);
    if words.starts_with("in") { format!("{words} ({day})") } else { words }
}

/// The same without the date.
#[must_use]
pub fn days_words(day: Date, today: Date) -> String {
    match today.duration_until(day).as_hours() / 24 {
        ..=0 => "today".to_owned(),
        1 => "tomorrow".to_owned(),
        days => format!("in {days} days"),
    }
}

/// The end of a weak spot, as a sentence.
#[must_use]
pub fn ended_words(spot: &WeakSpot) -> String {
    let where_to = if spot.places.len() > 1 { " in several skills" } else { ", since it has not come back" };
    format!("No longer a weak spot{where_to}: you {}.", spot.said())
}

/// Why a name cannot be taken by somebody new: this one has it and is put aside, and two records of one person help nobody.
#[must_use]
pub fn name_put_aside(known: &Learner) -> String {
    format!(
        "{0} was put aside, with all records: needlewise patrol archive \"{0}\" --back takes them back. For somebody else, add a letter of the last name.",
        known.name
    )
}

/// What is said where a check is open in two windows.
pub const ANSWERED_ELSEWHERE: &str = "This check is open in another window, too, and this problem was answered there before: that answer counts. Close one of the two.";
