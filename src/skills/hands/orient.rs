//! Orienting a map by hand: what D1 to D3 share.
//!
//! With the edge along a line and the needle boxed, the map comes to lie at needle + dial − line, where the line is counted
//! from the map's true north. From that follows where each way of working leaves it.

use super::super::common::{InTenths, Tenths, angle, bearing_of, east_west, figures, tenths, wrap};
use super::super::dated::Dated;
use super::super::orient_magnetic_line::{DIAGRAM_PRONG, WRONG_LINE};
use super::super::orienting::lies_words;
use super::{
    ARROW_BACK, Angles, DIAL_FOR_MAP, DIAL_UPSIDE_DOWN, Lie, SOUTH_END_BOXED, Sheet, apart, exercise, magnetic,
    marks_and_lines, named, shown_steps,
};
use crate::angle::{Angle, Bearing, Convergence, Declination, GridMagnetic, North, True};
use crate::maptable::{Exercise, Fault, LineName, MapLine, MapLines, Task, wrong_numbers};
use crate::problem::{
    Answer, Choices, Draw, Fact, FactName, Facts, Field, FieldKind, HomeAngles, Level, MixupList, MixupMeta,
    NEEDLE_ENDS, OtherWay, Question, Step, TableProblem, Tolerance, Value, Wanted,
};
use crate::terrain::Ruled;
use std::cmp::Ordering;
use std::fmt::Write;

/// How things end: the dial, the map, the needle.
static END: [Field; 3] = [
    Field { name: "dial", label: "number on the dial", kind: FieldKind::Dial, tolerance: Tolerance::within(1.0) },
    Field {
        name: "map_lies",
        label: "where the map's true north points",
        kind: FieldKind::Bearing(North::True),
        tolerance: Tolerance::within(3.0),
    },
    Field {
        name: "needle_end_in_head",
        label: "end of the needle in the head of the orienting arrow",
        kind: FieldKind::Choice(Choices::Fixed(NEEDLE_ENDS)),
        tolerance: Tolerance::EXACT,
    },
];
/// The places of [`NEEDLE_ENDS`] that a mix-up leads to.
const NORTH_END: usize = 0;
const SOUTH_END: usize = 1;
const NEITHER_END: usize = 2;

/// Two numbers on the dial that can be told apart differ by more than this.
const TOLD_ON_DIAL: Tenths = 20;
/// Two ways of lying that can be told apart differ by more than this.
const TOLD_ON_MAP: Tenths = 60;

/// Half a circle: what the line's south end makes the dial count more.
const HALF: Tenths = 1800;

/// A needle no farther than this from the arrow is boxed.
const BOXED: Tenths = 20;

/// What a level of a skill brings to the table.
#[derive(Clone, Copy, Debug)]
pub(in crate::skills) struct Levels {
    /// Today's declination.
    pub declination: Declination,
    /// The declination that the map prints.
    pub printed: Declination,
    /// The convergence of its grid.
    pub convergence: Convergence,
    /// Whether the G-M angle is given as a number, not by its parts.
    pub gma_given: bool,
    /// Whether other lines than the wanted one are ruled, too.
    pub other_lines: bool,
    /// Whether a diagram is printed on the sheet.
    pub diagram: bool,
    /// Whether iron may lie near.
    pub iron: bool,
    /// Whether the problem is set on home ground.
    pub on_home: bool,
}

impl Levels {
    /// As most problems of a level are: a map of today, other lines from level 2, iron at level 4.
    pub fn usual(level: Level, declination: Declination, convergence: Convergence, home: Option<HomeAngles>) -> Levels {
        Levels {
            declination,
            printed: declination,
            convergence,
            gma_given: false,
            other_lines: level > Level::ONE,
            diagram: false,
            iron: level == Level::FOUR,
            on_home: home.is_some(),
        }
    }

    /// Whether the map prints another declination than today's.
    fn is_dated(&self) -> bool {
        self.printed.in_tenths() != self.declination.in_tenths()
    }
}

/// One problem of orienting a map by hand.
#[derive(Clone, Copy, Debug)]
pub(in crate::skills) struct Orienting {
    north: North,
    given: Levels,
    sheet: Sheet,
    year: i32,
    iron: Tenths,
    map: Bearing<True>,
    arrow: Bearing<True>,
    dial: Tenths,
    up: Bearing<True>,
}

impl Orienting {
    /// Draws how everything lies. Nothing begins near where right work or one of the mix-ups leaves it.
    pub fn draw(north: North, given: Levels, draw: &mut Draw) -> Orienting {
        let ruled = Ruled {
            grid: north == North::Grid || given.other_lines,
            true_lines: if north == North::True { 3 } else { 0 },
            magnetic_lines: if north == North::Magnetic {
                3
            } else if given.other_lines {
                2
            } else {
                0
            },
            diagram: given.diagram,
        };
        let year = Dated::draw_year(draw);
        let printed_year = if given.is_dated() { year - draw.between(14, 30) } else { year };
        let iron = if given.iron && draw.chance(1, 2) { draw.between(4, 12) * 10 * draw.sign() } else { 0 };
        let sheet = Sheet {
            seed: draw.below(1 << 20),
            printed: given.printed,
            convergence: given.convergence,
            year: printed_year,
            ruled,
        };
        let unset = bearing_of(0);
        let mut item = Orienting { north, given, sheet, year, iron, map: unset, arrow: unset, dial: 0, up: unset };
        item.map = bearing_of(wrap(item.right_lies().in_tenths() + draw.between(35, 150) * 10 * draw.sign()));
        item.arrow = bearing_of(draw.between(0, 359) * 10);
        item.dial = wrap(item.wanted() + draw.between(25, 155) * 10 * draw.sign()) / 10 * 10;
        item.up = bearing_of(draw.between(0, 359) * 10);
        item
    }

    /// The question.
    pub fn question() -> Question {
        Question::table(&END)
    }

    /// The magnetic bearing of the line's north: what belongs on the dial.
    fn wanted(&self) -> Tenths {
        wrap(magnetic(0, self.north, self.given.declination, self.given.convergence).in_tenths())
    }

    /// Today's grid-magnetic angle.
    fn grid_magnetic(&self) -> GridMagnetic {
        self.given.declination.then(self.given.convergence.inverse())
    }

    /// Where the needle points.
    fn needle(&self) -> Bearing<True> {
        bearing_of(self.given.declination.in_tenths() + self.iron)
    }

    /// The direction of the line by which the map is to be oriented, from the map's true north.
    fn own_line(&self) -> Bearing<True> {
        let own = LineName::of(self.north);
        self.sheet.directions().into_iter().find(|(name, _)| *name == own).map_or(bearing_of(0), |(_, toward)| toward)
    }

    /// How the map lies when the needle is boxed with this number, the edge along a line of this direction.
    fn lies(&self, dial: Tenths, line: Bearing<True>) -> Bearing<True> {
        bearing_of(wrap(self.needle().in_tenths() + dial - line.in_tenths()))
    }

    /// How right work leaves the map.
    fn right_lies(&self) -> Bearing<True> {
        self.lies(self.wanted(), self.own_line())
    }

    /// The right answer.
    pub fn answer(&self) -> Answer {
        end(self.wanted(), self.right_lies(), NORTH_END)
    }

    /// The other ways that are right: the travel arrow toward the line's south end with 180 more on the dial, the needle held
    /// beside the arrow by the angle, and on an old line the drift allowed for; the last two from either end.
    pub fn other_ways(&self) -> Vec<OtherWay> {
        let without_iron = bearing_of(self.iron);
        // With 000 on the dial the arrow runs along the line, so the needle stands beside it by the angle between them.
        let mut angle = -self.wanted();
        let mut ways = Vec::new();
        let mut push = |answer, said, better| ways.push(OtherWay { answer, said, better });
        let back = "your travel arrow lay toward the line's south end and 180 more stood on the dial, so the dial's N points the same way as with the arrow to its north end";
        push(end(self.wanted() + HALF, self.right_lies(), NORTH_END), back, false);
        let mut drift = 0;
        if self.north == North::Magnetic {
            angle = self.given.declination.in_tenths() - self.given.printed.in_tenths();
            drift = angle;
        }
        if drift != 0 {
            let said =
                "you allowed for how far the needle has moved since the line was drawn, so the map lies as it should";
            push(end(-drift, without_iron, NORTH_END), said, true);
            let said = "from the line's south end you allowed for how far the needle has moved since it was drawn, so the map lies as it should";
            push(end(HALF - drift, without_iron, NORTH_END), said, true);
        }
        if apart(angle, 0, BOXED) {
            let said = if drift == 0 {
                "you let the needle stand beside the arrow by the angle, in place of turning the dial by it, which comes to the same"
            } else {
                "you let the needle stand beside the arrow by as much as it has moved since the line was drawn, so the map lies as it should"
            };
            push(end(0, without_iron, NEITHER_END), said, drift != 0);
            push(end(HALF, without_iron, NEITHER_END), said, drift != 0);
        }
        ways
    }

    /// The wrong numbers of the dial that somebody can come to who knows what is told. The number upside down is a reversal.
    fn wrong_numbers(&self, known: &'static [MixupMeta]) -> Vec<(&'static MixupMeta, Tenths)> {
        let told = |fault: &Fault| match fault {
            Fault::DialReversed | Fault::GmaForDeclination => false,
            Fault::DeclinationForGma | Fault::SizesAdded => !self.given.gma_given,
            _ => true,
        };
        wrong_numbers(&self.exercise(self.bare_lines()))
            .into_iter()
            .filter(|(fault, _)| told(fault))
            .filter_map(|(fault, number)| Some((named(fault, known)?, tenths(number))))
            .collect()
    }

    /// Every mix-up that shows in how things end, named as the skill with these mix-ups knows them.
    pub fn mixups(&self, known: &'static [MixupMeta], list: &mut MixupList) {
        let (own, needle) = (self.own_line(), self.needle());
        let (wanted, right) = (self.wanted(), self.right_lies());
        let mut push = |meta: &'static MixupMeta, dial: Tenths, map: Bearing<True>, needle_end: usize| {
            list.push(meta, end(dial, map, needle_end), || way(dial, map));
        };
        push(&SOUTH_END_BOXED, wanted, right.back(), SOUTH_END);
        push(&ARROW_BACK, wanted, right.back(), NORTH_END);
        push(&DIAL_UPSIDE_DOWN, wanted + 1800, right.back(), NORTH_END);
        let mut seen = vec![wanted];
        for (meta, number) in self.wrong_numbers(known) {
            // Numbers too near to one another tell nothing; the first keeps its name.
            if seen.iter().all(|other| apart(*other, number, TOLD_ON_DIAL)) {
                push(meta, number, self.lies(number, own), NORTH_END);
                seen.push(number);
            }
        }
        let mut lies = vec![right, right.back()];
        let mut line_used = false;
        for (name, toward) in self.sheet.directions() {
            let left = self.lies(wanted, toward);
            let is_prong = name == LineName::Prong;
            let told = lies.iter().all(|other| apart(*other, left, TOLD_ON_MAP));
            // Of several wrong lines the first stands for all.
            if name != LineName::of(self.north) && told && (is_prong || !line_used) {
                push(if is_prong { &DIAGRAM_PRONG } else { &WRONG_LINE }, wanted, left, NORTH_END);
                line_used |= !is_prong;
                lies.push(left);
            }
        }
        // The dial turned to the needle while the map stays as it lay.
        let turned = self.map.in_tenths() + own.in_tenths() - needle.in_tenths();
        if seen.iter().chain([&(wanted + 1800)]).all(|other| apart(*other, turned, TOLD_ON_DIAL)) {
            push(&DIAL_FOR_MAP, turned, self.map, NORTH_END);
        }
    }

    /// All that a solver needs.
    pub fn facts(&self) -> Facts {
        let Levels { declination, printed, convergence, .. } = self.given;
        Facts::from(vec![
            Fact::angle(FactName::Declination, angle(declination.in_tenths())),
            Fact::angle(FactName::PrintedDeclination, angle(printed.in_tenths())),
            Fact::angle(FactName::Convergence, angle(convergence.in_tenths())),
            Fact::own_angle("iron_turns_needle_deg", angle(self.iron)),
            Fact::own_angle("start_map_deg", self.map.angle()),
            Fact::own_angle("start_travel_arrow_deg", self.arrow.angle()),
            Fact::angle(FactName::StartDial, angle(self.dial)),
            Fact::north(FactName::Line, self.north),
            Fact::wanted(Wanted::own("map_oriented")),
        ])
    }

    /// The text of the question.
    pub fn prompt(&self) -> String {
        let mut out = String::with_capacity(240);
        let place = if self.given.on_home { " on home ground, rounded," } else { "" };
        if self.given.is_dated() {
            let _ = write!(
                out,
                "This map of {} prints a declination of {}. Suppose it is {}: today it is {}",
                self.sheet.year.unsigned_abs(),
                east_west(self.given.printed),
                self.year.unsigned_abs(),
                east_west(self.given.declination)
            );
        } else if self.north == North::Grid && self.given.gma_given {
            let _ = write!(out, "The G-M angle{place} is {}", east_west(self.grid_magnetic()));
        } else {
            let _ = write!(out, "Declination{place} is {}", east_west(self.given.declination));
        }
        if self.north == North::Grid && !self.given.gma_given {
            let _ = write!(out, ", and grid convergence is {}", east_west(self.given.convergence));
        }
        let _ = write!(out, ". Orient the map by a {}.", self.north.line());
        out
    }

    /// The worked solution.
    pub fn steps(&self) -> Vec<Step> {
        let exercise = self.exercise(self.bare_lines());
        let mut steps = shown_steps(&exercise);
        let sum = format!(
            "{} on the dial, the needle's north end in the arrow's head, and the map's true north points to {}",
            figures(self.wanted()),
            figures(self.right_lies())
        );
        steps.push(Step::new("At the end", sum));
        steps
    }

    /// A nudge.
    pub fn hint(&self) -> String {
        match self.north {
            North::Magnetic => "Dial first: which number makes the orienting arrow run along the edge? Then the edge on the line, arrow to the north. Then turn map and compass together.",
            North::Grid if !self.given.gma_given => "Sketch the three norths: on which side of the needle does grid north lie, and how far? Clockwise of it the number is as small as the angle, counterclockwise it falls short of 360 by the angle. Then the edge on the line with the travel arrow to the north, then map and compass together until the needle is boxed.",
            north => return self.sketch_hint(north),
        }
        .to_owned()
    }

    /// What the sketch shows, and what follows for the dial; then the order of the work.
    fn sketch_hint(&self, north: North) -> String {
        let needle_east =
            if north == North::Grid { self.grid_magnetic().in_tenths() } else { self.given.declination.in_tenths() };
        let follows = match needle_east.cmp(&0) {
            Ordering::Less => "clockwise, so you count a little from it to the line: the angle itself",
            Ordering::Greater => "counterclockwise, so you count nearly round from it to the line: 360 less the angle",
            Ordering::Equal => "along it, so there is nothing to count: 000",
        };
        format!(
            "Seen from the needle, {} lies {follows}. That goes on the dial; then the edge on the line with the travel arrow to the north, then map and compass together until the needle is boxed.",
            north.name()
        )
    }

    /// What is right, in one line.
    pub fn right_way(&self) -> String {
        let off = off(self.right_lies());
        let mut way =
            format!("{} on the dial, arrow along the line to its north end, needle boxed", figures(self.wanted()));
        if off != 0 {
            let _ = write!(way, "{}", lies_words(off));
        }
        way
    }

    /// What lies on the table.
    pub fn table(&self) -> TableProblem {
        let map = self.sheet.map();
        let lines = marks_and_lines(&map, &self.sheet.directions(), &[], &[]);
        TableProblem::on_map(self.exercise(lines), map, Vec::new(), self.up.angle())
    }

    fn bare_lines(&self) -> MapLines {
        let lines = self.sheet.directions().into_iter().map(|(name, toward)| MapLine::new(name, toward)).collect();
        MapLines::new(lines, Angle::ZERO).unwrap_or_default()
    }

    fn exercise(&self, lines: MapLines) -> Exercise {
        let Levels { declination, printed, convergence, .. } = self.given;
        let lie = Lie { map: Some(self.map), arrow: self.arrow, dial: self.dial };
        exercise(Task::Orient(self.north), lie, Angles { declination, printed, convergence, iron: self.iron }, lines)
    }
}

fn end(dial: Tenths, map: Bearing<True>, needle_end: usize) -> Answer {
    Answer::three(
        Value::Angle(angle(wrap(dial))),
        Value::Angle(angle(wrap(map.in_tenths()))),
        Value::Choice(needle_end),
    )
}

/// What somebody has done whose dial and map end so.
fn way(dial: Tenths, map: Bearing<True>) -> String {
    format!("{} on the dial{}", figures(wrap(dial)), lies_words(off(map)))
}

/// How far off the map lies, clockwise positive.
fn off(lies: Bearing<True>) -> Tenths {
    lies.angle().wrapped_half().in_tenths()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::maptable::{Hold, LineName, Move, Way, judge};
    use crate::skills::common::offset_of;

    /// D1-2-366047: declination 11° W, convergence 4° E, 142 on the dial, the map at 61°.
    fn cited() -> Orienting {
        let (declination, convergence) = (offset_of(-110), offset_of(40));
        let given = Levels::usual(Level::TWO, declination, convergence, None);
        let ruled = Ruled { grid: true, true_lines: 0, magnetic_lines: 3, diagram: false };
        let sheet = Sheet { seed: 7, printed: declination, convergence, year: 2026, ruled };
        Orienting {
            north: North::Magnetic,
            given,
            sheet,
            year: 2026,
            iron: 0,
            map: bearing_of(610),
            arrow: bearing_of(2_850),
            dial: 1_420,
            up: bearing_of(0),
        }
    }

    #[test]
    fn all_ways_that_bring_the_map_right_are_known() {
        // D1-4-157660-8.7W-1.2W: drawn for 15.5° W, today 8.5° W, so 353 allows for the 7° that the needle has moved.
        let given =
            Levels { printed: offset_of(-155), ..Levels::usual(Level::FOUR, offset_of(-85), offset_of(-10), None) };
        let item = Orienting { given, sheet: Sheet { printed: offset_of(-155), ..cited().sheet }, ..cited() };
        let dials = |ways: Vec<OtherWay>| ways.into_iter().map(|way| (way.answer, way.better)).collect::<Vec<_>>();
        let (off, right) = (bearing_of(70), bearing_of(0));
        assert_eq!(
            dials(item.other_ways()),
            [
                (end(1_800, off, NORTH_END), false),
                (end(3_530, right, NORTH_END), true),
                (end(1_730, right, NORTH_END), true),
                (end(0, right, NEITHER_END), true),
                (end(1_800, right, NEITHER_END), true),
            ]
        );
        // By a line of today only the other end is another way; by a true-north line the needle beside the arrow, too.
        assert_eq!(dials(cited().other_ways()), [(end(1_800, right, NORTH_END), false)]);
        let by_true = Orienting { north: North::True, ..cited() };
        assert_eq!(
            dials(by_true.other_ways()),
            [
                (end(1_910, right, NORTH_END), false),
                (end(0, right, NEITHER_END), false),
                (end(1_800, right, NEITHER_END), false),
            ]
        );
    }

    #[test]
    fn what_is_said_of_one_piece_of_work_does_not_exclude_itself() {
        let exercise = cited().exercise(cited().bare_lines());
        for dial in [0, 11, 142, 180, 191, 349] {
            for line in [LineName::Magnetic, LineName::Grid, LineName::Border] {
                for way in [Way::Ahead, Way::Back] {
                    for half in [0, 180] {
                        let mut moves = vec![Move::SetDial(angle(dial * 10)), Move::Edge(line, way)];
                        let now = exercise.start.after_all(&moves, &exercise.lines);
                        let by = now.orienting().turn_to(exercise.needle()) + angle(half * 10);
                        moves.extend([Hold::Both.turn(by), Move::TakeUp, Move::Done]);
                        let judged = judge(&exercise, &moves);
                        // One claim of how the number was come by; turned round it may be beside that.
                        let dials = [
                            Fault::SignFlipped,
                            Fault::NotApplied,
                            Fault::AppliedTwice,
                            Fault::DeclinationAsReading,
                            Fault::DialSetToDeclination,
                        ];
                        let claims = judged.procedure.iter().filter(|fault| dials.contains(fault)).count();
                        assert!(claims <= 1, "{moves:?}: {:?}", judged.procedure);
                        let mut once = judged.procedure.clone();
                        once.dedup();
                        assert_eq!(once, judged.procedure, "{moves:?}");
                        assert_eq!(judged.right, judged.procedure.is_empty() && judged.state.right(), "{moves:?}");
                    }
                }
            }
        }
    }
}
