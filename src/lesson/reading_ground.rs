//! Lesson 9: what contour lines say of the ground.

use super::figure::hill::{
    self, CUT_TENS, HIGHEST_M, LOWEST_M, Lie, STEP_M, away, height_m, on_contour, on_cut, rise_over,
};
use super::figure::{Figure, Knob, pointing, spoken};
use super::{Lesson, Question, Screen};
use crate::angle::{Angle, North};
use crate::numbers::whole;
use crate::problem::MapPoint;
use crate::scene::{Ink, Label, Line, Mark, MarkKind, Priority, Scene};

pub(super) static LESSON: Lesson = Lesson {
    id: "reading-the-ground",
    title: "Reading the ground",
    idea: "A contour line joins places of one height: where lines lie close it is steep, and their bends tell spur from re-entrant.",
    before: &["relief"],
    screens: &[
        Screen {
            text: "Water lies round a hill. Its edge is level: every place on it has one height. Let it rise: each edge is a contour line.",
            figure: |_| Box::new(Flood { level_m: LOWEST_M }),
        },
        Screen {
            text: "Where lines lie close, a short way crosses many, so it is steep; far apart is gentle. Walk along and stop where it is steepest.",
            figure: |_| Box::new(Walk { tens: 10 }),
        },
        Screen {
            text: "The numbers say which side is up: they grow uphill. Turn the arrow straight down, and look at how it crosses the lines.",
            figure: |_| Box::new(Fall { toward: 320 }),
        },
        Screen {
            text: "A spur is a nose of high ground: lines bend out. A re-entrant is a small valley: they bend in. Walk to a re-entrant.",
            figure: |_| Box::new(Along { toward: 290 }),
        },
    ],
    question: Question {
        text: "The contour lines bend like fingers, and the tips point to the lower numbers. What is the ground like there?",
        choices: &["a re-entrant", "a spur", "steep"],
        right: 1,
        why: "The tips point downhill, so high ground sticks out: a spur, lower on three sides. In a re-entrant the tips point uphill.",
    },
};

/// Water that rises, edge by edge.
#[derive(Debug)]
struct Flood {
    level_m: i32,
}

impl Figure for Flood {
    fn knobs(&self) -> &'static [Knob] {
        const { &[Knob::new("let the water rise or fall", 1, 3)] }
    }

    fn turn(&mut self, _knob: usize, by: i32) {
        self.level_m = (self.level_m + by * STEP_M).clamp(LOWEST_M, HIGHEST_M);
    }

    fn says(&self) -> String {
        format!(
            "The water stands at {0} m. Its edge is the contour line of {0} m: along it you go neither up nor down.",
            self.level_m
        )
    }

    fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let mut scene = Scene::new(width_mm, height_mm);
        let lie = Lie::new((width_mm, height_mm), text_mm, true);
        lie.draw_map(self.level_m, &mut scene);
        for piece in lie.contour(self.level_m) {
            scene.add(Line::through(piece, Ink::Water).bold());
        }
        lie.draw_cut(self.level_m, &mut scene);
        // The water from the side: wherever the ground is lower.
        let wet = |tens: i32| height_m(on_cut(tens)) < f64::from(self.level_m);
        for tens in (0..CUT_TENS).filter(|tens| wet(*tens) && wet(tens + 1)) {
            let [from, to] = [tens, tens + 1].map(|tens| lie.side(on_cut(tens), f64::from(self.level_m)));
            scene.add(Line::straight(from, to, Ink::Water).bold());
        }
        scene
    }
}

/// Over how many tens of metres to either side steepness is told: a hundred metres in all.
const HALF_TENS: i32 = 5;

/// Somebody who walks along the cut.
#[derive(Debug)]
struct Walk {
    /// From the west end, in tens of metres.
    tens: i32,
}

impl Walk {
    /// Where the walker can stand: a hundred metres around lie on the cut.
    const FROM_TO: std::ops::RangeInclusive<i32> = HALF_TENS..=CUT_TENS - HALF_TENS;

    fn steepest_m() -> i32 {
        Walk::FROM_TO.map(|tens| rise_over(tens, HALF_TENS).abs()).max().unwrap_or(0)
    }
}

impl Figure for Walk {
    fn knobs(&self) -> &'static [Knob] {
        const { &[Knob::new("walk west or east", 2, 10)] }
    }

    fn turn(&mut self, _knob: usize, by: i32) {
        self.tens = (self.tens + by).clamp(*Walk::FROM_TO.start(), *Walk::FROM_TO.end());
    }

    fn says(&self) -> String {
        let rise = rise_over(self.tens, HALF_TENS);
        let way = if rise < 0 { "falls" } else { "rises" };
        let steep = match (rise.abs(), Walk::steepest_m()) {
            (metres, most) if metres >= most => "nowhere on your way is it steeper",
            (metres, most) if 2 * metres >= most => "rather steep",
            _ => "gentle",
        };
        let height = height_m(on_cut(self.tens)).round();
        format!(
            "You stand at {height} m. Over 100 m of your way eastward the ground {way} by {} m: {steep}.",
            rise.abs()
        )
    }

    fn reached(&self) -> bool {
        rise_over(self.tens, HALF_TENS).abs() >= Walk::steepest_m()
    }

    fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let mut scene = Scene::new(width_mm, height_mm);
        let lie = Lie::new((width_mm, height_mm), text_mm, true);
        lie.draw_map(HIGHEST_M, &mut scene);
        lie.draw_cut(HIGHEST_M, &mut scene);
        let way: Vec<MapPoint> = (-HALF_TENS..=HALF_TENS).map(|off| on_cut(self.tens + off)).collect();
        let side = |at: &MapPoint| lie.side(*at, height_m(*at));
        scene.add(Line::through(way.iter().map(|at| lie.point(*at)).collect(), Ink::LearnerLine).bold());
        scene.add(Line::through(way.iter().map(side).collect(), Ink::LearnerLine).bold());
        let here = on_cut(self.tens);
        for at in [lie.point(here), side(&here)] {
            scene.add(Mark::new(MarkKind::Spot, at, text_mm, Ink::LearnerLine));
        }
        scene
    }
}

/// How near to straight down is near enough, in degrees.
const NEAR: i32 = 10;
/// Where the arrow stands: on the line of this height, in this direction from the top.
const ARROW_M: i32 = 310;
const ARROW_AT: i32 = 20;
/// How long the arrow is, and over how much of it is told how far one goes down or up: farther on the lines bend.
const ARROW_LONG_M: f64 = 100.0;
const FIRST_M: i32 = 30;

fn degrees(whole: i32) -> Angle {
    Angle::from_degrees(f64::from(whole))
}

/// An arrow that is turned until it points down.
#[derive(Debug)]
struct Fall {
    /// Where it points, clockwise of true north.
    toward: i32,
}

impl Fall {
    fn at() -> MapPoint {
        on_contour(ARROW_M, degrees(ARROW_AT))
    }

    /// How much higher the ground is after so many metres.
    fn rise(toward: i32, metres: f64) -> f64 {
        height_m(away(Fall::at(), degrees(toward), metres)) - height_m(Fall::at())
    }

    /// How far from straight down, either way: that is where the very next step falls most.
    fn off(&self) -> i32 {
        let lower = |toward: &i32| whole::<i32>(-Fall::rise(*toward, 1.0) * 10_000.0);
        let down = (0..360).max_by_key(lower).unwrap_or(0);
        let off = (self.toward - down).rem_euclid(360);
        off.min(360 - off)
    }
}

impl Figure for Fall {
    fn knobs(&self) -> &'static [Knob] {
        const { &[Knob::new("turn the arrow", 5, 45)] }
    }

    fn turn(&mut self, _knob: usize, by: i32) {
        self.toward = (self.toward + by).rem_euclid(360);
    }

    fn says(&self) -> String {
        let rise: i32 = whole(Fall::rise(self.toward, f64::from(FIRST_M)).round());
        let how = match self.off() {
            off if off <= NEAR => "straight down, square across the lines",
            off if off >= 180 - NEAR => "straight up, square across the lines",
            off if (90 - NEAR..=90 + NEAR).contains(&off) => "along the line, hardly up or down",
            _ => "across the lines at a slant",
        };
        let side = if rise < 0 { "lower" } else { "higher" };
        format!(
            "{}: {} m {side} over the first {FIRST_M} m. The arrow points {how}.",
            spoken(self.toward, North::True),
            rise.abs()
        )
    }

    fn reached(&self) -> bool {
        self.off() <= NEAR
    }

    fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let mut scene = Scene::new(width_mm, height_mm);
        let lie = Lie::new((width_mm, height_mm), text_mm, false);
        lie.draw_map(HIGHEST_M, &mut scene);
        let (from, to) = (lie.point(Fall::at()), lie.point(away(Fall::at(), degrees(self.toward), ARROW_LONG_M)));
        scene.add(Line::straight(from, to, Ink::LearnerLine).bold());
        scene.add(Mark::new(MarkKind::ArrowHead, to, text_mm, Ink::LearnerLine).toward(pointing(self.toward)));
        scene.add(Mark::new(MarkKind::Spot, from, text_mm * 0.8, Ink::LearnerLine));
        scene
    }
}

/// The height of the line that is walked, and how far around a place its shape is looked at, in m.
const ALONG_M: i32 = 305;
const AROUND_M: f64 = 60.0;

/// Somebody who walks along one contour line.
#[derive(Debug)]
struct Along {
    /// Where they are, clockwise of true north from the top.
    toward: i32,
}

impl Along {
    fn at(&self) -> MapPoint {
        on_contour(ALONG_M, degrees(self.toward))
    }

    /// How many of eight sides are higher.
    fn higher(&self) -> usize {
        hill::higher_sides(self.at(), AROUND_M)
    }
}

impl Figure for Along {
    fn knobs(&self) -> &'static [Knob] {
        const { &[Knob::new("walk along the line round the hill", 4, 20)] }
    }

    fn turn(&mut self, _knob: usize, by: i32) {
        self.toward = (self.toward + by).rem_euclid(360);
    }

    fn says(&self) -> String {
        let higher = self.higher();
        let shape = match higher {
            0..=2 => "a spur: the line bends out, and the ground falls on three sides.",
            3..=4 => "a plain slope: up on one side, down on the other.",
            5 => "nearly a re-entrant: the line begins to bend in.",
            _ => "a re-entrant: the line bends in, and the ground rises on three sides. Here water runs down.",
        };
        format!("{} of the top. Of eight directions from here {higher} lead up: {shape}", side_words(self.toward))
    }

    fn reached(&self) -> bool {
        self.higher() >= 6
    }

    fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let mut scene = Scene::new(width_mm, height_mm);
        let lie = Lie::new((width_mm, height_mm), text_mm, false);
        lie.draw_map(HIGHEST_M, &mut scene);
        for piece in lie.contour(ALONG_M) {
            scene.add(Line::through(piece, Ink::Text).bold());
        }
        let here = lie.point(self.at());
        scene.add(Mark::new(MarkKind::Spot, here, text_mm, Ink::LearnerLine));
        let label = Label::new("you", here.moved(text_mm * 1.4, 0.0), Ink::LearnerLine);
        scene.add(label.strong().priority(Priority::High).near());
        scene
    }
}

/// `236°, south-west`: where somebody is, seen from the top.
fn side_words(toward: i32) -> String {
    let point = crate::angle::Point::nearest(degrees(toward), crate::angle::PointSet::Eight);
    format!("{}, {}", spoken(toward, North::True), point.words())
}
