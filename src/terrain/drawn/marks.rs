//! The marks of landmarks, upright however the map is turned; only a bridge follows its path.
use crate::scene::{Area, Direction, Ink, Line, Mark, MarkKind, Point, Scene};
use crate::terrain::LandmarkKind;

/// How far a mark reaches from its middle to each side at most, in mm.
pub(super) const REACH_MM: f64 = 2.0;

/// Draws the mark of a landmark. `way` is the direction of a bridge's path on the panel.
pub(super) fn draw(scene: &mut Scene, kind: LandmarkKind, at: Point, way: Direction, ink: Ink) {
    let line = |from: (f64, f64), to: (f64, f64)| Line::straight(at.moved(from.0, from.1), at.moved(to.0, to.1), ink);
    let corners = |wide: f64, high: f64| {
        vec![at.moved(-wide, -high), at.moved(wide, -high), at.moved(wide, high), at.moved(-wide, high)]
    };
    match kind {
        LandmarkKind::Summit => {
            scene.add(Mark::new(MarkKind::Triangle, at.moved(0.0, -1.6), 3.2, ink));
        }
        LandmarkKind::Hut => {
            scene.add(Area::solid(corners(1.1, 1.1), ink));
        }
        LandmarkKind::Farm => {
            scene.add(Area::solid(corners(1.9, 0.6), ink));
            scene.add(line((-1.9, -1.6), (-1.9, 0.0)));
        }
        LandmarkKind::Chapel => {
            scene.add(line((0.0, -2.0), (0.0, 2.0)));
            scene.add(line((-1.2, -0.9), (1.2, -0.9)));
        }
        LandmarkKind::Tower => {
            scene.add(Mark::new(MarkKind::Ring, at, 3.8, ink));
            scene.add(Mark::new(MarkKind::Spot, at, 0.6, ink));
        }
        LandmarkKind::Cairn => {
            for (x, y) in [(0.0, -1.2), (-1.2, 1.0), (1.2, 1.0)] {
                scene.add(Mark::new(MarkKind::Spot, at.moved(x, y), 0.8, ink));
            }
        }
        LandmarkKind::Ruin => {
            let mut outline = corners(1.6, 1.6);
            outline.extend(outline.first().copied());
            scene.add(Line::through(outline, ink));
        }
        LandmarkKind::Boulder => {
            scene.add(Mark::new(MarkKind::Spot, at, 1.6, ink));
        }
        LandmarkKind::Spring => {
            scene.add(Mark::new(MarkKind::Ring, at, 2.6, ink));
        }
        LandmarkKind::Bridge => {
            let side = way.quarter_clockwise();
            for aside in [-1.2, 1.2] {
                let rail = at.along(side, aside);
                scene.add(Line::straight(rail.along(way, -1.6), rail.along(way, 1.6), ink));
            }
        }
    }
}
