//! Lesson 6: the map's own lines, and the one angle from them to the compass.

use super::figure::{Figure, Fold, Folded, Knob};
use super::{Lesson, Question, Screen};
use crate::angle::{Angle, degrees_minutes};
use crate::ground::{Place, Utm};
use crate::scene::{Dash, Ink, Label, Line, Mark, MarkKind, Point, Priority, Scene};

pub(super) static LESSON: Lesson = Lesson {
    id: "own-lines",
    title: "The map's own lines",
    idea: "Grid lines run side by side, lines to the pole do not: the G-M angle goes from grid to compass in one step.",
    before: &["grid-magnetic", "orient-grid"],
    screens: &[
        Screen {
            text: "Grid lines run side by side, lines to the pole come together. Move away from the middle: the two part. That angle is the convergence.",
            figure: |_| Box::new(Zone { quarter_degrees: 0 }),
        },
        Screen {
            text: "Three norths now: TN, GN and MN. Look at two at a time. Each pair has its own angle, with a name.",
            figure: |_| Box::new(fold(None)),
        },
        Screen {
            text: "Your map has grid lines and you hold a compass. Which two norths do you need? Go on until you see those two.",
            figure: |_| Box::new(fold(Some(Folded::GridMagnetic))),
        },
    ],
    question: Question {
        text: "Your map has grid lines only. Which angle takes you from the map to the compass?",
        choices: &["the declination", "the convergence", "the G-M angle"],
        right: 2,
        why: "You count from grid north on the map and from magnetic north on the compass: the angle between those two is the G-M angle.",
    },
};

const fn fold(wanted: Option<Folded>) -> Fold {
    Fold { declination: -10, convergence: 3, line: 75, folded: Folded::Declination, wanted }
}

/// The place moves along this parallel, from the middle of this zone (its middle line, degrees east).
const LATITUDE: f64 = 52.0;
const MIDDLE: f64 = 9.0;
/// How many times stronger the leaning of the lines to the pole is drawn.
const STRONGER: f64 = 5.0;

/// A zone of the grid with its straight lines, and the lines to the pole that lean.
#[derive(Debug)]
struct Zone {
    /// How far the place lies east of the middle line.
    quarter_degrees: i32,
}

impl Zone {
    fn east(&self) -> f64 {
        f64::from(self.quarter_degrees) / 4.0
    }
}

/// Grid north seen from true north at a place so many degrees of longitude east of the middle line, by the grid's own
/// formulas.
fn convergence(east: f64) -> Angle {
    let place = Place::from_degrees(LATITUDE, MIDDLE + east).ok();
    place.and_then(|place| Utm::from_place(place).ok()).map_or(Angle::ZERO, |utm| utm.convergence().angle())
}

impl Figure for Zone {
    fn knobs(&self) -> &'static [Knob] {
        const { &[Knob::new("move the place west or east", 1, 4)] }
    }

    fn turn(&mut self, _knob: usize, by: i32) {
        // The border of the zone itself belongs to the next one.
        self.quarter_degrees = (self.quarter_degrees + by).clamp(-11, 11);
    }

    fn says(&self) -> String {
        let apart = convergence(self.east());
        let size = degrees_minutes(apart.abs());
        match self.quarter_degrees {
            0 => "In the middle of its zone, the strip of the earth that one grid is drawn for, grid north is true north.".to_owned(),
            1.. => format!("{}° east of the middle: grid north lies {size} to the right of true north.", self.east()),
            _ => format!("{}° west of the middle: grid north lies {size} to the left of true north.", -self.east()),
        }
    }

    fn reached(&self) -> bool {
        self.quarter_degrees.abs() >= 4
    }

    fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let mut scene = Scene::new(width_mm, height_mm);
        let (top, foot) = (text_mm * 2.2, height_mm - text_mm * 1.4);
        let x = |east: f64| width_mm / 2.0 + east / 3.4 * (width_mm / 2.0 - text_mm * 2.0);
        let middle = (top + foot) / 2.0;
        for half in -6..=6 {
            let at = x(f64::from(half) / 2.0);
            let line = Line::straight(Point::new(at, foot), Point::new(at, top), Ink::GridNorth);
            scene.add(line.dash(Dash::Fine));
        }
        // A line to the pole leans by the convergence the other way, drawn stronger.
        let leaning = |east: f64| {
            let lean = (-convergence(east) * STRONGER).radians().tan();
            (Point::new(x(east) - lean * (foot - middle), foot), Point::new(x(east) + lean * (middle - top), top))
        };
        for east in [-3, -2, -1, 0, 1, 2, 3] {
            let (from, to) = leaning(f64::from(east) * 0.97);
            scene.add(Line::straight(from, to, Ink::TrueNorth).dash(Dash::Dashed));
        }
        let (_, pole) = leaning(self.east());
        let here = Point::new(x(self.east()), middle);
        scene.add(Line::straight(here, pole, Ink::TrueNorth).bold());
        scene.add(Line::straight(here, Point::new(here.x, top), Ink::GridNorth).bold());
        scene.add(Mark::new(MarkKind::Star, pole.moved(0.0, -text_mm * 0.7), text_mm, Ink::TrueNorth));
        scene.add(Mark::new(MarkKind::Spot, here, text_mm * 0.9, Ink::LearnerLine));
        let grid = Label::new("GN", Point::new(here.x, top - text_mm * 0.7), Ink::GridNorth);
        scene.add(grid.strong().priority(Priority::High).near());
        let note = Label::new(
            "the lines to the pole lean 5 times too much here",
            Point::new(width_mm / 2.0, height_mm - text_mm * 0.5),
            Ink::Faint,
        );
        scene.add(note.priority(Priority::Low));
        scene
    }
}
