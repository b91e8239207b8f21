//! Lesson 3: two people look at each other along one line.

use super::figure::{Figure, Knob, pointing, written};
use super::{Lesson, Question, Screen};
use crate::scene::{Align, Dash, Direction, Ink, Label, Line, Mark, MarkKind, Point, Priority, Scene, arc};

pub(super) static LESSON: Lesson = Lesson {
    id: "there-and-back",
    title: "There and back",
    idea: "Two people look at each other along one line: half a circle lies between their bearings.",
    before: &["back-bearing", "back-sight"],
    screens: &[
        Screen {
            text: "You and a friend look at each other. One line, two ways along it. Move your friend and watch both bearings.",
            figure: |_| Box::new(Friends { at: 60, wants_wrap: false }),
        },
        Screen {
            text: "Both north lines run side by side. To look back you turn half a circle, 180. Move your friend until the sum passes 360.",
            figure: |_| Box::new(Friends { at: 130, wants_wrap: true }),
        },
        Screen {
            text: "Past 360 the circle begins again, so take 360 off. It is the same to take 180 off at once. Try both sides.",
            figure: |_| Box::new(Friends { at: 250, wants_wrap: false }),
        },
    ],
    question: Question {
        text: "You see your friend on 230. On which bearing does your friend see you?",
        choices: &["410", "050", "130"],
        right: 1,
        why: "Half a circle further is 410; one circle less is 050. Taking 180 off 230 at once gives the same.",
    },
};

/// Two who look at each other.
#[derive(Debug)]
struct Friends {
    at: i32,
    wants_wrap: bool,
}

impl Figure for Friends {
    fn knobs(&self) -> &'static [Knob] {
        const { &[Knob::new("move your friend round you", 5, 45)] }
    }

    fn turn(&mut self, _knob: usize, by: i32) {
        self.at = (self.at + by).rem_euclid(360);
    }

    fn says(&self) -> String {
        let (at, sum) = (self.at, self.at + 180);
        if sum < 360 {
            format!("You look along {}, your friend back along {} + 180 = {}.", written(at), written(at), written(sum))
        } else {
            format!(
                "You look along {}. {} + 180 = {sum}, past 360, so {sum} − 360 = {}: {} − 180 at once.",
                written(at),
                written(at),
                written(sum),
                written(at)
            )
        }
    }

    fn reached(&self) -> bool {
        !self.wants_wrap || self.at >= 180
    }

    fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let mut scene = Scene::new(width_mm, height_mm);
        let toward = pointing(self.at);
        // Room for a north line, a number and a name at either end, whichever way the line runs.
        let room =
            |half: f64, part: f64, keep: f64| if part == 0.0 { f64::INFINITY } else { (half - keep) / part.abs() };
        let reach = room(width_mm / 2.0, toward.dx(), text_mm * 5.0)
            .min(room(height_mm / 2.0, toward.dy(), text_mm * 3.6))
            .max(text_mm);
        let (you, friend) = (scene.centre().along(toward, -reach), scene.centre().along(toward, reach));
        scene.add(Line::straight(you, friend, Ink::LearnerLine));
        for (from, toward, name, number) in
            [(you, toward, "you", self.at), (friend, toward.reversed(), "friend", self.at + 180)]
        {
            person(&mut scene, from, toward, (name, &written(number).to_string()), text_mm);
        }
        scene
    }
}

/// One of the two: a spot with a north line, and the turn from there to the other.
fn person(scene: &mut Scene, at: Point, toward: Direction, (name, number): (&str, &str), text_mm: f64) {
    let north = at.along(Direction::UP, text_mm * 2.6);
    scene.add(Line::straight(at, north, Ink::TrueNorth).dash(Dash::Dashed));
    scene.add(Mark::new(MarkKind::Star, north, text_mm, Ink::TrueNorth));
    scene.add(Line::through(arc(at, text_mm * 1.5, Direction::UP, toward), Ink::Text));
    scene.add(Mark::new(MarkKind::Spot, at, text_mm * 0.8, Ink::LearnerLine));
    // The name and the number stand on the side away from the other one.
    let (side, align) = if toward.dx() > 0.0 { (-1.0, Align::Right) } else { (1.0, Align::Left) };
    let beside = at.moved(side * text_mm * 1.9, text_mm * 0.3);
    scene.add(Label::new(number, beside, Ink::Text).align(align).strong().priority(Priority::High).near());
    scene.add(Label::new(name, beside.moved(0.0, text_mm), Ink::LearnerLine).align(align).near());
}
