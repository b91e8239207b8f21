//! Problems at the map table, as several skills have them: what lies on it, and what comes out of right and wrong work.

mod either;
mod orient;
mod places;
mod sheet;
mod stand;

pub(super) use either::{ByHand, NumberOrHand};
pub(super) use orient::{Levels, Orienting};
pub(super) use places::{Places, shown_steps};
pub(super) use sheet::{Sheet, marks_and_lines};
pub(super) use stand::Stand;

use super::common::{InTenths, Tenths, WRONG_END, angle, bearing_of, wrap};
use crate::angle::{Angle, Bearing, Convergence, Declination, Grid, Magnetic, North, True};
use crate::maptable::{Exercise, Fault, MapLines, Table, Task};
use crate::problem::{MixupClass, MixupId, MixupMeta};

/// A fault of the hands as a mix-up of a skill.
pub(super) const fn mixup(fault: Fault, class: MixupClass) -> MixupMeta {
    MixupMeta { id: MixupId(fault.id()), class, said: fault.short(), mend: fault.mend() }
}

/// Boxed the needle's south end.
pub(super) const SOUTH_END_BOXED: MixupMeta = mixup(Fault::NeedleReversed, MixupClass::Reversed);
/// Laid the compass with the travel arrow back along the line.
pub(super) const ARROW_BACK: MixupMeta = mixup(Fault::ArrowBack, MixupClass::Reversed);
/// The dial's N toward the south of the map.
pub(super) const DIAL_UPSIDE_DOWN: MixupMeta = mixup(Fault::DialReversed, MixupClass::Reversed);
/// Turned the dial where map and compass should be turned.
pub(super) const DIAL_FOR_MAP: MixupMeta = mixup(Fault::DialForMap, MixupClass::Method);
/// Turned the map where the dial should be turned.
pub(super) const MAP_FOR_DIAL: MixupMeta = mixup(Fault::MapForDial, MixupClass::Method);
/// Let the edge come off the line.
pub(super) const COMPASS_OFF_LINE: MixupMeta = mixup(Fault::CompassOffLine, MixupClass::Place);
/// Boxed the needle where the map's lines belong.
pub(super) const NEEDLE_FOR_LINES: MixupMeta = mixup(Fault::NeedleForLines, MixupClass::Method);
/// Used the map's lines where the needle should be boxed.
pub(super) const LINES_FOR_NEEDLE: MixupMeta = mixup(Fault::LinesForNeedle, MixupClass::Method);
/// Took the reading for the bearing on a map that lies off.
pub(super) const LIE_UNSEEN: MixupMeta = mixup(Fault::LieUnseen, MixupClass::Forgotten);
/// Allowed for the map's lie the wrong way round.
pub(super) const LIE_OTHER_WAY: MixupMeta = mixup(Fault::LieOtherWay, MixupClass::Sign);
/// Corrected a number that was right.
pub(super) const CORRECTED_AGAIN: MixupMeta = mixup(Fault::CorrectedAgain, MixupClass::Twice);
/// Read at the needle.
pub(super) const READ_AT_NEEDLE: MixupMeta = mixup(Fault::ReadAtNeedle, MixupClass::Place);
/// Brought the dial's lines along the east-west lines.
pub(super) const QUARTER_TURN: MixupMeta = mixup(Fault::QuarterTurn, MixupClass::Reversed);
/// Turned the dial to the needle instead of oneself.
pub(super) const DIAL_FOR_SELF: MixupMeta = mixup(Fault::DialForSelf, MixupClass::Method);
/// Looked along the tail of the travel arrow.
pub(super) const LOOKED_BACK: MixupMeta = mixup(Fault::LookedBack, MixupClass::Reversed);
/// Looked along the needle.
pub(super) const LOOKED_ALONG_NEEDLE: MixupMeta = mixup(Fault::LookedAlongNeedle, MixupClass::Place);
/// Looked forward where one should look back.
pub(super) const NOT_REVERSED: MixupMeta = mixup(Fault::NotReversed, MixupClass::Reversed);
/// Left for right.
pub(super) const SIDES_SWAPPED: MixupMeta = mixup(Fault::SidesSwapped, MixupClass::Mirrored);
/// Trusted the needle beside iron.
pub(super) const IRON_UNHEEDED: MixupMeta = mixup(Fault::IronUnheeded, MixupClass::Method);
/// Supposed iron where none is.
pub(super) const IRON_SUPPOSED: MixupMeta = mixup(Fault::IronSupposed, MixupClass::Method);
/// Took the line for met, or for missed.
pub(super) const OFFSET_UNSEEN: MixupMeta = mixup(Fault::OffsetUnseen, MixupClass::Place);

/// Left the dial as it was.
pub(super) const DIAL_LEFT: MixupMeta = mixup(Fault::DialLeft, MixupClass::Forgotten);

/// Whether two directions differ by more than this.
pub(super) fn apart(one: impl InTenths, other: impl InTenths, told: Tenths) -> bool {
    (wrap(one.in_tenths() - other.in_tenths() + 1800) - 1800).abs() > told
}

/// A number that counts from this north as a magnetic bearing: what belongs on the dial.
pub(super) fn magnetic(
    number: Tenths,
    north: North,
    declination: Declination,
    convergence: Convergence,
) -> Bearing<Magnetic> {
    match north {
        North::True => bearing_of::<True>(number).to(declination),
        North::Grid => bearing_of::<Grid>(number).to(declination.then(convergence.inverse())),
        North::Magnetic => bearing_of(number),
    }
}

/// The smallest graduation of the compass on the table.
const GRADUATION: Angle = Angle::from_degrees(2.0);

/// How things lie at first.
#[derive(Clone, Copy, Debug)]
pub(super) struct Lie {
    /// The azimuth of the map's true north; none where the compass is in the hand and there is no map.
    pub map: Option<Bearing<True>>,
    /// The azimuth of the travel arrow.
    pub arrow: Bearing<True>,
    /// The number at the index line.
    pub dial: Tenths,
}

/// The angles that needle and map obey.
#[derive(Clone, Copy, Debug)]
pub(super) struct Angles {
    /// Today's declination.
    pub declination: Declination,
    /// The declination that the map prints.
    pub printed: Declination,
    /// The convergence of its grid.
    pub convergence: Convergence,
    /// How far iron turns the needle, clockwise positive.
    pub iron: Tenths,
}

/// An exercise with the compass of the table.
pub(super) fn exercise(task: Task, lie: Lie, angles: Angles, lines: MapLines) -> Exercise {
    let start = Table::new(lie.map.unwrap_or(Bearing::from_degrees(0.0)), lie.arrow, angle(lie.dial));
    Exercise {
        task,
        start: if lie.map.is_some() { start.on_map() } else { start },
        declination: angles.declination,
        printed: angles.printed,
        convergence: angles.convergence,
        iron: angle(angles.iron),
        graduation: GRADUATION,
        lines,
    }
}

/// The mix-up that this fault is in a skill with these; none where the skill does not name it.
pub(super) fn named(fault: Fault, known: &'static [MixupMeta]) -> Option<&'static MixupMeta> {
    known.iter().find(|mixup| mixup.id == MixupId(fault.id()))
}

/// The same for a fault that shows in a number alone, which does not tell one reversal from another.
pub(super) fn named_by_number(fault: Fault, known: &'static [MixupMeta]) -> Option<&'static MixupMeta> {
    if fault.is_reversal() { known.iter().find(|mixup| mixup.id == WRONG_END.id) } else { named(fault, known) }
}
