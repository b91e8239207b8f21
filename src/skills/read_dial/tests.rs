use super::super::solver::{check, first, listed, number, problems};
use super::*;
use proptest::prelude::*;

const SKILL: &ReadDial = &ReadDial;

fn figure(item: &ReadDialItem) -> DialFigure {
    match Generator::figure(SKILL, item) {
        Figure::Dial(dial) => dial,
        other => panic!("{other:?} is no dial"),
    }
}

/// The dial number at a picture direction, by the model: reading + (φ − index).
fn number_at(dial: &DialFigure, direction: Angle) -> f64 {
    (dial.reading + direction - dial.index).wrapped().degrees()
}

#[test]
fn a_solver_gets_every_answer_from_the_facts() {
    for level in Level::ALL {
        for problem in problems(SKILL, level, 3000) {
            let fact = |name| number(&problem, name).unwrap_or_else(|| panic!("{}: no {name}", problem.code()));
            let (below, every) = (fact("number_below_index_deg"), fact("number_every_deg"));
            let tick = every / fact("spaces_between_numbers");
            let right = below + fact("ticks_above_number") * tick;
            assert_eq!(first(problem.answer()), right, "{}", problem.code());
            // Half the smallest graduation, at least one degree; less than half where halfway would be right at two ticks.
            let tolerance = Tolerance::within(match tick {
                10.0 => 4.0,
                5.0 => 2.4,
                _ => 1.0,
            });
            assert_eq!(problem.question().fields()[0].tolerance, tolerance, "{}", problem.code());

            check(&problem, "wrong-end", 360.0, right + 180.0);
            check(&problem, "counted-wrong-way", 360.0, 2.0 * below - right);
            check(&problem, "read-at-needle", 360.0, fact("needle_north_end_at_deg"));
            check(&problem, "one-degree-a-tick", 360.0, below + fact("ticks_above_number"));
            for mixup in problem.mixups().iter().filter(|mixup| mixup.meta.id == STOPPED_AT_NUMBER.id) {
                let number = first(&mixup.answer);
                assert!(number == below || number == (below + every) % 360.0, "{}: {number}", problem.code());
            }
            if let Some(inner) = listed(&problem, "inner-scale") {
                assert_eq!(first(inner), fact("inner_scale_at_index_deg"));
            }
            if let Some(answer) = listed(&problem, "wrong-tick-value") {
                let counted = Angle::from_degrees(first(answer) - below).wrapped_half().degrees();
                let believed = counted / (right - below) * tick;
                assert!([2.0, 5.0, 10.0].iter().any(|value| (value - believed).abs() < 1e-9), "{believed}");
            }
        }
    }
}

#[test]
fn whether_the_needle_is_boxed_follows_from_where_its_north_end_points() {
    let mut seen = [0; 3];
    for problem in problems(SKILL, Level::FOUR, 1000) {
        let [_, Value::Choice(needle)] = problem.answer().values() else { continue };
        let at = number(&problem, "needle_north_end_at_deg").expect("a needle");
        assert_eq!(NEEDLE_WORDS[*needle] == "boxed", at == 0.0, "{}", problem.code());
        assert_eq!(listed(&problem, "south-end-boxed").is_some(), at == 180.0, "{}", problem.code());
        assert_eq!(listed(&problem, "box-not-checked").is_some(), at % 180.0 != 0.0, "{}", problem.code());
        seen[if at == 0.0 {
            0
        } else if at == 180.0 {
            1
        } else {
            2
        }] += 1;
    }
    assert!(seen.iter().all(|count| *count > 50), "{seen:?}");
}

#[test]
fn the_slope_scale_reads_zero_where_the_dial_reads_90_and_270() {
    // Common practice, no source: level when the compass stands on its edge with E or W at the index.
    let scale = Scale { numbered: 200, graduation: 50, believed: 10 };
    for (reading, inner) in [(900, 0), (2700, 0), (0, 900), (1800, 900), (1000, 100), (3000, 300), (350, 550)] {
        assert_eq!(ReadDialItem { scale, reading, at_needle: 0, view: View::InnerScale }.inner(), inner, "{reading}");
    }
}

#[test]
fn every_reading_lies_on_a_tick_and_level_four_shows_all_its_views() {
    let mut views = [0; 4];
    for seed in 0..2000 {
        let item = SKILL.draw(Level::FOUR, None, &mut Draw::new("A5", 4, 1, seed));
        assert_eq!(item.reading % item.scale.graduation, 0);
        views[item.view as usize] += 1;
    }
    assert_eq!(views[View::Plain as usize], 0);
    assert!(views[1..].iter().all(|count| *count > 500), "{views:?}");
}

proptest! {
    #[test]
    fn the_figure_shows_the_numbers_of_the_problem(level in 1u8..=4, seed: u64) {
        let level = Level::new(level).expect("1 to 4");
        let item = SKILL.draw(level, None, &mut Draw::new("A5", level.number(), 1, seed));
        let dial = figure(&item);
        prop_assert_eq!(number_at(&dial, dial.index), angle(item.reading).degrees());
        let needle = dial.needle.expect("a needle");
        let off = number_at(&dial, needle) - angle(item.at_needle).degrees();
        prop_assert!(Angle::from_degrees(off).wrapped_half().degrees().abs() < 1e-9);
        prop_assert_eq!(dial.learner, None);
        prop_assert!(dial.strip);
    }
}
