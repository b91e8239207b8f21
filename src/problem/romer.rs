//! A romer laid on a map: a corner scale for the map's squares. With its corner on a place, its two edges say how many tenths of a
//! square the place lies beyond the grid lines.

use super::TEXT_MM;
use crate::ground::plane::GridPosition;
use crate::numbers::whole;
use crate::scene::{Area, Ink, Label, Line, Point, Priority, Scene};
use crate::terrain::{Map, MapView};

/// A romer, its edges along the grid lines, its corner up and to the right.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Romer {
    /// The south-west corner of the grid square that is looked at.
    pub square: GridPosition,
    /// Where its corner lies; none while it is not laid.
    pub corner: Option<GridPosition>,
}

/// The side of a square, and of a tenth of it, in metres.
const SQUARE_M: f64 = 1000.0;
const TENTH_M: f64 = 100.0;
/// What is shown around the square, in metres.
const AROUND_M: f64 = 190.0;
/// How wide its arms are, in lines of writing: the upper one has a row of numbers, the right one a column.
const UPPER: f64 = 2.1;
const RIGHT: f64 = 1.55;
/// How far a grid line is drawn whole outside of the romer, in lines of writing.
const STUB: f64 = 1.3;

impl Romer {
    /// The square with a little around it, as large as fits on a panel of this size in mm.
    pub(super) fn view(&self, map: &Map, width_mm: f64, height_mm: f64) -> MapView {
        let middle = moved(self.square, SQUARE_M / 2.0, SQUARE_M / 2.0);
        let across = (SQUARE_M + 2.0 * AROUND_M) / 1000.0 * map.spec().scale.mm_per_km();
        let around = MapView::around(map.at_grid_position(middle), width_mm, height_mm);
        MapView { zoom: width_mm.min(height_mm) / across, unnamed: Some(crate::angle::North::Grid), ..around }
    }

    /// The numbers of the square's four lines at the edge of the panel, and the romer where it is laid.
    pub(super) fn draw(&self, on_panel: impl Fn(GridPosition) -> Point, scene: &mut Scene) {
        let (left, foot) = (TEXT_MM * 0.75, scene.height_mm - TEXT_MM * 0.5);
        for far in [0.0, SQUARE_M] {
            let at = on_panel(moved(self.square, far, far));
            let [east, north] = lines(moved(self.square, far, far)).map(|line| line.to_string());
            for (text, at) in [(east, Point::new(at.x, foot)), (north, Point::new(left, at.y))] {
                scene.add(Label::new(text, at, Ink::GridNorth).strong().priority(Priority::High));
            }
        }
        let Some(corner) = self.corner else { return };
        let at = |west: f64, south: f64| on_panel(moved(corner, -west, -south));
        let (tip, end) = (at(0.0, 0.0), at(SQUARE_M * 1.04, SQUARE_M * 1.04));
        let (under, aside) = (tip.y + UPPER * TEXT_MM, tip.x - RIGHT * TEXT_MM);
        let outline = vec![
            tip,
            Point::new(tip.x, end.y),
            Point::new(aside, end.y),
            Point::new(aside, under),
            Point::new(end.x, under),
            Point::new(end.x, tip.y),
        ];
        scene.add(Area::cover(outline.clone(), Ink::Plate));
        let closed = outline.into_iter().chain([tip]).collect();
        scene.add(Line::through(closed, Ink::Plate));
        // The lines of the square run on to the edges, so that the eye finds where they meet.
        let meets = on_panel(self.square);
        let (line, level) = (Point::new(meets.x, tip.y), Point::new(tip.x, meets.y));
        for (from, to) in [(line, line.moved(0.0, -STUB * TEXT_MM)), (level, level.moved(STUB * TEXT_MM, 0.0))] {
            scene.add(Line::straight(from, to, Ink::GridNorth));
        }
        for tenth in 1..=10 {
            let metres = f64::from(tenth) * TENTH_M;
            let long = if tenth % 5 == 0 { 0.7 } else { 0.45 };
            let (above, beside) = (at(metres, 0.0), at(0.0, metres));
            scene.add(Line::straight(above, above.moved(0.0, long * TEXT_MM), Ink::Plate));
            scene.add(Line::straight(beside, beside.moved(-long * TEXT_MM, 0.0), Ink::Plate));
            if tenth == 10 {
                continue;
            }
            let number = |at| Label::new(tenth.to_string(), at, Ink::Text).priority(Priority::High);
            scene.add(number(above.moved(0.0, 1.4 * TEXT_MM)));
            // The two ones would stand in one cell.
            if tenth > 1 {
                scene.add(number(beside.moved(-1.05 * TEXT_MM, 0.0)));
            }
        }
    }

    /// What the romer shows with its corner on this place, in words: between which of its marks the grid lines meet it, not what
    /// follows from that.
    pub(super) fn in_words(&self, place: GridPosition) -> String {
        let ([east, north], tenths) = (lines(self.square), tenths(self.square, place));
        let [along, up] = tenths.map(|tenth| format!("between its marks {tenth} and {}", tenth + 1));
        format!(
            "One square of a map, between grid lines {east} and {} east, {north} and {} north. A lies in it. A romer lies on the map with its corner on A, its scales counted from the corner. Grid line {east} meets its upper edge {along}; grid line {north} meets its right edge {up}.",
            east + 1,
            north + 1
        )
    }
}

/// The whole tenths of a square that a place lies beyond the square's corner: east, north.
fn tenths(square: GridPosition, place: GridPosition) -> [i32; 2] {
    [place.easting_m - square.easting_m, place.northing_m - square.northing_m]
        .map(|beyond| whole((beyond / TENTH_M).floor()))
}

/// The numbers of the two lines that cross at a corner.
fn lines(corner: GridPosition) -> [i32; 2] {
    [corner.easting_m, corner.northing_m].map(|metres| whole((metres / SQUARE_M).round()))
}

/// So many metres further east and north.
fn moved(from: GridPosition, east: f64, north: f64) -> GridPosition {
    GridPosition { easting_m: from.easting_m + east, northing_m: from.northing_m + north }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::GridReference;
    use crate::scene::SceneItem;
    use proptest::prelude::*;

    /// A panel on which a metre is a twentieth of a millimetre.
    fn on_panel(at: GridPosition) -> Point {
        Point::new((at.easting_m - 36_000.0) / 20.0, (58_000.0 - at.northing_m) / 20.0)
    }

    /// How many of the romer's marks stand between its corner and the grid line, on its upper and on its right edge.
    fn read(romer: Romer) -> [usize; 2] {
        let mut scene = Scene::new(80.0, 68.0);
        romer.draw(on_panel, &mut scene);
        let (line, corner) = (on_panel(romer.square), on_panel(romer.corner.expect("laid")));
        let mut read = [0, 0];
        for item in &scene.items {
            let SceneItem::Line(tick) = item else { continue };
            let [from, to] = tick.points[..] else { continue };
            if from.y == corner.y && to.y > from.y && from.x > line.x {
                read[0] += 1;
            }
            if from.x == corner.x && to.x < from.x && from.y < line.y {
                read[1] += 1;
            }
        }
        read
    }

    proptest! {
        #[test]
        fn the_marks_before_the_grid_lines_are_the_figures_of_the_reference(east in 1..1000_i32, north in 1..1000_i32) {
            prop_assume!(east % 100 != 0 && north % 100 != 0);
            let square = GridPosition { easting_m: 36_000.0, northing_m: 57_000.0 };
            let place = moved(square, f64::from(east), f64::from(north));
            let [along, up] = read(Romer { square, corner: Some(place) });
            let reference = GridReference::of_metres(None, place.easting_m, place.northing_m, 6).expect("on the grid");
            prop_assert_eq!(format!("36{along}57{up}"), reference.to_string());
            prop_assert_eq!(tenths(square, place).map(|tenth| usize::try_from(tenth).expect("few")), [along, up]);
        }
    }

    #[test]
    fn a_romer_that_is_not_laid_leaves_the_numbers_of_the_lines_alone() {
        let mut scene = Scene::new(80.0, 68.0);
        let square = GridPosition { easting_m: 36_000.0, northing_m: 57_000.0 };
        Romer { square, corner: None }.draw(on_panel, &mut scene);
        let texts: Vec<&str> = scene
            .items
            .iter()
            .map(|item| if let SceneItem::Label(label) = item { label.text.as_str() } else { "something else" })
            .collect();
        assert_eq!(texts, ["36", "57", "37", "58"]);
    }
}
