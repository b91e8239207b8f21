//! Lesson 10: a bearing is a line through what is seen, and where it meets another line one stands.

use super::figure::{Figure, Knob, spoken, written};
use super::{Lesson, Question, Screen};
use crate::angle::{Angle, Bearing, Convergence, Declination, Grid, North};
use crate::ground::GridLeg;
use crate::ground::plane::{GridPosition, crossings, intersection};
use crate::numbers;
use crate::numbers::round_from;
use crate::problem::{BoldLine, LineRole, MapFigure, MapPlace, MapRay};
use crate::scene::Scene;
use crate::terrain::{Detail, LandmarkKind, Map, MapSpec, WayKind};
use std::sync::Arc;

pub(super) static LESSON: Lesson = Lesson {
    id: "where-am-i",
    title: "Where am I?",
    idea: "A bearing to something you know is a line through it: where it meets the path, or a second line, you stand.",
    before: &["fix-on-line", "resection"],
    screens: &[
        Screen {
            text: "Walk round the tower: its bearing changes. Walk nearer or away: it stays. So one bearing tells a line, and no place on it.",
            figure: |_| Box::new(Round { sheet: Sheet::new(), at: 240, hundreds: 7 }),
        },
        Screen {
            text: "You stand on the bold path and see the tower on 275° G. Turn the line from the tower until it finds you.",
            figure: |_| Box::new(Back { sheet: Sheet::new(), toward: SEEN }),
        },
        Screen {
            text: "The compass counts from magnetic north, the map's lines from grid north. The G-M angle is 10° E: allow for it and find yourself.",
            figure: |_| Box::new(Allowed { sheet: Sheet::new(), east: 0 }),
        },
        Screen {
            text: "No path? A second mark gives a second line. A hand slips by 3°: look for the mark whose line cuts the first one best.",
            figure: |_| Box::new(Second::new()),
        },
    ],
    question: Question {
        text: "Your compass shows 100° M toward a hut, and the G-M angle is 10° E. Along which bearing do you draw the line from the hut?",
        choices: &["280° G", "290° G", "110° G"],
        right: 1,
        why: "Magnetic north lies clockwise of grid north, so from the grid lines you count 10° further: you look along 110° G. The line from the hut comes back to you, half a circle further: 290° G.",
    },
};

/// The land of the lesson: a sheet as wide as the panel, with a tower that is seen from far along a path.
const SEED: u64 = 4;
const SHEET_MM: (f64, f64) = (180.0, 70.0);
/// The grid bearing on which somebody on the path sees the tower.
const SEEN: i32 = 275;
/// The G-M angle, east, of which the convergence is a part.
const GMA: i32 = 10;
const CONVERGENCE: i32 = 1;
/// What a hand slips by.
const SLIP: i32 = 3;
/// The cut from which on two lines cross well (common practice).
const GOOD_CUT: i32 = 60;

fn grid(degrees: i32) -> Bearing<Grid> {
    Bearing::from_degrees(f64::from(degrees))
}

/// What all its figures stand on.
#[derive(Debug)]
struct Sheet {
    map: Arc<Map>,
    /// The tower, by its place among the landmarks.
    tower: usize,
    at: GridPosition,
    path: Vec<GridPosition>,
    /// Where one stands.
    you: GridPosition,
}

impl Sheet {
    fn new() -> Sheet {
        let spec = MapSpec {
            width_mm: SHEET_MM.0,
            height_mm: SHEET_MM.1,
            convergence: Convergence::from_degrees(f64::from(CONVERGENCE)),
            declination: Declination::from_degrees(f64::from(GMA + CONVERGENCE)),
            ..MapSpec::default()
        };
        let map = Map::generate(SEED, &spec);
        let tower = map.landmarks().iter().position(|mark| mark.kind == LandmarkKind::Tower).unwrap_or(0);
        let at = map.grid_position(map.landmarks().get(tower).map_or(map.middle(), |tower| tower.spot));
        let there = |path: &Vec<GridPosition>| match crossings(at, grid(SEEN).back(), path)[..] {
            [only] => Some(only),
            _ => None,
        };
        let paths = map.ways().into_iter().filter(|way| way.kind == WayKind::Path);
        let lines = paths.map(|way| way.line.iter().map(|spot| map.grid_position(*spot)).collect::<Vec<_>>());
        // The farther off, the farther a wrong line leads along the path.
        let far = |path: &Vec<GridPosition>| there(path).map_or(0.0, |you| at.leg_to(you).distance_m);
        let path = lines.max_by(|one, other| far(one).total_cmp(&far(other))).unwrap_or_default();
        let you = there(&path).unwrap_or(at);
        Sheet { map: Arc::new(map), tower, at, path, you }
    }

    /// Where the line from the tower on this bearing meets the path.
    fn met(&self, bearing: Bearing<Grid>) -> Option<GridPosition> {
        crossings(self.at, bearing, &self.path).first().copied()
    }

    /// The end of a line from a place, at the border of the sheet.
    fn border(&self, from: GridPosition, bearing: Bearing<Grid>) -> GridPosition {
        let on_line = |step: i32| from.after(GridLeg { bearing, distance_m: f64::from(step * 25) });
        let last = (1..400).take_while(|step| self.map.holds(self.map.at_grid_position(on_line(*step)))).last();
        on_line(last.unwrap_or(0))
    }

    /// The map with the tower marked.
    fn figure(&self) -> MapFigure {
        MapFigure { detail: Detail::Little, ..MapFigure::new(Arc::clone(&self.map), vec![self.tower]) }
    }

    /// The same with the path.
    fn with_path(&self) -> MapFigure {
        let line = BoldLine { corners: self.path.clone(), name: "the path".to_owned() };
        MapFigure { lines: vec![line], ..self.figure() }
    }

    /// The bearing on which the tower is seen from a place, whole degrees.
    fn seen_from(&self, place: GridPosition) -> i32 {
        crate::angle::whole_degrees(place.leg_to(self.at).bearing.angle())
    }
}

fn ray(from: GridPosition, to: GridPosition, role: LineRole) -> MapRay {
    MapRay { from, to, role }
}

fn place(at: GridPosition, role: LineRole, label: &str) -> MapPlace {
    MapPlace { at, role, label: label.to_owned() }
}

/// What the compass shows where the map's lines say so much.
fn by_compass(grid: i32) -> String {
    spoken(grid - GMA, North::Magnetic).to_string()
}

/// Somebody who walks round the tower, nearer and away.
#[derive(Debug)]
struct Round {
    sheet: Sheet,
    /// The grid bearing from the tower to whoever walks.
    at: i32,
    hundreds: i32,
}

impl Figure for Round {
    fn knobs(&self) -> &'static [Knob] {
        const { &[Knob::new("walk round it", 5, 45), Knob::new("walk nearer or away", 1, 3)] }
    }

    fn turn(&mut self, knob: usize, by: i32) {
        if knob == 0 {
            self.at = (self.at + by).rem_euclid(360);
        } else {
            self.hundreds = (self.hundreds + by).clamp(3, 8);
        }
    }

    fn says(&self) -> String {
        format!("{} m from the tower your compass shows {} to it.", self.hundreds * 100, by_compass(self.at + 180))
    }

    fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let Sheet { at, .. } = self.sheet;
        let stand = at.after(GridLeg { bearing: grid(self.at), distance_m: f64::from(self.hundreds * 100) });
        let border = self.sheet.border(at, grid(self.at));
        let mut figure = self.sheet.figure();
        figure.rays.push(ray(at, border, LineRole::Learner));
        figure.places.push(place(stand, LineRole::Learner, "you"));
        figure.scene(width_mm, height_mm, text_mm)
    }
}

/// The line that is drawn back from the tower.
#[derive(Debug)]
struct Back {
    sheet: Sheet,
    toward: i32,
}

impl Figure for Back {
    fn knobs(&self) -> &'static [Knob] {
        const { &[Knob::new("turn the line from the tower", 5, 45)] }
    }

    fn turn(&mut self, _knob: usize, by: i32) {
        self.toward = (self.toward + by).rem_euclid(360);
    }

    fn says(&self) -> String {
        let drawn = spoken(self.toward, North::Grid);
        match self.sheet.met(grid(self.toward)) {
            None => format!("From the tower along {drawn} the line does not meet the path: you are not there."),
            Some(_) if self.reached() => {
                let sign = if SEEN < 180 { '+' } else { '−' };
                format!(
                    "From the tower along {drawn}: there you see it on {}. Half a circle lies between: {} {sign} 180 = {}.",
                    spoken(SEEN, North::Grid),
                    written(SEEN),
                    written(self.toward)
                )
            }
            Some(met) => format!(
                "From the tower along {drawn}: whoever stands there on the path sees it on {}.",
                spoken(self.sheet.seen_from(met), North::Grid)
            ),
        }
    }

    fn reached(&self) -> bool {
        (self.toward - SEEN).rem_euclid(360) == 180
    }

    fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let from = self.sheet.at;
        let met = self.sheet.met(grid(self.toward));
        let mut figure = self.sheet.with_path();
        let border = self.sheet.border(from, grid(self.toward));
        figure.rays.push(ray(from, border, if self.reached() { LineRole::Right } else { LineRole::Learner }));
        if let Some(met) = met {
            let (role, label) = if self.reached() { (LineRole::Right, "you") } else { (LineRole::Learner, "here?") };
            figure.places.push(place(met, role, label));
        }
        figure.scene(width_mm, height_mm, text_mm)
    }
}

/// The place that comes out where so much is allowed for between compass and map.
#[derive(Debug)]
struct Allowed {
    sheet: Sheet,
    /// Degrees, east positive.
    east: i32,
}

impl Allowed {
    /// Along which the line is drawn from the tower.
    const fn back(&self) -> i32 {
        SEEN - GMA + self.east + 180
    }
}

impl Figure for Allowed {
    fn knobs(&self) -> &'static [Knob] {
        const { &[Knob::new("allow for more to the west or to the east", 1, 5)] }
    }

    fn turn(&mut self, _knob: usize, by: i32) {
        self.east = (self.east + by).clamp(-20, 20);
    }

    fn says(&self) -> String {
        let (shown, seen) = (SEEN - GMA, SEEN - GMA + self.east);
        let sum = match self.east {
            0 => format!("{} taken for {}", spoken(shown, North::Magnetic), spoken(seen, North::Grid)),
            east => {
                let sign = if east > 0 { '+' } else { '−' };
                format!("{} {sign} {} = {}", written(shown), east.abs(), spoken(seen, North::Grid))
            }
        };
        let back = spoken(self.back(), North::Grid);
        let place = match self.sheet.met(grid(self.back())) {
            _ if self.reached() => "that is you. The needle lies clockwise of the grid lines, so from them you count further: from compass to map east is added.".to_owned(),
            Some(met) => {
                format!("{:.0} m from where you stand.", (self.sheet.you.leg_to(met).distance_m / 10.0).round() * 10.0)
            }
            None => "no place on the path.".to_owned(),
        };
        format!("{sum}, back along {back}: {place}")
    }

    fn reached(&self) -> bool {
        self.east == GMA
    }

    fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let from = self.sheet.at;
        let mut figure = self.sheet.with_path();
        let role = if self.reached() { LineRole::Right } else { LineRole::Learner };
        figure.rays.push(ray(from, self.sheet.border(from, grid(self.back())), role));
        figure.places.push(place(self.sheet.you, LineRole::Given, "you"));
        if let Some(met) = self.sheet.met(grid(self.back())).filter(|_| !self.reached()) {
            figure.places.push(place(met, LineRole::Learner, ""));
        }
        figure.scene(width_mm, height_mm, text_mm)
    }
}

/// A second mark beside the tower.
#[derive(Debug)]
struct Second {
    sheet: Sheet,
    /// What else is in sight, by its place among the landmarks, and the one that is taken.
    others: Vec<usize>,
    taken: usize,
}

impl Second {
    fn new() -> Second {
        let sheet = Sheet::new();
        let stand = sheet.map.at_grid_position(sheet.you);
        let sighted = sheet.map.sighted(stand);
        let mut others: Vec<usize> = sighted.iter().map(|one| one.landmark).filter(|at| *at != sheet.tower).collect();
        let mut second = Second { taken: 0, others: Vec::new(), sheet };
        others.retain(|at| second.cut(*at).is_some_and(|cut| cut >= 2 * SLIP));
        // The worst one first.
        numbers::arrange_by_key(&mut others, |at| second.cut(*at));
        second.others = others;
        second
    }

    fn mark(&self, landmark: usize) -> GridPosition {
        let map = &self.sheet.map;
        map.grid_position(map.landmarks().get(landmark).map_or(map.middle(), |landmark| landmark.spot))
    }

    fn other(&self) -> usize {
        self.others.get(self.taken).copied().unwrap_or(self.sheet.tower)
    }

    /// The lines of the tower and of another mark, each turned by so much.
    fn lines(&self, landmark: usize, slips: [i32; 2]) -> [(GridPosition, Bearing<Grid>); 2] {
        let line = |mark: GridPosition, slip: i32| {
            (mark, mark.leg_to(self.sheet.you).bearing.turned(Angle::from_degrees(f64::from(slip))))
        };
        [line(self.sheet.at, slips[0]), line(self.mark(landmark), slips[1])]
    }

    /// The angle at which they cut, whole degrees.
    fn cut(&self, landmark: usize) -> Option<i32> {
        let [one, other] = self.lines(landmark, [0, 0]);
        Some(crate::angle::whole_degrees(intersection(one, other)?.cut))
    }

    /// How far the place may lie off where the hand slips.
    fn off_m(&self) -> f64 {
        let slips = [[SLIP, SLIP], [SLIP, -SLIP], [-SLIP, SLIP], [-SLIP, -SLIP]];
        let places = slips.into_iter().filter_map(|slips| {
            let [one, other] = self.lines(self.other(), slips);
            intersection(one, other)
        });
        places.map(|fix| self.sheet.you.leg_to(fix.at).distance_m).fold(0.0, f64::max)
    }
}

impl Figure for Second {
    fn knobs(&self) -> &'static [Knob] {
        const { &[Knob::new("take another second mark", 1, 1)] }
    }

    fn turn(&mut self, _knob: usize, by: i32) {
        self.taken = round_from(self.taken, by.signum(), self.others.len().max(1));
    }

    fn says(&self) -> String {
        let name = self.sheet.map.landmarks().get(self.other()).map_or("the mark", |mark| mark.name.as_str());
        let cut = self.cut(self.other()).unwrap_or(0);
        let good = if cut >= GOOD_CUT { "a good cut" } else { "a poor cut" };
        format!(
            "With {name} the lines cut at {cut}°, {good}: with 3° of slip you may be {:.0} m from where they cross.",
            (self.off_m() / 10.0).round() * 10.0
        )
    }

    fn reached(&self) -> bool {
        self.cut(self.other()).is_some_and(|cut| cut >= GOOD_CUT)
    }

    fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let mut figure = self.sheet.figure();
        figure.marked.push(self.other());
        for slip in [-SLIP, SLIP] {
            for (from, bearing) in self.lines(self.other(), [slip, slip]) {
                figure.rays.push(ray(from, self.sheet.border(from, bearing), LineRole::Learner));
            }
        }
        figure.places.push(place(self.sheet.you, LineRole::Given, "you"));
        figure.scene(width_mm, height_mm, text_mm)
    }
}
