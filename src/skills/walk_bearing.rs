//! E3, walking a bearing: the needle boxed, a mark on the line and nearer than the goal, and eyes ahead; at night and in a whiteout
//! people are the mark (common practice, no source; what a mark beside the line costs is one in sixty for each degree).

mod aside;
mod course;
mod marks;
mod meta;

use super::amounts::HAZARD;
use crate::problem::{
    Answer, Choices, Draw, Fact, Facts, Field, FieldKind, Figure, Generator, HomeAngles, LengthUnit, Level, MixupList,
    Question, SkillMeta, Step, Tolerance, Value, Wanted,
};
use aside::Aside;
use marks::Marks;
use meta::META;

/// The skill `walk-bearing`.
pub(super) struct WalkBearing;

/// The numbers of one problem.
pub(super) struct WalkBearingItem(Task);

/// What is asked.
enum Task {
    /// Which of four things in view to walk to.
    Which(Marks),
    /// What something beside the line costs.
    Beside(Aside),
}

/// The sides of the line, looking ahead.
const SIDES: [&str; 2] = ["left", "right"];

const fn metres(name: &'static str, label: &'static str) -> Field {
    Field {
        name,
        label,
        kind: FieldKind::Distance(LengthUnit::Metres),
        // The tangent is right as well as the rule of one in sixty, and so are whole metres.
        tolerance: Tolerance::share(0.1, 0.5),
    }
}

const fn side(name: &'static str, label: &'static str) -> Field {
    Field { name, label, kind: FieldKind::Choice(Choices::Fixed(&SIDES)), tolerance: Tolerance::EXACT }
}

static SIDE: [Field; 2] =
    [side("side", "on which side of your line"), metres("beside", "how far from your line, in metres")];
static LEAP: [Field; 2] =
    [side("wave", "to which side of you the lamp must go"), metres("aside", "how far, in metres")];
static WHITEOUT: [Field; 2] =
    [side("wave", "to which side of you they must go"), metres("aside", "how far, in metres")];

impl Generator for WalkBearing {
    type Item = WalkBearingItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> WalkBearingItem {
        WalkBearingItem(match level.number() {
            3 if draw.chance(1, 3) => Task::Beside(Aside::mark(draw)),
            4 => Task::Beside(Aside::people(draw)),
            _ => Task::Which(Marks::draw(level, draw)),
        })
    }

    fn question(&self, item: &WalkBearingItem) -> Question {
        match &item.0 {
            Task::Which(marks) => Question::choose(vec![Field {
                name: "mark",
                label: "which of them you walk to",
                kind: FieldKind::Choice(Choices::Own(marks.names().into())),
                tolerance: Tolerance::EXACT,
            }]),
            Task::Beside(aside) => Question::typed(aside.fields()),
        }
    }

    fn answer(&self, item: &WalkBearingItem) -> Answer {
        match &item.0 {
            Task::Which(marks) => Answer::choice(marks.right()),
            Task::Beside(aside) => aside.answer(),
        }
    }

    fn mixups(&self, item: &WalkBearingItem, list: &mut MixupList) {
        match &item.0 {
            Task::Which(marks) => marks.mixups(list),
            Task::Beside(aside) => aside.mixups(list),
        }
    }

    fn right_way(&self, item: &WalkBearingItem) -> String {
        match &item.0 {
            Task::Which(marks) => marks.right_way(),
            Task::Beside(aside) => aside.right_way(),
        }
    }

    fn facts(&self, item: &WalkBearingItem) -> Facts {
        match &item.0 {
            Task::Which(marks) => {
                let mut facts = marks.facts();
                facts.push(Fact::wanted(Wanted::own("mark_to_walk_to")));
                facts
            }
            Task::Beside(aside) => aside.facts(),
        }
        .into()
    }

    fn prompt(&self, item: &WalkBearingItem) -> String {
        match &item.0 {
            Task::Which(marks) => marks.prompt(),
            Task::Beside(aside) => aside.prompt(),
        }
    }

    fn steps(&self, item: &WalkBearingItem) -> Vec<Step> {
        match &item.0 {
            Task::Which(marks) => marks.steps(),
            Task::Beside(aside) => aside.steps(),
        }
    }

    fn caution(&self) -> Option<&'static str> {
        Some(HAZARD)
    }

    fn hint(&self, item: &WalkBearingItem) -> String {
        match &item.0 {
            Task::Which(marks) => marks.hint(),
            Task::Beside(aside) => aside.hint(),
        }
        .to_owned()
    }

    fn explanation(&self, item: &WalkBearingItem, given: Option<&Answer>) -> Figure {
        match &item.0 {
            Task::Which(marks) => {
                let chosen =
                    given.and_then(|given| if let [Value::Choice(at)] = given.values() { Some(*at) } else { None });
                marks.plan(chosen)
            }
            Task::Beside(aside) => aside.plan(given),
        }
    }
}

#[cfg(test)]
mod tests;
