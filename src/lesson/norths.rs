//! Lesson 5: why map and compass differ.

use super::figure::{Figure, Knob, north_line, pointing, spoken};
use super::{Lesson, Question, Screen, Site};
use crate::angle::{Angle, CountReason, North, days_rule, whole_degrees};
use crate::scene::blocks::{Sketch, SketchLine, Turn, Writing};
use crate::scene::{Dash, Ink, Rect, Scene};

pub(super) static LESSON: Lesson = Lesson {
    id: "two-numbers",
    title: "One line, two numbers",
    idea: "Map and compass count from different norths, so one line on the ground has two numbers.",
    before: &["true-magnetic", "dated-map"],
    screens: &[
        Screen {
            text: "The map counts from true north (T), the compass from magnetic north (M). The path stays where it is. Move magnetic north: one number changes.",
            figure: |_| Box::new(Slide { declination: -8, line: 60, site: None }),
        },
        Screen {
            text: "Is the compass number bigger or smaller? Count clockwise from each north to the path: from which have you further to go? Then say it.",
            figure: |_| Box::new(Predict::new(Way::MapToCompass)),
        },
        Screen {
            text: "Now the other way: the compass gives the number, the map needs its own. Counted from true north, is it further round to the path?",
            figure: |_| Box::new(Predict::new(Way::CompassToMap)),
        },
        Screen {
            text: "Near north the count begins again. Move the path between the two norths: from magnetic north it becomes a short turn, so take 360 off.",
            figure: |_| Box::new(PastNorth { line: 310, way: Way::MapToCompass }),
        },
        Screen {
            text: "These are the two norths on home ground today, and the rule that comes from them. Move the path: the rule stays.",
            figure: |site| {
                let declination = site.angles.map_or(-8, |angles| whole_degrees(angles.declination().angle()));
                Box::new(Slide { declination, line: 48, site: Some(site.clone()) })
            },
        },
    ],
    question: Question {
        text: "Declination is 10° west. The map says 100° T. What does the compass say?",
        choices: &["090° M", "100° M", "110° M"],
        right: 2,
        why: "Magnetic north lies to the left of true north, so the compass counts further to the same line: 10 more. That is the correction.",
    },
};

/// How far below the middle the foot of the sketch lies, as a part of the picture's height: all paths point up.
const LOW: f64 = 1.8;

/// From which number to which.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Way {
    MapToCompass,
    CompassToMap,
}

impl Way {
    /// The north that the wanted number counts from.
    const fn wanted(self) -> North {
        match self {
            Way::MapToCompass => North::Magnetic,
            Way::CompassToMap => North::True,
        }
    }

    /// `compass number`
    const fn number(self) -> &'static str {
        match self {
            Way::MapToCompass => "compass number",
            Way::CompassToMap => "map number",
        }
    }

    /// How far the north of the wanted number lies clockwise of the other one.
    const fn clockwise(self, declination: i32) -> i32 {
        match self {
            Way::MapToCompass => declination,
            Way::CompassToMap => -declination,
        }
    }

    /// `magnetic north lies to the left (west), so you count further and the compass number is bigger`
    fn why(self, declination: i32) -> String {
        let Some(CountReason { lies, side, count, number }) = CountReason::of(self.clockwise(declination)) else {
            return "both norths lie together, so both numbers are one".to_owned();
        };
        format!("{} north lies {lies} {side}, so {count} and the {} is {number}", self.wanted().word(), self.number())
    }
}

/// One line on the ground, and an arc to it from each north; the number that is hidden has a question mark. The foot lies so
/// far down, as a part of the picture's height: 1 is the middle.
fn one_line(declination: i32, line: i32, hidden: Option<North>, down: f64, size: (f64, f64), text_mm: f64) -> Scene {
    let (width_mm, height_mm) = size;
    let mut scene = Scene::new(width_mm, height_mm);
    let arc = |from: i32, reach: f64, north: North| Turn {
        from: pointing(from),
        to: pointing(line),
        counterclockwise: false,
        reach,
        ink: if north == North::Magnetic { Ink::MagneticNorth } else { Ink::TrueNorth },
        text: if hidden == Some(north) {
            format!("? {}", north.letter())
        } else {
            spoken(line - from, north).to_string()
        },
        writing: Writing::Middle,
    };
    Sketch {
        rect: Rect::new(0.0, 0.0, width_mm, height_mm * down),
        text_mm,
        norths: vec![
            north_line(North::True, Angle::ZERO),
            north_line(North::Magnetic, Angle::from_degrees(f64::from(declination))),
        ],
        lines: vec![SketchLine {
            direction: pointing(line),
            ink: Ink::LearnerLine,
            dash: Dash::Solid,
            name: "path".to_owned(),
        }],
        turns: vec![arc(0, 0.78, North::True), arc(declination, 0.5, North::Magnetic)],
    }
    .draw_in_the_middle(&mut scene);
    scene
}

/// Magnetic north slides, or the path does.
#[derive(Debug)]
struct Slide {
    declination: i32,
    line: i32,
    /// Home ground, where the path is moved and the rule is said.
    site: Option<Site>,
}

impl Figure for Slide {
    fn knobs(&self) -> &'static [Knob] {
        if self.site.is_some() {
            const { &[Knob::new("move the path", 5, 20)] }
        } else {
            const { &[Knob::new("move magnetic north", 2, 10)] }
        }
    }

    fn turn(&mut self, _knob: usize, by: i32) {
        if self.site.is_some() {
            // Paths to the north and east: they point up in the picture.
            self.line = (self.line + by).clamp(25, 85);
        } else {
            self.declination = (self.declination + by).clamp(-20, 20);
        }
    }

    fn says(&self) -> String {
        let sum = format!(
            "The path is {} and {}",
            spoken(self.line, North::True),
            spoken(self.line - self.declination, North::Magnetic)
        );
        let Some(site) = &self.site else {
            return format!("{sum}: {}.", Way::MapToCompass.why(self.declination));
        };
        match site.angles {
            Some(angles) => days_rule(North::True, angles.declination().angle(), self.line),
            None => format!("{sum}. Home ground has no declination today, so this one is invented."),
        }
    }

    fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        one_line(self.declination, self.line, None, LOW, (width_mm, height_mm), text_mm)
    }
}

/// Declination and path of the three lines whose other number is to be foretold, on each way.
const CASES: [(i32, i32); 3] = [(-12, 70), (16, 80), (-18, 35)];
const BACK_CASES: [(i32, i32); 3] = [(-16, 50), (14, 75), (-10, 80)];

/// Bigger or smaller, said before the number is shown.
#[derive(Debug)]
struct Predict {
    way: Way,
    case: usize,
    said: Option<bool>,
    right: usize,
}

impl Predict {
    const fn new(way: Way) -> Predict {
        Predict { way, case: 0, said: None, right: 0 }
    }

    fn now(&self) -> (i32, i32) {
        let cases = if self.way == Way::MapToCompass { CASES } else { BACK_CASES };
        cases[self.case % cases.len()]
    }

    fn is_bigger(&self) -> bool {
        self.way.clockwise(self.now().0) < 0
    }
}

impl Figure for Predict {
    fn knobs(&self) -> &'static [Knob] {
        const { &[Knob::new("say smaller or bigger", 1, 1)] }
    }

    fn turn(&mut self, _knob: usize, by: i32) {
        if self.said.take().is_some() {
            // The next one, not yet said.
            self.case += 1;
        } else {
            let bigger = by > 0;
            self.right += usize::from(bigger == self.is_bigger());
            self.said = Some(bigger);
        }
    }

    fn says(&self) -> String {
        let ((declination, line), way) = (self.now(), self.way);
        let Some(said) = self.said else {
            return format!("← says smaller, → says bigger. The {} is hidden until you have said it.", way.number());
        };
        let verdict = if said == self.is_bigger() { "Yes" } else { "No" };
        let number = match way.wanted() {
            North::Magnetic => spoken(line - declination, North::Magnetic).to_string(),
            north => spoken(line, north).to_string(),
        };
        let next = if self.case + 1 < CASES.len() { " ← or → shows another path." } else { "" };
        format!("{verdict}, {number}: {}.{next}", way.why(declination))
    }

    fn reached(&self) -> bool {
        self.right >= 2
    }

    fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let (declination, line) = self.now();
        let hidden = Some(self.way.wanted()).filter(|_| self.said.is_none());
        one_line(declination, line, hidden, LOW, (width_mm, height_mm), text_mm)
    }
}

/// Magnetic north in this figure, in degrees west: far enough to see a path between the norths.
const TO_THE_WEST: i32 = 30;

/// A path near north, where the count begins again.
#[derive(Debug)]
struct PastNorth {
    /// Clockwise of true north, from 290 to 390: up to 30 past it.
    line: i32,
    way: Way,
}

impl Figure for PastNorth {
    fn knobs(&self) -> &'static [Knob] {
        const { &[Knob::new("move the path", 5, 20), Knob::new("work it out the other way", 1, 1)] }
    }

    fn turn(&mut self, knob: usize, by: i32) {
        match (knob, self.way) {
            (0, _) => self.line = (self.line + by).clamp(290, 390),
            (_, Way::MapToCompass) => self.way = Way::CompassToMap,
            (_, Way::CompassToMap) => self.way = Way::MapToCompass,
        }
    }

    fn says(&self) -> String {
        let (map, compass) = (self.line.rem_euclid(360), (self.line + TO_THE_WEST).rem_euclid(360));
        let (from, to) = match self.way {
            Way::MapToCompass => (spoken(map, North::True).to_string(), spoken(compass, North::Magnetic).to_string()),
            Way::CompassToMap => (spoken(compass, North::Magnetic).to_string(), spoken(map, North::True).to_string()),
        };
        let past = match self.way {
            Way::MapToCompass => match map + TO_THE_WEST {
                sum if sum < 360 => format!("{map:03} + {TO_THE_WEST} = {sum:03}, not past north: nothing to take off"),
                sum => format!(
                    "{map:03} + {TO_THE_WEST} for the declination = {sum}. Past north, take off 360: {compass:03}. Back: {compass:03} + 360 − {TO_THE_WEST} = {map:03}"
                ),
            },
            Way::CompassToMap if compass >= TO_THE_WEST => {
                format!("{compass:03} − {TO_THE_WEST} = {map:03}: there is enough to take {TO_THE_WEST} from")
            }
            Way::CompassToMap => format!(
                "{compass:03} is too little to take {TO_THE_WEST} from. A whole turn more is the same way: {} − {TO_THE_WEST} = {map:03}",
                compass + 360
            ),
        };
        format!("{from} to {to}: {past}.")
    }

    fn reached(&self) -> bool {
        self.line < 360 && self.line + TO_THE_WEST >= 360
    }

    fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        one_line(-TO_THE_WEST, self.line, None, 1.0, (width_mm, height_mm), text_mm)
    }
}
