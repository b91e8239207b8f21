//! What stands on the map and can be asked about.
use super::draw::Draw;
use super::lines::in_diagram;
use super::names::Names;
use super::relief::Relief;
use super::spot::Spot;
use super::water::Water;
use crate::numbers;
use crate::numbers::whole;

/// What a landmark is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LandmarkKind {
    /// The top of a hill, with its height.
    Summit,
    /// A hut.
    Hut,
    /// A chapel.
    Chapel,
    /// A tower.
    Tower,
    /// A heap of stones set up as a mark.
    Cairn,
    /// Walls without a roof.
    Ruin,
    /// A farm.
    Farm,
    /// A single large boulder.
    Boulder,
    /// Where a brook begins.
    Spring,
    /// Where a path crosses a stream.
    Bridge,
}

impl LandmarkKind {
    #[cfg(test)]
    pub(super) const ALL: [LandmarkKind; 10] = [
        LandmarkKind::Summit,
        LandmarkKind::Hut,
        LandmarkKind::Chapel,
        LandmarkKind::Tower,
        LandmarkKind::Cairn,
        LandmarkKind::Ruin,
        LandmarkKind::Farm,
        LandmarkKind::Boulder,
        LandmarkKind::Spring,
        LandmarkKind::Bridge,
    ];

    /// The word for it in a sentence: `hut`.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            LandmarkKind::Summit => "summit",
            LandmarkKind::Hut => "hut",
            LandmarkKind::Chapel => "chapel",
            LandmarkKind::Tower => "tower",
            LandmarkKind::Cairn => "cairn",
            LandmarkKind::Ruin => "ruin",
            LandmarkKind::Farm => "farm",
            LandmarkKind::Boulder => "boulder",
            LandmarkKind::Spring => "spring",
            LandmarkKind::Bridge => "bridge",
        }
    }
}

/// A place on the map with a mark and a name.
#[derive(Clone, Debug, PartialEq)]
pub struct Landmark {
    /// Its name, which no other place on the map has; at most ten letters, with the space.
    pub name: String,
    /// What it is.
    pub kind: LandmarkKind,
    /// Where it is, to a tenth of a millimetre: the middle of its mark.
    pub spot: Spot,
    /// Height of the ground in whole metres.
    pub height_m: i32,
    /// Whether it lies so near to the middle of the sheet that it stays in sight however the sheet is turned about its
    /// middle.
    pub core: bool,
}

/// How far apart landmarks are at least, in mm on paper.
pub(super) const APART_MM: f64 = 10.0;

/// How far apart they are where there is room.
const WISHED_MM: f64 = 13.5;

/// How far landmarks keep from the border, in mm.
const BORDER_MM: f64 = 7.0;

/// How near to a grid line the middle of a mark may come where there is room, in mm.
const OFF_LINES_MM: f64 = 2.6;

/// Room for landmarks: the sheet and what stands on it.
pub(super) struct Sites<'a> {
    pub(super) relief: &'a Relief,
    pub(super) water: &'a Water,
    pub(super) width_mm: f64,
    pub(super) height_mm: f64,
    /// Distance to the nearest grid line in mm.
    pub(super) off_lines: &'a dyn Fn(Spot) -> f64,
    /// The foot of the diagram printed on the sheet, which is kept free.
    pub(super) diagram: Option<Spot>,
}

impl Sites<'_> {
    fn middle(&self) -> Spot {
        Spot::new(self.width_mm / 2.0, self.height_mm / 2.0)
    }

    /// How far from the middle of the sheet a landmark stays in sight at any turn.
    fn core_mm(&self) -> f64 {
        self.width_mm.min(self.height_mm) / 2.0 - 5.0
    }

    /// A landmark without a name yet.
    pub(super) fn landmark(&self, kind: LandmarkKind, spot: Spot) -> Landmark {
        let spot = spot.tenths();
        let height_m = whole(self.water.height_m(self.relief, spot).round());
        let core = spot.distance_mm(self.middle()) <= self.core_mm();
        Landmark { name: String::new(), kind, spot, height_m, core }
    }

    fn on_sheet(&self, spot: Spot) -> bool {
        (BORDER_MM..=self.width_mm - BORDER_MM).contains(&spot.east_mm)
            && (BORDER_MM..=self.height_mm - BORDER_MM).contains(&spot.north_mm)
    }

    /// The tops of the hills, the highest first.
    pub(super) fn summits(&self) -> Vec<Landmark> {
        let mut tops: Vec<(Spot, f64)> = self
            .relief
            .hills()
            .iter()
            .map(|&hill| self.relief.climb(hill, 1.0))
            .map(|top| (top, self.relief.at(top)))
            .filter(|&(top, _)| self.on_sheet(top))
            .collect();
        numbers::arrange(&mut tops, |a, b| b.1.total_cmp(&a.1));
        let mut summits: Vec<Landmark> = Vec::new();
        for (top, _) in tops {
            if is_free(&summits, top, WISHED_MM) {
                summits.push(self.landmark(LandmarkKind::Summit, top));
            }
        }
        summits
    }

    /// The sources of brooks.
    pub(super) fn springs(&self, among: &mut Vec<Landmark>) {
        for stream in self.water.streams.iter().filter(|stream| stream.springs_here) {
            let free = |source: &&Spot| self.on_sheet(**source) && is_free(among, **source, WISHED_MM);
            if let Some(&source) = stream.line.first().filter(free) {
                among.push(self.landmark(LandmarkKind::Spring, source));
            }
        }
    }

    /// Huts, chapels and the like: most of them in the core, each kind at most twice.
    pub(super) fn works(&self, seed: u64, among: &mut Vec<Landmark>) {
        let mut draw = Draw::new("works", seed);
        let wanted = whole::<usize>((self.width_mm * self.height_mm / 1350.0).round()).clamp(6, 16);
        let mut spots: Vec<Spot> = Vec::new();
        for number in 0..wanted {
            let core = number < wanted - 1;
            let taken = |spot: Spot, apart: f64| {
                !is_free(among, spot, apart) || spots.iter().any(|other| other.squared_mm(spot) < apart * apart)
            };
            if let Some(spot) = self.find(&mut draw, core, &taken) {
                spots.push(spot);
            }
        }
        // Farms and chapels stand lower than towers and cairns.
        numbers::arrange(&mut spots, |a, b| self.relief.at(*a).total_cmp(&self.relief.at(*b)));
        let mut low = [LandmarkKind::Farm, LandmarkKind::Chapel, LandmarkKind::Hut];
        let mut high = [LandmarkKind::Tower, LandmarkKind::Cairn, LandmarkKind::Ruin, LandmarkKind::Boulder];
        draw.shuffle(&mut low);
        draw.shuffle(&mut high);
        let half = spots.len() / 2;
        for (number, &spot) in spots.iter().enumerate() {
            let kind = if number < half { low[number % 3] } else { high[(number - half) % 4] };
            among.push(self.landmark(kind, spot));
        }
    }

    /// A free place: drawn at random first, and where chance finds none, looked for all over the core.
    fn find(&self, draw: &mut Draw, core: bool, taken: &dyn Fn(Spot, f64) -> bool) -> Option<Spot> {
        for attempt in 0..60 {
            let spot = Spot::new(draw.tenths(0.0, self.width_mm), draw.tenths(0.0, self.height_mm));
            let clear = attempt >= 40 || (self.off_lines)(spot) >= OFF_LINES_MM;
            if clear && !taken(spot, WISHED_MM) && self.suits(spot, core) {
                return Some(spot);
            }
        }
        let cols = whole::<u32>(self.width_mm).max(1);
        let rows = whole::<u32>(self.height_mm).max(1);
        let all = || {
            (0..rows).flat_map(|row| (0..cols).map(move |col| Spot::new(f64::from(col) + 0.5, f64::from(row) + 0.5)))
        };
        [WISHED_MM, APART_MM]
            .into_iter()
            .find_map(|apart| all().find(|&spot| !taken(spot, apart) && self.suits(spot, true)))
    }

    pub(super) fn is_diagram(&self, spot: Spot) -> bool {
        self.diagram.is_some_and(|foot| in_diagram(foot, spot))
    }

    fn suits(&self, spot: Spot, core: bool) -> bool {
        let middle = spot.distance_mm(self.middle());
        self.on_sheet(spot)
            && !self.is_diagram(spot)
            && (!core || middle <= self.core_mm())
            && !self.water.lake.is_shore_within(3.0, spot)
            && !self.water.lake.holds(spot)
            && self.water.streams.iter().all(|stream| stream.near(spot, 9.0).is_none())
    }
}

/// Whether a place keeps this far from all landmarks, in mm.
pub(super) fn is_free(among: &[Landmark], spot: Spot, apart_mm: f64) -> bool {
    among.iter().all(|other| other.spot.squared_mm(spot) >= apart_mm * apart_mm)
}

/// Gives every landmark its name.
pub(super) fn christen(landmarks: &mut [Landmark], names: &mut Names) {
    for landmark in landmarks {
        landmark.name = names.of(landmark.kind);
    }
}
