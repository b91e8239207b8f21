//! Pages in words; what is in the file is read back by `tests/worksheet.rs`.
use super::piece::Part;
use super::*;
use crate::scene::{Align, Area, Ink, Point, Rect, Scene};
use proptest::prelude::*;

/// The lines of a piece with the places of their left ends.
fn texts(piece: &Piece) -> Vec<(String, Point)> {
    let text = |part: &Part| match part {
        Part::Text { at, text, align: Align::Left, .. } => Some((text.clone(), *at)),
        _ => None,
    };
    piece.parts.iter().filter_map(text).collect()
}

fn document() -> Document {
    let mut document = Document::new(Sheet::A4, "Test", "the foot");
    document.section(Head { left: "left".to_owned(), right: "right".to_owned() });
    document
}

#[test]
fn a_number_keeps_its_unit_on_its_line() {
    let said = "walk 065° M for 100 m or 40 min at 9°36′ W to M";
    for width in 5..60 {
        let lines = Piece::lines(said, Style::TEXT, f64::from(width));
        let words: Vec<String> = lines.iter().flat_map(texts).map(|(text, _)| text).collect();
        assert_eq!(words.join(" ").replace('\u{a0}', " ").replace(' ', ""), said.replace(' ', ""), "{width}");
        if width > 12 {
            assert!(
                words.iter().all(|line| !line.starts_with("M ") && !line.starts_with("m ") && !line.starts_with("min"))
            );
        }
    }
}

#[test]
fn an_answer_has_its_line_behind_what_is_asked_or_below_where_there_is_no_room() {
    let rules = |width: f64| {
        let piece = Piece::answer("Bearing, in degrees from magnetic north:", Style::TEXT, width, 34.0);
        let text = texts(&piece);
        let last = text.last().map(|(text, at)| (Style::TEXT.width_mm(text), at.y)).unwrap();
        let rule = piece
            .parts
            .iter()
            .find_map(|part| if let Part::Rule { from, to, .. } = part { Some((*from, *to)) } else { None });
        (last, rule.unwrap(), piece)
    };
    let ((end, _), (from, to), piece) = rules(150.0);
    assert!(from.x > end && (to.x - from.x - 34.0).abs() < 1e-9 && piece.height_mm < 10.0);
    let ((_, middle), (from, to), piece) = rules(78.0);
    assert!(from.x == 0.0 && to.x <= 78.0 && from.y > middle + 5.0 && piece.height_mm >= from.y);
}

#[test]
fn a_piece_stays_whole_and_goes_to_the_next_page_where_it_does_not_fit() {
    let mut document = document();
    let high = Sheet::A4.text_height_mm() * 0.4;
    for number in 0..5 {
        document.add(Piece::line(format!("piece {number}"), Style::TEXT).above(0.0, Piece::blank(high)));
        document.gap(4.0);
    }
    document.section(Head { left: "next".to_owned(), right: String::new() });
    document.add(Piece::line("last", Style::TEXT));
    let printed = document.print();
    assert_eq!(printed.pages, 4, "two to a page, and a section of its own");
    assert!(printed.bytes.starts_with(b"%PDF-1.7") && printed.missing.is_empty());
}

#[test]
fn letters_without_a_shape_are_told_wherever_they_stand() {
    let mut document = document();
    document.add(Piece::line("Bo 中", Style::TITLE));
    let mut scene = Scene::new(20.0, 10.0);
    scene.add(crate::scene::Label::new("山", Point::new(10.0, 5.0), Ink::Text));
    document.add(Piece::figure(scene, 4.0));
    assert_eq!(document.print().missing, ['中', '山']);
}

#[test]
fn a_part_of_a_scene_is_as_large_as_it_is_shown() {
    let mut scene = Scene::new(50.0, 40.0);
    scene.add(Area::solid(vec![Point::new(0.0, 0.0), Point::new(9.0, 0.0), Point::new(0.0, 9.0)], Ink::Text));
    let part = Piece::enlarged(scene, 4.0, 3.0, Rect::new(10.0, 10.0, 20.0, 15.0));
    assert_eq!((part.width_mm, part.height_mm), (60.0, 45.0));
}

proptest! {
    #[test]
    fn no_line_is_wider_than_its_column_and_nothing_is_lost(text in "[a-zß°′ ]{0,120}", width in 6.0..120.0_f64) {
        let lines = Piece::lines(&text, Style::TEXT, width);
        for line in &lines {
            prop_assert!(line.width_mm <= width + 1e-9);
        }
        let written: String = lines.iter().flat_map(texts).flat_map(|(text, _)| text.chars().collect::<Vec<_>>()).collect();
        let blank = |c: &char| !c.is_whitespace();
        prop_assert_eq!(written.chars().filter(blank).collect::<String>(), text.chars().filter(blank).collect::<String>());
    }
}
