//! What was seen on the ground, ticked in the boxes of the printed sheet.

use crate::leader::six;
use crate::picture;
use crate::play::Play;
use needlewise::store::SeenOutcome;
use needlewise::tui::Screen;

#[test]
fn what_was_seen_on_the_ground_stands_beside_the_laptops_result() {
    // The boxes are those of the printed sheet: members by name, skills as in the standard. The chosen member's come first.
    let play = six().keys("<down>o");
    picture("seen", &play);
    let play = play.keys("<enter>");
    assert!(play.text(80, 24).contains("No box is ticked yet"), "{}", play.text(80, 24));
    // Ida: no in the first, nothing in the second, yes in the third; then Kai, below: no in the first.
    let play = play.keys("n y<left><down><left><left>n");
    picture("seen_ticked", &play);
    let play = play.keys("<enter>");
    picture("seen_day", &play);
    let play = play.keys("<enter>Found the hut in fog<enter><enter>");
    assert!(play.text(80, 24).contains("Who saw it?"), "nobody is asked for");
    let play = play.keys("Alma<enter>");
    let text = play.text(120, 36);
    let told = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("seen on the ground on 2026-11-25 by Alma: no, Found the hut in fog"), "{text}");
    assert!(play.text(80, 24).contains("·−") && play.text(80, 24).contains("·+"), "a failure is no plus:\n{text}");
    let store = play.store();
    let id = |name: &str| store.learner_by_name(name).unwrap().unwrap().id;
    let mut seen = store.seen().unwrap();
    // Written in one moment, they have no order of their own.
    seen.sort_by_key(|seen| (seen.learner, seen.outcome != SeenOutcome::No));
    let skills: Vec<&str> = seen.iter().map(|seen| seen.skill.as_str()).collect();
    let whom: Vec<_> = seen.iter().map(|seen| (seen.learner, seen.outcome)).collect();
    let (ida, kai) = (id("Ida"), id("Kai"));
    assert_eq!(whom, [(ida, SeenOutcome::No), (ida, SeenOutcome::Yes), (kai, SeenOutcome::No)]);
    assert!(skills[0] == skills[2] && skills[0] != skills[1], "{skills:?}");
    // Next time the boxes say what was seen before.
    let again = play.keys("o");
    picture("seen_before", &again);
    assert!(again.text(80, 24).contains("Seen on the ground on 2026-11-25 by Alma: no"), "{}", again.text(80, 24));
}

#[test]
fn ticks_of_another_day_are_written_down_for_that_day_and_a_day_to_come_is_refused() {
    let clear = "<bs>".repeat(12);
    let mut play = six().keys(&format!("oy<enter>{clear}2026-11-26<enter>"));
    assert!(play.text(80, 24).contains("2026-11-26 lies after today"), "{}", play.text(80, 24));
    play.press(&format!("{clear}Saturday<enter>"));
    assert!(play.text(80, 24).contains("is not a day; write it like 2026-11-25"), "{}", play.text(80, 24));
    // Whatever way leads on, nothing is written with a day that is none.
    play.press("<tab><tab>Alma<enter>");
    assert!(play.store().seen().unwrap().is_empty(), "{}", play.text(80, 24));
    play.press(&format!("{clear}2026-11-21<enter><enter><enter>"));
    let seen = play.store().seen().unwrap();
    assert_eq!(seen.iter().map(|seen| seen.day.to_string()).collect::<Vec<_>>(), ["2026-11-21"]);
}

#[test]
fn boxes_beyond_the_window_come_into_it_when_they_are_chosen() {
    let mut play = six();
    let most = |play: &Play| play.model.shared.leader.standard().map_or(0, |standard| standard.skills.len());
    while most(&play) < 20 {
        play.press("s");
    }
    play.press("o<home>");
    let marks: Vec<&str> = {
        let Screen::Seen(form) = &play.model.screen else { panic!("{}", play.text(80, 24)) };
        form.report.standard.skills.iter().map(|one| one.skill.mark).collect()
    };
    for (at, mark) in marks.iter().enumerate() {
        let text = play.text(80, 24);
        let head = text.lines().find(|line| {
            line.trim_start().starts_with(|c: char| c.is_ascii_uppercase())
                && line.matches(char::is_uppercase).count() >= 5
        });
        assert!(head.is_some_and(|head| head.split_whitespace().any(|word| word == *mark)), "{mark}: {text}");
        assert!(
            text.contains(&format!("skill {} of {}", at + 1, marks.len())) && text.contains("[·]"),
            "{mark}: {text}"
        );
        play.press("<right>");
    }
}

#[test]
fn a_tick_is_mended_by_backspace_and_none_is_thrown_away_unasked() {
    // From the box behind the last tick back to it, then the tick is taken away; a capital letter ticks, too.
    let mut play = six().keys("oNy<bs><bs>n");
    let Screen::Seen(form) = &play.model.screen else { panic!("{}", play.text(80, 24)) };
    let row = &form.ticks[form.member];
    assert_eq!(row[..3], [Some(SeenOutcome::No), Some(SeenOutcome::No), None], "the last one typed is taken away");
    // In empty boxes it only goes back.
    play.press("<right><right><bs><bs>");
    let Screen::Seen(form) = &play.model.screen else { panic!("{}", play.text(80, 24)) };
    assert_eq!((form.ticked(), form.skill), (2, 2));
    play.press("<esc>");
    assert!(play.text(120, 36).contains("2 ticks are not written down"), "{}", play.text(120, 36));
    // Whatever other key comes between, it is asked anew: one that means something, one that means nothing, the help.
    for between in ["<left>", "5", "?<esc>", "<f2>"] {
        play.press(&format!("{between}<esc>"));
        assert!(matches!(play.model.screen, Screen::Seen(_)), "asked anew after {between}");
        assert!(play.text(120, 36).contains("2 ticks are not written down"), "{between}: {}", play.text(120, 36));
    }
    play.press("<esc>");
    assert!(matches!(play.model.screen, Screen::Patrol(_)), "{}", play.text(80, 24));
    assert!(play.store().seen().unwrap().is_empty());
    // Where nothing is ticked, nothing is asked.
    play.press("o <esc>");
    assert!(matches!(play.model.screen, Screen::Patrol(_)));
    // At the end of a row the next member comes, and behind the last box it is said what follows.
    play.press("o<end>yyyyyyyyyy");
    let Screen::Seen(form) = &play.model.screen else { panic!("{}", play.text(80, 24)) };
    assert_eq!((form.member, form.ticked()), (5, form.report.standard.skills.len()));
    assert!(play.text(80, 24).contains("That was the last box"), "{}", play.text(80, 24));
}

#[test]
fn a_day_long_ago_is_asked_about_and_a_long_note_is_kept_whole() {
    let clear = "<bs>".repeat(12);
    let note =
        "At the hut in fog, some used the lake as a handrail, the others the ridge; all came out within fifty metres.";
    let mut play = six().keys(&format!("oy<enter>{clear}2025-11-21<enter>{note}<enter>Alma<enter>"));
    assert!(play.text(120, 36).contains("2025-11-21 is 369 days ago"), "{}", play.text(120, 36));
    assert!(play.store().seen().unwrap().is_empty());
    play.press("<enter>");
    let seen = play.store().seen().unwrap();
    assert_eq!((seen[0].day.to_string().as_str(), seen[0].what.as_str()), ("2025-11-21", note));
    assert!(play.text(120, 36).contains("The tick is written down, 1 yes and 0 no; u takes it back."));
    // It stands on the member's own page, too.
    play.press("p");
    let text = play.text(80, 24);
    assert!(text.contains("Seen on the ground") && text.contains("yes on 2025-11-21, by Alma"), "{text}");
}

#[test]
fn what_was_seen_is_taken_back_by_two_presses_and_nothing_else_is() {
    let mut play = six().keys("u");
    assert!(play.text(80, 24).contains("Nothing is left here to take back"), "{}", play.text(80, 24));
    play.press("oy<left><down>y<enter><enter><enter>Alma<enter>");
    assert_eq!(play.store().seen().unwrap().len(), 2);
    play.press("u");
    assert!(play.text(80, 24).contains("u once more takes back"), "{}", play.text(80, 24));
    // Another key goes on; it is asked anew.
    play.press("<down>u");
    assert_eq!(play.store().seen().unwrap().len(), 2);
    play.press("u");
    assert!(play.store().seen().unwrap().is_empty(), "{}", play.text(80, 24));
    assert!(play.text(80, 24).contains("Taken back"), "{}", play.text(80, 24));
    // One thing after the other, the last one first.
    play.press("oy<enter><enter><enter>Alma<enter>on<enter><enter><enter>Alma<enter>");
    assert_eq!(play.store().seen().unwrap().len(), 2);
    play.press("uuuu");
    assert!(play.store().seen().unwrap().is_empty(), "{}", play.text(80, 24));
}

#[test]
fn every_field_of_what_was_seen_is_in_sight_at_80x24_when_it_is_filled_in() {
    let mut play = six().keys("s").keys("o");
    for (keys, field) in [
        ("y<left>", "[yes]"),
        ("<enter>", "Seen on"),
        ("<enter>here", "here"),
        ("<enter>there", "there"),
        ("<tab><end>", "▸ Tom"),
    ] {
        play.press(keys);
        let text = play.text(80, 24);
        assert!(text.contains(field) && text.contains("Seen by") && text.contains("Esc back"), "{keys}: {text}");
    }
}
