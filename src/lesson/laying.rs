//! Lessons 7 and 8: laying the map as the land lies, and taking a bearing off it.

use super::figure::{AtTable, Figure, Holding, Knob, first, number, whole};
use super::{Lesson, Question, Screen};
use crate::angle::{Angle, Bearing, Declination, True};
use crate::maptable::{Hold, LineName, Move, Task, Way};
use crate::problem::TableProblem;
use crate::scene::{Dash, Direction, Ink, Label, Line, Mark, MarkKind, Priority, Scene};
use crate::terrain::{Detail, Map, MapSpec, MapView, Ruled};

pub(super) static LAYING: Lesson = Lesson {
    id: "laying-the-map",
    title: "Laying the map",
    idea: "When the map's north points north, each thing lies from your place on the map as you see it outside.",
    before: &["orient-magnetic-line", "orient-true-line"],
    screens: &[
        Screen {
            text: "You stand in the middle of this map and see a place outside, at the edge of the picture. Turn the map until both agree.",
            figure: |_| Box::new(InView::new()),
        },
        Screen {
            text: "Fog comes in. This line runs where needles point. The edge lies on it, 000 is set. Turn map and compass until boxed.",
            figure: |_| at("orient-magnetic-line", LineName::Magnetic, BY_THE_NEEDLE),
        },
        Screen {
            text: "The starred line runs to true north, the needle does not. Boxed with 000, the map lies off. Find the number that helps.",
            figure: |_| at("orient-true-line", LineName::True, MENDING),
        },
    ],
    question: Question {
        text: "The map is oriented. A hut on it lies to the right of where you stand. Where do you see the hut outside?",
        choices: &["to the right", "to the left", "that depends on the declination"],
        right: 0,
        why: "That is what an oriented map is for: its north points north, so everything on it lies as it does outside.",
    },
};

pub(super) static OFF_THE_MAP: Lesson = Lesson {
    id: "off-the-map",
    title: "A bearing off the map",
    idea: "By the map's lines you convert before you walk; by the needle on an oriented map you convert nothing.",
    before: &["baseplate-bearing", "oriented-bearing"],
    screens: &[
        Screen {
            text: "The edge lies from P to Q. Turn the dial until the orienting arrow runs along the map's lines, pointing north. Forget the needle.",
            figure: |_| on_leg("baseplate-bearing", BY_LINES),
        },
        Screen {
            text: "Now the map is oriented. Turn the dial until the needle is boxed: the number at the index line is what your compass needs.",
            figure: |_| on_leg("oriented-bearing", BOXING),
        },
        Screen {
            text: "Two numbers for one leg: by the map's lines, and by the needle. Turn the map with the compass on it. Which one stays?",
            figure: |_| on_leg("oriented-bearing", TURNING),
        },
    ],
    question: Question {
        text: "The map is oriented and you have boxed the needle: 075 stands at the index line. Declination is 10° west. Which bearing do you walk on?",
        choices: &["065° M", "075° M", "085° M"],
        right: 1,
        why: "The needle itself has given the number, so it counts from magnetic north already: 075° M, convert nothing.",
    },
};

/// How near is near enough for the eye, in degrees.
const NEAR: i32 = 3;

/// A map turned by hand until it lies as the land does.
#[derive(Debug)]
struct InView {
    map: Map,
    /// The place that is seen outside, and where it lies from the middle of the map.
    place: usize,
    toward: Bearing<True>,
    /// How the map lies, clockwise of as it should.
    off: i32,
}

impl InView {
    fn new() -> InView {
        let ruled = Ruled { grid: false, true_lines: 0, magnetic_lines: 0, diagram: false };
        let map =
            Map::generate(11, &MapSpec { ruled, declination: Declination::from_degrees(0.0), ..MapSpec::default() });
        let far = |at: &usize| map.middle().distance_mm(map.landmarks()[*at].spot);
        let core = (0..map.landmarks().len()).filter(|at| map.landmarks()[*at].core);
        let place = core.max_by(|a, b| far(a).total_cmp(&far(b))).unwrap_or(0);
        let spot = map.landmarks().get(place).map_or(map.middle(), |landmark| landmark.spot);
        let toward = map.true_bearing(map.middle(), spot).unwrap_or(Bearing::from_degrees(0.0));
        InView { map, place, toward, off: 70 }
    }

    fn name(&self) -> &str {
        self.map.landmarks().get(self.place).map_or("the place", |landmark| &landmark.name)
    }
}

impl Figure for InView {
    fn knobs(&self) -> &'static [Knob] {
        const { &[Knob::new("turn the map", 5, 45)] }
    }

    fn turn(&mut self, _knob: usize, by: i32) {
        self.off = (self.off + by + 180).rem_euclid(360) - 180;
    }

    fn says(&self) -> String {
        let name = self.name();
        match self.off {
            off if off.abs() <= NEAR => format!("{name} on the map points at {name} outside: the map is oriented."),
            off if off > 0 => format!("On the map {name} lies {off}° to the right of where you see it."),
            off => format!("On the map {name} lies {}° to the left of where you see it.", -off),
        }
    }

    fn reached(&self) -> bool {
        self.off.abs() <= NEAR
    }

    fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let spec = self.map.spec();
        let zoom = (width_mm.min(height_mm * 1.3) / spec.width_mm.hypot(spec.height_mm)).min(1.0);
        let view =
            MapView { zoom, text_mm, detail: Detail::Some, ..MapView::around(self.map.middle(), width_mm, height_mm) };
        let view = view.turned(Angle::from_degrees(f64::from(self.off))).asking([self.place]);
        let mut scene = self.map.scene(&view);
        let (here, spot) = (scene.centre(), self.map.landmarks().get(self.place).map(|landmark| landmark.spot));
        if let Some(spot) = spot {
            scene.add(Line::straight(here, view.point(spot), Ink::LearnerLine));
        }
        // Outside, the place stands where it stands, whichever way the map is turned.
        let outside = Direction::from_degrees_clockwise_from_up(self.toward.degrees());
        let reach = outside.reach_within(width_mm / 2.0, height_mm / 2.0) - text_mm;
        let tip = here.along(outside, reach);
        scene.add(Line::straight(here, tip, Ink::RightLine).dash(Dash::Dashed));
        scene.add(Mark::new(MarkKind::Triangle, tip, text_mm, Ink::RightLine).toward(outside));
        let label = Label::new(format!("{} outside", self.name()), tip.along(outside, -text_mm * 1.6), Ink::RightLine);
        scene.add(label.strong().priority(Priority::High).near());
        scene.add(Mark::new(MarkKind::Spot, here, text_mm, Ink::LearnerLine));
        scene
    }
}

const BOTH_TOGETHER: Knob = Knob::new("turn map and compass", 5, 45);
const THE_DIAL: Knob = Knob::new("turn the dial", 2, 20);

const BY_THE_NEEDLE: Holding = Holding {
    knobs: &[BOTH_TOGETHER],
    holds: &[Hold::Both],
    says: |at| {
        if at.boxed() {
            "Boxed: the drawn line points where the needle points, so the map lies as the land does.".to_owned()
        } else {
            format!("{}.", at.needle_words())
        }
    },
    reached: AtTable::boxed,
    missed: |_| None,
    parts: &[],
};

const MENDING: Holding = Holding {
    knobs: &[BOTH_TOGETHER, THE_DIAL],
    holds: &[Hold::Both, Hold::Dial],
    says: |at| {
        let dial = at.at_index();
        // As it would be with the needle just in the middle of the box: nearly boxed counts, and the numbers must agree.
        let exactly = whole((at.table.map().angle() + at.seen().needle_from_box).wrapped_half());
        match (at.boxed(), exactly) {
            (false, _) => format!("{dial} on the dial. {}.", at.needle_words()),
            (true, off) if off.abs() <= NEAR => {
                let east = whole(at.problem.exercise.declination.angle());
                let lies = if east > 0 { "counterclockwise" } else { "clockwise" };
                format!(
                    "Boxed, and the map lies as the land does: {dial}, since true north lies {}° {lies} of the needle.",
                    east.abs()
                )
            }
            (true, off) => {
                let east = whole(at.problem.exercise.declination.angle());
                let side = if east < 0 { "left" } else { "right" };
                format!(
                    "Boxed with {dial}, yet the map lies {}° off, turned {}: the needle itself points {}° to the {side} of true north.",
                    off.abs(),
                    turned(off),
                    east.abs()
                )
            }
        }
    },
    reached: |at| at.boxed() && at.map_off().abs() <= NEAR,
    missed: |at| {
        let east = whole(at.problem.exercise.declination.angle());
        let lies = if east > 0 { "counterclockwise" } else { "clockwise" };
        let helps = super::figure::written(-east);
        Some(format!("{helps} would help: true north lies {}° {lies} of where the needle points.", east.abs()))
    },
    parts: &[],
};

const fn turned(off: i32) -> &'static str {
    if off < 0 { "counterclockwise" } else { "clockwise" }
}

/// Whether a problem's declination is large enough to be seen.
fn far(table: &TableProblem) -> bool {
    table.exercise.declination.angle().abs() >= Angle::from_degrees(8.0)
}

/// The compass on a line of the map, 000 on the dial.
fn at(skill: &str, line: LineName, holding: Holding) -> Box<dyn Figure> {
    let moves = [Move::SetDial(Angle::ZERO), Move::Edge(line, Way::Ahead)];
    from_problem(first(skill, far), &moves, holding)
}

const BY_LINES: Holding = Holding {
    knobs: &[THE_DIAL],
    holds: &[Hold::Dial],
    says: |at| {
        let off = whole(at.seen().dial_from_map);
        match off {
            off if off.abs() <= 1 => format!(
                "Along the map's lines: {0} at the index line is the true bearing {0}° T. Convert it before you walk.",
                at.at_index()
            ),
            off => format!(
                "{} at the index line counts from no north yet: the orienting arrow lies {}° {} of the map's lines.",
                at.at_index(),
                off.abs(),
                turned(off)
            ),
        }
    },
    reached: |at| at.seen().dial_from_map.abs() <= Angle::from_degrees(1.0),
    missed: |_| None,
    parts: &[],
};

const BOXING: Holding = Holding {
    knobs: &[THE_DIAL],
    holds: &[Hold::Dial],
    says: |at| {
        if at.boxed() {
            format!("Boxed: {0} at the index line is the magnetic bearing {0}° M. Convert nothing.", at.at_index())
        } else {
            format!("{} at the index line counts from no north yet. {}.", at.at_index(), at.needle_words())
        }
    },
    reached: AtTable::boxed,
    missed: |_| None,
    parts: &[],
};

const TURNING: Holding = Holding {
    knobs: &[BOTH_TOGETHER],
    holds: &[Hold::Both],
    says: |at| {
        let by_lines = number(at.table.arrow_on_map().angle());
        let needle = at.problem.exercise.needle();
        let by_needle = number(at.table.baseplate().angle() - needle.angle());
        let off = at.map_off();
        let note = if off.abs() <= NEAR {
            "the map is oriented, so both are true of the land".to_owned()
        } else {
            format!("the map lies {}° off, so the needle's number is of no use now", off.abs())
        };
        format!("By the lines {by_lines} T, however the map lies. By the needle {by_needle} M: {note}.")
    },
    reached: |_| true,
    missed: |_| None,
    parts: &[],
};

/// The compass with its edge along the first leg of a problem.
fn on_leg(skill: &str, holding: Holding) -> Box<dyn Figure> {
    let problem = first(skill, far);
    let leg = problem.as_ref().and_then(|problem| match &problem.exercise.task {
        Task::OrientedBearing { legs, .. } => legs.first().copied(),
        Task::MapBearing { leg, .. } => Some(*leg),
        _ => None,
    });
    let moves: Vec<Move> = leg.map(|leg| Move::Edge(LineName::Leg(leg), Way::Ahead)).into_iter().collect();
    from_problem(problem, &moves, holding)
}

/// Every skill of the table has problems that suit; should one have none, the map in view stands in.
fn from_problem(problem: Option<TableProblem>, moves: &[Move], holding: Holding) -> Box<dyn Figure> {
    match problem {
        Some(problem) => Box::new(AtTable::after(problem, moves, holding)),
        None => Box::new(InView::new()),
    }
}
