//! The leader's half by keys: the patrol's page, checks at one keyboard, turns, rounds.
#![expect(clippy::cast_possible_truncation, reason = "what a test counts and draws is small")]

use crate::play::Play;
use crate::{picture, readable_in_each_theme};
use jiff::civil::{Date, date};
use needlewise::learner::Placement;
use needlewise::maptable::{Move, Table, showing};
use needlewise::session::{Flow, MemberAnswer, Readiness};
use needlewise::store::{AttemptKind, RecordedVerdict};
use needlewise::tui::Screen;
use needlewise::tui::screens::practice::{PracticeScreen, Stage};

pub const SIX: [&str; 6] = ["Bo", "Ida", "Kai", "Lea", "Mia Berg", "Tom"];

fn today() -> Date {
    date(2026, 11, 25)
}

/// The patrol's page with six who were never checked.
pub fn six() -> Play {
    let mut play = Play::new().keys("<tab>");
    for name in SIX {
        play.press(&format!("n{name}<enter>"));
    }
    // Whoever was added last is chosen; the tests begin with the first.
    play.keys("<up><up><up><up><up>")
}

pub fn checked(play: &Play) -> Option<&PracticeScreen> {
    match &play.model.screen {
        Screen::Practice(screen) if matches!(screen.flow, Flow::Check(_)) => Some(screen),
        _ => None,
    }
}

/// Leaves the trial that may come before the problem.
fn past_trial(play: &mut Play) {
    if checked(play).is_some_and(|screen| screen.flow.is_trial()) {
        play.press("<esc><enter><f9>");
    }
}

/// Answers the problem of a check, right or not.
pub fn answer(play: &mut Play, right: bool) {
    past_trial(play);
    let screen = checked(play).expect("a problem of a check");
    assert!(!screen.flow.is_trial() && screen.work().is_some(), "nothing is told between the problems of a check");
    let asked = screen.flow.asked().unwrap();
    if let Some(table) = &asked.table {
        let start: Table = table.exercise.start;
        let shown = showing(&table.exercise, &start).into_iter().flat_map(|step| step.moves);
        let moves = if right { shown.collect() } else { vec![Move::Done] };
        play.at_table(&moves);
        return;
    }
    play.give(if right { None } else { Some("first") });
}

/// Goes through a whole check, right as long as `right` says so of the number of the answer.
pub fn whole(play: &mut Play, right: impl Fn(u32) -> bool) -> u32 {
    let mut answered = 0;
    while checked(play).is_some() {
        answer(play, right(answered));
        answered += 1;
    }
    answered
}

pub fn standings(play: &Play, name: &str) -> Vec<&'static str> {
    let Screen::Patrol(page) = &play.model.screen else { panic!("not the patrol's page: {:?}", play.model.screen) };
    let member = page.report.members.iter().find(|member| member.learner.name == name).unwrap();
    member.cells.iter().map(|cell| cell.readiness.words()).collect()
}

#[test]
fn the_patrols_page_begins_with_nobody_and_takes_new_members() {
    let play = Play::new().keys("<tab>");
    picture("patrol_nobody", &play);
    let play = six();
    picture("patrol_unchecked", &play);
    assert_eq!(standings(&play, "Bo"), ["not checked"; 6]);
    picture("patrol_families", &play.keys("x"));
    let play = six().keys("i");
    let text = play.text(80, 24);
    assert!(text.contains("M.B.") && !text.contains("Mia Berg"), "initials where others look on:\n{text}");
}

#[test]
fn everybody_keeps_the_same_initials_whatever_the_standard_and_whoever_comes() {
    let initials = |play: &Play| {
        let Screen::Patrol(page) = &play.model.screen else { panic!("not the leader's page") };
        let shown = page.report.shown_as(true);
        let members = page.report.members.iter();
        members.map(|member| (member.learner.name.clone(), shown(&member.learner.name))).collect::<Vec<_>>()
    };
    let of = |all: &[(String, String)], wanted: &[&str]| {
        let mut found: Vec<_> = all.iter().filter(|(name, _)| wanted.contains(&name.as_str())).cloned().collect();
        found.sort();
        found
    };
    // Ida is ready for one of the standards, so that they sort the two differently.
    let mut play = six().keys("nIna<enter>");
    let before = initials(&play);
    let pair = of(&before, &["Ida", "Ina"]);
    assert_eq!(pair, [("Ida", "I."), ("Ina", "I.2")].map(|(name, short)| (name.to_owned(), short.to_owned())));
    play.press("<up><up><up><up><up><up><down><enter><enter>");
    whole(&mut play, |_| true);
    play.press("<esc>");
    let mut orders = std::collections::BTreeSet::new();
    for keys in ["", "s", "s", "nIan<enter>", "s"] {
        play.press(keys);
        let now = initials(&play);
        let names = now.iter().map(|(name, _)| name.as_str());
        orders.insert(names.filter(|name| ["Ida", "Ina"].contains(name)).map(str::to_owned).collect::<Vec<_>>());
        assert_eq!(of(&now, &["Ida", "Ina"]), pair, "after {keys:?}");
    }
    assert_eq!(orders.len(), 2, "the two stand in either order: {orders:?}");
}

#[test]
fn between_two_who_are_checked_nothing_is_on_the_screen_and_a_check_tells_nothing() {
    let play = six().keys("sc");
    picture("handover", &play);
    let mut play = play.keys("<enter>");
    picture("check_asking", &play);
    let before = play.text(80, 24);
    assert!(!before.contains("hint") && !before.contains("Why this one"), "{before}");
    let mut tables = 0;
    for _ in 0..8 {
        past_trial(&mut play);
        let asked = checked(&play).and_then(|screen| screen.flow.asked()).expect("a problem");
        let code = asked.problem.code().to_string();
        tables += u32::from(asked.table.is_some());
        for (cols, rows) in [(80, 24), (120, 36)] {
            let text = play.text(cols, rows);
            // Behind a trial its end is said in the place where that stands.
            let told = text.contains("code at the end") || text.contains("From here on it counts.");
            assert!(!text.contains(&code) && told, "a second terminal solves it:\n{text}");
        }
        answer(&mut play, true);
    }
    assert!(tables > 0, "work at the table, too");
    let mut play = six().keys("sc<enter>");
    answer(&mut play, false);
    let after = play.text(80, 24);
    assert!(checked(&play).is_some_and(|screen| screen.flow.answered() == 1 && screen.flow.told().is_none()));
    assert!(!after.to_lowercase().contains("right"), "{after}");
    assert_eq!(play.also("h").text(80, 24), after, "h gives no hint");
}

#[test]
fn a_leader_checks_six_in_one_sitting_is_killed_in_the_middle_goes_on_and_sees_who_is_ready() {
    let mut play = six().keys("sc<enter>");
    // Bo is ready for all of it, Ida is not yet, Kai falls into reversals.
    whole(&mut play, |_| true);
    assert!(matches!(play.model.screen, Screen::CheckEnd(_)));
    picture("check_end_ready", &play);
    play.press("<enter><enter>");
    whole(&mut play, |_| false);
    picture("check_end_missed", &play);
    play.press("<enter><enter>");
    for _ in 0..5 {
        answer(&mut play, true);
    }
    let Some(asked) = checked(&play).and_then(|screen| screen.flow.asked()) else { panic!("Kai is asked") };
    let code = asked.problem.code().to_string();
    // The program is gone without a word, and comes up again; the standard that is under way is one key away.
    let mut play = play.restart_on(today()).keys("lsc");
    let text = play.text(80, 24);
    assert!(text.contains("Kai, it is your turn.") && text.contains("goes on where it stopped"), "{text}");
    play.press("<enter>");
    let again = checked(&play).and_then(|screen| screen.flow.asked()).unwrap().problem.code().to_string();
    assert_eq!(again, code, "the very problem that was on the screen");
    whole(&mut play, |_| true);
    // The rest is checked, too: Lea and Mia right, Tom half and half. Bo and Ida have nothing to do.
    for round in 0..5 {
        play.press("<enter>");
        if matches!(play.model.screen, Screen::Handover(_)) {
            play.press("<enter>");
        }
        if checked(&play).is_some() {
            whole(&mut play, |at| round < 2 || at % 2 == 0);
        }
    }
    while !matches!(play.model.screen, Screen::Patrol(_)) {
        play.press("<enter>");
    }
    picture("patrol_checked", &play);
    assert_eq!(standings(&play, "Bo"), ["ready at the laptop"; 4]);
    assert_eq!(standings(&play, "Ida"), ["not yet"; 4]);
    assert_eq!(standings(&play, "Kai"), ["ready at the laptop"; 4]);
    for name in SIX {
        assert!(!standings(&play, name).contains(&"not checked"), "{name}");
    }
    // Every claim can be traced to the attempts.
    let store = play.store();
    let Screen::Patrol(page) = &play.model.screen else { panic!("the patrol's page") };
    for member in &page.report.members {
        let checks = store.checks(member.learner.id).unwrap();
        for cell in &member.cells {
            let answers: Vec<bool> = checks
                .iter()
                .flat_map(|check| &check.answers)
                .filter(|answer| answer.skill == cell.skill.id)
                .map(|answer| answer.verdict.is_right())
                .collect();
            let right = answers.iter().filter(|right| **right).count();
            assert_eq!(cell.count(), Some((right as u8, answers.len() as u8)), "{}", member.learner.name);
            let attempts = store.attempts(member.learner.id, cell.skill.id, 100).unwrap();
            assert_eq!(attempts.len(), answers.len());
            assert!(attempts.iter().all(|attempt| attempt.what.kind == AttemptKind::Check));
            assert!(!matches!(cell.readiness, Readiness::Ready { .. }) || right * 10 >= answers.len() * 7);
        }
    }
    assert!(!page.report.teach.is_empty(), "Ida's mix-ups are something to teach");
    let text = play.also("          ").text(120, 36);
    assert!(text.contains("would come out ready by luck"), "{text}");
}

#[test]
fn members_take_turns_each_with_a_problem_of_their_own() {
    let mut play = six().keys("t");
    picture("turns_handover", &play);
    for name in SIX {
        let text = play.text(80, 24);
        assert!(text.contains(&format!("{name}, it is your turn.")), "{text}");
        play.press("<enter>");
        let Screen::Practice(screen) = &play.model.screen else { panic!("a problem for {name}") };
        assert_eq!(screen.learner.name, name);
        // A worked example comes before the first problem; it is left for the sake of the turn.
        while matches!(&play.model.screen, Screen::Practice(screen) if matches!(screen.stage, Stage::Example(_))) {
            play.press("<enter>");
        }
        play.give(None);
        assert!(matches!(&play.model.screen, Screen::Practice(screen) if matches!(screen.stage, Stage::Told)));
        play.press("<enter>");
    }
    assert!(play.text(80, 24).contains("Bo, it is your turn."), "and round again");
    play.press("<esc>");
    picture("turns_end", &play);
}

#[test]
fn a_round_puts_one_problem_for_all_and_the_leader_enters_who_had_what() {
    let mut play = six().keys("r");
    picture("round_about", &play);
    play.press("<enter>");
    picture("round_problem", &play);
    play.press("<enter>12");
    picture("round_key", &play);
    let Screen::Round(screen) = &play.model.screen else { panic!("a round") };
    assert_eq!(screen.entered[..3], [MemberAnswer::Right, MemberAnswer::Mixup(0), MemberAnswer::Absent]);
    let asked = screen.round.asked.as_ref().unwrap();
    let (code, skill) = (asked.problem.code().to_string(), asked.problem.skill().id);
    let mixup = asked.mixups()[0].meta.id.as_str().to_owned();
    play.press("0<enter>");
    let again = matches!(&play.model.screen, Screen::Round(screen) if screen.round.number == 2 && !screen.key);
    assert!(again, "{}", play.text(80, 24));
    let store = play.store();
    let had = |name: &str| {
        let learner = store.learner_by_name(name).unwrap().unwrap();
        store.attempts(learner.id, skill, 10).unwrap().pop().map(|attempt| attempt.what)
    };
    let (bo, ida, kai) = (had("Bo").unwrap(), had("Ida").unwrap(), had("Kai").unwrap());
    assert_eq!((bo.verdict, bo.kind, bo.code), (RecordedVerdict::Right, AttemptKind::Round, code));
    assert_eq!(ida.verdict, RecordedVerdict::Mixup(mixup));
    assert_eq!(kai.verdict, RecordedVerdict::Unrecognised);
    assert!(had("Lea").is_none(), "whoever had nothing has nothing in the record");
    play.press("<esc>");
    let text = play.text(80, 24);
    assert!(text.contains("3 members, 3 answers, 1 right.") && !text.contains("Ida"), "others look on:\n{text}");
}

#[test]
fn only_enter_writes_down_what_was_entered_and_leaving_asks() {
    let mut play = six().keys("r<enter><enter>1<esc>");
    assert!(play.text(120, 36).contains("is not written down"), "{}", play.text(120, 36));
    play.press("<esc>");
    assert!(play.text(80, 24).contains("0 members, 0 answers"), "{}", play.text(80, 24));
    let bo = play.store().learner_by_name("Bo").unwrap().unwrap();
    assert!(play.store().last_day(bo.id).unwrap().is_none(), "nothing is in the records");
    // Who presses Enter in place of that has it written, and is asked anew the next time.
    play.press("<enter>r<enter><enter>1<esc><enter>");
    assert!(play.store().last_day(bo.id).unwrap().is_some(), "now it is");
    play.press("<enter>1<esc>");
    assert!(matches!(play.model.screen, Screen::Round(_)), "asked anew");
    play.press("<esc>");
    assert!(play.text(80, 24).contains("1 member, 1 answer, 1 right. Everything is kept."), "{}", play.text(80, 24));
    play.press("<enter>r<enter><enter><esc>");
    assert!(play.text(80, 24).contains("0 members, 0 answers"), "nothing entered, nothing written");
}

#[test]
fn a_round_is_about_a_chosen_skill_where_the_leader_wishes() {
    let mut play = six().keys("r<down><down><enter>");
    for _ in 0..3 {
        let Screen::Round(screen) = &play.model.screen else { panic!("{}", play.text(80, 24)) };
        assert_eq!(screen.round.asked.as_ref().unwrap().problem.skill().id, "turns");
        play.press("<enter>1<enter>");
    }
}

#[test]
fn members_get_another_name_are_put_aside_and_are_erased_only_when_the_name_is_typed_again() {
    let mut play = six().keys("m");
    picture("manage", &play);
    play.press("r<bs><bs>Bodo<enter>");
    assert!(play.text(80, 24).contains("Bodo"));
    play.press("mebod<enter>");
    assert!(play.text(80, 24).contains("Nothing was erased: Bodo is still here."));
    play.press("meBODO<enter>");
    let text = play.text(80, 24);
    assert!(text.contains("Erased, with 0 answers.") && !text.contains("Bodo"), "{text}");
    play.press("ma");
    assert!(play.text(80, 24).contains("Put Ida aside?"), "it is asked, and said whom");
    play.press("y");
    let left: Vec<String> = play.store().learners().unwrap().into_iter().map(|learner| learner.name).collect();
    assert_eq!(left, SIX[2..], "Ida is put aside");
    assert_eq!(play.store().archived_learners().unwrap()[0].name, "Ida");
    play.press("nida<enter>");
    let told = play.text(120, 36).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("Ida was put aside, with all records"), "{told}");
    assert_eq!(play.store().learners().unwrap().len(), 4, "and nobody is here twice");
}

#[test]
fn whoever_has_nothing_to_be_asked_is_not_called() {
    let mut play = Play::new().keys("<tab>nBo<enter>nIda<enter>s<enter><enter>");
    whole(&mut play, |_| true);
    play.press("<enter>c");
    let Screen::Handover(page) = &play.model.screen else { panic!("{}", play.text(80, 24)) };
    let called: Vec<&str> = page.queue.iter().map(|queued| queued.learner.name.as_str()).collect();
    assert_eq!(called.len(), 1, "only the one who was not checked: {called:?}");
    play.press("<enter>");
    whole(&mut play, |_| true);
    play.press("<enter>c");
    let text = play.text(80, 24);
    assert!(
        matches!(play.model.screen, Screen::Patrol(_)) && text.contains("Nobody has anything to be asked"),
        "{text}"
    );
}

#[test]
fn a_check_is_left_only_when_asked_twice_since_leaving_is_counted() {
    let mut play = six().keys("c<enter>");
    past_trial(&mut play);
    play.press("<esc>");
    assert!(matches!(play.model.screen, Screen::Practice(_)));
    assert!(play.text(80, 24).contains("Esc once more leaves the check."), "{}", play.text(80, 24));
    // Any other key goes on, and the question is asked anew the next time.
    play.press("<down><esc>");
    assert!(matches!(play.model.screen, Screen::Practice(_)));
    play.press("<esc>");
    assert!(!matches!(play.model.screen, Screen::Practice(_)));
}

#[test]
fn a_members_page_leads_back_to_the_leaders() {
    let mut play = six().keys("sp");
    assert!(matches!(play.model.screen, Screen::Page(_)));
    play.press("<esc>");
    assert!(play.text(80, 24).contains("Camp evening"), "with the same standard");
    play.press("p");
    play.press("w");
    assert!(matches!(play.model.screen, Screen::Who(_)));
    play.press("p<esc>");
    assert!(matches!(play.model.screen, Screen::Who(_)), "whoever came from the list of names goes back there");
}

#[test]
fn a_clock_that_was_set_back_brings_no_second_try_and_the_screen_says_so() {
    let mut play = six().keys("<enter><enter>");
    whole(&mut play, |_| false);
    let mut play = play.restart_on(date(2026, 11, 20)).keys("l<down><down><down><down><down><enter>");
    let text = play.text(80, 24);
    assert!(text.contains("The clock went back") && text.contains("nothing to ask before 2026-11-26"), "{text}");
    play.press("<enter>");
    assert!(matches!(play.model.screen, Screen::Patrol(_)));
    let mut play = play.restart_on(date(2026, 11, 26)).keys("l<enter><enter>");
    assert!(checked(&play).is_some(), "the second try comes first: {}", play.text(80, 24));
    whole(&mut play, |_| true);
    play.press("<enter>");
    assert_eq!(standings(&play, "Bo"), ["ready at the laptop"; 6]);
}

#[test]
fn the_patrols_page_is_readable_in_each_theme() {
    let mut play = six().keys("s<enter><enter>");
    whole(&mut play, |at| at % 3 != 0);
    play.press("<enter>");
    readable_in_each_theme(play);
}

#[test]
fn the_games_are_one_key_from_the_leaders_page_and_each_card_can_be_read_to_its_end() {
    let play = six().keys("<down>a");
    picture("games", &play);
    let play = play.keys("<down><enter>");
    picture("games_card", &play);
    for at in 0..needlewise::game::GAMES.len() {
        let mut play = six().keys("a").keys(&"<down>".repeat(at)).keys("<enter>");
        let mut whole = play.text(80, 24);
        for _ in 0..8 {
            play.press("<pgdn>");
            whole += &play.text(80, 24);
        }
        for heading in ["Before you begin", "Say", "Cards", "Key, for you alone", "If it ends otherwise", "--seed"] {
            assert!(whole.contains(heading), "{at}: {heading} in\n{whole}");
        }
        assert!(!play.text(80, 24).contains("more below"), "{whole}");
    }
}

#[test]
fn a_game_has_new_numbers_and_other_players_and_goes_back_to_where_it_was_chosen() {
    let read = |play: &mut Play, keys: &str| {
        play.press(keys);
        play.text(80, 24)
    };
    let down = "<pgdn>".repeat(8);
    let mut play = six().keys("<down>a<down><down><enter>");
    let first = read(&mut play, &down);
    let anew = read(&mut play, &format!("n{down}"));
    assert_ne!(first, anew, "n deals other numbers");
    let title = |text: String| text.lines().find(|line| line.contains("players")).map(str::to_owned);
    let few = title(read(&mut play, &"<pgup>".repeat(8)));
    let more = title(read(&mut play, "<right>"));
    assert!(few != more && more.is_some(), "{few:?} {more:?}");
    play.press(&"<left>".repeat(40));
    assert!(matches!(play.model.screen, Screen::Games(_)), "too few players change nothing");
    let list = play.keys("<esc>");
    let chosen = list.text(80, 24);
    let third = needlewise::game::GAMES[2].title;
    assert!(chosen.contains(&format!("▸ {third}")), "{chosen}");
    let back = list.keys("<esc>");
    let Screen::Patrol(page) = &back.model.screen else { panic!("not back on the leader's page") };
    assert_eq!(page.chosen, 1, "with the member who was chosen");
}

/// Before a check on a laptop whose records end years before its clock.
pub fn asked_about_the_clock() -> Play {
    let mut play = six().keys("<enter>");
    let Screen::Handover(page) = &mut play.model.screen else { panic!("no handover") };
    let question = needlewise::session::clock_far_ahead(Some(date(2021, 5, 3)), date(2026, 11, 25));
    page.queue[0].clock_question = question;
    play
}

#[test]
fn a_clock_years_ahead_is_asked_about_before_a_check_and_enter_is_no_answer_to_that() {
    let mut play = asked_about_the_clock();
    picture("handover_clock", &play);
    play.press("<enter><enter>");
    assert!(matches!(play.model.screen, Screen::Handover(_)), "{}", play.text(80, 24));
    play.press("y");
    assert!(checked(&play).is_some(), "{}", play.text(80, 24));
}

#[test]
fn several_names_are_added_at_once_and_an_empty_one_adds_nobody() {
    let mut play = Play::new().keys("<tab>nAna, Bo,, Cem <enter>");
    let names =
        |play: &Play| play.store().learners().unwrap().into_iter().map(|learner| learner.name).collect::<Vec<_>>();
    assert_eq!(names(&play), ["Ana", "Bo", "Cem"]);
    assert!(play.text(80, 24).contains("Ana, Bo and Cem are here now."), "{}", play.text(80, 24));
    play.press("n<enter>");
    assert!(play.text(80, 24).contains("No name is typed yet"), "{}", play.text(80, 24));
    play.press("<esc>");
    // All of them or none: what was typed stays, and is mended and added as it is.
    play.press("nDana,Eva,Bo<enter>");
    assert_eq!(names(&play), ["Ana", "Bo", "Cem"]);
    assert!(play.text(120, 36).contains("there is a learner named Bo already"), "{}", play.text(120, 36));
    play.press("b,dana<enter>");
    assert_eq!(names(&play), ["Ana", "Bo", "Bob", "Cem", "Dana", "Eva"], "the same name twice is one member");
}

#[test]
fn where_many_are_listed_no_caution_is_cut_and_no_number_runs_into_the_next() {
    let mut play = Play::new();
    let mut store = play.store();
    for number in 1..=130 {
        let at = "2026-11-20T18:00:00Z".parse().unwrap();
        store.add_learner(&format!("Kid {number}"), Placement::Fresh, at).unwrap();
    }
    play.press("<tab>");
    for (width, height) in [(80, 24), (120, 36)] {
        let text = play.text(width, height);
        let ready = text.lines().find(|line| line.trim_start().starts_with("ready ")).expect("the totals");
        let counts: Vec<&str> = ready.split_whitespace().collect();
        assert!(!ready.contains("1300"), "{ready}");
        assert!(counts.iter().all(|word| ["ready", "0", "of", "130"].contains(word)), "{ready}");
    }
    play.press("<esc>");
    let text = play.text(80, 24);
    let told = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("1 of 130") && told.contains("come first."), "{text}");
}
