//! Printed references, and the cases of the trade.

use super::*;

fn item(east: i32, north: i32, figures: u8) -> GridReferenceItem {
    let along = |metres: i32| Along { line: metres / 1000, beyond: metres % 1000 };
    let spot = Spot { east: along(east), north: along(north) };
    GridReferenceItem { task: Task::Refer { spot, figures, letters: None, drawn: false }, goal: "the hut" }
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
    let mut times = [0; 4];
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
    }
    assert!(times.iter().all(|times| (420..=580).contains(times)), "{times:?}");
}
