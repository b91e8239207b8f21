//! Printed references, and the cases of the trade.

use super::*;

fn item(east: i32, north: i32, figures: u8) -> GridReferenceItem {
    let along = |metres: i32| Along { line: metres / 1000, beyond: metres % 1000 };
    let spot = Spot { east: along(east), north: along(north) };
    GridReferenceItem { task: Task::Refer { spot, figures, letters: None }, goal: "the hut" }
}

fn words(answer: &Answer) -> String {
    let [Value::Grid(reference)] = answer.values() else { panic!("{answer:?} is no reference") };
    reference.to_string()
}

fn listed(item: &GridReferenceItem, meta: &MixupMeta) -> Vec<String> {
    let mut list = MixupList::default();
    GridReferenceSkill.mixups(item, &mut list);
    list.listed_for(meta.id).map(words).collect()
}

#[test]
fn easting_34_78_and_northing_58_23_are_347582_with_each_mixup_its_number() {
    // Common practice, no source.
    let item = item(34_780, 58_230, 6);
    assert_eq!(words(&GridReferenceSkill.answer(&item)), "347582");
    assert_eq!(listed(&item, &NORTHING_FIRST), ["582347"]);
    assert_eq!(listed(&item, &ROUNDED), ["348582"]);
    assert_eq!(listed(&item, &FAR_CORNER), ["357592"]);
    assert_eq!(listed(&item, &FAR_LINES), ["342587"]);
}

#[test]
fn a_reference_is_cut_off_as_it_is_in_print() {
    // check_values.csv: CV124 (truncation of 51 409.903, 13 177.270), CV125 (51 219, 38 616: ST512386, cut off 51213861).
    assert_eq!(words(&GridReferenceSkill.answer(&item(51_409, 13_177, 6))), "514131");
    assert_eq!(words(&GridReferenceSkill.answer(&item(51_409, 13_177, 8))), "51401317");
    assert_eq!(words(&GridReferenceSkill.answer(&item(51_219, 38_616, 6))), "512386");
    assert_eq!(words(&GridReferenceSkill.answer(&item(51_219, 38_616, 8))), "51213861");
}

#[test]
fn a_place_on_a_line_lies_in_the_square_that_begins_there() {
    // Common practice, no source.
    let item = item(34_000, 58_230, 6);
    assert_eq!(words(&GridReferenceSkill.answer(&item)), "340582");
    assert_eq!(listed(&item, &SQUARE_BEFORE), ["339582"]);
}

#[test]
fn one_of_four_references_is_off_the_map_and_each_place_is_as_likely() {
    let (mut times, mut begins_otherwise, mut exchanged) = ([0; 4], 0, 0);
    for seed in 0..2_000 {
        let Task::Impossible { east, north, offered, wrong } = impossible(&mut Draw::new("C1", 4, 1, seed)) else {
            panic!("four references")
        };
        let on_map =
            |spot: &Spot| (east..east + 10).contains(&spot.east.line) && (north..north + 10).contains(&spot.north.line);
        for (at, spot) in offered.iter().enumerate() {
            assert_eq!(on_map(spot), at != wrong, "{spot:?} on {east} and {north}");
        }
        times[wrong] += 1;
        // Whoever looks at the first figure alone, or only for an exchange, finds about half.
        let first = offered.map(|spot| spot.east.line / 10);
        begins_otherwise += usize::from(first.iter().filter(|figure| **figure == first[wrong]).count() == 1);
        exchanged += usize::from(on_map(&Spot { east: offered[wrong].north, north: offered[wrong].east }));
    }
    assert!(begins_otherwise < 1_300 && (900..=1_100).contains(&exchanged), "{begins_otherwise}, {exchanged}");
    assert!(times.iter().all(|times| (420..=580).contains(times)), "{times:?}");
}

#[test]
fn a_landmark_is_read_off_the_map_and_told_to_who_hears_it_by_the_marks_alone() {
    let mut read = 0;
    for seed in 0..40 {
        let item = GridReferenceSkill.draw(Level::TWO, None, &mut Draw::new("C1", 2, 2, seed));
        let Task::Read(map) = &item.task else { continue };
        let reference = words(&GridReferenceSkill.answer(&item));
        let told = map.figure(false).in_words().expect("a map in words");
        let half = |at: std::ops::Range<usize>| reference[at].to_owned();
        assert!(!told.contains(&half(0..3)) && !told.contains(&half(3..6)), "{reference}: {told}");
        for (line, tenth) in [(half(0..2), half(2..3)), (half(3..5), half(5..6))] {
            let marks = format!("marks {tenth} and ");
            assert!(told.contains(&line) && told.contains(&marks), "{reference}: {told}");
        }
        // Laid within twenty metres, the romer shows the right tenths.
        assert!((20..=80).contains(&(map.spot.east.beyond % 100)), "{reference}");
        let figures: Vec<Figure> = (0..5).filter_map(|step| GridReferenceSkill.step_figure(&item, step)).collect();
        assert!(figures.windows(2).all(|two| two[0] != two[1]), "each step shows something else");
        read += 1;
    }
    assert!(read > 10, "{read}");
}

#[test]
fn a_reference_without_the_letters_that_are_asked_for_is_not_judged() {
    use crate::problem::{AnswerErrorKind, judge, realise};
    let seeds = (0..40).filter_map(|seed| {
        let problem = realise(&crate::skills::read_code(&format!("C1-3-{seed}-v{}", META.generation)).ok()?).ok()?;
        let Value::Grid(right) = problem.answer().values()[0] else { return None };
        right.letters().map(|_| (problem, right))
    });
    let mut seen = 0;
    for (problem, right) in seeds {
        let whole = right.to_string();
        let bare = whole.split_once(' ').expect("letters").1.to_owned();
        assert!(
            matches!(judge(&problem, &[&bare]), Err(error) if matches!(error.kind, AnswerErrorKind::Letters)),
            "{whole}"
        );
        assert!(judge(&problem, &[&whole]).is_ok_and(|told| told.verdict == crate::problem::Verdict::Right), "{whole}");
        assert!(problem.step_lines().last().is_some_and(|line| line.contains("letters")), "{whole}");
        seen += 1;
    }
    assert!(seen >= 10, "{seen}");
}
