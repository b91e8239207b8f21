//! A landmark's reference read off the map with a romer, which the learner lays on it (common practice, no source).

use super::{Along, Spot, printed};
use crate::ground::plane::GridPosition;
use crate::numbers::whole;
use crate::problem::{
    Answer, Draw, Figure, FigurePart, LineRole, MapFigure, MapPlace, MapRay, MapTool, Romer, Step, Value,
};
use crate::terrain::{Detail, Map, MapSpec};
use std::sync::Arc;

/// A map with the landmark that is asked for.
pub(super) struct RomerTask {
    map: Arc<Map>,
    landmark: usize,
    /// Where it lies, to ten metres.
    pub(super) spot: Spot,
}

/// Wide enough for a whole square on one side of any crossing of grid lines, and a little around it.
const SPEC_MM: (f64, f64) = (112.0, 104.0);
/// How much of the sheet there is around the square, in metres.
const AROUND_M: f64 = 150.0;
/// How far the place keeps from each mark of the romer, in metres: a hand that lays it so exactly reads the right tenth.
const CLEAR_M: std::ops::RangeInclusive<i32> = 20..=80;

impl RomerTask {
    pub(super) fn draw(draw: &mut Draw) -> RomerTask {
        loop {
            let spec = MapSpec { width_mm: SPEC_MM.0, height_mm: SPEC_MM.1, ..MapSpec::default() };
            let map = Arc::new(Map::generate(u64::from(draw.below(u32::MAX)), &spec));
            let mut marks: Vec<usize> = (0..map.landmarks().len()).collect();
            draw.shuffle(&mut marks);
            for landmark in marks {
                let at = map.grid_position(map.landmarks()[landmark].spot);
                let spot = Spot { east: along(at.easting_m), north: along(at.northing_m) };
                let found = RomerTask { map: Arc::clone(&map), landmark, spot };
                if found.is_clear() {
                    return found;
                }
            }
        }
    }

    /// Whether the square lies on the sheet, and nothing that a wrong way reads lies near the right figures.
    fn is_clear(&self) -> bool {
        let Spot { east, north } = self.spot;
        let corner = self.square();
        let around = [-AROUND_M, 1000.0 + AROUND_M]
            .map(|off| GridPosition { easting_m: corner.easting_m + off, northing_m: corner.northing_m + off });
        around.into_iter().all(|at| self.map.holds(self.map.at_grid_position(at)))
            && [east, north].iter().all(|along| CLEAR_M.contains(&(along.beyond % 100)))
            && (1000 - 2 * east.beyond).abs().max((1000 - 2 * north.beyond).abs()) > 400
            && (east.line - north.line).abs() > 1
    }

    /// The corner of its square.
    fn square(&self) -> GridPosition {
        place(self.spot.east.line * 1000, self.spot.north.line * 1000)
    }

    fn place(&self) -> GridPosition {
        place(self.spot.east.metres(), self.spot.north.metres())
    }

    fn name(&self) -> String {
        self.map
            .landmarks()
            .get(self.landmark)
            .map_or_else(|| "the mark".to_owned(), |mark| format!("the {} {}", mark.kind.word(), mark.name))
    }

    pub(super) fn prompt(&self) -> String {
        format!(
            "You call the others by radio: come to A, {}. Lay a romer on the map to read where that is. Which grid reference do you give, with six figures?",
            self.name()
        )
    }

    /// The map with A, and the romer on it where it is laid.
    fn map_figure(&self, laid: bool) -> MapFigure {
        let mut figure = MapFigure::new(Arc::clone(&self.map), Vec::new());
        figure.detail = Detail::Little;
        figure.named = vec![self.landmark];
        figure.places.push(MapPlace { at: self.place(), role: LineRole::Given, label: "A".to_owned() });
        let corner = laid.then(|| self.place());
        figure.tool = Some(MapTool::Romer(Romer { square: self.square(), corner }));
        figure
    }

    pub(super) fn figure(&self, laid: bool) -> Figure {
        Figure::Map(Box::new(self.map_figure(laid)))
    }

    /// From the line passed last to A: along the romer's upper edge, and up its right one.
    fn ways(&self) -> [MapRay; 2] {
        let (a, corner) = (self.place(), self.square());
        let along = GridPosition { easting_m: corner.easting_m, ..a };
        let up = GridPosition { northing_m: corner.northing_m, ..a };
        [along, up].map(|from| MapRay { from, to: a, role: LineRole::Right })
    }

    /// With both ways, and the place that the learner's reference names.
    pub(super) fn explained(&self, given: Option<&Answer>) -> Figure {
        let mut figure = self.map_figure(true);
        figure.rays.extend(self.ways());
        if let Some([Value::Grid(reference)]) = given.map(Answer::values) {
            let (east, north) = reference.middle_m();
            let at = GridPosition { easting_m: east, northing_m: north };
            figure.places.push(MapPlace { at, role: LineRole::Learner, label: "you".to_owned() });
        }
        Figure::Map(Box::new(figure))
    }

    /// The map as it lies in a step.
    pub(super) fn step(&self, step: usize) -> Figure {
        let mut figure = self.map_figure(step > 0);
        let ways = match step {
            0 | 1 => &[][..],
            2 => &[0],
            3 => &[1],
            _ => &[0, 1],
        };
        let all = self.ways();
        figure.rays.extend(ways.iter().map(|way: &usize| all[*way]));
        Figure::Map(Box::new(figure))
    }

    pub(super) fn steps(&self) -> Vec<Step> {
        let Spot { east, north } = self.spot;
        let whole = printed(self.spot, 6, None);
        let (along, up) = whole.split_at(3);
        let way = FigurePart::Line(LineRole::Right);
        let meets = |along: Along, edge: &str| {
            let tenth = along.beyond / 100;
            format!(
                "grid line {} meets the {edge} edge between marks {tenth} and {}, and only whole tenths count",
                along.line,
                tenth + 1
            )
        };
        vec![
            Step::words(
                "A reference names a square and no point, by its corner in the south-west: so only what you have passed is counted, and nothing is rounded",
            ),
            Step::words(
                "You want to know how far A lies from the lines west and south of it, so the romer counts from A back to them: its corner on A, its edges along the grid lines",
            ),
            Step::new(format!("Along the corridor: {}", meets(east, "upper")), along)
                .about(way)
                .decides("Along the corridor: which line have you passed, and how many tenths beyond it"),
            Step::new(format!("Then up the stairs: {}", meets(north, "right")), up)
                .about(way)
                .decides("Then up the stairs: which line have you passed, and how many tenths beyond it"),
            Step::new("East before north, in one number", whole.as_str()).answers(),
        ]
    }
}

fn place(east_m: i32, north_m: i32) -> GridPosition {
    GridPosition { easting_m: f64::from(east_m), northing_m: f64::from(north_m) }
}

/// To ten metres.
fn along(metres: f64) -> Along {
    let metres: i32 = whole((metres / 10.0).round() * 10.0);
    Along { line: metres / 1000, beyond: metres % 1000 }
}
