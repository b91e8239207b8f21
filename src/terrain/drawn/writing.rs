//! Names, numbers and letters, the most needed first.
use super::layers::{Layers, LineEnd};
use super::marks::REACH_MM;
use super::planner::{Place, Planner, Wish};
use crate::angle::North;
use crate::numbers::whole;
use crate::scene::{Align, Dash, Direction, Emphasis, Ink, Line, Point, Priority, Scene};
use crate::terrain::map::Map;
use crate::terrain::view::MapView;
use crate::terrain::{LandmarkKind, LineKind, Spot};

/// How much less a place on a line is liked where it is read among the numbers of the lines across.
const AMONG_OTHERS: u32 = 100;
/// A grid line with so much of it in sight has its number, wherever that may stand.
const LONG_MM: f64 = 20.0;

/// Plans and writes everything that is written on the map.
pub(super) fn write(map: &Map, view: &MapView, layers: &Layers, scene: &mut Scene) {
    let mut planner = Planner::new(view);
    keep(map, layers, &mut planner);
    let landmarks = map.landmarks();
    let order = &layers.drawn;
    let asked = order.iter().take_while(|&&number| layers.is_asked(number)).count();
    for &number in &order[..asked] {
        name(map, view, layers, number, &mut planner, scene);
    }
    let edges = Edges::of(map, layers);
    for end in layers.ends() {
        grid_number(&end, edges.as_ref(), &mut planner, scene);
    }
    letters(view, layers, &mut planner, scene);
    lake_name(map, layers, &mut planner, scene);
    for &number in &order[asked..] {
        name(map, view, layers, number, &mut planner, scene);
    }
    for &number in order.iter().filter(|&&number| landmarks[number].kind == LandmarkKind::Summit) {
        let text = landmarks[number].height_m.to_string();
        let wish = Wish { text: &text, ink: Ink::Works, emphasis: Emphasis::Quiet, priority: Priority::Normal };
        planner.write(&wish, around(layers.lie().point(landmarks[number].spot), planner.line_mm(), false), scene);
    }
    river_name(map, view, layers, &mut planner, scene);
    contour_numbers(map, view, layers, &mut planner, scene);
}

/// Marks that writing may not touch, and lines it should rather not hide.
fn keep(map: &Map, layers: &Layers, planner: &mut Planner) {
    for (number, landmark) in map.landmarks().iter().enumerate() {
        let at = layers.lie().point(landmark.spot);
        if layers.is_drawn(number) {
            planner.keep_mark(at, REACH_MM);
        }
    }
    for end in layers.ends() {
        match end.line.kind {
            LineKind::True | LineKind::Prong(North::True) => planner.keep_symbol(end.tip),
            LineKind::Magnetic | LineKind::Prong(North::Magnetic) => planner.keep_mark(end.tip, REACH_MM),
            _ => {}
        }
        planner.avoid(steps(end.from, end.to));
    }
    for line in map.lines().iter().filter(|line| matches!(line.kind, LineKind::Border | LineKind::CrossBorder)) {
        planner.avoid(steps(layers.lie().point(line.from), layers.lie().point(line.to)));
    }
    let water = map.water.streams.iter().map(|stream| &stream.line).chain([&map.water.lake.shore]);
    for line in water.chain(&map.paths) {
        planner.avoid(line.iter().map(|&spot| layers.lie().point(spot)));
    }
}

fn steps(from: Point, to: Point) -> impl Iterator<Item = Point> {
    let count: u32 = whole(((to.x - from.x).hypot(to.y - from.y) / 1.5).clamp(1.0, 400.0));
    (0..=count).map(move |step| {
        let share = f64::from(step) / f64::from(count);
        Point::new(from.x + share * (to.x - from.x), from.y + share * (to.y - from.y))
    })
}

/// The places around a mark, the best first; `far` adds those further off.
fn around(at: Point, line_mm: f64, far: bool) -> impl Iterator<Item = Place> {
    let cell = line_mm / 2.0;
    // Clear of the mark wherever the canvas has its cells.
    let aside = REACH_MM + cell + 0.05;
    let above = REACH_MM + line_mm + 0.05;
    let place = move |x: f64, y: f64, align: Align, dislike: u32| Place { at: at.moved(x, y), align, dislike };
    let near = [
        place(aside, 0.0, Align::Left, 0),
        place(-aside, 0.0, Align::Right, 1),
        place(0.0, -above, Align::Centre, 1),
        place(0.0, above, Align::Centre, 2),
        place(aside, -cell, Align::Left, 2),
        place(aside, cell, Align::Left, 2),
        place(-aside, -cell, Align::Right, 3),
        place(-aside, cell, Align::Right, 3),
        place(-cell, -above, Align::Left, 3),
        place(-cell, above, Align::Left, 3),
        place(cell, -above, Align::Right, 3),
        place(cell, above, Align::Right, 3),
    ];
    let off = (1..=14).flat_map(move |ring| {
        let out = above + f64::from(ring) * cell;
        [
            place(out, 0.0, Align::Left, 8 + 2 * ring),
            place(-out, 0.0, Align::Right, 8 + 2 * ring),
            place(0.0, -out, Align::Centre, 8 + 2 * ring),
            place(0.0, out, Align::Centre, 8 + 2 * ring),
            place(out * 0.7, -out * 0.7, Align::Left, 8 + 2 * ring),
            place(out * 0.7, out * 0.7, Align::Left, 8 + 2 * ring),
            place(-out * 0.7, -out * 0.7, Align::Right, 8 + 2 * ring),
            place(-out * 0.7, out * 0.7, Align::Right, 8 + 2 * ring),
        ]
    });
    near.into_iter().chain(off.filter(move |_| far))
}

/// Every place on the panel, the nearest to a point least disliked: for what must be written even where it is crowded.
fn anywhere(view: &MapView, from: Point, line_mm: f64) -> impl Iterator<Item = Place> {
    let step = line_mm / 2.0;
    // A panel has a few thousand places; one that is no panel has none.
    let count = |side: f64| if (0.0..=1000.0).contains(&side) { whole(side / step) } else { 0_u32 };
    let (cols, rows) = (count(view.width_mm), count(view.height_mm));
    (0..rows).flat_map(move |row| {
        (0..cols).map(move |col| {
            let at = Point::new(f64::from(col) * step, f64::from(row) * step);
            let off = (at.x - from.x).hypot(at.y - from.y);
            Place { at, align: Align::Centre, dislike: 100 + whole::<u32>(off.min(1e6)) }
        })
    })
}

/// The name of a landmark; one that is asked for gets a place further off with a leading line if need be.
fn name(map: &Map, view: &MapView, layers: &Layers, number: usize, planner: &mut Planner, scene: &mut Scene) {
    let landmark = &map.landmarks()[number];
    let (at, asked) = (layers.lie().point(landmark.spot), layers.is_asked(number));
    let wish = if asked {
        Wish { text: &landmark.name, ink: Ink::Text, emphasis: Emphasis::Strong, priority: Priority::High }
    } else {
        let ink = if landmark.kind == LandmarkKind::Spring { Ink::Water } else { Ink::Works };
        Wish { text: &landmark.name, ink, emphasis: Emphasis::Plain, priority: Priority::Normal }
    };
    let line = planner.line_mm();
    let placed = planner.write(&wish, around(at, line, asked), scene);
    let placed = placed.or_else(|| planner.write(&wish, anywhere(view, at, line).filter(|_| asked), scene));
    if let Some((label, way)) = placed.and_then(|label| Some((label, Direction::between(at, label)?))) {
        let off = (label.x - at.x).hypot(label.y - at.y);
        if off > REACH_MM + 1.6 * planner.line_mm() {
            scene.add(Line::straight(at.along(way, REACH_MM), at.along(way, off), Ink::Text).dash(Dash::Dotted));
        }
    }
}

/// Between which edges the grid lines of each family run from one side of the sheet to the other, in the sheet's own directions: a
/// grid that lies turned in its sheet has lines that leave through the edge of the others' numbers.
struct Edges {
    east: Direction,
    north: Direction,
    /// How far east the western and the eastern edge lie, then how far north the southern and the northern.
    reach: [[f64; 2]; 2],
}

impl Edges {
    /// None for a sheet without a border.
    fn of(map: &Map, layers: &Layers) -> Option<Edges> {
        let border = map.lines().iter().find(|line| line.kind == LineKind::Border)?;
        let north = Direction::between(layers.lie().point(border.from), layers.lie().point(border.to))?;
        let mut edges =
            Edges { east: north.quarter_clockwise(), north, reach: [[f64::INFINITY, f64::NEG_INFINITY]; 2] };
        for at in layers.ends().flat_map(|end| [end.from, end.to]) {
            let place = edges.place(at);
            for ([least, most], at) in edges.reach.iter_mut().zip(place) {
                (*least, *most) = (least.min(at), most.max(at));
            }
        }
        Some(edges)
    }

    /// How far east and north a point lies.
    fn place(&self, at: Point) -> [f64; 2] {
        [self.east, self.north].map(|way| at.x * way.dx() + at.y * way.dy())
    }

    /// Whether the number of a line of this kind may stand here: not by the edges at which numbers of the lines across stand, unless by an
    /// edge of its own, too, as in a corner.
    fn let_stand(&self, kind: LineKind, at: Point, line_mm: f64) -> bool {
        // The lines run along the one axis, and have their numbers at its ends.
        let (along, across) = if kind == LineKind::Grid { (1, 0) } else { (0, 1) };
        let place = self.place(at);
        let by_edge = |axis: usize, mm: f64| {
            let [least, most] = self.reach[axis];
            place[axis] - least < mm || most - place[axis] < mm
        };
        !by_edge(across, line_mm * 1.2) || by_edge(along, line_mm * 0.5)
    }

    /// Whether the end of a line is at an edge where numbers of its own family stand.
    fn is_own(&self, kind: LineKind, end: Point, line_mm: f64) -> bool {
        let along = usize::from(kind == LineKind::Grid);
        self.reach[along].iter().any(|edge| (self.place(end)[along] - edge).abs() < line_mm)
    }
}

/// The number of a grid line: beyond an end of it, or else on it; never where it would be read as one of the lines across.
fn grid_number(end: &LineEnd, edges: Option<&Edges>, planner: &mut Planner, scene: &mut Scene) {
    let (Some(number), Some(way)) = (end.line.number, Direction::between(end.from, end.to)) else { return };
    let text = format!("{number:02}");
    let wish = Wish { text: &text, ink: Ink::GridNorth, emphasis: Emphasis::Plain, priority: Priority::High };
    let line = planner.line_mm();
    // Beyond the end, so far that the box clears it whatever the way of the line.
    let beyond = line * 0.5 * way.dx().abs() + line * 0.5 * way.dy().abs() + 0.6;
    let length = (end.to.x - end.from.x).hypot(end.to.y - end.from.y);
    let place = |at: Point, dislike: u32| Place { at, align: Align::Centre, dislike };
    let is_own = |at: Point| edges.is_none_or(|edges| edges.is_own(end.line.kind, at, line));
    let ends = [(end.from, -beyond, 0), (end.to, beyond, 4)]
        .into_iter()
        .filter(|(at, ..)| is_own(*at))
        .map(|(at, off, dislike)| place(at.along(way, off), dislike));
    let inside = (0..40).map(|step| f64::from(step) * 1.5).take_while(|mm| *mm < length).zip(40..);
    let side = way.quarter_clockwise();
    let inside = inside.flat_map(|(mm, dislike)| {
        let (near, far) = (end.from.along(way, mm), end.to.along(way, -mm));
        let aside = |at: Point| [at.along(side, line * 0.8), at.along(side, -line * 0.8)];
        let [right, left] = aside(near);
        [place(near, dislike), place(far, dislike + 1), place(right, dislike + 6), place(left, dislike + 6)]
    });
    // A long line close to an edge has its number there rather than none; of a short one in a corner none is missed.
    let inside = inside.filter_map(|place| match edges {
        Some(edges) if !edges.let_stand(end.line.kind, place.at, line) => {
            let dislike = place.dislike + AMONG_OTHERS;
            (length >= LONG_MM).then_some(Place { dislike, ..place })
        }
        _ => Some(place),
    });
    planner.write(&wish, ends.chain(inside), scene);
}

/// The letters of each family of north lines, once, at a north end in sight.
fn letters(view: &MapView, layers: &Layers, planner: &mut Planner, scene: &mut Scene) {
    let mut done = Vec::new();
    for end in layers.ends() {
        let (text, ink) = match end.line.kind {
            LineKind::True => ("TN", Ink::TrueNorth),
            LineKind::Magnetic | LineKind::Prong(North::Magnetic) => ("MN", Ink::MagneticNorth),
            LineKind::Grid | LineKind::Prong(North::Grid) => ("GN", Ink::GridNorth),
            _ => continue,
        };
        if done.contains(&end.line.kind) {
            continue;
        }
        let Some(way) = Direction::between(end.from, end.to) else { continue };
        let line = planner.line_mm();
        let wish = Wish { text, ink, emphasis: Emphasis::Strong, priority: Priority::High };
        let side = way.quarter_clockwise();
        let place = |along: f64, aside: f64, dislike: u32| Place {
            at: end.tip.along(way, along).along(side, aside),
            align: Align::Centre,
            dislike,
        };
        let length = (end.from.x - end.tip.x).hypot(end.from.y - end.tip.y);
        let down = (0..60).map(|step: u32| (step, 1.5 * f64::from(step))).take_while(|&(_, mm)| mm < length.max(12.0));
        let places = down.flat_map(|(step, mm)| {
            let (near, far) = (line * 1.1, line * 2.0);
            [
                place(-mm, near, 2 * step),
                place(-mm, -near, 2 * step + 1),
                place(-mm, far, 2 * step + 6),
                place(-mm, -far, 2 * step + 7),
            ]
        });
        let beyond = (0..5).flat_map(|step: u32| {
            let out = line * (0.9 + 0.5 * f64::from(step));
            [0.0, 0.8, -0.8, 1.6, -1.6].map(|aside| place(out, aside * line, 3 * step + u32::from(aside != 0.0)))
        });
        if end.line.kind.is_ruled() && end.line.kind.north() == view.unnamed {
            // The place is kept: most often they will be written just there.
            let _ = planner.write(&wish, beyond.chain(places), &mut Scene::default());
            done.push(end.line.kind);
            continue;
        }
        let placed = planner.write(&wish, beyond.chain(places), scene);
        // A prong has but one place for its letters.
        let must = matches!(end.line.kind, LineKind::Prong(_));
        let off = anywhere(view, end.tip, line).filter(|_| must);
        if placed.or_else(|| planner.write(&wish, off, scene)).is_some() {
            done.push(end.line.kind);
        }
    }
}

fn lake_name(map: &Map, layers: &Layers, planner: &mut Planner, scene: &mut Scene) {
    let middle = layers.lie().point(map.water.lake.middle);
    let wish = Wish { text: map.lake_name(), ink: Ink::Water, emphasis: Emphasis::Plain, priority: Priority::Normal };
    let places = [0.0, -1.0, 1.0, -2.0, 2.0].map(|lines| Place {
        at: middle.moved(0.0, lines * planner.line_mm()),
        align: Align::Centre,
        dislike: 0,
    });
    planner.write(&wish, places, scene);
}

/// The name of the river beside its lower course, where there is room for more than the work.
fn river_name(map: &Map, view: &MapView, layers: &Layers, planner: &mut Planner, scene: &mut Scene) {
    let mut rivers = map.water.streams.iter().filter(|stream| !stream.springs_here);
    let Some(river) = rivers.next_back().filter(|_| view.zoom >= super::FINE_ZOOM) else { return };
    let wish = Wish { text: map.river_name(), ink: Ink::Water, emphasis: Emphasis::Plain, priority: Priority::Low };
    let (line, beside) = (planner.line_mm(), planner.line_mm() * 1.2);
    let dry = river.line.iter().filter(|&&spot| !map.water.lake.holds(spot));
    let course = dry.map(|&spot| layers.lie().point(spot));
    let places = course.flat_map(|at| {
        [
            Place { at: at.moved(line, 0.0), align: Align::Left, dislike: 0 },
            Place { at: at.moved(-line, 0.0), align: Align::Right, dislike: 0 },
            Place { at: at.moved(0.0, beside), align: Align::Centre, dislike: 1 },
            Place { at: at.moved(0.0, -beside), align: Align::Centre, dislike: 1 },
        ]
    });
    planner.write(&wish, places, scene);
}

/// Heights on the index contours, as far as there is room.
fn contour_numbers(map: &Map, view: &MapView, layers: &Layers, planner: &mut Planner, scene: &mut Scene) {
    let off_border = planner.line_mm() * 1.2 / view.zoom.abs().max(0.1);
    let index_m = 5 * map.contour_interval_m(view).cast_signed();
    for contour in map.contours().iter().filter(|contour| contour.height_m % index_m == 0 && contour.line.len() >= 16) {
        let text = contour.height_m.to_string();
        let wish = Wish { text: &text, ink: Ink::Relief, emphasis: Emphasis::Plain, priority: Priority::Low };
        let middle = contour.line.len() / 2;
        // Not across the border.
        let inner = |spot: &&Spot| {
            let inside = |at: f64, side: f64| (off_border..=side - off_border).contains(&at);
            inside(spot.east_mm, map.spec().width_mm) && inside(spot.north_mm, map.spec().height_mm)
        };
        let places = contour.line[middle..].iter().chain(&contour.line[..middle]).step_by(3).filter(inner);
        let places = places.map(|&spot| layers.lie().point(spot));
        planner.write(&wish, places.map(|at| Place { at, align: Align::Centre, dislike: 0 }), scene);
    }
}
