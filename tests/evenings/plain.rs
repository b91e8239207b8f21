//! Practice as lines of text: a script on one end, the records on the other.

use crate::plain_partner::{Home, Partner, snapshot};
use needlewise::config::Config;
use needlewise::learner::Placement;
use needlewise::plain::{Desk, Start, practise};
use needlewise::problem::{HomeAngles, MixupId};
use needlewise::session::{Days, GroundCard, HomeGround, Plan};
use needlewise::skills;
use needlewise::store::{Help, Learner, RecordedVerdict, Store};
use std::cell::Cell;
use std::io::{Cursor, Write};
use std::rc::Rc;

/// A session in this process, from a fixed seed and a clock that moves on by ten seconds each time it is read.
fn session(seed: u64, plan: impl FnOnce(Plan) -> Plan, typed: &str) -> String {
    let folder = tempfile::tempdir().unwrap();
    let metas: Vec<_> = skills::metas().collect();
    let store = Store::open(&folder.path().join("records.sqlite"), &metas).unwrap();
    let card = card();
    let plan = plan(Plan::free(card.home.clone()));
    let mut now: jiff::Timestamp = "2026-11-25T18:00:00Z".parse().unwrap();
    let mut out = Vec::new();
    let mut desk = Desk {
        input: &mut Cursor::new(typed.as_bytes()),
        out: &mut out,
        now: &mut || {
            now += jiff::Span::new().seconds(10);
            now
        },
    };
    practise(ilva(store, plan, card, seed), &mut desk).unwrap();
    String::from_utf8(out).unwrap()
}

/// What begins a practice of Ilva's, on days by the clock.
fn ilva(store: Store, plan: Plan, ground: GroundCard, seed: u64) -> Start<'static> {
    Start { store, learner: "Ilva", plan, ground, days: Days::Clock(jiff::tz::TimeZone::UTC), seed }
}

/// An invented home ground.
fn card() -> GroundCard {
    use needlewise::angle::{Angle, Convergence, Declination};
    let bare = GroundCard::new(&Config::default(), "", "2026-11-25".parse().unwrap());
    let angles = HomeAngles::new(
        Declination::from_angle(Angle::from_degrees(-13.7)),
        Convergence::from_angle(Angle::from_degrees(1.2)),
    );
    GroundCard {
        home: HomeGround { name: "Lowmoor".to_owned(), angles: Some(angles), invented: false, ..bare.home },
        declination: "13°41′ W".to_owned(),
        ..bare
    }
}

fn only(ids: &'static [&'static str], level: u8) -> impl FnOnce(Plan) -> Plan {
    move |plan| plan.with_skills(ids, needlewise::problem::Level::new(level))
}

#[test]
fn a_session_reads_as_one_would_tell_it() {
    snapshot(
        "session",
        &session(
            5,
            |plan| only(&["true-magnetic"], 2)(plan).with_end(Some(3), None),
            "\n361\nhint\n50\nagain\n120T\n7\n",
        ),
    );
    snapshot("read_dial", &session(2, only(&["read-dial"], 4), "help\n100\n10\n20\nboxed\n"));
    snapshot(
        "set_dial",
        &session(
            2,
            only(&["set-dial"], 2),
            "set\n100\n30 clockwise\n5 left\nstart\n30 clockwise\n5 counterclockwise\nset\nend\n",
        ),
    );
    snapshot("lists", &session(3, only(&["compass-points"], 3), "list\nsomewhere\nhint\n20\nN\nend\n"));
    snapshot(
        "table_lines",
        &session(
            5,
            only(&["baseplate-bearing"], 2),
            "help\nmap 10\nedge P Q\ndial clockwise 10\nmap clockwise 5\nhint\nagain\nmyself clockwise 5\nup\nread 065\nend\n",
        ),
    );
    snapshot(
        "table_follow",
        &session(
            5,
            only(&["follow-bearing"], 1),
            "dial 60\nmyself clockwise 400\nmyself clockwise 30\nchoose 9\nchoose the tower\nend\n",
        ),
    );
    snapshot("several_fields", &session(4, only(&["dated-map"], 1), "4\n99\n30\nw\n4\n12\nleft\nE\n"));
}

#[test]
fn a_lesson_is_offered_and_worked_through_in_words() {
    let out = session(2, |plan| plan, "lesson\nright 2\nwrong\nnext\nright 4\nnext\nback\nskip\nlesson\nend\n");
    snapshot("lesson", &out);
    let all = session(2, |plan| plan, "lesson\nnext\nnext\nnext\nnext\nnext\n9\n1\nend\n");
    assert!(all.contains("Not that one. It is: turn yourself until the needle is boxed. The needle stays"), "{all}");
    assert!(all.contains("There is no lesson") || all.contains("Back to the problem."), "{all}");
}

#[test]
fn in_a_lesson_its_own_words_are_told_first() {
    let out = session(2, |plan| plan, "lesson\nwords\nwords boxed\nskip\nend\n");
    let (_, told) = out.split_once("In this lesson:\n").expect("a heading of its own");
    let (own, others) = told.split_once("The norths:\n").expect("all others behind");
    assert!(own.contains("Index line: ") && own.contains("Boxed: ") && !own.contains("Declination: "), "{own}");
    assert!(others.contains("Declination: ") && others.contains("\nSource: "), "{others}");
}

/// What is said, heard by somebody who takes an hour over the first screen of a lesson.
struct SlowReader {
    now: Rc<Cell<jiff::Timestamp>>,
}

impl Write for SlowReader {
    fn write(&mut self, said: &[u8]) -> std::io::Result<usize> {
        if said.windows(5).any(|part| part == b"1 of ") {
            self.now.set(self.now.get() + jiff::SignedDuration::from_hours(1));
        }
        Ok(said.len())
    }

    fn flush(&mut self) -> std::io::Result<()> {
        Ok(())
    }
}

#[test]
fn the_time_of_a_lesson_is_not_the_time_of_the_answer_behind_it() {
    let folder = tempfile::tempdir().unwrap();
    let metas: Vec<_> = skills::metas().collect();
    let file = folder.path().join("records.sqlite");
    let store = Store::open(&file, &metas).unwrap();
    let began: jiff::Timestamp = "2026-11-25T18:00:00Z".parse().unwrap();
    let now = Rc::new(Cell::new(began));
    let (card, looked) = (card(), Rc::clone(&now));
    let plan = Plan::free(card.home.clone());
    let mut desk = Desk {
        input: &mut Cursor::new(b"lesson\nskip\n170\nend\n"),
        out: &mut SlowReader { now: Rc::clone(&now) },
        now: &mut || {
            looked.set(looked.get() + jiff::SignedDuration::from_secs(1));
            looked.get()
        },
    };
    practise(ilva(store, plan, card, 2), &mut desk).unwrap();
    assert!(now.get() - began > jiff::SignedDuration::from_hours(1), "the lesson took its hour");
    let store = Store::open(&file, &metas).unwrap();
    let learner = store.learner_by_name("Ilva").unwrap().unwrap();
    let took_ms = store.attempts(learner.id, "read-dial", 9).unwrap()[0].what.took_ms.unwrap();
    assert!((1..60_000).contains(&took_ms), "{took_ms}");
}

#[test]
fn words_are_explained_while_a_question_waits_and_nothing_is_recorded_by_it() {
    let out = session(2, only(&["read-dial"], 1), "words Bezel\nword needel\nWORDS\nend\n");
    let said = |line: &str| out.lines().filter(|said| *said == line).count();
    assert!(out.contains("\nDial: the ring with 0 to 360") && out.contains("\nAlso called: bezel, "), "{out}");
    assert_eq!(said("needel is not in the word list; did you mean needle? words lists them all."), 1, "{out}");
    let (here, all) = out.split_once("\nIn this question:\n").unwrap().1.split_once("\nThe norths:\n").unwrap();
    assert!(here.contains("Index line: the mark") && !here.contains("Agonic line: "), "{here}");
    assert!(all.contains("Agonic line: ") && !all.contains("Index line: "), "{all}");
    assert!(out.contains("Nothing was answered, so nothing was recorded."), "{out}");
    let table = session(5, only(&["follow-bearing"], 1), "help\nwords gate\nend\n");
    assert!(
        table.contains("\nwords: what each word means") && table.contains("\nAlso called: gate, shed.\n"),
        "{table}"
    );
}

#[test]
fn a_slip_of_the_keyboard_is_taken_back_by_undo_once_in_a_skill() {
    let out = session(5, only(&["true-magnetic"], 2), "undo\n1\nundo\n1\nundo\n1\nend\n");
    let said = |line: &str| out.lines().filter(|said| said.starts_with(line)).count();
    assert_eq!(said("If only a key slipped: undo takes this answer back."), 1, "{out}");
    assert_eq!(said("Problem 1 again."), 1, "{out}");
    assert_eq!(said("Taken back: once. You have seen the answer"), 1, "{out}");
    assert_eq!(
        said("There is nothing to take back"),
        2,
        "before the first answer, and in a skill where it was done: {out}"
    );
    assert_eq!((said("Problem 1:"), said("Problem 2:"), said("Problem 3:")), (1, 2, 1), "{out}");
    assert!(out.contains("\nTaken back: once.\n") && out.contains("\n2 problems, "), "{out}");
}

#[test]
fn a_word_is_told_with_the_first_problem_of_its_skill_and_to_one_learner_once() {
    let home = Home::new();
    let practise = |name: &str, skill: &str, day: &str| {
        home.practise(&["--learner", name, "--skill", skill, "--level", "1", "--date", day], b"1\n2\n3\nend\n").out
    };
    let told = |out: &str| out.lines().filter(|line| line.starts_with("Index line: ")).count();
    let first = practise("Ilva", "read-dial", "2026-11-25");
    assert_eq!(told(&first), 1, "{first}");
    let (before, after) = first.split_once("\nIndex line: ").unwrap();
    assert!(before.contains("First, one worked through.") && after.contains("\nStep 1: "), "{first}");
    assert_eq!(told(&practise("Ilva", "read-dial", "2026-11-26")), 0);
    assert_eq!(told(&practise("Ilva", "set-dial", "2026-11-26")), 0, "another skill has brought it");
    assert_eq!(told(&practise("Bo", "set-dial", "2026-11-26")), 1, "but not to everybody");
}

#[test]
fn the_place_of_a_problem_is_said_and_its_code_carries_it() {
    let out = session(7, only(&["true-magnetic"], 2), &"1\n".repeat(12));
    let at_home = out.lines().zip(out.lines().skip(1)).filter(|(place, _)| *place == "Place: home ground, Lowmoor.");
    let codes: Vec<&str> = at_home.map(|(_, code)| code).collect();
    assert!(codes.iter().all(|code| code.ends_with("-13.7W-1.2E")) && codes.len() > 2, "{codes:?}");
    assert!(out.contains("\nPlace: elsewhere.\n"));
}

#[test]
fn nothing_but_text_and_line_ends_is_written() {
    for seed in 0..20 {
        let out = session(seed, |plan| plan, "1\n1\n1\nE\nclockwise\n\u{1b}[A\n20\n2\n5\n6\nend\n");
        assert!(out.chars().all(|c| c == '\n' || !c.is_control()), "{out:?}");
        assert!(out.ends_with('\n'));
    }
}

#[test]
fn a_new_name_is_added_and_said_so_and_a_known_one_is_found_in_any_case() {
    let home = Home::new();
    let first = home.practise(&["--learner", "Ilva"], b"");
    assert_eq!(first.code, 0);
    assert!(first.out.contains("Ilva is new here"), "{}", first.out);
    let second = home.practise(&["--learner", " iLVA "], b"end\n");
    assert!(second.out.contains("Welcome back, Ilva."), "{}", second.out);
    let names: Vec<String> = home.store().learners().unwrap().into_iter().map(|learner| learner.name).collect();
    assert_eq!(names, ["Ilva"]);
}

#[test]
fn without_a_name_plain_practice_says_what_to_type() {
    let home = Home::new();
    let refused = home.practise(&[], b"065\n");
    assert_eq!((refused.code, refused.out.as_str()), (2, ""));
    assert!(refused.err.contains("--plain --learner NAME"), "{}", refused.err);
    assert!(!home.store_path().exists());
}

#[test]
fn names_with_escape_sequences_are_refused() {
    let home = Home::new();
    for name in ["\u{1b}[31mIlva", "Il\u{202e}va", "", "   ", &"x".repeat(1000)] {
        let refused = home.practise(&["--learner", name], b"065\n");
        assert_eq!(refused.code, 2, "{name:?}: {}", refused.err);
        assert!(!refused.err.contains('\u{1b}') && refused.err.contains("name"), "{}", refused.err);
    }
    assert!(home.store().learners().unwrap().is_empty());
}

#[test]
fn odd_lines_are_a_message_each_and_nothing_is_recorded() {
    let home = Home::new();
    let mut typed = Vec::new();
    typed.extend(vec![b'6'; 1_000_000]);
    typed.extend_from_slice(b"\r\n\r\n\xff\xfe\r\n361\r\n-11\r\n\x1b[A\r\nforty\r\n065\0\r\n");
    let said = home.practise(&["--learner", "Ilva", "--skill", "true-magnetic", "--level", "2"], &typed);
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    for message in [
        "far longer than an answer",
        "Nothing was typed",
        "cannot be read",
        "361 is not on the dial",
        "−11 is not on the dial",
        "A key slipped in",
        "That is not a bearing",
    ] {
        assert!(said.out.contains(message), "{message}: {}", said.out);
    }
    assert!(said.out.contains("Nothing was answered, so nothing was recorded."), "{}", said.out);
    assert_eq!(home.attempts("true-magnetic"), []);
}

#[test]
fn the_end_of_the_input_ends_kindly_and_what_was_answered_is_kept() {
    let home = Home::new();
    // CR LF, no line end at the end, and the input ends in the middle of the next question.
    let said = home.practise(&["--learner", "Ilva", "--skill", "true-magnetic", "--level", "2"], b"011\r\n012");
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    assert!(said.out.contains("2 problems, "), "{}", said.out);
    assert!(said.out.contains("Everything is kept."));
    assert_eq!(home.attempts("true-magnetic").len(), 2);
}

#[test]
fn a_practice_ends_after_its_number_of_problems() {
    let home = Home::new();
    let said = home.practise(
        &["--learner", "Ilva", "--drill", "first-evening", "--skill", "turns", "--count", "1"],
        b"1\n1\nclockwise\n1\n1\n",
    );
    assert_eq!(said.code, 0, "{}", said.err);
    assert!(said.out.contains("First evening: 1 problem."), "{}", said.out);
    assert!(said.out.contains("Problem 1 of 1") && !said.out.contains("Problem 2"), "{}", said.out);
    assert_eq!(home.attempts("turns").len(), 1);
}

#[test]
fn a_drill_can_be_a_file_and_its_faults_point_at_the_line() {
    let home = Home::new();
    let drill = home.file("ours.toml", "name = \"ours\"\ntitle = \"Ours\"\ncount = 2\n[[skill]]\nid = \"turns\"\n");
    let said = home.practise(&["--learner", "Ilva", "--drill", &drill], b"");
    assert!(said.code == 0 && said.out.contains("Ours: 2 problems."), "{} {}", said.out, said.err);
    let broken =
        home.file("broken.toml", "name = \"broken\"\ntitle = \"Broken\"\ncount = 2\n[[skill]]\nid = \"truns\"\n");
    let refused = home.practise(&["--learner", "Ilva", "--drill", &broken], b"");
    assert_eq!((refused.code, refused.out.as_str()), (2, ""));
    assert!(refused.err.contains("broken.toml:5") && refused.err.contains("turns"), "{}", refused.err);
    let unknown = home.practise(&["--learner", "Ilva", "--drill", "first-evning"], b"");
    assert!(unknown.code == 2 && unknown.err.contains("did you mean first-evening?"), "{}", unknown.err);
}

#[test]
fn stores_that_cannot_be_are_exit_code_3_and_left_as_they_are() {
    let home = Home::new();
    let text = home.file("notes.txt", "not a store\n");
    let not_ours = home.practise(&["--learner", "Ilva", "--store", &text], b"065\n");
    assert_eq!((not_ours.code, not_ours.out.as_str()), (3, ""));
    assert!(not_ours.err.contains("is not a needlewise store"), "{}", not_ours.err);
    assert_eq!(std::fs::read_to_string(&text).unwrap(), "not a store\n");
    let under_a_file = home.practise(&["--learner", "Ilva", "--store", &format!("{text}/records")], b"065\n");
    assert_eq!(under_a_file.code, 3);
    assert!(under_a_file.err.contains("Nothing was changed"), "{}", under_a_file.err);
}

#[test]
fn without_a_terminal_the_full_screen_points_to_plain_practice() {
    let home = Home::new();
    for words in [&[][..], &["practice"], &["practice", "--learner", "Ilva"]] {
        let refused = home.run(words, b"");
        assert_eq!((refused.code, refused.out.as_str()), (2, ""), "{words:?}");
        assert!(refused.err.contains("needlewise practice --plain --learner NAME"), "{}", refused.err);
    }
    assert!(!home.store_path().exists());
}

#[test]
fn a_reader_that_goes_away_is_no_error() {
    let home = Home::new();
    let mut partner = Partner::begin(&home, &["--learner", "Ilva", "--skill", "turns"]);
    partner.close_output();
    assert_eq!(partner.finish(), (0, String::new()));
}

#[test]
fn three_flipped_signs_name_the_weak_spot_and_the_next_day_opens_with_it() {
    let home = Home::new();
    let practise = ["--learner", "Ilva", "--skill", "true-magnetic", "--level", "2"];
    let mut partner = Partner::begin(&home, &[&practise[..], &["--date", "2026-11-25"]].concat());
    for _ in 0..3 {
        let problem = partner.asked();
        let flipped = problem.mixups().iter().find(|mixup| mixup.meta.id.as_str() == "sign-flipped").unwrap();
        let said = partner.answer(&problem, &flipped.answer);
        assert!(said.starts_with("Not right: you applied the correction the wrong way round.\n"), "{said}");
        let paths = problem.paths(flipped.meta.id, &flipped.answer).unwrap();
        assert!(said.contains(&format!("Your way: {}\n", paths.yours)), "{said}");
        assert!(said.contains(&format!("Right way: {}\n", paths.right)), "{said}");
    }
    let end = partner.end();
    assert!(
        end.contains("Weak spot: True and magnetic: you applied the correction the wrong way round (3 of the last 3)."),
        "{end}"
    );
    assert!(end.contains("Come back: tomorrow."), "{end}");

    let mut tomorrow = Partner::begin(&home, &[&practise[..], &["--date", "2026-11-26"]].concat());
    let problem = tomorrow.asked();
    assert!(problem.exposes(MixupId("sign-flipped")), "{}", problem.code());
    assert!(
        tomorrow.heard().contains("Why this one: your weak spot: you applied the correction the wrong way round.\n"),
        "{}",
        tomorrow.heard()
    );
    tomorrow.end();
    // Free practice keeps the promise, too.
    let mut free = Partner::begin(&home, &["--learner", "Ilva", "--date", "2026-11-26"]);
    free.asked();
    assert!(free.heard().contains("Why this one: your weak spot: you applied the correction"), "{}", free.heard());
    free.end();
}

#[test]
fn an_answer_is_on_the_disk_before_its_verdict_is_said() {
    let home = Home::new();
    let mut partner = Partner::begin(&home, &["--learner", "Ilva", "--skill", "back-bearing", "--level", "1"]);
    let problem = partner.asked();
    assert!(partner.answer(&problem, problem.answer()).starts_with("Right.\n"));
    // The session is still open; another reader of the file sees the answer.
    let attempts = home.attempts("back-bearing");
    assert_eq!(attempts.len(), 1);
    assert_eq!(attempts[0], (problem.code().to_string(), RecordedVerdict::Right));
    partner.kill();
    assert_eq!(home.attempts("back-bearing").len(), 1);
}

#[test]
fn an_answer_after_a_hint_is_recorded_as_hinted() {
    let home = Home::new();
    let said = home.practise(&["--learner", "Ilva", "--skill", "true-magnetic", "--level", "2"], b"hint\n011\n");
    assert!(
        said.out.contains("Hint: ") && said.out.contains("0 right by yourself and 0 of 1 right after help"),
        "{}",
        said.out
    );
    let store = home.store();
    let learner: Learner = store.learner_by_name("Ilva").unwrap().unwrap();
    assert_eq!(learner.placement, Placement::Fresh);
    assert!(store.attempts(learner.id, "true-magnetic", 9).unwrap()[0].what.help == Help::Hint);
}

#[test]
fn a_day_given_by_hand_is_written_down_as_such() {
    let home = Home::new();
    home.practise(&["--learner", "Ilva"], b"end\n");
    home.practise(&["--learner", "Ilva", "--date", "2026-11-26"], b"end\n");
    let file = rusqlite::Connection::open(home.store_path()).unwrap();
    let mut statement = file.prepare("SELECT day_given FROM sessions ORDER BY key").unwrap();
    let given: Vec<bool> = statement.query_map([], |row| row.get(0)).unwrap().map(Result::unwrap).collect();
    assert_eq!(given, [false, true]);
}
