//! What orienting by true-north lines (D2) and by grid lines (D3) share: the dial number for a line, and how far the map
//! lies off when another number stands there.
//!
//! With the edge along the line and the needle boxed, the map comes to lie at dial number + offset, where the offset
//! says how far magnetic north lies clockwise of the line. So it lies right with 360 − offset on the dial.

use super::common::{
    CIRCLE, InTenths, NOT_APPLIED, NOT_WRAPPED, SIGN_FLIPPED, Tenths, WRONG_END, angle, answer, bare_sum, bearing_of,
    figures, push_size, unwrapped_answer, wrap,
};
use crate::angle::{Angle, Bearing, Magnetic, North, NorthKind, Offset};
use crate::maptable::Fault;
use crate::problem::{
    Answer, Arc, Field, FieldKind, Figure, FigurePart, LineRole, MixupList, MixupMeta, NorthLine, Question, SketchLine,
    Step, Tolerance, Value,
};

/// A line of the map, toward its north `N` (true or grid), and where magnetic north lies from it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Setting<N: NorthKind> {
    /// Magnetic north from the line.
    pub offset: Offset<Magnetic, N>,
}

/// The correction turned round, where it goes on the dial: the mending is that of the hands.
pub(super) const SIGN_FLIPPED_ON_DIAL: MixupMeta = MixupMeta { mend: Fault::SignFlipped.mend(), ..SIGN_FLIPPED };

/// How the map is oriented, and what is asked: without the arrow's way 180° away would be right as well.
pub(super) const TURN_UNTIL_BOXED: &str = " toward the top of the map, and turn map and compass together until the needle is boxed. Which number must stand on the dial?";

/// The question: one dial number.
pub(super) static DIAL: [Field; 1] =
    [Field { name: "dial", label: "number on the dial", kind: FieldKind::Dial, tolerance: Tolerance::within(0.5) }];

/// What is asked.
pub(super) fn question() -> Question {
    Question::typed(&DIAL)
}

impl<N: NorthKind> Setting<N> {
    /// The right dial number: the magnetic bearing of the line.
    pub fn dial(&self) -> Bearing<Magnetic> {
        bearing_of::<N>(0).to(self.offset)
    }

    /// The right answer.
    pub fn right(&self) -> Answer {
        Answer::one(Value::Angle(self.dial().angle()))
    }

    /// Magnetic north from the line, as sums on paper use it.
    fn east(&self) -> Tenths {
        self.offset.in_tenths()
    }

    fn is_west(&self) -> bool {
        self.east() < 0
    }

    /// The mix-ups that need nothing but the offset.
    pub fn mixups(&self, list: &mut MixupList) {
        let (east, dial) = (self.east(), self.dial().in_tenths());
        list.push(&SIGN_FLIPPED_ON_DIAL, answer(east), || {
            format!("{}{}", bare_sum(if self.is_west() { CIRCLE } else { 0 }, east), self.lies(east))
        });
        list.push(&NOT_APPLIED, answer(0), || format!("000 on the dial{}", self.lies(0)));
        list.push(&WRONG_END, answer(dial + 1800), || {
            format!("{}. The map lies upside down", bare_sum(dial, if dial < 1800 { 1800 } else { -1800 }))
        });
        if east > 0 {
            list.push(&NOT_WRAPPED, unwrapped_answer(-east), || bare_sum(0, -east));
        }
    }

    /// How the map lies with this number on the dial: degrees off, clockwise positive, −180 to 179.9.
    pub fn off(&self, dial: Tenths) -> Tenths {
        wrap(dial + self.east() + 1800) - 1800
    }

    /// Appends the question's closing words.
    pub fn push_asked(&self, out: &mut String) {
        out.push_str("You lay the edge of the compass along ");
        out.push_str(self.line_words());
        out.push_str(", travel arrow");
        out.push_str(TURN_UNTIL_BOXED);
    }

    const fn line_words(&self) -> &'static str {
        match N::NORTH {
            North::Grid => "a north-south grid line",
            North::True | North::Magnetic => "a true-north line",
        }
    }

    /// `East: 360 less the declination` or `West: the declination itself`.
    fn rule(&self) -> &'static str {
        match (N::NORTH, self.is_west()) {
            (North::Grid, false) => "East: 360 less the G-M angle",
            (North::Grid, true) => "West: the G-M angle itself",
            (_, false) => "East: 360 less the declination",
            (_, true) => "West: the declination itself",
        }
    }

    /// `360 − 14 = 346` or `000 + 9 = 009`.
    fn sum(&self) -> String {
        bare_sum(if self.is_west() { 0 } else { CIRCLE }, -self.east())
    }

    /// Adds the worked solution.
    pub fn push_steps(&self, steps: &mut Vec<Step>) {
        let sketch = match (N::NORTH, self.is_west()) {
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
        };
        let sketch = Step::words(sketch).about(FigurePart::North(North::Magnetic));
        steps.push(sketch.decides("Sketch it: on which side of the needle does the line lie?"));
        let sum = Step::new(self.rule(), self.sum()).about(FigurePart::Line(LineRole::Right));
        steps.push(sum.decides("Does the angle itself go on the dial, or 360 less the angle?"));
        let other_way = wrap(self.east());
        let mut words = format!("The other way round, {}, the map would lie ", figures(other_way));
        push_size(&mut words, self.off(other_way));
        words.push_str("° off; with 000 it would lie ");
        push_size(&mut words, self.off(0));
        words.push_str("° off");
        steps.push(Step::words(words).decides("How far off would the map lie the other way round, and with 000?"));
    }

    /// The last step: the number itself.
    pub fn last_step(&self) -> Step {
        Step::new("On the dial", figures(self.dial())).answers()
    }

    /// The right path: `East: 360 less the declination: 360 − 14 = 346`.
    pub fn right_way(&self) -> String {
        format!("{}: {}", self.rule(), self.sum())
    }

    /// What a wrong number does to the map: `. The map lies 28° off, turned clockwise`.
    pub fn lies(&self, dial: Tenths) -> String {
        let mut out = String::with_capacity(48);
        push_lies(&mut out, self.off(wrap(dial)));
        out
    }

    /// The sketch: the line straight up, the needle beside it (their angle enlarged where it is small). With an answer
    /// also the arc that is the dial number, and where the learner's number puts the line.
    pub fn sketch(&self, given: Option<&Answer>) -> Figure {
        let east = self.east();
        let shown = east.signum() * east.abs().clamp(150, 300);
        let norths = vec![
            NorthLine { north: N::NORTH, at: Angle::ZERO },
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
                let near = east != 0 && turn.abs().degrees() <= 2.0 * angle(east.abs()).degrees();
                let turn = if near { turn * (f64::from(shown) / f64::from(east)) } else { turn };
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
    use crate::angle::{Grid, True};
    use crate::skills::common::offset_of;

    fn setting<N: NorthKind>(offset: Tenths) -> Setting<N> {
        Setting { offset: offset_of(offset) }
    }

    #[test]
    fn the_dial_number_for_a_line_is_360_less_east_and_west_as_it_is() {
        // Outside checks CV061, CV062 (identity: dial = −D, wrapped).
        assert_eq!(setting::<True>(140).dial().degrees(), 346.0, "CV061: D 14 E: 346");
        assert_eq!(setting::<True>(-90).dial().degrees(), 9.0, "CV062: D 9 W: 9");
        // Outside checks CV063, CV064 (identity: GMA = D − g, dial = −GMA, wrapped).
        assert_eq!(setting::<Grid>(140 - 15).dial().degrees(), 347.5, "CV063: D 14 E, g 1.5 E: 347.5");
        assert_eq!(setting::<Grid>(-20 + 25).dial().degrees(), 359.5, "CV064: D 2 W, g 2.5 W: 359.5");
    }

    #[test]
    fn the_right_number_leaves_the_map_right_and_the_mixups_leave_it_off_by_their_errors() {
        for offset in [-280, -95, -15, 15, 140] {
            let setting = setting::<True>(offset);
            let dial = setting.dial().in_tenths();
            assert_eq!(setting.off(dial), 0);
            assert_eq!(setting.off(wrap(offset)), 2 * offset, "turned round: twice the declination");
            assert_eq!(setting.off(0), offset, "left out: the declination");
            assert_eq!(setting.off(wrap(dial + 1800)).abs(), 1800, "wrong end: upside down");
        }
    }

    #[test]
    fn what_a_wrong_number_does_to_the_map_is_said_beside_the_right_way() {
        let setting = setting::<True>(140);
        assert_eq!(setting.lies(140), ". The map lies 28° off, turned clockwise");
        assert_eq!(setting.right_way(), "East: 360 less the declination: 360 − 14 = 346");
        let setting = self::setting::<Grid>(-90);
        assert_eq!(setting.lies(0), ". The map lies 9° off, turned counterclockwise");
        assert_eq!(setting.right_way(), "West: the G-M angle itself: 000 + 9 = 009");
    }
}
