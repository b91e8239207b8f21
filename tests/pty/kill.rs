//! The program is killed at any moment, and what a person has seen judged is in the records.
//!
//! SIGKILL does not test a power cut: for that every commit must wait for the disk (`synchronous` FULL), which is a
//! setting of a connection and is asserted on the store's own in its unit tests; the journal's mode is kept in the file
//! and asserted here.
#![expect(
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    reason = "what a test counts and draws is small"
)]

use super::answers::{is_asking, keys, mixed_up, practice, problem_on, shows_example, told, verdict};
use super::camp::Camp;
use super::output::Output;
use super::records::{Given, hold_against, opened_whole, recorded};
use super::term::{Setup, Term, Waited};
use needlewise::problem::Draw;
use needlewise::store::Store;
use std::time::Instant;

const SKILL: &str = "true-magnetic";
/// Answers in one run, at most.
const ANSWERS: u32 = 3;
/// A run of that many answers writes more chunks than this.
const CHUNKS: u32 = 40;
const CHUNK: usize = 700;

/// When a run is killed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Moment {
    /// When so many chunks of output have been read; 0 is before any.
    Chunk(u32),
    /// Right after the Enter of this answer, while it is being judged and written.
    Enter(u32),
    /// As soon as this answer touches the file's log: before or in its commit.
    Log(u32),
    /// When this answer is committed and nothing of its verdict has left the program.
    Committed(u32),
    /// When everything has been answered and seen.
    After,
}

/// What happened in one run, and before it.
#[derive(Default)]
struct Story {
    answered: Vec<Given>,
    shown: Vec<Given>,
}

#[test]
fn whatever_was_judged_on_the_screen_survives_a_kill_at_any_moment() {
    let kills = number("NEEDLEWISE_KILLS").unwrap_or(40);
    let seed = number("NEEDLEWISE_KILL_SEED").unwrap_or_else(|| u64::from(std::process::id()));
    eprintln!("{kills} kills; seed {seed} (NEEDLEWISE_KILL_SEED={seed} repeats their moments)");
    let mut draw = Draw::new("kills", 0, 0, seed);
    let camp = Camp::new();
    let mut story = Story::default();
    let (mut unseen, mut running) = (0, 0);
    let begin = Instant::now();
    for kill in 0..kills {
        // The first five kinds of moments come in any case, whatever the seed.
        let moment = match kill % 5 {
            0 => Moment::Chunk(draw.below(CHUNKS)),
            1 => Moment::Enter(draw.below(ANSWERS)),
            2 => Moment::Log(draw.below(ANSWERS)),
            3 => Moment::Committed(draw.below(ANSWERS)),
            _ if draw.chance(1, 4) => Moment::After,
            _ => Moment::Chunk(draw.below(CHUNKS)),
        };
        let before = story.shown.len();
        running += u32::from(run(&camp, moment, &mut draw, &mut story));
        let store = opened_whole(&camp.store_path()).unwrap_or_else(|error| panic!("kill {kill} {moment:?}: {error}"));
        let found = recorded(&store, "Kim", SKILL);
        hold_against(&found, &story.shown, &story.answered)
            .unwrap_or_else(|error| panic!("kill {kill} at {moment:?}, seed {seed}: {error}"));
        if let Moment::Committed(answer) = moment {
            assert_eq!(story.shown.len() - before, answer as usize, "no verdict left the program");
        }
        // What was committed without being seen is kept, too; from now on it counts as seen.
        unseen += found.len() - story.shown.len();
        story = Story { answered: found.clone(), shown: found };
    }
    let each = begin.elapsed().as_secs_f64() / kills as f64;
    eprintln!(
        "{each:.3} s each; {running} killed while running; {} answers recorded, {unseen} unseen",
        story.shown.len()
    );
    assert!(unseen >= kills as usize / 5, "each kill between commit and verdict leaves an answer nobody saw judged");

    let file = rusqlite::Connection::open(camp.store_path()).unwrap();
    let journal: String = file.pragma_query_value(None, "journal_mode", |row| row.get(0)).unwrap();
    assert_eq!(journal, "wal");
}

fn number(variable: &str) -> Option<u64> {
    let text = std::env::var(variable).ok()?;
    Some(text.parse().unwrap_or_else(|_| panic!("{variable}={text} is not a number")))
}

/// One run, from start to kill. True when it was killed at the moment, false when it came to its end first.
fn run(camp: &Camp, moment: Moment, draw: &mut Draw, story: &mut Story) -> bool {
    let signal = if let Moment::Chunk(at) = moment { Some((u64::from(at), libc::SIGKILL)) } else { None };
    let setup = Setup { chunk: CHUNK, signal, ..Setup::default() };
    let mut term = Term::start_in(camp, setup, &practice("Kim", SKILL));
    let ran_through = answer(&mut term, camp, moment, draw, story).is_some();
    if ran_through {
        term.kill();
    }
    let status = term.wait_for_end();
    assert!(status.signal().is_some(), "killed, not ended by itself: {status:?}\n{}", term.screen_text());
    // What came out before the kill may have been read only now.
    if story.shown.len() < story.answered.len() && term.look(verdict).is_some() {
        story.shown.push(story.answered.last().expect("an answer").clone());
    }
    !ran_through || moment == Moment::After
}

/// Answers problems; none when the program was killed meanwhile.
fn answer(term: &mut Term, camp: &Camp, moment: Moment, draw: &mut Draw, story: &mut Story) -> Option<()> {
    let first_frame = |output: &Output| (output.frames.len() >= 2).then_some(());
    let Waited::Seen(()) = term.wait_or_end("the first frame", first_frame) else { return None };
    for number in 0..ANSWERS {
        if term.look(shows_example) && !term.try_keys("<enter>") {
            return None;
        }
        assert!(term.look(is_asking), "{}", term.screen_text());
        let problem = term.look(problem_on).expect("a problem's code");
        let flipped = mixed_up(&problem, "sign-flipped").filter(|_| draw.chance(1, 3));
        let keys = flipped.unwrap_or_else(|| keys(&problem, problem.answer()));
        let typed = keys.strip_suffix("<enter>").expect("one field").to_owned();
        if !term.try_keys(&typed) {
            return None;
        }
        if moment == Moment::Committed(number) {
            term.stop_output();
        }
        let log = Log::of(camp);
        story.answered.push(Given { code: problem.code().to_string(), typed });
        let seen = match moment {
            Moment::Enter(at) if at == number => {
                term.send(b"\r");
                term.kill();
                return None;
            }
            Moment::Log(at) if at == number => {
                term.send(b"\r");
                log.wait_for_change(camp);
                term.kill();
                return None;
            }
            Moment::Committed(at) if at == number => {
                let count = recorded(&reader(camp), "Kim", SKILL).len();
                term.send(b"\r");
                wait_for_commit(camp, count);
                term.kill();
                return None;
            }
            _ => term.try_keys("<enter>"),
        };
        if !seen {
            return None;
        }
        assert!(told(term).is_some(), "{}", term.screen_text());
        story.shown.push(story.answered.last().expect("an answer").clone());
        if !term.try_keys("<enter>") {
            return None;
        }
    }
    Some(())
}

/// The store, opened so that closing it writes nothing: what the killed program leaves is recovered by the next opening.
fn reader(camp: &Camp) -> Store {
    let metas: Vec<_> = needlewise::skills::metas().collect();
    Store::open_to_read(&camp.store_path(), &metas).expect("the store opens")
}

fn wait_for_commit(camp: &Camp, before: usize) {
    let store = reader(camp);
    let begin = Instant::now();
    while recorded(&store, "Kim", SKILL).len() <= before {
        assert!(begin.elapsed().as_secs() < 30, "the answer is never committed");
        std::thread::yield_now();
    }
}

/// The write-ahead log as it was at some moment.
#[derive(PartialEq)]
struct Log(Option<(u64, std::time::SystemTime)>);

impl Log {
    fn of(camp: &Camp) -> Log {
        let path = camp.store_path().with_extension("sqlite-wal");
        Log(std::fs::metadata(path).ok().and_then(|meta| Some((meta.len(), meta.modified().ok()?))))
    }

    fn wait_for_change(&self, camp: &Camp) {
        let begin = Instant::now();
        while *self == Log::of(camp) {
            assert!(begin.elapsed().as_secs() < 30, "the answer never reaches the log");
            std::thread::yield_now();
        }
    }
}

#[test]
fn an_answer_missing_from_the_records_would_be_found() {
    let camp = Camp::new();
    let answer = |count: u32| {
        let mut story = Story::default();
        let mut draw = Draw::new("kills", 0, 0, u64::from(count));
        run(&camp, Moment::Enter(count), &mut draw, &mut story);
        story
    };
    answer(0);
    // A store from before the next answers.
    let old = camp.home().join("old.sqlite");
    drop(opened_whole(&camp.store_path()).unwrap());
    std::fs::copy(camp.store_path(), &old).unwrap();
    let before = recorded(&opened_whole(&old).unwrap(), "Kim", SKILL);
    let later = answer(2);
    assert!(later.shown.len() >= 2);

    let shown = [before.clone(), later.shown.clone()].concat();
    let answered = [before.clone(), later.answered.clone()].concat();
    let now = recorded(&opened_whole(&camp.store_path()).unwrap(), "Kim", SKILL);
    assert_eq!(hold_against(&now, &shown, &answered), Ok(()));
    let lost = hold_against(&before, &shown, &answered);
    assert!(lost.as_ref().is_err_and(|error| error.starts_with("lost: ")), "{lost:?}");
    assert!(hold_against(&now, &shown[..1], &answered[..1]).is_err(), "more recorded than answered");
    let other = [Given { code: "B2-1-1-v1".to_owned(), typed: "001".to_owned() }; 1];
    let strange = [other.as_slice(), &now[1..]].concat();
    assert!(hold_against(&strange, &[], &answered).is_err_and(|error| error.starts_with("nobody gave")));
}
