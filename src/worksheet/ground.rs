//! An invented map for a real compass: what is on it, and what is asked of it.

use crate::angle::{Angle, Bearing, Convergence, Declination, Grid, GridMagnetic, Magnetic, North, Offset, True};
use crate::ground::plane::{GridPosition, intersection};
use crate::numbers::{real, whole};
use crate::paper::Sheet;
use crate::problem::Draw;
use crate::terrain::{Map, MapSpec, Ruled, Spot};
use jiff::civil::Date;

/// What a map is asked to be.
#[derive(Clone, Debug)]
pub struct MapWish {
    /// The seed: the same gives the same map.
    pub seed: u64,
    /// The paper.
    pub sheet: Sheet,
    /// The declination of the place and the day.
    pub declination: Declination,
    /// The convergence of its grid.
    pub convergence: Convergence,
    /// Which north lines it has.
    pub lines: Vec<North>,
    /// Where the declination comes from, as a sentence.
    pub source: String,
    /// The day.
    pub day: Date,
    /// How it is spread over sheets.
    pub spread: Spread,
    /// How long the printer makes 100 mm, in mm: 90 to 110.
    pub bar_mm: f64,
}

/// Over how many sheets a map is printed, and so how large.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Spread {
    /// One sheet, 1:25 000.
    #[default]
    One,
    /// A poster of two by two sheets, 1:12 500.
    Four,
    /// A poster of three by three sheets, 1:8 333.
    Nine,
}

impl Spread {
    /// How many sheets stand side by side, and how many times larger the map is than on one.
    #[must_use]
    pub const fn times(self) -> u8 {
        match self {
            Spread::One => 1,
            Spread::Four => 2,
            Spread::Nine => 3,
        }
    }

    /// The scale.
    #[must_use]
    pub const fn scale(self) -> &'static str {
        match self {
            Spread::One => "1:25 000",
            Spread::Four => "1:12 500",
            Spread::Nine => "1:8 333",
        }
    }
}

/// A leg from one mark to another, by the paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leg {
    /// The letters of its marks.
    pub letters: [char; 2],
    /// From true north.
    pub by_true: Bearing<True>,
    /// From grid north.
    pub by_grid: Bearing<Grid>,
    /// From magnetic north: what a compass reads.
    pub magnetic: Bearing<Magnetic>,
    /// Its length on the paper in mm.
    pub paper_mm: f64,
    /// Its length on the ground in m.
    pub ground_m: f64,
}

/// A place to be found by two marks in sight.
#[derive(Clone, Debug, PartialEq)]
pub struct Lost {
    /// The marks: places in [`Map::landmarks`].
    pub marks: [usize; 2],
    /// What the compass reads toward them, whole degrees.
    pub read: [Bearing<Magnetic>; 2],
    /// The place where the two lines cross.
    pub at: Spot,
    /// The same by the grid.
    pub position: GridPosition,
}

/// A way round something, with corners that are square; in m on the ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Detour {
    /// How far one goes before it.
    pub before_m: i32,
    /// How far aside.
    pub aside_m: i32,
    /// How far along the line beside it.
    pub along_m: i32,
    /// Whether one goes round on the right.
    pub right: bool,
}

/// An invented map with its tasks.
#[derive(Clone, Debug)]
pub struct PracticeMap {
    /// What it was asked to be.
    pub wish: MapWish,
    /// The map; its borders run to true north.
    pub map: Map,
    /// The landmarks that P, Q and V stand at (places in [`Map::landmarks`]).
    pub marks: [usize; 3],
    /// From P to Q, Q to V and V to P.
    pub legs: [Leg; 3],
    /// Where am I?
    pub lost: Lost,
    /// On the way from P to Q.
    pub detour: Detour,
}

/// The letters of the marks.
pub const LETTERS: [char; 3] = ['P', 'Q', 'V'];
/// The length of a leg that a compass's edge covers well, in mm.
const GOOD_LEG_MM: f64 = 80.0;
/// The least angle between two legs, and between the lines of a fix, in degrees.
const LEAST_CORNER_DEG: f64 = 35.0;
/// How many seeds are tried until the land has what the tasks need.
const TRIES: u64 = 40;
/// How many places are tried for a fix.
const PLACES: usize = 400;
/// How far a place to be found keeps from the borders, and from each landmark, in mm.
const INSET_MM: f64 = 18.0;
const APART_MM: f64 = 12.0;
/// How much lower than the page a map with its collar is, and how much narrower, in mm.
const COLLAR_MM: f64 = 62.0;
const MARGIN_MM: f64 = 12.0;

impl PracticeMap {
    /// Draws the map of a seed; none where no land near it has what the tasks need, which no test has met.
    #[must_use]
    pub fn draw(wish: MapWish) -> Option<PracticeMap> {
        (0..TRIES).find_map(|more| PracticeMap::of_land(&wish, wish.seed.wrapping_add(more.wrapping_mul(1_000_003))))
    }

    fn of_land(wish: &MapWish, seed: u64) -> Option<PracticeMap> {
        let has = |north| wish.lines.contains(&north);
        let ruled = |north| if has(north) { Ruled::MOST } else { 0 };
        let spec = MapSpec {
            width_mm: (wish.sheet.text_width_mm() - MARGIN_MM).floor(),
            height_mm: (wish.sheet.text_height_mm() - COLLAR_MM).floor(),
            declination: wish.declination,
            convergence: wish.convergence,
            year: wish.day.year(),
            ruled: Ruled {
                grid: has(North::Grid),
                true_lines: ruled(North::True),
                magnetic_lines: ruled(North::Magnetic),
                diagram: false,
            },
            ..MapSpec::default()
        };
        let map = Map::generate(seed, &spec);
        let marks = triangle(&map)?;
        let leg = |from: usize, to: usize| {
            leg(&map, [LETTERS[from], LETTERS[to]], marks[from], marks[to], f64::from(wish.spread.times()))
        };
        let legs = [leg(0, 1)?, leg(1, 2)?, leg(2, 0)?];
        let mut draw = Draw::new("paper-map", 0, 1, seed);
        let lost = lost(&map, marks, &mut draw)?;
        let detour = detour(legs[0].ground_m, &mut draw);
        Some(PracticeMap { wish: wish.clone(), map, marks, legs, lost, detour })
    }

    /// How far magnetic north lies clockwise of grid north.
    #[must_use]
    pub fn grid_magnetic(&self) -> GridMagnetic {
        self.wish.declination.then(self.wish.convergence.inverse())
    }

    /// What stands on the dial when the map is oriented by these lines: 0 by magnetic ones.
    #[must_use]
    pub fn orienting(&self, lines: North) -> Angle {
        let past = match lines {
            North::Magnetic => Angle::ZERO,
            North::True => self.wish.declination.angle(),
            North::Grid => self.grid_magnetic().angle(),
        };
        (-past).wrapped()
    }

    /// How far magnetic north lies clockwise of the north of some lines.
    #[must_use]
    pub fn correction(&self, lines: North) -> Angle {
        -self.orienting(lines).wrapped_half()
    }
}

impl Leg {
    /// The bearing by the lines of a map.
    #[must_use]
    pub const fn by(&self, lines: North) -> Angle {
        match lines {
            North::True => self.by_true.angle(),
            North::Grid => self.by_grid.angle(),
            North::Magnetic => self.magnetic.angle(),
        }
    }
}

fn leg(map: &Map, letters: [char; 2], from: usize, to: usize, times: f64) -> Option<Leg> {
    let (from, to) = (map.landmarks().get(from)?.spot, map.landmarks().get(to)?.spot);
    Some(Leg {
        letters,
        by_true: map.true_bearing(from, to)?,
        by_grid: map.grid_bearing(from, to)?,
        magnetic: map.magnetic_bearing(from, to)?,
        paper_mm: from.distance_mm(to) * times,
        ground_m: map.ground_m(from, to),
    })
}

/// The angle at a corner between the ways to two places, 0 to 180°.
fn corner_deg(map: &Map, at: Spot, one: Spot, other: Spot) -> f64 {
    match (map.true_bearing(at, one), map.true_bearing(at, other)) {
        (Some(one), Some(other)) => one.turn_to(other).wrapped_half().abs().degrees(),
        _ => 0.0,
    }
}

/// Three landmarks whose legs an edge covers and whose corners are wide.
fn triangle(map: &Map) -> Option<[usize; 3]> {
    let spots: Vec<Spot> = map.landmarks().iter().map(|landmark| landmark.spot).collect();
    let mut best: Option<(f64, [usize; 3])> = None;
    for one in 0..spots.len() {
        for two in one + 1..spots.len() {
            for three in two + 1..spots.len() {
                let corners = [one, two, three];
                let off = |from: usize, to: usize| (spots[from].distance_mm(spots[to]) - GOOD_LEG_MM).abs();
                let cost = off(one, two) + off(two, three) + off(three, one);
                if best.is_some_and(|(least, _)| least <= cost) {
                    continue;
                }
                let wide = (0..3).all(|at| {
                    let corner = |turn: usize| spots[corners[(at + turn) % 3]];
                    corner_deg(map, corner(0), corner(1), corner(2)) >= LEAST_CORNER_DEG
                });
                if wide {
                    best = Some((cost, corners));
                }
            }
        }
    }
    best.map(|(_, corners)| corners)
}

/// A place from which two other landmarks are seen at a good angle: the readings are whole degrees, and the place is where their
/// lines cross.
fn lost(map: &Map, taken: [usize; 3], draw: &mut Draw) -> Option<Lost> {
    let (width_mm, height_mm) = (map.spec().width_mm, map.spec().height_mm);
    let within = |side: f64, draw: &mut Draw| f64::from(draw.between(whole(INSET_MM), whole(side - INSET_MM)));
    let landmarks = map.landmarks();
    let to_grid = map.spec().declination.then(map.spec().convergence.inverse()).inverse();
    let read = |at: Spot, mark: usize| {
        let bearing = map.magnetic_bearing(at, landmarks[mark].spot)?;
        Some(Bearing::<Magnetic>::from_angle(bearing.angle().rounded_to(Angle::from_degrees(1.0)).wrapped()))
    };
    (0..PLACES).find_map(|_| {
        let near = Spot::new(within(width_mm, draw), within(height_mm, draw));
        let mut seen: Vec<usize> = (0..landmarks.len())
            .filter(|at| !taken.contains(at) && (30.0..=90.0).contains(&near.distance_mm(landmarks[*at].spot)))
            .collect();
        draw.shuffle(&mut seen);
        pair(&seen, |one, two| fix(map, near, [one, two], &read, to_grid))
    })
}

/// The first two of a list that something comes of.
fn pair<T>(list: &[usize], mut of: impl FnMut(usize, usize) -> Option<T>) -> Option<T> {
    let after = |at: usize| list.iter().skip(at + 1).copied();
    list.iter().enumerate().find_map(|(at, one)| after(at).find_map(|two| of(*one, two)))
}

fn fix(
    map: &Map,
    near: Spot,
    marks: [usize; 2],
    read: &impl Fn(Spot, usize) -> Option<Bearing<Magnetic>>,
    to_grid: Offset<Grid, Magnetic>,
) -> Option<Lost> {
    let spot = |mark: usize| map.landmarks()[mark].spot;
    let cut = corner_deg(map, near, spot(marks[0]), spot(marks[1]));
    if !(60.0..=120.0).contains(&cut) {
        return None;
    }
    let readings = [read(near, marks[0])?, read(near, marks[1])?];
    let line = |at: usize| (map.grid_position(spot(marks[at])), readings[at].to(to_grid));
    let position = intersection(line(0), line(1))?.at;
    let at = map.at_grid_position(position);
    let inset = |mm: f64, side: f64| (INSET_MM..=side - INSET_MM).contains(&mm);
    let inside = inset(at.east_mm, map.spec().width_mm) && inset(at.north_mm, map.spec().height_mm);
    let apart = map.landmarks().iter().all(|landmark| landmark.spot.distance_mm(at) >= APART_MM);
    (inside && apart && !is_wet(map, at)).then_some(Lost { marks, read: readings, at, position })
}

/// Whether a place lies in the lake (even-odd).
fn is_wet(map: &Map, at: Spot) -> bool {
    let (shore, _) = map.lake();
    let before = shore.iter().cycle().skip(shore.len().saturating_sub(1));
    let crossed = before.zip(shore).filter(|(from, to)| {
        let share = (at.north_mm - from.north_mm) / (to.north_mm - from.north_mm);
        (from.north_mm <= at.north_mm) != (to.north_mm <= at.north_mm)
            && at.east_mm < from.east_mm + share * (to.east_mm - from.east_mm)
    });
    crossed.count() % 2 == 1
}

/// A detour in the first two thirds of a leg of this length, in steps of 50 m.
fn detour(ground_m: f64, draw: &mut Draw) -> Detour {
    let steps: i32 = whole(ground_m / 50.0);
    let before = draw.between(2, (steps / 3).max(2));
    let along = draw.between(3, (steps / 3).max(3));
    Detour { before_m: before * 50, aside_m: draw.between(2, 5) * 50, along_m: along * 50, right: draw.chance(1, 2) }
}

impl Detour {
    /// What is left to the mark after it, in m, of a leg of this length.
    #[must_use]
    pub fn left_m(self, ground_m: f64) -> f64 {
        ground_m - f64::from(self.before_m) - f64::from(self.along_m)
    }

    /// What is set on the dial for its three sides, when the leg is walked on this bearing.
    #[must_use]
    pub fn sides(self, leg: Bearing<Magnetic>) -> [Bearing<Magnetic>; 3] {
        let square = Angle::from_degrees(if self.right { 90.0 } else { -90.0 });
        [leg.turned(square), leg, leg.turned(-square)]
    }
}

/// How far a place lies from the west border and from the south border, in whole mm on the paper: what a ruler tells.
#[must_use]
pub fn by_ruler(at: Spot, spread: Spread) -> (f64, f64) {
    let times = f64::from(spread.times());
    ((at.east_mm * times).round(), (at.north_mm * times).round())
}

/// The mean of the marks, which their letters keep away from.
#[must_use]
pub fn middle(spots: [Spot; 3]) -> Spot {
    let mean = |of: fn(&Spot) -> f64| spots.iter().map(of).sum::<f64>() / real(spots.len());
    Spot::new(mean(|spot| spot.east_mm), mean(|spot| spot.north_mm))
}
