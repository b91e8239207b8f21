//! Orienting a map by hand: what D1 to D3 share.
//!
//! With the edge along a line and the needle boxed, the map comes to lie at needle + dial − line, where the line is counted
//! from the map's true north. From that follows where each way of working leaves it.

use super::super::common::{Tenths, angle, push_east_west, push_figures, push_number, tenths, wrap};
use super::super::dated::Dated;
use super::super::orient_magnetic_line::{DIAGRAM_PRONG, WRONG_LINE};
use super::super::orienting::push_lies;
use super::{
    ARROW_BACK, Angles, DIAL_FOR_MAP, DIAL_UPSIDE_DOWN, Lie, SOUTH_END_BOXED, Sheet, apart, exercise, marks_and_lines,
    shown_steps,
};
use crate::angle::{Angle, Bearing, North};
use crate::maptable::{Exercise, Fault, LineName, MapLine, MapLines, Task, wrong_numbers};
use crate::problem::{
    Answer, Draw, Fact, Field, FieldKind, HomeAngles, Level, MixupId, MixupList, NEEDLE_ENDS, Paths, Question, Step,
    TableProblem, Value,
};
use crate::terrain::Ruled;

/// How things end: the dial, the map, the needle.
static END: [Field; 3] = [
    Field { name: "dial", label: "number on the dial", kind: FieldKind::Dial, tolerance: 1.0 },
    Field {
        name: "map_lies",
        label: "where the map's true north points",
        kind: FieldKind::Bearing(North::True),
        tolerance: 3.0,
    },
    Field {
        name: "needle_end_in_head",
        label: "end of the needle in the head of the orienting arrow",
        kind: FieldKind::Choice(NEEDLE_ENDS),
        tolerance: 0.0,
    },
];

/// Two numbers on the dial that can be told apart differ by more than this.
const TOLD_ON_DIAL: Tenths = 20;
/// Two ways of lying that can be told apart differ by more than this.
const TOLD_ON_MAP: Tenths = 60;

/// What a level of a skill brings to the table.
#[derive(Clone, Copy, Debug)]
pub(in crate::skills) struct Levels {
    /// Today's declination.
    pub declination: Tenths,
    /// The declination that the map prints.
    pub printed: Tenths,
    /// The convergence of its grid.
    pub convergence: Tenths,
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
    pub fn usual(level: Level, declination: Tenths, convergence: Tenths, home: Option<HomeAngles>) -> Levels {
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
}

/// One problem of orienting a map by hand.
#[derive(Clone, Copy, Debug)]
pub(in crate::skills) struct Orienting {
    north: North,
    given: Levels,
    sheet: Sheet,
    year: i32,
    iron: Tenths,
    map: Tenths,
    arrow: Tenths,
    dial: Tenths,
    up: Tenths,
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
        let printed_year = if given.printed == given.declination { year } else { year - draw.between(14, 30) };
        let iron = if given.iron && draw.chance(1, 2) { draw.between(4, 12) * 10 * draw.sign() } else { 0 };
        let sheet = Sheet {
            seed: draw.below(1 << 20),
            printed: given.printed,
            convergence: given.convergence,
            year: printed_year,
            ruled,
        };
        let mut item = Orienting { north, given, sheet, year, iron, map: 0, arrow: 0, dial: 0, up: 0 };
        item.map =
            wrap(item.lies(item.wanted(), item.line(LineName::of(north))) + draw.between(35, 150) * 10 * draw.sign());
        item.arrow = draw.between(0, 359) * 10;
        item.dial = wrap(item.wanted() + draw.between(25, 155) * 10 * draw.sign()) / 10 * 10;
        item.up = draw.between(0, 359) * 10;
        item
    }

    /// The question.
    pub const fn question() -> Question {
        Question::Table(&END)
    }

    /// Magnetic north from the line's north today.
    const fn offset(&self) -> Tenths {
        match self.north {
            North::True => self.given.declination,
            North::Grid => self.given.declination - self.given.convergence,
            North::Magnetic => 0,
        }
    }

    const fn wanted(&self) -> Tenths {
        wrap(-self.offset())
    }

    const fn needle(&self) -> Tenths {
        self.given.declination + self.iron
    }

    fn line(&self, name: LineName) -> Tenths {
        self.sheet.directions().into_iter().find(|(other, _)| *other == name).map_or(0, |(_, toward)| toward)
    }

    /// How the map lies when the needle is boxed with this number, the edge along a line of this direction.
    const fn lies(&self, dial: Tenths, line: Tenths) -> Tenths {
        wrap(self.needle() + dial - line)
    }

    /// The right answer.
    pub fn answer(&self) -> Answer {
        let line = self.line(LineName::of(self.north));
        end(self.wanted(), self.lies(self.wanted(), line), 0)
    }

    /// The wrong numbers of the dial that somebody can come to who knows what is told. The number upside down is a reversal.
    fn wrong_numbers(&self) -> Vec<(MixupId, Tenths)> {
        let told = |fault: &Fault| match fault {
            Fault::DialReversed | Fault::GmaForDeclination => false,
            Fault::DeclinationForGma | Fault::SizesAdded => !self.given.gma_given,
            _ => true,
        };
        wrong_numbers(&self.exercise(self.bare_lines()))
            .into_iter()
            .filter(|(fault, _)| told(fault))
            .map(|(fault, number)| (MixupId(fault.id()), tenths(number)))
            .collect()
    }

    /// Every mix-up that shows in how things end.
    pub fn mixups(&self, list: &mut MixupList) {
        let own = self.line(LineName::of(self.north));
        let (wanted, right) = (self.wanted(), self.lies(self.wanted(), own));
        list.push(SOUTH_END_BOXED.id, end(wanted, right + 1800, 1));
        list.push(ARROW_BACK.id, end(wanted, right + 1800, 0));
        list.push(DIAL_UPSIDE_DOWN.id, end(wanted + 1800, right + 1800, 0));
        let mut seen = vec![wanted];
        for (id, number) in self.wrong_numbers() {
            // Numbers too near to one another tell nothing; the first keeps its name.
            if seen.iter().all(|other| apart(*other, number, TOLD_ON_DIAL)) {
                list.push(id, end(number, self.lies(number, own), 0));
                seen.push(number);
            }
        }
        let mut lies = vec![right, right + 1800];
        for (name, toward) in self.sheet.directions() {
            let left = self.lies(wanted, toward);
            let id = if name == LineName::Prong { DIAGRAM_PRONG.id } else { WRONG_LINE.id };
            let told = lies.iter().all(|other| apart(*other, left, TOLD_ON_MAP));
            if name != LineName::of(self.north) && told && !list.iter().any(|mixup| mixup.id == id) {
                list.push(id, end(wanted, left, 0));
                lies.push(left);
            }
        }
        // The dial turned to the needle while the map stays as it lay.
        let turned = self.map + own - self.needle();
        if seen.iter().chain([&(wanted + 1800)]).all(|other| apart(*other, turned, TOLD_ON_DIAL)) {
            list.push(DIAL_FOR_MAP.id, end(turned, self.map, 0));
        }
    }

    /// All that a solver needs.
    pub fn facts(&self) -> Vec<Fact> {
        let number = |name, tenths: Tenths| Fact::number(name, angle(tenths).degrees());
        vec![
            number("declination_deg", self.given.declination),
            number("printed_declination_deg", self.given.printed),
            number("convergence_deg", self.given.convergence),
            number("iron_turns_needle_deg", self.iron),
            number("start_map_deg", self.map),
            number("start_travel_arrow_deg", self.arrow),
            number("start_dial_deg", self.dial),
            Fact::word("line", self.north.word()),
            Fact::word("wanted", "map_oriented"),
        ]
    }

    /// The text of the question.
    pub fn prompt(&self) -> String {
        let mut out = String::with_capacity(240);
        let place = if self.given.on_home { " on home ground" } else { "" };
        if self.given.printed != self.given.declination {
            out.push_str("This map of ");
            push_number(&mut out, self.sheet.year.unsigned_abs());
            out.push_str(" prints a declination of ");
            push_east_west(&mut out, self.given.printed);
            out.push_str(". Suppose it is ");
            push_number(&mut out, self.year.unsigned_abs());
            out.push_str(": today it is ");
            push_east_west(&mut out, self.given.declination);
        } else if self.north == North::Grid && self.given.gma_given {
            out.push_str("The G-M angle");
            out.push_str(place);
            out.push_str(" is ");
            push_east_west(&mut out, self.offset());
        } else {
            out.push_str("Declination");
            out.push_str(place);
            out.push_str(" is ");
            push_east_west(&mut out, self.given.declination);
        }
        if self.north == North::Grid && !self.given.gma_given {
            out.push_str(", and grid convergence is ");
            push_east_west(&mut out, self.given.convergence);
        }
        out.push_str(". Orient the map by ");
        out.push_str(match self.north {
            North::True => "a true-north line.",
            North::Grid => "a north-south grid line.",
            North::Magnetic => "a magnetic-north line.",
        });
        out
    }

    /// The worked solution.
    pub fn steps(&self) -> Vec<Step> {
        let exercise = self.exercise(self.bare_lines());
        let mut steps = shown_steps(&exercise);
        let mut sum = String::with_capacity(80);
        push_figures(&mut sum, self.wanted());
        sum.push_str(" on the dial, the needle's north end in the arrow's head, and the map's true north points to ");
        push_figures(&mut sum, self.lies(self.wanted(), self.line(LineName::of(self.north))));
        steps.push(Step::new("At the end", sum));
        steps
    }

    /// A nudge.
    pub fn hint(&self) -> String {
        match self.north {
            North::Magnetic => "Dial first: which number makes the arrow on the dial's floor run along the edge? Then the edge on the line, arrow to the north. Then turn map and compass together.",
            _ => "In this order: the number on the dial, the edge on the line with the travel arrow to the north, then map and compass together until the needle is boxed.",
        }
        .to_owned()
    }

    /// What a mix-up leads to, beside what is right.
    pub fn paths(&self, mixup: MixupId) -> Paths {
        let own = self.line(LineName::of(self.north));
        let right_lies = self.lies(self.wanted(), own);
        let mut list = MixupList::default();
        self.mixups(&mut list);
        let (dial, lies) =
            list.iter().find(|listed| listed.id == mixup).map_or((self.wanted(), right_lies), |listed| {
                match listed.answer.values() {
                    [Value::Angle(dial), Value::Angle(map), ..] => (tenths(*dial), tenths(*map)),
                    _ => (self.wanted(), right_lies),
                }
            });
        let mut yours = String::with_capacity(80);
        push_figures(&mut yours, wrap(dial));
        yours.push_str(" on the dial");
        push_lies(&mut yours, off(lies));
        let mut right = String::with_capacity(90);
        push_figures(&mut right, self.wanted());
        right.push_str(" on the dial, edge and travel arrow along the line to the north, north end boxed");
        push_lies(&mut right, off(right_lies));
        Paths { yours, right }
    }

    /// What lies on the table.
    pub fn table(&self) -> TableProblem {
        let map = self.sheet.map();
        let lines = marks_and_lines(&map, &self.sheet.directions(), &[], &[]);
        TableProblem { exercise: self.exercise(lines), map: Some(map), marks: Vec::new(), up: angle(self.up) }
    }

    fn bare_lines(&self) -> MapLines {
        let lines = self
            .sheet
            .directions()
            .into_iter()
            .map(|(name, toward)| MapLine::new(name, Bearing::from_angle(angle(toward))))
            .collect();
        MapLines::new(lines, Angle::ZERO).unwrap_or_default()
    }

    fn exercise(&self, lines: MapLines) -> Exercise {
        let Levels { declination, printed, convergence, .. } = self.given;
        let lie = Lie { map: Some(self.map), arrow: self.arrow, dial: self.dial };
        exercise(Task::Orient(self.north), lie, Angles { declination, printed, convergence, iron: self.iron }, lines)
    }
}

fn end(dial: Tenths, map: Tenths, needle_end: usize) -> Answer {
    Answer::three(Value::Angle(angle(wrap(dial))), Value::Angle(angle(wrap(map))), Value::Word(NEEDLE_ENDS[needle_end]))
}

/// How far off the map lies, clockwise positive.
const fn off(lies: Tenths) -> Tenths {
    wrap(lies + 1800) - 1800
}
