//! Three norths, of which two are needed at a time.

use super::{Figure, Knob, north_line, pointing, spoken};
use crate::angle::{Angle, North};
use crate::numbers::round_from;
use crate::scene::blocks::{Sketch, SketchLine, Turn, Writing};
use crate::scene::{Dash, Ink, Rect, Scene};

/// Which two norths are looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::lesson) enum Folded {
    /// True and magnetic: the declination.
    Declination,
    /// True and grid: the convergence.
    Convergence,
    /// Grid and magnetic: the G-M angle.
    GridMagnetic,
}

impl Folded {
    const ALL: [Folded; 3] = [Folded::Declination, Folded::Convergence, Folded::GridMagnetic];

    const fn norths(self) -> (North, North) {
        match self {
            Folded::Declination => (North::True, North::Magnetic),
            Folded::Convergence => (North::True, North::Grid),
            Folded::GridMagnetic => (North::Grid, North::Magnetic),
        }
    }
}

/// Three prongs that can be folded to any two, and a line whose number counts from each.
#[derive(Debug)]
pub(in crate::lesson) struct Fold {
    /// Magnetic north, and grid north, in whole degrees clockwise of true north.
    pub declination: i32,
    /// The same for grid north.
    pub convergence: i32,
    /// A line on the ground, clockwise of true north.
    pub line: i32,
    /// The two that are looked at.
    pub folded: Folded,
    /// The two that are wanted, if the screen asks for some.
    pub wanted: Option<Folded>,
}

impl Fold {
    const fn at(&self, north: North) -> i32 {
        match north {
            North::True => 0,
            North::Grid => self.convergence,
            North::Magnetic => self.declination,
        }
    }
}

impl Figure for Fold {
    fn knobs(&self) -> &'static [Knob] {
        const { &[Knob::new("look at the next two norths", 1, 1)] }
    }

    fn turn(&mut self, _knob: usize, by: i32) {
        let place = Folded::ALL.iter().position(|folded| *folded == self.folded).unwrap_or(0);
        self.folded = Folded::ALL[round_from(place, by.signum(), Folded::ALL.len())];
    }

    fn says(&self) -> String {
        let (from, to) = self.folded.norths();
        let apart = self.at(to) - self.at(from);
        let side = if apart < 0 { "W" } else { "E" };
        let name = match self.folded {
            Folded::Declination => "the declination, from a true-north line to the compass",
            Folded::Convergence => "the convergence, from a true-north line to a grid line",
            Folded::GridMagnetic => "the G-M (grid to magnetic) angle, from a grid line to the compass in one step",
        };
        format!(
            "From {} to {} it is {}° {side}: {name}. The path is {} and {}.",
            from.short(),
            to.short(),
            apart.abs(),
            spoken(self.line - self.at(from), from),
            spoken(self.line - self.at(to), to)
        )
    }

    fn reached(&self) -> bool {
        self.wanted.is_none_or(|wanted| wanted == self.folded)
    }

    fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let mut scene = Scene::new(width_mm, height_mm);
        let (from, to) = self.folded.norths();
        // Drawn twice as far apart as they are, so that the prongs can be told apart; the numbers are the true ones.
        let drawn = |north: North| 2 * self.at(north);
        let arc = |north: North, reach: f64| Turn {
            from: pointing(drawn(north)),
            to: pointing(self.line),
            counterclockwise: false,
            reach,
            ink: match north {
                North::True => Ink::TrueNorth,
                North::Grid => Ink::GridNorth,
                North::Magnetic => Ink::MagneticNorth,
            },
            text: spoken(self.line - self.at(north), north).to_string(),
            writing: Writing::Middle,
        };
        Sketch {
            // The foot low in the picture: all that is shown points up.
            rect: Rect::new(0.0, 0.0, width_mm, height_mm * 1.8),
            text_mm,
            norths: [from, to]
                .into_iter()
                .map(|north| north_line(north, Angle::from_degrees(f64::from(drawn(north)))))
                .collect(),
            lines: vec![SketchLine {
                direction: pointing(self.line),
                ink: Ink::LearnerLine,
                dash: Dash::Solid,
                name: "path".to_owned(),
            }],
            turns: vec![arc(from, 0.8), arc(to, 0.5)],
        }
        .draw_in_the_middle(&mut scene);
        scene
    }
}
