//! A map as the figure of a question or a verdict: the sheet, the line one stands on, rays, places, and the cross of whoever
//! picks a point.

use super::{LineRole, MapPoint, PaperEdge, Protractor, Romer, capital};
use crate::angle::Angle;
use crate::ground::plane::GridPosition;
use crate::scene::{
    Area, Dash, Direction, Emphasis, Ink, Label, Line, Mark, MarkKind, Point, Priority, Rect, Scene, SceneItem,
};
use crate::terrain::{Detail, Map, MapView};
use std::fmt;
use std::sync::Arc;

/// A map with what is drawn on it. Positions are those of the map's grid, in metres.
#[derive(Clone, PartialEq)]
pub struct MapFigure {
    /// The map.
    pub map: Arc<Map>,
    /// The landmarks that the work is about (places in [`Map::landmarks`]): their names stand out, and the straight edge of
    /// whoever picks a point runs through each of them.
    pub marked: Vec<usize>,
    /// Other landmarks that the text names: their names stand out, too.
    pub named: Vec<usize>,
    /// The lines one may stand on, drawn bold.
    pub lines: Vec<BoldLine>,
    /// Lines drawn on the map.
    pub rays: Vec<MapRay>,
    /// Places told on it.
    pub places: Vec<MapPlace>,
    /// The cross of whoever picks a point.
    pub cross: Option<GridPosition>,
    /// How much of the land is drawn.
    pub detail: Detail,
    /// How far the sheet is turned clockwise: where its true north stands, from the panel's upper edge.
    pub turn: Angle,
    /// A protractor on it, which is then in the middle of the picture.
    pub protractor: Option<Protractor>,
    /// What the learner can lay on it.
    pub tool: Option<MapTool>,
}

/// What a learner lays on a map and reads off.
#[derive(Clone, Debug, PartialEq)]
pub enum MapTool {
    /// For a grid reference; one square is looked at.
    Romer(Romer),
    /// For the length of a path.
    PaperEdge(PaperEdge),
}

/// A line of the land that is drawn bold.
#[derive(Clone, Debug, PartialEq)]
pub struct BoldLine {
    /// Its corners, from one end to the other.
    pub corners: Vec<GridPosition>,
    /// What it is, for those who hear it: `the brook`.
    pub name: String,
}

/// A straight line drawn on a map.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MapRay {
    /// Where it begins: at a landmark.
    pub from: GridPosition,
    /// Where it ends.
    pub to: GridPosition,
    /// What it stands for.
    pub role: LineRole,
}

/// A place told on a map.
#[derive(Clone, Debug, PartialEq)]
pub struct MapPlace {
    /// Where.
    pub at: GridPosition,
    /// What it stands for.
    pub role: LineRole,
    /// What is written beside it.
    pub label: String,
}

/// A map is known by its seed and spec; its land would fill pages.
impl fmt::Debug for MapFigure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("MapFigure")
            .field("seed", &self.map.seed())
            .field("spec", self.map.spec())
            .field("marked", &self.marked)
            .field("lines", &self.lines)
            .field("rays", &self.rays)
            .field("places", &self.places)
            .field("cross", &self.cross)
            .field("turn", &self.turn)
            .field("protractor", &self.protractor)
            .field("tool", &self.tool)
            .finish_non_exhaustive()
    }
}

/// The radius of a protractor, and what is shown around it, in mm on paper.
const PROTRACTOR_MM: f64 = 28.0;
const AROUND_MM: f64 = 6.0;
/// How far the arms of the cross reach, and how far they stay away from its middle, in lines of writing.
const ARM: f64 = 1.6;
const GAP: f64 = 0.6;

impl MapFigure {
    /// A map with the landmarks that the work is about, and nothing drawn on it.
    #[must_use]
    pub fn new(map: Arc<Map>, marked: Vec<usize>) -> MapFigure {
        MapFigure {
            map,
            marked,
            named: Vec::new(),
            lines: Vec::new(),
            rays: Vec::new(),
            places: Vec::new(),
            cross: None,
            detail: Detail::Some,
            turn: Angle::ZERO,
            protractor: None,
            tool: None,
        }
    }

    /// How the map lies on a panel of this size in mm: as large as fits.
    #[must_use]
    pub fn view(&self, width_mm: f64, height_mm: f64) -> MapView {
        let view = match (&self.protractor, &self.tool) {
            (None, Some(MapTool::Romer(romer))) => romer.view(&self.map, width_mm, height_mm),
            (None, Some(MapTool::PaperEdge(edge))) => edge.view(&self.map, width_mm, height_mm),
            (None, None) => MapView::whole(&self.map, width_mm, height_mm),
            (Some(protractor), _) => {
                let around = MapView::around(self.map.at_grid_position(protractor.at), width_mm, height_mm);
                let zoom = width_mm.min(height_mm) / 2.0 / (PROTRACTOR_MM + AROUND_MM);
                MapView { zoom, ..around }.turned(self.turn)
            }
        };
        let view = MapView { detail: self.detail, ..view };
        view.asking(self.marked.iter().chain(&self.named).copied())
    }

    /// The grid position under a point of such a panel; none beside the sheet.
    #[must_use]
    pub fn position(&self, point: Point, width_mm: f64, height_mm: f64) -> Option<GridPosition> {
        let spot = self.view(width_mm, height_mm).spot(point);
        self.map.holds(spot).then(|| self.map.grid_position(spot))
    }

    /// The landmarks that the work is about, with their positions.
    pub fn marks(&self) -> impl Iterator<Item = (&str, GridPosition)> {
        let landmarks = self.marked.iter().filter_map(|at| self.map.landmarks().get(*at));
        landmarks.map(|landmark| (landmark.name.as_str(), self.map.grid_position(landmark.spot)))
    }

    /// The same without what the learner answered.
    #[must_use]
    pub fn without_learner(mut self) -> MapFigure {
        self.rays.retain(|ray| ray.role != LineRole::Learner);
        self.places.retain(|place| place.role != LineRole::Learner);
        self
    }

    /// The figure for those who hear it: where everything stands, by the grid.
    #[must_use]
    pub fn in_words(&self) -> String {
        // Told by the grid, a place would be its own answer, and a path its own length.
        match (&self.tool, self.places.first()) {
            (Some(MapTool::Romer(romer)), Some(place)) => return romer.in_words(place.at),
            (Some(MapTool::PaperEdge(edge)), _) => return edge.in_words(),
            _ => {}
        }
        let marks = self.marks().map(|(name, at)| format!(" {name} stands at {}.", Metres(at)));
        let lines = self.lines.iter().map(|line| {
            let corners: Vec<String> = line.corners.iter().map(|at| Metres(*at).to_string()).collect();
            format!(" {} runs through {}.", capital(&line.name), corners.join(", "))
        });
        let rays = self.rays.iter().map(|ray| {
            let drawn = if ray.role == LineRole::Learner { "Your line runs" } else { "A line is drawn" };
            format!(" {drawn} from {} to {}.", Metres(ray.from), Metres(ray.to))
        });
        let places = self.places.iter().map(|place| match place.role {
            LineRole::Given => format!(" {} is the place {}.", capital(&place.label), Metres(place.at)),
            LineRole::Right => format!(" The right place is {}.", Metres(place.at)),
            LineRole::Learner => format!(" Your place is {}.", Metres(place.at)),
        });
        let told: String = marks.chain(lines).chain(rays).chain(places).collect();
        let protractor = self.protractor.map_or_else(String::new, |protractor| protractor.in_words());
        format!("A map. Places are told in metres east and metres north by its grid.{told}{protractor}")
    }

    /// The map with all that is drawn on it, on a panel of this size in mm; `text_mm` is the height of a line of writing.
    #[must_use]
    pub fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let view = self.view(width_mm, height_mm);
        let on_panel = |at: GridPosition| view.point(self.map.at_grid_position(at));
        let places: Vec<(Point, &MapPlace)> = self.places.iter().map(|place| (on_panel(place.at), place)).collect();
        // No name of the map where a place is told.
        let keep_clear = places
            .iter()
            .map(|(at, place)| {
                let wide = (crate::numbers::real(place.label.chars().count()) + 2.0) * text_mm / 2.0;
                Rect::new(at.x - text_mm / 2.0, at.y - text_mm, wide + text_mm / 2.0, 2.0 * text_mm)
            })
            .collect();
        let mut scene = self.map.scene(&MapView { keep_clear, ..view.clone() });
        for line in &self.lines {
            scene.add(Line::through(line.corners.iter().copied().map(on_panel).collect(), Ink::Text).bold());
        }
        if let Some(protractor) = &self.protractor {
            let north = self.turn + self.map.spec().convergence.angle();
            let zero = Direction::from_degrees_clockwise_from_up(north.degrees());
            protractor.draw(on_panel(protractor.at), PROTRACTOR_MM * view.zoom, zero, &mut scene);
        }
        match &self.tool {
            Some(MapTool::Romer(romer)) => romer.draw(on_panel, &mut scene),
            Some(MapTool::PaperEdge(edge)) if !edge.held => edge.draw(on_panel, &mut scene),
            Some(MapTool::PaperEdge(_)) | None => {}
        }
        for ray in &self.rays {
            let (ink, dash) = look(ray.role);
            // While a place is picked there is no right line beside which the learner's would have to be told by its dashes.
            let dash = if self.cross.is_some() { Dash::Solid } else { dash };
            scene.add(Line::straight(on_panel(ray.from), on_panel(ray.to), ink).dash(dash));
        }
        for (at, place) in places {
            let (ink, _) = look(place.role);
            // What is measured toward may lie beyond the look: then its line is named where it leaves.
            if let Some(leaves) = self.leaves_toward(at, &view, text_mm) {
                let label = format!("to {}", place.label);
                scene.add(Label::new(label, leaves, ink).strong().priority(Priority::High).near());
                continue;
            }
            let kind = if place.role == LineRole::Learner { MarkKind::Ring } else { MarkKind::Spot };
            scene.add(Mark::new(kind, at, text_mm * 0.8, ink));
            let beside = Point::new(at.x + text_mm * 1.2, at.y);
            scene.add(Label::new(place.label.clone(), beside, ink).strong().priority(Priority::High).near());
        }
        // The margin with the bar covers what is told below it, too.
        if let Some(MapTool::PaperEdge(edge)) = &self.tool
            && edge.held
        {
            edge.draw(on_panel, &mut scene);
        }
        if let Some(cross) = self.cross {
            // The names that the question uses are written over the cross: what it hides cannot be sighted.
            let named =
                |item: &SceneItem| matches!(item, SceneItem::Label(label) if label.emphasis == Emphasis::Strong);
            let names: Vec<SceneItem> = scene.items.extract_if(.., |item| named(item)).collect();
            MapFigure::draw_cross(on_panel(cross), text_mm, &mut scene);
            scene.items.extend(names);
        }
        scene
    }

    /// Where the line from a protractor's middle to a place leaves the panel, with room for its name; none where the place is in
    /// sight.
    fn leaves_toward(&self, at: Point, view: &MapView, text_mm: f64) -> Option<Point> {
        let middle = view.point(self.map.at_grid_position(self.protractor?.at));
        let (east, south) = (at.x - middle.x, at.y - middle.y);
        let share = |way: f64, room: f64| if way.abs() > room { room / way.abs() } else { 1.0 };
        let beside = share(east, view.width_mm / 2.0 - 2.5 * text_mm);
        let within = beside.min(share(south, view.height_mm / 2.0 - text_mm));
        (within < 1.0).then(|| middle.moved(east * within + text_mm, south * within))
    }

    fn draw_cross(at: Point, text_mm: f64, scene: &mut Scene) {
        for (x, y) in [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)] {
            let corner =
                |out: f64, aside: f64| at.moved((x * out - y * aside) * text_mm, (y * out + x * aside) * text_mm);
            let bar = |wide: f64, more: f64| {
                [(GAP, -wide), (ARM + more, -wide), (ARM + more, wide), (GAP, wide)]
                    .map(|(out, aside)| corner(out, aside))
                    .to_vec()
            };
            // Whole blocks, free of the land: without colour dots among dots are no cross.
            scene.add(Area::free(bar(0.5, 0.25), Ink::LearnerLine));
            scene.add(Area::dense(bar(0.2, 0.0), Ink::LearnerLine));
        }
        scene.add(Line::straight(at, at, Ink::LearnerLine));
    }
}

/// `36804 57600`: as a point is typed.
struct Metres(GridPosition);

impl fmt::Display for Metres {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:.0} {:.0}", self.0.easting_m, self.0.northing_m)
    }
}

const fn look(role: LineRole) -> (Ink, Dash) {
    match role {
        LineRole::Given => (Ink::Text, Dash::Solid),
        LineRole::Right => (Ink::RightLine, Dash::Solid),
        LineRole::Learner => (Ink::LearnerLine, Dash::Dashed),
    }
}

impl From<GridPosition> for MapPoint {
    fn from(at: GridPosition) -> MapPoint {
        MapPoint { east_m: at.easting_m, north_m: at.northing_m }
    }
}

impl From<MapPoint> for GridPosition {
    fn from(point: MapPoint) -> GridPosition {
        GridPosition { easting_m: point.east_m, northing_m: point.north_m }
    }
}
