//! What a mark beside the line costs, and the way back onto it: at night and in a whiteout people are the mark, and are waved onto the
//! line.

use super::super::amounts::{ORIGIN, comes_to, line, place, short, step_to};
use super::super::common::{InTenths, NOT_APPLIED, SIGN_FLIPPED, Tenths, angle, bearing, figures, wrap};
use super::super::one_in_sixty::{ONE_DEGREE_ONLY, PER_HUNDRED};
use super::course::Course;
use super::meta::SIDES_SWAPPED;
use super::{LEAP, SIDE, SIDES, WHITEOUT};
use crate::angle::{Bearing, Magnetic, North};
use crate::problem::{
    Answer, Draw, Fact, Field, Figure, FigurePart, LineRole, MixupList, PlanFigure, PlanKind, Step, Value, Wanted,
};

/// Marks that somebody may keep to though they stand beside the line.
const MARKS: [&str; 6] = ["the pine", "the boulder", "the gatepost", "the birch", "the cairn", "the barn"];

/// Something beside the line.
pub(super) struct Aside {
    pub(super) course: Course,
    /// Whole degrees clockwise of the right bearing.
    pub(super) toward: i32,
    pub(super) metres: i32,
    /// What stands there.
    pub(super) what: What,
}

/// What stands beside the line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum What {
    /// A mark that one walks to.
    Mark(&'static str),
    /// Two with a lamp in the dark, who are waved onto the line.
    Lamp,
    /// Two in a whiteout, who are waved onto it, too.
    People,
}

impl Aside {
    /// A mark beside the line, which one walks to all the same.
    pub(super) fn mark(draw: &mut Draw) -> Aside {
        Aside {
            // Half of them so near to north that the mark may stand on the other side of it.
            course: Course::by_compass(if draw.chance(1, 2) {
                wrap(draw.between(-8, 8) * 10)
            } else {
                draw.between(0, 359) * 10
            }),
            toward: draw.between(4, 12) * draw.sign(),
            metres: draw.between(4, 20) * 30,
            what: What::Mark(draw.pick(&MARKS)),
        }
    }

    /// Two of the group, ahead in the dark or in a whiteout, where one sees less far: nobody goes there alone.
    pub(super) fn people(draw: &mut Draw) -> Aside {
        let what = draw.pick(&[What::Lamp, What::People]);
        let farthest = if what == What::Lamp { 4 } else { 1 };
        Aside {
            course: Course::by_map(10, 20, draw),
            toward: draw.between(3, 9) * draw.sign(),
            metres: draw.between(1, farthest) * 30,
            what,
        }
    }

    /// Whether it is a mark, which stays where it is.
    const fn stays(&self) -> bool {
        matches!(self.what, What::Mark(_))
    }

    pub(super) const fn fields(&self) -> &'static [Field; 2] {
        match self.what {
            What::Mark(_) => &SIDE,
            What::Lamp => &LEAP,
            What::People => &WHITEOUT,
        }
    }

    /// What the compass shows toward it.
    fn seen(&self) -> Bearing<Magnetic> {
        self.course.magnetic.turned(angle(self.toward * 10))
    }

    /// How far it is beside the line, by one in sixty.
    fn beside(&self, degrees: i32) -> f64 {
        f64::from(self.metres * degrees.abs()) / 60.0
    }

    /// The side where it stands so many degrees clockwise: the place in [`SIDES`].
    const fn stands(degrees: i32) -> usize {
        if degrees < 0 { 0 } else { 1 }
    }

    /// What is answered about something so many degrees clockwise of the line: the side where one comes out; or, of a person, where
    /// they must go.
    fn side(&self, degrees: i32) -> usize {
        let stands = Aside::stands(degrees);
        if self.stays() { stands } else { 1 - stands }
    }

    pub(super) fn answer(&self) -> Answer {
        given(self.side(self.toward), self.beside(self.toward))
    }

    /// How far clockwise of another number it is seen, the short way round.
    fn from(&self, course: Tenths) -> i32 {
        angle(self.seen().in_tenths() - course).wrapped_half().tenths() / 10
    }

    pub(super) fn mixups(&self, list: &mut MixupList) {
        let Aside { toward, metres, .. } = *self;
        let (side, beside) = (self.side(toward), self.beside(toward));
        list.push(&SIDES_SWAPPED, given(1 - side, beside), || {
            format!("To the {}, {}", SIDES[1 - side], self.rule(toward))
        });
        for (meta, course) in [(&NOT_APPLIED, self.course.told()), (&SIGN_FLIPPED, self.course.flipped())] {
            let off = self.from(course);
            if !self.stays() {
                list.push(meta, given(self.side(off), self.beside(off)), || {
                    format!(
                        "{} beside {} is {}° {}, so to the {}, {}",
                        figures(self.seen()),
                        figures(course),
                        off.abs(),
                        SIDES[Aside::stands(off)],
                        SIDES[self.side(off)],
                        self.rule(off)
                    )
                });
            }
        }
        let one = f64::from(metres) / 60.0;
        list.push(&ONE_DEGREE_ONLY, given(side, one), || format!("{metres} / 60 {}", comes_to(one)));
        let hundred = f64::from(metres * toward.abs()) / 100.0;
        list.push(&PER_HUNDRED, given(side, hundred), || {
            format!("{metres} × {} / 100 {}", toward.abs(), comes_to(hundred))
        });
    }

    /// `60 × 5 / 60 = 5`.
    fn rule(&self, degrees: i32) -> String {
        format!("{} × {} / 60 {}", self.metres, degrees.abs(), comes_to(self.beside(degrees)))
    }

    pub(super) fn right_way(&self) -> String {
        format!(
            "{}; seen on {}, that is {}° {} of the line: {}, {}",
            self.course.short(),
            figures(self.seen()),
            self.toward.abs(),
            SIDES[Aside::stands(self.toward)],
            SIDES[self.side(self.toward)],
            self.rule(self.toward)
        )
    }

    pub(super) fn facts(&self) -> Vec<Fact> {
        let mut facts = self.course.facts();
        facts.push(Fact::own_angle("seen_magnetic_bearing_deg", self.seen().angle()));
        facts.push(Fact::own_number("away_m", f64::from(self.metres)));
        facts.push(Fact::wanted(Wanted::own(if self.stays() { "side_of_line" } else { "onto_line" })));
        facts
    }

    pub(super) fn prompt(&self) -> String {
        let (seen, metres) = (bearing(self.seen(), North::Magnetic), self.metres);
        let way = self.course.words();
        match self.what {
            What::Mark(mark) => format!(
                "You walk on {way}, and nothing stands over the travel arrow. The nearest thing that stays in sight is {mark} on {seen}, {metres} m off, and you walk straight to it. On which side of your line are you then, and how far from it?"
            ),
            What::Lamp => format!(
                "Night, and you go on by leapfrogging. On the map your way is {way}. Two of you have gone ahead with a lamp and stop {metres} m away; you see the lamp on {seen}. To which side of you do you wave the lamp, so that it comes onto the line, and how far?"
            ),
            What::People => format!(
                "Whiteout: snow and cloud are one, and nothing stands out. You go on by leapfrogging. On the map your way is {way}. Two of you have gone ahead as far as you can see them, {metres} m; you see them on {seen}. To which side of you do you wave them, so that they come onto the line, and how far?"
            ),
        }
    }

    pub(super) fn steps(&self) -> Vec<Step> {
        let (right, toward) = (FigurePart::Line(LineRole::Right), self.toward);
        let (stands, side, beside) = (SIDES[Aside::stands(toward)], SIDES[self.side(toward)], self.beside(toward));
        let mut steps = vec![Step::words(match self.what {
            What::Mark(_) => {
                "A mark leads you to itself and not along your line, so know what it costs before you walk to it"
            }
            What::Lamp => {
                "At night nothing stands out ahead, so people become the mark, as far as you see their lamp and hear each other's whistle, and nobody goes alone"
            }
            What::People => {
                "In a whiteout nothing stands out ahead, so people become the mark: in sight and near enough to call, and nobody goes alone. An edge cannot be seen either: where the map has one near, stay where you are"
            }
        })];
        steps.extend(self.course.step());
        let turn = if toward < 0 { "counterclockwise" } else { "clockwise" };
        steps.push(
            Step::new(
                format!(
                    "From {} the short way round to {} is {turn}, so {} {stands} of the line",
                    figures(self.course.magnetic),
                    figures(self.seen()),
                    if self.what == What::People { "they stand" } else { "it stands" }
                ),
                format_args!("{}°", toward.abs()),
            )
            .about(right)
            .decides("On which side of the line is that, and by how many degrees"),
        );
        if !self.stays() {
            steps.push(
                Step::words(format!("Whoever stands {stands} of the line comes back to the {side}"))
                    .decides("To which side is the line from there"),
            );
        }
        steps.push(Step::new("Once round you at this distance is about six times the way and has 360 degrees, so each degree leads about a sixtieth of it aside", self.rule(toward)));
        steps.push(Step::new("Side and metres", format_args!("{side}, {} m", short(beside))).answers());
        steps
    }

    pub(super) const fn hint(&self) -> &'static str {
        match self.what {
            What::Mark(_) => {
                "Is the way round from your bearing to the mark clockwise or counterclockwise? Each degree is a sixtieth of the way."
            }
            What::Lamp => {
                "First bring the map's bearing to the compass. On which side of the line is the lamp then, and where is the line from there?"
            }
            What::People => {
                "First bring the map's bearing to the compass. On which side of the line are they then, and where is the line from there?"
            }
        }
    }

    /// The line, what stands beside it, and how far; degrees are drawn three times as large.
    pub(super) fn plan(&self, answer: Option<&Answer>) -> Figure {
        let course = self.course.magnetic.angle();
        let far = f64::from(self.metres);
        let foot = step_to(ORIGIN, course, far);
        let aside = |degrees: f64| step_to(foot, course + angle(900), far * (3.0 * degrees).to_radians().tan());
        let there = aside(f64::from(self.toward));
        // A few degrees would hardly be seen.
        let beside = format!("{} m, drawn threefold", short(self.beside(self.toward)));
        let (from, to) = if self.stays() { (foot, there) } else { (there, foot) };
        let mut lines = vec![
            line(
                PlanKind::Thought,
                vec![ORIGIN, step_to(ORIGIN, course, far * 1.25)],
                bearing(self.course.magnetic, North::Magnetic).to_string(),
            ),
            line(PlanKind::Way(LineRole::Right), vec![from, to], beside),
        ];
        if let Some([Value::Choice(side), Value::Number(metres)]) = answer.map(Answer::values) {
            let (drawn, most) = (3.0 * metres, far * 0.9);
            let label = if drawn > most { "you, and further" } else { "you" };
            let sign = if *side == 0 { -1.0 } else { 1.0 };
            // Who stays is led so far from the line; who is waved goes from where they stand.
            let yours = step_to(from, course + angle(900), sign * drawn.min(most));
            let same = *side == self.side(self.toward) && (metres - self.beside(self.toward)).abs() < 0.1 * metres;
            if !same {
                lines.push(line(PlanKind::Way(LineRole::Learner), vec![from, yours], label));
            }
        }
        let name = match self.what {
            What::Mark(mark) => mark,
            What::Lamp => "the lamp",
            What::People => "the two ahead",
        };
        let words = format!(
            "A plan with magnetic north up: your line on {}, and {name} {}° {} of it.",
            figures(self.course.magnetic),
            self.toward.abs(),
            SIDES[Aside::stands(self.toward)]
        );
        let places = vec![place(ORIGIN, "start"), place(there, name.trim_start_matches("the "))];
        Figure::Plan(PlanFigure { north: Some(North::Magnetic), needle: None, lines, places, words, says_more: false })
    }
}

fn given(side: usize, metres: f64) -> Answer {
    Answer::two(Value::Choice(side), Value::Number(metres))
}
