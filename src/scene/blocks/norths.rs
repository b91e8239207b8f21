//! The three norths as declination diagrams show them: star, `GN`, half arrow (common practice on topographic maps).
use super::beyond;
use crate::scene::{Direction, Ink, Label, Line, Mark, MarkKind, Point, Priority, Scene};

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
}

/// One north line from its foot, with its symbol and its name (may be empty) beyond the tip.
///
/// `reach_mm` is how far the line goes; star and name stand beyond it, 1.5 lines of writing high at most.
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
    let mut end = tip;
    match kind {
        NorthKind::True => {
            // A star of the height of a letter, just beyond the tip.
            let at = beyond(tip, direction, "*", text_mm);
            scene.add(Mark::new(MarkKind::Star, at, text_mm, ink));
            end = at.along(direction, text_mm * 0.3);
        }
        NorthKind::Magnetic => {
            let mark = Mark::new(MarkKind::HalfArrow, tip, text_mm * 1.6, ink);
            // The barb stands on the outer side of the fan: counterclockwise when the line leans that way.
            scene.add(mark.toward(direction));
        }
        NorthKind::Grid => {}
    }
    if !name.is_empty() {
        let at = beyond(end, direction, name, text_mm);
        scene.add(Label::new(name, at, ink).strong().priority(Priority::High));
    }
}
