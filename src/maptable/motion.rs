//! How things go from where they lay to where they lie. For the eye only: a table always is as it will lie in the end.

use super::lines::MapLines;
use super::shape::middle_of_edge;
use super::table::Table;
use crate::angle::{Angle, Bearing, True};
use crate::scene::Point;
use std::time::Duration;

/// How long a motion takes.
const LENGTH: Duration = Duration::from_millis(280);
/// What turns by less, and moves aside by less, is drawn at once where it lies: single degrees come fast, and need no motion.
const LEAST_TURN: Angle = Angle::from_degrees(2.0);
const LEAST_MM: f64 = 1.0;
/// How many pictures a motion takes; and how many one that turns the map by less than so much.
const MANY: f64 = 7.0;
const FEW: f64 = 2.0;
const FEW_WITHIN: Angle = Angle::from_degrees(15.0);

/// Where things are drawn just now.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose {
    /// How they are drawn: as they lie, or turned from it.
    pub table: Table,
    /// How far the compass is drawn from where it lies on the sheet, in mm of the sheet as it is printed: `x` to its right,
    /// `y` down.
    pub aside: Point,
    /// Where the needle is drawn; a swinging one is not yet where it will come to rest.
    pub needle: Bearing<True>,
}

impl Pose {
    /// Everything as it lies, the needle there.
    #[must_use]
    pub fn at_rest(table: Table, needle: Bearing<True>) -> Pose {
        Pose { table, aside: Point::default(), needle }
    }
}

/// How far the picture is from how things lie: what is left of a motion.
///
/// It shrinks to nothing and never overshoots. What lies on the map and turns with it shrinks alike, so that map and compass
/// held together stay together.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Motion {
    map: Angle,
    baseplate: Angle,
    dial: Angle,
    aside: Point,
}

impl Motion {
    /// What a move from one state to another leaves to be made up for, each turn the shorter way round. On no line the compass
    /// lies about `elsewhere`, a point of the sheet in mm.
    #[must_use]
    pub fn between(before: &Table, after: &Table, lines: &MapLines, elsewhere: Point) -> Motion {
        let middle = |table| middle_of_edge(table, lines, || elsewhere);
        // Taken up or laid down, the compass is not slid.
        let aside = match (middle(before), middle(after)) {
            (Some(from), Some(to)) => Point::new(from.x - to.x, from.y - to.y),
            _ => Point::default(),
        };
        Motion {
            map: after.map.turn_to(before.map),
            baseplate: after.baseplate.turn_to(before.baseplate),
            dial: (before.dial - after.dial).wrapped_half(),
            aside,
        }
    }

    /// Both together: what is left of a motion under way, and what a further move adds.
    #[must_use]
    pub fn and(self, more: Motion) -> Motion {
        Motion {
            map: (self.map + more.map).wrapped_half(),
            baseplate: (self.baseplate + more.baseplate).wrapped_half(),
            dial: (self.dial + more.dial).wrapped_half(),
            aside: self.aside.moved(more.aside.x, more.aside.y),
        }
    }

    /// What is left when it has gone on for so long: at first all, from [`has_arrived`] on nothing.
    #[must_use]
    pub fn left(self, elapsed: Duration) -> Motion {
        if has_arrived(elapsed) {
            return Motion::default();
        }
        // It sets off at once and slows down: whoever turns by tens sees an answer in the first picture.
        let gone = (elapsed.as_secs_f64() / LENGTH.as_secs_f64() * self.pictures()).ceil() / self.pictures();
        let part = (1.0 - gone) * (1.0 - gone);
        Motion {
            map: self.map * part,
            baseplate: self.baseplate * part,
            dial: self.dial * part,
            aside: Point::new(self.aside.x * part, self.aside.y * part),
        }
    }

    /// How many pictures it takes. A turned map changes most of the screen, so that a small turn of it must do with few.
    fn pictures(self) -> f64 {
        if self.map != Angle::ZERO && self.map.abs() < FEW_WITHIN { FEW } else { MANY }
    }

    /// Whether it is too small to be seen as a motion.
    #[must_use]
    pub fn is_small(self) -> bool {
        [self.map, self.baseplate, self.dial].into_iter().all(|turn| turn.abs() < LEAST_TURN)
            && self.aside.x.hypot(self.aside.y) < LEAST_MM
    }

    /// Where things that lie so are drawn, the needle there.
    #[must_use]
    pub fn pose(self, lies: &Table, needle: Bearing<True>) -> Pose {
        let table = Table {
            map: lies.map.turned(self.map),
            baseplate: lies.baseplate.turned(self.baseplate),
            dial: (lies.dial + self.dial).wrapped(),
            ..*lies
        };
        Pose { table, aside: self.aside, needle }
    }
}

/// Whether a motion is over, however far it went.
#[must_use]
pub fn has_arrived(elapsed: Duration) -> bool {
    elapsed >= LENGTH
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::maptable::{Leg, LineName, MapLine, Move, Way};
    use proptest::prelude::*;

    const NEEDLE: Bearing<True> = Bearing::from_degrees(7.0);
    const ELSEWHERE: Point = Point::new(50.0, 40.0);

    fn leg() -> LineName {
        LineName::Leg(Leg::new('P', 'Q').unwrap())
    }

    fn lines() -> MapLines {
        let line = MapLine::between(leg(), Point::new(20.0, 80.0), Point::new(80.0, 20.0), Angle::ZERO);
        MapLines::new(vec![line.unwrap()], Angle::ZERO).unwrap()
    }

    fn lying(map: f64, baseplate: f64, dial: f64) -> Table {
        Table::new(Bearing::from_degrees(map), Bearing::from_degrees(baseplate), Angle::from_degrees(dial)).on_map()
    }

    fn after(before: &Table, made: Move) -> (Table, Motion) {
        let after = before.after(made, &lines()).unwrap();
        (after, Motion::between(before, &after, &lines(), ELSEWHERE))
    }

    fn at(motion: Motion, lies: &Table, milliseconds: u64) -> Pose {
        motion.left(Duration::from_millis(milliseconds)).pose(lies, NEEDLE)
    }

    #[test]
    fn the_edge_glides_from_where_it_lay_to_its_line_and_turns_on_the_way() {
        let before = lying(30.0, 100.0, 0.0);
        let (lies, motion) = after(&before, Move::Edge(leg(), Way::Ahead));
        let first = at(motion, &lies, 0);
        assert_eq!(first.table.baseplate(), before.baseplate());
        // The line's middle is the middle of the sheet, ten millimetres below the place off every line.
        assert_eq!(first.aside, Point::new(0.0, -10.0));
        let half = at(motion, &lies, 120);
        assert!(
            (half.aside.y + 10.0 * (4.0_f64 / 7.0).powi(2)).abs() < 1e-9 && half.table.baseplate() != lies.baseplate()
        );
        assert_eq!(at(motion, &lies, 280), Pose::at_rest(lies, NEEDLE));
    }

    #[test]
    fn a_single_degree_is_no_motion_and_ten_are() {
        let small = |made| after(&lying(30.0, 100.0, 0.0), made).1.is_small();
        for hold in crate::maptable::Hold::ALL {
            let taken = hold == crate::maptable::Hold::Oneself;
            let made = |by| if taken { Move::TurnCompass(by) } else { hold.turn(by) };
            assert!(small(made(Angle::from_degrees(-1.0))), "{hold:?}");
            assert!(!small(made(Angle::from_degrees(10.0))), "{hold:?}");
        }
        assert!(!small(Move::Edge(leg(), Way::Ahead)));
    }

    #[test]
    fn a_compass_taken_up_or_laid_down_is_not_slid() {
        let on = lying(30.0, 100.0, 0.0).after(Move::Edge(leg(), Way::Ahead), &lines()).unwrap();
        let (up, taken) = after(&on, Move::TakeUp);
        assert_eq!(taken.aside, Point::default());
        let (_, laid) = after(&up, Move::Edge(leg(), Way::Back));
        assert_eq!((laid.aside, laid.baseplate.abs()), (Point::default(), Angle::from_degrees(180.0)));
    }

    #[test]
    fn a_key_during_a_motion_goes_on_from_where_it_is_drawn() {
        let before = lying(0.0, 100.0, 0.0);
        let (once, first) = after(&before, Move::TurnDial(Angle::from_degrees(10.0)));
        let drawn = at(first, &once, 120);
        let (twice, second) = after(&once, Move::TurnDial(Angle::from_degrees(10.0)));
        let on = first.left(Duration::from_millis(120)).and(second);
        assert_eq!(at(on, &twice, 0), drawn);
        assert_eq!(at(on, &twice, 280), Pose::at_rest(twice, NEEDLE));
    }

    #[test]
    fn a_typed_number_turns_the_dial_the_short_way_past_north() {
        let (lies, motion) = after(&lying(0.0, 0.0, 350.0), Move::SetDial(Angle::from_degrees(20.0)));
        let halfway = at(motion, &lies, 100).table.dial().degrees();
        assert!(!(20.0..=350.0).contains(&halfway), "{halfway}");
    }

    fn any_move() -> impl Strategy<Value = Move> {
        let turn = -180.0..180.0_f64;
        prop_oneof![
            turn.clone().prop_map(|by| Move::TurnMap(Angle::from_degrees(by))),
            turn.clone().prop_map(|by| Move::TurnCompass(Angle::from_degrees(by))),
            turn.clone().prop_map(|by| Move::TurnBoth(Angle::from_degrees(by))),
            turn.prop_map(|by| Move::TurnDial(Angle::from_degrees(by))),
            (0.0..360.0_f64).prop_map(|to| Move::SetDial(Angle::from_degrees(to))),
            any::<bool>().prop_map(|back| Move::Edge(leg(), if back { Way::Back } else { Way::Ahead })),
            Just(Move::TakeUp),
        ]
    }

    /// How far each part of a picture is from how things lie, in degrees and mm.
    fn distances(pose: &Pose, lies: &Table) -> [f64; 4] {
        [
            lies.map().turn_to(pose.table.map()).abs().degrees(),
            lies.baseplate().turn_to(pose.table.baseplate()).abs().degrees(),
            (pose.table.dial() - lies.dial()).wrapped_half().abs().degrees(),
            pose.aside.x.hypot(pose.aside.y),
        ]
    }

    proptest! {
        #[test]
        fn every_motion_starts_where_things_lay_and_ends_exactly_where_they_lie(
            map in 0.0..360.0_f64, plate in 0.0..360.0_f64, dial in 0.0..360.0_f64, made in any_move(), late in 280..5000_u64
        ) {
            let before = lying(map, plate, dial);
            let (lies, motion) = after(&before, made);
            let first = at(motion, &lies, 0).table;
            prop_assert_eq!((first.map(), first.baseplate(), first.dial()), (before.map(), before.baseplate(), before.dial()));
            prop_assert_eq!(at(motion, &lies, late), Pose::at_rest(lies, NEEDLE));
        }

        #[test]
        fn no_motion_turns_back_or_overshoots_and_none_goes_the_long_way(
            map in 0.0..360.0_f64, plate in 0.0..360.0_f64, dial in 0.0..360.0_f64,
            one in any_move(), two in any_move(), between in 0..400_u64, times in proptest::collection::vec(0..400_u64, 2)
        ) {
            let (first, begun) = after(&lying(map, plate, dial), one);
            let Ok(lies) = first.after(two, &lines()) else { return Ok(()) };
            let added = Motion::between(&first, &lies, &lines(), ELSEWHERE);
            let motion = begun.left(Duration::from_millis(between)).and(added);
            let (early, late) = (times[0].min(times[1]), times[0].max(times[1]));
            let (early, late) = (at(motion, &lies, early), at(motion, &lies, late));
            for (before, after) in distances(&early, &lies).into_iter().zip(distances(&late, &lies)) {
                prop_assert!(after <= before + 1e-9 && before <= 180.0, "{before} then {after}");
            }
            // On one side of where it will lie, all the time.
            let side = |pose: &Pose| lies.baseplate().turn_to(pose.table.baseplate()).degrees();
            prop_assert!(side(&early) * side(&late) >= 0.0);
        }

        #[test]
        fn map_and_compass_turned_together_stay_together(
            map in 0.0..360.0_f64, plate in 0.0..360.0_f64, turns in proptest::collection::vec(-180.0..180.0_f64, 1..8), gap in 0..300_u64
        ) {
            let mut lies = lying(map, plate, 0.0);
            let (apart, mut motion) = (lies.arrow_on_map(), Motion::default());
            for by in turns {
                let (next, added) = after(&lies, Move::TurnBoth(Angle::from_degrees(by)));
                motion = motion.left(Duration::from_millis(gap)).and(added);
                lies = next;
                let drawn = at(motion, &lies, 0).table.arrow_on_map();
                prop_assert!(apart.turn_to(drawn).abs().degrees() < 1e-6, "torn apart by {:?}", apart.turn_to(drawn));
            }
        }
    }
}
