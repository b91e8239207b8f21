//! One feature of the ground: how it lies to the way, and what it is good for.

use super::super::amounts::{ORIGIN, line, place, step_to};
use super::RouteFeaturesItem;
use super::meta::{ALONG_ACROSS, BEFORE_BEHIND, FAR_SPOT, SPOT_FOR_LINE};
use crate::angle::Angle;
use crate::problem::{Draw, Figure, LineRole, MixupMeta, PlanFigure, PlanKind, PlanPlace};

/// What a line may be.
pub(super) const LINES: [&str; 5] = ["stream", "wall", "fence", "forest road", "hedge"];
/// What a spot may be.
pub(super) const SPOTS: [&str; 4] = ["well", "ruin", "sheepfold", "big boulder"];

/// What a feature is good for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Role {
    Handrail,
    Collecting,
    Catching,
    AttackPoint,
}

impl Role {
    pub(super) const ALL: [Role; 4] = [Role::Handrail, Role::Collecting, Role::Catching, Role::AttackPoint];
    /// Their words, in the order of [`Role::ALL`].
    pub(super) const WORDS: [&str; 4] = ["handrail", "collecting feature", "catching feature", "attack point"];

    pub(super) const fn word(self) -> &'static str {
        Role::WORDS[self as usize]
    }

    /// With its article.
    pub(super) const fn one(self) -> &'static str {
        match self {
            Role::Handrail => "a handrail",
            Role::Collecting => "a collecting feature",
            Role::Catching => "a catching feature",
            Role::AttackPoint => "an attack point",
        }
    }

    /// What it does, after its name.
    pub(super) const fn does(self) -> &'static str {
        match self {
            Role::Handrail => "runs along your way and leads you",
            Role::Collecting => "crosses your way before the goal and tells how far you are",
            Role::Catching => "crosses behind the goal and stops you",
            Role::AttackPoint => "is a spot near the goal, from which the last piece is short",
        }
    }

    /// Why that helps.
    pub(super) const fn reason(self) -> &'static str {
        match self {
            Role::Handrail => "What runs along your way you can follow like the rail of a stair",
            Role::Collecting => "What you cross before the goal you tick off, and so you know how far you are",
            Role::Catching => "What you cross only behind the goal tells you that you have gone too far, and stops you",
            Role::AttackPoint => "From a spot near the goal that you find for sure, only a short piece needs care",
        }
    }

    /// The mix-up of somebody who is asked for one and takes the other; none: a spot far from the goal.
    pub(super) const fn confused(asked: Role, taken: Option<Role>) -> &'static MixupMeta {
        match (asked, taken) {
            (Role::AttackPoint, None) => &FAR_SPOT,
            (Role::AttackPoint, Some(_)) | (_, None | Some(Role::AttackPoint)) => &SPOT_FOR_LINE,
            (Role::Handrail, Some(_)) | (_, Some(Role::Handrail)) => &ALONG_ACROSS,
            _ => &BEFORE_BEHIND,
        }
    }
}

/// How a feature lies to the way; whole metres. Right of the way is positive.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Lies {
    Beside { aside: i32 },
    Across { at: i32 },
    Spot { at: i32, aside: i32 },
}

impl Lies {
    /// A place for a feature that is good for this; for nothing: a spot far off.
    pub(super) fn of(role: Option<Role>, leg: i32, draw: &mut Draw) -> Lies {
        let side = draw.sign();
        match role {
            Some(Role::Handrail) => Lies::Beside { aside: side * draw.between(3, 7) * 10 },
            Some(Role::Collecting) => Lies::Across { at: draw.between(leg / 40, leg / 15) * 10 },
            Some(Role::Catching) => Lies::Across { at: leg + draw.between(8, 20) * 10 },
            Some(Role::AttackPoint) => Lies::Spot { at: leg - draw.between(6, 12) * 10, aside: 0 },
            None => Lies::Spot { at: draw.between(leg / 50, leg / 25) * 10, aside: side * draw.between(25, 40) * 10 },
        }
    }

    pub(super) const fn word(self) -> &'static str {
        match self {
            Lies::Beside { .. } => "beside",
            Lies::Across { .. } => "across",
            Lies::Spot { .. } => "spot",
        }
    }

    /// How far from the start it meets the way or lies beside it, and how far aside it lies.
    pub(super) const fn place(self) -> [i32; 2] {
        match self {
            Lies::Beside { aside } => [0, aside.abs()],
            Lies::Across { at } => [at, 0],
            Lies::Spot { at, aside } => [at, aside.abs()],
        }
    }
}

/// A feature.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Feature {
    pub(super) name: &'static str,
    pub(super) lies: Lies,
}

impl Feature {
    pub(super) fn the(&self) -> String {
        format!("the {}", self.name)
    }

    /// What it is good for on a way of so many metres.
    pub(super) fn role(&self, leg: i32) -> Option<Role> {
        match self.lies {
            Lies::Beside { .. } => Some(Role::Handrail),
            Lies::Across { at } => Some(if at < leg { Role::Collecting } else { Role::Catching }),
            Lies::Spot { at, aside } => (leg - at <= 150 && aside.abs() <= 50).then_some(Role::AttackPoint),
        }
    }

    /// How it lies, after its name.
    pub(super) fn does(&self, leg: i32) -> &'static str {
        match self.role(leg) {
            Some(Role::Handrail) => "runs along your way",
            Some(Role::Collecting) => "crosses your way before the goal",
            Some(Role::Catching) => "crosses your way behind the goal",
            Some(Role::AttackPoint) => "is a spot near the goal",
            None => "is a spot far from the goal",
        }
    }

    /// In a sentence, as a map reader tells it.
    pub(super) fn sentence(&self, leg: i32, goal: &str) -> String {
        let name = self.name;
        let side = |aside: i32| if aside < 0 { "left" } else { "right" };
        match self.lies {
            Lies::Beside { aside } => {
                format!("A {name} runs all the way beside it, {} m to the {}.", aside.abs(), side(aside))
            }
            Lies::Across { at } if at < leg => format!("A {name} crosses it after {at} m."),
            Lies::Across { at } => format!("A {name} crosses it {} m beyond {goal}.", at - leg),
            Lies::Spot { at, aside: 0 } => format!("A {name} lies on it, {} m before {goal}.", leg - at),
            Lies::Spot { at, aside } => {
                format!("A {name} lies {} m to the {} of it, after {at} m.", aside.abs(), side(aside))
            }
        }
    }
}

/// The way and what lies round it; what is right and what somebody chose are marked where they are told.
pub(super) fn plan(
    item: &RouteFeaturesItem,
    features: &[Feature],
    (right, chosen): (Option<usize>, Option<usize>),
    says_more: bool,
) -> Figure {
    let toward = Angle::from_degrees(f64::from(item.turned));
    let aside = toward + Angle::from_degrees(90.0);
    let leg = f64::from(item.leg);
    let at = |along: f64, off: f64| step_to(step_to(ORIGIN, toward, along), aside, off);
    let goal = at(leg, 0.0);
    let mut lines = vec![line(PlanKind::Thought, vec![ORIGIN, goal], "")];
    let mut places = vec![place(ORIGIN, item.start), place(goal, item.goal)];
    for (index, feature) in features.iter().enumerate() {
        let role = match (right, chosen) {
            (Some(right), _) if right == index => Some(LineRole::Right),
            (Some(_), Some(chosen)) if chosen == index => Some(LineRole::Learner),
            _ => None,
        };
        let kind = match role {
            Some(role) => PlanKind::Way(role),
            None if feature.name == "stream" => PlanKind::Water,
            None => PlanKind::Works,
        };
        let half = leg * 0.3;
        match feature.lies {
            Lies::Beside { aside } => {
                let off = f64::from(aside);
                lines.push(line(
                    kind,
                    vec![at(-40.0, off), at(leg * 0.5, off * 1.4), at(leg + 40.0, off)],
                    feature.name,
                ));
            }
            Lies::Across { at: along } => {
                let along = f64::from(along);
                lines.push(line(
                    kind,
                    vec![at(along - 20.0, -half), at(along, 0.0), at(along + 20.0, half)],
                    feature.name,
                ));
            }
            Lies::Spot { at: along, aside } => {
                let role = role.unwrap_or(LineRole::Given);
                places.push(PlanPlace {
                    at: at(f64::from(along), f64::from(aside)),
                    role,
                    name: feature.name.to_owned(),
                });
            }
        }
    }
    let told: Vec<String> = features.iter().map(|feature| feature.sentence(item.leg, item.goal)).collect();
    let words = format!("A plan. Your straight way leads from {} to {}. {}", item.start, item.goal, told.join(" "));
    Figure::Plan(PlanFigure { north: None, needle: None, lines, places, words, says_more })
}
