//! The parts of the compass, each as the picture draws it, for the words beside the picture that name them.

use crate::scene::blocks::one_row;
use crate::scene::{Area, Ink, Label, Line, Point, Scene};

/// A part of the compass that words name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CompassSign {
    /// The needle, its north end to the right.
    Needle,
    /// The orienting arrow, its head up.
    OrientingArrow,
    /// The working edge of the plate.
    Edge,
    /// The travel arrow, pointing up.
    TravelArrow,
}

impl CompassSign {
    /// How many characters wide it is.
    pub const COLUMNS: u16 = 3;

    /// The part on what it lies on, for one row of so many cells: here a millimetre is a dot of the cells.
    #[must_use]
    pub fn scene(self) -> Scene {
        let dots = f64::from(Self::COLUMNS) * 2.0;
        let ground = match self {
            CompassSign::Needle => Ink::Capsule,
            CompassSign::OrientingArrow => Ink::Orienting,
            CompassSign::Edge | CompassSign::TravelArrow => Ink::Plate,
        };
        let (mut scene, at) = one_row(dots, ground);
        let through = |points: &[(f64, f64)]| points.iter().map(|&(x, y)| at(x, y)).collect::<Vec<Point>>();
        match self {
            CompassSign::Needle => {
                scene.add(Line::through(through(&[(0.0, 1.0), (1.0, 1.0)]), Ink::NeedleSouth).bold());
                // In dots, which are seen on the light floor without colour, where a block would be one more gap.
                scene.add(Area::solid(through(&[(2.0, 0.0), (3.0, 0.0), (3.0, 3.0), (2.0, 3.0)]), Ink::NeedleNorth));
                // Which of its ends is north, nobody has to know before.
                scene.add(Label::new("N", at(4.5, 1.5), Ink::Text).strong());
            }
            CompassSign::OrientingArrow => {
                for half in
                    [[(1.0, 3.0), (1.0, 1.0), (0.0, 1.0), (2.0, 0.0)], [(4.0, 3.0), (4.0, 1.0), (5.0, 1.0), (3.0, 0.0)]]
                {
                    scene.add(Line::through(through(&half), Ink::Orienting));
                }
            }
            CompassSign::Edge => {
                scene.add(Area::dense(through(&[(0.0, 2.0), (5.0, 2.0), (5.0, 3.0), (0.0, 3.0)]), Ink::Edge));
            }
            CompassSign::TravelArrow => {
                scene.add(Area::dense(through(&[(2.0, 0.0), (3.0, 0.0), (5.0, 4.0), (0.0, 4.0)]), Ink::Compass));
            }
        }
        scene
    }
}
