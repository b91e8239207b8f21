//! The drawn layers, from the ground up.
use super::clip::Hole;
use super::marks;
use crate::angle::North;
use crate::numbers;
use crate::numbers::whole;
use crate::scene::{Area, Dash, Direction, Ink, Line, Mark, MarkKind, Point, Scene, Side, Weight};
use crate::terrain::lines::DIAGRAM_MM;
use crate::terrain::map::Map;
use crate::terrain::spot::{Spot, squared_to_line};
use crate::terrain::view::{Detail, Lie, MapView};
use crate::terrain::{LandmarkKind, LineKind, MapLine};

/// What the layers have in common.
pub(super) struct Layers<'a> {
    map: &'a Map,
    view: &'a MapView,
    lie: Lie,
    /// Around each mark, in the order of `drawn`, and around the diagram: where no thin line runs.
    clearings: Vec<Hole>,
    /// The landmarks that are drawn, those that are asked for first.
    pub(super) drawn: Vec<usize>,
}

/// How far thin lines keep from the middle of a mark, in mm.
const CLEARING_MM: f64 = 3.8;

/// Panel for each landmark that is drawn without being asked for, in square mm.
const ROOM_MM2: f64 = 1500.0;

/// How far apart the waves along a stream are, in lines of writing.
const WAVES_APART: f64 = 3.0;

/// How far the frame stands outside of the border, in mm: room for a row of nothing between them in cells.
const FRAME_MM: f64 = 2.3;
/// The half arrow of magnetic north: its stem and its barb, in mm.
const STEM_MM: f64 = 6.0;
const BARB_MM: f64 = 4.5;

/// The end of a ruled line that is in sight, with its mark.
pub(super) struct LineEnd<'a> {
    pub(super) line: &'a MapLine,
    /// Southern (for cross lines western) and other end in sight, on the panel.
    pub(super) from: Point,
    pub(super) to: Point,
    /// Where the mark of its north stands: at the northern end, or so far down the line that it is clear of landmarks.
    pub(super) tip: Point,
}

impl<'a> Layers<'a> {
    pub(super) fn new(map: &'a Map, view: &'a MapView) -> Layers<'a> {
        let mut layers = Layers { map, view, lie: view.lie(), clearings: Vec::new(), drawn: Vec::new() };
        layers.choose();
        layers
    }

    /// Chooses the landmarks that are drawn.
    fn choose(&mut self) {
        let landmarks = self.map.landmarks();
        let mut order: Vec<usize> = (0..landmarks.len()).collect();
        order.retain(|&number| {
            let spot = landmarks[number].spot;
            self.view.shows(spot)
        });
        numbers::arrange_by_key(&mut order, |&number| (!self.is_asked(number), !landmarks[number].core));
        let asked = order.iter().filter(|&&number| self.is_asked(number)).count();
        let room = match self.view.detail {
            Detail::Little => 0,
            _ => whole((self.view.width_mm * self.view.height_mm / ROOM_MM2).clamp(0.0, 100.0)),
        };
        order.truncate(asked + room);
        let clearing =
            |&number: &usize| Hole { centre: self.lie.point(landmarks[number].spot), radius_mm: CLEARING_MM };
        self.clearings = order.iter().map(clearing).collect();
        let foot = self.map.lines().iter().find(|line| matches!(line.kind, LineKind::Prong(_)));
        self.clearings.extend(foot.map(|prong| Hole {
            centre: self.lie.point(prong.from.along((0.0, 1.0), DIAGRAM_MM * 0.4)),
            radius_mm: DIAGRAM_MM * 0.75 * self.view.zoom,
        }));
        self.drawn = order;
    }

    pub(super) const fn lie(&self) -> &Lie {
        &self.lie
    }

    /// Draws what a line leaves clear of the marks.
    fn line(&self, scene: &mut Scene, line: &[Spot], look: impl Fn(Vec<Point>) -> Line) {
        let mut pieces = vec![self.lie.points(line)];
        for hole in &self.clearings {
            if pieces.iter().any(|piece| hole.touches(piece)) {
                pieces = pieces.iter().flat_map(|piece| hole.outside(piece)).collect();
            }
        }
        scene.items.extend(pieces.into_iter().map(|piece| look(piece).into()));
    }

    fn tint(&self, scene: &mut Scene, outline: &[Spot], ink: Ink) {
        scene.add(Area::tint(self.lie.points(outline), ink));
    }

    /// Paper, woods, water, relief, paths.
    pub(super) fn ground(&mut self, scene: &mut Scene) {
        let (wide, high) = (self.map.spec().width_mm, self.map.spec().height_mm);
        let corners = [(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)].map(|(east, north)| Spot::new(east, north));
        scene.add(Area::cover(self.lie.points(&corners), Ink::Sheet));
        for patch in &self.map.cover().woods {
            self.tint(scene, patch, Ink::Woods);
        }
        let shore = &self.map.water.lake.shore;
        self.tint(scene, shore, Ink::Water);
        let interval = self.map.contour_interval_m(self.view).cast_signed();
        let dash = if self.view.lines_first { Dash::Dotted } else { Dash::Fine };
        for contour in self.map.contours().iter().filter(|contour| contour.height_m % interval == 0) {
            self.line(scene, &contour.line, |points| Line::through(points, Ink::Relief).dash(dash));
        }
        if self.view.detail == Detail::Full {
            self.trees(scene);
        }
        let mut closed = shore.clone();
        closed.extend(shore.first().copied());
        self.line(scene, &closed, |points| Line::through(points, Ink::Water).bold());
        self.waves(scene);
        if self.view.detail == Detail::Little {
            return;
        }
        for stream in &self.map.water.streams {
            let dry = stream.line.iter().position(|&at| !self.map.water.lake.holds(at)).unwrap_or(0);
            let wet = stream.line.iter().rposition(|&at| !self.map.water.lake.holds(at)).unwrap_or(0);
            // One step into the lake, so that the stream meets the shore.
            let course = &stream.line[dry.saturating_sub(1)..(wet + 2).min(stream.line.len())];
            let weight = if stream.springs_here { Weight::Thin } else { Weight::Bold };
            self.line(scene, course, |points| Line { weight, ..Line::through(points, Ink::Water) });
            self.waves_along(scene, course);
        }
        for path in self.map.paths.iter().filter(|path| self.is_wanted(path)) {
            self.line(scene, path, |points| Line::through(points, Ink::Works).dash(Dash::Dashed));
        }
    }

    /// Waves all over the lake, in rows as lines of writing: without colour nothing else tells it from a meadow.
    fn waves(&self, scene: &mut Scene) {
        let lake = &self.map.water.lake;
        let shore = self.lie.points(&lake.shore);
        let bounds = |side: fn(&Point) -> f64| {
            let sides = || shore.iter().map(side);
            (sides().fold(f64::INFINITY, f64::min), sides().fold(f64::NEG_INFINITY, f64::max))
        };
        let ((left, right), (top, bottom)) = (bounds(|at| at.x), bounds(|at| at.y));
        let (row_mm, apart_mm) = (self.view.text_mm, self.view.text_mm * 2.5);
        let middle = Point::new((left + right) / 2.0, (top + bottom) / 2.0);
        let steps = |length: f64, step: f64| 0..=whole((length / step).clamp(0.0, 100.0));
        let first_row = middle.y - (((bottom - top) / 2.0 / row_mm).floor() * row_mm);
        let mut any = false;
        for row in steps(bottom - top, row_mm) {
            let y = first_row + numbers::real(row) * row_mm;
            // Every other row stands between the waves of the one above.
            let shift = if row % 2 == 0 { 0.0 } else { apart_mm / 2.0 };
            let first = middle.x - ((right - left) / 2.0 / apart_mm).ceil() * apart_mm + shift;
            for column in steps(right - left + apart_mm, apart_mm) {
                let at = Point::new(first + numbers::real(column) * apart_mm, y);
                let around = [(0.0, 0.0), (-0.6, 0.0), (0.6, 0.0), (0.0, -0.6), (0.0, 0.6)];
                let wet = |&(x, y): &(f64, f64)| lake.holds(self.view.spot(at.moved(x * row_mm, y * row_mm)));
                if around.iter().all(wet) {
                    any |= self.wave(scene, at);
                }
            }
        }
        // A small one has one wave at least, wherever there is room for it.
        if !any && lake.holds(self.view.spot(middle)) {
            self.wave(scene, middle);
        }
    }

    /// Waves along a stream, so far apart that it is seen for one line.
    fn waves_along(&self, scene: &mut Scene, course: &[Spot]) {
        let apart_mm = self.view.text_mm * WAVES_APART;
        let mut left_mm = apart_mm / 2.0;
        for pair in self.lie.points(course).windows(2) {
            left_mm -= (pair[1].x - pair[0].x).hypot(pair[1].y - pair[0].y);
            if left_mm <= 0.0 {
                self.wave(scene, pair[1]);
                left_mm = apart_mm;
            }
        }
    }

    /// A wave, unless it would stand on a mark; whether it does not.
    fn wave(&self, scene: &mut Scene, at: Point) -> bool {
        // It is a letter, and letters keep off marks.
        let on = |hole: &Hole| Hole { radius_mm: hole.radius_mm + self.view.text_mm * 0.75, ..*hole }.holds(at);
        let free = !self.clearings.iter().any(on);
        if free {
            scene.add(Mark::new(MarkKind::Wave, at, self.view.text_mm * 0.6, Ink::Water));
        }
        free
    }

    /// Whether a path is drawn: where it leads to nothing but landmarks that are left out, it is left out, too.
    fn is_wanted(&self, path: &[Spot]) -> bool {
        let landmarks = self.map.landmarks();
        let left_out = |end: Option<&Spot>| {
            end.is_some_and(|end| {
                (0..landmarks.len()).any(|number| landmarks[number].spot == *end && !self.is_drawn(number))
            })
        };
        let bridge = self
            .drawn
            .iter()
            .map(|&number| &landmarks[number])
            .any(|landmark| landmark.kind == LandmarkKind::Bridge && squared_to_line(path, landmark.spot) < 0.1);
        bridge || !(left_out(path.first()) || left_out(path.last()))
    }

    /// Sparse single dots in woods, which tell them without colour.
    fn trees(&self, scene: &mut Scene) {
        for at in self.map.cover().trees.iter().map(|&spot| self.lie.point(spot)) {
            if !self.clearings.iter().any(|hole| hole.holds(at)) {
                scene.add(Mark::new(MarkKind::Spot, at, 0.4, Ink::Woods));
            }
        }
    }

    /// Borders, ruled lines, legs and marks: what the work needs.
    pub(super) fn work(&mut self, scene: &mut Scene) {
        for line in self.map.lines() {
            let (from, to) = (self.lie.point(line.from), self.lie.point(line.to));
            let (ink, dash) = look(line.kind);
            let first = self.view.lines_first && line.kind.is_ruled();
            let weight = if first { Weight::Bold } else { Weight::Thin };
            scene.add(Line { weight, ..Line::straight(from, to, ink).dash(dash) });
            if matches!(line.kind, LineKind::Border | LineKind::CrossBorder) {
                self.frame(scene, from, to);
            }
        }
        for end in self.ends() {
            let Some(way) = Direction::between(end.from, end.to) else { continue };
            let lean = if way.dx() < 0.0 { Side::Counterclockwise } else { Side::Clockwise };
            match end.line.kind {
                LineKind::True | LineKind::Prong(North::True) => {
                    scene.add(Mark::new(MarkKind::Star, end.tip, 2.0, Ink::TrueNorth));
                }
                LineKind::Magnetic | LineKind::Prong(North::Magnetic) => {
                    // A whole stem, or the barb would be one more dash.
                    let stem = Line::straight(end.tip.along(way, -STEM_MM), end.tip, Ink::MagneticNorth);
                    scene.add(stem);
                    scene.add(Mark::new(MarkKind::HalfArrow(lean), end.tip, BARB_MM, Ink::MagneticNorth).toward(way));
                }
                _ => {}
            }
        }
        let spots = self.map.landmarks();
        for &(from, to) in &self.view.legs {
            if let (Some(from), Some(to)) = (spots.get(from), spots.get(to)) {
                let ends = [self.lie.point(from.spot), self.lie.point(to.spot)];
                if let Some(way) = Direction::between(ends[0], ends[1]) {
                    let [from, to] = [ends[0].along(way, CLEARING_MM), ends[1].along(way, -CLEARING_MM)];
                    scene.add(Line::straight(from, to, Ink::Text));
                }
            }
        }
        for (number, landmark) in spots.iter().enumerate() {
            let at = self.lie.point(landmark.spot);
            let asked = self.is_asked(number);
            if self.is_drawn(number) {
                let ink = match landmark.kind {
                    _ if asked => Ink::Text,
                    LandmarkKind::Spring => Ink::Water,
                    _ => Ink::Works,
                };
                marks::draw(scene, landmark.kind, at, self.bridge_way(landmark.spot), ink);
            }
        }
    }

    /// The frame outside of a border, as sheets have it: by its second line a border is told from every line that is ruled.
    fn frame(&self, scene: &mut Scene, from: Point, to: Point) {
        let (Some(way), middle) = (Direction::between(from, to), self.lie.point(self.map.middle())) else { return };
        let side = way.quarter_clockwise();
        let inward = (middle.x - from.x) * side.dx() + (middle.y - from.y) * side.dy();
        let out = FRAME_MM.copysign(-inward);
        let corner = |at: Point, along: f64| at.along(side, out).along(way, along);
        scene.add(Line::straight(corner(from, -FRAME_MM), corner(to, FRAME_MM), Ink::Border));
    }

    fn bridge_way(&self, spot: Spot) -> Direction {
        let path = self.map.bridges.iter().find(|bridge| bridge.spot == spot);
        path.and_then(|bridge| Direction::between(self.lie.point(spot), self.lie.point(spot.along(bridge.way, 1.0))))
            .unwrap_or(Direction::UP)
    }

    /// Whether a landmark is drawn: what is asked for always, and as many others as there is room for, those near the
    /// middle of the sheet and the summits first.
    pub(super) fn is_drawn(&self, number: usize) -> bool {
        self.drawn.contains(&number)
    }

    pub(super) fn is_asked(&self, number: usize) -> bool {
        self.view.asked.contains(&number) || self.view.legs.iter().any(|&(from, to)| from == number || to == number)
    }

    /// The ruled lines and prongs with the ends that are in sight; those with too little in sight are left out.
    pub(super) fn ends(&self) -> impl Iterator<Item = LineEnd<'a>> + '_ {
        self.map.lines().iter().filter_map(|line| {
            if matches!(line.kind, LineKind::Border | LineKind::CrossBorder) {
                return None;
            }
            let (from, to) = self.view.in_sight(line)?;
            Some(LineEnd { line, from, to, tip: self.tip(from, to) })
        })
    }

    fn tip(&self, from: Point, to: Point) -> Point {
        let Some(way) = Direction::between(to, from) else { return to };
        let length = (to.x - from.x).hypot(to.y - from.y);
        let clear = |at: &Point| {
            let close =
                |hole: &Hole| (hole.centre.x - at.x).hypot(hole.centre.y - at.y) < CLEARING_MM + self.view.text_mm;
            !self.clearings.iter().take(self.drawn.len()).any(close)
        };
        let steps = (0..24).map(|step| f64::from(step) * 1.5).take_while(|mm| *mm < length);
        steps.map(|mm| to.along(way, mm)).find(clear).unwrap_or(to)
    }
}

/// Role and dash of a line: each north has its own, which tells it without colour and without its mark.
pub(super) const fn look(kind: LineKind) -> (Ink, Dash) {
    match kind {
        LineKind::Border | LineKind::CrossBorder => (Ink::Border, Dash::Solid),
        LineKind::True | LineKind::Prong(North::True) => (Ink::TrueNorth, Dash::Solid),
        LineKind::Magnetic | LineKind::Prong(North::Magnetic) => (Ink::MagneticNorth, Dash::DashDot),
        LineKind::Grid | LineKind::CrossGrid | LineKind::Prong(North::Grid) => (Ink::GridNorth, Dash::Sparse),
    }
}
