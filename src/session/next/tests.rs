use super::draw::{Fit, Wish};
use super::*;
use crate::angle::EastWest;
use crate::config::Config;
use crate::drill::DrillGround;
use crate::learner::Placement;
use crate::problem::{Code, Draw, Facts, HomeAngles, Problem, realise};
use crate::session::GroundCard;
use jiff::civil::date;
use std::cell::RefCell;

const TODAY: Date = date(2026, 6, 6);

fn skill(id: &str) -> &'static dyn Skill {
    skills::find(id).unwrap()
}

fn free() -> Plan {
    Plan::free(GroundCard::new(&Config::default(), "settings.toml", TODAY).home)
}

fn draw(seed: u64) -> Draw {
    Draw::new("test", 0, 0, seed)
}

fn level_3(id: &str, wish: &impl Wish, seed: u64) -> Option<Problem> {
    draw_problem(skill(id), Level::THREE, wish, &mut draw(seed))
}

fn practice<'a>(plan: &'a Plan, expose: Option<&'static MixupMeta>, used: &'a [Facts]) -> PracticeWish<'a> {
    PracticeWish { plan, expose, used, sides: Sides::default() }
}

/// A wish that says of each problem in turn how well it suits, and notes what it was shown.
struct Says {
    fits: Vec<Fit>,
    shown: RefCell<Vec<String>>,
}

impl Wish for Says {
    const TRIES: u32 = 6;
    const CANDIDATES: u32 = 3;

    fn fit(&self, problem: &Problem, tried: u32) -> Fit {
        self.shown.borrow_mut().push(problem.code().to_string());
        self.fits[tried as usize]
    }
}

/// The place of the problem that was taken, and how many were looked at.
fn taken(fits: [Fit; 6]) -> (Option<usize>, usize) {
    let wish = Says { fits: fits.to_vec(), shown: RefCell::default() };
    let code = level_3("back-bearing", &wish, 1).map(|problem| problem.code().to_string());
    let shown = wish.shown.into_inner();
    (code.map(|code| shown.iter().position(|one| *one == code).unwrap()), shown.len())
}

#[test]
fn the_best_of_the_candidates_is_taken_and_the_perfect_one_at_once() {
    use Fit::{IfNothingElse as Else, Never, Wanted};
    assert_eq!(taken([Wanted(3), Wanted(0), Wanted(0), Never, Never, Never]), (Some(1), 2));
    assert_eq!(taken([Wanted(3), Else(0), Wanted(2), Wanted(2), Wanted(0), Never]), (Some(2), 4));
    assert_eq!(taken([Else(0), Never, Never, Never, Wanted(9), Never]), (Some(4), 6), "wanted goes before all else");
    assert_eq!(taken([Never, Else(1), Else(0), Else(0), Else(1), Never]), (Some(2), 6));
}

#[test]
fn what_never_suits_is_never_drawn() {
    assert_eq!(taken([Fit::Never; 6]), (None, 6));
    let at_the_table = RoundWish { expose: None, used: &[], fits: |_: &str| true };
    assert!(level_3("oriented-bearing", &at_the_table, 1).is_none(), "a round needs a question in writing");
    assert!(!is_written_skill(skill("oriented-bearing").meta()) && is_written_skill(skill("true-magnetic").meta()));
    // On the same seeds what was used does not come again.
    let wish = |used| RoundWish { expose: None, used, fits: |_: &str| true };
    let first = level_3("true-magnetic", &wish(&[]), 1).unwrap();
    let second = level_3("true-magnetic", &wish(std::slice::from_ref(first.facts())), 1).unwrap();
    assert_ne!(first.facts(), second.facts());
}

#[test]
fn a_problem_that_exposes_the_mix_up_it_is_aimed_at_is_preferred_in_practice_and_in_a_round() {
    let plan = free();
    let mixup = skill("true-magnetic").meta().mixup("not-wrapped").unwrap();
    let exposing = |expose| {
        let hits = |problem: Problem| usize::from(problem.exposes(mixup.id));
        let in_practice =
            (0..30).map(|seed| hits(level_3("true-magnetic", &practice(&plan, expose, &[]), seed).unwrap()));
        let round = RoundWish { expose, used: &[], fits: |_: &str| true };
        (in_practice.sum(), (0..30).map(|seed| hits(level_3("true-magnetic", &round, seed).unwrap())).sum())
    };
    assert_eq!(exposing(Some(mixup)), (30, 30));
    let (in_practice, in_rounds): (usize, usize) = exposing(None);
    assert!(in_practice < 25 && in_rounds < 25, "{in_practice} and {in_rounds} of 30 do anyway");
}

#[test]
fn where_nothing_exposes_it_or_fits_another_problem_is_drawn() {
    let (plan, foreign) = (free(), skill("compass-points").meta().mixups.first().unwrap());
    let problem = level_3("true-magnetic", &practice(&plan, Some(foreign), &[]), 1).unwrap();
    assert!(!problem.exposes(foreign.id));
    let too_long = RoundWish { expose: Some(foreign), used: &[], fits: |_: &str| false };
    assert!(level_3("true-magnetic", &too_long, 1).is_some());
}

#[test]
fn home_ground_is_used_as_the_plan_says_and_only_where_a_skill_has_it() {
    let home = |ground, id| {
        let plan = Plan { ground, ..free() };
        let wish = practice(&plan, None, &[]);
        let homes = (0..40).map(|seed| level_3(id, &wish, seed).unwrap().code().home);
        homes.collect::<Vec<Option<HomeAngles>>>()
    };
    let ours = free().home.angles;
    assert!(ours.is_some());
    assert!(home(DrillGround::Anywhere, "true-magnetic").iter().all(Option::is_none));
    assert!(home(DrillGround::Home, "true-magnetic").iter().all(|angles| *angles == ours));
    let mixed = home(DrillGround::Mixed, "true-magnetic").iter().flatten().count();
    assert!((2..=14).contains(&mixed), "{mixed} of 40, about one in five");
    assert!(home(DrillGround::Home, "back-bearing").iter().all(Option::is_none));
    let check = CheckWish { used: &[], this_try: &[] };
    assert!((0..10).all(|seed| level_3("true-magnetic", &check, seed).unwrap().code().home.is_none()));
}

#[test]
fn nobody_gets_through_a_sitting_with_one_letter_by_heart() {
    let plan = free();
    for sitting in 0..20 {
        let (mut sides, mut west, mut count, mut home) = (Sides::default(), 0, 0, 0);
        let mut draw = Draw::new("practice", 0, 0, sitting);
        for at in 0..40 {
            let id = ["true-magnetic", "grid-magnetic", "orient-true-line", "diagram", "turns"][at % 5];
            let wish = PracticeWish { plan: &plan, expose: None, used: &[], sides };
            let problem = draw_problem(skill(id), Level::THREE, &wish, &mut draw).unwrap();
            sides.count(problem.facts());
            home += usize::from(problem.code().home.is_some());
            if let Some(side) = problem.facts().needle_side() {
                count += 1;
                west += usize::from(side == EastWest::West);
            }
        }
        assert!((40..=60).contains(&(100 * west / count)), "sitting {sitting}: {west} of {count} are west");
        assert!(home <= 14, "sitting {sitting}: {home} of 40 on home ground");
    }
}

#[test]
fn a_check_wants_what_is_fresh_and_shows_enough() {
    let skill = skill("true-magnetic");
    let problem = |seed| realise(&Code { skill, level: Level::THREE, seed, home: None }).unwrap();
    let small = |problem: &Problem| problem.facts().declination().unwrap().angle().abs().degrees() < 8.0;
    let large = (0..99).map(problem).find(|problem| !small(problem)).unwrap();
    let little = (0..99).map(problem).find(small).unwrap();
    let fresh = CheckWish { used: &[], this_try: &[] };
    assert_eq!(fresh.fit(&large, 0), Fit::Wanted(0));
    assert_eq!(fresh.fit(&little, 0), Fit::IfNothingElse(0));
    // As a check reads them from its records.
    let used = [&large, &little].map(|problem| Facts::read(&problem.facts().json()));
    let again = CheckWish { used: &used, this_try: &[] };
    assert_eq!([again.fit(&large, 0), again.fit(&little, 0)], [Fit::IfNothingElse(1); 2]);
    let like = [Traits::of(&large)];
    let one_sided = CheckWish { used: &[], this_try: &like };
    assert_eq!(one_sided.fit(&large, 0), Fit::Wanted(4), "quarter, side, wrapping and hand are the same");
}

#[test]
fn a_check_asks_its_skills_in_turn() {
    assert_eq!(asked_least(&[(0, 2), (1, 1), (2, 1)], None), Some(1), "of two the first");
    assert_eq!(asked_least(&[(0, 2), (1, 1), (2, 1)], Some(1)), Some(2));
    assert_eq!(asked_least(&[(0, 5), (3, 1)], Some(3)), Some(0), "never twice running while another is left");
    assert_eq!(asked_least(&[(3, 1)], Some(3)), Some(3));
    assert_eq!(asked_least(&[], None), None);
}

#[test]
fn by_belief_only_skills_that_may_be_asked_come_at_a_level_of_the_plan() {
    let plan = free().with_skills(&["back-bearing", "true-magnetic"], Some(Level::THREE));
    let metas: Vec<_> = skills::metas().collect();
    let beliefs = Beliefs::new(&metas, Placement::Fresh);
    let next =
        |may: &dyn Fn(&SkillMeta) -> bool| by_belief(&plan, Order::Gain, &beliefs, TODAY, &Recent::default(), may);
    for id in ["back-bearing", "true-magnetic"] {
        let chosen = next(&|skill| skill.id == id).unwrap();
        assert_eq!((chosen.skill.meta().id, chosen.level), (id, Level::THREE));
    }
    assert!(next(&|_| true).is_some());
    let mut recent = Recent::default();
    (0..2).for_each(|_| recent.answered("back-bearing", Level::THREE, false));
    let chosen = by_belief(&plan, Order::Gain, &beliefs, TODAY, &recent, |skill| skill.id == "back-bearing").unwrap();
    assert_eq!(
        (chosen.level, chosen.reason),
        (Level::THREE, Reason::TwoWrong { easier: false }),
        "no easier one is promised"
    );
    assert!(next(&|skill| skill.id == "compass-points").is_none(), "it is not in the plan");
}
