//! Lesson 3: two people look at each other along one line.

use super::figure::{Figure, Knob, pointing, written};
use super::{Lesson, Question, Screen};
use crate::scene::blocks::{End, Ends, NorthKind};
use crate::scene::{Ink, Rect, Scene};

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
            text: "Both north lines run side by side. Looking back is half a circle further, so add 180. Move your friend until that passes 360.",
            figure: |_| Box::new(Friends { at: 130, wants_wrap: true }),
        },
        Screen {
            text: "Past 360 the circle begins again, so take 360 off. Taking 180 off at once gives the same. Try both sides.",
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
                "You look along {}. {} + 180 = {sum}, past 360, so {sum} − 360 = {}. {} − 180 gives the same.",
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
        let end = |name: &str, number: i32| End { name: name.to_owned(), number: written(number).to_string() };
        Ends {
            rect: Rect::new(0.0, 0.0, width_mm, height_mm),
            text_mm,
            north: (NorthKind::True, String::new()),
            toward: pointing(self.at),
            ends: [end("you", self.at), end("friend", self.at + 180)],
            ink: Ink::LearnerLine,
            learner: None,
        }
        .draw(&mut scene);
        scene
    }
}
