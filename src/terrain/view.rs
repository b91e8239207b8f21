//! How a map is looked at: where it lies on the panel, how it is turned, what is asked.
use super::lines::MapLine;
use super::map::Map;
use super::spot::Spot;
use crate::angle::{Angle, North};
use crate::scene::{Point, Rect};

/// How a map is looked at. Millimetres are those of the panel; `zoom` of them show one millimetre of paper.
///
/// ```
/// use needlewise::angle::Angle;
/// use needlewise::scene::cells::CellCanvas;
/// use needlewise::terrain::{Map, MapSpec, MapView};
///
/// let map = Map::generate(7, &MapSpec::default());
/// let view = MapView::whole(&map, 92.0, 80.0).turned(Angle::from_degrees(30.0)).asking([0, 1]);
/// let picture = CellCanvas::default().render(&map.scene(&view), 46, 20);
/// assert!(picture.dropped.is_empty());
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct MapView {
    /// Width of the panel in mm.
    pub width_mm: f64,
    /// Height of the panel in mm.
    pub height_mm: f64,
    /// Height of a line of writing in mm, 0.5 to 100; a character counts as half as wide.
    pub text_mm: f64,
    /// The place on the paper about which the sheet is turned.
    pub pivot: Spot,
    /// Where that place lies on the panel.
    pub at: Point,
    /// How far the sheet is turned clockwise: where its true north stands, from the panel's upper edge.
    pub turn: Angle,
    /// Panel millimetres for one millimetre of paper; 1 is true to scale.
    pub zoom: f64,
    /// The landmarks the work asks for (places in [`Map::landmarks`]): their names are written first and stand out.
    pub asked: Vec<usize>,
    /// Lines of the work from landmark to landmark (places in [`Map::landmarks`]).
    pub legs: Vec<(usize, usize)>,
    /// Where no name of the map may stand, in mm on the panel.
    pub keep_clear: Vec<Rect>,
    /// How much of the land is drawn.
    pub detail: Detail,
    /// The north whose ruled lines get no letters: whoever lays something on the map names them where they stay in sight.
    pub unnamed: Option<North>,
    /// Whether the lines ruled along a north stand out from the land, which is held back, as where something is laid along
    /// them. All of them do: finding the right ones is a part of the work.
    pub lines_first: bool,
}

/// How much of the land is drawn. Ruled lines, borders and what is asked for are always there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Detail {
    /// Woods and water, and the heights in few lines.
    Little,
    /// Paths and some names, too.
    Some,
    /// All there is room for.
    #[default]
    Full,
}

/// Height of a line of writing where nothing else is said, in mm.
pub(super) const TEXT_MM: f64 = 4.0;

impl MapView {
    /// The whole sheet on a panel of this size, as large as fits with its numbers in the margin, not turned.
    #[must_use]
    pub fn whole(map: &Map, width_mm: f64, height_mm: f64) -> MapView {
        let (sheet_wide, sheet_high) = (map.spec().width_mm, map.spec().height_mm);
        // A number of two figures beside the west border, a row of numbers below the south border, a little to breathe.
        let zoom = ((width_mm - 2.5 * TEXT_MM) / sheet_wide).min((height_mm - 2.5 * TEXT_MM) / sheet_high);
        MapView {
            zoom,
            at: Point::new(width_mm / 2.0 + TEXT_MM * 0.5, height_mm / 2.0 - TEXT_MM * 0.5),
            ..MapView::around(map.middle(), width_mm, height_mm)
        }
    }

    /// A place of the paper in the middle of a panel, true to scale, not turned.
    #[must_use]
    pub fn around(pivot: Spot, width_mm: f64, height_mm: f64) -> MapView {
        MapView {
            width_mm,
            height_mm,
            text_mm: TEXT_MM,
            pivot,
            at: Point::new(width_mm / 2.0, height_mm / 2.0),
            turn: Angle::ZERO,
            zoom: 1.0,
            asked: Vec::new(),
            legs: Vec::new(),
            keep_clear: Vec::new(),
            detail: Detail::Full,
            unnamed: None,
            lines_first: false,
        }
    }

    /// The same view with the sheet turned clockwise to stand at `turn`, about its pivot, which moves to the middle of
    /// the panel: there a turned sheet has the most room.
    #[must_use]
    pub fn turned(self, turn: Angle) -> MapView {
        let at = Point::new(self.width_mm / 2.0, self.height_mm / 2.0);
        MapView { turn, at, ..self }
    }

    /// The same view, asking for these landmarks.
    #[must_use]
    pub fn asking(self, asked: impl IntoIterator<Item = usize>) -> MapView {
        MapView { asked: asked.into_iter().collect(), ..self }
    }

    /// The same view with a line of the work.
    #[must_use]
    pub fn with_leg(mut self, from: usize, to: usize) -> MapView {
        self.legs.push((from, to));
        self
    }

    /// Where a place of the paper lies on the panel.
    #[must_use]
    pub fn point(&self, spot: Spot) -> Point {
        self.lie().point(spot)
    }

    /// Which place of the paper lies under a point of the panel; the pivot when the zoom is 0.
    #[must_use]
    pub fn spot(&self, point: Point) -> Spot {
        let (sin, cos) = super::trig::sin_cos(self.turn);
        let (x, y) = (point.x - self.at.x, point.y - self.at.y);
        if self.zoom == 0.0 {
            return self.pivot;
        }
        let (east, north) = ((x * cos + y * sin) / self.zoom, (x * sin - y * cos) / self.zoom);
        Spot::new(self.pivot.east_mm + east, self.pivot.north_mm + north)
    }

    /// Whether a place of the paper is in sight, with room for a mark.
    #[must_use]
    pub fn shows(&self, spot: Spot) -> bool {
        let at = self.point(spot);
        let inside = |at: f64, side: f64| (MARGIN_MM..=side - MARGIN_MM).contains(&at);
        inside(at.x, self.width_mm) && inside(at.y, self.height_mm)
    }

    /// The part of a line of the map that lies on the panel, a little inside its edge: its southern (for cross lines western) end in
    /// sight and its other one, in mm on the panel. None where hardly any of it does.
    #[must_use]
    pub fn in_sight(&self, line: &MapLine) -> Option<(Point, Point)> {
        const INSET_MM: f64 = 3.0;
        let (from, to) = (self.point(line.from), self.point(line.to));
        let (dx, dy) = (to.x - from.x, to.y - from.y);
        let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
        for (at, step, side) in [(from.x, dx, self.width_mm), (from.y, dy, self.height_mm)] {
            let (low, high) = (INSET_MM, side - INSET_MM);
            if step == 0.0 {
                if !(low..=high).contains(&at) {
                    return None;
                }
                continue;
            }
            let (a, b) = ((low - at) / step, (high - at) / step);
            enter = enter.max(a.min(b));
            leave = leave.min(a.max(b));
        }
        let at = |share: f64| Point::new(from.x + share * dx, from.y + share * dy);
        ((leave - enter) * dx.hypot(dy) >= 8.0).then(|| (at(enter), at(leave)))
    }

    pub(super) fn lie(&self) -> Lie {
        let (sin, cos) = super::trig::sin_cos(self.turn);
        Lie { sin: sin * self.zoom, cos: cos * self.zoom, pivot: self.pivot, at: self.at }
    }
}

/// How near to the edge of the panel a mark may stand, in mm.
pub(super) const MARGIN_MM: f64 = 2.5;

/// From paper to panel.
#[derive(Clone, Copy, Debug)]
pub(super) struct Lie {
    sin: f64,
    cos: f64,
    pivot: Spot,
    at: Point,
}

impl Lie {
    pub(super) fn point(&self, spot: Spot) -> Point {
        let (east, north) = self.pivot.to(spot);
        Point::new(self.at.x + east * self.cos + north * self.sin, self.at.y + east * self.sin - north * self.cos)
    }

    pub(super) fn points(&self, line: &[Spot]) -> Vec<Point> {
        line.iter().map(|&spot| self.point(spot)).collect()
    }
}
