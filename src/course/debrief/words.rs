//! A debrief in words: what it is, how sure, and why.

use super::{Cause, Debrief, LegDebrief, NAMED, Slip, Taken};
use crate::angle::{Angle, CountReason, EastWest, North, declination_words, degrees_minutes};
use crate::numbers::whole;

/// From this share on it is called sure.
const SURE: f64 = 0.99;

/// An explanation that misses by this much is not worth a word.
const FAR: Angle = Angle::from_tenths(600);

/// The debrief in sentences: the legs with a slip of their own, the cause and how sure it is, why, the scatter, what to do.
#[must_use]
pub fn words(debrief: &Debrief) -> Vec<String> {
    if let Some(praise) = all_right(debrief) {
        return vec![praise];
    }
    let mut lines = slips(debrief);
    lines.extend(stands_out(debrief));
    lines.extend([finding(debrief), why(debrief)]);
    // Beside legs that are right there is no scatter to better.
    if others_are_right(debrief).is_none() {
        lines.extend(scatter(debrief));
    }
    lines.extend(mend(debrief));
    lines
}

/// Nobody aims better than this.
const RIGHT: Angle = Angle::from_tenths(20);

/// What is said where every leg is right: nothing has to be explained.
fn all_right(debrief: &Debrief) -> Option<String> {
    let offs: Vec<Angle> = debrief.legs.iter().filter_map(|leg| leg.off).collect();
    let is_right = !offs.is_empty() && offs.iter().all(|off| off.abs() <= RIGHT);
    let legs = match offs.len() {
        1 => "The one leg that was measured is right".to_owned(),
        legs if legs == debrief.legs.len() => format!("All {legs} legs are right"),
        legs => format!("All {legs} legs that were measured are right"),
    };
    is_right.then(|| format!("{legs}, within {}.", degrees_minutes(RIGHT)))
}

/// What is said where every leg without a slip of its own is right, beside some that have one.
fn others_are_right(debrief: &Debrief) -> Option<String> {
    let others: Vec<Angle> = debrief.legs.iter().filter(|leg| leg.slip.is_none()).filter_map(|leg| leg.off).collect();
    let beside = debrief.cause == Some(Cause::Scatter) && debrief.legs.iter().any(|leg| leg.slip.is_some());
    let legs = if others.len() == 1 { "The other leg that was measured is" } else { "The other legs are" };
    (beside && !others.is_empty() && others.iter().all(|off| off.abs() <= RIGHT))
        .then(|| format!("{legs} right, within {}.", degrees_minutes(RIGHT)))
}

/// One leg that is off by far more than the others, where these show scatter only: it is too near for a slip that has a name.
fn stands_out(debrief: &Debrief) -> Option<String> {
    if debrief.cause != Some(Cause::Scatter) || debrief.legs.iter().any(|leg| leg.slip.is_some()) {
        return None;
    }
    let off = |leg: &LegDebrief| leg.off.map_or(Angle::ZERO, Angle::abs);
    let (number, leg) = debrief.legs.iter().enumerate().max_by(|(_, one), (_, other)| off(one).cmp(&off(other)))?;
    let others = || debrief.legs.iter().enumerate().filter(|(at, leg)| *at != number && leg.off.is_some());
    let alone = others().count() > 0 && others().all(|(_, other)| off(other) <= Angle::from_tenths(30));
    (alone && off(leg) >= Angle::from_tenths(70)).then(|| {
        format!(
            "Leg {} stands out: it is off by {}, the others by 3° at most. Was the next printed number read, or is iron near that peg?",
            number + 1,
            off_words(leg.off.unwrap_or(Angle::ZERO))
        )
    })
}

/// One line for each leg: number, key, measured, how far off, what is the matter.
#[must_use]
pub fn legs_words(debrief: &Debrief) -> Vec<String> {
    let row = |[leg, key, measured, off, what]: [String; 5]| {
        format!("{leg:<6}{key:<8}{measured:<11}{off:<12}{what}").trim_end().to_owned()
    };
    let head = LEGS_HEAD.map(str::to_owned);
    std::iter::once(head).chain(legs_table(debrief)).map(row).collect()
}

/// The head of [`legs_table`].
pub const LEGS_HEAD: [&str; 5] = ["leg", "key", "measured", "off", "what"];

/// The same as columns, without their head.
pub fn legs_table(debrief: &Debrief) -> impl Iterator<Item = [String; 5]> {
    (1..).zip(&debrief.legs).map(|(number, leg): (u32, &LegDebrief)| {
        let measured = leg.measured.map_or_else(|| "-".to_owned(), |measured| measured.to_string());
        let off = leg.off.map_or_else(|| "-".to_owned(), off_words);
        let mut what = slip_words(leg);
        if let Some((bearing, metres)) = leg.walked {
            let metres: u64 = whole(metres.round());
            let comma = if what.is_empty() { "" } else { ", " };
            what.push_str(&format!("{comma}came out along {bearing} after {metres} m"));
        }
        [number.to_string(), leg.key.to_string(), measured, off, what]
    })
}

/// `11° left`: whole degrees, and to which side of the key's line it leads.
fn off_words(off: Angle) -> String {
    let degrees: i32 = whole(off.degrees().round());
    match degrees {
        0 => "0°".to_owned(),
        180 | -180 => "180°".to_owned(),
        ..0 => format!("{}° left", -degrees),
        _ => format!("{degrees}° right"),
    }
}

fn slip_words(leg: &LegDebrief) -> String {
    match leg.slip {
        Some(Slip::Reversed) => "reversed".to_owned(),
        Some(Slip::SwappedWith(other)) => format!("exchanged with leg {}", other + 1),
        Some(Slip::Odd) => "no rule gives this".to_owned(),
        Some(Slip::NotSure) => "cannot be told".to_owned(),
        None => String::new(),
    }
}

/// The name of the correction: `declination of 11° W`.
fn correction(debrief: &Debrief) -> (&'static str, String) {
    match debrief.correction {
        Some((North::Grid, angle)) => ("the G-M angle", declination_words(angle).to_string()),
        Some((_, angle)) => ("the declination", declination_words(angle).to_string()),
        None => ("the correction", "none".to_owned()),
    }
}

/// A cause as a sentence without its end.
fn said(debrief: &Debrief, cause: Cause) -> String {
    let (name, size) = correction(debrief);
    match (cause, debrief.taken) {
        (Cause::Scatter, _) if debrief.legs.iter().any(|leg| leg.slip.is_some()) => {
            "the other legs show scatter only, and no offset".to_owned()
        }
        (Cause::Scatter, _) => "the legs show scatter only, and no offset".to_owned(),
        (Cause::Forgotten, _) => format!("{name} of {size} was forgotten: the map's own numbers were set"),
        (Cause::WrongWay, _) => format!("{name} of {size} was applied the wrong way round"),
        (Cause::Twice, _) => format!("{name} of {size} was applied twice"),
        (Cause::NotNeeded, _) => "a correction was made off lines that show magnetic north already".to_owned(),
        (Cause::Constant, Taken::Sighted) => {
            "one offset lies on all legs: a declination that is set on the dial, the compass, or iron near it"
                .to_owned()
        }
        (Cause::Constant, Taken::OffThePlan) => {
            "one offset lies on all legs that no correction gives: how plate or protractor was laid on".to_owned()
        }
        (Cause::TurnedRound, Taken::Sighted) => {
            "every leg is the wrong way round: the needle's south end was taken for its north end".to_owned()
        }
        (Cause::TurnedRound, Taken::OffThePlan) => {
            "every leg is the wrong way round: the travel arrow was laid backward, or the dial's lines upside down"
                .to_owned()
        }
    }
}

/// `11° to the left`, with its size given or taken.
fn about(debrief: &Debrief) -> Option<String> {
    let offset = debrief.offset?;
    let degrees = off_words(offset);
    Some(match degrees.split_once(' ') {
        Some((size, side)) => format!("{size} to the {side}"),
        None => degrees,
    })
}

fn finding(debrief: &Debrief) -> String {
    if let Some(right) = others_are_right(debrief) {
        return right;
    }
    let Some((first, share)) = debrief.causes.first() else {
        return "It cannot be told what lies on all legs.".to_owned();
    };
    if debrief.cause.is_some() {
        let sure = if *share >= SURE { "Sure" } else { "Fairly sure" };
        return format!("{sure}: {}.", said(debrief, *first));
    }
    let listed: Vec<String> = debrief
        .causes
        .iter()
        .map(|(cause, share)| {
            format!("{} (about {} in 100)", said(debrief, *cause), whole::<u32>((share * 100.0).round()))
        })
        .collect();
    format!("It cannot be told what lies on all legs. It may be that {}.", listed.join("; or that "))
}

/// Why, with the numbers.
fn why(debrief: &Debrief) -> String {
    let legs = debrief.legs.iter().filter(|leg| leg.off.is_some() && leg.slip.is_none()).count();
    let Some(about) = about(debrief) else {
        return "No leg is left that has no slip of its own, so nothing can be said about all.".to_owned();
    };
    let mean = match legs {
        1 => format!("The one leg that has no slip of its own is off by {about}."),
        _ if legs == debrief.legs.len() => format!("On average the {legs} legs are off by {about}."),
        _ => format!("On average the {legs} legs without a slip of their own are off by {about}."),
    };
    if debrief.cause.is_none() {
        let more = match debrief.taken {
            Taken::OffThePlan => "more legs, or a place with more declination, would tell",
            Taken::Sighted => "more legs would tell",
        };
        let tell = if legs == 1 { "1 leg cannot tell".to_owned() } else { format!("{legs} legs cannot tell") };
        return format!("{mean} Hands are out by about 3°, so {tell} these apart for sure: {more}.");
    }
    let near = debrief.second.filter(|(_, misses)| *misses < FAR);
    let Some((second, misses)) = near else { return format!("{mean} Nothing else comes near.") };
    let misses = whole::<u32>(misses.degrees().round());
    format!(
        "{mean} The nearest other explanation is that {}; then they would be off by {misses}° rms, and hands are out by about 3°.",
        said(debrief, second)
    )
}

/// The legs that have a slip of their own.
fn slips(debrief: &Debrief) -> Vec<String> {
    let mut lines = Vec::new();
    for (number, leg) in debrief.legs.iter().enumerate() {
        let leg_number = number + 1;
        match leg.slip {
            Some(Slip::Reversed) => lines.push(format!(
                "Leg {leg_number} is reversed: it was measured from its end, or the arrow lay backward. Add or take off 180 and it fits."
            )),
            Some(Slip::SwappedWith(other)) if other > number => lines.push(format!(
                "Legs {leg_number} and {} are exchanged: each has the other's bearing.",
                other + 1
            )),
            Some(Slip::Odd) => lines.push(format!(
                "Leg {leg_number} is out by something that no rule gives: read it once more, the tens first, and look for iron at that peg."
            )),
            Some(Slip::NotSure) => lines.push(format!(
                "Leg {leg_number} may be a slip of its own or a bad aim; it cannot be told. It counts for nothing above."
            )),
            _ => {}
        }
    }
    lines
}

fn scatter(debrief: &Debrief) -> Option<String> {
    let scatter = debrief.scatter?;
    let size = decimal(scatter);
    Some(match scatter.degrees() {
        ..3.5 => format!("Scatter: {size} rms. That is a good hand."),
        3.5..7.0 => format!("Scatter: {size} rms. Aim along the whole line, and look twice at the dial."),
        _ => format!("Scatter: {size} rms. That is much: begin with one leg, and measure it three times."),
    })
}

fn decimal(angle: Angle) -> String {
    format!("{:.1}°", angle.degrees())
}

/// What to do about the cause.
fn mend(debrief: &Debrief) -> Option<String> {
    let cause = debrief.cause?;
    Some(match cause {
        Cause::Scatter => return None,
        Cause::Forgotten | Cause::WrongWay | Cause::Twice => {
            let (_, angle) = debrief.correction?;
            let reason = CountReason::of(if EastWest::of(angle)? == EastWest::West { -1 } else { 1 })?;
            let rule = if EastWest::of(angle)? == EastWest::West { "added" } else { "taken off" };
            let (size, CountReason { lies, count, .. }) = (degrees_minutes(angle), reason);
            format!(
                "Magnetic north lies {lies} here, so {count}: from map to compass {size} is {rule}, once and on each bearing."
            )
        }
        Cause::NotNeeded => "Along magnetic-north lines the dial is set as it is read off: both count from one north.".to_owned(),
        Cause::Constant if debrief.taken == Taken::Sighted => {
            "Knife, phone, belt buckle two metres away, a car eighteen; then sight one leg again with another compass. If only this one is out by more than 3°, put it aside."
                .to_owned()
        }
        Cause::Constant => {
            "Lay the edge through both points, the dial's lines along the map's lines, and let somebody look before the number is read."
                .to_owned()
        }
        Cause::TurnedRound => {
            "Before anything is read: does the travel arrow point from here to there, and does the needle's north end lie where it should?"
                .to_owned()
        }
    })
}

/// How sure the named cause is, as a word for scripts.
#[must_use]
pub fn sureness(debrief: &Debrief) -> &'static str {
    match debrief.causes.first() {
        Some((_, share)) if *share >= SURE => "sure",
        Some((_, share)) if *share >= NAMED => "fairly sure",
        _ => "cannot be told",
    }
}
