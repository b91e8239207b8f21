//! The course on the map's own north, and beside it what a card or somebody's numbers would walk.

use super::super::amounts::{line, place};
use super::super::common::{Tenths, angle, figures, tenths, wrap};
use super::{CourseLegItem, Task};
use crate::ground::plane::GridPosition;
use crate::problem::{Answer, Figure, LineRole, MapPoint, PlanFigure, PlanKind, Value};

impl CourseLegItem {
    /// The map with the three legs as they are measured; told, with what is set for each.
    pub(super) fn plan(&self, told: bool, given: Option<&Answer>) -> Figure {
        let legs = self.course.legs();
        let [a, b, c, _] = self.course.walked(legs).map(point);
        let (set, letter) = (self.set(), self.lines.north().letter());
        let role = if told { LineRole::Right } else { LineRole::Given };
        let ends = [(a, b), (b, c), (c, a)];
        let mut lines: Vec<_> = ends
            .into_iter()
            .zip(legs.into_iter().zip(set))
            .map(|((from, to), (leg, set))| {
                let label = if told { format!("{}° M", figures(set)) } else { format!("{}° {letter}", figures(leg)) };
                line(PlanKind::Way(role), vec![from, to], label)
            })
            .collect();
        if let (true, Task::Card(slip)) = (told, self.task) {
            let card = self.on_map(self.card(slip));
            if card != legs {
                lines.push(line(PlanKind::Thought, self.course.walked(card).map(point).to_vec(), "card"));
            }
        }
        if let Some(learner) = given.and_then(|given| self.learner(given)) {
            lines.push(line(PlanKind::Way(LineRole::Learner), learner, "you"));
        }
        let places = [a, b, c].into_iter().zip(self.marks).map(|(at, name)| place(at, name)).collect();
        let north = Some(self.lines.north());
        // What is set counts from the needle, so that is drawn, too, where it is told.
        let needle = told.then(|| angle(-self.lines.change()));
        Figure::Plan(PlanFigure { north, needle, lines, places, words: self.words(told), says_more: false })
    }

    /// Where bearings that are set on the compass lead on the map.
    fn on_map(&self, set: [Tenths; 3]) -> [Tenths; 3] {
        set.map(|set| wrap(set - self.lines.change()))
    }

    /// The way of somebody who sets what was answered; none where it is right, or one leg alone was asked.
    fn learner(&self, given: &Answer) -> Option<Vec<MapPoint>> {
        let set: Vec<Tenths> = given
            .values()
            .iter()
            .filter_map(|value| if let Value::Angle(angle) = value { Some(tenths(*angle)) } else { None })
            .collect();
        let set: [Tenths; 3] = set.try_into().ok()?;
        let legs = self.on_map(set);
        (legs != self.course.legs()).then(|| self.course.walked(legs).map(point).to_vec())
    }

    fn words(&self, told: bool) -> String {
        let ([a, b, c], north) = (self.marks, self.lines.north().name());
        let [one, two, three] = self.course.legs().map(figures);
        let letter = self.lines.north().letter();
        let set = if told {
            let [one, two, three] = self.set().map(figures);
            format!(" On the compass that is {one}, {two} and {three}.")
        } else {
            String::new()
        };
        format!(
            "A plan with {north} up. From {a} to {b} on {one}° {letter}, on to {c} on {two}° {letter}, and home on {three}° {letter}.{set}"
        )
    }
}

const fn point(at: GridPosition) -> MapPoint {
    MapPoint { east_m: at.easting_m, north_m: at.northing_m }
}
