//! What orienting by true-north lines (D2) and by grid lines (D3) share: the dial number for a line, and how far the map
//! lies off when another number stands there.
//!
//! With the edge along the line and the needle boxed, the map comes to lie at dial number + offset, where the offset
//! says how far magnetic north lies clockwise of the line. So it lies right with 360 − offset on the dial.

use super::common::{
    CIRCLE, NOT_APPLIED, NOT_WRAPPED, SIGN_FLIPPED, Tenths, WRONG_END, angle, answer, figures, in_decimals,
    push_figures, push_size, push_sum, unwrapped_answer, wrap,
};
use crate::angle::{Angle, North};
use crate::maptable::Fault;
use crate::problem::{
    Answer, Arc, Field, FieldKind, Figure, LineRole, MixupId, MixupList, MixupMeta, NorthLine, Paths, Question,
    SketchLine, Step, Value,
};

/// A line of the map and where magnetic north lies from it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Setting {
    /// The north of the line: true or grid.
    pub line: North,
    /// Magnetic north from the line, east positive.
    pub offset: Tenths,
}

/// The correction turned round, where it goes on the dial: the mending is that of the hands.
pub(super) const SIGN_FLIPPED_ON_DIAL: MixupMeta = MixupMeta { mend: Fault::SignFlipped.mend(), ..SIGN_FLIPPED };

/// How the map is oriented, and what is asked: without the arrow's way 180° away would be right as well.
pub(super) const TURN_UNTIL_BOXED: &str = " toward the top of the map, and turn map and compass together until the needle is boxed. Which number must stand on the dial?";

/// The question: one dial number.
pub(super) static DIAL: [Field; 1] =
    [Field { name: "dial", label: "number on the dial", kind: FieldKind::Dial, tolerance: 0.5 }];

impl Setting {
    /// What is asked.
    pub const fn question() -> Question {
        Question::Typed(&DIAL)
    }

    /// The right dial number, 0 to 359.9.
    pub const fn dial(&self) -> Tenths {
        wrap(-self.offset)
    }

    /// The right answer.
    pub fn right(&self) -> Answer {
        answer(-self.offset)
    }

    /// The mix-ups that need nothing but the offset.
    pub fn mixups(&self, list: &mut MixupList) {
        list.push(SIGN_FLIPPED.id, answer(self.offset));
        list.push(NOT_APPLIED.id, answer(0));
        list.push(WRONG_END.id, answer(self.dial() + 1800));
        if self.offset > 0 {
            list.push(NOT_WRAPPED.id, unwrapped_answer(-self.offset));
        }
    }

    /// How the map lies with this number on the dial: degrees off, clockwise positive, −180 to 179.9.
    pub const fn off(&self, dial: Tenths) -> Tenths {
        wrap(dial + self.offset + 1800) - 1800
    }

    /// Appends the question's closing words.
    pub fn push_asked(&self, out: &mut String) {
        out.push_str("You lay the edge of the compass along ");
        out.push_str(self.line_words());
        out.push_str(", travel arrow");
        out.push_str(TURN_UNTIL_BOXED);
    }

    const fn line_words(&self) -> &'static str {
        match self.line {
            North::Grid => "a north-south grid line",
            North::True | North::Magnetic => "a true-north line",
        }
    }

    /// `East: 360 less the declination` or `West: the declination itself`.
    const fn rule(&self) -> &'static str {
        match (self.line, self.offset < 0) {
            (North::Grid, false) => "East: 360 less the G-M angle",
            (North::Grid, true) => "West: the G-M angle itself",
            (_, false) => "East: 360 less the declination",
            (_, true) => "West: the declination itself",
        }
    }

    /// `360 − 14 = 346` or `000 + 9 = 009`.
    fn sum(&self) -> String {
        let mut line = String::with_capacity(24);
        push_sum(&mut line, if self.offset < 0 { 0 } else { CIRCLE }, -self.offset);
        line
    }

    /// Adds the worked solution; how minutes become decimals only where that was not said before.
    pub fn push_steps(&self, decimals_said: bool, steps: &mut Vec<Step>) {
        steps.push(Step::words(match (self.line, self.offset < 0) {
            (North::Grid, false) => {
                "Sketch it: the needle points clockwise of the grid line, so seen from the needle the line lies counterclockwise"
            }
            (North::Grid, true) => {
                "Sketch it: the needle points counterclockwise of the grid line, so seen from the needle the line lies clockwise"
            }
            (_, false) => {
                "Sketch it: the needle points clockwise of true north, so seen from the needle true north lies counterclockwise"
            }
            (_, true) => {
                "Sketch it: the needle points counterclockwise of true north, so seen from the needle true north lies clockwise"
            }
        }));
        if !decimals_said {
            steps.extend(in_decimals(&[self.offset]));
        }
        steps.push(Step::new(self.rule(), self.sum()));
        let mut words = String::with_capacity(90);
        words.push_str("The other way round, ");
        push_figures(&mut words, wrap(self.offset));
        words.push_str(", the map would lie ");
        push_size(&mut words, self.off(wrap(self.offset)));
        words.push_str("° off; with 000 it would lie ");
        push_size(&mut words, self.off(0));
        words.push_str("° off");
        steps.push(Step::words(words));
    }

    /// The last step: the number itself.
    pub fn last_step(&self) -> Step {
        Step::new("On the dial", figures(self.dial()))
    }

    /// The path of one of the mix-ups of [`Setting::mixups`] beside the right one.
    pub fn paths(&self, mixup: MixupId) -> Paths {
        let mut yours = String::with_capacity(96);
        match mixup {
            id if id == SIGN_FLIPPED.id => {
                push_sum(&mut yours, if self.offset < 0 { CIRCLE } else { 0 }, self.offset);
                self.push_lies(&mut yours, self.offset);
            }
            id if id == WRONG_END.id => {
                push_sum(&mut yours, self.dial(), if self.dial() < 1800 { 1800 } else { -1800 });
                yours.push_str(". The map lies upside down");
            }
            id if id == NOT_WRAPPED.id => push_sum(&mut yours, 0, -self.offset),
            _ => {
                yours.push_str("000 on the dial");
                self.push_lies(&mut yours, 0);
            }
        }
        Paths { yours, right: self.right_path() }
    }

    /// The right path: `East: 360 less the declination: 360 − 14 = 346`.
    pub fn right_path(&self) -> String {
        let mut right = String::with_capacity(60);
        right.push_str(self.rule());
        right.push_str(": ");
        right.push_str(&self.sum());
        right
    }

    /// Appends what a wrong number does to the map: `. The map lies 28° off, turned clockwise`.
    pub fn push_lies(&self, out: &mut String, dial: Tenths) {
        push_lies(out, self.off(wrap(dial)));
    }

    /// The sketch: the line straight up, the needle beside it (their angle enlarged where it is small). With an answer
    /// also the arc that is the dial number, and where the learner's number puts the line.
    pub fn sketch(&self, given: Option<&Answer>) -> Figure {
        let shown = self.offset.signum() * self.offset.abs().clamp(150, 300);
        let norths = vec![
            NorthLine { north: self.line, at: Angle::ZERO },
            NorthLine { north: North::Magnetic, at: angle(shown) },
        ];
        let mut lines = Vec::with_capacity(2);
        if let Some(given) = given {
            lines.push(SketchLine {
                role: LineRole::Right,
                at: Angle::ZERO,
                label: "the line".to_owned(),
                arc: Some(Arc::bearing(North::Magnetic, figures(self.dial()))),
            });
            if let [Value::Angle(typed)] = given.values() {
                // Near north the learner's line is enlarged like the offset, so that the drawn angles stay in proportion.
                let turn = typed.wrapped_half();
                let near = self.offset != 0 && turn.abs().degrees() <= 2.0 * angle(self.offset.abs()).degrees();
                let turn = if near { turn * (f64::from(shown) / f64::from(self.offset)) } else { turn };
                lines.push(SketchLine {
                    role: LineRole::Learner,
                    at: (angle(shown) + turn).wrapped(),
                    label: "you".to_owned(),
                    arc: None,
                });
            }
        }
        Figure::Sketch { norths, lines }
    }
}

/// Appends how the map lies: `. The map lies 28° off, turned clockwise`, `. The map lies right`.
pub(super) fn push_lies(out: &mut String, off: Tenths) {
    if off == 0 {
        out.push_str(". The map lies right");
        return;
    }
    if off.abs() == 1800 {
        out.push_str(". The map lies upside down, 180° off");
        return;
    }
    out.push_str(". The map lies ");
    push_size(out, off);
    out.push_str(if off < 0 { "° off, turned counterclockwise" } else { "° off, turned clockwise" });
}

#[cfg(test)]
mod tests {
    use super::*;

    fn dial(line: North, offset: Tenths) -> Tenths {
        Setting { line, offset }.dial()
    }

    #[test]
    fn the_dial_number_for_a_line_is_360_less_east_and_west_as_it_is() {
        // Outside checks CV061, CV062 (identity: dial = −D, wrapped).
        assert_eq!(dial(North::True, 140), 3460, "CV061: D 14 E: 346");
        assert_eq!(dial(North::True, -90), 90, "CV062: D 9 W: 9");
        // Outside checks CV063, CV064 (identity: GMA = D − g, dial = −GMA, wrapped).
        assert_eq!(dial(North::Grid, 140 - 15), 3475, "CV063: D 14 E, g 1.5 E: 347.5");
        assert_eq!(dial(North::Grid, -20 + 25), 3595, "CV064: D 2 W, g 2.5 W: 359.5");
    }

    #[test]
    fn the_right_number_leaves_the_map_right_and_the_mixups_leave_it_off_by_their_errors() {
        for offset in [-280, -95, -15, 15, 140] {
            let setting = Setting { line: North::True, offset };
            assert_eq!(setting.off(setting.dial()), 0);
            assert_eq!(setting.off(wrap(offset)), 2 * offset, "turned round: twice the declination");
            assert_eq!(setting.off(0), offset, "left out: the declination");
            assert_eq!(setting.off(wrap(setting.dial() + 1800)).abs(), 1800, "wrong end: upside down");
        }
    }

    #[test]
    fn the_paths_say_how_the_map_lies() {
        let setting = Setting { line: North::True, offset: 140 };
        let paths = setting.paths(SIGN_FLIPPED.id);
        assert_eq!(paths.yours, "000 + 14 = 014. The map lies 28° off, turned clockwise");
        assert_eq!(paths.right, "East: 360 less the declination: 360 − 14 = 346");
        let setting = Setting { line: North::Grid, offset: -90 };
        let paths = setting.paths(NOT_APPLIED.id);
        assert_eq!(paths.yours, "000 on the dial. The map lies 9° off, turned counterclockwise");
        assert_eq!(paths.right, "West: the G-M angle itself: 000 + 9 = 009");
    }
}
