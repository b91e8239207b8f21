//! What was measured, set against the key: one offset on all legs, single legs reversed or exchanged, or scatter.
//!
//! An offset is measured minus key, clockwise positive inside; on screens it says left or right. With the declination D east
//! positive, M = T − D: whoever forgets the correction sets T, which is D more than M; the wrong way round 2D; twice −D. The
//! same with the G-M angle where the plan has grid lines. Who sights from peg to peg makes no sum: an offset is the compass's,
//! or iron's.
//!
//! How sure that is: `weigh` gives each explanation its share of what was measured. One that has [`NAMED`] or more is named;
//! below that nothing is named, and what it may be is listed. What is more likely than not is not good enough to tell a learner.

mod picture;
#[cfg(test)]
mod tests;
mod weigh;
mod words;

pub use picture::picture;
pub use words::{LEGS_HEAD, legs_table, legs_words, sureness, words};

use super::{CameOut, Leg, Measured, Route, Taken};
use crate::angle::{Angle, Bearing, Magnetic, North};
use crate::ground::{Place, geodesic};
use crate::numbers::real;
use weigh::{Offset, Pair, weigh};

/// An explanation is named from this share on.
pub const NAMED: f64 = 0.95;
/// From this share on an explanation is mentioned as possible.
const POSSIBLE: f64 = 0.05;
/// A compass that is out by less is good (FM 3-25.26: put aside above 3°), and no constant offset is told.
const LEAST_CONSTANT_DEG: i32 = 4;
const MOST_CONSTANT_DEG: i32 = 30;
/// How likely a constant offset without a sum is beforehand: most compasses are good, and who takes bearings off a plan does not
/// use one yet.
const CONSTANT_SIGHTED: f64 = 0.2;
const CONSTANT_OFF_PLAN: f64 = 0.02;
/// How likely every leg is the wrong way round: the arrow laid backward, or the needle's south end.
const TURNED: f64 = 0.02;

/// What brings one offset on all legs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cause {
    /// None: what there is, is scatter.
    Scatter,
    /// The correction was left out.
    Forgotten,
    /// It was made the wrong way round.
    WrongWay,
    /// It was made twice.
    Twice,
    /// A correction was made off lines that show magnetic north already.
    NotNeeded,
    /// The compass, or iron near it; off a plan, how it was laid on.
    Constant,
    /// Every leg is the wrong way round.
    TurnedRound,
}

impl Cause {
    /// For files and scripts.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Cause::Scatter => "scatter",
            Cause::Forgotten => "forgotten",
            Cause::WrongWay => "wrong-way",
            Cause::Twice => "twice",
            Cause::NotNeeded => "not-needed",
            Cause::Constant => "constant",
            Cause::TurnedRound => "turned-round",
        }
    }
}

/// What is the matter with one leg beside the offset of all.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Slip {
    /// It is the wrong way round.
    Reversed,
    /// It has the bearing of another leg, counted from 0, which has this one's.
    SwappedWith(usize),
    /// It is out by something that no rule explains.
    Odd,
    /// It may be one of these or none.
    NotSure,
}

impl Slip {
    /// For files and scripts.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Slip::Reversed => "reversed",
            Slip::SwappedWith(_) => "swapped",
            Slip::Odd => "odd",
            Slip::NotSure => "not-sure",
        }
    }
}

/// One leg of a debrief.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LegDebrief {
    /// What the dial should show.
    pub key: Bearing<Magnetic>,
    /// What it showed, or what follows from where the leg came out; `None` was not measured.
    pub measured: Option<Bearing<Magnetic>>,
    /// Measured minus key, clockwise positive, −180 to 180 degrees.
    pub off: Option<Angle>,
    /// What is the matter with this leg alone.
    pub slip: Option<Slip>,
    /// The line from its start to where it came out, with its length in metres, if that was looked at.
    pub walked: Option<(Bearing<Magnetic>, f64)>,
}

/// What came out.
#[derive(Clone, Debug, PartialEq)]
pub struct Debrief {
    /// Who measured.
    pub by: String,
    /// How.
    pub taken: Taken,
    /// The legs in order.
    pub legs: Vec<LegDebrief>,
    /// What lies on all legs; `None` cannot be told.
    pub cause: Option<Cause>,
    /// Each cause that is possible, with its share, the largest first.
    pub causes: Vec<(Cause, f64)>,
    /// Measured minus key on the legs without a slip of their own, on average; none where no such leg is left.
    pub offset: Option<Angle>,
    /// How far those legs lie from that average, as rms, or from the key itself where no offset lies on them; none where no leg is left, or
    /// one alone about its own average.
    pub scatter: Option<Angle>,
    /// The nearest other cause whose offset a rule gives, and how far those legs would lie from it, as rms.
    pub second: Option<(Cause, Angle)>,
    /// What the correction of the map's lines is, with its name; none where there is none to make.
    pub correction: Option<(North, Angle)>,
}

/// No offset.
const NONE: Offset = Offset { cause: Cause::Scatter, turn: Angle::ZERO, weight: 1.0 };

/// The debrief of one who measured on this course. None where nothing was measured, or not as many legs as there are.
#[must_use]
pub fn debrief(route: &Route, measured: &Measured) -> Option<Debrief> {
    if measured.bearings.len() != route.legs.len() {
        return None;
    }
    let walked = |number: usize| {
        let leg = route.legs.get(number)?;
        let out = measured.came_out.get(number).copied().flatten()?;
        Some(walked_line(route, leg, out))
    };
    let mut legs: Vec<LegDebrief> = route
        .legs
        .iter()
        .zip(&measured.bearings)
        .enumerate()
        .map(|(number, (leg, bearing))| {
            let walked = walked(number);
            let measured = bearing.or(walked.map(|(bearing, _)| bearing));
            let off = measured.map(|measured| leg.magnetic.turn_to(measured));
            LegDebrief { key: leg.magnetic, measured, off, slip: None, walked }
        })
        .collect();
    // The places of the legs that were measured.
    let places: Vec<usize> = (0..legs.len()).filter(|place| legs[*place].measured.is_some()).collect();
    let pairs: Vec<Pair> = legs.iter().filter_map(|leg| Some(Pair { key: leg.key, measured: leg.measured? })).collect();
    if pairs.is_empty() {
        return None;
    }
    let weighed = weigh(&pairs, &offsets(route, measured.taken));
    for (number, place) in places.iter().enumerate() {
        legs[*place].slip = slip(&weighed, number, &places);
    }
    let cause = weighed.causes.first().filter(|(_, share)| *share >= NAMED).map(|(cause, _)| *cause);
    let (offset, about_it) = spread(&legs);
    let scatter = if cause == Some(Cause::Scatter) { misses(&legs, &[NONE], Cause::Scatter) } else { about_it };
    // A constant offset that may be any fits everything: beside it nothing misses by much.
    let others = weighed.causes.iter().map(|(cause, _)| *cause).filter(|other| *other != Cause::Constant);
    let others = others.filter(|other| Some(*other) != cause);
    let known = offsets(route, measured.taken);
    let second =
        others.filter_map(|other| Some((other, misses(&legs, &known, other)?))).min_by_key(|(_, misses)| *misses);
    Some(Debrief {
        by: measured.by.clone(),
        taken: measured.taken,
        cause,
        causes: weighed.causes.into_iter().filter(|(_, share)| *share >= POSSIBLE).collect(),
        offset,
        scatter,
        second,
        correction: correction(route).filter(|_| measured.taken == Taken::OffThePlan),
        legs,
    })
}

/// What is the matter with the leg of this number among those that were measured.
fn slip(weighed: &weigh::Weighed, number: usize, places: &[usize]) -> Option<Slip> {
    let pairs = || weighed.swapped.iter().filter(|((one, other), _)| number == *one || number == *other);
    let partner = pairs().find(|(_, share)| *share >= NAMED);
    if let Some(((one, other), _)) = partner {
        let partner = if number == *one { *other } else { *one };
        return places.get(partner).map(|place| Slip::SwappedWith(*place));
    }
    let swapped: f64 = pairs().map(|(_, share)| share).sum();
    let (reversed, odd) = (weighed.reversed.get(number)?, weighed.odd.get(number)?);
    match (reversed, odd) {
        (reversed, _) if *reversed >= NAMED => Some(Slip::Reversed),
        (_, odd) if *odd >= NAMED => Some(Slip::Odd),
        (reversed, odd) if reversed + odd + swapped > 1.0 - NAMED => Some(Slip::NotSure),
        _ => None,
    }
}

/// From the start of a leg to where it came out.
fn walked_line(route: &Route, leg: &Leg, out: CameOut) -> (Bearing<Magnetic>, f64) {
    let line = geodesic::inverse(leg.start, came_out_at(route, leg, out));
    (line.bearing.to(route.declination), line.distance_m)
}

/// Where a leg came out.
fn came_out_at(route: &Route, leg: &Leg, out: CameOut) -> Place {
    geodesic::direct(leg.end, out.toward.to(route.declination.inverse()), out.metres).place
}

/// The correction that the map's lines need: of grid lines where the map has no true ones.
fn correction(route: &Route) -> Option<(North, Angle)> {
    corrections(route).into_iter().next()
}

/// The angle of each sort of lines that the map has and that needs one.
fn corrections(route: &Route) -> Vec<(North, Angle)> {
    let of = |line: &North| match line {
        North::True => Some((North::True, route.declination.angle())),
        North::Grid => Some((North::Grid, route.grid_magnetic()?.angle())),
        North::Magnetic => None,
    };
    route.lines.iter().filter_map(of).collect()
}

/// The offsets that can be, with how likely they are beforehand.
fn offsets(route: &Route, taken: Taken) -> Vec<Offset> {
    let mut all = vec![Offset { cause: Cause::TurnedRound, turn: Angle::from_degrees(180.0), weight: TURNED }];
    let named = match taken {
        Taken::Sighted => 1.0 - TURNED - CONSTANT_SIGHTED,
        Taken::OffThePlan => 1.0 - TURNED - CONSTANT_OFF_PLAN,
    };
    let mut sums = vec![(Cause::Scatter, vec![Angle::ZERO])];
    if taken == Taken::OffThePlan {
        let angles = corrections(route);
        let times = |factor: i32| angles.iter().map(|(_, east)| *east * factor).collect::<Vec<_>>();
        if angles.is_empty() {
            let east = route.declination.angle();
            sums.push((Cause::NotNeeded, vec![east, -east]));
        } else {
            sums.push((Cause::Forgotten, times(1)));
            sums.push((Cause::WrongWay, times(2)));
            sums.push((Cause::Twice, times(-1)));
        }
    }
    let each = named / real(sums.len());
    for (cause, turns) in sums {
        let weight = each / real(turns.len());
        all.extend(turns.into_iter().map(|turn| Offset { cause, turn, weight }));
    }
    let constant = if taken == Taken::Sighted { CONSTANT_SIGHTED } else { CONSTANT_OFF_PLAN };
    let sizes = LEAST_CONSTANT_DEG..=MOST_CONSTANT_DEG;
    let weight = constant / (2.0 * f64::from(MOST_CONSTANT_DEG - LEAST_CONSTANT_DEG + 1));
    all.extend(sizes.flat_map(|size| [size, -size]).map(|turn| Offset {
        cause: Cause::Constant,
        turn: Angle::from_degrees(f64::from(turn)),
        weight,
    }));
    all
}

/// What the legs without a slip are out by.
fn plain(legs: &[LegDebrief]) -> impl Iterator<Item = Angle> {
    legs.iter().filter(|leg| leg.slip.is_none()).filter_map(|leg| leg.off)
}

/// The average of the legs without a slip, and the rms about it. Turns are averaged about the first of them, so that a circle's
/// border between them does no harm.
fn spread(legs: &[LegDebrief]) -> (Option<Angle>, Option<Angle>) {
    let Some(first) = plain(legs).next() else { return (None, None) };
    let from_first: Vec<Angle> = plain(legs).map(|off| (off - first).wrapped_half()).collect();
    let count = real(from_first.len());
    let mean = from_first.iter().fold(Angle::ZERO, |sum, turn| sum + *turn) / count;
    let rms = rms(from_first.iter().map(|turn| *turn - mean));
    ((Some((first + mean).wrapped_half())), rms.filter(|_| from_first.len() > 1))
}

/// How far the legs without a slip lie from the nearest offset of a cause, as rms.
fn misses(legs: &[LegDebrief], offsets: &[Offset], cause: Cause) -> Option<Angle> {
    let of = offsets.iter().filter(|offset| offset.cause == cause);
    of.filter_map(|offset| rms(plain(legs).map(|off| (off - offset.turn).wrapped_half()))).min()
}

fn rms(turns: impl Iterator<Item = Angle>) -> Option<Angle> {
    let (count, sum) = turns.fold((0, 0.0), |(count, sum), turn| (count + 1, sum + turn.degrees().powi(2)));
    (count > 0).then(|| Angle::from_degrees((sum / real(count)).sqrt()))
}
