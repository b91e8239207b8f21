//! What is told of a piece of work: the learner's own numbers, what each fault did, and what belongs there, with its reason.

use super::around;
use super::orient::own_number;
use super::take;
use crate::angle::{Angle, Bearing, North, True, declination_words};
use crate::maptable::amount::{
    HALF_CIRCLE, LAID_WITHIN, NEARLY_WITHIN, figures, is_half, near, shows, size, turn, turn_to_line, turn_words,
    within,
};
use crate::maptable::lines::on_the_map;
use crate::maptable::{Boxed, Chosen, Exercise, Fault, Leg, LineName, Seen, Task};

/// How things lay where a fault shows, and what was said: at the end, or for one leg.
pub(super) struct Work {
    /// What was seen, the compass last on the map where there is one.
    pub seen: Seen,
    /// The number at the index line when it was read, or at the end.
    pub shown: Angle,
    /// Where the travel arrow pointed.
    pub arrow: Bearing<True>,
    /// The number said to a mark in view; none where none was, or where legs are read.
    pub said: Option<Angle>,
    /// Which end of the line the dial counts from: 0 from its north, half a circle from its south. 0 where no map is oriented.
    pub from: Angle,
    /// How far the map was turned that should have lain still, clockwise positive.
    pub map_moved: Angle,
    /// How far the map was turned alone, under the compass, since the edge was laid last; clockwise positive.
    pub map_alone: Angle,
    /// How far the compass was turned alone since then, clockwise positive.
    pub compass_alone: Angle,
    /// Whether no hand touched the dial.
    pub dial_untouched: bool,
    /// The leg, and the number said for it; none where it was not read.
    pub leg: Option<(Leg, Option<Angle>)>,
    /// The magnetic bearing said, where it is asked beside the number.
    pub bearing: Option<Angle>,
    /// What was chosen by looking.
    pub chosen: Option<Chosen>,
}

/// One fault in sentences: what was done, with its number; and the reason with what belongs there, empty where it is said already.
pub(super) fn told(exercise: &Exercise, work: &Work, fault: Fault) -> (String, String) {
    if let Task::Take(sighting) = &exercise.task {
        return take::told(exercise, sighting, work, fault);
    }
    if let Task::Around(around) = &exercise.task {
        return around::told(around, work, fault);
    }
    if let Some((done, mend)) = slip(exercise, work, fault) {
        return (format!("{done}: a slip of the hand."), mend);
    }
    let (said, shown) = (fault.said(), figures(work.shown).to_string());
    let mend = fault.mend().to_owned();
    let on_dial = if said.contains("dial") { shown.clone() } else { format!("{shown} on the dial") };
    let wanted = exercise.wanted_dial().map(|wanted| figures(wanted + work.from).to_string()).unwrap_or_default();
    let plain = |mend: String| (format!("You {said}."), mend);
    let with = |number: String, mend: String| (format!("You {said}: {number}."), mend);
    match (fault, &exercise.task) {
        (Fault::DialOff, _) if work.dial_untouched => (
            format!("The dial was never set: it still stood at {shown}."),
            dial_reason(exercise, work.from).unwrap_or(mend),
        ),
        (Fault::SignFlipped, Task::Orient(north)) if shows(work.map_alone) && !shows(work.shown) => {
            with(format!("the map turned {}", turn_words(work.map_alone)), line_reason(exercise, *north, work.from))
        }
        (Fault::DialForMap, _) => {
            with(format!("it ended at {shown}"), format!("{wanted} belongs there, set first and then left alone."))
        }
        (Fault::DialForSelf, _) => with(
            format!("it ended at {shown}"),
            format!("{wanted} stays there: turn yourself, compass in hand, until the needle is boxed."),
        ),
        (Fault::DialReversed, Task::MapBearing { .. }) => plain(format!(
            "The dial counts from its N, and toward the map's south that is half a circle round. {mend}"
        )),
        (
            Fault::SignFlipped
            | Fault::NotApplied
            | Fault::AppliedTwice
            | Fault::DeclinationForGma
            | Fault::GmaForDeclination
            | Fault::SizesAdded
            | Fault::NotUpdated
            | Fault::DialSetToDeclination
            | Fault::DeclinationAsReading
            | Fault::DialReversed
            | Fault::DialOff,
            _,
        ) => match dial_reason(exercise, work.from) {
            Some(reason) if fault == Fault::DialReversed => {
                (format!("You {said}, with {shown} at the index line."), reason)
            }
            Some(reason) => with(on_dial, reason),
            None => plain(mend),
        },
        (Fault::MapForDial, Task::Orient(_)) => with(
            turn_words(work.map_alone).to_string(),
            format!("{wanted} belongs on the dial, set first; then map and compass turn as one."),
        ),
        (Fault::CompassOffLine, _) => match (shows(work.map_alone), shows(work.compass_alone)) {
            (true, false) => with(format!("the map turned alone, {}", turn_words(work.map_alone)), mend),
            (false, true) => with(format!("the compass turned alone, {}", turn_words(work.compass_alone)), mend),
            _ => plain(mend),
        },
        (Fault::CorrectedAgain, Task::Follow { .. }) => with(on_dial, dial_reason(exercise, work.from).unwrap_or(mend)),
        (Fault::CorrectedAgain | Fault::ReadAtNeedle | Fault::ReadOpposite | Fault::Misread, _) => match work.leg {
            Some((_, Some(number))) => with(format!("{} in place of {shown}", figures(number)), mend),
            _ => plain(mend),
        },
        (Fault::ArrowBack, Task::Orient(_)) => plain(format!(
            "Half a circle lies between the line's ends: {wanted} on the dial belongs to its north end, {} to its south end.",
            exercise.wanted_dial().map(|wanted| figures(wanted + HALF_CIRCLE).to_string()).unwrap_or_default()
        )),
        (Fault::ArrowBack, _) => match work.leg {
            Some((Leg { from, to }, _)) => plain(format!(
                "Toward {from} the dial gives the way from {to} to {from}, half a circle round: the arrow belongs toward {to}."
            )),
            None => plain(mend),
        },
        (Fault::NotReversed, Task::BackSight { walked, .. })
            if near(work.shown, walked.angle() + HALF_CIRCLE, exercise.dial_tolerance()) =>
        {
            plain(format!("With the back bearing on the dial, {shown}, it is the needle's north end that is boxed."))
        }
        (Fault::NeedleReversed, _) if work.seen.boxed == Boxed::No => (
            format!(
                "You brought the needle's south end to the head of the arrow: it lay {} beside it.",
                size(turn(HALF_CIRCLE, work.seen.needle_from_box).abs())
            ),
            mend,
        ),
        (Fault::NeedleReversed, _) => plain(
            "Its south end points away from north, so all comes out half a circle round: the solid north end belongs in the \
             arrow's head."
                .to_owned(),
        ),
        (Fault::WrongLine(LineName::Prong), _) => plain(mend),
        (Fault::WrongLine(line), Task::Orient(north)) if keeps_own_number(exercise, work, line) => {
            plain(format!("You set its own number, {shown}, but {} was asked for.", LineName::of(*north).words()))
        }
        (Fault::WrongLine(_), Task::Orient(north)) => plain(format!(
            "It runs another way, and {wanted} on the dial belongs to {} alone.",
            LineName::of(*north).words()
        )),
        (Fault::MapForDial | Fault::MapMoved, _) => with(turn_words(work.map_moved).to_string(), mend),
        (Fault::NotBoxed, _) => with(format!("it lay {} of the arrow", turn_words(work.seen.needle_from_box)), mend),
        _ => plain(mend),
    }
}

/// Whether the number on the dial is the one that belongs to this line, which was not asked for.
fn keeps_own_number(exercise: &Exercise, work: &Work, line: LineName) -> bool {
    let near_it = |own: Angle| near(work.shown, own + work.from, exercise.dial_tolerance());
    own_number(exercise, line).is_some_and(near_it) && !exercise.wanted_dial().is_some_and(near_it)
}

/// Whether a fault is no more than a slip of the hand.
pub(super) fn is_slip(exercise: &Exercise, work: &Work, fault: Fault) -> bool {
    match &exercise.task {
        Task::Take(sighting) => take::is_slip(sighting, work, fault),
        _ => slip(exercise, work, fault).is_some(),
    }
}

/// A slip of the hand: what lay or stood beside what, and how to mend it; none where more was wrong.
fn slip(exercise: &Exercise, work: &Work, fault: Fault) -> Option<(String, String)> {
    let beside = |off: Angle| (!within(off, LAID_WITHIN) && within(off, NEARLY_WITHIN)).then(|| size(off));
    let much = |off: Angle| format!("{} too {}", size(off), if off > Angle::ZERO { "much" } else { "little" });
    match fault {
        Fault::EdgeBeside => {
            let off = work.seen.edge.map_or(Angle::ZERO, |edge| edge.off);
            Some((format!("The edge lay {} beside the line", size(off)), "Lay it along the whole line.".to_owned()))
        }
        Fault::NotBoxed => {
            let off = beside(work.seen.needle_from_box)?;
            Some((format!("The needle lay {off} beside the arrow"), until_boxed(work.seen.needle_from_box)))
        }
        Fault::SouthNotBoxed => {
            let from_box = turn(HALF_CIRCLE, work.seen.needle_from_box);
            let off = beside(from_box)?;
            Some((format!("The needle's south end lay {off} beside the arrow"), until_boxed(from_box)))
        }
        Fault::LinesOff => {
            let Task::MapBearing { north, .. } = &exercise.task else { return None };
            // Either end of the lines: that they lie upside down is a fault of its own.
            let past = turn_to_line(exercise.drawn(*north), work.seen.dial_from_map);
            let off = beside(past)?;
            let lines = format!("The dial's lines lay {off} beside the map's {}", on_the_map(*north));
            Some((lines, format!("Turn the dial {}: then they run along them.", turn_words(-past))))
        }
        Fault::DialOff => {
            let wanted = exercise.wanted_dial()? + work.from;
            let off = turn(wanted, work.shown);
            within(off, NEARLY_WITHIN).then(|| {
                let stood = format!("{} stood on the dial, {}", figures(work.shown), much(off));
                (stood, format!("{} belongs there.", figures(wanted)))
            })
        }
        Fault::Misread => {
            let said = work.leg?.1?;
            let off = turn(work.shown, said);
            within(off, NEARLY_WITHIN).then(|| {
                let read = format!("You read {}, {}", figures(said), much(off));
                (read, format!("The dial showed {}: count the ticks once more.", figures(work.shown)))
            })
        }
        Fault::BearingOff => {
            let (said, right) = (work.bearing?, exercise.magnetic_bearing(work.leg?.0)?);
            let off = turn(right, said);
            within(off, NEARLY_WITHIN).then(|| {
                let said = format!("You said {} for the magnetic bearing, {}", figures(said), much(off));
                (said, format!("It is {}.", figures(right)))
            })
        }
        _ => None,
    }
}

/// How a needle is mended that lies so far clockwise of the arrow: on, or back where somebody turned too far.
fn until_boxed(from_box: Angle) -> String {
    format!("Turn {}: then it lies right over it.", turn_words(from_box))
}

/// Why which number belongs on the dial; none where the dial is turned to take a bearing, or where the number was told.
fn dial_reason(exercise: &Exercise, from: Angle) -> Option<String> {
    let wanted = exercise.wanted_dial()?;
    match &exercise.task {
        Task::Orient(north) => Some(line_reason(exercise, *north, from)),
        Task::Follow { north: North::Magnetic, .. } => Some(format!(
            "A magnetic bearing counts from where the needle points, so it goes on the dial as it is: {}.",
            figures(wanted)
        )),
        Task::Follow { north, .. } => {
            let angle = exercise.magnetic_from(*north);
            let more = if angle < Angle::ZERO { "more" } else { "less" };
            Some(format!(
                "The needle points {} of {} north, so counted from the needle the same way is {} {more}: {} belongs there.",
                turn_words(angle),
                north.word(),
                size(angle),
                figures(wanted)
            ))
        }
        Task::BackSight { .. } => {
            Some(format!("The bearing that you walk, {}, stays on the dial: turn yourself.", figures(wanted)))
        }
        Task::SetDial { .. }
        | Task::OrientedBearing { .. }
        | Task::MapBearing { .. }
        | Task::Take(_)
        | Task::Around(_) => None,
    }
}

/// Why which number orients the map by a line of this north, counted from one of its ends.
fn line_reason(exercise: &Exercise, north: North, from: Angle) -> String {
    let angle = exercise.magnetic_from(north);
    let belongs = figures(from - angle);
    let back = shows(from);
    if north == North::Magnetic {
        let way = if back { ", and the travel arrow the other way," } else { "," };
        return format!("The line points where the needle points{way} so {belongs} belongs there.");
    }
    let given = match north {
        North::Grid => format!("The G-M angle is {}: seen", declination_words(angle)),
        _ => "Seen".to_owned(),
    };
    let (side, sum) = match (angle > Angle::ZERO, back) {
        (true, _) => ("counterclockwise", format!(": {} − {}", if back { 180 } else { 360 }, bare(angle))),
        (false, true) => ("clockwise", format!(": 180 + {}", bare(angle))),
        (false, false) => ("clockwise", String::new()),
    };
    format!(
        "{given} from the needle, {} north lies {} {side}, so {belongs} belongs there{sum}.",
        north.word(),
        size(angle)
    )
}

/// `16`, as in a sum.
fn bare(angle: Angle) -> String {
    size(angle).to_string().trim_end_matches('°').to_owned()
}

/// What was done, with the learner's own numbers: `016 on the dial, arrow along the true-north line toward its north end, needle
/// boxed`.
pub(super) fn did(exercise: &Exercise, works: &[Work]) -> String {
    let [work] = works else {
        let legs = works.iter().filter_map(|work| work.leg);
        return legs
            .map(|(leg, said)| {
                format!(
                    "{} to {} {}",
                    leg.from,
                    leg.to,
                    said.map_or_else(|| "not read".to_owned(), |said| figures(said).to_string())
                )
            })
            .collect::<Vec<String>>()
            .join(", ");
    };
    let dial = format!("{} on the dial", figures(work.shown));
    match &exercise.task {
        Task::Orient(_) if shows(work.map_moved) => format!(
            "{dial}, {}, {}; then the map moved, {}",
            edge(&work.seen),
            needle(&work.seen),
            turn_words(work.map_moved)
        ),
        // Nothing is left of where the edge lay, once the map was turned under it.
        Task::Orient(_) if work.seen.edge.is_none() && shows(work.map_alone) => {
            format!("{dial}, {}, the map turned alone, {}", needle(&work.seen), turn_words(work.map_alone))
        }
        Task::Orient(_) => format!("{dial}, {}, {}", edge(&work.seen), needle(&work.seen)),
        Task::OrientedBearing { .. } => format!("{}, {}, {}", edge(&work.seen), needle(&work.seen), read(work)),
        Task::MapBearing { north, .. } => {
            let off = turn(exercise.drawn(*north), work.seen.dial_from_map);
            let lines = match off {
                off if within(off, LAID_WITHIN) && !shows(off) => "the dial's lines along the map's".to_owned(),
                off if is_half(off) => "the dial's N to the south of the map's lines".to_owned(),
                off => format!("the dial's N {} of the north of the map's lines", turn_words(off)),
            };
            format!("{}, {lines}, {}", edge(&work.seen), read(work))
        }
        Task::Follow { landmarks, .. } => {
            let chosen = match work.chosen {
                Some(Chosen::Landmark(at)) => landmarks.get(usize::from(at)).map(|mark| &*mark.name),
                _ => None,
            };
            format!("{dial}, {}, and then {}", needle(&work.seen), chosen.unwrap_or("nothing chosen"))
        }
        Task::BackSight { .. } => {
            let chosen = match work.chosen {
                Some(Chosen::Stands(stands)) => stands.place(),
                _ => "nothing said",
            };
            format!("{dial}, {}: {chosen}", needle(&work.seen))
        }
        Task::Take(sighting) => take::did(sighting, work),
        Task::Around(_) => around::did(work),
        Task::SetDial { .. } => dial,
    }
}

/// How the edge lay: `arrow along the border of the map toward the top of the map`.
fn edge(seen: &Seen) -> String {
    match seen.edge {
        Some(edge) => {
            let beside = if shows(edge.off) { format!(", {} beside it", size(edge.off)) } else { String::new() };
            format!("arrow along {} {}{beside}", edge.line.words(), edge.line.end_words(edge.way))
        }
        None => "edge on no line".to_owned(),
    }
}

/// How the needle lay: `needle boxed`, `needle 3° clockwise of the orienting arrow`.
pub(super) fn needle(seen: &Seen) -> String {
    let off = seen.needle_from_box;
    match seen.boxed {
        Boxed::NorthEnd if !shows(off) => "needle boxed".to_owned(),
        Boxed::NorthEnd => format!("needle boxed, {} beside the middle", size(off)),
        Boxed::SouthEnd => "the needle's south end boxed".to_owned(),
        Boxed::No => format!("needle {} of the orienting arrow", turn_words(off)),
    }
}

/// What was read: `033 read`, `014 on the dial and 033 said`.
fn read(work: &Work) -> String {
    let said = work.leg.and_then(|(_, said)| said);
    let number = match said {
        Some(said) if shows(turn(work.shown, said)) => {
            format!("{} on the dial and {} said", figures(work.shown), figures(said))
        }
        Some(said) => format!("{} read", figures(said)),
        None => "nothing read".to_owned(),
    };
    match work.bearing {
        Some(bearing) => format!("{number}, {} for the bearing", figures(bearing)),
        None => number,
    }
}
