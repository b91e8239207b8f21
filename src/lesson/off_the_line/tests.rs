//! The sums are arithmetic, the rules common practice, no source.

use super::*;
use crate::lesson::before_skill;
use crate::scene::cells::CellCanvas;

/// The inside of the frame at 80x24 and at 120x36.
const PANELS: [(u16, u16); 2] = [(76, 14), (116, 26)];

fn shown(figure: &dyn Figure, (cols, rows): (u16, u16)) -> String {
    let scene = figure.scene(f64::from(cols) * 2.0, f64::from(rows) * 4.0, 4.0);
    CellCanvas::default().render(&scene, cols, rows).text()
}

#[test]
fn the_lesson_is_offered_before_the_skills_that_plan_an_error() {
    for skill in ["one-in-sixty", "aim-off", "box-detour"] {
        assert_eq!(before_skill(skill).map(|lesson| lesson.id).collect::<Vec<_>>(), ["off-the-line"], "{skill}");
    }
    assert_eq!(LESSON.number(), 11);
}

#[test]
fn the_sentences_tell_the_numbers_that_the_figures_go_by() {
    let has = |screen: usize, numbers: &[String]| {
        let text = LESSON.screens[screen].text;
        assert!(numbers.iter().all(|number| text.contains(number)), "{numbers:?} in: {text}");
    };
    has(0, &[format!("{HUT_M} m"), format!("about {} m", 6 * HUT_M)]);
    has(1, &[format!("{BRIDGE_M} m"), spoken(BRIDGE_ON, North::Magnetic).to_string()]);
    has(2, &[format!("{SLIP}°")]);
}

/// A bridge 800 m away on 010 M, 5° of slip, aimed 8° to the left: 800 × tan 3° = 41.9 and 800 × tan 13° = 184.7. The sums are arithmetic, the
/// rule is common practice, no source.
#[test]
fn aimed_eight_degrees_left_the_bridge_lies_42_to_185_metres_to_the_right() {
    assert_eq!(
        Aim { off: -8 }.says(),
        "010 − 8 = 002° M, by more than you may slip. At the stream turn right: the bridge is 42 to 185 m on."
    );
    assert!(Aim { off: 8 }.says().starts_with("010 + 8 = 018° M") && Aim { off: 8 }.says().contains("turn left: "));
    assert!(Aim { off: -11 }.says().starts_with("010 − 11 + 360 = 359° M. "), "past north");
}

#[test]
fn the_side_is_known_as_soon_as_the_aim_is_more_than_the_slip() {
    for off in -Aim::MOST..=Aim::MOST {
        let aim = Aim { off };
        let outs = (-SLIP..=SLIP).map(|slip| beside_m(BRIDGE_M, off + slip));
        let sides: std::collections::BTreeSet<bool> =
            outs.filter(|out| out.abs() > 0.5).map(f64::is_sign_negative).collect();
        let known = sides.len() == 1 && off.abs() != SLIP;
        assert_eq!(aim.says().contains("At the stream turn"), known, "{off}: {}", aim.says());
        assert_eq!(aim.says().contains("cannot know"), sides.len() == 2, "{off}: {}", aim.says());
        assert_eq!(aim.says().contains("only costs way"), off.abs() > ENOUGH, "{off}: {}", aim.says());
        assert_eq!(aim.missed().is_none(), known && off.abs() <= ENOUGH, "{off}");
    }
}

#[test]
fn each_degree_leads_aside_by_a_sixtieth_and_the_tangent_is_told_beside_it() {
    // 600 × tan 1° = 10.5, tan 3° = 31.4, tan 6° = 63.1, tan 10° = 105.8.
    for (off, metres, rule) in [(1, 10, 10), (3, 31, 30), (-6, 63, 60), (10, 106, 100)] {
        let (says, side) = (Slip { off }.says(), if off < 0 { "left" } else { "right" });
        assert!(says.contains(&format!("you come out {metres} m to the {side} of the hut")), "{says}");
        assert!(says.ends_with(&format!("and {} × 10 = {rule} m.", off.abs())), "{says}");
    }
}

#[test]
fn who_aims_straight_cannot_know_where_the_bridge_is() {
    // 800 × tan 3° = 41.9, tan 5° = 70.0, tan 1° = 14.0.
    for (slip, told) in [(-3, "42 m to your right"), (5, "70 m to your left"), (-5, "70 m to your right")] {
        let says = Straight { slip }.says();
        assert!(says.contains("You cannot know.") && says.contains(told), "{says}");
    }
    assert!(Straight { slip: 1 }.says().contains("14 m away: luck"));
}

#[test]
fn only_as_many_steps_back_as_out_lead_onto_the_line() {
    let says = |back| Detour { back }.says();
    assert_eq!(
        says(80),
        "80 steps out, 80 back: you are on your line again. Only the 150 m along it count, so 600 − 200 − 150 = 250 m are left."
    );
    assert!(says(50).contains("you are still 30 steps left of your line"), "{}", says(50));
    assert!(says(110).contains("you are past your line, 30 steps right of it"), "{}", says(110));
    assert!(says(110).contains("After 600 − 200 − 150 = 250 m you pass beside the hut"), "{}", says(110));
}

#[test]
fn whatever_is_moved_names_and_numbers_stand_on_the_plan_and_what_is_given_keeps_its_place() {
    let site = crate::lesson::tests::site();
    let names: [&[&str]; 4] = [
        &["start", "hut", " m", "°", NOTE],
        &["start", "bridge", "stream", "010° M", NOTE],
        &["start", "bridge", "stream", "° M", NOTE],
        &["start", "hut", "pond", "000, 80 steps", "090, 150 m", "180, ", "MN"],
    ];
    for (at, (screen, names)) in LESSON.screens.iter().zip(names).enumerate() {
        let mut figure = (screen.figure)(&site);
        let knob = figure.knobs()[0];
        figure.turn(0, -100);
        let spots = |figure: &dyn Figure| {
            let items = figure.scene(152.0, 56.0, 4.0).items;
            let given = |item: &crate::scene::SceneItem| match item {
                crate::scene::SceneItem::Mark(mark) if mark.ink == Ink::Text => Some(mark.at),
                _ => None,
            };
            items.iter().filter_map(given).collect::<Vec<_>>()
        };
        let (before, mut said) = (spots(figure.as_ref()), String::new());
        while said != figure.says() {
            said = figure.says();
            assert!(said.chars().count() <= 2 * 76, "screen {at} says too much for two lines: {said}");
            assert_eq!(spots(figure.as_ref()), before, "screen {at}: {said}");
            for panel in PANELS {
                let text = shown(figure.as_ref(), panel);
                let straight = said.contains("line that you meant");
                for name in names.iter().filter(|name| !(straight && **name == " m")) {
                    assert!(text.contains(name), "screen {at}, {said}: {name} in\n{text}");
                }
            }
            figure.turn(0, knob.step);
        }
    }
}
