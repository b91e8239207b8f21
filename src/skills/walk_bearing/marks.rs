//! Four things in view, of which one is a mark to walk to: on the line, nearer than the goal, and there all the way.

use super::super::amounts::{ORIGIN, line, step_to};
use super::super::common::{NOT_APPLIED, SIGN_FLIPPED, Tenths, WRONG_END, angle, bearing, figures, sum};
use super::course::Course;
use super::meta::{BESIDE_ARROW, BEYOND_GOAL, MOVING_MARK, OUT_OF_SIGHT};
use crate::angle::North;
use crate::problem::{
    Answer, Draw, Fact, Figure, Level, LineRole, MixupList, MixupMeta, PlanFigure, PlanKind, PlanPlace, Step,
};
use std::fmt::Write;

/// How many things are in view.
pub(super) const MARKS: usize = 4;

/// What stays where it is.
const FIXED: [&str; 8] =
    ["the pine", "the cairn", "the boulder", "the gatepost", "the birch", "the thorn", "the tree stump", "the barn"];
/// What does not.
const MOVING: [&str; 6] = ["the cow", "the walker", "the tractor", "the sheep", "the grey horse", "the rider"];
/// Ground across which a mark stays in sight.
const OPEN: [&str; 4] = ["open heath", "short grass", "a bare slope", "flat stones"];
/// Ground in which it does not.
const HIDING: [&str; 4] = ["a hollow", "a dense wood", "a narrow valley", "a field of maize"];
/// Such ground out of which one still sees what stands high.
const LOW: [&str; 2] = ["a hollow", "a narrow valley"];
/// Where something stands that is seen from low ground, too.
const HIGH: [&str; 3] = ["on the skyline", "high on a bare slope", "on top of a rise"];

/// A thing in view.
#[derive(Clone, Copy, PartialEq)]
struct Mark {
    name: &'static str,
    /// Clockwise of the right bearing.
    toward: Tenths,
    metres: i32,
    /// What lies between, or where it stands, where that is told.
    across: &'static str,
}

/// What one looks at, and where one means to go.
pub(super) struct Marks {
    pub(super) course: Course,
    goal: &'static str,
    goal_metres: i32,
    marks: [Mark; MARKS],
    level: Level,
}

/// The facts of each mark: its name, where it lies from the arrow or by the compass, how far away, and what lies between.
const FACTS: [[&str; 5]; MARKS] = [
    ["first_mark", "first_from_arrow_deg", "first_magnetic_bearing_deg", "first_away_m", "first_across"],
    ["second_mark", "second_from_arrow_deg", "second_magnetic_bearing_deg", "second_away_m", "second_across"],
    ["third_mark", "third_from_arrow_deg", "third_magnetic_bearing_deg", "third_away_m", "third_across"],
    ["fourth_mark", "fourth_from_arrow_deg", "fourth_magnetic_bearing_deg", "fourth_away_m", "fourth_across"],
];

/// A mark to walk to and three that are none, with what lies between. Where the one that goes out of sight is the nearest, the right
/// one stands high behind it; what stands farther than low ground that hides is seen only if it stands high.
fn sights(names: &[&'static str], aside: Tenths, (goal_metres, far): (i32, i32), draw: &mut Draw) -> [Mark; MARKS] {
    let shares = [draw.between(16, 24), draw.between(32, 40), draw.between(48, 56), draw.between(64, 72)];
    let (strays, hides, asides, beyond) = match draw.below(10) {
        0..=2 => (true, true, false, true),
        3..=5 => (true, true, true, false),
        6..=7 => (false, true, true, true),
        _ => (true, false, true, true),
    };
    let [right, stray, hidden, beside] = [0, 1, 2, 3];
    // What is wrong stands before the right one somewhat oftener than not: else the nearest over the arrow would do.
    let (stray_first, hidden_first) = (draw.chance(11, 20), draw.chance(13, 20));
    let metres = loop {
        let mut order = [0, 1, 2, 3];
        draw.shuffle(&mut order);
        let metres = order.map(|at| goal_metres * shares[at] / 1000 * 10);
        let fits = |is: bool, at: usize, first: bool| !is || (metres[at] < metres[right]) == first;
        if fits(strays, stray, stray_first) && fits(hides, hidden, hidden_first) {
            break metres;
        }
    };
    let across = |metres_off: i32, draw: &mut Draw| {
        let (open, high) = (draw.pick(&OPEN), draw.pick(&HIGH));
        // Now and then without need, so that it gives nothing away.
        if hides && metres_off > metres[hidden] || draw.chance(1, 6) { high } else { open }
    };
    let hiding = draw.pick(if hidden_first { &LOW } else { &HIDING[..] });
    let mark = |name, toward, metres, across| Mark { name, toward, metres, across };
    let all = [
        Some(mark(names[0], 0, metres[right], across(metres[right], draw))),
        strays.then(|| mark(draw.pick(&MOVING), 0, metres[stray], across(metres[stray], draw))),
        hides.then(|| mark(names[1], 0, metres[hidden], hiding)),
        asides.then(|| mark(names[2], aside, metres[beside], draw.pick(&OPEN))),
        beyond.then(|| mark(names[3], 0, far, across(far, draw))),
    ];
    let mut marks = all.into_iter().flatten();
    std::array::from_fn(|_| marks.next().unwrap_or(mark(names[0], 0, metres[right], OPEN[0])))
}

impl Marks {
    pub(super) fn draw(level: Level, draw: &mut Draw) -> Marks {
        let course = if level == Level::TWO {
            Course::by_map(8, 22, draw)
        } else {
            let step = if level == Level::ONE { 100 } else { 10 };
            Course::by_compass(draw.between(0, 3590 / step) * step)
        };
        let goal = draw.pick(&super::super::amounts::GOALS);
        let goal_metres = draw.between(10, 24) * 50;
        // Not a pine on the way to the lone pine.
        let mut names: Vec<&'static str> =
            FIXED.into_iter().filter(|name| !goal.ends_with(name.trim_start_matches("the "))).collect();
        draw.shuffle(&mut names);
        let aside = draw.between(7, 16) * 10 * draw.sign();
        let far = goal_metres * draw.between(125, 165) / 1000 * 10;
        let mark = |at: usize, toward: Tenths, metres: i32| Mark { name: names[at], toward, metres, across: "" };
        let mut marks = if level == Level::THREE {
            sights(&names, aside, (goal_metres, far), draw)
        } else {
            // Of three distances before the goal none belongs to the right mark more often than another.
            let mut shares = [draw.between(18, 32), draw.between(38, 52), draw.between(58, 72)];
            draw.shuffle(&mut shares);
            let near = shares.map(|share| goal_metres * share / 1000 * 10);
            let right = mark(0, 0, near[0]);
            if level == Level::ONE {
                [right, mark(1, aside, near[1]), mark(2, 1800, near[2]), mark(3, 0, far)]
            } else {
                // On whichever bearing two stand, the nearer of them is right no more often than elsewhere.
                let [none, flipped] = [course.between, 2 * course.between];
                let toward = draw.pick(&[0, none, flipped]);
                [right, mark(1, none, near[1]), mark(2, flipped, near[2]), mark(3, toward, far)]
            }
        };
        draw.shuffle(&mut marks);
        Marks { course, goal, goal_metres, marks, level }
    }

    pub(super) fn names(&self) -> Vec<String> {
        self.marks.iter().map(|mark| mark.name.to_owned()).collect()
    }

    /// What is wrong with a mark; nothing with the right one.
    fn fault(&self, mark: &Mark) -> Option<&'static MixupMeta> {
        match mark.toward {
            _ if mark.metres > self.goal_metres => Some(&BEYOND_GOAL),
            1800 => Some(&WRONG_END),
            _ if MOVING.contains(&mark.name) => Some(&MOVING_MARK),
            _ if HIDING.contains(&mark.across) => Some(&OUT_OF_SIGHT),
            0 => None,
            toward if self.level == Level::TWO && toward == self.course.between => Some(&NOT_APPLIED),
            _ if self.level == Level::TWO => Some(&SIGN_FLIPPED),
            _ => Some(&BESIDE_ARROW),
        }
    }

    pub(super) fn right(&self) -> usize {
        self.marks.iter().position(|mark| self.fault(mark).is_none()).unwrap_or(0)
    }

    /// A mark, as a sentence begins with it, and what is to be said of it.
    fn judged(&self, mark: &Mark) -> String {
        let mut out = String::with_capacity(128);
        out.extend(mark.name.chars().next().map(|first| first.to_ascii_uppercase()));
        out.push_str(mark.name.get(1..).unwrap_or_default());
        out.push(' ');
        self.write_does(mark, &mut out);
        out
    }

    /// What is to be said of a mark, after its name.
    fn write_does(&self, mark: &Mark, out: &mut String) {
        let goal = self.goal;
        let Some(fault) = self.fault(mark) else {
            let _ = match self.level.number() {
                1 => write!(out, "stands over the arrow and nearer than {goal}"),
                2 => write!(out, "stands on {} and nearer than {goal}", figures(self.course.magnetic)),
                _ if HIGH.contains(&mark.across) => write!(
                    out,
                    "stands over the arrow, nearer than {goal}, and high, so that you see it from low ground, too"
                ),
                _ => write!(out, "stands over the arrow, nearer than {goal}, and in sight all the way"),
            };
            return;
        };
        let _ = match fault.id {
            id if id == BEYOND_GOAL.id => write!(out, "stands {} m off, beyond {goal}", mark.metres),
            id if id == WRONG_END.id => write!(out, "stands behind you, where the arrow's tail points"),
            id if id == MOVING_MARK.id => write!(out, "does not stay where it is"),
            id if id == OUT_OF_SIGHT.id => write!(out, "goes out of sight on the way, in {}", mark.across),
            id if id == NOT_APPLIED.id => {
                write!(out, "stands on {}, the map's number as it is", figures(self.course.told()))
            }
            id if id == SIGN_FLIPPED.id => {
                write!(out, "stands where a wrong sum leads: {}", sum(self.course.told(), self.course.between))
            }
            _ => write!(out, "stands {}° beside the arrow", mark.toward.abs() / 10),
        };
    }

    pub(super) fn mixups(&self, list: &mut MixupList) {
        for (at, mark) in self.marks.iter().enumerate() {
            if let Some(meta) = self.fault(mark) {
                list.push(meta, Answer::choice(at), || self.judged(mark));
            }
        }
    }

    pub(super) fn right_way(&self) -> String {
        let mark = &self.marks[self.right()];
        let mut out = format!("{}: {} ", self.course.short(), mark.name);
        self.write_does(mark, &mut out);
        out
    }

    pub(super) fn facts(&self) -> Vec<Fact> {
        let mut facts = self.course.facts();
        facts.push(Fact::own_number("goal_m", f64::from(self.goal_metres)));
        for (mark, [name, from_arrow, on, away, across]) in self.marks.iter().zip(FACTS) {
            facts.push(Fact::own_word(name, mark.name));
            facts.push(if self.level == Level::TWO {
                Fact::own_angle(on, self.course.magnetic.turned(angle(mark.toward)).angle())
            } else {
                Fact::own_angle(from_arrow, angle(mark.toward))
            });
            facts.push(Fact::own_number(away, f64::from(mark.metres)));
            if !mark.across.is_empty() {
                facts.push(Fact::own_word(across, mark.across));
            }
        }
        facts
    }

    /// Tells of a mark: `the pine over the arrow, 300 m off`.
    fn tell(&self, mark: &Mark, out: &mut String) {
        let Mark { name, toward, metres, across } = *mark;
        out.push_str(name);
        match toward {
            _ if self.level == Level::TWO => {
                out.push_str(" on ");
                let _ = write!(out, "{}", bearing(self.course.magnetic.turned(angle(toward)), North::Magnetic));
            }
            0 => out.push_str(" over the arrow"),
            1800 => out.push_str(" behind you, where the arrow's tail points"),
            _ => {
                let side = if toward < 0 { "left" } else { "right" };
                let _ = write!(out, " {}° {side} of the arrow", toward.abs() / 10);
            }
        }
        let _ = write!(out, ", {metres} m off");
        if !across.is_empty() {
            out.push_str(if HIGH.contains(&across) { " " } else { " across " });
            out.push_str(across);
        }
    }

    pub(super) fn prompt(&self) -> String {
        let mut out = String::with_capacity(512);
        let (goal, far, course) = (self.goal, self.goal_metres, self.course.words());
        let _ = if self.level == Level::TWO {
            write!(
                out,
                "On the map the way to {goal}, {far} m away and not in sight, is {course}. You take the bearings of what you see:"
            )
        } else {
            write!(
                out,
                "You walk to {goal}, {far} m away and not in sight, on {course}: that is set, and the needle is boxed. You look up and all round, and see"
            )
        };
        for (before, mark) in [" ", "; ", "; ", "; and "].into_iter().zip(&self.marks) {
            out.push_str(before);
            self.tell(mark, &mut out);
        }
        out.push_str(". Which of them do you take for your steering mark?");
        out
    }

    pub(super) fn steps(&self) -> Vec<Step> {
        let mut steps = vec![Step::words(
            "Whoever stares at the needle strays and stumbles, so look up, pick something on the line, and walk to that",
        )];
        steps.extend(self.course.step());
        for mark in &self.marks {
            steps.push(
                Step::words(self.judged(mark))
                    .decides("Does each stand on the line, nearer than the goal, and stay in sight"),
            );
        }
        let why = if self.level == Level::THREE {
            "On the line, before the goal, and in sight all the way"
        } else {
            "On the line, and before the goal"
        };
        steps.push(Step::new(why, self.marks[self.right()].name).answers());
        steps
    }

    pub(super) fn hint(&self) -> &'static str {
        match self.level.number() {
            1 => "Two things decide: does it stand over the arrow, and do you come to it before the goal?",
            2 => {
                "First bring the map's bearing to the compass. Then: which of those on it do you come to before the goal?"
            }
            _ => {
                "Three things decide: is it over the arrow, before the goal, and will you see it from every place on the way?"
            }
        }
    }

    /// The line from above, with the mark that is right on it and the one that somebody chose.
    pub(super) fn plan(&self, chosen: Option<usize>) -> Figure {
        let toward = |tenths: Tenths| self.course.magnetic.turned(angle(tenths)).angle();
        let at = |mark: &Mark| step_to(ORIGIN, toward(mark.toward), f64::from(mark.metres));
        let right = self.right();
        let (there, goal) = (at(&self.marks[right]), step_to(ORIGIN, toward(0), f64::from(self.goal_metres)));
        let label = bearing(self.course.magnetic, North::Magnetic).to_string();
        let lines = vec![
            line(PlanKind::Way(LineRole::Right), vec![ORIGIN, there], label),
            line(PlanKind::Thought, vec![there, goal], ""),
        ];
        let named = |at, role, name: &str| PlanPlace { at, role, name: name.trim_start_matches("the ").to_owned() };
        let mut places = vec![
            named(ORIGIN, LineRole::Given, "you"),
            named(goal, LineRole::Given, self.goal),
            named(there, LineRole::Right, self.marks[right].name),
        ];
        // The others would crowd the line, and the steps tell what is wrong with each.
        if let Some(mark) = chosen.filter(|chosen| *chosen != right).and_then(|chosen| self.marks.get(chosen)) {
            // A few degrees would hardly be seen.
            let aside = mark.toward != 0 && mark.toward.abs() <= 300;
            let drawn = step_to(ORIGIN, toward(3 * mark.toward), f64::from(mark.metres));
            let name = format!("{}, threefold", mark.name);
            let (at, name) = if aside { (drawn, name.as_str()) } else { (at(mark), mark.name) };
            places.push(named(at, LineRole::Learner, name));
        }
        let words = format!(
            "A plan with magnetic north up: your line to {} on {}, and {} on it.",
            self.goal,
            figures(self.course.magnetic),
            self.marks[right].name
        );
        Figure::Plan(PlanFigure { north: Some(North::Magnetic), needle: None, lines, places, words, says_more: false })
    }

    /// Whether no mark over the arrow that stays where it is stands nearer.
    #[cfg(test)]
    pub(super) fn is_nearest_that_stays(&self, mark: usize) -> bool {
        let nearer = |other: &Mark| other.metres < self.marks[mark].metres;
        !self.marks.iter().any(|other| other.toward == 0 && !MOVING.contains(&other.name) && nearer(other))
    }

    /// Where a mark lies among those in view, by its distance, 0 the nearest, and how many of those over the arrow are nearer.
    #[cfg(test)]
    pub(super) fn rank(&self, mark: usize) -> (usize, usize) {
        let metres = self.marks[mark].metres;
        let nearer = |mark: &&Mark| mark.metres < metres;
        let over = self.marks.iter().filter(nearer).filter(|mark| mark.toward == 0).count();
        (self.marks.iter().filter(nearer).count(), over)
    }
}
