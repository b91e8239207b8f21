//! Home ground as screens show it, and as a practice needs it.

use super::plan::HomeGround;
use crate::angle::Angle;
use crate::problem::{NorthLines, Prong};
use jiff::civil::Date;

/// Every kind of north line.
const ALL_LINES: [NorthLines; 3] = [NorthLines::Magnetic, NorthLines::True, NorthLines::Grid];

/// Home ground on one day, in words.
#[derive(Clone, Debug, PartialEq)]
pub struct GroundCard {
    /// For the choice of problems.
    pub home: HomeGround,
    /// The day.
    pub day: Date,
    /// Where it is, e.g. as UTM.
    pub place: String,
    /// The declination today, e.g. `9°36′ W`; what stands in for it when the model gives none.
    pub declination: String,
    /// The yearly change, e.g. `9′ east a year`.
    pub change: Option<String>,
    /// The convergence, e.g. `1°10′ W`.
    pub convergence: Option<String>,
    /// The G-M angle, e.g. `8°26′ W`.
    pub grid_magnetic: Option<String>,
    /// The declination diagram.
    pub prongs: Vec<Prong>,
    /// The magnetic zone, when a compass must not be trusted here; the model's limits, when the date lies outside.
    pub cautions: Vec<String>,
    /// What the leader's own map says, compared with today.
    pub own_map: Vec<String>,
    /// The file that holds it, and whether it exists.
    pub file: String,
}

impl GroundCard {
    /// A card without any place: declinations come from anywhere.
    #[must_use]
    pub fn bare(day: Date) -> GroundCard {
        GroundCard {
            home: HomeGround {
                name: "no home ground".to_owned(),
                angles: None,
                invented: true,
                lines: ALL_LINES.to_vec(),
            },
            day,
            place: String::new(),
            declination: "not known".to_owned(),
            change: None,
            convergence: None,
            grid_magnetic: None,
            prongs: vec![Prong { north: crate::angle::North::True, drawn: Angle::ZERO, printed: None }],
            cautions: Vec::new(),
            own_map: Vec::new(),
            file: String::new(),
        }
    }
}
