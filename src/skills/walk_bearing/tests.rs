//! The cases of the trade, and what a simple rule would give.

use super::aside::What;
use super::course::Course;
use super::*;
use crate::numbers::real;
use crate::problem::{LineRole, MapPoint, PlanKind};
use meta::SIDES_SWAPPED;

fn items(level: Level) -> impl Iterator<Item = WalkBearingItem> {
    (0..3_000).map(move |seed| WalkBearing.draw(level, None, &mut Draw::new("E3", level.number(), 1, seed)))
}

fn marks(level: Level) -> Vec<Marks> {
    let which = |item: WalkBearingItem| if let Task::Which(marks) = item.0 { Some(marks) } else { None };
    items(level).filter_map(which).collect()
}

#[test]
fn a_mark_six_degrees_right_of_the_line_at_300_m_leads_30_m_to_the_right() {
    // Common practice, no source: 300 tan 6° is 31.5 m, by the rule 30.
    let course = Course::by_compass(3570);
    let item = WalkBearingItem(Task::Beside(Aside { course, toward: 6, metres: 300, what: What::Mark("the pine") }));
    assert_eq!(WalkBearing.answer(&item), Answer::two(Value::Choice(1), Value::Number(30.0)));
    assert!((300.0 * 6_f64.to_radians().tan() - 30.0).abs() < 0.1 * 30.0);
    let prompt = WalkBearing.prompt(&item);
    assert!(prompt.contains("on 357° M") && prompt.contains("on 003° M, 300 m off"), "{prompt}");
    let mut list = MixupList::default();
    WalkBearing.mixups(&item, &mut list);
    let swapped: Vec<&Answer> = list.listed_for(SIDES_SWAPPED.id).collect();
    assert_eq!(swapped, [&Answer::two(Value::Choice(0), Value::Number(30.0))]);
}

#[test]
fn a_lamp_right_of_the_line_is_waved_to_the_left_by_the_compass_and_not_by_the_map() {
    // Common practice, no source: 065° T with 12° E is 053° M; a lamp on 058 at 60 m stands 5° right, 60 × 5 / 60 = 5 m.
    let course = Course { told_from: crate::angle::North::True, between: 120, ..Course::by_compass(530) };
    let item = WalkBearingItem(Task::Beside(Aside { course, toward: 5, metres: 60, what: What::Lamp }));
    assert_eq!(WalkBearing.answer(&item), Answer::two(Value::Choice(0), Value::Number(5.0)));
    // By the map's number it would stand 7° left, with the sign turned round 19° left.
    let mut list = MixupList::default();
    WalkBearing.mixups(&item, &mut list);
    let listed = |meta: &crate::problem::MixupMeta| list.listed_for(meta.id).cloned().collect::<Vec<Answer>>();
    let right = |metres| [Answer::two(Value::Choice(1), Value::Number(metres))];
    assert_eq!(listed(&super::super::common::NOT_APPLIED), right(7.0));
    assert_eq!(listed(&super::super::common::SIGN_FLIPPED), right(19.0));
}

#[test]
fn what_a_learner_waves_is_drawn_from_where_the_lamp_stands() {
    // E3-4-859392: the line 299° M, the lamp on 293; "right 62.5 m" sends it over the line, and was drawn far to the left of it.
    let course = Course { told_from: crate::angle::North::True, between: 190, ..Course::by_compass(2_990) };
    let item = Aside { course, toward: -6, metres: 150, what: What::Lamp };
    let drawn = |side, metres| {
        let answer = Answer::two(Value::Choice(side), Value::Number(metres));
        let Figure::Plan(plan) = item.plan(Some(&answer)) else { panic!("a plan") };
        let yours = plan.lines.iter().find(|line| line.kind == PlanKind::Way(LineRole::Learner)).expect("a line");
        let [from, to] = [yours.through[0], yours.through[1]];
        // How far right of the line both lie: its direction is 299°.
        let right = |at: MapPoint| {
            let way = 299.0_f64.to_radians();
            at.east_m * way.cos() - at.north_m * way.sin()
        };
        (right(from), right(to), yours.label.clone())
    };
    // Threefold it would leave the picture, and says so.
    let (lamp, sent, label) = drawn(1, 62.5);
    assert!(lamp < -40.0 && sent > 60.0, "{lamp} {sent}");
    assert_eq!(label, "you, and further");
    let (lamp, sent, label) = drawn(0, 15.0);
    assert!(lamp < -40.0 && sent < lamp - 40.0, "{lamp} {sent}");
    assert_eq!(label, "you");
}

#[test]
fn in_the_dark_and_in_a_whiteout_two_go_ahead_and_nobody_alone() {
    let mut told = [0, 0];
    for item in items(Level::FOUR) {
        let prompt = WalkBearing.prompt(&item);
        let (at, seen) = if prompt.starts_with("Night") { (0, "you see the lamp") } else { (1, "you see them") };
        told[at] += 1;
        assert!(prompt.contains("Two of you have gone ahead") && prompt.contains(seen), "{prompt}");
        assert!(WalkBearing.steps(&item)[0].line().contains("nobody goes alone"), "{prompt}");
    }
    assert!(told.iter().all(|times| *times > 1_000), "{told:?}");
}

#[test]
fn one_mark_is_right_and_every_other_has_a_name() {
    for level in [Level::ONE, Level::TWO, Level::THREE] {
        let mut asked = 0;
        for item in items(level) {
            let Task::Which(marks) = &item.0 else { continue };
            asked += 1;
            let mut list = MixupList::default();
            marks.mixups(&mut list);
            let named = META.mixups.iter().map(|meta| list.listed_for(meta.id).count()).sum::<usize>();
            assert_eq!(named, marks::MARKS - 1, "level {level}: {}", marks.prompt());
        }
        assert!(asked > 1_000, "level {level}: {asked}");
    }
}

#[test]
fn no_distance_and_no_place_in_the_list_tells_which_mark_is_right() {
    for level in [Level::ONE, Level::TWO, Level::THREE] {
        let all = marks(level);
        let share = |is: &dyn Fn(&Marks) -> bool| real(all.iter().filter(|marks| is(marks)).count()) / real(all.len());
        for place in 0..marks::MARKS {
            let at = share(&|marks| marks.right() == place);
            assert!((at - 0.25).abs() < 0.04, "level {level}: {place} in {at}");
            let by_distance = share(&|marks| marks.rank(marks.right()).0 == place);
            assert!(by_distance < 0.45, "level {level}: distance {place} in {by_distance}");
        }
    }
    // At level 1 the nearest over the arrow is the rule itself; where marks may move or hide it is not.
    let all = marks(Level::THREE);
    let nearest = all.iter().filter(|marks| marks.rank(marks.right()).1 == 0).count();
    assert!(real(nearest) / real(all.len()) < 0.55);
    // Nor is the nearest of those that stay where they are: it may go out of sight.
    let fixed = all.iter().filter(|marks| marks.is_nearest_that_stays(marks.right())).count();
    assert!(real(fixed) / real(all.len()) < 0.6, "{fixed} of {}", all.len());
}
