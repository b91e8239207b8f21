//! The skills: one file each, one registry. Lists, help, tables and JSON all derive from [`SKILLS`].
//!
//! What adding a skill takes stands in DEVELOPERS.md, "Adding a skill".

mod aim_off;
mod amounts;
mod back_bearing;
mod back_sight;
mod baseplate_bearing;
#[cfg(test)]
mod blind_norths;
mod box_detour;
mod common;
mod compass_faults;
mod compass_points;
mod conversion;
mod course_leg;
mod dated;
mod dated_map;
mod diagram;
mod dial_scale;
mod fix_on_line;
mod fixes;
mod follow_bearing;
mod grid_magnetic;
mod grid_reference;
mod hands;
mod map_line;
mod norths;
mod one_in_sixty;
mod orient_grid;
mod orient_landmarks;
mod orient_magnetic_line;
mod orient_true_line;
mod oriented_bearing;
mod orienting;
mod pacing;
mod prongs;
mod protractor_bearing;
mod read_dial;
mod relief;
mod resection;
mod route_features;
mod scale_distance;
mod set_dial;
#[cfg(test)]
mod solver;
mod take_bearing;
mod thirty_two_points;
mod timing;
mod true_magnetic;
mod turning;
mod turns;
mod walk_bearing;

use crate::problem::{Code, CodeError, Skill, SkillMeta};

/// All skills, in the order of teaching.
pub const SKILLS: &[&dyn Skill] = &[
    &compass_points::CompassPoints,
    &turns::Turns,
    &read_dial::ReadDial,
    &set_dial::SetDial,
    &back_bearing::BackBearing,
    &grid_reference::GridReferenceSkill,
    &scale_distance::ScaleDistance,
    &protractor_bearing::ProtractorBearing,
    &baseplate_bearing::BaseplateBearing,
    &diagram::Diagram,
    &true_magnetic::TrueMagnetic,
    &grid_magnetic::GridMagneticSkill,
    &dated_map::DatedMap,
    &relief::Relief,
    &orient_landmarks::OrientLandmarks,
    &hands::NumberOrHand(orient_magnetic_line::OrientMagneticLine),
    &hands::NumberOrHand(orient_true_line::OrientTrueLine),
    &hands::NumberOrHand(orient_grid::OrientGrid),
    &oriented_bearing::OrientedBearing,
    &take_bearing::TakeBearing,
    &follow_bearing::FollowBearing,
    &walk_bearing::WalkBearing,
    &back_sight::BackSight,
    &pacing::Pacing,
    &timing::Timing,
    &compass_faults::CompassFaults,
    &fix_on_line::FixOnLine,
    &resection::Resection,
    &one_in_sixty::OneInSixty,
    &aim_off::AimOff,
    &route_features::RouteFeatures,
    &box_detour::BoxDetour,
    &course_leg::CourseLeg,
    &thirty_two_points::ThirtyTwoPoints,
];

/// What is known of every skill, in the order of teaching.
pub fn metas() -> impl Iterator<Item = &'static SkillMeta> + Clone {
    SKILLS.iter().map(|skill| skill.meta())
}

/// Skills that are asked only where a drill, a standard or somebody who practises names them: most groups never need them.
const ON_WISH: [&str; 1] = ["thirty-two-points"];

/// Whether a skill is asked without being named.
#[must_use]
pub fn is_common(skill: &SkillMeta) -> bool {
    !ON_WISH.contains(&skill.id)
}

/// The skill with this id.
#[must_use]
pub fn find(id: &str) -> Option<&'static dyn Skill> {
    SKILLS.iter().copied().find(|skill| skill.meta().id == id)
}

/// Reads a code of any skill.
///
/// # Errors
/// [`CodeError`], saying which part is wrong.
pub fn read_code(text: &str) -> Result<Code, CodeError> {
    Code::read(text, SKILLS)
}
