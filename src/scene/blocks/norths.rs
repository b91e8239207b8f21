//! The three norths as declination diagrams show them: star, `GN`, half arrow (common practice on topographic maps).
use super::clearance;
use crate::scene::{Direction, Ink, Label, Line, Mark, MarkKind, Point, Priority, Scene, Side};

/// Which north a line shows; for drawing only.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NorthKind {
    /// True north: a star.
    True,
    /// Grid north: its letters, given by the caller.
    Grid,
    /// Magnetic north: half an arrow head.
    Magnetic,
}

impl NorthKind {
    /// The role of its line.
    #[must_use]
    pub const fn ink(self) -> Ink {
        match self {
            NorthKind::True => Ink::TrueNorth,
            NorthKind::Grid => Ink::GridNorth,
            NorthKind::Magnetic => Ink::MagneticNorth,
        }
    }

    /// How far beyond the tip the middle of the star stands, in mm.
    fn star_offset(direction: Direction, text_mm: f64) -> f64 {
        clearance("*", text_mm, direction) + text_mm * 0.35
    }

    /// How far beyond the tip the middle of the name stands, in mm.
    pub(super) fn name_offset(self, direction: Direction, name: &str, text_mm: f64) -> f64 {
        let own = clearance(name, text_mm, direction);
        match self {
            NorthKind::True => Self::star_offset(direction, text_mm) + clearance("*", text_mm, direction) + own,
            NorthKind::Grid | NorthKind::Magnetic => own + text_mm * 0.35,
        }
    }
}

/// One north line from its foot, with its symbol and its name (may be empty) beyond the tip.
///
/// `reach_mm` is how far the line goes; star and name stand beyond it, 2.4 lines of writing high at most.
pub(super) fn draw(
    scene: &mut Scene,
    foot: Point,
    (kind, direction, name): (NorthKind, Direction, &str),
    reach_mm: f64,
    text_mm: f64,
) {
    let ink = kind.ink();
    let tip = foot.along(direction, reach_mm);
    scene.add(Line::straight(foot, tip, ink));
    match kind {
        NorthKind::True => {
            let at = tip.along(direction, NorthKind::star_offset(direction, text_mm));
            scene.add(Mark::new(MarkKind::Star, at, text_mm, ink));
        }
        NorthKind::Magnetic => {
            // The barb stands on the side to which the line leans: outside the fan, where there is room.
            let side = if direction.dx() < 0.0 { Side::Counterclockwise } else { Side::Clockwise };
            scene.add(Mark::new(MarkKind::HalfArrow(side), tip, text_mm * 1.6, ink).toward(direction));
        }
        NorthKind::Grid => {}
    }
    if !name.is_empty() {
        let at = tip.along(direction, kind.name_offset(direction, name, text_mm));
        scene.add(Label::new(name, at, ink).strong().priority(Priority::High).near());
    }
}
