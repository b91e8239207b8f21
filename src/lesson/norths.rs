//! Lesson 5: why map and compass differ.

use super::figure::{Figure, Knob, north_line, pointing, spoken};
use super::rule::{days_rule, whole_degrees};
use super::{Lesson, Question, Screen, Site};
use crate::angle::{Angle, North};
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
            figure: |_| Box::new(Predict { case: 0, said: None, right: 0 }),
        },
        Screen {
            text: "This is the angle on home ground today, and its rule. Move the path: the rule stays.",
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
        why: "Magnetic north lies to the left of true north, so the compass counts further to the same line: 10 more.",
    },
};

/// How far below the middle the foot of the sketch lies, as a part of the picture's height: all paths point up.
const LOW: f64 = 1.8;

/// One line on the ground, and an arc to it from each north.
fn one_line(declination: i32, line: i32, told: bool, (width_mm, height_mm): (f64, f64), text_mm: f64) -> Scene {
    let mut scene = Scene::new(width_mm, height_mm);
    let arc = |from: i32, reach: f64, north: North, shown: bool| Turn {
        from: pointing(from),
        to: pointing(line),
        counterclockwise: false,
        reach,
        ink: if north == North::Magnetic { Ink::MagneticNorth } else { Ink::TrueNorth },
        text: if shown { spoken(line - from, north).to_string() } else { format!("? {}", north.letter()) },
        writing: Writing::Middle,
    };
    Sketch {
        rect: Rect::new(0.0, 0.0, width_mm, height_mm * LOW),
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
        turns: vec![arc(0, 0.78, North::True, true), arc(declination, 0.45, North::Magnetic, told)],
    }
    .draw_in_the_middle(&mut scene);
    scene
}

/// `since magnetic north lies to the left, you count further`.
const fn why(declination: i32) -> &'static str {
    match declination {
        0 => "both norths lie together, so both numbers are one",
        ..0 => "magnetic north lies to the left (west), so you count further and the compass number is bigger",
        _ => "magnetic north lies to the right (east), so you count less far and the compass number is smaller",
    }
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
            return format!("{sum}: {}.", why(self.declination));
        };
        match site.angles {
            Some(angles) => format!("{}. {}", site.name, days_rule(angles.declination(), self.line)),
            None => format!("{sum}. Home ground has no declination today; this is an invented one."),
        }
    }

    fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        one_line(self.declination, self.line, true, (width_mm, height_mm), text_mm)
    }
}

/// Declination and path of the three lines whose compass number is to be foretold.
const CASES: [(i32, i32); 3] = [(-12, 70), (16, 80), (-18, 35)];

/// Bigger or smaller, said before the number is shown.
#[derive(Debug)]
struct Predict {
    case: usize,
    said: Option<bool>,
    right: usize,
}

impl Predict {
    fn now(&self) -> (i32, i32) {
        CASES[self.case % CASES.len()]
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
            self.right += usize::from(bigger == (self.now().0 < 0));
            self.said = Some(bigger);
        }
    }

    fn says(&self) -> String {
        let (declination, line) = self.now();
        let Some(said) = self.said else {
            return "Left says smaller, right says bigger. The compass number is hidden until you have said it."
                .to_owned();
        };
        let verdict = if said == (declination < 0) { "Yes" } else { "No" };
        let next = if self.case + 1 < CASES.len() { " The next arrow key asks another." } else { "" };
        format!("{verdict}, {}: {}.{next}", spoken(line - declination, North::Magnetic), why(declination))
    }

    fn reached(&self) -> bool {
        self.right >= 2
    }

    fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let (declination, line) = self.now();
        one_line(declination, line, self.said.is_some(), (width_mm, height_mm), text_mm)
    }
}
