//! A scene cut off at the edges of its sheet, so that it can stand beside another one.

use super::{Area, Line, Point, Scene, SceneItem};

/// One edge of the sheet: what lies on its right side stays.
#[derive(Clone, Copy)]
enum Edge {
    Left,
    Top,
    Right(f64),
    Foot(f64),
}

impl Edge {
    /// How far inside of the edge a point lies; negative outside.
    fn inside(self, at: Point) -> f64 {
        match self {
            Edge::Left => at.x,
            Edge::Top => at.y,
            Edge::Right(width) => width - at.x,
            Edge::Foot(height) => height - at.y,
        }
    }

    /// Where the way between two points on different sides crosses the edge.
    fn crossing(self, from: Point, to: Point) -> Point {
        let (here, there) = (self.inside(from), self.inside(to));
        let part = here / (here - there);
        Point::new(from.x + part * (to.x - from.x), from.y + part * (to.y - from.y))
    }
}

/// The scene without what lies outside of its sheet. Writing and marks are there when their place is.
pub(super) fn clipped(scene: Scene) -> Scene {
    let edges = [Edge::Left, Edge::Top, Edge::Right(scene.width_mm), Edge::Foot(scene.height_mm)];
    let within = |at: Point| edges.iter().all(|edge| edge.inside(at) >= 0.0);
    let mut items = Vec::with_capacity(scene.items.len());
    for item in scene.items {
        match item {
            SceneItem::Line(line) => items.extend(pieces(&line, &edges).into_iter().map(SceneItem::Line)),
            SceneItem::Area(area) => {
                let outline = edges.iter().fold(area.outline, |outline, edge| cut(&outline, *edge));
                if outline.len() > 2 {
                    items.push(SceneItem::Area(Area { outline, ..area }));
                }
            }
            SceneItem::Label(label) if within(label.anchor) => items.push(SceneItem::Label(label)),
            SceneItem::Mark(mark) if within(mark.at) => items.push(SceneItem::Mark(mark)),
            SceneItem::Label(_) | SceneItem::Mark(_) => {}
        }
    }
    Scene { items, ..scene }
}

/// The part of a closed outline that lies inside of an edge.
fn cut(outline: &[Point], edge: Edge) -> Vec<Point> {
    let mut inside = Vec::with_capacity(outline.len() + 2);
    let before = outline.iter().cycle().skip(outline.len().saturating_sub(1));
    for (from, to) in before.zip(outline) {
        let (was, is) = (edge.inside(*from) >= 0.0, edge.inside(*to) >= 0.0);
        if was != is {
            inside.push(edge.crossing(*from, *to));
        }
        if is {
            inside.push(*to);
        }
    }
    inside
}

/// The pieces of a line that lie within all edges.
fn pieces(line: &Line, edges: &[Edge]) -> Vec<Line> {
    let mut lines = vec![line.points.clone()];
    for edge in edges {
        lines = lines.iter().flat_map(|points| parts(points, *edge)).collect();
    }
    let piece = |points| Line { points, ..line.clone() };
    lines.into_iter().filter(|points| points.len() > 1).map(piece).collect()
}

/// The parts of an open line inside of an edge.
fn parts(points: &[Point], edge: Edge) -> Vec<Vec<Point>> {
    let mut parts = Vec::new();
    let mut part: Vec<Point> =
        points.first().filter(|first| edge.inside(**first) >= 0.0).copied().into_iter().collect();
    for pair in points.windows(2) {
        let (was, is) = (edge.inside(pair[0]) >= 0.0, edge.inside(pair[1]) >= 0.0);
        if was != is {
            part.push(edge.crossing(pair[0], pair[1]));
        }
        if is {
            part.push(pair[1]);
        } else if was {
            parts.push(std::mem::take(&mut part));
        }
    }
    parts.push(part);
    parts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numbers::whole;
    use crate::scene::{Ink, Label, circle};
    use proptest::prelude::*;

    fn points(scene: &Scene) -> Vec<Point> {
        let of = |item: &SceneItem| match item {
            SceneItem::Line(line) => line.points.clone(),
            SceneItem::Area(area) => area.outline.clone(),
            SceneItem::Label(label) => vec![label.anchor],
            SceneItem::Mark(mark) => vec![mark.at],
        };
        scene.items.iter().flat_map(of).collect()
    }

    #[test]
    fn a_line_that_leaves_the_sheet_and_comes_back_is_two_pieces() {
        let mut scene = Scene::new(10.0, 10.0);
        let through = [(1.0, 5.0), (15.0, 5.0), (15.0, 8.0), (2.0, 8.0)];
        scene.add(Line::through(through.map(|(x, y)| Point::new(x, y)).to_vec(), Ink::Text));
        scene.add(Label::new("gone", Point::new(12.0, 1.0), Ink::Text));
        let clipped = clipped(scene);
        let lines: Vec<Vec<(f64, f64)>> = clipped
            .items
            .iter()
            .filter_map(|item| match item {
                SceneItem::Line(line) => Some(line.points.iter().map(|at| (at.x, at.y)).collect()),
                _ => None,
            })
            .collect();
        assert_eq!(lines, [vec![(1.0, 5.0), (10.0, 5.0)], vec![(10.0, 8.0), (2.0, 8.0)]]);
        assert_eq!(clipped.items.len(), 2, "the label outside is gone");
    }

    #[test]
    fn an_area_larger_than_the_sheet_becomes_the_sheet() {
        let mut scene = Scene::new(4.0, 2.0);
        let corners = [(-9.0, -9.0), (9.0, -9.0), (9.0, 9.0), (-9.0, 9.0)];
        scene.add(Area::cover(corners.map(|(x, y)| Point::new(x, y)).to_vec(), Ink::Plate));
        let mut left: Vec<(i64, i64)> =
            points(&clipped(scene)).iter().map(|at| (whole(at.x.round()), whole(at.y.round()))).collect();
        left.sort_unstable();
        assert_eq!(left, [(0, 0), (0, 2), (4, 0), (4, 2)]);
    }

    proptest! {
        #[test]
        fn nothing_is_left_outside(x in -20.0..30.0_f64, y in -20.0..30.0_f64, radius in 0.5..40.0_f64) {
            let mut scene = Scene::new(10.0, 10.0);
            scene.add(Line::through(circle(Point::new(x, y), radius), Ink::Text));
            scene.add(Area::cover(circle(Point::new(x, y), radius), Ink::Plate));
            for at in points(&clipped(scene)) {
                prop_assert!((-1e-9..=10.0 + 1e-9).contains(&at.x) && (-1e-9..=10.0 + 1e-9).contains(&at.y), "{at:?}");
            }
        }
    }
}
