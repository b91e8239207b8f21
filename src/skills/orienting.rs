//! What orienting by true-north lines (D2) and by grid lines (D3) share: the dial number for a line, and how far the map
//! lies off when another number stands there.
//!
//! With the edge along the line and the needle boxed, the map comes to lie at dial number + offset, where the offset
//! says how far magnetic north lies clockwise of the line. So it lies right with 360 − offset on the dial.

use super::common::{
    CIRCLE, InTenths, NOT_APPLIED, NOT_WRAPPED, SIGN_FLIPPED, Tenths, WRONG_END, angle, answer, bare_sum, bearing_of,
    figures, size, sum, unwrapped_answer, wrap,
};
use crate::angle::{Angle, Bearing, Magnetic, North, NorthKind, Offset};
use crate::problem::{
    Answer, Arc, Draw, Fact, Field, FieldKind, Figure, FigurePart, LineRole, MixupList, MixupMeta, NorthLine, Question,
    SketchLine, Step, Tolerance, Value,
};
use std::fmt::{self, Display, Write};

/// A line of the map, toward its north `N` (true or grid), and where magnetic north lies from it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Setting<N: NorthKind> {
    /// Magnetic north from the line.
    pub offset: Offset<Magnetic, N>,
    /// Which way along the line the travel arrow points.
    pub arrow: ArrowToward,
}

/// The edge of the map that the travel arrow points to. Toward the bottom the dial counts from the line's other end: who only
/// knows the numbers by heart is then wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum ArrowToward {
    /// North on the map.
    Top,
    /// South on the map.
    Bottom,
}

impl ArrowToward {
    /// Draws it: the bottom in one of three.
    pub fn draw(draw: &mut Draw) -> ArrowToward {
        if draw.chance(1, 3) { ArrowToward::Bottom } else { ArrowToward::Top }
    }

    /// How far it points from the line's north.
    pub const fn turn(self) -> Tenths {
        match self {
            ArrowToward::Top => 0,
            ArrowToward::Bottom => CIRCLE / 2,
        }
    }

    /// `, travel arrow toward the top of the map`.
    pub const fn words(self) -> &'static str {
        match self {
            ArrowToward::Top => ", travel arrow toward the top of the map",
            ArrowToward::Bottom => ", travel arrow toward the bottom of the map",
        }
    }

    /// As a solver needs it.
    pub fn fact(self) -> Fact {
        Fact::own_word("travel_arrow_toward", if self == ArrowToward::Top { "top" } else { "bottom" })
    }
}

/// The correction turned round, where it goes on the dial.
pub(super) const SIGN_FLIPPED_ON_DIAL: MixupMeta = MixupMeta {
    mend: "Sketch the two norths. With the arrow up the map, east is 360 less the angle, west the angle itself; with the arrow down the map count from 180.",
    ..SIGN_FLIPPED
};

/// How the map is oriented, and what is asked; behind the arrow's way, without which 180° away would be right as well.
pub(super) const TURN_UNTIL_BOXED: &str =
    ", and turn map and compass together until the needle is boxed. Which number must stand on the dial?";

/// The question: one dial number.
pub(super) static DIAL: [Field; 1] =
    [Field { name: "dial", label: "number on the dial", kind: FieldKind::Dial, tolerance: Tolerance::within(0.5) }];

/// What is asked.
pub(super) fn question() -> Question {
    Question::typed(&DIAL)
}

impl<N: NorthKind> Setting<N> {
    /// The right dial number: the magnetic bearing of the way that the travel arrow points along the line.
    pub fn dial(&self) -> Bearing<Magnetic> {
        bearing_of::<N>(self.arrow.turn()).to(self.offset)
    }

    /// What goes on the dial by another angle than the right one, not wrapped; clockwise and east are positive.
    pub fn by(&self, used: Tenths) -> Tenths {
        self.arrow.turn() - used
    }

    /// The same as a way of working: `: 000 + 9 = 009. The map lies 5° off, turned clockwise`.
    pub fn way_by(&self, used: Tenths) -> String {
        format!(": {}{}", sum(self.arrow.turn(), -used), self.lies(self.by(used)))
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
        let along = self.arrow.turn();
        list.push(&SIGN_FLIPPED_ON_DIAL, answer(along + east), || {
            let from = if self.is_west() && self.arrow == ArrowToward::Top { CIRCLE } else { along };
            format!("{}{}", bare_sum(from, east), self.lies(along + east))
        });
        list.push(&NOT_APPLIED, answer(along), || format!("{} on the dial{}", figures(along), self.lies(along)));
        list.push(&WRONG_END, answer(dial + 1800), || {
            format!("{}. The map lies upside down", bare_sum(dial, if dial < 1800 { 1800 } else { -1800 }))
        });
        if east > 0 && self.arrow == ArrowToward::Top {
            list.push(&NOT_WRAPPED, unwrapped_answer(-east), || bare_sum(0, -east));
        }
    }

    /// How the map lies with this number on the dial: degrees off, clockwise positive, −180 to 179.9.
    pub fn off(&self, dial: Tenths) -> Tenths {
        wrap(dial + self.east() - self.arrow.turn() + 1800) - 1800
    }

    /// The question's closing words.
    pub fn asked_words(&self) -> impl Display {
        fmt::from_fn(move |out| {
            write!(
                out,
                "You lay the edge of the compass along a {}{}{}",
                N::NORTH.line(),
                self.arrow.words(),
                TURN_UNTIL_BOXED
            )
        })
    }

    /// `East: 360 less the declination` or `West: the declination itself`; from 180 where the arrow points to the bottom.
    fn rule(&self) -> &'static str {
        match (self.arrow, N::NORTH, self.is_west()) {
            (ArrowToward::Top, North::Grid, false) => "East: 360 less the G-M angle",
            (ArrowToward::Top, North::Grid, true) => "West: the G-M angle itself",
            (ArrowToward::Top, _, false) => "East: 360 less the declination",
            (ArrowToward::Top, _, true) => "West: the declination itself",
            (ArrowToward::Bottom, North::Grid, false) => "East: 180 less the G-M angle",
            (ArrowToward::Bottom, North::Grid, true) => "West: 180 and the G-M angle",
            (ArrowToward::Bottom, _, false) => "East: 180 less the declination",
            (ArrowToward::Bottom, _, true) => "West: 180 and the declination",
        }
    }

    /// `360 − 14 = 346` or `000 + 9 = 009`.
    fn sum(&self) -> impl Display {
        let from = if self.is_west() { 0 } else { CIRCLE };
        bare_sum(if self.arrow == ArrowToward::Top { from } else { self.arrow.turn() }, -self.east())
    }

    /// A nudge: what to draw, and with the arrow toward the bottom what else to think of.
    pub fn hint(&self, drawn: &str) -> String {
        let arrow = " Then ask which way along the line the travel arrow points: the dial counts for the arrow.";
        format!("{drawn}{}", if self.arrow == ArrowToward::Bottom { arrow } else { "" })
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
        if self.arrow == ArrowToward::Bottom {
            steps.push(Step::words(
                "The dial counts for the travel arrow, and that points down the map, along the line's other end: so count from 180",
            ));
        }
        let sum = Step::new(self.rule(), self.sum()).about(FigurePart::Line(LineRole::Right));
        let (asks, asks_off) = match self.arrow {
            ArrowToward::Top => (
                "Does the angle itself go on the dial, or 360 less the angle?",
                "How far off would the map lie the other way round, and with 000?",
            ),
            ArrowToward::Bottom => (
                "Is the angle added to 180, or taken from it?",
                "How far off would the map lie the other way round, and with 180?",
            ),
        };
        steps.push(sum.decides(asks));
        let (other_way, along) = (wrap(self.arrow.turn() + self.east()), self.arrow.turn());
        let mut words = format!("The other way round, {}, the map would lie ", figures(other_way));
        let _ = write!(
            words,
            "{}° off; with {} it would lie {}° off",
            size(self.off(other_way)),
            figures(along),
            size(self.off(along))
        );
        steps.push(Step::words(words).decides(asks_off));
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
        lies_words(self.off(wrap(dial))).to_string()
    }

    /// The sketch: the line straight up, the needle beside it (their angle enlarged where it is small). With an answer
    /// also the way of the travel arrow, the arc that is the dial number, and where the learner's number puts that way.
    pub fn sketch(&self, given: Option<&Answer>) -> Figure {
        let east = self.east();
        let shown = east.signum() * east.abs().clamp(150, 300);
        let norths = vec![
            NorthLine { north: N::NORTH, at: Angle::ZERO },
            NorthLine { north: North::Magnetic, at: angle(shown) },
        ];
        let (mut lines, mut arcs) = (Vec::with_capacity(2), Vec::new());
        let along = angle(self.arrow.turn());
        if let Some(given) = given {
            lines.push(SketchLine {
                role: LineRole::Right,
                at: along,
                label: if self.arrow == ArrowToward::Top { "the line" } else { "the arrow" }.to_owned(),
            });
            arcs.push(Arc::bearing(North::Magnetic, LineRole::Right, figures(self.dial()).to_string()));
            if let [Value::Angle(typed)] = given.values() {
                // Near north the learner's line is enlarged like the offset, so that the drawn angles stay in proportion.
                let turn = (*typed - along).wrapped_half();
                let near = east != 0 && turn.abs().degrees() <= 2.0 * angle(east.abs()).degrees();
                let turn = if near { turn * (f64::from(shown) / f64::from(east)) } else { turn };
                lines.push(SketchLine {
                    role: LineRole::Learner,
                    at: (along + angle(shown) + turn).wrapped(),
                    label: "you".to_owned(),
                });
            }
        }
        Figure::Sketch { norths, lines, arcs }
    }
}

/// How the map lies: `. The map lies 28° off, turned clockwise`, `. The map lies as it should`.
pub(super) fn lies_words(off: Tenths) -> impl Display {
    fmt::from_fn(move |out| {
        if off == 0 {
            out.write_str(". The map lies as it should")?;
            return Ok(());
        }
        if off.abs() == 1800 {
            out.write_str(". The map lies upside down, 180° off")?;
            return Ok(());
        }
        write!(
            out,
            ". The map lies {}{}",
            size(off),
            if off < 0 { "° off, turned counterclockwise" } else { "° off, turned clockwise" }
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::angle::{Grid, True};
    use crate::skills::common::offset_of;

    fn setting<N: NorthKind>(offset: Tenths) -> Setting<N> {
        Setting { offset: offset_of(offset), arrow: ArrowToward::Top }
    }

    #[test]
    fn with_the_arrow_toward_the_bottom_all_numbers_are_those_of_the_other_end() {
        for offset in [-280, -15, 140] {
            let top = setting::<True>(offset);
            let bottom = Setting { arrow: ArrowToward::Bottom, ..top };
            // The model of the map table: the edge lies 180° from the line, and so reads 180° more from the needle.
            assert_eq!(bottom.dial(), top.dial().back());
            assert_eq!(bottom.off(bottom.dial().in_tenths()), 0);
            assert_eq!(bottom.off(top.dial().in_tenths()).abs(), 1800, "the number for the other end: upside down");
        }
        let bottom = Setting { arrow: ArrowToward::Bottom, ..setting::<True>(140) };
        assert_eq!(bottom.right_way(), "East: 180 less the declination: 180 − 14 = 166");
        let bottom = Setting { arrow: ArrowToward::Bottom, ..setting::<Grid>(-90) };
        assert_eq!(bottom.right_way(), "West: 180 and the G-M angle: 180 + 9 = 189");
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
