//! What the numbers must give.

use super::*;
use crate::problem::{Code, Verdict, judge, realise};

fn problems(level: Level) -> impl Iterator<Item = DatedMapItem> {
    (0..2_000).map(move |seed| DatedMap.draw(level, None, &mut Draw::new("B5", level.number(), 1, seed)))
}

#[test]
fn no_map_is_of_an_age_on_which_the_authorities_differ() {
    for level in Level::ALL {
        for item in problems(level) {
            let years = item.dated.years();
            assert!(!(15..=20).contains(&years), "{years}");
            assert!(level == Level::FOUR || !item.too_old());
        }
    }
}

#[test]
fn every_level_mixes_the_ways_that_a_change_can_go() {
    let shares = |level| {
        let mut shares = [0; 3];
        for item in problems(level) {
            let same = (item.dated.printed < 0) == (item.dated.change < 0);
            shares[if same { 0 } else { 1 + usize::from(item.dated.crosses_zero()) }] += 1;
        }
        shares.map(|share| share / 20)
    };
    let [same, against, through_zero] = shares(Level::ONE);
    assert!((65..=75).contains(&same) && against >= 25 && through_zero == 0);
    let [same, against, through_zero] = shares(Level::TWO);
    assert!((20..=30).contains(&same) && (55..=65).contains(&against) && through_zero >= 10);
    let [same, against, through_zero] = shares(Level::THREE);
    assert!((38..=46).contains(&same) && (11..=19).contains(&against) && (39..=47).contains(&through_zero));
    let old = problems(Level::FOUR).filter(DatedMapItem::too_old).count();
    assert!((500..700).contains(&old), "{old} of 2000 maps are too old");
}

#[test]
fn half_a_degree_is_right_and_no_declination_comes_to_nothing() {
    for item in Level::ALL.into_iter().flat_map(problems) {
        let from_half = (item.dated.today() + 15).rem_euclid(30) - 15;
        assert!(from_half.abs() <= 5, "{}", item.dated.today());
        assert!(item.dated.today().abs() >= 25 && item.dated.printed != 0);
    }
}

#[test]
fn a_current_value_is_asked_for_only_where_the_text_says_that_one_is_to_be_had() {
    for item in problems(Level::FOUR) {
        let to_be_had = DatedMap.prompt(&item).contains("a current value is to be had");
        assert_eq!(to_be_had, item.too_old());
        assert_eq!(DatedMap.answer(&item) == Answer::choice(CURRENT_VALUE_CHOICE), to_be_had);
    }
}

#[test]
fn an_answer_just_below_a_whole_degree_is_judged_by_the_whole_angle() {
    let found = (0..2_000).find_map(|seed| {
        let problem = realise(&Code { skill: &DatedMap, level: Level::TWO, seed, home: None }).ok()?;
        let [Value::Angle(degrees), Value::Number(minutes), Value::Choice(side)] = *problem.answer().values() else {
            return None;
        };
        (minutes <= 2.0).then_some((problem, degrees.degrees(), minutes, side))
    });
    let (problem, degrees, minutes, side) = found.expect("some problem ends in a whole degree or just above");
    let typed = [(degrees - 1.0).to_string(), (60.0 + minutes - 4.0).to_string(), ["E", "W"][side].to_owned()];
    let texts: Vec<&str> = typed.iter().map(String::as_str).collect();
    assert_eq!(judge(&problem, &texts).map(|judged| judged.verdict), Ok(Verdict::Right), "{texts:?}");
}

#[test]
fn most_problems_are_drawn_once() {
    for level in [Level::ONE, Level::TWO, Level::THREE] {
        let whole = problems(level).filter(|item| {
            let (question, answer) = (DatedMap.question(item), DatedMap.answer(item));
            let mut list = MixupList::default();
            DatedMap.mixups(item, &mut list);
            let answers: Vec<Answer> = META.mixups.iter().flat_map(|it| list.listed_for(it.id).cloned()).collect();
            let alone = |at: usize| {
                let others = answers.iter().enumerate().filter(|(other, _)| *other != at);
                question.apart(&answers[at], &answer)
                    && others.into_iter().all(|(_, other)| question.apart(&answers[at], other))
            };
            (0..answers.len()).all(alone)
        });
        let whole = whole.count();
        assert!(whole >= 1_700, "level {level}: {whole} of 2000 need no second draw");
    }
}

#[test]
fn a_degree_of_a_hundred_minutes_gives_the_decimal_mixup() {
    let dated = Dated { printed: 330, change: 10, sheet_year: None, printed_year: 2017, this_year: 2026 };
    let item = DatedMapItem { dated, options: None };
    assert_eq!(item.by_hundreds(), Some(380), "5.30 + 0.90 = 6.20, written as 6°20′");
    assert_eq!(hundreds_sum(&dated), "5.30 + 0.90 = 6.20");
    let item = DatedMapItem { dated: Dated { change: 2, ..dated }, options: None };
    assert_eq!(item.by_hundreds(), None, "5.30 + 0.18 = 5.48 is right");
}
