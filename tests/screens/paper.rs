//! Paper on the leader's page by keys: what is printed for whom, and a sheet that came back typed in, corrected and taken back.

use crate::leader::{SIX, six};
use crate::picture;
use crate::play::{Play, TODAY};
use needlewise::store::{AttemptKind, Sheet};
use needlewise::tui::Screen;

/// The sheets of the first member, the newest first, as they are in the file.
fn sheets_of(play: &Play, name: &str) -> Vec<Sheet> {
    let store = play.store();
    store.sheets(store.learner_by_name(name).unwrap().unwrap().id).unwrap()
}

/// What counts for somebody in the file as done on paper, and right.
fn on_paper(play: &Play, name: &str) -> (usize, usize) {
    let sheets = sheets_of(play, name);
    let entered: Vec<_> = sheets.iter().flat_map(|sheet| &sheet.entered).collect();
    (entered.len(), entered.iter().filter(|(_, _, verdict)| verdict.is_right()).count())
}

/// The name on the first sheet of the list.
fn first_name(play: &Play) -> String {
    let text = play.text(80, 24);
    let line = text.lines().find(|line| line.starts_with("▸ ") || line.contains("▸ ")).expect("a chosen sheet");
    line.split("▸ ").nth(1).unwrap().split_whitespace().next().unwrap().to_owned()
}

#[test]
fn sheets_are_printed_for_each_member_and_stand_in_a_list_to_be_typed_in() {
    let mut play = six().keys("w");
    picture("paper_none", &play);
    assert!(play.text(80, 24).contains("None yet."), "{}", play.text(80, 24));
    play.press("<enter>");
    assert!(play.text(80, 24).contains("No sheet was printed yet"), "{}", play.text(80, 24));
    play.press("w");
    picture("paper_printed", &play);
    assert!(play.text(120, 36).contains("sheets.pdf"), "it says which file: {}", play.text(120, 36));
    for name in ["Bo", "Ida"] {
        let sheets = sheets_of(&play, name);
        assert_eq!(sheets.len(), 1, "{name}");
        assert_eq!((sheets[0].codes.len(), sheets[0].entered.len()), (8, 0));
    }
    assert_ne!(sheets_of(&play, "Bo")[0].codes, sheets_of(&play, "Ida")[0].codes, "each has other problems");
    // By the standard all have the same skills, and those sheets come on top.
    play.press("s");
    let skills = |name| -> Vec<String> {
        let codes = &sheets_of(&play, name)[0].codes;
        codes.iter().map(|code| code.split('-').next().unwrap().to_owned()).collect()
    };
    assert_eq!(skills("Bo"), skills("Ida"));
    play.press("pm");
    assert!(play.text(120, 36).contains("on Letter"), "{}", play.text(120, 36));
    for (key, pages) in [("t", "Ticks"), ("h", "HandOut"), ("l", "Wall")] {
        play.press(key);
        let text = play.text(120, 36);
        assert!(text.contains(&format!("{pages}.pdf: Day outing for 6 members")), "{text}");
    }
    play.press("<esc>");
    assert!(matches!(play.model.screen, Screen::Patrol(_)));
}

#[test]
fn a_sheet_is_typed_in_by_the_digits_of_its_key_and_a_slip_is_corrected_or_taken_back() {
    let mut play = six().keys("ww");
    let name = first_name(&play);
    play.press("<enter>");
    picture("sheet_open", &play);
    play.press("1<enter>2<enter>0<enter>");
    assert_eq!(on_paper(&play, &name), (3, 1));
    picture("sheet_begun", &play);
    // The second one typed again: it was right after all.
    play.press("<up><up>1<enter>");
    assert_eq!(on_paper(&play, &name), (3, 1), "a key too many is no correction: {}", play.text(80, 24));
    assert!(play.text(80, 24).contains("2 is typed in (wrong"), "{}", play.text(80, 24));
    play.press("<enter>");
    assert_eq!(on_paper(&play, &name), (3, 2), "the entry before is taken back");
    // Taken back with nothing in its place: Backspace in the empty field, or a dash.
    play.press("<up><up><up><up><bs>");
    assert_eq!(on_paper(&play, &name).0, 2);
    play.press("<down><down>-<enter><enter>");
    assert_eq!(on_paper(&play, &name).0, 1);
    let store = play.store();
    let learner = store.learner_by_name(&name).unwrap().unwrap();
    let counted = store.latest(learner.id, &Default::default(), 100).unwrap();
    let kinds: Vec<AttemptKind> = counted.iter().map(|attempt| attempt.what.kind).collect();
    assert_eq!(kinds.iter().filter(|kind| **kind == AttemptKind::Worksheet).count(), 1, "{kinds:?}");
    // Back on the list its state is there, and the same sheet is chosen.
    play.press("<esc>");
    assert!(play.text(80, 24).contains("1 of 8 typed in"), "{}", play.text(80, 24));
    assert_eq!(first_name(&play), name);
}

#[test]
fn what_nobody_worked_closes_a_sheet_and_can_be_typed_over_later() {
    let mut play = six().keys("ww");
    let name = first_name(&play);
    play.press("<enter>1<enter>2<enter>1<enter>1<enter>1<enter>1<enter>-<enter>-<enter>");
    picture("sheet_not_done", &play);
    let sheet = sheets_of(&play, &name).remove(0);
    assert_eq!((sheet.entered.len(), &sheet.not_done), (6, &vec![6, 7]));
    assert!(
        !sheet.is_awaited() && play.text(80, 24).contains("6 typed in, 2 not done: 5 right"),
        "{}",
        play.text(80, 24)
    );
    // The last one was found on the back of the page.
    play.press("1<enter>");
    assert_eq!(on_paper(&play, &name), (7, 6), "{}", play.text(80, 24));
    // And the one before was a slip: it is open again.
    play.press("<up><bs>");
    let sheet = sheets_of(&play, &name).remove(0);
    assert_eq!((sheet.not_done.len(), sheet.open().collect::<Vec<_>>()), (0, vec![6]));
    // Taken back, what was typed in is open, and not what was said before it.
    play.press("<down><bs>");
    assert_eq!(sheets_of(&play, &name)[0].open().count(), 2, "{}", play.text(80, 24));
    assert_eq!(play.store().verify().unwrap().differences, []);
}

#[test]
fn a_sheet_that_will_not_come_back_is_put_away_after_a_question_and_that_is_taken_back() {
    let mut play = six().keys("ww");
    let name = first_name(&play);
    let listed = |play: &Play| play.text(120, 36).matches("nothing typed in").count();
    assert_eq!(listed(&play), 6);
    play.press("x");
    picture("paper_put_away_asked", &play);
    assert!(!sheets_of(&play, &name)[0].put_away, "it is asked first");
    play.press("<up>x");
    assert!(!sheets_of(&play, &name)[0].put_away, "any other key leaves it");
    play.press("x");
    picture("paper_put_away", &play);
    assert!(sheets_of(&play, &name)[0].put_away);
    assert_eq!(listed(&play), 5);
    play.press("u");
    assert!(!sheets_of(&play, &name)[0].put_away && listed(&play) == 6, "{}", play.text(80, 24));
    play.press("u");
    assert!(play.text(80, 24).contains("No sheet was put away since"), "{}", play.text(80, 24));
    // On the leader's page, too, it is what was done last.
    play.press("x<enter><esc>u");
    assert!(play.text(80, 24).contains("u once more takes back that a sheet was put away"), "{}", play.text(80, 24));
    play.press("u");
    assert!(sheets_of(&play, &name).iter().all(|sheet| !sheet.put_away));
    assert_eq!(listed(&play.keys("w")), 6);
}

#[test]
fn what_cannot_be_read_of_a_sheet_is_said_and_nothing_is_lost() {
    let mut play = six().keys("ww");
    let name = first_name(&play);
    play.press("<enter><enter>");
    assert!(play.text(80, 24).contains("Type the digit"), "{}", play.text(80, 24));
    play.press("9<enter>");
    assert!(play.text(80, 24).contains("the key has no 9"), "{}", play.text(80, 24));
    play.press("<bs>-<enter>");
    assert_eq!(on_paper(&play, &name), (0, 0), "who only looks, or did nothing, leaves nothing in the records");
    let before = play.store().sheets(play.store().learner_by_name(&name).unwrap().unwrap().id).unwrap();
    // The answer as it stands there does as well as the digit.
    let problem = needlewise::problem::realise(&needlewise::skills::read_code(&before[0].codes[1]).unwrap()).unwrap();
    let fields = problem.question().fields().iter().zip(problem.answer().values());
    let typed: Vec<String> = fields.map(|(field, value)| field.typed(*value)).collect();
    play.press(&format!("{}°<enter>", typed.join("; ")));
    assert_eq!(on_paper(&play, &name), (1, 1), "{typed:?} {}", play.text(80, 24));
}

#[test]
fn the_list_of_sheets_keeps_its_order_and_the_cursor_stays_on_who_was_chosen() {
    let names = |play: &Play| -> Vec<String> {
        let text = play.text(120, 60);
        let rows = text.lines().filter(|line| line.contains("2026-11-25   "));
        rows.map(|line| line.trim_start_matches([' ', '▸']).split("  ").next().unwrap().to_owned()).collect()
    };
    let mut play = six().keys("ww<down>");
    assert_eq!(names(&play), SIX);
    assert_eq!(first_name(&play), "Ida");
    // A finished sheet stays where it was.
    play.press(&format!("<enter>{}<esc>", "1<enter>".repeat(8)));
    assert_eq!((names(&play), first_name(&play)), (SIX.map(str::to_owned).to_vec(), "Ida".to_owned()));
    assert!(play.text(120, 36).contains("typed in: 8 of 8 right"), "{}", play.text(120, 36));
    // After a restart the rows are those that were there, and a new print leaves the cursor with who was chosen.
    let mut play = play.restart_on(TODAY).seed(500).keys("lw");
    assert_eq!((names(&play), first_name(&play)), (SIX.map(str::to_owned).to_vec(), "Bo".to_owned()));
    play.press("<down><down>");
    assert_eq!(first_name(&play), "Kai");
    play.press("w");
    assert_eq!((names(&play).len(), first_name(&play)), (12, "Kai".to_owned()));
    // Who has no sheet any more leaves the place in the list, and not its head.
    play.press("<up>xx");
    assert_eq!(first_name(&play), "Ida", "her other sheet: {}", play.text(120, 36));
    play.press("xx");
    assert_eq!(first_name(&play), "Kai", "{}", play.text(120, 36));
    let mut sorted = names(&play);
    sorted.sort();
    assert_eq!((names(&play).len(), sorted), (10, names(&play)));
}

#[test]
fn sheets_are_printed_for_those_who_are_chosen_and_for_nobody_else() {
    let play = six().keys("wf");
    picture("paper_whom", &play);
    let text = play.text(80, 24);
    assert!(text.contains("Who gets a sheet?") && text.contains("yes  Bo"), "{text}");
    // All but Bo and Kai.
    let play = play.keys(" <down><down> <enter>");
    let text = play.text(80, 24);
    assert!(text.contains("sheets for 4 of 6:") && text.contains("None yet."), "{text}");
    let play = play.keys("w");
    let text = play.text(80, 24);
    let sheets = text.lines().filter(|line| line.contains("8 problems, nothing typed in")).count();
    assert_eq!(sheets, 4, "{text}");
    assert!(!text.contains(" Bo   ") && !text.contains(" Kai  "), "{text}");
    // Nobody at all is told, and nothing is printed.
    let play = play.keys("faa<esc>");
    assert!(play.text(80, 24).contains("sheets for nobody:"), "{}", play.text(80, 24));
    let text = play.keys("w").text(80, 24);
    assert!(text.contains("Nobody gets a sheet: f says for whom they are."), "{text}");
}

#[test]
fn initials_stand_for_names_on_paper_pages_too() {
    let play = six().keys("iww<enter>");
    for name in ["Bo", "Ida", "Kai", "Lea"] {
        assert!(!play.text(120, 36).contains(&format!("{name},")), "{}", play.text(120, 36));
    }
}

#[test]
fn a_copy_of_the_records_is_one_key_and_never_overwrites() {
    let mut play = six().keys("b");
    assert!(play.text(120, 36).contains("The records are copied"), "{}", play.text(120, 36));
    let metas: Vec<_> = needlewise::skills::metas().collect();
    let copy = needlewise::store::Store::open(&play.copy(), &metas).unwrap();
    assert_eq!(copy.learners().unwrap().len(), play.store().learners().unwrap().len());
    drop(copy);
    play.press("b");
    assert!(!play.text(120, 36).contains("The records are copied"), "what is there stays: {}", play.text(120, 36));
}
