//! A paper edge laid along a path: ticked where it turns, and then held against the scale bar.

use super::TEXT_MM;
use crate::ground::GridLeg;
use crate::ground::plane::GridPosition;
use crate::numbers::whole;
use crate::scene::{Align, Area, Direction, Ink, Label, Line, Mark, MarkKind, Point, Priority, Scene};
use crate::terrain::{Map, MapView, Spot};

/// A paper edge along a path from A to B. Distances along the path are in metres from A.
#[derive(Clone, Debug, PartialEq)]
pub struct PaperEdge {
    /// The corners of the path, two at least.
    pub path: Vec<GridPosition>,
    /// Where the edge was ticked, each further on than the one before; the first tick is at A and not told here.
    pub ticks: Vec<f64>,
    /// Where the hand is; none while the edge is not laid.
    pub at: Option<f64>,
    /// Whether it is held against the scale bar.
    pub held: bool,
}

/// How wide the paper is, and how far it reaches beyond the hand, in lines of writing.
const WIDE: f64 = 0.8;
const BEYOND: f64 = 0.6;
/// How high the margin with the bar is, in lines of writing.
const MARGIN: f64 = 6.0;
/// A short path is not shown larger than this, in mm of the panel for a millimetre of paper.
const MOST_ZOOM: f64 = 1.6;
/// Kilometres of the bar right of its zero.
const BAR_KM: i32 = 2;

impl PaperEdge {
    /// An edge that is not laid yet.
    #[must_use]
    pub const fn new(path: Vec<GridPosition>) -> PaperEdge {
        PaperEdge { path, ticks: Vec::new(), at: None, held: false }
    }

    /// How long the path is.
    #[must_use]
    pub fn path_m(&self) -> f64 {
        length(&self.path)
    }

    /// The place so far along the path.
    #[must_use]
    pub fn place(&self, along: f64) -> GridPosition {
        let mut left = along;
        for piece in self.path.windows(2) {
            let [from, to] = piece else { continue };
            let leg = from.leg_to(*to);
            if left <= leg.distance_m {
                return from.after(GridLeg { distance_m: left.max(0.0), ..leg });
            }
            left -= leg.distance_m;
        }
        self.path.last().copied().unwrap_or(GridPosition { easting_m: 0.0, northing_m: 0.0 })
    }

    /// Lays it with its end at A, or takes it away.
    pub fn lay(&mut self) {
        self.at = if self.at.is_some() { None } else { Some(0.0) };
        self.ticks.clear();
        self.held = false;
    }

    /// Moves the hand along the path; ticks that it comes back over are taken away.
    pub fn go(&mut self, by: f64) {
        let end = self.path_m();
        if let Some(at) = &mut self.at {
            *at = (*at + by).clamp(0.0, end);
            let reached = *at;
            self.ticks.retain(|tick| *tick <= reached);
        }
    }

    /// Ticks the edge at the hand, where it then turns.
    pub fn tick(&mut self) {
        let last = self.ticks.last().copied().unwrap_or(0.0);
        self.ticks.extend(self.at.filter(|at| *at > last));
    }

    /// The edge ticked at every corner of its path.
    #[must_use]
    pub fn ticked(mut self) -> PaperEdge {
        let ends = 2..=self.path.len();
        self.ticks = ends.map(|end| length(&self.path[..end])).collect();
        self.at = self.ticks.last().copied();
        self
    }

    /// The same, held against the bar.
    #[must_use]
    pub fn on_the_bar(mut self) -> PaperEdge {
        self.held = true;
        self
    }

    /// Whether the last tick stands at the end of the path.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        self.ticks.last().is_some_and(|last| *last >= self.path_m() - 1e-6)
    }

    /// How long the edge is from A to its last tick: each piece straight.
    #[must_use]
    pub fn measured_m(&self) -> f64 {
        length(&self.ticked_places())
    }

    fn ticked_places(&self) -> Vec<GridPosition> {
        [0.0].iter().chain(&self.ticks).map(|tick| self.place(*tick)).collect()
    }

    /// The ticks on the straightened edge, in metres from the first one.
    fn straightened(&self) -> Vec<f64> {
        let places = self.ticked_places();
        (1..=places.len()).map(|end| length(&places[..end])).collect()
    }

    /// The path as large as it fits on a panel of this size in mm.
    pub(super) fn view(&self, map: &Map, width_mm: f64, height_mm: f64) -> MapView {
        let spots = || self.path.iter().map(|at| map.at_grid_position(*at));
        let span = |at: fn(Spot) -> f64| {
            let (low, high) =
                spots().map(at).fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)));
            (f64::midpoint(low, high), (high - low).max(1.0))
        };
        let (east, wide) = span(|spot| spot.east_mm);
        let (north, high) = span(|spot| spot.north_mm);
        // Beside the ends stand their letters.
        let zoom = ((width_mm - 6.0 * TEXT_MM) / wide).min((height_mm - 3.0 * TEXT_MM) / high);
        MapView { zoom: zoom.min(MOST_ZOOM), ..MapView::around(Spot::new(east, north), width_mm, height_mm) }
    }

    /// Draws the edge where it is.
    pub(super) fn draw(&self, on_panel: impl Fn(GridPosition) -> Point, scene: &mut Scene) {
        let Some(at) = self.at else { return };
        let places = self.ticked_places();
        let points: Vec<Point> = places.iter().map(|place| on_panel(*place)).collect();
        let hand = on_panel(self.place(at));
        if let (false, Some(turned)) = (self.held, points.last()) {
            self.draw_paper(*turned, hand, scene);
        }
        for (number, tick) in points.iter().enumerate() {
            let (before, after) = (points.get(number.wrapping_sub(1)), points.get(number + 1).copied());
            let next = after.unwrap_or(hand);
            let way = Direction::between(*tick, next).or_else(|| Direction::between(*before?, *tick));
            if let Some(across) = way.map(Direction::quarter_clockwise) {
                let end = |side: f64| tick.along(across, side * TEXT_MM * 0.5);
                scene.add(Line::straight(end(-1.0), end(1.0), Ink::Edge));
            }
        }
        if self.held {
            self.draw_bar(scene);
        } else {
            scene.add(Mark::new(MarkKind::Ring, hand, TEXT_MM * 0.9, Ink::LearnerLine));
        }
    }

    /// The paper from its last tick to the hand, beside the path, and a little beyond.
    fn draw_paper(&self, turned: Point, hand: Point, scene: &mut Scene) {
        let next = self.path.get(1).zip(self.path.first());
        let first = next.and_then(|(next, from)| {
            let (east, north) = (next.easting_m - from.easting_m, next.northing_m - from.northing_m);
            Direction::between(Point::new(0.0, 0.0), Point::new(east, -north))
        });
        let Some(way) = Direction::between(turned, hand).or(first) else { return };
        let (from, to) = (turned.along(way, -BEYOND * TEXT_MM), hand.along(way, BEYOND * TEXT_MM));
        let aside = |at: Point| at.along(way.quarter_clockwise(), WIDE * TEXT_MM);
        let outline = vec![from, to, aside(to), aside(from)];
        scene.add(Area::cover(outline.clone(), Ink::Plate));
        scene.add(Line::through(outline.into_iter().chain([from]).collect(), Ink::Plate));
        scene.add(Line::straight(from, to, Ink::Edge));
    }

    /// The margin of the map with its bar, and the paper on it: B on a whole kilometre, A in the tenths left of the zero.
    fn draw_bar(&self, scene: &mut Scene) {
        let (width, top) = (scene.width_mm, scene.height_mm - MARGIN * TEXT_MM);
        let sheet = [(0.0, top), (width, top), (width, scene.height_mm), (0.0, scene.height_mm)];
        scene.add(Area::cover(sheet.map(|(x, y)| Point::new(x, y)).to_vec(), Ink::Sheet));
        scene.add(Line::straight(Point::new(0.0, top), Point::new(width, top), Ink::Border));
        let row = |rows: f64| top + rows * TEXT_MM;
        let (bar, paper) = (row(3.9), row(2.9));
        let mm_per_m = (width - 5.0 * TEXT_MM) / f64::from(BAR_KM + 1) / 1000.0;
        let zero = width / 2.0 - f64::from(BAR_KM - 1) * 500.0 * mm_per_m;
        let x = |metres: f64| zero + metres * mm_per_m;
        scene.add(Line::straight(
            Point::new(x(-1000.0), bar),
            Point::new(x(f64::from(BAR_KM) * 1000.0), bar),
            Ink::Works,
        ));
        let mut tick = |metres: f64, long: f64| {
            scene.add(Line::straight(
                Point::new(x(metres), bar),
                Point::new(x(metres), bar - long * TEXT_MM),
                Ink::Works,
            ));
        };
        (1..10).for_each(|tenth| tick(f64::from(tenth) * -100.0, if tenth == 5 { 0.6 } else { 0.35 }));
        (-1..=BAR_KM).for_each(|km| tick(f64::from(km) * 1000.0, 0.8));
        for km in -1..=BAR_KM {
            let text = match km {
                -1 => "1000 m".to_owned(),
                0 => "0".to_owned(),
                km => format!("{km} km"),
            };
            let at = Point::new(x(f64::from(km) * 1000.0), bar + TEXT_MM);
            scene.add(Label::new(text, at, Ink::Works).priority(Priority::High));
        }
        let ticks = self.straightened();
        let long = self.measured_m();
        let first = -(long - f64::from(kilometres(long)) * 1000.0);
        let (left, right) = (x(first) - TEXT_MM * 0.9, x(first + long) + TEXT_MM * 0.9);
        let outline = [(left, row(0.7)), (right, row(0.7)), (right, paper), (left, paper)];
        let outline: Vec<Point> = outline.into_iter().map(|(x, y)| Point::new(x, y)).collect();
        scene.add(Area::cover(outline.clone(), Ink::Plate));
        let closed = outline.iter().chain(outline.first()).copied().collect();
        scene.add(Line::through(closed, Ink::Plate));
        for (number, metres) in ticks.iter().enumerate() {
            let foot = Point::new(x(first + metres), paper);
            let end = number == 0 || number + 1 == ticks.len();
            let rows = if end { 1.0 } else { 0.5 };
            scene.add(Line::straight(foot, foot.moved(0.0, -rows * TEXT_MM), Ink::Edge));
        }
        // Before the last tick stands at B, its end is no B.
        let last = if self.is_whole() { "B" } else { "?" };
        for (text, metres) in [("A", first), (last, first + long)] {
            let at = Point::new(x(metres), row(1.4));
            scene.add(Label::new(text, at, Ink::Text).align(Align::Centre).strong().priority(Priority::High));
        }
    }

    /// The path, and how the edge lies on the bar when it was ticked at every bend, in words; not what that makes.
    pub(super) fn in_words(&self) -> String {
        let long = self.path_m();
        let (km, tenths) = (kilometres(long), (long % 1000.0) / 100.0);
        let on_right = match km {
            0 => "at the zero".to_owned(),
            km => format!("at the line for {km} km, right of the zero"),
        };
        let low: i32 = whole(tenths.floor());
        format!(
            "A map with a winding path from A to B, drawn bold. A paper edge was ticked at each of its bends and lies on the scale bar. Its tick for B stands {on_right}. Its tick for A stands left of the zero, between short lines {low} and {}, counted from the zero, where one kilometre is cut into tenths.",
            low + 1
        )
    }

    /// How many ticks there are, the one at A with them.
    #[must_use]
    pub fn count(&self) -> usize {
        self.ticks.len() + usize::from(self.at.is_some())
    }
}

/// The whole kilometres of a length, which the bar has right of its zero.
fn kilometres(long: f64) -> i32 {
    whole::<i32>((long / 1000.0).floor()).clamp(0, BAR_KM)
}

/// The length of a line through places.
fn length(places: &[GridPosition]) -> f64 {
    places.windows(2).map(|piece| if let [from, to] = piece { from.leg_to(*to).distance_m } else { 0.0 }).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numbers::real;
    use proptest::prelude::*;

    fn path(places: &[(i32, i32)]) -> PaperEdge {
        let at =
            |(east, north): &(i32, i32)| GridPosition { easting_m: f64::from(*east), northing_m: f64::from(*north) };
        PaperEdge::new(places.iter().map(at).collect())
    }

    /// What so many ticks measure, all equally far apart along the path.
    fn ticked(edge: &PaperEdge, pieces: usize) -> f64 {
        let ticks = (1..=pieces).map(|tick| edge.path_m() * real(tick) / real(pieces)).collect();
        PaperEdge { ticks, at: Some(edge.path_m()), ..edge.clone() }.measured_m()
    }

    proptest! {
        #[test]
        fn a_ticked_edge_is_never_longer_than_its_path_and_comes_near_it_with_more_ticks(
            places in prop::collection::vec((0..3000_i32, 0..3000_i32), 2..12)
        ) {
            let edge = path(&places);
            let long = edge.path_m();
            for pieces in [1, 2, 3, 5, 8, 40, 400] {
                prop_assert!(ticked(&edge, pieces) <= long + 1e-6);
                // A tick halfway between two only adds.
                prop_assert!(ticked(&edge, 2 * pieces) >= ticked(&edge, pieces) - 1e-6);
            }
            // At each corner no more than a piece is cut off.
            let corners = f64::from(u32::try_from(places.len()).expect("few"));
            prop_assert!(long - ticked(&edge, 4000) <= corners * long / 4000.0 + 1e-6);
            prop_assert!((edge.clone().ticked().measured_m() - long).abs() < 1e-6);
        }

        #[test]
        fn whatever_the_hand_does_the_ticks_lie_in_order_on_the_path(
            does in prop::collection::vec((0..4_u8, -400..900_i32), 0..60)
        ) {
            let mut edge = path(&[(0, 0), (300, 400), (900, 400), (900, 1000)]);
            for (what, by) in does {
                match what {
                    0 => edge.lay(),
                    1 => edge.tick(),
                    2 => edge.held = !edge.held,
                    _ => edge.go(f64::from(by)),
                }
                let ends = edge.at.unwrap_or(0.0);
                prop_assert!((0.0..=edge.path_m()).contains(&ends));
                prop_assert!(edge.ticks.windows(2).all(|pair| pair[0] < pair[1]));
                prop_assert!(edge.ticks.iter().all(|tick| *tick > 0.0 && *tick <= ends));
                prop_assert!(edge.measured_m() <= edge.path_m() + 1e-6);
            }
        }
    }

    #[test]
    fn one_tick_at_the_end_measures_straight_across() {
        let mut edge = path(&[(0, 0), (300, 400), (600, 0)]);
        edge.lay();
        edge.go(5000.0);
        edge.tick();
        assert!((edge.measured_m() - 600.0).abs() < 1e-9);
        assert_eq!(edge.count(), 2);
        // Back over the tick takes it away.
        edge.go(-1.0);
        assert_eq!(edge.count(), 1);
    }

    #[test]
    fn the_edge_is_told_by_the_bar_and_never_as_a_sum() {
        let words = path(&[(0, 0), (300, 400), (900, 400), (900, 650)]).in_words();
        assert!(words.contains("1 km, right") && words.contains("lines 3 and 4"), "{words}");
        assert!(!words.contains("1350"), "{words}");
    }
}
