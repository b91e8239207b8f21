//! The marks of landmarks, upright however the map is turned; only a bridge follows its path.
use crate::scene::{Area, Direction, Ink, Line, Mark, MarkKind, Point, Scene};
use crate::terrain::LandmarkKind;

/// How far a mark reaches from its middle to each side at most, in mm.
pub(super) const REACH_MM: f64 = 2.3;

/// Draws the mark of a landmark. `way` is the direction of a bridge's path on the panel.
pub(super) fn draw(scene: &mut Scene, kind: LandmarkKind, at: Point, way: Direction, ink: Ink) {
    let line = |from: (f64, f64), to: (f64, f64)| Line::straight(at.moved(from.0, from.1), at.moved(to.0, to.1), ink);
    let corners = |wide: f64, high: f64| {
        vec![at.moved(-wide, -high), at.moved(wide, -high), at.moved(wide, high), at.moved(-wide, high)]
    };
    let mut closed = |mut outline: Vec<Point>| {
        outline.extend(outline.first().copied());
        scene.add(Line::through(outline, ink));
    };
    match kind {
        LandmarkKind::Summit => {
            scene.add(Mark::new(MarkKind::Triangle, at.moved(0.0, -2.0), 4.0, ink));
        }
        LandmarkKind::Hut => {
            scene.add(Area::solid(corners(1.5, 1.5), ink));
        }
        LandmarkKind::Farm => {
            scene.add(Area::solid(corners(2.0, 1.0), ink));
            scene.add(line((-2.0, -2.0), (-2.0, 0.0)));
        }
        LandmarkKind::Chapel => {
            scene.add(line((0.0, -2.2), (0.0, 2.2)));
            scene.add(line((-1.6, -0.8), (1.6, -0.8)));
        }
        LandmarkKind::Tower => {
            scene.add(Mark::new(MarkKind::Ring, at, 4.4, ink));
            scene.add(Mark::new(MarkKind::Spot, at, 0.6, ink));
        }
        LandmarkKind::Cairn => {
            closed(vec![at.moved(0.0, -2.0), at.moved(2.0, 1.8), at.moved(-2.0, 1.8)]);
        }
        LandmarkKind::Ruin => {
            closed(corners(1.8, 1.8));
        }
        LandmarkKind::Boulder => {
            closed(vec![at.moved(0.0, -2.0), at.moved(2.0, 0.0), at.moved(0.0, 2.0), at.moved(-2.0, 0.0)]);
        }
        LandmarkKind::Spring => {
            scene.add(Mark::new(MarkKind::Ring, at, 3.0, ink));
        }
        LandmarkKind::Bridge => {
            let side = way.quarter_clockwise();
            for aside in [-1.4, 1.4] {
                let rail = at.along(side, aside);
                scene.add(Line::straight(rail.along(way, -2.0), rail.along(way, 2.0), ink));
            }
        }
    }
}
