//! C3, a bearing off the map by protractor: middle on the first mark, zero along a grid line, read clockwise where the line crosses
//! the scale.

use super::common::{Tenths, WRONG_END, angle, answer, bearing, figures, offset_of, size, wrap};
use super::compass_points::meta::{MIRRORED_EAST_WEST, MIRRORED_NORTH_SOUTH};
use super::dial_scale::{COUNTED_WRONG_WAY, ONE_DEGREE_A_TICK};
use crate::angle::{Bearing, Grid, North};
use crate::ground::plane::GridPosition;
use crate::numbers::whole;
use crate::problem::{
    Answer, Draw, Fact, FactName, Facts, Family, Field, FieldKind, Figure, FigurePart, Generator, HomeAngles, Level,
    LineRole, MapFigure, MapPlace, MapRay, MixupClass, MixupId, MixupList, MixupMeta, NorthLines, Protractor, Question,
    SkillMeta, Step, Tolerance, Value, Wanted,
};
use crate::terrain::{Detail, Map, MapSpec};
use std::sync::Arc;

/// The skill `protractor-bearing`.
pub(super) struct ProtractorBearing;

/// The numbers of one problem.
pub(super) struct ProtractorBearingItem {
    map: Arc<Map>,
    /// The marks A and B, by their places among the landmarks.
    marks: [usize; 2],
    from: GridPosition,
    to: GridPosition,
    /// How the sheet lies: its true north from the panel's upper edge.
    turn: Tenths,
    half: bool,
}

static FIELDS: [Field; 1] = [Field {
    name: "bearing",
    label: "grid bearing",
    kind: FieldKind::Bearing(North::Grid),
    tolerance: Tolerance::within(2.0),
}];

/// As in school: from east, counterclockwise.
const FROM_EAST: MixupMeta = MixupMeta {
    id: MixupId("from-east"),
    class: MixupClass::Mirrored,
    said: "counted from east, against the clock, as in school",
    mend: "A bearing begins at north and goes with the hands of a clock.",
};

/// Counted against the clock.
const COUNTERCLOCKWISE: MixupMeta = MixupMeta {
    said: "counted from north against the clock",
    mend: "North to east is the way: with the hands of a clock.",
    ..MIRRORED_EAST_WEST
};

/// Counted from south.
const FROM_SOUTH: MixupMeta = MixupMeta {
    said: "counted up from the south, as if the zero lay at the bottom",
    mend: "The zero lies toward grid north; the mark at the bottom is 180.",
    ..MIRRORED_NORTH_SOUTH
};

static META: SkillMeta = SkillMeta {
    id: "protractor-bearing",
    mark: "C3",
    family: Family::Map,
    title: "A bearing by protractor",
    can: "Lays a protractor on the map and reads the grid bearing from one mark to another.",
    levels: [
        "a whole circle, the map upright",
        "a whole circle, the map lying any way",
        "a half circle with two scales",
        "a half circle, the map lying any way, a short line to be made longer",
    ],
    prerequisites: &["read-dial"],
    mixups: &[WRONG_END, COUNTERCLOCKWISE, FROM_SOUTH, FROM_EAST, ONE_DEGREE_A_TICK, COUNTED_WRONG_WAY],
    lines: NorthLines::Grid,
    on_home: false,
    generation: 4,
};

/// How long the line is on paper, in mm: across the scale, or within it.
const LONG_MM: std::ops::RangeInclusive<f64> = 34.0..=62.0;
const SHORT_MM: std::ops::RangeInclusive<f64> = 13.0..=22.0;

/// How far a bearing keeps from each eighth of the circle, where a wrong way reads what is right.
const CLEAR: Tenths = 75;
/// A number stands every so far on the scale, and a bearing lies so far past one that ticks taken for degrees show.
const NUMBERED: Tenths = 200;
const PAST: Tenths = 90;

fn in_whole_degrees(exact: Bearing<Grid>) -> Tenths {
    // Rounded once: by way of tenths 23.46 would be 24.
    wrap(whole::<Tenths>(exact.degrees().round()) * 10)
}

impl ProtractorBearingItem {
    /// The bearing as a hand can read it: in whole degrees.
    fn right(&self) -> Tenths {
        in_whole_degrees(self.exact())
    }

    /// The printed number below.
    fn below(&self) -> Tenths {
        self.right() / NUMBERED * NUMBERED
    }

    fn exact(&self) -> Bearing<Grid> {
        self.from.leg_to(self.to).bearing
    }

    fn name(&self, at: usize) -> &str {
        self.map.landmarks().get(self.marks[at]).map_or("the mark", |mark| mark.name.as_str())
    }

    fn map_figure(&self) -> MapFigure {
        let mut figure = MapFigure::new(Arc::clone(&self.map), self.marks.to_vec());
        figure.detail = Detail::Little;
        figure.turn = angle(self.turn);
        figure.rays.push(MapRay { from: self.from, to: self.to, role: LineRole::Given });
        figure.places.push(MapPlace { at: self.from, role: LineRole::Given, label: "A".to_owned() });
        figure.places.push(MapPlace { at: self.to, role: LineRole::Given, label: "B".to_owned() });
        figure.protractor = Some(Protractor { at: self.from, toward: self.exact(), half: self.half });
        figure
    }

    /// `up and to the right of A, by the map`: the quarter by grid north.
    fn quarter(&self) -> (&'static str, &'static str) {
        match self.right() {
            0..900 => ("north and east", "000 and 090"),
            900..1800 => ("south and east", "090 and 180"),
            1800..2700 => ("south and west", "180 and 270"),
            _ => ("north and west", "270 and 360"),
        }
    }
}

impl Generator for ProtractorBearing {
    type Item = ProtractorBearingItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn draw(&self, level: Level, _home: Option<HomeAngles>, draw: &mut Draw) -> ProtractorBearingItem {
        let long = if level == Level::FOUR { SHORT_MM } else { LONG_MM };
        let turned = level == Level::TWO || level == Level::FOUR;
        loop {
            // The border leans so far that one sees by which lines the protractor lies.
            let convergence = offset_of(draw.between(5, 9) * 10 * draw.sign());
            let spec = MapSpec { convergence, ..MapSpec::default() };
            let map = Arc::new(Map::generate(u64::from(draw.below(u32::MAX)), &spec));
            let turn = if turned { draw.between(3, 33) * 100 } else { 0 };
            let mut marks: Vec<usize> = (0..map.landmarks().len()).collect();
            draw.shuffle(&mut marks);
            let pairs = marks.iter().flat_map(|from| marks.iter().map(move |to| [*from, *to]));
            let spot = |at: usize| map.landmarks()[at].spot;
            let fits = |pair: &[usize; 2]| long.contains(&spot(pair[0]).distance_mm(spot(pair[1])));
            let place = |at: usize| super::fixes::whole_metres(map.grid_position(spot(at)));
            let found = pairs.filter(fits).find(|pair| {
                // Nothing that a wrong way reads lies near the right number or near another.
                let right = in_whole_degrees(place(pair[0]).leg_to(place(pair[1])).bearing);
                (wrap(right + 225) % 450 - 225).abs() > CLEAR && right % NUMBERED >= PAST
            });
            if let Some(marks) = found {
                let (from, to) = (place(marks[0]), place(marks[1]));
                return ProtractorBearingItem {
                    map: Arc::clone(&map),
                    marks,
                    from,
                    to,
                    turn,
                    half: level >= Level::THREE,
                };
            }
        }
    }

    fn question(&self, _item: &ProtractorBearingItem) -> Question {
        Question::typed(&FIELDS)
    }

    fn answer(&self, item: &ProtractorBearingItem) -> Answer {
        answer(item.right())
    }

    fn mixups(&self, item: &ProtractorBearingItem, list: &mut MixupList) {
        let right = item.right();
        let read = |from: Tenths| {
            let made = from - right;
            format!("{} − {} = {}", figures(from), figures(right), figures(made))
        };
        list.push(&WRONG_END, answer(right + 1800), || {
            let way = if item.half { "the other scale" } else { "the other side of the scale, from B to A" };
            format!("{way}: {}", figures(wrap(right + 1800)))
        });
        list.push(&COUNTERCLOCKWISE, answer(-right), || read(3600));
        list.push(&FROM_SOUTH, answer(1800 - right), || if right <= 1800 { read(1800) } else { read(5400) });
        list.push(&FROM_EAST, answer(900 - right), || if right <= 900 { read(900) } else { read(4500) });
        let (below, past) = (item.below(), right - item.below());
        let ticks = past / 2;
        list.push(&ONE_DEGREE_A_TICK, answer(below + ticks), || {
            format!("{} + {} = {}", figures(below), size(ticks), figures(below + ticks))
        });
        // On the wrong side of 0 it is the count against the clock, and on that of 180 as well.
        if below % 1800 != 0 {
            list.push(&COUNTED_WRONG_WAY, answer(below - past), || {
                format!("{} − {} = {}", figures(below), size(past), figures(below - past))
            });
        }
        // From the number above, which is the nearer one as often.
        let (above, short) = (below + 200, below + 200 - right);
        if past > 0 && above % 1800 != 0 {
            list.push(&COUNTED_WRONG_WAY, answer(above + short), || {
                format!("{} + {} = {}", figures(above), size(short), figures(above + short))
            });
        }
    }

    fn right_way(&self, item: &ProtractorBearingItem) -> String {
        format!(
            "Middle on A, zero along the grid line toward grid north, then with the clock to the line: {}",
            bearing(item.right(), North::Grid)
        )
    }

    fn facts(&self, item: &ProtractorBearingItem) -> Facts {
        Facts::from(vec![
            Fact::own_number("from_easting_m", item.from.easting_m),
            Fact::own_number("from_northing_m", item.from.northing_m),
            Fact::own_number("to_easting_m", item.to.easting_m),
            Fact::own_number("to_northing_m", item.to.northing_m),
            Fact::angle(FactName::Convergence, item.map.spec().convergence.angle()),
            Fact::own_angle("sheet_turn_deg", angle(item.turn)),
            Fact::own_word("protractor", if item.half { "half circle" } else { "whole circle" }),
            Fact::wanted(Wanted::own("grid_bearing_a_to_b")),
        ])
    }

    fn prompt(&self, item: &ProtractorBearingItem) -> String {
        let lies = if item.turn == 0 { "" } else { " The map lies on the table as it likes." };
        let tool = if item.half { "A half-circle protractor" } else { "A protractor" };
        format!(
            "{tool} lies on the map, its middle on A ({}), its zero along a grid line. B is {}.{lies} What is the grid bearing from A to B?",
            item.name(0),
            item.name(1)
        )
    }

    fn steps(&self, item: &ProtractorBearingItem) -> Vec<Step> {
        let (quarter, between) = item.quarter();
        let mut steps = vec![
            Step::words(
                "A grid bearing counts from grid north with the hands of a clock, so the zero lies along a grid line and not along the border",
            ),
            Step::words(format!(
                "Which quarter, as a check? B lies {quarter} of A by the grid lines, so between {between}"
            ))
            .decides("Which quarter does B lie in, by the grid lines?"),
        ];
        if item.half {
            let (side, take) = if item.right() < 1800 { ("east", "smaller") } else { ("west", "larger") };
            steps.push(
                Step::words(format!(
                    "A half circle has two numbers at each mark, half a circle apart. B lies on the {side} side of the grid line, so take the {take}"
                ))
                .decides("Two numbers stand at each mark: on which side of the grid line does B lie?"),
            );
        }
        steps.push(
            Step::new(
                "Make the line longer until it crosses the scale. Seen close, ten spaces lie between two numbers 20 apart, so a tick is 2°. Read there",
                bearing(item.right(), North::Grid),
            )
            .about(FigurePart::Line(LineRole::Given))
            .answers(),
        );
        steps
    }

    fn hint(&self, item: &ProtractorBearingItem) -> String {
        let scales = if item.half { " Then you know which of the two numbers is meant." } else { "" };
        format!(
            "Look first in which quarter B lies, seen from A and by the grid lines: north to east is below 090.{scales}"
        )
    }

    fn figure(&self, item: &ProtractorBearingItem) -> Figure {
        Figure::Map(Box::new(item.map_figure()))
    }

    fn explanation(&self, item: &ProtractorBearingItem, given: Option<&Answer>) -> Figure {
        let mut figure = item.map_figure();
        if let Some([Value::Angle(angle)]) = given.map(Answer::values) {
            let distance_m = item.from.leg_to(item.to).distance_m;
            let to = item.from.after(crate::ground::GridLeg { distance_m, bearing: Bearing::from_angle(*angle) });
            figure.rays.push(MapRay { from: item.from, to, role: LineRole::Learner });
        }
        Figure::Map(Box::new(figure))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::{Code, realise};

    #[test]
    fn each_level_is_as_hard_as_it_says() {
        for level in Level::ALL {
            for seed in 0..60 {
                let item =
                    ProtractorBearing.draw(level, None, &mut Draw::new("C3", level.number(), META.generation, seed));
                assert_eq!(item.half, level >= Level::THREE);
                assert_eq!(item.turn != 0, level == Level::TWO || level == Level::FOUR);
                let problem = realise(&Code { skill: &ProtractorBearing, level, seed, home: None }).expect("a problem");
                for meta in META.mixups {
                    let listed = problem.mixups().iter().any(|mixup| mixup.meta.id == meta.id);
                    assert!(listed, "{} {}", problem.code(), meta.id);
                }
            }
        }
    }

    #[test]
    fn every_part_of_the_circle_is_asked_but_where_two_wrong_ways_read_the_same() {
        let draw =
            |seed| ProtractorBearing.draw(Level::THREE, None, &mut Draw::new("C3", 3, META.generation, seed)).below();
        let asked: std::collections::BTreeSet<Tenths> = (0..600).map(draw).collect();
        // From the school's east and from the wrong end about 135 and 315.
        let all = (0..18).map(|at| at * NUMBERED).filter(|below| ![1200, 3000].contains(below));
        assert!(asked.into_iter().eq(all));
    }

    #[test]
    fn a_reading_lies_so_far_past_a_number_that_ticks_taken_for_degrees_show() {
        for seed in 0..200 {
            let problem =
                realise(&Code { skill: &ProtractorBearing, level: Level::THREE, seed, home: None }).expect("a problem");
            let right = problem.answer().values()[0];
            let told = problem.mixups().iter().find(|it| it.meta.id == ONE_DEGREE_A_TICK.id).expect("listed");
            let (Value::Angle(right), Value::Angle(told)) = (right, told.answer.values()[0]) else {
                panic!("two angles")
            };
            let past = right.degrees().rem_euclid(20.0);
            assert!(((right - told).degrees() - past / 2.0).abs() < 1e-9 && past >= 9.0, "{}", problem.code());
        }
    }
}
