//! Lesson 11: nobody walks a line exactly, so the error is planned: how far a slip leads aside, a goal missed on purpose to a known side,
//! and a way round by counted steps.
//!
//! The sums are arithmetic, the rules common practice, no source.

use super::figure::{Figure, Knob, spoken, written};
use super::{Lesson, Question, Screen};
use crate::angle::{Angle, North};
use crate::scene::blocks::{NorthKind, Plan, PlanLine, PlanSpot};
use crate::scene::{Align, Dash, Direction, Ink, Label, Point, Priority, Rect, Scene};

pub(super) static LESSON: Lesson = Lesson {
    id: "off-the-line",
    title: "Off the line on purpose",
    idea: "Nobody walks a line exactly: know how far a slip leads aside, miss a goal on purpose to one side, count your steps round what is in the way.",
    before: &["one-in-sixty", "aim-off", "box-detour"],
    screens: &[
        Screen {
            text: "The hut is 600 m away: the circle round you through it is about 3600 m, for 360 degrees. How far does one lead aside?",
            figure: |_| Box::new(Slip { off: 3 }),
        },
        Screen {
            text: "In fog a stream lies square across your way, the bridge 800 m ahead on 010° M. You aim straight at it and slip unseen.",
            figure: |_| Box::new(Straight { slip: -3 }),
        },
        Screen {
            text: "You may slip by 5° to either side. Aim beside the bridge on purpose, until you know where to turn, but no further.",
            figure: |_| Box::new(Aim { off: 0 }),
        },
        Screen {
            text: "A pond lies on your line. Never follow a bearing over a hazard: go round at right angles. How many steps lead back?",
            figure: |_| Box::new(Detour { back: 30 }),
        },
    ],
    question: Question {
        text: "A gate is 600 m away on 090° M, in a wall square across your way. You may be 4° off, and walk on 083° M. At the wall, where is the gate?",
        choices: &["to your left", "to your right", "you cannot know"],
        right: 1,
        why: "083 is 7° to the left of 090. Even the worst slip to the right leaves 7 − 4 = 3° of that, about 3 × 10 = 30 m: so you come out left of the gate, and it lies to your right.",
    },
};

/// How far the hut is.
const HUT_M: i32 = 600;
/// The bridge: how far, on which magnetic bearing, and how far to either side one may slip.
const BRIDGE_M: i32 = 800;
const BRIDGE_ON: i32 = 10;
const SLIP: i32 = 5;
/// More beside the bridge than this, and nothing is gained for the way that it costs.
const ENOUGH: i32 = SLIP + 4;
/// What can be seen in the fog.
const IN_SIGHT_M: f64 = 20.0;

/// So many times as far aside is everything drawn where one walks upward: a few degrees would hardly be seen.
const ASIDE: f64 = 3.0;
const NOTE: &str = "drawn three times as wide";

/// How far beside the goal one comes out on a line square to the way, right positive, who is so many degrees off all the way.
fn beside_m(way_m: i32, off: i32) -> f64 {
    f64::from(way_m) * Angle::from_degrees(f64::from(off)).radians().tan()
}

const fn side(off: i32) -> &'static str {
    if off < 0 { "left" } else { "right" }
}

/// A place of a plan on which one walks upward: beside the line and along it.
fn ahead(aside_m: f64, along_m: i32) -> (f64, f64) {
    (ASIDE * aside_m, f64::from(along_m))
}

fn line(through: Vec<(f64, f64)>, ink: Ink, label: impl Into<String>) -> PlanLine {
    PlanLine { through, ink, dash: Dash::Solid, arrow: false, label: label.into(), on_line: false }
}

/// A line that is meant, and not walked.
fn thought(through: Vec<(f64, f64)>, label: impl Into<String>) -> PlanLine {
    PlanLine { dash: Dash::Dotted, ..line(through, Ink::Text, label) }
}

fn way(through: Vec<(f64, f64)>, ink: Ink, label: impl Into<String>) -> PlanLine {
    PlanLine { arrow: true, ..line(through, ink, label) }
}

fn spot(at: (f64, f64), ink: Ink, name: &str) -> PlanSpot {
    PlanSpot { at, ink, name: name.to_owned() }
}

/// A plan as large as its panel. Where it has no north one walks upward, and it is drawn wider than it is.
fn plan(size: (f64, f64), text_mm: f64, north: Option<North>, lines: Vec<PlanLine>, spots: Vec<PlanSpot>) -> Scene {
    let (width_mm, height_mm) = size;
    let mut scene = Scene::new(width_mm, height_mm);
    let rect = Rect::new(0.0, 0.0, width_mm, height_mm);
    let norths = north.map(|north| (NorthKind::from(north), Direction::UP, north.short().to_owned()));
    if norths.is_none() {
        let corner = Point::new(text_mm * 0.5, height_mm - text_mm * 0.5);
        scene.add(Label::new(NOTE, corner, Ink::Text).align(Align::Left).priority(Priority::Low));
    }
    Plan { rect, text_mm, norths: norths.into_iter().collect(), lines, spots }.draw(&mut scene);
    scene
}

/// A line that is walked a few degrees off the one that was meant.
#[derive(Debug)]
struct Slip {
    /// To the right positive.
    off: i32,
}

impl Slip {
    const MOST: i32 = 10;
}

impl Figure for Slip {
    fn knobs(&self) -> &'static [Knob] {
        const { &[Knob::new("turn the line that you walk", 1, 5)] }
    }

    fn turn(&mut self, _knob: usize, by: i32) {
        self.off = (self.off + by).clamp(-Slip::MOST, Slip::MOST);
    }

    fn says(&self) -> String {
        let (off, degree) = (self.off.abs(), HUT_M / 60);
        if off == 0 {
            return "You walk the line that you meant, and come out at the hut.".to_owned();
        }
        format!(
            "{off}° off: you come out {:.0} m to the {} of the hut. A degree leads aside by about a sixtieth of the way: {HUT_M} / 60 = {degree}, and {off} × {degree} = {} m.",
            beside_m(HUT_M, off),
            side(self.off),
            off * degree
        )
    }

    fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let (start, hut) = (ahead(0.0, 0), ahead(0.0, HUT_M));
        let out = |off: i32| ahead(beside_m(HUT_M, off), HUT_M);
        let lines = vec![
            thought(vec![start, hut], ""),
            thought(vec![out(-Slip::MOST), out(Slip::MOST)], ""),
            way(vec![start, out(self.off)], Ink::LearnerLine, format!("{}°", self.off.abs())),
        ];
        let mut spots = vec![spot(start, Ink::Text, "start"), spot(hut, Ink::Text, "hut")];
        if self.off != 0 {
            let name = format!("{:.0} m", beside_m(HUT_M, self.off.abs()));
            spots.push(spot(out(self.off), Ink::LearnerLine, &name));
        }
        plan((width_mm, height_mm), text_mm, None, lines, spots)
    }
}

/// Where somebody comes out at the stream who is so many degrees off the straight way.
fn at_stream(off: i32) -> (f64, f64) {
    ahead(beside_m(BRIDGE_M, off), BRIDGE_M)
}

/// The bearing that is walked so far beside the straight one: `002° M`.
fn on(off: i32) -> String {
    spoken(BRIDGE_ON + off, North::Magnetic).to_string()
}

/// The stream, and the way straight at the bridge with what is written at it. It reaches as far as anything that is drawn there, so that nothing is fitted anew, and at
/// the right a little further: there its name stands out of the way of all that moves.
fn stream(straight: &str) -> (Vec<PlanLine>, Vec<PlanSpot>) {
    let (start, bridge, widest) = (ahead(0.0, 0), at_stream(0), Aim::MOST + SLIP + 1);
    let end = widest + 4;
    let lines = vec![
        line(vec![at_stream(-end), at_stream(widest)], Ink::Water, ""),
        line(vec![at_stream(widest), at_stream(end)], Ink::Water, "stream"),
        thought(vec![start, bridge], straight),
    ];
    (lines, vec![spot(start, Ink::Text, "start"), spot(bridge, Ink::Text, "bridge")])
}

/// Somebody who aims straight at the bridge, and slips.
#[derive(Debug)]
struct Straight {
    /// To the right positive.
    slip: i32,
}

impl Figure for Straight {
    fn knobs(&self) -> &'static [Knob] {
        const { &[Knob::new("slip to the left or to the right", 1, 3)] }
    }

    fn turn(&mut self, _knob: usize, by: i32) {
        self.slip = (self.slip + by).clamp(-SLIP, SLIP);
    }

    fn says(&self) -> String {
        let off_m = beside_m(BRIDGE_M, self.slip.abs());
        match self.slip {
            0 => "At the stream you stand at the bridge: this time nothing slipped, and you could not have known."
                .to_owned(),
            _ if off_m <= IN_SIGHT_M => {
                format!("At the stream you just make out the bridge in the fog, {off_m:.0} m away: luck.")
            }
            slip => format!(
                "At the stream, and which way is the bridge? You cannot know. From above: you slipped {}° to the {}, and it is {off_m:.0} m to your {}.",
                slip.abs(),
                side(slip),
                side(-slip)
            ),
        }
    }

    fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let (mut lines, mut spots) = stream(&on(0));
        lines.push(way(vec![ahead(0.0, 0), at_stream(self.slip)], Ink::LearnerLine, ""));
        if self.slip != 0 {
            spots.push(spot(at_stream(self.slip), Ink::LearnerLine, "you?"));
        }
        plan((width_mm, height_mm), text_mm, None, lines, spots)
    }
}

/// Somebody who aims beside the bridge on purpose.
#[derive(Debug)]
struct Aim {
    /// To the right positive.
    off: i32,
}

impl Aim {
    const MOST: i32 = 12;

    /// `010 − 8 = 002° M`.
    fn sum(&self) -> String {
        let off = self.off;
        let sign = if off < 0 { '−' } else { '+' };
        let round = if BRIDGE_ON + off < 0 { " + 360" } else { "" };
        format!("{} {sign} {}{round} = {}", written(BRIDGE_ON), off.abs(), on(off))
    }

    const fn is_known(&self) -> bool {
        self.off.abs() > SLIP
    }
}

impl Figure for Aim {
    fn knobs(&self) -> &'static [Knob] {
        const { &[Knob::new("aim to the left or to the right", 1, 3)] }
    }

    fn turn(&mut self, _knob: usize, by: i32) {
        self.off = (self.off + by).clamp(-Aim::MOST, Aim::MOST);
    }

    fn says(&self) -> String {
        let (off, sum, turn) = (self.off.abs(), self.sum(), side(-self.off));
        let [near, far] = [off - SLIP, off + SLIP].map(|most| beside_m(BRIDGE_M, most.abs()));
        let span = format!("the bridge is {near:.0} to {far:.0} m on");
        match off {
            0 => format!(
                "Straight on {}: the bridge is up to {far:.0} m to your left or right. You cannot know which.",
                on(0)
            ),
            SLIP => format!(
                "{sum}, just as much as you may slip: you may come out at the bridge itself, and nothing is to spare."
            ),
            _ if !self.is_known() => format!(
                "{sum}: the bridge is up to {far:.0} m to your {turn}, or up to {near:.0} m to your {}. You still cannot know.",
                side(self.off)
            ),
            _ if off <= ENOUGH => format!("{sum}, by more than you may slip. At the stream turn {turn}: {span}."),
            _ => format!(
                "{sum}. At the stream turn {turn}: {span}. The side was sure before: more only costs way, each degree some {:.0} m.",
                beside_m(BRIDGE_M, 1)
            ),
        }
    }

    fn reached(&self) -> bool {
        self.is_known() && self.off.abs() <= ENOUGH
    }

    fn missed(&self) -> Option<String> {
        let known = SLIP + 1;
        (!self.reached()).then(|| {
            format!("From {known}° on, {SLIP}° of slip leave you on the side you aimed to; {ENOUGH}° are plenty.")
        })
    }

    fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let ink = if self.reached() { Ink::RightLine } else { Ink::LearnerLine };
        // One number at a time: between ways that lie so close nobody could tell whose it is.
        let (straight, aim) = if self.off == 0 { (on(0), String::new()) } else { (String::new(), on(self.off)) };
        let (mut lines, spots) = stream(&straight);
        let start = ahead(0.0, 0);
        let [left, right] = [self.off - SLIP, self.off + SLIP].map(at_stream);
        // Wherever one may come out: both ways that slip most, and what lies between them at the stream.
        for out in [left, right] {
            lines.push(PlanLine { dash: Dash::Fine, ..line(vec![start, out], ink, "") });
        }
        lines.push(line(vec![left, right], ink, ""));
        lines.push(way(vec![start, at_stream(self.off)], ink, aim));
        plan((width_mm, height_mm), text_mm, None, lines, spots)
    }
}

/// The way round the pond: on which magnetic bearing one walks, how far the goal is and the pond, and the way along it.
const ROUND_ON: i32 = 90;
const GOAL_M: i32 = 600;
const BEFORE_M: i32 = 200;
const ALONG_M: i32 = 150;
/// How many steps lead out to the left, and how long one is drawn.
const OUT: i32 = 80;
const STEP_M: f64 = 0.75;
/// The pond: how far it reaches along and across, half of it, and how many corners it is drawn with.
const POND_M: (f64, f64) = (55.0, 38.0);
const CORNERS: i32 = 24;

/// Somebody who goes round a pond by right angles.
#[derive(Debug)]
struct Detour {
    /// How many steps lead back.
    back: i32,
}

impl Figure for Detour {
    fn knobs(&self) -> &'static [Knob] {
        const { &[Knob::new("take fewer or more steps back", 10, 30)] }
    }

    fn turn(&mut self, _knob: usize, by: i32) {
        self.back = (self.back + by).clamp(10, OUT + 40);
    }

    fn says(&self) -> String {
        let left = format!("{GOAL_M} − {BEFORE_M} − {ALONG_M} = {} m", GOAL_M - BEFORE_M - ALONG_M);
        let (back, off) = (self.back, OUT - self.back);
        if off == 0 {
            return format!(
                "{OUT} steps out, {back} back: you are on your line again. Only the {ALONG_M} m along it count, so {left} are left."
            );
        }
        let place = match off.abs() {
            steps if off > 0 => format!("still {steps} steps left of your line"),
            steps => format!("past your line, {steps} steps right of it"),
        };
        format!("{OUT} steps out, {back} back: you are {place}. After {left} you pass beside the hut.")
    }

    fn reached(&self) -> bool {
        self.back == OUT
    }

    fn missed(&self) -> Option<String> {
        (!self.reached())
            .then(|| format!("{OUT} steps out want {OUT} back, however long they are: the one undoes the other."))
    }

    fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let ink = if self.reached() { Ink::RightLine } else { Ink::LearnerLine };
        let metres = f64::from;
        let (out, along) = (metres(OUT) * STEP_M, metres(ALONG_M));
        let (start, goal) = ((-metres(BEFORE_M), 0.0), (metres(GOAL_M - BEFORE_M), 0.0));
        let turned = |quarter: i32| written(ROUND_ON + 90 * quarter).to_string();
        let corner = |at: i32| {
            let (across, ahead) = Angle::from_degrees(metres(at * 360 / CORNERS)).radians().sin_cos();
            (along / 2.0 + POND_M.0 * ahead, POND_M.1 * across)
        };
        let end = (along, out - metres(self.back) * STEP_M);
        let corners = [(0.0, 0.0), (0.0, out), (along, out), end];
        let labels = [
            format!("{}, {OUT} steps", turned(-1)),
            format!("{}, {ALONG_M} m", turned(0)),
            format!("{}, {} steps", turned(1), self.back),
        ];
        let mut lines = vec![
            thought(vec![start, (0.0, 0.0)], spoken(ROUND_ON, North::Magnetic).to_string()),
            thought(vec![(0.0, 0.0), goal], ""),
            line((0..=CORNERS).map(corner).collect(), Ink::Water, "pond"),
        ];
        lines.extend(corners.windows(2).zip(labels).map(|(leg, label)| way(leg.to_vec(), ink, label)));
        // Where it leads from there: to the hut, or past it.
        lines.push(PlanLine {
            dash: Dash::Dashed,
            arrow: !self.reached(),
            ..line(vec![end, (goal.0, end.1)], ink, "")
        });
        let spots = vec![spot(start, Ink::Text, "start"), spot(goal, Ink::Text, "hut")];
        plan((width_mm, height_mm), text_mm, Some(North::Magnetic), lines, spots)
    }
}

#[cfg(test)]
mod tests;
