//! Labels: they win over lines, never over each other, and what finds no place is told.
use super::*;
use crate::scene::{Align, Emphasis, Label, Priority};
use proptest::prelude::*;

/// A label in the middle of a cell.
fn at(text: &str, col: f64, row: f64) -> Label {
    Label::new(text, Point::new(col * 2.0 - 0.5, row * 4.0 + 0.5), Ink::Text)
}

#[test]
fn a_label_stands_on_its_anchor_as_it_is_aligned() {
    let mut scene = sheet(9, 3);
    scene
        .add(at("065", 4.0, 0.0))
        .add(at("065", 4.0, 1.0).align(Align::Left))
        .add(at("065", 4.0, 2.0).align(Align::Right));
    assert_eq!(braille(&scene, 9, 3).text(), "   065\n    065\n  065");
}

#[test]
fn a_wave_stands_on_water_and_gives_way_to_what_matters_more_without_a_word() {
    let wave = |ink| {
        let mut scene = sheet(3, 1);
        scene.add(line((0.0, 1.0), (5.0, 1.0), ink));
        scene.add(Mark::new(MarkKind::Wave, Point::new(1.5, 0.5), 2.0, Ink::Water));
        braille(&scene, 3, 1)
    };
    assert_eq!(wave(Ink::Water).text(), "⠒~⠒");
    let north = wave(Ink::TrueNorth);
    assert_eq!((north.text().as_str(), north.dropped.len()), ("⠒⠒⠒", 0));
    let mut scene = sheet(5, 1);
    scene.add(Mark::new(MarkKind::Wave, Point::new(3.5, 0.5), 2.0, Ink::Water)).add(at("065", 2.0, 0.0));
    let written = braille(&scene, 5, 1);
    assert_eq!((written.text().as_str(), written.dropped.len()), (" 065", 0));
}

#[test]
fn a_label_replaces_the_line_behind_it_and_the_line_goes_on_after_it() {
    let mut scene = sheet(7, 1);
    scene.add(at("030", 3.0, 0.0).strong()).add(line((0.0, 1.0), (13.0, 1.0), Ink::RightLine));
    let picture = braille(&scene, 7, 1);
    assert_eq!(picture.text(), "⠒⠒030⠒⠒");
    assert_eq!(picture.cell(3, 0).unwrap().ink, Ink::Text);
    assert_eq!(picture.cell(3, 0).unwrap().emphasis, Emphasis::Strong);
    assert_eq!(picture.cell(1, 0).unwrap().ink, Ink::RightLine);
}

#[test]
fn of_two_fixed_labels_in_one_place_the_less_important_is_dropped_and_told() {
    let mut scene = sheet(8, 1);
    scene.add(at("low", 3.0, 0.0).priority(Priority::Low)).add(at("high", 4.0, 0.0).priority(Priority::High));
    let picture = braille(&scene, 8, 1);
    assert_eq!(picture.text(), "   high");
    assert_eq!(picture.dropped, [DroppedLabel { text: "low".into(), reason: DropReason::Crowded }]);
}

#[test]
fn two_labels_side_by_side_keep_a_free_cell_between_them() {
    let touching = |gap: f64| {
        let mut scene = sheet(8, 1);
        scene.add(at("030", 1.0, 0.0)).add(at("060", 4.0 + gap, 0.0));
        braille(&scene, 8, 1).text()
    };
    assert_eq!(touching(0.0), "030");
    assert_eq!(touching(1.0), "030 060");
}

#[test]
fn a_label_that_may_move_steps_aside() {
    let mut scene = sheet(9, 3);
    scene.add(at("GN", 4.0, 1.0)).add(at("MN", 4.0, 1.0).near());
    let picture = braille(&scene, 9, 3);
    assert_eq!(picture.dropped, []);
    assert_eq!(picture.text(), "   MN\n   GN\n");
}

#[test]
fn a_label_that_may_move_leaves_a_line_in_sight() {
    let mut scene = sheet(9, 3);
    scene.add(line((8.0, 0.0), (8.0, 11.0), Ink::TrueNorth)).add(at("048", 4.0, 1.0).near());
    assert_eq!(braille(&scene, 9, 3).text(), "    ⡇\n    ⡇048\n    ⡇");
}

#[test]
fn a_label_outside_the_picture_is_told() {
    let mut scene = sheet(4, 2);
    scene.add(at("far", 40.0, 0.0)).add(at("nowhere", f64::NAN, 0.0)).add(at("too long", 2.0, 1.0));
    let picture = braille(&scene, 4, 2);
    assert_eq!(picture.text(), "\n");
    assert!(picture.dropped.iter().all(|label| label.reason == DropReason::Outside));
    assert_eq!(picture.dropped.len(), 3);
}

#[test]
fn letters_that_do_not_take_one_cell_cannot_shift_the_rest() {
    // An e with a combining accent, and a wide letter.
    let mut scene = sheet(8, 1);
    scene.add(at("e\u{301}字z", 0.0, 0.0).align(Align::Left));
    assert_eq!(braille(&scene, 8, 1).text(), "e?z");
}

#[test]
fn in_ascii_every_letter_is_ascii_and_as_wide_as_before() {
    let mut scene = sheet(12, 1);
    scene.add(at("13°41′ W →", 0.0, 0.0).align(Align::Left));
    assert_eq!(CellCanvas::new(Charset::Ascii).render(&scene, 12, 1).text(), "13d41' W >");
}

proptest! {
    #[test]
    fn labels_never_stand_on_each_other_and_none_is_forgotten(
        wishes in proptest::collection::vec((0.0..20.0_f64, 0.0..6.0_f64, 1..5_usize, 0..3_u8, any::<bool>()), 0..30)
    ) {
        let mut scene = sheet(20, 6);
        for (number, &(col, row, length, priority, near)) in wishes.iter().enumerate() {
            // Each label is its own letter, repeated.
            let letter = char::from(b'A' + u8::try_from(number).unwrap());
            let priority = [Priority::Low, Priority::Normal, Priority::High][usize::from(priority)];
            let label = at(&letter.to_string().repeat(length), col, row).priority(priority);
            scene.add(if near { label.near() } else { label });
        }
        let picture = braille(&scene, 20, 6);
        for (number, &(_, _, length, ..)) in wishes.iter().enumerate() {
            let letter = char::from(b'A' + u8::try_from(number).unwrap());
            let text = letter.to_string().repeat(length);
            let dropped = picture.dropped.iter().any(|label| label.text == text);
            let whole = picture.text().contains(&text);
            prop_assert!(dropped != whole, "{text} is neither whole nor told, or both:\n{}", picture.text());
        }
    }
}
