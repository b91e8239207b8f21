//! A map as a whole.
use super::contour::{Contour, Tracer};
use super::diagram::Diagram;
use super::grid::GridFrame;
use super::landmark::{self, Landmark, Sites};
use super::lines::{self, MapLine};
use super::names::Names;
use super::relief::{Mesh, Relief};
use super::spec::MapSpec;
use super::spot::Spot;
use super::water::Water;
use super::woods;
use super::works::{self, Crossing, Path};
use crate::angle::{Angle, Bearing, Grid, Magnetic, True};
use crate::ground::plane::GridPosition;
use std::sync::OnceLock;

/// An invented map.
///
/// Landmarks, heights, lines and bearings are there at once; contour lines are traced when they are first asked for.
#[derive(Clone, Debug)]
pub struct Map {
    seed: u64,
    spec: MapSpec,
    frame: GridFrame,
    relief: Relief,
    pub(super) water: Water,
    landmarks: Vec<Landmark>,
    pub(super) paths: Vec<Path>,
    pub(super) bridges: Vec<Crossing>,
    lake_name: String,
    river_name: String,
    lines: Vec<MapLine>,
    cover: OnceLock<Cover>,
}

/// What only a drawing needs.
#[derive(Clone, Debug)]
pub(super) struct Cover {
    contours: Vec<Contour>,
    /// Patches of woods, closed outlines.
    pub(super) woods: Vec<Vec<Spot>>,
    /// Sparse places in the woods.
    pub(super) trees: Vec<Spot>,
}

/// Two maps are the same when they come from the same seed and spec.
impl PartialEq for Map {
    fn eq(&self, other: &Map) -> bool {
        self.seed == other.seed && self.spec == other.spec
    }
}

/// Every how many metres contours are traced; which of them are drawn depends on the size of the view.
pub(super) const FINEST_CONTOUR_M: i32 = 10;

impl Map {
    /// The map that follows from a seed. Numbers of the spec that are out of their range are taken as the nearest in it.
    #[must_use]
    pub fn generate(seed: u64, spec: &MapSpec) -> Map {
        let spec = spec.within_ranges();
        let (width_mm, height_mm) = (spec.width_mm, spec.height_mm);
        let frame = GridFrame::new(seed, &spec);
        let relief = Relief::new(seed, width_mm, height_mm);
        let water = Water::new(seed, &relief, width_mm, height_mm);
        let off_lines = |spot: Spot| if spec.ruled.grid { frame.off_lines_mm(spot) } else { f64::INFINITY };
        let mut sites =
            Sites { relief: &relief, water: &water, width_mm, height_mm, off_lines: &off_lines, diagram: None };
        let mut landmarks = sites.summits();
        sites.springs(&mut landmarks);
        sites.diagram = lines::diagram_foot(&spec, &landmarks);
        sites.works(seed, &mut landmarks);
        let paths = works::paths(seed, &sites, &landmarks);
        let bridges = works::bridges(&sites, &paths, &mut landmarks);
        let mut names = Names::new(seed);
        landmark::christen(&mut landmarks, &mut names);
        let (lake_name, river_name) = (names.next(), names.next());
        let lines = lines::all(&spec, &frame, &landmarks, (sites.diagram, &Diagram::of(&spec).drawn()));
        Map {
            seed,
            spec,
            frame,
            relief,
            water,
            landmarks,
            paths,
            bridges,
            lake_name,
            river_name,
            lines,
            cover: OnceLock::new(),
        }
    }

    /// The seed it came from.
    #[must_use]
    pub const fn seed(&self) -> u64 {
        self.seed
    }

    /// What it was asked to be, with every number within its range.
    #[must_use]
    pub const fn spec(&self) -> &MapSpec {
        &self.spec
    }

    /// Everything that has a mark and a name. Elsewhere a landmark is named by its place in this slice.
    #[must_use]
    pub fn landmarks(&self) -> &[Landmark] {
        &self.landmarks
    }

    /// All straight lines.
    #[must_use]
    pub fn lines(&self) -> &[MapLine] {
        &self.lines
    }

    /// The middle of the sheet.
    #[must_use]
    pub fn middle(&self) -> Spot {
        Spot::new(self.spec.width_mm / 2.0, self.spec.height_mm / 2.0)
    }

    /// The name of the lake.
    #[must_use]
    pub fn lake_name(&self) -> &str {
        &self.lake_name
    }

    /// The shore of the lake, closed (the last corner joins the first), and the height of its water in m.
    #[must_use]
    pub fn lake(&self) -> (&[Spot], f64) {
        (&self.water.lake.shore, self.water.lake.level_m)
    }

    /// The name of the river that runs through the lake.
    #[must_use]
    pub fn river_name(&self) -> &str {
        &self.river_name
    }

    /// The courses of the streams, downstream: each place with the height of the water in m, which never rises.
    pub fn streams(&self) -> impl Iterator<Item = impl Iterator<Item = (Spot, f64)>> {
        self.water.streams.iter().map(|stream| stream.line.iter().copied().zip(stream.heights_m.iter().copied()))
    }

    /// The height of the ground in m; also beyond the borders.
    #[must_use]
    pub fn height_m(&self, spot: Spot) -> f64 {
        self.water.height_m(&self.relief, spot)
    }

    /// The contour lines of every ten metres.
    #[must_use]
    pub fn contours(&self) -> &[Contour] {
        &self.cover().contours
    }

    /// The contour lines of every `step_m` metres in a box of the paper: its south-west corner, and its sides in mm, 1 to 240. Lines end
    /// at the sides of the box. It may reach beyond the borders; no lines for a box without sides or a step below 1.
    #[must_use]
    pub fn contours_within(&self, corner: Spot, width_mm: f64, height_mm: f64, step_m: i32) -> Vec<Contour> {
        let sides = MapSpec::SIDES_MM.end();
        if step_m < 1 || ![width_mm, height_mm].iter().all(|side| (1.0..=*sides).contains(side)) {
            return Vec::new();
        }
        let mesh = Mesh::fine(width_mm, height_mm);
        let on_sheet = |spot: Spot| Spot::new(corner.east_mm + spot.east_mm, corner.north_mm + spot.north_mm);
        let heights: Vec<f64> = mesh.spots().map(|spot| self.height_m(on_sheet(spot))).collect();
        let mut lines = Tracer::new(&mesh, &heights).all(step_m);
        lines.iter_mut().flat_map(|line| &mut line.line).for_each(|spot| *spot = on_sheet(*spot));
        lines
    }

    /// Its streams with their beds.
    #[cfg(test)]
    pub(super) fn beds(&self) -> &[super::stream::Stream] {
        &self.water.streams
    }

    /// What only a drawing needs, worked out when it is first drawn.
    pub(super) fn cover(&self) -> &Cover {
        self.cover.get_or_init(|| {
            let mesh = Mesh::over(self.spec.width_mm, self.spec.height_mm);
            let mut heights = self.relief.mesh(&mesh);
            self.water.cut_mesh(&mesh, &mut heights);
            let contours = Tracer::new(&mesh, &heights).all(FINEST_CONTOUR_M);
            let woods = woods::patches(self.seed, &self.spec, &self.water.lake);
            let trees = woods::trees(&self.spec, &woods, &self.water.lake);
            Cover { contours, woods, trees }
        })
    }

    /// A place by the map's grid.
    #[must_use]
    pub fn grid_position(&self, spot: Spot) -> GridPosition {
        self.frame.position(spot)
    }

    /// The place on the paper with this grid position.
    #[must_use]
    pub fn at_grid_position(&self, position: GridPosition) -> Spot {
        self.frame.spot(position)
    }

    /// The distance on the ground between two places, in m.
    #[must_use]
    pub fn ground_m(&self, from: Spot, to: Spot) -> f64 {
        from.distance_mm(to) / self.spec.scale.mm_per_km() * 1000.0
    }

    /// The true bearing from one place to another; `None` when they are the same place.
    #[must_use]
    pub fn true_bearing(&self, from: Spot, to: Spot) -> Option<Bearing<True>> {
        let (east, north) = from.to(to);
        (east != 0.0 || north != 0.0).then(|| Bearing::from_angle(Angle::from_radians(east.atan2(north))))
    }

    /// The grid bearing from one place to another; `None` when they are the same place.
    #[must_use]
    pub fn grid_bearing(&self, from: Spot, to: Spot) -> Option<Bearing<Grid>> {
        Some(self.true_bearing(from, to)?.to(self.spec.convergence))
    }

    /// The magnetic bearing from one place to another by the declination printed on the map; `None` when they are the
    /// same place.
    #[must_use]
    pub fn magnetic_bearing(&self, from: Spot, to: Spot) -> Option<Bearing<Magnetic>> {
        Some(self.true_bearing(from, to)?.to(self.spec.declination))
    }

    /// The printed declination diagram.
    #[must_use]
    pub fn diagram(&self) -> Diagram {
        Diagram::of(&self.spec)
    }
}
