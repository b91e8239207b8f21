//! Lesson 2: a bearing is a turn, counted clockwise from north.

use super::figure::{Figure, Knob, pointing, written};
use super::{Lesson, Question, Screen};
use crate::angle::{Angle, Point, PointSet};
use crate::scene::blocks::{NorthKind, NorthLine, Sketch, SketchLine, Turn, Writing};
use crate::scene::{Dash, Direction, Ink, Label, Line, Priority, Rect, Scene, circle};

pub(super) static LESSON: Lesson = Lesson {
    id: "bearing",
    title: "A bearing is a turn",
    idea: "How far you turn clockwise from north to look where you want to go.",
    before: &["follow-bearing", "compass-points", "turns"],
    screens: &[
        Screen {
            text: "You look north and want to go to the hut. How far must you turn? Move the arm: that turn, clockwise, is the bearing.",
            figure: |_| Box::new(Arm { at: 40, wanted: None }),
        },
        Screen {
            text: "A quarter turn is 90, so east is 090, south 180, west 270. Bring the arm to west.",
            figure: |_| Box::new(Arm { at: 120, wanted: Some(270) }),
        },
        Screen {
            text: "A whole turn is 360 and you look north again: after 359 comes 000. Bring the arm past north to 020.",
            figure: |_| Box::new(Arm { at: 330, wanted: Some(20) }),
        },
    ],
    question: Question {
        text: "You look along 350 and turn 30 clockwise. Where do you look now?",
        choices: &["380", "020", "320"],
        right: 1,
        why: "Ten degrees bring you to north, where the count begins again at 000, and twenty are left: 020.",
    },
};

/// An arm that is turned round from north.
#[derive(Debug)]
struct Arm {
    at: i32,
    wanted: Option<i32>,
}

impl Figure for Arm {
    fn knobs(&self) -> &'static [Knob] {
        const { &[Knob::new("move the arm", 5, 45)] }
    }

    fn turn(&mut self, _knob: usize, by: i32) {
        self.at = (self.at + by).rem_euclid(360);
    }

    fn says(&self) -> String {
        let point = Point::nearest(Angle::from_degrees(f64::from(self.at)), PointSet::Eight);
        let turn = match self.at {
            0 => "No turn at all, or a whole one".to_owned(),
            at => format!("A turn of {at}° from north"),
        };
        format!("{turn}: bearing {}, {}.", written(self.at), near(self.at, point))
    }

    fn reached(&self) -> bool {
        self.wanted.is_none_or(|wanted| wanted == self.at)
    }

    fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let mut scene = Scene::new(width_mm, height_mm);
        let direction = pointing(self.at);
        ring(&mut scene, text_mm);
        Sketch {
            rect: Rect::new(0.0, 0.0, width_mm, height_mm),
            text_mm,
            norths: vec![NorthLine { kind: NorthKind::True, direction: Direction::UP, name: "north".to_owned() }],
            lines: vec![SketchLine { direction, ink: Ink::LearnerLine, dash: Dash::Solid, name: "hut".to_owned() }],
            turns: vec![Turn {
                from: Direction::UP,
                to: direction,
                counterclockwise: false,
                reach: 0.5,
                ink: Ink::Text,
                text: written(self.at).to_string(),
                writing: Writing::Middle,
            }],
        }
        .draw_in_the_middle(&mut scene);
        scene
    }
}

/// A quiet circle with the numbers of the four quarters, so that the turn has something to be seen against.
fn ring(scene: &mut Scene, text_mm: f64) {
    let radius = (scene.height_mm / 2.0 - text_mm * 1.6).max(text_mm);
    let centre = scene.centre();
    scene.add(Line::through(circle(centre, radius), Ink::Faint).dash(Dash::Fine));
    for (at, number) in [(90, "E 090"), (180, "S 180"), (270, "W 270")] {
        let toward = pointing(at);
        let beyond = text_mm * (0.9 + 1.1 * toward.dx().abs());
        let label = Label::new(number, centre.along(toward, radius + beyond), Ink::Plate);
        scene.add(label.priority(Priority::Low));
    }
}

/// `east`, or `nearest to east`.
fn near(at: i32, point: Point) -> String {
    let name = point.words();
    if at % 45 == 0 { name.to_string() } else { format!("nearest to {name}") }
}
